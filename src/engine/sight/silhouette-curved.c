/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Silhouettes of quadrics: the projection of a quadric is the conic whose dual
 * is P Q* Pᵀ (Hartley and Zisserman, chapter 8; from memory). A disc is an
 * ellipsoid with no thickness, so rims of cylinders come the same way.
 */
#include "silhouette-bows-private.h"

/* Corners of a turn where rounding leaves nothing exact. */
#define TURN_POINTS 256

PlumbQuadric
plumb_quadric (const PlumbSightFrame *frame, PlumbVec3 centre_m, const PlumbVec3 *axis, const double *half,
               int n_axes)
{
  PlumbQuadric q = { .centre = plumb_sight_local (frame, centre_m) };

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

/* Level with the eye it throws an ellipse too large for its joints. */
bool
plumb_quadric_between (const PlumbSightFrame *frame, const PlumbQuadric *q)
{
  double reach = sqrt (q->s[2][2]);

  return q->centre.z - reach >= 0.0 && q->centre.z + reach < 0.999 * frame->height
         && fabs (q->centre.x) + fabs (q->centre.y) < 1e3 && q->s[0][0] + q->s[1][1] < 1e6;
}

PlumbEllipse
plumb_quadric_project (const PlumbSightFrame *frame, const PlumbQuadric *q)
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
  /* Any two conjugate half-axes do; these need no angle (Cholesky). The first is
   * that of the wider box. */
  bool wide = e11 >= e22;
  double first = wide ? e11 : e22, a = sqrt (fmax (first, 0.0)), skew = a > 0.0 ? e12 / a : 0.0;
  double b = sqrt (fmax ((wide ? e22 : e11) - skew * skew, 0.0));

  return (PlumbEllipse){ .centre = { cx + frame->eye_u, cy + frame->eye_v },
                         .major = wide ? plumb_vec2 (a, skew) : plumb_vec2 (skew, a),
                         .minor = wide ? plumb_vec2 (0.0, b) : plumb_vec2 (-b, 0.0) };
}

void
plumb_outline_add_ellipse (PlumbSilhouette *out, const PlumbEllipse *ellipse)
{
  const PlumbVec2 c = ellipse->centre, a = ellipse->major, b = ellipse->minor;
  const PlumbVec2 at[4]
      = { plumb_vec2_add (c, a), plumb_vec2_add (c, b), plumb_vec2_sub (c, a), plumb_vec2_sub (c, b) };

  for (int k = 0; k < 4; k++)
    {
      PlumbOutlinePiece piece = { .arc = true,
                                  .p = at[k],
                                  .q = at[(k + 1) % 4],
                                  .centre = c,
                                  .major = a,
                                  .minor = b,
                                  .t0 = PLUMB_PI / 2.0 * k,
                                  .t1 = PLUMB_PI / 2.0 * (k + 1) };
      plumb_outline_add_piece (out, &piece);
    }
}

/* ---- ellipsoid ------------------------------------------------------------------- */

/* The ellipsoid in the terms of its unit sphere: `column` turns those into
 * local ones, `eye` is where the eye stands there. */
typedef struct {
  const PlumbSightFrame *frame;
  PlumbVec3 centre, column[3], eye;
} Ball;

/* Where the plane normal·x = level (normal a unit) cuts the unit sphere:
 * centre + e1 cos t + e2 sin t. */
typedef struct {
  PlumbVec3 centre, e1, e2;
} Circle;

static Circle
circle_at (PlumbVec3 normal, double level)
{
  PlumbVec3 any = fabs (normal.x) < 0.7 ? plumb_vec3 (1, 0, 0) : plumb_vec3 (0, 1, 0);
  PlumbVec3 e1 = plumb_vec3_unit (plumb_vec3_cross (normal, any)), e2 = plumb_vec3_cross (normal, e1);
  double r = sqrt (fmax (1.0 - level * level, 0.0));

  return (Circle){ plumb_vec3_scale (normal, level), plumb_vec3_scale (e1, r), plumb_vec3_scale (e2, r) };
}

static PlumbVec3
stretched (const Ball *ball, PlumbVec3 x)
{
  return plumb_vec3_along (plumb_vec3_along (plumb_vec3_scale (ball->column[0], x.x), ball->column[1], x.y),
                           ball->column[2], x.z);
}

static PlumbThrown
thrown (const Ball *ball, const Circle *circle)
{
  return plumb_thrown (ball->frame, plumb_vec3_add (ball->centre, stretched (ball, circle->centre)),
                       stretched (ball, circle->e1), stretched (ball, circle->e2));
}

static PlumbVec3
unstretched (const Ball *ball, PlumbVec3 v)
{
  const PlumbVec3 *c = ball->column;

  return plumb_vec3 (plumb_vec3_dot (v, c[0]) / plumb_vec3_dot (c[0], c[0]),
                     plumb_vec3_dot (v, c[1]) / plumb_vec3_dot (c[1], c[1]),
                     plumb_vec3_dot (v, c[2]) / plumb_vec3_dot (c[2], c[2]));
}

static bool
ball_hides (const void *data, PlumbVec2 point)
{
  const Ball *ball = data;
  PlumbVec3 way = unstretched (ball, plumb_vec3 (point.x, point.y, -ball->frame->height));
  double a = plumb_vec3_dot (way, way), b = plumb_vec3_dot (way, ball->eye);
  double c = plumb_vec3_dot (ball->eye, ball->eye) - 1.0, root = b * b - a * c;

  return root > 0.0 && b < 0.0 && -b - sqrt (root) < a;
}

/* The tangent cone touches where eye·x = 1; that circle is the outline as far
 * as it lies between the planes. From the picture on it is the section there,
 * as far as the eye sees it: eye·x > 1. */
static void
add_ball (PlumbBows *bows, const Ball *ball)
{
  const PlumbSightFrame *frame = ball->frame;
  double distance = plumb_vec3_length (ball->eye);
  Circle touch = circle_at (plumb_vec3_scale (ball->eye, 1.0 / distance), 1.0 / distance);
  PlumbThrown contact = thrown (ball, &touch);
  PlumbVec3 rise = plumb_vec3 (ball->column[0].z, ball->column[1].z, ball->column[2].z);
  double reach = plumb_vec3_length (rise), level = -ball->centre.z / reach, bound[2][3];

  plumb_bound_before_eye (frame, &contact, bound[0]);
  plumb_bound_over_picture (frame, &contact, bound[1]);
  /* Contact and section in one plane are one. */
  bool one = fabs (bound[1][0]) + fabs (bound[1][1]) + fabs (bound[1][2]) < 1e-9 * frame->height;
  plumb_bows_add_curve (bows, &contact, bound, one ? 1 : 2);
  if (one || !(fabs (level) < 1.0))
    return;
  Circle cut = circle_at (plumb_vec3_scale (rise, 1.0 / reach), level);
  PlumbThrown section = thrown (ball, &cut);
  section.w[0] = frame->height;
  section.w[1] = section.w[2] = 0.0;
  bound[0][0] = 1.0 - plumb_vec3_dot (ball->eye, cut.centre);
  bound[0][1] = -plumb_vec3_dot (ball->eye, cut.e1);
  bound[0][2] = -plumb_vec3_dot (ball->eye, cut.e2);
  plumb_bows_add_curve (bows, &section, bound, 1);
}

/* Points of a circle within the slab. */
static size_t
slab_points (const Ball *ball, PlumbVec3 normal, double level, PlumbVec2 *out)
{
  double near = plumb_sight_near (ball->frame);
  Circle circle = circle_at (normal, level);
  size_t n = 0;

  for (int k = 0; k < TURN_POINTS; k++)
    {
      double t = 2.0 * PLUMB_PI * k / TURN_POINTS;
      PlumbVec3 x = plumb_vec3_along (plumb_vec3_along (circle.centre, circle.e1, cos (t)), circle.e2, sin (t));
      PlumbVec3 p = plumb_vec3_add (ball->centre, stretched (ball, x));
      if (p.z >= -1e-12 && p.z <= near + 1e-12)
        out[n++] = plumb_sight_project (ball->frame, p);
    }
  return n;
}

/* Corners on the curve of contact and on the sections with both planes, for
 * needles and what lies so far off that rounding leaves nothing exact: within
 * 1 % of the body's own share. */
static bool
cornered_ball (const Ball *ball, const PlumbRect *picture, PlumbSilhouette *out)
{
  PlumbVec2 points[3 * TURN_POINTS + 4]; /* clipping adds a corner an edge */
  double distance = plumb_vec3_length (ball->eye);
  PlumbVec3 rise = plumb_vec3 (ball->column[0].z, ball->column[1].z, ball->column[2].z);
  double reach = plumb_vec3_length (rise);
  const double level[2] = { 0.0, plumb_sight_near (ball->frame) };
  size_t n = slab_points (ball, plumb_vec3_scale (ball->eye, 1.0 / distance), 1.0 / distance, points);

  for (int k = 0; k < 2; k++)
    {
      double way = level[k] - ball->centre.z;
      if (fabs (way) < reach)
        n += slab_points (ball, plumb_vec3_scale (rise, 1.0 / reach), way / reach, points + n);
    }
  return plumb_outline_from_points (points, n, picture, out);
}

static bool
cut_ellipsoid (const PlumbSightFrame *frame, const PlumbOccluder *body, const PlumbRect *picture,
               PlumbSilhouette *out)
{
  const double half[3] = { body->half_m.x, body->half_m.y, body->half_m.z };
  Ball ball = { .frame = frame, .centre = plumb_sight_local (frame, body->centre_m) };
  PlumbBows bows;

  for (int k = 0; k < 3; k++)
    ball.column[k] = plumb_vec3_scale (plumb_sight_local_direction (frame, body->axis[k]), half[k]);
  PlumbVec3 eye = plumb_vec3 (frame->eye_u, frame->eye_v, frame->height);
  ball.eye = unstretched (&ball, plumb_vec3_sub (eye, ball.centre));
  double distance = plumb_vec3_length (ball.eye);
  if (distance <= 1.0)
    {
      plumb_outline_whole (picture, out);
      return true;
    }
  double least = fmin (half[0], fmin (half[1], half[2])), most = fmax (half[0], fmax (half[1], half[2]));
  if (!(most < 1e3 && least > 1e-5 * most && distance < 1e6))
    return cornered_ball (&ball, picture, out);
  plumb_bows_begin (&bows, frame, picture);
  add_ball (&bows, &ball);
  PlumbBowsEnd end = plumb_bows_end (&bows, ball_hides, &ball, picture, out);
  return end == PLUMB_BOWS_DONE || (end == PLUMB_BOWS_MUDDLED && cornered_ball (&ball, picture, out));
}

bool
plumb_silhouette_ellipsoid (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                            PlumbSilhouette *out)
{
  const double half[3] = { body->half_m.x, body->half_m.y, body->half_m.z };

  if (!(half[0] > 0.0) || !(half[1] > 0.0) || !(half[2] > 0.0))
    return false;
  PlumbQuadric q = plumb_quadric (frame, body->centre_m, body->axis, half, 3);
  if (!plumb_quadric_between (frame, &q))
    return cut_ellipsoid (frame, body, picture, out);
  PlumbEllipse ellipse = plumb_quadric_project (frame, &q);
  plumb_outline_add_ellipse (out, &ellipse);
  return plumb_outline_clip (out, picture);
}
