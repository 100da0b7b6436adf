/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/people.h"

/* Women's 5th percentile to men's 95th, in the order of the choices; the
 * mixed ones are half women, half men. */
static const PlumbBodyMeasures survey[PLUMB_N_EYE_FROM] = {
  [PLUMB_EYE_FROM_TYPED] = { 0.775, 0.111, 1.689 },    [PLUMB_EYE_FROM_WOMEN_5] = { 0.698, 0.096, 1.525 },
  [PLUMB_EYE_FROM_WOMEN_50] = { 0.748, 0.109, 1.626 }, [PLUMB_EYE_FROM_WOMEN_95] = { 0.799, 0.123, 1.740 },
  [PLUMB_EYE_FROM_MIXED_5] = { 0.708, 0.097, 1.547 },  [PLUMB_EYE_FROM_MIXED_50] = { 0.775, 0.111, 1.689 },
  [PLUMB_EYE_FROM_MIXED_95] = { 0.847, 0.126, 1.844 }, [PLUMB_EYE_FROM_MEN_5] = { 0.750, 0.100, 1.648 },
  [PLUMB_EYE_FROM_MEN_50] = { 0.804, 0.114, 1.755 },   [PLUMB_EYE_FROM_MEN_95] = { 0.860, 0.129, 1.870 },
};

/* Usual seat heights (common practice) and the loss by slumping (up to 40 mm
 * in Pheasant's tables). */
static const struct {
  double height_m, slump_m;
} seats[PLUMB_N_SEAT_KIND] = {
  [PLUMB_SEAT_KIND_CHAIR] = { 0.45, 0.0 },
  [PLUMB_SEAT_KIND_SOFA] = { 0.40, 0.04 },
  [PLUMB_SEAT_KIND_LOUNGER] = { 0.40, 0.0 },
};

PlumbBodyMeasures
plumb_body_measures (int32_t eye_from)
{
  return survey[eye_from >= 0 && eye_from < PLUMB_N_EYE_FROM ? eye_from : PLUMB_EYE_FROM_TYPED];
}

double
plumb_seat_eye_height_m (int32_t seat_kind, int32_t eye_from, double seat_height_m, double recline_rad)
{
  int32_t kind = seat_kind >= 0 && seat_kind < PLUMB_N_SEAT_KIND ? seat_kind : PLUMB_SEAT_KIND_CHAIR;
  double over_seat_m = plumb_body_measures (eye_from).eye_over_seat_m - seats[kind].slump_m;

  /* The back turns about the hip; the eye comes down with it. */
  if (kind == PLUMB_SEAT_KIND_LOUNGER)
    over_seat_m *= cos (recline_rad);
  return (seat_height_m > 0.0 ? seat_height_m : seats[kind].height_m) + over_seat_m;
}
