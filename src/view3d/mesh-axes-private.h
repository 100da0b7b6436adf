/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The room's own directions: from the picture wall to the back, and to the
 * right of somebody who looks at the picture. They decide where the building
 * is cut and where the camera first stands.
 */
#pragma once

#include "view3d/mesh.h"

/* Depths along `back` and places along `right`, metres. box_…: the main space,
 * inner faces. back_m: where the back is cut, INFINITY where it is not. */
typedef struct {
  PlumbVec2 back, right;
  uint32_t space; /* the picture's space, else the first that stands */
  uint32_t picture_wall;
  double box_front_m, box_back_m, box_left_m, box_right_m;
  double floor_z_m, top_z_m;
  double back_m;
  double picture_left_m, picture_right_m;
  double ridge_m; /* place of the highest ceiling; the middle of a level one */
  bool level;     /* the ceiling has no ridge */
} PlumbMeshAxes;

/* False when there is nothing to stand round. */
bool plumb_mesh_axes (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMeshAxes *axes);
PlumbVec3 plumb_mesh_axes_point (const PlumbMeshAxes *axes, double back_m, double right_m, double z_m);
