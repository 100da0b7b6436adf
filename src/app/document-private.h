/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the files of the document share: drafts, shifts, history, names.
 *
 * An edit fills a draft from the scene, finishes it into a new scene, and
 * hands that to plumb_document_apply() with its name and with the shift that
 * tells where the records went. Running out of memory ends the program, as it
 * does everywhere in GLib.
 */
#pragma once

#include "app/document.h"

/* ---- where records went ------------------------------------------------------------ */

/* One record of a kind came (from PLUMB_NO_INDEX), went (to PLUMB_NO_INDEX) or
 * moved. Its nested records go with it. */
typedef struct {
  PlumbRecordKind kind; /* PLUMB_RECORD_NONE: all stand where they stood */
  guint from, to;
} PlumbShift;

#define PLUMB_NO_SHIFT ((PlumbShift){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX })

PlumbShift plumb_shift_back (PlumbShift shift);
/* The same record after the shift; kind PLUMB_RECORD_NONE when it is gone. */
PlumbSubject plumb_shift_subject (PlumbShift shift, const PlumbScene *before, const PlumbScene *after,
                                  PlumbSubject subject);

/* ---- drafts ------------------------------------------------------------------------ */

/* Copies of those arrays that an edit changes. Start with { before }. */
typedef struct {
  const PlumbScene *before;
  unsigned char *records[PLUMB_N_RECORDS]; /* NULL: as before */
  guint count[PLUMB_N_RECORDS];
} PlumbDraft;

void plumb_draft_clear (PlumbDraft *draft);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PlumbDraft, plumb_draft_clear)

/* A record to be changed; its array is copied at first. */
void *plumb_draft_record (PlumbDraft *draft, PlumbRecordKind kind, guint index);
/* The records of a kind in another order, and those nested in them with them:
 * order[i] is the record that comes to stand at i, which may be named twice,
 * and PLUMB_NO_INDEX a new one. FALSE with an error when a kind gets too many. */
gboolean plumb_draft_order (PlumbDraft *draft, PlumbRecordKind kind, const guint *order, guint count, GError **error);
/* A committed scene; the draft may be cleared after it. */
PlumbScene *plumb_draft_finish (const PlumbDraft *draft);

/* ---- fields ------------------------------------------------------------------------ */

gboolean plumb_kind_has_id (PlumbRecordKind kind);
guint plumb_kind_count (const PlumbScene *scene, PlumbRecordKind kind);
guint plumb_record_owner (const PlumbScene *scene, PlumbRecordKind kind, guint index);
/* The field takes the value, which is marked as typed; FALSE with a sentence
 * when it does not fit. `units` of lengths in the sentence. */
gboolean plumb_field_type_number (const PlumbRecordInfo *info, int field, void *record, double value, int units,
                                  GError **error);
gboolean plumb_field_type_text (const PlumbRecordInfo *info, int field, void *record, const char *text,
                                GError **error);
/* Whether a reference of a record means this kind, as far as its text does not
 * tell; a few may mean one of two. */
gboolean plumb_field_refers_to (const PlumbRecordInfo *info, int field, const void *record, PlumbRecordKind kind);

/* ---- names ------------------------------------------------------------------------- */

/* Names of steps; the caller's. */
char *plumb_step_fields (const PlumbScene *scene, PlumbRecordKind kind, guint index, const int *fields, guint n);
char *plumb_step_record (const char *format, const PlumbScene *scene, PlumbRecordKind kind, guint index);
/* An id that no record of the kind has and that nothing refers to. It counts
 * on from `like`, from the kind's name if that is NULL. */
char *plumb_fresh_id (const PlumbScene *scene, PlumbRecordKind kind, const char *like);
/* A name that no record of the kind has; "" if `like` is. */
char *plumb_fresh_label (const PlumbScene *scene, PlumbRecordKind kind, const char *like);

/* ---- history ------------------------------------------------------------------------ */

typedef struct {
  PlumbScene *before, *after; /* roots without a resolved block */
  char *name;
  GArray *shifts; /* PlumbShift, in the order in which they happened */
  gsize bytes;    /* of what `before` does not share with `after` */
} PlumbHistoryStep;

typedef struct {
  GPtrArray *steps; /* oldest first */
  guint done;       /* steps that are not undone */
  gsize bytes, cap;
  gboolean dragging;
  gboolean joins; /* the last step is part of the drag */
  gboolean grouping;
  guint grouped; /* steps since the group was begun, the last ones done */
} PlumbHistory;

void plumb_history_init (PlumbHistory *history, gsize cap);
void plumb_history_clear (PlumbHistory *history);
/* Takes the name. What was undone is forgotten. */
void plumb_history_push (PlumbHistory *history, const PlumbScene *before, const PlumbScene *after, char *name,
                         PlumbShift shift);
void plumb_history_begin_drag (PlumbHistory *history);
/* A drag that came back to where it began leaves no step. */
void plumb_history_end_drag (PlumbHistory *history);
/* Takes the drag back; the root as it was before, the caller's, NULL if nothing
 * was changed. It cannot be done again. */
PlumbScene *plumb_history_cancel_drag (PlumbHistory *history);
/* What is pushed until the end makes one step, named like its first one unless
 * there is a name. */
void plumb_history_begin_group (PlumbHistory *history);
void plumb_history_end_group (PlumbHistory *history, const char *name);
void plumb_history_set_cap (PlumbHistory *history, gsize cap);
/* The step undone or done again, NULL if there is none; the history's. */
const PlumbHistoryStep *plumb_history_undo (PlumbHistory *history);
const PlumbHistoryStep *plumb_history_redo (PlumbHistory *history);
/* Whether the records of two scenes differ anywhere. */
gboolean plumb_scenes_differ (const PlumbScene *a, const PlumbScene *b);
/* plumb_scene_root() that never fails. */
PlumbScene *plumb_history_root (const PlumbScene *scene);

/* ---- refused texts ------------------------------------------------------------------- */

/* The last change of an id: the record is still the same one. */
typedef struct {
  PlumbRecordKind kind;
  char from[PLUMB_ID_SIZE], to[PLUMB_ID_SIZE];
} PlumbRename;

/* A text that a field refused is kept while the form shows another record, until
 * another job is opened. id: of the record, or a number where it has none. */
void plumb_document_keep_text (PlumbDocument *self, PlumbRecordKind kind, const char *id, int field,
                               const char *text);
/* What was kept, which is given back once; the caller's, or NULL. */
char *plumb_document_give_text (PlumbDocument *self, PlumbRecordKind kind, const char *id, int field);
/* An id changes, or changed back. */
void plumb_document_note_rename (PlumbDocument *self, PlumbRecordKind kind, const char *from, const char *to);
gboolean plumb_document_was_renamed (PlumbDocument *self, PlumbRecordKind kind, const char *from, const char *to);

/* ---- the document --------------------------------------------------------------------- */

struct _PlumbDocument {
  GObject parent_instance;
  PlumbJobFile *file;
  char *path;             /* absolute; NULL: never saved */
  PlumbScene *saved;      /* as the file on the disc has it; NULL: differs from whatever stands there */
  gboolean told_changed;  /* what listeners to `filed` know */
  gboolean has_copy;      /* this document's autosaved copy exists */
  GPtrArray *evaluations; /* per arrangement, and one for none; NULL where not asked for */
  PlumbHistory history;
  GHashTable *kept; /* texts that were refused, by field of a record */
  PlumbRename renamed;
  PlumbSubject selection;
  int selected_field;
};

/* Takes the committed scene and the name: one step of the history. */
void plumb_document_apply (PlumbDocument *self, PlumbScene *after, char *name, PlumbShift shift);
/* Another job: takes file, path and saved; the history begins anew. */
void plumb_document_replace (PlumbDocument *self, PlumbJobFile *file, char *path, PlumbScene *saved,
                             gboolean has_copy);
/* `filed` if it is due. */
void plumb_document_tell_filed (PlumbDocument *self, gboolean path_changed);
/* FALSE with an error when there is no such record. */
gboolean plumb_document_has (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error);
/* For tests of what happens at the cap. */
void plumb_document_set_history_cap (PlumbDocument *self, gsize bytes);
gsize plumb_document_history_bytes (PlumbDocument *self);
