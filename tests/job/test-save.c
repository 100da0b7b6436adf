/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saving on the disc: in one step or not at all. */
#include <glib/gstdio.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "job-testing.h"

/* No program of another user runs as this one, on any usual system. */
#define NOBODY 65534

typedef struct {
  char *folder, *path, *backup;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  place->folder = g_dir_make_tmp ("plumbeam-XXXXXX", &error);
  g_assert_no_error (error);
  place->path = g_build_filename (place->folder, "loft.plumbeam", NULL);
  place->backup = g_strconcat (place->path, "~", NULL);
}

static GPtrArray *
names_in (const char *folder)
{
  return test_names (folder, "");
}

static void
tear_down (Place *place, gconstpointer data)
{
  (void) data;
  g_autoptr (GPtrArray) names = names_in (place->folder);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (place->folder, g_ptr_array_index (names, i), NULL);
      g_assert_cmpint (g_remove (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (place->folder), ==, 0);
  g_free (place->folder);
  g_free (place->path);
  g_free (place->backup);
}

static PlumbJobFile *
titled (const char *title)
{
  g_autofree char *text = g_strdup_printf ("{'plumbeam':1,'job':{'title':'%s'}}", title);
  return test_load (text);
}

static void
save (const char *path, const char *title)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = titled (title);

  g_assert_true (plumb_job_save (file, path, &error));
  g_assert_no_error (error);
}

static void
assert_title (const char *path, const char *title)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (plumb_scene_job (plumb_job_scene (file), 0)->title, ==, title);
}

static void
assert_names (const Place *place, const char *expected)
{
  g_autoptr (GPtrArray) names = names_in (place->folder);
  g_ptr_array_add (names, NULL);
  g_autofree char *joined = g_strjoinv (" ", (char **) names->pdata);
  g_assert_cmpstr (joined, ==, expected);
}

static unsigned
mode_of (const char *path)
{
  struct stat about;

  g_assert_cmpint (stat (path, &about), ==, 0);
  return about.st_mode & 07777u;
}

static void
test_backup (Place *place, gconstpointer data)
{
  (void) data;
  save (place->path, "one");
  assert_names (place, "loft.plumbeam");
  save (place->path, "two");
  assert_title (place->path, "two");
  assert_title (place->backup, "one");
  save (place->path, "three");
  assert_title (place->backup, "two");
  assert_names (place, "loft.plumbeam loft.plumbeam~");
}

static void
test_new_mode (Place *place, gconstpointer data)
{
  mode_t before = umask (027);

  (void) data;
  save (place->path, "one");
  umask (before);
  g_assert_cmphex (mode_of (place->path), ==, 0640);
}

static void
test_kept_mode (Place *place, gconstpointer data)
{
  (void) data;
  save (place->path, "one");
  g_assert_cmpint (chmod (place->path, 0604), ==, 0);
  save (place->path, "two");
  g_assert_cmphex (mode_of (place->path), ==, 0604);
  g_assert_cmphex (mode_of (place->backup), ==, 0604);
}

static void
test_links (Place *place, gconstpointer data)
{
  g_autofree char *first = g_build_filename (place->folder, "a-link", NULL);
  g_autofree char *second = g_build_filename (place->folder, "b-link", NULL);

  (void) data;
  g_assert_cmpint (symlink ("loft.plumbeam", first), ==, 0);
  g_assert_cmpint (symlink (first, second), ==, 0);
  /* The link leads to nothing yet. */
  save (second, "one");
  save (second, "two");
  assert_names (place, "a-link b-link loft.plumbeam loft.plumbeam~");
  g_assert_true (g_file_test (second, G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_test (first, G_FILE_TEST_IS_SYMLINK));
  assert_title (place->path, "two");
  assert_title (place->backup, "one");
}

static void
assert_fails (const PlumbJobFile *file, const char *path, PlumbJobError code, const char *expected)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (plumb_job_save (file, path, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, code);
  g_assert_cmpstr (error->message, ==, expected);
}

static void
assert_save_fails (const char *path, const char *why)
{
  g_autoptr (PlumbJobFile) file = titled ("two");
  g_autofree char *expected = g_strdup_printf ("cannot write %s: %s", path, why);

  assert_fails (file, path, PLUMB_JOB_ERROR_WRITE, expected);
}

static void
test_link_to_itself (Place *place, gconstpointer data)
{
  (void) data;
  g_assert_cmpint (symlink ("loft.plumbeam", place->path), ==, 0);
  assert_save_fails (place->path, "Too many levels of symbolic links");
  g_assert_cmpint (g_unlink (place->path), ==, 0);
  save (place->path, "one");
}

/* The disc fills up in the middle: here, a limit on the size of files. */
static void
test_full (Place *place, gconstpointer data)
{
  struct rlimit before, little;

  (void) data;
  save (place->path, "one");
  g_autofree char *old = test_contents (place->path);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  little = before;
  little.rlim_cur = strlen (old) + 10;
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &little), ==, 0);
  g_autoptr (PlumbJobFile) longer = titled ("a title that does not fit any more");
  g_autofree char *expected = g_strdup_printf ("cannot write %s: File too large", place->path);
  assert_fails (longer, place->path, PLUMB_JOB_ERROR_WRITE, expected);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  signal (SIGXFSZ, SIG_DFL);
  g_autofree char *now = test_contents (place->path);
  g_assert_cmpstr (now, ==, old);
  assert_names (place, "loft.plumbeam loft.plumbeam~");
}

/* Root may write anywhere, so root becomes somebody else for a moment. */
static void
test_read_only_folder (Place *place, gconstpointer data)
{
  bool root = geteuid () == 0;

  (void) data;
  save (place->path, "one");
  g_autofree char *old = test_contents (place->path);
  g_assert_cmpint (chmod (place->path, 0644), ==, 0);
  g_assert_cmpint (chmod (place->folder, 0555), ==, 0);
  if (root)
    g_assert_cmpint (seteuid (NOBODY), ==, 0);
  g_autofree char *expected = g_strdup_printf ("cannot write %s: Permission denied", place->backup);
  g_autoptr (PlumbJobFile) file = titled ("two");
  assert_fails (file, place->path, PLUMB_JOB_ERROR_WRITE, expected);
  if (root)
    g_assert_cmpint (seteuid (0), ==, 0);
  g_assert_cmpint (chmod (place->folder, 0755), ==, 0);
  g_autofree char *now = test_contents (place->path);
  g_assert_cmpstr (now, ==, old);
  assert_names (place, "loft.plumbeam");
}

/* No backup, no new file. */
static void
test_backup_in_the_way (Place *place, gconstpointer data)
{
  g_autofree char *expected = g_strdup_printf ("cannot write %s: Is a directory", place->backup);
  g_autoptr (PlumbJobFile) file = titled ("two");

  (void) data;
  save (place->path, "one");
  g_assert_cmpint (g_mkdir (place->backup, 0755), ==, 0);
  assert_fails (file, place->path, PLUMB_JOB_ERROR_WRITE, expected);
  assert_title (place->path, "one");
  assert_names (place, "loft.plumbeam loft.plumbeam~");
}

static void
test_no_place (Place *place, gconstpointer data)
{
  g_autofree char *missing = g_build_filename (place->folder, "no", "loft.plumbeam", NULL);
  g_autofree char *below = g_build_filename (place->path, "loft.plumbeam", NULL);

  (void) data;
  save (place->path, "one");
  assert_save_fails (place->folder, "Is a directory");
  assert_save_fails (missing, "No such file or directory");
  assert_save_fails (below, "Not a directory");
}

/* What would not read back never gets to the disc. */
static void
test_unwritable (Place *place, gconstpointer data)
{
  g_autoptr (PlumbJobFile) file = test_load ("{'plumbeam':1,'lamps':[{'id':'a','z_m':2}]}");
  PlumbLamp lamp = *plumb_scene_lamp (plumb_job_scene (file), 0);

  (void) data;
  save (place->path, "one");
  lamp.z_m = (double) INFINITY;
  g_autoptr (PlumbJobFile) edited = test_with (file, PLUMB_RECORD_LAMP, &lamp, 1);
  assert_fails (edited, place->path, PLUMB_JOB_ERROR_CONTENT, "lamps[0].z_m: expected a number, found null");
  assert_title (place->path, "one");
  assert_names (place, "loft.plumbeam");
}

/* A file name of the greatest length. */
static void
test_long_name (Place *place, gconstpointer data)
{
  g_autofree char *name = g_strnfill (254, 'x');
  g_autofree char *path = g_build_filename (place->folder, name, NULL);

  (void) data;
  save (path, "one");
  save (path, "two");
  assert_title (path, "two");
}

#define ADD(name, function) g_test_add ("/save/" name, Place, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("backup", test_backup);
  ADD ("new-mode", test_new_mode);
  ADD ("kept-mode", test_kept_mode);
  ADD ("links", test_links);
  ADD ("link-to-itself", test_link_to_itself);
  ADD ("full", test_full);
  ADD ("read-only-folder", test_read_only_folder);
  ADD ("backup-in-the-way", test_backup_in_the_way);
  ADD ("no-place", test_no_place);
  ADD ("unwritable", test_unwritable);
  ADD ("long-name", test_long_name);
  return g_test_run ();
}
