/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints our figures for the outside check convex.py: one question a line on
 * standard input (n, m, then n + m points), one distance a line.
 */
#include "plumbeam/building.h"

#include <stdio.h>

#define MAX_POINTS 64

static bool
read_points (size_t n, PlumbVec3 *points)
{
  for (size_t i = 0; i < n; i++)
    if (scanf ("%lf %lf %lf", &points[i].x, &points[i].y, &points[i].z) != 3)
      return false;
  return true;
}

int
main (void)
{
  PlumbVec3 a[MAX_POINTS], b[MAX_POINTS];
  unsigned n, m;

  while (scanf ("%u %u", &n, &m) == 2)
    {
      if (n == 0 || m == 0 || n > MAX_POINTS || m > MAX_POINTS || !read_points (n, a) || !read_points (m, b))
        {
          fputs ("convex-probe: bad question\n", stderr);
          return 2;
        }
      PlumbConvex one = { .points = a, .n_points = n }, two = { .points = b, .n_points = m };
      printf ("%.17g\n", plumb_convex_distance (&one, &two, NULL, NULL));
    }
  return 0;
}
