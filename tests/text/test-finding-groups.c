/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grouping of findings: small lists worked out by hand. */
#include "text/finding-groups.h"

static PlumbFinding
finding (PlumbCheck check, PlumbVerdict verdict, double figure, double least)
{
  return (PlumbFinding){ .check = check,
                         .verdict = verdict,
                         .has_figure = true,
                         .figure = figure,
                         .sense = PLUMB_LIMIT_AT_LEAST,
                         .limit_least = least,
                         .unit = "m" };
}

static void
test_seats (void)
{
  /* Spare of the seats: 1.0, 0.2, 0.6. */
  PlumbFinding list[] = {
    finding (PLUMB_CHECK_PEOPLE_HEIGHTS, PLUMB_FAILS, 1.0, 2.0),
    finding (PLUMB_CHECK_BEAM_SPILL, PLUMB_HOLDS, 1.0, 0.0),
    finding (PLUMB_CHECK_PEOPLE_HEIGHTS, PLUMB_HOLDS, 3.0, 2.0),
    finding (PLUMB_CHECK_PEOPLE_HEIGHTS, PLUMB_HOLDS, 2.2, 2.0),
    finding (PLUMB_CHECK_BEAM_SPILL, PLUMB_HOLDS, 2.0, 0.0),
    finding (PLUMB_CHECK_PEOPLE_HEIGHTS, PLUMB_HOLDS, 2.6, 2.0),
  };
  PlumbEvaluation e = { .findings = list, .n_findings = G_N_ELEMENTS (list) };
  uint32_t n, *of;
  g_autofree PlumbFindingGroup *groups = plumb_finding_groups (&e, &n, &of);
  const uint32_t wanted_of[] = { 0, 1, 2, 2, 3, 2 };

  /* Another verdict is another group, and only seats are grouped. */
  g_assert_cmpuint (n, ==, 4);
  for (gsize i = 0; i < G_N_ELEMENTS (wanted_of); i++)
    g_assert_cmpuint (of[i], ==, wanted_of[i]);
  g_assert_cmpuint (groups[0].finding, ==, 0);
  g_assert_cmpuint (groups[0].count, ==, 1);
  g_assert_cmpuint (groups[1].finding, ==, 1);
  g_assert_cmpuint (groups[1].count, ==, 1);
  g_assert_cmpuint (groups[2].finding, ==, 3);
  g_assert_cmpuint (groups[2].count, ==, 3);
  g_assert_cmpuint (groups[3].finding, ==, 4);
  g_free (of);
}

static void
test_without_figure (void)
{
  PlumbFinding list[] = {
    finding (PLUMB_CHECK_PEOPLE_ANGLE_LEAST, PLUMB_UNKNOWN, 0.0, 0.0),
    finding (PLUMB_CHECK_PEOPLE_ANGLE_LEAST, PLUMB_UNKNOWN, 0.0, 0.0),
  };
  PlumbEvaluation e = { .findings = list, .n_findings = G_N_ELEMENTS (list) };
  uint32_t n;

  list[0].has_figure = list[1].has_figure = false;
  g_autofree PlumbFindingGroup *groups = plumb_finding_groups (&e, &n, NULL);
  g_assert_cmpuint (n, ==, 1);
  g_assert_cmpuint (groups[0].finding, ==, 0);
  g_assert_cmpuint (groups[0].count, ==, 2);
}

static void
test_none (void)
{
  PlumbEvaluation e = { 0 };
  uint32_t n = 7;
  g_autofree PlumbFindingGroup *groups = plumb_finding_groups (&e, &n, NULL);

  g_assert_nonnull (groups);
  g_assert_cmpuint (n, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/finding-groups/seats", test_seats);
  g_test_add_func ("/finding-groups/without-figure", test_without_figure);
  g_test_add_func ("/finding-groups/none", test_none);
  return g_test_run ();
}
