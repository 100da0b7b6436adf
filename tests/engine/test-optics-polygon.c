/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"

static const PlumbVec2 square[4] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } };

static void
test_area (void)
{
  PlumbVec2 clockwise[4] = { { 0, 0 }, { 0, 1 }, { 1, 1 }, { 1, 0 } };
  PlumbVec2 far_off[3] = { { 1e6, 1e6 }, { 1e6 + 1, 1e6 }, { 1e6, 1e6 + 1 } };

  g_assert_cmpfloat (plumb_polygon_area (square, 4), ==, 1.0);
  g_assert_cmpfloat (plumb_polygon_area (clockwise, 4), ==, -1.0);
  g_assert_cmpfloat (plumb_polygon_area (far_off, 3), ==, 0.5);
  g_assert_cmpfloat (plumb_polygon_area (square, 2), ==, 0.0);
  g_assert_cmpfloat (plumb_polygon_area (NULL, 0), ==, 0.0);
}

/* By hand: x <= 1/4 leaves a quarter, x + y <= 1/2 a corner of 1/8. */
static void
test_clip_by_hand (void)
{
  PlumbVec2 out[5];

  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (1, 0), 0.25, out), ==, 4);
  g_assert_cmpfloat (plumb_polygon_area (out, 4), ==, 0.25);
  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (1, 1), 0.5, out), ==, 3);
  g_assert_cmpfloat (plumb_polygon_area (out, 3), ==, 0.125);
  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (-1, -1), -0.5, out), ==, 5);
  g_assert_cmpfloat (plumb_polygon_area (out, 5), ==, 0.875);
}

static void
test_clip_all_nothing_touching (void)
{
  PlumbVec2 out[5];

  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (1, 0), 2.0, out), ==, 4);
  for (int k = 0; k < 4; k++)
    assert_vec2_near (out[k], square[k].x, square[k].y, 1e-300);
  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (1, 0), 1.0, out), ==, 4);
  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (1, 0), -0.1, out), ==, 0);
  g_assert_cmpuint (plumb_polygon_clip (square, 0, plumb_vec2 (1, 0), 1.0, out), ==, 0);
  /* The closed half plane keeps the touching edge, with no area. */
  size_t n = plumb_polygon_clip (square, 4, plumb_vec2 (1, 0), 0.0, out);
  g_assert_cmpuint (n, ==, 2);
  g_assert_cmpfloat (plumb_polygon_area (out, n), ==, 0.0);
}

/* A normal of no length says nothing or everything. */
static void
test_clip_zero_normal (void)
{
  PlumbVec2 out[5];

  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (0, 0), 1.0, out), ==, 4);
  g_assert_cmpuint (plumb_polygon_clip (square, 4, plumb_vec2 (0, 0), -1.0, out), ==, 0);
}

static size_t
random_convex (GRand *rand, PlumbVec2 *out)
{
  size_t n = (size_t) g_rand_int_range (rand, 3, 17);
  double first = g_rand_double_range (rand, 0.0, 6.0);

  for (size_t i = 0; i < n; i++)
    {
      double angle = first + 2.0 * PLUMB_PI * (double) i / (double) n;
      out[i] = plumb_vec2 (3.0 * cos (angle) + 2.0, 1.5 * sin (angle) - 1.0);
    }
  return n;
}

static bool
has_point (const PlumbVec2 *points, size_t n, PlumbVec2 p)
{
  for (size_t i = 0; i < n; i++)
    if (points[i].x == p.x && points[i].y == p.y)
      return true;
  return false;
}

/* Both halves add up to the whole, share the very same cut points, and no
 * half has more than one point more. */
static void
test_halves (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);

  for (int i = 0; i < 2000; i++)
    {
      PlumbVec2 in[16], low[17], high[17];
      size_t n = random_convex (rand, in);
      double angle = g_rand_double_range (rand, 0.0, 7.0), offset = g_rand_double_range (rand, -2.0, 2.0);
      PlumbVec2 normal = { cos (angle), sin (angle) };
      size_t n_low = plumb_polygon_clip (in, n, normal, offset, low);
      size_t n_high = plumb_polygon_clip (in, n, plumb_vec2_scale (normal, -1.0), -offset, high);

      g_assert_cmpuint (n_low, <=, n + 1);
      g_assert_cmpuint (n_high, <=, n + 1);
      g_assert_cmpfloat_with_epsilon (plumb_polygon_area (low, n_low) + plumb_polygon_area (high, n_high),
                                      plumb_polygon_area (in, n), 1e-13);
      for (size_t k = 0; k < n_low; k++)
        {
          g_assert_cmpfloat (plumb_vec2_dot (normal, low[k]), <=, offset + 1e-14);
          if (n_high > 0 && !has_point (in, n, low[k]))
            g_assert_true (has_point (high, n_high, low[k]));
        }
    }
}

/* Two neighbours run their common edge in opposite directions; a cut across
 * it gives both the very same point, so no gap opens between them. */
static void
test_neighbours_share_the_cut (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (33);

  for (int i = 0; i < 500; i++)
    {
      PlumbVec2 a = { g_rand_double_range (rand, -1, 1), -1.3 }, b = { g_rand_double_range (rand, -1, 1), 1.1 };
      PlumbVec2 left[3] = { a, b, { -3, 0.1 } }, right[3] = { b, a, { 3, 0.2 } }, cut_left[4], cut_right[4];
      double offset = g_rand_double_range (rand, -0.9, 0.9);
      size_t n_left = plumb_polygon_clip (left, 3, plumb_vec2 (0.1, 1), offset, cut_left);
      size_t n_right = plumb_polygon_clip (right, 3, plumb_vec2 (0.1, 1), offset, cut_right), n_shared = 0;

      for (size_t k = 0; k < n_left; k++)
        n_shared += has_point (cut_right, n_right, cut_left[k]);
      g_assert_cmpuint (n_shared, ==, 2);
    }
}

/* A cut along an edge whose points wobble by rounding: never more than one
 * point more, whatever the wobble says about inside and outside. */
static void
test_wobbling_edge (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (32);

  for (int i = 0; i < 2000; i++)
    {
      PlumbVec2 in[14], out[15];

      for (int k = 0; k < 12; k++)
        in[k] = plumb_vec2 (k, g_rand_double_range (rand, -1e-16, 1e-16));
      in[12] = plumb_vec2 (12, i % 2 ? 5.0 : 1e-16);
      in[13] = plumb_vec2 (0, 5);
      size_t n = plumb_polygon_clip (in, 14, plumb_vec2 (0, i % 3 ? 1 : -1), 0.0, out);
      g_assert_cmpuint (n, <=, 15);
      for (size_t k = 0; k < n; k++)
        g_assert_true (isfinite (out[k].x) && isfinite (out[k].y));
      g_assert_cmpfloat_with_epsilon (plumb_polygon_area (out, n), i % 3 ? 0.0 : plumb_polygon_area (in, 14), 1e-13);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/polygon/area", test_area);
  g_test_add_func ("/optics/polygon/clip-by-hand", test_clip_by_hand);
  g_test_add_func ("/optics/polygon/clip-all-nothing-touching", test_clip_all_nothing_touching);
  g_test_add_func ("/optics/polygon/clip-zero-normal", test_clip_zero_normal);
  g_test_add_func ("/optics/polygon/halves", test_halves);
  g_test_add_func ("/optics/polygon/neighbours-share-the-cut", test_neighbours_share_the_cut);
  g_test_add_func ("/optics/polygon/wobbling-edge", test_wobbling_edge);
  return g_test_run ();
}
