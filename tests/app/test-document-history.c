/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps: what makes one, what they share, how many are kept. */
#include <string.h>

#include "document-testing.h"

static void
set_drop (PlumbDocument *document, double drop_m)
{
  g_autoptr (GError) error = NULL;
  plumb_document_set_number (document, PLUMB_RECORD_PLACE, 0, PLUMB_FIELD_place_drop_m, drop_m, &error);
  g_assert_no_error (error);
}

static double
drop_of (PlumbDocument *document)
{
  return ((const PlumbPlace *) test_record (document, PLUMB_RECORD_PLACE, 0))->drop_m;
}

static guint
count_undo (PlumbDocument *document)
{
  guint n = 0;
  while (plumb_document_undo (document))
    n++;
  return n;
}

static void
test_new_edit_forgets (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");

  set_drop (document, 1.0);
  set_drop (document, 2.0);
  plumb_document_undo (document);
  g_assert_cmpfloat (drop_of (document), ==, 1.0);
  set_drop (document, 3.0);
  g_assert_null (plumb_document_redo_name (document));
  g_assert_false (plumb_document_redo (document));
  g_assert_cmpuint (count_undo (document), ==, 2);
}

/* ---- drags ---------------------------------------------------------------------------- */

static void
test_drag_is_one_step (void)
{
  static const int fields[] = { PLUMB_FIELD_place_along_m, PLUMB_FIELD_place_off_m };
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  PlumbScene *before = plumb_scene_ref (plumb_document_scene (document));
  g_autoptr (GError) error = NULL;
  TestSignals signals;

  test_listen (document, &signals);
  plumb_document_begin_drag (document);
  for (int i = 1; i <= 50; i++)
    plumb_document_set_numbers (document, PLUMB_RECORD_PLACE, 0, 2, fields,
                                (const double[]){ 2.0 + 0.01 * i, 3.0 + 0.01 * i }, &error);
  /* One that does not fit is refused, and the drag goes on. */
  g_assert_false (plumb_document_set_number (document, PLUMB_RECORD_PLACE, 0, fields[0], 1e6, NULL));
  plumb_document_end_drag (document);
  g_assert_no_error (error);
  g_assert_cmpuint (signals.changed, ==, 50);
  g_assert_cmpuint (signals.filed, ==, 1);
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Along and off of Tie beam T2");
  set_drop (document, 1.0); /* after the drag: a step of its own */
  g_assert_true (plumb_document_undo (document));
  g_assert_true (plumb_document_undo (document));
  g_assert_false (plumb_document_undo (document));
  test_assert_shares_all (before, plumb_document_scene (document));
  g_assert_true (plumb_document_redo (document));
  const PlumbPlace *place = test_record (document, PLUMB_RECORD_PLACE, 0);
  g_assert_cmpfloat (place->along_m, ==, 2.5);
  g_assert_cmpfloat (place->off_m, ==, 3.5);
  plumb_scene_unref (before);
}

static void
test_drag_and_back (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const double at = drop_of (document);

  plumb_document_begin_drag (document);
  set_drop (document, 1.0);
  set_drop (document, at);
  plumb_document_end_drag (document);
  g_assert_null (plumb_document_undo_name (document));
  g_assert_false (plumb_document_is_changed (document));
  /* A click that moves nothing. */
  plumb_document_begin_drag (document);
  plumb_document_end_drag (document);
  g_assert_null (plumb_document_undo_name (document));
}

/* A drag that is taken back leaves nothing, neither to undo nor to redo. */
static void
test_cancelled_drag (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const double at = drop_of (document);

  set_drop (document, 0.5);
  plumb_document_begin_drag (document);
  set_drop (document, 1.0);
  set_drop (document, 1.1);
  plumb_document_cancel_drag (document);
  g_assert_cmpfloat (drop_of (document), ==, 0.5);
  g_assert_null (plumb_document_redo_name (document));
  g_assert_cmpuint (count_undo (document), ==, 1);
  g_assert_cmpfloat (drop_of (document), ==, at);
  /* One that moved nothing takes no step back. */
  plumb_document_redo (document);
  plumb_document_begin_drag (document);
  plumb_document_cancel_drag (document);
  g_assert_cmpfloat (drop_of (document), ==, 0.5);
  g_assert_cmpuint (count_undo (document), ==, 1);
}

/* ---- groups --------------------------------------------------------------------------- */

/* Whatever is done in a group is one step, named like its first part or as it
 * is told, and the selection follows it both ways. */
static void
test_group (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autofree char *before = test_text (document);
  const guint arrangements = test_count (document, PLUMB_RECORD_ARRANGEMENT);
  const guint shown = plumb_document_arrangement (document);

  plumb_document_select (document, (PlumbSubject){ PLUMB_RECORD_ARRANGEMENT, 0, PLUMB_NO_INDEX }, -1);
  plumb_document_begin_group (document);
  const guint fresh = plumb_document_copy (document, PLUMB_RECORD_ARRANGEMENT, 0, NULL);
  plumb_document_show_arrangement (document, fresh);
  plumb_document_move (document, PLUMB_RECORD_ARRANGEMENT, fresh, -1, NULL);
  plumb_document_end_group (document, "Three in one");
  g_autofree char *after = test_text (document);
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Three in one");
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_ARRANGEMENT), ==, arrangements + 1);
  g_assert_cmpuint (plumb_document_selection (document).index, ==, 1);

  g_assert_true (plumb_document_undo (document));
  g_autofree char *back = test_text (document);
  g_assert_cmpstr (back, ==, before);
  g_assert_cmpuint (plumb_document_arrangement (document), ==, shown);
  g_assert_cmpuint (plumb_document_selection (document).index, ==, 0);
  g_assert_false (plumb_document_undo (document));
  g_assert_true (plumb_document_redo (document));
  g_autofree char *again = test_text (document);
  g_assert_cmpstr (again, ==, after);
  g_assert_cmpuint (plumb_document_selection (document).index, ==, 1);
  test_assert_sound (document);
}

/* There and back is no step; undo ends a group that is open. */
static void
test_group_ends (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const double at = drop_of (document);

  plumb_document_begin_group (document);
  plumb_document_move (document, PLUMB_RECORD_ARRANGEMENT, 0, 1, NULL);
  plumb_document_move (document, PLUMB_RECORD_ARRANGEMENT, 1, -1, NULL);
  plumb_document_end_group (document, NULL);
  g_assert_null (plumb_document_undo_name (document));
  g_assert_cmpuint (plumb_document_history_bytes (document), ==, 0);

  plumb_document_begin_group (document);
  set_drop (document, 1.0);
  set_drop (document, 1.1);
  g_assert_true (plumb_document_undo (document));
  g_assert_cmpfloat (drop_of (document), ==, at);
  set_drop (document, 1.2); /* of its own */
  set_drop (document, 1.3);
  plumb_document_end_group (document, NULL);
  g_assert_cmpuint (count_undo (document), ==, 2);
}

/* A record made while dragging is a step of its own; undo ends a drag. */
static void
test_drag_with_others (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const guint seats = test_count (document, PLUMB_RECORD_SEAT);

  set_drop (document, 0.5);
  plumb_document_begin_drag (document);
  set_drop (document, 1.0);
  set_drop (document, 1.1);
  g_assert_cmpuint (plumb_document_copy (document, PLUMB_RECORD_SEAT, 0, NULL), ==, 1);
  set_drop (document, 1.2);
  set_drop (document, 1.3);
  g_assert_true (plumb_document_undo (document));
  g_assert_cmpfloat (drop_of (document), ==, 1.1);
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_SEAT), ==, seats + 1);
  set_drop (document, 1.4);
  g_assert_true (plumb_document_undo (document));
  g_assert_cmpfloat (drop_of (document), ==, 1.1);
  g_assert_true (plumb_document_undo (document));
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_SEAT), ==, seats);
  g_assert_true (plumb_document_undo (document));
  g_assert_cmpfloat (drop_of (document), ==, 0.5);
  g_assert_true (plumb_document_undo (document));
  g_assert_false (plumb_document_undo (document));
}

/* ---- memory ------------------------------------------------------------------------------ */

/* A step that changes one place costs the array of places and little more:
 * ids take at most 16 bytes each, the step itself under 200. */
static void
test_bytes (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const gsize array = test_count (document, PLUMB_RECORD_PLACE) * (sizeof (PlumbPlace) + 16);

  g_assert_cmpuint (plumb_document_history_bytes (document), ==, 0);
  for (guint i = 1; i <= 40; i++)
    {
      set_drop (document, 0.2 + 0.01 * i);
      const gsize bytes = plumb_document_history_bytes (document);
      g_assert_cmpuint (bytes, >=, i * test_count (document, PLUMB_RECORD_PLACE) * sizeof (PlumbPlace));
      g_assert_cmpuint (bytes, <=, i * (array + 250));
    }
  g_test_message ("a step that moves one of %u places keeps %" G_GSIZE_FORMAT " bytes",
                  test_count (document, PLUMB_RECORD_PLACE), plumb_document_history_bytes (document) / 40);
  g_assert_cmpuint (count_undo (document), ==, 40);
  /* A drag costs no more than one step, however long it is. */
  plumb_document_begin_drag (document);
  for (guint i = 1; i <= 100; i++)
    set_drop (document, 1.0 + 0.01 * i);
  plumb_document_end_drag (document);
  g_assert_cmpuint (plumb_document_history_bytes (document), <=, array + 250);
}

static void
test_cap (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");

  set_drop (document, 0.2);
  const gsize one = plumb_document_history_bytes (document);
  plumb_document_set_history_cap (document, 10 * one + 100);
  for (guint i = 1; i <= 100; i++)
    {
      set_drop (document, 0.2 + 0.01 * i);
      g_assert_cmpuint (plumb_document_history_bytes (document), <=, 10 * one + 100);
    }
  g_assert_cmpuint (count_undo (document), ==, 10);
  g_assert_cmpfloat_with_epsilon (drop_of (document), 1.1, 1e-12);
  while (plumb_document_redo (document))
    ;
  g_assert_cmpfloat_with_epsilon (drop_of (document), 1.2, 1e-12);
  /* The last step stays, however large it is. */
  plumb_document_set_history_cap (document, 1);
  g_assert_cmpuint (count_undo (document), ==, 1);
  g_assert_true (plumb_document_redo (document));
  set_drop (document, 7.0);
  set_drop (document, 8.0);
  g_assert_cmpuint (count_undo (document), ==, 1);
  g_assert_cmpfloat (drop_of (document), ==, 7.0);
}

/* ---- anything, in any order ------------------------------------------------------------------ */

static PlumbRecordKind
any_kind (void)
{
  return (PlumbRecordKind) g_test_rand_int_range (1, PLUMB_N_RECORDS);
}

static guint
any_record (PlumbDocument *document, PlumbRecordKind kind)
{
  return (guint) g_test_rand_int_range (0, (gint32) test_count (document, kind) + 1);
}

/* Some edit; a refused one changes nothing. */
static void
edit_anything (PlumbDocument *document)
{
  PlumbRecordKind kind = any_kind ();
  const PlumbRecordInfo *info = plumb_record_info (kind);
  guint index = any_record (document, kind);
  int field = g_test_rand_int_range (0, info->n_fields);
  g_autofree char *id = g_strdup_printf ("id-%d", g_test_rand_int_range (0, 1000));

  switch (g_test_rand_int_range (0, 7))
    {
    case 0:
      plumb_document_add (document, kind, info->parent > 0 ? any_record (document, info->parent) : 0, PLUMB_NO_INDEX,
                          NULL);
      break;
    case 1:
      plumb_document_copy (document, kind, index, NULL);
      break;
    case 2:
      plumb_document_remove (document, kind, index, NULL);
      break;
    case 3:
      plumb_document_move (document, kind, index, g_test_rand_bit () ? 1 : -1, NULL);
      break;
    case 4:
      plumb_document_rename (document, kind, index, id, NULL);
      break;
    case 5:
      plumb_document_set_number (document, kind, index, field, g_test_rand_int_range (-5, 200), NULL);
      break;
    default:
      plumb_document_reset (document, kind, index, field, NULL);
    }
}

/* The texts are too long to be printed. */
static void
assert_text (PlumbDocument *document, const char *wanted)
{
  g_autofree char *text = test_text (document);
  g_assert_true (strcmp (text, wanted) == 0);
}

/* The texts of all states stand beside the history, and each is found again. */
static void
test_anything (void)
{
  g_autoptr (PlumbDocument) document = test_crowd ();
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  guint at = 0, edits = 0;

  while (plumb_document_undo (document))
    ;
  g_ptr_array_add (texts, test_text (document));
  while (plumb_document_redo (document))
    g_ptr_array_add (texts, test_text (document));
  at = texts->len - 1;
  for (int round = 0; round < 400; round++)
    {
      int what = g_test_rand_int_range (0, 10);
      if (what == 0)
        at -= plumb_document_undo (document) ? 1 : 0;
      else if (what == 1)
        at += plumb_document_redo (document) ? 1 : 0;
      else
        {
          const PlumbScene *before = plumb_document_scene (document);
          edit_anything (document);
          if (plumb_document_scene (document) == before)
            continue;
          edits++;
          test_assert_sound (document);
          g_ptr_array_set_size (texts, (int) ++at);
          g_ptr_array_add (texts, test_text (document));
        }
      assert_text (document, g_ptr_array_index (texts, at));
      g_assert_cmpint (plumb_document_undo_name (document) != NULL, ==, at > 0);
      g_assert_nonnull (plumb_document_evaluation (document));
    }
  g_assert_cmpuint (edits, >, 50);
  while (plumb_document_undo (document))
    assert_text (document, g_ptr_array_index (texts, --at));
  g_assert_cmpuint (at, ==, 0);
  g_assert_false (plumb_document_is_changed (document));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/history/new-edit-forgets", test_new_edit_forgets);
  g_test_add_func ("/history/drag-is-one-step", test_drag_is_one_step);
  g_test_add_func ("/history/drag-and-back", test_drag_and_back);
  g_test_add_func ("/history/drag-with-others", test_drag_with_others);
  g_test_add_func ("/history/cancelled-drag", test_cancelled_drag);
  g_test_add_func ("/history/group", test_group);
  g_test_add_func ("/history/group-ends", test_group_ends);
  g_test_add_func ("/history/bytes", test_bytes);
  g_test_add_func ("/history/cap", test_cap);
  g_test_add_func ("/history/anything", test_anything);
  return g_test_run ();
}
