/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A survey sheet as a PDF, and its lines as pdftotext finds them. */
#pragma once

#include "draw-testing.h"
#include "draw/sheets.h"
#include "draw/survey.h"

typedef struct {
  Demo demo;
  char *path;
  GArray *words; /* of TestWord */
} Printed;

/* Prints the survey of a job file's text, or of a demo. */
void print_text (Printed *printed, const char *text, PlumbPaper paper);
void print_demo (Printed *printed, const char *name, PlumbPaper paper);
void printed_clear (Printed *printed);
const TestWord *word_at (const Printed *printed, guint i);
/* How often a run of words stands there, each behind the other. */
int times (const Printed *printed, const char *words);

/* A line of the table: its letter and number, and the blank beside it. */
typedef struct {
  unsigned page;
  char letter[8];
  unsigned number; /* 0: a heading */
  double x_mm, y_mm;
} Line;

/* FALSE when the text is no letter of a line. */
gboolean read_letter (const char *text, Line *line);
/* All lines in the order in which they are read: page, column, down. */
GArray *lines_of (const Printed *printed, PlumbPaper paper);
/* Letters follow each other, each line's number follows the one before, and
 * none is there twice. */
void check_order (const GArray *lines);
unsigned lines_under (const GArray *lines, const char *letter);
