/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outlines for drawings: the shadows on the picture and what is hidden from a
 * seat, by whom, exactly as the checks take them.
 *
 * Pure; safe from any thread. Outlines lie in the picture frame of the
 * evaluation's target, cut to the picture (to the wanted one while nothing is
 * thrown).
 */
#pragma once

#include "plumbeam/evaluate.h"
#include "plumbeam/sight.h"

/* Everything of one record in one state. */
typedef struct {
  PlumbWho who;
  uint32_t state;    /* of a mover, PLUMB_NO_INDEX at rest */
  bool walking;      /* at the worst place of the path */
  bool dims;         /* of a shadow: the lens is so wide that it only dims */
  double share;      /* of the picture, overlaps within it counted once */
  uint32_t first, n; /* silhouettes */
} PlumbShade;

typedef struct {
  PlumbRect picture;
  uint32_t n_shades;
  PlumbShade *shades;
  uint32_t n_silhouettes;
  PlumbSilhouette *silhouettes;
} PlumbShades;

/* Shadows: all at rest, and each mover in the state, each walker at the place
 * that the finding about it names. False when out of memory; without a beam
 * there is none. Free with plumb_shades_clear(). */
bool plumb_shades_of_lens (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbShades *out);
/* What hides the picture from a resolved seat, at rest or with the mover in
 * the state that hides most. */
bool plumb_shades_of_seat (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t seat,
                           PlumbShades *out);
void plumb_shades_clear (PlumbShades *shades);
