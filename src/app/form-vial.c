/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-vial.h"

#include <string.h>

#define FINDING "plumb-form-finding"
#define DOCUMENT "plumb-form-document"

static PlumbWords
words_of (PlumbDocument *document)
{
  return (PlumbWords){ plumb_scene_job (plumb_document_scene (document), 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
}

static gboolean
query_tooltip_cb (GtkWidget *vial, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const PlumbFinding *finding = g_object_get_data (G_OBJECT (vial), FINDING);
  PlumbDocument *document = g_object_get_data (G_OBJECT (vial), DOCUMENT);

  (void) x;
  (void) y;
  (void) keyboard;
  if (finding == NULL)
    return FALSE;
  g_autofree char *sentence = plumb_finding_sentence (plumb_document_scene (document), finding, words_of (document));
  gtk_tooltip_set_text (tooltip, sentence);
  return TRUE;
}

GtkWidget *
plumb_form_vial_new (PlumbDocument *document)
{
  GtkWidget *vial = plumb_vial_new ();

  g_object_set_data_full (G_OBJECT (vial), DOCUMENT, g_object_ref (document), g_object_unref);
  gtk_widget_set_valign (vial, GTK_ALIGN_CENTER);
  gtk_widget_set_has_tooltip (vial, TRUE);
  g_signal_connect (vial, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  return vial;
}

void
plumb_form_vial_show (GtkWidget *vial, const PlumbFinding *finding)
{
  const PlumbFinding *before = g_object_get_data (G_OBJECT (vial), FINDING);

  /* While something is dragged most verdicts stay as they are. */
  if (before == finding || (before != NULL && finding != NULL && memcmp (before, finding, sizeof *finding) == 0))
    return;
  g_object_set_data_full (G_OBJECT (vial), FINDING, g_memdup2 (finding, finding != NULL ? sizeof *finding : 0),
                          g_free);
  plumb_vial_show_finding (PLUMB_VIAL (vial), finding, words_of (g_object_get_data (G_OBJECT (vial), DOCUMENT)));
}
