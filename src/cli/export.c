/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include "draw/draw.h"

typedef struct {
  PlumbDrawKind kind;
  PlumbPaper paper;
  PlumbSheetFormat format;
  PlumbDrawShown shown;
} Sheet;

/* By the file's ending. */
static bool
find_format (const char *output, PlumbSheetFormat *format)
{
  static const char *const later[] = { ".dxf", ".glb" };
  if (output == NULL)
    {
      plumb_cli_complain ("export: -o OUT is missing; see: plumbeam export --help");
      return false;
    }
  g_autofree char *lower = g_ascii_strdown (output, -1);
  *format = PLUMB_SHEET_PDF;
  if (g_str_has_suffix (lower, ".pdf"))
    return true;
  *format = PLUMB_SHEET_SVG;
  if (g_str_has_suffix (lower, ".svg"))
    return true;
  for (gsize i = 0; i < G_N_ELEMENTS (later); i++)
    if (g_str_has_suffix (lower, later[i]))
      {
        plumb_cli_complain ("export: this version does not write %s files", later[i]);
        return false;
      }
  if (g_str_has_suffix (lower, ".csv"))
    plumb_cli_complain ("export: a .csv file holds a table: add --table seats");
  else
    plumb_cli_complain ("export: OUT must end in .svg or .pdf, or in .csv with --table");
  return false;
}

static bool
find_question (const char *word, PlumbQuestion *question)
{
  if (word == NULL || plumb_question_from_word (word, question))
    return true;
  g_autoptr (GString) words = g_string_new (NULL);
  for (int i = 0; i < PLUMB_N_QUESTIONS; i++)
    g_string_append_printf (words, "%s%s", i == 0 ? "" : i == PLUMB_N_QUESTIONS - 1 ? " and " : ", ",
                            plumb_question_info ((PlumbQuestion) i)->word);
  plumb_cli_complain ("--ask %s: there are %s", word, words->str);
  return false;
}

static bool
find_sheet (const PlumbCliOptions *options, Sheet *sheet)
{
  *sheet = (Sheet){ PLUMB_DRAW_PLAN, PLUMB_PAPER_A4, PLUMB_SHEET_PDF, plumb_draw_shown_default () };
  if (!find_format (options->output, &sheet->format))
    return false;
  if (options->light != NULL)
    {
      plumb_cli_complain ("export: --light goes with --table seats");
      return false;
    }
  if (options->view != NULL && !plumb_draw_kind_from_word (options->view, &sheet->kind))
    {
      plumb_cli_complain ("--view %s: there are plan, side, picture and ceiling", options->view);
      return false;
    }
  if (options->paper != NULL && !plumb_paper_from_word (options->paper, &sheet->paper))
    {
      plumb_cli_complain ("--paper %s: there are a4, a3 and letter", options->paper);
      return false;
    }
  return find_question (options->ask, &sheet->shown.question);
}

PlumbExit
plumb_cli_export (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  Sheet sheet;
  if (!plumb_cli_options_read (&options, arguments, PLUMB_OPTION_OUTPUT | PLUMB_OPTION_VIEW,
                               "Draws one sheet of a job, or writes one of its tables."))
    return PLUMB_EXIT_USAGE;
  if (options.table != NULL)
    return plumb_cli_export_table (&options);
  if (!find_sheet (&options, &sheet))
    return PLUMB_EXIT_USAGE;
  PlumbExit code = plumb_cli_job_open (&job, &options, false);
  if (code != PLUMB_EXIT_DONE)
    return code;
  if (options.seat != NULL)
    {
      sheet.shown.seat = plumb_cli_find_seat (job.scene, "--seat ", options.seat);
      if (sheet.shown.seat == PLUMB_NO_INDEX)
        return PLUMB_EXIT_USAGE;
    }
  if (options.paper == NULL && job.words.units == PLUMB_UNITS_IMPERIAL)
    sheet.paper = PLUMB_PAPER_LETTER;

  PlumbEvaluation *evaluation;
  if (!plumb_evaluate (job.scene, job.first, &evaluation))
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }
  g_autoptr (GError) error = NULL;
  bool done = plumb_draw_sheet_export (job.scene, evaluation, sheet.kind, &sheet.shown, options.output, sheet.format,
                                       sheet.paper, &error);
  plumb_evaluation_free (evaluation);
  if (done)
    return PLUMB_EXIT_DONE;
  plumb_cli_complain ("%s", error->message);
  return PLUMB_EXIT_TROUBLE;
}
