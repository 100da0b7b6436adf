/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The form for its tests. */
#pragma once

#include "app/form.h"
#include "form-page.h"

/* The page of a step, made if it was not shown yet. */
PlumbFormPage *plumb_form_page_of (GtkWidget *form, PlumbStep step);
/* The section of a kind, on its page. */
PlumbFormSection *plumb_form_section_of (GtkWidget *form, PlumbRecordKind kind);
/* Turns to the record; NULL when there is no such cell. */
PlumbFormCell *plumb_form_cell_of (GtkWidget *form, PlumbRecordKind kind, guint index, int field);
