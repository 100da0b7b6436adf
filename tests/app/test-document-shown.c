/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is shown: arrangement, evaluations, lens trial, selection. */
#include <stdlib.h>
#include <string.h>

#include "document-testing.h"

/* ---- evaluations ------------------------------------------------------------------------ */

static void
test_evaluations (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const guint n = test_count (document, PLUMB_RECORD_ARRANGEMENT);

  const PlumbEvaluation *shown = plumb_document_evaluation (document);
  g_assert_true (shown == plumb_document_evaluation (document));
  g_assert_true (shown == plumb_document_evaluation_of (document, plumb_document_arrangement (document)));
  for (guint i = 0; i < n; i++)
    {
      const PlumbEvaluation *kept = plumb_document_evaluation_of (document, i);
      PlumbEvaluation *fresh;
      g_assert_true (kept == plumb_document_evaluation_of (document, i));
      g_assert_cmpuint (kept->arrangement, ==, i);
      g_assert_true (plumb_evaluate (plumb_document_scene (document), i, &fresh));
      g_assert_cmpuint (kept->n_findings, ==, fresh->n_findings);
      g_assert_cmpfloat (kept->beam.throw_ratio, ==, fresh->beam.throw_ratio);
      plumb_evaluation_free (fresh);
    }
  g_assert_null (plumb_document_evaluation_of (document, n));
  g_assert_null (plumb_document_evaluation_of (document, PLUMB_NO_INDEX));
}

static void
remember_cb (PlumbDocument *document, gpointer place)
{
  *(double *) place = plumb_document_evaluation (document)->plate_m.z;
}

/* A longer drop leaves the plate, a lower plate lowers it by as much. */
static void
test_evaluation_follows (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GError) error = NULL;
  double told_z_m = 0.0;
  const PlumbPlace *place = test_record (document, PLUMB_RECORD_PLACE, 0);
  const double before_m = plumb_document_evaluation (document)->plate_m.z;

  g_signal_connect (document, "changed", G_CALLBACK (remember_cb), &told_z_m);
  plumb_document_set_number (document, PLUMB_RECORD_PLACE, 0, PLUMB_FIELD_place_height_m, place->height_m + 0.1,
                             &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (told_z_m, before_m - 0.1, 1e-12);
  plumb_document_undo (document);
  g_assert_cmpfloat (told_z_m, ==, before_m);
}

/* ---- arrangements ------------------------------------------------------------------------ */

static void
test_show_arrangement (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  TestSignals signals;

  test_listen (document, &signals);
  g_assert_cmpuint (plumb_document_arrangement (document), ==, 0);
  plumb_document_show_arrangement (document, 0);
  g_assert_cmpuint (signals.changed, ==, 0);
  plumb_document_show_arrangement (document, 2);
  g_assert_cmpuint (signals.changed, ==, 1);
  g_assert_cmpuint (plumb_document_arrangement (document), ==, 2);
  g_assert_cmpuint (plumb_document_evaluation (document)->arrangement, ==, 2);
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Showing of B on the rear shelf, lens D");
  plumb_document_undo (document);
  g_assert_cmpuint (plumb_document_arrangement (document), ==, 0);
}

/* When the arrangement shown goes, the next one is shown, at last none. */
static void
test_remove_shown (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autofree char *before = test_text (document);
  guint removed = 0;

  while (test_count (document, PLUMB_RECORD_ARRANGEMENT) > 0)
    {
      const guint at = plumb_document_arrangement (document);
      g_assert_cmpstr (plumb_scene_job (plumb_document_scene (document), 0)->arrangement, ==,
                       plumb_scene_arrangement (plumb_document_scene (document), at)->id);
      g_assert_true (plumb_document_remove (document, PLUMB_RECORD_ARRANGEMENT, at, NULL));
      removed++;
    }
  const PlumbJob *job = plumb_scene_job (plumb_document_scene (document), 0);
  g_assert_cmpstr (job->arrangement, ==, "");
  g_assert_true (PLUMB_TYPED (job, job, arrangement) == 0);
  g_assert_cmpuint (removed, ==, 4);
  g_assert_cmpuint (plumb_document_arrangement (document), ==, PLUMB_NO_INDEX);
  g_assert_false (plumb_document_evaluation (document)->solved);
  for (; removed > 0; removed--)
    g_assert_true (plumb_document_undo (document));
  g_autofree char *after = test_text (document);
  g_assert_cmpstr (after, ==, before);
}

/* Each line of the trial, taken, gives the figures that the line promised. */
static void
assert_taken (PlumbDocument *document, const PlumbTrialLine *line)
{
  g_autoptr (GError) error = NULL;
  const guint n = test_count (document, PLUMB_RECORD_ARRANGEMENT), shown = plumb_document_arrangement (document);

  g_assert_true (plumb_document_take_trial (document, line, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_ARRANGEMENT), ==, n + 1);
  const PlumbEvaluation *evaluation = plumb_document_evaluation (document);
  g_assert_cmpuint (evaluation->arrangement, ==, shown + 1);
  g_assert_cmpuint (evaluation->screen, ==, line->screen);
  g_assert_cmpuint (evaluation->machine, ==, line->machine);
  g_assert_cmpuint (evaluation->lens, ==, line->lens);
  g_assert_cmpuint (evaluation->place, ==, line->place);
  g_assert_cmpuint (evaluation->mount, ==, line->mount);
  if (line->reachable)
    {
      g_assert_cmpfloat (evaluation->beam.throw_ratio, ==, line->throw_ratio);
      g_assert_cmpfloat (evaluation->beam.shift_v_share, ==, line->shift_v_share);
      g_assert_cmpfloat (evaluation->figures[PLUMB_FIGURE_pitch_rad].value[0], ==, line->tilt_rad);
    }
  g_assert_true (plumb_document_undo (document));
}

static void
test_take_trial (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  PlumbTrialLine *lines;
  uint32_t n, reachable = 0;

  g_assert_true (
      plumb_lens_trial (plumb_document_scene (document), plumb_document_arrangement (document), 0, 0, &lines, &n));
  g_assert_cmpuint (n, ==, 30); /* two machines, five lenses, three places */
  for (uint32_t i = 0; i < n; i++)
    {
      assert_taken (document, &lines[i]);
      reachable += lines[i].reachable ? 1 : 0;
    }
  g_assert_cmpuint (reachable, >, 0);
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpstr (plumb_document_redo_name (document), ==,
                   "From the lens trial: Short throw, 3800 lm, Mirror, fixed, Sail store, through the port");
  free (lines);
}

/* Without an arrangement the taken one is the first, and a long name is cut. */
static void
test_take_first_trial (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) name = g_string_new (NULL);
  PlumbTrialLine *lines;
  uint32_t n;

  while (test_count (document, PLUMB_RECORD_ARRANGEMENT) > 0)
    plumb_document_remove (document, PLUMB_RECORD_ARRANGEMENT, 0, &error);
  for (int i = 0; i < 47; i++)
    g_string_append (name, "\303\266");
  plumb_document_set_text (document, PLUMB_RECORD_MACHINE, 0, PLUMB_FIELD_machine_label, name->str, &error);
  g_assert_no_error (error);
  g_assert_true (plumb_lens_trial (plumb_document_scene (document), PLUMB_NO_INDEX, 0, 1, &lines, &n));
  g_assert_true (plumb_document_take_trial (document, &lines[0], &error));
  free (lines);
  const PlumbArrangement *taken = test_record (document, PLUMB_RECORD_ARRANGEMENT, 0);
  g_assert_cmpstr (taken->id, ==, "arrangement-1");
  g_assert_true (g_str_has_prefix (taken->label, name->str));
  g_assert_true (g_utf8_validate (taken->label, -1, NULL));
  g_assert_cmpuint (plumb_document_arrangement (document), ==, 0);
}

/* ---- selection ------------------------------------------------------------------------------ */

static const char *
selected_id (PlumbDocument *document)
{
  PlumbSubject subject = plumb_document_selection (document);

  g_assert_cmpint (subject.kind, !=, PLUMB_RECORD_NONE);
  return plumb_record_id (subject.kind, test_record (document, subject.kind, subject.index));
}

static void
test_select (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  TestSignals signals;
  const PlumbSubject wall = { PLUMB_RECORD_WALL, 2, PLUMB_NO_INDEX };

  test_listen (document, &signals);
  plumb_document_select (document, wall, PLUMB_FIELD_wall_x_m);
  plumb_document_select (document, wall, PLUMB_FIELD_wall_x_m);
  g_assert_cmpuint (signals.selected, ==, 1);
  g_assert_cmpint (plumb_document_selected_field (document), ==, PLUMB_FIELD_wall_x_m);
  plumb_document_select (document, wall, -1);
  g_assert_cmpuint (signals.selected, ==, 2);
  plumb_document_select (document, (PlumbSubject){ PLUMB_RECORD_WALL, 99, PLUMB_NO_INDEX }, 3);
  g_assert_cmpuint (signals.selected, ==, 3);
  g_assert_cmpint (plumb_document_selection (document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_cmpint (plumb_document_selected_field (document), ==, -1);
  g_assert_cmpuint (signals.changed + signals.filed, ==, 0);
}

static void
test_selection_stays (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GError) error = NULL;
  const guint right = test_find (document, PLUMB_RECORD_WALL, "right");
  TestSignals signals;

  plumb_document_select (document, (PlumbSubject){ PLUMB_RECORD_WALL, right, PLUMB_NO_INDEX }, PLUMB_FIELD_wall_y_m);
  test_listen (document, &signals);
#define STAYS(call)                                                                                                  \
  g_assert_true (call);                                                                                              \
  g_assert_cmpstr (selected_id (document), ==, "right")
  STAYS (plumb_document_copy (document, PLUMB_RECORD_WALL, 0, &error) != PLUMB_NO_INDEX);
  STAYS (plumb_document_move (document, PLUMB_RECORD_WALL, right + 1, 1, &error));
  STAYS (plumb_document_move (document, PLUMB_RECORD_WALL, right + 3, -1, &error));
  STAYS (plumb_document_remove (document, PLUMB_RECORD_WALL, 0, &error));
  STAYS (plumb_document_remove (document, PLUMB_RECORD_SEAT, 0, &error));
  g_assert_true (plumb_document_rename (document, PLUMB_RECORD_WALL, plumb_document_selection (document).index,
                                        "starboard", &error));
  g_assert_cmpstr (selected_id (document), ==, "starboard");
  for (int i = 0; i < 6; i++)
    {
      STAYS (plumb_document_undo (document));
    }
  for (int i = 0; i < 5; i++)
    {
      STAYS (plumb_document_redo (document));
    }
#undef STAYS
  g_assert_no_error (error);
  g_assert_cmpint (plumb_document_selected_field (document), ==, PLUMB_FIELD_wall_y_m);
  /* Its number changed by the copy, both moves and the removal, and on the way back and forth. */
  g_assert_cmpuint (signals.selected, ==, 4 + 4 + 4);
  g_assert_true (
      plumb_document_remove (document, PLUMB_RECORD_WALL, plumb_document_selection (document).index, NULL));
  g_assert_cmpint (plumb_document_selection (document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_cmpint (plumb_document_selected_field (document), ==, -1);
}

static double
selected_width (PlumbDocument *document)
{
  PlumbSubject subject = plumb_document_selection (document);

  g_assert_cmpint (subject.kind, ==, PLUMB_RECORD_LENS_PAIR);
  return ((const PlumbLensPairLine *) test_record (document, subject.kind, subject.index))->width_m;
}

/* A nested record has no id: it goes where its owner and its neighbours go. */
static void
test_nested_selection_stays (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 3; i++)
    {
      plumb_document_add (document, PLUMB_RECORD_LENS, 0, PLUMB_NO_INDEX, &error);
      for (guint k = 0; k < 3; k++)
        {
          guint at = plumb_document_add (document, PLUMB_RECORD_LENS_PAIR, i, PLUMB_NO_INDEX, &error);
          plumb_document_set_number (document, PLUMB_RECORD_LENS_PAIR, at, PLUMB_FIELD_lens_pair_width_m,
                                     1 + i + 0.1 * k, &error);
        }
    }
  /* Second line of the second lens. */
  plumb_document_select (document, (PlumbSubject){ PLUMB_RECORD_LENS_PAIR, 4, PLUMB_NO_INDEX }, -1);
  const double width_m = selected_width (document);
  guint steps = 0;
#define STAYS(call)                                                                                                  \
  g_assert_true (call);                                                                                              \
  g_assert_cmpfloat (selected_width (document), ==, width_m);                                                        \
  steps++
  STAYS (plumb_document_move (document, PLUMB_RECORD_LENS, 1, -1, &error));
  STAYS (plumb_document_copy (document, PLUMB_RECORD_LENS, 0, &error) != PLUMB_NO_INDEX);
  STAYS (plumb_document_remove (document, PLUMB_RECORD_LENS, 2, &error));
  STAYS (plumb_document_add (document, PLUMB_RECORD_LENS_PAIR, 0, 0, &error) != PLUMB_NO_INDEX);
  STAYS (plumb_document_move (document, PLUMB_RECORD_LENS_PAIR, 2, 1, &error));
  STAYS (plumb_document_remove (document, PLUMB_RECORD_LENS_PAIR, 0, &error));
#undef STAYS
  g_assert_no_error (error);
  for (guint i = 0; i < steps; i++)
    {
      g_assert_true (plumb_document_undo (document));
      g_assert_cmpfloat (selected_width (document), ==, width_m);
    }
  g_assert_cmpuint (plumb_document_selection (document).index, ==, 4);
  g_assert_true (plumb_document_remove (document, PLUMB_RECORD_LENS, 1, &error));
  g_assert_cmpint (plumb_document_selection (document).kind, ==, PLUMB_RECORD_NONE);
}

/* An edit of 50 drags: how long a frame of a drag keeps the document busy. */
static void
test_drag_time (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GTimer) timer = g_timer_new ();

  plumb_document_begin_drag (document);
  for (int i = 0; i < 50; i++)
    {
      plumb_document_set_number (document, PLUMB_RECORD_PLACE, 0, PLUMB_FIELD_place_along_m, 2.0 + 0.01 * i, NULL);
      g_assert_true (plumb_document_evaluation (document)->solved);
    }
  plumb_document_end_drag (document);
  const double ms = g_timer_elapsed (timer, NULL) * 1000.0 / 50.0;
  g_test_message ("an edit and its evaluation take %.3f ms", ms);
  /* A frame at 60 Hz, even with sanitizers on a loaded machine. */
  g_assert_cmpfloat (ms, <, 16.0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/shown/evaluations", test_evaluations);
  g_test_add_func ("/shown/evaluation-follows", test_evaluation_follows);
  g_test_add_func ("/shown/arrangement", test_show_arrangement);
  g_test_add_func ("/shown/remove-shown", test_remove_shown);
  g_test_add_func ("/shown/take-trial", test_take_trial);
  g_test_add_func ("/shown/take-first-trial", test_take_first_trial);
  g_test_add_func ("/shown/select", test_select);
  g_test_add_func ("/shown/selection-stays", test_selection_stays);
  g_test_add_func ("/shown/nested-selection-stays", test_nested_selection_stays);
  g_test_add_func ("/shown/drag-time", test_drag_time);
  return g_test_run ();
}
