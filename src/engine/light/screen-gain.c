/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light.h"

/* A half-gain angle of nothing would be a mirror: held at a hundredth of a degree. */
#define LEAST_HALF_GAIN_RAD (0.01 * PLUMB_PI / 180.0)

double
plumb_gain_angle_rad (PlumbGainKind kind, PlumbVec3 normal, PlumbVec3 point, PlumbVec3 lens, PlumbVec3 eye)
{
  PlumbVec3 to_eye = plumb_vec3_unit (plumb_vec3_sub (eye, point));
  PlumbVec3 to_lens = plumb_vec3_unit (plumb_vec3_sub (lens, point));
  PlumbVec3 peak = normal;

  if (kind == PLUMB_GAIN_RETRO)
    peak = to_lens;
  else if (kind == PLUMB_GAIN_ANGULAR)
    peak = plumb_vec3_sub (plumb_vec3_scale (normal, 2.0 * plumb_vec3_dot (normal, to_lens)), to_lens);
  return atan2 (plumb_vec3_length (plumb_vec3_cross (peak, to_eye)), plumb_vec3_dot (peak, to_eye));
}

/* Power of the cosine that falls to a half at the half-gain angle. */
static double
cosine_power (double half_gain_rad)
{
  double c = cos (half_gain_rad);

  return c > 1e-12 ? log (0.5) / log (c) : 0.0;
}

static double
falloff (PlumbGainKind kind, double half_gain_rad, double angle_rad)
{
  double half = fmax (half_gain_rad, LEAST_HALF_GAIN_RAD);

  if (kind != PLUMB_GAIN_MATT)
    return pow (0.5, (angle_rad / half) * (angle_rad / half));
  double c = cos (angle_rad);
  return c > 0.0 ? pow (c, cosine_power (half)) : 0.0;
}

double
plumb_gain_at (const PlumbScreenGain *surface, double angle_rad)
{
  return surface->gain_ratio * falloff (surface->kind, surface->half_gain_rad, angle_rad);
}

double
plumb_gain_towards (const PlumbScreenGain *surface, PlumbVec3 normal, PlumbVec3 point, PlumbVec3 lens, PlumbVec3 eye)
{
  if (!(plumb_vec3_dot (normal, plumb_vec3_sub (eye, point)) > 0.0))
    return 0.0;
  return plumb_gain_at (surface, plumb_gain_angle_rad (surface->kind, normal, point, lens, eye));
}

/* What comes back of one lumen at peak gain 1: 2 ∫ g cos δ sin δ dδ over the
 * half space; Simpson's rule, 512 steps, is good to 1e-9 here. */
static double
returned_share (PlumbGainKind kind, double half_gain_rad)
{
  enum { STEPS = 512 };
  double h = (PLUMB_PI / 2.0) / STEPS, sum = 0.0;

  for (int k = 0; k <= STEPS; k++)
    {
      double weight = k == 0 || k == STEPS ? 1.0 : k % 2 ? 4.0 : 2.0;
      sum += weight * falloff (kind, half_gain_rad, k * h) * sin (2.0 * k * h);
    }
  return sum * h / 3.0;
}

double
plumb_gain_bound_ratio (PlumbGainKind kind, double half_gain_rad)
{
  double half = fmax (half_gain_rad, LEAST_HALF_GAIN_RAD);

  if (kind == PLUMB_GAIN_MATT)
    return (cosine_power (half) + 2.0) / 2.0;
  return 1.0 / returned_share (kind, half);
}

double
plumb_luminance_cd_m2 (double lx, double gain_ratio)
{
  return lx * gain_ratio / PLUMB_PI;
}

double
plumb_foot_lamberts (double cd_m2)
{
  return cd_m2 * PLUMB_PI * 0.3048 * 0.3048;
}
