/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document and its file. */
#include "document-private.h"

/* Before another job takes its place: what is not saved must be found again. */
static gboolean
keep_unsaved (PlumbDocument *self, GError **error)
{
  return !plumb_document_is_changed (self) || plumb_document_autosave (self, error);
}

gboolean
plumb_document_open (PlumbDocument *self, const char *path, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (path != NULL, FALSE);
  PlumbJobFile *file = plumb_job_load (path, error);

  if (file == NULL)
    return FALSE;
  if (!keep_unsaved (self, error))
    {
      plumb_job_file_free (file);
      return FALSE;
    }
  plumb_document_replace (self, file, g_canonicalize_filename (path, NULL),
                          plumb_history_root (plumb_job_scene (file)), FALSE);
  return TRUE;
}

void
plumb_document_clear (PlumbDocument *self)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  g_autoptr (GError) error = NULL;

  /* It stays as it is, and changed, when what is unsaved cannot be kept. */
  if (!keep_unsaved (self, &error))
    {
      g_message ("the open job stays: %s", error->message);
      return;
    }
  PlumbJobFile *file = plumb_job_new ();
  if (file == NULL)
    g_error ("not enough memory for a job");
  plumb_document_replace (self, file, NULL, plumb_history_root (plumb_job_scene (file)), FALSE);
}

gboolean
plumb_document_recover (PlumbDocument *self, const PlumbJobAutosave *copy, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (copy != NULL, FALSE);
  PlumbJobFile *file = plumb_job_load (copy->path, error);

  if (file == NULL)
    return FALSE;
  if (!keep_unsaved (self, error))
    {
      plumb_job_file_free (file);
      return FALSE;
    }
  plumb_document_replace (self, file, g_strdup (copy->original_path), NULL, TRUE);
  return TRUE;
}

gboolean
plumb_document_save (PlumbDocument *self, const char *path, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_autofree char *target = path != NULL ? g_canonicalize_filename (path, NULL) : g_strdup (self->path);
  g_autoptr (GError) trouble = NULL;

  if (target == NULL)
    {
      g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "This job has no file yet.");
      return FALSE;
    }
  if (!plumb_job_save (self->file, target, error))
    return FALSE;
  /* The job is on the disc; an old copy that stays is offered once too often. */
  if (!plumb_job_autosave_discard (self->path, &trouble))
    g_message ("%s", trouble->message);
  self->has_copy = FALSE;
  plumb_scene_unref (self->saved);
  self->saved = plumb_history_root (plumb_document_scene (self));
  const gboolean moved = g_strcmp0 (target, self->path) != 0;
  g_free (self->path);
  self->path = g_steal_pointer (&target);
  plumb_document_tell_filed (self, moved);
  return TRUE;
}

gboolean
plumb_document_autosave (PlumbDocument *self, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  if (plumb_document_is_changed (self))
    {
      self->has_copy = plumb_job_autosave_write (self->file, self->path, error);
      return self->has_copy;
    }
  /* All was undone: there is nothing to come back to. */
  if (self->has_copy && !plumb_job_autosave_discard (self->path, error))
    return FALSE;
  self->has_copy = FALSE;
  return TRUE;
}
