/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window's shell works out before it draws: where a bubble stands,
 * to which step a record belongs, what the header says. No display. */
#include <glib.h>
#include <math.h>

#include "app/header-words.h"
#include "app/steps.h"
#include "app/vial.h"

static PlumbFinding
finding (PlumbVerdict verdict, PlumbLimitSense sense, double least, double most, double figure)
{
  return (PlumbFinding) { .verdict = verdict, .sense = sense, .limit_least = least, .limit_most = most,
                          .has_figure = TRUE, .figure = figure };
}

/* The lines stand at 32 % and 68 %; a one-sided limit is the right one (the
 * table of verdict marks in the look). */
static void
test_bubble_place (void)
{
  PlumbFinding middle = finding (PLUMB_HOLDS, PLUMB_LIMIT_BETWEEN, 1.0, 2.0, 1.5);
  PlumbFinding off = finding (PLUMB_HOLDS, PLUMB_LIMIT_BETWEEN, 1.0, 2.0, 1.4);
  PlumbFinding tight_low = finding (PLUMB_TIGHT, PLUMB_LIMIT_BETWEEN, 1.0, 2.0, 1.01);
  PlumbFinding tight_high = finding (PLUMB_TIGHT, PLUMB_LIMIT_BETWEEN, 1.0, 2.0, 1.99);
  PlumbFinding fails_low = finding (PLUMB_FAILS, PLUMB_LIMIT_BETWEEN, 1.0, 2.0, 0.5);
  PlumbFinding fails_most = finding (PLUMB_FAILS, PLUMB_LIMIT_AT_MOST, 0.0, 2.0, 3.0);
  PlumbFinding fails_least = finding (PLUMB_FAILS, PLUMB_LIMIT_AT_LEAST, 2.0, 0.0, 1.0);

  g_assert_cmpfloat_with_epsilon (plumb_vial_place (&middle), 0.5, 1e-12);
  /* 0.32 + 0.4 × 0.36 */
  g_assert_cmpfloat_with_epsilon (plumb_vial_place (&off), 0.464, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_vial_place (&tight_low), 0.32, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_vial_place (&tight_high), 0.68, 1e-12);
  g_assert_cmpfloat (plumb_vial_place (&fails_low), <, 0.32);
  g_assert_cmpfloat (plumb_vial_place (&fails_most), >, 0.68);
  g_assert_cmpfloat (plumb_vial_place (&fails_least), >, 0.68);
}

/* Whatever the figures are, what holds stands between the lines, what fails
 * beyond them, and nothing leaves the glass. */
static void
test_bubble_of_odd_figures (void)
{
  static const double odd[] = { 0.0, -0.0, -3.0, 1e-300, 1e300, INFINITY, -INFINITY, NAN };

  for (int sense = PLUMB_LIMIT_AT_MOST; sense <= PLUMB_LIMIT_NONE; sense++)
    for (gsize i = 0; i < G_N_ELEMENTS (odd); i++)
      for (gsize j = 0; j < G_N_ELEMENTS (odd); j++)
        {
          PlumbFinding holds = finding (PLUMB_HOLDS, (PlumbLimitSense) sense, odd[j], odd[j], odd[i]);
          PlumbFinding fails = finding (PLUMB_FAILS, (PlumbLimitSense) sense, odd[j], odd[j], odd[i]);
          double in = plumb_vial_place (&holds), out = plumb_vial_place (&fails);
          g_assert_true (in > 0.32 && in < 0.68);
          g_assert_true ((out > 0.0 && out < 0.32) || (out > 0.68 && out < 1.0));
        }
}

static void
test_steps_of_records (void)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      PlumbStep step = plumb_step_of_record ((PlumbRecordKind) kind);
      PlumbRecordKind parent = plumb_record_info ((PlumbRecordKind) kind)->parent;
      g_assert_cmpint ((int) step, >=, 0);
      g_assert_cmpint ((int) step, <, PLUMB_N_STEPS);
      /* What is nested stands on the page of its owner. */
      if (parent != PLUMB_RECORD_NONE)
        g_assert_cmpint ((int) step, ==, (int) plumb_step_of_record (parent));
    }
  g_assert_cmpint (plumb_step_of_record (PLUMB_RECORD_WALL), ==, PLUMB_STEP_ROOM);
  g_assert_cmpint (plumb_step_of_record (PLUMB_RECORD_PLACE), ==, PLUMB_STEP_MACHINE);
  g_assert_cmpint (plumb_step_of_record (PLUMB_RECORD_LAMP), ==, PLUMB_STEP_LIGHT);
}

static void
test_step_takes_its_worst (void)
{
  PlumbFinding findings[] = {
    { .check = PLUMB_CHECK_BEAM_THROW_RANGE, .verdict = PLUMB_TIGHT },
    { .check = PLUMB_CHECK_BEAM_SHIFT_SET, .verdict = PLUMB_FAILS },
    { .check = PLUMB_CHECK_BEAM_SPILL, .verdict = PLUMB_HOLDS },
  };
  PlumbEvaluation evaluation = { .n_findings = G_N_ELEMENTS (findings), .findings = findings };
  PlumbVerdict worst;

  g_assert_true (plumb_step_verdict (&evaluation, PLUMB_STEP_MACHINE, &worst));
  g_assert_cmpint (worst, ==, PLUMB_FAILS);
  g_assert_true (plumb_step_verdict (&evaluation, PLUMB_STEP_SCREEN, &worst));
  g_assert_cmpint (worst, ==, PLUMB_HOLDS);
  /* No finding is no verdict. */
  g_assert_false (plumb_step_verdict (&evaluation, PLUMB_STEP_PEOPLE, &worst));
}

static void
assert_saved (int year, int month, int day, const char *words)
{
  g_autoptr (GDateTime) now = g_date_time_new_local (2026, 1, 1, 0, 30, 0);
  g_autoptr (GDateTime) saved = g_date_time_new_local (year, month, day, 14, 2, 59);
  g_autofree char *said = plumb_header_saved (saved, now);

  g_assert_cmpstr (said, ==, words);
}

static void
test_saved_words (void)
{
  assert_saved (2026, 1, 1, "saved 14:02");
  assert_saved (2025, 12, 31, "saved yesterday"); /* over the end of a year */
  assert_saved (2025, 12, 30, "saved 30 December 2025");
  assert_saved (2025, 1, 1, "saved 1 January 2025"); /* same day of another year */
  assert_saved (2026, 2, 3, "saved 3 February");     /* a clock that was set back */
}

static void
test_header_of_a_new_job (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autofree char *title = plumb_header_title (document), *about = plumb_header_about (document, FALSE);
  g_autofree char *bare = plumb_header_tooltip ("Undo", NULL), *named = plumb_header_tooltip ("Undo", "Drop of A");

  g_assert_cmpstr (title, ==, "New job");
  g_assert_cmpstr (about, ==, "revision 1, not saved");
  g_assert_cmpstr (bare, ==, "Undo");
  g_assert_cmpstr (named, ==, "Undo: Drop of A");
  g_assert_true (plumb_document_set_text (document, PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_title, "Loft", NULL));
  g_assert_true (plumb_document_set_text (document, PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_client, "Film club", NULL));
  g_autofree char *later = plumb_header_title (document), *changed = plumb_header_about (document, FALSE);
  g_assert_cmpstr (later, ==, "Loft");
  g_assert_cmpstr (changed, ==, "Film club, revision 1, changed, not saved");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shell/bubble-place", test_bubble_place);
  g_test_add_func ("/shell/bubble-of-odd-figures", test_bubble_of_odd_figures);
  g_test_add_func ("/shell/steps-of-records", test_steps_of_records);
  g_test_add_func ("/shell/step-takes-its-worst", test_step_takes_its_worst);
  g_test_add_func ("/shell/saved-words", test_saved_words);
  g_test_add_func ("/shell/header-of-a-new-job", test_header_of_a_new_job);
  return g_test_run ();
}
