/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include <string.h>

const char *
plumb_cli_id (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  return index == PLUMB_NO_INDEX ? NULL : plumb_record_id (kind, plumb_scene_record (scene, kind, index));
}

static PlumbExit
exit_for (const GError *error)
{
  return g_error_matches (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_MEMORY) ? PLUMB_EXIT_TROUBLE : PLUMB_EXIT_USAGE;
}

static PlumbExit
load (PlumbCliJob *job, const PlumbCliOptions *options)
{
  g_autoptr (GError) error = NULL;
  job->file = plumb_job_load (options->file, &error);
  if (job->file == NULL)
    {
      /* What could not be read at all is named in the message. */
      bool named = g_error_matches (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_READ);
      g_autofree char *shown = g_filename_display_name (options->file);
      plumb_cli_complain ("%s%s%s", named ? "" : shown, named ? "" : ": ", error->message);
      return exit_for (error);
    }
  for (char **set = options->set; set != NULL && *set != NULL; set++)
    {
      PlumbJobFile *changed = plumb_job_set (job->file, *set, &error);
      if (changed == NULL)
        {
          plumb_cli_complain ("--set %s", error->message);
          return exit_for (error);
        }
      plumb_job_file_free (job->file);
      job->file = changed;
    }
  return PLUMB_EXIT_DONE;
}

static char *
ids_of_arrangements (const PlumbScene *scene)
{
  uint32_t n;
  const PlumbArrangement *all = plumb_scene_arrangement_records (scene, &n);
  GString *out = g_string_new (NULL);
  for (uint32_t i = 0; i < n; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? ", " : "", all[i].id);
  return g_string_free (out, FALSE);
}

static PlumbExit
choose (PlumbCliJob *job, const char *wanted, bool all)
{
  uint32_t n;
  plumb_scene_arrangement_records (job->scene, &n);
  job->n = 1;
  job->first = plumb_scene_current_arrangement (job->scene);
  if (wanted == NULL)
    return PLUMB_EXIT_DONE;

  job->first = plumb_scene_find (job->scene, PLUMB_RECORD_ARRANGEMENT, wanted);
  if (job->first != PLUMB_NO_INDEX)
    return PLUMB_EXIT_DONE;
  if (all && strcmp (wanted, "all") == 0 && n > 0)
    {
      job->first = 0;
      job->n = n;
      return PLUMB_EXIT_DONE;
    }
  g_autofree char *ids = ids_of_arrangements (job->scene);
  plumb_cli_complain ("--arrangement %s: there is no such arrangement; the job has %s", wanted, n > 0 ? ids : "none");
  return PLUMB_EXIT_USAGE;
}

PlumbExit
plumb_cli_job_open (PlumbCliJob *job, const PlumbCliOptions *options, bool all)
{
  PlumbExit code = load (job, options);
  if (code != PLUMB_EXIT_DONE)
    return code;
  job->scene = plumb_job_scene (job->file);
  job->words = (PlumbWords){ plumb_scene_job (job->scene, 0)->units, PLUMB_SHOW_PLAIN };
  return choose (job, options->arrangement, all);
}

void
plumb_cli_job_clear (PlumbCliJob *job)
{
  plumb_job_file_free (job->file);
  *job = (PlumbCliJob){ 0 };
}

uint32_t
plumb_cli_find_seat (const PlumbScene *scene, const char *option, const char *id)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  for (uint32_t i = 0; i < resolved->n_seats; i++)
    if (strcmp (resolved->seats[i].id, id) == 0)
      return i;
  if (resolved->n_seats == 0)
    plumb_cli_complain ("%s%s: the job has no seats", option, id);
  else
    plumb_cli_complain ("%s%s: there is no such seat; the job's %u run from %s to %s", option, id, resolved->n_seats,
                        resolved->seats[0].id, resolved->seats[resolved->n_seats - 1].id);
  return PLUMB_NO_INDEX;
}
