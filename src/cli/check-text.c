/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `check` prints for people: a header, the main figures, the findings. */
#include <math.h>
#include <string.h>

#include "cli-private.h"
#include "text/finding-groups.h"

#define LABEL_WIDTH 16
#define LINE_WIDTH 100
#define VERDICT_WIDTH 9

typedef struct {
  GString *out;
  const PlumbCliJob *job;
  const PlumbEvaluation *e;
} Report;

G_GNUC_PRINTF (3, 4) static void row (Report *report, const char *label, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  g_string_append (report->out, "  ");
  plumb_cli_append_padded (report->out, label, LABEL_WIDTH);
  g_string_append_printf (report->out, "%s\n", text);
}

/* ---- header --------------------------------------------------------------------------- */

static void
named_row (Report *report, const char *label, PlumbRecordKind kind, uint32_t index)
{
  if (index == PLUMB_NO_INDEX)
    {
      row (report, label, "-");
      return;
    }
  g_autofree char *name = plumb_record_name (report->job->scene, kind, index);
  const char *id = plumb_cli_id (report->job->scene, kind, index);
  if (strcmp (name, id) == 0)
    row (report, label, "%s", name);
  else
    row (report, label, "%s (%s)", name, id);
}

static void
append_header (Report *report)
{
  const PlumbJob *job = plumb_scene_job (report->job->scene, 0);
  const PlumbEvaluation *e = report->e;
  g_string_append_printf (report->out, "%s, revision %s\n\n",
                          job->title[0] != '\0' ? job->title : "Job without a title", job->revision);
  named_row (report, "Arrangement", PLUMB_RECORD_ARRANGEMENT, e->arrangement);
  named_row (report, "Screen", PLUMB_RECORD_SCREEN, e->screen);
  named_row (report, "Machine", PLUMB_RECORD_MACHINE, e->machine);
  named_row (report, "Lens", PLUMB_RECORD_LENS, e->lens);
  named_row (report, "Place", PLUMB_RECORD_PLACE, e->place);
  named_row (report, "Mount", PLUMB_RECORD_MOUNT, e->mount);
  g_string_append_c (report->out, '\n');
}

/* ---- figures ---------------------------------------------------------------------------- */

static bool
known (const Report *report, PlumbFigure figure)
{
  return report->e->figures[figure].valid;
}

static char *
shown (const Report *report, PlumbFigure figure, int i)
{
  const PlumbFigureValue *value = &report->e->figures[figure];
  return plumb_figure_format (value->value[i], plumb_figure_info (figure)->unit, report->job->words.units,
                              report->job->words.show);
}

static char *
directed (const Report *report, PlumbFigure figure, const char *positive, const char *negative)
{
  return plumb_figure_format_directed (report->e->figures[figure].value[0], plumb_figure_info (figure)->unit,
                                       positive, negative, report->job->words.units, report->job->words.show);
}

/* " +/- 3 mm", or nothing. */
static char *
spread (const Report *report, PlumbFigure figure, int i)
{
  const PlumbFigureValue *value = &report->e->figures[figure];
  if (!(value->spread[i] > 0.0))
    return g_strdup ("");
  g_autofree char *text = plumb_figure_format_spread (value->spread[i], plumb_figure_info (figure)->unit,
                                                      report->job->words.units, report->job->words.show);
  return g_strdup_printf (" +/- %s", text);
}

static char *
with_spread (const Report *report, PlumbFigure figure, int i)
{
  g_autofree char *value = shown (report, figure, i), *off = spread (report, figure, i);
  return g_strconcat (value, off, NULL);
}

static void
append_picture (Report *report)
{
  g_autofree char *wanted_w = shown (report, PLUMB_FIGURE_wanted_width_m, 0);
  g_autofree char *wanted_h = shown (report, PLUMB_FIGURE_wanted_height_m, 0);
  row (report, "Wanted picture", "%s x %s", wanted_w, wanted_h);
  if (!known (report, PLUMB_FIGURE_picture_width_m))
    {
      row (report, "Picture", "none");
      return;
    }
  g_autofree char *w = with_spread (report, PLUMB_FIGURE_picture_width_m, 0);
  g_autofree char *h = with_spread (report, PLUMB_FIGURE_picture_height_m, 0);
  row (report, "Picture", "%s wide, %s high", w, h);
}

static void
append_throw (Report *report)
{
  g_autofree char *distance = with_spread (report, PLUMB_FIGURE_throw_distance_m, 0);
  g_autofree char *ratio = shown (report, PLUMB_FIGURE_throw_ratio, 0);
  g_autofree char *wide = with_spread (report, PLUMB_FIGURE_throw_ratio_wide, 0);
  g_autofree char *tele = with_spread (report, PLUMB_FIGURE_throw_ratio_tele, 0);
  g_autofree char *least = shown (report, PLUMB_FIGURE_picture_least_width_m, 0);
  g_autofree char *greatest = shown (report, PLUMB_FIGURE_picture_greatest_width_m, 0);
  row (report, "Throw distance", "%s", distance);
  row (report, "Throw ratio", "%s; the lens has %s at its wide and %s at its tele end", ratio, wide, tele);
  row (report, "From here", "pictures from %s to %s wide", least, greatest);
}

static void
append_shift (Report *report)
{
  g_autofree char *h = directed (report, PLUMB_FIGURE_shift_h_share, "right", "left");
  g_autofree char *v = directed (report, PLUMB_FIGURE_shift_v_share, "up", "down");
  if (!known (report, PLUMB_FIGURE_shift_room_m))
    {
      row (report, "Shift", "%s, %s", h, v);
      return;
    }
  g_autofree char *room = with_spread (report, PLUMB_FIGURE_shift_room_m, 0);
  row (report, "Shift", "%s, %s; left on the screen: %s", h, v, room);
}

/* How far a wall's face is from a plan point straight before it; false where
 * the point is not before it. */
static bool
wall_distance (const PlumbWallShape *wall, PlumbVec2 point, double *distance_m)
{
  PlumbVec2 from = plumb_vec2_sub (point, wall->start_m);
  double along = plumb_vec2_dot (from, wall->along);
  *distance_m = plumb_vec2_dot (from, wall->inward);
  return along >= 0.0 && along <= wall->length_m && *distance_m >= 0.0;
}

/* The nearest wall that the point stands before; not one that runs along
 * `other`, if that is given. */
static const PlumbWallShape *
nearest_wall (const Report *report, uint32_t space, PlumbVec2 point, const PlumbWallShape *other)
{
  const PlumbScene *scene = report->job->scene;
  const PlumbBuilding *building = plumb_scene_resolved (scene)->building;
  const PlumbSpaceShape *shape = &building->spaces[space];
  const PlumbWallShape *best = NULL;
  double least = HUGE_VAL, distance;
  for (uint32_t i = 0; i < shape->n_walls; i++)
    {
      const PlumbWallShape *wall = &building->walls[shape->first_wall + i];
      bool along_other = other != NULL && fabs (plumb_vec2_cross (wall->along, other->along)) < 0.5;
      /* An open side gives a tape nothing to hold against. */
      if (plumb_scene_wall (scene, wall->wall)->construction == PLUMB_CONSTRUCTION_NONE || along_other
          || !wall_distance (wall, point, &distance) || distance >= least)
        continue;
      least = distance;
      best = wall;
    }
  return best;
}

static void
append_off_wall (const Report *report, GString *text, const PlumbWallShape *wall, PlumbVec2 point)
{
  double distance;
  if (wall == NULL)
    return;
  wall_distance (wall, point, &distance);
  g_autofree char *name = plumb_record_name (report->job->scene, PLUMB_RECORD_WALL, wall->wall);
  g_autofree char *off
      = plumb_length_format (distance, report->job->words.units, report->job->words.show | PLUMB_SHOW_METRES);
  g_string_append_printf (text, "%s off %s, ", off, name);
}

/* The way a tape is held: off two walls, above the floor. */
static void
append_lens_point (Report *report)
{
  const PlumbBuilding *building = plumb_scene_resolved (report->job->scene)->building;
  const double *at = report->e->figures[PLUMB_FIGURE_lens_point_m].value;
  PlumbVec2 plan = plumb_vec2 (at[0], at[1]);
  uint32_t space = plumb_building_space_at (building, plumb_vec3 (at[0], at[1], at[2]));
  double floor_z_m = 0.0;
  g_autoptr (GString) text = g_string_new (NULL);
  if (space != PLUMB_NO_INDEX)
    {
      floor_z_m = building->spaces[space].floor_z_m;
      const PlumbWallShape *first = nearest_wall (report, space, plan, NULL);
      append_off_wall (report, text, first, plan);
      if (first != NULL)
        append_off_wall (report, text, nearest_wall (report, space, plan, first), plan);
    }
  g_autofree char *height = plumb_length_format (at[2] - floor_z_m, report->job->words.units,
                                                 report->job->words.show | PLUMB_SHOW_METRES);
  g_autofree char *off = spread (report, PLUMB_FIGURE_lens_point_m, 2);
  row (report, "Lens", "%s%s%s above the floor", text->str, height, off);
}

static void
append_attitude (Report *report)
{
  g_autofree char *yaw = directed (report, PLUMB_FIGURE_yaw_rad, "right", "left");
  g_autofree char *pitch = directed (report, PLUMB_FIGURE_pitch_rad, "up", "down");
  g_autofree char *roll = directed (report, PLUMB_FIGURE_roll_rad, "clockwise", "counter-clockwise");
  g_autofree char *level = directed (report, PLUMB_FIGURE_pitch_level_rad, "up", "down");
  row (report, "Beam", "against square-on %s, %s, %s; against level %s", yaw, pitch, roll, level);
}

static void
append_quality (Report *report)
{
  if (known (report, PLUMB_FIGURE_keystone_width_ratio))
    {
      g_autofree char *width = shown (report, PLUMB_FIGURE_keystone_width_ratio, 0);
      g_autofree char *height = shown (report, PLUMB_FIGURE_keystone_height_ratio, 0);
      row (report, "Keystone", "upper edge %s of the lower, left edge %s of the right", width, height);
    }
  if (known (report, PLUMB_FIGURE_panel_share_used) && known (report, PLUMB_FIGURE_pixels_least_per_mm))
    {
      g_autofree char *used = shown (report, PLUMB_FIGURE_panel_share_used, 0);
      g_autofree char *least = shown (report, PLUMB_FIGURE_pixels_least_per_mm, 0);
      g_autofree char *greatest = shown (report, PLUMB_FIGURE_pixels_greatest_per_mm, 0);
      row (report, "Pixels", "%s of the panel lights the picture, at %s to %s", used, least, greatest);
    }
  g_autofree char *screen = shown (report, PLUMB_FIGURE_share_screen, 0);
  row (report, "Light", "%s of the panel's light lands on the screen", screen);
}

static void
append_figures (Report *report)
{
  if (!report->e->solved)
    return;
  append_picture (report);
  append_throw (report);
  append_shift (report);
  append_lens_point (report);
  append_attitude (report);
  append_quality (report);
  g_string_append_c (report->out, '\n');
}

/* ---- findings ----------------------------------------------------------------------------- */

/* "0.020 to spare", "0.110 beyond". */
static char *
spare_words (const PlumbFinding *finding, PlumbWords words)
{
  double spare;
  if (!plumb_finding_spare (finding, &spare))
    return NULL;
  g_autofree char *size = plumb_figure_format (fabs (spare), finding->unit, words.units, words.show);
  return g_strdup_printf ("%s %s", size, finding->verdict == PLUMB_FAILS && spare < 0.0 ? "beyond" : "to spare");
}

static void
add_part (GString *line, const char *before, const char *part)
{
  if (part != NULL)
    g_string_append_printf (line, "%s%s%s", line->len > 0 ? "; " : "", before, part);
}

/* Where everything is well the kind of source is enough. */
static char *
basis_words (const PlumbScene *scene, const PlumbFinding *finding)
{
  bool in_full = finding->verdict != PLUMB_HOLDS || finding->basis == PLUMB_BASIS_STANDARD;
  return in_full ? plumb_finding_basis (scene, finding) : g_strdup (plumb_basis_word (finding->basis));
}

static void
append_numbers (Report *report, const PlumbFinding *finding)
{
  PlumbWords words = report->job->words;
  g_autofree char *figure = plumb_finding_figure (finding, words);
  g_autofree char *limit = plumb_finding_limit (finding, words);
  g_autofree char *spare = spare_words (finding, words);
  g_autofree char *basis = basis_words (report->job->scene, finding);
  GString *line = g_string_new (NULL);
  /* Without a figure there is nothing that a limit could be held against. */
  add_part (line, "", figure);
  add_part (line, "limit: ", figure != NULL ? limit : NULL);
  add_part (line, "", spare);
  add_part (line, "by: ", basis);
  if (finding->assumed)
    add_part (line, "", "assumed, not typed");
  plumb_cli_append_wrapped (report->out, line->str, VERDICT_WIDTH + 2, LINE_WIDTH);
  g_string_free (line, TRUE);
}

static void
append_finding (Report *report, const PlumbFinding *finding, unsigned seats)
{
  const PlumbScene *scene = report->job->scene;
  g_autofree char *subject = plumb_finding_subject_name (scene, finding);
  g_autofree char *sentence = plumb_finding_sentence (scene, finding, report->job->words);
  g_string_append (report->out, "  ");
  plumb_cli_append_padded (report->out, plumb_verdict_word (finding->verdict), VERDICT_WIDTH);
  g_string_append_printf (report->out, "%s: %s", plumb_check_info (finding->check)->label, subject);
  if (seats > 1)
    g_string_append_printf (report->out, " and %u more seat%s", seats - 1, seats == 2 ? "" : "s");
  g_string_append_c (report->out, '\n');
  /* The figures say the same as the sentence of what holds. */
  if (finding->verdict != PLUMB_HOLDS || !finding->has_figure)
    plumb_cli_append_wrapped (report->out, sentence, VERDICT_WIDTH + 2, LINE_WIDTH);
  append_numbers (report, finding);
}

static void
append_findings (Report *report)
{
  const PlumbEvaluation *e = report->e;
  g_autofree char *summary = plumb_evaluation_summary (e);
  g_string_append_printf (report->out, "Findings: %s\n\n", summary);
  uint32_t n_groups;
  g_autofree PlumbFindingGroup *groups = plumb_finding_groups (e, &n_groups, NULL);
  for (uint32_t i = 0; i < n_groups; i++)
    append_finding (report, &e->findings[groups[i].finding], groups[i].count);
}

void
plumb_cli_check_text (GString *out, const PlumbCliJob *job, const PlumbEvaluation *evaluation)
{
  Report report = { out, job, evaluation };
  append_header (&report);
  append_figures (&report);
  append_findings (&report);
}
