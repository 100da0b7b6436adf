/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-table.h"

#include <string.h>

#include "form-row.h"
#include "form-value.h"
#include "form-vial.h"
#include "style.h"
#include "text/findings.h"

typedef struct {
  GtkWidget *box, *head, *vial;
  PlumbFormCell *cells[PLUMB_FORM_MOST_COLUMNS];
  guint index;
} Row;

struct _PlumbFormTable {
  GtkBox parent_instance;
  PlumbDocument *document;
  const PlumbFormPlan *plan;
  const PlumbRecordInfo *info;
  GtkWidget *heads[PLUMB_FORM_MOST_COLUMNS];
  GtkWidget *rows_box, *note, *foot, *foot_label, *earlier, *later;
  GPtrArray *rows;
  guint first, count, current; /* of the records */
  guint top;                   /* record of the first row, counted from `first` */
  gboolean filling;
};

enum { MORE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PlumbFormTable, plumb_form_table, GTK_TYPE_BOX)

/* ---- notes below --------------------------------------------------------------------------- */

/* The first trouble of a row, else what the italics mean. */
static void
show_note (PlumbFormTable *self)
{
  const char *trouble = NULL, *basis = NULL;

  for (guint i = 0; i < self->rows->len; i++)
    for (int c = 0; c < self->plan->n_columns; c++)
      {
        PlumbFormCell *cell = ((Row *) g_ptr_array_index (self->rows, i))->cells[c];
        if (trouble == NULL)
          trouble = plumb_form_cell_trouble (cell);
        if (plumb_form_cell_applies (cell) && !plumb_form_cell_is_typed (cell))
          basis = plumb_form_assumed_basis (self->info->kind, &self->info->fields[self->plan->columns[c]]);
      }
  gtk_widget_set_visible (self->note, trouble != NULL || basis != NULL);
  gtk_label_set_text (GTK_LABEL (self->note), trouble != NULL ? trouble : basis != NULL ? basis : "");
  if (trouble != NULL)
    gtk_widget_add_css_class (self->note, "fails");
  else
    gtk_widget_remove_css_class (self->note, "fails");
}

static void
noted_cb (PlumbFormTable *self)
{
  if (!self->filling)
    show_note (self);
}

/* ---- keys and pointer ------------------------------------------------------------------------ */

static Row *
row_of (PlumbFormTable *self, PlumbFormCell *cell, int *column)
{
  for (guint i = 0; i < self->rows->len; i++)
    for (int c = 0; c < self->plan->n_columns; c++)
      {
        Row *row = g_ptr_array_index (self->rows, i);
        if (row->cells[c] != cell)
          continue;
        *column = c;
        return row;
      }
  return NULL;
}

static void
entered_cb (PlumbFormTable *self, PlumbFormCell *cell)
{
  int column = 0;
  const Row *row = row_of (self, cell, &column);

  if (row != NULL && column == self->plan->n_columns - 1 && row->index + 1 == self->first + self->count)
    g_signal_emit (self, signals[MORE], 0);
}

/* Up and down of an entry move through its column. */
static gboolean
key_cb (PlumbFormTable *self, guint key, guint code, GdkModifierType state, GtkEventController *keys)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  GtkWidget *entry = focus != NULL ? gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY) : NULL;
  PlumbFormCell *cell
      = entry != NULL ? PLUMB_FORM_CELL (gtk_widget_get_ancestor (entry, PLUMB_TYPE_FORM_CELL)) : NULL;
  int column = 0;

  (void) code;
  (void) keys;
  if (cell == NULL || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || (key != GDK_KEY_Up && key != GDK_KEY_Down))
    return GDK_EVENT_PROPAGATE;
  const Row *row = row_of (self, cell, &column);
  const guint to = row == NULL ? PLUMB_NO_INDEX : key == GDK_KEY_Up ? row->index - 1 : row->index + 1;
  PlumbFormCell *next = plumb_form_table_cell (self, to, self->plan->columns[column]);
  if (next != NULL)
    plumb_form_cell_focus (next);
  return GDK_EVENT_STOP;
}

static void
pressed_cb (GtkGestureClick *click, int n_press, double x, double y, Row *row)
{
  PlumbFormTable *self = PLUMB_FORM_TABLE (gtk_widget_get_ancestor (
      gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (click)), PLUMB_TYPE_FORM_TABLE));

  (void) n_press;
  (void) x;
  (void) y;
  plumb_document_select (self->document, (PlumbSubject){ self->info->kind, row->index, PLUMB_NO_INDEX }, -1);
}

/* ---- rows ------------------------------------------------------------------------------------ */

static const char *
column_class (const PlumbField *field)
{
  return plumb_form_is_number (field) ? "table-number" : "table-choice";
}

static void
add_cell (PlumbFormTable *self, Row *row, int column)
{
  const int field = self->plan->columns[column];
  GtkWidget *cell = plumb_form_cell_new (self->document, self->info->kind, field);

  row->cells[column] = PLUMB_FORM_CELL (cell);
  gtk_widget_add_css_class (cell, column_class (&self->info->fields[field]));
  plumb_form_cell_name (row->cells[column], row->head, self->heads[column]);
  g_signal_connect_object (cell, "noted", G_CALLBACK (noted_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (cell, "entered", G_CALLBACK (entered_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (row->box), cell);
}

static GtkWidget *
make_head (gboolean numbered)
{
  GtkWidget *head = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (head), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (head), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (head, TRUE);
  gtk_widget_add_css_class (head, numbered ? "table-count" : "table-name");
  return head;
}

static void
add_row (PlumbFormTable *self)
{
  Row *row = g_new0 (Row, 1);
  GtkGesture *click = gtk_gesture_click_new ();

  row->index = PLUMB_NO_INDEX;
  row->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class (row->box, "table-row");
  row->head = make_head (self->plan->numbered);
  gtk_box_append (GTK_BOX (row->box), row->head);
  for (int c = 0; c < self->plan->n_columns; c++)
    add_cell (self, row, c);
  row->vial = plumb_form_vial_new (self->document);
  gtk_box_append (GTK_BOX (row->box), row->vial);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), row);
  gtk_widget_add_controller (row->box, GTK_EVENT_CONTROLLER (click));
  gtk_box_append (GTK_BOX (self->rows_box), row->box);
  g_ptr_array_add (self->rows, row);
}

static void
drop_row (PlumbFormTable *self)
{
  Row *row = g_ptr_array_steal_index (self->rows, self->rows->len - 1);

  gtk_box_remove (GTK_BOX (self->rows_box), row->box);
  g_free (row);
}

static void
name_row (PlumbFormTable *self, Row *row)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  g_autofree char *name = self->plan->numbered ? g_strdup_printf ("%u", row->index - self->first + 1)
                                               : plumb_record_name (scene, self->info->kind, row->index);

  if (strcmp (gtk_label_get_text (GTK_LABEL (row->head)), name) == 0)
    return;
  gtk_label_set_text (GTK_LABEL (row->head), name);
  if (!self->plan->numbered)
    plumb_style_set_tooltip (row->head, name);
}

static void
fill_row (PlumbFormTable *self, guint i)
{
  Row *row = g_ptr_array_index (self->rows, i);

  row->index = self->first + self->top + i;
  name_row (self, row);
  for (int c = 0; c < self->plan->n_columns; c++)
    {
      plumb_form_cell_set_index (row->cells[c], row->index);
      plumb_form_cell_refresh (row->cells[c]);
      /* A cell that does not apply keeps its place in the column. */
      gtk_widget_set_opacity (GTK_WIDGET (row->cells[c]), plumb_form_cell_applies (row->cells[c]) ? 1.0 : 0.0);
      gtk_widget_set_sensitive (GTK_WIDGET (row->cells[c]), plumb_form_cell_applies (row->cells[c]));
    }
  if (row->index == self->current)
    gtk_widget_add_css_class (row->box, "current");
  else
    gtk_widget_remove_css_class (row->box, "current");
}

static void
show_vials (PlumbFormTable *self)
{
  const PlumbEvaluation *evaluation = plumb_document_evaluation (self->document);
  gboolean any = FALSE;

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (self->rows, i);
      const PlumbFinding *finding = plumb_form_record_finding (evaluation, self->info->kind, row->index);
      plumb_form_vial_show (row->vial, finding);
      any = any || finding != NULL;
    }
  for (guint i = 0; i < self->rows->len; i++)
    gtk_widget_set_visible (((Row *) g_ptr_array_index (self->rows, i))->vial, any);
}

static void
show_heads (PlumbFormTable *self)
{
  const int units = plumb_scene_job (plumb_document_scene (self->document), 0)->units;

  for (int c = 0; c < self->plan->n_columns; c++)
    {
      const PlumbField *field = &self->info->fields[self->plan->columns[c]];
      const char *unit = plumb_form_value_unit (field, units);
      g_autofree char *text = g_strdup_printf ("%s%s%s", field->label, unit[0] != '\0' ? ", " : "", unit);
      gtk_label_set_text (GTK_LABEL (self->heads[c]), text);
    }
}

static void
show_foot (PlumbFormTable *self)
{
  g_autofree char *text = g_strdup_printf ("%u to %u of %u", self->top + 1, self->top + self->rows->len, self->count);

  gtk_widget_set_visible (self->foot, self->count > PLUMB_FORM_TABLE_ROWS);
  gtk_label_set_text (GTK_LABEL (self->foot_label), text);
  gtk_widget_set_sensitive (self->earlier, self->top > 0);
  gtk_widget_set_sensitive (self->later, self->top + self->rows->len < self->count);
}

static void
fill (PlumbFormTable *self)
{
  const guint most = MIN (self->count, PLUMB_FORM_TABLE_ROWS);

  self->top = MIN (self->top, self->count - most);
  self->filling = TRUE;
  while (self->rows->len > most)
    drop_row (self);
  while (self->rows->len < most)
    add_row (self);
  show_heads (self);
  for (guint i = 0; i < self->rows->len; i++)
    fill_row (self, i);
  show_vials (self);
  show_foot (self);
  self->filling = FALSE;
  show_note (self);
}

/* The record comes into the part that is shown. */
static void
turn_to (PlumbFormTable *self, guint index)
{
  const guint i = index - self->first;

  if (i < self->top)
    self->top = i;
  else if (i >= self->top + PLUMB_FORM_TABLE_ROWS)
    self->top = i + 1 - PLUMB_FORM_TABLE_ROWS;
}

static void
earlier_cb (PlumbFormTable *self)
{
  self->top -= MIN (self->top, PLUMB_FORM_TABLE_ROWS);
  fill (self);
}

static void
later_cb (PlumbFormTable *self)
{
  self->top += PLUMB_FORM_TABLE_ROWS;
  fill (self);
}

/* ---- making it --------------------------------------------------------------------------------- */

static void
plumb_form_table_dispose (GObject *object)
{
  g_clear_object (&PLUMB_FORM_TABLE (object)->document);
  G_OBJECT_CLASS (plumb_form_table_parent_class)->dispose (object);
}

static void
plumb_form_table_finalize (GObject *object)
{
  g_ptr_array_unref (PLUMB_FORM_TABLE (object)->rows);
  G_OBJECT_CLASS (plumb_form_table_parent_class)->finalize (object);
}

static void
plumb_form_table_class_init (PlumbFormTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_form_table_finalize;
  signals[MORE]
      = g_signal_new ("more", PLUMB_TYPE_FORM_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_form_table_init (PlumbFormTable *self)
{
  self->rows = g_ptr_array_new_with_free_func (g_free);
  self->current = PLUMB_NO_INDEX;
}

static GtkWidget *
make_heads (PlumbFormTable *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  gtk_widget_add_css_class (line, "table-heads");
  gtk_box_append (GTK_BOX (line), make_head (self->plan->numbered));
  for (int c = 0; c < self->plan->n_columns; c++)
    {
      const PlumbField *field = &self->info->fields[self->plan->columns[c]];
      GtkWidget *head = gtk_label_new (NULL);
      gtk_label_set_xalign (GTK_LABEL (head), plumb_form_is_number (field) ? 1.0f : 0.0f);
      gtk_label_set_justify (GTK_LABEL (head), plumb_form_is_number (field) ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
      gtk_label_set_wrap (GTK_LABEL (head), TRUE);
      gtk_label_set_width_chars (GTK_LABEL (head), 3);
      gtk_label_set_max_width_chars (GTK_LABEL (head), 3);
      gtk_widget_set_valign (head, GTK_ALIGN_END);
      gtk_widget_add_css_class (head, column_class (field));
      gtk_widget_add_css_class (head, "table-head");
      gtk_box_append (GTK_BOX (line), head);
      self->heads[c] = head;
    }
  return line;
}

static GtkWidget *
make_foot (PlumbFormTable *self)
{
  self->foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->foot_label = gtk_label_new (NULL);
  self->earlier = gtk_button_new_with_label (N_ ("Earlier"));
  self->later = gtk_button_new_with_label (N_ ("Later"));
  gtk_widget_add_css_class (self->foot_label, "form-note");
  gtk_widget_set_hexpand (self->foot_label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->foot_label), 0.0f);
  gtk_widget_add_css_class (self->earlier, "flat");
  gtk_widget_add_css_class (self->later, "flat");
  g_signal_connect_swapped (self->earlier, "clicked", G_CALLBACK (earlier_cb), self);
  g_signal_connect_swapped (self->later, "clicked", G_CALLBACK (later_cb), self);
  gtk_box_append (GTK_BOX (self->foot), self->foot_label);
  gtk_box_append (GTK_BOX (self->foot), self->earlier);
  gtk_box_append (GTK_BOX (self->foot), self->later);
  return self->foot;
}

GtkWidget *
plumb_form_table_new (PlumbDocument *document, const PlumbFormPlan *plan)
{
  PlumbFormTable *self = g_object_new (PLUMB_TYPE_FORM_TABLE, "orientation", GTK_ORIENTATION_VERTICAL, NULL);
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->document = g_object_ref (document);
  self->plan = plan;
  self->info = plumb_record_info (plan->kind);
  self->rows_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->note = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->note), 1.0f);
  gtk_label_set_justify (GTK_LABEL (self->note), GTK_JUSTIFY_RIGHT);
  gtk_label_set_wrap (GTK_LABEL (self->note), TRUE);
  gtk_widget_add_css_class (self->note, "form-note");
  gtk_box_append (GTK_BOX (self), make_heads (self));
  gtk_box_append (GTK_BOX (self), self->rows_box);
  gtk_box_append (GTK_BOX (self), self->note);
  gtk_box_append (GTK_BOX (self), make_foot (self));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  return GTK_WIDGET (self);
}

void
plumb_form_table_show (PlumbFormTable *self, guint first, guint count, guint current)
{
  g_return_if_fail (PLUMB_IS_FORM_TABLE (self));
  const gboolean turns = current != self->current && current != PLUMB_NO_INDEX;

  self->first = first;
  self->count = count;
  self->current = current;
  if (turns)
    turn_to (self, current);
  fill (self);
}

PlumbFormCell *
plumb_form_table_cell (PlumbFormTable *self, guint index, int field)
{
  if (index < self->first || index - self->first >= self->count)
    return NULL;
  if (index - self->first < self->top || index - self->first >= self->top + self->rows->len)
    {
      turn_to (self, index);
      fill (self);
    }
  const Row *row = g_ptr_array_index (self->rows, index - self->first - self->top);
  for (int c = 0; c < self->plan->n_columns; c++)
    if (self->plan->columns[c] == field)
      return row->cells[c];
  return NULL;
}
