/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The open job: current scene, its evaluations, selection, history, file.
 *
 * PlumbDocument is the only writer. Everything else in the window listens:
 * `changed` after any edit, undo, redo, load or change of arrangement,
 * `selected` when another thing was chosen, `filed` when path or saved state
 * changed. No listener writes to another listener. GObject and GLib only, so
 * that it is tested without a display.
 */
#pragma once

#include <gio/gio.h>

#include "job/job.h"
#include "plumbeam/evaluate.h"

#define PLUMB_TYPE_DOCUMENT (plumb_document_get_type ())
G_DECLARE_FINAL_TYPE (PlumbDocument, plumb_document, PLUMB, DOCUMENT, GObject)

/* Bytes that undo may hold on to (arrays shared between steps count once);
 * the oldest steps go first, the last step always stays. */
#define PLUMB_HISTORY_MAX_BYTES (64 * 1024 * 1024)

/* A job with nothing in it; the window shows what to measure first. */
PlumbDocument *plumb_document_new (void);

/* ---- file ------------------------------------------------------------------------ */

/* On error the open job stays as it was. Here, in clear and in recover, unsaved
 * changes of the open job are autosaved first; where that cannot be done it
 * stays too (clear: see is_changed). */
gboolean plumb_document_open (PlumbDocument *self, const char *path, GError **error);
/* path NULL: the document's own. Discards the autosaved copy. */
gboolean plumb_document_save (PlumbDocument *self, const char *path, GError **error);
void plumb_document_clear (PlumbDocument *self);
/* Opens an autosaved copy as an unsaved change of its original. */
gboolean plumb_document_recover (PlumbDocument *self, const PlumbJobAutosave *copy, GError **error);
const char *plumb_document_path (PlumbDocument *self); /* NULL: never saved */
gboolean plumb_document_is_changed (PlumbDocument *self);
/* Writes the autosaved copy if there is something unsaved, and takes away its
 * own when there is nothing any more. */
gboolean plumb_document_autosave (PlumbDocument *self, GError **error);

/* ---- reading ----------------------------------------------------------------------- */

const PlumbJobFile *plumb_document_file (PlumbDocument *self);
const PlumbScene *plumb_document_scene (PlumbDocument *self);
/* Of the arrangement shown; never NULL. Valid until the next `changed`. */
const PlumbEvaluation *plumb_document_evaluation (PlumbDocument *self);
/* Of any arrangement, worked out when first asked for and kept until the next
 * edit; NULL when out of range. */
const PlumbEvaluation *plumb_document_evaluation_of (PlumbDocument *self, guint arrangement);
guint plumb_document_arrangement (PlumbDocument *self); /* PLUMB_NO_INDEX if none */

/* ---- editing: each is one undoable step with a name ------------------------------------ */

/* One field as typed, marked as typed; FALSE with a sentence when it does not
 * fit (range, text too long, id taken), nothing then changes. Numbers in the
 * key's unit. Inside a drag (begin/end) the steps make one. */
gboolean plumb_document_set_number (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, double value,
                                    GError **error);
gboolean plumb_document_set_text (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, const char *text,
                                  GError **error);
/* Back to the default, no longer typed. */
gboolean plumb_document_reset (PlumbDocument *self, PlumbRecordKind kind, guint index, int field, GError **error);
/* Several fields of one record at once (a drag in two directions). */
gboolean plumb_document_set_numbers (PlumbDocument *self, PlumbRecordKind kind, guint index, guint n,
                                     const int *fields, const double *values, GError **error);
/* Changing an id changes the references to it in the same step. */
gboolean plumb_document_rename (PlumbDocument *self, PlumbRecordKind kind, guint index, const char *id,
                                GError **error);
/* owner: for nested kinds. The new record stands after `after` (PLUMB_NO_INDEX:
 * last), has a fresh id, and its index is returned; PLUMB_NO_INDEX with an
 * error when there are too many. */
guint plumb_document_add (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after, GError **error);
/* The same, and what it refers to is filled in where there can be no doubt: the
 * one screen, machine, lens, place or wall there is; a part of the building
 * belongs to the space of the record before it, else to the first. */
guint plumb_document_add_fitting (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after,
                                  GError **error);
guint plumb_document_copy (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error);
gboolean plumb_document_remove (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error);
/* by -1 or +1 among its kind (nested: among its owner's). FALSE at the end. */
gboolean plumb_document_move (PlumbDocument *self, PlumbRecordKind kind, guint index, int by, GError **error);
void plumb_document_show_arrangement (PlumbDocument *self, guint arrangement); /* undoable: job.arrangement */
/* A lens trial line made into an arrangement, which is then shown. */
gboolean plumb_document_take_trial (PlumbDocument *self, const PlumbTrialLine *line, GError **error);

void plumb_document_begin_drag (PlumbDocument *self);
void plumb_document_end_drag (PlumbDocument *self);
/* Between begin and end: more steps will follow soon. */
gboolean plumb_document_is_dragging (PlumbDocument *self);
/* As if the drag had never been: it cannot be done again either. */
void plumb_document_cancel_drag (PlumbDocument *self);
/* Edits between the two, whatever they are, make one step. name NULL: that of
 * the first. Undo and redo end a group. */
void plumb_document_begin_group (PlumbDocument *self);
void plumb_document_end_group (PlumbDocument *self, const char *name);

/* ---- history ------------------------------------------------------------------------------ */

gboolean plumb_document_undo (PlumbDocument *self);
gboolean plumb_document_redo (PlumbDocument *self);
/* "Drop of A, tie beam T2"; NULL when there is nothing. */
const char *plumb_document_undo_name (PlumbDocument *self);
const char *plumb_document_redo_name (PlumbDocument *self);

/* ---- selection ------------------------------------------------------------------------------ */

/* What is chosen everywhere; kind PLUMB_RECORD_NONE is nothing. field -1 or
 * the field that a finding or a drag is about. */
void plumb_document_select (PlumbDocument *self, PlumbSubject subject, int field);
PlumbSubject plumb_document_selection (PlumbDocument *self);
int plumb_document_selected_field (PlumbDocument *self);
