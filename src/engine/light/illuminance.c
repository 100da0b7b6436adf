/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light.h"

double
plumb_flux_lm (const PlumbFluxChain *chain)
{
  return chain->printed_lm * chain->rated_share * chain->zoom_share * chain->mode_share * chain->age_share
         * chain->dirt_share * chain->glass_share;
}

double
plumb_zoom_light_share (double throw_ratio, double wide_ratio, double tele_ratio, double tele_share)
{
  if (!(tele_ratio > wide_ratio) || !(tele_share > 0.0))
    return 1.0;

  double part = plumb_clamp ((throw_ratio - wide_ratio) / (tele_ratio - wide_ratio), 0.0, 1.0);
  double f_number = 1.0 + part * (1.0 / sqrt (tele_share) - 1.0); /* against the wide end */
  return 1.0 / (f_number * f_number);
}

static double
determinant (const double m[9])
{
  return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) + m[2] * (m[3] * m[7] - m[4] * m[6]);
}

bool
plumb_illuminance_lx (const PlumbHomography *panel_to_plane, double flux_lm, PlumbVec2 point, double *lx)
{
  PlumbHomography back;
  PlumbVec2 panel;

  if (!plumb_homography_invert (panel_to_plane, &back) || !plumb_homography_apply (&back, point, &panel))
    return false;

  const double *m = back.m;
  double third = m[6] * point.x + m[7] * point.y + m[8];
  *lx = flux_lm * fabs (determinant (m)) / (third * third * third);
  return isfinite (*lx);
}

double
plumb_flux_on_polygon_lm (const PlumbHomography *panel_to_plane, double flux_lm, const PlumbVec2 *points,
                          size_t n_points)
{
  PlumbHomography back;
  PlumbVec2 first, before, now;
  double twice_area = 0.0;

  if (n_points < 3 || !plumb_homography_invert (panel_to_plane, &back)
      || !plumb_homography_apply (&back, points[0], &first))
    return 0.0;

  before = first;
  for (size_t k = 1; k < n_points; k++)
    {
      if (!plumb_homography_apply (&back, points[k], &now))
        return 0.0;
      twice_area += plumb_vec2_cross (plumb_vec2_sub (before, first), plumb_vec2_sub (now, first));
      before = now;
    }
  return flux_lm * fabs (twice_area) / 2.0;
}

bool
plumb_nine_fields (const PlumbHomography *panel_to_plane, double flux_lm, const PlumbRect *rect, PlumbNineFields *out)
{
  double sum = 0.0;

  out->least_lx = INFINITY;
  for (int k = 0; k < 9; k++)
    {
      PlumbVec2 point = plumb_vec2 (rect->centre_m.x + (k % 3 - 1) * rect->width_m / 3.0,
                                    rect->centre_m.y + (k / 3 - 1) * rect->height_m / 3.0);
      if (!plumb_illuminance_lx (panel_to_plane, flux_lm, point, &out->field_lx[k]))
        return false;
      sum += out->field_lx[k];
      out->least_lx = fmin (out->least_lx, out->field_lx[k]);
    }
  out->mean_lx = sum / 9.0;
  out->centre_lx = out->field_lx[4];
  return true;
}
