/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "view3d/gl-private.h"

static GLuint
texture (GLenum inside, GLenum format, GLenum type, int width_px, int height_px)
{
  GLuint name;

  glGenTextures (1, &name);
  glBindTexture (GL_TEXTURE_2D, name);
  glTexImage2D (GL_TEXTURE_2D, 0, (GLint) inside, width_px, height_px, 0, format, type, NULL);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  return name;
}

static GLuint
buffer (GLenum inside, int samples, int width_px, int height_px)
{
  GLuint name;

  glGenRenderbuffers (1, &name);
  glBindRenderbuffer (GL_RENDERBUFFER, name);
  glRenderbufferStorageMultisample (GL_RENDERBUFFER, samples, inside, width_px, height_px);
  glBindRenderbuffer (GL_RENDERBUFFER, 0);
  return name;
}

static bool
check (const PlumbGlTarget *target, GError **error)
{
  GLenum status = glCheckFramebufferStatus (GL_FRAMEBUFFER);

  glBindTexture (GL_TEXTURE_2D, 0);
  if (status == GL_FRAMEBUFFER_COMPLETE)
    return true;
  g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SIZE,
               "OpenGL gives no drawing area of %d × %d pixels (0x%x).", target->width_px, target->height_px, status);
  return false;
}

static bool
fits (const PlumbGlTarget *target, int width_px, int height_px, int samples)
{
  return target->frame != 0 && target->width_px == width_px && target->height_px == height_px
         && target->samples == samples;
}

/* Whether the colour and depth are textures never changes for one target but
 * through samples: a sampled one cannot be looked at. */
bool
plumb_gl_target_fit (PlumbGlTarget *target, int width_px, int height_px, int samples, bool textures, bool has_depth,
                     GError **error)
{
  samples = textures ? -1 : samples;
  if (fits (target, width_px, height_px, samples))
    return true;
  plumb_gl_target_clear (target);
  *target = (PlumbGlTarget){ width_px, height_px, samples, has_depth, 0, 0, 0 };
  glGenFramebuffers (1, &target->frame);
  glBindFramebuffer (GL_FRAMEBUFFER, target->frame);
  if (textures)
    {
      target->colour = texture (GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, width_px, height_px);
      glFramebufferTexture2D (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target->colour, 0);
    }
  else
    {
      target->colour = buffer (GL_RGBA8, samples, width_px, height_px);
      glFramebufferRenderbuffer (GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, target->colour);
    }
  if (has_depth && textures)
    {
      target->depth = texture (GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, width_px, height_px);
      glFramebufferTexture2D (GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, target->depth, 0);
    }
  else if (has_depth)
    {
      target->depth = buffer (GL_DEPTH_COMPONENT24, samples, width_px, height_px);
      glFramebufferRenderbuffer (GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, target->depth);
    }
  return check (target, error);
}

bool
plumb_gl_shadow_fit (PlumbGlTarget *target, int size_px, GError **error)
{
  if (fits (target, size_px, size_px, -1))
    return true;
  plumb_gl_target_clear (target);
  *target = (PlumbGlTarget){ size_px, size_px, -1, true, 0, 0, 0 };
  glGenFramebuffers (1, &target->frame);
  glBindFramebuffer (GL_FRAMEBUFFER, target->frame);
  target->depth = texture (GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, size_px, size_px);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
  glFramebufferTexture2D (GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, target->depth, 0);
  const GLenum none = GL_NONE;
  glDrawBuffers (1, &none);
  glReadBuffer (GL_NONE);
  return check (target, error);
}

void
plumb_gl_target_clear (PlumbGlTarget *target)
{
  if (target->samples < 0)
    {
      glDeleteTextures (1, &target->colour);
      glDeleteTextures (1, &target->depth);
    }
  else
    {
      glDeleteRenderbuffers (1, &target->colour);
      glDeleteRenderbuffers (1, &target->depth);
    }
  glDeleteFramebuffers (1, &target->frame);
  memset (target, 0, sizeof *target);
}
