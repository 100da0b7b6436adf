/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include <string.h>

/* The entries of one command. Texts are taken as file names, that is as they
 * are: GLib would convert other strings from the locale's characters, and a
 * job is UTF-8 whatever the locale. */
static GOptionEntry *
entries_for (PlumbCliOptions *o, char ***rest, unsigned takes)
{
  const struct {
    unsigned only_with; /* 0: always */
    GOptionEntry entry;
  } all[] = {
    { PLUMB_OPTION_JSON, { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, "Print JSON", NULL } },
    { PLUMB_OPTION_CSV, { "csv", 0, 0, G_OPTION_ARG_NONE, &o->csv, "Print CSV", NULL } },
    { PLUMB_OPTION_STRICT,
      { "strict", 0, 0, G_OPTION_ARG_NONE, &o->strict, "End with 1 for what is tight or unknown too", NULL } },
    { PLUMB_OPTION_OUTPUT | PLUMB_OPTION_PICTURE,
      { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output, "File to write", "OUT" } },
    { PLUMB_OPTION_VIEW,
      { "view", 0, 0, G_OPTION_ARG_FILENAME, &o->view, "What is drawn: plan, side, picture or ceiling", "VIEW" } },
    { PLUMB_OPTION_VIEW,
      { "ask", 0, 0, G_OPTION_ARG_FILENAME, &o->ask,
        "What the plan says of every seat, and what the picture shows: all, hidden, angle, heights, look-up, off-axis, "
        "c-value, text, pixels, luminance, contrast or noise",
        "QUESTION" } },
    { PLUMB_OPTION_VIEW,
      { "seat", 0, 0, G_OPTION_ARG_FILENAME, &o->seat,
        "Seat from which the picture is hidden or seen, in place of the worst", "ID" } },
    { PLUMB_OPTION_VIEW,
      { "table", 0, 0, G_OPTION_ARG_FILENAME, &o->table, "Which table is written, in place of a drawing: seats",
        "TABLE" } },
    { PLUMB_OPTION_VIEW,
      { "light", 0, 0, G_OPTION_ARG_FILENAME, &o->light,
        "Light state that a table of seats tells the contrast in; the first that wants one if none is given",
        "STATE" } },
    { PLUMB_OPTION_PICTURE,
      { "from", 0, 0, G_OPTION_ARG_FILENAME, &o->from, "Where the eye is: room, front, lens or seat:ID", "PLACE" } },
    { PLUMB_OPTION_PICTURE,
      { "size", 0, 0, G_OPTION_ARG_FILENAME, &o->size, "Pixels, 1600x1000 if it is not given", "WxH" } },
    { PLUMB_OPTION_PICTURE,
      { "content", 0, 0, G_OPTION_ARG_FILENAME, &o->content,
        "What is thrown: a PNG or JPEG, or grid, landscape, text, white, black", "IMAGE" } },
    { PLUMB_OPTION_PICTURE,
      { "light", 0, 0, G_OPTION_ARG_FILENAME, &o->light, "The light state, or dark, which it is if none is given",
        "STATE" } },
    { PLUMB_OPTION_PICTURE,
      { "before", 0, 0, G_OPTION_ARG_FILENAME, &o->before,
        "Beside it how it was: an arrangement's id, uncorrected, or light:STATE", "WHAT" } },
    { PLUMB_OPTION_PICTURE, { "dark", 0, 0, G_OPTION_ARG_NONE, &o->dark, "The dark theme", NULL } },
    { PLUMB_OPTION_OUTPUT, { "paper", 0, 0, G_OPTION_ARG_FILENAME, &o->paper, "Paper: a4, a3 or letter", "PAPER" } },
    { PLUMB_OPTION_ONLY,
      { "only", 0, 0, G_OPTION_ARG_FILENAME, &o->only, "Which, with commas: survey, plan, side, picture, ceiling",
        "NAME,…" } },
    { 0,
      { "arrangement", 0, 0, G_OPTION_ARG_FILENAME, &o->arrangement, "Arrangement, in place of the current one",
        "ID" } },
    { 0,
      { "set", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &o->set,
        "Change a value for this run, such as places.t2.drop_m=0.11", "KEY=VALUE" } },
    { 0, { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, rest, NULL, "FILE" } },
  };
  GOptionEntry *entries = g_new0 (GOptionEntry, G_N_ELEMENTS (all) + 1);
  gsize n = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    if (all[i].only_with == 0 || (all[i].only_with & takes) != 0)
      entries[n++] = all[i].entry;
  return entries;
}

static bool
is_utf8 (const char *name, const char *text)
{
  if (text == NULL || g_utf8_validate (text, -1, NULL))
    return true;
  plumb_cli_complain ("%s: the text is not UTF-8", name);
  return false;
}

static bool
values_are_utf8 (const PlumbCliOptions *options)
{
  for (char **set = options->set; set != NULL && *set != NULL; set++)
    if (!is_utf8 ("--set", *set))
      return false;
  return is_utf8 ("--arrangement", options->arrangement) && is_utf8 ("--view", options->view)
         && is_utf8 ("--table", options->table) && is_utf8 ("--light", options->light)
         && is_utf8 ("--paper", options->paper) && is_utf8 ("--only", options->only)
         && is_utf8 ("--from", options->from) && is_utf8 ("--size", options->size)
         && is_utf8 ("--ask", options->ask) && is_utf8 ("--seat", options->seat)
         && is_utf8 ("--before", options->before);
}

static bool
take_file (PlumbCliOptions *options, char **rest, const char *command)
{
  guint n = rest != NULL ? g_strv_length (rest) : 0;
  if (n != 1)
    {
      plumb_cli_complain ("%s takes one job file, not %u; see: plumbeam %s --help", command, n, command);
      return false;
    }
  options->file = g_strdup (rest[0]);
  return true;
}

bool
plumb_cli_options_read (PlumbCliOptions *options, char **arguments, unsigned takes, const char *summary)
{
  g_auto (GStrv) rest = NULL;
  g_autofree char *usage = g_strdup_printf ("%s", arguments[0]);
  /* GLib takes the first for the program's name and shows it in the help. */
  g_autofree char *prgname = g_strdup_printf ("plumbeam %s", usage);
  g_set_prgname (prgname);
  g_autofree GOptionEntry *entries = entries_for (options, &rest, takes);
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_option_context_set_summary (context, summary);
  g_option_context_add_main_entries (context, entries, NULL);
  g_auto (GStrv) copy = g_strdupv (arguments);
  g_autoptr (GError) error = NULL;
  if (!g_option_context_parse_strv (context, &copy, &error))
    {
      plumb_cli_complain ("%s: %s", usage, error->message);
      return false;
    }
  if (options->json && options->csv)
    {
      plumb_cli_complain ("%s prints JSON or CSV, not both", usage);
      return false;
    }
  return take_file (options, rest, usage) && values_are_utf8 (options);
}

void
plumb_cli_options_clear (PlumbCliOptions *options)
{
  g_free (options->file);
  g_free (options->arrangement);
  g_free (options->output);
  g_free (options->view);
  g_free (options->table);
  g_free (options->light);
  g_free (options->paper);
  g_free (options->only);
  g_free (options->from);
  g_free (options->size);
  g_free (options->content);
  g_free (options->ask);
  g_free (options->seat);
  g_free (options->before);
  g_strfreev (options->set);
  *options = (PlumbCliOptions){ 0 };
}
