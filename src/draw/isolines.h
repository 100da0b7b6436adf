/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Lines of equal value of a smooth figure over a rectangle: marching squares
 * over a grid, each crossing of a grid line found by bisection on the figure
 * itself, so that every point of a line has the line's value. Knows no light.
 */
#pragma once

#include <glib.h>

#include "plumbeam/optics.h"

/* False where there is no value; then there are no lines at all. */
typedef bool (*PlumbIsoField) (const void *data, PlumbVec2 point, double *value);

typedef struct {
  double value;
  bool closed;
  guint first, n; /* points, in order */
} PlumbIsoline;

typedef struct {
  bool known; /* there is a value everywhere */
  double least, greatest;
  PlumbVec2 greatest_at;
  double step;    /* between neighbouring lines; 0: the figure is even and has no lines */
  GArray *points; /* of PlumbVec2 */
  GArray *lines;  /* of PlumbIsoline, least value first */
} PlumbIsolines;

/* Steps of 1, 2 or 5 times a power of ten, the first with which there are no
 * more than `most_lines` (at least 1) values. A figure that varies by less
 * than `even_share` of its greatest has no lines. */
PlumbIsolines plumb_isolines_make (PlumbIsoField field, const void *data, const PlumbRect *area, int most_lines,
                                   double even_share);
void plumb_isolines_clear (PlumbIsolines *isolines);
