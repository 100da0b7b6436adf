/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Everything that may stand before the picture, as exact convex bodies with a
 * sphere round each.
 */
#include <stdlib.h>
#include <string.h>

#include "people-private.h"

/* ---- adding -------------------------------------------------------------------- */

static PlumbBody *
add_body (PlumbBodies *b, PlumbWho who, PlumbVec3 centre, double radius)
{
  PlumbBody *body = &b->bodies[b->n_bodies++];

  *body = (PlumbBody){ .who = who, .state = PLUMB_NO_INDEX, .first = b->n_occluders, .centre_m = centre,
                       .radius_m = radius };
  return body;
}

static void
add_occluder (PlumbBodies *b, PlumbBody *body, PlumbOccluder occluder)
{
  occluder.tag = (uint32_t) (body - b->bodies);
  b->occluders[b->n_occluders++] = occluder;
  body->n++;
}

static void
add_figure (PlumbBodies *b, PlumbWho who, const PlumbFigure3d *figure)
{
  PlumbBody *body = add_body (b, who, figure->bound_centre_m, figure->bound_radius_m);
  PlumbOccluder head = { .shape = PLUMB_OCCLUDER_ELLIPSOID, .centre_m = figure->head_centre_m,
                         .half_m = figure->head_half_m };
  PlumbOccluder trunk = { .shape = PLUMB_OCCLUDER_HULL, .points = figure->trunk_m, .n_points = 8 };

  memcpy (head.axis, figure->head_axis, sizeof head.axis);
  add_occluder (b, body, head);
  add_occluder (b, body, trunk);
}

static PlumbWho
who_of (PlumbSurfaceId surface)
{
  return (PlumbWho){ surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? PLUMB_WHO_STRUCTURE : PLUMB_WHO_BLOCKER,
                     surface.record };
}

static PlumbOccluder
curved (const PlumbSolid *solid)
{
  PlumbOccluder out = { .shape = solid->shape == PLUMB_SOLID_CYLINDER ? PLUMB_OCCLUDER_CYLINDER
                                                                      : PLUMB_OCCLUDER_ELLIPSOID,
                        .centre_m = solid->centre_m,
                        .half_m = solid->half_m };

  memcpy (out.axis, solid->axis, sizeof out.axis);
  return out;
}

static void
add_solid (const PlumbWork *work, PlumbBodies *b, uint32_t i)
{
  const PlumbBuilding *building = work->resolved->building;
  const PlumbSolid *solid = &building->solids[i];
  PlumbBody *body = add_body (b, who_of (solid->surface), solid->centre_m, solid->bound_radius_m);

  add_occluder (b, body,
                solid->shape == PLUMB_SOLID_POLYHEDRON
                    ? (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL,
                                       .points = &building->corners[solid->first_corner],
                                       .n_points = solid->n_corners }
                    : curved (solid));
}

static void
add_state (const PlumbWork *work, PlumbBodies *b, uint32_t i, const PlumbBlockerState *state, uint32_t index)
{
  PlumbSolid solid;
  PlumbVec3 *corners = &b->points[b->n_points];
  PlumbConvex moved = plumb_work_moved_solid (work->resolved->building, i, state, &solid, corners);
  PlumbBody *body = add_body (b, who_of (solid.surface), solid.centre_m, solid.bound_radius_m);

  body->state = index;
  add_occluder (b, body,
                moved.n_points > 0 ? (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = corners,
                                                      .n_points = (uint32_t) moved.n_points }
                                   : curved (&solid));
  b->n_points += (uint32_t) moved.n_points;
}

static bool
same_surface (const PlumbSolid *a, const PlumbSolid *b)
{
  return a->surface.kind == b->surface.kind && a->surface.record == b->surface.record;
}

const PlumbBlockerState *
plumb_work_states_of (const PlumbWork *work, uint32_t i, uint32_t *n)
{
  const PlumbSolid *solid = &work->resolved->building->solids[i];

  *n = 0;
  if (!solid->exposed || solid->surface.kind != PLUMB_SURFACE_OF_BLOCKER
      || !plumb_scene_blocker (work->scene, solid->surface.record)->movable)
    return NULL;
  return plumb_scene_nested (work->scene, PLUMB_RECORD_BLOCKER_STATE, solid->surface.record, n);
}

/* ---- people --------------------------------------------------------------------- */

static void
add_people (const PlumbWork *work, PlumbBodies *b)
{
  uint32_t n_persons;
  const PlumbPerson *persons = plumb_scene_person_records (work->scene, &n_persons);

  for (uint32_t i = 0; i < work->resolved->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &work->resolved->seats[i];
      b->figures[i]
          = plumb_figure_sitting (seat->eye_m, seat->facing_rad, seat->head_above_eye_m, seat->floor_z_m);
      add_figure (b, (PlumbWho){ PLUMB_WHO_SEAT, i }, &b->figures[i]);
    }
  for (uint32_t i = 0; i < n_persons; i++)
    {
      b->persons[i] = plumb_person_figure (&persons[i]);
      /* Somebody walking is in no place; the shadow check takes the whole path. */
      if (persons[i].posture != PLUMB_POSTURE_WALKING)
        add_figure (b, (PlumbWho){ PLUMB_WHO_PERSON, i }, &b->persons[i]);
    }
}

static void
add_machine (const PlumbWork *work, PlumbBodies *b)
{
  const PlumbVec3 *corner = work->e->body_corner_m;
  PlumbVec3 centre = plumb_vec3 (0.0, 0.0, 0.0);
  double radius = 0.0;

  for (int i = 0; i < 8; i++)
    centre = plumb_vec3_along (centre, corner[i], 1.0 / 8.0);
  for (int i = 0; i < 8; i++)
    radius = fmax (radius, plumb_vec3_length (plumb_vec3_sub (corner[i], centre)));
  PlumbBody *body = add_body (b, (PlumbWho){ PLUMB_WHO_MACHINE, work->e->machine }, centre, radius);
  add_occluder (b, body, (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = corner, .n_points = 8 });
}

/* ---- people on their way ----------------------------------------------------------- */

/* A body that moves straight sweeps the hull of its ends. The head's ellipsoid
 * is put round with corners on rings of latitude, 30° apart each way: the
 * faces between them come no nearer than cos 15° squared of a corner. */
#define RING 12
#define RINGS 5
#define SWEPT_HEAD_POINTS (2 * (RING * RINGS + 2))
#define SWEPT_TRUNK_POINTS 16

static PlumbVec3
on_head (const PlumbFigure3d *figure, double x, double y, double z)
{
  const double round = 1.0 / (cos (PLUMB_PI / 12.0) * cos (PLUMB_PI / 12.0));
  PlumbVec3 at = plumb_vec3_along (figure->head_centre_m, figure->head_axis[0], round * x * figure->head_half_m.x);

  at = plumb_vec3_along (at, figure->head_axis[1], round * y * figure->head_half_m.y);
  return plumb_vec3_along (at, figure->head_axis[2], round * z * figure->head_half_m.z);
}

static uint32_t
head_corners (const PlumbFigure3d *figure, PlumbVec3 *out)
{
  uint32_t n = 0;

  out[n++] = on_head (figure, 0.0, 0.0, 1.0);
  out[n++] = on_head (figure, 0.0, 0.0, -1.0);
  for (int ring = 0; ring < RINGS; ring++)
    for (int k = 0; k < RING; k++)
      {
        double up = PLUMB_PI / 6.0 * (ring - RINGS / 2), round = 2.0 * PLUMB_PI / RING * k;
        out[n++] = on_head (figure, cos (up) * cos (round), cos (up) * sin (round), sin (up));
      }
  return n;
}

static void
add_swept_person (PlumbBodies *b, uint32_t i, const PlumbPerson *person)
{
  PlumbVec3 way = plumb_vec3 (person->end_x_m - person->x_m, person->end_y_m - person->y_m, 0.0);
  const PlumbFigure3d *figure = &b->persons[i];
  PlumbVec3 *points = &b->points[b->n_points];
  uint32_t n_head = head_corners (figure, points);
  PlumbBody *body
      = add_body (b, (PlumbWho){ PLUMB_WHO_PERSON, i }, plumb_vec3_along (figure->bound_centre_m, way, 0.5),
                  figure->bound_radius_m + 0.05 + plumb_vec3_length (way) / 2.0);

  for (uint32_t k = 0; k < n_head; k++)
    points[n_head + k] = plumb_vec3_add (points[k], way);
  PlumbVec3 *trunk = points + 2 * (size_t) n_head;
  for (int k = 0; k < 8; k++)
    {
      trunk[k] = figure->trunk_m[k];
      trunk[8 + k] = plumb_vec3_add (figure->trunk_m[k], way);
    }
  add_occluder (b, body, (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = points, .n_points = 2 * n_head });
  add_occluder (b, body,
                (PlumbOccluder){ .shape = PLUMB_OCCLUDER_HULL, .points = trunk, .n_points = SWEPT_TRUNK_POINTS });
  b->n_points += 2 * n_head + SWEPT_TRUNK_POINTS;
}

static void
add_swept (const PlumbWork *work, PlumbBodies *b)
{
  uint32_t n_persons;
  const PlumbPerson *persons = plumb_scene_person_records (work->scene, &n_persons);

  for (uint32_t i = 0; i < n_persons; i++)
    if (persons[i].posture == PLUMB_POSTURE_WALKING)
      add_swept_person (b, i, &persons[i]);
}

/* ---- all -------------------------------------------------------------------------- */

static bool
make_tree (PlumbBodies *b)
{
  PlumbVec3 *centres = malloc (((size_t) b->n_rest + 1) * sizeof *centres);
  double *radii = malloc (((size_t) b->n_rest + 1) * sizeof *radii);
  bool fine = centres != NULL && radii != NULL;

  for (uint32_t i = 0; fine && i < b->n_rest; i++)
    {
      centres[i] = b->bodies[i].centre_m;
      radii[i] = b->bodies[i].radius_m;
    }
  fine = fine && plumb_body_tree_make (centres, radii, b->n_rest, &b->tree);
  free (centres);
  free (radii);
  return fine;
}

static bool
allocate (const PlumbWork *work, PlumbBodies *b)
{
  const PlumbBuilding *building = work->resolved->building;
  uint32_t n_seats = work->resolved->n_seats, n_persons, n_states;
  size_t states = 0;

  plumb_scene_person_records (work->scene, &n_persons);
  for (uint32_t i = 0; i < building->n_solids; i++)
    {
      plumb_work_states_of (work, i, &n_states);
      states += n_states;
    }
  size_t n = (size_t) n_seats + n_persons + building->n_solids + states + 1;
  b->bodies = malloc (n * sizeof *b->bodies);
  b->occluders = malloc ((n + n_seats + n_persons) * sizeof *b->occluders);
  b->figures = malloc (((size_t) n_seats + 1) * sizeof *b->figures);
  b->no_room = calloc ((size_t) n_seats + 1, sizeof *b->no_room);
  b->persons = malloc (((size_t) n_persons + 1) * sizeof *b->persons);
  b->points = malloc ((states * PLUMB_MOVED_MAX_CORNERS + (size_t) n_persons * (SWEPT_HEAD_POINTS + SWEPT_TRUNK_POINTS) + 1)
                      * sizeof *b->points);
  b->found = malloc ((2 * n + n_seats + n_persons) * sizeof *b->found);
  return b->bodies != NULL && b->occluders != NULL && b->figures != NULL && b->no_room != NULL
         && b->persons != NULL && b->points != NULL && b->found != NULL;
}

bool
plumb_bodies_make (const PlumbWork *work, PlumbBodies *b)
{
  const PlumbBuilding *building = work->resolved->building;
  uint32_t n_states;

  *b = (PlumbBodies){ 0 };
  if (!allocate (work, b))
    {
      plumb_bodies_clear (b);
      return false;
    }
  add_people (work, b);
  b->n_people = b->n_bodies;
  for (uint32_t i = 0; i < building->n_solids; i++)
    if (building->solids[i].exposed)
      add_solid (work, b, i);
  add_machine (work, b);
  b->n_rest = b->n_bodies;
  /* Pieces of one record lie together; those of one state shall too. */
  for (uint32_t i = 0, end; i < building->n_solids; i = end)
    {
      const PlumbBlockerState *states = plumb_work_states_of (work, i, &n_states);
      for (end = i + 1; end < building->n_solids && same_surface (&building->solids[i], &building->solids[end]); end++)
        ;
      for (uint32_t k = 0; k < n_states; k++)
        for (uint32_t piece = i; piece < end; piece++)
          add_state (work, b, piece, &states[k], k);
    }
  b->n_moved = b->n_bodies;
  add_swept (work, b);
  if (make_tree (b))
    return true;
  plumb_bodies_clear (b);
  return false;
}

void
plumb_bodies_clear (PlumbBodies *b)
{
  plumb_body_tree_clear (&b->tree);
  free (b->bodies);
  free (b->occluders);
  free (b->figures);
  free (b->no_room);
  free (b->persons);
  free (b->points);
  free (b->found);
  free (b->silhouettes);
  *b = (PlumbBodies){ 0 };
}

/* ---- silhouettes --------------------------------------------------------------------- */

bool
plumb_bodies_reserve (PlumbBodies *b, uint32_t n)
{
  if (n <= b->silhouettes_capacity)
    return true;
  uint32_t capacity = n < 16 ? 16 : 2 * n;
  PlumbSilhouette *grown = realloc (b->silhouettes, capacity * sizeof *grown);
  if (grown == NULL)
    return false;
  b->silhouettes = grown;
  b->silhouettes_capacity = capacity;
  return true;
}

static bool
add_silhouette (PlumbBodies *b, const PlumbSeen *seen, PlumbVec3 from, uint32_t occluder)
{
  if (!plumb_bodies_reserve (b, b->n_silhouettes + 1))
    return false;
  b->n_silhouettes += plumb_silhouette (from, &seen->frame, &seen->picture, &b->occluders[occluder],
                                        &b->silhouettes[b->n_silhouettes]);
  return true;
}

bool
plumb_bodies_project (PlumbBodies *b, const PlumbSeen *seen, PlumbVec3 from, uint32_t body)
{
  const PlumbBody *one = &b->bodies[body];
  bool fine = true;

  if (!plumb_occluder_near (from, &seen->frame, &seen->picture, one->centre_m, one->radius_m))
    return true;
  for (uint32_t k = one->first; fine && k < one->first + one->n; k++)
    fine = add_silhouette (b, seen, from, k);
  return fine;
}

static int
larger_first (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x < y) - (x > y);
}

/* In their order; room for twice as many as are kept. */
static void
keep_largest (PlumbBodies *b)
{
  double areas[2 * PLUMB_MOST_SILHOUETTES + 8];
  uint32_t kept = 0, n = b->n_silhouettes;

  for (uint32_t i = 0; i < n; i++)
    areas[i] = b->silhouettes[i].area_m2;
  qsort (areas, n, sizeof *areas, larger_first);
  double least = areas[PLUMB_MOST_SILHOUETTES - 1];
  for (uint32_t i = 0; i < n && kept < PLUMB_MOST_SILHOUETTES; i++)
    if (b->silhouettes[i].area_m2 >= least)
      b->silhouettes[kept++] = b->silhouettes[i];
  b->n_silhouettes = kept;
}

/* Shell's sort: few, and mostly in order already. */
static void
sort_indices (uint32_t *at, uint32_t n)
{
  static const uint32_t gaps[] = { 301, 57, 10, 1 };

  for (size_t g = 0; g < sizeof gaps / sizeof gaps[0]; g++)
    for (uint32_t i = gaps[g]; i < n; i++)
      {
        uint32_t one = at[i], k = i;
        for (; k >= gaps[g] && at[k - gaps[g]] > one; k -= gaps[g])
          at[k] = at[k - gaps[g]];
        at[k] = one;
      }
}

/* In place of the bodies found, those of their occluders that come before the
 * picture; in the order of the records, so that pieces of one lie together. */
static uint32_t
occluders_of_found (PlumbBodies *b, const PlumbPyramid *pyramid, uint32_t n_found, PlumbWho without)
{
  uint32_t *bodies = b->found, *occluders = b->found + b->n_rest, n = 0;

  for (uint32_t i = 0; i < n_found; i++)
    {
      const PlumbBody *body = &b->bodies[bodies[i]];
      bool left_out = body->who.kind == PLUMB_WHO_SEAT && b->no_room[body->who.index];
      left_out |= body->who.kind == without.kind
                  && (body->who.index == without.index || body->who.kind == PLUMB_WHO_MACHINE);
      if (left_out || !plumb_pyramid_meets_ball (pyramid, body->centre_m, body->radius_m))
        continue;
      for (uint32_t k = body->first; k < body->first + body->n; k++)
        if (plumb_pyramid_meets (pyramid, &b->occluders[k]))
          occluders[n++] = k;
    }
  sort_indices (occluders, n);
  return n;
}

bool
plumb_bodies_project_rest (PlumbBodies *b, const PlumbSeen *seen, PlumbVec3 from, PlumbWho without)
{
  PlumbPyramid pyramid;

  b->n_silhouettes = 0;
  if (!plumb_pyramid_make (from, &seen->frame, &seen->picture, &pyramid))
    return true;
  uint32_t n_found = plumb_body_tree_between (&b->tree, from, seen->corner_m, b->found);
  uint32_t n = occluders_of_found (b, &pyramid, n_found, without);
  for (uint32_t i = 0; i < n; i++)
    {
      if (!add_silhouette (b, seen, from, b->found[b->n_rest + i]))
        return false;
      if (b->n_silhouettes >= 2 * PLUMB_MOST_SILHOUETTES)
        keep_largest (b);
    }
  if (b->n_silhouettes > PLUMB_MOST_SILHOUETTES)
    keep_largest (b);
  return true;
}
