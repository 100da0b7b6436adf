/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The 3D area and OpenGL: its context, its frames, and what becomes of it
 * where there is none. */
#include "app/view3d-area-private.h"

#include <string.h>

#include "app/style.h"
#include "app/view3d-colours.h"

/* ---- trouble ------------------------------------------------------------------------------ */

static gboolean
troubled_cb (gpointer data)
{
  PlumbView3dArea *self = data;

  self->troubled_idle = 0;
  g_signal_emit_by_name (self, "troubled", self->trouble);
  return G_SOURCE_REMOVE;
}

/* Not at once: who listens takes the area away, which must not happen while it
 * is realized or drawn. */
static void
fail (PlumbView3dArea *self, const char *words)
{
  gsize length;

  if (self->trouble != NULL)
    return;
  self->trouble = g_strstrip (g_strdup (words));
  length = strlen (self->trouble);
  if (length > 0 && self->trouble[length - 1] == '.')
    self->trouble[length - 1] = '\0';
  self->troubled_idle = g_idle_add (troubled_cb, self);
}

/* ---- the context ------------------------------------------------------------------------ */

/* Desktop OpenGL first; GTK by itself would not fall back to OpenGL ES. */
GdkGLContext *
plumb_view3d_area_create_context (GtkGLArea *area)
{
  static const struct {
    GdkGLAPI api;
    int major, minor;
  } wanted[] = { { GDK_GL_API_GL, 3, 3 }, { GDK_GL_API_GLES, 3, 0 } };
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (GTK_WIDGET (area)));
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      g_clear_error (&error);
      g_autoptr (GdkGLContext) context = gdk_surface_create_gl_context (surface, &error);
      if (context == NULL)
        continue;
      gdk_gl_context_set_allowed_apis (context, wanted[i].api);
      gdk_gl_context_set_required_version (context, wanted[i].major, wanted[i].minor);
      if (gdk_gl_context_realize (context, &error))
        return g_steal_pointer (&context);
    }
  gtk_gl_area_set_error (area, error);
  return NULL;
}

void
plumb_view3d_area_begin_gl (PlumbView3dArea *self)
{
  GtkGLArea *area = GTK_GL_AREA (self);
  g_autoptr (GError) error = NULL;

  gtk_gl_area_make_current (area);
  if (gtk_gl_area_get_error (area) != NULL)
    {
      fail (self, gtk_gl_area_get_error (area)->message);
      return;
    }
  self->n_frames = 0;
  self->ready = plumb_view3d_realize (self->view, &error);
  if (!self->ready)
    fail (self, error->message);
}

void
plumb_view3d_area_end_gl (PlumbView3dArea *self)
{
  if (self->ready)
    {
      gtk_gl_area_make_current (GTK_GL_AREA (self));
      plumb_view3d_unrealize (self->view);
    }
  self->ready = FALSE;
}

/* ---- frames -------------------------------------------------------------------------------- */

void
plumb_view3d_area_dress (PlumbView3dArea *self, PlumbView3d *view)
{
  PlumbView3dColours colours = plumb_view3d_colours (plumb_style_theme ());

  plumb_view3d_set_colours (view, &colours);
  plumb_view3d_set_options (view, &self->options);
  plumb_view3d_set_camera (view, plumb_view3d_area_get_camera (self));
}

gboolean
plumb_view3d_area_render (GtkGLArea *area, GdkGLContext *context)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (area);
  GtkWidget *widget = GTK_WIDGET (area);
  int scale = gtk_widget_get_scale_factor (widget);
  int width_px = gtk_widget_get_width (widget) * scale, height_px = gtk_widget_get_height (widget) * scale;
  g_autoptr (GError) error = NULL;

  (void) context;
  if (!self->ready || self->trouble != NULL || width_px < 1 || height_px < 1)
    return TRUE;
  if (!self->changed && plumb_view3d_repeat (self->view, width_px, height_px))
    return TRUE;
  self->changed = FALSE;
  self->theme = plumb_style_theme ();
  plumb_view3d_area_dress (self, self->view);
  if (!plumb_view3d_render (self->view, width_px, height_px, &error))
    fail (self, error->message);
  self->n_frames++;
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_BUSY, plumb_view3d_area_is_busy (self), -1);
  return TRUE;
}
