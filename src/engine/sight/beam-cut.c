/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The beam cut to what it meets.
 *
 * The panel starts as one piece that meets nothing. What the lens sees is
 * laid over the pieces that are there: the screen, then the room's faces,
 * then the solids from near to far. A piece is cut along the outline of what
 * is laid over it, and where both planes cross, along the line of equal
 * depth. No cut loses or doubles any area. A later surface must be nearer by
 * PLUMB_COPLANAR_SHARE to take a piece over.
 *
 * A convex solid is laid as a whole: first its silhouette, then its faces
 * inside it, which tile it; that keeps the number of pieces small.
 */
#include <stdlib.h>
#include <string.h>

#include "beam-view-private.h"
#include "plumbeam/assert.h"

/* Panel corners this close to a cutting line lie on it. */
#define SNAP_PANEL 1e-13
/* The direction of a shorter edge is mostly rounding. */
#define SHORT_EDGE 1e-9
/* Smaller pieces are rounding; a thousand of them stay far below 1e-9. */
#define LEAST_PIECE_AREA 1e-17
/* A solid's faces must tile its silhouette to this. */
#define TILE_AREA 1e-13
/* A silhouette with more corners is laid face by face. A piece, a silhouette
 * and a face together must stay within a ring. */
#define SILHOUETTE_MAX_POINTS 72

/* What is kept of a piece only while the cut is made. */
typedef struct {
  PlumbVec2 least, most;
  PlumbInverseDepth inverse;
} Held;

/* A solid, nearest first. */
typedef struct {
  double near_m;
  uint32_t solid;
} Order;

typedef struct {
  PlumbBeamView view;
  const PlumbBuilding *building;
  PlumbBeamCut *cut;
  Held *held; /* one per piece */
  uint32_t held_capacity;
  PlumbSeenFace *seen; /* of one solid */
  uint32_t n_seen;
  PlumbVec2 *corners; /* of those */
  Order *order;
} Work;

/* ---- pieces ------------------------------------------------------------------------ */

static bool
make_room (Work *work)
{
  PlumbBeamCut *cut = work->cut;

  if (cut->n_pieces == cut->capacity)
    {
      uint32_t capacity = cut->capacity == 0 ? 64 : 2 * cut->capacity;
      PlumbBeamPiece *grown = realloc (cut->pieces, capacity * sizeof *grown);
      if (grown == NULL)
        return false;
      cut->pieces = grown;
      cut->capacity = capacity;
    }
  if (work->held_capacity < cut->capacity)
    {
      Held *grown = realloc (work->held, cut->capacity * sizeof *grown);
      if (grown == NULL)
        return false;
      work->held = grown;
      work->held_capacity = cut->capacity;
    }
  return true;
}

static bool
add_piece (Work *work, const PlumbVec2 *p, size_t n, double area, PlumbSurfaceId surface, uint32_t face,
           PlumbInverseDepth inverse)
{
  if (!make_room (work))
    return false;
  Held *held = &work->held[work->cut->n_pieces];
  PlumbBeamPiece *piece = &work->cut->pieces[work->cut->n_pieces++];
  piece->surface = surface;
  piece->face = face;
  piece->panel_share = area;
  piece->n_points = (uint8_t) n;
  memcpy (piece->panel, p, n * sizeof *p);
  held->inverse = inverse;
  plumb_points_bounds (p, n, &held->least, &held->most);
  return true;
}

/* Adds a ring as pieces of at most PLUMB_PIECE_MAX_POINTS corners. */
static bool
add_ring (Work *work, const PlumbRing *ring, PlumbSurfaceId surface, uint32_t face, PlumbInverseDepth inverse)
{
  for (size_t first = 1; first + 1 < ring->n; first += PLUMB_PIECE_MAX_POINTS - 2)
    {
      PlumbVec2 p[PLUMB_PIECE_MAX_POINTS];
      size_t n = 0;
      p[n++] = ring->p[0];
      for (size_t i = first; i < ring->n && n < PLUMB_PIECE_MAX_POINTS; i++)
        p[n++] = ring->p[i];
      double area = plumb_polygon_area (p, n);
      if (area >= LEAST_PIECE_AREA && !add_piece (work, p, n, area, surface, face, inverse))
        return false;
    }
  return true;
}

/* The last piece takes the place of one that was cut up. */
static void
replace_piece (Work *work, uint32_t i)
{
  uint32_t last = --work->cut->n_pieces;
  PlumbBeamPiece *to = &work->cut->pieces[i], *from = &work->cut->pieces[last];

  to->surface = from->surface;
  to->face = from->face;
  to->panel_share = from->panel_share;
  to->n_points = from->n_points;
  memcpy (to->panel, from->panel, from->n_points * sizeof from->panel[0]);
  work->held[i] = work->held[last];
}

/* ---- comparing --------------------------------------------------------------------- */

/* How much nearer (in inverse depth) a surface is than another over some
 * points, and the measure below which both lie in one plane. */
typedef struct {
  PlumbInverseDepth nearer;
  double least, most, same;
} Comparison;

static Comparison
compare_depth (PlumbInverseDepth inverse, PlumbInverseDepth old, const PlumbVec2 *p, size_t n)
{
  Comparison result = { { inverse.a - old.a, inverse.b - old.b, inverse.c - old.c }, INFINITY, -INFINITY, 0.0 };
  double scale = 0.0;

  for (size_t i = 0; i < n; i++)
    {
      double d = plumb_line2_at (result.nearer, p[i]), was = fabs (plumb_line2_at (old, p[i]));
      result.least = d < result.least ? d : result.least;
      result.most = d > result.most ? d : result.most;
      scale = was > scale ? was : scale;
    }
  result.same = PLUMB_COPLANAR_SHARE * scale;
  return result;
}

static bool
bounds_apart (const Held *held, PlumbVec2 least, PlumbVec2 most)
{
  return held->least.x >= most.x || held->most.x <= least.x || held->least.y >= most.y || held->most.y <= least.y;
}

/* Whether one of the lines has all points on its far side. */
static bool
lines_part (const PlumbLine2 *lines, size_t n_lines, const PlumbVec2 *p, size_t n)
{
  for (size_t e = 0; e < n_lines; e++)
    {
      bool apart = true;
      for (size_t i = 0; apart && i < n; i++)
        apart = plumb_line2_at (lines[e], p[i]) >= -SNAP_PANEL;
      if (apart)
        return true;
    }
  return false;
}

/* The same with the edges of a piece; those without a sure direction do not
 * tell anything. */
static bool
piece_edges_part (const PlumbBeamPiece *piece, const PlumbVec2 *p, size_t n)
{
  for (size_t e = 0; e < piece->n_points; e++)
    {
      PlumbVec2 a = piece->panel[e], b = piece->panel[e + 1 < piece->n_points ? e + 1 : 0];
      PlumbVec2 run = plumb_vec2_sub (b, a);
      double girth = fabs (run.x) + fabs (run.y);
      bool apart = girth > SHORT_EDGE;
      for (size_t i = 0; apart && i < n; i++)
        apart = plumb_vec2_cross (run, plumb_vec2_sub (p[i], a)) <= SNAP_PANEL * girth;
      if (apart)
        return true;
    }
  return false;
}

/* ---- cutting ------------------------------------------------------------------------ */

/* A piece while it is cut up; rings take turns. */
typedef struct {
  PlumbSurfaceId surface;
  uint32_t face;
  PlumbInverseDepth inverse;
  uint32_t first_new; /* pieces from here on come from this one */
  int now;            /* ring with what is left */
  PlumbRing ring[2], outer;
} Cutting;

static void
start_cutting (const Work *work, uint32_t i, Cutting *cutting)
{
  const PlumbBeamPiece *piece = &work->cut->pieces[i];

  cutting->surface = piece->surface;
  cutting->face = piece->face;
  cutting->inverse = work->held[i].inverse;
  cutting->first_new = work->cut->n_pieces;
  cutting->now = 0;
  cutting->ring[0].n = piece->n_points;
  memcpy (cutting->ring[0].p, piece->panel, piece->n_points * sizeof piece->panel[0]);
}

/* Cuts what is left down to what lies within the lines; what lies outside
 * becomes pieces of the old surface. */
static bool
cut_to (Work *work, Cutting *cutting, const PlumbLine2 *lines, size_t n_lines)
{
  for (size_t e = 0; e < n_lines && cutting->ring[cutting->now].n > 0; e++)
    {
      PlumbRing *rest = &cutting->ring[cutting->now];
      if (!plumb_ring_reaches (rest, lines[e], SNAP_PANEL))
        continue;
      plumb_ring_split (rest, lines[e], SNAP_PANEL, &cutting->ring[1 - cutting->now], &cutting->outer);
      cutting->now = 1 - cutting->now;
      if (!add_ring (work, &cutting->outer, cutting->surface, cutting->face, cutting->inverse))
        return false;
    }
  return true;
}

/* Shares a ring out between the old surface and the face, nearer one first.
 * *won tells whether the face got any of it. */
static bool
share_out (Work *work, const Cutting *cutting, const PlumbRing *ring, const PlumbSeenFace *face, bool *won)
{
  Comparison depth = compare_depth (face->inverse, cutting->inverse, ring->p, ring->n);

  if (depth.most <= depth.same)
    return add_ring (work, ring, cutting->surface, cutting->face, cutting->inverse);
  *won = true;
  if (depth.least >= -depth.same)
    return add_ring (work, ring, face->surface, face->face, face->inverse);
  PlumbRing old_nearer, face_nearer;
  double steep = hypot (depth.nearer.a, depth.nearer.b);
  PlumbLine2 line = { depth.nearer.a / steep, depth.nearer.b / steep, depth.nearer.c / steep };
  plumb_ring_split (ring, line, SNAP_PANEL, &old_nearer, &face_nearer);
  return add_ring (work, &old_nearer, cutting->surface, cutting->face, cutting->inverse)
         && add_ring (work, &face_nearer, face->surface, face->face, face->inverse);
}

/* Keeps the cut if something was won by it, else the piece stays whole. */
static void
end_cutting (Work *work, const Cutting *cutting, uint32_t i, bool won)
{
  if (!won)
    work->cut->n_pieces = cutting->first_new;
  else if (work->cut->n_pieces > cutting->first_new)
    replace_piece (work, i);
}

static bool
lay_face_on (Work *work, uint32_t i, const PlumbSeenFace *face)
{
  const PlumbBeamPiece *piece = &work->cut->pieces[i];
  Comparison depth = compare_depth (face->inverse, work->held[i].inverse, piece->panel, piece->n_points);
  Cutting cutting;
  bool won = false;

  if (depth.most <= depth.same || lines_part (face->edge, face->n_edges, piece->panel, piece->n_points)
      || piece_edges_part (piece, face->p, face->n))
    return true;
  start_cutting (work, i, &cutting);
  if (!cut_to (work, &cutting, face->edge, face->n_edges))
    return false;
  const PlumbRing *rest = &cutting.ring[cutting.now];
  if (rest->n >= 3 && !share_out (work, &cutting, rest, face, &won))
    return false;
  end_cutting (work, &cutting, i, won);
  return true;
}

static bool
lay_face (Work *work, const PlumbSeenFace *face)
{
  uint32_t n_before = work->cut->n_pieces;

  for (uint32_t i = 0; i < n_before; i++)
    if (!bounds_apart (&work->held[i], face->least, face->most) && !lay_face_on (work, i, face))
      return false;
  return true;
}

/* ---- solids as a whole ---------------------------------------------------------------- */

typedef struct {
  size_t n, n_edges;
  PlumbVec2 p[SILHOUETTE_MAX_POINTS];
  PlumbLine2 edge[SILHOUETTE_MAX_POINTS];
  PlumbVec2 least, most;
  double nearest_inverse;
} Silhouette;

static int
compare_points (const void *a, const void *b)
{
  const PlumbVec2 *p = a, *q = b;

  return p->x != q->x ? (p->x > q->x) - (p->x < q->x) : (p->y > q->y) - (p->y < q->y);
}

/* One side of the hull of sorted points, from `from` on in steps of `step`
 * (Andrew 1979); false when it has too many corners. */
static bool
add_chain (const PlumbVec2 *p, size_t from, size_t n, bool backwards, Silhouette *out)
{
  size_t first = out->n;

  for (size_t k = 0; k < n; k++)
    {
      PlumbVec2 next = p[backwards ? from - k : from + k];
      while (out->n >= first + 2
             && plumb_vec2_cross (plumb_vec2_sub (out->p[out->n - 1], out->p[out->n - 2]),
                                  plumb_vec2_sub (next, out->p[out->n - 2]))
                    <= 0.0)
        out->n--;
      if (out->n == SILHOUETTE_MAX_POINTS)
        return false;
      out->p[out->n++] = next;
    }
  out->n--; /* the last corner begins the other side */
  return true;
}

static void
set_silhouette_edges (Silhouette *out)
{
  out->n_edges = 0;
  for (size_t e = 0; e < out->n; e++)
    {
      PlumbVec2 a = out->p[e], b = out->p[e + 1 < out->n ? e + 1 : 0];
      /* A short edge is left away; its neighbours close the gap. */
      if (plumb_vec2_length (plumb_vec2_sub (b, a)) > SHORT_EDGE
          && plumb_line2_through (a, b, &out->edge[out->n_edges]))
        out->n_edges++;
    }
}

/* Outline of the faces that are seen; false when it cannot be had. */
static bool
find_silhouette (const Work *work, Silhouette *out)
{
  size_t n = 0;

  out->n = 0;
  out->nearest_inverse = 0.0;
  for (uint32_t f = 0; f < work->n_seen; f++)
    {
      const PlumbSeenFace *face = &work->seen[f];
      for (uint32_t k = 0; k < face->n; k++)
        out->nearest_inverse = fmax (out->nearest_inverse, plumb_line2_at (face->inverse, face->p[k]));
      for (uint32_t k = 0; k < face->n_corners; k++)
        work->corners[n++] = face->corner[k];
    }
  qsort (work->corners, n, sizeof (PlumbVec2), compare_points);
  if (!add_chain (work->corners, 0, n, false, out) || !add_chain (work->corners, n - 1, n, true, out) || out->n < 3)
    return false;
  plumb_points_bounds (out->p, out->n, &out->least, &out->most);
  set_silhouette_edges (out);
  return true;
}

/* Whether the piece lies before all of the solid. */
static bool
piece_before (const PlumbBeamPiece *piece, PlumbInverseDepth inverse, double nearest_inverse)
{
  for (uint8_t k = 0; k < piece->n_points; k++)
    if (plumb_line2_at (inverse, piece->panel[k]) < nearest_inverse)
      return false;
  return true;
}

/* The part of a ring inside a face, in one of two rings; NULL when none. */
static const PlumbRing *
ring_in_face (const PlumbRing *ring, const PlumbSeenFace *face, PlumbRing two[2], PlumbRing *outer)
{
  const PlumbRing *rest = ring;
  int next = 0;

  for (uint32_t e = 0; e < face->n_edges; e++)
    {
      if (!plumb_ring_reaches (rest, face->edge[e], SNAP_PANEL))
        continue;
      plumb_ring_split (rest, face->edge[e], SNAP_PANEL, &two[next], outer);
      rest = &two[next];
      next = 1 - next;
      if (rest->n < 3)
        return NULL;
    }
  return rest;
}

/* Lays all faces over piece i inside the silhouette. *tiled turns false when
 * they leave gaps: then the piece stays as it is. */
static bool
lay_solid_on (Work *work, uint32_t i, const Silhouette *silhouette, bool *tiled)
{
  const PlumbBeamPiece *piece = &work->cut->pieces[i];
  Cutting cutting;
  PlumbRing two[2];
  bool won = false;

  if (piece_before (piece, work->held[i].inverse, silhouette->nearest_inverse)
      || lines_part (silhouette->edge, silhouette->n_edges, piece->panel, piece->n_points)
      || piece_edges_part (piece, silhouette->p, silhouette->n))
    return true;
  start_cutting (work, i, &cutting);
  if (!cut_to (work, &cutting, silhouette->edge, silhouette->n_edges))
    return false;
  const PlumbRing *rest = &cutting.ring[cutting.now];
  double left = rest->n >= 3 ? plumb_polygon_area (rest->p, rest->n) : 0.0;
  Held bounds;
  plumb_points_bounds (rest->p, rest->n, &bounds.least, &bounds.most);
  for (uint32_t f = 0; f < work->n_seen && rest->n >= 3; f++)
    {
      const PlumbSeenFace *face = &work->seen[f];
      if (bounds_apart (&bounds, face->least, face->most))
        continue;
      const PlumbRing *part = ring_in_face (rest, face, two, &cutting.outer);
      if (part == NULL)
        continue;
      left -= plumb_polygon_area (part->p, part->n);
      if (!share_out (work, &cutting, part, face, &won))
        return false;
    }
  if (fabs (left) > TILE_AREA)
    *tiled = won = false;
  end_cutting (work, &cutting, i, won);
  return true;
}

static bool
lay_faces_singly (Work *work)
{
  for (uint32_t f = 0; f < work->n_seen; f++)
    if (!lay_face (work, &work->seen[f]))
      return false;
  return true;
}

static double
lens_before (const Work *work, const PlumbFace *face)
{
  return plumb_vec3_dot (face->normal, plumb_vec3_sub (work->view.beam->lens_m, face->point[0]));
}

static bool
lens_inside (const Work *work, const PlumbSolid *solid)
{
  if (plumb_vec3_length (plumb_vec3_sub (work->view.beam->lens_m, solid->centre_m)) > solid->bound_radius_m)
    return false;
  for (uint32_t f = 0; f < solid->n_faces; f++)
    if (lens_before (work, &work->building->faces[solid->first_face + f]) > 0.0)
      return false;
  return true;
}

/* From outside only the faces towards the lens are seen; from inside all.
 * Returns whether a silhouette is of use. */
static bool
see_solid (Work *work, const PlumbSolid *solid)
{
  bool inside = lens_inside (work, solid), whole = !inside;

  work->n_seen = 0;
  for (uint32_t f = solid->first_face; f < solid->first_face + solid->n_faces; f++)
    {
      const PlumbFace *face = &work->building->faces[f];
      PlumbSeenFace *seen = &work->seen[work->n_seen];
      if (!inside && lens_before (work, face) <= 0.0)
        continue;
      if (!plumb_beam_view_face (&work->view, face->point, face->n_points, face->normal, seen))
        continue;
      seen->surface = face->surface;
      seen->face = f;
      whole = whole && seen->has_corners;
      work->n_seen++;
    }
  return whole && work->n_seen > 1;
}

static bool
lay_solid (Work *work, const PlumbSolid *solid)
{
  Silhouette silhouette;
  uint32_t n_before = work->cut->n_pieces;
  bool tiled = true;

  if (!see_solid (work, solid) || !find_silhouette (work, &silhouette))
    return lay_faces_singly (work);
  for (uint32_t i = 0; i < n_before; i++)
    if (!bounds_apart (&work->held[i], silhouette.least, silhouette.most)
        && !lay_solid_on (work, i, &silhouette, &tiled))
      return false;
  return tiled || lay_faces_singly (work);
}

/* ---- everything --------------------------------------------------------------------- */

static bool
lay_screen (Work *work, const PlumbScreenFace *screen)
{
  const PlumbPlaneFrame *frame = &screen->frame;
  double half_w = screen->width_m / 2.0, half_h = screen->height_m / 2.0;
  PlumbSeenFace seen = { .surface = { PLUMB_SURFACE_OF_SCREEN, screen->record }, .face = PLUMB_NO_INDEX };
  PlumbVec3 points[4];

  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 p = plumb_vec3_along (frame->origin_m, frame->u, i == 0 || i == 3 ? -half_w : half_w);
      points[i] = plumb_vec3_along (p, frame->v, i < 2 ? -half_h : half_h);
    }
  return !plumb_beam_view_face (&work->view, points, 4, frame->n, &seen) || lay_face (work, &seen);
}

static bool
lay_room (Work *work)
{
  for (uint32_t f = 0; f < work->building->room_faces; f++)
    {
      const PlumbFace *face = &work->building->faces[f];
      PlumbSeenFace seen = { .surface = face->surface, .face = f };
      if (plumb_beam_view_face (&work->view, face->point, face->n_points, face->normal, &seen)
          && !lay_face (work, &seen))
        return false;
    }
  return true;
}

static int
compare_order (const void *a, const void *b)
{
  const Order *x = a, *y = b;

  if (x->near_m != y->near_m)
    return x->near_m < y->near_m ? -1 : 1;
  return (x->solid > y->solid) - (x->solid < y->solid);
}

/* Nearest first, since what lies behind a piece leaves it alone. */
static bool
lay_solids (Work *work)
{
  const PlumbBuilding *building = work->building;
  uint32_t n = 0;

  for (uint32_t s = 0; s < building->n_solids; s++)
    {
      const PlumbSolid *solid = &building->solids[s];
      PlumbVec3 to = plumb_vec3_sub (solid->centre_m, work->view.beam->lens_m);
      if (solid->n_faces > 0 && solid->exposed
          && plumb_beam_view_sphere (&work->view, solid->centre_m, solid->bound_radius_m))
        work->order[n++] = (Order){ plumb_vec3_length (to) - solid->bound_radius_m, s };
    }
  qsort (work->order, n, sizeof (Order), compare_order);
  for (uint32_t k = 0; k < n; k++)
    if (!lay_solid (work, &building->solids[work->order[k].solid]))
      return false;
  return true;
}

/* Works out the landing points. */
static void
land (Work *work)
{
  PlumbBeamCut *cut = work->cut;

  for (uint32_t i = 0; i < cut->n_pieces; i++)
    {
      PlumbBeamPiece *piece = &cut->pieces[i];
      bool leaves = piece->surface.kind == PLUMB_SURFACE_OF_NOTHING;
      if (leaves)
        cut->leaves_building_share += piece->panel_share;
      for (uint8_t k = 0; k < piece->n_points; k++)
        {
          PlumbVec3 ray = plumb_beam_ray (work->view.beam, piece->panel[k]);
          /* Rounding at a face's far corners may not turn the point round. */
          double at = fmax (plumb_line2_at (work->held[i].inverse, piece->panel[k]), 1e-9);
          piece->point[k] = leaves ? ray : plumb_vec3_along (work->view.beam->lens_m, ray, 1.0 / at);
        }
    }
}

static bool
start (Work *work, const PlumbVec2 *region, size_t n_region)
{
  const PlumbSurfaceId nothing = { PLUMB_SURFACE_OF_NOTHING, PLUMB_NO_INDEX };
  const PlumbInverseDepth far_away = { 0.0, 0.0, 0.0 };

  /* A region may have more corners than a ring: take it in fans. */
  for (size_t first = 1; first + 1 < n_region; first += PLUMB_PIECE_MAX_POINTS - 2)
    {
      PlumbRing ring = { .n = 1, .p = { region[0] } };
      for (size_t i = first; i < n_region && ring.n < PLUMB_PIECE_MAX_POINTS; i++)
        ring.p[ring.n++] = region[i];
      if (!add_ring (work, &ring, nothing, PLUMB_NO_INDEX, far_away))
        return false;
    }
  return true;
}

/* Room for the faces of the solid that has most. */
static bool
init_work (Work *work)
{
  uint32_t most_faces = 1;

  for (uint32_t s = 0; s < work->building->n_solids; s++)
    most_faces = work->building->solids[s].n_faces > most_faces ? work->building->solids[s].n_faces : most_faces;
  work->seen = malloc (most_faces * sizeof *work->seen);
  work->corners = malloc ((size_t) most_faces * PLUMB_FACE_MAX_POINTS * sizeof *work->corners);
  work->order = malloc ((work->building->n_solids + 1) * sizeof *work->order);
  return work->seen != NULL && work->corners != NULL && work->order != NULL;
}

bool
plumb_beam_cut (const PlumbBeam *beam, const PlumbBuilding *building, const PlumbScreenFace *screen,
                const PlumbVec2 *panel_region, size_t n_region, PlumbBeamCut *cut)
{
  const PlumbVec2 panel[4] = { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 } };

  PLUMB_ASSERT (beam->throw_ratio > 0.0 && beam->panel_aspect > 0.0 && plumb_vec3_is_finite (beam->lens_m));
  if (panel_region == NULL)
    {
      panel_region = panel;
      n_region = 4;
    }
  cut->n_pieces = 0;
  cut->leaves_building_share = 0.0;
  if (n_region < 3)
    return true;
  Work work = { .view = plumb_beam_view (beam, panel_region, n_region), .building = building, .cut = cut };
  bool done = init_work (&work) && start (&work, panel_region, n_region)
              && (screen == NULL || lay_screen (&work, screen)) && lay_room (&work) && lay_solids (&work);
  if (done)
    land (&work);
  free (work.held);
  free (work.seen);
  free (work.corners);
  free (work.order);
  return done;
}

void
plumb_beam_cut_clear (PlumbBeamCut *cut)
{
  free (cut->pieces);
  *cut = (PlumbBeamCut){ 0 };
}

double
plumb_beam_cut_share (const PlumbBeamCut *cut, PlumbSurfaceKind kind, uint32_t record)
{
  double share = 0.0;

  for (uint32_t i = 0; i < cut->n_pieces; i++)
    if (cut->pieces[i].surface.kind == kind && (record == PLUMB_NO_INDEX || cut->pieces[i].surface.record == record))
      share += cut->pieces[i].panel_share;
  return share;
}
