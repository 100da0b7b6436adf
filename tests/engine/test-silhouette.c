/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Silhouettes and the area of their union against closed forms of school
 * geometry: similar triangles, the tangent cone of a sphere and its section by
 * a plane (Dandelin: eccentricity = sin α / cos β), the lens of two circles.
 * Random scenes are compared with GEOS and NumPy in tests/outside.
 */
#include <glib.h>

#include "plumbeam/sight.h"

#define EXACT 1e-10
/* A body across a plane, as a share of its own area: its line is written in pieces. */
#define PIECED 1e-6
#define EYE_H 4.0

static const PlumbPlaneFrame floor_plane = { .u = { 1, 0, 0 }, .v = { 0, 1, 0 }, .n = { 0, 0, 1 } };
static const PlumbRect wide = { .width_m = 10, .height_m = 10 };
static const PlumbVec3 eye = { 0, 0, EYE_H };
static const PlumbVec3 upright[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
static const PlumbVec3 lying[3] = { { 0, 1, 0 }, { 0, 0, 1 }, { 1, 0, 0 } };

static PlumbOccluder
round_body (PlumbOccluderShape shape, PlumbVec3 centre, const PlumbVec3 axis[3], double x, double y, double z)
{
  return (PlumbOccluder){
    .shape = shape, .centre_m = centre, .axis = { axis[0], axis[1], axis[2] }, .half_m = { x, y, z }
  };
}

static PlumbOccluder
sphere (double x, double y, double z, double r)
{
  return round_body (PLUMB_OCCLUDER_ELLIPSOID, plumb_vec3 (x, y, z), upright, r, r, r);
}

static PlumbOccluder
box (PlumbVec3 store[8], PlumbVec3 least, PlumbVec3 most)
{
  for (int i = 0; i < 8; i++)
    store[i] = plumb_vec3 (i & 1 ? most.x : least.x, i & 2 ? most.y : least.y, i & 4 ? most.z : least.z);
  return (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = store, .n_points = 8 };
}

/* The area alone, which the union of one silhouette has to give again. */
static double
area_on (const PlumbRect *picture, const PlumbOccluder *body)
{
  PlumbSilhouette s;

  if (!plumb_silhouette (eye, &floor_plane, picture, body, &s))
    return 0.0;
  g_assert_cmpfloat (s.area_m2, >, 0.0);
  g_assert_cmpuint (s.n_pieces, <=, PLUMB_SILHOUETTE_MAX_PIECES);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (&s, 1), s.area_m2, EXACT * s.area_m2);
  return s.area_m2;
}

static void
check_area (const PlumbOccluder *body, double expected, double share)
{
  g_assert_cmpfloat_with_epsilon (area_on (&wide, body), expected, share * expected + 1e-15);
}

/* ---- one body ---------------------------------------------------------------------- */

static double
cone_radius (double d, double r)
{
  return r * EYE_H / sqrt (d * d - r * r);
}

static void
test_sphere_centred (void)
{
  for (double d = 0.9; d < 3.2; d += 0.37)
    {
      PlumbOccluder body = sphere (0, 0, EYE_H - d, 0.4);
      double radius = cone_radius (d, 0.4);
      check_area (&body, PLUMB_PI * radius * radius, EXACT);
      /* The right half of the picture sees half of it. */
      PlumbRect half = { .centre_m = { 5, 0 }, .width_m = 10, .height_m = 20 };
      g_assert_cmpfloat_with_epsilon (area_on (&half, &body), PLUMB_PI * radius * radius / 2.0, 1e-9);
    }
}

static void
test_sphere_aside (void)
{
  for (double alpha = 0.05; alpha < 0.7; alpha += 0.05)
    {
      double d = 2.0, r = 0.3, beta = asin (r / d);
      PlumbOccluder body = sphere (d * sin (alpha), 0, EYE_H - d * cos (alpha), r);
      double far_m = EYE_H * tan (alpha + beta), near_m = EYE_H * tan (alpha - beta);
      double a = (far_m - near_m) / 2.0, e = sin (alpha) / cos (beta), b = a * sqrt (1.0 - e * e);
      PlumbSilhouette s;

      g_assert_true (plumb_silhouette (eye, &floor_plane, &wide, &body, &s));
      g_assert_cmpfloat_with_epsilon (s.area_m2, PLUMB_PI * a * b, EXACT);
      g_assert_cmpuint (s.n_pieces, ==, 4);
      for (uint32_t k = 0; k < s.n_pieces; k++)
        {
          g_assert_true (s.piece[k].arc);
          g_assert_cmpfloat_with_epsilon (s.piece[k].centre.x, (far_m + near_m) / 2.0, EXACT);
          g_assert_cmpfloat_with_epsilon (s.piece[k].centre.y, 0.0, EXACT);
        }
      g_assert_cmpfloat_with_epsilon (s.least.x, near_m, 1e-9);
      g_assert_cmpfloat_with_epsilon (s.most.x, far_m, 1e-9);
      g_assert_cmpfloat_with_epsilon (s.most.y, b, 1e-9);
    }
}

static void
test_box_frontal (void)
{
  PlumbVec3 p[8];
  PlumbOccluder body = box (p, plumb_vec3 (-0.4, -0.3, 0.5), plumb_vec3 (0.4, 0.3, 2.0));

  /* The face nearer to the eye hides the rest: twice its size. */
  check_area (&body, 4.0 * 0.8 * 0.6, EXACT);
  body = box (p, plumb_vec3 (-9, -9, 1), plumb_vec3 (9, 9, 2));
  check_area (&body, 100.0, EXACT);
}

/* Eye over the middle of a lying cylinder: ∫ x dy along the rim's visible half
 * φ in ±acos (r/d), D = d − r cos φ, x = L h / D, y = h r sin φ / D. */
static double
lying_cylinder_area (double d, double r, double half_length)
{
  int n = 2000;
  double end = acos (r / d), sum = 0.0;

  for (int k = 0; k <= n; k++)
    {
      double phi = -end + 2.0 * end * k / n, depth = d - r * cos (phi);
      double f = half_length * EYE_H / depth * EYE_H * r * (d * cos (phi) - r) / (depth * depth);
      sum += f * (k == 0 || k == n ? 1.0 : k % 2 == 1 ? 4.0 : 2.0);
    }
  return 2.0 * sum * (2.0 * end / n) / 3.0;
}

static void
test_cylinder (void)
{
  PlumbOccluder along = round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0, 1.5), upright, 0.3, 0.3, 0.5);
  PlumbOccluder across = round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0, 2), lying, 0.3, 0.3, 0.8);

  check_area (&along, PLUMB_PI * 0.6 * 0.6, EXACT);
  check_area (&across, lying_cylinder_area (2.0, 0.3, 0.8), EXACT);
  /* Longer than the picture: a band of the tangent planes' width. */
  PlumbRect band = { .width_m = 2, .height_m = 10 };
  g_assert_cmpfloat_with_epsilon (area_on (&band, &across), 2.0 * 2.0 * cone_radius (2.0, 0.3), EXACT);
}

static void
test_out_of_the_way (void)
{
  PlumbVec3 p[8];
  const PlumbOccluder bodies[] = {
    sphere (0, 0, 6, 0.5),
    sphere (0, 0, -2, 0.5),
    sphere (9, 0, 2, 0.5),
    round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0, 6), upright, 1, 1, 1),
    round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0, -2), lying, 1, 1, 1),
    round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 9, 2), upright, 1, 1, 1),
    box (p, plumb_vec3 (-1, -1, 5), plumb_vec3 (1, 1, 6)),
  };

  for (size_t k = 0; k < G_N_ELEMENTS (bodies); k++)
    g_assert_cmpfloat (area_on (&wide, &bodies[k]), ==, 0.0);
  PlumbOccluder under = box (p, plumb_vec3 (-1, -1, -2), plumb_vec3 (1, 1, -1));
  g_assert_cmpfloat (area_on (&wide, &under), ==, 0.0);
}

static void
test_eye_inside (void)
{
  PlumbVec3 p[8];
  const PlumbOccluder bodies[] = {
    sphere (0.1, 0, 4.1, 0.5),
    round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0.1, 4), upright, 0.4, 0.4, 0.4),
    round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0.1, 4), lying, 0.4, 0.4, 0.4),
    box (p, plumb_vec3 (-0.2, -0.3, 3.9), plumb_vec3 (0.3, 0.2, 4.2)),
    sphere (0, 0, 2, 40),
  };

  for (size_t k = 0; k < G_N_ELEMENTS (bodies); k++)
    check_area (&bodies[k], 100.0, 1e-9);
}

static void
test_straddling (void)
{
  PlumbVec3 p[8];
  /* Beside the eye: the face x = 1 from height 2 up to the eye's own throws |y| < x from x = 2 on. */
  PlumbOccluder body = box (p, plumb_vec3 (1, -1, 2), plumb_vec3 (2, 1, 6));
  check_area (&body, 25.0 - 4.0, 1e-5);
  /* Through the picture: the part before it, front face at height 1. */
  body = box (p, plumb_vec3 (-0.5, -0.5, -1), plumb_vec3 (0.5, 0.5, 1));
  check_area (&body, 16.0 / 9.0, EXACT);
  /* A sphere through the picture: the section where contact lies behind, the cone where it lies before. */
  body = sphere (0, 0, -0.5, 1.0);
  check_area (&body, PLUMB_PI * 0.75, EXACT);
  body = sphere (0, 0, 0, 1.0);
  check_area (&body, PLUMB_PI * 16.0 / 15.0, EXACT);
  /* A post through the picture: its upper end. */
  body = round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (0, 0, 0.5), upright, 0.6, 0.6, 1.5);
  check_area (&body, PLUMB_PI * 1.2 * 1.2, EXACT);
  /* A sphere level with the eye at (2, 0): its cone meets the plane in a hyperbola. */
  body = sphere (2, 0, EYE_H, 1.0);
  /* Cone about x with half angle 30°: √(y² + h²) < x tan 30°. */
  double tan_30 = 1.0 / sqrt (3.0), start = EYE_H / tan_30, sum = 0.0;
  PlumbRect far_off = { .centre_m = { 15, 0 }, .width_m = 20, .height_m = 100 };
  /* ∫ 2 √(x² tan² − h²) dx from `start` to 25. */
  double a = 25.0 * tan_30;
  sum = (a * sqrt (a * a - EYE_H * EYE_H) - EYE_H * EYE_H * acosh (a / EYE_H)) / tan_30;
  g_assert_cmpfloat (start, <, 25.0);
  g_assert_cmpfloat_with_epsilon (area_on (&far_off, &body), sum, EXACT * sum);
}

static void
test_no_size (void)
{
  PlumbVec3 p[8];
  PlumbSilhouette s;
  PlumbRect none = { .width_m = 0, .height_m = 1 };
  PlumbOccluder ball = sphere (0, 0, 2, 0.5), dot = sphere (0, 0, 2, 0.0);
  PlumbOccluder point = box (p, plumb_vec3 (0, 0, 1), plumb_vec3 (0, 0, 1));
  PlumbOccluder empty = { .shape = PLUMB_OCCLUDER_HULL };

  g_assert_false (plumb_silhouette (eye, &floor_plane, &none, &ball, &s));
  g_assert_false (plumb_silhouette (eye, &floor_plane, &wide, &dot, &s));
  g_assert_false (plumb_silhouette (eye, &floor_plane, &wide, &point, &s));
  g_assert_false (plumb_silhouette (eye, &floor_plane, &wide, &empty, &s));
  g_assert_false (plumb_silhouette (plumb_vec3 (1, 1, 0), &floor_plane, &wide, &ball, &s));
  g_assert_cmpfloat (plumb_silhouettes_area_m2 (&s, 0), ==, 0.0);
  /* A flat plate has no thickness and hides all the same. */
  PlumbOccluder plate = box (p, plumb_vec3 (-1, -1, 2), plumb_vec3 (1, 1, 2));
  check_area (&plate, 16.0, EXACT);
}

/* From the other side of the plane a mirror image. */
static void
test_other_side (void)
{
  PlumbOccluder body = sphere (0.3, 0.2, -1.5, 0.3), mirrored = sphere (0.3, 0.2, 1.5, 0.3);
  PlumbSilhouette s;

  g_assert_true (plumb_silhouette (plumb_vec3 (0, 0, -EYE_H), &floor_plane, &wide, &body, &s));
  g_assert_cmpfloat_with_epsilon (s.area_m2, area_on (&wide, &mirrored), EXACT);
}

/* ---- unions -------------------------------------------------------------------------- */

/* Thin plates at half the height throw twice their size. */
static void
add_plate (PlumbSilhouette *out, double x, double y, double w, double h)
{
  PlumbVec3 p[8];
  PlumbOccluder body = box (p, plumb_vec3 (x / 2, y / 2, 2), plumb_vec3 ((x + w) / 2, (y + h) / 2, 2));

  g_assert_true (plumb_silhouette (eye, &floor_plane, &wide, &body, out));
}

/* A disc of radius r on the picture: a flat post of that radius at half the height. */
static void
add_disc (PlumbSilhouette *out, double x, double y, double r)
{
  PlumbOccluder body
      = round_body (PLUMB_OCCLUDER_CYLINDER, plumb_vec3 (x / 2, y / 2, 2 - 1e-9), upright, r / 2, r / 2, 1e-9);

  g_assert_true (plumb_silhouette (eye, &floor_plane, &wide, &body, out));
}

static void
test_union_plates (void)
{
  PlumbSilhouette s[5];

  add_plate (&s[0], -2, -2, 2, 2);
  add_plate (&s[1], -2, -2, 2, 2);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 4.0, EXACT); /* the same twice */
  add_plate (&s[1], 0, -2, 1, 2);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 6.0, EXACT); /* back to back */
  add_plate (&s[1], 0, -1.5, 1, 1);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 5.0, EXACT); /* part of an edge */
  add_plate (&s[1], 0, 0, 1, 1);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 5.0, EXACT); /* corner to corner */
  add_plate (&s[1], -1.5, -1.5, 1, 1);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 4.0, EXACT); /* one within the other */
  add_plate (&s[1], -2, -2, 1, 1);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 4.0, EXACT); /* within, sharing two edges */
  add_plate (&s[1], -1, -1, 2, 2);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 7.0, EXACT);
  add_plate (&s[1], -1.5, -3, 0.5, 4);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 5.0, EXACT); /* a cross */
  /* A ring of four about a hole of 1 × 1. */
  add_plate (&s[0], 0, 0, 3, 1);
  add_plate (&s[1], 2, 0, 1, 3);
  add_plate (&s[2], 0, 2, 3, 1);
  add_plate (&s[3], 0, 0, 1, 3);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 4), 8.0, EXACT);
  add_plate (&s[4], 0, 0, 3, 3);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 5), 9.0, EXACT);
}

static double
two_discs (double r, double d)
{
  double lens = d < 2.0 * r ? 2.0 * r * r * acos (d / (2.0 * r)) - d / 2.0 * sqrt (4.0 * r * r - d * d) : 0.0;

  return 2.0 * PLUMB_PI * r * r - lens;
}

static void
test_union_discs (void)
{
  PlumbSilhouette s[3];

  for (double d = 0.0; d < 2.6; d += 0.1)
    {
      add_disc (&s[0], -1, 0.3, 1.0);
      add_disc (&s[1], -1 + d * cos (0.4), 0.3 + d * sin (0.4), 1.0);
      g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), two_discs (1.0, d), 1e-8);
    }
  /* Touching from within, and a square about its disc. */
  add_disc (&s[0], 0, 0, 1.0);
  add_disc (&s[1], 0.5, 0, 0.5);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), PLUMB_PI, 1e-8);
  add_plate (&s[1], -1, -1, 2, 2);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), 4.0, 1e-8);
  /* A disc, its right half covered by a plate as wide: half disc and plate. */
  add_plate (&s[1], 0, -1, 3, 2);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), PLUMB_PI / 2.0 + 6.0, 1e-8);
  /* The same disc three times. */
  add_disc (&s[1], 0, 0, 1.0);
  add_disc (&s[2], 0, 0, 1.0);
  g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 3), PLUMB_PI, 1e-9);
}

/* ---- random -------------------------------------------------------------------------- */

static void
random_axes (GRand *rand, PlumbVec3 axis[3])
{
  axis[0] = plumb_vec3_unit (plumb_vec3 (g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1),
                                         g_rand_double_range (rand, 0.1, 1)));
  axis[1] = plumb_vec3_unit (plumb_vec3_cross (axis[0], plumb_vec3 (1, 0.3, -0.2)));
  axis[2] = plumb_vec3_cross (axis[0], axis[1]);
}

static PlumbOccluder
random_body (GRand *rand, PlumbVec3 points[8])
{
  PlumbVec3 axis[3];
  double z = g_rand_double_range (rand, -0.5, 4.5);
  PlumbVec3 centre = plumb_vec3 (g_rand_double_range (rand, -4, 4), g_rand_double_range (rand, -4, 4), z);
  double a = g_rand_double_range (rand, 0.05, 0.6), b = g_rand_double_range (rand, 0.05, 0.6);

  random_axes (rand, axis);
  switch (g_rand_int_range (rand, 0, 3))
    {
    case 0:
      return round_body (PLUMB_OCCLUDER_ELLIPSOID, centre, axis, a, b, g_rand_double_range (rand, 0.05, 0.6));
    case 1:
      return round_body (PLUMB_OCCLUDER_CYLINDER, centre, axis, a, a, b);
    default:
      return box (points, plumb_vec3 (centre.x - a, centre.y - b, z - a),
                  plumb_vec3 (centre.x + a, centre.y + b, z + b));
    }
}

static double
bound_radius (const PlumbOccluder *body, PlumbVec3 *centre)
{
  if (body->shape == PLUMB_OCCLUDER_HULL)
    {
      *centre = plumb_vec3_scale (plumb_vec3_add (body->points[0], body->points[7]), 0.5);
      return plumb_vec3_length (plumb_vec3_sub (body->points[7], *centre));
    }
  *centre = body->centre_m;
  return body->shape == PLUMB_OCCLUDER_CYLINDER ? hypot (body->half_m.x, body->half_m.z)
                                                : fmax (body->half_m.x, fmax (body->half_m.y, body->half_m.z));
}

static void
test_order (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (61);
  g_autofree PlumbSilhouette *s = g_new (PlumbSilhouette, 20);

  for (int scene = 0; scene < 300; scene++)
    {
      uint32_t n = 0;
      double most = 0.0, sum = 0.0;
      for (int k = 0; k < 20; k++)
        {
          PlumbVec3 points[8], centre;
          PlumbOccluder body = random_body (rand, points);
          double radius = bound_radius (&body, &centre);
          if (!plumb_silhouette (eye, &floor_plane, &wide, &body, &s[n]))
            continue;
          /* The quick test may never lose a body that hides something. */
          g_assert_true (plumb_occluder_near (eye, &floor_plane, &wide, centre, radius));
          most = fmax (most, s[n].area_m2);
          sum += s[n].area_m2;
          n++;
        }
      double area = plumb_silhouettes_area_m2 (s, n);
      g_assert_cmpfloat (area, >=, most * (1.0 - 1e-12));
      g_assert_cmpfloat (area, <=, fmin (sum, 100.0) * (1.0 + 1e-12));
      for (int shuffle = 0; shuffle < 3 && n > 1; shuffle++)
        {
          for (uint32_t k = n - 1; k > 0; k--)
            {
              uint32_t other = (uint32_t) g_rand_int_range (rand, 0, (gint32) k + 1);
              PlumbSilhouette swap = s[k];
              s[k] = s[other];
              s[other] = swap;
            }
          g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, n), area, 1e-12 * 100.0);
        }
    }
}

/* |A ∪ B| = |A| + |B| − |A ∩ B| with the body's silhouette on a wide picture and
 * the whole of a narrow one: what is not looked at there, because it cannot hide
 * anything, does not reach into it here. */
static void
test_culled (void)
{
  const PlumbRect narrow = { .centre_m = { 0.5, -0.3 }, .width_m = 3.2, .height_m = 1.8 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (63);
  PlumbSilhouette s[2], part;
  PlumbVec3 p[8];
  uint32_t outside = 0, within = 0;
  PlumbOccluder plate = box (p, plumb_vec3 (-5, -5, 2), plumb_vec3 (5, 5, 2));

  g_assert_true (plumb_silhouette (eye, &floor_plane, &narrow, &plate, &s[1]));
  for (int k = 0; k < 4000; k++)
    {
      PlumbVec3 points[8];
      PlumbOccluder body = random_body (rand, points);
      if (!plumb_silhouette (eye, &floor_plane, &wide, &body, &s[0]))
        {
          g_assert_false (plumb_silhouette (eye, &floor_plane, &narrow, &body, &part));
          continue;
        }
      double both = plumb_silhouette (eye, &floor_plane, &narrow, &body, &part) ? part.area_m2 : 0.0;
      double sum = s[0].area_m2 + s[1].area_m2 - both;
      g_assert_cmpfloat_with_epsilon (plumb_silhouettes_area_m2 (s, 2), sum, 2.0 * PIECED * s[0].area_m2 + 1e-9);
      *(both > 0.0 ? &within : &outside) += 1;
    }
  g_assert_cmpuint (within, >, 200);
  g_assert_cmpuint (outside, >, 300);
}

static double
odd (GRand *rand)
{
  static const double values[]
      = { 0,    -0.0, 1,     -1,    4,    2,      1e-300, 1e-12,    1e-7,     1e7,  -1e7,  1e30,
          1e160, -1e160, 1e300, -1e300, 0.5, 3.9999999, 4.0000001, INFINITY, -INFINITY, NAN, 0.25, 1e-9 };

  return g_rand_boolean (rand) ? g_rand_double_range (rand, -5, 5)
                               : values[g_rand_int_range (rand, 0, G_N_ELEMENTS (values))];
}

static PlumbVec3
odd_point (GRand *rand)
{
  double x = odd (rand), y = odd (rand);
  return plumb_vec3 (x, y, odd (rand));
}

static void
test_odd (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (62);
  PlumbSilhouette s[4];
  uint32_t n = 0, seen = 0;

  for (int k = 0; k < 10000; k++)
    {
      PlumbVec3 points[12], axis[3];
      PlumbOccluder body = { .shape = (PlumbOccluderShape) g_rand_int_range (rand, 0, 3) };
      body.points = points;
      body.n_points = (uint32_t) g_rand_int_range (rand, 0, 13);
      for (int i = 0; i < 12; i++)
        points[i] = odd_point (rand);
      random_axes (rand, axis);
      for (int i = 0; i < 3; i++)
        body.axis[i] = axis[i];
      body.centre_m = odd_point (rand);
      body.half_m = odd_point (rand);
      body.half_m.y = body.shape == PLUMB_OCCLUDER_CYLINDER ? body.half_m.x : body.half_m.y;
      PlumbVec3 from = k % 2 == 0 ? eye : odd_point (rand);
      if (!plumb_silhouette (from, &floor_plane, &wide, &body, &s[n]))
        {
          plumb_occluder_near (from, &floor_plane, &wide, body.centre_m, body.half_m.x);
          continue;
        }
      seen++;
      g_assert_cmpfloat (s[n].area_m2, >, 0.0);
      g_assert_cmpfloat (s[n].area_m2, <=, 100.0 * (1.0 + 1e-9));
      n++;
      double area = plumb_silhouettes_area_m2 (s, n);
      g_assert_cmpfloat (area, >=, 0.0);
      g_assert_cmpfloat (area, <=, 100.0 * (1.0 + 1e-6));
      n %= G_N_ELEMENTS (s);
    }
  g_assert_cmpuint (seen, >, 500);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/silhouette/sphere/centred", test_sphere_centred);
  g_test_add_func ("/silhouette/sphere/aside", test_sphere_aside);
  g_test_add_func ("/silhouette/box", test_box_frontal);
  g_test_add_func ("/silhouette/cylinder", test_cylinder);
  g_test_add_func ("/silhouette/out-of-the-way", test_out_of_the_way);
  g_test_add_func ("/silhouette/eye-inside", test_eye_inside);
  g_test_add_func ("/silhouette/straddling", test_straddling);
  g_test_add_func ("/silhouette/no-size", test_no_size);
  g_test_add_func ("/silhouette/other-side", test_other_side);
  g_test_add_func ("/silhouette/union/plates", test_union_plates);
  g_test_add_func ("/silhouette/union/discs", test_union_discs);
  g_test_add_func ("/silhouette/random/order", test_order);
  g_test_add_func ("/silhouette/random/culled", test_culled);
  g_test_add_func ("/silhouette/random/odd", test_odd);
  return g_test_run ();
}
