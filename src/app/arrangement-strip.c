/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/arrangement-strip.h"

#include "app/arrangement-tab.h"
#include "app/document-later.h"
#include "app/sign.h"
#include "text/findings.h"

struct _PlumbArrangementStrip {
  GtkWidget parent_instance;

  PlumbDocument *document;
  GPtrArray *tabs; /* of PlumbArrangementTab, one per arrangement, in order */
  GtkWidget *more, *add, *compare;
  guint hidden; /* arrangements that did not fit */
  guint more_idle;
};

G_DEFINE_FINAL_TYPE (PlumbArrangementStrip, plumb_arrangement_strip, GTK_TYPE_WIDGET)

#define TAB(i) ((GtkWidget *) g_ptr_array_index (self->tabs, (i)))

/* ---- what is shown ------------------------------------------------------------------- */

static guint
count (PlumbArrangementStrip *self)
{
  uint32_t n;

  plumb_scene_records (plumb_document_scene (self->document), PLUMB_RECORD_ARRANGEMENT, &n);
  return n;
}

static gboolean
renamed_cb (PlumbArrangementStrip *self, const char *text, GtkWidget *tab)
{
  guint i;

  return g_ptr_array_find (self->tabs, tab, &i)
         && plumb_document_set_text (self->document, PLUMB_RECORD_ARRANGEMENT, i, PLUMB_FIELD_arrangement_label, text,
                                     NULL);
}

static void
fit_count (PlumbArrangementStrip *self, guint n)
{
  while (self->tabs->len > n)
    {
      gtk_widget_unparent (TAB (self->tabs->len - 1));
      g_ptr_array_set_size (self->tabs, (int) self->tabs->len - 1);
    }
  while (self->tabs->len < n)
    {
      GtkWidget *tab = plumb_arrangement_tab_new ();
      gtk_widget_insert_before (tab, GTK_WIDGET (self), self->more);
      g_signal_connect_swapped (tab, "renamed", G_CALLBACK (renamed_cb), self);
      g_ptr_array_add (self->tabs, tab);
    }
}

static void
changed_cb (gpointer listener)
{
  PlumbArrangementStrip *self = listener;
  const PlumbScene *scene = plumb_document_scene (self->document);
  guint n = count (self), current = plumb_document_arrangement (self->document);
  gboolean focused = gtk_widget_get_focus_child (GTK_WIDGET (self)) != NULL
                     && PLUMB_IS_ARRANGEMENT_TAB (gtk_widget_get_focus_child (GTK_WIDGET (self)));

  fit_count (self, n);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = plumb_record_name (scene, PLUMB_RECORD_ARRANGEMENT, i);
      const PlumbEvaluation *evaluation = plumb_document_evaluation_of (self->document, i);
      plumb_arrangement_tab_show (PLUMB_ARRANGEMENT_TAB (TAB (i)), name,
                                  evaluation != NULL ? evaluation->worst : PLUMB_UNKNOWN, i == current);
    }
  if (focused && current < n)
    gtk_widget_grab_focus (TAB (current));
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/* ---- acting ----------------------------------------------------------------------------- */

static void
show (PlumbArrangementStrip *self, guint i)
{
  if (i < count (self) && i != plumb_document_arrangement (self->document))
    plumb_document_show_arrangement (self->document, i);
}

static void
add_cb (PlumbArrangementStrip *self)
{
  guint current = plumb_document_arrangement (self->document);
  g_autoptr (GError) error = NULL;
  guint fresh;

  plumb_document_begin_group (self->document);
  if (current == PLUMB_NO_INDEX)
    fresh = plumb_document_add_fitting (self->document, PLUMB_RECORD_ARRANGEMENT, PLUMB_NO_INDEX, PLUMB_NO_INDEX,
                                        &error);
  else
    fresh = plumb_document_copy (self->document, PLUMB_RECORD_ARRANGEMENT, current, &error);
  if (fresh != PLUMB_NO_INDEX)
    plumb_document_show_arrangement (self->document, fresh);
  plumb_document_end_group (self->document, NULL);
  if (error != NULL)
    gtk_widget_set_tooltip_text (self->add, error->message);
}

static void
remove_current (PlumbArrangementStrip *self)
{
  guint current = plumb_document_arrangement (self->document);
  g_autoptr (GError) error = NULL;

  if (current == PLUMB_NO_INDEX)
    return;
  if (!plumb_document_remove (self->document, PLUMB_RECORD_ARRANGEMENT, current, &error))
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static gboolean
move_current (PlumbArrangementStrip *self, int by)
{
  guint current = plumb_document_arrangement (self->document);

  return current != PLUMB_NO_INDEX
         && plumb_document_move (self->document, PLUMB_RECORD_ARRANGEMENT, current, by, NULL);
}

static gboolean
key_cb (PlumbArrangementStrip *self, guint key, guint code, GdkModifierType state)
{
  guint current = plumb_document_arrangement (self->document);
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  gboolean alt = (state & gtk_accelerator_get_default_mod_mask ()) == GDK_ALT_MASK;
  int by = key == GDK_KEY_Left || key == GDK_KEY_Up ? -1 : key == GDK_KEY_Right || key == GDK_KEY_Down ? 1 : 0;

  (void) code;
  if (!PLUMB_IS_ARRANGEMENT_TAB (focus) || current == PLUMB_NO_INDEX)
    return GDK_EVENT_PROPAGATE;
  if (by != 0 && alt)
    move_current (self, by);
  else if (by != 0)
    show (self, by < 0 ? MAX (current, 1) - 1 : current + 1);
  else if (key == GDK_KEY_F2)
    plumb_arrangement_tab_rename (PLUMB_ARRANGEMENT_TAB (TAB (current)));
  else if (key == GDK_KEY_Delete)
    remove_current (self);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static guint
tab_at (PlumbArrangementStrip *self, double x, double y)
{
  for (guint i = 0; i < self->tabs->len; i++)
    {
      graphene_rect_t box;
      if (gtk_widget_get_child_visible (TAB (i)) && gtk_widget_compute_bounds (TAB (i), GTK_WIDGET (self), &box)
          && graphene_rect_contains_point (&box, &GRAPHENE_POINT_INIT ((float) x, (float) y)))
        return i;
    }
  return PLUMB_NO_INDEX;
}

static void
pressed_cb (PlumbArrangementStrip *self, int n_press, double x, double y)
{
  guint i = tab_at (self, x, y);

  if (i == PLUMB_NO_INDEX)
    return;
  show (self, i);
  if (n_press == 2)
    plumb_arrangement_tab_rename (PLUMB_ARRANGEMENT_TAB (TAB (i)));
  else
    gtk_widget_grab_focus (TAB (i));
}

/* However many neighbours are passed, it is one step. */
static void
drag_begin_cb (PlumbArrangementStrip *self)
{
  plumb_document_begin_group (self->document);
}

static void
drag_end_cb (PlumbArrangementStrip *self)
{
  plumb_document_end_group (self->document, NULL);
}

/* The current one goes where the pointer is, past each neighbour's middle. */
static void
drag_update_cb (PlumbArrangementStrip *self, double dx, double dy, GtkGestureDrag *drag)
{
  guint current = plumb_document_arrangement (self->document);
  double x, y;
  graphene_rect_t box;

  gtk_gesture_drag_get_start_point (drag, &x, &y);
  if (current == PLUMB_NO_INDEX || !gtk_drag_check_threshold (GTK_WIDGET (self), 0, 0, (int) dx, (int) dy))
    return;
  guint over = tab_at (self, x + dx, y);
  if (over == PLUMB_NO_INDEX || over == current || tab_at (self, x, y) == PLUMB_NO_INDEX
      || !gtk_widget_compute_bounds (TAB (over), GTK_WIDGET (self), &box))
    return;
  double middle = box.origin.x + box.size.width / 2;
  if (over > current ? x + dx < middle : x + dx > middle)
    return;
  move_current (self, over > current ? 1 : -1);
}

/* ---- sharing the width --------------------------------------------------------------------- */

static void
more_chosen_cb (PlumbArrangementStrip *self, GtkWidget *button)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "arrangement"));

  gtk_popover_popdown (GTK_POPOVER (gtk_menu_button_get_popover (GTK_MENU_BUTTON (self->more))));
  show (self, i);
}

/* The list of what is hidden, made when it is opened. */
static void
fill_more_cb (GtkMenuButton *more, gpointer data)
{
  PlumbArrangementStrip *self = data;
  GtkWidget *popover = gtk_popover_new (), *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  for (guint i = 0; i < self->tabs->len; i++)
    if (!gtk_widget_get_child_visible (TAB (i)))
      {
        g_autofree char *name
            = plumb_record_name (plumb_document_scene (self->document), PLUMB_RECORD_ARRANGEMENT, i);
        GtkWidget *button = gtk_button_new_with_label (name);
        gtk_widget_add_css_class (button, "flat");
        g_object_set_data (G_OBJECT (button), "arrangement", GUINT_TO_POINTER (i));
        g_signal_connect_swapped (button, "clicked", G_CALLBACK (more_chosen_cb), self);
        gtk_box_append (GTK_BOX (column), button);
      }
  gtk_popover_set_child (GTK_POPOVER (popover), column);
  gtk_menu_button_set_popover (more, popover);
}

static gboolean
say_more_cb (gpointer data)
{
  PlumbArrangementStrip *self = data;
  g_autofree char *text = g_strdup_printf ("%u more", self->hidden);

  self->more_idle = 0;
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->more), text);
  return G_SOURCE_REMOVE;
}

static int
width_of (GtkWidget *widget, gboolean least)
{
  int minimum, natural;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, &natural, NULL, NULL);
  return least ? minimum : natural;
}

/* How many fit when all are as narrow as can be; the current one always does. */
static guint
count_that_fit (PlumbArrangementStrip *self, int room, int more_width)
{
  int sum = 0;

  for (guint i = 0; i < self->tabs->len; i++)
    {
      int rest = i + 1 < self->tabs->len ? more_width : 0;
      sum += width_of (TAB (i), TRUE);
      if (sum + rest > room)
        return MAX (i, 1);
    }
  return self->tabs->len;
}

static gboolean
is_shown (PlumbArrangementStrip *self, guint i, guint n_fit)
{
  guint current = plumb_document_arrangement (self->document);

  if (current < self->tabs->len && current >= n_fit) /* takes the place of the last that fits */
    return i < n_fit - 1 || i == current;
  return i < n_fit;
}

/* Natural widths where there is room for them, else the least and an equal
 * share of what is left. */
static int
allocate_tabs (PlumbArrangementStrip *self, int room, int height, guint n_fit)
{
  int least = 0, natural = 0, x = 0;

  for (guint i = 0; i < self->tabs->len; i++)
    {
      gtk_widget_set_child_visible (TAB (i), is_shown (self, i, n_fit));
      if (!is_shown (self, i, n_fit))
        continue;
      least += width_of (TAB (i), TRUE);
      natural += width_of (TAB (i), FALSE);
    }
  double share = natural <= least ? 1.0 : CLAMP ((room - least) / (double) (natural - least), 0.0, 1.0);
  for (guint i = 0; i < self->tabs->len; i++)
    {
      if (!is_shown (self, i, n_fit))
        continue;
      int narrow = width_of (TAB (i), TRUE), wide = width_of (TAB (i), FALSE);
      int width = narrow + (int) ((wide - narrow) * share);
      gtk_widget_size_allocate (TAB (i), &(GtkAllocation){ x, 0, width, height }, -1);
      x += width;
    }
  return x;
}

static void
plumb_arrangement_strip_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbArrangementStrip *self = PLUMB_ARRANGEMENT_STRIP (widget);
  int add = width_of (self->add, FALSE), compare = width_of (self->compare, FALSE);
  int more = width_of (self->more, FALSE), room = width - add - compare;
  guint fit = count_that_fit (self, room, more), hidden = self->tabs->len - fit;

  (void) baseline;
  int x = allocate_tabs (self, room - (hidden > 0 ? more : 0), height, fit);
  gtk_widget_set_child_visible (self->more, hidden > 0);
  if (hidden > 0)
    {
      gtk_widget_size_allocate (self->more, &(GtkAllocation){ x, 0, more, height }, -1);
      x += more;
    }
  gtk_widget_size_allocate (self->add, &(GtkAllocation){ x, 0, add, height }, -1);
  gtk_widget_size_allocate (self->compare, &(GtkAllocation){ MAX (width - compare, x + add), 0, compare, height },
                            -1);
  if (hidden != self->hidden && self->more_idle == 0)
    self->more_idle = g_idle_add (say_more_cb, self);
  self->hidden = hidden;
}

static void
plumb_arrangement_strip_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  PlumbArrangementStrip *self = PLUMB_ARRANGEMENT_STRIP (widget);

  (void) for_size, (void) minimum_baseline, (void) natural_baseline;
  *minimum = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      int least, usual;
      gtk_widget_measure (child, orientation, -1, &least, &usual, NULL, NULL);
      if (orientation == GTK_ORIENTATION_VERTICAL)
        *minimum = MAX (*minimum, least);
      else if (!PLUMB_IS_ARRANGEMENT_TAB (child))
        *minimum += least;
      *natural += usual;
    }
  if (orientation == GTK_ORIENTATION_HORIZONTAL && self->tabs->len > 0)
    *minimum += width_of (TAB (0), TRUE);
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *natural = *minimum;
  *natural = MAX (*natural, *minimum);
}

/* ---- the object ------------------------------------------------------------------------------ */

/* The keys come to the tab at hand, whatever had them when they were here last. */
static gboolean
plumb_arrangement_strip_focus (GtkWidget *widget, GtkDirectionType direction)
{
  PlumbArrangementStrip *self = PLUMB_ARRANGEMENT_STRIP (widget);
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (widget));
  const guint current = plumb_document_arrangement (self->document);
  const gboolean inside = focus != NULL && gtk_widget_is_ancestor (focus, widget);

  if (!inside && direction == GTK_DIR_TAB_FORWARD && current < self->tabs->len)
    return gtk_widget_grab_focus (TAB (current));
  return GTK_WIDGET_CLASS (plumb_arrangement_strip_parent_class)->focus (widget, direction);
}

static void
plumb_arrangement_strip_dispose (GObject *object)
{
  PlumbArrangementStrip *self = PLUMB_ARRANGEMENT_STRIP (object);

  g_clear_handle_id (&self->more_idle, g_source_remove);
  fit_count (self, 0);
  g_clear_pointer (&self->more, gtk_widget_unparent);
  g_clear_pointer (&self->add, gtk_widget_unparent);
  g_clear_pointer (&self->compare, gtk_widget_unparent);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_arrangement_strip_parent_class)->dispose (object);
}

static void
plumb_arrangement_strip_finalize (GObject *object)
{
  g_ptr_array_unref (PLUMB_ARRANGEMENT_STRIP (object)->tabs);
  G_OBJECT_CLASS (plumb_arrangement_strip_parent_class)->finalize (object);
}

static void
plumb_arrangement_strip_class_init (PlumbArrangementStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_arrangement_strip_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_arrangement_strip_finalize;
  widget_class->focus = plumb_arrangement_strip_focus;
  widget_class->measure = plumb_arrangement_strip_measure;
  widget_class->size_allocate = plumb_arrangement_strip_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "strip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TAB_LIST);
}

static void
add_controllers (PlumbArrangementStrip *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new (), *drag = gtk_gesture_drag_new ();

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect_swapped (drag, "cancel", G_CALLBACK (drag_end_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}

static void
plumb_arrangement_strip_init (PlumbArrangementStrip *self)
{
  self->tabs = g_ptr_array_new ();
  self->more = gtk_menu_button_new ();
  self->add = plumb_sign_button_new (PLUMB_SIGN_ADD, "Copy this arrangement");
  self->compare = gtk_toggle_button_new_with_label ("Compare");
  gtk_widget_add_css_class (self->more, "strip-more");
  gtk_widget_add_css_class (self->compare, "strip-word");
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->more), fill_more_cb, self, NULL);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->compare), "win.compare");
  gtk_widget_set_parent (self->more, GTK_WIDGET (self));
  gtk_widget_set_parent (self->add, GTK_WIDGET (self));
  gtk_widget_set_parent (self->compare, GTK_WIDGET (self));
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (add_cb), self);
  add_controllers (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, "Arrangements", -1);
}

GtkWidget *
plumb_arrangement_strip_new (PlumbDocument *document)
{
  PlumbArrangementStrip *self = g_object_new (PLUMB_TYPE_ARRANGEMENT_STRIP, NULL);

  self->document = g_object_ref (document);
  plumb_document_listen_later (document, self, changed_cb);
  changed_cb (self);
  return GTK_WIDGET (self);
}
