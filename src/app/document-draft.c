/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies of arrays on their way into a new scene. */
#include <string.h>

#include "document-private.h"

guint
plumb_kind_count (const PlumbScene *scene, PlumbRecordKind kind)
{
  uint32_t count;

  plumb_scene_records (scene, kind, &count);
  return count;
}

guint
plumb_record_owner (const PlumbScene *scene, PlumbRecordKind kind, guint index)
{
  const PlumbRecordHead *head = plumb_scene_record (scene, kind, index);
  return head->owner;
}

/* ---- shifts ------------------------------------------------------------------------- */

PlumbShift
plumb_shift_back (PlumbShift shift)
{
  return (PlumbShift){ shift.kind, shift.to, shift.from };
}

static guint
shift_index (PlumbShift shift, guint index)
{
  if (index == shift.from)
    return shift.to;
  /* Gone from where it was, then put in where it came to. */
  if (shift.from != PLUMB_NO_INDEX && index > shift.from)
    index--;
  if (shift.to != PLUMB_NO_INDEX && index >= shift.to)
    index++;
  return index;
}

/* Place of the first record nested in an owner. */
static guint
first_nested (const PlumbScene *scene, PlumbRecordKind kind, guint owner)
{
  uint32_t all, count;
  const char *records = plumb_scene_records (scene, kind, &all);
  const char *first = plumb_scene_nested (scene, kind, owner, &count);

  return (guint) ((gsize) (first - records) / plumb_record_info (kind)->size);
}

PlumbSubject
plumb_shift_subject (PlumbShift shift, const PlumbScene *before, const PlumbScene *after, PlumbSubject subject)
{
  const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

  if (subject.kind == PLUMB_RECORD_NONE || shift.kind == PLUMB_RECORD_NONE)
    return subject;
  if (subject.kind == shift.kind)
    {
      subject.index = shift_index (shift, subject.index);
      return subject.index != PLUMB_NO_INDEX ? subject : nothing;
    }
  if (plumb_record_info (subject.kind)->parent != shift.kind)
    return subject;
  guint owner = plumb_record_owner (before, subject.kind, subject.index);
  guint now = shift_index (shift, owner);
  if (now == PLUMB_NO_INDEX)
    return nothing;
  subject.index += first_nested (after, subject.kind, now) - first_nested (before, subject.kind, owner);
  return subject;
}

/* ---- drafts ------------------------------------------------------------------------- */

void
plumb_draft_clear (PlumbDraft *draft)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_clear_pointer (&draft->records[kind], g_free);
}

/* The records as the draft has them so far. */
static const unsigned char *
draft_records (const PlumbDraft *draft, PlumbRecordKind kind, guint *count)
{
  if (draft->records[kind] == NULL)
    return plumb_scene_records (draft->before, kind, count);
  *count = draft->count[kind];
  return draft->records[kind];
}

void *
plumb_draft_record (PlumbDraft *draft, PlumbRecordKind kind, guint index)
{
  const gsize size = plumb_record_info (kind)->size;

  if (draft->records[kind] == NULL)
    {
      guint count;
      const unsigned char *records = draft_records (draft, kind, &count);
      draft->records[kind] = g_malloc_n (count, size);
      memcpy (draft->records[kind], records, count * size);
      draft->count[kind] = count;
    }
  g_assert (index < draft->count[kind]);
  return draft->records[kind] + index * size;
}

static gboolean
refuse_many (PlumbRecordKind kind, gsize count, GError **error)
{
  if (count <= PLUMB_MAX_RECORDS)
    return FALSE;
  g_autofree char *what = g_utf8_strdown (plumb_record_info (kind)->label, -1);
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET,
               "A job has room for %d records of each kind, and there is no room for another %s.", PLUMB_MAX_RECORDS,
               what);
  return TRUE;
}

/* The records nested in those of `order`, with their new owners. */
static gboolean
order_nested (PlumbDraft *draft, PlumbRecordKind nested, const guint *order, guint count, GError **error)
{
  const gsize size = plumb_record_info (nested)->size;
  guint n_before;
  const unsigned char *before = draft_records (draft, nested, &n_before);
  /* Allocated even if it stays empty: no bytes are not the same as no array. */
  g_autoptr (GByteArray) after = g_byte_array_sized_new ((guint) size);

  for (guint i = 0; i < count; i++)
    {
      uint32_t n = 0;
      const guint8 *first
          = order[i] != PLUMB_NO_INDEX ? plumb_scene_nested (draft->before, nested, order[i], &n) : NULL;
      if (refuse_many (nested, after->len / size + n, error))
        return FALSE;
      const guint at = after->len;
      if (n > 0)
        g_byte_array_append (after, first, (guint) (n * size));
      for (guint k = 0; k < n; k++)
        ((PlumbRecordHead *) (void *) (after->data + at + k * size))->owner = i;
    }
  /* An array that came out the same stays shared. */
  if (after->len == n_before * size && (after->len == 0 || memcmp (after->data, before, after->len) == 0))
    return TRUE;
  draft->count[nested] = (guint) (after->len / size);
  draft->records[nested] = g_byte_array_free (g_steal_pointer (&after), FALSE);
  return TRUE;
}

gboolean
plumb_draft_order (PlumbDraft *draft, PlumbRecordKind kind, const guint *order, guint count, GError **error)
{
  const gsize size = plumb_record_info (kind)->size;
  unsigned char *records;

  if (refuse_many (kind, count, error))
    return FALSE;
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    if (plumb_record_info ((PlumbRecordKind) k)->parent == kind
        && !order_nested (draft, (PlumbRecordKind) k, order, count, error))
      return FALSE;
  records = g_malloc_n (MAX (count, 1), size);
  for (guint i = 0; i < count; i++)
    if (order[i] != PLUMB_NO_INDEX)
      memcpy (records + i * size, plumb_scene_record (draft->before, kind, order[i]), size);
    else
      plumb_record_default (kind, records + i * size);
  g_free (draft->records[kind]);
  draft->records[kind] = records;
  draft->count[kind] = count;
  return TRUE;
}

PlumbScene *
plumb_draft_finish (const PlumbDraft *draft)
{
  PlumbScene *scene = plumb_history_root (draft->before);

  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    if (draft->records[k] != NULL
        && !plumb_scene_fill (scene, (PlumbRecordKind) k, draft->records[k], draft->count[k]))
      g_error ("not enough memory for an edit");
  if (!plumb_scene_commit (scene))
    g_error ("not enough memory for an edit");
  return scene;
}
