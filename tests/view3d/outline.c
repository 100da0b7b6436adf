/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline.h"

#include <math.h>

/* Linear. Two steps of an 8-bit sRGB picture are 0.0006. */
#define DARK 0.001
#define LIT 0.03
#define LONGEST_RISE_PX 8
/* Nearer to a corner than this, two sides share the pixels. */
#define CORNER_PX 4.0
/* A side that is shorter tells no direction. */
#define LEAST_SIDE_PX 40.0

PlumbVec2
outline_project (const PlumbCamera *camera, int width_px, int height_px, PlumbVec3 point)
{
  float view[16], projection[16];
  double eye[4], clip[4], p[4] = { point.x, point.y, point.z, 1.0 };

  plumb_camera_matrices (camera, (double) width_px / height_px, 0.1, 100.0, view, projection);
  for (int r = 0; r < 4; r++)
    {
      eye[r] = 0.0;
      for (int c = 0; c < 4; c++)
        eye[r] += (double) view[4 * c + r] * p[c];
    }
  for (int r = 0; r < 4; r++)
    {
      clip[r] = 0.0;
      for (int c = 0; c < 4; c++)
        clip[r] += (double) projection[4 * c + r] * eye[c];
    }
  g_assert_cmpfloat (clip[3], >, 0.0);
  return plumb_vec2 (width_px * (0.5 + 0.5 * clip[0] / clip[3]), height_px * (0.5 - 0.5 * clip[1] / clip[3]));
}

static int
by_place (const void *a, const void *b)
{
  const PlumbVec2 *p = a, *q = b;

  if (p->x < q->x || p->x > q->x)
    return p->x < q->x ? -1 : 1;
  return (p->y > q->y) - (p->y < q->y);
}

/* Lower and upper chain (Andrew 1979). */
Outline
outline_hull (const PlumbVec2 *points, uint32_t n)
{
  PlumbVec2 sorted[OUTLINE_MAX_POINTS], chain[2 * OUTLINE_MAX_POINTS];
  uint32_t k = 0, least = 1;
  Outline hull = { 0 };

  g_assert_cmpuint (n, <=, OUTLINE_MAX_POINTS);
  memcpy (sorted, points, n * sizeof *sorted);
  qsort (sorted, n, sizeof *sorted, by_place);
  for (uint32_t i = 0; i < 2 * n - 1; i++)
    {
      PlumbVec2 p = sorted[i < n ? i : 2 * n - 2 - i];
      if (i == n)
        least = k;
      while (k > least
             && plumb_vec2_cross (plumb_vec2_sub (chain[k - 1], chain[k - 2]), plumb_vec2_sub (p, chain[k - 1]))
                    <= 0.0)
        k--;
      chain[k++] = p;
    }
  hull.n = k - 1;
  memcpy (hull.point, chain, hull.n * sizeof *chain);
  return hull;
}

static double
side_distance (const Outline *outline, uint32_t side, PlumbVec2 p)
{
  PlumbVec2 a = outline->point[side], d = plumb_vec2_sub (outline->point[(side + 1) % outline->n], a);
  return plumb_vec2_cross (d, plumb_vec2_sub (p, a)) / plumb_vec2_length (d);
}

double
outline_depth_px (const Outline *outline, PlumbVec2 point)
{
  double least = INFINITY;

  for (uint32_t s = 0; s < outline->n; s++)
    least = fmin (least, side_distance (outline, s, point));
  return least;
}

/* ---- finding ------------------------------------------------------------------- */

/* sRGB to linear, IEC 61966-2-1. */
static double
light_at (const Picture *picture, int x, int y)
{
  double v = picture->rgba[((gsize) y * (gsize) picture->width_px + (gsize) x) * 4 + 1] / 255.0;
  return v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4);
}

typedef struct {
  const Picture *picture;
  int x, y, dx, dy, n;
} Scan;

static double
scan_at (const Scan *scan, int i)
{
  return light_at (scan->picture, scan->x + i * scan->dx, scan->y + i * scan->dy);
}

/* The first pixel from i on that is as bright as the two after it; 0: none near. */
static int
plateau (const Scan *scan, int i)
{
  for (int k = i; k < i + LONGEST_RISE_PX && k + 2 < scan->n; k++)
    {
      double here = scan_at (scan, k), next = scan_at (scan, k + 1), after = scan_at (scan, k + 2);
      if (here > LIT && fabs (next - here) < 0.03 * here && fabs (after - here) < 0.05 * here)
        return k;
    }
  return 0;
}

static void
scan_line (const Scan *scan, const Outline *where, GArray *found)
{
  int dark = 0;

  for (int i = 0; i < scan->n; i++)
    {
      bool is_dark = scan_at (scan, i) < DARK;
      int top = !is_dark && dark >= 3 ? plateau (scan, i) : 0;
      dark = is_dark ? dark + 1 : 0;
      if (top == 0)
        continue;
      double edge = top, level = scan_at (scan, top);
      for (int k = i; k < top; k++)
        edge -= scan_at (scan, k) / level;
      /* From the middle of the first pixel to the side where the scan came in. */
      edge -= 0.5;
      EdgePoint p = { plumb_vec2 (scan->x + 0.5 + edge * scan->dx, scan->y + 0.5 + edge * scan->dy), scan->dx != 0 };
      if (outline_depth_px (where, p.at) > 0.0)
        g_array_append_val (found, p);
    }
}

GArray *
outline_find (const Picture *picture, const Outline *where)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (EdgePoint));
  int w = picture->width_px, h = picture->height_px;

  for (int y = 0; y < h; y++)
    {
      scan_line (&(Scan){ picture, 0, y, 1, 0, w }, where, found);
      scan_line (&(Scan){ picture, w - 1, y, -1, 0, w }, where, found);
    }
  for (int x = 0; x < w; x++)
    {
      scan_line (&(Scan){ picture, x, 0, 0, 1, h }, where, found);
      scan_line (&(Scan){ picture, x, h - 1, 0, -1, h }, where, found);
    }
  return found;
}

/* ---- comparing ------------------------------------------------------------------- */

typedef struct {
  PlumbVec2 middle, way;
  guint n;
} Line;

static bool
is_steep (const Outline *outline, uint32_t side)
{
  PlumbVec2 d = plumb_vec2_sub (outline->point[(side + 1) % outline->n], outline->point[side]);
  return fabs (d.y) > fabs (d.x);
}

/* Points of a side: beside it, away from its corners, read across it. */
static GArray *
points_of (const GArray *found, const Outline *outline, uint32_t side)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
  PlumbVec2 a = outline->point[side], d = plumb_vec2_sub (outline->point[(side + 1) % outline->n], a);
  double length = plumb_vec2_length (d);

  for (guint i = 0; i < found->len; i++)
    {
      const EdgePoint *p = &g_array_index (found, EdgePoint, i);
      double along = plumb_vec2_dot (d, plumb_vec2_sub (p->at, a)) / length;
      if (p->row == is_steep (outline, side) && fabs (side_distance (outline, side, p->at)) < CORNER_PX
          && along > CORNER_PX && along < length - CORNER_PX)
        g_array_append_val (points, p->at);
    }
  return points;
}

/* Least squares of the distances: the way of greatest spread. */
static Line
fit (const GArray *points)
{
  Line line = { .n = points->len };
  double xx = 0.0, xy = 0.0, yy = 0.0;

  for (guint i = 0; i < points->len; i++)
    line.middle = plumb_vec2_along (line.middle, g_array_index (points, PlumbVec2, i), 1.0 / points->len);
  for (guint i = 0; i < points->len; i++)
    {
      PlumbVec2 d = plumb_vec2_sub (g_array_index (points, PlumbVec2, i), line.middle);
      xx += d.x * d.x;
      xy += d.x * d.y;
      yy += d.y * d.y;
    }
  double turn = 0.5 * atan2 (2.0 * xy, xx - yy);
  line.way = plumb_vec2 (cos (turn), sin (turn));
  return line;
}

static Line
side_line (const GArray *found, const Outline *outline, uint32_t side, double most_px, OutlineErrors *errors)
{
  PlumbVec2 a = outline->point[side], b = outline->point[(side + 1) % outline->n], d = plumb_vec2_sub (b, a);
  double rows = fmax (fabs (d.x), fabs (d.y)) * (1.0 - 2.0 * CORNER_PX / plumb_vec2_length (d));
  Line line = { 0 };

  if (plumb_vec2_length (d) < LEAST_SIDE_PX)
    return line;
  GArray *points = points_of (found, outline, side);
  g_assert_cmpfloat (points->len, >=, 0.9 * rows);
  line = fit (points);
  double off_a = fabs (plumb_vec2_cross (line.way, plumb_vec2_sub (a, line.middle)));
  double off_b = fabs (plumb_vec2_cross (line.way, plumb_vec2_sub (b, line.middle)));
  errors->worst_line_px = fmax (errors->worst_line_px, fmax (off_a, off_b));
  g_assert_cmpfloat (fmax (off_a, off_b), <=, most_px);
  g_array_unref (points);
  return line;
}

static void
compare_corners (const Outline *outline, const Line *line, double most_px, OutlineErrors *errors)
{
  for (uint32_t s = 0; s < outline->n; s++)
    {
      const Line *in = &line[(s + outline->n - 1) % outline->n], *out = &line[s];
      double turn = plumb_vec2_cross (in->way, out->way);
      /* Two lines that hardly turn tell no corner. */
      if (in->n == 0 || out->n == 0 || fabs (turn) < 0.5)
        continue;
      double along = plumb_vec2_cross (plumb_vec2_sub (out->middle, in->middle), out->way) / turn;
      PlumbVec2 corner = plumb_vec2_along (in->middle, in->way, along);
      double off = plumb_vec2_length (plumb_vec2_sub (corner, outline->point[s]));
      errors->worst_corner_px = fmax (errors->worst_corner_px, off);
      g_assert_cmpfloat (off, <=, most_px);
    }
}

void
outline_compare (const GArray *found, const Outline *outlines, uint32_t n_outlines, double most_px,
                 OutlineErrors *errors)
{
  for (guint i = 0; i < found->len; i++)
    {
      PlumbVec2 p = g_array_index (found, EdgePoint, i).at;
      double off = INFINITY;
      for (uint32_t k = 0; k < n_outlines; k++)
        off = fmin (off, fabs (outline_depth_px (&outlines[k], p)));
      errors->worst_point_px = fmax (errors->worst_point_px, off);
      g_assert_cmpfloat (off, <=, most_px);
    }
  errors->n_points += found->len;
  for (uint32_t k = 0; k < n_outlines; k++)
    {
      Line line[OUTLINE_MAX_POINTS] = { 0 };
      for (uint32_t s = 0; s < outlines[k].n; s++)
        line[s] = side_line (found, &outlines[k], s, most_px, errors);
      compare_corners (&outlines[k], line, most_px, errors);
    }
}
