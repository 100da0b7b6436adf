/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rows of a table of seats as a list for a view. An item is made when the
 * view asks for a row and holds nothing but which row it is, so a hall of ten
 * thousand seats costs the rows that are seen. Which seat stands in a row is
 * the table's to say: another order, or other figures, is no other list, and
 * the view writes the cells anew that it has.
 */
#pragma once

#include <gio/gio.h>

#include "text/seat-table.h"

#define PLUMB_TYPE_SEAT_ITEM (plumb_seat_item_get_type ())
G_DECLARE_FINAL_TYPE (PlumbSeatItem, plumb_seat_item, PLUMB, SEAT_ITEM, GObject)
guint plumb_seat_item_row (PlumbSeatItem *self);

#define PLUMB_TYPE_SEAT_MODEL (plumb_seat_model_get_type ())
G_DECLARE_FINAL_TYPE (PlumbSeatModel, plumb_seat_model, PLUMB, SEAT_MODEL, GObject)

PlumbSeatModel *plumb_seat_model_new (void);
/* NULL until one was taken. */
const PlumbSeatTable *plumb_seat_model_table (PlumbSeatModel *self);
/* Takes a table, which is put in the model's order first. The view is told
 * only where there are more or fewer rows than before. */
void plumb_seat_model_take (PlumbSeatModel *self, PlumbSeatTable *table);
/* As plumb_seat_table_sort(), from now on. */
void plumb_seat_model_sort (PlumbSeatModel *self, PlumbSeatColumn column, gboolean descending);
