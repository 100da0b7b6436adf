/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

static void
free_evaluation (void *evaluation)
{
  plumb_evaluation_free (evaluation);
}

/* NULL when memory ran out. */
static GPtrArray *
evaluate_all (const PlumbCliJob *job)
{
  g_autoptr (GPtrArray) evaluations = g_ptr_array_new_with_free_func (free_evaluation);
  for (uint32_t i = 0; i < job->n; i++)
    {
      PlumbEvaluation *evaluation;
      if (!plumb_evaluate (job->scene, job->first == PLUMB_NO_INDEX ? PLUMB_NO_INDEX : job->first + i, &evaluation))
        return NULL;
      g_ptr_array_add (evaluations, evaluation);
    }
  return g_steal_pointer (&evaluations);
}

static bool
is_failure (const PlumbEvaluation *evaluation, bool strict)
{
  return evaluation->worst == PLUMB_FAILS || (strict && evaluation->worst != PLUMB_HOLDS);
}

/* Which arrangements were not looked at. */
static void
append_others (GString *out, const PlumbCliJob *job)
{
  uint32_t n;
  const PlumbArrangement *all = plumb_scene_arrangement_records (job->scene, &n);
  if (job->n >= n || n < 2)
    return;
  GString *others = g_string_new ("Not looked at:");
  for (uint32_t i = 0; i < n; i++)
    if (i != job->first)
      g_string_append_printf (others, " %s,", all[i].id);
  g_string_truncate (others, others->len - 1);
  g_string_append (others, "; --arrangement ID takes one of them, --arrangement all takes every one.");
  plumb_cli_append_wrapped (out, others->str, 0, 100);
  g_string_free (others, TRUE);
}

static char *
as_text (const PlumbCliJob *job, GPtrArray *evaluations)
{
  GString *out = g_string_new (NULL);
  for (guint i = 0; i < evaluations->len; i++)
    {
      plumb_cli_check_text (out, job, evaluations->pdata[i]);
      g_string_append_c (out, '\n');
    }
  append_others (out, job);
  g_auto (GStrv) unknown = plumb_job_unknown_keys (job->file);
  for (char **key = unknown; key != NULL && *key != NULL; key++)
    g_string_append_printf (out, "The file's key %s means nothing to this version; it was kept and left aside.\n",
                            *key);
  plumb_cli_append_wrapped (out, plumb_caution (), 0, 100);
  return g_string_free (out, FALSE);
}

PlumbExit
plumb_cli_check (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  if (!plumb_cli_options_read (
          &options, arguments, PLUMB_OPTION_JSON | PLUMB_OPTION_STRICT,
          "Works out an arrangement of a job and says what holds, is tight, fails or is unknown."))
    return PLUMB_EXIT_USAGE;
  PlumbExit code = plumb_cli_job_open (&job, &options, true);
  if (code != PLUMB_EXIT_DONE)
    return code;
  g_autoptr (GPtrArray) evaluations = evaluate_all (&job);
  if (evaluations == NULL)
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }

  g_autofree char *text = options.json ? plumb_cli_check_json (&job, (PlumbEvaluation *const *) evaluations->pdata,
                                                               g_strcmp0 (options.arrangement, "all") == 0)
                                       : as_text (&job, evaluations);
  code = plumb_cli_print (text);
  for (guint i = 0; code == PLUMB_EXIT_DONE && i < evaluations->len; i++)
    if (is_failure (evaluations->pdata[i], options.strict))
      code = PLUMB_EXIT_FAILS;
  return code;
}
