/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Before and after in one picture: two pictures side by side with a rule of
 * the accent between them, each over a foot that says what it is. Rows from
 * the top, RGBA, 8 bits each.
 */
#pragma once

#include <stdint.h>

#include "draw/theme.h"
#include "plumbeam/evaluate.h"

/* Smaller pictures have no room for words. */
#define PLUMB_HALVES_LEAST_PX 160

/* Where things stand, px; both pictures are of the same size. */
typedef struct {
  int width_px, height_px;           /* of the whole */
  int half_width_px, half_height_px; /* of each picture */
  int rule_px, foot_px;
  double unit; /* px for each of the look's */
} PlumbHalvesLayout;

PlumbHalvesLayout plumb_draw_halves_layout (int width_px, int height_px);

/* Words of a foot; finding NULL: no verdict. */
typedef struct {
  const char *title, *name, *light, *figures;
  const PlumbFinding *finding;
  const uint8_t *rgba; /* half_width_px × half_height_px */
} PlumbDrawHalf;

/* g_malloc'ed, width × height × 4; NULL when cairo cannot. */
uint8_t *plumb_draw_halves (const PlumbHalvesLayout *layout, const PlumbDrawHalf halves[2],
                            const PlumbDrawTheme *theme);
