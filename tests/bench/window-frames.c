/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the window costs in time, for window-frames.py.
 *
 *   window-frames empty            an empty window of the same size
 *   window-frames job FILE         the program's window
 *       prints `painted` and its processor time, ms, after the first frame, and ends
 *   window-frames watch FILE       the program's window, kept open
 *       SIGUSR1 forgets, SIGTERM prints what every frame since took from
 *       the flushing of input to the end of painting, ms by the clock and ms
 *       of processor time, and ends
 */
#include <glib-unix.h>
#include <gtk/gtk.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/app.h"

static GArray *frames_ms; /* double: by the clock, of processor time */
static gint64 flushed_us;
static double flushed_ms; /* of processor time */
static gboolean watching;

static double
processor_ms (void)
{
  struct timespec used;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &used);
  return (double) used.tv_sec * 1e3 + (double) used.tv_nsec / 1e6;
}

/* Runs before the toolkit's own handler, which gives the events out. */
static gboolean
flush_hook (G_GNUC_UNUSED GSignalInvocationHint *hint, G_GNUC_UNUSED guint n, G_GNUC_UNUSED const GValue *values,
            G_GNUC_UNUSED gpointer data)
{
  flushed_us = g_get_monotonic_time ();
  flushed_ms = processor_ms ();
  return TRUE;
}

static void
painted_cb (void)
{
  if (!watching)
    {
      printf ("painted %.1f\n", processor_ms ());
      fflush (stdout);
      _Exit (0);
    }
  if (flushed_us != 0)
    {
      double took[2] = { (double) (g_get_monotonic_time () - flushed_us) / 1e3, processor_ms () - flushed_ms };
      g_array_append_vals (frames_ms, took, 2);
    }
  flushed_us = 0;
}

static gboolean
find_window_cb (G_GNUC_UNUSED gpointer data)
{
  GListModel *windows = gtk_window_get_toplevels ();
  g_autoptr (GtkWidget) window = g_list_model_get_item (windows, 0);
  GdkFrameClock *clock = window != NULL ? gtk_widget_get_frame_clock (window) : NULL;

  if (clock == NULL)
    return G_SOURCE_CONTINUE;
  g_signal_add_emission_hook (g_signal_lookup ("flush-events", GDK_TYPE_FRAME_CLOCK), 0, flush_hook, NULL, NULL);
  g_signal_connect (clock, "after-paint", G_CALLBACK (painted_cb), NULL);
  return G_SOURCE_REMOVE;
}

static gboolean
forget_cb (G_GNUC_UNUSED gpointer data)
{
  g_array_set_size (frames_ms, 0);
  return G_SOURCE_CONTINUE;
}

static gboolean
print_cb (G_GNUC_UNUSED gpointer data)
{
  for (guint i = 0; i + 1 < frames_ms->len; i += 2)
    printf ("%.3f %.3f\n", g_array_index (frames_ms, double, i), g_array_index (frames_ms, double, i + 1));
  fflush (stdout);
  _Exit (0);
}

static void
activate_cb (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_present (GTK_WINDOW (window));
}

static int
run_empty (void)
{
  g_autoptr (GtkApplication) application = gtk_application_new ("org.plumbeam.Bench", G_APPLICATION_NON_UNIQUE);

  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), NULL);
  return g_application_run (G_APPLICATION (application), 0, NULL);
}

int
main (int argc, char **argv)
{
  gboolean empty = argc == 2 && strcmp (argv[1], "empty") == 0;

  watching = argc == 3 && strcmp (argv[1], "watch") == 0;
  if (!empty && !watching && !(argc == 3 && strcmp (argv[1], "job") == 0))
    {
      fprintf (stderr, "usage: window-frames empty | job FILE | watch FILE\n");
      return 2;
    }
  frames_ms = g_array_new (FALSE, FALSE, sizeof (double));
  if (!gtk_init_check ())
    return 3;
  /* The window is looked for, since the program's own makes it by itself. */
  g_timeout_add (1, find_window_cb, NULL);
  g_unix_signal_add (SIGUSR1, forget_cb, NULL);
  g_unix_signal_add (SIGTERM, print_cb, NULL);
  if (empty)
    return run_empty ();
  char *words[] = { argv[0], argv[2], NULL };
  return plumb_app_run (2, words);
}
