/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The records of one kind on a page of the form: their name, the signs add,
 * copy, up, down, remove, which act on the record shown, and its fields.
 * Nested kinds are sections inside the section of their owner.
 */
#pragma once

#include "form-cell.h"
#include "form-plan.h"

#define PLUMB_TYPE_FORM_SECTION (plumb_form_section_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormSection, plumb_form_section, PLUMB, FORM_SECTION, GtkBox)

/* A top-level kind. */
GtkWidget *plumb_form_section_new (PlumbDocument *document, const PlumbFormPlan *plan);
/* Shows what the document holds. */
void plumb_form_section_refresh (PlumbFormSection *self);
/* The record that the signs act on, PLUMB_NO_INDEX if there is none. */
guint plumb_form_section_current (PlumbFormSection *self);
/* The section of a kind: this one or one inside it; NULL if there is none. */
PlumbFormSection *plumb_form_section_find (PlumbFormSection *self, PlumbRecordKind kind);
/* Unfolds and turns to a record of this kind or of one nested in it; FALSE
 * when there is no such record. `field` is marked in the picture. */
gboolean plumb_form_section_show_record (PlumbFormSection *self, PlumbRecordKind kind, guint index, int field);
/* The cell of a field of the record shown, or of any row of the table. */
PlumbFormCell *plumb_form_section_cell (PlumbFormSection *self, guint index, int field);

/* What the signs do. The new record's index, PLUMB_NO_INDEX when it could not
 * be: then a note below the name says why. */
guint plumb_form_section_add (PlumbFormSection *self);
guint plumb_form_section_copy (PlumbFormSection *self);
gboolean plumb_form_section_move (PlumbFormSection *self, int by);
gboolean plumb_form_section_remove (PlumbFormSection *self);
