/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Seidel's incremental linear programme in three unknowns.
 *
 * Rows come one by one. While the optimum so far satisfies a row, it stays;
 * otherwise the new optimum lies on the row's own plane, and the rows before
 * it make a programme with one unknown less there: the unknown with the
 * greatest coefficient is put in from the row. Down to one unknown that is an
 * interval. Rows of the smaller programmes are projected when they are
 * needed, so nothing is stored.
 */
#include "linear-programme-private.h"

/* Rows have length one; what is this little over, as a share of the bound, is
 * rounding. */
#define SLACK_SHARE 1e-13
/* A row with less than this left after putting in is parallel to the others. */
#define PARALLEL 1e-13

typedef struct {
  PlumbRowFunc row_func;
  const void *data;
  double bound, slack;
} Programme;

/* One unknown put in from an equation: x[out] = b - a·x over the others. */
typedef struct {
  int out, keep[2];
  double a[2], b;
} PutIn;

static PutIn
put_in_of (const double *row, int n_unknowns)
{
  PutIn put = { 0 };

  for (int k = 1; k < n_unknowns; k++)
    if (fabs (row[k]) > fabs (row[put.out]))
      put.out = k;
  for (int k = 0, kept = 0; k < n_unknowns; k++)
    if (k != put.out)
      {
        put.keep[kept] = k;
        put.a[kept++] = row[k] / row[put.out];
      }
  put.b = row[n_unknowns] / row[put.out];
  return put;
}

/* row, with n_unknowns coefficients and a right side, without put.out. */
static void
project (const PutIn *put, const double *row, int n_unknowns, double *out)
{
  for (int k = 0; k < n_unknowns - 1; k++)
    out[k] = row[put->keep[k]] - row[put->out] * put->a[k];
  out[n_unknowns - 1] = row[n_unknowns] - row[put->out] * put->b;
}

/* The bounds of an unknown that has been put in are rows like others; they
 * come before the given ones: two per level that was left behind. */
static void
row_at_3 (const Programme *lp, const PutIn *put, size_t i, double row[4])
{
  if (i >= 2)
    {
      lp->row_func (lp->data, i - 2, row);
      return;
    }
  row[0] = row[1] = row[2] = 0.0;
  row[put->out] = i == 0 ? 1.0 : -1.0;
  row[3] = lp->bound;
}

/* A row on the plane of put3. */
static void
row_on_plane (const Programme *lp, const PutIn *put3, size_t i, double row[3])
{
  double full[4];

  row_at_3 (lp, put3, i, full);
  project (put3, full, 3, row);
}

static void
row_at_2 (const Programme *lp, const PutIn *put3, const PutIn *put2, size_t i, double row[3])
{
  if (i >= 2)
    {
      row_on_plane (lp, put3, i - 2, row);
      return;
    }
  row[0] = row[1] = 0.0;
  row[put2->out] = i == 0 ? 1.0 : -1.0;
  row[2] = lp->bound;
}

/* The last unknown's interval, with the slope of the row at either end: two
 * ends that cross by rounding are judged by how far the *rows* are missed. */
typedef struct {
  double low, high, low_slope, high_slope;
} Interval;

static bool
interval_cut (Interval *interval, double a, double b, double slack)
{
  if (fabs (a) <= PARALLEL)
    return b >= -slack;
  if (a > 0.0 && b / a < interval->high)
    {
      interval->high = b / a;
      interval->high_slope = a;
    }
  if (a < 0.0 && b / a > interval->low)
    {
      interval->low = b / a;
      interval->low_slope = -a;
    }
  return true;
}

static bool
interval_best (const Interval *interval, double cost, double slack, double *x)
{
  double over = interval->low - interval->high;

  if (over > 0.0)
    {
      double share = interval->high_slope / (interval->low_slope + interval->high_slope);
      *x = interval->high + over * (1.0 - share);
      return over * interval->low_slope * share <= slack;
    }
  *x = cost < 0.0 ? interval->high : interval->low;
  return true;
}

static bool
solve_1 (const Programme *lp, const PutIn *put3, const PutIn *put2, size_t n_rows, double cost, double *x)
{
  Interval interval = { -lp->bound, lp->bound, 1.0, 1.0 };

  for (size_t i = 0; i < n_rows; i++)
    {
      double row[3], last[2];

      row_at_2 (lp, put3, put2, i, row);
      project (put2, row, 2, last);
      if (!interval_cut (&interval, last[0], last[1], lp->slack))
        return false;
    }
  return interval_best (&interval, cost, lp->slack, x);
}

static double
corner_of_box (double cost, double bound)
{
  return cost < 0.0 ? bound : -bound;
}

static bool
solve_2 (const Programme *lp, const PutIn *put3, size_t n_rows, const double cost[2], double x[2])
{
  x[0] = corner_of_box (cost[0], lp->bound);
  x[1] = corner_of_box (cost[1], lp->bound);

  for (size_t i = 0; i < n_rows; i++)
    {
      double row[3];

      row_on_plane (lp, put3, i, row);
      double over = row[0] * x[0] + row[1] * x[1] - row[2];
      if (!(over > lp->slack))
        continue;
      if (fmax (fabs (row[0]), fabs (row[1])) <= PARALLEL)
        return false;

      PutIn put2 = put_in_of (row, 2);
      double last;
      if (!solve_1 (lp, put3, &put2, i + 2, cost[put2.keep[0]] - cost[put2.out] * put2.a[0], &last))
        return false;
      x[put2.keep[0]] = last;
      x[put2.out] = put2.b - put2.a[0] * last;
    }
  return true;
}

bool
plumb_linear_programme_3_rows (PlumbRowFunc row_func, const void *data, size_t n_rows, const double cost[3],
                               double bound, double solution[3])
{
  Programme lp = { row_func, data, bound, SLACK_SHARE * bound };
  double *x = solution;

  for (int k = 0; k < 3; k++)
    x[k] = corner_of_box (cost[k], bound);

  for (size_t i = 0; i < n_rows; i++)
    {
      double row[4];

      row_func (data, i, row);
      if (!(row[0] * x[0] + row[1] * x[1] + row[2] * x[2] - row[3] > lp.slack))
        continue;
      if (row[0] == 0.0 && row[1] == 0.0 && row[2] == 0.0)
        return false;

      PutIn put3 = put_in_of (row, 3);
      double plane_cost[2], two[2];
      for (int k = 0; k < 2; k++)
        plane_cost[k] = cost[put3.keep[k]] - cost[put3.out] * put3.a[k];
      if (!solve_2 (&lp, &put3, i + 2, plane_cost, two))
        return false;
      x[put3.keep[0]] = two[0];
      x[put3.keep[1]] = two[1];
      x[put3.out] = put3.b - put3.a[0] * two[0] - put3.a[1] * two[1];
    }
  return true;
}

static void
row_of_array (const void *data, size_t i, double row[4])
{
  const double *given = (const double *) data + 4 * i;
  double length = sqrt (given[0] * given[0] + given[1] * given[1] + given[2] * given[2]);
  double scale = length > 0.0 ? 1.0 / length : 1.0;

  for (int k = 0; k < 4; k++)
    row[k] = given[k] * scale;
}

bool
plumb_linear_programme_3 (const double *rows, size_t n_rows, const double cost[3], double bound, double solution[3])
{
  return plumb_linear_programme_3_rows (row_of_array, rows, n_rows, cost, bound, solution);
}
