/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "scene-private.h"

/* Walls whose directions differ by less than this (about 3 minutes of arc)
 * give no crossing that a tape could find again. */
#define LEAST_CROSSING_SINE 1e-3

/* Crossing of the two lines that the tape drew: along one wall, off another.
 * Also the room directions in which an error of each measure moves it. */
static bool
cross_measures (const PlumbPlace *place, const PlumbWallLine *along, const PlumbWallLine *off, PlumbVec2 *point,
                PlumbPlaceResolved *out)
{
  double sign = place->along_end == PLUMB_END_START ? 1.0 : -1.0;
  PlumbVec2 corner = place->along_end == PLUMB_END_START ? along->start_m : along->end_m;
  double p = plumb_vec2_dot (corner, along->along) + sign * place->along_m;
  double q = plumb_vec2_dot (off->start_m, off->inward) + place->off_m;
  double determinant = plumb_vec2_cross (along->along, off->inward);

  if (fabs (determinant) < LEAST_CROSSING_SINE)
    return false;
  PlumbVec2 for_p = plumb_vec2 (off->inward.y / determinant, -off->inward.x / determinant);
  PlumbVec2 for_q = plumb_vec2 (-along->along.y / determinant, along->along.x / determinant);
  *point = plumb_vec2_along (plumb_vec2_scale (for_p, p), for_q, q);
  out->along_axis = plumb_vec3 (sign * for_p.x, sign * for_p.y, 0.0);
  out->off_axis = plumb_vec3 (for_q.x, for_q.y, 0.0);
  return true;
}

/* Underside of a structure beneath or above a plan point: its nearest repeat,
 * along the axis. Also the direction square to its axis, downwards. */
static double
structure_underside (const PlumbStructure *member, PlumbVec2 point, PlumbVec3 *normal)
{
  PlumbVec2 start = plumb_vec2 (member->start_x_m, member->start_y_m);
  PlumbVec2 run = plumb_vec2_sub (plumb_vec2 (member->end_x_m, member->end_y_m), start);
  PlumbVec2 step = plumb_vec2 (cos (member->spacing_direction_rad), sin (member->spacing_direction_rad));
  double length = plumb_vec2_length (run);

  *normal = plumb_vec3 (0.0, 0.0, -1.0);
  if (length < PLUMB_POINT_TOLERANCE_M)
    return fmin (member->start_z_m, member->end_z_m);
  PlumbVec2 axis = plumb_vec2_scale (run, 1.0 / length);
  double across_step = plumb_vec2_cross (axis, step) * member->spacing_m;
  double repeat = 0.0;
  if (member->count > 1 && fabs (across_step) > PLUMB_POINT_TOLERANCE_M)
    repeat = plumb_clamp (round (plumb_vec2_cross (axis, plumb_vec2_sub (point, start)) / across_step), 0.0,
                          member->count - 1);
  start = plumb_vec2_along (start, step, repeat * member->spacing_m);
  double slope = (member->end_z_m - member->start_z_m) / length;
  *normal = plumb_vec3_unit (plumb_vec3 (axis.x * slope, axis.y * slope, -1.0));
  return member->start_z_m + slope * plumb_vec2_dot (plumb_vec2_sub (point, start), axis);
}

/* Height of a ceiling plane at a point, and the direction square to it, down. */
static double
ceiling_underside (const PlumbScene *scene, const PlumbCeiling *ceiling, PlumbVec2 point, PlumbVec3 *normal)
{
  uint32_t space = plumb_scene_find (scene, PLUMB_RECORD_SPACE, ceiling->space);
  double floor_z_m = space == PLUMB_NO_INDEX ? 0.0 : plumb_scene_space (scene, space)->floor_z_m;
  double slope = tan (ceiling->slope_rad);
  PlumbVec2 rise = plumb_vec2 (slope * cos (ceiling->rise_direction_rad), slope * sin (ceiling->rise_direction_rad));

  *normal = plumb_vec3_unit (plumb_vec3 (rise.x, rise.y, -1.0));
  return floor_z_m + ceiling->height_m
         + plumb_vec2_dot (rise, plumb_vec2_sub (point, plumb_vec2 (ceiling->x_m, ceiling->y_m)));
}

static bool
resolve_height (const PlumbScene *scene, const PlumbResolved *resolved, const PlumbPlace *place, uint32_t space,
                PlumbVec2 point, double *z_m, PlumbVec3 *normal)
{
  *normal = plumb_vec3 (0.0, 0.0, place->carried == PLUMB_CARRIED_STANDING ? 1.0 : -1.0);
  if (place->height_from == PLUMB_HEIGHT_FROM_FLOOR)
    {
      if (space == PLUMB_NO_INDEX)
        return false;
      *z_m = plumb_scene_space (scene, space)->floor_z_m + place->height_m;
      return true;
    }
  PlumbVec3 down;
  double under_z_m;
  uint32_t structure = plumb_scene_find (scene, PLUMB_RECORD_STRUCTURE, place->height_of);
  uint32_t ceiling = plumb_scene_find (scene, PLUMB_RECORD_CEILING, place->height_of);
  if (place->height_from == PLUMB_HEIGHT_FROM_STRUCTURE)
    {
      if (structure == PLUMB_NO_INDEX)
        return false;
      under_z_m = structure_underside (plumb_scene_structure (scene, structure), point, &down);
    }
  else
    {
      double unused;
      if (place->height_of[0] == '\0' && space != PLUMB_NO_INDEX)
        ceiling = plumb_building_ceiling_at (resolved->building, space, point, &unused);
      if (ceiling == PLUMB_NO_INDEX)
        return false;
      under_z_m = ceiling_underside (scene, plumb_scene_ceiling (scene, ceiling), point, &down);
    }
  *z_m = under_z_m - place->height_m;
  if (place->carried == PLUMB_CARRIED_HUNG)
    *normal = down;
  return true;
}

/* The space named by the place, else one whose outline holds the point. */
static uint32_t
space_of (const PlumbScene *scene, const PlumbResolved *resolved, const PlumbPlace *place, PlumbVec2 point)
{
  uint32_t named = plumb_scene_find (scene, PLUMB_RECORD_SPACE, place->space);

  if (named != PLUMB_NO_INDEX)
    return named;
  for (uint32_t i = 0; i < resolved->building->n_spaces; i++)
    if (plumb_building_in_outline (resolved->building, i, point))
      return i;
  return resolved->building->n_spaces > 0 ? 0 : PLUMB_NO_INDEX;
}

static bool
fault (PlumbFaultSink *faults, PlumbFaultCode code, uint32_t place)
{
  return plumb_fault_sink_add (faults, (PlumbFault){ code, PLUMB_RECORD_PLACE, place, -1, PLUMB_NO_INDEX });
}

/* Whether the plate lies in its space, a plate on the face counting as in. */
static bool
is_inside (const PlumbResolved *resolved, const PlumbPlaceResolved *out)
{
  const double in_m = 1e-4;

  return plumb_building_space_at (resolved->building, plumb_vec3_along (out->plate_m, out->normal, in_m))
         != PLUMB_NO_INDEX;
}

static bool
resolve_place (const PlumbScene *scene, const PlumbResolved *resolved, uint32_t i, PlumbPlaceResolved *out,
               PlumbFaultSink *faults)
{
  const PlumbPlace *place = plumb_scene_place (scene, i);
  uint32_t along = plumb_scene_find (scene, PLUMB_RECORD_WALL, place->along_wall);
  uint32_t off = place->off_wall[0] == '\0' ? along : plumb_scene_find (scene, PLUMB_RECORD_WALL, place->off_wall);
  PlumbWallLine along_line, off_line;
  PlumbVec2 point;
  double z_m;

  out->space = PLUMB_NO_INDEX;
  if (along == PLUMB_NO_INDEX || off == PLUMB_NO_INDEX || !plumb_scene_wall_line (scene, along, &along_line)
      || !plumb_scene_wall_line (scene, off, &off_line))
    return fault (faults, PLUMB_FAULT_PLACE_REFERENCE, i);
  if (!cross_measures (place, &along_line, &off_line, &point, out))
    return fault (faults, PLUMB_FAULT_PLACE_PARALLEL, i);
  uint32_t space = space_of (scene, resolved, place, point);
  if (!resolve_height (scene, resolved, place, space, point, &z_m, &out->normal))
    {
      bool inside = space != PLUMB_NO_INDEX && plumb_building_in_outline (resolved->building, space, point);
      return fault (faults, inside ? PLUMB_FAULT_PLACE_REFERENCE : PLUMB_FAULT_PLACE_OUTSIDE, i);
    }
  if (place->carried == PLUMB_CARRIED_WALL_ARM)
    out->normal = plumb_vec3 (off_line.inward.x, off_line.inward.y, 0.0);
  out->plate_m = plumb_vec3 (point.x, point.y, z_m);
  out->along_u_m = plumb_scene_tape_u_m (scene, place->tape, place->along_m);
  out->off_u_m = plumb_scene_tape_u_m (scene, place->tape, place->off_m);
  out->height_u_m = plumb_scene_tape_u_m (scene, place->tape, place->height_m + place->drop_m);
  out->valid = true;
  out->space = space;
  out->floor_z_m = space == PLUMB_NO_INDEX ? 0.0 : plumb_scene_space (scene, space)->floor_z_m;
  if (space == PLUMB_NO_INDEX
      || plumb_building_ceiling_at (resolved->building, space, point, &out->ceiling_z_m) == PLUMB_NO_INDEX)
    out->ceiling_z_m = z_m;
  return is_inside (resolved, out) || fault (faults, PLUMB_FAULT_PLACE_OUTSIDE, i);
}

bool
plumb_resolve_places (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults)
{
  plumb_scene_place_records (scene, &resolved->n_places);
  PlumbPlaceResolved *places = calloc (resolved->n_places + 1, sizeof *places);

  resolved->places = places;
  if (places == NULL)
    return false;
  for (uint32_t i = 0; i < resolved->n_places; i++)
    if (!resolve_place (scene, resolved, i, &places[i], faults))
      return false;
  return true;
}
