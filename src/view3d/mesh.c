/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/mesh.h"

#include <string.h>

#include "view3d/mesh-private.h"

/* The roof ends this far before the ridge, so that the ridge's shape shows. */
#define SHORT_OF_RIDGE_M 0.15
/* Beams run on past the roof's cut. */
#define BEAMS_PAST_ROOF_M 0.7
#define REAR_WALL_M 0.02

static PlumbCutPlane
plan_plane (PlumbVec2 normal, double offset_m)
{
  return (PlumbCutPlane){ plumb_vec3 (normal.x, normal.y, 0.0), offset_m };
}

/* Keeps the half of the roof that lies away from the camera. */
static void
set_roof (PlumbMaker *maker, bool right)
{
  const PlumbMeshAxes *axes = &maker->axes;
  double side = right ? 1.0 : -1.0;
  double ridge = side * axes->ridge_m - SHORT_OF_RIDGE_M;
  double far_edge = right ? axes->picture_left_m : -axes->picture_right_m;
  /* Under a level ceiling the whole picture is seen only if the roof ends at
   * its far edge. */
  double at = axes->level ? fmin (ridge, far_edge) : ridge;

  maker->has_roof = true;
  maker->roof = plan_plane (plumb_vec2_scale (axes->right, side), at);
  maker->beams = plan_plane (plumb_vec2_scale (axes->right, side), at + BEAMS_PAST_ROOF_M);
}

static void
set_section (PlumbMaker *maker, const PlumbSection *section)
{
  const PlumbMeshAxes *axes = &maker->axes;

  maker->section = *section;
  if (section->kind == PLUMB_SECTION_INSIDE || axes->space == PLUMB_NO_INDEX)
    {
      maker->section.kind = PLUMB_SECTION_INSIDE;
      return;
    }
  if (section->kind == PLUMB_SECTION_GABLE)
    {
      maker->has_back = true;
      maker->back = plan_plane (axes->back, fmin (axes->back_m, axes->box_back_m - REAR_WALL_M));
      return;
    }
  bool right = (section->quarter & 1) != 0, from_front = (section->quarter & 2) != 0;
  PlumbVec2 way = plumb_vec2_scale (axes->right, right ? 1.0 : -1.0);
  maker->to_camera = plumb_vec2_scale (plumb_vec2_along (way, axes->back, from_front ? -1.0 : 1.0), sqrt (0.5));
  set_roof (maker, right);
  maker->has_back = !from_front && isfinite (axes->back_m);
  maker->back = plan_plane (axes->back, maker->has_back ? axes->back_m : 0.0);
}

bool
plumb_maker_is_cut_away (const PlumbMaker *maker, PlumbVec3 point)
{
  return maker->has_back && plumb_vec3_dot (maker->back.normal, point) > maker->back.offset_m;
}

static void
take (PlumbMaker *maker, PlumbMesh *mesh)
{
  mesh->n_vertices = maker->vertices->len;
  mesh->n_indices = maker->indices->len;
  mesh->n_parts = maker->parts->len;
  mesh->vertices = (PlumbMeshVertex *) (void *) g_array_free (maker->vertices, FALSE);
  mesh->indices = (uint32_t *) (void *) g_array_free (maker->indices, FALSE);
  mesh->parts = (PlumbMeshPart *) (void *) g_array_free (maker->parts, FALSE);
  g_array_unref (maker->triangles);
  g_hash_table_unref (maker->corner);
}

static void
start (PlumbMaker *maker, const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbSection *section)
{
  *maker = (PlumbMaker){ .scene = scene, .evaluation = evaluation, .resolved = plumb_scene_resolved (scene) };
  maker->building = maker->resolved->building;
  plumb_mesh_axes (scene, evaluation, &maker->axes);
  set_section (maker, section);
  maker->vertices = g_array_new (FALSE, FALSE, sizeof (PlumbMeshVertex));
  maker->indices = g_array_new (FALSE, FALSE, sizeof (uint32_t));
  maker->parts = g_array_new (FALSE, FALSE, sizeof (PlumbMeshPart));
  maker->corner = plumb_maker_corners_new ();
  maker->triangles = plumb_maker_triangles_new ();
}

bool
plumb_mesh_build (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbSection *section,
                  PlumbMesh *mesh)
{
  PlumbMaker maker;

  plumb_mesh_clear (mesh);
  start (&maker, scene, evaluation, section);
  plumb_maker_floors (&maker);
  plumb_maker_walls (&maker);
  plumb_maker_roofs (&maker);
  plumb_maker_solids (&maker);
  plumb_maker_screens (&maker);
  plumb_maker_machine (&maker);
  plumb_maker_lamps (&maker);
  plumb_maker_people (&maker);
  take (&maker, mesh);
  return true;
}

bool
plumb_mesh_build_whole (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMesh *mesh)
{
  PlumbSection inside = { PLUMB_SECTION_INSIDE, 0 };
  return plumb_mesh_build (scene, evaluation, &inside, mesh);
}

bool
plumb_mesh_build_figures (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMesh *mesh)
{
  PlumbSection inside = { PLUMB_SECTION_INSIDE, 0 };
  PlumbMaker maker;

  plumb_mesh_clear (mesh);
  start (&maker, scene, evaluation, &inside);
  plumb_maker_figures (&maker);
  take (&maker, mesh);
  return true;
}

void
plumb_mesh_clear (PlumbMesh *mesh)
{
  g_free (mesh->vertices);
  g_free (mesh->indices);
  g_free (mesh->parts);
  memset (mesh, 0, sizeof *mesh);
}
