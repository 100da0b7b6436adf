/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whole pictures: distances against rays through the mesh, OpenGL against
 * OpenGL ES, tiles against one piece, the same bytes every time.
 */
#include <epoxy/gl.h>
#include <math.h>

#include "render-testing.h"

#define WIDTH_PX 360
#define HEIGHT_PX 240
#define N_RAYS 400
#define SAME_DEPTH 1e-3
/* Pictures of two drivers: more than 2 % of full scale in at most 1 % of the pixels. */
#define STEPS_2_PERCENT 5
#define BUDGET 0.01

static const PlumbCameraKind CAMERAS[]
    = { PLUMB_CAMERA_ROOM, PLUMB_CAMERA_FRONT, PLUMB_CAMERA_LENS, PLUMB_CAMERA_SEAT };

static PlumbCamera
home (PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbCameraKind kind, double aspect)
{
  PlumbCamera camera;
  const PlumbResolved *resolved = plumb_scene_resolved (scene);

  g_assert_cmpuint (resolved->n_seats, >, 0);
  g_assert_true (plumb_camera_home (scene, evaluation, kind, resolved->n_seats / 2, aspect, &camera));
  return camera;
}

/* ---- distances -------------------------------------------------------------------- */

/* Along the view: a camera's ray goes one metre forward for each of its lengths. */
static double
ray_depth (const PlumbMesh *mesh, const PlumbCamera *camera, double x, double y)
{
  PlumbVec3 eye = plumb_camera_eye (camera), hit;
  PlumbVec3 ray = plumb_camera_ray (camera, (double) WIDTH_PX / HEIGHT_PX, x / WIDTH_PX, y / HEIGHT_PX);
  uint32_t part;

  if (!plumb_mesh_pick (mesh, eye, ray, &part, &hit))
    return 0.0;
  return plumb_vec3_length (plumb_vec3_sub (hit, eye)) / plumb_vec3_length (ray);
}

/* A renderer moves corners to a 256th of a pixel and computes in single
 * precision: on an outline the ray beside the pixel's middle decides. */
static double
depth_error (const PlumbMesh *mesh, const PlumbCamera *camera, int x, int y, double drawn)
{
  static const double OFF[5][2] = { { 0, 0 }, { 0.02, 0 }, { -0.02, 0 }, { 0, 0.02 }, { 0, -0.02 } };
  double least = INFINITY;

  for (int i = 0; i < 5 && !(least <= SAME_DEPTH); i++)
    {
      double depth = ray_depth (mesh, camera, x + 0.5 + OFF[i][0], y + 0.5 + OFF[i][1]);
      least = fmin (least, fabs (drawn - depth) / fmax (depth, 1e-3));
    }
  return least;
}

static void
check_depth (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbOffscreen *offscreen = render_offscreen (false);
  GRand *rand = g_rand_new_with_seed (20265);

  for (guint c = 0; c < G_N_ELEMENTS (CAMERAS); c++)
    {
      g_autoptr (GError) error = NULL;
      PlumbCamera camera = home (scene, evaluation, CAMERAS[c], (double) WIDTH_PX / HEIGHT_PX);
      PlumbView3d *view = render_view_new (1.0);
      PlumbMesh mesh = render_mesh (scene, evaluation, &camera);
      double worst = 0.0;
      int met = 0;
      plumb_view3d_set_scene (view, scene, evaluation);
      plumb_view3d_set_camera (view, &camera);
      g_autofree float *depth = plumb_offscreen_depth (offscreen, view, WIDTH_PX, HEIGHT_PX, &error);
      g_assert_no_error (error);
      g_assert_nonnull (depth);
      for (int i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
        g_assert_true (isfinite (depth[i]) && depth[i] >= 0.0f);
      for (int i = 0; i < N_RAYS; i++)
        {
          int x = g_rand_int_range (rand, 0, WIDTH_PX), y = g_rand_int_range (rand, 0, HEIGHT_PX);
          double drawn = (double) depth[y * WIDTH_PX + x], off = depth_error (&mesh, &camera, x, y, drawn);
          if (!(off <= SAME_DEPTH))
            g_test_message ("%s, camera %u, pixel %d %d: drawn %.5f m", name, c, x, y, drawn);
          g_assert_cmpfloat (off, <=, SAME_DEPTH);
          worst = fmax (worst, off);
          met += drawn > 0.0;
        }
      g_assert_cmpint (met, >, N_RAYS / 10);
      g_test_message ("%s, camera %u: %d of %d rays met something, worst %.2g", name, c, met, N_RAYS, worst);
      plumb_mesh_clear (&mesh);
      plumb_view3d_free (view);
    }
  g_rand_free (rand);
  plumb_offscreen_free (offscreen);
}

static void
test_depth (void)
{
  each_demo (check_depth);
}

/* ---- every camera of the demos ------------------------------------------------------ */

static guint
n_colours (const Picture *picture)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  for (gsize i = 0; i < (gsize) picture->width_px * (gsize) picture->height_px; i++)
    {
      const uint8_t *p = picture->rgba + 4 * i;
      g_assert_cmpuint (p[3], ==, 255);
      g_hash_table_add (seen, GUINT_TO_POINTER ((guint) p[0] << 16 | (guint) p[1] << 8 | p[2]));
    }
  return g_hash_table_size (seen);
}

static PlumbView3d *
demo_view (PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera)
{
  PlumbView3d *view = render_view_new (1.0);
  PlumbView3dOptions options = render_options ();

  options.beam = options.sightlines = true;
  options.seat = camera->kind == PLUMB_CAMERA_ROOM ? 0 : PLUMB_NO_INDEX;
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_pattern (view, PLUMB_PATTERN_LANDSCAPE);
  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, camera);
  return view;
}

/* Twice by one renderer, realized anew in between, and once by another: the same bytes. */
static void
check_cameras (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbOffscreen *offscreen = render_offscreen (false);

  for (guint c = 0; c < G_N_ELEMENTS (CAMERAS); c++)
    {
      g_autoptr (GError) error = NULL;
      PlumbCamera camera = home (scene, evaluation, CAMERAS[c], (double) WIDTH_PX / HEIGHT_PX);
      PlumbView3d *view = demo_view (scene, evaluation, &camera), *other = demo_view (scene, evaluation, &camera);
      Picture first = render_picture (offscreen, view, WIDTH_PX, HEIGHT_PX);
      guint colours = n_colours (&first);
      /* The context is still current. */
      plumb_view3d_unrealize (view);
      g_assert_true (plumb_view3d_realize (view, &error));
      g_assert_no_error (error);
      Picture second = render_picture (offscreen, view, WIDTH_PX, HEIGHT_PX);
      plumb_view3d_unrealize (view);
      Picture third = render_picture (offscreen, other, WIDTH_PX, HEIGHT_PX);
      plumb_view3d_unrealize (other);
      g_test_message ("%s, camera %u: %u colours", name, c, colours);
      g_assert_cmpuint (colours, >, 50);
      g_assert_cmpfloat (picture_difference (&first, &second, 0), ==, 0.0);
      g_assert_cmpfloat (picture_difference (&first, &third, 0), ==, 0.0);
      picture_clear (&first);
      picture_clear (&second);
      picture_clear (&third);
      plumb_view3d_free (view);
      plumb_view3d_free (other);
    }
  plumb_offscreen_free (offscreen);
}

static void
test_cameras (void)
{
  each_demo (check_cameras);
}

/* ---- OpenGL and OpenGL ES --------------------------------------------------------------- */

static Picture
draw_with (bool gles, PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera)
{
  PlumbOffscreen *offscreen = render_offscreen (gles);
  PlumbView3d *view = demo_view (scene, evaluation, camera);
  Picture picture = render_picture (offscreen, view, WIDTH_PX, HEIGHT_PX);

  plumb_view3d_unrealize (view);
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
  return picture;
}

static void
check_gles (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  for (guint c = 0; c < G_N_ELEMENTS (CAMERAS); c++)
    {
      PlumbCamera camera = home (scene, evaluation, CAMERAS[c], (double) WIDTH_PX / HEIGHT_PX);
      Picture desktop = draw_with (false, scene, evaluation, &camera);
      Picture embedded = draw_with (true, scene, evaluation, &camera);
      double share = picture_difference (&desktop, &embedded, STEPS_2_PERCENT);
      g_test_message ("%s, camera %u: %.4f %% of the pixels differ", name, c, 100.0 * share);
      g_assert_cmpfloat (share, <=, BUDGET);
      picture_clear (&desktop);
      picture_clear (&embedded);
    }
}

static void
test_gles (void)
{
  each_demo (check_gles);
}

/* ---- tiles --------------------------------------------------------------------------------- */

/* In one piece, into a framebuffer of the test. */
static Picture
draw_whole (PlumbView3d *view, int width_px, int height_px)
{
  g_autoptr (GError) error = NULL;
  gsize row = (gsize) width_px * 4;
  GLuint framebuffer, colour;
  Picture picture = { width_px, height_px, g_malloc (row * (gsize) height_px) };

  glGenFramebuffers (1, &framebuffer);
  glGenRenderbuffers (1, &colour);
  glBindRenderbuffer (GL_RENDERBUFFER, colour);
  glRenderbufferStorage (GL_RENDERBUFFER, GL_RGBA8, width_px, height_px);
  glBindFramebuffer (GL_FRAMEBUFFER, framebuffer);
  glFramebufferRenderbuffer (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour);
  g_assert_true (plumb_view3d_realize (view, &error));
  g_assert_no_error (error);
  g_assert_true (plumb_view3d_render (view, width_px, height_px, &error));
  g_assert_no_error (error);
  glBindFramebuffer (GL_FRAMEBUFFER, framebuffer);
  for (int y = 0; y < height_px; y++)
    glReadPixels (0, height_px - 1 - y, width_px, 1, GL_RGBA, GL_UNSIGNED_BYTE, picture.rgba + row * (gsize) y);
  g_assert_cmpuint (glGetError (), ==, GL_NO_ERROR);
  glDeleteFramebuffers (1, &framebuffer);
  glDeleteRenderbuffers (1, &colour);
  return picture;
}

static void
check_tiles (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  static const int SIZE[][2] = { { 4600, 130 }, { 130, 4600 } };
  PlumbOffscreen *offscreen = render_offscreen (false);

  for (guint i = 0; i < G_N_ELEMENTS (SIZE); i++)
    {
      int w = SIZE[i][0], h = SIZE[i][1];
      PlumbCamera camera = home (scene, evaluation, PLUMB_CAMERA_FRONT, (double) WIDTH_PX / HEIGHT_PX);
      PlumbView3d *view = demo_view (scene, evaluation, &camera);
      Picture tiled = render_picture (offscreen, view, w, h), whole = draw_whole (view, w, h);
      double share = picture_difference (&tiled, &whole, STEPS_2_PERCENT);
      g_test_message ("%s, %d × %d px: %.4f %% of the pixels differ", name, w, h, 100.0 * share);
      g_assert_cmpuint (n_colours (&whole), >, 50);
      g_assert_cmpfloat (share, <=, BUDGET);
      plumb_view3d_unrealize (view);
      picture_clear (&tiled);
      picture_clear (&whole);
      plumb_view3d_free (view);
    }
  plumb_offscreen_free (offscreen);
}

static void
test_tiles (void)
{
  each_demo (check_tiles);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/render/depth", test_depth);
  g_test_add_func ("/render/cameras", test_cameras);
  g_test_add_func ("/render/desktop-and-es", test_gles);
  g_test_add_func ("/render/tiles", test_tiles);
  return g_test_run ();
}
