/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits that leave every record where it is. */
#include <string.h>

#include "document-private.h"
#include "text/findings.h"

static int
units_of (PlumbDocument *self)
{
  return plumb_scene_job (plumb_document_scene (self), 0)->units;
}

static gboolean
has_field (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, GError **error)
{
  if (!plumb_document_has (self, kind, index, error))
    return FALSE;
  if (field >= 0 && field < plumb_record_info (kind)->n_fields)
    return TRUE;
  g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "There is no such field.");
  return FALSE;
}

static gboolean
is_id (PlumbRecordKind kind, int field)
{
  return field == 0 && plumb_kind_has_id (kind);
}

static void *
copy_record (PlumbDocument *self, PlumbRecordKind kind, guint index)
{
  return g_memdup2 (plumb_scene_record (plumb_document_scene (self), kind, index), plumb_record_info (kind)->size);
}

/* One record becomes another; nothing happens if it is the same. Takes the name. */
static void
change_record (PlumbDocument *self, PlumbRecordKind kind, guint index, const void *record, char *name)
{
  const gsize size = plumb_record_info (kind)->size;
  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };

  if (memcmp (plumb_scene_record (draft.before, kind, index), record, size) == 0)
    {
      g_free (name);
      return;
    }
  memcpy (plumb_draft_record (&draft, kind, index), record, size);
  plumb_document_apply (self, plumb_draft_finish (&draft), name, PLUMB_NO_SHIFT);
}

static char *
field_name (PlumbDocument *self, PlumbRecordKind kind, guint index, int field)
{
  return plumb_step_fields (plumb_document_scene (self), kind, index, &field, 1);
}

gboolean
plumb_document_set_numbers (PlumbDocument *self, PlumbRecordKind kind, guint index, guint n, const int *fields,
                            const double *values, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (n > 0, FALSE);
  for (guint i = 0; i < n; i++)
    if (!has_field (self, kind, index, fields[i], error))
      return FALSE;

  const PlumbRecordInfo *info = plumb_record_info (kind);
  g_autofree void *record = copy_record (self, kind, index);
  for (guint i = 0; i < n; i++)
    if (!plumb_field_type_number (info, fields[i], record, values[i], units_of (self), error))
      return FALSE;
  change_record (self, kind, index, record, plumb_step_fields (plumb_document_scene (self), kind, index, fields, n));
  return TRUE;
}

gboolean
plumb_document_set_number (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, double value,
                           GError **error)
{
  return plumb_document_set_numbers (self, kind, index, 1, &field, &value, error);
}

gboolean
plumb_document_set_text (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, const char *text,
                         GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (text != NULL, FALSE);
  if (!has_field (self, kind, index, field, error))
    return FALSE;
  if (is_id (kind, field))
    return plumb_document_rename (self, kind, index, text, error);

  g_autofree void *record = copy_record (self, kind, index);
  if (!plumb_field_type_text (plumb_record_info (kind), field, record, text, error))
    return FALSE;
  change_record (self, kind, index, record, field_name (self, kind, index, field));
  return TRUE;
}

gboolean
plumb_document_reset (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  if (!has_field (self, kind, index, field, error))
    return FALSE;
  if (is_id (kind, field))
    {
      g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "An id has no default.");
      return FALSE;
    }

  const PlumbRecordInfo *info = plumb_record_info (kind);
  const PlumbField *of = &info->fields[field];
  g_autofree char *record = copy_record (self, kind, index);
  g_autofree char *blank = g_malloc (info->size);
  plumb_record_default (kind, blank);
  memcpy (record + of->offset, blank + of->offset, of->size);
  ((PlumbRecordHead *) (void *) record)->typed &= ~(UINT64_C (1) << field);
  g_autofree char *name = field_name (self, kind, index, field);
  change_record (self, kind, index, record, g_strconcat (name, ", back to its default", NULL));
  return TRUE;
}

/* ---- ids ------------------------------------------------------------------------------ */

static gboolean
check_id (PlumbDocument *self, PlumbRecordKind kind, guint index, const char *id, GError **error)
{
  const PlumbScene *scene = plumb_document_scene (self);
  g_autofree char *why = g_utf8_validate (id, -1, NULL) ? plumb_job_id_trouble (id) : g_strdup ("it is not UTF-8");

  if (why == NULL && strlen (id) >= PLUMB_ID_SIZE)
    why = g_strdup_printf ("it has %" G_GSIZE_FORMAT " letters, more than %d", strlen (id), PLUMB_ID_SIZE - 1);
  guint other = why == NULL ? plumb_scene_find (scene, kind, id) : PLUMB_NO_INDEX;
  if (other != PLUMB_NO_INDEX && other != index)
    {
      g_autofree char *name = plumb_record_name (scene, kind, other);
      why = g_strdup_printf ("\"%s\" is the id of %s already", id, name);
    }
  if (why == NULL)
    return TRUE;
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "Id: %s.", why);
  return FALSE;
}

/* All that refers to the record by its old id. */
static void
follow_references (PlumbDraft *draft, PlumbRecordKind kind, const char *from, const char *to)
{
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) k);
      const guint count = plumb_kind_count (draft->before, info->kind);
      for (int field = 0; field < info->n_fields; field++)
        for (guint i = 0; i < count; i++)
          {
            const void *record = plumb_scene_record (draft->before, info->kind, i);
            if (plumb_field_refers_to (info, field, record, kind)
                && strcmp (plumb_field_text (&info->fields[field], record), from) == 0)
              plumb_field_set_text (&info->fields[field], plumb_draft_record (draft, info->kind, i), to);
          }
    }
}

gboolean
plumb_document_rename (PlumbDocument *self, PlumbRecordKind kind, guint index, const char *id, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (id != NULL, FALSE);
  if (!plumb_document_has (self, kind, index, error))
    return FALSE;
  if (!plumb_kind_has_id (kind))
    {
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "%s: records of this kind have no id.",
                   plumb_record_info (kind)->label);
      return FALSE;
    }
  if (!check_id (self, kind, index, id, error))
    return FALSE;

  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };
  const char *old = plumb_record_id (kind, plumb_scene_record (draft.before, kind, index));
  if (strcmp (old, id) == 0)
    return TRUE;
  plumb_document_note_rename (self, kind, old, id);
  follow_references (&draft, kind, old, id);
  plumb_field_type_text (plumb_record_info (kind), 0, plumb_draft_record (&draft, kind, index), id, NULL);
  plumb_document_apply (self, plumb_draft_finish (&draft), field_name (self, kind, index, 0), PLUMB_NO_SHIFT);
  return TRUE;
}

/* ---- the arrangement shown ------------------------------------------------------------- */

void
plumb_document_show_arrangement (PlumbDocument *self, guint arrangement)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  const PlumbScene *scene = plumb_document_scene (self);
  if (arrangement == plumb_document_arrangement (self)
      || arrangement >= plumb_kind_count (scene, PLUMB_RECORD_ARRANGEMENT))
    return;

  g_autofree void *job = copy_record (self, PLUMB_RECORD_JOB, 0);
  plumb_field_type_text (plumb_record_info (PLUMB_RECORD_JOB), PLUMB_FIELD_job_arrangement, job,
                         plumb_scene_arrangement (scene, arrangement)->id, NULL);
  change_record (self, PLUMB_RECORD_JOB, 0, job,
                 plumb_step_record ("Showing of {}", scene, PLUMB_RECORD_ARRANGEMENT, arrangement));
}
