/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-line.h"

#include "form-vial.h"

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (label, "form-label");
  return label;
}

static GtkWidget *
make_note (void)
{
  GtkWidget *note = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (note), 1.0f);
  gtk_label_set_justify (GTK_LABEL (note), GTK_JUSTIFY_RIGHT);
  gtk_label_set_wrap (GTK_LABEL (note), TRUE);
  gtk_widget_add_css_class (note, "form-note");
  gtk_widget_set_visible (note, FALSE);
  return note;
}

/* Value, unit and vial: the same width in every line. */
static GtkWidget *
make_block (PlumbFormLine *line, PlumbDocument *document, GtkWidget *value, PlumbFormWidth width)
{
  GtkWidget *block = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  line->unit = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (line->unit), 0.0f);
  gtk_widget_add_css_class (line->unit, "form-unit");
  line->vial = plumb_form_vial_new (document);
  gtk_widget_set_halign (line->vial, GTK_ALIGN_END);
  gtk_widget_add_css_class (block, width == PLUMB_FORM_NUMBER ? "form-block-number" : "form-block");
  gtk_widget_add_css_class (value, width == PLUMB_FORM_NUMBER ? "form-number" : "form-choice");
  gtk_widget_set_halign (block, GTK_ALIGN_END);
  gtk_widget_set_hexpand (block, FALSE);
  if (width != PLUMB_FORM_NUMBER)
    {
      gtk_widget_set_hexpand (value, TRUE);
      gtk_widget_set_visible (line->vial, FALSE);
    }
  gtk_widget_set_visible (line->unit, width == PLUMB_FORM_NUMBER);
  gtk_box_append (GTK_BOX (block), value);
  gtk_box_append (GTK_BOX (block), line->unit);
  gtk_box_append (GTK_BOX (block), line->vial);
  return block;
}

void
plumb_form_line_fill (PlumbFormLine *line, GtkBox *box, PlumbDocument *document, const char *label, GtkWidget *value,
                      PlumbFormWidth width)
{
  GtkWidget *upper = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);

  line->label = make_label (label);
  line->note = make_note ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (box), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (box), "form-line");
  gtk_widget_add_css_class (upper, "form-line-upper");
  if (width == PLUMB_FORM_NUMBER)
    gtk_widget_add_css_class (line->note, "number");
  gtk_box_append (GTK_BOX (upper), line->label);
  gtk_box_append (GTK_BOX (upper), make_block (line, document, value, width));
  gtk_box_append (box, upper);
  gtk_box_append (box, line->note);
}

void
plumb_form_line_show_unit (PlumbFormLine *line, const char *unit)
{
  gtk_label_set_text (GTK_LABEL (line->unit), unit);
}

void
plumb_form_line_show_note (PlumbFormLine *line, char *text, const char *css_class)
{
  gtk_widget_set_visible (line->note, text != NULL);
  if (text != NULL)
    gtk_label_set_text (GTK_LABEL (line->note), text);
  if (css_class != NULL)
    gtk_widget_add_css_class (line->note, css_class);
  else
    gtk_widget_remove_css_class (line->note, "fails");
  g_free (text);
}

void
plumb_form_line_show_finding (PlumbFormLine *line, const PlumbFinding *finding)
{
  plumb_form_vial_show (line->vial, finding);
  /* A choice keeps its whole width where nothing is said about it. */
  if (!gtk_widget_get_visible (line->unit))
    gtk_widget_set_visible (line->vial, finding != NULL);
}
