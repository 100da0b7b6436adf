/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/isolines.h"

#define COLUMNS 48
#define ROWS 27
/* Grid lines between nodes: first all that run across, then all that run up. */
#define N_ACROSS (COLUMNS * (ROWS + 1))
#define N_EDGES (N_ACROSS + (COLUMNS + 1) * ROWS)
#define NO_EDGE (-1)
/* Halvings of a grid line, of a couple of centimetres: below a micrometre. */
#define HALVINGS 40
#define CLIMBS 40

typedef struct {
  PlumbIsoField field;
  const void *data;
  PlumbRect area;
  double node[ROWS + 1][COLUMNS + 1];
} Grid;

static PlumbVec2
node_at (const Grid *grid, double column, double row)
{
  return plumb_vec2 (grid->area.centre_m.x + (column / COLUMNS - 0.5) * grid->area.width_m,
                     grid->area.centre_m.y + (row / ROWS - 0.5) * grid->area.height_m);
}

static bool
sample (Grid *grid, PlumbIsolines *out)
{
  out->least = INFINITY;
  out->greatest = -INFINITY;
  for (int r = 0; r <= ROWS; r++)
    for (int c = 0; c <= COLUMNS; c++)
      {
        PlumbVec2 at = node_at (grid, c, r);
        double value;
        if (!grid->field (grid->data, at, &value) || !isfinite (value))
          return false;
        grid->node[r][c] = value;
        out->least = fmin (out->least, value);
        if (value <= out->greatest)
          continue;
        out->greatest = value;
        out->greatest_at = at;
      }
  return true;
}

/* From the best node uphill, half as far each time nothing near is better. */
static void
climb (const Grid *grid, PlumbIsolines *out)
{
  PlumbVec2 half = { grid->area.width_m / 2.0, grid->area.height_m / 2.0 };
  double dx = grid->area.width_m / COLUMNS, dy = grid->area.height_m / ROWS;
  for (int i = 0; i < CLIMBS; i++)
    {
      const PlumbVec2 way[4] = { { dx, 0.0 }, { -dx, 0.0 }, { 0.0, dy }, { 0.0, -dy } };
      PlumbVec2 from = out->greatest_at;
      for (int k = 0; k < 4; k++)
        {
          PlumbVec2 at = plumb_vec2_add (from, way[k]);
          double value;
          at.x = plumb_clamp (at.x, grid->area.centre_m.x - half.x, grid->area.centre_m.x + half.x);
          at.y = plumb_clamp (at.y, grid->area.centre_m.y - half.y, grid->area.centre_m.y + half.y);
          if (!grid->field (grid->data, at, &value) || !(value > out->greatest))
            continue;
          out->greatest = value;
          out->greatest_at = at;
        }
      if (plumb_vec2_length (plumb_vec2_sub (from, out->greatest_at)) > 0.0)
        continue;
      dx /= 2.0;
      dy /= 2.0;
    }
}

/* ---- crossings --------------------------------------------------------------------- */

typedef struct {
  bool crossed;
  PlumbVec2 at;
  int next[2]; /* edges that a line goes on to, NO_EDGE */
} Crossing;

/* Where between two nodes on either side of the level the level itself is. */
static PlumbVec2
bisect (const Grid *grid, PlumbVec2 below, PlumbVec2 above, double level)
{
  for (int i = 0; i < HALVINGS; i++)
    {
      PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (below, above), 0.5);
      double value;
      if (grid->field (grid->data, middle, &value) && value >= level)
        above = middle;
      else
        below = middle;
    }
  return plumb_vec2_scale (plumb_vec2_add (below, above), 0.5);
}

static void
cross (const Grid *grid, Crossing *crossing, int c0, int r0, int c1, int r1, double level)
{
  bool a = grid->node[r0][c0] >= level, b = grid->node[r1][c1] >= level;
  *crossing = (Crossing){ .crossed = a != b, .next = { NO_EDGE, NO_EDGE } };
  if (a == b)
    return;
  PlumbVec2 p = node_at (grid, c0, r0), q = node_at (grid, c1, r1);
  crossing->at = a ? bisect (grid, q, p, level) : bisect (grid, p, q, level);
}

static void
cross_all (const Grid *grid, Crossing *crossings, double level)
{
  for (int r = 0; r <= ROWS; r++)
    for (int c = 0; c < COLUMNS; c++)
      cross (grid, &crossings[r * COLUMNS + c], c, r, c + 1, r, level);
  for (int r = 0; r < ROWS; r++)
    for (int c = 0; c <= COLUMNS; c++)
      cross (grid, &crossings[N_ACROSS + r * (COLUMNS + 1) + c], c, r, c, r + 1, level);
}

static void
join (Crossing *crossings, int a, int b)
{
  crossings[a].next[crossings[a].next[0] != NO_EDGE] = b;
  crossings[b].next[crossings[b].next[0] != NO_EDGE] = a;
}

/* The crossed sides of a cell, in order round it; of four, the middle tells
 * which belong together. */
static void
join_cell (const Grid *grid, Crossing *crossings, int c, int r, double level)
{
  const int side[4] = { r * COLUMNS + c, N_ACROSS + r * (COLUMNS + 1) + c + 1, (r + 1) * COLUMNS + c,
                        N_ACROSS + r * (COLUMNS + 1) + c };
  int found[4], n = 0;
  for (int k = 0; k < 4; k++)
    if (crossings[side[k]].crossed)
      found[n++] = side[k];
  if (n == 2)
    join (crossings, found[0], found[1]);
  if (n != 4)
    return;
  double middle;
  bool low = grid->field (grid->data, node_at (grid, c + 0.5, r + 0.5), &middle) && middle >= level;
  /* Where middle and first corner are on one side, the lines cut off the
   * corners at the right below and the left above. */
  if (low == (grid->node[r][c] >= level))
    {
      join (crossings, side[0], side[1]);
      join (crossings, side[2], side[3]);
    }
  else
    {
      join (crossings, side[0], side[3]);
      join (crossings, side[1], side[2]);
    }
}

/* ---- lines ---------------------------------------------------------------------------- */

/* From an edge on until the line ends or closes; what is passed is spent. */
static void
follow (PlumbIsolines *out, Crossing *crossings, int edge, double level)
{
  PlumbIsoline line = { level, false, out->points->len, 0 };
  int begin = edge, before = NO_EDGE;
  while (edge != NO_EDGE && crossings[edge].crossed)
    {
      crossings[edge].crossed = false;
      g_array_append_val (out->points, crossings[edge].at);
      int next = crossings[edge].next[0] != before ? crossings[edge].next[0] : crossings[edge].next[1];
      before = edge;
      edge = next;
    }
  line.closed = edge == begin && before != begin;
  line.n = out->points->len - line.first;
  if (line.n > 1)
    g_array_append_val (out->lines, line);
}

static void
trace (const Grid *grid, PlumbIsolines *out, Crossing *crossings, double level)
{
  cross_all (grid, crossings, level);
  for (int r = 0; r < ROWS; r++)
    for (int c = 0; c < COLUMNS; c++)
      join_cell (grid, crossings, c, r, level);
  /* Open lines from their ends first. */
  for (int i = 0; i < N_EDGES; i++)
    if (crossings[i].crossed && crossings[i].next[1] == NO_EDGE)
      follow (out, crossings, i, level);
  for (int i = 0; i < N_EDGES; i++)
    if (crossings[i].crossed)
      follow (out, crossings, i, level);
}

static double
step_for (double range, int most_lines)
{
  static const double steps[3] = { 1.0, 2.0, 5.0 };
  double ten = pow (10.0, floor (log10 (range / most_lines)));
  for (int k = 0; k < 3; k++)
    if (range / (steps[k] * ten) <= most_lines)
      return steps[k] * ten;
  return 10.0 * ten;
}

PlumbIsolines
plumb_isolines_make (PlumbIsoField field, const void *data, const PlumbRect *area, int most_lines, double even_share)
{
  PlumbIsolines out = { .points = g_array_new (FALSE, FALSE, sizeof (PlumbVec2)),
                        .lines = g_array_new (FALSE, FALSE, sizeof (PlumbIsoline)) };
  Grid *grid = g_new (Grid, 1);
  grid->field = field;
  grid->data = data;
  grid->area = *area;
  out.known = area->width_m > 0.0 && area->height_m > 0.0 && sample (grid, &out);
  if (out.known)
    climb (grid, &out);
  if (out.known && out.greatest - out.least > even_share * fabs (out.greatest))
    {
      Crossing *crossings = g_new (Crossing, N_EDGES);
      out.step = step_for (out.greatest - out.least, most_lines);
      for (double k = floor (out.least / out.step) + 1.0; k * out.step < out.greatest; k++)
        trace (grid, &out, crossings, k * out.step);
      g_free (crossings);
    }
  g_free (grid);
  return out;
}

void
plumb_isolines_clear (PlumbIsolines *isolines)
{
  g_clear_pointer (&isolines->points, g_array_unref);
  g_clear_pointer (&isolines->lines, g_array_unref);
}
