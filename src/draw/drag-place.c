/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places: measured along one wall and off another, up or down from a floor, a
 * ceiling or a structure. */
#include "draw/drag-private.h"

typedef struct {
  const PlumbPlace *record;
  const PlumbPlaceResolved *resolved;
  const PlumbWallShape *along, *off;
  double sign;      /* of along_m against the wall's direction */
  PlumbVec2 corner; /* where along begins */
  bool square;      /* the tube is fixed square to what carries it */
  bool arm, hung;   /* the whole is held, by an arm or hung */
} Held;

static bool
is_square (const PlumbDrawDrag *drag, const PlumbPlace *place)
{
  const PlumbEvaluation *e = drag->evaluation;
  uint32_t n;
  const PlumbMount *mounts = plumb_scene_mount_records (drag->scene, &n);
  if (place->carried != PLUMB_CARRIED_HUNG)
    return true;
  return e != NULL && e->place == drag->subject.index && e->mount < n && mounts[e->mount].tube == PLUMB_TUBE_NORMAL;
}

/* How far the head is above the plate for each metre of drop. */
static double
rise_of (const Held *held, const PlumbPlaceResolved *at)
{
  return held->square ? at->normal.z : -1.0;
}

static bool
held_init (Held *held, const PlumbDrawDrag *drag)
{
  const PlumbPlace *place = plumb_scene_place (drag->scene, drag->subject.index);
  const PlumbPlaceResolved *resolved = &plumb_scene_resolved (drag->scene)->places[drag->subject.index];
  const PlumbWallShape *along = plumb_drag_wall (drag, place->along_wall);
  const PlumbWallShape *off = place->off_wall[0] == '\0' ? along : plumb_drag_wall (drag, place->off_wall);
  if (!resolved->valid || along == NULL || off == NULL)
    return false;
  bool from_start = place->along_end == PLUMB_END_START;
  bool whole = drag->part != PLUMB_PART_PLATE;
  *held = (Held){ .record = place,
                  .resolved = resolved,
                  .along = along,
                  .off = off,
                  .sign = from_start ? 1.0 : -1.0,
                  .corner = from_start ? along->start_m : along->end_m,
                  .square = is_square (drag, place),
                  .arm = whole && place->carried == PLUMB_CARRIED_WALL_ARM,
                  .hung = whole && place->carried == PLUMB_CARRIED_HUNG };
  return true;
}

static bool
init (PlumbDrawDrag *drag)
{
  Held held;
  if (!held_init (&held, drag))
    return false;
  drag->handle_m = held.resolved->plate_m;
  if (held.arm)
    drag->handle_m = plumb_vec3_along (drag->handle_m, held.resolved->normal, held.record->drop_m);
  if (held.hung)
    drag->handle_m.z += held.record->drop_m * rise_of (&held, held.resolved);
  return true;
}

static void
put_level (const PlumbDrawDrag *drag, const Held *held, PlumbVec3 target, PlumbDrawEdit *edit)
{
  PlumbVec2 p = { target.x, target.y };
  double off_m = plumb_vec2_dot (plumb_vec2_sub (p, held->off->start_m), held->off->inward);
  if (held->arm)
    {
      /* The foot stays on its line; the reach takes the rest. */
      double reach_m = off_m - held->record->off_m;
      p = plumb_vec2_along (p, held->off->inward, -reach_m);
      plumb_drag_put (drag, edit, PLUMB_FIELD_place_drop_m, reach_m);
    }
  else
    plumb_drag_put (drag, edit, PLUMB_FIELD_place_off_m, off_m);
  double along_m = held->sign * plumb_vec2_dot (plumb_vec2_sub (p, held->corner), held->along->along);
  plumb_drag_put (drag, edit, PLUMB_FIELD_place_along_m, along_m);
}

/* The place as the scene resolves it after the level part of an edit: another
 * member or another ceiling plane may then be above it. */
static bool
resolve_moved (const PlumbDrawDrag *drag, const PlumbDrawEdit *edit, PlumbPlaceResolved *out)
{
  uint32_t n;
  const PlumbPlace *records = plumb_scene_place_records (drag->scene, &n);
  PlumbPlace *moved = g_memdup2 (records, n * sizeof *records);
  const PlumbRecordInfo *info = plumb_record_info (PLUMB_RECORD_PLACE);
  for (unsigned i = 0; i < edit->n; i++)
    plumb_field_set_number (&info->fields[edit->field[i]], &moved[edit->index], edit->value[i]);
  PlumbScene *scene = plumb_scene_with (drag->scene, PLUMB_RECORD_PLACE, moved, n);
  bool done = scene != NULL && plumb_scene_commit (scene);
  if (done)
    *out = plumb_scene_resolved (scene)->places[edit->index];
  g_free (moved);
  plumb_scene_unref (scene);
  return done && out->valid;
}

static void
put_height (const PlumbDrawDrag *drag, const Held *held, double target_z_m, PlumbDrawEdit *edit)
{
  PlumbPlaceResolved at = *held->resolved;
  if (edit->n > 0 && held->record->height_from != PLUMB_HEIGHT_FROM_FLOOR && !resolve_moved (drag, edit, &at))
    return;
  if (held->hung)
    {
      double rise = rise_of (held, &at);
      if (fabs (rise) > 1e-3)
        plumb_drag_put (drag, edit, PLUMB_FIELD_place_drop_m, (target_z_m - at.plate_m.z) / rise);
      return;
    }
  double up = held->record->height_from == PLUMB_HEIGHT_FROM_FLOOR ? 1.0 : -1.0;
  plumb_drag_put (drag, edit, PLUMB_FIELD_place_height_m, held->record->height_m + up * (target_z_m - at.plate_m.z));
}

static void
to (const PlumbDrawDrag *drag, PlumbVec3 target, GArray *edits)
{
  Held held;
  if (!held_init (&held, drag))
    return;
  PlumbDrawEdit *edit = plumb_drag_edit (edits, PLUMB_RECORD_PLACE, drag->subject.index);
  put_level (drag, &held, target, edit);
  if (!plumb_drag_level (drag))
    put_height (drag, &held, target.z, edit);
}

static size_t
height_measure (const PlumbDrawDrag *drag, const Held *held, PlumbDrawMeasure *measure)
{
  bool upwards = held->record->height_from == PLUMB_HEIGHT_FROM_FLOOR;
  double plate_z_m = held->resolved->plate_m.z;
  if (held->hung)
    {
      /* On a slope the drop is not upright; then there is no such measure. */
      if (rise_of (held, held->resolved) > -PLUMB_DRAG_ALIGNED)
        return 0;
      return plumb_drag_measure_height (drag, measure, PLUMB_FIELD_place_drop_m, plate_z_m, false);
    }
  double from_z_m = plate_z_m - (upwards ? 1.0 : -1.0) * held->record->height_m;
  return plumb_drag_measure_height (drag, measure, PLUMB_FIELD_place_height_m, from_z_m, upwards);
}

static size_t
measures (const PlumbDrawDrag *drag, PlumbVec2 point, PlumbDrawMeasure *measure)
{
  Held held;
  size_t n = 0;
  (void) point;
  if (!held_init (&held, drag))
    return 0;
  n += plumb_drag_measure_level (drag, measure + n, PLUMB_FIELD_place_along_m, held.corner,
                                 plumb_vec2_scale (held.along->along, held.sign));
  PlumbVec2 face = held.off->start_m;
  if (held.arm)
    face = plumb_vec2_along (face, held.off->inward, held.record->off_m);
  n += plumb_drag_measure_level (drag, measure + n, held.arm ? PLUMB_FIELD_place_drop_m : PLUMB_FIELD_place_off_m,
                                 face, held.off->inward);
  return n + height_measure (drag, &held, measure + n);
}

const PlumbDragKind plumb_drag_place = { init, to, measures };
