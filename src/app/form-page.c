/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-page.h"

#include "app/steps.h"
#include "text/findings.h"

struct _PlumbFormPage {
  GtkBox parent_instance;
  GtkWidget *scrolled, *content;
  GPtrArray *sections; /* PlumbFormSection */
  GtkWidget *wanted;   /* to be scrolled to, a child of the content */
  guint scroll_id;
};

G_DEFINE_FINAL_TYPE (PlumbFormPage, plumb_form_page, GTK_TYPE_BOX)

/* ---- scrolling -------------------------------------------------------------------------- */

/* After the layout, of which a page that was just made has none yet. */
static gboolean
scroll_cb (gpointer data)
{
  PlumbFormPage *self = data;
  graphene_rect_t bounds;

  self->scroll_id = 0;
  if (self->wanted != NULL && gtk_widget_compute_bounds (self->wanted, self->content, &bounds))
    {
      GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
      const double top = (double) bounds.origin.y, page = gtk_adjustment_get_page_size (adjustment);
      gtk_adjustment_clamp_page (adjustment, top, top + MIN ((double) bounds.size.height, page));
    }
  g_clear_weak_pointer (&self->wanted);
  return G_SOURCE_REMOVE;
}

static gboolean
holds_keyboard (PlumbFormPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self));
}

static void
scroll_to (PlumbFormPage *self, GtkWidget *widget)
{
  if (holds_keyboard (self))
    return;
  g_set_weak_pointer (&self->wanted, widget);
  if (self->scroll_id == 0)
    self->scroll_id = g_idle_add_full (G_PRIORITY_LOW, scroll_cb, self, NULL);
}

/* ---- making it -------------------------------------------------------------------------- */

static void
plumb_form_page_dispose (GObject *object)
{
  PlumbFormPage *self = PLUMB_FORM_PAGE (object);

  g_clear_handle_id (&self->scroll_id, g_source_remove);
  g_clear_weak_pointer (&self->wanted);
  G_OBJECT_CLASS (plumb_form_page_parent_class)->dispose (object);
}

static void
plumb_form_page_finalize (GObject *object)
{
  g_ptr_array_unref (PLUMB_FORM_PAGE (object)->sections);
  G_OBJECT_CLASS (plumb_form_page_parent_class)->finalize (object);
}

static void
plumb_form_page_class_init (PlumbFormPageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_form_page_finalize;
}

static void
plumb_form_page_init (PlumbFormPage *self)
{
  self->sections = g_ptr_array_new ();
  self->scrolled = gtk_scrolled_window_new ();
  self->content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form-page");
  gtk_widget_add_css_class (self->content, "form-content");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), self->content);
  gtk_widget_set_vexpand (self->scrolled, TRUE);
  gtk_widget_set_hexpand (self->scrolled, TRUE);
  gtk_box_append (GTK_BOX (self), self->scrolled);
}

static void
add_line (PlumbFormPage *self, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (self->content), label);
}

static void
add_sections (PlumbFormPage *self, PlumbDocument *document, PlumbStep step)
{
  guint n_plans;
  const PlumbFormPlan *plans = plumb_form_plans (&n_plans);

  for (guint i = 0; i < n_plans; i++)
    {
      if (plumb_record_info (plans[i].kind)->parent != PLUMB_RECORD_NONE
          || plumb_step_of_record (plans[i].kind) != step)
        continue;
      GtkWidget *section = plumb_form_section_new (document, &plans[i]);
      g_ptr_array_add (self->sections, section);
      gtk_box_append (GTK_BOX (self->content), section);
    }
}

/* What can be printed, by the window's own actions. */
static void
add_papers (PlumbFormPage *self)
{
  static const struct {
    const char *label, *action, *sentence;
  } papers[] = {
    { N_ ("Survey sheet…"), "app.survey", N_ ("A blank to carry round the room with a tape, as a PDF.") },
    { N_ ("All sheets…"), "app.sheets", N_ ("Survey, plan, side, picture and ceiling in one PDF.") },
    { N_ ("Print…"), "app.print", N_ ("The same to a printer, at 100 %.") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      GtkWidget *button = gtk_button_new_with_label (papers[i].label);

      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), papers[i].action);
      gtk_widget_set_halign (button, GTK_ALIGN_START);
      gtk_widget_set_margin_top (button, 12);
      gtk_box_append (GTK_BOX (self->content), button);
      add_line (self, papers[i].sentence, "form-sentence");
    }
}

GtkWidget *
plumb_form_page_new (PlumbDocument *document, PlumbStep step)
{
  PlumbFormPage *self = g_object_new (PLUMB_TYPE_FORM_PAGE, NULL);

  add_line (self, plumb_step_word (step), "form-title");
  add_line (self, plumb_form_step_sentence (step), "form-sentence");
  add_sections (self, document, step);
  if (step == PLUMB_STEP_PAPERS)
    add_papers (self);
  return GTK_WIDGET (self);
}

void
plumb_form_page_refresh (PlumbFormPage *self)
{
  for (guint i = 0; i < self->sections->len; i++)
    plumb_form_section_refresh (g_ptr_array_index (self->sections, i));
}

PlumbFormSection *
plumb_form_page_section (PlumbFormPage *self, PlumbRecordKind kind)
{
  for (guint i = 0; i < self->sections->len; i++)
    {
      PlumbFormSection *section = plumb_form_section_find (g_ptr_array_index (self->sections, i), kind);
      if (section != NULL)
        return section;
    }
  return NULL;
}

gboolean
plumb_form_page_show_record (PlumbFormPage *self, PlumbRecordKind kind, guint index, int field)
{
  const PlumbRecordKind parent = plumb_record_info (kind)->parent;
  PlumbFormSection *outer = plumb_form_page_section (self, parent != PLUMB_RECORD_NONE ? parent : kind);

  if (outer == NULL || !plumb_form_section_show_record (outer, kind, index, field))
    return FALSE;
  PlumbFormSection *section = plumb_form_page_section (self, kind);
  PlumbFormCell *cell = field >= 0 ? plumb_form_section_cell (section, index, field) : NULL;
  scroll_to (self, cell != NULL ? GTK_WIDGET (cell) : GTK_WIDGET (section));
  return TRUE;
}
