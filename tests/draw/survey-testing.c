/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "survey-testing.h"

#include <math.h>
#include <string.h>

/* ---- a survey, printed ---------------------------------------------------------------- */

static void
open_text (Demo *demo, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = test_path ("survey.plumbeam");
  g_assert_true (g_file_set_contents (path, text, -1, &error));
  demo->file = plumb_job_load (path, &error);
  g_assert_no_error (error);
  demo->scene = plumb_job_scene (demo->file);
  g_assert_true (plumb_evaluate (demo->scene, plumb_scene_current_arrangement (demo->scene), &demo->evaluation));
}

/* The demo is taken over. */
static void
print_survey (Printed *printed, const Demo *demo, PlumbPaper paper)
{
  g_autoptr (GError) error = NULL;
  printed->demo = *demo;
  printed->path = test_path ("survey.pdf");
  g_autoptr (PlumbSheetSet) set = plumb_sheet_set_new (demo->scene, demo->evaluation, PLUMB_PAPERS_SURVEY, paper);
  g_assert_true (plumb_sheet_set_export (set, printed->path, &error));
  g_assert_no_error (error);
  printed->words = test_pdf_words (printed->path);
}

void
print_text (Printed *printed, const char *text, PlumbPaper paper)
{
  Demo demo;
  open_text (&demo, text);
  print_survey (printed, &demo, paper);
}

void
print_demo (Printed *printed, const char *name, PlumbPaper paper)
{
  Demo demo;
  demo_open (&demo, name);
  print_survey (printed, &demo, paper);
}

void
printed_clear (Printed *printed)
{
  demo_close (&printed->demo);
  g_free (printed->path);
  g_array_unref (printed->words);
}

const TestWord *
word_at (const Printed *printed, guint i)
{
  return &g_array_index (printed->words, TestWord, i);
}

/* How often a run of words stands there, each behind the other. */
int
times (const Printed *printed, const char *words)
{
  g_auto (GStrv) parts = g_strsplit (words, " ", -1);
  guint n = g_strv_length (parts), found = 0;
  for (guint i = 0; i + n <= printed->words->len; i++)
    {
      guint k = 0;
      while (k < n && strcmp (word_at (printed, i + k)->text, parts[k]) == 0)
        k++;
      found += k == n;
    }
  return (int) found;
}

/* ---- lines ------------------------------------------------------------------------------- */

/* Letters of the table stand at the left of a column; those in rings do not. */
static gboolean
begins_column (const PlumbSurvey *survey, double x_mm)
{
  double width, height;
  plumb_survey_page_size (survey, &width, &height);
  /* 20 mm for the binder and 6 mm inside the frame, columns of 81 mm to the
   * frame less 6 mm. */
  double left = 26.0, right = width - 10.0 - 6.0;
  int n = (int) ((right - left + 6.0 + 0.01) / 87.0);
  for (int i = 0; i < n; i++)
    if (fabs (x_mm - (left + (right - left - 81.0) / (n - 1) * i)) < 0.02)
      return TRUE;
  return FALSE;
}

gboolean
read_letter (const char *text, Line *line)
{
  gsize n = strspn (text, "ABCDEFGHJKLMNPQRSTUVWXYZ");
  if (n == 0 || n > 3 || strspn (text + n, "0123456789") != strlen (text + n))
    return FALSE;
  g_strlcpy (line->letter, text, n + 1);
  line->number = text[n] != '\0' ? (unsigned) g_ascii_strtoull (text + n, NULL, 10) : 0;
  return TRUE;
}

static int
by_place (const void *a, const void *b)
{
  const Line *p = a, *q = b;
  if (p->page != q->page)
    return p->page < q->page ? -1 : 1;
  if (fabs (p->x_mm - q->x_mm) > 20.0)
    return p->x_mm < q->x_mm ? -1 : 1;
  return p->y_mm < q->y_mm ? -1 : p->y_mm > q->y_mm;
}

/* All lines in the order in which they are read: page, column, down. */
GArray *
lines_of (const Printed *printed, PlumbPaper paper)
{
  PlumbSurvey *survey = plumb_survey_new (printed->demo.scene, printed->demo.evaluation, paper);
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (Line));
  for (guint i = 0; i < printed->words->len; i++)
    {
      const TestWord *word = word_at (printed, i);
      Line line = { .page = word->page, .x_mm = word->x0 / PLUMB_PT_PER_MM, .y_mm = word->y1 / PLUMB_PT_PER_MM };
      if (read_letter (word->text, &line) && begins_column (survey, line.x_mm))
        g_array_append_val (lines, line);
    }
  plumb_survey_free (survey);
  g_array_sort (lines, by_place);
  return lines;
}

/* Letters follow each other, each line's number follows the one before, and
 * none is there twice. */
void
check_order (const GArray *lines)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  const Line *heading = NULL;
  unsigned number = 0;
  for (guint i = 0; i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      g_assert_true (g_hash_table_add (seen, g_strdup_printf ("%s%u", line->letter, line->number)));
      if (line->number == 0)
        {
          gsize longer = heading != NULL ? strlen (line->letter) - strlen (heading->letter) : 0;
          g_assert_true (heading == NULL || longer == 1 || strcmp (line->letter, heading->letter) > 0);
          heading = line;
          number = 0;
          continue;
        }
      g_assert_nonnull (heading);
      g_assert_cmpstr (line->letter, ==, heading->letter);
      g_assert_cmpuint (line->number, ==, ++number);
    }
  g_assert_nonnull (heading);
  g_assert_cmpstr (g_array_index (lines, Line, 0).letter, ==, "A");
}

unsigned
lines_under (const GArray *lines, const char *letter)
{
  unsigned n = 0;
  for (guint i = 0; i < lines->len; i++)
    n += g_array_index (lines, Line, i).number > 0 && strcmp (g_array_index (lines, Line, i).letter, letter) == 0;
  return n;
}
