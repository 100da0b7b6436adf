/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts that were typed and refused, so that turning a page loses none. */
#include <string.h>

#include "document-private.h"

static char *
key_of (PlumbRecordKind kind, const char *id, int field)
{
  return g_strdup_printf ("%d/%d/%s", (int) kind, field, id);
}

void
plumb_document_keep_text (PlumbDocument *self, PlumbRecordKind kind, const char *id, int field, const char *text)
{
  g_hash_table_replace (self->kept, key_of (kind, id, field), g_strdup (text));
}

char *
plumb_document_give_text (PlumbDocument *self, PlumbRecordKind kind, const char *id, int field)
{
  g_autofree char *key = key_of (kind, id, field), *own = NULL;
  gpointer text = NULL;

  g_hash_table_steal_extended (self->kept, key, (gpointer *) &own, &text);
  return text;
}

void
plumb_document_note_rename (PlumbDocument *self, PlumbRecordKind kind, const char *from, const char *to)
{
  self->renamed.kind = kind;
  g_strlcpy (self->renamed.from, from, sizeof self->renamed.from);
  g_strlcpy (self->renamed.to, to, sizeof self->renamed.to);
  for (int field = 0; field < plumb_record_info (kind)->n_fields; field++)
    {
      g_autofree char *text = plumb_document_give_text (self, kind, from, field);
      if (text != NULL)
        plumb_document_keep_text (self, kind, to, field, text);
    }
}

gboolean
plumb_document_was_renamed (PlumbDocument *self, PlumbRecordKind kind, const char *from, const char *to)
{
  const PlumbRename *last = &self->renamed;

  return last->kind == kind
         && ((strcmp (last->from, from) == 0 && strcmp (last->to, to) == 0)
             || (strcmp (last->from, to) == 0 && strcmp (last->to, from) == 0));
}
