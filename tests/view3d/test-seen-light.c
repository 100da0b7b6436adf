/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The light that is seen against the figures: white over black on the rendered
 * screen is the contrast of the light state, and the share of the picture that
 * lies in shadow, counted in pixels, is the share that the engine works out.
 *
 * The pixels are turned back into light by the two laws that common.glsl
 * states: sRGB (IEC 61966-2-1) and the shoulder, straight up to 0.72 and then
 * 1 - 0.28 exp (-(c - 0.72) / 0.28).
 */
#include <math.h>
#include <string.h>

#include "job/job.h"
#include "render-testing.h"

#define KNEE 0.72
#define BEYOND (1.0 - KNEE)
#define N_BOXES 12
#define N_PEOPLE 9

/* ---- pixels as light -------------------------------------------------------------- */

static double
light_of (double byte)
{
  double s = CLAMP (byte / 255.0, 0.0, 1.0 - 1e-9);
  double c = s <= 0.04045 ? s / 12.92 : pow ((s + 0.055) / 1.055, 2.4);
  return c <= KNEE ? c : KNEE - BEYOND * log (1.0 - (c - KNEE) / BEYOND);
}

/* From the eye to the face that is drawn: it stands a little before the
 * picture's plane, which from so near makes the pane too small. */
static double
face_distance (PlumbOffscreen *offscreen, PlumbScene *scene, const PlumbEvaluation *evaluation,
               const PlumbCamera *camera)
{
  g_autoptr (GError) error = NULL;
  PlumbView3d *view = render_view_new (1.0);

  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, camera);
  g_autofree float *depth = plumb_offscreen_depth (offscreen, view, 9, 9, &error);
  g_assert_no_error (error);
  plumb_view3d_free (view);
  return (double) depth[9 * 4 + 4];
}

/* Straight at a rectangle of the picture, which fills the pane; the eye is
 * nearer than whatever might stand before it. */
static PlumbCamera
straight_at (PlumbOffscreen *offscreen, PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbRect rect,
             double distance_m)
{
  const PlumbPlaneFrame *frame = &evaluation->target.frame;
  PlumbCamera camera;

  g_assert_true (plumb_camera_home (scene, evaluation, PLUMB_CAMERA_FRONT, PLUMB_NO_INDEX, 1.6, &camera));
  camera.target_m
      = plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, rect.centre_m.x), frame->v, rect.centre_m.y);
  camera.distance_m = distance_m;
  camera.fov_y_rad = 2.0 * atan (rect.height_m / 2.0 / distance_m);
  double face_m = face_distance (offscreen, scene, evaluation, &camera);
  g_assert_cmpfloat (fabs (face_m - distance_m), <, 0.02);
  camera.fov_y_rad = 2.0 * atan (rect.height_m / 2.0 / face_m);
  return camera;
}

static Picture
draw (PlumbOffscreen *offscreen, PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera,
      PlumbPattern pattern, const PlumbView3dOptions *options, int width_px, int height_px)
{
  PlumbView3d *view = render_view_new (1.0);

  plumb_view3d_set_pattern (view, pattern);
  plumb_view3d_set_options (view, options);
  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, camera);
  Picture picture = render_picture (offscreen, view, width_px, height_px);
  plumb_view3d_free (view);
  return picture;
}

/* ---- white over black -------------------------------------------------------------- */

#define WINDOW_PX 9

/* The pixel in the middle; it is grey and so are its neighbours. */
static int
middle_byte (const Picture *picture)
{
  const uint8_t *p
      = picture->rgba
        + 4 * ((gsize) (picture->height_px / 2) * (gsize) picture->width_px + (gsize) (picture->width_px / 2));
  g_assert_cmpint (p[0], ==, p[1]);
  g_assert_cmpint (p[0], ==, p[2]);
  return p[0];
}

/* A byte stands for all light between half a step under and over it, so the
 * ratio of two is known between two bounds; the contrast must lie there. They
 * are at most 8 % from their middle, but where the room's light alone takes
 * white to the last byte: there only the lower one is known. */
static void
check_state (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t state, double *widest)
{
  const PlumbStateFigures *figures = &evaluation->states[state];
  const PlumbRect spot = { .width_m = 0.04, .height_m = 0.04 };
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbCamera camera = straight_at (offscreen, scene, evaluation, spot, 0.15);
  PlumbView3dOptions options = render_options ();

  options.white_share = figures->white_share;
  options.black_share = figures->black_share;
  Picture white = draw (offscreen, scene, evaluation, &camera, PLUMB_PATTERN_WHITE, &options, WINDOW_PX, WINDOW_PX);
  Picture black = draw (offscreen, scene, evaluation, &camera, PLUMB_PATTERN_BLACK, &options, WINDOW_PX, WINDOW_PX);
  int w = middle_byte (&white), b = middle_byte (&black);
  double least = light_of (w - 0.5) / light_of (b + 0.5), most = light_of (w + 0.5) / light_of (b - 0.5);
  g_test_message ("%s, state %u: white %d, black %d: ratio %.2f to %.2f, contrast %.2f", name, state, w, b, least,
                  most, figures->contrast_ratio);
  g_assert_cmpint (b, >, 8);
  g_assert_cmpfloat (least, <=, figures->contrast_ratio);
  g_assert_cmpfloat (most, >=, figures->contrast_ratio);
  /* White that the last byte stands for has no upper bound. */
  if (w < 255)
    *widest = fmax (*widest, (most - least) / (most + least));
  picture_clear (&white);
  picture_clear (&black);
  plumb_offscreen_free (offscreen);
}

static void
check_contrast (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  double widest = 0.0;
  guint n = 0;

  for (uint32_t i = 0; i < evaluation->n_states; i++)
    if (evaluation->states[i].known)
      {
        check_state (name, scene, evaluation, i, &widest);
        n++;
      }
  g_assert_cmpuint (n, >=, 3);
  g_assert_cmpfloat (widest, <, 0.08);
}

static void
test_contrast (void)
{
  each_demo (check_contrast);
}

/* ---- shadow --------------------------------------------------------------------------- */

static double
sum_light (const Picture *picture, const Picture *clear)
{
  double sum = 0.0;

  for (gsize i = 0; i < (gsize) picture->width_px * (gsize) picture->height_px; i++)
    {
      double bright = light_of (clear->rgba[4 * i]);
      g_assert_cmpfloat (bright, >, 0.05);
      sum += fmin (light_of (picture->rgba[4 * i]) / bright, 1.0);
    }
  return sum / ((double) picture->width_px * (double) picture->height_px);
}

/* As a share of the picture, by each pixel's light against the same pixel's
 * with nothing in the way. Black is black here: no room light. */
static double
shadow_in_pixels (PlumbScene *scene, PlumbScene *empty, const PlumbEvaluation *evaluation,
                  const PlumbEvaluation *empty_evaluation, double distance_m)
{
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbCamera camera = straight_at (offscreen, scene, evaluation, evaluation->picture, distance_m);
  PlumbView3dOptions options = render_options ();
  int width_px = 1200, height_px = (int) lround (1200.0 * evaluation->picture.height_m / evaluation->picture.width_m);

  options.black_share = 1e-5;
  Picture shadowed = draw (offscreen, scene, evaluation, &camera, PLUMB_PATTERN_WHITE, &options, width_px, height_px);
  Picture clear
      = draw (offscreen, empty, empty_evaluation, &camera, PLUMB_PATTERN_WHITE, &options, width_px, height_px);
  double share = 1.0 - sum_light (&shadowed, &clear);
  picture_clear (&shadowed);
  picture_clear (&clear);
  plumb_offscreen_free (offscreen);
  return share;
}

typedef struct {
  double engine, seen;
} Shares;

static Shares
shares_of (const Sample *sample, PlumbScene *empty, const PlumbEvaluation *empty_evaluation)
{
  PlumbScene *scene = sample_scene (sample);
  PlumbEvaluation *evaluation = sample_evaluate (sample);
  Shares shares = { sample_figure (evaluation, PLUMB_FIGURE_picture_shadow_share),
                    shadow_in_pixels (scene, empty, evaluation, empty_evaluation, 0.2) };

  g_test_message ("engine %.3f %%, pixels %.3f %%", 100.0 * shares.engine, 100.0 * shares.seen);
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
  return shares;
}

/* One box in the beam, turned and pitched anyhow. */
static void
add_any_box (Sample *sample, GRand *rand)
{
  PlumbBlocker *box
      = sample_add_box (sample, "box", g_rand_double_range (rand, 2.0, 4.2), g_rand_double_range (rand, 6.5, 8.6),
                        g_rand_double_range (rand, 0.8, 1.9), g_rand_double_range (rand, 0.2, 0.7),
                        g_rand_double_range (rand, 0.1, 0.5), g_rand_double_range (rand, 0.2, 0.7));
  box->yaw_rad = g_rand_double_range (rand, -1.5, 1.5);
  box->pitch_rad = g_rand_double_range (rand, -0.6, 0.6);
}

/* Somebody who stands and looks anywhere. */
static void
add_anybody (Sample *sample, GRand *rand)
{
  PlumbPerson *person = &sample->person[sample->n_person++];

  plumb_record_default (PLUMB_RECORD_PERSON, person);
  SET_ID (person->id, "somebody");
  person->x_m = g_rand_double_range (rand, 2.0, 4.2);
  person->y_m = g_rand_double_range (rand, 7.6, 8.8);
  person->facing_rad = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
  person->stature_m = g_rand_double_range (rand, 1.5, 2.0);
}

/* To half a percent of the shadow; a ten thousandth of the picture is a row of
 * pixels along its edge. */
static void
check_shadows (void (*add) (Sample *sample, GRand *rand), int n, int least_met)
{
  GRand *rand = g_rand_new_with_seed (880);
  Sample sample;
  double worst = 0.0;
  int met = 0;

  sample_init (&sample);
  PlumbScene *empty = sample_scene (&sample);
  PlumbEvaluation *empty_evaluation = sample_evaluate (&sample);
  for (int i = 0; i < n; i++)
    {
      sample_init (&sample);
      add (&sample, rand);
      Shares shares = shares_of (&sample, empty, empty_evaluation);
      g_assert_cmpfloat (fabs (shares.seen - shares.engine), <=, 0.005 * shares.engine + 1e-4);
      worst = fmax (worst, fabs (shares.seen - shares.engine));
      met += shares.engine > 0.01;
    }
  g_test_message ("%d of %d shadow more than 1 %%; worst %.4f %% of the picture", met, n, 100.0 * worst);
  g_assert_cmpint (met, >=, least_met);
  plumb_evaluation_free (empty_evaluation);
  plumb_scene_unref (empty);
  g_rand_free (rand);
}

static void
test_boxes (void)
{
  check_shadows (add_any_box, N_BOXES, N_BOXES / 3);
}

static void
test_people (void)
{
  check_shadows (add_anybody, N_PEOPLE, N_PEOPLE / 3);
}

static PlumbScene *
without (const PlumbScene *scene)
{
  static const PlumbRecordKind kinds[]
      = { PLUMB_RECORD_BLOCKER_POINT, PLUMB_RECORD_BLOCKER_STATE, PLUMB_RECORD_BLOCKER,  PLUMB_RECORD_PERSON,
          PLUMB_RECORD_SEAT,          PLUMB_RECORD_ROW,           PLUMB_RECORD_STRUCTURE };
  PlumbScene *out = plumb_scene_ref (scene);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      PlumbScene *next = plumb_scene_with (out, kinds[i], NULL, 0);
      g_assert_nonnull (next);
      plumb_scene_unref (out);
      out = next;
    }
  g_assert_true (plumb_scene_commit (out));
  return out;
}

/* Whoever and whatever stands in the demos, from all their places. */
static void
check_demo (const char *name, PlumbScene *scene, const PlumbEvaluation *unused)
{
  PlumbScene *empty = without (scene);
  uint32_t n;

  (void) unused;
  plumb_scene_arrangement_records (scene, &n);
  for (uint32_t a = 0; a < n; a++)
    {
      PlumbEvaluation *evaluation, *clear;
      g_assert_true (plumb_evaluate (scene, a, &evaluation));
      g_assert_true (plumb_evaluate (empty, a, &clear));
      const PlumbFigureValue *figure = &evaluation->figures[PLUMB_FIGURE_picture_shadow_share];
      if (figure->valid && clear->has_picture)
        {
          double seen = shadow_in_pixels (scene, empty, evaluation, clear, 0.3);
          g_test_message ("%s, arrangement %u: engine %.3f %%, pixels %.3f %%", name, a, 100.0 * figure->value[0],
                          100.0 * seen);
          g_assert_cmpfloat (fabs (seen - figure->value[0]), <=, 0.005 * figure->value[0] + 1e-4);
        }
      plumb_evaluation_free (evaluation);
      plumb_evaluation_free (clear);
    }
  plumb_scene_unref (empty);
}

static void
test_demos (void)
{
  each_demo (check_demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/seen-light/white-over-black", test_contrast);
  g_test_add_func ("/seen-light/shadow-of-boxes", test_boxes);
  g_test_add_func ("/seen-light/shadow-of-people", test_people);
  g_test_add_func ("/seen-light/shadow-in-demos", test_demos);
  return g_test_run ();
}
