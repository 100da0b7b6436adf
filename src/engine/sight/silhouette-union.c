/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The area of a union of convex outlines: Green's theorem along the parts of
 * each outline that no other covers. A part that lies on another outline and
 * runs the same way counts for the first of the two alone; one that runs the
 * other way (two bodies back to back) counts for both and cancels out.
 */
#include "silhouette-private.h"

#define MOST_CUTS 256
/* A part as short as this is not halved again. */
#define SHORTEST_PART 1e-9
/* In tolerances: a millionth or so of the picture. */
#define SHORT_SIDE 1e5
/* Steps of a quarter turn in which zeros of a second-degree wave are looked for. */
#define ARC_SAMPLES 6

/* Cuts of one piece between two of its parameters; `full` when there are more. */
typedef struct {
  double from, to, tolerance_m;
  double at[MOST_CUTS];
  int n;
  bool full;
} Cuts;

static void
add_cut (Cuts *cuts, double t)
{
  if (!(t > cuts->from && t < cuts->to))
    return;
  if (cuts->n < MOST_CUTS)
    cuts->at[cuts->n++] = t;
  else
    cuts->full = true;
}

/* ---- where a piece meets another ------------------------------------------------------ */

/* Signed distance of a point from a segment's line, left positive, times its length. */
static double
left_of (const PlumbOutlinePiece *chord, PlumbVec2 p)
{
  return plumb_vec2_cross (plumb_vec2_sub (chord->q, chord->p), plumb_vec2_sub (p, chord->p));
}

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
segment_line (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *line, Cuts *cuts)
{
  double p = left_of (line, piece->p), q = left_of (line, piece->q);

  if ((p > 0.0) != (q > 0.0) && beside (line, plumb_piece_at (piece, p / (p - q))))
    add_cut (cuts, p / (p - q));
}

static void
segment_ellipse (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *arc, Cuts *cuts)
{
  PlumbVec2 d = plumb_vec2_sub (piece->q, piece->p), o = plumb_vec2_sub (piece->p, arc->centre);
  double size = plumb_vec2_cross (arc->major, arc->minor);
  double dx = plumb_vec2_cross (d, arc->minor) / size, dy = plumb_vec2_cross (arc->major, d) / size;
  double ox = plumb_vec2_cross (o, arc->minor) / size, oy = plumb_vec2_cross (arc->major, o) / size;
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
arc_line (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *line, Cuts *cuts)
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
  double size = plumb_vec2_cross (other->major, other->minor);
  PlumbVec2 o = plumb_vec2_sub (piece->centre, other->centre);
  const PlumbVec2 v[3] = { o, piece->major, piece->minor };
  double x[3], y[3];

  for (int k = 0; k < 3; k++)
    {
      x[k] = plumb_vec2_cross (v[k], other->minor) / size;
      y[k] = plumb_vec2_cross (other->major, v[k]) / size;
    }
  double cc = x[1] * x[1] + y[1] * y[1], ss = x[2] * x[2] + y[2] * y[2];
  return (Trig){ .a0 = x[0] * x[0] + y[0] * y[0] + (cc + ss) / 2.0 - 1.0,
                 .a1 = 2.0 * (x[0] * x[1] + y[0] * y[1]),
                 .b1 = 2.0 * (x[0] * x[2] + y[0] * y[2]),
                 .a2 = (cc - ss) / 2.0,
                 .b2 = x[1] * x[2] + y[1] * y[2] };
}

static double
trig_value (const Trig *f, double t)
{
  double c = cos (t), s = sin (t);

  return f->a0 + f->a1 * c + f->b1 * s + f->a2 * (c * c - s * s) + f->b2 * 2.0 * s * c;
}

static double
trig_slope (const Trig *f, double t)
{
  double c = cos (t), s = sin (t);

  return -f->a1 * s + f->b1 * c - 4.0 * f->a2 * s * c + 2.0 * f->b2 * (c * c - s * s);
}

/* A zero of value (or slope) between two ends of unlike sign: bisection to the last bit. */
static double
between (const Trig *f, double lo, double hi, double (*value) (const Trig *, double))
{
  bool low = value (f, lo) > 0.0;

  for (int k = 0; k < 60 && hi - lo > 0.0; k++)
    {
      double middle = (lo + hi) / 2.0;
      if (middle <= lo || middle >= hi)
        break;
      if ((value (f, middle) > 0.0) == low)
        lo = middle;
      else
        hi = middle;
    }
  return (lo + hi) / 2.0;
}

/* Zeros over the arc: at most four in a turn. Where the slope changes its sign
 * inside a step the step is split there, so that no pair of zeros hides. */
static void
arc_ellipse (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other, Cuts *cuts)
{
  Trig f = level_along (piece, other);
  double step = (piece->t1 - piece->t0) / ARC_SAMPLES;

  if (fabs (f.a0) + 1e-300 > fabs (f.a1) + fabs (f.b1) + fabs (f.a2) + fabs (f.b2))
    return; /* never zero */
  double before_value = trig_value (&f, piece->t0), before_slope = trig_slope (&f, piece->t0);
  for (int k = 0; k < ARC_SAMPLES; k++)
    {
      double lo = piece->t0 + k * step, hi = k + 1 == ARC_SAMPLES ? piece->t1 : lo + step;
      double value = trig_value (&f, hi), slope = trig_slope (&f, hi);
      double turn = hi;
      if ((slope > 0.0) != (before_slope > 0.0))
        turn = between (&f, lo, hi, trig_slope);
      double at_turn = turn < hi ? trig_value (&f, turn) : value;
      if ((at_turn > 0.0) != (before_value > 0.0))
        add_cut (cuts, between (&f, lo, turn, trig_value));
      if ((value > 0.0) != (at_turn > 0.0))
        add_cut (cuts, between (&f, turn, hi, trig_value));
      before_value = value;
      before_slope = slope;
    }
}

static void
cut_by (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other, Cuts *cuts)
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
cut_at_corner (const PlumbOutlinePiece *piece, PlumbVec2 corner, Cuts *cuts)
{
  double t;

  if (piece->arc)
    {
      PlumbVec2 d = plumb_vec2_sub (corner, piece->centre);
      double size = plumb_vec2_cross (piece->major, piece->minor);
      t = atan2 (plumb_vec2_cross (piece->major, d) / size, plumb_vec2_cross (d, piece->minor) / size);
      t += 2.0 * PLUMB_PI * ceil ((piece->t0 - t) / (2.0 * PLUMB_PI));
    }
  else
    {
      PlumbVec2 d = plumb_vec2_sub (piece->q, piece->p);
      t = plumb_vec2_dot (plumb_vec2_sub (corner, piece->p), d) / plumb_vec2_dot (d, d);
    }
  if (plumb_vec2_length (plumb_vec2_sub (plumb_piece_at (piece, t), corner)) <= 1e3 * cuts->tolerance_m)
    add_cut (cuts, t);
}

static void
cut_by_outline (const PlumbOutlinePiece *piece, const PlumbSilhouette *other, Cuts *cuts)
{
  for (uint32_t k = 0; k < other->n_pieces; k++)
    {
      if (k == 0 || !same_ellipse (&other->piece[k], &other->piece[k - 1]))
        cut_by (piece, &other->piece[k], cuts);
      cut_at_corner (piece, other->piece[k].p, cuts);
    }
}

/* ---- inside or not ---------------------------------------------------------------------- */

typedef enum { OUTSIDE, ON_THE_LINE, INSIDE } Where;

/* How far a point lies inside a piece's side, in metres, about. */
static double
depth_behind (const PlumbOutlinePiece *piece, PlumbVec2 p, double tolerance)
{
  double length = plumb_vec2_length (plumb_vec2_sub (piece->q, piece->p));

  /* So short a side may have lost its direction: its neighbours bound without it. */
  if (!(length > SHORT_SIDE * tolerance))
    return INFINITY;
  double chord = left_of (piece, p) / length;
  if (!piece->arc || chord > tolerance)
    return chord;
  /* Not behind the chord: in the cap between chord and arc, or not. On the
   * chord's own line that tells what lies beyond its ends. */
  PlumbVec2 d = plumb_vec2_sub (p, piece->centre);
  double size = plumb_vec2_cross (piece->major, piece->minor);
  double x = plumb_vec2_cross (d, piece->minor) / size, y = plumb_vec2_cross (piece->major, d) / size;
  double least = fmin (plumb_vec2_length (piece->major), plumb_vec2_length (piece->minor));
  return (1.0 - sqrt (x * x + y * y)) * least;
}

static Where
where_is (const PlumbSilhouette *outline, PlumbVec2 p, double tolerance, const PlumbOutlinePiece **on)
{
  double depth = fmin (fmin (p.x - outline->least.x, outline->most.x - p.x),
                       fmin (p.y - outline->least.y, outline->most.y - p.y));

  if (depth < -tolerance)
    return OUTSIDE;
  depth = INFINITY;
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    {
      double own = depth_behind (&outline->piece[k], p, tolerance);
      if (own < depth)
        {
          depth = own;
          *on = &outline->piece[k];
        }
      if (depth < -tolerance)
        return OUTSIDE;
    }
  if (isinf (depth))
    return OUTSIDE; /* nothing but short sides: no area to speak of */
  return depth > tolerance ? INSIDE : ON_THE_LINE;
}

static PlumbVec2
tangent_at (const PlumbOutlinePiece *piece, double t)
{
  if (!piece->arc)
    return plumb_vec2_sub (piece->q, piece->p);
  return plumb_vec2_along (plumb_vec2_scale (piece->major, -sin (t)), piece->minor, cos (t));
}

/* Whether the other outline, which stands before this one in the list or
 * behind it, takes this part of the boundary away. Its middle may be no more
 * than a point of touch: only when a second point lies on the line as well do
 * both run together. */
static bool
covers (const PlumbSilhouette *other, bool other_first, const PlumbOutlinePiece *piece, double from, double to,
        double tolerance)
{
  const PlumbOutlinePiece *on = NULL;
  const double t[2] = { (from + to) / 2.0, from + 0.29 * (to - from) };

  for (int k = 0; k < 2; k++)
    {
      Where where = where_is (other, plumb_piece_at (piece, t[k]), tolerance, &on);
      if (where != ON_THE_LINE)
        return where == INSIDE;
    }
  PlumbVec2 theirs = plumb_vec2_sub (on->q, on->p);
  return other_first && plumb_vec2_dot (tangent_at (piece, t[1]), theirs) > 0.0;
}

/* ---- the sum ---------------------------------------------------------------------------- */

static void
sort_cuts (Cuts *cuts)
{
  for (int i = 1; i < cuts->n; i++)
    for (int j = i; j > 0 && cuts->at[j - 1] > cuts->at[j]; j--)
      {
        double swap = cuts->at[j];
        cuts->at[j] = cuts->at[j - 1];
        cuts->at[j - 1] = swap;
      }
}

static bool
boxes_meet (const PlumbSilhouette *a, const PlumbSilhouette *b)
{
  return a->least.x <= b->most.x && b->least.x <= a->most.x && a->least.y <= b->most.y && b->least.y <= a->most.y;
}

/* What the part from `from` to `to` of a piece adds. Should more outlines cross
 * it than there is room for, each half is taken for itself. */
static double
free_area (const PlumbSilhouette *all, uint32_t n, uint32_t own, const PlumbOutlinePiece *piece, double from,
           double to, double tolerance)
{
  Cuts cuts = { .from = from, .to = to, .tolerance_m = tolerance, .n = 1, .at = { from } };
  double sum = 0.0, middle = (from + to) / 2.0;

  for (uint32_t j = 0; j < n && !cuts.full; j++)
    if (j != own && boxes_meet (&all[own], &all[j]))
      cut_by_outline (piece, &all[j], &cuts);
  if (cuts.full && to - from > SHORTEST_PART)
    return free_area (all, n, own, piece, from, middle, tolerance)
           + free_area (all, n, own, piece, middle, to, tolerance);
  sort_cuts (&cuts);
  for (int c = 0; c < cuts.n; c++)
    {
      double start = cuts.at[c], end = c + 1 < cuts.n ? cuts.at[c + 1] : to;
      bool covered = false;
      for (uint32_t j = 0; j < n && !covered; j++)
        if (j != own && boxes_meet (&all[own], &all[j]))
          covered = covers (&all[j], j < own, piece, start, end, tolerance);
      if (!covered)
        sum += plumb_piece_area (piece, start, end);
    }
  return sum;
}

double
plumb_silhouettes_area_m2 (const PlumbSilhouette *silhouettes, uint32_t n)
{
  double sum = 0.0, size = 0.0;

  for (uint32_t i = 0; i < n; i++)
    size = fmax (size, fmax (silhouettes[i].most.x - silhouettes[i].least.x,
                             silhouettes[i].most.y - silhouettes[i].least.y));
  for (uint32_t i = 0; i < n; i++)
    for (uint32_t k = 0; k < silhouettes[i].n_pieces; k++)
      {
        const PlumbOutlinePiece *piece = &silhouettes[i].piece[k];
        sum += free_area (silhouettes, n, i, piece, piece->t0, piece->t1, 1e-11 * size);
      }
  return fmax (sum, 0.0);
}
