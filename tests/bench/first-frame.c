/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One window of 900 × 600 with OpenGL in it: `triangle` is the toolkit's bare
 * area with one triangle, `pane FILE` the 3D pane with a job. Prints a line
 * when the first frame with OpenGL in it is painted, and one with the memory
 * when all has rested for some seconds. first-frame.py runs and compares them.
 */
#include <epoxy/gl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/style.h"
#include "app/view3d-pane.h"

#define REST_MS 3000

static gboolean drawn, told;

/* ---- the bare area ------------------------------------------------------------------- */

static const char *const sources[]
    = { "#version 330 core\nvoid main () { vec2 p[3] = vec2[3] (vec2 (-.5, -.5), vec2 (.5, -.5), vec2 (0., .5));"
        " gl_Position = vec4 (p[gl_VertexID], 0., 1.); }",
        "#version 330 core\nout vec4 colour; void main () { colour = vec4 (.4, .2, .5, 1.); }" };

static void
realize_cb (GtkGLArea *area, GLuint names[2])
{
  gtk_gl_area_make_current (area);
  if (gtk_gl_area_get_error (area) != NULL)
    {
      fprintf (stderr, "first-frame: %s\n", gtk_gl_area_get_error (area)->message);
      exit (3);
    }
  names[0] = glCreateProgram ();
  for (int i = 0; i < 2; i++)
    {
      GLuint shader = glCreateShader (i == 0 ? GL_VERTEX_SHADER : GL_FRAGMENT_SHADER);
      glShaderSource (shader, 1, &sources[i], NULL);
      glCompileShader (shader);
      glAttachShader (names[0], shader);
    }
  glLinkProgram (names[0]);
  glGenVertexArrays (1, &names[1]);
}

static gboolean
render_cb (GtkGLArea *area, GdkGLContext *context, GLuint names[2])
{
  (void) area, (void) context;
  glClearColor (0.9f, 0.9f, 0.85f, 1.0f);
  glClear (GL_COLOR_BUFFER_BIT);
  glUseProgram (names[0]);
  glBindVertexArray (names[1]);
  glDrawArrays (GL_TRIANGLES, 0, 3);
  drawn = TRUE;
  return TRUE;
}

static GtkWidget *
bare_area (GLuint names[2])
{
  GtkWidget *area = gtk_gl_area_new ();
  gtk_gl_area_set_required_version (GTK_GL_AREA (area), 3, 3);
  gtk_gl_area_set_auto_render (GTK_GL_AREA (area), FALSE);
  g_signal_connect (area, "realize", G_CALLBACK (realize_cb), names);
  g_signal_connect (area, "render", G_CALLBACK (render_cb), names);
  return area;
}

/* ---- the pane --------------------------------------------------------------------------- */

static gboolean
pane_rendered_cb (GtkGLArea *area, GdkGLContext *context, gpointer unused)
{
  (void) area, (void) context, (void) unused;
  drawn = TRUE;
  return FALSE;
}

/* The pane makes its area after the window's first frame. */
static void
watch_pane (GtkWidget *pane)
{
  static gboolean watched;
  PlumbView3dArea *area = plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (pane));
  if (area == NULL || watched)
    return;
  watched = TRUE;
  g_signal_connect (area, "render", G_CALLBACK (pane_rendered_cb), NULL);
}

/* ---- measuring ----------------------------------------------------------------------------- */

static gboolean
rested_cb (gpointer unused)
{
  g_autofree char *status = NULL;
  (void) unused;
  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    exit (3);
  const char *peak = strstr (status, "VmHWM:"), *now = strstr (status, "VmRSS:");
  printf ("memory %ld %ld\n", strtol (now + 6, NULL, 10), strtol (peak + 6, NULL, 10));
  fflush (stdout);
  exit (0);
}

static void
painted_cb (void)
{
  if (!drawn || told)
    return;
  told = TRUE;
  printf ("painted %.1f\n", (double) clock () * 1000.0 / CLOCKS_PER_SEC);
  fflush (stdout);
  g_timeout_add (REST_MS, rested_cb, NULL);
}

int
main (int argc, char **argv)
{
  GLuint names[2];
  g_autoptr (GError) error = NULL;
  gboolean pane = argc == 3 && strcmp (argv[1], "pane") == 0;
  if (!pane && !(argc == 2 && strcmp (argv[1], "triangle") == 0))
    {
      fprintf (stderr, "usage: first-frame triangle | pane FILE\n");
      return 2;
    }
  gtk_init ();
  GtkWidget *window = gtk_window_new (), *child;
  g_autoptr (PlumbDocument) document = plumb_document_new ();
  if (pane)
    {
      plumb_style_install (gdk_display_get_default ());
      if (!plumb_document_open (document, argv[2], &error))
        {
          fprintf (stderr, "first-frame: %s\n", error->message);
          return 2;
        }
      child = plumb_view3d_pane_new (document);
    }
  else
    child = bare_area (names);
  gtk_window_set_default_size (GTK_WINDOW (window), 900, 600);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  if (pane)
    g_signal_connect_swapped (clock, "update", G_CALLBACK (watch_pane), child);
  g_signal_connect (clock, "after-paint", G_CALLBACK (painted_cb), NULL);
  while (TRUE)
    g_main_context_iteration (NULL, TRUE);
}
