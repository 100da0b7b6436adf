/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The area of a union of convex outlines: Green's theorem along the parts of
 * each outline that no other covers. A part that lies on another outline and
 * runs the same way counts for the first of the two alone; one that runs the
 * other way (two bodies back to back) counts for both and cancels out.
 */
#include <string.h>

#include "silhouette-cuts-private.h"

/* So many outlines near one are listed; with more all are looked at each time. */
#define MOST_NEAR 1024
/* A part as short as this is not halved again. */
#define SHORTEST_PART 1e-9
/* In tolerances: a millionth or so of the picture. */
#define SHORT_SIDE 1e5

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

/* ---- inside or not ---------------------------------------------------------------------- */

typedef enum { OUTSIDE, ON_THE_LINE, INSIDE } Where;

/* How far a point lies inside a piece's side, in metres, about. */
static inline double
depth_behind (const PlumbOutlinePiece *piece, PlumbVec2 p, double tolerance)
{
  /* So short a side may have lost its direction: its neighbours bound without it. */
  if (!(piece->chord_m > SHORT_SIDE * tolerance))
    return INFINITY;
  double chord = plumb_left_of (piece, p) / piece->chord_m;
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

static bool
on_side (const PlumbUnionBox *box, PlumbVec2 p)
{
  double near = box->tolerance_m;

  return p.y <= box->least.y + near || p.x >= box->most.x - near || p.y >= box->most.y - near
         || p.x <= box->least.x + near;
}

/* Well inside an outline; on a side of the box, beyond which nothing is, on the
 * line does. */
static bool
is_held (const PlumbSilhouette *outline, PlumbVec2 p, const PlumbUnionBox *box)
{
  const PlumbOutlinePiece *on;
  Where where = where_is (outline, p, box->tolerance_m, &on);

  return where == INSIDE || (where == ON_THE_LINE && on_side (box, p));
}

/* Whether an outline holds all of a piece: its ends, and of an arc the crossing
 * of its end tangents, since the outline is convex. Two ends on sides of the box
 * do not tell a straight piece from the outline's own. */
static bool
holds_piece (const PlumbSilhouette *outline, const PlumbOutlinePiece *piece, const PlumbUnionBox *box)
{
  const PlumbOutlinePiece *on;
  double slack = box->tolerance_m;

  if (piece->least.x < outline->least.x - slack || piece->most.x > outline->most.x + slack
      || piece->least.y < outline->least.y - slack || piece->most.y > outline->most.y + slack
      || !is_held (outline, piece->p, box) || !is_held (outline, piece->q, box))
    return false;
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (piece->p, piece->q), 0.5);
  if (!piece->arc)
    return plumb_side_of (box, piece) >= 0 || where_is (outline, middle, slack, &on) == INSIDE;
  PlumbVec2 way = plumb_vec2_sub (middle, piece->centre);
  double x = plumb_vec2_dot (piece->row[0], way), y = plumb_vec2_dot (piece->row[1], way);
  PlumbVec2 corner = plumb_vec2_along (piece->centre, way, 1.0 / (x * x + y * y));
  /* Beyond a side of the box it is held as well as at the side. */
  corner = plumb_vec2 (plumb_clamp (corner.x, box->least.x, box->most.x),
                       plumb_clamp (corner.y, box->least.y, box->most.y));
  return where_is (outline, corner, slack, &on) == INSIDE;
}

/* What the part from `from` to `to` of a piece adds. Should more outlines cross
 * it than there is room for, each half is taken for itself. */
static double
free_area (const PlumbSilhouette *all, const Near *near, uint32_t own, const PlumbOutlinePiece *piece, double from,
           double to, const PlumbUnionBox *bounds)
{
  PlumbCuts cuts;
  double sum = 0.0, middle = (from + to) / 2.0;
  uint32_t last = 0;

  plumb_cuts_begin (&cuts, piece, from, to, bounds->tolerance_m);
  for (uint32_t k = 0; k < near->n && !cuts.full; k++)
    if (near_at (near, k) != own)
      plumb_cuts_by_outline (piece, &all[near_at (near, k)], bounds, &cuts);
  if (cuts.full && to - from > SHORTEST_PART)
    return free_area (all, near, own, piece, from, middle, bounds)
           + free_area (all, near, own, piece, middle, to, bounds);
  plumb_cuts_sort (&cuts);
  PlumbVec2 start = from > piece->t0 ? plumb_piece_at (piece, from) : piece->p;
  for (int c = 0; c < cuts.n; c++)
    {
      Part part = { .piece = piece,
                    .from = cuts.at[c],
                    .to = c + 1 < cuts.n ? cuts.at[c + 1] : to,
                    .tolerance_m = bounds->tolerance_m };
      PlumbVec2 end = part.to < piece->t1 ? plumb_piece_at (piece, part.to) : piece->q;
      bool covered = false;
      part.middle = plumb_piece_between (piece, start, end);
      /* What covered the part before may cover this one too. */
      for (uint32_t k = 0; k < near->n && !covered; k++)
        {
          uint32_t at = last + k < near->n ? last + k : last + k - near->n, j = near_at (near, at);
          covered = j != own && covers (&all[j], j < own, &part);
          if (covered)
            last = at;
        }
      if (!covered)
        sum += plumb_piece_area (piece, start, end, part.to - part.from);
      start = end;
    }
  return sum;
}

/* One that is as large has to come first, so that of two alike one stays. */
static bool
swallows (const PlumbSilhouette *all, uint32_t large, uint32_t small, const PlumbUnionBox *box)
{
  const PlumbSilhouette *outline = &all[large], *held = &all[small];
  double slack = box->tolerance_m;

  if (held->least.x < outline->least.x - slack || held->most.x > outline->most.x + slack
      || held->least.y < outline->least.y - slack || held->most.y > outline->most.y + slack
      || !(held->area_m2 < (1.0 - 1e-9) * outline->area_m2 || large < small))
    return false;
  for (uint32_t k = 0; k < held->n_pieces; k++)
    if (!holds_piece (outline, &held->piece[k], box))
      return false;
  return true;
}

/* Those that no other holds wholly; the others add nothing and take nothing away. */
static void
keep_outermost (const PlumbSilhouette *all, uint32_t n, const PlumbUnionBox *box, Near *kept)
{
  kept->n = 0;
  kept->all = false;
  for (uint32_t i = 0; i < n; i++)
    {
      bool gone = false;
      for (uint32_t j = 0; j < n && !gone; j++)
        gone = j != i && swallows (all, j, i, box);
      if (!gone)
        add_near (kept, i, n);
    }
}

static double
outline_free_area (const PlumbSilhouette *all, uint32_t n, const Near *kept, uint32_t own,
                   const PlumbUnionBox *bounds)
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
      if (other != outline && plumb_boxes_meet (outline->least, outline->most, other->least, other->most, tolerance))
        add_near (&about, near_at (kept, k), n);
    }
  for (uint32_t p = 0; p < outline->n_pieces; p++)
    {
      const PlumbOutlinePiece *piece = &outline->piece[p];
      bool held = plumb_side_of (bounds, piece) >= 0; /* counted apart */
      near.n = 0;
      near.all = false;
      for (uint32_t k = 0; k < about.n && !held; k++)
        {
          const PlumbSilhouette *other = &all[near_at (&about, k)];
          if (!plumb_boxes_meet (piece->least, piece->most, other->least, other->most, 1e3 * tolerance))
            continue;
          held = other != outline && holds_piece (other, piece, bounds);
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
side_area (const PlumbSilhouette *all, const Near *kept, const PlumbUnionBox *bounds, int side)
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
          if (plumb_side_of (bounds, piece) != side)
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
  PlumbUnionBox bounds = { { HUGE_VAL, HUGE_VAL }, { -HUGE_VAL, -HUGE_VAL }, 0.0 };
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
  keep_outermost (silhouettes, n, &bounds, &kept);
  for (uint32_t k = 0; k < kept.n; k++)
    sum += outline_free_area (silhouettes, n, &kept, near_at (&kept, k), &bounds);
  for (int side = 0; side < 4; side++)
    sum += side_area (silhouettes, &kept, &bounds, side);
  return plumb_greater (sum, 0.0);
}
