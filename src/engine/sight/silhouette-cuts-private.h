/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a piece of one outline meets other outlines. */
#pragma once

#include "silhouette-private.h"

#define PLUMB_MOST_CUTS 256
/* Steps of a quarter turn in which zeros of a second-degree wave are looked for; even. */
#define PLUMB_ARC_SAMPLES 6

/* The box round all outlines. No outline goes beyond it, so that what lies on
 * one of its sides (the picture's edges, as a rule) meets nothing but its like. */
typedef struct {
  PlumbVec2 least, most;
  double tolerance_m;
} PlumbUnionBox;

/* A piece between two of its parameters and the cuts of it; `full` when there
 * are more than there is room for. Of an arc the even steps at which zeros are
 * looked for, with their cosines and sines. */
typedef struct {
  const PlumbOutlinePiece *piece;
  double from, to, tolerance_m;
  double step_t[PLUMB_ARC_SAMPLES + 1], step_cos[PLUMB_ARC_SAMPLES + 1], step_sin[PLUMB_ARC_SAMPLES + 1];
  int n;
  bool full;
  double at[PLUMB_MOST_CUTS];
} PlumbCuts;

/* Signed distance of a point from a segment's line, left positive, times its length. */
static inline double
plumb_left_of (const PlumbOutlinePiece *chord, PlumbVec2 p)
{
  return plumb_vec2_cross (plumb_vec2_sub (chord->q, chord->p), plumb_vec2_sub (p, chord->p));
}

static inline bool
plumb_boxes_meet (PlumbVec2 least, PlumbVec2 most, PlumbVec2 other_least, PlumbVec2 other_most, double slack)
{
  return least.x <= other_most.x + slack && other_least.x <= most.x + slack && least.y <= other_most.y + slack
         && other_least.y <= most.y + slack;
}

/* The side of the box on which a piece lies, 0…3 from below counter-clockwise; -1: none. */
int plumb_side_of (const PlumbUnionBox *bounds, const PlumbOutlinePiece *piece);

/* The piece from one of its parameters to another, cut at the first alone. */
void plumb_cuts_begin (PlumbCuts *cuts, const PlumbOutlinePiece *piece, double from, double to, double tolerance_m);
/* Adds where the piece meets an outline, or may. */
void plumb_cuts_by_outline (const PlumbOutlinePiece *piece, const PlumbSilhouette *other, const PlumbUnionBox *bounds,
                            PlumbCuts *cuts);
void plumb_cuts_sort (PlumbCuts *cuts);
