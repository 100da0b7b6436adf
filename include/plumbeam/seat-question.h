/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One question asked of every seat: its figure there and what it is worth.
 *
 * A finding names the seat that is worst off; here every seat is held against
 * the same limits. All figures are the evaluation's: nothing is worked out
 * anew but the contrast towards a seat, by the formula of its check. SI.
 */
#pragma once

#include "plumbeam/evaluate.h"

/* Q (NAME, "word", "unit", label, what the figure is). ALL has the worst
 * verdict of all checks of a seat, with the distance as its figure. */
#define PLUMB_QUESTIONS(Q) \
  Q (ALL, "all", "ratio", N_ ("All checks"), N_ ("distance in picture heights")) \
  Q (HIDDEN, "hidden", "share", N_ ("Picture hidden"), N_ ("share of the picture hidden")) \
  Q (ANGLE, "angle", "rad", N_ ("Width of the picture"), N_ ("horizontal angle of the picture")) \
  Q (HEIGHTS, "heights", "ratio", N_ ("Picture heights"), N_ ("distance in picture heights")) \
  Q (LOOK_UP, "look-up", "rad", N_ ("Looking up"), N_ ("angle up to the upper edge")) \
  Q (OFF_AXIS, "off-axis", "rad", N_ ("Off the axis"), N_ ("angle off the picture’s axis")) \
  Q (C_VALUE, "c-value", "m", N_ ("C-value"), N_ ("C-value over the worst head in front")) \
  Q (TEXT, "text", "m", N_ ("Smallest text"), N_ ("height of the smallest readable sign")) \
  Q (PIXELS, "pixels", "px_per_deg", N_ ("Pixels"), N_ ("pixels per degree")) \
  Q (LUMINANCE, "luminance", "cd_m2", N_ ("Luminance"), N_ ("luminance of white at the centre")) \
  Q (CONTRAST, "contrast", "ratio", N_ ("Contrast"), N_ ("contrast of the picture")) \
  Q (NOISE, "noise", "db", N_ ("Fan noise"), N_ ("fan noise, A-weighted"))

typedef enum {
#define PLUMB_Q(name, word, unit, label, meaning) PLUMB_QUESTION_##name,
  PLUMB_QUESTIONS (PLUMB_Q)
#undef PLUMB_Q
    PLUMB_N_QUESTIONS
} PlumbQuestion;

typedef struct {
  const char *word; /* on the command line */
  const char *unit;
  const char *label, *meaning;
} PlumbQuestionInfo;
const PlumbQuestionInfo *plumb_question_info (PlumbQuestion question);
/* False when the word is none of them. */
bool plumb_question_from_word (const char *word, PlumbQuestion *question);

/* The limits that a question is held against in one evaluation. */
#define PLUMB_ASKED_MAX_FINDINGS 3
typedef struct {
  PlumbQuestion question;
  uint32_t n_findings; /* 0: the job's purpose sets no limit */
  uint32_t finding[PLUMB_ASKED_MAX_FINDINGS]; /* of the evaluation, worst first */
  uint32_t state; /* light state of a contrast: the worst one, PLUMB_NO_INDEX when none is known */
} PlumbAsked;
PlumbAsked plumb_asked (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbQuestion question);

typedef struct {
  bool has_figure; /* it can be told, and there is one: no C-value where nobody sits in front */
  double figure;
  PlumbVerdict verdict;
} PlumbAnswer;
/* seat: in the resolved seats; one that the evaluation does not hold is
 * unknown. */
PlumbAnswer plumb_answer (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbAsked *asked,
                          uint32_t seat);
/* How bad an answer is, for sorting: more is worse. Verdict first, then what
 * is left to the limit; where there is none, what most would call worse. */
double plumb_answer_badness (const PlumbEvaluation *evaluation, const PlumbAsked *asked, const PlumbAnswer *answer);
/* PLUMB_NO_INDEX without seats. */
uint32_t plumb_asked_worst_seat (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbAsked *asked);
