/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of conics and lines on the picture: found and cut. */
#include "silhouette-bows-private.h"

#define FULL_TURN (2.0 * PLUMB_PI)
/* cos 45°, and a little less: pieces turn by a quarter at most. */
#define LEAST_WEIGHT 0.7
#define MOST_HALVINGS 24
#define NO_LENGTH_M 1e-10

PlumbThrown
plumb_thrown (const PlumbSightFrame *frame, PlumbVec3 centre, PlumbVec3 a, PlumbVec3 b)
{
  double h = frame->height;

  return (PlumbThrown){ .x = { h * (centre.x - frame->eye_u), h * a.x, h * b.x },
                        .y = { h * (centre.y - frame->eye_v), h * a.y, h * b.y },
                        .w = { h - centre.z, -a.z, -b.z } };
}

void
plumb_bound_before_eye (const PlumbSightFrame *frame, const PlumbThrown *curve, double bound[3])
{
  bound[0] = frame->height - plumb_sight_near (frame) - curve->w[0];
  bound[1] = -curve->w[1];
  bound[2] = -curve->w[2];
}

void
plumb_bound_over_picture (const PlumbSightFrame *frame, const PlumbThrown *curve, double bound[3])
{
  bound[0] = curve->w[0] - frame->height;
  bound[1] = curve->w[1];
  bound[2] = curve->w[2];
}

void
plumb_bows_begin (PlumbBows *bows, const PlumbSightFrame *frame, const PlumbRect *picture)
{
  PlumbVec2 middle = plumb_vec2_sub (picture->centre_m, plumb_vec2 (frame->eye_u, frame->eye_v));
  PlumbVec2 half = { picture->width_m / 2.0, picture->height_m / 2.0 };

  bows->frame = frame;
  bows->least = plumb_vec2_sub (middle, half);
  bows->most = plumb_vec2_add (middle, half);
  bows->n = 0;
  bows->overfull = false;
}

/* ---- pieces ---------------------------------------------------------------------- */

static void
push (PlumbBows *bows, const PlumbBow *bow)
{
  if (fabs (bow->p.x - bow->q.x) + fabs (bow->p.y - bow->q.y) <= NO_LENGTH_M)
    return;
  if (bows->n < PLUMB_MOST_BOWS)
    bows->bow[bows->n++] = *bow;
  else
    bows->overfull = true;
}

/* De Casteljau at the middle; both halves get the same weight. */
void
plumb_bow_halve (const PlumbBow *bow, PlumbBow *first, PlumbBow *second)
{
  double over = 1.0 + bow->weight, weight = sqrt (fmax (over, 0.0) / 2.0);
  PlumbBow whole = *bow;
  PlumbVec2 both = plumb_vec2_add (whole.p, whole.q);
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_along (both, whole.pull, 2.0), 0.5 / over);

  *first = *second = whole;
  first->corners_after = 0;
  first->q = second->p = middle;
  first->weight = second->weight = weight;
  first->pull = plumb_vec2_scale (plumb_vec2_add (whole.p, whole.pull), weight / over);
  second->pull = plumb_vec2_scale (plumb_vec2_add (whole.pull, whole.q), weight / over);
}

static void
push_quarters (PlumbBows *bows, const PlumbBow *bow)
{
  PlumbBow waiting[MOST_HALVINGS];
  int n = 0;

  waiting[n++] = *bow;
  while (n > 0)
    {
      PlumbBow one = waiting[--n];
      if (one.weight >= LEAST_WEIGHT || n + 2 > MOST_HALVINGS || !(one.weight > -1.0))
        {
          bows->overfull |= !(one.weight >= LEAST_WEIGHT);
          push (bows, &one);
          continue;
        }
      plumb_bow_halve (&one, &waiting[n + 1], &waiting[n]);
      n += 2;
    }
}

static double
at_angle (const double k[3], double c, double s)
{
  return k[0] + k[1] * c + k[2] * s;
}

static void
push_part (PlumbBows *bows, const PlumbThrown *curve, double t0, double t1)
{
  double middle = (t0 + t1) / 2.0, half = cos ((t1 - t0) / 2.0), c = cos (middle), s = sin (middle);
  double w0 = at_angle (curve->w, cos (t0), sin (t0)), w1 = at_angle (curve->w, cos (t1), sin (t1));
  double scale = 1.0 / sqrt (w0 * w1);
  PlumbBow bow = {
    .p = { at_angle (curve->x, cos (t0), sin (t0)) / w0, at_angle (curve->y, cos (t0), sin (t0)) / w0 },
    .q = { at_angle (curve->x, cos (t1), sin (t1)) / w1, at_angle (curve->y, cos (t1), sin (t1)) / w1 },
    .pull = { scale * (curve->x[0] * half + curve->x[1] * c + curve->x[2] * s),
              scale * (curve->y[0] * half + curve->y[1] * c + curve->y[2] * s) },
    .weight = scale * (curve->w[0] * half + curve->w[1] * c + curve->w[2] * s),
  };

  if (!isfinite (scale) || !isfinite (bow.p.x + bow.p.y + bow.q.x + bow.q.y + bow.pull.x + bow.pull.y + bow.weight))
    bows->overfull = true;
  else
    push_quarters (bows, &bow);
}

/* ---- curves ---------------------------------------------------------------------- */

#define MOST_TURNS (2 * (4 + PLUMB_MOST_BOUNDS))

typedef struct {
  double bound[4 + PLUMB_MOST_BOUNDS][3];
  int n;
  double turn[MOST_TURNS + 1]; /* where a bound is met, in order */
  int n_turns;
} Limits;

static void
add_turn (Limits *limits, double t)
{
  int k = limits->n_turns++;

  t -= FULL_TURN * floor (t / FULL_TURN);
  for (; k > 0 && limits->turn[k - 1] > t; k--)
    limits->turn[k] = limits->turn[k - 1];
  limits->turn[k] = t;
}

static void
find_turns (Limits *limits)
{
  limits->n_turns = 0;
  for (int k = 0; k < limits->n; k++)
    {
      const double *b = limits->bound[k];
      double reach = sqrt (b[1] * b[1] + b[2] * b[2]);
      if (!(fabs (b[0]) < reach))
        continue;
      double middle = atan2 (b[2], b[1]), half = acos (-b[0] / reach);
      add_turn (limits, middle - half);
      add_turn (limits, middle + half);
    }
}

static bool
fulfils (const Limits *limits, double t)
{
  double c = cos (t), s = sin (t);

  for (int k = 0; k < limits->n; k++)
    if (!(at_angle (limits->bound[k], c, s) <= 0.0))
      return false;
  return true;
}

/* A quarter of the way at a time. */
static void
push_run (PlumbBows *bows, const PlumbThrown *curve, double t0, double t1)
{
  int parts = (int) ceil ((t1 - t0) / (PLUMB_PI / 2.0) - 1e-9);

  for (int k = 0; k < parts; k++)
    push_part (bows, curve, t0 + (t1 - t0) * k / parts, t0 + (t1 - t0) * (k + 1) / parts);
}

void
plumb_bows_add_curve (PlumbBows *bows, const PlumbThrown *curve, double (*bound)[3], int n_bounds)
{
  Limits limits = { .n = 4 + n_bounds };
  const double edge[4] = { -bows->most.x, bows->least.x, -bows->most.y, bows->least.y };

  for (int i = 0; i < 3; i++)
    {
      limits.bound[0][i] = curve->x[i] + edge[0] * curve->w[i];
      limits.bound[1][i] = -curve->x[i] + edge[1] * curve->w[i];
      limits.bound[2][i] = curve->y[i] + edge[2] * curve->w[i];
      limits.bound[3][i] = -curve->y[i] + edge[3] * curve->w[i];
      for (int k = 0; k < n_bounds; k++)
        limits.bound[4 + k][i] = bound[k][i];
    }
  find_turns (&limits);
  if (limits.n_turns == 0)
    {
      if (fulfils (&limits, 0.0))
        push_run (bows, curve, 0.0, FULL_TURN);
      return;
    }
  limits.turn[limits.n_turns] = limits.turn[0] + FULL_TURN;
  for (int k = 0; k < limits.n_turns; k++)
    if (limits.turn[k + 1] > limits.turn[k] && fulfils (&limits, (limits.turn[k] + limits.turn[k + 1]) / 2.0))
      push_run (bows, curve, limits.turn[k], limits.turn[k + 1]);
}

/* ---- lines ----------------------------------------------------------------------- */

/* Keeps the part of [t0, t1] in which a value that goes straight from a to b is
 * not above 0. */
static void
keep_below (double a, double b, double *t0, double *t1)
{
  if (a > 0.0 && b > 0.0)
    *t1 = -1.0;
  else if (a > 0.0)
    *t0 = fmax (*t0, a / (a - b));
  else if (b > 0.0)
    *t1 = fmin (*t1, a / (a - b));
}

void
plumb_bows_add_line (PlumbBows *bows, PlumbVec3 from, PlumbVec3 to)
{
  const PlumbSightFrame *frame = bows->frame;
  double h = frame->height, near = plumb_sight_near (frame), t0 = 0.0, t1 = 1.0;
  const double x[2] = { h * (from.x - frame->eye_u), h * (to.x - frame->eye_u) };
  const double y[2] = { h * (from.y - frame->eye_v), h * (to.y - frame->eye_v) };
  const double w[2] = { h - from.z, h - to.z };

  keep_below (-from.z, -to.z, &t0, &t1);
  keep_below (from.z - near, to.z - near, &t0, &t1);
  keep_below (x[0] - bows->most.x * w[0], x[1] - bows->most.x * w[1], &t0, &t1);
  keep_below (bows->least.x * w[0] - x[0], bows->least.x * w[1] - x[1], &t0, &t1);
  keep_below (y[0] - bows->most.y * w[0], y[1] - bows->most.y * w[1], &t0, &t1);
  keep_below (bows->least.y * w[0] - y[0], bows->least.y * w[1] - y[1], &t0, &t1);
  if (!(t1 > t0))
    return;
  double w0 = w[0] + t0 * (w[1] - w[0]), w1 = w[0] + t1 * (w[1] - w[0]);
  PlumbBow bow = { .straight = true,
                   .p = { (x[0] + t0 * (x[1] - x[0])) / w0, (y[0] + t0 * (y[1] - y[0])) / w0 },
                   .q = { (x[0] + t1 * (x[1] - x[0])) / w1, (y[0] + t1 * (y[1] - y[0])) / w1 } };
  if (!isfinite (bow.p.x + bow.p.y + bow.q.x + bow.q.y))
    bows->overfull = true;
  else
    push (bows, &bow);
}
