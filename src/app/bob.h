/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plumb bob and its line, as in the header, on the tape and in an empty pane. */
#pragma once

#include <cairo.h>

/* Height of the bob from the knot to the tip, px. */
#define PLUMB_BOB_PX 25.0

/* Line from (x, top) down, the bob's tip at (x, tip); in the context's source. */
void plumb_bob_draw (cairo_t *cr, double x, double top, double tip);
