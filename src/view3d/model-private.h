/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is shown, on the processor's side: the scene, what was worked out for
 * it, and the meshes made from both. Needs no OpenGL.
 */
#pragma once

#include "view3d/mesh.h"

#define PLUMB_MODEL_SECTIONS 6

typedef struct {
  PlumbScene *scene;          /* NULL: nothing yet */
  PlumbEvaluation evaluation; /* without its arrays */
  guint serial;               /* another for another scene */
  bool has_whole;
  PlumbMesh whole;
  bool has_figures;
  PlumbMesh figures;
  struct {
    guint serial; /* another when it is made or baked anew */
    bool made, baked, ever_baked;
    PlumbMesh mesh;
  } cut[PLUMB_MODEL_SECTIONS];
  guint next_serial;
  PlumbVec3 least_m, most_m; /* the box round everything, with has_whole */
} PlumbModel;

void plumb_model_set (PlumbModel *model, PlumbScene *scene, const PlumbEvaluation *evaluation);
void plumb_model_clear (PlumbModel *model);
const PlumbMesh *plumb_model_whole (PlumbModel *model);
const PlumbMesh *plumb_model_figures (PlumbModel *model);
/* The mesh for a camera. quick: leaves the baking for later where an earlier
 * mesh lends its own. *serial tells whether it changed. */
const PlumbMesh *plumb_model_mesh (PlumbModel *model, const PlumbCamera *camera, bool quick, guint *serial);
/* Distances along the view between which everything stands, metres. */
void plumb_model_range (PlumbModel *model, const PlumbCamera *camera, double *near_m, double *far_m);
/* Greatest distance along the beam's axis. */
double plumb_model_reach_m (PlumbModel *model);
