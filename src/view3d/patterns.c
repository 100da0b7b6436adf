/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/patterns-private.h"

#include <string.h>

typedef struct {
  float r, g, b;
} Tone;

/* What is the same all the way down, worked out once. */
typedef struct {
  double x;
  double far_ridge, near_ridge, wave; /* landscape */
} Column;

typedef struct {
  double width, height; /* of the picture, height 1 */
  double pixel;
} Sheet;

static Tone
mix (Tone a, Tone b, double t)
{
  float k = (float) plumb_clamp (t, 0.0, 1.0);
  return (Tone){ a.r + (b.r - a.r) * k, a.g + (b.g - a.g) * k, a.b + (b.b - a.b) * k };
}

/* Share of a pixel on the inner side, `depth` from an edge. */
static double
cover (const Sheet *sheet, double depth)
{
  return plumb_clamp (0.5 + depth / sheet->pixel, 0.0, 1.0);
}

/* ---- grid: squares, a circle, the diagonals, an edge ------------------------------ */

static double
line (const Sheet *sheet, double off, double half_width)
{
  return cover (sheet, half_width - fabs (off));
}

static Tone
grid (const Sheet *sheet, double x, double y)
{
  const Tone ground = { 0.13f, 0.14f, 0.17f }, field = { 0.20f, 0.22f, 0.26f }, stroke = { 0.93f, 0.92f, 0.88f };
  const Tone lamp = { 0.95f, 0.72f, 0.30f };
  double cx = x - sheet->width / 2.0, cy = y - 0.5, step = 0.125;
  bool odd = (((int) floor (cx / step) + (int) floor (cy / step)) & 1) != 0;
  Tone c = odd ? ground : field;
  double fine = fmax (line (sheet, remainder (cx, step), 0.0016), line (sheet, remainder (cy, step), 0.0016));
  double slope = 1.0 / sheet->width, square = sqrt (1.0 + slope * slope);
  double diagonal
      = fmax (line (sheet, (cy - cx * slope) / square, 0.0016), line (sheet, (cy + cx * slope) / square, 0.0016));
  double ring = line (sheet, hypot (cx, cy) - 0.4375, 0.003);
  double cross = fmax (line (sheet, cx, 0.003), line (sheet, cy, 0.003));
  double edge = cover (sheet, fmax (fabs (cx) - sheet->width / 2.0, fabs (cy) - 0.5) + 0.012);

  c = mix (c, stroke, 0.55 * fmax (fine, diagonal));
  c = mix (c, stroke, fmax (ring, cross));
  return mix (c, lamp, edge);
}

/* ---- landscape: evening over water, nobody in it ------------------------------------ */

static double
ridge (double x, double phase, double height)
{
  return height * (0.6 + 0.3 * sin (2.1 * x + phase) + 0.16 * sin (5.3 * x + 1.7 * phase) + 0.05 * sin (13.0 * x));
}

static Tone
sky (double height)
{
  const Tone low = { 0.99f, 0.79f, 0.55f }, middle = { 0.93f, 0.62f, 0.52f }, high = { 0.42f, 0.40f, 0.58f };
  return height < 0.42 ? mix (low, middle, height / 0.42) : mix (middle, high, (height - 0.42) / 0.58);
}

/* Fades off from a middle; under a thousandth it is left out. */
static double
halo (double off)
{
  return off * off < 7.0 ? exp (-off * off) : 0.0;
}

static Tone
water (const Column *column, double depth, double sun_x)
{
  const Tone far = { 0.93f, 0.70f, 0.55f }, near = { 0.25f, 0.27f, 0.40f }, glint = { 1.00f, 0.88f, 0.66f };
  double ripple = sin (420.0 * sqrt (depth + 0.01) + 7.0 * column->wave);
  double path = halo ((column->x - sun_x) / (0.05 + 0.30 * depth));
  double share = depth / 0.42;

  Tone c = mix (far, near, 0.4 * sqrt (share) + 0.6 * share);
  c = mix (c, glint, 0.55 * path * (0.6 + 0.4 * ripple));
  return mix (c, near, 0.10 * plumb_clamp (ripple, 0.0, 1.0));
}

/* A sail: two curved cloths over a hull. */
static Tone
sail (const Sheet *sheet, double x, double up, Tone c)
{
  const Tone cloth = { 0.33f, 0.30f, 0.40f }, hull = { 0.20f, 0.19f, 0.27f };

  if (x < -0.12 || x > 0.15 || up < -0.01 || up > 0.31)
    return c;
  double h = up / 0.30;
  double right = 0.105 * (1.0 - h) * (1.0 + 0.35 * sin (PLUMB_PI * plumb_clamp (h, 0.0, 1.0)));
  double main_sail = fmin (fmin (x - 0.006, right - x), fmin (up - 0.03, 0.30 - up));
  double fore = fmin (fmin (-x - 0.004, x + 0.07 * (1.0 - h * 1.15)), fmin (up - 0.035, 0.26 - up));
  double boat = fmin (fmin (x + 0.085 - 0.5 * (0.02 - up), 0.10 - x - 0.5 * (0.02 - up)), fmin (up, 0.022 - up));

  c = mix (c, cloth, cover (sheet, fmax (main_sail, fore)));
  return mix (c, hull, cover (sheet, boat));
}

static Tone
landscape (const Sheet *sheet, const Column *column, double y)
{
  const Tone sun = { 1.00f, 0.95f, 0.80f }, far = { 0.62f, 0.50f, 0.60f }, near = { 0.43f, 0.38f, 0.52f };
  double up = 0.58 - y, sun_x = 0.64 * sheet->width, boat_x = column->x - 0.33 * sheet->width;

  if (up <= 0.0)
    return sail (sheet, boat_x, up + 0.055, water (column, -up, sun_x));
  double off = sqrt ((column->x - sun_x) * (column->x - sun_x) + (up - 0.19) * (up - 0.19));
  Tone c = sky (up / 0.58);
  c = mix (c, sun, 0.35 * halo (off / 0.13));
  c = mix (c, sun, cover (sheet, 0.045 - off));
  c = mix (c, far, cover (sheet, column->far_ridge - up));
  c = mix (c, near, cover (sheet, column->near_ridge - up));
  return sail (sheet, boat_x, up + 0.055, c);
}

/* ---- a page of text: bars where words would stand ------------------------------------- */

static double
word_ends (int row, double x, double *start)
{
  double at = 0.0;

  for (int i = 0; at < x; i++)
    {
      *start = at;
      unsigned h = ((unsigned) row * 2654435761u) ^ ((unsigned) i * 40503u);
      at += 0.035 + 0.09 * (double) ((h >> 7) & 255) / 255.0;
    }
  return at;
}

static Tone
text (const Sheet *sheet, double x, double y)
{
  const Tone page = { 0.98f, 0.97f, 0.94f }, ink = { 0.14f, 0.15f, 0.18f }, head = { 0.37f, 0.18f, 0.45f };
  double margin = 0.09, left = x - margin, width = sheet->width - 2.0 * margin, start = 0.0;

  if (left < 0.0 || left > width || y < margin || y > 1.0 - margin)
    return page;
  if (y < 0.20)
    return mix (page, head, cover (sheet, fmin (fmin (y - 0.10, 0.165 - y), 0.42 * width - left)));
  double pitch = 0.062, down = fmod (y - 0.24, pitch);
  int row = (int) floor ((y - 0.24) / pitch);
  double length = row % 4 == 3 ? 0.55 * width : width, end = fmin (word_ends (row, left, &start), length);
  if (y < 0.24 || left > length)
    return page;
  return mix (page, ink,
              0.82 * cover (sheet, fmin (fmin (down, 0.024 - down), fmin (left - start, end - 0.014 - left))));
}

/* ---- all of them ------------------------------------------------------------------------ */

static Tone
tone_at (PlumbPattern pattern, const Sheet *sheet, const Column *column, double y)
{
  switch (pattern)
    {
    case PLUMB_PATTERN_GRID:
      return grid (sheet, column->x, y);
    case PLUMB_PATTERN_LANDSCAPE:
      return landscape (sheet, column, y);
    case PLUMB_PATTERN_TEXT:
      return text (sheet, column->x, y);
    case PLUMB_PATTERN_WHITE:
      return (Tone){ 1.0f, 1.0f, 1.0f };
    case PLUMB_PATTERN_BLACK:
    case PLUMB_N_PATTERNS:
      break;
    }
  return (Tone){ 0.0f, 0.0f, 0.0f };
}

static uint8_t
byte (float share)
{
  return (uint8_t) (share * 255.0f + 0.5f);
}

uint8_t *
plumb_pattern_draw (PlumbPattern pattern, double aspect, int *width_px, int *height_px)
{
  bool plain = pattern == PLUMB_PATTERN_WHITE || pattern == PLUMB_PATTERN_BLACK;
  aspect = isfinite (aspect) ? plumb_clamp (aspect, 0.25, 4.0) : 1.0;
  int w = plain ? 4 : PLUMB_PATTERN_WIDTH_PX, h = plain ? 4 : (int) lrint (w / aspect);
  uint8_t *rgba = g_malloc ((gsize) w * (gsize) h * 4), *at = rgba;
  Sheet sheet = { aspect, 1.0, 1.0 / h };
  g_autofree Column *columns = g_new (Column, w);

  for (int i = 0; i < w; i++)
    {
      double x = (i + 0.5) / w * aspect;
      columns[i] = (Column){ x, ridge (x, 0.4, 0.17), ridge (x * 1.4, 2.9, 0.085), sin (9.0 * x) };
    }
  for (int row = 0; row < h; row++)
    for (int column = 0; column < w; column++, at += 4)
      {
        Tone c = tone_at (pattern, &sheet, &columns[column], (row + 0.5) / h);
        at[0] = byte (c.r);
        at[1] = byte (c.g);
        at[2] = byte (c.b);
        at[3] = 255;
      }
  *width_px = w;
  *height_px = h;
  return rgba;
}
