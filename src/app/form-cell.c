/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-cell.h"

#include <string.h>

#include "document-private.h"
#include "form-drop-down.h"
#include "form-value.h"
#include "text/findings.h"

struct _PlumbFormCell {
  GtkWidget parent_instance;
  PlumbDocument *document;
  const PlumbRecordInfo *info;
  const PlumbField *field;
  int field_index;
  guint index;
  char id[PLUMB_ID_SIZE]; /* of the record shown; its number where the kind has no ids */
  GtkWidget *control;
  char *shown;          /* entry: the text as the document has it */
  GtkStringList *items; /* drop-down */
  GStrv ids;            /* references: the id behind each item */
  char *trouble;
  gboolean filling; /* the control is being set, not used */
  gboolean touched; /* entry: something was typed since the value was shown */
};

enum { NOTED, ENTERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PlumbFormCell, plumb_form_cell, GTK_TYPE_WIDGET)

/* ---- helpers --------------------------------------------------------------------------- */

static int
units_of (PlumbFormCell *self)
{
  return plumb_scene_job (plumb_document_scene (self->document), 0)->units;
}

static const void *
record_of (PlumbFormCell *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);

  if (self->index >= plumb_kind_count (scene, self->info->kind))
    return NULL;
  return plumb_scene_record (scene, self->info->kind, self->index);
}

static gboolean
is_entry (PlumbFormCell *self)
{
  return GTK_IS_ENTRY (self->control);
}

static gboolean
is_dirty (PlumbFormCell *self)
{
  return is_entry (self) && strcmp (gtk_editable_get_text (GTK_EDITABLE (self->control)), self->shown) != 0;
}

static void
set_class (GtkWidget *widget, const char *name, gboolean on)
{
  if (on)
    gtk_widget_add_css_class (widget, name);
  else
    gtk_widget_remove_css_class (widget, name);
}

/* Takes the sentence. */
static void
set_trouble (PlumbFormCell *self, char *sentence)
{
  g_free (self->trouble);
  self->trouble = sentence;
  set_class (self->control, "trouble", sentence != NULL);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->control), GTK_ACCESSIBLE_STATE_INVALID,
                               sentence != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->control), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  sentence != NULL ? sentence : self->field->help, -1);
}

/* "Eye height must be at most 2.200 m; 1.200 stays." Takes the error. */
static void
refuse (PlumbFormCell *self, GError *error)
{
  const char *message = error->message;
  gsize length = strlen (message);

  if (length > 0 && message[length - 1] == '.')
    length--;
  const gboolean named = is_entry (self) && self->shown[0] != '\0';
  set_trouble (self, g_strdup_printf ("%.*s%s%s%s.", (int) length, message, named ? "; " : "",
                                      named ? self->shown : "", named ? " stays" : ""));
  g_error_free (error);
}

/* ---- showing --------------------------------------------------------------------------- */

static void
show_entry (PlumbFormCell *self, const void *record, gboolean by_force)
{
  char *text = record != NULL ? plumb_form_value_text (self->field, record, units_of (self)) : g_strdup ("");
  const gboolean keeps = !by_force && is_dirty (self);

  g_free (self->shown);
  self->shown = text;
  if (!keeps && strcmp (gtk_editable_get_text (GTK_EDITABLE (self->control)), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (self->control), text);
  if (!is_dirty (self) && self->trouble != NULL)
    set_trouble (self, NULL);
}

static void
add_choices (PlumbFormCell *self, GPtrArray *names)
{
  for (int32_t i = 0; i < self->field->n_choices; i++)
    g_ptr_array_add (names, g_strdup (self->field->choices[i].label));
}

/* "none", the records of the kinds that it may refer to, and what it refers to
 * now if that is no record. */
static void
add_records (PlumbFormCell *self, const void *record, GPtrArray *names, GPtrArray *ids)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const char *now = record != NULL ? plumb_field_text (self->field, record) : "";
  gboolean found = now[0] == '\0';

  g_ptr_array_add (names, g_strdup (N_ ("none")));
  g_ptr_array_add (ids, g_strdup (""));
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      if (record == NULL || !plumb_field_refers_to (self->info, self->field_index, record, (PlumbRecordKind) kind))
        continue;
      for (guint i = 0; i < plumb_kind_count (scene, (PlumbRecordKind) kind); i++)
        {
          const char *id
              = plumb_record_id ((PlumbRecordKind) kind, plumb_scene_record (scene, (PlumbRecordKind) kind, i));
          g_ptr_array_add (names, plumb_record_name (scene, (PlumbRecordKind) kind, i));
          g_ptr_array_add (ids, g_strdup (id));
          found = found || strcmp (id, now) == 0;
        }
    }
  if (!found)
    {
      g_ptr_array_add (names, g_strdup_printf ("%s (missing)", now));
      g_ptr_array_add (ids, g_strdup (now));
    }
}

static GStrv
take_strings (GPtrArray *strings)
{
  g_ptr_array_add (strings, NULL);
  return (GStrv) g_ptr_array_free (strings, FALSE);
}

static guint
chosen_item (PlumbFormCell *self, const void *record)
{
  if (record == NULL)
    return GTK_INVALID_LIST_POSITION;
  if (self->field->type == PLUMB_TYPE_CHOICE)
    return (guint) plumb_field_number (self->field, record);
  const char *id = plumb_field_text (self->field, record);
  for (guint i = 0; self->ids[i] != NULL; i++)
    if (strcmp (self->ids[i], id) == 0)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static void
show_items (PlumbFormCell *self, const void *record)
{
  GPtrArray *names = g_ptr_array_new (), *ids = g_ptr_array_new ();

  if (self->field->type == PLUMB_TYPE_CHOICE)
    add_choices (self, names);
  else
    add_records (self, record, names, ids);
  g_strfreev (self->ids);
  self->ids = take_strings (ids);
  g_auto (GStrv) now = take_strings (names);
  plumb_form_drop_down_fill (self->items, (const char *const *) now);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->control), chosen_item (self, record));
}

static void
show_value (PlumbFormCell *self, gboolean by_force)
{
  const void *record = record_of (self);
  const gboolean was_filling = self->filling;

  self->filling = TRUE;
  if (by_force)
    self->touched = FALSE;
  gtk_widget_set_sensitive (self->control, record != NULL);
  if (is_entry (self))
    show_entry (self, record, by_force);
  else if (GTK_IS_DROP_DOWN (self->control))
    show_items (self, record);
  else
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control),
                                 record != NULL && plumb_field_number (self->field, record) > 0.5);
  self->filling = was_filling;
  set_class (self->control, "assumed", record != NULL && !plumb_form_cell_is_typed (self));
  g_signal_emit (self, signals[NOTED], 0);
}

/* ---- what is typed ------------------------------------------------------------------------ */

/* Puts a value in and shows it; what does not fit becomes trouble. */
static gboolean
put (PlumbFormCell *self, double number, const char *text)
{
  GError *error = NULL;
  gboolean taken;

  g_object_ref (self);
  taken = text != NULL ? plumb_document_set_text (self->document, self->info->kind, self->index, self->field_index,
                                                  text, &error)
                       : plumb_document_set_number (self->document, self->info->kind, self->index, self->field_index,
                                                    number, &error);
  if (taken)
    show_value (self, TRUE);
  else
    {
      refuse (self, error);
      g_signal_emit (self, signals[NOTED], 0);
    }
  g_object_unref (self);
  return taken;
}

/* What the document holds becomes typed, to the last digit. */
static gboolean
put_as_it_stands (PlumbFormCell *self, const void *record)
{
  if (self->field->type != PLUMB_TYPE_TEXT && self->field->type != PLUMB_TYPE_REF)
    return put (self, plumb_field_number (self->field, record), NULL);
  g_autofree char *text = g_strdup (plumb_field_text (self->field, record));
  return put (self, 0.0, text);
}

/* What stands in the entry, whatever it was before. */
static gboolean
put_entry (PlumbFormCell *self)
{
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->control)));
  GError *error = NULL;
  double value = 0.0;

  if (!plumb_form_is_number (self->field))
    return put (self, 0.0, text);
  if (plumb_form_value_parse (self->field, units_of (self), text, &value, &error))
    return put (self, value, NULL);
  refuse (self, error);
  g_signal_emit (self, signals[NOTED], 0);
  return FALSE;
}

/* Whether a copy of the record would take the text. */
static gboolean
would_take (PlumbFormCell *self, const char *text, GError **error)
{
  g_autofree void *copy = g_memdup2 (record_of (self), self->info->size);
  double value = 0.0;

  if (!plumb_form_is_number (self->field))
    return plumb_field_type_text (self->info, self->field_index, copy, text, error);
  return plumb_form_value_parse (self->field, units_of (self), text, &value, error)
         && plumb_field_type_number (self->info, self->field_index, copy, value, units_of (self), error);
}

/* Why a text is refused that was refused before; nothing is put in. */
static void
say_again (PlumbFormCell *self, const char *text)
{
  GError *error = NULL;

  if (would_take (self, text, &error))
    g_set_error (&error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "%s: not put in yet.", self->field->label);
  refuse (self, error);
  g_signal_emit (self, signals[NOTED], 0);
}

gboolean
plumb_form_cell_commit (PlumbFormCell *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_CELL (self), FALSE);
  if (!is_entry (self) || record_of (self) == NULL)
    return TRUE;
  if (is_dirty (self) || (self->touched && !plumb_form_cell_is_typed (self)))
    return put_entry (self);
  if (self->trouble != NULL || self->touched)
    show_value (self, TRUE);
  return TRUE;
}

gboolean
plumb_form_cell_confirm (PlumbFormCell *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_CELL (self), FALSE);
  const void *record = record_of (self);

  if (record == NULL)
    return TRUE;
  /* A text that was typed anew means itself even where it reads like the value
   * shown: 3 mm reads 1/8 in to the nearest sixteenth. */
  if (is_dirty (self) || self->touched)
    return put_entry (self);
  return plumb_form_cell_is_typed (self) || put_as_it_stands (self, record);
}

void
plumb_form_cell_restore (PlumbFormCell *self)
{
  g_return_if_fail (PLUMB_IS_FORM_CELL (self));
  if (self->trouble != NULL)
    set_trouble (self, NULL);
  show_value (self, TRUE);
}

gboolean
plumb_form_cell_reset (PlumbFormCell *self)
{
  g_return_val_if_fail (PLUMB_IS_FORM_CELL (self), FALSE);
  GError *error = NULL;

  if (record_of (self) == NULL)
    return FALSE;
  if (!plumb_document_reset (self->document, self->info->kind, self->index, self->field_index, &error))
    {
      refuse (self, error);
      g_signal_emit (self, signals[NOTED], 0);
      return FALSE;
    }
  plumb_form_cell_restore (self);
  return TRUE;
}

static guint
find_item (PlumbFormCell *self, const char *text)
{
  for (guint i = 0; self->ids[i] != NULL; i++)
    if (strcmp (self->ids[i], text) == 0)
      return i;
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++)
    if (strcmp (gtk_string_list_get_string (self->items, i), text) == 0)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

gboolean
plumb_form_cell_type (PlumbFormCell *self, const char *text)
{
  g_return_val_if_fail (PLUMB_IS_FORM_CELL (self), FALSE);
  if (is_entry (self))
    {
      gtk_editable_set_text (GTK_EDITABLE (self->control), text);
      self->touched = TRUE;
      return plumb_form_cell_confirm (self);
    }
  if (GTK_IS_DROP_DOWN (self->control))
    {
      guint item = find_item (self, text);
      if (item == GTK_INVALID_LIST_POSITION)
        return FALSE;
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->control), item);
    }
  else
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control), strcmp (text, "true") == 0);
  return plumb_form_cell_confirm (self);
}

/* ---- callbacks ------------------------------------------------------------------------------ */

static void
activate_cb (PlumbFormCell *self)
{
  if (plumb_form_cell_confirm (self))
    {
      gtk_editable_select_region (GTK_EDITABLE (self->control), 0, -1);
      g_signal_emit (self, signals[ENTERED], 0);
    }
}

static void
edited_cb (PlumbFormCell *self)
{
  if (!self->filling)
    self->touched = TRUE;
}

static void
selected_cb (PlumbFormCell *self)
{
  guint item = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->control));

  if (self->filling || item == GTK_INVALID_LIST_POSITION || record_of (self) == NULL)
    return;
  if (self->field->type == PLUMB_TYPE_CHOICE)
    put (self, item, NULL);
  else
    {
      g_autofree char *id = g_strdup (self->ids[item]);
      put (self, 0.0, id);
    }
}

static void
toggled_cb (PlumbFormCell *self)
{
  if (!self->filling && record_of (self) != NULL)
    put (self, gtk_check_button_get_active (GTK_CHECK_BUTTON (self->control)) ? 1.0 : 0.0, NULL);
}

static void
enter_cb (PlumbFormCell *self)
{
  if (record_of (self) != NULL)
    plumb_document_select (self->document, (PlumbSubject){ self->info->kind, self->index, PLUMB_NO_INDEX },
                           self->field_index);
}

static void
leave_cb (PlumbFormCell *self)
{
  plumb_form_cell_commit (self);
}

static gboolean
key_cb (PlumbFormCell *self, guint key, guint code, GdkModifierType state)
{
  const gboolean control = (state & GDK_CONTROL_MASK) != 0;

  (void) code;
  if (key == GDK_KEY_Escape && (is_dirty (self) || self->trouble != NULL))
    {
      plumb_form_cell_restore (self);
      return GDK_EVENT_STOP;
    }
  if (control && (key == GDK_KEY_Delete || key == GDK_KEY_KP_Delete))
    {
      plumb_form_cell_reset (self);
      return GDK_EVENT_STOP;
    }
  if (control && (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter || key == GDK_KEY_ISO_Enter))
    {
      plumb_form_cell_confirm (self);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

/* ---- making it ------------------------------------------------------------------------------ */

static GtkWidget *
make_entry (PlumbFormCell *self)
{
  GtkWidget *entry = gtk_entry_new ();
  const gboolean number = plumb_form_is_number (self->field);

  gtk_editable_set_alignment (GTK_EDITABLE (entry), number ? 1.0f : 0.0f);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 3);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 3);
  /* The window's undo is over what was put in, Escape over what was typed. */
  gtk_editable_set_enable_undo (GTK_EDITABLE (entry), FALSE);
  set_class (entry, "number", number);
  self->shown = g_strdup ("");
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (edited_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (activate_cb), self);
  return entry;
}

static GtkWidget *
make_drop_down (PlumbFormCell *self)
{
  self->items = gtk_string_list_new (NULL);
  GtkWidget *drop_down = plumb_form_drop_down_new (self->items);
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (selected_cb), self);
  return drop_down;
}

static GtkWidget *
make_control (PlumbFormCell *self)
{
  switch (self->field->type)
    {
    case PLUMB_TYPE_CHOICE:
    case PLUMB_TYPE_REF:
      return make_drop_down (self);
      case PLUMB_TYPE_FLAG: {
        GtkWidget *check = gtk_check_button_new ();
        g_signal_connect_swapped (check, "toggled", G_CALLBACK (toggled_cb), self);
        return check;
      }
    case PLUMB_TYPE_NUM:
    case PLUMB_TYPE_COUNT:
    case PLUMB_TYPE_TEXT:
    default:
      return make_entry (self);
    }
}

static void
add_controllers (PlumbFormCell *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_swapped (focus, "enter", G_CALLBACK (enter_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* What the field is, what it takes, and how. */
static char *
help_text (PlumbFormCell *self)
{
  if (!plumb_form_is_number (self->field))
    return g_strdup (self->field->help);
  g_autofree char *range = plumb_form_value_range (self->field, units_of (self));
  return g_strdup_printf ("%s\n%s", self->field->help, range);
}

static gboolean
query_tooltip_cb (PlumbFormCell *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  g_autofree char *help = help_text (self);

  (void) x;
  (void) y;
  (void) keyboard;
  gtk_tooltip_set_text (tooltip, help);
  return TRUE;
}

static void
plumb_form_cell_dispose (GObject *object)
{
  PlumbFormCell *self = PLUMB_FORM_CELL (object);

  g_clear_pointer (&self->control, gtk_widget_unparent);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_form_cell_parent_class)->dispose (object);
}

static void
plumb_form_cell_finalize (GObject *object)
{
  PlumbFormCell *self = PLUMB_FORM_CELL (object);

  g_free (self->shown);
  g_free (self->trouble);
  g_strfreev (self->ids);
  G_OBJECT_CLASS (plumb_form_cell_parent_class)->finalize (object);
}

static void
plumb_form_cell_class_init (PlumbFormCellClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_form_cell_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_form_cell_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  signals[NOTED]
      = g_signal_new ("noted", PLUMB_TYPE_FORM_CELL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ENTERED]
      = g_signal_new ("entered", PLUMB_TYPE_FORM_CELL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_form_cell_init (PlumbFormCell *self)
{
  self->index = PLUMB_NO_INDEX;
}

GtkWidget *
plumb_form_cell_new (PlumbDocument *document, PlumbRecordKind kind, int field)
{
  PlumbFormCell *self = g_object_new (PLUMB_TYPE_FORM_CELL, NULL);

  self->document = g_object_ref (document);
  self->info = plumb_record_info (kind);
  self->field = &self->info->fields[field];
  self->field_index = field;
  self->control = make_control (self);
  gtk_widget_add_css_class (self->control, "field");
  gtk_widget_set_parent (self->control, GTK_WIDGET (self));
  add_controllers (self);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect_swapped (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), self);
  set_trouble (self, NULL);
  show_value (self, TRUE);
  return GTK_WIDGET (self);
}

/* ---- public --------------------------------------------------------------------------------- */

/* The id of the record that the index means now. */
static void
id_now (PlumbFormCell *self, char id[PLUMB_ID_SIZE])
{
  const void *record = record_of (self);

  if (record != NULL && plumb_kind_has_id (self->info->kind))
    g_strlcpy (id, plumb_record_id (self->info->kind, record), PLUMB_ID_SIZE);
  else
    g_snprintf (id, PLUMB_ID_SIZE, "%u", self->index);
}

/* Another record is shown: what was refused stays with the one it was typed
 * for, and what was refused of this one stands here again. */
static void
turn_to (PlumbFormCell *self, const char *id)
{
  if (is_dirty (self) && self->id[0] != '\0')
    plumb_document_keep_text (self->document, self->info->kind, self->id, self->field_index,
                              gtk_editable_get_text (GTK_EDITABLE (self->control)));
  g_strlcpy (self->id, id, sizeof self->id);
  plumb_form_cell_restore (self);
  g_autofree char *text
      = is_entry (self) ? plumb_document_give_text (self->document, self->info->kind, id, self->field_index) : NULL;
  if (text == NULL || record_of (self) == NULL)
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->control), text);
  say_again (self, text);
}

/* Whether the record at this place became another one. */
static gboolean
has_turned (PlumbFormCell *self, const char *id)
{
  return strcmp (self->id, id) != 0 && !plumb_document_was_renamed (self->document, self->info->kind, self->id, id);
}

void
plumb_form_cell_set_index (PlumbFormCell *self, guint index)
{
  g_return_if_fail (PLUMB_IS_FORM_CELL (self));
  char id[PLUMB_ID_SIZE];

  if (index == self->index)
    return;
  self->index = index;
  id_now (self, id);
  turn_to (self, id);
}

guint
plumb_form_cell_index (PlumbFormCell *self)
{
  return self->index;
}

int
plumb_form_cell_field (PlumbFormCell *self)
{
  return self->field_index;
}

void
plumb_form_cell_refresh (PlumbFormCell *self)
{
  g_return_if_fail (PLUMB_IS_FORM_CELL (self));
  char id[PLUMB_ID_SIZE];

  id_now (self, id);
  if (has_turned (self, id))
    turn_to (self, id);
  else
    g_strlcpy (self->id, id, sizeof self->id);
  show_value (self, FALSE);
}

gboolean
plumb_form_cell_applies (PlumbFormCell *self)
{
  const void *record = record_of (self);

  return record != NULL && plumb_field_applies (self->info, self->field_index, record);
}

gboolean
plumb_form_cell_is_typed (PlumbFormCell *self)
{
  const PlumbRecordHead *head = record_of (self);

  return head != NULL && (head->typed >> self->field_index & 1u) != 0;
}

const char *
plumb_form_cell_trouble (PlumbFormCell *self)
{
  return self->trouble;
}

void
plumb_form_cell_name (PlumbFormCell *self, GtkWidget *label, GtkWidget *second)
{
  GtkAccessible *control = GTK_ACCESSIBLE (self->control);

  if (second != NULL)
    gtk_accessible_update_relation (control, GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, second, NULL, -1);
  else
    gtk_accessible_update_relation (control, GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
}

gboolean
plumb_form_cell_focus (PlumbFormCell *self)
{
  return gtk_widget_grab_focus (self->control);
}
