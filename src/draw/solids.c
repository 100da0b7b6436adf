/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/solids-private.h"

static GArray *
new_points (void)
{
  return g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
}

static void
close_hull (GArray *points)
{
  g_array_set_size (points, (guint) plumb_hull ((PlumbVec2 *) (void *) points->data, points->len));
}

/* Half sizes along a room direction: how far the solid reaches from its
 * centre. */
static double
reach (const PlumbSolid *solid, PlumbVec3 direction)
{
  double a = plumb_vec3_dot (solid->axis[0], direction) * solid->half_m.x;
  double b = plumb_vec3_dot (solid->axis[1], direction) * solid->half_m.y;
  double c = plumb_vec3_dot (solid->axis[2], direction) * solid->half_m.z;
  return solid->shape == PLUMB_SOLID_ELLIPSOID ? sqrt (a * a + b * b + c * c) : hypot (a, b) + fabs (c);
}

/* Corners of a polyhedron; rim points of a cylinder. An ellipsoid has none. */
static PlumbVec3 *
solid_points (const PlumbPen *pen, const PlumbSolid *solid, size_t *n)
{
  if (solid->shape == PLUMB_SOLID_POLYHEDRON)
    {
      *n = solid->n_corners;
      return g_memdup2 (pen->building->corners + solid->first_corner, solid->n_corners * sizeof (PlumbVec3));
    }
  PlumbVec3 *points = g_new (PlumbVec3, 2 * PLUMB_TURN_POINTS);
  *n = 2 * PLUMB_TURN_POINTS;
  for (int i = 0; i < PLUMB_TURN_POINTS; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / PLUMB_TURN_POINTS;
      PlumbVec3 rim = plumb_vec3_along (solid->centre_m, solid->axis[0], cos (angle) * solid->half_m.x);
      rim = plumb_vec3_along (rim, solid->axis[1], sin (angle) * solid->half_m.y);
      points[2 * i] = plumb_vec3_along (rim, solid->axis[2], solid->half_m.z);
      points[2 * i + 1] = plumb_vec3_along (rim, solid->axis[2], -solid->half_m.z);
    }
  return points;
}

void
plumb_solid_depths (const PlumbPen *pen, const PlumbSolid *solid, double *least_m, double *greatest_m)
{
  if (solid->shape != PLUMB_SOLID_POLYHEDRON)
    {
      double middle = plumb_draw_plane_depth_m (&pen->plane, solid->centre_m);
      double half = reach (solid, pen->plane.towards);
      *least_m = middle - half;
      *greatest_m = middle + half;
      return;
    }
  *least_m = INFINITY;
  *greatest_m = -INFINITY;
  for (uint32_t i = 0; i < solid->n_corners; i++)
    {
      double depth = plumb_draw_plane_depth_m (&pen->plane, pen->building->corners[solid->first_corner + i]);
      *least_m = fmin (*least_m, depth);
      *greatest_m = fmax (*greatest_m, depth);
    }
}

PlumbSolidSide
plumb_solid_side (const PlumbPen *pen, const PlumbSolid *solid)
{
  double least, greatest;
  plumb_solid_depths (pen, solid, &least, &greatest);
  if (greatest <= pen->plane.cut_m + PLUMB_POINT_TOLERANCE_M)
    return PLUMB_BEYOND_CUT;
  return least >= pen->plane.cut_m - PLUMB_POINT_TOLERANCE_M ? PLUMB_BEFORE_CUT : PLUMB_ON_CUT;
}

GArray *
plumb_points_outline (const PlumbPen *pen, const PlumbVec3 *points, size_t n)
{
  GArray *outline = new_points ();
  for (size_t i = 0; i < n; i++)
    {
      PlumbVec2 p = plumb_pen_project (pen, points[i]);
      if (isfinite (p.x) && isfinite (p.y))
        g_array_append_val (outline, p);
    }
  close_hull (outline);
  return outline;
}

/* Points of the ellipsoid's cut by the plane normal·(x − centre) = distance.
 * In coordinates in which it is the unit sphere the plane's normal is m and
 * the cut a circle about distance·m/|m|². */
static void
ellipsoid_circle (const PlumbPen *pen, const PlumbSolid *solid, PlumbVec3 m, double distance, GArray *out)
{
  double length = plumb_vec3_length (m);
  if (!(length > 0.0) || fabs (distance) >= length)
    return;
  PlumbVec3 e = plumb_vec3_scale (m, 1.0 / length);
  PlumbVec3 side = fabs (e.z) < 0.9 ? plumb_vec3 (0, 0, 1) : plumb_vec3 (1, 0, 0);
  PlumbVec3 a = plumb_vec3_unit (plumb_vec3_cross (side, e));
  PlumbVec3 b = plumb_vec3_cross (e, a);
  double away = distance / length;
  double radius = sqrt (1.0 - away * away);
  for (int i = 0; i < PLUMB_TURN_POINTS; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / PLUMB_TURN_POINTS;
      PlumbVec3 y = plumb_vec3_scale (e, away);
      y = plumb_vec3_along (y, a, radius * cos (angle));
      y = plumb_vec3_along (y, b, radius * sin (angle));
      PlumbVec3 x = plumb_vec3_along (solid->centre_m, solid->axis[0], y.x * solid->half_m.x);
      x = plumb_vec3_along (x, solid->axis[1], y.y * solid->half_m.y);
      x = plumb_vec3_along (x, solid->axis[2], y.z * solid->half_m.z);
      PlumbVec2 p = plumb_pen_project (pen, x);
      g_array_append_val (out, p);
    }
}

/* The silhouette seen along `towards`: where the surface's normal is square
 * to it, a great circle of the unit sphere. */
static void
ellipsoid_outline (const PlumbPen *pen, const PlumbSolid *solid, GArray *out)
{
  PlumbVec3 d = pen->plane.towards;
  PlumbVec3 m
      = { plumb_vec3_dot (solid->axis[0], d) / solid->half_m.x, plumb_vec3_dot (solid->axis[1], d) / solid->half_m.y,
          plumb_vec3_dot (solid->axis[2], d) / solid->half_m.z };
  ellipsoid_circle (pen, solid, m, 0.0, out);
}

static void
ellipsoid_section (const PlumbPen *pen, const PlumbSolid *solid, GArray *out)
{
  PlumbVec3 d = pen->plane.towards;
  PlumbVec3 m
      = { plumb_vec3_dot (solid->axis[0], d) * solid->half_m.x, plumb_vec3_dot (solid->axis[1], d) * solid->half_m.y,
          plumb_vec3_dot (solid->axis[2], d) * solid->half_m.z };
  double distance = pen->plane.cut_m - plumb_draw_plane_depth_m (&pen->plane, solid->centre_m);
  ellipsoid_circle (pen, solid, m, distance, out);
}

GArray *
plumb_solid_outline (const PlumbPen *pen, const PlumbSolid *solid)
{
  if (solid->shape == PLUMB_SOLID_ELLIPSOID)
    {
      GArray *outline = new_points ();
      ellipsoid_outline (pen, solid, outline);
      close_hull (outline);
      return outline;
    }
  size_t n;
  PlumbVec3 *points = solid_points (pen, solid, &n);
  GArray *outline = plumb_points_outline (pen, points, n);
  g_free (points);
  return outline;
}

/* The section of a convex body is the hull of where the segments between its
 * corners cross the plane. */
static void
points_section (const PlumbPen *pen, const PlumbVec3 *points, size_t n, GArray *out)
{
  for (size_t i = 0; i < n; i++)
    {
      double a = plumb_draw_plane_depth_m (&pen->plane, points[i]) - pen->plane.cut_m;
      for (size_t j = i + 1; j < n; j++)
        {
          double b = plumb_draw_plane_depth_m (&pen->plane, points[j]) - pen->plane.cut_m;
          if ((a > 0.0) == (b > 0.0))
            continue;
          PlumbVec3 way = plumb_vec3_sub (points[j], points[i]);
          PlumbVec2 p = plumb_pen_project (pen, plumb_vec3_along (points[i], way, a / (a - b)));
          g_array_append_val (out, p);
        }
    }
}

GArray *
plumb_solid_section (const PlumbPen *pen, const PlumbSolid *solid)
{
  GArray *section = new_points ();
  if (solid->shape == PLUMB_SOLID_ELLIPSOID)
    ellipsoid_section (pen, solid, section);
  else
    {
      size_t n;
      PlumbVec3 *points = solid_points (pen, solid, &n);
      points_section (pen, points, n, section);
      g_free (points);
    }
  close_hull (section);
  return section;
}
