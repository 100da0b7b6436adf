/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-menu.h"

#include "app/window.h"

/* Longest side of a saved picture, unless the pane itself has more. */
#define SAVED_SIDE_PX 1920

struct PlumbView3dMenu {
  GtkWidget *pane;
  PlumbView3dArea *area;
  GSimpleActionGroup *group;
  PlumbView3dShown shown;
  GtkFileChooserNative *chooser; /* while one is open */
};

/* ---- words of the actions ------------------------------------------------------------ */

static const char *const sightlines_words[] = {
  [PLUMB_SIGHTLINES_NONE] = "none",
  [PLUMB_SIGHTLINES_SEAT] = "seat",
  [PLUMB_SIGHTLINES_ALL] = "all",
};
static const char *const pattern_words[PLUMB_N_PATTERNS] = {
  [PLUMB_PATTERN_GRID] = "grid",   [PLUMB_PATTERN_LANDSCAPE] = "landscape", [PLUMB_PATTERN_TEXT] = "text",
  [PLUMB_PATTERN_WHITE] = "white", [PLUMB_PATTERN_BLACK] = "black",
};
#define IMAGE "image"

static int
find_word (const char *const *words, gsize n, const char *word)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (words[i], word))
      return (int) i;
  return -1;
}

static void
set_state (PlumbView3dMenu *menu, const char *action, const char *word)
{
  GAction *found = g_action_map_lookup_action (G_ACTION_MAP (menu->group), action);

  g_simple_action_set_state (G_SIMPLE_ACTION (found), g_variant_new_string (word));
}

/* ---- trouble ----------------------------------------------------------------------------- */

/* In the strip under the window's header. */
static void
say (PlumbView3dMenu *menu, const char *what, const char *where, const char *kept)
{
  GtkRoot *root = gtk_widget_get_root (menu->pane);
  PlumbTroubleWords words = { .what = what, .where = where, .kept = kept };

  g_message ("%s %s", what, where);
  if (PLUMB_IS_WINDOW (root))
    plumb_trouble_say (plumb_window_trouble (PLUMB_WINDOW (root)), &words);
}

/* ---- files ---------------------------------------------------------------------------------- */

gboolean
plumb_view3d_menu_throw_image (PlumbView3dMenu *menu, const char *path)
{
  g_autoptr (GError) error = NULL;
  PlumbContent content;

  if (!plumb_content_read (&content, path, &error))
    {
      g_autofree char *name = g_filename_display_basename (path);
      g_autofree char *where = g_strdup_printf ("%s: %s.", name, error->message);
      say (menu, "The image could not be thrown.", where, "The picture stays as it was.");
      return FALSE;
    }
  plumb_view3d_area_set_content (menu->area, &content);
  set_state (menu, "content", IMAGE);
  return TRUE;
}

gboolean
plumb_view3d_menu_save (PlumbView3dMenu *menu, const char *path)
{
  g_autoptr (GError) error = NULL;
  int width = MAX (gtk_widget_get_width (GTK_WIDGET (menu->area)), 1);
  int height = MAX (gtk_widget_get_height (GTK_WIDGET (menu->area)), 1);
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (menu->area));
  int side = CLAMP (MAX (width, height) * scale, SAVED_SIDE_PX, PLUMB_PICTURE_MAX_SIDE_PX);
  int width_px = MAX (1, side * width / MAX (width, height)),
      height_px = MAX (1, side * height / MAX (width, height));

  if (plumb_view3d_area_save (menu->area, path, width_px, height_px, &error))
    return TRUE;
  say (menu, "The picture could not be saved.", error->message, NULL);
  return FALSE;
}

static void
answered_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  PlumbView3dMenu *menu = data;
  g_autoptr (GFile) file = NULL;
  gboolean saving = gtk_file_chooser_get_action (GTK_FILE_CHOOSER (dialog)) == GTK_FILE_CHOOSER_ACTION_SAVE;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
  g_clear_object (&menu->chooser);
  const char *path = file != NULL ? g_file_peek_path (file) : NULL;
  if (path == NULL)
    return;
  if (saving)
    plumb_view3d_menu_save (menu, path);
  else
    plumb_view3d_menu_throw_image (menu, path);
}

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *const *patterns)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, name);
  for (; *patterns != NULL; patterns++)
    gtk_file_filter_add_suffix (filter, *patterns);
  gtk_file_chooser_add_filter (chooser, filter);
}

static void
choose (PlumbView3dMenu *menu, GtkFileChooserAction action, const char *title, const char *accept)
{
  static const char *const images[] = { "png", "jpg", "jpeg", NULL }, *const png[] = { "png", NULL };
  GtkRoot *root = gtk_widget_get_root (menu->pane);
  gboolean saving = action == GTK_FILE_CHOOSER_ACTION_SAVE;

  if (menu->chooser != NULL)
    return;
  menu->chooser
      = gtk_file_chooser_native_new (title, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, action, accept, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (menu->chooser), TRUE);
  add_filter (GTK_FILE_CHOOSER (menu->chooser), saving ? "PNG pictures" : "PNG and JPEG images",
              saving ? png : images);
  if (saving)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (menu->chooser), "room.png");
  g_signal_connect (menu->chooser, "response", G_CALLBACK (answered_cb), menu);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (menu->chooser));
}

/* ---- actions ----------------------------------------------------------------------------------- */

static void
flag_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbView3dMenu *menu = data;
  const char *name = g_action_get_name (G_ACTION (action));
  gboolean on = g_variant_get_boolean (value);

  g_simple_action_set_state (action, value);
  if (g_str_equal (name, "beam"))
    menu->shown.beam = on;
  else if (g_str_equal (name, "frustum"))
    menu->shown.frustum = on;
  else
    menu->shown.axis = on;
  plumb_view3d_area_show (menu->area, &menu->shown);
}

static void
sightlines_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbView3dMenu *menu = data;
  int which = find_word (sightlines_words, G_N_ELEMENTS (sightlines_words), g_variant_get_string (value, NULL));

  if (which < 0)
    return;
  g_simple_action_set_state (action, value);
  menu->shown.sightlines = (PlumbSightlines) which;
  plumb_view3d_area_show (menu->area, &menu->shown);
}

static void
content_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbView3dMenu *menu = data;
  const char *word = g_variant_get_string (value, NULL);
  int which = find_word (pattern_words, G_N_ELEMENTS (pattern_words), word);

  /* The state changes when there is an image. */
  if (g_str_equal (word, IMAGE))
    choose (menu, GTK_FILE_CHOOSER_ACTION_OPEN, "Throw an image", "_Throw");
  if (which < 0)
    return;
  g_simple_action_set_state (action, value);
  menu->shown.pattern = (PlumbPattern) which;
  plumb_view3d_area_set_content (menu->area, NULL);
  plumb_view3d_area_show (menu->area, &menu->shown);
}

static void
home_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbView3dMenu *menu = data;

  (void) action, (void) value;
  plumb_view3d_area_key (menu->area, GDK_KEY_Home, 0);
}

static void
save_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  choose (data, GTK_FILE_CHOOSER_ACTION_SAVE, "Save the picture", "_Save");
}

PlumbView3dMenu *
plumb_view3d_menu_new (GtkWidget *pane, PlumbView3dArea *area)
{
  PlumbView3dMenu *menu = g_new0 (PlumbView3dMenu, 1);
  static const GActionEntry entries[] = {
    { .name = "beam", .state = "true", .change_state = flag_changed_cb },
    { .name = "frustum", .state = "false", .change_state = flag_changed_cb },
    { .name = "axis", .state = "false", .change_state = flag_changed_cb },
    { .name = "sightlines", .parameter_type = "s", .state = "'none'", .change_state = sightlines_changed_cb },
    { .name = "content", .parameter_type = "s", .state = "'landscape'", .change_state = content_changed_cb },
    { .name = "home", .activate = home_cb },
    { .name = "save", .activate = save_cb },
  };

  menu->pane = pane;
  menu->area = area;
  menu->shown = (PlumbView3dShown){ .beam = TRUE, .pattern = PLUMB_PATTERN_LANDSCAPE };
  menu->group = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (menu->group), entries, G_N_ELEMENTS (entries), menu);
  gtk_widget_insert_action_group (pane, "view3d", G_ACTION_GROUP (menu->group));
  plumb_view3d_area_show (area, &menu->shown);
  return menu;
}

void
plumb_view3d_menu_free (PlumbView3dMenu *menu)
{
  if (menu == NULL)
    return;
  gtk_widget_insert_action_group (menu->pane, "view3d", NULL);
  g_clear_object (&menu->chooser);
  g_clear_object (&menu->group);
  g_free (menu);
}
