/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-value.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#include "job/job.h"
#include "text/length.h"

#define MINUS "\u2212"
#define EN_DASH "\u2013"

/* Places that are always shown, in the key's unit. */
static const int decimals[PLUMB_N_QUANTITIES] = {
  [PLUMB_QUANTITY_M] = 3,     [PLUMB_QUANTITY_DEG] = 1, [PLUMB_QUANTITY_PCT] = 1,
  [PLUMB_QUANTITY_RATIO] = 2, [PLUMB_QUANTITY_KG] = 1,
};
/* Places beyond them that are shown where the value has them. */
#define MOST_DECIMALS 7

gboolean
plumb_form_is_length (const PlumbField *field)
{
  return field->type == PLUMB_TYPE_NUM
         && (field->quantity == PLUMB_QUANTITY_M || field->quantity == PLUMB_QUANTITY_MM);
}

gboolean
plumb_form_is_number (const PlumbField *field)
{
  return field->type == PLUMB_TYPE_NUM || field->type == PLUMB_TYPE_COUNT;
}

/* ---- showing --------------------------------------------------------------------------- */

/* At least `least` places, and more only where they say something. */
static char *
number_text (double value, int least)
{
  char buffer[400];

  g_ascii_formatd (buffer, sizeof buffer, "%.7f", fabs (value));
  gsize end = strlen (buffer);
  for (int places = MOST_DECIMALS; places > least && buffer[end - 1] == '0'; places--)
    end--;
  if (buffer[end - 1] == '.')
    end--;
  buffer[end] = '\0';
  gboolean zero = strspn (buffer, "0.") == end;
  return g_strconcat (value < 0.0 && !zero ? MINUS : "", buffer, NULL);
}

static char *
key_number_text (const PlumbField *field, double value, int units)
{
  if (plumb_form_is_length (field) && units == PLUMB_UNITS_IMPERIAL)
    return plumb_length_format (value * plumb_quantity_factor (field->quantity), units, PLUMB_SHOW_TYPOGRAPHIC);
  return number_text (value, field->type == PLUMB_TYPE_COUNT ? 0 : decimals[field->quantity]);
}

char *
plumb_form_value_text (const PlumbField *field, const void *record, int units)
{
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    return g_strdup (plumb_field_text (field, record));
  return key_number_text (field, plumb_field_number (field, record), units);
}

const char *
plumb_form_value_unit (const PlumbField *field, int units)
{
  if (!plumb_form_is_number (field) || (plumb_form_is_length (field) && units == PLUMB_UNITS_IMPERIAL))
    return "";
  return plumb_quantity_unit (field->quantity);
}

char *
plumb_form_value_range (const PlumbField *field, int units)
{
  g_autofree char *least = key_number_text (field, field->least, units);
  g_autofree char *greatest = key_number_text (field, field->greatest, units);
  const char *unit = plumb_form_value_unit (field, units);

  return g_strdup_printf ("%s to %s%s%s", least, greatest, unit[0] != '\0' ? "\302\240" : "", unit);
}

char *
plumb_form_figure_text (double value, const char *unit, int units, const char **shown_unit)
{
  const gboolean metric = units != PLUMB_UNITS_IMPERIAL;

  *shown_unit = "";
  if (strcmp (unit, "m") == 0)
    {
      *shown_unit = metric ? "m" : "";
      return plumb_length_format (value, units,
                                  metric ? PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT : PLUMB_SHOW_TYPOGRAPHIC);
    }
  if (strcmp (unit, "rad") == 0)
    {
      *shown_unit = "\302\260";
      return plumb_number_format (value * 180.0 / PLUMB_PI, 1, PLUMB_SHOW_TYPOGRAPHIC);
    }
  if (strcmp (unit, "share") == 0)
    {
      *shown_unit = "%";
      return plumb_number_format (value * 100.0, 1, PLUMB_SHOW_TYPOGRAPHIC);
    }
  return plumb_number_format (value, 2, PLUMB_SHOW_TYPOGRAPHIC);
}

/* ---- reading --------------------------------------------------------------------------- */

static gboolean
locale_has_comma (void)
{
  return strcmp (localeconv ()->decimal_point, ",") == 0;
}

static gboolean
refuse (GError **error, char *sentence)
{
  g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, sentence);
  g_free (sentence);
  return FALSE;
}

/* Signs as a number has them in a file, no blanks, no unit. */
static char *
plain_digits (const PlumbField *field, const char *text)
{
  static const char *const blanks[] = { " ", "\t", "\u00a0", "\u2009", "\u202f", "\u2007" };
  const char *unit = plumb_quantity_unit (field->quantity);
  GString *plain = g_string_new (text);

  for (gsize i = 0; i < G_N_ELEMENTS (blanks); i++)
    g_string_replace (plain, blanks[i], "", 0);
  g_string_replace (plain, MINUS, "-", 1);
  g_string_replace (plain, EN_DASH, "-", 1);
  if (locale_has_comma ())
    g_string_replace (plain, ",", ".", 0);
  if (unit[0] != '\0' && g_str_has_suffix (plain->str, unit))
    g_string_truncate (plain, plain->len - strlen (unit));
  else if (field->quantity == PLUMB_QUANTITY_DEG && g_str_has_suffix (plain->str, "deg"))
    g_string_truncate (plain, plain->len - 3);
  return g_string_free (plain, FALSE);
}

static gboolean
parse_plain (const PlumbField *field, const char *text, double *value, GError **error)
{
  g_autofree char *digits = plain_digits (field, text);
  char *end;

  if (text[strspn (text, " ")] == '\0')
    return refuse (error, g_strdup ("Nothing is typed here."));
  *value = g_ascii_strtod (digits, &end);
  if (strspn (digits, "+-.0123456789") != strlen (digits) || end == digits || *end != '\0' || !isfinite (*value))
    return refuse (error, g_strdup_printf ("\342\200\230%s\342\200\231 is not a number.", text));
  return TRUE;
}

/* Feet, inches and their fractions are short decimals of a metre; fifteen
 * digits take the sum's rounding off again. */
static gboolean
parse_length (const PlumbField *field, int units, const char *text, double *value, GError **error)
{
  const PlumbLengthStyle style = {
    .default_unit = units == PLUMB_UNITS_IMPERIAL          ? PLUMB_LENGTH_UNIT_IN
                    : field->quantity == PLUMB_QUANTITY_MM ? PLUMB_LENGTH_UNIT_MM
                                                           : PLUMB_LENGTH_UNIT_M,
    .decimal_comma = locale_has_comma (),
  };
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_autoptr (GError) trouble = NULL;
  double metres;

  if (!plumb_length_parse (text, style, &metres, &trouble))
    {
      if (g_error_matches (trouble, PLUMB_LENGTH_ERROR, PLUMB_LENGTH_ERROR_EMPTY))
        return refuse (error, g_strdup ("Nothing is typed here."));
      return refuse (error, g_strdup_printf ("Not a length: %s.", trouble->message));
    }
  g_ascii_formatd (digits, sizeof digits, "%.15g", metres / plumb_quantity_factor (field->quantity));
  *value = g_ascii_strtod (digits, NULL);
  return TRUE;
}

gboolean
plumb_form_value_parse (const PlumbField *field, int units, const char *text, double *value, GError **error)
{
  if (plumb_form_is_length (field))
    return parse_length (field, units, text, value, error);
  return parse_plain (field, text, value, error);
}
