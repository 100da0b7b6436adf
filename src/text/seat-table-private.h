/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "text/seat-table.h"

struct PlumbSeatTable {
  const PlumbScene *scene;
  uint32_t n, n_known; /* seats, and those that have figures */
  PlumbSeatFigures *figures;
  PlumbVerdict *verdicts;
  uint64_t *worst;     /* by seat: checks that have its verdict, bit per PlumbCheck */
  double *contrast;    /* by seat, NaN where it is not known */
  uint32_t state;
  bool lit;            /* something is thrown */
  bool ambient_known;  /* the state's light on the screen */
  uint32_t *rank;      /* by seat: its place, worst first */
  uint32_t *seat_at;   /* by row */
  uint32_t *row_of;    /* by seat */
};

/* The same as the public ones, by seat. */
bool plumb_seat_number (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column, double *value);
const char *plumb_seat_reason (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column);
char *plumb_seat_text (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column, PlumbWords words);
