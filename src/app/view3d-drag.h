/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Moving a thing in the 3D view: over the level plane on which it was taken
 * hold of, so a seat goes along the floor and a hung machine along the
 * ceiling. It is the plan's drag with another pointer: same edits, same
 * snapping, one undo step. No GTK.
 */
#pragma once

#include "app/drawing-drag.h"
#include "view3d/camera.h"

typedef struct {
  PlumbDragSession plan;
  PlumbVec3 hit_m;   /* where it was taken hold of */
  double handle_z_m; /* how high its plate was then */
} PlumbView3dDrag;

/* FALSE when the thing cannot be moved over the plan. */
gboolean plumb_view3d_drag_begin (PlumbView3dDrag *drag, PlumbDocument *document, PlumbSubject subject,
                                  PlumbVec3 hit_m);
gboolean plumb_view3d_drag_is_held (const PlumbView3dDrag *drag);
/* x, y: 0…1 of the pane, y down. Does nothing while the pointer is where the
 * plane is not, or so far out on it that a hand could not mean it. */
void plumb_view3d_drag_move (PlumbView3dDrag *drag, const PlumbCamera *camera, int width_px, int height_px, double x,
                             double y, gboolean snapping);
void plumb_view3d_drag_end (PlumbView3dDrag *drag);
void plumb_view3d_drag_cancel (PlumbView3dDrag *drag);
