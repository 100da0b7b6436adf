/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/hit-private.h"

PlumbDrawShapes *
plumb_draw_shapes_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind)
{
  PlumbDrawShapes *shapes = g_new0 (PlumbDrawShapes, 1);
  shapes->points = g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
  shapes->shapes = g_array_new (FALSE, FALSE, sizeof (PlumbShape));
  plumb_shapes_gather (shapes, scene, evaluation, kind);
  return shapes;
}

void
plumb_draw_shapes_free (PlumbDrawShapes *shapes)
{
  if (shapes == NULL)
    return;
  g_array_unref (shapes->points);
  g_array_unref (shapes->shapes);
  g_free (shapes);
}

static const PlumbVec2 *
points_of (const PlumbDrawShapes *shapes, const PlumbShape *shape)
{
  return &g_array_index (shapes->points, PlumbVec2, shape->first);
}

static double
segment_distance (PlumbVec2 p, PlumbVec2 a, PlumbVec2 b)
{
  PlumbVec2 way = plumb_vec2_sub (b, a), to = plumb_vec2_sub (p, a);
  double square = plumb_vec2_dot (way, way);
  double share = square > 0.0 ? plumb_clamp (plumb_vec2_dot (to, way) / square, 0.0, 1.0) : 0.0;
  return plumb_vec2_length (plumb_vec2_sub (to, plumb_vec2_scale (way, share)));
}

/* Even-odd, so that an outline that crosses itself still has an inside. */
static bool
holds (const PlumbVec2 *points, size_t n, PlumbVec2 p)
{
  bool in = false;
  for (size_t i = 0, j = n - 1; i < n; j = i++)
    if ((points[i].y > p.y) != (points[j].y > p.y)
        && p.x < points[i].x + (points[j].x - points[i].x) * (p.y - points[i].y) / (points[j].y - points[i].y))
      in = !in;
  return in;
}

/* From the point to the outline or its inside, view metres. */
static double
outline_distance (const PlumbVec2 *points, size_t n, bool closed, PlumbVec2 p)
{
  if (closed && n >= 3 && holds (points, n, p))
    return 0.0;
  double least = plumb_vec2_length (plumb_vec2_sub (p, points[0]));
  for (size_t i = 1; i < n; i++)
    least = fmin (least, segment_distance (p, points[i - 1], points[i]));
  return closed && n >= 3 ? fmin (least, segment_distance (p, points[n - 1], points[0])) : least;
}

/* Whether a shape at a distance comes before the best so far. */
static bool
before (const PlumbShape *shape, double distance, const PlumbShape *best, double best_distance)
{
  if (best == NULL || (distance > 0.0) != (best_distance > 0.0))
    return best == NULL || distance < best_distance;
  if (distance > 0.0 && fabs (distance - best_distance) > 1e-9)
    return distance < best_distance;
  if (shape->rank != best->rank)
    return shape->rank < best->rank;
  if (shape->rank == PLUMB_RANK_THING && fabs (shape->area_m2 - best->area_m2) > 1e-9)
    return shape->area_m2 < best->area_m2;
  return shape->depth_m > best->depth_m;
}

bool
plumb_draw_shapes_at (const PlumbDrawShapes *shapes, const PlumbDrawView *view, PlumbVec2 device, double tolerance_px,
                      PlumbDrawHit *hit)
{
  PlumbVec2 p = plumb_draw_view_from_device (view, device);
  const PlumbShape *best = NULL;
  double best_distance = INFINITY;
  if (!isfinite (p.x) || !isfinite (p.y))
    return false;
  for (guint i = 0; i < shapes->shapes->len; i++)
    {
      const PlumbShape *shape = &g_array_index (shapes->shapes, PlumbShape, i);
      double reach = (shape->half_px + tolerance_px) / view->scale_per_m;
      if (p.x < shape->least.x - reach || p.x > shape->greatest.x + reach || p.y < shape->least.y - reach
          || p.y > shape->greatest.y + reach)
        continue;
      double away = outline_distance (points_of (shapes, shape), shape->n, shape->closed, p) * view->scale_per_m;
      double distance = fmax (away - shape->half_px, 0.0);
      if (distance > tolerance_px || !before (shape, distance, best, best_distance))
        continue;
      best = shape;
      best_distance = distance;
    }
  if (best == NULL)
    return false;
  *hit = (PlumbDrawHit){ best->subject, best->part, best_distance };
  return true;
}

void
plumb_draw_shapes_outline (const PlumbDrawShapes *shapes, PlumbSubject subject, PlumbDrawPart part,
                           PlumbDrawOutlineFunc each, gpointer data)
{
  for (guint i = 0; i < shapes->shapes->len; i++)
    {
      const PlumbShape *shape = &g_array_index (shapes->shapes, PlumbShape, i);
      if (shape->subject.kind == subject.kind && shape->subject.index == subject.index && shape->part == part
          && (subject.sub == PLUMB_NO_INDEX || shape->subject.sub == subject.sub))
        each (points_of (shapes, shape), shape->n, shape->closed, shape->half_px, data);
    }
}

bool
plumb_draw_hit (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbDrawView *view,
                PlumbVec2 device, double tolerance_px, PlumbDrawHit *hit)
{
  g_autoptr (PlumbDrawShapes) shapes = plumb_draw_shapes_new (scene, evaluation, view->kind);
  return plumb_draw_shapes_at (shapes, view, device, tolerance_px, hit);
}
