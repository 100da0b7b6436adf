/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines of segments and elliptical arcs: made, clipped, measured. */
#include "silhouette-private.h"

#include "plumbeam/assert.h"

#define FULL_TURN (2.0 * PLUMB_PI)
/* Room that clipping by four lines may need. */
#define SPARE_PIECES 8
/* A piece as short as this has lost its direction in rounding. */
#define NO_LENGTH_M 1e-10

PlumbVec2
plumb_piece_at (const PlumbOutlinePiece *piece, double t)
{
  if (!piece->arc)
    return plumb_vec2_along (plumb_vec2_scale (piece->p, 1.0 - t), piece->q, t);
  return plumb_vec2_along (plumb_vec2_along (piece->centre, piece->major, cos (t)), piece->minor, sin (t));
}

double
plumb_piece_area (const PlumbOutlinePiece *piece, double t0, double t1)
{
  PlumbVec2 p = plumb_piece_at (piece, t0), q = plumb_piece_at (piece, t1);

  if (!piece->arc)
    return plumb_vec2_cross (p, q) / 2.0;
  return (plumb_vec2_cross (piece->major, piece->minor) * (t1 - t0)
          + plumb_vec2_cross (piece->centre, plumb_vec2_sub (q, p)))
         / 2.0;
}

void
plumb_outline_add_piece (PlumbSilhouette *outline, const PlumbOutlinePiece *piece)
{
  PLUMB_ASSERT (outline->n_pieces < PLUMB_SILHOUETTE_MAX_PIECES);
  outline->piece[outline->n_pieces++] = *piece;
}

static bool
one_point (PlumbVec2 p, PlumbVec2 q)
{
  return fabs (p.x - q.x) + fabs (p.y - q.y) <= NO_LENGTH_M;
}

void
plumb_outline_add_segment (PlumbSilhouette *outline, PlumbVec2 p, PlumbVec2 q)
{
  PlumbOutlinePiece piece = { .p = p, .q = q, .t1 = 1.0 };

  if (!one_point (p, q))
    plumb_outline_add_piece (outline, &piece);
}

static void
push_part (PlumbSilhouette *outline, const PlumbOutlinePiece *piece, double t0, double t1)
{
  PlumbOutlinePiece part = *piece;

  if (!(t1 > t0))
    return;
  part.p = plumb_piece_at (piece, t0);
  part.q = plumb_piece_at (piece, t1);
  part.t0 = piece->arc ? t0 : 0.0;
  part.t1 = piece->arc ? t1 : 1.0;
  plumb_outline_add_piece (outline, &part);
}

void
plumb_outline_add_arc (PlumbSilhouette *outline, PlumbVec2 centre, PlumbVec2 major, PlumbVec2 minor, double t0,
                       double t1)
{
  PlumbOutlinePiece arc = { .arc = true, .centre = centre, .major = major, .minor = minor };
  int parts = (int) ceil ((t1 - t0) / (PLUMB_PI / 2.0) - 1e-9);

  for (int k = 0; k < parts; k++)
    push_part (outline, &arc, t0 + (t1 - t0) * k / parts, t0 + (t1 - t0) * (k + 1) / parts);
}

/* The corner that a polygon misses least. */
static size_t
flattest (const PlumbVec2 *points, size_t n)
{
  size_t best = 0;
  double least = INFINITY;

  for (size_t k = 0; k < n; k++)
    {
      PlumbVec2 before = points[(k + n - 1) % n], after = points[(k + 1) % n];
      double area = fabs (plumb_vec2_cross (plumb_vec2_sub (points[k], before), plumb_vec2_sub (after, before)));
      if (area < least)
        {
          least = area;
          best = k;
        }
    }
  return best;
}

void
plumb_outline_from_polygon (PlumbVec2 *points, size_t n, PlumbSilhouette *out)
{
  size_t kept = 0;

  for (size_t k = 0; k < n; k++)
    if (kept == 0 || !one_point (points[kept - 1], points[k]))
      points[kept++] = points[k];
  while (kept > 1 && one_point (points[kept - 1], points[0]))
    kept--;
  n = kept;
  while (n > PLUMB_SILHOUETTE_MAX_PIECES - SPARE_PIECES)
    {
      size_t gone = flattest (points, n);
      n--;
      for (size_t k = gone; k < n; k++)
        points[k] = points[k + 1];
    }
  out->n_pieces = 0;
  for (size_t k = 0; k < n && n >= 3; k++)
    plumb_outline_add_segment (out, points[k], points[(k + 1) % n]);
}

/* ---- clipping ---------------------------------------------------------------------- */

/* Angles in (t0, t1) at which an arc crosses the line normal·p = offset. */
static int
arc_crossings (const PlumbOutlinePiece *arc, PlumbVec2 normal, double offset, double out[2])
{
  double a = plumb_vec2_dot (normal, arc->major), b = plumb_vec2_dot (normal, arc->minor);
  double c = offset - plumb_vec2_dot (normal, arc->centre), reach = hypot (a, b);
  int n = 0;

  if (!(fabs (c) < reach))
    return 0;
  double middle = atan2 (b, a), half = acos (c / reach);
  for (int k = 0; k < 2; k++)
    {
      double t = middle + (k == 0 ? -half : half);
      t += FULL_TURN * ceil ((arc->t0 - t) / FULL_TURN);
      if (t > arc->t0 && t < arc->t1)
        out[n++] = t;
    }
  if (n == 2 && out[0] > out[1])
    {
      double swap = out[0];
      out[0] = out[1];
      out[1] = swap;
    }
  return n;
}

static void
clip_piece (const PlumbOutlinePiece *piece, PlumbVec2 normal, double offset, PlumbSilhouette *out)
{
  double cut[4] = { piece->t0, piece->t1, 0.0, 0.0 };
  int n = 1;

  if (piece->arc)
    n += arc_crossings (piece, normal, offset, cut + 1);
  else
    {
      double dp = plumb_vec2_dot (normal, piece->p) - offset, dq = plumb_vec2_dot (normal, piece->q) - offset;
      if ((dp > 0.0) != (dq > 0.0))
        cut[n++] = dp / (dp - dq);
    }
  cut[n] = piece->t1;
  for (int k = 0; k < n; k++)
    if (plumb_vec2_dot (normal, plumb_piece_at (piece, (cut[k] + cut[k + 1]) / 2.0)) <= offset)
      push_part (out, piece, cut[k], cut[k + 1]);
}

/* From the end of one piece to the start of the next: by a segment, or where
 * both ends are one point by moving the end of a segment there. */
static void
join (PlumbSilhouette *outline, PlumbOutlinePiece *last, PlumbOutlinePiece *next)
{
  if (!one_point (last->q, next->p))
    plumb_outline_add_segment (outline, last->q, next->p);
  else if (!next->arc)
    next->p = last->q;
  else if (!last->arc)
    last->q = next->p;
}

/* A convex outline keeps one run of pieces; a straight one closes it. */
static void
clip_line (PlumbSilhouette *outline, PlumbVec2 normal, double offset)
{
  PlumbSilhouette kept = { .tag = outline->tag };
  PlumbSilhouette closed = { .tag = outline->tag };

  for (uint32_t k = 0; k < outline->n_pieces; k++)
    clip_piece (&outline->piece[k], normal, offset, &kept);
  for (uint32_t k = 0; k < kept.n_pieces; k++)
    {
      if (one_point (kept.piece[k].p, kept.piece[k].q))
        continue;
      if (closed.n_pieces > 0)
        join (&closed, &closed.piece[closed.n_pieces - 1], &kept.piece[k]);
      plumb_outline_add_piece (&closed, &kept.piece[k]);
    }
  if (closed.n_pieces > 0)
    join (&closed, &closed.piece[closed.n_pieces - 1], &closed.piece[0]);
  *outline = closed;
}

static void
measure (PlumbSilhouette *outline)
{
  outline->least = plumb_vec2 (INFINITY, INFINITY);
  outline->most = plumb_vec2 (-INFINITY, -INFINITY);
  outline->area_m2 = 0.0;
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    {
      const PlumbOutlinePiece *piece = &outline->piece[k];
      outline->area_m2 += plumb_piece_area (piece, piece->t0, piece->t1);
      /* An arc of a quarter turn stays in the box of its ends and the crossing of its end tangents. */
      double middle = (piece->t0 + piece->t1) / 2.0, half = (piece->t1 - piece->t0) / 2.0;
      PlumbVec2 corner[3] = { piece->p, piece->q, piece->p };
      if (piece->arc)
        corner[2] = plumb_vec2_along (piece->centre, plumb_vec2_sub (plumb_piece_at (piece, middle), piece->centre),
                                      1.0 / cos (half));
      for (int i = 0; i < 3; i++)
        {
          outline->least = plumb_vec2 (fmin (outline->least.x, corner[i].x), fmin (outline->least.y, corner[i].y));
          outline->most = plumb_vec2 (fmax (outline->most.x, corner[i].x), fmax (outline->most.y, corner[i].y));
        }
    }
}

bool
plumb_outline_measure (PlumbSilhouette *outline, const PlumbRect *rect)
{
  double w = rect->width_m / 2.0, h = rect->height_m / 2.0;

  measure (outline);
  outline->least = plumb_vec2 (fmax (outline->least.x, rect->centre_m.x - w), fmax (outline->least.y, rect->centre_m.y - h));
  outline->most = plumb_vec2 (fmin (outline->most.x, rect->centre_m.x + w), fmin (outline->most.y, rect->centre_m.y + h));
  return outline->n_pieces > 0 && outline->area_m2 > 0.0;
}

bool
plumb_outline_clip (PlumbSilhouette *outline, const PlumbRect *rect)
{
  double w = rect->width_m / 2.0, h = rect->height_m / 2.0;
  const PlumbVec2 normal[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  const double offset[4]
      = { rect->centre_m.x + w, w - rect->centre_m.x, rect->centre_m.y + h, h - rect->centre_m.y };

  measure (outline);
  const double reach[4] = { outline->most.x, -outline->least.x, outline->most.y, -outline->least.y };
  for (int k = 0; k < 4 && outline->n_pieces > 0; k++)
    if (reach[k] > offset[k])
      clip_line (outline, normal[k], offset[k]);
  measure (outline);
  return outline->n_pieces > 0 && outline->area_m2 > 0.0;
}
