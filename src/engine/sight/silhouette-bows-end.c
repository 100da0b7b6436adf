/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pieces put in order, closed along the picture's edges, and written as arcs
 * of ellipses. The outline is convex, so pieces follow each other by bearing.
 */
#include "silhouette-bows-private.h"

/* Arcs nearer to a parabola than this are written as ellipses of this weight:
 * a greater one would lose its centre in rounding. */
#define MOST_WEIGHT (1.0 - 1e-3)
/* Share of its own area by which the written line may leave the true one. */
#define LINE_SHARE 1e-6
#define MOST_PIECES (PLUMB_SILHOUETTE_MAX_PIECES - 2)

/* ---- the share of a triangle under its conic ---------------------------------------- */

/* Area between chord and conic over that of the triangle of chord and end
 * tangents: ∫ 2 w s² / (1 + 2 (w − 1) s (1 − s))² ds over 0…1, from the Bézier
 * form; 2/3 for a parabola (Archimedes). */
static double
share_under (double w)
{
  double q = -2.0 * (w - 1.0);

  if (fabs (w - 1.0) < 2e-3)
    return 2.0 * w
           * (1.0 / 3.0 + q * (1.0 / 10.0 + q * (1.0 / 35.0 + q * (1.0 / 126.0 + q * (1.0 / 462.0 + q / 1716.0)))));
  if (w < 1.0)
    {
      double s = sqrt (1.0 - w * w);
      return (acos (w) - s * w) * w / (s * s * s);
    }
  double s = sqrt (w * w - 1.0);
  return (s * w - acosh (w)) * w / (s * s * s);
}

/* Twice the triangle's area, left turn positive. */
static double
turn_of (const PlumbBow *bow)
{
  PlumbVec2 pull = plumb_vec2_scale (bow->pull, 1.0 / bow->weight);

  return bow->straight ? 0.0 : plumb_vec2_cross (plumb_vec2_sub (pull, bow->p), plumb_vec2_sub (bow->q, bow->p));
}

static double
cap_m2 (const PlumbBow *bow)
{
  return bow->straight ? 0.0 : 0.5 * turn_of (bow) * share_under (bow->weight);
}

/* By how much the ellipse written for it can differ, if its area is the same. */
static double
written_off_m2 (const PlumbBow *bow)
{
  return bow->straight || bow->weight <= MOST_WEIGHT
             ? 0.0
             : 0.5 * fabs (turn_of (bow)) * (share_under (bow->weight) - share_under (MOST_WEIGHT));
}

/* ---- order -------------------------------------------------------------------------- */

/* A point half-way along. */
static PlumbVec2
middle_of (const PlumbBow *bow)
{
  PlumbVec2 both = plumb_vec2_add (bow->p, bow->q);

  return bow->straight ? plumb_vec2_scale (both, 0.5)
                       : plumb_vec2_scale (plumb_vec2_along (both, bow->pull, 2.0), 0.5 / (1.0 + bow->weight));
}

static void
reverse (PlumbBow *bow)
{
  PlumbVec2 p = bow->p;

  bow->p = bow->q;
  bow->q = p;
}

/* Counter-clockwise: a bow by its own bend, what is all but straight by a point
 * that the outline surrounds. */
static void
orient (PlumbBow *bow, PlumbVec2 inside)
{
  PlumbVec2 chord = plumb_vec2_sub (bow->q, bow->p);
  double turn = turn_of (bow);

  if (fabs (turn) < 1e-9 * plumb_vec2_dot (chord, chord))
    turn = plumb_vec2_cross (chord, plumb_vec2_sub (inside, bow->p));
  if (turn < 0.0)
    reverse (bow);
  bow->bearing_rad = atan2 (bow->q.y - bow->p.y, bow->q.x - bow->p.x);
}

static void
sort (PlumbBows *bows)
{
  for (int i = 1; i < bows->n; i++)
    {
      PlumbBow one = bows->bow[i];
      int k = i;
      for (; k > 0 && bows->bow[k - 1].bearing_rad > one.bearing_rad; k--)
        bows->bow[k] = bows->bow[k - 1];
      bows->bow[k] = one;
    }
}

/* ---- the picture's edges -------------------------------------------------------------- */

typedef struct {
  PlumbVec2 at[4]; /* counter-clockwise from bottom left */
  bool hidden[4];
  int n_hidden;
  double size;
} Corners;

static Corners
corners_of (const PlumbBows *bows, PlumbHides hides, const void *body)
{
  Corners c = { .at = { bows->least, { bows->most.x, bows->least.y }, bows->most, { bows->least.x, bows->most.y } } };

  for (int k = 0; k < 4; k++)
    {
      c.hidden[k] = hides (body, c.at[k]);
      c.n_hidden += c.hidden[k];
    }
  c.size = (bows->most.x - bows->least.x) + (bows->most.y - bows->least.y);
  return c;
}

/* How far round the picture's edge a point lies, 0…4; below 0: not on it. */
static double
place_on_edge (const Corners *c, PlumbVec2 p)
{
  double best = -1.0, nearest = 1e-7 * c->size;

  for (int k = 0; k < 4; k++)
    {
      PlumbVec2 run = plumb_vec2_sub (c->at[(k + 1) % 4], c->at[k]), d = plumb_vec2_sub (p, c->at[k]);
      double length = fabs (run.x) + fabs (run.y);
      double off = fabs (plumb_vec2_cross (run, d)) / length, along = plumb_vec2_dot (run, d) / (length * length);
      if (off >= nearest || along < -1e-6 || along > 1.0 + 1e-6)
        continue;
      nearest = off;
      best = fmin (fmax (k + along, k), k + 1.0);
    }
  return best;
}

/* The picture's corners between the end of one piece and the start of the next.
 * False when the outline cannot run there. */
static bool
walk (const Corners *c, PlumbVec2 from, PlumbVec2 to, PlumbVec2 *out, int *n)
{
  double gap = fabs (from.x - to.x) + fabs (from.y - to.y);
  double start = place_on_edge (c, from), end = place_on_edge (c, to);

  if (gap < 1e-9 * c->size)
    return true;
  if (start < 0.0 || end < 0.0)
    return gap < 1e-6 * c->size;
  if (end < start)
    end += 4.0;
  for (int k = (int) floor (start) + 1; k < end && k < 8; k++)
    {
      if (!c->hidden[k % 4])
        /* On the line, and rounding told otherwise; or all the way round between two points that are one. */
        return gap < 1e-6 * c->size;
      out[(*n)++] = c->at[k % 4];
    }
  return true;
}

/* ---- writing --------------------------------------------------------------------------- */

static void
write_bow (const PlumbBow *bow, PlumbVec2 foot, PlumbSilhouette *out)
{
  PlumbVec2 chord = plumb_vec2_sub (bow->q, bow->p), middle = plumb_vec2_scale (plumb_vec2_add (bow->p, bow->q), 0.5);
  double w = fmin (bow->weight, MOST_WEIGHT);

  if (bow->straight || fabs (turn_of (bow)) < 1e-10 * plumb_vec2_dot (chord, chord))
    {
      plumb_outline_add_segment (out, plumb_vec2_add (foot, bow->p), plumb_vec2_add (foot, bow->q));
      return;
    }
  /* The corner of the end tangents, drawn so that the area under the ellipse is that under the curve. */
  PlumbVec2 rise = plumb_vec2_sub (plumb_vec2_scale (bow->pull, 1.0 / bow->weight), middle);
  double grown = w < bow->weight ? share_under (bow->weight) / share_under (w) : 1.0;
  double half = acos (w), ww = w * w;
  PlumbVec2 centre = plumb_vec2_along (middle, rise, -grown * ww / (1.0 - ww));
  PlumbOutlinePiece piece = {
    .arc = true,
    .p = plumb_vec2_add (foot, bow->p),
    .q = plumb_vec2_add (foot, bow->q),
    .centre = plumb_vec2_add (foot, centre),
    .major = plumb_vec2_scale (rise, grown * w / (1.0 - ww)),
    .minor = plumb_vec2_scale (chord, 0.5 / sqrt (1.0 - ww)),
    .t0 = -half,
    .t1 = half,
  };
  plumb_outline_add_piece (out, &piece);
}

/* Pieces that leave the true line furthest are halved while there is room. */
static void
refine (PlumbBows *bows, int n_others, double area_m2)
{
  while (bows->n + n_others < MOST_PIECES)
    {
      double worst_m2 = 0.0, sum_m2 = 0.0;
      int at = 0;
      for (int k = 0; k < bows->n; k++)
        {
          double off_m2 = written_off_m2 (&bows->bow[k]);
          sum_m2 += off_m2;
          if (off_m2 > worst_m2)
            {
              worst_m2 = off_m2;
              at = k;
            }
        }
      if (sum_m2 <= LINE_SHARE * area_m2)
        return;
      for (int k = bows->n; k > at + 1; k--)
        bows->bow[k] = bows->bow[k - 1];
      bows->n++;
      plumb_bow_halve (&bows->bow[at], &bows->bow[at], &bows->bow[at + 1]);
    }
}

/* Finds the corners that follow each piece, and the area; false when the
 * outline does not close. `n_others`: pieces that the edges will need. */
static bool
close_up (PlumbBows *bows, const Corners *c, PlumbVec2 *corner, int *n_others, double *area_m2)
{
  int n = 0, gaps = 0;

  *area_m2 = 0.0;
  for (int k = 0; k < bows->n; k++)
    {
      PlumbBow *bow = &bows->bow[k];
      PlumbVec2 last = bow->q, next = bows->bow[(k + 1) % bows->n].p;
      int first = n;
      if (n > 4 || !walk (c, last, next, corner, &n))
        return false;
      bow->corners_after = n - first;
      gaps += last.x != next.x || last.y != next.y;
      *area_m2 += cap_m2 (bow) + 0.5 * plumb_vec2_cross (bow->p, last);
      for (int i = first; i < n; i++)
        {
          *area_m2 += 0.5 * plumb_vec2_cross (last, corner[i]);
          last = corner[i];
        }
      *area_m2 += 0.5 * plumb_vec2_cross (last, next);
    }
  *n_others = n + gaps;
  return n <= 4;
}

static void
write_out (const PlumbBows *bows, const PlumbVec2 *corner, PlumbSilhouette *out)
{
  PlumbVec2 foot = { bows->frame->eye_u, bows->frame->eye_v };

  for (int k = 0; k < bows->n; k++)
    {
      PlumbVec2 last = bows->bow[k].q, next = bows->bow[(k + 1) % bows->n].p;
      write_bow (&bows->bow[k], foot, out);
      for (int i = 0; i < bows->bow[k].corners_after; i++)
        {
          plumb_outline_add_segment (out, plumb_vec2_add (foot, last), plumb_vec2_add (foot, *corner));
          last = *corner++;
        }
      plumb_outline_add_segment (out, plumb_vec2_add (foot, last), plumb_vec2_add (foot, next));
    }
}

PlumbBowsEnd
plumb_bows_end (PlumbBows *bows, PlumbHides hides, const void *body, const PlumbRect *picture, PlumbSilhouette *out)
{
  Corners c = corners_of (bows, hides, body);
  PlumbVec2 inside = { 0.0, 0.0 }, corner[12];
  double area_m2, picture_m2 = picture->width_m * picture->height_m;
  int n_others;

  if (bows->overfull)
    return PLUMB_BOWS_MUDDLED;
  if (bows->n == 0)
    {
      if (c.n_hidden == 0)
        return PLUMB_BOWS_NOTHING;
      if (c.n_hidden < 4)
        return PLUMB_BOWS_MUDDLED;
      plumb_outline_whole (picture, out);
      return PLUMB_BOWS_DONE;
    }
  for (int k = 0; k < 4; k++)
    if (c.hidden[k])
      inside = plumb_vec2_add (inside, c.at[k]);
  for (int k = 0; k < bows->n; k++)
    inside = plumb_vec2_add (inside, middle_of (&bows->bow[k]));
  inside = plumb_vec2_scale (inside, 1.0 / (bows->n + c.n_hidden));
  for (int k = 0; k < bows->n; k++)
    orient (&bows->bow[k], inside);
  sort (bows);
  if (!close_up (bows, &c, corner, &n_others, &area_m2) || bows->n + n_others > MOST_PIECES
      || !(area_m2 >= 0.0 && area_m2 <= picture_m2 * (1.0 + 1e-9)))
    return PLUMB_BOWS_MUDDLED;
  refine (bows, n_others, area_m2);
  out->n_pieces = 0;
  write_out (bows, corner, out);
  return plumb_outline_measure (out, picture) ? PLUMB_BOWS_DONE : PLUMB_BOWS_NOTHING;
}
