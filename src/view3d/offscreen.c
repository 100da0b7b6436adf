/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A context with no display: EGL without a surface. Pictures are put together
 * from tiles with a margin, so that what looks at neighbours finds them.
 */
#include "view3d/offscreen-private.h"

#include <epoxy/egl.h>
#include <string.h>

#include "view3d/view3d-private.h"

/* Memory for one tile stays below a quarter of a gigabyte, samples included. */
#define USUAL_TILE_PX 2048

struct PlumbOffscreen {
  EGLDisplay display;
  EGLContext context;
  guint serial;
  int limit_px;
  PlumbGlTarget target;
};

static bool
complain (GError **error, const char *what)
{
  g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_CONTEXT,
               "There is no OpenGL without a display here: %s.", what);
  return false;
}

static bool
open_display (PlumbOffscreen *offscreen, GError **error)
{
  EGLint major, minor;

  if (!epoxy_has_egl ())
    return complain (error, "the EGL library is missing");
  if (!epoxy_has_egl_extension (EGL_NO_DISPLAY, "EGL_EXT_platform_base")
      || !epoxy_has_egl_extension (EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless"))
    return complain (error, "EGL has no platform without a surface");
  offscreen->display = eglGetPlatformDisplayEXT (EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, NULL);
  if (offscreen->display == EGL_NO_DISPLAY || !eglInitialize (offscreen->display, &major, &minor))
    return complain (error, "EGL does not start");
  return true;
}

static bool
make_context (PlumbOffscreen *offscreen, bool gles, GError **error)
{
  static const EGLint core[]
      = { EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
          EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE };
  static const EGLint es[] = { EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 0, EGL_NONE };

  if (!eglBindAPI (gles ? EGL_OPENGL_ES_API : EGL_OPENGL_API))
    return complain (error, gles ? "EGL knows no OpenGL ES" : "EGL knows no desktop OpenGL");
  offscreen->context = eglCreateContext (offscreen->display, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, gles ? es : core);
  if (offscreen->context == EGL_NO_CONTEXT)
    return complain (error, gles ? "OpenGL ES 3.0 is refused" : "OpenGL 3.3 is refused");
  return true;
}

static bool
make_current (PlumbOffscreen *offscreen, GError **error)
{
  return eglMakeCurrent (offscreen->display, EGL_NO_SURFACE, EGL_NO_SURFACE, offscreen->context)
         || complain (error, "the context cannot be used");
}

PlumbOffscreen *
plumb_offscreen_new (bool gles, GError **error)
{
  static guint last_serial;
  PlumbOffscreen *offscreen = g_new0 (PlumbOffscreen, 1);

  offscreen->context = EGL_NO_CONTEXT;
  offscreen->serial = ++last_serial;
  if (open_display (offscreen, error) && make_context (offscreen, gles, error) && make_current (offscreen, error))
    return offscreen;
  plumb_offscreen_free (offscreen);
  return NULL;
}

/* The display stays open: others in this process may be using it. */
void
plumb_offscreen_free (PlumbOffscreen *offscreen)
{
  if (offscreen == NULL)
    return;
  if (offscreen->context != EGL_NO_CONTEXT)
    {
      eglMakeCurrent (offscreen->display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
      eglDestroyContext (offscreen->display, offscreen->context);
    }
  g_free (offscreen);
}

void
plumb_offscreen_limit (PlumbOffscreen *offscreen, int tile_px)
{
  offscreen->limit_px = tile_px;
}

/* A view that was last drawn in another offscreen context starts anew here:
 * what it had there went, or goes, with that context. */
static bool
enter (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, GError **error)
{
  if (width_px < 1 || height_px < 1 || width_px > 1 << 15 || height_px > 1 << 15)
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SIZE,
                   "A picture of %d × %d pixels cannot be made: each side from 1 to %d.", width_px, height_px,
                   1 << 15);
      return false;
    }
  if (!make_current (offscreen, error))
    return false;
  if (view->gl != NULL && view->owner != offscreen->serial)
    g_clear_pointer (&view->gl, g_free);
  if (!plumb_view3d_realize (view, error))
    return false;
  view->owner = offscreen->serial;
  return true;
}

static int
tile_limit (const PlumbOffscreen *offscreen)
{
  GLint most = 0, buffer = 0;

  glGetIntegerv (GL_MAX_TEXTURE_SIZE, &most);
  glGetIntegerv (GL_MAX_RENDERBUFFER_SIZE, &buffer);
  most = MIN (MIN (most, buffer), USUAL_TILE_PX);
  return offscreen->limit_px > 0 ? MIN (most, offscreen->limit_px) : most;
}

/* One tile's core into its place; OpenGL's rows run from the bottom. */
static void
read_back (const PlumbTile *tile, int x0, int y0, int x1, int y1, uint8_t *rgba)
{
  gsize row = (gsize) tile->full_width_px * 4;

  glPixelStorei (GL_PACK_ALIGNMENT, 1);
  for (int y = y0; y < y1; y++)
    glReadPixels (x0 - tile->x_px, y - tile->y_px, x1 - x0, 1, GL_RGBA, GL_UNSIGNED_BYTE,
                  rgba + (gsize) (tile->full_height_px - 1 - y) * row + (gsize) x0 * 4);
}

typedef bool (*DrawTile) (PlumbView3d *view, const PlumbTile *tile, GLuint destination, gpointer data,
                          GError **error);

static bool
draw_tile (PlumbOffscreen *offscreen, PlumbView3d *view, PlumbTile *tile, int step_px, int margin_px, DrawTile draw,
           gpointer data, uint8_t *rgba, GError **error)
{
  int x0 = tile->x_px, y0 = tile->y_px;
  int x1 = MIN (x0 + step_px, tile->full_width_px), y1 = MIN (y0 + step_px, tile->full_height_px);

  /* Even starts: the softening works on every second pixel. */
  tile->x_px = MAX (0, x0 - margin_px) & ~1;
  tile->y_px = MAX (0, y0 - margin_px) & ~1;
  tile->width_px = MIN (tile->full_width_px, x1 + margin_px) - tile->x_px;
  tile->height_px = MIN (tile->full_height_px, y1 + margin_px) - tile->y_px;
  if (!plumb_gl_target_fit (&offscreen->target, tile->width_px, tile->height_px, 0, true, false, error)
      || !draw (view, tile, offscreen->target.frame, data, error))
    return false;
  glBindFramebuffer (GL_FRAMEBUFFER, offscreen->target.frame);
  read_back (tile, x0, y0, x1, y1, rgba);
  return true;
}

static uint8_t *
draw_tiles (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, DrawTile draw, gpointer data,
            GError **error)
{
  if (!enter (offscreen, view, width_px, height_px, error))
    return NULL;
  int limit = tile_limit (offscreen), margin_px = 0, step_px = limit;
  if (width_px > limit || height_px > limit)
    {
      margin_px = height_px / 25 + 8;
      step_px = MAX (limit - 2 * margin_px - 2, 64) & ~1;
    }
  g_autofree uint8_t *rgba = g_try_malloc ((gsize) width_px * (gsize) height_px * 4);
  if (rgba == NULL)
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SIZE,
                   "There is not enough memory for a picture of %d × %d pixels.", width_px, height_px);
      return NULL;
    }
  for (int y = 0; y < height_px; y += step_px)
    for (int x = 0; x < width_px; x += step_px)
      {
        PlumbTile tile = { width_px, height_px, x, y, 0, 0 };
        if (!draw_tile (offscreen, view, &tile, step_px, margin_px, draw, data, rgba, error))
          return NULL;
      }
  return g_steal_pointer (&rgba);
}

static bool
draw_picture (PlumbView3d *view, const PlumbTile *tile, GLuint destination, gpointer data, GError **error)
{
  (void) data;
  return plumb_view3d_draw (view, tile, destination, error);
}

uint8_t *
plumb_offscreen_picture (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, GError **error)
{
  return draw_tiles (offscreen, view, width_px, height_px, draw_picture, NULL, error);
}

static bool
draw_depth (PlumbView3d *view, const PlumbTile *tile, GLuint destination, gpointer data, GError **error)
{
  return plumb_view3d_draw_depth (view, tile, destination, data, error);
}

float *
plumb_offscreen_depth (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px, GError **error)
{
  float far_m = 0.0f;
  g_autofree uint8_t *rgba = draw_tiles (offscreen, view, width_px, height_px, draw_depth, &far_m, error);

  if (rgba == NULL)
    return NULL;
  gsize n = (gsize) width_px * (gsize) height_px;
  float *depth = g_new (float, n);
  for (gsize i = 0; i < n; i++)
    {
      guint packed = rgba[4 * i] | (guint) rgba[4 * i + 1] << 8 | (guint) rgba[4 * i + 2] << 16;
      depth[i] = packed == 0xffffffu ? 0.0f : (float) ((double) packed / 16777214.0 * (double) far_m);
    }
  return depth;
}
