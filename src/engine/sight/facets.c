/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Round solids as flat facets that hold them: every facet touches the solid
 * or stays outside it.
 */
#include "facets-private.h"

#define CYLINDER_SIDES 32
#define ELLIPSOID_SIDES 24
#define ELLIPSOID_BANDS 12

void
plumb_builder_cylinder_facets (PlumbBuilder *builder, PlumbSolid *solid)
{
  double out = 1.0 / cos (PLUMB_PI / CYLINDER_SIDES);
  PlumbVec3 ring[CYLINDER_SIDES];

  for (int i = 0; i < CYLINDER_SIDES; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / CYLINDER_SIDES;
      ring[i] = plumb_solid_point (solid, out * cos (angle), out * sin (angle), -1.0);
    }
  solid->facet_error_m = (out - 1.0) * solid->half_m.x;
  solid->bound_radius_m = hypot (out * solid->half_m.x, solid->half_m.z);
  plumb_builder_prism_faces (builder, solid->surface, ring, CYLINDER_SIDES,
                             plumb_vec3_scale (solid->axis[2], 2.0 * solid->half_m.z));
}

/* Least distance from the centre of the facets whose corners lie on the unit
 * sphere: of the band between two polar angles, the facet's middle line. */
static double
least_facet_distance (void)
{
  double least = 1.0, in = cos (PLUMB_PI / ELLIPSOID_SIDES);

  for (int band = 0; band < ELLIPSOID_BANDS; band++)
    {
      double upper = PLUMB_PI * band / ELLIPSOID_BANDS, lower = PLUMB_PI * (band + 1) / ELLIPSOID_BANDS;
      PlumbVec2 a = { in * sin (upper), cos (upper) }, b = { in * sin (lower), cos (lower) };
      least = fmin (least, fabs (plumb_vec2_cross (a, b)) / plumb_vec2_length (plumb_vec2_sub (b, a)));
    }
  return least;
}

static PlumbVec3
globe_point (const PlumbSolid *solid, int side, int band, double out)
{
  double around = 2.0 * PLUMB_PI * side / ELLIPSOID_SIDES, polar = PLUMB_PI * band / ELLIPSOID_BANDS;

  /* All sides meet in the very same pole. */
  if (band == 0 || band == ELLIPSOID_BANDS)
    return plumb_solid_point (solid, 0.0, 0.0, band == 0 ? out : -out);
  return plumb_solid_point (solid, out * sin (polar) * cos (around), out * sin (polar) * sin (around),
                            out * cos (polar));
}

void
plumb_builder_ellipsoid_facets (PlumbBuilder *builder, PlumbSolid *solid)
{
  double out = 1.0 / least_facet_distance ();
  double greatest_half_m = fmax (fmax (solid->half_m.x, solid->half_m.y), solid->half_m.z);

  solid->facet_error_m = (out - 1.0) * greatest_half_m;
  solid->bound_radius_m = out * greatest_half_m;
  for (int band = 0; band < ELLIPSOID_BANDS; band++)
    for (int side = 0; side < ELLIPSOID_SIDES; side++)
      {
        int next = (side + 1) % ELLIPSOID_SIDES;
        PlumbVec3 points[4] = { globe_point (solid, side, band, out), globe_point (solid, side, band + 1, out),
                                globe_point (solid, next, band + 1, out), globe_point (solid, next, band, out) };
        PlumbVec3 outwards
            = plumb_vec3_sub (plumb_vec3_add (points[0], points[2]), plumb_vec3_scale (solid->centre_m, 2.0));
        plumb_builder_face (builder, solid->surface, false, points, 4, outwards);
      }
}
