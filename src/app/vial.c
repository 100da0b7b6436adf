/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/vial.h"

#include <math.h>

#include "app/style.h"

/* Shares of the vial's length. */
#define LOWER_LINE 0.32
#define UPPER_LINE 0.68
/* The bubble of what holds stays clear of both lines, that of what fails
 * beyond them and inside the glass. */
#define HOLDS_LEAST 0.42
#define HOLDS_MOST 0.58
#define BEYOND 0.14

struct _PlumbVial {
  GtkWidget parent_instance;

  gboolean shown;
  PlumbVerdict verdict;
  double place;
  char *words; /* verdict, figure, limit */
};

G_DEFINE_FINAL_TYPE (PlumbVial, plumb_vial, GTK_TYPE_WIDGET)

/* Where the figure lies between the lines, if the range were drawn to scale.
 * One-sided limits: the right line is the limit, the left one nothing of an
 * 'at most' and twice an 'at least'. */
static double
scale_place (const PlumbFinding *finding)
{
  double least = finding->limit_least, most = finding->limit_most, figure = finding->figure, share;

  switch (finding->sense)
    {
    case PLUMB_LIMIT_BETWEEN:
      share = most > least ? (figure - least) / (most - least) : 0.5;
      break;
    case PLUMB_LIMIT_AT_MOST:
      share = most > 0 ? figure / most : (figure > most ? 2.0 : 0.5);
      break;
    case PLUMB_LIMIT_AT_LEAST:
      share = least > 0 ? 2.0 - figure / least : (figure < least ? 2.0 : 0.5);
      break;
    case PLUMB_LIMIT_NONE:
    default:
      share = 0.5;
    }
  return isfinite (share) ? LOWER_LINE + (UPPER_LINE - LOWER_LINE) * share : 0.5;
}

double
plumb_vial_place (const PlumbFinding *finding)
{
  double place = finding->has_figure ? scale_place (finding) : finding->verdict == PLUMB_HOLDS ? 0.5 : 1.0;
  gboolean low = finding->sense == PLUMB_LIMIT_BETWEEN && place < 0.5;

  switch (finding->verdict)
    {
    case PLUMB_HOLDS:
      return CLAMP (place, HOLDS_LEAST, HOLDS_MOST);
    case PLUMB_TIGHT:
      return low ? LOWER_LINE : UPPER_LINE;
    case PLUMB_FAILS:
      return low ? BEYOND : 1.0 - BEYOND;
    case PLUMB_UNKNOWN:
    default:
      return 0.5;
    }
}

static void
glass_path (cairo_t *cr)
{
  const double r = 5.5;

  cairo_new_path (cr);
  cairo_arc (cr, 1 + r, 6.5, r, G_PI / 2, 3 * G_PI / 2);
  cairo_arc (cr, 25 - r, 6.5, r, -G_PI / 2, G_PI / 2);
  cairo_close_path (cr);
}

static void
lines_and_bubble (cairo_t *cr, double place)
{
  cairo_set_line_width (cr, 1.2);
  cairo_move_to (cr, 26 * LOWER_LINE, 1.5);
  cairo_line_to (cr, 26 * LOWER_LINE, 11.5);
  cairo_move_to (cr, 26 * UPPER_LINE, 1.5);
  cairo_line_to (cr, 26 * UPPER_LINE, 11.5);
  cairo_stroke (cr);
  cairo_arc (cr, 26 * place, 6.5, 3.4, 0, 2 * G_PI);
  cairo_fill (cr);
}

/* In 26 × 13. */
static void
draw_mark (cairo_t *cr, PlumbVerdict verdict, double place)
{
  static const double dashes[] = { 2.6, 2.0 };
  PlumbDrawColour role = plumb_style_verdict_role (verdict);

  glass_path (cr);
  cairo_set_line_width (cr, 1.4);
  if (verdict == PLUMB_UNKNOWN)
    {
      plumb_style_set_source (cr, role);
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_stroke (cr);
      return;
    }
  plumb_style_set_source (cr, verdict == PLUMB_FAILS ? role : plumb_style_verdict_soft_role (verdict));
  cairo_fill_preserve (cr);
  plumb_style_set_source (cr, role);
  cairo_stroke (cr);
  if (verdict == PLUMB_FAILS)
    plumb_style_set_source (cr, PLUMB_COLOUR_PAPER);
  lines_and_bubble (cr, place);
}

static void
plumb_vial_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbVial *self = PLUMB_VIAL (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double scale = MIN (width / 26.0, height / 13.0);

  if (!self->shown || scale <= 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  cairo_translate (cr, (width - 26 * scale) / 2, (height - 13 * scale) / 2);
  cairo_scale (cr, scale, scale);
  draw_mark (cr, self->verdict, self->place);
  cairo_destroy (cr);
}

/* Asked for when the pointer rests. A text set at every change would ask the
 * display where the pointer is, once for each vial. */
static gboolean
plumb_vial_query_tooltip (GtkWidget *widget, G_GNUC_UNUSED int x, G_GNUC_UNUSED int y,
                          G_GNUC_UNUSED gboolean keyboard, GtkTooltip *tooltip)
{
  PlumbVial *self = PLUMB_VIAL (widget);

  if (!self->shown)
    return FALSE;
  gtk_tooltip_set_text (tooltip, self->words);
  return TRUE;
}

static void
plumb_vial_finalize (GObject *object)
{
  g_free (PLUMB_VIAL (object)->words);
  G_OBJECT_CLASS (plumb_vial_parent_class)->finalize (object);
}

static void
plumb_vial_class_init (PlumbVialClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = plumb_vial_finalize;
  widget_class->snapshot = plumb_vial_snapshot;
  widget_class->query_tooltip = plumb_vial_query_tooltip;
  /* Its size stands in the style sheet, in rem. */
  gtk_widget_class_set_css_name (widget_class, "vial");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
plumb_vial_init (PlumbVial *self)
{
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
}

GtkWidget *
plumb_vial_new (void)
{
  return g_object_new (PLUMB_TYPE_VIAL, NULL);
}

void
plumb_vial_show_finding (PlumbVial *self, const PlumbFinding *finding, PlumbWords words)
{
  g_return_if_fail (PLUMB_IS_VIAL (self));
  self->shown = finding != NULL;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (finding == NULL)
    {
      gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE, -1);
      return;
    }
  g_autofree char *figure = plumb_finding_figure (finding, words);
  g_autofree char *limit = plumb_finding_limit (finding, words);
  GString *label = g_string_new (plumb_verdict_word (finding->verdict));
  if (figure != NULL)
    g_string_append_printf (label, ", %s", figure);
  if (limit != NULL)
    g_string_append_printf (label, ", %s", limit);
  self->verdict = finding->verdict;
  self->place = plumb_vial_place (finding);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_HIDDEN, FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label->str, -1);
  g_free (self->words);
  self->words = g_string_free (label, FALSE);
}
