/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Findings as they are listed: seats that the same check says the same of are
 * told in one line, by the seat with least to spare.
 */
#pragma once

#include <glib.h>

#include "plumbeam/evaluate.h"

typedef struct {
  uint32_t finding; /* the one that is told */
  uint32_t count;   /* how many it stands for, itself included */
} PlumbFindingGroup;

/* Whether two findings are told in one line. */
bool plumb_finding_same_group (const PlumbFinding *a, const PlumbFinding *b);
/* Worst first, as the findings; *group_of (if not NULL) gets the group of each
 * finding. Both are the caller's. */
PlumbFindingGroup *plumb_finding_groups (const PlumbEvaluation *evaluation, uint32_t *n_groups, uint32_t **group_of);
