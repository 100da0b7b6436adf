/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cutting a convex polygon in two so that nothing is lost or counted twice.
 */
#pragma once

#include "plumbeam/vec.h"

/* Greatest number of points that a polygon may have while it is being cut. */
#define PLUMB_SPLIT_MAX_POINTS 128

typedef struct {
  size_t n;
  PlumbVec2 p[PLUMB_SPLIT_MAX_POINTS];
} PlumbRing;

/* a x + b y + c; negative on the inner side. */
typedef struct {
  double a, b, c;
} PlumbLine2;

static inline double
plumb_line2_at (PlumbLine2 line, PlumbVec2 point)
{
  return line.a * point.x + line.b * point.y + line.c;
}

/* The line from one point to another, inner side on the left, in unit normal
 * form; false when the points are one. */
bool plumb_line2_through (PlumbVec2 from, PlumbVec2 to, PlumbLine2 *line);

/* Whether any corner lies on the line's outer side. */
bool plumb_ring_reaches (const PlumbRing *ring, PlumbLine2 line, double snap);

/* Splits a convex ring. A corner within `snap` of the line (in the line's own
 * measure) counts as on it and goes to both sides. A side without area gets
 * n = 0. Neither output may be the input. */
void plumb_ring_split (const PlumbRing *ring, PlumbLine2 line, double snap, PlumbRing *inner, PlumbRing *outer);
