/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The copy of /home/a/loft.plumbeam is <checksum of that path>.plumbeam, and
 * beside it stands <checksum>.from, which holds the path.
 */
#include <errno.h>
#include <glib/gstdio.h>

#include "source-private.h"

#define UNTITLED "untitled"
#define COPY ".plumbeam"
#define FROM ".from"
/* Nobody else need see what is on the desk. */
#define FOLDER_MODE 0700
#define FILE_MODE 0600u

static char *
autosave_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "plumbeam", "autosave", NULL);
}

/* Without its ending. */
static char *
autosave_name (const char *original_path)
{
  g_autofree char *folder = autosave_folder ();

  if (original_path == NULL)
    return g_build_filename (folder, UNTITLED, NULL);
  g_autofree char *whole = g_canonicalize_filename (original_path, NULL);
  g_autofree char *checksum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, whole, -1);
  return g_build_filename (folder, checksum, NULL);
}

static bool
write_from (const char *name, const char *original_path, GError **error)
{
  g_autofree char *from = g_strconcat (name, FROM, NULL);
  g_autofree char *whole = g_canonicalize_filename (original_path, NULL);

  return plumb_job_replace (from, whole, strlen (whole), FILE_MODE, error);
}

bool
plumb_job_autosave_write (const PlumbJobFile *file, const char *original_path, GError **error)
{
  gsize size;
  g_autofree char *text = plumb_job_to_text (file, &size, error);
  g_autofree char *folder = autosave_folder ();
  g_autofree char *name = autosave_name (original_path);
  g_autofree char *copy = g_strconcat (name, COPY, NULL);

  if (text == NULL)
    return false;
  if (g_mkdir_with_parents (folder, FOLDER_MODE) < 0)
    {
      g_autofree char *shown = g_filename_display_name (folder);
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "cannot make the folder %s: %s", shown,
                   g_strerror (errno));
      return false;
    }
  /* First where it comes from: a copy without that would look like an untitled one. */
  if (original_path != NULL && !write_from (name, original_path, error))
    return false;
  return plumb_job_replace (copy, text, size, FILE_MODE, error);
}

void
plumb_job_autosave_free (PlumbJobAutosave *autosave)
{
  if (autosave == NULL)
    return;
  g_free (autosave->path);
  g_free (autosave->original_path);
  g_free (autosave);
}

/* NULL for a file that is no copy of ours. */
static PlumbJobAutosave *
autosave_of (const char *folder, const char *file_name)
{
  GStatBuf about;
  g_autofree char *path = g_build_filename (folder, file_name, NULL);

  if (!g_str_has_suffix (file_name, COPY) || file_name[0] == '.' || g_stat (path, &about) < 0)
    return NULL;
  g_autofree char *name = g_strndup (path, strlen (path) - strlen (COPY));
  g_autofree char *from = g_strconcat (name, FROM, NULL);
  PlumbJobAutosave *autosave = g_new0 (PlumbJobAutosave, 1);
  if (!g_file_get_contents (from, &autosave->original_path, NULL, NULL))
    autosave->original_path = NULL;
  autosave->path = g_steal_pointer (&path);
  autosave->saved_unix_us = (gint64) about.st_mtim.tv_sec * G_USEC_PER_SEC + about.st_mtim.tv_nsec / 1000;
  return autosave;
}

static int
newest_first_cb (const void *a, const void *b)
{
  const PlumbJobAutosave *const *left = a, *const *right = b;

  if ((*left)->saved_unix_us != (*right)->saved_unix_us)
    return (*left)->saved_unix_us > (*right)->saved_unix_us ? -1 : 1;
  return g_strcmp0 ((*left)->path, (*right)->path);
}

GPtrArray *
plumb_job_autosave_list (void)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) plumb_job_autosave_free);
  g_autofree char *folder = autosave_folder ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *file_name;

  while (dir != NULL && (file_name = g_dir_read_name (dir)) != NULL)
    {
      PlumbJobAutosave *autosave = autosave_of (folder, file_name);
      if (autosave != NULL)
        g_ptr_array_add (list, autosave);
    }
  g_ptr_array_sort (list, newest_first_cb);
  return list;
}

static bool
remove_file (const char *path, GError **error)
{
  if (g_unlink (path) == 0 || errno == ENOENT)
    return true;
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "cannot remove %s: %s", shown, g_strerror (errno));
  return false;
}

bool
plumb_job_autosave_discard (const char *original_path, GError **error)
{
  g_autofree char *name = autosave_name (original_path);
  g_autofree char *copy = g_strconcat (name, COPY, NULL);
  g_autofree char *from = g_strconcat (name, FROM, NULL);

  return remove_file (copy, error) && remove_file (from, error);
}
