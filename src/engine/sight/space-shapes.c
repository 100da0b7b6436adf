/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outlines of spaces: walls in order, outer corners mitred.
 */
#include <stdlib.h>
#include <string.h>

#include "builder-private.h"

/* A mitre that reaches further than this many thicknesses from its corner is
 * not built: both walls then end square. */
#define MITRE_LIMIT 4.0
/* Walls whose directions differ by less than this are one straight run. */
#define STRAIGHT_SINE 1e-6

static uint32_t
space_of (const PlumbScene *scene, const PlumbWall *walls, uint32_t i, const uint32_t *found)
{
  /* The walls of a space mostly follow each other. */
  if (i > 0 && strcmp (walls[i].space, walls[i - 1].space) == 0)
    return found[i - 1];
  return plumb_scene_find (scene, PLUMB_RECORD_SPACE, walls[i].space);
}

/* One shape per wall that has a space, grouped by space, in record order. */
static void
group_walls (PlumbBuilder *builder)
{
  uint32_t n_walls, n_grouped = 0;
  const PlumbWall *walls = plumb_scene_wall_records (builder->scene, &n_walls);
  PlumbSpaceShape *spaces = PLUMB_LIST (&builder->spaces, PlumbSpaceShape);

  for (uint32_t i = 0; i < n_walls; i++)
    {
      uint32_t space = space_of (builder->scene, walls, i, builder->space_of_wall);
      builder->space_of_wall[i] = space;
      builder->shape_of_wall[i] = PLUMB_NO_INDEX;
      if (space == PLUMB_NO_INDEX)
        continue;
      spaces[space].n_walls++;
      n_grouped++;
    }
  PlumbWallShape *shapes = plumb_list_add (&builder->walls, n_grouped);
  if (shapes == NULL)
    return;
  for (uint32_t s = 1; s < builder->spaces.n; s++)
    spaces[s].first_wall = spaces[s - 1].first_wall + spaces[s - 1].n_walls;
  for (uint32_t s = 0; s < builder->spaces.n; s++)
    spaces[s].n_walls = 0;
  for (uint32_t i = 0; i < n_walls; i++)
    {
      uint32_t s = builder->space_of_wall[i];
      if (s == PLUMB_NO_INDEX)
        continue;
      uint32_t shape = spaces[s].first_wall + spaces[s].n_walls++;
      builder->shape_of_wall[i] = shape;
      shapes[shape] = (PlumbWallShape){
        .wall = i, .space = s, .start_m = { walls[i].x_m, walls[i].y_m }, .thickness_m = walls[i].thickness_m
      };
    }
}

static void
set_directions (PlumbWallShape *walls, uint32_t n)
{
  for (uint32_t k = 0; k < n; k++)
    {
      PlumbWallShape *wall = &walls[k];
      wall->end_m = walls[(k + 1) % n].start_m;
      PlumbVec2 run = plumb_vec2_sub (wall->end_m, wall->start_m);
      wall->length_m = plumb_vec2_length (run);
      wall->along = wall->length_m > 0.0 ? plumb_vec2_scale (run, 1.0 / wall->length_m) : plumb_vec2 (1.0, 0.0);
      wall->inward = plumb_vec2 (-wall->along.y, wall->along.x);
      wall->outer_start_m = plumb_vec2_along (wall->start_m, wall->inward, -wall->thickness_m);
      wall->outer_end_m = plumb_vec2_along (wall->end_m, wall->inward, -wall->thickness_m);
    }
}

/* Where the outer faces of two neighbours meet; false where they end square. */
static bool
mitre (const PlumbWallShape *before, const PlumbWallShape *after, PlumbVec2 *corner)
{
  double sine = plumb_vec2_cross (before->along, after->along);

  if (fabs (sine) < STRAIGHT_SINE)
    return false;
  PlumbVec2 gap = plumb_vec2_sub (after->outer_start_m, before->outer_end_m);
  double along_m = plumb_vec2_cross (gap, after->along) / sine;
  *corner = plumb_vec2_along (before->outer_end_m, before->along, along_m);
  return plumb_vec2_length (plumb_vec2_sub (*corner, after->start_m))
         <= MITRE_LIMIT * fmax (before->thickness_m, after->thickness_m);
}

static void
set_mitres (PlumbWallShape *walls, uint32_t n)
{
  for (uint32_t k = 0; k < n; k++)
    {
      PlumbWallShape *before = &walls[k], *after = &walls[(k + 1) % n];
      PlumbVec2 corner;
      if (mitre (before, after, &corner))
        before->outer_end_m = after->outer_start_m = corner;
    }
  for (uint32_t k = 0; k < n; k++)
    {
      PlumbWallShape *wall = &walls[k];
      PlumbVec2 outer = plumb_vec2_sub (wall->outer_end_m, wall->outer_start_m);
      if (plumb_vec2_dot (outer, wall->along) > 0.0)
        continue;
      /* A short wall between two inward corners: its mitres would cross. */
      wall->outer_start_m = plumb_vec2_along (wall->start_m, wall->inward, -wall->thickness_m);
      wall->outer_end_m = plumb_vec2_along (wall->end_m, wall->inward, -wall->thickness_m);
    }
}

static void
judge_outline (PlumbBuilder *builder, uint32_t space, const PlumbVec2 *corners)
{
  PlumbSpaceShape *shape = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space];
  const PlumbWallShape *walls = PLUMB_LIST (&builder->walls, PlumbWallShape) + shape->first_wall;
  uint32_t first, second;

  switch (plumb_outline_check (corners, shape->n_walls, &first, &second))
    {
    case PLUMB_OUTLINE_FEW:
      plumb_builder_fault (builder, PLUMB_FAULT_OUTLINE_FEW, PLUMB_RECORD_SPACE, space, PLUMB_NO_INDEX);
      return;
    case PLUMB_OUTLINE_CROSSES:
      plumb_builder_fault (builder, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, walls[first].wall,
                           walls[second].wall);
      return;
    case PLUMB_OUTLINE_NO_AREA:
      plumb_builder_fault (builder, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, walls[0].wall, walls[1].wall);
      return;
    case PLUMB_OUTLINE_FINE:
      break;
    }
  if (plumb_polygon_area (corners, shape->n_walls) < 0.0)
    {
      plumb_builder_fault (builder, PLUMB_FAULT_OUTLINE_TURNS, PLUMB_RECORD_SPACE, space, PLUMB_NO_INDEX);
      return;
    }
  shape->valid = true;
}

static void
shape_space (PlumbBuilder *builder, uint32_t space, PlumbVec2 *corners)
{
  PlumbSpaceShape *shape = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space];
  PlumbWallShape *walls = PLUMB_LIST (&builder->walls, PlumbWallShape) + shape->first_wall;

  shape->floor_z_m = plumb_scene_space (builder->scene, space)->floor_z_m;
  shape->least_ceiling_z_m = shape->greatest_ceiling_z_m = shape->floor_z_m + PLUMB_OPEN_WALL_M;
  if (shape->n_walls > 0)
    set_directions (walls, shape->n_walls);
  for (uint32_t k = 0; k < shape->n_walls; k++)
    corners[k] = walls[k].start_m;
  judge_outline (builder, space, corners);
  if (!shape->valid)
    return;
  set_mitres (walls, shape->n_walls);
  if (!plumb_outline_parts (corners, shape->n_walls, space, &builder->outline_parts))
    builder->failed = true;
}

void
plumb_builder_spaces (PlumbBuilder *builder)
{
  uint32_t n_spaces, n_walls;

  plumb_scene_space_records (builder->scene, &n_spaces);
  plumb_scene_wall_records (builder->scene, &n_walls);
  plumb_list_add (&builder->spaces, n_spaces);
  PlumbVec2 *corners = malloc ((n_walls + 1) * sizeof *corners);
  builder->space_of_wall = malloc ((n_walls + 1) * sizeof (uint32_t));
  builder->shape_of_wall = malloc ((n_walls + 1) * sizeof (uint32_t));
  if (corners == NULL || builder->space_of_wall == NULL || builder->shape_of_wall == NULL || builder->spaces.failed)
    {
      free (corners);
      builder->failed = true;
      return;
    }
  group_walls (builder);
  for (uint32_t s = 0; s < n_spaces && !builder->walls.failed; s++)
    shape_space (builder, s, corners);
  free (corners);
}
