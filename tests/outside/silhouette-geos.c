/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Unions of silhouettes against GEOS (OverlayNG): the same corners projected
 * here by similar triangles, hull, clip and union all by GEOS. Curved bodies
 * stand there as polygons of 4096 corners on the curve where sight touches
 * them, whose area falls short by (2π/4096)²/6 = 4e-7 of an ellipse.
 */
#include <geos_c.h>
#include <glib.h>
#include <stdarg.h>

#include "plumbeam/sight.h"

#define N_SCENES 200
#define N_CURVED 60
#define MOST_BODIES 20
#define TURN 4096
#define PLANE_FACED_SHARE 1e-9
#define CURVED_SHARE 1e-6

static const PlumbRect picture = { .centre_m = { 0.3, -0.2 }, .width_m = 4, .height_m = 2.5 };

/* ---- GEOS --------------------------------------------------------------------------- */

static void
complain (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  g_error ("GEOS: %s", text);
}

static GEOSGeometry *
hull_of (const PlumbVec2 *points, guint n)
{
  GEOSCoordSequence *sequence = GEOSCoordSeq_create (n, 2);

  for (guint k = 0; k < n; k++)
    g_assert_true (GEOSCoordSeq_setXY (sequence, k, points[k].x, points[k].y));
  GEOSGeometry *line = GEOSGeom_createLineString (sequence);
  GEOSGeometry *hull = GEOSConvexHull (line);
  GEOSGeom_destroy (line);
  g_assert_nonnull (hull);
  return hull;
}

static GEOSGeometry *
on_picture (const PlumbVec2 *points, guint n)
{
  double x = picture.width_m / 2.0, y = picture.height_m / 2.0;
  const PlumbVec2 c = picture.centre_m;
  const PlumbVec2 corner[4]
      = { { c.x - x, c.y - y }, { c.x + x, c.y - y }, { c.x + x, c.y + y }, { c.x - x, c.y + y } };
  GEOSGeometry *whole = hull_of (corner, 4), *hull = hull_of (points, n);
  GEOSGeometry *seen = GEOSIntersection (whole, hull);

  GEOSGeom_destroy (whole);
  GEOSGeom_destroy (hull);
  g_assert_nonnull (seen);
  return seen;
}

/* Takes the parts over. */
static double
union_area (GEOSGeometry **part, guint n)
{
  double area = 0.0;
  GEOSGeometry *all = GEOSGeom_createCollection (GEOS_GEOMETRYCOLLECTION, part, n);
  GEOSGeometry *one = GEOSUnaryUnion (all);

  g_assert_nonnull (one);
  g_assert_true (GEOSArea (one, &area));
  GEOSGeom_destroy (one);
  GEOSGeom_destroy (all);
  return area;
}

/* ---- scenes ------------------------------------------------------------------------- */

typedef struct {
  PlumbVec3 eye;
  PlumbPlaneFrame plane;
  GRand *rand;
  /* Our silhouettes and theirs. */
  guint n_ours, n_theirs;
  PlumbSilhouette ours[MOST_BODIES];
  GEOSGeometry *theirs[MOST_BODIES];
} Scene;

static PlumbVec3
random_vec (GRand *rand, double reach)
{
  double x = g_rand_double_range (rand, -reach, reach), y = g_rand_double_range (rand, -reach, reach);

  return plumb_vec3 (x, y, g_rand_double_range (rand, -reach, reach));
}

static void
random_axes (GRand *rand, PlumbVec3 axis[3])
{
  axis[0] = plumb_vec3_unit (plumb_vec3_add (random_vec (rand, 1), plumb_vec3 (0.01, 0, 0)));
  axis[1] = plumb_vec3_unit (plumb_vec3_cross (axis[0], plumb_vec3_add (random_vec (rand, 1), plumb_vec3 (0, 0, 2))));
  axis[2] = plumb_vec3_cross (axis[0], axis[1]);
}

static void
begin (Scene *s)
{
  PlumbVec3 axis[3];

  random_axes (s->rand, axis);
  s->plane = (PlumbPlaneFrame){ random_vec (s->rand, 3), axis[0], axis[1], axis[2] };
  s->eye = plumb_vec3_along (s->plane.origin_m, axis[2], g_rand_double_range (s->rand, 2, 6));
  s->eye = plumb_vec3_along (s->eye, axis[0], g_rand_double_range (s->rand, -2, 2));
  s->n_ours = s->n_theirs = 0;
}

/* A place on the ray from the eye to somewhere on the picture, or near it. */
static PlumbVec3
random_place (Scene *s, double least, double most)
{
  PlumbVec3 target = plumb_vec3_along (s->plane.origin_m, s->plane.u, g_rand_double_range (s->rand, -2.2, 2.8));
  double share = g_rand_double_range (s->rand, least, most);

  target = plumb_vec3_along (target, s->plane.v, g_rand_double_range (s->rand, -1.7, 1.3));
  return plumb_vec3_along (plumb_vec3_scale (s->eye, 1.0 - share), target, share);
}

static double
height_of (const Scene *s, PlumbVec3 p)
{
  return plumb_vec3_dot (plumb_vec3_sub (p, s->plane.origin_m), s->plane.n);
}

static PlumbVec2
project (const Scene *s, PlumbVec3 p)
{
  double top = height_of (s, s->eye);
  PlumbVec3 way = plumb_vec3_sub (p, s->eye), at = plumb_vec3_along (s->eye, way, top / (top - height_of (s, p)));

  at = plumb_vec3_sub (at, s->plane.origin_m);
  return plumb_vec2 (plumb_vec3_dot (at, s->plane.u), plumb_vec3_dot (at, s->plane.v));
}

static void
add (Scene *s, const PlumbOccluder *body, const PlumbVec2 *projected, guint n)
{
  if (plumb_silhouette (s->eye, &s->plane, &picture, body, &s->ours[s->n_ours]))
    s->n_ours++;
  if (n >= 3)
    s->theirs[s->n_theirs++] = on_picture (projected, n);
}

static double
gap_share (Scene *s)
{
  double ours = plumb_silhouettes_area_m2 (s->ours, s->n_ours), theirs = union_area (s->theirs, s->n_theirs);

  return fabs (ours - theirs) / fmax (theirs, 1e-3);
}

/* ---- bodies with plane faces -------------------------------------------------------- */

static void
add_hull (Scene *s, double least, double most)
{
  PlumbVec3 point[10], place = random_place (s, least, most);
  PlumbVec2 projected[10 + 2 * 45];
  guint n = (guint) g_rand_int_range (s->rand, 4, 11), n_projected = 0;
  double top = height_of (s, s->eye), size = g_rand_double_range (s->rand, 0.05, 0.6);
  /* The eye's own plane throws to infinity: one millionth before it, as the engine has it. */
  const double level[2] = { 0.0, top * (1.0 - 1e-6) };

  for (guint k = 0; k < n; k++)
    {
      point[k] = plumb_vec3_add (place, random_vec (s->rand, size));
      double h = height_of (s, point[k]);
      if (h >= level[0] && h <= level[1])
        projected[n_projected++] = project (s, point[k]);
    }
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++)
      for (int k = 0; k < 2; k++)
        {
          double a = height_of (s, point[i]) - level[k], b = height_of (s, point[j]) - level[k];
          if (a * b < 0.0)
            projected[n_projected++] = project (
                s, plumb_vec3_scale (plumb_vec3_along (plumb_vec3_scale (point[j], a), point[i], -b), 1.0 / (a - b)));
        }
  PlumbOccluder body = { .shape = PLUMB_OCCLUDER_HULL, .points = point, .n_points = n };
  add (s, &body, projected, n_projected);
}

static void
check_hulls (guint seed, double least, double most, double allowed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree Scene *s = g_new0 (Scene, 1);
  double worst = 0.0;

  s->rand = rand;
  for (int scene = 0; scene < N_SCENES; scene++)
    {
      guint n = (guint) g_rand_int_range (rand, 2, MOST_BODIES + 1);
      begin (s);
      for (guint k = 0; k < n; k++)
        add_hull (s, least, most);
      worst = fmax (worst, gap_share (s));
    }
  g_test_message ("%d scenes, worst share %.2g", N_SCENES, worst);
  g_assert_cmpfloat (worst, <, allowed);
}

static void
test_hulls (void)
{
  check_hulls (71, 0.35, 0.8, PLANE_FACED_SHARE);
}

static void
test_hulls_at_picture (void)
{
  check_hulls (72, 0.8, 1.15, PLANE_FACED_SHARE);
}

static void
test_hulls_at_eye (void)
{
  check_hulls (73, -0.1, 0.3, PLANE_FACED_SHARE);
}

/* ---- curved bodies ------------------------------------------------------------------ */

/* In the terms of the unit sphere an eye at m sees the circle x·m = 1. */
static guint
ellipsoid_contact (const Scene *s, const PlumbOccluder *body, PlumbVec2 *out)
{
  PlumbVec3 rel = plumb_vec3_sub (s->eye, body->centre_m);
  PlumbVec3 m = { plumb_vec3_dot (rel, body->axis[0]) / body->half_m.x,
                  plumb_vec3_dot (rel, body->axis[1]) / body->half_m.y,
                  plumb_vec3_dot (rel, body->axis[2]) / body->half_m.z };
  double d = plumb_vec3_length (m), r = sqrt (1.0 - 1.0 / (d * d));
  PlumbVec3 g = plumb_vec3_scale (m, 1.0 / d);
  PlumbVec3 any = fabs (g.x) < 0.7 ? plumb_vec3 (1, 0, 0) : plumb_vec3 (0, 1, 0);
  PlumbVec3 e = plumb_vec3_unit (plumb_vec3_cross (g, any));
  PlumbVec3 f = plumb_vec3_cross (g, e);

  for (guint k = 0; k < TURN; k++)
    {
      double t = 2.0 * PLUMB_PI * k / TURN;
      PlumbVec3 x = plumb_vec3_along (plumb_vec3_scale (g, 1.0 / d), e, r * cos (t));
      x = plumb_vec3_along (x, f, r * sin (t));
      PlumbVec3 p = plumb_vec3_along (body->centre_m, body->axis[0], x.x * body->half_m.x);
      p = plumb_vec3_along (p, body->axis[1], x.y * body->half_m.y);
      out[k] = project (s, plumb_vec3_along (p, body->axis[2], x.z * body->half_m.z));
    }
  return TURN;
}

static guint
cylinder_rims (const Scene *s, const PlumbOccluder *body, PlumbVec2 *out)
{
  for (guint k = 0; k < 2 * TURN; k++)
    {
      double t = 2.0 * PLUMB_PI * (k / 2) / TURN;
      PlumbVec3 p = plumb_vec3_along (body->centre_m, body->axis[0], body->half_m.x * cos (t));
      p = plumb_vec3_along (p, body->axis[1], body->half_m.x * sin (t));
      out[k] = project (s, plumb_vec3_along (p, body->axis[2], k % 2 == 0 ? body->half_m.z : -body->half_m.z));
    }
  return 2 * TURN;
}

static void
add_curved (Scene *s, PlumbOccluderShape shape)
{
  static PlumbVec2 projected[2 * TURN];
  PlumbVec3 axis[3];

  if (shape == PLUMB_OCCLUDER_HULL)
    {
      add_hull (s, 0.4, 0.8);
      return;
    }
  random_axes (s->rand, axis);
  PlumbOccluder body = { .shape = shape, .axis = { axis[0], axis[1], axis[2] } };
  body.centre_m = random_place (s, 0.4, 0.75);
  body.half_m = plumb_vec3 (g_rand_double_range (s->rand, 0.05, 0.3), g_rand_double_range (s->rand, 0.05, 0.3),
                            g_rand_double_range (s->rand, 0.05, 0.3));
  if (shape == PLUMB_OCCLUDER_CYLINDER)
    body.half_m.y = body.half_m.x;
  guint n = shape == PLUMB_OCCLUDER_CYLINDER ? cylinder_rims (s, &body, projected)
                                             : ellipsoid_contact (s, &body, projected);
  add (s, &body, projected, n);
}

static void
check_curved (guint seed, int first, int last)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree Scene *s = g_new0 (Scene, 1);
  double worst = 0.0;

  s->rand = rand;
  for (int scene = 0; scene < N_CURVED; scene++)
    {
      guint n = (guint) g_rand_int_range (rand, 2, MOST_BODIES + 1);
      begin (s);
      for (guint k = 0; k < n; k++)
        add_curved (s, (PlumbOccluderShape) g_rand_int_range (rand, first, last + 1));
      worst = fmax (worst, gap_share (s));
    }
  g_test_message ("%d scenes, worst share %.2g", N_CURVED, worst);
  g_assert_cmpfloat (worst, <, CURVED_SHARE);
}

static void
test_ellipsoids (void)
{
  check_curved (74, PLUMB_OCCLUDER_ELLIPSOID, PLUMB_OCCLUDER_ELLIPSOID);
}

static void
test_cylinders (void)
{
  check_curved (75, PLUMB_OCCLUDER_CYLINDER, PLUMB_OCCLUDER_CYLINDER);
}

static void
test_mixed (void)
{
  check_curved (76, PLUMB_OCCLUDER_HULL, PLUMB_OCCLUDER_CYLINDER);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  initGEOS (complain, complain);
  g_test_message ("GEOS %s", GEOSversion ());
  g_test_add_func ("/outside/silhouette/geos/hulls", test_hulls);
  g_test_add_func ("/outside/silhouette/geos/hulls-at-picture", test_hulls_at_picture);
  g_test_add_func ("/outside/silhouette/geos/hulls-at-eye", test_hulls_at_eye);
  g_test_add_func ("/outside/silhouette/geos/ellipsoids", test_ellipsoids);
  g_test_add_func ("/outside/silhouette/geos/cylinders", test_cylinders);
  g_test_add_func ("/outside/silhouette/geos/mixed", test_mixed);
  int failed = g_test_run ();
  finishGEOS ();
  return failed;
}
