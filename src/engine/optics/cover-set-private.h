/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The allowed shift between the ends of a zoom, and the shift in it that
 * leaves a picture the widest margin. */
#pragma once

#include "plumbeam/optics.h"

/* A set in shares: a polygon when n_points > 0, else `curved`. */
typedef struct {
  size_t n_points;
  PlumbVec2 point[2 * PLUMB_SHIFT_MAX_POINTS];
  PlumbShiftSet curved;
} PlumbCoverSet;

/* The sets at the two ends, and between them (1 - share) wide + share tele,
 * added point by point (the Minkowski sum). Two ellipses or two circles are
 * mixed by their measures, which is the same for sets of one shape; of other
 * mixed kinds the outlines are added. */
typedef struct {
  bool same; /* one set at both ends */
  bool is_curved;
  const PlumbShiftSet *wide, *tele;
  size_t n_wide, n_tele;
  PlumbVec2 wide_point[PLUMB_SHIFT_MAX_POINTS], tele_point[PLUMB_SHIFT_MAX_POINTS];
} PlumbCoverEnds;

void plumb_cover_ends_init (PlumbCoverEnds *ends, const PlumbShiftSet *wide, const PlumbShiftSet *tele);
void plumb_cover_set_between (const PlumbCoverEnds *ends, double share, PlumbCoverSet *out);

/* Of all points p of the set, the one with the least
 *
 *     max (|p_x - wanted_x| · scale_x - slack_x, |p_y - wanted_y| · scale_y - slack_y),
 *
 * and that value. */
double plumb_cover_set_least_miss (const PlumbCoverSet *set, PlumbVec2 wanted, PlumbVec2 scale, PlumbVec2 slack,
                                   PlumbVec2 *point);
