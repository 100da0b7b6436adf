/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"

/* A rectangle on the screen plane as four points of the room. */
static void
rect_in_room (const PlumbPlaneFrame *screen, PlumbQuad quad, PlumbVec3 out[4])
{
  for (int k = 0; k < 4; k++)
    out[k] = plumb_vec3_along (plumb_vec3_along (screen->origin_m, screen->u, quad.corner[k].x), screen->v,
                               quad.corner[k].y);
}

/* By hand: 3 m off, a picture 2 m × 1.25 m whose centre is 0.25 m to the
 * right of and 0.75 m above the axis: t = 1.5, shift 0.125 and 0.6. */
static void
test_cover_by_hand (void)
{
  PlumbPlaneFrame screen = plain_screen ();
  PlumbBeam beam = plain_beam (3.0, 1.0, 1.6, 0.0, 0.0);
  PlumbRect rect = { { 0.25, 0.75 }, 2.0, 1.25 };
  PlumbVec3 target[4];
  PlumbCover cover;

  rect_in_room (&screen, plumb_rect_corners (&rect), target);
  g_assert_true (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
  g_assert_cmpfloat_with_epsilon (cover.throw_ratio, 1.5, 1e-15);
  g_assert_cmpfloat_with_epsilon (cover.shift_h_share, 0.125, 1e-15);
  g_assert_cmpfloat_with_epsilon (cover.shift_v_share, 0.6, 1e-15);
  assert_vec2_near (plumb_cover_shift_at (&cover, 1.6, 0.75), 0.0625, 0.3, 1e-15);

  /* A wider picture: the width alone decides; a higher one: the height. */
  rect.width_m = 4.0;
  rect_in_room (&screen, plumb_rect_corners (&rect), target);
  g_assert_true (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
  g_assert_cmpfloat_with_epsilon (cover.throw_ratio, 0.75, 1e-15);
  rect.height_m = 5.0;
  rect_in_room (&screen, plumb_rect_corners (&rect), target);
  g_assert_true (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
  g_assert_cmpfloat_with_epsilon (cover.throw_ratio, 0.375, 1e-15);
}

/* Forward: the raw picture of a random beam. Back: the beam that covers it is
 * that beam. Front and rear, all angles; 1e-9. */
static void
test_cover_forward_and_back (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (81);

  for (int i = 0; i < 1000; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      bool rear = i % 2;
      PlumbBeam beam = random_beam (rand, &screen, rear);
      PlumbHomography map;
      PlumbQuad quad;
      PlumbVec3 target[4];
      PlumbCover cover;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, rear, &map));
      g_assert_true (plumb_raw_picture (&map, &quad, NULL));
      rect_in_room (&screen, quad, target);
      g_assert_true (plumb_cover_solve (beam.lens_m, &beam.axes, beam.panel_aspect, target, &cover));
      g_assert_cmpfloat_with_epsilon (cover.throw_ratio, beam.throw_ratio, 1e-9);
      g_assert_cmpfloat_with_epsilon (cover.shift_h_share, beam.shift_h_share, 1e-9);
      g_assert_cmpfloat_with_epsilon (cover.shift_v_share, beam.shift_v_share, 1e-9);
    }
}

/* A picture that is not the raw one: the solved beam holds all its corners
 * and touches at least one on each side of the tighter axis. */
static void
test_cover_really_covers (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (82);

  for (int i = 0; i < 500; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, false);
      PlumbRect rect = { { 0.1, -0.2 }, g_rand_double_range (rand, 0.2, 1.0), g_rand_double_range (rand, 0.2, 1.0) };
      PlumbVec3 target[4];
      PlumbCover cover;
      double reach = 0.0;

      rect_in_room (&screen, plumb_rect_corners (&rect), target);
      if (!plumb_cover_solve (beam.lens_m, &beam.axes, beam.panel_aspect, target, &cover))
        continue;
      beam.throw_ratio = cover.throw_ratio;
      beam.shift_h_share = cover.shift_h_share;
      beam.shift_v_share = cover.shift_v_share;
      for (int k = 0; k < 4; k++)
        {
          PlumbVec2 p;
          g_assert_true (plumb_beam_panel_of (&beam, plumb_vec3_sub (target[k], beam.lens_m), &p));
          reach = fmax (reach, fmax (fabs (p.x), fabs (p.y)));
        }
      g_assert_cmpfloat_with_epsilon (reach, 0.5, 1e-9);
    }
}

static void
test_cover_behind_and_coincident (void)
{
  PlumbPlaneFrame screen = plain_screen ();
  PlumbBeam beam = plain_beam (3.0, 1.0, 1.6, 180.0, 0.0);
  PlumbRect rect = { { 0, 0 }, 2.0, 1.25 }, point = { { 0, 0 }, 0.0, 0.0 };
  PlumbVec3 target[4];
  PlumbCover cover;

  rect_in_room (&screen, plumb_rect_corners (&rect), target);
  g_assert_false (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
  /* Edge-on: two corners level with the lens plane. */
  beam.axes = plumb_beam_axes (&screen, false, PLUMB_PI / 2, 0.0, 0.0);
  g_assert_false (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
  /* The lens in a corner; a picture of no size. */
  beam.axes = plumb_beam_axes (&screen, false, 0.0, 0.0, 0.0);
  g_assert_false (plumb_cover_solve (target[0], &beam.axes, 1.6, target, &cover));
  rect_in_room (&screen, plumb_rect_corners (&point), target);
  g_assert_false (plumb_cover_solve (beam.lens_m, &beam.axes, 1.6, target, &cover));
}

static PlumbCover
box (double x_min, double x_max, double y_min, double y_max)
{
  return (PlumbCover){ .x_min = x_min, .x_max = x_max, .y_min = y_min, .y_max = y_max };
}

/* By hand: aspect 1, box 0.2 × 0.2. Centred, widest zoom t = 2: half reach
 * 0.25, margin 0.15. Off by 0.3 with no shift: -0.15. */
static void
test_margin_by_hand (void)
{
  PlumbShiftSet none = plumb_shift_set_none (), any = plumb_shift_set_rectangle (1, 1, 1, 1);
  PlumbCover centred = box (-0.1, 0.1, -0.1, 0.1), off = box (0.2, 0.4, -0.1, 0.1);
  PlumbVec2 shift;
  double t;

  g_assert_cmpfloat_with_epsilon (plumb_cover_margin (&centred, 1.0, 2.0, 4.0, &none, &none, &t, &shift), 0.15,
                                  1e-12);
  g_assert_cmpfloat (t, ==, 2.0);
  g_assert_cmpfloat_with_epsilon (plumb_cover_margin (&off, 1.0, 2.0, 4.0, &none, &none, &t, &shift), -0.15, 1e-12);
  g_assert_cmpfloat (t, ==, 2.0);
  g_assert_cmpfloat_with_epsilon (plumb_cover_margin (&off, 1.0, 2.0, 4.0, &any, &any, &t, &shift), 0.15, 1e-12);
  assert_vec2_near (shift, 0.6, 0.0, 1e-12);
}

/* By hand: a built-in offset that cannot be taken back, shift v = 1 alone,
 * aspect 1, box y in 0.3 ± 0.05, x narrower. Picture y from k/2 to 3k/2 with
 * k = 1/t: margins 0.25 - k/2 and 3k/2 - 0.35 are equal at k = 0.3: 0.1. */
static void
test_margin_inside_the_zoom (void)
{
  PlumbShiftSet up = plumb_shift_set_rectangle (0, 0, -1, 1);
  PlumbCover cover = box (-0.01, 0.01, 0.25, 0.35);
  PlumbVec2 shift;
  double t;
  double margin = plumb_cover_margin (&cover, 1.0, 1.0, 10.0, &up, &up, &t, &shift);

  g_assert_cmpfloat_with_epsilon (margin, 0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (1.0 / t, 0.3, 1e-11);
  assert_vec2_near (shift, 0.0, 1.0, 1e-12);
}

/* By hand: shift 0 at t = 1, up to 0.5 at t = 3, so 0.25 at 2. The zoom is
 * fixed at each; box 0.1 × 0.1 with its centre k s up for s = 0.4. */
static void
test_margin_between_two_sets (void)
{
  PlumbShiftSet none = plumb_shift_set_none (), tele = plumb_shift_set_rectangle (0, 0, 0, 0.5);
  PlumbCover cover = box (-0.05, 0.05, 0.15, 0.25);
  PlumbVec2 shift;
  double t;
  double margin = plumb_cover_margin (&cover, 1.0, 1.0, 3.0, &none, &tele, &t, &shift);

  /* At t the margin is k/2 - 0.05 - max (0, 0.2 - k (t - 1)/4) with k = 1/t:
   * 0.25 at t = 1, and less towards tele: 1/4 k less shift is gained than
   * half a picture is lost. */
  g_assert_cmpfloat_with_epsilon (margin, 0.25, 1e-12);
  g_assert_cmpfloat (t, ==, 1.0);
  /* Fixed at t = 2 by mixing the ends by hand: 0.25 - 0.05 - 0.075. */
  PlumbShiftSet middle = plumb_shift_set_rectangle (0, 0, 0, 0.25);
  margin = plumb_cover_margin (&cover, 1.0, 2.0, 2.0, &middle, &middle, &t, &shift);
  g_assert_cmpfloat_with_epsilon (margin, 0.125, 1e-12);
  assert_vec2_near (shift, 0.0, 0.25, 1e-12);
}

/* Sets of every kind: the margin is what its own t and shift give, the shift
 * is in the set, and no t of a fine row has a better one at its nearest
 * shift. */
static void
test_margin_is_consistent (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (83);

  for (int i = 0; i < 300; i++)
    {
      double a = g_rand_double_range (rand, 0.02, 0.5), b = g_rand_double_range (rand, 0.02, 0.7);
      PlumbShiftSet kinds[3]
          = { plumb_shift_set_diamond (a, a, b, b), plumb_shift_set_ellipse (a, b), plumb_shift_set_circle (b, 1.6) };
      PlumbVec2 offset = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.8, 0.8) };
      PlumbShiftSet set = plumb_shift_set_place (&kinds[i % 3], 1.0, offset, false, false);
      double x = g_rand_double_range (rand, -0.4, 0.4), y = g_rand_double_range (rand, -0.4, 0.4);
      PlumbCover cover = box (x - 0.15, x + 0.15, y - 0.1, y + 0.1);
      PlumbVec2 shift;
      double t, margin = plumb_cover_margin (&cover, 1.6, 1.2, 2.4, &set, &set, &t, &shift);

      g_assert_true (plumb_shift_set_holds (&set, shift, 1e-12));
      g_assert_cmpfloat (t, >=, 1.2);
      g_assert_cmpfloat (t, <=, 2.4);
      double right = (0.5 - fabs (shift.x - t * x)) / t - 0.15;
      double up = (0.5 - fabs (shift.y - 1.6 * t * y)) / (1.6 * t) - 0.1;
      g_assert_cmpfloat_with_epsilon (fmin (right, up), margin, 1e-12);

      for (int k = 0; k <= 200; k++)
        {
          double other_t = 1.2 + 0.006 * k;
          PlumbVec2 wanted = plumb_cover_shift_at (&cover, 1.6, other_t);
          PlumbVec2 s = plumb_shift_set_nearest (&set, wanted, 1.6, 1.0);
          right = (0.5 - fabs (s.x - wanted.x)) / other_t - 0.15;
          up = (0.5 - fabs (s.y - wanted.y)) / (1.6 * other_t) - 0.1;
          g_assert_cmpfloat (fmin (right, up), <=, margin + 1e-12);
        }
    }
}

/* 2.4 m at 1.2 to 1.56 (design: [t_wide W, t_tele W]): 2.88 to 3.744 m. */
static void
test_distance_slab (void)
{
  double least, greatest;

  plumb_distance_slab (2.4, 1.2, 1.56, &least, &greatest);
  g_assert_cmpfloat_with_epsilon (least, 2.88, 1e-15);
  g_assert_cmpfloat_with_epsilon (greatest, 3.744, 1e-15);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/inverse/cover-by-hand", test_cover_by_hand);
  g_test_add_func ("/optics/inverse/cover-forward-and-back", test_cover_forward_and_back);
  g_test_add_func ("/optics/inverse/cover-really-covers", test_cover_really_covers);
  g_test_add_func ("/optics/inverse/cover-behind-and-coincident", test_cover_behind_and_coincident);
  g_test_add_func ("/optics/inverse/margin-by-hand", test_margin_by_hand);
  g_test_add_func ("/optics/inverse/margin-inside-the-zoom", test_margin_inside_the_zoom);
  g_test_add_func ("/optics/inverse/margin-between-two-sets", test_margin_between_two_sets);
  g_test_add_func ("/optics/inverse/margin-is-consistent", test_margin_is_consistent);
  g_test_add_func ("/optics/inverse/distance-slab", test_distance_slab);
  return g_test_run ();
}
