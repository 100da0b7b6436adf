/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job-testing.h"

#include <stdarg.h>
#include <string.h>

char *
test_path (const char *first, ...)
{
  va_list args;
  const char *root = g_getenv ("PLUMB_SOURCE_DIR");

  g_assert_nonnull (root);
  va_start (args, first);
  g_autofree char *inner = g_build_filename_valist (first, &args);
  va_end (args);
  return g_build_filename (root, inner, NULL);
}

static int
compare_names (const void *a, const void *b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
test_names (const char *folder, const char *ending)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ending))
      g_ptr_array_add (names, g_strdup (name));
  g_assert_cmpuint (names->len, >, 0);
  g_ptr_array_sort (names, compare_names);
  return names;
}

char *
test_quotes (const char *text)
{
  return g_strdelimit (g_strdup (text), "'", '"');
}

PlumbJobFile *
test_load (const char *text)
{
  g_autofree char *quoted = test_quotes (text);
  g_autoptr (GError) error = NULL;
  PlumbJobFile *file = plumb_job_load_bytes (quoted, strlen (quoted), &error);

  g_assert_no_error (error);
  g_assert_nonnull (file);
  return file;
}

char *
test_refusal (const void *bytes, gsize size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load_bytes (bytes, size, &error);

  g_assert_null (file);
  g_assert_nonnull (error);
  g_assert_true (error->domain == PLUMB_JOB_ERROR);
  return g_strdup (error->message);
}

char *
test_text (const PlumbJobFile *file)
{
  g_autoptr (GError) error = NULL;
  gsize size;
  char *text = plumb_job_to_text (file, &size, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (strlen (text), ==, size);
  return text;
}

char *
test_contents (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *contents;

  g_file_get_contents (path, &contents, NULL, &error);
  g_assert_no_error (error);
  return contents;
}

PlumbJobFile *
test_with (const PlumbJobFile *file, PlumbRecordKind kind, const void *records, uint32_t count)
{
  PlumbScene *scene = plumb_scene_with (plumb_job_scene (file), kind, records, count);

  g_assert_nonnull (scene);
  g_assert_true (plumb_scene_commit (scene));
  PlumbJobFile *edited = plumb_job_with_scene (file, scene);
  plumb_scene_unref (scene);
  return edited;
}

void
test_line_changes (const char *a, const char *b, unsigned *gone, unsigned *new)
{
  g_auto (GStrv) old_lines = g_strsplit (a, "\n", -1);
  g_auto (GStrv) new_lines = g_strsplit (b, "\n", -1);
  unsigned n_old = g_strv_length (old_lines), n_new = g_strv_length (new_lines), head = 0, tail = 0;

  while (head < n_old && head < n_new && strcmp (old_lines[head], new_lines[head]) == 0)
    head++;
  while (tail < n_old - head && tail < n_new - head
         && strcmp (old_lines[n_old - 1 - tail], new_lines[n_new - 1 - tail]) == 0)
    tail++;
  *gone = n_old - head - tail;
  *new = n_new - head - tail;
}
