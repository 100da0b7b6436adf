/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Measures, judges nothing: a full evaluation with 48 seats and 20 blockers,
 * and of raked and flat halls of 100 to 10,000 seats. Medians on a monotonic
 * clock and of the thread's own processor time.
 */
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

#include "../engine/sample-job.h"
#include "timing.h"

#define RUNS 5

typedef struct {
  double clock_us, processor_us;
} Took;

static Took
measure (const Sample *s, unsigned runs)
{
  g_autofree double *took = g_new (double, runs), *used = g_new (double, runs);
  PlumbScene *scene = sample_scene (s);

  for (unsigned i = 0; i < runs; i++)
    {
      PlumbEvaluation *e;
      double start = now_us (), begun = processor_us ();
      if (!plumb_evaluate (scene, 0, &e))
        g_error ("out of memory");
      took[i] = now_us () - start;
      used[i] = processor_us () - begun;
      plumb_evaluation_free (e);
    }
  plumb_scene_unref (scene);
  return (Took){ median (took, runs), median (used, runs) };
}

static PlumbRow *
rows (Sample *s, int count, int n_rows, double back_m, double middle_m)
{
  PlumbRow *row = &s->row[0];

  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "r");
  row->count = count;
  row->rows = n_rows;
  row->x_m = middle_m - row->pitch_m * (count - 1) / 2.0;
  row->y_m = 9.4 - back_m;
  row->facing_rad = PLUMB_PI / 2.0;
  s->n_row = 1;
  return row;
}

/* The plain room with six rows of eight and twenty boxes about it. */
static void
measure_room (void)
{
  g_autofree Sample *s = g_new0 (Sample, 1);
  sample_init (s);
  rows (s, 8, 6, 2.5, 3.1)->riser_m = 0.15;
  for (int i = 0; i < 20; i++)
    sample_add_box (s, "box", 0.3 + 0.28 * i, i % 2 == 0 ? 9.0 : 0.6 + 0.3 * i, i % 3 == 0 ? 2.4 : 0.0, 0.2, 0.2,
                    0.5);
  Took took = measure (s, 401);
  printf ("48 seats, 20 blockers              %10.1f µs, processor %10.1f µs\n", took.clock_us, took.processor_us);
}

/* A hall that grows with its seats: twice as many a row as rows, picture and
 * throw in proportion. With 0.35 m rise per row mostly the row in front comes
 * before the picture; on a flat floor the nearer half of all rows does. */
static void
measure_hall (int n_rows, double riser_m)
{
  g_autofree Sample *s = g_new0 (Sample, 1);
  int count = 2 * n_rows;
  double width_m = 0.55 * count + 4.0, depth_m = 0.9 * n_rows + 6.0, height_m = riser_m * n_rows + 8.0;
  sample_init (s);
  s->wall[1].x_m = s->wall[2].x_m = width_m;
  s->wall[0].y_m = s->wall[1].y_m = 9.4 - depth_m;
  s->ceiling[0].height_m = height_m;
  s->screen[0].width_m = width_m * 0.5;
  s->screen[0].height_m = fmin (s->screen[0].width_m * 9.0 / 16.0, height_m - 2.5);
  s->screen[0].bottom_m = 1.5;
  s->screen[0].across_m = s->place[0].along_m = width_m / 2.0;
  s->place[0].off_m = fmin (depth_m - 1.0, s->screen[0].width_m * 1.5);
  rows (s, count, n_rows, 4.0, width_m / 2.0)->riser_m = riser_m;
  Took took = measure (s, RUNS);
  printf ("%s hall of %6d seats        %10.1f µs, processor %10.1f µs, %6.3f µs per seat\n",
          riser_m > 0.0 ? "raked" : "flat ", count * n_rows, took.clock_us, took.processor_us,
          took.processor_us / (count * n_rows));
}

int
main (void)
{
  static const int sizes[] = { 7, 10, 16, 22, 32, 50, 71 };

  /* The largest take a while: each line as it comes. */
  setvbuf (stdout, NULL, _IOLBF, 0);
  measure_room ();
  for (size_t i = 0; i < G_N_ELEMENTS (sizes); i++)
    measure_hall (sizes[i], 0.35);
  for (size_t i = 0; i < G_N_ELEMENTS (sizes); i++)
    measure_hall (sizes[i], 0.0);
  return fflush (stdout) == 0 && !ferror (stdout) ? 0 : 3;
}
