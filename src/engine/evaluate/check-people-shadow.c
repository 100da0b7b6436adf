/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Who and what stands between the lens and the picture: shares of the picture
 * in shadow, whether the lens's width lets the shadow only dim it, and how far
 * the machine has to go up or down to be rid of it.
 */
#include "people-private.h"
#include "plumbeam/variants.h"

#define MOVE_SEARCH_M 3.0
#define MOVE_STEP_M 0.05
#define MOVE_RESIDUAL_M 1e-6
/* Less of the picture than this is rounding. */
#define NO_SHARE 1e-9
/* Positions tried along a path, and rounds that then close in on the worst. */
#define PATH_STEPS 40
#define PATH_ROUNDS 30

/* Bodies first to last, as one. */
typedef struct {
  uint32_t first, last;
} Group;

typedef struct {
  PlumbWork *work;
  const PlumbSeen *seen;
  PlumbBodies *bodies;
  bool out_of_memory;
  uint32_t n_found;
} Shadows;

/* ---- shares ----------------------------------------------------------------------- */

static double
share_of (const PlumbSeen *seen, const PlumbSilhouette *s, uint32_t n)
{
  return plumb_clamp (plumb_silhouettes_area_m2 (s, n) / (seen->picture.width_m * seen->picture.height_m), 0.0, 1.0);
}

/* Leaves the silhouettes of the group in the buffer. */
static void
project_group (Shadows *s, Group group, PlumbVec3 lens)
{
  PlumbBodies *b = s->bodies;
  bool fine = true;

  b->n_silhouettes = 0;
  if (group.last <= b->n_rest && group.last - group.first > 8)
    {
      uint32_t kept = 0;
      fine = plumb_bodies_project_rest (b, s->seen, lens, (PlumbWho){ PLUMB_WHO_MACHINE, 0 });
      for (uint32_t i = 0; i < b->n_silhouettes; i++)
        if (b->silhouettes[i].tag >= group.first && b->silhouettes[i].tag < group.last)
          b->silhouettes[kept++] = b->silhouettes[i];
      b->n_silhouettes = kept;
    }
  else
    for (uint32_t i = group.first; fine && i < group.last; i++)
      fine = plumb_bodies_project (b, s->seen, lens, i);
  s->out_of_memory |= !fine;
}

static double
group_share (Shadows *s, Group group, PlumbVec3 lens)
{
  project_group (s, group, lens);
  return share_of (s->seen, s->bodies->silhouettes, s->bodies->n_silhouettes);
}

/* Whether anything of the group shadows anything: needs no union. */
static bool
in_the_way (Shadows *s, Group group, PlumbVec3 lens)
{
  double most_m2 = 0.0;

  project_group (s, group, lens);
  for (uint32_t i = 0; i < s->bodies->n_silhouettes; i++)
    most_m2 = fmax (most_m2, s->bodies->silhouettes[i].area_m2);
  return most_m2 > NO_SHARE * s->seen->picture.width_m * s->seen->picture.height_m;
}

/* ---- does it only dim? -------------------------------------------------------------- */

/* Shadow of the whole body, beyond the picture too, as narrow as area over
 * length; against the half-shadow that the lens's width makes. */
bool
plumb_shadow_only_dims (const PlumbWork *work, const PlumbSeen *seen, const PlumbBodies *bodies, uint32_t first,
                        uint32_t last)
{
  PlumbVec3 lens = work->e->beam.lens_m, n = seen->frame.n;
  PlumbRect wide = seen->picture;
  double narrowest = 0.0, half_shadow = HUGE_VAL;

  wide.width_m *= 50.0;
  wide.height_m *= 50.0;
  for (uint32_t i = first; i < last; i++)
    {
      const PlumbBody *body = &bodies->bodies[i];
      double lens_m = plumb_vec3_dot (n, plumb_vec3_sub (lens, seen->centre_m));
      double body_m = plumb_vec3_dot (n, plumb_vec3_sub (body->centre_m, seen->centre_m));
      for (uint32_t k = body->first; k < body->first + body->n; k++)
        {
          PlumbSilhouette all;
          if (!plumb_silhouette (lens, &seen->frame, &wide, &bodies->occluders[k], &all))
            continue;
          double length = fmax (all.most.x - all.least.x, all.most.y - all.least.y);
          narrowest = fmax (narrowest, length > 0.0 ? all.area_m2 / length : 0.0);
          half_shadow = fmin (half_shadow, lens_m > body_m ? work->machine->lens_diameter_m * fmax (body_m, 0.0)
                                                                 / (lens_m - body_m)
                                                           : 0.0);
        }
    }
  return isfinite (half_shadow) && half_shadow >= narrowest;
}

/* ---- the machine's way out of it ------------------------------------------------------ */

static double
way_m (Shadows *s, Group group, double direction, double most_m)
{
  PlumbVec3 lens = s->work->e->beam.lens_m, up = plumb_vec3 (0.0, 0.0, direction);
  double low = 0.0, high = 0.0;

  do
    {
      low = high;
      high += MOVE_STEP_M;
      if (high > most_m + MOVE_STEP_M)
        return HUGE_VAL;
    }
  while (in_the_way (s, group, plumb_vec3_along (lens, up, high)));
  while (high - low > MOVE_RESIDUAL_M)
    {
      double middle = (low + high) / 2.0;
      if (in_the_way (s, group, plumb_vec3_along (lens, up, middle)))
        low = middle;
      else
        high = middle;
    }
  return high <= most_m ? high : HUGE_VAL;
}

static void
cure (Shadows *s, Group group, PlumbFinding *f)
{
  const PlumbWork *work = s->work;
  bool hung = work->place->carried == PLUMB_CARRIED_HUNG;
  bool inside = work->spot->space != PLUMB_NO_INDEX;
  double lens_z = work->e->beam.lens_m.z;
  double room_up = hung ? work->place->drop_m : inside ? work->spot->ceiling_z_m - lens_z : MOVE_SEARCH_M;
  double room_down = inside ? lens_z - work->spot->floor_z_m : MOVE_SEARCH_M;
  double up = way_m (s, group, 1.0, fmin (room_up, MOVE_SEARCH_M));
  double down = way_m (s, group, -1.0, fmin (fmin (room_down, MOVE_SEARCH_M), up));

  f->cure_amount = fmin (up, down);
  if (!isfinite (f->cure_amount))
    {
      f->cure = PLUMB_CURE_NONE;
      f->cure_amount = 0.0;
    }
  else if (up <= down)
    f->cure = hung ? PLUMB_CURE_SHORTER_DROP : PLUMB_CURE_UP;
  else
    f->cure = hung ? PLUMB_CURE_LONGER_DROP : PLUMB_CURE_DOWN;
}

/* ---- findings --------------------------------------------------------------------------- */

/* group: all that has to leave the picture; one: the body that is looked at. */
static PlumbFinding *
report (Shadows *s, PlumbFinding *f, uint8_t variant, Group group, Group one, double share)
{
  PlumbWork *work = s->work;
  double most = plumb_work_limit (work, "people.shadow_most", f);

  s->n_found++;
  f->variant = variant;
  plumb_finding_judge (f, share, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "share");
  /* Nothing is nothing: no room to spare is told of. */
  if (f->verdict == PLUMB_HOLDS)
    f->sense = PLUMB_LIMIT_NONE;
  f->number[1] = plumb_vec3_length (
      plumb_vec3_sub (s->bodies->bodies[one.first].centre_m, work->e->beam.lens_m));
  if (f->verdict == PLUMB_FAILS)
    {
      f->number[0] = plumb_shadow_only_dims (work, s->seen, s->bodies, one.first, one.last);
      f->assumed = f->number[0] > 0.0 && !PLUMB_TYPED (machine, work->machine, lens_diameter_m);
      cure (s, group, f);
    }
  return f;
}

/* All seats as one finding, about the head that takes most. */
static void
check_seats (Shadows *s)
{
  PlumbWork *work = s->work;
  PlumbBodies *b = s->bodies;
  Group all = { 0, work->e->n_seats };
  uint32_t casting = 0, worst = 0;
  double most = 0.0, share = all.last > 0 ? group_share (s, all, work->e->beam.lens_m) : 0.0;

  if (share <= NO_SHARE)
    return;
  for (uint32_t i = 0, end; i < b->n_silhouettes; i = end)
    {
      for (end = i + 1; end < b->n_silhouettes && b->silhouettes[end].tag == b->silhouettes[i].tag; end++)
        ;
      double own = share_of (s->seen, &b->silhouettes[i], end - i);
      casting += own > NO_SHARE;
      if (own <= most)
        continue;
      most = own;
      worst = b->silhouettes[i].tag;
    }
  PlumbFinding *f = report (s, plumb_people_add (work, PLUMB_CHECK_PEOPLE_SHADOW, worst), PLUMB_V_SHADOW_SEATS, all,
                            (Group){ worst, worst + 1 }, share);
  f->number[2] = most;
  f->number[4] = casting;
  f->number[5] = work->e->n_seats;
}

uint32_t
plumb_walker_silhouettes (PlumbVec3 lens, const PlumbSeen *seen, const PlumbPerson *person, PlumbVec3 feet,
                          PlumbSilhouette out[2])
{
  PlumbFigure3d figure = plumb_figure_standing (
      feet, atan2 (person->end_y_m - person->y_m, person->end_x_m - person->x_m), person->stature_m);
  PlumbOccluder head = { .shape = PLUMB_OCCLUDER_ELLIPSOID, .centre_m = figure.head_centre_m,
                         .axis = { figure.head_axis[0], figure.head_axis[1], figure.head_axis[2] },
                         .half_m = figure.head_half_m };
  PlumbOccluder trunk = { .shape = PLUMB_OCCLUDER_HULL, .points = figure.trunk_m, .n_points = 8 };
  uint32_t n = plumb_silhouette (lens, &seen->frame, &seen->picture, &head, &out[0]);

  return n + plumb_silhouette (lens, &seen->frame, &seen->picture, &trunk, &out[n]);
}

/* Share that a walker shadows at a point of the path. */
static double
share_at (const Shadows *s, const PlumbPerson *person, double t)
{
  PlumbVec3 feet = plumb_vec3 (person->x_m + t * (person->end_x_m - person->x_m),
                               person->y_m + t * (person->end_y_m - person->y_m), person->floor_z_m);
  PlumbSilhouette found[2];

  return share_of (s->seen, found, plumb_walker_silhouettes (s->work->e->beam.lens_m, s->seen, person, feet, found));
}

/* Where on the path the shadow is greatest: the best of even steps, then by
 * thirds about it. */
static double
worst_place (const Shadows *s, const PlumbPerson *person, double *share)
{
  double at = 0.0;

  *share = 0.0;
  for (int k = 0; k <= PATH_STEPS; k++)
    {
      double here = share_at (s, person, (double) k / PATH_STEPS);
      if (here <= *share)
        continue;
      *share = here;
      at = (double) k / PATH_STEPS;
    }
  double low = fmax (0.0, at - 1.0 / PATH_STEPS), high = fmin (1.0, at + 1.0 / PATH_STEPS);
  for (int k = 0; k < PATH_ROUNDS && *share > 0.0; k++)
    {
      double a = low + (high - low) / 3.0, b = high - (high - low) / 3.0;
      if (share_at (s, person, a) < share_at (s, person, b))
        low = a;
      else
        high = b;
    }
  double closed_in = share_at (s, person, (low + high) / 2.0);
  if (closed_in <= *share)
    return at;
  *share = closed_in;
  return (low + high) / 2.0;
}

static void
check_walker (Shadows *s, uint32_t body)
{
  uint32_t record = s->bodies->bodies[body].who.index;
  const PlumbPerson *person = plumb_scene_person (s->work->scene, record);
  Group path = { body, body + 1 };
  double share, swept = group_share (s, path, s->work->e->beam.lens_m), t = worst_place (s, person, &share);

  PlumbFinding *f = report (s, plumb_work_add (s->work, PLUMB_CHECK_PEOPLE_SHADOW, PLUMB_RECORD_PERSON, record),
                            PLUMB_V_SHADOW_WALKING, path, path, share);
  f->number[2] = swept;
  f->number[3] = person->x_m + t * (person->end_x_m - person->x_m);
  f->number[4] = person->y_m + t * (person->end_y_m - person->y_m);
  f->number[1] = hypot (f->number[3] - s->work->e->beam.lens_m.x, f->number[4] - s->work->e->beam.lens_m.y);
}

static bool
same_who (PlumbWho a, PlumbWho b)
{
  return a.kind == b.kind && a.index == b.index;
}

/* The bodies from here on that are one record in one state. */
static Group
group_at (const PlumbBodies *b, uint32_t first, uint32_t end)
{
  Group group = { first, first + 1 };

  while (group.last < end && same_who (b->bodies[group.last].who, b->bodies[first].who)
         && b->bodies[group.last].state == b->bodies[first].state)
    group.last++;
  return group;
}

/* A solid at rest or, where that is worse, in one of its states. */
static void
check_solid (Shadows *s, Group rest)
{
  const PlumbBodies *b = s->bodies;
  PlumbWho who = b->bodies[rest.first].who;
  PlumbVec3 lens = s->work->e->beam.lens_m;
  Group worst = rest;
  double most = group_share (s, rest, lens);

  for (uint32_t i = b->n_rest; i < b->n_moved;)
    {
      Group state = group_at (b, i, b->n_moved);
      double share = same_who (b->bodies[i].who, who) ? group_share (s, state, lens) : 0.0;
      if (share > most + NO_SHARE)
        {
          most = share;
          worst = state;
        }
      i = state.last;
    }
  if (most <= NO_SHARE)
    return;
  uint32_t in_state = b->bodies[worst.first].state;
  PlumbRecordKind kind = who.kind == PLUMB_WHO_STRUCTURE ? PLUMB_RECORD_STRUCTURE : PLUMB_RECORD_BLOCKER;
  PlumbFinding *f = report (s, plumb_work_add (s->work, PLUMB_CHECK_PEOPLE_SHADOW, kind, who.index),
                            in_state != PLUMB_NO_INDEX ? PLUMB_V_SHADOW_MOVER : PLUMB_V_SHADOW, worst, worst,
                            most);
  f->subject.sub = in_state;
  f->number[5] = in_state != PLUMB_NO_INDEX ? in_state + 1.0 : 0.0;
}

static void
check_others (Shadows *s)
{
  const PlumbBodies *b = s->bodies;

  for (uint32_t i = s->work->e->n_seats; i < b->n_people; i++)
    {
      Group one = { i, i + 1 };
      report (s, plumb_work_add (s->work, PLUMB_CHECK_PEOPLE_SHADOW, PLUMB_RECORD_PERSON, b->bodies[i].who.index),
              PLUMB_V_SHADOW, one, one, group_share (s, one, s->work->e->beam.lens_m));
    }
  for (uint32_t i = b->n_moved; i < b->n_bodies; i++)
    check_walker (s, i);
  for (uint32_t i = b->n_people; i < b->n_rest;)
    {
      Group solid = group_at (b, i, b->n_rest);
      if (b->bodies[i].who.kind != PLUMB_WHO_MACHINE)
        check_solid (s, solid);
      i = solid.last;
    }
}

bool
plumb_check_shadows (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies)
{
  Shadows s = { .work = work, .seen = seen, .bodies = bodies };

  if (!plumb_bodies_project_rest (bodies, seen, work->e->beam.lens_m, (PlumbWho){ PLUMB_WHO_MACHINE, 0 }))
    return false;
  plumb_work_figure (work, PLUMB_FIGURE_picture_shadow_share, 0,
                     share_of (seen, bodies->silhouettes, bodies->n_silhouettes), 0.0);
  check_seats (&s);
  check_others (&s);
  if (s.n_found == 0)
    plumb_work_add (work, PLUMB_CHECK_PEOPLE_SHADOW, PLUMB_RECORD_NONE, PLUMB_NO_INDEX)->variant
        = PLUMB_V_SHADOW_NOBODY;
  return !s.out_of_memory;
}
