/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/mesh-axes-private.h"

/* Behind the last eye: the sitter, the chair's back and a hand of floor. */
#define BEHIND_EYE_M 0.75
#define BEHIND_RISER_M 0.15
/* Behind the lens: the machine, its plugs and the mount's plate. */
#define BEHIND_LENS_M 0.8
/* A ceiling that rises less than this has no ridge to cut short of. */
#define LEVEL_M 0.3
/* A cut this near to the wall leaves nothing but a sliver: none then. */
#define LEAST_CUT_M 0.05
/* The room's axis: within this the whole roof stays. */
#define GABLE_RAD (25.0 * PLUMB_PI / 180.0)
#define FIELD_M 3.0 /* half a side of what stands in for a room that is not there */

static double
depth_of (const PlumbMeshAxes *axes, double x, double y)
{
  return axes->back.x * x + axes->back.y * y;
}

static double
place_of (const PlumbMeshAxes *axes, double x, double y)
{
  return axes->right.x * x + axes->right.y * y;
}

PlumbVec3
plumb_mesh_axes_point (const PlumbMeshAxes *axes, double back_m, double right_m, double z_m)
{
  return plumb_vec3 (axes->back.x * back_m + axes->right.x * right_m, axes->back.y * back_m + axes->right.y * right_m,
                     z_m);
}

static void
grow (PlumbMeshAxes *axes, double x, double y)
{
  double d = depth_of (axes, x, y), s = place_of (axes, x, y);

  axes->box_front_m = fmin (axes->box_front_m, d);
  axes->box_back_m = fmax (axes->box_back_m, d);
  axes->box_left_m = fmin (axes->box_left_m, s);
  axes->box_right_m = fmax (axes->box_right_m, s);
}

static void
set_directions (PlumbMeshAxes *axes, const PlumbBuilding *b, const PlumbScreenResolved *target)
{
  double length = target->valid ? hypot (target->frame.n.x, target->frame.n.y) : 0.0;

  axes->back = plumb_vec2 (0.0, -1.0);
  if (length > 1e-6)
    axes->back = plumb_vec2 (target->frame.n.x / length, target->frame.n.y / length);
  else if (axes->space != PLUMB_NO_INDEX)
    axes->back = b->walls[b->spaces[axes->space].first_wall].inward;
  /* Who looks along −back has `right` to the right hand. */
  axes->right = plumb_vec2 (-axes->back.y, axes->back.x);
}

static bool
grow_by_room (PlumbMeshAxes *axes, const PlumbBuilding *b, const PlumbResolved *r)
{
  bool any = false;

  if (axes->space != PLUMB_NO_INDEX)
    {
      const PlumbSpaceShape *space = &b->spaces[axes->space];
      for (uint32_t w = 0; w < space->n_walls; w++)
        grow (axes, b->walls[space->first_wall + w].start_m.x, b->walls[space->first_wall + w].start_m.y);
      axes->floor_z_m = space->floor_z_m;
      axes->top_z_m = fmax (space->greatest_ceiling_z_m, space->floor_z_m + 1.0);
      return true;
    }
  for (uint32_t i = 0; i < r->n_screens; i++)
    if (r->screens[i].valid)
      {
        grow (axes, r->screens[i].frame.origin_m.x, r->screens[i].frame.origin_m.y);
        any = true;
      }
  for (uint32_t i = 0; i < r->n_seats; i++)
    grow (axes, r->seats[i].eye_m.x, r->seats[i].eye_m.y);
  for (uint32_t i = 0; i < b->n_solids; i++)
    grow (axes, b->solids[i].centre_m.x, b->solids[i].centre_m.y);
  for (uint32_t i = 0; i < r->n_places; i++)
    if (r->places[i].valid)
      {
        grow (axes, r->places[i].plate_m.x, r->places[i].plate_m.y);
        any = true;
      }
  axes->floor_z_m = 0.0;
  axes->top_z_m = 2.4;
  return any || r->n_seats > 0 || b->n_solids > 0;
}

static void
find_ridge (PlumbMeshAxes *axes, const PlumbBuilding *b)
{
  double high = -INFINITY, low = INFINITY, sum = 0.0, n = 0.0;

  for (uint32_t c = 0; c < b->n_cells; c++)
    for (uint32_t i = 0; b->cells[c].space == axes->space && i < b->cells[c].n_points; i++)
      {
        high = fmax (high, b->cells[c].point[i].z);
        low = fmin (low, b->cells[c].point[i].z);
      }
  axes->level = !(high - low > LEVEL_M);
  axes->ridge_m = (axes->box_left_m + axes->box_right_m) / 2.0;
  if (axes->level)
    return;
  for (uint32_t c = 0; c < b->n_cells; c++)
    for (uint32_t i = 0; b->cells[c].space == axes->space && i < b->cells[c].n_points; i++)
      if (b->cells[c].point[i].z > high - 0.01)
        {
          sum += place_of (axes, b->cells[c].point[i].x, b->cells[c].point[i].y);
          n += 1.0;
        }
  axes->ridge_m = sum / n;
}

/* A machine that hangs behind the seats must not float outside the cut. */
static double
behind_machine (const PlumbMeshAxes *axes, const PlumbEvaluation *e)
{
  PlumbVec3 lens = e->beam.lens_m;

  if (e->place == PLUMB_NO_INDEX || !e->target.valid || !plumb_vec3_is_finite (lens))
    return -INFINITY;
  double depth = depth_of (axes, lens.x, lens.y);
  return depth < axes->box_back_m ? depth + BEHIND_LENS_M : -INFINITY;
}

static void
set_back (PlumbMeshAxes *axes, const PlumbScene *scene, const PlumbEvaluation *e, const PlumbResolved *r)
{
  const PlumbBuilding *b = r->building;
  uint32_t n_people, n_blockers;
  const PlumbPerson *people = plumb_scene_person_records (scene, &n_people);
  double back = -INFINITY;

  plumb_scene_blocker_records (scene, &n_blockers);
  for (uint32_t i = 0; i < r->n_seats; i++)
    back = fmax (back, depth_of (axes, r->seats[i].eye_m.x, r->seats[i].eye_m.y) + BEHIND_EYE_M);
  for (uint32_t i = 0; i < n_people && r->n_seats > 0; i++)
    back = fmax (back, depth_of (axes, people[i].x_m, people[i].y_m) + BEHIND_EYE_M);
  if (r->n_seats > 0)
    back = fmax (back, behind_machine (axes, e));
  for (uint32_t i = 0; i < b->n_solids && r->n_seats > 0; i++)
    {
      const PlumbSolid *solid = &b->solids[i];
      if (solid->surface.kind != PLUMB_SURFACE_OF_BLOCKER || solid->surface.record >= n_blockers
          || plumb_scene_blocker (scene, solid->surface.record)->role != PLUMB_ROLE_PLATFORM)
        continue;
      for (uint32_t k = 0; k < solid->n_corners; k++)
        {
          PlumbVec3 p = b->corners[solid->first_corner + k];
          back = fmax (back, depth_of (axes, p.x, p.y) + BEHIND_RISER_M);
        }
    }
  axes->back_m = back > axes->box_front_m + 1.0 && back < axes->box_back_m - LEAST_CUT_M ? back : INFINITY;
}

bool
plumb_mesh_axes (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMeshAxes *axes)
{
  const PlumbResolved *r = plumb_scene_resolved (scene);
  const PlumbBuilding *b = r->building;
  const PlumbScreenResolved *target = &evaluation->target;

  *axes = (PlumbMeshAxes){ .space = PLUMB_NO_INDEX, .picture_wall = target->valid ? target->wall : PLUMB_NO_INDEX };
  axes->box_front_m = axes->box_left_m = INFINITY;
  axes->box_back_m = axes->box_right_m = -INFINITY;
  if (target->valid && target->space < b->n_spaces && b->spaces[target->space].valid)
    axes->space = target->space;
  for (uint32_t s = 0; s < b->n_spaces && axes->space == PLUMB_NO_INDEX; s++)
    if (b->spaces[s].valid)
      axes->space = s;
  set_directions (axes, b, target);
  bool any = grow_by_room (axes, b, r);
  if (!any)
    {
      grow (axes, -FIELD_M, -FIELD_M);
      grow (axes, FIELD_M, FIELD_M);
    }
  find_ridge (axes, b);
  set_back (axes, scene, evaluation, r);
  axes->picture_left_m = axes->box_left_m;
  axes->picture_right_m = axes->box_right_m;
  if (target->valid)
    {
      double middle = place_of (axes, target->frame.origin_m.x, target->frame.origin_m.y);
      axes->picture_left_m = middle - target->width_m / 2.0;
      axes->picture_right_m = middle + target->width_m / 2.0;
    }
  return any;
}

PlumbSection
plumb_section_for (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera)
{
  PlumbSection section = { PLUMB_SECTION_INSIDE, 0 };
  PlumbMeshAxes axes;

  if (camera->kind == PLUMB_CAMERA_SEAT || camera->kind == PLUMB_CAMERA_LENS)
    return section;
  plumb_mesh_axes (scene, evaluation, &axes);
  double x = cos (camera->azimuth_rad), y = sin (camera->azimuth_rad);
  double back = depth_of (&axes, x, y), right = place_of (&axes, x, y);
  if (fabs (atan2 (right, back)) <= GABLE_RAD)
    {
      section.kind = PLUMB_SECTION_GABLE;
      return section;
    }
  section.kind = PLUMB_SECTION_CORNER;
  section.quarter = (right >= 0.0 ? 1 : 0) | (back < 0.0 ? 2 : 0);
  return section;
}

bool
plumb_section_equal (const PlumbSection *a, const PlumbSection *b)
{
  return a->kind == b->kind && (a->kind != PLUMB_SECTION_CORNER || a->quarter == b->quarter);
}
