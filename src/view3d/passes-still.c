/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is made from the finished frame: the still picture's softening, the
 * edges of the cut, and the outline of what is chosen. */
#include "view3d/view3d-private.h"

/* Radii of the softening, of the pane's height. */
#define NARROW_SHARE (1.0 / 200.0)
#define WIDE_SHARE (1.0 / 60.0)
/* Nearness is counted from here. */
#define NEAREST_M 0.3f
#define CHOSEN_PX 2.0f
#define HOVERED_PX 1.0f

static void
over_pane (const PlumbFrame *frame)
{
  glBindVertexArray (frame->gl->nothing);
  glDrawArrays (GL_TRIANGLES, 0, 3);
}

static void
look_at (GLuint program, const char *name, int unit, GLuint texture)
{
  plumb_gl_set_int (program, name, unit);
  glActiveTexture (GL_TEXTURE0 + (GLenum) unit);
  glBindTexture (GL_TEXTURE_2D, texture);
  glActiveTexture (GL_TEXTURE0);
}

/* 1 / z = (1 / near + 1 / far) / 2 - (1 / near - 1 / far) / 2 ndc. */
static void
set_nearness (const PlumbFrame *frame, GLuint program)
{
  float near = NEAREST_M / frame->range[0], far = NEAREST_M / frame->range[1];
  const float line[2] = { 0.5f * (near + far), -0.5f * (near - far) };
  plumb_gl_set_floats (program, "u_near", 2, line);
}

static void
blur (const PlumbFrame *frame, const PlumbGlTarget *from, const PlumbGlTarget *to, int x, int y)
{
  GLuint program = frame->gl->program[PLUMB_PROGRAM_BLUR];
  /* At half size. The wide one takes every second pixel. */
  int narrow = MAX (1, (int) lrint (frame->tile.full_height_px * NARROW_SHARE * 0.5));
  int wide = (int) lrint (frame->tile.full_height_px * WIDE_SHARE * 0.5), stride = MAX (1, (wide + 2) / 3);

  glBindFramebuffer (GL_FRAMEBUFFER, to->frame);
  glUseProgram (program);
  look_at (program, "u_level", 0, from->colour);
  plumb_gl_set_ints (program, "u_step", x, y);
  plumb_gl_set_ints (program, "u_radius", narrow, MAX (1, wide / stride));
  plumb_gl_set_int (program, "u_stride", stride);
  over_pane (frame);
}

static bool
soften (PlumbFrame *frame, GError **error)
{
  PlumbGl *gl = frame->gl;
  int w = (frame->tile.width_px + 1) / 2, h = (frame->tile.height_px + 1) / 2;
  GLuint program = gl->program[PLUMB_PROGRAM_LEVEL];

  if (!plumb_gl_target_fit (&gl->level, w, h, 0, true, false, error)
      || !plumb_gl_target_fit (&gl->blur, w, h, 0, true, false, error))
    return false;
  glViewport (0, 0, w, h);
  glBindFramebuffer (GL_FRAMEBUFFER, gl->level.frame);
  glUseProgram (program);
  look_at (program, "u_depth", 0, gl->still.depth);
  set_nearness (frame, program);
  over_pane (frame);
  blur (frame, &gl->level, &gl->blur, 1, 0);
  blur (frame, &gl->blur, &gl->level, 0, 1);
  return true;
}

bool
plumb_pass_still (PlumbFrame *frame, GLuint destination, GError **error)
{
  PlumbGl *gl = frame->gl;
  GLuint program = gl->program[PLUMB_PROGRAM_STILL];

  glDisable (GL_DEPTH_TEST);
  if (!soften (frame, error))
    return false;
  glBindFramebuffer (GL_FRAMEBUFFER, destination);
  glViewport (0, 0, frame->tile.width_px, frame->tile.height_px);
  glUseProgram (program);
  look_at (program, "u_picture", 0, gl->still.colour);
  look_at (program, "u_blurred", 1, gl->level.colour);
  look_at (program, "u_depth", 2, gl->still.depth);
  set_nearness (frame, program);
  plumb_gl_set_floats (program, "u_ink", 3, frame->view->colours.ink);
  plumb_gl_set_floats (program, "u_paper", 3, frame->view->colours.paper);
  plumb_gl_set_int (program, "u_edge_px", (int) frame->pixel);
  over_pane (frame);
  return true;
}

/* ---- what is chosen -------------------------------------------------------------------------- */

static void
draw_mask (PlumbFrame *frame, GLsizei first_hovered, GLsizei n)
{
  PlumbGl *gl = frame->gl;
  GLuint program = gl->program[PLUMB_PROGRAM_MASK];
  const float red[4] = { 1.0f, 0.0f, 0.0f, 0.0f }, green[4] = { 0.0f, 1.0f, 0.0f, 0.0f };

  glBindFramebuffer (GL_FRAMEBUFFER, gl->mask.frame);
  glViewport (0, 0, frame->tile.width_px, frame->tile.height_px);
  glClearColor (0.0f, 0.0f, 0.0f, 0.0f);
  glClear (GL_COLOR_BUFFER_BIT);
  glEnable (GL_BLEND);
  glBlendFunc (GL_ONE, GL_ONE);
  glUseProgram (program);
  plumb_gl_set_matrix (program, "u_to_clip", frame->to_clip);
  glBindVertexArray (gl->chosen.array);
  plumb_gl_set_floats (program, "u_colour", 4, red);
  glDrawElements (GL_TRIANGLES, first_hovered, GL_UNSIGNED_INT, NULL);
  plumb_gl_set_floats (program, "u_colour", 4, green);
  glDrawElements (GL_TRIANGLES, n - first_hovered, GL_UNSIGNED_INT,
                  (const void *) ((gsize) first_hovered * sizeof (uint32_t)));
}

bool
plumb_pass_outline (PlumbFrame *frame, GLuint destination, GError **error)
{
  PlumbGl *gl = frame->gl;
  const PlumbView3d *view = frame->view;
  GLuint program = gl->program[PLUMB_PROGRAM_OUTLINE];
  const float width_px[2] = { CHOSEN_PX * frame->pixel, HOVERED_PX * frame->pixel };
  GLsizei n;

  GLsizei first_hovered = plumb_gl_mesh_upload_chosen (&gl->chosen, &gl->room, frame->mesh, view, &n);
  if (n == 0)
    return true;
  if (!plumb_gl_target_fit (&gl->mask, frame->tile.width_px, frame->tile.height_px, 0, true, false, error))
    return false;
  glDisable (GL_DEPTH_TEST);
  draw_mask (frame, first_hovered, n);
  glBindFramebuffer (GL_FRAMEBUFFER, destination);
  glBlendFunc (GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
  glUseProgram (program);
  look_at (program, "u_mask", 0, gl->mask.colour);
  plumb_gl_set_floats (program, "u_accent", 3, view->colours.accent);
  plumb_gl_set_floats (program, "u_width_px", 2, width_px);
  plumb_gl_set_int (program, "u_reach", (int) ceilf (width_px[0]));
  over_pane (frame);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glDisable (GL_BLEND);
  return true;
}
