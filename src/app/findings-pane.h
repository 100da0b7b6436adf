/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The findings of the arrangement shown, worst first; folded it is one line
 * with the four counts. In their place the table of seats may stand. Compared: the figures of all arrangements side by
 * side, one column each.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

GtkWidget *plumb_findings_pane_new (PlumbDocument *document);
void plumb_findings_pane_set_compare (GtkWidget *pane, gboolean compare);
gboolean plumb_findings_pane_get_compare (GtkWidget *pane);
void plumb_findings_pane_set_folded (GtkWidget *pane, gboolean folded);
gboolean plumb_findings_pane_get_folded (GtkWidget *pane);
/* How many rows of one line are seen at least when it is not folded. */
void plumb_findings_pane_set_rows (GtkWidget *pane, guint rows);
