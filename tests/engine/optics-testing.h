/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the optics tests share: a plain screen, beams before it, random poses. */
#pragma once

#include "plumbeam/optics.h"

#include <glib.h>

#define DEG (PLUMB_PI / 180.0)

/* The screen in the plane y = 0 of the room, seen from negative y. */
static inline PlumbPlaneFrame
plain_screen (void)
{
  return (PlumbPlaneFrame){ { 0.0, 0.0, 0.0 }, { 1.0, 0.0, 0.0 }, { 0.0, 0.0, 1.0 }, { 0.0, -1.0, 0.0 } };
}

/* A lens straight before the origin of the plain screen, no shift. */
static inline PlumbBeam
plain_beam (double distance_m, double throw_ratio, double aspect, double yaw_deg, double pitch_deg)
{
  PlumbPlaneFrame screen = plain_screen ();

  return (PlumbBeam){
    .lens_m = { 0.0, -distance_m, 0.0 },
    .axes = plumb_beam_axes (&screen, false, yaw_deg * DEG, pitch_deg * DEG, 0.0),
    .throw_ratio = throw_ratio,
    .panel_aspect = aspect,
  };
}

static inline PlumbQuad
raw_on_plain_screen (const PlumbBeam *beam, PlumbHomography *map)
{
  PlumbPlaneFrame screen = plain_screen ();
  PlumbQuad quad;

  g_assert_true (plumb_homography_to_plane (beam, &screen, false, map));
  g_assert_true (plumb_raw_picture (map, &quad, NULL));
  return quad;
}

/* Any right-handed frame in a room, from three random turns. */
static inline PlumbPlaneFrame
random_frame (GRand *rand)
{
  PlumbVec3 n
      = plumb_vec3_unit (plumb_vec3 (g_rand_double_range (rand, -1.0, 1.0), g_rand_double_range (rand, -1.0, 1.0),
                                     g_rand_double_range (rand, -0.5, 0.5)));
  PlumbVec3 u = plumb_vec3_unit (plumb_vec3_cross (plumb_vec3 (0.1, 0.2, 1.0), n));

  return (PlumbPlaneFrame){
    .origin_m = { g_rand_double_range (rand, -9.0, 9.0), g_rand_double_range (rand, -9.0, 9.0),
                  g_rand_double_range (rand, 0.0, 4.0) },
    .u = u,
    .v = plumb_vec3_cross (n, u),
    .n = n,
  };
}

/* A beam within 25 degrees of square-on to the frame, 1 to 9 m before it (or
 * behind it), with shift: every corner meets the plane. */
static inline PlumbBeam
random_beam (GRand *rand, const PlumbPlaneFrame *screen, bool rear)
{
  double away = g_rand_double_range (rand, 1.0, 9.0) * (rear ? -1.0 : 1.0);
  PlumbVec3 lens = plumb_vec3_along (screen->origin_m, screen->n, away);

  lens = plumb_vec3_along (lens, screen->u, g_rand_double_range (rand, -1.0, 1.0));
  lens = plumb_vec3_along (lens, screen->v, g_rand_double_range (rand, -1.0, 1.0));
  return (PlumbBeam){
    .lens_m = lens,
    .axes = plumb_beam_axes (screen, rear, g_rand_double_range (rand, -25.0, 25.0) * DEG,
                             g_rand_double_range (rand, -25.0, 25.0) * DEG,
                             g_rand_double_range (rand, -180.0, 180.0) * DEG),
    .throw_ratio = g_rand_double_range (rand, 1.0, 3.0),
    .panel_aspect = g_rand_double_range (rand, 1.2, 2.4),
    .shift_h_share = g_rand_double_range (rand, -0.4, 0.4),
    .shift_v_share = g_rand_double_range (rand, -0.5, 0.5),
  };
}

static inline void
assert_vec2_near (PlumbVec2 got, double x, double y, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (got.x, x, tolerance);
  g_assert_cmpfloat_with_epsilon (got.y, y, tolerance);
}

static inline void
assert_vec3_near (PlumbVec3 got, PlumbVec3 wanted, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (got.x, wanted.x, tolerance);
  g_assert_cmpfloat_with_epsilon (got.y, wanted.y, tolerance);
  g_assert_cmpfloat_with_epsilon (got.z, wanted.z, tolerance);
}
