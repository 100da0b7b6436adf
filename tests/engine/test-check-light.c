/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The light checks in the plain room of sample-job.h, 6.2 m × 9.4 m × 3 m with
 * a 3.2 m × 1.8 m picture: figures worked by hand from the printed formulas,
 * and every cure put back into the job.
 */
#include <math.h>

#include "plumbeam/light.h"
#include "plumbeam/variants.h"
#include "sample-job.h"

#define assert_near(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)
#define AREA_M2 (3.2 * 1.8)

/* A dark room, a machine of 2000 lm as it stands, one seat on the centre line. */
static void
dark_room (Sample *s)
{
  sample_init (s);
  s->space[0].reflectance_share = s->space[0].floor_reflectance_share = 0.0;
  s->machine[0].flux_lm = 2000.0;
  s->machine[0].rated_share = s->machine[0].age_share = s->machine[0].dirt_share = s->machine[0].mode_share = 1.0;
  s->machine[0].contrast_ratio = 400.0;
  s->screen[0].half_gain_rad = PLUMB_PI / 2.0; /* the perfect diffuser */
  plumb_record_default (PLUMB_RECORD_SEAT, &s->seat[0]);
  SET_ID (s->seat[0].id, "middle");
  s->seat[0].x_m = 3.1;
  s->seat[0].y_m = 5.0;
  s->n_seat = 1;
}

static void
add_state (Sample *s, const char *id, double lux, double wanted)
{
  PlumbLightState *state = &s->light_state[s->n_light_state++];

  plumb_record_default (PLUMB_RECORD_LIGHT_STATE, state);
  SET_ID (state->id, id);
  state->screen_lx = lux;
  state->wanted_contrast_ratio = wanted;
  TYPE (light_state, state, screen_lx);
}

static const PlumbFinding *
need (const PlumbEvaluation *e, PlumbCheck check)
{
  const PlumbFinding *f = sample_finding (e, check);

  g_assert_nonnull (f);
  return f;
}

/* Square-on, all of the panel in the picture: E = Φ/A, L = E/π. */
static void
test_square_on (void)
{
  Sample s;
  dark_room (&s);
  s.machine[0].panel_w_px = 1600;
  s.machine[0].panel_h_px = 900;
  PlumbEvaluation *e = sample_evaluate (&s);

  g_assert_true (e->has_picture);
  double lx = 2000.0 * sample_figure (e, PLUMB_FIGURE_panel_share_used) / AREA_M2;
  assert_near (sample_figure (e, PLUMB_FIGURE_illuminance_centre_lx), lx, 1e-6);
  assert_near (e->seats[0].luminance_cd_m2[0], lx / PLUMB_PI, 1e-6);
  assert_near (e->seats[0].luminance_cd_m2[3], lx / PLUMB_PI, 1e-6);
  assert_near (need (e, PLUMB_CHECK_LIGHT_UNIFORMITY)->figure, 1.0, 1e-9);
  assert_near (need (e, PLUMB_CHECK_LIGHT_LUMINANCE)->number[0], lx / PLUMB_PI / 3.426259, 1e-4);
  plumb_evaluation_free (e);
}

/* Unused pixels change no lit point: a wider panel that lights more wall at
 * the same zoom has more flux beside the picture and the same lux per lumen
 * of panel area. */
static void
test_unused_pixels (void)
{
  Sample s;
  dark_room (&s);
  s.arrangement[0].zoom = PLUMB_SOLVE_TYPED;
  s.arrangement[0].throw_ratio = 1.2;
  PlumbEvaluation *wide = sample_evaluate (&s);
  s.arrangement[0].picture_aspect_ratio = 1.2;
  PlumbEvaluation *narrow = sample_evaluate (&s);

  assert_near (sample_figure (wide, PLUMB_FIGURE_illuminance_centre_lx),
               sample_figure (narrow, PLUMB_FIGURE_illuminance_centre_lx), 1e-9);
  g_assert_cmpfloat (sample_figure (narrow, PLUMB_FIGURE_panel_share_used), <,
                     sample_figure (wide, PLUMB_FIGURE_panel_share_used));
  plumb_evaluation_free (wide);
  plumb_evaluation_free (narrow);
}

/* Contrast by hand, (E + a) / (E / C₀ + a) in a room that throws nothing back. */
static void
test_contrast_by_hand (void)
{
  Sample s;
  dark_room (&s);
  add_state (&s, "film", 5.0, 0.0);
  PlumbEvaluation *e = sample_evaluate (&s);
  double white = sample_figure (e, PLUMB_FIGURE_illuminance_centre_lx);

  g_assert_cmpuint (e->n_states, ==, 1);
  g_assert_true (e->states[0].known);
  assert_near (e->states[0].contrast_ratio, (white + 5.0) / (white / 400.0 + 5.0), 1e-9);
  assert_near (e->states[0].white_share / e->states[0].black_share, e->states[0].contrast_ratio, 1e-9);
  g_assert_null (sample_finding (e, PLUMB_CHECK_LIGHT_CONTRAST)); /* nothing is wanted */
  plumb_evaluation_free (e);
}

/* Each solved cure, put into the job, holds with a rest under 1 % of the limit. */
static void
test_contrast_cures (void)
{
  Sample s;
  dark_room (&s);
  s.space[0].reflectance_share = 0.3;
  add_state (&s, "film", 30.0, 40.0);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_LIGHT_CONTRAST);
  g_assert_cmpint (f->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (f->cure, ==, PLUMB_CURE_DARKER_ROOM);
  double allowed = e->states[0].ambient_allowed_lx, flux = e->states[0].flux_needed_lm;
  assert_near (30.0 - f->cure_amount, allowed, 1e-9);
  plumb_evaluation_free (e);

  s.light_state[0].screen_lx = allowed;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->verdict, !=, PLUMB_FAILS);
  assert_near (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->figure, 40.0, 0.01 * 40.0);
  plumb_evaluation_free (e);

  s.light_state[0].screen_lx = 30.0;
  s.machine[0].flux_lm = flux;
  e = sample_evaluate (&s);
  assert_near (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->figure, 40.0, 0.01 * 40.0);
  plumb_evaluation_free (e);
}

static void
test_states_by_lamps (void)
{
  Sample s;
  dark_room (&s);
  add_state (&s, "lesson", 0.0, 15.0);
  s.light_state[0].head.typed = 0;
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_LIGHT_CONTRAST);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_kind, ==, PLUMB_RECORD_LIGHT_STATE);
  plumb_evaluation_free (e);

  /* Half of a lamp that was read at 60 lx, and a quarter of a window read by the hour. */
  for (int k = 0; k < 2; k++)
    {
      plumb_record_default (PLUMB_RECORD_LAMP, &s.lamp[k]);
      plumb_record_default (PLUMB_RECORD_LIGHT_LEVEL, &s.light_level[k]);
      SET_ID (s.lamp[k].id, k == 0 ? "pendant" : "window");
      SET_ID (s.light_level[k].lamp, k == 0 ? "pendant" : "window");
      s.light_level[k].level_share = k == 0 ? 0.5 : 0.25;
    }
  s.n_lamp = s.n_light_level = 2;
  s.lamp[0].screen_lx = 60.0;
  s.lamp[1].kind = PLUMB_LAMP_KIND_WINDOW;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_LIGHT_CONTRAST);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_kind, ==, PLUMB_RECORD_LAMP);
  g_assert_cmpuint (f->missing_index, ==, 1);
  plumb_evaluation_free (e);

  const double readings[3][2] = { { 9.0, 100.0 }, { 12.0, 400.0 }, { 16.0, 200.0 } };
  for (int k = 0; k < 3; k++)
    {
      plumb_record_default (PLUMB_RECORD_LAMP_HOUR, &s.lamp_hour[k]);
      s.lamp_hour[k].head.owner = 1;
      s.lamp_hour[k].time_h = readings[k][0];
      s.lamp_hour[k].screen_lx = readings[k][1];
    }
  s.n_lamp_hour = 3;
  const double wanted[5][2] = { { -1.0, 400.0 }, { 10.5, 250.0 }, { 14.0, 300.0 }, { 7.0, 100.0 }, { 20.0, 200.0 } };
  for (int k = 0; k < 5; k++)
    {
      s.light_state[0].time_h = wanted[k][0];
      e = sample_evaluate (&s);
      assert_near (e->states[0].ambient_lx, 0.5 * 60.0 + 0.25 * wanted[k][1], 1e-9);
      plumb_evaluation_free (e);
    }
}

/* Volume 6.2 × 9.4 × 3 by the faces, seen through the room formula: 30 dB at
 * 1 m, T 0.5 s (Kuttruff; from memory). */
static void
test_noise (void)
{
  Sample s;
  dark_room (&s);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_LIGHT_NOISE);
  double r = f->number[0];
  g_assert_cmpint (f->variant, ==, PLUMB_V_NOISE_FREE);
  assert_near (f->figure, 30.0 - 20.0 * log10 (r), 1e-9);
  plumb_evaluation_free (e);

  s.space[0].reverberation_s = 0.5;
  e = sample_evaluate (&s);
  f = need (e, PLUMB_CHECK_LIGHT_NOISE);
  g_assert_cmpint (f->variant, ==, PLUMB_V_NOISE_ROOM);
  double absorption = 0.161 * 6.2 * 9.4 * 3.0 / 0.5;
  assert_near (f->figure,
               30.0 + 10.0 * log10 (2.0 * PLUMB_PI) + 10.0 * log10 (2.0 / (4.0 * PLUMB_PI * r * r) + 4.0 / absorption),
               1e-6);
  plumb_evaluation_free (e);
}

static void
test_gain_and_hazard (void)
{
  Sample s;
  dark_room (&s);
  s.screen[0].gain_ratio = 3.0; /* table: with gain 3.0 the half-gain angle is at most 32.77° */
  s.screen[0].half_gain_rad = 40.0 * PLUMB_PI / 180.0;
  TYPE (screen, &s.screen[0], half_gain_rad);
  s.machine[0].flux_lm = 6000.0;
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_GAIN)->verdict, ==, PLUMB_FAILS);
  /* A bright machine without a hazard distance is asked for one. */
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_HAZARD)->verdict, ==, PLUMB_UNKNOWN);
  plumb_evaluation_free (e);

  s.screen[0].half_gain_rad = 32.0 * PLUMB_PI / 180.0;
  s.machine[0].hazard_distance_m = 1.5;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_GAIN)->verdict, ==, PLUMB_HOLDS);
  const PlumbFinding *f = need (e, PLUMB_CHECK_LIGHT_HAZARD);
  /* The steepest of the corner and edge rays, 1.5 m from the lens. */
  double lowest = INFINITY;
  for (int k = 0; k <= 100; k++)
    {
      PlumbVec3 ray = plumb_vec3_unit (plumb_beam_ray (&e->beam, plumb_vec2 (k / 100.0 - 0.5, -0.5)));
      lowest = fmin (lowest, e->beam.lens_m.z + 1.5 * ray.z);
    }
  assert_near (f->figure, lowest, 1e-4);
  plumb_evaluation_free (e);
}

/* A state's own light mode: film at 40 % of the light in which the figure was
 * measured, lesson in the machine's own 80 %. By hand, (E + a) / (E / C₀ + a)
 * with E in that share; what each needs is asked of the printed figure. */
static void
test_modes (void)
{
  Sample s;
  dark_room (&s);
  s.machine[0].mode_share = 0.8;
  add_state (&s, "film", 5.0, 60.0);
  add_state (&s, "lesson", 5.0, 60.0);
  s.light_state[0].mode_share = 0.4;
  PlumbEvaluation *e = sample_evaluate (&s);
  double own = sample_figure (e, PLUMB_FIGURE_illuminance_centre_lx);
  const PlumbStateFigures *film = &e->states[0], *lesson = &e->states[1];

  assert_near (film->mode_share, 0.4, 1e-12);
  assert_near (lesson->mode_share, 0.8, 1e-12);
  assert_near (film->white_lx, own / 2.0, 1e-9);
  assert_near (film->contrast_ratio, (own / 2.0 + 5.0) / (own / 800.0 + 5.0), 1e-9);
  assert_near (lesson->contrast_ratio, (own + 5.0) / (own / 400.0 + 5.0), 1e-9);
  /* Seats, and white in the dark, stay those of the machine's own mode. */
  assert_near (e->seats[0].luminance_cd_m2[0], own / PLUMB_PI, 1e-9);
  assert_near (film->luminance_cd_m2, own / PLUMB_PI / 2.0, 1e-9);
  assert_near (lesson->luminance_cd_m2, own / PLUMB_PI, 1e-9);
  assert_near (lesson->white_share - film->white_share, 0.5, 1e-9);
  assert_near (film->white_share / film->black_share, film->contrast_ratio, 1e-9);
  double ratio;
  PlumbScene *scene = sample_scene (&s);
  g_assert_true (plumb_seat_contrast (scene, e, 0, 0, &ratio));
  assert_near (ratio, film->contrast_ratio, 1e-9);
  plumb_scene_unref (scene);
  double flux = film->flux_needed_lm, lux = film->ambient_allowed_lx;
  g_assert_cmpfloat (flux, >, 2000.0);
  assert_near (flux, 2.0 * lesson->flux_needed_lm, 1e-6 * flux);
  plumb_evaluation_free (e);

  /* Each cure in the job: the state then has what it wants. */
  s.machine[0].flux_lm = flux;
  e = sample_evaluate (&s);
  assert_near (e->states[0].contrast_ratio, 60.0, 0.01 * 60.0);
  plumb_evaluation_free (e);
  s.machine[0].flux_lm = 2000.0;
  s.light_state[0].screen_lx = lux;
  e = sample_evaluate (&s);
  assert_near (e->states[0].contrast_ratio, 60.0, 0.01 * 60.0);
  plumb_evaluation_free (e);

  /* With a room that throws light back, the whole is that of a machine in that mode. */
  s.space[0].reflectance_share = 0.5;
  e = sample_evaluate (&s);
  double in_state = e->states[0].contrast_ratio, bounce = e->states[0].own_lx;
  plumb_evaluation_free (e);
  s.light_state[0].mode_share = 0.0;
  s.machine[0].mode_share = 0.4;
  e = sample_evaluate (&s);
  assert_near (e->states[0].contrast_ratio, in_state, 1e-9);
  assert_near (e->states[0].own_lx, bounce, 1e-9);
  plumb_evaluation_free (e);
}

/* A lamp of no height, on the floor and in the very face, and one in the
 * lens: its light is a number, and the state is known. */
static void
test_lamp_of_no_height (void)
{
  static const double at[][3] = { { 3.1, 5.0, 0.0 }, { 3.1, 9.4, 1.8 }, { 3.1, 9.4, 0.0 }, { 3.1, 9.39, 1.8 } };

  for (guint i = 0; i < G_N_ELEMENTS (at); i++)
    for (int kind = PLUMB_LAMP_KIND_POINT; kind <= PLUMB_LAMP_KIND_DOWN; kind++)
      {
        Sample s;
        dark_room (&s);
        add_state (&s, "film", 0.0, 40.0);
        plumb_record_default (PLUMB_RECORD_LAMP, &s.lamp[0]);
        SET_ID (s.lamp[0].id, "low");
        s.lamp[0].kind = kind;
        s.lamp[0].x_m = at[i][0];
        s.lamp[0].y_m = at[i][1];
        s.lamp[0].z_m = at[i][2];
        s.n_lamp = 1;
        plumb_record_default (PLUMB_RECORD_LIGHT_LEVEL, &s.light_level[0]);
        SET_ID (s.light_level[0].lamp, "low");
        s.n_light_level = 1;
        PlumbEvaluation *e = sample_evaluate (&s);
        g_assert_true (e->states[0].known);
        g_assert_true (isfinite (e->states[0].ambient_lx) && e->states[0].ambient_lx >= 0.0);
        g_assert_true (isfinite (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->figure));
        /* A downlight on the floor lights no upright face. */
        if (kind == PLUMB_LAMP_KIND_DOWN && at[i][2] <= 0.0)
          assert_near (e->states[0].ambient_lx, 0.0, 1e-12);
        plumb_evaluation_free (e);
      }
}

/* Gain that nobody gave an angle to: the usual half-gain angle allows no such
 * gain, and the finding asks for the angle. */
static void
test_gain_without_angle (void)
{
  Sample s;
  dark_room (&s);
  PlumbScreen usual;
  plumb_record_default (PLUMB_RECORD_SCREEN, &usual);
  s.screen[0].half_gain_rad = usual.half_gain_rad;
  s.screen[0].gain_ratio = 2.4;
  TYPE (screen, &s.screen[0], gain_ratio);
  PlumbEvaluation *e = sample_evaluate (&s);
  const PlumbFinding *f = need (e, PLUMB_CHECK_LIGHT_GAIN);
  g_assert_cmpint (f->verdict, ==, PLUMB_UNKNOWN);
  g_assert_cmpint (f->missing_kind, ==, PLUMB_RECORD_SCREEN);
  g_assert_cmpint (f->missing_field, ==, PLUMB_FIELD_screen_half_gain_rad);
  assert_near (f->number[0], usual.half_gain_rad, 1e-12);
  plumb_evaluation_free (e);

  /* A usual matt gain needs none. */
  s.screen[0].gain_ratio = usual.gain_ratio;
  e = sample_evaluate (&s);
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_GAIN)->verdict, ==, PLUMB_HOLDS);
  plumb_evaluation_free (e);
}

/* No state, no seat, hardly a gain: findings or nothing, no crash. */
static void
test_odd (void)
{
  Sample s;
  dark_room (&s);
  s.n_seat = 0;
  s.screen[0].gain_ratio = 0.05;
  s.screen[0].half_gain_rad = PLUMB_PI / 180.0;
  add_state (&s, "odd", 0.0, 10000.0);
  PlumbEvaluation *e = sample_evaluate (&s);
  g_assert_null (sample_finding (e, PLUMB_CHECK_LIGHT_NOISE));
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->verdict, ==, PLUMB_FAILS);
  g_assert_cmpint (need (e, PLUMB_CHECK_LIGHT_CONTRAST)->cure, ==, PLUMB_CURE_NONE);
  g_assert_true (isfinite (e->states[0].contrast_ratio));
  plumb_evaluation_free (e);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/check-light/square-on", test_square_on);
  g_test_add_func ("/check-light/unused-pixels", test_unused_pixels);
  g_test_add_func ("/check-light/contrast-by-hand", test_contrast_by_hand);
  g_test_add_func ("/check-light/contrast-cures", test_contrast_cures);
  g_test_add_func ("/check-light/states-by-lamps", test_states_by_lamps);
  g_test_add_func ("/check-light/noise", test_noise);
  g_test_add_func ("/check-light/gain-and-hazard", test_gain_and_hazard);
  g_test_add_func ("/check-light/modes", test_modes);
  g_test_add_func ("/check-light/lamp-of-no-height", test_lamp_of_no_height);
  g_test_add_func ("/check-light/gain-without-angle", test_gain_without_angle);
  g_test_add_func ("/check-light/odd", test_odd);
  return g_test_run ();
}
