/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of seats: its order, its words. The evaluation is made by hand, so
 * the wanted order and words are written out; what real figures become is held
 * against another reader in tests/cli/seats.py.
 */
#include <math.h>
#include <string.h>

#include "text/seat-table.h"

#define N 5

static const PlumbWords metric = { PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN };
static const PlumbWords imperial = { PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN };

typedef struct {
  PlumbScene *scene;
  PlumbSeatFigures seats[N];
  PlumbFinding findings[3];
  PlumbStateFigures states[1];
  PlumbEvaluation e;
} Sample;

/* One chair, "Host, left", and a row of four. */
static PlumbScene *
scene_of_five (void)
{
  PlumbScene *scene = plumb_scene_new ();
  PlumbSeat seat;
  PlumbRow row;

  plumb_record_default (PLUMB_RECORD_SEAT, &seat);
  g_strlcpy (seat.id, "host", sizeof seat.id);
  g_strlcpy (seat.label, "Host,\tleft", sizeof seat.label);
  g_assert_true (plumb_scene_fill (scene, PLUMB_RECORD_SEAT, &seat, 1));
  plumb_record_default (PLUMB_RECORD_ROW, &row);
  g_strlcpy (row.id, "row2", sizeof row.id);
  row.count = N - 1;
  g_assert_true (plumb_scene_fill (scene, PLUMB_RECORD_ROW, &row, 1));
  g_assert_true (plumb_scene_commit (scene));
  g_assert_cmpuint (plumb_scene_resolved (scene)->n_seats, ==, N);
  return scene;
}

/* Seats 0 to 4: looks 30° to 26° up; 1 fails one check and 3 two, 2 is tight;
 * 4 has nobody in front, the others a C-value of 60, 70, 80, 90 mm. */
static void
begin (Sample *s)
{
  memset (s, 0, sizeof *s);
  s->scene = scene_of_five ();
  for (uint32_t i = 0; i < N; i++)
    s->seats[i] = (PlumbSeatFigures){ .seat = i,
                                      .before_picture = true,
                                      .look_up_top_rad = (30.0 - i) * PLUMB_PI / 180.0,
                                      .hidden_state = PLUMB_NO_INDEX,
                                      .c_over = i < 4 ? 0 : PLUMB_NO_INDEX,
                                      .c_value_m = i < 4 ? 0.06 + 0.01 * i : 0.0 };
  s->seats[1].fails = s->seats[3].fails = true;
  s->seats[1].failing = UINT64_C (1) << PLUMB_CHECK_PEOPLE_LOOK_UP;
  s->seats[3].failing = UINT64_C (1) << PLUMB_CHECK_PEOPLE_LOOK_UP | UINT64_C (1) << PLUMB_CHECK_PEOPLE_C_VALUE;
  s->findings[0] = (PlumbFinding){ .check = PLUMB_CHECK_PEOPLE_LOOK_UP, .verdict = PLUMB_FAILS,
                                   .subject = { PLUMB_RECORD_ROW, 0, 3 } };
  s->findings[1] = (PlumbFinding){ .check = PLUMB_CHECK_PEOPLE_TEXT, .verdict = PLUMB_TIGHT,
                                   .subject = { PLUMB_RECORD_ROW, 0, 2 } };
  s->findings[2] = (PlumbFinding){ .check = PLUMB_CHECK_PEOPLE_HIDDEN, .verdict = PLUMB_TIGHT,
                                   .subject = { PLUMB_RECORD_ROW, 0, 1 } };
  s->e = (PlumbEvaluation){ .machine = PLUMB_NO_INDEX, .n_seats = N, .seats = s->seats, .n_findings = 3,
                            .findings = s->findings };
}

static void
end (Sample *s)
{
  plumb_scene_unref (s->scene);
}

static void
assert_order (const PlumbSeatTable *table, const uint32_t *wanted)
{
  for (uint32_t row = 0; row < N; row++)
    {
      g_assert_cmpuint (plumb_seat_table_seat (table, row), ==, wanted[row]);
      g_assert_cmpuint (plumb_seat_table_row (table, wanted[row]), ==, row);
    }
}

static void
assert_text (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column, PlumbWords words, const char *wanted)
{
  g_autofree char *text = plumb_seat_table_text (table, row, column, words);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_worst_first (void)
{
  /* Two failures, one, tight, then as in the job. */
  static const uint32_t order[N] = { 3, 1, 2, 0, 4 };
  static const PlumbVerdict verdicts[N] = { PLUMB_FAILS, PLUMB_FAILS, PLUMB_TIGHT, PLUMB_HOLDS, PLUMB_HOLDS };
  Sample s;

  begin (&s);
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (s.scene, &s.e, PLUMB_NO_INDEX);
  g_assert_cmpuint (plumb_seat_table_n_rows (table), ==, N);
  assert_order (table, order);
  for (uint32_t row = 0; row < N; row++)
    g_assert_cmpint (plumb_seat_table_verdict (table, row), ==, verdicts[row]);
  assert_text (table, 0, PLUMB_SEAT_CHECKS, metric, "Looking up; Line of sight over heads");
  /* What is tight about a seat that fails is not the worst. */
  assert_text (table, 1, PLUMB_SEAT_CHECKS, metric, "Looking up");
  assert_text (table, 2, PLUMB_SEAT_CHECKS, metric, "Smallest readable text");
  assert_text (table, 3, PLUMB_SEAT_CHECKS, metric, "");
  assert_text (table, 3, PLUMB_SEAT_VERDICT, metric, "holds");
  PlumbSubject host = plumb_seat_table_subject (table, 3), rear = plumb_seat_table_subject (table, 0);
  g_assert_true (host.kind == PLUMB_RECORD_SEAT && host.index == 0 && host.sub == 0);
  g_assert_true (rear.kind == PLUMB_RECORD_ROW && rear.index == 0 && rear.sub == 3);
  end (&s);
}

static void
test_sorted (void)
{
  static const uint32_t up[N] = { 4, 3, 2, 1, 0 }, down[N] = { 0, 1, 2, 3, 4 };
  /* The seat without a C-value stands last both ways. */
  static const uint32_t c_up[N] = { 0, 1, 2, 3, 4 }, c_down[N] = { 3, 2, 1, 0, 4 };
  static const uint32_t worst[N] = { 3, 1, 2, 0, 4 }, best[N] = { 0, 4, 2, 3, 1 };
  /* Alphabet, then nothing; "Looking up" before the same and more. */
  static const uint32_t words[N] = { 1, 3, 2, 0, 4 };
  Sample s;

  begin (&s);
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (s.scene, &s.e, PLUMB_NO_INDEX);
  plumb_seat_table_sort (table, PLUMB_SEAT_LOOK_UP_TOP, false);
  assert_order (table, up);
  plumb_seat_table_sort (table, PLUMB_SEAT_LOOK_UP_TOP, true);
  assert_order (table, down);
  plumb_seat_table_sort (table, PLUMB_SEAT_C_VALUE, false);
  assert_order (table, c_up);
  plumb_seat_table_sort (table, PLUMB_SEAT_C_VALUE, true);
  assert_order (table, c_down);
  plumb_seat_table_sort (table, PLUMB_SEAT_CHECKS, false);
  assert_order (table, words);
  plumb_seat_table_sort (table, PLUMB_SEAT_SEAT, false);
  assert_order (table, down);
  plumb_seat_table_sort (table, PLUMB_SEAT_VERDICT, true);
  assert_order (table, best);
  /* All are equal here: worst first. */
  plumb_seat_table_sort (table, PLUMB_SEAT_NOISE, true);
  assert_order (table, worst);
  plumb_seat_table_sort (table, PLUMB_N_SEAT_COLUMNS, false);
  assert_order (table, worst);
  end (&s);
}

/* 70 mm = 2.76 in of 25.4 mm (the international inch of 1959). */
static void
test_words (void)
{
  Sample s;
  double value;

  begin (&s);
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (s.scene, &s.e, PLUMB_NO_INDEX);
  plumb_seat_table_sort (table, PLUMB_SEAT_SEAT, false);
  assert_text (table, 1, PLUMB_SEAT_SEAT, metric, "row2:1");
  assert_text (table, 1, PLUMB_SEAT_LOOK_UP_TOP, metric, "29.0");
  assert_text (table, 1, PLUMB_SEAT_C_VALUE, metric, "70");
  assert_text (table, 1, PLUMB_SEAT_C_VALUE, imperial, "2.76");
  g_assert_cmpstr (plumb_seat_column_unit (PLUMB_SEAT_C_VALUE, metric), ==, "mm");
  g_assert_cmpstr (plumb_seat_column_unit (PLUMB_SEAT_C_VALUE, imperial), ==, "in");
  g_assert_cmpstr (plumb_seat_column_unit (PLUMB_SEAT_LOOK_UP_TOP, metric), ==, "°");
  g_assert_true (plumb_seat_table_number (table, 1, PLUMB_SEAT_C_VALUE, &value));
  g_assert_cmpfloat_with_epsilon (value, 0.07, 1e-12);
  assert_text (table, 4, PLUMB_SEAT_C_VALUE, metric, "");
  g_assert_false (plumb_seat_table_number (table, 4, PLUMB_SEAT_C_VALUE, &value));
  g_assert_cmpstr (plumb_seat_table_reason (table, 4, PLUMB_SEAT_C_VALUE), ==, "No head stands in the line of sight.");
  g_assert_cmpstr (plumb_seat_table_reason (table, 4, PLUMB_SEAT_CONTRAST), ==, "Nothing is thrown yet.");
  g_assert_null (plumb_seat_table_reason (table, 1, PLUMB_SEAT_C_VALUE));
  end (&s);
}

/* Tabs and line feeds in names begin neither a cell nor a row. */
static void
test_tabbed (void)
{
  Sample s;

  begin (&s);
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (s.scene, &s.e, PLUMB_NO_INDEX);
  plumb_seat_table_sort (table, PLUMB_SEAT_SEAT, false);
  g_autofree char *text = plumb_seat_table_tabbed (table, metric);
  g_assert_true (g_str_has_suffix (text, "\n"));
  text[strlen (text) - 1] = '\0';
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, N + 1);
  for (char **line = lines; *line != NULL; line++)
    {
      g_auto (GStrv) cells = g_strsplit (*line, "\t", -1);
      g_assert_cmpuint (g_strv_length (cells), ==, PLUMB_N_SEAT_COLUMNS);
    }
  g_assert_true (g_str_has_prefix (lines[0], "seat\tverdict\twhat is worst\tangle (°)\tdistance (heights)\t"));
  g_assert_true (g_str_has_prefix (lines[1], "Host, left\tholds\t\t"));
  end (&s);
}

/* Seats of which nothing is known are listed, and unknown. */
static void
test_nothing_known (void)
{
  Sample s;
  double value;

  begin (&s);
  s.e = (PlumbEvaluation){ .machine = PLUMB_NO_INDEX, .seats = s.seats };
  g_autoptr (PlumbSeatTable) table = plumb_seat_table_new (s.scene, &s.e, 7);
  g_assert_cmpuint (plumb_seat_table_n_rows (table), ==, N);
  for (uint32_t row = 0; row < N; row++)
    {
      g_assert_cmpint (plumb_seat_table_verdict (table, row), ==, PLUMB_UNKNOWN);
      for (int c = PLUMB_SEAT_ANGLE; c <= PLUMB_SEAT_CONTRAST; c++)
        g_assert_false (plumb_seat_table_number (table, row, (PlumbSeatColumn) c, &value));
      assert_text (table, row, PLUMB_SEAT_NOTE, metric, "There is no picture to look at yet.");
    }
  end (&s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/seat-table/worst-first", test_worst_first);
  g_test_add_func ("/seat-table/sorted", test_sorted);
  g_test_add_func ("/seat-table/words", test_words);
  g_test_add_func ("/seat-table/tabbed", test_tabbed);
  g_test_add_func ("/seat-table/nothing-known", test_nothing_known);
  return g_test_run ();
}
