/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/state.h"

#define FOLDER_MODE 0700

static char *
state_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "plumbeam", "window.ini", NULL);
}

GKeyFile *
plumb_state_load (void)
{
  GKeyFile *state = g_key_file_new ();
  g_autofree char *path = state_path ();
  g_autoptr (GError) error = NULL;

  if (!g_key_file_load_from_file (state, path, G_KEY_FILE_NONE, &error)
      && !g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    g_message ("%s: %s", path, error->message);
  return state;
}

void
plumb_state_save (GKeyFile *state)
{
  g_autofree char *path = state_path (), *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (folder, FOLDER_MODE); /* saving says what is wrong */
  if (!g_key_file_save_to_file (state, path, &error))
    g_message ("%s", error->message);
}

int
plumb_state_int (GKeyFile *state, const char *group, const char *key, int otherwise)
{
  g_autoptr (GError) error = NULL;
  int value = g_key_file_get_integer (state, group, key, &error);

  return error == NULL ? value : otherwise;
}

gboolean
plumb_state_flag (GKeyFile *state, const char *group, const char *key, gboolean otherwise)
{
  g_autoptr (GError) error = NULL;
  gboolean value = g_key_file_get_boolean (state, group, key, &error);

  return error == NULL ? value : otherwise;
}
