/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The record lists against the rules that their header and the job file set:
 * no engine sum is tested here.
 */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "plumbeam/records.h"

/* Ends of keys by quantity: section 2 of the design asks for the unit in
 * every key. Plain numbers have none. */
static const char *const endings[PLUMB_N_QUANTITIES] = {
  [PLUMB_QUANTITY_NONE] = "",    [PLUMB_QUANTITY_M] = "_m",     [PLUMB_QUANTITY_MM] = "_mm",
  [PLUMB_QUANTITY_DEG] = "_deg", [PLUMB_QUANTITY_PCT] = "_pct", [PLUMB_QUANTITY_RATIO] = "",
  [PLUMB_QUANTITY_LM] = "_lm",   [PLUMB_QUANTITY_LX] = "_lx",   [PLUMB_QUANTITY_KG] = "_kg",
  [PLUMB_QUANTITY_W] = "_w",     [PLUMB_QUANTITY_DB] = "_db",   [PLUMB_QUANTITY_PX] = "_px",
  [PLUMB_QUANTITY_S] = "_s",     [PLUMB_QUANTITY_HOUR] = "_h",
};

/* One of each quantity in SI; definitions of the units, from memory. */
static const double si[PLUMB_N_QUANTITIES] = {
  [PLUMB_QUANTITY_NONE] = 1.0, [PLUMB_QUANTITY_M] = 1.0,
  [PLUMB_QUANTITY_MM] = 0.001, [PLUMB_QUANTITY_DEG] = 0.017453292519943295,
  [PLUMB_QUANTITY_PCT] = 0.01, [PLUMB_QUANTITY_RATIO] = 1.0,
  [PLUMB_QUANTITY_LM] = 1.0,   [PLUMB_QUANTITY_LX] = 1.0,
  [PLUMB_QUANTITY_KG] = 1.0,   [PLUMB_QUANTITY_W] = 1.0,
  [PLUMB_QUANTITY_DB] = 1.0,   [PLUMB_QUANTITY_PX] = 1.0,
  [PLUMB_QUANTITY_S] = 1.0, [PLUMB_QUANTITY_HOUR] = 1.0, /* an hour of the day stays one */
};

typedef void (*FieldCheck) (const PlumbRecordInfo *info, int i, const PlumbField *field);

static void
for_each_field (FieldCheck check)
{
  int checked = 0;

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++) {
    const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind)kind);
    for (int i = 0; i < info->n_fields; i++, checked++)
      check (info, i, &info->fields[i]);
  }
  g_assert_cmpint (checked, >, 200);
}

static bool
is_text (const PlumbField *field)
{
  return field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF;
}

/* Through SI and back: at most two roundings of a double. */
static void
assert_same (double value, double expected)
{
  g_assert_cmpfloat (fabs (value - expected), <=, 4.5e-16 * fabs (expected));
}

/* Lower case, digits and single underscores, beginning with a letter. */
static void
assert_key (const char *key)
{
  g_assert_true (g_ascii_islower (key[0]));
  for (const char *c = key; *c != '\0'; c++)
    g_assert_true (g_ascii_islower (*c) || g_ascii_isdigit (*c) || (*c == '_' && c[1] != '_' && c[1] != '\0'));
}

/* ---- kinds ---------------------------------------------------------------------- */

static void
test_kinds (void)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++) {
    const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind)kind);
    g_assert_cmpint (info->kind, ==, kind);
    assert_key (info->name);
    assert_key (info->key);
    g_assert_cmpstr (info->label, !=, "");
    g_assert_cmpint (info->n_fields, >, 0);
    g_assert_cmpint (info->n_fields, <=, 64); /* bits of the mask of typed fields */
    for (int other = 0; other < kind; other++) {
      const PlumbRecordInfo *before = plumb_record_info ((PlumbRecordKind)other);
      g_assert_cmpstr (info->name, !=, before->name);
      g_assert_true (strcmp (info->key, before->key) != 0 || info->parent != before->parent);
    }
  }
}

/* The file is read from top to bottom: a nested kind comes after its owner,
 * its key is no field of the owner, and nothing nests twice. */
static void
test_parents (void)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++) {
    const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind)kind);
    if (info->parent == PLUMB_RECORD_NONE)
      continue;
    const PlumbRecordInfo *parent = plumb_record_info (info->parent);
    g_assert_cmpint (info->parent, <, kind);
    g_assert_cmpint (parent->parent, ==, PLUMB_RECORD_NONE);
    g_assert_cmpint (plumb_field_find (parent, info->key), ==, -1);
  }
  g_assert_cmpint (plumb_record_info (PLUMB_RECORD_CEILING_POINT)->parent, ==, PLUMB_RECORD_CEILING);
  g_assert_cmpint (plumb_record_info (PLUMB_RECORD_LENS_PAIR)->parent, ==, PLUMB_RECORD_LENS);
  g_assert_cmpint (plumb_record_info (PLUMB_RECORD_BLOCKER_STATE)->parent, ==, PLUMB_RECORD_BLOCKER);
}

/* ---- keys and words ---------------------------------------------------------------- */

static void
check_key (const PlumbRecordInfo *info, int i, const PlumbField *field)
{
  assert_key (field->key);
  g_assert_cmpint (plumb_field_find (info, field->key), ==, i); /* so no earlier field has this key */
  if (field->type == PLUMB_TYPE_NUM)
    g_assert_true (g_str_has_suffix (field->key, endings[field->quantity]));
  /* A plain number must not look as though it had a unit. */
  if (field->type == PLUMB_TYPE_NUM && endings[field->quantity][0] == '\0')
    for (int q = 0; q < PLUMB_N_QUANTITIES; q++)
      g_assert_true (endings[q][0] == '\0' || !g_str_has_suffix (field->key, endings[q]));
}

static void
test_keys (void)
{
  for_each_field (check_key);
  g_assert_cmpint (plumb_field_find (plumb_record_info (PLUMB_RECORD_PLACE), "no_such_key"), ==, -1);
  g_assert_cmpint (plumb_field_find (plumb_record_info (PLUMB_RECORD_PLACE), ""), ==, -1);
}

static void
check_words (const PlumbRecordInfo *info, int i, const PlumbField *field)
{
  g_assert_cmpstr (info->fields[i].label, !=, "");
  g_assert_true (g_utf8_validate (field->label, -1, NULL));
  g_assert_true (g_utf8_validate (field->help, -1, NULL));
  /* Help is a sentence, a label is not. */
  g_assert_true (g_str_has_suffix (field->help, "."));
  g_assert_false (g_str_has_suffix (field->label, "."));
  g_assert_cmpint (field->since, >=, 1);
  g_assert_cmpint (field->since, <=, PLUMB_FORMAT_VERSION);
}

static void
test_words (void)
{
  for_each_field (check_words);
}

/* ---- ranges and defaults ------------------------------------------------------------- */

static void
check_range (const PlumbRecordInfo *info G_GNUC_UNUSED, int i G_GNUC_UNUSED, const PlumbField *field)
{
  if (is_text (field)) {
    g_assert_nonnull (field->default_text);
    g_assert_cmpuint (strlen (field->default_text), <, field->size);
    return;
  }
  g_assert_true (isfinite (field->least) && isfinite (field->greatest) && isfinite (field->default_number));
  g_assert_cmpfloat (field->least, <, field->greatest);
  g_assert_cmpfloat (field->default_number, >=, field->least);
  g_assert_cmpfloat (field->default_number, <=, field->greatest);
  if (field->type != PLUMB_TYPE_NUM)
    g_assert_cmpfloat (field->default_number, ==, floor (field->default_number));
  if (field->type == PLUMB_TYPE_COUNT)
    g_assert_cmpfloat (field->greatest, <=, G_MAXINT32);
}

static void
test_ranges (void)
{
  for_each_field (check_range);
}

static void
test_defaults (void)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++) {
    const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind)kind);
    g_autofree char *record = g_malloc (info->size);
    memset (record, 0xa5, info->size);
    plumb_record_default (info->kind, record);
    const PlumbRecordHead *head = (const PlumbRecordHead *)(const void *)record;
    g_assert_cmpuint (head->typed, ==, 0);
    g_assert_cmpuint (head->owner, ==, 0);
    for (int i = 0; i < info->n_fields; i++) {
      const PlumbField *field = &info->fields[i];
      if (is_text (field))
        g_assert_cmpstr (plumb_field_text (field, record), ==, field->default_text);
      else
        assert_same (plumb_field_number (field, record), field->default_number);
    }
  }
}

/* A few defaults by hand, in SI: 20 degrees, 120 mm, 5 per cent, 1.125 m. */
static void
test_defaults_in_si (void)
{
  PlumbMount mount;
  PlumbWall wall;
  PlumbLens lens;
  PlumbScreen screen;

  plumb_record_default (PLUMB_RECORD_MOUNT, &mount);
  plumb_record_default (PLUMB_RECORD_WALL, &wall);
  plumb_record_default (PLUMB_RECORD_LENS, &lens);
  plumb_record_default (PLUMB_RECORD_SCREEN, &screen);
  g_assert_cmpfloat_with_epsilon (mount.pitch_limit_rad, 0.3490658503988659, 1e-15);
  g_assert_cmpfloat_with_epsilon (wall.thickness_m, 0.12, 1e-15);
  g_assert_cmpfloat_with_epsilon (lens.throw_error_share, 0.05, 1e-15);
  g_assert_cmpfloat_with_epsilon (screen.height_m, 1.125, 1e-15);
}

/* ---- members --------------------------------------------------------------------------- */

static size_t
member_size (const PlumbField *field)
{
  switch (field->type) {
  case PLUMB_TYPE_NUM:
    return sizeof (double);
  case PLUMB_TYPE_COUNT:
  case PLUMB_TYPE_CHOICE:
    return sizeof (int32_t);
  case PLUMB_TYPE_FLAG:
    return sizeof (bool);
  case PLUMB_TYPE_REF:
    return PLUMB_ID_SIZE;
  case PLUMB_TYPE_TEXT:
    break;
  }
  return field->size;
}

static void
check_member (const PlumbRecordInfo *info, int i, const PlumbField *field)
{
  g_assert_cmpuint (field->size, ==, member_size (field));
  g_assert_cmpuint (field->size, >=, 1);
  g_assert_cmpuint (field->offset, >=, sizeof (PlumbRecordHead));
  g_assert_cmpuint (field->offset + field->size, <=, info->size);
  if (i > 0) /* members in the order of the list, none over another */
    g_assert_cmpuint (field->offset, >=, info->fields[i - 1].offset + info->fields[i - 1].size);
}

static void
test_members (void)
{
  for_each_field (check_member);
  g_assert_cmpuint (plumb_record_info (PLUMB_RECORD_PLACE)->size, ==, sizeof (PlumbPlace));
  g_assert_cmpuint (plumb_record_info (PLUMB_RECORD_LENS_PAIR)->size, ==, sizeof (PlumbLensPairLine));
  g_assert_cmpuint (plumb_record_info (PLUMB_RECORD_LIMIT)->size, ==, sizeof (PlumbLimitOverride));
  g_assert_cmpuint (plumb_record_info (PLUMB_RECORD_PLACE)->fields[PLUMB_FIELD_place_drop_m].offset, ==,
                    offsetof (PlumbPlace, drop_m));
}

/* Both ends of every range go in and come out, and hit no other member. */
static void
check_set_get (const PlumbRecordInfo *info, int i G_GNUC_UNUSED, const PlumbField *field)
{
  g_autofree char *before = g_malloc (info->size), *after = g_malloc (info->size);

  if (is_text (field))
    return;
  const double ends[] = { field->least, field->greatest };
  for (size_t k = 0; k < G_N_ELEMENTS (ends); k++) {
    plumb_record_default (info->kind, before);
    plumb_record_default (info->kind, after);
    plumb_field_set_number (field, after, ends[k]);
    assert_same (plumb_field_number (field, after), ends[k]);
    size_t end = field->offset + field->size;
    g_assert_cmpint (memcmp (before, after, field->offset), ==, 0);
    g_assert_cmpint (memcmp (before + end, after + end, info->size - end), ==, 0);
  }
}

static void
test_set_get (void)
{
  for_each_field (check_set_get);
}

/* A text of size - 1 bytes fits, one more does not and changes nothing. */
static void
check_text (const PlumbRecordInfo *info, int i G_GNUC_UNUSED, const PlumbField *field)
{
  g_autofree char *record = g_malloc (info->size);

  if (!is_text (field))
    return;
  g_autofree char *fits = g_strnfill (field->size - 1, 'x'), *longer = g_strnfill (field->size, 'y');
  plumb_record_default (info->kind, record);
  g_assert_true (plumb_field_set_text (field, record, fits));
  g_assert_cmpstr (plumb_field_text (field, record), ==, fits);
  g_assert_false (plumb_field_set_text (field, record, longer));
  g_assert_cmpstr (plumb_field_text (field, record), ==, fits);
  g_assert_true (plumb_field_set_text (field, record, "z"));
  g_assert_cmpstr (plumb_field_text (field, record), ==, "z");
  /* Records are compared byte by byte: nothing of the old text may stay. */
  for (size_t k = 1; k < field->size; k++)
    g_assert_cmpint (record[field->offset + k], ==, 0);
}

static void
test_text (void)
{
  for_each_field (check_text);
}

static void
test_quantities (void)
{
  for (int q = 0; q < PLUMB_N_QUANTITIES; q++) {
    g_assert_cmpfloat (plumb_quantity_factor ((PlumbQuantity)q), ==, si[q]);
    g_assert_nonnull (plumb_quantity_unit ((PlumbQuantity)q));
    g_assert_true (endings[q][0] == '\0' || plumb_quantity_unit ((PlumbQuantity)q)[0] != '\0');
  }
  g_assert_cmpstr (plumb_quantity_unit (PLUMB_QUANTITY_DEG), ==, "°");
  g_assert_cmpstr (plumb_quantity_unit (PLUMB_QUANTITY_PCT), ==, "%");
  g_assert_cmpstr (plumb_quantity_unit (PLUMB_QUANTITY_MM), ==, "mm");
}

/* ---- choices, conditions, references ------------------------------------------------------ */

static void
check_choice (const PlumbRecordInfo *info G_GNUC_UNUSED, int i G_GNUC_UNUSED, const PlumbField *field)
{
  if (field->type != PLUMB_TYPE_CHOICE) {
    g_assert_null (field->choices);
    return;
  }
  g_assert_cmpint (field->n_choices, >=, 2);
  g_assert_cmpfloat (field->greatest, ==, field->n_choices - 1);
  for (int32_t a = 0; a < field->n_choices; a++) {
    assert_key (field->choices[a].word);
    g_assert_cmpstr (field->choices[a].label, !=, "");
    for (int32_t b = 0; b < a; b++)
      g_assert_cmpstr (field->choices[a].word, !=, field->choices[b].word);
  }
}

static void
test_choices (void)
{
  for_each_field (check_choice);
}

/* The deciding field stands before, has a list of values, and the condition
 * names some of them but not all. */
static void
check_when (const PlumbRecordInfo *info, int i, const PlumbField *field)
{
  if (field->when_field < 0) {
    g_assert_cmpint (field->when_field, ==, -1);
    g_assert_cmpuint (field->when_values, ==, 0);
    return;
  }
  g_assert_cmpint (field->when_field, <, i);
  const PlumbField *deciding = &info->fields[field->when_field];
  g_assert_true (deciding->type == PLUMB_TYPE_CHOICE || deciding->type == PLUMB_TYPE_FLAG);
  unsigned n_values = deciding->type == PLUMB_TYPE_CHOICE ? (unsigned)deciding->n_choices : 2;
  uint64_t all = (UINT64_C (1) << n_values) - 1;
  g_assert_cmpuint (field->when_values, !=, 0);
  g_assert_cmpuint (field->when_values & ~all, ==, 0);
  g_assert_cmpuint (field->when_values, !=, all);

  /* Each value of the deciding field on its own. */
  g_autofree char *record = g_malloc (info->size);
  for (unsigned value = 0; value < n_values; value++) {
    plumb_record_default (info->kind, record);
    if (!plumb_field_applies (info, field->when_field, record))
      continue;
    plumb_field_set_number (deciding, record, value);
    g_assert_cmpint (plumb_field_applies (info, i, record), ==, (int)(field->when_values >> value & 1u));
  }
}

static void
test_when (void)
{
  for_each_field (check_when);
}

/* By hand: the wall of a screen that stands free means nothing. */
static void
test_when_by_hand (void)
{
  const PlumbRecordInfo *info = plumb_record_info (PLUMB_RECORD_SCREEN);
  PlumbScreen screen;

  plumb_record_default (PLUMB_RECORD_SCREEN, &screen);
  g_assert_true (plumb_field_applies (info, PLUMB_FIELD_screen_wall, &screen));
  g_assert_false (plumb_field_applies (info, PLUMB_FIELD_screen_x_m, &screen));
  screen.support = PLUMB_SUPPORT_DROP;
  g_assert_true (plumb_field_applies (info, PLUMB_FIELD_screen_wall, &screen));
  screen.support = PLUMB_SUPPORT_FREE;
  g_assert_false (plumb_field_applies (info, PLUMB_FIELD_screen_wall, &screen));
  g_assert_true (plumb_field_applies (info, PLUMB_FIELD_screen_x_m, &screen));
}

/* What is referred to has an id, first in its record and first in the file's
 * line; nested records have none that others could use. */
static void
check_reference (const PlumbRecordInfo *info G_GNUC_UNUSED, int i G_GNUC_UNUSED, const PlumbField *field)
{
  if (field->type != PLUMB_TYPE_REF) {
    g_assert_cmpuint (field->ref_kinds, ==, 0);
    return;
  }
  g_assert_cmpuint (field->ref_kinds, !=, 0);
  g_assert_cmpuint ((uint64_t)field->ref_kinds >> PLUMB_N_RECORDS, ==, 0);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if ((field->ref_kinds >> kind & 1u) != 0) {
      const PlumbRecordInfo *target = plumb_record_info ((PlumbRecordKind)kind);
      g_assert_cmpstr (target->fields[0].key, ==, "id");
      g_assert_cmpint (target->fields[0].type, ==, PLUMB_TYPE_TEXT);
      g_assert_cmpuint (target->fields[0].size, ==, PLUMB_ID_SIZE);
      g_assert_cmpint (target->parent, ==, PLUMB_RECORD_NONE);
    }
}

static void
test_references (void)
{
  for_each_field (check_reference);
}

static void
test_ids (void)
{
  PlumbPlace place;
  PlumbJob job;

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++) {
    const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind)kind);
    bool listed = info->parent == PLUMB_RECORD_NONE && kind != PLUMB_RECORD_JOB;
    g_assert_cmpint (plumb_field_find (info, "id"), ==, listed ? 0 : -1);
  }
  plumb_record_default (PLUMB_RECORD_PLACE, &place);
  g_assert_cmpstr (plumb_record_id (PLUMB_RECORD_PLACE, &place), ==, "");
  g_strlcpy (place.id, "t2", sizeof place.id);
  g_assert_cmpstr (plumb_record_id (PLUMB_RECORD_PLACE, &place), ==, "t2");
  plumb_record_default (PLUMB_RECORD_JOB, &job);
  g_strlcpy (job.title, "The loft", sizeof job.title);
  g_assert_cmpstr (plumb_record_id (PLUMB_RECORD_JOB, &job), ==, "");
}

/* A typed field is one bit of the head. */
static void
test_typed (void)
{
  PlumbPlace place;

  plumb_record_default (PLUMB_RECORD_PLACE, &place);
  g_assert_false (PLUMB_TYPED (place, &place, drop_m));
  place.head.typed |= UINT64_C (1) << PLUMB_FIELD_place_drop_m;
  g_assert_true (PLUMB_TYPED (place, &place, drop_m));
  g_assert_false (PLUMB_TYPED (place, &place, height_m));
  g_assert_false (PLUMB_TYPED (place, &place, out_of_level_rad));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/records/kinds", test_kinds);
  g_test_add_func ("/records/parents", test_parents);
  g_test_add_func ("/records/keys", test_keys);
  g_test_add_func ("/records/words", test_words);
  g_test_add_func ("/records/ranges", test_ranges);
  g_test_add_func ("/records/defaults", test_defaults);
  g_test_add_func ("/records/defaults-in-si", test_defaults_in_si);
  g_test_add_func ("/records/members", test_members);
  g_test_add_func ("/records/set-get", test_set_get);
  g_test_add_func ("/records/text", test_text);
  g_test_add_func ("/records/quantities", test_quantities);
  g_test_add_func ("/records/choices", test_choices);
  g_test_add_func ("/records/when", test_when);
  g_test_add_func ("/records/when-by-hand", test_when_by_hand);
  g_test_add_func ("/records/references", test_references);
  g_test_add_func ("/records/ids", test_ids);
  g_test_add_func ("/records/typed", test_typed);
  return g_test_run ();
}
