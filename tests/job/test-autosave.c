/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies in the state folder, which is a temporary one here. */
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "job-testing.h"

static void
write_copy (const char *title, const char *original_path)
{
  g_autofree char *text = g_strdup_printf ("{'plumbeam':1,'job':{'title':'%s'},'kept':7}", title);
  g_autoptr (PlumbJobFile) file = test_load (text);
  g_autoptr (GError) error = NULL;

  g_assert_true (plumb_job_autosave_write (file, original_path, &error));
  g_assert_no_error (error);
}

/* The copy of a path; NULL if there is none. */
static const PlumbJobAutosave *
find_copy (const GPtrArray *list, const char *original_path)
{
  for (guint i = 0; i < list->len; i++)
    {
      const PlumbJobAutosave *copy = g_ptr_array_index (list, i);
      if (g_strcmp0 (copy->original_path, original_path) == 0)
        return copy;
    }
  return NULL;
}

static void
assert_copy (const GPtrArray *list, const char *original_path, const char *title)
{
  const PlumbJobAutosave *copy = find_copy (list, original_path);
  g_autoptr (GError) error = NULL;
  struct stat about;

  g_assert_nonnull (copy);
  g_autoptr (PlumbJobFile) file = plumb_job_load (copy->path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (plumb_scene_job (plumb_job_scene (file), 0)->title, ==, title);
  g_autofree char *text = test_text (file);
  g_assert_nonnull (strstr (text, "\"kept\": 7"));
  g_assert_cmpint (stat (copy->path, &about), ==, 0);
  g_assert_cmphex (about.st_mode & 0777u, ==, 0600);
  g_assert_cmpint (ABS (copy->saved_unix_us - g_get_real_time ()), <, 600 * G_USEC_PER_SEC);
}

static void
discard (const char *original_path)
{
  g_autoptr (GError) error = NULL;
  g_assert_true (plumb_job_autosave_discard (original_path, &error));
  g_assert_no_error (error);
}

static void
test_autosave (void)
{
  g_autoptr (GPtrArray) nothing = plumb_job_autosave_list ();
  g_assert_cmpuint (nothing->len, ==, 0);
  discard ("/jobs/loft.plumbeam");

  write_copy ("one", "/jobs/loft.plumbeam");
  write_copy ("two", NULL);
  write_copy ("three", "/jobs/../jobs/loft.plumbeam"); /* the same file again */
  write_copy ("four", "/jobs/other.plumbeam");
  g_autoptr (GPtrArray) three = plumb_job_autosave_list ();
  g_assert_cmpuint (three->len, ==, 3);
  assert_copy (three, "/jobs/loft.plumbeam", "three");
  assert_copy (three, NULL, "two");
  assert_copy (three, "/jobs/other.plumbeam", "four");
  for (guint i = 1; i < three->len; i++)
    g_assert_cmpint (((PlumbJobAutosave *) g_ptr_array_index (three, i - 1))->saved_unix_us, >=,
                     ((PlumbJobAutosave *) g_ptr_array_index (three, i))->saved_unix_us);

  discard ("/jobs/loft.plumbeam");
  g_autoptr (GPtrArray) two = plumb_job_autosave_list ();
  g_assert_cmpuint (two->len, ==, 2);
  g_assert_null (find_copy (two, "/jobs/loft.plumbeam"));
  discard (NULL);
  discard ("/jobs/other.plumbeam");
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "plumbeam", "autosave", NULL);
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* nothing is left behind */
}

static void
test_no_folder (void)
{
  g_autofree char *inner = g_build_filename (g_get_user_state_dir (), "plumbeam", NULL);
  g_autoptr (PlumbJobFile) file = plumb_job_new ();
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_rmdir (inner), ==, 0);
  g_assert_true (g_file_set_contents (inner, "in the way", -1, NULL));
  g_assert_false (plumb_job_autosave_write (file, NULL, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE);
  g_autofree char *expected = g_strdup_printf ("cannot make the folder %s/autosave: Not a directory", inner);
  g_assert_cmpstr (error->message, ==, expected);
  g_assert_cmpint (g_unlink (inner), ==, 0);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *state = g_dir_make_tmp ("plumbeam-XXXXXX", &error);

  g_test_init (&argc, &argv, NULL);
  g_assert_no_error (error);
  g_setenv ("XDG_STATE_HOME", state, TRUE);
  g_assert_cmpstr (g_get_user_state_dir (), ==, state);
  g_test_add_func ("/autosave/copies", test_autosave);
  g_test_add_func ("/autosave/no-folder", test_no_folder);
  int result = g_test_run ();
  g_rmdir (state);
  return result;
}
