/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-section.h"

#include <string.h>

#include "app/sign.h"
#include "document-private.h"
#include "form-drop-down.h"
#include "form-figure.h"
#include "form-line.h"
#include "form-picture.h"
#include "form-row.h"
#include "form-table.h"
#include "form-vial.h"
#include "text/findings.h"

enum { SIGN_ADD, SIGN_COPY, SIGN_UP, SIGN_DOWN, SIGN_REMOVE, N_SIGNS };

struct _PlumbFormSection {
  GtkBox parent_instance;
  PlumbDocument *document;
  const PlumbFormPlan *plan;
  const PlumbRecordInfo *info;
  guint owner;            /* nested: the record that all belong to */
  guint current;          /* of all records of the kind */
  char id[PLUMB_ID_SIZE]; /* of the current one, to find it again */
  uint32_t followed;      /* the record of the kind in the arrangement shown */
  gboolean folded;

  GtkWidget *title, *fold_sign, *vial, *signs[N_SIGNS], *trouble, *empty;
  GtkWidget *body; /* NULL until it is first unfolded */
  GtkWidget *picture;
  GtkWidget *chooser_line, *chooser;
  PlumbFormLine chooser_parts;
  GtkStringList *names;
  GtkWidget *fields, *fields_title; /* what hides while there is no record */
  PlumbFormTable *table;
  GPtrArray *rows;     /* PlumbFormRow */
  GPtrArray *figures;  /* PlumbFormFigure */
  GPtrArray *sections; /* nested, PlumbFormSection */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (PlumbFormSection, plumb_form_section, GTK_TYPE_BOX)

static PlumbFormSection *make_section (PlumbDocument *document, const PlumbFormPlan *plan);

/* ---- which records -------------------------------------------------------------------------- */

static gboolean
is_nested (PlumbFormSection *self)
{
  return self->info->parent != PLUMB_RECORD_NONE;
}

static void
find_range (PlumbFormSection *self, guint *first, guint *count)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const guint all = plumb_kind_count (scene, self->info->kind);

  *first = 0;
  *count = all;
  if (!is_nested (self))
    return;
  *count = 0;
  if (self->owner >= plumb_kind_count (scene, self->info->parent))
    return;
  uint32_t n;
  const char *records = plumb_scene_records (scene, self->info->kind, &n);
  const char *nested = plumb_scene_nested (scene, self->info->kind, self->owner, count);
  if (*count > 0)
    *first = (guint) ((gsize) (nested - records) / self->info->size);
}

static void
remember (PlumbFormSection *self, guint index)
{
  const char *id = index != PLUMB_NO_INDEX
                       ? plumb_record_id (self->info->kind, plumb_scene_record (plumb_document_scene (self->document),
                                                                                self->info->kind, index))
                       : "";

  self->current = index;
  g_strlcpy (self->id, id, sizeof self->id);
}

/* After an edit: the same record as before where there is one, and the
 * arrangement's when that became another one. */
static void
find_current (PlumbFormSection *self, guint first, guint count)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const uint32_t part = plumb_form_evaluated (plumb_document_evaluation (self->document), self->info->kind);
  guint index = self->current;

  if (self->id[0] != '\0')
    {
      guint same = plumb_scene_find (scene, self->info->kind, self->id);
      if (same != PLUMB_NO_INDEX)
        index = same;
    }
  if (part != self->followed && part < count)
    index = part;
  self->followed = part;
  if (count == 0)
    index = PLUMB_NO_INDEX;
  else if (index == PLUMB_NO_INDEX || index < first)
    index = first;
  else if (index >= first + count)
    index = first + count - 1;
  remember (self, index);
}

/* ---- the head -------------------------------------------------------------------------------- */

static void
show_trouble (PlumbFormSection *self, const char *sentence)
{
  gtk_widget_set_visible (self->trouble, sentence != NULL);
  gtk_label_set_text (GTK_LABEL (self->trouble), sentence != NULL ? sentence : "");
}

static void
show_head (PlumbFormSection *self, guint first, guint count)
{
  const PlumbFinding *finding
      = count > 0 && self->plan->n_columns == 0
            ? plumb_form_finding (plumb_document_evaluation (self->document), self->info->kind, self->current, -1)
            : NULL;
  const gboolean one = self->plan->n_columns == 0 && count > 0;

  gtk_label_set_text (GTK_LABEL (self->title), one ? self->info->label : self->plan->title);
  gtk_widget_set_visible (self->fold_sign, self->folded);
  plumb_form_vial_show (self->vial, finding);
  gtk_widget_set_visible (self->vial, finding != NULL);
  if (self->signs[SIGN_ADD] == NULL)
    return;
  gtk_widget_set_sensitive (self->signs[SIGN_COPY], count > 0);
  gtk_widget_set_sensitive (self->signs[SIGN_REMOVE], count > 0);
  gtk_widget_set_sensitive (self->signs[SIGN_UP], count > 0 && self->current > first);
  gtk_widget_set_sensitive (self->signs[SIGN_DOWN], count > 0 && self->current + 1 < first + count);
}

/* ---- the body -------------------------------------------------------------------------------- */

static void
show_chooser (PlumbFormSection *self, guint first, guint count)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  if (self->chooser == NULL)
    return;
  g_autofree char *label = g_strdup_printf (N_ ("Shown, %u of %u"), count > 0 ? self->current - first + 1 : 0, count);
  gtk_label_set_text (GTK_LABEL (self->chooser_parts.label), label);
  for (guint i = 0; i < count; i++)
    g_ptr_array_add (names, plumb_record_name (scene, self->info->kind, first + i));
  g_ptr_array_add (names, NULL);
  self->filling = TRUE;
  plumb_form_drop_down_fill (self->names, (const char *const *) names->pdata);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->chooser),
                              count > 0 ? self->current - first : GTK_INVALID_LIST_POSITION);
  self->filling = FALSE;
  gtk_widget_set_visible (self->chooser_line, count > 1);
}

static gboolean
nested_applies (PlumbFormSection *nested, const PlumbScene *scene, guint owner)
{
  const PlumbFormPlan *plan = nested->plan;
  const PlumbRecordInfo *info = plumb_record_info (nested->info->parent);

  if (owner == PLUMB_NO_INDEX)
    return FALSE;
  return plan->owner_field == 0
         || (int) plumb_field_number (&info->fields[plan->owner_field], plumb_scene_record (scene, info->kind, owner))
                == plan->owner_value;
}

static void
show_nested (PlumbFormSection *self)
{
  for (guint i = 0; i < self->sections->len; i++)
    {
      PlumbFormSection *nested = g_ptr_array_index (self->sections, i);
      if (nested->owner != self->current)
        {
          nested->owner = self->current;
          nested->current = PLUMB_NO_INDEX;
        }
      gtk_widget_set_visible (GTK_WIDGET (nested),
                              nested_applies (nested, plumb_document_scene (self->document), self->current));
      plumb_form_section_refresh (nested);
    }
}

/* Of rows one below the other that are all assumed, the last says so. */
static void
quieten (PlumbFormSection *self)
{
  GtkWidget *below = NULL;

  for (GtkWidget *widget = gtk_widget_get_last_child (self->fields); widget != NULL;
       widget = gtk_widget_get_prev_sibling (widget))
    {
      if (!gtk_widget_get_visible (widget))
        continue;
      if (PLUMB_IS_FORM_ROW (widget))
        plumb_form_row_set_quiet (PLUMB_FORM_ROW (widget), below != NULL && PLUMB_IS_FORM_ROW (below)
                                                               && plumb_form_row_is_assumed (PLUMB_FORM_ROW (below)));
      below = widget;
    }
}

static void
show_body (PlumbFormSection *self, guint first, guint count)
{
  if (self->table != NULL)
    {
      g_autofree char *name
          = count > 0 ? plumb_record_name (plumb_document_scene (self->document), self->info->kind, self->current)
                      : g_strdup ("");
      plumb_form_table_show (self->table, first, count, self->current);
      gtk_label_set_text (GTK_LABEL (self->fields_title), name);
    }
  show_chooser (self, first, count);
  if (self->picture != NULL)
    gtk_widget_set_visible (self->picture, count > 0);
  gtk_widget_set_visible (self->fields, count > 0);
  for (guint i = 0; i < self->rows->len; i++)
    {
      PlumbFormRow *row = g_ptr_array_index (self->rows, i);
      plumb_form_row_set_index (row, self->current);
      plumb_form_row_refresh (row);
    }
  quieten (self);
  for (guint i = 0; i < self->figures->len; i++)
    {
      PlumbFormFigure *figure = g_ptr_array_index (self->figures, i);
      plumb_form_figure_set_index (figure, self->current);
      plumb_form_figure_refresh (figure);
    }
  show_nested (self);
}

static GtkWidget *
make_fields_title (PlumbFormSection *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);

  self->fields_title = gtk_label_new (NULL);
  gtk_label_set_ellipsize (GTK_LABEL (self->fields_title), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (self->fields_title, "form-section-name");
  gtk_widget_set_hexpand (line, TRUE);
  gtk_widget_set_valign (line, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (box, "form-section-head");
  gtk_box_append (GTK_BOX (box), self->fields_title);
  gtk_box_append (GTK_BOX (box), line);
  return box;
}

static void
add_fields (PlumbFormSection *self)
{
  for (int field = 0; field < self->info->n_fields; field++)
    {
      if (!plumb_form_plan_has_column (self->plan, field))
        {
          GtkWidget *row = plumb_form_row_new (self->document, self->info->kind, field);
          g_ptr_array_add (self->rows, row);
          gtk_box_append (GTK_BOX (self->fields), row);
        }
      plumb_form_figures_append (self->figures, GTK_BOX (self->fields), self->document, self->info->kind, field);
    }
  /* All of it stands in the table. */
  if (self->rows->len == 0)
    gtk_widget_set_visible (gtk_widget_get_parent (self->fields_title), FALSE);
}

static void
more_cb (PlumbFormSection *self)
{
  plumb_form_section_add (self);
}

static void
chosen_cb (PlumbFormSection *self)
{
  guint first, count, item = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->chooser));

  find_range (self, &first, &count);
  if (self->filling || item >= count || first + item == self->current)
    return;
  remember (self, first + item);
  if (self->info->kind == PLUMB_RECORD_ARRANGEMENT)
    plumb_document_show_arrangement (self->document, first + item);
  plumb_document_select (self->document, (PlumbSubject){ self->info->kind, first + item, PLUMB_NO_INDEX }, -1);
  plumb_form_section_refresh (self);
}

static void
add_chooser (PlumbFormSection *self)
{
  self->names = gtk_string_list_new (NULL);
  self->chooser = plumb_form_drop_down_new (self->names);
  self->chooser_line = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  plumb_form_line_fill (&self->chooser_parts, GTK_BOX (self->chooser_line), self->document, "", self->chooser,
                        PLUMB_FORM_CHOICE);
  gtk_widget_add_css_class (self->chooser, "field");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->chooser), GTK_ACCESSIBLE_RELATION_LABELLED_BY, self->title,
                                  self->chooser_parts.label, NULL, -1);
  g_signal_connect_swapped (self->chooser, "notify::selected", G_CALLBACK (chosen_cb), self);
  gtk_box_append (GTK_BOX (self->body), self->chooser_line);
}

static void
add_nested (PlumbFormSection *self)
{
  guint n_plans;
  const PlumbFormPlan *plans = plumb_form_plans (&n_plans);

  for (guint i = 0; i < n_plans; i++)
    if (plumb_record_info (plans[i].kind)->parent == self->info->kind)
      {
        PlumbFormSection *nested = make_section (self->document, &plans[i]);
        g_ptr_array_add (self->sections, nested);
        gtk_box_append (GTK_BOX (self->body), GTK_WIDGET (nested));
      }
}

static void
build_body (PlumbFormSection *self)
{
  self->body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->fields = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->picture = plumb_form_picture_new (self->info->kind);
  if (self->picture != NULL)
    gtk_box_append (GTK_BOX (self->body), self->picture);
  if (self->plan->n_columns > 0)
    {
      self->table = PLUMB_FORM_TABLE (plumb_form_table_new (self->document, self->plan));
      g_signal_connect_object (self->table, "more", G_CALLBACK (more_cb), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->body), GTK_WIDGET (self->table));
      gtk_box_append (GTK_BOX (self->fields), make_fields_title (self));
    }
  else if (self->info->kind != PLUMB_RECORD_JOB)
    add_chooser (self);
  add_fields (self);
  gtk_box_append (GTK_BOX (self->body), self->fields);
  add_nested (self);
  gtk_box_append (GTK_BOX (self), self->body);
}

void
plumb_form_section_refresh (PlumbFormSection *self)
{
  g_return_if_fail (PLUMB_IS_FORM_SECTION (self));
  guint first, count;

  find_range (self, &first, &count);
  find_current (self, first, count);
  show_head (self, first, count);
  gtk_widget_set_visible (self->empty, count == 0 && !self->folded);
  if (!self->folded && self->body == NULL && count > 0)
    build_body (self);
  if (self->body == NULL)
    return;
  gtk_widget_set_visible (self->body, !self->folded && count > 0);
  if (!self->folded)
    show_body (self, first, count);
}

/* ---- the signs ----------------------------------------------------------------------------------- */

static void
select_record (PlumbFormSection *self, guint index)
{
  remember (self, index);
  self->folded = FALSE;
  plumb_form_section_refresh (self);
  plumb_document_select (self->document, (PlumbSubject){ self->info->kind, index, PLUMB_NO_INDEX }, -1);
}

/* Takes the error. */
static void
tell (PlumbFormSection *self, GError *error)
{
  show_trouble (self, error != NULL ? error->message : NULL);
  g_clear_error (&error);
}

guint
plumb_form_section_add (PlumbFormSection *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_SECTION (self), PLUMB_NO_INDEX);
  GError *error = NULL;
  const guint index
      = plumb_document_add_fitting (self->document, self->info->kind, self->owner, self->current, &error);

  tell (self, error);
  if (index != PLUMB_NO_INDEX)
    select_record (self, index);
  return index;
}

guint
plumb_form_section_copy (PlumbFormSection *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_SECTION (self), PLUMB_NO_INDEX);
  GError *error = NULL;
  const guint index = plumb_document_copy (self->document, self->info->kind, self->current, &error);

  tell (self, error);
  if (index != PLUMB_NO_INDEX)
    select_record (self, index);
  return index;
}

gboolean
plumb_form_section_move (PlumbFormSection *self, int by)
{
  g_return_val_if_fail (PLUMB_IS_FORM_SECTION (self), FALSE);
  const guint from = self->current;
  GError *error = NULL;
  const gboolean moved = plumb_document_move (self->document, self->info->kind, from, by, &error);

  tell (self, error);
  if (moved)
    select_record (self, by < 0 ? from - 1 : from + 1);
  return moved;
}

gboolean
plumb_form_section_remove (PlumbFormSection *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_SECTION (self), FALSE);
  GError *error = NULL;
  const gboolean removed = plumb_document_remove (self->document, self->info->kind, self->current, &error);

  tell (self, error);
  return removed;
}

/* The keyboard goes to where a new record is typed. */
static void
focus_first (PlumbFormSection *self, guint index)
{
  const int field = self->plan->n_columns > 0 ? self->plan->columns[0] : plumb_field_find (self->info, "label");
  PlumbFormCell *cell = index != PLUMB_NO_INDEX ? plumb_form_section_cell (self, index, MAX (field, 0)) : NULL;

  if (cell != NULL)
    plumb_form_cell_focus (cell);
}

static void
sign_cb (GtkButton *button, PlumbFormSection *self)
{
  if (GTK_WIDGET (button) == self->signs[SIGN_ADD])
    focus_first (self, plumb_form_section_add (self));
  else if (GTK_WIDGET (button) == self->signs[SIGN_COPY])
    focus_first (self, plumb_form_section_copy (self));
  else if (GTK_WIDGET (button) == self->signs[SIGN_UP])
    plumb_form_section_move (self, -1);
  else if (GTK_WIDGET (button) == self->signs[SIGN_DOWN])
    plumb_form_section_move (self, 1);
  else
    plumb_form_section_remove (self);
}

/* Whether the keys go to something inside. */
static gboolean
has_keys (GtkWidget *part)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (part));

  return focus != NULL && gtk_widget_is_ancestor (focus, part);
}

/* Alt and Down leads from a row of the table to the rest of its record, which
 * Tab would reach by way of all rows below; Alt and Up leads back. */
static gboolean
key_cb (PlumbFormSection *self, guint key, guint code, GdkModifierType state)
{
  const gboolean alt = (state & gtk_accelerator_get_default_mod_mask ()) == GDK_ALT_MASK;

  (void) code;
  if (!alt || self->table == NULL || self->rows->len == 0)
    return GDK_EVENT_PROPAGATE;
  if (key == GDK_KEY_Down && has_keys (GTK_WIDGET (self->table)))
    plumb_form_cell_focus (plumb_form_row_cell (g_ptr_array_index (self->rows, 0)));
  else if (key == GDK_KEY_Up && has_keys (self->fields))
    focus_first (self, self->current);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static void
fold_cb (PlumbFormSection *self)
{
  self->folded = !self->folded;
  plumb_form_section_refresh (self);
}

/* ---- making it ----------------------------------------------------------------------------------- */

static void
plumb_form_section_dispose (GObject *object)
{
  g_clear_object (&PLUMB_FORM_SECTION (object)->document);
  G_OBJECT_CLASS (plumb_form_section_parent_class)->dispose (object);
}

static void
plumb_form_section_finalize (GObject *object)
{
  PlumbFormSection *self = PLUMB_FORM_SECTION (object);

  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->figures);
  g_ptr_array_unref (self->sections);
  G_OBJECT_CLASS (plumb_form_section_parent_class)->finalize (object);
}

static void
plumb_form_section_class_init (PlumbFormSectionClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_section_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_form_section_finalize;
}

static void
plumb_form_section_init (PlumbFormSection *self)
{
  self->owner = self->current = PLUMB_NO_INDEX;
  self->followed = PLUMB_NO_INDEX;
  self->rows = g_ptr_array_new ();
  self->figures = g_ptr_array_new ();
  self->sections = g_ptr_array_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form-section");
}

static void
add_signs (PlumbFormSection *self, GtkBox *head)
{
  static const struct {
    PlumbSignKind sign;
    const char *name;
  } signs[N_SIGNS] = {
    [SIGN_ADD] = { PLUMB_SIGN_ADD, N_ ("Add: %s") },          [SIGN_COPY] = { PLUMB_SIGN_COPY, N_ ("Copy: %s") },
    [SIGN_UP] = { PLUMB_SIGN_UP, N_ ("Move up: %s") },        [SIGN_DOWN] = { PLUMB_SIGN_DOWN, N_ ("Move down: %s") },
    [SIGN_REMOVE] = { PLUMB_SIGN_REMOVE, N_ ("Remove: %s") },
  };
  g_autofree char *what = g_utf8_strdown (self->info->label, -1);

  for (int i = 0; i < N_SIGNS; i++)
    {
      GString *name = g_string_new (signs[i].name);
      g_string_replace (name, "%s", what, 1);
      self->signs[i] = plumb_sign_button_new (signs[i].sign, name->str);
      g_string_free (name, TRUE);
      g_signal_connect (self->signs[i], "clicked", G_CALLBACK (sign_cb), self);
      gtk_box_append (head, self->signs[i]);
    }
}

static GtkWidget *
make_title_button (PlumbFormSection *self)
{
  GtkWidget *button = gtk_button_new (), *inner = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);

  self->title = gtk_label_new (NULL);
  gtk_label_set_ellipsize (GTK_LABEL (self->title), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0.0f);
  gtk_widget_add_css_class (self->title, "form-section-name");
  self->fold_sign = plumb_sign_new (PLUMB_SIGN_FOLD);
  gtk_widget_add_css_class (self->fold_sign, "form-fold");
  gtk_box_append (GTK_BOX (inner), self->title);
  gtk_box_append (GTK_BOX (inner), self->fold_sign);
  gtk_button_set_child (GTK_BUTTON (button), inner);
  gtk_widget_add_css_class (button, "form-section-button");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY, self->title, NULL,
                                  -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (fold_cb), self);
  return button;
}

static GtkWidget *
make_section_head (PlumbFormSection *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL);

  self->vial = plumb_form_vial_new (self->document);
  gtk_widget_set_hexpand (line, TRUE);
  gtk_widget_set_valign (line, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (head, "form-section-head");
  gtk_box_append (GTK_BOX (head), make_title_button (self));
  gtk_box_append (GTK_BOX (head), self->vial);
  gtk_box_append (GTK_BOX (head), line);
  if (self->info->kind != PLUMB_RECORD_JOB)
    add_signs (self, GTK_BOX (head));
  return head;
}

static GtkWidget *
make_sentence (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "form-note");
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_widget_set_visible (label, FALSE);
  return label;
}

static PlumbFormSection *
make_section (PlumbDocument *document, const PlumbFormPlan *plan)
{
  PlumbFormSection *self = g_object_new (PLUMB_TYPE_FORM_SECTION, NULL);
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  self->document = g_object_ref (document);
  self->plan = plan;
  self->info = plumb_record_info (plan->kind);
  self->folded = plan->folds && plumb_kind_count (plumb_document_scene (document), PLUMB_RECORD_WALL) > 0;
  self->trouble = make_sentence (NULL, "fails");
  self->empty = make_sentence (N_ ("None yet."), NULL);
  gtk_box_append (GTK_BOX (self), make_section_head (self));
  gtk_box_append (GTK_BOX (self), self->trouble);
  gtk_box_append (GTK_BOX (self), self->empty);
  return self;
}

GtkWidget *
plumb_form_section_new (PlumbDocument *document, const PlumbFormPlan *plan)
{
  PlumbFormSection *self = make_section (document, plan);

  plumb_form_section_refresh (self);
  return GTK_WIDGET (self);
}

/* ---- public -------------------------------------------------------------------------------------- */

guint
plumb_form_section_current (PlumbFormSection *self)
{
  return self->current;
}

PlumbFormSection *
plumb_form_section_find (PlumbFormSection *self, PlumbRecordKind kind)
{
  if (self->info->kind == kind)
    return self;
  for (guint i = 0; i < self->sections->len; i++)
    if (((PlumbFormSection *) g_ptr_array_index (self->sections, i))->info->kind == kind)
      return g_ptr_array_index (self->sections, i);
  return NULL;
}

gboolean
plumb_form_section_show_record (PlumbFormSection *self, PlumbRecordKind kind, guint index, int field)
{
  const PlumbScene *scene = plumb_document_scene (self->document);

  if (index >= plumb_kind_count (scene, kind))
    return FALSE;
  const gboolean is_own = kind == self->info->kind;
  const guint own = is_own ? index : plumb_record_owner (scene, kind, index);
  if (self->current != own || self->folded)
    {
      remember (self, own);
      self->folded = FALSE;
      plumb_form_section_refresh (self);
    }
  if (self->picture != NULL)
    plumb_form_picture_mark (PLUMB_FORM_PICTURE (self->picture), is_own ? field : -1);
  PlumbFormSection *inner = plumb_form_section_find (self, kind);
  return is_own || (inner != NULL && plumb_form_section_show_record (inner, kind, index, field));
}

PlumbFormCell *
plumb_form_section_cell (PlumbFormSection *self, guint index, int field)
{
  if (self->body == NULL)
    return NULL;
  if (plumb_form_plan_has_column (self->plan, field))
    return plumb_form_table_cell (self->table, index, field);
  for (guint i = 0; i < self->rows->len && index == self->current; i++)
    {
      PlumbFormCell *cell = plumb_form_row_cell (g_ptr_array_index (self->rows, i));
      if (plumb_form_cell_field (cell) == field)
        return cell;
    }
  return NULL;
}
