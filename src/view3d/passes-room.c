/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The room by its own light, and the picture thrown into it. */
#include <string.h>

#include "view3d/patterns-private.h"
#include "view3d/view3d-private.h"

/* Of the room's light that is left on the screen where the panel shines, when
 * nothing is known of the light: enough that black is not a hole. */
#define USUAL_BLACK 0.08f
#define WHITE 1.02f
#define BOUNCE 0.5f

/* Linear reflectances. */
static const float albedo[PLUMB_N_MATERIALS][3] = {
  [PLUMB_MATERIAL_WALL] = { 0.88f, 0.85f, 0.79f },     [PLUMB_MATERIAL_FLOOR] = { 0.80f, 0.74f, 0.63f },
  [PLUMB_MATERIAL_CEILING] = { 0.88f, 0.85f, 0.79f },  [PLUMB_MATERIAL_TIMBER] = { 0.74f, 0.60f, 0.42f },
  [PLUMB_MATERIAL_RISER] = { 0.72f, 0.60f, 0.45f },    [PLUMB_MATERIAL_SEAT] = { 0.83f, 0.74f, 0.61f },
  [PLUMB_MATERIAL_SEAT_LEG] = { 0.24f, 0.24f, 0.24f }, [PLUMB_MATERIAL_PERSON] = { 0.47f, 0.44f, 0.50f },
  [PLUMB_MATERIAL_IRON] = { 0.27f, 0.27f, 0.28f },     [PLUMB_MATERIAL_SHEET_METAL] = { 0.62f, 0.62f, 0.62f },
  [PLUMB_MATERIAL_MACHINE] = { 0.93f, 0.93f, 0.93f },  [PLUMB_MATERIAL_LENS] = { 0.06f, 0.06f, 0.08f },
  [PLUMB_MATERIAL_SCREEN] = { 0.93f, 0.93f, 0.93f },   [PLUMB_MATERIAL_BORDER] = { 0.07f, 0.07f, 0.09f },
  [PLUMB_MATERIAL_OTHER] = { 0.70f, 0.68f, 0.63f },
};

/* ---- content ----------------------------------------------------------------------------- */

static double
content_aspect (const PlumbView3d *view)
{
  return view->content != NULL ? (double) view->content_width_px / view->content_height_px
                               : (double) view->projector.picture_aspect;
}

void
plumb_pass_content (PlumbFrame *frame)
{
  PlumbView3d *view = frame->view;
  PlumbGl *gl = frame->gl;
  double aspect = content_aspect (view);
  int w = view->content_width_px, h = view->content_height_px, most_px;
  g_autofree uint8_t *rgba = NULL;

  if (!view->projector.on)
    return;
  bool reshaped = view->content == NULL && fabs (aspect / view->pattern_aspect - 1.0) > 0.002;
  if (gl->content != 0 && gl->content_serial == view->content_serial && !reshaped)
    return;
  glGetIntegerv (GL_MAX_TEXTURE_SIZE, &most_px);
  rgba = view->content != NULL ? plumb_content_fitted (view->content, &w, &h, most_px)
                               : plumb_pattern_draw (view->pattern, aspect, &w, &h);
  plumb_content_upload (gl, rgba, w, h);
  gl->content_serial = view->content_serial;
  view->pattern_aspect = aspect;
}

/* ---- the room -------------------------------------------------------------------------------- */

static PlumbVec3
towards_key (const PlumbEvaluation *e)
{
  PlumbVec3 up = { 0.0, 0.0, 0.72 };

  /* Over the right shoulder of whoever looks at the picture. */
  if (!e->target.valid)
    return plumb_vec3_unit (plumb_vec3 (0.45, -0.55, 0.72));
  return plumb_vec3_unit (plumb_vec3_along (plumb_vec3_along (up, e->target.frame.n, 0.55), e->target.frame.u, 0.45));
}

static void
set_vector (GLuint program, const char *name, PlumbVec3 v)
{
  const float f[3] = { (float) v.x, (float) v.y, (float) v.z };
  plumb_gl_set_floats (program, name, 3, f);
}

static void
set_glow (const PlumbFrame *frame, GLuint program)
{
  const PlumbView3d *view = frame->view;
  const PlumbEvaluation *e = &view->model.evaluation;
  const PlumbScreenResolved *target = &e->target;
  float glow[3] = { 0.0f, 0.0f, 0.0f };
  PlumbVec3 at = target->frame.origin_m;

  if (view->projector.on && view->options.thrown && target->valid)
    for (int k = 0; k < 3; k++)
      glow[k] = BOUNCE * WHITE * frame->gl->content_mean[k];
  plumb_gl_set_floats (program, "u_glow", 3, glow);
  set_vector (program, "u_glow_at", at);
  set_vector (program, "u_glow_normal", target->frame.n);
  plumb_gl_set_float (program, "u_glow_area_m2", (float) fmax (target->width_m * target->height_m, 0.01));
}

static void
set_room (const PlumbFrame *frame, GLuint program)
{
  const PlumbView3d *view = frame->view;
  float all = view->colours.room_light;
  const float light[3] = { 0.62f, 0.45f, all }, warm[3] = { 1.0f, 1.0f, 1.0f }, cool[3] = { 0.95f, 0.99f, 1.06f };

  glUseProgram (program);
  plumb_gl_set_matrix (program, "u_to_clip", frame->to_clip);
  glUniform3fv (glGetUniformLocation (program, "u_albedo"), PLUMB_N_MATERIALS, albedo[0]);
  set_vector (program, "u_key", towards_key (&view->model.evaluation));
  plumb_gl_set_floats (program, "u_room_light", 3, light);
  plumb_gl_set_floats (program, "u_tint", 3, all < 0.5f ? cool : warm);
  set_glow (frame, program);
}

static float
share (double value, float otherwise)
{
  return isfinite (value) ? (float) plumb_clamp (value, 0.0, 10.0) : otherwise;
}

static void
set_thrown (const PlumbFrame *frame, GLuint program)
{
  const PlumbView3d *view = frame->view;
  const PlumbProjector *projector = &view->projector;
  const PlumbView3dOptions *options = &view->options;
  double aspect = content_aspect (view), picture = (double) projector->picture_aspect;
  float white = share (options->white_share, 1.0f), black = share (options->black_share, 0.0f);
  const float half[2]
      = { (float) (0.5 * fmin (1.0, aspect / picture)), (float) (0.5 * fmin (1.0, picture / aspect)) };
  bool known = black > 0.0f;
  /* The machine alone gives 1 by definition; what black and white stand above
   * it is the room's doing on the screen. */
  const float screen[2] = { WHITE * fmaxf (white - black, 0.0f), known ? WHITE * black : 0.0f };
  const float thrown[4] = { WHITE, projector->reference, known ? 0.0f : USUAL_BLACK, projector->rear ? 1.0f : 0.0f };

  plumb_projector_uniforms (projector, program);
  plumb_gl_set_int (program, "u_shadow", 1);
  plumb_gl_set_int (program, "u_content", 2);
  glUniformMatrix3fv (glGetUniformLocation (program, "u_look_up"), 1, GL_FALSE, projector->look_up);
  plumb_gl_set_floats (program, "u_letterbox", 2, half);
  plumb_gl_set_floats (program, "u_throw", 4, thrown);
  plumb_gl_set_floats (program, "u_screen", 2, screen);
  plumb_gl_set_int (program, "u_taps", options->light_pass ? 1 : 5);
  plumb_gl_set_float (program, "u_texel", 1.0f / (float) frame->gl->shadow.width_px);
}

static void
set_cut (const PlumbFrame *frame, GLuint program)
{
  glUseProgram (program);
  plumb_gl_set_matrix (program, "u_to_clip", frame->to_clip);
  plumb_gl_set_floats (program, "u_colour", 3, frame->view->colours.wall);
}

void
plumb_pass_room (PlumbFrame *frame)
{
  PlumbGl *gl = frame->gl;
  bool thrown = frame->view->options.thrown && frame->view->projector.on && !frame->sketch;

  glActiveTexture (GL_TEXTURE2);
  glBindTexture (GL_TEXTURE_2D, gl->content);
  glActiveTexture (GL_TEXTURE1);
  glBindTexture (GL_TEXTURE_2D, gl->shadow.depth);
  glActiveTexture (GL_TEXTURE0);
  glBindVertexArray (gl->room.array);
  /* Bodies are closed: what is turned away lies behind their front. */
  glEnable (GL_CULL_FACE);
  for (int c = PLUMB_N_CLASSES - 1; c >= 0; c--)
    {
      bool lit = c == PLUMB_CLASS_THROWN || c == PLUMB_CLASS_BOARDS_THROWN;
      int which = lit && !thrown ? c - PLUMB_CLASS_THROWN : c;
      GLuint program = gl->program[frame->sketch && c != PLUMB_CLASS_CUT ? (int) PLUMB_PROGRAM_PLAIN : which];
      if (gl->room.n[c] == 0)
        continue;
      if (c == PLUMB_CLASS_CUT)
        set_cut (frame, program);
      else
        set_room (frame, program);
      if (lit && thrown)
        set_thrown (frame, program);
      glDrawElements (GL_TRIANGLES, gl->room.n[c], GL_UNSIGNED_INT,
                      (const void *) ((gsize) gl->room.first[c] * sizeof (uint32_t)));
    }
  glDisable (GL_CULL_FACE);
}
