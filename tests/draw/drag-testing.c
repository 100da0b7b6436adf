/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drag-testing.h"

static void
init_walls (Sample *s)
{
  static const PlumbVec2 corner[5] = { { 0.3, -0.2 }, { 6.9, 0.7 }, { 6.1, 8.8 }, { 2.2, 9.6 }, { -0.4, 6.0 } };
  static const char *const id[5] = { "back", "right", "front", "splay", "left" };
  for (int i = 0; i < 5; i++)
    {
      plumb_record_default (PLUMB_RECORD_WALL, &s->wall[i]);
      SET_ID (s->wall[i].id, id[i]);
      SET_ID (s->wall[i].space, "room");
      s->wall[i].x_m = corner[i].x;
      s->wall[i].y_m = corner[i].y;
    }
  s->n_wall = 5;
}

static void
init_ceilings (Sample *s)
{
  s->ceiling[0].height_m = 3.4;
  s->ceiling[0].slope_rad = 0.35;
  s->ceiling[0].rise_direction_rad = 0.6;
  s->ceiling[0].x_m = 1.0;
  s->ceiling[0].y_m = 2.0;
  s->ceiling[1] = s->ceiling[0];
  SET_ID (s->ceiling[1].id, "other");
  s->ceiling[1].height_m = 4.0;
  s->ceiling[1].rise_direction_rad = 3.4;
  s->n_ceiling = 2;
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &s->structure[0]);
  SET_ID (s->structure[0].id, "joists");
  s->structure[0].start_x_m = 0.5;
  s->structure[0].start_y_m = 1.0;
  s->structure[0].start_z_m = 2.9;
  s->structure[0].end_x_m = 1.4;
  s->structure[0].end_y_m = 6.5;
  s->structure[0].end_z_m = 3.3;
  s->structure[0].count = 9;
  s->structure[0].spacing_m = 0.55;
  s->structure[0].spacing_direction_rad = 0.3;
  s->n_structure = 1;
}

static void
init_loose (Sample *s)
{
  plumb_record_default (PLUMB_RECORD_SEAT, &s->seat[0]);
  SET_ID (s->seat[0].id, "chair");
  s->seat[0].x_m = 2.1;
  s->seat[0].y_m = 3.3;
  plumb_record_default (PLUMB_RECORD_ROW, &s->row[0]);
  SET_ID (s->row[0].id, "row");
  s->row[0].x_m = 1.6;
  s->row[0].y_m = 2.5;
  s->row[0].facing_rad = 1.4;
  s->row[0].rows = 2;
  s->row[0].curve_radius_m = 6.0;
  s->n_seat = s->n_row = 1;
  sample_add_box (s, "table", 3.0, 4.0, 0.1, 1.2, 0.6, 0.7)->yaw_rad = 0.4;
  PlumbBlocker *prism = sample_add_box (s, "soffit", 0.0, 0.0, 2.2, 1.0, 1.0, 0.3);
  prism->shape = PLUMB_SHAPE_PRISM;
  static const PlumbVec2 corner[4] = { { 4.0, 2.0 }, { 5.0, 2.2 }, { 5.1, 3.4 }, { 4.2, 3.0 } };
  for (int i = 0; i < 4; i++)
    {
      plumb_record_default (PLUMB_RECORD_BLOCKER_POINT, &s->blocker_point[i]);
      s->blocker_point[i].head.owner = 1;
      s->blocker_point[i].x_m = corner[i].x;
      s->blocker_point[i].y_m = corner[i].y;
    }
  s->n_blocker_point = 4;
  plumb_record_default (PLUMB_RECORD_PORT, &s->port[0]);
  SET_ID (s->port[0].id, "port");
  SET_ID (s->port[0].wall, "splay");
  s->port[0].along_m = 2.0;
  s->n_port = 1;
}

void
crooked_init (Sample *s)
{
  sample_init (s);
  init_walls (s);
  init_ceilings (s);
  init_loose (s);
  s->screen[0].across_m = 1.9;
  s->screen[0].width_m = 2.4;
  s->screen[0].height_m = 1.35;
  SET_ID (s->place[0].along_wall, "front");
  s->place[0].along_m = 2.1;
  s->place[0].off_m = 3.8;
}

void
sample_apply (Sample *s, const GArray *edits)
{
  for (guint i = 0; i < edits->len; i++)
    {
      const PlumbDrawEdit *edit = &g_array_index (edits, PlumbDrawEdit, i);
      const PlumbRecordInfo *info = plumb_record_info (edit->kind);
      void *record = NULL;
      switch ((int) edit->kind)
        {
        case PLUMB_RECORD_PLACE:
          record = &s->place[edit->index];
          break;
        case PLUMB_RECORD_WALL:
          record = &s->wall[edit->index];
          break;
        case PLUMB_RECORD_SCREEN:
          record = &s->screen[edit->index];
          break;
        case PLUMB_RECORD_SEAT:
          record = &s->seat[edit->index];
          break;
        case PLUMB_RECORD_ROW:
          record = &s->row[edit->index];
          break;
        case PLUMB_RECORD_BLOCKER:
          record = &s->blocker[edit->index];
          break;
        case PLUMB_RECORD_BLOCKER_POINT:
          record = &s->blocker_point[edit->index];
          break;
        case PLUMB_RECORD_PORT:
          record = &s->port[edit->index];
          break;
        default:
          g_assert_not_reached ();
        }
      for (unsigned k = 0; k < edit->n; k++)
        {
          const PlumbField *field = &info->fields[edit->field[k]];
          g_assert_true (plumb_field_applies (info, edit->field[k], record));
          g_assert_cmpfloat (edit->value[k], >=, field->least);
          g_assert_cmpfloat (edit->value[k], <=, field->greatest);
          plumb_field_set_number (field, record, edit->value[k]);
        }
    }
}

PlumbSubject
subject_of (PlumbRecordKind kind, uint32_t index)
{
  return (PlumbSubject){ kind, index, PLUMB_NO_INDEX };
}

PlumbVec2
sample_handle (const Sample *s, PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part)
{
  PlumbScene *scene = sample_scene (s);
  PlumbEvaluation *evaluation = NULL;
  PlumbDrawDrag drag;
  g_assert_true (plumb_evaluate (scene, 0, &evaluation));
  g_assert_true (plumb_draw_drag_init (&drag, scene, evaluation, kind, subject, part));
  PlumbVec2 handle = plumb_draw_drag_handle (&drag);
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
  return handle;
}

void
check_round_trip (const Sample *sample, PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part, PlumbVec2 by)
{
  PlumbScene *scene = sample_scene (sample);
  PlumbEvaluation *evaluation = NULL;
  PlumbDrawDrag drag;
  g_assert_true (plumb_evaluate (scene, 0, &evaluation));
  g_assert_true (plumb_draw_drag_init (&drag, scene, evaluation, kind, subject, part));
  PlumbVec2 from = plumb_draw_drag_handle (&drag);
  PlumbVec2 wanted = plumb_vec2_add (from, by);
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, wanted);
  if (drag.slides)
    wanted = plumb_vec2_along (from, drag.slide, plumb_vec2_dot (by, drag.slide));
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
  Sample moved = *sample;
  sample_apply (&moved, edits);
  PlumbVec2 now = sample_handle (&moved, kind, subject, part);
  g_assert_cmpfloat_with_epsilon (now.x, wanted.x, 1e-9);
  g_assert_cmpfloat_with_epsilon (now.y, wanted.y, 1e-9);
}
