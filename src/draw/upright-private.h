/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the side and picture drawings share: the cut building. */
#pragma once

#include "draw/parts-private.h"
#include "draw/section-private.h"

/* Floor level of the picture's space; 0 without one. */
double plumb_upright_floor (const PlumbPen *pen);
/* Clear rooms. */
void plumb_upright_rooms (PlumbPen *pen, const PlumbSection *section);
/* Cut ceilings, floors and walls with their hatching. */
void plumb_upright_cut (PlumbPen *pen, const PlumbSection *section);
/* Eaves, ridges and steps of the picture's space beyond the cut. */
void plumb_upright_roof_edges (PlumbPen *pen);
/* Clips to the clear rooms; false when there is none. */
bool plumb_upright_clip (PlumbPen *pen, const PlumbSection *section);
