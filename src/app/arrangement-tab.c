/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/arrangement-tab.h"

#include "app/round-level.h"
#include "app/style.h"
#include "text/findings.h"

/* Width of the shortest name that still tells something. */
#define NAME_LEAST_CHARS 6
#define NAME_MOST_CHARS 32

struct _PlumbArrangementTab {
  GtkWidget parent_instance;

  GtkWidget *box, *level, *stack, *name, *entry;
};

G_DEFINE_FINAL_TYPE (PlumbArrangementTab, plumb_arrangement_tab, GTK_TYPE_WIDGET)

enum { RENAMED, N_SIGNALS };
static guint signals[N_SIGNALS];

void
plumb_arrangement_tab_show (PlumbArrangementTab *self, const char *name, PlumbVerdict worst, gboolean current)
{
  g_autofree char *label = g_strdup_printf ("%s, %s", name, plumb_verdict_word (worst));

  gtk_label_set_text (GTK_LABEL (self->name), name);
  plumb_style_set_tooltip (GTK_WIDGET (self), name);
  plumb_round_level_set_verdict (PLUMB_ROUND_LEVEL (self->level), worst);
  if (current)
    gtk_widget_add_css_class (GTK_WIDGET (self), "current");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "current");
  gtk_widget_set_focusable (GTK_WIDGET (self), current);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED, current, -1);
}

static void
stop_renaming (PlumbArrangementTab *self)
{
  gboolean had_focus = gtk_widget_get_focus_child (GTK_WIDGET (self)) != NULL;

  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->name);
  if (had_focus)
    gtk_widget_grab_focus (GTK_WIDGET (self));
}

void
plumb_arrangement_tab_rename (PlumbArrangementTab *self)
{
  g_return_if_fail (PLUMB_IS_ARRANGEMENT_TAB (self));
  gtk_editable_set_text (GTK_EDITABLE (self->entry), gtk_label_get_text (GTK_LABEL (self->name)));
  gtk_widget_remove_css_class (self->entry, "wrong");
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->entry);
  gtk_widget_grab_focus (self->entry);
}

static void
activate_cb (PlumbArrangementTab *self)
{
  gboolean taken = FALSE;

  g_signal_emit (self, signals[RENAMED], 0, gtk_editable_get_text (GTK_EDITABLE (self->entry)), &taken);
  if (taken)
    stop_renaming (self);
  else
    gtk_widget_add_css_class (self->entry, "wrong");
}

static gboolean
entry_key_cb (PlumbArrangementTab *self, guint key)
{
  if (key != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  stop_renaming (self);
  return GDK_EVENT_STOP;
}

static void
entry_left_cb (PlumbArrangementTab *self)
{
  if (gtk_stack_get_visible_child (GTK_STACK (self->stack)) == self->entry)
    stop_renaming (self);
}

static void
plumb_arrangement_tab_dispose (GObject *object)
{
  PlumbArrangementTab *self = PLUMB_ARRANGEMENT_TAB (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (plumb_arrangement_tab_parent_class)->dispose (object);
}

static void
plumb_arrangement_tab_class_init (PlumbArrangementTabClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_arrangement_tab_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "arrangement");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TAB);
  signals[RENAMED] = g_signal_new ("renamed", PLUMB_TYPE_ARRANGEMENT_TAB, G_SIGNAL_RUN_LAST, 0,
                                   g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 1, G_TYPE_STRING);
}

static void
plumb_arrangement_tab_init (PlumbArrangementTab *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *focus = gtk_event_controller_focus_new ();

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 7);
  self->level = plumb_round_level_new (PLUMB_UNKNOWN);
  self->name = gtk_label_new (NULL);
  self->entry = gtk_entry_new ();
  self->stack = gtk_stack_new ();
  gtk_label_set_ellipsize (GTK_LABEL (self->name), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (self->name), NAME_LEAST_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (self->name), NAME_MOST_CHARS);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0);
  gtk_entry_set_max_length (GTK_ENTRY (self->entry), PLUMB_LABEL_SIZE - 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 16);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Name of the arrangement", -1);
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_add_child (GTK_STACK (self->stack), self->name);
  gtk_stack_add_child (GTK_STACK (self->stack), self->entry);
  gtk_box_append (GTK_BOX (self->box), self->level);
  gtk_box_append (GTK_BOX (self->box), self->stack);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (activate_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (entry_key_cb), self);
  gtk_widget_add_controller (self->entry, keys);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (entry_left_cb), self);
  gtk_widget_add_controller (self->entry, focus);
}

GtkWidget *
plumb_arrangement_tab_new (void)
{
  return g_object_new (PLUMB_TYPE_ARRANGEMENT_TAB, NULL);
}
