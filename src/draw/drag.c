/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/drag-private.h"

/* Smaller changes are rounding, and would make an assumed value a typed one. */
#define SAME_VALUE 1e-10

static const PlumbDragKind *
kind_of (PlumbRecordKind kind)
{
  switch (kind)
    {
    case PLUMB_RECORD_PLACE:
      return &plumb_drag_place;
    case PLUMB_RECORD_SCREEN:
      return &plumb_drag_screen;
    case PLUMB_RECORD_PORT:
    case PLUMB_RECORD_OPENING:
      return &plumb_drag_hole;
    case PLUMB_RECORD_SEAT:
    case PLUMB_RECORD_ROW:
    case PLUMB_RECORD_PERSON:
    case PLUMB_RECORD_BLOCKER:
      return &plumb_drag_loose;
    case PLUMB_RECORD_WALL:
      return &plumb_drag_corner;
    default:
      return NULL;
    }
}

bool
plumb_draw_drag_init (PlumbDrawDrag *drag, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                      PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part)
{
  *drag = (PlumbDrawDrag){ .scene = scene, .evaluation = evaluation, .kind = kind, .subject = subject, .part = part };
  const PlumbDragKind *type = kind_of (subject.kind);
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  uint32_t n;
  if (type == NULL || resolved == NULL || resolved->building == NULL)
    return false;
  plumb_scene_records (scene, subject.kind, &n);
  drag->plane = plumb_draw_plane (scene, evaluation, kind);
  return subject.index < n && type->init (drag) && plumb_vec3_is_finite (drag->handle_m);
}

PlumbVec2
plumb_draw_drag_handle (const PlumbDrawDrag *drag)
{
  return plumb_drag_project (drag, drag->handle_m);
}

GArray *
plumb_draw_drag_to (const PlumbDrawDrag *drag, PlumbVec2 point_m)
{
  GArray *edits = g_array_new (FALSE, FALSE, sizeof (PlumbDrawEdit));
  if (!isfinite (point_m.x) || !isfinite (point_m.y))
    return edits;
  PlumbVec2 handle = plumb_draw_drag_handle (drag);
  if (drag->slides)
    point_m = plumb_vec2_along (handle, drag->slide, plumb_vec2_dot (plumb_vec2_sub (point_m, handle), drag->slide));
  double depth_m = plumb_draw_plane_depth_m (&drag->plane, drag->handle_m);
  kind_of (drag->subject.kind)->to (drag, plumb_draw_plane_to_room (&drag->plane, point_m, depth_m), edits);
  for (guint i = edits->len; i-- > 0;)
    if (g_array_index (edits, PlumbDrawEdit, i).n == 0)
      g_array_remove_index (edits, i);
  return edits;
}

size_t
plumb_draw_drag_measures (const PlumbDrawDrag *drag, PlumbVec2 point_m,
                          PlumbDrawMeasure measure[PLUMB_DRAG_MAX_MEASURES])
{
  return kind_of (drag->subject.kind)->measures (drag, point_m, measure);
}

double
plumb_draw_measure_m (const PlumbDrawMeasure *measure, PlumbVec2 point_m)
{
  return plumb_vec2_dot (plumb_vec2_sub (point_m, measure->from_m), measure->direction);
}

void
plumb_draw_edit_round (PlumbDrawEdit *edit, double step_m)
{
  const PlumbRecordInfo *info = plumb_record_info (edit->kind);
  for (unsigned i = 0; i < edit->n; i++)
    {
      const PlumbField *field = &info->fields[edit->field[i]];
      if (field->quantity != PLUMB_QUANTITY_M && field->quantity != PLUMB_QUANTITY_MM)
        continue;
      double step = step_m / plumb_quantity_factor (field->quantity);
      double rounded = round (edit->value[i] / step) * step;
      /* A millimetre in metres is no round binary number: leave no tail. */
      rounded = round (rounded * 1e8) / 1e8;
      edit->value[i] = plumb_clamp (rounded, field->least, field->greatest);
    }
}

/* ---- shared ---------------------------------------------------------------------- */

bool
plumb_drag_level (const PlumbDrawDrag *drag)
{
  return drag->kind == PLUMB_DRAW_PLAN || drag->kind == PLUMB_DRAW_CEILING;
}

PlumbVec2
plumb_drag_project (const PlumbDrawDrag *drag, PlumbVec3 point)
{
  return plumb_draw_plane_from_room (&drag->plane, point);
}

PlumbVec2
plumb_drag_direction (const PlumbDrawDrag *drag, PlumbVec2 level)
{
  return plumb_drag_project (drag, plumb_vec3 (level.x, level.y, 0.0));
}

void
plumb_drag_slide (PlumbDrawDrag *drag, PlumbVec2 direction)
{
  double length = plumb_vec2_length (direction);
  drag->slides = true;
  drag->slide = length > 0.0 ? plumb_vec2_scale (direction, 1.0 / length) : plumb_vec2 (0.0, 0.0);
}

const PlumbWallShape *
plumb_drag_wall (const PlumbDrawDrag *drag, const char *id)
{
  const PlumbBuilding *building = plumb_scene_resolved (drag->scene)->building;
  uint32_t wall = plumb_scene_find (drag->scene, PLUMB_RECORD_WALL, id);
  for (uint32_t i = 0; wall != PLUMB_NO_INDEX && i < building->n_walls; i++)
    if (building->walls[i].wall == wall)
      return building->walls[i].length_m > PLUMB_POINT_TOLERANCE_M ? &building->walls[i] : NULL;
  return NULL;
}

double
plumb_drag_floor (const PlumbDrawDrag *drag, uint32_t space)
{
  uint32_t n;
  const PlumbSpace *spaces = plumb_scene_space_records (drag->scene, &n);
  return n == 0 ? 0.0 : spaces[space < n ? space : 0].floor_z_m;
}

PlumbDrawEdit *
plumb_drag_edit (GArray *edits, PlumbRecordKind kind, uint32_t index)
{
  PlumbDrawEdit edit = { .kind = kind, .index = index };
  g_array_append_val (edits, edit);
  return &g_array_index (edits, PlumbDrawEdit, edits->len - 1);
}

void
plumb_drag_put (const PlumbDrawDrag *drag, PlumbDrawEdit *edit, int field, double value_si)
{
  const PlumbField *info = &plumb_record_info (edit->kind)->fields[field];
  double value = plumb_clamp (value_si / plumb_quantity_factor (info->quantity), info->least, info->greatest);
  double now = plumb_field_number (info, plumb_scene_record (drag->scene, edit->kind, edit->index));
  if (!isfinite (value) || fabs (value - now) <= SAME_VALUE || edit->n == PLUMB_EDIT_MAX_FIELDS)
    return;
  edit->field[edit->n] = field;
  edit->value[edit->n++] = value;
}

size_t
plumb_drag_measure_level (const PlumbDrawDrag *drag, PlumbDrawMeasure *measure, int field, PlumbVec2 from,
                          PlumbVec2 direction)
{
  PlumbVec2 seen = plumb_drag_direction (drag, direction);
  if (plumb_vec2_length (seen) < PLUMB_DRAG_ALIGNED)
    return 0;
  /* Rounding would leave a hair of slant. */
  if (!plumb_drag_level (drag))
    seen = plumb_vec2 (seen.x > 0.0 ? 1.0 : -1.0, 0.0);
  *measure = (PlumbDrawMeasure){ field, plumb_drag_project (drag, plumb_vec3 (from.x, from.y, 0.0)), seen };
  return 1;
}

size_t
plumb_drag_measure_height (const PlumbDrawDrag *drag, PlumbDrawMeasure *measure, int field, double from_z_m,
                           bool upwards)
{
  if (plumb_drag_level (drag) || !isfinite (from_z_m))
    return 0;
  PlumbVec2 from = { plumb_draw_drag_handle (drag).x, from_z_m };
  *measure = (PlumbDrawMeasure){ field, from, { 0.0, upwards ? 1.0 : -1.0 } };
  return 1;
}

bool
plumb_drag_along_wall (const PlumbDrawDrag *drag, const PlumbWallShape *wall, PlumbVec3 target, double *along_m)
{
  PlumbVec2 to = plumb_vec2_sub (plumb_vec2 (target.x, target.y), wall->start_m);
  if (plumb_drag_level (drag))
    {
      *along_m = plumb_vec2_dot (to, wall->along);
      return true;
    }
  PlumbVec2 right = { drag->plane.right.x, drag->plane.right.y };
  double share = plumb_vec2_dot (right, wall->along);
  /* Seen so nearly edge-on a pixel would be a metre. */
  if (fabs (share) < 0.05)
    return false;
  *along_m = plumb_vec2_dot (right, to) / share;
  return true;
}
