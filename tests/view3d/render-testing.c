/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "render-testing.h"

#include "job/job.h"

PlumbView3dOptions
render_options (void)
{
  const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  return (PlumbView3dOptions){
    .thrown = true, .seat = PLUMB_NO_INDEX, .chosen = nothing, .hovered = nothing, .white_share = 1.0
  };
}

PlumbView3d *
render_view_new (double room_light)
{
  const PlumbView3dColours colours = {
    .paper = { 0.95f, 0.94f, 0.91f },
    .ink = { 0.12f, 0.11f, 0.14f },
    .ink2 = { 0.36f, 0.35f, 0.38f },
    .wall = { 0.25f, 0.23f, 0.26f },
    .accent = { 0.46f, 0.2f, 0.5f },
    .beam = { 0.9f, 0.7f, 0.2f },
    .picture = { 0.95f, 0.9f, 0.75f },
    .sight = { 0.2f, 0.5f, 0.5f },
    .fails = { 0.7f, 0.15f, 0.1f },
    .room_light = (float) room_light,
  };
  PlumbView3dOptions options = render_options ();
  PlumbView3d *view = plumb_view3d_new ();

  plumb_view3d_set_colours (view, &colours);
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_pattern (view, PLUMB_PATTERN_WHITE);
  return view;
}

PlumbOffscreen *
render_offscreen (bool gles)
{
  g_autoptr (GError) error = NULL;
  PlumbOffscreen *offscreen = plumb_offscreen_new (gles, &error);

  g_assert_no_error (error);
  g_assert_nonnull (offscreen);
  return offscreen;
}

Picture
render_picture (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px)
{
  g_autoptr (GError) error = NULL;
  Picture picture = { width_px, height_px, plumb_offscreen_picture (offscreen, view, width_px, height_px, &error) };

  g_assert_no_error (error);
  g_assert_nonnull (picture.rgba);
  return picture;
}

void
picture_clear (Picture *picture)
{
  g_clear_pointer (&picture->rgba, g_free);
}

double
picture_difference (const Picture *a, const Picture *b, int steps)
{
  gsize n = (gsize) a->width_px * (gsize) a->height_px, differ = 0;

  g_assert_cmpint (a->width_px, ==, b->width_px);
  g_assert_cmpint (a->height_px, ==, b->height_px);
  for (gsize i = 0; i < n; i++)
    {
      int most = 0;
      for (gsize k = 0; k < 4; k++)
        most = MAX (most, ABS ((int) a->rgba[4 * i + k] - (int) b->rgba[4 * i + k]));
      differ += most > steps;
    }
  return (double) differ / (double) n;
}

void
each_demo (DemoCheck check)
{
  static const char *const NAMES[] = { "net-loft", "music-room" };

  for (guint i = 0; i < G_N_ELEMENTS (NAMES); i++)
    {
      g_autofree char *file = g_strconcat (NAMES[i], ".plumbeam", NULL);
      g_autofree char *path = g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "data", "demo", file, NULL);
      g_autoptr (GError) error = NULL;
      PlumbEvaluation *evaluation;
      PlumbJobFile *job = plumb_job_load (path, &error);
      g_assert_no_error (error);
      PlumbScene *scene = plumb_scene_ref ((PlumbScene *) plumb_job_scene (job));
      g_assert_true (plumb_evaluate (scene, plumb_scene_current_arrangement (scene), &evaluation));
      check (NAMES[i], scene, evaluation);
      plumb_evaluation_free (evaluation);
      plumb_scene_unref (scene);
      plumb_job_file_free (job);
    }
}

static bool
is_hidden (const PlumbSubject *subject, const PlumbCamera *camera)
{
  if (camera->kind == PLUMB_CAMERA_LENS)
    return subject->kind == PLUMB_RECORD_PLACE;
  return camera->kind == PLUMB_CAMERA_SEAT && subject->sub == camera->seat
         && (subject->kind == PLUMB_RECORD_SEAT || subject->kind == PLUMB_RECORD_ROW);
}

PlumbMesh
render_mesh (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera)
{
  PlumbMesh mesh = { 0 };
  PlumbSection section = plumb_section_for (scene, evaluation, camera);

  g_assert_true (plumb_mesh_build (scene, evaluation, &section, NULL, &mesh));
  for (uint32_t p = 0; p < mesh.n_parts; p++)
    if (is_hidden (&mesh.parts[p].subject, camera))
      mesh.parts[p].n = 0;
  return mesh;
}
