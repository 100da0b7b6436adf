/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures with no display: a surfaceless context, tiles past the limit. */
#include <epoxy/egl.h>

#include "view3d-private.h"

#include <string.h>

#define TILE_PX 2048

struct PlumbOffscreen {
  EGLDisplay display;
  EGLContext context;
};

static EGLDisplay
open_display (void)
{
  if (!epoxy_has_egl_extension (EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless")
      || !epoxy_has_egl_extension (EGL_NO_DISPLAY, "EGL_EXT_platform_base"))
    return EGL_NO_DISPLAY;
  return eglGetPlatformDisplayEXT (EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, NULL);
}

static EGLContext
make_context (EGLDisplay display, bool gles)
{
  static const EGLint desktop[] = { EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 3,
                                    EGL_CONTEXT_OPENGL_PROFILE_MASK, EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE };
  static const EGLint embedded[] = { EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 0, EGL_NONE };

  if (!eglBindAPI (gles ? EGL_OPENGL_ES_API : EGL_OPENGL_API))
    return EGL_NO_CONTEXT;
  return eglCreateContext (display, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, gles ? embedded : desktop);
}

PlumbOffscreen *
plumb_offscreen_new (bool gles, GError **error)
{
  EGLDisplay display = open_display ();
  EGLint major, minor;

  if (display == EGL_NO_DISPLAY || !eglInitialize (display, &major, &minor))
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 6, "this machine draws nothing without a display (surfaceless EGL)");
      return NULL;
    }
  EGLContext context = make_context (display, gles);
  if (context == EGL_NO_CONTEXT || !eglMakeCurrent (display, EGL_NO_SURFACE, EGL_NO_SURFACE, context))
    {
      if (context != EGL_NO_CONTEXT)
        eglDestroyContext (display, context);
      g_set_error (error, PLUMB_VIEW3D_ERROR, 6, "this machine has no %s", gles ? "OpenGL ES 3.0" : "OpenGL 3.3");
      return NULL;
    }
  PlumbOffscreen *offscreen = g_new0 (PlumbOffscreen, 1);
  offscreen->display = display;
  offscreen->context = context;
  return offscreen;
}

void
plumb_offscreen_free (PlumbOffscreen *offscreen)
{
  if (offscreen == NULL)
    return;
  eglMakeCurrent (offscreen->display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
  eglDestroyContext (offscreen->display, offscreen->context);
  g_free (offscreen);
}

/* Clip space so that columns x … x + w of the pane fill the tile. */
static void
set_tile (PlumbView3d *view, int width_px, int height_px, int x, int y, int w, int h)
{
  double sx = (double) width_px / w, sy = (double) height_px / h;

  view->tile[0] = (float) sx;
  view->tile[1] = (float) sy;
  view->tile[2] = (float) (sx - 1.0 - 2.0 * x / w);
  view->tile[3] = (float) (sy - 1.0 - 2.0 * y / h);
}

/* Rows of GL run from the foot, those of a picture from the top. */
static void
take_rows (uint8_t *rgba, int width_px, int height_px, const uint8_t *tile, int x, int y, int w, int h)
{
  for (int row = 0; row < h; row++)
    memcpy (rgba + ((gsize) (height_px - 1 - y - row) * (gsize) width_px + (gsize) x) * 4,
            tile + (gsize) row * (gsize) w * 4, (gsize) w * 4);
}

static bool
draw_tiles (PlumbView3d *view, int width_px, int height_px, uint8_t *rgba, GError **error)
{
  PlumbTarget out = { 0 };
  g_autofree uint8_t *tile = g_malloc ((gsize) MIN (width_px, TILE_PX) * (gsize) MIN (height_px, TILE_PX) * 4);
  bool fine = true;

  for (int y = 0; fine && y < height_px; y += TILE_PX)
    for (int x = 0; fine && x < width_px; x += TILE_PX)
      {
        int w = MIN (TILE_PX, width_px - x), h = MIN (TILE_PX, height_px - y);
        set_tile (view, width_px, height_px, x, y, w, h);
        fine = plumb_target_make (&out, w, h, 0, false, error);
        if (fine)
          {
            glBindFramebuffer (GL_FRAMEBUFFER, out.framebuffer);
            fine = plumb_view3d_draw (view, (double) width_px / height_px, w, h, error);
          }
        if (fine)
          {
            glPixelStorei (GL_PACK_ALIGNMENT, 1);
            glReadPixels (0, 0, w, h, GL_RGBA, GL_UNSIGNED_BYTE, tile);
            take_rows (rgba, width_px, height_px, tile, x, y, w, h);
          }
      }
  plumb_target_clear (&out);
  set_tile (view, 1, 1, 0, 0, 1, 1);
  return fine;
}

uint8_t *
plumb_offscreen_picture (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, GError **error)
{
  g_return_val_if_fail (width_px > 0 && height_px > 0, NULL);
  if (!eglMakeCurrent (offscreen->display, EGL_NO_SURFACE, EGL_NO_SURFACE, offscreen->context))
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 6, "the drawing context was lost");
      return NULL;
    }
  if (!plumb_view3d_realize (view, error))
    return NULL;
  uint8_t *rgba = g_malloc ((gsize) width_px * (gsize) height_px * 4);
  bool fine = draw_tiles (view, width_px, height_px, rgba, error);
  plumb_view3d_unrealize (view);
  view->new_mesh = view->new_whole = view->new_content = true;
  if (fine)
    return rgba;
  g_free (rgba);
  return NULL;
}

/* The depth buffer through a small colour picture would lose most bits: it is
 * packed into bytes by reading the depth texture with the finish pass left
 * out, which desktop GL allows. */
float *
plumb_offscreen_depth (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, GError **error)
{
  PlumbTarget out = { 0 };
  float *depth = NULL;
  PlumbView3dOptions before = view->options;

  g_return_val_if_fail (width_px > 0 && height_px > 0, NULL);
  if (!eglMakeCurrent (offscreen->display, EGL_NO_SURFACE, EGL_NO_SURFACE, offscreen->context))
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 6, "the drawing context was lost");
      return NULL;
    }
  view->options.light_pass = true;
  if (plumb_view3d_realize (view, error) && plumb_target_make (&out, width_px, height_px, 0, false, error))
    {
      glBindFramebuffer (GL_FRAMEBUFFER, out.framebuffer);
      if (plumb_view3d_draw (view, (double) width_px / height_px, width_px, height_px, error))
        {
          g_autofree float *rows = g_new (float, (gsize) width_px * (gsize) height_px);
          depth = g_new (float, (gsize) width_px * (gsize) height_px);
          glBindFramebuffer (GL_FRAMEBUFFER, view->single.framebuffer);
          glPixelStorei (GL_PACK_ALIGNMENT, 1);
          glReadPixels (0, 0, width_px, height_px, GL_DEPTH_COMPONENT, GL_FLOAT, rows);
          for (int y = 0; y < height_px; y++)
            for (int x = 0; x < width_px; x++)
              {
                double z = 2.0 * (double) rows[(gsize) (height_px - 1 - y) * (gsize) width_px + (gsize) x] - 1.0;
                depth[(gsize) y * (gsize) width_px + (gsize) x]
                    = z >= 1.0 ? 0.0f
                               : (float) (2.0 * PLUMB_NEAR_M * PLUMB_FAR_M
                                          / (PLUMB_FAR_M + PLUMB_NEAR_M - z * (PLUMB_FAR_M - PLUMB_NEAR_M)));
              }
        }
    }
  plumb_target_clear (&out);
  plumb_view3d_unrealize (view);
  view->options = before;
  return depth;
}
