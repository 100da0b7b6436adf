/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "light-private.h"
#include "plumbeam/variants.h"

/* Rectangular bounds of a printed flux and of a lux reading; common practice,
 * no source. */
#define FLUX_BOUND_SHARE 0.10
#define LUX_BOUND_SHARE 0.10
#define NINE_MIDDLE 4
#define ROUNDING 1e-9
/* From here on the beam's height over the floor is asked for; common practice, no source. */
#define BRIGHT_MACHINE_LM 5000.0

static double
spread_of_bound (double share)
{
  return 2.0 * share / sqrt (3.0);
}

/* ---- towards the seats ------------------------------------------------------------ */

static void
fill_seat (PlumbWork *work, const PlumbLight *light, uint32_t i)
{
  PlumbEvaluation *e = work->e;
  PlumbSeatFigures *seat = &e->seats[i];
  PlumbVec3 eye = work->resolved->seats[i].eye_m, normal = e->target.frame.n;
  PlumbVec3 lens = plumb_light_source (e);

  seat->gain_ratio = plumb_gain_towards (&light->surface, normal, light->field_m[NINE_MIDDLE], lens, eye);
  seat->luminance_cd_m2[0] = plumb_luminance_cd_m2 (light->fields.centre_lx, seat->gain_ratio);
  for (int k = 0; k < 4; k++)
    seat->luminance_cd_m2[k + 1] = plumb_luminance_cd_m2 (
        light->corner_lx[k], plumb_gain_towards (&light->surface, normal, light->corner_m[k], lens, eye));

  double distance = plumb_vec3_length (plumb_vec3_sub (eye, e->holes_m));
  seat->noise_db = light->reverberation_s > 0.0 && light->room_volume_m3 > 0.0
                       ? plumb_noise_room_db (work->machine->noise_db, distance, 2.0, light->room_volume_m3,
                                              light->reverberation_s)
                       : plumb_noise_free_db (work->machine->noise_db, distance);
}

/* Least gain (and so the darkest picture); PLUMB_NO_INDEX without seats. */
static uint32_t
darkest_seat (const PlumbEvaluation *e)
{
  uint32_t worst = PLUMB_NO_INDEX;

  for (uint32_t i = 0; i < e->n_seats; i++)
    if (worst == PLUMB_NO_INDEX || e->seats[i].luminance_cd_m2[0] < e->seats[worst].luminance_cd_m2[0])
      worst = i;
  return worst;
}

static PlumbFinding *
add_for_seat (PlumbWork *work, PlumbCheck check, uint32_t i)
{
  const PlumbSeatResolved *seat = &work->resolved->seats[i];
  bool single = seat->row == PLUMB_NO_INDEX;
  PlumbFinding *f = plumb_work_add (work, check, single ? PLUMB_RECORD_SEAT : PLUMB_RECORD_ROW,
                                    single ? seat->seat : seat->row);

  f->subject.sub = i;
  f->assumed = (work->machine->head.typed >> PLUMB_FIELD_machine_flux_lm & 1u) == 0;
  return f;
}

/* One finding tells the worst seat; each seat keeps what it fails. Limits are
 * met within rounding, as findings take them. */
static void
mark_if (bool beyond, PlumbSeatFigures *seat, PlumbCheck check)
{
  if (beyond)
    plumb_seat_fail (seat, check);
}

static void
check_luminance (PlumbWork *work, const PlumbLight *light, uint32_t worst)
{
  int32_t purpose = plumb_scene_job (work->scene, 0)->purpose;
  double figure = work->e->seats[worst].luminance_cd_m2[0];
  bool cinema = purpose == PLUMB_PURPOSE_CINEMA;

  /* In a lit room contrast decides, not luminance. */
  if (purpose != PLUMB_PURPOSE_HOME && !cinema)
    return;
  PlumbFinding *f = add_for_seat (work, PLUMB_CHECK_LIGHT_LUMINANCE, worst);
  double most = plumb_work_limit (work, "light.luminance_most", f);
  double least = plumb_work_limit (work, cinema ? "light.luminance_least_cinema" : "light.luminance_least_home", f);
  plumb_finding_judge (f, figure, figure * spread_of_bound (FLUX_BOUND_SHARE), PLUMB_LIMIT_AT_LEAST, least, 0.0,
                       "cd_m2");
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    mark_if (work->e->seats[i].luminance_cd_m2[0] < least - ROUNDING, &work->e->seats[i], f->check);
  f->number[0] = plumb_foot_lamberts (figure);
  f->number[1] = light->fields.centre_lx;
  f->number[2] = work->e->seats[worst].gain_ratio;
  /* Too much can be turned down, so it is said and does not fail. */
  f->variant = figure > most ? PLUMB_V_LUMINANCE_HIGH : PLUMB_V_LUMINANCE_LOW;
  f->number[3] = most;
  if (f->verdict == PLUMB_FAILS && figure < least && figure > 0.0)
    {
      f->cure = PLUMB_CURE_BRIGHTER;
      f->cure_amount = work->machine->flux_lm * (least / figure - 1.0);
    }
}

/* Evenness towards a seat: illuminance and gain together, or gain alone. */
static double
evenness (const PlumbWork *work, const PlumbLight *light, uint32_t i, bool gain_alone)
{
  PlumbVec3 eye = work->resolved->seats[i].eye_m, normal = work->e->target.frame.n;
  double least = INFINITY, greatest = 0.0, middle = 0.0;

  for (int k = 0; k < PLUMB_LIGHT_FIELDS; k++)
    {
      double value = plumb_gain_towards (&light->surface, normal, light->field_m[k], plumb_light_source (work->e), eye);
      if (!gain_alone)
        value *= light->fields.field_lx[k];
      least = fmin (least, value);
      greatest = fmax (greatest, value);
      if (k == NINE_MIDDLE)
        middle = value;
    }
  double against = gain_alone ? greatest : middle;
  return against > 0.0 ? least / against : 1.0;
}

static void
check_evenness (PlumbWork *work, const PlumbLight *light, bool hot_spot)
{
  const PlumbCheck check = hot_spot ? PLUMB_CHECK_LIGHT_HOT_SPOT : PLUMB_CHECK_LIGHT_UNIFORMITY;
  const char *limit = hot_spot ? "light.hot_spot_least" : "light.uniformity_least";
  PlumbFinding none = { 0 };
  double share = INFINITY, least = plumb_work_limit (work, limit, &none);
  uint32_t worst = 0;

  for (uint32_t i = 0; i < work->e->n_seats; i++)
    {
      double own = evenness (work, light, i, hot_spot);
      mark_if (own < least - ROUNDING, &work->e->seats[i], check);
      if (own < share)
        {
          share = own;
          worst = i;
        }
    }
  PlumbFinding *f = add_for_seat (work, check, worst);
  least = plumb_work_limit (work, limit, f);
  plumb_finding_judge (f, share, 0.0, PLUMB_LIMIT_AT_LEAST, least, 0.0, "share");
}

static void
check_noise (PlumbWork *work, const PlumbLight *light)
{
  static const char *const limits[] = { [PLUMB_PURPOSE_HOME] = "light.noise_most_home",
                                        [PLUMB_PURPOSE_CINEMA] = "light.noise_most_home",
                                        [PLUMB_PURPOSE_READING] = "light.noise_most_class",
                                        [PLUMB_PURPOSE_DETAIL] = "light.noise_most_class" };
  PlumbEvaluation *e = work->e;
  uint32_t worst = 0;

  for (uint32_t i = 1; i < e->n_seats; i++)
    if (e->seats[i].noise_db > e->seats[worst].noise_db)
      worst = i;
  PlumbFinding *f = add_for_seat (work, PLUMB_CHECK_LIGHT_NOISE, worst);
  f->assumed = (work->machine->head.typed >> PLUMB_FIELD_machine_noise_db & 1u) == 0;
  double most = plumb_work_limit (work, limits[plumb_scene_job (work->scene, 0)->purpose], f);
  plumb_finding_judge (f, e->seats[worst].noise_db, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "db");
  for (uint32_t i = 0; i < e->n_seats; i++)
    mark_if (e->seats[i].noise_db > most + ROUNDING, &e->seats[i], f->check);
  f->variant = light->reverberation_s > 0.0 ? PLUMB_V_NOISE_ROOM : PLUMB_V_NOISE_FREE;
  f->number[0] = plumb_vec3_length (plumb_vec3_sub (work->resolved->seats[worst].eye_m, e->holes_m));
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_QUIETER;
      f->cure_amount = e->seats[worst].noise_db - most;
    }
}

/* ---- contrast in a light state ------------------------------------------------------- */

/* Light per lux of white that the room throws back on the screen: the picture
 * is taken half white, as the checkerboard is that contrast is measured with.
 * A flat screen does not light itself: its light meets a wall first. */
static double
own_share (const PlumbLight *light)
{
  double reflected = 0.5
                     * light->mean_reflectance
                     * (light->flux_on_screen_lm * light->returned_share + light->flux_lm - light->flux_on_screen_lm);

  return light->fields.mean_lx > 0.0
             ? plumb_room_bounce_lx (reflected, light->room_area_m2, light->mean_reflectance) / light->fields.mean_lx
             : 0.0;
}

/* (E g + a h + E k h) / (E g / C₀ + a h + E k h) with the room's own share k
 * and the gains g of the picture's light and h of light from all round. */
static double
contrast (const PlumbWork *work, const PlumbLight *light, double white_lx, double ambient_lx, double gain)
{
  return plumb_system_contrast (white_lx, work->machine->contrast_ratio, ambient_lx + white_lx * own_share (light),
                                gain, light->returned_share);
}

static int
contrast_class (double ratio)
{
  /* Least ratios of the classes, ANSI/AVIXA V201.01 (7 and 15 published; 50
   * and 80 from memory). */
  return ratio >= 80.0   ? PLUMB_V_CONTRAST_MOTION
         : ratio >= 50.0 ? PLUMB_V_CONTRAST_ANALYTICAL
         : ratio >= 15.0 ? PLUMB_V_CONTRAST_BASIC
         : ratio >= 7.0  ? PLUMB_V_CONTRAST_PASSIVE
                         : PLUMB_V_CONTRAST_BELOW;
}

/* The three single changes that reach the wanted ratio in the state's mode. */
static void
solve_state (const PlumbWork *work, const PlumbLight *light, double wanted, double gain, PlumbStateFigures *s)
{
  double h = light->returned_share, k = own_share (light), white = s->white_lx;
  double per_lux = gain * (1.0 - wanted / work->machine->contrast_ratio) + h * k * (1.0 - wanted);

  s->ambient_allowed_lx = h > 0.0 ? white * per_lux / (h * (wanted - 1.0)) : 0.0;
  if (!(per_lux > 0.0) || !(white > 0.0))
    return;
  double needed_lx = h * s->ambient_lx * (wanted - 1.0) / per_lux;
  s->flux_needed_lm = work->machine->flux_lm * needed_lx / white;
  s->picture_width_needed_m = needed_lx > 0.0 ? light->picture.width_m * sqrt (white / needed_lx) : 0.0;
}

static void
fill_shares (const PlumbWork *work, const PlumbLight *light, double gain, PlumbStateFigures *s)
{
  double dark = light->fields.mean_lx * gain, white = s->white_lx * gain;
  double rest = (s->ambient_lx + s->own_lx) * light->returned_share;

  s->white_share = dark > 0.0 ? (white + rest) / dark : 1.0;
  s->black_share = dark > 0.0 ? (white / work->machine->contrast_ratio + rest) / dark : 0.0;
}

static void
judge_contrast (PlumbWork *work, const PlumbLight *light, PlumbStateFigures *s, double wanted, PlumbFinding *f)
{
  plumb_finding_judge (f, s->contrast_ratio, s->contrast_spread, PLUMB_LIMIT_AT_LEAST, wanted, 0.0, "ratio");
  f->basis = PLUMB_BASIS_JOB;
  f->variant = (uint8_t) contrast_class (s->contrast_ratio);
  f->number[0] = s->ambient_lx;
  f->number[1] = s->white_lx;
  f->number[2] = s->flux_needed_lm > work->machine->flux_lm ? s->flux_needed_lm : 0.0;
  f->number[3] = fmax (s->ambient_allowed_lx, 0.0);
  f->number[4] = s->picture_width_needed_m < light->picture.width_m ? s->picture_width_needed_m : 0.0;
  f->number[5] = s->own_lx;
  if (f->verdict != PLUMB_FAILS)
    return;
  f->cure = s->ambient_allowed_lx > 0.0 ? PLUMB_CURE_DARKER_ROOM : PLUMB_CURE_NONE;
  f->cure_amount = s->ambient_lx - s->ambient_allowed_lx;
}

/* The machine's light in a state: its own mode, or the state's. Panel, zoom
 * and losses stay, so every figure of the light goes with the mode. */
static void
fill_mode (const PlumbWork *work, const PlumbLight *light, const PlumbLightState *record, uint32_t seat,
           PlumbStateFigures *s)
{
  double own = work->machine->mode_share;

  s->mode_share = record->mode_share > 0.0 ? record->mode_share : own;
  s->white_lx = light->fields.mean_lx * s->mode_share / own;
  s->own_lx = own_share (light) * s->white_lx;
  s->luminance_cd_m2 = seat != PLUMB_NO_INDEX ? work->e->seats[seat].luminance_cd_m2[0] * s->mode_share / own : 0.0;
}

static void
check_state (PlumbWork *work, const PlumbLight *light, uint32_t state, uint32_t seat)
{
  const PlumbLightState *record = plumb_scene_light_state (work->scene, state);
  PlumbStateFigures *s = &work->e->states[state];
  double gain = seat != PLUMB_NO_INDEX ? work->e->seats[seat].gain_ratio : light->surface.gain_ratio;
  uint32_t missing_lamp;

  fill_mode (work, light, record, seat, s);
  double white = s->white_lx;
  s->seat = seat;
  s->known = plumb_light_ambient_lx (work, light, state, &s->ambient_lx, &missing_lamp);
  s->returned_share = light->returned_share;
  if (s->known)
    {
      double up = contrast (work, light, white * (1.0 + spread_of_bound (FLUX_BOUND_SHARE)), s->ambient_lx, gain);
      double lit = contrast (work, light, white, s->ambient_lx * (1.0 + spread_of_bound (LUX_BOUND_SHARE)), gain);
      s->contrast_ratio = contrast (work, light, white, s->ambient_lx, gain);
      s->contrast_spread = hypot (up - s->contrast_ratio, lit - s->contrast_ratio);
      fill_shares (work, light, gain, s);
    }
  if (!(record->wanted_contrast_ratio > 1.0))
    return;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_LIGHT_CONTRAST, PLUMB_RECORD_LIGHT_STATE, state);
  if (s->known)
    {
      solve_state (work, light, record->wanted_contrast_ratio, gain, s);
      judge_contrast (work, light, s, record->wanted_contrast_ratio, f);
    }
  else if (missing_lamp != PLUMB_NO_INDEX)
    plumb_finding_missing (f, PLUMB_RECORD_LAMP, missing_lamp, PLUMB_FIELD_lamp_screen_lx);
  else
    plumb_finding_missing (f, PLUMB_RECORD_LIGHT_STATE, state, PLUMB_FIELD_light_state_screen_lx);
}

bool
plumb_seat_contrast (const PlumbScene *scene, const PlumbEvaluation *e, uint32_t state, uint32_t seat, double *ratio)
{
  if (state >= e->n_states || seat >= e->n_seats || e->machine == PLUMB_NO_INDEX)
    return false;
  const PlumbStateFigures *s = &e->states[state];
  if (!s->known || !(s->white_lx > 0.0))
    return false;
  *ratio = plumb_system_contrast (s->white_lx, plumb_scene_machine (scene, e->machine)->contrast_ratio,
                                  s->ambient_lx + s->own_lx, e->seats[seat].gain_ratio, s->returned_share);
  return true;
}

/* ---- surface and beam ------------------------------------------------------------------- */

static void
check_gain (PlumbWork *work, const PlumbLight *light)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_LIGHT_GAIN, PLUMB_RECORD_SCREEN, work->e->screen);
  double bound = plumb_gain_bound_ratio (light->surface.kind, light->surface.half_gain_rad);

  plumb_finding_judge (f, light->surface.gain_ratio, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, bound, "ratio");
  f->number[0] = light->surface.half_gain_rad;
  f->assumed = !PLUMB_TYPED (screen, plumb_scene_screen (work->scene, work->e->screen), half_gain_rad);
  if (f->verdict != PLUMB_FAILS)
    return;
  f->cure = PLUMB_CURE_MEASURE;
  /* A gain without its angle is no fault of the gain. */
  if (f->assumed)
    plumb_finding_missing (f, PLUMB_RECORD_SCREEN, work->e->screen, PLUMB_FIELD_screen_half_gain_rad);
}

/* Lowest part of the beam inside the hazard distance against the floor of the
 * space that holds it. */
static void
check_hazard (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  double distance = work->machine->hazard_distance_m;

  if (!(distance > 0.0))
    {
      if (work->machine->flux_lm >= BRIGHT_MACHINE_LM)
        plumb_finding_missing (plumb_work_add (work, PLUMB_CHECK_LIGHT_HAZARD, PLUMB_RECORD_MACHINE, e->machine),
                               PLUMB_RECORD_MACHINE, e->machine, PLUMB_FIELD_machine_hazard_distance_m);
      return;
    }
  PlumbVec3 ray[4];
  static const PlumbVec2 corner[4] = { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 } };
  for (int k = 0; k < 4; k++)
    ray[k] = plumb_beam_ray (&e->beam, corner[k]);
  double lowest = plumb_beam_lowest_z_m (e->beam.lens_m, ray, distance);
  double floor = work->spot->space != PLUMB_NO_INDEX ? work->spot->floor_z_m : 0.0;
  plumb_work_figure (work, PLUMB_FIGURE_beam_lowest_m, 0, lowest, 2.0 * plumb_work_lens_u_m (work, plumb_vec3 (0, 0, 1)));

  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_LIGHT_HAZARD, PLUMB_RECORD_MACHINE, e->machine);
  double least = plumb_work_limit (work, "light.hazard_height_least", f);
  plumb_finding_judge (f, lowest - floor, 2.0 * plumb_work_lens_u_m (work, plumb_vec3 (0, 0, 1)),
                       PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->number[0] = distance;
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_UP;
      f->cure_amount = least - (lowest - floor);
    }
}

static void
fill_light_figures (PlumbWork *work, const PlumbLight *light)
{
  double spread = spread_of_bound (FLUX_BOUND_SHARE);

  plumb_work_figure (work, PLUMB_FIGURE_flux_lm, 0, light->flux_lm, light->flux_lm * spread);
  plumb_work_figure (work, PLUMB_FIGURE_flux_on_screen_share, 0, light->flux_on_screen_lm / light->flux_lm, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_illuminance_centre_lx, 0, light->fields.centre_lx,
                     light->fields.centre_lx * spread);
  for (int k = 0; k < 4; k++)
    plumb_work_figure (work, PLUMB_FIGURE_illuminance_corners_lx, k, light->corner_lx[k], light->corner_lx[k] * spread);
  for (int k = 0; k < PLUMB_LIGHT_FIELDS; k++)
    plumb_work_figure (work, PLUMB_FIGURE_illuminance_fields_lx, k, light->fields.field_lx[k],
                       light->fields.field_lx[k] * spread);
  plumb_work_figure (work, PLUMB_FIGURE_uniformity_share, 0, light->fields.least_lx / light->fields.centre_lx, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_gain_bound_ratio, 0,
                     plumb_gain_bound_ratio (light->surface.kind, light->surface.half_gain_rad), 0.0);
}

bool
plumb_check_light (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbLight light;
  uint32_t n_states;

  plumb_scene_light_state_records (work->scene, &n_states);
  e->states = calloc (n_states + 1, sizeof *e->states);
  if (e->states == NULL)
    return false;
  e->n_states = n_states;
  if (!plumb_light_begin (work, &light))
    return true;
  fill_light_figures (work, &light);
  for (uint32_t i = 0; i < e->n_seats; i++)
    fill_seat (work, &light, i);
  uint32_t worst = darkest_seat (e);
  if (worst != PLUMB_NO_INDEX)
    {
      check_luminance (work, &light, worst);
      check_evenness (work, &light, false);
      check_evenness (work, &light, true);
      check_noise (work, &light);
    }
  check_gain (work, &light);
  for (uint32_t i = 0; i < n_states; i++)
    check_state (work, &light, i, worst);
  check_hazard (work);
  return true;
}
