/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The form: one page per step of the work, built wholly from the record
 * lists. A page is made when it is first shown.
 *
 * It talks to the document only: what is typed goes into it at once, and after
 * `changed` the rows show what it holds without taking the keyboard or a
 * half-typed text from anybody. `selected` turns it to the record. A row that
 * gets the keyboard selects its record.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

GtkWidget *plumb_form_new (PlumbDocument *document);
/* Turns to the page of a step. */
void plumb_form_show_step (GtkWidget *form, PlumbStep step);
/* Turns to a record and puts the keyboard into a field of it (-1: only turns).
 * FALSE when there is no such record, or the field does not apply to it. */
gboolean plumb_form_focus_field (GtkWidget *form, PlumbRecordKind kind, guint index, int field);
