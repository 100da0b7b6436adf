/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "builder-private.h"

/* A point in the solid's own axes, in half sizes from its centre. */
static inline PlumbVec3
plumb_solid_point (const PlumbSolid *solid, double x, double y, double z)
{
  PlumbVec3 p = plumb_vec3_along (solid->centre_m, solid->axis[0], x * solid->half_m.x);

  p = plumb_vec3_along (p, solid->axis[1], y * solid->half_m.y);
  return plumb_vec3_along (p, solid->axis[2], z * solid->half_m.z);
}

void plumb_builder_prism_faces (PlumbBuilder *builder, PlumbSurfaceId surface, const PlumbVec3 *ring, size_t n,
                                PlumbVec3 up);
/* Both set facet_error_m and a bounding radius that holds the facets. */
void plumb_builder_cylinder_facets (PlumbBuilder *builder, PlumbSolid *solid);
void plumb_builder_ellipsoid_facets (PlumbBuilder *builder, PlumbSolid *solid);
