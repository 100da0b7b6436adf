/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The arrangements as a strip of round levels and names. F2 or a double click
 * renames, Delete removes, Alt+Left and Alt+Right or a drag reorder, '+'
 * copies the current one; all of it can be undone. What does not fit stands
 * behind '2 more'.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

#define PLUMB_TYPE_ARRANGEMENT_STRIP (plumb_arrangement_strip_get_type ())
G_DECLARE_FINAL_TYPE (PlumbArrangementStrip, plumb_arrangement_strip, PLUMB, ARRANGEMENT_STRIP, GtkWidget)

GtkWidget *plumb_arrangement_strip_new (PlumbDocument *document);
