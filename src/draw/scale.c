/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/draw.h"

/* Drawing scales of common practice; past the last one they go on in steps
 * of 1, 2, 5 (metric) and 1, 2, 5 times an inch to ten feet (imperial). */
static const double metric[] = { 1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 1000 };

static const struct {
  double ratio;
  const char *words;
} imperial[] = {
  { 1, "1′ = 1′" },    { 2, "6″ = 1′" },      { 4, "3″ = 1′" },      { 8, "1 1/2″ = 1′" }, { 12, "1″ = 1′" },
  { 16, "3/4″ = 1′" }, { 24, "1/2″ = 1′" },   { 32, "3/8″ = 1′" },   { 48, "1/4″ = 1′" },  { 64, "3/16″ = 1′" },
  { 96, "1/8″ = 1′" }, { 128, "3/32″ = 1′" }, { 192, "1/16″ = 1′" }, { 240, "1″ = 20′" },  { 360, "1″ = 30′" },
  { 480, "1″ = 40′" }, { 600, "1″ = 50′" },   { 1200, "1″ = 100′" },
};

/* Continues 1, 2, 5 from a decade that begins at `last`. */
static double
decade_at_least (double ratio, double last)
{
  static const double steps[] = { 1.0, 2.0, 5.0 };
  for (double decade = last; decade < 1e12; decade *= 10.0)
    for (size_t i = 0; i < G_N_ELEMENTS (steps); i++)
      if (decade * steps[i] >= ratio)
        return decade * steps[i];
  return 1e12;
}

double
plumb_draw_scale_at_least (double ratio, int units)
{
  /* A hair of rounding must not cost a whole step. */
  ratio = isfinite (ratio) ? ratio * (1.0 - 1e-9) : 1e12;
  if (units == PLUMB_UNITS_IMPERIAL)
    {
      for (size_t i = 0; i < G_N_ELEMENTS (imperial); i++)
        if (imperial[i].ratio >= ratio)
          return imperial[i].ratio;
      return decade_at_least (ratio, imperial[G_N_ELEMENTS (imperial) - 1].ratio);
    }
  for (size_t i = 0; i < G_N_ELEMENTS (metric); i++)
    if (metric[i] >= ratio)
      return metric[i];
  return decade_at_least (ratio, metric[G_N_ELEMENTS (metric) - 1]);
}

char *
plumb_draw_scale_words (double ratio, int units)
{
  if (units != PLUMB_UNITS_IMPERIAL)
    return g_strdup_printf ("1 : %.0f", ratio);
  for (size_t i = 0; i < G_N_ELEMENTS (imperial); i++)
    if (fabs (imperial[i].ratio - ratio) < 0.5)
      return g_strdup (imperial[i].words);
  if (ratio > 1200.0)
    return g_strdup_printf ("1″ = %.0f′", ratio / 12.0);
  return g_strdup_printf ("1 : %.0f", ratio);
}
