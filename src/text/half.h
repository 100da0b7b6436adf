/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Before and after: what one half of the comparison shows, in words and as a
 * scene with its evaluation.
 *
 * A half is an arrangement, as it is or without its keystone correction, seen
 * in one light. A light is the index of a light state, PLUMB_NO_INDEX for the
 * dark room. Strings that are returned as char * are the caller's.
 */
#pragma once

#include "text/findings.h"

typedef struct {
  PlumbScene *scene;           /* a reference of its own */
  PlumbEvaluation *evaluation; /* its own */
} PlumbHalf;

/* corrected false: without its picture, so that content fills the panel and
 * lands as the raw picture. False only when out of memory. */
bool plumb_half_make (PlumbHalf *half, const PlumbScene *scene, uint32_t arrangement, bool corrected);
void plumb_half_clear (PlumbHalf *half);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PlumbHalf, plumb_half_clear)

/* "a-b", "a-b, uncorrected". */
char *plumb_half_name (const PlumbScene *scene, uint32_t arrangement, bool corrected);
/* "picture 2.980 m wide; seat back:3 sees least, 12.0 % hidden"; uncorrected
 * "raw picture 3.412 m wide; its upper edge 1.08 of the lower". */
char *plumb_half_figures (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbWords words);

/* "dark room", "film". */
char *plumb_light_name (const PlumbScene *scene, uint32_t light);
/* "18 lx on the screen, contrast 43 : 1, 80 : 1 wanted". */
char *plumb_light_words (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t light,
                         PlumbWords words);
/* What the contrast in this light was found to be; NULL where none is wanted. */
const PlumbFinding *plumb_light_finding (const PlumbEvaluation *evaluation, uint32_t light);
/* Luminance of white and of black over that of white in the dark; 1 and 0
 * where a state's light is not known. */
void plumb_light_shares (const PlumbEvaluation *evaluation, uint32_t light, double *white_share, double *black_share);
