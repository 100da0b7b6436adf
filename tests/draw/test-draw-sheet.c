/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets on paper: true to scale, readable, the same every time. */
#include "draw-testing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/length.h"

/* What a ruler tells apart, with room for the PDF's own rounding. */
#define PAPER_TOLERANCE_MM 0.05

/* Length in mm of the first edge that is filled after `colour`: cairo writes a
 * level rectangle as x y width height re, else as x y m x y l. */
static double
edge_after_mm (const char *operators, const char *colour)
{
  const char *at = strstr (operators, colour);
  g_assert_nonnull (at);
  at += strlen (colour);
  double v[4];
  int used = 0;
  if (sscanf (at, " %lf %lf %lf %lf re%n", &v[0], &v[1], &v[2], &v[3], &used) == 4 && used > 0)
    return fmax (fabs (v[2]), fabs (v[3])) / PLUMB_PT_PER_MM;
  g_assert_cmpint (sscanf (at, " %lf %lf m %lf %lf l", &v[0], &v[1], &v[2], &v[3]), ==, 4);
  return hypot (v[2] - v[0], v[3] - v[1]) / PLUMB_PT_PER_MM;
}

/* The lamp's colour as cairo writes it: E3 A9 3A over 255. */
#define LAMP_FILL "0.890196 0.662745 0.227451 rg"

static void
test_picture_to_scale (void)
{
  /* A length of L metres at 1 : S is 1000 L / S mm on paper. */
  for (int d = 0; d < N_DEMOS; d++)
    for (int paper = 0; paper < PLUMB_N_PAPERS; paper++)
      {
        Demo demo;
        demo_open (&demo, demo_names[d]);
        PlumbSheetLayout layout
            = plumb_draw_sheet_layout (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, (PlumbPaper) paper);
        g_autoptr (GByteArray) pdf
            = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_SHEET_PDF, (PlumbPaper) paper);
        g_autofree char *operators = test_page_operators (pdf);
        double measured = edge_after_mm (operators, LAMP_FILL);
        double expected = 1000.0 * demo.evaluation->picture.width_m / layout.ratio;
        g_test_message ("%s: 1 : %g, picture %.4f mm on paper, off by %.5f mm", demo_names[d], layout.ratio, measured,
                        measured - expected);
        g_assert_cmpfloat_with_epsilon (measured, expected, PAPER_TOLERANCE_MM);
        demo_close (&demo);
      }
}

/* Whether a straight stroke of this length begins anywhere on the page. */
static gboolean
has_line_of_mm (const char *operators, double wanted_mm)
{
  const char *at = operators;
  while ((at = strstr (at, " m ")) != NULL)
    {
      const char *start = at;
      for (int blanks = 0; start > operators && blanks < 2; start--)
        if (start[-1] == ' ' || start[-1] == '\n')
          blanks++;
      double x0, y0, x1, y1;
      if (sscanf (start, " %lf %lf m %lf %lf l", &x0, &y0, &x1, &y1) == 4
          && fabs (hypot (x1 - x0, y1 - y0) / PLUMB_PT_PER_MM - wanted_mm) < 0.02)
        return TRUE;
      at += 3;
    }
  return FALSE;
}

static void
test_check_ruler (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  g_autoptr (GByteArray) metric
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_SIDE, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
  g_autofree char *metric_page = test_page_operators (metric);
  g_assert_true (has_line_of_mm (metric_page, 100.0));
  demo_close (&demo);
  demo_open (&demo, "music-room");
  g_autoptr (GByteArray) imperial
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_SIDE, PLUMB_SHEET_PDF, PLUMB_PAPER_LETTER);
  g_autofree char *imperial_page = test_page_operators (imperial);
  g_assert_true (has_line_of_mm (imperial_page, 101.6));
  g_assert_false (has_line_of_mm (imperial_page, 100.0));
  demo_close (&demo);
}

/* How often two words follow each other, on one line or over its end. */
static int
count (const char *text, const char *words)
{
  int n = 0;
  g_autofree char *line = g_strdup (text);
  g_strdelimit (line, "\n", ' ');
  for (const char *at = line; (at = strstr (at, words)) != NULL; at++)
    n++;
  return n;
}

static void
test_text (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    {
      g_autoptr (GByteArray) pdf
          = test_sheet (demo.scene, demo.evaluation, (PlumbDrawKind) kind, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
      g_autofree char *text = test_page_text (pdf);
      g_assert_nonnull (strstr (text, plumb_scene_job (demo.scene, 0)->title));
      g_assert_nonnull (strstr (text, plumb_draw_kind_title ((PlumbDrawKind) kind)));
      g_assert_nonnull (strstr (text, "print at 100 %"));
      g_assert_nonnull (strstr (text, "cables and pipes before drilling"));
    }
  g_autoptr (GByteArray) plan
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
  g_autofree char *text = test_page_text (plan);
  /* The room's inner size as its corners are typed, and the throw. */
  g_assert_nonnull (strstr (text, "6.200"));
  g_assert_nonnull (strstr (text, "9.400"));
  g_autofree char *throw_m = plumb_length_format (demo.evaluation->figures[PLUMB_FIGURE_throw_distance_m].value[0],
                                                  PLUMB_UNITS_METRIC, PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT);
  g_assert_nonnull (strstr (text, throw_m));
  g_autoptr (GByteArray) ceiling
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_CEILING, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
  g_autofree char *below = test_page_text (ceiling);
  /* In the table's head on every sheet, and here also at the edge. */
  g_assert_cmpint (count (text, "viewer’s right"), ==, 1);
  g_assert_cmpint (count (below, "viewer’s right"), ==, 2);
  g_assert_nonnull (strstr (below, "to the picture"));
  demo_close (&demo);
}

static void
test_imperial_text (void)
{
  Demo demo;
  demo_open (&demo, "music-room");
  g_autoptr (GByteArray) pdf
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_SHEET_PDF, PLUMB_PAPER_LETTER);
  g_autofree char *text = test_page_text (pdf);
  g_assert_nonnull (strstr (text, "″ = 1′"));
  g_assert_nonnull (strstr (text, "4 in"));
  g_assert_nonnull (strstr (text, "Letter"));
  /* A fraction never runs into its whole number: the lettering has no narrow
   * space, so it is made wide (pdftotext writes it plain). 14′ 6 11/16″ read as 14′ 611/16″ is 50 ft off. */
  double throw_m = demo.evaluation->figures[PLUMB_FIGURE_throw_distance_m].value[0];
  g_autoptr (GString) words = g_string_new_len (NULL, 0);
  g_autofree char *narrow = plumb_length_format (throw_m, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_TYPOGRAPHIC);
  g_string_append (words, narrow);
  g_assert_cmpuint (g_string_replace (words, "\u202f", " ", 0), >=, 2);
  g_assert_nonnull (strstr (text, words->str));
  g_assert_null (strstr (text, narrow));
  demo_close (&demo);
}

/* Words of pdftotext -bbox on a page: all inside the frame, none on another. */
static void
test_words_apart_and_inside (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
      {
        Demo demo;
        demo_open (&demo, demo_names[d]);
        PlumbSheetLayout layout
            = plumb_draw_sheet_layout (demo.scene, demo.evaluation, (PlumbDrawKind) kind, PLUMB_PAPER_A4);
        g_autofree char *path = test_path ("words.pdf");
        g_autoptr (GError) error = NULL;
        PlumbDrawShown shown = plumb_draw_shown_default ();
        g_assert_true (plumb_draw_sheet_export (demo.scene, demo.evaluation, (PlumbDrawKind) kind, &shown, path,
                                                PLUMB_SHEET_PDF, PLUMB_PAPER_A4, &error));
        g_autoptr (GArray) words = test_pdf_words (path);
        test_words_apart (words, layout.frame_x_mm, layout.frame_y_mm, layout.frame_w_mm, layout.frame_h_mm);
        g_assert_cmpuint (words->len, >, 50);
        demo_close (&demo);
      }
}

static void
test_same_bytes (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  g_autoptr (GByteArray) a
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
  g_autoptr (GByteArray) b
      = test_sheet (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_SHEET_PDF, PLUMB_PAPER_A4);
  /* 1 700 000 000 s after 1970 is 14 November 2023, 22:13:20 (date -u). */
  g_assert_nonnull (test_find (a, 0, "20231114221320"));
  g_assert_cmpuint (a->len, ==, b->len);
  g_assert_cmpint (memcmp (a->data, b->data, a->len), ==, 0);
  demo_close (&demo);
}

static void
test_paper_choice (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  /* The loft is longer than it is wide, and its section wider than it is
   * high: the plan stands, the section lies. */
  PlumbSheetLayout plan = plumb_draw_sheet_layout (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_PAPER_A4);
  PlumbSheetLayout side = plumb_draw_sheet_layout (demo.scene, demo.evaluation, PLUMB_DRAW_SIDE, PLUMB_PAPER_A4);
  PlumbSheetLayout large = plumb_draw_sheet_layout (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_PAPER_A3);
  g_assert_cmpfloat (plan.width_mm, ==, 210.0);
  g_assert_cmpfloat (plan.height_mm, ==, 297.0);
  g_assert_cmpfloat (side.width_mm, ==, 297.0);
  g_assert_cmpfloat (large.ratio, <, plan.ratio);
  /* 20 mm for the binder, 10 mm elsewhere. */
  g_assert_cmpfloat (plan.frame_x_mm, ==, 20.0);
  g_assert_cmpfloat_with_epsilon (plan.frame_x_mm + plan.frame_w_mm, 200.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan.frame_y_mm + plan.frame_h_mm, 287.0, 1e-9);
  demo_close (&demo);
}

static void
test_no_such_folder (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  g_autofree char *path = test_path ("none/sheet.pdf");
  g_autoptr (GError) error = NULL;
  PlumbDrawShown shown = plumb_draw_shown_default ();
  g_assert_false (plumb_draw_sheet_export (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, &shown, path,
                                           PLUMB_SHEET_PDF, PLUMB_PAPER_A4, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_assert_nonnull (strstr (error->message, "none/sheet.pdf"));
  demo_close (&demo);
}

int
main (int argc, char **argv)
{
  /* Before any thread of the font library begins. */
  g_setenv ("SOURCE_DATE_EPOCH", "1700000000", TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sheet/picture-to-scale", test_picture_to_scale);
  g_test_add_func ("/sheet/check-ruler", test_check_ruler);
  g_test_add_func ("/sheet/text", test_text);
  g_test_add_func ("/sheet/imperial-text", test_imperial_text);
  g_test_add_func ("/sheet/words", test_words_apart_and_inside);
  g_test_add_func ("/sheet/same-bytes", test_same_bytes);
  g_test_add_func ("/sheet/paper-choice", test_paper_choice);
  g_test_add_func ("/sheet/no-such-folder", test_no_such_folder);
  return g_test_run ();
}
