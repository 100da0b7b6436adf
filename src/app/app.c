/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/app.h"

#include <stdio.h>

#include "app/app-private.h"
#include "app/state.h"
#include "app/style.h"

#define APPLICATION_ID "org.plumbeam.Plumbeam"
#define EXIT_NO_DISPLAY 3

static gboolean
close_cb (PlumbApp *app)
{
  /* Nothing asks: what is not saved is kept and offered at the next start. */
  plumb_app_keep (app);
  plumb_window_remember (app->window);
  plumb_state_save (app->state);
  return GDK_EVENT_PROPAGATE;
}

static void
startup_cb (PlumbApp *app)
{
  plumb_style_install (gdk_display_get_default ());
  app->state = plumb_state_load ();
  app->document = plumb_document_new ();
  plumb_app_add_actions (app);
}

/* TRUE when the window is new. */
static gboolean
make_window (PlumbApp *app)
{
  if (app->window != NULL)
    return FALSE;
  app->window = plumb_window_new (app->application, app->document, app->state);
  g_object_add_weak_pointer (G_OBJECT (app->window), (gpointer *) &app->window);
  g_signal_connect_swapped (app->window, "close-request", G_CALLBACK (close_cb), app);
  plumb_app_begin_keeping (app);
  plumb_app_show_recent (app);
  plumb_app_update_actions (app);
  return TRUE;
}

static void
activate_cb (PlumbApp *app)
{
  if (make_window (app))
    {
      plumb_app_open_usual (app);
      plumb_app_offer_copies (app);
    }
  gtk_window_present (GTK_WINDOW (app->window));
}

static void
open_cb (PlumbApp *app, GFile **files)
{
  gboolean fresh = make_window (app);
  const char *path = g_file_peek_path (files[0]);

  if (path != NULL && plumb_app_open (app, path))
    {
      if (fresh)
        plumb_app_offer_copies (app);
    }
  else if (fresh)
    {
      /* Never on emptiness; what was said of the file stays. */
      g_autofree char *demo = plumb_app_demo_path ();
      if (demo != NULL)
        plumb_document_open (app->document, demo, NULL);
    }
  gtk_window_present (GTK_WINDOW (app->window));
}

static void
shutdown_cb (PlumbApp *app)
{
  plumb_app_end_keeping (app);
  g_clear_object (&app->chooser);
  g_clear_object (&app->document);
  g_clear_pointer (&app->state, g_key_file_unref);
  g_clear_pointer (&app->demo, g_free);
}

int
plumb_app_run (int argc, char **argv)
{
  PlumbApp app = { 0 };

  if (!gtk_init_check ())
    {
      fprintf (stderr, "plumbeam: there is no display to open a window on; see: plumbeam --help\n");
      return EXIT_NO_DISPLAY;
    }
  g_set_application_name ("Plumbeam");
  app.application = gtk_application_new (APPLICATION_ID, G_APPLICATION_HANDLES_OPEN);
  g_application_set_resource_base_path (G_APPLICATION (app.application), "/org/plumbeam/Plumbeam");
  g_signal_connect_swapped (app.application, "startup", G_CALLBACK (startup_cb), &app);
  g_signal_connect_swapped (app.application, "activate", G_CALLBACK (activate_cb), &app);
  g_signal_connect_swapped (app.application, "open", G_CALLBACK (open_cb), &app);
  g_signal_connect_swapped (app.application, "shutdown", G_CALLBACK (shutdown_cb), &app);
  int code = g_application_run (G_APPLICATION (app.application), argc, argv);
  g_object_unref (app.application);
  return code;
}
