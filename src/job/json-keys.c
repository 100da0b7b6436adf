/* SPDX-License-Identifier: GPL-3.0-or-later */
/* No key twice in one object (RFC 8259 section 4 leaves it open; it is always a slip). */
#include <string.h>

#include "scan-private.h"

/* From here on keys are compared by sorting, not each with each. */
#define MANY_KEYS 16

typedef struct {
  const PlumbJson *json;
  GString *a, *b; /* two keys without their escapes */
} Keys;

static void
key_text (const Keys *keys, uint32_t i, GString *scratch, const char **text, size_t *length)
{
  const PlumbJsonValue *value = &keys->json->values[i];
  const char *quoted = keys->json->text + value->key_at;

  *text = quoted + 1;
  *length = value->key_length - 2;
  if (value->key_escaped)
    {
      plumb_json_unescape (quoted, value->key_length, scratch);
      *text = scratch->str;
      *length = scratch->len;
    }
}

static int
compare_keys (const Keys *keys, uint32_t i, uint32_t k)
{
  const char *a, *b;
  size_t a_length, b_length;

  key_text (keys, i, keys->a, &a, &a_length);
  key_text (keys, k, keys->b, &b, &b_length);
  if (a_length != b_length)
    return a_length < b_length ? -1 : 1;
  return memcmp (a, b, a_length);
}

/* Equal keys in the order of the text. */
static int
sort_keys_cb (const void *i, const void *k, void *keys)
{
  uint32_t a, b;

  memcpy (&a, i, sizeof a);
  memcpy (&b, k, sizeof b);
  int order = compare_keys (keys, a, b);
  return order != 0 ? order : a < b ? -1 : a > b;
}

/* The first value whose key was there before, else 0. */
static uint32_t
find_twin_sorted (const Keys *keys, uint32_t object)
{
  const PlumbJsonValue *values = keys->json->values;
  uint32_t count = values[object].count, twin = 0;
  g_autofree uint32_t *order = g_new (uint32_t, count);

  for (uint32_t n = 0, i = object + 1; n < count; n++, i = values[i].next)
    order[n] = i;
  g_qsort_with_data (order, (int) count, sizeof *order, sort_keys_cb, (void *) keys);
  for (uint32_t n = 1; n < count; n++)
    if (compare_keys (keys, order[n - 1], order[n]) == 0 && (twin == 0 || order[n] < twin))
      twin = order[n];
  return twin;
}

static uint32_t
find_twin (const Keys *keys, uint32_t object)
{
  const PlumbJsonValue *values = keys->json->values;
  uint32_t count = values[object].count, seen[MANY_KEYS];

  if (count > MANY_KEYS)
    return find_twin_sorted (keys, object);
  for (uint32_t n = 0, i = object + 1; n < count; n++, i = values[i].next)
    {
      for (uint32_t k = 0; k < n; k++)
        if (compare_keys (keys, seen[k], i) == 0)
          return i;
      seen[n] = i;
    }
  return 0;
}

uint32_t
plumb_json_find_twin (const PlumbJson *json, uint32_t object)
{
  Keys keys = { json, g_string_new (NULL), g_string_new (NULL) };
  uint32_t twin = find_twin (&keys, object);

  g_string_free (keys.a, TRUE);
  g_string_free (keys.b, TRUE);
  return twin;
}
