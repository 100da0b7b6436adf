/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that must be refused, each with its message word for word.
 *
 * The expected messages in broken/ were written by hand from RFC 8259 and from
 * the record lists. Among them is every input on which json-glib 1.6.6 was
 * seen to crash, to accept what is not JSON, or to change a value silently.
 */
#include <glib/gstdio.h>
#include <string.h>

#include "job-testing.h"

static void
test_fixtures (void)
{
  g_autofree char *folder = test_path ("tests", "job", "broken", NULL);
  g_autoptr (GPtrArray) names = test_names (folder, ".plumbeam");
  g_autoptr (GPtrArray) messages = test_names (folder, ".message");

  g_assert_cmpuint (names->len, ==, messages->len);
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".plumbeam"));
      g_autofree char *message_path = g_strconcat (stem, ".message", NULL);
      g_autofree char *expected = g_strchomp (test_contents (message_path));
      g_autoptr (GError) error = NULL;
      g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);

      g_test_message ("%s", name);
      g_assert_null (file);
      g_assert_true (error->domain == PLUMB_JOB_ERROR);
      g_assert_cmpstr (error->message, ==, expected);
    }
}

static void
assert_refused (GString *text, const char *expected)
{
  g_autofree char *message = test_refusal (text->str, text->len);
  g_assert_cmpstr (message, ==, expected);
}

static GString *
repeat (const char *before, const char *piece, unsigned count, const char *after)
{
  GString *text = g_string_new (before);

  for (unsigned i = 0; i < count; i++)
    g_string_append (text, piece);
  return g_string_append (text, after);
}

/* json-glib crashes on 100,000 levels, closed or not. */
static void
test_deep (void)
{
  g_autoptr (GString) open_arrays = repeat ("{\"plumbeam\": 1, \"x\": ", "[", 100000, "");
  g_autoptr (GString) open_objects = repeat ("{\"plumbeam\": 1, \"x\": ", "{\"a\":", 100000, "");
  g_autoptr (GString) closed = repeat ("", "[", 100000, "");
  for (int i = 0; i < 100000; i++)
    g_string_append_c (closed, ']');

  assert_refused (open_arrays, "1:85: nested deeper than 64");
  assert_refused (open_objects, "1:337: nested deeper than 64");
  assert_refused (closed, "1:65: nested deeper than 64");
}

/* The root is the first level. */
static GString *
nested (unsigned depth)
{
  GString *text = repeat ("{\"plumbeam\": 1, \"x\": ", "[", depth - 1, "");

  for (unsigned i = 1; i < depth; i++)
    g_string_append_c (text, ']');
  return g_string_append_c (text, '}');
}

static void
test_depth_limit (void)
{
  g_autoptr (GString) fits = nested (64);
  g_autoptr (GString) too_deep = nested (65);
  g_autoptr (PlumbJobFile) file = test_load (fits->str);

  g_assert_nonnull (file);
  assert_refused (too_deep, "1:85: nested deeper than 64");
}

static void
test_big (void)
{
  g_autoptr (GString) text = g_string_new ("{\"plumbeam\": 1}");
  gsize size = text->len;

  g_string_set_size (text, PLUMB_JOB_MAX_BYTES + 1);
  memset (text->str + size, ' ', text->len - size);
  assert_refused (text, "the file has more than 16777216 bytes, which no job needs");
  g_string_truncate (text, PLUMB_JOB_MAX_BYTES);
  g_autoptr (PlumbJobFile) file = test_load (text->str);
  g_assert_nonnull (file);
}

static void
test_big_on_disc (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("plumbeam-XXXXXX", &error);
  g_autofree char *path = g_build_filename (folder, "big.plumbeam", NULL);
  g_autofree char *bytes = g_malloc0 (PLUMB_JOB_MAX_BYTES + 1);

  g_assert_true (g_file_set_contents (path, bytes, PLUMB_JOB_MAX_BYTES + 1, NULL));
  g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);
  g_assert_null (file);
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_TOO_BIG);
  g_assert_cmpint (g_remove (path), ==, 0);
  g_assert_cmpint (g_rmdir (folder), ==, 0);
}

static GString *
many_seats (unsigned count)
{
  GString *text = g_string_new ("{\"plumbeam\": 1, \"seats\": [");

  for (unsigned i = 0; i < count; i++)
    g_string_append_printf (text, "%s{\"id\": \"s%u\"}", i > 0 ? "," : "", i);
  return g_string_append (text, "]}");
}

static void
test_many_records (void)
{
  g_autoptr (GString) text = many_seats (PLUMB_MAX_RECORDS + 1);
  g_autoptr (GString) fits = many_seats (PLUMB_MAX_RECORDS);
  g_autoptr (PlumbJobFile) file = test_load (fits->str);
  uint32_t count;

  assert_refused (text, "seats: more than 20000 records of this kind");
  plumb_scene_records (plumb_job_scene (file), PLUMB_RECORD_SEAT, &count);
  g_assert_cmpuint (count, ==, PLUMB_MAX_RECORDS);
}

/* The bound is on all of a kind, not on those of one owner. */
static void
test_many_nested (void)
{
  g_autoptr (GString) text
      = repeat ("{\"plumbeam\": 1, \"lenses\": [{\"id\": \"a\", \"pairs\": [{}", ",{}", 9999, "]},");
  g_autoptr (GString) second = repeat ("{\"id\": \"b\", \"pairs\": [{}", ",{}", 10000, "]}]}");

  g_string_append_len (text, second->str, (gssize) second->len);
  assert_refused (text, "lenses[1].pairs: more than 20000 records of this kind");
}

static void
test_many_values (void)
{
  g_autoptr (GString) text = repeat ("{\"plumbeam\": 1,\n\"x\": [0", ",0", PLUMB_JOB_MAX_VALUES, "]}");
  /* The object, the version and the array are values too. */
  g_autofree char *expected
      = g_strdup_printf ("2:%d: more than %d values", 7 + 2 * (PLUMB_JOB_MAX_VALUES - 3), PLUMB_JOB_MAX_VALUES);

  assert_refused (text, expected);
}

static void
assert_unreadable (const char *path, const char *why)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);
  g_autofree char *expected = g_strdup_printf ("cannot read %s: %s", path, why);

  g_assert_null (file);
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_READ);
  g_assert_cmpstr (error->message, ==, expected);
}

static void
test_unreadable (void)
{
  g_autofree char *folder = test_path ("tests", "job", "broken", NULL);
  g_autofree char *nothing = g_build_filename (folder, "no-such-file.plumbeam", NULL);

  assert_unreadable (folder, "it is a folder");
  assert_unreadable (nothing, "No such file or directory");
  assert_unreadable ("/dev/null", "it is not a regular file");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/broken/fixtures", test_fixtures);
  g_test_add_func ("/broken/deep", test_deep);
  g_test_add_func ("/broken/depth-limit", test_depth_limit);
  g_test_add_func ("/broken/big", test_big);
  g_test_add_func ("/broken/big-on-disc", test_big_on_disc);
  g_test_add_func ("/broken/many-records", test_many_records);
  g_test_add_func ("/broken/many-nested", test_many_nested);
  g_test_add_func ("/broken/many-values", test_many_values);
  g_test_add_func ("/broken/unreadable", test_unreadable);
  return g_test_run ();
}
