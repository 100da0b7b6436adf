/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A pane with one of the four drawings, its head with their names, pan, zoom,
 * selection and drag. Two of them may show the same document.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "draw/draw.h"

/* kind: the view that is shown first. */
GtkWidget *plumb_drawing_pane_new (PlumbDocument *document, PlumbDrawKind kind);
/* The view that is shown now. */
PlumbDrawKind plumb_drawing_pane_get_kind (GtkWidget *pane);
