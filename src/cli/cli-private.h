/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the commands share: options, the job they work on, output, exit codes.
 *
 * Results go to the standard output, troubles to the standard error, one line
 * each that begins with the program's name.
 */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "job/job.h"
#include "plumbeam/evaluate.h"
#include "text/findings.h"

typedef enum {
  PLUMB_EXIT_DONE = 0,   /* for check: nothing fails */
  PLUMB_EXIT_FAILS = 1,  /* check found a failure */
  PLUMB_EXIT_USAGE = 2,  /* bad input or usage */
  PLUMB_EXIT_TROUBLE = 3 /* the machine could not do it */
} PlumbExit;

/* ---- options --------------------------------------------------------------------- */

typedef enum {
  PLUMB_OPTION_JSON = 1 << 0,
  PLUMB_OPTION_CSV = 1 << 1,
  PLUMB_OPTION_STRICT = 1 << 2,
  PLUMB_OPTION_OUTPUT = 1 << 3, /* -o and --paper */
  PLUMB_OPTION_VIEW = 1 << 4, /* --view, --ask, --seat, --table and --light */
  PLUMB_OPTION_ONLY = 1 << 5,
  PLUMB_OPTION_PICTURE = 1 << 6, /* -o, --from, --size, --content, --light, --before and --dark */
} PlumbCliOption;

typedef struct {
  char *file;
  gboolean json, csv, strict, dark;
  char *arrangement, *output, *view, *table, *light, *paper, *only, *from, *size, *content, *ask, *seat, *before;
  char **set;
} PlumbCliOptions;

/* Reads a command's arguments, which begin with its name; every command takes
 * FILE, --arrangement and --set, and those of `takes`. False after a message. */
bool plumb_cli_options_read (PlumbCliOptions *options, char **arguments, unsigned takes, const char *summary);
void plumb_cli_options_clear (PlumbCliOptions *options);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PlumbCliOptions, plumb_cli_options_clear)

/* ---- the job ------------------------------------------------------------------------ */

typedef struct {
  PlumbJobFile *file;
  const PlumbScene *scene; /* the file's */
  uint32_t first, n;       /* arrangements to look at; n = 1 and first = PLUMB_NO_INDEX if the job has none */
  PlumbWords words;        /* the job's units, ASCII */
} PlumbCliJob;

/* Loads the file, applies --set in order, finds the arrangement. all: whether
 * `--arrangement all` may be asked for. */
PlumbExit plumb_cli_job_open (PlumbCliJob *job, const PlumbCliOptions *options, bool all);
void plumb_cli_job_clear (PlumbCliJob *job);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PlumbCliJob, plumb_cli_job_clear)

/* The id of a record, NULL when there is none. */
const char *plumb_cli_id (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index);

/* The resolved seat of an id; PLUMB_NO_INDEX after a message that begins with
 * the option as typed. */
uint32_t plumb_cli_find_seat (const PlumbScene *scene, const char *option, const char *id);

/* ---- output --------------------------------------------------------------------------- */

G_GNUC_PRINTF (1, 2) void plumb_cli_complain (const char *format, ...);
/* Writes to the standard output; PLUMB_EXIT_TROUBLE when it cannot. */
PlumbExit plumb_cli_print (const char *text);
/* Adds text, then blanks up to `width` characters. */
void plumb_cli_append_padded (GString *out, const char *text, glong width);
/* Adds text broken at blanks so that no line passes `width` characters; each
 * line begins with `indent` blanks. */
void plumb_cli_append_wrapped (GString *out, const char *text, unsigned indent, glong width);

/* ---- commands ------------------------------------------------------------------------- */

PlumbExit plumb_cli_check (char **arguments);
PlumbExit plumb_cli_trial (char **arguments);
PlumbExit plumb_cli_export (char **arguments);
/* What export does with --table. */
PlumbExit plumb_cli_export_table (const PlumbCliOptions *options);
PlumbExit plumb_cli_sheets (char **arguments);
PlumbExit plumb_cli_picture (char **arguments);

/* The bodies of what check and trial print; the caller's. */
void plumb_cli_check_text (GString *out, const PlumbCliJob *job, const PlumbEvaluation *evaluation);
char *plumb_cli_check_json (const PlumbCliJob *job, PlumbEvaluation *const *evaluations, bool all);
char *plumb_cli_trial_text (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines);
char *plumb_cli_trial_csv (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines);
char *plumb_cli_trial_json (const PlumbCliJob *job, const PlumbTrialLine *lines, uint32_t n_lines);
