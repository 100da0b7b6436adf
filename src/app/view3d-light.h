/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The foot of the 3D pane: the light states by name, the one that is seen bold
 * under a rule; below it lux on the screen, contrast, its verdict and what is
 * wanted. The dark room stands first.
 *
 * Signal `lit`: another light is to be seen.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/view3d-half.h"

#define PLUMB_TYPE_VIEW3D_LIGHT (plumb_view3d_light_get_type ())
G_DECLARE_FINAL_TYPE (PlumbView3dLight, plumb_view3d_light, PLUMB, VIEW3D_LIGHT, GtkBox)

GtkWidget *plumb_view3d_light_new (PlumbView3dHalf *half);
/* Index of the light state that is seen, PLUMB_NO_INDEX: the dark room. */
guint plumb_view3d_light_get (PlumbView3dLight *self);
void plumb_view3d_light_choose (PlumbView3dLight *self, guint light);
/* At the right ends of the states and of what is said of the one that is seen. */
void plumb_view3d_light_put_beside (PlumbView3dLight *self, GtkWidget *above, GtkWidget *below);
/* Luminance of white and of black over that of white in the dark. */
void plumb_view3d_light_shares (PlumbView3dLight *self, double *white_share, double *black_share);
