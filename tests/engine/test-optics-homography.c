/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"
#include "reference-table.h"

#define ASPECT_16_9 (16.0 / 9.0)

static double
width_between (PlumbQuad quad, int a, int b)
{
  return plumb_vec2_length (plumb_vec2_sub (quad.corner[a], quad.corner[b]));
}

/* tests/data/optics/homography.txt, tilt-10: ±1 in the last printed digit. */
static void
test_tilt_points (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/homography.txt", "tilt-10", 4);
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 10.0);
  PlumbHomography map;

  raw_on_plain_screen (&beam, &map);
  for (guint i = 0; i < rows->len; i++)
    {
      const double *v = g_array_index (rows, ReferenceRow, i).value;
      PlumbVec2 p;

      g_assert_true (plumb_homography_apply (&map, plumb_vec2 (v[0] / 1920 - 0.5, 0.5 - v[1] / 1080), &p));
      assert_vec2_near (p, v[2] / 1000, v[3] / 1000, 1e-7);
    }
}

/* The same as a matrix: our map with the pixel scale put in, h33 = 1. */
static void
test_tilt_matrix (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/homography.txt", "matrix", 3);
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 10.0);
  PlumbHomography map;

  raw_on_plain_screen (&beam, &map);
  double corner = map.m[8] - 0.5 * map.m[6] + 0.5 * map.m[7];
  for (int row = 0; row < 3; row++)
    {
      const double *v = g_array_index (rows, ReferenceRow, row).value, *m = map.m + 3 * row;
      double unit = row < 2 ? 1000.0 : 1.0;
      double got[3] = { m[0] / 1920 * unit / corner, -m[1] / 1080 * unit / corner,
                        (m[2] - 0.5 * m[0] + 0.5 * m[1]) * unit / corner };

      for (int k = 0; k < 3; k++)
        g_assert_cmpfloat_with_epsilon (got[k], v[k], 1e-8 * fmax (fabs (v[k]), 1e-5));
    }
}

/* Both angles; from the rear u, v and all signs are the viewer's, so a lens
 * mirrored behind the screen throws the same corners. */
static void
test_two_axes_front_and_rear (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/homography.txt", "two-axis", 3);
  PlumbPlaneFrame screen = plain_screen ();

  for (int rear = 0; rear < 2; rear++)
    {
      PlumbBeam beam = plain_beam (rear ? -3.0 : 3.0, 1.5, ASPECT_16_9, 0.0, 0.0);
      PlumbHomography map;
      PlumbQuad quad;

      beam.axes = plumb_beam_axes (&screen, rear, 8 * DEG, 10 * DEG, 0.0);
      g_assert_true (plumb_homography_to_plane (&beam, &screen, rear, &map));
      g_assert_true (plumb_raw_picture (&map, &quad, NULL));
      for (guint i = 0; i < rows->len; i++)
        {
          const double *v = g_array_index (rows, ReferenceRow, i).value;
          assert_vec2_near (quad.corner[(int) v[0]], v[1], v[2], 1e-6);
        }
    }
}

static double
named (GArray *rows, const char *name)
{
  for (guint i = 0; i < rows->len; i++)
    if (g_strcmp0 (g_array_index (rows, ReferenceRow, i).name, name) == 0)
      return g_array_index (rows, ReferenceRow, i).value[0];
  g_assert_not_reached ();
}

/* tests/data/optics/keystone.txt, tilt-10; ±1 in the last printed digit. */
static void
test_keystone_worked (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/keystone.txt", "tilt-10", 1);
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 10.0);
  PlumbHomography map;
  PlumbQuad q = raw_on_plain_screen (&beam, &map);
  PlumbVec2 left, right;
  double top = width_between (q, 2, 3), bottom = width_between (q, 0, 1), height = q.corner[2].y - q.corner[1].y;

  g_assert_true (plumb_homography_apply (&map, plumb_vec2 (-0.5, 0.0), &left));
  g_assert_true (plumb_homography_apply (&map, plumb_vec2 (0.5, 0.0), &right));
  g_assert_cmpfloat_with_epsilon (top, named (rows, "top-width"), 1e-6);
  g_assert_cmpfloat_with_epsilon (bottom, named (rows, "bottom-width"), 1e-6);
  g_assert_cmpfloat_with_epsilon (right.x - left.x, named (rows, "axis-width"), 1e-6);
  g_assert_cmpfloat_with_epsilon (q.corner[2].y, named (rows, "top"), 1e-6);
  g_assert_cmpfloat_with_epsilon (q.corner[1].y, named (rows, "bottom"), 1e-6);
  g_assert_cmpfloat_with_epsilon (height, named (rows, "height"), 1e-6);
  g_assert_cmpfloat_with_epsilon (top / bottom, named (rows, "ratio"), 1e-6);
  g_assert_cmpfloat_with_epsilon (100 * (top - bottom) / (top + bottom), named (rows, "keystone-percent"), 1e-4);
  g_assert_cmpfloat_with_epsilon (height / 1.125, named (rows, "stretch-wall"), 1e-6);
  g_assert_cmpfloat_with_epsilon (height * cos (10 * DEG) / 1.125, named (rows, "stretch-axis"), 1e-6);
}

static void
test_keystone_table (void)
{
  g_autoptr (GArray) tilts = reference_table_load ("optics/keystone.txt", "tilt", 4);
  g_autoptr (GArray) yaws = reference_table_load ("optics/keystone.txt", "yaw", 2);
  PlumbHomography map;

  for (guint i = 0; i < tilts->len; i++)
    {
      const double *v = g_array_index (tilts, ReferenceRow, i).value;
      PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, v[0]);
      PlumbQuad q = raw_on_plain_screen (&beam, &map);

      g_assert_cmpfloat_with_epsilon (width_between (q, 2, 3) / width_between (q, 0, 1), v[1], 1e-5);
      g_assert_cmpfloat_with_epsilon ((q.corner[2].y - q.corner[1].y) / 1.125, v[2], 1e-5);
    }
  for (guint i = 0; i < yaws->len; i++)
    {
      const double *v = g_array_index (yaws, ReferenceRow, i).value;
      PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, v[0], 0.0);
      PlumbQuad q = raw_on_plain_screen (&beam, &map);

      g_assert_cmpfloat_with_epsilon (width_between (q, 1, 2) / width_between (q, 3, 0), v[1], 1e-6);
    }
}

static void
test_keystone_with_offset (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/keystone.txt", "offset", 3);
  const double *v = g_array_index (rows, ReferenceRow, 0).value;
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, v[0]);
  PlumbHomography map;

  beam.shift_v_share = v[1];
  PlumbQuad q = raw_on_plain_screen (&beam, &map);
  g_assert_cmpfloat_with_epsilon (width_between (q, 2, 3) / width_between (q, 0, 1), v[2], 1e-6);
}

/* A lens maker's note, printed to the inch: 1 in, 0.05 % for the stretch. The
 * frame's width plays no part; a square one is taken. */
static void
test_lens_note (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/keystone.txt", "lens-note", 1);
  const double inch = 1.0 / 12.0;
  double throw_ratio = 1.181 / 0.446;
  PlumbBeam tilted = plain_beam (100.0, throw_ratio, 1.0, 0.0, 15.0);
  PlumbBeam straight = plain_beam (100.0 / cos (15 * DEG), throw_ratio, 1.0, 0.0, 0.0);
  PlumbHomography map;
  PlumbQuad q = raw_on_plain_screen (&tilted, &map), plain = raw_on_plain_screen (&straight, &map);
  double height = q.corner[2].y - q.corner[1].y, undistorted = plain.corner[2].y - plain.corner[1].y;
  PlumbVec3 edge = plumb_beam_ray (&straight, plumb_vec2 (0.0, 0.5));

  g_assert_cmpfloat_with_epsilon (atan2 (edge.z, edge.y) / DEG, named (rows, "half-angle"), 0.005);
  g_assert_cmpfloat_with_epsilon (q.corner[1].y, named (rows, "near-edge"), inch);
  g_assert_cmpfloat_with_epsilon (q.corner[2].y, named (rows, "far-edge"), inch);
  g_assert_cmpfloat_with_epsilon (height, named (rows, "height"), inch);
  g_assert_cmpfloat_with_epsilon (undistorted, named (rows, "undistorted"), inch);
  g_assert_cmpfloat_with_epsilon (100 * (height / undistorted - 1), named (rows, "stretch"), 0.05);
}

/* Panel to plane and back a hundred times over, in random rooms. */
static void
test_there_and_back_a_hundred_times (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);

  for (int i = 0; i < 300; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      bool rear = i % 2;
      PlumbBeam beam = random_beam (rand, &screen, rear);
      PlumbVec2 start = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5) }, p = start;
      PlumbHomography map, back;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, rear, &map));
      g_assert_true (plumb_homography_invert (&map, &back));
      for (int k = 0; k < 100; k++)
        {
          g_assert_true (plumb_homography_apply (&map, p, &p));
          g_assert_true (plumb_homography_apply (&back, p, &p));
        }
      assert_vec2_near (p, start.x, start.y, 1e-11);
    }
}

/* The map against the ray itself: the point lies on the ray, in the plane. */
static void
test_map_is_the_ray (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (22);

  for (int i = 0; i < 300; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, i % 2);
      PlumbVec2 panel = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5) }, p;
      PlumbHomography map;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, i % 2, &map));
      g_assert_true (plumb_homography_apply (&map, panel, &p));
      PlumbVec3 point = plumb_vec3_along (plumb_vec3_along (screen.origin_m, screen.u, p.x), screen.v, p.y);
      PlumbVec3 to_point = plumb_vec3_unit (plumb_vec3_sub (point, beam.lens_m));
      assert_vec3_near (to_point, plumb_vec3_unit (plumb_beam_ray (&beam, panel)), 1e-13);
    }
}

/* Square-on, the raw picture is an upright rectangle of D / t whatever the
 * shift, its centre off by just that share. */
static void
test_shift_never_keystones (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (23);

  for (int i = 0; i < 200; i++)
    {
      double distance = g_rand_double_range (rand, 1.0, 9.0), ratio = g_rand_double_range (rand, 0.4, 3.0);
      PlumbBeam beam = plain_beam (distance, ratio, 1.6, 0.0, 0.0);
      double w = distance / ratio, h = w / 1.6;
      PlumbHomography map;

      beam.shift_h_share = g_rand_double_range (rand, -1.0, 1.0);
      beam.shift_v_share = g_rand_double_range (rand, -1.5, 1.5);
      PlumbQuad q = raw_on_plain_screen (&beam, &map);
      assert_vec2_near (q.corner[0], (beam.shift_h_share - 0.5) * w, (beam.shift_v_share - 0.5) * h, 1e-13);
      assert_vec2_near (q.corner[1], (beam.shift_h_share + 0.5) * w, (beam.shift_v_share - 0.5) * h, 1e-13);
      assert_vec2_near (q.corner[2], (beam.shift_h_share + 0.5) * w, (beam.shift_v_share + 0.5) * h, 1e-13);
      assert_vec2_near (q.corner[3], (beam.shift_h_share - 0.5) * w, (beam.shift_v_share + 0.5) * h, 1e-13);
    }
}

static void
test_lens_in_plane_and_wrong_side (void)
{
  PlumbPlaneFrame screen = plain_screen ();
  PlumbBeam beam = plain_beam (0.0, 1.5, 1.6, 0.0, 0.0);
  PlumbHomography map;

  g_assert_false (plumb_homography_to_plane (&beam, &screen, false, &map));
  g_assert_false (plumb_homography_to_plane (&beam, &screen, true, &map));
  beam.lens_m.y = -3.0;
  g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
  g_assert_false (plumb_homography_to_plane (&beam, &screen, true, &map));
}

/* Aimed along the plane: one half of the panel meets it, the other never. */
static void
test_edge_on_and_behind (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, 1.6, 90.0, 0.0);
  PlumbPlaneFrame screen = plain_screen ();
  PlumbHomography map;
  PlumbQuad quad;
  PlumbVec2 p;
  unsigned missing = 0;

  g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
  g_assert_false (plumb_raw_picture (&map, &quad, &missing));
  g_assert_cmpuint (missing, ==, (1u << 1) | (1u << 2));
  g_assert_false (plumb_homography_apply (&map, plumb_vec2 (0.0, 0.0), &p));
  g_assert_true (plumb_homography_apply (&map, plumb_vec2 (-0.25, 0.0), &p));

  beam.axes = plumb_beam_axes (&screen, false, PLUMB_PI, 0.0, 0.0);
  g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
  g_assert_false (plumb_raw_picture (&map, &quad, &missing));
  g_assert_cmpuint (missing, ==, 15);
  g_assert_false (plumb_raw_picture (&map, &quad, NULL));
}

static void
test_singular (void)
{
  PlumbHomography flat = { { 1, 2, 3, 2, 4, 6, 0, 0, 1 } }, nothing = { { 0 } }, out;

  g_assert_false (plumb_homography_invert (&flat, &out));
  g_assert_false (plumb_homography_invert (&nothing, &out));
}

/* Four corners give the map back; a fifth point must agree (facts, 1.6). */
static void
test_from_quads (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (24);
  PlumbQuad panel = { { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 } } };

  for (int i = 0; i < 300; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, false);
      PlumbVec2 fifth = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5) }, a, b;
      PlumbHomography map, again, back;
      PlumbQuad quad;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
      g_assert_true (plumb_raw_picture (&map, &quad, NULL));
      g_assert_true (plumb_homography_from_quads (&panel, &quad, &again));
      g_assert_true (plumb_homography_apply (&map, fifth, &a));
      g_assert_true (plumb_homography_apply (&again, fifth, &b));
      assert_vec2_near (b, a.x, a.y, 1e-12);
      g_assert_true (plumb_homography_from_quads (&quad, &panel, &back));
      g_assert_true (plumb_homography_apply (&back, a, &b));
      assert_vec2_near (b, fifth.x, fifth.y, 1e-12);
    }
}

static void
test_quads_on_a_line_and_coincident (void)
{
  PlumbQuad square = { { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } } };
  PlumbQuad line = { { { 0, 0 }, { 1, 0 }, { 2, 0 }, { 0, 1 } } };
  PlumbQuad twice = { { { 0, 0 }, { 0, 0 }, { 1, 1 }, { 0, 1 } } };
  PlumbQuad point = { { { 2, 2 }, { 2, 2 }, { 2, 2 }, { 2, 2 } } };
  PlumbHomography map;

  g_assert_true (plumb_homography_from_quads (&square, &square, &map));
  g_assert_false (plumb_homography_from_quads (&square, &line, &map));
  g_assert_false (plumb_homography_from_quads (&line, &square, &map));
  g_assert_false (plumb_homography_from_quads (&twice, &square, &map));
  g_assert_false (plumb_homography_from_quads (&square, &point, &map));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/homography/tilt-points", test_tilt_points);
  g_test_add_func ("/optics/homography/tilt-matrix", test_tilt_matrix);
  g_test_add_func ("/optics/homography/two-axes-front-and-rear", test_two_axes_front_and_rear);
  g_test_add_func ("/optics/homography/keystone-worked", test_keystone_worked);
  g_test_add_func ("/optics/homography/keystone-table", test_keystone_table);
  g_test_add_func ("/optics/homography/keystone-with-offset", test_keystone_with_offset);
  g_test_add_func ("/optics/homography/lens-note", test_lens_note);
  g_test_add_func ("/optics/homography/there-and-back", test_there_and_back_a_hundred_times);
  g_test_add_func ("/optics/homography/map-is-the-ray", test_map_is_the_ray);
  g_test_add_func ("/optics/homography/shift-never-keystones", test_shift_never_keystones);
  g_test_add_func ("/optics/homography/lens-in-plane-and-wrong-side", test_lens_in_plane_and_wrong_side);
  g_test_add_func ("/optics/homography/edge-on-and-behind", test_edge_on_and_behind);
  g_test_add_func ("/optics/homography/singular", test_singular);
  g_test_add_func ("/optics/homography/from-quads", test_from_quads);
  g_test_add_func ("/optics/homography/quads-on-a-line-and-coincident", test_quads_on_a_line_and_coincident);
  return g_test_run ();
}
