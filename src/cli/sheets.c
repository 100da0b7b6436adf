/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include "draw/sheets.h"

typedef struct {
  unsigned papers;
  PlumbPaper paper;
} Wanted;

static bool
find_wanted (const PlumbCliOptions *options, Wanted *wanted)
{
  *wanted = (Wanted){ PLUMB_PAPERS_ALL, PLUMB_PAPER_A4 };
  if (options->output == NULL)
    {
      plumb_cli_complain ("sheets: -o OUT is missing; see: plumbeam sheets --help");
      return false;
    }
  g_autofree char *lower = g_ascii_strdown (options->output, -1);
  if (!g_str_has_suffix (lower, ".pdf"))
    {
      plumb_cli_complain ("sheets: OUT must end in .pdf");
      return false;
    }
  g_autofree char *wrong = NULL;
  if (options->only != NULL && !plumb_papers_from_words (options->only, &wanted->papers, &wrong))
    {
      plumb_cli_complain ("--only: there is no sheet “%s”; there are survey, plan, side, picture and ceiling", wrong);
      return false;
    }
  if (options->paper != NULL && !plumb_paper_from_word (options->paper, &wanted->paper))
    {
      plumb_cli_complain ("--paper %s: there are a4, a3 and letter", options->paper);
      return false;
    }
  return true;
}

PlumbExit
plumb_cli_sheets (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  Wanted wanted;
  if (!plumb_cli_options_read (&options, arguments, PLUMB_OPTION_OUTPUT | PLUMB_OPTION_ONLY,
                               "Prints papers of a job into one PDF.")
      || !find_wanted (&options, &wanted))
    return PLUMB_EXIT_USAGE;
  PlumbExit code = plumb_cli_job_open (&job, &options, false);
  if (code != PLUMB_EXIT_DONE)
    return code;
  if (options.paper == NULL && job.words.units == PLUMB_UNITS_IMPERIAL)
    wanted.paper = PLUMB_PAPER_LETTER;

  PlumbEvaluation *evaluation;
  if (!plumb_evaluate (job.scene, job.first, &evaluation))
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }
  g_autoptr (GError) error = NULL;
  PlumbSheetSet *set = plumb_sheet_set_new (job.scene, evaluation, wanted.papers, wanted.paper);
  bool done = plumb_sheet_set_export (set, options.output, &error);
  plumb_sheet_set_free (set);
  plumb_evaluation_free (evaluation);
  if (done)
    return PLUMB_EXIT_DONE;
  plumb_cli_complain ("%s", error->message);
  return PLUMB_EXIT_TROUBLE;
}
