/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/view3d.h"

#include "view3d/view3d-private.h"

PlumbView3d *
plumb_view3d_new (void)
{
  PlumbView3d *view = g_new0 (PlumbView3d, 1);
  const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

  view->camera = (PlumbCamera){ .distance_m = 8.0, .fov_y_rad = 0.7, .elevation_rad = 0.5, .seat = PLUMB_NO_INDEX };
  view->options = (PlumbView3dOptions){
    .thrown = true, .seat = PLUMB_NO_INDEX, .chosen = nothing, .hovered = nothing, .white_share = 1.0
  };
  view->colours.room_light = 1.0f;
  view->content_serial = 1;
  view->pattern_aspect = 1.0;
  view->sightlines = g_array_new (FALSE, FALSE, sizeof (PlumbSightline));
  view->sightlines_serial = G_MAXUINT;
  view->ghosts = g_array_new (FALSE, FALSE, sizeof (uint32_t));
  return view;
}

/* What is left in a context goes with it. */
void
plumb_view3d_free (PlumbView3d *view)
{
  if (view == NULL)
    return;
  plumb_model_clear (&view->model);
  g_array_unref (view->sightlines);
  g_array_unref (view->ghosts);
  g_free (view->content);
  g_free (view->gl);
  g_free (view);
}

void
plumb_view3d_set_again (PlumbView3d *view, void (*again) (gpointer data), gpointer data)
{
  view->model.again = again;
  view->model.again_data = data;
}

bool
plumb_view3d_improves (const PlumbView3d *view)
{
  return view->model.baking != NULL || view->model.again_source != 0;
}

void
plumb_view3d_set_scene (PlumbView3d *view, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  plumb_model_set (&view->model, scene, evaluation);
}

void
plumb_view3d_set_camera (PlumbView3d *view, const PlumbCamera *camera)
{
  view->camera = *camera;
}

void
plumb_view3d_set_options (PlumbView3d *view, const PlumbView3dOptions *options)
{
  view->options = *options;
}

void
plumb_view3d_set_colours (PlumbView3d *view, const PlumbView3dColours *colours)
{
  view->colours = *colours;
}

void
plumb_view3d_set_content (PlumbView3d *view, const uint8_t *rgba, int width_px, int height_px)
{
  bool any = rgba != NULL && width_px > 0 && height_px > 0;

  g_free (view->content);
  view->content = any ? g_memdup2 (rgba, (gsize) width_px * (gsize) height_px * 4) : NULL;
  view->content_width_px = any ? width_px : 0;
  view->content_height_px = any ? height_px : 0;
  view->content_serial++;
}

void
plumb_view3d_set_pattern (PlumbView3d *view, PlumbPattern pattern)
{
  if (view->pattern == pattern && view->content == NULL)
    return;
  view->pattern = pattern;
  view->content_serial++;
}

bool
plumb_view3d_realize (PlumbView3d *view, GError **error)
{
  return view->gl != NULL || plumb_gl_new (&view->gl, error);
}

void
plumb_view3d_unrealize (PlumbView3d *view)
{
  if (view->gl != NULL)
    plumb_gl_free (view->gl);
  view->gl = NULL;
  view->owner = 0;
}

bool
plumb_view3d_render (PlumbView3d *view, int width_px, int height_px, GError **error)
{
  PlumbTile all = { width_px, height_px, 0, 0, width_px, height_px };
  GLint destination = 0, limit = 0;

  if (view->gl == NULL || width_px < 1 || height_px < 1)
    return true;
  glGetIntegerv (GL_MAX_RENDERBUFFER_SIZE, &limit);
  if (width_px > limit || height_px > limit)
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SIZE,
                   "A picture of %d × %d pixels is more than OpenGL takes here (%d).", width_px, height_px, limit);
      return false;
    }
  glGetIntegerv (GL_DRAW_FRAMEBUFFER_BINDING, &destination);
  return plumb_view3d_draw (view, &all, (GLuint) destination, error)
         && (view->model.again == NULL || plumb_pass_keep (view->gl, &all, (GLuint) destination, error));
}

bool
plumb_view3d_repeat (PlumbView3d *view, int width_px, int height_px)
{
  PlumbTile all = { width_px, height_px, 0, 0, width_px, height_px };
  GLint destination = 0;

  if (view->gl == NULL)
    return false;
  glGetIntegerv (GL_DRAW_FRAMEBUFFER_BINDING, &destination);
  return plumb_pass_repeat (view->gl, &all, (GLuint) destination);
}

/* So far past a ghost that was met, of the way to it. */
#define PAST_GHOST 1e-6

PlumbSubject
plumb_view3d_pick (PlumbView3d *view, double aspect, double x, double y, PlumbVec3 *hit)
{
  const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  guint serial;
  uint32_t part;
  PlumbVec3 at, from = plumb_camera_eye (&view->camera);

  const PlumbMesh *mesh = plumb_model_mesh (&view->model, &view->camera, true, &serial);
  PlumbVec3 ray = plumb_camera_ray (&view->camera, aspect, x, y);
  plumb_ghosts_find (view);
  while (plumb_mesh_pick (mesh, from, ray, &part, &at))
    {
      if (!plumb_ghosts_have (view, &mesh->parts[part].subject))
        {
          if (hit != NULL)
            *hit = at;
          return mesh->parts[part].subject;
        }
      from = plumb_vec3_along (at, ray, PAST_GHOST);
    }
  return nothing;
}
