/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Closed outlines: are they simple, and which convex parts do they have.
 *
 * Parts by cutting off ears (Meisters 1975), then dropping diagonals that
 * are not needed for convexity (Hertel and Mehlhorn 1983).
 */
#include <stdlib.h>

#include "parts-private.h"

/* A corner this close to the line of its neighbours does not turn. */
#define STRAIGHT_M 1e-10

static double
off_segment (PlumbVec2 p, PlumbVec2 a, PlumbVec2 b)
{
  PlumbVec2 run = plumb_vec2_sub (b, a), to = plumb_vec2_sub (p, a);
  double square = plumb_vec2_dot (run, run);
  double share = square > 0.0 ? plumb_clamp (plumb_vec2_dot (to, run) / square, 0.0, 1.0) : 0.0;

  return plumb_vec2_length (plumb_vec2_sub (to, plumb_vec2_scale (run, share)));
}

static bool
segments_meet (PlumbVec2 a, PlumbVec2 b, PlumbVec2 c, PlumbVec2 d)
{
  const double tolerance_m = PLUMB_POINT_TOLERANCE_M;

  if (fmax (a.x, b.x) + tolerance_m < fmin (c.x, d.x) || fmax (c.x, d.x) + tolerance_m < fmin (a.x, b.x)
      || fmax (a.y, b.y) + tolerance_m < fmin (c.y, d.y) || fmax (c.y, d.y) + tolerance_m < fmin (a.y, b.y))
    return false;
  PlumbVec2 ab = plumb_vec2_sub (b, a), cd = plumb_vec2_sub (d, c);
  double c_side = plumb_vec2_cross (ab, plumb_vec2_sub (c, a)), d_side = plumb_vec2_cross (ab, plumb_vec2_sub (d, a));
  double a_side = plumb_vec2_cross (cd, plumb_vec2_sub (a, c)), b_side = plumb_vec2_cross (cd, plumb_vec2_sub (b, c));

  return (c_side * d_side < 0.0 && a_side * b_side < 0.0) || off_segment (c, a, b) <= tolerance_m
         || off_segment (d, a, b) <= tolerance_m || off_segment (a, c, d) <= tolerance_m
         || off_segment (b, c, d) <= tolerance_m;
}

/* Neighbours share a corner; they may not fold back over each other. */
static bool
neighbours_fold (PlumbVec2 before, PlumbVec2 corner, PlumbVec2 after)
{
  const double tolerance_m = PLUMB_POINT_TOLERANCE_M;

  return plumb_vec2_length (plumb_vec2_sub (after, corner)) <= tolerance_m
         || off_segment (after, before, corner) <= tolerance_m || off_segment (before, corner, after) <= tolerance_m;
}

PlumbOutlineState
plumb_outline_check (const PlumbVec2 *corners, uint32_t n, uint32_t *first, uint32_t *second)
{
  *first = *second = PLUMB_NO_INDEX;
  if (n < 3)
    return PLUMB_OUTLINE_FEW;
  for (uint32_t i = 0; i < n; i++)
    for (uint32_t j = i + 1; j < n; j++)
      {
        PlumbVec2 a = corners[i], b = corners[i + 1], c = corners[j], d = corners[(j + 1) % n];
        bool next = j == i + 1, last = i == 0 && j == n - 1;
        bool bad = next ? neighbours_fold (a, b, d) : last ? neighbours_fold (c, d, b) : segments_meet (a, b, c, d);
        if (!bad)
          continue;
        *first = i;
        *second = j;
        return PLUMB_OUTLINE_CROSSES;
      }
  return fabs (plumb_polygon_area (corners, n)) > 0.0 ? PLUMB_OUTLINE_FINE : PLUMB_OUTLINE_NO_AREA;
}

/* ---- ears ------------------------------------------------------------------------- */

typedef struct {
  PlumbVec2 *p;
  uint32_t *next, *before;
  uint32_t n;
} Chain;

/* Twice the area over the longest side: how far the corner stands out. */
static double
stand_out (const Chain *chain, uint32_t i)
{
  PlumbVec2 a = chain->p[chain->before[i]], b = chain->p[i], c = chain->p[chain->next[i]];
  PlumbVec2 ab = plumb_vec2_sub (b, a), bc = plumb_vec2_sub (c, b);
  double longest
      = fmax (fmax (plumb_vec2_length (ab), plumb_vec2_length (bc)), plumb_vec2_length (plumb_vec2_sub (c, a)));

  return longest > 0.0 ? plumb_vec2_cross (ab, bc) / longest : 0.0;
}

static bool
in_triangle (PlumbVec2 p, PlumbVec2 a, PlumbVec2 b, PlumbVec2 c)
{
  return plumb_vec2_cross (plumb_vec2_sub (b, a), plumb_vec2_sub (p, a)) >= 0.0
         && plumb_vec2_cross (plumb_vec2_sub (c, b), plumb_vec2_sub (p, b)) >= 0.0
         && plumb_vec2_cross (plumb_vec2_sub (a, c), plumb_vec2_sub (p, c)) >= 0.0;
}

static bool
is_ear (const Chain *chain, uint32_t i)
{
  uint32_t before = chain->before[i], next = chain->next[i];

  if (stand_out (chain, i) <= STRAIGHT_M)
    return false;
  for (uint32_t k = chain->next[next]; k != before; k = chain->next[k])
    if (in_triangle (chain->p[k], chain->p[before], chain->p[i], chain->p[next]))
      return false;
  return true;
}

/* Next corner to cut off, from `start` on: a straight one, else an ear, else
 * (rounding only) the one that stands out most. */
static uint32_t
pick_corner (const Chain *chain, uint32_t start)
{
  uint32_t i = start, best = start;

  do
    {
      if (fabs (stand_out (chain, i)) <= STRAIGHT_M || is_ear (chain, i))
        return i;
      if (stand_out (chain, i) > stand_out (chain, best))
        best = i;
      i = chain->next[i];
    }
  while (i != start);
  return best;
}

/* Looking for neighbours takes the square of the number of pieces; an outline
 * with more is not a room, and triangles serve as well. */
#define MOST_PIECES_TO_JOIN 2000

/* A convex piece as corner indices while diagonals are dropped. */
typedef struct {
  uint32_t n; /* 0: merged into another */
  uint32_t corner[PLUMB_FACE_MAX_POINTS];
} Piece;

static uint32_t
cut_ears (Chain *chain, Piece *pieces)
{
  uint32_t n_pieces = 0, left = chain->n, at = 0;

  while (left > 2)
    {
      uint32_t i = pick_corner (chain, at), before = chain->before[i], next = chain->next[i];
      if (stand_out (chain, i) > STRAIGHT_M)
        pieces[n_pieces++] = (Piece){ 3, { before, i, next } };
      chain->next[before] = next;
      chain->before[next] = before;
      at = next;
      left--;
    }
  return n_pieces;
}

/* ---- fewer parts ------------------------------------------------------------------------ */

static uint32_t
edge_of (const Piece *piece, uint32_t from, uint32_t to)
{
  for (uint32_t k = 0; k < piece->n; k++)
    if (piece->corner[k] == from && piece->corner[(k + 1) % piece->n] == to)
      return k;
  return PLUMB_NO_INDEX;
}

static bool
turns_left (const PlumbVec2 *p, uint32_t a, uint32_t b, uint32_t c)
{
  return plumb_vec2_cross (plumb_vec2_sub (p[b], p[a]), plumb_vec2_sub (p[c], p[b])) >= 0.0;
}

/* Joins b to a over a's edge k, whose reverse is b's edge m, if the whole is
 * convex and small enough. */
static bool
join (const PlumbVec2 *p, Piece *a, uint32_t k, Piece *b, uint32_t m)
{
  Piece whole = { 0 };

  if (a->n + b->n - 2 > PLUMB_FACE_MAX_POINTS)
    return false;
  for (uint32_t i = 0; i < a->n; i++)
    whole.corner[whole.n++] = a->corner[(k + 1 + i) % a->n];
  for (uint32_t i = 2; i < b->n; i++)
    whole.corner[whole.n++] = b->corner[(m + i) % b->n];
  for (uint32_t i = 0; i < whole.n; i++)
    if (!turns_left (p, whole.corner[i], whole.corner[(i + 1) % whole.n], whole.corner[(i + 2) % whole.n]))
      return false;
  *a = whole;
  b->n = 0;
  return true;
}

/* Tries every edge of piece `i` against the pieces after it. */
static bool
join_one (const PlumbVec2 *p, Piece *pieces, uint32_t n_pieces, uint32_t i)
{
  for (uint32_t k = 0; k < pieces[i].n; k++)
    for (uint32_t j = i + 1; j < n_pieces; j++)
      {
        uint32_t m = edge_of (&pieces[j], pieces[i].corner[(k + 1) % pieces[i].n], pieces[i].corner[k]);
        if (m != PLUMB_NO_INDEX && join (p, &pieces[i], k, &pieces[j], m))
          return true;
      }
  return false;
}

static void
emit_pieces (const PlumbVec2 *p, const Piece *pieces, uint32_t n_pieces, uint32_t tag, PlumbList *parts)
{
  for (uint32_t i = 0; i < n_pieces; i++)
    {
      PlumbRing ring = { .n = pieces[i].n };
      for (uint32_t k = 0; k < pieces[i].n; k++)
        ring.p[k] = p[pieces[i].corner[k]];
      plumb_parts_add (parts, &ring, tag);
    }
}

static void
chain_corners (Chain *chain, const PlumbVec2 *corners, uint32_t n)
{
  bool reverse = plumb_polygon_area (corners, n) < 0.0;

  for (uint32_t i = 0; i < n; i++)
    {
      chain->p[i] = corners[reverse ? n - 1 - i : i];
      chain->next[i] = (i + 1) % n;
      chain->before[i] = (i + n - 1) % n;
    }
  chain->n = n;
}

bool
plumb_outline_parts (const PlumbVec2 *corners, uint32_t n, uint32_t tag, PlumbList *parts)
{
  Chain chain = { .p = malloc (n * sizeof (PlumbVec2)),
                  .next = malloc (n * sizeof (uint32_t)),
                  .before = malloc (n * sizeof (uint32_t)) };
  Piece *pieces = malloc (n * sizeof *pieces);
  bool done = chain.p != NULL && chain.next != NULL && chain.before != NULL && pieces != NULL;

  if (done)
    {
      chain_corners (&chain, corners, n);
      uint32_t n_pieces = cut_ears (&chain, pieces);
      for (uint32_t i = 0; i < n_pieces && n_pieces <= MOST_PIECES_TO_JOIN; i++)
        while (join_one (chain.p, pieces, n_pieces, i))
          continue;
      emit_pieces (chain.p, pieces, n_pieces, tag, parts);
    }
  free (chain.p);
  free (chain.next);
  free (chain.before);
  free (pieces);
  return done && !parts->failed;
}
