/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-colours.h"

#include <string.h>

/* Share of the light in which a dark theme shows the same room. */
#define DARK_ROOM_LIGHT 0.2f

static void
take (float to[3], const PlumbDrawTheme *theme, PlumbDrawColour role)
{
  PlumbRgb rgb = plumb_draw_theme_colour (theme, role);
  const float colour[3] = { (float) rgb.r, (float) rgb.g, (float) rgb.b };
  memcpy (to, colour, sizeof colour);
}

PlumbView3dColours
plumb_view3d_colours (const PlumbDrawTheme *theme)
{
  PlumbView3dColours colours
      = { .room_light = theme->dark ? DARK_ROOM_LIGHT : 1.0f, .high_contrast = theme->high_contrast };
  /* The model stands on the bench, not on a sheet of paper. */
  take (colours.paper, theme, PLUMB_COLOUR_BENCH);
  take (colours.ink, theme, PLUMB_COLOUR_INK);
  take (colours.ink2, theme, PLUMB_COLOUR_INK2);
  take (colours.wall, theme, PLUMB_COLOUR_WALL);
  take (colours.accent, theme, PLUMB_COLOUR_ACCENT);
  take (colours.beam, theme, PLUMB_COLOUR_BEAM);
  take (colours.picture, theme, PLUMB_COLOUR_PICTURE);
  take (colours.sight, theme, PLUMB_COLOUR_SIGHT);
  take (colours.fails, theme, PLUMB_COLOUR_FAILS);
  return colours;
}
