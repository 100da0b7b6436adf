/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/records.h"

#include <string.h>

#include "plumbeam/assert.h"

/* Choice tables: one per list. */
#define PLUMB_CHOICE_ROW(suffix, word, label) { word, label },
#define PLUMB_CHOICE_TABLE(list)                                                                                     \
  static const PlumbChoice choices_##list[] = { PLUMB_CHOICES_##list (PLUMB_CHOICE_ROW) };
PLUMB_CHOICE_LISTS (PLUMB_CHOICE_TABLE)

/* Conditions: WHEN (record, member, one to nine values). */
#define ALWAYS -1, 0
#define BIT(v) (UINT64_C (1) << (v))
#define BITS_1(a) BIT (a)
#define BITS_2(a, ...) (BIT (a) | BITS_1 (__VA_ARGS__))
#define BITS_3(a, ...) (BIT (a) | BITS_2 (__VA_ARGS__))
#define BITS_4(a, ...) (BIT (a) | BITS_3 (__VA_ARGS__))
#define BITS_5(a, ...) (BIT (a) | BITS_4 (__VA_ARGS__))
#define BITS_6(a, ...) (BIT (a) | BITS_5 (__VA_ARGS__))
#define BITS_7(a, ...) (BIT (a) | BITS_6 (__VA_ARGS__))
#define BITS_8(a, ...) (BIT (a) | BITS_7 (__VA_ARGS__))
#define BITS_9(a, ...) (BIT (a) | BITS_8 (__VA_ARGS__))
#define PICK(a, b, c, d, e, f, g, h, i, name, ...) name
#define BITS(...) PICK (__VA_ARGS__, BITS_9, BITS_8, BITS_7, BITS_6, BITS_5, BITS_4, BITS_3, BITS_2, BITS_1, 0) (__VA_ARGS__)
#define WHEN(record, member, ...) PLUMB_FIELD_##record##_##member, BITS (__VA_ARGS__)

/* One table row per type. R is the struct. */
#define ROW_NUM(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                       \
  { PLUMB_TYPE_NUM,                                                                                                  \
    key,                                                                                                             \
    PLUMB_QUANTITY_##arg,                                                                                            \
    offsetof (R, member),                                                                                            \
    sizeof (double),                                                                                                 \
    lo,                                                                                                              \
    hi,                                                                                                              \
    def,                                                                                                             \
    NULL,                                                                                                            \
    NULL,                                                                                                            \
    0,                                                                                                               \
    0,                                                                                                               \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
#define ROW_COUNT(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                     \
  { PLUMB_TYPE_COUNT,                                                                                                \
    key,                                                                                                             \
    PLUMB_QUANTITY_##arg,                                                                                            \
    offsetof (R, member),                                                                                            \
    sizeof (int32_t),                                                                                                \
    lo,                                                                                                              \
    hi,                                                                                                              \
    def,                                                                                                             \
    NULL,                                                                                                            \
    NULL,                                                                                                            \
    0,                                                                                                               \
    0,                                                                                                               \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
#define ROW_FLAG(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                      \
  { PLUMB_TYPE_FLAG,                                                                                                 \
    key,                                                                                                             \
    PLUMB_QUANTITY_NONE,                                                                                             \
    offsetof (R, member),                                                                                            \
    sizeof (bool),                                                                                                   \
    0,                                                                                                               \
    1,                                                                                                               \
    def,                                                                                                             \
    NULL,                                                                                                            \
    NULL,                                                                                                            \
    0,                                                                                                               \
    0,                                                                                                               \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
#define ROW_CHOICE(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                    \
  { PLUMB_TYPE_CHOICE,                                                                                               \
    key,                                                                                                             \
    PLUMB_QUANTITY_NONE,                                                                                             \
    offsetof (R, member),                                                                                            \
    sizeof (int32_t),                                                                                                \
    0,                                                                                                               \
    PLUMB_N_##arg - 1,                                                                                               \
    def,                                                                                                             \
    NULL,                                                                                                            \
    choices_##arg,                                                                                                   \
    PLUMB_N_##arg,                                                                                                   \
    0,                                                                                                               \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
#define ROW_TEXT(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                      \
  { PLUMB_TYPE_TEXT,                                                                                                 \
    key,                                                                                                             \
    PLUMB_QUANTITY_NONE,                                                                                             \
    offsetof (R, member),                                                                                            \
    arg,                                                                                                             \
    0,                                                                                                               \
    0,                                                                                                               \
    0,                                                                                                               \
    def,                                                                                                             \
    NULL,                                                                                                            \
    0,                                                                                                               \
    0,                                                                                                               \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
#define ROW_REF(R, member, key, arg, lo, hi, def, when_field, when_values, label, help, since)                       \
  { PLUMB_TYPE_REF,                                                                                                  \
    key,                                                                                                             \
    PLUMB_QUANTITY_NONE,                                                                                             \
    offsetof (R, member),                                                                                            \
    PLUMB_ID_SIZE,                                                                                                   \
    0,                                                                                                               \
    0,                                                                                                               \
    0,                                                                                                               \
    def,                                                                                                             \
    NULL,                                                                                                            \
    0,                                                                                                               \
    arg,                                                                                                             \
    when_field,                                                                                                      \
    when_values,                                                                                                     \
    label,                                                                                                           \
    help,                                                                                                            \
    since },
/* ALWAYS and WHEN have become two arguments by the time they get here. */
#define FIELD(R, TYPE, ...) ROW_##TYPE (R, __VA_ARGS__)

#define F_job(...) FIELD (plumb_struct_job, __VA_ARGS__)
#define F_tape(...) FIELD (plumb_struct_tape, __VA_ARGS__)
#define F_space(...) FIELD (plumb_struct_space, __VA_ARGS__)
#define F_wall(...) FIELD (plumb_struct_wall, __VA_ARGS__)
#define F_ceiling(...) FIELD (plumb_struct_ceiling, __VA_ARGS__)
#define F_ceiling_point(...) FIELD (plumb_struct_ceiling_point, __VA_ARGS__)
#define F_structure(...) FIELD (plumb_struct_structure, __VA_ARGS__)
#define F_screen(...) FIELD (plumb_struct_screen, __VA_ARGS__)
#define F_machine(...) FIELD (plumb_struct_machine, __VA_ARGS__)
#define F_lens(...) FIELD (plumb_struct_lens, __VA_ARGS__)
#define F_lens_pair(...) FIELD (plumb_struct_lens_pair, __VA_ARGS__)
#define F_lens_shift_point(...) FIELD (plumb_struct_lens_shift_point, __VA_ARGS__)
#define F_mount(...) FIELD (plumb_struct_mount, __VA_ARGS__)
#define F_place(...) FIELD (plumb_struct_place, __VA_ARGS__)
#define F_arrangement(...) FIELD (plumb_struct_arrangement, __VA_ARGS__)
#define F_seat(...) FIELD (plumb_struct_seat, __VA_ARGS__)
#define F_row(...) FIELD (plumb_struct_row, __VA_ARGS__)
#define F_person(...) FIELD (plumb_struct_person, __VA_ARGS__)
#define F_blocker(...) FIELD (plumb_struct_blocker, __VA_ARGS__)
#define F_blocker_point(...) FIELD (plumb_struct_blocker_point, __VA_ARGS__)
#define F_blocker_state(...) FIELD (plumb_struct_blocker_state, __VA_ARGS__)
#define F_port(...) FIELD (plumb_struct_port, __VA_ARGS__)
#define F_opening(...) FIELD (plumb_struct_opening, __VA_ARGS__)
#define F_lamp(...) FIELD (plumb_struct_lamp, __VA_ARGS__)
#define F_lamp_hour(...) FIELD (plumb_struct_lamp_hour, __VA_ARGS__)
#define F_light_state(...) FIELD (plumb_struct_light_state, __VA_ARGS__)
#define F_light_level(...) FIELD (plumb_struct_light_level, __VA_ARGS__)
#define F_limit(...) FIELD (plumb_struct_limit, __VA_ARGS__)

#define TABLE(name, NAME, key, parent, label)                                                                        \
  static const PlumbField fields_##name[] = { PLUMB_FIELDS_##name (F_##name) };                                      \
  _Static_assert(sizeof fields_##name / sizeof fields_##name[0] == PLUMB_N_FIELDS_##name, "one row per field");
PLUMB_RECORDS (TABLE)

static const PlumbRecordInfo infos[] = {
#define INFO(name, NAME, key, parent, label)                                                                         \
  { PLUMB_RECORD_##NAME,  #name, key, label, PLUMB_RECORD_##parent, sizeof (plumb_struct_##name), fields_##name,     \
    PLUMB_N_FIELDS_##name },
  PLUMB_RECORDS (INFO)
};
_Static_assert(sizeof infos / sizeof infos[0] == PLUMB_N_RECORDS, "one info per record kind");

static const struct {
  double factor;
  const char *unit;
} quantities[PLUMB_N_QUANTITIES] = {
  [PLUMB_QUANTITY_NONE] = { 1.0, "" },          [PLUMB_QUANTITY_M] = { 1.0, "m" },
  [PLUMB_QUANTITY_MM] = { 1.0 / 1000.0, "mm" }, [PLUMB_QUANTITY_DEG] = { PLUMB_PI / 180.0, "\302\260" },
  [PLUMB_QUANTITY_PCT] = { 1.0 / 100.0, "%" },  [PLUMB_QUANTITY_RATIO] = { 1.0, "" },
  [PLUMB_QUANTITY_LM] = { 1.0, "lm" },          [PLUMB_QUANTITY_LX] = { 1.0, "lx" },
  [PLUMB_QUANTITY_KG] = { 1.0, "kg" },          [PLUMB_QUANTITY_W] = { 1.0, "W" },
  [PLUMB_QUANTITY_DB] = { 1.0, "dB" },          [PLUMB_QUANTITY_PX] = { 1.0, "px" },
  [PLUMB_QUANTITY_S] = { 1.0, "s" },            [PLUMB_QUANTITY_HOUR] = { 1.0, "h" },
};

const PlumbRecordInfo *
plumb_record_info (PlumbRecordKind kind)
{
  PLUMB_ASSERT (kind >= 0 && kind < PLUMB_N_RECORDS);
  return &infos[kind];
}

double
plumb_quantity_factor (PlumbQuantity quantity)
{
  return quantities[quantity].factor;
}

const char *
plumb_quantity_unit (PlumbQuantity quantity)
{
  return quantities[quantity].unit;
}

double
plumb_field_number (const PlumbField *field, const void *record)
{
  const char *at = (const char *) record + field->offset;

  switch (field->type)
    {
      case PLUMB_TYPE_NUM: {
        double value;
        memcpy (&value, at, sizeof value);
        return value / plumb_quantity_factor (field->quantity);
      }
      case PLUMB_TYPE_FLAG: {
        bool value;
        memcpy (&value, at, sizeof value);
        return value ? 1.0 : 0.0;
      }
    case PLUMB_TYPE_COUNT:
      case PLUMB_TYPE_CHOICE: {
        int32_t value;
        memcpy (&value, at, sizeof value);
        return value;
      }
    case PLUMB_TYPE_TEXT:
    case PLUMB_TYPE_REF:
      break;
    }
  PLUMB_ASSERT (!"a text has no number");
  return 0.0;
}

void
plumb_field_set_number (const PlumbField *field, void *record, double value)
{
  char *at = (char *) record + field->offset;

  PLUMB_ASSERT (isfinite (value));
  switch (field->type)
    {
      case PLUMB_TYPE_NUM: {
        double member = value * plumb_quantity_factor (field->quantity);
        memcpy (at, &member, sizeof member);
        return;
      }
      case PLUMB_TYPE_FLAG: {
        bool member = value > 0.5;
        memcpy (at, &member, sizeof member);
        return;
      }
    case PLUMB_TYPE_COUNT:
      case PLUMB_TYPE_CHOICE: {
        int32_t member = (int32_t) value;
        memcpy (at, &member, sizeof member);
        return;
      }
    case PLUMB_TYPE_TEXT:
    case PLUMB_TYPE_REF:
      break;
    }
  PLUMB_ASSERT (!"a text has no number");
}

const char *
plumb_field_text (const PlumbField *field, const void *record)
{
  PLUMB_ASSERT (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF);
  return (const char *) record + field->offset;
}

bool
plumb_field_set_text (const PlumbField *field, void *record, const char *text)
{
  size_t length = strlen (text);
  char *at = (char *) record + field->offset;

  PLUMB_ASSERT (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF);
  if (length >= field->size)
    return false;
  memset (at, 0, field->size);
  memcpy (at, text, length);
  return true;
}

void
plumb_record_default (PlumbRecordKind kind, void *record)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);

  memset (record, 0, info->size);
  for (int i = 0; i < info->n_fields; i++)
    {
      const PlumbField *field = &info->fields[i];
      if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
        PLUMB_ASSERT (plumb_field_set_text (field, record, field->default_text));
      else
        plumb_field_set_number (field, record, field->default_number);
    }
}

bool
plumb_field_applies (const PlumbRecordInfo *info, int field, const void *record)
{
  const PlumbField *f = &info->fields[field];

  if (f->when_field < 0)
    return true;
  /* A field hangs on one that applies itself, or it does not apply. */
  if (!plumb_field_applies (info, f->when_field, record))
    return false;
  double value = plumb_field_number (&info->fields[f->when_field], record);
  return (f->when_values >> (unsigned) value & 1u) != 0;
}

int
plumb_field_find (const PlumbRecordInfo *info, const char *key)
{
  for (int i = 0; i < info->n_fields; i++)
    if (strcmp (info->fields[i].key, key) == 0)
      return i;
  return -1;
}

const char *
plumb_record_id (PlumbRecordKind kind, const void *record)
{
  const PlumbField *first = plumb_record_info (kind)->fields;
  return strcmp (first->key, "id") == 0 ? plumb_field_text (first, record) : "";
}
