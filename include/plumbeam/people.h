/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Seats, eyes and sightlines: the published body survey, the formulas of
 * viewing, and who stands in the way.
 */
#pragma once

#include "plumbeam/scene.h"
#include "plumbeam/sight.h"

/* ---- bodies --------------------------------------------------------------------- */

/* ANSUR II (2012; Gordon et al. 2014, NATICK/TR-15/007): bare head, upright. */
typedef struct {
  double eye_over_seat_m;
  double eye_to_crown_m;
  double stature_m;
} PlumbBodyMeasures;

/* The measures of a percentile (a PLUMB_EYE_FROM_ value); the mixed median for
 * a typed one. */
PlumbBodyMeasures plumb_body_measures (int32_t eye_from);
/* Eye over the floor of somebody who sits on a seat of this kind. A seat
 * height of 0 takes the usual one of its kind. */
double plumb_seat_eye_height_m (int32_t seat_kind, int32_t eye_from, double seat_height_m, double recline_rad);
/* Head and trunk of a person record; who walks is at the path's beginning. */
PlumbFigure3d plumb_figure_of_person (const PlumbPerson *person);
/* Seat `column` of row `line` (both from 0) of a row record. */
PlumbSeatResolved plumb_row_seat (const PlumbRow *row, uint32_t index, int32_t line, int32_t column);

/* ---- viewing ---------------------------------------------------------------------- */

/* Angle that a width fills, seen square from its middle: 2 arctan (W / 2d). */
double plumb_viewing_angle_rad (double width_m, double distance_m);
/* Angle off the normal at the far upright edge of the picture for an eye
 * `aside` of its middle and `back` from its plane (AVIXA V202.01:2016). */
double plumb_far_edge_angle_rad (double aside_m, double back_m, double width_m);
/* Pixels within one degree about the picture's middle. */
double plumb_pixels_per_degree (double pixels_per_m, double distance_m);
/* Height of a sign that fills an angle at a distance. */
double plumb_sign_height_m (double distance_m, double arc_minutes);
/* Smallest sign for basic decision making: distance over 200, 17.2 minutes of
 * arc (AVIXA V202.01:2016). */
double plumb_text_height_m (double distance_m);

/* C-value: clearance of the rear eye's line to the focus over the front eye.
 * front_m: level distance focus to front eye; over_focus_m: front eye over the
 * focus, signed; depth_m: front eye to rear eye; rise_m: rear eye over front. */
double plumb_c_value_m (double front_m, double over_focus_m, double depth_m, double rise_m);
/* The rise that gives a wanted C-value. */
double plumb_c_rise_m (double front_m, double over_focus_m, double depth_m, double c_m);

/* ---- who stands in the way ------------------------------------------------------- */

typedef enum {
  PLUMB_WHO_NOBODY,
  PLUMB_WHO_SEAT, /* index in the resolved seats; the others are records */
  PLUMB_WHO_PERSON,
  PLUMB_WHO_BLOCKER,
  PLUMB_WHO_STRUCTURE,
  PLUMB_WHO_MACHINE,
  PLUMB_N_WHO
} PlumbWhoKind;

typedef struct {
  PlumbWhoKind kind;
  uint32_t index;
} PlumbWho;

/* As one of a finding's numbers, over 0 unless nobody. */
static inline double
plumb_who_number (PlumbWho who)
{
  return who.kind == PLUMB_WHO_NOBODY ? 0.0 : (double) who.kind * 4294967296.0 + (double) who.index;
}

static inline PlumbWho
plumb_who_of_number (double number)
{
  if (!(number >= 4294967296.0 && number < (double) PLUMB_N_WHO * 4294967296.0))
    return (PlumbWho){ PLUMB_WHO_NOBODY, 0 };
  uint64_t packed = (uint64_t) number;
  return (PlumbWho){ (PlumbWhoKind) (packed >> 32), (uint32_t) packed };
}

/* ---- a tree of bounding spheres ---------------------------------------------------- */

/* Finds the bodies that may stand between an eye and a picture without
 * looking at all of them. */
typedef struct {
  PlumbVec3 least, most;
  uint32_t first, count; /* in `order`; count 0: an inner node */
  uint32_t right;        /* its second child; the first follows it */
} PlumbBodyNode;

typedef struct {
  uint32_t n, n_nodes;
  uint32_t *order;
  PlumbBodyNode *nodes;
} PlumbBodyTree;

/* False when out of memory. Free with plumb_body_tree_clear(). */
bool plumb_body_tree_make (const PlumbVec3 *centres, const double *radii, uint32_t n, PlumbBodyTree *out);
void plumb_body_tree_clear (PlumbBodyTree *tree);
/* Bodies whose box meets the pyramid from `from` to the picture's corners
 * (as the picture's corners run), written to `found` (room for all n), in the
 * order of the tree. */
uint32_t plumb_body_tree_between (const PlumbBodyTree *tree, PlumbVec3 from, const PlumbVec3 corners[4],
                                  uint32_t *found);
