/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The one thing about single record kinds that the form does not take from
 * the record lists: in which order they stand, which are table rows, and what
 * is shown beside the fields. Which page they are on tells steps.h. No GTK.
 */
#pragma once

#include <glib.h>

#include "plumbeam/evaluate.h"

#define PLUMB_FORM_MOST_COLUMNS 3

typedef struct {
  PlumbRecordKind kind;
  const char *title; /* of the section, for many */
  gboolean folds;    /* folded at first once there are walls */
  /* Fields that are columns of a table with a row per record; the other
   * fields are rows below it. */
  int n_columns;
  int columns[PLUMB_FORM_MOST_COLUMNS];
  gboolean numbered; /* the table's rows are told by number, not by name */
  /* Nested: shown while this field of the owner has this value; 0 is always. */
  int owner_field, owner_value;
} PlumbFormPlan;

/* All kinds in the order in which they stand on their pages. */
const PlumbFormPlan *plumb_form_plans (guint *count);
const PlumbFormPlan *plumb_form_plan_of (PlumbRecordKind kind);
gboolean plumb_form_plan_has_column (const PlumbFormPlan *plan, int field);
/* The sentence under the title of a page. */
const char *plumb_form_step_sentence (PlumbStep step);

/* The verdict that stands beside a field: the worst finding about it, NULL if
 * there is none. field -1: the worst finding about the record that stands at
 * no field of it. */
const PlumbFinding *plumb_form_finding (const PlumbEvaluation *evaluation, PlumbRecordKind kind, guint index,
                                        int field);
/* The worst finding that is about a record at all, at a field of it or not. */
const PlumbFinding *plumb_form_record_finding (const PlumbEvaluation *evaluation, PlumbRecordKind kind, guint index);
/* The record of a kind that is part of the arrangement evaluated,
 * PLUMB_NO_INDEX if there is none. */
uint32_t plumb_form_evaluated (const PlumbEvaluation *evaluation, PlumbRecordKind kind);
