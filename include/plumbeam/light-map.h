/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The machine's own light at any point of the picture: what isolines are
 * traced from. Points are of the picture frame, metres. Nothing that stands
 * in the way counts. Pure; safe from any thread.
 */
#pragma once

#include "plumbeam/evaluate.h"
#include "plumbeam/light.h"

/* Lux on the face. False without a beam or beyond its reach. */
bool plumb_picture_illuminance_lx (const PlumbEvaluation *evaluation, PlumbVec2 point, double *lx);
/* cd/m² of white in the dark towards an eye; from behind the face 0. False as
 * above. */
bool plumb_picture_luminance_cd_m2 (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbVec2 point,
                                    PlumbVec3 eye, double *cd_m2);
