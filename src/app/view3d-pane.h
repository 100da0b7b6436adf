/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The pane with the 3D view: a head with the places to look from, the view,
 * and a foot that says in which light the room is seen.
 *
 * The view is made after the first frame of its window, which OpenGL would
 * hold up. Where there is no OpenGL the pane says why and shows the drawing
 * of the picture; everything else goes on.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "app/show-window.h"
#include "app/view3d-area.h"
#include "app/view3d-menu.h"

#define PLUMB_TYPE_VIEW3D_PANE (plumb_view3d_pane_get_type ())
G_DECLARE_FINAL_TYPE (PlumbView3dPane, plumb_view3d_pane, PLUMB, VIEW3D_PANE, GtkBox)

GtkWidget *plumb_view3d_pane_new (PlumbDocument *document);
/* NULL before the first frame, and where there is no 3D. */
PlumbView3dArea *plumb_view3d_pane_get_area (PlumbView3dPane *self);
PlumbView3dMenu *plumb_view3d_pane_get_menu (PlumbView3dPane *self);
/* The view over the whole screen, as it is seen here; both: before and after. */
void plumb_view3d_pane_show (PlumbView3dPane *self, gboolean both);
/* NULL when it is not shown. */
PlumbShowWindow *plumb_view3d_pane_get_show (PlumbView3dPane *self);
