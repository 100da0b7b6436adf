/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-drop-down.h"

#include <string.h>

static void
item_setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = gtk_label_new (NULL);

  (void) factory;
  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  if (data != NULL)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), 4);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 4);
      gtk_widget_set_hexpand (label, TRUE);
    }
  gtk_list_item_set_child (item, label);
}

static void
item_bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  (void) factory;
  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)),
                      gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item))));
}

/* shortens: for the button, which is narrower than its items may be. */
static GtkListItemFactory *
item_factory (gboolean shortens)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (item_setup_cb), GINT_TO_POINTER (shortens));
  g_signal_connect (factory, "bind", G_CALLBACK (item_bind_cb), NULL);
  return factory;
}

GtkWidget *
plumb_form_drop_down_new (GtkStringList *items)
{
  g_autoptr (GtkListItemFactory) button = item_factory (TRUE);
  g_autoptr (GtkListItemFactory) list = item_factory (FALSE);
  GtkWidget *drop_down = gtk_drop_down_new (G_LIST_MODEL (items), NULL);

  gtk_drop_down_set_factory (GTK_DROP_DOWN (drop_down), button);
  gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop_down), list);
  return drop_down;
}

void
plumb_form_drop_down_fill (GtkStringList *items, const char *const *names)
{
  const guint n_before = g_list_model_get_n_items (G_LIST_MODEL (items));
  guint same = 0;

  while (same < n_before && names[same] != NULL
         && strcmp (gtk_string_list_get_string (items, same), names[same]) == 0)
    same++;
  if (same < n_before || names[same] != NULL)
    gtk_string_list_splice (items, 0, n_before, names);
}
