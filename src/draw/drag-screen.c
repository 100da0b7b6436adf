/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The screen and its edges, and holes in walls. */
#include "draw/drag-private.h"

/* ---- screen -------------------------------------------------------------------------- */

typedef struct {
  const PlumbScreen *record;
  const PlumbScreenResolved *resolved;
  const PlumbWallShape *wall; /* NULL: free */
} Held;

static bool
screen_held (Held *held, const PlumbDrawDrag *drag)
{
  held->record = plumb_scene_screen (drag->scene, drag->subject.index);
  held->resolved = &plumb_scene_resolved (drag->scene)->screens[drag->subject.index];
  held->wall = held->record->support == PLUMB_SUPPORT_FREE ? NULL : plumb_drag_wall (drag, held->record->wall);
  return held->resolved->valid && (held->record->support == PLUMB_SUPPORT_FREE || held->wall != NULL);
}

static bool
is_side_edge (PlumbDrawPart part)
{
  return part == PLUMB_PART_LEFT || part == PLUMB_PART_RIGHT;
}

static bool
is_upper_or_lower (PlumbDrawPart part)
{
  return part == PLUMB_PART_BOTTOM || part == PLUMB_PART_TOP;
}

/* The middle of an edge, of the face for the whole. */
static PlumbVec3
screen_point (const PlumbScreenResolved *screen, PlumbDrawPart part)
{
  double u = part == PLUMB_PART_LEFT ? -0.5 : part == PLUMB_PART_RIGHT ? 0.5 : 0.0;
  double v = part == PLUMB_PART_BOTTOM ? -0.5 : part == PLUMB_PART_TOP ? 0.5 : 0.0;
  PlumbVec3 p = plumb_vec3_along (screen->frame.origin_m, screen->frame.u, u * screen->width_m);
  return plumb_vec3_along (p, screen->frame.v, v * screen->height_m);
}

static bool
screen_init (PlumbDrawDrag *drag)
{
  Held held;
  if (!screen_held (&held, drag))
    return false;
  const PlumbPlaneFrame *frame = &held.resolved->frame;
  drag->handle_m = screen_point (held.resolved, drag->part);
  bool edge = is_side_edge (drag->part) || is_upper_or_lower (drag->part);
  PlumbVec2 seen_u = plumb_drag_project (drag, frame->u), seen_v = plumb_drag_project (drag, frame->v);
  PlumbVec2 seen = is_upper_or_lower (drag->part) ? seen_v : seen_u;
  if (edge)
    plumb_drag_slide (drag, seen);
  else if (held.record->support == PLUMB_SUPPORT_WALL && drag->kind != PLUMB_DRAW_PICTURE)
    plumb_drag_slide (drag, seen = plumb_drag_level (drag) ? seen_u : plumb_vec2 (0.0, 1.0));
  return !drag->slides || plumb_vec2_length (seen) > 0.05;
}

/* The measure across for a screen whose middle is at a plan point. */
static void
put_across (const PlumbDrawDrag *drag, const Held *held, PlumbVec2 middle, double width_m, PlumbDrawEdit *edit)
{
  if (held->wall == NULL)
    {
      plumb_drag_put (drag, edit, PLUMB_FIELD_screen_x_m, middle.x);
      plumb_drag_put (drag, edit, PLUMB_FIELD_screen_y_m, middle.y);
      return;
    }
  double from_start_m = plumb_vec2_dot (plumb_vec2_sub (middle, held->wall->start_m), held->wall->along);
  double across_m = held->record->across_end == PLUMB_END_START ? from_start_m : held->wall->length_m - from_start_m;
  if (held->record->across_to == PLUMB_ACROSS_NEAR_EDGE)
    across_m -= width_m / 2.0;
  plumb_drag_put (drag, edit, PLUMB_FIELD_screen_across_m, across_m);
}

/* Middle of the lower edge, from which the record is measured. */
static PlumbVec3
foot_of (const Held *held, PlumbVec3 centre, double height_m)
{
  return plumb_vec3_along (centre, held->resolved->frame.v, -height_m / 2.0);
}

static void
move_whole (const PlumbDrawDrag *drag, const Held *held, PlumbVec3 target, PlumbDrawEdit *edit)
{
  PlumbVec3 foot = foot_of (held, target, held->record->height_m);
  PlumbVec2 plan = { foot.x, foot.y };
  put_across (drag, held, plan, held->record->width_m, edit);
  if (held->record->support == PLUMB_SUPPORT_DROP)
    plumb_drag_put (drag, edit, PLUMB_FIELD_screen_stand_off_m,
                    plumb_vec2_dot (plumb_vec2_sub (plan, held->wall->start_m), held->wall->inward));
  if (!plumb_drag_level (drag))
    plumb_drag_put (drag, edit, PLUMB_FIELD_screen_bottom_m, foot.z - plumb_drag_floor (drag, 0));
}

static double
held_to (double value, PlumbRecordKind kind, int field)
{
  const PlumbField *info = &plumb_record_info (kind)->fields[field];
  double factor = plumb_quantity_factor (info->quantity);
  return plumb_clamp (value, info->least * factor, info->greatest * factor);
}

/* The opposite edge stays where it is. */
static void
move_edge (const PlumbDrawDrag *drag, const Held *held, PlumbVec3 target, PlumbDrawEdit *edit)
{
  const PlumbPlaneFrame *frame = &held->resolved->frame;
  bool side = is_side_edge (drag->part);
  PlumbVec3 axis = side ? frame->u : frame->v;
  double way = drag->part == PLUMB_PART_LEFT || drag->part == PLUMB_PART_BOTTOM ? -1.0 : 1.0;
  double size_m = side ? held->record->width_m : held->record->height_m;
  PlumbVec3 opposite = plumb_vec3_along (frame->origin_m, axis, -way * size_m / 2.0);
  /* In a drawing the edge moves along what is seen of its axis. */
  PlumbVec2 seen = plumb_drag_project (drag, axis);
  PlumbVec2 to = plumb_vec2_sub (plumb_drag_project (drag, target), plumb_drag_project (drag, opposite));
  double wanted_m = way * plumb_vec2_dot (to, seen) / plumb_vec2_dot (seen, seen);
  int field = side ? PLUMB_FIELD_screen_width_m : PLUMB_FIELD_screen_height_m;
  double now_m = held_to (wanted_m, PLUMB_RECORD_SCREEN, field);
  PlumbVec3 centre = plumb_vec3_along (opposite, axis, way * now_m / 2.0);
  plumb_drag_put (drag, edit, field, now_m);
  PlumbVec3 foot = foot_of (held, centre, side ? held->record->height_m : now_m);
  if (side)
    put_across (drag, held, plumb_vec2 (foot.x, foot.y), now_m, edit);
  else if (drag->part == PLUMB_PART_BOTTOM)
    {
      plumb_drag_put (drag, edit, PLUMB_FIELD_screen_bottom_m, foot.z - plumb_drag_floor (drag, 0));
      /* The foot of a leaning screen also moves out from the wall. */
      if (held->wall == NULL)
        put_across (drag, held, plumb_vec2 (foot.x, foot.y), held->record->width_m, edit);
      else
        plumb_drag_put (
            drag, edit, PLUMB_FIELD_screen_stand_off_m,
            plumb_vec2_dot (plumb_vec2_sub (plumb_vec2 (foot.x, foot.y), held->wall->start_m), held->wall->inward));
    }
}

static void
screen_to (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  Held held;
  if (!screen_held (&held, drag))
    return;
  PlumbDrawEdit *edit = plumb_drag_edit (edits, PLUMB_RECORD_SCREEN, drag->subject.index);
  if (is_side_edge (drag->part) || is_upper_or_lower (drag->part))
    move_edge (drag, &held, target, edit);
  else
    move_whole (drag, &held, target, edit);
}

static size_t
edge_measure (const PlumbDrawDrag *drag, const Held *held, PlumbDrawMeasure *measure)
{
  bool side = is_side_edge (drag->part);
  PlumbDrawPart opposite = drag->part == PLUMB_PART_LEFT     ? PLUMB_PART_RIGHT
                           : drag->part == PLUMB_PART_RIGHT  ? PLUMB_PART_LEFT
                           : drag->part == PLUMB_PART_BOTTOM ? PLUMB_PART_TOP
                                                             : PLUMB_PART_BOTTOM;
  PlumbVec2 from = plumb_drag_project (drag, screen_point (held->resolved, opposite));
  PlumbVec2 way = plumb_vec2_sub (plumb_draw_drag_handle (drag), from);
  double size_m = side ? held->record->width_m : held->record->height_m;
  double seen_m = plumb_vec2_length (way);
  if (seen_m < size_m * PLUMB_DRAG_ALIGNED)
    return 0;
  *measure = (PlumbDrawMeasure){ side ? PLUMB_FIELD_screen_width_m : PLUMB_FIELD_screen_height_m, from,
                                 plumb_vec2_scale (way, 1.0 / seen_m) };
  return 1;
}

static size_t
screen_measures (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure)
{
  Held held;
  size_t n = 0;
  (void) point;
  if (!screen_held (&held, drag))
    return 0;
  if (drag->part != PLUMB_PART_WHOLE)
    return edge_measure (drag, &held, measure);
  if (held.wall != NULL)
    {
      const PlumbScreen *screen = held.record;
      bool start = screen->across_end == PLUMB_END_START;
      PlumbVec2 way = plumb_vec2_scale (held.wall->along, start ? 1.0 : -1.0);
      /* To the nearer edge: the measure ends half a width before the middle. */
      double short_m = screen->across_to == PLUMB_ACROSS_NEAR_EDGE ? screen->width_m / 2.0 : 0.0;
      PlumbVec2 from = plumb_vec2_along (start ? held.wall->start_m : held.wall->end_m, way, short_m);
      n += plumb_drag_measure_level (drag, measure + n, PLUMB_FIELD_screen_across_m, from, way);
    }
  if (held.resolved->frame.v.z > PLUMB_DRAG_ALIGNED)
    n += plumb_drag_measure_height (drag, measure + n, PLUMB_FIELD_screen_bottom_m,
                                    plumb_drag_floor (drag, 0) + held.record->height_m / 2.0, true);
  return n;
}

const PlumbDragKind plumb_drag_screen = { screen_init, screen_to, screen_measures };

/* ---- ports and openings ------------------------------------------------------------------ */

/* The numbers that both records have. */
typedef struct {
  const PlumbWallShape *wall;
  int along_field, sill_field;
  bool from_start;
  double sill_m, width_m, height_m, floor_z_m, along_m;
} Hole;

static bool
hole_held (Hole *hole, const PlumbDrawDrag *drag)
{
  if (drag->subject.kind == PLUMB_RECORD_PORT)
    {
      const PlumbPort *port = plumb_scene_port (drag->scene, drag->subject.index);
      *hole = (Hole){ plumb_drag_wall (drag, port->wall),
                      PLUMB_FIELD_port_along_m,
                      PLUMB_FIELD_port_sill_m,
                      port->along_end == PLUMB_END_START,
                      port->sill_m,
                      port->width_m,
                      port->height_m,
                      0.0,
                      port->along_m };
    }
  else
    {
      const PlumbOpening *opening = plumb_scene_opening (drag->scene, drag->subject.index);
      *hole = (Hole){ plumb_drag_wall (drag, opening->wall),
                      PLUMB_FIELD_opening_along_m,
                      PLUMB_FIELD_opening_sill_m,
                      opening->along_end == PLUMB_END_START,
                      opening->sill_m,
                      opening->width_m,
                      opening->height_m,
                      0.0,
                      opening->along_m };
    }
  if (hole->wall == NULL)
    return false;
  hole->floor_z_m = plumb_drag_floor (drag, hole->wall->space);
  return true;
}

static bool
hole_init (PlumbDrawDrag *drag)
{
  Hole hole;
  if (!hole_held (&hole, drag))
    return false;
  double from_start_m = hole.from_start ? hole.along_m : hole.wall->length_m - hole.along_m;
  PlumbVec2 middle = plumb_vec2_along (hole.wall->start_m, hole.wall->along, from_start_m);
  drag->handle_m = plumb_vec3 (middle.x, middle.y, hole.floor_z_m + hole.sill_m + hole.height_m / 2.0);
  double along_m;
  if (plumb_drag_level (drag))
    plumb_drag_slide (drag, plumb_drag_direction (drag, hole.wall->along));
  else if (!plumb_drag_along_wall (drag, hole.wall, drag->handle_m, &along_m))
    plumb_drag_slide (drag, plumb_vec2 (0.0, 1.0));
  return true;
}

static void
hole_to (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  Hole hole;
  double along_m;
  if (!hole_held (&hole, drag))
    return;
  PlumbDrawEdit *edit = plumb_drag_edit (edits, drag->subject.kind, drag->subject.index);
  if (plumb_drag_along_wall (drag, hole.wall, target, &along_m))
    {
      double half_m = fmin (hole.width_m, hole.wall->length_m) / 2.0;
      along_m = plumb_clamp (along_m, half_m, hole.wall->length_m - half_m);
      plumb_drag_put (drag, edit, hole.along_field, hole.from_start ? along_m : hole.wall->length_m - along_m);
    }
  if (!plumb_drag_level (drag))
    plumb_drag_put (drag, edit, hole.sill_field, fmax (target.z - hole.height_m / 2.0 - hole.floor_z_m, 0.0));
}

static size_t
hole_measures (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure)
{
  Hole hole;
  (void) point;
  if (!hole_held (&hole, drag))
    return 0;
  PlumbVec2 way = plumb_vec2_scale (hole.wall->along, hole.from_start ? 1.0 : -1.0);
  size_t n = plumb_drag_measure_level (drag, measure, hole.along_field,
                                       hole.from_start ? hole.wall->start_m : hole.wall->end_m, way);
  return n
         + plumb_drag_measure_height (drag, measure + n, hole.sill_field, hole.floor_z_m + hole.height_m / 2.0, true);
}

const PlumbDragKind plumb_drag_hole = { hole_init, hole_to, hole_measures };
