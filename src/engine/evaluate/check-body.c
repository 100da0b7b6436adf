/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/variants.h"
#include "work-private.h"

/* Box of the body: 0-3 its underside, 4-7 its top, in body terms (left rear,
 * right rear, right front, left front). */
static void
place_box (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  const PlumbMachine *m = work->machine;

  for (int i = 0; i < 8; i++)
    {
      double side = (i % 4 == 1 || i % 4 == 2) ? 0.5 : -0.5, front = (i % 4) >= 2 ? 0.5 : -0.5;
      e->body_corner_m[i]
          = plumb_chain_point (&e->body, e->holes_m,
                               plumb_vec3 (m->body_right_m + side * m->width_m, i < 4 ? 0.0 : m->height_m,
                                           m->body_forward_m + front * m->depth_m));
    }
}

static PlumbVec3
box_centre (const PlumbWork *work)
{
  const PlumbMachine *m = work->machine;

  return plumb_chain_point (&work->e->body, work->e->holes_m,
                            plumb_vec3 (m->body_right_m, m->height_m / 2.0, m->body_forward_m));
}

/* ---- free ways --------------------------------------------------------------------- */

#define WAY_MAX_POINTS (PLUMB_FACE_MAX_POINTS + 6)

/* Clips a polygon in 3D to normal·p <= offset. */
static size_t
clip3 (const PlumbVec3 *in, size_t n, PlumbVec3 normal, double offset, PlumbVec3 *out)
{
  size_t m = 0;

  for (size_t i = 0; i < n; i++)
    {
      PlumbVec3 a = in[i], b = in[(i + 1) % n];
      double da = plumb_vec3_dot (normal, a) - offset, db = plumb_vec3_dot (normal, b) - offset;
      if (da <= 0.0)
        out[m++] = a;
      if ((da < 0.0 && db > 0.0) || (da > 0.0 && db < 0.0))
        out[m++] = plumb_vec3_along (a, plumb_vec3_sub (b, a), da / (da - db));
      if (m + 2 > WAY_MAX_POINTS)
        break;
    }
  return m;
}

/* Whether a face lies wholly beyond one side of the way, or no nearer than
 * what was found: most faces do, and a dot product each tells. */
static bool
face_is_aside (const PlumbFace *face, const PlumbVec3 normal[5], const double offset[5], PlumbVec3 out,
               double nearest)
{
  bool nearer = false;

  for (int i = 0; i < face->n_points && !nearer; i++)
    nearer = plumb_vec3_dot (out, face->point[i]) < nearest;
  if (!nearer)
    return true;
  for (int k = 4; k >= 0; k--)
    {
      bool inside = false;
      for (int i = 0; i < face->n_points && !inside; i++)
        inside = plumb_vec3_dot (normal[k], face->point[i]) <= offset[k];
      if (!inside)
        return true;
    }
  return false;
}

double
plumb_free_way_m (const PlumbBuilding *building, PlumbVec3 centre, PlumbVec3 half_p, PlumbVec3 half_q, PlumbVec3 out)
{
  double nearest = HUGE_VAL;
  PlumbVec3 p = plumb_vec3_unit (half_p), q = plumb_vec3_unit (half_q);
  double p0 = plumb_vec3_dot (p, centre), q0 = plumb_vec3_dot (q, centre), o0 = plumb_vec3_dot (out, centre);
  double lp = plumb_vec3_length (half_p), lq = plumb_vec3_length (half_q);
  /* A hair less than the side, so that a wall alongside is not before it. */
  const double hair_m = 1e-6;
  const PlumbVec3 normal[5]
      = { p, plumb_vec3_scale (p, -1.0), q, plumb_vec3_scale (q, -1.0), plumb_vec3_scale (out, -1.0) };
  const double offset[5] = { p0 + lp - hair_m, -p0 + lp - hair_m, q0 + lq - hair_m, -q0 + lq - hair_m, -o0 };

  for (uint32_t f = 0; f < building->n_faces; f++)
    {
      PlumbVec3 polygon[2][WAY_MAX_POINTS];
      const PlumbFace *face = &building->faces[f];
      size_t n = face->n_points;
      if (face_is_aside (face, normal, offset, out, o0 + nearest))
        continue;
      for (size_t i = 0; i < n; i++)
        polygon[0][i] = face->point[i];
      for (int k = 0; k < 5 && n > 0; k++)
        n = clip3 (polygon[k % 2], n, normal[k], offset[k], polygon[(k + 1) % 2]);
      for (size_t i = 0; i < n; i++)
        nearest = fmin (nearest, plumb_vec3_dot (out, polygon[1][i]) - o0);
    }
  return nearest;
}

typedef struct {
  PlumbCheck check;
  double x, y, z; /* outward direction in body terms */
  double needed_m;
  int field;
} Side;

static double
side_way_m (const PlumbWork *work, const Side *side)
{
  const PlumbMachine *m = work->machine;
  const PlumbBeamAxes *body = &work->e->body;
  PlumbVec3 zero = plumb_vec3 (0, 0, 0);
  PlumbVec3 out = plumb_chain_point (body, zero, plumb_vec3 (side->x, side->y, side->z));
  double half = (fabs (side->x) * m->width_m + fabs (side->y) * m->height_m + fabs (side->z) * m->depth_m) / 2.0;
  PlumbVec3 centre = plumb_vec3_along (box_centre (work), out, half);
  PlumbVec3 right = plumb_vec3_scale (body->r, m->width_m / 2.0), up = plumb_vec3_scale (body->w, m->height_m / 2.0),
            forward = plumb_vec3_scale (body->f, m->depth_m / 2.0);

  return plumb_free_way_m (work->resolved->building, centre, side->x != 0.0 ? up : right,
                           side->z != 0.0 ? up : forward, out);
}

static void
check_side (PlumbWork *work, const Side *side, double way, const double numbers[2])
{
  PlumbFinding *f = plumb_work_add (work, side->check, PLUMB_RECORD_MACHINE, work->e->machine);
  PlumbVec3 out = plumb_chain_point (&work->e->body, plumb_vec3 (0, 0, 0), plumb_vec3 (side->x, side->y, side->z));

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->assumed = (work->machine->head.typed >> side->field & 1u) == 0;
  f->variant = (uint8_t) (isfinite (way) ? PLUMB_V_FREE_WAY : PLUMB_V_NOTHING_THERE);
  plumb_finding_judge (f, way, 2.0 * plumb_work_lens_u_m (work, out), PLUMB_LIMIT_AT_LEAST, side->needed_m, 0.0, "m");
  f->number[0] = numbers[0];
  f->number[1] = numbers[1];
  if (f->verdict != PLUMB_FAILS)
    return;
  /* Away from what stands there, as the viewer sees it. */
  double u = plumb_vec3_dot (out, work->e->target.frame.u), n = plumb_vec3_dot (out, work->e->target.frame.n);
  f->cure_amount = side->needed_m - way;
  if (fabs (out.z) > 0.7)
    f->cure = out.z > 0.0 ? PLUMB_CURE_DOWN : PLUMB_CURE_UP;
  else if (fabs (u) > fabs (n))
    f->cure = u > 0.0 ? PLUMB_CURE_LEFT : PLUMB_CURE_RIGHT;
  else
    f->cure = n > 0.0 ? PLUMB_CURE_NEARER : PLUMB_CURE_FARTHER;
  if (f->cure == PLUMB_CURE_DOWN && work->place->carried == PLUMB_CARRIED_HUNG)
    f->cure = PLUMB_CURE_LONGER_DROP;
}

static void
check_sides (PlumbWork *work)
{
  const PlumbMachine *m = work->machine;
  /* The underside rests on its mount or feet: only what is beside them counts. */
  const Side sides[6] = {
    { PLUMB_CHECK_BODY_AIR_LEFT, -1, 0, 0, m->air_left_m, PLUMB_FIELD_machine_air_left_m },
    { PLUMB_CHECK_BODY_AIR_RIGHT, 1, 0, 0, m->air_right_m, PLUMB_FIELD_machine_air_right_m },
    { PLUMB_CHECK_BODY_AIR_TOP, 0, 1, 0, m->air_top_m, PLUMB_FIELD_machine_air_top_m },
    { PLUMB_CHECK_BODY_AIR_BOTTOM, 0, -1, 0, m->air_bottom_m, PLUMB_FIELD_machine_air_bottom_m },
    { PLUMB_CHECK_BODY_AIR_FRONT, 0, 0, 1, m->air_front_m, PLUMB_FIELD_machine_air_front_m },
    { PLUMB_CHECK_BODY_AIR_REAR, 0, 0, -1, m->air_rear_m, PLUMB_FIELD_machine_air_rear_m },
  };
  const double none[2] = { 0, 0 }, cable[2] = { m->plug_m, m->bend_radius_m };
  Side rear = sides[5];
  double way = HUGE_VAL;

  for (int i = 0; i < 6; i++)
    {
      way = side_way_m (work, &sides[i]);
      check_side (work, &sides[i], way, none);
    }
  /* The last way was the rear one: cables need it too. */
  rear.check = PLUMB_CHECK_BODY_CABLE_ROOM;
  rear.field = PLUMB_FIELD_machine_plug_m;
  rear.needed_m = m->plug_m + m->bend_radius_m;
  check_side (work, &rear, way, cable);
}

/* ---- the rest ------------------------------------------------------------------------- */

static void
check_inside (PlumbWork *work)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BODY_INSIDE, PLUMB_RECORD_PLACE, work->e->place);
  int outside = 0;

  for (int i = 0; i < 8; i++)
    if (plumb_building_space_at (work->resolved->building, work->e->body_corner_m[i]) == PLUMB_NO_INDEX)
      outside++;
  f->number[0] = outside;
  f->verdict = outside > 0 ? PLUMB_FAILS : PLUMB_HOLDS;
  f->cure = outside > 0 ? PLUMB_CURE_MEASURE : PLUMB_CURE_NONE;
}

static void
check_clear (PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbConvex body = { .points = work->e->body_corner_m, .n_points = 8 };
  double least = HUGE_VAL;
  PlumbVec3 centre = box_centre (work);
  double radius = plumb_vec3_length (plumb_vec3_sub (work->e->body_corner_m[0], centre));
  uint32_t nearest = PLUMB_NO_INDEX;

  for (uint32_t i = 0; i < building->n_solids; i++)
    {
      PlumbConvex solid = plumb_solid_convex (building, i);
      PlumbVec3 apart = plumb_vec3_sub (building->solids[i].centre_m, centre);
      if (!building->solids[i].exposed
          || plumb_vec3_length (apart) - building->solids[i].bound_radius_m - radius >= least)
        continue;
      double distance = plumb_convex_distance (&body, &solid, NULL, NULL);
      if (distance < least)
        {
          least = distance;
          nearest = i;
        }
    }
  const PlumbSolid *solid = nearest == PLUMB_NO_INDEX ? NULL : &building->solids[nearest];
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BODY_CLEAR,
                                    solid == NULL                                       ? PLUMB_RECORD_MACHINE
                                    : solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE ? PLUMB_RECORD_STRUCTURE
                                                                                        : PLUMB_RECORD_BLOCKER,
                                    solid == NULL ? work->e->machine : solid->surface.record);
  double wanted = plumb_work_limit (work, "body.clear_least", f);
  plumb_finding_judge (f, least, 2.0 * plumb_work_lens_u_m (work, work->e->target.frame.v), PLUMB_LIMIT_AT_LEAST,
                       wanted, 0.0, "m");
  f->number[0] = solid == NULL ? 0.0 : solid->facet_error_m;
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = work->place->carried == PLUMB_CARRIED_HUNG ? PLUMB_CURE_LONGER_DROP : PLUMB_CURE_MOVE_BLOCKER;
      f->cure_amount = wanted - least;
    }
}

static void
check_heights (PlumbWork *work)
{
  PlumbVec3 up = plumb_vec3 (0, 0, 1);
  double spread = 2.0 * plumb_work_lens_u_m (work, up), lowest = HUGE_VAL;
  PlumbFinding *f;

  for (int i = 0; i < 8; i++)
    lowest = fmin (lowest, work->e->body_corner_m[i].z);
  if (work->place->carried != PLUMB_CARRIED_STANDING)
    {
      f = plumb_work_add (work, PLUMB_CHECK_BODY_HEADROOM, PLUMB_RECORD_PLACE, work->e->place);
      double least = plumb_work_limit (work, "body.headroom_least", f);
      plumb_finding_judge (f, lowest - work->spot->floor_z_m, spread, PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
      if (f->verdict == PLUMB_FAILS)
        {
          f->cure = work->place->carried == PLUMB_CARRIED_HUNG ? PLUMB_CURE_SHORTER_DROP : PLUMB_CURE_UP;
          f->cure_amount = least - f->figure;
        }
    }
  f = plumb_work_add (work, PLUMB_CHECK_BODY_REACH, PLUMB_RECORD_PLACE, work->e->place);
  double most = plumb_work_limit (work, "body.reach_most", f);
  plumb_finding_judge (f, box_centre (work).z - work->spot->floor_z_m, spread, PLUMB_LIMIT_AT_MOST, 0.0, most, "m");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_DOWN;
      f->cure_amount = f->figure - most;
    }
}

static PlumbFinding *
mount_finding (PlumbWork *work, int variant)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BODY_MOUNT, PLUMB_RECORD_MOUNT, work->e->mount);

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->variant = (uint8_t) variant;
  return f;
}

static void
check_mount (PlumbWork *work)
{
  const PlumbMount *mount = work->mount;
  const PlumbFigureValue *figures = work->e->figures;

  if (mount == NULL)
    {
      if (work->place->carried == PLUMB_CARRIED_STANDING)
        return;
      PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BODY_MOUNT, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement);
      f->variant = PLUMB_V_MOUNT_MISSING;
      plumb_finding_missing (f, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement, PLUMB_FIELD_arrangement_mount);
      return;
    }
  PlumbFinding *f = mount_finding (work, PLUMB_V_MOUNT_DROP);
  double drop = work->place->drop_m;
  plumb_finding_judge (f, drop, 0.0, PLUMB_LIMIT_BETWEEN, mount->drop_least_m, mount->drop_most_m, "m");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = drop < mount->drop_least_m ? PLUMB_CURE_LONGER_DROP : PLUMB_CURE_SHORTER_DROP;
      f->cure_amount = drop < mount->drop_least_m ? mount->drop_least_m - drop : drop - mount->drop_most_m;
    }
  const struct {
    int variant;
    PlumbFigure figure;
    double most;
  } turns[3] = { { PLUMB_V_MOUNT_YAW, PLUMB_FIGURE_yaw_rad, mount->yaw_limit_rad },
                 { PLUMB_V_MOUNT_PITCH, PLUMB_FIGURE_pitch_level_rad, mount->pitch_limit_rad },
                 { PLUMB_V_MOUNT_ROLL, PLUMB_FIGURE_roll_rad, mount->roll_limit_rad } };
  for (int i = 0; i < 3; i++)
    {
      f = mount_finding (work, turns[i].variant);
      plumb_finding_judge (f, fabs (figures[turns[i].figure].value[0]), 0.0, PLUMB_LIMIT_AT_MOST, 0.0, turns[i].most,
                           "rad");
      if (f->verdict == PLUMB_FAILS)
        {
          f->cure = PLUMB_CURE_LESS_TILT;
          f->cure_amount = f->figure - turns[i].most;
        }
    }
  f = mount_finding (work, PLUMB_V_MOUNT_LOAD);
  f->assumed = !PLUMB_TYPED (mount, mount, load_kg) || !PLUMB_TYPED (machine, work->machine, mass_kg);
  plumb_finding_judge (f, work->machine->mass_kg, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, mount->load_kg, "kg");
  if (f->verdict == PLUMB_FAILS)
    f->cure = PLUMB_CURE_MEASURE;
}

static void
check_tilt (PlumbWork *work)
{
  const PlumbMachine *m = work->machine;
  const struct {
    int variant;
    PlumbFigure figure;
    double most;
    int field;
  } turns[2]
      = { { PLUMB_V_TILT_PITCH, PLUMB_FIGURE_pitch_level_rad, m->pitch_limit_rad,
            PLUMB_FIELD_machine_pitch_limit_rad },
          { PLUMB_V_TILT_ROLL, PLUMB_FIGURE_roll_rad, m->roll_limit_rad, PLUMB_FIELD_machine_roll_limit_rad } };

  for (int i = 0; i < 2; i++)
    {
      PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BODY_TILT, PLUMB_RECORD_MACHINE, work->e->machine);
      f->basis = PLUMB_BASIS_DATA_SHEET;
      f->variant = (uint8_t) turns[i].variant;
      f->assumed = (m->head.typed >> turns[i].field & 1u) == 0;
      plumb_finding_judge (f, fabs (work->e->figures[turns[i].figure].value[0]),
                           2.0 * work->place->out_of_level_rad / sqrt (3.0), PLUMB_LIMIT_AT_MOST, 0.0, turns[i].most,
                           "rad");
      if (f->verdict == PLUMB_FAILS)
        {
          f->cure = PLUMB_CURE_LESS_TILT;
          f->cure_amount = f->figure - turns[i].most;
        }
    }
}

void
plumb_check_body (PlumbWork *work)
{
  place_box (work);
  check_inside (work);
  check_clear (work);
  check_sides (work);
  check_heights (work);
  check_mount (work);
  check_tilt (work);
}
