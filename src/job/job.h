/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Job files: reading, checking, editing by key, writing, backups, autosave.
 *
 * A file is UTF-8 JSON; docs/file-format.md lists its records, and everything
 * here is driven by the same lists (plumbeam/record-lists.h). A key that is
 * absent is assumed, one that is present is typed.
 *
 * Reading is one strict pass (RFC 8259 and the bounds below, before anything
 * is allocated for records) and one pass that fills them. Nothing is guessed:
 * a file that is wrong anywhere gives an error and no job. An unknown key is
 * kept with its value, and a reference to nothing is a finding of the scene,
 * no error. Messages name the place: `12:7: ...` (line and character, from 1)
 * while the text is not JSON, `seats[3].eye_height_m: 12 is above 2.2` (record
 * from 0) once it is. They do not name the file.
 *
 * Writing is a function of the scene and of the text that was read. What did
 * not change is written as it stood: order of keys, unknown keys, spelling of
 * numbers. So one changed value is one changed line, and a new record touches
 * at most the line before it.
 *
 * A PlumbJobFile never changes, and may be used from any thread.
 */
#pragma once

#include <gio/gio.h>
#include <stdbool.h>

#include "plumbeam/scene.h"

/* Bounds of a file; PLUMB_MAX_RECORDS bounds each kind of record. */
#define PLUMB_JOB_MAX_BYTES (16 * 1024 * 1024)
#define PLUMB_JOB_MAX_DEPTH 64
#define PLUMB_JOB_MAX_VALUES 2000000

#define PLUMB_JOB_ERROR (plumb_job_error_quark ())
GQuark plumb_job_error_quark (void);
typedef enum {
  PLUMB_JOB_ERROR_READ,    /* the file cannot be opened or read */
  PLUMB_JOB_ERROR_TOO_BIG, /* more than PLUMB_JOB_MAX_BYTES */
  PLUMB_JOB_ERROR_SYNTAX,  /* not the JSON that RFC 8259 describes */
  PLUMB_JOB_ERROR_VERSION, /* no job, or one of a newer format */
  PLUMB_JOB_ERROR_CONTENT, /* a record, key or value that cannot be */
  PLUMB_JOB_ERROR_SET,     /* KEY=VALUE that names nothing or does not fit */
  PLUMB_JOB_ERROR_WRITE,   /* the disc refused */
  PLUMB_JOB_ERROR_MEMORY,
} PlumbJobError;

typedef struct PlumbJobFile PlumbJobFile;

/* A job with nothing in it. NULL: no memory. */
PlumbJobFile *plumb_job_new (void);
PlumbJobFile *plumb_job_load (const char *path, GError **error);
/* The bytes need no closing 0 and are copied. */
PlumbJobFile *plumb_job_load_bytes (const void *bytes, gsize size, GError **error);
/* NULL is fine. */
void plumb_job_file_free (PlumbJobFile *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbJobFile, plumb_job_file_free)

/* The committed scene, owned by the file. */
const PlumbScene *plumb_job_scene (const PlumbJobFile *file);
/* The same file with an edited, committed scene, which it takes a reference
 * of. Unknown keys, their order and the spelling of unchanged values go with
 * records of the same id, and with nested records by content and position. */
PlumbJobFile *plumb_job_with_scene (const PlumbJobFile *file, const PlumbScene *scene);
/* Keys of the file that no record knows, such as `places[0].dropp_m`: kept,
 * but without effect. At most a hundred; NULL-terminated, g_strfreev(). */
char **plumb_job_unknown_keys (const PlumbJobFile *file);

/* The text of the file, ending in a line feed; it has been read back and
 * gives the same scene, else this is an error that says where. */
char *plumb_job_to_text (const PlumbJobFile *file, gsize *size, GError **error);
/* Replaces the file in one step: a new file in the same folder, synced to the
 * disc, then renamed. Links are followed, the file's mode is kept, and what it
 * held before stands in `<name>~`. After an error the file is as it was. */
bool plumb_job_save (const PlumbJobFile *file, const char *path, GError **error);

/* A new file with one value typed: `places.t2.drop_m=0.11`, `job.title=Loft`,
 * and `lenses.long.pairs.2.width_m=3.1` for the second line of data. Numbers
 * are in the key's unit, with a point; a length may bring its own unit. Ids
 * are not set this way, since other records refer to them. */
PlumbJobFile *plumb_job_set (const PlumbJobFile *file, const char *key_and_value, GError **error);

/* Why a text cannot be an id, NULL if it can. The string is the caller's. */
char *plumb_job_id_trouble (const char *id);

/* ---- autosave ----------------------------------------------------------------- */

/* A copy in the user's state folder, one for each original path and one for a
 * job that was never saved (NULL). It is there until it is discarded, so one
 * that is found at the start is left over from a crash. */
typedef struct {
  char *path;           /* of the copy */
  char *original_path;  /* NULL: never saved */
  gint64 saved_unix_us; /* when */
} PlumbJobAutosave;

void plumb_job_autosave_free (PlumbJobAutosave *autosave);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbJobAutosave, plumb_job_autosave_free)

bool plumb_job_autosave_write (const PlumbJobFile *file, const char *original_path, GError **error);
/* PlumbJobAutosave, newest first; empty if there are none. */
GPtrArray *plumb_job_autosave_list (void);
/* No copy is no error. */
bool plumb_job_autosave_discard (const char *original_path, GError **error);
