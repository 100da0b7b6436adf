/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/light.h"

#define NEAREST_M 0.1

double
plumb_noise_free_db (double at_1m_db, double distance_m)
{
  return at_1m_db - 20.0 * log10 (fmax (distance_m, NEAREST_M));
}

double
plumb_noise_room_db (double at_1m_db, double distance_m, double directivity, double volume_m3, double reverberation_s)
{
  double distance = fmax (distance_m, NEAREST_M);
  double power_db = at_1m_db + 10.0 * log10 (2.0 * PLUMB_PI);
  double absorption_m2 = 0.161 * volume_m3 / reverberation_s;

  return power_db + 10.0 * log10 (directivity / (4.0 * PLUMB_PI * distance * distance) + 4.0 / absorption_m2);
}
