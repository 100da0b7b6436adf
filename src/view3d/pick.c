/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/mesh.h"

static PlumbVec3
position (const PlumbMesh *mesh, uint32_t index)
{
  const float *p = mesh->vertices[mesh->indices[index]].position_m;
  return plumb_vec3 (p[0], p[1], p[2]);
}

/* Share of the way to a triangle, either side (Möller and Trumbore 1997). */
static bool
meets (const PlumbMesh *mesh, uint32_t index, PlumbVec3 from, PlumbVec3 direction, double *t)
{
  PlumbVec3 a = position (mesh, index);
  PlumbVec3 e = plumb_vec3_sub (position (mesh, index + 1), a), f = plumb_vec3_sub (position (mesh, index + 2), a);
  PlumbVec3 p = plumb_vec3_cross (direction, f), s = plumb_vec3_sub (from, a);
  double det = plumb_vec3_dot (e, p);

  if (det == 0.0)
    return false;
  double u = plumb_vec3_dot (s, p) / det;
  if (!(u >= 0.0 && u <= 1.0))
    return false;
  PlumbVec3 q = plumb_vec3_cross (s, e);
  double v = plumb_vec3_dot (direction, q) / det;
  *t = plumb_vec3_dot (f, q) / det;
  return v >= 0.0 && u + v <= 1.0 && *t > 1e-9;
}

bool
plumb_mesh_pick (const PlumbMesh *mesh, PlumbVec3 from, PlumbVec3 direction, uint32_t *part, PlumbVec3 *hit)
{
  double nearest = INFINITY, t;

  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (uint32_t i = mesh->parts[p].first; i + 2 < mesh->parts[p].first + mesh->parts[p].n; i += 3)
      if (meets (mesh, i, from, direction, &t) && t < nearest)
        {
          nearest = t;
          *part = p;
        }
  if (!isfinite (nearest))
    return false;
  *hit = plumb_vec3_along (from, direction, nearest);
  return true;
}
