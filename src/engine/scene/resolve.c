/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "plumbeam/assert.h"
#include "scene-private.h"

static bool
is_known (const PlumbScene *scene, uint32_t kinds, const char *id)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if ((kinds >> kind & 1u) != 0 && plumb_scene_find (scene, (PlumbRecordKind) kind, id) != PLUMB_NO_INDEX)
      return true;
  return false;
}

/* A wall or ceiling of no space and a hole in no wall stand nowhere. */
static bool
must_be_given (PlumbRecordKind kind, int field)
{
  switch (kind)
    {
    case PLUMB_RECORD_WALL:
      return field == PLUMB_FIELD_wall_space;
    case PLUMB_RECORD_CEILING:
      return field == PLUMB_FIELD_ceiling_space;
    case PLUMB_RECORD_PORT:
      return field == PLUMB_FIELD_port_wall;
    case PLUMB_RECORD_OPENING:
      return field == PLUMB_FIELD_opening_wall;
    default:
      return false;
    }
}

static bool
check_record (const PlumbScene *scene, const PlumbRecordInfo *info, uint32_t i, PlumbFaultSink *faults)
{
  const void *record = plumb_scene_record (scene, info->kind, i);

  for (int f = 0; f < info->n_fields; f++)
    {
      const PlumbField *field = &info->fields[f];
      if (field->type != PLUMB_TYPE_REF || !plumb_field_applies (info, f, record))
        continue;
      const char *id = plumb_field_text (field, record);
      bool missing = id[0] == '\0' ? must_be_given (info->kind, f) : !is_known (scene, field->ref_kinds, id);
      if (missing
          && !plumb_fault_sink_add (faults, (PlumbFault){ PLUMB_FAULT_REFERENCE, info->kind, i, f, PLUMB_NO_INDEX }))
        return false;
    }
  return true;
}

bool
plumb_resolve_references (const PlumbScene *scene, PlumbFaultSink *faults)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      const PlumbRecordInfo *info = plumb_record_info ((PlumbRecordKind) kind);
      uint32_t count;
      plumb_scene_records (scene, info->kind, &count);
      for (uint32_t i = 0; i < count; i++)
        if (!check_record (scene, info, i, faults))
          return false;
    }
  return true;
}

/* ---- screens ------------------------------------------------------------------ */

static double
first_floor_z_m (const PlumbScene *scene)
{
  uint32_t count;
  const PlumbSpace *spaces = plumb_scene_space_records (scene, &count);

  return count > 0 ? spaces[0].floor_z_m : 0.0;
}

/* Foot of the screen's centre line and its directions in plan. */
static bool
screen_on_wall (const PlumbScene *scene, const PlumbScreen *screen, uint32_t wall, PlumbVec2 *foot, PlumbVec2 *u,
                PlumbVec2 *n)
{
  PlumbWallLine line;

  if (!plumb_scene_wall_line (scene, wall, &line))
    return false;
  double to_centre_m = screen->across_m + (screen->across_to == PLUMB_ACROSS_NEAR_EDGE ? screen->width_m / 2.0 : 0.0);
  double from_start_m = screen->across_end == PLUMB_END_START ? to_centre_m : line.length_m - to_centre_m;
  *u = plumb_vec2_scale (line.along, -1.0);
  *n = line.inward;
  *foot = plumb_vec2_along (plumb_vec2_along (line.start_m, line.along, from_start_m), line.inward,
                            screen->stand_off_m);
  return true;
}

static PlumbScreenResolved
resolve_screen (const PlumbScene *scene, const PlumbScreen *screen, const PlumbBuilding *building)
{
  PlumbScreenResolved out = { .wall = PLUMB_NO_INDEX, .space = PLUMB_NO_INDEX };
  PlumbVec2 foot, u, n;

  if (screen->support == PLUMB_SUPPORT_FREE)
    {
      foot = plumb_vec2 (screen->x_m, screen->y_m);
      n = plumb_vec2 (cos (screen->facing_rad), sin (screen->facing_rad));
      u = plumb_vec2 (-n.y, n.x);
    }
  else
    {
      out.wall = plumb_scene_find (scene, PLUMB_RECORD_WALL, screen->wall);
      if (out.wall == PLUMB_NO_INDEX || !screen_on_wall (scene, screen, out.wall, &foot, &u, &n))
        return out;
    }
  double sine = sin (screen->lean_rad), cosine = cos (screen->lean_rad);
  out.frame.u = plumb_vec3 (u.x, u.y, 0.0);
  out.frame.v = plumb_vec3 (n.x * sine, n.y * sine, cosine);
  out.frame.n = plumb_vec3_cross (out.frame.u, out.frame.v);
  PlumbVec3 bottom = plumb_vec3 (foot.x, foot.y, first_floor_z_m (scene) + screen->bottom_m);
  out.frame.origin_m = plumb_vec3_along (bottom, out.frame.v, screen->height_m / 2.0);
  out.width_m = screen->width_m;
  out.height_m = screen->height_m;
  out.rear = screen->lit == PLUMB_LIT_REAR;
  out.u_m = plumb_scene_tape_u_m (scene, screen->tape, fmax (screen->width_m, fabs (screen->across_m)));
  /* The space on the viewers' side; a screen on the wall's face lies on its edge. */
  out.space = plumb_building_space_at (building, plumb_vec3_along (out.frame.origin_m, out.frame.n, 1e-3));
  out.valid = true;
  return out;
}

bool
plumb_resolve_screens (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults)
{
  const PlumbScreen *records = plumb_scene_screen_records (scene, &resolved->n_screens);
  PlumbScreenResolved *screens = calloc (resolved->n_screens + 1, sizeof *screens);

  resolved->screens = screens;
  if (screens == NULL)
    return false;
  for (uint32_t i = 0; i < resolved->n_screens; i++)
    {
      screens[i] = resolve_screen (scene, &records[i], resolved->building);
      if (!screens[i].valid
          && !plumb_fault_sink_add (faults, (PlumbFault){ PLUMB_FAULT_SCREEN_WALL, PLUMB_RECORD_SCREEN, i,
                                                          PLUMB_FIELD_screen_wall, PLUMB_NO_INDEX }))
        return false;
    }
  return true;
}

/* ---- the whole block ------------------------------------------------------------ */

void
plumb_resolved_free (PlumbResolved *resolved)
{
  if (resolved == NULL)
    return;
  plumb_building_free ((PlumbBuilding *) resolved->building);
  free ((void *) resolved->faults);
  free ((void *) resolved->places);
  free ((void *) resolved->screens);
  free ((void *) resolved->seats);
  free (resolved);
}

static bool
resolve_all (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults)
{
  PlumbBuilding *building = NULL;

  if (!plumb_resolve_references (scene, faults) || !plumb_building_build (scene, &building, faults))
    return false;
  resolved->building = building;
  return plumb_resolve_screens (scene, resolved, faults) && plumb_resolve_places (scene, resolved, faults)
         && plumb_resolve_seats (scene, resolved, faults);
}

bool
plumb_scene_resolve (PlumbScene *scene)
{
  PlumbResolved *resolved = calloc (1, sizeof *resolved);
  PlumbFaultSink faults;

  if (resolved == NULL)
    return false;
  plumb_fault_sink_init (&faults);
  if (!resolve_all (scene, resolved, &faults))
    {
      plumb_fault_sink_clear (&faults);
      plumb_resolved_free (resolved);
      return false;
    }
  resolved->faults = faults.faults;
  resolved->n_faults = faults.n_faults;
  scene->resolved = resolved;
  return true;
}
