/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The passes of one frame: shadow map from the lens, room, lines, finish. */
#include "view3d-private.h"

#include <stddef.h>
#include <string.h>

#define SHADOW_FULL_PX 1024
#define SHADOW_LIGHT_PX 512
#define THROW_NEAR_M 0.15
#define THROW_FAR_M 60.0

/* Linear, matt (the look, 5). */
static const float albedo[PLUMB_N_MATERIALS][3] = {
  [PLUMB_MATERIAL_WALL] = { 0.88f, 0.85f, 0.79f },     [PLUMB_MATERIAL_FLOOR] = { 0.80f, 0.74f, 0.63f },
  [PLUMB_MATERIAL_CEILING] = { 0.88f, 0.85f, 0.79f },  [PLUMB_MATERIAL_TIMBER] = { 0.74f, 0.60f, 0.42f },
  [PLUMB_MATERIAL_RISER] = { 0.72f, 0.60f, 0.45f },    [PLUMB_MATERIAL_SEAT] = { 0.83f, 0.74f, 0.61f },
  [PLUMB_MATERIAL_SEAT_LEG] = { 0.24f, 0.24f, 0.24f }, [PLUMB_MATERIAL_PERSON] = { 0.47f, 0.44f, 0.50f },
  [PLUMB_MATERIAL_IRON] = { 0.27f, 0.27f, 0.27f },     [PLUMB_MATERIAL_SHEET_METAL] = { 0.62f, 0.62f, 0.62f },
  [PLUMB_MATERIAL_MACHINE] = { 0.93f, 0.93f, 0.93f },  [PLUMB_MATERIAL_LENS] = { 0.10f, 0.10f, 0.12f },
  [PLUMB_MATERIAL_SCREEN] = { 0.93f, 0.93f, 0.93f },   [PLUMB_MATERIAL_BORDER] = { 0.05f, 0.05f, 0.06f },
  [PLUMB_MATERIAL_OTHER] = { 0.72f, 0.70f, 0.66f },    [PLUMB_MATERIAL_CUT] = { 0.0f, 0.0f, 0.0f },
};

typedef struct {
  float view_projection[16], throw_matrix[16];
  int width_px, height_px;
} Frame;

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

/* Scale and shift of clip space for a tile of the pane. */
static void
take_tile (const float tile[4], float matrix[16])
{
  for (int c = 0; c < 4; c++)
    {
      matrix[4 * c] = matrix[4 * c] * tile[0] + matrix[4 * c + 3] * tile[2];
      matrix[4 * c + 1] = matrix[4 * c + 1] * tile[1] + matrix[4 * c + 3] * tile[3];
    }
}

/* ---- what belongs to the context ------------------------------------------------------- */

bool
plumb_view3d_realize (PlumbView3d *view, GError **error)
{
  GLint most = 0;

  if (view->realized)
    return true;
  if (epoxy_gl_version () < (epoxy_is_desktop_gl () ? 33 : 30))
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 3, "it needs OpenGL 3.3 or OpenGL ES 3.0, and this machine has %d.%d",
                   epoxy_gl_version () / 10, epoxy_gl_version () % 10);
      return false;
    }
  if (!plumb_gl_make_programs (view, error))
    {
      plumb_view3d_unrealize (view);
      return false;
    }
  glGetIntegerv (GL_MAX_SAMPLES, &most);
  view->most_samples = most >= 4 ? 4 : most >= 2 ? 2 : 0;
  glGenVertexArrays (1, &view->lines_array);
  glGenVertexArrays (1, &view->empty_array);
  glGenBuffers (1, &view->lines_buffer);
  view->new_mesh = view->new_whole = view->new_content = true;
  view->realized = true;
  return true;
}

void
plumb_view3d_unrealize (PlumbView3d *view)
{
  for (int i = 0; i < PLUMB_N_PROGRAMS; i++)
    {
      glDeleteProgram (view->program[i]);
      view->program[i] = 0;
    }
  plumb_gl_mesh_clear (&view->gl_mesh);
  plumb_gl_mesh_clear (&view->gl_whole);
  glDeleteVertexArrays (1, &view->lines_array);
  glDeleteVertexArrays (1, &view->empty_array);
  glDeleteBuffers (1, &view->lines_buffer);
  glDeleteTextures (1, &view->content_texture);
  view->lines_array = view->empty_array = view->lines_buffer = view->content_texture = 0;
  plumb_target_clear (&view->many);
  plumb_target_clear (&view->single);
  plumb_target_clear (&view->mask);
  plumb_target_clear (&view->shadow);
  view->realized = false;
}

static void
load_content (PlumbView3d *view)
{
  int width = view->content_w_px, height = view->content_h_px;
  GLint most = 2048;
  g_autofree uint8_t *pattern = view->content == NULL ? plumb_pattern_picture (view->pattern, &width, &height) : NULL;

  if (view->content_texture == 0)
    glGenTextures (1, &view->content_texture);
  glGetIntegerv (GL_MAX_TEXTURE_SIZE, &most);
  glBindTexture (GL_TEXTURE_2D, view->content_texture);
  glPixelStorei (GL_UNPACK_ALIGNMENT, 1);
  /* What is larger than the machine takes is thinned out. */
  int step = (MAX (width, height) + most - 1) / most;
  const uint8_t *from = pattern != NULL ? pattern : view->content;
  g_autofree uint8_t *thin = NULL;
  int w = width / step, h = height / step;
  if (step > 1)
    {
      thin = g_malloc ((gsize) w * (gsize) h * 4);
      for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++)
          memcpy (thin + ((gsize) y * (gsize) w + (gsize) x) * 4,
                  from + ((gsize) (y * step) * (gsize) width + (gsize) (x * step)) * 4, 4);
      from = thin;
    }
  glTexImage2D (GL_TEXTURE_2D, 0, GL_SRGB8_ALPHA8, w, h, 0, GL_RGBA, GL_UNSIGNED_BYTE, from);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glGenerateMipmap (GL_TEXTURE_2D);
  view->content_aspect = (float) width / (float) height;
  view->new_content = false;
}

static void
load (PlumbView3d *view)
{
  if (view->new_content)
    load_content (view);
  if (view->new_mesh && view->has_mesh)
    plumb_gl_mesh_load (&view->gl_mesh, &view->mesh);
  if (view->new_whole && view->has_whole)
    plumb_gl_mesh_load (&view->gl_whole, &view->whole);
  view->new_mesh = view->new_whole = false;
}

/* ---- passes -------------------------------------------------------------------------------- */

static void
draw_parts (const PlumbGlMesh *gl, const PlumbMesh *mesh, bool (*wanted) (const PlumbMeshPart *, const void *),
            const void *data)
{
  glBindVertexArray (gl->array);
  for (uint32_t i = 0; i < mesh->n_parts; i++)
    {
      /* Neighbours that are both wanted go in one call. */
      uint32_t first = mesh->parts[i].first, n = 0;
      while (i < mesh->n_parts && wanted (&mesh->parts[i], data) && mesh->parts[i].first == first + n)
        n += mesh->parts[i++].n;
      if (n > 0)
        {
          glDrawElements (GL_TRIANGLES, (GLsizei) n, GL_UNSIGNED_INT, (const void *) (first * sizeof (uint32_t)));
          i--;
        }
    }
}

static bool
throws_shadow (const PlumbMeshPart *part, G_GNUC_UNUSED const void *data)
{
  return part->shadows;
}

static bool
draw_shadow (PlumbView3d *view, const Frame *frame, GError **error)
{
  int size = view->options.light_pass ? SHADOW_LIGHT_PX : SHADOW_FULL_PX;
  GLuint program = view->program[PLUMB_PROGRAM_DEPTH];

  if (!plumb_target_make (&view->shadow, size, size, 0, true, error))
    return false;
  glBindFramebuffer (GL_FRAMEBUFFER, view->shadow.framebuffer);
  glViewport (0, 0, size, size);
  glDepthMask (GL_TRUE);
  glClearDepthf (1.0f);
  glClear (GL_DEPTH_BUFFER_BIT);
  if (!plumb_view3d_has_beam (view) || !view->has_whole)
    return true;
  glUseProgram (program);
  plumb_gl_matrix (program, "view_projection", frame->throw_matrix);
  glEnable (GL_POLYGON_OFFSET_FILL);
  glPolygonOffset (1.5f, 4.0f);
  draw_parts (&view->gl_whole, &view->whole, throws_shadow, NULL);
  glDisable (GL_POLYGON_OFFSET_FILL);
  return true;
}

static void
set_projector (PlumbView3d *view, GLuint program, const Frame *frame)
{
  const PlumbEvaluation *e = view->evaluation;
  bool thrown = view->options.thrown && plumb_view3d_has_beam (view);
  float correction[9] = { 1, 0, 0, 0, 1, 0, 0, 0, 1 };

  plumb_gl_texture (program, "throw_depth", 0, GL_TEXTURE_2D, view->shadow.depth);
  plumb_gl_texture (program, "content", 1, GL_TEXTURE_2D, view->content_texture);
  plumb_gl_float (program, "thrown", thrown ? 1.0 : 0.0);
  plumb_gl_matrix (program, "throw_matrix", frame->throw_matrix);
  plumb_gl_float (program, "shadow_step", 1.0 / view->shadow.width_px);
  plumb_gl_float (program, "white_share", fmax (view->options.white_share, 1e-6));
  plumb_gl_float (program, "black_share", view->options.black_share);
  if (!thrown)
    return;
  plumb_gl_point (program, "lens", e->beam.lens_m);
  plumb_gl_point (program, "forward", e->beam.axes.f);
  plumb_gl_float (program, "throw_scale", plumb_projector_scale (e));
  plumb_gl_float (program, "dims", e->target.rear ? 1.0 : 0.0);
  plumb_projector_content (e, correction);
  glUniformMatrix3fv (glGetUniformLocation (program, "panel_to_content"), 1, GL_FALSE, correction);
  PlumbRect rect = e->has_picture ? e->picture : e->wanted;
  double aspect = e->has_raw && rect.height_m > 0.0 ? rect.width_m / rect.height_m : e->beam.panel_aspect;
  double wider = aspect / (double) view->content_aspect;
  plumb_gl_vec2 (program, "letterbox", wider > 1.0 ? wider : 1.0, wider > 1.0 ? 1.0 : 1.0 / wider);
}

/* Whoever looks does not see the own head, nor the lens its own barrel. */
static bool
is_seen (const PlumbMeshPart *part, const void *data)
{
  const PlumbView3d *view = data;

  if (view->camera.kind == PLUMB_CAMERA_LENS)
    return part->subject.kind != PLUMB_RECORD_PLACE;
  return view->camera.kind != PLUMB_CAMERA_SEAT || part->subject.sub != view->camera.seat
         || (part->subject.kind != PLUMB_RECORD_SEAT && part->subject.kind != PLUMB_RECORD_ROW);
}

static void
draw_room (PlumbView3d *view, const Frame *frame)
{
  GLuint program = view->program[PLUMB_PROGRAM_ROOM];
  PlumbVec3 eye = plumb_camera_eye (&view->camera);
  PlumbVec3 way = plumb_vec3_unit (plumb_vec3_sub (eye, view->camera.target_m));
  PlumbVec3 right = plumb_vec3_unit (plumb_vec3_cross (plumb_vec3 (0, 0, 1), way));
  /* Over the viewer's right shoulder. */
  PlumbVec3 key = plumb_vec3_unit (plumb_vec3_along (plumb_vec3_along (way, right, 0.7), plumb_vec3 (0, 0, 1), 0.8));

  glUseProgram (program);
  plumb_gl_matrix (program, "view_projection", frame->view_projection);
  plumb_gl_point (program, "eye", eye);
  plumb_gl_point (program, "key_way", key);
  plumb_gl_float (program, "room_light", (double) view->colours.room_light);
  plumb_gl_vec3 (program, "cut_colour", view->colours.wall);
  glUniform3fv (glGetUniformLocation (program, "albedo"), PLUMB_N_MATERIALS, albedo[0]);
  set_projector (view, program, frame);
  draw_parts (&view->gl_mesh, &view->mesh, is_seen, view);
}

static void
draw_lines (PlumbView3d *view, const Frame *frame)
{
  GLuint program = view->program[PLUMB_PROGRAM_LINES];
  uint32_t n_lines, n_planes;
  g_autofree PlumbLineVertex *corners = plumb_view3d_lines (view, &n_lines, &n_planes);
  static const struct {
    GLint n;
    size_t at;
  } parts[] = { { 3, offsetof (PlumbLineVertex, position_m) },
                { 4, offsetof (PlumbLineVertex, tint) },
                { 1, offsetof (PlumbLineVertex, along_m) },
                { 1, offsetof (PlumbLineVertex, kind) } };

  if (n_lines + n_planes == 0)
    return;
  glUseProgram (program);
  plumb_gl_matrix (program, "view_projection", frame->view_projection);
  plumb_gl_matrix (program, "throw_matrix", frame->throw_matrix);
  plumb_gl_texture (program, "throw_depth", 0, GL_TEXTURE_2D, view->shadow.depth);
  glBindVertexArray (view->lines_array);
  glBindBuffer (GL_ARRAY_BUFFER, view->lines_buffer);
  glBufferData (GL_ARRAY_BUFFER, (GLsizeiptr) ((n_lines + n_planes) * sizeof *corners), corners, GL_STREAM_DRAW);
  for (GLuint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      glEnableVertexAttribArray (i);
      glVertexAttribPointer (i, parts[i].n, GL_FLOAT, GL_FALSE, sizeof *corners, (const void *) parts[i].at);
    }
  glEnable (GL_BLEND);
  /* The picture's alpha tells what is cut and stays as it is. */
  glBlendFuncSeparate (GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ONE);
  glDepthMask (GL_FALSE);
  glDrawArrays (GL_TRIANGLES, (GLint) n_lines, (GLsizei) n_planes);
  glDrawArrays (GL_LINES, 0, (GLsizei) n_lines);
  glDepthMask (GL_TRUE);
  glDisable (GL_BLEND);
}

static bool
is_of (const PlumbMeshPart *part, const void *data)
{
  const PlumbSubject *subject = data;

  return part->subject.kind == subject->kind && part->subject.index == subject->index
         && (subject->sub == PLUMB_NO_INDEX || part->subject.sub == PLUMB_NO_INDEX || part->subject.sub == subject->sub);
}

static bool
draw_mask (PlumbView3d *view, const Frame *frame, GError **error)
{
  GLuint program = view->program[PLUMB_PROGRAM_DEPTH];
  const PlumbSubject *subjects[2] = { &view->options.hovered, &view->options.chosen };
  const float level[2] = { 0.5f, 1.0f };

  if (!plumb_target_make (&view->mask, frame->width_px, frame->height_px, 0, false, error))
    return false;
  glBindFramebuffer (GL_FRAMEBUFFER, view->mask.framebuffer);
  glViewport (0, 0, frame->width_px, frame->height_px);
  glClearColor (0, 0, 0, 0);
  glClear (GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  /* Only what is seen: the picture's own depth stands in for that of the mask. */
  glBindFramebuffer (GL_READ_FRAMEBUFFER, view->single.framebuffer);
  glBlitFramebuffer (0, 0, frame->width_px, frame->height_px, 0, 0, frame->width_px, frame->height_px,
                     GL_DEPTH_BUFFER_BIT, GL_NEAREST);
  glBindFramebuffer (GL_FRAMEBUFFER, view->mask.framebuffer);
  glUseProgram (program);
  plumb_gl_matrix (program, "view_projection", frame->view_projection);
  glEnable (GL_POLYGON_OFFSET_FILL);
  glPolygonOffset (-2.0f, -8.0f);
  glDepthFunc (GL_LEQUAL);
  for (int k = 0; k < 2; k++)
    if (subjects[k]->kind != PLUMB_RECORD_NONE && subjects[k]->kind != PLUMB_RECORD_JOB)
      {
        glUniform4f (glGetUniformLocation (program, "plain"), level[k], 0, 0, 1);
        draw_parts (&view->gl_mesh, &view->mesh, is_of, subjects[k]);
      }
  glDisable (GL_POLYGON_OFFSET_FILL);
  return true;
}

static void
draw_finish (PlumbView3d *view, const Frame *frame)
{
  GLuint program = view->program[PLUMB_PROGRAM_FINISH];

  glDisable (GL_DEPTH_TEST);
  glUseProgram (program);
  plumb_gl_texture (program, "picture", 0, GL_TEXTURE_2D, view->single.colour);
  plumb_gl_texture (program, "depth", 1, GL_TEXTURE_2D, view->single.depth);
  plumb_gl_texture (program, "mask", 2, GL_TEXTURE_2D, view->mask.colour);
  plumb_gl_vec2 (program, "pixel", 1.0 / frame->width_px, 1.0 / frame->height_px);
  plumb_gl_vec2 (program, "planes", PLUMB_NEAR_M, PLUMB_FAR_M);
  plumb_gl_vec3 (program, "ink", view->colours.ink);
  plumb_gl_vec3 (program, "accent", view->colours.accent);
  plumb_gl_float (program, "softening", view->options.light_pass ? 0.0 : 1.0);
  double pane_px = frame->height_px * (double) view->tile[1];
  plumb_gl_vec2 (program, "radii", pane_px / 200.0, pane_px / 60.0);
  glBindVertexArray (view->empty_array);
  glDrawArrays (GL_TRIANGLES, 0, 3);
}

/* ---- one frame ---------------------------------------------------------------------------------- */

static void
clean_state (void)
{
  glDisable (GL_BLEND);
  glDisable (GL_SCISSOR_TEST);
  glDisable (GL_STENCIL_TEST);
  glDisable (GL_CULL_FACE);
  glColorMask (GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glEnable (GL_DEPTH_TEST);
  glDepthMask (GL_TRUE);
  glDepthFunc (GL_LEQUAL);
}

static bool
draw_picture (PlumbView3d *view, const Frame *frame, GError **error)
{
  int samples = view->options.light_pass ? 0 : view->most_samples;
  PlumbTarget *target = samples > 0 ? &view->many : &view->single;

  if (!plumb_target_make (&view->single, frame->width_px, frame->height_px, 0, false, error)
      || (samples > 0 && !plumb_target_make (&view->many, frame->width_px, frame->height_px, samples, false, error)))
    return false;
  glBindFramebuffer (GL_FRAMEBUFFER, target->framebuffer);
  glViewport (0, 0, frame->width_px, frame->height_px);
  glClearColor (view->colours.paper[0], view->colours.paper[1], view->colours.paper[2], 1.0f);
  glClear (GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  if (view->has_mesh)
    {
      draw_room (view, frame);
      draw_lines (view, frame);
    }
  if (samples == 0)
    return true;
  glBindFramebuffer (GL_READ_FRAMEBUFFER, view->many.framebuffer);
  glBindFramebuffer (GL_DRAW_FRAMEBUFFER, view->single.framebuffer);
  glBlitFramebuffer (0, 0, frame->width_px, frame->height_px, 0, 0, frame->width_px, frame->height_px,
                     GL_COLOR_BUFFER_BIT, GL_NEAREST);
  glBlitFramebuffer (0, 0, frame->width_px, frame->height_px, 0, 0, frame->width_px, frame->height_px,
                     GL_DEPTH_BUFFER_BIT, GL_NEAREST);
  return true;
}

bool
plumb_view3d_draw (PlumbView3d *view, double aspect, int width_px, int height_px, GError **error)
{
  Frame frame = { .width_px = width_px, .height_px = height_px };
  float eye_matrix[16], projection[16];
  GLint bound = 0;

  if (!view->realized)
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 4, "the 3D view is not ready");
      return false;
    }
  if (width_px < 1 || height_px < 1)
    return true;
  if (!plumb_view3d_ready_meshes (view))
    {
      g_set_error (error, PLUMB_VIEW3D_ERROR, 5, "there is not enough memory for the room");
      return false;
    }
  glGetIntegerv (GL_FRAMEBUFFER_BINDING, &bound);
  load (view);
  plumb_camera_matrices (&view->camera, aspect, PLUMB_NEAR_M, PLUMB_FAR_M, eye_matrix, projection);
  multiply (projection, eye_matrix, frame.view_projection);
  take_tile (view->tile, frame.view_projection);
  if (plumb_view3d_has_beam (view))
    plumb_projector_matrix (&view->evaluation->beam, THROW_NEAR_M, THROW_FAR_M, frame.throw_matrix);
  clean_state ();
  bool fine = draw_shadow (view, &frame, error) && draw_picture (view, &frame, error)
              && draw_mask (view, &frame, error);
  glBindFramebuffer (GL_FRAMEBUFFER, (GLuint) bound);
  glViewport (0, 0, width_px, height_px);
  if (fine)
    draw_finish (view, &frame);
  glUseProgram (0);
  glBindVertexArray (0);
  for (int unit = 2; unit >= 0; unit--)
    {
      glActiveTexture ((GLenum) (GL_TEXTURE0 + unit));
      glBindTexture (GL_TEXTURE_2D, 0);
    }
  return fine;
}

bool
plumb_view3d_render (PlumbView3d *view, int width_px, int height_px, GError **error)
{
  return plumb_view3d_draw (view, (double) width_px / MAX (height_px, 1), width_px, height_px, error);
}
