/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-pane.h"

#include "app/drawing-area.h"
#include "app/view3d-light.h"

struct _PlumbView3dPane {
  GtkBox parent_instance;

  GtkToggleButton *room, *lens, *front, *seat;
  GtkMenuButton *shown;
  GtkStack *stack;
  GtkBox *instead;
  GtkLabel *reason;

  PlumbDocument *document;
  PlumbView3dArea *area;
  PlumbView3dMenu *menu;
  GdkFrameClock *clock; /* whose first frame is waited for */
  gulong painted;
  GtkBox *foot;
  GtkWidget *light, *place;
  PlumbShowWindow *full; /* NULL: not shown; weak */
  guint make_idle;
  gboolean troubled;
};

G_DEFINE_FINAL_TYPE (PlumbView3dPane, plumb_view3d_pane, GTK_TYPE_BOX)

static GtkToggleButton *
word_of (PlumbView3dPane *self, PlumbCameraKind kind)
{
  GtkToggleButton *const words[PLUMB_N_CAMERA_KINDS] = {
    [PLUMB_CAMERA_ROOM] = self->room,
    [PLUMB_CAMERA_FRONT] = self->front,
    [PLUMB_CAMERA_LENS] = self->lens,
    [PLUMB_CAMERA_SEAT] = self->seat,
  };
  return words[kind];
}

static void
word_toggled_cb (PlumbView3dPane *self, GtkToggleButton *word)
{
  if (self->area == NULL || !gtk_toggle_button_get_active (word))
    return;
  for (int i = 0; i < PLUMB_N_CAMERA_KINDS; i++)
    if (word_of (self, (PlumbCameraKind) i) == word)
      plumb_view3d_area_set_kind (self->area, (PlumbCameraKind) i);
}

/* ---- what the words say ------------------------------------------------------------------- */

static const char *const lacking[PLUMB_N_CAMERA_KINDS] = {
  [PLUMB_CAMERA_ROOM] = "No wall is measured yet.",
  [PLUMB_CAMERA_FRONT] = "The arrangement has no screen.",
  [PLUMB_CAMERA_LENS] = "The arrangement has no beam.",
  [PLUMB_CAMERA_SEAT] = "The job has no seats, or nothing to look at.",
};

static char *
place_words (PlumbView3dPane *self)
{
  const PlumbResolved *resolved = plumb_scene_resolved (plumb_document_scene (self->document));
  uint32_t seat = plumb_view3d_area_get_seat (self->area);

  if (plumb_view3d_area_get_kind (self->area) != PLUMB_CAMERA_SEAT || seat >= resolved->n_seats)
    return g_strdup ("");
  return g_strdup_printf ("seat %s", resolved->seats[seat].id);
}

static void
viewed_cb (PlumbView3dPane *self)
{
  g_autofree char *place = place_words (self);

  for (int i = 0; i < PLUMB_N_CAMERA_KINDS; i++)
    {
      GtkWidget *word = GTK_WIDGET (word_of (self, (PlumbCameraKind) i));
      gboolean can = plumb_view3d_area_can (self->area, (PlumbCameraKind) i);
      gtk_widget_set_sensitive (word, can);
      gtk_widget_set_tooltip_text (word, can ? NULL : lacking[i]);
    }
  gtk_toggle_button_set_active (word_of (self, plumb_view3d_area_get_kind (self->area)), TRUE);
  if (!g_str_equal (place, gtk_label_get_label (GTK_LABEL (self->place))))
    gtk_label_set_label (GTK_LABEL (self->place), place);
}

/* ---- no 3D ------------------------------------------------------------------------------------ */

static void
remove_area (PlumbView3dPane *self)
{
  g_clear_pointer (&self->menu, plumb_view3d_menu_free);
  if (self->area != NULL)
    gtk_stack_remove (self->stack, GTK_WIDGET (self->area));
  self->area = NULL;
}

static void
troubled_cb (PlumbView3dPane *self, const char *why)
{
  g_autofree char *words = g_strdup_printf ("No 3D here: %s. The rest works.", why);
  PlumbDrawingArea *drawing;

  if (self->troubled)
    return;
  self->troubled = TRUE;
  g_message ("no 3D: %s", why);
  drawing = g_object_new (PLUMB_TYPE_DRAWING_AREA, NULL);
  plumb_drawing_area_set_kind (drawing, PLUMB_DRAW_PICTURE);
  plumb_drawing_area_set_document (drawing, self->document);
  gtk_box_append (self->instead, GTK_WIDGET (drawing));
  gtk_label_set_label (self->reason, words);
  gtk_stack_set_visible_child (self->stack, GTK_WIDGET (self->instead));
  for (int i = 0; i < PLUMB_N_CAMERA_KINDS; i++)
    gtk_widget_set_sensitive (GTK_WIDGET (word_of (self, (PlumbCameraKind) i)), FALSE);
  gtk_widget_set_sensitive (GTK_WIDGET (self->shown), FALSE);
  remove_area (self);
}

static void
lit_cb (PlumbView3dPane *self)
{
  double white_share, black_share;

  plumb_view3d_light_shares (PLUMB_VIEW3D_LIGHT (self->light), &white_share, &black_share);
  if (self->area != NULL)
    plumb_view3d_area_set_light (self->area, white_share, black_share);
}

/* ---- full-screen -------------------------------------------------------------------------------- */

void
plumb_view3d_pane_show (PlumbView3dPane *self, gboolean both)
{
  GtkRoot *root;

  g_return_if_fail (PLUMB_IS_VIEW3D_PANE (self));
  root = gtk_widget_get_root (GTK_WIDGET (self));
  if (self->full == NULL)
    {
      PlumbShowWindow *full = plumb_show_window_new (self->document, self->area,
                                                     plumb_view3d_light_get (PLUMB_VIEW3D_LIGHT (self->light)));
      g_set_weak_pointer (&self->full, full);
      if (GTK_IS_WINDOW (root))
        gtk_window_set_transient_for (GTK_WINDOW (full), GTK_WINDOW (root));
      gtk_window_set_modal (GTK_WINDOW (full), TRUE);
    }
  plumb_show_window_set_both (self->full, both);
  gtk_window_present (GTK_WINDOW (self->full));
}

static void
show_clicked_cb (PlumbView3dPane *self)
{
  plumb_view3d_pane_show (self, FALSE);
}

/* ---- after the first frame ----------------------------------------------------------------------- */

static gboolean
make_cb (gpointer data)
{
  PlumbView3dPane *self = data;
  GtkWidget *area = plumb_view3d_area_new (self->document);

  self->make_idle = 0;
  self->area = PLUMB_VIEW3D_AREA (area);
  self->menu = plumb_view3d_menu_new (GTK_WIDGET (self), self->area);
  g_signal_connect_object (area, "viewed", G_CALLBACK (viewed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (area, "troubled", G_CALLBACK (troubled_cb), self, G_CONNECT_SWAPPED);
  gtk_stack_add_named (self->stack, area, "area");
  gtk_stack_set_visible_child (self->stack, area);
  lit_cb (self);
  viewed_cb (self);
  return G_SOURCE_REMOVE;
}

static void
stop_waiting (PlumbView3dPane *self)
{
  if (self->clock != NULL)
    g_clear_signal_handler (&self->painted, self->clock);
  g_clear_object (&self->clock);
}

static void
painted_cb (PlumbView3dPane *self)
{
  stop_waiting (self);
  if (self->area == NULL && !self->troubled && self->make_idle == 0)
    self->make_idle = g_idle_add (make_cb, self);
}

static void
plumb_view3d_pane_map (GtkWidget *widget)
{
  PlumbView3dPane *self = PLUMB_VIEW3D_PANE (widget);

  GTK_WIDGET_CLASS (plumb_view3d_pane_parent_class)->map (widget);
  if (self->area != NULL || self->troubled || self->clock != NULL || self->make_idle != 0)
    return;
  self->clock = g_object_ref (gtk_widget_get_frame_clock (widget));
  self->painted
      = g_signal_connect_object (self->clock, "after-paint", G_CALLBACK (painted_cb), self, G_CONNECT_SWAPPED);
}

static void
plumb_view3d_pane_unmap (GtkWidget *widget)
{
  stop_waiting (PLUMB_VIEW3D_PANE (widget));
  GTK_WIDGET_CLASS (plumb_view3d_pane_parent_class)->unmap (widget);
}

/* ---- the widget ---------------------------------------------------------------------------------- */

static void
plumb_view3d_pane_dispose (GObject *object)
{
  PlumbView3dPane *self = PLUMB_VIEW3D_PANE (object);

  stop_waiting (self);
  if (self->full != NULL)
    gtk_window_destroy (GTK_WINDOW (self->full));
  g_set_weak_pointer (&self->full, NULL);
  g_clear_handle_id (&self->make_idle, g_source_remove);
  g_clear_pointer (&self->menu, plumb_view3d_menu_free);
  self->area = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), PLUMB_TYPE_VIEW3D_PANE);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_view3d_pane_parent_class)->dispose (object);
}

static void
plumb_view3d_pane_class_init (PlumbView3dPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_view3d_pane_dispose;
  widget_class->map = plumb_view3d_pane_map;
  widget_class->unmap = plumb_view3d_pane_unmap;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/view3d-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, room);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, lens);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, front);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, seat);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, shown);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, stack);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, instead);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, reason);
  gtk_widget_class_bind_template_child (widget_class, PlumbView3dPane, foot);
}

static void
plumb_view3d_pane_init (PlumbView3dPane *self)
{
  g_autoptr (GSimpleActionGroup) none = g_simple_action_group_new ();

  /* A menu finds the actions of a widget only if that had some before it. */
  gtk_widget_insert_action_group (GTK_WIDGET (self), "view3d", G_ACTION_GROUP (none));
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
fill_foot (PlumbView3dPane *self)
{
  g_autoptr (PlumbView3dHalf) half = plumb_view3d_half_new (self->document);
  GtkWidget *show = gtk_button_new_with_label ("Show");

  self->light = plumb_view3d_light_new (half);
  self->place = gtk_label_new ("");
  gtk_label_set_ellipsize (GTK_LABEL (self->place), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (self->place, "ink2");
  gtk_widget_add_css_class (show, "view3d-word");
  gtk_widget_set_tooltip_text (show, "Full-screen, for the client (F11)");
  g_signal_connect_object (show, "clicked", G_CALLBACK (show_clicked_cb), self, G_CONNECT_SWAPPED);
  plumb_view3d_light_put_beside (PLUMB_VIEW3D_LIGHT (self->light), show, self->place);
  gtk_widget_set_hexpand (self->light, TRUE);
  gtk_box_append (self->foot, self->light);
  g_signal_connect_object (self->light, "lit", G_CALLBACK (lit_cb), self, G_CONNECT_SWAPPED);
}

GtkWidget *
plumb_view3d_pane_new (PlumbDocument *document)
{
  PlumbView3dPane *self = g_object_new (PLUMB_TYPE_VIEW3D_PANE, NULL);

  self->document = g_object_ref (document);
  fill_foot (self);
  for (int i = 0; i < PLUMB_N_CAMERA_KINDS; i++)
    {
      GtkToggleButton *word = word_of (self, (PlumbCameraKind) i);
      /* A narrow pane shortens the words; a bold one must not widen the pane. */
      gtk_label_set_ellipsize (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (word))), PANGO_ELLIPSIZE_END);
      g_signal_connect_object (word, "toggled", G_CALLBACK (word_toggled_cb), self, G_CONNECT_SWAPPED);
    }
  return GTK_WIDGET (self);
}

PlumbView3dArea *
plumb_view3d_pane_get_area (PlumbView3dPane *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_PANE (self), NULL);
  return self->area;
}

PlumbView3dMenu *
plumb_view3d_pane_get_menu (PlumbView3dPane *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_PANE (self), NULL);
  return self->menu;
}

PlumbShowWindow *
plumb_view3d_pane_get_show (PlumbView3dPane *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_PANE (self), NULL);
  return self->full;
}
