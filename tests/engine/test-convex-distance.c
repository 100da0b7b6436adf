/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Distances between convex bodies: cases worked out by hand, and a brute
 * force of another kind (every corner against every triangle, every edge
 * against every edge, after Ericson, Real-Time Collision Detection, 2005,
 * chapter 5). Random hulls are compared with SciPy in tests/outside.
 */
#include <glib.h>

#include "plumbeam/building.h"

#define DEG (PLUMB_PI / 180.0)
#define EXACT_M 1e-9

static void
box_corners (PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half, PlumbVec3 out[8])
{
  for (int i = 0; i < 8; i++)
    {
      PlumbVec3 p = plumb_vec3_along (centre, axis[0], (i & 1 ? 1 : -1) * half.x);
      p = plumb_vec3_along (p, axis[1], (i & 2 ? 1 : -1) * half.y);
      out[i] = plumb_vec3_along (p, axis[2], (i & 4 ? 1 : -1) * half.z);
    }
}

static const PlumbVec3 upright[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };

static double
measure (const PlumbConvex *a, const PlumbConvex *b)
{
  PlumbVec3 p, q;
  double d = plumb_convex_distance (a, b, &p, &q);

  g_assert_cmpfloat (d, >=, 0.0);
  g_assert_cmpfloat_with_epsilon (plumb_vec3_length (plumb_vec3_sub (p, q)), d, EXACT_M);
  g_assert_cmpfloat_with_epsilon (plumb_convex_distance (b, a, NULL, NULL), d, EXACT_M);
  return d;
}

static PlumbConvex
points (const PlumbVec3 *p, size_t n)
{
  return (PlumbConvex){ .points = p, .n_points = n };
}

static PlumbSolid
round_solid (PlumbSolidShape shape, PlumbVec3 centre, const PlumbVec3 axis[3], double rx, double ry, double rz)
{
  return (PlumbSolid){
    .shape = shape, .centre_m = centre, .axis = { axis[0], axis[1], axis[2] }, .half_m = { rx, ry, rz }
  };
}

static void
random_axes (GRand *rand, PlumbVec3 axis[3])
{
  axis[0] = plumb_vec3_unit (plumb_vec3 (g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1),
                                         g_rand_double_range (rand, 0.1, 1)));
  axis[1] = plumb_vec3_unit (plumb_vec3_cross (axis[0], plumb_vec3 (1, 0.3, -0.2)));
  axis[2] = plumb_vec3_cross (axis[0], axis[1]);
}

static PlumbVec3
random_point (GRand *rand, double reach)
{
  return plumb_vec3 (g_rand_double_range (rand, -reach, reach), g_rand_double_range (rand, -reach, reach),
                     g_rand_double_range (rand, -reach, reach));
}

static void
test_by_hand (void)
{
  PlumbVec3 a[8], b[8], point = { 4, 5, 1 }, line[2] = { { 3, -9, 2 }, { 3, 9, 2 } };
  PlumbVec3 triangle[3] = { { 0, 0, 7 }, { 9, 0, 7 }, { 0, 9, 7 } };
  box_corners (plumb_vec3 (0, 0, 0), upright, plumb_vec3 (1, 1, 1), a);
  PlumbConvex box = points (a, 8), other = points (b, 8), spot = points (&point, 1), bar = points (line, 2);
  PlumbConvex sheet = points (triangle, 3);

  g_assert_cmpfloat_with_epsilon (measure (&box, &spot), 5.0, EXACT_M);       /* edge to point: 3, 4 */
  g_assert_cmpfloat_with_epsilon (measure (&box, &bar), sqrt (5.0), EXACT_M); /* parallel edges: 2, 1 */
  g_assert_cmpfloat_with_epsilon (measure (&box, &sheet), 6.0, EXACT_M);      /* parallel faces */
  g_assert_cmpfloat (measure (&spot, &spot), ==, 0.0);
  box_corners (plumb_vec3 (4, 0.5, -0.5), upright, plumb_vec3 (1, 1, 1), b);
  g_assert_cmpfloat_with_epsilon (measure (&box, &other), 2.0, EXACT_M); /* face to face */
  box_corners (plumb_vec3 (2, 2, 2), upright, plumb_vec3 (1, 1, 1), b);
  g_assert_cmpfloat_with_epsilon (measure (&box, &other), 0.0, EXACT_M); /* corner touches corner */
  box_corners (plumb_vec3 (2, 0.3, 0.1), upright, plumb_vec3 (1, 1, 1), b);
  g_assert_cmpfloat_with_epsilon (measure (&box, &other), 0.0, EXACT_M); /* face touches face */
  box_corners (plumb_vec3 (0.2, 0.1, 0), upright, plumb_vec3 (0.1, 0.1, 0.1), b);
  g_assert_cmpfloat (measure (&box, &other), ==, 0.0); /* one inside the other */
  box_corners (plumb_vec3 (1.5, 1.5, 1.5), upright, plumb_vec3 (1, 1, 1), b);
  g_assert_cmpfloat (measure (&box, &other), ==, 0.0); /* overlap */
  box_corners (plumb_vec3 (800.5, -700, 90), upright, plumb_vec3 (0.5, 0.5, 0.5), a);
  box_corners (plumb_vec3 (802.001, -700, 90), upright, plumb_vec3 (1, 1, 1), b);
  g_assert_cmpfloat_with_epsilon (measure (&box, &other), 0.001, EXACT_M); /* far from the origin */
}

/* Sphere of 0.5 m against the box |x|, |y|, |z| <= 1: clamp the centre. */
static void
test_sphere_box (void)
{
  GRand *rand = g_rand_new_with_seed (40);
  PlumbVec3 corner[8];
  box_corners (plumb_vec3 (0, 0, 0), upright, plumb_vec3 (1, 1, 1), corner);
  PlumbConvex box = points (corner, 8);
  double worst = 0.0;

  for (int i = 0; i < 5000; i++)
    {
      PlumbVec3 c = random_point (rand, 4), axis[3];
      random_axes (rand, axis);
      PlumbSolid sphere = round_solid (PLUMB_SOLID_ELLIPSOID, c, axis, 0.5, 0.5, 0.5);
      PlumbConvex ball = { .solid = &sphere };
      PlumbVec3 off = plumb_vec3_sub (
          c, plumb_vec3 (plumb_clamp (c.x, -1, 1), plumb_clamp (c.y, -1, 1), plumb_clamp (c.z, -1, 1)));
      worst = fmax (worst, fabs (measure (&box, &ball) - fmax (0.0, plumb_vec3_length (off) - 0.5)));
    }
  g_test_message ("worst %.2g m", worst);
  g_assert_cmpfloat (worst, <, EXACT_M);
  g_rand_free (rand);
}

/* Two spheres: distance of the centres less the radii. */
static void
test_spheres (void)
{
  GRand *rand = g_rand_new_with_seed (41);
  double worst = 0.0;

  for (int i = 0; i < 5000; i++)
    {
      PlumbVec3 c = random_point (rand, 3), d = random_point (rand, 3);
      double r = g_rand_double_range (rand, 0.01, 1.5), s = g_rand_double_range (rand, 0.01, 1.5);
      PlumbSolid one = round_solid (PLUMB_SOLID_ELLIPSOID, c, upright, r, r, r);
      PlumbSolid two = round_solid (PLUMB_SOLID_ELLIPSOID, d, upright, s, s, s);
      PlumbConvex a = { .solid = &one }, b = { .solid = &two };
      worst = fmax (worst, fabs (measure (&a, &b) - fmax (0.0, plumb_vec3_length (plumb_vec3_sub (c, d)) - r - s)));
    }
  g_test_message ("worst %.2g m", worst);
  g_assert_cmpfloat (worst, <, EXACT_M);
  g_rand_free (rand);
}

/* Cylinder of 0.7 m radius and 2 m height, turned: to a point by its own
 * coordinates, to a wide board square to its axis, and to a parallel board. */
static void
test_cylinder (void)
{
  GRand *rand = g_rand_new_with_seed (42);
  double worst = 0.0;

  for (int i = 0; i < 3000; i++)
    {
      PlumbVec3 axis[3], p = random_point (rand, 3), board[8];
      random_axes (rand, axis);
      PlumbSolid solid = round_solid (PLUMB_SOLID_CYLINDER, plumb_vec3 (0.1, -0.2, 0.3), axis, 0.7, 0.7, 1.0);
      PlumbConvex tube = { .solid = &solid }, spot = points (&p, 1), flat = points (board, 8);
      PlumbVec3 to = plumb_vec3_sub (p, solid.centre_m);
      double z = plumb_vec3_dot (to, axis[2]), r = plumb_vec3_length (plumb_vec3_along (to, axis[2], -z));
      double wanted = hypot (fmax (0.0, fabs (z) - 1.0), fmax (0.0, r - 0.7));
      worst = fmax (worst, fabs (measure (&tube, &spot) - wanted));
      double gap = g_rand_double_range (rand, 0.0, 2.0);
      box_corners (plumb_vec3_along (solid.centre_m, axis[2], 1.0 + gap + 0.05), axis, plumb_vec3 (2, 2, 0.05),
                   board);
      worst = fmax (worst, fabs (measure (&tube, &flat) - gap));
      box_corners (plumb_vec3_along (solid.centre_m, axis[0], 0.7 + gap + 0.05), axis, plumb_vec3 (0.05, 2, 3),
                   board);
      worst = fmax (worst, fabs (measure (&tube, &flat) - gap));
    }
  g_test_message ("worst %.2g m", worst);
  g_assert_cmpfloat (worst, <, EXACT_M);
  g_rand_free (rand);
}

/* An ellipsoid beside a board: centre to board less its support, which is
 * the root of the sum of (half axis · direction cosine)². */
static void
test_ellipsoid_board (void)
{
  GRand *rand = g_rand_new_with_seed (43);
  double worst = 0.0;

  for (int i = 0; i < 3000; i++)
    {
      PlumbVec3 axis[3], turned[3], board[8];
      random_axes (rand, axis);
      random_axes (rand, turned);
      PlumbSolid solid = round_solid (PLUMB_SOLID_ELLIPSOID, random_point (rand, 2), axis, 0.3, 0.9, 0.15);
      double x = 0.3 * plumb_vec3_dot (axis[0], turned[2]), y = 0.9 * plumb_vec3_dot (axis[1], turned[2]);
      double z = 0.15 * plumb_vec3_dot (axis[2], turned[2]), gap = g_rand_double_range (rand, 0.0, 1.0);
      box_corners (plumb_vec3_along (solid.centre_m, turned[2], sqrt (x * x + y * y + z * z) + gap + 0.1), turned,
                   plumb_vec3 (5, 5, 0.1), board);
      PlumbConvex egg = { .solid = &solid }, flat = points (board, 8);
      worst = fmax (worst, fabs (measure (&egg, &flat) - gap));
    }
  g_test_message ("worst %.2g m", worst);
  g_assert_cmpfloat (worst, <, EXACT_M);
  g_rand_free (rand);
}

/* ---- brute force for boxes ------------------------------------------------------------ */

static double
segment_distance (PlumbVec3 p1, PlumbVec3 q1, PlumbVec3 p2, PlumbVec3 q2)
{
  PlumbVec3 d1 = plumb_vec3_sub (q1, p1), d2 = plumb_vec3_sub (q2, p2), r = plumb_vec3_sub (p1, p2);
  double a = plumb_vec3_dot (d1, d1), e = plumb_vec3_dot (d2, d2), f = plumb_vec3_dot (d2, r);
  double b = plumb_vec3_dot (d1, d2), c = plumb_vec3_dot (d1, r), denominator = a * e - b * b;
  double s = denominator > 1e-12 ? plumb_clamp ((b * f - c * e) / denominator, 0, 1) : 0.0, t = (b * s + f) / e;

  if (t < 0.0)
    s = plumb_clamp (-c / a, 0, 1);
  else if (t > 1.0)
    s = plumb_clamp ((b - c) / a, 0, 1);
  t = plumb_clamp (t, 0, 1);
  return plumb_vec3_length (plumb_vec3_sub (plumb_vec3_along (p1, d1, s), plumb_vec3_along (p2, d2, t)));
}

typedef struct {
  PlumbVec3 centre, axis[3], half, corner[8];
} Box;

/* A point to a solid box, in the box's own axes. */
static double
corner_distance (const Box *box, PlumbVec3 p)
{
  PlumbVec3 to = plumb_vec3_sub (p, box->centre);
  double x = fabs (plumb_vec3_dot (to, box->axis[0])) - box->half.x,
         y = fabs (plumb_vec3_dot (to, box->axis[1])) - box->half.y;
  double z = fabs (plumb_vec3_dot (to, box->axis[2])) - box->half.z;

  return plumb_vec3_length (plumb_vec3 (fmax (0, x), fmax (0, y), fmax (0, z)));
}

/* Boxes overlap unless one of fifteen axes separates them (Gottschalk, Lin
 * and Manocha 1996). */
static bool
overlap (const Box *a, const Box *b)
{
  for (int k = 0; k < 15; k++)
    {
      PlumbVec3 n = k < 3   ? a->axis[k]
                    : k < 6 ? b->axis[k - 3]
                            : plumb_vec3_cross (a->axis[(k - 6) / 3], b->axis[(k - 6) % 3]);
      double least_a = INFINITY, most_a = -INFINITY, least_b = INFINITY, most_b = -INFINITY;
      for (int i = 0; i < 8; i++)
        {
          least_a = fmin (least_a, plumb_vec3_dot (n, a->corner[i]));
          most_a = fmax (most_a, plumb_vec3_dot (n, a->corner[i]));
          least_b = fmin (least_b, plumb_vec3_dot (n, b->corner[i]));
          most_b = fmax (most_b, plumb_vec3_dot (n, b->corner[i]));
        }
      if (plumb_vec3_length (n) > 1e-9 && (most_a < least_b || most_b < least_a))
        return false;
    }
  return true;
}

static double
brute_force (const Box *a, const Box *b)
{
  double least = INFINITY;

  if (overlap (a, b))
    return 0.0;
  for (int i = 0; i < 8; i++)
    least = fmin (least, fmin (corner_distance (a, b->corner[i]), corner_distance (b, a->corner[i])));
  for (int i = 0; i < 8; i++)
    for (int k = 1; k < 8; k *= 2)
      for (int j = 0; j < 8; j++)
        for (int m = 1; m < 8; m *= 2)
          if ((i & k) == 0 && (j & m) == 0)
            least = fmin (least, segment_distance (a->corner[i], a->corner[i | k], b->corner[j], b->corner[j | m]));
  return least;
}

static Box
random_box (GRand *rand, bool turned)
{
  Box box = { .centre = random_point (rand, 2), .axis = { upright[0], upright[1], upright[2] } };

  box.half = plumb_vec3 (g_rand_double_range (rand, 0.005, 1.2), g_rand_double_range (rand, 0.005, 1.2),
                         g_rand_double_range (rand, 0.005, 1.2));
  if (turned)
    random_axes (rand, box.axis);
  box_corners (box.centre, box.axis, box.half, box.corner);
  return box;
}

static void
test_boxes (void)
{
  GRand *rand = g_rand_new_with_seed (44);
  guint apart = 0;
  double worst = 0.0;

  for (int i = 0; i < 20000; i++)
    {
      /* Upright pairs have parallel edges and faces throughout. */
      Box a = random_box (rand, i % 2 == 1), b = random_box (rand, i % 4 > 1 && i % 2 == 1);
      PlumbConvex one = points (a.corner, 8), two = points (b.corner, 8);
      double wanted = brute_force (&a, &b);
      worst = fmax (worst, fabs (measure (&one, &two) - wanted));
      apart += wanted > 0.0;
    }
  g_test_message ("%u of 20000 pairs apart, worst %.2g m", apart, worst);
  g_assert_cmpuint (apart, >, 5000);
  g_assert_cmpfloat (worst, <, EXACT_M);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/convex-distance/by-hand", test_by_hand);
  g_test_add_func ("/convex-distance/sphere-box", test_sphere_box);
  g_test_add_func ("/convex-distance/spheres", test_spheres);
  g_test_add_func ("/convex-distance/cylinder", test_cylinder);
  g_test_add_func ("/convex-distance/ellipsoid-board", test_ellipsoid_board);
  g_test_add_func ("/convex-distance/boxes", test_boxes);
  return g_test_run ();
}
