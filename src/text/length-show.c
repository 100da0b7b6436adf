/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Showing lengths and other figures; declared in length.h. */
#include "text/length.h"

#include <math.h>
#include <string.h>

#define THIN "\u202f" /* narrow no-break space */
#define MINUS "\u2212"
#define SIXTEENTHS_PER_FT (16 * 12)

static bool
is_plain (unsigned show)
{
  return (show & PLUMB_SHOW_PLAIN) != 0;
}

static const char *
gap (unsigned show)
{
  return is_plain (show) ? " " : THIN;
}

static char *
dash (unsigned show)
{
  return g_strdup (is_plain (show) ? "-" : "\u2013");
}

/* Digits without a sign; nothing that rounds to zero keeps a minus. */
static char *
signed_digits (double value, int decimals, unsigned show)
{
  char format[8], buffer[400];
  g_snprintf (format, sizeof format, "%%.%df", CLAMP (decimals, 0, 17));
  g_ascii_formatd (buffer, sizeof buffer, format, fabs (value));
  bool zero = strspn (buffer, "0.") == strlen (buffer);
  const char *sign = zero || value > 0.0 ? "" : is_plain (show) ? "-" : MINUS;
  return g_strconcat (sign, buffer, NULL);
}

char *
plumb_number_format (double value, int decimals, unsigned show)
{
  return isfinite (value) ? signed_digits (value, decimals, show) : dash (show);
}

static char *
with_unit (double value, int decimals, const char *unit, unsigned show)
{
  if (!isfinite (value))
    return dash (show);
  g_autofree char *digits = signed_digits (value, decimals, show);
  return g_strconcat (digits, gap (show), unit, NULL);
}

char *
plumb_angle_format (double radians, int decimals, unsigned show)
{
  if (!isfinite (radians))
    return dash (show);
  g_autofree char *digits = signed_digits (radians * 180.0 / PLUMB_PI, decimals, show);
  return g_strconcat (digits, is_plain (show) ? " deg" : "°", NULL);
}

char *
plumb_share_format (double share, int decimals, unsigned show)
{
  return with_unit (share * 100.0, decimals, "%", show);
}

/* ---- lengths ----------------------------------------------------------------------- */

/* Under 10 mm a tenth of a millimetre still tells tapes apart. */
static char *
millimetres (double metres, unsigned show)
{
  double mm = metres * 1000.0;
  int decimals = fabs (mm) < 9.95 && fabs (mm - nearbyint (mm)) > 0.05 ? 1 : 0;
  return with_unit (mm, decimals, "mm", show);
}

static char *
metric (double metres, unsigned show)
{
  if ((show & PLUMB_SHOW_METRES) == 0 && fabs (metres) < 0.0995)
    return millimetres (metres, show);
  if ((show & PLUMB_SHOW_NO_UNIT) != 0)
    return signed_digits (metres, 3, show);
  return with_unit (metres, 3, "m", show);
}

/* Whole inches and sixteenths, reduced: "8 1/8", "8", "1/8", "0". Behind feet
 * the whole inches are always there: 12′ 3/4″ is too easily read as 12¾″. */
static char *
inches (gint64 sixteenths, bool behind_feet, unsigned show)
{
  gint64 whole = sixteenths / 16, upper = sixteenths % 16, lower = 16;
  for (; upper != 0 && upper % 2 == 0; upper /= 2)
    lower /= 2;
  if (upper == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT, whole);
  if (whole == 0 && !behind_feet)
    return g_strdup_printf ("%" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, upper, lower);
  return g_strdup_printf ("%" G_GINT64_FORMAT "%s%" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, whole, gap (show), upper,
                          lower);
}

static char *
imperial (gint64 sixteenths, unsigned show)
{
  bool plain = is_plain (show);
  const char *sign = sixteenths >= 0 ? "" : plain ? "-" : MINUS;
  gint64 size = ABS (sixteenths), feet = size / SIXTEENTHS_PER_FT;
  g_autofree char *rest = inches (size % SIXTEENTHS_PER_FT, feet != 0, show);
  const char *inch_mark = plain ? "\"" : "″";
  if (feet == 0)
    return g_strconcat (sign, rest, inch_mark, NULL);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT "%s%s%s%s", sign, feet, plain ? "'" : "′", gap (show), rest,
                          inch_mark);
}

/* Beyond this, sixteenths of an inch mean nothing and would overflow. */
static bool
too_long_for_inches (double metres)
{
  return fabs (metres) > 1e9;
}

char *
plumb_length_format (double metres, int units, unsigned show)
{
  if (!isfinite (metres))
    return dash (show);
  if (units != PLUMB_UNITS_IMPERIAL || too_long_for_inches (metres))
    return metric (metres, show);
  return imperial ((gint64) llround (metres / PLUMB_M_PER_IN * 16.0), show);
}

/* Up to the next step, unless rounding of the sum is all that is over. */
static double
steps_up (double value, double step)
{
  return ceil (value / step - 1e-6);
}

char *
plumb_length_format_spread (double metres, int units, unsigned show)
{
  double size = fabs (metres);
  if (!isfinite (size))
    return dash (show);
  if (units == PLUMB_UNITS_IMPERIAL && !too_long_for_inches (size))
    return imperial ((gint64) steps_up (size, PLUMB_M_PER_IN / 16.0), show);
  double step_m = size < 0.00995 ? 0.0001 : 0.001;
  return metric (steps_up (size, step_m) * step_m, show);
}

/* ---- any figure ----------------------------------------------------------------------- */

typedef struct {
  const char *unit;
  int decimals;
  double scale;      /* shown = value × scale */
  const char *shown; /* behind the figure; NULL: lengths */
} UnitStyle;

static const UnitStyle unit_styles[] = {
  { "m", 3, 1.0, NULL },
  { "rad", 1, 180.0 / PLUMB_PI, "°" },
  { "share", 1, 100.0, " %" },
  { "ratio", 2, 1.0, "" },
  { "px_per_mm", 2, 1.0, " px/mm" },
  { "px_per_deg", 1, 1.0, " px/deg" },
  { "count", 0, 1.0, "" },
  { "kg", 1, 1.0, " kg" },
  { "px", 0, 1.0, " px" },
  { "lx", 1, 1.0, " lx" },
  { "lm", 0, 1.0, " lm" },
  { "cd_m2", 1, 1.0, " cd/m\302\262" },
  { "fl", 1, 1.0, " fL" },
  { "db", 1, 1.0, " dB" },
};

static const UnitStyle *
unit_style (const char *unit)
{
  for (gsize i = 0; i < G_N_ELEMENTS (unit_styles); i++)
    if (g_strcmp0 (unit, unit_styles[i].unit) == 0)
      return &unit_styles[i];
  return NULL;
}

static char *
styled (double shown, const UnitStyle *style, unsigned show)
{
  g_autofree char *digits = signed_digits (shown, style->decimals, show);
  if (is_plain (show) && g_strcmp0 (style->shown, "°") == 0)
    return g_strconcat (digits, " deg", NULL);
  const char *behind = style->shown;
  const char *blank = "";
  if (behind[0] == ' ')
    {
      blank = gap (show);
      behind++;
    }
  return g_strconcat (digits, blank, behind, NULL);
}

char *
plumb_figure_format (double value, const char *unit, int units, unsigned show)
{
  const UnitStyle *style = unit_style (unit);
  if (!isfinite (value))
    return dash (show);
  if (style == NULL)
    return unit == NULL || unit[0] == '\0' ? signed_digits (value, 2, show) : with_unit (value, 2, unit, show);
  return style->shown == NULL ? plumb_length_format (value, units, show) : styled (value * style->scale, style, show);
}

char *
plumb_figure_format_directed (double value, const char *unit, const char *positive, const char *negative, int units,
                              unsigned show)
{
  g_autofree char *size = plumb_figure_format (fabs (value), unit, units, show);
  g_autofree char *zero = plumb_figure_format (0.0, unit, units, show);
  /* What is shown as nothing has no direction. */
  const char *word = value < 0.0 && strcmp (size, zero) != 0 ? negative : positive;
  return g_strdup_printf ("%s %s", size, word);
}

char *
plumb_figure_format_spread (double value, const char *unit, int units, unsigned show)
{
  const UnitStyle *style = unit_style (unit);
  if (!isfinite (value) || style == NULL)
    return plumb_figure_format (fabs (value), unit, units, show);
  if (style->shown == NULL)
    return plumb_length_format_spread (value, units, show);
  double step = pow (10.0, -style->decimals);
  return styled (steps_up (fabs (value) * style->scale, step) * step, style, show);
}

/* 1e+05 becomes 100000 and 5e-05 0.00005, as people write them. */
static char *
without_exponent (const char *shortest, double value, int digits)
{
  const char *e = strchr (shortest, 'e');
  if (e == NULL)
    return g_strdup (shortest);
  int exponent = (int) g_ascii_strtoll (e + 1, NULL, 10);
  if (exponent < -7 || exponent > 14)
    return g_strdup (shortest);
  char format[8], buffer[48];
  g_snprintf (format, sizeof format, "%%.%df", MAX (digits - 1 - exponent, 0));
  return g_strdup (g_ascii_formatd (buffer, sizeof buffer, format, value));
}

char *
plumb_number_shortest (double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  g_return_val_if_fail (isfinite (value), NULL);
  int digits = 1;
  for (; digits <= 17; digits++)
    {
      char format[8];
      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (buffer, sizeof buffer, format, value);
      if (!(g_ascii_strtod (buffer, NULL) < value) && !(g_ascii_strtod (buffer, NULL) > value))
        break;
    }
  return without_exponent (buffer, value, digits);
}
