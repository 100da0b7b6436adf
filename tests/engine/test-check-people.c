/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The checks of people in the plain room of sample-job.h: 6.2 m × 9.4 m × 3 m,
 * picture 3.2 m × 1.8 m on the wall y = 9.4 with its lower edge at 0.9 m.
 * Printed examples through a whole evaluation, and every cure put back into
 * the job.
 */
#include <math.h>

#include "plumbeam/sight.h"
#include "plumbeam/variants.h"
#include "sample-job.h"

#define DEG (PLUMB_PI / 180.0)
#define NEAR(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)
#define WALL_Y 9.4
#define CENTRE_X 3.1

/* The plain room with a lens that shifts far enough for every picture here. */
static void
begin (Sample *s)
{
  sample_init (s);
  s->lens[0].shift_up_share = 1.2;
}

static PlumbSeat *
add_seat (Sample *s, double aside, double back, double floor, double eye)
{
  PlumbSeat *seat = &s->seat[s->n_seat];

  plumb_record_default (PLUMB_RECORD_SEAT, seat);
  g_snprintf (seat->id, sizeof seat->id, "s%u", ++s->n_seat);
  seat->x_m = CENTRE_X + aside;
  seat->y_m = WALL_Y - back;
  seat->facing_rad = 90.0 * DEG;
  seat->floor_z_m = floor;
  seat->eye_height_m = eye;
  return seat;
}

static PlumbRow *
add_rows (Sample *s, int count, int rows, double back, double spacing)
{
  PlumbRow *row = &s->row[s->n_row++];

  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "r");
  row->count = count;
  row->rows = rows;
  row->x_m = CENTRE_X - row->pitch_m * (count - 1) / 2.0;
  row->y_m = WALL_Y - back;
  row->facing_rad = 90.0 * DEG;
  row->row_spacing_m = spacing;
  return row;
}

static PlumbPerson *
add_person (Sample *s, int posture, double aside, double back)
{
  PlumbPerson *person = &s->person[s->n_person];

  plumb_record_default (PLUMB_RECORD_PERSON, person);
  g_snprintf (person->id, sizeof person->id, "p%u", ++s->n_person);
  person->posture = posture;
  person->x_m = CENTRE_X + aside;
  person->y_m = WALL_Y - back;
  person->facing_rad = 90.0 * DEG;
  return person;
}

static const PlumbFinding *
need (const PlumbEvaluation *e, PlumbCheck check)
{
  const PlumbFinding *f = sample_finding (e, check);

  g_assert_nonnull (f);
  return f;
}

static const PlumbFinding *
find_variant (const PlumbEvaluation *e, PlumbCheck check, int variant)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].check == check && e->findings[i].variant == variant)
      return &e->findings[i];
  return NULL;
}

/* ---- looking up, off axis, pixels, text ----------------------------------------- */

/* Printed: eye 1.2 m, picture 0.9 to 2.394 m, 4 m away: upper edge +16.620°,
 * middle +6.376°. AVIXA V202.01:2016: picture 1500 mm high at 1400 mm, eye
 * 1200 mm: closest viewer 2944 mm for 30°. */
static void
test_look_up (void)
{
  Sample s;
  begin (&s);
  s.screen[0].height_m = 1.494;
  s.screen[0].width_m = 1.494 * 16.0 / 9.0;
  s.place[0].off_m = 4.0;
  add_seat (&s, 0.0, 4.0, 0.0, 1.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (e->seats[0].look_up_top_rad / DEG, 16.620, 5e-4);
  NEAR (e->seats[0].look_up_centre_rad / DEG, 6.376, 5e-4);
  plumb_evaluation_free (e);

  begin (&s);
  s.job.purpose = PLUMB_PURPOSE_READING;
  s.screen[0].height_m = 1.5;
  s.screen[0].width_m = 8.0 / 3.0;
  s.screen[0].bottom_m = 1.4;
  s.place[0].off_m = 4.0;
  add_seat (&s, 0.0, 2.944, 0.0, 1.2);
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_LOOK_UP)->figure / DEG, 30.0, 0.01);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_LOOK_UP)->limit_most / DEG, 30.0, 1e-9);
  g_assert_cmpint (need (e, PLUMB_CHECK_PEOPLE_LOOK_UP)->basis, ==, PLUMB_BASIS_STANDARD);
  plumb_evaluation_free (e);
}

/* Printed: upper edge at 2.5 m, eye 1.2 m: 15° from 4.8517 m, 30° from
 * 2.2517 m, 35° from 1.8566 m on; the cure is the way there. */
static void
test_look_up_cures (void)
{
  static const struct {
    int purpose;
    double distance;
  } rows[] = { { PLUMB_PURPOSE_HOME, 4.8517 }, { PLUMB_PURPOSE_READING, 2.2517 }, { PLUMB_PURPOSE_CINEMA, 1.8566 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Sample s;
      begin (&s);
      s.job.purpose = rows[i].purpose;
      s.screen[0].bottom_m = 0.7;
      PlumbSeat *seat = add_seat (&s, 0.0, 1.5, 0.0, 1.2);
      PlumbEvaluation *e = sample_evaluate (&s);
      const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_LOOK_UP);
      g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
      g_assert_cmpint (f->cure, ==, PLUMB_CURE_SEAT_FARTHER);
      NEAR (f->cure_amount, rows[i].distance - 1.5, 5e-5);
      seat->y_m -= f->cure_amount;
      plumb_evaluation_free (e);
      e = sample_evaluate (&s);
      f = need (e, PLUMB_CHECK_PEOPLE_LOOK_UP);
      g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
      g_assert_cmpfloat (f->limit_most - f->figure, <, 0.01 * f->limit_most);
      plumb_evaluation_free (e);
    }
}

static void
apply_seat_cure (Sample *s, const PlumbFinding *f)
{
  g_assert_true (f->cure == PLUMB_CURE_SEAT_FARTHER || f->cure == PLUMB_CURE_SEAT_NEARER);
  s->seat[f->subject.index].y_m += f->cure == PLUMB_CURE_SEAT_NEARER ? f->cure_amount : -f->cure_amount;
}

/* Seats too far, too near and too far aside: each rule's way straight on or
 * off, put into the job, leaves less than 1 % of the limit. */
static void
test_seat_cures (void)
{
  static const struct {
    int purpose, check;
    double aside, back, width;
  } rows[] = {
    { PLUMB_PURPOSE_HOME, PLUMB_CHECK_PEOPLE_ANGLE_LEAST, 0.4, 8.0, 3.2 },
    { PLUMB_PURPOSE_CINEMA, PLUMB_CHECK_PEOPLE_ANGLE_LEAST, 0.0, 8.0, 3.2 },
    { PLUMB_PURPOSE_HOME, PLUMB_CHECK_PEOPLE_ANGLE_MOST, 0.3, 2.0, 3.2 },
    { PLUMB_PURPOSE_DETAIL, PLUMB_CHECK_PEOPLE_HEIGHTS, 0.5, 8.5, 3.2 },
    { PLUMB_PURPOSE_DETAIL, PLUMB_CHECK_PEOPLE_PIXELS, 0.5, 8.0, 3.2 },
    { PLUMB_PURPOSE_READING, PLUMB_CHECK_PEOPLE_PIXELS, 0.5, 2.0, 3.2 },
    { PLUMB_PURPOSE_READING, PLUMB_CHECK_PEOPLE_TEXT, 0.1, 8.5, 2.0 },
    { PLUMB_PURPOSE_READING, PLUMB_CHECK_PEOPLE_OFF_AXIS, 2.5, 1.5, 3.2 },
    { PLUMB_PURPOSE_CINEMA, PLUMB_CHECK_PEOPLE_OFF_AXIS, 2.5, 1.5, 3.2 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Sample s;
      begin (&s);
      s.job.purpose = rows[i].purpose;
      s.screen[0].width_m = rows[i].width;
      s.screen[0].height_m = rows[i].width * 9.0 / 16.0;
      s.place[0].off_m = 1.5 * rows[i].width;
      add_seat (&s, rows[i].aside, rows[i].back, 0.0, 1.2);
      PlumbEvaluation *e = sample_evaluate (&s);
      g_assert_cmpint (need (e, (PlumbCheck) rows[i].check)->verdict, ==, PLUMB_FAILS);
      apply_seat_cure (&s, need (e, (PlumbCheck) rows[i].check));
      plumb_evaluation_free (e);
      e = sample_evaluate (&s);
      const PlumbFinding *f = need (e, (PlumbCheck) rows[i].check);
      double limit = f->sense == PLUMB_LIMIT_AT_LEAST ? f->limit_least : f->limit_most;
      g_assert_cmpint (f->verdict, !=, PLUMB_FAILS);
      g_assert_cmpfloat (fabs (f->figure - limit), <, 0.01 * limit);
      plumb_evaluation_free (e);
    }
}

/* AVIXA V202.01:2016, analytical decision making: 1500 mm with 1080 rows up to
 * 4775 mm (printed); basic: 3 % of 1500 mm up to 9000 mm. */
static void
test_decision_making (void)
{
  Sample s;
  begin (&s);
  s.job.purpose = PLUMB_PURPOSE_DETAIL;
  s.screen[0].height_m = 1.5;
  s.screen[0].width_m = 8.0 / 3.0;
  s.place[0].off_m = 4.0;
  add_seat (&s, 0.0, 4.775, 0.0, 0.9 + 0.75);
  PlumbEvaluation *e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_PIXELS)->figure, need (e, PLUMB_CHECK_PEOPLE_PIXELS)->limit_most, 0.02);
  plumb_evaluation_free (e);

  s.job.purpose = PLUMB_PURPOSE_READING;
  s.seat[0].y_m = WALL_Y - 9.0;
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_TEXT)->figure, need (e, PLUMB_CHECK_PEOPLE_TEXT)->limit_most, 1e-9);
  NEAR (e->seats[0].text_height_m, 0.045, 1e-9);
  plumb_evaluation_free (e);
}

/* A surface with gain: its half-gain angle is the limit, off its data sheet. */
static void
test_half_gain (void)
{
  Sample s;
  begin (&s);
  s.screen[0].gain_ratio = 1.5;
  s.screen[0].half_gain_rad = 30.0 * DEG;
  add_seat (&s, 2.0, 3.0, 0.0, 1.8);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = find_variant (e, PLUMB_CHECK_PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_GAIN);
  g_assert_nonnull (f);
  NEAR (f->figure, atan2 (2.0, 3.0), 1e-9);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->basis, ==, PLUMB_BASIS_DATA_SHEET);
  NEAR (f->cure_amount, 2.0 / tan (30.0 * DEG) - 3.0, 1e-6);
  plumb_evaluation_free (e);
}

/* ---- lines of sight ---------------------------------------------------------------- */

/* The worked room, every row: floors that give C = 0.12 m to each. */
static void
test_worked_room (void)
{
  static const double floors[6] = { 0.000000, 0.240000, 0.506667, 0.795152, 1.102098, 1.425044 };
  Sample s;
  begin (&s);
  for (int i = 0; i < 6; i++)
    add_seat (&s, 0.0, 3.5 + i, floors[i], 1.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpuint (e->seats[0].c_over, ==, PLUMB_NO_INDEX);
  for (uint32_t i = 1; i < 6; i++)
    {
      g_assert_cmpuint (e->seats[i].c_over, ==, i - 1);
      NEAR (e->seats[i].c_value_m, 0.12, 2e-6);
    }
  plumb_evaluation_free (e);
}

/* The same room with equal risers (mm, printed): the last row is the worst.
 * More rise as advised, put into the job, gives 0.12 m to the worst row. */
static void
test_equal_risers (void)
{
  static const double c_mm[3][6] = { { 120, 26.7, 21.8, 18.5, 16.0, 14.1 },
                                     { 180, 73.3, 60.0, 50.8, 44.0, 38.8 },
                                     { 200, 88.9, 72.7, 61.5, 53.3, 47.1 } };

  for (int k = 0; k < 3; k++)
    {
      Sample s;
      begin (&s);
      s.ceiling[0].height_m = 6.0;
      s.place[0].drop_m = 3.3;
      PlumbRow *row = add_rows (&s, 1, 6, 3.5, 1.0);
      row->riser_m = c_mm[k][0] / 1000.0;
      PlumbEvaluation *e = sample_evaluate (&s);
      for (int i = 1; i < 6; i++)
        {
          NEAR (e->seats[i].c_value_m * 1000.0, c_mm[k][i], 0.05);
          /* The finding names the last row; the others fall short of 0.12 m too. */
          g_assert_true (e->seats[i].fails);
        }
      const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_C_VALUE);
      g_assert_cmpuint (f->subject.sub, ==, 5);
      g_assert_cmpfloat (f->number[4], ==, 5.0);
      g_assert_cmpint (f->cure, ==, PLUMB_CURE_RISER);
      /* The formula's rise for the last row: R + 0.12 over 7.5 m, less R. */
      double over = 0.3 + 4.0 * row->riser_m;
      NEAR (f->number[2], (over + 0.12) * 8.5 / 7.5 - over, 1e-9);
      row->riser_m += f->cure_amount;
      plumb_evaluation_free (e);
      e = sample_evaluate (&s);
      f = need (e, PLUMB_CHECK_PEOPLE_C_VALUE);
      g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
      g_assert_cmpfloat (f->figure - f->limit_least, <, 0.01 * f->limit_least);
      plumb_evaluation_free (e);
    }
}

/* Two seats on a flat floor (printed: edge 0.40 m over the eye, 3 m and 0.9 m:
 * 92.308 mm); the seat behind is raised. */
static void
test_raise_seat (void)
{
  Sample s;
  begin (&s);
  s.screen[0].bottom_m = 1.2;
  s.screen[0].height_m = 1.4;
  add_seat (&s, 0.0, 3.0, 0.0, 0.8);
  PlumbSeat *rear = add_seat (&s, 0.0, 3.9, 0.0, 0.8);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_C_VALUE);
  double edge = 1.2 + (1.4 - 1.4) / 2.0;
  NEAR (f->figure, (edge - 0.8) * 0.9 / 3.9, 1e-6);
  NEAR (f->figure, 0.092308, 1e-6);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SEAT_HIGHER);
  rear->floor_z_m += f->cure_amount;
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  NEAR (need (e, PLUMB_CHECK_PEOPLE_C_VALUE)->figure, 0.12, 1e-9);
  plumb_evaluation_free (e);
}

/* Two straight rows: half a pitch of stagger looks between the heads, and what
 * the finding offers does it. */
static void
test_stagger (void)
{
  Sample s;
  begin (&s);
  PlumbRow *row = add_rows (&s, 2, 2, 6.0, 0.9);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_C_VALUE);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpfloat (f->number[3], ==, row->pitch_m / 2.0);
  row->stagger_m = f->number[3];
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_PEOPLE_C_VALUE)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

/* ---- hidden -------------------------------------------------------------------------- */

static double
hidden_by_one (const Sample *from, uint32_t eye, uint32_t head)
{
  Sample s = *from;
  s.seat[0] = from->seat[eye];
  s.seat[1] = from->seat[head];
  s.n_seat = 2;
  PlumbEvaluation *e = sample_evaluate (&s);
  double share = e->seats[0].hidden_share;
  plumb_evaluation_free (e);
  return share;
}

/* Three rows of three on a flat floor. Without one of them exactly those see
 * more from whose eyes it alone stood before the picture. */
static void
test_take_one_away (void)
{
  Sample s;
  begin (&s);
  s.screen[0].bottom_m = 0.6;
  for (int r = 0; r < 3; r++)
    for (int k = -1; k <= 1; k++)
      add_seat (&s, 0.7 * k, 3.0 + r, 0.0, 1.2);
  PlumbEvaluation *all = sample_evaluate (&s);
  guint changed = 0;
  for (uint32_t gone = 0; gone < 9; gone++)
    {
      Sample without = s;
      for (uint32_t i = gone; i < 8; i++)
        without.seat[i] = s.seat[i + 1];
      without.n_seat = 8;
      PlumbEvaluation *e = sample_evaluate (&without);
      for (uint32_t i = 0; i < 8; i++)
        {
          uint32_t same = i < gone ? i : i + 1;
          double before = all->seats[same].hidden_share, after = e->seats[i].hidden_share;
          double alone = hidden_by_one (&s, same, gone);
          g_assert_cmpfloat (after, <=, before + 1e-12);
          g_assert_cmpfloat (before - after, <=, alone + 1e-9);
          if (alone <= 0.0 || s.seat[gone].y_m <= s.seat[same].y_m)
            NEAR (before, after, 1e-12);
          changed += before > after + 1e-12;
        }
      plumb_evaluation_free (e);
    }
  /* Each of the two rear rows has somebody in front. */
  g_assert_cmpuint (changed, >=, 6);
  g_assert_cmpfloat (all->seats[7].hidden_share, >, 0.0);
  g_assert_cmpint (all->seats[7].hidden_by.kind, ==, PLUMB_WHO_SEAT);
  plumb_evaluation_free (all);
}

/* A plate halfway between eye and picture hides four times its own area: by
 * similar triangles. Half of it over the picture's edge hides half as much. */
static void
test_plate (void)
{
  Sample s;
  begin (&s);
  add_seat (&s, 0.0, 4.0, 0.0, 1.8);
  PlumbBlocker *plate = sample_add_box (&s, "plate", CENTRE_X, WALL_Y - 2.0, 1.7, 0.4, 1e-3, 0.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  double whole = 0.4 * 0.2 * 4.0 / (3.2 * 1.8);
  NEAR (e->seats[0].hidden_share, whole, 2e-3 * whole);
  g_assert_cmpint (e->seats[0].hidden_by.kind, ==, PLUMB_WHO_BLOCKER);
  NEAR (e->seats[0].hidden_by_share, e->seats[0].hidden_share, 1e-12);
  plumb_evaluation_free (e);
  plate->x_m += 0.8;
  e = sample_evaluate (&s);
  NEAR (e->seats[0].hidden_share, whole / 2.0, 2e-3 * whole);
  plumb_evaluation_free (e);

  /* A second one before it hides nothing more: the union counts once. */
  plate->x_m -= 0.8;
  sample_add_box (&s, "before", CENTRE_X, WALL_Y - 1.0, 1.75, 0.2, 1e-3, 0.1);
  e = sample_evaluate (&s);
  NEAR (e->seats[0].hidden_share, whole, 2e-3 * whole);
  plumb_evaluation_free (e);
}

/* A door leaf that hides only when open: the finding names the state. */
static void
test_mover_hides (void)
{
  Sample s;
  begin (&s);
  add_seat (&s, 0.0, 4.0, 0.0, 1.8);
  PlumbBlocker *leaf = sample_add_box (&s, "leaf", 0.5, WALL_Y - 2.0, 0.0, 0.8, 0.04, 2.5);
  leaf->movable = true;
  plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &s.blocker_state[0]);
  plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &s.blocker_state[1]);
  SET_ID (s.blocker_state[0].name, "ajar");
  SET_ID (s.blocker_state[1].name, "open");
  s.blocker_state[1].move_x_m = CENTRE_X - 0.5;
  s.n_blocker_state = 2;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_PEOPLE_HIDDEN);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpfloat (f->number[2], ==, 2.0);
  g_assert_cmpuint (e->seats[0].hidden_state, ==, 1);
  s.blocker_state[1].move_x_m = 0.0;
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_PEOPLE_HIDDEN)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

/* ---- seats without room ------------------------------------------------------------------ */

static void
test_bad_seats (void)
{
  Sample s;
  begin (&s);
  add_seat (&s, 0.0, 4.0, 0.0, 1.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_PEOPLE_SEAT)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
  add_seat (&s, 0.05, 4.05, 0.0, 1.2);  /* the same place */
  add_seat (&s, 1.0, 0.03, 0.0, 1.2);   /* in the picture */
  add_seat (&s, 0.0, -1.0, 0.0, 1.2);   /* behind it */
  add_seat (&s, 1.0, 4.0, -2.0, 1.2);   /* eyes below the floor */
  add_seat (&s, -3.05, 4.0, 0.0, 1.2);  /* half in the wall */
  add_seat (&s, 2.0, 5.0, 0.0, 1.2);    /* in a cupboard */
  sample_add_box (&s, "cupboard", CENTRE_X + 2.0, WALL_Y - 5.0, 0.0, 0.6, 0.6, 2.0);
  e = sample_evaluate (&s);
  static const struct {
    int variant;
    uint32_t seat;
    double count;
  } wanted[] = { { PLUMB_V_SEAT_SAME_PLACE, 1, 1 }, { PLUMB_V_SEAT_BEHIND_SCREEN, 2, 2 },
                 { PLUMB_V_SEAT_BELOW_FLOOR, 4, 1 }, { PLUMB_V_SEAT_IN_WALL, 5, 1 },
                 { PLUMB_V_SEAT_IN_SOLID, 6, 1 } };
  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      const PlumbFinding *f = find_variant (e, PLUMB_CHECK_PEOPLE_SEAT, wanted[i].variant);
      g_assert_nonnull (f);
      g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
      g_assert_cmpuint (f->subject.sub, ==, wanted[i].seat);
      g_assert_cmpfloat (f->number[4], ==, wanted[i].count);
    }
  g_assert_null (find_variant (e, PLUMB_CHECK_PEOPLE_SEAT, PLUMB_V_SEAT_ROOM));
  for (guint i = 0; i < e->n_seats; i++)
    g_assert_true (isfinite (e->seats[i].hidden_share) && isfinite (e->seats[i].look_up_top_rad));
  plumb_evaluation_free (e);
}

/* A row of ten thousand runs out of the room: said once, with how many. */
static void
test_long_row (void)
{
  Sample s;
  begin (&s);
  PlumbRow *row = add_rows (&s, 5, 1, 4.0, 1.0);
  row->count = 10000;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = find_variant (e, PLUMB_CHECK_PEOPLE_SEAT, PLUMB_V_SEAT_IN_WALL);
  g_assert_cmpuint (e->n_seats, ==, 10000);
  g_assert_nonnull (f);
  g_assert_cmpfloat (f->number[4], >, 9900.0);
  g_assert_cmpfloat (f->number[5], ==, 10000.0);
  g_assert_cmpuint (e->n_findings, <, 60);
  plumb_evaluation_free (e);
}

/* Survey, recline and two aisles, as the scene resolves them. */
static void
test_resolved_seats (void)
{
  Sample s;
  begin (&s);
  add_seat (&s, 0.0, 4.0, 0.1, 1.3)->eye_from = PLUMB_EYE_FROM_MEN_95;
  PlumbRow *row = add_rows (&s, 6, 1, 5.0, 1.0);
  row->aisle_after = 2;
  row->aisle_2_after = 4;
  row->aisle_m = 1.0;
  row->eye_from = PLUMB_EYE_FROM_MEN_50;
  row->kind = PLUMB_SEAT_KIND_LOUNGER;
  row->recline_rad = 60.0 * DEG;
  PlumbScene *scene = sample_scene (&s);
  const PlumbResolved *r = plumb_scene_resolved (scene);
  NEAR (r->seats[0].eye_m.z, 0.1 + 1.310, 1e-9);
  NEAR (r->seats[0].head_above_eye_m, 0.129, 1e-9);
  NEAR (r->seats[1].eye_m.z, 0.4 + 0.402, 1e-9);
  static const double along[6] = { 0.0, 0.55, 2.1, 2.65, 4.2, 4.75 };
  for (int i = 0; i < 6; i++)
    NEAR (r->seats[1 + i].eye_m.x - r->seats[1].eye_m.x, along[i], 1e-9);
  plumb_scene_unref (scene);
}

/* ---- shadow -------------------------------------------------------------------------------- */

static const PlumbFinding *
shadow_of (const PlumbEvaluation *e, PlumbRecordKind kind)
{
  for (guint i = 0; i < e->n_findings; i++)
    if (e->findings[i].check == PLUMB_CHECK_PEOPLE_SHADOW && e->findings[i].subject.kind == kind)
      return &e->findings[i];
  return NULL;
}

static void
apply_machine_cure (Sample *s, const PlumbFinding *f)
{
  if (f->cure == PLUMB_CURE_SHORTER_DROP)
    s->place[0].drop_m -= f->cure_amount;
  else
    {
      g_assert_cmpint (f->cure, ==, PLUMB_CURE_LONGER_DROP);
      s->place[0].drop_m += f->cure_amount;
    }
}

/* A plate in the beam: similar triangles from the lens, then the least way up
 * or down, put into the job. */
static void
test_shadow_plate (void)
{
  Sample s;
  begin (&s);
  sample_add_box (&s, "plate", CENTRE_X, WALL_Y - 2.0, 1.9, 0.3, 1e-3, 0.2);
  PlumbEvaluation *e = sample_evaluate (&s);
  double throw_m = WALL_Y - e->beam.lens_m.y, k = throw_m / (throw_m - 2.0);
  double share = 0.3 * 0.2 * k * k / (3.2 * 1.8);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_BLOCKER);
  g_assert_nonnull (f);
  NEAR (f->figure, share, 5e-3 * share);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_shadow_share), share, 5e-3 * share);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpfloat (f->number[0], ==, 0.0);
  plumb_evaluation_free (e);
}

/* A wire of 2 mm near the lens: the lens, 40 mm across, sees round it. Its own
 * shadow is 2 mm · D/a wide, the half-shadow 40 mm · b/a. */
static void
test_shadow_dims (void)
{
  Sample s;
  begin (&s);
  PlumbBlocker *wire = sample_add_box (&s, "wire", CENTRE_X, WALL_Y - 3.0, 2.2, 4.0, 2e-3, 2e-3);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_BLOCKER);
  g_assert_nonnull (f);
  g_assert_cmpfloat (f->number[0], ==, 1.0);
  g_assert_true (f->assumed);
  plumb_evaluation_free (e);
  /* On the face itself it has no half-shadow. */
  wire->y_m = WALL_Y - 0.01;
  e = sample_evaluate (&s);
  g_assert_cmpfloat (shadow_of (e, PLUMB_RECORD_BLOCKER)->number[0], ==, 0.0);
  plumb_evaluation_free (e);
}

/* A standing person before the picture; the machine's way up frees it. */
static void
test_shadow_person (void)
{
  Sample s;
  begin (&s);
  s.screen[0].bottom_m = 1.1;
  s.ceiling[0].height_m = 5.0;
  s.place[0].drop_m = 2.2;
  PlumbPerson *person = add_person (&s, PLUMB_POSTURE_STANDING, 0.0, 1.5);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_PERSON);
  g_assert_nonnull (f);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_SHORTER_DROP);
  double way = f->cure_amount;
  apply_machine_cure (&s, f);
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  f = shadow_of (e, PLUMB_RECORD_PERSON);
  g_assert_cmpint (f->verdict, ==, PLUMB_HOLDS);
  g_assert_cmpfloat (f->figure, <, 1e-9);
  plumb_evaluation_free (e);
  /* And no less does. */
  s.place[0].drop_m += 0.01 * way;
  e = sample_evaluate (&s);
  g_assert_cmpint (shadow_of (e, PLUMB_RECORD_PERSON)->verdict, ==, PLUMB_FAILS);
  plumb_evaluation_free (e);
  /* Behind the lens nobody shadows anything. */
  person->y_m = 1.0;
  e = sample_evaluate (&s);
  g_assert_cmpint (shadow_of (e, PLUMB_RECORD_PERSON)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

/* Somebody crosses before the picture: as bad as standing at the worst place,
 * the path as a whole worse, and the cure serves all of it. */
static void
test_shadow_walker (void)
{
  Sample s;
  begin (&s);
  s.screen[0].bottom_m = 1.1;
  s.ceiling[0].height_m = 5.0;
  s.place[0].drop_m = 2.2;
  PlumbPerson *person = add_person (&s, PLUMB_POSTURE_WALKING, -2.8, 1.8);
  person->end_x_m = CENTRE_X + 0.4;
  person->end_y_m = WALL_Y - 1.2;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_PERSON);
  g_assert_cmpint (f->variant, ==, PLUMB_V_SHADOW_WALKING);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpfloat (f->number[2], >, f->figure);
  double share = f->figure, worst_x = f->number[3], worst_y = f->number[4];
  apply_machine_cure (&s, f);
  plumb_evaluation_free (e);
  e = sample_evaluate (&s);
  g_assert_cmpint (shadow_of (e, PLUMB_RECORD_PERSON)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
  /* Standing there, turned the same way, casts the same shadow; elsewhere on the path, less. */
  double from_x = person->x_m, from_y = person->y_m;
  s.place[0].drop_m = 2.2;
  person->facing_rad = atan2 (person->end_y_m - from_y, person->end_x_m - from_x);
  person->posture = PLUMB_POSTURE_STANDING;
  for (int k = -1; k <= 23; k++)
    {
      person->x_m = k < 0 ? worst_x : from_x + k / 23.0 * (person->end_x_m - from_x);
      person->y_m = k < 0 ? worst_y : from_y + k / 23.0 * (person->end_y_m - from_y);
      e = sample_evaluate (&s);
      f = shadow_of (e, PLUMB_RECORD_PERSON);
      if (k < 0)
        NEAR (f->figure, share, 1e-6);
      else
        g_assert_cmpfloat (f->figure, <=, share + 1e-6);
      plumb_evaluation_free (e);
    }
}

/* A mover that shadows in one state: the finding carries it. */
static void
test_shadow_mover (void)
{
  Sample s;
  begin (&s);
  PlumbBlocker *leaf = sample_add_box (&s, "leaf", 0.4, WALL_Y - 2.0, 0.0, 0.6, 0.04, 2.0);
  leaf->movable = true;
  plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &s.blocker_state[0]);
  SET_ID (s.blocker_state[0].name, "open");
  s.blocker_state[0].move_x_m = CENTRE_X - 0.4;
  s.n_blocker_state = 1;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_BLOCKER);
  g_assert_nonnull (f);
  g_assert_cmpint (f->variant, ==, PLUMB_V_SHADOW_MOVER);
  g_assert_cmpuint (f->subject.sub, ==, 0);
  NEAR (sample_figure (e, PLUMB_FIGURE_picture_shadow_share), 0.0, 1e-12);
  plumb_evaluation_free (e);
  s.n_blocker = s.n_blocker_state = 0;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_PEOPLE_SHADOW)->variant, ==, PLUMB_V_SHADOW_NOBODY);
  plumb_evaluation_free (e);
}

/* Heads in the beam: one finding for all, the worst named. */
static void
test_shadow_seats (void)
{
  Sample s;
  begin (&s);
  s.screen[0].bottom_m = 0.6;
  add_rows (&s, 4, 2, 1.2, 0.9);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = shadow_of (e, PLUMB_RECORD_ROW);
  g_assert_nonnull (f);
  g_assert_cmpint (f->variant, ==, PLUMB_V_SHADOW_SEATS);
  g_assert_cmpfloat (f->number[4], >=, 4.0);
  g_assert_cmpfloat (f->number[2], <, f->figure);
  g_assert_cmpfloat (f->figure, <=, sample_figure (e, PLUMB_FIGURE_picture_shadow_share) + 1e-12);
  plumb_evaluation_free (e);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/check-people/look-up", test_look_up);
  g_test_add_func ("/check-people/look-up-cures", test_look_up_cures);
  g_test_add_func ("/check-people/seat-cures", test_seat_cures);
  g_test_add_func ("/check-people/decision-making", test_decision_making);
  g_test_add_func ("/check-people/half-gain", test_half_gain);
  g_test_add_func ("/check-people/worked-room", test_worked_room);
  g_test_add_func ("/check-people/equal-risers", test_equal_risers);
  g_test_add_func ("/check-people/raise-seat", test_raise_seat);
  g_test_add_func ("/check-people/stagger", test_stagger);
  g_test_add_func ("/check-people/take-one-away", test_take_one_away);
  g_test_add_func ("/check-people/plate", test_plate);
  g_test_add_func ("/check-people/mover-hides", test_mover_hides);
  g_test_add_func ("/check-people/bad-seats", test_bad_seats);
  g_test_add_func ("/check-people/long-row", test_long_row);
  g_test_add_func ("/check-people/resolved-seats", test_resolved_seats);
  g_test_add_func ("/check-people/shadow-plate", test_shadow_plate);
  g_test_add_func ("/check-people/shadow-dims", test_shadow_dims);
  g_test_add_func ("/check-people/shadow-person", test_shadow_person);
  g_test_add_func ("/check-people/shadow-walker", test_shadow_walker);
  g_test_add_func ("/check-people/shadow-mover", test_shadow_mover);
  g_test_add_func ("/check-people/shadow-seats", test_shadow_seats);
  return g_test_run ();
}
