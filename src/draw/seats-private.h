/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seats from above: their shapes, and the figures beside them. */
#pragma once

#include "draw/parts-private.h"

#define PLUMB_SEAT_HALF_M 0.22
/* The middle of the seat lies behind the eye. */
#define PLUMB_SEAT_BACK_BEHIND_EYE_M 0.30
#define PLUMB_SEAT_MIDDLE_M (PLUMB_SEAT_HALF_M - PLUMB_SEAT_BACK_BEHIND_EYE_M)
/* Over this many seats single figures are only a grey field. */
#define PLUMB_MAX_SEAT_FIGURES 400

/* A seat's own axes on the page. */
typedef struct {
  PlumbVec2 eye, front, right;
} PlumbSeatPose;

PlumbSeatPose plumb_seat_pose (const PlumbPen *pen, const PlumbSeatResolved *seat);
PlumbVec2 plumb_seat_point (const PlumbSeatPose *pose, double front_m, double right_m);
/* The shape tells the verdict: a second front edge, a cross, dashes. */
void plumb_draw_seat_shape (PlumbPen *pen, const PlumbSeatPose *pose, PlumbVerdict verdict);
