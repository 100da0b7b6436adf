/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each drawing covers, and the room its words take round it. */
#include "draw/parts-private.h"
#include "draw/section-private.h"

/* px of the look, as in plumb_pen_level(). */
#define FOOT_PX 34.0
#define SEAT_KEY_PX 24.0 /* two lines */
#define PICTURE_KEY_PX 18.0
#define EDGE_PX 10.0
#define TITLE_PX 28.0
#define FIGURE_PX 17.0 /* over the outermost string */

typedef struct {
  PlumbDrawPlane plane;
  PlumbVec2 least, greatest;
} Grower;

static void
grow_to (Grower *grower, PlumbVec2 p)
{
  if (!isfinite (p.x) || !isfinite (p.y))
    return;
  grower->least = plumb_vec2 (fmin (grower->least.x, p.x), fmin (grower->least.y, p.y));
  grower->greatest = plumb_vec2 (fmax (grower->greatest.x, p.x), fmax (grower->greatest.y, p.y));
}

static void
grow (Grower *grower, PlumbVec3 point)
{
  grow_to (grower, plumb_draw_plane_from_room (&grower->plane, point));
}

static bool
is_empty (const Grower *grower)
{
  return !(grower->least.x <= grower->greatest.x);
}

static void
grow_machine (Grower *grower, const PlumbEvaluation *evaluation)
{
  if (evaluation == NULL || !evaluation->solved)
    return;
  for (int i = 0; i < 8; i++)
    grow (grower, evaluation->body_corner_m[i]);
  grow (grower, evaluation->beam.lens_m);
  grow (grower, evaluation->plate_m);
}

static void
grow_screen (Grower *grower, const PlumbEvaluation *evaluation)
{
  if (evaluation == NULL || !evaluation->target.valid)
    return;
  const PlumbScreenResolved *target = &evaluation->target;
  for (int i = 0; i < 4; i++)
    {
      double u = (i == 0 || i == 3 ? -0.5 : 0.5) * target->width_m;
      double v = (i < 2 ? -0.5 : 0.5) * target->height_m;
      PlumbVec3 p = plumb_vec3_along (target->frame.origin_m, target->frame.u, u);
      grow (grower, plumb_vec3_along (p, target->frame.v, v));
    }
}

static void
grow_walls (Grower *grower, const PlumbBuilding *building)
{
  for (uint32_t i = 0; i < building->n_walls; i++)
    {
      const PlumbWallShape *wall = &building->walls[i];
      const PlumbVec2 corner[4] = { wall->start_m, wall->end_m, wall->outer_start_m, wall->outer_end_m };
      for (int k = 0; k < 4; k++)
        grow (grower, plumb_vec3 (corner[k].x, corner[k].y, 0.0));
    }
}

static void
grow_places (Grower *grower, const PlumbResolved *resolved)
{
  for (uint32_t i = 0; i < resolved->n_places; i++)
    if (resolved->places[i].valid)
      grow (grower, resolved->places[i].plate_m);
}

static void
grow_seats (Grower *grower, const PlumbResolved *resolved)
{
  for (uint32_t i = 0; i < resolved->n_seats; i++)
    grow (grower, resolved->seats[i].eye_m);
}

/* Upright drawings show what the section holds. */
static void
grow_section (Grower *grower, const PlumbBuilding *building, const PlumbScene *scene)
{
  PlumbSection section;
  plumb_section_init (&section, building, scene, &grower->plane);
  for (guint i = 0; i < section.points->len; i++)
    grow_to (grower, g_array_index (section.points, PlumbVec2, i));
  plumb_section_clear (&section);
}

PlumbDrawBounds
plumb_draw_bounds (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  Grower grower = { plumb_draw_plane (scene, evaluation, kind), { INFINITY, INFINITY }, { -INFINITY, -INFINITY } };
  bool upright = kind == PLUMB_DRAW_SIDE || kind == PLUMB_DRAW_PICTURE;
  if (resolved != NULL && resolved->building != NULL)
    {
      if (upright)
        grow_section (&grower, resolved->building, scene);
      else
        grow_walls (&grower, resolved->building);
    }
  if (resolved != NULL && !upright)
    grow_places (&grower, resolved);
  if (resolved != NULL && kind == PLUMB_DRAW_PLAN)
    grow_seats (&grower, resolved);
  grow_machine (&grower, evaluation);
  grow_screen (&grower, evaluation);
  if (is_empty (&grower))
    return (PlumbDrawBounds){ { -2.0, -1.5 }, { 2.0, 1.5 } };
  /* A single point or line still needs a page. */
  for (int i = 0; i < 2; i++)
    {
      double *low = i == 0 ? &grower.least.x : &grower.least.y;
      double *high = i == 0 ? &grower.greatest.x : &grower.greatest.y;
      double lack = 0.5 - (*high - *low);
      if (lack > 0.0)
        {
          *low -= lack / 2.0;
          *high += lack / 2.0;
        }
    }
  return (PlumbDrawBounds){ grower.least, grower.greatest };
}

/* Strings on each edge of each drawing: left, right, top, bottom. */
static const int levels[PLUMB_N_DRAW_KINDS][4] = {
  [PLUMB_DRAW_PLAN] = { 2, 2, 2, 2 },
  [PLUMB_DRAW_SIDE] = { 2, 2, 0, 3 },
  [PLUMB_DRAW_PICTURE] = { 2, 2, 0, 2 },
  [PLUMB_DRAW_CEILING] = { 2, 2, 1, 2 },
};

PlumbDrawMargins
plumb_draw_margins (const PlumbScene *scene, const PlumbDrawView *view)
{
  double unit = view->medium == PLUMB_MEDIUM_PAPER ? 0.25 * PLUMB_PT_PER_MM : 1.0;
  const int *level = levels[view->kind];
  double side[4];
  for (int i = 0; i < 4; i++)
    side[i] = level[i] == 0 ? EDGE_PX * unit : plumb_pen_level (view, level[i]) + FIGURE_PX * unit;
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  bool seats = resolved != NULL && resolved->n_seats > 0;
  double keys = 0.0;
  if (view->kind == PLUMB_DRAW_PLAN && seats)
    keys = SEAT_KEY_PX;
  else if (view->kind == PLUMB_DRAW_PICTURE)
    keys = PICTURE_KEY_PX;
  /* Words at the sides of the ceiling drawing: which side is whose. */
  double words = view->kind == PLUMB_DRAW_CEILING ? 16.0 * unit : 0.0;
  return (PlumbDrawMargins){ side[0] + words, side[1] + words, side[2] + (view->title ? TITLE_PX * unit : 0.0),
                             side[3] + (FOOT_PX + keys) * unit };
}
