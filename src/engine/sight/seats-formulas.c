/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/people.h"

#define DEGREE (PLUMB_PI / 180.0)

double
plumb_viewing_angle_rad (double width_m, double distance_m)
{
  return 2.0 * atan2 (width_m / 2.0, distance_m);
}

double
plumb_far_edge_angle_rad (double aside_m, double back_m, double width_m)
{
  return atan2 (fabs (aside_m) + width_m / 2.0, back_m);
}

double
plumb_pixels_per_degree (double pixels_per_m, double distance_m)
{
  return pixels_per_m * distance_m * tan (DEGREE);
}

double
plumb_sign_height_m (double distance_m, double arc_minutes)
{
  return 2.0 * distance_m * tan (arc_minutes / 60.0 * DEGREE / 2.0);
}

double
plumb_text_height_m (double distance_m)
{
  return distance_m / 200.0;
}

double
plumb_c_value_m (double front_m, double over_focus_m, double depth_m, double rise_m)
{
  return front_m * (rise_m + over_focus_m) / (front_m + depth_m) - over_focus_m;
}

double
plumb_c_rise_m (double front_m, double over_focus_m, double depth_m, double c_m)
{
  return (over_focus_m + c_m) * (front_m + depth_m) / front_m - over_focus_m;
}
