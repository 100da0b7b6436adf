/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Silhouettes of ellipsoids and cylinders: the projection of a quadric is the
 * conic whose dual is P Q* Pᵀ (Hartley and Zisserman, chapter 8; from memory).
 * A disc is an ellipsoid with no thickness, so rims of cylinders come the same
 * way.
 */
#include "silhouette-private.h"

#include "silhouette-curved-private.h"

/* Corners with which a body is taken that crosses one of the two planes. */
#define TURN_POINTS 256

/* Σ = Σ axisᵢ halfᵢ² axisᵢᵀ of a quadric, and its centre, in local terms. */
typedef struct {
  PlumbVec3 centre;
  double s[3][3];
} Quadric;

static Quadric
quadric_of (const PlumbSightFrame *frame, PlumbVec3 centre_m, const PlumbVec3 *axis, const double *half, int n_axes)
{
  Quadric q = { .centre = plumb_sight_local (frame, centre_m) };

  for (int k = 0; k < n_axes; k++)
    {
      PlumbVec3 d = plumb_sight_local_direction (frame, axis[k]);
      const double v[3] = { d.x * half[k], d.y * half[k], d.z * half[k] };
      for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
          q.s[i][j] += v[i] * v[j];
    }
  return q;
}

/* Whether all of it lies between the planes. */
static bool
lies_between (const PlumbSightFrame *frame, const Quadric *q)
{
  double reach = sqrt (q->s[2][2]);

  return q->centre.z - reach >= 0.0 && q->centre.z + reach <= plumb_sight_near (frame);
}

/* Its projection as an ellipse; only for a quadric before the eye. */
static PlumbEllipse
project_quadric (const PlumbSightFrame *frame, const Quadric *q)
{
  /* Rows of P in local terms, the eye over (0, 0): W = h − z, X = h x, Y = h y
   * with x, y counted from the eye's foot. */
  double h = frame->height;
  const double c[3] = { q->centre.x - frame->eye_u, q->centre.y - frame->eye_v, q->centre.z };
  double x = h * c[0], y = h * c[1], w = h - c[2];
  double d33 = w * w - q->s[2][2];
  double d13 = x * w + h * q->s[0][2], d23 = y * w + h * q->s[1][2];
  double d11 = x * x - h * h * q->s[0][0], d22 = y * y - h * h * q->s[1][1], d12 = x * y - h * h * q->s[0][1];
  double cx = d13 / d33, cy = d23 / d33;
  double e11 = cx * cx - d11 / d33, e22 = cy * cy - d22 / d33, e12 = cx * cy - d12 / d33;
  double mean = (e11 + e22) / 2.0, gap = hypot ((e11 - e22) / 2.0, e12);
  double angle = 0.5 * atan2 (2.0 * e12, e11 - e22);
  double a = sqrt (fmax (mean + gap, 0.0)), b = sqrt (fmax (mean - gap, 0.0));

  return (PlumbEllipse){ .centre = { cx + frame->eye_u, cy + frame->eye_v },
                         .major = { a * cos (angle), a * sin (angle) },
                         .minor = { -b * sin (angle), b * cos (angle) } };
}

double
plumb_ellipse_angle (const PlumbEllipse *ellipse, PlumbVec2 point)
{
  PlumbVec2 d = plumb_vec2_sub (point, ellipse->centre);
  double aa = plumb_vec2_dot (ellipse->major, ellipse->major), bb = plumb_vec2_dot (ellipse->minor, ellipse->minor);

  return atan2 (bb > 0.0 ? plumb_vec2_dot (d, ellipse->minor) / bb : 0.0,
                aa > 0.0 ? plumb_vec2_dot (d, ellipse->major) / aa : 0.0);
}

static void
whole_ellipse (const PlumbEllipse *ellipse, PlumbSilhouette *out)
{
  plumb_outline_add_arc (out, ellipse->centre, ellipse->major, ellipse->minor, 0.0, 2.0 * PLUMB_PI);
}

/* ---- ellipsoid ------------------------------------------------------------------- */

/* Points of an ellipse in space within the slab; at its crossings with the
 * slab's planes the section's own points take over. */
static size_t
slab_points (const PlumbSightFrame *frame, PlumbVec3 centre, PlumbVec3 a, PlumbVec3 b, PlumbVec2 *out)
{
  double near = plumb_sight_near (frame);
  size_t n = 0;

  for (int k = 0; k < TURN_POINTS; k++)
    {
      double t = 2.0 * PLUMB_PI * k / TURN_POINTS;
      PlumbVec3 p = plumb_vec3_along (plumb_vec3_along (centre, a, cos (t)), b, sin (t));
      if (p.z >= -1e-12 && p.z <= near + 1e-12)
        out[n++] = plumb_sight_project (frame, p);
    }
  return n;
}

/* The plane g·m = k cuts the unit sphere (g unit, |k| < 1) in a circle, which
 * `to_room` (half axes as columns) turns into an ellipse in space. */
static void
sphere_section (PlumbVec3 g, double k, const PlumbVec3 column[3], PlumbVec3 centre, PlumbVec3 *at, PlumbVec3 *a,
                PlumbVec3 *b)
{
  PlumbVec3 any = fabs (g.x) < 0.7 ? plumb_vec3 (1, 0, 0) : plumb_vec3 (0, 1, 0);
  PlumbVec3 e1 = plumb_vec3_unit (plumb_vec3_cross (g, any)), e2 = plumb_vec3_cross (g, e1);
  double r = sqrt (1.0 - k * k);
  const PlumbVec3 unit[3] = { plumb_vec3_scale (g, k), plumb_vec3_scale (e1, r), plumb_vec3_scale (e2, r) };
  PlumbVec3 *out[3] = { at, a, b };

  for (int i = 0; i < 3; i++)
    *out[i] = plumb_vec3_along (
        plumb_vec3_along (plumb_vec3_scale (column[0], unit[i].x), column[1], unit[i].y), column[2], unit[i].z);
  *at = plumb_vec3_add (*at, centre);
}

static void
add_ellipse_part (PlumbSilhouette *out, const PlumbEllipse *e, PlumbVec2 from, PlumbVec2 to)
{
  double t0 = plumb_ellipse_angle (e, from), t1 = plumb_ellipse_angle (e, to);

  plumb_outline_add_arc (out, e->centre, e->major, e->minor, t0, t1 > t0 ? t1 : t1 + 2.0 * PLUMB_PI);
}

/* An ellipsoid through the picture and before the eye. In the terms of its unit
 * sphere x: sight touches it where m·x = 1, the picture cuts it where g·x = k.
 * The outline follows the projected contact before the picture and the section
 * from there on; both touch where they meet. */
static void
ellipsoid_through_picture (const PlumbSightFrame *frame, const Quadric *q, PlumbVec3 m, PlumbVec3 g,
                           const PlumbVec3 column[3], PlumbSilhouette *out)
{
  PlumbEllipse contact = project_quadric (frame, q), section;
  double k = -q->centre.z, mm = plumb_vec3_dot (m, m), mg = plumb_vec3_dot (m, g), gg = plumb_vec3_dot (g, g);
  PlumbVec3 way = plumb_vec3_cross (m, g);
  double size = plumb_vec3_dot (way, way);
  PlumbVec3 foot = plumb_vec3_along (plumb_vec3_scale (m, (gg - k * mg) / size), g, (k * mm - mg) / size);
  double rest = 1.0 - plumb_vec3_dot (foot, foot);

  if (!(size > 1e-18 * mm * gg) || !(rest > 0.0))
    {
      /* They do not meet: the contact lies wholly before the picture or wholly behind. */
      if (mg / mm >= k)
        {
          whole_ellipse (&contact, out);
          return;
        }
    }
  /* Section: Σ without the share of the height, scaled to what the cut leaves. */
  double share = 1.0 - k * k / gg;
  const double *row = q->s[2];
  Quadric flat = { .centre = { q->centre.x + k * row[0] / gg, q->centre.y + k * row[1] / gg, 0.0 } };
  for (int i = 0; i < 2; i++)
    for (int j = 0; j < 2; j++)
      flat.s[i][j] = share * (q->s[i][j] - row[i] * row[j] / gg);
  section = project_quadric (frame, &flat);
  if (!(size > 1e-18 * mm * gg) || !(rest > 0.0))
    {
      whole_ellipse (&section, out);
      return;
    }
  /* The meeting points, and the contact's highest point between them. */
  PlumbVec2 meet[2], top;
  PlumbVec3 rise = plumb_vec3_unit (plumb_vec3_along (g, m, -mg / mm)), x;
  for (int i = 0; i < 3; i++)
    {
      x = i < 2 ? plumb_vec3_along (foot, way, (i == 0 ? -1.0 : 1.0) * sqrt (rest / size))
                : plumb_vec3_along (plumb_vec3_scale (m, 1.0 / mm), rise, sqrt (1.0 - 1.0 / mm));
      PlumbVec3 p = plumb_vec3_along (q->centre, column[0], x.x);
      p = plumb_vec3_along (plumb_vec3_along (p, column[1], x.y), column[2], x.z);
      *(i < 2 ? &meet[i] : &top) = plumb_sight_project (frame, p);
    }
  PlumbVec2 chord = plumb_vec2_sub (meet[1], meet[0]);
  int first = plumb_vec2_cross (chord, plumb_vec2_sub (top, meet[0])) <= 0.0 ? 0 : 1;
  add_ellipse_part (out, &contact, meet[first], meet[1 - first]);
  add_ellipse_part (out, &section, meet[1 - first], meet[first]);
}

/* An ellipsoid across a plane: its silhouette is the hull of the tangent
 * cone's curve of contact inside the slab and of the sections with the slab's
 * planes. Both are exact curves; they are taken with 256 points a turn, and the
 * outline keeps the corners that fit: within 1 % of the body's own share. */
static bool
cut_ellipsoid (const PlumbSightFrame *frame, const Quadric *q, const PlumbOccluder *body, const PlumbRect *picture,
               PlumbSilhouette *out)
{
  PlumbVec2 points[3 * TURN_POINTS + 4]; /* clipping adds a corner an edge */
  PlumbVec3 centre = plumb_sight_local (frame, body->centre_m), column[3], at, a, b;
  const double half[3] = { body->half_m.x, body->half_m.y, body->half_m.z };
  PlumbVec3 eye = plumb_vec3 (frame->eye_u, frame->eye_v, frame->height);
  PlumbVec3 m, g;
  size_t n = 0;

  for (int k = 0; k < 3; k++)
    column[k] = plumb_vec3_scale (plumb_sight_local_direction (frame, body->axis[k]), half[k]);
  /* The eye in the terms of the unit sphere. */
  PlumbVec3 rel = plumb_vec3_sub (eye, centre);
  m = plumb_vec3 (plumb_vec3_dot (rel, column[0]) / (half[0] * half[0]),
                  plumb_vec3_dot (rel, column[1]) / (half[1] * half[1]),
                  plumb_vec3_dot (rel, column[2]) / (half[2] * half[2]));
  double distance = plumb_vec3_length (m);
  if (distance <= 1.0)
    {
      plumb_outline_whole (picture, out);
      return true;
    }
  g = plumb_vec3 (column[0].z, column[1].z, column[2].z);
  double reach = plumb_vec3_length (g);
  double least = fmin (half[0], fmin (half[1], half[2])), most = fmax (half[0], fmax (half[1], half[2]));
  /* Needles and what lies far off lose too many digits for exact arcs. */
  bool plain = most < 1e3 && least > 1e-5 * most && distance < 1e6;
  if (plain && centre.z + reach < 0.999 * frame->height
      && plumb_vec2_length (project_quadric (frame, q).major) < 1e3)
    {
      if (centre.z + reach <= 0.0)
        return false;
      ellipsoid_through_picture (frame, q, m, g, column, out);
      return plumb_outline_clip (out, picture);
    }
  sphere_section (plumb_vec3_scale (m, 1.0 / distance), 1.0 / distance, column, centre, &at, &a, &b);
  n += slab_points (frame, at, a, b, points + n);
  const double level[2] = { 0.0, plumb_sight_near (frame) };
  for (int k = 0; k < 2; k++)
    {
      double way = level[k] - centre.z;
      if (!(fabs (way) < reach))
        continue;
      sphere_section (plumb_vec3_scale (g, 1.0 / reach), way / reach, column, centre, &at, &a, &b);
      n += slab_points (frame, at, a, b, points + n);
    }
  return plumb_outline_from_points (points, n, picture, out);
}

bool
plumb_silhouette_ellipsoid (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                            PlumbSilhouette *out)
{
  const double half[3] = { body->half_m.x, body->half_m.y, body->half_m.z };

  if (!(half[0] > 0.0) || !(half[1] > 0.0) || !(half[2] > 0.0))
    return false;
  Quadric q = quadric_of (frame, body->centre_m, body->axis, half, 3);
  if (!lies_between (frame, &q))
    return cut_ellipsoid (frame, &q, body, picture, out);
  PlumbEllipse ellipse = project_quadric (frame, &q);
  whole_ellipse (&ellipse, out);
  return plumb_outline_clip (out, picture);
}

/* ---- cylinder ----------------------------------------------------------------------- */

typedef struct {
  PlumbVec3 end[2]; /* centres of the discs, room */
  PlumbVec3 e1, e2, axis;
  double radius;
} Cylinder;

static PlumbVec3
rim_point (const Cylinder *c, int end, double angle)
{
  return plumb_vec3_along (plumb_vec3_along (c->end[end], c->e1, c->radius * cos (angle)), c->e2,
                           c->radius * sin (angle));
}

static bool
cut_cylinder (const PlumbSightFrame *frame, const Cylinder *c, const PlumbRect *picture, PlumbSilhouette *out)
{
  enum { N = 96 };
  PlumbVec3 local[2 * N];
  PlumbVec2 points[6 * 3 * N];
  uint16_t edges[3 * N][2];

  for (uint16_t k = 0; k < N; k++)
    {
      for (int end = 0; end < 2; end++)
        local[2 * k + end] = plumb_sight_local (frame, rim_point (c, end, 2.0 * PLUMB_PI * k / N));
      uint16_t next = (uint16_t) (2 * ((k + 1) % N));
      edges[3 * k][0] = (uint16_t) (2 * k);
      edges[3 * k][1] = (uint16_t) (2 * k + 1);
      edges[3 * k + 1][0] = (uint16_t) (2 * k);
      edges[3 * k + 1][1] = next;
      edges[3 * k + 2][0] = (uint16_t) (2 * k + 1);
      edges[3 * k + 2][1] = (uint16_t) (next + 1);
    }
  size_t n = plumb_sight_cut_points (frame, local, 2 * N, edges, 3 * N, points, sizeof points / sizeof points[0]);
  return plumb_outline_from_points (points, n, picture, out);
}

/* The rim counter-clockwise from one point to the other. */
static void
add_rim (PlumbSilhouette *out, const PlumbEllipse *ellipse, PlumbVec2 from, PlumbVec2 to)
{
  double t0 = plumb_ellipse_angle (ellipse, from), t1 = plumb_ellipse_angle (ellipse, to);

  while (t1 <= t0)
    t1 += 2.0 * PLUMB_PI;
  plumb_outline_add_arc (out, ellipse->centre, ellipse->major, ellipse->minor, t0, t1);
}

/* Two tangent planes through the eye touch along two straight lines; between
 * their ends the outline follows the rims. */
static bool
cylinder_outline (const PlumbSightFrame *frame, const Cylinder *c, double eye_angle, double half_angle,
                  PlumbSilhouette *out)
{
  PlumbEllipse rim[2];
  PlumbVec2 touch[2][2]; /* end, line */

  for (int end = 0; end < 2; end++)
    {
      const PlumbVec3 axis[2] = { c->e1, c->e2 };
      const double half[2] = { c->radius, c->radius };
      Quadric q = quadric_of (frame, c->end[end], axis, half, 2);
      rim[end] = project_quadric (frame, &q);
      for (int line = 0; line < 2; line++)
        touch[end][line] = plumb_sight_project (
            frame, plumb_sight_local (frame, rim_point (c, end, eye_angle + (line == 0 ? -half_angle : half_angle))));
    }
  PlumbVec2 across = plumb_vec2_sub (touch[0][1], touch[0][0]), diagonal = plumb_vec2_sub (touch[1][1], touch[0][0]);
  /* 0-0 → 0-1 → 1-1 → 1-0 counter-clockwise, or else with the lines exchanged. */
  int first = plumb_vec2_cross (across, diagonal) >= 0.0 ? 0 : 1;
  add_rim (out, &rim[0], touch[0][first], touch[0][1 - first]);
  plumb_outline_add_segment (out, touch[0][1 - first], touch[1][1 - first]);
  add_rim (out, &rim[1], touch[1][1 - first], touch[1][first]);
  plumb_outline_add_segment (out, touch[1][first], touch[0][first]);
  return out->n_pieces > 0;
}

bool
plumb_silhouette_cylinder (PlumbVec3 from, const PlumbSightFrame *frame, const PlumbRect *picture,
                           const PlumbOccluder *body, PlumbSilhouette *out)
{
  Cylinder c = { .e1 = body->axis[0], .e2 = body->axis[1], .axis = body->axis[2], .radius = body->half_m.x };
  bool between = true;

  if (!(c.radius > 0.0) || !(body->half_m.z > 0.0))
    return false;
  for (int end = 0; end < 2; end++)
    {
      const double half[2] = { c.radius, c.radius };
      c.end[end] = plumb_vec3_along (body->centre_m, c.axis, end == 0 ? -body->half_m.z : body->half_m.z);
      const PlumbVec3 axis[2] = { c.e1, c.e2 };
      Quadric q = quadric_of (frame, c.end[end], axis, half, 2);
      /* A rim far off or all but level with the eye throws an ellipse too large for its joints. */
      between = between && lies_between (frame, &q) && q.centre.z + sqrt (q.s[2][2]) < 0.999 * frame->height
                && plumb_vec3_length (q.centre) < 1e3 && c.radius < 1e3;
    }
  if (!between)
    return cut_cylinder (frame, &c, picture, out);

  PlumbVec3 rel = plumb_vec3_sub (from, body->centre_m);
  double x = plumb_vec3_dot (rel, c.e1), y = plumb_vec3_dot (rel, c.e2), along = plumb_vec3_dot (rel, c.axis);
  double aside = hypot (x, y);
  if (aside > c.radius)
    {
      if (!cylinder_outline (frame, &c, atan2 (y, x), acos (c.radius / aside), out))
        return false;
    }
  else
    {
      /* In front of an end: that disc hides the other. */
      const PlumbVec3 axis[2] = { c.e1, c.e2 };
      const double half[2] = { c.radius, c.radius };
      Quadric q = quadric_of (frame, c.end[along > 0.0 ? 1 : 0], axis, half, 2);
      PlumbEllipse ellipse = project_quadric (frame, &q);
      whole_ellipse (&ellipse, out);
    }
  return plumb_outline_clip (out, picture);
}
