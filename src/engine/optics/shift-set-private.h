/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curved edge of a shift set in its first quadrant. */
#pragma once

#include "plumbeam/optics.h"

/* Seen from the set's centre, in a metric of so many units per share: the arc
 * (from_x + half_x cos φ, from_y + half_y sin φ), first <= φ <= last, from
 * the point on the h axis to the point on the v axis. The set is what lies
 * within the arc and its mirror images. */
typedef struct {
  double from_x, from_y, half_x, half_y;
  double first_rad, last_rad;
} PlumbShiftArc;

/* For ellipses and circles. */
PlumbShiftArc plumb_shift_arc (const PlumbShiftSet *set, double width, double height);
PlumbVec2 plumb_shift_arc_point (const PlumbShiftArc *arc, double angle_rad);
/* Whether a point of the first quadrant lies within the arc. */
bool plumb_shift_arc_holds (const PlumbShiftArc *arc, PlumbVec2 point);
