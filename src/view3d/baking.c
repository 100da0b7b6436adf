/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Occlusion worked out beside a window that goes on drawing: a thread with
 * copies of its own. What comes of it is taken over in the default main
 * context, if the same mesh still waits for it.
 */
#include "view3d/model-private.h"

struct PlumbBaking {
  PlumbModel *model; /* NULL: nobody waits; only the main context reads it */
  gint stop;
  int slot;
  guint serial; /* of the mesh that waits */
  PlumbMesh mesh, whole;
};

static void
copy_mesh (PlumbMesh *to, const PlumbMesh *from)
{
  to->n_vertices = from->n_vertices;
  to->n_indices = from->n_indices;
  to->vertices = g_memdup2 (from->vertices, from->n_vertices * sizeof *from->vertices);
  to->indices = g_memdup2 (from->indices, from->n_indices * sizeof *from->indices);
}

static gboolean
finish_cb (gpointer data)
{
  PlumbBaking *baking = data;
  PlumbModel *model = baking->model;

  if (model != NULL)
    {
      PlumbMesh *mesh = &model->cut[baking->slot].mesh;
      for (uint32_t i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i].occlusion = baking->mesh.vertices[i].occlusion;
      model->cut[baking->slot].baked = model->cut[baking->slot].ever_baked = true;
      model->cut[baking->slot].serial = ++model->next_serial;
      model->baking = NULL;
      model->again (model->again_data);
    }
  plumb_mesh_clear (&baking->mesh);
  plumb_mesh_clear (&baking->whole);
  g_free (baking);
  return G_SOURCE_REMOVE;
}

static gpointer
bake (gpointer data)
{
  PlumbBaking *baking = data;

  plumb_mesh_bake (&baking->mesh, &baking->whole, &baking->stop);
  g_idle_add (finish_cb, baking);
  return NULL;
}

bool
plumb_baking_start (PlumbModel *model, int slot)
{
  if (model->baking != NULL && model->baking->slot == slot && model->baking->serial == model->cut[slot].serial)
    return true;
  plumb_baking_stop (model);
  PlumbBaking *baking = g_new0 (PlumbBaking, 1);
  baking->model = model;
  baking->slot = slot;
  baking->serial = model->cut[slot].serial;
  copy_mesh (&baking->mesh, &model->cut[slot].mesh);
  copy_mesh (&baking->whole, plumb_model_whole (model));
  GThread *thread = g_thread_try_new ("occlusion", bake, baking, NULL);
  if (thread == NULL)
    {
      plumb_mesh_clear (&baking->mesh);
      plumb_mesh_clear (&baking->whole);
      g_free (baking);
      return false;
    }
  g_thread_unref (thread);
  model->baking = baking;
  return true;
}

void
plumb_baking_stop (PlumbModel *model)
{
  if (model->baking == NULL)
    return;
  g_atomic_int_set (&model->baking->stop, 1);
  model->baking->model = NULL;
  model->baking = NULL;
}
