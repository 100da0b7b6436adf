/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Blockers and structure as convex solids.
 */
#include <stdlib.h>
#include <string.h>

#include "builder-private.h"
#include "facets-private.h"

/* Bottom ring counter-clockwise from above in the solid's own axes, then the
 * same ring moved by `up`. Faces are flat and look outwards. */
void
plumb_builder_prism_faces (PlumbBuilder *builder, PlumbSurfaceId surface, const PlumbVec3 *ring, size_t n,
                           PlumbVec3 up)
{
  PlumbVec3 top[PLUMB_SPLIT_MAX_POINTS];

  for (size_t i = 0; i < n; i++)
    top[i] = plumb_vec3_add (ring[i], up);
  plumb_builder_face (builder, surface, false, ring, n, plumb_vec3_scale (up, -1.0));
  plumb_builder_face (builder, surface, false, top, n, up);
  for (size_t i = 0; i < n; i++)
    {
      size_t next = (i + 1) % n;
      PlumbVec3 side[4] = { ring[i], ring[next], top[next], top[i] };
      plumb_builder_face (builder, surface, false, side, 4,
                          plumb_vec3_cross (plumb_vec3_sub (ring[next], ring[i]), up));
    }
}

static void
add_prism_solid (PlumbBuilder *builder, PlumbSolid solid, const PlumbVec3 *ring, uint32_t n, PlumbVec3 up)
{
  solid.shape = PLUMB_SOLID_POLYHEDRON;
  solid.first_corner = builder->corners.n;
  solid.n_corners = 2 * n;
  PlumbVec3 *corners = plumb_list_add (&builder->corners, 2 * n);
  PlumbSolid *added = plumb_list_add (&builder->solids, 1);
  if (corners == NULL || added == NULL)
    return;
  for (uint32_t i = 0; i < n; i++)
    {
      corners[i] = ring[i];
      corners[n + i] = plumb_vec3_add (ring[i], up);
    }
  for (uint32_t i = 0; i < 2 * n; i++)
    solid.bound_radius_m
        = fmax (solid.bound_radius_m, plumb_vec3_length (plumb_vec3_sub (corners[i], solid.centre_m)));
  solid.first_face = builder->faces.n;
  if (solid.exposed)
    plumb_builder_prism_faces (builder, solid.surface, ring, n, up);
  solid.n_faces = builder->faces.n - solid.first_face;
  *added = solid;
}

static void
add_box (PlumbBuilder *builder, PlumbSolid solid)
{
  PlumbVec3 ring[4] = { plumb_solid_point (&solid, -1.0, -1.0, -1.0), plumb_solid_point (&solid, 1.0, -1.0, -1.0),
                        plumb_solid_point (&solid, 1.0, 1.0, -1.0), plumb_solid_point (&solid, -1.0, 1.0, -1.0) };

  add_prism_solid (builder, solid, ring, 4, plumb_vec3_scale (solid.axis[2], 2.0 * solid.half_m.z));
}

/* ---- blockers ------------------------------------------------------------------------ */

/* Yaw turns about z, then pitch tips the x axis up about the middle. */
static void
set_axes (PlumbSolid *solid, double yaw_rad, double pitch_rad)
{
  double cy = cos (yaw_rad), sy = sin (yaw_rad), cp = cos (pitch_rad), sp = sin (pitch_rad);

  solid->axis[0] = plumb_vec3 (cy * cp, sy * cp, sp);
  solid->axis[1] = plumb_vec3 (-sy, cy, 0.0);
  solid->axis[2] = plumb_vec3 (-cy * sp, -sy * sp, cp);
}

static void
add_round (PlumbBuilder *builder, PlumbSolid solid)
{
  solid.first_face = builder->faces.n;
  if (solid.shape == PLUMB_SOLID_CYLINDER)
    plumb_builder_cylinder_facets (builder, &solid);
  else
    plumb_builder_ellipsoid_facets (builder, &solid);
  solid.n_faces = builder->faces.n - solid.first_face;
  PlumbSolid *added = plumb_list_add (&builder->solids, 1);
  if (added != NULL)
    *added = solid;
}

static void
add_part_prism (PlumbBuilder *builder, PlumbSolid solid, const PlumbBlocker *blocker, const PlumbPart *part)
{
  PlumbVec3 ring[PLUMB_FACE_MAX_POINTS], least = plumb_vec3 (INFINITY, INFINITY, blocker->z_m);
  PlumbVec3 most = plumb_vec3 (-INFINITY, -INFINITY, blocker->z_m + blocker->height_m);

  for (uint32_t i = 0; i < part->n; i++)
    {
      ring[i] = plumb_vec3 (part->p[i].x, part->p[i].y, blocker->z_m);
      least = plumb_vec3 (fmin (least.x, ring[i].x), fmin (least.y, ring[i].y), least.z);
      most = plumb_vec3 (fmax (most.x, ring[i].x), fmax (most.y, ring[i].y), most.z);
    }
  set_axes (&solid, 0.0, 0.0);
  solid.centre_m = plumb_vec3_scale (plumb_vec3_add (least, most), 0.5);
  solid.half_m = plumb_vec3_scale (plumb_vec3_sub (most, least), 0.5);
  add_prism_solid (builder, solid, ring, part->n, plumb_vec3 (0.0, 0.0, blocker->height_m));
}

static void
add_prism (PlumbBuilder *builder, PlumbSolid solid, const PlumbBlocker *blocker)
{
  uint32_t n, first, second;
  const PlumbBlockerPoint *points
      = plumb_scene_nested (builder->scene, PLUMB_RECORD_BLOCKER_POINT, solid.surface.record, &n);
  PlumbVec2 *corners = malloc ((n + 1) * sizeof *corners);
  PlumbList parts;

  if (corners == NULL)
    {
      builder->failed = true;
      return;
    }
  for (uint32_t i = 0; i < n; i++)
    corners[i] = plumb_vec2 (points[i].x_m, points[i].y_m);
  plumb_list_init (&parts, sizeof (PlumbPart));
  if (plumb_outline_check (corners, n, &first, &second) != PLUMB_OUTLINE_FINE)
    plumb_builder_fault (builder, PLUMB_FAULT_BLOCKER_OUTLINE, PLUMB_RECORD_BLOCKER, solid.surface.record,
                         PLUMB_NO_INDEX);
  else if (!plumb_outline_parts (corners, n, 0, &parts))
    builder->failed = true;
  for (uint32_t i = 0; i < parts.n; i++)
    {
      solid.member = i;
      add_part_prism (builder, solid, blocker, &PLUMB_LIST (&parts, PlumbPart)[i]);
    }
  plumb_list_clear (&parts);
  free (corners);
}

static void
add_blocker (PlumbBuilder *builder, uint32_t record, const PlumbBlocker *blocker)
{
  PlumbSolid solid = { .surface = { PLUMB_SURFACE_OF_BLOCKER, record }, .exposed = true };

  solid.centre_m = plumb_vec3 (blocker->x_m, blocker->y_m, blocker->z_m + blocker->height_m / 2.0);
  solid.half_m = plumb_vec3 (blocker->length_m / 2.0, blocker->width_m / 2.0, blocker->height_m / 2.0);
  set_axes (&solid, blocker->yaw_rad, blocker->pitch_rad);
  switch (blocker->shape)
    {
    case PLUMB_SHAPE_BOX:
      add_box (builder, solid);
      return;
    case PLUMB_SHAPE_PRISM:
      add_prism (builder, solid, blocker);
      return;
    case PLUMB_SHAPE_CYLINDER:
      solid.shape = PLUMB_SOLID_CYLINDER;
      solid.half_m.x = solid.half_m.y = blocker->diameter_m / 2.0;
      add_round (builder, solid);
      return;
    case PLUMB_SHAPE_ELLIPSOID:
      solid.shape = PLUMB_SOLID_ELLIPSOID;
      solid.centre_m.z = blocker->z_m;
      add_round (builder, solid);
      return;
    default:
      return;
    }
}

/* ---- structure ----------------------------------------------------------------------- */

/* A lying member has its width level and its depth square up from the
 * underside. An upright one (stud, post) has its width along the direction in
 * which it repeats and is centred on its line. False without length. */
static bool
member_box (const PlumbStructure *member, PlumbSolid *solid)
{
  PlumbVec3 start = plumb_vec3 (member->start_x_m, member->start_y_m, member->start_z_m);
  PlumbVec3 end = plumb_vec3 (member->end_x_m, member->end_y_m, member->end_z_m), run = plumb_vec3_sub (end, start);
  double length = plumb_vec3_length (run), level = hypot (run.x, run.y);

  if (length < PLUMB_POINT_TOLERANCE_M)
    return false;
  bool upright = level < PLUMB_POINT_TOLERANCE_M;
  double direction_rad = member->spacing_direction_rad;
  solid->axis[0] = plumb_vec3_scale (run, 1.0 / length);
  solid->axis[1] = upright ? plumb_vec3 (cos (direction_rad), sin (direction_rad), 0.0)
                           : plumb_vec3 (-run.y / level, run.x / level, 0.0);
  solid->axis[2] = plumb_vec3_unit (plumb_vec3_cross (solid->axis[0], solid->axis[1]));
  solid->half_m = plumb_vec3 (length / 2.0, member->width_m / 2.0, member->depth_m / 2.0);
  solid->centre_m = plumb_vec3_along (plumb_vec3_scale (plumb_vec3_add (start, end), 0.5), solid->axis[2],
                                      upright ? 0.0 : member->depth_m / 2.0);
  return true;
}

static void
add_structure (PlumbBuilder *builder, uint32_t record, const PlumbStructure *member)
{
  PlumbSolid solid = { .surface = { PLUMB_SURFACE_OF_STRUCTURE, record }, .exposed = member->exposed };
  double direction_rad = member->spacing_direction_rad;
  PlumbVec3 step = plumb_vec3_scale (plumb_vec3 (cos (direction_rad), sin (direction_rad), 0.0), member->spacing_m);

  if (!member_box (member, &solid))
    return;
  PlumbVec3 first = solid.centre_m;
  for (int32_t k = 0; k < member->count && !builder->solids.failed; k++)
    {
      solid.member = (uint32_t) k;
      solid.centre_m = plumb_vec3_along (first, step, k);
      add_box (builder, solid);
    }
}

/* Whether another record may add solids; the fault is raised where not. One
 * record adds some thousand at most. */
static bool
has_room (PlumbBuilder *builder, PlumbRecordKind kind, uint32_t index)
{
  if (builder->solids.n < PLUMB_MAX_SOLIDS && builder->faces.n < PLUMB_MAX_FACES)
    return true;
  plumb_builder_fault (builder, PLUMB_FAULT_TOO_MANY_SOLIDS, kind, index, PLUMB_NO_INDEX);
  return false;
}

void
plumb_builder_solids (PlumbBuilder *builder)
{
  uint32_t n_blockers, n_members;
  const PlumbBlocker *blockers = plumb_scene_blocker_records (builder->scene, &n_blockers);
  const PlumbStructure *members = plumb_scene_structure_records (builder->scene, &n_members);

  for (uint32_t i = 0; i < n_blockers && has_room (builder, PLUMB_RECORD_BLOCKER, i); i++)
    add_blocker (builder, i, &blockers[i]);
  for (uint32_t i = 0; i < n_members && !builder->solids.failed && has_room (builder, PLUMB_RECORD_STRUCTURE, i); i++)
    add_structure (builder, i, &members[i]);
}
