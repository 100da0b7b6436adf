/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colours of the 3D view by the roles of the drawings. No GTK: the command
 * line's pictures have them too. */
#pragma once

#include "draw/theme.h"
#include "view3d/view3d.h"

PlumbView3dColours plumb_view3d_colours (const PlumbDrawTheme *theme);
