/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work-private.h"

/* Angle at the eye between the middles of the picture's left and right edge. */
static double
horizontal_angle_rad (const PlumbEvaluation *e, const PlumbRect *picture, PlumbVec3 eye)
{
  PlumbVec3 centre
      = plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, picture->centre_m.x),
                          e->target.frame.v, picture->centre_m.y);
  PlumbVec3 left = plumb_vec3_sub (plumb_vec3_along (centre, e->target.frame.u, -picture->width_m / 2.0), eye);
  PlumbVec3 right = plumb_vec3_sub (plumb_vec3_along (centre, e->target.frame.u, picture->width_m / 2.0), eye);

  return atan2 (plumb_vec3_length (plumb_vec3_cross (left, right)), plumb_vec3_dot (left, right));
}

static const char *
heights_limit (int32_t purpose)
{
  return purpose == PLUMB_PURPOSE_DETAIL    ? "people.heights_most_detail"
         : purpose == PLUMB_PURPOSE_READING ? "people.heights_most_reading"
                                            : "people.heights_most_video";
}

static PlumbFinding *
add_seat (PlumbWork *work, PlumbCheck check, uint32_t i, const PlumbSeatFigures *seat)
{
  const PlumbSeatResolved *resolved = &work->resolved->seats[i];
  bool single = resolved->row == PLUMB_NO_INDEX;
  PlumbFinding *f = plumb_work_add (work, check, single ? PLUMB_RECORD_SEAT : PLUMB_RECORD_ROW,
                                    single ? resolved->seat : resolved->row);

  f->subject.sub = i;
  f->number[0] = seat->distance_m;
  f->number[1] = seat->distance_heights_ratio;
  f->number[2] = seat->horizontal_angle_rad;
  return f;
}

static void
check_seat (PlumbWork *work, uint32_t i, const PlumbRect *picture, double picture_spread_m)
{
  int32_t purpose = plumb_scene_job (work->scene, 0)->purpose;
  PlumbSeatFigures *seat = &work->e->seats[i];
  double distance_share = picture->width_m > 0.0 ? picture_spread_m / picture->width_m : 0.0;
  double angle = seat->horizontal_angle_rad;
  /* φ = 2 arctan(W/2d): dφ = sin φ · dW/W. */
  double angle_spread = fabs (sin (angle)) * distance_share;

  if (purpose == PLUMB_PURPOSE_HOME || purpose == PLUMB_PURPOSE_CINEMA)
    {
      PlumbFinding *f = add_seat (work, PLUMB_CHECK_PEOPLE_ANGLE_LEAST, i, seat);
      double least = plumb_work_limit (
          work, purpose == PLUMB_PURPOSE_HOME ? "people.angle_least_home" : "people.angle_least_cinema", f);
      plumb_finding_judge (f, angle, angle_spread, PLUMB_LIMIT_AT_LEAST, least, 0.0, "rad");
      if (f->verdict == PLUMB_FAILS)
        {
          f->cure = PLUMB_CURE_SEAT_NEARER;
          f->cure_amount = seat->distance_m - picture->width_m / (2.0 * tan (least / 2.0));
        }
    }
  PlumbFinding *f = add_seat (work, PLUMB_CHECK_PEOPLE_ANGLE_MOST, i, seat);
  double most = plumb_work_limit (work, "people.angle_most", f);
  plumb_finding_judge (f, angle, angle_spread, PLUMB_LIMIT_AT_MOST, 0.0, most, "rad");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_SEAT_FARTHER;
      f->cure_amount = picture->width_m / (2.0 * tan (most / 2.0)) - seat->distance_m;
    }
  f = add_seat (work, PLUMB_CHECK_PEOPLE_HEIGHTS, i, seat);
  double heights = plumb_work_limit (work, heights_limit (purpose), f);
  plumb_finding_judge (f, seat->distance_heights_ratio, seat->distance_heights_ratio * distance_share,
                       PLUMB_LIMIT_AT_MOST, 0.0, heights, "ratio");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_SEAT_NEARER;
      f->cure_amount = seat->distance_m - heights * picture->height_m;
    }
}

void
plumb_check_people (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  const PlumbRect *picture = e->has_picture ? &e->picture : &work->wanted;
  PlumbVec3 centre
      = plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, picture->centre_m.x),
                          e->target.frame.v, picture->centre_m.y);
  double spread = e->has_picture ? e->figures[PLUMB_FIGURE_picture_width_m].spread[0] : 0.0;

  e->n_seats = work->resolved->n_seats;
  for (uint32_t i = 0; i < e->n_seats; i++)
    {
      PlumbVec3 eye = work->resolved->seats[i].eye_m;
      e->seats[i].seat = i;
      e->seats[i].distance_m = plumb_vec3_length (plumb_vec3_sub (centre, eye));
      e->seats[i].distance_heights_ratio = e->seats[i].distance_m / picture->height_m;
      e->seats[i].horizontal_angle_rad = horizontal_angle_rad (e, picture, eye);
      check_seat (work, i, picture, spread);
    }
}
