/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The room in three dimensions: an OpenGL area, its eye and the hand in it.
 *
 * It is rendered when something changes and at no other time: by a lighter
 * pass while something moves, then once in full.
 *
 * Pointer: drag to walk round, with the middle button or Shift to pan, wheel
 * to zoom; click chooses; drag what is chosen to move it over the floor or
 * along the ceiling (Alt: without snapping). Keys: arrows walk round (Shift:
 * pan), + and - zoom, Home goes home, Escape gives a drag up.
 *
 * Signals: `viewed`: another kind of view, or other kinds can be had;
 * `troubled` (sentence without its full stop): there will be no 3D here.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "app/view3d-eye.h"
#include "app/view3d-half.h"
#include "job/content.h"
#include "view3d/view3d.h"

#define PLUMB_TYPE_VIEW3D_AREA (plumb_view3d_area_get_type ())
G_DECLARE_FINAL_TYPE (PlumbView3dArea, plumb_view3d_area, PLUMB, VIEW3D_AREA, GtkGLArea)

typedef enum { PLUMB_SIGHTLINES_NONE, PLUMB_SIGHTLINES_SEAT, PLUMB_SIGHTLINES_ALL } PlumbSightlines;

/* What is seen beside the room itself, and what is thrown. */
typedef struct {
  gboolean beam, frustum, axis;
  PlumbSightlines sightlines;
  PlumbPattern pattern;
} PlumbView3dShown;

GtkWidget *plumb_view3d_area_new (PlumbDocument *document);
/* A view for looking at alone: the hand moves the eye and nothing else. */
GtkWidget *plumb_view3d_area_new_to_look (PlumbView3dHalf *half);
/* Looks through the other's eye from now on, and the other through its own:
 * whichever is turned turns both. Homes are the other's. */
void plumb_view3d_area_follow (PlumbView3dArea *self, PlumbView3dArea *leader);
/* Once: eye, light, what is shown and what is thrown are those of the other. */
void plumb_view3d_area_take_after (PlumbView3dArea *self, PlumbView3dArea *other);
void plumb_view3d_area_set_kind (PlumbView3dArea *self, PlumbCameraKind kind);
PlumbCameraKind plumb_view3d_area_get_kind (PlumbView3dArea *self);
gboolean plumb_view3d_area_can (PlumbView3dArea *self, PlumbCameraKind kind);
/* The camera as it stands; valid until the area changes. */
const PlumbCamera *plumb_view3d_area_get_camera (PlumbView3dArea *self);
/* Resolved seat of the view from a seat, PLUMB_NO_INDEX: the job has none. */
uint32_t plumb_view3d_area_get_seat (PlumbView3dArea *self);
void plumb_view3d_area_show (PlumbView3dArea *self, const PlumbView3dShown *shown);
/* The light that the picture is seen in: luminance of white and of black over
 * that of white in the dark. */
void plumb_view3d_area_set_light (PlumbView3dArea *self, double white_share, double black_share);
/* Takes the image, which is thrown in place of the pattern; NULL: the pattern again. */
void plumb_view3d_area_set_content (PlumbView3dArea *self, PlumbContent *content);
/* What is seen, as a PNG of this size, by a renderer of its own. */
gboolean plumb_view3d_area_save (PlumbView3dArea *self, const char *path, int width_px, int height_px,
                                 GError **error);

/* Whether the picture is still to become another by itself; told to readers of
 * the screen too. */
gboolean plumb_view3d_area_is_busy (PlumbView3dArea *self);

/* The pointer by itself, for gestures and for tests, px of the widget. */
void plumb_view3d_area_press (PlumbView3dArea *self, PlumbVec2 at, gboolean pans);
void plumb_view3d_area_move (PlumbView3dArea *self, PlumbVec2 at, gboolean snapping);
void plumb_view3d_area_release (PlumbView3dArea *self);
void plumb_view3d_area_hover (PlumbView3dArea *self, PlumbVec2 at);
/* Whether the key was for the view. */
gboolean plumb_view3d_area_key (PlumbView3dArea *self, guint keyval, GdkModifierType state);
