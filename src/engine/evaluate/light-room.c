/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The room as a lamp sees it: area, reflectance, volume; and the light that
 * lamps and windows put on the screen.
 */
#include "light-private.h"

static double
face_area_m2 (const PlumbFace *face)
{
  PlumbVec3 twice = plumb_vec3 (0.0, 0.0, 0.0);

  for (int k = 1; k + 1 < face->n_points; k++)
    twice = plumb_vec3_add (twice, plumb_vec3_cross (plumb_vec3_sub (face->point[k], face->point[0]),
                                                     plumb_vec3_sub (face->point[k + 1], face->point[0])));
  return plumb_vec3_length (twice) / 2.0;
}

static bool
face_bounds_space (const PlumbWork *work, const PlumbFace *face, uint32_t space)
{
  uint32_t record = face->surface.record;

  switch (face->surface.kind)
    {
    case PLUMB_SURFACE_OF_FLOOR:
    case PLUMB_SURFACE_OF_STEP:
      return record == space;
    case PLUMB_SURFACE_OF_WALL:
      return !face->outer
             && plumb_scene_find (work->scene, PLUMB_RECORD_SPACE, plumb_scene_wall (work->scene, record)->space) == space;
    case PLUMB_SURFACE_OF_CEILING:
      return plumb_scene_find (work->scene, PLUMB_RECORD_SPACE, plumb_scene_ceiling (work->scene, record)->space)
             == space;
    default:
      return false;
    }
}

/* Volume from the faces themselves: a third of the sum of each face's area
 * times how far it lies from one point (divergence theorem); normals point
 * into the air, away from which the volume lies. */
void
plumb_light_room (const PlumbWork *work, uint32_t space, PlumbLight *light)
{
  const PlumbBuilding *building = work->resolved->building;
  const PlumbSpace *record = plumb_scene_space (work->scene, space);
  double floor_m2 = 0.0, other_m2 = 0.0, volume = 0.0;

  for (uint32_t i = 0; i < building->room_faces; i++)
    {
      const PlumbFace *face = &building->faces[i];
      if (!face_bounds_space (work, face, space))
        continue;
      double area = face_area_m2 (face);
      volume -= area * plumb_vec3_dot (face->point[0], face->normal) / 3.0;
      if (face->surface.kind == PLUMB_SURFACE_OF_FLOOR)
        floor_m2 += area;
      else
        other_m2 += area;
    }
  light->room_area_m2 = floor_m2 + other_m2;
  light->room_volume_m3 = fmax (volume, 0.0);
  light->reverberation_s = record->reverberation_s;
  if (light->room_area_m2 > 0.0)
    light->mean_reflectance
        = (floor_m2 * record->floor_reflectance_share + other_m2 * record->reflectance_share) / light->room_area_m2;
}

/* A window read by the hour: straight between the readings around the state's
 * hour, the nearest outside them; without an hour its brightest. */
static double
reading_at_lx (const PlumbLampHour *hours, uint32_t n, double hour)
{
  double brightest = 0.0, before_lx = 0.0, after_lx = 0.0, before = -INFINITY, after = INFINITY;

  for (uint32_t k = 0; k < n; k++)
    {
      brightest = fmax (brightest, hours[k].screen_lx);
      if (hours[k].time_h <= hour && hours[k].time_h > before)
        {
          before = hours[k].time_h;
          before_lx = hours[k].screen_lx;
        }
      if (hours[k].time_h >= hour && hours[k].time_h < after)
        {
          after = hours[k].time_h;
          after_lx = hours[k].screen_lx;
        }
    }
  if (hour < 0.0)
    return brightest;
  if (!isfinite (before))
    return after_lx;
  if (!isfinite (after) || after == before)
    return before_lx;
  return before_lx + (after_lx - before_lx) * (hour - before) / (after - before);
}

static double
direct_mean_lx (const PlumbWork *work, const PlumbLight *light, const PlumbLamp *lamp)
{
  double sum = 0.0;

  for (int k = 0; k < PLUMB_LIGHT_FIELDS; k++)
    sum += plumb_lamp_direct_lx (plumb_vec3 (lamp->x_m, lamp->y_m, lamp->z_m), lamp->kind == PLUMB_LAMP_KIND_DOWN,
                                 lamp->flux_lm, light->field_m[k], work->e->target.frame.n);
  return sum / PLUMB_LIGHT_FIELDS;
}

/* One lamp at full level on the screen; false: nobody told. */
static bool
lamp_lx (const PlumbWork *work, const PlumbLight *light, uint32_t index, double hour, double *lx)
{
  const PlumbLamp *lamp = plumb_scene_lamp (work->scene, index);
  uint32_t n_hours;
  const PlumbLampHour *hours = plumb_scene_nested (work->scene, PLUMB_RECORD_LAMP_HOUR, index, &n_hours);

  if (n_hours > 0)
    *lx = reading_at_lx (hours, n_hours, hour);
  else if (lamp->screen_lx > 0.0)
    *lx = lamp->screen_lx;
  else if (lamp->kind == PLUMB_LAMP_KIND_WINDOW)
    return false;
  else
    *lx = direct_mean_lx (work, light, lamp)
          + plumb_room_bounce_lx (lamp->flux_lm * light->mean_reflectance, light->room_area_m2,
                                  light->mean_reflectance);
  return true;
}

bool
plumb_light_ambient_lx (const PlumbWork *work, const PlumbLight *light, uint32_t state, double *lx,
                        uint32_t *missing_lamp)
{
  const PlumbLightState *record = plumb_scene_light_state (work->scene, state);
  uint32_t n_levels;
  const PlumbLightLevel *levels = plumb_scene_nested (work->scene, PLUMB_RECORD_LIGHT_LEVEL, state, &n_levels);
  bool typed = (record->head.typed >> PLUMB_FIELD_light_state_screen_lx & 1u) != 0;

  *missing_lamp = PLUMB_NO_INDEX;
  *lx = record->screen_lx;
  if (record->screen_lx > 0.0 || (typed && n_levels == 0))
    return true;
  if (n_levels == 0)
    return false;
  *lx = 0.0;
  for (uint32_t k = 0; k < n_levels; k++)
    {
      uint32_t lamp = plumb_scene_find (work->scene, PLUMB_RECORD_LAMP, levels[k].lamp);
      double own;
      if (lamp == PLUMB_NO_INDEX || levels[k].level_share <= 0.0)
        continue; /* a reference that names no lamp is a fault of the job */
      if (!lamp_lx (work, light, lamp, record->time_h, &own))
        {
          *missing_lamp = lamp;
          return false;
        }
      *lx += levels[k].level_share * own;
    }
  return true;
}
