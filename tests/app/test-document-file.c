/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening, saving, the autosaved copy. */
#include <glib/gstdio.h>
#include <string.h>

#include "document-testing.h"

typedef struct {
  char *folder, *job;
} Desk;

/* A folder with the net loft in it. */
static void
desk_lay (Desk *desk, gconstpointer unused)
{
  g_autofree char *demo = test_source_path ("data/demo/net-loft.plumbeam");
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  (void) unused;
  desk->folder = g_dir_make_tmp ("plumbeam-XXXXXX", &error);
  g_assert_no_error (error);
  desk->job = g_build_filename (desk->folder, "loft.plumbeam", NULL);
  g_assert_true (g_file_get_contents (demo, &text, NULL, &error));
  g_assert_true (g_file_set_contents (desk->job, text, -1, &error));
}

static void
desk_clear (Desk *desk, gconstpointer unused)
{
  g_autoptr (GDir) dir = g_dir_open (desk->folder, 0, NULL);
  const char *name;

  (void) unused;
  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (desk->folder, name, NULL);
      g_assert_cmpint (g_unlink (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (desk->folder), ==, 0);
  g_free (desk->folder);
  g_free (desk->job);
}

static PlumbDocument *
open_job (const char *path)
{
  g_autoptr (GError) error = NULL;
  PlumbDocument *document = plumb_document_new ();

  g_assert_true (plumb_document_open (document, path, &error));
  g_assert_no_error (error);
  return document;
}

static void
set_title (PlumbDocument *document, const char *title)
{
  g_autoptr (GError) error = NULL;
  plumb_document_set_text (document, PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_title, title, &error);
  g_assert_no_error (error);
}

static const char *
title_of (PlumbDocument *document)
{
  return plumb_scene_job (plumb_document_scene (document), 0)->title;
}

static void
assert_title_in_file (const char *path, const char *title)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (plumb_scene_job (plumb_job_scene (file), 0)->title, ==, title);
}

static guint
n_copies (void)
{
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();
  return copies->len;
}

static gboolean
autosave (PlumbDocument *document)
{
  g_autoptr (GError) error = NULL;
  gboolean done = plumb_document_autosave (document, &error);
  g_assert_no_error (error);
  return done;
}

static void
test_open (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;
  TestSignals signals;

  (void) unused;
  set_title (document, "Something else");
  plumb_document_select (document, (PlumbSubject){ PLUMB_RECORD_JOB, 0, PLUMB_NO_INDEX }, 0);
  test_listen (document, &signals);
  g_assert_true (plumb_document_open (document, desk->job, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (plumb_document_path (document), ==, desk->job);
  g_assert_cmpstr (title_of (document), ==, "The net loft");
  g_assert_false (plumb_document_is_changed (document));
  g_assert_null (plumb_document_undo_name (document));
  g_assert_cmpint (plumb_document_selection (document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_cmpuint (signals.changed, ==, 1);
  g_assert_cmpuint (signals.selected, ==, 1);
  g_assert_cmpuint (signals.filed, ==, 1);
  /* What was not saved before is kept. */
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();
  g_assert_cmpuint (copies->len, ==, 1);
  const PlumbJobAutosave *copy = g_ptr_array_index (copies, 0);
  g_assert_null (copy->original_path);
  assert_title_in_file (copy->path, "Something else");
  g_assert_true (plumb_job_autosave_discard (NULL, &error));
}

static void
test_open_broken (Desk *desk, gconstpointer unused)
{
  static const struct {
    const char *name, *text, *message;
  } files[] = {
    { "empty", "", "the file is empty" },
    { "newer", "{\"plumbeam\": 2}", "plumbeam: the file has format 2" },
    { "range", "{\"plumbeam\": 1, \"seats\": [{\"id\": \"s\", \"eye_height_m\": 12}]}",
      "seats[0].eye_height_m: 12 is above 2.2" },
  };
  g_autoptr (PlumbDocument) document = open_job (desk->job);
  TestSignals signals;

  (void) unused;
  set_title (document, "Changed");
  const PlumbEvaluation *evaluation = plumb_document_evaluation (document);
  const PlumbScene *scene = plumb_document_scene (document);
  test_listen (document, &signals);
  for (gsize i = 0; i < G_N_ELEMENTS (files) + 1; i++)
    {
      const gboolean absent = i == G_N_ELEMENTS (files);
      g_autofree char *path = g_build_filename (desk->folder, absent ? "absent" : files[i].name, NULL);
      g_autoptr (GError) error = NULL;
      if (!absent)
        g_assert_true (g_file_set_contents (path, files[i].text, -1, NULL));
      g_assert_false (plumb_document_open (document, path, &error));
      g_assert_nonnull (error);
      g_autofree char *start = g_strndup (error->message, strlen (absent ? "cannot read " : files[i].message));
      g_assert_cmpstr (start, ==, absent ? "cannot read " : files[i].message);
      g_assert_true (plumb_document_scene (document) == scene);
      g_assert_true (plumb_document_evaluation (document) == evaluation);
      g_assert_cmpstr (plumb_document_path (document), ==, desk->job);
      g_assert_cmpstr (plumb_document_undo_name (document), ==, "Title of the job");
      g_assert_true (plumb_document_is_changed (document));
    }
  g_assert_cmpuint (signals.changed + signals.selected + signals.filed, ==, 0);
  g_assert_cmpuint (n_copies (), ==, 0);
}

static void
test_save (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = open_job (desk->job);
  g_autofree char *backup = g_strconcat (desk->job, "~", NULL);
  g_autofree char *other = g_build_filename (desk->folder, "other.plumbeam", NULL);
  g_autoptr (GError) error = NULL;
  TestSignals signals;

  (void) unused;
  test_listen (document, &signals);
  set_title (document, "Second");
  g_assert_cmpuint (signals.filed, ==, 1);
  g_assert_true (autosave (document));
  g_assert_cmpuint (n_copies (), ==, 1);
  g_assert_true (plumb_document_save (document, NULL, &error));
  assert_title_in_file (desk->job, "Second");
  assert_title_in_file (backup, "The net loft");
  g_assert_cmpuint (n_copies (), ==, 0);
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpuint (signals.filed, ==, 2);
  /* The history lives on; back before the save is a change. */
  g_assert_true (plumb_document_undo (document));
  g_assert_true (plumb_document_is_changed (document));
  g_assert_cmpuint (signals.filed, ==, 3);
  g_assert_true (plumb_document_redo (document));
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpuint (signals.filed, ==, 4);

  set_title (document, "Third");
  g_assert_true (plumb_document_save (document, other, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (plumb_document_path (document), ==, other);
  g_assert_cmpuint (signals.filed, ==, 6);
  assert_title_in_file (other, "Third");
  assert_title_in_file (desk->job, "Second");
}

static void
test_save_refused (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autofree char *nowhere = g_build_filename (desk->folder, "no-folder", "a.plumbeam", NULL);
  g_autoptr (GError) error = NULL;

  (void) unused;
  set_title (document, "Kept");
  g_assert_false (plumb_document_save (document, NULL, &error));
  g_assert_cmpstr (error->message, ==, "This job has no file yet.");
  g_clear_error (&error);
  g_assert_false (plumb_document_save (document, nowhere, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE);
  g_assert_null (plumb_document_path (document));
  g_assert_true (plumb_document_is_changed (document));
  g_assert_cmpstr (title_of (document), ==, "Kept");
}

/* Typed and typed back is no change, though the history has two steps. */
static void
test_changed (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = open_job (desk->job);

  (void) unused;
  set_title (document, "Other");
  g_assert_true (plumb_document_is_changed (document));
  set_title (document, "The net loft");
  g_assert_false (plumb_document_is_changed (document));
  g_assert_true (plumb_document_undo (document));
  g_assert_true (plumb_document_is_changed (document));
}

static void
test_autosave (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = open_job (desk->job);
  g_autoptr (GError) error = NULL;

  (void) unused;
  g_assert_true (autosave (document));
  g_assert_cmpuint (n_copies (), ==, 0);
  set_title (document, "Unsaved");
  g_assert_true (autosave (document));
  g_assert_cmpuint (n_copies (), ==, 1);
  /* All undone: nothing is left to come back to. */
  plumb_document_undo (document);
  g_assert_true (autosave (document));
  g_assert_cmpuint (n_copies (), ==, 0);
  plumb_document_redo (document);
  g_assert_true (autosave (document));

  /* The program ends without saving; the next one finds the copy. */
  g_clear_object (&document);
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();
  g_assert_cmpuint (copies->len, ==, 1);
  document = plumb_document_new ();
  g_assert_true (plumb_document_recover (document, g_ptr_array_index (copies, 0), &error));
  g_assert_no_error (error);
  g_assert_cmpstr (title_of (document), ==, "Unsaved");
  g_assert_cmpstr (plumb_document_path (document), ==, desk->job);
  g_assert_true (plumb_document_is_changed (document));
  assert_title_in_file (desk->job, "The net loft");
  g_assert_true (plumb_document_save (document, NULL, &error));
  assert_title_in_file (desk->job, "Unsaved");
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpuint (n_copies (), ==, 0);
  /* A copy that is gone is an error, and the job stays. */
  g_assert_false (plumb_document_recover (document, g_ptr_array_index (copies, 0), &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_READ);
  g_assert_cmpstr (title_of (document), ==, "Unsaved");
}

static void
test_clear (Desk *desk, gconstpointer unused)
{
  g_autoptr (PlumbDocument) document = open_job (desk->job);
  g_autoptr (PlumbDocument) fresh = plumb_document_new ();
  g_autofree char *empty = test_text (fresh);
  g_autoptr (GError) error = NULL;

  (void) unused;
  set_title (document, "Unsaved");
  plumb_document_clear (document);
  g_autofree char *text = test_text (document);
  g_assert_cmpstr (text, ==, empty);
  g_assert_null (plumb_document_path (document));
  g_assert_null (plumb_document_undo_name (document));
  g_assert_false (plumb_document_is_changed (document));
  g_assert_cmpuint (n_copies (), ==, 1);
  g_assert_true (plumb_job_autosave_discard (desk->job, &error));
}

/* With a file where the folder of the copies should be, what is unsaved cannot
 * be kept: the open job is not given up. */
static void
test_cannot_keep (Desk *desk, gconstpointer unused)
{
  g_autofree char *state = g_build_filename (g_get_user_state_dir (), "plumbeam", NULL);
  g_autofree char *autosaves = g_build_filename (state, "autosave", NULL);
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  g_autoptr (GError) error = NULL;

  (void) unused;
  g_rmdir (autosaves);
  g_assert_cmpint (g_mkdir_with_parents (state, 0700), ==, 0);
  g_assert_true (g_file_set_contents (autosaves, "in the way", -1, NULL));
  set_title (document, "Unsaved");
  g_assert_false (plumb_document_open (document, desk->job, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE);
  g_assert_cmpstr (title_of (document), ==, "Unsaved");
  g_test_expect_message (NULL, G_LOG_LEVEL_MESSAGE, "the open job stays: *");
  plumb_document_clear (document);
  g_test_assert_expected_messages ();
  g_assert_cmpstr (title_of (document), ==, "Unsaved");
  g_assert_cmpint (g_unlink (autosaves), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/file/" name, Desk, NULL, desk_lay, function, desk_clear)
  ADD ("open", test_open);
  ADD ("open-broken", test_open_broken);
  ADD ("save", test_save);
  ADD ("save-refused", test_save_refused);
  ADD ("changed", test_changed);
  ADD ("autosave", test_autosave);
  ADD ("clear", test_clear);
  ADD ("cannot-keep", test_cannot_keep);
  return g_test_run ();
}
