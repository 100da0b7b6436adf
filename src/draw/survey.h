/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The survey sheet: a blank to carry round a room with a tape.
 *
 * Its lines stand in the order in which the form takes the figures: a space's
 * walls, from the picture wall clockwise, its ceiling, its structure, its
 * openings, then outlets and light. Every wall, ceiling plane and so on has a
 * letter, every line a letter and a number, which is also in a ring on the
 * drawing where the place is known. What the job holds so far stands small
 * behind the blank. A job with hardly any wall gets a room with four.
 */
#pragma once

#include "draw/draw.h"

/* Length and pitch of the blanks. */
#define PLUMB_SURVEY_BLANK_MM 26.0
#define PLUMB_SURVEY_PITCH_MM 9.0

typedef struct PlumbSurvey PlumbSurvey;

/* Keeps the scene; the evaluation (may be NULL) must outlive the survey. */
PlumbSurvey *plumb_survey_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbPaper paper);
void plumb_survey_free (PlumbSurvey *survey);
unsigned plumb_survey_n_pages (const PlumbSurvey *survey);
/* All pages stand upright. */
void plumb_survey_page_size (const PlumbSurvey *survey, double *width_mm, double *height_mm);
/* Draws page `index`, from 0, in points from the paper's upper left corner;
 * `page` of `pages` is what its title block says. */
void plumb_survey_draw_page (cairo_t *cr, const PlumbSurvey *survey, unsigned index, unsigned page, unsigned pages);
