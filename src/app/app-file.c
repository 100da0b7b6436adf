/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gstdio.h>

#include "app/app-private.h"

#define AUTOSAVE_S 30

/* ---- what is on the disc -------------------------------------------------------------- */

static void
read_stamp (const char *path, gint64 *stamp_us, gint64 *bytes)
{
  GStatBuf about;

  *stamp_us = *bytes = -1;
  if (path == NULL || g_stat (path, &about) < 0)
    return;
  *stamp_us = (gint64) about.st_mtim.tv_sec * G_USEC_PER_SEC + about.st_mtim.tv_nsec / 1000;
  *bytes = (gint64) about.st_size;
}

static void
read_again_cb (gpointer data)
{
  PlumbApp *app = data;
  g_autofree char *path = g_strdup (plumb_document_path (app->document));

  if (path != NULL)
    plumb_app_open (app, path);
}

static void
disc_changed_cb (PlumbApp *app)
{
  static const char kept[] = "What is open here stays as it was read.";
  static const char kept_changed[] = "What is open here stays, with its changes. Saving replaces the file; the other "
                                     "version is then kept beside it.";
  gint64 stamp_us, bytes;

  read_stamp (app->watched, &stamp_us, &bytes);
  /* Our own saving, or a file that is being replaced right now. */
  if (bytes < 0 || (stamp_us == app->stamp_us && bytes == app->stamp_bytes))
    return;
  app->stamp_us = stamp_us;
  app->stamp_bytes = bytes;
  g_autofree char *name = g_filename_display_name (app->watched);
  plumb_trouble_say (plumb_window_trouble (app->window),
                     &(PlumbTroubleWords){
                         .what = "The file was changed by another program.",
                         .where = name,
                         .kept = plumb_document_is_changed (app->document) ? kept_changed : kept,
                         .button = "Read it again",
                         .func = read_again_cb,
                         .data = app,
                     });
}

static void
watch (PlumbApp *app)
{
  const char *path = plumb_document_path (app->document);

  if (g_strcmp0 (path, app->watched) == 0)
    return;
  g_clear_object (&app->monitor);
  g_free (app->watched);
  app->watched = g_strdup (path);
  if (path == NULL)
    return;
  g_autoptr (GFile) file = g_file_new_for_path (path);
  /* A disc that cannot be watched is no trouble of the job. */
  app->monitor = g_file_monitor_file (file, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  if (app->monitor != NULL)
    g_signal_connect_swapped (app->monitor, "changed", G_CALLBACK (disc_changed_cb), app);
}

static void
filed_cb (PlumbApp *app)
{
  const char *path = plumb_document_path (app->document);
  gboolean moved = g_strcmp0 (path, app->watched) != 0;

  if (moved || !plumb_document_is_changed (app->document))
    read_stamp (path, &app->stamp_us, &app->stamp_bytes);
  watch (app);
  if (g_strcmp0 (path, app->demo) != 0)
    g_clear_pointer (&app->demo, g_free);
  if (app->window != NULL)
    plumb_window_set_demo (app->window, app->demo != NULL);
  plumb_app_update_actions (app);
}

/* ---- opening and saving --------------------------------------------------------------------- */

gboolean
plumb_app_open (PlumbApp *app, const char *path)
{
  g_autoptr (GError) error = NULL;
  gboolean changed = plumb_document_is_changed (app->document);
  g_autofree char *before = g_strdup (plumb_document_path (app->document));

  if (!plumb_document_open (app->document, path, &error))
    {
      g_autofree char *where = plumb_app_place_of (path, error);
      plumb_app_say (app, "The file could not be opened.", where,
                     app->window != NULL ? "The job that was open is still open."
                                         : "The file is as it was; another job is open in its place.");
      return FALSE;
    }
  plumb_app_hush (app);
  if (g_strcmp0 (plumb_document_path (app->document), app->demo) != 0)
    plumb_app_add_recent (app, plumb_document_path (app->document));
  if (changed)
    plumb_app_offer_left_behind (app, before);
  return TRUE;
}

void
plumb_app_open_usual (PlumbApp *app)
{
  g_autofree char *last = plumb_app_last_path (app);

  if (last == NULL || !plumb_app_open (app, last))
    plumb_app_open_demo (app);
}

void
plumb_app_open_demo (PlumbApp *app)
{
  app->demo = plumb_app_demo_path ();
  if (app->demo == NULL)
    return;
  char *canonical = g_canonicalize_filename (app->demo, NULL);
  g_free (app->demo);
  app->demo = canonical;
  if (!plumb_app_open (app, app->demo))
    g_clear_pointer (&app->demo, g_free);
}

gboolean
plumb_app_save (PlumbApp *app, const char *path)
{
  g_autoptr (GError) error = NULL;

  if (!plumb_document_save (app->document, path, &error))
    {
      const char *target = path != NULL ? path : plumb_document_path (app->document);
      g_autofree char *where = plumb_app_place_of (target != NULL ? target : "", error);
      plumb_app_say (app, "The job could not be saved.", where, "It is still open, and the file is as it was.");
      return FALSE;
    }
  plumb_app_hush (app);
  plumb_app_drop_copies (plumb_document_path (app->document));
  plumb_app_add_recent (app, plumb_document_path (app->document));
  return TRUE;
}

/* ---- keeping what is not saved ------------------------------------------------------------------ */

void
plumb_app_keep (PlumbApp *app)
{
  g_autoptr (GError) error = NULL;

  if (plumb_document_autosave (app->document, &error))
    {
      app->autosave_troubled = FALSE;
      return;
    }
  g_message ("%s", error->message);
  if (!app->autosave_troubled)
    plumb_app_say (app, "A copy of the unsaved work could not be written.", error->message,
                   "Save the job to keep it.");
  app->autosave_troubled = TRUE;
}

static gboolean
autosave_cb (gpointer data)
{
  plumb_app_keep (data);
  return G_SOURCE_CONTINUE;
}

void
plumb_app_begin_keeping (PlumbApp *app)
{
  g_signal_connect_swapped (app->document, "filed", G_CALLBACK (filed_cb), app);
  g_signal_connect_swapped (app->document, "changed", G_CALLBACK (plumb_app_update_actions), app);
  app->stamp_us = app->stamp_bytes = -1;
  app->autosave_timer = g_timeout_add_seconds (AUTOSAVE_S, autosave_cb, app);
}

void
plumb_app_end_keeping (PlumbApp *app)
{
  g_clear_handle_id (&app->autosave_timer, g_source_remove);
  g_clear_object (&app->monitor);
  g_clear_pointer (&app->watched, g_free);
}
