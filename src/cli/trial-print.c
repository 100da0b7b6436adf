/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lens trial as a table for people, as CSV and as JSON. */
#include <math.h>
#include <string.h>

#include "cli-private.h"
#include "json-out-private.h"
#include "text/trial.h"

/* Where the engine found nothing in the way it gives this, metres: no figure. */
#define FREE_ROOM_M 10.0

static const char *
check_of (const PlumbTrialLine *line)
{
  return line->worst_finding.unit != NULL ? plumb_check_info (line->worst_finding.check)->id : NULL;
}

/* ---- for people ------------------------------------------------------------------- */

static const char *const headings[] = { "",     "Machine", "Lens",     "Place",  "Picture", "Zoom", "Shift",
                                        "Left", "Tilt",    "Keystone", "Pixels", "Air",     "Cable" };
enum { N_COLUMNS = G_N_ELEMENTS (headings) };

typedef struct {
  char *cell[N_COLUMNS];
  char *reason;
} Row;

static char *
length (const PlumbCliJob *job, double metres)
{
  return plumb_length_format (metres, job->words.units, job->words.show);
}

static void
fill_optics (const PlumbCliJob *job, const PlumbTrialLine *line, char **cell)
{
  cell[0] = plumb_trial_picture (line, job->words);
  cell[1] = plumb_number_format (line->throw_ratio, 2, job->words.show);
  cell[2] = plumb_trial_shift (line, job->words);
  cell[3] = length (job, line->shift_room_m);
  cell[4] = plumb_trial_tilt (line, job->words);
  cell[5] = plumb_number_format (line->keystone_ratio, 2, job->words.show);
  cell[6] = plumb_share_format (line->panel_share_used, 1, job->words.show);
  cell[7] = plumb_trial_room (line->air_room_m, job->words);
  cell[8] = plumb_trial_room (line->cable_room_m, job->words);
}

static Row
make_row (const PlumbCliJob *job, const PlumbTrialLine *line)
{
  Row row = { .reason = plumb_trial_reason (job->scene, line, job->words) };
  row.cell[0] = g_strdup (plumb_verdict_word (line->worst));
  row.cell[1] = plumb_record_name (job->scene, PLUMB_RECORD_MACHINE, line->machine);
  row.cell[2] = plumb_record_name (job->scene, PLUMB_RECORD_LENS, line->lens);
  row.cell[3] = plumb_record_name (job->scene, PLUMB_RECORD_PLACE, line->place);
  if (line->reachable)
    fill_optics (job, line, &row.cell[4]);
  for (int i = 0; i < N_COLUMNS; i++)
    if (row.cell[i] == NULL)
      row.cell[i] = g_strdup ("-");
  return row;
}

static void
append_cells (GString *out, const char *const *cells, const glong *widths, const char *reason)
{
  for (int i = 0; i < N_COLUMNS; i++)
    plumb_cli_append_padded (out, cells[i], widths[i] + 2);
  g_string_append_printf (out, "%s\n", reason);
}

static void
append_about (GString *out, const PlumbCliJob *job, uint32_t screen)
{
  const PlumbJob *record = plumb_scene_job (job->scene, 0);
  g_string_append_printf (out, "%s, revision %s\n", record->title[0] != '\0' ? record->title : "Job without a title",
                          record->revision);
  g_autofree char *on = plumb_record_name (job->scene, PLUMB_RECORD_SCREEN, screen);
  g_autofree char *as = plumb_record_name (job->scene, PLUMB_RECORD_ARRANGEMENT, job->first);
  g_string_append_printf (out, "Lens trial: every machine and lens at every place, on %s as in %s\n\n", on, as);
}

char *
plumb_cli_trial_text (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines)
{
  glong widths[N_COLUMNS];
  g_autofree Row *rows = g_new0 (Row, n_lines + 1);
  GString *out = g_string_new (NULL);
  for (int i = 0; i < N_COLUMNS; i++)
    widths[i] = g_utf8_strlen (headings[i], -1);
  for (uint32_t k = 0; k < n_lines; k++)
    {
      rows[k] = make_row (job, &lines[k]);
      for (int i = 0; i < N_COLUMNS; i++)
        widths[i] = MAX (widths[i], g_utf8_strlen (rows[k].cell[i], -1));
    }
  append_about (out, job, n_lines > 0 ? lines[0].screen : PLUMB_NO_INDEX);
  append_cells (out, headings, widths, "Worst finding");
  for (uint32_t k = 0; k < n_lines; k++)
    {
      append_cells (out, (const char *const *) rows[k].cell, widths, rows[k].reason);
      for (int i = 0; i < N_COLUMNS; i++)
        g_free (rows[k].cell[i]);
      g_free (rows[k].reason);
    }
  if (n_lines == 0)
    g_string_append (out, "The job has no machine, lens or place to try.\n");
  g_string_append_c (out, '\n');
  plumb_cli_append_wrapped (out, plumb_caution (), 0, 100);
  return g_string_free (out, FALSE);
}

/* ---- for programs: one list of columns for CSV and JSON -------------------------------- */

/* N (key, number), F (key, flag) of a line; only where `reachable`. */
#define OPTICS_COLUMNS(N, F)                                                                                         \
  N ("throw_distance_m", line->throw_distance_m)                                                                     \
  N ("picture_least_m", line->picture_least_m)                                                                       \
  N ("picture_greatest_m", line->picture_greatest_m)                                                                 \
  N ("throw_ratio", line->throw_ratio)                                                                               \
  N ("throw_room_wide_ratio", line->throw_room_wide)                                                                 \
  N ("throw_room_tele_ratio", line->throw_room_tele)                                                                 \
  N ("shift_h_share", line->shift_h_share)                                                                           \
  N ("shift_v_share", line->shift_v_share)                                                                           \
  N ("shift_room_m", line->shift_room_m)                                                                             \
  F ("square_on", line->square_on)                                                                                   \
  F ("tilted", line->tilted)                                                                                         \
  N ("tilt_rad", line->tilt_rad)                                                                                     \
  N ("keystone_ratio", line->keystone_ratio)                                                                         \
  N ("panel_share_used", line->panel_share_used)                                                                     \
  N ("pixels_least_px_per_mm", line->pixels_least_per_mm)                                                            \
  N ("air_room_m", room_figure (line->air_room_m))                                                                   \
  N ("cable_room_m", room_figure (line->cable_room_m))

/* Not a number, and so left out, where nothing is in the way. */
static double
room_figure (double metres)
{
  return metres >= FREE_ROOM_M ? (double) NAN : metres;
}

/* RFC 4180: quoted where it has to be, quotes doubled. */
static void
append_field (GString *out, const char *text)
{
  if (text == NULL)
    text = "";
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (out, text);
      return;
    }
  g_string_append_c (out, '"');
  for (; *text != '\0'; text++)
    {
      if (*text == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *text);
    }
  g_string_append_c (out, '"');
}

static void
append_number_field (GString *out, double value, bool known)
{
  g_string_append_c (out, ',');
  if (!known || !isfinite (value))
    return;
  g_autofree char *digits = plumb_number_shortest (value);
  g_string_append (out, digits);
}

static void
append_flag_field (GString *out, bool value, bool known)
{
  g_string_append_printf (out, ",%s", !known ? "" : value ? "true" : "false");
}

static void
append_csv_line (GString *out, const PlumbCliJob *job, const PlumbTrialLine *line)
{
  g_autofree char *reason = plumb_trial_reason (job->scene, line, job->words);
  append_field (out, plumb_cli_id (job->scene, PLUMB_RECORD_MACHINE, line->machine));
  g_string_append_c (out, ',');
  append_field (out, plumb_cli_id (job->scene, PLUMB_RECORD_LENS, line->lens));
  g_string_append_c (out, ',');
  append_field (out, plumb_cli_id (job->scene, PLUMB_RECORD_PLACE, line->place));
  g_string_append_c (out, ',');
  append_field (out, plumb_cli_id (job->scene, PLUMB_RECORD_MOUNT, line->mount));
  g_string_append_c (out, ',');
  append_field (out, plumb_cli_id (job->scene, PLUMB_RECORD_SCREEN, line->screen));
  append_flag_field (out, line->fits, true);
  append_flag_field (out, line->reachable, true);
#define N(key, value) append_number_field (out, value, line->reachable);
#define F(key, value) append_flag_field (out, value, line->reachable);
  OPTICS_COLUMNS (N, F)
#undef N
#undef F
  g_string_append_printf (out, ",%s,", plumb_verdict_word (line->worst));
  append_field (out, check_of (line));
  g_string_append_c (out, ',');
  append_field (out, reason);
  g_string_append (out, "\r\n");
}

char *
plumb_cli_trial_csv (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines)
{
  GString *out = g_string_new ("machine,lens,place,mount,screen,fits,reachable");
#define HEADING(key, value) g_string_append (out, "," key);
  OPTICS_COLUMNS (HEADING, HEADING)
#undef HEADING
  g_string_append (out, ",verdict,check,message\r\n");
  for (uint32_t i = 0; i < n_lines; i++)
    append_csv_line (out, job, &lines[i]);
  return g_string_free (out, FALSE);
}

static void
put_line (PlumbJsonOut *out, const PlumbCliJob *job, const PlumbTrialLine *line)
{
  g_autofree char *reason = plumb_trial_reason (job->scene, line, job->words);
  plumb_json_out_open (out, NULL, '{');
  plumb_json_out_text (out, "machine", plumb_cli_id (job->scene, PLUMB_RECORD_MACHINE, line->machine));
  plumb_json_out_text (out, "lens", plumb_cli_id (job->scene, PLUMB_RECORD_LENS, line->lens));
  plumb_json_out_text (out, "place", plumb_cli_id (job->scene, PLUMB_RECORD_PLACE, line->place));
  plumb_json_out_text (out, "mount", plumb_cli_id (job->scene, PLUMB_RECORD_MOUNT, line->mount));
  plumb_json_out_text (out, "screen", plumb_cli_id (job->scene, PLUMB_RECORD_SCREEN, line->screen));
  plumb_json_out_flag (out, "fits", line->fits);
  plumb_json_out_flag (out, "reachable", line->reachable);
  if (line->reachable)
    {
#define N(key, value) plumb_json_out_number (out, key, value);
#define F(key, value) plumb_json_out_flag (out, key, value);
      OPTICS_COLUMNS (N, F)
#undef N
#undef F
    }
  plumb_json_out_text (out, "verdict", plumb_verdict_word (line->worst));
  plumb_json_out_text (out, "check", check_of (line));
  plumb_json_out_text (out, "message", reason);
  plumb_json_out_close (out, '}');
}

char *
plumb_cli_trial_json (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines)
{
  PlumbJsonOut out;
  plumb_json_out_init (&out);
  plumb_json_out_open (&out, NULL, '{');
  plumb_json_out_number (&out, "plumbeam_trial", 1);
  plumb_json_out_text (&out, "job", plumb_scene_job (job->scene, 0)->title);
  plumb_json_out_text (&out, "arrangement", plumb_cli_id (job->scene, PLUMB_RECORD_ARRANGEMENT, job->first));
  plumb_json_out_open (&out, "lines", '[');
  for (uint32_t i = 0; i < n_lines; i++)
    put_line (&out, job, &lines[i]);
  plumb_json_out_close (&out, ']');
  plumb_json_out_text (&out, "caution", plumb_caution ());
  plumb_json_out_close (&out, '}');
  return plumb_json_out_finish (&out);
}
