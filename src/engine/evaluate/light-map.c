/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light-map.h"

#include "light-private.h"

bool
plumb_picture_illuminance_lx (const PlumbEvaluation *e, PlumbVec2 point, double *lx)
{
  const PlumbFigureValue *flux = &e->figures[PLUMB_FIGURE_flux_lm];

  return e->has_raw && flux->valid && plumb_illuminance_lx (&e->to_screen, flux->value[0], point, lx);
}

bool
plumb_picture_luminance_cd_m2 (const PlumbScene *scene, const PlumbEvaluation *e, PlumbVec2 point, PlumbVec3 eye,
                               double *cd_m2)
{
  double lx;

  if (!plumb_picture_illuminance_lx (e, point, &lx))
    return false;
  PlumbScreenGain surface = plumb_light_surface (plumb_scene_screen (scene, e->screen));
  double gain = plumb_gain_towards (&surface, e->target.frame.n, plumb_light_on_plane (e, point),
                                    plumb_light_source (e), eye);
  *cd_m2 = plumb_luminance_cd_m2 (lx, gain);
  return isfinite (*cd_m2);
}
