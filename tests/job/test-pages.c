/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages of docs/ that are printed from lists must be what the lists give. */
#include "job-testing.h"

static void
test_page (gconstpointer name)
{
  g_autoptr (GError) error = NULL;
  const char *build = g_getenv ("PLUMB_BUILD_DIR");
  g_assert_nonnull (build);
  g_autofree char *writer_name
      = g_strdup_printf ("write-%s-page", g_str_equal (name, "figures") ? "figures" : "format");
  g_autofree char *writer = g_build_filename (build, "src", "job", writer_name, NULL);
  g_autofree char *page_name = g_strdup_printf ("%s.md", (const char *) name);
  g_autofree char *page = test_path ("docs", page_name, NULL);
  char *argv[] = { writer, NULL };
  g_autofree char *printed = NULL;
  int status;

  g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &printed, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  g_autofree char *committed = test_contents (page);
  unsigned gone, new;
  test_line_changes (committed, printed, &gone, &new);
  if (gone + new > 0)
    g_test_message ("%s is out of date: let %s print it", page, writer);
  g_assert_cmpuint (gone + new, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/pages/file-format", "file-format", test_page);
  g_test_add_data_func ("/pages/figures", "figures", test_page);
  return g_test_run ();
}
