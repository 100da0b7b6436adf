/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One strict pass over a JSON text: RFC 8259 and the bounds of job.h, nothing
 * about records.
 *
 * The result is a flat list of values in the order of the text, each with its
 * place in it; values keep their spelling. A value's members or elements
 * follow it directly.
 */
#pragma once

#include "job/job.h"

typedef enum {
  PLUMB_JSON_OBJECT,
  PLUMB_JSON_ARRAY,
  PLUMB_JSON_STRING,
  PLUMB_JSON_NUMBER,
  PLUMB_JSON_TRUE,
  PLUMB_JSON_FALSE,
  PLUMB_JSON_NULL,
} PlumbJsonType;

typedef struct {
  uint32_t at, length;         /* of the value in the text; strings with their quotes */
  uint32_t key_at, key_length; /* with quotes; length 0 for elements and the root */
  uint32_t count;              /* members or elements */
  uint32_t next;               /* the value after this one and all that is in it */
  uint8_t type;                /* PlumbJsonType */
  bool escaped, key_escaped;   /* there is a backslash in the string */
  int8_t what;                 /* for whoever reads the list; 0 */
} PlumbJsonValue;

typedef struct {
  char *text; /* closed by a 0 that is not counted */
  uint32_t size;
  PlumbJsonValue *values; /* the root is the first */
  uint32_t n_values;
} PlumbJson;

/* Takes the text, which must be closed by a 0 after at most PLUMB_JOB_MAX_BYTES
 * bytes. */
PlumbJson *plumb_json_scan (char *text, gsize size, GError **error);
void plumb_json_free (PlumbJson *json);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbJson, plumb_json_free)

/* Replaces what is in `out` by the string without quotes and escapes. */
void plumb_json_unescape (const char *quoted, uint32_t length, GString *out);
/* A piece of a JSON text as a message shows it: cut off if it is long. */
char *plumb_json_quote (const char *text, size_t length);
/* Appends a text as a JSON string. */
void plumb_json_append (GString *out, const char *text);
/* The first member of an object whose key was there before, escapes aside; 0
 * for none. */
uint32_t plumb_json_find_twin (const PlumbJson *json, uint32_t object);
/* The code unit of four hexadecimal digits, -1 if they are none. */
int plumb_json_hex4 (const char *at);

static inline bool
plumb_json_is_high_surrogate (int unit)
{
  return unit >= 0xD800 && unit < 0xDC00;
}

static inline bool
plumb_json_is_low_surrogate (int unit)
{
  return unit >= 0xDC00 && unit < 0xE000;
}
