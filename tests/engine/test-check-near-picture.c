/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Things near the picture in the plain room of sample-job.h: 6.2 m × 9.4 m ×
 * 3 m, picture 3.2 m × 1.8 m before the wall y = 9.4, its lower edge at 0.9 m.
 * Closed forms of boxes and similar triangles; the limits themselves are
 * common practice, no source. Every cure is put back into the job.
 */
#include <math.h>

#include "plumbeam/sight.h"
#include "plumbeam/variants.h"
#include "sample-job.h"

#define DEG (PLUMB_PI / 180.0)
#define NEAR(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)
#define WALL_Y 9.4
#define CENTRE_X 3.1
#define STAND_OFF 0.3

/* A screen that hangs 0.3 m before the wall. */
static void
begin (Sample *s, int support)
{
  sample_init (s);
  s->lens[0].shift_up_share = 1.2;
  s->screen[0].support = support;
  s->screen[0].stand_off_m = STAND_OFF;
}

static PlumbBlocker *
add (Sample *s, const char *id, int role, double aside, double back, double level, double across, double deep,
     double high)
{
  PlumbBlocker *box = sample_add_box (s, id, CENTRE_X + aside, WALL_Y - back, level, across, deep, high);

  box->role = role;
  return box;
}

static PlumbSeat *
add_seat (Sample *s, double aside, double back, double eye)
{
  PlumbSeat *seat = &s->seat[s->n_seat];

  plumb_record_default (PLUMB_RECORD_SEAT, seat);
  g_snprintf (seat->id, sizeof seat->id, "s%u", ++s->n_seat);
  seat->x_m = CENTRE_X + aside;
  seat->y_m = WALL_Y - back;
  seat->facing_rad = 90.0 * DEG;
  seat->eye_height_m = eye;
  return seat;
}

static const PlumbFinding *
of (const PlumbEvaluation *e, PlumbCheck check, PlumbRecordKind kind, uint32_t index)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].check == check && e->findings[i].subject.kind == kind && e->findings[i].subject.index == index)
      return &e->findings[i];
  return NULL;
}

static const PlumbFinding *
need (const PlumbEvaluation *e, PlumbCheck check)
{
  const PlumbFinding *f = sample_finding (e, check);

  g_assert_nonnull (f);
  return f;
}

/* ---- the way of a drop screen --------------------------------------------------------- */

/* Nothing but the wall: 0.3 m from the sheet to its face. */
static void
test_way_free (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_WALL, 2);
  g_assert_nonnull (f);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (f->figure, STAND_OFF, 1e-9);
  NEAR (f->limit_least, 0.05, 1e-12);
  g_assert_cmpint (f->basis, ==, PLUMB_BASIS_PRACTICE);
  plumb_evaluation_free (e);

  /* A screen on the wall comes down from nowhere. */
  s.screen[0].support = PLUMB_SUPPORT_WALL;
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_SCREEN_PATH));
  plumb_evaluation_free (e);
}

/* A shelf over the picture reaches 0.32 m from the wall, so 20 mm through the
 * sheet: 70 mm forward leaves 50. Its near end reaches to 1.59 m aside, the
 * face to 1.6 m, the border 40 mm further. */
static void
test_way_met (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  add (&s, "shelf", PLUMB_ROLE_FURNITURE, 1.65 + 0.4, 0.16, 2.75, 0.8, 0.32, 0.03);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_nonnull (f); /* 50 mm beside the sheet: on the limit, inside the spread */
  g_assert_cmpint (f->verdict, ==, PLUMB_TIGHT);
  NEAR (f->figure, 0.05, 1e-9);
  plumb_evaluation_free (e);

  s.screen[0].border_m = 0.06;
  e = sample_evaluate (&s);
  f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->variant, ==, PLUMB_V_PATH_MET);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SCREEN_FORWARD);
  NEAR (f->cure_amount, 0.07, 1e-6);
  double way = f->cure_amount;
  plumb_evaluation_free (e);

  s.screen[0].stand_off_m += way;
  e = sample_evaluate (&s);
  f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, !=, PLUMB_FAILS);
  NEAR (f->figure, 0.05, 0.01 * 0.05);
  plumb_evaluation_free (e);
}

/* A pelmet 0.33 m to 0.5 m from the wall: 30 mm before the sheet, so 20 mm
 * back; forward would be 250. Below the lower edge nothing is swept. */
static void
test_way_back (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  PlumbBlocker *box = add (&s, "pelmet", PLUMB_ROLE_BEAM, 0.0, 0.415, 2.7, 1.0, 0.17, 0.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->figure, 0.03, 1e-9);
  g_assert_cmpint (f->variant, ==, PLUMB_V_PATH_CLEAR);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SCREEN_BACK);
  NEAR (f->cure_amount, 0.02, 1e-6);
  double way = f->cure_amount;
  plumb_evaluation_free (e);
  s.screen[0].stand_off_m -= way;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_SCREEN_PATH)->verdict, !=, PLUMB_FAILS);
  plumb_evaluation_free (e);

  /* The same right in the way, but 0.2 m under the lower edge. */
  begin (&s, PLUMB_SUPPORT_DROP);
  box = add (&s, "chest", PLUMB_ROLE_FURNITURE, 0.0, 0.3, 0.0, 1.0, 0.4, 0.7);
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_SCREEN_PATH);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  g_assert_cmpint (f->subject.kind, ==, PLUMB_RECORD_BLOCKER);
  NEAR (f->figure, 0.2, 1e-9);
  plumb_evaluation_free (e);

  /* Between two that leave no room forward or back within a metre: move it. */
  box->z_m = 1.0;
  box->y_m = WALL_Y - 0.8;
  box->width_m = 1.6;
  e = sample_evaluate (&s);
  f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_MOVE_BLOCKER);
  plumb_evaluation_free (e);
}

/* A cupboard leaf that meets the sheet only when open: the state is named. */
static void
test_way_state (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  PlumbBlocker *leaf = add (&s, "leaf", PLUMB_ROLE_DOOR, 2.4, 0.1, 1.0, 0.6, 0.02, 1.0);
  leaf->movable = true;
  for (int k = 0; k < 2; k++)
    plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &s.blocker_state[k]);
  SET_ID (s.blocker_state[0].name, "ajar");
  SET_ID (s.blocker_state[1].name, "open");
  s.blocker_state[1].move_x_m = -1.0;
  s.blocker_state[1].move_y_m = -0.2;
  s.n_blocker_state = 2;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpuint (f->subject.sub, ==, 1);
  g_assert_cmpfloat (f->number[0], ==, 2.0);
  plumb_evaluation_free (e);
}

/* A wall that the sheet rubs, or is in; a beam that goes through the sheet
 * over the face carries the case, one along it is in the way. */
static void
test_way_building (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  s.screen[0].stand_off_m = 0.02;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_WALL, 2);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SCREEN_FORWARD);
  NEAR (f->cure_amount, 0.03, 1e-6);
  plumb_evaluation_free (e);
  s.screen[0].stand_off_m = -0.02;
  e = sample_evaluate (&s);
  f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_WALL, 2);
  g_assert_cmpint (f->variant, ==, PLUMB_V_PATH_MET);
  NEAR (f->cure_amount, 0.07, 1e-6);
  plumb_evaluation_free (e);

  begin (&s, PLUMB_SUPPORT_DROP);
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &s.structure[0]);
  SET_ID (s.structure[0].id, "tie");
  s.structure[0].member = PLUMB_MEMBER_TIE_BEAM;
  s.structure[0].exposed = true;
  s.structure[0].width_m = s.structure[0].depth_m = 0.1;
  s.structure[0].start_x_m = s.structure[0].end_x_m = CENTRE_X;
  s.structure[0].start_y_m = 1.0;
  s.structure[0].end_y_m = WALL_Y;
  s.structure[0].start_z_m = s.structure[0].end_z_m = 2.8;
  s.n_structure = 1;
  e = sample_evaluate (&s);
  g_assert_null (of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_STRUCTURE, 0));
  plumb_evaluation_free (e);
  s.structure[0].start_x_m = 1.0;
  s.structure[0].end_x_m = 5.0;
  s.structure[0].start_y_m = s.structure[0].end_y_m = WALL_Y - STAND_OFF - 0.07;
  e = sample_evaluate (&s);
  f = of (e, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_STRUCTURE, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->figure, 0.02, 1e-9);
  plumb_evaluation_free (e);
}

/* ---- behind the face -------------------------------------------------------------------- */

/* A loudspeaker 0.4 m wide, 0.3 m of it behind a face that hangs 0.5 m before
 * the wall: three quarters; 0.3 m aside frees it. */
static void
test_sound (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_FREE);
  s.screen[0].x_m = CENTRE_X;
  s.screen[0].y_m = WALL_Y - 0.5;
  s.screen[0].facing_rad = -90.0 * DEG;
  PlumbBlocker *speaker = add (&s, "left", PLUMB_ROLE_SPEAKER, -1.5, 0.2, 1.5, 0.4, 0.3, 0.5);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_SCREEN_SOUND);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_true (f->assumed); /* nobody typed whether it passes sound */
  NEAR (f->figure, 0.75, 1e-9);
  NEAR (f->number[1], 0.15, 1e-9);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_MOVE_OFF);
  NEAR (f->cure_amount, 0.3, 1e-9);
  plumb_evaluation_free (e);

  speaker->x_m -= 0.3;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_SCREEN_SOUND)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);

  speaker->x_m += 0.3;
  s.screen[0].passes_sound = true;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_SCREEN_SOUND);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  g_assert_cmpint (f->variant, ==, PLUMB_V_SOUND_PASSES);
  plumb_evaluation_free (e);

  /* In front of the face, and behind paint: nothing to say. */
  s.screen[0].passes_sound = false;
  speaker->y_m = WALL_Y - 0.9;
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_SCREEN_SOUND));
  plumb_evaluation_free (e);
  begin (&s, PLUMB_SUPPORT_WALL);
  s.screen[0].stand_off_m = 0.0;
  add (&s, "in the wall", PLUMB_ROLE_SPEAKER, 0.0, -0.2, 1.5, 0.4, 0.3, 0.5);
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_SCREEN_SOUND));
  plumb_evaluation_free (e);
}

/* A round loudspeaker half behind the face's edge: half of its outline, by
 * symmetry, whatever the facets. Turned by 30° a box is its own outline still. */
static void
test_sound_round (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_WALL);
  PlumbBlocker *speaker = add (&s, "round", PLUMB_ROLE_SPEAKER, 1.6, 0.15, 1.2, 0.2, 0.2, 0.6);
  speaker->shape = PLUMB_SHAPE_CYLINDER;
  speaker->diameter_m = 0.2;
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_SCREEN_SOUND)->figure, 0.5, 1e-9);
  plumb_evaluation_free (e);
  speaker->shape = PLUMB_SHAPE_BOX;
  speaker->yaw_rad = 30.0 * DEG;
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_SCREEN_SOUND)->figure, 0.5, 1e-9);
  plumb_evaluation_free (e);
}

/* ---- heat --------------------------------------------------------------------------------- */

/* A radiator under the lower edge: its top at 0.6 m, the edge at 0.9 m and
 * 0.3 m before the wall, the radiator 0.1 m to 0.2 m: √(0.3² + 0.1²). */
static void
test_heat (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_WALL);
  PlumbBlocker *radiator = add (&s, "radiator", PLUMB_ROLE_STOVE, 0.5, 0.15, 0.1, 1.2, 0.1, 0.5);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_SCREEN_HEAT);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->variant, ==, PLUMB_V_HEAT_UNDER);
  NEAR (f->figure, hypot (0.3, 0.1), 1e-9);
  NEAR (f->limit_least, 0.5, 1e-12);
  NEAR (f->cure_amount, 0.5 - hypot (0.3, 0.1), 1e-9);
  g_assert_cmpint (f->basis, ==, PLUMB_BASIS_PRACTICE);
  plumb_evaluation_free (e);

  /* Behind the face, 0.1 m off it. */
  radiator->z_m = 1.0;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_SCREEN_HEAT);
  g_assert_cmpint (f->variant, ==, PLUMB_V_HEAT_BEHIND);
  NEAR (f->figure, 0.1, 1e-9);
  plumb_evaluation_free (e);

  /* In front of it and beside it is neither. */
  radiator->y_m = WALL_Y - 1.0;
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_SCREEN_HEAT));
  plumb_evaluation_free (e);

  /* Far enough under it: told, and what was not worked out too. */
  radiator->z_m = 0.0;
  radiator->height_m = 0.3;
  radiator->y_m = WALL_Y - 0.3;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_SCREEN_HEAT);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (f->figure, 0.6, 1e-9);
  plumb_evaluation_free (e);
}

/* ---- in sight of the seats ------------------------------------------------------------------ */

/* A loudspeaker under the picture, its front 0.4 m before the wall, 0.8 m by
 * 0.4 m, from 0.3 m to 0.7 m; an eye at 1.2 m, 4.4 m from the wall, so 4 m off
 * the front. A board across the room halfway hides all that is seen under its
 * top: a top at z shows as 1.2 − 2 (1.2 − z) on the front. */
static void
board (Sample *s, double top)
{
  begin (s, PLUMB_SUPPORT_WALL);
  add_seat (s, 0.0, 4.4, 1.2);
  add (s, "centre", PLUMB_ROLE_SPEAKER, 0.0, 0.35, 0.3, 0.8, 0.1, 0.4);
  add (s, "board", PLUMB_ROLE_FURNITURE, 0.0, 2.4, 0.0, 3.0, 1e-4, top);
}

static void
test_speaker_board (void)
{
  Sample s;
  board (&s, 0.8);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_SPEAKER);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (f->figure, (1.2 - 2.0 * 0.4 - 0.3) / 0.4, 1e-3);
  g_assert_cmpint (plumb_who_of_number (f->number[1]).kind, ==, PLUMB_WHO_BLOCKER);
  g_assert_cmpuint (plumb_who_of_number (f->number[1]).index, ==, 1);
  g_assert_cmpuint (plumb_who_of_number (f->number[3]).index, ==, 0);
  g_assert_cmpfloat (f->number[4], ==, 0.0);
  g_assert_cmpfloat (f->number[5], ==, 1.0);
  plumb_evaluation_free (e);

  /* Seen over the board from 0.6 m on: three quarters are hidden. Raised by
   * 0.1 m half of it is; there is room for 0.2 m under the picture. */
  board (&s, 0.9);
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_PEOPLE_SPEAKER);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  NEAR (f->figure, 0.75, 1e-3);
  g_assert_true (e->seats[0].fails);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_RAISE_SPEAKER);
  NEAR (f->cure_amount, 0.1, 1e-3);
  double way = f->cure_amount;
  plumb_evaluation_free (e);
  s.blocker[0].z_m += way;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_PEOPLE_SPEAKER);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  NEAR (f->figure, 0.5, 0.005);
  plumb_evaluation_free (e);
}

/* A head in front hides it as the silhouette of that head alone says, and
 * taking it away frees it; a loudspeaker far from the picture is not asked. */
static void
test_speaker_head (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_WALL);
  add_seat (&s, 0.0, 4.4, 1.2);
  add_seat (&s, 0.0, 3.4, 1.0);
  PlumbBlocker *centre = add (&s, "centre", PLUMB_ROLE_SPEAKER, 0.0, 0.35, 0.3, 0.8, 0.1, 0.4);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_SPEAKER);

  PlumbPlaneFrame front = { .origin_m = { CENTRE_X, WALL_Y - 0.4, 0.5 },
                            .u = { 1, 0, 0 }, .v = { 0, 0, 1 }, .n = { 0, -1, 0 } };
  PlumbRect rect = { .width_m = 0.8, .height_m = 0.4 };
  PlumbFigure3d figure = plumb_figure_sitting (plumb_vec3 (CENTRE_X, WALL_Y - 3.4, 1.0), 90.0 * DEG, 0.12, 0.0);
  PlumbOccluder trunk = { .shape = PLUMB_OCCLUDER_HULL, .points = figure.trunk_m, .n_points = 8 };
  PlumbOccluder head = { .shape = PLUMB_OCCLUDER_ELLIPSOID, .centre_m = figure.head_centre_m,
                         .axis = { figure.head_axis[0], figure.head_axis[1], figure.head_axis[2] },
                         .half_m = figure.head_half_m };
  PlumbSilhouette both[2];
  uint32_t n = plumb_silhouette (plumb_vec3 (CENTRE_X, WALL_Y - 4.4, 1.2), &front, &rect, &trunk, &both[0]);
  n += plumb_silhouette (plumb_vec3 (CENTRE_X, WALL_Y - 4.4, 1.2), &front, &rect, &head, &both[n]);
  g_assert_cmpuint (n, >, 0);
  NEAR (f->figure, plumb_silhouettes_area_m2 (both, n) / (0.8 * 0.4), 1e-9);
  g_assert_cmpint (plumb_who_of_number (f->number[1]).kind, ==, PLUMB_WHO_SEAT);
  g_assert_cmpuint (f->subject.sub, ==, 0);
  plumb_evaluation_free (e);

  s.n_seat = 1;
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_SPEAKER)->figure, 0.0, 1e-12);
  plumb_evaluation_free (e);
  centre->y_m = WALL_Y - 3.0;
  e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_PEOPLE_SPEAKER));
  plumb_evaluation_free (e);
}

/* A round one does not hide itself. */
static void
test_speaker_round (void)
{
  static const int shapes[] = { PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID, PLUMB_SHAPE_BOX };

  for (guint i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      Sample s;
      begin (&s, PLUMB_SUPPORT_WALL);
      add_seat (&s, 1.0, 4.4, 1.2);
      PlumbBlocker *speaker = add (&s, "side", PLUMB_ROLE_SPEAKER, 2.0, 0.5, 1.2, 0.3, 0.3, 0.5);
      speaker->shape = shapes[i];
      speaker->diameter_m = 0.3;
      speaker->pitch_rad = 20.0 * DEG;
      PlumbEvaluation *e = sample_evaluate (&s);
      const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_SPEAKER);
      g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
      NEAR (f->figure, 0.0, 1e-12);
      plumb_evaluation_free (e);
    }
}

/* ---- in the beam and before the picture ------------------------------------------------------ */

/* A centre loudspeaker before the picture's lower edge: named as shadow, as
 * what hides, and by the beam's clearance. */
static void
test_centre_in_front (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_WALL);
  add_seat (&s, 0.0, 4.4, 1.2);
  add (&s, "centre", PLUMB_ROLE_SPEAKER, 0.0, 0.5, 0.8, 0.8, 0.2, 0.35);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = of (e, PLUMB_CHECK_PEOPLE_SHADOW, PLUMB_RECORD_BLOCKER, 0);
  g_assert_nonnull (f);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  f = need (e, PLUMB_CHECK_PEOPLE_HIDDEN);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (plumb_who_of_number (f->number[1]).kind, ==, PLUMB_WHO_BLOCKER);
  g_assert_cmpuint (plumb_who_of_number (f->number[1]).index, ==, 0);
  f = of (e, PLUMB_CHECK_BEAM_CLEAR_BLOCKER, PLUMB_RECORD_BLOCKER, 0);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->variant, ==, PLUMB_V_CUTS_PICTURE);
  plumb_evaluation_free (e);
}

/* Screens and things that make no sense: findings or nothing, no crash. */
static void
test_odd (void)
{
  Sample s;
  begin (&s, PLUMB_SUPPORT_DROP);
  s.screen[0].lean_rad = 80.0 * DEG;
  s.screen[0].bottom_m = -10.0;
  add (&s, "a", PLUMB_ROLE_SPEAKER, 0.0, 0.3, 1.0, 0.001, 0.001, 0.001);
  add (&s, "b", PLUMB_ROLE_STOVE, 0.0, 0.3, -50.0, 1000.0, 1000.0, 1000.0);
  add_seat (&s, 0.0, 4.4, 1.2);
  for (int support = PLUMB_SUPPORT_WALL; support <= PLUMB_SUPPORT_FREE; support++)
    {
      s.screen[0].support = support;
      PlumbEvaluation *e = sample_evaluate (&s);
      g_assert_cmpuint (e->n_findings, >, 0);
      for (guint i = 0; i < e->n_findings; i++)
        g_assert_true (isfinite (e->findings[i].figure) && isfinite (e->findings[i].cure_amount));
      plumb_evaluation_free (e);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/near-picture/way-free", test_way_free);
  g_test_add_func ("/near-picture/way-met", test_way_met);
  g_test_add_func ("/near-picture/way-back", test_way_back);
  g_test_add_func ("/near-picture/way-state", test_way_state);
  g_test_add_func ("/near-picture/way-building", test_way_building);
  g_test_add_func ("/near-picture/sound", test_sound);
  g_test_add_func ("/near-picture/sound-round", test_sound_round);
  g_test_add_func ("/near-picture/heat", test_heat);
  g_test_add_func ("/near-picture/speaker-board", test_speaker_board);
  g_test_add_func ("/near-picture/speaker-head", test_speaker_head);
  g_test_add_func ("/near-picture/speaker-round", test_speaker_round);
  g_test_add_func ("/near-picture/centre-in-front", test_centre_in_front);
  g_test_add_func ("/near-picture/odd", test_odd);
  return g_test_run ();
}
