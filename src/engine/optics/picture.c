/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The raw picture, the greatest upright rectangle in it and what it costs. */
#include "linear-programme-private.h"

#define M_PER_MM 1e-3

/* A polygon thinner than this share of its own size squared has no area. */
#define NO_AREA_SHARE 1e-12
/* The height gives way by this share before the centre is chosen, so that
 * rounding cannot make the set of centres empty: a picometre per metre. */
#define HEIGHT_RESERVE_SHARE 1e-12

static const PlumbVec2 panel_corner[4] = { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 } };

/* A missing corner is left at the origin. */
bool
plumb_raw_picture (const PlumbHomography *map, PlumbQuad *out, unsigned *missing)
{
  unsigned lost = 0;

  for (unsigned k = 0; k < 4; k++)
    {
      out->corner[k] = plumb_vec2 (0.0, 0.0);
      if (!plumb_homography_apply (map, panel_corner[k], &out->corner[k]))
        lost |= 1u << k;
    }
  if (missing != NULL)
    *missing = lost;
  return lost == 0;
}

/* ----------------------------------------------------- greatest rectangle */

/* The polygon brought to size one about its middle; turn is -1 when it runs
 * clockwise. */
typedef struct {
  const PlumbVec2 *polygon;
  size_t n_points;
  PlumbVec2 middle;
  double size, turn, aspect;
} Shape;

static bool
shape_init (Shape *shape, const PlumbVec2 *polygon, size_t n_points, double aspect)
{
  if (n_points < 3 || !(aspect > 0.0))
    return false;

  PlumbVec2 least = polygon[0], most = polygon[0];
  for (size_t i = 1; i < n_points; i++)
    {
      least = plumb_vec2 (fmin (least.x, polygon[i].x), fmin (least.y, polygon[i].y));
      most = plumb_vec2 (fmax (most.x, polygon[i].x), fmax (most.y, polygon[i].y));
    }

  double area = plumb_polygon_area (polygon, n_points);
  *shape = (Shape){
    .polygon = polygon,
    .n_points = n_points,
    .middle = plumb_vec2_scale (plumb_vec2_add (least, most), 0.5),
    .size = fmax (most.x - least.x, most.y - least.y),
    .turn = area < 0.0 ? -1.0 : 1.0,
    .aspect = aspect,
  };
  return fabs (area) > NO_AREA_SHARE * shape->size * shape->size;
}

static PlumbVec2
shape_point (const Shape *shape, size_t i)
{
  return plumb_vec2_scale (plumb_vec2_sub (shape->polygon[i % shape->n_points], shape->middle), 1.0 / shape->size);
}

/* Edge i as a row over (centre x, centre y, height): with n its outward normal
 * and q a point of it, the farthest corner of the rectangle stays inside when
 *
 *     n·c + (aspect |n_x| + |n_y|) / 2 · h <= n·q. */
static void
edge_row (const Shape *shape, size_t i, double row[4])
{
  PlumbVec2 q = shape_point (shape, i);
  PlumbVec2 along = plumb_vec2_sub (shape_point (shape, i + 1), q);
  PlumbVec2 n = plumb_vec2 (shape->turn * along.y, -shape->turn * along.x);
  double reach = (shape->aspect * fabs (n.x) + fabs (n.y)) / 2.0;
  double length = sqrt (n.x * n.x + n.y * n.y + reach * reach);
  double scale = length > 0.0 ? 1.0 / length : 0.0;

  row[0] = n.x * scale;
  row[1] = n.y * scale;
  row[2] = reach * scale;
  row[3] = plumb_vec2_dot (n, q) * scale;
}

static void
edge_row_func (const void *data, size_t i, double row[4])
{
  edge_row (data, i, row);
}

/* The rows as lines over the centre, with the height fixed. */
static bool
centre_line (const Shape *shape, size_t i, double height, PlumbVec2 *normal, double *offset)
{
  double row[4];

  edge_row (shape, i, row);
  double length = hypot (row[0], row[1]);
  if (!(length > 0.0))
    return false;
  *normal = plumb_vec2 (row[0] / length, row[1] / length);
  *offset = (row[3] - row[2] * height) / length;
  return true;
}

/* The point of line i nearest to target that keeps the lines before it. */
static bool
nearest_on_line (const Shape *shape, size_t i, double height, PlumbVec2 target, PlumbVec2 *out)
{
  PlumbVec2 normal, other;
  double offset, other_offset, low = -INFINITY, high = INFINITY;

  if (!centre_line (shape, i, height, &normal, &offset))
    return false;

  PlumbVec2 foot = plumb_vec2_along (target, normal, offset - plumb_vec2_dot (normal, target));
  PlumbVec2 along = plumb_vec2 (-normal.y, normal.x);
  for (size_t j = 0; j < i; j++)
    {
      if (!centre_line (shape, j, height, &other, &other_offset))
        continue;
      double slope = plumb_vec2_dot (other, along);
      double left = other_offset - plumb_vec2_dot (other, foot);

      /* Parallel edges meet the reserve of the height, nothing else. */
      if (fabs (slope) <= HEIGHT_RESERVE_SHARE)
        continue;
      if (slope > 0.0)
        high = fmin (high, left / slope);
      else
        low = fmax (low, left / slope);
    }
  *out = plumb_vec2_along (foot, along, low > high ? (low + high) / 2.0 : plumb_clamp (0.0, low, high));
  return true;
}

/* The nearest point of the feasible centres, line by line as in the linear
 * programme: when a line cuts the nearest point so far off, the new one lies
 * on that line. */
static PlumbVec2
nearest_centre (const Shape *shape, double height, PlumbVec2 target)
{
  PlumbVec2 best = target, normal;
  double offset;

  for (size_t i = 0; i < shape->n_points; i++)
    if (centre_line (shape, i, height, &normal, &offset) && plumb_vec2_dot (normal, best) > offset)
      nearest_on_line (shape, i, height, target, &best);
  return best;
}

static double
worst_excess (const Shape *shape, double height, PlumbVec2 centre)
{
  double worst = 0.0, offset;
  PlumbVec2 normal;

  for (size_t i = 0; i < shape->n_points; i++)
    if (centre_line (shape, i, height, &normal, &offset))
      worst = fmax (worst, plumb_vec2_dot (normal, centre) - offset);
  return worst;
}

bool
plumb_greatest_rectangle (const PlumbVec2 *polygon, size_t n_points, double aspect, PlumbVec2 centre, PlumbRect *out)
{
  static const double cost[3] = { 0.0, 0.0, -1.0 };
  Shape shape;
  double best[3];

  /* Everything lies within half of size one; 2 bounds centre and height. */
  if (!shape_init (&shape, polygon, n_points, aspect)
      || !plumb_linear_programme_3_rows (edge_row_func, &shape, n_points, cost, 2.0, best) || !(best[2] > 0.0))
    return false;

  double height = best[2] * (1.0 - HEIGHT_RESERVE_SHARE);
  PlumbVec2 target = plumb_vec2_scale (plumb_vec2_sub (centre, shape.middle), 1.0 / shape.size);
  PlumbVec2 chosen = nearest_centre (&shape, height, target);
  PlumbVec2 solved = plumb_vec2 (best[0], best[1]);

  /* In a needle the nearest centre may be lost to rounding; the programme's
   * own centre is then as good as any. */
  if (!(worst_excess (&shape, height, chosen) <= fmax (HEIGHT_RESERVE_SHARE, worst_excess (&shape, height, solved))))
    chosen = solved;

  out->centre_m = plumb_vec2_along (shape.middle, chosen, shape.size);
  out->height_m = height * shape.size;
  out->width_m = aspect * out->height_m;
  return true;
}

PlumbQuad
plumb_rect_corners (const PlumbRect *rect)
{
  PlumbQuad quad;

  for (int k = 0; k < 4; k++)
    quad.corner[k] = plumb_vec2 (rect->centre_m.x + panel_corner[k].x * rect->width_m,
                                 rect->centre_m.y + panel_corner[k].y * rect->height_m);
  return quad;
}

/* --------------------------------------------------------- shares, pixels */

double
plumb_panel_share (const PlumbHomography *panel_to_plane, const PlumbRect *rect)
{
  PlumbHomography back;
  PlumbQuad corners = plumb_rect_corners (rect), on_panel;

  if (!plumb_homography_invert (panel_to_plane, &back))
    return 0.0;
  for (int k = 0; k < 4; k++)
    if (!plumb_homography_apply (&back, corners.corner[k], &on_panel.corner[k]))
      return 0.0;
  return fabs (plumb_polygon_area (on_panel.corner, 4));
}

typedef struct {
  double least, greatest;
} Range;

static void
range_add (Range *range, double value)
{
  range->least = fmin (range->least, value);
  range->greatest = fmax (range->greatest, value);
}

/* Along one picture axis the panel point moves by N / third² per metre, with
 * N linear in the *other* coordinate s alone and third linear in both. So
 * along the axis itself the density is monotone, and its extremes lie on the
 * two edges across, N = n0 + n1 s and third = t0 + t1 s there. On such an edge
 * |N|² / third⁴ is stationary where (N·n1) third = 2 |N|² t1, a quadratic. */
typedef struct {
  PlumbVec2 n0, n1;
  double t0, t1;
} DensityLine;

static double
density_at (const DensityLine *line, double s)
{
  double third = line->t0 + line->t1 * s;

  return plumb_vec2_length (plumb_vec2_along (line->n0, line->n1, s)) / (third * third);
}

static void
add_inside (Range *range, const DensityLine *line, double s, double low, double high)
{
  if (s > low && s < high)
    range_add (range, density_at (line, s));
}

static void
add_density_line (Range *range, const DensityLine *line, double low, double high)
{
  double n00 = plumb_vec2_dot (line->n0, line->n0), n01 = plumb_vec2_dot (line->n0, line->n1);
  double n11 = plumb_vec2_dot (line->n1, line->n1), t0 = line->t0, t1 = line->t1;
  double a = -n11 * t1;
  double half_b = (n11 * t0 - 3.0 * n01 * t1) / 2.0;
  double c = n01 * t0 - 2.0 * n00 * t1;
  double under_root = half_b * half_b - a * c;

  range_add (range, density_at (line, low));
  range_add (range, density_at (line, high));
  if (!(under_root >= 0.0))
    return;

  double q = -(half_b + copysign (sqrt (under_root), half_b));
  if (a != 0.0)
    add_inside (range, line, q / a, low, high);
  if (q != 0.0)
    add_inside (range, line, c / q, low, high);
}

/* g: plane to pixels. along, across: columns 0 and 1 of it in either order;
 * moving along column i, N of row r is g[r,i] third - g[6+i] (row r), from
 * which the terms in the coordinate i drop out. */
static void
add_density_axis (Range *range, const double g[9], int along, const double low[2], const double high[2])
{
  int across = 1 - along;
  DensityLine line = {
    .n0 = { g[along] * g[8] - g[6 + along] * g[2], g[3 + along] * g[8] - g[6 + along] * g[5] },
    .n1 = { g[along] * g[6 + across] - g[6 + along] * g[across],
            g[3 + along] * g[6 + across] - g[6 + along] * g[3 + across] },
    .t1 = g[6 + across],
  };

  line.t0 = g[8] + g[6 + along] * low[along];
  add_density_line (range, &line, low[across], high[across]);
  line.t0 = g[8] + g[6 + along] * high[along];
  add_density_line (range, &line, low[across], high[across]);
}

bool
plumb_pixel_density (const PlumbHomography *panel_to_plane, const PlumbRect *rect, double panel_px_w,
                     double panel_px_h, double *least_px_per_mm, double *greatest_px_per_mm)
{
  PlumbHomography back;
  PlumbQuad corners = plumb_rect_corners (rect);
  PlumbVec2 unused;

  if (!plumb_homography_invert (panel_to_plane, &back))
    return false;
  for (int k = 0; k < 4; k++)
    if (!plumb_homography_apply (&back, corners.corner[k], &unused))
      return false;
  for (int k = 0; k < 3; k++)
    {
      back.m[k] *= panel_px_w;
      back.m[3 + k] *= panel_px_h;
    }

  Range range = { INFINITY, 0.0 };
  double low[2] = { corners.corner[0].x, corners.corner[0].y };
  double high[2] = { corners.corner[2].x, corners.corner[2].y };
  add_density_axis (&range, back.m, 0, low, high);
  add_density_axis (&range, back.m, 1, low, high);
  *least_px_per_mm = range.least * M_PER_MM;
  *greatest_px_per_mm = range.greatest * M_PER_MM;
  return true;
}
