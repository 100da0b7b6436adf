/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * KEY=VALUE. Inches are 25.4 mm exactly (international yard and pound
 * agreement of 1959), so the metres below are worked by hand.
 */
#include <string.h>

#include "job-testing.h"

static const char job[] = "{'plumbeam':1,"
                          "'walls':[{'id':'w','thickness_mm':120}],"
                          "'machines':[{'id':'m'}],"
                          "'structure':[{'id':'s'}],"
                          "'lenses':[{'id':'long','pairs':[{'width_m':1},{'width_m':2}]},{'id':'short'}],"
                          "'places':[{'id':'t2.b'},{'id':'t2','drop_m':0.10},{'id':'drop_m'}],"
                          "'openings':[{'id':'o'}],"
                          "'limits':[{'id':'beam.pixels_kept_least'}]}";

static void
test_values (void)
{
  static const struct {
    const char *setting, *line; /* the line of the file that must then be there */
  } rows[] = {
    { "places.t2.drop_m=0.11", "      'drop_m': 0.11" },
    { "places.t2.drop_m=0.1", "      'drop_m': 0.10" }, /* the same value: its spelling stays */
    { "places.t2.drop_m=1e-1", "      'drop_m': 0.10" },
    { "places.t2.drop_m=11 cm", "      'drop_m': 0.11" },
    { "places.t2.drop_m=110mm", "      'drop_m': 0.11" },
    { "places.t2.drop_m=4 in", "      'drop_m': 0.1016" },
    { "places.t2.drop_m=3/16 in", "      'drop_m': 0.0047625" },
    { "places.t2.drop_m=4 3/8\"", "      'drop_m': 0.111125" },
    { "places.t2.along_m=9' 8 1/8\"", "      'along_m': 2.949575," },
    { "places.t2.along_m=3.2 m + 40 mm", "      'along_m': 3.24," },
    { "places.t2.along_m=0.1 m + 0.2 m", "      'along_m': 0.3," },
    { "places.t2.along_m=-2", "      'along_m': -2," },
    { "places.t2.b.drop_m=0.5", "      'drop_m': 0.5" },
    { "places.drop_m.drop_m=0.25", "      'drop_m': 0.25" },
    { "walls.w.thickness_mm=200", "      'thickness_mm': 200" },
    { "walls.w.thickness_mm=8 in", "      'thickness_mm': 203.2" },
    { "walls.w.thickness_mm=3/16 in", "      'thickness_mm': 4.7625" },
    { "walls.w.thickness_mm=0.2 m", "      'thickness_mm': 200" },
    { "walls.w.space=nowhere", "      'space': 'nowhere'," },
    { "machines.m.pitch_limit_deg=12.5", "      'pitch_limit_deg': 12.5" },
    { "structure.s.count=7", "      'count': 7" },
    { "structure.s.count=7.0", "      'count': 7" },
    { "openings.o.closed=false", "      'closed': false" },
    { "openings.o.closed=true", "      'closed': true" },
    { "lenses.long.pairs.2.width_m=3.1", "        { 'width_m': 3.1 }" },
    { "lenses.long.pairs.1.gap_m=-0.1", "        { 'width_m': 1, 'gap_m': -0.1 }," },
    { "lenses.short.shift_set=image_circle", "      'shift_set': 'image_circle'" },
    { "job.title=Loft = attic, \"old\" part", "    'title': 'Loft = attic, \\\"old\\\" part'" },
    { "job.title=", "    'title': ''" },
    { "job.units=imperial", "    'units': 'imperial'" },
    { "limits.beam.pixels_kept_least.value=0.8", "      'value': 0.8" },
  };

  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (PlumbJobFile) file = test_load (job);
      g_autoptr (PlumbJobFile) edited = plumb_job_set (file, rows[i].setting, &error);
      g_assert_no_error (error);
      g_assert_nonnull (plumb_scene_resolved (plumb_job_scene (edited)));
      g_autofree char *before = test_text (file);
      g_autofree char *after = test_text (edited);
      g_autofree char *line = test_quotes (rows[i].line);
      g_autofree char *whole_line = g_strdup_printf ("\n%s\n", line);
      unsigned gone, new;
      test_line_changes (before, after, &gone, &new);
      g_test_message ("%s", rows[i].setting);
      g_assert_nonnull (strstr (after, whole_line));
      /* A job that was not there is three lines. */
      g_assert_cmpuint (new, <=, g_str_has_prefix (rows[i].setting, "job.") ? 3 : 2);
    }
}

static void
test_typed (void)
{
  g_autoptr (PlumbJobFile) file = test_load (job);
  g_autoptr (PlumbJobFile) edited = plumb_job_set (file, "walls.w.flatness_mm=5", NULL);
  const PlumbWall *before = plumb_scene_wall (plumb_job_scene (file), 0);
  const PlumbWall *after = plumb_scene_wall (plumb_job_scene (edited), 0);

  /* 5 mm is the default: nothing changes but that somebody said so. */
  g_assert_false (PLUMB_TYPED (wall, before, flatness_m));
  g_assert_true (PLUMB_TYPED (wall, after, flatness_m));
  g_assert_cmpfloat (after->flatness_m, ==, before->flatness_m);
  g_assert_true (plumb_scene_shares (plumb_job_scene (file), plumb_job_scene (edited), PLUMB_RECORD_LENS));
}

static void
test_messages (void)
{
  static const char kinds[] = "job, tapes, spaces, walls, ceilings, structure, screens, machines, lenses, mounts, "
                              "places, arrangements, seats, rows, people, blockers, ports, openings, lamps, "
                              "light_states, limits";
  static const struct {
    const char *setting, *message;
  } rows[] = {
    { "places.t2.drop_m", "places.t2.drop_m: expected KEY=VALUE" },
    { "", ": expected KEY=VALUE" },
    { "places.t9.drop_m=1", "places.t9.drop_m: none of the places has this id; there are t2.b, t2, drop_m" },
    { "places.t2=1", "places.t2: none of the places has this id; there are t2.b, t2, drop_m" },
    { "seats.a.x_m=1", "seats.a.x_m: there are no seats" },
    { "lenses.long.pairs.2.width=1",
      "lenses.long.pairs.2.width: there is no such key; there are end, distance_m, width_m, gap_m" },
    { "lenses.long.pairs.3.width_m=1", "lenses.long.pairs.3.width_m: there are only 2 pairs" },
    { "lenses.short.pairs.1.width_m=1", "lenses.short.pairs.1.width_m: there are only 0 pairs" },
    { "lenses.long.pairs.0.width_m=1",
      "lenses.long.pairs.0.width_m: after pairs comes a position from 1, a point and a key" },
    { "lenses.long.pairs.1=1", "lenses.long.pairs.1: after pairs comes a position from 1, a point and a key" },
    { "lenses.long.pairs=1", NULL },
    { "tapes.a.error_mm=1", "tapes.a.error_mm: there are no tapes" },
    { "walls.w.id=v", "walls.w.id: an id cannot be set, since other records refer to it" },
    { "places.t2.drop_m=30", "places.t2.drop_m: 30 is above 20" },
    { "places.t2.drop_m=30 m", "places.t2.drop_m: 30 is above 20" },
    { "walls.w.thickness_mm=0.2", "walls.w.thickness_mm: 0.2 is below 1" },
    { "places.t2.drop_m=", "places.t2.drop_m: not a length: character 1: a length is expected" },
    { "machines.m.mass_kg=4 kg", "machines.m.mass_kg: expected a number, found \"4 kg\"" },
    { "machines.m.mass_kg=nan", "machines.m.mass_kg: expected a number, found \"nan\"" },
    { "machines.m.mass_kg=0x4", "machines.m.mass_kg: expected a number, found \"0x4\"" },
    { "machines.m.mass_kg=1e999", "machines.m.mass_kg: expected a number, found \"1e999\"" },
    { "machines.m.mass_kg=4,5", "machines.m.mass_kg: expected a number, found \"4,5\"" },
    { "structure.s.count=2.5", "structure.s.count: 2.5 is not a whole number" },
    { "openings.o.closed=yes", "openings.o.closed: expected true or false, found \"yes\"" },
    { "job.units=feet", "job.units: \"feet\" is not one of \"metric\", \"imperial\"" },
    { "job.revision=123456789012345678901234", "job.revision: the text has 24 bytes, more than 23" },
    { "job.title=\xff", "KEY=VALUE is not UTF-8" },
  };
  g_autoptr (PlumbJobFile) file = test_load (job);

  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (PlumbJobFile) edited = plumb_job_set (file, rows[i].setting, &error);
      g_autofree char *shown = g_utf8_make_valid (rows[i].setting, -1);
      g_test_message ("%s", shown);
      g_assert_null (edited);
      g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET);
      if (rows[i].message != NULL)
        g_assert_cmpstr (error->message, ==, rows[i].message);
    }
  g_autoptr (GError) error = NULL;
  g_autofree char *expected
      = g_strdup_printf ("place.t2.drop_m: it does not begin with a kind of record and a point; there are %s", kinds);
  g_assert_null (plumb_job_set (file, "place.t2.drop_m=1", &error));
  g_assert_cmpstr (error->message, ==, expected);
}

/* Every field of every record of the demos can be named and takes its own value. */
static void
test_every_key (void)
{
  g_autofree char *folder = test_path ("data", "demo", NULL);
  g_autoptr (GPtrArray) names = test_names (folder, ".plumbeam");
  unsigned n = 0;

  for (guint f = 0; f < names->len; f++)
    {
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, f), NULL);
      g_autoptr (PlumbJobFile) file = plumb_job_load (path, NULL);
      const PlumbScene *scene = plumb_job_scene (file);
      g_autofree char *before = test_text (file);
      for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
        {
          const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
          uint32_t count;
          plumb_scene_records (scene, (PlumbRecordKind) kind, &count);
          if (info->parent != PLUMB_RECORD_NONE || count == 0)
            continue;
          const PlumbRecordHead *head = plumb_scene_record (scene, (PlumbRecordKind) kind, count - 1);
          const char *id = plumb_record_id ((PlumbRecordKind) kind, head);
          for (int field = kind == PLUMB_RECORD_JOB ? 0 : 1; field < info->n_fields; field++)
            {
              const PlumbField *what = &info->fields[field];
              char number[G_ASCII_DTOSTR_BUF_SIZE];
              const char *value = number;
              if ((head->typed >> field & 1u) == 0)
                continue;
              if (what->type == PLUMB_TYPE_TEXT || what->type == PLUMB_TYPE_REF)
                value = plumb_field_text (what, head);
              else if (what->type == PLUMB_TYPE_CHOICE)
                value = what->choices[(int) plumb_field_number (what, head)].word;
              else if (what->type == PLUMB_TYPE_FLAG)
                value = plumb_field_number (what, head) > 0.5 ? "true" : "false";
              else
                g_ascii_formatd (number, sizeof number, "%.15g", plumb_field_number (what, head));
              g_autofree char *setting
                  = g_strconcat (info->key, ".", id, *id != '\0' ? "." : "", what->key, "=", value, NULL);
              g_autoptr (GError) error = NULL;
              g_autoptr (PlumbJobFile) edited = plumb_job_set (file, setting, &error);
              g_assert_no_error (error);
              g_autofree char *after = test_text (edited);
              g_assert_cmpstr (after, ==, before);
              n++;
            }
        }
    }
  g_assert_cmpuint (n, >, 200);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/set/values", test_values);
  g_test_add_func ("/set/typed", test_typed);
  g_test_add_func ("/set/messages", test_messages);
  g_test_add_func ("/set/every-key", test_every_key);
  return g_test_run ();
}
