/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "app/seats-view.h"

#include "app/round-level.h"
#include "app/seat-model.h"

/* All but the light state, which is chosen in the head, and the note, which is
 * the tooltip of each empty cell. */
#define PLUMB_SEATS_VIEW_COLUMNS (PLUMB_N_SEAT_COLUMNS - 2)

typedef struct {
  PlumbSeatsView *view;
  PlumbSeatColumn id;
  int chars;
  GtkColumnViewColumn *column;
  GPtrArray *bound; /* GtkListItem that have a row */
} PlumbSeatsColumn;

struct _PlumbSeatsView {
  GtkBox parent_instance;

  GtkStack *body;
  GtkColumnView *view;

  PlumbDocument *document;
  PlumbSeatModel *model;
  GtkSingleSelection *selection;
  PlumbSeatsColumn column[PLUMB_SEATS_VIEW_COLUMNS];
  PlumbSeatColumn asked; /* which column's order was asked for */
  uint32_t state;        /* light state of the contrast */
  char *state_id;        /* its id, by which it is known after an edit; NULL: nobody chose */
  gboolean stale, quiet, choosing;

  /* the box for the head; seats-view-head.c */
  GtkWidget *controls, *order, *turn, *light;
  GtkFileChooserNative *chooser; /* while one is open */
  gboolean filling;
};

/* Works the table out anew, at once if it is seen. */
void plumb_seats_view_refresh (PlumbSeatsView *self);

/* ---- seats-view-cells.c ------------------------------------------------------------ */

/* How lengths are shown: the job's. */
PlumbWords plumb_seats_view_words (PlumbSeatsView *self);
void plumb_seats_column_make_cells (PlumbSeatsColumn *column, GtkListItemFactory *factory);
/* Another order or other figures: the cells that there are are written anew. */
void plumb_seats_view_refill (PlumbSeatsView *self);

/* ---- seats-view-head.c ------------------------------------------------------------- */

void plumb_seats_view_make_controls (PlumbSeatsView *self);
void plumb_seats_view_drop_controls (PlumbSeatsView *self);
/* Says in the head by which column the rows stand. */
void plumb_seats_view_show_order (PlumbSeatsView *self, PlumbSeatColumn by, gboolean descending);
/* Names of the light states, and which is told of. */
void plumb_seats_view_fill_states (PlumbSeatsView *self);
void plumb_seats_view_show_state (PlumbSeatsView *self, uint32_t state);
