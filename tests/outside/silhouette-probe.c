/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints our figures for the outside check silhouette.py. A scene on standard
 * input: eye, plane (origin, u, v, n), picture (centre, width, height), number
 * of bodies; then each body: h, number and points of a hull, or e or c, centre,
 * three axes, half sizes of an ellipsoid or cylinder. A line of figures for a
 * scene: area of the union, then the area of each silhouette.
 */
#include "plumbeam/sight.h"

#include <stdio.h>

#define MAX_BODIES 32
#define MAX_POINTS 64

static bool
read_vec (PlumbVec3 *v)
{
  return scanf ("%lf %lf %lf", &v->x, &v->y, &v->z) == 3;
}

static bool
read_body (PlumbOccluder *body, PlumbVec3 *points)
{
  char kind;

  if (scanf (" %c", &kind) != 1)
    return false;
  *body = (PlumbOccluder){ .shape = kind == 'e' ? PLUMB_OCCLUDER_ELLIPSOID : PLUMB_OCCLUDER_CYLINDER };
  if (kind == 'h')
    {
      *body = (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = points };
      if (scanf ("%u", &body->n_points) != 1 || body->n_points > MAX_POINTS)
        return false;
      for (uint32_t k = 0; k < body->n_points; k++)
        if (!read_vec (&points[k]))
          return false;
      return true;
    }
  return (kind == 'e' || kind == 'c') && read_vec (&body->centre_m) && read_vec (&body->axis[0])
         && read_vec (&body->axis[1]) && read_vec (&body->axis[2]) && read_vec (&body->half_m);
}

int
main (void)
{
  static PlumbSilhouette silhouette[MAX_BODIES];
  PlumbVec3 eye, points[MAX_POINTS];
  PlumbPlaneFrame plane;
  PlumbRect picture;
  unsigned n;

  while (read_vec (&eye))
    {
      double area[MAX_BODIES] = { 0 };
      uint32_t kept = 0;
      bool good = read_vec (&plane.origin_m) && read_vec (&plane.u) && read_vec (&plane.v) && read_vec (&plane.n)
                  && scanf ("%lf %lf %lf %lf %u", &picture.centre_m.x, &picture.centre_m.y, &picture.width_m,
                            &picture.height_m, &n)
                         == 5
                  && n <= MAX_BODIES;
      for (unsigned k = 0; good && k < n; k++)
        {
          PlumbOccluder body;
          good = read_body (&body, points);
          if (good && plumb_silhouette (eye, &plane, &picture, &body, &silhouette[kept]))
            area[k] = silhouette[kept++].area_m2;
        }
      if (!good)
        {
          fputs ("silhouette-probe: bad scene\n", stderr);
          return 2;
        }
      printf ("%.17g", plumb_silhouettes_area_m2 (silhouette, kept));
      for (unsigned k = 0; k < n; k++)
        printf (" %.17g", area[k]);
      putchar ('\n');
    }
  return 0;
}
