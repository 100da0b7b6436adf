/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The beam of the picture (lens point and the picture's corners, a pyramid)
 * against every exposed solid and against the room's own faces.
 */
#include <stdlib.h>
#include <string.h>

#include "plumbeam/variants.h"
#include "people-private.h"

/* Nobody moves a machine further for one obstacle; and none that matters is
 * thinner than the step. */
#define CURE_SEARCH_M 1.0
#define CURE_STEP_M 0.05
#define BLOCKER_SEARCH_M 5.0
#define CURE_RESIDUAL_M 1e-6

static void
picture_pyramid (const PlumbWork *work, PlumbVec3 points[5])
{
  const PlumbEvaluation *e = work->e;
  PlumbQuad corners = plumb_rect_corners (e->has_picture ? &e->picture : &work->wanted);

  points[0] = e->beam.lens_m;
  for (int i = 0; i < 4; i++)
    points[i + 1]
        = plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, corners.corner[i].x),
                            e->target.frame.v, corners.corner[i].y);
}

/* How the distance at the nearest point follows the tape: the point hangs on
 * the lens by what is left of the way to the picture, on the solid by its own
 * tape. */
static double
clearance_spread_m (const PlumbWork *work, const char *tape, PlumbVec3 on_beam, PlumbVec3 on_solid)
{
  const PlumbEvaluation *e = work->e;
  PlumbVec3 apart = plumb_vec3_sub (on_solid, on_beam);
  double distance = plumb_vec3_length (apart);
  double from_lens = fabs (plumb_vec3_dot (e->target.frame.n, plumb_vec3_sub (on_beam, e->beam.lens_m)));
  double throw_m = e->figures[PLUMB_FIGURE_throw_distance_m].value[0];
  double left = throw_m > 0.0 ? 1.0 - plumb_clamp (from_lens / throw_m, 0.0, 1.0) : 1.0;
  PlumbVec3 direction = distance > 0.0 ? plumb_vec3_scale (apart, 1.0 / distance) : e->beam.axes.w;
  double lens_u = left * plumb_work_lens_u_m (work, direction);
  double solid_u
      = plumb_scene_tape_u_m (work->scene, tape, plumb_vec3_length (plumb_vec3_sub (on_solid, e->beam.lens_m)));

  return 2.0
         * sqrt (lens_u * lens_u + solid_u * solid_u + e->target.u_m * e->target.u_m * (1.0 - left) * (1.0 - left));
}

static const char *
tape_of (const PlumbWork *work, PlumbSurfaceId surface)
{
  return surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? plumb_scene_structure (work->scene, surface.record)->tape
                                                    : plumb_scene_blocker (work->scene, surface.record)->tape;
}

static void
measure_solid (const PlumbWork *work, const PlumbVec3 pyramid[5], uint32_t i, PlumbClearance *out)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbConvex beam = { .points = pyramid, .n_points = 5 }, solid = plumb_solid_convex (building, i);

  *out = (PlumbClearance){ .solid = i };
  out->clearance_m = plumb_convex_distance (&beam, &solid, &out->on_beam_m, &out->on_solid_m);
  out->spread_m
      = clearance_spread_m (work, tape_of (work, building->solids[i].surface), out->on_beam_m, out->on_solid_m);
  for (uint32_t p = 0; p < work->e->cut.n_pieces; p++)
    {
      const PlumbBeamPiece *piece = &work->e->cut.pieces[p];
      if (piece->face != PLUMB_NO_INDEX && building->solids[i].n_faces > 0
          && piece->face >= building->solids[i].first_face
          && piece->face < building->solids[i].first_face + building->solids[i].n_faces)
        out->panel_share += piece->panel_share;
    }
}

static int
nearer (const void *a, const void *b)
{
  const PlumbClearance *x = a, *y = b;

  if (x->clearance_m != y->clearance_m)
    return x->clearance_m < y->clearance_m ? -1 : 1;
  return x->solid < y->solid ? -1 : x->solid > y->solid;
}

/* ---- the drop that frees the beam ------------------------------------------------ */

/* Distance if the first n_moved points of the pyramid move: 1 is the lens
 * alone, 5 the whole beam, which is the solid moved the other way. */
static double
distance_if_moved (const PlumbVec3 pyramid[5], int n_moved, const PlumbConvex *solid, PlumbVec3 move)
{
  PlumbVec3 moved[5];
  PlumbConvex beam = { .points = moved, .n_points = 5 };

  memcpy (moved, pyramid, sizeof moved);
  for (int i = 0; i < n_moved; i++)
    moved[i] = plumb_vec3_add (moved[i], move);
  return plumb_convex_distance (&beam, solid, NULL, NULL);
}

/* Smallest way along `direction` that leaves `wanted` metres. Bracketed to
 * 1e-6 m; HUGE_VAL if none within most_m. */
static double
way_to_clear_m (const PlumbVec3 pyramid[5], int n_moved, const PlumbConvex *solid, PlumbVec3 direction,
                double wanted_m, double most_m)
{
  double low = 0.0, high = CURE_STEP_M;

  while (distance_if_moved (pyramid, n_moved, solid, plumb_vec3_scale (direction, high)) < wanted_m)
    {
      low = high;
      high += fmax (CURE_STEP_M, high / 8.0);
      if (high > most_m)
        return HUGE_VAL;
    }
  while (high - low > CURE_RESIDUAL_M)
    {
      double middle = (low + high) / 2.0;
      if (distance_if_moved (pyramid, n_moved, solid, plumb_vec3_scale (direction, middle)) < wanted_m)
        low = middle;
      else
        high = middle;
    }
  return high;
}

static bool
hangs (const PlumbWork *work, uint32_t blocker)
{
  switch (plumb_scene_blocker (work->scene, blocker)->role)
    {
    case PLUMB_ROLE_DUCT:
    case PLUMB_ROLE_LAMP:
    case PLUMB_ROLE_SPEAKER:
    case PLUMB_ROLE_FAN:
    case PLUMB_ROLE_VENT:
      return true;
    default:
      return false;
    }
}

static void
cure_clearance (const PlumbWork *work, PlumbFinding *f, const PlumbVec3 pyramid[5], const PlumbConvex *solid,
                PlumbSurfaceId surface, double wanted_m)
{
  bool hung = work->place->carried == PLUMB_CARRIED_HUNG;
  PlumbVec3 u = work->e->target.frame.u, up = plumb_vec3 (0.0, 0.0, 1.0);
  const struct {
    PlumbVec3 direction;
    PlumbCure cure;
  } ways[4] = { { plumb_vec3_scale (up, -1.0), hung ? PLUMB_CURE_LONGER_DROP : PLUMB_CURE_DOWN },
                { up, hung ? PLUMB_CURE_SHORTER_DROP : PLUMB_CURE_UP },
                { u, PLUMB_CURE_RIGHT },
                { plumb_vec3_scale (u, -1.0), PLUMB_CURE_LEFT } };
  double best = HUGE_VAL;

  for (int i = 0; i < 4; i++)
    {
      double way
          = way_to_clear_m (pyramid, 1, solid, ways[i].direction, wanted_m, fmin (best, CURE_SEARCH_M) + CURE_STEP_M);
      /* No shorter drop than there is. */
      if (ways[i].cure == PLUMB_CURE_SHORTER_DROP && way > work->place->drop_m)
        continue;
      if (way < best)
        {
          best = way;
          f->cure = ways[i].cure;
          f->cure_amount = way;
        }
    }
  if (isfinite (best))
    return;
  /* Then the solid has to go: what hangs up, down or aside, what stands aside. */
  int first = surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? 4 : hangs (work, surface.record) ? 0 : 2;
  for (int i = first; i < 4; i++)
    best = fmin (best, way_to_clear_m (pyramid, 5, solid, ways[i].direction, wanted_m,
                                       fmin (best, BLOCKER_SEARCH_M) + CURE_STEP_M));
  f->cure = isfinite (best) ? PLUMB_CURE_MOVE_BLOCKER : PLUMB_CURE_NONE;
  f->cure_amount = isfinite (best) ? best : 0.0;
}

/* ---- movers --------------------------------------------------------------------------- */

PlumbConvex
plumb_work_moved_solid (const PlumbBuilding *building, uint32_t i, const PlumbBlockerState *state, PlumbSolid *solid,
                        PlumbVec3 corners[PLUMB_MOVED_MAX_CORNERS])
{
  double c = cos (state->turn_rad), s = sin (state->turn_rad);
  PlumbVec3 hinge = plumb_vec3 (state->hinge_x_m, state->hinge_y_m, 0.0);
  PlumbVec3 move = plumb_vec3_add (hinge, plumb_vec3 (state->move_x_m, state->move_y_m, state->move_z_m));
#define TURN(v) plumb_vec3 (c *(v).x - s * (v).y, s * (v).x + c * (v).y, (v).z)

  *solid = building->solids[i];
  PlumbVec3 from_hinge = plumb_vec3_sub (solid->centre_m, hinge);
  solid->centre_m = plumb_vec3_add (TURN (from_hinge), move);
  for (int k = 0; k < 3; k++)
    solid->axis[k] = TURN (solid->axis[k]);
  uint32_t n = solid->shape == PLUMB_SOLID_POLYHEDRON ? solid->n_corners : 0;
  if (n > PLUMB_MOVED_MAX_CORNERS)
    n = PLUMB_MOVED_MAX_CORNERS;
  for (uint32_t k = 0; k < n; k++)
    {
      PlumbVec3 at = plumb_vec3_sub (building->corners[solid->first_corner + k], hinge);
      corners[k] = plumb_vec3_add (TURN (at), move);
    }
#undef TURN
  return (PlumbConvex){ .points = corners, .n_points = n, .solid = n > 0 ? NULL : solid };
}

/* Worst of a mover's states: writes its clearance and returns the state, -1
 * when the rest is worst. */
static int
worst_state (const PlumbWork *work, const PlumbVec3 pyramid[5], PlumbClearance *at_rest)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbSurfaceId surface = building->solids[at_rest->solid].surface;
  PlumbConvex beam = { .points = pyramid, .n_points = 5 };
  uint32_t n;
  int worst = -1;

  const PlumbBlockerState *states = plumb_scene_nested (work->scene, PLUMB_RECORD_BLOCKER_STATE, surface.record, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbSolid solid;
      PlumbVec3 corners[PLUMB_MOVED_MAX_CORNERS], on_beam, on_solid;
      PlumbConvex convex = plumb_work_moved_solid (building, at_rest->solid, &states[i], &solid, corners);
      double distance = plumb_convex_distance (&beam, &convex, &on_beam, &on_solid);
      if (distance >= at_rest->clearance_m)
        continue;
      worst = (int) i;
      at_rest->clearance_m = distance;
      at_rest->on_beam_m = on_beam;
      at_rest->on_solid_m = on_solid;
      at_rest->spread_m = clearance_spread_m (work, tape_of (work, surface), on_beam, on_solid);
    }
  return worst;
}

/* ---- findings --------------------------------------------------------------------------- */

/* One finding per record: its nearest solid, since the clearances are sorted.
 * seen has a flag per blocker, then one per structure. */
static bool
is_first_of_record (const PlumbWork *work, uint32_t at, bool *seen, uint32_t n_blockers)
{
  PlumbSurfaceId surface = work->resolved->building->solids[work->e->clearances[at].solid].surface;
  bool *flag = &seen[surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? n_blockers + surface.record : surface.record];
  bool first = !*flag;

  *flag = true;
  return first;
}

static void
report_solid (PlumbWork *work, const PlumbVec3 pyramid[5], const PlumbClearance *c, int state)
{
  const PlumbSolid *solid = &work->resolved->building->solids[c->solid];
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_CLEAR_BLOCKER,
                                    solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? PLUMB_RECORD_STRUCTURE
                                                                                      : PLUMB_RECORD_BLOCKER,
                                    solid->surface.record);
  double least = plumb_work_limit (work, "beam.clearance_least", f);

  plumb_finding_judge (f, c->clearance_m, c->spread_m, PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->subject.sub = state >= 0                                          ? (uint32_t) state
                   : solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? solid->member
                                                                       : PLUMB_NO_INDEX;
  f->variant = c->clearance_m <= 0.0   ? PLUMB_V_CUTS_PICTURE
               : c->panel_share > 1e-9 ? PLUMB_V_CUTS_DARK_PANEL
                                       : PLUMB_V_CLEAR;
  f->number[0] = c->panel_share;
  f->number[1] = plumb_vec3_length (plumb_vec3_sub (c->on_beam_m, work->e->beam.lens_m));
  f->number[2] = state;
  f->number[3] = solid->facet_error_m;
  if (f->verdict != PLUMB_FAILS)
    return;
  PlumbSolid moved;
  PlumbVec3 corners[PLUMB_MOVED_MAX_CORNERS];
  uint32_t n;
  PlumbConvex convex = plumb_solid_convex (work->resolved->building, c->solid);
  if (state >= 0)
    {
      const PlumbBlockerState *states
          = plumb_scene_nested (work->scene, PLUMB_RECORD_BLOCKER_STATE, solid->surface.record, &n);
      convex = plumb_work_moved_solid (work->resolved->building, c->solid, &states[state], &moved, corners);
    }
  cure_clearance (work, f, pyramid, &convex, solid->surface, least);
}

/* Panel shares of the picture alone that land on the room instead: each piece
 * of the cut clipped to the picture's pre-image. */
static void
picture_shares (const PlumbWork *work, double shares[PLUMB_N_SURFACES], double *wall_between)
{
  const PlumbEvaluation *e = work->e;
  PlumbHomography back;
  PlumbQuad corners = plumb_rect_corners (&e->picture), region;

  for (int i = 0; i < PLUMB_N_SURFACES; i++)
    shares[i] = 0.0;
  *wall_between = 0.0;
  if (!e->has_picture || !plumb_homography_invert (&e->to_screen, &back))
    return;
  for (int i = 0; i < 4; i++)
    if (!plumb_homography_apply (&back, corners.corner[i], &region.corner[i]))
      return;
  for (uint32_t p = 0; p < e->cut.n_pieces; p++)
    {
      const PlumbBeamPiece *piece = &e->cut.pieces[p];
      PlumbVec2 polygon[2][PLUMB_PIECE_MAX_POINTS + 4];
      size_t n = piece->n_points;
      if (piece->surface.kind == PLUMB_SURFACE_OF_SCREEN)
        continue;
      memcpy (polygon[0], piece->panel, n * sizeof polygon[0][0]);
      for (int i = 0; i < 4; i++)
        {
          PlumbVec2 edge = plumb_vec2_sub (region.corner[(i + 1) % 4], region.corner[i]);
          PlumbVec2 out = plumb_vec2 (edge.y, -edge.x);
          n = plumb_polygon_clip (polygon[i % 2], n, out, plumb_vec2_dot (out, region.corner[i]),
                                  polygon[(i + 1) % 2]);
        }
      double area = n >= 3 ? fabs (plumb_polygon_area (polygon[0], n)) : 0.0;
      shares[piece->surface.kind] += area;
      if (piece->surface.kind == PLUMB_SURFACE_OF_WALL)
        *wall_between += area;
    }
}

/* Nearest ceiling to the picture's beam; the cells are convex faces. */
static double
ceiling_distance_m (const PlumbWork *work, const PlumbVec3 pyramid[5], PlumbVec3 *on_beam, PlumbVec3 *on_ceiling,
                    uint32_t *ceiling)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbConvex beam = { .points = pyramid, .n_points = 5 };
  double least = HUGE_VAL;

  *ceiling = PLUMB_NO_INDEX;
  for (uint32_t i = 0; i < building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &building->cells[i];
      PlumbConvex face = { .points = cell->point, .n_points = cell->n_points };
      PlumbVec3 a, b;
      if (cell->space != work->e->target.space && cell->space != work->spot->space)
        continue;
      double distance = plumb_convex_distance (&beam, &face, &a, &b);
      if (distance >= least)
        continue;
      least = distance;
      *on_beam = a;
      *on_ceiling = b;
      *ceiling = cell->ceiling;
    }
  return least;
}

static void
check_room (PlumbWork *work, const PlumbVec3 pyramid[5])
{
  double shares[PLUMB_N_SURFACES], walls;
  PlumbVec3 on_beam = pyramid[0], on_ceiling = pyramid[0];
  uint32_t ceiling;
  double distance = ceiling_distance_m (work, pyramid, &on_beam, &on_ceiling, &ceiling);
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_CLEAR_CEILING,
                                    ceiling == PLUMB_NO_INDEX ? PLUMB_RECORD_NONE : PLUMB_RECORD_CEILING, ceiling);
  double least = plumb_work_limit (work, "beam.clearance_least", f);
  const char *tape = ceiling == PLUMB_NO_INDEX ? "" : plumb_scene_ceiling (work->scene, ceiling)->tape;

  picture_shares (work, shares, &walls);
  f->number[0] = walls;
  f->number[1] = shares[PLUMB_SURFACE_OF_CEILING] + shares[PLUMB_SURFACE_OF_STEP];
  f->number[2] = shares[PLUMB_SURFACE_OF_FLOOR];
  f->number[3] = shares[PLUMB_SURFACE_OF_PORT] + shares[PLUMB_SURFACE_OF_OPENING];
  f->number[4] = shares[PLUMB_SURFACE_OF_NOTHING];
  double cut = walls + f->number[1] + f->number[2] + f->number[3] + f->number[4];
  if (ceiling == PLUMB_NO_INDEX)
    plumb_finding_missing (f, PLUMB_RECORD_PLACE, work->e->place, PLUMB_FIELD_place_space);
  else
    plumb_finding_judge (f, distance, clearance_spread_m (work, tape, on_beam, on_ceiling), PLUMB_LIMIT_AT_LEAST,
                         least, 0.0, "m");
  if (cut > 1e-9)
    {
      f->verdict = PLUMB_FAILS;
      f->missing_kind = PLUMB_RECORD_NONE;
    }
  f->variant = walls > 1e-9 ? PLUMB_V_WALL_BETWEEN : cut > 1e-9 ? PLUMB_V_ROOM_CUTS : PLUMB_V_ROOM_CLEAR;
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = work->place->carried == PLUMB_CARRIED_HUNG ? PLUMB_CURE_LONGER_DROP : PLUMB_CURE_DOWN;
      f->cure_amount = fmax (least - distance, 0.0);
      /* No way of the machine alone opens a wall; a port in use has its own
       * finding. */
      if (walls > 1e-9)
        {
          f->cure = PLUMB_CURE_NONE;
          f->cure_amount = 0.0;
        }
    }
}

/* The worst state over all pieces of a mover, from the nearest one on. */
static int
worst_of_mover (const PlumbWork *work, const PlumbVec3 pyramid[5], uint32_t first, PlumbClearance *worst)
{
  const PlumbEvaluation *e = work->e;
  const PlumbSolid *solids = work->resolved->building->solids;
  PlumbSurfaceId mine = solids[worst->solid].surface;
  int state = -1;

  if (mine.kind != PLUMB_SURFACE_OF_BLOCKER || !plumb_scene_blocker (work->scene, mine.record)->movable)
    return state;
  for (uint32_t i = first; i < e->n_clearances; i++)
    {
      PlumbClearance piece = e->clearances[i];
      PlumbSurfaceId other = solids[piece.solid].surface;
      if (other.kind != mine.kind || other.record != mine.record)
        continue;
      int of_piece = worst_state (work, pyramid, &piece);
      if (of_piece < 0 || piece.clearance_m >= worst->clearance_m)
        continue;
      *worst = piece;
      state = of_piece;
    }
  return state;
}

static void
report_solids (PlumbWork *work, const PlumbVec3 pyramid[5])
{
  PlumbEvaluation *e = work->e;
  uint32_t n_blockers, n_structures;

  plumb_scene_blocker_records (work->scene, &n_blockers);
  plumb_scene_structure_records (work->scene, &n_structures);
  bool *seen = calloc ((size_t) n_blockers + n_structures + 1, sizeof *seen);
  if (seen == NULL)
    {
      work->out_of_memory = true;
      return;
    }
  for (uint32_t i = 0; i < e->n_clearances; i++)
    if (is_first_of_record (work, i, seen, n_blockers))
      {
        PlumbClearance worst = e->clearances[i];
        int state = worst_of_mover (work, pyramid, i, &worst);
        report_solid (work, pyramid, &worst, state);
      }
  free (seen);
}

void
plumb_check_clearance (PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbEvaluation *e = work->e;
  PlumbVec3 pyramid[5];

  if (!e->has_raw)
    return;
  picture_pyramid (work, pyramid);
  e->clearances = malloc ((building->n_solids + 1) * sizeof *e->clearances);
  if (e->clearances == NULL)
    {
      work->out_of_memory = true;
      return;
    }
  for (uint32_t i = 0; i < building->n_solids; i++)
    if (building->solids[i].exposed)
      measure_solid (work, pyramid, i, &e->clearances[e->n_clearances++]);
  qsort (e->clearances, e->n_clearances, sizeof *e->clearances, nearer);
  report_solids (work, pyramid);
  check_room (work, pyramid);
}
