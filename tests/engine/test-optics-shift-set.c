/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"
#include "reference-table.h"

/* tests/data/optics/shift-table.txt, 4:3, rounded to 0.001 %. */
static void
test_printed_circle_rows (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/shift-table.txt", "printed", 2);
  PlumbShiftSet set = plumb_shift_set_circle (0.5, 4.0 / 3.0);

  for (guint i = 0; i < rows->len; i++)
    {
      const double *v = g_array_index (rows, ReferenceRow, i).value;

      g_assert_cmpfloat_with_epsilon (100 * plumb_shift_set_h_limit (&set, v[0] / 100), v[1], 0.0006);
      g_assert_cmpfloat_with_epsilon (100 * plumb_shift_set_h_limit (&set, -v[0] / 100), v[1], 0.0006);
    }
}

/* All 51 rows of that table by its formula, which reproduces every one of
 * them within 0.0006 (facts, 1.4): the panel's corner stays in the circle. */
static void
test_circle_formula_51_rows (void)
{
  PlumbShiftSet set = plumb_shift_set_circle (0.5, 4.0 / 3.0);

  for (int v = 0; v <= 50; v++)
    {
      double half_height = 0.5 + v / 100.0;
      double h = (sqrt (4.0 / 9.0 + 1.0 - half_height * half_height) - 2.0 / 3.0) * 3.0 / 4.0;

      g_assert_cmpfloat_with_epsilon (plumb_shift_set_h_limit (&set, v / 100.0), h, 1e-14);
      g_assert_true (plumb_shift_set_holds (&set, plumb_vec2 (h, v / 100.0), 1e-12));
      g_assert_false (plumb_shift_set_holds (&set, plumb_vec2 (h + 0.0001, v / 100.0), 1e-12));
    }
  g_assert_cmpfloat (plumb_shift_set_h_limit (&set, 0.5001), <, 0.0);
  g_assert_cmpfloat (plumb_shift_set_h_limit (&set, 0.5), >=, 0.0);
}

static void
test_printed_corner_cut (void)
{
  const char *block[2] = { "corner-cut", "corner-cut-diagonal" };
  PlumbVec2 diagonal[2] = { { 0.31, 0.48 }, { 0.40, 0.60 } };

  for (int k = 0; k < 2; k++)
    {
      g_autoptr (GArray) rows = reference_table_load ("optics/shift-table.txt", block[k], 2);
      PlumbShiftSet set = plumb_shift_set_corner_cut (0.52, 0.95, 0.07, 0.24, diagonal[k]);

      for (guint i = 0; i < rows->len; i++)
        {
          const double *v = g_array_index (rows, ReferenceRow, i).value;

          g_assert_cmpfloat_with_epsilon (100 * plumb_shift_set_h_limit (&set, v[0] / 100), v[1], 0.0006);
          for (int quadrant = 0; quadrant < 4; quadrant++)
            {
              PlumbVec2 p = { v[1] / 100 * (quadrant & 1 ? -1 : 1), v[0] / 100 * (quadrant & 2 ? -1 : 1) };
              g_assert_true (plumb_shift_set_holds (&set, p, 1e-5));
              g_assert_false (plumb_shift_set_holds (&set, plumb_vec2_scale (p, 1.001), 1e-5));
            }
        }
      g_assert_cmpfloat (plumb_shift_set_h_limit (&set, 0.951), <, 0.0);
      g_assert_cmpuint (set.n_points, ==, k == 0 ? 8 : 12);
    }
}

/* By hand: the four entries, their corners, unequal sides. */
static void
test_makers (void)
{
  PlumbShiftSet none = plumb_shift_set_none ();
  PlumbShiftSet rectangle = plumb_shift_set_rectangle (0.1, 0.2, 0.3, 0.4);
  PlumbShiftSet diamond = plumb_shift_set_diamond (0.1, 0.2, 0.3, 0.4);
  PlumbShiftSet upright = plumb_shift_set_rectangle (0, 0, 0.3, 0.4);
  PlumbShiftSet off_origin = plumb_shift_set_rectangle (0.1, 0.1, -0.5, 0.7);

  g_assert_true (plumb_shift_set_holds (&none, plumb_vec2 (0, 0), 0.0));
  g_assert_false (plumb_shift_set_holds (&none, plumb_vec2 (0.01, 0), 0.001));
  g_assert_cmpuint (rectangle.n_points, ==, 4);
  g_assert_cmpfloat_with_epsilon (plumb_polygon_area (rectangle.point, 4), 0.21, 1e-15);
  g_assert_true (plumb_shift_set_holds (&rectangle, plumb_vec2 (0.2, 0.4), 0.0));
  g_assert_false (plumb_shift_set_holds (&rectangle, plumb_vec2 (-0.11, 0), 1e-6));
  g_assert_cmpfloat_with_epsilon (plumb_polygon_area (diamond.point, diamond.n_points), 0.105, 1e-15);
  g_assert_false (plumb_shift_set_holds (&diamond, plumb_vec2 (0.11, 0.2), 1e-6));
  g_assert_true (plumb_shift_set_holds (&diamond, plumb_vec2 (0.09, 0.2), 1e-6));
  g_assert_cmpuint (upright.n_points, ==, 2);
  g_assert_true (plumb_shift_set_holds (&upright, plumb_vec2 (0, 0.35), 0.0));
  g_assert_false (plumb_shift_set_holds (&off_origin, plumb_vec2 (0, 0), 1e-6));
  g_assert_true (plumb_shift_set_holds (&off_origin, plumb_vec2 (0, 0.6), 1e-6));
}

static void
test_polygon_hull (void)
{
  PlumbVec2 points[7] = { { 1, 1 }, { 0, 0 }, { 1, 0 }, { 0.5, 0.5 }, { 0, 1 }, { 0.5, 0 }, { 1, 1 } };
  PlumbVec2 bad[1] = { { NAN, 0 } }, line[3] = { { 0, 0 }, { 2, 2 }, { 1, 1 } };
  PlumbVec2 many[PLUMB_SHIFT_MAX_POINTS + 1] = { { 0 } };
  PlumbShiftSet set;

  g_assert_true (plumb_shift_set_polygon (points, 7, &set));
  g_assert_cmpuint (set.n_points, ==, 4);
  g_assert_cmpfloat (plumb_polygon_area (set.point, 4), ==, 1.0);
  g_assert_true (plumb_shift_set_polygon (line, 3, &set));
  g_assert_cmpuint (set.n_points, ==, 2);
  g_assert_true (plumb_shift_set_polygon (points, 1, &set));
  g_assert_cmpuint (set.n_points, ==, 1);
  g_assert_true (plumb_shift_set_polygon (many, PLUMB_SHIFT_MAX_POINTS, &set));
  g_assert_cmpuint (set.n_points, ==, 1);
  g_assert_false (plumb_shift_set_polygon (points, 0, &set));
  g_assert_false (plumb_shift_set_polygon (bad, 1, &set));
  g_assert_false (plumb_shift_set_polygon (many, PLUMB_SHIFT_MAX_POINTS + 1, &set));
}

static PlumbShiftSet
random_set (GRand *rand)
{
  double a = g_rand_double_range (rand, 0.05, 0.7), b = g_rand_double_range (rand, 0.05, 0.9);

  switch (g_rand_int_range (rand, 0, 5))
    {
    case 0:
      return plumb_shift_set_rectangle (a, b, 0.3 * a, b);
    case 1:
      return plumb_shift_set_diamond (a, a, b, 0.5 * b);
    case 2:
      return plumb_shift_set_corner_cut (a, b, 0.4 * a, 0.3 * b, plumb_vec2 (0.8 * a, 0.8 * b));
    case 3:
      return plumb_shift_set_ellipse (a, b);
    default:
      return plumb_shift_set_circle (b, 1.0 + a);
    }
}

/* Turned by 180 degrees twice, or mirrored twice, a set is what it was. */
static void
test_inversion_twice_is_nothing (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (71);

  for (int i = 0; i < 300; i++)
    {
      PlumbShiftSet set = random_set (rand);
      PlumbVec2 offset = { g_rand_double_range (rand, -0.3, 0.3), g_rand_double_range (rand, -0.6, 0.6) };
      PlumbVec2 p = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1) };
      PlumbShiftSet moved = plumb_shift_set_place (&set, 1.0, offset, false, false);
      PlumbShiftSet once = plumb_shift_set_place (&moved, 1.0, plumb_vec2 (0, 0), true, false);
      PlumbShiftSet twice = plumb_shift_set_place (&once, 1.0, plumb_vec2 (0, 0), true, false);
      PlumbShiftSet mirrored = plumb_shift_set_place (&moved, 1.0, plumb_vec2 (0, 0), false, true);
      PlumbShiftSet both = plumb_shift_set_place (&set, 1.0, offset, true, true);
      double room = plumb_shift_set_room_m (&moved, p, 2.0, 1.2);

      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&twice, p, 2.0, 1.2), room, 1e-12);
      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&once, plumb_vec2 (-p.x, -p.y), 2.0, 1.2), room, 1e-12);
      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&mirrored, plumb_vec2 (-p.x, p.y), 2.0, 1.2), room,
                                      1e-12);
      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&both, plumb_vec2 (p.x, -p.y), 2.0, 1.2), room, 1e-12);
    }
}

/* A set twice as big has twice the room at the doubled shift. */
static void
test_scale (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (72);

  for (int i = 0; i < 300; i++)
    {
      PlumbShiftSet set = random_set (rand);
      PlumbVec2 p = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1) };
      PlumbShiftSet doubled = plumb_shift_set_place (&set, 2.0, plumb_vec2 (0, 0), false, false);
      PlumbShiftSet point = plumb_shift_set_place (&set, 0.0, plumb_vec2 (0.1, 0.2), false, false);

      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&doubled, plumb_vec2_scale (p, 2.0), 2.0, 1.2),
                                      2.0 * plumb_shift_set_room_m (&set, p, 2.0, 1.2), 1e-12);
      g_assert_true (plumb_shift_set_holds (&point, plumb_vec2 (0.1, 0.2), 1e-12));
      g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&point, plumb_vec2 (0.1, 0.3), 2.0, 1.2), -0.12, 1e-12);
    }
}

/* By hand, in metres: 2 m × 1 m picture, shift ±0.25 by ±0.5. */
static void
test_room_by_hand (void)
{
  PlumbShiftSet set = plumb_shift_set_rectangle (0.25, 0.25, 0.5, 0.5);
  PlumbShiftSet ellipse = plumb_shift_set_ellipse (0.25, 0.5);

  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&set, plumb_vec2 (0, 0), 2, 1), 0.5, 1e-15);
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&set, plumb_vec2 (0.2, 0), 2, 1), 0.1, 1e-15);
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&set, plumb_vec2 (0.4, 0.9), 2, 1), -0.5, 1e-15);
  assert_vec2_near (plumb_shift_set_nearest (&set, plumb_vec2 (0.4, 0.9), 2, 1), 0.25, 0.5, 1e-15);
  /* In metres the ellipse is a circle of 0.5: (0.6, 0.8) has length 1. */
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&ellipse, plumb_vec2 (0.3, 0.8), 2, 1), -0.5, 1e-14);
  assert_vec2_near (plumb_shift_set_nearest (&ellipse, plumb_vec2 (0.3, -0.8), 2, 1), 0.15, -0.4, 1e-14);
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&ellipse, plumb_vec2 (0, 0), 2, 1), 0.5, 1e-14);
  assert_vec2_near (plumb_shift_set_nearest (&set, plumb_vec2 (0.1, -0.2), 2, 1), 0.1, -0.2, 1e-15);
}

/* Against the outline as a polygon with many points: same side, and the edge
 * never farther than it, nor nearer by more than its sagitta. */
static void
test_curved_sets_against_outline (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (73);

  for (int i = 0; i < 500; i++)
    {
      double a = g_rand_double_range (rand, 0.05, 0.7), b = g_rand_double_range (rand, 0.05, 0.9);
      PlumbShiftSet set = i % 2 ? plumb_shift_set_ellipse (a, b) : plumb_shift_set_circle (b, 1.0 + a), polygon;
      PlumbVec2 p = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1) };
      PlumbVec2 points[PLUMB_SHIFT_MAX_POINTS];
      size_t n = plumb_shift_set_outline (&set, points, PLUMB_SHIFT_MAX_POINTS);

      g_assert_cmpuint (n, ==, PLUMB_SHIFT_MAX_POINTS);
      for (size_t k = 0; k < n; k++)
        g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&set, points[k], 2, 1.2), 0.0, 1e-12);
      g_assert_true (plumb_shift_set_polygon (points, n, &polygon));
      g_assert_cmpuint (polygon.n_points, ==, n);
      double room = plumb_shift_set_room_m (&set, p, 2, 1.2),
             inscribed = plumb_shift_set_room_m (&polygon, p, 2, 1.2);
      g_assert_cmpfloat (inscribed, <=, room + 1e-12);
      g_assert_cmpfloat (inscribed, >=, room - 0.005);
      PlumbVec2 nearest = plumb_shift_set_nearest (&set, p, 2, 1.2);
      g_assert_true (plumb_shift_set_holds (&set, nearest, 1e-12));
      g_assert_cmpfloat_with_epsilon (hypot ((nearest.x - p.x) * 2, (nearest.y - p.y) * 1.2), fmax (0, -room), 1e-12);
    }
}

static void
test_outline_capacity (void)
{
  PlumbShiftSet ellipse = plumb_shift_set_ellipse (0.3, 0.5), square = plumb_shift_set_rectangle (1, 1, 1, 1);
  PlumbVec2 points[PLUMB_SHIFT_MAX_POINTS];

  g_assert_cmpuint (plumb_shift_set_outline (&ellipse, points, 10), ==, 8);
  g_assert_cmpfloat (plumb_polygon_area (points, 8), >, 0.0);
  g_assert_cmpuint (plumb_shift_set_outline (&ellipse, points, 3), ==, 0);
  g_assert_cmpuint (plumb_shift_set_outline (&square, points, PLUMB_SHIFT_MAX_POINTS), ==, 4);
  g_assert_cmpuint (plumb_shift_set_outline (&square, points, 3), ==, 3);
}

/* Ellipses and circles that have shrunk to a line or a point. */
static void
test_shrunk_curves (void)
{
  PlumbShiftSet line = plumb_shift_set_ellipse (0.0, 0.5), point = plumb_shift_set_circle (0.0, 1.6);

  g_assert_true (plumb_shift_set_holds (&line, plumb_vec2 (0, 0.5), 1e-12));
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&line, plumb_vec2 (0.1, 0.3), 2, 1), -0.2, 1e-14);
  assert_vec2_near (plumb_shift_set_nearest (&line, plumb_vec2 (0.1, 0.9), 2, 1), 0, 0.5, 1e-14);
  g_assert_cmpfloat (plumb_shift_set_h_limit (&line, 0.4), ==, 0.0);
  g_assert_cmpfloat (plumb_shift_set_h_limit (&line, 0.6), <, 0.0);
  g_assert_true (plumb_shift_set_holds (&point, plumb_vec2 (0, 0), 1e-12));
  g_assert_cmpfloat_with_epsilon (plumb_shift_set_room_m (&point, plumb_vec2 (0.0, -0.3), 2, 1), -0.3, 1e-14);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/shift-set/printed-circle-rows", test_printed_circle_rows);
  g_test_add_func ("/optics/shift-set/circle-formula-51-rows", test_circle_formula_51_rows);
  g_test_add_func ("/optics/shift-set/printed-corner-cut", test_printed_corner_cut);
  g_test_add_func ("/optics/shift-set/makers", test_makers);
  g_test_add_func ("/optics/shift-set/polygon-hull", test_polygon_hull);
  g_test_add_func ("/optics/shift-set/inversion-twice-is-nothing", test_inversion_twice_is_nothing);
  g_test_add_func ("/optics/shift-set/scale", test_scale);
  g_test_add_func ("/optics/shift-set/room-by-hand", test_room_by_hand);
  g_test_add_func ("/optics/shift-set/curved-sets-against-outline", test_curved_sets_against_outline);
  g_test_add_func ("/optics/shift-set/outline-capacity", test_outline_capacity);
  g_test_add_func ("/optics/shift-set/shrunk-curves", test_shrunk_curves);
  return g_test_run ();
}
