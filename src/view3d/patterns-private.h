/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The built-in content: drawn here, of our own. RGBA, sRGB, rows from the top.
 */
#pragma once

#include "view3d/view3d.h"

#define PLUMB_PATTERN_WIDTH_PX 1024

/* At this aspect, g_malloc'ed. */
uint8_t *plumb_pattern_draw (PlumbPattern pattern, double aspect, int *width_px, int *height_px);
