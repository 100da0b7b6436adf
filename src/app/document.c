/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/document.h"

#include "document-private.h"

enum { CHANGED, SELECTED, FILED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PlumbDocument, plumb_document, G_TYPE_OBJECT)

static const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

/* ---- helpers ---------------------------------------------------------------------------- */

static GPtrArray *
no_evaluations (const PlumbScene *scene)
{
  GPtrArray *evaluations = g_ptr_array_new_with_free_func ((GDestroyNotify) plumb_evaluation_free);

  g_ptr_array_set_size (evaluations, (int) plumb_kind_count (scene, PLUMB_RECORD_ARRANGEMENT) + 1);
  return evaluations;
}

static gboolean
same_subject (PlumbSubject a, PlumbSubject b)
{
  return a.kind == b.kind && a.index == b.index && a.sub == b.sub;
}

/* Another file is shown; takes it. Evaluations live until everybody was told. */
static void
show_file (PlumbDocument *self, PlumbJobFile *file, PlumbSubject selection, gboolean path_changed)
{
  g_autoptr (PlumbJobFile) old_file = self->file;
  g_autoptr (GPtrArray) old_evaluations = self->evaluations;
  const gboolean selects = !same_subject (selection, self->selection);

  self->file = file;
  self->evaluations = no_evaluations (plumb_job_scene (file));
  self->selection = selection;
  if (selection.kind == PLUMB_RECORD_NONE)
    self->selected_field = -1;
  g_object_ref (self);
  g_signal_emit (self, signals[CHANGED], 0);
  if (selects)
    g_signal_emit (self, signals[SELECTED], 0);
  plumb_document_tell_filed (self, path_changed);
  g_object_unref (self);
}

/* The selection after one or more shifts. Of what is nested it can be told for
 * one shift alone. */
static PlumbSubject
shift_selection (PlumbDocument *self, const PlumbScene *after, const GArray *shifts, gboolean back)
{
  PlumbSubject subject = self->selection;

  if (subject.kind != PLUMB_RECORD_NONE && shifts->len > 1
      && plumb_record_info (subject.kind)->parent != PLUMB_RECORD_NONE)
    return nothing;
  for (guint i = 0; i < shifts->len; i++)
    {
      const PlumbShift shift = g_array_index (shifts, PlumbShift, back ? shifts->len - 1 - i : i);
      subject = plumb_shift_subject (back ? plumb_shift_back (shift) : shift, plumb_document_scene (self), after,
                                     subject);
    }
  return subject;
}

/* Takes the scene. */
static void
show_scene (PlumbDocument *self, PlumbScene *scene, PlumbSubject selection)
{
  show_file (self, plumb_job_with_scene (self->file, scene), selection, FALSE);
  plumb_scene_unref (scene);
}

/* A root of the history becomes a scene again. */
static void
show_root (PlumbDocument *self, const PlumbScene *root, const GArray *shifts, gboolean back)
{
  PlumbScene *scene = plumb_history_root (root);

  if (!plumb_scene_commit (scene))
    g_error ("not enough memory for a scene");
  show_scene (self, scene, shift_selection (self, scene, shifts, back));
}

void
plumb_document_apply (PlumbDocument *self, PlumbScene *after, char *name, PlumbShift shift)
{
  const PlumbSubject selection = plumb_shift_subject (shift, plumb_document_scene (self), after, self->selection);

  plumb_history_push (&self->history, plumb_document_scene (self), after, name, shift);
  show_scene (self, after, selection);
}

void
plumb_document_replace (PlumbDocument *self, PlumbJobFile *file, char *path, PlumbScene *saved, gboolean has_copy)
{
  const gsize cap = self->history.cap;

  g_hash_table_remove_all (self->kept);
  plumb_history_clear (&self->history);
  plumb_history_init (&self->history, cap);
  g_free (self->path);
  self->path = path;
  plumb_scene_unref (self->saved);
  self->saved = saved;
  self->has_copy = has_copy;
  show_file (self, file, nothing, TRUE);
}

void
plumb_document_tell_filed (PlumbDocument *self, gboolean path_changed)
{
  const gboolean changed = plumb_document_is_changed (self);

  if (!path_changed && changed == self->told_changed)
    return;
  self->told_changed = changed;
  g_signal_emit (self, signals[FILED], 0);
}

gboolean
plumb_document_has (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error)
{
  if (kind >= 0 && kind < PLUMB_N_RECORDS && index < plumb_kind_count (plumb_document_scene (self), kind))
    return TRUE;
  g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, "There is no such record.");
  return FALSE;
}

void
plumb_document_set_history_cap (PlumbDocument *self, gsize bytes)
{
  plumb_history_set_cap (&self->history, bytes);
}

gsize
plumb_document_history_bytes (PlumbDocument *self)
{
  return self->history.bytes;
}

/* ---- the object ---------------------------------------------------------------------------- */

static void
plumb_document_finalize (GObject *object)
{
  PlumbDocument *self = PLUMB_DOCUMENT (object);

  g_hash_table_unref (self->kept);
  plumb_history_clear (&self->history);
  g_clear_pointer (&self->evaluations, g_ptr_array_unref);
  plumb_scene_unref (self->saved);
  plumb_job_file_free (self->file);
  g_free (self->path);
  G_OBJECT_CLASS (plumb_document_parent_class)->finalize (object);
}

static guint
new_signal (const char *name)
{
  return g_signal_new (name, PLUMB_TYPE_DOCUMENT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_document_class_init (PlumbDocumentClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_document_finalize;
  signals[CHANGED] = new_signal ("changed");
  signals[SELECTED] = new_signal ("selected");
  signals[FILED] = new_signal ("filed");
}

static void
plumb_document_init (PlumbDocument *self)
{
  self->file = plumb_job_new ();
  if (self->file == NULL)
    g_error ("not enough memory for a job");
  self->saved = plumb_history_root (plumb_job_scene (self->file));
  self->evaluations = no_evaluations (self->saved);
  self->selection = nothing;
  self->selected_field = -1;
  self->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->renamed.kind = PLUMB_RECORD_NONE;
  plumb_history_init (&self->history, PLUMB_HISTORY_MAX_BYTES);
}

PlumbDocument *
plumb_document_new (void)
{
  return g_object_new (PLUMB_TYPE_DOCUMENT, NULL);
}

/* ---- reading --------------------------------------------------------------------------------- */

const char *
plumb_document_path (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  return self->path;
}

gboolean
plumb_document_is_changed (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  return self->saved == NULL || plumb_scenes_differ (self->saved, plumb_document_scene (self));
}

const PlumbJobFile *
plumb_document_file (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  return self->file;
}

const PlumbScene *
plumb_document_scene (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  return plumb_job_scene (self->file);
}

guint
plumb_document_arrangement (PlumbDocument *self)
{
  return plumb_scene_current_arrangement (plumb_document_scene (self));
}

/* slot: the arrangement, or their number for none. */
static const PlumbEvaluation *
evaluation_at (PlumbDocument *self, guint slot)
{
  gpointer *kept = &g_ptr_array_index (self->evaluations, slot);

  if (*kept == NULL)
    {
      PlumbEvaluation *evaluation;
      const guint arrangement = slot + 1 < self->evaluations->len ? slot : PLUMB_NO_INDEX;
      if (!plumb_evaluate (plumb_document_scene (self), arrangement, &evaluation))
        g_error ("not enough memory for an evaluation");
      *kept = evaluation;
    }
  return *kept;
}

const PlumbEvaluation *
plumb_document_evaluation (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  const guint arrangement = plumb_document_arrangement (self);
  return evaluation_at (self, MIN (arrangement, self->evaluations->len - 1));
}

const PlumbEvaluation *
plumb_document_evaluation_of (PlumbDocument *self, guint arrangement)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  return arrangement < self->evaluations->len - 1 ? evaluation_at (self, arrangement) : NULL;
}

/* ---- history ----------------------------------------------------------------------------------- */

void
plumb_document_begin_drag (PlumbDocument *self)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  plumb_history_begin_drag (&self->history);
}

void
plumb_document_end_drag (PlumbDocument *self)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  plumb_history_end_drag (&self->history);
}

gboolean
plumb_document_is_dragging (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  return self->history.dragging;
}

void
plumb_document_cancel_drag (PlumbDocument *self)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (PlumbShift));
  PlumbScene *before = plumb_history_cancel_drag (&self->history);

  if (before != NULL)
    show_root (self, before, none, TRUE);
  plumb_scene_unref (before);
}

void
plumb_document_begin_group (PlumbDocument *self)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  plumb_history_begin_group (&self->history);
}

void
plumb_document_end_group (PlumbDocument *self, const char *name)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  g_autofree char *before = g_strdup (plumb_document_undo_name (self));

  plumb_history_end_group (&self->history, name);
  /* The step's name is shown. */
  if (g_strcmp0 (before, plumb_document_undo_name (self)) != 0)
    g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
plumb_document_undo (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  const PlumbHistoryStep *step = plumb_history_undo (&self->history);
  if (step == NULL)
    return FALSE;
  show_root (self, step->before, step->shifts, TRUE);
  return TRUE;
}

gboolean
plumb_document_redo (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  const PlumbHistoryStep *step = plumb_history_redo (&self->history);
  if (step == NULL)
    return FALSE;
  show_root (self, step->after, step->shifts, FALSE);
  return TRUE;
}

static const char *
step_name (PlumbDocument *self, guint i)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), NULL);
  if (i >= self->history.steps->len)
    return NULL;
  return ((const PlumbHistoryStep *) g_ptr_array_index (self->history.steps, i))->name;
}

const char *
plumb_document_undo_name (PlumbDocument *self)
{
  return step_name (self, self->history.done - 1);
}

const char *
plumb_document_redo_name (PlumbDocument *self)
{
  return step_name (self, self->history.done);
}

/* ---- selection ------------------------------------------------------------------------------------ */

void
plumb_document_select (PlumbDocument *self, PlumbSubject subject, int field)
{
  g_return_if_fail (PLUMB_IS_DOCUMENT (self));
  if (subject.kind == PLUMB_RECORD_NONE || !plumb_document_has (self, subject.kind, subject.index, NULL))
    {
      subject = nothing;
      field = -1;
    }
  if (same_subject (subject, self->selection) && field == self->selected_field)
    return;
  self->selection = subject;
  self->selected_field = field;
  g_signal_emit (self, signals[SELECTED], 0);
}

PlumbSubject
plumb_document_selection (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), nothing);
  return self->selection;
}

int
plumb_document_selected_field (PlumbDocument *self)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), -1);
  return self->selected_field;
}
