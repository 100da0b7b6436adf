/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Walls, floors and roofs as convex bodies between their inner and their
 * outer faces. Holes are where no body is, so their edges are real.
 */
#include "view3d/mesh-private.h"

#define FLOOR_SLAB_M 0.25
/* A floor this far over the room's own lies on the ceiling beneath: a skin. */
#define UPPER_M 1.0
#define SKIN_M 0.003
#define STEP_SLAB_M 0.06
#define LEAF_M 0.04
/* How near to a wall's face the ceiling over it is looked up. */
#define INSET_M 1e-4
#define AT_CEILING_M 1e-3
/* A roof's build-up is measured square to it; steeper than this it would shoot up. */
#define LEAST_COSINE 0.2

static PlumbVec2
flat (PlumbVec3 p)
{
  return plumb_vec2 (p.x, p.y);
}

/* How a ceiling's height grows along x and y. */
static PlumbVec2
gradient_of (const PlumbMaker *maker, uint32_t ceiling)
{
  const PlumbCeiling *record = plumb_scene_ceiling (maker->scene, ceiling);
  double slope = tan (plumb_clamp (record->slope_rad, 0.0, 1.55));
  return plumb_vec2 (slope * cos (record->rise_direction_rad), slope * sin (record->rise_direction_rad));
}

bool
plumb_maker_at_ceiling (const PlumbMaker *maker, const PlumbWallShape *wall, PlumbVec3 inner, PlumbVec2 *gradient)
{
  double z, along = plumb_vec2_dot (plumb_vec2_sub (flat (inner), wall->start_m), wall->along);
  /* In from the wall's ends too: a corner lies on the outline. */
  double inside = plumb_clamp (along, fmin (INSET_M, wall->length_m / 2), fmax (wall->length_m - INSET_M, 0.0));
  PlumbVec2 p = plumb_vec2_along (plumb_vec2_along (wall->start_m, wall->along, inside), wall->inward, INSET_M);
  uint32_t ceiling = plumb_building_ceiling_at (maker->building, wall->space, p, &z);

  if (ceiling == PLUMB_NO_INDEX)
    return false;
  *gradient = gradient_of (maker, ceiling);
  return inner.z > z - AT_CEILING_M - INSET_M * 2.0 * (fabs (gradient->x) + fabs (gradient->y));
}

PlumbVec3
plumb_maker_outer_point (const PlumbMaker *maker, const PlumbWallShape *wall, PlumbVec3 inner)
{
  double along = plumb_vec2_dot (plumb_vec2_sub (flat (inner), wall->start_m), wall->along);
  PlumbVec2 outer = plumb_vec2_along (flat (inner), wall->inward, -wall->thickness_m), gradient;

  if (along < PLUMB_POINT_TOLERANCE_M)
    outer = wall->outer_start_m;
  else if (along > wall->length_m - PLUMB_POINT_TOLERANCE_M)
    outer = wall->outer_end_m;
  double z = inner.z;
  if (plumb_maker_at_ceiling (maker, wall, inner, &gradient))
    z += plumb_vec2_dot (gradient, plumb_vec2_sub (outer, flat (inner)));
  return plumb_vec3 (outer.x, outer.y, z);
}

bool
plumb_mesh_wall_face (const PlumbFace *face, const PlumbWallShape *wall)
{
  if (face->outer || fabs (face->normal.z) > 1e-6
      || plumb_vec2_dot (flat (face->normal), wall->inward) < 1.0 - 1e-6)
    return false;
  return fabs (plumb_vec2_dot (plumb_vec2_sub (flat (face->point[0]), wall->start_m), wall->inward)) < 1e-5;
}

/* Shapes by wall record. */
static GArray *
shapes_of (const PlumbBuilding *b, const PlumbScene *scene)
{
  uint32_t n, none = PLUMB_NO_INDEX;
  plumb_scene_wall_records (scene, &n);
  GArray *shape = g_array_sized_new (FALSE, FALSE, sizeof (uint32_t), n);
  for (uint32_t i = 0; i < n; i++)
    g_array_append_val (shape, none);
  for (uint32_t w = 0; w < b->n_walls; w++)
    if (b->walls[w].wall < n)
      g_array_index (shape, uint32_t, b->walls[w].wall) = w;
  return shape;
}

/* The wall that a face is in; a leaf's comes from its hole. */
static const PlumbWallShape *
wall_of (const PlumbMaker *maker, const PlumbFace *face, const GArray *shapes)
{
  uint32_t record = PLUMB_NO_INDEX;

  if (face->surface.kind == PLUMB_SURFACE_OF_WALL)
    record = face->surface.record;
  else if (face->surface.kind == PLUMB_SURFACE_OF_OPENING || face->surface.kind == PLUMB_SURFACE_OF_PORT)
    for (uint32_t h = 0; h < maker->building->n_holes && record == PLUMB_NO_INDEX; h++)
      if (maker->building->holes[h].surface.kind == face->surface.kind
          && maker->building->holes[h].surface.record == face->surface.record)
        record = maker->building->holes[h].wall;
  if (record >= shapes->len)
    return NULL;
  uint32_t shape = g_array_index (shapes, uint32_t, record);
  return shape == PLUMB_NO_INDEX ? NULL : &maker->building->walls[shape];
}

/* A void over the ceiling, a room over the room: part of what is lifted off. */
static bool
is_upper (const PlumbMaker *maker, uint32_t space)
{
  return maker->building->spaces[space].floor_z_m > maker->axes.floor_z_m + UPPER_M;
}

/* Whether a wall stands between the camera and the room. */
static bool
is_near (const PlumbMaker *maker, const PlumbWallShape *wall)
{
  PlumbVec2 way = maker->to_camera;

  if (maker->section.kind != PLUMB_SECTION_CORNER || wall->wall == maker->axes.picture_wall)
    return false;
  if (wall->space == maker->axes.space)
    return -plumb_vec2_dot (wall->inward, way) > 0.2;
  /* A neighbour's walls on this side of the picture hide it whichever way they
   * face. */
  PlumbVec3 middle = plumb_mesh_axes_point (&maker->axes, (maker->axes.box_front_m + maker->axes.box_back_m) / 2.0,
                                            (maker->axes.box_left_m + maker->axes.box_right_m) / 2.0, 0.0);
  if (maker->evaluation->target.valid)
    middle = maker->evaluation->target.frame.origin_m;
  PlumbVec2 at = plumb_vec2_scale (plumb_vec2_add (wall->start_m, wall->end_m), 0.5);
  return plumb_vec2_dot (plumb_vec2_sub (at, flat (middle)), way) > 0.0;
}

static void
cut_building (const PlumbMaker *maker, PlumbBody *body, const PlumbCutPlane *roof)
{
  if (maker->has_back)
    plumb_body_cut (body, &maker->back);
  if (maker->has_roof && roof != NULL)
    plumb_body_cut (body, roof);
}

static void
wall_body (PlumbMaker *maker, const PlumbFace *face, const PlumbWallShape *wall)
{
  PlumbVec3 outer[PLUMB_FACE_MAX_POINTS];
  PlumbMaterial sides[PLUMB_FACE_MAX_POINTS], material = PLUMB_MATERIAL_WALL;
  PlumbVec2 gradient;
  bool leaf = face->surface.kind != PLUMB_SURFACE_OF_WALL;
  PlumbBody body = { .grain = plumb_vec3 (wall->along.x, wall->along.y, 0.0) };

  if (leaf)
    {
      const PlumbOpening *opening = face->surface.kind == PLUMB_SURFACE_OF_OPENING
                                        ? plumb_scene_opening (maker->scene, face->surface.record)
                                        : NULL;
      bool wood = opening != NULL && opening->kind != PLUMB_OPENING_WINDOW;
      material = wood ? PLUMB_MATERIAL_TIMBER : PLUMB_MATERIAL_OTHER;
      body.grain = plumb_vec3 (0.0, 0.0, 1.0);
    }
  double leaf_m = fmin (LEAF_M, wall->thickness_m);
  for (uint32_t i = 0; i < face->n_points; i++)
    {
      bool high = plumb_maker_at_ceiling (maker, wall, face->point[i], &gradient);
      bool next = plumb_maker_at_ceiling (maker, wall, face->point[(i + 1) % face->n_points], &gradient);
      /* Under the roof: seen as a cut where the roof is lifted off. */
      sides[i] = high && next && !leaf ? PLUMB_MATERIAL_CUT : material;
      outer[i] = plumb_maker_outer_point (maker, wall, face->point[i]);
      if (leaf)
        outer[i] = plumb_vec3 (face->point[i].x - leaf_m * wall->inward.x, face->point[i].y - leaf_m * wall->inward.y,
                               face->point[i].z);
    }
  plumb_body_between (&body, face->point, outer, face->n_points, sides, material, material);
  if (is_near (maker, wall))
    {
      double floor = is_upper (maker, wall->space) ? maker->axes.floor_z_m : maker->building->spaces[wall->space].floor_z_m;
      double z = floor + PLUMB_MESH_LOW_WALL_M;
      PlumbCutPlane low = { plumb_vec3 (0.0, 0.0, 1.0), z };
      plumb_body_cut (&body, &low);
    }
  cut_building (maker, &body, NULL);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_TOWARDS, plumb_vec3 (wall->inward.x, wall->inward.y, 0.0));
}

void
plumb_maker_walls (PlumbMaker *maker)
{
  const PlumbBuilding *b = maker->building;
  g_autoptr (GArray) shapes = shapes_of (b, maker->scene);

  for (uint32_t f = 0; f < b->room_faces; f++)
    {
      const PlumbFace *face = &b->faces[f];
      const PlumbWallShape *wall = wall_of (maker, face, shapes);
      if (wall == NULL || !plumb_mesh_wall_face (face, wall))
        continue;
      PlumbRecordKind kind = face->surface.kind == PLUMB_SURFACE_OF_WALL      ? PLUMB_RECORD_WALL
                             : face->surface.kind == PLUMB_SURFACE_OF_OPENING ? PLUMB_RECORD_OPENING
                                                                              : PLUMB_RECORD_PORT;
      plumb_maker_part (maker, (PlumbSubject){ kind, face->surface.record, PLUMB_NO_INDEX }, true, true);
      wall_body (maker, face, wall);
      plumb_maker_end_part (maker);
    }
}

/* A flat polygon made thick straight up or down; counter-clockwise from
 * above. */
static void
slab (PlumbMaker *maker, const PlumbVec3 *points, uint32_t n, double up_m, PlumbMaterial seen, PlumbMaterial hidden,
      PlumbVec3 grain, const PlumbCutPlane *roof)
{
  PlumbVec3 top[PLUMB_FACE_MAX_POINTS], bottom[PLUMB_FACE_MAX_POINTS];
  PlumbMaterial sides[PLUMB_FACE_MAX_POINTS];
  PlumbBody body = { .grain = grain };

  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec3 moved = plumb_vec3 (points[i].x, points[i].y, points[i].z + up_m);
      top[i] = up_m > 0.0 ? moved : points[i];
      bottom[i] = up_m > 0.0 ? points[i] : moved;
      sides[i] = hidden;
    }
  plumb_body_between (&body, top, bottom, n, sides, up_m > 0.0 ? hidden : seen, up_m > 0.0 ? seen : hidden);
  cut_building (maker, &body, roof);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_TOWARDS, plumb_vec3 (0.0, 0.0, up_m > 0.0 ? -1.0 : 1.0));
}

static bool
is_open_side (const PlumbMaker *maker, const PlumbWallShape *wall)
{
  return plumb_scene_wall (maker->scene, wall->wall)->construction == PLUMB_CONSTRUCTION_NONE;
}

/* The longer side of the main space: boards run along it. */
static PlumbVec3
board_direction (const PlumbMaker *maker)
{
  const PlumbMeshAxes *axes = &maker->axes;
  PlumbVec2 way = axes->box_back_m - axes->box_front_m >= axes->box_right_m - axes->box_left_m ? axes->back : axes->right;
  return plumb_vec3 (way.x, way.y, 0.0);
}

static void
floor_slab (PlumbMaker *maker, const PlumbVec3 *points, uint32_t n, uint32_t space, PlumbMaterial material)
{
  PlumbVec3 raised[PLUMB_FACE_MAX_POINTS];
  bool upper = is_upper (maker, space);

  for (uint32_t i = 0; i < n; i++)
    raised[i] = plumb_vec3 (points[i].x, points[i].y, points[i].z + (upper ? SKIN_M : 0.0));
  slab (maker, raised, n, upper ? -SKIN_M : -FLOOR_SLAB_M, material, PLUMB_MATERIAL_WALL, board_direction (maker),
        upper ? &maker->roof : NULL);
}

/* The floor goes on under the walls. */
static void
wall_foot (PlumbMaker *maker, const PlumbWallShape *wall)
{
  double z = maker->building->spaces[wall->space].floor_z_m;
  PlumbVec2 foot[4] = { wall->start_m, wall->outer_start_m, wall->outer_end_m, wall->end_m };
  PlumbVec3 points[4];

  for (int i = 0; i < 4; i++)
    points[i] = plumb_vec3 (foot[i].x, foot[i].y, z);
  plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_WALL, wall->wall, PLUMB_NO_INDEX }, true, true);
  floor_slab (maker, points, 4, wall->space, PLUMB_MATERIAL_WALL);
  plumb_maker_end_part (maker);
}

void
plumb_maker_floors (PlumbMaker *maker)
{
  const PlumbBuilding *b = maker->building;

  for (uint32_t f = 0; f < b->room_faces; f++)
    if (b->faces[f].surface.kind == PLUMB_SURFACE_OF_FLOOR && !b->faces[f].outer)
      {
        uint32_t space = b->faces[f].surface.record;
        plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_SPACE, space, PLUMB_NO_INDEX }, true, true);
        floor_slab (maker, b->faces[f].point, b->faces[f].n_points, space, PLUMB_MATERIAL_FLOOR);
        plumb_maker_end_part (maker);
      }
  for (uint32_t w = 0; w < b->n_walls; w++)
    if (b->spaces[b->walls[w].space].valid && !is_open_side (maker, &b->walls[w])
        && !is_upper (maker, b->walls[w].space))
      wall_foot (maker, &b->walls[w]);
}

static double
build_up_m (const PlumbMaker *maker, uint32_t ceiling)
{
  const PlumbCeiling *record = plumb_scene_ceiling (maker->scene, ceiling);
  return fmax (record->thickness_m, 0.01) / fmax (cos (record->slope_rad), LEAST_COSINE);
}

/* The roof goes on over the walls to their outer faces. */
static void
eaves (PlumbMaker *maker, const PlumbFace *face, const PlumbWallShape *wall)
{
  for (uint32_t i = 0; i < face->n_points; i++)
    {
      PlumbVec3 a = face->point[i], b = face->point[(i + 1) % face->n_points];
      PlumbVec2 gradient;
      double z;
      if (!plumb_maker_at_ceiling (maker, wall, a, &gradient) || !plumb_maker_at_ceiling (maker, wall, b, &gradient))
        continue;
      PlumbVec2 under = plumb_vec2_along (flat (plumb_vec3_scale (plumb_vec3_add (a, b), 0.5)), wall->inward, INSET_M);
      uint32_t ceiling = plumb_building_ceiling_at (maker->building, wall->space, under, &z);
      if (ceiling == PLUMB_NO_INDEX)
        continue;
      PlumbVec3 points[4] = { a, b, plumb_maker_outer_point (maker, wall, b), plumb_maker_outer_point (maker, wall, a) };
      if ((b.x - a.x) * wall->along.x + (b.y - a.y) * wall->along.y > 0.0)
        {
          PlumbVec3 p[4] = { points[0], points[3], points[2], points[1] };
          for (int k = 0; k < 4; k++)
            points[k] = p[k];
        }
      plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_CEILING, ceiling, PLUMB_NO_INDEX }, true, true);
      slab (maker, points, 4, build_up_m (maker, ceiling), PLUMB_MATERIAL_CEILING, PLUMB_MATERIAL_CEILING,
            plumb_vec3 (1.0, 0.0, 0.0), &maker->roof);
      plumb_maker_end_part (maker);
    }
}

/* The upright face between two ceiling planes: matter behind it. */
static void
step_body (PlumbMaker *maker, const PlumbFace *face)
{
  PlumbVec3 behind[PLUMB_FACE_MAX_POINTS];
  PlumbMaterial sides[PLUMB_FACE_MAX_POINTS];
  PlumbBody body = { .grain = plumb_vec3 (0.0, 0.0, 1.0) };

  for (uint32_t i = 0; i < face->n_points; i++)
    {
      behind[i] = plumb_vec3_along (face->point[i], face->normal, -STEP_SLAB_M);
      sides[i] = PLUMB_MATERIAL_CEILING;
    }
  plumb_body_between (&body, face->point, behind, face->n_points, sides, PLUMB_MATERIAL_CEILING,
                      PLUMB_MATERIAL_CEILING);
  cut_building (maker, &body, &maker->roof);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_TOWARDS, face->normal);
}

void
plumb_maker_roofs (PlumbMaker *maker)
{
  const PlumbBuilding *b = maker->building;
  g_autoptr (GArray) shapes = shapes_of (b, maker->scene);

  for (uint32_t c = 0; c < b->n_cells; c++)
    {
      const PlumbCeilingCell *cell = &b->cells[c];
      plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_CEILING, cell->ceiling, PLUMB_NO_INDEX }, true, true);
      slab (maker, cell->point, cell->n_points, build_up_m (maker, cell->ceiling), PLUMB_MATERIAL_CEILING,
            PLUMB_MATERIAL_CEILING, plumb_vec3 (1.0, 0.0, 0.0), &maker->roof);
      plumb_maker_end_part (maker);
    }
  for (uint32_t f = 0; f < b->room_faces; f++)
    {
      const PlumbFace *face = &b->faces[f];
      const PlumbWallShape *wall = wall_of (maker, face, shapes);
      if (wall != NULL && plumb_mesh_wall_face (face, wall) && !is_open_side (maker, wall))
        eaves (maker, face, wall);
      if (face->surface.kind != PLUMB_SURFACE_OF_STEP || face->outer)
        continue;
      plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_SPACE, face->surface.record, PLUMB_NO_INDEX }, true, true);
      step_body (maker, face);
      plumb_maker_end_part (maker);
    }
}
