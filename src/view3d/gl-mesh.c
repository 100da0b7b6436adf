/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "view3d/view3d-private.h"

static void
attribute (GLuint place, GLint n, gsize offset)
{
  glEnableVertexAttribArray (place);
  glVertexAttribPointer (place, n, GL_FLOAT, GL_FALSE, sizeof (PlumbMeshVertex), (const void *) offset);
}

static void
bind (PlumbGlMesh *gl, GLuint vertices)
{
  if (gl->array == 0)
    {
      glGenVertexArrays (1, &gl->array);
      glGenBuffers (1, &gl->indices);
    }
  glBindVertexArray (gl->array);
  glBindBuffer (GL_ELEMENT_ARRAY_BUFFER, gl->indices);
  glBindBuffer (GL_ARRAY_BUFFER, vertices);
  attribute (0, 3, G_STRUCT_OFFSET (PlumbMeshVertex, position_m));
  attribute (1, 3, G_STRUCT_OFFSET (PlumbMeshVertex, normal));
  attribute (2, 2, G_STRUCT_OFFSET (PlumbMeshVertex, texture_m));
  attribute (3, 2, G_STRUCT_OFFSET (PlumbMeshVertex, occlusion));
}

static void
unbind (void)
{
  glBindVertexArray (0);
  glBindBuffer (GL_ARRAY_BUFFER, 0);
  glBindBuffer (GL_ELEMENT_ARRAY_BUFFER, 0);
}

static void
put_vertices (PlumbGlMesh *gl, const PlumbMesh *mesh)
{
  if (gl->vertices == 0)
    glGenBuffers (1, &gl->vertices);
  bind (gl, gl->vertices);
  glBufferData (GL_ARRAY_BUFFER, (GLsizeiptr) (mesh->n_vertices * sizeof *mesh->vertices), mesh->vertices,
                GL_STATIC_DRAW);
}

static void
put_indices (const GArray *indices)
{
  glBufferData (GL_ELEMENT_ARRAY_BUFFER, (GLsizeiptr) (indices->len * sizeof (uint32_t)), indices->data,
                GL_STATIC_DRAW);
}

static PlumbClass
class_of (const PlumbMesh *mesh, const PlumbMeshPart *part, uint32_t at, const PlumbProjector *projector,
          const uint8_t *outside)
{
  const uint32_t *corner = &mesh->indices[at];
  int material = (int) mesh->vertices[corner[0]].material;

  if (material == PLUMB_MATERIAL_CUT)
    return PLUMB_CLASS_CUT;
  bool boards
      = material == PLUMB_MATERIAL_FLOOR || material == PLUMB_MATERIAL_RISER || material == PLUMB_MATERIAL_TIMBER;
  bool lit = projector->on && part->catches && (outside[corner[0]] & outside[corner[1]] & outside[corner[2]]) == 0;
  if (lit)
    return boards ? PLUMB_CLASS_BOARDS_THROWN : PLUMB_CLASS_THROWN;
  return boards ? PLUMB_CLASS_BOARDS : PLUMB_CLASS_PLAIN;
}

PlumbSubject
plumb_hidden_from (const PlumbCamera *camera, const PlumbModel *model)
{
  PlumbSubject hidden = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

  if (model->scene == NULL)
    return hidden;
  if (camera->kind == PLUMB_CAMERA_LENS)
    return (PlumbSubject){ PLUMB_RECORD_PLACE, model->evaluation.place, PLUMB_NO_INDEX };
  const PlumbResolved *resolved = plumb_scene_resolved (model->scene);
  if (camera->kind != PLUMB_CAMERA_SEAT || camera->seat >= resolved->n_seats)
    return hidden;
  const PlumbSeatResolved *seat = &resolved->seats[camera->seat];
  if (seat->seat != PLUMB_NO_INDEX)
    return (PlumbSubject){ PLUMB_RECORD_SEAT, seat->seat, camera->seat };
  return (PlumbSubject){ PLUMB_RECORD_ROW, seat->row, camera->seat };
}

static bool
is_same (const PlumbSubject *hidden, const PlumbSubject *part)
{
  return hidden->kind != PLUMB_RECORD_NONE && hidden->kind == part->kind && hidden->index == part->index
         && hidden->sub == part->sub;
}

static bool
is_seen (const PlumbView3d *view, const PlumbSubject *hidden, const PlumbSubject *part)
{
  return !is_same (hidden, part) && !plumb_ghosts_have (view, part);
}

/* Sorted by class: what the light cannot reach is drawn without looking for it. */
void
plumb_gl_mesh_upload (PlumbGlMesh *gl, const PlumbMesh *mesh, const PlumbView3d *view, const PlumbSubject *hidden)
{
  const PlumbProjector *projector = &view->projector;
  GArray *run[PLUMB_N_CLASSES];
  g_autoptr (GArray) all = g_array_sized_new (FALSE, FALSE, sizeof (uint32_t), mesh->n_indices);
  g_autofree uint8_t *outside = g_malloc (mesh->n_vertices + 1);

  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    outside[i] = (uint8_t) plumb_projector_outside (projector, mesh->vertices[i].position_m);
  for (int c = 0; c < PLUMB_N_CLASSES; c++)
    run[c] = g_array_new (FALSE, FALSE, sizeof (uint32_t));
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (uint32_t i = mesh->parts[p].first;
         is_seen (view, hidden, &mesh->parts[p].subject) && i < mesh->parts[p].first + mesh->parts[p].n; i += 3)
      g_array_append_vals (run[class_of (mesh, &mesh->parts[p], i, projector, outside)], &mesh->indices[i], 3);
  for (int c = 0; c < PLUMB_N_CLASSES; c++)
    {
      gl->first[c] = (GLsizei) all->len;
      gl->n[c] = (GLsizei) run[c]->len;
      g_array_append_vals (all, run[c]->data, run[c]->len);
      g_array_unref (run[c]);
    }
  gl->hidden = *hidden;
  gl->ghosts = plumb_ghosts_key (view);
  put_vertices (gl, mesh);
  put_indices (all);
  unbind ();
}

/* Shadows need nothing but places. */
static void
put_places (PlumbGlMesh *gl, const PlumbMesh *mesh)
{
  g_autofree float *place = g_new (float, 3 * (gsize) mesh->n_vertices + 1);

  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    memcpy (place + 3 * (gsize) i, mesh->vertices[i].position_m, 3 * sizeof *place);
  if (gl->array == 0)
    {
      glGenVertexArrays (1, &gl->array);
      glGenBuffers (1, &gl->indices);
      glGenBuffers (1, &gl->vertices);
    }
  glBindVertexArray (gl->array);
  glBindBuffer (GL_ELEMENT_ARRAY_BUFFER, gl->indices);
  glBindBuffer (GL_ARRAY_BUFFER, gl->vertices);
  glEnableVertexAttribArray (0);
  glVertexAttribPointer (0, 3, GL_FLOAT, GL_FALSE, 0, NULL);
  glBufferData (GL_ARRAY_BUFFER, (GLsizeiptr) (3 * mesh->n_vertices * sizeof *place), place, GL_STATIC_DRAW);
}

void
plumb_gl_mesh_upload_casters (PlumbGlMesh *gl, const PlumbMesh *mesh)
{
  g_autoptr (GArray) all = g_array_sized_new (FALSE, FALSE, sizeof (uint32_t), mesh->n_indices);

  for (uint32_t p = 0; p < mesh->n_parts; p++)
    if (mesh->parts[p].shadows)
      g_array_append_vals (all, &mesh->indices[mesh->parts[p].first], mesh->parts[p].n);
  gl->n[0] = (GLsizei) all->len;
  put_places (gl, mesh);
  put_indices (all);
  unbind ();
}

/* What hangs at the place of the arrangement stands for its machine, lens and mount too. */
bool
plumb_subject_is (const PlumbEvaluation *evaluation, const PlumbSubject *subject, const PlumbSubject *part)
{
  if (subject->kind == PLUMB_RECORD_NONE || part->kind == PLUMB_RECORD_NONE)
    return false;
  if (part->kind == PLUMB_RECORD_PLACE && part->index == evaluation->place
      && ((subject->kind == PLUMB_RECORD_MACHINE && subject->index == evaluation->machine)
          || (subject->kind == PLUMB_RECORD_LENS && subject->index == evaluation->lens)
          || (subject->kind == PLUMB_RECORD_MOUNT && subject->index == evaluation->mount)))
    return true;
  return subject->kind == part->kind && subject->index == part->index
         && (subject->sub == PLUMB_NO_INDEX || subject->sub == part->sub);
}

static void
add_parts (GArray *all, const PlumbMesh *mesh, const PlumbView3d *view, const PlumbSubject *hidden,
           const PlumbSubject *subject)
{
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    if (plumb_subject_is (&view->model.evaluation, subject, &mesh->parts[p].subject)
        && is_seen (view, hidden, &mesh->parts[p].subject))
      g_array_append_vals (all, &mesh->indices[mesh->parts[p].first], mesh->parts[p].n);
}

GLsizei
plumb_gl_mesh_upload_chosen (PlumbGlMesh *gl, const PlumbGlMesh *room, const PlumbMesh *mesh, const PlumbView3d *view,
                             GLsizei *n)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (uint32_t));

  add_parts (all, mesh, view, &room->hidden, &view->options.chosen);
  GLsizei first_hovered = (GLsizei) all->len;
  add_parts (all, mesh, view, &room->hidden, &view->options.hovered);
  *n = (GLsizei) all->len;
  if (all->len == 0)
    return 0;
  bind (gl, room->vertices);
  put_indices (all);
  unbind ();
  return first_hovered;
}

void
plumb_gl_mesh_clear (PlumbGlMesh *gl)
{
  glDeleteVertexArrays (1, &gl->array);
  glDeleteBuffers (1, &gl->vertices);
  glDeleteBuffers (1, &gl->indices);
  memset (gl, 0, sizeof *gl);
}
