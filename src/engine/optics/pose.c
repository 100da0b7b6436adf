/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Attitude, axes and rays of one beam. */
#include "plumbeam/optics.h"

/* Below this share of a unit vector left in the (u, n) plane the yaw is only
 * rounding noise of the axes: the beam points straight up or down. */
#define POLE_SHARE 1e-14

static PlumbVec3
combine (PlumbVec3 a, double ka, PlumbVec3 b, double kb)
{
  return plumb_vec3_along (plumb_vec3_scale (a, ka), b, kb);
}

static PlumbVec3
towards_light (const PlumbPlaneFrame *screen, bool rear)
{
  return rear ? plumb_vec3_scale (screen->n, -1.0) : screen->n;
}

PlumbBeamAxes
plumb_beam_axes (const PlumbPlaneFrame *screen, bool rear, double yaw_rad, double pitch_rad, double roll_rad)
{
  PlumbVec3 n = towards_light (screen, rear);
  PlumbVec3 f1 = combine (screen->u, sin (yaw_rad), n, -cos (yaw_rad));
  PlumbVec3 r1 = combine (screen->u, cos (yaw_rad), n, sin (yaw_rad));
  PlumbVec3 w1 = combine (screen->v, cos (pitch_rad), f1, -sin (pitch_rad));

  return (PlumbBeamAxes){
    .f = combine (f1, cos (pitch_rad), screen->v, sin (pitch_rad)),
    .r = combine (r1, cos (roll_rad), w1, -sin (roll_rad)),
    .w = combine (w1, cos (roll_rad), r1, sin (roll_rad)),
  };
}

void
plumb_beam_attitude (const PlumbPlaneFrame *screen, bool rear, const PlumbBeamAxes *axes, double *yaw_rad,
                     double *pitch_rad, double *roll_rad)
{
  PlumbVec3 n = towards_light (screen, rear);
  double sideways = plumb_vec3_dot (axes->f, screen->u);
  double ahead = -plumb_vec3_dot (axes->f, n);
  double level = hypot (sideways, ahead);

  *yaw_rad = level > POLE_SHARE ? atan2 (sideways, ahead) : 0.0;
  *pitch_rad = atan2 (plumb_vec3_dot (axes->f, screen->v), level);

  /* Against the same beam without roll; both pairs of axes are used, so that
   * rounding in one of them counts half. */
  PlumbBeamAxes flat = plumb_beam_axes (screen, rear, *yaw_rad, *pitch_rad, 0.0);
  double sine = plumb_vec3_dot (axes->w, flat.r) - plumb_vec3_dot (axes->r, flat.w);
  double cosine = plumb_vec3_dot (axes->r, flat.r) + plumb_vec3_dot (axes->w, flat.w);
  *roll_rad = atan2 (sine, cosine);
}

PlumbVec3
plumb_beam_ray (const PlumbBeam *beam, PlumbVec2 panel)
{
  double x = (panel.x + beam->shift_h_share) / beam->throw_ratio;
  double y = (panel.y + beam->shift_v_share) / (beam->panel_aspect * beam->throw_ratio);

  return plumb_vec3_along (plumb_vec3_along (beam->axes.f, beam->axes.r, x), beam->axes.w, y);
}

bool
plumb_beam_panel_of (const PlumbBeam *beam, PlumbVec3 direction, PlumbVec2 *panel)
{
  double ahead = plumb_vec3_dot (direction, beam->axes.f);

  /* Less than this share of the direction points ahead: at right angles to
   * the beam, the panel point is at infinity. */
  if (!(ahead > 1e-12 * plumb_vec3_length (direction)))
    return false;

  double x = plumb_vec3_dot (direction, beam->axes.r) / ahead;
  double y = plumb_vec3_dot (direction, beam->axes.w) / ahead;
  panel->x = x * beam->throw_ratio - beam->shift_h_share;
  panel->y = y * beam->throw_ratio * beam->panel_aspect - beam->shift_v_share;
  return true;
}
