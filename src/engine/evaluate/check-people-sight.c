/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How much of the picture every seat does not see, and who is in the way: at
 * rest, and with each mover in each of its states, the others at rest.
 */
#include "people-private.h"

static bool
same_who (PlumbWho a, PlumbWho b)
{
  return a.kind == b.kind && a.index == b.index;
}

static PlumbWho
who_of (const PlumbBodies *bodies, const PlumbSilhouette *silhouette)
{
  return bodies->bodies[silhouette->tag].who;
}

/* Writes the seat's figures if this hides more than what is there. */
static void
keep_worst (const PlumbBodies *bodies, const PlumbSeen *seen, const PlumbSilhouette *s, uint32_t n, uint32_t state,
            PlumbSeatFigures *seat)
{
  double picture_m2 = seen->picture.width_m * seen->picture.height_m;
  double share = plumb_clamp (plumb_silhouettes_area_m2 (s, n) / picture_m2, 0.0, 1.0);

  /* A mover that changes nothing by rounding is not the worst of all. */
  if (!(share > seat->hidden_share + 1e-12))
    return;
  seat->hidden_share = share;
  seat->hidden_state = state;
  seat->hidden_by_share = 0.0;
  for (uint32_t i = 0, end; i < n; i = end)
    {
      /* What belongs to one record lies together. */
      double at_most = s[i].area_m2 / picture_m2;
      for (end = i + 1; end < n && same_who (who_of (bodies, &s[i]), who_of (bodies, &s[end])); end++)
        at_most += s[end].area_m2 / picture_m2;
      if (at_most <= seat->hidden_by_share)
        continue;
      double own = end == i + 1 ? at_most : plumb_silhouettes_area_m2 (&s[i], end - i) / picture_m2;
      if (own <= seat->hidden_by_share)
        continue;
      seat->hidden_by_share = own;
      seat->hidden_by = who_of (bodies, &s[i]);
    }
}

/* One mover in one state: bodies first to last, all of one record. The others
 * at rest are the first n_rest silhouettes. */
static bool
try_state (PlumbBodies *bodies, const PlumbSeen *seen, PlumbVec3 eye, uint32_t first, uint32_t last, uint32_t n_rest,
           PlumbSeatFigures *seat)
{
  PlumbWho mover = bodies->bodies[first].who;

  bodies->n_silhouettes = n_rest;
  for (uint32_t i = first; i < last; i++)
    if (!plumb_bodies_project (bodies, seen, eye, i))
      return false;
  if (bodies->n_silhouettes == n_rest)
    return true;
  /* A copy without the mover at rest, behind what is kept. */
  uint32_t n = bodies->n_silhouettes, copy = n;
  if (!plumb_bodies_reserve (bodies, 2 * n))
    return false;
  for (uint32_t i = 0; i < n; i++)
    if (i >= n_rest || !same_who (who_of (bodies, &bodies->silhouettes[i]), mover))
      bodies->silhouettes[copy++] = bodies->silhouettes[i];
  keep_worst (bodies, seen, &bodies->silhouettes[n], copy - n, bodies->bodies[first].state, seat);
  bodies->n_silhouettes = n_rest;
  return true;
}

/* The pieces of a mover in one state lie together. */
static bool
try_states (PlumbBodies *bodies, const PlumbSeen *seen, PlumbVec3 eye, PlumbSeatFigures *seat)
{
  uint32_t n_rest = bodies->n_silhouettes;

  for (uint32_t i = bodies->n_rest, end; i < bodies->n_moved; i = end)
    {
      for (end = i + 1; end < bodies->n_moved && bodies->bodies[end].state == bodies->bodies[i].state
                        && same_who (bodies->bodies[end].who, bodies->bodies[i].who);
           end++)
        ;
      if (!try_state (bodies, seen, eye, i, end, n_rest, seat))
        return false;
    }
  return true;
}

static void
report (PlumbWork *work, uint32_t worst, uint32_t fails, uint32_t looked_at)
{
  const PlumbSeatFigures *seat = &work->e->seats[worst];
  PlumbFinding *f = plumb_people_add (work, PLUMB_CHECK_PEOPLE_HIDDEN, worst);
  double most = plumb_work_limit (work, "people.hidden_most", f);

  plumb_finding_judge (f, seat->hidden_share, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "share");
  f->number[0] = seat->hidden_by_share;
  f->number[1] = plumb_who_number (seat->hidden_by);
  f->number[2] = seat->hidden_state == PLUMB_NO_INDEX ? 0.0 : seat->hidden_state + 1.0;
  f->number[3] = 0.0;
  f->number[4] = fails;
  f->number[5] = looked_at;
}

bool
plumb_check_hidden (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies)
{
  PlumbFinding none = { 0 };
  double most = plumb_work_limit (work, "people.hidden_most", &none);
  uint32_t worst = PLUMB_NO_INDEX, fails = 0, looked_at = 0;

  for (uint32_t i = 0; i < work->e->n_seats; i++)
    {
      PlumbSeatFigures *seat = &work->e->seats[i];
      PlumbVec3 eye = work->resolved->seats[i].eye_m;
      if (!seat->before_picture || bodies->no_room[i])
        continue;
      if (!plumb_bodies_project_rest (bodies, seen, eye, (PlumbWho){ PLUMB_WHO_SEAT, i }))
        return false;
      keep_worst (bodies, seen, bodies->silhouettes, bodies->n_silhouettes, PLUMB_NO_INDEX, seat);
      if (!try_states (bodies, seen, eye, seat))
        return false;
      looked_at++;
      if (seat->hidden_share > most + 1e-9)
        {
          fails++;
          plumb_seat_fail (seat, PLUMB_CHECK_PEOPLE_HIDDEN);
        }
      if (worst == PLUMB_NO_INDEX || seat->hidden_share > work->e->seats[worst].hidden_share)
        worst = i;
    }
  if (worst != PLUMB_NO_INDEX)
    report (work, worst, fails, looked_at);
  return true;
}
