/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which ceiling plane lies over which part of a space.
 *
 * At a point it is the last listed plane whose limit polygon holds the point,
 * else the least of the planes without limits. So the plan is cut by the
 * limits from the last to the first, and what is left is shared out among the
 * unlimited planes along the lines where two of them are equally high.
 */
#include <stdlib.h>

#include "builder-private.h"

/* Heights closer than this are one plane. */
#define SAME_HEIGHT_M 1e-9
/* A limit that would break a space's plan into more parts than this is no
 * ceiling; it is a fault, and the plane is left out. */
#define MOST_PARTS 50000

/* The ceilings of one space: record indices and planes. */
typedef struct {
  uint32_t record, n_limit;
  const PlumbCeilingPoint *limit;
  PlumbHeightPlane plane;
} Plane;

static PlumbHeightPlane
plane_of (const PlumbCeiling *ceiling, double floor_z_m)
{
  double slope = tan (ceiling->slope_rad);
  PlumbHeightPlane plane
      = { 0.0, slope * cos (ceiling->rise_direction_rad), slope * sin (ceiling->rise_direction_rad) };

  plane.c = floor_z_m + ceiling->height_m - plane.slope_x * ceiling->x_m - plane.slope_y * ceiling->y_m;
  return plane;
}

static void
add_cover (PlumbBuilder *builder, PlumbRoofKind kind, uint32_t ceiling, PlumbHeightPlane plane, const PlumbPart *part,
           uint32_t space)
{
  PlumbRoofPart *cover = plumb_list_add (&builder->covers, 1);

  if (cover != NULL)
    *cover = (PlumbRoofPart){ .kind = kind, .space = space, .ceiling = ceiling, .plane = plane, .part = *part };
}

/* Where the plane goes below the floor there is no room. */
static void
add_under_plane (PlumbBuilder *builder, uint32_t space, const Plane *plane, const PlumbPart *part)
{
  double floor_z_m = PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space].floor_z_m;
  PlumbLine2 line = { -plane->plane.slope_x, -plane->plane.slope_y, floor_z_m - plane->plane.c };
  PlumbRing ring = plumb_part_ring (part), above, below;
  PlumbList parts;

  plumb_ring_split (&ring, line, SAME_HEIGHT_M, &above, &below);
  plumb_list_init (&parts, sizeof (PlumbPart));
  plumb_parts_add (&parts, &above, PLUMB_ROOF_CEILING);
  plumb_parts_add (&parts, &below, PLUMB_ROOF_FLOOR);
  for (uint32_t i = 0; i < parts.n; i++)
    {
      const PlumbPart *piece = &PLUMB_LIST (&parts, PlumbPart)[i];
      bool is_floor = piece->tag == PLUMB_ROOF_FLOOR;
      add_cover (builder, (PlumbRoofKind) piece->tag, plane->record,
                 is_floor ? (PlumbHeightPlane){ floor_z_m, 0.0, 0.0 } : plane->plane, piece, space);
    }
  builder->failed = builder->failed || parts.failed;
  plumb_list_clear (&parts);
}

/* Takes the limited plane's share out of `rest`. */
static void
take_limited (PlumbBuilder *builder, uint32_t space, const Plane *plane, const PlumbList *knives, PlumbList *rest)
{
  PlumbList taken, left;

  plumb_list_init (&taken, sizeof (PlumbPart));
  for (uint32_t k = 0; k < knives->n; k++)
    {
      plumb_list_init (&left, sizeof (PlumbPart));
      for (uint32_t i = 0; i < rest->n; i++)
        plumb_part_cut (&PLUMB_LIST (rest, PlumbPart)[i], &PLUMB_LIST (knives, PlumbPart)[k], plane->record, &taken,
                        &left);
      left.failed = left.failed || rest->failed;
      plumb_list_clear (rest);
      *rest = left;
    }
  for (uint32_t i = 0; i < taken.n; i++)
    add_under_plane (builder, space, plane, &PLUMB_LIST (&taken, PlumbPart)[i]);
  builder->failed = builder->failed || taken.failed || rest->failed;
  plumb_list_clear (&taken);
}

/* The part of a ring where plane k is the least; a tie goes to the first. */
static PlumbRing
least_region (const PlumbPart *part, const Plane *planes, uint32_t n_planes, uint32_t k)
{
  PlumbRing ring = plumb_part_ring (part), lower, higher;

  for (uint32_t j = 0; j < n_planes && ring.n > 0; j++)
    {
      if (j == k || planes[j].n_limit > 0)
        continue;
      PlumbHeightPlane a = planes[k].plane, b = planes[j].plane;
      PlumbLine2 line = { a.slope_x - b.slope_x, a.slope_y - b.slope_y, a.c - b.c };
      bool differs = false;
      for (size_t i = 0; i < ring.n; i++)
        differs = differs || fabs (plumb_line2_at (line, ring.p[i])) > SAME_HEIGHT_M;
      if (!differs && j > k)
        continue;
      if (!differs)
        ring.n = 0;
      else
        {
          plumb_ring_split (&ring, line, SAME_HEIGHT_M, &lower, &higher);
          ring = lower;
        }
      /* More corners than fit: thousands of planes meet here; the rest is as
       * good as a point. */
      if (ring.n > PLUMB_SPLIT_MAX_POINTS - 2)
        ring.n = PLUMB_SPLIT_MAX_POINTS - 2;
    }
  return ring;
}

static void
share_unlimited (PlumbBuilder *builder, uint32_t space, const Plane *planes, uint32_t n_planes, const PlumbList *rest)
{
  PlumbList taken;

  for (uint32_t k = 0; k < n_planes; k++)
    {
      if (planes[k].n_limit > 0)
        continue;
      plumb_list_init (&taken, sizeof (PlumbPart));
      for (uint32_t i = 0; i < rest->n; i++)
        {
          PlumbRing ring = least_region (&PLUMB_LIST (rest, PlumbPart)[i], planes, n_planes, k);
          plumb_parts_add (&taken, &ring, planes[k].record);
        }
      for (uint32_t i = 0; i < taken.n; i++)
        add_under_plane (builder, space, &planes[k], &PLUMB_LIST (&taken, PlumbPart)[i]);
      builder->failed = builder->failed || taken.failed;
      plumb_list_clear (&taken);
    }
}

/* The limit polygon as convex parts; false when it is at fault. */
static bool
limit_parts (PlumbBuilder *builder, const Plane *plane, PlumbList *parts)
{
  PlumbVec2 *corners = malloc ((plane->n_limit + 1) * sizeof *corners);
  uint32_t first, second;
  bool fine = false;

  if (corners == NULL)
    {
      builder->failed = true;
      return false;
    }
  for (uint32_t i = 0; i < plane->n_limit; i++)
    corners[i] = plumb_vec2 (plane->limit[i].x_m, plane->limit[i].y_m);
  if (plumb_outline_check (corners, plane->n_limit, &first, &second) == PLUMB_OUTLINE_FINE)
    {
      fine = plumb_outline_parts (corners, plane->n_limit, plane->record, parts);
      builder->failed = builder->failed || !fine;
    }
  free (corners);
  return fine;
}

static void
apply_limited (PlumbBuilder *builder, uint32_t space, const Plane *plane, PlumbList *rest)
{
  bool valid = PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space].valid;
  PlumbList knives;

  plumb_list_init (&knives, sizeof (PlumbPart));
  if (!limit_parts (builder, plane, &knives) || (uint64_t) rest->n * knives.n > MOST_PARTS)
    plumb_builder_fault (builder, PLUMB_FAULT_LIMIT, PLUMB_RECORD_CEILING, plane->record, PLUMB_NO_INDEX);
  else if (valid)
    take_limited (builder, space, plane, &knives, rest);
  plumb_list_clear (&knives);
}

static void
set_heights (PlumbBuilder *builder, uint32_t space, uint32_t first_cover)
{
  PlumbSpaceShape *shape = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space];
  double least = INFINITY, greatest = -INFINITY;

  for (uint32_t c = first_cover; c < builder->covers.n; c++)
    {
      const PlumbRoofPart *cover = &PLUMB_LIST (&builder->covers, PlumbRoofPart)[c];
      for (uint32_t i = 0; i < cover->part.n && cover->kind != PLUMB_ROOF_OPEN; i++)
        {
          double z_m = fmax (plumb_height_at (cover->plane, cover->part.p[i]), shape->floor_z_m);
          least = fmin (least, z_m);
          greatest = fmax (greatest, z_m);
        }
    }
  if (greatest < least)
    return;
  shape->least_ceiling_z_m = least;
  shape->greatest_ceiling_z_m = greatest;
}

static void
add_open (PlumbBuilder *builder, uint32_t space, const PlumbList *rest)
{
  double top_z_m = PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space].greatest_ceiling_z_m;

  for (uint32_t i = 0; i < rest->n; i++)
    add_cover (builder, PLUMB_ROOF_OPEN, PLUMB_NO_INDEX, (PlumbHeightPlane){ top_z_m, 0.0, 0.0 },
               &PLUMB_LIST (rest, PlumbPart)[i], space);
}

static void
cover_space (PlumbBuilder *builder, uint32_t space, const Plane *planes, uint32_t n_planes)
{
  uint32_t first_cover = builder->covers.n, n_unlimited = 0;
  PlumbList rest;

  plumb_list_init (&rest, sizeof (PlumbPart));
  for (uint32_t i = 0; i < builder->outline_parts.n; i++)
    if (PLUMB_LIST (&builder->outline_parts, PlumbPart)[i].tag == space)
      {
        PlumbPart *part = plumb_list_add (&rest, 1);
        if (part != NULL)
          *part = PLUMB_LIST (&builder->outline_parts, PlumbPart)[i];
      }
  for (uint32_t k = n_planes; k-- > 0;)
    {
      if (planes[k].n_limit > 0)
        apply_limited (builder, space, &planes[k], &rest);
      else
        n_unlimited++;
    }
  share_unlimited (builder, space, planes, n_planes, &rest);
  set_heights (builder, space, first_cover);
  if (n_unlimited == 0)
    {
      plumb_builder_fault (builder, PLUMB_FAULT_NO_CEILING, PLUMB_RECORD_SPACE, space, PLUMB_NO_INDEX);
      add_open (builder, space, &rest);
    }
  builder->failed = builder->failed || rest.failed;
  plumb_list_clear (&rest);
}

/* Ceilings by space, in record order: a counting sort. */
static void
sort_planes (const PlumbBuilder *builder, Plane *planes, uint32_t *first_of_space)
{
  uint32_t n_ceilings, n_spaces = builder->spaces.n;
  const PlumbCeiling *ceilings = plumb_scene_ceiling_records (builder->scene, &n_ceilings);

  for (int round = 0; round < 2; round++)
    {
      for (uint32_t i = 0; i < n_ceilings; i++)
        {
          uint32_t s = plumb_scene_find (builder->scene, PLUMB_RECORD_SPACE, ceilings[i].space);
          if (s == PLUMB_NO_INDEX)
            continue;
          uint32_t at = first_of_space[s + 1]++;
          if (round == 0)
            continue;
          Plane *plane = &planes[at];
          plane->record = i;
          plane->limit = plumb_scene_nested (builder->scene, PLUMB_RECORD_CEILING_POINT, i, &plane->n_limit);
          plane->plane = plane_of (&ceilings[i], PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[s].floor_z_m);
        }
      if (round == 1)
        return;
      /* Counts to places: slot s + 1 now starts where space s does. */
      uint32_t sum = 0;
      for (uint32_t s = 0; s < n_spaces; s++)
        {
          uint32_t count = first_of_space[s + 1];
          first_of_space[s + 1] = sum;
          sum += count;
        }
    }
}

void
plumb_builder_covers (PlumbBuilder *builder)
{
  uint32_t n_ceilings;

  plumb_scene_ceiling_records (builder->scene, &n_ceilings);
  Plane *planes = calloc (n_ceilings + 1, sizeof *planes);
  uint32_t *first = calloc (builder->spaces.n + 1, sizeof *first);
  if (planes == NULL || first == NULL)
    builder->failed = true;
  else
    {
      sort_planes (builder, planes, first);
      for (uint32_t s = 0; s < builder->spaces.n && !builder->failed; s++)
        cover_space (builder, s, planes + first[s], first[s + 1] - first[s]);
    }
  free (planes);
  free (first);
}
