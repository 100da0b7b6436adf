/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a shift is from the edge of its set, and the nearest point. */
#include "shift-set-private.h"

#include "plumbeam/assert.h"

/* Of the bracketed Newton search for the foot on an arc; it takes about six. */
#define MAX_ROUNDS 100
/* Two steps of a double near one. */
#define SETTLED_RAD 4.5e-16

/* A point of the edge, how far it is in the metric and on which side. */
typedef struct {
  PlumbVec2 edge; /* in shares */
  double distance;
  bool inside;
} Foot;

static PlumbVec2
nearest_on_segment (PlumbVec2 a, PlumbVec2 b, PlumbVec2 p)
{
  PlumbVec2 along = plumb_vec2_sub (b, a);
  double length_squared = plumb_vec2_dot (along, along);

  if (!(length_squared > 0.0))
    return a;
  return plumb_vec2_along (a, along,
                           plumb_clamp (plumb_vec2_dot (plumb_vec2_sub (p, a), along) / length_squared, 0.0, 1.0));
}

static Foot
polygon_foot (const PlumbShiftSet *set, PlumbVec2 shift, PlumbVec2 metric)
{
  PlumbVec2 p = plumb_vec2 (shift.x * metric.x, shift.y * metric.y);
  Foot foot = { .distance = INFINITY, .inside = set->n_points >= 3 };

  for (size_t i = 0; i < set->n_points; i++)
    {
      PlumbVec2 a = set->point[i], b = set->point[(i + 1) % set->n_points];
      PlumbVec2 am = plumb_vec2 (a.x * metric.x, a.y * metric.y), bm = plumb_vec2 (b.x * metric.x, b.y * metric.y);
      PlumbVec2 nearest = nearest_on_segment (am, bm, p);
      double distance = plumb_vec2_length (plumb_vec2_sub (p, nearest));

      if (distance < foot.distance)
        {
          foot.distance = distance;
          foot.edge = plumb_vec2 (nearest.x / metric.x, nearest.y / metric.y);
        }
      if (plumb_vec2_cross (plumb_vec2_sub (bm, am), plumb_vec2_sub (p, am)) < 0.0)
        foot.inside = false;
    }
  return foot;
}

/* Where the way along the arc turns from nearing p to leaving it. With q = p
 * seen from the arc's own centre, half the derivative of the squared distance
 * is
 *
 *     g(φ) = (B² - A²) sin φ cos φ + A q_x sin φ - B q_y cos φ,
 *
 * which for q in the first quadrant changes from - to + at most once there. */
static double
foot_pull (double skew, double ax, double by, double angle)
{
  return skew * sin (angle) * cos (angle) + ax * sin (angle) - by * cos (angle);
}

static double
foot_angle (const PlumbShiftArc *arc, PlumbVec2 p)
{
  double low = arc->first_rad, high = arc->last_rad, angle = (low + high) / 2.0;
  double a = arc->half_x, b = arc->half_y;
  double skew = b * b - a * a, ax = a * (p.x - arc->from_x), by = b * (p.y - arc->from_y);

  if (foot_pull (skew, ax, by, low) > 0.0)
    return low;
  if (foot_pull (skew, ax, by, high) <= 0.0)
    return high;
  for (int round = 0; round < MAX_ROUNDS; round++)
    {
      double value = foot_pull (skew, ax, by, angle);
      double slope = skew * cos (2.0 * angle) + ax * cos (angle) + by * sin (angle);

      if (value > 0.0)
        high = angle;
      else
        low = angle;
      double next = angle - value / slope;
      if (!(slope > 0.0 && next >= low && next <= high))
        next = (low + high) / 2.0;
      if (fabs (next - angle) <= SETTLED_RAD)
        break;
      angle = next;
    }
  return angle;
}

static Foot
arc_foot (const PlumbShiftSet *set, PlumbVec2 shift, PlumbVec2 metric)
{
  PlumbShiftArc arc = plumb_shift_arc (set, metric.x, metric.y);
  PlumbVec2 seen = plumb_vec2_sub (shift, set->centre);
  PlumbVec2 p = plumb_vec2 (fabs (seen.x) * metric.x, fabs (seen.y) * metric.y);
  Foot foot = { .inside = plumb_shift_arc_holds (&arc, p) };
  PlumbVec2 nearest;

  if (arc.half_x > 0.0 && arc.half_y > 0.0)
    nearest = plumb_shift_arc_point (&arc, foot_angle (&arc, p));
  else
    {
      /* Shrunk to a line or a point. */
      PlumbVec2 end = plumb_shift_arc_point (&arc, arc.first_rad), top = plumb_shift_arc_point (&arc, arc.last_rad);
      nearest = plumb_vec2 (fmin (p.x, end.x), fmin (p.y, top.y));
    }

  foot.distance = plumb_vec2_length (plumb_vec2_sub (p, nearest));
  foot.edge = plumb_vec2 (set->centre.x + copysign (nearest.x, seen.x) / metric.x,
                          set->centre.y + copysign (nearest.y, seen.y) / metric.y);
  return foot;
}

static Foot
foot_of (const PlumbShiftSet *set, PlumbVec2 shift, double width_m, double height_m)
{
  PLUMB_ASSERT (width_m > 0.0 && height_m > 0.0);
  PlumbVec2 metric = plumb_vec2 (width_m, height_m);

  return set->kind == PLUMB_SHIFT_KIND_POLYGON ? polygon_foot (set, shift, metric) : arc_foot (set, shift, metric);
}

double
plumb_shift_set_room_m (const PlumbShiftSet *set, PlumbVec2 shift, double width_m, double height_m)
{
  Foot foot = foot_of (set, shift, width_m, height_m);

  return foot.inside ? foot.distance : -foot.distance;
}

bool
plumb_shift_set_holds (const PlumbShiftSet *set, PlumbVec2 shift, double tolerance_share)
{
  return plumb_shift_set_room_m (set, shift, 1.0, 1.0) >= -tolerance_share;
}

PlumbVec2
plumb_shift_set_nearest (const PlumbShiftSet *set, PlumbVec2 shift, double width_m, double height_m)
{
  Foot foot = foot_of (set, shift, width_m, height_m);

  return foot.inside ? shift : foot.edge;
}
