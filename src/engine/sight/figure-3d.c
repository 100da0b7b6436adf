/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/sight.h"

/* Head 156 × 194 × 236 mm, shoulders 430 mm, in keeping with the published
 * body surveys; the rest from memory. */
#define HEAD_HALF_LENGTH_M 0.097
#define HEAD_HALF_WIDTH_M 0.078
#define HEAD_HALF_HEIGHT_M 0.118
#define EYE_BEFORE_HEAD_CENTRE_M 0.075
#define SHOULDER_HALF_M 0.215
#define TRUNK_HALF_DEPTH_M 0.12
#define SHOULDER_UNDER_EYE_M 0.19
#define SEAT_UNDER_EYE_M 0.79
/* Standing: eye under the crown, shoulder height as a share of stature. */
#define EYE_UNDER_CROWN_M 0.115
#define SHOULDER_STATURE_SHARE 0.82

static void
set_trunk (PlumbFigure3d *f, double bottom_z, double top_z)
{
  PlumbVec3 forward = f->head_axis[0], left = f->head_axis[1];

  for (int k = 0; k < 8; k++)
    {
      double along = (k & 1) ? TRUNK_HALF_DEPTH_M : -TRUNK_HALF_DEPTH_M;
      double aside = (k & 2) ? SHOULDER_HALF_M : -SHOULDER_HALF_M;
      PlumbVec3 p = plumb_vec3_along (plumb_vec3_along (f->head_centre_m, forward, along), left, aside);
      p.z = (k & 4) ? top_z : bottom_z;
      f->trunk_m[k] = p;
    }
  double crown_z = f->head_centre_m.z + HEAD_HALF_HEIGHT_M;
  f->bound_centre_m = f->head_centre_m;
  f->bound_centre_m.z = (bottom_z + crown_z) / 2.0;
  double half = (crown_z - bottom_z) / 2.0;
  f->bound_radius_m = sqrt (half * half + SHOULDER_HALF_M * SHOULDER_HALF_M + TRUNK_HALF_DEPTH_M * TRUNK_HALF_DEPTH_M);
}

static PlumbFigure3d
figure_at (PlumbVec3 eye, double facing_rad, double crown_z)
{
  PlumbFigure3d f = { .eye_m = eye };

  f.head_axis[0] = plumb_vec3 (cos (facing_rad), sin (facing_rad), 0.0);
  f.head_axis[1] = plumb_vec3 (-sin (facing_rad), cos (facing_rad), 0.0);
  f.head_axis[2] = plumb_vec3 (0.0, 0.0, 1.0);
  f.head_half_m = plumb_vec3 (HEAD_HALF_LENGTH_M, HEAD_HALF_WIDTH_M, HEAD_HALF_HEIGHT_M);
  f.head_centre_m = plumb_vec3_along (eye, f.head_axis[0], -EYE_BEFORE_HEAD_CENTRE_M);
  f.head_centre_m.z = crown_z - HEAD_HALF_HEIGHT_M;
  return f;
}

PlumbFigure3d
plumb_figure_sitting (PlumbVec3 eye_m, double facing_rad, double head_above_eye_m, double floor_z_m)
{
  PlumbFigure3d f = figure_at (eye_m, facing_rad, eye_m.z + head_above_eye_m);
  double top = eye_m.z - SHOULDER_UNDER_EYE_M;

  set_trunk (&f, fmin (fmax (eye_m.z - SEAT_UNDER_EYE_M, floor_z_m), top), top);
  return f;
}

PlumbFigure3d
plumb_figure_standing (PlumbVec3 feet_m, double facing_rad, double stature_m)
{
  PlumbVec3 eye = plumb_vec3 (feet_m.x, feet_m.y, feet_m.z + stature_m - EYE_UNDER_CROWN_M);
  PlumbFigure3d f = figure_at (eye, facing_rad, feet_m.z + stature_m);

  /* The feet stand under the trunk, not under the eyes. */
  PlumbVec3 back = plumb_vec3_scale (f.head_axis[0], EYE_BEFORE_HEAD_CENTRE_M);
  f.eye_m = plumb_vec3_add (f.eye_m, back);
  f.head_centre_m = plumb_vec3_add (f.head_centre_m, back);
  set_trunk (&f, feet_m.z, feet_m.z + SHOULDER_STATURE_SHARE * stature_m);
  return f;
}
