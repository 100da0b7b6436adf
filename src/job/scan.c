/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scan-private.h"

#include <math.h>
#include <string.h>

#include "number-private.h"
#include "plumbeam/assert.h"

/* No double below the greatest is spelled with more digits before the point. */
#define MOST_DIGITS_OF_FINITE 308

typedef struct {
  PlumbJson *json;
  uint32_t capacity;
  const char *at;
  GError **error;
} Scan;

static bool scan_value (Scan *scan, unsigned depth, const PlumbJsonValue *key);

/* ---- errors, with their place ------------------------------------------------------ */

G_GNUC_PRINTF (3, 4) static bool fail (Scan *scan, const char *at, const char *format, ...)
{
  unsigned line = 1;
  const char *start = scan->json->text;
  va_list args;

  for (const char *p = start; p < at; p++)
    if (*p == '\n')
      {
        line++;
        start = p + 1;
      }
  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (scan->error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SYNTAX, "%u:%ld: %s", line,
               g_utf8_pointer_to_offset (start, at) + 1, what);
  return false;
}

static bool
is_word_char (char c)
{
  return g_ascii_isalnum (c) || c == '_' || c == '.' || c == '+' || c == '-';
}

static size_t
word_length (const char *at)
{
  size_t length = 0;

  while (is_word_char (at[length]))
    length++;
  return length;
}

/* What stands here, for a message. */
static char *
describe (const char *at)
{
  size_t length = word_length (at);

  if (*at == '\0')
    return g_strdup ("the end of the file");
  if (length > 0)
    return plumb_json_quote (at, length);
  if (g_ascii_iscntrl (*at))
    return g_strdup_printf ("the control character U+%04X", (unsigned) (unsigned char) *at);
  return g_strndup (at, (size_t) (g_utf8_next_char (at) - at));
}

static bool
fail_expected (Scan *scan, const char *expected)
{
  g_autofree char *found = describe (scan->at);
  return fail (scan, scan->at, "expected %s, found %s", expected, found);
}

/* ---- the list ------------------------------------------------------------------------- */

static uint32_t
place_of (const Scan *scan, const char *at)
{
  return (uint32_t) (at - scan->json->text);
}

static PlumbJsonValue *
add_value (Scan *scan, const PlumbJsonValue *key, PlumbJsonType type)
{
  PlumbJson *json = scan->json;

  if (json->n_values == PLUMB_JOB_MAX_VALUES)
    {
      fail (scan, scan->at, "more than %d values", PLUMB_JOB_MAX_VALUES);
      return NULL;
    }
  if (json->n_values == scan->capacity)
    {
      scan->capacity *= 2;
      json->values = g_renew (PlumbJsonValue, json->values, scan->capacity);
    }
  PlumbJsonValue *value = &json->values[json->n_values++];
  *value = *key;
  value->at = place_of (scan, scan->at);
  value->type = (uint8_t) type;
  return value;
}

/* The value ends where the scan is now. */
static void
close_value (Scan *scan, uint32_t i)
{
  PlumbJsonValue *value = &scan->json->values[i];

  value->length = place_of (scan, scan->at) - value->at;
  value->next = scan->json->n_values;
}

static void
skip_blanks (Scan *scan)
{
  while (*scan->at == ' ' || *scan->at == '\n' || *scan->at == '\r' || *scan->at == '\t')
    scan->at++;
}

/* ---- strings ---------------------------------------------------------------------------- */

/* The scan is at the u. */
static bool
scan_unicode_escape (Scan *scan)
{
  const char *at = scan->at - 1;
  int unit = plumb_json_hex4 (at + 2);

  if (unit < 0)
    return fail (scan, at, "four hexadecimal digits must follow \\u");
  if (unit == 0)
    return fail (scan, at, "\\u0000 is not allowed");
  scan->at += 5;
  bool another = scan->at[0] == '\\' && scan->at[1] == 'u';
  if (plumb_json_is_high_surrogate (unit) && another && plumb_json_is_low_surrogate (plumb_json_hex4 (scan->at + 2)))
    {
      scan->at += 6;
      return true;
    }
  if (plumb_json_is_high_surrogate (unit) || plumb_json_is_low_surrogate (unit))
    return fail (scan, at, "%.6s is one half of a pair", at);
  return true;
}

static bool
scan_escape (Scan *scan)
{
  char c = *++scan->at;

  if (c == 'u')
    return scan_unicode_escape (scan);
  if (c == '\0' || strchr ("\"\\/bfnrt", c) == NULL)
    {
      g_autofree char *found = describe (scan->at);
      return fail (scan, scan->at - 1, "a backslash cannot be followed by %s", found);
    }
  scan->at++;
  return true;
}

/* The scan is at the opening quote. */
static bool
scan_string (Scan *scan, bool *escaped)
{
  const char *opening = scan->at++;

  *escaped = false;
  for (;;)
    {
      while ((unsigned char) *scan->at >= 0x20 && *scan->at != '"' && *scan->at != '\\')
        scan->at++;
      if (*scan->at == '"')
        break;
      if (*scan->at == '\0')
        return fail (scan, opening, "this text is not closed");
      if (*scan->at != '\\')
        return fail (scan, scan->at, "a control character in a text; it is written \\u%04x", (unsigned) *scan->at);
      *escaped = true;
      if (!scan_escape (scan))
        return false;
    }
  scan->at++;
  return true;
}

static bool
check_keys (Scan *scan, uint32_t object)
{
  uint32_t twin = plumb_json_find_twin (scan->json, object);

  if (twin == 0)
    return true;
  const PlumbJsonValue *value = &scan->json->values[twin];
  const char *key = scan->json->text + value->key_at;
  g_autofree char *shown = plumb_json_quote (key, value->key_length);
  return fail (scan, key, "the key %s is there twice", shown);
}

/* ---- values ------------------------------------------------------------------------------------ */

static const char *
skip_digits (const char *at)
{
  while (g_ascii_isdigit (*at))
    at++;
  return at;
}

/* The end of the number of RFC 8259 section 6 that begins here; NULL: none. */
static const char *
number_end (const char *at)
{
  if (*at == '-')
    at++;
  if (!g_ascii_isdigit (*at))
    return NULL;
  at = *at == '0' ? at + 1 : skip_digits (at);
  if (*at == '.')
    {
      if (!g_ascii_isdigit (*++at))
        return NULL;
      at = skip_digits (at);
    }
  if (*at == 'e' || *at == 'E')
    {
      at++;
      if (*at == '+' || *at == '-')
        at++;
      if (!g_ascii_isdigit (*at))
        return NULL;
      at = skip_digits (at);
    }
  return at;
}

static bool
scan_number (Scan *scan)
{
  const char *end = number_end (scan->at);

  /* 012, 0x1F and 1. begin well but go on as one word. */
  if (end == NULL || is_word_char (*end))
    {
      g_autofree char *found = describe (scan->at);
      return fail (scan, scan->at, "%s is not a number", found);
    }
  size_t length = (size_t) (end - scan->at);
  bool may_be_infinite
      = length > MOST_DIGITS_OF_FINITE || memchr (scan->at, 'e', length) || memchr (scan->at, 'E', length);
  if (may_be_infinite && !isfinite (plumb_decimal_read (scan->at, length)))
    {
      g_autofree char *found = describe (scan->at);
      return fail (scan, scan->at, "the number %s is too large", found);
    }
  scan->at = end;
  return true;
}

static bool
scan_word (Scan *scan, const char *word)
{
  size_t length = strlen (word);

  if (word_length (scan->at) != length || memcmp (scan->at, word, length) != 0)
    return fail_expected (scan, "a value");
  scan->at += length;
  return true;
}

static bool
scan_key (Scan *scan, PlumbJsonValue *key)
{
  const char *at = scan->at;

  if (*at != '"')
    return fail_expected (scan, "a key in double quotes");
  if (!scan_string (scan, &key->key_escaped))
    return false;
  key->key_at = place_of (scan, at);
  key->key_length = place_of (scan, scan->at) - key->key_at;
  skip_blanks (scan);
  if (*scan->at != ':')
    return fail_expected (scan, "a colon after the key");
  scan->at++;
  skip_blanks (scan);
  return true;
}

/* Members or elements up to the closing bracket, which differ only in the key. */
static bool
scan_members (Scan *scan, unsigned depth, uint32_t parent)
{
  bool object = scan->json->values[parent].type == PLUMB_JSON_OBJECT;
  char closing = object ? '}' : ']';

  scan->at++;
  skip_blanks (scan);
  if (*scan->at == closing)
    {
      scan->at++;
      return true;
    }
  for (;;)
    {
      PlumbJsonValue key = { 0 };
      if (object && !scan_key (scan, &key))
        return false;
      if (!scan_value (scan, depth + 1, &key))
        return false;
      scan->json->values[parent].count++;
      skip_blanks (scan);
      if (*scan->at == closing)
        break;
      if (*scan->at != ',')
        return fail_expected (scan, object ? "a comma or }" : "a comma or ]");
      scan->at++;
      skip_blanks (scan);
    }
  scan->at++;
  return !object || check_keys (scan, parent);
}

static bool
scan_container (Scan *scan, unsigned depth, uint32_t i)
{
  if (depth > PLUMB_JOB_MAX_DEPTH)
    return fail (scan, scan->at, "nested deeper than %d", PLUMB_JOB_MAX_DEPTH);
  return scan_members (scan, depth, i);
}

static PlumbJsonType
type_of (char c)
{
  switch (c)
    {
    case '{':
      return PLUMB_JSON_OBJECT;
    case '[':
      return PLUMB_JSON_ARRAY;
    case '"':
      return PLUMB_JSON_STRING;
    case '-':
      return PLUMB_JSON_NUMBER;
    case 't':
      return PLUMB_JSON_TRUE;
    case 'f':
      return PLUMB_JSON_FALSE;
    default:
      return g_ascii_isdigit (c) ? PLUMB_JSON_NUMBER : PLUMB_JSON_NULL;
    }
}

static bool
scan_value (Scan *scan, unsigned depth, const PlumbJsonValue *key)
{
  PlumbJsonType type = type_of (*scan->at);
  PlumbJsonValue *value = add_value (scan, key, type);
  bool good = false;

  if (value == NULL)
    return false;
  uint32_t i = (uint32_t) (value - scan->json->values);
  switch (type)
    {
    case PLUMB_JSON_OBJECT:
    case PLUMB_JSON_ARRAY:
      good = scan_container (scan, depth, i);
      break;
    case PLUMB_JSON_STRING:
      good = scan_string (scan, &value->escaped);
      break;
    case PLUMB_JSON_NUMBER:
      good = scan_number (scan);
      break;
    case PLUMB_JSON_TRUE:
      good = scan_word (scan, "true");
      break;
    case PLUMB_JSON_FALSE:
      good = scan_word (scan, "false");
      break;
    case PLUMB_JSON_NULL:
      good = scan_word (scan, "null");
      break;
    }
  if (good)
    close_value (scan, i);
  return good;
}

/* ---- the text as a whole ------------------------------------------------------------------------- */

static bool
check_encoding (Scan *scan, gsize size)
{
  const char *text = scan->json->text, *bad;

  if (size >= 3 && memcmp (text, "\357\273\277", 3) == 0)
    return fail (scan, text, "a byte order mark; a job file begins with {");
  if (g_utf8_validate_len (text, size, &bad))
    return true;
  if (*bad == '\0')
    return fail (scan, bad, "a byte 0");
  return fail (scan, bad, "this is not UTF-8");
}

static bool
scan_text (Scan *scan)
{
  PlumbJsonValue no_key = { 0 };

  skip_blanks (scan);
  if (*scan->at == '\0')
    {
      g_set_error (scan->error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SYNTAX, "the file is empty");
      return false;
    }
  if (!scan_value (scan, 1, &no_key))
    return false;
  skip_blanks (scan);
  if (*scan->at == '\0')
    return true;
  g_autofree char *found = describe (scan->at);
  return fail (scan, scan->at, "more text after the end of the job: %s", found);
}

PlumbJson *
plumb_json_scan (char *text, gsize size, GError **error)
{
  g_autoptr (PlumbJson) json = g_new0 (PlumbJson, 1);
  Scan scan = { json, 256, text, error };

  PLUMB_ASSERT (size <= PLUMB_JOB_MAX_BYTES);
  json->text = text;
  json->size = (uint32_t) size;
  json->values = g_new (PlumbJsonValue, scan.capacity);
  if (!check_encoding (&scan, size) || !scan_text (&scan))
    return NULL;
  json->values = g_renew (PlumbJsonValue, json->values, json->n_values);
  return g_steal_pointer (&json);
}

void
plumb_json_free (PlumbJson *json)
{
  if (json == NULL)
    return;
  g_free (json->text);
  g_free (json->values);
  g_free (json);
}
