/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which distances the drawings from above and below are dimensioned with. */
#pragma once

#include "draw/parts-private.h"

void plumb_draw_screen_above (PlumbPen *pen);
/* Wall, picture, wall along the picture's plane. */
void plumb_strings_across (PlumbPen *pen, PlumbEdge edge, int level);
/* Greatest extent of the picture's space across and along. */
void plumb_strings_room_width (PlumbPen *pen, PlumbEdge edge, int level);
void plumb_strings_room_depth (PlumbPen *pen, PlumbEdge edge, int level);
/* Two levels from `level`: picture, lens, wall behind; wall, plate, wall. */
void plumb_strings_lens_and_plate (PlumbPen *pen, PlumbEdge edge, int level);
/* Two levels from `level`: wall, plate, wall, and the same for the lens where
 * it is not on the same line. */
void plumb_strings_across_room (PlumbPen *pen, PlumbEdge edge, int level);
/* Wall, beams that stand in the room, wall. */
void plumb_strings_members (PlumbPen *pen, PlumbEdge edge, int level);
