/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/draw.h"

#include <string.h>

#include "plumbeam/assert.h"

/* The picture's face is cut just before it, so that its wall is seen whole. */
#define FACE_CUT_M 0.002

static const struct {
  const char *word, *title;
} kinds[PLUMB_N_DRAW_KINDS] = {
  [PLUMB_DRAW_PLAN] = { "plan", N_ ("Plan, seen from above") },
  [PLUMB_DRAW_SIDE] = { "side", N_ ("Side, cut on the centre line of the picture") },
  [PLUMB_DRAW_PICTURE] = { "picture", N_ ("Picture, as the viewer sees it") },
  [PLUMB_DRAW_CEILING] = { "ceiling", N_ ("Ceiling, as seen from below") },
};

const char *
plumb_draw_kind_word (PlumbDrawKind kind)
{
  PLUMB_ASSERT (kind < PLUMB_N_DRAW_KINDS);
  return kinds[kind].word;
}

const char *
plumb_draw_kind_title (PlumbDrawKind kind)
{
  PLUMB_ASSERT (kind < PLUMB_N_DRAW_KINDS);
  return kinds[kind].title;
}

bool
plumb_draw_kind_from_word (const char *word, PlumbDrawKind *kind)
{
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    if (strcmp (kinds[i].word, word) == 0)
      {
        *kind = (PlumbDrawKind) i;
        return true;
      }
  return false;
}

/* ---- planes ------------------------------------------------------------------ */

/* Towards the viewers, level. A screen that lies flat has no level normal;
 * then the way down its face does as well. */
static PlumbVec3
level_normal (const PlumbScreenResolved *target)
{
  PlumbVec3 n = { target->frame.n.x, target->frame.n.y, 0.0 };
  if (plumb_vec3_length (n) < 1e-6)
    n = (PlumbVec3){ -target->frame.v.x, -target->frame.v.y, 0.0 };
  return plumb_vec3_unit (n);
}

static PlumbVec3
mean_of_first_space (const PlumbBuilding *building)
{
  PlumbVec3 mean = { 0 };
  if (building == NULL || building->n_spaces == 0 || building->spaces[0].n_walls == 0)
    return mean;
  const PlumbSpaceShape *space = &building->spaces[0];
  for (uint32_t i = 0; i < space->n_walls; i++)
    {
      PlumbVec2 corner = building->walls[space->first_wall + i].start_m;
      mean = plumb_vec3_add (mean, plumb_vec3 (corner.x, corner.y, 0.0));
    }
  return plumb_vec3_scale (mean, 1.0 / space->n_walls);
}

PlumbDrawPlane
plumb_draw_plane (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  const PlumbBuilding *building = resolved != NULL ? resolved->building : NULL;
  const PlumbVec3 z = { 0.0, 0.0, 1.0 };
  PlumbVec3 n = { 0.0, -1.0, 0.0 };
  PlumbVec3 centre = mean_of_first_space (building);
  bool has_picture = evaluation != NULL && evaluation->target.valid;
  uint32_t space = 0;
  if (has_picture)
    {
      n = level_normal (&evaluation->target);
      centre = evaluation->target.frame.origin_m;
      if (evaluation->target.space != PLUMB_NO_INDEX)
        space = evaluation->target.space;
    }
  PlumbVec3 u = plumb_vec3_cross (z, n);
  PlumbDrawPlane plane = { u, z, n, 0.0, has_picture };
  switch (kind)
    {
    case PLUMB_DRAW_PLAN:
      plane.up = plumb_vec3_scale (n, -1.0);
      plane.towards = z;
      plane.cut_m = PLUMB_PLAN_CUT_M;
      if (building != NULL && space < building->n_spaces)
        plane.cut_m += building->spaces[space].floor_z_m;
      break;
    case PLUMB_DRAW_CEILING:
      plane.right = plumb_vec3_scale (u, -1.0);
      plane.up = plumb_vec3_scale (n, -1.0);
      plane.towards = plumb_vec3_scale (z, -1.0);
      plane.cut_m = -PLUMB_PLAN_CUT_M;
      if (building != NULL && space < building->n_spaces)
        plane.cut_m -= building->spaces[space].floor_z_m;
      break;
    case PLUMB_DRAW_SIDE:
      plane.right = n;
      plane.towards = plumb_vec3_scale (u, -1.0);
      plane.cut_m = plumb_vec3_dot (plane.towards, centre);
      break;
    case PLUMB_DRAW_PICTURE:
    case PLUMB_N_DRAW_KINDS:
      plane.cut_m = plumb_vec3_dot (n, centre) + FACE_CUT_M;
      break;
    }
  return plane;
}

PlumbVec2
plumb_draw_plane_from_room (const PlumbDrawPlane *plane, PlumbVec3 point_m)
{
  return plumb_vec2 (plumb_vec3_dot (plane->right, point_m), plumb_vec3_dot (plane->up, point_m));
}

double
plumb_draw_plane_depth_m (const PlumbDrawPlane *plane, PlumbVec3 point_m)
{
  return plumb_vec3_dot (plane->towards, point_m);
}

PlumbVec3
plumb_draw_plane_to_room (const PlumbDrawPlane *plane, PlumbVec2 point_m, double depth_m)
{
  PlumbVec3 point = plumb_vec3_scale (plane->right, point_m.x);
  point = plumb_vec3_along (point, plane->up, point_m.y);
  return plumb_vec3_along (point, plane->towards, depth_m);
}

/* ---- view -------------------------------------------------------------------- */

PlumbDrawShown
plumb_draw_shown_default (void)
{
  return (PlumbDrawShown){ PLUMB_QUESTION_ALL, PLUMB_LAYER_SHADOWS | PLUMB_LAYER_LIGHT | PLUMB_LAYER_HIDDEN,
                           PLUMB_NO_INDEX };
}

PlumbDrawView
plumb_draw_view_default (PlumbDrawKind kind)
{
  return (PlumbDrawView){
    .kind = kind,
    .theme = plumb_draw_theme (PLUMB_THEME_LIGHT),
    .medium = PLUMB_MEDIUM_SCREEN,
    .scale_per_m = 50.0,
    .width = 640.0,
    .height = 480.0,
    .text = true,
    .title = true,
    .selected = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
    .shown = plumb_draw_shown_default (),
  };
}

PlumbVec2
plumb_draw_view_to_device (const PlumbDrawView *view, PlumbVec2 point_m)
{
  return plumb_vec2 (view->width / 2.0 + (point_m.x - view->centre_m.x) * view->scale_per_m,
                     view->height / 2.0 - (point_m.y - view->centre_m.y) * view->scale_per_m);
}

PlumbVec2
plumb_draw_view_from_device (const PlumbDrawView *view, PlumbVec2 device)
{
  return plumb_vec2 (view->centre_m.x + (device.x - view->width / 2.0) / view->scale_per_m,
                     view->centre_m.y - (device.y - view->height / 2.0) / view->scale_per_m);
}

static double
device_per_m (const PlumbDrawView *view)
{
  return view->medium == PLUMB_MEDIUM_PAPER ? PLUMB_PT_PER_M : PLUMB_PX_PER_M;
}

double
plumb_draw_view_ratio (const PlumbDrawView *view)
{
  return device_per_m (view) / view->scale_per_m;
}

void
plumb_draw_view_zoom (PlumbDrawView *view, PlumbVec2 device, double factor)
{
  PlumbVec2 held = plumb_draw_view_from_device (view, device);
  double most = device_per_m (view);
  view->scale_per_m = plumb_clamp (view->scale_per_m * factor, most / 20000.0, most);
  PlumbVec2 now = plumb_draw_view_from_device (view, device);
  view->centre_m = plumb_vec2_add (view->centre_m, plumb_vec2_sub (held, now));
}

static void
centre_on (PlumbDrawView *view, const PlumbDrawBounds *bounds, const PlumbDrawMargins *margins)
{
  double middle_x = (bounds->least_m.x + bounds->greatest_m.x) / 2.0;
  double middle_y = (bounds->least_m.y + bounds->greatest_m.y) / 2.0;
  /* The wider margin pushes the drawing towards the other side. */
  view->centre_m.x = middle_x + (margins->right - margins->left) / 2.0 / view->scale_per_m;
  view->centre_m.y = middle_y + (margins->top - margins->bottom) / 2.0 / view->scale_per_m;
}

void
plumb_draw_view_centre (PlumbDrawView *view, const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbDrawBounds bounds = plumb_draw_bounds (scene, evaluation, view->kind);
  PlumbDrawMargins margins = plumb_draw_margins (scene, view);
  centre_on (view, &bounds, &margins);
}

void
plumb_draw_view_fit (PlumbDrawView *view, const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbDrawBounds bounds = plumb_draw_bounds (scene, evaluation, view->kind);
  PlumbDrawMargins margins = plumb_draw_margins (scene, view);
  double wide = bounds.greatest_m.x - bounds.least_m.x;
  double high = bounds.greatest_m.y - bounds.least_m.y;
  /* A pane smaller than its margins still shows something. */
  double room_x = fmax (view->width - margins.left - margins.right, view->width * 0.2);
  double room_y = fmax (view->height - margins.top - margins.bottom, view->height * 0.2);
  double most = device_per_m (view);
  view->scale_per_m = plumb_clamp (fmin (room_x / wide, room_y / high), most / 20000.0, most);
  centre_on (view, &bounds, &margins);
}
