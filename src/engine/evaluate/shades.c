/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/shades.h"

#include <stdlib.h>
#include <string.h>

#include "people-private.h"
#include "plumbeam/variants.h"

/* Less of the picture than this is rounding. */
#define NO_SHARE 1e-9

/* The evaluation is worked on as a copy: bodies point into it. */
typedef struct {
  PlumbEvaluation e;
  PlumbWork work;
  PlumbSeen seen;
  PlumbBodies bodies;
  PlumbShades *out;
  uint32_t capacity; /* of the shades */
} Shading;

static bool
same_who (PlumbWho a, PlumbWho b)
{
  return a.kind == b.kind && a.index == b.index;
}

/* *anything: whether there is something to work out. False when out of memory. */
static bool
begin (Shading *s, const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbShades *out, bool *anything)
{
  *s = (Shading){ .e = *evaluation, .out = out };
  *out = (PlumbShades){ 0 };
  s->work = (PlumbWork){ .scene = scene, .resolved = plumb_scene_resolved (scene), .e = &s->e };
  *anything = s->e.has_raw && s->e.target.valid && s->e.solved && s->work.resolved != NULL
              && s->work.resolved->building != NULL;
  if (!*anything)
    return true;
  s->work.machine = plumb_scene_machine (scene, s->e.machine);
  s->seen = plumb_seen_of (&s->e);
  out->picture = s->seen.picture;
  if (!plumb_bodies_make (&s->work, &s->bodies))
    return false;
  for (uint32_t i = 0; i < s->e.n_seats && i < s->work.resolved->n_seats; i++)
    s->bodies.no_room[i] = s->e.seats[i].no_room;
  return true;
}

static double
share_of (const Shading *s, const PlumbSilhouette *silhouettes, uint32_t n)
{
  double picture_m2 = s->seen.picture.width_m * s->seen.picture.height_m;

  return picture_m2 > 0.0 ? plumb_clamp (plumb_silhouettes_area_m2 (silhouettes, n) / picture_m2, 0.0, 1.0) : 0.0;
}

/* Appends a shade with copies of its silhouettes, unless it is none. */
static bool
add (Shading *s, PlumbShade shade, const PlumbSilhouette *silhouettes, uint32_t n)
{
  PlumbShades *out = s->out;

  shade.share = share_of (s, silhouettes, n);
  if (shade.share <= NO_SHARE)
    return true;
  if (out->n_shades == s->capacity)
    {
      uint32_t capacity = 2 * s->capacity + 8;
      PlumbShade *grown = realloc (out->shades, capacity * sizeof *grown);
      if (grown == NULL)
        return false;
      out->shades = grown;
      s->capacity = capacity;
    }
  PlumbSilhouette *more = realloc (out->silhouettes, ((size_t) out->n_silhouettes + n) * sizeof *more);
  if (more == NULL)
    return false;
  memcpy (more + out->n_silhouettes, silhouettes, n * sizeof *more);
  out->silhouettes = more;
  shade.first = out->n_silhouettes;
  shade.n = n;
  out->n_silhouettes += n;
  out->shades[out->n_shades++] = shade;
  return true;
}

/* A shade for each record and state of silhouettes first to last in the
 * bodies' buffer; what belongs together lies together. */
static bool
add_each (Shading *s, uint32_t first, uint32_t last, bool from_lens)
{
  const PlumbBodies *b = &s->bodies;

  for (uint32_t i = first, end; i < last; i = end)
    {
      const PlumbBody *body = &b->bodies[b->silhouettes[i].tag];
      for (end = i + 1; end < last && same_who (b->bodies[b->silhouettes[end].tag].who, body->who)
                        && b->bodies[b->silhouettes[end].tag].state == body->state;
           end++)
        ;
      PlumbShade shade = { .who = body->who, .state = body->state };
      shade.dims
          = from_lens
            && plumb_shadow_only_dims (&s->work, &s->seen, b, b->silhouettes[i].tag, b->silhouettes[end - 1].tag + 1);
      if (!add (s, shade, &b->silhouettes[i], end - i))
        return false;
    }
  return true;
}

/* Behind what is in the buffer: every body of a mover in one state. */
static bool
project_state (Shading *s, PlumbVec3 from, PlumbWho mover, uint32_t state)
{
  PlumbBodies *b = &s->bodies;

  for (uint32_t i = b->n_rest; i < b->n_moved; i++)
    if (b->bodies[i].state == state && same_who (b->bodies[i].who, mover)
        && !plumb_bodies_project (b, &s->seen, from, i))
      return false;
  return true;
}

/* ---- from the lens ------------------------------------------------------------------ */

static bool
add_walker (Shading *s, const PlumbFinding *f)
{
  PlumbSilhouette found[2];
  const PlumbPerson *person = plumb_scene_person (s->work.scene, f->subject.index);
  PlumbVec3 feet = plumb_vec3 (f->number[3], f->number[4], person->floor_z_m);
  uint32_t n = plumb_walker_silhouettes (s->e.beam.lens_m, &s->seen, person, feet, found);
  PlumbShade shade = { .who = { PLUMB_WHO_PERSON, f->subject.index },
                       .state = PLUMB_NO_INDEX,
                       .walking = true,
                       .dims = f->number[0] > 0.0 };

  return n == 0 || add (s, shade, found, n);
}

static bool
add_moved (Shading *s, const PlumbFinding *f)
{
  uint32_t before = s->bodies.n_silhouettes;
  PlumbWho mover = { PLUMB_WHO_BLOCKER, f->subject.index };

  return project_state (s, s->e.beam.lens_m, mover, f->subject.sub)
         && add_each (s, before, s->bodies.n_silhouettes, true);
}

static bool
shade_from_lens (Shading *s)
{
  if (!plumb_bodies_project_rest (&s->bodies, &s->seen, s->e.beam.lens_m, (PlumbWho){ PLUMB_WHO_MACHINE, 0 })
      || !add_each (s, 0, s->bodies.n_silhouettes, true))
    return false;
  for (uint32_t i = 0; i < s->e.n_findings; i++)
    {
      const PlumbFinding *f = &s->e.findings[i];
      if (f->check != PLUMB_CHECK_PEOPLE_SHADOW)
        continue;
      if ((f->variant == PLUMB_V_SHADOW_WALKING && !add_walker (s, f))
          || (f->variant == PLUMB_V_SHADOW_MOVER && !add_moved (s, f)))
        return false;
    }
  return true;
}

/* ---- from a seat --------------------------------------------------------------------- */

/* The buffer's first n, those of the mover at rest left out. */
static void
leave_out (PlumbBodies *b, uint32_t n_rest, PlumbWho mover)
{
  uint32_t kept = 0;

  for (uint32_t i = 0; i < b->n_silhouettes; i++)
    if (i >= n_rest || !same_who (b->bodies[b->silhouettes[i].tag].who, mover))
      b->silhouettes[kept++] = b->silhouettes[i];
  b->n_silhouettes = kept;
}

/* The mover whose state of this number hides most, all others at rest. */
static bool
worst_mover (Shading *s, PlumbVec3 eye, PlumbWho seat, uint32_t state, PlumbWho *mover)
{
  PlumbBodies *b = &s->bodies;
  double most = -1.0;

  *mover = (PlumbWho){ PLUMB_WHO_NOBODY, 0 };
  for (uint32_t i = b->n_rest; i < b->n_moved; i++)
    {
      PlumbWho who = b->bodies[i].who;
      if (b->bodies[i].state != state || same_who (who, *mover))
        continue;
      if (!plumb_bodies_project_rest (b, &s->seen, eye, seat))
        return false;
      uint32_t n_rest = b->n_silhouettes;
      if (!project_state (s, eye, who, state))
        return false;
      leave_out (b, n_rest, who);
      double share = share_of (s, b->silhouettes, b->n_silhouettes);
      if (share <= most)
        continue;
      most = share;
      *mover = who;
    }
  return true;
}

static bool
shade_from_seat (Shading *s, uint32_t index)
{
  PlumbBodies *b = &s->bodies;
  const PlumbSeatFigures *seat = &s->e.seats[index];
  PlumbVec3 eye = s->work.resolved->seats[index].eye_m;
  PlumbWho self = { PLUMB_WHO_SEAT, index }, mover = { PLUMB_WHO_NOBODY, 0 };

  if (!seat->before_picture || seat->no_room)
    return true;
  if (seat->hidden_state != PLUMB_NO_INDEX && !worst_mover (s, eye, self, seat->hidden_state, &mover))
    return false;
  if (!plumb_bodies_project_rest (b, &s->seen, eye, self))
    return false;
  uint32_t n_rest = b->n_silhouettes;
  if (mover.kind != PLUMB_WHO_NOBODY)
    {
      if (!project_state (s, eye, mover, seat->hidden_state))
        return false;
      leave_out (b, n_rest, mover);
    }
  return add_each (s, 0, b->n_silhouettes, false);
}

/* ---- public --------------------------------------------------------------------------- */

static bool
end (Shading *s, bool fine)
{
  plumb_bodies_clear (&s->bodies);
  if (!fine)
    plumb_shades_clear (s->out);
  return fine;
}

bool
plumb_shades_of_lens (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbShades *out)
{
  Shading s;
  bool anything, fine = begin (&s, scene, evaluation, out, &anything);

  if (fine && anything)
    fine = shade_from_lens (&s);
  return end (&s, fine);
}

bool
plumb_shades_of_seat (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t seat, PlumbShades *out)
{
  Shading s;
  bool anything, fine = begin (&s, scene, evaluation, out, &anything);

  if (fine && anything && seat < s.e.n_seats && seat < s.work.resolved->n_seats)
    fine = shade_from_seat (&s, seat);
  return end (&s, fine);
}

void
plumb_shades_clear (PlumbShades *shades)
{
  free (shades->shades);
  free (shades->silhouettes);
  *shades = (PlumbShades){ 0 };
}
