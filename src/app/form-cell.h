/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One field of one record as a control: an entry, a drop-down or a check
 * button. Rows and table rows of the form are made of these.
 *
 * What is typed goes into the document when the keyboard leaves the control
 * or Enter is pressed. What does not fit stays as typed, with the sentence
 * that says why, and the document keeps its value. Escape brings the value
 * back, Ctrl+Delete makes the field assumed again, Ctrl+Enter takes an
 * assumed value as it stands.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

#define PLUMB_TYPE_FORM_CELL (plumb_form_cell_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormCell, plumb_form_cell, PLUMB, FORM_CELL, GtkWidget)

/* Signals: `noted` after trouble came or went and after every refresh,
 * `entered` after Enter put a value in. */
GtkWidget *plumb_form_cell_new (PlumbDocument *document, PlumbRecordKind kind, int field);
/* Which record; PLUMB_NO_INDEX is none. A half-typed text for another record
 * is dropped. */
void plumb_form_cell_set_index (PlumbFormCell *self, guint index);
guint plumb_form_cell_index (PlumbFormCell *self);
int plumb_form_cell_field (PlumbFormCell *self);
/* Shows what the document holds, unless something else is being typed. */
void plumb_form_cell_refresh (PlumbFormCell *self);
/* Whether the field applies to its record. */
gboolean plumb_form_cell_applies (PlumbFormCell *self);
gboolean plumb_form_cell_is_typed (PlumbFormCell *self);
/* Why the typed text was not taken; NULL when all is well. */
const char *plumb_form_cell_trouble (PlumbFormCell *self);
/* Names the control after one or two labels (the second may be NULL). */
void plumb_form_cell_name (PlumbFormCell *self, GtkWidget *label, GtkWidget *second);

/* Puts the keyboard into the control. */
gboolean plumb_form_cell_focus (PlumbFormCell *self);

/* What keys do. Each returns whether the document holds what is shown. */
gboolean plumb_form_cell_commit (PlumbFormCell *self);
gboolean plumb_form_cell_confirm (PlumbFormCell *self);
void plumb_form_cell_restore (PlumbFormCell *self);
gboolean plumb_form_cell_reset (PlumbFormCell *self);
/* Types a text and Enter; chooses the item with this label, or the record with
 * this id; "true" and "false" for a check button. FALSE when it was not taken
 * or there is no such item. */
gboolean plumb_form_cell_type (PlumbFormCell *self, const char *text);
