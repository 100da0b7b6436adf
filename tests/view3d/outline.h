/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where light ends in a picture of a dark room, found in the picture alone.
 *
 * Every row and column is read both ways. Where it comes out of the dark, the
 * edge is put where as much light would fit in under a sharp edge: pixels on
 * the way up count for the share of the light beyond them.
 */
#pragma once

#include "render-testing.h"

#define OUTLINE_MAX_POINTS 16

/* Convex, in pixels; x right, y down, the first pixel's middle at 1/2, 1/2. */
typedef struct {
  uint32_t n;
  PlumbVec2 point[OUTLINE_MAX_POINTS];
} Outline;

typedef struct {
  PlumbVec2 at;
  bool row; /* found along a row */
} EdgePoint;

/* A point of the room in the pane. */
PlumbVec2 outline_project (const PlumbCamera *camera, int width_px, int height_px, PlumbVec3 point);
Outline outline_hull (const PlumbVec2 *points, uint32_t n);
/* How far inside the outline a point lies; negative outside. */
double outline_depth_px (const Outline *outline, PlumbVec2 point);
/* Edge points inside `where`. */
GArray *outline_find (const Picture *picture, const Outline *where);

typedef struct {
  double worst_point_px, worst_corner_px, worst_line_px;
  guint n_points;
} OutlineErrors;

/* Asserts that every edge point lies within `most_px` of an outline, that
 * nine tenths of each outline's sides were found, and that lines fitted to
 * the points of each side, and their corners, agree as closely. */
void outline_compare (const GArray *found, const Outline *outlines, uint32_t n_outlines, double most_px,
                      OutlineErrors *errors);
