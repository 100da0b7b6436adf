/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Lengths and other figures as people type and read them.
 *
 * The one place where a number becomes text and back. Nothing here asks the
 * C locale: shown figures always have a point, typed ones take a comma only
 * where the style says so.
 *
 * Grammar of a typed length; blanks (no-break and thin ones too) may stand
 * between its parts:
 *
 *     length   = [ sign ] term { sign term }
 *     term     = number feet-mark [ inches ]  |  number [ unit ]
 *     inches   = [ "-" ] number [ inch-mark ]   only whole feet before it, and under 12
 *     number   = digits [ mark digits ]  |  digits "/" digits  |  digits join digits "/" digits
 *     join     = blanks | "-"                   8 1/8 or 8-1/8; the fraction is under 1
 *     unit     = "m" | "cm" | "mm" | feet-mark | inch-mark
 *     feet-mark = ' ′ ’ ft foot feet            inch-mark = " ″ ” '' in inch inches
 *     sign     = "+" | "-" | "−" | "–"
 *     mark     = "."  and, where the style says so, also ","
 *
 * The characters ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ and the fraction slash count as fractions. A
 * bare number takes the style's unit, after feet it is inches. A hyphen joins,
 * as the building trade writes it, where it stands *without blanks* between
 * feet and inches (9'-8") or before a fraction (8-1/8"); anywhere else it is a
 * difference. No exponents, no thousands separators.
 */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "plumbeam/records.h"

#define PLUMB_M_PER_IN (254.0 / 10000.0)
#define PLUMB_M_PER_FT (12.0 * PLUMB_M_PER_IN)

/* Longest text that is looked at, and the greatest result. */
#define PLUMB_LENGTH_MAX_BYTES 200
#define PLUMB_LENGTH_GREATEST_M 1e6

typedef enum {
  PLUMB_LENGTH_UNIT_M,
  PLUMB_LENGTH_UNIT_CM,
  PLUMB_LENGTH_UNIT_MM,
  PLUMB_LENGTH_UNIT_FT,
  PLUMB_LENGTH_UNIT_IN,
} PlumbLengthUnit;

/* How a length is typed. {0}: bare numbers are metres, point as decimal mark. */
typedef struct {
  PlumbLengthUnit default_unit;
  bool decimal_comma; /* a comma is a decimal mark too */
} PlumbLengthStyle;

#define PLUMB_LENGTH_ERROR (plumb_length_error_quark ())
GQuark plumb_length_error_quark (void);
typedef enum {
  PLUMB_LENGTH_ERROR_EMPTY,
  PLUMB_LENGTH_ERROR_TOO_LONG,
  PLUMB_LENGTH_ERROR_NUMBER,   /* a number is missing or badly made */
  PLUMB_LENGTH_ERROR_UNIT,     /* not a unit of length */
  PLUMB_LENGTH_ERROR_FRACTION, /* over 0, or not under 1 */
  PLUMB_LENGTH_ERROR_FEET,     /* feet and inches that do not go together */
  PLUMB_LENGTH_ERROR_TRAILING, /* more text after the length */
  PLUMB_LENGTH_ERROR_RANGE,    /* beyond PLUMB_LENGTH_GREATEST_M */
} PlumbLengthError;

/* Reads a length into metres. On failure *metres is untouched, the message
 * names the character's place (from 1), and plumb_length_error_position()
 * gives it in bytes (from 0). */
bool plumb_length_parse (const char *text, PlumbLengthStyle style, double *metres, GError **error);
/* Byte at which the trouble begins; the error must be a PLUMB_LENGTH_ERROR. */
gsize plumb_length_error_position (const GError *error);

/* How figures are shown. */
typedef enum {
  PLUMB_SHOW_TYPOGRAPHIC = 0, /* ′ ″ − and thin no-break spaces */
  PLUMB_SHOW_PLAIN = 1 << 0,  /* ASCII only */
  PLUMB_SHOW_METRES = 1 << 1, /* metric: metres even where they are small */
  PLUMB_SHOW_NO_UNIT = 1 << 2 /* metric: no unit behind it; with PLUMB_SHOW_METRES */
} PlumbShow;

/* units: PLUMB_UNITS_METRIC gives 2.950 m, and millimetres under 0.1 m;
 * PLUMB_UNITS_IMPERIAL gives 9′ 8 1/8″, to the nearest 1/16 in. A figure that
 * is not finite is shown as a dash. All strings are the caller's. */
char *plumb_length_format (double metres, int units, unsigned show);
/* A spread: rounded up at the shown resolution, never understated. */
char *plumb_length_format_spread (double metres, int units, unsigned show);
/* 3.2°: `decimals` places. */
char *plumb_angle_format (double radians, int decimals, unsigned show);
/* 12.5 % of a share 0.125. */
char *plumb_share_format (double share, int decimals, unsigned show);
/* 1.47: fixed places, with the sign of the style. */
char *plumb_number_format (double value, int decimals, unsigned show);
/* Any figure of the engine by its unit: "m", "rad", "share", "ratio",
 * "px_per_mm", "count"; another unit is printed behind the number. */
char *plumb_figure_format (double value, const char *unit, int units, unsigned show);
/* "12.0 % left": the size with the word for its sign, positive first; 0 has
 * the first word. */
char *plumb_figure_format_directed (double value, const char *unit, const char *positive, const char *negative,
                                    int units, unsigned show);
char *plumb_figure_format_spread (double value, const char *unit, int units, unsigned show);
/* The shortest decimal that reads back as the same double, with a point; for
 * JSON and CSV. The value must be finite. */
char *plumb_number_shortest (double value);
