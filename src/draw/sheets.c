/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/sheets.h"

#include <string.h>

#include "draw/export-private.h"
#include "draw/survey.h"
#include "plumbeam/assert.h"

struct PlumbSheetSet {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  PlumbPaper paper;
  PlumbSurvey *survey; /* NULL: not among them */
  unsigned n_survey, n_drawings;
  PlumbDrawKind drawings[PLUMB_N_DRAW_KINDS];
};

/* ---- names ------------------------------------------------------------------------- */

static unsigned
papers_from_word (const char *word)
{
  PlumbDrawKind kind;
  if (strcmp (word, "survey") == 0)
    return PLUMB_PAPERS_SURVEY;
  return plumb_draw_kind_from_word (word, &kind) ? (unsigned) PLUMB_PAPERS_PLAN << kind : 0;
}

bool
plumb_papers_from_words (const char *words, unsigned *papers, char **wrong)
{
  g_auto (GStrv) parts = g_strsplit (words, ",", -1);
  unsigned found = 0;
  *wrong = NULL;
  for (char **part = parts; *part != NULL; part++)
    {
      unsigned one = papers_from_word (g_strstrip (*part));
      if (one == 0)
        {
          *wrong = g_strdup (*part);
          return false;
        }
      found |= one;
    }
  if (found == 0)
    {
      *wrong = g_strdup ("");
      return false;
    }
  *papers = found;
  return true;
}

/* ---- pages --------------------------------------------------------------------------- */

PlumbSheetSet *
plumb_sheet_set_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, unsigned papers, PlumbPaper paper)
{
  PlumbSheetSet *set = g_new0 (PlumbSheetSet, 1);
  set->scene = scene;
  set->evaluation = evaluation;
  set->paper = paper;
  if ((papers & PLUMB_PAPERS_SURVEY) != 0)
    {
      set->survey = plumb_survey_new (scene, evaluation, paper);
      set->n_survey = plumb_survey_n_pages (set->survey);
    }
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    if ((papers & (unsigned) PLUMB_PAPERS_PLAN << kind) != 0)
      set->drawings[set->n_drawings++] = (PlumbDrawKind) kind;
  return set;
}

void
plumb_sheet_set_free (PlumbSheetSet *set)
{
  if (set == NULL)
    return;
  plumb_survey_free (set->survey);
  g_free (set);
}

unsigned
plumb_sheet_set_n_pages (const PlumbSheetSet *set)
{
  return set->n_survey + set->n_drawings;
}

static PlumbSheetLayout
drawing_layout (const PlumbSheetSet *set, unsigned page)
{
  PLUMB_ASSERT (page < plumb_sheet_set_n_pages (set));
  PlumbSheetLayout layout
      = plumb_draw_sheet_layout (set->scene, set->evaluation, set->drawings[page - set->n_survey], set->paper);
  layout.page = page + 1;
  layout.pages = plumb_sheet_set_n_pages (set);
  return layout;
}

void
plumb_sheet_set_page_size (const PlumbSheetSet *set, unsigned page, double *width_mm, double *height_mm)
{
  if (page < set->n_survey)
    {
      plumb_survey_page_size (set->survey, width_mm, height_mm);
      return;
    }
  PlumbSheetLayout layout = drawing_layout (set, page);
  *width_mm = layout.width_mm;
  *height_mm = layout.height_mm;
}

void
plumb_sheet_set_draw_page (cairo_t *cr, const PlumbSheetSet *set, unsigned page)
{
  if (page < set->n_survey)
    {
      plumb_survey_draw_page (cr, set->survey, page, page + 1, plumb_sheet_set_n_pages (set));
      return;
    }
  PlumbSheetLayout layout = drawing_layout (set, page);
  PlumbDrawShown shown = plumb_draw_shown_default ();
  plumb_draw_sheet (cr, set->scene, set->evaluation, set->drawings[page - set->n_survey], &shown, set->paper, &layout);
}

bool
plumb_sheet_set_export (const PlumbSheetSet *set, const char *path, GError **error)
{
  const PlumbJob *job = plumb_scene_job (set->scene, 0);
  g_autofree char *title
      = job->title[0] != '\0' ? g_strdup_printf ("%s: %s", job->title, N_ ("sheets")) : g_strdup (N_ ("Sheets"));
  PlumbExport *export = plumb_export_begin_pdf (title);
  for (unsigned page = 0; page < plumb_sheet_set_n_pages (set); page++)
    {
      double width, height;
      plumb_sheet_set_page_size (set, page, &width, &height);
      plumb_sheet_set_draw_page (plumb_export_next_page (export, width, height), set, page);
    }
  return plumb_export_end (export, path, error);
}
