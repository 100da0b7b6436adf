/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Round bodies, their corners on the true surface, with smooth normals.
 */
#include "view3d/mesh-private.h"

void
plumb_mesh_frame (PlumbVec3 along, PlumbVec3 axis[3])
{
  axis[2] = plumb_vec3_unit (along);
  PlumbVec3 side = fabs (axis[2].z) < 0.9 ? plumb_vec3 (0.0, 0.0, 1.0) : plumb_vec3 (1.0, 0.0, 0.0);
  axis[0] = plumb_vec3_unit (plumb_vec3_cross (side, axis[2]));
  axis[1] = plumb_vec3_cross (axis[2], axis[0]);
}

static PlumbVec3
combine (const PlumbVec3 axis[3], double x, double y, double z)
{
  PlumbVec3 p = plumb_vec3_scale (axis[0], x);
  return plumb_vec3_along (plumb_vec3_along (p, axis[1], y), axis[2], z);
}

static void
cylinder_cap (PlumbMaker *maker, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half, double side,
              PlumbMaterial material, uint32_t turn)
{
  PlumbVec3 normal = plumb_vec3_scale (axis[2], side);
  PlumbVec3 middle = plumb_vec3_along (centre, normal, half.z);
  uint32_t hub = plumb_maker_vertex (maker, middle, normal, plumb_vec2 (0.0, 0.0), material);

  for (uint32_t i = 0; i < turn; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / turn, x = cos (angle) * half.x, y = sin (angle) * half.y;
      plumb_maker_vertex (maker, plumb_vec3_add (middle, combine (axis, x, y, 0.0)), normal, plumb_vec2 (x, y),
                          material);
    }
  for (uint32_t i = 0; i < turn; i++)
    {
      uint32_t a = hub + 1 + i, b = hub + 1 + (i + 1) % turn;
      plumb_maker_triangle (maker, hub, side > 0.0 ? a : b, side > 0.0 ? b : a);
    }
}

void
plumb_maker_cylinder (PlumbMaker *maker, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half,
                      PlumbMaterial material, uint32_t turn)
{
  uint32_t rings = (uint32_t) plumb_clamp (ceil (2.0 * half.z / PLUMB_MESH_EDGE_M), 1.0, 64.0);
  uint32_t first = maker->vertices->len;

  for (uint32_t k = 0; k <= rings; k++)
    for (uint32_t i = 0; i < turn; i++)
      {
        double angle = 2.0 * PLUMB_PI * i / turn, z = half.z * (2.0 * k / rings - 1.0);
        PlumbVec3 p = combine (axis, cos (angle) * half.x, sin (angle) * half.y, z);
        PlumbVec3 normal = combine (axis, cos (angle) * half.y, sin (angle) * half.x, 0.0);
        plumb_maker_vertex (maker, plumb_vec3_add (centre, p), plumb_vec3_unit (normal),
                            plumb_vec2 (z, angle * half.x), material);
      }
  for (uint32_t k = 0; k < rings; k++)
    for (uint32_t i = 0; i < turn; i++)
      {
        uint32_t a = first + k * turn + i, b = first + k * turn + (i + 1) % turn;
        plumb_maker_triangle (maker, a, b, b + turn);
        plumb_maker_triangle (maker, a, b + turn, a + turn);
      }
  cylinder_cap (maker, centre, axis, half, 1.0, material, turn);
  cylinder_cap (maker, centre, axis, half, -1.0, material, turn);
}

void
plumb_maker_ellipsoid (PlumbMaker *maker, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half,
                       PlumbMaterial material, uint32_t turn)
{
  uint32_t bands = MAX (turn / 2, 3), first = maker->vertices->len;
  PlumbVec3 tip = plumb_vec3_scale (axis[2], half.z);

  plumb_maker_vertex (maker, plumb_vec3_sub (centre, tip), plumb_vec3_scale (axis[2], -1.0), plumb_vec2 (0.0, 0.0),
                      material);
  plumb_maker_vertex (maker, plumb_vec3_add (centre, tip), axis[2], plumb_vec2 (0.0, 0.0), material);
  for (uint32_t k = 1; k < bands; k++)
    for (uint32_t i = 0; i < turn; i++)
      {
        double up = PLUMB_PI * (k / (double) bands - 0.5), angle = 2.0 * PLUMB_PI * i / turn;
        double x = cos (up) * cos (angle), y = cos (up) * sin (angle), z = sin (up);
        PlumbVec3 normal = combine (axis, x / half.x, y / half.y, z / half.z);
        plumb_maker_vertex (maker, plumb_vec3_add (centre, combine (axis, x * half.x, y * half.y, z * half.z)),
                            plumb_vec3_unit (normal), plumb_vec2 (angle * half.x, up * half.z), material);
      }
  for (uint32_t i = 0; i < turn; i++)
    {
      uint32_t a = first + 2 + i, b = first + 2 + (i + 1) % turn, last = (bands - 2) * turn;
      plumb_maker_triangle (maker, first, b, a);
      plumb_maker_triangle (maker, first + 1, a + last, b + last);
      for (uint32_t k = 0; k + 2 < bands; k++)
        {
          plumb_maker_triangle (maker, a + k * turn, b + k * turn, b + (k + 1) * turn);
          plumb_maker_triangle (maker, a + k * turn, b + (k + 1) * turn, a + (k + 1) * turn);
        }
    }
}

void
plumb_maker_rod (PlumbMaker *maker, PlumbVec3 from, PlumbVec3 to, double radius_m, PlumbMaterial material)
{
  PlumbVec3 way = plumb_vec3_sub (to, from), axis[3];
  double length = plumb_vec3_length (way);

  if (!(length > 1e-4) || !isfinite (length))
    return;
  plumb_mesh_frame (way, axis);
  plumb_maker_cylinder (maker, plumb_vec3_scale (plumb_vec3_add (from, to), 0.5), axis,
                        plumb_vec3 (radius_m, radius_m, length / 2.0), material, 20);
}
