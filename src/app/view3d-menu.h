/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What can be done with a 3D view by the menu of its pane: what is shown in
 * the room, what is thrown, saving the picture. The actions are the group
 * `view3d` of the pane.
 */
#pragma once

#include "app/view3d-area.h"

typedef struct PlumbView3dMenu PlumbView3dMenu;

/* Gives the pane the actions; neither pane nor area may go before it. */
PlumbView3dMenu *plumb_view3d_menu_new (GtkWidget *pane, PlumbView3dArea *area);
void plumb_view3d_menu_free (PlumbView3dMenu *menu);
/* Throws an image file in place of the pattern; says so when it cannot. */
gboolean plumb_view3d_menu_throw_image (PlumbView3dMenu *menu, const char *path);
/* Writes what is seen as a PNG; says so when it cannot. */
gboolean plumb_view3d_menu_save (PlumbView3dMenu *menu, const char *path);
