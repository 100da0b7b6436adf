/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From JSON values to records, by the field tables alone. */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "number-private.h"
#include "source-private.h"
#include "value-private.h"

/* Where the reader is, for messages: seats[3].key, lenses[1].pairs[2].key. */
typedef struct Where {
  const struct Where *owner; /* NULL at the top */
  PlumbRecordKind kind;
  uint32_t index;
} Where;

typedef struct {
  unsigned char *data;
  uint32_t count, capacity;
} Records;

typedef struct {
  PlumbJson *json;
  PlumbJobSource *source;
  Records records[PLUMB_N_RECORDS];
  unsigned char *blanks[PLUMB_N_RECORDS]; /* a record with its defaults */
  GString *scratch;
  GError **error;
} Reader;

/* ---- errors, with their place ---------------------------------------------------- */

static void
append_where (GString *path, const Where *where)
{
  if (where->owner != NULL)
    {
      append_where (path, where->owner);
      g_string_append_c (path, '.');
    }
  g_string_append (path, plumb_record_info (where->kind)->key);
  if (where->kind != PLUMB_RECORD_JOB)
    g_string_append_printf (path, "[%u]", where->index);
}

/* key NULL: the record itself. */
static bool
fail (Reader *reader, const Where *where, const char *key, const char *what)
{
  g_autoptr (GString) path = g_string_new (NULL);

  append_where (path, where);
  if (key != NULL)
    g_string_append_printf (path, ".%s", key);
  g_set_error (reader->error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT, "%s: %s", path->str, what);
  return false;
}

G_GNUC_PRINTF (3, 4) static bool fail_top (Reader *reader, PlumbJobError code, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (reader->error, PLUMB_JOB_ERROR, (int) code, what);
  return false;
}

static const char *
type_name (PlumbJsonType type)
{
  static const char *const names[] = { "an object", "an array", "a string", "a number", "true", "false", "null" };
  return names[type];
}

static char *
expected (const char *type, const PlumbJsonValue *found)
{
  return g_strdup_printf ("expected %s, found %s", type, type_name ((PlumbJsonType) found->type));
}

/* ---- one value ------------------------------------------------------------------------ */

static const char *
text_at (const Reader *reader, uint32_t at)
{
  return reader->json->text + at;
}

static double
number_of (const Reader *reader, const PlumbJsonValue *value)
{
  return plumb_decimal_read (text_at (reader, value->at), value->length);
}

/* The string without quotes and escapes, until the next call. */
static const char *
string_of (Reader *reader, uint32_t at, uint32_t size, bool escaped, size_t *length)
{
  if (!escaped)
    {
      *length = size - 2;
      return text_at (reader, at + 1);
    }
  plumb_json_unescape (text_at (reader, at), size, reader->scratch);
  *length = reader->scratch->len;
  return reader->scratch->str;
}

static char *
read_number (Reader *reader, const PlumbField *field, const PlumbJsonValue *value, void *record)
{
  if (value->type != PLUMB_JSON_NUMBER)
    return expected ("a number", value);
  return plumb_value_number (field, record, number_of (reader, value), text_at (reader, value->at), value->length);
}

static char *
read_flag (const PlumbField *field, const PlumbJsonValue *value, void *record)
{
  if (value->type != PLUMB_JSON_TRUE && value->type != PLUMB_JSON_FALSE)
    return expected ("true or false", value);
  plumb_field_set_number (field, record, value->type == PLUMB_JSON_TRUE ? 1.0 : 0.0);
  return NULL;
}

static char *
read_choice (Reader *reader, const PlumbField *field, const PlumbJsonValue *value, void *record)
{
  size_t length;

  if (value->type != PLUMB_JSON_STRING)
    return expected ("a string", value);
  const char *word = string_of (reader, value->at, value->length, value->escaped, &length);
  return plumb_value_choice (field, record, word, length, text_at (reader, value->at), value->length);
}

static char *
read_text (Reader *reader, const PlumbField *field, const PlumbJsonValue *value, void *record)
{
  size_t length;

  if (value->type != PLUMB_JSON_STRING)
    return expected ("a string", value);
  const char *text = string_of (reader, value->at, value->length, value->escaped, &length);
  return plumb_value_text (field, record, text, length);
}

/* NULL, or why the value cannot be. */
static char *
read_field (Reader *reader, const PlumbField *field, const PlumbJsonValue *value, void *record)
{
  switch (field->type)
    {
    case PLUMB_TYPE_NUM:
    case PLUMB_TYPE_COUNT:
      return read_number (reader, field, value, record);
    case PLUMB_TYPE_FLAG:
      return read_flag (field, value, record);
    case PLUMB_TYPE_CHOICE:
      return read_choice (reader, field, value, record);
    case PLUMB_TYPE_TEXT:
    case PLUMB_TYPE_REF:
      break;
    }
  return read_text (reader, field, value, record);
}

/* ---- keys ---------------------------------------------------------------------------------- */

static bool
is_key (const char *key, const char *text, size_t length)
{
  return strncmp (key, text, length) == 0 && key[length] == '\0';
}

/* The kind with this key in a parent, PLUMB_RECORD_NONE for none. */
static PlumbRecordKind
find_kind (PlumbRecordKind parent, const char *text, size_t length)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
      if (info->parent == parent && is_key (info->key, text, length))
        return (PlumbRecordKind) kind;
    }
  return PLUMB_RECORD_NONE;
}

/* What a member of a record is. Keys mostly stand in the order of the fields,
 * so the search begins behind the last one found. */
static int
find_what (Reader *reader, const PlumbRecordInfo *info, const PlumbJsonValue *member, int *next)
{
  size_t length;
  const char *key = string_of (reader, member->key_at, member->key_length, member->key_escaped, &length);

  for (int tried = 0; tried < info->n_fields; tried++)
    {
      int field = *next;
      *next = field + 1 < info->n_fields ? field + 1 : 0;
      if (is_key (info->fields[field].key, key, length))
        return field;
    }
  PlumbRecordKind kind = find_kind (info->kind, key, length);
  return kind != PLUMB_RECORD_NONE ? PLUMB_WHAT_KIND (kind) : PLUMB_WHAT_UNKNOWN;
}

/* ---- records --------------------------------------------------------------------------------- */

static bool read_array (Reader *reader, const Where *owner, uint32_t owner_index, PlumbRecordKind kind,
                        uint32_t array);

static bool
read_member (Reader *reader, const Where *where, const PlumbRecordInfo *info, uint32_t i, int *next, void *record)
{
  PlumbJsonValue *value = &reader->json->values[i];
  int what = find_what (reader, info, value, next);

  value->what = (int8_t) what;
  if (what == PLUMB_WHAT_UNKNOWN)
    return true;
  if (PLUMB_IS_KIND (what))
    return read_array (reader, where, where->index, PLUMB_KIND_OF (what), i);

  g_autofree char *why = read_field (reader, &info->fields[what], value, record);
  if (why != NULL)
    return fail (reader, where, info->fields[what].key, why);
  ((PlumbRecordHead *) record)->typed |= UINT64_C (1) << what;
  return true;
}

static bool
read_record (Reader *reader, const Where *where, uint32_t i, void *record)
{
  const PlumbRecordInfo *info = plumb_record_info (where->kind);
  const PlumbJsonValue *values = reader->json->values;
  int next = 0;

  if (values[i].type != PLUMB_JSON_OBJECT)
    {
      g_autofree char *why = expected ("an object", &values[i]);
      return fail (reader, where, NULL, why);
    }
  for (uint32_t n = 0, member = i + 1; n < values[i].count; n++, member = values[member].next)
    if (!read_member (reader, where, info, member, &next, record))
      return false;
  if (!plumb_value_has_id (info))
    return true;
  g_autofree char *why = plumb_job_id_trouble (plumb_record_id (where->kind, record));
  return why == NULL || fail (reader, where, "id", why);
}

/* Room for more records of a kind; false, with an error, for too many. */
static bool
make_room (Reader *reader, const Where *where, PlumbRecordKind kind, uint32_t more)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  Records *records = &reader->records[kind];
  /* Counts of one file are below PLUMB_JOB_MAX_VALUES: no overflow. */
  uint32_t wanted = records->count + more;

  if (wanted > PLUMB_MAX_RECORDS)
    {
      g_autofree char *why = g_strdup_printf ("more than %d records of this kind", PLUMB_MAX_RECORDS);
      return where != NULL ? fail (reader, where, info->key, why)
                           : fail_top (reader, PLUMB_JOB_ERROR_CONTENT, "%s: %s", info->key, why);
    }
  if (wanted > records->capacity)
    {
      records->capacity = where == NULL ? wanted : MAX (wanted, 2 * records->capacity);
      records->data = g_realloc_n (records->data, records->capacity, info->size);
      reader->source->records[kind] = g_renew (uint32_t, reader->source->records[kind], records->capacity);
    }
  if (reader->blanks[kind] == NULL)
    {
      reader->blanks[kind] = g_malloc (info->size);
      plumb_record_default (kind, reader->blanks[kind]);
    }
  return true;
}

static bool
read_next_record (Reader *reader, const Where *where, uint32_t owner_index, uint32_t i)
{
  Records *records = &reader->records[where->kind];
  size_t size = plumb_record_info (where->kind)->size;
  unsigned char *record = records->data + records->count * size;

  memcpy (record, reader->blanks[where->kind], size);
  ((PlumbRecordHead *) (void *) record)->owner = owner_index;
  reader->source->records[where->kind][records->count++] = i;
  return read_record (reader, where, i, record);
}

/* The second record of a kind that has the same id, from the first on. */
static bool
check_ids (Reader *reader, PlumbRecordKind kind)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  const Records *records = &reader->records[kind];
  g_autoptr (GHashTable) places = g_hash_table_new (g_str_hash, g_str_equal);

  for (uint32_t i = 0; i < records->count; i++)
    {
      const char *id = plumb_record_id (kind, records->data + i * info->size);
      gpointer first;
      if (!g_hash_table_lookup_extended (places, id, NULL, &first))
        {
          g_hash_table_insert (places, (gpointer) id, GUINT_TO_POINTER (i));
          continue;
        }
      Where where = { NULL, kind, i };
      g_autofree char *why
          = g_strdup_printf ("\"%s\" is used by %s[%u] already", id, info->key, GPOINTER_TO_UINT (first));
      return fail (reader, &where, "id", why);
    }
  return true;
}

static bool
read_array (Reader *reader, const Where *owner, uint32_t owner_index, PlumbRecordKind kind, uint32_t array)
{
  const PlumbJsonValue *values = reader->json->values;

  if (values[array].type != PLUMB_JSON_ARRAY)
    {
      const char *key = plumb_record_info (kind)->key;
      g_autofree char *why = expected ("an array", &values[array]);
      return owner != NULL ? fail (reader, owner, key, why)
                           : fail_top (reader, PLUMB_JOB_ERROR_CONTENT, "%s: %s", key, why);
    }
  if (!make_room (reader, owner, kind, values[array].count))
    return false;
  for (uint32_t n = 0, i = array + 1; n < values[array].count; n++, i = values[i].next)
    {
      Where where = { owner, kind, n };
      if (!read_next_record (reader, &where, owner_index, i))
        return false;
    }
  return !plumb_value_has_id (plumb_record_info (kind)) || check_ids (reader, kind);
}

/* ---- the whole file -------------------------------------------------------------------------- */

static bool
read_version (Reader *reader, uint32_t i)
{
  const PlumbJsonValue *value = &reader->json->values[i];

  if (value->type != PLUMB_JSON_NUMBER)
    {
      g_autofree char *why = expected ("a number", value);
      return fail_top (reader, PLUMB_JOB_ERROR_VERSION, "plumbeam: %s", why);
    }
  double version = number_of (reader, value);
  g_autofree char *shown = plumb_json_quote (text_at (reader, value->at), value->length);
  if (version != floor (version) || version < 1.0)
    return fail_top (reader, PLUMB_JOB_ERROR_VERSION, "plumbeam: %s is not a format version", shown);
  if (version > PLUMB_FORMAT_VERSION)
    return fail_top (
        reader, PLUMB_JOB_ERROR_VERSION,
        "plumbeam: the file has format %s, and this program reads formats up to %d; a newer Plumbeam wrote it", shown,
        PLUMB_FORMAT_VERSION);
  /* Version 1 is the first. The step from an older version to the next one
   * goes here, before any record is read. */
  return true;
}

/* Tells what each top member is, and reads the version before anything else:
 * a newer file may be wrong in every other way. */
static bool
read_top_keys (Reader *reader)
{
  PlumbJsonValue *values = reader->json->values;
  uint32_t version = 0;

  if (values[0].type != PLUMB_JSON_OBJECT)
    return fail_top (reader, PLUMB_JOB_ERROR_VERSION, "this is no job file: expected an object, found %s",
                     type_name ((PlumbJsonType) values[0].type));
  for (uint32_t n = 0, i = 1; n < values[0].count; n++, i = values[i].next)
    {
      size_t length;
      const char *key = string_of (reader, values[i].key_at, values[i].key_length, values[i].key_escaped, &length);
      PlumbRecordKind kind = find_kind (PLUMB_RECORD_NONE, key, length);
      bool is_version = is_key ("plumbeam", key, length);
      values[i].what = (int8_t) (is_version                  ? PLUMB_WHAT_VERSION
                                 : kind != PLUMB_RECORD_NONE ? PLUMB_WHAT_KIND (kind)
                                                             : PLUMB_WHAT_UNKNOWN);
      if (is_version)
        version = i;
    }
  if (version == 0)
    return fail_top (reader, PLUMB_JOB_ERROR_VERSION,
                     "this is no job file: the key \"plumbeam\" with the format is missing");
  return read_version (reader, version);
}

static bool
read_top (Reader *reader)
{
  const PlumbJsonValue *values = reader->json->values;
  Where job = { NULL, PLUMB_RECORD_JOB, 0 };

  if (!read_top_keys (reader))
    return false;
  for (uint32_t n = 0, i = 1; n < values[0].count; n++, i = values[i].next)
    {
      if (!PLUMB_IS_KIND (values[i].what))
        continue;
      PlumbRecordKind kind = PLUMB_KIND_OF (values[i].what);
      bool good = kind == PLUMB_RECORD_JOB
                      ? make_room (reader, NULL, kind, 1) && read_next_record (reader, &job, 0, i)
                      : read_array (reader, NULL, 0, kind, i);
      if (!good)
        return false;
    }
  return true;
}

static bool
fill_scene (Reader *reader, PlumbScene *scene)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const Records *records = &reader->records[kind];
      if (records->count > 0 && !plumb_scene_fill (scene, (PlumbRecordKind) kind, records->data, records->count))
        return false;
    }
  return plumb_scene_commit (scene);
}

static bool
make_scene (Reader *reader)
{
  PlumbScene *scene = plumb_scene_new ();

  reader->source->scene = scene;
  return (scene != NULL && fill_scene (reader, scene))
         || fail_top (reader, PLUMB_JOB_ERROR_MEMORY, "not enough memory");
}

PlumbJobSource *
plumb_job_source_read (PlumbJson *json, GError **error)
{
  g_autoptr (PlumbJobSource) source = g_new0 (PlumbJobSource, 1);
  g_autoptr (GString) scratch = g_string_new (NULL);
  Reader reader = { .json = json, .source = source, .scratch = scratch, .error = error };

  g_atomic_ref_count_init (&source->references);
  source->json = json;
  /* A job that is not in the file has no value: the root is none. */
  source->records[PLUMB_RECORD_JOB] = g_new0 (uint32_t, 1);
  bool good = read_top (&reader) && make_scene (&reader);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      g_free (reader.records[kind].data);
      g_free (reader.blanks[kind]);
    }
  return good ? g_steal_pointer (&source) : NULL;
}

PlumbJobSource *
plumb_job_source_ref (PlumbJobSource *source)
{
  g_atomic_ref_count_inc (&source->references);
  return source;
}

void
plumb_job_source_unref (PlumbJobSource *source)
{
  if (source == NULL || !g_atomic_ref_count_dec (&source->references))
    return;
  plumb_json_free (source->json);
  plumb_scene_unref (source->scene);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_free (source->records[kind]);
  g_free (source);
}
