/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * C-values: how far the line of sight to the picture's lower edge clears the
 * heads in front, and the rise or stagger that cures it.
 *
 * All lines go to one point, the middle of the lower edge. About it the eyes
 * are sorted by distance octave and bearing, so that the heads near a line
 * are found without looking at the others.
 */
#include <stdlib.h>

#include "people-private.h"
#include "plumbeam/variants.h"

/* Common practice, no source: half a head and hair. Further aside one looks
 * past the head. */
#define HEAD_ASIDE_M 0.15
/* Nearer than this two sit side by side. */
#define LEAST_DEPTH_M 0.30

typedef struct {
  double r_m, bearing, z_m; /* about the focus */
  int octave;
  uint32_t seat;
} Eye;

typedef struct {
  PlumbVec3 focus_m;
  uint32_t n;
  Eye *eyes;           /* sorted */
  uint32_t n_octaves;
  int first_octave;
  uint32_t *octave_at; /* where each begins; one more at the end */
} Fan;

/* A front eye in the line of a rear one. */
typedef struct {
  uint32_t rear, front;
  double front_m, over_focus_m, depth_m, rise_m, c_m;
} Line;

static int
compare_eyes (const void *a, const void *b)
{
  const Eye *x = a, *y = b;

  if (x->octave != y->octave)
    return x->octave < y->octave ? -1 : 1;
  if (x->bearing != y->bearing)
    return x->bearing < y->bearing ? -1 : 1;
  return x->seat < y->seat ? -1 : x->seat > y->seat;
}

static bool
make_octaves (Fan *fan)
{
  fan->first_octave = fan->n > 0 ? fan->eyes[0].octave : 0;
  fan->n_octaves = fan->n > 0 ? (uint32_t) (fan->eyes[fan->n - 1].octave - fan->first_octave) + 1 : 0;
  fan->octave_at = malloc (((size_t) fan->n_octaves + 1) * sizeof *fan->octave_at);
  if (fan->octave_at == NULL)
    return false;
  uint32_t at = 0;
  for (uint32_t k = 0; k < fan->n_octaves; k++)
    {
      fan->octave_at[k] = at;
      while (at < fan->n && fan->eyes[at].octave == fan->first_octave + (int) k)
        at++;
    }
  fan->octave_at[fan->n_octaves] = fan->n;
  return true;
}

/* `moved` (may be NULL) gives eyes other than the resolved ones. */
static bool
make_fan (const PlumbWork *work, const PlumbSeen *seen, const bool *no_room, const PlumbVec3 *moved, Fan *fan)
{
  PlumbVec3 away = plumb_seen_away (seen);
  PlumbVec2 ahead = plumb_vec2 (away.x, away.y);

  *fan = (Fan){ .focus_m = plumb_vec3_scale (plumb_vec3_add (seen->corner_m[0], seen->corner_m[1]), 0.5) };
  fan->eyes = malloc (((size_t) work->e->n_seats + 1) * sizeof *fan->eyes);
  if (fan->eyes == NULL)
    return false;
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    {
      PlumbVec3 eye = moved != NULL ? moved[i] : work->resolved->seats[i].eye_m;
      PlumbVec2 at = plumb_vec2 (eye.x - fan->focus_m.x, eye.y - fan->focus_m.y);
      Eye one = { .r_m = plumb_vec2_length (at), .z_m = eye.z - fan->focus_m.z, .seat = i };
      if (!work->e->seats[i].before_picture || no_room[i] || plumb_vec2_dot (at, ahead) <= 0.0)
        continue;
      one.bearing = atan2 (plumb_vec2_cross (ahead, at), plumb_vec2_dot (ahead, at));
      one.octave = ilogb (fmax (one.r_m, HEAD_ASIDE_M));
      fan->eyes[fan->n++] = one;
    }
  qsort (fan->eyes, fan->n, sizeof *fan->eyes, compare_eyes);
  return make_octaves (fan);
}

static void
clear_fan (Fan *fan)
{
  free (fan->eyes);
  free (fan->octave_at);
}

/* First eye of an octave with at least this bearing. */
static uint32_t
first_from (const Fan *fan, uint32_t octave, double bearing)
{
  uint32_t low = fan->octave_at[octave], high = fan->octave_at[octave + 1];

  while (low < high)
    {
      uint32_t middle = low + (high - low) / 2;
      if (fan->eyes[middle].bearing < bearing)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static bool
make_line (const Eye *rear, const Eye *front, Line *line)
{
  double turn = front->bearing - rear->bearing;

  *line = (Line){ .rear = rear->seat, .front = front->seat, .front_m = front->r_m * cos (turn),
                  .over_focus_m = front->z_m, .rise_m = rear->z_m - front->z_m };
  line->depth_m = rear->r_m - line->front_m;
  if (line->front_m <= 0.0 || line->depth_m < LEAST_DEPTH_M || front->r_m * fabs (sin (turn)) > HEAD_ASIDE_M)
    return false;
  line->c_m = plumb_c_value_m (line->front_m, line->over_focus_m, line->depth_m, line->rise_m);
  return true;
}

/* Every line of every rear eye, in the order of the seats in the fan. */
typedef void (*Visit) (void *data, const Line *line);
static void
visit_lines (const Fan *fan, const Eye *rear, Visit visit, void *data)
{
  for (uint32_t k = 0; k < fan->n_octaves && fan->first_octave + (int) k <= rear->octave; k++)
    {
      double nearest = ldexp (1.0, fan->first_octave + (int) k);
      double window = asin (fmin (1.0, HEAD_ASIDE_M / nearest));
      for (uint32_t i = first_from (fan, k, rear->bearing - window);
           i < fan->octave_at[k + 1] && fan->eyes[i].bearing <= rear->bearing + window; i++)
        {
          Line line;
          if (make_line (rear, &fan->eyes[i], &line))
            visit (data, &line);
        }
    }
}

/* ---- the worst line of each seat -------------------------------------------------- */

static void
keep_worst (void *data, const Line *line)
{
  Line *worst = data;

  if (line->c_m < worst->c_m)
    *worst = *line;
}

static Line
worst_of (const Fan *fan, const Eye *rear)
{
  Line worst = { .rear = rear->seat, .front = PLUMB_NO_INDEX, .c_m = HUGE_VAL };

  visit_lines (fan, rear, keep_worst, &worst);
  return worst;
}

/* ---- cures -------------------------------------------------------------------------- */

typedef struct {
  const PlumbWork *work;
  double least_m, wanted_m; /* limit; greatest that any line asks for */
  bool possible;
} Need;

static int32_t
line_of_row (const PlumbWork *work, uint32_t seat)
{
  const PlumbSeatResolved *resolved = &work->resolved->seats[seat];
  int32_t count = plumb_scene_row (work->scene, resolved->row)->count;

  return (int32_t) (resolved->number - 1) / count;
}

/* More rise per row lifts the rear eye by its row number's worth, and the
 * front one likewise if it sits in the same rows: C is linear in it. */
static void
need_riser (void *data, const Line *line)
{
  Need *need = data;
  const PlumbSeatResolved *seats = need->work->resolved->seats;
  double gain = line_of_row (need->work, line->rear) * line->front_m / (line->front_m + line->depth_m);

  if (line->c_m >= need->least_m)
    return;
  if (seats[line->front].row == seats[line->rear].row)
    gain -= line_of_row (need->work, line->front);
  if (gain <= 1e-6)
    need->possible = false;
  else
    need->wanted_m = fmax (need->wanted_m, (need->least_m - line->c_m) / gain);
}

static void
need_floor (void *data, const Line *line)
{
  Need *need = data;
  double rise = plumb_c_rise_m (line->front_m, line->over_focus_m, line->depth_m, need->least_m);

  need->wanted_m = fmax (need->wanted_m, rise - line->rise_m);
}

static void
cure_line (const PlumbWork *work, const Fan *fan, PlumbFinding *f, uint32_t seat, double least_m)
{
  uint32_t row = work->resolved->seats[seat].row;
  Need riser = { work, least_m, 0.0, row != PLUMB_NO_INDEX }, floor = { work, least_m, 0.0, true };

  for (uint32_t i = 0; i < fan->n; i++)
    {
      const Eye *rear = &fan->eyes[i];
      if (riser.possible && work->resolved->seats[rear->seat].row == row)
        visit_lines (fan, rear, need_riser, &riser);
      if (rear->seat == seat)
        visit_lines (fan, rear, need_floor, &floor);
    }
  f->cure = riser.possible ? PLUMB_CURE_RISER : PLUMB_CURE_SEAT_HIGHER;
  f->cure_amount = riser.possible ? riser.wanted_m : floor.wanted_m;
}

/* Whether half a seat's pitch as stagger clears every line of these rows:
 * tried, since oblique lines then meet other heads. */
static double
stagger_that_does_m (const PlumbWork *work, const PlumbSeen *seen, const bool *no_room, uint32_t row, double least_m)
{
  PlumbRow staggered = *plumb_scene_row (work->scene, row);
  PlumbVec3 *eyes;
  Fan fan;
  double worst = HUGE_VAL;

  staggered.stagger_m = staggered.pitch_m / 2.0;
  if (staggered.rows < 2 || (eyes = malloc ((size_t) work->e->n_seats * sizeof *eyes)) == NULL)
    return 0.0;
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &work->resolved->seats[i];
      int32_t at = (int32_t) seat->number - 1;
      eyes[i] = seat->row != row ? seat->eye_m
                                 : plumb_row_seat (&staggered, row, at / staggered.count, at % staggered.count).eye_m;
    }
  if (!make_fan (work, seen, no_room, eyes, &fan))
    worst = -HUGE_VAL;
  for (uint32_t i = 0; i < fan.n && worst >= least_m; i++)
    worst = fmin (worst, worst_of (&fan, &fan.eyes[i]).c_m);
  clear_fan (&fan);
  free (eyes);
  return worst >= least_m ? staggered.stagger_m : 0.0;
}

/* ---- the check ------------------------------------------------------------------------ */

static void
report (PlumbWork *work, const PlumbSeen *seen, const bool *no_room, const Fan *fan, const Line *worst, uint32_t fails)
{
  PlumbFinding *f = plumb_people_add (work, PLUMB_CHECK_PEOPLE_C_VALUE, worst->rear);
  double least = plumb_work_limit (work, "people.c_value_least", f);
  uint32_t row = work->resolved->seats[worst->rear].row;

  plumb_finding_judge (f, worst->c_m, 0.0, PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->number[0] = worst->depth_m;
  f->number[1] = plumb_who_number ((PlumbWho){ PLUMB_WHO_SEAT, worst->front });
  f->number[2] = plumb_c_rise_m (worst->front_m, worst->over_focus_m, worst->depth_m, least);
  f->number[3] = 0.0;
  f->number[4] = fails;
  f->number[5] = fan->n;
  if (f->verdict != PLUMB_FAILS)
    return;
  cure_line (work, fan, f, worst->rear, least);
  if (row != PLUMB_NO_INDEX)
    f->number[3] = stagger_that_does_m (work, seen, no_room, row, least);
}

void
plumb_check_c_values (PlumbWork *work, const PlumbSeen *seen, const bool *no_room)
{
  PlumbFinding none = { 0 };
  double least = plumb_work_limit (work, "people.c_value_least", &none);
  Line worst = { .front = PLUMB_NO_INDEX, .c_m = HUGE_VAL };
  uint32_t fails = 0;
  Fan fan;

  if (!make_fan (work, seen, no_room, NULL, &fan))
    work->out_of_memory = true;
  for (uint32_t i = 0; !work->out_of_memory && i < fan.n; i++)
    {
      Line line = worst_of (&fan, &fan.eyes[i]);
      if (line.front == PLUMB_NO_INDEX)
        continue;
      work->e->seats[line.rear].c_value_m = line.c_m;
      work->e->seats[line.rear].c_over = line.front;
      if (line.c_m < least - 1e-9)
        {
          fails++;
          plumb_seat_fail (&work->e->seats[line.rear], PLUMB_CHECK_PEOPLE_C_VALUE);
        }
      if (line.c_m < worst.c_m)
        worst = line;
    }
  if (!work->out_of_memory && worst.front != PLUMB_NO_INDEX)
    report (work, seen, no_room, &fan, &worst, fails);
  else if (!work->out_of_memory && fan.n > 0)
    {
      PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_PEOPLE_C_VALUE, PLUMB_RECORD_NONE, PLUMB_NO_INDEX);
      f->variant = PLUMB_V_C_NOBODY_IN_FRONT;
    }
  clear_fan (&fan);
}
