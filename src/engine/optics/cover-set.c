/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cover-set-private.h"

#include "shift-set-private.h"

static bool
same_set (const PlumbShiftSet *a, const PlumbShiftSet *b)
{
  if (a->kind != b->kind || a->n_points != b->n_points || a->centre.x != b->centre.x || a->centre.y != b->centre.y
      || a->radius.x != b->radius.x || a->radius.y != b->radius.y
      || a->circle_radius_heights != b->circle_radius_heights || a->aspect != b->aspect)
    return false;
  for (size_t i = 0; i < a->n_points; i++)
    if (a->point[i].x != b->point[i].x || a->point[i].y != b->point[i].y)
      return false;
  return true;
}

/* The outline with the lowest, then leftmost point first, so that the edges
 * of two outlines turn through the same angles. */
static size_t
outline_from_lowest (const PlumbShiftSet *set, PlumbVec2 *out)
{
  PlumbVec2 outline[PLUMB_SHIFT_MAX_POINTS];
  size_t n_points = plumb_shift_set_outline (set, outline, PLUMB_SHIFT_MAX_POINTS), first = 0;

  for (size_t i = 1; i < n_points; i++)
    if (outline[i].y < outline[first].y || (outline[i].y == outline[first].y && outline[i].x < outline[first].x))
      first = i;
  for (size_t i = 0; i < n_points; i++)
    out[i] = outline[(first + i) % n_points];
  return n_points;
}

void
plumb_cover_ends_init (PlumbCoverEnds *ends, const PlumbShiftSet *wide, const PlumbShiftSet *tele)
{
  ends->wide = wide;
  ends->tele = tele;
  ends->same = same_set (wide, tele);
  ends->is_curved = wide->kind == tele->kind && wide->kind != PLUMB_SHIFT_KIND_POLYGON
                    && (wide->kind == PLUMB_SHIFT_KIND_ELLIPSE || wide->aspect == tele->aspect);
  ends->n_wide = ends->n_tele = 0;
  if (ends->is_curved)
    return;
  ends->n_wide = outline_from_lowest (wide, ends->wide_point);
  ends->n_tele = outline_from_lowest (tele, ends->tele_point);
}

static PlumbVec2
mix (PlumbVec2 a, PlumbVec2 b, double share)
{
  return plumb_vec2_add (plumb_vec2_scale (a, 1.0 - share), plumb_vec2_scale (b, share));
}

static void
mix_curved (const PlumbCoverEnds *ends, double share, PlumbCoverSet *out)
{
  const PlumbShiftSet *wide = ends->wide, *tele = ends->tele;

  out->n_points = 0;
  out->curved = (PlumbShiftSet){
    .kind = wide->kind,
    .centre = mix (wide->centre, tele->centre, share),
    .radius = mix (wide->radius, tele->radius, share),
    .circle_radius_heights = wide->circle_radius_heights * (1.0 - share) + tele->circle_radius_heights * share,
    .aspect = wide->aspect,
  };
}

/* Edges of both outlines in the order of their directions. */
static void
add_outlines (const PlumbCoverEnds *ends, double share, PlumbCoverSet *out)
{
  const PlumbVec2 *a = ends->wide_point, *b = ends->tele_point;
  size_t n_a = ends->n_wide, n_b = ends->n_tele, i = 0, k = 0;

  out->n_points = 0;
  do
    {
      out->point[out->n_points++] = mix (a[i % n_a], b[k % n_b], share);
      PlumbVec2 edge_a = plumb_vec2_sub (a[(i + 1) % n_a], a[i % n_a]);
      PlumbVec2 edge_b = plumb_vec2_sub (b[(k + 1) % n_b], b[k % n_b]);
      double turn = plumb_vec2_cross (edge_a, edge_b);
      bool a_left = i < n_a, b_left = k < n_b;

      i += a_left && (turn >= 0.0 || !b_left);
      k += b_left && (turn <= 0.0 || !a_left);
    }
  while (i < n_a || k < n_b);
}

void
plumb_cover_set_between (const PlumbCoverEnds *ends, double share, PlumbCoverSet *out)
{
  if (ends->is_curved)
    {
      mix_curved (ends, share, out);
      return;
    }
  if (!ends->same)
    {
      add_outlines (ends, share, out);
      return;
    }
  out->n_points = ends->n_wide;
  for (size_t i = 0; i < ends->n_wide; i++)
    out->point[i] = ends->wide_point[i];
}

/* ------------------------------------------------------------- least miss */

typedef struct {
  PlumbVec2 wanted, scale, slack;
  double miss;
  PlumbVec2 point;
} Search;

static void
try_point (Search *search, PlumbVec2 p)
{
  double x = fabs (p.x - search->wanted.x) * search->scale.x - search->slack.x;
  double y = fabs (p.y - search->wanted.y) * search->scale.y - search->slack.y;
  double miss = fmax (x, y);

  if (miss < search->miss)
    {
      search->miss = miss;
      search->point = p;
    }
}

static void
try_root (Search *search, PlumbVec2 a, PlumbVec2 along, double start, double rate)
{
  double share = -start / rate;

  if (share > 0.0 && share < 1.0)
    try_point (search, plumb_vec2_along (a, along, share));
}

/* Along an edge the miss is convex with straight pieces: its least is at an
 * end, where one distance is nothing, or where both sides are equal. */
static void
try_edge (Search *search, PlumbVec2 a, PlumbVec2 b)
{
  PlumbVec2 along = plumb_vec2_sub (b, a);
  double x = (a.x - search->wanted.x) * search->scale.x, dx = along.x * search->scale.x;
  double y = (a.y - search->wanted.y) * search->scale.y, dy = along.y * search->scale.y;
  double slack = search->slack.x - search->slack.y;

  try_point (search, a);
  try_root (search, a, along, x, dx);
  try_root (search, a, along, y, dy);
  try_root (search, a, along, x - y - slack, dx - dy);
  try_root (search, a, along, x + y - slack, dx + dy);
  try_root (search, a, along, x - y + slack, dx - dy);
  try_root (search, a, along, x + y + slack, dx + dy);
}

static void
search_polygon (const PlumbCoverSet *set, Search *search)
{
  bool inside = set->n_points >= 3;

  for (size_t i = 0; i < set->n_points; i++)
    {
      PlumbVec2 a = set->point[i], b = set->point[(i + 1) % set->n_points];

      if (plumb_vec2_cross (plumb_vec2_sub (b, a), plumb_vec2_sub (search->wanted, a)) < 0.0)
        inside = false;
      try_edge (search, a, b);
    }
  if (inside)
    try_point (search, search->wanted);
}

/* Outside the arc the answer lies on it, not farther right or higher than
 * wanted: from the h axis on, the miss to the right grows and the one upwards
 * shrinks, so it is where they are equal, or the nearer end. */
static void
search_arc (const PlumbShiftArc *arc, Search *search)
{
  PlumbVec2 end = plumb_shift_arc_point (arc, arc->first_rad), top = plumb_shift_arc_point (arc, arc->last_rad);

  if (plumb_shift_arc_holds (arc, search->wanted))
    {
      try_point (search, search->wanted);
      return;
    }
  if (!(arc->half_x > 0.0 && arc->half_y > 0.0))
    {
      /* Shrunk to a line or a point: a box of no width or height. */
      try_point (search, plumb_vec2 (fmin (search->wanted.x, end.x), fmin (search->wanted.y, top.y)));
      return;
    }
  try_point (search, end);
  try_point (search, top);

  double first = arc->first_rad, last = arc->last_rad;
  if (search->wanted.x < end.x)
    first = fmax (first, acos (plumb_clamp ((search->wanted.x - arc->from_x) / arc->half_x, -1.0, 1.0)));
  if (search->wanted.y < top.y)
    last = fmin (last, asin (plumb_clamp ((search->wanted.y - arc->from_y) / arc->half_y, -1.0, 1.0)));

  double x = arc->half_x * search->scale.x, y = arc->half_y * search->scale.y;
  double level = (search->wanted.x - arc->from_x) * search->scale.x - search->slack.x
                 - (search->wanted.y - arc->from_y) * search->scale.y + search->slack.y;
  double equal = acos (plumb_clamp (level / hypot (x, y), -1.0, 1.0)) - atan2 (y, x);
  try_point (search, plumb_shift_arc_point (arc, plumb_clamp (equal, first, fmax (first, last))));
}

double
plumb_cover_set_least_miss (const PlumbCoverSet *set, PlumbVec2 wanted, PlumbVec2 scale, PlumbVec2 slack,
                            PlumbVec2 *point)
{
  Search search = { .wanted = wanted, .scale = scale, .slack = slack, .miss = INFINITY };

  if (set->n_points > 0)
    {
      search_polygon (set, &search);
      *point = search.point;
      return search.miss;
    }

  PlumbShiftArc arc = plumb_shift_arc (&set->curved, 1.0, 1.0);
  PlumbVec2 seen = plumb_vec2_sub (wanted, set->curved.centre);
  search.wanted = plumb_vec2 (fabs (seen.x), fabs (seen.y));
  search_arc (&arc, &search);
  *point = plumb_vec2_add (set->curved.centre,
                           plumb_vec2 (copysign (search.point.x, seen.x), copysign (search.point.y, seen.y)));
  return search.miss;
}
