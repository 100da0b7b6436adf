/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The area of a union of convex outlines: Green's theorem along the parts of
 * each outline that no other covers. A part that lies on another outline and
 * runs the same way counts for the first of the two alone; one that runs the
 * other way (two bodies back to back) counts for both and cancels out.
 */
#include <string.h>

#include "silhouette-private.h"

/* So many outlines near one are listed; with more all are looked at each time. */
#define MOST_NEAR 1024
#define MOST_CUTS 256
/* A part as short as this is not halved again. */
#define SHORTEST_PART 1e-9
/* In tolerances: a millionth or so of the picture. */
#define SHORT_SIDE 1e5
/* Steps of a quarter turn in which zeros of a second-degree wave are looked for. */
#define ARC_SAMPLES 6
/* To this a zero is found: Newton's next step would be far below rounding. */
#define ZERO_RAD 1e-13

/* The box round all outlines. No outline goes beyond it, so that what lies on
 * one of its sides (the picture's edges, as a rule) meets nothing but its like. */
typedef struct {
  PlumbVec2 least, most;
  double tolerance_m;
} Bounds;

/* Outlines that may meet something: indices, or `all` of 0…n − 1. */
typedef struct {
  uint32_t n;
  bool all;
  uint32_t index[MOST_NEAR];
} Near;

static inline uint32_t
near_at (const Near *near, uint32_t k)
{
  return near->all ? k : near->index[k];
}

static void
add_near (Near *near, uint32_t index, uint32_t n_all)
{
  if (near->all)
    return;
  if (near->n < MOST_NEAR)
    near->index[near->n++] = index;
  else
    {
      near->all = true;
      near->n = n_all;
    }
}

/* A piece between two of its parameters and the cuts of it; `full` when there
 * are more than there is room for. Of an arc the even steps at which zeros are
 * looked for, with their cosines and sines. */
typedef struct {
  const PlumbOutlinePiece *piece;
  double from, to, tolerance_m;
  double step_t[ARC_SAMPLES + 1], step_cos[ARC_SAMPLES + 1], step_sin[ARC_SAMPLES + 1];
  int n;
  bool full;
  double at[MOST_CUTS];
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
      if (fabs (step) <= ZERO_RAD && next >= lo.t && next <= hi.t)
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

/* Zeros over the arc: at most four in a turn. Where the slope changes its sign
 * inside a step the step is split there, so that no pair of zeros hides. */
static void
arc_ellipse (const PlumbOutlinePiece *piece, const PlumbOutlinePiece *other, Cuts *cuts)
{
  Trig f = level_along (piece, other), df = derivative (&f);

  if (fabs (f.a0) + 1e-300 > fabs (f.a1) + fabs (f.b1) + fabs (f.a2) + fabs (f.b2))
    return; /* never zero */
  End before = { cuts->step_t[0], trig_value (&f, cuts->step_cos[0], cuts->step_sin[0]) };
  double before_slope = trig_slope (&f, cuts->step_cos[0], cuts->step_sin[0]);
  for (int k = 1; k <= ARC_SAMPLES; k++)
    {
      End here = { cuts->step_t[k], trig_value (&f, cuts->step_cos[k], cuts->step_sin[k]) };
      double slope = trig_slope (&f, cuts->step_cos[k], cuts->step_sin[k]);
      if ((slope > 0.0) != (before_slope > 0.0))
        {
          End turn = { between (&df, (End){ before.t, before_slope }, (End){ here.t, slope }), 0.0 };
          turn.value = trig_value (&f, cos (turn.t), sin (turn.t));
          if ((turn.value > 0.0) != (before.value > 0.0))
            add_cut (cuts, between (&f, before, turn));
          if ((here.value > 0.0) != (turn.value > 0.0))
            add_cut (cuts, between (&f, turn, here));
        }
      else if ((here.value > 0.0) != (before.value > 0.0))
        add_cut (cuts, between (&f, before, here));
      before = here;
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

static bool
boxes_meet (PlumbVec2 least, PlumbVec2 most, PlumbVec2 other_least, PlumbVec2 other_most, double slack)
{
  return least.x <= other_most.x + slack && other_least.x <= most.x + slack && least.y <= other_most.y + slack
         && other_least.y <= most.y + slack;
}

/* The side of the box on which a piece lies, 0…3 from below counter-clockwise; -1: none. */
static int
side_of (const Bounds *bounds, const PlumbOutlinePiece *piece)
{
  double near = bounds->tolerance_m;

  if (piece->arc)
    return -1;
  return piece->most.y <= bounds->least.y + near    ? 0
         : piece->least.x >= bounds->most.x - near  ? 1
         : piece->least.y >= bounds->most.y - near  ? 2
         : piece->most.x <= bounds->least.x + near  ? 3
                                                    : -1;
}

static void
cut_by_outline (const PlumbOutlinePiece *piece, const PlumbSilhouette *other, const Bounds *bounds, Cuts *cuts)
{
  const PlumbOutlinePiece *last = NULL;
  double slack = 1e3 * cuts->tolerance_m;

  for (uint32_t k = 0; k < other->n_pieces; k++)
    {
      const PlumbOutlinePiece *theirs = &other->piece[k];
      if (!boxes_meet (piece->least, piece->most, theirs->least, theirs->most, slack) || side_of (bounds, theirs) >= 0)
        continue;
      if (last == NULL || !same_ellipse (theirs, last))
        cut_by (piece, theirs, cuts);
      last = theirs;
      cut_at_corner (piece, theirs->p, cuts);
    }
}

/* ---- inside or not ---------------------------------------------------------------------- */

typedef enum { OUTSIDE, ON_THE_LINE, INSIDE } Where;

/* How far a point lies inside a piece's side, in metres, about. */
static inline double
depth_behind (const PlumbOutlinePiece *piece, PlumbVec2 p, double tolerance)
{
  /* So short a side may have lost its direction: its neighbours bound without it. */
  if (!(piece->chord_m > SHORT_SIDE * tolerance))
    return INFINITY;
  double chord = left_of (piece, p) / piece->chord_m;
  if (!piece->arc || chord > tolerance)
    return chord;
  /* Not behind the chord: in the cap between chord and arc, or not. On the
   * chord's own line that tells what lies beyond its ends. */
  PlumbVec2 d = plumb_vec2_sub (p, piece->centre);
  double x = plumb_vec2_dot (piece->row[0], d), y = plumb_vec2_dot (piece->row[1], d);
  return (1.0 - sqrt (x * x + y * y)) * piece->least_m;
}

static Where
where_is (const PlumbSilhouette *outline, PlumbVec2 p, double tolerance, const PlumbOutlinePiece **on)
{
  double depth = plumb_lesser (plumb_lesser (p.x - outline->least.x, outline->most.x - p.x),
                       plumb_lesser (p.y - outline->least.y, outline->most.y - p.y));

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

/* A part of a piece with its middle and, when that is asked for, a second point. */
typedef struct {
  const PlumbOutlinePiece *piece;
  double from, to, tolerance_m;
  PlumbVec2 middle;
} Part;

/* Whether the other outline, which stands before this one in the list or
 * behind it, takes this part of the boundary away. Its middle may be no more
 * than a point of touch: only when a second point lies on the line as well do
 * both run together. */
static bool
covers (const PlumbSilhouette *other, bool other_first, const Part *part)
{
  const PlumbOutlinePiece *on = NULL;
  Where where = where_is (other, part->middle, part->tolerance_m, &on);

  if (where != ON_THE_LINE)
    return where == INSIDE;
  double t = part->from + 0.29 * (part->to - part->from);
  where = where_is (other, plumb_piece_at (part->piece, t), part->tolerance_m, &on);
  if (where != ON_THE_LINE)
    return where == INSIDE;
  return other_first && plumb_vec2_dot (tangent_at (part->piece, t), plumb_vec2_sub (on->q, on->p)) > 0.0;
}

/* Whether an outline holds all of a piece, with room to spare: its ends and the
 * crossing of its end tangents, since the outline is convex. */
static bool
holds_piece (const PlumbSilhouette *outline, const PlumbOutlinePiece *piece, double tolerance)
{
  const PlumbOutlinePiece *on;

  if (piece->least.x < outline->least.x || piece->most.x > outline->most.x || piece->least.y < outline->least.y
      || piece->most.y > outline->most.y || where_is (outline, piece->p, tolerance, &on) != INSIDE
      || where_is (outline, piece->q, tolerance, &on) != INSIDE)
    return false;
  if (!piece->arc)
    return true;
  PlumbVec2 way = plumb_vec2_sub (plumb_vec2_scale (plumb_vec2_add (piece->p, piece->q), 0.5), piece->centre);
  double x = plumb_vec2_dot (piece->row[0], way), y = plumb_vec2_dot (piece->row[1], way);
  PlumbVec2 corner = plumb_vec2_along (piece->centre, way, 1.0 / (x * x + y * y));
  return where_is (outline, corner, tolerance, &on) == INSIDE;
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

static void
begin_cuts (Cuts *cuts, const PlumbOutlinePiece *piece, double from, double to, double tolerance)
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
  double step = (piece->t1 - piece->t0) / ARC_SAMPLES, c = cos (step), s = sin (step);
  PlumbVec2 start = plumb_vec2_sub (piece->p, piece->centre);
  cuts->step_t[0] = piece->t0;
  cuts->step_cos[0] = plumb_vec2_dot (piece->row[0], start);
  cuts->step_sin[0] = plumb_vec2_dot (piece->row[1], start);
  for (int k = 1; k <= ARC_SAMPLES; k++)
    {
      cuts->step_t[k] = k == ARC_SAMPLES ? piece->t1 : piece->t0 + step * k;
      cuts->step_cos[k] = cuts->step_cos[k - 1] * c - cuts->step_sin[k - 1] * s;
      cuts->step_sin[k] = cuts->step_sin[k - 1] * c + cuts->step_cos[k - 1] * s;
    }
}

/* What the part from `from` to `to` of a piece adds. Should more outlines cross
 * it than there is room for, each half is taken for itself. */
static double
free_area (const PlumbSilhouette *all, const Near *near, uint32_t own, const PlumbOutlinePiece *piece, double from,
           double to, const Bounds *bounds)
{
  Cuts cuts;
  double sum = 0.0, middle = (from + to) / 2.0;
  uint32_t last = 0;

  begin_cuts (&cuts, piece, from, to, bounds->tolerance_m);
  for (uint32_t k = 0; k < near->n && !cuts.full; k++)
    if (near_at (near, k) != own)
      cut_by_outline (piece, &all[near_at (near, k)], bounds, &cuts);
  if (cuts.full && to - from > SHORTEST_PART)
    return free_area (all, near, own, piece, from, middle, bounds)
           + free_area (all, near, own, piece, middle, to, bounds);
  sort_cuts (&cuts);
  for (int c = 0; c < cuts.n; c++)
    {
      Part part = { .piece = piece, .from = cuts.at[c], .to = c + 1 < cuts.n ? cuts.at[c + 1] : to,
                    .tolerance_m = bounds->tolerance_m };
      bool covered = false;
      part.middle = plumb_piece_at (piece, (part.from + part.to) / 2.0);
      /* What covered the part before may cover this one too. */
      for (uint32_t k = 0; k < near->n && !covered; k++)
        {
          uint32_t at = last + k < near->n ? last + k : last + k - near->n, j = near_at (near, at);
          covered = j != own && covers (&all[j], j < own, &part);
          if (covered)
            last = at;
        }
      if (!covered)
        sum += plumb_piece_area (piece, part.from, part.to);
    }
  return sum;
}

static bool
swallows (const PlumbSilhouette *outline, const PlumbSilhouette *small, double tolerance)
{
  if (small->least.x <= outline->least.x || small->most.x >= outline->most.x || small->least.y <= outline->least.y
      || small->most.y >= outline->most.y)
    return false;
  for (uint32_t k = 0; k < small->n_pieces; k++)
    if (!holds_piece (outline, &small->piece[k], tolerance))
      return false;
  return true;
}

/* Those that no other holds wholly; the others add nothing and take nothing away. */
static void
keep_outermost (const PlumbSilhouette *all, uint32_t n, double tolerance, Near *kept)
{
  kept->n = 0;
  kept->all = false;
  for (uint32_t i = 0; i < n; i++)
    {
      bool gone = false;
      for (uint32_t j = 0; j < n && !gone; j++)
        gone = swallows (&all[j], &all[i], tolerance);
      if (!gone)
        add_near (kept, i, n);
    }
}

static double
outline_free_area (const PlumbSilhouette *all, uint32_t n, const Near *kept, uint32_t own, const Bounds *bounds)
{
  Near about, near;
  double tolerance = bounds->tolerance_m;
  const PlumbSilhouette *outline = &all[own];
  double sum = 0.0;

  about.n = 0;
  about.all = false;
  for (uint32_t k = 0; k < kept->n; k++)
    {
      const PlumbSilhouette *other = &all[near_at (kept, k)];
      if (other != outline && boxes_meet (outline->least, outline->most, other->least, other->most, tolerance))
        add_near (&about, near_at (kept, k), n);
    }
  for (uint32_t p = 0; p < outline->n_pieces; p++)
    {
      const PlumbOutlinePiece *piece = &outline->piece[p];
      bool held = side_of (bounds, piece) >= 0; /* counted apart */
      near.n = 0;
      near.all = false;
      for (uint32_t k = 0; k < about.n && !held; k++)
        {
          const PlumbSilhouette *other = &all[near_at (&about, k)];
          if (!boxes_meet (piece->least, piece->most, other->least, other->most, 1e3 * tolerance))
            continue;
          held = other != outline && holds_piece (other, piece, tolerance);
          add_near (&near, near_at (&about, k), n);
        }
      if (!held)
        sum += free_area (all, &near, own, piece, piece->t0, piece->t1, bounds);
    }
  return sum;
}

/* ---- along the sides of the box ---------------------------------------------------------- */

/* Stretches of a side that do not meet, in order; room for as many as there can
 * be outlines that keep apart, or nearly: with more the last two are joined,
 * which no picture of the size of a body comes near to. */
typedef struct {
  int n;
  double from[MOST_NEAR], to[MOST_NEAR];
} Stretches;

static void
add_stretch (Stretches *s, double from, double to)
{
  int first = 0, last;

  while (first < s->n && s->to[first] < from)
    first++;
  for (last = first; last < s->n && s->from[last] <= to; last++)
    {
      from = plumb_lesser (from, s->from[last]);
      to = plumb_greater (to, s->to[last]);
    }
  int shift = 1 - (last - first);
  if (shift > 0 && s->n == MOST_NEAR)
    {
      s->to[s->n - 1] = plumb_greater (s->to[s->n - 1], to);
      return;
    }
  memmove (&s->from[last + shift], &s->from[last], (size_t) (s->n - last) * sizeof s->from[0]);
  memmove (&s->to[last + shift], &s->to[last], (size_t) (s->n - last) * sizeof s->to[0]);
  s->n += shift;
  s->from[first] = from;
  s->to[first] = to;
}

/* ½ ∮ along a side: half its distance from the origin times what is hidden of it. */
static double
side_area (const PlumbSilhouette *all, const Near *kept, const Bounds *bounds, int side)
{
  const double distance[4] = { -bounds->least.y, bounds->most.x, bounds->most.y, -bounds->least.x };
  Stretches s;
  double sum = 0.0;

  s.n = 0;
  for (uint32_t k = 0; k < kept->n; k++)
    {
      const PlumbSilhouette *outline = &all[near_at (kept, k)];
      for (uint32_t p = 0; p < outline->n_pieces; p++)
        {
          const PlumbOutlinePiece *piece = &outline->piece[p];
          if (side_of (bounds, piece) != side)
            continue;
          if (side % 2 == 0)
            add_stretch (&s, piece->least.x, piece->most.x);
          else
            add_stretch (&s, piece->least.y, piece->most.y);
        }
    }
  for (int k = 0; k < s.n; k++)
    sum += s.to[k] - s.from[k];
  return 0.5 * distance[side] * sum;
}

double
plumb_silhouettes_area_m2 (const PlumbSilhouette *silhouettes, uint32_t n)
{
  Bounds bounds = { { HUGE_VAL, HUGE_VAL }, { -HUGE_VAL, -HUGE_VAL }, 0.0 };
  double sum = 0.0, size = 0.0;
  Near kept;

  if (n == 1)
    return silhouettes[0].area_m2;
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec2 least = silhouettes[i].least, most = silhouettes[i].most;
      size = plumb_greater (size, plumb_greater (most.x - least.x, most.y - least.y));
      bounds.least = plumb_vec2 (plumb_lesser (bounds.least.x, least.x), plumb_lesser (bounds.least.y, least.y));
      bounds.most = plumb_vec2 (plumb_greater (bounds.most.x, most.x), plumb_greater (bounds.most.y, most.y));
    }
  bounds.tolerance_m = 1e-11 * size;
  keep_outermost (silhouettes, n, bounds.tolerance_m, &kept);
  for (uint32_t k = 0; k < kept.n; k++)
    sum += outline_free_area (silhouettes, n, &kept, near_at (&kept, k), &bounds);
  for (int side = 0; side < 4; side++)
    sum += side_area (silhouettes, &kept, &bounds, side);
  return plumb_greater (sum, 0.0);
}
