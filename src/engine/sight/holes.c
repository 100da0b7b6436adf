/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Ports and openings: prisms square through a wall, cut out of every wall
 * face that they run through.
 */
#include "builder-private.h"

/* A hole also goes through the face of a neighbouring space that stands this
 * close to its wall (a lining, or a wall measured from both sides). */
#define FACE_REACH_M 0.05
/* Faces this far from parallel (about a degree) are no faces of one wall. */
#define PARALLEL_SINE 0.02
/* Over its wall's edge by more than this is a fault. */
#define OVER_EDGE_M 1e-6

/* A hole in its own wall's terms. */
typedef struct {
  double from_m, to_m, bottom_m, top_m;
} HoleRect;

static PlumbVec3
hole_corner (const PlumbWallShape *wall, const HoleRect *rect, int corner, double outwards_m)
{
  /* Seen from inside, the wall's end is on the left. */
  double along_m = corner == 0 || corner == 3 ? rect->to_m : rect->from_m;

  return plumb_wall_point (wall, along_m, outwards_m, corner < 2 ? rect->bottom_m : rect->top_m);
}

static void
add_hole (PlumbBuilder *builder, PlumbSurfaceId surface, const char *wall_id, int32_t end, double along_m,
          double sill_m, double width_m, double height_m, bool passes)
{
  uint32_t record = plumb_scene_find (builder->scene, PLUMB_RECORD_WALL, wall_id);

  if (record == PLUMB_NO_INDEX || builder->shape_of_wall[record] == PLUMB_NO_INDEX)
    return;
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[builder->shape_of_wall[record]];
  const PlumbSpaceShape *space = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[wall->space];
  double middle_m = end == PLUMB_END_START ? along_m : wall->length_m - along_m;
  HoleRect rect = { middle_m - width_m / 2.0, middle_m + width_m / 2.0, space->floor_z_m + sill_m,
                    space->floor_z_m + sill_m + height_m };
  PlumbHole *hole = plumb_list_add (&builder->holes, 1);

  if (hole == NULL)
    return;
  hole->surface = surface;
  hole->wall = record;
  hole->passes = passes;
  for (int i = 0; i < 4; i++)
    {
      hole->inner_m[i] = hole_corner (wall, &rect, i, 0.0);
      hole->outer_m[i] = hole_corner (wall, &rect, i, wall->thickness_m);
    }
}

void
plumb_builder_holes (PlumbBuilder *builder)
{
  uint32_t n_ports, n_openings;
  const PlumbPort *ports = plumb_scene_port_records (builder->scene, &n_ports);
  const PlumbOpening *openings = plumb_scene_opening_records (builder->scene, &n_openings);

  for (uint32_t i = 0; i < n_ports; i++)
    add_hole (builder, (PlumbSurfaceId){ PLUMB_SURFACE_OF_PORT, i }, ports[i].wall, ports[i].along_end,
              ports[i].along_m, ports[i].sill_m, ports[i].width_m, ports[i].height_m, true);
  for (uint32_t i = 0; i < n_openings; i++)
    add_hole (builder, (PlumbSurfaceId){ PLUMB_SURFACE_OF_OPENING, i }, openings[i].wall, openings[i].along_end,
              openings[i].along_m, openings[i].sill_m, openings[i].width_m, openings[i].height_m,
              !openings[i].closed);
}

/* ---- cutting ------------------------------------------------------------------------ */

static double
along_of (const PlumbWallShape *wall, PlumbVec3 point)
{
  return plumb_vec2_dot (wall->along, plumb_vec2_sub (plumb_vec2 (point.x, point.y), wall->start_m));
}

static HoleRect
rect_of (const PlumbHole *hole, const PlumbWallShape *wall)
{
  return (HoleRect){ along_of (wall, hole->inner_m[1]), along_of (wall, hole->inner_m[0]), hole->inner_m[0].z,
                     hole->inner_m[2].z };
}

/* Where a line through the wall, square to it, meets a sheet: how far out and
 * where along the sheet's own wall. */
static void
meet_sheet (const PlumbWallShape *wall, const PlumbWallShape *other, double other_off_m, PlumbVec3 inner,
            double *out_m, double *along_m)
{
  PlumbVec2 from = plumb_vec2 (inner.x, inner.y);
  PlumbVec2 base = plumb_vec2_along (other->start_m, other->inward, -other_off_m);
  double rate = -plumb_vec2_dot (other->inward, wall->inward);

  *out_m = plumb_vec2_dot (other->inward, plumb_vec2_sub (base, from)) / rate;
  PlumbVec2 hit = plumb_vec2_along (from, wall->inward, -*out_m);
  *along_m = plumb_vec2_dot (other->along, plumb_vec2_sub (hit, base));
}

/* The hole's rectangle on a sheet; false when it does not run through it.
 * deepest_m: how far out the sheet lies. */
static bool
knife_on_sheet (const PlumbWallShape *wall, const PlumbHole *hole, const PlumbWallShape *other,
                const PlumbSheet *sheet, PlumbPart *knife, double *deepest_m)
{
  if (fabs (plumb_vec2_cross (wall->along, other->along)) > PARALLEL_SINE)
    return false;
  double out_a, out_b, along_a, along_b;
  meet_sheet (wall, other, sheet->off_m, hole->inner_m[0], &out_a, &along_a);
  meet_sheet (wall, other, sheet->off_m, hole->inner_m[1], &out_b, &along_b);
  *deepest_m = fmax (out_a, out_b);
  *knife = plumb_part_rectangle (fmin (along_a, along_b), fmax (along_a, along_b), hole->inner_m[0].z,
                                 hole->inner_m[2].z, 0);
  return fmin (out_a, out_b) >= -FACE_REACH_M && *deepest_m <= wall->thickness_m + FACE_REACH_M;
}

/* A hole that passes drops what it cuts out, a closed one makes it its leaf. */
static bool
cut_sheet (PlumbSheet *sheet, const PlumbPart *knife, uint32_t hole, bool passes)
{
  PlumbList rest, leaf;
  bool any = false;

  plumb_list_init (&rest, sizeof (PlumbPart));
  plumb_list_init (&leaf, sizeof (PlumbPart));
  for (uint32_t i = 0; i < sheet->parts.n; i++)
    any = plumb_part_cut (&PLUMB_LIST (&sheet->parts, PlumbPart)[i], knife, hole, passes ? NULL : &leaf, &rest)
          || any;
  PlumbPart *more = plumb_list_add (&rest, leaf.n);
  for (uint32_t i = 0; i < leaf.n && more != NULL; i++)
    more[i] = PLUMB_LIST (&leaf, PlumbPart)[i];
  rest.failed = rest.failed || leaf.failed || sheet->parts.failed;
  plumb_list_clear (&leaf);
  plumb_list_clear (&sheet->parts);
  sheet->parts = rest;
  return any;
}

/* Returns how far out the last face is that the hole runs through; negative
 * when it meets none. */
static double
cut_hole (PlumbBuilder *builder, uint32_t h, const PlumbHole *hole, uint32_t own)
{
  const PlumbWallShape *walls = PLUMB_LIST (&builder->walls, PlumbWallShape);
  PlumbSheet *sheets = PLUMB_LIST (&builder->sheets, PlumbSheet);
  double reach_m = -1.0;

  for (uint32_t s = 0; s < builder->sheets.n; s++)
    {
      bool is_own = sheets[s].wall == own;
      PlumbPart knife;
      double deepest_m;
      if (!is_own && !hole->passes)
        continue;
      if (!knife_on_sheet (&walls[own], hole, &walls[sheets[s].wall], &sheets[s], &knife, &deepest_m))
        continue;
      if (cut_sheet (&sheets[s], &knife, h, hole->passes))
        reach_m = fmax (reach_m, fmax (deepest_m, walls[own].thickness_m));
    }
  return reach_m;
}

/* Whether the whole rectangle lies in its wall's inner face. */
static bool
hole_fits (const PlumbBuilder *builder, uint32_t own, const HoleRect *rect)
{
  PlumbPart whole = plumb_part_rectangle (rect->from_m, rect->to_m, rect->bottom_m, rect->top_m, 0);
  double area = 0.0, tolerance = OVER_EDGE_M * (rect->to_m - rect->from_m + rect->top_m - rect->bottom_m);
  PlumbList in, out;

  plumb_list_init (&in, sizeof (PlumbPart));
  plumb_list_init (&out, sizeof (PlumbPart));
  for (uint32_t s = 0; s < builder->sheets.n; s++)
    {
      const PlumbSheet *sheet = &PLUMB_LIST (&builder->sheets, PlumbSheet)[s];
      for (uint32_t i = 0; sheet->wall == own && !sheet->outer && i < sheet->parts.n; i++)
        plumb_part_cut (&PLUMB_LIST (&sheet->parts, PlumbPart)[i], &whole, 0, &in, &out);
    }
  for (uint32_t i = 0; i < in.n; i++)
    area += plumb_polygon_area (PLUMB_LIST (&in, PlumbPart)[i].p, PLUMB_LIST (&in, PlumbPart)[i].n);
  bool failed = in.failed || out.failed;
  plumb_list_clear (&in);
  plumb_list_clear (&out);
  return failed || area >= (rect->to_m - rect->from_m) * (rect->top_m - rect->bottom_m) - tolerance;
}

/* The four edges inside the wall. */
static void
add_edges (PlumbBuilder *builder, const PlumbHole *hole, const PlumbWallShape *wall, const HoleRect *rect,
           double reach_m)
{
  for (int i = 0; i < 4; i++)
    {
      int next = (i + 1) % 4;
      PlumbVec3 points[4] = { hole_corner (wall, rect, i, 0.0), hole_corner (wall, rect, next, 0.0),
                              hole_corner (wall, rect, next, reach_m), hole_corner (wall, rect, i, reach_m) };
      PlumbVec3 opposite = hole_corner (wall, rect, (i + 2) % 4, 0.0);
      plumb_builder_face (builder, hole->surface, false, points, 4, plumb_vec3_sub (opposite, points[1]));
    }
}

static void
judge_fit (PlumbBuilder *builder, uint32_t h)
{
  const PlumbHole *hole = &PLUMB_LIST (&builder->holes, PlumbHole)[h];
  uint32_t own = builder->shape_of_wall[hole->wall];
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[own];
  HoleRect rect = rect_of (hole, wall);

  if (PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[wall->space].valid && !hole_fits (builder, own, &rect))
    plumb_builder_fault (builder, PLUMB_FAULT_HOLE_OUTSIDE,
                         hole->surface.kind == PLUMB_SURFACE_OF_PORT ? PLUMB_RECORD_PORT : PLUMB_RECORD_OPENING,
                         hole->surface.record, PLUMB_NO_INDEX);
}

static void
cut_and_edge (PlumbBuilder *builder, uint32_t h)
{
  const PlumbHole *hole = &PLUMB_LIST (&builder->holes, PlumbHole)[h];
  uint32_t own = builder->shape_of_wall[hole->wall];
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[own];
  const PlumbSpaceShape *space = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[wall->space];
  bool is_open_side = plumb_scene_wall (builder->scene, hole->wall)->construction == PLUMB_CONSTRUCTION_NONE;
  double reach_m = cut_hole (builder, h, hole, own);

  if (!hole->passes || reach_m < 0.0 || is_open_side)
    return;
  HoleRect rect = rect_of (hole, wall);
  rect.from_m = fmax (rect.from_m, 0.0);
  rect.to_m = fmin (rect.to_m, wall->length_m);
  rect.bottom_m = fmax (rect.bottom_m, space->floor_z_m);
  rect.top_m = fmin (rect.top_m, space->greatest_ceiling_z_m);
  if (rect.from_m < rect.to_m && rect.bottom_m < rect.top_m)
    add_edges (builder, hole, wall, &rect, reach_m);
}

void
plumb_builder_cut_holes (PlumbBuilder *builder)
{
  for (uint32_t h = 0; h < builder->holes.n; h++)
    judge_fit (builder, h);
  /* Leaves first: a port may go through a closed door. */
  for (int round = 0; round < 2; round++)
    for (uint32_t h = 0; h < builder->holes.n; h++)
      if (PLUMB_LIST (&builder->holes, PlumbHole)[h].passes == (round == 1))
        cut_and_edge (builder, h);
}
