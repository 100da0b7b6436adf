/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Both demos from every camera against pictures that somebody looked at:
 * tests/data/pictures3d/NAME.png. A picture that differs leaves NAME-out.png
 * and NAME-diff.png in the build folder. `--renew` writes them anew; look at
 * each before it is kept.
 */
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "job/content.h"
#include "render-testing.h"

#define WIDTH_PX 480
#define HEIGHT_PX 320
/* Of 255; and of 153,600 pixels as many may differ by more: another release of
 * the driver moves edges. A chair that is missing is some 150 pixels. */
#define FUZZ 24
#define BUDGET_PX 100

static const char *const CAMERAS[] = { [PLUMB_CAMERA_ROOM] = "room",
                                       [PLUMB_CAMERA_FRONT] = "front",
                                       [PLUMB_CAMERA_LENS] = "lens",
                                       [PLUMB_CAMERA_SEAT] = "seat" };

static gboolean renewing;

/* With what the camera is for: the beam in the room, sightlines from a seat. */
static Picture
draw (PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbCameraKind kind)
{
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbView3d *view = render_view_new (1.0);
  PlumbView3dOptions options = render_options ();
  PlumbCamera camera;
  uint32_t seat = plumb_scene_resolved (scene)->n_seats * 2 / 3;

  options.beam = kind == PLUMB_CAMERA_ROOM;
  options.sightlines = kind == PLUMB_CAMERA_ROOM;
  options.seat = seat;
  options.chosen = (PlumbSubject){ PLUMB_RECORD_PLACE, evaluation->place, PLUMB_NO_INDEX };
  g_assert_true (plumb_camera_home (scene, evaluation, kind, seat, (double) WIDTH_PX / HEIGHT_PX, &camera));
  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, &camera);
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_pattern (view, PLUMB_PATTERN_LANDSCAPE);
  Picture picture = render_picture (offscreen, view, WIDTH_PX, HEIGHT_PX);
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
  return picture;
}

/* How many pixels differ; in `diff` they are red on a pale copy. */
static int
compare (const uint8_t *golden, const uint8_t *out, uint8_t *diff)
{
  static const uint8_t red[4] = { 0xc0, 0x00, 0x20, 0xff };
  int n = 0;

  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    {
      int most = 0;
      for (gsize k = 0; k < 3; k++)
        most = MAX (most, ABS ((int) golden[4 * i + k] - (int) out[4 * i + k]));
      for (gsize k = 0; k < 4; k++)
        diff[4 * i + k] = most > FUZZ ? red[k] : (uint8_t) (192 + golden[4 * i + k] / 4);
      n += most > FUZZ;
    }
  return n;
}

static void
save (const char *path, uint8_t *rgba)
{
  g_autoptr (GError) error = NULL;
  if (!plumb_picture_write (path, rgba, WIDTH_PX, HEIGHT_PX, &error))
    g_error ("%s: %s", path, error->message);
}

static void
hold (const char *name, const char *path, const Picture *out)
{
  g_autofree char *folder = g_build_filename (g_getenv ("PLUMB_BUILD_DIR"), "tests", "view3d", "pictures", NULL);
  g_autofree char *out_path = g_strdup_printf ("%s/%s-out.png", folder, name);
  g_autofree char *diff_path = g_strdup_printf ("%s/%s-diff.png", folder, name);
  g_autofree uint8_t *diff = g_malloc (WIDTH_PX * HEIGHT_PX * 4);
  g_auto (PlumbContent) golden = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  if (!plumb_content_read (&golden, path, &error))
    g_error ("%s: %s", path, error->message);
  g_assert_cmpint (golden.width_px, ==, WIDTH_PX);
  g_assert_cmpint (golden.height_px, ==, HEIGHT_PX);
  int n = compare (golden.rgba, out->rgba, diff);
  g_test_message ("%s: %d pixels differ", name, n);
  g_remove (out_path);
  g_remove (diff_path);
  if (n <= BUDGET_PX)
    return;
  save (out_path, out->rgba);
  save (diff_path, diff);
  g_printerr ("%s: %d pixels differ, %d may; see %s and %s\n", name, n, BUDGET_PX, out_path, diff_path);
  g_test_fail ();
}

static void
each_camera (const char *demo, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  for (guint kind = 0; kind < G_N_ELEMENTS (CAMERAS); kind++)
    {
      g_autofree char *name = g_strdup_printf ("%s-%s", demo, CAMERAS[kind]);
      g_autofree char *file = g_strconcat (name, ".png", NULL);
      g_autofree char *path
          = g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "tests", "data", "pictures3d", file, NULL);
      Picture out = draw (scene, evaluation, (PlumbCameraKind) kind);
      if (renewing)
        save (path, out.rgba);
      else
        hold (name, path, &out);
      picture_clear (&out);
    }
}

static void
test_demos (void)
{
  each_demo (each_camera);
}

/* One pixel more than the budget is seen, shades within the fuzz are not. */
static void
test_budget (void)
{
  g_autofree uint8_t *a = g_malloc0 (WIDTH_PX * HEIGHT_PX * 4), *b = g_malloc0 (WIDTH_PX * HEIGHT_PX * 4);
  g_autofree uint8_t *diff = g_malloc0 (WIDTH_PX * HEIGHT_PX * 4);

  for (int i = 0; i <= BUDGET_PX; i++)
    b[400 * i + 1] = FUZZ;
  g_assert_cmpint (compare (a, b, diff), ==, 0);
  for (int i = 0; i <= BUDGET_PX; i++)
    b[400 * i + 1] = FUZZ + 1;
  g_assert_cmpint (compare (a, b, diff), ==, BUDGET_PX + 1);
  g_assert_cmpint (diff[400], ==, 0xc0);
  g_assert_cmpint (diff[404], ==, 192);
}

int
main (int argc, char **argv)
{
  renewing = argc == 2 && strcmp (argv[1], "--renew") == 0 && g_getenv ("PLUMB_SOURCE_DIR") != NULL;
  if (renewing)
    {
      test_demos ();
      return 0;
    }
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/goldens/demos", test_demos);
  g_test_add_func ("/goldens/budget", test_budget);
  return g_test_run ();
}
