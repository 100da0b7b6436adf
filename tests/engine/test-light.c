/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"
#include "plumbeam/light.h"

#include <math.h>

#define assert_near(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)

/* A 120-inch 16:9 picture: 2.65656 × 1.49431 m (aspect table, derived). */
#define AREA_120_M2 3.96973

static void
test_luminance_units (void)
{
  /* 1 fL = 1/π candela per square foot; the international foot is 0.3048 m. */
  assert_near (1.0 / plumb_foot_lamberts (1.0), 3.426259, 5e-7);
  assert_near (plumb_foot_lamberts (47.968), 14.0, 2e-4);
  assert_near (plumb_foot_lamberts (54.820), 16.0, 2e-4);
  assert_near (plumb_foot_lamberts (68.525), 20.0, 2e-4);
  assert_near (plumb_foot_lamberts (48.0), 14.009, 5e-4); /* ISO 26431-1: 48 cd/m² is called 14 fL */
  assert_near (plumb_luminance_cd_m2 (2000.0 / AREA_120_M2, 1.0), 160.37, 0.01);
  assert_near (plumb_luminance_cd_m2 (2000.0 / AREA_120_M2, 1.3), 208.48, 0.01);
  /* Lumens for 48 cd/m² on 10 m of 2.39 : 1, worked by hand from E = πL/g. */
  assert_near (48.0 * PLUMB_PI * 41.8410, 6309.5, 0.1);
  assert_near (plumb_luminance_cd_m2 (4506.8 / 41.8410, 1.4), 48.0, 0.001);
}

static void
test_zoom_light (void)
{
  /* (1.5 / 2.5)² at the tele end of an f/1.5 to f/2.5 zoom; half way f/2.0. */
  assert_near (plumb_zoom_light_share (2.0, 1.0, 2.0, 0.36), 0.36, 1e-12);
  assert_near (plumb_zoom_light_share (1.5, 1.0, 2.0, 0.36), 1.5 * 1.5 / 4.0, 1e-12);
  g_assert_cmpfloat (plumb_zoom_light_share (1.0, 1.0, 2.0, 0.36), ==, 1.0);
  g_assert_cmpfloat (plumb_zoom_light_share (1.3, 1.5, 1.5, 0.5), ==, 1.0);

  PlumbFluxChain chain = { 3000.0, 0.8, 0.64, 0.7, 0.75, 0.95, 0.92 };
  assert_near (plumb_flux_lm (&chain), 3000.0 * 0.8 * 0.64 * 0.7 * 0.75 * 0.95 * 0.92, 1e-9);
}

/* Closed form for tilt, E(v) = E₀ (cos θ − v sin θ)³ with E₀ = Φ / (W₀H₀):
 * 2000 lm, 10°, throw ratio 1.5, 3 m. */
static void
test_oblique_illuminance (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, 16.0 / 9.0, 0.0, 10.0);
  PlumbHomography map;
  PlumbQuad raw = raw_on_plain_screen (&beam, &map);
  static const double v_panel[3] = { 0.5, 0.0, -0.5 };
  static const double wanted_lx[3] = { 767.54, 848.99, 936.01 };

  for (int k = 0; k < 3; k++)
    {
      PlumbVec2 point;
      double lx;
      g_assert_true (plumb_homography_apply (&map, plumb_vec2 (0.0, v_panel[k]), &point));
      g_assert_true (plumb_illuminance_lx (&map, 2000.0, point, &lx));
      assert_near (lx, wanted_lx[k], 0.005);
      /* Along a horizontal line of the wall it is the same under pure tilt. */
      double aside;
      g_assert_true (plumb_illuminance_lx (&map, 2000.0, plumb_vec2 (point.x + 0.7, point.y), &aside));
      assert_near (aside, lx, 1e-9 * lx);
    }
  assert_near (plumb_flux_on_polygon_lm (&map, 2000.0, raw.corner, 4), 2000.0, 1e-9);
}

static void
test_yaw_and_both (void)
{
  /* Bottom left, bottom right, top right, top left; pitch first about fixed
   * axes, then yaw: the same as yaw, then pitch about the turned axis. */
  static const double both_lx[4] = { 1040.38, 789.08, 640.66, 860.85 };
  PlumbBeam beam = plain_beam (3.0, 1.5, 16.0 / 9.0, 8.0, 10.0);
  PlumbHomography map;
  PlumbQuad raw = raw_on_plain_screen (&beam, &map);
  double lx;

  for (int k = 0; k < 4; k++)
    {
      g_assert_true (plumb_illuminance_lx (&map, 2000.0, raw.corner[k], &lx));
      assert_near (lx, both_lx[k], 0.005);
    }

  beam = plain_beam (3.0, 1.5, 16.0 / 9.0, 8.0, 0.0);
  raw = raw_on_plain_screen (&beam, &map);
  g_assert_true (plumb_illuminance_lx (&map, 2000.0, raw.corner[0], &lx));
  assert_near (lx, 990.27, 0.005);
  g_assert_true (plumb_illuminance_lx (&map, 2000.0, raw.corner[1], &lx));
  assert_near (lx, 747.47, 0.005);
}

/* The integral of E over the raw picture is the flux, at any attitude: Gauss
 * points on the panel would beg the question, so the wall is summed in a
 * fine grid of the trapezoid's own bilinear cells. */
static void
test_flux_is_kept (void)
{
  GRand *rand = g_rand_new_with_seed (7);

  for (int round = 0; round < 20; round++)
    {
      PlumbBeam beam = plain_beam (g_rand_double_range (rand, 1.0, 8.0), g_rand_double_range (rand, 0.5, 3.0), 1.6,
                                   g_rand_double_range (rand, -25.0, 25.0), g_rand_double_range (rand, -25.0, 25.0));
      PlumbHomography map;
      PlumbQuad raw;
      PlumbPlaneFrame screen = plain_screen ();
      enum { N = 200 };
      double sum = 0.0;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
      if (!plumb_raw_picture (&map, &raw, NULL))
        continue;
      for (int j = 0; j < N; j++)
        for (int i = 0; i < N; i++)
          {
            double s = (i + 0.5) / N, t = (j + 0.5) / N;
            PlumbVec2 low = plumb_vec2_along (plumb_vec2_scale (raw.corner[0], 1.0 - s), raw.corner[1], s);
            PlumbVec2 high = plumb_vec2_along (plumb_vec2_scale (raw.corner[3], 1.0 - s), raw.corner[2], s);
            PlumbVec2 across = plumb_vec2_sub (high, low);
            PlumbVec2 along = plumb_vec2_along (
                plumb_vec2_scale (plumb_vec2_sub (raw.corner[1], raw.corner[0]), 1.0 - t),
                plumb_vec2_sub (raw.corner[2], raw.corner[3]), t);
            double lx;
            g_assert_true (plumb_illuminance_lx (&map, 1000.0, plumb_vec2_along (low, across, t), &lx));
            sum += lx * plumb_vec2_cross (along, across) / (N * N);
          }
      /* The midpoint rule's own error at 200 × 200; by halving it goes down fourfold. */
      assert_near (sum, 1000.0, 1000.0 * 1e-3);
      assert_near (plumb_flux_on_polygon_lm (&map, 1000.0, raw.corner, 4), 1000.0, 1000.0 * 1e-9);
    }
  g_rand_free (rand);
}

static void
test_nine_fields (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, 16.0 / 9.0, 0.0, 0.0);
  PlumbHomography map;
  PlumbNineFields nine;

  raw_on_plain_screen (&beam, &map);
  PlumbRect rect = { { 0.0, 0.0 }, 2.0, 1.125 };
  g_assert_true (plumb_nine_fields (&map, 2000.0, &rect, &nine));
  assert_near (nine.mean_lx * 2.0 * 1.125, 2000.0, 1e-9); /* ISO/IEC 21118: mean of nine × area */
  assert_near (nine.least_lx, nine.centre_lx, 1e-9);
}

/* Derived: bend-angle vector with the wall z = 0, lens (0, 0.6, 3.2), eye (0.8, −0.5, 4). */
static void
test_gain_angles (void)
{
  static const double wanted[4][5] = { { 0.0, 0.0, 13.2707, 11.7496, 20.8999 },
                                       { 1.3283, 0.7472, 18.7071, 35.5549, 20.8585 },
                                       { -1.3283, 0.7472, 31.6623, 53.0813, 14.0356 },
                                       { -1.3283, -0.7472, 28.1758, 55.1471, 18.8907 } };
  PlumbVec3 normal = plumb_vec3 (0, 0, 1), lens = plumb_vec3 (0, 0.6, 3.2), eye = plumb_vec3 (0.8, -0.5, 4.0);

  for (int k = 0; k < 4; k++)
    for (int kind = 0; kind < 3; kind++)
      {
        PlumbVec3 point = plumb_vec3 (wanted[k][0], wanted[k][1], 0.0);
        double angle = plumb_gain_angle_rad ((PlumbGainKind) kind, normal, point, lens, eye);
        assert_near (angle / DEG, wanted[k][2 + kind], 6e-5);
      }

  PlumbScreenGain angular = { PLUMB_GAIN_ANGULAR, 1.0, 35.0 * DEG }, retro = { PLUMB_GAIN_RETRO, 1.0, 35.0 * DEG };
  PlumbVec3 centre = plumb_vec3 (0, 0, 0), far_corner = plumb_vec3 (-1.3283, -0.7472, 0);
  assert_near (plumb_gain_towards (&angular, normal, far_corner, lens, eye), 0.1789, 5e-5);
  assert_near (plumb_gain_towards (&angular, normal, centre, lens, eye), 0.9249, 5e-5);
  assert_near (plumb_gain_towards (&retro, normal, far_corner, lens, eye)
                   / plumb_gain_towards (&retro, normal, centre, lens, eye),
               1.05, 0.005);
  g_assert_cmpfloat (plumb_gain_towards (&retro, normal, centre, lens, plumb_vec3 (0, 0, -1)), ==, 0.0);
}

static void
test_gain_models (void)
{
  PlumbScreenGain matt = { PLUMB_GAIN_MATT, 1.0, 35.0 * DEG }, retro = { PLUMB_GAIN_RETRO, 1.0, 35.0 * DEG };
  PlumbScreenGain diffuser = { PLUMB_GAIN_MATT, 1.0, 90.0 * DEG };

  assert_near (plumb_gain_at (&retro, 20.0 * DEG), 0.797452, 5e-7);
  assert_near (plumb_gain_at (&matt, 20.0 * DEG), 0.805628, 5e-7);
  assert_near (plumb_gain_at (&matt, 35.0 * DEG), 0.5, 1e-12);
  assert_near (plumb_gain_at (&diffuser, 80.0 * DEG), 1.0, 1e-12);
  g_assert_cmpfloat (plumb_gain_at (&matt, 95.0 * DEG), ==, 0.0);

  /* Energy bound (derived): cosine power, largest half-gain angle for a gain;
   * Gaussian, largest gain for a half-gain angle. */
  static const double cosine[6][2] = { { 1.1, 88.2 }, { 1.3, 71.64 }, { 1.5, 60.0 },
                                       { 1.8, 49.58 }, { 2.4, 38.67 }, { 3.0, 32.77 } };
  static const double gaussian[6][2] = { { 20, 6.387 }, { 30, 3.267 }, { 35, 2.621 },
                                         { 40, 2.212 }, { 50, 1.746 }, { 60, 1.504 } };
  for (int k = 0; k < 6; k++)
    {
      assert_near (plumb_gain_bound_ratio (PLUMB_GAIN_MATT, cosine[k][1] * DEG), cosine[k][0], 1e-3); /* the angle is printed to 0.01° */
      assert_near (plumb_gain_bound_ratio (PLUMB_GAIN_RETRO, gaussian[k][0] * DEG), gaussian[k][1], 6e-4);
    }
  assert_near (plumb_gain_bound_ratio (PLUMB_GAIN_MATT, 90.0 * DEG), 1.0, 1e-9);
}

/* A lamp of 4π × 100 lm gives 100 cd: 25 lx at 2 m, half of it at 60°. A
 * downlight of 100π lm has 100 cd straight down. */
static void
test_lamps (void)
{
  PlumbVec3 up = plumb_vec3 (0, 0, 1), lamp = plumb_vec3 (0, 0, 2);
  PlumbVec3 floor = plumb_vec3 (0, 0, 0), tilted = plumb_vec3 (sin (60.0 * DEG), 0, cos (60.0 * DEG));

  assert_near (plumb_lamp_direct_lx (lamp, false, 400.0 * PLUMB_PI, floor, up), 25.0, 1e-9);
  assert_near (plumb_lamp_direct_lx (lamp, false, 400.0 * PLUMB_PI, floor, tilted), 12.5, 1e-9);
  assert_near (plumb_lamp_direct_lx (lamp, true, 100.0 * PLUMB_PI, floor, up), 25.0, 1e-9);
  g_assert_cmpfloat (plumb_lamp_direct_lx (lamp, true, 100.0, plumb_vec3 (0, 0, 3), plumb_vec3 (0, 0, -1)), ==, 0.0);
  g_assert_cmpfloat (plumb_lamp_direct_lx (lamp, false, 100.0, floor, plumb_vec3 (0, 0, -1)), ==, 0.0);
  g_assert_true (isfinite (plumb_lamp_direct_lx (floor, false, 100.0, floor, up)));
  /* Integrating sphere: 1000 lm into 100 m² of 50 %: first 500 lm, in the end 10 lx. */
  assert_near (plumb_room_bounce_lx (500.0, 100.0, 0.5), 10.0, 1e-12);
  g_assert_cmpfloat (plumb_room_bounce_lx (500.0, 0.0, 0.5), ==, 0.0);
}

static void
test_contrast (void)
{
  /* 2000 lm on the 120-inch picture, own contrast 400 : 1 (derived table). */
  static const double table[6][2] = { { 1, 223.41 }, { 5, 81.286 }, { 20, 24.639 },
                                      { 50, 10.804 }, { 100, 5.9630 }, { 300, 2.6682 } };
  static const double allowed[4][2] = { { 7, 82.499 }, { 15, 34.637 }, { 50, 8.9967 }, { 80, 5.1019 } };
  double lx;

  for (int k = 0; k < 6; k++)
    assert_near (plumb_system_contrast (503.81, 400, table[k][0], 1, 1), table[k][1], 1e-4 * table[k][1]);
  for (int k = 0; k < 4; k++)
    assert_near (plumb_ambient_allowed_lx (allowed[k][0], 400, 503.81, 1, 1), allowed[k][1], 1e-4 * allowed[k][1]);

  /* Published guideline example: 15 : 1, 80 lx, 3.97 m², ageing 0.75; it takes
   * CR × E for the white, 6352 lm, where the exact form gives 5928.5 lm. */
  assert_near (15.0 * 80.0 * 3.97 / 0.75, 6352.0, 0.5);
  g_assert_true (plumb_white_needed_lx (15, 1e300, 80, 1, 1, &lx));
  assert_near (lx * 3.97 / 0.75, 5928.5, 0.05);
  g_assert_true (plumb_white_needed_lx (15, 200, 80, 1, 1, &lx));
  assert_near (lx * 3.97 / 0.75, 6409.2, 0.05);
  assert_near (plumb_system_contrast (lx, 200, 80, 1, 1), 15.0, 1e-9);
  g_assert_false (plumb_white_needed_lx (200, 200, 80, 1, 1, &lx));
  assert_near (plumb_system_contrast (lx, 200, 80, 1.4, 0.7), plumb_system_contrast (2 * lx, 200, 80, 1, 1), 1e-9);
  g_assert_cmpfloat (plumb_system_contrast (0, 400, 0, 1, 1), ==, 1.0);
}

/* Lower edge 8° down from 3.2 m: 2.4973 m at 5 m along the floor, 2.0 m at 8.5384 m. */
static void
test_beam_height (void)
{
  PlumbVec3 lens = plumb_vec3 (0, 0, 3.2);
  double down = tan (8.0 * DEG);
  /* The lower corners lie on a plane that falls 8°; between them it is lowest half way. */
  PlumbVec3 ray[4] = { { 1, -0.4, -down }, { 1, 0.4, -down }, { 1, 0.4, 0.2 }, { 1, -0.4, 0.2 } };

  assert_near (plumb_beam_lowest_z_m (lens, ray, 5.0 / cos (8.0 * DEG)), 2.4973, 5e-5);
  assert_near (plumb_beam_lowest_z_m (lens, ray, 8.5384 / cos (8.0 * DEG)), 2.0, 5e-5);
  PlumbVec3 straight_down[4] = { { 1, -1, -1 }, { 1, 1, -1 }, { -1, 1, -1 }, { -1, -1, -1 } };
  assert_near (plumb_beam_lowest_z_m (lens, straight_down, 2.0), 1.2, 1e-12);
  PlumbVec3 upward[4] = { { 1, -0.4, 0.1 }, { 1, 0.4, 0.1 }, { 1, 0.4, 0.5 }, { 1, -0.4, 0.5 } };
  assert_near (plumb_beam_lowest_z_m (lens, upward, 4.0), 3.2, 1e-12);
}

static void
test_noise (void)
{
  static const double free_field[4][2] = { { 0.6, 34.437 }, { 2, 23.979 }, { 3, 20.458 }, { 4, 17.959 } };
  static const double room[3][2] = { { 1, 33.098 }, { 2, 31.108 }, { 3, 30.614 } };

  for (int k = 0; k < 4; k++)
    assert_near (plumb_noise_free_db (30, free_field[k][0]), free_field[k][1], 5e-4);
  /* 60 m³, T 0.4 s, Q 2: A = 24.150 m². */
  for (int k = 0; k < 3; k++)
    assert_near (plumb_noise_room_db (30, room[k][0], 2, 60, 0.4), room[k][1], 2e-3);
  g_assert_true (isfinite (plumb_noise_free_db (30, 0.0)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/light/luminance-units", test_luminance_units);
  g_test_add_func ("/light/zoom", test_zoom_light);
  g_test_add_func ("/light/oblique", test_oblique_illuminance);
  g_test_add_func ("/light/yaw-and-both", test_yaw_and_both);
  g_test_add_func ("/light/flux-is-kept", test_flux_is_kept);
  g_test_add_func ("/light/nine-fields", test_nine_fields);
  g_test_add_func ("/light/gain-angles", test_gain_angles);
  g_test_add_func ("/light/gain-models", test_gain_models);
  g_test_add_func ("/light/lamps", test_lamps);
  g_test_add_func ("/light/contrast", test_contrast);
  g_test_add_func ("/light/beam-height", test_beam_height);
  g_test_add_func ("/light/noise", test_noise);
  return g_test_run ();
}
