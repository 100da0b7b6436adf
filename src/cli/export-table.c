/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include <string.h>

#include "text/seat-table.h"

static bool
fits (const PlumbCliOptions *options)
{
  if (strcmp (options->table, "seats") != 0)
    {
      plumb_cli_complain ("--table %s: this version has the table seats alone", options->table);
      return false;
    }
  if (options->view != NULL || options->paper != NULL)
    {
      plumb_cli_complain ("export: %s goes with a drawing, and --table writes none",
                          options->view != NULL ? "--view" : "--paper");
      return false;
    }
  if (options->output == NULL)
    {
      plumb_cli_complain ("export: -o OUT is missing; see: plumbeam export --help");
      return false;
    }
  g_autofree char *lower = g_ascii_strdown (options->output, -1);
  if (g_str_has_suffix (lower, ".csv"))
    return true;
  plumb_cli_complain ("export: with --table OUT must end in .csv");
  return false;
}

/* The state that was asked for, else the usual one. */
static bool
find_state (const PlumbScene *scene, const char *wanted, uint32_t *state)
{
  uint32_t n;
  const PlumbLightState *states = plumb_scene_light_state_records (scene, &n);

  *state = wanted != NULL ? plumb_scene_find (scene, PLUMB_RECORD_LIGHT_STATE, wanted)
                          : plumb_seat_table_usual_state (scene);
  if (wanted == NULL || *state != PLUMB_NO_INDEX)
    return true;
  g_autoptr (GString) ids = g_string_new (n > 0 ? NULL : "none");
  for (uint32_t i = 0; i < n; i++)
    g_string_append_printf (ids, "%s%s", i > 0 ? ", " : "", states[i].id);
  plumb_cli_complain ("--light %s: there is no such light state; the job has %s", wanted, ids->str);
  return false;
}

PlumbExit
plumb_cli_export_table (const PlumbCliOptions *options)
{
  g_auto (PlumbCliJob) job = { 0 };
  uint32_t state;
  PlumbExit code = fits (options) ? plumb_cli_job_open (&job, options, false) : PLUMB_EXIT_USAGE;
  if (code != PLUMB_EXIT_DONE)
    return code;
  if (!find_state (job.scene, options->light, &state))
    return PLUMB_EXIT_USAGE;

  PlumbEvaluation *evaluation;
  if (!plumb_evaluate (job.scene, job.first, &evaluation))
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (job.scene, evaluation, state);
  g_autofree char *csv = plumb_seat_table_csv (table);
  g_autoptr (GError) error = NULL;
  plumb_evaluation_free (evaluation);
  if (g_file_set_contents (options->output, csv, (gssize) strlen (csv), &error))
    return PLUMB_EXIT_DONE;
  plumb_cli_complain ("%s", error->message);
  return PLUMB_EXIT_TROUBLE;
}
