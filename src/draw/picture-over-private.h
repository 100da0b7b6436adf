/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies on the picture in its drawing: shadows, what is hidden from a
 * seat, and the machine's light as isolines. */
#pragma once

#include "draw/isolines.h"
#include "draw/parts-private.h"
#include "plumbeam/shades.h"

typedef struct {
  uint32_t seat;           /* whose view is asked for, PLUMB_NO_INDEX */
  PlumbShades shadows;     /* largest first */
  PlumbShades hidden;      /* likewise */
  bool has_light, to_seat; /* isolines; of luminance to the seat, else of lux */
  PlumbIsolines light;
} PlumbPictureOver;

void plumb_picture_over_init (PlumbPictureOver *over, const PlumbPen *pen);
void plumb_picture_over_clear (PlumbPictureOver *over);
void plumb_picture_over_draw_shades (PlumbPen *pen, const PlumbPictureOver *over);
void plumb_picture_over_draw_light (PlumbPen *pen, const PlumbPictureOver *over);
/* What the tones and lines mean, over the foot of the page. */
void plumb_picture_over_draw_key (PlumbPen *pen, const PlumbPictureOver *over);

/* View point of a point of the picture frame. */
PlumbVec2 plumb_picture_point (const PlumbPen *pen, PlumbVec2 point_m);
/* "350 lx", "1.5 cd/m²": as many places as the step between lines needs. */
char *plumb_picture_light_words (const PlumbPictureOver *over, double value);
