/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A job's papers: survey and drawings as pages of one PDF, or of a printer. */
#pragma once

#include "draw/draw.h"

typedef enum {
  PLUMB_PAPERS_SURVEY = 1 << 0,
  PLUMB_PAPERS_PLAN = 1 << 1,
  PLUMB_PAPERS_SIDE = 1 << 2,
  PLUMB_PAPERS_PICTURE = 1 << 3,
  PLUMB_PAPERS_CEILING = 1 << 4,
  PLUMB_PAPERS_ALL = (1 << 5) - 1,
} PlumbPapers;

/* "survey,plan": names with commas between, blanks allowed. False when a name
 * is none, with it in *wrong (the caller's); an empty list is a wrong "". */
bool plumb_papers_from_words (const char *words, unsigned *papers, char **wrong);

typedef struct PlumbSheetSet PlumbSheetSet;

/* Scene and evaluation (may be NULL) must outlive the set. */
PlumbSheetSet *plumb_sheet_set_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, unsigned papers,
                                    PlumbPaper paper);
void plumb_sheet_set_free (PlumbSheetSet *set);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbSheetSet, plumb_sheet_set_free)
unsigned plumb_sheet_set_n_pages (const PlumbSheetSet *set);
/* Pages stand or lie, each as suits it. */
void plumb_sheet_set_page_size (const PlumbSheetSet *set, unsigned page, double *width_mm, double *height_mm);
/* Page from 0, in points from its upper left corner. */
void plumb_sheet_set_draw_page (cairo_t *cr, const PlumbSheetSet *set, unsigned page);
/* Writes all pages into one PDF, replacing the file only when it is whole. */
bool plumb_sheet_set_export (const PlumbSheetSet *set, const char *path, GError **error);
