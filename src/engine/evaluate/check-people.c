/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The picture's size and direction from every seat. Each rule has one finding,
 * about the seat that is worst off; the figures of all seats are kept.
 */
#include "near-private.h"
#include "plumbeam/variants.h"

#define TOP_LEFT 3
/* Nobody moves a seat further. */
#define SEAT_SEARCH_M 60.0
#define SEAT_STEP_M 0.1
#define SEAT_RESIDUAL_M 1e-10
/* Nearer to the picture than this is in it. */
#define SEAT_NEAREST_M 0.2

/* ---- the picture as seats see it ---------------------------------------------- */

PlumbSeen
plumb_seen_of (const PlumbEvaluation *e)
{
  const PlumbFigureValue *pixels = &e->figures[PLUMB_FIGURE_pixels_least_per_mm];
  PlumbSeen seen = { .frame = e->target.frame, .picture = e->has_picture ? e->picture : e->wanted };
  PlumbQuad corners = plumb_rect_corners (&seen.picture);

  for (int i = 0; i < 4; i++)
    seen.corner_m[i] = plumb_vec3_along (plumb_vec3_along (seen.frame.origin_m, seen.frame.u, corners.corner[i].x),
                                         seen.frame.v, corners.corner[i].y);
  seen.centre_m = plumb_vec3_scale (plumb_vec3_add (seen.corner_m[0], seen.corner_m[2]), 0.5);
  seen.pixels_per_m = e->has_picture && pixels->valid ? pixels->value[0] * 1000.0 : 0.0;
  return seen;
}

PlumbVec3
plumb_seen_away (const PlumbSeen *seen)
{
  return plumb_vec3_unit (plumb_vec3 (seen->frame.n.x, seen->frame.n.y, 0.0));
}

double
plumb_seen_aside_m (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_vec3_dot (seen->frame.u, plumb_vec3_sub (eye, seen->centre_m));
}

double
plumb_seen_back_m (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_vec3_dot (plumb_seen_away (seen), plumb_vec3_sub (eye, seen->centre_m));
}

/* ---- measures: one figure of one eye ------------------------------------------ */

static double
distance_m (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_vec3_length (plumb_vec3_sub (seen->centre_m, eye));
}

/* Angle at the eye between the middles of the picture's left and right edge. */
static double
horizontal_angle (const PlumbSeen *seen, PlumbVec3 eye)
{
  double half = seen->picture.width_m / 2.0;
  PlumbVec3 left = plumb_vec3_sub (plumb_vec3_along (seen->centre_m, seen->frame.u, -half), eye);
  PlumbVec3 right = plumb_vec3_sub (plumb_vec3_along (seen->centre_m, seen->frame.u, half), eye);

  return atan2 (plumb_vec3_length (plumb_vec3_cross (left, right)), plumb_vec3_dot (left, right));
}

static double
heights (const PlumbSeen *seen, PlumbVec3 eye)
{
  return distance_m (seen, eye) / seen->picture.height_m;
}

static double
elevation (PlumbVec3 eye, PlumbVec3 point)
{
  return atan2 (point.z - eye.z, hypot (point.x - eye.x, point.y - eye.y));
}

/* The upper edge stands highest where it is nearest. */
static double
look_up_top (const PlumbSeen *seen, PlumbVec3 eye)
{
  double along = plumb_vec3_dot (seen->frame.u, plumb_vec3_sub (eye, seen->corner_m[TOP_LEFT]));

  return elevation (eye, plumb_vec3_along (seen->corner_m[TOP_LEFT], seen->frame.u,
                                           plumb_clamp (along, 0.0, seen->picture.width_m)));
}

static double
far_edge (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_far_edge_angle_rad (plumb_seen_aside_m (seen, eye), plumb_seen_back_m (seen, eye),
                                   seen->picture.width_m);
}

static double
off_axis_level (const PlumbSeen *seen, PlumbVec3 eye)
{
  return atan2 (fabs (plumb_seen_aside_m (seen, eye)), plumb_seen_back_m (seen, eye));
}

static double
off_axis (const PlumbSeen *seen, PlumbVec3 eye)
{
  PlumbVec3 to_eye = plumb_vec3_sub (eye, seen->centre_m);

  return atan2 (plumb_vec3_length (plumb_vec3_cross (seen->frame.n, to_eye)), plumb_vec3_dot (seen->frame.n, to_eye));
}

static double
pixels (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_pixels_per_degree (seen->pixels_per_m, distance_m (seen, eye));
}

static double
text_share (const PlumbSeen *seen, PlumbVec3 eye)
{
  return plumb_text_height_m (distance_m (seen, eye)) / seen->picture.height_m;
}

/* ---- rules ------------------------------------------------------------------------ */

#define FOR(purpose) (1u << PLUMB_PURPOSE_##purpose)
#define FOR_FILM (FOR (HOME) | FOR (CINEMA))
#define FOR_WORK (FOR (READING) | FOR (DETAIL))
#define FOR_ALL (FOR_FILM | FOR_WORK)

/* cure: how a seat that moves straight on or off comes right. */
typedef struct {
  PlumbCheck check;
  uint8_t variant;
  uint32_t purposes;
  const char *limit; /* NULL: the screen's half-gain angle */
  PlumbLimitSense sense;
  const char *unit;
  double (*measure) (const PlumbSeen *seen, PlumbVec3 eye);
  PlumbCure cure;
} Rule;

static const Rule rules[] = {
  { PLUMB_CHECK_PEOPLE_ANGLE_LEAST, 0, FOR (HOME), "people.angle_least_home", PLUMB_LIMIT_AT_LEAST, "rad",
    horizontal_angle, PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_ANGLE_LEAST, 0, FOR (CINEMA), "people.angle_least_cinema", PLUMB_LIMIT_AT_LEAST, "rad",
    horizontal_angle, PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_ANGLE_MOST, 0, FOR_ALL, "people.angle_most", PLUMB_LIMIT_AT_MOST, "rad", horizontal_angle,
    PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_HEIGHTS, 0, FOR (DETAIL), "people.heights_most_detail", PLUMB_LIMIT_AT_MOST, "ratio", heights,
    PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_HEIGHTS, 0, FOR (READING), "people.heights_most_reading", PLUMB_LIMIT_AT_MOST, "ratio", heights,
    PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_HEIGHTS, 0, FOR_FILM, "people.heights_most_video", PLUMB_LIMIT_AT_MOST, "ratio", heights,
    PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_LOOK_UP, 0, FOR (HOME), "people.look_up_most_home", PLUMB_LIMIT_AT_MOST, "rad", look_up_top,
    PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_LOOK_UP, 0, FOR (CINEMA), "people.look_up_most_cinema", PLUMB_LIMIT_AT_MOST, "rad", look_up_top,
    PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_LOOK_UP, 0, FOR_WORK, "people.look_up_most_presentation", PLUMB_LIMIT_AT_MOST, "rad",
    look_up_top, PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_FAR_EDGE, FOR_WORK, "people.off_axis_most_presentation",
    PLUMB_LIMIT_AT_MOST, "rad", far_edge, PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_CENTRE, FOR_FILM, "people.off_axis_most", PLUMB_LIMIT_AT_MOST, "rad",
    off_axis_level, PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_GAIN, FOR_ALL, NULL, PLUMB_LIMIT_AT_MOST, "rad", off_axis,
    PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_PIXELS, PLUMB_V_PIXELS_MERGE, FOR_FILM | FOR (READING), "people.pixels_least",
    PLUMB_LIMIT_AT_LEAST, "px_per_deg", pixels, PLUMB_CURE_SEAT_FARTHER },
  { PLUMB_CHECK_PEOPLE_PIXELS, PLUMB_V_PIXELS_RESOLVED, FOR (DETAIL), "people.pixels_most_detail", PLUMB_LIMIT_AT_MOST,
    "px_per_deg", pixels, PLUMB_CURE_SEAT_NEARER },
  { PLUMB_CHECK_PEOPLE_TEXT, 0, FOR_WORK, "people.text_most", PLUMB_LIMIT_AT_MOST, "share", text_share,
    PLUMB_CURE_SEAT_NEARER },
};

static double
margin (const Rule *rule, double figure, double limit)
{
  return rule->sense == PLUMB_LIMIT_AT_LEAST ? figure - limit : limit - figure;
}

/* How far the eye has to go straight on or off until the rule holds, to
 * 1e-10 m; HUGE_VAL if nowhere. */
static double
way_m (const PlumbSeen *seen, const Rule *rule, PlumbVec3 eye, double limit)
{
  bool nearer = rule->cure == PLUMB_CURE_SEAT_NEARER;
  PlumbVec3 away = plumb_seen_away (seen), direction = plumb_vec3_scale (away, nearer ? -1.0 : 1.0);
  double most = nearer ? plumb_seen_back_m (seen, eye) - SEAT_NEAREST_M : SEAT_SEARCH_M;
  double low = 0.0, high = 0.0;

  do
    {
      low = high;
      high += SEAT_STEP_M;
      if (high > most)
        return HUGE_VAL;
    }
  while (margin (rule, rule->measure (seen, plumb_vec3_along (eye, direction, high)), limit) < 0.0);
  while (high - low > SEAT_RESIDUAL_M)
    {
      double middle = (low + high) / 2.0;
      if (margin (rule, rule->measure (seen, plumb_vec3_along (eye, direction, middle)), limit) < 0.0)
        low = middle;
      else
        high = middle;
    }
  return high;
}

PlumbFinding *
plumb_people_add (PlumbWork *work, PlumbCheck check, uint32_t seat)
{
  const PlumbSeatResolved *resolved = &work->resolved->seats[seat];
  const PlumbSeatFigures *figures = &work->e->seats[seat];
  bool single = resolved->row == PLUMB_NO_INDEX;
  PlumbFinding *f = plumb_work_add (work, check, single ? PLUMB_RECORD_SEAT : PLUMB_RECORD_ROW,
                                    single ? resolved->seat : resolved->row);

  f->subject.sub = seat;
  f->number[0] = figures->distance_m;
  f->number[1] = figures->distance_heights_ratio;
  f->number[2] = figures->horizontal_angle_rad;
  return f;
}

/* The limit's value without a finding yet. */
static double
limit_of (const PlumbWork *work, const Rule *rule)
{
  PlumbFinding none = { 0 };

  return rule->limit != NULL ? plumb_work_limit (work, rule->limit, &none)
                             : plumb_scene_screen (work->scene, work->e->screen)->half_gain_rad;
}

static void
third_number (PlumbFinding *f, const PlumbSeatFigures *seat)
{
  if (f->check == PLUMB_CHECK_PEOPLE_LOOK_UP)
    f->number[3] = seat->look_up_centre_rad;
  else if (f->check == PLUMB_CHECK_PEOPLE_TEXT)
    f->number[3] = seat->text_height_m;
}

static void
report (PlumbWork *work, const PlumbSeen *seen, const Rule *rule, uint32_t seat, uint32_t fails, uint32_t looked_at)
{
  const PlumbEvaluation *e = work->e;
  PlumbVec3 eye = work->resolved->seats[seat].eye_m;
  PlumbFinding *f = plumb_people_add (work, rule->check, seat);
  double limit = limit_of (work, rule), figure = rule->measure (seen, eye);
  double of_width = e->has_picture ? e->figures[PLUMB_FIGURE_picture_width_m].spread[0] / seen->picture.width_m : 0.0;
  PlumbSeen wider = *seen;

  if (rule->limit != NULL)
    limit = plumb_work_limit (work, rule->limit, f);
  else
    f->basis = PLUMB_BASIS_DATA_SHEET;
  /* What the picture's own spread makes of the figure. */
  wider.picture.width_m *= 1.0 + of_width;
  wider.picture.height_m *= 1.0 + of_width;
  wider.pixels_per_m /= 1.0 + of_width;
  plumb_finding_judge (f, figure, fabs (rule->measure (&wider, eye) - figure), rule->sense, limit, limit, rule->unit);
  f->variant = rule->variant;
  f->number[4] = fails;
  f->number[5] = looked_at;
  third_number (f, &e->seats[seat]);
  if (f->verdict != PLUMB_FAILS)
    return;
  double way = way_m (seen, rule, eye, limit);
  f->cure = isfinite (way) ? rule->cure : PLUMB_CURE_NONE;
  f->cure_amount = isfinite (way) ? way : 0.0;
}

static bool
applies (const PlumbWork *work, const PlumbSeen *seen, const Rule *rule)
{
  if ((rule->purposes >> plumb_scene_job (work->scene, 0)->purpose & 1u) == 0)
    return false;
  if (rule->check == PLUMB_CHECK_PEOPLE_PIXELS)
    return seen->pixels_per_m > 0.0;
  return rule->limit != NULL || plumb_scene_screen (work->scene, work->e->screen)->gain_ratio > 1.0;
}

static void
check_rule (PlumbWork *work, const PlumbSeen *seen, const Rule *rule)
{
  const PlumbEvaluation *e = work->e;
  double limit = limit_of (work, rule), worst = HUGE_VAL;
  uint32_t at = PLUMB_NO_INDEX, fails = 0, looked_at = 0;

  for (uint32_t i = 0; i < e->n_seats; i++)
    {
      if (!e->seats[i].before_picture)
        continue;
      double left = margin (rule, rule->measure (seen, work->resolved->seats[i].eye_m), limit);
      looked_at++;
      if (left < -1e-9)
        {
          fails++;
          plumb_seat_fail (&e->seats[i], rule->check);
        }
      if (left < worst)
        {
          worst = left;
          at = i;
        }
    }
  if (at != PLUMB_NO_INDEX)
    report (work, seen, rule, at, fails, looked_at);
}

void
plumb_check_angles (PlumbWork *work, const PlumbSeen *seen)
{
  for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
    if (applies (work, seen, &rules[i]))
      check_rule (work, seen, &rules[i]);
}

/* ---- all of it ------------------------------------------------------------------- */

static void
fill_seat (const PlumbWork *work, const PlumbSeen *seen, uint32_t i)
{
  PlumbSeatFigures *seat = &work->e->seats[i];
  PlumbVec3 eye = work->resolved->seats[i].eye_m;

  *seat = (PlumbSeatFigures){ .seat = i, .hidden_state = PLUMB_NO_INDEX, .c_over = PLUMB_NO_INDEX };
  seat->distance_m = distance_m (seen, eye);
  seat->distance_heights_ratio = heights (seen, eye);
  seat->horizontal_angle_rad = horizontal_angle (seen, eye);
  seat->before_picture
      = plumb_vec3_dot (seen->frame.n, plumb_vec3_sub (eye, seen->centre_m)) > 0.0
        && plumb_seen_back_m (seen, eye) > 0.0;
  if (!seat->before_picture)
    return;
  seat->look_up_centre_rad = elevation (eye, seen->centre_m);
  seat->look_up_top_rad = look_up_top (seen, eye);
  seat->off_axis_rad = off_axis (seen, eye);
  seat->far_edge_angle_rad = far_edge (seen, eye);
  seat->pixels_per_degree = pixels (seen, eye);
  seat->text_height_m = plumb_text_height_m (seat->distance_m);
}

bool
plumb_check_people (PlumbWork *work)
{
  PlumbSeen seen = plumb_seen_of (work->e);
  PlumbBodies bodies;

  work->e->n_seats = work->resolved->n_seats;
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    fill_seat (work, &seen, i);
  if (!plumb_bodies_make (work, &bodies))
    return false;
  plumb_check_seat_places (work, &bodies);
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    work->e->seats[i].no_room = bodies.no_room[i];
  plumb_check_angles (work, &seen);
  plumb_check_c_values (work, &seen, bodies.no_room);
  bool fine = plumb_check_hidden (work, &seen, &bodies) && plumb_check_shadows (work, &seen, &bodies)
              && plumb_check_speakers (work, &seen, &bodies);
  plumb_bodies_clear (&bodies);
  return fine;
}
