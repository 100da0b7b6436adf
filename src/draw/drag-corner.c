/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners of an outline, from above: the start of one wall and the end of the
 * one before it. What is shown while one moves is how far it lies from the
 * corners next to it, along the room's own axes, so that the same pointer
 * always gives the same corner, whichever way it came. */
#include "draw/drag-private.h"

typedef struct {
  const PlumbWallShape *wall, *before; /* the wall that starts here, and the one that ends here */
} Corner;

static bool
corner_held (Corner *corner, const PlumbDrawDrag *drag)
{
  const PlumbBuilding *building = plumb_scene_resolved (drag->scene)->building;
  const PlumbWallShape *wall = NULL;
  for (uint32_t i = 0; wall == NULL && i < building->n_walls; i++)
    if (building->walls[i].wall == drag->subject.index)
      wall = &building->walls[i];
  *corner = (Corner){ wall, NULL };
  for (uint32_t i = 0; wall != NULL && i < building->n_walls; i++)
    if (building->walls[i].space == wall->space && &building->walls[i] != wall
        && plumb_vec2_length (plumb_vec2_sub (building->walls[i].end_m, wall->start_m)) <= PLUMB_POINT_TOLERANCE_M)
      corner->before = &building->walls[i];
  return wall != NULL && corner->before != NULL;
}

static bool
init (PlumbDrawDrag *drag)
{
  Corner corner;
  if (drag->part != PLUMB_PART_CORNER || !plumb_drag_level (drag) || !corner_held (&corner, drag))
    return false;
  const PlumbWall *record = plumb_scene_wall (drag->scene, drag->subject.index);
  drag->handle_m = plumb_vec3 (record->x_m, record->y_m, plumb_drag_floor (drag, corner.wall->space));
  return true;
}

static void
to (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  PlumbDrawEdit *edit = plumb_drag_edit (edits, PLUMB_RECORD_WALL, drag->subject.index);
  plumb_drag_put (drag, edit, PLUMB_FIELD_wall_x_m, target.x);
  plumb_drag_put (drag, edit, PLUMB_FIELD_wall_y_m, target.y);
}

static size_t
measure_from (const PlumbDrawDrag *drag, PlumbDrawMeasure *measure, PlumbVec2 from, bool along_x)
{
  double way = along_x ? drag->handle_m.x - from.x : drag->handle_m.y - from.y;
  double sign = way < 0.0 ? -1.0 : 1.0;
  return plumb_drag_measure_level (drag, measure, along_x ? PLUMB_FIELD_wall_x_m : PLUMB_FIELD_wall_y_m, from,
                                   along_x ? plumb_vec2 (sign, 0.0) : plumb_vec2 (0.0, sign));
}

static size_t
measures (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure)
{
  Corner corner;
  (void) point;
  if (!corner_held (&corner, drag))
    return 0;
  /* The one nearer to an axis chooses; the other gets the other axis. */
  PlumbVec2 before = corner.before->start_m, after = corner.wall->end_m;
  PlumbVec2 a = plumb_vec2_sub (before, corner.wall->start_m), b = plumb_vec2_sub (after, corner.wall->start_m);
  bool before_along_x = fabs (a.x) * fabs (b.y) >= fabs (a.y) * fabs (b.x);
  size_t n = measure_from (drag, measure, before_along_x ? before : after, true);
  return n + measure_from (drag, measure + n, before_along_x ? after : before, false);
}

const PlumbDragKind plumb_drag_corner = { init, to, measures };
