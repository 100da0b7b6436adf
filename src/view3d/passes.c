/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One frame from its passes, and the shadow map that they share. */
#include <string.h>

#include "view3d/view3d-private.h"

#define SHADOW_PX 1024
#define QUICK_SHADOW_PX 512
#define SAMPLES 4
/* The pane's height for which the design gives its line widths. */
#define USUAL_HEIGHT_PX 900

/* A larger picture shows more of a shadow's edge. */
static int
shadow_px (const PlumbView3d *view, const PlumbTile *tile)
{
  if (view->options.light_pass)
    return QUICK_SHADOW_PX;
  return tile->full_height_px > 2400 ? 4 * SHADOW_PX : tile->full_height_px > 1200 ? 2 * SHADOW_PX : SHADOW_PX;
}

static void
multiply (const float a[16], const float b[16], float out[16])
{
  for (int c = 0; c < 4; c++)
    for (int r = 0; r < 4; r++)
      {
        float sum = 0.0f;
        for (int k = 0; k < 4; k++)
          sum += a[4 * k + r] * b[4 * c + k];
        out[4 * c + r] = sum;
      }
}

/* The camera's matrices, cut to the tile. */
static void
set_clip (PlumbFrame *frame)
{
  const PlumbTile *t = &frame->tile;
  float view[16], projection[16], crop[16] = { 0 }, both[16];
  float sx = (float) t->full_width_px / (float) t->width_px, sy = (float) t->full_height_px / (float) t->height_px;

  plumb_camera_matrices (&frame->view->camera, (double) t->full_width_px / t->full_height_px,
                         (double) frame->range[0], (double) frame->range[1], view, projection);
  crop[0] = sx;
  crop[5] = sy;
  crop[10] = crop[15] = 1.0f;
  crop[12] = sx - 1.0f - 2.0f * (float) t->x_px / (float) t->width_px;
  crop[13] = sy - 1.0f - 2.0f * (float) t->y_px / (float) t->height_px;
  multiply (projection, view, both);
  multiply (crop, both, frame->to_clip);
}

static int
usual_map_px (const PlumbView3d *view, const PlumbTile *tile)
{
  const PlumbGl *gl = view->gl;
  int wanted = shadow_px (view, tile);
  /* A finer map that is still true is better than a new coarse one. */
  bool true_still = gl->shadow.frame != 0 && gl->shadow_serial == view->model.serial && gl->shadow.width_px > wanted;
  return true_still ? gl->shadow.width_px : wanted;
}

/* A window's first picture. */
static bool
is_sketch (const PlumbView3d *view)
{
  return view->model.again != NULL && !view->gl->sketched;
}

bool
plumb_pass_frame (PlumbView3d *view, const PlumbTile *tile, PlumbFrame *frame, GError **error)
{
  double near_m, far_m;

  memset (frame, 0, sizeof *frame);
  frame->view = view;
  frame->gl = view->gl;
  frame->sketch = is_sketch (view);
  frame->tile = *tile;
  frame->pixel = MAX (1.0f, (float) tile->full_height_px / (float) USUAL_HEIGHT_PX);
  frame->mesh = plumb_model_mesh (&view->model, &view->camera, view->options.light_pass, &frame->mesh_serial);
  plumb_model_range (&view->model, &view->camera, &near_m, &far_m);
  frame->range[0] = (float) near_m;
  frame->range[1] = (float) far_m;
  set_clip (frame);
  plumb_projector_set (&view->projector, &view->model, usual_map_px (view, tile));
  PlumbSubject hidden = plumb_hidden_from (&view->camera, &view->model);
  plumb_ghosts_find (view);
  const PlumbSubject *before = &frame->gl->room.hidden;
  if (frame->gl->room.serial != frame->mesh_serial || hidden.kind != before->kind || hidden.index != before->index
      || hidden.sub != before->sub || frame->gl->room.ghosts != plumb_ghosts_key (view))
    plumb_gl_mesh_upload (&frame->gl->room, frame->mesh, view, &hidden);
  frame->gl->room.serial = frame->mesh_serial;
  return frame->sketch || plumb_pass_shadow (frame, error);
}

static void
upload_casters (PlumbView3d *view)
{
  PlumbMesh shade = { 0 };

  plumb_gl_mesh_upload_casters (&view->gl->caster, plumb_model_whole (&view->model));
  if (view->model.scene != NULL)
    plumb_mesh_build_shade (view->model.scene, &view->model.evaluation, &shade);
  plumb_gl_mesh_upload_casters (&view->gl->shade, &shade);
  plumb_mesh_clear (&shade);
}

bool
plumb_pass_shadow (PlumbFrame *frame, GError **error)
{
  PlumbView3d *view = frame->view;
  PlumbGl *gl = frame->gl;
  int size_px = usual_map_px (view, &frame->tile);

  if (gl->shadow.frame != 0 && gl->shadow.width_px == size_px && gl->shadow_serial == view->model.serial)
    return true;
  if (!plumb_gl_shadow_fit (&gl->shadow, size_px, error))
    return false;
  if (gl->caster.serial != view->model.serial)
    upload_casters (view);
  gl->caster.serial = gl->shadow_serial = view->model.serial;
  glBindFramebuffer (GL_FRAMEBUFFER, gl->shadow.frame);
  glViewport (0, 0, size_px, size_px);
  glEnable (GL_DEPTH_TEST);
  glClear (GL_DEPTH_BUFFER_BIT);
  if (!view->projector.on)
    return true;
  GLuint program = gl->program[PLUMB_PROGRAM_SHADOW];
  glUseProgram (program);
  plumb_projector_uniforms (&view->projector, program);
  plumb_gl_set_floats (program, "u_depth", 2, view->projector.clip);
  glEnable (GL_POLYGON_OFFSET_FILL);
  glPolygonOffset (1.6f, 4.0f);
  glBindVertexArray (gl->caster.array);
  glDrawElements (GL_TRIANGLES, gl->caster.n[0], GL_UNSIGNED_INT, NULL);
  /* The backs of people's bodies cast the same outline, and leave what is seen
   * of the people in front of them in the light. */
  glEnable (GL_CULL_FACE);
  glCullFace (GL_FRONT);
  glFrontFace (view->projector.rear ? GL_CW : GL_CCW); /* from behind all is mirrored */
  glBindVertexArray (gl->shade.array);
  glDrawElements (GL_TRIANGLES, gl->shade.n[0], GL_UNSIGNED_INT, NULL);
  glFrontFace (GL_CCW);
  glCullFace (GL_BACK);
  glDisable (GL_CULL_FACE);
  glDisable (GL_POLYGON_OFFSET_FILL);
  return true;
}

/* ---- the whole frame --------------------------------------------------------------- */

static void
start (const PlumbFrame *frame)
{
  const float *paper = frame->view->colours.paper;

  glBindFramebuffer (GL_FRAMEBUFFER, frame->gl->scene.frame);
  glViewport (0, 0, frame->tile.width_px, frame->tile.height_px);
  glDisable (GL_BLEND);
  glEnable (GL_DEPTH_TEST);
  glDepthFunc (GL_LEQUAL);
  glClearColor (paper[0], paper[1], paper[2], 1.0f);
  glClear (GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
}

static void
blit (GLuint from, GLuint to, const PlumbTile *tile, GLbitfield what)
{
  int w = tile->width_px, h = tile->height_px;

  glBindFramebuffer (GL_READ_FRAMEBUFFER, from);
  glBindFramebuffer (GL_DRAW_FRAMEBUFFER, to);
  glBlitFramebuffer (0, 0, w, h, 0, 0, w, h, what, GL_NEAREST);
}

/* A toolkit lays the picture over others: nothing of it may be see-through. */
static void
make_opaque (GLuint destination)
{
  glBindFramebuffer (GL_FRAMEBUFFER, destination);
  glColorMask (GL_FALSE, GL_FALSE, GL_FALSE, GL_TRUE);
  glClearColor (0.0f, 0.0f, 0.0f, 1.0f);
  glClear (GL_COLOR_BUFFER_BIT);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
}

static bool
draw_quickly (PlumbFrame *frame, GLuint destination, GError **error)
{
  PlumbGl *gl = frame->gl;

  if (!plumb_gl_target_fit (&gl->scene, frame->tile.width_px, frame->tile.height_px, 0, false, true, error))
    return false;
  start (frame);
  plumb_pass_room (frame);
  plumb_pass_volume (frame);
  plumb_pass_lines (frame);
  blit (gl->scene.frame, destination, &frame->tile, GL_COLOR_BUFFER_BIT);
  make_opaque (destination);
  return true;
}

static bool
draw_in_full (PlumbFrame *frame, GLuint destination, GError **error)
{
  PlumbGl *gl = frame->gl;
  int w = frame->tile.width_px, h = frame->tile.height_px;

  if (!plumb_gl_target_fit (&gl->scene, w, h, MIN (SAMPLES, gl->max_samples), false, true, error)
      || !plumb_gl_target_fit (&gl->still, w, h, 0, true, true, error))
    return false;
  start (frame);
  plumb_pass_room (frame);
  plumb_pass_volume (frame);
  plumb_pass_lines (frame);
  blit (gl->scene.frame, gl->still.frame, &frame->tile, GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  return plumb_pass_still (frame, destination, error);
}

/* What a toolkit does not expect to find set. */
static void
leave_clean (GLuint destination)
{
  glBindFramebuffer (GL_FRAMEBUFFER, destination);
  glUseProgram (0);
  glBindVertexArray (0);
  glBindBuffer (GL_ARRAY_BUFFER, 0);
  for (GLenum unit = 3; unit-- > 0;)
    {
      glActiveTexture (GL_TEXTURE0 + unit);
      glBindTexture (GL_TEXTURE_2D, 0);
    }
  glDisable (GL_DEPTH_TEST);
  glDisable (GL_BLEND);
  glDepthMask (GL_TRUE);
}

static void
enter_clean (void)
{
  glDisable (GL_SCISSOR_TEST);
  glDisable (GL_STENCIL_TEST);
  glDisable (GL_CULL_FACE);
  glDisable (GL_BLEND);
  glDepthMask (GL_TRUE);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
}

/* The lighter picture of a room with nothing pointed at. */
static bool
is_simple (const PlumbView3dOptions *options)
{
  return options->light_pass && !options->sightlines && !options->frustum && !options->axis
         && options->chosen.kind == PLUMB_RECORD_NONE && options->hovered.kind == PLUMB_RECORD_NONE;
}

static bool
make_programs (PlumbView3d *view, GError **error)
{
  PlumbProgram last = is_simple (&view->options) ? PLUMB_PROGRAM_LINE_BEAM : PLUMB_PROGRAM_OUTLINE;
  return plumb_gl_make_programs (view->gl, PLUMB_PROGRAM_PLAIN, last, error);
}

/* A window's first picture is the room without its light, since the driver
 * takes longer over the light's programs than over all else. */
static bool
draw_sketch (PlumbFrame *frame, GLuint destination, GError **error)
{
  PlumbGl *gl = frame->gl;

  if (!plumb_gl_target_fit (&gl->scene, frame->tile.width_px, frame->tile.height_px, 0, false, true, error))
    return false;
  start (frame);
  plumb_pass_room (frame);
  blit (gl->scene.frame, destination, &frame->tile, GL_COLOR_BUFFER_BIT);
  make_opaque (destination);
  gl->sketched = true;
  plumb_model_call_again (&frame->view->model);
  return true;
}

static bool
draw_lit (PlumbFrame *frame, GLuint destination, GError **error)
{
  plumb_pass_content (frame);
  bool done = frame->view->options.light_pass ? draw_quickly (frame, destination, error)
                                              : draw_in_full (frame, destination, error);
  return done && plumb_pass_outline (frame, destination, error);
}

bool
plumb_view3d_draw (PlumbView3d *view, const PlumbTile *tile, GLuint destination, GError **error)
{
  PlumbFrame frame;
  bool sketch = is_sketch (view);

  enter_clean ();
  bool done = (sketch || make_programs (view, error)) && plumb_pass_frame (view, tile, &frame, error)
              && (sketch ? draw_sketch (&frame, destination, error) : draw_lit (&frame, destination, error));
  leave_clean (destination);
  return done;
}

bool
plumb_pass_keep (PlumbGl *gl, const PlumbTile *tile, GLuint from, GError **error)
{
  if (!plumb_gl_target_fit (&gl->kept, tile->width_px, tile->height_px, 0, false, false, error))
    return false;
  blit (from, gl->kept.frame, tile, GL_COLOR_BUFFER_BIT);
  leave_clean (from);
  return true;
}

bool
plumb_pass_repeat (PlumbGl *gl, const PlumbTile *tile, GLuint destination)
{
  if (gl->kept.frame == 0 || gl->kept.width_px != tile->width_px || gl->kept.height_px != tile->height_px)
    return false;
  enter_clean ();
  blit (gl->kept.frame, destination, tile, GL_COLOR_BUFFER_BIT);
  leave_clean (destination);
  return true;
}

bool
plumb_view3d_draw_depth (PlumbView3d *view, const PlumbTile *tile, GLuint destination, float *far_m, GError **error)
{
  PlumbFrame frame;
  PlumbGl *gl = view->gl;

  enter_clean ();
  if (!plumb_gl_make_programs (gl, PLUMB_PROGRAM_PLAIN, PLUMB_PROGRAM_OUTLINE, error)
      || !plumb_pass_frame (view, tile, &frame, error)
      || !plumb_gl_target_fit (&gl->still, tile->width_px, tile->height_px, 0, true, true, error))
    return false;
  GLuint program = gl->program[PLUMB_PROGRAM_MASK];
  glBindFramebuffer (GL_FRAMEBUFFER, gl->still.frame);
  glViewport (0, 0, tile->width_px, tile->height_px);
  glEnable (GL_DEPTH_TEST);
  glClear (GL_DEPTH_BUFFER_BIT);
  glUseProgram (program);
  plumb_gl_set_matrix (program, "u_to_clip", frame.to_clip);
  glBindVertexArray (gl->room.array);
  glDrawElements (GL_TRIANGLES, gl->room.first[PLUMB_N_CLASSES - 1] + gl->room.n[PLUMB_N_CLASSES - 1],
                  GL_UNSIGNED_INT, NULL);
  glBindFramebuffer (GL_FRAMEBUFFER, destination);
  glDisable (GL_DEPTH_TEST);
  program = gl->program[PLUMB_PROGRAM_DEPTH];
  glUseProgram (program);
  plumb_gl_set_floats (program, "u_range", 2, frame.range);
  glBindTexture (GL_TEXTURE_2D, gl->still.depth);
  glBindVertexArray (gl->nothing);
  glDrawArrays (GL_TRIANGLES, 0, 3);
  *far_m = frame.range[1];
  leave_clean (destination);
  return true;
}
