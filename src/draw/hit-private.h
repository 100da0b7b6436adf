/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlines that hit.c looks up and hit-shapes.c gathers. */
#pragma once

#include "draw/hit.h"

/* Front first. */
typedef enum {
  PLUMB_RANK_PLACE,
  PLUMB_RANK_EDGE,
  PLUMB_RANK_SCREEN,
  PLUMB_RANK_HOLE,
  PLUMB_RANK_THING, /* loose things and structure: the smaller first */
  PLUMB_RANK_FACE,
  PLUMB_RANK_CORNER,
  PLUMB_RANK_WALL,
  PLUMB_RANK_CEILING,
} PlumbShapeRank;

typedef struct {
  PlumbSubject subject;
  PlumbDrawPart part;
  PlumbShapeRank rank;
  guint first, n; /* in the points */
  bool closed;
  double half_px;            /* around an open line or a point; about a closed one it widens it */
  double area_m2;            /* of a closed one */
  double depth_m;            /* towards the reader */
  PlumbVec2 least, greatest; /* view metres */
} PlumbShape;

struct PlumbDrawShapes {
  GArray *points; /* PlumbVec2 */
  GArray *shapes; /* PlumbShape */
};

/* Fills both arrays. */
void plumb_shapes_gather (PlumbDrawShapes *shapes, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                          PlumbDrawKind kind);
