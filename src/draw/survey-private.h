/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the survey sheet is made of: items in order, then where they stand. */
#pragma once

#include "draw/sheet-private.h"
#include "draw/survey.h"

typedef enum {
  PLUMB_ITEM_HEADING,
  PLUMB_ITEM_BLANK,   /* a figure to write on a rule */
  PLUMB_ITEM_CIRCLE,  /* words of which one is circled */
  PLUMB_ITEM_WRITE,   /* words to write on a rule */
  PLUMB_ITEM_CAUTION, /* a box to tick */
  PLUMB_ITEM_FIELD,   /* squared, to sketch in */
  PLUMB_ITEM_REMARKS, /* three rules */
} PlumbSurveyItemKind;

typedef struct {
  PlumbSurveyItemKind kind;
  uint32_t space;    /* whose drawing shows it */
  char letter[12];   /* "A" of a heading, "A1" of a line, "" */
  char *words;       /* owned */
  const char *unit;  /* of a blank */
  char *known;       /* owned, NULL: nothing */
  bool ringed;       /* stands at at_m on the drawing */
  PlumbVec2 at_m;    /* room */
  PlumbVec2 away;    /* room, unit: where its ring goes from there; zero: stays */
  double away_mm;    /* how far on paper */
  unsigned page;     /* laid out */
  double x_mm, y_mm; /* laid out: upper left corner */
} PlumbSurveyItem;

typedef struct {
  uint32_t space;
  bool opens; /* the space's first page, with the drawing */
} PlumbSurveyPage;

/* A diagonal to measure, room. */
typedef struct {
  uint32_t space;
  PlumbVec2 from_m, to_m;
} PlumbSurveyDiagonal;

struct PlumbSurvey {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  bool blank; /* the room is made up: its figures are not shown */
  PlumbPaper paper;
  PlumbSheetLayout layout;
  double column_mm; /* from one column's left edge to the next */
  unsigned n_columns;
  GArray *items, *pages, *diagonals;
};

/* Width of a column, without the gap. */
#define PLUMB_SURVEY_COLUMN_MM 81.0
/* Boxes for tape, date and name on the first page. */
#define PLUMB_SURVEY_BOXES_MM 14.0

/* ---- making the lines ---------------------------------------------------------------- */

/* What the makers of lines share. */
typedef struct {
  PlumbSurvey *survey;
  const PlumbScene *scene;
  const PlumbBuilding *building;
  PlumbDrawPlane plane; /* the plan's */
  int units;
  uint32_t space;
  unsigned n_letters, n_lines;
  char letter[8];
  char (*wall_letters)[8]; /* by index in the building's walls; "" before it has one */
  /* Whose sheet a record stands on, found once: a space, PLUMB_NO_INDEX. */
  uint32_t *ceiling_space, *structure_space;
  uint32_t *opening_wall, *port_wall; /* in the building's walls, PLUMB_NO_INDEX */
} PlumbSurveyMaker;

void plumb_survey_heading (PlumbSurveyMaker *maker, const char *words);
/* NAN: nothing is known. */
PlumbSurveyItem *plumb_survey_length (PlumbSurveyMaker *maker, char *words, double known_m, bool small);
/* A line with words to circle or to write, numbered like the lengths. */
void plumb_survey_words (PlumbSurveyMaker *maker, PlumbSurveyItemKind kind, const char *words);
PlumbSurveyItem *plumb_survey_item (PlumbSurveyMaker *maker, PlumbSurveyItemKind kind, const char *words);
/* Puts a ring on the drawing. */
void plumb_survey_ring (PlumbSurveyItem *item, PlumbVec2 at_m, PlumbVec2 away, double away_mm);

/* Index in the building's walls of the space's wall j, counted clockwise from
 * the picture's. */
uint32_t plumb_survey_wall (const PlumbSurveyMaker *maker, uint32_t j);
/* Fills structure_space, opening_wall and port_wall. */
void plumb_survey_find_fixed (PlumbSurveyMaker *maker);
void plumb_survey_walls (PlumbSurveyMaker *maker);
void plumb_survey_diagonals (PlumbSurveyMaker *maker);
void plumb_survey_ceilings (PlumbSurveyMaker *maker);
/* asks_all: also what is asked once for the job. */
void plumb_survey_structure (PlumbSurveyMaker *maker, bool asks_all);
void plumb_survey_openings (PlumbSurveyMaker *maker, bool asks_all);
void plumb_survey_outlets (PlumbSurveyMaker *maker);
void plumb_survey_light (PlumbSurveyMaker *maker);

/* ---- laying out and drawing ------------------------------------------------------------ */

void plumb_survey_lay_out (PlumbSurvey *survey);
double plumb_survey_item_height (const PlumbSurveyItem *item);
void plumb_survey_draw_item (PlumbSheet *sheet, const PlumbSurveyItem *item);
void plumb_survey_draw_boxes (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm);
/* The view of the space's drawing, no higher than it needs; returns its scale. */
double plumb_survey_view (const PlumbSurvey *survey, uint32_t space, PlumbDrawView *view);
void plumb_survey_draw_plan (PlumbSheet *sheet, const PlumbSurvey *survey, uint32_t space, double x_mm, double y_mm);
