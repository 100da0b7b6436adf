/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A whole evaluation: numbers worked out by hand from the formulas of the
 * design (sections 2 and 3), invariants, spreads against a Monte Carlo of the
 * same inputs (JCGM 101), verdicts, and plans that cannot work.
 */
#include <math.h>
#include <string.h>

#include "plumbeam/variants.h"
#include "sample-job.h"

#define NEAR(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)
#define DEG (PLUMB_PI / 180.0)

static const PlumbFinding *
need (const PlumbEvaluation *e, PlumbCheck check)
{
  const PlumbFinding *f = sample_finding (e, check);

  g_assert_nonnull (f);
  return f;
}

/* Plate (3.1, 4.6, 3.0); drop 0.3 and 0.03 to the holes; the lens lies 55 mm
 * below them (body upside down) and 130 mm nearer to the picture. */
static void
test_by_hand (void)
{
  Sample s;
  sample_init (&s);
  PlumbEvaluation *e = sample_evaluate (&s);

  NEAR (e->beam.lens_m.x, 3.1, 1e-12);
  NEAR (e->beam.lens_m.y, 4.73, 1e-12);
  NEAR (e->beam.lens_m.z, 2.615, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_throw_distance_m), 4.67, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_throw_ratio), 4.67 / 3.2, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_shift_h_share), 0.0, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_shift_v_share), (1.8 - 2.615) / 1.8, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_shift_room_m), 0.6 * 1.8 - 0.815, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_raw_width_m), 3.2, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_width_m), 3.2, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_height_m), 1.8, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_panel_share_used), 1.0, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_pixels_least_per_mm), 0.6, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_share_screen), 1.0, 1e-9);
  NEAR (sample_figure (e, PLUMB_FIGURE_distance_slab_m), 3.84, 1e-12);
  NEAR (e->figures[PLUMB_FIGURE_distance_slab_m].value[1], 5.76, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_least_width_m), 4.67 / 1.8, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_greatest_width_m), 4.67 / 1.2, 1e-12);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_THROW_RANGE)->verdict, ==, PLUMB_HOLDS);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_SHIFT_SET)->verdict, ==, PLUMB_HOLDS);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_COVERS_LEFT)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

/* The machine tilts about the mount's head: at pitch θ the vector (y up,
 * forward) = (−85 mm upside down, 130 mm) turns with it. */
static void
test_pivot (void)
{
  Sample s;
  sample_init (&s);
  s.arrangement[0].pitch_rad = -10.0 * DEG;
  PlumbEvaluation *e = sample_evaluate (&s);
  double c = cos (10.0 * DEG), sn = sin (10.0 * DEG);

  /* forward (y, z) = (c, −s), body-up = −w = −(s, c). */
  NEAR (e->pivot_m.z, 2.7, 1e-12);
  NEAR (e->beam.lens_m.y, 4.6 + 0.13 * c - 0.085 * sn, 1e-12);
  NEAR (e->beam.lens_m.z, 2.7 - 0.13 * sn - 0.085 * c, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_pitch_rad), -10.0 * DEG, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_pitch_level_rad), -10.0 * DEG, 1e-12);
  NEAR (need (e, PLUMB_CHECK_BEAM_KEYSTONE)->figure, 10.0 * DEG, 1e-12);
  plumb_evaluation_free (e);
}

/* plate → lens → plate is the identity on a hung chain with a pivot, in all
 * attitudes, and on a standing one. */
static void
test_plate_for_lens (void)
{
  Sample s;
  GRand *rand = g_rand_new_with_seed (7);

  for (int i = 0; i < 200; i++)
    {
      sample_init (&s);
      SET_ID (s.arrangement[0].place, i % 2 ? "hung" : "stand");
      s.mount[0].head_right_m = g_rand_double_range (rand, -0.1, 0.1);
      s.mount[0].head_forward_m = g_rand_double_range (rand, -0.1, 0.1);
      s.machine[0].lens_right_m = g_rand_double_range (rand, -0.2, 0.2);
      s.arrangement[0].yaw_rad = g_rand_double_range (rand, -0.3, 0.3);
      s.arrangement[0].pitch_rad = g_rand_double_range (rand, -0.3, 0.3);
      s.arrangement[0].roll_rad = g_rand_double_range (rand, -0.1, 0.1);
      PlumbEvaluation *e = sample_evaluate (&s);
      const PlumbFigureValue *plate = &e->figures[PLUMB_FIGURE_plate_for_centre_m];
      g_assert_true (plate->valid);
      /* Put the plate there: the lens must then stand before the centre line. */
      PlumbPlace *place = &s.place[i % 2 ? 0 : 1];
      place->along_m = plate->value[0];
      place->off_m = 9.4 - plate->value[1];
      PlumbEvaluation *moved = sample_evaluate (&s);
      NEAR (moved->beam.lens_m.x, 3.1, 1e-9);
      NEAR (moved->beam.lens_m.y, e->beam.lens_m.y, 1e-9);
      NEAR (moved->beam.lens_m.z, e->beam.lens_m.z, 1e-9);
      plumb_evaluation_free (e);
      plumb_evaluation_free (moved);
    }
  g_rand_free (rand);
}

static void
test_inverted (void)
{
  Sample s;
  sample_init (&s);
  s.machine[0].lens_right_m = 0.08;
  s.lens[0].offset_share = 0.5; /* near edge on the axis, body upright: picture above */
  TYPE (lens, &s.lens[0], offset_share);
  s.lens[0].shift_set = PLUMB_SHIFT_SHAPE_NONE;
  PlumbEvaluation *hung = sample_evaluate (&s);
  /* Upside down the body's right is the viewer's left, the offset points down. */
  NEAR (hung->beam.lens_m.x, 3.1 - 0.08, 1e-12);
  NEAR (sample_figure (hung, PLUMB_FIGURE_shift_v_share), -0.5, 1e-12);
  SET_ID (s.arrangement[0].place, "stand");
  SET_ID (s.arrangement[0].mount, "");
  PlumbEvaluation *stand = sample_evaluate (&s);
  NEAR (stand->beam.lens_m.x, 3.1 + 0.08, 1e-12);
  NEAR (stand->beam.lens_m.z, 1.0 + 0.01 + 0.055, 1e-12);
  NEAR (sample_figure (stand, PLUMB_FIGURE_shift_v_share), 0.5, 1e-12);
  plumb_evaluation_free (hung);
  plumb_evaluation_free (stand);
}

/* From behind the screen the lens stands on the other side, the picture stays
 * upright and unmirrored for the viewer in the panel's terms. */
static void
test_rear (void)
{
  Sample s;
  sample_init (&s);
  s.screen[0].support = PLUMB_SUPPORT_FREE;
  s.screen[0].lit = PLUMB_LIT_REAR;
  s.screen[0].x_m = 3.1;
  s.screen[0].y_m = 4.6;
  s.screen[0].facing_rad = -PLUMB_PI / 2.0; /* viewers at small y */
  SET_ID (s.arrangement[0].place, "stand");
  SET_ID (s.arrangement[0].mount, "");
  s.place[1].along_m = 3.4;
  s.place[1].off_m = 0.4; /* y = 9.0, looks towards −y */
  s.machine[0].lens_right_m = 0.08;
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (e->beam.axes.f.y, -1.0, 1e-12);
  /* Facing −y the body's right is −x. */
  NEAR (e->beam.lens_m.x, 3.4 - 0.08, 1e-12);
  NEAR (e->beam.lens_m.y, 9.0 - 0.13, 1e-12);
  g_assert_true (e->has_picture);
  NEAR (sample_figure (e, PLUMB_FIGURE_throw_distance_m), 4.27, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_shift_wanted_h_share), (3.1 - 3.32) / 3.2, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_width_m), 3.2, 1e-9);
  plumb_evaluation_free (e);
}

static void
test_typed (void)
{
  Sample s;
  sample_init (&s);
  s.arrangement[0].zoom = PLUMB_SOLVE_TYPED;
  s.arrangement[0].throw_ratio = 2.0;
  s.arrangement[0].shift = PLUMB_SOLVE_TYPED;
  s.arrangement[0].shift_v_share = -0.7;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *throw_range = need (e, PLUMB_CHECK_BEAM_THROW_RANGE),
                     *shift = need (e, PLUMB_CHECK_BEAM_SHIFT_SET);
  NEAR (sample_figure (e, PLUMB_FIGURE_throw_ratio), 2.0, 1e-15);
  NEAR (sample_figure (e, PLUMB_FIGURE_raw_width_m), 4.67 / 2.0, 1e-9);
  g_assert_cmpint (throw_range->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (throw_range->variant, ==, PLUMB_V_THROW_TYPED);
  g_assert_cmpint (shift->verdict, ==, PLUMB_FAILS);
  NEAR (shift->figure, -0.1 * 4.67 / 2.0 * 9.0 / 16.0, 1e-9);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_COVERS_LEFT)->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);
}

/* Solved attitude: shift falls short, so the least tilt; the picture then
 * covers the screen and a hair less tilt does not. */
static void
test_least_tilt (void)
{
  Sample s;
  sample_init (&s);
  s.lens[0].shift_up_share = 0.20;
  s.arrangement[0].attitude = PLUMB_SOLVE_SOLVED;
  PlumbEvaluation *e = sample_evaluate (&s);
  double tilt = sample_figure (e, PLUMB_FIGURE_pitch_rad);
  g_assert_cmpfloat (tilt, <, -1.0 * DEG);
  g_assert_cmpfloat (tilt, >, -15.0 * DEG);
  NEAR (tilt, sample_figure (e, PLUMB_FIGURE_least_tilt_rad), 1e-8);
  g_assert_cmpfloat (sample_figure (e, PLUMB_FIGURE_pose_residual_m), <, 1e-9);
  for (int check = PLUMB_CHECK_BEAM_COVERS_LEFT; check <= PLUMB_CHECK_BEAM_COVERS_TOP; check++)
    g_assert_cmpfloat (need (e, (PlumbCheck) check)->figure, >, -1e-6);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_width_m), 3.2, 1e-5);
  g_assert_cmpfloat (sample_figure (e, PLUMB_FIGURE_panel_share_used), <, 1.0);
  g_assert_cmpfloat (sample_figure (e, PLUMB_FIGURE_keystone_width_ratio), <, 1.0);
  plumb_evaluation_free (e);

  s.arrangement[0].attitude = PLUMB_SOLVE_TYPED;
  s.arrangement[0].pitch_rad = tilt + 0.05 * DEG;
  e = sample_evaluate (&s);
  double worst = HUGE_VAL;
  for (int check = PLUMB_CHECK_BEAM_COVERS_LEFT; check <= PLUMB_CHECK_BEAM_COVERS_TOP; check++)
    worst = fmin (worst, need (e, (PlumbCheck) check)->figure);
  g_assert_cmpfloat (worst, <, 0.0);
  plumb_evaluation_free (e);
}

/* No tilt will do sideways: then the least yaw. */
static void
test_least_yaw (void)
{
  Sample s;
  sample_init (&s);
  s.lens[0].shift_right_share = 0.0;
  s.place[0].along_m = 2.4;
  s.arrangement[0].attitude = PLUMB_SOLVE_SOLVED;
  PlumbEvaluation *e = sample_evaluate (&s);
  double yaw = sample_figure (e, PLUMB_FIGURE_yaw_rad);
  /* The machine stands left of the centre, so it turns right. */
  g_assert_cmpfloat (yaw, >, 1.0 * DEG);
  g_assert_cmpfloat (need (e, PLUMB_CHECK_BEAM_COVERS_RIGHT)->figure, >, -1e-4);
  plumb_evaluation_free (e);
}

static void
test_typed_correction (void)
{
  Sample s;
  sample_init (&s);
  s.arrangement[0].correction = PLUMB_SOLVE_TYPED;
  s.arrangement[0].corner_tl_h_share = s.arrangement[0].corner_tr_h_share = 0.1;
  PlumbEvaluation *e = sample_evaluate (&s);
  /* The quad is W at the bottom and 0.8 W at the top: the greatest rectangle
   * of aspect A in it, h = W/(A + k), k = 0.2 W / H (facts, 1.7). */
  double expected = 3.2 / (16.0 / 9.0 + 0.2 * 3.2 / 1.8);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_height_m), expected, 1e-9);
  plumb_evaluation_free (e);
}

static void
test_picture_aspect (void)
{
  Sample s;
  sample_init (&s);
  s.arrangement[0].picture_aspect_ratio = 2.39;
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (sample_figure (e, PLUMB_FIGURE_wanted_width_m), 3.2, 1e-12);
  NEAR (sample_figure (e, PLUMB_FIGURE_wanted_height_m), 3.2 / 2.39, 1e-12);
  /* 2.39 on 16:9 uses 0.743840 of the panel (facts, 8.1). */
  NEAR (sample_figure (e, PLUMB_FIGURE_content_share), 0.743840, 5e-7);
  NEAR (sample_figure (e, PLUMB_FIGURE_panel_share_used), 0.743840, 5e-7);
  NEAR (need (e, PLUMB_CHECK_BEAM_PIXELS_KEPT)->figure, 1.0, 1e-9);
  plumb_evaluation_free (e);
}

/* ---- verdicts ------------------------------------------------------------------- */

static PlumbVerdict
throw_verdict (double off_m, gboolean *reaches_back)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = off_m;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_THROW_RANGE);
  PlumbVerdict verdict = f->verdict;
  *reaches_back = f->spread_reaches_back;
  plumb_evaluation_free (e);
  return verdict;
}

/* Range 3.84…5.76 m from the lens; printed throw data ±5 % (facts, 9). */
static void
test_verdicts (void)
{
  gboolean back;

  g_assert_cmpint (throw_verdict (4.80, &back), ==, PLUMB_HOLDS);
  g_assert_cmpint (throw_verdict (4.00, &back), ==, PLUMB_TIGHT);
  g_assert_cmpint (throw_verdict (3.90, &back), ==, PLUMB_FAILS);
  g_assert_true (back);
  g_assert_cmpint (throw_verdict (3.00, &back), ==, PLUMB_FAILS);
  g_assert_false (back);
  g_assert_cmpint (throw_verdict (6.80, &back), ==, PLUMB_FAILS);
}

static void
test_cures (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 3.0; /* lens at 2.87: 0.97 m too near */
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_THROW_RANGE);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_FARTHER);
  NEAR (f->cure_amount, 0.97, 1e-9);
  plumb_evaluation_free (e);
  s.place[0].off_m = 3.0 + 0.97;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_THROW_RANGE)->verdict, !=, PLUMB_FAILS);
  plumb_evaluation_free (e);

  s.place[0].off_m = 4.8;
  s.place[0].drop_m = 0.0;
  s.lens[0].shift_up_share = 0.5;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_SHIFT_SET);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_DOWN);
  NEAR (f->cure_amount, 2.915 - 1.8 - 0.9, 1e-9);
  s.place[0].drop_m = f->cure_amount;
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_SHIFT_SET)->verdict, !=, PLUMB_FAILS);
  plumb_evaluation_free (e);
}

/* A beam 120 mm under the ceiling cuts the light; the drop that the finding
 * names frees it and one millimetre less does not. */
static void
test_drop_clears_soffit (void)
{
  Sample s;
  sample_init (&s);
  s.screen[0].bottom_m = 1.1;
  s.place[0].drop_m = 0.0;
  PlumbBlocker *box = sample_add_box (&s, "soffit", 3.1, 6.5, 2.7, 6.0, 0.3, 0.3);
  box->role = PLUMB_ROLE_BEAM;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->variant, ==, PLUMB_V_CUTS_PICTURE);
  g_assert_cmpfloat (f->number[0], >, 0.0);
  g_assert_cmpfloat (sample_figure (e, PLUMB_FIGURE_share_blockers), >, 0.0);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_LONGER_DROP);
  double drop = f->cure_amount;
  plumb_evaluation_free (e);
  s.place[0].drop_m = drop + 1e-5;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER);
  g_assert_cmpint (f->verdict, !=, PLUMB_FAILS);
  NEAR (f->figure, 0.025, 1e-4);
  plumb_evaluation_free (e);
  s.place[0].drop_m = drop - 1e-3;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER)->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);
}

/* Too far away even at the tele end: what spills, and how much nearer. */
static void
test_spill_cure (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 7.0; /* 6.87 m from the lens, tele end 1.8: 3.817 m wide */
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_SPILL);
  NEAR (f->figure, (6.87 / 1.8 - 3.2) / 2.0, 1e-9);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_NEARER);
  s.place[0].off_m -= f->cure_amount;
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_SPILL);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (f->figure, 0.05, 1e-9);
  plumb_evaluation_free (e);
}

/* A door leaf at rest is out of the way; half open it stands in the beam. */
static void
test_mover (void)
{
  Sample s;
  sample_init (&s);
  PlumbBlocker *door = sample_add_box (&s, "door", 0.5, 7.0, 0.0, 0.9, 0.04, 2.0);
  door->movable = true;
  plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &s.blocker_state[0]);
  SET_ID (s.blocker_state[0].name, "pushed in");
  s.blocker_state[0].move_x_m = 2.6;
  s.n_blocker_state = 1;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->number[2], 0.0, 1e-15);
  /* No way of the lens frees the light: the leaf itself has to go, by this. */
  if (f->cure == PLUMB_CURE_MOVE_BLOCKER)
    {
      double way = f->cure_amount;
      Sample moved = s;
      moved.blocker_state[0].move_x_m -= way + 1e-4;
      PlumbEvaluation *left = sample_evaluate (&moved);
      moved.blocker_state[0].move_x_m = 2.6 + way + 1e-4;
      PlumbEvaluation *right = sample_evaluate (&moved);
      g_assert_true (need (left, PLUMB_CHECK_BEAM_CLEAR_BLOCKER)->verdict != PLUMB_FAILS
                     || need (right, PLUMB_CHECK_BEAM_CLEAR_BLOCKER)->verdict != PLUMB_FAILS);
      plumb_evaluation_free (left);
      plumb_evaluation_free (right);
    }
  plumb_evaluation_free (e);
  door->movable = false;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

static void
test_limit_override (void)
{
  Sample s;
  sample_init (&s);
  s.arrangement[0].pitch_rad = -12.0 * DEG;
  plumb_record_default (PLUMB_RECORD_LIMIT, &s.limit[0]);
  SET_ID (s.limit[0].id, "beam.pixels_kept_least");
  s.limit[0].value = 0.2;
  s.n_limit = 1;
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LIMIT)->variant, ==, PLUMB_V_LIMIT_NO_REASON);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_PIXELS_KEPT)->basis, ==, PLUMB_BASIS_PRACTICE);
  plumb_evaluation_free (e);
  SET_ID (s.limit[0].reason, "the client shows slides only");
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_PIXELS_KEPT)->basis, ==, PLUMB_BASIS_JOB);
  NEAR (need (e, PLUMB_CHECK_BEAM_PIXELS_KEPT)->limit_least, 0.2, 1e-15);
  plumb_evaluation_free (e);
  SET_ID (s.limit[0].id, "no.such.limit");
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LIMIT)->variant, ==, PLUMB_V_LIMIT_UNKNOWN_ID);
  plumb_evaluation_free (e);
}

/* ---- seats ------------------------------------------------------------------------- */

/* SMPTE EG 18-1994: 30° is d/W = 1.8660 (facts, 2.1). */
static void
test_seat_angles (void)
{
  static const struct {
    double d_over_w, degrees;
  } rows[] = { { 2.1657, 26.0 }, { 1.8660, 30.0 }, { 1.5388, 36.0 }, { 0.8660, 60.0 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Sample s;
      sample_init (&s);
      plumb_record_default (PLUMB_RECORD_SEAT, &s.seat[0]);
      SET_ID (s.seat[0].id, "a");
      s.seat[0].x_m = 3.1;
      s.seat[0].y_m = 9.4 - rows[i].d_over_w * 3.2;
      s.seat[0].eye_height_m = 1.8;
      s.n_seat = 1;
      PlumbEvaluation *e = sample_evaluate (&s);
      g_assert_cmpuint (e->n_seats, ==, 1);
      NEAR (e->seats[0].horizontal_angle_rad / DEG, rows[i].degrees, 2e-3);
      NEAR (e->seats[0].distance_heights_ratio, rows[i].d_over_w * 16.0 / 9.0, 1e-9);
      const PlumbFinding *least = need (e, PLUMB_CHECK_PEOPLE_ANGLE_LEAST);
      g_assert_cmpint (least->verdict == PLUMB_FAILS, ==, rows[i].degrees < 30.0);
      plumb_evaluation_free (e);
    }
}

/* ---- what cannot work ---------------------------------------------------------------- */

static void
test_missing (void)
{
  Sample s;
  sample_init (&s);
  SET_ID (s.arrangement[0].lens, "");
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_JOB_ARRANGEMENT);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_field, ==, PLUMB_FIELD_arrangement_lens);
  g_assert_false (e->solved);
  plumb_evaluation_free (e);

  sample_init (&s);
  s.lens[0].head.typed &= ~(UINT64_C (1) << PLUMB_FIELD_lens_focus_near_m);
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_FOCUS_RANGE);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_field, ==, PLUMB_FIELD_lens_focus_near_m);
  plumb_evaluation_free (e);

  PlumbScene *empty = plumb_scene_new ();
  g_assert_true (plumb_scene_commit (empty));
  g_assert_true (plumb_evaluate (empty, 5, &e));
  g_assert_cmpint (e->worst, ==, PLUMB_UNKNOWN);
  plumb_evaluation_free (e);
  plumb_scene_unref (empty);
}

static void
test_cannot_work (void)
{
  Sample s;
  PlumbEvaluation *e;

  /* Behind the picture wall: the lens looks away from the picture's plane. */
  sample_init (&s);
  s.place[0].off_m = -1.0;
  s.place[0].height_from = PLUMB_HEIGHT_FROM_FLOOR;
  s.place[0].height_m = 2.5;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_REACHES_PLANE)->variant, ==, PLUMB_V_BEHIND_SCREEN);
  plumb_evaluation_free (e);
  /* Tilted until the upper corner rays never come down to the wall. */
  sample_init (&s);
  s.arrangement[0].pitch_rad = 80.0 * DEG;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_REACHES_PLANE)->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);
  /* A picture larger than the wall. */
  sample_init (&s);
  s.screen[0].width_m = 8.0;
  s.screen[0].height_m = 4.5;
  e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_SCREEN_FITS);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->figure, 3.0 - (0.9 + 4.5), 1e-9);
  plumb_evaluation_free (e);
  /* A lens that fits no machine. */
  sample_init (&s);
  SET_ID (s.lens[0].lens_fitting, "z");
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_FITS)->variant, ==, PLUMB_V_LENS_DOES_NOT_FIT);
  plumb_evaluation_free (e);
  /* Lines that tell nothing. */
  sample_init (&s);
  s.lens[0].data = PLUMB_LENS_DATA_PAIRS;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_DATA)->variant, ==, PLUMB_V_LENS_DATA_BAD_PAIRS);
  plumb_evaluation_free (e);
  /* Wide end longer than the tele end; parts of no height. */
  sample_init (&s);
  s.lens[0].throw_wide_ratio = 2.5;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_DATA)->variant, ==, PLUMB_V_LENS_DATA_BAD_RANGE);
  plumb_evaluation_free (e);
  sample_init (&s);
  s.lens[0].offset_form = PLUMB_OFFSET_FORM_RATIO;
  s.lens[0].offset_above_ratio = 1.0;
  s.lens[0].offset_below_ratio = -1.0;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_DATA)->variant, ==, PLUMB_V_LENS_DATA_BAD_OFFSET);
  plumb_evaluation_free (e);
}

/* Wild but legal values: every number that comes out is a number. */
static void
test_wild (void)
{
  GRand *rand = g_rand_new_with_seed (2026);

  for (int round = 0; round < 400; round++)
    {
      Sample s;
      sample_init (&s);
      s.screen[0].width_m = exp (g_rand_double_range (rand, -3.0, 5.0));
      s.screen[0].height_m = exp (g_rand_double_range (rand, -3.0, 5.0));
      s.screen[0].lean_rad = g_rand_double_range (rand, -1.3, 1.3);
      s.screen[0].stand_off_m = g_rand_double_range (rand, -5.0, 20.0);
      s.place[0].along_m = g_rand_double_range (rand, -20.0, 20.0);
      s.place[0].off_m = g_rand_double_range (rand, -20.0, 20.0);
      s.place[0].height_m = g_rand_double_range (rand, -10.0, 10.0);
      s.arrangement[0].yaw_rad = g_rand_double_range (rand, -1.5, 1.5);
      s.arrangement[0].pitch_rad = g_rand_double_range (rand, -1.5, 1.5);
      s.arrangement[0].roll_rad = g_rand_double_range (rand, -3.0, 3.0);
      s.arrangement[0].attitude = round % 3 == 0 ? PLUMB_SOLVE_SOLVED : PLUMB_SOLVE_TYPED;
      s.wall[1].x_m = g_rand_double_range (rand, -8.0, 8.0);
      sample_add_box (&s, "b", 3.0, 5.0, 0.0, 1.0, 1.0, 1.0);
      PlumbEvaluation *e = sample_evaluate (&s);
      for (int g = 0; g < PLUMB_N_FIGURES; g++)
        for (int i = 0; i < 9; i++)
          g_assert_true (isfinite (e->figures[g].value[i]) && isfinite (e->figures[g].spread[i]));
      for (guint f = 0; f < e->n_findings; f++)
        {
          g_assert_true (isfinite (e->findings[f].figure) && isfinite (e->findings[f].spread));
          g_assert_true (isfinite (e->findings[f].cure_amount));
          for (int i = 0; i < 6; i++)
            g_assert_true (isfinite (e->findings[f].number[i]));
        }
      plumb_evaluation_free (e);
    }
  g_rand_free (rand);
}

/* ---- invariants ------------------------------------------------------------------------- */

static gboolean
is_point (int figure)
{
  return figure == PLUMB_FIGURE_lens_point_m || figure == PLUMB_FIGURE_plate_point_m
         || figure == PLUMB_FIGURE_pivot_point_m || figure == PLUMB_FIGURE_hole_pattern_point_m
         || figure == PLUMB_FIGURE_plate_for_centre_m;
}

static void
slanted (Sample *s)
{
  sample_init (s);
  s->wall[2].x_m = 7.0;
  s->machine[0].lens_right_m = 0.05;
  s->place[0].along_m = 2.9;
  s->arrangement[0].yaw_rad = 3.0 * DEG;
  s->arrangement[0].pitch_rad = -4.0 * DEG;
  s->arrangement[0].roll_rad = 1.0 * DEG;
  sample_add_box (s, "box", 2.0, 6.0, 0.0, 0.5, 0.5, 1.8);
}

static void
turn (double angle, double *x, double *y)
{
  double c = cos (angle), sn = sin (angle), old = *x;

  *x = c * old - sn * *y + 3.0;
  *y = sn * old + c * *y - 2.0;
}

static void
test_turned_job (void)
{
  Sample s, t;
  slanted (&s);
  PlumbEvaluation *a = sample_evaluate (&s);

  for (double angle = 0.3; angle < 6.0; angle += 1.1)
    {
      t = s;
      for (guint i = 0; i < t.n_wall; i++)
        turn (angle, &t.wall[i].x_m, &t.wall[i].y_m);
      turn (angle, &t.ceiling[0].x_m, &t.ceiling[0].y_m);
      turn (angle, &t.blocker[0].x_m, &t.blocker[0].y_m);
      t.blocker[0].yaw_rad += angle;
      PlumbEvaluation *b = sample_evaluate (&t);
      for (int g = 0; g < PLUMB_N_FIGURES; g++)
        if (!is_point (g) && g != PLUMB_FIGURE_pose_rounds)
          for (int i = 0; i < plumb_figure_info ((PlumbFigure) g)->count; i++)
            {
              g_assert_cmpint (a->figures[g].valid, ==, b->figures[g].valid);
              g_assert_cmpfloat_with_epsilon (a->figures[g].value[i], b->figures[g].value[i], 1e-8);
              g_assert_cmpfloat_with_epsilon (a->figures[g].spread[i], b->figures[g].spread[i], 1e-8);
            }
      g_assert_cmpuint (a->n_findings, ==, b->n_findings);
      for (guint i = 0; i < a->n_findings; i++)
        {
          g_assert_cmpint (a->findings[i].check, ==, b->findings[i].check);
          g_assert_cmpint (a->findings[i].verdict, ==, b->findings[i].verdict);
          g_assert_cmpfloat_with_epsilon (a->findings[i].figure, b->findings[i].figure, 1e-7);
        }
      plumb_evaluation_free (b);
    }
  plumb_evaluation_free (a);
}

/* x → −x, with the walls taken the other way round so that they stay
 * counter-clockwise, ends exchanged, yaw, roll and sideways parts negated. */
static void
test_mirrored_job (void)
{
  Sample s, m;
  slanted (&s);
  m = s;
  m.wall[0].x_m = -6.2;
  m.wall[0].y_m = 0.0;
  SET_ID (m.wall[1].id, "left");
  m.wall[1].x_m = 0.0;
  m.wall[1].y_m = 0.0;
  m.wall[2].x_m = 0.0;
  m.wall[2].y_m = 9.4;
  SET_ID (m.wall[3].id, "right");
  m.wall[3].x_m = -7.0;
  m.wall[3].y_m = 9.4;
  m.screen[0].across_end = PLUMB_END_START;
  m.place[0].along_end = PLUMB_END_START;
  m.machine[0].lens_right_m = -0.05;
  m.arrangement[0].yaw_rad *= -1.0;
  m.arrangement[0].roll_rad *= -1.0;
  m.blocker[0].x_m *= -1.0;
  PlumbEvaluation *a = sample_evaluate (&s), *b = sample_evaluate (&m);
  g_assert_true (a->has_picture && b->has_picture);
  NEAR (a->beam.lens_m.x, -b->beam.lens_m.x, 1e-9);
  NEAR (a->beam.shift_h_share, -b->beam.shift_h_share, 1e-9);
  NEAR (a->beam.shift_v_share, b->beam.shift_v_share, 1e-9);
  NEAR (a->picture.width_m, b->picture.width_m, 1e-9);
  for (int i = 0; i < 4; i++)
    {
      static const int other[4] = { 1, 0, 3, 2 };
      NEAR (a->raw.corner[i].x, -b->raw.corner[other[i]].x, 1e-9);
      NEAR (a->raw.corner[i].y, b->raw.corner[other[i]].y, 1e-9);
    }
  static const struct {
    PlumbCheck a, b;
  } pairs[] = { { PLUMB_CHECK_BEAM_COVERS_LEFT, PLUMB_CHECK_BEAM_COVERS_RIGHT },
                { PLUMB_CHECK_BEAM_COVERS_TOP, PLUMB_CHECK_BEAM_COVERS_TOP },
                { PLUMB_CHECK_BODY_AIR_LEFT, PLUMB_CHECK_BODY_AIR_RIGHT },
                { PLUMB_CHECK_BODY_AIR_RIGHT, PLUMB_CHECK_BODY_AIR_LEFT },
                { PLUMB_CHECK_BEAM_CLEAR_BLOCKER, PLUMB_CHECK_BEAM_CLEAR_BLOCKER },
                { PLUMB_CHECK_BEAM_FLATNESS, PLUMB_CHECK_BEAM_FLATNESS } };
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    g_assert_cmpfloat_with_epsilon (need (a, pairs[i].a)->figure, need (b, pairs[i].b)->figure, 1e-8);
  static const PlumbFigure same[]
      = { PLUMB_FIGURE_share_screen, PLUMB_FIGURE_share_walls,    PLUMB_FIGURE_share_ceiling,
          PLUMB_FIGURE_share_floor,  PLUMB_FIGURE_share_blockers, PLUMB_FIGURE_panel_share_used };
  for (guint i = 0; i < G_N_ELEMENTS (same); i++)
    NEAR (sample_figure (a, same[i]), sample_figure (b, same[i]), 1e-9);
  plumb_evaluation_free (a);
  plumb_evaluation_free (b);
}

static void
test_deterministic (void)
{
  Sample s;
  slanted (&s);
  PlumbEvaluation *a = sample_evaluate (&s), *b = sample_evaluate (&s);
  g_assert_cmpuint (a->n_findings, ==, b->n_findings);
  g_assert_cmpint (memcmp (a->figures, b->figures, sizeof a->figures), ==, 0);
  g_assert_cmpuint (a->cut.n_pieces, ==, b->cut.n_pieces);
  plumb_evaluation_free (a);
  plumb_evaluation_free (b);
}

/* ---- spreads against Monte Carlo (JCGM 101, fixed seed) ------------------------------------ */

typedef struct {
  double sum, squares;
  int n;
} Tally;

static void
tally (Tally *t, double value)
{
  t->sum += value;
  t->squares += value * value;
  t->n++;
}

static double
expanded (const Tally *t)
{
  double mean = t->sum / t->n;
  return 2.0 * sqrt ((t->squares / t->n - mean * mean) * t->n / (t->n - 1));
}

static double
bounded (GRand *rand, double bound)
{
  return g_rand_double_range (rand, -bound, bound);
}

static void
test_monte_carlo (void)
{
  enum { N = 4000 };
  Sample s;
  GRand *rand = g_rand_new_with_seed (101);
  Tally distance = { 0 }, needed = { 0 }, shift_h = { 0 }, shift_v = { 0 }, x = { 0 }, z = { 0 };

  sample_init (&s);
  s.place[0].out_of_level_rad = 0.0; /* the swing has no input of its own to draw from */
  PlumbEvaluation *nominal = sample_evaluate (&s);
  for (int i = 0; i < N; i++)
    {
      Sample d = s;
      d.place[0].along_m += bounded (rand, 0.003);
      d.place[0].off_m += bounded (rand, 0.003);
      d.place[0].height_m += bounded (rand, 0.003);
      d.lens[0].pupil_behind_m += bounded (rand, 0.050);
      d.screen[0].stand_off_m += bounded (rand, 0.003);
      d.screen[0].across_m += bounded (rand, 0.003);
      d.screen[0].bottom_m += bounded (rand, 0.003);
      double wider = bounded (rand, 0.003);
      d.screen[0].width_m += wider;
      d.screen[0].height_m += wider * 9.0 / 16.0;
      PlumbEvaluation *e = sample_evaluate (&d);
      tally (&distance, sample_figure (e, PLUMB_FIGURE_throw_distance_m));
      tally (&needed, sample_figure (e, PLUMB_FIGURE_throw_ratio_needed));
      tally (&shift_h, sample_figure (e, PLUMB_FIGURE_shift_wanted_h_share));
      tally (&x, e->beam.lens_m.x);
      tally (&z, e->beam.lens_m.z);
      tally (&shift_v, sample_figure (e, PLUMB_FIGURE_shift_wanted_v_share));
      plumb_evaluation_free (e);
    }
  g_rand_free (rand);
  const struct {
    const Tally *drawn;
    PlumbFigure figure;
    int i;
  } rows[] = { { &distance, PLUMB_FIGURE_throw_distance_m, 0 },
               { &needed, PLUMB_FIGURE_throw_ratio_needed, 0 },
               { &shift_h, PLUMB_FIGURE_shift_wanted_h_share, 0 },
               { &shift_v, PLUMB_FIGURE_shift_wanted_v_share, 0 },
               { &x, PLUMB_FIGURE_lens_point_m, 0 },
               { &z, PLUMB_FIGURE_lens_point_m, 2 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double first_order = nominal->figures[rows[i].figure].spread[rows[i].i], drawn = expanded (rows[i].drawn);
      g_test_message ("%s: first order %g, drawn %g", plumb_figure_info (rows[i].figure)->name, first_order, drawn);
      /* 4000 draws know a deviation to about 1 %. */
      g_assert_cmpfloat (fabs (first_order / drawn - 1.0), <, 0.06);
    }
  plumb_evaluation_free (nominal);
}

/* ---- lens trial --------------------------------------------------------------------------- */

static void
test_trial (void)
{
  Sample s;
  PlumbTrialLine *lines;
  guint n;
  sample_init (&s);
  s.lens[1] = s.lens[0];
  SET_ID (s.lens[1].id, "long");
  s.lens[1].throw_wide_ratio = 2.4;
  s.lens[1].throw_tele_ratio = 4.0;
  s.lens[2] = s.lens[0];
  SET_ID (s.lens[2].id, "low");
  s.lens[2].shift_up_share = 0.2;
  s.n_lens = 3;
  PlumbScene *scene = sample_scene (&s);
  g_assert_cmpuint (plumb_lens_trial_count (scene), ==, 6);
  g_assert_true (plumb_lens_trial (scene, 0, 0, 0, &lines, &n));
  g_assert_cmpuint (n, ==, 6);
  /* zoom at hung: square-on, figures as by hand. */
  g_assert_true (lines[0].square_on && !lines[0].tilted);
  NEAR (lines[0].throw_ratio, 4.67 / 3.2, 1e-9);
  NEAR (lines[0].picture_least_m, 4.67 / 1.8, 1e-9);
  NEAR (lines[0].throw_room_wide, 4.67 / 3.2 - 1.2, 1e-9);
  /* long at hung: even its wide end throws 1.95 m only. */
  g_assert_false (lines[2].square_on || lines[2].tilted);
  NEAR (lines[2].picture_greatest_m, 4.67 / 2.4, 1e-9);
  /* low at hung: a tilt makes up for the shift and costs pixels. */
  g_assert_true (lines[4].tilted);
  g_assert_cmpfloat (lines[4].tilt_rad, <, 0.0);
  g_assert_cmpfloat (lines[4].panel_share_used, <, 1.0);
  /* The same in two parts. */
  PlumbTrialLine *part;
  g_assert_true (plumb_lens_trial (scene, 0, 4, 1, &part, &n));
  g_assert_cmpuint (n, ==, 1);
  NEAR (part[0].tilt_rad, lines[4].tilt_rad, 1e-15);
  free (part);
  free (lines);
  g_assert_true (plumb_lens_trial (scene, PLUMB_NO_INDEX, 0, 0, &lines, &n));
  g_assert_cmpuint (n, ==, 6);
  g_assert_true (lines[0].square_on);
  free (lines);
  plumb_scene_unref (scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/evaluate/by-hand", test_by_hand);
  g_test_add_func ("/evaluate/pivot", test_pivot);
  g_test_add_func ("/evaluate/plate-for-lens", test_plate_for_lens);
  g_test_add_func ("/evaluate/inverted", test_inverted);
  g_test_add_func ("/evaluate/rear", test_rear);
  g_test_add_func ("/evaluate/typed", test_typed);
  g_test_add_func ("/evaluate/least-tilt", test_least_tilt);
  g_test_add_func ("/evaluate/least-yaw", test_least_yaw);
  g_test_add_func ("/evaluate/typed-correction", test_typed_correction);
  g_test_add_func ("/evaluate/picture-aspect", test_picture_aspect);
  g_test_add_func ("/evaluate/verdicts", test_verdicts);
  g_test_add_func ("/evaluate/cures", test_cures);
  g_test_add_func ("/evaluate/drop-clears-soffit", test_drop_clears_soffit);
  g_test_add_func ("/evaluate/spill-cure", test_spill_cure);
  g_test_add_func ("/evaluate/mover", test_mover);
  g_test_add_func ("/evaluate/limit-override", test_limit_override);
  g_test_add_func ("/evaluate/seat-angles", test_seat_angles);
  g_test_add_func ("/evaluate/missing", test_missing);
  g_test_add_func ("/evaluate/cannot-work", test_cannot_work);
  g_test_add_func ("/evaluate/wild", test_wild);
  g_test_add_func ("/evaluate/turned-job", test_turned_job);
  g_test_add_func ("/evaluate/mirrored-job", test_mirrored_job);
  g_test_add_func ("/evaluate/deterministic", test_deterministic);
  g_test_add_func ("/evaluate/monte-carlo", test_monte_carlo);
  g_test_add_func ("/evaluate/trial", test_trial);
  return g_test_run ();
}
