/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What works on the table of seats, for the head of its pane. */
#include "seats-view-private.h"

#include "sign.h"
#include "style.h"
#include "window.h"

/* ---- order: the heads of columns cannot be reached by keyboard, this can -------------- */

static void
show_turn (PlumbSeatsView *self, gboolean descending)
{
  const char *name = descending ? "Greatest first" : "Least first";

  plumb_sign_set_kind (PLUMB_SIGN (gtk_button_get_child (GTK_BUTTON (self->turn))),
                       descending ? PLUMB_SIGN_DOWN : PLUMB_SIGN_UP);
  plumb_style_set_tooltip (self->turn, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->turn), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
plumb_seats_view_show_order (PlumbSeatsView *self, PlumbSeatColumn by, gboolean descending)
{
  guint at = 0;

  for (guint i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    if (self->column[i].id == by)
      at = i + 1;
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->order), at);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->turn), descending);
  self->filling = FALSE;
  gtk_widget_set_sensitive (self->turn, at > 0);
  show_turn (self, descending);
}

static void
order_chosen (PlumbSeatsView *self)
{
  const guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->order));
  const gboolean descending = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->turn));

  if (self->filling)
    return;
  gtk_column_view_sort_by_column (
      self->view, at == 0 || at > PLUMB_SEATS_VIEW_COLUMNS ? NULL : self->column[at - 1].column,
      descending ? GTK_SORT_DESCENDING : GTK_SORT_ASCENDING);
}

static void
add_order (PlumbSeatsView *self)
{
  const PlumbWords words = { 0 };
  GtkStringList *orders = gtk_string_list_new (NULL);

  gtk_string_list_append (orders, "worst first");
  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    {
      const PlumbSeatColumn id = self->column[i].id;
      /* Both kinds of brightness have one heading. */
      const gboolean twice = id == PLUMB_SEAT_LUMINANCE || id == PLUMB_SEAT_FOOT_LAMBERTS;
      g_autofree char *by = g_strdup_printf ("by %s%s%s", plumb_seat_column_info (id)->heading, twice ? ", " : "",
                                             twice ? plumb_seat_column_unit (id, words) : "");
      gtk_string_list_append (orders, by);
    }
  self->order = gtk_drop_down_new (G_LIST_MODEL (orders), NULL);
  self->turn = gtk_toggle_button_new ();
  gtk_button_set_child (GTK_BUTTON (self->turn), plumb_sign_new (PLUMB_SIGN_UP));
  gtk_widget_add_css_class (self->turn, "sign-button");
  gtk_widget_set_sensitive (self->turn, FALSE);
  show_turn (self, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->order), GTK_ACCESSIBLE_PROPERTY_LABEL, "Order of the seats",
                                  -1);
  g_signal_connect_swapped (self->order, "notify::selected", G_CALLBACK (order_chosen), self);
  g_signal_connect_swapped (self->turn, "toggled", G_CALLBACK (order_chosen), self);
}

/* ---- light state ------------------------------------------------------------------------- */

void
plumb_seats_view_show_state (PlumbSeatsView *self, uint32_t state)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  uint32_t n;
  const PlumbLightState *states = plumb_scene_light_state_records (scene, &n);

  if (state >= n || state == self->state)
    return;
  self->state = state;
  g_free (self->state_id);
  self->state_id = g_strdup (states[state].id);
  plumb_seats_view_refresh (self);
}

static void
light_chosen (PlumbSeatsView *self)
{
  if (!self->filling)
    plumb_seats_view_show_state (self, gtk_drop_down_get_selected (GTK_DROP_DOWN (self->light)));
}

static gboolean
same_strings (GListModel *had, GListModel *wanted)
{
  const guint n = g_list_model_get_n_items (wanted);

  if (g_list_model_get_n_items (had) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (had), i),
                   gtk_string_list_get_string (GTK_STRING_LIST (wanted), i))
        != 0)
      return FALSE;
  return TRUE;
}

void
plumb_seats_view_fill_states (PlumbSeatsView *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  uint32_t n;

  plumb_scene_light_state_records (scene, &n);
  self->state = self->state_id != NULL ? plumb_scene_find (scene, PLUMB_RECORD_LIGHT_STATE, self->state_id)
                                       : PLUMB_NO_INDEX;
  if (self->state == PLUMB_NO_INDEX)
    self->state = plumb_seat_table_usual_state (scene);
  for (uint32_t i = 0; i < n; i++)
    {
      g_autofree char *name = plumb_record_name (scene, PLUMB_RECORD_LIGHT_STATE, i);
      gtk_string_list_append (names, name);
    }
  self->filling = TRUE;
  if (!same_strings (gtk_drop_down_get_model (GTK_DROP_DOWN (self->light)), G_LIST_MODEL (names)))
    gtk_drop_down_set_model (GTK_DROP_DOWN (self->light), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->light),
                              self->state < n ? self->state : GTK_INVALID_LIST_POSITION);
  self->filling = FALSE;
  gtk_widget_set_visible (self->light, n > 0);
}

static void
add_light (PlumbSeatsView *self)
{
  self->light = gtk_drop_down_new (G_LIST_MODEL (gtk_string_list_new (NULL)), NULL);
  gtk_widget_set_tooltip_text (self->light, "Light state that contrast is told in");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->light), GTK_ACCESSIBLE_PROPERTY_LABEL, "Light state", -1);
  g_signal_connect_swapped (self->light, "notify::selected", G_CALLBACK (light_chosen), self);
}

/* ---- out of the window ------------------------------------------------------------------ */

/* In the strip under the window's header. */
static void
say (PlumbSeatsView *self, const char *where)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  const PlumbTroubleWords words = { .what = "The table could not be saved.", .where = where };

  g_message ("%s %s", words.what, where);
  if (PLUMB_IS_WINDOW (root))
    plumb_trouble_say (plumb_window_trouble (PLUMB_WINDOW (root)), &words);
}

static void
answered_cb (PlumbSeatsView *self, int response)
{
  g_autoptr (GFile) file = NULL;
  g_autoptr (GError) error = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  g_clear_object (&self->chooser);
  if (file == NULL)
    return;
  if (g_file_peek_path (file) == NULL)
    say (self, "There is no folder of this computer behind that name.");
  else if (!plumb_seats_view_save (self, g_file_peek_path (file), &error))
    say (self, error->message);
}

static void
save_clicked (PlumbSeatsView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  if (self->chooser != NULL || plumb_seats_view_table (self) == NULL)
    return;
  self->chooser = gtk_file_chooser_native_new ("Save the table of seats as", GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                               GTK_FILE_CHOOSER_ACTION_SAVE, "_Save", NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (self->chooser), TRUE);
  gtk_file_filter_set_name (filter, "CSV tables");
  gtk_file_filter_add_suffix (filter, "csv");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), filter);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), "seats.csv");
  g_signal_connect_swapped (self->chooser, "response", G_CALLBACK (answered_cb), self);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static GtkWidget *
button (PlumbSeatsView *self, const char *word, const char *tooltip, GCallback clicked)
{
  GtkWidget *made = gtk_button_new_with_label (word);

  gtk_widget_add_css_class (made, "flat");
  gtk_widget_set_tooltip_text (made, tooltip);
  g_signal_connect_swapped (made, "clicked", clicked, self);
  return made;
}

/* ---- the box ------------------------------------------------------------------------------- */

void
plumb_seats_view_make_controls (PlumbSeatsView *self)
{
  self->controls = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8));
  add_order (self);
  add_light (self);
  GtkWidget *const parts[] = {
    self->order,
    self->turn,
    self->light,
    button (self, "Copy", "Copy the table as text (Ctrl+C)", G_CALLBACK (plumb_seats_view_copy)),
    button (self, "Save…", "Save the table as CSV", G_CALLBACK (save_clicked)),
  };
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      gtk_widget_set_valign (parts[i], GTK_ALIGN_CENTER);
      if (GTK_IS_DROP_DOWN (parts[i]))
        gtk_widget_add_css_class (parts[i], "quiet");
      gtk_box_append (GTK_BOX (self->controls), parts[i]);
    }
}

void
plumb_seats_view_drop_controls (PlumbSeatsView *self)
{
  if (self->controls == NULL)
    return;
  /* The head may outlive the view by a moment. */
  for (GtkWidget *part = gtk_widget_get_first_child (self->controls); part != NULL;
       part = gtk_widget_get_next_sibling (part))
    g_signal_handlers_disconnect_by_data (part, self);
  g_clear_object (&self->controls);
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->state_id, g_free);
}

GtkWidget *
plumb_seats_view_controls (PlumbSeatsView *self)
{
  return self->controls;
}
