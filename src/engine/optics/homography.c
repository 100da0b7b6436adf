/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Maps between the panel and planes: Hartley & Zisserman, Multiple View
 * Geometry, ch. 2, derived anew in the comments. */
#include "plumbeam/optics.h"

/* A point whose third component is smaller than this share of its terms lies
 * a million million pictures away: infinity for a building. */
#define INFINITY_SHARE 1e-12
/* Determinant over the product of the row lengths; rounding alone makes some
 * 1e-16 of it. */
#define SINGULAR_SHARE 1e-15
/* Three corners with a triangle smaller than this, in a quad scaled to about
 * one, lie on a line. */
#define ON_A_LINE_AREA 1e-12

/* The ray d through (a, b) is linear in (a, b, 1). With L the lens seen from
 * the plane's origin and h = L·n its height over the plane, the ray meets the
 * plane at L - h d / (d·n). Multiplied by ∓ d·n, whichever sign makes the
 * factor h / (d·n) of a ray that goes forward to the plane come out right:
 *
 *     third = -s d·n,  U·third = |h| d·u - s L·u d·n,  s = sign of h. */
bool
plumb_homography_to_plane (const PlumbBeam *beam, const PlumbPlaneFrame *plane, bool rear, PlumbHomography *out)
{
  PlumbVec3 lens = plumb_vec3_sub (beam->lens_m, plane->origin_m);
  double side = rear ? -1.0 : 1.0;
  double height_m = side * plumb_vec3_dot (lens, plane->n);

  if (!(height_m > PLUMB_POINT_TOLERANCE_M))
    return false;

  double lens_u = plumb_vec3_dot (lens, plane->u);
  double lens_v = plumb_vec3_dot (lens, plane->v);
  PlumbVec3 column[3] = {
    plumb_vec3_scale (beam->axes.r, 1.0 / beam->throw_ratio),
    plumb_vec3_scale (beam->axes.w, 1.0 / (beam->panel_aspect * beam->throw_ratio)),
    plumb_beam_ray (beam, plumb_vec2 (0.0, 0.0)),
  };

  for (int k = 0; k < 3; k++)
    {
      double towards = -side * plumb_vec3_dot (column[k], plane->n);

      out->m[k] = height_m * plumb_vec3_dot (column[k], plane->u) + lens_u * towards;
      out->m[3 + k] = height_m * plumb_vec3_dot (column[k], plane->v) + lens_v * towards;
      out->m[6 + k] = towards;
    }
  return true;
}

static PlumbVec3
row_of (const PlumbHomography *map, int k)
{
  return plumb_vec3 (map->m[3 * k], map->m[3 * k + 1], map->m[3 * k + 2]);
}

/* The rows' cross products are the columns of the adjugate; divided by the
 * determinant with its sign, the inverse keeps the third component positive
 * where the forward map had it so. */
bool
plumb_homography_invert (const PlumbHomography *map, PlumbHomography *out)
{
  PlumbVec3 row[3] = { row_of (map, 0), row_of (map, 1), row_of (map, 2) };
  PlumbVec3 column[3];
  double lengths = 1.0;

  for (int k = 0; k < 3; k++)
    {
      column[k] = plumb_vec3_cross (row[(k + 1) % 3], row[(k + 2) % 3]);
      lengths *= plumb_vec3_length (row[k]);
    }

  double det = plumb_vec3_dot (row[0], column[0]);
  if (!(fabs (det) > SINGULAR_SHARE * lengths))
    return false;

  for (int k = 0; k < 3; k++)
    {
      out->m[k] = column[k].x / det;
      out->m[3 + k] = column[k].y / det;
      out->m[6 + k] = column[k].z / det;
    }
  return true;
}

bool
plumb_homography_apply (const PlumbHomography *map, PlumbVec2 point, PlumbVec2 *out)
{
  const double *m = map->m;
  double third = m[6] * point.x + m[7] * point.y + m[8];
  /* What rounding of the map and of the point could make of nothing; at least
   * as for a point one away, for the middle of a panel is no safer. */
  double terms = fabs (m[6]) * fmax (fabs (point.x), 1.0) + fabs (m[7]) * fmax (fabs (point.y), 1.0) + fabs (m[8]);

  if (!(third > INFINITY_SHARE * terms))
    return false;

  out->x = (m[0] * point.x + m[1] * point.y + m[2]) / third;
  out->y = (m[3] * point.x + m[4] * point.y + m[5]) / third;
  return true;
}

/* p -> (p - centre) · scale: brings a quad to about one, so that one tolerance
 * fits panels and walls and the sums do not cancel far from the origin. */
typedef struct {
  PlumbVec2 centre;
  double scale;
} Frame;

static bool
frame_of_quad (const PlumbQuad *quad, Frame *frame)
{
  PlumbVec2 sum = plumb_vec2 (0.0, 0.0);
  double reach = 0.0;

  for (int k = 0; k < 4; k++)
    sum = plumb_vec2_add (sum, quad->corner[k]);
  frame->centre = plumb_vec2_scale (sum, 0.25);
  for (int k = 0; k < 4; k++)
    reach = fmax (reach, plumb_vec2_length (plumb_vec2_sub (quad->corner[k], frame->centre)));
  frame->scale = 1.0 / reach;
  return reach > 0.0 && isfinite (frame->scale);
}

static double
triangle_area (PlumbVec2 a, PlumbVec2 b, PlumbVec2 c)
{
  return plumb_vec2_cross (plumb_vec2_sub (b, a), plumb_vec2_sub (c, a)) / 2.0;
}

/* The map that takes (1,0,0), (0,1,0), (0,0,1) and (1,1,1) to the corners:
 * columns are the first three, weighted so that they add up to the fourth. */
static bool
basis_of_quad (const PlumbQuad *quad, const Frame *frame, PlumbHomography *out)
{
  PlumbVec2 p[4];

  for (int k = 0; k < 4; k++)
    p[k] = plumb_vec2_scale (plumb_vec2_sub (quad->corner[k], frame->centre), frame->scale);

  double whole = triangle_area (p[0], p[1], p[2]);
  double weight[3]
      = { triangle_area (p[3], p[1], p[2]), triangle_area (p[0], p[3], p[2]), triangle_area (p[0], p[1], p[3]) };
  if (!(fabs (whole) > ON_A_LINE_AREA))
    return false;
  for (int k = 0; k < 3; k++)
    {
      if (!(fabs (weight[k]) > ON_A_LINE_AREA))
        return false;
      weight[k] /= whole;
      out->m[k] = weight[k] * p[k].x;
      out->m[3 + k] = weight[k] * p[k].y;
      out->m[6 + k] = weight[k];
    }
  return true;
}

static void
multiply (const double a[9], const double b[9], double out[9])
{
  for (int row = 0; row < 3; row++)
    for (int column = 0; column < 3; column++)
      out[3 * row + column]
          = a[3 * row] * b[column] + a[3 * row + 1] * b[3 + column] + a[3 * row + 2] * b[6 + column];
}

bool
plumb_homography_from_quads (const PlumbQuad *from, const PlumbQuad *to, PlumbHomography *out)
{
  Frame frame_from, frame_to;
  PlumbHomography basis_from, basis_to, back;

  if (!frame_of_quad (from, &frame_from) || !frame_of_quad (to, &frame_to)
      || !basis_of_quad (from, &frame_from, &basis_from) || !basis_of_quad (to, &frame_to, &basis_to)
      || !plumb_homography_invert (&basis_from, &back))
    return false;

  double k = frame_from.scale;
  double shrink[9] = { k, 0.0, -k * frame_from.centre.x, 0.0, k, -k * frame_from.centre.y, 0.0, 0.0, 1.0 };
  double size = 1.0 / frame_to.scale;
  double grow[9] = { size, 0.0, frame_to.centre.x, 0.0, size, frame_to.centre.y, 0.0, 0.0, 1.0 };
  double there[9], onto[9];

  multiply (back.m, shrink, there);
  multiply (basis_to.m, there, onto);
  multiply (grow, onto, out->m);
  return true;
}
