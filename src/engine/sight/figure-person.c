/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/people.h"

/* Sitting on a chair, by the survey's median shares of the stature. */
static PlumbFigure3d
sitting_person (const PlumbPerson *person)
{
  PlumbBodyMeasures median = plumb_body_measures (PLUMB_EYE_FROM_MIXED_50);
  double share = person->stature_m / median.stature_m;
  double seat_m = plumb_seat_eye_height_m (PLUMB_SEAT_KIND_CHAIR, PLUMB_EYE_FROM_MIXED_50, 0.0, 0.0)
                  - median.eye_over_seat_m;
  PlumbVec3 eye
      = plumb_vec3 (person->x_m, person->y_m, person->floor_z_m + seat_m + share * median.eye_over_seat_m);

  return plumb_figure_sitting (eye, person->facing_rad, share * median.eye_to_crown_m, person->floor_z_m);
}

PlumbFigure3d
plumb_person_figure (const PlumbPerson *person)
{
  PlumbVec3 feet = plumb_vec3 (person->x_m, person->y_m, person->floor_z_m);
  double facing = person->posture == PLUMB_POSTURE_WALKING
                      ? atan2 (person->end_y_m - person->y_m, person->end_x_m - person->x_m)
                      : person->facing_rad;

  return person->posture == PLUMB_POSTURE_SITTING ? sitting_person (person)
                                                  : plumb_figure_standing (feet, facing, person->stature_m);
}
