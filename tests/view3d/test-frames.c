/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How frames are made: again after the context went, in tiles with everything
 * on, leaving OpenGL as a toolkit wants it; what is chosen, sightlines, and a
 * shader that does not compile.
 */
#include <epoxy/gl.h>
#include <string.h>

#include "render-testing.h"
#include "view3d/offscreen-private.h"
#include "view3d/view3d-private.h"

#define WIDTH_PX 420
#define HEIGHT_PX 280
#define N_BYTES ((gsize) 4 * WIDTH_PX * HEIGHT_PX)

typedef struct {
  Sample s;
  PlumbScene *scene;
  PlumbEvaluation *evaluation;
  PlumbOffscreen *offscreen;
  PlumbView3d *view;
  PlumbCamera camera;
} Stage;

static void
stage_open (Stage *stage, PlumbCameraKind kind)
{
  stage->scene = sample_scene (&stage->s);
  stage->evaluation = sample_evaluate (&stage->s);
  stage->offscreen = render_offscreen (false);
  stage->view = render_view_new (1.0);
  g_assert_true (
      plumb_camera_home (stage->scene, stage->evaluation, kind, 0, (double) WIDTH_PX / HEIGHT_PX, &stage->camera));
  plumb_view3d_set_scene (stage->view, stage->scene, stage->evaluation);
  plumb_view3d_set_camera (stage->view, &stage->camera);
  plumb_view3d_set_pattern (stage->view, PLUMB_PATTERN_LANDSCAPE);
}

static void
stage_close (Stage *stage)
{
  plumb_view3d_free (stage->view);
  plumb_offscreen_free (stage->offscreen);
  plumb_evaluation_free (stage->evaluation);
  plumb_scene_unref (stage->scene);
}

static PlumbView3dOptions
everything (const Stage *stage)
{
  PlumbView3dOptions options = render_options ();

  options.beam = options.sightlines = options.frustum = options.axis = options.all_seats = true;
  options.chosen = (PlumbSubject){ PLUMB_RECORD_SCREEN, stage->evaluation->screen, PLUMB_NO_INDEX };
  options.hovered = (PlumbSubject){ PLUMB_RECORD_PLACE, stage->evaluation->place, PLUMB_NO_INDEX };
  return options;
}

/* Two seats before the screen, which is on the wall y = 9.4. */
static void
add_seats (Sample *s)
{
  for (int i = 0; i < 2; i++)
    {
      PlumbSeat *seat = &s->seat[s->n_seat++];
      plumb_record_default (PLUMB_RECORD_SEAT, seat);
      g_snprintf (seat->id, sizeof seat->id, "s%d", i);
      seat->x_m = 2.0 + 2.0 * i;
      seat->y_m = 4.0;
    }
}

static void
test_realized_again (void)
{
  Stage stage;
  sample_init (&stage.s);
  add_seats (&stage.s);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  PlumbView3dOptions options = everything (&stage);
  plumb_view3d_set_options (stage.view, &options);
  Picture before = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  plumb_view3d_unrealize (stage.view);
  Picture after = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  g_assert_true (memcmp (before.rgba, after.rgba, N_BYTES) == 0);
  picture_clear (&after);
  /* Another context altogether, the first one gone. */
  plumb_offscreen_free (stage.offscreen);
  stage.offscreen = render_offscreen (false);
  after = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  g_assert_true (memcmp (before.rgba, after.rgba, N_BYTES) == 0);
  picture_clear (&after);
  picture_clear (&before);
  stage_close (&stage);
}

static void
count_cb (gpointer data)
{
  (*(int *) data)++;
}

/* How a window draws: the bare room first, then its light, then the corners
 * that a thread has darkened; at the end what a picture without a window is. */
static void
test_better_and_better (void)
{
  Stage stage;
  int called = 0;
  sample_init (&stage.s);
  add_seats (&stage.s);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  PlumbView3dOptions options = everything (&stage);
  plumb_view3d_set_options (stage.view, &options);
  Picture waited = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX), now;
  stage_close (&stage);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  plumb_view3d_set_options (stage.view, &options);
  plumb_view3d_set_again (stage.view, count_cb, &called);
  for (int times = 1; times <= 2; times++)
    {
      now = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
      g_assert_cmpfloat (picture_difference (&waited, &now, 5), >, 0.01);
      g_assert_cmpint (called, ==, times - 1);
      picture_clear (&now);
      /* Another scene while the first one's corners are worked out. */
      if (times == 2)
        {
          plumb_view3d_set_scene (stage.view, stage.scene, stage.evaluation);
          now = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
          picture_clear (&now);
        }
      while (called < times)
        g_main_context_iteration (NULL, TRUE);
    }
  now = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  g_assert_true (memcmp (waited.rgba, now.rgba, N_BYTES) == 0);
  /* Nothing more is to come. */
  while (g_main_context_iteration (NULL, FALSE))
    continue;
  g_assert_cmpint (called, ==, 2);
  picture_clear (&now);
  picture_clear (&waited);
  stage_close (&stage);
}

/* Dashes, outlines, softening and edges across seams: at most one pixel in a
 * thousand may differ, where rounding of positions decides. */
static void
test_tiles (void)
{
  Stage stage;
  sample_init (&stage.s);
  add_seats (&stage.s);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  PlumbView3dOptions options = everything (&stage);
  plumb_view3d_set_options (stage.view, &options);
  Picture whole = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  plumb_offscreen_limit (stage.offscreen, 160);
  Picture tiled = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  double differ = picture_difference (&whole, &tiled, 5);
  g_test_message ("%.4f %% of the pixels differ", 100.0 * differ);
  g_assert_cmpfloat (differ, <, 0.001);
  picture_clear (&tiled);
  picture_clear (&whole);
  stage_close (&stage);
}

/* ---- as a toolkit wants it ------------------------------------------------------------------ */

static GLuint
make_target (void)
{
  GLuint frame, colour;

  glGenTextures (1, &colour);
  glBindTexture (GL_TEXTURE_2D, colour);
  glTexImage2D (GL_TEXTURE_2D, 0, GL_RGBA8, WIDTH_PX, HEIGHT_PX, 0, GL_RGBA, GL_UNSIGNED_BYTE, NULL);
  glBindTexture (GL_TEXTURE_2D, 0);
  glGenFramebuffers (1, &frame);
  glBindFramebuffer (GL_FRAMEBUFFER, frame);
  glFramebufferTexture2D (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour, 0);
  return frame;
}

static GLint
state (GLenum what)
{
  GLint value = -1;
  glGetIntegerv (what, &value);
  return value;
}

static void
check_left_clean (GLuint frame)
{
  static const GLenum none[] = { GL_CURRENT_PROGRAM, GL_VERTEX_ARRAY_BINDING, GL_ARRAY_BUFFER_BINDING,
                                 GL_TEXTURE_BINDING_2D, GL_RENDERBUFFER_BINDING };
  static const GLenum off[] = { GL_BLEND, GL_DEPTH_TEST, GL_CULL_FACE, GL_POLYGON_OFFSET_FILL, GL_SCISSOR_TEST };
  GLboolean mask[4];

  g_assert_cmpint (state (GL_DRAW_FRAMEBUFFER_BINDING), ==, (GLint) frame);
  g_assert_cmpint (state (GL_ACTIVE_TEXTURE), ==, GL_TEXTURE0);
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_cmpint (state (none[i]), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (off); i++)
    g_assert_false (glIsEnabled (off[i]));
  glGetBooleanv (GL_COLOR_WRITEMASK, mask);
  for (int i = 0; i < 4; i++)
    g_assert_true (mask[i]);
  g_assert_cmpuint (glGetError (), ==, GL_NO_ERROR);
}

/* What a toolkit leaves set does no harm, and what comes out is opaque, also
 * where the building is cut. */
static void
test_state (void)
{
  Stage stage;
  g_autoptr (GError) error = NULL;
  g_autofree uint8_t *rgba = g_malloc (WIDTH_PX * HEIGHT_PX * 4);
  sample_init (&stage.s);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  PlumbView3dOptions options = everything (&stage);
  GLuint frame = make_target ();
  g_assert_true (plumb_view3d_realize (stage.view, &error));
  for (int light = 0; light < 2; light++)
    {
      options.light_pass = light == 1;
      plumb_view3d_set_options (stage.view, &options);
      glEnable (GL_SCISSOR_TEST);
      glScissor (5, 5, 10, 10);
      glEnable (GL_BLEND);
      glDepthMask (GL_FALSE);
      g_assert_true (plumb_view3d_render (stage.view, WIDTH_PX, HEIGHT_PX, &error));
      check_left_clean (frame);
      glReadPixels (0, 0, WIDTH_PX, HEIGHT_PX, GL_RGBA, GL_UNSIGNED_BYTE, rgba);
      gsize n_paper = 0;
      for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
        {
          g_assert_cmpuint (rgba[4 * i + 3], ==, 255);
          n_paper += rgba[4 * i] == 242 && rgba[4 * i + 1] == 240 && rgba[4 * i + 2] == 232;
        }
      /* The ground is the paper of the colours, 0.95 0.94 0.91, and the room stands on it. */
      g_assert_cmpuint (n_paper, >, WIDTH_PX * HEIGHT_PX / 10);
      g_assert_cmpuint (n_paper, <, WIDTH_PX * HEIGHT_PX * 9 / 10);
    }
  plumb_view3d_unrealize (stage.view);
  g_assert_cmpuint (glGetError (), ==, GL_NO_ERROR);
  stage_close (&stage);
}

/* ---- what is chosen ------------------------------------------------------------------------------ */

static bool
is_screen (Stage *stage, double x, double y)
{
  PlumbSubject under
      = plumb_view3d_pick (stage->view, (double) WIDTH_PX / HEIGHT_PX, x / WIDTH_PX, y / HEIGHT_PX, NULL);
  return under.kind == PLUMB_RECORD_SCREEN;
}

/* A pixel that changes lies off the thing and within its outline's width, as
 * rays through the mesh tell. */
static int
count_outline (Stage *stage, const Picture *plain, const Picture *marked, double width_px)
{
  int n = 0;

  for (int y = 0; y < HEIGHT_PX; y++)
    for (int x = 0; x < WIDTH_PX; x++)
      {
        gsize i = ((gsize) y * WIDTH_PX + (gsize) x) * 4;
        if (memcmp (plain->rgba + i, marked->rgba + i, 4) == 0)
          continue;
        bool near = false;
        double reach = width_px + 1.0;
        for (int k = 0; k < 16 && !near; k++)
          near = is_screen (stage, x + 0.5 + reach * cos (k * PLUMB_PI / 8.0),
                            y + 0.5 + reach * sin (k * PLUMB_PI / 8.0));
        g_assert_true (near);
        g_assert_false (is_screen (stage, x + 0.5, y + 0.5));
        n++;
      }
  return n;
}

static void
test_chosen (void)
{
  Stage stage;
  sample_init (&stage.s);
  stage_open (&stage, PLUMB_CAMERA_FRONT);
  PlumbView3dOptions options = render_options ();
  const PlumbSubject screen = { PLUMB_RECORD_SCREEN, stage.evaluation->screen, PLUMB_NO_INDEX };
  Picture plain = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  options.chosen = screen;
  plumb_view3d_set_options (stage.view, &options);
  Picture chosen = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  options.chosen.kind = PLUMB_RECORD_NONE;
  options.hovered = screen;
  plumb_view3d_set_options (stage.view, &options);
  Picture hovered = render_picture (stage.offscreen, stage.view, WIDTH_PX, HEIGHT_PX);
  int thick = count_outline (&stage, &plain, &chosen, 2.0), thin = count_outline (&stage, &plain, &hovered, 1.0);
  g_test_message ("%d and %d pixels", thick, thin);
  /* Round about 800 px of edge: 2 px and 1 px, a part of one more smoothed. */
  g_assert_cmpint (thin, >, 600);
  g_assert_cmpint (thick, >, 3 * thin / 2);
  picture_clear (&hovered);
  picture_clear (&chosen);
  picture_clear (&plain);
  stage_close (&stage);
}

/* ---- sightlines ------------------------------------------------------------------------------------- */

/* A box of which the near face is the plane y = 6: the line stops at its share
 * of the way there, by similar triangles. */
static void
test_sightlines (void)
{
  Stage stage;
  sample_init (&stage.s);
  add_seats (&stage.s);
  sample_add_box (&stage.s, "box", 1.9, 6.25, 0.0, 1.0, 0.5, 2.9);
  stage_open (&stage, PLUMB_CAMERA_ROOM);
  PlumbView3dOptions options = render_options ();
  options.sightlines = true;
  options.seat = 0;
  plumb_view3d_set_options (stage.view, &options);
  plumb_sightlines_find (stage.view);
  g_assert_cmpuint (stage.view->sightlines->len, ==, 4);
  int n_stopped = 0;
  for (guint i = 0; i < 4; i++)
    {
      const PlumbSightline *line = &g_array_index (stage.view->sightlines, PlumbSightline, i);
      double share = (6.0 - line->from.y) / (line->to.y - line->from.y);
      double x_m = line->from.x + share * (line->to.x - line->from.x);
      bool met = x_m > 1.4 && x_m < 2.4;
      n_stopped += met;
      if (met)
        g_assert_cmpfloat_with_epsilon (line->stop.y, 6.0, 1e-4);
      else
        g_assert_cmpfloat_with_epsilon (line->stop.y, line->to.y, 1e-9);
    }
  g_assert_cmpint (n_stopped, >, 0);
  options.all_seats = true;
  plumb_view3d_set_options (stage.view, &options);
  plumb_sightlines_find (stage.view);
  g_assert_cmpuint (stage.view->sightlines->len, ==, 8);
  stage_close (&stage);
}

/* ---- trouble ------------------------------------------------------------------------------------------- */

static void
test_broken_shader (void)
{
  if (!g_test_subprocess ())
    {
      g_autofree char *overlay
          = g_strdup_printf ("/org/plumbeam/Plumbeam/shaders/room.frag=%s/tests/data/shaders/broken.frag",
                             g_getenv ("PLUMB_SOURCE_DIR"));
      g_setenv ("G_RESOURCE_OVERLAYS", overlay, TRUE);
      g_test_trap_subprocess (NULL, 0, 0);
      g_unsetenv ("G_RESOURCE_OVERLAYS");
      g_test_trap_assert_passed ();
      /* The driver's words and the text with its numbers are in the log. */
      g_test_trap_assert_stderr ("*room.frag does not compile*\n* 1 #version 330 core\n*this is not a shader*");
      return;
    }
  g_autoptr (GError) error = NULL;
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbView3d *view = render_view_new (1.0);
  g_assert_null (plumb_offscreen_picture (offscreen, view, 64, 64, &error));
  g_assert_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SHADER);
  g_assert_true (g_str_has_prefix (error->message, "OpenGL does not take the shader room.frag: "));
  g_assert_true (g_str_has_suffix (error->message, "."));
  g_assert_null (strchr (error->message, '\n'));
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
}

/* Nothing to show is no trouble; a size that cannot be is. */
static void
test_nothing (void)
{
  g_autoptr (GError) error = NULL;
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbView3d *view = render_view_new (1.0);
  Picture empty = render_picture (offscreen, view, 32, 16);
  for (gsize i = 0; i < 32 * 16; i++)
    g_assert_cmpint (empty.rgba[4 * i], ==, 242);
  picture_clear (&empty);
  g_assert_null (plumb_offscreen_picture (offscreen, view, 0, 16, &error));
  g_assert_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SIZE);
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/frames/realized-again", test_realized_again);
  g_test_add_func ("/frames/better-and-better", test_better_and_better);
  g_test_add_func ("/frames/tiles", test_tiles);
  g_test_add_func ("/frames/state", test_state);
  g_test_add_func ("/frames/chosen", test_chosen);
  g_test_add_func ("/frames/sightlines", test_sightlines);
  g_test_add_func ("/frames/broken-shader", test_broken_shader);
  g_test_add_func ("/frames/nothing", test_nothing);
  return g_test_run ();
}
