/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Silhouettes of straight cylinders. */
#include "silhouette-bows-private.h"

/* Nearer to level with the picture than this, the section of a side by it is two lines. */
#define LEVEL_SHARE 1e-5

typedef struct {
  const PlumbSightFrame *frame;
  PlumbVec3 end[2]; /* centres of the discs, local as all the rest */
  PlumbVec3 e1, e2, axis;
  double radius, half_length;
  /* The eye from the middle: across and along the axis. */
  double eye_x, eye_y, eye_along;
} Cylinder;

static PlumbVec3
rim_point (const Cylinder *c, int end, double angle)
{
  return plumb_vec3_along (plumb_vec3_along (c->end[end], c->e1, c->radius * cos (angle)), c->e2,
                           c->radius * sin (angle));
}

/* With corners, where rounding leaves nothing exact: within 1 % of its own share. */
static bool
cornered_cylinder (const Cylinder *c, const PlumbRect *picture, PlumbSilhouette *out)
{
  enum { N = 96 };
  PlumbVec3 local[2 * N];
  PlumbVec2 points[6 * 3 * N];
  uint16_t edges[3 * N][2];

  for (uint16_t k = 0; k < N; k++)
    {
      for (int end = 0; end < 2; end++)
        local[2 * k + end] = rim_point (c, end, 2.0 * PLUMB_PI * k / N);
      uint16_t next = (uint16_t) (2 * ((k + 1) % N));
      edges[3 * k][0] = (uint16_t) (2 * k);
      edges[3 * k][1] = (uint16_t) (2 * k + 1);
      edges[3 * k + 1][0] = (uint16_t) (2 * k);
      edges[3 * k + 1][1] = next;
      edges[3 * k + 2][0] = (uint16_t) (2 * k + 1);
      edges[3 * k + 2][1] = (uint16_t) (next + 1);
    }
  size_t n = plumb_sight_cut_points (c->frame, local, 2 * N, edges, 3 * N, points, sizeof points / sizeof points[0]);
  return plumb_outline_from_points (points, n, picture, out);
}

/* ---- cut by the planes --------------------------------------------------------------- */

static bool
cap_seen (const Cylinder *c, int end)
{
  return end == 0 ? c->eye_along < -c->half_length : c->eye_along > c->half_length;
}

static bool
cylinder_hides (const void *data, PlumbVec2 point)
{
  const Cylinder *c = data;
  PlumbVec3 way = plumb_vec3 (point.x, point.y, -c->frame->height);
  double x = plumb_vec3_dot (way, c->e1), y = plumb_vec3_dot (way, c->e2), along = plumb_vec3_dot (way, c->axis);
  double a = x * x + y * y, b = x * c->eye_x + y * c->eye_y;
  double rest = c->eye_x * c->eye_x + c->eye_y * c->eye_y - c->radius * c->radius, root = b * b - a * rest;
  double low = 0.0, high = 1.0;

  if (a > 0.0)
    {
      if (!(root > 0.0))
        return false;
      low = fmax (low, (-b - sqrt (root)) / a);
      high = fmin (high, (-b + sqrt (root)) / a);
    }
  else if (rest > 0.0)
    return false;
  if (along != 0.0)
    {
      double one = (-c->half_length - c->eye_along) / along, other = (c->half_length - c->eye_along) / along;
      low = fmax (low, fmin (one, other));
      high = fmin (high, fmax (one, other));
    }
  else if (fabs (c->eye_along) > c->half_length)
    return false;
  return low < high;
}

/* A rim is outline where of the side and the cap that meet there the eye sees
 * one alone. True when the rim lies in the picture's plane. */
static bool
add_rim_between (PlumbBows *bows, const Cylinder *c, int end)
{
  PlumbThrown rim = plumb_thrown (c->frame, c->end[end], plumb_vec3_scale (c->e1, c->radius),
                                  plumb_vec3_scale (c->e2, c->radius));
  double sign = cap_seen (c, end) ? -1.0 : 1.0, bound[3][3];

  bound[0][0] = sign * c->radius;
  bound[0][1] = -sign * c->eye_x;
  bound[0][2] = -sign * c->eye_y;
  plumb_bound_before_eye (c->frame, &rim, bound[1]);
  plumb_bound_over_picture (c->frame, &rim, bound[2]);
  bool flush = fabs (bound[2][0]) + fabs (bound[2][1]) + fabs (bound[2][2]) < 1e-9 * c->frame->height;
  plumb_bows_add_curve (bows, &rim, bound, flush ? 2 : 3);
  return flush;
}

/* Angles at which a rim crosses the picture's plane. */
static bool
crossings (const Cylinder *c, int end, double angle[2])
{
  double across = hypot (c->e1.z, c->e2.z) * c->radius;

  if (!(fabs (c->end[end].z) < across))
    return false;
  double middle = atan2 (c->e2.z, c->e1.z), half = acos (-c->end[end].z / across);
  angle[0] = middle - half;
  angle[1] = middle + half;
  return true;
}

static void
add_level_line (PlumbBows *bows, PlumbVec3 from, PlumbVec3 to)
{
  from.z = to.z = 0.0;
  plumb_bows_add_line (bows, from, to);
}

static bool
side_seen (const Cylinder *c, double angle)
{
  return c->eye_x * cos (angle) + c->eye_y * sin (angle) > c->radius;
}

/* The section by the picture's plane, as far as the eye sees the faces that it
 * cuts: chords of the caps, and an ellipse (or two lines) of the side. */
static void
add_section (PlumbBows *bows, const Cylinder *c)
{
  double angle[2][2], bound[3][3];
  bool crosses[2];

  for (int end = 0; end < 2; end++)
    {
      crosses[end] = crossings (c, end, angle[end]);
      if (crosses[end] && cap_seen (c, end))
        add_level_line (bows, rim_point (c, end, angle[end][0]), rim_point (c, end, angle[end][1]));
    }
  if (fabs (c->axis.z) < LEVEL_SHARE)
    {
      for (int k = 0; k < 2 && crosses[0] && crosses[1]; k++)
        if (side_seen (c, (angle[0][k] + angle[1][k]) / 2.0))
          add_level_line (bows, rim_point (c, 0, angle[0][k]), rim_point (c, 1, angle[1][k]));
      return;
    }
  /* How far along the axis from the middle the side meets the plane. */
  PlumbVec3 middle = plumb_vec3_scale (plumb_vec3_add (c->end[0], c->end[1]), 0.5);
  const double along[3]
      = { -middle.z / c->axis.z, -c->radius * c->e1.z / c->axis.z, -c->radius * c->e2.z / c->axis.z };
  PlumbThrown section = plumb_thrown (c->frame, plumb_vec3_along (middle, c->axis, along[0]),
                                      plumb_vec3_along (plumb_vec3_scale (c->e1, c->radius), c->axis, along[1]),
                                      plumb_vec3_along (plumb_vec3_scale (c->e2, c->radius), c->axis, along[2]));
  section.w[0] = c->frame->height;
  section.w[1] = section.w[2] = 0.0;
  for (int i = 0; i < 3; i++)
    {
      bound[0][i] = along[i] - (i == 0 ? c->half_length : 0.0);
      bound[1][i] = -along[i] - (i == 0 ? c->half_length : 0.0);
    }
  bound[2][0] = c->radius;
  bound[2][1] = -c->eye_x;
  bound[2][2] = -c->eye_y;
  plumb_bows_add_curve (bows, &section, bound, 3);
}

static bool
cut_cylinder (const Cylinder *c, const PlumbRect *picture, PlumbSilhouette *out)
{
  double aside = hypot (c->eye_x, c->eye_y), across = hypot (c->e1.z, c->e2.z) * c->radius;
  double lowest = fmin (c->end[0].z, c->end[1].z) - across, highest = fmax (c->end[0].z, c->end[1].z) + across;
  double longest = fmax (c->radius, c->half_length), shortest = fmin (c->radius, c->half_length);
  PlumbBows bows;

  if (aside <= c->radius && fabs (c->eye_along) <= c->half_length)
    {
      plumb_outline_whole (picture, out);
      return true;
    }
  if (!(longest < 1e3 && shortest > 1e-9 * longest && aside + fabs (c->eye_along) < 1e5))
    return cornered_cylinder (c, picture, out);
  plumb_bows_begin (&bows, c->frame, picture);
  bool flush = false;
  for (int end = 0; end < 2; end++)
    flush |= add_rim_between (&bows, c, end);
  if (aside > c->radius)
    {
      double middle = atan2 (c->eye_y, c->eye_x), half = acos (c->radius / aside);
      plumb_bows_add_line (&bows, rim_point (c, 0, middle - half), rim_point (c, 1, middle - half));
      plumb_bows_add_line (&bows, rim_point (c, 0, middle + half), rim_point (c, 1, middle + half));
    }
  if (!flush && lowest < 0.0 && highest > 0.0)
    add_section (&bows, c);
  PlumbBowsEnd end = plumb_bows_end (&bows, cylinder_hides, c, picture, out);
  return end == PLUMB_BOWS_DONE || (end == PLUMB_BOWS_MUDDLED && cornered_cylinder (c, picture, out));
}

/* ---- between the planes --------------------------------------------------------------- */

/* The angle t of a point on the ellipse. */
static double
ellipse_angle (const PlumbEllipse *ellipse, PlumbVec2 point)
{
  PlumbVec2 d = plumb_vec2_sub (point, ellipse->centre);
  double size = plumb_vec2_cross (ellipse->major, ellipse->minor);

  /* Edge-on there is but a stretch: one way along it and back. */
  if (!(size > 0.0))
    return acos (plumb_clamp (plumb_vec2_dot (d, ellipse->major)
                                  / fmax (plumb_vec2_dot (ellipse->major, ellipse->major), 1e-300),
                              -1.0, 1.0));
  return atan2 (plumb_vec2_cross (ellipse->major, d) / size, plumb_vec2_cross (d, ellipse->minor) / size);
}

/* The rim counter-clockwise from one point to the other. */
static void
add_rim (PlumbSilhouette *out, const PlumbEllipse *ellipse, PlumbVec2 from, PlumbVec2 to)
{
  double t0 = ellipse_angle (ellipse, from), t1 = ellipse_angle (ellipse, to);

  while (t1 <= t0)
    t1 += 2.0 * PLUMB_PI;
  plumb_outline_add_arc (out, ellipse->centre, ellipse->major, ellipse->minor, t0, t1);
}

static PlumbQuadric
disc_of (const Cylinder *c, int end)
{
  PlumbQuadric q = { .centre = c->end[end] };
  const double e[2][3] = { { c->e1.x, c->e1.y, c->e1.z }, { c->e2.x, c->e2.y, c->e2.z } };

  for (int k = 0; k < 2; k++)
    for (int i = 0; i < 3; i++)
      for (int j = 0; j < 3; j++)
        q.s[i][j] += c->radius * c->radius * e[k][i] * e[k][j];
  return q;
}

/* Two tangent planes through the eye touch along two straight lines; between
 * their ends the outline follows the rims. */
static bool
whole_cylinder (const Cylinder *c, const PlumbQuadric disc[2], PlumbSilhouette *out)
{
  double eye_angle = atan2 (c->eye_y, c->eye_x), half_angle = acos (c->radius / hypot (c->eye_x, c->eye_y));
  PlumbEllipse rim[2];
  PlumbVec2 touch[2][2]; /* end, line */

  for (int end = 0; end < 2; end++)
    {
      rim[end] = plumb_quadric_project (c->frame, &disc[end]);
      for (int line = 0; line < 2; line++)
        touch[end][line]
            = plumb_sight_project (c->frame, rim_point (c, end, eye_angle + (line == 0 ? -half_angle : half_angle)));
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
  PlumbVec3 rel = plumb_vec3_sub (from, body->centre_m);
  Cylinder c = { .frame = frame,
                 .e1 = plumb_sight_local_direction (frame, body->axis[0]),
                 .e2 = plumb_sight_local_direction (frame, body->axis[1]),
                 .axis = plumb_sight_local_direction (frame, body->axis[2]),
                 .radius = body->half_m.x,
                 .half_length = body->half_m.z,
                 .eye_x = plumb_vec3_dot (rel, body->axis[0]),
                 .eye_y = plumb_vec3_dot (rel, body->axis[1]),
                 .eye_along = plumb_vec3_dot (rel, body->axis[2]) };
  PlumbQuadric disc[2];
  bool between = true;

  if (!(c.radius > 0.0) || !(c.half_length > 0.0))
    return false;
  for (int end = 0; end < 2; end++)
    {
      double along = end == 0 ? -c.half_length : c.half_length;
      c.end[end] = plumb_vec3_along (plumb_sight_local (frame, body->centre_m), c.axis, along);
      disc[end] = disc_of (&c, end);
      between = between && plumb_quadric_between (frame, &disc[end]);
    }
  if (!between)
    return cut_cylinder (&c, picture, out);
  if (hypot (c.eye_x, c.eye_y) > c.radius)
    {
      if (!whole_cylinder (&c, disc, out))
        return false;
    }
  else
    {
      /* In front of an end: that disc hides the other. */
      PlumbEllipse ellipse = plumb_quadric_project (frame, &disc[c.eye_along > 0.0 ? 1 : 0]);
      plumb_outline_add_ellipse (out, &ellipse);
    }
  return plumb_outline_clip (out, picture);
}
