/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/header-words.h"

#include <glib/gstdio.h>

char *
plumb_header_title (PlumbDocument *document)
{
  const PlumbJob *job = plumb_scene_job (plumb_document_scene (document), 0);
  const char *path = plumb_document_path (document);

  if (job->title[0] != '\0')
    return g_strdup (job->title);
  return path != NULL ? g_filename_display_basename (path) : g_strdup ("New job");
}

char *
plumb_header_saved (GDateTime *saved, GDateTime *now)
{
  g_autoptr (GDateTime) yesterday = g_date_time_add_days (now, -1);
  const gboolean this_year = g_date_time_get_year (saved) == g_date_time_get_year (now);

  if (this_year && g_date_time_get_day_of_year (saved) == g_date_time_get_day_of_year (now))
    return g_date_time_format (saved, "saved %H:%M");
  if (g_date_time_get_year (saved) == g_date_time_get_year (yesterday)
      && g_date_time_get_day_of_year (saved) == g_date_time_get_day_of_year (yesterday))
    return g_strdup ("saved yesterday");
  return g_date_time_format (saved, this_year ? "saved %-e %B" : "saved %-e %B %Y");
}

static char *
file_words (PlumbDocument *document, gboolean demo)
{
  const char *path = plumb_document_path (document);
  GStatBuf about;

  if (plumb_document_is_changed (document))
    return g_strdup ("changed, not saved");
  if (demo)
    return g_strdup ("the demo");
  if (path == NULL)
    return g_strdup ("not saved");
  if (g_stat (path, &about) < 0)
    return g_strdup ("its file is gone");
  g_autoptr (GDateTime) saved = g_date_time_new_from_unix_local ((gint64) about.st_mtime);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  return saved != NULL ? plumb_header_saved (saved, now) : g_strdup ("saved");
}

char *
plumb_header_about (PlumbDocument *document, gboolean demo)
{
  const PlumbJob *job = plumb_scene_job (plumb_document_scene (document), 0);
  g_autofree char *file = file_words (document, demo);
  GString *about = g_string_new (job->client);

  if (about->len > 0)
    g_string_append (about, ", ");
  if (job->revision[0] != '\0')
    g_string_append_printf (about, "revision %s, ", job->revision);
  g_string_append (about, file);
  return g_string_free (about, FALSE);
}

char *
plumb_header_tooltip (const char *word, const char *name)
{
  return name != NULL ? g_strdup_printf ("%s: %s", word, name) : g_strdup (word);
}
