/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Findings as words: one sentence of advice each.
 *
 * The engine gives a check, a variant and numbers; this is where they become
 * sentences. The wording of each check stands in wording.c. Nothing here
 * judges: the verdict is the engine's.
 *
 * units is the job's (PLUMB_UNITS_METRIC or _IMPERIAL), show as in length.h.
 * Strings that are returned as char * are the caller's.
 */
#pragma once

#include "plumbeam/evaluate.h"
#include "text/length.h"

typedef struct {
  int units;
  unsigned show;
} PlumbWords;

/* "holds", "tight", "unknown", "fails". */
const char *plumb_verdict_word (PlumbVerdict verdict);
/* "standard", "common practice", "data sheet", "geometry", "job". */
const char *plumb_basis_word (PlumbBasis basis);
/* "job", "beam", "body", "people". */
const char *plumb_family_word (PlumbFamily family);
/* The form step by its name in the window: "Room", "Machine and place"… */
const char *plumb_step_word (PlumbStep step);
/* A stable word for JSON and tests: "nearer", "shorter_lens"… "none". */
const char *plumb_cure_word (PlumbCure cure);
/* "screen", "wall", … as JSON names surfaces. */
const char *plumb_surface_word (PlumbSurfaceKind surface);

/* A record as people call it: its label, else its id, else "wall 3". A
 * subject's name may add which seat of a row, repeat or state it is. */
char *plumb_record_name (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index);
char *plumb_subject_name (const PlumbScene *scene, const PlumbSubject *subject);
/* A record as --set and JSON call it: "places.t2", "rows.row2:3"; "job" for
 * the job, "" for the arrangement as a whole. */
char *plumb_record_key (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index);
char *plumb_subject_key (const PlumbScene *scene, const PlumbSubject *subject);
/* Somebody or something in the way: name "nobody", key NULL for nobody. */
char *plumb_who_name (const PlumbScene *scene, PlumbWho who);
char *plumb_who_key (const PlumbScene *scene, PlumbWho who);
/* The same for a finding, which knows what its subject's sub means. */
char *plumb_finding_subject_name (const PlumbScene *scene, const PlumbFinding *finding);
char *plumb_finding_subject_key (const PlumbScene *scene, const PlumbFinding *finding);
/* A surface of the building: "Sail store wall", "the floor of Loft", "nothing". */
char *plumb_surface_name (const PlumbScene *scene, const PlumbSurfaceId *surface);

/* The sentence, with its full stop. */
char *plumb_finding_sentence (const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words);
/* What to do, without a full stop: "Move the machine 0.140 m nearer to the
 * picture"; NULL when there is no cure. */
char *plumb_finding_cure (const PlumbFinding *finding, PlumbWords words);
/* "lenses.b.focus_near_m"; NULL when no field is missing. */
char *plumb_finding_missing_key (const PlumbScene *scene, const PlumbFinding *finding);
/* "1.62 ± 0.04" or "1.62"; NULL without a figure. */
char *plumb_finding_figure (const PlumbFinding *finding, PlumbWords words);
/* "1.50 to 2.20", "at most 2.20", "at least 0.300 m"; NULL without a limit. */
char *plumb_finding_limit (const PlumbFinding *finding, PlumbWords words);
/* What is left to the nearer limit in the figure's unit, negative beyond it;
 * false without figure or limit. */
bool plumb_finding_spare (const PlumbFinding *finding, double *spare);
/* Where the limit comes from: standard and clause, "common practice, no
 * source", "the data sheet of …", the job's own reason. */
char *plumb_finding_basis (const PlumbScene *scene, const PlumbFinding *finding);

/* "3 fail, 1 is tight, 2 are not known, 14 hold": what was found. */
char *plumb_evaluation_summary (const PlumbEvaluation *evaluation);
/* What the advice does not replace. */
const char *plumb_caution (void);
