/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "seats-view-private.h"

#include <string.h>

#include "document-later.h"

G_DEFINE_FINAL_TYPE (PlumbSeatsView, plumb_seats_view, GTK_TYPE_BOX)

const PlumbSeatTable *
plumb_seats_view_table (PlumbSeatsView *self)
{
  return plumb_seat_model_table (self->model);
}

/* ---- the chosen row -------------------------------------------------------------- */

static gboolean
is_about (const PlumbSeatTable *table, guint row, PlumbSubject selected)
{
  const PlumbSubject own = plumb_seat_table_subject (table, row);

  return own.kind == selected.kind && own.index == selected.index
         && (own.sub == selected.sub || selected.sub == PLUMB_NO_INDEX);
}

/* The row of what is selected; of a whole row of seats the one that is chosen
 * already, else the first. */
static guint
find_row (PlumbSeatsView *self)
{
  const PlumbSeatTable *table = plumb_seats_view_table (self);
  const PlumbSubject selected = plumb_document_selection (self->document);
  const guint chosen = gtk_single_selection_get_selected (self->selection);

  if (table == NULL || (selected.kind != PLUMB_RECORD_SEAT && selected.kind != PLUMB_RECORD_ROW))
    return GTK_INVALID_LIST_POSITION;
  if (chosen < plumb_seat_table_n_rows (table) && is_about (table, chosen, selected))
    return chosen;
  for (guint row = 0; row < plumb_seat_table_n_rows (table); row++)
    if (is_about (table, row, selected))
      return row;
  return GTK_INVALID_LIST_POSITION;
}

static void
choose_row (PlumbSeatsView *self, gboolean scroll)
{
  const guint row = find_row (self);
  GtkWidget *list = gtk_widget_get_last_child (GTK_WIDGET (self->view));

  self->quiet = TRUE;
  gtk_single_selection_set_selected (self->selection, row);
  self->quiet = FALSE;
  if (scroll && row != GTK_INVALID_LIST_POSITION && gtk_widget_get_mapped (list))
    gtk_widget_activate_action (list, "list.scroll-to-item", "u", row);
}

static void
selection_changed (PlumbSeatsView *self)
{
  const guint row = gtk_single_selection_get_selected (self->selection);

  if (self->quiet || row == GTK_INVALID_LIST_POSITION)
    return;
  self->choosing = TRUE;
  plumb_document_select (self->document, plumb_seat_table_subject (plumb_seats_view_table (self), row), -1);
  self->choosing = FALSE;
}

/* A light state that is chosen elsewhere is the one that contrast is told in. */
static void
document_selected (PlumbSeatsView *self)
{
  if (self->choosing)
    return;
  if (plumb_document_selection (self->document).kind == PLUMB_RECORD_LIGHT_STATE)
    plumb_seats_view_show_state (self, plumb_document_selection (self->document).index);
  choose_row (self, TRUE);
}

/* ---- columns ------------------------------------------------------------------------------ */

/* Only ever asked by find_order(): the rows are put in order by the table. */
static int
compare_column (gconstpointer a, gconstpointer b, gpointer data)
{
  PlumbSeatsColumn *column = data;

  (void) a, (void) b;
  column->view->asked = column->id;
  return -1;
}

/* The toolkit of this version does not say by which column it sorts, nor which
 * way round; but its sorter asks that column's, and turns the answer round. */
static PlumbSeatColumn
find_order (PlumbSeatsView *self, gboolean *descending)
{
  g_autoptr (GObject) a = g_object_new (PLUMB_TYPE_SEAT_ITEM, NULL), b = g_object_new (PLUMB_TYPE_SEAT_ITEM, NULL);

  self->asked = PLUMB_N_SEAT_COLUMNS;
  *descending = gtk_sorter_compare (gtk_column_view_get_sorter (self->view), a, b) == GTK_ORDERING_LARGER;
  return self->asked;
}

static void
order_changed (PlumbSeatsView *self)
{
  gboolean descending;
  const PlumbSeatColumn by = find_order (self, &descending);

  plumb_seat_model_sort (self->model, by, descending);
  plumb_seats_view_refill (self);
  plumb_seats_view_show_order (self, by, descending);
  choose_row (self, TRUE);
}

/* The head over figures stands at their right edge. */
static void
align_head (GtkWidget *widget, gboolean right)
{
  if (GTK_IS_LABEL (widget))
    {
      gtk_label_set_justify (GTK_LABEL (widget), right ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
      gtk_label_set_xalign (GTK_LABEL (widget), right ? 1.0f : 0.0f);
      gtk_widget_set_hexpand (widget, TRUE);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    align_head (child, right);
}

static void
align_heads (PlumbSeatsView *self)
{
  GtkWidget *head = gtk_widget_get_first_child (gtk_widget_get_first_child (GTK_WIDGET (self->view)));

  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS && head != NULL; i++, head = gtk_widget_get_next_sibling (head))
    align_head (head, plumb_seat_column_info (self->column[i].id)->kind != PLUMB_SEAT_KIND_WORD);
}

static void
add_column (PlumbSeatsView *self, PlumbSeatsColumn *column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  column->column = gtk_column_view_column_new (NULL, factory);
  plumb_seats_column_make_cells (column, factory);
  g_autoptr (GtkSorter) sorter = GTK_SORTER (gtk_custom_sorter_new (compare_column, column, NULL));
  gtk_column_view_column_set_sorter (column->column, sorter);
  gtk_column_view_column_set_resizable (column->column, TRUE);
  gtk_column_view_column_set_expand (column->column, column->id == PLUMB_SEAT_CHECKS);
  gtk_column_view_append_column (self->view, column->column);
}

static void
add_columns (PlumbSeatsView *self)
{
  static const struct {
    PlumbSeatColumn id;
    int chars;
  } shown[PLUMB_SEATS_VIEW_COLUMNS] = {
    { PLUMB_SEAT_SEAT, 8 },      { PLUMB_SEAT_VERDICT, 7 },     { PLUMB_SEAT_CHECKS, 14 },
    { PLUMB_SEAT_ANGLE, 4 },     { PLUMB_SEAT_HEIGHTS, 4 },     { PLUMB_SEAT_LOOK_UP_CENTRE, 4 },
    { PLUMB_SEAT_LOOK_UP_TOP, 4 }, { PLUMB_SEAT_OFF_AXIS, 4 },  { PLUMB_SEAT_PIXELS, 4 },
    { PLUMB_SEAT_TEXT, 4 },      { PLUMB_SEAT_HIDDEN, 4 },      { PLUMB_SEAT_HIDDEN_BY, 8 },
    { PLUMB_SEAT_C_VALUE, 4 },   { PLUMB_SEAT_LUMINANCE, 4 },   { PLUMB_SEAT_FOOT_LAMBERTS, 4 },
    { PLUMB_SEAT_CONTRAST, 4 },  { PLUMB_SEAT_NOISE, 4 },
  };

  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    {
      self->column[i].view = self;
      self->column[i].id = shown[i].id;
      self->column[i].chars = shown[i].chars;
      self->column[i].bound = g_ptr_array_new ();
      add_column (self, &self->column[i]);
    }
}

/* On two lines, broken at the heading's last blank, else before the unit: "up
 * to", "centre °"; "hidden", "%". Over words on one. */
static char *
title_of (PlumbSeatsView *self, PlumbSeatColumn id)
{
  const char *heading = plumb_seat_column_info (id)->heading, *unit = plumb_seat_column_unit (id, plumb_seats_view_words (self));
  const char *blank = strrchr (heading, ' ');

  if (unit[0] == '\0')
    return g_strdup (heading);
  if (blank == NULL)
    return g_strdup_printf ("%s\n%s", heading, unit);
  return g_strdup_printf ("%.*s\n%s %s", (int) (blank - heading), heading, blank + 1, unit);
}

static void
name_columns (PlumbSeatsView *self)
{
  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    {
      g_autofree char *title = title_of (self, self->column[i].id);
      if (g_strcmp0 (title, gtk_column_view_column_get_title (self->column[i].column)) != 0)
        gtk_column_view_column_set_title (self->column[i].column, title);
    }
  align_heads (self);
}

/* ---- following the document ------------------------------------------------------------------ */

static void
refresh (PlumbSeatsView *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);

  self->stale = FALSE;
  plumb_seats_view_fill_states (self);
  name_columns (self);
  self->quiet = TRUE;
  plumb_seat_model_take (self->model,
                         plumb_seat_table_new (scene, plumb_document_evaluation (self->document), self->state));
  self->quiet = FALSE;
  plumb_seats_view_refill (self);
  const gboolean any = g_list_model_get_n_items (G_LIST_MODEL (self->model)) > 0;
  gtk_stack_set_visible_child_name (self->body, any ? "table" : "none");
  gtk_widget_set_sensitive (self->controls, any);
  choose_row (self, FALSE);
}

void
plumb_seats_view_refresh (PlumbSeatsView *self)
{
  self->stale = TRUE;
  /* A hall takes a while: only while somebody looks. */
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
}

static void
document_changed (gpointer listener)
{
  plumb_seats_view_refresh (listener);
}

static void
plumb_seats_view_map (GtkWidget *widget)
{
  PlumbSeatsView *self = PLUMB_SEATS_VIEW (widget);

  if (self->stale)
    refresh (self);
  GTK_WIDGET_CLASS (plumb_seats_view_parent_class)->map (widget);
  choose_row (self, TRUE);
}

/* ---- out of the window ------------------------------------------------------------------------- */

void
plumb_seats_view_copy (PlumbSeatsView *self)
{
  const PlumbSeatTable *table = plumb_seats_view_table (self);

  if (table == NULL)
    return;
  g_autofree char *text = plumb_seat_table_tabbed (table, plumb_seats_view_words (self));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
}

gboolean
plumb_seats_view_save (PlumbSeatsView *self, const char *path, GError **error)
{
  g_autofree char *csv = plumb_seat_table_csv (plumb_seats_view_table (self));

  return g_file_set_contents (path, csv, (gssize) strlen (csv), error);
}

static gboolean
copy_cb (GtkWidget *widget, GVariant *unused, gpointer data)
{
  (void) widget, (void) unused;
  plumb_seats_view_copy (PLUMB_SEATS_VIEW (data));
  return TRUE;
}

static void
add_keys (PlumbSeatsView *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_c, GDK_CONTROL_MASK),
                                                          gtk_callback_action_new (copy_cb, self, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* ---- the object ----------------------------------------------------------------------------------- */

static void
plumb_seats_view_dispose (GObject *object)
{
  PlumbSeatsView *self = PLUMB_SEATS_VIEW (object);

  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  if (self->view != NULL)
    g_signal_handlers_disconnect_by_data (gtk_column_view_get_sorter (self->view), self);
  plumb_seats_view_drop_controls (self);
  gtk_widget_dispose_template (GTK_WIDGET (object), PLUMB_TYPE_SEATS_VIEW);
  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    g_clear_object (&self->column[i].column);
  g_clear_object (&self->selection);
  g_clear_object (&self->model);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_seats_view_parent_class)->dispose (object);
}

static void
plumb_seats_view_finalize (GObject *object)
{
  PlumbSeatsView *self = PLUMB_SEATS_VIEW (object);

  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    g_ptr_array_unref (self->column[i].bound);
  G_OBJECT_CLASS (plumb_seats_view_parent_class)->finalize (object);
}

static void
plumb_seats_view_class_init (PlumbSeatsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_seats_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_seats_view_finalize;
  widget_class->map = plumb_seats_view_map;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/seats-view.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbSeatsView, body);
  gtk_widget_class_bind_template_child (widget_class, PlumbSeatsView, view);
}

static void
plumb_seats_view_init (PlumbSeatsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->stale = TRUE;
  self->state = PLUMB_NO_INDEX;
  self->model = plumb_seat_model_new ();
  self->selection = gtk_single_selection_new (NULL);
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_single_selection_set_model (self->selection, G_LIST_MODEL (self->model));
  add_columns (self);
  gtk_column_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_swapped (self->selection, "notify::selected", G_CALLBACK (selection_changed), self);
  g_signal_connect_swapped (gtk_column_view_get_sorter (self->view), "changed", G_CALLBACK (order_changed), self);
  add_keys (self);
}

GtkWidget *
plumb_seats_view_new (PlumbDocument *document)
{
  PlumbSeatsView *self = g_object_new (PLUMB_TYPE_SEATS_VIEW, NULL);

  self->document = g_object_ref (document);
  plumb_seats_view_make_controls (self);
  plumb_document_listen_later (document, self, document_changed);
  g_signal_connect_object (document, "selected", G_CALLBACK (document_selected), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
