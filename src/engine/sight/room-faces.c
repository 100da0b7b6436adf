/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Floors, ceilings and the upright steps between ceiling planes.
 */
#include "builder-private.h"

/* Steps lower than this are none. */
#define LEAST_STEP_M PLUMB_POINT_TOLERANCE_M

static void
add_floor_part (PlumbBuilder *builder, uint32_t space, const PlumbPart *part)
{
  PlumbVec3 points[PLUMB_FACE_MAX_POINTS];
  double z_m = PLUMB_LIST (&builder->spaces, PlumbSpaceShape)[space].floor_z_m;

  for (uint32_t i = 0; i < part->n; i++)
    points[i] = plumb_vec3 (part->p[i].x, part->p[i].y, z_m);
  plumb_builder_face (builder, (PlumbSurfaceId){ PLUMB_SURFACE_OF_FLOOR, space }, false, points, part->n,
                      plumb_vec3 (0.0, 0.0, 1.0));
}

static void
add_cell (PlumbBuilder *builder, const PlumbRoofPart *cover)
{
  PlumbCeilingCell *cell = plumb_list_add (&builder->cells, 1);

  if (cell == NULL)
    return;
  cell->space = cover->space;
  cell->ceiling = cover->ceiling;
  cell->n_points = (uint8_t) cover->part.n;
  for (uint32_t i = 0; i < cover->part.n; i++)
    cell->point[i]
        = plumb_vec3 (cover->part.p[i].x, cover->part.p[i].y, plumb_height_at (cover->plane, cover->part.p[i]));
  plumb_builder_face (builder, (PlumbSurfaceId){ PLUMB_SURFACE_OF_CEILING, cover->ceiling }, false, cell->point,
                      cell->n_points, plumb_vec3 (0.0, 0.0, -1.0));
}

/* ---- steps ------------------------------------------------------------------------- */

typedef struct {
  PlumbVec2 from, to; /* the common stretch of two edges */
} Stretch;

/* Where edge i of a part and edge j of another lie on each other. */
static bool
common_stretch (const PlumbPart *a, uint32_t i, const PlumbPart *b, uint32_t j, Stretch *out)
{
  PlumbVec2 start = a->p[i], run = plumb_vec2_sub (a->p[(i + 1) % a->n], start);
  double length = plumb_vec2_length (run);
  PlumbVec2 along = plumb_vec2_scale (run, 1.0 / length);
  PlumbVec2 p = plumb_vec2_sub (b->p[(j + 1) % b->n], start), q = plumb_vec2_sub (b->p[j], start);

  if (fabs (plumb_vec2_cross (along, p)) > PLUMB_POINT_TOLERANCE_M
      || fabs (plumb_vec2_cross (along, q)) > PLUMB_POINT_TOLERANCE_M)
    return false;
  double from = fmax (0.0, plumb_vec2_dot (along, p)), to = fmin (length, plumb_vec2_dot (along, q));
  out->from = plumb_vec2_along (start, along, from);
  out->to = plumb_vec2_along (start, along, to);
  return to - from > PLUMB_POINT_TOLERANCE_M;
}

/* A step over a stretch on which one plane is nowhere below the other. */
static void
add_step_piece (PlumbBuilder *builder, const PlumbRoofPart *low, const PlumbRoofPart *high, Stretch s,
                PlumbVec2 towards_high)
{
  double low_from = plumb_height_at (low->plane, s.from), low_to = plumb_height_at (low->plane, s.to);
  double high_from = plumb_height_at (high->plane, s.from), high_to = plumb_height_at (high->plane, s.to);
  PlumbVec3 points[4] = { plumb_vec3 (s.from.x, s.from.y, low_from), plumb_vec3 (s.to.x, s.to.y, low_to),
                          plumb_vec3 (s.to.x, s.to.y, high_to), plumb_vec3 (s.from.x, s.from.y, high_from) };

  if (high_from - low_from > LEAST_STEP_M || high_to - low_to > LEAST_STEP_M)
    plumb_builder_face (builder, (PlumbSurfaceId){ PLUMB_SURFACE_OF_STEP, low->space }, false, points, 4,
                        plumb_vec3 (towards_high.x, towards_high.y, 0.0));
}

/* b lies to the right of the stretch, a to its left. */
static void
add_step (PlumbBuilder *builder, const PlumbRoofPart *a, const PlumbRoofPart *b, Stretch s)
{
  PlumbVec2 run = plumb_vec2_sub (s.to, s.from), to_a = plumb_vec2 (-run.y, run.x), to_b = plumb_vec2 (run.y, -run.x);
  double d_from = plumb_height_at (a->plane, s.from) - plumb_height_at (b->plane, s.from);
  double d_to = plumb_height_at (a->plane, s.to) - plumb_height_at (b->plane, s.to);
  Stretch first = s, last = s;

  if (d_from * d_to < 0.0)
    first.to = last.from = plumb_vec2_along (s.from, run, d_from / (d_from - d_to));
  else
    d_from = d_to = fabs (d_from) > fabs (d_to) ? d_from : d_to;
  add_step_piece (builder, d_from > 0.0 ? b : a, d_from > 0.0 ? a : b, first, d_from > 0.0 ? to_a : to_b);
  if (first.to.x == s.to.x && first.to.y == s.to.y)
    return;
  add_step_piece (builder, d_to > 0.0 ? b : a, d_to > 0.0 ? a : b, last, d_to > 0.0 ? to_a : to_b);
}

static bool
may_touch (const PlumbPart *a, const PlumbPart *b)
{
  const double slack_m = PLUMB_POINT_TOLERANCE_M;
  PlumbBox2 p = plumb_part_box (a), q = plumb_part_box (b);

  return p.least.x <= q.most.x + slack_m && q.least.x <= p.most.x + slack_m && p.least.y <= q.most.y + slack_m
         && q.least.y <= p.most.y + slack_m;
}

static void
add_steps_between (PlumbBuilder *builder, const PlumbRoofPart *a, const PlumbRoofPart *b)
{
  if ((a->ceiling == b->ceiling && a->kind == b->kind) || a->kind == PLUMB_ROOF_OPEN || b->kind == PLUMB_ROOF_OPEN
      || !may_touch (&a->part, &b->part))
    return;
  for (uint32_t i = 0; i < a->part.n; i++)
    for (uint32_t j = 0; j < b->part.n; j++)
      {
        Stretch stretch;
        if (common_stretch (&a->part, i, &b->part, j, &stretch))
          add_step (builder, a, b, stretch);
      }
}

void
plumb_builder_floors_and_ceilings (PlumbBuilder *builder)
{
  const PlumbRoofPart *covers = PLUMB_LIST (&builder->covers, PlumbRoofPart);

  for (uint32_t i = 0; i < builder->outline_parts.n; i++)
    {
      const PlumbPart *part = &PLUMB_LIST (&builder->outline_parts, PlumbPart)[i];
      add_floor_part (builder, part->tag, part);
    }
  for (uint32_t i = 0; i < builder->covers.n; i++)
    {
      if (covers[i].kind == PLUMB_ROOF_CEILING)
        add_cell (builder, &covers[i]);
      for (uint32_t j = i + 1; j < builder->covers.n && covers[j].space == covers[i].space; j++)
        add_steps_between (builder, &covers[i], &covers[j]);
    }
}
