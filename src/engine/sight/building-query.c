/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/assert.h"
#include "plumbeam/building.h"

static double
cell_side (const PlumbCeilingCell *cell, uint8_t edge, PlumbVec2 p)
{
  PlumbVec3 a = cell->point[edge], b = cell->point[(edge + 1) % cell->n_points];
  PlumbVec2 run = plumb_vec2 (b.x - a.x, b.y - a.y);

  return plumb_vec2_cross (run, plumb_vec2 (p.x - a.x, p.y - a.y)) / plumb_vec2_length (run);
}

static bool
cell_holds (const PlumbCeilingCell *cell, PlumbVec2 p)
{
  for (uint8_t e = 0; e < cell->n_points; e++)
    if (cell_side (cell, e, p) < -PLUMB_POINT_TOLERANCE_M)
      return false;
  return true;
}

static double
cell_height (const PlumbCeilingCell *cell, PlumbVec2 p)
{
  PlumbVec3 normal = { 0.0, 0.0, 0.0 }, a = cell->point[0];

  for (uint8_t i = 1; i + 1 < cell->n_points; i++)
    normal = plumb_vec3_add (
        normal, plumb_vec3_cross (plumb_vec3_sub (cell->point[i], a), plumb_vec3_sub (cell->point[i + 1], a)));
  return a.z - (normal.x * (p.x - a.x) + normal.y * (p.y - a.y)) / normal.z;
}

/* Cells are listed in the order in which planes win, so the first that holds
 * the point, its edge included, is the right one. */
uint32_t
plumb_building_ceiling_at (const PlumbBuilding *building, uint32_t space, PlumbVec2 point, double *z_m)
{
  PLUMB_ASSERT (space < building->n_spaces);
  for (uint32_t c = 0; c < building->n_cells; c++)
    if (building->cells[c].space == space && cell_holds (&building->cells[c], point))
      {
        *z_m = cell_height (&building->cells[c], point);
        return building->cells[c].ceiling;
      }
  *z_m = building->spaces[space].floor_z_m;
  return PLUMB_NO_INDEX;
}

bool
plumb_building_in_outline (const PlumbBuilding *building, uint32_t space, PlumbVec2 point)
{
  PLUMB_ASSERT (space < building->n_spaces);
  const PlumbSpaceShape *shape = &building->spaces[space];
  bool inside = false;

  if (!shape->valid)
    return false;
  for (uint32_t k = 0; k < shape->n_walls; k++)
    {
      const PlumbWallShape *wall = &building->walls[shape->first_wall + k];
      PlumbVec2 a = wall->start_m, b = wall->end_m, to = plumb_vec2_sub (point, a);
      double along_m = plumb_clamp (plumb_vec2_dot (to, wall->along), 0.0, wall->length_m);
      if (plumb_vec2_length (plumb_vec2_along (to, wall->along, -along_m)) <= PLUMB_POINT_TOLERANCE_M)
        return true;
      if ((a.y > point.y) != (b.y > point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x))
        inside = !inside;
    }
  return inside;
}

uint32_t
plumb_building_space_at (const PlumbBuilding *building, PlumbVec3 point)
{
  for (uint32_t s = 0; s < building->n_spaces; s++)
    {
      PlumbVec2 plan = plumb_vec2 (point.x, point.y);
      double floor_z_m = building->spaces[s].floor_z_m, ceiling_z_m;
      if (point.z < floor_z_m - PLUMB_POINT_TOLERANCE_M || !plumb_building_in_outline (building, s, plan))
        continue;
      if (plumb_building_ceiling_at (building, s, plan, &ceiling_z_m) != PLUMB_NO_INDEX
          && point.z <= ceiling_z_m + PLUMB_POINT_TOLERANCE_M)
        return s;
    }
  return PLUMB_NO_INDEX;
}
