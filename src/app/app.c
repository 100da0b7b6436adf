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
  plumb_app_begin_keeping (app);
}

static void
make_window (PlumbApp *app)
{
  app->window = plumb_window_new (app->application, app->document, app->state);
  g_object_add_weak_pointer (G_OBJECT (app->window), (gpointer *) &app->window);
  g_signal_connect_swapped (app->window, "close-request", G_CALLBACK (close_cb), app);
  plumb_window_set_demo (app->window, app->demo != NULL);
  plumb_app_show_recent (app);
  plumb_app_update_actions (app);
  plumb_app_offer_copies (app);
  /* What went wrong now is said rather than what was left from before. */
  plumb_app_say_waiting (app);
}

static void
activate_cb (PlumbApp *app)
{
  if (app->window == NULL)
    {
      plumb_app_open_usual (app);
      make_window (app);
    }
  gtk_window_present (GTK_WINDOW (app->window));
}

static void
open_cb (PlumbApp *app, GFile **files)
{
  const char *path = g_file_peek_path (files[0]);
  gboolean opened = path != NULL && plumb_app_open (app, path);

  if (path == NULL)
    plumb_app_say (app, "The file could not be opened.", "It is not on this computer.", NULL);
  if (app->window == NULL)
    {
      /* Never on emptiness; what was said of the file stays. */
      if (!opened)
        plumb_app_open_demo (app);
      make_window (app);
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
