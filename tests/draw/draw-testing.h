/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Demos, temporary files and pages for the tests of the drawings. */
#pragma once

#include "draw/draw.h"
#include "job/job.h"

typedef struct {
  PlumbJobFile *file;
  const PlumbScene *scene;
  PlumbEvaluation *evaluation;
} Demo;

#define N_DEMOS 2
extern const char *const demo_names[N_DEMOS];

/* data/demo/NAME.plumbeam with its current arrangement. */
void demo_open (Demo *demo, const char *name);
void demo_close (Demo *demo);
/* Changes values as --set does, NULL-terminated, and evaluates anew. */
void demo_set (Demo *demo, const char *const *key_and_value);

/* A path in a folder of this test run. */
char *test_path (const char *name);
/* Bytes of the sheet as a file, which is removed again. */
GByteArray *test_sheet (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                        PlumbSheetFormat format, PlumbPaper paper);
/* Where a word next stands at or after a byte, NULL when it does not; files
 * may hold zeros. */
const char *test_find (const GByteArray *file, gsize from, const char *word);
/* The page's drawing operators, unpacked: the longest stream of a PDF. */
char *test_page_operators (const GByteArray *pdf);
/* What pdftotext (poppler-utils) reads in a PDF. */
char *test_page_text (const GByteArray *pdf);

/* A word of pdftotext -bbox, points from the upper left corner of its page. */
typedef struct {
  unsigned page; /* from 0 */
  double x0, y0, x1, y1;
  char text[48];
} TestWord;

/* All words of a PDF file in the order of the file, an array of TestWord. */
GArray *test_pdf_words (const char *path);
/* Asserts that all words of a page lie in a frame and none on another. */
void test_words_apart (const GArray *words, double left_mm, double top_mm, double wide_mm, double high_mm);
