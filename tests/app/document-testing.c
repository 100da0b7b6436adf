/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document-testing.h"

#include <string.h>

static void
count_cb (PlumbDocument *document, gpointer counter)
{
  g_assert_true (PLUMB_IS_DOCUMENT (document));
  (*(guint *) counter)++;
}

void
test_listen (PlumbDocument *document, TestSignals *signals)
{
  *signals = (TestSignals){ 0 };
  g_signal_connect (document, "changed", G_CALLBACK (count_cb), &signals->changed);
  g_signal_connect (document, "selected", G_CALLBACK (count_cb), &signals->selected);
  g_signal_connect (document, "filed", G_CALLBACK (count_cb), &signals->filed);
}

char *
test_source_path (const char *inner)
{
  const char *root = g_getenv ("PLUMB_SOURCE_DIR");

  g_assert_nonnull (root);
  return g_build_filename (root, inner, NULL);
}

PlumbDocument *
test_demo (const char *name)
{
  g_autofree char *inner = g_strdup_printf ("data/demo/%s.plumbeam", name);
  g_autofree char *path = test_source_path (inner);
  g_autoptr (GError) error = NULL;
  PlumbDocument *document = plumb_document_new ();

  plumb_document_open (document, path, &error);
  g_assert_no_error (error);
  return document;
}

static void
add (PlumbDocument *document, PlumbRecordKind kind, guint owner)
{
  g_autoptr (GError) error = NULL;
  guint index = plumb_document_add (document, kind, owner, PLUMB_NO_INDEX, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (index, !=, PLUMB_NO_INDEX);
}

PlumbDocument *
test_crowd (void)
{
  PlumbDocument *document = test_demo ("net-loft");

  for (int k = 1; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      if (plumb_record_info (kind)->parent != PLUMB_RECORD_NONE)
        for (guint i = 0; i < 4; i++)
          add (document, kind, i % 2);
      else
        while (test_count (document, kind) < 3)
          add (document, kind, 0);
    }
  return document;
}

guint
test_count (PlumbDocument *document, PlumbRecordKind kind)
{
  return plumb_kind_count (plumb_document_scene (document), kind);
}

const void *
test_record (PlumbDocument *document, PlumbRecordKind kind, guint index)
{
  return plumb_scene_record (plumb_document_scene (document), kind, index);
}

guint
test_find (PlumbDocument *document, PlumbRecordKind kind, const char *id)
{
  guint index = plumb_scene_find (plumb_document_scene (document), kind, id);

  g_assert_cmpuint (index, !=, PLUMB_NO_INDEX);
  return index;
}

char *
test_text (PlumbDocument *document)
{
  g_autoptr (GError) error = NULL;
  char *text = plumb_job_to_text (plumb_document_file (document), NULL, &error);

  g_assert_no_error (error);
  return text;
}

double
test_typed_number (const PlumbField *field, const void *record)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (digits, sizeof digits, "%.15g", plumb_field_number (field, record));
  return g_ascii_strtod (digits, NULL);
}

void
test_type_like (PlumbDocument *document, PlumbRecordKind kind, guint index, int field, const void *like)
{
  const PlumbField *of = &plumb_record_info (kind)->fields[field];
  g_autoptr (GError) error = NULL;

  if (of->type == PLUMB_TYPE_TEXT || of->type == PLUMB_TYPE_REF)
    plumb_document_set_text (document, kind, index, field, plumb_field_text (of, like), &error);
  else
    plumb_document_set_number (document, kind, index, field, test_typed_number (of, like), &error);
  g_assert_no_error (error);
}

void
test_assert_sound (PlumbDocument *document)
{
  const PlumbScene *scene = plumb_document_scene (document);

  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      const PlumbRecordInfo *info = plumb_record_info (kind);
      guint before = 0;
      for (guint i = 0; i < plumb_kind_count (scene, kind); i++)
        {
          if (plumb_kind_has_id (kind))
            g_assert_cmpuint (plumb_scene_find (scene, kind, plumb_record_id (kind, test_record (document, kind, i))),
                              ==, i);
          if (info->parent == PLUMB_RECORD_NONE)
            continue;
          guint owner = plumb_record_owner (scene, kind, i);
          g_assert_cmpuint (owner, <, plumb_kind_count (scene, info->parent));
          g_assert_cmpuint (owner, >=, before);
          before = owner;
        }
    }
}

void
test_assert_shares_all (const PlumbScene *a, const PlumbScene *b)
{
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    g_assert_true (plumb_scene_shares (a, b, (PlumbRecordKind) k));
}

void
test_assert_bytes (const void *a, const void *b, gsize size)
{
  g_assert_true (size == 0 || memcmp (a, b, size) == 0);
}
