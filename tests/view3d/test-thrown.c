/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The thrown picture in the rendering against the engine and against plain
 * geometry. The renderer has its light from the projector's matrix, the
 * engine its corners from a homography, the shadow's outline here comes from
 * straight lines through the lens: three ways that share no code.
 */
#include <math.h>

#include "outline.h"

#define WIDTH_PX 1000
#define HEIGHT_PX 500
#define N_ARRANGEMENTS 200
#define N_CORRECTED 20
#define N_SHADOWS 20
#define MOST_PX 1.0
#define WALL_Y_M 9.4
/* Kept free between the light's end and the end of what it falls on. */
#define SPARE_PX 8.0

typedef struct {
  PlumbOffscreen *offscreen;
  PlumbView3d *view;
} Stage;

/* bright_black: what the content leaves of the panel is as bright as white. */
static Stage
stage_new (bool bright_black)
{
  Stage stage = { render_offscreen (false), render_view_new (0.0) };
  PlumbView3dOptions options = render_options ();

  options.black_share = bright_black ? 1.0 : 0.0;
  plumb_view3d_set_options (stage.view, &options);
  return stage;
}

static void
stage_clear (Stage *stage)
{
  plumb_view3d_free (stage->view);
  plumb_offscreen_free (stage->offscreen);
}

static double
between (GRand *rand, double least, double most)
{
  return g_rand_double_range (rand, least, most);
}

/* Zoom, shift, turn, tilt and roll as typed; hung upside down, hung, or standing. */
static void
set_arrangement (Sample *s, GRand *rand)
{
  PlumbArrangement *a = &s->arrangement[0];
  bool hung = g_rand_int_range (rand, 0, 3) > 0;

  s->lens[0].throw_wide_ratio = 1.0;
  s->lens[0].throw_tele_ratio = 3.0;
  SET_ID (a->place, hung ? "hung" : "stand");
  SET_ID (a->mount, hung ? "tube" : "");
  s->place[0].inverted = g_rand_boolean (rand);
  s->place[0].along_m = between (rand, 2.2, 4.0);
  s->place[1].along_m = between (rand, 2.2, 4.0);
  a->zoom = a->shift = a->attitude = PLUMB_SOLVE_TYPED;
  a->throw_ratio = between (rand, 1.4, 2.6);
  a->shift_h_share = between (rand, -0.25, 0.25);
  a->shift_v_share = between (rand, -0.6, 0.6);
  a->yaw_rad = between (rand, -0.25, 0.25);
  a->pitch_rad = between (rand, -0.25, 0.25);
  a->roll_rad = between (rand, -0.2, 0.2);
}

/* A screen that the light misses: without a picture on it nothing corrects
 * the panel, which falls whole on the wall. Its frame lies in the wall. */
static void
set_wall (Sample *s)
{
  s->screen[0].across_m = 0.1;
  s->screen[0].bottom_m = 0.02;
  s->screen[0].width_m = 0.1;
  s->screen[0].height_m = 0.06;
}

static void
set_rear (Sample *s)
{
  s->screen[0].support = PLUMB_SUPPORT_FREE;
  s->screen[0].lit = PLUMB_LIT_REAR;
  s->screen[0].x_m = 3.1;
  s->screen[0].y_m = 4.6;
  s->screen[0].facing_rad = -PLUMB_PI / 2.0;
  s->screen[0].bottom_m = 0.1;
  s->screen[0].width_m = 5.2;
  s->screen[0].height_m = 2.7;
  s->place[0].off_m = s->place[1].off_m = 0.3;
}

static PlumbCamera
camera_at (GRand *rand, double y_m)
{
  return (PlumbCamera){ .kind = PLUMB_CAMERA_FRONT,
                        .seat = PLUMB_NO_INDEX,
                        .target_m = plumb_vec3 (3.1, y_m, 1.5),
                        .azimuth_rad = -PLUMB_PI / 2.0 + between (rand, -0.3, 0.3),
                        .elevation_rad = between (rand, -0.15, 0.15),
                        .distance_m = 4.0,
                        .fov_y_rad = 2.0 * atan (1.6 / 4.0) };
}

static Outline
rectangle (const PlumbCamera *camera, PlumbVec3 low, PlumbVec3 high)
{
  PlumbVec2 corner[4];
  for (int i = 0; i < 4; i++)
    corner[i] = outline_project (camera, WIDTH_PX, HEIGHT_PX,
                                 plumb_vec3 (i & 1 ? high.x : low.x, high.y, i & 2 ? high.z : low.z));
  return outline_hull (corner, 4);
}

/* Where light may end: on the wall, or on the screen that is lit from behind. */
static Outline
field_of (const PlumbCamera *camera, bool rear)
{
  if (rear)
    return rectangle (camera, plumb_vec3 (0.52, 4.6, 0.12), plumb_vec3 (5.68, 4.6, 2.78));
  return rectangle (camera, plumb_vec3 (0.02, WALL_Y_M, 0.02), plumb_vec3 (6.18, WALL_Y_M, 2.98));
}

static Outline
project_quad (const PlumbCamera *camera, const PlumbPlaneFrame *frame, const PlumbQuad *quad)
{
  PlumbVec2 corner[4];
  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 p = plumb_vec3_along (frame->origin_m, frame->u, quad->corner[i].x);
      corner[i] = outline_project (camera, WIDTH_PX, HEIGHT_PX, plumb_vec3_along (p, frame->v, quad->corner[i].y));
    }
  return outline_hull (corner, 4);
}

static bool
is_inside (const Outline *inner, const Outline *outer, double spare_px)
{
  for (uint32_t i = 0; i < inner->n; i++)
    if (!(outline_depth_px (outer, inner->point[i]) > spare_px))
      return false;
  return true;
}

static bool
is_in_pane (const Outline *outline)
{
  const Outline pane = { 4, { { 0.0, 0.0 }, { WIDTH_PX, 0.0 }, { WIDTH_PX, HEIGHT_PX }, { 0.0, HEIGHT_PX } } };
  return is_inside (outline, &pane, SPARE_PX);
}

static GArray *
find_light (Stage *stage, const Sample *s, const PlumbEvaluation *evaluation, const PlumbCamera *camera,
            const Outline *where)
{
  PlumbScene *scene = sample_scene (s);
  plumb_view3d_set_scene (stage->view, scene, evaluation);
  plumb_view3d_set_camera (stage->view, camera);
  Picture picture = render_picture (stage->offscreen, stage->view, WIDTH_PX, HEIGHT_PX);
  GArray *found = outline_find (&picture, where);
  picture_clear (&picture);
  plumb_scene_unref (scene);
  return found;
}

static void
tell (const char *what, int n, const OutlineErrors *errors)
{
  g_test_message ("%s: %d cases, %u edge points; worst point %.3f px, line %.3f px, corner %.3f px", what, n,
                  errors->n_points, errors->worst_point_px, errors->worst_line_px, errors->worst_corner_px);
}

/* ---- the raw picture -------------------------------------------------------------- */

static bool
compare_raw (Stage *stage, GRand *rand, OutlineErrors *errors)
{
  Sample s;
  bool rear = g_rand_int_range (rand, 0, 5) == 0;

  sample_init (&s);
  set_arrangement (&s, rand);
  if (rear)
    set_rear (&s);
  else
    set_wall (&s);
  PlumbCamera camera = camera_at (rand, rear ? 4.6 : WALL_Y_M);
  Outline field = field_of (&camera, rear);
  PlumbEvaluation *evaluation = sample_evaluate (&s);
  bool wanted = evaluation->has_raw && evaluation->has_picture == rear;
  if (wanted)
    {
      Outline raw = project_quad (&camera, &evaluation->target.frame, &evaluation->raw);
      wanted = is_in_pane (&raw) && is_inside (&raw, &field, SPARE_PX);
      if (wanted)
        {
          /* From behind there is always a picture on the screen: the panel's
           * own black alone shows where the panel ends. */
          plumb_view3d_set_pattern (stage->view, rear ? PLUMB_PATTERN_BLACK : PLUMB_PATTERN_WHITE);
          GArray *found = find_light (stage, &s, evaluation, &camera, &field);
          outline_compare (found, &raw, 1, MOST_PX, errors);
          g_array_unref (found);
        }
    }
  plumb_evaluation_free (evaluation);
  return wanted;
}

static void
test_raw (void)
{
  Stage stage = stage_new (true);
  GRand *rand = g_rand_new_with_seed (20261);
  OutlineErrors errors = { 0 };
  int done = 0;

  for (int i = 0; i < 100 * N_ARRANGEMENTS && done < N_ARRANGEMENTS; i++)
    done += compare_raw (&stage, rand, &errors);
  g_assert_cmpint (done, ==, N_ARRANGEMENTS);
  tell ("raw picture", done, &errors);
  g_rand_free (rand);
  stage_clear (&stage);
}

/* ---- the corrected picture ---------------------------------------------------------- */

/* White content ends where the engine's upright picture ends on the screen. */
static bool
compare_corrected (Stage *stage, GRand *rand, OutlineErrors *errors)
{
  Sample s;

  sample_init (&s);
  set_arrangement (&s, rand);
  s.screen[0].across_m = between (rand, 2.8, 3.4);
  s.screen[0].bottom_m = 0.3;
  s.screen[0].width_m = 4.6;
  s.screen[0].height_m = 2.6;
  PlumbCamera camera = camera_at (rand, WALL_Y_M);
  Outline field = field_of (&camera, false);
  PlumbEvaluation *evaluation = sample_evaluate (&s);
  bool wanted = evaluation->has_raw && evaluation->has_picture && evaluation->picture.width_m > 1.0;
  if (wanted)
    {
      const PlumbRect *rect = &evaluation->picture;
      const PlumbQuad screen = { { { -2.3, -1.3 }, { 2.3, -1.3 }, { 2.3, 1.3 }, { -2.3, 1.3 } } };
      PlumbQuad corners = plumb_rect_corners (rect);
      Outline picture = project_quad (&camera, &evaluation->target.frame, &corners);
      Outline face = project_quad (&camera, &evaluation->target.frame, &screen);
      wanted = is_in_pane (&picture) && is_inside (&picture, &face, SPARE_PX);
      if (wanted)
        {
          GArray *found = find_light (stage, &s, evaluation, &camera, &field);
          outline_compare (found, &picture, 1, MOST_PX, errors);
          g_array_unref (found);
        }
    }
  plumb_evaluation_free (evaluation);
  return wanted;
}

static void
test_corrected (void)
{
  Stage stage = stage_new (false);
  GRand *rand = g_rand_new_with_seed (20262);
  OutlineErrors errors = { 0 };
  int done = 0;

  for (int i = 0; i < 100 * N_CORRECTED && done < N_CORRECTED; i++)
    done += compare_corrected (&stage, rand, &errors);
  g_assert_cmpint (done, ==, N_CORRECTED);
  tell ("corrected picture", done, &errors);
  g_rand_free (rand);
  stage_clear (&stage);
}

/* ---- nothing thrown, nothing found ------------------------------------------------------ */

static void
test_not_thrown (void)
{
  Stage stage = stage_new (true);
  GRand *rand = g_rand_new_with_seed (20263);
  PlumbView3dOptions options = render_options ();
  Sample s;

  sample_init (&s);
  set_wall (&s);
  s.arrangement[0].zoom = s.arrangement[0].shift = PLUMB_SOLVE_TYPED;
  s.arrangement[0].throw_ratio = 2.0;
  PlumbCamera camera = camera_at (rand, WALL_Y_M);
  Outline field = field_of (&camera, false);
  PlumbEvaluation *evaluation = sample_evaluate (&s);
  GArray *found = find_light (&stage, &s, evaluation, &camera, &field);
  g_assert_cmpuint (found->len, >, 400);
  g_array_unref (found);
  options.thrown = false;
  plumb_view3d_set_options (stage.view, &options);
  found = find_light (&stage, &s, evaluation, &camera, &field);
  g_assert_cmpuint (found->len, ==, 0);
  g_array_unref (found);
  plumb_evaluation_free (evaluation);
  g_rand_free (rand);
  stage_clear (&stage);
}

/* ---- a box's shadow ------------------------------------------------------------------------ */

/* Along the straight line from the lens through a point to the wall. */
static PlumbVec3
on_wall (PlumbVec3 lens, PlumbVec3 point)
{
  PlumbVec3 way = plumb_vec3_sub (point, lens);
  return plumb_vec3_along (lens, way, (WALL_Y_M - lens.y) / way.y);
}

static Outline
shadow_of (const PlumbBlocker *box, PlumbVec3 lens, const PlumbCamera *camera)
{
  PlumbVec2 corner[8];
  double c = cos (box->yaw_rad), d = sin (box->yaw_rad);

  for (int i = 0; i < 8; i++)
    {
      double x = (i & 1 ? 0.5 : -0.5) * box->length_m, y = (i & 2 ? 0.5 : -0.5) * box->width_m;
      PlumbVec3 p
          = plumb_vec3 (box->x_m + c * x - d * y, box->y_m + d * x + c * y, box->z_m + (i & 4 ? box->height_m : 0.0));
      corner[i] = outline_project (camera, WIDTH_PX, HEIGHT_PX, on_wall (lens, p));
    }
  return outline_hull (corner, 8);
}

/* A box in the beam, behind whoever looks at the wall. */
static void
put_box (Sample *s, GRand *rand, const PlumbEvaluation *evaluation)
{
  const PlumbVec2 panel = { between (rand, -0.2, 0.2), between (rand, -0.2, 0.2) };
  PlumbVec3 ray = plumb_beam_ray (&evaluation->beam, panel);
  double size = between (rand, 0.02, 0.05);
  PlumbVec3 p = plumb_vec3_along (evaluation->beam.lens_m, ray, between (rand, 0.25, 0.45));
  PlumbBlocker *box = sample_add_box (s, "box", p.x, p.y, p.z - size / 2.0, size * between (rand, 1.0, 2.0), size,
                                      size * between (rand, 0.7, 1.3));
  box->yaw_rad = between (rand, -PLUMB_PI, PLUMB_PI);
}

static bool
compare_shadow (Stage *stage, GRand *rand, OutlineErrors *errors)
{
  Sample s;

  sample_init (&s);
  set_arrangement (&s, rand);
  set_wall (&s);
  PlumbCamera camera = camera_at (rand, WALL_Y_M);
  Outline field = field_of (&camera, false), outline[2];
  PlumbEvaluation *evaluation = sample_evaluate (&s);
  bool wanted = evaluation->has_raw && !evaluation->has_picture;
  if (wanted)
    {
      put_box (&s, rand, evaluation);
      outline[0] = project_quad (&camera, &evaluation->target.frame, &evaluation->raw);
      outline[1] = shadow_of (&s.blocker[0], evaluation->beam.lens_m, &camera);
      wanted = s.blocker[0].y_m < plumb_camera_eye (&camera).y - 0.1 && is_in_pane (&outline[0])
               && is_inside (&outline[0], &field, SPARE_PX) && is_inside (&outline[1], &outline[0], 2.0 * SPARE_PX);
    }
  plumb_evaluation_free (evaluation);
  if (!wanted)
    return false;
  evaluation = sample_evaluate (&s);
  GArray *found = find_light (stage, &s, evaluation, &camera, &field);
  outline_compare (found, outline, 2, MOST_PX, errors);
  g_array_unref (found);
  plumb_evaluation_free (evaluation);
  return true;
}

static void
test_shadow (void)
{
  Stage stage = stage_new (true);
  GRand *rand = g_rand_new_with_seed (20264);
  OutlineErrors errors = { 0 };
  int done = 0;

  for (int i = 0; i < 200 * N_SHADOWS && done < N_SHADOWS; i++)
    done += compare_shadow (&stage, rand, &errors);
  g_assert_cmpint (done, ==, N_SHADOWS);
  tell ("shadow of a box", done, &errors);
  g_rand_free (rand);
  stage_clear (&stage);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/thrown/raw-picture", test_raw);
  g_test_add_func ("/thrown/corrected-picture", test_corrected);
  g_test_add_func ("/thrown/switched-off", test_not_thrown);
  g_test_add_func ("/thrown/shadow-of-a-box", test_shadow);
  return g_test_run ();
}
