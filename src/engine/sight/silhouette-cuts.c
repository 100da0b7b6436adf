/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a piece of one outline meets other outlines: segments and arcs. */
#include "silhouette-cuts-private.h"

/* To this a zero is found: Newton's next step would be far below rounding. */
#define ZERO_RAD 1e-13

static void
add_cut (PlumbCuts *cuts, double t)
{
  if (!(t > cuts->from && t < cuts->to))
    return;
  if (cuts->n < PLUMB_MOST_CUTS)
    cuts->at[cuts->n++] = t;
  else
    cuts->full = true;
}

/* ---- where a piece meets another ------------------------------------------------------ */

/* Whether the foot of a point on a segment's line is on the segment, or about
 * its ends: a cut too many does no harm. */
static bool
beside (const PlumbOutlinePiece *segment, PlumbVec2 p)
{
  PlumbVec2 d = plumb_vec2_sub (segment->q, segment->p);
  double along = plumb_vec2_dot (plumb_vec2_sub (p, segment->p), d), length2 = plumb_vec2_dot (d, d);

  return along >= -1e-3 * length2 && along <= 1.001 * length2;
}

static void
segment_line (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *line, PlumbCuts *cuts)
{
  double p = plumb_left_of (line, piece->p), q = plumb_left_of (line, piece->q);

  if ((p > 0.0) != (q > 0.0) && beside (line, plumb_piece_at (piece, p / (p - q))))
    add_cut (cuts, p / (p - q));
}

static void
segment_ellipse (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *arc, PlumbCuts *cuts)
{
  PlumbVec2 way = plumb_vec2_sub (piece->q, piece->p), o = plumb_vec2_sub (piece->p, arc->centre);
  double dx = plumb_vec2_dot (arc->row[0], way), dy = plumb_vec2_dot (arc->row[1], way);
  double ox = plumb_vec2_dot (arc->row[0], o), oy = plumb_vec2_dot (arc->row[1], o);
  double a = dx * dx + dy * dy, b = ox * dx + oy * dy, c = ox * ox + oy * oy - 1.0;
  double root = b * b - a * c;

  if (!(a > 0.0) || !(root > 0.0))
    return;
  /* Without cancellation: one root by the sum, the other by the product. */
  double sum = -(b + copysign (sqrt (root), b));
  add_cut (cuts, sum / a);
  if (sum != 0.0)
    add_cut (cuts, c / sum);
}

static void
arc_line (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *line, PlumbCuts *cuts)
{
  PlumbVec2 d = plumb_vec2_sub (line->q, line->p), normal = { -d.y, d.x };
  double a = plumb_vec2_dot (normal, piece->major), b = plumb_vec2_dot (normal, piece->minor);
  double c = plumb_vec2_dot (normal, plumb_vec2_sub (line->p, piece->centre)), reach = hypot (a, b);

  if (!(fabs (c) < reach))
    return;
  double middle = atan2 (b, a), half = acos (c / reach);
  for (int k = 0; k < 2; k++)
    {
      double t = middle + (k == 0 ? -half : half);
      t += 2.0 * PLUMB_PI * ceil ((piece->t0 - t) / (2.0 * PLUMB_PI));
      if (beside (line, plumb_piece_at (piece, t)))
        add_cut (cuts, t);
    }
}

/* The level of the other ellipse along an arc is a trigonometric polynomial
 * of second degree: a0 + a1 cos t + b1 sin t + a2 cos 2t + b2 sin 2t. */
typedef struct {
  double a0, a1, b1, a2, b2;
} Trig;

static Trig
level_along (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other)
{
  const PlumbVec2 v[3] = { plumb_vec2_sub (piece->centre, other->centre), piece->major, piece->minor };
  double x[3], y[3];

  for (int k = 0; k < 3; k++)
    {
      x[k] = plumb_vec2_dot (other->row[0], v[k]);
      y[k] = plumb_vec2_dot (other->row[1], v[k]);
    }
  double cc = x[1] * x[1] + y[1] * y[1], ss = x[2] * x[2] + y[2] * y[2];
  return (Trig){ .a0 = x[0] * x[0] + y[0] * y[0] + (cc + ss) / 2.0 - 1.0,
                 .a1 = 2.0 * (x[0] * x[1] + y[0] * y[1]),
                 .b1 = 2.0 * (x[0] * x[2] + y[0] * y[2]),
                 .a2 = (cc - ss) / 2.0,
                 .b2 = x[1] * x[2] + y[1] * y[2] };
}

static inline double
trig_value (const Trig *f, double c, double s)
{
  return f->a0 + f->a1 * c + f->b1 * s + f->a2 * (c * c - s * s) + f->b2 * 2.0 * s * c;
}

static inline double
trig_slope (const Trig *f, double c, double s)
{
  return -f->a1 * s + f->b1 * c - 4.0 * f->a2 * s * c + 2.0 * f->b2 * (c * c - s * s);
}

/* The wave of the slope, so that its zeros are found the same way. */
static Trig
derivative (const Trig *f)
{
  return (Trig){ .a1 = f->b1, .b1 = -f->a1, .a2 = 2.0 * f->b2, .b2 = -2.0 * f->a2 };
}

/* An end of a stretch and the wave's value there. */
typedef struct {
  double t, value;
} End;

/* A zero between two ends of unlike sign: from where the chord has it by
 * Newton's steps as long as they stay between and shrink, else by halving. */
static double
between (const Trig *f, End lo, End hi)
{
  bool low_above = lo.value > 0.0;
  double last = hi.t - lo.t, t = lo.t + last * (lo.value / (lo.value - hi.value));

  if (!(t > lo.t && t < hi.t))
    t = (lo.t + hi.t) / 2.0;
  for (int k = 0; k < 60; k++)
    {
      double c = cos (t), s = sin (t), value = trig_value (f, c, s), step = value / trig_slope (f, c, s);
      if ((value > 0.0) == low_above)
        lo.t = t;
      else
        hi.t = t;
      double next = t - step;
      /* Steps that shrink a thousandfold leave a rest a million times smaller. */
      if ((fabs (step) <= ZERO_RAD || (fabs (step) <= 1e6 * ZERO_RAD && fabs (step) <= 1e-3 * last)) && next >= lo.t
          && next <= hi.t)
        return next;
      if (!(next > lo.t && next < hi.t) || !(fabs (step) < 0.6 * last))
        next = (lo.t + hi.t) / 2.0;
      last = fabs (next - t);
      if (hi.t - lo.t <= ZERO_RAD)
        return next;
      t = next;
    }
  return t;
}

static End
end_at (const Trig *f, const PlumbCuts *cuts, int k)
{
  return (End){ cuts->step_t[k], trig_value (f, cuts->step_cos[k], cuts->step_sin[k]) };
}

/* Zeros between two steps. Where the slope changes its sign between them the
 * stretch is split there, so that no pair of zeros hides. */
static void
cut_step (const Trig *f, int k, End before, End here, PlumbCuts *cuts)
{
  double before_slope = trig_slope (f, cuts->step_cos[k], cuts->step_sin[k]);
  double slope = trig_slope (f, cuts->step_cos[k + 1], cuts->step_sin[k + 1]);

  if ((slope > 0.0) != (before_slope > 0.0))
    {
      Trig df = derivative (f);
      End turn = { between (&df, (End){ before.t, before_slope }, (End){ here.t, slope }), 0.0 };
      turn.value = trig_value (f, cos (turn.t), sin (turn.t));
      if ((turn.value > 0.0) != (before.value > 0.0))
        add_cut (cuts, between (f, before, turn));
      if ((here.value > 0.0) != (turn.value > 0.0))
        add_cut (cuts, between (f, turn, here));
    }
  else if ((here.value > 0.0) != (before.value > 0.0))
    add_cut (cuts, between (f, before, here));
}

/* Zeros over the arc: at most four in a turn. Two steps are looked at together:
 * the value between them may be too far from 0 for the steepest slope there is. */
static void
arc_ellipse (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other, PlumbCuts *cuts)
{
  Trig f = level_along (piece, other);
  double steepest = sqrt (f.a1 * f.a1 + f.b1 * f.b1) + 2.0 * sqrt (f.a2 * f.a2 + f.b2 * f.b2);
  double reach = 1.001 * steepest * (cuts->step_t[1] - cuts->step_t[0]);

  for (int k = 0; k < PLUMB_ARC_SAMPLES; k += 2)
    {
      End middle = end_at (&f, cuts, k + 1);
      if (fabs (middle.value) > reach)
        continue;
      cut_step (&f, k, end_at (&f, cuts, k), middle, cuts);
      cut_step (&f, k + 1, middle, end_at (&f, cuts, k + 2), cuts);
    }
}

static void
cut_by (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other, PlumbCuts *cuts)
{
  if (!piece->arc && !other->arc)
    segment_line (piece, other, cuts);
  else if (!piece->arc)
    segment_ellipse (piece, other, cuts);
  else if (!other->arc)
    arc_line (piece, other, cuts);
  else
    arc_ellipse (piece, other, cuts);
}

/* Whether two pieces are arcs of one ellipse: then one look at it does for both. */
static bool
same_ellipse (const PlumbOutlinePiece *a, const PlumbOutlinePiece *b)
{
  return a->arc && b->arc && a->centre.x == b->centre.x && a->centre.y == b->centre.y && a->major.x == b->major.x
         && a->major.y == b->major.y;
}

/* A corner of another outline on this piece: where two run together from
 * there on, rounding may hide that the side which leads to it meets the piece. */
static void
cut_at_corner (const PlumbOutlinePiece *piece, PlumbVec2 corner, PlumbCuts *cuts)
{
  double t, on = 1e3 * cuts->tolerance_m;

  if (corner.x < piece->least.x - on || corner.x > piece->most.x + on || corner.y < piece->least.y - on
      || corner.y > piece->most.y + on)
    return;
  if (piece->arc)
    {
      PlumbVec2 d = plumb_vec2_sub (corner, piece->centre);
      double x = plumb_vec2_dot (piece->row[0], d), y = plumb_vec2_dot (piece->row[1], d);
      if (fabs (sqrt (x * x + y * y) - 1.0) * piece->least_m > on)
        return;
      t = atan2 (y, x);
      t += 2.0 * PLUMB_PI * ceil ((piece->t0 - t) / (2.0 * PLUMB_PI));
    }
  else
    {
      PlumbVec2 d = plumb_vec2_sub (piece->q, piece->p), way = plumb_vec2_sub (corner, piece->p);
      if (fabs (plumb_vec2_cross (d, way)) > on * piece->chord_m)
        return;
      t = plumb_vec2_dot (way, d) / plumb_vec2_dot (d, d);
    }
  if (plumb_vec2_length (plumb_vec2_sub (plumb_piece_at (piece, t), corner)) <= on)
    add_cut (cuts, t);
}

int
plumb_side_of (const PlumbUnionBox *bounds, const PlumbOutlinePiece *piece)
{
  double near = bounds->tolerance_m;

  if (piece->arc)
    return -1;
  return piece->most.y <= bounds->least.y + near   ? 0
         : piece->least.x >= bounds->most.x - near ? 1
         : piece->least.y >= bounds->most.y - near ? 2
         : piece->most.x <= bounds->least.x + near ? 3
                                                   : -1;
}

void
plumb_cuts_by_outline (const PlumbOutlinePiece *piece, const PlumbSilhouette *other, const PlumbUnionBox *bounds,
                       PlumbCuts *cuts)
{
  const PlumbOutlinePiece *last = NULL;
  double slack = 1e3 * cuts->tolerance_m;

  for (uint32_t k = 0; k < other->n_pieces; k++)
    {
      const PlumbOutlinePiece *theirs = &other->piece[k];
      if (!plumb_boxes_meet (piece->least, piece->most, theirs->least, theirs->most, slack)
          || plumb_side_of (bounds, theirs) >= 0)
        continue;
      if (last == NULL || !same_ellipse (theirs, last))
        cut_by (piece, theirs, cuts);
      last = theirs;
      cut_at_corner (piece, theirs->p, cuts);
    }
}

void
plumb_cuts_begin (PlumbCuts *cuts, const PlumbOutlinePiece *piece, double from, double to, double tolerance)
{
  cuts->piece = piece;
  cuts->from = from;
  cuts->to = to;
  cuts->tolerance_m = tolerance;
  cuts->n = 1;
  cuts->full = false;
  cuts->at[0] = from;
  if (!piece->arc)
    return;
  /* Turned on from the start by one step at a time. */
  double step = (piece->t1 - piece->t0) / PLUMB_ARC_SAMPLES, c = cos (step), s = sin (step);
  PlumbVec2 start = plumb_vec2_sub (piece->p, piece->centre);
  cuts->step_t[0] = piece->t0;
  cuts->step_cos[0] = plumb_vec2_dot (piece->row[0], start);
  cuts->step_sin[0] = plumb_vec2_dot (piece->row[1], start);
  for (int k = 1; k <= PLUMB_ARC_SAMPLES; k++)
    {
      cuts->step_t[k] = k == PLUMB_ARC_SAMPLES ? piece->t1 : piece->t0 + step * k;
      cuts->step_cos[k] = cuts->step_cos[k - 1] * c - cuts->step_sin[k - 1] * s;
      cuts->step_sin[k] = cuts->step_sin[k - 1] * c + cuts->step_cos[k - 1] * s;
    }
}

void
plumb_cuts_sort (PlumbCuts *cuts)
{
  for (int i = 1; i < cuts->n; i++)
    for (int j = i; j > 0 && cuts->at[j - 1] > cuts->at[j]; j--)
      {
        double swap = cuts->at[j];
        cuts->at[j] = cuts->at[j - 1];
        cuts->at[j - 1] = swap;
      }
}
