/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "view3d/view3d.h"

/* Tiles no larger than this, as if OpenGL took no more; 0: what it takes. For the tests. */
void plumb_offscreen_limit (PlumbOffscreen *offscreen, int tile_px);
