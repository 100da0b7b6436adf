/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-row.h"

#include "form-line.h"
#include "form-plan.h"
#include "form-value.h"
#include "text/findings.h"

struct _PlumbFormRow {
  GtkBox parent_instance;
  PlumbDocument *document;
  PlumbRecordKind kind;
  const PlumbField *field;
  PlumbFormCell *cell;
  PlumbFormLine line;
  gboolean quiet;
  gboolean found; /* a finding is about it */
};

G_DEFINE_FINAL_TYPE (PlumbFormRow, plumb_form_row, GTK_TYPE_BOX)

const char *
plumb_form_assumed_basis (PlumbRecordKind kind, const PlumbField *field)
{
  switch ((int) kind)
    {
    case PLUMB_RECORD_MACHINE:
    case PLUMB_RECORD_LENS:
    case PLUMB_RECORD_LENS_PAIR:
    case PLUMB_RECORD_LENS_SHIFT_POINT:
    case PLUMB_RECORD_MOUNT:
    case PLUMB_RECORD_SCREEN:
      return N_ ("assumed until the data sheet says");
    case PLUMB_RECORD_ARRANGEMENT:
    case PLUMB_RECORD_LIMIT:
      return N_ ("assumed until typed");
    default:
      return plumb_form_is_number (field) ? N_ ("assumed until measured") : N_ ("assumed until seen");
    }
}

/* "350 mm ± 9 mm, at least 300 mm" */
static char *
finding_note (const PlumbFinding *finding, PlumbWords words)
{
  g_autofree char *figure = plumb_finding_figure (finding, words);
  g_autofree char *limit = plumb_finding_limit (finding, words);

  if (figure == NULL)
    return g_steal_pointer (&limit);
  return limit != NULL ? g_strdup_printf ("%s, %s", figure, limit) : g_steal_pointer (&figure);
}

gboolean
plumb_form_row_is_assumed (PlumbFormRow *self)
{
  return plumb_form_is_number (self->field) && !self->found && !plumb_form_cell_is_typed (self->cell);
}

/* Trouble first, then what the verdict rests on, then what the value rests on. */
static void
show_note (PlumbFormRow *self, const PlumbFinding *finding, PlumbWords words)
{
  const char *trouble = plumb_form_cell_trouble (self->cell);
  g_autofree char *verdict = finding != NULL ? finding_note (finding, words) : NULL;

  if (trouble != NULL)
    plumb_form_line_show_note (&self->line, g_strdup (trouble), "fails");
  else if (finding != NULL && !plumb_form_cell_is_typed (self->cell))
    plumb_form_line_show_note (
        &self->line, g_strconcat (verdict != NULL ? verdict : "", verdict != NULL ? "; " : "", N_ ("assumed"), NULL),
        NULL);
  else if (plumb_form_row_is_assumed (self) && !self->quiet)
    plumb_form_line_show_note (&self->line, g_strdup (plumb_form_assumed_basis (self->kind, self->field)), NULL);
  else
    plumb_form_line_show_note (&self->line, g_steal_pointer (&verdict), NULL);
}

static void
show_around (PlumbFormRow *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const PlumbWords words = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  const PlumbFinding *finding
      = plumb_form_finding (plumb_document_evaluation (self->document), self->kind,
                            plumb_form_cell_index (self->cell), plumb_form_cell_field (self->cell));

  plumb_form_line_show_unit (&self->line, plumb_form_value_unit (self->field, words.units));
  plumb_form_line_show_finding (&self->line, finding);
  self->found = finding != NULL;
  show_note (self, finding, words);
  gtk_widget_set_visible (GTK_WIDGET (self), plumb_form_cell_applies (self->cell));
}

static void
noted_cb (PlumbFormRow *self)
{
  show_around (self);
}

static void
plumb_form_row_dispose (GObject *object)
{
  g_clear_object (&PLUMB_FORM_ROW (object)->document);
  G_OBJECT_CLASS (plumb_form_row_parent_class)->dispose (object);
}

static void
plumb_form_row_class_init (PlumbFormRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_row_dispose;
}

static void
plumb_form_row_init (PlumbFormRow *self)
{
  (void) self;
}

static PlumbFormWidth
width_of (const PlumbField *field)
{
  if (plumb_form_is_number (field))
    return PLUMB_FORM_NUMBER;
  return field->type == PLUMB_TYPE_FLAG ? PLUMB_FORM_FLAG : PLUMB_FORM_CHOICE;
}

GtkWidget *
plumb_form_row_new (PlumbDocument *document, PlumbRecordKind kind, int field)
{
  PlumbFormRow *self = g_object_new (PLUMB_TYPE_FORM_ROW, NULL);

  self->document = g_object_ref (document);
  self->kind = kind;
  self->field = &plumb_record_info (kind)->fields[field];
  self->cell = PLUMB_FORM_CELL (plumb_form_cell_new (document, kind, field));
  plumb_form_line_fill (&self->line, GTK_BOX (self), document, self->field->label, GTK_WIDGET (self->cell),
                        width_of (self->field));
  plumb_form_cell_name (self->cell, self->line.label, NULL);
  g_signal_connect_object (self->cell, "noted", G_CALLBACK (noted_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

PlumbFormCell *
plumb_form_row_cell (PlumbFormRow *self)
{
  return self->cell;
}

void
plumb_form_row_set_index (PlumbFormRow *self, guint index)
{
  plumb_form_cell_set_index (self->cell, index);
}

void
plumb_form_row_refresh (PlumbFormRow *self)
{
  plumb_form_cell_refresh (self->cell);
}

const char *
plumb_form_row_note (PlumbFormRow *self)
{
  return gtk_widget_get_visible (self->line.note) ? gtk_label_get_text (GTK_LABEL (self->line.note)) : "";
}

void
plumb_form_row_set_quiet (PlumbFormRow *self, gboolean quiet)
{
  if (quiet == self->quiet)
    return;
  self->quiet = quiet;
  show_around (self);
}
