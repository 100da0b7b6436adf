/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One drawing on the screen: pan, zoom, hover, selection, drag and nudge.
 *
 * The drawing is painted once for each change and kept as a texture; marks
 * and guides are painted over it. Each of the four kinds keeps its own view.
 * Until somebody pans or zooms, a view is fitted to the area by itself.
 *
 * Pointer: drag a thing to move it (Alt: without snapping), drag beside it or
 * with the middle button to pan, wheel to zoom, two fingers to pan, double
 * click beside everything to fit. Keys: arrows nudge what is chosen (Shift:
 * further), Ctrl and arrows pan, + and - zoom, F fits, Escape gives a drag up,
 * Tab ends it in the form's row of the dragged measure.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "draw/draw.h"

#define PLUMB_TYPE_DRAWING_AREA (plumb_drawing_area_get_type ())
G_DECLARE_FINAL_TYPE (PlumbDrawingArea, plumb_drawing_area, PLUMB, DRAWING_AREA, GtkWidget)

/* Once; keeps a reference. */
void plumb_drawing_area_set_document (PlumbDrawingArea *self, PlumbDocument *document);
void plumb_drawing_area_set_kind (PlumbDrawingArea *self, PlumbDrawKind kind);
PlumbDrawKind plumb_drawing_area_get_kind (PlumbDrawingArea *self);
/* What is seen now; valid until the area changes. The signal `viewed` tells
 * of another kind or scale. */
const PlumbDrawView *plumb_drawing_area_get_view (PlumbDrawingArea *self);
void plumb_drawing_area_fit (PlumbDrawingArea *self);
/* What is shown beside the things themselves, in all four kinds. */
void plumb_drawing_area_show (PlumbDrawingArea *self, const PlumbDrawShown *shown);

/* The pointer by itself, for gestures and for tests: pressed at a point,
 * moved to others, let go. */
void plumb_drawing_area_press (PlumbDrawingArea *self, PlumbVec2 device);
void plumb_drawing_area_move (PlumbDrawingArea *self, PlumbVec2 device, gboolean snapping);
void plumb_drawing_area_release (PlumbDrawingArea *self);
/* A key as the controller gives it; whether it was for the drawing. */
gboolean plumb_drawing_area_key (PlumbDrawingArea *self, guint keyval, GdkModifierType state);
