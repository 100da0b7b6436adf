/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures and distances of the renderer for tests, without a display. */
#pragma once

#include "../engine/sample-job.h"
#include "view3d/view3d.h"

typedef struct {
  int width_px, height_px;
  uint8_t *rgba; /* rows from the top */
} Picture;

/* A view in a dark room that shows nothing but things and the thrown picture. */
PlumbView3d *render_view_new (double room_light);
PlumbView3dOptions render_options (void);
PlumbOffscreen *render_offscreen (bool gles);
Picture render_picture (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px);
void picture_clear (Picture *picture);
/* Share of pixels of which some channel differs by more than `steps` of 255. */
double picture_difference (const Picture *a, const Picture *b, int steps);

/* Calls check for both demo jobs. */
typedef void (*DemoCheck) (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation);
void each_demo (DemoCheck check);

/* The mesh that a camera sees: cut for it, without the machine when it looks
 * through its lens and without the sitter through whose eyes it looks. */
PlumbMesh render_mesh (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera);
