/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Dragging: which fields of which record get which values when a thing's
 * handle comes to a point of a drawing.
 *
 * Pure. The inverse of how the scene resolves: along and off from the place's
 * own walls, across from the screen's own end of the wall, and so on; what
 * lies square to the drawing stays. Handles:
 *
 *   place, plate    the plate; up and down changes its height
 *   place, whole    the plate and, up and down, the mount's head: of a hung
 *                   machine the drop changes, of a standing one and of an arm
 *                   the height. An arm's handle is the end of its reach, which
 *                   changes in place of the measure off the wall.
 *   seat, row       the eye; of a row the eye of the seat taken hold of
 *   person          where they stand; a path moves whole
 *   blocker         its point; of an extruded outline the first corner
 *   port, opening   the middle of the hole on the inner face
 *   screen          the middle of its face; an edge keeps the opposite one
 *   wall, corner    its start corner, from above; the wall before it follows
 *
 * A thing that cannot leave its line (a port on its wall, a screen on a wall)
 * slides along it. Values stop at the ends of their field's range, and a hole
 * at the ends of its wall.
 */
#pragma once

#include "draw/hit.h"

#define PLUMB_EDIT_MAX_FIELDS 4
#define PLUMB_DRAG_MAX_MEASURES 4

/* New values of one record, in the units of the keys; only those that change. */
typedef struct {
  PlumbRecordKind kind;
  uint32_t index;
  unsigned n;
  int field[PLUMB_EDIT_MAX_FIELDS];
  double value[PLUMB_EDIT_MAX_FIELDS];
} PlumbDrawEdit;

/* A measure that a drag changes: at a view point it is
 * (point − from)·direction, metres. */
typedef struct {
  int field; /* of the subject's record, -1: none of its own */
  PlumbVec2 from_m;
  PlumbVec2 direction; /* unit */
} PlumbDrawMeasure;

/* A thing taken hold of in a drawing. Borrows scene and evaluation. */
typedef struct {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation; /* may be NULL */
  PlumbDrawKind kind;
  PlumbDrawPlane plane;
  PlumbSubject subject;
  PlumbDrawPart part;
  PlumbVec3 handle_m; /* room */
  bool slides;        /* along this line only */
  PlumbVec2 slide;    /* unit, view */
} PlumbDrawDrag;

/* False when the thing is not there or cannot be moved in this drawing. A row
 * needs the seat (sub); without one it is its first. */
bool plumb_draw_drag_init (PlumbDrawDrag *drag, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                           PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part);
/* Where the handle is, view metres. */
PlumbVec2 plumb_draw_drag_handle (const PlumbDrawDrag *drag);
/* The edits that bring the handle to a view point, or as near as it can come:
 * an array of PlumbDrawEdit, empty when nothing changes. The caller drops it. */
GArray *plumb_draw_drag_to (const PlumbDrawDrag *drag, PlumbVec2 point_m);
/* Rounds the lengths of an edit to whole steps; values stay in range. */
void plumb_draw_edit_round (PlumbDrawEdit *edit, double step_m);
/* The measures that matter at a view point, across before up. */
size_t plumb_draw_drag_measures (const PlumbDrawDrag *drag, PlumbVec2 point_m,
                                 PlumbDrawMeasure measure[PLUMB_DRAG_MAX_MEASURES]);
double plumb_draw_measure_m (const PlumbDrawMeasure *measure, PlumbVec2 point_m);
