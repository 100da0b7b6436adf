/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light.h"

/* Whether straight down lies in the pyramid: on the same side of all four
 * faces as the middle ray. */
static bool
looks_straight_down (const PlumbVec3 ray[4])
{
  PlumbVec3 down = plumb_vec3 (0.0, 0.0, -1.0);
  PlumbVec3 middle = plumb_vec3_add (plumb_vec3_add (ray[0], ray[1]), plumb_vec3_add (ray[2], ray[3]));

  for (int k = 0; k < 4; k++)
    {
      PlumbVec3 face = plumb_vec3_cross (ray[k], ray[(k + 1) % 4]);
      if (plumb_vec3_dot (face, down) * plumb_vec3_dot (face, middle) < 0.0)
        return false;
    }
  return true;
}

/* Steepest fall over the great circle from a to b (unit): at an end, or where
 * the circle itself is lowest if that lies between them. */
static double
lowest_between (PlumbVec3 a, PlumbVec3 b)
{
  double lowest = fmin (a.z, b.z);
  PlumbVec3 normal = plumb_vec3_cross (a, b);
  double sine = plumb_vec3_length (normal);

  if (!(sine > 1e-12))
    return lowest;
  normal = plumb_vec3_scale (normal, 1.0 / sine);
  PlumbVec3 bottom = plumb_vec3_unit (plumb_vec3 (normal.z * normal.x, normal.z * normal.y, normal.z * normal.z - 1.0));
  bool after_a = plumb_vec3_dot (plumb_vec3_cross (a, bottom), normal) > 0.0;
  bool before_b = plumb_vec3_dot (plumb_vec3_cross (bottom, b), normal) > 0.0;
  return after_a && before_b ? fmin (lowest, bottom.z) : lowest;
}

double
plumb_beam_lowest_z_m (PlumbVec3 lens, const PlumbVec3 corner_ray[4], double within_m)
{
  double lowest = 0.0; /* the lens itself belongs to the beam */

  if (looks_straight_down (corner_ray))
    return lens.z - within_m;
  for (int k = 0; k < 4; k++)
    lowest = fmin (lowest, lowest_between (plumb_vec3_unit (corner_ray[k]), plumb_vec3_unit (corner_ray[(k + 1) % 4])));
  return lens.z + within_m * lowest;
}
