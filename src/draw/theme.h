/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Colours of the drawings by role, in five themes. Verdicts are never told by
 * colour alone; paper always takes the print theme.
 */
#pragma once

#include <stdbool.h>
#include <stdint.h>

typedef enum {
  PLUMB_THEME_PRINT,
  PLUMB_THEME_LIGHT,
  PLUMB_THEME_DARK,
  PLUMB_THEME_CONTRAST,
  PLUMB_THEME_CONTRAST_DARK,
  PLUMB_N_THEMES
} PlumbDrawThemeId;

/* bench: frame of the window; paper: ground of a drawing; sheet: clear floors
 * and faces in it; rule, hatch, blocker and picture are for lines, never for
 * text. */
typedef enum {
  PLUMB_COLOUR_BENCH,
  PLUMB_COLOUR_PAPER,
  PLUMB_COLOUR_SHEET,
  PLUMB_COLOUR_EDGE,
  PLUMB_COLOUR_RULE,
  PLUMB_COLOUR_INK,
  PLUMB_COLOUR_INK2,
  PLUMB_COLOUR_INK3,
  PLUMB_COLOUR_ACCENT,
  PLUMB_COLOUR_ACCENT_SOFT,
  PLUMB_COLOUR_ON_ACCENT,
  PLUMB_COLOUR_LAMP,
  PLUMB_COLOUR_BEAM,
  PLUMB_COLOUR_PICTURE,
  PLUMB_COLOUR_HOLDS,
  PLUMB_COLOUR_TIGHT,
  PLUMB_COLOUR_FAILS,
  PLUMB_COLOUR_UNKNOWN,
  PLUMB_COLOUR_HOLDS_SOFT,
  PLUMB_COLOUR_TIGHT_SOFT,
  PLUMB_COLOUR_FAILS_SOFT,
  PLUMB_COLOUR_UNKNOWN_SOFT,
  PLUMB_COLOUR_WALL,
  PLUMB_COLOUR_HATCH,
  PLUMB_COLOUR_BLOCKER,
  PLUMB_COLOUR_BLOCKER_SOFT,
  PLUMB_COLOUR_TIMBER,
  PLUMB_COLOUR_SIGHT,
  PLUMB_COLOUR_SHADOW,
  PLUMB_COLOUR_RUN_POWER,
  PLUMB_COLOUR_RUN_SIGNAL,
  PLUMB_COLOUR_RUN_NET,
  PLUMB_COLOUR_FOCUS,
  PLUMB_N_COLOURS
} PlumbDrawColour;

typedef struct {
  PlumbDrawThemeId id;
  bool dark;          /* light lines on a dark ground: light is drawn fainter */
  bool high_contrast; /* soft fills equal the ground, hatching is twice as wide */
} PlumbDrawTheme;

/* 0 to 1 each. */
typedef struct {
  double r, g, b;
} PlumbRgb;

const PlumbDrawTheme *plumb_draw_theme (PlumbDrawThemeId id);
PlumbRgb plumb_draw_theme_colour (const PlumbDrawTheme *theme, PlumbDrawColour role);
