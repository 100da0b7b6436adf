/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib.h>
#include <string.h>

#include "view3d/model-private.h"

#define LEAST_NEAR_M 0.04
/* A part of the distance keeps the depth buffer fine enough far off. */
#define NEAR_SHARE 0.0002

/* The meshes go, but what was baked into them may serve the next ones. */
static void
make_stale (PlumbModel *model)
{
  for (int i = 0; i < PLUMB_MODEL_SECTIONS; i++)
    model->cut[i].made = model->cut[i].baked = false;
  plumb_mesh_clear (&model->whole);
  model->has_whole = false;
  plumb_mesh_clear (&model->figures);
  model->has_figures = false;
  model->serial = ++model->next_serial;
}

void
plumb_model_set (PlumbModel *model, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  plumb_scene_ref (scene);
  if (model->scene != NULL)
    plumb_scene_unref (model->scene);
  model->scene = scene;
  model->evaluation = *evaluation;
  model->evaluation.findings = NULL;
  model->evaluation.seats = NULL;
  model->evaluation.clearances = NULL;
  model->evaluation.n_findings = model->evaluation.n_seats = model->evaluation.n_clearances = 0;
  make_stale (model);
}

void
plumb_model_clear (PlumbModel *model)
{
  make_stale (model);
  for (int i = 0; i < PLUMB_MODEL_SECTIONS; i++)
    plumb_mesh_clear (&model->cut[i].mesh);
  if (model->scene != NULL)
    plumb_scene_unref (model->scene);
  model->scene = NULL;
}

static void
grow (PlumbModel *model, const PlumbMesh *mesh)
{
  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    {
      const float *p = mesh->vertices[i].position_m;
      model->least_m.x = fmin (model->least_m.x, (double) p[0]);
      model->least_m.y = fmin (model->least_m.y, (double) p[1]);
      model->least_m.z = fmin (model->least_m.z, (double) p[2]);
      model->most_m.x = fmax (model->most_m.x, (double) p[0]);
      model->most_m.y = fmax (model->most_m.y, (double) p[1]);
      model->most_m.z = fmax (model->most_m.z, (double) p[2]);
    }
}

const PlumbMesh *
plumb_model_whole (PlumbModel *model)
{
  if (model->scene == NULL || model->has_whole)
    return &model->whole;
  plumb_mesh_build_whole (model->scene, &model->evaluation, &model->whole);
  model->has_whole = true;
  model->least_m = plumb_vec3 (INFINITY, INFINITY, INFINITY);
  model->most_m = plumb_vec3 (-INFINITY, -INFINITY, -INFINITY);
  grow (model, &model->whole);
  if (model->whole.n_vertices == 0)
    model->least_m = model->most_m = plumb_vec3 (0.0, 0.0, 0.0);
  return &model->whole;
}

const PlumbMesh *
plumb_model_figures (PlumbModel *model)
{
  if (model->scene != NULL && !model->has_figures)
    model->has_figures = plumb_mesh_build_figures (model->scene, &model->evaluation, &model->figures);
  return &model->figures;
}

static int
slot_of (const PlumbSection *section)
{
  if (section->kind == PLUMB_SECTION_CORNER)
    return 2 + (section->quarter & 3);
  return section->kind == PLUMB_SECTION_GABLE ? 1 : 0;
}

/* While a thing is dragged the room around it looks as it did; where corners
 * came or went, as its materials did on the whole. */
static void
borrow_bake (PlumbMesh *mesh, const PlumbMesh *former)
{
  double sum[PLUMB_N_MATERIALS] = { 0.0 };
  uint32_t n[PLUMB_N_MATERIALS] = { 0 };
  bool same = mesh->n_vertices == former->n_vertices;

  for (uint32_t i = 0; i < former->n_vertices; i++)
    {
      int material = (int) former->vertices[i].material;
      sum[material] += (double) former->vertices[i].occlusion;
      n[material]++;
    }
  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    {
      int material = (int) mesh->vertices[i].material;
      if (same)
        mesh->vertices[i].occlusion = former->vertices[i].occlusion;
      else if (n[material] > 0)
        mesh->vertices[i].occlusion = (float) (sum[material] / n[material]);
    }
}

const PlumbMesh *
plumb_model_mesh (PlumbModel *model, const PlumbCamera *camera, bool quick, guint *serial)
{
  static const PlumbMesh empty;

  if (model->scene == NULL)
    {
      *serial = model->serial;
      return &empty;
    }
  PlumbSection section = plumb_section_for (model->scene, &model->evaluation, camera);
  int slot = slot_of (&section);
  PlumbMesh *mesh = &model->cut[slot].mesh;
  if (!model->cut[slot].made)
    {
      PlumbMesh former = *mesh;
      memset (mesh, 0, sizeof *mesh);
      plumb_mesh_build (model->scene, &model->evaluation, &section, mesh);
      borrow_bake (mesh, &former);
      model->cut[slot].baked = false;
      model->cut[slot].made = true;
      model->cut[slot].serial = ++model->next_serial;
      plumb_mesh_clear (&former);
    }
  if (!model->cut[slot].baked && !(quick && model->cut[slot].ever_baked))
    {
      plumb_mesh_bake (mesh, plumb_model_whole (model));
      model->cut[slot].baked = model->cut[slot].ever_baked = true;
      model->cut[slot].serial = ++model->next_serial;
    }
  *serial = model->cut[slot].serial;
  return mesh;
}

void
plumb_model_range (PlumbModel *model, const PlumbCamera *camera, double *near_m, double *far_m)
{
  PlumbVec3 eye = plumb_camera_eye (camera);
  PlumbCamera straight = *camera;

  plumb_model_whole (model);
  straight.lens_shift_x = straight.lens_shift_y = 0.0;
  PlumbVec3 middle = plumb_vec3_unit (plumb_camera_ray (&straight, 1.0, 0.5, 0.5));
  double least = INFINITY, most = -INFINITY;
  for (int i = 0; i < 8; i++)
    {
      PlumbVec3 corner = { i & 1 ? model->most_m.x : model->least_m.x, i & 2 ? model->most_m.y : model->least_m.y,
                           i & 4 ? model->most_m.z : model->least_m.z };
      double d = plumb_vec3_dot (plumb_vec3_sub (corner, eye), middle);
      least = fmin (least, d);
      most = fmax (most, d);
    }
  *far_m = fmax (1.0, most * 1.02 + 0.1);
  *near_m = fmax (fmax (LEAST_NEAR_M, NEAR_SHARE * *far_m), least * 0.98 - 0.1);
}

double
plumb_model_reach_m (PlumbModel *model)
{
  const PlumbBeam *beam = &model->evaluation.beam;
  double most = 0.0;

  plumb_model_whole (model);
  for (int i = 0; i < 8; i++)
    {
      PlumbVec3 corner = { i & 1 ? model->most_m.x : model->least_m.x, i & 2 ? model->most_m.y : model->least_m.y,
                           i & 4 ? model->most_m.z : model->least_m.z };
      most = fmax (most, plumb_vec3_dot (plumb_vec3_sub (corner, beam->lens_m), beam->axes.f));
    }
  return fmax (most * 1.02, 0.5);
}
