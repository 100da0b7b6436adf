/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Figures among the fields, without a rule and without a field: what zoom,
 * shift and attitude were solved to, and what was made of a data sheet's
 * throw, offset and lines.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

#define PLUMB_TYPE_FORM_FIGURE (plumb_form_figure_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormFigure, plumb_form_figure, PLUMB, FORM_FIGURE, GtkBox)

/* Appends the figures that stand behind a field of a kind to the box, and the
 * widgets to the array. */
void plumb_form_figures_append (GPtrArray *figures, GtkBox *box, PlumbDocument *document, PlumbRecordKind kind,
                                int after_field);
void plumb_form_figure_set_index (PlumbFormFigure *self, guint index);
/* Shows it anew; hidden where it does not apply. */
void plumb_form_figure_refresh (PlumbFormFigure *self);
const char *plumb_form_figure_label (PlumbFormFigure *self);
/* As shown, "–" where it is not known. */
const char *plumb_form_figure_shown (PlumbFormFigure *self);
