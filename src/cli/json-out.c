/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json-out-private.h"

#include <math.h>

#include "text/length.h"

void
plumb_json_out_init (PlumbJsonOut *out)
{
  *out = (PlumbJsonOut){ .text = g_string_new (NULL), .first = true };
}

char *
plumb_json_out_finish (PlumbJsonOut *out)
{
  g_string_append_c (out->text, '\n');
  char *text = g_string_free (out->text, FALSE);
  *out = (PlumbJsonOut){ 0 };
  return text;
}

static void
new_line (PlumbJsonOut *out)
{
  g_string_append_c (out->text, '\n');
  for (unsigned i = 0; i < out->depth; i++)
    g_string_append (out->text, "  ");
}

/* Control characters have no place in JSON as they are; records may hold any
 * other UTF-8. */
static void
quote (GString *text, const char *value)
{
  g_string_append_c (text, '"');
  for (const char *at = value; *at != '\0'; at++)
    {
      unsigned char byte = (unsigned char) *at;
      if (byte == '"' || byte == '\\')
        g_string_append_printf (text, "\\%c", byte);
      else if (byte < 0x20 || byte == 0x7f)
        g_string_append_printf (text, "\\u%04x", byte);
      else
        g_string_append_c (text, *at);
    }
  g_string_append_c (text, '"');
}

static void
begin (PlumbJsonOut *out, const char *key)
{
  if (out->depth > 0)
    {
      if (!out->first)
        g_string_append_c (out->text, ',');
      new_line (out);
    }
  out->first = false;
  if (key == NULL)
    return;
  quote (out->text, key);
  g_string_append (out->text, ": ");
}

void
plumb_json_out_open (PlumbJsonOut *out, const char *key, char bracket)
{
  begin (out, key);
  g_string_append_c (out->text, bracket);
  out->depth++;
  out->first = true;
}

void
plumb_json_out_close (PlumbJsonOut *out, char bracket)
{
  bool empty = out->first;
  out->depth--;
  out->first = false;
  if (!empty)
    new_line (out);
  g_string_append_c (out->text, bracket);
}

void
plumb_json_out_text (PlumbJsonOut *out, const char *key, const char *value)
{
  if (value == NULL)
    return;
  begin (out, key);
  quote (out->text, value);
}

void
plumb_json_out_number (PlumbJsonOut *out, const char *key, double value)
{
  if (!isfinite (value))
    return;
  begin (out, key);
  g_autofree char *digits = plumb_number_shortest (value);
  g_string_append (out->text, digits);
}

void
plumb_json_out_flag (PlumbJsonOut *out, const char *key, bool value)
{
  begin (out, key);
  g_string_append (out->text, value ? "true" : "false");
}

void
plumb_json_out_numbers (PlumbJsonOut *out, const char *key, const double *values, int count)
{
  for (int i = 0; i < count; i++)
    if (!isfinite (values[i]))
      return;
  begin (out, key);
  g_string_append_c (out->text, '[');
  for (int i = 0; i < count; i++)
    {
      g_autofree char *digits = plumb_number_shortest (values[i]);
      g_string_append_printf (out->text, "%s%s", i > 0 ? ", " : "", digits);
    }
  g_string_append_c (out->text, ']');
}
