/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of seats in the window: a row for each seat of the arrangement
 * shown, worst first or by any column. Choosing a row chooses the seat
 * everywhere, and what is chosen elsewhere chooses its row. What works on the
 * table (order, light state, copying, saving) stands in a box of its own, for
 * the head of the pane that holds the view.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "text/seat-table.h"

#define PLUMB_TYPE_SEATS_VIEW (plumb_seats_view_get_type ())
G_DECLARE_FINAL_TYPE (PlumbSeatsView, plumb_seats_view, PLUMB, SEATS_VIEW, GtkBox)

GtkWidget *plumb_seats_view_new (PlumbDocument *document);
/* The view's; to be put into the head. */
GtkWidget *plumb_seats_view_controls (PlumbSeatsView *self);
/* What is shown, in the order shown; valid until the document changes. */
const PlumbSeatTable *plumb_seats_view_table (PlumbSeatsView *self);
/* With tabs onto the clipboard, in the job's units. */
void plumb_seats_view_copy (PlumbSeatsView *self);
/* As CSV, in one step: after an error there is what was there. */
gboolean plumb_seats_view_save (PlumbSeatsView *self, const char *path, GError **error);
