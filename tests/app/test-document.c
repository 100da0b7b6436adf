/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Editing: fields, ids, order, what stays selected, what a refusal leaves. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "document-testing.h"

#define PLACE_FIELD(member) PLUMB_RECORD_PLACE, 0, PLUMB_FIELD_place_##member

static void
test_new (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autofree char *text = test_text (document);

  g_assert_null (plumb_document_path (document));
  g_assert_false (plumb_document_is_changed (document));
  g_assert_null (plumb_document_undo_name (document));
  g_assert_null (plumb_document_redo_name (document));
  g_assert_false (plumb_document_undo (document));
  g_assert_false (plumb_document_redo (document));
  g_assert_cmpuint (plumb_document_arrangement (document), ==, PLUMB_NO_INDEX);
  g_assert_nonnull (plumb_document_evaluation (document));
  g_assert_false (plumb_document_evaluation (document)->solved);
  g_assert_null (plumb_document_evaluation_of (document, 0));
  g_assert_cmpint (plumb_document_selection (document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_cmpint (plumb_document_selected_field (document), ==, -1);
  g_assert_cmpint (strncmp (text, "{\n  \"plumbeam\": 1", 17), ==, 0);
}

/* Every typed field of every record, entered into an empty job. */
static void
enter_like (PlumbDocument *document, const PlumbScene *like, PlumbRecordKind kind, guint i)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  const PlumbRecordHead *head = plumb_scene_record (like, kind, i);
  g_autoptr (GError) error = NULL;

  if (kind != PLUMB_RECORD_JOB)
    {
      g_assert_cmpuint (plumb_document_add (document, kind, head->owner, PLUMB_NO_INDEX, &error), ==, i);
      g_assert_no_error (error);
    }
  for (int field = 0; field < info->n_fields; field++)
    if ((head->typed >> field & 1u) != 0)
      test_type_like (document, kind, i, field, head);
}

static void
test_rebuild (gconstpointer name)
{
  g_autofree char *inner = g_strdup_printf ("data/demo/%s.plumbeam", (const char *) name);
  g_autofree char *path = test_source_path (inner);
  g_autofree char *folder = g_dir_make_tmp ("plumbeam-XXXXXX", NULL);
  g_autofree char *built_path = g_build_filename (folder, "built.plumbeam", NULL);
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) demo = plumb_job_load (path, &error);
  g_autofree char *empty = test_text (document);
  g_autofree char *wanted = NULL, *built = NULL;
  guint steps = 0;

  g_assert_no_error (error);
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    for (guint i = 0; i < plumb_kind_count (plumb_job_scene (demo), (PlumbRecordKind) k); i++)
      enter_like (document, plumb_job_scene (demo), (PlumbRecordKind) k, i);
  g_assert_true (plumb_document_save (document, built_path, &error));
  g_assert_true (g_file_get_contents (path, &wanted, NULL, NULL));
  g_assert_true (g_file_get_contents (built_path, &built, NULL, NULL));
  g_assert_cmpstr (built, ==, wanted);

  while (plumb_document_undo (document))
    steps++;
  g_autofree char *undone = test_text (document);
  g_assert_cmpstr (undone, ==, empty);
  g_assert_cmpuint (steps, >, 500);
  while (plumb_document_redo (document))
    steps--;
  g_autofree char *again = test_text (document);
  g_assert_cmpstr (again, ==, wanted);
  g_assert_cmpuint (steps, ==, 0);
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpint (g_remove (built_path), ==, 0);
  g_assert_cmpint (g_remove (folder), ==, 0);
}

/* ---- fields ------------------------------------------------------------------------- */

static void
test_set (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  PlumbScene *first = plumb_scene_ref (plumb_document_scene (document));
  g_autoptr (GError) error = NULL;
  TestSignals signals;

  test_listen (document, &signals);
  g_assert_true (plumb_document_set_text (document, PLACE_FIELD (label), "A, tie beam T2", &error));
  g_assert_true (plumb_document_set_number (document, PLACE_FIELD (drop_m), 0.12, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Drop of A, tie beam T2");
  const PlumbPlace *place = test_record (document, PLUMB_RECORD_PLACE, 0);
  g_assert_cmpfloat (place->drop_m, ==, 0.12);
  g_assert_true (PLUMB_TYPED (place, place, drop_m) != 0);
  g_assert_true (plumb_document_is_changed (document));
  g_assert_cmpuint (signals.changed, ==, 2);
  g_assert_cmpuint (signals.filed, ==, 1);
  g_assert_cmpuint (signals.selected, ==, 0);
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    g_assert_cmpint (plumb_scene_shares (first, plumb_document_scene (document), (PlumbRecordKind) k), ==,
                     k != PLUMB_RECORD_PLACE);

  /* The same once more is no step. */
  g_assert_true (plumb_document_set_number (document, PLACE_FIELD (drop_m), 0.12, &error));
  g_assert_cmpuint (signals.changed, ==, 2);

  g_assert_true (plumb_document_undo (document));
  g_assert_cmpstr (plumb_document_redo_name (document), ==, "Drop of A, tie beam T2");
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Name of Tie beam T2");
  g_assert_true (plumb_document_undo (document));
  g_assert_false (plumb_document_undo (document));
  test_assert_shares_all (first, plumb_document_scene (document));
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpuint (signals.filed, ==, 2);
  plumb_scene_unref (first);
}

static void
test_set_several (void)
{
  static const int fields[] = { PLUMB_FIELD_place_along_m, PLUMB_FIELD_place_off_m };
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GError) error = NULL;

  g_assert_true (
      plumb_document_set_numbers (document, PLUMB_RECORD_PLACE, 0, 2, fields, (const double[]){ 2.5, 3.25 }, &error));
  const PlumbPlace *place = test_record (document, PLUMB_RECORD_PLACE, 0);
  g_assert_cmpfloat (place->along_m, ==, 2.5);
  g_assert_cmpfloat (place->off_m, ==, 3.25);
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Along and off of Tie beam T2");
  /* One that does not fit keeps the other out. */
  g_assert_false (plumb_document_set_numbers (document, PLUMB_RECORD_PLACE, 0, 2, fields,
                                              (const double[]){ 1.0, 2000.0 }, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET);
  g_assert_cmpfloat (((const PlumbPlace *) test_record (document, PLUMB_RECORD_PLACE, 0))->along_m, ==, 2.5);
  g_assert_true (plumb_document_undo (document));
  g_assert_null (plumb_document_undo_name (document));
}

/* Every field of every record: typed with its own value it becomes typed, reset
 * it has its default and is not; undo brings both back. */
static void
test_reset_all (void)
{
  g_autoptr (PlumbDocument) document = test_crowd ();
  g_autofree char *before = test_text (document);
  guint steps = 0;

  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      const PlumbRecordInfo *info = plumb_record_info (kind);
      g_autofree void *blank = g_malloc (info->size);
      plumb_record_default (kind, blank);
      for (int field = plumb_kind_has_id (kind) ? 1 : 0; field < info->n_fields; field++)
        {
          const PlumbField *of = &info->fields[field];
          g_autoptr (GError) error = NULL;
          const PlumbRecordHead *was = test_record (document, kind, 0);
          steps += (was->typed >> field & 1u) == 0;
          g_autofree void *copy = g_memdup2 (was, info->size);
          test_type_like (document, kind, 0, field, copy);
          const PlumbRecordHead *typed = test_record (document, kind, 0);
          g_assert_cmpuint (typed->typed >> field & 1u, ==, 1);
          g_assert_true (plumb_document_reset (document, kind, 0, field, &error));
          steps++;
          const PlumbRecordHead *reset = test_record (document, kind, 0);
          g_assert_cmpuint (reset->typed >> field & 1u, ==, 0);
          test_assert_bytes ((const char *) reset + of->offset, (const char *) blank + of->offset, of->size);
        }
    }
  for (; steps > 0; steps--)
    g_assert_true (plumb_document_undo (document));
  g_autofree char *after = test_text (document);
  g_assert_cmpstr (after, ==, before);
}

typedef struct {
  PlumbDocument *document;
  PlumbScene *scene;
  TestSignals signals;
} Untouched;

/* A refusal: its sentence, and nothing else. */
static void
assert_refused (const Untouched *untouched, gboolean done, GError *error, const char *sentence)
{
  g_assert_false (done);
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET);
  g_assert_cmpstr (error->message, ==, sentence);
  g_error_free (error);
  g_assert_true (plumb_document_scene (untouched->document) == untouched->scene);
  g_assert_null (plumb_document_undo_name (untouched->document));
  g_assert_false (plumb_document_is_changed (untouched->document));
  g_assert_cmpuint (untouched->signals.changed + untouched->signals.selected + untouched->signals.filed, ==, 0);
}

static void
test_wrong_numbers (void)
{
  static const struct {
    PlumbRecordKind kind;
    int field;
    double value;
    const char *sentence;
  } rows[] = {
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_drop_m, NAN, "Drop must be a number." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_drop_m, INFINITY, "Drop must be a number." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_drop_m, -0.001, "Drop must be at least 0\342\200\257mm." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_drop_m, 20.001, "Drop must be at most 20.000\342\200\257m." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_label, 1.0, "Name is a text, not a number." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_out_of_level_rad, 20.5, "Out of level must be at most 20°." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_carried, 3.0, "Carried must be at most 2." },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_carried, 0.5, "Carried must be a whole number." },
    { PLUMB_RECORD_PLACE, PLUMB_N_FIELDS_place, 1.0, "There is no such field." },
    { PLUMB_RECORD_PLACE, -1, 1.0, "There is no such field." },
    { PLUMB_RECORD_STRUCTURE, PLUMB_FIELD_structure_count, 2.5, "Count must be a whole number." },
    { PLUMB_RECORD_STRUCTURE, PLUMB_FIELD_structure_exposed, 2.0, "Stands in the room must be at most 1." },
    { PLUMB_RECORD_MACHINE, PLUMB_FIELD_machine_mass_kg, 0.0, "Mass must be at least 0.01\342\200\257kg." },
  };
  Untouched untouched = { test_demo ("net-loft") };

  untouched.scene = plumb_scene_ref (plumb_document_scene (untouched.document));
  test_listen (untouched.document, &untouched.signals);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      GError *error = NULL;
      gboolean done
          = plumb_document_set_number (untouched.document, rows[i].kind, 0, rows[i].field, rows[i].value, &error);
      assert_refused (&untouched, done, error, rows[i].sentence);
    }
  plumb_scene_unref (untouched.scene);
  g_object_unref (untouched.document);
}

static void
test_wrong_texts (void)
{
  g_autofree char *long_text = g_strnfill (96, 'x');
  const struct {
    int field;
    const char *text, *sentence;
  } rows[] = {
    { PLUMB_FIELD_place_label, long_text, "Name has room for 95 bytes; this text has 96." },
    { PLUMB_FIELD_place_label, "\377", "Name is not UTF-8." },
    { PLUMB_FIELD_place_drop_m, "1", "Drop is a number, not a text." },
    { PLUMB_FIELD_place_id, "b", "Id: \"b\" is the id of Rear shelf already." },
    { PLUMB_FIELD_place_id, "", "Id: missing." },
    { PLUMB_FIELD_place_id, "\377", "Id: it is not UTF-8." },
    { PLUMB_FIELD_place_id, "a b", "Id: \"a b\" must be made of letters A to Z, digits, _, - and . only." },
    { PLUMB_FIELD_place_id, long_text, "Id: it has 96 letters, more than 47." },
  };
  Untouched untouched = { test_demo ("net-loft") };

  untouched.scene = plumb_scene_ref (plumb_document_scene (untouched.document));
  test_listen (untouched.document, &untouched.signals);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      GError *error = NULL;
      gboolean done
          = plumb_document_set_text (untouched.document, PLUMB_RECORD_PLACE, 0, rows[i].field, rows[i].text, &error);
      assert_refused (&untouched, done, error, rows[i].sentence);
    }
  plumb_scene_unref (untouched.scene);
  g_object_unref (untouched.document);
}

static void
test_wrong_records (void)
{
  Untouched untouched = { test_demo ("net-loft") };
  PlumbDocument *document = untouched.document;

  untouched.scene = plumb_scene_ref (plumb_document_scene (document));
  test_listen (document, &untouched.signals);
  const guint beyond = test_count (document, PLUMB_RECORD_PLACE);
#define REFUSED(call, sentence)                                                                                      \
  do                                                                                                                 \
    {                                                                                                                \
      GError *error = NULL;                                                                                          \
      gboolean done = (call);                                                                                        \
      assert_refused (&untouched, done, error, sentence);                                                            \
    }                                                                                                                \
  while (0)
  REFUSED (plumb_document_set_number (document, PLUMB_RECORD_PLACE, beyond, PLUMB_FIELD_place_drop_m, 1, &error),
           "There is no such record.");
  REFUSED (plumb_document_remove (document, PLUMB_RECORD_PLACE, beyond, &error), "There is no such record.");
  REFUSED (plumb_document_remove (document, PLUMB_RECORD_JOB, 0, &error), "There is one job in a file.");
  REFUSED (plumb_document_move (document, PLUMB_RECORD_PLACE, 0, -1, &error), "It stands first already.");
  REFUSED (plumb_document_move (document, PLUMB_RECORD_PLACE, beyond - 1, 1, &error), "It stands last already.");
  REFUSED (plumb_document_copy (document, PLUMB_RECORD_JOB, 0, &error) != PLUMB_NO_INDEX,
           "There is one job in a file.");
  REFUSED (plumb_document_add (document, PLUMB_RECORD_JOB, 0, PLUMB_NO_INDEX, &error) != PLUMB_NO_INDEX,
           "There is one job in a file.");
  REFUSED (plumb_document_add (document, PLUMB_RECORD_LENS_PAIR, 99, PLUMB_NO_INDEX, &error) != PLUMB_NO_INDEX,
           "There is no such record.");
  /* The first line of data belongs to the last lens, not to the first. */
  REFUSED (plumb_document_add (document, PLUMB_RECORD_LENS_PAIR, 0, 0, &error) != PLUMB_NO_INDEX,
           "There is no such record to put it behind.");
  REFUSED (plumb_document_rename (document, PLUMB_RECORD_LENS_PAIR, 0, "p", &error),
           "Line of lens data: records of this kind have no id.");
  REFUSED (plumb_document_reset (document, PLUMB_RECORD_PLACE, 0, PLUMB_FIELD_place_id, &error),
           "An id has no default.");
  REFUSED (plumb_document_take_trial (document, &(PlumbTrialLine){ .lens = 99 }, &error), "There is no such record.");
#undef REFUSED
  plumb_document_show_arrangement (document, 99);
  g_assert_true (plumb_document_scene (document) == untouched.scene);
  plumb_scene_unref (untouched.scene);
  g_object_unref (document);
}

/* ---- ids ------------------------------------------------------------------------------ */

static void
test_rename (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autoptr (GError) error = NULL;
  g_autofree char *before = test_text (document);
  guint place = test_find (document, PLUMB_RECORD_PLACE, "a");
  guint picture = test_find (document, PLUMB_RECORD_WALL, "picture");

  g_assert_true (plumb_document_rename (document, PLUMB_RECORD_PLACE, place, "beam-2", &error));
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Id of Tie beam T2");
  g_assert_true (
      plumb_document_set_text (document, PLUMB_RECORD_WALL, picture, PLUMB_FIELD_wall_id, "gable", &error));
  g_assert_no_error (error);

  /* The text itself tells what referred to them: whole words of the file. */
  g_autofree char *after = test_text (document);
  g_auto (GStrv) old_lines = g_strsplit (before, "\n", -1), new_lines = g_strsplit (after, "\n", -1);
  guint ids = 0, references = 0;
  g_assert_cmpuint (g_strv_length (old_lines), ==, g_strv_length (new_lines));
  for (guint i = 0; old_lines[i] != NULL; i++)
    if (strcmp (old_lines[i], new_lines[i]) != 0)
      {
        gboolean is_id = strstr (old_lines[i], "\"id\":") != NULL;
        ids += is_id ? 1 : 0;
        references += is_id ? 0 : 1;
        g_assert_true (strstr (new_lines[i], "\"beam-2\"") != NULL || strstr (new_lines[i], "\"gable\"") != NULL);
      }
  g_assert_cmpuint (ids, ==, 2);
  /* Counted in data/demo/net-loft.plumbeam: "place": "a" twice, and "picture" as a wall. */
  guint places = 0, walls = 0;
  for (guint i = 0; old_lines[i] != NULL; i++)
    {
      places += strstr (old_lines[i], "\"place\": \"a\"") != NULL;
      walls += strstr (old_lines[i], "wall\": \"picture\"") != NULL;
    }
  g_assert_cmpuint (places, >, 0);
  g_assert_cmpuint (walls, >, 0);
  g_assert_cmpuint (references, ==, places + walls);

  g_assert_true (plumb_document_undo (document));
  g_assert_true (plumb_document_undo (document));
  g_autofree char *undone = test_text (document);
  g_assert_cmpstr (undone, ==, before);
}

/* A height may be from a ceiling or from a structure of the same id. */
static void
test_rename_of_two (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;

  plumb_document_add (document, PLUMB_RECORD_CEILING, 0, PLUMB_NO_INDEX, &error);
  plumb_document_add (document, PLUMB_RECORD_STRUCTURE, 0, PLUMB_NO_INDEX, &error);
  plumb_document_rename (document, PLUMB_RECORD_CEILING, 0, "t", &error);
  plumb_document_rename (document, PLUMB_RECORD_STRUCTURE, 0, "t", &error);
  for (guint i = 0; i < 2; i++)
    {
      plumb_document_add (document, PLUMB_RECORD_PLACE, 0, PLUMB_NO_INDEX, &error);
      plumb_document_set_text (document, PLUMB_RECORD_PLACE, i, PLUMB_FIELD_place_height_of, "t", &error);
      plumb_document_set_number (document, PLUMB_RECORD_PLACE, i, PLUMB_FIELD_place_height_from,
                                 i == 0 ? PLUMB_HEIGHT_FROM_CEILING : PLUMB_HEIGHT_FROM_STRUCTURE, &error);
    }
  plumb_document_rename (document, PLUMB_RECORD_STRUCTURE, 0, "beam", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (((const PlumbPlace *) test_record (document, PLUMB_RECORD_PLACE, 0))->height_of, ==, "t");
  g_assert_cmpstr (((const PlumbPlace *) test_record (document, PLUMB_RECORD_PLACE, 1))->height_of, ==, "beam");
}

static void
assert_copied (PlumbDocument *document, const char *id, const char *label)
{
  g_autoptr (GError) error = NULL;
  guint index = plumb_document_copy (document, PLUMB_RECORD_SEAT, 0, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (index, ==, 1);
  const PlumbSeat *seat = test_record (document, PLUMB_RECORD_SEAT, index);
  g_assert_cmpstr (seat->id, ==, id);
  g_assert_cmpstr (seat->label, ==, label);
}

static void
test_fresh_ids (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *long_id = g_strnfill (PLUMB_ID_SIZE - 1, 'x');
  g_autofree char *cut_id = g_strnfill (PLUMB_ID_SIZE - 1, 'x');
  memcpy (cut_id + PLUMB_ID_SIZE - 3, "-2", 2);

  plumb_document_add (document, PLUMB_RECORD_SEAT, 0, PLUMB_NO_INDEX, &error);
  g_assert_cmpstr (((const PlumbSeat *) test_record (document, PLUMB_RECORD_SEAT, 0))->id, ==, "seat-1");
  assert_copied (document, "seat-2", "");
  plumb_document_set_text (document, PLUMB_RECORD_SEAT, 0, PLUMB_FIELD_seat_label, "Sofa T9", &error);
  assert_copied (document, "seat-3", "Sofa T10");
  plumb_document_rename (document, PLUMB_RECORD_SEAT, 0, "a-b", &error);
  plumb_document_set_text (document, PLUMB_RECORD_SEAT, 0, PLUMB_FIELD_seat_label, "Sofa", &error);
  assert_copied (document, "a-b-2", "Sofa 2");
  plumb_document_rename (document, PLUMB_RECORD_SEAT, 0, long_id, &error);
  /* 94 bytes of 95: one byte is wanted, a whole letter of two makes room. */
  g_autoptr (GString) wide = g_string_new (NULL);
  for (int i = 0; i < 47; i++)
    g_string_append (wide, "\303\266");
  plumb_document_set_text (document, PLUMB_RECORD_SEAT, 0, PLUMB_FIELD_seat_label, wide->str, &error);
  g_string_truncate (wide, wide->len - 2);
  g_string_append (wide, " 2");
  assert_copied (document, cut_id, wide->str);
  g_assert_no_error (error);

  /* A wall that is gone but still referred to does not come back as another. */
  plumb_document_add (document, PLUMB_RECORD_WALL, 0, PLUMB_NO_INDEX, &error);
  plumb_document_add (document, PLUMB_RECORD_PORT, 0, PLUMB_NO_INDEX, &error);
  plumb_document_set_text (document, PLUMB_RECORD_PORT, 0, PLUMB_FIELD_port_wall, "wall-1", &error);
  plumb_document_remove (document, PLUMB_RECORD_WALL, 0, &error);
  plumb_document_add (document, PLUMB_RECORD_WALL, 0, PLUMB_NO_INDEX, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (((const PlumbWall *) test_record (document, PLUMB_RECORD_WALL, 0))->id, ==, "wall-2");

  /* Limits are named after the table of limits. */
  for (guint i = 0; i < 2; i++)
    {
      plumb_document_add (document, PLUMB_RECORD_LIMIT, 0, PLUMB_NO_INDEX, &error);
      g_assert_cmpstr (((const PlumbLimitOverride *) test_record (document, PLUMB_RECORD_LIMIT, i))->id, ==,
                       plumb_limit_at (i)->id);
    }
  g_assert_cmpuint (plumb_document_copy (document, PLUMB_RECORD_LIMIT, 0, &error), ==, 1);
  g_assert_cmpstr (((const PlumbLimitOverride *) test_record (document, PLUMB_RECORD_LIMIT, 1))->id, ==,
                   plumb_limit_at (2)->id);
}

/* ---- records ---------------------------------------------------------------------------- */

/* The children of a record as text, for comparing: their fields without owner. */
static GByteArray *
children_of (const PlumbScene *scene, PlumbRecordKind kind, guint index)
{
  GByteArray *bytes = g_byte_array_new ();

  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) k);
      uint32_t count = 0;
      const char *first = info->parent == kind ? plumb_scene_nested (scene, info->kind, index, &count) : NULL;
      for (uint32_t i = 0; i < count; i++)
        {
          PlumbRecordHead head;
          memcpy (&head, first + i * info->size, sizeof head);
          g_byte_array_append (bytes, (const guint8 *) &head.typed, sizeof head.typed);
          g_byte_array_append (bytes, (const guint8 *) first + i * info->size + sizeof head,
                               (guint) (info->size - sizeof head));
        }
    }
  return bytes;
}

static void
assert_same_children (const PlumbScene *a, guint i, const PlumbScene *b, guint k, PlumbRecordKind kind)
{
  g_autoptr (GByteArray) left = children_of (a, kind, i), right = children_of (b, kind, k);
  g_assert_cmpuint (left->len, ==, right->len);
  test_assert_bytes (left->data, right->data, left->len);
}

/* The record with all but its id, label and owner, and what is nested in it. */
static void
assert_same_record (const PlumbScene *a, guint i, const PlumbScene *b, guint k, PlumbRecordKind kind)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  const char *left = plumb_scene_record (a, kind, i), *right = plumb_scene_record (b, kind, k);

  for (int field = 0; field < info->n_fields; field++)
    {
      const PlumbField *of = &info->fields[field];
      if (strcmp (of->key, "id") != 0 && strcmp (of->key, "label") != 0)
        test_assert_bytes (left + of->offset, right + of->offset, of->size);
    }
  assert_same_children (a, i, b, k, kind);
}

typedef guint Moved (guint i);

static guint
after_copy_of_0 (guint i)
{
  return i == 0 ? 0 : i + 1;
}

static guint
after_swap_of_01 (guint i)
{
  return i == 0 ? 1 : i == 1 ? 0 : i;
}

static guint
after_removal_of_0 (guint i)
{
  return i == 0 ? PLUMB_NO_INDEX : i - 1;
}

static guint
after_add_behind_0 (guint i)
{
  return i == 0 ? 0 : i + 1;
}

/* All records stand where they should, undo and redo included. */
static void
assert_moved (PlumbDocument *document, const PlumbScene *before, PlumbRecordKind kind, Moved *moved, int more)
{
  const guint count = plumb_kind_count (before, kind);

  for (int round = 0; round < 2; round++)
    {
      const PlumbScene *after = plumb_document_scene (document);
      test_assert_sound (document);
      g_assert_cmpint ((int) plumb_kind_count (after, kind), ==, (int) count + more);
      for (guint i = 0; i < count; i++)
        if (moved (i) != PLUMB_NO_INDEX)
          assert_same_record (before, i, after, moved (i), kind);
      g_free (test_text (document));
      g_assert_true (plumb_document_undo (document));
      test_assert_shares_all (before, plumb_document_scene (document));
      g_assert_true (plumb_document_redo (document));
    }
  g_assert_true (plumb_document_undo (document));
}

static guint
first_owner (const PlumbScene *scene, PlumbRecordKind kind)
{
  return plumb_record_info (kind)->parent != PLUMB_RECORD_NONE ? plumb_record_owner (scene, kind, 0) : 0;
}

static void
test_every_kind (void)
{
  g_autoptr (PlumbDocument) document = test_crowd ();
  PlumbScene *before = plumb_scene_ref (plumb_document_scene (document));
  g_autoptr (GError) error = NULL;

  for (int k = 1; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      g_assert_cmpuint (plumb_document_add (document, kind, first_owner (before, kind), 0, &error), ==, 1);
      g_assert_true (g_str_has_prefix (plumb_document_undo_name (document), "New: "));
      assert_moved (document, before, kind, after_add_behind_0, 1);

      g_assert_cmpuint (plumb_document_copy (document, kind, 0, &error), ==, 1);
      g_assert_true (g_str_has_prefix (plumb_document_undo_name (document), "Copy: "));
      assert_same_record (before, 0, plumb_document_scene (document), 1, kind);
      assert_moved (document, before, kind, after_copy_of_0, 1);

      g_assert_true (plumb_document_move (document, kind, 0, 1, &error));
      g_assert_true (g_str_has_prefix (plumb_document_undo_name (document), "Order of "));
      assert_moved (document, before, kind, after_swap_of_01, 0);
      g_assert_true (plumb_document_move (document, kind, 1, -1, &error));
      assert_moved (document, before, kind, after_swap_of_01, 0);

      g_assert_true (plumb_document_remove (document, kind, 0, &error));
      g_assert_true (g_str_has_prefix (plumb_document_undo_name (document), "Removal of "));
      assert_moved (document, before, kind, after_removal_of_0, -1);
      g_assert_no_error (error);
    }
  plumb_scene_unref (before);
}

/* Lines of data, corners and states by hand: owners 0 and 1 change places. */
static void
test_nested_follow (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;
  static const double widths[] = { 1.0, 2.0, 3.0 };
  static const guint owners[] = { 0, 0, 1 };

  for (int i = 0; i < 3; i++)
    plumb_document_add (document, PLUMB_RECORD_LENS, 0, PLUMB_NO_INDEX, &error);
  for (int i = 0; i < 3; i++)
    {
      guint at = plumb_document_add (document, PLUMB_RECORD_LENS_PAIR, owners[i], PLUMB_NO_INDEX, &error);
      plumb_document_set_number (document, PLUMB_RECORD_LENS_PAIR, at, PLUMB_FIELD_lens_pair_width_m, widths[i],
                                 &error);
    }
  g_assert_cmpstr (plumb_document_undo_name (document), ==, "Width of lens-2, line of lens data 1");
  g_assert_true (plumb_document_move (document, PLUMB_RECORD_LENS, 0, 1, &error));
  static const double moved_widths[] = { 3.0, 1.0, 2.0 };
  static const guint moved_owners[] = { 0, 1, 1 };
  for (guint i = 0; i < 3; i++)
    {
      const PlumbLensPairLine *line = test_record (document, PLUMB_RECORD_LENS_PAIR, i);
      g_assert_cmpfloat (line->width_m, ==, moved_widths[i]);
      g_assert_cmpuint (line->head.owner, ==, moved_owners[i]);
    }
  /* A copy brings its own lines; the others keep theirs. */
  g_assert_cmpuint (plumb_document_copy (document, PLUMB_RECORD_LENS, 0, &error), ==, 1);
  static const double copied_widths[] = { 3.0, 3.0, 1.0, 2.0 };
  static const guint copied_owners[] = { 0, 1, 2, 2 };
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_LENS_PAIR), ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      const PlumbLensPairLine *line = test_record (document, PLUMB_RECORD_LENS_PAIR, i);
      g_assert_cmpfloat (line->width_m, ==, copied_widths[i]);
      g_assert_cmpuint (line->head.owner, ==, copied_owners[i]);
    }
  /* Gone with its lens; a line cannot leave its owner. */
  g_assert_true (plumb_document_remove (document, PLUMB_RECORD_LENS, 0, &error));
  g_assert_true (plumb_document_remove (document, PLUMB_RECORD_LENS, 0, &error));
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_LENS_PAIR), ==, 2);
  g_assert_no_error (error);
  g_assert_false (plumb_document_move (document, PLUMB_RECORD_LENS_PAIR, 1, 1, &error));
  g_assert_cmpstr (error->message, ==, "It stands last already.");
}

/* The last owner takes the last nested records along; an owner at the end
 * leaves the array of nested ones shared. */
static void
test_last_owner (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  PlumbScene *before = plumb_scene_ref (plumb_document_scene (document));
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (plumb_document_add (document, PLUMB_RECORD_LENS, 0, PLUMB_NO_INDEX, &error), ==, 5);
  g_assert_true (plumb_scene_shares (before, plumb_document_scene (document), PLUMB_RECORD_LENS_PAIR));
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_LENS_PAIR), ==, 3);
  while (test_count (document, PLUMB_RECORD_LENS) > 0)
    g_assert_true (plumb_document_remove (document, PLUMB_RECORD_LENS, 0, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_LENS_PAIR), ==, 0);
  g_free (test_text (document));
  while (plumb_document_undo (document))
    ;
  test_assert_shares_all (before, plumb_document_scene (document));
  plumb_scene_unref (before);
}

/* A kind that is full takes no more, and says so. */
static void
test_full (void)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;
  g_autofree PlumbBlockerPoint *points = g_new0 (PlumbBlockerPoint, PLUMB_MAX_RECORDS);

  plumb_document_add (document, PLUMB_RECORD_BLOCKER, 0, PLUMB_NO_INDEX, &error);
  PlumbScene *full
      = plumb_scene_with (plumb_document_scene (document), PLUMB_RECORD_BLOCKER_POINT, points, PLUMB_MAX_RECORDS);
  g_assert_true (plumb_scene_commit (full));
  plumb_document_apply (document, full, g_strdup ("Many corners"), PLUMB_NO_SHIFT);
  g_assert_cmpuint (plumb_document_add (document, PLUMB_RECORD_BLOCKER_POINT, 0, PLUMB_NO_INDEX, &error), ==,
                    PLUMB_NO_INDEX);
  g_assert_cmpstr (error->message, ==,
                   "A job has room for 20000 records of each kind, and there is no room for another corner of a "
                   "blocker.");
  g_clear_error (&error);
  g_assert_cmpuint (plumb_document_copy (document, PLUMB_RECORD_BLOCKER, 0, &error), ==, PLUMB_NO_INDEX);
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET);
  g_assert_cmpuint (test_count (document, PLUMB_RECORD_BLOCKER), ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/document/new", test_new);
  g_test_add_data_func ("/document/rebuild/net-loft", "net-loft", test_rebuild);
  g_test_add_data_func ("/document/rebuild/music-room", "music-room", test_rebuild);
  g_test_add_func ("/document/set", test_set);
  g_test_add_func ("/document/set-several", test_set_several);
  g_test_add_func ("/document/reset-all", test_reset_all);
  g_test_add_func ("/document/wrong-numbers", test_wrong_numbers);
  g_test_add_func ("/document/wrong-texts", test_wrong_texts);
  g_test_add_func ("/document/wrong-records", test_wrong_records);
  g_test_add_func ("/document/rename", test_rename);
  g_test_add_func ("/document/rename-of-two", test_rename_of_two);
  g_test_add_func ("/document/fresh-ids", test_fresh_ids);
  g_test_add_func ("/document/every-kind", test_every_kind);
  g_test_add_func ("/document/nested-follow", test_nested_follow);
  g_test_add_func ("/document/last-owner", test_last_owner);
  g_test_add_func ("/document/full", test_full);
  return g_test_run ();
}
