/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/section-private.h"

/* Floors have no thickness in a job; the band only says 'ground'. */
#define FLOOR_BAND_M 0.15
/* Without a ceiling a room is drawn this high. */
#define OPEN_ROOM_M 2.4
/* How far inside its wall a ceiling is asked for its height. */
#define INSIDE_M 0.001

/* The cutting line in plan: s along it, s being the view's x. */
typedef struct {
  PlumbVec2 along, towards;
  double cut_m;
} CutLine;

typedef struct {
  const PlumbBuilding *building;
  const PlumbScene *scene;
  CutLine line;
  PlumbSection *out;
} Cutter;

static double
side_of (const CutLine *line, PlumbVec2 p)
{
  return plumb_vec2_dot (line->towards, p) - line->cut_m;
}

static double
along_of (const CutLine *line, PlumbVec2 p)
{
  return plumb_vec2_dot (line->along, p);
}

static PlumbVec2
line_point (const CutLine *line, double s)
{
  return plumb_vec2_along (plumb_vec2_scale (line->towards, line->cut_m), line->along, s);
}

/* Where the segment a b crosses; false when it does not. Half-open, so that a
 * corner on the line counts once. share: from a to b. */
static bool
crosses (const CutLine *line, PlumbVec2 a, PlumbVec2 b, double *s, double *share)
{
  double da = side_of (line, a), db = side_of (line, b);
  if ((da > 0.0) == (db > 0.0))
    return false;
  *share = da / (da - db);
  *s = along_of (line, plumb_vec2_along (a, plumb_vec2_sub (b, a), *share));
  return isfinite (*s);
}

static void
add_part (Cutter *cutter, GArray *list, uint32_t space, uint32_t record, const PlumbVec2 *points, guint n)
{
  PlumbSectionPart part = { space, record, cutter->out->points->len, n };
  for (guint i = 0; i < n; i++)
    if (!isfinite (points[i].x) || !isfinite (points[i].y))
      return;
  g_array_append_vals (cutter->out->points, points, n);
  g_array_append_val (list, part);
}

static void
add_rectangle (Cutter *cutter, GArray *list, uint32_t space, uint32_t record, double x0, double x1, double y0,
               double y1)
{
  if (!(x1 > x0) || !(y1 > y0))
    return;
  const PlumbVec2 points[4] = { { x0, y0 }, { x1, y0 }, { x1, y1 }, { x0, y1 } };
  add_part (cutter, list, space, record, points, 4);
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* ---- ceilings and rooms -------------------------------------------------------- */

/* A cell's cut: a straight piece of the ceiling's line. */
typedef struct {
  PlumbVec2 a, b; /* x, z with a.x <= b.x */
  uint32_t ceiling;
} CeilingPiece;

static int
compare_pieces (const void *a, const void *b)
{
  const CeilingPiece *p = a, *q = b;
  return (p->a.x > q->a.x) - (p->a.x < q->a.x);
}

static bool
cut_cell (const CutLine *line, const PlumbCeilingCell *cell, CeilingPiece *piece)
{
  int found = 0;
  PlumbVec2 ends[2];
  for (int i = 0; i < cell->n_points && found < 2; i++)
    {
      PlumbVec3 p = cell->point[i], q = cell->point[(i + 1) % cell->n_points];
      double s, share;
      if (crosses (line, plumb_vec2 (p.x, p.y), plumb_vec2 (q.x, q.y), &s, &share))
        ends[found++] = plumb_vec2 (s, p.z + share * (q.z - p.z));
    }
  if (found < 2)
    return false;
  bool swap = ends[0].x > ends[1].x;
  *piece = (CeilingPiece){ ends[swap], ends[!swap], cell->ceiling };
  return true;
}

static GArray *
cut_cells (const Cutter *cutter, uint32_t space)
{
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (CeilingPiece));
  for (uint32_t i = 0; i < cutter->building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &cutter->building->cells[i];
      CeilingPiece piece;
      if (cell->space == space && cut_cell (&cutter->line, cell, &piece))
        g_array_append_val (pieces, piece);
    }
  g_array_sort (pieces, compare_pieces);
  return pieces;
}

static double
ceiling_thickness (const Cutter *cutter, uint32_t ceiling)
{
  uint32_t n;
  const PlumbCeiling *ceilings = plumb_scene_ceiling_records (cutter->scene, &n);
  if (ceiling >= n)
    return 0.0;
  /* Upright measure of a slab that is measured square to its slope. */
  return ceilings[ceiling].thickness_m / fmax (cos (ceilings[ceiling].slope_rad), 0.2);
}

static void
add_ceiling (Cutter *cutter, uint32_t space, const CeilingPiece *piece)
{
  double t = ceiling_thickness (cutter, piece->ceiling);
  const PlumbVec2 band[4] = { piece->a, piece->b, { piece->b.x, piece->b.y + t }, { piece->a.x, piece->a.y + t } };
  add_part (cutter, cutter->out->ceilings, space, piece->ceiling, band, 4);
}

/* The clear room between two crossings of the outline. */
static void
add_room (Cutter *cutter, uint32_t space, const GArray *pieces, double from, double to)
{
  const PlumbSpaceShape *shape = &cutter->building->spaces[space];
  GArray *room = g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
  PlumbVec2 floor_from = { from, shape->floor_z_m }, floor_to = { to, shape->floor_z_m };
  g_array_append_val (room, floor_from);
  g_array_append_val (room, floor_to);
  guint before = room->len;
  for (guint i = pieces->len; i-- > 0;)
    {
      const CeilingPiece *piece = &g_array_index (pieces, CeilingPiece, i);
      double middle = (piece->a.x + piece->b.x) / 2.0;
      if (middle < from || middle > to)
        continue;
      g_array_append_val (room, piece->b);
      g_array_append_val (room, piece->a);
      add_ceiling (cutter, space, piece);
    }
  if (room->len == before)
    {
      PlumbVec2 top[2] = { { to, shape->floor_z_m + OPEN_ROOM_M }, { from, shape->floor_z_m + OPEN_ROOM_M } };
      g_array_append_vals (room, top, 2);
    }
  add_part (cutter, cutter->out->rooms, space, PLUMB_NO_INDEX, (const PlumbVec2 *) (const void *) room->data,
            room->len);
  add_rectangle (cutter, cutter->out->floors, space, PLUMB_NO_INDEX, from, to, shape->floor_z_m - FLOOR_BAND_M,
                 shape->floor_z_m);
  g_array_unref (room);
}

static void
cut_space (Cutter *cutter, uint32_t space)
{
  const PlumbSpaceShape *shape = &cutter->building->spaces[space];
  GArray *crossings = g_array_new (FALSE, FALSE, sizeof (double));
  for (uint32_t i = 0; i < shape->n_walls; i++)
    {
      const PlumbWallShape *wall = &cutter->building->walls[shape->first_wall + i];
      double s, share;
      if (crosses (&cutter->line, wall->start_m, wall->end_m, &s, &share))
        g_array_append_val (crossings, s);
    }
  g_array_sort (crossings, compare_doubles);
  GArray *pieces = cut_cells (cutter, space);
  for (guint i = 0; i + 1 < crossings->len; i += 2)
    add_room (cutter, space, pieces, g_array_index (crossings, double, i), g_array_index (crossings, double, i + 1));
  g_array_unref (pieces);
  g_array_unref (crossings);
}

/* ---- walls ----------------------------------------------------------------------- */

/* Least and greatest s of a convex quadrilateral on the line. */
static bool
cut_quad (const CutLine *line, const PlumbVec2 quad[4], double *from, double *to)
{
  bool found = false;
  for (int i = 0; i < 4; i++)
    {
      double s, share;
      if (!crosses (line, quad[i], quad[(i + 1) % 4], &s, &share))
        continue;
      *from = found ? fmin (*from, s) : s;
      *to = found ? fmax (*to, s) : s;
      found = true;
    }
  return found;
}

/* Top of a wall: the ceiling over its inner face, and the ceiling's build-up. */
static double
wall_top (const Cutter *cutter, const PlumbWallShape *wall, double from, double to)
{
  const PlumbSpaceShape *shape = &cutter->building->spaces[wall->space];
  /* The point of the cut nearest the inner face, then a little inside it. */
  PlumbVec2 a = line_point (&cutter->line, from), b = line_point (&cutter->line, to);
  double da = plumb_vec2_dot (plumb_vec2_sub (a, wall->start_m), wall->inward);
  double db = plumb_vec2_dot (plumb_vec2_sub (b, wall->start_m), wall->inward);
  PlumbVec2 p = da > db ? a : b;
  double off = plumb_vec2_dot (plumb_vec2_sub (p, wall->start_m), wall->inward);
  double along = plumb_vec2_dot (plumb_vec2_sub (p, wall->start_m), wall->along);
  along = plumb_clamp (along, INSIDE_M, fmax (INSIDE_M, wall->length_m - INSIDE_M));
  PlumbVec2 inside = plumb_vec2_along (wall->start_m, wall->along, along);
  inside = plumb_vec2_along (inside, wall->inward, fmax (off, 0.0) + INSIDE_M);
  double z;
  uint32_t ceiling = plumb_building_ceiling_at (cutter->building, wall->space, inside, &z);
  if (ceiling == PLUMB_NO_INDEX)
    return shape->floor_z_m + OPEN_ROOM_M;
  return z + ceiling_thickness (cutter, ceiling);
}

static void
add_wall_with_holes (Cutter *cutter, const PlumbWallShape *wall, double from, double to)
{
  double bottom = cutter->building->spaces[wall->space].floor_z_m;
  double top = wall_top (cutter, wall, from, to);
  GArray *gaps = g_array_new (FALSE, FALSE, 2 * sizeof (double));
  for (uint32_t i = 0; i < cutter->building->n_holes; i++)
    {
      const PlumbHole *hole = &cutter->building->holes[i];
      const PlumbVec2 plan[4] = { { hole->inner_m[0].x, hole->inner_m[0].y },
                                  { hole->inner_m[1].x, hole->inner_m[1].y },
                                  { hole->outer_m[1].x, hole->outer_m[1].y },
                                  { hole->outer_m[0].x, hole->outer_m[0].y } };
      double a, b;
      if (hole->wall != wall->wall || !cut_quad (&cutter->line, plan, &a, &b))
        continue;
      double gap[2] = { hole->inner_m[0].z, hole->inner_m[3].z };
      g_array_append_vals (gaps, gap, 1);
    }
  /* By sill: the first number of each pair. */
  g_array_sort (gaps, compare_doubles);
  double level = bottom;
  for (guint i = 0; i < gaps->len; i++)
    {
      double sill = plumb_clamp (((const double *) (const void *) gaps->data)[2 * i], bottom, top);
      double head = plumb_clamp (((const double *) (const void *) gaps->data)[2 * i + 1], bottom, top);
      add_rectangle (cutter, cutter->out->walls, wall->space, wall->wall, from, to, level, sill);
      level = fmax (level, head);
    }
  add_rectangle (cutter, cutter->out->walls, wall->space, wall->wall, from, to, level, top);
  g_array_unref (gaps);
}

static void
cut_wall (Cutter *cutter, const PlumbWallShape *wall)
{
  const PlumbVec2 quad[4] = { wall->start_m, wall->end_m, wall->outer_end_m, wall->outer_start_m };
  double from, to;
  uint32_t n;
  const PlumbWall *records = plumb_scene_wall_records (cutter->scene, &n);
  if (wall->wall < n && records[wall->wall].construction == PLUMB_CONSTRUCTION_NONE)
    return;
  if (cut_quad (&cutter->line, quad, &from, &to))
    add_wall_with_holes (cutter, wall, from, to);
}

void
plumb_section_init (PlumbSection *section, const PlumbBuilding *building, const PlumbScene *scene,
                    const PlumbDrawPlane *plane)
{
  section->points = g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
  section->rooms = g_array_new (FALSE, FALSE, sizeof (PlumbSectionPart));
  section->walls = g_array_new (FALSE, FALSE, sizeof (PlumbSectionPart));
  section->ceilings = g_array_new (FALSE, FALSE, sizeof (PlumbSectionPart));
  section->floors = g_array_new (FALSE, FALSE, sizeof (PlumbSectionPart));
  if (building == NULL)
    return;
  Cutter cutter = { building,
                    scene,
                    { { plane->right.x, plane->right.y }, { plane->towards.x, plane->towards.y }, plane->cut_m },
                    section };
  for (uint32_t i = 0; i < building->n_spaces; i++)
    if (building->spaces[i].valid)
      cut_space (&cutter, i);
  for (uint32_t i = 0; i < building->n_walls; i++)
    if (building->walls[i].space < building->n_spaces && building->spaces[building->walls[i].space].valid)
      cut_wall (&cutter, &building->walls[i]);
}

void
plumb_section_clear (PlumbSection *section)
{
  g_clear_pointer (&section->points, g_array_unref);
  g_clear_pointer (&section->rooms, g_array_unref);
  g_clear_pointer (&section->walls, g_array_unref);
  g_clear_pointer (&section->ceilings, g_array_unref);
  g_clear_pointer (&section->floors, g_array_unref);
}

const PlumbVec2 *
plumb_section_points (const PlumbSection *section, const PlumbSectionPart *part)
{
  return &g_array_index (section->points, PlumbVec2, part->first);
}
