/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where a dragged point comes to rest, and the dimension strings that are
 * shown meanwhile.
 *
 * A point has two freedoms, a thing that slides one. They are taken up in
 * this order: lines of the building within the tolerance (centre lines of
 * structure, the picture's centre line, a wall's middle for a screen, lines
 * through other places), measures at round distances within the tolerance,
 * and for what is left a grid of 10 mm or 1/2 in of the measures.
 */
#pragma once

#include "draw/drag.h"

#define PLUMB_SNAP_GRID_M 0.01
#define PLUMB_SNAP_GRID_IN 0.5

#define PLUMB_SNAP_MAX_GUIDES 6
#define PLUMB_SNAP_TEXT_SIZE 40

/* A guide in view metres. A dimension has ticks, a field and its figure; the
 * others are lines that the point lies on. */
typedef struct {
  PlumbVec2 a_m, b_m;
  bool dimension;
  int field; /* as in PlumbDrawMeasure */
  double length_m;
  char text[PLUMB_SNAP_TEXT_SIZE];
} PlumbSnapGuide;

typedef struct {
  PlumbVec2 point_m;
  bool exact; /* it lies on a line of the building: not to be rounded away */
  unsigned n_guides;
  PlumbSnapGuide guide[PLUMB_SNAP_MAX_GUIDES];
} PlumbSnap;

/* snapping false: the point stays (but slides), and only dimensions are made.
 * The scale of the view turns the tolerance into metres. */
void plumb_draw_snap (const PlumbDrawDrag *drag, const PlumbDrawView *view, PlumbVec2 point_m, double tolerance_px,
                      bool snapping, PlumbSnap *snap);
/* The dimensions alone, at snap->point_m, after the guides that are there. */
void plumb_draw_snap_measure (const PlumbDrawDrag *drag, PlumbSnap *snap);
