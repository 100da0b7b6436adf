/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"

/* By hand: greatest x + y + z in the corner cut from the cube by
 * x + 2 y + 3 z <= 3 with x, y, z in [0, 1] is (1, 1, 0). */
static void
test_by_hand (void)
{
  double rows[] = { 1, 2, 3, 3, 1, 0, 0, 1, 0, 1, 0, 1, 0, 0, 1, 1, -1, 0, 0, 0, 0, -1, 0, 0, 0, 0, -1, 0 };
  double cost[3] = { -1, -1, -1 }, x[3];

  g_assert_true (plumb_linear_programme_3 (rows, 7, cost, 10.0, x));
  g_assert_cmpfloat_with_epsilon (x[0], 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (x[1], 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (x[2], 0.0, 1e-12);
}

static void
test_only_the_box (void)
{
  double cost[3] = { 1, -1, 2 }, x[3];

  g_assert_true (plumb_linear_programme_3 (NULL, 0, cost, 7.0, x));
  g_assert_cmpfloat (x[0], ==, -7.0);
  g_assert_cmpfloat (x[1], ==, 7.0);
  g_assert_cmpfloat (x[2], ==, -7.0);
}

/* x <= 0 and x >= 1; three planes that leave nothing; outside the box. */
static void
test_infeasible (void)
{
  double apart[] = { 1, 0, 0, 0, -1, 0, 0, -1 };
  double prism[] = { 1, 1, 0, -1, -1, 1, 0, -1, 0, -1, 0, -1 };
  double outside[] = { -1, 0, 0, -11 };
  double cost[3] = { 0, 0, 1 }, other[3] = { -1, -1, -1 }, x[3];

  g_assert_false (plumb_linear_programme_3 (apart, 2, cost, 10.0, x));
  g_assert_false (plumb_linear_programme_3 (apart, 2, other, 10.0, x));
  g_assert_false (plumb_linear_programme_3 (prism, 3, cost, 10.0, x));
  g_assert_false (plumb_linear_programme_3 (prism, 3, other, 10.0, x));
  g_assert_false (plumb_linear_programme_3 (outside, 1, cost, 10.0, x));
}

/* Two planes that leave exactly a plane, three that leave a point. */
static void
test_exactly_on_the_limit (void)
{
  double sheet[] = { 1, 1, 1, 1, -1, -1, -1, -1 };
  double point[] = { 1, 0, 0, 0.3, -1, 0, 0, -0.3, 0, 1, 0, 0.1, 0, -1, 0, -0.1, 0, 0, 1, -0.7, 0, 0, -1, 0.7 };
  double cost[3] = { 1, 2, 3 }, x[3];

  g_assert_true (plumb_linear_programme_3 (sheet, 2, cost, 10.0, x));
  g_assert_cmpfloat_with_epsilon (x[0] + x[1] + x[2], 1.0, 1e-12);
  g_assert_true (plumb_linear_programme_3 (point, 6, cost, 10.0, x));
  g_assert_cmpfloat_with_epsilon (x[0], 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (x[1], 0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (x[2], -0.7, 1e-12);
}

static void
test_row_without_coefficients (void)
{
  double says_nothing[] = { 0, 0, 0, 1 }, says_never[] = { 0, 0, 0, -1 }, cost[3] = { 1, 1, 1 }, x[3];

  g_assert_true (plumb_linear_programme_3 (says_nothing, 1, cost, 1.0, x));
  g_assert_false (plumb_linear_programme_3 (says_never, 1, cost, 1.0, x));
}

static double
det3 (const double *a, const double *b, const double *c)
{
  return plumb_vec3_dot (plumb_vec3 (a[0], a[1], a[2]),
                         plumb_vec3_cross (plumb_vec3 (b[0], b[1], b[2]), plumb_vec3 (c[0], c[1], c[2])));
}

/* Least cost over all corners where three rows meet; infinite if none. */
static double
best_corner (const double *rows, int n, const double *cost)
{
  double best = INFINITY;

  for (int i = 0; i < n; i++)
    for (int j = i + 1; j < n; j++)
      for (int k = j + 1; k < n; k++)
        {
          const double *r[3] = { rows + 4 * i, rows + 4 * j, rows + 4 * k };
          double det = det3 (r[0], r[1], r[2]), x[3];
          bool feasible = fabs (det) > 1e-9;

          for (int axis = 0; axis < 3 && feasible; axis++)
            {
              double m[3][3];
              for (int row = 0; row < 3; row++)
                for (int column = 0; column < 3; column++)
                  m[row][column] = column == axis ? r[row][3] : r[row][column];
              x[axis] = det3 (m[0], m[1], m[2]) / det;
            }
          for (int row = 0; row < n && feasible; row++)
            {
              const double *a = rows + 4 * row;
              feasible = a[0] * x[0] + a[1] * x[1] + a[2] * x[2] <= a[3] + 1e-9;
            }
          if (feasible)
            best = fmin (best, cost[0] * x[0] + cost[1] * x[1] + cost[2] * x[2]);
        }
  return best;
}

/* Against every corner of the polyhedron; the box as six more rows. */
static void
test_against_all_corners (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (41);
  int n_infeasible = 0;

  for (int i = 0; i < 1000; i++)
    {
      double rows[4 * 18] = { 0 }, cost[3], x[3];

      for (int row = 0; row < 12; row++)
        for (int k = 0; k < 4; k++)
          rows[4 * row + k] = g_rand_double_range (rand, k == 3 ? -0.15 : -1.0, 1.0);
      for (int row = 12; row < 18; row++)
        {
          rows[4 * row + (row - 12) / 2] = row % 2 ? 1.0 : -1.0;
          rows[4 * row + 3] = 3.0;
        }
      for (int k = 0; k < 3; k++)
        cost[k] = g_rand_double_range (rand, -1.0, 1.0);

      double wanted = best_corner (rows, 18, cost);
      bool found = plumb_linear_programme_3 (rows, 12, cost, 3.0, x);
      g_assert_cmpint (found, ==, isfinite (wanted));
      if (found)
        g_assert_cmpfloat_with_epsilon (cost[0] * x[0] + cost[1] * x[1] + cost[2] * x[2], wanted, 1e-8);
      n_infeasible += !found;
    }
  g_test_message ("%d of 1000 programmes had no feasible point", n_infeasible);
  g_assert_cmpint (n_infeasible, >, 20);
  g_assert_cmpint (n_infeasible, <, 800);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/linear-programme/by-hand", test_by_hand);
  g_test_add_func ("/optics/linear-programme/only-the-box", test_only_the_box);
  g_test_add_func ("/optics/linear-programme/infeasible", test_infeasible);
  g_test_add_func ("/optics/linear-programme/exactly-on-the-limit", test_exactly_on_the_limit);
  g_test_add_func ("/optics/linear-programme/row-without-coefficients", test_row_without_coefficients);
  g_test_add_func ("/optics/linear-programme/against-all-corners", test_against_all_corners);
  return g_test_run ();
}
