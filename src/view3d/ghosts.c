/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the building between the camera and the picture. */
#include "plumbeam/sight.h"
#include "view3d/view3d-private.h"

/* What covers less of the picture than this stays as it is. */
#define LEAST_SHARE 0.002
/* Corners of two faces that are one. */
#define SAME_M 1e-9

PlumbSubject
plumb_ghost_subject (const PlumbSolid *solid)
{
  bool structure = solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE;
  return (PlumbSubject){ structure ? PLUMB_RECORD_STRUCTURE : PLUMB_RECORD_BLOCKER, solid->surface.record,
                         structure ? solid->member : PLUMB_NO_INDEX };
}

/* Furniture, people and machine are never taken out of sight. */
static bool
may_be_ghost (const PlumbScene *scene, const PlumbSolid *solid)
{
  if (solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE)
    return solid->exposed;
  if (solid->surface.kind != PLUMB_SURFACE_OF_BLOCKER)
    return false;
  switch (plumb_scene_blocker (scene, solid->surface.record)->role)
    {
    case PLUMB_ROLE_BEAM:
    case PLUMB_ROLE_DUCT:
    case PLUMB_ROLE_COLUMN:
      return true;
    default:
      return false;
    }
}

static bool
hides (const PlumbModel *model, const PlumbSolid *solid, PlumbVec3 eye)
{
  static const PlumbOccluderShape shapes[] = { [PLUMB_SOLID_POLYHEDRON] = PLUMB_OCCLUDER_HULL,
                                               [PLUMB_SOLID_CYLINDER] = PLUMB_OCCLUDER_CYLINDER,
                                               [PLUMB_SOLID_ELLIPSOID] = PLUMB_OCCLUDER_ELLIPSOID };
  const PlumbScreenResolved *target = &model->evaluation.target;
  const PlumbRect screen = { .width_m = target->width_m, .height_m = target->height_m };
  const PlumbBuilding *b = plumb_scene_resolved (model->scene)->building;
  PlumbOccluder body = { .shape = shapes[solid->shape], .centre_m = solid->centre_m, .half_m = solid->half_m };
  PlumbSilhouette silhouette;

  for (int i = 0; i < 3; i++)
    body.axis[i] = solid->axis[i];
  if (solid->shape == PLUMB_SOLID_POLYHEDRON)
    {
      body.points = &b->corners[solid->first_corner];
      body.n_points = solid->n_corners;
    }
  return plumb_occluder_near (eye, &target->frame, &screen, solid->centre_m, solid->bound_radius_m)
         && plumb_silhouette (eye, &target->frame, &screen, &body, &silhouette)
         && silhouette.area_m2 > LEAST_SHARE * target->width_m * target->height_m;
}

void
plumb_ghosts_find (PlumbView3d *view)
{
  const PlumbModel *model = &view->model;

  g_array_set_size (view->ghosts, 0);
  if (!view->options.ghosts || model->scene == NULL || !model->evaluation.target.valid)
    return;
  PlumbSection section = plumb_section_for (model->scene, &model->evaluation, &view->camera);
  if (section.kind == PLUMB_SECTION_INSIDE)
    return;
  const PlumbBuilding *b = plumb_scene_resolved (model->scene)->building;
  PlumbVec3 eye = plumb_camera_eye (&view->camera);
  for (uint32_t i = 0; i < b->n_solids; i++)
    if (plumb_vec3_is_finite (b->solids[i].centre_m) && may_be_ghost (model->scene, &b->solids[i])
        && hides (model, &b->solids[i], eye))
      g_array_append_val (view->ghosts, i);
  /* A blocker of several pieces goes as a whole. */
  guint found = view->ghosts->len;
  for (uint32_t i = 0; found > 0 && i < b->n_solids; i++)
    {
      PlumbSubject subject = plumb_ghost_subject (&b->solids[i]);
      bool listed = false;
      for (guint k = 0; k < found && !listed; k++)
        listed = g_array_index (view->ghosts, uint32_t, k) == i;
      if (!listed && subject.kind == PLUMB_RECORD_BLOCKER && plumb_ghosts_have (view, &subject))
        g_array_append_val (view->ghosts, i);
    }
}

guint
plumb_ghosts_key (const PlumbView3d *view)
{
  guint key = view->ghosts->len;

  for (guint i = 0; i < view->ghosts->len; i++)
    key = key * 31 + g_array_index (view->ghosts, uint32_t, i) + 1;
  return key;
}

bool
plumb_ghosts_have (const PlumbView3d *view, const PlumbSubject *part)
{
  if (view->ghosts->len == 0 || (part->kind != PLUMB_RECORD_STRUCTURE && part->kind != PLUMB_RECORD_BLOCKER))
    return false;
  const PlumbBuilding *b = plumb_scene_resolved (view->model.scene)->building;
  for (guint i = 0; i < view->ghosts->len; i++)
    {
      PlumbSubject ghost = plumb_ghost_subject (&b->solids[g_array_index (view->ghosts, uint32_t, i)]);
      if (ghost.kind == part->kind && ghost.index == part->index && ghost.sub == part->sub)
        return true;
    }
  return false;
}

/* ---- the outline ----------------------------------------------------------------- */

static bool
faces (const PlumbFace *face, PlumbVec3 from)
{
  return plumb_vec3_dot (face->normal, plumb_vec3_sub (from, face->point[0])) > 0.0;
}

static bool
has_edge (const PlumbFace *face, PlumbVec3 a, PlumbVec3 b)
{
  for (uint32_t i = 0; i < face->n_points; i++)
    if (plumb_vec3_length (plumb_vec3_sub (face->point[i], a)) < SAME_M
        && plumb_vec3_length (plumb_vec3_sub (face->point[(i + 1) % face->n_points], b)) < SAME_M)
      return true;
  return false;
}

/* An edge between a face that looks this way and one that looks away. */
void
plumb_ghost_outline (const PlumbBuilding *building, const PlumbSolid *solid, PlumbVec3 from, PlumbEdgeFunc edge,
                     void *data)
{
  const PlumbFace *all = &building->faces[solid->first_face];

  for (uint32_t f = 0; f < solid->n_faces; f++)
    for (uint32_t i = 0; faces (&all[f], from) && i < all[f].n_points; i++)
      {
        PlumbVec3 a = all[f].point[i], b = all[f].point[(i + 1) % all[f].n_points];
        bool inner = false;
        for (uint32_t g = 0; g < solid->n_faces && !inner; g++)
          inner = g != f && faces (&all[g], from) && has_edge (&all[g], b, a);
        if (!inner)
          edge (a, b, data);
      }
}
