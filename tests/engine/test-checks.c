/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The checks one by one, each with a figure worked out by hand for the plain
 * room of sample-job.h: body upside down at x 3.1 ± 0.165, y 4.6 ± 0.13,
 * z 2.56 … 2.67; lens point (3.1, 4.73, 2.615).
 */
#include <math.h>

#include "plumbeam/variants.h"
#include "sample-job.h"

#define NEAR(a, b) g_assert_cmpfloat_with_epsilon (a, b, 1e-9)
#define DEG (PLUMB_PI / 180.0)

static const PlumbFinding *
need (const PlumbEvaluation *e, PlumbCheck check)
{
  const PlumbFinding *f = sample_finding (e, check);

  g_assert_nonnull (f);
  return f;
}

static const PlumbFinding *
need_variant (const PlumbEvaluation *e, PlumbCheck check, int variant)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].check == check && e->findings[i].variant == variant)
      return &e->findings[i];
  g_assert_not_reached ();
}

/* ---- body -------------------------------------------------------------------------- */

static void
test_air (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].along_m = 2.0;
  PlumbEvaluation *e = sample_evaluate (&s);
  /* Upside down the body's left is the viewer's right, its top looks down. */
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_LEFT)->figure, 6.2 - 2.165);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_RIGHT)->figure, 2.0 - 0.165);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_TOP)->figure, 2.56);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_BOTTOM)->figure, 0.33);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_FRONT)->figure, 9.4 - 4.73);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_REAR)->figure, 4.47);
  NEAR (need (e, PLUMB_CHECK_BODY_CABLE_ROOM)->figure, 4.47);
  NEAR (need (e, PLUMB_CHECK_BODY_CABLE_ROOM)->limit_least, 0.085);
  NEAR (need (e, PLUMB_CHECK_BODY_AIR_LEFT)->limit_least, 0.3);
  g_assert_true (need (e, PLUMB_CHECK_BODY_AIR_LEFT)->assumed);
  plumb_evaluation_free (e);

  /* A box 60 mm behind it: the cure goes towards the picture. */
  sample_add_box (&s, "behind", 2.0, 4.6 - 0.13 - 0.06 - 0.1, 2.5, 0.2, 0.2, 0.3);
  TYPE (machine, &s.machine[0], air_rear_m);
  e = sample_evaluate (&s);
  const PlumbFinding *rear = need (e, PLUMB_CHECK_BODY_AIR_REAR);
  NEAR (rear->figure, 0.06);
  g_assert_false (rear->assumed);
  g_assert_cmpint (rear->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (rear->cure, ==, PLUMB_CURE_NEARER);
  NEAR (rear->cure_amount, 0.04);
  NEAR (need (e, PLUMB_CHECK_BODY_CABLE_ROOM)->figure, 0.06);
  NEAR (need (e, PLUMB_CHECK_BODY_CLEAR)->figure, 0.06);
  plumb_evaluation_free (e);
}

static void
test_air_cures (void)
{
  static const struct {
    double along_m;
    PlumbCheck check;
    PlumbCure cure;
  } sides[] = { { 0.3, PLUMB_CHECK_BODY_AIR_RIGHT, PLUMB_CURE_RIGHT },
                { 5.9, PLUMB_CHECK_BODY_AIR_LEFT, PLUMB_CURE_LEFT } };

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      Sample s;
      sample_init (&s);
      s.place[0].along_m = sides[i].along_m;
      PlumbEvaluation *e = sample_evaluate (&s);
      const PlumbFinding *f = need (e, sides[i].check);
      NEAR (f->figure, 0.3 - 0.165);
      g_assert_cmpint (f->cure, ==, sides[i].cure);
      NEAR (f->cure_amount, 0.165);
      plumb_evaluation_free (e);
    }
  Sample s;
  sample_init (&s);
  s.machine[0].air_bottom_m = 0.4; /* the underside looks up: 0.33 to the ceiling */
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BODY_AIR_BOTTOM);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_LONGER_DROP);
  NEAR (f->cure_amount, 0.07);
  plumb_evaluation_free (e);
  /* No wall, nothing there. */
  sample_init (&s);
  s.wall[2].construction = PLUMB_CONSTRUCTION_NONE;
  SET_ID (s.arrangement[0].place, "hung");
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BODY_AIR_FRONT)->variant, ==, PLUMB_V_NOTHING_THERE);
  g_assert_false (need (e, PLUMB_CHECK_BODY_AIR_FRONT)->has_figure);
  plumb_evaluation_free (e);
}

static void
test_inside (void)
{
  Sample s;
  sample_init (&s);
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BODY_INSIDE)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
  s.place[0].along_m = 0.1; /* four corners stick through the wall */
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BODY_INSIDE)->verdict, ==, PLUMB_FAILS);
  NEAR (need (e, PLUMB_CHECK_BODY_INSIDE)->number[0], 4.0);
  plumb_evaluation_free (e);
}

static void
test_heights (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].drop_m = 0.9;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BODY_HEADROOM);
  /* IBC 1003.3.1: 2032 mm. */
  NEAR (f->figure, 1.96);
  NEAR (f->limit_least, 2.032);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SHORTER_DROP);
  NEAR (f->cure_amount, 0.072);
  NEAR (need (e, PLUMB_CHECK_BODY_REACH)->figure, 2.7 - 0.6 - 0.03 - 0.055);
  plumb_evaluation_free (e);
  /* What stands is not walked under. */
  SET_ID (s.arrangement[0].place, "stand");
  SET_ID (s.arrangement[0].mount, "");
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_BODY_HEADROOM));
  g_assert_null (sample_finding (e, PLUMB_CHECK_BODY_MOUNT));
  plumb_evaluation_free (e);
  s.place[1].height_m = 4.0;
  s.ceiling[0].height_m = 6.0;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BODY_REACH);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->cure_amount, 4.0 + 0.01 + 0.055 - 3.5);
  plumb_evaluation_free (e);
}

static void
test_mount (void)
{
  Sample s;
  sample_init (&s);
  s.mount[0].drop_least_m = 0.35;
  s.mount[0].yaw_limit_rad = 3.0 * DEG;
  s.mount[0].load_kg = 3.0;
  s.arrangement[0].yaw_rad = -5.0 * DEG;
  s.arrangement[0].pitch_rad = -10.0 * DEG;
  s.arrangement[0].roll_rad = 6.0 * DEG;
  s.machine[0].pitch_limit_rad = 8.0 * DEG;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_DROP);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_LONGER_DROP);
  NEAR (f->cure_amount, 0.05);
  f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_YAW);
  NEAR (f->figure, 5.0 * DEG);
  NEAR (f->cure_amount, 2.0 * DEG);
  f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_PITCH);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_ROLL);
  NEAR (f->figure, 6.0 * DEG);
  f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_LOAD);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->figure, 4.0);
  f = need_variant (e, PLUMB_CHECK_BODY_TILT, PLUMB_V_TILT_PITCH);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->cure_amount, 2.0 * DEG);
  f = need_variant (e, PLUMB_CHECK_BODY_TILT, PLUMB_V_TILT_ROLL);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);

  s.mount[0].drop_least_m = 0.0;
  s.mount[0].drop_most_m = 0.25;
  e = sample_evaluate (&s);
  f = need_variant (e, PLUMB_CHECK_BODY_MOUNT, PLUMB_V_MOUNT_DROP);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SHORTER_DROP);
  NEAR (f->cure_amount, 0.05);
  plumb_evaluation_free (e);
  /* A hung machine without a mount: unknown, and it says which. */
  SET_ID (s.arrangement[0].mount, "");
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BODY_MOUNT);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_field, ==, PLUMB_FIELD_arrangement_mount);
  plumb_evaluation_free (e);
}

/* A wall arm reaches out; a tube square to a slope leans with it; a cradle
 * carries the upright body below the pivot. */
static void
test_chains (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].carried = PLUMB_CARRIED_WALL_ARM;
  SET_ID (s.place[0].along_wall, "back");
  s.place[0].along_end = PLUMB_END_START;
  s.place[0].along_m = 3.0;
  s.place[0].off_m = 0.0;
  s.place[0].height_from = PLUMB_HEIGHT_FROM_FLOOR;
  s.place[0].height_m = 2.2;
  s.place[0].drop_m = 0.5;
  s.place[0].inverted = false;
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (e->pivot_m.x, 3.0);
  NEAR (e->pivot_m.y, 0.5);
  NEAR (e->pivot_m.z, 2.2);
  NEAR (e->beam.lens_m.z, 2.2 + 0.03 + 0.055);
  plumb_evaluation_free (e);

  sample_init (&s);
  s.ceiling[0].slope_rad = 30.0 * DEG;
  s.ceiling[0].rise_direction_rad = 90.0 * DEG;
  s.mount[0].tube = PLUMB_TUBE_NORMAL;
  e = sample_evaluate (&s);
  NEAR (e->pivot_m.y, 4.6 + 0.3 * 0.5);
  NEAR (e->pivot_m.z, e->plate_m.z - 0.3 * sqrt (3.0) / 2.0);
  plumb_evaluation_free (e);

  sample_init (&s);
  s.place[0].inverted = false;
  s.mount[0].head_to_holes_m = 0.2;
  s.mount[0].head_right_m = 0.01;
  s.mount[0].head_forward_m = 0.02;
  e = sample_evaluate (&s);
  NEAR (e->holes_m.z, 2.7 - 0.2);
  NEAR (e->holes_m.x, 3.1 + 0.01);
  NEAR (e->beam.lens_m.y, 4.6 + 0.02 + 0.13);
  NEAR (e->beam.lens_m.z, 2.5 + 0.055);
  plumb_evaluation_free (e);

  /* Upside down on a table the holes lie below the pivot. */
  sample_init (&s);
  SET_ID (s.arrangement[0].place, "stand");
  s.place[1].inverted = true;
  e = sample_evaluate (&s);
  NEAR (e->holes_m.z, 1.0 + 0.03);
  plumb_evaluation_free (e);
}

/* ---- lens data ------------------------------------------------------------------------- */

static double
used_shift_v (const Sample *s)
{
  PlumbEvaluation *e = sample_evaluate (s);
  double v = sample_figure (e, PLUMB_FIGURE_shift_v_share);

  plumb_evaluation_free (e);
  return v;
}

/* Wanted is -0.4528 at the hung place; what is used is the set's nearest. */
static void
test_shift_sets (void)
{
  static const int symmetric[] = { PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND, PLUMB_SHIFT_SHAPE_ELLIPSE,
                                   PLUMB_SHIFT_SHAPE_CIRCLE, PLUMB_SHIFT_SHAPE_CORNER_CUT };
  Sample s;

  for (guint i = 0; i < G_N_ELEMENTS (symmetric); i++)
    {
      sample_init (&s);
      s.lens[0].shift_set = symmetric[i];
      s.lens[0].shift_up_share = 0.3;
      g_assert_cmpfloat_with_epsilon (used_shift_v (&s), -0.3, 1e-7);
      s.lens[0].shift_unit = PLUMB_SHIFT_UNIT_HALF;
      g_assert_cmpfloat_with_epsilon (used_shift_v (&s), -0.15, 1e-7);
    }
  /* Upside down the printed "down" is the picture's up. */
  sample_init (&s);
  s.lens[0].shift_up_share = 0.2;
  s.lens[0].shift_down_share = 0.1;
  TYPE (lens, &s.lens[0], shift_down_share);
  NEAR (used_shift_v (&s), -0.2);
  s.place[0].inverted = false;
  s.mount[0].head_to_holes_m = 0.0;
  NEAR (used_shift_v (&s), -0.1);
  /* Both ends on one side of the axis: -30 % … -10 % printed as down 30, up -10. */
  sample_init (&s);
  s.place[0].inverted = false;
  s.mount[0].head_to_holes_m = 0.0;
  s.lens[0].shift_up_share = -0.1;
  s.lens[0].shift_down_share = 0.3;
  TYPE (lens, &s.lens[0], shift_down_share);
  NEAR (used_shift_v (&s), -0.3);
  /* At t = 4.67/3.2 the set is 43 % of the way to its half size at the tele end. */
  sample_init (&s);
  s.lens[0].shift_up_share = 0.4;
  s.lens[0].shift_tele_ratio = 0.5;
  NEAR (used_shift_v (&s), -0.4 * (1.0 - 0.5 * (4.67 / 3.2 - 1.2) / 0.6));
  /* A polygon, body upright in the file. */
  sample_init (&s);
  s.lens[0].shift_set = PLUMB_SHIFT_SHAPE_POLYGON;
  for (guint i = 0; i < 3; i++)
    plumb_record_default (PLUMB_RECORD_LENS_SHIFT_POINT, &s.shift_point[i]);
  s.shift_point[0].h_share = -0.2;
  s.shift_point[1].h_share = 0.2;
  s.shift_point[2].v_share = 0.25;
  s.n_shift_point = 3;
  NEAR (used_shift_v (&s), -0.25);
  s.n_shift_point = 0;
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_DATA)->variant, ==, PLUMB_V_LENS_DATA_BAD_SHIFT);
  g_assert_cmpint (need (e, PLUMB_CHECK_JOB_LENS_DATA)->missing_field, ==, PLUMB_FIELD_lens_shift_set);
  plumb_evaluation_free (e);
}

static void
test_corner_cut (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].along_m = 2.4; /* wanted h = 0.7/3.2 = 0.21875, v = -0.4528 */
  s.lens[0].shift_set = PLUMB_SHIFT_SHAPE_CORNER_CUT;
  s.lens[0].shift_up_share = 0.5;
  s.lens[0].shift_right_share = 0.4;
  s.lens[0].shift_h_at_v_max_share = 0.1;
  s.lens[0].shift_v_at_h_max_share = 0.1;
  PlumbEvaluation *e = sample_evaluate (&s);
  /* Beyond the edge from (0.1, 0.5) to (0.4, 0.1): outside. */
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_SHIFT_SET)->verdict, ==, PLUMB_FAILS);
  g_assert_cmpfloat (need (e, PLUMB_CHECK_BEAM_SHIFT_SET)->figure, <, -0.05);
  plumb_evaluation_free (e);
  s.lens[0].shift_diagonal_h_share = 0.35;
  s.lens[0].shift_diagonal_v_share = 0.46;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_SHIFT_SET)->verdict, !=, PLUMB_FAILS);
  plumb_evaluation_free (e);
}

/* Two lines tell t, pupil and offset exactly: W = (D + e)/t. */
static void
test_lens_lines (void)
{
  Sample s;
  sample_init (&s);
  s.lens[0].data = PLUMB_LENS_DATA_PAIRS;
  s.lens[0].shift_set = PLUMB_SHIFT_SHAPE_NONE;
  const double t = 1.4, pupil = 0.12, offset = 0.55;
  for (guint i = 0; i < 2; i++)
    {
      plumb_record_default (PLUMB_RECORD_LENS_PAIR, &s.pair[i]);
      s.pair[i].distance_m = 2.0 + 2.0 * i;
      s.pair[i].width_m = (s.pair[i].distance_m + pupil) / t;
      s.pair[i].gap_m = (offset - 0.5) * s.pair[i].width_m * 9.0 / 16.0;
      TYPE (lens_pair, &s.pair[i], gap_m);
    }
  s.n_pair = 2;
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (sample_figure (e, PLUMB_FIGURE_throw_ratio_wide), t);
  NEAR (sample_figure (e, PLUMB_FIGURE_pupil_behind_m), pupil);
  NEAR (sample_figure (e, PLUMB_FIGURE_shift_v_share), -offset);
  NEAR (e->beam.lens_m.y, 4.73 - pupil);
  g_assert_false (need (e, PLUMB_CHECK_JOB_LENS_DATA)->assumed);
  plumb_evaluation_free (e);
  /* Counted from the front feet. */
  s.lens[0].datum = PLUMB_DATUM_FEET;
  e = sample_evaluate (&s);
  NEAR (e->beam.lens_m.y, 4.6 + 0.1 - pupil);
  plumb_evaluation_free (e);
}

/* ---- picture -------------------------------------------------------------------------------- */

static void
test_flatness (void)
{
  Sample s;
  sample_init (&s);
  s.wall[2].flatness_m = 0.010;
  TYPE (wall, &s.wall[2], flatness_m);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_FLATNESS);
  double slope = hypot (1.6, 2.615 - 0.9) / 4.67;
  NEAR (f->figure, 0.010 * slope);
  NEAR (sample_figure (e, PLUMB_FIGURE_flatness_bend_m), 0.010 * slope);
  NEAR (f->limit_most, 0.005 * 1.8);
  NEAR (f->number[1], 0.009 / slope);
  g_assert_false (f->assumed);
  plumb_evaluation_free (e);
  /* A face of its own before the wall has its own bump. */
  s.screen[0].stand_off_m = 0.2;
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_BEAM_FLATNESS)->figure, 0.0);
  plumb_evaluation_free (e);
  s.screen[0].flatness_m = 0.03;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_FLATNESS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_FLATTER);
  NEAR (f->cure_amount, 0.03 - f->number[1]);
  plumb_evaluation_free (e);
}

static void
test_focus (void)
{
  Sample s;
  sample_init (&s);
  s.lens[0].focus_near_m = 5.0;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_FOCUS_RANGE);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_FARTHER);
  NEAR (f->cure_amount, 5.0 - 4.67);
  plumb_evaluation_free (e);
  s.lens[0].focus_near_m = 1.0;
  s.lens[0].focus_far_m = 4.0;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_FOCUS_RANGE);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_NEARER);
  NEAR (f->cure_amount, 0.67);
  plumb_evaluation_free (e);
}

/* Too near: both sides are dark, and the way back is what the zoom lacks. */
static void
test_cover_cures (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 3.0; /* lens 2.87 m off: 2.3917 m wide at most */
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *left = need (e, PLUMB_CHECK_BEAM_COVERS_LEFT);
  NEAR (left->figure, (2.87 / 1.2 - 3.2) / 2.0);
  g_assert_cmpint (left->cure, ==, PLUMB_CURE_FARTHER);
  NEAR (left->cure_amount, 3.84 - 2.87);
  plumb_evaluation_free (e);
  /* Aside without sideways shift: the right edge is dark, the machine goes right. */
  sample_init (&s);
  s.lens[0].shift_right_share = 0.0;
  s.place[0].along_m = 3.0;
  e = sample_evaluate (&s);
  const PlumbFinding *right = need (e, PLUMB_CHECK_BEAM_COVERS_RIGHT);
  NEAR (right->figure, -0.1);
  g_assert_cmpint (right->cure, ==, PLUMB_CURE_RIGHT);
  NEAR (right->cure_amount, 0.1);
  NEAR (need (e, PLUMB_CHECK_BEAM_COVERS_LEFT)->figure, 0.1);
  NEAR (need (e, PLUMB_CHECK_BEAM_SPILL)->figure, 0.1);
  plumb_evaluation_free (e);
}

static void
test_pixels (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 7.4; /* 7.27 m at t = 1.8: 4.0389 m wide for 3.2 m */
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_PIXELS_KEPT);
  NEAR (f->figure, pow (3.2 * 1.8 / 7.27, 2.0));
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_NEARER);
  plumb_evaluation_free (e);
}

/* Tilt that keeps most pixels: never worse than the least tilt. */
static void
test_best_tilt (void)
{
  Sample s;
  sample_init (&s);
  s.lens[0].shift_up_share = 0.1;
  s.arrangement[0].attitude = PLUMB_SOLVE_SOLVED;
  PlumbEvaluation *e = sample_evaluate (&s);
  double least = sample_figure (e, PLUMB_FIGURE_least_tilt_rad), best = sample_figure (e, PLUMB_FIGURE_best_tilt_rad);
  double best_share = sample_figure (e, PLUMB_FIGURE_best_tilt_panel_share);
  plumb_evaluation_free (e);
  g_assert_cmpfloat (least, <, 0.0);
  /* A scan of typed tilts finds nothing better by more than its step. */
  s.arrangement[0].attitude = PLUMB_SOLVE_TYPED;
  for (double pitch = least - 8.0 * DEG; pitch < 0.0; pitch += 0.25 * DEG)
    {
      s.arrangement[0].pitch_rad = pitch;
      e = sample_evaluate (&s);
      double share = sample_figure (e, PLUMB_FIGURE_panel_share_used)
                     * fmin (sample_figure (e, PLUMB_FIGURE_picture_width_m) / 3.2, 1.0);
      g_assert_cmpfloat (share, <=, best_share + 1e-3);
      plumb_evaluation_free (e);
    }
  s.arrangement[0].pitch_rad = best;
  e = sample_evaluate (&s);
  g_assert_cmpfloat_with_epsilon (sample_figure (e, PLUMB_FIGURE_panel_share_used), best_share, 1e-3);
  plumb_evaluation_free (e);
}

/* Too far: the tele end makes 3.2 m from 5.76 m only. */
static void
test_too_far (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 7.0;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_THROW_RANGE);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_NEARER);
  NEAR (f->cure_amount, 6.87 - 5.76);
  /* Printed data ±5 %, a rectangular bound: 2 · 5 %/√3 of either end. */
  NEAR (e->figures[PLUMB_FIGURE_throw_ratio_wide].spread[0], 2.0 * 0.05 / sqrt (3.0) * 1.2);
  NEAR (e->figures[PLUMB_FIGURE_throw_ratio_tele].spread[0], 2.0 * 0.05 / sqrt (3.0) * 1.8);
  /* Clamped at the tele end the zoom cannot make up for it: the picture's
   * width follows distance and throw data. */
  double d = e->figures[PLUMB_FIGURE_throw_distance_m].spread[0] / 6.87;
  NEAR (e->figures[PLUMB_FIGURE_raw_width_m].spread[0], 6.87 / 1.8 * hypot (d, 2.0 * 0.05 / sqrt (3.0)));
  NEAR (e->figures[PLUMB_FIGURE_raw_height_m].spread[0], e->figures[PLUMB_FIGURE_raw_width_m].spread[0] * 9.0 / 16.0);
  plumb_evaluation_free (e);
}

static void
test_trial_rooms (void)
{
  Sample s;
  PlumbTrialLine *lines;
  guint n;
  sample_init (&s);
  PlumbScene *scene = sample_scene (&s);
  g_assert_true (plumb_lens_trial (scene, 0, 0, 1, &lines, &n));
  /* The ceiling is 0.33 m above the underside, which wants 10 mm. */
  NEAR (lines[0].air_room_m, 0.32);
  NEAR (lines[0].cable_room_m, 4.47 - 0.085);
  NEAR (lines[0].throw_room_tele, 1.8 - 4.67 / 3.2);
  g_assert_cmpint (lines[0].worst, ==, PLUMB_HOLDS);
  free (lines);
  plumb_scene_unref (scene);
  /* One dark edge and it no longer does it square-on. */
  s.lens[0].shift_right_share = 0.0;
  s.lens[0].throw_wide_ratio = 4.67 / 3.2; /* no wider to make up for it */
  s.place[0].along_m = 3.0;
  scene = sample_scene (&s);
  g_assert_true (plumb_lens_trial (scene, 0, 0, 1, &lines, &n));
  g_assert_false (lines[0].square_on);
  free (lines);
  plumb_scene_unref (scene);
}

/* ---- ports ------------------------------------------------------------------------------------ */

static void
add_store (Sample *s)
{
  static const double corner[4][2] = { { 0, -3 }, { 6.2, -3 }, { 6.2, -0.12 }, { 0, -0.12 } };

  for (guint i = 0; i < 4; i++)
    {
      PlumbWall *wall = &s->wall[s->n_wall++];
      plumb_record_default (PLUMB_RECORD_WALL, wall);
      g_snprintf (wall->id, sizeof wall->id, "store-%u", i);
      SET_ID (wall->space, "store");
      wall->x_m = corner[i][0];
      wall->y_m = corner[i][1];
    }
  s->space[1] = s->space[0];
  SET_ID (s->space[1].id, "store");
  s->n_space = 2;
  s->ceiling[1] = s->ceiling[0];
  SET_ID (s->ceiling[1].id, "store-flat");
  SET_ID (s->ceiling[1].space, "store");
  s->n_ceiling = 2;
  s->place[1].off_m = 10.9; /* y = -1.5 */
  s->place[1].height_m = 1.5;
  SET_ID (s->place[1].space, "store");
  SET_ID (s->arrangement[0].place, "stand");
  SET_ID (s->arrangement[0].mount, "");
  s->lens[0].throw_wide_ratio = 2.5;
  s->lens[0].throw_tele_ratio = 4.0;
}

static void
test_port (void)
{
  Sample s;
  sample_init (&s);
  add_store (&s);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_CLEAR_CEILING);
  g_assert_cmpint (f->variant, ==, PLUMB_V_WALL_BETWEEN);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->number[0], 1.0);
  g_assert_null (sample_finding (e, PLUMB_CHECK_BEAM_PORT));
  plumb_evaluation_free (e);

  plumb_record_default (PLUMB_RECORD_PORT, &s.port[0]);
  SET_ID (s.port[0].id, "port");
  SET_ID (s.port[0].wall, "back");
  s.port[0].along_m = 3.1;
  s.port[0].sill_m = 1.4;
  s.port[0].width_m = 0.6;
  s.port[0].height_m = 0.5;
  s.n_port = 1;
  e = sample_evaluate (&s);
  /* Lens (3.1, -1.37, 1.565), 10.77 m off: at the inner face y = 0 the beam
   * has come 1.37/10.77 of the way. */
  double way = 1.37 / 10.77;
  f = need (e, PLUMB_CHECK_BEAM_PORT);
  NEAR (f->figure, 1.565 + way * (0.9 - 1.565) - 1.4);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (sample_figure (e, PLUMB_FIGURE_least_port_m), 3.2 * way + 0.02);
  NEAR (e->figures[PLUMB_FIGURE_least_port_m].value[1], 1.8 * way + 0.02);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_CLEAR_CEILING)->variant, ==, PLUMB_V_ROOM_CLEAR);
  NEAR (sample_figure (e, PLUMB_FIGURE_share_screen), 1.0);
  plumb_evaluation_free (e);

  s.port[0].width_m = 0.35; /* 28.5 mm short on each side, and 10 mm wanted */
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_BEAM_PORT);
  NEAR (f->figure, (0.35 - 3.2 * way) / 2.0);
  /* The clear size that this place of the hole would need: 10 mm all round,
   * and what the beam passes off its middle counts twice. */
  double low = 1.565 + way * (0.9 - 1.565), high = 1.565 + way * (2.7 - 1.565);
  NEAR (f->number[0], 3.2 * way + 0.02);
  NEAR (f->number[1], high - low + 2.0 * fabs ((low + high) / 2.0 - 1.65) + 0.02);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_LARGER_PORT);
  NEAR (f->cure_amount, 0.010 - f->figure);
  g_assert_cmpfloat (sample_figure (e, PLUMB_FIGURE_share_walls) + sample_figure (e, PLUMB_FIGURE_share_ports), >,
                     0.05);
  plumb_evaluation_free (e);
  s.port[0].along_m = 5.5;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_PORT)->variant, ==, PLUMB_V_PORT_MISSED);
  plumb_evaluation_free (e);
  /* From the room itself the port is nobody's business. */
  SET_ID (s.arrangement[0].place, "hung");
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_BEAM_PORT));
  plumb_evaluation_free (e);
}

/* ---- clearance ----------------------------------------------------------------------------------- */

static void
test_ceiling_clearance (void)
{
  Sample s;
  sample_init (&s);
  PlumbEvaluation *e = sample_evaluate (&s);
  /* The upper rays go from 2.615 up to 2.7 at the wall: 0.3 m left there. */
  NEAR (need (e, PLUMB_CHECK_BEAM_CLEAR_CEILING)->figure, 0.3);
  plumb_evaluation_free (e);
  s.screen[0].bottom_m = 1.4; /* reaches 3.2 m: through the ceiling */
  e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_CLEAR_CEILING);
  g_assert_cmpint (f->variant, ==, PLUMB_V_ROOM_CUTS);
  g_assert_cmpfloat (f->number[1], >, 0.05);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_LONGER_DROP);
  plumb_evaluation_free (e);
}

/* Clearance to a box above the beam and its spread, against a Monte Carlo of
 * the same inputs (JCGM 101). */
static void
test_clearance_spread (void)
{
  enum { N = 1500 };
  Sample s;
  GRand *rand = g_rand_new_with_seed (55);
  double sum = 0.0, squares = 0.0;

  sample_init (&s);
  s.place[0].out_of_level_rad = 0.0;
  s.screen[0].bottom_m = 0.8;
  PlumbBlocker *box = sample_add_box (&s, "duct", 3.1, 6.5, 2.7, 6.0, 0.3, 0.2);
  box->role = PLUMB_ROLE_DUCT;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER);
  double spread = f->spread;
  /* The upper ray falls from 2.615 to 2.6: nearest is the box's far lower edge. */
  g_assert_cmpfloat (f->figure, >, 0.08);
  g_assert_cmpfloat (f->figure, <, 0.12);
  plumb_evaluation_free (e);
  for (int i = 0; i < N; i++)
    {
      Sample d = s;
      d.place[0].height_m += g_rand_double_range (rand, -0.003, 0.003);
      d.place[0].off_m += g_rand_double_range (rand, -0.003, 0.003);
      d.lens[0].pupil_behind_m += g_rand_double_range (rand, -0.05, 0.05);
      d.screen[0].bottom_m += g_rand_double_range (rand, -0.003, 0.003);
      d.blocker[0].z_m += g_rand_double_range (rand, -0.003, 0.003);
      e = sample_evaluate (&d);
      double figure = need (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER)->figure;
      sum += figure;
      squares += figure * figure;
      plumb_evaluation_free (e);
    }
  g_rand_free (rand);
  double drawn = 2.0 * sqrt (squares / N - sum * sum / N / N);
  g_test_message ("first order %g, drawn %g", spread, drawn);
  g_assert_cmpfloat (fabs (spread / drawn - 1.0), <, 0.12);
}

/* ---- people ---------------------------------------------------------------------------------------- */

static void
test_purposes (void)
{
  static const struct {
    int purpose;
    gboolean has_least;
    double least_deg, heights;
  } rows[] = { { PLUMB_PURPOSE_HOME, TRUE, 30, 8 },
               { PLUMB_PURPOSE_CINEMA, TRUE, 36, 8 },
               { PLUMB_PURPOSE_READING, FALSE, 0, 6 },
               { PLUMB_PURPOSE_DETAIL, FALSE, 0, 4 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Sample s;
      sample_init (&s);
      s.job.purpose = rows[i].purpose;
      plumb_record_default (PLUMB_RECORD_ROW, &s.row[0]);
      SET_ID (s.row[0].id, "r");
      s.row[0].x_m = 3.1;
      s.row[0].y_m = 9.4 - 10.0;
      s.row[0].count = 1;
      s.row[0].eye_height_m = 1.8;
      s.n_row = 1;
      PlumbEvaluation *e = sample_evaluate (&s);
      const PlumbFinding *least = sample_finding (e, PLUMB_CHECK_PEOPLE_ANGLE_LEAST);
      const PlumbFinding *heights = need (e, PLUMB_CHECK_PEOPLE_HEIGHTS);
      g_assert_cmpint (least != NULL, ==, rows[i].has_least);
      if (least != NULL)
        {
          NEAR (least->limit_least, rows[i].least_deg * DEG);
          g_assert_cmpint (least->cure, ==, PLUMB_CURE_SEAT_NEARER);
          NEAR (least->cure_amount, 10.0 - 1.6 / tan (rows[i].least_deg / 2.0 * DEG));
          g_assert_cmpint (least->subject.kind, ==, PLUMB_RECORD_ROW);
        }
      NEAR (heights->limit_most, rows[i].heights);
      NEAR (heights->figure, 10.0 / 1.8);
      g_assert_cmpint (heights->verdict == PLUMB_FAILS, ==, 10.0 / 1.8 > rows[i].heights);
      if (heights->verdict == PLUMB_FAILS)
        NEAR (heights->cure_amount, 10.0 - rows[i].heights * 1.8);
      plumb_evaluation_free (e);
    }
  Sample s;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_SEAT, &s.seat[0]);
  SET_ID (s.seat[0].id, "near");
  s.seat[0].x_m = 3.1;
  s.seat[0].y_m = 9.4 - 2.0;
  s.seat[0].eye_height_m = 1.8;
  s.n_seat = 1;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *most = need (e, PLUMB_CHECK_PEOPLE_ANGLE_MOST);
  g_assert_cmpint (most->cure, ==, PLUMB_CURE_SEAT_FARTHER);
  NEAR (most->cure_amount, 1.6 / tan (30.0 * DEG) - 2.0);
  plumb_evaluation_free (e);
}

/* ---- order and assumptions --------------------------------------------------------------------------- */

static void
test_worst_first (void)
{
  static const int rank[] = { [PLUMB_HOLDS] = 3, [PLUMB_TIGHT] = 2, [PLUMB_UNKNOWN] = 1, [PLUMB_FAILS] = 0 };
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 4.0;
  s.mount[0].load_kg = 1.0;
  s.lens[0].head.typed &= ~(UINT64_C (1) << PLUMB_FIELD_lens_focus_far_m);
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (e->worst, ==, PLUMB_FAILS);
  g_assert_cmpint (e->findings[0].verdict, ==, PLUMB_FAILS);
  for (guint i = 1; i < e->n_findings; i++)
    g_assert_cmpint (rank[e->findings[i - 1].verdict], <=, rank[e->findings[i].verdict]);
  g_assert_cmpint (need (e, PLUMB_CHECK_BEAM_FOCUS_RANGE)->verdict, ==, PLUMB_UNKNOWN);
  plumb_evaluation_free (e);
}

static void
test_reference_fault (void)
{
  Sample s;
  sample_init (&s);
  SET_ID (s.place[1].off_wall, "gone");
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_JOB_FAULT);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->subject.kind, ==, PLUMB_RECORD_PLACE);
  g_assert_cmpuint (f->subject.index, ==, 1);
  plumb_evaluation_free (e);
  /* The room's corners in a bow: two walls cross, and it says which. */
  sample_init (&s);
  s.wall[1].x_m = 0.0;
  s.wall[1].y_m = 9.4;
  s.wall[3].x_m = 6.2;
  s.wall[3].y_m = 0.0;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_JOB_FAULT);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/checks/air", test_air);
  g_test_add_func ("/checks/air-cures", test_air_cures);
  g_test_add_func ("/checks/inside", test_inside);
  g_test_add_func ("/checks/heights", test_heights);
  g_test_add_func ("/checks/mount", test_mount);
  g_test_add_func ("/checks/chains", test_chains);
  g_test_add_func ("/checks/shift-sets", test_shift_sets);
  g_test_add_func ("/checks/corner-cut", test_corner_cut);
  g_test_add_func ("/checks/lens-lines", test_lens_lines);
  g_test_add_func ("/checks/flatness", test_flatness);
  g_test_add_func ("/checks/focus", test_focus);
  g_test_add_func ("/checks/cover-cures", test_cover_cures);
  g_test_add_func ("/checks/pixels", test_pixels);
  g_test_add_func ("/checks/best-tilt", test_best_tilt);
  g_test_add_func ("/checks/too-far", test_too_far);
  g_test_add_func ("/checks/trial-rooms", test_trial_rooms);
  g_test_add_func ("/checks/port", test_port);
  g_test_add_func ("/checks/ceiling-clearance", test_ceiling_clearance);
  g_test_add_func ("/checks/clearance-spread", test_clearance_spread);
  g_test_add_func ("/checks/purposes", test_purposes);
  g_test_add_func ("/checks/worst-first", test_worst_first);
  g_test_add_func ("/checks/reference-fault", test_reference_fault);
  return g_test_run ();
}
