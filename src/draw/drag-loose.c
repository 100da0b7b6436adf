/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seats, rows, people and blockers: things with room coordinates of their
 * own. What is shown while they move is how far they are from the walls. */
#include "draw/drag-private.h"

static const PlumbSeatResolved *
seat_of (const PlumbDrawDrag *drag)
{
  const PlumbResolved *resolved = plumb_scene_resolved (drag->scene);
  bool row = drag->subject.kind == PLUMB_RECORD_ROW;
  for (uint32_t i = drag->subject.sub < resolved->n_seats ? drag->subject.sub : 0; i < resolved->n_seats; i++)
    if ((row ? resolved->seats[i].row : resolved->seats[i].seat) == drag->subject.index)
      return &resolved->seats[i];
  return NULL;
}

static bool
init_blocker (PlumbDrawDrag *drag)
{
  const PlumbBlocker *blocker = plumb_scene_blocker (drag->scene, drag->subject.index);
  drag->handle_m = plumb_vec3 (blocker->x_m, blocker->y_m, blocker->z_m);
  if (blocker->shape != PLUMB_SHAPE_PRISM)
    return true;
  uint32_t n;
  const PlumbBlockerPoint *corner
      = plumb_scene_nested (drag->scene, PLUMB_RECORD_BLOCKER_POINT, drag->subject.index, &n);
  if (n == 0)
    return false;
  drag->handle_m.x = corner[0].x_m;
  drag->handle_m.y = corner[0].y_m;
  return true;
}

static bool
init (PlumbDrawDrag *drag)
{
  if (drag->subject.kind == PLUMB_RECORD_BLOCKER)
    return init_blocker (drag);
  if (drag->subject.kind == PLUMB_RECORD_PERSON)
    {
      const PlumbPerson *person = plumb_scene_person (drag->scene, drag->subject.index);
      drag->handle_m = plumb_vec3 (person->x_m, person->y_m, person->floor_z_m);
    }
  else
    {
      const PlumbSeatResolved *seat = seat_of (drag);
      if (seat == NULL)
        return false;
      drag->handle_m = seat->eye_m;
    }
  /* They stand on their floor. */
  if (!plumb_drag_level (drag))
    plumb_drag_slide (drag, plumb_vec2 (1.0, 0.0));
  return true;
}

static void
move_corners (const PlumbDrawDrag *drag, PlumbVec3 by, GArray *edits)
{
  uint32_t n, total;
  const PlumbBlockerPoint *all = plumb_scene_blocker_point_records (drag->scene, &total);
  const PlumbBlockerPoint *corner
      = plumb_scene_nested (drag->scene, PLUMB_RECORD_BLOCKER_POINT, drag->subject.index, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbDrawEdit *edit = plumb_drag_edit (edits, PLUMB_RECORD_BLOCKER_POINT, (uint32_t) (corner - all) + i);
      plumb_drag_put (drag, edit, PLUMB_FIELD_blocker_point_x_m, corner[i].x_m + by.x);
      plumb_drag_put (drag, edit, PLUMB_FIELD_blocker_point_y_m, corner[i].y_m + by.y);
    }
}

static void
move_blocker (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  const PlumbBlocker *blocker = plumb_scene_blocker (drag->scene, drag->subject.index);
  PlumbDrawEdit *edit = plumb_drag_edit (edits, PLUMB_RECORD_BLOCKER, drag->subject.index);
  if (!plumb_drag_level (drag))
    plumb_drag_put (drag, edit, PLUMB_FIELD_blocker_z_m, target.z);
  if (blocker->shape == PLUMB_SHAPE_PRISM)
    {
      move_corners (drag, plumb_vec3_sub (target, drag->handle_m), edits);
      return;
    }
  plumb_drag_put (drag, edit, PLUMB_FIELD_blocker_x_m, target.x);
  plumb_drag_put (drag, edit, PLUMB_FIELD_blocker_y_m, target.y);
}

static void
move_person (const PlumbDrawDrag *drag, PlumbVec3 target, PlumbDrawEdit *edit)
{
  const PlumbPerson *person = plumb_scene_person (drag->scene, drag->subject.index);
  plumb_drag_put (drag, edit, PLUMB_FIELD_person_x_m, target.x);
  plumb_drag_put (drag, edit, PLUMB_FIELD_person_y_m, target.y);
  if (person->posture != PLUMB_POSTURE_WALKING)
    return;
  plumb_drag_put (drag, edit, PLUMB_FIELD_person_end_x_m, person->end_x_m + target.x - person->x_m);
  plumb_drag_put (drag, edit, PLUMB_FIELD_person_end_y_m, person->end_y_m + target.y - person->y_m);
}

static void
to (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  uint32_t i = drag->subject.index;
  if (drag->subject.kind == PLUMB_RECORD_BLOCKER)
    {
      move_blocker (drag, target, edits);
      return;
    }
  PlumbDrawEdit *edit = plumb_drag_edit (edits, drag->subject.kind, i);
  PlumbVec3 by = plumb_vec3_sub (target, drag->handle_m);
  if (drag->subject.kind == PLUMB_RECORD_PERSON)
    move_person (drag, target, edit);
  else if (drag->subject.kind == PLUMB_RECORD_SEAT)
    {
      plumb_drag_put (drag, edit, PLUMB_FIELD_seat_x_m, target.x);
      plumb_drag_put (drag, edit, PLUMB_FIELD_seat_y_m, target.y);
    }
  else
    {
      plumb_drag_put (drag, edit, PLUMB_FIELD_row_x_m, plumb_scene_row (drag->scene, i)->x_m + by.x);
      plumb_drag_put (drag, edit, PLUMB_FIELD_row_y_m, plumb_scene_row (drag->scene, i)->y_m + by.y);
    }
}

/* ---- measures ------------------------------------------------------------------------ */

static int
level_field (const PlumbDrawDrag *drag, PlumbVec2 direction)
{
  bool x = fabs (direction.x) >= fabs (direction.y);
  switch (drag->subject.kind)
    {
    case PLUMB_RECORD_SEAT:
      return x ? PLUMB_FIELD_seat_x_m : PLUMB_FIELD_seat_y_m;
    case PLUMB_RECORD_ROW:
      return x ? PLUMB_FIELD_row_x_m : PLUMB_FIELD_row_y_m;
    case PLUMB_RECORD_PERSON:
      return x ? PLUMB_FIELD_person_x_m : PLUMB_FIELD_person_y_m;
    default:
      /* The corners of an outline are records of their own. */
      if (plumb_scene_blocker (drag->scene, drag->subject.index)->shape == PLUMB_SHAPE_PRISM)
        return -1;
      return x ? PLUMB_FIELD_blocker_x_m : PLUMB_FIELD_blocker_y_m;
    }
}

/* The nearest wall whose foot is on it, turned by 30° or more against another
 * and, in an upright drawing, seen edge-on. */
static const PlumbWallShape *
nearest_wall (const PlumbDrawDrag *drag, PlumbVec2 p, const PlumbWallShape *other)
{
  const PlumbBuilding *building = plumb_scene_resolved (drag->scene)->building;
  const PlumbWallShape *best = NULL;
  double least_m = INFINITY;
  for (uint32_t i = 0; i < building->n_walls; i++)
    {
      const PlumbWallShape *wall = &building->walls[i];
      PlumbVec2 way = plumb_vec2_sub (p, wall->start_m);
      double along_m = plumb_vec2_dot (way, wall->along), off_m = plumb_vec2_dot (way, wall->inward);
      if (!building->spaces[wall->space].valid || along_m < 0.0 || along_m > wall->length_m || off_m < 0.0
          || off_m >= least_m || (other != NULL && fabs (plumb_vec2_cross (wall->along, other->along)) < 0.5)
          || plumb_vec2_length (plumb_drag_direction (drag, wall->inward)) < PLUMB_DRAG_ALIGNED)
        continue;
      best = wall;
      least_m = off_m;
    }
  return best;
}

static size_t
measures (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure)
{
  double depth_m = plumb_draw_plane_depth_m (&drag->plane, drag->handle_m);
  PlumbVec3 room = plumb_draw_plane_to_room (&drag->plane, point, depth_m);
  PlumbVec2 plan = { room.x, room.y };
  size_t n = 0;
  const PlumbWallShape *first = nearest_wall (drag, plan, NULL);
  const PlumbWallShape *second = first != NULL && plumb_drag_level (drag) ? nearest_wall (drag, plan, first) : NULL;
  const PlumbWallShape *const wall[2] = { first, second };
  for (int i = 0; i < 2; i++)
    if (wall[i] != NULL)
      n += plumb_drag_measure_level (drag, measure + n, level_field (drag, wall[i]->inward), wall[i]->start_m,
                                     wall[i]->inward);
  if (drag->subject.kind == PLUMB_RECORD_BLOCKER)
    {
      const PlumbBuilding *building = plumb_scene_resolved (drag->scene)->building;
      uint32_t space = first != NULL ? first->space : 0;
      if (space < building->n_spaces)
        n += plumb_drag_measure_height (drag, measure + n, PLUMB_FIELD_blocker_z_m, building->spaces[space].floor_z_m,
                                        true);
    }
  return n;
}

const PlumbDragKind plumb_drag_loose = { init, to, measures };
