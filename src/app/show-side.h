/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One side of before and after: what it shows, its 3D area, its foot. */
#pragma once

#include "app/view3d-area.h"
#include "app/view3d-light.h"

typedef struct {
  PlumbView3dHalf *half;
  GtkWidget *area; /* NULL: not made yet */
  GtkWidget *foot, *head, *title, *light, *figures;
} PlumbShowSide;

/* All but the area; widgets are floating until they are put somewhere. */
void plumb_show_side_init (PlumbShowSide *side, PlumbDocument *document, const char *title);
void plumb_show_side_clear (PlumbShowSide *side);
/* The foot says anew what the figures are. */
void plumb_show_side_tell (PlumbShowSide *side);
/* The light of the foot falls into the area. */
void plumb_show_side_lit (PlumbShowSide *side);
/* A line that shortens at its end. */
GtkWidget *plumb_show_label_new (const char *text, const char *css_class);
