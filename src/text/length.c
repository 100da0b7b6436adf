/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading lengths; showing them is in length-show.c. The grammar is in length.h. */
#include "text/length.h"

#include <string.h>

/* ---- the error, with its place ------------------------------------------------ */

typedef struct {
  gsize position;
} PlumbLengthErrorPrivate;

static void
plumb_length_error_private_init (PlumbLengthErrorPrivate *priv)
{
  priv->position = 0;
}

static void
plumb_length_error_private_copy (const PlumbLengthErrorPrivate *from, PlumbLengthErrorPrivate *to)
{
  *to = *from;
}

static void
plumb_length_error_private_clear (PlumbLengthErrorPrivate *priv)
{
  priv->position = 0;
}

G_DEFINE_EXTENDED_ERROR (PlumbLengthError, plumb_length_error)

gsize
plumb_length_error_position (const GError *error)
{
  g_return_val_if_fail (error != NULL && error->domain == PLUMB_LENGTH_ERROR, 0);
  return plumb_length_error_get_private (error)->position;
}

/* ---- scanning ------------------------------------------------------------------- */

typedef struct {
  const char *start, *at;
  PlumbLengthStyle style;
  GError **error;
} Scan;

G_GNUC_PRINTF (4, 5) static bool fail (Scan *scan, const char *at, PlumbLengthError code, const char *format, ...)
{
  if (scan->error == NULL)
    return false;

  va_list args;
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  gsize position = (gsize) (at - scan->start);
  glong character = g_utf8_pointer_to_offset (scan->start, at) + 1;
  g_set_error (scan->error, PLUMB_LENGTH_ERROR, (int) code, "character %ld: %s", character, what);
  plumb_length_error_get_private (*scan->error)->position = position;
  return false;
}

static bool
take (Scan *scan, const char *token)
{
  if (!g_str_has_prefix (scan->at, token))
    return false;

  scan->at += strlen (token);
  return true;
}

static bool
take_any (Scan *scan, const char *const *tokens)
{
  for (; *tokens != NULL; tokens++)
    if (take (scan, *tokens))
      return true;
  return false;
}

static bool
skip_blanks (Scan *scan)
{
  static const char *const blanks[] = { " ", "\t", "\u00a0", "\u2009", "\u202f", "\u2007", NULL };
  bool any = false;
  while (take_any (scan, blanks))
    any = true;
  return any;
}

/* +1, -1, or 0 when there is no sign. */
static int
take_sign (Scan *scan)
{
  static const char *const minus[] = { "-", "\u2212", "\u2013", NULL };
  return take (scan, "+") ? 1 : take_any (scan, minus) ? -1 : 0;
}

/* ---- numbers --------------------------------------------------------------------- */

typedef struct {
  const char *at;
  double value;
  bool whole;  /* digits alone */
  bool joined; /* a hyphen joined its fraction */
} Number;

/* What the fraction characters stand for, in eighths. */
static const struct {
  const char *character;
  int eighths;
} vulgar[] = {
  { "\u00bd", 4 }, { "\u00bc", 2 }, { "\u00be", 6 }, { "\u215b", 1 },
  { "\u215c", 3 }, { "\u215d", 5 }, { "\u215e", 7 },
};

static bool
take_vulgar (Scan *scan, double *value)
{
  for (gsize i = 0; i < G_N_ELEMENTS (vulgar); i++)
    if (take (scan, vulgar[i].character))
      {
        *value = vulgar[i].eighths / 8.0;
        return true;
      }
  return false;
}

/* Digits alone; false when there are none. */
static bool
take_digits (Scan *scan, double *value)
{
  const char *at = scan->at;
  for (*value = 0.0; g_ascii_isdigit (*scan->at); scan->at++)
    *value = *value * 10.0 + (*scan->at - '0');
  return scan->at > at;
}

static bool
take_slash (Scan *scan)
{
  return take (scan, "/") || take (scan, "\u2044");
}

/* Whether digits, a slash and a digit come next. */
static bool
fraction_ahead (const Scan *scan)
{
  Scan ahead = *scan;
  double ignored;
  return take_digits (&ahead, &ignored) && take_slash (&ahead);
}

static bool
take_denominator (Scan *scan, double *value)
{
  const char *at = scan->at;
  if (!take_digits (scan, value))
    return fail (scan, at, PLUMB_LENGTH_ERROR_NUMBER, "a whole number is expected under the fraction");
  if (!(*value > 0.0))
    return fail (scan, at, PLUMB_LENGTH_ERROR_FRACTION, "a fraction cannot be over 0");
  return true;
}

/* The 1/8 of 8 1/8, already known to be there. */
static bool
take_proper_fraction (Scan *scan, double *value)
{
  const char *at = scan->at;
  double upper, lower;
  take_digits (scan, &upper);
  take_slash (scan);
  if (!take_denominator (scan, &lower))
    return false;
  if (upper >= lower)
    return fail (scan, at, PLUMB_LENGTH_ERROR_FRACTION, "a fraction behind a whole number must be under 1");
  *value = upper / lower;
  return true;
}

/* What may follow a whole number: its fraction. */
static bool
take_mixed (Scan *scan, Number *number)
{
  Scan ahead = *scan;
  double part = 0.0;
  bool blank = skip_blanks (&ahead);
  if (!blank && take (&ahead, "-"))
    number->joined = fraction_ahead (&ahead);
  if (take_vulgar (&ahead, &part))
    number->joined = false;
  else if ((blank || number->joined) && fraction_ahead (&ahead))
    {
      if (!take_proper_fraction (&ahead, &part))
        return false;
    }
  else
    return true;

  scan->at = ahead.at;
  number->value += part;
  number->whole = false;
  return true;
}

/* The decimals behind a mark that has just been taken. g_ascii_strtod reads
 * the whole figure, so that 2.95 is the double nearest to it. */
static bool
take_decimals (Scan *scan, Number *number)
{
  char digits[PLUMB_LENGTH_MAX_BYTES + 4];
  gsize whole = (gsize) (scan->at - number->at) - 1;
  const char *at = scan->at;
  double ignored;
  bool any = take_digits (scan, &ignored);
  if (!any && whole == 0)
    return fail (scan, number->at, PLUMB_LENGTH_ERROR_NUMBER, "a number is expected");
  if (*scan->at == '.' || *scan->at == ',')
    return fail (scan, scan->at, PLUMB_LENGTH_ERROR_NUMBER, "a number has one decimal mark and no thousands mark");

  g_snprintf (digits, sizeof digits, "%.*s.%.*s", (int) whole, number->at, (int) (scan->at - at), at);
  number->value = g_ascii_strtod (digits, NULL);
  number->whole = false;
  return true;
}

static bool
take_number (Scan *scan, Number *number)
{
  *number = (Number){ .at = scan->at };
  if (take_vulgar (scan, &number->value))
    return true;

  bool digits = take_digits (scan, &number->value);
  number->whole = digits;
  if (*scan->at == ',' && !scan->style.decimal_comma)
    return fail (scan, scan->at, PLUMB_LENGTH_ERROR_NUMBER, "the decimal mark is a point here");
  if (*scan->at == '.' || *scan->at == ',')
    {
      scan->at++;
      return take_decimals (scan, number);
    }
  if (!digits)
    return fail (scan, number->at, PLUMB_LENGTH_ERROR_NUMBER, "a number is expected");
  if (take_slash (scan))
    {
      double lower;
      if (!take_denominator (scan, &lower))
        return false;
      number->value /= lower;
      number->whole = false;
      return true;
    }
  return take_mixed (scan, number);
}

/* ---- units ------------------------------------------------------------------------ */

typedef enum { UNIT_NONE = -1, UNIT_BAD = -2 } NoUnit;

static int
word_unit (const char *word, gsize length)
{
  static const struct {
    const char *word;
    PlumbLengthUnit unit;
  } words[] = {
    { "m", PLUMB_LENGTH_UNIT_M },   { "cm", PLUMB_LENGTH_UNIT_CM },   { "mm", PLUMB_LENGTH_UNIT_MM },
    { "ft", PLUMB_LENGTH_UNIT_FT }, { "foot", PLUMB_LENGTH_UNIT_FT }, { "feet", PLUMB_LENGTH_UNIT_FT },
    { "in", PLUMB_LENGTH_UNIT_IN }, { "inch", PLUMB_LENGTH_UNIT_IN }, { "inches", PLUMB_LENGTH_UNIT_IN },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strlen (words[i].word) == length && g_ascii_strncasecmp (words[i].word, word, length) == 0)
      return (int) words[i].unit;
  return UNIT_BAD;
}

/* A unit and its place; UNIT_NONE, and nothing taken, when none comes. */
static int
take_unit (Scan *scan)
{
  static const char *const inch_marks[] = { "\"", "\u2033", "\u201d", "''", "\u2032\u2032", NULL };
  static const char *const foot_marks[] = { "'", "\u2032", "\u2019", NULL };
  Scan ahead = *scan;
  skip_blanks (&ahead);
  int unit = UNIT_NONE;
  if (take_any (&ahead, inch_marks))
    unit = PLUMB_LENGTH_UNIT_IN;
  else if (take_any (&ahead, foot_marks))
    unit = PLUMB_LENGTH_UNIT_FT;
  else if (g_ascii_isalpha (*ahead.at))
    {
      const char *word = ahead.at;
      while (g_ascii_isalpha (*ahead.at))
        ahead.at++;
      unit = word_unit (word, (gsize) (ahead.at - word));
      if (unit == UNIT_BAD)
        {
          fail (scan, word, PLUMB_LENGTH_ERROR_UNIT, "“%.*s” is not a unit of length: m, cm, mm, ft or in",
                (int) (ahead.at - word), word);
          return UNIT_BAD;
        }
    }
  if (unit != UNIT_NONE)
    scan->at = ahead.at;
  return unit;
}

/* Divided last, so that 2950 mm is the same double as 2.95 m and 12 in as
 * 0.3048 m. */
static double
in_metres (double value, PlumbLengthUnit unit)
{
  switch (unit)
    {
    case PLUMB_LENGTH_UNIT_CM:
      return value / 100.0;
    case PLUMB_LENGTH_UNIT_MM:
      return value / 1000.0;
    case PLUMB_LENGTH_UNIT_FT:
      return value * 3048.0 / 10000.0;
    case PLUMB_LENGTH_UNIT_IN:
      return value * 254.0 / 10000.0;
    case PLUMB_LENGTH_UNIT_M:
    default:
      return value;
    }
}

/* ---- terms and sums ----------------------------------------------------------------- */

static bool
is_metric (PlumbLengthUnit unit)
{
  return unit == PLUMB_LENGTH_UNIT_M || unit == PLUMB_LENGTH_UNIT_CM || unit == PLUMB_LENGTH_UNIT_MM;
}

/* Whether inches follow the feet just taken; takes what joins them. */
static bool
inches_ahead (Scan *scan)
{
  Scan ahead = *scan;
  if (!skip_blanks (&ahead))
    take (&ahead, "-");
  double ignored;
  Scan number = ahead;
  if (!g_ascii_isdigit (*ahead.at) && *ahead.at != '.' && !take_vulgar (&number, &ignored))
    return false;

  scan->at = ahead.at;
  return true;
}

static bool
take_inches (Scan *scan, const Number *feet, double *metres)
{
  Number inches;
  if (!take_number (scan, &inches))
    return false;
  const char *at = scan->at;
  int unit = take_unit (scan);
  if (unit == UNIT_BAD)
    return false;
  if (unit != UNIT_NONE && unit != PLUMB_LENGTH_UNIT_IN)
    return fail (scan, at, PLUMB_LENGTH_ERROR_FEET, "only inches may follow feet");
  if (!feet->whole)
    return fail (scan, feet->at, PLUMB_LENGTH_ERROR_FEET, "feet before inches must be a whole number");
  if (inches.value >= 12.0)
    return fail (scan, inches.at, PLUMB_LENGTH_ERROR_FEET, "inches after feet must be under 12");
  *metres = in_metres (feet->value * 12.0 + inches.value, PLUMB_LENGTH_UNIT_IN);
  return true;
}

static bool
take_term (Scan *scan, double *metres)
{
  Number number;
  skip_blanks (scan);
  if (!take_number (scan, &number))
    return false;
  int unit = take_unit (scan);
  if (unit == UNIT_BAD)
    return false;
  if (unit == PLUMB_LENGTH_UNIT_FT && inches_ahead (scan))
    return take_inches (scan, &number, metres);

  PlumbLengthUnit used = unit == UNIT_NONE ? scan->style.default_unit : (PlumbLengthUnit) unit;
  if (number.joined && is_metric (used))
    return fail (scan, number.at, PLUMB_LENGTH_ERROR_NUMBER,
                 "a hyphen joins a fraction only in feet and inches; put blanks round a minus");
  *metres = in_metres (number.value, used);
  return true;
}

static bool
parse_sum (Scan *scan, double *metres)
{
  skip_blanks (scan);
  if (*scan->at == '\0')
    return fail (scan, scan->at, PLUMB_LENGTH_ERROR_EMPTY, "a length is expected");

  double sum = 0.0;
  int sign = take_sign (scan);
  for (sign = sign == 0 ? 1 : sign; sign != 0; sign = take_sign (scan))
    {
      double term = 0.0;
      const char *at = scan->at;
      if (!take_term (scan, &term))
        return false;
      sum += sign * term;
      if (!(ABS (term) <= PLUMB_LENGTH_GREATEST_M && ABS (sum) <= PLUMB_LENGTH_GREATEST_M))
        return fail (scan, at, PLUMB_LENGTH_ERROR_RANGE, "the length is beyond 1000 km");
      skip_blanks (scan);
    }
  if (*scan->at != '\0')
    return fail (scan, scan->at, PLUMB_LENGTH_ERROR_TRAILING, "a sign or the end is expected");
  *metres = sum;
  return true;
}

bool
plumb_length_parse (const char *text, PlumbLengthStyle style, double *metres, GError **error)
{
  Scan scan = { .start = text, .at = text, .style = style, .error = error };
  if (strlen (text) > PLUMB_LENGTH_MAX_BYTES)
    return fail (&scan, text, PLUMB_LENGTH_ERROR_TOO_LONG, "a length has at most %d bytes", PLUMB_LENGTH_MAX_BYTES);
  const char *bad;
  if (!g_utf8_validate (text, -1, &bad))
    return fail (&scan, bad, PLUMB_LENGTH_ERROR_NUMBER, "the text is not UTF-8");

  double sum = 0.0;
  if (!parse_sum (&scan, &sum))
    return false;
  *metres = sum;
  return true;
}
