/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/sight.h"

#include "silhouette-curved-private.h"

/* As many as a hull may have points; more are not looked at. */
#define MOST_POINTS 512
/* Ten kilometres: what lies farther off is drawn in, so that no product of
 * lengths loses the picture in its rounding. */
#define FARTHEST_M 1e4

void
plumb_outline_whole (const PlumbRect *rect, PlumbSilhouette *out)
{
  double x = rect->width_m / 2.0, y = rect->height_m / 2.0;
  const PlumbVec2 c = rect->centre_m;
  PlumbVec2 corner[4] = { { c.x - x, c.y - y }, { c.x + x, c.y - y }, { c.x + x, c.y + y }, { c.x - x, c.y + y } };

  plumb_outline_from_polygon (corner, 4, out);
  plumb_outline_clip (out, rect);
}

/* What lies on an edge but for rounding, and what lies beyond it, to the edge. */
static double
onto (double at, double centre, double half)
{
  double low = centre - half, high = centre + half, near = 1e-9 * half;

  return at > high - near ? high : at < low + near ? low : at;
}

bool
plumb_outline_from_points (PlumbVec2 *points, size_t n, const PlumbRect *rect, PlumbSilhouette *out)
{
  double x = rect->width_m / 2.0, y = rect->height_m / 2.0;
  const PlumbVec2 normal[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  const double offset[4] = { rect->centre_m.x + x, x - rect->centre_m.x, rect->centre_m.y + y, y - rect->centre_m.y };
  PlumbVec2 spare[804];
  PlumbVec2 *in = points, *clipped = spare;

  n = plumb_sight_hull (points, n);
  for (int k = 0; k < 4 && n >= 3; k++)
    {
      n = plumb_polygon_clip (in, n, normal[k], offset[k], clipped);
      PlumbVec2 *swap = in;
      in = clipped;
      clipped = swap;
    }
  if (n < 3)
    return false;
  /* Exactly on the edges, so that outlines that share one run together there. */
  for (size_t k = 0; k < n; k++)
    in[k] = plumb_vec2 (onto (in[k].x, rect->centre_m.x, x), onto (in[k].y, rect->centre_m.y, y));
  plumb_outline_from_polygon (in, n, out);
  return plumb_outline_clip (out, rect);
}

/* False for what is no number. */
static bool
draw_in (PlumbVec3 *p)
{
  double *const part[3] = { &p->x, &p->y, &p->z };

  for (int k = 0; k < 3; k++)
    {
      if (isnan (*part[k]))
        return false;
      *part[k] = fmin (fmax (*part[k], -FARTHEST_M), FARTHEST_M);
    }
  return true;
}

/* ---- what cannot hide anything --------------------------------------------------- */

/* The pyramid of sight: through the eye and the picture's edges, each as a
 * gradient that is 0 at the eye and above 0 outside; then the planes of the
 * picture and of the eye. */
typedef struct {
  PlumbVec3 gradient[6];
  double level[6];
} Pyramid;

static Pyramid
pyramid_of (const PlumbSightFrame *frame, const PlumbRect *picture)
{
  double h = frame->height, u = frame->eye_u, v = frame->eye_v;
  const double right = picture->centre_m.x + picture->width_m / 2.0, left = picture->centre_m.x - picture->width_m / 2.0;
  const double top = picture->centre_m.y + picture->height_m / 2.0, foot = picture->centre_m.y - picture->height_m / 2.0;

  return (Pyramid){ .gradient = { { h, 0.0, right - u },
                                  { -h, 0.0, u - left },
                                  { 0.0, h, top - v },
                                  { 0.0, -h, v - foot },
                                  { 0.0, 0.0, -1.0 },
                                  { 0.0, 0.0, 1.0 } },
                    .level = { h * right, -h * left, h * top, -h * foot, 0.0, h } };
}

/* Whether a body lies wholly on the outer side of a face. It then hides nothing,
 * or no more than rounding would give it. */
static bool
points_outside (const Pyramid *pyramid, const PlumbVec3 *point, size_t n)
{
  for (int k = 0; k < 6; k++)
    {
      size_t i = 0;
      while (i < n && plumb_vec3_dot (pyramid->gradient[k], point[i]) >= pyramid->level[k])
        i++;
      if (i == n)
        return true;
    }
  return false;
}

static bool
round_outside (const PlumbSightFrame *frame, const Pyramid *pyramid, const PlumbOccluder *body)
{
  PlumbVec3 centre = plumb_sight_local (frame, body->centre_m), half[3];

  half[0] = plumb_vec3_scale (plumb_sight_local_direction (frame, body->axis[0]), body->half_m.x);
  half[1] = plumb_vec3_scale (plumb_sight_local_direction (frame, body->axis[1]), body->half_m.y);
  half[2] = plumb_vec3_scale (plumb_sight_local_direction (frame, body->axis[2]), body->half_m.z);
  for (int k = 0; k < 6; k++)
    {
      double above = plumb_vec3_dot (pyramid->gradient[k], centre) - pyramid->level[k];
      double x = plumb_vec3_dot (pyramid->gradient[k], half[0]), y = plumb_vec3_dot (pyramid->gradient[k], half[1]);
      double z = plumb_vec3_dot (pyramid->gradient[k], half[2]), across = x * x + y * y;
      if (above < 0.0)
        continue;
      if (body->shape == PLUMB_OCCLUDER_ELLIPSOID ? across + z * z <= above * above
                                                  : sqrt (across) + fabs (z) <= above)
        return true;
    }
  return false;
}

/* ---- silhouettes ----------------------------------------------------------------- */

static bool
hull_silhouette (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                 PlumbSilhouette *out)
{
  Pyramid pyramid = pyramid_of (frame, picture);
  PlumbVec3 local[MOST_POINTS];
  PlumbVec2 points[704];
  size_t n = body->n_points < MOST_POINTS ? body->n_points : MOST_POINTS;

  for (size_t k = 0; k < n; k++)
    {
      local[k] = plumb_sight_local (frame, body->points[k]);
      if (!draw_in (&local[k]))
        return false;
    }
  if (points_outside (&pyramid, local, n))
    return false;
  n = plumb_sight_cut_points (frame, local, n, NULL, 0, points, 690);
  return plumb_outline_from_points (points, n, picture, out);
}

bool
plumb_silhouette (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, const PlumbOccluder *body,
                  PlumbSilhouette *out)
{
  PlumbSightFrame frame;
  PlumbOccluder round;

  out->n_pieces = 0;
  out->area_m2 = 0.0;
  out->tag = body->tag;
  if (!(picture->width_m > 0.0) || !(picture->height_m > 0.0) || !draw_in (&from)
      || !plumb_sight_frame (from, plane, &frame))
    return false;
  if (body->shape == PLUMB_OCCLUDER_HULL)
    return hull_silhouette (&frame, picture, body, out);
  round = *body;
  if (!draw_in (&round.centre_m) || !draw_in (&round.half_m))
    return false;
  Pyramid pyramid = pyramid_of (&frame, picture);
  if (round_outside (&frame, &pyramid, &round))
    return false;
  return body->shape == PLUMB_OCCLUDER_ELLIPSOID ? plumb_silhouette_ellipsoid (&frame, picture, &round, out)
                                                 : plumb_silhouette_cylinder (from, &frame, picture, &round, out);
}

/* The cone of the sphere against the pyramid of the picture: the sphere lies
 * outside when it is wholly beyond one of the four side planes, behind the eye
 * or behind the picture. */
bool
plumb_occluder_near (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, PlumbVec3 centre_m,
                     double radius_m)
{
  PlumbSightFrame frame;

  if (!plumb_sight_frame (from, plane, &frame))
    return false;
  PlumbVec3 c = plumb_sight_local (&frame, centre_m);
  if (c.z + radius_m < 0.0 || c.z - radius_m > frame.height)
    return false;
  /* Side planes through the eye and the picture's edges. */
  const double edge[4] = { picture->centre_m.x + picture->width_m / 2.0 - frame.eye_u,
                           frame.eye_u - picture->centre_m.x + picture->width_m / 2.0,
                           picture->centre_m.y + picture->height_m / 2.0 - frame.eye_v,
                           frame.eye_v - picture->centre_m.y + picture->height_m / 2.0 };
  const double at[4] = { c.x - frame.eye_u, frame.eye_u - c.x, c.y - frame.eye_v, frame.eye_v - c.y };
  double depth = frame.height - c.z;
  for (int k = 0; k < 4; k++)
    /* Outside of x = edge · depth / height, square distance to that plane. */
    if (at[k] * frame.height - edge[k] * depth > radius_m * hypot (frame.height, edge[k]))
      return false;
  return true;
}
