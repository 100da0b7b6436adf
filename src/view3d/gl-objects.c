/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the renderer owns in a context. */
#include <string.h>

#include "view3d/view3d-private.h"

#define STRING(x) #x
#define MATERIAL(name, number) "#define " #name " " STRING (number) ".0\n"

/* As the shaders name them; held against the enumeration below. */
static const char materials[] = MATERIAL (FLOOR, 1) MATERIAL (TIMBER, 3) MATERIAL (RISER, 4) MATERIAL (PERSON, 7)
    MATERIAL (SCREEN, 12);
G_STATIC_ASSERT (PLUMB_MATERIAL_FLOOR == 1 && PLUMB_MATERIAL_TIMBER == 3 && PLUMB_MATERIAL_RISER == 4);
G_STATIC_ASSERT (PLUMB_MATERIAL_PERSON == 7);
G_STATIC_ASSERT (PLUMB_MATERIAL_SCREEN == 12 && PLUMB_N_MATERIALS == 16);

static const struct {
  const char *vertex, *fragment, *defines;
  bool projector;
} programs[PLUMB_N_PROGRAMS] = {
  [PLUMB_PROGRAM_PLAIN] = { "room.vert", "room.frag", "", false },
  [PLUMB_PROGRAM_BOARDS] = { "room.vert", "room.frag", "#define BOARDS\n", false },
  [PLUMB_PROGRAM_THROWN] = { "room.vert", "room.frag", "#define THROWN\n", true },
  [PLUMB_PROGRAM_BOARDS_THROWN] = { "room.vert", "room.frag", "#define BOARDS\n#define THROWN\n", true },
  [PLUMB_PROGRAM_CUT] = { "cut.vert", "cut.frag", "", false },
  [PLUMB_PROGRAM_SHADOW] = { "shadow.vert", "shadow.frag", "", true },
  [PLUMB_PROGRAM_VOLUME] = { "volume.vert", "volume.frag", "", true },
  [PLUMB_PROGRAM_LINE] = { "line.vert", "line.frag", "", false },
  [PLUMB_PROGRAM_LINE_BEAM] = { "line.vert", "line.frag", "#define BEAM\n", true },
  [PLUMB_PROGRAM_MASK] = { "plain.vert", "solid.frag", "", false },
  [PLUMB_PROGRAM_DEPTH] = { "pane.vert", "depth.frag", "", false },
  [PLUMB_PROGRAM_LEVEL] = { "pane.vert", "level.frag", "", false },
  [PLUMB_PROGRAM_BLUR] = { "pane.vert", "blur.frag", "", false },
  [PLUMB_PROGRAM_STILL] = { "pane.vert", "still.frag", "", false },
  [PLUMB_PROGRAM_OUTLINE] = { "pane.vert", "outline.frag", "", false },
};

static bool
is_new_enough (GError **error)
{
  int version = epoxy_gl_version (), least = epoxy_is_desktop_gl () ? 33 : 30;

  if (version >= least)
    return true;
  g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_CONTEXT, "OpenGL%s here is %d.%d, and %d.%d is needed.",
               epoxy_is_desktop_gl () ? "" : " ES", version / 10, version % 10, least / 10, least % 10);
  return false;
}

static void
make_volume (PlumbGl *gl)
{
  static const float corner[4][2] = { { -0.5f, -0.5f }, { 0.5f, -0.5f }, { 0.5f, 0.5f }, { -0.5f, 0.5f } };
  float ray[12][3];

  for (int i = 0; i < 4; i++)
    {
      const float *a = corner[i], *b = corner[(i + 1) % 4];
      const float face[3][3] = { { 0.0f, 0.0f, 0.0f }, { a[0], a[1], 1.0f }, { b[0], b[1], 1.0f } };
      memcpy (ray[3 * i], face, sizeof face);
    }
  glGenVertexArrays (1, &gl->volume_array);
  glGenBuffers (1, &gl->volume_vertices);
  glBindVertexArray (gl->volume_array);
  glBindBuffer (GL_ARRAY_BUFFER, gl->volume_vertices);
  glBufferData (GL_ARRAY_BUFFER, sizeof ray, ray, GL_STATIC_DRAW);
  glEnableVertexAttribArray (0);
  glVertexAttribPointer (0, 3, GL_FLOAT, GL_FALSE, 0, NULL);
}

static void
make_lines (PlumbGl *gl)
{
  static const struct {
    GLint n;
    gsize offset;
  } attribute[] = {
    { 3, G_STRUCT_OFFSET (PlumbLineVertex, from) },   { 3, G_STRUCT_OFFSET (PlumbLineVertex, to) },
    { 2, G_STRUCT_OFFSET (PlumbLineVertex, corner) }, { 4, G_STRUCT_OFFSET (PlumbLineVertex, colour) },
    { 3, G_STRUCT_OFFSET (PlumbLineVertex, style) },
  };

  glGenVertexArrays (1, &gl->line_array);
  glGenBuffers (1, &gl->line_vertices);
  glBindVertexArray (gl->line_array);
  glBindBuffer (GL_ARRAY_BUFFER, gl->line_vertices);
  for (GLuint i = 0; i < G_N_ELEMENTS (attribute); i++)
    {
      glEnableVertexAttribArray (i);
      glVertexAttribPointer (i, attribute[i].n, GL_FLOAT, GL_FALSE, sizeof (PlumbLineVertex),
                             (const void *) attribute[i].offset);
    }
  glBindVertexArray (0);
  glBindBuffer (GL_ARRAY_BUFFER, 0);
}

bool
plumb_gl_make_programs (PlumbGl *gl, PlumbProgram first, PlumbProgram last, GError **error)
{
  for (PlumbProgram i = first; i <= last; i++)
    {
      if (gl->program[i] != 0)
        continue;
      g_autofree char *defines = g_strconcat (materials, programs[i].defines, NULL);
      gl->program[i]
          = plumb_gl_program (programs[i].vertex, programs[i].fragment, defines, programs[i].projector, error);
      if (gl->program[i] == 0)
        return false;
    }
  return true;
}

bool
plumb_gl_new (PlumbGl **out, GError **error)
{
  if (!is_new_enough (error))
    return false;
  PlumbGl *gl = g_new0 (PlumbGl, 1);
  if (!plumb_gl_make_programs (gl, PLUMB_PROGRAM_PLAIN, PLUMB_PROGRAM_PLAIN, error)
      || !plumb_gl_make_programs (gl, PLUMB_PROGRAM_CUT, PLUMB_PROGRAM_CUT, error))
    {
      plumb_gl_free (gl);
      return false;
    }
  glGetIntegerv (GL_MAX_SAMPLES, &gl->max_samples);
  glGenVertexArrays (1, &gl->nothing);
  make_volume (gl);
  make_lines (gl);
  *out = gl;
  return true;
}

void
plumb_gl_free (PlumbGl *gl)
{
  for (int i = 0; i < PLUMB_N_PROGRAMS; i++)
    if (gl->program[i] != 0)
      glDeleteProgram (gl->program[i]);
  plumb_gl_mesh_clear (&gl->room);
  plumb_gl_mesh_clear (&gl->caster);
  plumb_gl_mesh_clear (&gl->shade);
  plumb_gl_mesh_clear (&gl->chosen);
  PlumbGlTarget *const targets[] = { &gl->shadow, &gl->scene, &gl->still, &gl->level, &gl->blur, &gl->mask,
                                   &gl->kept };
  for (gsize i = 0; i < G_N_ELEMENTS (targets); i++)
    plumb_gl_target_clear (targets[i]);
  const GLuint arrays[] = { gl->nothing, gl->volume_array, gl->line_array };
  const GLuint buffers[] = { gl->volume_vertices, gl->line_vertices };
  glDeleteVertexArrays (G_N_ELEMENTS (arrays), arrays);
  glDeleteBuffers (G_N_ELEMENTS (buffers), buffers);
  glDeleteTextures (1, &gl->content);
  g_free (gl);
}
