/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What all lines of the form share: label at the left, value, unit and vial
 * in columns at the right, a note in small text below. Rows and figures fill
 * it.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

typedef struct {
  GtkWidget *label, *unit, *vial, *note;
} PlumbFormLine;

/* How much room the value has. */
typedef enum { PLUMB_FORM_NUMBER, PLUMB_FORM_CHOICE, PLUMB_FORM_FLAG } PlumbFormWidth;

/* Puts the parts into an upright box. */
void plumb_form_line_fill (PlumbFormLine *line, GtkBox *box, PlumbDocument *document, const char *label,
                           GtkWidget *value, PlumbFormWidth width);
void plumb_form_line_show_unit (PlumbFormLine *line, const char *unit);
/* Takes the text; NULL: no note. css_class "fails" or NULL. */
void plumb_form_line_show_note (PlumbFormLine *line, char *text, const char *css_class);
/* NULL: none. */
void plumb_form_line_show_finding (PlumbFormLine *line, const PlumbFinding *finding);
