/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/sign.h"

#include <math.h>

struct _PlumbSign {
  GtkWidget parent_instance;

  PlumbSignKind kind;
};

G_DEFINE_FINAL_TYPE (PlumbSign, plumb_sign, GTK_TYPE_WIDGET)

static void
stroke_points (cairo_t *cr, const double *xy, int n)
{
  cairo_move_to (cr, xy[0], xy[1]);
  for (int i = 1; i < n; i++)
    cairo_line_to (cr, xy[2 * i], xy[2 * i + 1]);
  cairo_stroke (cr);
}

#define STROKE(...)                                                                                                  \
  stroke_points (cr, (const double[]){ __VA_ARGS__ },                                                                \
                 (int) (sizeof ((const double[]){ __VA_ARGS__ }) / sizeof (double) / 2))

/* A tape bent back on itself. */
static void
draw_undo (cairo_t *cr)
{
  STROKE (5.5, 3, 2.5, 6, 5.5, 9);
  cairo_move_to (cr, 2.5, 6);
  cairo_line_to (cr, 10, 6);
  cairo_arc (cr, 10, 9.75, 3.75, -G_PI / 2, G_PI / 2);
  cairo_line_to (cr, 6, 13.5);
  cairo_stroke (cr);
}

/* In 16 × 16. */
static void
draw_sign (cairo_t *cr, PlumbSignKind kind)
{
  switch (kind)
    {
    case PLUMB_SIGN_ADD:
      STROKE (8, 3, 8, 13);
      STROKE (3, 8, 13, 8);
      break;
    case PLUMB_SIGN_COPY:
      cairo_rectangle (cr, 2.75, 2.75, 8, 8);
      cairo_stroke (cr);
      STROKE (13.5, 6, 13.5, 13.5, 6, 13.5);
      break;
    case PLUMB_SIGN_UP:
      STROKE (8, 13, 8, 3);
      STROKE (4.5, 6.5, 8, 3, 11.5, 6.5);
      break;
    case PLUMB_SIGN_DOWN:
      STROKE (8, 3, 8, 13);
      STROKE (4.5, 9.5, 8, 13, 11.5, 9.5);
      break;
    case PLUMB_SIGN_REMOVE:
      STROKE (3, 8, 13, 8);
      break;
    case PLUMB_SIGN_REDO:
      cairo_translate (cr, 16, 0);
      cairo_scale (cr, -1, 1);
      draw_undo (cr);
      break;
    case PLUMB_SIGN_UNDO:
      draw_undo (cr);
      break;
    case PLUMB_SIGN_FOLD:
      STROKE (3, 5.5, 8, 10.5, 13, 5.5);
      break;
    case PLUMB_SIGN_UNFOLD:
      STROKE (3, 10.5, 8, 5.5, 13, 10.5);
      break;
    case PLUMB_SIGN_MENU:
      STROKE (2.5, 4, 13.5, 4);
      STROKE (2.5, 8, 13.5, 8);
      STROKE (2.5, 12, 13.5, 12);
      break;
    case PLUMB_SIGN_CLOSE:
      STROKE (3.5, 3.5, 12.5, 12.5);
      STROKE (12.5, 3.5, 3.5, 12.5);
      break;
    case PLUMB_SIGN_FIT:
      STROKE (2.5, 7, 2.5, 2.5, 7, 2.5);
      STROKE (13.5, 9, 13.5, 13.5, 9, 13.5);
      break;
    case PLUMB_N_SIGNS:
    default:
      g_assert_not_reached ();
    }
}

static void
plumb_sign_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbSign *self = PLUMB_SIGN (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double scale = MIN (width, height) / 16.0;
  GdkRGBA colour;

  if (scale <= 0)
    return;
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &colour);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_translate (cr, (width - 16 * scale) / 2, (height - 16 * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_line_width (cr, 1.5);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  draw_sign (cr, self->kind);
  cairo_destroy (cr);
}

static void
plumb_sign_class_init (PlumbSignClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = plumb_sign_snapshot;
  /* Its size stands in the style sheet, in rem. */
  gtk_widget_class_set_css_name (widget_class, "sign");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
plumb_sign_init (PlumbSign *self)
{
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}

GtkWidget *
plumb_sign_new (PlumbSignKind kind)
{
  PlumbSign *self = g_object_new (PLUMB_TYPE_SIGN, NULL);

  self->kind = kind;
  return GTK_WIDGET (self);
}

void
plumb_sign_set_kind (PlumbSign *self, PlumbSignKind kind)
{
  g_return_if_fail (PLUMB_IS_SIGN (self));
  if (self->kind == kind)
    return;
  self->kind = kind;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GtkWidget *
plumb_sign_button_new (PlumbSignKind kind, const char *name)
{
  GtkWidget *button = gtk_button_new ();

  gtk_button_set_child (GTK_BUTTON (button), plumb_sign_new (kind));
  gtk_widget_add_css_class (button, "sign-button");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return button;
}
