/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reference-table.h"

#include <string.h>

static void
row_clear (gpointer data)
{
  g_free (((ReferenceRow *) data)->name);
}

static void
add_row (GArray *rows, const char *line, guint n_values)
{
  g_auto (GStrv) words = g_strsplit_set (line, " ", -1);
  ReferenceRow row = { .name = g_strdup (words[0]) };

  g_assert_cmpuint (g_strv_length (words), ==, n_values + 1);
  g_assert_cmpuint (n_values, <=, REFERENCE_MAX_VALUES);
  for (guint k = 0; k < n_values; k++)
    {
      char *end;
      row.value[k] = g_ascii_strtod (words[k + 1], &end);
      g_assert_true (end != words[k + 1] && *end == '\0');
    }
  g_array_append_val (rows, row);
}

GArray *
reference_table_load (const char *path, const char *block, guint n_values)
{
  const char *root = g_getenv ("PLUMB_SOURCE_DIR");
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  GArray *rows = g_array_new (FALSE, TRUE, sizeof (ReferenceRow));
  gboolean in_block = FALSE;

  g_array_set_clear_func (rows, row_clear);
  g_assert_nonnull (root);
  g_autofree char *file = g_build_filename (root, "tests", "data", path, NULL);
  g_assert_true (g_file_get_contents (file, &text, NULL, &error));
  g_assert_no_error (error);

  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      const char *line = g_strstrip (lines[i]);

      if (line[0] == '\0' || line[0] == '#')
        continue;
      if (line[0] == '[')
        in_block = strlen (line) == strlen (block) + 2 && strncmp (line + 1, block, strlen (block)) == 0;
      else if (in_block)
        add_row (rows, line, n_values);
    }
  g_assert_cmpuint (rows->len, >, 0);
  return rows;
}
