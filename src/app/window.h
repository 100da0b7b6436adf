/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The window: header, trouble strip, tape, form, strip of arrangements,
 * drawings and findings. It wires the tape to form and panes; everything else
 * goes through the document.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "app/trouble.h"

#define PLUMB_TYPE_WINDOW (plumb_window_get_type ())
G_DECLARE_FINAL_TYPE (PlumbWindow, plumb_window, PLUMB, WINDOW, GtkApplicationWindow)

/* state: sizes as they were left, see state.h; kept while the window lives. */
PlumbWindow *plumb_window_new (GtkApplication *application, PlumbDocument *document, GKeyFile *state);
PlumbTrouble *plumb_window_trouble (PlumbWindow *self);
/* Files opened before, newest first, for the menu. */
void plumb_window_show_recent (PlumbWindow *self, const char *const *paths);
/* Whether the job is the demo that came with the program. */
void plumb_window_set_demo (PlumbWindow *self, gboolean demo);
/* Writes sizes into the state; does not save it. */
void plumb_window_remember (PlumbWindow *self);
