/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The name of what is chosen, on a leader over the 3D view. */
#pragma once

#include <gtk/gtk.h>

#include "app/view3d-eye.h"

/* Draws nothing when nothing is chosen, or what is chosen is out of sight or
 * has no one place in the room (a wall, a ceiling). */
void plumb_view3d_label_snapshot (GtkWidget *widget, GtkSnapshot *snapshot, const PlumbView3dPlace *place,
                                  const PlumbCamera *camera, PlumbSubject chosen);
/* px of the widget; FALSE when the point is behind the eye or beside the pane. */
gboolean plumb_view3d_label_point (const PlumbView3dPlace *place, const PlumbCamera *camera, PlumbVec3 point_m,
                                   PlumbVec2 *at);
