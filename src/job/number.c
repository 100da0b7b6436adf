/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number-private.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

/* Digits that a double holds exactly as an integer, and powers of ten that it
 * holds exactly: 10^15 < 2^53, and 10^22 is the last exact one. */
#define EXACT_DIGITS 15

static const double powers_of_ten[EXACT_DIGITS + 1]
    = { 1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15 };

/* A short decimal without exponent is an exact integer over an exact power of
 * ten, so a single division rounds it rightly (Clinger 1990). */
static bool
read_short (const char *text, size_t length, double *value)
{
  size_t i = text[0] == '-' ? 1 : 0;
  bool after_point = false;
  unsigned decimals = 0;
  uint64_t digits = 0;

  if (length - i > EXACT_DIGITS)
    return false;
  for (; i < length; i++)
    {
      if (text[i] == '.')
        {
          after_point = true;
          continue;
        }
      if (!g_ascii_isdigit (text[i]))
        return false;
      digits = digits * 10 + (uint64_t) (text[i] - '0');
      decimals += after_point ? 1 : 0;
    }
  *value = (double) digits / powers_of_ten[decimals];
  if (text[0] == '-')
    *value = -*value;
  return true;
}

double
plumb_decimal_read (const char *text, size_t length)
{
  double value;

  return read_short (text, length, &value) ? value : g_ascii_strtod (text, NULL);
}

void
plumb_decimal_shortest (double member, double factor, char out[G_ASCII_DTOSTR_BUF_SIZE])
{
  /* Fifteen digits without closing zeros are the shortest decimal whenever one
   * of at most fifteen exists: the quotient is off by less than half of the
   * fifteenth digit. Seventeen name any double. */
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  for (size_t i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (out, G_ASCII_DTOSTR_BUF_SIZE, formats[i], member / factor);
      if (g_ascii_strtod (out, NULL) * factor == member)
        return;
    }
}
