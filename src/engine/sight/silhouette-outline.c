/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines of segments and elliptical arcs: made, clipped, measured. */
#include "plumbeam/assert.h"
#include "silhouette-private.h"

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
plumb_piece_area (const PlumbOutlinePiece *piece, PlumbVec2 p, PlumbVec2 q, double turn)
{
  if (!piece->arc)
    return plumb_vec2_cross (p, q) / 2.0;
  return (plumb_vec2_cross (piece->major, piece->minor) * turn
          + plumb_vec2_cross (piece->centre, plumb_vec2_sub (q, p)))
         / 2.0;
}

PlumbVec2
plumb_piece_between (const PlumbOutlinePiece *piece, PlumbVec2 p, PlumbVec2 q)
{
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (p, q), 0.5);

  if (!piece->arc)
    return middle;
  PlumbVec2 way = plumb_vec2_sub (middle, piece->centre);
  double x = plumb_vec2_dot (piece->row[0], way), y = plumb_vec2_dot (piece->row[1], way);
  return plumb_vec2_along (piece->centre, way, 1.0 / sqrt (x * x + y * y));
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

void
plumb_outline_add_arc (PlumbSilhouette *outline, PlumbVec2 centre, PlumbVec2 major, PlumbVec2 minor, double t0,
                       double t1)
{
  PlumbOutlinePiece arc = { .arc = true, .centre = centre, .major = major, .minor = minor };
  int parts = (int) ceil ((t1 - t0) / (PLUMB_PI / 2.0) - 1e-9);

  arc.q = plumb_piece_at (&arc, t0);
  for (int k = 0; k < parts; k++)
    {
      arc.t0 = t0 + (t1 - t0) * k / parts;
      arc.t1 = t0 + (t1 - t0) * (k + 1) / parts;
      arc.p = arc.q;
      arc.q = plumb_piece_at (&arc, arc.t1);
      plumb_outline_add_piece (outline, &arc);
    }
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

/* ---- measuring ---------------------------------------------------------------------- */

/* An arc of a quarter turn stays in the box of its ends and the crossing of its
 * end tangents, which lies from the centre through the chord's middle: with the
 * cosine of half the turn as the length of that way in the ellipse's terms, by
 * one over its square as far. */
static void
measure_piece (PlumbOutlinePiece *piece)
{
  PlumbVec2 p = piece->p, q = piece->q, corner = p, chord = plumb_vec2_sub (q, p);

  piece->chord_m = sqrt (plumb_vec2_dot (chord, chord));
  if (piece->arc)
    {
      PlumbVec2 a = piece->major, b = piece->minor;
      double size = plumb_vec2_cross (a, b);
      piece->row[0] = plumb_vec2 (b.y / size, -b.x / size);
      piece->row[1] = plumb_vec2 (-a.y / size, a.x / size);
      piece->least_m = fabs (size) / sqrt (plumb_vec2_dot (a, a) + plumb_vec2_dot (b, b));
      PlumbVec2 way = plumb_vec2_sub (plumb_vec2_scale (plumb_vec2_add (p, q), 0.5), piece->centre);
      double x = plumb_vec2_dot (piece->row[0], way), y = plumb_vec2_dot (piece->row[1], way);
      corner = plumb_vec2_along (piece->centre, way, 1.0 / (x * x + y * y));
    }
  piece->least = plumb_vec2 (plumb_lesser (plumb_lesser (p.x, q.x), corner.x),
                             plumb_lesser (plumb_lesser (p.y, q.y), corner.y));
  piece->most = plumb_vec2 (plumb_greater (plumb_greater (p.x, q.x), corner.x),
                            plumb_greater (plumb_greater (p.y, q.y), corner.y));
}

/* ---- clipping ---------------------------------------------------------------------- */

/* A cut of a piece: parameter and point. */
typedef struct {
  double t;
  PlumbVec2 at;
} Cut;

/* (cos t, sin t) of a point of an arc. */
static PlumbVec2
on_circle (const PlumbOutlinePiece *arc, PlumbVec2 point)
{
  PlumbVec2 way = plumb_vec2_sub (point, arc->centre);

  return plumb_vec2 (plumb_vec2_dot (arc->row[0], way), plumb_vec2_dot (arc->row[1], way));
}

/* Where in (t0, t1) an arc crosses the line normal·p = offset: with a, b, c of
 * a cos t + b sin t = c the two solutions are points of the unit circle. */
static int
arc_crossings (const PlumbOutlinePiece *arc, PlumbVec2 normal, double offset, Cut out[2])
{
  double a = plumb_vec2_dot (normal, arc->major), b = plumb_vec2_dot (normal, arc->minor);
  double c = offset - plumb_vec2_dot (normal, arc->centre), reach2 = a * a + b * b, rest = reach2 - c * c;
  int n = 0;

  if (!(rest > 0.0))
    return 0;
  double half = sqrt (rest);
  PlumbVec2 start = on_circle (arc, arc->p), end = on_circle (arc, arc->q);
  for (int k = 0; k < 2; k++)
    {
      double way = k == 0 ? half : -half, x = (a * c + b * way) / reach2, y = (b * c - a * way) / reach2;
      /* Well outside of the arc's quarter. */
      if (plumb_vec2_cross (start, plumb_vec2 (x, y)) < -1e-6 || plumb_vec2_cross (plumb_vec2 (x, y), end) < -1e-6)
        continue;
      double t = atan2 (y, x);
      t += FULL_TURN * ceil ((arc->t0 - t) / FULL_TURN);
      if (t > arc->t0 && t < arc->t1)
        out[n++] = (Cut){ t, plumb_vec2_along (plumb_vec2_along (arc->centre, arc->major, x), arc->minor, y) };
    }
  if (n == 2 && out[0].t > out[1].t)
    {
      Cut swap = out[0];
      out[0] = out[1];
      out[1] = swap;
    }
  return n;
}

/* What a line leaves of an outline, piece by piece. */
typedef struct {
  PlumbSilhouette outline;
  bool changed[PLUMB_SILHOUETTE_MAX_PIECES];
} Rest;

static PlumbOutlinePiece *
next_piece (Rest *rest, bool changed)
{
  PLUMB_ASSERT (rest->outline.n_pieces < PLUMB_SILHOUETTE_MAX_PIECES);
  rest->changed[rest->outline.n_pieces] = changed;
  return &rest->outline.piece[rest->outline.n_pieces++];
}

/* From the end of piece `last` to the start of piece `next`: by a segment in
 * place `between`, or where both ends are one point by moving the end of a
 * segment there. True if a segment is needed. */
static bool
join (Rest *rest, uint32_t at_last, uint32_t at_next)
{
  PlumbOutlinePiece *last = &rest->outline.piece[at_last], *next = &rest->outline.piece[at_next];

  if (last->q.x == next->p.x && last->q.y == next->p.y)
    return false;
  if (!one_point (last->q, next->p))
    return true;
  if (!next->arc)
    {
      next->p = last->q;
      rest->changed[at_next] = true;
    }
  else if (!last->arc)
    {
      last->q = next->p;
      rest->changed[at_last] = true;
    }
  return false;
}

static void
keep_part (Rest *rest, const PlumbOutlinePiece *piece, const Cut *from, const Cut *to)
{
  uint32_t at = rest->outline.n_pieces;

  if (one_point (from->at, to->at))
    return;
  bool whole = from->t == piece->t0 && to->t == piece->t1;
  PlumbOutlinePiece *part = next_piece (rest, !whole);
  *part = *piece;
  if (!whole)
    {
      part->p = from->at;
      part->q = to->at;
      part->t0 = piece->arc ? from->t : 0.0;
      part->t1 = piece->arc ? to->t : 1.0;
    }
  if (at == 0 || !join (rest, at - 1, at))
    return;
  PlumbOutlinePiece shifted = *part;
  *part = (PlumbOutlinePiece){ .p = rest->outline.piece[at - 1].q, .q = shifted.p, .t1 = 1.0 };
  bool changed = rest->changed[at];
  rest->changed[at] = true;
  *next_piece (rest, changed) = shifted;
}

/* The line stands square to an axis. */
static void
clip_piece (const PlumbOutlinePiece *piece, PlumbVec2 normal, double offset, Rest *rest)
{
  Cut cut[4];
  double low = normal.x * piece->least.x + normal.y * piece->least.y;
  double high = normal.x * piece->most.x + normal.y * piece->most.y;
  int n = 1;

  cut[0] = (Cut){ piece->t0, piece->p };
  if (plumb_lesser (low, high) > offset)
    return;
  if (plumb_greater (low, high) <= offset)
    {
      keep_part (rest, piece, &cut[0], &(Cut){ piece->t1, piece->q });
      return;
    }
  if (piece->arc)
    n += arc_crossings (piece, normal, offset, cut + 1);
  else
    {
      double dp = plumb_vec2_dot (normal, piece->p) - offset, dq = plumb_vec2_dot (normal, piece->q) - offset, t;
      if ((dp > 0.0) != (dq > 0.0) && (t = dp / (dp - dq)) > 0.0 && t < 1.0)
        cut[n++] = (Cut){ t, plumb_piece_at (piece, t) };
    }
  cut[n] = (Cut){ piece->t1, piece->q };
  for (int k = 0; k < n; k++)
    if (plumb_vec2_dot (normal, plumb_piece_between (piece, cut[k].at, cut[k + 1].at)) <= offset)
      keep_part (rest, piece, &cut[k], &cut[k + 1]);
}

/* A convex outline keeps one run of pieces; a straight one closes it. */
static void
clip_line (PlumbSilhouette *outline, PlumbVec2 normal, double offset)
{
  Rest rest;

  rest.outline.n_pieces = 0;
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    clip_piece (&outline->piece[k], normal, offset, &rest);
  uint32_t n = rest.outline.n_pieces;
  if (n > 0 && join (&rest, n - 1, 0))
    *next_piece (&rest, true)
        = (PlumbOutlinePiece){ .p = rest.outline.piece[n - 1].q, .q = rest.outline.piece[0].p, .t1 = 1.0 };
  outline->n_pieces = rest.outline.n_pieces;
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    {
      if (rest.changed[k])
        measure_piece (&rest.outline.piece[k]);
      outline->piece[k] = rest.outline.piece[k];
    }
}

static void
measure_pieces (PlumbSilhouette *outline)
{
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    measure_piece (&outline->piece[k]);
}

/* From pieces that are measured. */
static void
measure (PlumbSilhouette *outline)
{
  outline->least = plumb_vec2 (INFINITY, INFINITY);
  outline->most = plumb_vec2 (-INFINITY, -INFINITY);
  outline->area_m2 = 0.0;
  for (uint32_t k = 0; k < outline->n_pieces; k++)
    {
      const PlumbOutlinePiece *piece = &outline->piece[k];
      outline->area_m2 += plumb_piece_area (piece, piece->p, piece->q, piece->t1 - piece->t0);
      outline->least = plumb_vec2 (plumb_lesser (outline->least.x, piece->least.x),
                                   plumb_lesser (outline->least.y, piece->least.y));
      outline->most = plumb_vec2 (plumb_greater (outline->most.x, piece->most.x),
                                  plumb_greater (outline->most.y, piece->most.y));
    }
}

bool
plumb_outline_measure (PlumbSilhouette *outline, const PlumbRect *rect)
{
  double w = rect->width_m / 2.0, h = rect->height_m / 2.0;

  measure_pieces (outline);
  measure (outline);
  outline->least = plumb_vec2 (plumb_greater (outline->least.x, rect->centre_m.x - w),
                               plumb_greater (outline->least.y, rect->centre_m.y - h));
  outline->most = plumb_vec2 (plumb_lesser (outline->most.x, rect->centre_m.x + w),
                              plumb_lesser (outline->most.y, rect->centre_m.y + h));
  return outline->n_pieces > 0 && outline->area_m2 > 0.0;
}

bool
plumb_outline_clip (PlumbSilhouette *outline, const PlumbRect *rect)
{
  double w = rect->width_m / 2.0, h = rect->height_m / 2.0;
  const PlumbVec2 normal[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  const double offset[4] = { rect->centre_m.x + w, w - rect->centre_m.x, rect->centre_m.y + h, h - rect->centre_m.y };

  measure_pieces (outline);
  measure (outline);
  const double reach[4] = { outline->most.x, -outline->least.x, outline->most.y, -outline->least.y };
  bool clipped = false;
  for (int k = 0; k < 4 && outline->n_pieces > 0; k++)
    if (reach[k] > offset[k])
      {
        clip_line (outline, normal[k], offset[k]);
        clipped = true;
      }
  if (clipped)
    measure (outline);
  return outline->n_pieces > 0 && outline->area_m2 > 0.0;
}
