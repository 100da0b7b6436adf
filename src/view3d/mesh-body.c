/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Convex bodies: cut by planes, the cut closed.
 */
#include <string.h>

#include "view3d/mesh-private.h"

/* Points this near to a plane lie in it. */
#define ON_PLANE_M 1e-7
#define LEAST_AREA_M2 1e-12
/* Cosine: steep roofs still face down. */
#define FACES_TOWARDS 0.15

/* Twice the area as a vector along the normal. */
static PlumbVec3
area_of (const PlumbVec3 *p, uint32_t n)
{
  PlumbVec3 sum = { 0.0, 0.0, 0.0 };
  for (uint32_t i = 1; i + 1 < n; i++)
    sum = plumb_vec3_add (sum, plumb_vec3_cross (plumb_vec3_sub (p[i], p[0]), plumb_vec3_sub (p[i + 1], p[0])));
  return sum;
}

static bool
same (PlumbVec3 a, PlumbVec3 b)
{
  return plumb_vec3_length (plumb_vec3_sub (a, b)) < ON_PLANE_M;
}

void
plumb_body_add (PlumbBody *body, const PlumbVec3 *points, uint32_t n, PlumbMaterial material)
{
  PlumbBodyFace *face = &body->face[body->n_faces];

  if (body->n_faces >= PLUMB_BODY_MAX_FACES)
    return;
  face->n = 0;
  for (uint32_t i = 0; i < n && face->n < PLUMB_BODY_MAX_POINTS; i++)
    {
      if (!plumb_vec3_is_finite (points[i]))
        return;
      if (face->n == 0 || !same (face->point[face->n - 1], points[i]))
        face->point[face->n++] = points[i];
    }
  while (face->n > 1 && same (face->point[face->n - 1], face->point[0]))
    face->n--;
  PlumbVec3 area = area_of (face->point, face->n);
  if (face->n < 3 || plumb_vec3_length (area) < LEAST_AREA_M2)
    return;
  face->normal = plumb_vec3_unit (area);
  face->material = material;
  body->n_faces++;
}

void
plumb_body_between (PlumbBody *body, const PlumbVec3 *near, const PlumbVec3 *far, uint32_t n,
                    const PlumbMaterial *sides, PlumbMaterial near_material, PlumbMaterial far_material)
{
  PlumbVec3 back[PLUMB_BODY_MAX_POINTS];

  if (n > PLUMB_BODY_MAX_POINTS)
    return;
  for (uint32_t i = 0; i < n; i++)
    back[i] = far[n - 1 - i];
  plumb_body_add (body, near, n, near_material);
  plumb_body_add (body, back, n, far_material);
  for (uint32_t i = 0; i < n; i++)
    {
      uint32_t k = (i + 1) % n;
      PlumbVec3 side[4] = { near[i], far[i], far[k], near[k] };
      plumb_body_add (body, side, 4, sides[i]);
    }
}

void
plumb_body_box (PlumbBody *body, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half, PlumbMaterial material)
{
  static const double U[4] = { -1.0, 1.0, 1.0, -1.0 }, V[4] = { -1.0, -1.0, 1.0, 1.0 };
  PlumbVec3 top[4], bottom[4];
  PlumbMaterial sides[4] = { material, material, material, material };

  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 p = plumb_vec3_along (centre, axis[0], U[i] * half.x);
      p = plumb_vec3_along (p, axis[1], V[i] * half.y);
      top[i] = plumb_vec3_along (p, axis[2], half.z);
      bottom[i] = plumb_vec3_along (p, axis[2], -half.z);
    }
  body->grain = half.y > half.x ? axis[1] : axis[0];
  if (half.z > half.x && half.z > half.y)
    body->grain = axis[2];
  plumb_body_between (body, top, bottom, 4, sides, material, material);
}

static bool
before (PlumbVec3 a, PlumbVec3 b)
{
  if (a.x != b.x)
    return a.x < b.x;
  return a.y != b.y ? a.y < b.y : a.z < b.z;
}

static double
beyond (const PlumbCutPlane *plane, PlumbVec3 p)
{
  double away = plumb_vec3_dot (plane->normal, p) - plane->offset_m;
  return fabs (away) < ON_PLANE_M ? 0.0 : away;
}

/* Where an edge meets the plane: the same bits from both of its faces. */
static PlumbVec3
meet (const PlumbCutPlane *plane, PlumbVec3 a, PlumbVec3 b)
{
  if (before (b, a))
    {
      PlumbVec3 swap = a;
      a = b;
      b = swap;
    }
  double from = beyond (plane, a), to = beyond (plane, b);
  return plumb_vec3_along (a, plumb_vec3_sub (b, a), from / (from - to));
}

typedef struct {
  uint32_t n;
  PlumbVec3 point[PLUMB_BODY_MAX_FACES * 2];
} Rim;

static void
rim_add (Rim *rim, PlumbVec3 p)
{
  for (uint32_t i = 0; i < rim->n; i++)
    if (same (rim->point[i], p))
      return;
  if (rim->n < G_N_ELEMENTS (rim->point))
    rim->point[rim->n++] = p;
}

/* The kept part of a face; its points in the plane go to the rim. */
static void
cut_face (const PlumbBodyFace *face, const PlumbCutPlane *plane, PlumbBody *out, Rim *rim)
{
  PlumbVec3 kept[PLUMB_BODY_MAX_POINTS * 2];
  uint32_t n = 0;

  for (uint32_t i = 0; i < face->n; i++)
    {
      PlumbVec3 a = face->point[i], b = face->point[(i + 1) % face->n];
      double at_a = beyond (plane, a), at_b = beyond (plane, b);
      if (at_a <= 0.0)
        kept[n++] = a;
      if (at_a == 0.0)
        rim_add (rim, a);
      if ((at_a < 0.0 && at_b > 0.0) || (at_a > 0.0 && at_b < 0.0))
        {
          kept[n] = meet (plane, a, b);
          rim_add (rim, kept[n++]);
        }
    }
  plumb_body_add (out, kept, n, face->material);
}

/* Counter-clockwise round the middle, seen against the plane's normal. */
static void
order_rim (Rim *rim, const PlumbCutPlane *plane)
{
  PlumbVec3 axis[3], centre = { 0.0, 0.0, 0.0 };
  double angle[G_N_ELEMENTS (rim->point)];

  plumb_mesh_frame (plane->normal, axis);
  for (uint32_t i = 0; i < rim->n; i++)
    centre = plumb_vec3_along (centre, rim->point[i], 1.0 / rim->n);
  for (uint32_t i = 0; i < rim->n; i++)
    {
      PlumbVec3 p = rim->point[i], away = plumb_vec3_sub (p, centre);
      double a = atan2 (plumb_vec3_dot (away, axis[1]), plumb_vec3_dot (away, axis[0]));
      uint32_t k = i;
      for (; k > 0 && angle[k - 1] > a; k--)
        {
          angle[k] = angle[k - 1];
          rim->point[k] = rim->point[k - 1];
        }
      angle[k] = a;
      rim->point[k] = p;
    }
}

void
plumb_body_cut (PlumbBody *body, const PlumbCutPlane *plane)
{
  double most = -INFINITY, least = INFINITY;

  for (uint32_t f = 0; f < body->n_faces; f++)
    for (uint32_t i = 0; i < body->face[f].n; i++)
      {
        double away = beyond (plane, body->face[f].point[i]);
        most = fmax (most, away);
        least = fmin (least, away);
      }
  if (!(most > 0.0))
    return;
  if (!(least < 0.0))
    {
      body->n_faces = 0;
      return;
    }
  PlumbBody out;
  Rim rim = { .n = 0 };
  out.n_faces = 0;
  out.grain = body->grain;
  for (uint32_t f = 0; f < body->n_faces; f++)
    cut_face (&body->face[f], plane, &out, &rim);
  order_rim (&rim, plane);
  plumb_body_add (&out, rim.point, rim.n, PLUMB_MATERIAL_CUT);
  *body = out;
}

/* Corners of faces may come in either order; a convex body tells its outside. */
static void
turn_outward (PlumbBodyFace *face, PlumbVec3 middle)
{
  if (plumb_vec3_dot (face->normal, plumb_vec3_sub (face->point[0], middle)) >= 0.0)
    return;
  for (uint32_t i = 0; i < face->n / 2; i++)
    {
      PlumbVec3 swap = face->point[i];
      face->point[i] = face->point[face->n - 1 - i];
      face->point[face->n - 1 - i] = swap;
    }
  face->normal = plumb_vec3_scale (face->normal, -1.0);
}

void
plumb_maker_body (PlumbMaker *maker, PlumbBody *body, PlumbDivide divide, PlumbVec3 towards)
{
  PlumbVec3 sum = { 0.0, 0.0, 0.0 };
  uint32_t n = 0;

  for (uint32_t f = 0; f < body->n_faces; f++)
    for (uint32_t i = 0; i < body->face[f].n; i++, n++)
      sum = plumb_vec3_add (sum, body->face[f].point[i]);
  for (uint32_t f = 0; f < body->n_faces; f++)
    turn_outward (&body->face[f], plumb_vec3_scale (sum, 1.0 / n));
  for (uint32_t f = 0; f < body->n_faces; f++)
    {
      const PlumbBodyFace *face = &body->face[f];
      plumb_maker_face (maker, face->point, face->n, face->normal, body->grain, face->material,
                        face->material != PLUMB_MATERIAL_CUT
                            && (divide == PLUMB_DIVIDE_ALL
                                || (divide == PLUMB_DIVIDE_TOWARDS
                                    && plumb_vec3_dot (face->normal, towards) > FACES_TOWARDS)));
    }
}
