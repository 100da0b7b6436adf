/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d-private.h"

#include <gio/gio.h>
#include <string.h>

G_DEFINE_QUARK (plumb-view3d-error-quark, plumb_view3d_error)

static const char *
head (void)
{
  return epoxy_is_desktop_gl () ? "#version 330 core\n"
                                : "#version 300 es\nprecision highp float;\nprecision highp int;\n";
}

/* The text with numbers, as the driver's complaint counts. */
static void
log_source (const char *name, const char *text, const char *complaint)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GString *numbered = g_string_new (NULL);

  for (guint i = 0; lines[i] != NULL; i++)
    g_string_append_printf (numbered, "%4u  %s\n", i + 1, lines[i]);
  g_message ("shader %s: %s\n%s", name, complaint, numbered->str);
  g_string_free (numbered, TRUE);
}

static GLuint
compile (GLenum stage, const char *name, GError **error)
{
  g_autofree char *path = g_strconcat ("/org/plumbeam/Plumbeam/shaders/", name, NULL);
  g_autoptr (GBytes) bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);

  if (bytes == NULL)
    return 0;
  g_autofree char *text = g_strconcat (head (), (const char *) g_bytes_get_data (bytes, NULL), NULL);
  const char *source = text;
  GLuint shader = glCreateShader (stage);
  GLint fine = 0;
  glShaderSource (shader, 1, &source, NULL);
  glCompileShader (shader);
  glGetShaderiv (shader, GL_COMPILE_STATUS, &fine);
  if (fine)
    return shader;
  char complaint[2048] = "";
  glGetShaderInfoLog (shader, sizeof complaint, NULL, complaint);
  log_source (name, text, complaint);
  glDeleteShader (shader);
  g_set_error (error, PLUMB_VIEW3D_ERROR, 1, "the graphics driver does not take the shader %s", name);
  return 0;
}

static GLuint
link_program (const char *name, GError **error)
{
  g_autofree char *vertex_name = g_strconcat (name, ".vert", NULL), *fragment_name = g_strconcat (name, ".frag", NULL);
  GLuint vertex = compile (GL_VERTEX_SHADER, vertex_name, error);
  GLuint fragment = vertex != 0 ? compile (GL_FRAGMENT_SHADER, fragment_name, error) : 0;
  GLuint program = 0;

  if (fragment != 0)
    {
      GLint fine = 0;
      program = glCreateProgram ();
      glAttachShader (program, vertex);
      glAttachShader (program, fragment);
      glLinkProgram (program);
      glGetProgramiv (program, GL_LINK_STATUS, &fine);
      if (!fine)
        {
          char complaint[2048] = "";
          glGetProgramInfoLog (program, sizeof complaint, NULL, complaint);
          g_message ("shaders %s: %s", name, complaint);
          glDeleteProgram (program);
          program = 0;
          g_set_error (error, PLUMB_VIEW3D_ERROR, 1, "the graphics driver does not join the shaders %s", name);
        }
    }
  glDeleteShader (vertex);
  glDeleteShader (fragment);
  return program;
}

bool
plumb_gl_make_programs (PlumbView3d *view, GError **error)
{
  static const char *const names[PLUMB_N_PROGRAMS] = { "room", "depth", "lines", "finish" };

  for (int i = 0; i < PLUMB_N_PROGRAMS; i++)
    {
      view->program[i] = link_program (names[i], error);
      if (view->program[i] == 0)
        return false;
    }
  return true;
}

void
plumb_gl_matrix (GLuint program, const char *name, const float matrix[16])
{
  glUniformMatrix4fv (glGetUniformLocation (program, name), 1, GL_FALSE, matrix);
}

void
plumb_gl_float (GLuint program, const char *name, double value)
{
  glUniform1f (glGetUniformLocation (program, name), (float) value);
}

void
plumb_gl_vec2 (GLuint program, const char *name, double x, double y)
{
  glUniform2f (glGetUniformLocation (program, name), (float) x, (float) y);
}

void
plumb_gl_vec3 (GLuint program, const char *name, const float v[3])
{
  glUniform3fv (glGetUniformLocation (program, name), 1, v);
}

void
plumb_gl_point (GLuint program, const char *name, PlumbVec3 v)
{
  glUniform3f (glGetUniformLocation (program, name), (float) v.x, (float) v.y, (float) v.z);
}

void
plumb_gl_texture (GLuint program, const char *name, int unit, GLenum target, GLuint texture)
{
  glActiveTexture ((GLenum) (GL_TEXTURE0 + unit));
  glBindTexture (target, texture);
  glUniform1i (glGetUniformLocation (program, name), unit);
}
