/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/app-private.h"

#define GROUP "jobs"
#define KEY "recent"
#define MAX_RECENT 8
#define DEMO "demo", "net-loft.plumbeam"
/* From the program's folder in a build tree to the source tree around it. */
#define MAX_FOLDERS_UP 6

/* Paths are stored as they come from a file chooser: the list quotes them. */
static char **
recent_paths (PlumbApp *app)
{
  char **paths = g_key_file_get_string_list (app->state, GROUP, KEY, NULL, NULL);

  return paths != NULL ? paths : g_new0 (char *, 1);
}

void
plumb_app_show_recent (PlumbApp *app)
{
  g_auto (GStrv) paths = recent_paths (app);

  if (app->window == NULL)
    return;
  plumb_window_show_recent (app->window, (const char *const *) paths);
}

void
plumb_app_add_recent (PlumbApp *app, const char *path)
{
  g_auto (GStrv) before = recent_paths (app);
  g_autoptr (GPtrArray) after = g_ptr_array_new ();

  /* A key file holds UTF-8 only. */
  if (!g_utf8_validate (path, -1, NULL))
    return;
  g_ptr_array_add (after, (char *) path);
  for (guint i = 0; before[i] != NULL && after->len < MAX_RECENT; i++)
    if (!g_str_equal (before[i], path))
      g_ptr_array_add (after, before[i]);
  g_key_file_set_string_list (app->state, GROUP, KEY, (const char *const *) after->pdata, after->len);
  plumb_app_show_recent (app);
}

char *
plumb_app_last_path (PlumbApp *app)
{
  g_auto (GStrv) paths = recent_paths (app);

  for (guint i = 0; paths[i] != NULL; i++)
    if (g_file_test (paths[i], G_FILE_TEST_IS_REGULAR))
      return g_strdup (paths[i]);
  return NULL;
}

/* folder is freed. */
static char *
demo_in (char *folder)
{
  g_autofree char *owned = folder;
  char *path = g_build_filename (owned, DEMO, NULL);

  if (g_file_test (path, G_FILE_TEST_IS_REGULAR))
    return path;
  g_free (path);
  return NULL;
}

char *
plumb_app_demo_path (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  char *found = demo_in (g_strdup (PLUMB_DATA_DIR));

  if (found != NULL || program == NULL)
    return found;
  g_autofree char *folder = g_path_get_dirname (program);
  found = demo_in (g_build_filename (folder, "..", "share", "plumbeam", NULL));
  for (int i = 0; i < MAX_FOLDERS_UP && found == NULL; i++)
    {
      found = demo_in (g_build_filename (folder, "data", NULL));
      char *parent = g_path_get_dirname (folder);
      g_free (folder);
      folder = parent;
    }
  return found;
}
