/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near-private.h"

/* ---- where a solid stands ---------------------------------------------------------- */

uint32_t
plumb_standing_states (const PlumbWork *work, uint32_t solid)
{
  uint32_t n;

  plumb_work_states_of (work, solid, &n);
  return n;
}

void
plumb_standing_at (const PlumbWork *work, uint32_t i, uint32_t state, PlumbStanding *out)
{
  const PlumbBuilding *building = work->resolved->building;
  uint32_t n;
  const PlumbBlockerState *states = plumb_work_states_of (work, i, &n);

  out->solid = i;
  out->state = state;
  if (state < n)
    {
      out->convex = plumb_work_moved_solid (building, i, &states[state], &out->at, out->corners);
      return;
    }
  out->at = building->solids[i];
  out->convex = plumb_solid_convex (building, i);
}

PlumbVec3
plumb_standing_point (const PlumbWork *work, const PlumbStanding *s, PlumbVec3 at_rest)
{
  const PlumbSolid *rest = &work->resolved->building->solids[s->solid];
  PlumbVec3 from_centre = plumb_vec3_sub (at_rest, rest->centre_m), out = s->at.centre_m;

  for (int k = 0; k < 3; k++)
    out = plumb_vec3_along (out, s->at.axis[k], plumb_vec3_dot (from_centre, rest->axis[k]));
  return out;
}

uint32_t
plumb_standing_end (const PlumbBuilding *building, uint32_t solid)
{
  PlumbSurfaceId mine = building->solids[solid].surface;
  uint32_t end = solid + 1;

  while (end < building->n_solids && building->solids[end].surface.kind == mine.kind
         && building->solids[end].surface.record == mine.record)
    end++;
  return end;
}

bool
plumb_standing_has_role (const PlumbWork *work, uint32_t i, int32_t role)
{
  const PlumbSolid *solid = &work->resolved->building->solids[i];

  return solid->exposed && solid->surface.kind == PLUMB_SURFACE_OF_BLOCKER
         && plumb_scene_blocker (work->scene, solid->surface.record)->role == role;
}

/* ---- the sheet ------------------------------------------------------------------------ */

PlumbSheet
plumb_sheet_of_face (const PlumbWork *work)
{
  const PlumbScreenResolved *target = &work->e->target;
  PlumbSheet sheet = { .border_m = plumb_scene_screen (work->scene, work->e->screen)->border_m };
  double u = target->width_m / 2.0 + sheet.border_m, v = target->height_m / 2.0 + sheet.border_m;
  const double at[4][2] = { { -u, -v }, { u, -v }, { u, v }, { -u, v } };

  for (int k = 0; k < 4; k++)
    sheet.corner[k] = plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, at[k][0]),
                                        target->frame.v, at[k][1]);
  return sheet;
}

/* Lowest ceiling over the upper edge's ends and middle; -HUGE_VAL under the sky. */
static double
ceiling_over_m (const PlumbWork *work, const PlumbSheet *face)
{
  const PlumbBuilding *building = work->resolved->building;
  uint32_t space = work->e->target.space;
  double least = HUGE_VAL;

  for (int k = 0; k <= 2 && space != PLUMB_NO_INDEX; k++)
    {
      PlumbVec3 at = plumb_vec3_along (plumb_vec3_scale (face->corner[3], 1.0 - k / 2.0), face->corner[2], k / 2.0);
      double z;
      if (plumb_building_ceiling_at (building, space, plumb_vec2 (at.x, at.y), &z) != PLUMB_NO_INDEX)
        least = fmin (least, z);
    }
  return isfinite (least) ? least : -HUGE_VAL;
}

PlumbSheet
plumb_sheet_of_way (const PlumbWork *work)
{
  PlumbSheet sheet = plumb_sheet_of_face (work);
  PlumbVec3 v = work->e->target.frame.v;
  double up = ceiling_over_m (work, &sheet) - sheet.corner[3].z;

  if (plumb_scene_screen (work->scene, work->e->screen)->support != PLUMB_SUPPORT_DROP || !(up > 0.0))
    return sheet;
  sheet.corner[2] = plumb_vec3_along (sheet.corner[2], v, up / v.z);
  sheet.corner[3] = plumb_vec3_along (sheet.corner[3], v, up / v.z);
  return sheet;
}

double
plumb_sheet_distance_m (const PlumbSheet *sheet, PlumbVec3 move, const PlumbConvex *body)
{
  PlumbVec3 moved[4];
  PlumbConvex flat = { .points = moved, .n_points = 4 };

  for (int k = 0; k < 4; k++)
    moved[k] = plumb_vec3_add (sheet->corner[k], move);
  return plumb_convex_distance (&flat, body, NULL, NULL);
}

PlumbVec3
plumb_sheet_uvn (const PlumbWork *work, PlumbVec3 point)
{
  const PlumbPlaneFrame *frame = &work->e->target.frame;
  PlumbVec3 from = plumb_vec3_sub (point, frame->origin_m);

  return plumb_vec3 (plumb_vec3_dot (frame->u, from), plumb_vec3_dot (frame->v, from), plumb_vec3_dot (frame->n, from));
}

/* ---- what the face covers --------------------------------------------------------------- */

/* Area of one outer face seen square on, and what of it the screen's face
 * stands before. A body's faces towards the viewers make up its outline once. */
static void
add_face (const PlumbWork *work, const PlumbStanding *standing, const PlumbFace *face, double area_m2[2],
          PlumbVec3 box[2])
{
  const PlumbScreenResolved *target = &work->e->target;
  static const PlumbVec2 side[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  PlumbVec2 a[PLUMB_FACE_MAX_POINTS + 4], b[PLUMB_FACE_MAX_POINTS + 4];
  size_t n = face->n_points;

  for (size_t k = 0; k < n; k++)
    {
      PlumbVec3 at = plumb_sheet_uvn (work, plumb_standing_point (work, standing, face->point[k]));
      a[k] = plumb_vec2 (at.x, at.y);
      box[0] = plumb_vec3 (fmin (box[0].x, at.x), fmin (box[0].y, at.y), fmin (box[0].z, at.z));
      box[1] = plumb_vec3 (fmax (box[1].x, at.x), fmax (box[1].y, at.y), fmax (box[1].z, at.z));
    }
  double whole = n >= 3 ? plumb_polygon_area (a, n) : 0.0;
  /* Clockwise for the viewer: it looks away. */
  if (whole <= 0.0)
    return;
  for (int k = 0; k < 4; k++)
    {
      n = plumb_polygon_clip (a, n, side[k], (k < 2 ? target->width_m : target->height_m) / 2.0, b);
      for (size_t i = 0; i < n; i++)
        a[i] = b[i];
    }
  area_m2[0] += whole;
  area_m2[1] += n >= 3 ? fmax (plumb_polygon_area (a, n), 0.0) : 0.0;
}

double
plumb_covered_share (const PlumbWork *work, uint32_t first, uint32_t end, uint32_t state, PlumbVec3 box[2])
{
  const PlumbBuilding *building = work->resolved->building;
  double area_m2[2] = { 0.0, 0.0 };

  box[0] = plumb_vec3 (HUGE_VAL, HUGE_VAL, HUGE_VAL);
  box[1] = plumb_vec3 (-HUGE_VAL, -HUGE_VAL, -HUGE_VAL);
  for (uint32_t i = first; i < end; i++)
    {
      PlumbStanding standing;
      plumb_standing_at (work, i, state, &standing);
      for (uint32_t k = 0; k < building->solids[i].n_faces; k++)
        add_face (work, &standing, &building->faces[building->solids[i].first_face + k], area_m2, box);
    }
  return area_m2[0] > 0.0 && box[0].z + box[1].z < 0.0 ? area_m2[1] / area_m2[0] : 0.0;
}
