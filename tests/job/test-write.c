/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is written: the layout, and how little of it an edit touches.
 *
 * The rules are those of docs/file-format.md; texts are written out by hand.
 * The loops run over all records and fields of the demos.
 */
#include <math.h>
#include <string.h>

#include "job-testing.h"

/* ---- the layout ------------------------------------------------------------------- */

static void
assert_writes (const PlumbJobFile *file, const char *expected)
{
  g_autofree char *text = test_text (file);
  g_autofree char *quoted = test_quotes (expected);
  g_assert_cmpstr (text, ==, quoted);
}

static void
test_empty (void)
{
  g_autoptr (PlumbJobFile) file = plumb_job_new ();
  g_autoptr (PlumbJobFile) read = test_load ("{'plumbeam':1}");

  assert_writes (file, "{\n  'plumbeam': 1\n}\n");
  assert_writes (read, "{\n  'plumbeam': 1\n}\n");
}

/* From records alone: keys in the order of the lists, only what was typed. */
static void
test_new_job (void)
{
  PlumbJob job;
  PlumbLens lens;
  PlumbLensPairLine pairs[2];
  PlumbStructure structure;

  plumb_record_default (PLUMB_RECORD_JOB, &job);
  g_strlcpy (job.title, "A \"b\" \\ c\n\001", sizeof job.title);
  job.head.typed |= UINT64_C (1) << PLUMB_FIELD_job_title;
  TYPE_IN (job, &job, units, PLUMB_UNITS_IMPERIAL);
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &structure);
  g_strlcpy (structure.id, "j", sizeof structure.id);
  structure.head.typed |= UINT64_C (1) << PLUMB_FIELD_structure_id;
  TYPE_IN (structure, &structure, spacing_direction_rad, -30.141 * (PLUMB_PI / 180.0));
  TYPE_IN (structure, &structure, count, 7);
  TYPE_IN (structure, &structure, exposed, true);
  TYPE_IN (structure, &structure, found, false);
  plumb_record_default (PLUMB_RECORD_LENS, &lens);
  g_strlcpy (lens.id, "l", sizeof lens.id);
  lens.head.typed |= UINT64_C (1) << PLUMB_FIELD_lens_id;
  for (int i = 0; i < 2; i++)
    plumb_record_default (PLUMB_RECORD_LENS_PAIR, &pairs[i]);
  TYPE_IN (lens_pair, &pairs[1], gap_m, 0.184);
  TYPE_IN (lens_pair, &pairs[1], distance_m, 3.2);

  g_autoptr (PlumbJobFile) empty = plumb_job_new ();
  g_autoptr (PlumbJobFile) a = test_with (empty, PLUMB_RECORD_JOB, &job, 1);
  g_autoptr (PlumbJobFile) b = test_with (a, PLUMB_RECORD_STRUCTURE, &structure, 1);
  g_autoptr (PlumbJobFile) c = test_with (b, PLUMB_RECORD_LENS, &lens, 1);
  g_autoptr (PlumbJobFile) d = test_with (c, PLUMB_RECORD_LENS_PAIR, pairs, 2);
  assert_writes (d, "{\n"
                    "  'plumbeam': 1,\n"
                    "  'job': {\n"
                    "    'title': 'A \\'b\\' \\\\ c\\n\\u0001',\n"
                    "    'units': 'imperial'\n"
                    "  },\n"
                    "  'structure': [\n"
                    "    {\n"
                    "      'id': 'j',\n"
                    "      'count': 7,\n"
                    "      'spacing_direction_deg': -30.141,\n"
                    "      'exposed': true,\n"
                    "      'found': false\n"
                    "    }\n"
                    "  ],\n"
                    "  'lenses': [\n"
                    "    {\n"
                    "      'id': 'l',\n"
                    "      'pairs': [\n"
                    "        {},\n"
                    "        { 'distance_m': 3.2, 'gap_m': 0.184 }\n"
                    "      ]\n"
                    "    }\n"
                    "  ]\n"
                    "}\n");
}

/* Laid out anew; order, unknown keys and spellings kept. */
static void
test_kept (void)
{
  g_autoptr (PlumbJobFile) file = test_load (
      "{'later': {'a' : [1,2]}, 'walls': [ {'y_m': 1.50, 'note': 1e2, 'x_m': 0.1000e1, '\\u0069d': 'w', 'space': "
      "'s\\/'} ],"
      " 'plumbeam':1, 'seats': [], 'job': {}, 'lenses': [{'pairs':[{'why':null,'width_m':2.0}],'id':'l'}] }");

  assert_writes (file, "{\n"
                       "  'plumbeam': 1,\n"
                       "  'later': {'a' : [1,2]},\n"
                       "  'walls': [\n"
                       "    {\n"
                       "      'y_m': 1.50,\n"
                       "      'note': 1e2,\n"
                       "      'x_m': 0.1000e1,\n"
                       "      'id': 'w',\n"
                       "      'space': 's\\/'\n"
                       "    }\n"
                       "  ],\n"
                       "  'seats': [],\n"
                       "  'job': {},\n"
                       "  'lenses': [\n"
                       "    {\n"
                       "      'pairs': [\n"
                       "        { 'why': null, 'width_m': 2.0 }\n"
                       "      ],\n"
                       "      'id': 'l'\n"
                       "    }\n"
                       "  ]\n"
                       "}\n");
  g_auto (GStrv) unknown = plumb_job_unknown_keys (file);
  g_autofree char *listed = g_strjoinv (" ", unknown);
  g_assert_cmpstr (listed, ==, "later walls[0].note lenses[0].pairs[0].why");
}

/* Escapes of RFC 8259 section 7. The pair by hand: 0x10000 + 0x3D * 0x400 + 0x200
 * is U+1F600, in UTF-8 F0 9F 98 80. */
static void
test_escapes (void)
{
  g_autoptr (PlumbJobFile) file
      = test_load ("{'plumbeam':1,'job':{'title':'\\ud83d\\ude00 \\u00e9\\u20AC \\\\ \\/ \\b\\f\\n\\r\\t',"
                   "'\\u0072evision':'\\u0037'}}");
  const PlumbJob *read = plumb_scene_job (plumb_job_scene (file), 0);

  g_assert_cmpstr (read->title, ==, "\360\237\230\200 \303\251\342\202\254 \\ / \b\f\n\r\t");
  g_assert_cmpstr (read->revision, ==, "7");
}

/* A value that goes away and comes back has its old spelling again. */
static void
test_spelling_comes_back (void)
{
  g_autoptr (PlumbJobFile) file = test_load ("{'plumbeam':1,'walls':[{'id':'w','x_m':3.20}]}");
  PlumbWall wall = *plumb_scene_wall (plumb_job_scene (file), 0);
  g_autofree char *before = test_text (file);

  wall.x_m = 3.3;
  g_autoptr (PlumbJobFile) edited = test_with (file, PLUMB_RECORD_WALL, &wall, 1);
  g_autofree char *between = test_text (edited);
  g_assert_nonnull (strstr (between, "\"x_m\": 3.3\n"));
  wall.x_m = 3.2;
  g_autoptr (PlumbJobFile) back = test_with (edited, PLUMB_RECORD_WALL, &wall, 1);
  g_autofree char *after = test_text (back);
  g_assert_cmpstr (after, ==, before);
  g_assert_nonnull (strstr (after, "\"x_m\": 3.20\n"));
}

/* ---- unknown keys go with their records ------------------------------------------------- */

static const char marked_walls[] = "{'plumbeam':1,'walls':[{'id':'a','n':1},{'id':'b','n':2},{'id':'c','n':3}]}";

static char *
notes_of (const PlumbJobFile *file)
{
  g_autofree char *text = test_text (file);
  GString *notes = g_string_new (NULL);

  for (const char *at = text; (at = strstr (at, "\"n\": ")) != NULL; at++)
    g_string_append_c (notes, at[5]);
  return g_string_free (notes, FALSE);
}

static void
assert_notes (const PlumbJobFile *file, PlumbRecordKind kind, const void *records, uint32_t count,
              const char *expected)
{
  g_autoptr (PlumbJobFile) edited = test_with (file, kind, records, count);
  g_autofree char *notes = notes_of (edited);
  g_assert_cmpstr (notes, ==, expected);
}

static void
test_notes_of_records (void)
{
  g_autoptr (PlumbJobFile) file = test_load (marked_walls);
  const PlumbWall *w = plumb_scene_wall (plumb_job_scene (file), 0);
  PlumbWall turned[] = { w[2], w[0], w[1] }, fewer[] = { w[0], w[2] }, renamed[] = { w[0], w[1], w[2] };
  PlumbWall more[] = { w[0], w[1], w[1], w[2] };

  g_strlcpy (renamed[1].id, "new", sizeof renamed[1].id);
  g_strlcpy (more[1].id, "new", sizeof more[1].id);
  assert_notes (file, PLUMB_RECORD_WALL, w, 3, "123");
  assert_notes (file, PLUMB_RECORD_WALL, turned, 3, "312");
  assert_notes (file, PLUMB_RECORD_WALL, fewer, 2, "13");
  assert_notes (file, PLUMB_RECORD_WALL, renamed, 3, "123");
  assert_notes (file, PLUMB_RECORD_WALL, more, 4, "123");
}

static void
test_notes_of_nested (void)
{
  g_autoptr (PlumbJobFile) file = test_load ("{'plumbeam':1,'lenses':[{'id':'a','pairs':[{'width_m':1,'n':1}]},"
                                             "{'id':'b','pairs':[{'width_m':2,'n':2},{'width_m':3,'n':3},"
                                             "{'width_m':4,'n':4},{'width_m':5,'n':5}]}]}");
  const PlumbLensPairLine *p = plumb_scene_lens_pair (plumb_job_scene (file), 0);
  PlumbLensPairLine edited[] = { p[0], p[1], p[2], p[3], p[4] }, without_third[] = { p[0], p[1], p[3], p[4] };
  PlumbLensPairLine edit_and_less[] = { p[0], p[1], p[2], p[4] }, more[] = { p[0], p[1], p[1], p[2], p[3], p[4] };
  PlumbLens lenses[]
      = { *plumb_scene_lens (plumb_job_scene (file), 0), *plumb_scene_lens (plumb_job_scene (file), 1) };

  TYPE_IN (lens_pair, &edited[2], width_m, 9);
  TYPE_IN (lens_pair, &edit_and_less[1], width_m, 9);
  TYPE_IN (lens_pair, &more[2], width_m, 9);
  assert_notes (file, PLUMB_RECORD_LENS_PAIR, edited, 5, "12345");
  assert_notes (file, PLUMB_RECORD_LENS_PAIR, without_third, 4, "1245");
  assert_notes (file, PLUMB_RECORD_LENS_PAIR, edit_and_less, 4, "1235");
  assert_notes (file, PLUMB_RECORD_LENS_PAIR, more, 6, "12345");
  assert_notes (file, PLUMB_RECORD_LENS_PAIR, NULL, 0, "");

  /* The first lens goes, its line with it. */
  PlumbLensPairLine second[] = { p[1], p[2], p[3], p[4] };
  for (int i = 0; i < 4; i++)
    second[i].head.owner = 0;
  g_autoptr (PlumbJobFile) no_lines = test_with (file, PLUMB_RECORD_LENS_PAIR, second, 4);
  g_autoptr (PlumbJobFile) one_lens = test_with (no_lines, PLUMB_RECORD_LENS, &lenses[1], 1);
  g_autofree char *notes = notes_of (one_lens);
  g_assert_cmpstr (notes, ==, "2345");
}

/* ---- edits of the demos, each of them -------------------------------------------------------- */

static GPtrArray *
load_demos (void)
{
  g_autofree char *folder = test_path ("data", "demo", NULL);
  g_autoptr (GPtrArray) names = test_names (folder, ".plumbeam");
  GPtrArray *files = g_ptr_array_new_with_free_func ((GDestroyNotify) plumb_job_file_free);

  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
      g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);
      g_assert_no_error (error);
      g_autofree char *before = test_contents (path);
      g_autofree char *after = test_text (file);
      g_assert_cmpstr (after, ==, before);
      g_auto (GStrv) unknown = plumb_job_unknown_keys (file);
      g_assert_cmpuint (g_strv_length (unknown), ==, 0);
      g_ptr_array_add (files, g_steal_pointer (&file));
    }
  return files;
}

static void
test_demos (void)
{
  g_autoptr (GPtrArray) files = load_demos ();
  g_assert_cmpuint (files->len, >, 0);
}

/* Another value that the field takes. */
static void
change_field (const PlumbField *field, void *record)
{
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    g_assert_true (plumb_field_set_text (field, record, "changed"));
  else if (field->type == PLUMB_TYPE_FLAG || field->type == PLUMB_TYPE_CHOICE)
    plumb_field_set_number (field, record, plumb_field_number (field, record) > 0.5 ? 0.0 : 1.0);
  else
    {
      bool at_least = fabs (plumb_field_number (field, record) - field->least) < 1e-9;
      plumb_field_set_number (field, record, at_least ? field->greatest : field->least);
    }
}

typedef struct {
  unsigned typed, assumed;
} Edits;

/* Changes one field of one record and looks at the lines. */
static void
try_edit (const PlumbJobFile *file, const char *before, PlumbRecordKind kind, uint32_t i, int field, Edits *edits)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  uint32_t count;
  unsigned gone, new;
  const void *records = plumb_scene_records (plumb_job_scene (file), kind, &count);
  g_autofree char *copy = g_memdup2 (records, count * info->size);
  char *record = copy + i * info->size;
  uint64_t *typed = &((PlumbRecordHead *) (void *) record)->typed;
  bool was_typed = (*typed >> field & 1u) != 0;
  bool one_line = info->parent != PLUMB_RECORD_NONE;

  change_field (&info->fields[field], record);
  *typed |= UINT64_C (1) << field;
  g_autoptr (PlumbJobFile) edited = test_with (file, kind, copy, count);
  g_autofree char *after = test_text (edited);
  test_line_changes (before, after, &gone, &new);
  if (was_typed || one_line)
    {
      g_assert_cmpuint (gone, ==, 1);
      g_assert_cmpuint (new, ==, 1);
    }
  else
    {
      /* Its line is added; the one before it may get a comma. */
      g_assert_cmpuint (gone, <=, 1);
      g_assert_cmpuint (new, ==, gone + 1);
    }
  edits->typed += was_typed ? 1 : 0;
  edits->assumed += was_typed ? 0 : 1;
}

static void
test_one_scalar (void)
{
  g_autoptr (GPtrArray) files = load_demos ();
  Edits edits = { 0, 0 };

  for (guint f = 0; f < files->len; f++)
    {
      const PlumbJobFile *file = g_ptr_array_index (files, f);
      g_autofree char *before = test_text (file);
      for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
        {
          uint32_t count;
          plumb_scene_records (plumb_job_scene (file), (PlumbRecordKind) kind, &count);
          /* Every record has the same fields: the ends of an array suffice. */
          for (uint32_t i = 0; i < count; i += MAX (count - 1, 1u))
            for (int field = 0; field < plumb_record_info ((PlumbRecordKind) kind)->n_fields; field++)
              try_edit (file, before, (PlumbRecordKind) kind, i, field, &edits);
        }
    }
  g_test_message ("%u typed values and %u assumed ones were changed", edits.typed, edits.assumed);
  g_assert_cmpuint (edits.typed, >, 300);
  g_assert_cmpuint (edits.assumed, >, 100);
}

/* A new record at `place` of the kind's array; nested ones belong to the owner
 * of the one that was there. */
static PlumbJobFile *
with_new_record (const PlumbJobFile *file, PlumbRecordKind kind, uint32_t place)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  uint32_t count;
  const char *records = plumb_scene_records (plumb_job_scene (file), kind, &count);
  g_autofree char *copy = g_malloc ((count + 1) * info->size);
  PlumbRecordHead *head = (PlumbRecordHead *) (void *) (copy + place * info->size);
  uint32_t beside = place < count ? place : place - 1;

  memcpy (copy, records, place * info->size);
  memcpy (copy + (place + 1) * info->size, records + place * info->size, (count - place) * info->size);
  plumb_record_default (kind, head);
  if (info->parent != PLUMB_RECORD_NONE)
    head->owner = ((const PlumbRecordHead *) (const void *) (records + beside * info->size))->owner;
  else
    {
      head->typed = 1;
      g_assert_true (plumb_field_set_text (&info->fields[0], head, "brand-new"));
    }
  return test_with (file, kind, copy, count + 1);
}

/* Nested owners' indices must follow a record that comes in before them. */
static bool
has_nested (PlumbRecordKind parent)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if (plumb_record_info ((PlumbRecordKind) kind)->parent == parent)
      return true;
  return false;
}

static void
test_add_record (void)
{
  g_autoptr (GPtrArray) files = load_demos ();
  unsigned added = 0;

  for (guint f = 0; f < files->len; f++)
    {
      const PlumbJobFile *file = g_ptr_array_index (files, f);
      g_autofree char *before = test_text (file);
      for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
        {
          uint32_t count;
          plumb_scene_records (plumb_job_scene (file), (PlumbRecordKind) kind, &count);
          bool nested = plumb_record_info ((PlumbRecordKind) kind)->parent != PLUMB_RECORD_NONE;
          uint32_t first = has_nested ((PlumbRecordKind) kind) || (nested && count == 0) ? count : 0;
          if (kind == PLUMB_RECORD_JOB || (nested && count == 0))
            continue;
          for (uint32_t place = first; place <= count; place += MAX (count - first, 1u))
            {
              unsigned gone, new;
              g_autoptr (PlumbJobFile) more = with_new_record (file, (PlumbRecordKind) kind, place);
              g_autofree char *after = test_text (more);
              test_line_changes (before, after, &gone, &new);
              g_assert_cmpuint (gone, <=, 1);
              g_assert_cmpuint (new, >, gone);
              added++;
            }
        }
    }
  g_test_message ("%u records were added", added);
  g_assert_cmpuint (added, >, 60);
}

/* ---- what cannot be written --------------------------------------------------------------------- */

static void
assert_not_written (const PlumbJobFile *file, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = plumb_job_to_text (file, NULL, &error);

  g_assert_null (text);
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT);
  g_assert_cmpstr (error->message, ==, expected);
}

/* Scenes that a faulty program could make. */
static void
test_unwritable (void)
{
  g_autoptr (PlumbJobFile) file = test_load ("{'plumbeam':1,'lamps':[{'id':'a'},{'id':'b'}]}");
  const PlumbLamp *lamps = plumb_scene_lamp (plumb_job_scene (file), 0);
  PlumbLamp not_finite[] = { lamps[0], lamps[1] }, beyond[] = { lamps[0], lamps[1] };
  PlumbLamp twice[] = { lamps[0], lamps[0] }, untyped[] = { lamps[0], lamps[1] };

  TYPE_IN (lamp, &not_finite[1], flux_lm, (double) NAN);
  TYPE_IN (lamp, &beyond[1], flux_lm, -1);
  untyped[1].flux_lm = 7;
  g_autoptr (PlumbJobFile) a = test_with (file, PLUMB_RECORD_LAMP, not_finite, 2);
  g_autoptr (PlumbJobFile) b = test_with (file, PLUMB_RECORD_LAMP, beyond, 2);
  g_autoptr (PlumbJobFile) c = test_with (file, PLUMB_RECORD_LAMP, twice, 2);
  g_autoptr (PlumbJobFile) d = test_with (file, PLUMB_RECORD_LAMP, untyped, 2);
  assert_not_written (a, "lamps[1].flux_lm: expected a number, found null");
  assert_not_written (b, "lamps[1].flux_lm: -1 is below 0");
  assert_not_written (c, "lamps[1].id: \"a\" is used by lamps[0] already");
  assert_not_written (d, "lamps[1]: flux_lm would not read back as it is");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/write/empty", test_empty);
  g_test_add_func ("/write/new-job", test_new_job);
  g_test_add_func ("/write/kept", test_kept);
  g_test_add_func ("/write/escapes", test_escapes);
  g_test_add_func ("/write/spelling-comes-back", test_spelling_comes_back);
  g_test_add_func ("/write/notes-of-records", test_notes_of_records);
  g_test_add_func ("/write/notes-of-nested", test_notes_of_nested);
  g_test_add_func ("/write/demos", test_demos);
  g_test_add_func ("/write/one-scalar", test_one_scalar);
  g_test_add_func ("/write/add-record", test_add_record);
  g_test_add_func ("/write/unwritable", test_unwritable);
  return g_test_run ();
}
