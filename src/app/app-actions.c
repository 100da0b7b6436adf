/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/app-private.h"

/* ---- choosing a file --------------------------------------------------------------- */

static void
add_filters (GtkFileChooser *chooser)
{
  g_autoptr (GtkFileFilter) jobs = gtk_file_filter_new (), all = gtk_file_filter_new ();

  gtk_file_filter_set_name (jobs, "Plumbeam jobs");
  gtk_file_filter_add_pattern (jobs, "*.plumbeam");
  gtk_file_filter_set_name (all, "All files");
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (chooser, jobs);
  gtk_file_chooser_add_filter (chooser, all);
}

static char *
chosen_path (GtkFileChooserNative *chooser)
{
  g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser));

  return file != NULL ? g_file_get_path (file) : NULL;
}

static void
answered_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  PlumbApp *app = data;
  g_autofree char *path = response == GTK_RESPONSE_ACCEPT ? chosen_path (app->chooser) : NULL;
  gboolean saving = gtk_file_chooser_get_action (GTK_FILE_CHOOSER (dialog)) == GTK_FILE_CHOOSER_ACTION_SAVE;

  g_clear_object (&app->chooser);
  if (path == NULL)
    return;
  if (saving)
    plumb_app_save (app, path);
  else
    plumb_app_open (app, path);
}

static void
choose (PlumbApp *app, GtkFileChooserAction action, const char *title, const char *accept)
{
  const char *path = plumb_document_path (app->document);

  if (app->chooser != NULL)
    return;
  app->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (app->window), action, accept, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (app->chooser), TRUE);
  add_filters (GTK_FILE_CHOOSER (app->chooser));
  if (path != NULL && app->demo == NULL)
    {
      g_autoptr (GFile) file = g_file_new_for_path (path), folder = g_file_get_parent (file);
      gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (app->chooser), folder, NULL);
    }
  if (action == GTK_FILE_CHOOSER_ACTION_SAVE)
    {
      g_autofree char *name = path != NULL ? g_filename_display_basename (path) : g_strdup ("job.plumbeam");
      gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (app->chooser), name);
    }
  g_signal_connect (app->chooser, "response", G_CALLBACK (answered_cb), app);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (app->chooser));
}

/* ---- actions --------------------------------------------------------------------------- */

static void
new_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbApp *app = data;
  gboolean changed = plumb_document_is_changed (app->document);
  g_autofree char *before = g_strdup (plumb_document_path (app->document));

  (void) action, (void) value;
  plumb_document_clear (app->document);
  if (plumb_document_is_changed (app->document))
    {
      plumb_app_say (app, "A new job could not be begun.", "No copy of the unsaved work could be written.",
                     "The open job stays. Save it first.");
      return;
    }
  plumb_app_hush (app);
  if (changed)
    plumb_app_offer_left_behind (app, before);
}

static void
open_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  choose (data, GTK_FILE_CHOOSER_ACTION_OPEN, "Open a job", "_Open");
}

static void
open_path_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action;
  plumb_app_open (data, g_variant_get_bytestring (value));
}

static void
save_as_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  choose (data, GTK_FILE_CHOOSER_ACTION_SAVE, "Save the job as", "_Save");
}

static void
save_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbApp *app = data;

  /* The demo belongs to the program: it is saved under another name. */
  if (plumb_document_path (app->document) == NULL || app->demo != NULL)
    save_as_cb (action, value, data);
  else
    plumb_app_save (app, NULL);
}

static void
undo_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  plumb_document_undo (((PlumbApp *) data)->document);
}

static void
redo_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  plumb_document_redo (((PlumbApp *) data)->document);
}

static void
quit_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  gtk_window_close (GTK_WINDOW (((PlumbApp *) data)->window));
}

static const GActionEntry entries[] = {
  { .name = "new", .activate = new_cb },
  { .name = "open", .activate = open_cb },
  { .name = "open-path", .activate = open_path_cb, .parameter_type = "ay" },
  { .name = "save", .activate = save_cb },
  { .name = "save-as", .activate = save_as_cb },
  { .name = "undo", .activate = undo_cb },
  { .name = "redo", .activate = redo_cb },
  { .name = "quit", .activate = quit_cb },
};

static const struct {
  const char *action;
  const char *const keys[3];
} accelerators[] = {
  { "app.new", { "<Control>n" } },  { "app.open", { "<Control>o" } },
  { "app.save", { "<Control>s" } }, { "app.save-as", { "<Control><Shift>s" } },
  { "app.undo", { "<Control>z" } }, { "app.redo", { "<Control><Shift>z", "<Control>y" } },
  { "app.quit", { "<Control>q" } }, { "app.print", { "<Control>p" } },
  { "win.form", { "F9" } },         { "win.show", { "F11" } },
  { "win.show-both", { "<Shift>F11" } },
};

void
plumb_app_add_actions (PlumbApp *app)
{
  g_action_map_add_action_entries (G_ACTION_MAP (app->application), entries, G_N_ELEMENTS (entries), app);
  plumb_app_add_sheet_actions (app);
  for (gsize i = 0; i < G_N_ELEMENTS (accelerators); i++)
    gtk_application_set_accels_for_action (app->application, accelerators[i].action, accelerators[i].keys);
}

static void
enable (PlumbApp *app, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (app->application), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

void
plumb_app_update_actions (PlumbApp *app)
{
  enable (app, "undo", plumb_document_undo_name (app->document) != NULL);
  enable (app, "redo", plumb_document_redo_name (app->document) != NULL);
}
