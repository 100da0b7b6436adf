/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/round-level.h"

#include <math.h>

#include "app/style.h"
#include "text/findings.h"

struct _PlumbRoundLevel {
  GtkWidget parent_instance;

  PlumbVerdict verdict;
};

G_DEFINE_FINAL_TYPE (PlumbRoundLevel, plumb_round_level, GTK_TYPE_WIDGET)

/* In a square of 12, its middle at 0, 0. */
static void
draw_mark (cairo_t *cr, PlumbVerdict verdict)
{
  static const double dashes[] = { 2.4, 1.9 };
  const double lean = 1.7;

  plumb_style_set_source (cr, plumb_style_verdict_role (verdict));
  cairo_set_line_width (cr, 1.4);
  switch (verdict)
    {
    case PLUMB_HOLDS:
      cairo_arc (cr, 0, 0, 5.2, 0, 2 * G_PI);
      cairo_stroke (cr);
      cairo_arc (cr, 0, 0, 2.2, 0, 2 * G_PI);
      cairo_fill (cr);
      break;
    case PLUMB_TIGHT:
      cairo_arc (cr, 0, 0, 5.2, 0, 2 * G_PI);
      cairo_stroke (cr);
      cairo_arc (cr, lean, -lean, 2.4, 0, 2 * G_PI);
      cairo_fill (cr);
      break;
    case PLUMB_FAILS:
      cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
      cairo_arc (cr, 0, 0, 5.8, 0, 2 * G_PI);
      cairo_new_sub_path (cr);
      cairo_arc (cr, lean + 0.5, -lean - 0.5, 2.0, 0, 2 * G_PI);
      cairo_fill (cr);
      break;
    case PLUMB_UNKNOWN:
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_arc (cr, 0, 0, 5.2, 0, 2 * G_PI);
      cairo_stroke (cr);
      break;
    default:
      g_assert_not_reached ();
    }
}

static void
plumb_round_level_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbRoundLevel *self = PLUMB_ROUND_LEVEL (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double size = MIN (width, height);

  if (size <= 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  cairo_translate (cr, width / 2, height / 2);
  cairo_scale (cr, size / 12.0, size / 12.0);
  draw_mark (cr, self->verdict);
  cairo_destroy (cr);
}

static void
plumb_round_level_class_init (PlumbRoundLevelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = plumb_round_level_snapshot;
  /* Its size stands in the style sheet, in rem. */
  gtk_widget_class_set_css_name (widget_class, "roundlevel");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
plumb_round_level_init (PlumbRoundLevel *self)
{
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

void
plumb_round_level_set_verdict (PlumbRoundLevel *self, PlumbVerdict verdict)
{
  g_return_if_fail (PLUMB_IS_ROUND_LEVEL (self));
  self->verdict = verdict;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, plumb_verdict_word (verdict),
                                  -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GtkWidget *
plumb_round_level_new (PlumbVerdict verdict)
{
  PlumbRoundLevel *self = g_object_new (PLUMB_TYPE_ROUND_LEVEL, NULL);

  plumb_round_level_set_verdict (self, verdict);
  return GTK_WIDGET (self);
}
