/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/form.h"

#include "app/document-later.h"
#include "app/steps.h"
#include "form-private.h"
#include "text/findings.h"

#define PLUMB_TYPE_FORM (plumb_form_get_type ())
G_DECLARE_FINAL_TYPE (PlumbForm, plumb_form, PLUMB, FORM, GtkBox)

struct _PlumbForm {
  GtkBox parent_instance;
  PlumbDocument *document;
  GtkWidget *stack;
  PlumbFormPage *pages[PLUMB_N_STEPS]; /* NULL: not made yet */
  gboolean stale[PLUMB_N_STEPS];
  PlumbStep step;
};

G_DEFINE_FINAL_TYPE (PlumbForm, plumb_form, GTK_TYPE_BOX)

/* Feet, inches and their fractions want wider fields. */
static void
widen (PlumbForm *self)
{
  if (plumb_scene_job (plumb_document_scene (self->document), 0)->units == PLUMB_UNITS_IMPERIAL)
    gtk_widget_add_css_class (GTK_WIDGET (self), "imperial");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "imperial");
}

static void
show_step (PlumbForm *self, PlumbStep step)
{
  self->step = step;
  if (self->pages[step] == NULL)
    {
      self->pages[step] = PLUMB_FORM_PAGE (plumb_form_page_new (self->document, step));
      gtk_stack_add_named (GTK_STACK (self->stack), GTK_WIDGET (self->pages[step]), plumb_step_word (step));
    }
  else if (self->stale[step])
    plumb_form_page_refresh (self->pages[step]);
  self->stale[step] = FALSE;
  gtk_stack_set_visible_child (GTK_STACK (self->stack), GTK_WIDGET (self->pages[step]));
}

/* ---- callbacks -------------------------------------------------------------------------- */

static void
changed_cb (gpointer listener)
{
  PlumbForm *self = listener;

  widen (self);
  for (int step = 0; step < PLUMB_N_STEPS; step++)
    self->stale[step] = self->pages[step] != NULL;
  if (self->pages[self->step] == NULL)
    return;
  self->stale[self->step] = FALSE;
  plumb_form_page_refresh (self->pages[self->step]);
}

static void
selected_cb (PlumbForm *self)
{
  const PlumbSubject subject = plumb_document_selection (self->document);

  if (subject.kind == PLUMB_RECORD_NONE)
    return;
  const PlumbStep step = plumb_step_of_record (subject.kind);
  if (step != self->step || self->pages[step] == NULL)
    show_step (self, step);
  plumb_form_page_show_record (self->pages[step], subject.kind, subject.index,
                               plumb_document_selected_field (self->document));
}

/* ---- making it -------------------------------------------------------------------------- */

static void
plumb_form_dispose (GObject *object)
{
  g_clear_object (&PLUMB_FORM (object)->document);
  G_OBJECT_CLASS (plumb_form_parent_class)->dispose (object);
}

static void
plumb_form_class_init (PlumbFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_dispose;
}

static void
plumb_form_init (PlumbForm *self)
{
  self->stack = gtk_stack_new ();
  gtk_widget_set_hexpand (self->stack, TRUE);
  gtk_widget_set_vexpand (self->stack, TRUE);
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), TRUE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form");
  gtk_box_append (GTK_BOX (self), self->stack);
}

GtkWidget *
plumb_form_new (PlumbDocument *document)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (document), NULL);
  PlumbForm *self = g_object_new (PLUMB_TYPE_FORM, NULL);

  self->document = g_object_ref (document);
  widen (self);
  plumb_document_listen_later (document, self, changed_cb);
  g_signal_connect_object (document, "selected", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
plumb_form_show_step (GtkWidget *form, PlumbStep step)
{
  g_return_if_fail (PLUMB_IS_FORM (form));
  g_return_if_fail (step >= 0 && step < PLUMB_N_STEPS);
  show_step (PLUMB_FORM (form), step);
}

PlumbFormPage *
plumb_form_page_of (GtkWidget *form, PlumbStep step)
{
  PlumbForm *self = PLUMB_FORM (form);

  show_step (self, step);
  return self->pages[step];
}

PlumbFormSection *
plumb_form_section_of (GtkWidget *form, PlumbRecordKind kind)
{
  return plumb_form_page_section (plumb_form_page_of (form, plumb_step_of_record (kind)), kind);
}

PlumbFormCell *
plumb_form_cell_of (GtkWidget *form, PlumbRecordKind kind, guint index, int field)
{
  PlumbFormPage *page = plumb_form_page_of (form, plumb_step_of_record (kind));

  if (!plumb_form_page_show_record (page, kind, index, field))
    return NULL;
  return plumb_form_section_cell (plumb_form_page_section (page, kind), index, field);
}

gboolean
plumb_form_focus_field (GtkWidget *form, PlumbRecordKind kind, guint index, int field)
{
  g_return_val_if_fail (PLUMB_IS_FORM (form), FALSE);
  if (kind <= PLUMB_RECORD_NONE || kind >= PLUMB_N_RECORDS || field >= plumb_record_info (kind)->n_fields)
    return FALSE;
  PlumbForm *self = PLUMB_FORM (form);
  const PlumbStep step = plumb_step_of_record (kind);

  if (step != self->step || self->pages[step] == NULL)
    show_step (self, step);
  if (!plumb_form_page_show_record (self->pages[step], kind, index, field))
    return FALSE;
  if (field < 0)
    return TRUE;
  PlumbFormCell *cell = plumb_form_section_cell (plumb_form_page_section (self->pages[step], kind), index, field);
  return cell != NULL && plumb_form_cell_applies (cell) && plumb_form_cell_focus (cell);
}
