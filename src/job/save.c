/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replacing files so that at every moment a whole one stands under the name. */
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "source-private.h"

/* As many as the system follows itself. */
#define MOST_LINKS 40
#define MODE_BITS 07777u

static bool
fail_write (GError **error, const char *path, int error_number)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "cannot write %s: %s", shown,
               g_strerror (error_number));
  return false;
}

/* All of it or an error number. */
static int
write_all (int fd, const char *bytes, gsize size)
{
  while (size > 0)
    {
      ssize_t done = write (fd, bytes, size);
      if (done < 0 && errno == EINTR)
        continue;
      if (done < 0)
        return errno;
      bytes += done;
      size -= (gsize) done;
    }
  return 0;
}

/* A rename is safe from a power cut only once the folder is on the disc. Some
 * file systems cannot sync a folder; then there is nothing more to do. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

static int
fill_new_file (int fd, const char *bytes, gsize size, unsigned mode)
{
  int trouble = write_all (fd, bytes, size);

  if (trouble == 0 && mode != 0 && fchmod (fd, mode) < 0)
    trouble = errno;
  if (trouble == 0 && fsync (fd) < 0)
    trouble = errno;
  if (close (fd) < 0 && trouble == 0)
    trouble = errno;
  return trouble;
}

bool
plumb_job_replace (const char *path, const char *bytes, gsize size, unsigned mode, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  /* Short, so that a name of the greatest length still has a neighbour. */
  g_autofree char *fresh = g_build_filename (folder, ".plumbeam-XXXXXX", NULL);
  int fd = g_mkstemp_full (fresh, O_WRONLY | O_CLOEXEC, 0666);

  if (fd < 0)
    return fail_write (error, path, errno);
  int trouble = fill_new_file (fd, bytes, size, mode);
  if (trouble == 0 && g_rename (fresh, path) < 0)
    trouble = errno;
  if (trouble != 0)
    {
      g_unlink (fresh);
      return fail_write (error, path, trouble);
    }
  sync_folder (path);
  return true;
}

/* The file that a path leads to through links; it need not be there. */
static char *
follow_links (const char *path, GError **error)
{
  g_autofree char *at = g_strdup (path);

  for (int i = 0; i <= MOST_LINKS; i++)
    {
      g_autofree char *target = g_file_read_link (at, NULL);
      if (target == NULL)
        return g_steal_pointer (&at);
      g_autofree char *folder = g_path_get_dirname (at);
      g_free (at);
      at = g_path_is_absolute (target) ? g_strdup (target) : g_build_filename (folder, target, NULL);
    }
  fail_write (error, path, ELOOP);
  return NULL;
}

static bool
keep_backup (const char *path, unsigned mode, GError **error)
{
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_autofree char *old = NULL;
  g_autoptr (GError) trouble = NULL;
  gsize size;

  if (g_file_get_contents (path, &old, &size, &trouble))
    return plumb_job_replace (backup, old, size, mode, error);
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "cannot keep a backup: %s", trouble->message);
  return false;
}

bool
plumb_job_save (const PlumbJobFile *file, const char *path, GError **error)
{
  gsize size;
  struct stat about;
  g_autofree char *text = plumb_job_to_text (file, &size, error);
  g_autofree char *target = text != NULL ? follow_links (path, error) : NULL;

  if (target == NULL)
    return false;
  if (stat (target, &about) < 0)
    return errno == ENOENT ? plumb_job_replace (target, text, size, 0, error) : fail_write (error, path, errno);
  if (!S_ISREG (about.st_mode))
    return fail_write (error, path, S_ISDIR (about.st_mode) ? EISDIR : EINVAL);
  unsigned mode = about.st_mode & MODE_BITS;
  return keep_backup (target, mode, error) && plumb_job_replace (target, text, size, mode, error);
}
