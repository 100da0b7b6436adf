/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outlines put together from what a body's edges throw: circles in space, whose
 * shadows are conics of any kind, and straight lines. What a cut at the eye's or
 * the picture's plane leaves of them is found in closed form.
 */
#pragma once

#include "silhouette-curved-private.h"

/* A circle or ellipse in space as thrown from the eye, about the eye's foot:
 * (x, y, w) · (1, cos t, sin t), the point being (x / w, y / w). */
typedef struct {
  double x[3], y[3], w[3];
} PlumbThrown;

PlumbThrown plumb_thrown (const PlumbSightFrame *frame, PlumbVec3 centre, PlumbVec3 a, PlumbVec3 b);

/* A piece of an outline: ((1−s)² p + 2 s(1−s) pull + s² q) / ((1−s)² + 2 s(1−s)
 * weight + s²): part of an ellipse, parabola or hyperbola with a weight below
 * 1, of 1 or above. */
typedef struct {
  PlumbVec2 p, q, pull;
  double weight;
  bool straight;
  double bearing_rad; /* of its chord */
  int corners_after;  /* of the picture, before the next piece begins */
} PlumbBow;

#define PLUMB_MOST_BOWS 64
#define PLUMB_MOST_BOUNDS 6
typedef struct {
  const PlumbSightFrame *frame;
  PlumbVec2 least, most; /* the picture about the eye's foot */
  PlumbBow bow[PLUMB_MOST_BOWS];
  int n;
  bool overfull;
} PlumbBows;

/* Both halves, alike in weight. */
void plumb_bow_halve (const PlumbBow *bow, PlumbBow *first, PlumbBow *second);

void plumb_bows_begin (PlumbBows *bows, const PlumbSightFrame *frame, const PlumbRect *picture);
/* What of a curve lies on the picture and fulfils bound · (1, cos t, sin t) <= 0
 * for each bound. */
void plumb_bows_add_curve (PlumbBows *bows, const PlumbThrown *curve, double (*bound)[3], int n_bounds);
/* What of a line between two local points lies between the planes and is
 * thrown onto the picture. */
void plumb_bows_add_line (PlumbBows *bows, PlumbVec3 from, PlumbVec3 to);

/* Bounds that keep a curve before the eye's plane and over the picture's. */
void plumb_bound_before_eye (const PlumbSightFrame *frame, const PlumbThrown *curve, double bound[3]);
void plumb_bound_over_picture (const PlumbSightFrame *frame, const PlumbThrown *curve, double bound[3]);

/* Whether the body hides a point of the picture, given about the eye's foot. */
typedef bool (*PlumbHides) (const void *body, PlumbVec2 point);

typedef enum { PLUMB_BOWS_NOTHING, PLUMB_BOWS_DONE, PLUMB_BOWS_MUDDLED } PlumbBowsEnd;
/* The convex outline that the pieces make together with the picture's edges.
 * Its area is exact; its line keeps within a millionth of that area as long as
 * the pieces suffice. Muddled: rounding left no outline. */
PlumbBowsEnd plumb_bows_end (PlumbBows *bows, PlumbHides hides, const void *body, const PlumbRect *picture,
                             PlumbSilhouette *out);
