/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Framebuffers of our own and meshes on the graphics side. */
#include "view3d-private.h"

#include <stddef.h>

static GLuint
make_texture (GLint format, GLenum layout, GLenum type, int width_px, int height_px, GLint filter)
{
  GLuint texture;

  glGenTextures (1, &texture);
  glBindTexture (GL_TEXTURE_2D, texture);
  glTexImage2D (GL_TEXTURE_2D, 0, format, width_px, height_px, 0, layout, type, NULL);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  return texture;
}

static void
attach_textures (PlumbTarget *target, bool depth_only)
{
  target->depth = make_texture (GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, target->width_px,
                                target->height_px, depth_only ? GL_LINEAR : GL_NEAREST);
  glFramebufferTexture2D (GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, target->depth, 0);
  if (depth_only)
    {
      glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
      glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
      GLenum none = GL_NONE;
      glDrawBuffers (1, &none);
      glReadBuffer (GL_NONE);
      return;
    }
  target->colour = make_texture (GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, target->width_px, target->height_px, GL_LINEAR);
  glFramebufferTexture2D (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target->colour, 0);
}

static void
attach_renderbuffers (PlumbTarget *target)
{
  glGenRenderbuffers (1, &target->colour);
  glBindRenderbuffer (GL_RENDERBUFFER, target->colour);
  glRenderbufferStorageMultisample (GL_RENDERBUFFER, target->samples, GL_RGBA8, target->width_px, target->height_px);
  glFramebufferRenderbuffer (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, target->colour);
  glGenRenderbuffers (1, &target->depth);
  glBindRenderbuffer (GL_RENDERBUFFER, target->depth);
  glRenderbufferStorageMultisample (GL_RENDERBUFFER, target->samples, GL_DEPTH_COMPONENT24, target->width_px,
                                    target->height_px);
  glFramebufferRenderbuffer (GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, target->depth);
}

bool
plumb_target_make (PlumbTarget *target, int width_px, int height_px, int samples, bool depth_only, GError **error)
{
  if (target->framebuffer != 0 && target->width_px == width_px && target->height_px == height_px
      && target->samples == samples)
    return true;
  plumb_target_clear (target);
  *target = (PlumbTarget){ .width_px = width_px, .height_px = height_px, .samples = samples };
  glGenFramebuffers (1, &target->framebuffer);
  glBindFramebuffer (GL_FRAMEBUFFER, target->framebuffer);
  if (samples > 0)
    attach_renderbuffers (target);
  else
    attach_textures (target, depth_only);
  if (glCheckFramebufferStatus (GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE)
    return true;
  plumb_target_clear (target);
  g_set_error (error, PLUMB_VIEW3D_ERROR, 2, "the graphics driver gives no picture of %d × %d pixels", width_px,
               height_px);
  return false;
}

void
plumb_target_clear (PlumbTarget *target)
{
  if (target->framebuffer != 0)
    glDeleteFramebuffers (1, &target->framebuffer);
  if (target->samples > 0)
    {
      glDeleteRenderbuffers (1, &target->colour);
      glDeleteRenderbuffers (1, &target->depth);
    }
  else
    {
      glDeleteTextures (1, &target->colour);
      glDeleteTextures (1, &target->depth);
    }
  *target = (PlumbTarget){ 0 };
}

void
plumb_gl_mesh_load (PlumbGlMesh *gl, const PlumbMesh *mesh)
{
  const GLsizei stride = sizeof (PlumbMeshVertex);
  static const struct {
    GLint n;
    size_t at;
  } parts[] = { { 3, offsetof (PlumbMeshVertex, position_m) },
                { 3, offsetof (PlumbMeshVertex, normal) },
                { 2, offsetof (PlumbMeshVertex, texture_m) },
                { 1, offsetof (PlumbMeshVertex, occlusion) },
                { 1, offsetof (PlumbMeshVertex, material) } };

  if (gl->array == 0)
    {
      glGenVertexArrays (1, &gl->array);
      glGenBuffers (1, &gl->vertices);
      glGenBuffers (1, &gl->indices);
    }
  glBindVertexArray (gl->array);
  glBindBuffer (GL_ARRAY_BUFFER, gl->vertices);
  glBufferData (GL_ARRAY_BUFFER, (GLsizeiptr) (mesh->n_vertices * sizeof *mesh->vertices), mesh->vertices,
                GL_STATIC_DRAW);
  glBindBuffer (GL_ELEMENT_ARRAY_BUFFER, gl->indices);
  glBufferData (GL_ELEMENT_ARRAY_BUFFER, (GLsizeiptr) (mesh->n_indices * sizeof *mesh->indices), mesh->indices,
                GL_STATIC_DRAW);
  for (GLuint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      glEnableVertexAttribArray (i);
      glVertexAttribPointer (i, parts[i].n, GL_FLOAT, GL_FALSE, stride, (const void *) parts[i].at);
    }
  glBindVertexArray (0);
  gl->n_indices = (GLsizei) mesh->n_indices;
}

void
plumb_gl_mesh_clear (PlumbGlMesh *gl)
{
  glDeleteVertexArrays (1, &gl->array);
  glDeleteBuffers (1, &gl->vertices);
  glDeleteBuffers (1, &gl->indices);
  *gl = (PlumbGlMesh){ 0 };
}
