/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sheet's frame, tables and title block. Measures are millimetres from the
 * paper's upper left corner; the context is in points. */
#pragma once

#include "draw/parts-private.h"

typedef struct {
  cairo_t *cr;
  PangoLayout *layout;
  PlumbPen *pen; /* for casting to walls; its view is the sheet's drawing */
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  PlumbDrawKind kind;
  PlumbPaper paper;
  const PlumbSheetLayout *place;
  int units;
} PlumbSheet;

typedef enum { PLUMB_FACE_PLAIN, PLUMB_FACE_BOLD, PLUMB_FACE_DRAWING } PlumbFaceOfType;
typedef enum { PLUMB_ALIGN_LEFT, PLUMB_ALIGN_RIGHT } PlumbAlign;

/* One line of text whose capitals stand on y_mm; x_mm is its left or right
 * end. It is set smaller, then cut with an ellipsis, to keep within most_mm
 * (0: no limit). size_mm is the em. Returns its width. */
double plumb_sheet_text (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                         double size_mm, PlumbAlign align, double x_mm, double y_mm, double most_mm);
/* A paragraph from its upper left corner; returns its height in mm. */
double plumb_sheet_paragraph (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                              double size_mm, double x_mm, double y_mm, double wide_mm);
void plumb_sheet_line (PlumbSheet *sheet, double width_mm, PlumbDrawColour role, double x0_mm, double y0_mm,
                       double x1_mm, double y1_mm);

/* Height of the zone between the drawing and the title block. */
double plumb_sheet_tables_height (double wide_mm);
void plumb_sheet_tables (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm);
/* The title block inside the frame's foot. */
#define PLUMB_BLOCK_MM 21.0
void plumb_sheet_block (PlumbSheet *sheet);
