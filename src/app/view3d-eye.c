/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-eye.h"

#include <math.h>

/* Once across the pane turns the model half round. */
#define TURN_RAD_ACROSS G_PI
/* A head does not see less or more at once. */
#define FOV_LEAST_RAD (8.0 * G_PI / 180.0)
#define FOV_MOST_RAD (110.0 * G_PI / 180.0)

double
plumb_view3d_place_aspect (const PlumbView3dPlace *place)
{
  return place->width_px > 0 && place->height_px > 0 ? (double) place->width_px / place->height_px : 1.0;
}

void
plumb_view3d_eye_init (PlumbView3dEye *eye)
{
  *eye = (PlumbView3dEye){ .kind = PLUMB_CAMERA_ROOM, .seat = PLUMB_NO_INDEX };
}

uint32_t
plumb_view3d_eye_seat (const PlumbView3dEye *eye, const PlumbScene *scene)
{
  uint32_t n = plumb_scene_resolved (scene)->n_seats;
  if (n == 0)
    return PLUMB_NO_INDEX;
  return eye->seat < n ? eye->seat : n / 2;
}

static gboolean
find_home (const PlumbView3dEye *eye, const PlumbView3dPlace *place, PlumbCameraKind kind, PlumbCamera *camera)
{
  uint32_t seat = kind == PLUMB_CAMERA_SEAT ? plumb_view3d_eye_seat (eye, place->scene) : PLUMB_NO_INDEX;
  if (kind == PLUMB_CAMERA_SEAT && seat == PLUMB_NO_INDEX)
    return FALSE;
  return plumb_camera_home (place->scene, place->evaluation, kind, seat, plumb_view3d_place_aspect (place), camera);
}

gboolean
plumb_view3d_eye_can (const PlumbView3dEye *eye, const PlumbView3dPlace *place, PlumbCameraKind kind)
{
  PlumbCamera camera;
  return find_home (eye, place, kind, &camera);
}

void
plumb_view3d_eye_settle (PlumbView3dEye *eye, const PlumbView3dPlace *place)
{
  PlumbCamera home;
  gboolean can = find_home (eye, place, eye->kind, &home);
  if (!can && eye->kind != PLUMB_CAMERA_ROOM)
    {
      /* The beam or the seat is gone: back into the room. */
      eye->kind = PLUMB_CAMERA_ROOM;
      eye->travels = FALSE;
      can = find_home (eye, place, eye->kind, &home);
      if (can && eye->moved[PLUMB_CAMERA_ROOM])
        eye->now = eye->kept[PLUMB_CAMERA_ROOM];
    }
  eye->valid = can;
  if (!can)
    return;
  if (!eye->moved[eye->kind])
    eye->kept[eye->kind] = home;
  if (!eye->travels)
    eye->now = eye->kept[eye->kind];
}

static void
set_out (PlumbView3dEye *eye, gint64 now_us)
{
  eye->travels = now_us > 0 && eye->valid;
  eye->from = eye->now;
  eye->begun_us = now_us;
}

void
plumb_view3d_eye_go (PlumbView3dEye *eye, const PlumbView3dPlace *place, PlumbCameraKind kind, gint64 now_us)
{
  set_out (eye, now_us);
  eye->kind = kind;
  plumb_view3d_eye_settle (eye, place);
}

void
plumb_view3d_eye_home (PlumbView3dEye *eye, const PlumbView3dPlace *place, gint64 now_us)
{
  set_out (eye, now_us);
  eye->moved[eye->kind] = FALSE;
  plumb_view3d_eye_settle (eye, place);
}

gboolean
plumb_view3d_eye_travel (PlumbView3dEye *eye, gint64 now_us)
{
  double t = (double) (now_us - eye->begun_us) / PLUMB_EYE_TRAVEL_US;
  if (!eye->travels)
    return FALSE;
  if (t >= 1.0)
    {
      eye->travels = FALSE;
      eye->now = eye->kept[eye->kind];
      return FALSE;
    }
  t = t < 0.0 ? 0.0 : t * t * (3.0 - 2.0 * t);
  eye->now = plumb_camera_between (&eye->from, &eye->kept[eye->kind], t);
  return TRUE;
}

/* ---- by hand ------------------------------------------------------------------------- */

static gboolean
take_moved (PlumbView3dEye *eye)
{
  eye->travels = FALSE;
  eye->moved[eye->kind] = TRUE;
  eye->kept[eye->kind] = eye->now;
  return TRUE;
}

static double
metres_per_px (const PlumbView3dEye *eye, const PlumbView3dPlace *place)
{
  return 2.0 * eye->now.distance_m * tan (eye->now.fov_y_rad / 2.0) / MAX (place->height_px, 1);
}

/* The eye stays where it is and the target goes round it. */
static void
turn_head (PlumbCamera *camera, double d_azimuth_rad, double d_elevation_rad)
{
  PlumbVec3 eye = plumb_camera_eye (camera);
  plumb_camera_orbit (camera, d_azimuth_rad, d_elevation_rad);
  camera->target_m = plumb_vec3_add (camera->target_m, plumb_vec3_sub (eye, plumb_camera_eye (camera)));
}

gboolean
plumb_view3d_eye_pan (PlumbView3dEye *eye, const PlumbView3dPlace *place, double dx_px, double dy_px)
{
  double scale = metres_per_px (eye, place);
  if (!eye->valid || eye->kind == PLUMB_CAMERA_LENS)
    return FALSE;
  if (eye->kind == PLUMB_CAMERA_SEAT)
    return plumb_view3d_eye_turn (eye, place, dx_px, dy_px);
  plumb_camera_pan (&eye->now, -dx_px * scale, dy_px * scale);
  return take_moved (eye);
}

gboolean
plumb_view3d_eye_turn (PlumbView3dEye *eye, const PlumbView3dPlace *place, double dx_px, double dy_px)
{
  if (!eye->valid || eye->kind == PLUMB_CAMERA_LENS)
    return FALSE;
  if (eye->kind == PLUMB_CAMERA_FRONT)
    return plumb_view3d_eye_pan (eye, place, dx_px, dy_px);
  if (eye->kind == PLUMB_CAMERA_SEAT)
    {
      double scale = eye->now.fov_y_rad / MAX (place->height_px, 1);
      turn_head (&eye->now, dx_px * scale, -dy_px * scale);
    }
  else
    {
      double scale = TURN_RAD_ACROSS / MAX (place->width_px, 1);
      plumb_camera_orbit (&eye->now, -dx_px * scale, dy_px * scale);
    }
  return take_moved (eye);
}

gboolean
plumb_view3d_eye_zoom (PlumbView3dEye *eye, double factor)
{
  if (!eye->valid || eye->kind == PLUMB_CAMERA_LENS || !(factor > 0.0))
    return FALSE;
  if (eye->kind == PLUMB_CAMERA_SEAT)
    eye->now.fov_y_rad = CLAMP (eye->now.fov_y_rad / factor, FOV_LEAST_RAD, FOV_MOST_RAD);
  else
    plumb_camera_zoom (&eye->now, factor);
  return take_moved (eye);
}
