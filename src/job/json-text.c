/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strings of JSON, and pieces of it for messages. */
#include <string.h>

#include "scan-private.h"

/* Bytes of the file that a message shows. */
#define MOST_SHOWN 60

int
plumb_json_hex4 (const char *at)
{
  int unit = 0;

  for (int i = 0; i < 4; i++)
    {
      int digit = g_ascii_xdigit_value (at[i]);
      if (digit < 0)
        return -1;
      unit = unit * 16 + digit;
    }
  return unit;
}

void
plumb_json_unescape (const char *quoted, uint32_t length, GString *out)
{
  const char *end = quoted + length - 1;

  g_string_truncate (out, 0);
  for (const char *at = quoted + 1; at < end;)
    {
      static const char plain[] = "\"\\/bfnrt", meant[] = "\"\\/\b\f\n\r\t";
      const char *slash = memchr (at, '\\', (size_t) (end - at));
      g_string_append_len (out, at, (slash != NULL ? slash : end) - at);
      if (slash == NULL)
        break;
      at = slash + 2;
      if (slash[1] != 'u')
        {
          g_string_append_c (out, meant[strchr (plain, slash[1]) - plain]);
          continue;
        }
      int unit = plumb_json_hex4 (at);
      at += 4;
      if (plumb_json_is_high_surrogate (unit))
        {
          unit = 0x10000 + (unit - 0xD800) * 0x400 + plumb_json_hex4 (at + 2) - 0xDC00;
          at += 6;
        }
      g_string_append_unichar (out, (gunichar) unit);
    }
}

void
plumb_json_append (GString *out, const char *text)
{
  g_string_append_c (out, '"');
  for (const char *at = text; *at != '\0'; at++)
    {
      static const char meant[] = "\"\\\b\f\n\r\t", escape[] = "\"\\bfnrt";
      const char *special = strchr (meant, *at);
      if (special != NULL)
        g_string_append_printf (out, "\\%c", escape[special - meant]);
      else if ((unsigned char) *at < 0x20)
        g_string_append_printf (out, "\\u%04x", (unsigned) *at);
      else
        g_string_append_c (out, *at);
    }
  g_string_append_c (out, '"');
}

char *
plumb_json_quote (const char *text, size_t length)
{
  if (length <= MOST_SHOWN)
    return g_strndup (text, length);
  const char *end = g_utf8_find_prev_char (text, text + MOST_SHOWN + 1);
  return g_strdup_printf ("%.*s...", (int) (end - text), text);
}
