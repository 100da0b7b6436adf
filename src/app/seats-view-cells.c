/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of the table of seats: made for the rows that are seen, and
 * written anew when another seat or other figures stand there. */
#include "seats-view-private.h"

#include "style.h"

PlumbWords
plumb_seats_view_words (PlumbSeatsView *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);

  return (PlumbWords){ plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
}

static GtkLabel *
label_of (GtkListItem *list_item)
{
  return GTK_LABEL (gtk_widget_get_last_child (gtk_list_item_get_child (list_item)));
}

static guint
row_of (GtkListItem *list_item)
{
  PlumbSeatItem *item = gtk_list_item_get_item (list_item);

  return item != NULL ? plumb_seat_item_row (item) : PLUMB_NO_INDEX;
}

/* A dash, and for those who hear the table why there is one. */
static void
show_missing (GtkWidget *label, const char *why)
{
  const gboolean was = gtk_widget_has_css_class (label, "ink3");

  if (why != NULL)
    {
      gtk_widget_add_css_class (label, "ink3");
      gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, why, -1);
    }
  else if (was)
    {
      gtk_widget_remove_css_class (label, "ink3");
      gtk_accessible_reset_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
    }
}

static void
fill_cell (PlumbSeatsView *self, const PlumbSeatsColumn *column, GtkListItem *list_item)
{
  const PlumbSeatTable *table = plumb_seats_view_table (self);
  const guint row = row_of (list_item);
  GtkLabel *label = label_of (list_item);
  const char *why = plumb_seat_table_reason (table, row, column->id);
  g_autofree char *text = plumb_seat_table_text (table, row, column->id, plumb_seats_view_words (self));

  /* Never without a text: an empty label has the name of its type. */
  gtk_label_set_text (label, why != NULL || text[0] == '\0' ? "–" : text);
  show_missing (GTK_WIDGET (label), why);
  if (column->id != PLUMB_SEAT_VERDICT)
    return;
  const PlumbVerdict verdict = plumb_seat_table_verdict (table, row);
  plumb_style_set_verdict_class (GTK_WIDGET (label), (int) verdict);
  plumb_round_level_set_verdict (
      PLUMB_ROUND_LEVEL (gtk_widget_get_first_child (gtk_list_item_get_child (list_item))), verdict);
}

/* Why a figure is missing, or words that are cut short. Asked for when the
 * pointer rests: to set a tooltip for each cell would ask the display each time. */
static gboolean
query_tooltip_cb (GtkWidget *box, int x, int y, gboolean by_key, GtkTooltip *tooltip, gpointer data)
{
  const PlumbSeatsColumn *column = data;
  const PlumbSeatTable *table = plumb_seats_view_table (column->view);
  const guint row = row_of (g_object_get_data (G_OBJECT (box), "plumb-list-item"));
  const char *why = plumb_seat_table_reason (table, row, column->id);
  g_autofree char *text = plumb_seat_table_text (table, row, column->id, plumb_seats_view_words (column->view));
  const gboolean is_word = plumb_seat_column_info (column->id)->kind == PLUMB_SEAT_KIND_WORD;

  (void) x, (void) y, (void) by_key;
  if (why == NULL && (!is_word || text[0] == '\0'))
    return FALSE;
  gtk_tooltip_set_text (tooltip, why != NULL ? why : text);
  return TRUE;
}

static void
set_up_cell (PlumbSeatsColumn *column, GtkListItem *list_item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (NULL);
  const gboolean is_word = plumb_seat_column_info (column->id)->kind == PLUMB_SEAT_KIND_WORD;

  if (column->id == PLUMB_SEAT_VERDICT)
    {
      GtkWidget *level = plumb_round_level_new (PLUMB_UNKNOWN);
      gtk_widget_set_valign (level, GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (box), level);
    }
  gtk_label_set_xalign (GTK_LABEL (label), is_word ? 0.0f : 1.0f);
  gtk_label_set_width_chars (GTK_LABEL (label), column->chars);
  if (is_word)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 2 * column->chars);
    }
  if (column->id == PLUMB_SEAT_SEAT)
    gtk_widget_add_css_class (label, "figure");
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (box), label);
  g_object_set_data (G_OBJECT (box), "plumb-list-item", list_item);
  gtk_widget_set_has_tooltip (box, TRUE);
  g_signal_connect (box, "query-tooltip", G_CALLBACK (query_tooltip_cb), column);
  gtk_list_item_set_child (list_item, box);
}

static void
bind_cell (PlumbSeatsColumn *column, GtkListItem *list_item)
{
  fill_cell (column->view, column, list_item);
  g_ptr_array_add (column->bound, list_item);
}

static void
unbind_cell (PlumbSeatsColumn *column, GtkListItem *list_item)
{
  g_ptr_array_remove_fast (column->bound, list_item);
}

void
plumb_seats_view_refill (PlumbSeatsView *self)
{
  for (int i = 0; i < PLUMB_SEATS_VIEW_COLUMNS; i++)
    for (guint k = 0; k < self->column[i].bound->len; k++)
      fill_cell (self, &self->column[i], g_ptr_array_index (self->column[i].bound, k));
}

void
plumb_seats_column_make_cells (PlumbSeatsColumn *column, GtkListItemFactory *factory)
{
  g_signal_connect_swapped (factory, "setup", G_CALLBACK (set_up_cell), column);
  g_signal_connect_swapped (factory, "bind", G_CALLBACK (bind_cell), column);
  g_signal_connect_swapped (factory, "unbind", G_CALLBACK (unbind_cell), column);
}
