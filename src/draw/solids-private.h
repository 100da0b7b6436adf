/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Solids on a drawing's plane: outline, section, and where they lie against
 * the cut. Curved ones by their exact shape, drawn with 48 points a turn.
 */
#pragma once

#include "draw/pen-private.h"

#define PLUMB_TURN_POINTS 48

typedef enum {
  PLUMB_BEYOND_CUT, /* seen */
  PLUMB_ON_CUT,     /* cut through */
  PLUMB_BEFORE_CUT, /* cut away: above, in front */
} PlumbSolidSide;

PlumbSolidSide plumb_solid_side (const PlumbPen *pen, const PlumbSolid *solid);
/* Least and greatest depth along the plane's `towards`, metres. */
void plumb_solid_depths (const PlumbPen *pen, const PlumbSolid *solid, double *least_m, double *greatest_m);
/* Convex outline in view metres, counter-clockwise; an array of PlumbVec2. */
GArray *plumb_solid_outline (const PlumbPen *pen, const PlumbSolid *solid);
/* Convex section by the plane's cut; empty when it is not cut. */
GArray *plumb_solid_section (const PlumbPen *pen, const PlumbSolid *solid);
/* Outline of a set of room points. */
GArray *plumb_points_outline (const PlumbPen *pen, const PlumbVec3 *points, size_t n);
