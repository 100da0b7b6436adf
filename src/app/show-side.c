/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/show-side.h"

#include "text/half.h"

GtkWidget *
plumb_show_label_new (const char *text, const char *css_class)
{
  GtkWidget *widget = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (widget), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (widget), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (widget, css_class);
  return widget;
}

void
plumb_show_side_init (PlumbShowSide *side, PlumbDocument *document, const char *title)
{
  side->half = plumb_view3d_half_new (document);
  side->foot = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  side->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  side->title = plumb_show_label_new (title, "show-title");
  side->light = plumb_view3d_light_new (side->half);
  side->figures = plumb_show_label_new ("", "view3d-about");
  gtk_label_set_ellipsize (GTK_LABEL (side->title), PANGO_ELLIPSIZE_NONE);
  gtk_box_append (GTK_BOX (side->head), side->title);
  gtk_box_append (GTK_BOX (side->foot), side->head);
  gtk_box_append (GTK_BOX (side->foot), side->light);
  gtk_box_append (GTK_BOX (side->foot), side->figures);
  gtk_widget_add_css_class (side->foot, "view3d-foot");
}

void
plumb_show_side_clear (PlumbShowSide *side)
{
  g_clear_object (&side->half);
}

void
plumb_show_side_tell (PlumbShowSide *side)
{
  const PlumbScene *scene = plumb_view3d_half_scene (side->half);
  const PlumbWords style = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  g_autofree char *words = plumb_half_figures (scene, plumb_view3d_half_evaluation (side->half), style);

  gtk_label_set_label (GTK_LABEL (side->figures), words);
}

void
plumb_show_side_lit (PlumbShowSide *side)
{
  double white_share, black_share;

  if (side->area == NULL)
    return;
  plumb_view3d_light_shares (PLUMB_VIEW3D_LIGHT (side->light), &white_share, &black_share);
  plumb_view3d_area_set_light (PLUMB_VIEW3D_AREA (side->area), white_share, black_share);
}
