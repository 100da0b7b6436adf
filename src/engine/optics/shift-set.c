/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making and placing sets of allowed shift. */
#include "shift-set-private.h"

#include "plumbeam/assert.h"

/* The next point lies right of a -> b, or on it: b is no corner of the hull. */
static bool
is_no_corner (PlumbVec2 a, PlumbVec2 b, PlumbVec2 next)
{
  return plumb_vec2_cross (plumb_vec2_sub (b, a), plumb_vec2_sub (next, a)) <= 0.0;
}

static bool
comes_before (PlumbVec2 a, PlumbVec2 b)
{
  return a.x < b.x || (a.x == b.x && a.y < b.y);
}

/* Sorts by (x, y) and drops equal points. */
static size_t
sort_points (const PlumbVec2 *points, size_t n_points, PlumbVec2 *sorted)
{
  size_t n_sorted = 0;

  for (size_t i = 0; i < n_points; i++)
    {
      size_t at = n_sorted;
      while (at > 0 && comes_before (points[i], sorted[at - 1]))
        at--;
      if (at > 0 && !comes_before (sorted[at - 1], points[i]))
        continue;
      for (size_t k = n_sorted; k > at; k--)
        sorted[k] = sorted[k - 1];
      sorted[at] = points[i];
      n_sorted++;
    }
  return n_sorted;
}

/* Convex hull by the monotone chain: along the lower side to the right, back
 * along the upper one. */
bool
plumb_shift_set_polygon (const PlumbVec2 *points, size_t n_points, PlumbShiftSet *out)
{
  PlumbVec2 sorted[PLUMB_SHIFT_MAX_POINTS], hull[2 * PLUMB_SHIFT_MAX_POINTS];

  if (n_points == 0 || n_points > PLUMB_SHIFT_MAX_POINTS)
    return false;
  for (size_t i = 0; i < n_points; i++)
    if (!isfinite (points[i].x) || !isfinite (points[i].y))
      return false;

  size_t n_sorted = sort_points (points, n_points, sorted), n_hull = 0;
  for (size_t i = 0; i < n_sorted; i++)
    {
      while (n_hull >= 2 && is_no_corner (hull[n_hull - 2], hull[n_hull - 1], sorted[i]))
        n_hull--;
      hull[n_hull++] = sorted[i];
    }
  for (size_t i = n_sorted - 1, lower = n_hull + 1; i-- > 0;)
    {
      while (n_hull >= lower && is_no_corner (hull[n_hull - 2], hull[n_hull - 1], sorted[i]))
        n_hull--;
      hull[n_hull++] = sorted[i];
    }

  *out = (PlumbShiftSet){ .kind = PLUMB_SHIFT_KIND_POLYGON, .n_points = n_hull > 1 ? n_hull - 1 : 1 };
  for (size_t i = 0; i < out->n_points; i++)
    out->point[i] = hull[i];
  return true;
}

static PlumbShiftSet
hull_of (const PlumbVec2 *points, size_t n_points)
{
  PlumbShiftSet set;

  PLUMB_ASSERT (plumb_shift_set_polygon (points, n_points, &set));
  return set;
}

PlumbShiftSet
plumb_shift_set_none (void)
{
  return (PlumbShiftSet){ .kind = PLUMB_SHIFT_KIND_POLYGON, .n_points = 1 };
}

PlumbShiftSet
plumb_shift_set_rectangle (double left, double right, double down, double up)
{
  PlumbVec2 points[4] = { { -left, -down }, { right, -down }, { right, up }, { -left, up } };

  return hull_of (points, 4);
}

PlumbShiftSet
plumb_shift_set_diamond (double left, double right, double down, double up)
{
  PlumbVec2 points[4] = { { -left, 0.0 }, { 0.0, -down }, { right, 0.0 }, { 0.0, up } };

  return hull_of (points, 4);
}

PlumbShiftSet
plumb_shift_set_corner_cut (double h_max, double v_max, double h_at_v_max, double v_at_h_max, PlumbVec2 diagonal)
{
  PlumbVec2 printed[5] = { { h_max, 0.0 }, { 0.0, v_max }, { h_max, v_at_h_max }, { h_at_v_max, v_max }, diagonal };
  PlumbVec2 points[20];
  size_t n_points = 0;

  for (int quadrant = 0; quadrant < 4; quadrant++)
    for (int k = 0; k < 5; k++)
      points[n_points++]
          = plumb_vec2 (quadrant & 1 ? -printed[k].x : printed[k].x, quadrant & 2 ? -printed[k].y : printed[k].y);
  return hull_of (points, n_points);
}

PlumbShiftSet
plumb_shift_set_ellipse (double h_max, double v_max)
{
  PLUMB_ASSERT (isfinite (h_max) && isfinite (v_max));
  return (PlumbShiftSet){
    .kind = PLUMB_SHIFT_KIND_ELLIPSE,
    .radius = { fabs (h_max), fabs (v_max) },
  };
}

PlumbShiftSet
plumb_shift_set_circle (double v_max, double aspect)
{
  PLUMB_ASSERT (isfinite (v_max) && aspect > 0.0 && isfinite (aspect));
  return (PlumbShiftSet){
    .kind = PLUMB_SHIFT_KIND_CIRCLE,
    .radius = { 0.5, 0.5 },
    .circle_radius_heights = hypot (aspect / 2.0, 0.5 + fabs (v_max)),
    .aspect = aspect,
  };
}

/* A mirrored polygon runs the other way round; the hull puts that right. */
PlumbShiftSet
plumb_shift_set_place (const PlumbShiftSet *set, double scale, PlumbVec2 offset, bool inverted, bool rear)
{
  double turn = inverted ? -1.0 : 1.0, mirror = rear ? -turn : turn;
  PlumbShiftSet placed = *set;

  placed.centre = plumb_vec2 (mirror * (set->centre.x * scale + offset.x), turn * (set->centre.y * scale + offset.y));
  placed.radius = plumb_vec2_scale (set->radius, fabs (scale));
  placed.circle_radius_heights = set->circle_radius_heights * fabs (scale);
  for (size_t i = 0; i < set->n_points; i++)
    placed.point[i]
        = plumb_vec2 (mirror * (set->point[i].x * scale + offset.x), turn * (set->point[i].y * scale + offset.y));
  return set->kind == PLUMB_SHIFT_KIND_POLYGON ? hull_of (placed.point, placed.n_points) : placed;
}

/* ------------------------------------------------------------- its outline */

PlumbShiftArc
plumb_shift_arc (const PlumbShiftSet *set, double width, double height)
{
  if (set->kind == PLUMB_SHIFT_KIND_ELLIPSE)
    return (PlumbShiftArc){
      .half_x = set->radius.x * width,
      .half_y = set->radius.y * height,
      .last_rad = PLUMB_PI / 2.0,
    };

  /* The panel's corner on the lens circle: the arc's own centre lies half a
   * panel outside the set's. A circle that does not hold the panel leaves no
   * shift, and the arc shrinks to the centre. */
  double reach = set->circle_radius_heights, half = set->radius.x * set->aspect;
  PlumbShiftArc arc = {
    .from_x = -set->radius.x * width,
    .from_y = -set->radius.y * height,
    .half_x = reach * width / set->aspect,
    .half_y = reach * height,
  };
  if (reach > hypot (half, set->radius.y))
    {
      arc.first_rad = asin (set->radius.y / reach);
      arc.last_rad = acos (half / reach);
      return arc;
    }
  return (PlumbShiftArc){ 0 };
}

/* The ends lie on the axes by definition; rounding must not move them off. */
PlumbVec2
plumb_shift_arc_point (const PlumbShiftArc *arc, double angle_rad)
{
  return plumb_vec2 (fmax (0.0, arc->from_x + arc->half_x * cos (angle_rad)),
                     fmax (0.0, arc->from_y + arc->half_y * sin (angle_rad)));
}

bool
plumb_shift_arc_holds (const PlumbShiftArc *arc, PlumbVec2 point)
{
  if (!(arc->half_x > 0.0 && arc->half_y > 0.0))
    {
      PlumbVec2 end = plumb_shift_arc_point (arc, arc->first_rad), top = plumb_shift_arc_point (arc, arc->last_rad);
      return point.x <= end.x && point.y <= top.y;
    }
  return hypot ((point.x - arc->from_x) / arc->half_x, (point.y - arc->from_y) / arc->half_y) <= 1.0;
}

static size_t
curved_outline (const PlumbShiftSet *set, PlumbVec2 *points, size_t capacity)
{
  PlumbShiftArc arc = plumb_shift_arc (set, 1.0, 1.0);
  size_t per_quadrant = (capacity < PLUMB_SHIFT_MAX_POINTS ? capacity : PLUMB_SHIFT_MAX_POINTS) / 4;

  for (size_t quadrant = 0; quadrant < 4; quadrant++)
    for (size_t k = 0; k < per_quadrant; k++)
      {
        /* Odd quadrants run from the v axis back to the h axis. */
        double share = (double) k / (double) per_quadrant;
        double way = quadrant % 2 == 0 ? share : 1.0 - share;
        PlumbVec2 p = plumb_shift_arc_point (&arc, arc.first_rad + way * (arc.last_rad - arc.first_rad));
        bool left = quadrant == 1 || quadrant == 2, below = quadrant >= 2;

        points[quadrant * per_quadrant + k]
            = plumb_vec2_add (set->centre, plumb_vec2 (left ? -p.x : p.x, below ? -p.y : p.y));
      }
  return 4 * per_quadrant;
}

size_t
plumb_shift_set_outline (const PlumbShiftSet *set, PlumbVec2 *points, size_t capacity)
{
  if (set->kind != PLUMB_SHIFT_KIND_POLYGON)
    return curved_outline (set, points, capacity);

  size_t n_points = set->n_points < capacity ? set->n_points : capacity;
  for (size_t i = 0; i < n_points; i++)
    points[i] = set->point[i];
  return n_points;
}

static double
polygon_h_limit (const PlumbShiftSet *set, double v_share)
{
  double limit = -1.0;

  for (size_t i = 0; i < set->n_points; i++)
    {
      PlumbVec2 a = set->point[i], b = set->point[(i + 1) % set->n_points];

      if (fmin (a.y, b.y) > v_share || fmax (a.y, b.y) < v_share)
        continue;
      double h = a.y == b.y ? fmax (a.x, b.x) : a.x + (b.x - a.x) * ((v_share - a.y) / (b.y - a.y));
      limit = fmax (limit, h);
    }
  return limit;
}

double
plumb_shift_set_h_limit (const PlumbShiftSet *set, double v_share)
{
  if (set->kind == PLUMB_SHIFT_KIND_POLYGON)
    return polygon_h_limit (set, v_share);

  PlumbShiftArc arc = plumb_shift_arc (set, 1.0, 1.0);
  double v = fabs (v_share - set->centre.y);
  if (v > plumb_shift_arc_point (&arc, arc.last_rad).y)
    return -1.0;
  if (!(arc.half_y > 0.0))
    return set->centre.x + plumb_shift_arc_point (&arc, arc.first_rad).x;

  double sine = plumb_clamp ((v - arc.from_y) / arc.half_y, 0.0, 1.0);
  return set->centre.x + fmax (0.0, arc.from_x + arc.half_x * sqrt (1.0 - sine * sine));
}
