/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A frame without looks round one child that says when its own width has
 * changed, so that a pane can leave out columns that do not fit. Signal
 * `width` (int): after the size was given, never while it is being given.
 */
#pragma once

#include <gtk/gtk.h>

#define PLUMB_TYPE_WIDTH_BIN (plumb_width_bin_get_type ())
G_DECLARE_FINAL_TYPE (PlumbWidthBin, plumb_width_bin, PLUMB, WIDTH_BIN, GtkWidget)

GtkWidget *plumb_width_bin_new (GtkWidget *child);
