/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ten steps of the work: which records belong to each. No GTK. */
#pragma once

#include "plumbeam/evaluate.h"

#define PLUMB_N_STEPS (PLUMB_STEP_PAPERS + 1)

/* The step whose page holds records of this kind. */
PlumbStep plumb_step_of_record (PlumbRecordKind kind);
/* Whether any of the findings belongs to the step, and the worst of them. */
bool plumb_step_verdict (const PlumbEvaluation *evaluation, PlumbStep step, PlumbVerdict *worst);
