/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Records as rows of ruled cells: heads once, then one row per record. Of very
 * many records it shows a part, with a line that turns on.
 *
 * Tab walks the cells, up and down keep the column, and Enter in the last cell
 * of the last record asks for another one by the signal `more`.
 */
#pragma once

#include "form-cell.h"
#include "form-plan.h"

#define PLUMB_TYPE_FORM_TABLE (plumb_form_table_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormTable, plumb_form_table, PLUMB, FORM_TABLE, GtkBox)

/* Rows that are shown at a time. */
#define PLUMB_FORM_TABLE_ROWS 24

GtkWidget *plumb_form_table_new (PlumbDocument *document, const PlumbFormPlan *plan);
/* Shows `count` records from `first` on, and marks `current` (PLUMB_NO_INDEX:
 * none), which it turns to when that is another one than before. */
void plumb_form_table_show (PlumbFormTable *self, guint first, guint count, guint current);
/* The cell of a field of a record; NULL if the field is no column. Turns to
 * the record. */
PlumbFormCell *plumb_form_table_cell (PlumbFormTable *self, guint index, int field);
