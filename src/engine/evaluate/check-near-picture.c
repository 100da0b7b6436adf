/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Things near the picture: what a drop screen meets on its way down, a
 * loudspeaker behind a face that stops sound, heat under or behind a screen.
 *
 * A drop screen sweeps the sheet between its lower edge and the ceiling over
 * it, as wide as its face and border. Case, lower bar and sway are thicker
 * than the sheet: the limit is the room left for them. A structure member that
 * goes through the sheet above the face alone is taken to carry the case.
 */
#include "near-private.h"
#include "plumbeam/variants.h"

/* Further off than this nothing is near the screen. */
#define NEAR_M 2.0
/* Nobody moves a screen further. */
#define MOVE_SEARCH_M 1.0
#define MOVE_STEP_M 0.05
#define MOVE_RESIDUAL_M 1e-7
/* A face of the room that looks less towards the screen than this stands beside it. */
#define SIDEWAYS 0.5
#define ROUNDING 1e-9

/* One thing at its worst. */
typedef struct {
  PlumbSubject subject;
  double distance_m, spread_m;
} Passed;

typedef struct {
  PlumbWork *work;
  PlumbSheet way, face;
  double least_m;
  Passed nearest; /* of what is clear */
  bool told;
} Path;

static const PlumbVec3 here = { 0.0, 0.0, 0.0 };

static double
state_number (uint32_t state)
{
  return state != PLUMB_NO_INDEX ? state + 1.0 : 0.0;
}

/* ---- the way of a drop screen ---------------------------------------------------------- */

/* HUGE_VAL where a member carries the case. */
static double
solid_distance_m (const Path *path, const PlumbStanding *standing, PlumbVec3 move)
{
  double distance = plumb_sheet_distance_m (&path->way, move, &standing->convex);

  if (distance <= 0.0 && standing->at.surface.kind == PLUMB_SURFACE_OF_STRUCTURE
      && plumb_sheet_distance_m (&path->face, move, &standing->convex) > 0.0)
    return HUGE_VAL;
  return distance;
}

/* Whether the sheet has gone through the face of the wall that it hangs before. */
static bool
behind_own_wall (const Path *path, const PlumbFace *face, PlumbVec3 move)
{
  if (face->surface.kind != PLUMB_SURFACE_OF_WALL || face->surface.record != path->work->e->target.wall)
    return false;
  for (int k = 0; k < 4; k++)
    {
      PlumbVec3 corner = plumb_vec3_add (path->way.corner[k], move);
      if (plumb_vec3_dot (face->normal, plumb_vec3_sub (corner, face->point[0])) < 0.0)
        return true;
    }
  return false;
}

/* HUGE_VAL for what is no wall or step, and for what stands beside the sheet:
 * whether the screen fits between its ends is another check. */
static double
face_distance_m (const Path *path, const PlumbFace *face, PlumbVec3 move)
{
  PlumbConvex body = { .points = face->point, .n_points = face->n_points };
  bool upright = face->surface.kind == PLUMB_SURFACE_OF_WALL || face->surface.kind == PLUMB_SURFACE_OF_STEP;

  if (!upright || face->outer || fabs (plumb_vec3_dot (face->normal, path->work->e->target.frame.n)) < SIDEWAYS)
    return HUGE_VAL;
  return behind_own_wall (path, face, move) ? 0.0 : plumb_sheet_distance_m (&path->way, move, &body);
}

/* Nothing nearer than the limit with the sheet moved. */
static bool
clear_at (const Path *path, PlumbVec3 move)
{
  const PlumbBuilding *building = path->work->resolved->building;
  PlumbStanding standing;

  for (uint32_t i = 0; i < building->n_solids; i++)
    {
      uint32_t n_states = plumb_standing_states (path->work, i);
      for (uint32_t k = 0; building->solids[i].exposed && k <= n_states; k++)
        {
          plumb_standing_at (path->work, i, k < n_states ? k : PLUMB_NO_INDEX, &standing);
          if (solid_distance_m (path, &standing, move) < path->least_m)
            return false;
        }
    }
  for (uint32_t i = 0; i < building->room_faces; i++)
    if (face_distance_m (path, &building->faces[i], move) < path->least_m)
      return false;
  return true;
}

/* Least way along a level direction that clears everything; HUGE_VAL: none. */
static double
way_m (const Path *path, PlumbVec3 direction, double most_m)
{
  double low = 0.0, high = 0.0;

  do
    {
      low = high;
      high += MOVE_STEP_M;
      if (high > most_m + MOVE_STEP_M)
        return HUGE_VAL;
    }
  while (!clear_at (path, plumb_vec3_scale (direction, high)));
  while (high - low > MOVE_RESIDUAL_M)
    {
      double middle = (low + high) / 2.0;
      if (clear_at (path, plumb_vec3_scale (direction, middle)))
        high = middle;
      else
        low = middle;
    }
  return high <= most_m ? high : HUGE_VAL;
}

static void
cure_path (const Path *path, PlumbFinding *f)
{
  const PlumbScreen *screen = plumb_scene_screen (path->work->scene, path->work->e->screen);
  PlumbVec3 n = path->work->e->target.frame.n, forward = plumb_vec3_unit (plumb_vec3 (n.x, n.y, 0.0));
  double ahead = way_m (path, forward, MOVE_SEARCH_M);
  double to_wall = fmin (screen->stand_off_m, MOVE_SEARCH_M);
  double back = way_m (path, plumb_vec3_scale (forward, -1.0), fmin (to_wall, ahead));

  f->cure_amount = fmin (ahead, back);
  f->cure = back < ahead ? PLUMB_CURE_SCREEN_BACK : PLUMB_CURE_SCREEN_FORWARD;
  if (isfinite (f->cure_amount))
    return;
  f->cure = f->subject.kind == PLUMB_RECORD_BLOCKER ? PLUMB_CURE_MOVE_BLOCKER : PLUMB_CURE_NONE;
  f->cure_amount = 0.0;
}

static void
tell (Path *path, const Passed *passed)
{
  PlumbFinding *f
      = plumb_work_add (path->work, PLUMB_CHECK_SCREEN_PATH, passed->subject.kind, passed->subject.index);
  double least = plumb_work_limit (path->work, "screen.path_clearance_least", f);

  plumb_finding_judge (f, passed->distance_m, passed->spread_m, PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->subject = passed->subject;
  f->variant = passed->distance_m <= 0.0 ? PLUMB_V_PATH_MET : PLUMB_V_PATH_CLEAR;
  f->number[0] = f->subject.kind == PLUMB_RECORD_BLOCKER ? state_number (f->subject.sub) : 0.0;
  if (f->verdict == PLUMB_FAILS)
    cure_path (path, f);
}

/* Told at once when it is not surely clear, else kept if it is nearest. */
static void
pass (Path *path, PlumbSubject subject, const char *tape, double distance)
{
  const PlumbWork *work = path->work;
  double length = plumb_vec3_length (plumb_vec3_sub (path->way.corner[2], path->way.corner[0]));
  Passed passed = { subject, distance,
                    2.0 * hypot (work->e->target.u_m, plumb_scene_tape_u_m (work->scene, tape, length)) };

  if (!isfinite (distance))
    return;
  if (distance - path->least_m < passed.spread_m)
    {
      tell (path, &passed);
      path->told = true;
    }
  else if (distance < path->nearest.distance_m)
    path->nearest = passed;
}

static void
path_of_record (Path *path, uint32_t first, uint32_t end)
{
  const PlumbWork *work = path->work;
  PlumbSurfaceId surface = work->resolved->building->solids[first].surface;
  bool member = surface.kind == PLUMB_SURFACE_OF_STRUCTURE;
  PlumbSubject subject = { member ? PLUMB_RECORD_STRUCTURE : PLUMB_RECORD_BLOCKER, surface.record, PLUMB_NO_INDEX };
  double worst = HUGE_VAL;

  for (uint32_t i = first; i < end; i++)
    {
      uint32_t n_states = plumb_standing_states (work, i);
      /* Rest first, so that a state that is no worse is not named. */
      for (uint32_t k = 0; work->resolved->building->solids[i].exposed && k <= n_states; k++)
        {
          PlumbStanding standing;
          plumb_standing_at (work, i, k > 0 ? k - 1 : PLUMB_NO_INDEX, &standing);
          double distance = solid_distance_m (path, &standing, here);
          if (!(distance < worst - ROUNDING))
            continue;
          worst = distance;
          subject.sub = member ? standing.at.member : standing.state;
        }
    }
  pass (path, subject,
        member ? plumb_scene_structure (work->scene, surface.record)->tape
               : plumb_scene_blocker (work->scene, surface.record)->tape,
        worst);
}

static void
path_of_walls (Path *path)
{
  const PlumbBuilding *building = path->work->resolved->building;
  PlumbSubject subject = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  double worst = HUGE_VAL;

  for (uint32_t i = 0; i < building->room_faces; i++)
    {
      double distance = face_distance_m (path, &building->faces[i], here);
      if (!(distance < worst))
        continue;
      worst = distance;
      PlumbSurfaceId surface = building->faces[i].surface;
      subject.kind = surface.kind == PLUMB_SURFACE_OF_WALL ? PLUMB_RECORD_WALL : PLUMB_RECORD_SPACE;
      subject.index = surface.record;
    }
  pass (path, subject,
        subject.kind == PLUMB_RECORD_WALL ? plumb_scene_wall (path->work->scene, subject.index)->tape : "", worst);
}

static void
check_path (PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbFinding none = { 0 };
  Path path = { .work = work,
                .way = plumb_sheet_of_way (work),
                .face = plumb_sheet_of_face (work),
                .least_m = plumb_work_limit (work, "screen.path_clearance_least", &none),
                .nearest = { .distance_m = HUGE_VAL } };

  for (uint32_t i = 0, end; i < building->n_solids; i = end)
    {
      end = plumb_standing_end (building, i);
      path_of_record (&path, i, end);
    }
  path_of_walls (&path);
  if (path.told)
    return;
  if (isfinite (path.nearest.distance_m))
    tell (&path, &path.nearest);
  else
    plumb_work_add (work, PLUMB_CHECK_SCREEN_PATH, PLUMB_RECORD_SCREEN, work->e->screen)->variant
        = PLUMB_V_PATH_NOTHING;
}

/* ---- a loudspeaker behind the face ------------------------------------------------------- */

/* Least way aside, up or down until the face stands before nothing of it. */
static double
way_from_behind_m (const PlumbWork *work, const PlumbVec3 box[2])
{
  const PlumbScreenResolved *target = &work->e->target;
  double u = target->width_m / 2.0, v = target->height_m / 2.0;
  double way = fmin (u - box[0].x, box[1].x + u), up = v - box[0].y, down = box[1].y + v;
  PlumbVec3 at = plumb_vec3_along (target->frame.origin_m, target->frame.n, box[1].z);
  double ceiling_z;

  if (target->space == PLUMB_NO_INDEX)
    return way;
  double floor_z = work->resolved->building->spaces[target->space].floor_z_m;
  if (plumb_building_ceiling_at (work->resolved->building, target->space, plumb_vec2 (at.x, at.y), &ceiling_z)
          != PLUMB_NO_INDEX
      && at.z + box[1].y + up <= ceiling_z)
    way = fmin (way, up);
  return at.z + box[0].y - down >= floor_z ? fmin (way, down) : way;
}

static void
check_sound (PlumbWork *work, uint32_t first, uint32_t end)
{
  const PlumbScreen *screen = plumb_scene_screen (work->scene, work->e->screen);
  uint32_t n_states = plumb_standing_states (work, first), worst_state = PLUMB_NO_INDEX;
  PlumbVec3 box[2], worst_box[2] = { { 0.0, 0.0, 0.0 }, { 0.0, 0.0, 0.0 } };
  double worst = -1.0;

  for (uint32_t k = 0; k <= n_states; k++)
    {
      uint32_t state = k > 0 ? k - 1 : PLUMB_NO_INDEX;
      double share = plumb_covered_share (work, first, end, state, box);
      bool behind = box[0].z + box[1].z < 0.0 && box[1].z > -NEAR_M;
      if (!behind || !(share > worst + ROUNDING))
        continue;
      worst = share;
      worst_state = state;
      worst_box[0] = box[0];
      worst_box[1] = box[1];
    }
  if (worst < 0.0 || (screen->passes_sound && worst <= ROUNDING))
    return;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_SCREEN_SOUND, PLUMB_RECORD_BLOCKER,
                                    work->resolved->building->solids[first].surface.record);
  double most = plumb_work_limit (work, "screen.sound_covered_most", f);
  f->variant = screen->passes_sound ? PLUMB_V_SOUND_PASSES : PLUMB_V_SOUND_STOPPED;
  f->subject.sub = worst_state;
  f->number[0] = state_number (worst_state);
  f->number[1] = fmax (-worst_box[1].z, 0.0);
  if (screen->passes_sound)
    return;
  plumb_finding_judge (f, worst, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "share");
  f->assumed = !PLUMB_TYPED (screen, screen, passes_sound);
  if (f->verdict == PLUMB_HOLDS)
    f->sense = PLUMB_LIMIT_NONE; /* nothing is nothing: no room to spare is told of */
  else
    {
      f->cure = PLUMB_CURE_MOVE_OFF;
      f->cure_amount = way_from_behind_m (work, worst_box);
    }
}

/* ---- heat --------------------------------------------------------------------------------- */

static void
check_heat (PlumbWork *work, const PlumbSheet *sheet, uint32_t first, uint32_t end)
{
  const PlumbScreenResolved *target = &work->e->target;
  uint32_t n_states = plumb_standing_states (work, first), worst_state = PLUMB_NO_INDEX;
  double worst = HUGE_VAL, half = target->width_m / 2.0 + sheet->border_m;
  uint8_t where = PLUMB_V_HEAT_UNDER;
  PlumbVec3 box[2];

  for (uint32_t k = 0; k <= n_states; k++)
    {
      uint32_t state = k > 0 ? k - 1 : PLUMB_NO_INDEX;
      plumb_covered_share (work, first, end, state, box);
      bool behind = box[0].z + box[1].z < 0.0;
      bool under = box[0].x < half && box[1].x > -half && box[0].y + box[1].y < -target->height_m;
      for (uint32_t i = first; (behind || under) && i < end; i++)
        {
          PlumbStanding standing;
          plumb_standing_at (work, i, state, &standing);
          double distance = plumb_sheet_distance_m (sheet, here, &standing.convex);
          if (distance > NEAR_M || !(distance < worst - ROUNDING))
            continue;
          worst = distance;
          worst_state = state;
          where = under ? PLUMB_V_HEAT_UNDER : PLUMB_V_HEAT_BEHIND;
        }
    }
  if (!isfinite (worst))
    return;
  uint32_t record = work->resolved->building->solids[first].surface.record;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_SCREEN_HEAT, PLUMB_RECORD_BLOCKER, record);
  double least = plumb_work_limit (work, "screen.heat_distance_least", f);
  double tape_u = plumb_scene_tape_u_m (work->scene, plumb_scene_blocker (work->scene, record)->tape, worst);
  plumb_finding_judge (f, worst, 2.0 * hypot (target->u_m, tape_u), PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->variant = where;
  f->subject.sub = worst_state;
  f->number[0] = state_number (worst_state);
  if (f->verdict != PLUMB_FAILS)
    return;
  f->cure = PLUMB_CURE_MOVE_OFF;
  /* Straight away from the nearest point; inside each other there is none. */
  f->cure_amount = worst > 0.0 ? least - worst : 0.0;
}

/* ---- all ------------------------------------------------------------------------------------ */

void
plumb_check_near_picture (PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;
  const PlumbScreen *screen = plumb_scene_screen (work->scene, work->e->screen);
  PlumbSheet sheet = plumb_sheet_of_way (work);
  /* Behind paint there is the wall. */
  bool painted = screen->support == PLUMB_SUPPORT_WALL && screen->stand_off_m <= 0.0;

  if (screen->support == PLUMB_SUPPORT_DROP)
    check_path (work);
  for (uint32_t i = 0, end; i < building->n_solids; i = end)
    {
      end = plumb_standing_end (building, i);
      if (!painted && plumb_standing_has_role (work, i, PLUMB_ROLE_SPEAKER))
        check_sound (work, i, end);
      if (plumb_standing_has_role (work, i, PLUMB_ROLE_STOVE))
        check_heat (work, &sheet, i, end);
    }
}
