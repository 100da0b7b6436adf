/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-testing.h"

#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
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

void
demo_set (Demo *demo, const char *const *key_and_value)
{
  for (; *key_and_value != NULL; key_and_value++)
    {
      g_autoptr (GError) error = NULL;
      PlumbJobFile *changed = plumb_job_set (demo->file, *key_and_value, &error);
      g_assert_no_error (error);
      plumb_job_file_free (demo->file);
      demo->file = changed;
    }
  plumb_evaluation_free (demo->evaluation);
  demo->scene = plumb_job_scene (demo->file);
  g_assert_true (plumb_evaluate (demo->scene, plumb_scene_current_arrangement (demo->scene), &demo->evaluation));
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
  PlumbDrawShown shown = plumb_draw_shown_default ();
  g_assert_true (plumb_draw_sheet_export (scene, evaluation, kind, &shown, path, format, paper, &error));
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
  return g_utf8_validate (text, -1, NULL) && (strstr (text, " re W n") != NULL || strstr (text, " l S") != NULL);
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

GArray *
test_pdf_words (const char *path)
{
  const char *const command[] = { "pdftotext", "-bbox", path, "-", NULL };
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_assert_true (
      g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, NULL, &error));
  GArray *words = g_array_new (FALSE, TRUE, sizeof (TestWord));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  unsigned pages = 0;
  for (char **line = lines; *line != NULL; line++)
    {
      TestWord word = { 0 };
      pages += strstr (*line, "<page ") != NULL;
      const char *at = strstr (*line, "<word ");
      if (at == NULL)
        continue;
      g_assert_cmpuint (pages, >, 0);
      word.page = pages - 1;
      g_assert_cmpint (sscanf (at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%47[^<]", &word.x0,
                               &word.y0, &word.x1, &word.y1, word.text),
                       ==, 5);
      g_array_append_val (words, word);
    }
  return words;
}

/* Boxes of a font's full height overlap between lines that do not touch: each
 * is taken without 0.3 of its lesser side all round. */
static gboolean
touch (const TestWord *a, const TestWord *b)
{
  double s = 0.3 * fmin (a->x1 - a->x0, a->y1 - a->y0), t = 0.3 * fmin (b->x1 - b->x0, b->y1 - b->y0);
  return a->page == b->page && a->x0 + s < b->x1 - t && b->x0 + t < a->x1 - s && a->y0 + s < b->y1 - t
         && b->y0 + t < a->y1 - s;
}

void
test_words_apart (const GArray *words, double left_mm, double top_mm, double wide_mm, double high_mm)
{
  for (guint i = 0; i < words->len; i++)
    {
      const TestWord *word = &g_array_index (words, TestWord, i);
      g_assert_cmpfloat (word->x0, >=, left_mm * PLUMB_PT_PER_MM);
      g_assert_cmpfloat (word->y0, >=, top_mm * PLUMB_PT_PER_MM);
      g_assert_cmpfloat (word->x1, <=, (left_mm + wide_mm) * PLUMB_PT_PER_MM);
      g_assert_cmpfloat (word->y1, <=, (top_mm + high_mm) * PLUMB_PT_PER_MM);
      for (guint k = 0; k < i; k++)
        {
          const TestWord *other = &g_array_index (words, TestWord, k);
          if (touch (word, other))
            g_error ("page %u: “%s” lies on “%s”", word->page + 1, word->text, other->text);
        }
    }
}
