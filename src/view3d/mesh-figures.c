/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heads and trunks alone, as the sums have them: they cast the shadows of
 * people, so that what is seen of a shadow is what the figures say. */
#include "plumbeam/people.h"
#include "view3d/mesh-private.h"

/* Inscribed, a head's outline is 0.2 % of its area short. */
#define HEAD_TURN 64

static void
put_trunk (PlumbMaker *maker, const PlumbFigure3d *figure)
{
  static const int SIDE[6][4]
      = { { 0, 2, 3, 1 }, { 4, 5, 7, 6 }, { 0, 1, 5, 4 }, { 1, 3, 7, 5 }, { 3, 2, 6, 7 }, { 2, 0, 4, 6 } };
  PlumbBody body = { .grain = figure->head_axis[0] };

  for (int f = 0; f < 6; f++)
    {
      PlumbVec3 p[4];
      for (int i = 0; i < 4; i++)
        p[i] = figure->trunk_m[SIDE[f][i]];
      plumb_body_add (&body, p, 4, PLUMB_MATERIAL_PERSON);
    }
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_NONE, body.grain);
}

static void
put_figure (PlumbMaker *maker, const PlumbFigure3d *figure, PlumbSubject subject)
{
  if (!plumb_vec3_is_finite (figure->head_centre_m) || !plumb_vec3_is_finite (figure->trunk_m[0])
      || !plumb_vec3_is_finite (figure->trunk_m[7]))
    return;
  plumb_maker_part (maker, subject, true, false);
  plumb_maker_ellipsoid (maker, figure->head_centre_m, figure->head_axis, figure->head_half_m, PLUMB_MATERIAL_PERSON,
                         HEAD_TURN);
  put_trunk (maker, figure);
  plumb_maker_end_part (maker);
}

void
plumb_maker_figures (PlumbMaker *maker)
{
  const PlumbResolved *r = maker->resolved;
  uint32_t n;
  const PlumbPerson *persons = plumb_scene_person_records (maker->scene, &n);

  for (uint32_t i = 0; i < r->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &r->seats[i];
      bool row = seat->row != PLUMB_NO_INDEX;
      PlumbFigure3d figure
          = plumb_figure_sitting (seat->eye_m, seat->facing_rad, seat->head_above_eye_m, seat->floor_z_m);
      put_figure (maker, &figure,
                  (PlumbSubject){ row ? PLUMB_RECORD_ROW : PLUMB_RECORD_SEAT, row ? seat->row : seat->seat, i });
    }
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbFigure3d figure = plumb_figure_of_person (&persons[i]);
      put_figure (maker, &figure, (PlumbSubject){ PLUMB_RECORD_PERSON, i, PLUMB_NO_INDEX });
    }
}
