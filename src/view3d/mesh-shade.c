/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What of people stops the projector's light: the heads and trunks of the sums
 * about shadow, so that the thrown picture shows the shadows that are counted.
 */
#include "view3d/mesh-private.h"

#include "plumbeam/people.h"

/* The more people, the fewer corners go round a head. */
static uint32_t
turn_for (uint32_t n)
{
  return n <= 60 ? 48 : n <= 600 ? 24 : 12;
}

/* Corners on the head would leave a part of its outline out: they stand off by
 * so much that the outline's area is right. */
static double
swelling (uint32_t turn)
{
  double step = 2.0 * PLUMB_PI / turn;
  return sqrt (step / sin (step));
}

static void
put_trunk (PlumbMaker *maker, const PlumbVec3 corner[8])
{
  static const uint8_t side[6][4] = { { 0, 1, 3, 2 }, { 4, 5, 7, 6 }, { 0, 1, 5, 4 },
                                      { 2, 3, 7, 6 }, { 0, 2, 6, 4 }, { 1, 3, 7, 5 } };
  PlumbBody body = { .n_faces = 0 };

  for (int f = 0; f < 6; f++)
    {
      PlumbVec3 point[4];
      for (int i = 0; i < 4; i++)
        point[i] = corner[side[f][i]];
      plumb_body_add (&body, point, 4, PLUMB_MATERIAL_PERSON);
    }
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_NONE, corner[0]);
}

static void
put_figure (PlumbMaker *maker, const PlumbFigure3d *figure, uint32_t turn)
{
  if (!plumb_vec3_is_finite (figure->head_centre_m) || !plumb_vec3_is_finite (figure->head_axis[0]))
    return;
  const PlumbVec3 axis[3] = { figure->head_axis[0], figure->head_axis[1], figure->head_axis[2] };
  plumb_maker_ellipsoid (maker, figure->head_centre_m, axis,
                         plumb_vec3_scale (figure->head_half_m, swelling (turn)), PLUMB_MATERIAL_PERSON, turn);
  put_trunk (maker, figure->trunk_m);
}

void
plumb_maker_shade (PlumbMaker *maker)
{
  const PlumbResolved *r = maker->resolved;
  const PlumbSubject nobody = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  uint32_t n_persons;
  const PlumbPerson *persons = plumb_scene_person_records (maker->scene, &n_persons);
  uint32_t turn = turn_for (r->n_seats + n_persons);

  plumb_maker_part (maker, nobody, true, false);
  for (uint32_t i = 0; i < r->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &r->seats[i];
      PlumbFigure3d figure
          = plumb_figure_sitting (seat->eye_m, seat->facing_rad, seat->head_above_eye_m, seat->floor_z_m);
      put_figure (maker, &figure, turn);
    }
  for (uint32_t i = 0; i < n_persons; i++)
    {
      PlumbFigure3d figure = plumb_person_figure (&persons[i]);
      put_figure (maker, &figure, turn);
    }
  plumb_maker_end_part (maker);
}
