/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn along light and sight: the beam's faces and edges, sightlines,
 * frustum and axis. All of it is hidden by what stands before it. */
#include <string.h>

#include "view3d/view3d-private.h"

#define BEAM_WIDTH_PX 0.9f
#define SIGHT_WIDTH_PX 1.1f
#define DASH_PX 4.0f
#define GHOST_WIDTH_PX 1.1f
#define GHOST_DASH_PX 7.0f
#define GHOST_GAP_PX 3.0f
/* Where contrast is wanted everything that matters has an outline. */
#define CONTRAST_WIDTH_PX 2.0f

typedef struct {
  const float *colour;
  float alpha, width_px, dash_px, gap_px;
} Pen;

static void
start_blending (void)
{
  glEnable (GL_BLEND);
  glBlendFunc (GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask (GL_FALSE);
  /* Alpha tells the cut faces. */
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
}

static void
end_blending (void)
{
  glDisable (GL_BLEND);
  glDepthMask (GL_TRUE);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
}

void
plumb_pass_volume (PlumbFrame *frame)
{
  PlumbGl *gl = frame->gl;
  const PlumbView3d *view = frame->view;
  const PlumbProjector *projector = &view->projector;
  GLuint program = gl->program[PLUMB_PROGRAM_VOLUME];
  bool dark = view->colours.room_light < 0.5f;
  const float fade[3] = { dark ? 0.26f : 0.40f, 0.02f, (float) projector->throw_m };

  if (!view->options.beam || !projector->on)
    return;
  start_blending ();
  glUseProgram (program);
  plumb_projector_uniforms (projector, program);
  plumb_gl_set_int (program, "u_shadow", 1);
  plumb_gl_set_matrix (program, "u_to_clip", frame->to_clip);
  plumb_gl_set_floats (program, "u_scale", 2, projector->scale);
  plumb_gl_set_float (program, "u_far_m", (float) projector->reach_m);
  plumb_gl_set_floats (program, "u_colour", 3, view->colours.beam);
  plumb_gl_set_floats (program, "u_fade", 3, fade);
  glBindVertexArray (gl->volume_array);
  glDrawArrays (GL_TRIANGLES, 0, 12);
  end_blending ();
}

/* ---- lines --------------------------------------------------------------------------------- */

static void
take (float to[3], PlumbVec3 p)
{
  to[0] = (float) p.x;
  to[1] = (float) p.y;
  to[2] = (float) p.z;
}

static void
add_line (GArray *lines, PlumbVec3 from, PlumbVec3 to, const Pen *pen)
{
  static const float corner[6][2] = { { 0, -1 }, { 1, -1 }, { 1, 1 }, { 0, -1 }, { 1, 1 }, { 0, 1 } };
  PlumbLineVertex v = { .colour = { pen->colour[0], pen->colour[1], pen->colour[2], pen->alpha },
                        .style = { pen->width_px, pen->dash_px, pen->gap_px } };

  take (v.from, from);
  take (v.to, to);
  for (int i = 0; i < 6; i++)
    {
      memcpy (v.corner, corner[i], sizeof v.corner);
      g_array_append_val (lines, v);
    }
}

static PlumbVec3
along_ray (const PlumbBeam *beam, double a, double b, double distance_m)
{
  return plumb_vec3_along (beam->lens_m, plumb_beam_ray (beam, plumb_vec2 (a, b)), distance_m);
}

static void
add_corners (GArray *lines, const PlumbView3d *view, double distance_m, const Pen *pen)
{
  const PlumbBeam *beam = &view->model.evaluation.beam;

  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 end = along_ray (beam, i & 1 ? 0.5 : -0.5, i & 2 ? 0.5 : -0.5, distance_m);
      add_line (lines, beam->lens_m, end, pen);
    }
}

/* The lens's axis to the picture's distance, and how far the shift takes the
 * picture's middle off it. */
static void
add_axis (GArray *lines, const PlumbView3d *view)
{
  const PlumbBeam *beam = &view->model.evaluation.beam;
  const Pen dash_dot = { view->colours.ink2, 1.0f, 1.2f, 9.0f, 3.0f },
            solid = { view->colours.accent, 1.0f, 1.6f, 0.0f, 0.0f };
  double z = view->projector.throw_m * 0.995;
  PlumbVec3 foot = plumb_vec3_along (beam->lens_m, beam->axes.f, z);

  add_line (lines, beam->lens_m, foot, &dash_dot);
  add_line (lines, foot, along_ray (beam, 0.0, 0.0, z), &solid);
}

static void
add_sightlines (GArray *lines, PlumbView3d *view)
{
  const Pen clear = { view->colours.sight, 1.0f, SIGHT_WIDTH_PX, DASH_PX, DASH_PX };
  const Pen blocked = { view->colours.fails, 0.8f, SIGHT_WIDTH_PX, DASH_PX / 2.0f, DASH_PX };

  plumb_sightlines_find (view);
  for (guint i = 0; i < view->sightlines->len; i++)
    {
      const PlumbSightline *s = &g_array_index (view->sightlines, PlumbSightline, i);
      add_line (lines, s->from, s->stop, &clear);
      if (plumb_vec3_length (plumb_vec3_sub (s->to, s->stop)) > 1e-6)
        add_line (lines, s->stop, s->to, &blocked);
    }
}

/* ---- outlines ------------------------------------------------------------------------------- */

typedef struct {
  GArray *lines;
  Pen pen;
} Outline;

static void
outline_cb (PlumbVec3 a, PlumbVec3 b, void *data)
{
  Outline *outline = data;
  add_line (outline->lines, a, b, &outline->pen);
}

static void
add_ghosts (GArray *lines, const PlumbView3d *view)
{
  const PlumbBuilding *b = view->ghosts->len > 0 ? plumb_scene_resolved (view->model.scene)->building : NULL;
  PlumbVec3 eye = plumb_camera_eye (&view->camera);

  for (guint i = 0; i < view->ghosts->len; i++)
    {
      const PlumbSolid *solid = &b->solids[g_array_index (view->ghosts, uint32_t, i)];
      PlumbSubject subject = plumb_ghost_subject (solid);
      bool chosen = plumb_subject_is (&view->model.evaluation, &view->options.chosen, &subject);
      Outline outline = { lines,
                          { chosen ? view->colours.accent : view->colours.ink2, 1.0f, GHOST_WIDTH_PX, GHOST_DASH_PX,
                            GHOST_GAP_PX } };
      plumb_ghost_outline (b, solid, eye, outline_cb, &outline);
    }
}

static void
add_loop (GArray *lines, const PlumbVec3 *points, uint32_t n, const Pen *pen)
{
  for (uint32_t i = 0; i < n; i++)
    add_line (lines, points[i], points[(i + 1) % n], pen);
}

/* The screen's edge and the machine's box. */
static void
add_contrast (GArray *lines, const PlumbView3d *view, const PlumbSubject *hidden)
{
  const PlumbEvaluation *e = &view->model.evaluation;
  const PlumbScreenResolved *screen = &e->target;
  const Pen pen = { view->colours.ink, 1.0f, CONTRAST_WIDTH_PX, 0.0f, 0.0f };

  if (screen->valid)
    {
      PlumbVec3 corner[4];
      for (int i = 0; i < 4; i++)
        {
          double u = (i == 1 || i == 2 ? 0.5 : -0.5) * screen->width_m, v = (i >= 2 ? 0.5 : -0.5) * screen->height_m;
          corner[i]
              = plumb_vec3_along (plumb_vec3_along (screen->frame.origin_m, screen->frame.u, u), screen->frame.v, v);
        }
      add_loop (lines, corner, 4, &pen);
    }
  if (e->machine == PLUMB_NO_INDEX || hidden->kind == PLUMB_RECORD_PLACE)
    return;
  for (int i = 0; i < 8; i++)
    if (!plumb_vec3_is_finite (e->body_corner_m[i]))
      return;
  add_loop (lines, e->body_corner_m, 4, &pen);
  add_loop (lines, e->body_corner_m + 4, 4, &pen);
  for (int i = 0; i < 4; i++)
    add_line (lines, e->body_corner_m[i], e->body_corner_m[i + 4], &pen);
}

/* ---- all of them ------------------------------------------------------------------------------ */

static void
draw (const PlumbFrame *frame, const GArray *lines, bool in_beam)
{
  PlumbGl *gl = frame->gl;
  GLuint program = gl->program[in_beam ? PLUMB_PROGRAM_LINE_BEAM : PLUMB_PROGRAM_LINE];
  const float size_px[2] = { (float) frame->tile.width_px, (float) frame->tile.height_px };

  if (lines->len == 0)
    return;
  glUseProgram (program);
  plumb_gl_set_matrix (program, "u_to_clip", frame->to_clip);
  plumb_gl_set_floats (program, "u_size_px", 2, size_px);
  plumb_gl_set_float (program, "u_pixel", frame->pixel);
  if (in_beam)
    {
      plumb_projector_uniforms (&frame->view->projector, program);
      plumb_gl_set_int (program, "u_shadow", 1);
    }
  glBindVertexArray (gl->line_array);
  glBindBuffer (GL_ARRAY_BUFFER, gl->line_vertices);
  glBufferData (GL_ARRAY_BUFFER, (GLsizeiptr) (lines->len * sizeof (PlumbLineVertex)), lines->data, GL_STREAM_DRAW);
  glDrawArrays (GL_TRIANGLES, 0, (GLsizei) lines->len);
  glBindBuffer (GL_ARRAY_BUFFER, 0);
}

void
plumb_pass_lines (PlumbFrame *frame)
{
  PlumbView3d *view = frame->view;
  const PlumbView3dOptions *options = &view->options;
  bool contrast = view->colours.high_contrast;
  const Pen edge = { view->colours.picture, 1.0f, contrast ? CONTRAST_WIDTH_PX : BEAM_WIDTH_PX, 0.0f, 0.0f };
  const Pen frustum = { view->colours.ink2, 0.8f, 1.0f, 0.0f, 0.0f };
  g_autoptr (GArray) beam = g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex));
  g_autoptr (GArray) outlines = g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex));
  g_autoptr (GArray) free_lines = g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex));

  if (view->projector.on && options->beam)
    add_corners (beam, view, view->projector.reach_m, &edge);
  if (view->projector.on && options->frustum)
    add_corners (free_lines, view, view->projector.reach_m, &frustum);
  if (view->projector.on && options->axis)
    add_axis (free_lines, view);
  if (options->sightlines)
    add_sightlines (free_lines, view);
  add_ghosts (free_lines, view);
  if (contrast)
    add_contrast (outlines, view, &frame->gl->room.hidden);
  start_blending ();
  /* They lie in the faces that they go round. */
  glEnable (GL_POLYGON_OFFSET_FILL);
  glPolygonOffset (-1.0f, -64.0f);
  draw (frame, outlines, false);
  glDisable (GL_POLYGON_OFFSET_FILL);
  draw (frame, beam, true);
  draw (frame, free_lines, false);
  end_blending ();
}
