/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-testing.h"

#include <glib/gstdio.h>
#include <string.h>

const char *const demo_names[N_DEMOS] = { "net-loft", "music-room" };

void
demo_open (Demo *demo, const char *name)
{
  g_autofree char *base = g_strconcat (name, ".plumbeam", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "data", "demo", base, NULL);
  g_autoptr (GError) error = NULL;
  demo->file = plumb_job_load (path, &error);
  g_assert_no_error (error);
  demo->scene = plumb_job_scene (demo->file);
  g_assert_true (plumb_evaluate (demo->scene, plumb_scene_current_arrangement (demo->scene), &demo->evaluation));
}

void
demo_close (Demo *demo)
{
  plumb_evaluation_free (demo->evaluation);
  plumb_job_file_free (demo->file);
}

char *
test_path (const char *name)
{
  static char *folder = NULL;
  if (folder == NULL)
    {
      g_autoptr (GError) error = NULL;
      folder = g_dir_make_tmp ("plumb-draw-XXXXXX", &error);
      g_assert_no_error (error);
    }
  return g_build_filename (folder, name, NULL);
}

GByteArray *
test_sheet (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind, PlumbSheetFormat format,
            PlumbPaper paper)
{
  g_autofree char *path = test_path ("sheet");
  g_autoptr (GError) error = NULL;
  g_assert_true (plumb_draw_sheet_export (scene, evaluation, kind, path, format, paper, &error));
  g_assert_no_error (error);
  char *bytes;
  gsize size;
  g_assert_true (g_file_get_contents (path, &bytes, &size, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_unlink (path), ==, 0);
  return g_byte_array_new_take ((guint8 *) bytes, size);
}

/* Unpacks one Flate stream; NULL when it is none. */
static char *
unpack (const guint8 *data, gsize size)
{
  g_autoptr (GZlibDecompressor) zlib = g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB);
  GByteArray *out = g_byte_array_new ();
  gsize at = 0;
  for (;;)
    {
      guint8 buffer[65536];
      gsize read = 0, written = 0;
      g_autoptr (GError) error = NULL;
      GConverterResult result = g_converter_convert (G_CONVERTER (zlib), data + at, size - at, buffer, sizeof buffer,
                                                     G_CONVERTER_INPUT_AT_END, &read, &written, &error);
      at += read;
      g_byte_array_append (out, buffer, (guint) written);
      if (result == G_CONVERTER_ERROR)
        {
          g_byte_array_unref (out);
          return NULL;
        }
      if (result == G_CONVERTER_FINISHED)
        break;
    }
  g_byte_array_append (out, (const guint8 *) "", 1);
  return (char *) g_byte_array_free (out, FALSE);
}

/* Strokes and fills of a page; fonts and pictures have none. */
static gboolean
is_page (const char *text)
{
  return g_utf8_validate (text, -1, NULL) && strstr (text, " re W n") != NULL;
}

const char *
test_find (const GByteArray *file, gsize from, const char *word)
{
  gsize length = strlen (word);
  for (gsize i = from; i + length <= file->len; i++)
    if (memcmp (file->data + i, word, length) == 0)
      return (const char *) file->data + i;
  return NULL;
}

char *
test_page_operators (const GByteArray *pdf)
{
  char *longest = NULL;
  const char *begin = (const char *) pdf->data, *at;
  for (gsize from = 0; (at = test_find (pdf, from, "stream\n")) != NULL;)
    {
      gboolean opens = at - begin < 3 || strncmp (at - 3, "end", 3) != 0;
      from = (gsize) (at - begin) + strlen ("stream\n");
      if (!opens)
        continue;
      char *text = unpack (pdf->data + from, pdf->len - from);
      if (text != NULL && is_page (text) && (longest == NULL || strlen (text) > strlen (longest)))
        {
          g_free (longest);
          longest = text;
        }
      else
        g_free (text);
    }
  g_assert_nonnull (longest);
  return longest;
}

char *
test_page_text (const GByteArray *pdf)
{
  g_autofree char *path = test_path ("page.pdf");
  g_autoptr (GError) error = NULL;
  g_assert_true (g_file_set_contents (path, (const char *) pdf->data, (gssize) pdf->len, &error));
  const char *const command[] = { "pdftotext", "-raw", path, "-", NULL };
  char *text = NULL;
  int status = 0;
  g_assert_true (
      g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, &error));
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  g_assert_cmpint (g_unlink (path), ==, 0);
  return text;
}
