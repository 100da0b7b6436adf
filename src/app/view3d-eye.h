/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The eye of the 3D pane: from which of the four places it looks, how the hand
 * moves it, and its way from one place to another. No GTK.
 *
 * Each place keeps its own camera. Until somebody moves it, a camera is at
 * home, and follows the job. What the hand may do: in the room everything; at
 * the screen move across and zoom, so that it stays straight; from a seat turn
 * the head and narrow the view; from the lens nothing.
 */
#pragma once

#include <glib.h>

#include "view3d/camera.h"

#define PLUMB_N_CAMERA_KINDS (PLUMB_CAMERA_SEAT + 1)
#define PLUMB_EYE_TRAVEL_US (200 * 1000)

typedef struct {
  PlumbCameraKind kind;
  uint32_t seat;  /* resolved, for the view from a seat; PLUMB_NO_INDEX: none chosen */
  gboolean valid; /* there is somewhere to stand: `now` holds */
  PlumbCamera now;
  PlumbCamera kept[PLUMB_N_CAMERA_KINDS];
  gboolean moved[PLUMB_N_CAMERA_KINDS];
  gboolean travels;
  PlumbCamera from;
  gint64 begun_us;
} PlumbView3dEye;

/* What it looks at. */
typedef struct {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  int width_px, height_px;
} PlumbView3dPlace;

double plumb_view3d_place_aspect (const PlumbView3dPlace *place);

void plumb_view3d_eye_init (PlumbView3dEye *eye);
/* The seat that the view is from: the chosen one, else one in the middle. */
uint32_t plumb_view3d_eye_seat (const PlumbView3dEye *eye, const PlumbScene *scene);
/* Whether there is somewhere to stand for this kind. */
gboolean plumb_view3d_eye_can (const PlumbView3dEye *eye, const PlumbView3dPlace *place, PlumbCameraKind kind);
/* The job or the pane has changed: a camera at home goes where its home is now. */
void plumb_view3d_eye_settle (PlumbView3dEye *eye, const PlumbView3dPlace *place);
/* Looks from another place, or from home; now_us: begins a journey of 200 ms,
 * 0: is there at once. */
void plumb_view3d_eye_go (PlumbView3dEye *eye, const PlumbView3dPlace *place, PlumbCameraKind kind, gint64 now_us);
void plumb_view3d_eye_home (PlumbView3dEye *eye, const PlumbView3dPlace *place, gint64 now_us);
/* As far as the clock has come; FALSE when it has arrived. */
gboolean plumb_view3d_eye_travel (PlumbView3dEye *eye, gint64 now_us);

/* By a movement of the pointer, px right and down: what is seen follows it.
 * FALSE when the place does not let it. */
gboolean plumb_view3d_eye_turn (PlumbView3dEye *eye, const PlumbView3dPlace *place, double dx_px, double dy_px);
gboolean plumb_view3d_eye_pan (PlumbView3dEye *eye, const PlumbView3dPlace *place, double dx_px, double dy_px);
/* factor > 1: nearer. */
gboolean plumb_view3d_eye_zoom (PlumbView3dEye *eye, double factor);
