/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands under a sheet's drawing: where lens and plate are, the main
 * figures, and what to do before the drill. */
#include "draw/sheet-private.h"
#include "text/findings.h"
#include "text/length.h"

#define WIDE_MM 225.0 /* from here on the three blocks stand side by side */
#define ROW_MM 5.0
#define TEXT_MM 3.1
#define HEAD_MM 2.5
#define CAUTION_MM 62.0
#define GAP_MM 6.0

/* ---- points ---------------------------------------------------------------------- */

typedef struct {
  double value[4]; /* viewer's left, right, picture's plane, floor; NaN unknown */
  uint32_t wall[2];
} PointRow;

static PointRow
measure_point (const PlumbSheet *sheet, PlumbVec3 point)
{
  const PlumbScreenResolved *target = &sheet->evaluation->target;
  PlumbDrawPlane plan = plumb_draw_plane (sheet->scene, sheet->evaluation, PLUMB_DRAW_PLAN);
  PointRow row = { { NAN, NAN, NAN, NAN }, { PLUMB_NO_INDEX, PLUMB_NO_INDEX } };
  for (int i = 0; i < 2; i++)
    {
      double distance;
      if (plumb_cast_to_wall (sheet->pen, point, plumb_vec3_scale (plan.right, i == 0 ? -1.0 : 1.0), &distance,
                              &row.wall[i]))
        row.value[i] = distance;
    }
  if (target->valid)
    row.value[2] = fabs (plumb_vec3_dot (plumb_vec3_sub (point, target->frame.origin_m), plan.up));
  uint32_t space = sheet->pen->space;
  double floor_z = space != PLUMB_NO_INDEX ? sheet->pen->building->spaces[space].floor_z_m : 0.0;
  row.value[3] = point.z - floor_z;
  return row;
}

static void
points_heads (PlumbSheet *sheet, const PointRow *row, double x_mm, double y_mm, double first_mm, double column_mm)
{
  static const char *const upper[4] = { N_ ("viewer’s left"), N_ ("viewer’s right"), N_ ("picture’s"), N_ ("above") };
  for (int i = 0; i < 4; i++)
    {
      double right = x_mm + first_mm + column_mm * (i + 1);
      char *wall = i < 2 ? plumb_wall_name (sheet->pen, row->wall[i], N_ ("wall")) : NULL;
      const char *lower = i < 2 ? wall : i == 2 ? N_ ("plane") : N_ ("the floor");
      plumb_sheet_text (sheet, upper[i], PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, HEAD_MM, PLUMB_ALIGN_RIGHT, right,
                        y_mm + 3.0, column_mm - 2.0);
      plumb_sheet_text (sheet, lower, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, HEAD_MM, PLUMB_ALIGN_RIGHT, right,
                        y_mm + 6.2, column_mm - 2.0);
      g_free (wall);
    }
  plumb_sheet_text (sheet, N_ ("distance from"), PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, HEAD_MM, PLUMB_ALIGN_LEFT, x_mm,
                    y_mm + 6.2, first_mm);
  plumb_sheet_line (sheet, 0.35, PLUMB_COLOUR_INK, x_mm, y_mm + 7.8, x_mm + first_mm + 4.0 * column_mm, y_mm + 7.8);
}

static void
points_table (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  if (!plumb_has_machine (sheet->pen))
    {
      plumb_sheet_paragraph (sheet, N_ ("No lens point: the arrangement is not solved."), PLUMB_FACE_PLAIN,
                             PLUMB_COLOUR_INK2, TEXT_MM, x_mm, y_mm + 1.0, wide_mm);
      return;
    }
  static const char *const names[2] = { N_ ("lens point"), N_ ("plate centre") };
  const PlumbVec3 points[2] = { sheet->evaluation->beam.lens_m, sheet->evaluation->plate_m };
  double first = 20.0, column = fmin ((wide_mm - first) / 4.0, 30.0);
  for (int i = 0; i < 2; i++)
    {
      PointRow row = measure_point (sheet, points[i]);
      if (i == 0)
        points_heads (sheet, &row, x_mm, y_mm, first, column);
      double base = y_mm + 7.8 + ROW_MM * (i + 1) - 1.2;
      plumb_sheet_text (sheet, names[i], PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_LEFT, x_mm, base,
                        first);
      for (int k = 0; k < 4; k++)
        {
          char *text = plumb_length_format (row.value[k], sheet->units, PLUMB_SHOW_METRES);
          plumb_sheet_text (sheet, text, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_RIGHT,
                            x_mm + first + column * (k + 1), base, column - 1.0);
          g_free (text);
        }
      plumb_sheet_line (sheet, 0.13, PLUMB_COLOUR_EDGE, x_mm, base + 1.4, x_mm + first + 4.0 * column, base + 1.4);
    }
}

/* ---- figures ------------------------------------------------------------------------ */

static const PlumbFigureValue *
figure (const PlumbSheet *sheet, PlumbFigure which)
{
  return sheet->evaluation != NULL && sheet->evaluation->figures[which].valid ? &sheet->evaluation->figures[which]
                                                                              : NULL;
}

static char *
length_with_spread (const PlumbSheet *sheet, PlumbFigure which)
{
  const PlumbFigureValue *f = figure (sheet, which);
  if (f == NULL)
    return g_strdup ("–");
  g_autofree char *value = plumb_length_format (f->value[0], sheet->units, PLUMB_SHOW_METRES);
  if (!(f->spread[0] > 0.0))
    return g_steal_pointer (&value);
  g_autofree char *spread = plumb_length_format_spread (f->spread[0], sheet->units, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strdup_printf ("%s ± %s", value, spread);
}

static char *
size_words (const PlumbSheet *sheet, PlumbFigure width, PlumbFigure height)
{
  const PlumbFigureValue *w = figure (sheet, width), *h = figure (sheet, height);
  if (w == NULL || h == NULL)
    return g_strdup ("–");
  g_autofree char *across = plumb_length_format (w->value[0], sheet->units, PLUMB_SHOW_METRES);
  g_autofree char *up = plumb_length_format (h->value[0], sheet->units, PLUMB_SHOW_METRES);
  return g_strdup_printf ("%s × %s", across, up);
}

static char *
ratio_words (const PlumbSheet *sheet)
{
  const PlumbFigureValue *t = figure (sheet, PLUMB_FIGURE_throw_ratio);
  const PlumbFigureValue *wide = figure (sheet, PLUMB_FIGURE_throw_ratio_wide);
  const PlumbFigureValue *tele = figure (sheet, PLUMB_FIGURE_throw_ratio_tele);
  if (t == NULL)
    return g_strdup ("–");
  g_autofree char *at = plumb_number_format (t->value[0], 3, PLUMB_SHOW_TYPOGRAPHIC);
  if (wide == NULL || tele == NULL)
    return g_steal_pointer (&at);
  g_autofree char *low = plumb_number_format (wide->value[0], 2, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *high = plumb_number_format (tele->value[0], 2, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strdup_printf ("%s of %s to %s", at, low, high);
}

/* "12.5 % right, 28.5 % down": words in place of signs. */
static char *
shift_words (const PlumbSheet *sheet)
{
  const PlumbFigureValue *h = figure (sheet, PLUMB_FIGURE_shift_h_share);
  const PlumbFigureValue *v = figure (sheet, PLUMB_FIGURE_shift_v_share);
  if (h == NULL || v == NULL)
    return g_strdup ("–");
  g_autofree char *across = plumb_share_format (fabs (h->value[0]), 1, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *up = plumb_share_format (fabs (v->value[0]), 1, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strdup_printf ("%s %s, %s %s", across, h->value[0] < 0.0 ? N_ ("left") : N_ ("right"), up,
                          v->value[0] < 0.0 ? N_ ("down") : N_ ("up"));
}

static char *
turn_words (const PlumbSheet *sheet)
{
  const PlumbFigureValue *yaw = figure (sheet, PLUMB_FIGURE_yaw_rad);
  const PlumbFigureValue *pitch = figure (sheet, PLUMB_FIGURE_pitch_rad);
  if (yaw == NULL || pitch == NULL)
    return g_strdup ("–");
  g_autofree char *across = plumb_angle_format (fabs (yaw->value[0]), 1, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *up = plumb_angle_format (fabs (pitch->value[0]), 1, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strdup_printf ("%s %s, %s %s", across, yaw->value[0] < 0.0 ? N_ ("left") : N_ ("right"), up,
                          pitch->value[0] < 0.0 ? N_ ("down") : N_ ("up"));
}

static char *
record_words (const PlumbSheet *sheet, PlumbRecordKind kind, uint32_t index)
{
  uint32_t n;
  plumb_scene_records (sheet->scene, kind, &n);
  return index < n ? plumb_record_name (sheet->scene, kind, index) : g_strdup ("–");
}

static void
figure_row (PlumbSheet *sheet, const char *name, char *words, double x_mm, double base_mm, double wide_mm)
{
  double name_mm = 22.0;
  plumb_sheet_text (sheet, name, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK2, TEXT_MM, PLUMB_ALIGN_LEFT, x_mm, base_mm,
                    name_mm - 1.0);
  plumb_sheet_text (sheet, words, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_LEFT, x_mm + name_mm,
                    base_mm, wide_mm - name_mm);
  plumb_sheet_line (sheet, 0.13, PLUMB_COLOUR_EDGE, x_mm, base_mm + 1.4, x_mm + wide_mm, base_mm + 1.4);
  g_free (words);
}

static void
figures_table (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  double base = y_mm + 3.6;
  figure_row (sheet, N_ ("picture"), size_words (sheet, PLUMB_FIGURE_picture_width_m, PLUMB_FIGURE_picture_height_m),
              x_mm, base, wide_mm);
  figure_row (sheet, N_ ("raw picture"), size_words (sheet, PLUMB_FIGURE_raw_width_m, PLUMB_FIGURE_raw_height_m),
              x_mm, base + ROW_MM, wide_mm);
  figure_row (sheet, N_ ("throw distance"), length_with_spread (sheet, PLUMB_FIGURE_throw_distance_m), x_mm,
              base + 2.0 * ROW_MM, wide_mm);
  figure_row (sheet, N_ ("throw ratio"), ratio_words (sheet), x_mm, base + 3.0 * ROW_MM, wide_mm);
  figure_row (sheet, N_ ("lens shift"), shift_words (sheet), x_mm, base + 4.0 * ROW_MM, wide_mm);
  figure_row (sheet, N_ ("turn, tilt"), turn_words (sheet), x_mm, base + 5.0 * ROW_MM, wide_mm);
}

static void
names_table (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  const PlumbEvaluation *e = sheet->evaluation;
  const uint32_t none = PLUMB_NO_INDEX;
  double base = y_mm + 3.6;
  figure_row (sheet, N_ ("machine"), record_words (sheet, PLUMB_RECORD_MACHINE, e ? e->machine : none), x_mm, base,
              wide_mm);
  figure_row (sheet, N_ ("lens"), record_words (sheet, PLUMB_RECORD_LENS, e ? e->lens : none), x_mm, base + ROW_MM,
              wide_mm);
  figure_row (sheet, N_ ("place"), record_words (sheet, PLUMB_RECORD_PLACE, e ? e->place : none), x_mm,
              base + 2.0 * ROW_MM, wide_mm);
  figure_row (sheet, N_ ("mount"), record_words (sheet, PLUMB_RECORD_MOUNT, e ? e->mount : none), x_mm,
              base + 3.0 * ROW_MM, wide_mm);
}

/* ---- cautions -------------------------------------------------------------------------- */

static void
cautions (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  static const char *const words[] = {
    N_ ("Check for cables and pipes before drilling."),
    N_ ("Measure again from the named walls before the first hole."),
    N_ ("Local code and licensed practice decide; this plan does not say what a fixing carries."),
  };
  plumb_sheet_text (sheet, N_ ("Before the drill"), PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_LEFT,
                    x_mm, y_mm + 3.4, wide_mm);
  double at = y_mm + 5.4;
  for (size_t i = 0; i < G_N_ELEMENTS (words); i++)
    {
      plumb_sheet_tick_box (sheet, x_mm, at + 0.6);
      at += plumb_sheet_paragraph (sheet, words[i], PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, 2.8, x_mm + 4.4, at,
                                   wide_mm - 4.4)
            + 0.9;
    }
  if (sheet->evaluation == NULL)
    return;
  g_autofree char *summary = plumb_evaluation_summary (sheet->evaluation);
  g_autofree char *checks = g_strdup_printf ("Checks: %s.", summary);
  bool fails = sheet->evaluation->worst == PLUMB_FAILS;
  plumb_sheet_paragraph (sheet, checks, fails ? PLUMB_FACE_BOLD : PLUMB_FACE_PLAIN,
                         fails ? PLUMB_COLOUR_FAILS : PLUMB_COLOUR_INK2, 2.8, x_mm, at, wide_mm);
}

/* ---- all ----------------------------------------------------------------------------------- */

double
plumb_sheet_tables_height (double wide_mm)
{
  return wide_mm >= WIDE_MM ? 42.0 : 54.0;
}

void
plumb_sheet_tables (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  double left = wide_mm - CAUTION_MM - GAP_MM;
  cautions (sheet, x_mm + wide_mm - CAUTION_MM, y_mm, CAUTION_MM);
  if (wide_mm >= WIDE_MM)
    {
      double points = (left - GAP_MM) * 0.60, figures = (left - GAP_MM) * 0.40;
      points_table (sheet, x_mm, y_mm, points);
      names_table (sheet, x_mm, y_mm + 19.0, points);
      figures_table (sheet, x_mm + points + GAP_MM, y_mm, figures);
      return;
    }
  points_table (sheet, x_mm, y_mm, left);
  figures_table (sheet, x_mm, y_mm + 21.0, left);
  names_table (sheet, x_mm + left + GAP_MM, y_mm + 33.0, CAUTION_MM);
}
