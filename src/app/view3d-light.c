/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-light.h"

#include "app/document-later.h"
#include "app/vial.h"
#include "text/half.h"

struct _PlumbView3dLight {
  GtkBox parent_instance;

  PlumbView3dHalf *half;
  GtkWidget *above, *below, *words, *about, *vial, *verdict;
  GPtrArray *names; /* as shown, the dark room first */
  guint chosen;     /* 0: the dark room, else state + 1 */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (PlumbView3dLight, plumb_view3d_light, GTK_TYPE_BOX)

static guint lit_signal;

/* ---- the figures ---------------------------------------------------------------- */

guint
plumb_view3d_light_get (PlumbView3dLight *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_LIGHT (self), PLUMB_NO_INDEX);
  return self->chosen > 0 ? self->chosen - 1 : PLUMB_NO_INDEX;
}

static void
show_figures (PlumbView3dLight *self)
{
  const PlumbScene *scene = plumb_view3d_half_scene (self->half);
  const PlumbEvaluation *evaluation = plumb_view3d_half_evaluation (self->half);
  guint light = plumb_view3d_light_get (self);
  const PlumbFinding *finding = plumb_light_finding (evaluation, light);
  const PlumbWords style = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  g_autofree char *words = plumb_light_words (scene, evaluation, light, style);

  gtk_label_set_label (GTK_LABEL (self->about), words);
  plumb_vial_show_finding (PLUMB_VIAL (self->vial), finding, style);
  gtk_widget_set_visible (self->vial, finding != NULL);
  gtk_label_set_label (GTK_LABEL (self->verdict), finding != NULL ? plumb_verdict_word (finding->verdict) : "");
}

/* ---- the words ------------------------------------------------------------------- */

static void
toggled_cb (PlumbView3dLight *self, GtkToggleButton *word)
{
  if (self->filling || !gtk_toggle_button_get_active (word))
    return;
  self->chosen = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (word), "light"));
  show_figures (self);
  g_signal_emit (self, lit_signal, 0);
}

static GPtrArray *
names_now (PlumbView3dLight *self)
{
  const PlumbScene *scene = plumb_view3d_half_scene (self->half);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  uint32_t n;

  plumb_scene_light_state_records (scene, &n);
  g_ptr_array_add (names, plumb_light_name (scene, PLUMB_NO_INDEX));
  for (uint32_t i = 0; i < n; i++)
    g_ptr_array_add (names, plumb_light_name (scene, i));
  return names;
}

static gboolean
same_names (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!g_str_equal (a->pdata[i], b->pdata[i]))
      return FALSE;
  return TRUE;
}

static void
fill_words (PlumbView3dLight *self)
{
  GtkWidget *child, *first = NULL;

  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->words)) != NULL)
    gtk_box_remove (GTK_BOX (self->words), child);
  for (guint i = 0; i < self->names->len; i++)
    {
      GtkWidget *word = gtk_toggle_button_new_with_label (self->names->pdata[i]);
      gtk_label_set_ellipsize (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (word))), PANGO_ELLIPSIZE_END);
      gtk_widget_add_css_class (word, "view3d-word");
      g_object_set_data (G_OBJECT (word), "light", GUINT_TO_POINTER (i));
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (word), i == self->chosen);
      if (first == NULL)
        first = word;
      else
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (word), GTK_TOGGLE_BUTTON (first));
      g_signal_connect_object (word, "toggled", G_CALLBACK (toggled_cb), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->words), word);
    }
  self->filling = FALSE;
}

static void
changed_cb (gpointer listener)
{
  PlumbView3dLight *self = listener;
  GPtrArray *names = names_now (self);

  if (same_names (self->names, names))
    g_ptr_array_unref (names);
  else
    {
      g_clear_pointer (&self->names, g_ptr_array_unref);
      self->names = names;
      if (self->chosen >= names->len)
        self->chosen = 0;
      fill_words (self);
    }
  show_figures (self);
  g_signal_emit (self, lit_signal, 0);
}

/* ---- the widget ------------------------------------------------------------------- */

static void
plumb_view3d_light_finalize (GObject *object)
{
  PlumbView3dLight *self = PLUMB_VIEW3D_LIGHT (object);

  g_clear_pointer (&self->names, g_ptr_array_unref);
  g_clear_object (&self->half);
  G_OBJECT_CLASS (plumb_view3d_light_parent_class)->finalize (object);
}

static void
plumb_view3d_light_class_init (PlumbView3dLightClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_view3d_light_finalize;
  lit_signal = g_signal_new ("lit", PLUMB_TYPE_VIEW3D_LIGHT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
label (const char *text, const char *css_class)
{
  GtkWidget *widget = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (widget), 0.0f);
  gtk_widget_add_css_class (widget, css_class);
  return widget;
}

static void
plumb_view3d_light_init (PlumbView3dLight *self)
{
  self->above = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->below = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->words = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->about = label ("", "view3d-about");
  gtk_label_set_ellipsize (GTK_LABEL (self->about), PANGO_ELLIPSIZE_END);
  self->vial = plumb_vial_new ();
  self->verdict = label ("", "view3d-about");
  gtk_box_append (GTK_BOX (self->above), label ("Light", "view3d-light"));
  gtk_box_append (GTK_BOX (self->above), self->words);
  gtk_box_append (GTK_BOX (self->below), self->about);
  gtk_box_append (GTK_BOX (self->below), self->vial);
  gtk_box_append (GTK_BOX (self->below), self->verdict);
  gtk_box_append (GTK_BOX (self), self->above);
  gtk_box_append (GTK_BOX (self), self->below);
}

GtkWidget *
plumb_view3d_light_new (PlumbView3dHalf *half)
{
  PlumbView3dLight *self = g_object_new (PLUMB_TYPE_VIEW3D_LIGHT, NULL);

  self->half = g_object_ref (half);
  changed_cb (self);
  plumb_document_listen_later (plumb_view3d_half_document (half), self, changed_cb);
  g_signal_connect_object (half, "chosen", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
plumb_view3d_light_put_beside (PlumbView3dLight *self, GtkWidget *above, GtkWidget *below)
{
  GtkWidget *const beside[] = { above, below };
  GtkWidget *const rows[] = { self->above, self->below };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gtk_widget_set_hexpand (beside[i], TRUE);
      gtk_widget_set_halign (beside[i], GTK_ALIGN_END);
      gtk_box_append (GTK_BOX (rows[i]), beside[i]);
    }
}

void
plumb_view3d_light_choose (PlumbView3dLight *self, guint light)
{
  GtkWidget *word;

  g_return_if_fail (PLUMB_IS_VIEW3D_LIGHT (self));
  word = gtk_widget_get_first_child (self->words);
  for (guint i = light == PLUMB_NO_INDEX ? 0 : light + 1; i > 0 && word != NULL; i--)
    word = gtk_widget_get_next_sibling (word);
  if (word != NULL)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (word), TRUE);
}

void
plumb_view3d_light_shares (PlumbView3dLight *self, double *white_share, double *black_share)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_LIGHT (self));
  plumb_light_shares (plumb_view3d_half_evaluation (self->half), plumb_view3d_light_get (self), white_share,
                      black_share);
}
