/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What lies under a point of a drawing.
 *
 * The things that a drawing shows are gathered once as outlines in view
 * metres; a pointer is then looked up in px, so that zooming and panning need
 * nothing new. Marks that do not grow with the scale (circled crosses, the
 * screen seen edge-on) have a half width in px around a point or a line.
 *
 * A thing that holds the point wins over one that is only near it. Of several
 * that hold it the one in front wins: places, edges of the screen, the screen
 * edge-on, ports and openings, then loose things and structure, then the
 * screen's face, corners, walls, ceilings. Among loose things and structure
 * the smaller wins, since the larger can be taken elsewhere; of equal ones the
 * one nearer the reader. Of things that are only near, the nearest wins.
 */
#pragma once

#include "draw/draw.h"

typedef enum {
  PLUMB_PART_WHOLE,
  PLUMB_PART_PLATE, /* of a place: the plate itself; the whole is the machine on its mount */
  PLUMB_PART_LEFT,  /* edges of the screen, as its viewer sees them */
  PLUMB_PART_RIGHT,
  PLUMB_PART_BOTTOM,
  PLUMB_PART_TOP,
  PLUMB_PART_CORNER, /* of a wall: its start corner */
  PLUMB_N_PARTS
} PlumbDrawPart;

typedef struct {
  PlumbSubject subject; /* sub: resolved seat, repeat of a structure; else PLUMB_NO_INDEX */
  PlumbDrawPart part;
  double distance_px; /* 0 when the thing holds the point */
} PlumbDrawHit;

typedef struct PlumbDrawShapes PlumbDrawShapes;

/* Outlines of everything in a drawing. Keeps no pointer into the scene or the
 * evaluation (which may be NULL). */
PlumbDrawShapes *plumb_draw_shapes_new (const PlumbScene *scene, const PlumbEvaluation *evaluation,
                                        PlumbDrawKind kind);
void plumb_draw_shapes_free (PlumbDrawShapes *shapes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbDrawShapes, plumb_draw_shapes_free)

/* What is at a device point or within the tolerance of it. */
bool plumb_draw_shapes_at (const PlumbDrawShapes *shapes, const PlumbDrawView *view, PlumbVec2 device,
                           double tolerance_px, PlumbDrawHit *hit);
/* Outlines of a subject and part, one call each: points in view metres, open
 * lines and single points have a half width. A subject without sub stands for
 * all its repeats and seats. */
typedef void (*PlumbDrawOutlineFunc) (const PlumbVec2 *points, size_t n, bool closed, double half_px, gpointer data);
void plumb_draw_shapes_outline (const PlumbDrawShapes *shapes, PlumbSubject subject, PlumbDrawPart part,
                                PlumbDrawOutlineFunc each, gpointer data);

/* The same for a single question. */
bool plumb_draw_hit (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbDrawView *view,
                     PlumbVec2 device, double tolerance_px, PlumbDrawHit *hit);
