/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Distance between convex bodies after Gilbert, Johnson and Keerthi (1988).
 *
 * The point of A − B nearest the origin is sought in ever better simplices.
 * The nearest point of a simplex is taken as the best over all its faces, by
 * measured length and not by sign tests, so that flat simplices do no harm.
 * The support plane gives a lower bound at every step; the search ends when
 * both bounds agree or nothing gets better.
 */
#include "plumbeam/assert.h"
#include "plumbeam/building.h"

/* The two bounds agree to this. */
#define GAP_M 1e-10
/* Nearer than this is touching. */
#define TOUCH_M 1e-11
/* Polyhedra need a dozen steps, round bodies a few dozen. */
#define MOST_STEPS 400

/* A corner of the simplex: points of both bodies and their difference. */
typedef struct {
  PlumbVec3 a, b, w;
} Corner;

typedef struct {
  int n;
  Corner corner[4];
  double weight[4]; /* of the point nearest the origin */
} Simplex;

/* ---- support ------------------------------------------------------------------------ */

static PlumbVec3
support_points (const PlumbConvex *body, PlumbVec3 d)
{
  size_t best = 0;
  double most = -INFINITY;

  for (size_t i = 0; i < body->n_points; i++)
    {
      double at = plumb_vec3_dot (body->points[i], d);
      if (at > most)
        {
          most = at;
          best = i;
        }
    }
  return body->points[best];
}

static PlumbVec3
support_cylinder (const PlumbSolid *solid, PlumbVec3 d)
{
  double x = plumb_vec3_dot (d, solid->axis[0]), y = plumb_vec3_dot (d, solid->axis[1]);
  double z = plumb_vec3_dot (d, solid->axis[2]), across = hypot (x, y);
  PlumbVec3 p = plumb_vec3_along (solid->centre_m, solid->axis[2], z < 0.0 ? -solid->half_m.z : solid->half_m.z);

  if (!(across > 0.0))
    return p;
  p = plumb_vec3_along (p, solid->axis[0], solid->half_m.x * x / across);
  return plumb_vec3_along (p, solid->axis[1], solid->half_m.x * y / across);
}

static PlumbVec3
support_ellipsoid (const PlumbSolid *solid, PlumbVec3 d)
{
  double x = plumb_vec3_dot (d, solid->axis[0]) * solid->half_m.x,
         y = plumb_vec3_dot (d, solid->axis[1]) * solid->half_m.y;
  double z = plumb_vec3_dot (d, solid->axis[2]) * solid->half_m.z, length = sqrt (x * x + y * y + z * z);

  if (!(length > 0.0))
    return solid->centre_m;
  PlumbVec3 p = plumb_vec3_along (solid->centre_m, solid->axis[0], solid->half_m.x * x / length);
  p = plumb_vec3_along (p, solid->axis[1], solid->half_m.y * y / length);
  return plumb_vec3_along (p, solid->axis[2], solid->half_m.z * z / length);
}

static PlumbVec3
support (const PlumbConvex *body, PlumbVec3 d)
{
  if (body->solid != NULL && body->solid->shape == PLUMB_SOLID_CYLINDER)
    return support_cylinder (body->solid, d);
  if (body->solid != NULL && body->solid->shape == PLUMB_SOLID_ELLIPSOID)
    return support_ellipsoid (body->solid, d);
  return support_points (body, d);
}

static Corner
corner_towards (const PlumbConvex *a, const PlumbConvex *b, PlumbVec3 d)
{
  Corner corner = { .a = support (a, d), .b = support (b, plumb_vec3_scale (d, -1.0)) };

  corner.w = plumb_vec3_sub (corner.a, corner.b);
  return corner;
}

/* ---- nearest point of a simplex ------------------------------------------------------- */

/* Weights of the origin's foot on the line, plane or space through up to four
 * points; false unless it lies inside. */
static bool
foot_on_edge (const PlumbVec3 *w, double *weight)
{
  PlumbVec3 run = plumb_vec3_sub (w[1], w[0]);
  double square = plumb_vec3_dot (run, run), share = -plumb_vec3_dot (w[0], run);

  if (!(share > 0.0 && share < square))
    return false;
  weight[1] = share / square;
  weight[0] = 1.0 - weight[1];
  return true;
}

static bool
foot_on_triangle (const PlumbVec3 *w, double *weight)
{
  PlumbVec3 n = plumb_vec3_cross (plumb_vec3_sub (w[1], w[0]), plumb_vec3_sub (w[2], w[0]));
  double square = plumb_vec3_dot (n, n);
  double p = plumb_vec3_dot (n, plumb_vec3_cross (w[1], w[2])), q = plumb_vec3_dot (n, plumb_vec3_cross (w[2], w[0]));
  double r = plumb_vec3_dot (n, plumb_vec3_cross (w[0], w[1])), sum = p + q + r;

  if (!(square > 0.0 && p > 0.0 && q > 0.0 && r > 0.0))
    return false;
  weight[0] = p / sum;
  weight[1] = q / sum;
  weight[2] = r / sum;
  return true;
}

static bool
origin_in_tetrahedron (const PlumbVec3 *w, double *weight)
{
  PlumbVec3 ab = plumb_vec3_cross (w[0], w[1]), cd = plumb_vec3_cross (w[2], w[3]);
  PlumbVec3 run = plumb_vec3_sub (w[1], w[0]);
  double volume = plumb_vec3_dot (run, plumb_vec3_cross (plumb_vec3_sub (w[2], w[0]), plumb_vec3_sub (w[3], w[0])));
  double part[4] = { plumb_vec3_dot (w[1], cd), -plumb_vec3_dot (w[0], cd), plumb_vec3_dot (ab, w[3]),
                     -plumb_vec3_dot (ab, w[2]) };

  for (int i = 0; i < 4; i++)
    {
      if (!(part[i] * volume >= 0.0) || volume == 0.0)
        return false;
      weight[i] = part[i] / volume;
    }
  return true;
}

static bool
foot_inside (const PlumbVec3 *w, int n, double *weight)
{
  switch (n)
    {
    case 1:
      weight[0] = 1.0;
      return true;
    case 2:
      return foot_on_edge (w, weight);
    case 3:
      return foot_on_triangle (w, weight);
    default:
      return origin_in_tetrahedron (w, weight);
    }
}

/* Shrinks the simplex to the face that holds its point nearest the origin.
 * Only faces with the newest corner are looked at: the others gave the point
 * from which the corner was sought. */
static PlumbVec3
reduce (Simplex *simplex)
{
  unsigned newest = 1u << (simplex->n - 1), best_mask = newest;
  double best_weight[4] = { 1.0, 0.0, 0.0, 0.0 };
  PlumbVec3 nearest = simplex->corner[simplex->n - 1].w;
  double least = plumb_vec3_dot (nearest, nearest);

  for (unsigned mask = newest; mask < newest << 1; mask++)
    {
      PlumbVec3 w[4], p = { 0.0, 0.0, 0.0 };
      double weight[4];
      int n = 0;
      for (int i = 0; i < simplex->n; i++)
        if ((mask >> i & 1u) != 0)
          w[n++] = simplex->corner[i].w;
      if (!foot_inside (w, n, weight))
        continue;
      for (int i = 0; n < 4 && i < n; i++)
        p = plumb_vec3_along (p, w[i], weight[i]);
      double square = plumb_vec3_dot (p, p);
      if (square > least || mask == best_mask)
        continue;
      least = square;
      nearest = p;
      best_mask = mask;
      for (int i = 0; i < n; i++)
        best_weight[i] = weight[i];
    }
  int kept = 0;
  for (int i = 0; i < simplex->n; i++)
    if ((best_mask >> i & 1u) != 0)
      {
        simplex->corner[kept] = simplex->corner[i];
        simplex->weight[kept] = best_weight[kept];
        kept++;
      }
  simplex->n = kept;
  return nearest;
}

/* ---- the search -------------------------------------------------------------------------- */

static void
write_nearest (const Simplex *simplex, PlumbVec3 *nearest_a, PlumbVec3 *nearest_b)
{
  PlumbVec3 a = { 0.0, 0.0, 0.0 }, b = { 0.0, 0.0, 0.0 };

  for (int i = 0; i < simplex->n; i++)
    {
      a = plumb_vec3_along (a, simplex->corner[i].a, simplex->weight[i]);
      b = plumb_vec3_along (b, simplex->corner[i].b, simplex->weight[i]);
    }
  if (nearest_a != NULL)
    *nearest_a = a;
  if (nearest_b != NULL)
    *nearest_b = b;
}

static bool
has_corner (const Simplex *simplex, PlumbVec3 w)
{
  for (int i = 0; i < simplex->n; i++)
    if (simplex->corner[i].w.x == w.x && simplex->corner[i].w.y == w.y && simplex->corner[i].w.z == w.z)
      return true;
  return false;
}

/* Somewhere inside: a first direction that saves steps. */
static PlumbVec3
middle_of (const PlumbConvex *body)
{
  PlumbVec3 sum = { 0.0, 0.0, 0.0 };

  if (body->solid != NULL)
    return body->solid->centre_m;
  for (size_t i = 0; i < body->n_points; i++)
    sum = plumb_vec3_add (sum, body->points[i]);
  return plumb_vec3_scale (sum, 1.0 / (double) body->n_points);
}

double
plumb_convex_distance (const PlumbConvex *a, const PlumbConvex *b, PlumbVec3 *nearest_a, PlumbVec3 *nearest_b)
{
  PLUMB_ASSERT ((a->n_points > 0 || a->solid != NULL) && (b->n_points > 0 || b->solid != NULL));
  Simplex simplex = { .n = 1, .corner = { corner_towards (a, b, plumb_vec3_sub (middle_of (b), middle_of (a))) } };
  PlumbVec3 nearest = reduce (&simplex);
  double length = plumb_vec3_length (nearest);

  for (int step = 0; step < MOST_STEPS && length > TOUCH_M; step++)
    {
      Corner next = corner_towards (a, b, plumb_vec3_scale (nearest, -1.0));
      double bound = plumb_vec3_dot (next.w, nearest) / length;
      if (length - bound <= GAP_M || has_corner (&simplex, next.w))
        break;
      Simplex larger = simplex;
      larger.corner[larger.n++] = next;
      PlumbVec3 nearer = reduce (&larger);
      if (!(plumb_vec3_length (nearer) < length))
        break;
      simplex = larger;
      nearest = nearer;
      length = plumb_vec3_length (nearest);
    }
  write_nearest (&simplex, nearest_a, nearest_b);
  return length > TOUCH_M ? length : 0.0;
}

PlumbConvex
plumb_solid_convex (const PlumbBuilding *building, uint32_t solid)
{
  PLUMB_ASSERT (solid < building->n_solids);
  const PlumbSolid *body = &building->solids[solid];

  return (PlumbConvex){ .points = body->n_corners > 0 ? building->corners + body->first_corner : NULL,
                        .n_points = body->n_corners,
                        .solid = body };
}
