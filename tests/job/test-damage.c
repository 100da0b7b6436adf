/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Damaged files: never a crash, and what opens is sound. Sound means that
 * every number is finite and inside its range (read from the field tables),
 * every text is UTF-8, and what is written opens again and is written the same.
 */
#include <math.h>
#include <string.h>

#include "job-testing.h"

#define SEED 20240514
#define RANDOM_FILES 20000

/* Every type of field, nested records, unknown keys, escapes. */
static const char sample[] = "{\n"
                             "  'plumbeam': 1,\n"
                             "  'job': { 'title': 'A \\ud83d\\ude00 b\\n', 'units': 'imperial', 'tape': 't' },\n"
                             "  'tapes': [ { 'id': 't', 'error_mm': 1.5e0 } ],\n"
                             "  'structure': [ { 'id': 's', 'count': 7, 'exposed': true, 'end_x_m': -0.0e-1 } ],\n"
                             "  'lenses': [ { 'id': 'l', 'pairs': [ { 'width_m': 2.18 }, { 'gap_m': 0 } ] } ],\n"
                             "  'more': [ null, false, { 'x': [ -12.50, [], {} ] } ]\n"
                             "}\n";

static void
assert_number (const PlumbField *field, const void *record)
{
  double member;

  if (field->type != PLUMB_TYPE_NUM)
    {
      double number = plumb_field_number (field, record);
      g_assert_true (number >= field->least && number <= field->greatest && number == floor (number));
      return;
    }
  memcpy (&member, (const char *) record + field->offset, sizeof member);
  double factor = plumb_quantity_factor (field->quantity);
  g_assert_true (member >= field->least * factor && member <= field->greatest * factor);
}

static void
assert_field (const PlumbField *field, const void *record)
{
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    {
      const char *text = plumb_field_text (field, record);
      g_assert_cmpuint (strlen (text), <, field->size);
      g_assert_true (g_utf8_validate (text, -1, NULL));
    }
  else
    assert_number (field, record);
}

static void
assert_sound_scene (const PlumbScene *scene)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
      uint32_t count;
      plumb_scene_records (scene, (PlumbRecordKind) kind, &count);
      for (uint32_t i = 0; i < count; i++)
        for (int field = 0; field < info->n_fields; field++)
          assert_field (&info->fields[field], plumb_scene_record (scene, (PlumbRecordKind) kind, i));
    }
}

/* Whether it opened. */
static bool
try_bytes (const char *bytes, gsize size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load_bytes (bytes, size, &error);

  if (file == NULL)
    {
      g_assert_true (error->domain == PLUMB_JOB_ERROR);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      return false;
    }
  g_assert_no_error (error);
  assert_sound_scene (plumb_job_scene (file));
  g_auto (GStrv) unknown = plumb_job_unknown_keys (file);
  g_assert_nonnull (unknown);
  g_autofree char *text = test_text (file);
  g_autoptr (PlumbJobFile) again = plumb_job_load_bytes (text, strlen (text), &error);
  g_assert_no_error (error);
  g_autofree char *text_again = test_text (again);
  g_assert_cmpstr (text, ==, text_again);
  return true;
}

static void
test_cut_off (void)
{
  g_autofree char *text = test_quotes (sample);
  gsize size = strlen (text);

  g_assert_true (try_bytes (text, size));
  /* Only the last line feed may go. */
  g_assert_true (try_bytes (text, size - 1));
  for (gsize length = 0; length < size - 1; length++)
    {
      /* A copy of just this length, so that reading beyond it is caught. */
      g_autofree char *cut = g_memdup2 (text, length);
      g_assert_false (try_bytes (cut, length));
    }
}

static void
test_one_byte (void)
{
  static const char others[] = "\"\\{}[]:,-+.0e1tn \n/\x01\x7f\xc3\xff";
  g_autofree char *text = test_quotes (sample);
  gsize size = strlen (text);
  unsigned opened = 0;

  for (gsize at = 0; at < size; at++)
    for (gsize i = 0; i < sizeof others; i++)
      {
        char before = text[at];
        text[at] = others[i];
        opened += try_bytes (text, size) ? 1 : 0;
        text[at] = before;
      }
  /* Damage inside a text or a number goes unnoticed, as it must. */
  g_assert_cmpuint (opened, >, 100);
}

static void
test_one_byte_less_or_twice (void)
{
  g_autofree char *text = test_quotes (sample);
  gsize size = strlen (text);

  for (gsize at = 0; at < size; at++)
    {
      g_autoptr (GString) less = g_string_new_len (text, (gssize) size);
      g_autoptr (GString) twice = g_string_new_len (text, (gssize) size);
      g_string_erase (less, (gssize) at, 1);
      g_string_insert_c (twice, (gssize) at, text[at]);
      try_bytes (less->str, less->len);
      try_bytes (twice->str, twice->len);
    }
}

static void
test_random_bytes (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (int i = 0; i < RANDOM_FILES; i++)
    {
      char bytes[200];
      gsize size = (gsize) g_rand_int_range (rand, 0, sizeof bytes);
      for (gsize k = 0; k < size; k++)
        bytes[k] = (char) g_rand_int_range (rand, 0, 256);
      g_assert_false (try_bytes (bytes, size));
    }
}

/* Pieces of job files in any order. */
static void
test_random_pieces (void)
{
  static const char *const pieces[] = {
    "{",          "}",       "[",         "]",          ",",
    ":",          "\"",      "\"id\"",    "\"a\"",      "\"walls\"",
    "1",          "-2.5e3",  "1e999",     "true",       "null",
    "\"job\"",    "\"x_m\"", "\"pairs\"", "\"lenses\"", "\"plumbeam\": 1",
    "\n",         "\\u00",   "\\ud8",     "\"units\"",  "\"metric\"",
    "\"states\"", "0.1",     "\"limit\"", "\"count\"",  " ",
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (int i = 0; i < RANDOM_FILES; i++)
    {
      g_autoptr (GString) text = g_string_new ("{\"plumbeam\": 1, ");
      for (int n = g_rand_int_range (rand, 0, 40); n > 0; n--)
        g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
      try_bytes (text->str, text->len);
    }
}

/* A job with some bytes changed at random. */
static void
test_random_damage (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);
  g_autofree char *text = test_quotes (sample);
  gsize size = strlen (text);
  unsigned opened = 0;

  for (int i = 0; i < RANDOM_FILES; i++)
    {
      g_autofree char *damaged = g_memdup2 (text, size);
      for (int n = g_rand_int_range (rand, 1, 6); n > 0; n--)
        damaged[g_rand_int_range (rand, 0, (gint32) size)]
            = (char) (g_rand_boolean (rand) ? text[g_rand_int_range (rand, 0, (gint32) size)]
                                            : g_rand_int_range (rand, 0, 256));
      opened += try_bytes (damaged, size) ? 1 : 0;
    }
  g_assert_cmpuint (opened, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/damage/cut-off", test_cut_off);
  g_test_add_func ("/damage/one-byte", test_one_byte);
  g_test_add_func ("/damage/one-byte-less-or-twice", test_one_byte_less_or_twice);
  g_test_add_func ("/damage/random-bytes", test_random_bytes);
  g_test_add_func ("/damage/random-pieces", test_random_pieces);
  g_test_add_func ("/damage/random-damage", test_random_damage);
  return g_test_run ();
}
