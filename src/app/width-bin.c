/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "width-bin.h"

#define LEAST_PX 320

struct _PlumbWidthBin {
  GtkWidget parent_instance;
  GtkWidget *child;
  int width;
  guint told_later;
};

G_DEFINE_FINAL_TYPE (PlumbWidthBin, plumb_width_bin, GTK_TYPE_WIDGET)

enum { WIDTH, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
tell (gpointer data)
{
  PlumbWidthBin *self = data;

  self->told_later = 0;
  g_signal_emit (self, signals[WIDTH], 0, self->width);
  return G_SOURCE_REMOVE;
}

static void
plumb_width_bin_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  gtk_widget_measure (PLUMB_WIDTH_BIN (widget)->child, orientation, for_size, minimum, natural, minimum_baseline,
                      natural_baseline);
  /* What the child shows follows from the width that there is, not the other
   * way round: once wide it could else never be narrow again. */
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = MIN (*minimum, LEAST_PX);
}

static void
plumb_width_bin_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbWidthBin *self = PLUMB_WIDTH_BIN (widget);

  int least;

  gtk_widget_measure (self->child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_allocate (self->child, MAX (width, least), height, baseline, NULL);
  if (width == self->width)
    return;
  self->width = width;
  if (self->told_later == 0)
    self->told_later = g_idle_add_full (GDK_PRIORITY_REDRAW - 1, tell, self, NULL);
}

static GtkSizeRequestMode
plumb_width_bin_get_request_mode (GtkWidget *widget)
{
  return gtk_widget_get_request_mode (PLUMB_WIDTH_BIN (widget)->child);
}

static void
plumb_width_bin_dispose (GObject *object)
{
  PlumbWidthBin *self = PLUMB_WIDTH_BIN (object);

  g_clear_handle_id (&self->told_later, g_source_remove);
  g_clear_pointer (&self->child, gtk_widget_unparent);
  G_OBJECT_CLASS (plumb_width_bin_parent_class)->dispose (object);
}

static void
plumb_width_bin_class_init (PlumbWidthBinClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_width_bin_dispose;
  widget_class->measure = plumb_width_bin_measure;
  widget_class->size_allocate = plumb_width_bin_size_allocate;
  widget_class->get_request_mode = plumb_width_bin_get_request_mode;
  signals[WIDTH] = g_signal_new ("width", PLUMB_TYPE_WIDTH_BIN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                 1, G_TYPE_INT);
}

static void
plumb_width_bin_init (PlumbWidthBin *self)
{
  self->width = -1;
}

GtkWidget *
plumb_width_bin_new (GtkWidget *child)
{
  PlumbWidthBin *self = g_object_new (PLUMB_TYPE_WIDTH_BIN, NULL);

  self->child = child;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
