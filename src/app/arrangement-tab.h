/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One arrangement of the strip: its round level and name, and the entry in
 * which it is renamed.
 *
 * Signal `renamed` (text): a new name was typed; the handler says whether it
 * could be taken.
 */
#pragma once

#include <gtk/gtk.h>

#include "plumbeam/evaluate.h"

#define PLUMB_TYPE_ARRANGEMENT_TAB (plumb_arrangement_tab_get_type ())
G_DECLARE_FINAL_TYPE (PlumbArrangementTab, plumb_arrangement_tab, PLUMB, ARRANGEMENT_TAB, GtkWidget)

GtkWidget *plumb_arrangement_tab_new (void);
void plumb_arrangement_tab_show (PlumbArrangementTab *self, const char *name, PlumbVerdict worst, gboolean current);
void plumb_arrangement_tab_rename (PlumbArrangementTab *self);
