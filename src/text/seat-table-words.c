/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of the table of seats as words, as CSV and with tabs. */
#include <math.h>
#include <string.h>

#include "seat-table-private.h"

#define MM_PER_M 1000.0

/* ---- a cell as people read it ------------------------------------------------------ */

typedef struct {
  double scale; /* shown = SI × scale */
  int decimals;
  const char *unit;
} Style;

static Style
style_of (PlumbSeatColumnKind kind, int units)
{
  static const Style styles[PLUMB_N_SEAT_KINDS] = {
    [PLUMB_SEAT_KIND_WORD] = { 1.0, 0, "" },
    [PLUMB_SEAT_KIND_ANGLE] = { 180.0 / PLUMB_PI, 1, "°" },
    [PLUMB_SEAT_KIND_RATIO] = { 1.0, 2, N_ ("heights") },
    [PLUMB_SEAT_KIND_PIXELS] = { 1.0, 1, N_ ("per °") },
    [PLUMB_SEAT_KIND_LENGTH] = { MM_PER_M, 0, "mm" },
    [PLUMB_SEAT_KIND_SHARE] = { 100.0, 1, "%" },
    [PLUMB_SEAT_KIND_LUMINANCE] = { 1.0, 1, "cd/m²" },
    [PLUMB_SEAT_KIND_FOOT_LAMBERTS] = { 1.0, 1, "fL" },
    [PLUMB_SEAT_KIND_CONTRAST] = { 1.0, 1, ": 1" },
    [PLUMB_SEAT_KIND_NOISE] = { 1.0, 1, "dB" },
  };

  if (kind == PLUMB_SEAT_KIND_LENGTH && units == PLUMB_UNITS_IMPERIAL)
    return (Style){ 1.0 / PLUMB_M_PER_IN, 2, "in" };
  return styles[kind];
}

const char *
plumb_seat_column_unit (PlumbSeatColumn column, PlumbWords words)
{
  return style_of (plumb_seat_column_info (column)->kind, words.units).unit;
}

static PlumbSubject
subject_of (const PlumbSeatTable *table, uint32_t seat)
{
  const PlumbSeatResolved *resolved = &plumb_scene_resolved (table->scene)->seats[seat];
  bool single = resolved->row == PLUMB_NO_INDEX;

  return (PlumbSubject){ single ? PLUMB_RECORD_SEAT : PLUMB_RECORD_ROW, single ? resolved->seat : resolved->row, seat };
}

PlumbSubject
plumb_seat_table_subject (const PlumbSeatTable *table, uint32_t row)
{
  if (row >= table->n)
    return (PlumbSubject){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  return subject_of (table, table->seat_at[row]);
}

/* Labels, or ids with a blank between them. */
static char *
checks_words (const PlumbSeatTable *table, uint32_t seat, bool ids)
{
  GString *out = g_string_new (NULL);

  for (int check = 0; check < PLUMB_N_CHECKS; check++)
    if ((table->worst[seat] >> check & 1u) != 0)
      {
        const PlumbCheckInfo *info = plumb_check_info ((PlumbCheck) check);
        g_string_append_printf (out, "%s%s", out->len == 0 ? "" : ids ? " " : "; ", ids ? info->id : info->label);
      }
  return g_string_free (out, FALSE);
}

/* Each reason once. */
static char *
note_words (const PlumbSeatTable *table, uint32_t seat)
{
  GString *out = g_string_new (NULL);

  for (int column = 0; column < PLUMB_N_SEAT_COLUMNS; column++)
    {
      const char *reason = plumb_seat_reason (table, seat, (PlumbSeatColumn) column);
      if (reason != NULL && strstr (out->str, reason) == NULL)
        g_string_append_printf (out, "%s%s", out->len == 0 ? "" : " ", reason);
    }
  return g_string_free (out, FALSE);
}

static char *
hidden_by_words (const PlumbSeatTable *table, uint32_t seat)
{
  PlumbWho who = table->figures[seat].hidden_by;

  if (plumb_seat_reason (table, seat, PLUMB_SEAT_HIDDEN_BY) != NULL || who.kind == PLUMB_WHO_NOBODY)
    return g_strdup ("");
  return plumb_who_name (table->scene, who);
}

static char *
words_of (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  PlumbSubject subject = subject_of (table, seat);

  switch (column)
    {
    case PLUMB_SEAT_SEAT:
      return plumb_subject_name (table->scene, &subject);
    case PLUMB_SEAT_VERDICT:
      return g_strdup (plumb_verdict_word (table->verdicts[seat]));
    case PLUMB_SEAT_CHECKS:
      return checks_words (table, seat, false);
    case PLUMB_SEAT_HIDDEN_BY:
      return hidden_by_words (table, seat);
    case PLUMB_SEAT_LIGHT_STATE:
      return table->state == PLUMB_NO_INDEX ? g_strdup ("")
                                            : plumb_record_name (table->scene, PLUMB_RECORD_LIGHT_STATE, table->state);
    default:
      return note_words (table, seat);
    }
}

char *
plumb_seat_text (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column, PlumbWords words)
{
  const PlumbSeatColumnKind kind = plumb_seat_column_info (column)->kind;
  const Style style = style_of (kind, words.units);
  double value;

  if (kind == PLUMB_SEAT_KIND_WORD)
    return words_of (table, seat, column);
  if (!plumb_seat_number (table, seat, column, &value))
    return g_strdup ("");
  return plumb_number_format (value * style.scale, style.decimals, words.show);
}

/* ---- CSV -------------------------------------------------------------------------- */

static void
append_quoted (GString *out, const char *text)
{
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (out, text);
      return;
    }
  g_string_append_c (out, '"');
  for (; *text != '\0'; text++)
    {
      if (*text == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *text);
    }
  g_string_append_c (out, '"');
}

/* Words of a file: ids and keys, as JSON has them. */
static char *
file_words_of (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  char *key = NULL;

  switch (column)
    {
    case PLUMB_SEAT_SEAT:
      return g_strdup (plumb_scene_resolved (table->scene)->seats[seat].id);
    case PLUMB_SEAT_CHECKS:
      return checks_words (table, seat, true);
    case PLUMB_SEAT_HIDDEN_BY:
      if (plumb_seat_reason (table, seat, column) == NULL)
        key = plumb_who_key (table->scene, table->figures[seat].hidden_by);
      return key != NULL ? key : g_strdup ("");
    case PLUMB_SEAT_LIGHT_STATE:
      return g_strdup (table->state == PLUMB_NO_INDEX ? "" : plumb_scene_light_state (table->scene, table->state)->id);
    default:
      return words_of (table, seat, column);
    }
}

static void
append_cell (GString *out, const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  double value;
  char *text;

  if (plumb_seat_column_info (column)->kind == PLUMB_SEAT_KIND_WORD)
    text = file_words_of (table, seat, column);
  else
    text = plumb_seat_number (table, seat, column, &value) ? plumb_number_shortest (value) : g_strdup ("");
  append_quoted (out, text);
  g_free (text);
}

char *
plumb_seat_table_csv (const PlumbSeatTable *table)
{
  GString *out = g_string_new (NULL);

  for (int c = 0; c < PLUMB_N_SEAT_COLUMNS; c++)
    g_string_append_printf (out, "%s%s", c > 0 ? "," : "", plumb_seat_column_info ((PlumbSeatColumn) c)->id);
  g_string_append (out, "\r\n");
  for (uint32_t row = 0; row < table->n; row++)
    {
      for (int c = 0; c < PLUMB_N_SEAT_COLUMNS; c++)
        {
          if (c > 0)
            g_string_append_c (out, ',');
          append_cell (out, table, table->seat_at[row], (PlumbSeatColumn) c);
        }
      g_string_append (out, "\r\n");
    }
  return g_string_free (out, FALSE);
}

/* ---- with tabs ---------------------------------------------------------------------- */

/* What would begin another cell or row becomes a blank. */
static void
append_plain (GString *out, const char *text, char end)
{
  gsize at = out->len;

  g_string_append (out, text);
  g_strdelimit (out->str + at, "\t\r\n", ' ');
  g_string_append_c (out, end);
}

static char
end_of (int column)
{
  return column + 1 < PLUMB_N_SEAT_COLUMNS ? '\t' : '\n';
}

char *
plumb_seat_table_tabbed (const PlumbSeatTable *table, PlumbWords words)
{
  GString *out = g_string_new (NULL);

  for (int c = 0; c < PLUMB_N_SEAT_COLUMNS; c++)
    {
      const char *heading = plumb_seat_column_info ((PlumbSeatColumn) c)->heading;
      const char *unit = plumb_seat_column_unit ((PlumbSeatColumn) c, words);
      g_autofree char *whole = unit[0] != '\0' ? g_strdup_printf ("%s (%s)", heading, unit) : g_strdup (heading);
      append_plain (out, whole, end_of (c));
    }
  for (uint32_t row = 0; row < table->n; row++)
    for (int c = 0; c < PLUMB_N_SEAT_COLUMNS; c++)
      {
        g_autofree char *text = plumb_seat_text (table, table->seat_at[row], (PlumbSeatColumn) c, words);
        append_plain (out, text, end_of (c));
      }
  return g_string_free (out, FALSE);
}
