/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Times the 3D view's passes on a demo, with no display: 900 × 600 pixels, the
 * lighter pass of a drag and the full picture, orbiting and with a scene that
 * changes. Prints medians; no verdict.
 */
#include <epoxy/gl.h>
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "job/job.h"
#include "view3d/view3d.h"

#define WIDTH_PX 900
#define HEIGHT_PX 600
#define ROUNDS 25

typedef struct {
  PlumbView3d *view;
  PlumbScene *scene;
  PlumbEvaluation *evaluation;
  PlumbCamera camera;
} Bench;

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static void
measure (Bench *bench, const char *what, gboolean light, gboolean anew)
{
  double ms[ROUNDS];
  const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  PlumbView3dOptions options = { .beam = true,
                                 .thrown = true,
                                 .seat = PLUMB_NO_INDEX,
                                 .chosen = nothing,
                                 .hovered = nothing,
                                 .white_share = 1.0,
                                 .light_pass = light };

  clock_t cpu = 0;
  for (int i = -3; i < ROUNDS; i++)
    {
      g_autoptr (GError) error = NULL;
      if (i == 0)
        cpu = clock ();
      gint64 start_us = g_get_monotonic_time ();
      plumb_camera_orbit (&bench->camera, i & 1 ? 0.01 : -0.01, 0.0);
      plumb_view3d_set_camera (bench->view, &bench->camera);
      plumb_view3d_set_options (bench->view, &options);
      if (anew)
        plumb_view3d_set_scene (bench->view, bench->scene, bench->evaluation);
      if (!plumb_view3d_render (bench->view, WIDTH_PX, HEIGHT_PX, &error))
        g_error ("%s", error->message);
      glFinish ();
      if (i >= 0)
        ms[i] = (double) (g_get_monotonic_time () - start_us) / 1000.0;
    }
  qsort (ms, ROUNDS, sizeof ms[0], compare);
  double used_ms = (double) (clock () - cpu) * 1000.0 / CLOCKS_PER_SEC / ROUNDS;
  printf ("%-36s %6.1f ms (%.1f to %.1f), processor %.1f ms\n", what, ms[ROUNDS / 2], ms[0], ms[ROUNDS - 1], used_ms);
}

static void
bind_target (void)
{
  GLuint frame, colour;

  glGenFramebuffers (1, &frame);
  glGenTextures (1, &colour);
  glBindTexture (GL_TEXTURE_2D, colour);
  glTexImage2D (GL_TEXTURE_2D, 0, GL_RGBA8, WIDTH_PX, HEIGHT_PX, 0, GL_RGBA, GL_UNSIGNED_BYTE, NULL);
  glBindFramebuffer (GL_FRAMEBUFFER, frame);
  glFramebufferTexture2D (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour, 0);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  Bench bench = { 0 };
  PlumbView3dColours colours
      = { .paper = { 0.93f, 0.91f, 0.88f }, .beam = { 0.95f, 0.81f, 0.49f }, .room_light = 1.0f };
  PlumbJobFile *job = argc > 1 ? plumb_job_load (argv[1], &error) : NULL;
  PlumbOffscreen *offscreen = job != NULL ? plumb_offscreen_new (false, &error) : NULL;

  if (offscreen == NULL)
    g_error ("%s", error != NULL ? error->message : "usage: bench-view3d FILE");
  bind_target ();
  bench.scene = plumb_scene_ref ((PlumbScene *) plumb_job_scene (job));
  if (!plumb_evaluate (bench.scene, plumb_scene_current_arrangement (bench.scene), &bench.evaluation)
      || !plumb_camera_home (bench.scene, bench.evaluation, PLUMB_CAMERA_ROOM, PLUMB_NO_INDEX, 1.5, &bench.camera))
    g_error ("the job has nothing to look at");
  bench.view = plumb_view3d_new ();
  plumb_view3d_set_colours (bench.view, &colours);
  plumb_view3d_set_pattern (bench.view, PLUMB_PATTERN_LANDSCAPE);
  plumb_view3d_set_scene (bench.view, bench.scene, bench.evaluation);
  gint64 start_us = g_get_monotonic_time ();
  if (!plumb_view3d_realize (bench.view, &error))
    g_error ("%s", error->message);
  printf ("%-44s %6.1f ms\n", "shaders", (double) (g_get_monotonic_time () - start_us) / 1000.0);
  measure (&bench, "lighter pass, walking round", TRUE, FALSE);
  measure (&bench, "lighter pass, something dragged", TRUE, TRUE);
  measure (&bench, "full picture, walking round", FALSE, FALSE);
  measure (&bench, "full picture, something changed", FALSE, TRUE);
  plumb_view3d_unrealize (bench.view);
  plumb_view3d_free (bench.view);
  plumb_offscreen_free (offscreen);
  plumb_evaluation_free (bench.evaluation);
  plumb_scene_unref (bench.scene);
  plumb_job_file_free (job);
  return 0;
}
