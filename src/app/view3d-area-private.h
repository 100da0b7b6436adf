/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 3D area from inside: what the renderer's side and the hand's share. */
#pragma once

#include "app/view3d-area.h"
#include "app/view3d-drag.h"
#include "draw/theme.h"

typedef enum { HAND_FREE, HAND_PRESSED, HAND_TURNS, HAND_PANS, HAND_DRAGS } PlumbView3dHand;

struct _PlumbView3dArea {
  GtkGLArea parent_instance;

  PlumbDocument *document;
  PlumbView3dHalf *half; /* of it that is shown */
  gboolean looks_only;   /* nothing can be chosen or moved */
  PlumbView3dArea *twin; /* whose eye is the same; NULL: none; weak */
  gboolean follows;      /* the eye's home is the twin's */
  char *path; /* of the job that the eye was set up for */

  PlumbView3d *view;
  gboolean ready;              /* the renderer has its context */
  char *trouble;               /* why there is none; NULL: nothing has gone wrong */
  const PlumbDrawTheme *theme; /* whose colours the renderer has */
  PlumbView3dOptions options;
  PlumbView3dShown shown;
  PlumbContent content;

  PlumbView3dEye eye;
  guint travel, rest, late, troubled_idle;
  gboolean changed; /* since the last picture */
  guint n_frames; /* since it has its context */

  PlumbView3dHand hand;
  gboolean pans; /* the press means to pan */
  PlumbVec2 pressed, last;
  PlumbSubject hit;
  PlumbVec3 hit_m;
  PlumbView3dDrag drag;
  double pinch_scale;
};

PlumbView3dPlace plumb_view3d_area_place (PlumbView3dArea *self);
/* Something moves: the lighter pass now, the full one when all rests. */
void plumb_view3d_area_stir (PlumbView3dArea *self);
/* Something else is seen: the full pass, unless all moves. */
void plumb_view3d_area_redraw (PlumbView3dArea *self);
/* Goes home, in 200 ms unless motion is not wanted. */
void plumb_view3d_area_go_home (PlumbView3dArea *self);
/* The eye where the job wants it, for which a drag had to wait. */
void plumb_view3d_area_settle (PlumbView3dArea *self);
/* Gives the twin the eye. */
void plumb_view3d_area_tell_twin (PlumbView3dArea *self);
void plumb_view3d_area_tell_reader (PlumbView3dArea *self);
/* Pointer and key controllers. */
void plumb_view3d_area_add_hand (PlumbView3dArea *self);
/* Ends what the hand does, for good or back to where it was. */
void plumb_view3d_area_let_go (PlumbView3dArea *self);
/* Scene, options, colours, camera and content, for any renderer. */
void plumb_view3d_area_dress (PlumbView3dArea *self, PlumbView3d *view);

/* ---- view3d-gl.c ---------------------------------------------------------------------- */

GdkGLContext *plumb_view3d_area_create_context (GtkGLArea *area);
/* After the area is realized and before it is unrealized. */
void plumb_view3d_area_begin_gl (PlumbView3dArea *self);
void plumb_view3d_area_end_gl (PlumbView3dArea *self);
gboolean plumb_view3d_area_render (GtkGLArea *area, GdkGLContext *context);
