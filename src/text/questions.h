/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers of seats as words. Strings are the caller's. */
#pragma once

#include "plumbeam/seat-question.h"
#include "text/findings.h"

/* "12.4 %", "2.5" (picture heights), "23 : 1": short enough for a drawing. */
char *plumb_question_figure (PlumbQuestion question, double figure, PlumbWords words);
/* "figure: contrast of the picture, film": what stands beside a seat; with
 * the light state where that matters. */
char *plumb_asked_meaning (const PlumbScene *scene, const PlumbAsked *asked);
/* "shape: at most 2.0 % (common practice, no source)": what a seat's shape
 * tells. Without sources when `brief`. */
char *plumb_asked_limits (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbAsked *asked,
                          bool brief, PlumbWords words);
/* Where a finding's limit comes from, in a few words: the part of its basis
 * before the first colon and blank. */
char *plumb_finding_basis_short (const PlumbScene *scene, const PlumbFinding *finding);
