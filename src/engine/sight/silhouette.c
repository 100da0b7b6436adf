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

static bool
any_beyond (const PlumbVec2 *points, size_t n, PlumbVec2 normal, double offset)
{
  for (size_t k = 0; k < n; k++)
    if (!(plumb_vec2_dot (normal, points[k]) <= offset))
      return true;
  return false;
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
      if (!any_beyond (in, n, normal[k], offset[k]))
        continue;
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

/* ---- silhouettes ----------------------------------------------------------------- */

static bool
hull_silhouette (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                 PlumbSilhouette *out)
{
  PlumbVec3 local[MOST_POINTS];
  PlumbVec2 points[704];
  size_t n = body->n_points < MOST_POINTS ? body->n_points : MOST_POINTS;

  for (size_t k = 0; k < n; k++)
    {
      local[k] = plumb_sight_local (frame, body->points[k]);
      if (!draw_in (&local[k]))
        return false;
    }
  n = plumb_sight_cut_points (frame, local, n, NULL, 0, points, 690);
  return plumb_outline_from_points (points, n, picture, out);
}

bool
plumb_silhouette (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, const PlumbOccluder *body,
                  PlumbSilhouette *out)
{
  PlumbSightFrame frame;
  PlumbPyramid pyramid;
  PlumbOccluder round;

  out->n_pieces = 0;
  out->area_m2 = 0.0;
  out->tag = body->tag;
  if (!(picture->width_m > 0.0) || !(picture->height_m > 0.0) || !draw_in (&from)
      || !plumb_sight_frame (from, plane, &frame))
    return false;
  /* A head is projected sooner than it is told to be out of the way. */
  if (body->shape != PLUMB_OCCLUDER_ELLIPSOID
      && (!plumb_pyramid_make (from, plane, picture, &pyramid) || !plumb_pyramid_meets (&pyramid, body)))
    return false;
  if (body->shape == PLUMB_OCCLUDER_HULL)
    return hull_silhouette (&frame, picture, body, out);
  round = *body;
  if (!draw_in (&round.centre_m) || !draw_in (&round.half_m))
    return false;
  return body->shape == PLUMB_OCCLUDER_ELLIPSOID ? plumb_silhouette_ellipsoid (&frame, picture, &round, out)
                                                 : plumb_silhouette_cylinder (from, &frame, picture, &round, out);
}
