/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of seats: a row for each resolved seat of a scene, with what an
 * evaluation found out about it.
 *
 * A table keeps its own copy of the figures and a reference to the scene, so
 * it outlives the evaluation and may be read from any thread while nobody
 * sorts it. Words are made one cell at a time, when they are asked for: a hall
 * of ten thousand seats costs no ten thousand strings.
 *
 * Nothing here judges. A seat's verdict is the worst of the findings that name
 * it and of the checks that the evaluation says it fails. A figure that is not
 * there is an empty cell, and the table says why.
 */
#pragma once

#include "text/findings.h"

/* C (NAME, "id", kind, heading, meaning): the columns in their order. Ids end
 * in their unit, are those of `check --json` where it has the figure, and are
 * never renamed. kind is of PlumbSeatColumnKind. */
#define PLUMB_SEAT_COLUMNS(C) \
  C (SEAT, "seat", WORD, N_ ("seat"), N_ ("the seat; `row2:3` is the third of `row2`")) \
  C (VERDICT, "verdict", WORD, N_ ("verdict"), N_ ("the worst that was found about the seat")) \
  C (CHECKS, "checks", WORD, N_ ("what is worst"), N_ ("ids of the checks with that verdict, if it is not `holds`, a blank between them")) \
  C (ANGLE, "horizontal_angle_rad", ANGLE, N_ ("angle"), N_ ("horizontal angle that the picture fills")) \
  C (HEIGHTS, "distance_heights_ratio", RATIO, N_ ("distance"), N_ ("eye to the picture's centre, in picture heights")) \
  C (LOOK_UP_CENTRE, "look_up_centre_rad", ANGLE, N_ ("up to centre"), N_ ("look-up angle to the picture's centre, from level")) \
  C (LOOK_UP_TOP, "look_up_top_rad", ANGLE, N_ ("up to top"), N_ ("look-up angle to the nearest point of the upper edge")) \
  C (OFF_AXIS, "off_axis_rad", ANGLE, N_ ("off axis"), N_ ("at the picture's centre, between its normal and the eye")) \
  C (PIXELS, "pixels_per_degree", PIXELS, N_ ("pixels"), N_ ("pixels within one degree, where they are coarsest")) \
  C (TEXT, "text_height_m", LENGTH, N_ ("least text"), N_ ("height of the smallest readable sign")) \
  C (HIDDEN, "hidden_share", SHARE, N_ ("hidden"), N_ ("share of the picture behind heads, people and solids")) \
  C (HIDDEN_BY, "hidden_most_by", WORD, N_ ("most by"), N_ ("who or what hides most of it")) \
  C (C_VALUE, "c_value_m", LENGTH, N_ ("C-value"), N_ ("clearance of the line of sight over the worst head in front")) \
  C (LUMINANCE, "luminance_centre_cd_m2", LUMINANCE, N_ ("white"), N_ ("luminance of white at the picture's centre, in the dark")) \
  C (FOOT_LAMBERTS, "luminance_centre_fl", FOOT_LAMBERTS, N_ ("white"), N_ ("the same in foot-lamberts")) \
  C (CONTRAST, "contrast_ratio", CONTRAST, N_ ("contrast"), N_ ("towards this seat, in the light state")) \
  C (LIGHT_STATE, "light_state", WORD, N_ ("light"), N_ ("the light state of that contrast")) \
  C (NOISE, "noise_db", NOISE, N_ ("noise"), N_ ("fan noise, A-weighted")) \
  C (NOTE, "note", WORD, N_ ("note"), N_ ("why a figure is not there"))

typedef enum {
#define PLUMB_C(name, id, kind, heading, meaning) PLUMB_SEAT_##name,
  PLUMB_SEAT_COLUMNS (PLUMB_C)
#undef PLUMB_C
    PLUMB_N_SEAT_COLUMNS
} PlumbSeatColumn;

typedef enum {
  PLUMB_SEAT_KIND_WORD,
  PLUMB_SEAT_KIND_ANGLE,
  PLUMB_SEAT_KIND_RATIO,
  PLUMB_SEAT_KIND_PIXELS,
  PLUMB_SEAT_KIND_LENGTH,
  PLUMB_SEAT_KIND_SHARE,
  PLUMB_SEAT_KIND_LUMINANCE,
  PLUMB_SEAT_KIND_FOOT_LAMBERTS,
  PLUMB_SEAT_KIND_CONTRAST,
  PLUMB_SEAT_KIND_NOISE,
  PLUMB_N_SEAT_KINDS
} PlumbSeatColumnKind;

typedef struct {
  const char *id;
  PlumbSeatColumnKind kind;
  const char *heading, *meaning;
} PlumbSeatColumnInfo;
const PlumbSeatColumnInfo *plumb_seat_column_info (PlumbSeatColumn column);
/* The unit that a column's figures are shown in: "°", "mm" or "in"; "" for words. */
const char *plumb_seat_column_unit (PlumbSeatColumn column, PlumbWords words);

typedef struct PlumbSeatTable PlumbSeatTable;

/* Worst first. state: the light state that contrast is told in, out of range
 * where there is none. */
PlumbSeatTable *plumb_seat_table_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t state);
/* NULL is fine. */
void plumb_seat_table_free (PlumbSeatTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbSeatTable, plumb_seat_table_free)

/* The light state that is told of when nobody asked for one: the first in
 * which something is to be shown, else the first; PLUMB_NO_INDEX if none. */
uint32_t plumb_seat_table_usual_state (const PlumbScene *scene);

uint32_t plumb_seat_table_n_rows (const PlumbSeatTable *table);
/* The resolved seat of a row, and the row of a resolved seat. */
uint32_t plumb_seat_table_seat (const PlumbSeatTable *table, uint32_t row);
uint32_t plumb_seat_table_row (const PlumbSeatTable *table, uint32_t seat);
/* The seat as it is chosen in the window. */
PlumbSubject plumb_seat_table_subject (const PlumbSeatTable *table, uint32_t row);
PlumbVerdict plumb_seat_table_verdict (const PlumbSeatTable *table, uint32_t row);

/* Figures by size, words by alphabet, verdicts from the worst, the seats by
 * their place in the job; equal ones stand worst first, empty cells last
 * either way. PLUMB_N_SEAT_COLUMNS: worst first. */
void plumb_seat_table_sort (PlumbSeatTable *table, PlumbSeatColumn column, bool descending);

/* The figure in SI; false for words and where there is none. */
bool plumb_seat_table_number (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column, double *value);
/* Why a cell is empty, a sentence; NULL where nothing is missing. */
const char *plumb_seat_table_reason (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column);
/* The cell as people read it, without its unit; "" where it is empty. The caller's. */
char *plumb_seat_table_text (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column, PlumbWords words);

/* The whole table in its order: RFC 4180 with CRLF, ids of the columns as
 * header, SI, a point as decimal mark. The caller's. */
char *plumb_seat_table_csv (const PlumbSeatTable *table);
/* As people read it, with headings, a tab between cells and a line feed
 * behind each row, to be put into a letter or a spreadsheet. The caller's. */
char *plumb_seat_table_tabbed (const PlumbSeatTable *table, PlumbWords words);
