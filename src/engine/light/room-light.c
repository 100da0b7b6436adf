/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light.h"

#define NEAREST_LAMP_M 0.01
#define GREATEST_MEAN_REFLECTANCE 0.95

double
plumb_lamp_direct_lx (PlumbVec3 lamp, bool down, double flux_lm, PlumbVec3 point, PlumbVec3 normal)
{
  PlumbVec3 to_lamp = plumb_vec3_sub (lamp, point);
  double distance = fmax (plumb_vec3_length (to_lamp), NEAREST_LAMP_M);
  double cosine = plumb_vec3_dot (normal, to_lamp) / distance;
  double candela = flux_lm / (4.0 * PLUMB_PI);

  if (!(cosine > 0.0))
    return 0.0;
  if (down)
    candela = flux_lm / PLUMB_PI * fmax (to_lamp.z / distance, 0.0);
  return candela * cosine / (distance * distance);
}

double
plumb_room_bounce_lx (double first_reflected_lm, double room_area_m2, double mean_reflectance)
{
  if (!(room_area_m2 > 0.0))
    return 0.0;
  return first_reflected_lm / (room_area_m2 * (1.0 - plumb_clamp (mean_reflectance, 0.0, GREATEST_MEAN_REFLECTANCE)));
}

double
plumb_system_contrast (double white_lx, double own_contrast, double ambient_lx, double gain_white, double gain_ambient)
{
  double white = gain_white * white_lx;
  double ambient = gain_ambient * ambient_lx;
  double black = white / own_contrast + ambient;

  return black > 0.0 ? (white + ambient) / black : 1.0;
}

bool
plumb_white_needed_lx (double wanted_ratio, double own_contrast, double ambient_lx, double gain_white,
                       double gain_ambient, double *lx)
{
  double left = 1.0 - wanted_ratio / own_contrast;

  if (!(left > 0.0) || !(gain_white > 0.0))
    return false;
  *lx = gain_ambient * ambient_lx * (wanted_ratio - 1.0) / (left * gain_white);
  return true;
}

double
plumb_ambient_allowed_lx (double wanted_ratio, double own_contrast, double white_lx, double gain_white,
                          double gain_ambient)
{
  if (!(wanted_ratio > 1.0) || !(gain_ambient > 0.0))
    return INFINITY;
  return gain_white * white_lx * (1.0 - wanted_ratio / own_contrast) / ((wanted_ratio - 1.0) * gain_ambient);
}
