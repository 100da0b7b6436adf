/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A loudspeaker near the picture, seen from every seat: share of its front
 * that heads and solids hide. The front is that side of its body which looks
 * most towards the seats, taken by the rectangle about it; of a round body the
 * rectangle about its outline, square to the way to the seats. Everything at
 * rest.
 */
#include "near-private.h"
#include "plumbeam/variants.h"

/* Loudspeakers this near to the picture's outline; common practice, no source. */
#define NEAR_M 1.5
#define RAISE_SEARCH_M 2.5
#define RAISE_STEP_M 0.05
#define RAISE_RESIDUAL_M 1e-4
/* In a greater hall the amount is not worked out. */
#define RAISE_MOST_SEATS 256
#define ROUNDING 1e-9

typedef struct {
  PlumbWork *work;
  PlumbBodies *bodies;
  PlumbWho speaker;
  PlumbSeen front; /* in the place of the picture */
  double most;
  bool out_of_memory;
} Sight;

/* What a seat does not see, and by whom. */
typedef struct {
  double share, by_share;
  PlumbWho by;
} Hidden;

static bool
same_who (PlumbWho a, PlumbWho b)
{
  return a.kind == b.kind && a.index == b.index;
}

/* ---- the front ------------------------------------------------------------------------- */

static void
set_frame (PlumbSeen *front, PlumbVec3 origin, PlumbVec3 n, PlumbVec3 flat_u)
{
  PlumbVec3 u = plumb_vec3_cross (plumb_vec3 (0.0, 0.0, 1.0), n);

  front->frame.origin_m = origin;
  front->frame.n = n;
  front->frame.u = plumb_vec3_length (u) > 1e-6 ? plumb_vec3_unit (u) : flat_u;
  front->frame.v = plumb_vec3_cross (n, front->frame.u);
}

static void
set_rect (PlumbSeen *front, PlumbVec2 least, PlumbVec2 most)
{
  front->picture = (PlumbRect){ .centre_m = plumb_vec2 ((least.x + most.x) / 2.0, (least.y + most.y) / 2.0),
                                .width_m = most.x - least.x,
                                .height_m = most.y - least.y };
  PlumbQuad corners = plumb_rect_corners (&front->picture);
  for (int k = 0; k < 4; k++)
    front->corner_m[k] = plumb_vec3_along (
        plumb_vec3_along (front->frame.origin_m, front->frame.u, corners.corner[k].x), front->frame.v,
        corners.corner[k].y);
  front->centre_m = plumb_vec3_scale (plumb_vec3_add (front->corner_m[0], front->corner_m[2]), 0.5);
}

/* Area of a face as it shows in a direction; 0 when it looks away. */
static double
shown_m2 (const PlumbFace *face, PlumbVec3 direction)
{
  PlumbVec3 sum = plumb_vec3 (0.0, 0.0, 0.0);

  for (int k = 1; k + 1 < face->n_points; k++)
    sum = plumb_vec3_add (sum, plumb_vec3_cross (plumb_vec3_sub (face->point[k], face->point[0]),
                                                 plumb_vec3_sub (face->point[k + 1], face->point[0])));
  return plumb_vec3_length (sum) / 2.0 * fmax (plumb_vec3_dot (face->normal, direction), 0.0);
}

static void
flat_front (PlumbSeen *front, const PlumbFace *face, PlumbVec3 flat_u)
{
  PlumbVec2 least = { HUGE_VAL, HUGE_VAL }, most = { -HUGE_VAL, -HUGE_VAL };

  set_frame (front, face->point[0], face->normal, flat_u);
  for (int k = 0; k < face->n_points; k++)
    {
      PlumbVec3 from = plumb_vec3_sub (face->point[k], front->frame.origin_m);
      double u = plumb_vec3_dot (front->frame.u, from), v = plumb_vec3_dot (front->frame.v, from);
      least = plumb_vec2 (fmin (least.x, u), fmin (least.y, v));
      most = plumb_vec2 (fmax (most.x, u), fmax (most.y, v));
    }
  set_rect (front, least, most);
}

/* How far a round body reaches from its centre. */
static double
reach_m (const PlumbSolid *solid, PlumbVec3 direction)
{
  double x = plumb_vec3_dot (solid->axis[0], direction) * solid->half_m.x;
  double y = plumb_vec3_dot (solid->axis[1], direction) * solid->half_m.y;
  double z = plumb_vec3_dot (solid->axis[2], direction) * solid->half_m.z;

  return solid->shape == PLUMB_SOLID_CYLINDER ? hypot (x, y) + fabs (z) : sqrt (x * x + y * y + z * z);
}

static void
round_front (PlumbSeen *front, const PlumbSolid *solid, PlumbVec3 direction, PlumbVec3 flat_u)
{
  set_frame (front, solid->centre_m, direction, flat_u);
  PlumbVec2 half = plumb_vec2 (reach_m (solid, front->frame.u), reach_m (solid, front->frame.v));
  set_rect (front, plumb_vec2 (-half.x, -half.y), half);
}

/* False when nothing of it looks towards the seats. */
static bool
find_front (const PlumbWork *work, const PlumbSeen *seen, uint32_t first, uint32_t end, PlumbVec3 towards,
            PlumbSeen *front)
{
  const PlumbBuilding *building = work->resolved->building;
  const PlumbFace *best = NULL;
  double shown = ROUNDING * ROUNDING;

  for (uint32_t i = first; i < end; i++)
    {
      const PlumbSolid *solid = &building->solids[i];
      PlumbVec3 way = plumb_vec3_sub (towards, solid->centre_m);
      if (!(plumb_vec3_length (way) > ROUNDING))
        continue;
      if (solid->shape != PLUMB_SOLID_POLYHEDRON)
        {
          round_front (front, solid, plumb_vec3_unit (way), seen->frame.u);
          return true;
        }
      for (uint32_t k = solid->first_face; k < solid->first_face + solid->n_faces; k++)
        {
          double own = shown_m2 (&building->faces[k], plumb_vec3_unit (way));
          if (own <= shown)
            continue;
          shown = own;
          best = &building->faces[k];
        }
    }
  if (best != NULL)
    flat_front (front, best, seen->frame.u);
  return best != NULL;
}

/* ---- from the seats ----------------------------------------------------------------------- */

static bool
looks (const Sight *s, uint32_t i)
{
  const PlumbSeatFigures *seat = &s->work->e->seats[i];
  PlumbVec3 from = plumb_vec3_sub (s->work->resolved->seats[i].eye_m, s->front.centre_m);

  return seat->before_picture && !seat->no_room && plumb_vec3_dot (s->front.frame.n, from) > ROUNDING;
}

static Hidden
hidden_from (Sight *s, const PlumbSeen *front, uint32_t seat)
{
  PlumbBodies *b = s->bodies;
  double whole_m2 = front->picture.width_m * front->picture.height_m;
  Hidden out = { 0.0, 0.0, { PLUMB_WHO_NOBODY, 0 } };
  uint32_t kept = 0;

  if (!plumb_bodies_project_rest (b, front, s->work->resolved->seats[seat].eye_m, (PlumbWho){ PLUMB_WHO_SEAT, seat }))
    {
      s->out_of_memory = true;
      return out;
    }
  for (uint32_t i = 0; i < b->n_silhouettes; i++)
    if (!same_who (b->bodies[b->silhouettes[i].tag].who, s->speaker))
      b->silhouettes[kept++] = b->silhouettes[i];
  out.share = plumb_clamp (plumb_silhouettes_area_m2 (b->silhouettes, kept) / whole_m2, 0.0, 1.0);
  for (uint32_t i = 0, end; i < kept; i = end)
    {
      PlumbWho who = b->bodies[b->silhouettes[i].tag].who;
      for (end = i + 1; end < kept && same_who (b->bodies[b->silhouettes[end].tag].who, who); end++)
        ;
      double own = plumb_silhouettes_area_m2 (&b->silhouettes[i], end - i) / whole_m2;
      if (own <= out.by_share)
        continue;
      out.by_share = fmin (own, 1.0);
      out.by = who;
    }
  return out;
}

/* ---- how far it has to go up --------------------------------------------------------------- */

static PlumbSeen
raised (const PlumbSeen *front, double by_m)
{
  PlumbSeen out = *front;

  out.frame.origin_m.z += by_m;
  out.centre_m.z += by_m;
  for (int k = 0; k < 4; k++)
    out.corner_m[k].z += by_m;
  return out;
}

/* The worst seat is asked first, since it mostly decides. */
static bool
seen_by_all (Sight *s, double by_m, uint32_t worst)
{
  PlumbSeen front = raised (&s->front, by_m);

  if (hidden_from (s, &front, worst).share > s->most)
    return false;
  for (uint32_t i = 0; i < s->work->e->n_seats; i++)
    if (looks (s, i) && hidden_from (s, &front, i).share > s->most)
      return false;
  return true;
}

/* As far as it may go: to the picture from beneath it, else to the ceiling. */
static double
room_above_m (const Sight *s, const PlumbSeen *seen)
{
  double top = -HUGE_VAL, z, half = seen->picture.width_m / 2.0;
  bool before = false;

  for (int k = 0; k < 4; k++)
    {
      double aside = plumb_vec3_dot (seen->frame.u, plumb_vec3_sub (s->front.corner_m[k], seen->centre_m));
      top = fmax (top, s->front.corner_m[k].z);
      before |= fabs (aside) < half;
    }
  if (before && top <= seen->corner_m[0].z)
    return fmin (seen->corner_m[0].z - top, RAISE_SEARCH_M);
  PlumbVec2 at = plumb_vec2 (s->front.centre_m.x, s->front.centre_m.y);
  uint32_t space = s->work->e->target.space;
  if (space != PLUMB_NO_INDEX
      && plumb_building_ceiling_at (s->work->resolved->building, space, at, &z) != PLUMB_NO_INDEX)
    return fmin (fmax (z - top, 0.0), RAISE_SEARCH_M);
  return RAISE_SEARCH_M;
}

static void
cure (Sight *s, const PlumbSeen *seen, uint32_t worst, PlumbFinding *f)
{
  double most = room_above_m (s, seen), low = 0.0, high = 0.0;

  if (s->work->e->n_seats > RAISE_MOST_SEATS)
    return;
  do
    {
      low = high;
      high += RAISE_STEP_M;
      if (high > most + RAISE_STEP_M)
        return;
    }
  while (!seen_by_all (s, high, worst));
  while (high - low > RAISE_RESIDUAL_M)
    {
      double middle = (low + high) / 2.0;
      if (seen_by_all (s, middle, worst))
        high = middle;
      else
        low = middle;
    }
  if (high > most)
    return;
  f->cure = PLUMB_CURE_RAISE_SPEAKER;
  f->cure_amount = high;
}

/* ---- findings ------------------------------------------------------------------------------- */

static void
check_front (Sight *s, const PlumbSeen *seen)
{
  PlumbWork *work = s->work;
  Hidden worst = { -1.0, 0.0, { PLUMB_WHO_NOBODY, 0 } };
  uint32_t at = PLUMB_NO_INDEX, fails = 0, looked_at = 0;

  for (uint32_t i = 0; i < work->e->n_seats && !s->out_of_memory; i++)
    {
      if (!looks (s, i))
        continue;
      Hidden own = hidden_from (s, &s->front, i);
      looked_at++;
      if (own.share > s->most + ROUNDING)
        {
          fails++;
          plumb_seat_fail (&work->e->seats[i], PLUMB_CHECK_PEOPLE_SPEAKER);
        }
      if (own.share <= worst.share)
        continue;
      worst = own;
      at = i;
    }
  if (at == PLUMB_NO_INDEX)
    return;
  PlumbFinding *f = plumb_people_add (work, PLUMB_CHECK_PEOPLE_SPEAKER, at);
  plumb_finding_judge (f, worst.share, 0.0, PLUMB_LIMIT_AT_MOST, 0.0,
                       plumb_work_limit (work, "people.speaker_hidden_most", f), "share");
  f->number[0] = worst.by_share;
  f->number[1] = plumb_who_number (worst.by);
  f->number[2] = 0.0;
  f->number[3] = plumb_who_number (s->speaker);
  f->number[4] = fails;
  f->number[5] = looked_at;
  if (f->verdict == PLUMB_FAILS)
    cure (s, seen, at, f);
}

static bool
near_picture (const PlumbWork *work, const PlumbSeen *seen, uint32_t first, uint32_t end)
{
  PlumbConvex picture = { .points = seen->corner_m, .n_points = 4 };

  for (uint32_t i = first; i < end; i++)
    {
      PlumbConvex solid = plumb_solid_convex (work->resolved->building, i);
      if (plumb_convex_distance (&picture, &solid, NULL, NULL) <= NEAR_M)
        return true;
    }
  return false;
}

/* Middle of all eyes before the picture; false when there are none. */
static bool
middle_of_seats (const PlumbWork *work, PlumbVec3 *out)
{
  PlumbVec3 sum = plumb_vec3 (0.0, 0.0, 0.0);
  uint32_t n = 0;

  for (uint32_t i = 0; i < work->e->n_seats; i++)
    if (work->e->seats[i].before_picture)
      {
        sum = plumb_vec3_add (sum, work->resolved->seats[i].eye_m);
        n++;
      }
  *out = n > 0 ? plumb_vec3_scale (sum, 1.0 / n) : sum;
  return n > 0;
}

bool
plumb_check_speakers (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbFinding none = { 0 };
  Sight s = { .work = work, .bodies = bodies };
  PlumbVec3 towards, box[2];

  s.most = plumb_work_limit (work, "people.speaker_hidden_most", &none);
  if (!middle_of_seats (work, &towards))
    return true;
  for (uint32_t i = 0, end; i < building->n_solids && !s.out_of_memory; i = end)
    {
      end = plumb_standing_end (building, i);
      if (!plumb_standing_has_role (work, i, PLUMB_ROLE_SPEAKER) || !near_picture (work, seen, i, end))
        continue;
      /* What the face stands before is for screen.sound. */
      if (plumb_covered_share (work, i, end, PLUMB_NO_INDEX, box) > ROUNDING)
        continue;
      s.speaker = (PlumbWho){ PLUMB_WHO_BLOCKER, building->solids[i].surface.record };
      if (find_front (work, seen, i, end, towards, &s.front))
        check_front (&s, seen);
    }
  return !s.out_of_memory;
}
