/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What steps are called, and what new records are. */
#include <string.h>

#include "document-private.h"
#include "text/findings.h"

/* ---- steps -------------------------------------------------------------------------- */

char *
plumb_step_fields (const PlumbScene *scene, PlumbRecordKind kind, guint index, const int *fields, guint n)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  g_autofree char *of = plumb_record_name (scene, kind, index);
  GString *name = g_string_new (info->fields[fields[0]].label);

  for (guint i = 1; i < n; i++)
    {
      g_autofree char *label = g_utf8_strdown (info->fields[fields[i]].label, -1);
      g_string_append_printf (name, "%s%s", i + 1 < n ? ", " : " and ", label);
    }
  g_string_append_printf (name, " of %s", of);
  return g_string_free (name, FALSE);
}

char *
plumb_step_record (const char *format, const PlumbScene *scene, PlumbRecordKind kind, guint index)
{
  g_autofree char *of = plumb_record_name (scene, kind, index);
  GString *name = g_string_new (format);

  g_string_replace (name, "{}", of, 1);
  return g_string_free (name, FALSE);
}

/* ---- counting on -------------------------------------------------------------------- */

/* Digits that a counted name may end in; more of them are no number. */
#define MOST_DIGITS 6

/* "tie beam T2" counts on to "tie beam T3", what ends in no number to
 * like + separator + "2". `size` bytes with the closing 0. */
static char *
count_on (const char *like, const char *separator, gsize size, GHashTable *taken)
{
  gsize length = strlen (like), stem = length;
  guint64 number = 1;

  while (stem > 0 && g_ascii_isdigit (like[stem - 1]))
    stem--;
  if (length - stem >= 1 && length - stem <= MOST_DIGITS)
    {
      number = g_ascii_strtoull (like + stem, NULL, 10);
      separator = "";
    }
  else
    stem = length;
  for (;;)
    {
      g_autofree char *tail = g_strdup_printf ("%s%" G_GUINT64_FORMAT, separator, ++number);
      gsize room = size - 1 - strlen (tail);
      g_autofree char *head = g_strndup (like, MIN (stem, room));
      /* Where it was cut short, a letter may have been cut in two. */
      const char *end;
      if (!g_utf8_validate (head, -1, &end))
        head[end - head] = '\0';
      g_autofree char *name = g_strconcat (head, tail, NULL);
      if (!g_hash_table_contains (taken, name))
        return g_steal_pointer (&name);
    }
}

static GHashTable *
texts_of (const PlumbScene *scene, PlumbRecordKind kind, int field)
{
  const PlumbField *of = &plumb_record_info (kind)->fields[field];
  GHashTable *texts = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < plumb_kind_count (scene, kind); i++)
    g_hash_table_add (texts, (gpointer) plumb_field_text (of, plumb_scene_record (scene, kind, i)));
  return texts;
}

/* A reference to a record that is gone must not come to mean another one. */
static void
add_referred_to (GHashTable *texts, const PlumbScene *scene, PlumbRecordKind kind)
{
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) k);
      for (int field = 0; field < info->n_fields; field++)
        if ((info->fields[field].ref_kinds >> kind & 1u) != 0)
          {
            const guint count = plumb_kind_count (scene, info->kind);
            for (guint i = 0; i < count; i++)
              g_hash_table_add (texts, (gpointer) plumb_field_text (&info->fields[field],
                                                                    plumb_scene_record (scene, info->kind, i)));
          }
    }
}

/* The id of a limit says which one it is. */
static const char *
unused_limit (GHashTable *taken)
{
  for (uint32_t i = 0; i < plumb_limit_count (); i++)
    if (!g_hash_table_contains (taken, plumb_limit_at (i)->id))
      return plumb_limit_at (i)->id;
  return NULL;
}

char *
plumb_fresh_id (const PlumbScene *scene, PlumbRecordKind kind, const char *like)
{
  g_autoptr (GHashTable) taken = texts_of (scene, kind, 0);
  const char *limit = kind == PLUMB_RECORD_LIMIT ? unused_limit (taken) : NULL;

  add_referred_to (taken, scene, kind);
  if (limit != NULL)
    return g_strdup (limit);
  if (like != NULL)
    return count_on (like, "-", PLUMB_ID_SIZE, taken);
  g_autofree char *first = g_strconcat (plumb_record_info (kind)->name, "-0", NULL);
  return count_on (g_strdelimit (first, "_", '-'), "-", PLUMB_ID_SIZE, taken);
}

char *
plumb_fresh_label (const PlumbScene *scene, PlumbRecordKind kind, const char *like)
{
  int field = plumb_field_find (plumb_record_info (kind), "label");

  if (like[0] == '\0')
    return g_strdup ("");
  g_autoptr (GHashTable) taken = texts_of (scene, kind, field);
  return count_on (like, " ", PLUMB_LABEL_SIZE, taken);
}
