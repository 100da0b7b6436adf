/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/drawing-pane.h"

#include "app/drawing-area.h"
#include "app/drawing-menu.h"

#define PLUMB_TYPE_DRAWING_PANE (plumb_drawing_pane_get_type ())
G_DECLARE_FINAL_TYPE (PlumbDrawingPane, plumb_drawing_pane, PLUMB, DRAWING_PANE, GtkBox)

struct _PlumbDrawingPane {
  GtkBox parent_instance;

  GtkToggleButton *plan, *side, *picture, *ceiling;
  GtkMenuButton *shown;
  GtkLabel *scale;
  PlumbDrawingArea *area;

  PlumbDocument *document;
};

G_DEFINE_FINAL_TYPE (PlumbDrawingPane, plumb_drawing_pane, GTK_TYPE_BOX)

static GtkToggleButton *
word_of (PlumbDrawingPane *self, PlumbDrawKind kind)
{
  GtkToggleButton *const words[PLUMB_N_DRAW_KINDS] = {
    [PLUMB_DRAW_PLAN] = self->plan,
    [PLUMB_DRAW_SIDE] = self->side,
    [PLUMB_DRAW_PICTURE] = self->picture,
    [PLUMB_DRAW_CEILING] = self->ceiling,
  };
  return words[kind];
}

static void
word_toggled_cb (PlumbDrawingPane *self, GtkToggleButton *word)
{
  if (!gtk_toggle_button_get_active (word))
    return;
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    if (word_of (self, (PlumbDrawKind) i) == word)
      plumb_drawing_area_set_kind (self->area, (PlumbDrawKind) i);
}

static void
area_viewed_cb (PlumbDrawingPane *self)
{
  int units = plumb_scene_job (plumb_document_scene (self->document), 0)->units;
  g_autofree char *words
      = plumb_draw_scale_words (plumb_draw_view_ratio (plumb_drawing_area_get_view (self->area)), units);
  if (!g_str_equal (words, gtk_label_get_label (self->scale)))
    gtk_label_set_label (self->scale, words);
}

static void
plumb_drawing_pane_dispose (GObject *object)
{
  PlumbDrawingPane *self = PLUMB_DRAWING_PANE (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), PLUMB_TYPE_DRAWING_PANE);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_drawing_pane_parent_class)->dispose (object);
}

static void
plumb_drawing_pane_class_init (PlumbDrawingPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_drawing_pane_dispose;
  g_type_ensure (PLUMB_TYPE_DRAWING_AREA);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/drawing-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, plan);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, side);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, picture);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, ceiling);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, shown);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, scale);
  gtk_widget_class_bind_template_child (widget_class, PlumbDrawingPane, area);
}

static void
plumb_drawing_pane_init (PlumbDrawingPane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
plumb_drawing_pane_new (PlumbDocument *document, PlumbDrawKind kind)
{
  PlumbDrawingPane *self = g_object_new (PLUMB_TYPE_DRAWING_PANE, NULL);

  self->document = g_object_ref (document);
  plumb_drawing_area_set_kind (self->area, kind);
  gtk_toggle_button_set_active (word_of (self, kind), TRUE);
  g_signal_connect_object (self->area, "viewed", G_CALLBACK (area_viewed_cb), self, G_CONNECT_SWAPPED);
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    g_signal_connect_object (word_of (self, (PlumbDrawKind) i), "toggled", G_CALLBACK (word_toggled_cb), self,
                             G_CONNECT_SWAPPED);
  plumb_drawing_menu_add (GTK_WIDGET (self), self->shown, self->area);
  plumb_drawing_area_set_document (self->area, document);
  area_viewed_cb (self);
  return GTK_WIDGET (self);
}

PlumbDrawKind
plumb_drawing_pane_get_kind (GtkWidget *pane)
{
  g_return_val_if_fail (PLUMB_IS_DRAWING_PANE (pane), PLUMB_DRAW_PLAN);
  return plumb_drawing_area_get_view (PLUMB_DRAWING_PANE (pane)->area)->kind;
}
