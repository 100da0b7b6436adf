/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one line of the comparison is about, and its words for an arrangement. No GTK. */
#pragma once

#include <gio/gio.h>

#include "app/document.h"

#define PLUMB_TYPE_COMPARE_LINE (plumb_compare_line_get_type ())
G_DECLARE_FINAL_TYPE (PlumbCompareLine, plumb_compare_line, PLUMB, COMPARE_LINE, GObject)

/* The lines that say something of at least one of the first n arrangements,
 * as PlumbCompareLine. */
GPtrArray *plumb_compare_lines (PlumbDocument *document, guint n_arrangements);
const char *plumb_compare_line_name (PlumbCompareLine *self);
/* "" where the figure needs no more words. */
const char *plumb_compare_line_meaning (PlumbCompareLine *self);
/* The caller's; "–" where the arrangement has none. *verdict: of the check or
 * of the whole, -1 for a plain figure. */
char *plumb_compare_line_value (PlumbCompareLine *self, PlumbDocument *document, guint arrangement, int *verdict);
