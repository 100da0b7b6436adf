/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where the eye of the 3D view is. Plain numbers in double precision; matrices
 * are column-major floats as OpenGL wants them. Room frame, z up, metres.
 */
#pragma once

#include "plumbeam/evaluate.h"

typedef enum {
  PLUMB_CAMERA_ROOM,  /* walks round: looks at target from a distance */
  PLUMB_CAMERA_FRONT, /* straight at the screen */
  PLUMB_CAMERA_LENS,  /* from the lens point, square to the panel, the raw picture fills the pane */
  PLUMB_CAMERA_SEAT,  /* from a seat's eye towards the picture's centre */
} PlumbCameraKind;

typedef struct {
  PlumbCameraKind kind;
  uint32_t seat;                    /* resolved seat, for PLUMB_CAMERA_SEAT */
  PlumbVec3 target_m;               /* what it looks at */
  double azimuth_rad, elevation_rad; /* from target to eye: azimuth counter-clockwise from x, elevation up */
  double distance_m;
  double fov_y_rad;
  double lens_shift_x, lens_shift_y; /* off-axis frustum, both in half heights of the pane; 0 but from the lens */
  double roll_rad;
} PlumbCamera;

/* The camera as it first stands; aspect = pane width over height. False when
 * there is nothing to stand at (no such seat, no beam). */
bool plumb_camera_home (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbCameraKind kind, uint32_t seat,
                        double aspect, PlumbCamera *camera);
PlumbVec3 plumb_camera_eye (const PlumbCamera *camera);
void plumb_camera_orbit (PlumbCamera *camera, double d_azimuth_rad, double d_elevation_rad);
/* Moves target and eye across the view by this many metres at the target. */
void plumb_camera_pan (PlumbCamera *camera, double right_m, double up_m);
void plumb_camera_zoom (PlumbCamera *camera, double factor);
/* Part t (0…1) of the way from a to b, the short way round. */
PlumbCamera plumb_camera_between (const PlumbCamera *a, const PlumbCamera *b, double t);
void plumb_camera_matrices (const PlumbCamera *camera, double aspect, double near_m, double far_m, float view[16],
                            float projection[16]);
/* Ray through a point of the pane: x right, y down, both 0…1. */
PlumbVec3 plumb_camera_ray (const PlumbCamera *camera, double aspect, double x, double y);
