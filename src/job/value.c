/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "value-private.h"

#include <math.h>
#include <string.h>

#include "job/job.h"
#include "number-private.h"
#include "scan-private.h"

static char *
beyond (const char *shown, size_t n_shown, const char *side, double limit)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *value = plumb_json_quote (shown, n_shown);

  plumb_decimal_shortest (limit, 1.0, text);
  return g_strdup_printf ("%s is %s %s", value, side, text);
}

char *
plumb_value_number (const PlumbField *field, void *record, double value, const char *shown, size_t n_shown)
{
  if (value < field->least)
    return beyond (shown, n_shown, "below", field->least);
  if (value > field->greatest)
    return beyond (shown, n_shown, "above", field->greatest);
  if (field->type == PLUMB_TYPE_COUNT && value != floor (value))
    {
      g_autofree char *text = plumb_json_quote (shown, n_shown);
      return g_strdup_printf ("%s is not a whole number", text);
    }
  plumb_field_set_number (field, record, value);
  return NULL;
}

char *
plumb_value_choice (const PlumbField *field, void *record, const char *word, size_t length, const char *shown,
                    size_t n_shown)
{
  for (int32_t i = 0; i < field->n_choices; i++)
    if (strlen (field->choices[i].word) == length && memcmp (field->choices[i].word, word, length) == 0)
      {
        plumb_field_set_number (field, record, i);
        return NULL;
      }
  g_autofree char *value = plumb_json_quote (shown, n_shown);
  GString *why = g_string_new (NULL);
  g_string_append_printf (why, "%s is not one of", value);
  for (int32_t i = 0; i < field->n_choices; i++)
    g_string_append_printf (why, "%s \"%s\"", i > 0 ? "," : "", field->choices[i].word);
  return g_string_free (why, FALSE);
}

char *
plumb_value_text (const PlumbField *field, void *record, const char *text, size_t length)
{
  char *at = (char *) record + field->offset;

  if (length >= field->size)
    return g_strdup_printf ("the text has %" G_GSIZE_FORMAT " bytes, more than %" G_GSIZE_FORMAT, length,
                            field->size - 1);
  memset (at, 0, field->size);
  memcpy (at, text, length);
  return NULL;
}

bool
plumb_value_has_id (const PlumbRecordInfo *info)
{
  return strcmp (info->fields[0].key, "id") == 0;
}

char *
plumb_job_id_trouble (const char *id)
{
  if (id[0] == '\0')
    return g_strdup ("missing");
  for (const char *at = id; *at != '\0'; at = g_utf8_next_char (at))
    if (!g_ascii_isalnum (*at) && strchr ("_-.", *at) == NULL)
      {
        GString *why = g_string_new (NULL);
        plumb_json_append (why, id);
        g_string_append (why, " must be made of letters A to Z, digits, _, - and . only");
        return g_string_free (why, FALSE);
      }
  return NULL;
}
