/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 *     what  = "job." key
 *           | kind "." id "." key
 *           | kind "." id "." nested kind "." position "." key      position from 1
 *     all   = what "=" value
 *
 * An id may hold points, so the longest id of the kind that fits is meant.
 */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "number-private.h"
#include "source-private.h"
#include "text/length.h"
#include "value-private.h"

/* Names that a message lists. */
#define MOST_LISTED 40

typedef struct {
  const PlumbScene *scene;
  const char *what; /* what is set, as typed */
  PlumbRecordKind kind;
  uint32_t index;
  const PlumbField *field;
  GError **error;
} Setting;

G_GNUC_PRINTF (2, 3) static bool fail (Setting *setting, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *why = g_strdup_vprintf (format, args);
  va_end (args);
  g_autofree char *what = plumb_json_quote (setting->what, strlen (setting->what));
  g_set_error (setting->error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "%s: %s", what, why);
  return false;
}

/* ---- names, for messages ---------------------------------------------------------------- */

static void
list_name (GString *list, unsigned *n, const char *name)
{
  if (*n < MOST_LISTED)
    g_string_append_printf (list, "%s%s", *n > 0 ? ", " : "", name);
  else if (*n == MOST_LISTED)
    g_string_append (list, ", ...");
  (*n)++;
}

static char *
list_kinds (void)
{
  GString *list = g_string_new (NULL);
  unsigned n = 0;

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if (plumb_record_info ((PlumbRecordKind) kind)->parent == PLUMB_RECORD_NONE)
      list_name (list, &n, plumb_record_info ((PlumbRecordKind) kind)->key);
  return g_string_free (list, FALSE);
}

static char *
list_ids (const PlumbScene *scene, PlumbRecordKind kind)
{
  GString *list = g_string_new (NULL);
  unsigned n = 0;
  uint32_t count;

  plumb_scene_records (scene, kind, &count);
  for (uint32_t i = 0; i < count && n <= MOST_LISTED; i++)
    list_name (list, &n, plumb_record_id (kind, plumb_scene_record (scene, kind, i)));
  return g_string_free (list, FALSE);
}

static char *
list_keys (const PlumbRecordInfo *info)
{
  GString *list = g_string_new (NULL);
  unsigned n = 0;

  for (int field = plumb_value_has_id (info) ? 1 : 0; field < info->n_fields; field++)
    list_name (list, &n, info->fields[field].key);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if (plumb_record_info ((PlumbRecordKind) kind)->parent == info->kind)
      {
        g_autofree char *name = g_strdup_printf ("%s.1...", plumb_record_info ((PlumbRecordKind) kind)->key);
        list_name (list, &n, name);
      }
  return g_string_free (list, FALSE);
}

/* ---- what is set --------------------------------------------------------------------------- */

/* The rest of `path` after `name` and a point; NULL if it does not begin so. */
static const char *
after_name (const char *path, const char *name)
{
  size_t length = strlen (name);

  return strncmp (path, name, length) == 0 && path[length] == '.' ? path + length + 1 : NULL;
}

static PlumbRecordKind
find_kind (PlumbRecordKind parent, const char *path, const char **rest)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
      *rest = info->parent == parent ? after_name (path, info->key) : NULL;
      if (*rest != NULL)
        return (PlumbRecordKind) kind;
    }
  return PLUMB_RECORD_NONE;
}

static bool
find_record (Setting *setting, const char *path, const char **rest)
{
  uint32_t count;
  size_t longest = 0;

  plumb_scene_records (setting->scene, setting->kind, &count);
  for (uint32_t i = 0; i < count; i++)
    {
      const char *id = plumb_record_id (setting->kind, plumb_scene_record (setting->scene, setting->kind, i));
      const char *behind = after_name (path, id);
      if (behind == NULL || strlen (id) <= longest)
        continue;
      longest = strlen (id);
      setting->index = i;
      *rest = behind;
    }
  if (longest > 0)
    return true;
  const char *key = plumb_record_info (setting->kind)->key;
  if (count == 0)
    return fail (setting, "there are no %s", key);
  g_autofree char *ids = list_ids (setting->scene, setting->kind);
  return fail (setting, "none of the %s has this id; there are %s", key, ids);
}

/* From a record to its line of data, corner or state. */
static bool
find_nested (Setting *setting, PlumbRecordKind nested, const char *path, const char **rest)
{
  uint32_t all, count;
  const PlumbRecordInfo *info = plumb_record_info (nested);
  const char *records = plumb_scene_records (setting->scene, nested, &all);
  const char *first = plumb_scene_nested (setting->scene, nested, setting->index, &count);
  const char *point = strchr (path, '.');
  g_autofree char *digits = g_strndup (path, point != NULL ? (size_t) (point - path) : strlen (path));
  guint64 position;

  if (point == NULL || !g_ascii_string_to_unsigned (digits, 10, 1, G_MAXUINT32, &position, NULL))
    return fail (setting, "after %s comes a position from 1, a point and a key", info->key);
  if (position > count)
    return fail (setting, "there are only %u %s", count, info->key);
  setting->index = (uint32_t) ((size_t) (first - records) / info->size + position - 1);
  setting->kind = nested;
  *rest = point + 1;
  return true;
}

static bool
find_field (Setting *setting, const char *key)
{
  const PlumbRecordInfo *info = plumb_record_info (setting->kind);
  int field = plumb_field_find (info, key);

  if (field < 0)
    {
      g_autofree char *keys = list_keys (info);
      return fail (setting, "there is no such key; there are %s", keys);
    }
  setting->field = &info->fields[field];
  if (field == 0 && plumb_value_has_id (info))
    return fail (setting, "an id cannot be set, since other records refer to it");
  return true;
}

static bool
find_what (Setting *setting)
{
  const char *rest = NULL;

  setting->kind = find_kind (PLUMB_RECORD_NONE, setting->what, &rest);
  if (setting->kind == PLUMB_RECORD_NONE)
    {
      g_autofree char *kinds = list_kinds ();
      return fail (setting, "it does not begin with a kind of record and a point; there are %s", kinds);
    }
  if (setting->kind != PLUMB_RECORD_JOB && !find_record (setting, rest, &rest))
    return false;
  const char *inner = NULL;
  PlumbRecordKind nested = find_kind (setting->kind, rest, &inner);
  if (nested != PLUMB_RECORD_NONE && !find_nested (setting, nested, inner, &rest))
    return false;
  return find_field (setting, rest);
}

/* ---- the value -------------------------------------------------------------------------------- */

/* Digits, point, exponent; no nan, inf or hexadecimal. */
static bool
read_plain_number (const char *text, double *value)
{
  char *end;

  if (text[0] == '\0' || strspn (text, "+-.0123456789eE") != strlen (text))
    return false;
  *value = g_ascii_strtod (text, &end);
  return *end == '\0' && isfinite (*value);
}

static bool
is_length (const PlumbField *field)
{
  return field->type == PLUMB_TYPE_NUM
         && (field->quantity == PLUMB_QUANTITY_M || field->quantity == PLUMB_QUANTITY_MM);
}

/* A length with units, in the key's unit. Feet, inches and their fractions are
 * short decimals of a metre; fifteen digits take the sum's rounding off again. */
static bool
read_length (Setting *setting, const char *text, double *value)
{
  bool mm = setting->field->quantity == PLUMB_QUANTITY_MM;
  PlumbLengthStyle style = { .default_unit = mm ? PLUMB_LENGTH_UNIT_MM : PLUMB_LENGTH_UNIT_M };
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  double metres;
  g_autoptr (GError) trouble = NULL;

  if (!plumb_length_parse (text, style, &metres, &trouble))
    return fail (setting, "not a length: %s", trouble->message);
  g_ascii_formatd (digits, sizeof digits, "%.15g", metres / plumb_quantity_factor (setting->field->quantity));
  *value = g_ascii_strtod (digits, NULL);
  return true;
}

static bool
set_number (Setting *setting, const char *text, void *record)
{
  double value = 0.0;
  char shown[G_ASCII_DTOSTR_BUF_SIZE];

  if (!read_plain_number (text, &value))
    {
      if (!is_length (setting->field))
        return fail (setting, "expected a number, found \"%s\"", text);
      if (!read_length (setting, text, &value))
        return false;
    }
  plumb_decimal_shortest (value, 1.0, shown);
  g_autofree char *why = plumb_value_number (setting->field, record, value, shown, strlen (shown));
  return why == NULL || fail (setting, "%s", why);
}

static bool
set_flag (Setting *setting, const char *text, void *record)
{
  bool on = strcmp (text, "true") == 0;

  if (!on && strcmp (text, "false") != 0)
    return fail (setting, "expected true or false, found \"%s\"", text);
  plumb_field_set_number (setting->field, record, on ? 1.0 : 0.0);
  return true;
}

static bool
set_value (Setting *setting, const char *text, void *record)
{
  g_autofree char *why = NULL;

  switch (setting->field->type)
    {
    case PLUMB_TYPE_NUM:
    case PLUMB_TYPE_COUNT:
      return set_number (setting, text, record);
    case PLUMB_TYPE_FLAG:
      return set_flag (setting, text, record);
      case PLUMB_TYPE_CHOICE: {
        g_autofree char *quoted = g_strdup_printf ("\"%s\"", text);
        why = plumb_value_choice (setting->field, record, text, strlen (text), quoted, strlen (quoted));
        break;
      }
    case PLUMB_TYPE_TEXT:
    case PLUMB_TYPE_REF:
      why = plumb_value_text (setting->field, record, text, strlen (text));
      break;
    }
  return why == NULL || fail (setting, "%s", why);
}

/* ---- the edit ----------------------------------------------------------------------------------- */

/* The records of the kind with the value typed; NULL with an error. */
static unsigned char *
edit_records (Setting *setting, const char *text, uint32_t *count)
{
  const PlumbRecordInfo *info = plumb_record_info (setting->kind);
  const void *before = plumb_scene_records (setting->scene, setting->kind, count);
  g_autofree unsigned char *records = g_malloc_n (*count, info->size);
  memcpy (records, before, *count * info->size);
  unsigned char *record = records + setting->index * info->size;

  if (!set_value (setting, text, record))
    return NULL;
  ((PlumbRecordHead *) (void *) record)->typed |= UINT64_C (1) << (setting->field - info->fields);
  return g_steal_pointer (&records);
}

PlumbJobFile *
plumb_job_set (const PlumbJobFile *file, const char *key_and_value, GError **error)
{
  const char *sign = strchr (key_and_value, '=');
  g_autofree char *what = g_strndup (key_and_value, sign != NULL ? (size_t) (sign - key_and_value) : 0);
  Setting setting = { .scene = file->scene, .what = sign != NULL ? what : key_and_value, .error = error };
  uint32_t count;

  if (!g_utf8_validate (key_and_value, -1, NULL))
    {
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "KEY=VALUE is not UTF-8");
      return NULL;
    }
  if (sign == NULL)
    {
      fail (&setting, "expected KEY=VALUE");
      return NULL;
    }
  g_autofree unsigned char *records = find_what (&setting) ? edit_records (&setting, sign + 1, &count) : NULL;
  if (records == NULL)
    return NULL;
  PlumbScene *scene = plumb_scene_with (file->scene, setting.kind, records, count);
  PlumbJobFile *edited = NULL;
  if (scene != NULL && plumb_scene_commit (scene))
    edited = plumb_job_with_scene (file, scene);
  else
    g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_MEMORY, "not enough memory");
  plumb_scene_unref (scene);
  return edited;
}
