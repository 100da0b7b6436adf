/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One page of the form: title, a sentence, a section per record kind. */
#pragma once

#include "form-section.h"

#define PLUMB_TYPE_FORM_PAGE (plumb_form_page_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormPage, plumb_form_page, PLUMB, FORM_PAGE, GtkBox)

GtkWidget *plumb_form_page_new (PlumbDocument *document, PlumbStep step);
void plumb_form_page_refresh (PlumbFormPage *self);
/* The section of a kind, nested ones too; NULL if it is not on this page. */
PlumbFormSection *plumb_form_page_section (PlumbFormPage *self, PlumbRecordKind kind);
/* Turns to a record, and scrolls so that it is seen unless the keyboard is in
 * the page. FALSE when there is no such record here. */
gboolean plumb_form_page_show_record (PlumbFormPage *self, PlumbRecordKind kind, guint index, int field);
