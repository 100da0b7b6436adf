/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Copies of work that was not saved are offered, never forced on anybody. One
 * that is offered is first put aside under a name of its own: else the next
 * change of the same job would write its copy over it.
 */
#include <glib/gstdio.h>

#include <string.h>

#include "app/app-private.h"

#define COPY ".plumbeam"
#define FROM ".from"
#define ASIDE "-left-"

typedef struct {
  PlumbApp *app;
  PlumbJobAutosave copy;
} Offer;

/* ---- saying ----------------------------------------------------------------------------- */

void
plumb_app_say (PlumbApp *app, const char *what, const char *where, const char *kept)
{
  const char *words[] = { what, where, kept };

  if (app->window != NULL)
    {
      plumb_trouble_say (plumb_window_trouble (app->window),
                         &(PlumbTroubleWords){ .what = what, .where = where, .kept = kept });
      return;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_free (app->waiting[i]);
      app->waiting[i] = g_strdup (words[i]);
    }
}

void
plumb_app_say_waiting (PlumbApp *app)
{
  if (app->waiting[0] != NULL)
    plumb_app_say (app, app->waiting[0], app->waiting[1], app->waiting[2]);
  for (gsize i = 0; i < G_N_ELEMENTS (app->waiting); i++)
    g_clear_pointer (&app->waiting[i], g_free);
}

void
plumb_app_hush (PlumbApp *app)
{
  if (app->window != NULL)
    plumb_trouble_hush (plumb_window_trouble (app->window));
}

char *
plumb_app_place_of (const char *path, const GError *error)
{
  g_autofree char *name = g_filename_display_name (path);

  return strstr (error->message, name) != NULL ? g_strdup (error->message)
                                               : g_strdup_printf ("%s: %s", name, error->message);
}

/* ---- copies put aside --------------------------------------------------------------------- */

static char *
with_ending (const char *path, const char *ending)
{
  g_autofree char *bare = g_strndup (path, strlen (path) - strlen (COPY));

  return g_strconcat (bare, ending, NULL);
}

static gboolean
is_aside (const char *path)
{
  g_autofree char *name = g_path_get_basename (path);

  return strstr (name, ASIDE) != NULL;
}

/* Where the copy is now; when it cannot be moved it stays where it was. */
static char *
put_aside (const PlumbJobAutosave *copy)
{
  if (is_aside (copy->path))
    return g_strdup (copy->path);
  g_autofree char *ending = g_strdup_printf (ASIDE "%" G_GINT64_FORMAT COPY, copy->saved_unix_us);
  g_autofree char *ending_from = g_strdup_printf (ASIDE "%" G_GINT64_FORMAT FROM, copy->saved_unix_us);
  g_autofree char *path = with_ending (copy->path, ending);
  g_autofree char *from = with_ending (copy->path, FROM), *path_from = with_ending (copy->path, ending_from);

  /* First where it comes from: without that it would look like an untitled one. */
  if (copy->original_path != NULL && g_rename (from, path_from) < 0)
    return g_strdup (copy->path);
  if (g_rename (copy->path, path) < 0)
    return g_strdup (copy->path);
  return g_steal_pointer (&path);
}

static void
remove_aside (const char *path)
{
  g_autofree char *from = with_ending (path, FROM);

  if (!is_aside (path))
    return;
  g_unlink (path);
  g_unlink (from);
}

void
plumb_app_drop_copies (const char *path)
{
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();

  for (guint i = 0; i < copies->len; i++)
    {
      const PlumbJobAutosave *copy = g_ptr_array_index (copies, i);
      if (g_strcmp0 (copy->original_path, path) == 0)
        remove_aside (copy->path);
    }
}

/* ---- offering ---------------------------------------------------------------------------------- */

static void
offer_free_cb (gpointer data)
{
  Offer *offer = data;

  g_free (offer->copy.path);
  g_free (offer->copy.original_path);
  g_free (offer);
}

static void
take_copy_cb (gpointer data)
{
  Offer *offer = data;
  g_autoptr (GError) error = NULL;

  if (plumb_document_recover (offer->app->document, &offer->copy, &error))
    {
      /* From now on the open job keeps its own copy. */
      if (plumb_document_autosave (offer->app->document, &error))
        remove_aside (offer->copy.path);
      return;
    }
  g_autofree char *where = plumb_app_place_of (offer->copy.path, error);
  plumb_app_say (offer->app, "The kept copy could not be opened.", where, "The open job stays as it is.");
}

static void
offer_copy (PlumbApp *app, const PlumbJobAutosave *copy, const char *what, const char *kept)
{
  Offer *offer = g_new0 (Offer, 1);
  g_autoptr (GDateTime) when = g_date_time_new_from_unix_local (copy->saved_unix_us / G_USEC_PER_SEC);
  g_autofree char *at = when != NULL ? g_date_time_format (when, "%-e %B, %H:%M") : g_strdup ("");
  g_autofree char *name = copy->original_path != NULL ? g_filename_display_name (copy->original_path)
                                                      : g_strdup ("A job that has no file yet");
  g_autofree char *where = g_strdup_printf ("%s, %s", name, at);

  offer->app = app;
  offer->copy.path = put_aside (copy);
  offer->copy.original_path = g_strdup (copy->original_path);
  offer->copy.saved_unix_us = copy->saved_unix_us;
  plumb_trouble_say (plumb_window_trouble (app->window), &(PlumbTroubleWords){
                                                             .what = what,
                                                             .where = where,
                                                             .kept = kept,
                                                             .button = "Open the copy",
                                                             .func = take_copy_cb,
                                                             .data = offer,
                                                             .destroy = offer_free_cb,
                                                         });
}

void
plumb_app_offer_left_behind (PlumbApp *app, const char *path)
{
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();

  for (guint i = 0; i < copies->len; i++) /* the newest of that path is the one just written */
    {
      const PlumbJobAutosave *copy = g_ptr_array_index (copies, i);
      if (g_strcmp0 (copy->original_path, path) != 0)
        continue;
      offer_copy (app, copy, "The job before had changes that were not saved.", "A copy with them is kept.");
      return;
    }
}

void
plumb_app_offer_copies (PlumbApp *app)
{
  g_autoptr (GPtrArray) copies = plumb_job_autosave_list ();

  if (copies->len > 0)
    offer_copy (app, g_ptr_array_index (copies, 0), "There is work that was not saved.",
                "The file itself is as it was last saved; the copy stays until the job is saved.");
}
