/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From records to text, after the field tables and the text that was read. */
#include <math.h>
#include <string.h>

#include "number-private.h"
#include "source-private.h"

/* A member to be written, and its value in the text that was read (0: none). */
typedef struct {
  int what;
  uint32_t value;
} Slot;

typedef struct {
  GString *out;
  const PlumbScene *scene;
  const PlumbJobSource *source;       /* NULL: a new job */
  uint32_t *matches[PLUMB_N_RECORDS]; /* see plumb_job_match() */
} Writer;

/* ---- what was read ------------------------------------------------------------------ */

/* The record of the source that record i was, PLUMB_NO_INDEX for none. */
static uint32_t
source_record (const Writer *writer, PlumbRecordKind kind, uint32_t i)
{
  if (writer->source == NULL)
    return PLUMB_NO_INDEX;
  return writer->matches[kind] != NULL ? writer->matches[kind][i] : i;
}

/* Its JSON value, 0 for none. */
static uint32_t
source_value (const Writer *writer, PlumbRecordKind kind, uint32_t i)
{
  uint32_t record = source_record (writer, kind, i);
  return record != PLUMB_NO_INDEX ? writer->source->records[kind][record] : 0;
}

static void
append_source (Writer *writer, uint32_t at, uint32_t length)
{
  g_string_append_len (writer->out, writer->source->json->text + at, length);
}

/* ---- single values ---------------------------------------------------------------------- */

static void
append_number (GString *out, const PlumbField *field, const void *record)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double member;

  memcpy (&member, (const char *) record + field->offset, sizeof member);
  /* JSON has no word for it; reading back will name the place. */
  if (!isfinite (member))
    g_string_append (out, "null");
  else
    {
      plumb_decimal_shortest (member, plumb_quantity_factor (field->quantity), text);
      g_string_append (out, text);
    }
}

static void
append_choice (GString *out, const PlumbField *field, const void *record)
{
  double number = plumb_field_number (field, record);

  if (number >= 0 && number < field->n_choices)
    plumb_json_append (out, field->choices[(int) number].word);
  else
    g_string_append (out, "null");
}

static void
append_field (GString *out, const PlumbField *field, const void *record)
{
  switch (field->type)
    {
    case PLUMB_TYPE_NUM:
      append_number (out, field, record);
      return;
    case PLUMB_TYPE_COUNT:
      g_string_append_printf (out, "%d", (int) plumb_field_number (field, record));
      return;
    case PLUMB_TYPE_FLAG:
      g_string_append (out, plumb_field_number (field, record) > 0.5 ? "true" : "false");
      return;
    case PLUMB_TYPE_CHOICE:
      append_choice (out, field, record);
      return;
    case PLUMB_TYPE_TEXT:
    case PLUMB_TYPE_REF:
      plumb_json_append (out, plumb_field_text (field, record));
      return;
    }
}

/* As it was spelled, if it has not changed. */
static void
write_field (Writer *writer, PlumbRecordKind kind, uint32_t i, Slot slot)
{
  const PlumbField *field = &plumb_record_info (kind)->fields[slot.what];
  const char *record = plumb_scene_record (writer->scene, kind, i);

  if (slot.value != 0)
    {
      const PlumbJsonValue *value = &writer->source->json->values[slot.value];
      const char *before = plumb_scene_record (writer->source->scene, kind, source_record (writer, kind, i));
      if (memcmp (record + field->offset, before + field->offset, field->size) == 0)
        {
          append_source (writer, value->at, value->length);
          return;
        }
    }
  append_field (writer->out, field, record);
}

/* ---- members and their order ---------------------------------------------------------------- */

/* Fields and kinds that are to be written: bit per field, bit per kind. */
typedef struct {
  uint64_t fields;
  uint32_t kinds;
} Wanted;

static bool
is_wanted (const Wanted *wanted, int what)
{
  return PLUMB_IS_KIND (what) ? (wanted->kinds >> PLUMB_KIND_OF (what) & 1u) != 0
                              : (wanted->fields >> what & 1u) != 0;
}

static void
strike_out (Wanted *wanted, int what)
{
  if (PLUMB_IS_KIND (what))
    wanted->kinds &= ~(UINT32_C (1) << PLUMB_KIND_OF (what));
  else
    wanted->fields &= ~(UINT64_C (1) << what);
}

/* Members that were in the text, in its order. An empty array that stood there
 * stays. */
static void
take_source_slots (const Writer *writer, uint32_t object, Wanted *wanted, GArray *slots)
{
  const PlumbJsonValue *values = writer->source->json->values;

  for (uint32_t n = 0, i = object + 1; n < values[object].count; n++, i = values[i].next)
    {
      Slot slot = { values[i].what, i };
      bool known = slot.what >= 0;
      bool empty = known && PLUMB_IS_KIND (slot.what) && values[i].count == 0;
      if (slot.what == PLUMB_WHAT_VERSION || (known && !empty && !is_wanted (wanted, slot.what)))
        continue;
      g_array_append_val (slots, slot);
      if (known)
        strike_out (wanted, slot.what);
    }
}

/* A member that was not there goes behind the one that comes nearest before it
 * in the lists. */
static void
insert_slot (GArray *slots, int what)
{
  Slot slot = { what, 0 };
  int nearest = -1;
  guint place = 0;

  for (guint i = 0; i < slots->len; i++)
    {
      int other = g_array_index (slots, Slot, i).what;
      if (other < what && other > nearest)
        {
          nearest = other;
          place = i + 1;
        }
    }
  g_array_insert_val (slots, place, slot);
}

static GArray *
order_slots (const Writer *writer, bool has_object, uint32_t object, Wanted wanted)
{
  GArray *slots = g_array_new (FALSE, FALSE, sizeof (Slot));

  if (has_object)
    take_source_slots (writer, object, &wanted, slots);
  for (int what = 0; what < PLUMB_WHAT_KIND (PLUMB_N_RECORDS) && (wanted.fields != 0 || wanted.kinds != 0); what++)
    if (is_wanted (&wanted, what))
      {
        insert_slot (slots, what);
        strike_out (&wanted, what);
      }
  return slots;
}

static Wanted
wanted_of_record (const Writer *writer, PlumbRecordKind kind, uint32_t i)
{
  const PlumbRecordHead *head = plumb_scene_record (writer->scene, kind, i);
  Wanted wanted = { head->typed, 0 };

  for (int nested = 0; nested < PLUMB_N_RECORDS; nested++)
    {
      uint32_t count = 0;
      if (plumb_record_info ((PlumbRecordKind) nested)->parent == kind)
        plumb_scene_nested (writer->scene, (PlumbRecordKind) nested, i, &count);
      if (count > 0)
        wanted.kinds |= UINT32_C (1) << nested;
    }
  return wanted;
}

static Wanted
wanted_at_top (const Writer *writer)
{
  Wanted wanted = { 0, 0 };

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      uint32_t count;
      plumb_scene_records (writer->scene, (PlumbRecordKind) kind, &count);
      bool there = kind == PLUMB_RECORD_JOB ? plumb_scene_job (writer->scene, 0)->head.typed != 0
                                                  || source_value (writer, PLUMB_RECORD_JOB, 0) != 0
                                            : count > 0;
      if (there && plumb_record_info ((PlumbRecordKind) kind)->parent == PLUMB_RECORD_NONE)
        wanted.kinds |= UINT32_C (1) << kind;
    }
  return wanted;
}

/* ---- records ------------------------------------------------------------------------------------ */

static void write_nested (Writer *writer, PlumbRecordKind kind, uint32_t owner);

static void
start_line (Writer *writer, int indent)
{
  g_string_append_printf (writer->out, "\n%*s", indent, "");
}

/* The key of a member that the text had, or of a field or kind. */
static void
write_key (Writer *writer, PlumbRecordKind kind, Slot slot)
{
  if (slot.what == PLUMB_WHAT_UNKNOWN)
    {
      const PlumbJsonValue *value = &writer->source->json->values[slot.value];
      append_source (writer, value->key_at, value->key_length);
    }
  else
    plumb_json_append (writer->out, PLUMB_IS_KIND (slot.what) ? plumb_record_info (PLUMB_KIND_OF (slot.what))->key
                                                              : plumb_record_info (kind)->fields[slot.what].key);
  g_string_append (writer->out, ": ");
}

static void
write_member (Writer *writer, PlumbRecordKind kind, uint32_t i, Slot slot)
{
  write_key (writer, kind, slot);
  if (slot.what == PLUMB_WHAT_UNKNOWN)
    {
      const PlumbJsonValue *value = &writer->source->json->values[slot.value];
      append_source (writer, value->at, value->length);
    }
  else if (PLUMB_IS_KIND (slot.what))
    write_nested (writer, PLUMB_KIND_OF (slot.what), i);
  else
    write_field (writer, kind, i, slot);
}

/* One scalar a line; a nested record (indent 0) is one line as a whole. */
static void
write_record (Writer *writer, PlumbRecordKind kind, uint32_t i, int indent)
{
  uint32_t object = source_value (writer, kind, i);
  g_autoptr (GArray) slots = order_slots (writer, object != 0, object, wanted_of_record (writer, kind, i));

  g_string_append_c (writer->out, '{');
  for (guint n = 0; n < slots->len; n++)
    {
      if (n > 0)
        g_string_append_c (writer->out, ',');
      if (indent > 0)
        start_line (writer, indent + 2);
      else
        g_string_append_c (writer->out, ' ');
      write_member (writer, kind, i, g_array_index (slots, Slot, n));
    }
  if (slots->len > 0 && indent > 0)
    start_line (writer, indent);
  else if (slots->len > 0)
    g_string_append_c (writer->out, ' ');
  g_string_append_c (writer->out, '}');
}

static void
write_array (Writer *writer, PlumbRecordKind kind, uint32_t first, uint32_t count, int indent)
{
  bool nested = plumb_record_info (kind)->parent != PLUMB_RECORD_NONE;

  g_string_append_c (writer->out, '[');
  for (uint32_t i = first; i < first + count; i++)
    {
      if (i > first)
        g_string_append_c (writer->out, ',');
      start_line (writer, indent + 2);
      write_record (writer, kind, i, nested ? 0 : indent + 2);
    }
  if (count > 0)
    start_line (writer, indent);
  g_string_append_c (writer->out, ']');
}

static void
write_nested (Writer *writer, PlumbRecordKind kind, uint32_t owner)
{
  uint32_t all, count, first = 0;
  const char *records = plumb_scene_records (writer->scene, kind, &all);
  const char *nested = plumb_scene_nested (writer->scene, kind, owner, &count);

  if (count > 0)
    first = (uint32_t) ((size_t) (nested - records) / plumb_record_info (kind)->size);
  write_array (writer, kind, first, count, 6);
}

/* ---- the whole text --------------------------------------------------------------------------------- */

static void
write_top_member (Writer *writer, Slot slot)
{
  if (slot.what == PLUMB_WHAT_UNKNOWN)
    {
      write_member (writer, PLUMB_RECORD_NONE, 0, slot);
      return;
    }
  uint32_t count;
  PlumbRecordKind kind = PLUMB_KIND_OF (slot.what);
  write_key (writer, PLUMB_RECORD_NONE, slot);
  plumb_scene_records (writer->scene, kind, &count);
  if (kind == PLUMB_RECORD_JOB)
    write_record (writer, kind, 0, 2);
  else
    write_array (writer, kind, 0, count, 2);
}

static void
write_top (Writer *writer)
{
  g_autoptr (GArray) slots = order_slots (writer, writer->source != NULL, 0, wanted_at_top (writer));

  g_string_append_printf (writer->out, "{\n  \"plumbeam\": %d", PLUMB_FORMAT_VERSION);
  for (guint n = 0; n < slots->len; n++)
    {
      g_string_append_c (writer->out, ',');
      start_line (writer, 2);
      write_top_member (writer, g_array_index (slots, Slot, n));
    }
  g_string_append (writer->out, "\n}\n");
}

GString *
plumb_job_write (const PlumbJobFile *file)
{
  Writer writer = { .scene = file->scene, .source = file->source };

  writer.out = g_string_sized_new (file->source != NULL ? file->source->json->size + 1024u : 4096u);
  for (int kind = 0; kind < PLUMB_N_RECORDS && file->source != NULL; kind++)
    {
      PlumbRecordKind parent = plumb_record_info ((PlumbRecordKind) kind)->parent;
      const uint32_t *parents = parent != PLUMB_RECORD_NONE ? writer.matches[parent] : NULL;
      writer.matches[kind] = plumb_job_match (file->source->scene, file->scene, (PlumbRecordKind) kind, parents);
    }
  write_top (&writer);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_free (writer.matches[kind]);
  return writer.out;
}
