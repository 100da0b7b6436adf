/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The four views of both demos, and some of what else they show, against
 * pictures that somebody looked at: tests/data/pictures/NAME.png. Without words, because fonts differ from
 * machine to machine. A view that differs leaves NAME-out.png and
 * NAME-diff.png in the build folder. `--renew` writes the pictures anew; look
 * at each of them before it is kept. */
#include "draw-testing.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WIDE_PX 640
#define HIGH_PX 480
/* Of 255: releases of the drawing library round their edges differently. */
#define FUZZ 40
/* Pixels of 307 200 that may differ by more. The smallest thing drawn, the
 * lens dot, covers 9 that do when it is missing. */
#define BUDGET_PX 6

typedef struct {
  const char *name, *demo;
  PlumbDrawKind kind;
  PlumbQuestion question;
  const char *set[4]; /* changes to the job */
} Case;

static const Case cases[] = {
  { .name = "net-loft-plan", .demo = "net-loft", .kind = PLUMB_DRAW_PLAN },
  { .name = "net-loft-side", .demo = "net-loft", .kind = PLUMB_DRAW_SIDE },
  { .name = "net-loft-picture", .demo = "net-loft", .kind = PLUMB_DRAW_PICTURE },
  { .name = "net-loft-ceiling", .demo = "net-loft", .kind = PLUMB_DRAW_CEILING },
  { .name = "music-room-plan", .demo = "music-room", .kind = PLUMB_DRAW_PLAN },
  { .name = "music-room-side", .demo = "music-room", .kind = PLUMB_DRAW_SIDE },
  { .name = "music-room-picture", .demo = "music-room", .kind = PLUMB_DRAW_PICTURE },
  { .name = "music-room-ceiling", .demo = "music-room", .kind = PLUMB_DRAW_CEILING },
  { .name = "net-loft-plan-heights",
    .demo = "net-loft",
    .kind = PLUMB_DRAW_PLAN,
    .question = PLUMB_QUESTION_HEIGHTS },
  { .name = "music-room-plan-off-axis",
    .demo = "music-room",
    .kind = PLUMB_DRAW_PLAN,
    .question = PLUMB_QUESTION_OFF_AXIS },
  { .name = "music-room-picture-hidden",
    .demo = "music-room",
    .kind = PLUMB_DRAW_PICTURE,
    .question = PLUMB_QUESTION_HIDDEN },
  { .name = "net-loft-picture-tilted",
    .demo = "net-loft",
    .kind = PLUMB_DRAW_PICTURE,
    .set = { "arrangements.a-b.pitch_deg=8", "arrangements.a-b.yaw_deg=5" } },
  { .name = "net-loft-picture-luminance",
    .demo = "net-loft",
    .kind = PLUMB_DRAW_PICTURE,
    .question = PLUMB_QUESTION_LUMINANCE,
    .set = { "screens.board.surface=angular", "screens.board.gain=2.2", "screens.board.half_gain_deg=30" } },
};

static char *
golden_path (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".png", NULL);
  return g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "tests", "data", "pictures", file, NULL);
}

static cairo_surface_t *
render (const Case *this)
{
  Demo demo;
  demo_open (&demo, this->demo);
  if (this->set[0] != NULL)
    demo_set (&demo, this->set);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDE_PX, HIGH_PX);
  cairo_t *cr = cairo_create (surface);
  PlumbDrawView view = plumb_draw_view_default (this->kind);
  view.shown.question = this->question;
  view.width = WIDE_PX;
  view.height = HIGH_PX;
  view.text = false;
  view.title = false;
  plumb_draw_view_fit (&view, demo.scene, demo.evaluation);
  plumb_draw_view (cr, demo.scene, demo.evaluation, &view);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  demo_close (&demo);
  return surface;
}

static void
save (cairo_surface_t *surface, const char *path)
{
  cairo_status_t status = cairo_surface_write_to_png (surface, path);
  if (status != CAIRO_STATUS_SUCCESS)
    g_error ("%s: %s", path, cairo_status_to_string (status));
}

/* ---- comparing ---------------------------------------------------------------------- */

static guint32 *
row_of (cairo_surface_t *surface, int y)
{
  return (guint32 *) (void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));
}

static int
channel (guint32 pixel, int which)
{
  return (int) (pixel >> 8 * which & 0xFF);
}

static gboolean
differs (guint32 a, guint32 b)
{
  for (int i = 0; i < 3; i++)
    if (abs (channel (a, i) - channel (b, i)) > FUZZ)
      return TRUE;
  return FALSE;
}

/* How many pixels differ; in `diff` they are red on a pale copy. */
static int
compare (cairo_surface_t *golden, cairo_surface_t *out, cairo_surface_t *diff)
{
  int n = 0;
  for (int y = 0; y < HIGH_PX; y++)
    {
      const guint32 *a = row_of (golden, y), *b = row_of (out, y);
      guint32 *d = row_of (diff, y);
      for (int x = 0; x < WIDE_PX; x++)
        {
          gboolean other = differs (a[x], b[x]);
          guint32 grey = (guint32) (192 + (channel (a[x], 0) + channel (a[x], 1) + channel (a[x], 2)) / 12);
          d[x] = other ? 0xC00020u : grey << 16 | grey << 8 | grey;
          n += other;
        }
    }
  cairo_surface_mark_dirty (diff);
  return n;
}

/* Where the pictures of a failure go; the caller's. */
static char *
failure_path (const char *name, const char *ending)
{
  g_autofree char *folder = g_build_filename (g_getenv ("PLUMB_BUILD_DIR"), "tests", "draw", "pictures", NULL);
  g_autofree char *file = g_strconcat (name, ending, NULL);
  g_assert_cmpint (g_mkdir_with_parents (folder, 0755), ==, 0);
  return g_build_filename (folder, file, NULL);
}

/* A picture of the right size: as pixels without transparency. */
static cairo_surface_t *
read_golden (const char *path)
{
  cairo_surface_t *read = cairo_image_surface_create_from_png (path);
  if (cairo_surface_status (read) != CAIRO_STATUS_SUCCESS)
    g_error ("%s: %s", path, cairo_status_to_string (cairo_surface_status (read)));
  g_assert_cmpint (cairo_image_surface_get_width (read), ==, WIDE_PX);
  g_assert_cmpint (cairo_image_surface_get_height (read), ==, HIGH_PX);
  cairo_surface_t *golden = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDE_PX, HIGH_PX);
  cairo_t *cr = cairo_create (golden);
  cairo_set_source_surface (cr, read, 0.0, 0.0);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (read);
  cairo_surface_flush (golden);
  return golden;
}

static void
test_picture (gconstpointer data)
{
  const Case *this = data;
  const char *name = this->name;
  g_autofree char *path = golden_path (name);
  g_autofree char *out_path = failure_path (name, "-out.png");
  g_autofree char *diff_path = failure_path (name, "-diff.png");
  cairo_surface_t *out = render (this);
  cairo_surface_t *golden = read_golden (path);
  cairo_surface_t *diff = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDE_PX, HIGH_PX);
  int n = compare (golden, out, diff);
  g_test_message ("%s: %d pixels differ", name, n);
  if (n > BUDGET_PX)
    {
      save (out, out_path);
      save (diff, diff_path);
      g_printerr ("%s: %d pixels differ, %d may; see %s and %s\n", name, n, BUDGET_PX, out_path, diff_path);
      g_test_fail ();
    }
  else
    {
      /* What an earlier failure left is not about this one. */
      g_remove (out_path);
      g_remove (diff_path);
    }
  cairo_surface_destroy (diff);
  cairo_surface_destroy (golden);
  cairo_surface_destroy (out);
}

/* ---- the comparison itself ------------------------------------------------------------- */

/* A line more, one pixel wide and as long as the budget and one, is seen; one
 * within the budget, and shades within the fuzz, are not. */
static void
test_budget (void)
{
  cairo_surface_t *golden = render (&cases[0]);
  cairo_surface_t *out = render (&cases[0]);
  cairo_surface_t *diff = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDE_PX, HIGH_PX);
  g_assert_cmpint (compare (golden, out, diff), ==, 0);
  for (int x = 0; x <= BUDGET_PX; x++)
    {
      row_of (golden, 3)[x] = 0xFFFFFF;
      row_of (out, 3)[x] = 0xFFFFFF - 0x010101 * FUZZ;
    }
  g_assert_cmpint (compare (golden, out, diff), ==, 0);
  for (int x = 0; x <= BUDGET_PX; x++)
    row_of (out, 3)[x] -= 0x000001;
  g_assert_cmpint (compare (golden, out, diff), ==, BUDGET_PX + 1);
  g_assert_cmpuint (row_of (diff, 3)[0] & 0xFFFFFF, ==, 0xC00020);
  cairo_surface_destroy (diff);
  cairo_surface_destroy (out);
  cairo_surface_destroy (golden);
}

/* ---- all ----------------------------------------------------------------------------------- */

static int
renew (void)
{
  for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = golden_path (cases[i].name);
      cairo_surface_t *surface = render (&cases[i]);
      save (surface, path);
      cairo_surface_destroy (surface);
      printf ("%s\n", path);
    }
  return 0;
}

int
main (int argc, char **argv)
{
  if (argc == 2 && strcmp (argv[1], "--renew") == 0 && g_getenv ("PLUMB_SOURCE_DIR") != NULL)
    return renew ();
  g_test_init (&argc, &argv, NULL);
  for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/pictures/", cases[i].name, NULL);
      g_test_add_data_func (path, &cases[i], test_picture);
    }
  g_test_add_func ("/pictures/budget", test_budget);
  return g_test_run ();
}
