/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers the outlines of what each drawing shows. */
#include "draw/hit-private.h"
#include "draw/section-private.h"
#include "draw/solids-private.h"

/* Half widths of marks, px. */
#define MARK_PX 8.0
#define HANDLE_PX 5.0
#define BAR_PX 4.0
#define LINE_PX 3.0
/* A seat from above as it is drawn: half its side, and the eye before its
 * middle; a sitter from the side takes the same depth. */
#define SEAT_HALF_M 0.22
#define EYE_BEFORE_M 0.08
/* The Picture view shows what stands within this of the picture's plane. */
#define NEAR_PICTURE_M 1.6

typedef struct {
  PlumbDrawShapes *out;
  PlumbPen pen; /* only what the outlines of solids read: scene, building, plane */
  PlumbDrawKind kind;
} Gatherer;

static bool
upright (const Gatherer *g)
{
  return g->kind == PLUMB_DRAW_SIDE || g->kind == PLUMB_DRAW_PICTURE;
}

static PlumbVec2
project (const Gatherer *g, PlumbVec3 point)
{
  return plumb_draw_plane_from_room (&g->pen.plane, point);
}

static double
depth (const Gatherer *g, PlumbVec3 point)
{
  return plumb_draw_plane_depth_m (&g->pen.plane, point);
}

static PlumbSubject
subject (PlumbRecordKind kind, uint32_t index)
{
  return (PlumbSubject){ kind, index, PLUMB_NO_INDEX };
}

/* Points that are not finite make no shape. */
static void
add (Gatherer *g, PlumbSubject what, PlumbDrawPart part, PlumbShapeRank rank, const PlumbVec2 *points, guint n,
     bool closed, double half_px, double depth_m)
{
  PlumbShape shape
      = { what, part, rank, g->out->points->len, n, closed, half_px, 0.0, depth_m, points[0], points[0] };
  for (guint i = 0; i < n; i++)
    {
      if (!isfinite (points[i].x) || !isfinite (points[i].y))
        return;
      shape.least = plumb_vec2 (fmin (shape.least.x, points[i].x), fmin (shape.least.y, points[i].y));
      shape.greatest = plumb_vec2 (fmax (shape.greatest.x, points[i].x), fmax (shape.greatest.y, points[i].y));
    }
  if (closed)
    shape.area_m2 = fabs (plumb_polygon_area (points, n));
  g_array_append_vals (g->out->points, points, n);
  g_array_append_val (g->out->shapes, shape);
}

static void
add_outline (Gatherer *g, PlumbSubject what, PlumbShapeRank rank, GArray *outline, double half_px, double depth_m)
{
  if (outline->len > 0)
    add (g, what, PLUMB_PART_WHOLE, rank, (const PlumbVec2 *) (const void *) outline->data, outline->len, true,
         half_px, depth_m);
  g_array_unref (outline);
}

static void
add_point (Gatherer *g, PlumbSubject what, PlumbDrawPart part, PlumbShapeRank rank, PlumbVec3 at, double half_px)
{
  PlumbVec2 p = project (g, at);
  add (g, what, part, rank, &p, 1, false, half_px, depth (g, at));
}

static void
add_line (Gatherer *g, PlumbSubject what, PlumbDrawPart part, PlumbShapeRank rank, PlumbVec3 a, PlumbVec3 b,
          double half_px)
{
  const PlumbVec2 line[2] = { project (g, a), project (g, b) };
  add (g, what, part, rank, line, 2, false, half_px, fmax (depth (g, a), depth (g, b)));
}

/* ---- places ------------------------------------------------------------------- */

/* The machine, its mount and its plate. From the side the plate is a thing of
 * its own where the machine hangs below it. */
static void
gather_machine (Gatherer *g, const PlumbEvaluation *e)
{
  PlumbSubject place = subject (PLUMB_RECORD_PLACE, e->place);
  if (g->kind == PLUMB_DRAW_PICTURE)
    {
      add_point (g, place, PLUMB_PART_WHOLE, PLUMB_RANK_PLACE, e->beam.lens_m, MARK_PX);
      return;
    }
  add_outline (g, place, PLUMB_RANK_PLACE, plumb_points_outline (&g->pen, e->body_corner_m, 8), LINE_PX,
               depth (g, e->beam.lens_m));
  add_point (g, place, PLUMB_PART_WHOLE, PLUMB_RANK_PLACE, e->beam.lens_m, BAR_PX);
  double drop = plumb_vec3_length (plumb_vec3_sub (e->pivot_m, e->plate_m));
  bool apart = g->kind == PLUMB_DRAW_SIDE && drop > PLUMB_POINT_TOLERANCE_M;
  if (apart)
    add_line (g, place, PLUMB_PART_WHOLE, PLUMB_RANK_PLACE, e->plate_m, e->pivot_m, BAR_PX);
  /* Nearer the reader than the tube, which ends in it. */
  PlumbVec2 plate = project (g, e->plate_m);
  add (g, place, apart ? PLUMB_PART_PLATE : PLUMB_PART_WHOLE, PLUMB_RANK_PLACE, &plate, 1, false, MARK_PX, INFINITY);
}

static void
gather_places (Gatherer *g, const PlumbEvaluation *e)
{
  bool machine = e != NULL && e->solved && plumb_vec3_is_finite (e->beam.lens_m);
  const PlumbResolved *resolved = g->pen.resolved;
  if (machine && e->place < resolved->n_places)
    gather_machine (g, e);
  for (uint32_t i = 0; i < resolved->n_places && g->kind != PLUMB_DRAW_PICTURE; i++)
    {
      const PlumbPlace *record = plumb_scene_place (g->pen.scene, i);
      bool shown = g->kind != PLUMB_DRAW_CEILING || record->carried == PLUMB_CARRIED_HUNG;
      if (resolved->places[i].valid && shown && !(machine && i == e->place))
        add_point (g, subject (PLUMB_RECORD_PLACE, i), PLUMB_PART_PLATE, PLUMB_RANK_PLACE,
                   resolved->places[i].plate_m, MARK_PX);
    }
}

/* ---- screen ---------------------------------------------------------------------- */

/* A point of the face by its shares of width and height, a border further out. */
static PlumbVec3
on_target (const PlumbScreenResolved *target, double u_share, double v_share, double border_m)
{
  double u = u_share * (target->width_m + 2.0 * border_m), v = v_share * (target->height_m + 2.0 * border_m);
  return plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, u), target->frame.v, v);
}

static double
border_of (const Gatherer *g, uint32_t screen)
{
  uint32_t n;
  const PlumbScreen *screens = plumb_scene_screen_records (g->pen.scene, &n);
  return screen < n ? screens[screen].border_m : 0.0;
}

/* From the front: the face, and each edge with its piece of the border. */
static void
gather_face (Gatherer *g, const PlumbScreenResolved *target, PlumbSubject screen)
{
  static const double u[4] = { -0.5, 0.5, 0.5, -0.5 }, v[4] = { -0.5, -0.5, 0.5, 0.5 };
  static const PlumbDrawPart edge[4] = { PLUMB_PART_BOTTOM, PLUMB_PART_RIGHT, PLUMB_PART_TOP, PLUMB_PART_LEFT };
  double border_m = border_of (g, screen.index), front_m = depth (g, target->frame.origin_m);
  PlumbVec2 face[4], outer[4];
  for (int i = 0; i < 4; i++)
    {
      face[i] = project (g, on_target (target, u[i], v[i], 0.0));
      outer[i] = project (g, on_target (target, u[i], v[i], border_m));
    }
  for (int i = 0; i < 4; i++)
    {
      int k = (i + 1) % 4;
      const PlumbVec2 piece[4] = { face[i], face[k], outer[k], outer[i] };
      add (g, screen, edge[i], PLUMB_RANK_EDGE, piece, 4, true, BAR_PX, front_m);
    }
  add (g, screen, PLUMB_PART_WHOLE, PLUMB_RANK_FACE, face, 4, true, 0.0, front_m);
}

static void
gather_screen (Gatherer *g, const PlumbEvaluation *e)
{
  if (e == NULL || !e->target.valid)
    return;
  const PlumbScreenResolved *target = &e->target;
  PlumbSubject screen = subject (PLUMB_RECORD_SCREEN, e->screen);
  if (g->kind == PLUMB_DRAW_PICTURE)
    {
      gather_face (g, target, screen);
      return;
    }
  bool side = g->kind == PLUMB_DRAW_SIDE;
  PlumbVec3 a = side ? on_target (target, 0.0, -0.5, 0.0) : on_target (target, -0.5, 0.0, 0.0);
  PlumbVec3 b = side ? on_target (target, 0.0, 0.5, 0.0) : on_target (target, 0.5, 0.0, 0.0);
  add_point (g, screen, side ? PLUMB_PART_BOTTOM : PLUMB_PART_LEFT, PLUMB_RANK_EDGE, a, HANDLE_PX);
  add_point (g, screen, side ? PLUMB_PART_TOP : PLUMB_PART_RIGHT, PLUMB_RANK_EDGE, b, HANDLE_PX);
  add_line (g, screen, PLUMB_PART_WHOLE, PLUMB_RANK_SCREEN, a, b, BAR_PX);
}

/* ---- holes and walls ---------------------------------------------------------------- */

/* From the side only what the section goes through, as seen from the front
 * only what is in the picture's own wall. */
static bool
hole_shown (const Gatherer *g, const PlumbHole *hole, const PlumbEvaluation *e)
{
  if (g->kind == PLUMB_DRAW_PICTURE)
    return e != NULL && e->target.valid && hole->wall == e->target.wall;
  if (g->kind != PLUMB_DRAW_SIDE)
    return true;
  double least = INFINITY, greatest = -INFINITY;
  for (int i = 0; i < 4; i++)
    {
      least = fmin (least, fmin (depth (g, hole->inner_m[i]), depth (g, hole->outer_m[i])));
      greatest = fmax (greatest, fmax (depth (g, hole->inner_m[i]), depth (g, hole->outer_m[i])));
    }
  return least <= g->pen.plane.cut_m && g->pen.plane.cut_m <= greatest;
}

static void
gather_holes (Gatherer *g, const PlumbEvaluation *e)
{
  for (uint32_t i = 0; i < g->pen.building->n_holes; i++)
    {
      const PlumbHole *hole = &g->pen.building->holes[i];
      PlumbVec3 corner[8];
      if (!hole_shown (g, hole, e))
        continue;
      for (int k = 0; k < 4; k++)
        {
          corner[k] = hole->inner_m[k];
          corner[k + 4] = hole->outer_m[k];
        }
      PlumbRecordKind kind = hole->surface.kind == PLUMB_SURFACE_OF_PORT ? PLUMB_RECORD_PORT : PLUMB_RECORD_OPENING;
      size_t n = g->kind == PLUMB_DRAW_PICTURE ? 4 : 8;
      add_outline (g, subject (kind, hole->surface.record), PLUMB_RANK_HOLE,
                   plumb_points_outline (&g->pen, corner, n), LINE_PX, depth (g, corner[0]));
    }
}

static void
gather_walls_above (Gatherer *g)
{
  for (uint32_t i = 0; i < g->pen.building->n_walls; i++)
    {
      const PlumbWallShape *wall = &g->pen.building->walls[i];
      const PlumbVec2 plan[4] = { wall->start_m, wall->end_m, wall->outer_end_m, wall->outer_start_m };
      PlumbVec2 quad[4];
      for (int k = 0; k < 4; k++)
        quad[k] = project (g, plumb_vec3 (plan[k].x, plan[k].y, 0.0));
      PlumbSubject what = subject (PLUMB_RECORD_WALL, wall->wall);
      add (g, what, PLUMB_PART_WHOLE, PLUMB_RANK_WALL, quad, 4, true, LINE_PX, 0.0);
      add (g, what, PLUMB_PART_CORNER, PLUMB_RANK_CORNER, quad, 1, false, HANDLE_PX, 0.0);
    }
}

static void
gather_section (Gatherer *g)
{
  PlumbSection section;
  plumb_section_init (&section, g->pen.building, g->pen.scene, &g->pen.plane);
  for (guint i = 0; i < section.walls->len; i++)
    {
      const PlumbSectionPart *part = &g_array_index (section.walls, PlumbSectionPart, i);
      add (g, subject (PLUMB_RECORD_WALL, part->record), PLUMB_PART_WHOLE, PLUMB_RANK_WALL,
           plumb_section_points (&section, part), part->n, true, LINE_PX, 0.0);
    }
  for (guint i = 0; i < section.ceilings->len; i++)
    {
      const PlumbSectionPart *part = &g_array_index (section.ceilings, PlumbSectionPart, i);
      add (g, subject (PLUMB_RECORD_CEILING, part->record), PLUMB_PART_WHOLE, PLUMB_RANK_CEILING,
           plumb_section_points (&section, part), part->n, true, LINE_PX, 0.0);
    }
  plumb_section_clear (&section);
}

static void
gather_ceilings (Gatherer *g)
{
  for (uint32_t i = 0; i < g->pen.building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &g->pen.building->cells[i];
      add_outline (g, subject (PLUMB_RECORD_CEILING, cell->ceiling), PLUMB_RANK_CEILING,
                   plumb_points_outline (&g->pen, cell->point, cell->n_points), 0.0, 0.0);
    }
}

/* ---- loose things and structure ------------------------------------------------------- */

static bool
near_picture (const Gatherer *g, const PlumbSolid *solid, const PlumbEvaluation *e)
{
  double least, greatest;
  plumb_solid_depths (&g->pen, solid, &least, &greatest);
  if (greatest <= g->pen.plane.cut_m + PLUMB_POINT_TOLERANCE_M)
    return false;
  if (least - g->pen.plane.cut_m < NEAR_PICTURE_M || solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE)
    return true;
  if (e == NULL || !e->target.valid)
    return false;
  PlumbVec2 way = plumb_vec2_sub (project (g, solid->centre_m), project (g, e->target.frame.origin_m));
  return fabs (way.x) < e->target.width_m / 2.0 + solid->bound_radius_m
         && fabs (way.y) < e->target.height_m / 2.0 + solid->bound_radius_m;
}

static bool
solid_shown (const Gatherer *g, const PlumbSolid *solid, const PlumbEvaluation *e)
{
  if (g->kind == PLUMB_DRAW_PICTURE)
    return near_picture (g, solid, e);
  /* On the ceiling drawing what stands on the floor is not there. */
  return g->kind != PLUMB_DRAW_CEILING || plumb_solid_side (&g->pen, solid) != PLUMB_BEFORE_CUT;
}

/* Joists and rafters behind a finished ceiling lie over half of the plan; they
 * give way to everything that is drawn as a body. */
static bool
gives_way (const Gatherer *g, const PlumbSolid *solid)
{
  return g->kind == PLUMB_DRAW_PLAN && solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE && !solid->exposed
         && plumb_scene_structure (g->pen.scene, solid->surface.record)->member != PLUMB_MEMBER_STUD;
}

static void
gather_solids (Gatherer *g, const PlumbEvaluation *e)
{
  for (uint32_t i = 0; i < g->pen.building->n_solids; i++)
    {
      const PlumbSolid *solid = &g->pen.building->solids[i];
      bool structure = solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE;
      if ((!structure && solid->surface.kind != PLUMB_SURFACE_OF_BLOCKER) || !solid_shown (g, solid, e))
        continue;
      double least, greatest;
      plumb_solid_depths (&g->pen, solid, &least, &greatest);
      PlumbSubject what = subject (structure ? PLUMB_RECORD_STRUCTURE : PLUMB_RECORD_BLOCKER, solid->surface.record);
      if (structure)
        what.sub = solid->member;
      add_outline (g, what, gives_way (g, solid) ? PLUMB_RANK_CEILING : PLUMB_RANK_THING,
                   plumb_solid_outline (&g->pen, solid), 1.0, greatest);
    }
}

static void
add_seat (Gatherer *g, PlumbSubject what, PlumbVec3 eye, double facing_rad, double floor_z_m, double crown_m)
{
  PlumbVec3 front = { cos (facing_rad), sin (facing_rad), 0.0 };
  PlumbVec3 right = { front.y, -front.x, 0.0 };
  PlumbVec3 middle = plumb_vec3_along (eye, front, -EYE_BEFORE_M);
  PlumbVec3 corner[8];
  for (int i = 0; i < 8; i++)
    {
      corner[i] = plumb_vec3_along (middle, front, i & 1 ? SEAT_HALF_M : -SEAT_HALF_M);
      corner[i] = plumb_vec3_along (corner[i], right, i & 2 ? SEAT_HALF_M : -SEAT_HALF_M);
      corner[i].z = i & 4 ? eye.z + crown_m : floor_z_m;
    }
  add_outline (g, what, PLUMB_RANK_THING, plumb_points_outline (&g->pen, corner, 8), 0.0, depth (g, eye));
}

static void
gather_people (Gatherer *g)
{
  const PlumbResolved *resolved = g->pen.resolved;
  uint32_t n;
  const PlumbPerson *people = plumb_scene_person_records (g->pen.scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec3 foot = { people[i].x_m, people[i].y_m, people[i].floor_z_m };
      PlumbVec3 crown = { foot.x, foot.y, foot.z + people[i].stature_m };
      add_line (g, subject (PLUMB_RECORD_PERSON, i), PLUMB_PART_WHOLE, PLUMB_RANK_THING, foot, crown, MARK_PX);
    }
  for (uint32_t i = 0; i < resolved->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &resolved->seats[i];
      bool row = seat->row != PLUMB_NO_INDEX;
      PlumbSubject what = { row ? PLUMB_RECORD_ROW : PLUMB_RECORD_SEAT, row ? seat->row : seat->seat, i };
      add_seat (g, what, seat->eye_m, seat->facing_rad, seat->floor_z_m, seat->head_above_eye_m);
    }
}

void
plumb_shapes_gather (PlumbDrawShapes *shapes, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                     PlumbDrawKind kind)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  if (resolved == NULL || resolved->building == NULL)
    return;
  Gatherer g = { .out = shapes, .kind = kind };
  g.pen.scene = scene;
  g.pen.resolved = resolved;
  g.pen.building = resolved->building;
  g.pen.plane = plumb_draw_plane (scene, evaluation, kind);
  gather_places (&g, evaluation);
  gather_screen (&g, evaluation);
  gather_holes (&g, evaluation);
  gather_solids (&g, evaluation);
  if (kind == PLUMB_DRAW_PLAN || kind == PLUMB_DRAW_SIDE)
    gather_people (&g);
  if (upright (&g))
    gather_section (&g);
  else
    gather_walls_above (&g);
  if (kind == PLUMB_DRAW_CEILING)
    gather_ceilings (&g);
}
