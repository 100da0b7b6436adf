/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d-private.h"

#include <stdlib.h>
#include <string.h>

PlumbView3d *
plumb_view3d_new (void)
{
  PlumbView3d *view = g_new0 (PlumbView3d, 1);

  view->options = (PlumbView3dOptions){ .beam = true, .thrown = true, .seat = PLUMB_NO_INDEX, .white_share = 1.0 };
  view->options.chosen.kind = view->options.hovered.kind = PLUMB_RECORD_NONE;
  view->colours.room_light = 1.0f;
  view->new_content = true;
  view->pattern = PLUMB_PATTERN_GRID;
  view->tile[0] = view->tile[1] = 1.0f;
  return view;
}

static void
forget_scene (PlumbView3d *view)
{
  g_clear_pointer (&view->evaluation, plumb_evaluation_free);
  g_clear_pointer (&view->scene, plumb_scene_unref);
  view->has_mesh = view->has_whole = false;
}

void
plumb_view3d_free (PlumbView3d *view)
{
  if (view == NULL)
    return;
  forget_scene (view);
  plumb_mesh_clear (&view->mesh);
  plumb_mesh_clear (&view->whole);
  g_free (view->content);
  g_free (view);
}

/* An evaluation is the document's and goes with its next change; it is worked
 * out again here, which takes less than a frame's share. */
void
plumb_view3d_set_scene (PlumbView3d *view, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  forget_scene (view);
  if (scene == NULL || evaluation == NULL)
    return;
  view->scene = plumb_scene_ref (scene);
  if (!plumb_evaluate (scene, evaluation->arrangement, &view->evaluation))
    g_error ("not enough memory for an evaluation");
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
  g_clear_pointer (&view->content, g_free);
  view->new_content = true;
  if (rgba == NULL || width_px < 1 || height_px < 1)
    return;
  view->content = g_memdup2 (rgba, (gsize) width_px * (gsize) height_px * 4);
  view->content_w_px = width_px;
  view->content_h_px = height_px;
}

void
plumb_view3d_set_pattern (PlumbView3d *view, PlumbPattern pattern)
{
  if (view->pattern == pattern)
    return;
  view->pattern = pattern;
  view->new_content = true;
}

bool
plumb_view3d_has_beam (const PlumbView3d *view)
{
  return view->evaluation != NULL && view->evaluation->solved;
}

bool
plumb_view3d_ready_meshes (PlumbView3d *view)
{
  if (view->scene == NULL)
    return true;
  PlumbSection section = plumb_section_for (view->scene, view->evaluation, &view->camera);
  bool same = view->has_mesh && plumb_section_equal (&section, &view->section);
  if (!view->has_whole)
    {
      plumb_mesh_clear (&view->whole);
      if (!plumb_mesh_build_whole (view->scene, view->evaluation, &view->whole))
        return false;
      view->has_whole = view->new_whole = true;
    }
  if (!same)
    {
      plumb_mesh_clear (&view->mesh);
      if (!plumb_mesh_build (view->scene, view->evaluation, &section, &view->mesh))
        return false;
      view->section = section;
      view->has_mesh = view->new_mesh = true;
      view->baked = false;
    }
  /* The light of corners takes longest: while something moves it waits. */
  if (!view->baked && !view->options.light_pass)
    {
      if (!plumb_mesh_bake (&view->mesh, &view->whole))
        return false;
      view->baked = view->new_mesh = true;
    }
  return true;
}

PlumbSubject
plumb_view3d_pick (PlumbView3d *view, double aspect, double x, double y, PlumbVec3 *hit)
{
  PlumbSubject nothing = { .kind = PLUMB_RECORD_NONE, .index = PLUMB_NO_INDEX, .sub = PLUMB_NO_INDEX };
  uint32_t part;

  if (view->scene == NULL || !plumb_view3d_ready_meshes (view)
      || !plumb_mesh_pick (&view->mesh, plumb_camera_eye (&view->camera),
                           plumb_camera_ray (&view->camera, aspect, x, y), &part, hit))
    return nothing;
  return view->mesh.parts[part].subject;
}
