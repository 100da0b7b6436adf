/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "cli-private.h"

/* Straight to the streams: g_print would turn UTF-8 into the locale's own
 * characters. */
void
plumb_cli_complain (const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  fprintf (stderr, "plumbeam: %s\n", text);
}

PlumbExit
plumb_cli_print (const char *text)
{
  gsize size = strlen (text);
  if (fwrite (text, 1, size, stdout) == size && fflush (stdout) == 0)
    return PLUMB_EXIT_DONE;

  plumb_cli_complain ("the output could not be written");
  return PLUMB_EXIT_TROUBLE;
}

void
plumb_cli_append_padded (GString *out, const char *text, glong width)
{
  g_string_append (out, text);
  for (glong i = g_utf8_strlen (text, -1); i < width; i++)
    g_string_append_c (out, ' ');
}

static void
append_blanks (GString *out, unsigned count)
{
  for (unsigned i = 0; i < count; i++)
    g_string_append_c (out, ' ');
}

/* A figure and its unit, or feet, inches and their fraction, stay together. */
static bool
is_glued (const char *before, const char *word)
{
  static const char *const units[] = { "m", "mm", "%", "deg", "kg", "px/mm", "px/deg", "lx", "lm", "cd/m\302\262", "fL", "dB", NULL };
  char last = before[strlen (before) - 1];
  if (g_ascii_isdigit (word[0]))
    return (last == '\'' && g_ascii_isdigit (before[0])) || (g_ascii_isdigit (last) && strchr (word, '/') != NULL);
  if (!g_ascii_isdigit (last))
    return false;
  g_autofree char *bare = g_strdup (word);
  bare[strcspn (bare, ",.;:)")] = '\0';
  return g_strv_contains (units, bare);
}

/* The pieces that a line may break between. */
static char **
split_words (const char *text)
{
  char **words = g_strsplit (text, " ", -1);
  guint n = 0;
  for (guint i = 0; words[i] != NULL; i++)
    {
      if (n == 0 || words[n - 1][0] == '\0' || !is_glued (words[n - 1], words[i]))
        {
          words[n++] = words[i];
          continue;
        }
      char *glued = g_strconcat (words[n - 1], " ", words[i], NULL);
      g_free (words[n - 1]);
      g_free (words[i]);
      words[n - 1] = glued;
    }
  words[n] = NULL;
  return words;
}

void
plumb_cli_append_wrapped (GString *out, const char *text, unsigned indent, glong width)
{
  g_auto (GStrv) words = split_words (text);
  glong column = 0;
  for (char **word = words; *word != NULL; word++)
    {
      glong length = g_utf8_strlen (*word, -1);
      if (column > 0 && column + 1 + length > width)
        {
          g_string_append_c (out, '\n');
          column = 0;
        }
      if (column == 0)
        append_blanks (out, indent);
      else
        g_string_append_c (out, ' ');
      column = (column == 0 ? (glong) indent : column + 1) + length;
      g_string_append (out, *word);
    }
  g_string_append_c (out, '\n');
}
