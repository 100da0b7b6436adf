/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trouble.h"

#include "app/sign.h"

#define FOLD_MS 120

struct _PlumbTrouble {
  GtkWidget parent_instance;

  GtkWidget *revealer, *what, *where, *kept, *button;
  PlumbTroubleFunc func;
  gpointer data;
  GDestroyNotify destroy;
};

G_DEFINE_FINAL_TYPE (PlumbTrouble, plumb_trouble, GTK_TYPE_WIDGET)

static void
forget (PlumbTrouble *self)
{
  GDestroyNotify destroy = self->destroy;
  gpointer data = self->data;

  self->func = NULL;
  self->data = NULL;
  self->destroy = NULL;
  if (destroy != NULL)
    destroy (data);
}

void
plumb_trouble_hush (PlumbTrouble *self)
{
  g_return_if_fail (PLUMB_IS_TROUBLE (self));
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), FALSE);
  forget (self);
}

static void
button_cb (PlumbTrouble *self)
{
  PlumbTroubleFunc func = self->func;
  gpointer data = self->data;
  GDestroyNotify destroy = self->destroy;

  /* func may say something new. */
  self->func = NULL;
  self->data = NULL;
  self->destroy = NULL;
  plumb_trouble_hush (self);
  if (func != NULL)
    func (data);
  if (destroy != NULL)
    destroy (data);
}

static void
set_line (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

void
plumb_trouble_say (PlumbTrouble *self, const PlumbTroubleWords *words)
{
  g_return_if_fail (PLUMB_IS_TROUBLE (self));
  forget (self);
  self->func = words->func;
  self->data = words->data;
  self->destroy = words->destroy;
  set_line (self->what, words->what);
  set_line (self->where, words->where);
  set_line (self->kept, words->kept);
  gtk_widget_set_visible (self->button, words->button != NULL);
  if (words->button != NULL)
    gtk_button_set_label (GTK_BUTTON (self->button), words->button);
  g_autofree char *all = g_strjoin (" ", words->what, words->where != NULL ? words->where : "",
                                    words->kept != NULL ? words->kept : "", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, all, -1);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), TRUE);
}

static void
plumb_trouble_dispose (GObject *object)
{
  PlumbTrouble *self = PLUMB_TROUBLE (object);

  forget (self);
  g_clear_pointer (&self->revealer, gtk_widget_unparent);
  G_OBJECT_CLASS (plumb_trouble_parent_class)->dispose (object);
}

static void
plumb_trouble_class_init (PlumbTroubleClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_trouble_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "trouble");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static GtkWidget *
line_new (GtkWidget *column, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (column), label);
  return label;
}

static void
plumb_trouble_init (PlumbTrouble *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *close = plumb_sign_button_new (PLUMB_SIGN_CLOSE, "Close this message");

  self->what = line_new (column, "trouble-what");
  self->where = line_new (column, "trouble-where");
  self->kept = line_new (column, "trouble-kept");
  self->button = gtk_button_new ();
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (column, TRUE);
  gtk_widget_set_valign (column, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (row, "trouble-strip");
  gtk_box_append (GTK_BOX (row), column);
  gtk_box_append (GTK_BOX (row), self->button);
  gtk_box_append (GTK_BOX (row), close);
  self->revealer = gtk_revealer_new ();
  gtk_revealer_set_transition_duration (GTK_REVEALER (self->revealer), FOLD_MS);
  gtk_revealer_set_child (GTK_REVEALER (self->revealer), row);
  gtk_widget_set_parent (self->revealer, GTK_WIDGET (self));
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (button_cb), self);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (plumb_trouble_hush), self);
}

GtkWidget *
plumb_trouble_new (void)
{
  return g_object_new (PLUMB_TYPE_TROUBLE, NULL);
}
