/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "finding-row.h"

#include <math.h>

#include "style.h"
#include "vial.h"

struct _PlumbFindingRow {
  GtkWidget parent_instance;

  GtkWidget *vial;
  GtkLabel *verdict, *about, *sentence, *figure, *limit, *spare, *basis;
  GtkWidget *more, *apply;
  GtkLabel *cure, *assumed, *source;

  PlumbFindingItem *item;
  gulong changed_handler;
  gboolean chosen, stale;
};

enum { CURED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PlumbFindingRow, plumb_finding_row, GTK_TYPE_WIDGET)

/* ---- words of the columns ------------------------------------------------------------ */

/* Takes the text; a dash where there is none. */
static void
put (GtkLabel *label, char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "–");
  g_free (text);
}

static void
put_or_hide (GtkLabel *label, char *text)
{
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
  put (label, text);
}

static char *
bare_figure (const PlumbFinding *finding, PlumbWords words)
{
  return finding->has_figure ? plumb_figure_format (finding->figure, finding->unit, words.units, words.show) : NULL;
}

/* "≤ 2.20", "≥ 25 mm", "1.22 to 1.58". */
static char *
short_limit (const PlumbFinding *finding, PlumbWords words)
{
  const gboolean most = finding->sense == PLUMB_LIMIT_AT_MOST;

  if (finding->sense != PLUMB_LIMIT_AT_LEAST && !most)
    return plumb_finding_limit (finding, words);
  g_autofree char *value = plumb_figure_format (most ? finding->limit_most : finding->limit_least, finding->unit,
                                                words.units, words.show);
  return g_strdup_printf ("%s %s", most ? "≤" : "≥", value);
}

static char *
spare_words (const PlumbFinding *finding, PlumbWords words)
{
  double spare;

  if (!plumb_finding_spare (finding, &spare))
    return NULL;
  return plumb_figure_format (spare, finding->unit, words.units, words.show);
}

static char *
spread_words (const PlumbFinding *finding, PlumbWords words)
{
  if (!finding->has_figure || !(finding->spread > 0.0))
    return NULL;
  g_autofree char *spread = plumb_figure_format_spread (finding->spread, finding->unit, words.units, words.show);
  return g_strdup_printf ("± %s", spread);
}

/* "± 5 mm, common practice" */
static char *
short_basis (const PlumbFinding *finding, PlumbWords words)
{
  g_autofree char *spread = spread_words (finding, words);
  const char *basis = plumb_basis_word (finding->basis);

  return spread != NULL ? g_strdup_printf ("%s, %s", spread, basis) : g_strdup (basis);
}

static char *
subject_words (PlumbFindingItem *item)
{
  const guint more = plumb_finding_item_count (item) - 1;
  g_autofree char *subject
      = plumb_finding_subject_name (plumb_finding_item_scene (item), plumb_finding_item_finding (item));

  if (more == 0)
    return g_steal_pointer (&subject);
  return g_strdup_printf ("%s and %u more seat%s", subject, more, more == 1 ? "" : "s");
}

/* ---- what the chosen row says below ------------------------------------------------------ */

/* A cure that can be applied is a button that says what it does, any other one
 * a sentence. */
static void
put_cure (PlumbFindingRow *self, const PlumbFinding *finding, PlumbWords words)
{
  g_autofree char *cure = finding->verdict == PLUMB_HOLDS ? NULL : plumb_finding_cure (finding, words);
  const gboolean curable = cure != NULL && plumb_finding_item_curable (self->item);

  gtk_widget_set_visible (self->apply, curable);
  if (curable)
    gtk_button_set_label (GTK_BUTTON (self->apply), cure);
  put_or_hide (self->cure, cure == NULL || curable ? NULL : g_strdup_printf ("Cure: %s.", cure));
}

static void
apply_clicked (PlumbFindingRow *self)
{
  g_signal_emit (self, signals[CURED], 0);
}

static char *
assumed_words (PlumbFindingItem *item)
{
  const PlumbFinding *finding = plumb_finding_item_finding (item);
  g_autofree char *missing = plumb_finding_missing_key (plumb_finding_item_scene (item), finding);

  if (missing != NULL)
    return g_strdup_printf ("Missing: %s.", missing);
  return finding->assumed ? g_strdup ("Assumed: it rests on a value that nobody has typed.") : NULL;
}

static char *
source_words (PlumbFindingItem *item)
{
  const PlumbFinding *finding = plumb_finding_item_finding (item);
  const PlumbWords words = plumb_finding_item_words (item);
  g_autofree char *source = plumb_finding_basis (plumb_finding_item_scene (item), finding);
  g_autofree char *figure = plumb_finding_figure (finding, words);
  g_autofree char *limit = plumb_finding_limit (finding, words);
  GString *text = g_string_new (NULL);

  if (figure != NULL)
    g_string_append_printf (text, "Figure: %s. ", figure);
  if (figure != NULL && limit != NULL)
    g_string_append_printf (text, "Limit: %s. ", limit);
  g_string_append_printf (text, "Basis: %s.", source);
  if (plumb_finding_item_others (item) != NULL)
    g_string_append_printf (text, " The same for %s.", plumb_finding_item_others (item));
  return g_string_free (text, FALSE);
}

/* ---- filling in ---------------------------------------------------------------------------- */

/* Check in bold, then the subject. */
static void
put_about (PlumbFindingRow *self, const char *check, const char *subject)
{
  g_autofree char *markup = g_markup_printf_escaped ("<b>%s</b>  %s", check, subject);

  gtk_label_set_markup (self->about, markup);
}

/* What a screen reader says of the row: the list's own row widget, which has
 * the focus, is this one's parent. */
static void
name_row (PlumbFindingRow *self, const char *check, const char *subject, const char *sentence)
{
  GtkWidget *list_row = gtk_widget_get_parent (GTK_WIDGET (self));
  const PlumbFinding *finding = plumb_finding_item_finding (self->item);
  g_autofree char *name
      = g_strdup_printf ("%s. %s: %s. %s", plumb_verdict_word (finding->verdict), check, subject, sentence);

  if (list_row != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (list_row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
refresh (PlumbFindingRow *self)
{
  const PlumbFinding *finding = plumb_finding_item_finding (self->item);
  const PlumbWords words = plumb_finding_item_words (self->item);
  const char *check = plumb_check_info (finding->check)->label;
  g_autofree char *subject = subject_words (self->item);
  g_autofree char *sentence = plumb_finding_sentence (plumb_finding_item_scene (self->item), finding, words);

  self->stale = FALSE;
  plumb_vial_show_finding (PLUMB_VIAL (self->vial), finding, words);
  gtk_label_set_text (self->verdict, plumb_verdict_word (finding->verdict));
  plumb_style_set_verdict_class (GTK_WIDGET (self->verdict), (int) finding->verdict);
  put_about (self, check, subject);
  gtk_label_set_text (self->sentence, sentence);
  put (self->figure, bare_figure (finding, words));
  put (self->limit, short_limit (finding, words));
  put (self->spare, spare_words (finding, words));
  put (self->basis, short_basis (finding, words));
  name_row (self, check, subject, sentence);
  if (!self->chosen)
    return;
  put_cure (self, finding, words);
  put_or_hide (self->assumed, assumed_words (self->item));
  put_or_hide (self->source, source_words (self->item));
}

/* The list maps only the rows in sight; the rest is worded when it is mapped. */
static void
refresh_if_seen (PlumbFindingRow *self)
{
  self->stale = TRUE;
  if (self->item != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
}

static void
plumb_finding_row_map (GtkWidget *widget)
{
  PlumbFindingRow *self = PLUMB_FINDING_ROW (widget);

  if (self->stale && self->item != NULL)
    refresh (self);
  GTK_WIDGET_CLASS (plumb_finding_row_parent_class)->map (widget);
}

/* ---- the object ---------------------------------------------------------------------------- */

void
plumb_finding_row_show (PlumbFindingRow *self, PlumbFindingItem *item)
{
  if (self->item == item)
    return;
  if (self->item != NULL)
    g_clear_signal_handler (&self->changed_handler, self->item);
  g_set_object (&self->item, item);
  if (item == NULL)
    return;
  self->changed_handler = g_signal_connect_swapped (item, "changed", G_CALLBACK (refresh_if_seen), self);
  refresh_if_seen (self);
}

void
plumb_finding_row_set_chosen (PlumbFindingRow *self, gboolean chosen)
{
  if (self->chosen == chosen)
    return;
  self->chosen = chosen;
  gtk_label_set_wrap (self->sentence, chosen);
  gtk_label_set_ellipsize (self->sentence, chosen ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
  gtk_widget_set_visible (self->more, chosen);
  refresh_if_seen (self);
}

static void
set_chars (GtkLabel *label, int chars)
{
  gtk_label_set_width_chars (label, chars);
  gtk_label_set_max_width_chars (label, chars);
}

void
plumb_finding_row_set_room (PlumbFindingRow *self, PlumbFindingRoom room)
{
  gtk_widget_set_visible (GTK_WIDGET (self->basis), room >= PLUMB_FINDING_WIDE);
  gtk_widget_set_visible (GTK_WIDGET (self->spare), room >= PLUMB_FINDING_NARROW);
  set_chars (self->basis, plumb_finding_basis_chars (room));
  set_chars (self->about, room == PLUMB_FINDING_WIDEST ? 38 : room == PLUMB_FINDING_TIGHT ? 12 : 17);
}

int
plumb_finding_basis_chars (PlumbFindingRoom room)
{
  return room == PLUMB_FINDING_WIDEST ? 26 : 16;
}

static void
plumb_finding_row_dispose (GObject *object)
{
  GtkWidget *child;

  plumb_finding_row_show (PLUMB_FINDING_ROW (object), NULL);
  /* GTK 4.8 lets go only of the children that are bound by name. */
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (plumb_finding_row_parent_class)->dispose (object);
}

static void
plumb_finding_row_class_init (PlumbFindingRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_finding_row_dispose;
  widget_class->map = plumb_finding_row_map;
  g_type_ensure (PLUMB_TYPE_VIAL);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/finding-row.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, vial);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, verdict);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, about);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, sentence);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, figure);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, limit);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, spare);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, basis);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, more);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, apply);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, cure);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, assumed);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingRow, source);
  gtk_widget_class_set_css_name (widget_class, "findingrow");
  signals[CURED]
      = g_signal_new ("cured", PLUMB_TYPE_FINDING_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_finding_row_init (PlumbFindingRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_swapped (self->apply, "clicked", G_CALLBACK (apply_clicked), self);
}

GtkWidget *
plumb_finding_row_new (void)
{
  return g_object_new (PLUMB_TYPE_FINDING_ROW, NULL);
}
