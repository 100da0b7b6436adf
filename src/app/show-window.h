/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Show: the 3D view over the whole screen, for the client. Nothing else is
 * there but a foot with the light and the places to look from; Escape or F11
 * leaves.
 *
 * Before and after: two pictures side by side through one eye. After is the
 * current arrangement; before is what is chosen at its foot, another
 * arrangement or the current one uncorrected. Each has its own light.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/view3d-area.h"
#include "app/view3d-light.h"

#define PLUMB_TYPE_SHOW_WINDOW (plumb_show_window_get_type ())
G_DECLARE_FINAL_TYPE (PlumbShowWindow, plumb_show_window, PLUMB, SHOW_WINDOW, GtkWindow)

typedef enum { PLUMB_SHOW_BEFORE, PLUMB_SHOW_AFTER, PLUMB_N_SHOWN } PlumbShowWhich;

/* Looks as `like` does, in light state `light`; like NULL: from home. */
PlumbShowWindow *plumb_show_window_new (PlumbDocument *document, PlumbView3dArea *like, guint light);
void plumb_show_window_set_both (PlumbShowWindow *self, gboolean both);
gboolean plumb_show_window_get_both (PlumbShowWindow *self);
/* Before is made when it is first shown: NULL until then. */
PlumbView3dArea *plumb_show_window_area (PlumbShowWindow *self, PlumbShowWhich which);
PlumbView3dLight *plumb_show_window_light (PlumbShowWindow *self, PlumbShowWhich which);
/* The list at the foot of before: the current arrangement first, then the same
 * uncorrected, then the others. */
GtkDropDown *plumb_show_window_choice (PlumbShowWindow *self);
/* What the foot of a side says of its picture. */
const char *plumb_show_window_figures (PlumbShowWindow *self, PlumbShowWhich which);
