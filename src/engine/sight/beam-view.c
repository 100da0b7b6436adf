/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "beam-view-private.h"

#include <string.h>

/* Light within a micrometre of the lens meets nothing: far under any part,
 * far over the rounding of room coordinates. */
#define NEAR_M 1e-6
/* A plane that passes this close by the lens is seen edge-on. */
#define EDGE_ON_M PLUMB_POINT_TOLERANCE_M
/* Corners nearer than this have no place on the panel that a line could be
 * drawn through with all its digits. */
#define CORNER_DEPTH_M 1e-3
/* Less than this of the panel is rounding. */
#define LEAST_SEEN_AREA 1e-17

PlumbBeamView
plumb_beam_view (const PlumbBeam *beam, const PlumbVec2 *region, size_t n_region)
{
  PlumbBeamView view = { .beam = beam, .ahead = beam->axes.f };
  double t = beam->throw_ratio;

  view.x = plumb_vec3_along (plumb_vec3_scale (beam->axes.r, t), beam->axes.f, -beam->shift_h_share);
  view.y = plumb_vec3_along (plumb_vec3_scale (beam->axes.w, t * beam->panel_aspect), beam->axes.f,
                             -beam->shift_v_share);
  view.least = view.most = region[0];
  for (size_t i = 1; i < n_region; i++)
    {
      view.least = plumb_vec2 (fmin (view.least.x, region[i].x), fmin (view.least.y, region[i].y));
      view.most = plumb_vec2 (fmax (view.most.x, region[i].x), fmax (view.most.y, region[i].y));
    }
  view.side[0] = plumb_vec3_unit (plumb_vec3_along (plumb_vec3_scale (view.x, -1.0), view.ahead, view.least.x));
  view.side[1] = plumb_vec3_unit (plumb_vec3_along (view.x, view.ahead, -view.most.x));
  view.side[2] = plumb_vec3_unit (plumb_vec3_along (plumb_vec3_scale (view.y, -1.0), view.ahead, view.least.y));
  view.side[3] = plumb_vec3_unit (plumb_vec3_along (view.y, view.ahead, -view.most.y));
  return view;
}

bool
plumb_beam_view_sphere (const PlumbBeamView *view, PlumbVec3 centre, double radius)
{
  PlumbVec3 to = plumb_vec3_sub (centre, view->beam->lens_m);

  if (plumb_vec3_dot (view->ahead, to) < -radius)
    return false;
  for (int i = 0; i < 4; i++)
    if (plumb_vec3_dot (view->side[i], to) > radius)
      return false;
  return true;
}

typedef struct {
  double x, y, depth;
} Homogeneous;

static double
beyond_plane (const PlumbBeamView *view, Homogeneous p, int plane)
{
  switch (plane)
    {
    case 0:
      return NEAR_M - p.depth;
    case 1:
      return view->least.x * p.depth - p.x;
    case 2:
      return p.x - view->most.x * p.depth;
    case 3:
      return view->least.y * p.depth - p.y;
    default:
      return p.y - view->most.y * p.depth;
    }
}

/* Clips to one of the five planes in front of and round the region. */
static size_t
clip_homogeneous (const PlumbBeamView *view, int plane, const Homogeneous *in, size_t n, Homogeneous *out)
{
  size_t n_out = 0;

  for (size_t i = 0; i < n; i++)
    {
      Homogeneous a = in[i], b = in[i + 1 < n ? i + 1 : 0];
      double at_a = beyond_plane (view, a, plane), at_b = beyond_plane (view, b, plane);
      if (at_a <= 0.0 && n_out < PLUMB_SEEN_MAX_POINTS)
        out[n_out++] = a;
      if (((at_a < 0.0 && at_b > 0.0) || (at_a > 0.0 && at_b < 0.0)) && n_out < PLUMB_SEEN_MAX_POINTS)
        {
          double k = at_a / (at_a - at_b);
          out[n_out++]
              = (Homogeneous){ a.x + k * (b.x - a.x), a.y + k * (b.y - a.y), a.depth + k * (b.depth - a.depth) };
        }
    }
  return n_out;
}

/* A face's corners as panel times depth. */
static void
seen_from_lens (const PlumbBeamView *view, const PlumbVec3 *points, size_t n, Homogeneous *out)
{
  for (size_t i = 0; i < n; i++)
    {
      PlumbVec3 to = plumb_vec3_sub (points[i], view->beam->lens_m);
      out[i] = (Homogeneous){ plumb_vec3_dot (view->x, to), plumb_vec3_dot (view->y, to),
                              plumb_vec3_dot (view->ahead, to) };
    }
}

/* The part in front of the lens and within the region's bounds. */
static size_t
clip_to_view (const PlumbBeamView *view, const Homogeneous *in, size_t n, Homogeneous *out)
{
  Homogeneous buffer[2][PLUMB_SEEN_MAX_POINTS];
  const Homogeneous *rest = in;
  int next = 0;

  for (int plane = 0; plane < 5 && n > 0; plane++)
    {
      bool any_out = false;
      for (size_t i = 0; i < n && !any_out; i++)
        any_out = beyond_plane (view, rest[i], plane) > 0.0;
      if (!any_out)
        continue;
      n = clip_homogeneous (view, plane, rest, n, buffer[next]);
      rest = buffer[next];
      next = 1 - next;
    }
  memcpy (out, rest, n * sizeof *out);
  return n;
}

/* Plane normal · (p − lens) = offset_m; false when the lens lies in it. */
static bool
inverse_depth (const PlumbBeam *beam, PlumbVec3 normal, double offset_m, PlumbInverseDepth *inverse)
{
  if (fabs (offset_m) < EDGE_ON_M)
    return false;
  inverse->a = plumb_vec3_dot (normal, beam->axes.r) / (beam->throw_ratio * offset_m);
  inverse->b = plumb_vec3_dot (normal, beam->axes.w) / (beam->panel_aspect * beam->throw_ratio * offset_m);
  inverse->c = plumb_vec3_dot (normal, beam->axes.f) / offset_m + inverse->a * beam->shift_h_share
               + inverse->b * beam->shift_v_share;
  return isfinite (inverse->a) && isfinite (inverse->b) && isfinite (inverse->c);
}

/* The edges as lines on the panel, straight from the room: the plane through
 * the lens and an edge. Taken from the clipped outline instead, an edge that
 * the clipping left a hair long would point anywhere. */
static void
set_edges (const Homogeneous *corners, size_t n, PlumbSeenFace *seen)
{
  PlumbVec3 middle = plumb_vec3 (0.0, 0.0, 0.0);

  for (size_t i = 0; i < n; i++)
    middle = plumb_vec3_add (middle, plumb_vec3 (corners[i].x, corners[i].y, corners[i].depth));
  seen->n_edges = 0;
  for (size_t i = 0; i < n; i++)
    {
      Homogeneous a = corners[i], b = corners[i + 1 < n ? i + 1 : 0];
      PlumbVec3 line = plumb_vec3_cross (plumb_vec3 (a.x, a.y, a.depth), plumb_vec3 (b.x, b.y, b.depth));
      double steep = sqrt (line.x * line.x + line.y * line.y);
      /* A line at infinity on the panel cuts nothing of it. */
      if (!(steep > 0.0))
        continue;
      line = plumb_vec3_scale (line, (plumb_vec3_dot (line, middle) > 0.0 ? -1.0 : 1.0) / steep);
      seen->edge[seen->n_edges++] = (PlumbLine2){ line.x, line.y, line.z };
    }
}

static void
set_corners (const Homogeneous *corners, size_t n, PlumbSeenFace *seen)
{
  seen->has_corners = true;
  seen->n_corners = (uint32_t) n;
  for (size_t i = 0; i < n; i++)
    {
      seen->has_corners = seen->has_corners && corners[i].depth > CORNER_DEPTH_M;
      if (seen->has_corners)
        seen->corner[i] = plumb_vec2 (corners[i].x / corners[i].depth, corners[i].y / corners[i].depth);
    }
}

bool
plumb_beam_view_face (const PlumbBeamView *view, const PlumbVec3 *points, size_t n, PlumbVec3 normal,
                      PlumbSeenFace *seen)
{
  Homogeneous corners[PLUMB_FACE_MAX_POINTS], clipped[PLUMB_SEEN_MAX_POINTS];
  PlumbVec3 to = plumb_vec3_sub (points[0], view->beam->lens_m);

  if (!inverse_depth (view->beam, normal, plumb_vec3_dot (normal, to), &seen->inverse))
    return false;
  seen_from_lens (view, points, n, corners);
  seen->n = (uint32_t) clip_to_view (view, corners, n, clipped);
  if (seen->n < 3)
    return false;
  for (size_t i = 0; i < seen->n; i++)
    seen->p[i] = plumb_vec2 (clipped[i].x / clipped[i].depth, clipped[i].y / clipped[i].depth);
  if (fabs (plumb_polygon_area (seen->p, seen->n)) < LEAST_SEEN_AREA)
    return false;
  plumb_points_bounds (seen->p, seen->n, &seen->least, &seen->most);
  set_edges (corners, n, seen);
  set_corners (corners, n, seen);
  return true;
}

void
plumb_points_bounds (const PlumbVec2 *p, size_t n, PlumbVec2 *least, PlumbVec2 *most)
{
  *least = *most = p[0];
  for (size_t i = 1; i < n; i++)
    {
      least->x = p[i].x < least->x ? p[i].x : least->x;
      least->y = p[i].y < least->y ? p[i].y : least->y;
      most->x = p[i].x > most->x ? p[i].x : most->x;
      most->y = p[i].y > most->y ? p[i].y : most->y;
    }
}
