/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Typed and shown lengths. The table is tests/data/lengths.txt. */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "text/length.h"

static PlumbLengthStyle
style_of (const char *word)
{
  static const struct {
    const char *unit;
    PlumbLengthUnit value;
  } units[] = {
    { "m", PLUMB_LENGTH_UNIT_M },   { "cm", PLUMB_LENGTH_UNIT_CM }, { "mm", PLUMB_LENGTH_UNIT_MM },
    { "ft", PLUMB_LENGTH_UNIT_FT }, { "in", PLUMB_LENGTH_UNIT_IN },
  };
  gsize length = strlen (word) - 1;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (strlen (units[i].unit) == length && strncmp (units[i].unit, word, length) == 0)
      return (PlumbLengthStyle){ units[i].value, word[length] == ',' };
  g_error ("no such style: %s", word);
}

/* Equal but for the rounding of a sum of a few terms. */
#define SUM_TOLERANCE 1e-15

static void
check_line (const char *line, unsigned *n_ok, unsigned *n_bad)
{
  g_auto (GStrv) part = g_strsplit (line, " | ", 5);
  double metres = -1.0;
  g_autoptr (GError) error = NULL;
  bool good = plumb_length_parse (part[2], style_of (part[1]), &metres, &error);
  g_test_message ("%s", line);
  if (strcmp (part[0], "ok") == 0)
    {
      g_assert_no_error (error);
      g_assert_true (good);
      double wanted = g_ascii_strtod (part[3], NULL);
      g_assert_cmpfloat_with_epsilon (metres, wanted, SUM_TOLERANCE * fmax (1.0, fabs (wanted)));
      ++*n_ok;
      return;
    }
  g_assert_cmpstr (part[0], ==, "bad");
  g_assert_false (good);
  g_assert_true (error != NULL && error->domain == PLUMB_LENGTH_ERROR);
  g_assert_cmpuint (plumb_length_error_position (error), ==, g_ascii_strtoull (part[3], NULL, 10));
  g_assert_nonnull (strstr (error->message, part[4]));
  g_assert_cmpfloat (metres, ==, -1.0);
  ++*n_bad;
}

static void
test_table (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "tests", "data", "lengths.txt", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  unsigned n_ok = 0, n_bad = 0;
  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0' && **line != '#')
      check_line (*line, &n_ok, &n_bad);
  g_test_message ("%u lengths, %u that are none", n_ok, n_bad);
  g_assert_cmpuint (n_ok, >=, 45);
  g_assert_cmpuint (n_bad, >=, 30);
}

/* 2950 mm and 2.95 m must be one double, or a file would change by retyping. */
static void
test_metric_exact (void)
{
  const PlumbLengthStyle metres = { 0 };
  for (int mm = 1; mm <= 20000; mm += 7)
    {
      g_autofree char *in_mm = g_strdup_printf ("%d mm", mm);
      g_autofree char *in_m = g_strdup_printf ("%d.%03d m", mm / 1000, mm % 1000);
      double a, b;
      g_assert_true (plumb_length_parse (in_mm, metres, &a, NULL));
      g_assert_true (plumb_length_parse (in_m, metres, &b, NULL));
      g_assert_cmpfloat (a, ==, b);
    }
}

/* Shown, then typed again: within half of the last place shown. */
static void
round_trip (double metres, int units, unsigned show, double tolerance_m)
{
  double back;
  g_autoptr (GError) error = NULL;
  g_autofree char *shown = plumb_length_format (metres, units, show);
  bool good = plumb_length_parse (shown, (PlumbLengthStyle){ 0 }, &back, &error);
  g_assert_no_error (error);
  g_assert_true (good);
  g_assert_cmpfloat_with_epsilon (back, metres, tolerance_m + 1e-12);
}

static void
test_round_trip (void)
{
  const double half_sixteenth_m = 0.0254 / 32.0;
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  for (int i = 0; i < 20000; i++)
    {
      double metres = g_rand_double_range (rand, -1.0, 1.0) * pow (10.0, g_rand_double_range (rand, -4.0, 3.0));
      for (unsigned show = 0; show <= PLUMB_SHOW_PLAIN; show++)
        {
          round_trip (metres, PLUMB_UNITS_IMPERIAL, show, half_sixteenth_m);
          round_trip (metres, PLUMB_UNITS_METRIC, show, 0.0005);
          round_trip (metres, PLUMB_UNITS_METRIC, show | PLUMB_SHOW_METRES, 0.0005);
        }
    }
}

static void
shown_length (double metres, int units, unsigned show, const char *wanted)
{
  g_autofree char *shown = plumb_length_format (metres, units, show);
  g_assert_cmpstr (shown, ==, wanted);
}

static void
test_shown (void)
{
  shown_length (2.95, PLUMB_UNITS_METRIC, 0, "2.950\u202fm");
  shown_length (2.95, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN, "2.950 m");
  shown_length (-2.95, PLUMB_UNITS_METRIC, 0, "\u22122.950\u202fm");
  shown_length (-2.95, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN, "-2.950 m");
  shown_length (0.045, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN, "45 mm");
  shown_length (0.045, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN | PLUMB_SHOW_METRES, "0.045 m");
  shown_length (2.95, PLUMB_UNITS_METRIC, PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT, "2.950");
  shown_length (0.0035, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN, "3.5 mm");
  shown_length (0.003, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN, "3 mm");
  shown_length (-1e-9, PLUMB_UNITS_METRIC, 0, "0\u202fmm");
  shown_length (2.949575, PLUMB_UNITS_IMPERIAL, 0, "9′\u202f8\u202f1/8″");
  shown_length (2.949575, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "9' 8 1/8\"");
  shown_length (-2.949575, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "-9' 8 1/8\"");
  shown_length (0.3048, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "1' 0\"");
  shown_length (0.3047, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "1' 0\"");
  shown_length (0.0015875, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "1/16\"");
  shown_length (0.0, PLUMB_UNITS_IMPERIAL, 0, "0″");
  shown_length (-1e-9, PLUMB_UNITS_IMPERIAL, 0, "0″");
  shown_length ((double) NAN, PLUMB_UNITS_METRIC, 0, "–");
  shown_length ((double) INFINITY, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN, "-");
  /* Nothing overflows, however long. */
  g_autofree char *far = plumb_length_format (-1e300, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN);
  g_assert_true (g_str_has_suffix (far, " m"));
}

static void
shown_figure (double value, const char *unit, bool spread, const char *wanted)
{
  g_autofree char *shown = spread ? plumb_figure_format_spread (value, unit, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN)
                                  : plumb_figure_format (value, unit, PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN);
  g_assert_cmpstr (shown, ==, wanted);
}

static void
test_figures (void)
{
  shown_figure (1.4666, "ratio", false, "1.47");
  shown_figure (PLUMB_PI / 6.0, "rad", false, "30.0 deg");
  shown_figure (0.125, "share", false, "12.5 %");
  shown_figure (0.96, "px_per_mm", false, "0.96 px/mm");
  shown_figure (7.0, "count", false, "7");
  shown_figure (-0.004, "ratio", false, "0.00");
  shown_figure (2.5, "", false, "2.50");
  shown_figure ((double) NAN, "share", false, "-");
  g_autofree char *angle = plumb_angle_format (-PLUMB_PI / 180.0, 1, PLUMB_SHOW_TYPOGRAPHIC);
  g_assert_cmpstr (angle, ==, "−1.0°");
  g_autofree char *share = plumb_share_format (0.5, 0, PLUMB_SHOW_TYPOGRAPHIC);
  g_assert_cmpstr (share, ==, "50\u202f%");
  /* A spread is never shown smaller than it is (JCGM 100, 7.2.6: it is
   * appropriate to round up). */
  shown_figure (0.0031, "m", true, "3.1 mm");
  shown_figure (0.00311, "m", true, "3.2 mm");
  shown_figure (0.0121, "m", true, "13 mm");
  shown_figure (0.2501, "m", true, "0.251 m");
  shown_figure (0.021, "ratio", true, "0.03");
  shown_figure (0.02, "ratio", true, "0.02");
  shown_figure (-0.02, "ratio", true, "0.02");
}

static void
test_shortest (void)
{
  static const struct {
    double value;
    const char *wanted;
  } rows[] = {
    { 3.2, "3.2" },         { 0.0, "0" },         { 100000.0, "100000" },
    { 0.00005, "0.00005" }, { 1920.0, "1920" },   { 0.1 + 0.2, "0.30000000000000004" },
    { 1e300, "1e+300" },    { 5e-324, "5e-324" }, { -2.95, "-2.95" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *shown = plumb_number_shortest (rows[i].value);
      g_assert_cmpstr (shown, ==, rows[i].wanted);
    }
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  for (int i = 0; i < 20000; i++)
    {
      double value = g_rand_double_range (rand, -1.0, 1.0) * pow (10.0, g_rand_double_range (rand, -20.0, 20.0));
      g_autofree char *shown = plumb_number_shortest (value);
      g_assert_cmpfloat (g_ascii_strtod (shown, NULL), ==, value);
    }
}

/* Bytes at random, and good lengths with one byte changed: no crash, no NaN,
 * nothing beyond the limit; a place inside the text. */
static void
test_noise (void)
{
  static const char *const seeds[] = { "9′ 8 1/8″ - 2,5 cm", "3.2 m + 40 mm", "9'-8½\"", "116 1/8 in" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  for (int i = 0; i < 50000; i++)
    {
      char text[64];
      g_strlcpy (text, seeds[i % 4], sizeof text);
      int changes = g_rand_int_range (rand, 1, 4);
      for (int k = 0; k < changes; k++)
        text[g_rand_int_range (rand, 0, (int) strlen (text))] = (char) g_rand_int_range (rand, 1, 256);
      double metres = 0.0;
      g_autoptr (GError) error = NULL;
      if (plumb_length_parse (text, (PlumbLengthStyle){ PLUMB_LENGTH_UNIT_M, i % 2 == 0 }, &metres, &error))
        g_assert_true (fabs (metres) <= PLUMB_LENGTH_GREATEST_M);
      else
        g_assert_cmpuint (plumb_length_error_position (error), <=, strlen (text));
    }
  g_autofree char *endless = g_strnfill (1000000, '9');
  g_autoptr (GError) error = NULL;
  double metres;
  g_assert_false (plumb_length_parse (endless, (PlumbLengthStyle){ 0 }, &metres, &error));
  g_assert_error (error, PLUMB_LENGTH_ERROR, PLUMB_LENGTH_ERROR_TOO_LONG);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/length/table", test_table);
  g_test_add_func ("/length/metric-exact", test_metric_exact);
  g_test_add_func ("/length/round-trip", test_round_trip);
  g_test_add_func ("/length/shown", test_shown);
  g_test_add_func ("/length/figures", test_figures);
  g_test_add_func ("/length/shortest", test_shortest);
  g_test_add_func ("/length/noise", test_noise);
  return g_test_run ();
}
