/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the kinds of things that can be dragged share. */
#pragma once

#include "draw/drag.h"

/* A wall's direction and a drawing's axis closer than this are one. */
#define PLUMB_DRAG_ALIGNED 0.9995

/* One kind of thing. init sets handle, slide; false: cannot be dragged. to
 * adds edits for a room point that the handle shall come to. */
typedef struct {
  bool (*init) (PlumbDrawDrag *drag);
  void (*to) (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits);
  size_t (*measures) (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure);
} PlumbDragKind;

extern const PlumbDragKind plumb_drag_place, plumb_drag_screen, plumb_drag_hole, plumb_drag_loose,
    plumb_drag_corner;

/* Plan and ceiling are level drawings; the others upright ones. */
bool plumb_drag_level (const PlumbDrawDrag *drag);
PlumbVec2 plumb_drag_project (const PlumbDrawDrag *drag, PlumbVec3 point);
/* A level room direction in the view. */
PlumbVec2 plumb_drag_direction (const PlumbDrawDrag *drag, PlumbVec2 level);
void plumb_drag_slide (PlumbDrawDrag *drag, PlumbVec2 direction);
/* The wall's shape, NULL when it is not there. */
const PlumbWallShape *plumb_drag_wall (const PlumbDrawDrag *drag, const char *id);
/* Floor of a space record, of the first one when it is out of range. */
double plumb_drag_floor (const PlumbDrawDrag *drag, uint32_t space);

PlumbDrawEdit *plumb_drag_edit (GArray *edits, PlumbRecordKind kind, uint32_t index);
/* Puts an SI value, held to the field's range; nothing when it is the one
 * that the record has. */
void plumb_drag_put (const PlumbDrawDrag *drag, PlumbDrawEdit *edit, int field, double value_si);
/* Adds the measure of a field off a level line: from a plan point along a
 * level unit direction. In an upright drawing only a direction that lies in
 * it is a measure. Returns the number added. */
size_t plumb_drag_measure_level (const PlumbDrawDrag *drag, PlumbDrawMeasure *measure, int field, PlumbVec2 from,
                                 PlumbVec2 direction);
/* Likewise a height: from a level upwards or downwards; upright drawings. */
size_t plumb_drag_measure_height (const PlumbDrawDrag *drag, PlumbDrawMeasure *measure, int field, double from_z_m,
                                  bool upwards);
/* Where along a wall the target is, metres from its start: in a level drawing
 * its foot, in an upright one the point of the wall seen there. False when
 * the wall is seen edge-on. */
bool plumb_drag_along_wall (const PlumbDrawDrag *drag, const PlumbWallShape *wall, PlumbVec3 target, double *along_m);
