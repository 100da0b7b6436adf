/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Measures, judges nothing: 16 heads in two rows before an eye, their
 * silhouettes and the area of the union. Medians on a monotonic clock.
 */
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

#include "plumbeam/sight.h"
#include "timing.h"

#define HEADS 16
#define RUNS 501

int
main (void)
{
  const PlumbPlaneFrame screen = { .origin_m = { 0, 0, 1.6 }, .u = { 1, 0, 0 }, .v = { 0, 0, 1 }, .n = { 0, -1, 0 } };
  const PlumbRect picture = { .width_m = 4, .height_m = 2.25 };
  const PlumbVec3 eye = { 0.1, -8, 1.2 };
  static PlumbSilhouette silhouette[HEADS];
  double each[RUNS], together[RUNS], area = 0.0;
  uint32_t n = 0;

  for (int run = 0; run < RUNS; run++)
    {
      double start = now_us ();
      n = 0;
      for (int k = 0; k < HEADS; k++)
        {
          PlumbOccluder head = { .shape = PLUMB_OCCLUDER_ELLIPSOID,
                                 .centre_m = { (k % 8 - 3.5) * 0.06 * (2 + k / 8), k / 8 - 6, 1.22 },
                                 .axis = { { 0, 1, 0 }, { -1, 0, 0 }, { 0, 0, 1 } },
                                 .half_m = { 0.1, 0.08, 0.125 } };
          if (plumb_silhouette (eye, &screen, &picture, &head, &silhouette[n]))
            n++;
        }
      double middle = now_us ();
      area = plumb_silhouettes_area_m2 (silhouette, n);
      together[run] = now_us () - middle;
      each[run] = middle - start;
    }
  double outlines_us = median (each, RUNS), union_us = median (together, RUNS);
  printf ("silhouettes of %d heads, %u hide  %10.1f µs\n", HEADS, n, outlines_us);
  printf ("union of %u heads, %.4f m²     %10.1f µs\n", n, area, union_us);
  return 0;
}
