/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d-private.h"

/* Panel a = t x/z − s_h and b = A t y/z − s_v of a point at (x, y, z) along
 * r, w, f: as clip space 2a and 2b with w = z. */
void
plumb_projector_matrix (const PlumbBeam *beam, double near_m, double far_m, float out[16])
{
  const PlumbBeamAxes *axes = &beam->axes;
  double t = beam->throw_ratio, k = (far_m + near_m) / (far_m - near_m);
  PlumbVec3 row[4];
  double shift[4] = { 0.0, 0.0, -2.0 * far_m * near_m / (far_m - near_m), 0.0 };

  row[0] = plumb_vec3_along (plumb_vec3_scale (axes->r, 2.0 * t), axes->f, -2.0 * beam->shift_h_share);
  row[1] = plumb_vec3_along (plumb_vec3_scale (axes->w, 2.0 * beam->panel_aspect * t), axes->f,
                             -2.0 * beam->shift_v_share);
  row[2] = plumb_vec3_scale (axes->f, k);
  row[3] = axes->f;
  for (int i = 0; i < 4; i++)
    {
      out[i] = (float) row[i].x;
      out[4 + i] = (float) row[i].y;
      out[8 + i] = (float) row[i].z;
      out[12 + i] = (float) (shift[i] - plumb_vec3_dot (row[i], beam->lens_m));
    }
}

void
plumb_projector_content (const PlumbEvaluation *e, float out[9])
{
  PlumbRect rect = e->has_picture ? e->picture : e->wanted;
  const double *m = e->to_screen.m;
  double w = rect.width_m > 0.0 ? rect.width_m : 1.0, h = rect.height_m > 0.0 ? rect.height_m : 1.0;
  double x0 = 0.5 - rect.centre_m.x / w, y0 = 0.5 - rect.centre_m.y / h;

  for (int i = 0; i < 3; i++)
    {
      /* Column i. Without a map to the screen the whole panel shows it. */
      double third = e->has_raw ? m[6 + i] : (i == 2 ? 1.0 : 0.0);
      out[3 * i] = (float) (e->has_raw ? m[i] / w + x0 * third : (i == 0 ? 1.0 : i == 2 ? 0.5 : 0.0));
      out[3 * i + 1] = (float) (e->has_raw ? m[3 + i] / h + y0 * third : (i == 1 ? 1.0 : i == 2 ? 0.5 : 0.0));
      out[3 * i + 2] = (float) third;
    }
}

double
plumb_projector_scale (const PlumbEvaluation *e)
{
  PlumbVec3 way = plumb_vec3_sub (e->target.frame.origin_m, e->beam.lens_m);
  double ahead = plumb_vec3_dot (way, e->beam.axes.f), length = plumb_vec3_length (way);
  double facing = length > 0.0 ? fabs (plumb_vec3_dot (way, e->target.frame.n)) / length : 0.0;

  if (!(ahead > 0.02) || !(facing > 1e-3))
    return 1.0;
  return ahead / length * ahead * ahead / facing;
}
