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
  const char *word; /* the sheet's name in its title block */
  PlumbPaper paper;
  const PlumbSheetLayout *place;
  int units;
} PlumbSheet;

typedef enum { PLUMB_FACE_PLAIN, PLUMB_FACE_BOLD, PLUMB_FACE_ITALIC, PLUMB_FACE_DRAWING } PlumbFaceOfType;
typedef enum { PLUMB_ALIGN_LEFT, PLUMB_ALIGN_CENTRE, PLUMB_ALIGN_RIGHT } PlumbAlign;

/* From the frame's upper line to the drawing. */
#define PLUMB_SHEET_HEAD_MM 21.0

/* A layout with the frame of an upright or turned paper; the area is what
 * head and title block leave. */
PlumbSheetLayout plumb_sheet_blank_layout (double width_mm, double height_mm);
void plumb_sheet_paper_size (PlumbPaper paper, double *narrow_mm, double *wide_mm);
void plumb_sheet_frame (PlumbSheet *sheet);
/* Title at the upper left, the scale or "" at the right, a sentence below. */
void plumb_sheet_head (PlumbSheet *sheet, const char *title, const char *right, const char *read);

/* One line of text whose capitals stand on y_mm; x_mm is its left end,
 * middle or right end. It is set smaller, then cut with an ellipsis, to keep within most_mm
 * (0: no limit). size_mm is the em. Returns its width. */
double plumb_sheet_text (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                         double size_mm, PlumbAlign align, double x_mm, double y_mm, double most_mm);
/* A paragraph from its upper left corner; returns its height in mm. */
double plumb_sheet_paragraph (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                              double size_mm, double x_mm, double y_mm, double wide_mm);
/* The same in at most two lines, the last one's capitals standing on y_mm. */
void plumb_sheet_paragraph_on (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                               double size_mm, double x_mm, double y_mm, double wide_mm);
double plumb_sheet_text_width (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, double size_mm);
void plumb_sheet_line (PlumbSheet *sheet, double width_mm, PlumbDrawColour role, double x0_mm, double y0_mm,
                       double x1_mm, double y1_mm);

/* An empty box to tick, its upper left corner. */
void plumb_sheet_tick_box (PlumbSheet *sheet, double x_mm, double y_mm);

/* Height of the zone between the drawing and the title block. */
double plumb_sheet_tables_height (double wide_mm);
void plumb_sheet_tables (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm);
/* The title block inside the frame's foot. */
#define PLUMB_BLOCK_MM 21.0
void plumb_sheet_block (PlumbSheet *sheet);
