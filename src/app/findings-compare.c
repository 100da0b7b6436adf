/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "findings-compare.h"

#include "compare-line.h"
#include "style.h"
#include "text/findings.h"

/* More columns than this nobody compares. */
#define MOST_COLUMNS 24

typedef struct {
  PlumbDocument *document; /* not owned: the table's own reference outlives its columns */
  guint arrangement;       /* of the column */
} Column;

typedef struct {
  PlumbDocument *document;
  GtkColumnView *view;
  GListStore *store;
  gboolean stale;
} Table;

/* ---- cells ------------------------------------------------------------------------------ */

static void
set_up_label (GtkListItem *list_item, int width_chars)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_width_chars (GTK_LABEL (label), width_chars);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (list_item, label);
}

static void
set_up_words (GtkListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  set_up_label (list_item, 26);
}

static void
set_up_value (GtkListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  set_up_label (list_item, 18);
}

static void
bind_name (GtkListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (list_item)),
                      plumb_compare_line_name (gtk_list_item_get_item (list_item)));
  gtk_widget_add_css_class (gtk_list_item_get_child (list_item), "figure");
}

static void
bind_meaning (GtkListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (list_item)),
                      plumb_compare_line_meaning (gtk_list_item_get_item (list_item)));
  gtk_widget_add_css_class (gtk_list_item_get_child (list_item), "ink3");
}

static void
bind_value (Column *column, GtkListItem *list_item)
{
  GtkWidget *label = gtk_list_item_get_child (list_item);
  int verdict;
  g_autofree char *text = plumb_compare_line_value (gtk_list_item_get_item (list_item), column->document,
                                                    column->arrangement, &verdict);

  gtk_label_set_text (GTK_LABEL (label), text);
  plumb_style_set_verdict_class (label, verdict);
}

/* ---- columns ------------------------------------------------------------------------------- */

static GtkColumnViewColumn *
add_column (Table *table, const char *title, GCallback set_up, GCallback bind, Column *column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkColumnViewColumn *made = gtk_column_view_column_new (title, factory);

  g_signal_connect (factory, "setup", set_up, NULL);
  if (column != NULL)
    g_signal_connect_data (factory, "bind", bind, column, (GClosureNotify) (void (*) (void)) g_free,
                           G_CONNECT_SWAPPED);
  else
    g_signal_connect (factory, "bind", bind, NULL);
  gtk_column_view_append_column (table->view, made);
  g_object_unref (made);
  return made;
}

static guint
n_columns (Table *table)
{
  uint32_t n;

  plumb_scene_arrangement_records (plumb_document_scene (table->document), &n);
  return MIN (n, MOST_COLUMNS);
}

static void
remove_columns (Table *table)
{
  GListModel *columns = gtk_column_view_get_columns (table->view);

  while (g_list_model_get_n_items (columns) > 0)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, 0);
      gtk_column_view_remove_column (table->view, column);
    }
}

static void
make_columns (Table *table, guint n)
{
  remove_columns (table);
  add_column (table, "", G_CALLBACK (set_up_words), G_CALLBACK (bind_name), NULL);
  for (guint a = 0; a < n; a++)
    {
      Column *column = g_new (Column, 1);
      *column = (Column){ table->document, a };
      gtk_column_view_column_set_resizable (
          add_column (table, "", G_CALLBACK (set_up_value), G_CALLBACK (bind_value), column), TRUE);
    }
  gtk_column_view_column_set_expand (
      add_column (table, "what it is", G_CALLBACK (set_up_words), G_CALLBACK (bind_meaning), NULL), TRUE);
}

static void
name_columns (Table *table, guint n)
{
  GListModel *columns = gtk_column_view_get_columns (table->view);

  for (guint a = 0; a < n; a++)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, a + 1);
      g_autofree char *name = plumb_record_name (plumb_document_scene (table->document), PLUMB_RECORD_ARRANGEMENT, a);
      if (g_strcmp0 (gtk_column_view_column_get_title (column), name) != 0)
        gtk_column_view_column_set_title (column, name);
    }
}

/* ---- following the document ------------------------------------------------------------------- */

static void
refresh (Table *table)
{
  const guint n = n_columns (table);
  g_autoptr (GPtrArray) lines = plumb_compare_lines (table->document, n);

  table->stale = FALSE;
  if (g_list_model_get_n_items (gtk_column_view_get_columns (table->view)) != n + 2)
    make_columns (table, n);
  name_columns (table, n);
  g_list_store_splice (table->store, 0, g_list_model_get_n_items (G_LIST_MODEL (table->store)), lines->pdata,
                       lines->len);
}

/* Each arrangement is worked out anew: only while somebody looks. */
static void
document_changed (Table *table)
{
  table->stale = TRUE;
  if (gtk_widget_get_mapped (GTK_WIDGET (table->view)))
    refresh (table);
}

static void
mapped (Table *table)
{
  if (table->stale)
    refresh (table);
}

static void
table_free (Table *table)
{
  g_signal_handlers_disconnect_by_data (table->document, table);
  g_object_unref (table->document);
  g_object_unref (table->store);
  g_free (table);
}

GtkWidget *
plumb_findings_compare_new (PlumbDocument *document)
{
  Table *table = g_new0 (Table, 1);
  GtkWidget *scroller = gtk_scrolled_window_new ();

  table->document = g_object_ref (document);
  table->store = g_list_store_new (PLUMB_TYPE_COMPARE_LINE);
  table->view = GTK_COLUMN_VIEW (
      gtk_column_view_new (GTK_SELECTION_MODEL (gtk_no_selection_new (g_object_ref (G_LIST_MODEL (table->store))))));
  table->stale = TRUE;
  gtk_widget_add_css_class (GTK_WIDGET (table->view), "compare");
  gtk_accessible_update_property (GTK_ACCESSIBLE (table->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Arrangements side by side", -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (table->view));
  g_signal_connect_swapped (table->view, "map", G_CALLBACK (mapped), table);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (document_changed), table);
  g_object_set_data_full (G_OBJECT (scroller), "plumb-table", table, (GDestroyNotify) table_free);
  return scroller;
}
