/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"

/* Design, 2: f = -n, r = u, w = v when square-on; from the rear f = n. */
static void
test_square_on (void)
{
  PlumbPlaneFrame screen = plain_screen ();
  PlumbBeamAxes front = plumb_beam_axes (&screen, false, 0.0, 0.0, 0.0);
  PlumbBeamAxes rear = plumb_beam_axes (&screen, true, 0.0, 0.0, 0.0);

  assert_vec3_near (front.f, plumb_vec3 (0, 1, 0), 1e-15);
  assert_vec3_near (front.r, plumb_vec3 (1, 0, 0), 1e-15);
  assert_vec3_near (front.w, plumb_vec3 (0, 0, 1), 1e-15);
  assert_vec3_near (rear.f, plumb_vec3 (0, -1, 0), 1e-15);
  assert_vec3_near (rear.r, plumb_vec3 (1, 0, 0), 1e-15);
  assert_vec3_near (rear.w, plumb_vec3 (0, 0, 1), 1e-15);
}

/* Design, 2: positive yaw moves the picture to the viewer's right, positive
 * pitch up, from either side; tan of the angle by hand. */
static void
test_signs (void)
{
  PlumbPlaneFrame screen = plain_screen ();

  for (int rear = 0; rear < 2; rear++)
    {
      PlumbBeamAxes yawed = plumb_beam_axes (&screen, rear, 8 * DEG, 0.0, 0.0);
      PlumbBeamAxes pitched = plumb_beam_axes (&screen, rear, 0.0, 10 * DEG, 0.0);
      double ahead = rear ? -1.0 : 1.0;

      assert_vec3_near (yawed.f, plumb_vec3 (sin (8 * DEG), ahead * cos (8 * DEG), 0), 1e-15);
      assert_vec3_near (pitched.f, plumb_vec3 (0, ahead * cos (10 * DEG), sin (10 * DEG)), 1e-15);
    }
}

/* Clockwise for the viewer: the middle of the top edge moves to the right,
 * the middle of the right edge down; 2 m before the wall, throw 1, 16:10. */
static void
test_roll_is_clockwise (void)
{
  PlumbPlaneFrame screen = plain_screen ();

  for (int rear = 0; rear < 2; rear++)
    {
      PlumbBeam beam = plain_beam (rear ? -2.0 : 2.0, 1.0, 1.6, 0.0, 0.0);
      PlumbHomography map;
      PlumbVec2 p;

      beam.axes = plumb_beam_axes (&screen, rear, 0.0, 0.0, 30 * DEG);
      g_assert_true (plumb_homography_to_plane (&beam, &screen, rear, &map));
      g_assert_true (plumb_homography_apply (&map, plumb_vec2 (0.0, 0.5), &p));
      assert_vec2_near (p, 0.625 * 0.5, 0.625 * sqrt (0.75), 1e-15);
      g_assert_true (plumb_homography_apply (&map, plumb_vec2 (0.5, 0.0), &p));
      assert_vec2_near (p, sqrt (0.75), -0.5, 1e-15);
    }
}

/* A typed attitude must come back, hung anywhere, front and rear. */
static void
test_attitude_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int i = 0; i < 1000; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      bool rear = i % 2;
      double yaw = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
      double pitch = g_rand_double_range (rand, -1.5, 1.5);
      double roll = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
      PlumbBeamAxes axes = plumb_beam_axes (&screen, rear, yaw, pitch, roll);
      double got_yaw, got_pitch, got_roll;

      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (axes.f, axes.r), 0.0, 1e-14);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (axes.f, axes.w), 0.0, 1e-14);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (axes.r, axes.w), 0.0, 1e-14);
      plumb_beam_attitude (&screen, rear, &axes, &got_yaw, &got_pitch, &got_roll);
      g_assert_cmpfloat_with_epsilon (got_yaw, yaw, 1e-13);
      g_assert_cmpfloat_with_epsilon (got_pitch, pitch, 1e-14);
      g_assert_cmpfloat_with_epsilon (got_roll, roll, 1e-13);
    }
}

/* Straight up or down: no yaw, roll takes the rest, the axes are the same. */
static void
test_straight_up_and_down (void)
{
  PlumbPlaneFrame screen = plain_screen ();

  for (int k = 0; k < 4; k++)
    {
      double pitch = k % 2 ? PLUMB_PI / 2 : -PLUMB_PI / 2;
      bool rear = k / 2;
      PlumbBeamAxes axes = plumb_beam_axes (&screen, rear, 0.7, pitch, 0.4);
      double got_yaw, got_pitch, got_roll;

      plumb_beam_attitude (&screen, rear, &axes, &got_yaw, &got_pitch, &got_roll);
      g_assert_cmpfloat (got_yaw, ==, 0.0);
      g_assert_cmpfloat_with_epsilon (got_pitch, pitch, 1e-15);
      PlumbBeamAxes again = plumb_beam_axes (&screen, rear, got_yaw, got_pitch, got_roll);
      assert_vec3_near (again.f, axes.f, 1e-14);
      assert_vec3_near (again.r, axes.r, 1e-14);
      assert_vec3_near (again.w, axes.w, 1e-14);
    }
}

/* Forward, then back, and the ray really is the design's sum. */
static void
test_rays (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);

  for (int i = 0; i < 500; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, i % 2);
      PlumbVec2 p = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5) }, back;
      PlumbVec3 ray = plumb_beam_ray (&beam, p);

      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (ray, beam.axes.f), 1.0, 1e-14);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (ray, beam.axes.r) * beam.throw_ratio, p.x + beam.shift_h_share,
                                      1e-14);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_dot (ray, beam.axes.w) * beam.throw_ratio * beam.panel_aspect,
                                      p.y + beam.shift_v_share, 1e-14);
      g_assert_true (plumb_beam_panel_of (&beam, plumb_vec3_scale (ray, 7.0), &back));
      assert_vec2_near (back, p.x, p.y, 1e-13);
    }
}

static void
test_direction_behind_and_sideways (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, 1.6, 0.0, 0.0);
  PlumbVec2 panel;

  g_assert_false (plumb_beam_panel_of (&beam, plumb_vec3 (0, -1, 0), &panel));
  g_assert_false (plumb_beam_panel_of (&beam, plumb_vec3 (1, 0, 0), &panel));
  g_assert_false (plumb_beam_panel_of (&beam, plumb_vec3 (0, 0, 0), &panel));
  g_assert_true (plumb_beam_panel_of (&beam, plumb_vec3 (0, 1, 0), &panel));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/pose/square-on", test_square_on);
  g_test_add_func ("/optics/pose/signs", test_signs);
  g_test_add_func ("/optics/pose/roll-is-clockwise", test_roll_is_clockwise);
  g_test_add_func ("/optics/pose/attitude-round-trip", test_attitude_round_trip);
  g_test_add_func ("/optics/pose/straight-up-and-down", test_straight_up_and_down);
  g_test_add_func ("/optics/pose/rays", test_rays);
  g_test_add_func ("/optics/pose/direction-behind-and-sideways", test_direction_behind_and_sideways);
  return g_test_run ();
}
