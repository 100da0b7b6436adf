/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-area-private.h"

/* The marks of choosing belong to the work, not to the picture. */
static PlumbView3d *
twin_of (PlumbView3dArea *self)
{
  PlumbView3d *twin = plumb_view3d_new ();
  PlumbScene *scene = plumb_scene_ref (plumb_view3d_half_scene (self->half));
  PlumbView3dOptions options = self->options;

  plumb_view3d_set_scene (twin, scene, plumb_view3d_half_evaluation (self->half));
  plumb_scene_unref (scene);
  plumb_view3d_area_dress (self, twin);
  options.light_pass = false;
  options.chosen = options.hovered = (PlumbSubject){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  plumb_view3d_set_options (twin, &options);
  plumb_view3d_set_pattern (twin, self->shown.pattern);
  if (self->content.rgba != NULL)
    plumb_view3d_set_content (twin, self->content.rgba, self->content.width_px, self->content.height_px);
  return twin;
}

gboolean
plumb_view3d_area_save (PlumbView3dArea *self, const char *path, int width_px, int height_px, GError **error)
{
  PlumbOffscreen *offscreen;
  uint8_t *rgba = NULL;
  gboolean saved;

  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), FALSE);
  /* The toolkit remembers which context it made current; another comes in between. */
  gdk_gl_context_clear_current ();
  offscreen = plumb_offscreen_new (false, NULL);
  if (offscreen == NULL)
    offscreen = plumb_offscreen_new (true, error);
  if (offscreen == NULL)
    return FALSE;
  PlumbView3d *twin = twin_of (self);
  rgba = plumb_offscreen_picture (offscreen, twin, width_px, height_px, error);
  saved = rgba != NULL && plumb_picture_write (path, rgba, width_px, height_px, error);
  plumb_view3d_free (twin);
  plumb_offscreen_free (offscreen);
  g_free (rgba);
  return saved;
}
