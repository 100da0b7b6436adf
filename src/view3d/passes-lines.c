/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn along light and sight: the beam's faces and edges, sightlines,
 * frustum and axis. All of it is hidden by what stands before it. */
#include <string.h>

#include "view3d/view3d-private.h"

#define BEAM_WIDTH_PX 0.9f
#define SIGHT_WIDTH_PX 1.1f
#define DASH_PX 4.0f

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
  const Pen edge = { view->colours.picture, 1.0f, BEAM_WIDTH_PX, 0.0f, 0.0f };
  const Pen frustum = { view->colours.ink2, 0.8f, 1.0f, 0.0f, 0.0f };
  g_autoptr (GArray) beam = g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex));
  g_autoptr (GArray) free_lines = g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex));

  if (view->projector.on && options->beam)
    add_corners (beam, view, view->projector.reach_m, &edge);
  if (view->projector.on && options->frustum)
    add_corners (free_lines, view, view->projector.reach_m, &frustum);
  if (view->projector.on && options->axis)
    add_axis (free_lines, view);
  if (options->sightlines)
    add_sightlines (free_lines, view);
  start_blending ();
  draw (frame, beam, true);
  draw (frame, free_lines, false);
  end_blending ();
}
