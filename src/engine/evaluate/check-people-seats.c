/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seats in which nobody can sit: their heads have no room. */
#include <stdlib.h>

#include "people-private.h"
#include "plumbeam/variants.h"

/* Heads of two seats nearer than this are in one place: a head's breadth
 * (survey, men's median 154 mm). */
#define SAME_PLACE_M 0.154
/* Half a head's breadth, and half its length. */
#define HEAD_ASIDE_M 0.077
#define HEAD_AHEAD_M 0.100

typedef struct {
  uint32_t count, first;
  PlumbWho other;
} Tally;

static void
count_one (Tally *tally, uint32_t seat, PlumbWho other)
{
  if (tally->count++ == 0)
    {
      tally->first = seat;
      tally->other = other;
    }
}

/* ---- two in one place ------------------------------------------------------------ */

typedef struct {
  double x;
  uint32_t seat;
} ByX;

static int
compare_x (const void *a, const void *b)
{
  const ByX *s = a, *t = b;

  if (s->x != t->x)
    return s->x < t->x ? -1 : 1;
  return s->seat < t->seat ? -1 : s->seat > t->seat;
}

/* Along a sorted direction that no row of seats is likely to stand square to. */
static bool
count_same_place (const PlumbWork *work, Tally *tally, bool *no_room)
{
  uint32_t n = work->resolved->n_seats;
  const PlumbSeatResolved *seats = work->resolved->seats;
  ByX *sorted = malloc (((size_t) n + 1) * sizeof *sorted);
  const double c = cos (0.3), s = sin (0.3);

  if (sorted == NULL)
    return false;
  for (uint32_t i = 0; i < n; i++)
    sorted[i] = (ByX){ c * seats[i].eye_m.x + s * seats[i].eye_m.y, i };
  qsort (sorted, n, sizeof *sorted, compare_x);
  for (uint32_t i = 0; i < n; i++)
    for (uint32_t k = i + 1; k < n && sorted[k].x - sorted[i].x < SAME_PLACE_M; k++)
      {
        uint32_t a = sorted[i].seat, b = sorted[k].seat;
        if (plumb_vec3_length (plumb_vec3_sub (seats[a].eye_m, seats[b].eye_m)) >= SAME_PLACE_M)
          continue;
        no_room[a > b ? a : b] = true;
        count_one (tally, a > b ? a : b, (PlumbWho){ PLUMB_WHO_SEAT, a > b ? b : a });
        /* One is enough for this seat; a hundred in one place stay a hundred. */
        break;
      }
  free (sorted);
  return true;
}

/* ---- in what stands there ---------------------------------------------------------- */

static bool
in_screen (const PlumbEvaluation *e, PlumbVec3 eye)
{
  PlumbVec3 from_face = plumb_vec3_sub (eye, e->target.frame.origin_m);
  double before = plumb_vec3_dot (e->target.frame.n, from_face);
  bool on_face = fabs (plumb_vec3_dot (e->target.frame.u, from_face)) < e->target.width_m / 2.0 + HEAD_ASIDE_M
                 && fabs (plumb_vec3_dot (e->target.frame.v, from_face)) < e->target.height_m / 2.0 + HEAD_AHEAD_M;

  return before <= 0.0 || (before < HEAD_AHEAD_M && on_face);
}

static bool
below_floor (const PlumbBuilding *building, PlumbVec3 eye)
{
  bool below = false;

  for (uint32_t i = 0; i < building->n_spaces; i++)
    if (building->spaces[i].valid && plumb_building_in_outline (building, i, plumb_vec2 (eye.x, eye.y)))
      {
        if (eye.z >= building->spaces[i].floor_z_m)
          return false;
        below = true;
      }
  return below;
}

/* Eye and both sides of the head in some space. */
static bool
in_room (const PlumbBuilding *building, PlumbVec3 eye, double facing_rad)
{
  PlumbVec3 left = plumb_vec3 (-sin (facing_rad), cos (facing_rad), 0.0);

  return plumb_building_space_at (building, eye) != PLUMB_NO_INDEX
         && plumb_building_space_at (building, plumb_vec3_along (eye, left, HEAD_ASIDE_M)) != PLUMB_NO_INDEX
         && plumb_building_space_at (building, plumb_vec3_along (eye, left, -HEAD_ASIDE_M)) != PLUMB_NO_INDEX;
}

/* The solid that holds the eye. */
static PlumbWho
solid_round (const PlumbBodies *bodies, PlumbVec3 eye)
{
  for (uint32_t i = bodies->n_people; i < bodies->n_rest; i++)
    {
      const PlumbBody *body = &bodies->bodies[i];
      if (body->who.kind != PLUMB_WHO_BLOCKER
          || plumb_vec3_length (plumb_vec3_sub (eye, body->centre_m)) > body->radius_m)
        continue;
      PlumbConvex at = { .points = &eye, .n_points = 1 };
      const PlumbOccluder *shape = &bodies->occluders[body->first];
      PlumbSolid solid = { .shape = shape->shape == PLUMB_OCCLUDER_CYLINDER ? PLUMB_SOLID_CYLINDER : PLUMB_SOLID_ELLIPSOID,
                           .centre_m = shape->centre_m,
                           .axis = { shape->axis[0], shape->axis[1], shape->axis[2] },
                           .half_m = shape->half_m,
                           .bound_radius_m = body->radius_m };
      PlumbConvex convex = { .points = shape->points, .n_points = shape->n_points,
                             .solid = shape->shape == PLUMB_OCCLUDER_HULL ? NULL : &solid };
      if (plumb_convex_distance (&at, &convex, NULL, NULL) <= 0.0)
        return body->who;
    }
  return (PlumbWho){ PLUMB_WHO_NOBODY, 0 };
}

/* ---- findings ------------------------------------------------------------------------ */

static void
report (PlumbWork *work, uint8_t variant, const Tally *tally)
{
  if (tally->count == 0)
    return;
  PlumbFinding *f = plumb_people_add (work, PLUMB_CHECK_PEOPLE_SEAT, tally->first);
  f->variant = variant;
  f->verdict = PLUMB_FAILS;
  f->number[0] = plumb_who_number (tally->other);
  f->number[4] = tally->count;
  f->number[5] = work->e->n_seats;
}

void
plumb_check_seat_places (PlumbWork *work, PlumbBodies *bodies)
{
  const PlumbBuilding *building = work->resolved->building;
  Tally tally[PLUMB_V_SEAT_IN_SOLID + 1] = { { 0 } };
  uint32_t all = 0;

  if (!count_same_place (work, &tally[PLUMB_V_SEAT_SAME_PLACE], bodies->no_room))
    work->out_of_memory = true;
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &work->resolved->seats[i];
      PlumbWho solid = solid_round (bodies, seat->eye_m);
      uint8_t fault = below_floor (building, seat->eye_m)                      ? PLUMB_V_SEAT_BELOW_FLOOR
                      : in_screen (work->e, seat->eye_m)                       ? PLUMB_V_SEAT_BEHIND_SCREEN
                      : !in_room (building, seat->eye_m, seat->facing_rad)     ? PLUMB_V_SEAT_IN_WALL
                      : solid.kind != PLUMB_WHO_NOBODY                         ? PLUMB_V_SEAT_IN_SOLID
                                                                               : PLUMB_V_SEAT_ROOM;
      if (fault == PLUMB_V_SEAT_ROOM)
        continue;
      count_one (&tally[fault], i, solid);
      bodies->no_room[i] = true;
    }
  for (uint32_t i = 0; i < work->e->n_seats; i++)
    if (bodies->no_room[i])
      plumb_seat_fail (&work->e->seats[i], PLUMB_CHECK_PEOPLE_SEAT);
  for (uint8_t v = PLUMB_V_SEAT_SAME_PLACE; v <= PLUMB_V_SEAT_IN_SOLID; v++)
    {
      report (work, v, &tally[v]);
      all += tally[v].count;
    }
  if (all > 0 || work->e->n_seats == 0)
    return;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_PEOPLE_SEAT, PLUMB_RECORD_NONE, PLUMB_NO_INDEX);
  f->variant = PLUMB_V_SEAT_ROOM;
  f->number[5] = work->e->n_seats;
}
