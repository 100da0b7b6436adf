/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What cannot hide anything: bodies wholly beyond one side of the pyramid of
 * sight. A body within all six sides may still hide nothing.
 */
#include "silhouette-private.h"

bool
plumb_pyramid_make (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, PlumbPyramid *out)
{
  PlumbSightFrame frame;

  if (!plumb_sight_frame (from, plane, &frame))
    return false;
  double h = frame.height, u = picture->centre_m.x - frame.eye_u, v = picture->centre_m.y - frame.eye_v;
  double half_u = picture->width_m / 2.0, half_v = picture->height_m / 2.0;
  /* Below first: most of what is in the way is on the floor. */
  out->gradient[0] = plumb_vec3_along (plumb_vec3_scale (frame.v, -h), frame.n, half_v - v);
  out->gradient[1] = plumb_vec3_along (plumb_vec3_scale (frame.u, h), frame.n, u + half_u);
  out->gradient[2] = plumb_vec3_along (plumb_vec3_scale (frame.u, -h), frame.n, half_u - u);
  out->gradient[3] = plumb_vec3_along (plumb_vec3_scale (frame.v, h), frame.n, v + half_v);
  out->gradient[4] = plumb_vec3_scale (frame.n, -1.0);
  out->gradient[5] = frame.n;
  for (int k = 0; k < 6; k++)
    {
      out->level[k] = plumb_vec3_dot (out->gradient[k], k == 4 ? frame.origin : from);
      out->steepness[k] = sqrt (plumb_vec3_dot (out->gradient[k], out->gradient[k]));
    }
  return true;
}

bool
plumb_pyramid_meets_ball (const PlumbPyramid *pyramid, PlumbVec3 centre_m, double radius_m)
{
  for (int k = 0; k < 6; k++)
    if (plumb_vec3_dot (pyramid->gradient[k], centre_m) - pyramid->level[k] > radius_m * pyramid->steepness[k])
      return false;
  return true;
}

static bool
points_beyond (const PlumbOccluder *body, PlumbVec3 gradient, double level)
{
  for (uint32_t i = 0; i < body->n_points; i++)
    if (!(plumb_vec3_dot (gradient, body->points[i]) > level))
      return false;
  return true;
}

static bool
round_beyond (const PlumbOccluder *body, PlumbVec3 gradient, double level)
{
  double above = plumb_vec3_dot (gradient, body->centre_m) - level;

  if (!(above > 0.0))
    return false;
  double x = plumb_vec3_dot (gradient, body->axis[0]) * body->half_m.x;
  double y = plumb_vec3_dot (gradient, body->axis[1]) * body->half_m.y;
  double z = plumb_vec3_dot (gradient, body->axis[2]) * body->half_m.z, across = x * x + y * y;
  return body->shape == PLUMB_OCCLUDER_ELLIPSOID ? across + z * z < above * above : sqrt (across) + fabs (z) < above;
}

bool
plumb_pyramid_meets (const PlumbPyramid *pyramid, const PlumbOccluder *body)
{
  for (int k = 0; k < 6; k++)
    if (body->shape == PLUMB_OCCLUDER_HULL ? points_beyond (body, pyramid->gradient[k], pyramid->level[k])
                                           : round_beyond (body, pyramid->gradient[k], pyramid->level[k]))
      return false;
  return true;
}

bool
plumb_occluder_near (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, PlumbVec3 centre_m,
                     double radius_m)
{
  PlumbPyramid pyramid;

  return plumb_pyramid_make (from, plane, picture, &pyramid)
         && plumb_pyramid_meets_ball (&pyramid, centre_m, radius_m);
}
