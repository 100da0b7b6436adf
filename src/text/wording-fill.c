/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wording-private.h"

#include <math.h>
#include <string.h>

static PlumbRecordKind
kind_by_name (const char *name, gsize length)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const char *known = plumb_record_info ((PlumbRecordKind) kind)->name;
      if (strlen (known) == length && strncmp (known, name, length) == 0)
        return (PlumbRecordKind) kind;
    }
  return PLUMB_RECORD_NONE;
}

/* An index that went through a double; PLUMB_NO_INDEX when it was none. */
static uint32_t
as_index (double number)
{
  return number >= 0.0 && number < (double) PLUMB_NO_INDEX ? (uint32_t) number : PLUMB_NO_INDEX;
}

static bool
word_is (const char *word, gsize length, const char *name)
{
  return strlen (name) == length && strncmp (word, name, length) == 0;
}

/* "n3:wall" and the like. */
static char *
numbered (const char *word, gsize length, const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words)
{
  double number = finding->number[CLAMP (word[1] - '0', 0, 5)];
  const char *unit = word + 3;
  gsize unit_length = length - 3;
  PlumbRecordKind kind = kind_by_name (unit, unit_length);
  if (kind != PLUMB_RECORD_NONE)
    return plumb_record_name (scene, kind, as_index (number));
  if (word_is (unit, unit_length, "who"))
    return plumb_who_name (scene, plumb_who_of_number (number));
  if (word_is (unit, unit_length, "sideways"))
    return plumb_figure_format_directed (number, "share", "right", "left", words.units, words.show);
  if (word_is (unit, unit_length, "upwards"))
    return plumb_figure_format_directed (number, "share", "up", "down", words.units, words.show);
  g_autofree char *name = g_strndup (unit, unit_length);
  return plumb_figure_format (number, name, words.units, words.show);
}

/* The limit that the figure is nearer to, or beyond. */
static double
near_limit (const PlumbFinding *finding)
{
  if (finding->sense == PLUMB_LIMIT_AT_LEAST)
    return finding->limit_least;
  if (finding->sense == PLUMB_LIMIT_AT_MOST)
    return finding->limit_most;
  return finding->figure - finding->limit_least < finding->limit_most - finding->figure ? finding->limit_least
                                                                                        : finding->limit_most;
}

static char *
replaced (const char *word, gsize length, const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words)
{
  const char *unit = finding->unit;
  if (length > 3 && word[0] == 'n' && word[2] == ':')
    return numbered (word, length, scene, finding, words);
  if (word_is (word, length, "subject"))
    return plumb_finding_subject_name (scene, finding);
  if (word_is (word, length, "figure"))
    return plumb_figure_format (finding->figure, unit, words.units, words.show);
  if (word_is (word, length, "spread"))
    return plumb_figure_format_spread (finding->spread, unit, words.units, words.show);
  if (word_is (word, length, "least"))
    return plumb_figure_format (finding->limit_least, unit, words.units, words.show);
  if (word_is (word, length, "most"))
    return plumb_figure_format (finding->limit_most, unit, words.units, words.show);
  if (word_is (word, length, "range"))
    {
      char *range = plumb_finding_limit (finding, words);
      return range != NULL ? range : g_strdup ("range");
    }
  if (word_is (word, length, "limit"))
    return plumb_figure_format (near_limit (finding), unit, words.units, words.show);
  if (word_is (word, length, "beyond"))
    return plumb_figure_format (fabs (finding->figure - near_limit (finding)), unit, words.units, words.show);
  g_error ("a statement has the unknown word {%.*s}", (int) length, word);
}

/* Without the bracketed words that do not apply, and without brackets. */
static char *
choose (const char *statement, const PlumbFinding *finding)
{
  GString *out = g_string_new (NULL);
  for (const char *open = strchr (statement, '['); open != NULL; open = strchr (statement, '['))
    {
      const char *close = strchr (open, ']');
      if (close == NULL || open[1] != 'n' || open[3] != '?')
        g_error ("a statement has a bad bracket: %s", statement);
      g_string_append_len (out, statement, open - statement);
      if (finding->number[CLAMP (open[2] - '0', 0, 5)] > 0.0)
        g_string_append_len (out, open + 4, close - open - 4);
      statement = close + 1;
    }
  g_string_append (out, statement);
  return g_string_free (out, FALSE);
}

char *
plumb_wording_fill (const char *statement, const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words)
{
  GString *out = g_string_new (NULL);
  g_autofree char *chosen = choose (statement, finding);
  const char *at = chosen;
  for (const char *open = strchr (at, '{'); open != NULL; open = strchr (at, '{'))
    {
      const char *close = strchr (open, '}');
      if (close == NULL)
        g_error ("a statement does not close its brace: %s", statement);
      g_string_append_len (out, at, open - at);
      g_autofree char *text = replaced (open + 1, (gsize) (close - open - 1), scene, finding, words);
      g_string_append (out, text);
      at = close + 1;
    }
  g_string_append (out, at);
  return g_string_free (out, FALSE);
}
