/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks against cglm 0.8 (glm_lookat, glm_frustum) and against similar
 * triangles by hand. */
#include <cglm/cglm.h>

#include "../engine/sample-job.h"
#include "view3d/camera.h"

static void
project (const PlumbCamera *camera, double aspect, PlumbVec3 p, double *x, double *y)
{
  float view[16], projection[16];
  double eye[4], clip[4], at[4] = { p.x, p.y, p.z, 1.0 };
  plumb_camera_matrices (camera, aspect, 0.1, 100.0, view, projection);
  for (int i = 0; i < 4; i++)
    {
      eye[i] = 0.0;
      for (int k = 0; k < 4; k++)
        eye[i] += (double) view[4 * k + i] * at[k];
    }
  for (int i = 0; i < 4; i++)
    {
      clip[i] = 0.0;
      for (int k = 0; k < 4; k++)
        clip[i] += (double) projection[4 * k + i] * eye[k];
    }
  *x = (clip[0] / clip[3] + 1.0) / 2.0;
  *y = (1.0 - clip[1] / clip[3]) / 2.0;
}

static PlumbCamera
some_camera (GRand *rand)
{
  PlumbCamera c = { .kind = PLUMB_CAMERA_ROOM };
  c.target_m = plumb_vec3 (g_rand_double_range (rand, -5, 5), g_rand_double_range (rand, -5, 5), 1.0);
  c.azimuth_rad = g_rand_double_range (rand, -3, 3);
  c.elevation_rad = g_rand_double_range (rand, -1.4, 1.4);
  c.distance_m = g_rand_double_range (rand, 1, 20);
  c.fov_y_rad = g_rand_double_range (rand, 0.2, 2.0);
  c.lens_shift_x = g_rand_double_range (rand, -1, 1);
  c.lens_shift_y = g_rand_double_range (rand, -1, 1);
  return c;
}

static void
test_cglm (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  for (int i = 0; i < 200; i++)
    {
      PlumbCamera c = some_camera (rand);
      PlumbVec3 e = plumb_camera_eye (&c);
      vec3 eye = { (float) e.x, (float) e.y, (float) e.z }, up = { 0.0f, 0.0f, 1.0f };
      vec3 target = { (float) c.target_m.x, (float) c.target_m.y, (float) c.target_m.z };
      float view[16], projection[16], half = tanf ((float) c.fov_y_rad / 2.0f), aspect = 1.6f;
      float sx = (float) c.lens_shift_x, sy = (float) c.lens_shift_y;
      mat4 look, frustum;
      glm_lookat (eye, target, up, look);
      glm_frustum ((-aspect + sx) * half * 0.1f, (aspect + sx) * half * 0.1f, (sy - 1.0f) * half * 0.1f,
                   (sy + 1.0f) * half * 0.1f, 0.1f, 100.0f, frustum);
      plumb_camera_matrices (&c, (double) aspect, 0.1, 100.0, view, projection);
      for (int k = 0; k < 16; k++)
        {
          g_assert_cmpfloat_with_epsilon ((double) view[k], (double) look[k / 4][k % 4], 2e-4);
          g_assert_cmpfloat_with_epsilon ((double) projection[k], (double) frustum[k / 4][k % 4], 2e-4);
        }
    }
}

/* Eye 4 m before the target along x, 90° high: 1 m up at the target is a
 * quarter of the half height, 1 m along y a quarter over the aspect. */
static void
test_by_hand (void)
{
  PlumbCamera c = { .kind = PLUMB_CAMERA_ROOM, .distance_m = 4.0, .fov_y_rad = PLUMB_PI / 2.0 };
  double x, y;
  project (&c, 2.0, plumb_vec3 (0.0, 1.0, 1.0), &x, &y);
  g_assert_cmpfloat_with_epsilon (x, 0.5 + 0.5 * 0.125, 1e-6);
  g_assert_cmpfloat_with_epsilon (y, 0.5 - 0.5 * 0.25, 1e-6);
}

static void
test_ray (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  for (int i = 0; i < 500; i++)
    {
      PlumbCamera c = some_camera (rand);
      double x = g_rand_double (rand), y = g_rand_double (rand), px, py;
      c.roll_rad = g_rand_double_range (rand, -3, 3);
      PlumbVec3 ray = plumb_camera_ray (&c, 1.3, x, y);
      project (&c, 1.3, plumb_vec3_along (plumb_camera_eye (&c), ray, 7.0), &px, &py);
      g_assert_cmpfloat_with_epsilon (px, x, 1e-4);
      g_assert_cmpfloat_with_epsilon (py, y, 1e-4);
    }
}

/* From the lens, at the panel's own aspect, the pane's corners look along the
 * rays of the panel's corners. */
static void
test_lens (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  for (int i = 0; i < 40; i++)
    {
      Sample sample;
      PlumbCamera c;
      sample_init (&sample);
      sample.arrangement[0].yaw_rad = g_rand_double_range (rand, -0.2, 0.2);
      sample.arrangement[0].pitch_rad = g_rand_double_range (rand, -0.2, 0.2);
      sample.arrangement[0].roll_rad = g_rand_double_range (rand, -0.3, 0.3);
      PlumbScene *scene = sample_scene (&sample);
      PlumbEvaluation *e = sample_evaluate (&sample);
      g_assert_true (e->solved);
      g_assert_true (plumb_camera_home (scene, e, PLUMB_CAMERA_LENS, PLUMB_NO_INDEX, e->beam.panel_aspect, &c));
      PlumbVec3 eye = plumb_camera_eye (&c);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_length (plumb_vec3_sub (eye, e->beam.lens_m)), 0.0, 1e-9);
      for (int k = 0; k < 4; k++)
        {
          double a = k == 1 || k == 2 ? 0.5 : -0.5, b = k >= 2 ? 0.5 : -0.5;
          PlumbVec3 want = plumb_vec3_unit (plumb_beam_ray (&e->beam, plumb_vec2 (a, b)));
          PlumbVec3 got = plumb_vec3_unit (plumb_camera_ray (&c, e->beam.panel_aspect, a + 0.5, 0.5 - b));
          g_assert_cmpfloat_with_epsilon (plumb_vec3_length (plumb_vec3_sub (want, got)), 0.0, 1e-9);
        }
      /* In a wider pane the raw picture's height still fills it. */
      double x, y;
      g_assert_true (plumb_camera_home (scene, e, PLUMB_CAMERA_LENS, PLUMB_NO_INDEX, 3.0, &c));
      project (&c, 3.0, plumb_vec3_along (eye, plumb_beam_ray (&e->beam, plumb_vec2 (0.0, 0.5)), 3.0), &x, &y);
      g_assert_cmpfloat_with_epsilon (x, 0.5, 1e-4);
      g_assert_cmpfloat_with_epsilon (y, 0.0, 1e-4);
      plumb_evaluation_free (e);
      plumb_scene_unref (scene);
    }
}

/* The whole room lies in the pane, in a wide one and in a tall one. */
static void
test_room (void)
{
  Sample sample;
  sample_init (&sample);
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *e = sample_evaluate (&sample);
  for (double aspect = 0.4; aspect < 4.0; aspect *= 1.7)
    {
      PlumbCamera c;
      g_assert_true (plumb_camera_home (scene, e, PLUMB_CAMERA_ROOM, PLUMB_NO_INDEX, aspect, &c));
      for (int i = 0; i < 4; i++)
        {
          double x, y;
          project (&c, aspect, plumb_vec3 (i & 1 ? 6.2 : 0.0, 9.4, i & 2 ? 3.0 : 0.0), &x, &y);
          g_assert_true (x >= 0.0 && x <= 1.0 && y >= 0.0 && y <= 1.0);
        }
      PlumbVec3 eye = plumb_camera_eye (&c);
      g_assert_true (eye.x > 3.1 && eye.y < 4.7 && eye.z > 1.5);
    }
  PlumbCamera c;
  g_assert_false (plumb_camera_home (scene, e, PLUMB_CAMERA_SEAT, 100000, 1.5, &c));
  g_assert_true (plumb_camera_home (scene, e, PLUMB_CAMERA_FRONT, PLUMB_NO_INDEX, 1.5, &c));
  PlumbVec3 ray = plumb_vec3_unit (plumb_camera_ray (&c, 1.5, 0.5, 0.5));
  g_assert_cmpfloat_with_epsilon (ray.y, 1.0, 1e-9);
  plumb_evaluation_free (e);
  plumb_scene_unref (scene);
}

static void
test_moves (void)
{
  PlumbCamera a = { .kind = PLUMB_CAMERA_ROOM, .distance_m = 4.0, .fov_y_rad = 1.0, .azimuth_rad = 3.0 }, b = a;
  b.azimuth_rad = -3.0;
  /* The short way from 3 to −3 rad passes π. */
  PlumbCamera c = plumb_camera_between (&a, &b, 0.5);
  g_assert_cmpfloat_with_epsilon (cos (c.azimuth_rad), -1.0, 1e-12);
  plumb_camera_orbit (&a, 0.0, 100.0);
  g_assert_cmpfloat (a.elevation_rad, <, PLUMB_PI / 2.0);
  plumb_camera_orbit (&a, NAN, 0.1);
  plumb_camera_zoom (&a, 1e300);
  plumb_camera_zoom (&a, 0.0);
  g_assert_true (plumb_vec3_is_finite (plumb_camera_eye (&a)) && a.distance_m > 0.0);
  /* One metre to the right moves what is seen one metre to the left. */
  PlumbVec3 before = plumb_camera_eye (&b);
  plumb_camera_pan (&b, 1.0, 0.0);
  PlumbVec3 moved = plumb_vec3_sub (plumb_camera_eye (&b), before);
  g_assert_cmpfloat_with_epsilon (plumb_vec3_length (moved), 1.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (moved.z, 0.0, 1e-9);
  g_assert_cmpfloat (moved.x * -sin (b.azimuth_rad) + moved.y * cos (b.azimuth_rad), >, 0.999);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/camera/cglm", test_cglm);
  g_test_add_func ("/camera/by-hand", test_by_hand);
  g_test_add_func ("/camera/ray", test_ray);
  g_test_add_func ("/camera/lens", test_lens);
  g_test_add_func ("/camera/room", test_room);
  g_test_add_func ("/camera/moves", test_moves);
  return g_test_run ();
}
