/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/strings-private.h"

/* Points of the plate and the lens nearer than this get one string. */
#define SAME_LINE_M 0.001
#define MAX_MEMBERS 12

static PlumbVec3
towards_viewers (const PlumbPen *pen)
{
  return plumb_vec3_scale (pen->plane.up, -1.0);
}

static double
view_x (const PlumbPen *pen, PlumbVec3 p)
{
  return plumb_pen_project (pen, p).x;
}

static double
view_y (const PlumbPen *pen, PlumbVec3 p)
{
  return plumb_pen_project (pen, p).y;
}

/* View x of the walls left and right on the page of a room point; false when
 * one of them is not there. */
static bool
walls_beside (const PlumbPen *pen, PlumbVec3 at, double *left, double *right)
{
  double l, r;
  uint32_t wall;
  if (!plumb_cast_to_wall (pen, at, plumb_vec3_scale (pen->plane.right, -1.0), &l, &wall)
      || !plumb_cast_to_wall (pen, at, pen->plane.right, &r, &wall))
    return false;
  *left = view_x (pen, at) - l;
  *right = view_x (pen, at) + r;
  return true;
}

static bool
walls_along (const PlumbPen *pen, PlumbVec3 at, double *picture_side, double *behind)
{
  double p, b;
  uint32_t wall;
  if (!plumb_cast_to_wall (pen, at, pen->plane.up, &p, &wall)
      || !plumb_cast_to_wall (pen, at, towards_viewers (pen), &b, &wall))
    return false;
  *picture_side = view_y (pen, at) + p;
  *behind = view_y (pen, at) - b;
  return true;
}

/* The picture's middle, just before its plane, so that its own wall does not
 * stop a ray along it. */
static PlumbVec3
before_picture (const PlumbPen *pen)
{
  return plumb_vec3_along (pen->evaluation->target.frame.origin_m, towards_viewers (pen), 0.002);
}

/* A wall that carries the screen gives the ends by its own corners. */
static bool
picture_wall_ends (const PlumbPen *pen, double *left, double *right)
{
  const PlumbScreenResolved *target = &pen->evaluation->target;
  for (uint32_t i = 0; target->wall != PLUMB_NO_INDEX && i < pen->building->n_walls; i++)
    {
      const PlumbWallShape *wall = &pen->building->walls[i];
      if (wall->wall != target->wall)
        continue;
      double a = view_x (pen, plumb_vec3 (wall->start_m.x, wall->start_m.y, 0.0));
      double b = view_x (pen, plumb_vec3 (wall->end_m.x, wall->end_m.y, 0.0));
      *left = fmin (a, b);
      *right = fmax (a, b);
      return true;
    }
  return walls_beside (pen, before_picture (pen), left, right);
}

void
plumb_strings_across (PlumbPen *pen, PlumbEdge edge, int level)
{
  PlumbVec3 corner[4];
  bool lit;
  if (pen->building == NULL || !plumb_picture_corners (pen, corner, &lit))
    return;
  double a = view_x (pen, corner[0]), b = view_x (pen, corner[1]);
  double at[4] = { NAN, fmin (a, b), fmax (a, b), NAN };
  picture_wall_ends (pen, &at[0], &at[3]);
  const char *words[3] = { NULL, lit ? N_ ("picture") : N_ ("screen"), NULL };
  /* A picture wider than its wall: the walls' own string says so. */
  if (at[0] <= at[1] && at[2] <= at[3])
    plumb_pen_dimensions (pen, edge, level, at, words, 4);
  else
    plumb_pen_dimensions (pen, edge, level, at + 1, words + 1, 2);
}

static bool
room_extent (const PlumbPen *pen, PlumbVec2 *least, PlumbVec2 *greatest)
{
  if (pen->building == NULL || pen->space >= pen->building->n_spaces)
    return false;
  const PlumbSpaceShape *space = &pen->building->spaces[pen->space];
  *least = plumb_vec2 (INFINITY, INFINITY);
  *greatest = plumb_vec2 (-INFINITY, -INFINITY);
  for (uint32_t i = 0; i < space->n_walls; i++)
    {
      PlumbVec2 c = pen->building->walls[space->first_wall + i].start_m;
      PlumbVec2 p = plumb_pen_project (pen, plumb_vec3 (c.x, c.y, 0.0));
      *least = plumb_vec2 (fmin (least->x, p.x), fmin (least->y, p.y));
      *greatest = plumb_vec2 (fmax (greatest->x, p.x), fmax (greatest->y, p.y));
    }
  return space->n_walls > 0;
}

void
plumb_strings_room_width (PlumbPen *pen, PlumbEdge edge, int level)
{
  PlumbVec2 least, greatest;
  if (!room_extent (pen, &least, &greatest))
    return;
  const double at[2] = { least.x, greatest.x };
  plumb_pen_dimensions (pen, edge, level, at, NULL, 2);
}

void
plumb_strings_room_depth (PlumbPen *pen, PlumbEdge edge, int level)
{
  PlumbVec2 least, greatest;
  if (!room_extent (pen, &least, &greatest))
    return;
  const double at[2] = { least.y, greatest.y };
  plumb_pen_dimensions (pen, edge, level, at, NULL, 2);
}

/* Picture plane and back wall on the picture's centre line, page from top to
 * bottom. */
static bool
picture_and_back (const PlumbPen *pen, double *picture, double *back)
{
  PlumbVec3 corner[4];
  bool lit;
  double front_wall;
  if (!plumb_picture_corners (pen, corner, &lit))
    return false;
  PlumbVec3 foot = plumb_vec3_scale (plumb_vec3_add (corner[0], corner[1]), 0.5);
  *picture = view_y (pen, foot);
  *back = NAN;
  walls_along (pen, before_picture (pen), &front_wall, back);
  return true;
}

void
plumb_strings_lens_and_plate (PlumbPen *pen, PlumbEdge edge, int level)
{
  double picture, back;
  if (!plumb_has_machine (pen) || !picture_and_back (pen, &picture, &back))
    return;
  double lens = view_y (pen, pen->evaluation->beam.lens_m);
  const double lens_string[3] = { picture, lens, back };
  const char *const lens_words[2] = { N_ ("picture to lens"), NULL };
  double wall, behind, plate = view_y (pen, pen->evaluation->plate_m);
  const char *const plate_words[2] = { N_ ("wall to plate"), NULL };
  /* Outer strings first: inner figures then keep off their lines. */
  if (walls_along (pen, pen->evaluation->plate_m, &wall, &behind))
    plumb_pen_dimensions (pen, edge, level + 1, (const double[3]){ wall, plate, behind }, plate_words, 3);
  if (lens <= picture)
    plumb_pen_dimensions (pen, edge, level, lens_string, lens_words, !isfinite (back) || lens < back ? 2 : 3);
  else
    plumb_pen_dimensions (pen, edge, level, (const double[2]){ lens, picture }, NULL, 2);
}

static void
across_at (PlumbPen *pen, PlumbEdge edge, int level, PlumbVec3 point, const char *word)
{
  double left, right;
  if (!walls_beside (pen, point, &left, &right))
    return;
  /* The word goes with the viewer's left wall, wherever that is on the page. */
  bool mirrored = pen->view->kind == PLUMB_DRAW_CEILING;
  const char *const words[2] = { mirrored ? NULL : word, mirrored ? word : NULL };
  plumb_pen_dimensions (pen, edge, level, (const double[3]){ left, view_x (pen, point), right }, words, 3);
}

void
plumb_strings_across_room (PlumbPen *pen, PlumbEdge edge, int level)
{
  if (!plumb_has_machine (pen))
    return;
  PlumbVec3 plate = pen->evaluation->plate_m, lens = pen->evaluation->beam.lens_m;
  if (fabs (view_x (pen, plate) - view_x (pen, lens)) < SAME_LINE_M)
    {
      across_at (pen, edge, level, plate, N_ ("to plate and lens"));
      return;
    }
  across_at (pen, edge, level + 1, lens, N_ ("to lens"));
  across_at (pen, edge, level, plate, N_ ("to plate"));
}

static int
compare_down (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x < y) - (x > y);
}

void
plumb_strings_members (PlumbPen *pen, PlumbEdge edge, int level)
{
  PlumbVec2 least, greatest;
  if (!room_extent (pen, &least, &greatest))
    return;
  double at[MAX_MEMBERS + 2];
  size_t n = 0;
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      if (solid->surface.kind != PLUMB_SURFACE_OF_STRUCTURE || !solid->exposed)
        continue;
      const PlumbStructure *record = plumb_scene_structure (pen->scene, solid->surface.record);
      PlumbVec3 run = { record->end_x_m - record->start_x_m, record->end_y_m - record->start_y_m, 0.0 };
      PlumbVec3 way = plumb_vec3_unit (run);
      /* Only those that lie across the room can be measured along it. */
      if (fabs (plumb_vec3_dot (way, pen->plane.right)) < 0.996)
        continue;
      if (n == MAX_MEMBERS)
        return;
      at[1 + n++] = view_y (pen, solid->centre_m);
    }
  if (n == 0)
    return;
  qsort (at + 1, n, sizeof at[0], compare_down);
  at[0] = greatest.y;
  at[n + 1] = least.y;
  plumb_pen_dimensions (pen, edge, level, at, NULL, n + 2);
}
