/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The faces of walls as flat sheets in (along, z): up to the ceiling, step by
 * step where its planes change.
 */
#include <stdlib.h>

#include "builder-private.h"

/* Gaps along a wall below this come from rounding and are closed. */
#define CLOSE_GAP_M 1e-6
/* An outer face must lie this deep inside another room to be taken away. */
#define INTRUDES_M 1e-6

/* A stretch of a wall under one plane. */
typedef struct {
  uint32_t ceiling;
  double from_m, to_m, from_z_m, to_z_m;
} Stretch;

static int
compare_stretches (const void *a, const void *b)
{
  const Stretch *x = a, *y = b;

  return (x->from_m > y->from_m) - (x->from_m < y->from_m);
}

static void
add_cover_stretches (const PlumbWallShape *wall, const PlumbRoofPart *cover, PlumbList *stretches)
{
  const PlumbPart *part = &cover->part;

  for (uint32_t i = 0; i < part->n; i++)
    {
      PlumbVec2 p = plumb_vec2_sub (part->p[i], wall->start_m);
      PlumbVec2 q = plumb_vec2_sub (part->p[(i + 1) % part->n], wall->start_m);
      if (fabs (plumb_vec2_dot (wall->inward, p)) > PLUMB_POINT_TOLERANCE_M
          || fabs (plumb_vec2_dot (wall->inward, q)) > PLUMB_POINT_TOLERANCE_M)
        continue;
      double from_m = fmax (0.0, plumb_vec2_dot (wall->along, p));
      double to_m = fmin (wall->length_m, plumb_vec2_dot (wall->along, q));
      if (to_m - from_m <= PLUMB_POINT_TOLERANCE_M)
        continue;
      Stretch *stretch = plumb_list_add (stretches, 1);
      if (stretch == NULL)
        return;
      *stretch = (Stretch){ cover->ceiling, from_m, to_m, 0.0, 0.0 };
      stretch->from_z_m = plumb_height_at (cover->plane, plumb_vec2_along (wall->start_m, wall->along, from_m));
      stretch->to_z_m = plumb_height_at (cover->plane, plumb_vec2_along (wall->start_m, wall->along, to_m));
    }
}

/* Whether b goes on where a ends, in the same line. */
static bool
continues (const Stretch *a, const Stretch *b)
{
  double slope = (b->to_z_m - a->from_z_m) / (b->to_m - a->from_m);

  return a->ceiling == b->ceiling && fabs (a->to_z_m - b->from_z_m) < PLUMB_POINT_TOLERANCE_M
         && fabs (a->from_z_m + slope * (a->to_m - a->from_m) - a->to_z_m) < PLUMB_POINT_TOLERANCE_M;
}

/* The ceiling's profile over the wall, from its start to its end. */
static void
profile (const PlumbBuilder *builder, const PlumbWallShape *wall, uint32_t first_cover, PlumbList *stretches)
{
  const PlumbRoofPart *covers = PLUMB_LIST (&builder->covers, PlumbRoofPart);

  for (uint32_t c = first_cover; c < builder->covers.n && covers[c].space == wall->space; c++)
    add_cover_stretches (wall, &covers[c], stretches);
  Stretch *s = PLUMB_LIST (stretches, Stretch);
  uint32_t n = 0;
  if (stretches->n > 1)
    qsort (s, stretches->n, sizeof *s, compare_stretches);
  for (uint32_t i = 0; i < stretches->n; i++)
    {
      Stretch next = s[i];
      double end_m = n > 0 ? s[n - 1].to_m : 0.0;
      if (fabs (next.from_m - end_m) < CLOSE_GAP_M)
        next.from_m = end_m;
      if (n > 0 && next.from_m == end_m && continues (&s[n - 1], &next))
        {
          s[n - 1].to_m = next.to_m;
          s[n - 1].to_z_m = next.to_z_m;
        }
      else
        s[n++] = next;
    }
  if (n > 0 && wall->length_m - s[n - 1].to_m < CLOSE_GAP_M)
    s[n - 1].to_m = wall->length_m;
  stretches->n = n;
}

static void
add_trapezoid (PlumbList *parts, double floor_z_m, double from_m, double to_m, double from_z_m, double to_z_m)
{
  PlumbRing ring
      = { .n = 4, .p = { { from_m, floor_z_m }, { to_m, floor_z_m }, { to_m, to_z_m }, { from_m, from_z_m } } };

  plumb_parts_add (parts, &ring, PLUMB_NO_INDEX);
}

/* The stretch between two places along the wall, which lie in it. */
static void
add_between (PlumbList *parts, double floor_z_m, const Stretch *s, double from_m, double to_m)
{
  double slope = (s->to_z_m - s->from_z_m) / (s->to_m - s->from_m);

  add_trapezoid (parts, floor_z_m, from_m, to_m, s->from_z_m + slope * (from_m - s->from_m),
                 s->from_z_m + slope * (to_m - s->from_m));
}

static void
add_inner_sheet (PlumbSheet *sheet, double floor_z_m, const PlumbList *stretches)
{
  const Stretch *s = PLUMB_LIST (stretches, Stretch);

  for (uint32_t i = 0; i < stretches->n; i++)
    add_between (&sheet->parts, floor_z_m, &s[i], s[i].from_m, s[i].to_m);
}

static bool
is_level (const Stretch *stretch)
{
  return fabs (stretch->to_z_m - stretch->from_z_m) < PLUMB_POINT_TOLERANCE_M;
}

/* The same profile between the outer corners; it goes on level beyond the
 * inner ones. */
static void
add_outer_sheet (PlumbSheet *sheet, const PlumbWallShape *wall, double floor_z_m, const PlumbList *stretches)
{
  const Stretch *s = PLUMB_LIST (stretches, Stretch);
  double start_m = plumb_vec2_dot (wall->along, plumb_vec2_sub (wall->outer_start_m, wall->start_m));
  double end_m = plumb_vec2_dot (wall->along, plumb_vec2_sub (wall->outer_end_m, wall->start_m));
  uint32_t n = stretches->n;

  for (uint32_t i = 0; i < n; i++)
    {
      Stretch stretch = s[i];
      /* A level end simply goes on; a sloped one gets a level piece. */
      if (i == 0 && start_m < stretch.from_m)
        {
          if (is_level (&stretch))
            stretch.from_m = start_m;
          else
            add_trapezoid (&sheet->parts, floor_z_m, start_m, fmin (stretch.from_m, end_m), stretch.from_z_m,
                           stretch.from_z_m);
        }
      if (i + 1 == n && end_m > stretch.to_m)
        {
          if (is_level (&stretch))
            stretch.to_m = end_m;
          else
            add_trapezoid (&sheet->parts, floor_z_m, fmax (stretch.to_m, start_m), end_m, stretch.to_z_m,
                           stretch.to_z_m);
        }
      double from_m = fmax (stretch.from_m, start_m), to_m = fmin (stretch.to_m, end_m);
      if (to_m > from_m)
        add_between (&sheet->parts, floor_z_m, &stretch, from_m, to_m);
    }
}

/* ---- outer faces inside other rooms ------------------------------------------------- */

static double
off_outline (const PlumbBuilder *builder, uint32_t space, PlumbVec2 p)
{
  const PlumbSpaceShape *shape = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space];
  const PlumbWallShape *walls = PLUMB_LIST (&builder->walls, PlumbWallShape) + shape->first_wall;
  double least = INFINITY;

  for (uint32_t k = 0; k < shape->n_walls; k++)
    {
      PlumbVec2 to = plumb_vec2_sub (p, walls[k].start_m);
      double along_m = plumb_clamp (plumb_vec2_dot (to, walls[k].along), 0.0, walls[k].length_m);
      least = fmin (least, plumb_vec2_length (plumb_vec2_along (to, walls[k].along, -along_m)));
    }
  return least;
}

/* The stretch of the sheet's line that lies in a convex part of a plan. */
static bool
stretch_inside (const PlumbWallShape *wall, double off_m, const PlumbPart *part, double *from_m, double *to_m)
{
  PlumbVec2 origin = plumb_vec2_along (wall->start_m, wall->inward, -off_m);

  *from_m = -INFINITY;
  *to_m = INFINITY;
  for (uint32_t e = 0; e < part->n; e++)
    {
      PlumbLine2 line;
      if (!plumb_line2_through (part->p[e], part->p[(e + 1) % part->n], &line))
        continue;
      double rate = line.a * wall->along.x + line.b * wall->along.y, at = plumb_line2_at (line, origin);
      if (fabs (rate) < 1e-9)
        {
          if (at > PLUMB_POINT_TOLERANCE_M)
            return false;
        }
      else if (rate > 0.0)
        *to_m = fmin (*to_m, -at / rate);
      else
        *from_m = fmax (*from_m, -at / rate);
    }
  return isfinite (*from_m) && isfinite (*to_m) && *to_m - *from_m > INTRUDES_M;
}

static void
cut_parts (PlumbList *parts, const PlumbPart *knife)
{
  PlumbList left;

  plumb_list_init (&left, sizeof (PlumbPart));
  for (uint32_t i = 0; i < parts->n; i++)
    plumb_part_cut (&PLUMB_LIST (parts, PlumbPart)[i], knife, 0, NULL, &left);
  left.failed = left.failed || parts->failed;
  plumb_list_clear (parts);
  *parts = left;
}

/* Two rooms whose wall between them was given different thicknesses: the
 * outer face of one would stand inside the other. Air wins. */
static void
clear_rooms (const PlumbBuilder *builder, PlumbSheet *sheet)
{
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[sheet->wall];

  for (uint32_t i = 0; i < builder->outline_parts.n && sheet->parts.n > 0; i++)
    {
      const PlumbPart *part = &PLUMB_LIST (&builder->outline_parts, PlumbPart)[i];
      const PlumbSpaceShape *space = &PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[part->tag];
      double from_m, to_m;
      if (!stretch_inside (wall, sheet->off_m, part, &from_m, &to_m))
        continue;
      PlumbVec3 middle = plumb_wall_point (wall, (from_m + to_m) / 2.0, sheet->off_m, 0.0);
      if (off_outline (builder, part->tag, plumb_vec2 (middle.x, middle.y)) < INTRUDES_M)
        continue;
      PlumbPart knife = plumb_part_rectangle (from_m, to_m, space->floor_z_m, space->greatest_ceiling_z_m, 0);
      cut_parts (&sheet->parts, &knife);
    }
}

/* ---- all sheets ----------------------------------------------------------------------- */

static void
add_sheets_of_wall (PlumbBuilder *builder, uint32_t w, uint32_t first_cover, bool outer)
{
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[w];
  double floor_z_m = PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[wall->space].floor_z_m;
  PlumbSheet sheet = { .wall = w, .outer = outer, .off_m = outer ? wall->thickness_m : 0.0 };
  PlumbList stretches;

  plumb_list_init (&stretches, sizeof (Stretch));
  plumb_list_init (&sheet.parts, sizeof (PlumbPart));
  profile (builder, wall, first_cover, &stretches);
  if (outer)
    {
      add_outer_sheet (&sheet, wall, floor_z_m, &stretches);
      clear_rooms (builder, &sheet);
    }
  else
    add_inner_sheet (&sheet, floor_z_m, &stretches);
  builder->failed = builder->failed || stretches.failed || sheet.parts.failed;
  plumb_list_clear (&stretches);
  PlumbSheet *added = plumb_list_add (&builder->sheets, 1);
  if (added != NULL)
    *added = sheet;
  else
    plumb_list_clear (&sheet.parts);
}

void
plumb_builder_sheets (PlumbBuilder *builder)
{
  const PlumbSpaceShape *spaces = PLUMB_LIST (&builder->spaces, PlumbSpaceShape);
  const PlumbRoofPart *covers = PLUMB_LIST (&builder->covers, PlumbRoofPart);

  for (int side = 0; side < 2; side++)
    {
      uint32_t first_cover = 0;
      for (uint32_t s = 0; s < builder->spaces.n; s++)
        {
          while (first_cover < builder->covers.n && covers[first_cover].space < s)
            first_cover++;
          for (uint32_t k = 0; spaces[s].valid && k < spaces[s].n_walls; k++)
            add_sheets_of_wall (builder, spaces[s].first_wall + k, first_cover, side == 1);
        }
    }
}
