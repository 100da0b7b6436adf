/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A job file in memory: a scene, and the text that it came from.
 *
 * The text keeps what the scene does not hold. Of each of its values it is
 * known what it is (`what` of the JSON value): a field, an array of records,
 * or an unknown key.
 */
#pragma once

#include "scan-private.h"

/* PlumbJsonValue.what of a member: the index of its field, or one of these. */
#define PLUMB_WHAT_UNKNOWN (-1)
#define PLUMB_WHAT_VERSION (-2)
#define PLUMB_WHAT_KIND(kind) (64 + (int) (kind))
#define PLUMB_IS_KIND(what) ((what) >= 64)
#define PLUMB_KIND_OF(what) ((PlumbRecordKind) ((what) -64))
_Static_assert(PLUMB_WHAT_KIND (PLUMB_N_RECORDS) <= INT8_MAX, "what fits its 8 bits");

typedef struct {
  gatomicrefcount references;
  PlumbJson *json;
  const PlumbScene *scene;            /* as the text has it */
  uint32_t *records[PLUMB_N_RECORDS]; /* the JSON value of each record; 0: none, for a job that is not there */
} PlumbJobSource;

/* Takes the JSON values; the scene is committed. */
PlumbJobSource *plumb_job_source_read (PlumbJson *json, GError **error);
PlumbJobSource *plumb_job_source_ref (PlumbJobSource *source);
void plumb_job_source_unref (PlumbJobSource *source);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PlumbJobSource, plumb_job_source_unref)

struct PlumbJobFile {
  const PlumbScene *scene;
  PlumbJobSource *source; /* NULL: a new job */
};

/* Which record of the source's scene each record of a kind is, as far as
 * unknown keys and spellings go; PLUMB_NO_INDEX for a new one. `parents` is
 * the same for the kind that it is nested in. NULL: each is the one at its own
 * place. g_free() it. */
uint32_t *plumb_job_match (const PlumbScene *before, const PlumbScene *now, PlumbRecordKind kind,
                           const uint32_t *parents);

/* The text without the proof that it reads back. */
GString *plumb_job_write (const PlumbJobFile *file);

/* Writes a whole file in one step and syncs it; links in `path` are not
 * followed. Mode 0: as the process makes files. */
bool plumb_job_replace (const char *path, const char *bytes, gsize size, unsigned mode, GError **error);
