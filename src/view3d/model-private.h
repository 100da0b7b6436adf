/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is shown, on the processor's side: the scene, what was worked out for
 * it, and the meshes made from both. Needs no OpenGL.
 */
#pragma once

#include <glib.h>

#include "view3d/mesh.h"

#define PLUMB_MODEL_SECTIONS 6

typedef struct PlumbBaking PlumbBaking;

typedef struct {
  PlumbScene *scene;          /* NULL: nothing yet */
  PlumbEvaluation evaluation; /* without its arrays */
  PlumbFigures *figures;      /* of the people so far */
  guint serial;               /* another for another scene */
  bool has_whole;
  PlumbMesh whole;
  struct {
    guint serial; /* another when it is made or baked anew */
    bool made, baked, ever_baked;
    PlumbMesh mesh;
  } cut[PLUMB_MODEL_SECTIONS];
  guint next_serial;
  PlumbBaking *baking;              /* NULL: nothing is being worked out */
  void (*again) (gpointer data);    /* NULL: what takes long is waited for */
  gpointer again_data;
  guint again_source;
  PlumbVec3 least_m, most_m; /* the box round everything, with has_whole */
} PlumbModel;

void plumb_model_set (PlumbModel *model, PlumbScene *scene, const PlumbEvaluation *evaluation);
void plumb_model_clear (PlumbModel *model);
const PlumbMesh *plumb_model_whole (PlumbModel *model);
/* The mesh for a camera. quick: leaves the baking for later where an earlier
 * mesh lends its own. With `again` the baking is never waited for. *serial
 * tells whether it changed. */
const PlumbMesh *plumb_model_mesh (PlumbModel *model, const PlumbCamera *camera, bool quick, guint *serial);
/* Distances along the view between which everything stands, metres. */
void plumb_model_range (PlumbModel *model, const PlumbCamera *camera, double *near_m, double *far_m);
/* Greatest distance along the beam's axis. */
double plumb_model_reach_m (PlumbModel *model);

/* Calls `again` when nothing more urgent is to be done. */
void plumb_model_call_again (PlumbModel *model);
/* Bakes a mesh beside what goes on; false when there is no thread for it. */
bool plumb_baking_start (PlumbModel *model, int slot);
void plumb_baking_stop (PlumbModel *model);
