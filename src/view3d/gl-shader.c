/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gio/gio.h>

#include "view3d/gl-private.h"

#define FOLDER "/org/plumbeam/Plumbeam/shaders/"

static bool
add_file (GString *source, const char *name, GError **error)
{
  g_autofree char *path = g_strconcat (FOLDER, name, NULL);
  g_autoptr (GBytes) bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  if (bytes == NULL)
    return false;
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);
  g_string_append_len (source, text, (gssize) length);
  return true;
}

static char *
numbered (const char *source)
{
  GString *out = g_string_new (NULL);
  g_auto (GStrv) lines = g_strsplit (source, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    g_string_append_printf (out, "%4u %s\n", i + 1, lines[i]);
  return g_string_free (out, FALSE);
}

/* The first line of what the driver says, for a sentence. */
static char *
first_line (const char *log)
{
  const char *end = strchr (log, '\n');
  g_autofree char *line = end != NULL ? g_strndup (log, (gsize) (end - log)) : g_strdup (log);
  return g_utf8_make_valid (line[0] != '\0' ? line : "no reason given", -1);
}

static void
complain_shader (GLuint shader, const char *name, const char *source, GError **error)
{
  char log[2048] = "";
  glGetShaderInfoLog (shader, sizeof log, NULL, log);
  g_autofree char *text = numbered (source);
  g_message ("Shader %s does not compile:\n%s\n%s", name, text, log);
  g_autofree char *line = first_line (log);
  g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SHADER, "OpenGL does not take the shader %s: %s.", name,
               line);
}

static GLuint
compile (GLenum stage, const char *name, const char *defines, bool with_projector, GError **error)
{
  static const char core[] = "#version 330 core\n";
  static const char es[] = "#version 300 es\nprecision highp float;\nprecision highp int;\n";
  g_autoptr (GString) source = g_string_new (epoxy_is_desktop_gl () ? core : es);

  g_string_append (source, defines);
  if (!add_file (source, "common.glsl", error) || (with_projector && !add_file (source, "projector.glsl", error))
      || !add_file (source, name, error))
    return 0;
  GLuint shader = glCreateShader (stage);
  const char *text = source->str;
  GLint good = GL_FALSE;
  glShaderSource (shader, 1, &text, NULL);
  glCompileShader (shader);
  glGetShaderiv (shader, GL_COMPILE_STATUS, &good);
  if (good)
    return shader;
  complain_shader (shader, name, text, error);
  glDeleteShader (shader);
  return 0;
}

GLuint
plumb_gl_program (const char *vertex, const char *fragment, const char *defines, bool with_projector, GError **error)
{
  GLuint v = compile (GL_VERTEX_SHADER, vertex, defines, with_projector, error);
  if (v == 0)
    return 0;
  GLuint f = compile (GL_FRAGMENT_SHADER, fragment, defines, with_projector, error);
  if (f == 0)
    {
      glDeleteShader (v);
      return 0;
    }
  GLuint program = glCreateProgram ();
  GLint good = GL_FALSE;
  glAttachShader (program, v);
  glAttachShader (program, f);
  glLinkProgram (program);
  glDeleteShader (v);
  glDeleteShader (f);
  glGetProgramiv (program, GL_LINK_STATUS, &good);
  if (good)
    return program;
  char log[2048] = "";
  glGetProgramInfoLog (program, sizeof log, NULL, log);
  g_autofree char *line = first_line (log);
  g_message ("Shaders %s and %s do not link:\n%s", vertex, fragment, log);
  g_set_error (error, PLUMB_VIEW3D_ERROR, PLUMB_VIEW3D_ERROR_SHADER,
               "OpenGL does not link the shaders %s and %s: %s.", vertex, fragment, line);
  glDeleteProgram (program);
  return 0;
}

void
plumb_gl_set_int (GLuint program, const char *name, int value)
{
  glUniform1i (glGetUniformLocation (program, name), value);
}

void
plumb_gl_set_ints (GLuint program, const char *name, int x, int y)
{
  glUniform2i (glGetUniformLocation (program, name), x, y);
}

void
plumb_gl_set_float (GLuint program, const char *name, float value)
{
  glUniform1f (glGetUniformLocation (program, name), value);
}

/* A vector of n parts. */
void
plumb_gl_set_floats (GLuint program, const char *name, int n, const float *values)
{
  GLint at = glGetUniformLocation (program, name);

  if (n == 2)
    glUniform2fv (at, 1, values);
  else if (n == 3)
    glUniform3fv (at, 1, values);
  else
    glUniform4fv (at, 1, values);
}

void
plumb_gl_set_matrix (GLuint program, const char *name, const float values[16])
{
  glUniformMatrix4fv (glGetUniformLocation (program, name), 1, GL_FALSE, values);
}
