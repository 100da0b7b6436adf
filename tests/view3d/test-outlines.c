/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is drawn as an outline: parts of the building that would hide the
 * picture, held against rays from the eye to the picture, and what matters
 * where contrast is wanted.
 */
#include <math.h>

#include "render-testing.h"

#define WIDTH_PX 480
#define HEIGHT_PX 320
#define N_RAYS 60 /* each way */

static PlumbView3d *
view_of (PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbCameraKind kind, bool ghosts, PlumbCamera *camera)
{
  PlumbView3d *view = render_view_new (1.0);
  PlumbView3dOptions options = render_options ();
  uint32_t seat = plumb_scene_resolved (scene)->n_seats / 2;

  options.ghosts = ghosts;
  g_assert_true (plumb_camera_home (scene, evaluation, kind, seat, (double) WIDTH_PX / HEIGHT_PX, camera));
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, camera);
  return view;
}

static bool
is_building (PlumbSubject subject)
{
  return subject.kind == PLUMB_RECORD_STRUCTURE;
}

/* What the rays from the eye to points of the screen meet first, by the mesh's
 * own triangles. Returns how many meet structure. */
static int
rays_on_structure (PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera)
{
  const PlumbScreenResolved *target = &evaluation->target;
  PlumbMesh mesh = render_mesh (scene, evaluation, camera);
  PlumbVec3 eye = plumb_camera_eye (camera), hit;
  uint32_t part;
  int n = 0;

  for (int y = 0; y < N_RAYS; y++)
    for (int x = 0; x < N_RAYS; x++)
      {
        double u = ((x + 0.5) / N_RAYS - 0.5) * target->width_m, v = ((y + 0.5) / N_RAYS - 0.5) * target->height_m;
        PlumbVec3 p
            = plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, u), target->frame.v, v);
        if (plumb_mesh_pick (&mesh, eye, plumb_vec3_sub (p, eye), &part, &hit)
            && is_building (mesh.parts[part].subject))
          n++;
      }
  plumb_mesh_clear (&mesh);
  return n;
}

/* Share of the pane where structure is met. */
static double
picked (PlumbView3d *view)
{
  int n = 0;

  for (int y = 0; y < HEIGHT_PX; y += 4)
    for (int x = 0; x < WIDTH_PX; x += 4)
      n += is_building (
          plumb_view3d_pick (view, (double) WIDTH_PX / HEIGHT_PX, (x + 0.5) / WIDTH_PX, (y + 0.5) / HEIGHT_PX, NULL));
  return n / (WIDTH_PX / 4.0 * HEIGHT_PX / 4.0);
}

static Picture
take (PlumbView3d *view)
{
  PlumbOffscreen *offscreen = render_offscreen (false);
  Picture picture = render_picture (offscreen, view, WIDTH_PX, HEIGHT_PX);

  plumb_offscreen_free (offscreen);
  return picture;
}

/* From the room a tie beam lies across the loft's picture: then it does not,
 * and those that hide nothing stay. */
static void
check_room (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbCamera camera;
  PlumbView3d *plain = view_of (scene, evaluation, PLUMB_CAMERA_ROOM, false, &camera);
  PlumbView3d *open = view_of (scene, evaluation, PLUMB_CAMERA_ROOM, true, &camera);
  int before = rays_on_structure (scene, evaluation, &camera);
  double plain_share = picked (plain), open_share = picked (open);
  Picture a = take (plain), b = take (open);

  g_test_message ("%s: %d of %d rays to the screen meet structure; in the pane %.2f %%, then %.2f %%", name, before,
                  N_RAYS * N_RAYS, 100.0 * plain_share, 100.0 * open_share);
  if (before > N_RAYS * N_RAYS / 200)
    {
      g_assert_cmpfloat (open_share, <, plain_share);
      g_assert_cmpfloat (picture_difference (&a, &b, 12), >, 0.002);
    }
  else
    g_assert_cmpfloat (open_share, ==, plain_share);
  g_assert_true (plain_share == 0.0 || open_share > 0.0);
  picture_clear (&a);
  picture_clear (&b);
  plumb_view3d_free (plain);
  plumb_view3d_free (open);
}

static void
test_room (void)
{
  each_demo (check_room);
}

/* Inside nothing is left out: what a person sees and what the lens meets. */
static void
check_inside (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  static const PlumbCameraKind KINDS[] = { PLUMB_CAMERA_SEAT, PLUMB_CAMERA_LENS };

  for (guint i = 0; i < G_N_ELEMENTS (KINDS); i++)
    {
      PlumbCamera camera;
      PlumbView3d *plain = view_of (scene, evaluation, KINDS[i], false, &camera);
      PlumbView3d *open = view_of (scene, evaluation, KINDS[i], true, &camera);
      Picture a = take (plain), b = take (open);
      g_test_message ("%s, camera %u", name, i);
      g_assert_cmpfloat (picture_difference (&a, &b, 0), ==, 0.0);
      picture_clear (&a);
      picture_clear (&b);
      plumb_view3d_free (plain);
      plumb_view3d_free (open);
    }
}

static void
test_inside (void)
{
  each_demo (check_inside);
}

/* A beam of the job's own that crosses the whole screen, seen straight on:
 * with it gone, the middle of its outline's inside is the screen. */
static void
test_beam_across (void)
{
  Sample sample;
  PlumbCamera camera;
  PlumbVec3 hit;

  sample_init (&sample);
  sample_add_box (&sample, "soffit", 3.1, 8.0, 1.6, 5.0, 0.2, 0.3)->role = PLUMB_ROLE_BEAM;
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  for (int ghosts = 0; ghosts < 2; ghosts++)
    {
      PlumbView3d *view = view_of (scene, evaluation, PLUMB_CAMERA_FRONT, ghosts == 1, &camera);
      PlumbSubject met = plumb_view3d_pick (view, (double) WIDTH_PX / HEIGHT_PX, 0.5, 0.5, &hit);
      g_assert_cmpint (met.kind, ==, ghosts == 1 ? PLUMB_RECORD_SCREEN : PLUMB_RECORD_BLOCKER);
      plumb_view3d_free (view);
    }
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

/* In high contrast the middle of each of the screen's edges is ink. */
static void
test_contrast (void)
{
  Sample sample;
  PlumbCamera camera;

  sample_init (&sample);
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  for (int contrast = 0; contrast < 2; contrast++)
    {
      PlumbView3d *view = view_of (scene, evaluation, PLUMB_CAMERA_FRONT, false, &camera);
      PlumbView3dColours colours
          = { .paper = { 1, 1, 1 }, .ink = { 0, 0, 1 }, .room_light = 1.0f, .high_contrast = contrast == 1 };
      plumb_view3d_set_colours (view, &colours);
      Picture picture = take (view);
      double scale = HEIGHT_PX / 2.0 / (camera.distance_m * tan (camera.fov_y_rad / 2.0));
      int n = 0;
      for (int edge = 0; edge < 4; edge++)
        {
          double x = edge < 2 ? (edge == 0 ? -0.5 : 0.5) * evaluation->target.width_m * scale : 0.0;
          double y = edge < 2 ? 0.0 : (edge == 2 ? -0.5 : 0.5) * evaluation->target.height_m * scale;
          bool blue = false;
          /* The face stands a few millimetres before its plane: a pixel or two. */
          for (int off = -3; off <= 3; off++)
            {
              int px = (int) (WIDTH_PX / 2.0 + x) + (edge < 2 ? off : 7);
              int py = (int) (HEIGHT_PX / 2.0 + y) + (edge < 2 ? 7 : off);
              const uint8_t *p = picture.rgba + 4 * ((gsize) py * WIDTH_PX + (gsize) px);
              blue = blue || (p[2] > 200 && p[0] < 90 && p[1] < 90);
            }
          n += blue;
        }
      g_assert_cmpint (n, ==, contrast == 1 ? 4 : 0);
      picture_clear (&picture);
      plumb_view3d_free (view);
    }
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/outlines/room", test_room);
  g_test_add_func ("/outlines/inside", test_inside);
  g_test_add_func ("/outlines/beam-across", test_beam_across);
  g_test_add_func ("/outlines/contrast", test_contrast);
  return g_test_run ();
}
