/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Screens, the machine on its mount, lamps.
 */
#include "view3d/mesh-private.h"

#define SCREEN_THICKNESS_M 0.010
#define BORDER_THICKNESS_M 0.014
/* A face that lies in its wall's plane stands out by this much, or the two
 * would flicker; on the picture it is under a pixel. */
#define PROUD_M 0.002
#define BARREL_RADIUS_M 0.045
#define BARREL_LENGTH_M 0.12
#define PLATE_THICKNESS_M 0.008
#define TUBE_RADIUS_M 0.025
#define NECK_RADIUS_M 0.02
#define LAMP_RADIUS_M 0.06

static void
plate (PlumbMaker *maker, const PlumbPlaneFrame *frame, double u, double v, double half_u, double half_v, double front_m,
       double thickness_m, PlumbMaterial material)
{
  PlumbVec3 axis[3] = { frame->u, frame->v, frame->n };
  PlumbVec3 centre = plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, u), frame->v, v);
  PlumbBody body = { .n_faces = 0 };

  if (!(half_u > 0.0) || !(half_v > 0.0))
    return;
  centre = plumb_vec3_along (centre, frame->n, front_m - thickness_m / 2.0);
  plumb_body_box (&body, centre, axis, plumb_vec3 (half_u, half_v, thickness_m / 2.0), material);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_ALL, body.grain);
}

static void
border (PlumbMaker *maker, const PlumbScreenResolved *screen, double width_m, double front_m)
{
  double u = screen->width_m / 2.0, v = screen->height_m / 2.0, h = width_m / 2.0;

  plate (maker, &screen->frame, 0.0, v + h, u + width_m, h, front_m, BORDER_THICKNESS_M, PLUMB_MATERIAL_BORDER);
  plate (maker, &screen->frame, 0.0, -v - h, u + width_m, h, front_m, BORDER_THICKNESS_M, PLUMB_MATERIAL_BORDER);
  plate (maker, &screen->frame, u + h, 0.0, h, v, front_m, BORDER_THICKNESS_M, PLUMB_MATERIAL_BORDER);
  plate (maker, &screen->frame, -u - h, 0.0, h, v, front_m, BORDER_THICKNESS_M, PLUMB_MATERIAL_BORDER);
}

void
plumb_maker_screens (PlumbMaker *maker)
{
  for (uint32_t i = 0; i < maker->resolved->n_screens; i++)
    {
      const PlumbScreenResolved *screen = &maker->resolved->screens[i];
      const PlumbScreen *record = plumb_scene_screen (maker->scene, i);
      /* Screens of other arrangements would hang one before the other. */
      if (!screen->valid || !(screen->width_m > 0.0) || !(screen->height_m > 0.0)
          || (maker->evaluation->target.valid && i != maker->evaluation->screen))
        continue;
      bool flush = record->support != PLUMB_SUPPORT_FREE && fabs (record->stand_off_m) < PROUD_M;
      double front = flush ? PROUD_M : 0.0;
      plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_SCREEN, i, PLUMB_NO_INDEX }, true, true);
      plate (maker, &screen->frame, 0.0, 0.0, screen->width_m / 2.0, screen->height_m / 2.0, front, SCREEN_THICKNESS_M,
             PLUMB_MATERIAL_SCREEN);
      if (record->border_m > 0.0)
        border (maker, screen, record->border_m, front + PROUD_M);
      plumb_maker_end_part (maker);
    }
}

/* ---- the machine ----------------------------------------------------------- */

static void
machine_body (PlumbMaker *maker)
{
  static const int SIDE[6][4] = { { 0, 3, 2, 1 }, { 4, 5, 6, 7 }, { 0, 1, 5, 4 }, { 1, 2, 6, 5 }, { 2, 3, 7, 6 },
                                  { 3, 0, 4, 7 } };
  const PlumbVec3 *corner = maker->evaluation->body_corner_m;
  PlumbBody body = { .grain = maker->evaluation->body.r };

  for (int f = 0; f < 6; f++)
    {
      PlumbVec3 p[4];
      for (int i = 0; i < 4; i++)
        p[i] = corner[SIDE[f][i]];
      plumb_body_add (&body, p, 4, PLUMB_MATERIAL_MACHINE);
    }
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_NONE, body.grain);
}

static void
mount (PlumbMaker *maker)
{
  const PlumbEvaluation *e = maker->evaluation;
  const PlumbMount *record = plumb_scene_mount (maker->scene, e->mount);
  const PlumbPlaceResolved *place = &maker->resolved->places[e->place];
  PlumbVec3 axis[3];
  PlumbBody body = { .n_faces = 0 };

  axis[2] = plumb_vec3_unit (place->normal);
  PlumbVec3 right = plumb_vec3_along (e->body.r, axis[2], -plumb_vec3_dot (e->body.r, axis[2]));
  if (plumb_vec3_length (right) < 1e-6)
    plumb_mesh_frame (place->normal, axis);
  else
    {
      axis[0] = plumb_vec3_unit (right);
      axis[1] = plumb_vec3_cross (axis[2], axis[0]);
    }
  PlumbVec3 half = { record->plate_w_m / 2.0, record->plate_d_m / 2.0, PLATE_THICKNESS_M / 2.0 };
  if (half.x > 0.0 && half.y > 0.0)
    {
      plumb_body_box (&body, plumb_vec3_along (e->plate_m, axis[2], half.z), axis, half, PLUMB_MATERIAL_IRON);
      plumb_maker_body (maker, &body, PLUMB_DIVIDE_NONE, body.grain);
    }
  plumb_maker_rod (maker, e->plate_m, e->pivot_m, TUBE_RADIUS_M, PLUMB_MATERIAL_IRON);
  plumb_maker_rod (maker, e->pivot_m, e->holes_m, NECK_RADIUS_M, PLUMB_MATERIAL_IRON);
}

void
plumb_maker_machine (PlumbMaker *maker)
{
  const PlumbEvaluation *e = maker->evaluation;
  uint32_t n_mounts;

  plumb_scene_mount_records (maker->scene, &n_mounts);
  if (e->machine == PLUMB_NO_INDEX || e->place >= maker->resolved->n_places
      || !maker->resolved->places[e->place].valid)
    return;
  for (int i = 0; i < 8; i++)
    if (!plumb_vec3_is_finite (e->body_corner_m[i]))
      return;
  plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_PLACE, e->place, PLUMB_NO_INDEX }, false, false);
  machine_body (maker);
  if (e->solved && plumb_vec3_is_finite (e->beam.lens_m))
    plumb_maker_rod (maker, plumb_vec3_along (e->beam.lens_m, e->beam.axes.f, -BARREL_LENGTH_M), e->beam.lens_m,
                     BARREL_RADIUS_M, PLUMB_MATERIAL_LENS);
  if (e->mount < n_mounts && plumb_vec3_is_finite (e->plate_m) && plumb_vec3_is_finite (e->pivot_m)
      && plumb_vec3_is_finite (e->holes_m))
    mount (maker);
  plumb_maker_end_part (maker);
}

/* ---- lamps ------------------------------------------------------------------- */

void
plumb_maker_lamps (PlumbMaker *maker)
{
  static const PlumbVec3 UPRIGHT[3] = { { 1.0, 0.0, 0.0 }, { 0.0, 1.0, 0.0 }, { 0.0, 0.0, 1.0 } };
  uint32_t n;
  const PlumbLamp *lamps = plumb_scene_lamp_records (maker->scene, &n);

  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec3 centre = { lamps[i].x_m, lamps[i].y_m, lamps[i].z_m };
      if ((lamps[i].kind != PLUMB_LAMP_KIND_POINT && lamps[i].kind != PLUMB_LAMP_KIND_DOWN)
          || plumb_maker_is_cut_away (maker, centre))
        continue;
      double height = lamps[i].kind == PLUMB_LAMP_KIND_DOWN ? LAMP_RADIUS_M / 2.0 : LAMP_RADIUS_M;
      PlumbVec3 half = { LAMP_RADIUS_M, LAMP_RADIUS_M, height };
      plumb_maker_part (maker, (PlumbSubject){ PLUMB_RECORD_LAMP, i, PLUMB_NO_INDEX }, false, true);
      if (lamps[i].kind == PLUMB_LAMP_KIND_DOWN)
        plumb_maker_cylinder (maker, centre, UPRIGHT, half, PLUMB_MATERIAL_OTHER, 16);
      else
        plumb_maker_ellipsoid (maker, centre, UPRIGHT, half, PLUMB_MATERIAL_OTHER, 16);
      plumb_maker_end_part (maker);
    }
}
