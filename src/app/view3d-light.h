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

#include "app/document.h"

#define PLUMB_TYPE_VIEW3D_LIGHT (plumb_view3d_light_get_type ())
G_DECLARE_FINAL_TYPE (PlumbView3dLight, plumb_view3d_light, PLUMB, VIEW3D_LIGHT, GtkBox)

GtkWidget *plumb_view3d_light_new (PlumbDocument *document);
/* Luminance of white and of black over that of white in the dark. */
void plumb_view3d_light_shares (PlumbView3dLight *self, double *white_share, double *black_share);
