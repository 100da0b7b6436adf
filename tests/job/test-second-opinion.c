/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The demos as json-glib reads them, value by value against the records: it
 * shares no code with the reader and the writer under test.
 */
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

#include "job-testing.h"

static unsigned n_values;

static void
compare_field (const PlumbField *field, const void *record, JsonNode *node)
{
  n_values++;
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    g_assert_cmpstr (json_node_get_string (node), ==, plumb_field_text (field, record));
  else if (field->type == PLUMB_TYPE_CHOICE)
    g_assert_cmpstr (json_node_get_string (node), ==, field->choices[(int) plumb_field_number (field, record)].word);
  else if (field->type == PLUMB_TYPE_FLAG)
    {
      g_assert_true (json_node_get_value_type (node) == G_TYPE_BOOLEAN);
      g_assert_true (json_node_get_boolean (node) == (plumb_field_number (field, record) > 0.5));
    }
  else if (field->type == PLUMB_TYPE_COUNT)
    g_assert_cmpfloat (json_node_get_double (node), ==, plumb_field_number (field, record));
  else
    {
      double member;
      memcpy (&member, (const char *) record + field->offset, sizeof member);
      g_assert_cmpfloat (json_node_get_double (node) * plumb_quantity_factor (field->quantity), ==, member);
    }
}

static void compare_array (const PlumbScene *scene, PlumbRecordKind kind, uint32_t first, uint32_t count,
                           JsonNode *node);

static void
compare_record (const PlumbScene *scene, PlumbRecordKind kind, uint32_t i, JsonObject *object)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  const PlumbRecordHead *head = plumb_scene_record (scene, kind, i);

  for (int field = 0; field < info->n_fields; field++)
    {
      JsonNode *node = json_object_get_member (object, info->fields[field].key);
      g_assert_true ((node != NULL) == ((head->typed >> field & 1u) != 0));
      if (node != NULL)
        compare_field (&info->fields[field], head, node);
    }
  for (int nested = 0; nested < PLUMB_N_RECORDS; nested++)
    {
      const PlumbRecordInfo *inner = plumb_record_info ((PlumbRecordKind) nested);
      uint32_t all, count;
      if (inner->parent != kind)
        continue;
      const char *records = plumb_scene_records (scene, (PlumbRecordKind) nested, &all);
      const char *first = plumb_scene_nested (scene, (PlumbRecordKind) nested, i, &count);
      JsonNode *node = json_object_get_member (object, inner->key);
      g_assert_true ((node != NULL) == (count > 0));
      if (node != NULL)
        compare_array (scene, (PlumbRecordKind) nested, (uint32_t) ((size_t) (first - records) / inner->size), count,
                       node);
    }
}

static void
compare_array (const PlumbScene *scene, PlumbRecordKind kind, uint32_t first, uint32_t count, JsonNode *node)
{
  JsonArray *array = json_node_get_array (node);

  g_assert_cmpuint (json_array_get_length (array), ==, count);
  for (uint32_t i = 0; i < count; i++)
    compare_record (scene, kind, first + i, json_array_get_object_element (array, i));
}

static void
compare_file (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load (path, &error);
  g_assert_no_error (error);
  const PlumbScene *scene = plumb_job_scene (file);
  g_autofree char *text = test_text (file);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_assert_true (json_parser_load_from_data (parser, text, -1, &error));
  JsonObject *root = json_node_get_object (json_parser_get_root (parser));

  g_assert_cmpint (json_object_get_int_member (root, "plumbeam"), ==, PLUMB_FORMAT_VERSION);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
      JsonNode *node = json_object_get_member (root, info->key);
      uint32_t count;
      plumb_scene_records (scene, (PlumbRecordKind) kind, &count);
      if (info->parent != PLUMB_RECORD_NONE || node == NULL)
        {
          g_assert_true (info->parent != PLUMB_RECORD_NONE || count == 0);
          continue;
        }
      if (kind == PLUMB_RECORD_JOB)
        compare_record (scene, PLUMB_RECORD_JOB, 0, json_node_get_object (node));
      else
        compare_array (scene, (PlumbRecordKind) kind, 0, count, node);
    }
}

static void
test_demos (void)
{
  g_autofree char *folder = test_path ("data", "demo", NULL);
  g_autoptr (GPtrArray) names = test_names (folder, ".plumbeam");

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
      compare_file (path);
    }
  g_test_message ("%u values agree", n_values);
  g_assert_cmpuint (n_values, >, 300);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/second-opinion/demos", test_demos);
  return g_test_run ();
}
