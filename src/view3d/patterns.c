/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Built-in content, our own: a grid, a landscape without people, a page of text. */
#include "view3d-private.h"

#include <math.h>

#define WIDTH_PX 960
#define HEIGHT_PX 540

typedef struct {
  double r, g, b;
} Colour;

static Colour
mix (Colour a, Colour b, double t)
{
  return (Colour){ a.r + (b.r - a.r) * t, a.g + (b.g - a.g) * t, a.b + (b.b - a.b) * t };
}

/* Sixteen by nine fields, a border, a circle and a cross. */
static Colour
grid (int x, int y)
{
  const Colour paper = { 0.93, 0.93, 0.91 }, line = { 0.25, 0.27, 0.32 }, mark = { 0.37, 0.18, 0.45 };
  double dx = x - WIDTH_PX / 2.0 + 0.5, dy = y - HEIGHT_PX / 2.0 + 0.5, r = hypot (dx, dy);
  int cell = WIDTH_PX / 16, ix = x % cell, iy = y % cell;
  int edge = MIN (MIN (x, WIDTH_PX - 1 - x), MIN (y, HEIGHT_PX - 1 - y));

  if (edge < 5)
    return mark;
  if (fabs (r - HEIGHT_PX * 0.45) < 1.6 || ((fabs (dx) < 1.2 || fabs (dy) < 1.2) && r < 60.0))
    return mark;
  return ix == 0 || iy == 0 || ix == cell - 1 || iy == cell - 1 ? line : paper;
}

/* Evening over hills and water: gradients and three outlines. */
static Colour
landscape (int x, int y)
{
  const Colour zenith = { 0.24, 0.29, 0.47 }, glow = { 0.95, 0.66, 0.42 }, sun = { 1.0, 0.93, 0.76 };
  const Colour far_hill = { 0.40, 0.36, 0.45 }, near_hill = { 0.20, 0.22, 0.27 };
  double u = (double) x / WIDTH_PX, v = (double) y / HEIGHT_PX;
  double ridge = 0.60 - 0.07 * sin (3.1 * u + 0.6) - 0.03 * sin (9.7 * u);
  double shore = 0.80 - 0.05 * sin (2.3 * u + 2.1) - 0.012 * sin (17.0 * u);
  Colour c = mix (zenith, glow, pow (fmin (v / 0.62, 1.0), 1.4));

  c = mix (c, sun, exp (-300.0 * (pow ((u - 0.68) * 1.78, 2.0) + pow (v - 0.47, 2.0))));
  if (v > ridge)
    c = mix (far_hill, glow, 0.22 * (1.0 - fmin ((v - ridge) / 0.2, 1.0)));
  if (v > 0.70)
    c = mix (glow, zenith, fmin ((v - 0.70) / 0.25, 1.0) * (0.85 + 0.1 * sin (220.0 * v)));
  return v > shore ? near_hill : c;
}

/* Lines of dark bars, as words are from afar; each line smaller than the one before. */
static Colour
text (int x, int y)
{
  const Colour paper = { 0.95, 0.95, 0.93 }, ink = { 0.12, 0.13, 0.16 };
  int top = 50;

  for (int size = 44; size >= 8 && top < HEIGHT_PX - 30; size = size * 4 / 5)
    {
      int in = y - top;
      if (in >= 0 && in < size && x > 60 && x < WIDTH_PX - 60)
        {
          int letter = (x - 60) * 2 / size, within = (x - 60) * 2 % size;
          unsigned mixed = ((unsigned) letter * 2654435761u + (unsigned) size * 97u) >> 28;
          if (mixed > 2 && within > size / 5 && in > (mixed > 9 ? 0 : size / 3))
            return ink;
        }
      top += size * 2;
    }
  return paper;
}

uint8_t *
plumb_pattern_picture (PlumbPattern pattern, int *width_px, int *height_px)
{
  uint8_t *rgba = g_malloc ((gsize) WIDTH_PX * HEIGHT_PX * 4);
  uint8_t *at = rgba;

  *width_px = WIDTH_PX;
  *height_px = HEIGHT_PX;
  for (int y = 0; y < HEIGHT_PX; y++)
    for (int x = 0; x < WIDTH_PX; x++)
      {
        Colour c = pattern == PLUMB_PATTERN_GRID        ? grid (x, y)
                   : pattern == PLUMB_PATTERN_LANDSCAPE ? landscape (x, y)
                   : pattern == PLUMB_PATTERN_TEXT      ? text (x, y)
                   : pattern == PLUMB_PATTERN_WHITE     ? (Colour){ 1.0, 1.0, 1.0 }
                                                        : (Colour){ 0.0, 0.0, 0.0 };
        *at++ = (uint8_t) lround (255.0 * plumb_clamp (c.r, 0.0, 1.0));
        *at++ = (uint8_t) lround (255.0 * plumb_clamp (c.g, 0.0, 1.0));
        *at++ = (uint8_t) lround (255.0 * plumb_clamp (c.b, 0.0, 1.0));
        *at++ = 255;
      }
  return rgba;
}
