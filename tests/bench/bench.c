/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Measures, judges nothing: one full evaluation of each demo's current
 * arrangement, and opening and saving a job with 2,000 seats beside what
 * json-glib needs to parse and print the same bytes once.
 *
 * Medians of many runs on a monotonic clock. Saving is measured twice: in
 * memory (writing out and reading back), as json-glib's side has no disc
 * either, and all the way to the disc with its syncs, backup and rename.
 */
#include <glib.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "job/job.h"
#include "plumbeam/evaluate.h"
#include "timing.h"

#define EVALUATIONS 2000
#define FILE_RUNS 41
#define SEATS 2000

/* Sorts the runs. */
static void
stop_at (const GError *error, const char *what)
{
  if (error != NULL)
    g_error ("%s: %s", what, error->message);
}

static char *
demo_path (const char *name)
{
  const char *root = g_getenv ("PLUMB_SOURCE_DIR");
  return g_build_filename (root != NULL ? root : ".", "data", "demo", name, NULL);
}

static PlumbJobFile *
load_demo (const char *name)
{
  g_autofree char *path = demo_path (name);
  g_autoptr (GError) error = NULL;
  PlumbJobFile *file = plumb_job_load (path, &error);
  stop_at (error, path);
  return file;
}

static void
measure_evaluation (const char *name)
{
  static double runs[EVALUATIONS];
  g_autoptr (PlumbJobFile) file = load_demo (name);
  const PlumbScene *scene = plumb_job_scene (file);
  uint32_t arrangement = plumb_scene_current_arrangement (scene);

  for (size_t i = 0; i < EVALUATIONS; i++)
    {
      PlumbEvaluation *evaluation;
      double start = now_us ();
      if (!plumb_evaluate (scene, arrangement, &evaluation))
        g_error ("out of memory");
      runs[i] = now_us () - start;
      plumb_evaluation_free (evaluation);
    }
  double middle = median (runs, EVALUATIONS);
  printf ("evaluate %-24s %8.1f µs   (least %.1f, 95 %% under %.1f)\n", name, middle, runs[0],
          runs[EVALUATIONS * 95 / 100]);
}

#define TYPE_IN(seat, member, number)                                                                                \
  do                                                                                                                 \
    {                                                                                                                \
      (seat)->member = (number);                                                                                     \
      (seat)->head.typed |= UINT64_C (1) << PLUMB_FIELD_seat_##member;                                               \
    }                                                                                                                \
  while (0)

/* The demo with 2,000 seats typed one by one, as survey software might. */
static char *
job_with_seats (gsize *size)
{
  g_autoptr (PlumbJobFile) demo = load_demo ("music-room.plumbeam");
  g_autofree PlumbSeat *seats = g_new (PlumbSeat, SEATS);
  for (int i = 0; i < SEATS; i++)
    {
      PlumbSeat *seat = &seats[i];
      plumb_record_default (PLUMB_RECORD_SEAT, seat);
      g_snprintf (seat->id, sizeof seat->id, "seat-%d", i + 1);
      seat->head.typed |= UINT64_C (1) << PLUMB_FIELD_seat_id;
      TYPE_IN (seat, x_m, 1.0 + 0.137 * (i % 40));
      TYPE_IN (seat, y_m, 1.0 + 0.173 * (i / 40));
      TYPE_IN (seat, eye_height_m, 1.15 + 0.001 * (i % 90));
      TYPE_IN (seat, floor_z_m, 0.12 * (i / 400));
    }
  PlumbScene *scene = plumb_scene_with (plumb_job_scene (demo), PLUMB_RECORD_SEAT, seats, SEATS);
  if (scene == NULL || !plumb_scene_commit (scene))
    g_error ("out of memory");
  g_autoptr (PlumbJobFile) file = plumb_job_with_scene (demo, scene);
  plumb_scene_unref (scene);
  g_autoptr (GError) error = NULL;
  char *text = plumb_job_to_text (file, size, &error);
  stop_at (error, "2,000 seats");
  return text;
}

static double
open_and_write_us (const char *text, gsize size, double *open_us)
{
  g_autoptr (GError) error = NULL;
  double start = now_us ();
  g_autoptr (PlumbJobFile) file = plumb_job_load_bytes (text, size, &error);
  stop_at (error, "opening");
  *open_us = now_us () - start;
  gsize written;
  g_autofree char *again = plumb_job_to_text (file, &written, &error);
  stop_at (error, "writing");
  double took = now_us () - start;
  if (written != size || memcmp (again, text, size) != 0)
    g_error ("the job came out changed");
  return took;
}

static double
save_us (const char *text, gsize size, const char *folder)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PlumbJobFile) file = plumb_job_load_bytes (text, size, &error);
  stop_at (error, "opening");
  g_autofree char *path = g_build_filename (folder, "seats.plumbeam", NULL);
  double start = now_us ();
  plumb_job_save (file, path, &error);
  double took = now_us () - start;
  stop_at (error, "saving");
  return took;
}

static double
json_glib_us (const char *text, gsize size)
{
  g_autoptr (GError) error = NULL;
  double start = now_us ();
  g_autoptr (JsonParser) parser = json_parser_new ();
  json_parser_load_from_data (parser, text, (gssize) size, &error);
  stop_at (error, "json-glib");
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  json_generator_set_pretty (generator, TRUE);
  json_generator_set_root (generator, json_parser_get_root (parser));
  g_autofree char *printed = json_generator_to_data (generator, NULL);
  double took = now_us () - start;
  if (printed == NULL)
    g_error ("json-glib printed nothing");
  return took;
}

static void
measure_file (void)
{
  double ours[FILE_RUNS], opens[FILE_RUNS], saves[FILE_RUNS], theirs[FILE_RUNS];
  gsize size;
  g_autofree char *text = job_with_seats (&size);
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("plumbeam-bench-XXXXXX", &error);
  stop_at (error, "temporary folder");

  /* Taken in turn, so that a slow moment of the machine meets both. */
  for (size_t i = 0; i < FILE_RUNS; i++)
    {
      theirs[i] = json_glib_us (text, size);
      ours[i] = open_and_write_us (text, size, &opens[i]);
      saves[i] = opens[i] + save_us (text, size, folder);
    }
  static const char *const left[] = { "seats.plumbeam", "seats.plumbeam~" };
  for (size_t i = 0; i < G_N_ELEMENTS (left); i++)
    {
      g_autofree char *path = g_build_filename (folder, left[i], NULL);
      g_remove (path);
    }
  if (g_rmdir (folder) != 0)
    g_error ("%s is not empty", folder);

  double our_median = median (ours, FILE_RUNS), their_median = median (theirs, FILE_RUNS);
  printf ("file of %d seats, %" G_GSIZE_FORMAT " bytes\n", SEATS, size);
  printf ("  json-glib, parse and print       %8.2f ms\n", their_median * 1e-3);
  printf ("  open                             %8.2f ms\n", median (opens, FILE_RUNS) * 1e-3);
  printf ("  open, write and read back        %8.2f ms   ratio %.2f\n", our_median * 1e-3, our_median / their_median);
  double save_median = median (saves, FILE_RUNS);
  printf ("  open and save on the disc        %8.2f ms   ratio %.2f\n", save_median * 1e-3,
          save_median / their_median);
}

int
main (void)
{
  measure_evaluation ("net-loft.plumbeam");
  measure_evaluation ("music-room.plumbeam");
  measure_file ();
  return 0;
}
