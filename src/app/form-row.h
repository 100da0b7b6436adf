/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One field of one record as a line of the form. */
#pragma once

#include "form-cell.h"

#define PLUMB_TYPE_FORM_ROW (plumb_form_row_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormRow, plumb_form_row, PLUMB, FORM_ROW, GtkBox)

GtkWidget *plumb_form_row_new (PlumbDocument *document, PlumbRecordKind kind, int field);
PlumbFormCell *plumb_form_row_cell (PlumbFormRow *self);
void plumb_form_row_set_index (PlumbFormRow *self, guint index);
/* Shows value, verdict and note anew; hidden while the field does not apply. */
void plumb_form_row_refresh (PlumbFormRow *self);
/* A number that nobody typed and that no finding is about. */
gboolean plumb_form_row_is_assumed (PlumbFormRow *self);
/* Leaves it to the row below to say that both are assumed. */
void plumb_form_row_set_quiet (PlumbFormRow *self, gboolean quiet);
/* The note below, "" if there is none. */
const char *plumb_form_row_note (PlumbFormRow *self);
/* On what a value rests that nobody typed. */
const char *plumb_form_assumed_basis (PlumbRecordKind kind, const PlumbField *field);
