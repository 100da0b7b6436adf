/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drop-down that keeps the width it is given: its button shortens the item
 * shown, its list does not. */
#pragma once

#include <gtk/gtk.h>

/* Takes the items. */
GtkWidget *plumb_form_drop_down_new (GtkStringList *items);
/* Other items, where they are others. */
void plumb_form_drop_down_fill (GtkStringList *items, const char *const *names);
