/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where rooms and ceilings are, straight from the records. */
#include "house.h"

#define RECORDS(house, Type, KIND) ((const Type *) (const void *) (house)->records[PLUMB_RECORD_##KIND]->data)

bool
house_polygon_holds (const PlumbVec2 *p, size_t n, PlumbVec2 at)
{
  double angle = 0.0;

  for (size_t i = 0; i < n; i++)
    {
      PlumbVec2 a = plumb_vec2_sub (p[i], at), b = plumb_vec2_sub (p[(i + 1) % n], at);
      angle += atan2 (plumb_vec2_cross (a, b), plumb_vec2_dot (a, b));
    }
  return fabs (angle) > PLUMB_PI;
}

static bool
is_of_space (const House *house, const char *id, uint32_t space)
{
  return g_str_equal (id, RECORDS (house, PlumbSpace, SPACE)[space].id);
}

size_t
house_corners (const House *house, uint32_t space, PlumbVec2 *corners)
{
  size_t n = 0;

  for (uint32_t w = 0; w < house_count (house, PLUMB_RECORD_WALL); w++)
    {
      const PlumbWall *wall = &RECORDS (house, PlumbWall, WALL)[w];
      if (is_of_space (house, wall->space, space))
        corners[n++] = plumb_vec2 (wall->x_m, wall->y_m);
    }
  return n;
}

double
house_ceiling_height (const House *house, uint32_t c, PlumbVec2 at)
{
  const PlumbCeiling *ceiling = &RECORDS (house, PlumbCeiling, CEILING)[c];
  double run = (at.x - ceiling->x_m) * cos (ceiling->rise_direction_rad)
               + (at.y - ceiling->y_m) * sin (ceiling->rise_direction_rad);
  double floor_z_m = 0.0;

  for (uint32_t s = 0; s < house_count (house, PLUMB_RECORD_SPACE); s++)
    if (is_of_space (house, ceiling->space, s))
      floor_z_m = RECORDS (house, PlumbSpace, SPACE)[s].floor_z_m;
  return floor_z_m + ceiling->height_m + run * tan (ceiling->slope_rad);
}

static size_t
limit_of (const House *house, uint32_t ceiling, PlumbVec2 *corners)
{
  size_t n = 0;

  for (uint32_t i = 0; i < house_count (house, PLUMB_RECORD_CEILING_POINT); i++)
    {
      const PlumbCeilingPoint *point = &RECORDS (house, PlumbCeilingPoint, CEILING_POINT)[i];
      if (point->head.owner == ceiling)
        corners[n++] = plumb_vec2 (point->x_m, point->y_m);
    }
  return n;
}

uint32_t
house_rule_ceiling (const House *house, uint32_t space, PlumbVec2 at, double *z_m)
{
  uint32_t open = PLUMB_NO_INDEX, limited = PLUMB_NO_INDEX;
  double open_z_m = INFINITY, limited_z_m = 0.0;

  for (uint32_t c = 0; c < house_count (house, PLUMB_RECORD_CEILING); c++)
    {
      PlumbVec2 limit[16];
      size_t n = limit_of (house, c, limit);
      double here_m = house_ceiling_height (house, c, at);
      if (!is_of_space (house, RECORDS (house, PlumbCeiling, CEILING)[c].space, space))
        continue;
      if (n > 0 && house_polygon_holds (limit, n, at))
        {
          limited = c;
          limited_z_m = here_m;
        }
      else if (n == 0 && here_m < open_z_m)
        {
          open = c;
          open_z_m = here_m;
        }
    }
  *z_m = limited != PLUMB_NO_INDEX ? limited_z_m : open_z_m;
  return limited != PLUMB_NO_INDEX ? limited : open;
}

/* ---- the mirror ---------------------------------------------------------------------- */

#define EACH(house, Type, KIND, r)                                                                                   \
  for (Type *r = (Type *) (void *) (house)->records[PLUMB_RECORD_##KIND]->data,                                      \
            *r##_end = r + house_count (house, PLUMB_RECORD_##KIND);                                                 \
       r < r##_end; r++)

static void
mirror_walls (House *to, const House *from)
{
  PlumbWall *walls = (PlumbWall *) (void *) to->records[PLUMB_RECORD_WALL]->data;
  uint32_t first = 0;

  for (uint32_t s = 0; s < house_count (from, PLUMB_RECORD_SPACE); s++)
    {
      PlumbVec2 corners[16];
      uint32_t n = (uint32_t) house_corners (from, s, corners);
      for (uint32_t j = 0; j < n; j++)
        {
          walls[first + j].x_m = -corners[n - 1 - j].x;
          walls[first + j].y_m = corners[n - 1 - j].y;
        }
      first += n;
    }
}

House *
house_mirrored (const House *house)
{
  House *out = house_new ();
  PlumbVec2 unused[16];
  uint32_t n_first = (uint32_t) house_corners (house, 0, unused);

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_array_append_vals (out->records[kind], house->records[kind]->data, house->records[kind]->len);
  mirror_walls (out, house);
  EACH (out, PlumbCeiling, CEILING, ceiling)
  {
    ceiling->x_m = -ceiling->x_m;
    ceiling->rise_direction_rad = PLUMB_PI - ceiling->rise_direction_rad;
  }
  EACH (out, PlumbCeilingPoint, CEILING_POINT, point)
  point->x_m = -point->x_m;
  EACH (out, PlumbBlocker, BLOCKER, blocker)
  {
    blocker->x_m = -blocker->x_m;
    blocker->yaw_rad = PLUMB_PI - blocker->yaw_rad;
  }
  EACH (out, PlumbBlockerPoint, BLOCKER_POINT, corner)
  corner->x_m = -corner->x_m;
  EACH (out, PlumbStructure, STRUCTURE, member)
  {
    member->start_x_m = -member->start_x_m;
    member->end_x_m = -member->end_x_m;
    member->spacing_direction_rad = PLUMB_PI - member->spacing_direction_rad;
  }
  /* Ports of a random house are in the first room's first wall. */
  EACH (out, PlumbPort, PORT, port)
  {
    port->along_end = port->along_end == PLUMB_END_START ? PLUMB_END_END : PLUMB_END_START;
    g_snprintf (port->wall, sizeof port->wall, "w%u", n_first - 2);
  }
  return out;
}
