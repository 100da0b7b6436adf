/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/camera.h"

#include <string.h>

#include "view3d/mesh-axes-private.h"

#define ROOM_FOV_RAD (35.0 * PLUMB_PI / 180.0)
#define FRONT_FOV_RAD (40.0 * PLUMB_PI / 180.0)
#define SEAT_FOV_RAD (60.0 * PLUMB_PI / 180.0)
/* Back right above, as one looks into a model on a table. */
#define ROOM_SIDE_RAD (40.0 * PLUMB_PI / 180.0)
#define ROOM_ELEVATION_RAD (27.0 * PLUMB_PI / 180.0)
#define ROOM_MARGIN 1.06
/* Outside, a look from far beneath the floor shows nothing. */
#define OUTSIDE_LEAST_RAD (-10.0 * PLUMB_PI / 180.0)
#define OUTSIDE_MOST_RAD (88.0 * PLUMB_PI / 180.0)
#define INSIDE_MOST_RAD (85.0 * PLUMB_PI / 180.0)
#define LEAST_DISTANCE_M 0.05
#define MOST_DISTANCE_M 2000.0
#define LEAST_FOV_RAD 0.02
#define MOST_FOV_RAD 3.0

typedef struct {
  PlumbVec3 eye, right, up, back;
} Stand;

/* Axes before the roll; straight up or down the azimuth still tells them. */
static Stand
stand (const PlumbCamera *camera)
{
  double ca = cos (camera->azimuth_rad), sa = sin (camera->azimuth_rad);
  double ce = cos (camera->elevation_rad), se = sin (camera->elevation_rad);
  double cr = cos (camera->roll_rad), sr = sin (camera->roll_rad);
  PlumbVec3 right = plumb_vec3 (-sa, ca, 0.0), up = plumb_vec3 (-se * ca, -se * sa, ce);
  Stand s;

  s.back = plumb_vec3 (ce * ca, ce * sa, se);
  s.eye = plumb_vec3_along (camera->target_m, s.back, camera->distance_m);
  s.right = plumb_vec3_along (plumb_vec3_scale (right, cr), up, -sr);
  s.up = plumb_vec3_along (plumb_vec3_scale (up, cr), right, sr);
  return s;
}

/* Looks from target + distance · back; the view's up leans to `up`. */
static void
turn_to (PlumbCamera *camera, PlumbVec3 back, PlumbVec3 up)
{
  camera->elevation_rad = asin (plumb_clamp (back.z, -1.0, 1.0));
  camera->azimuth_rad = hypot (back.x, back.y) > 1e-12 ? atan2 (back.y, back.x) : 0.0;
  camera->roll_rad = 0.0;
  Stand s = stand (camera);
  camera->roll_rad = atan2 (plumb_vec3_dot (up, s.right), plumb_vec3_dot (up, s.up));
}

static double
half_height (const PlumbCamera *camera)
{
  return tan (plumb_clamp (camera->fov_y_rad, LEAST_FOV_RAD, MOST_FOV_RAD) / 2.0);
}

/* Least distance from which all points lie in the pane. */
static double
distance_for (const PlumbCamera *camera, double aspect, const PlumbVec3 *points, size_t n)
{
  Stand s = stand (camera);
  double half = half_height (camera), most = LEAST_DISTANCE_M;

  for (size_t i = 0; i < n; i++)
    {
      PlumbVec3 p = plumb_vec3_sub (points[i], camera->target_m);
      double x = fabs (plumb_vec3_dot (p, s.right)) / (half * aspect), y = fabs (plumb_vec3_dot (p, s.up)) / half;
      most = fmax (most, plumb_vec3_dot (p, s.back) + fmax (x, y));
    }
  return most;
}

static bool
home_room (const PlumbScene *scene, const PlumbEvaluation *evaluation, double aspect, PlumbCamera *camera)
{
  PlumbMeshAxes axes;
  PlumbVec3 corner[8];

  if (!plumb_mesh_axes (scene, evaluation, &axes))
    return false;
  /* What stays of the room when its back is cut behind the last row. */
  double back = fmin (axes.back_m, axes.box_back_m);
  for (int i = 0; i < 8; i++)
    {
      double d = i & 1 ? back : axes.box_front_m, s = i & 2 ? axes.box_right_m : axes.box_left_m;
      corner[i] = plumb_mesh_axes_point (&axes, d, s, i & 4 ? axes.top_z_m : axes.floor_z_m);
    }
  camera->target_m = plumb_vec3_scale (plumb_vec3_add (corner[0], corner[7]), 0.5);
  PlumbVec2 way = plumb_vec2_scale (axes.back, cos (ROOM_SIDE_RAD));
  way = plumb_vec2_along (way, axes.right, sin (ROOM_SIDE_RAD));
  camera->azimuth_rad = atan2 (way.y, way.x);
  camera->elevation_rad = ROOM_ELEVATION_RAD;
  camera->fov_y_rad = ROOM_FOV_RAD;
  /* Centre what is seen: perspective makes the near corners larger. */
  camera->distance_m = ROOM_MARGIN * distance_for (camera, aspect, corner, 8);
  return true;
}

static bool
home_front (const PlumbEvaluation *evaluation, double aspect, PlumbCamera *camera)
{
  const PlumbScreenResolved *target = &evaluation->target;
  PlumbVec3 corner[4];

  if (!target->valid)
    return false;
  for (int i = 0; i < 4; i++)
    {
      double u = (i & 1 ? 0.5 : -0.5) * target->width_m, v = (i & 2 ? 0.5 : -0.5) * target->height_m;
      corner[i] = plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, u), target->frame.v, v);
    }
  camera->target_m = target->frame.origin_m;
  turn_to (camera, target->frame.n, target->frame.v);
  camera->fov_y_rad = FRONT_FOV_RAD;
  camera->distance_m = 1.5 * distance_for (camera, aspect, corner, 4);
  return true;
}

static bool
home_lens (const PlumbEvaluation *evaluation, double aspect, PlumbCamera *camera)
{
  const PlumbBeam *beam = &evaluation->beam;

  if (!evaluation->solved || !(beam->throw_ratio > 0.0) || !(beam->panel_aspect > 0.0)
      || !plumb_vec3_is_finite (beam->lens_m))
    return false;
  PlumbVec3 back = plumb_vec3_scale (beam->axes.f, -1.0);
  double half_h = 0.5 / (beam->panel_aspect * beam->throw_ratio);
  double half = fmax (half_h, 0.5 / (beam->throw_ratio * aspect));
  /* Light from behind is seen mirrored: the viewer's right is the lens's left. */
  double side = plumb_vec3_dot (plumb_vec3_cross (beam->axes.f, beam->axes.w), beam->axes.r) < 0.0 ? -1.0 : 1.0;

  turn_to (camera, back, beam->axes.w);
  camera->distance_m = 1.0;
  if (evaluation->target.valid)
    {
      PlumbVec3 away = plumb_vec3_sub (evaluation->target.frame.origin_m, beam->lens_m);
      camera->distance_m = fmax (LEAST_DISTANCE_M, plumb_vec3_dot (away, beam->axes.f));
    }
  camera->target_m = plumb_vec3_along (beam->lens_m, beam->axes.f, camera->distance_m);
  camera->fov_y_rad = 2.0 * atan (half);
  camera->lens_shift_x = side * beam->shift_h_share / beam->throw_ratio / half;
  camera->lens_shift_y = beam->shift_v_share / (beam->panel_aspect * beam->throw_ratio) / half;
  return true;
}

static bool
home_seat (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t seat, PlumbCamera *camera)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);

  if (seat >= resolved->n_seats)
    return false;
  const PlumbSeatResolved *sitter = &resolved->seats[seat];
  PlumbVec3 ahead = plumb_vec3 (cos (sitter->facing_rad), sin (sitter->facing_rad), 0.0);
  PlumbVec3 target = plumb_vec3_along (sitter->eye_m, ahead, 4.0);
  if (evaluation->target.valid)
    target = evaluation->target.frame.origin_m;
  if (evaluation->target.valid && evaluation->has_picture)
    {
      const PlumbPlaneFrame *frame = &evaluation->target.frame;
      target = plumb_vec3_along (target, frame->u, evaluation->picture.centre_m.x);
      target = plumb_vec3_along (target, frame->v, evaluation->picture.centre_m.y);
    }
  PlumbVec3 back = plumb_vec3_sub (sitter->eye_m, target);
  double distance = plumb_vec3_length (back);
  if (!plumb_vec3_is_finite (back) || distance < LEAST_DISTANCE_M)
    return false;
  turn_to (camera, plumb_vec3_scale (back, 1.0 / distance), plumb_vec3 (0.0, 0.0, 1.0));
  camera->roll_rad = 0.0;
  camera->target_m = target;
  camera->distance_m = distance;
  camera->fov_y_rad = SEAT_FOV_RAD;
  return true;
}

static double
sane_aspect (double aspect)
{
  return isfinite (aspect) && aspect > 0.0 ? plumb_clamp (aspect, 0.01, 100.0) : 1.0;
}

bool
plumb_camera_home (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbCameraKind kind, uint32_t seat,
                   double aspect, PlumbCamera *camera)
{
  memset (camera, 0, sizeof *camera);
  camera->kind = kind;
  camera->seat = kind == PLUMB_CAMERA_SEAT ? seat : PLUMB_NO_INDEX;
  aspect = sane_aspect (aspect);
  if (scene == NULL || evaluation == NULL || plumb_scene_resolved (scene) == NULL)
    return false;
  switch (kind)
    {
    case PLUMB_CAMERA_ROOM:
      return home_room (scene, evaluation, aspect, camera);
    case PLUMB_CAMERA_FRONT:
      return home_front (evaluation, aspect, camera);
    case PLUMB_CAMERA_LENS:
      return home_lens (evaluation, aspect, camera);
    case PLUMB_CAMERA_SEAT:
      return home_seat (scene, evaluation, seat, camera);
    }
  return false;
}

PlumbVec3
plumb_camera_eye (const PlumbCamera *camera)
{
  return stand (camera).eye;
}

void
plumb_camera_orbit (PlumbCamera *camera, double d_azimuth_rad, double d_elevation_rad)
{
  bool outside = camera->kind == PLUMB_CAMERA_ROOM || camera->kind == PLUMB_CAMERA_FRONT;

  if (!isfinite (d_azimuth_rad) || !isfinite (d_elevation_rad))
    return;
  camera->azimuth_rad = remainder (camera->azimuth_rad + d_azimuth_rad, 2.0 * PLUMB_PI);
  camera->elevation_rad = plumb_clamp (camera->elevation_rad + d_elevation_rad,
                                       outside ? OUTSIDE_LEAST_RAD : -INSIDE_MOST_RAD,
                                       outside ? OUTSIDE_MOST_RAD : INSIDE_MOST_RAD);
}

void
plumb_camera_pan (PlumbCamera *camera, double right_m, double up_m)
{
  Stand s = stand (camera);

  if (!isfinite (right_m) || !isfinite (up_m))
    return;
  camera->target_m = plumb_vec3_along (plumb_vec3_along (camera->target_m, s.right, right_m), s.up, up_m);
}

void
plumb_camera_zoom (PlumbCamera *camera, double factor)
{
  if (isfinite (factor) && factor > 0.0)
    camera->distance_m = plumb_clamp (camera->distance_m / factor, LEAST_DISTANCE_M, MOST_DISTANCE_M);
}

static double
between (double a, double b, double t)
{
  return a + (b - a) * t;
}

static double
between_angles (double a, double b, double t)
{
  return a + remainder (b - a, 2.0 * PLUMB_PI) * t;
}

PlumbCamera
plumb_camera_between (const PlumbCamera *a, const PlumbCamera *b, double t)
{
  PlumbCamera c = *b;

  if (!(t < 1.0))
    return *b;
  if (t <= 0.0)
    return *a;
  c.azimuth_rad = between_angles (a->azimuth_rad, b->azimuth_rad, t);
  c.elevation_rad = between (a->elevation_rad, b->elevation_rad, t);
  c.roll_rad = between_angles (a->roll_rad, b->roll_rad, t);
  c.fov_y_rad = between (a->fov_y_rad, b->fov_y_rad, t);
  c.lens_shift_x = between (a->lens_shift_x, b->lens_shift_x, t);
  c.lens_shift_y = between (a->lens_shift_y, b->lens_shift_y, t);
  c.distance_m = between (a->distance_m, b->distance_m, t);
  /* The eye goes straight, whatever the angles do. */
  PlumbVec3 from = plumb_camera_eye (a), way = plumb_vec3_sub (plumb_camera_eye (b), from);
  PlumbVec3 eye = plumb_vec3_along (from, way, t);
  c.target_m = plumb_vec3_along (eye, stand (&c).back, -c.distance_m);
  return c;
}

void
plumb_camera_matrices (const PlumbCamera *camera, double aspect, double near_m, double far_m, float view[16],
                       float projection[16])
{
  Stand s = stand (camera);
  PlumbVec3 row[3] = { s.right, s.up, s.back };
  double half = half_height (camera);

  aspect = sane_aspect (aspect);
  memset (view, 0, 16 * sizeof *view);
  memset (projection, 0, 16 * sizeof *projection);
  for (int i = 0; i < 3; i++)
    {
      view[i] = (float) row[i].x;
      view[4 + i] = (float) row[i].y;
      view[8 + i] = (float) row[i].z;
      view[12 + i] = (float) -plumb_vec3_dot (row[i], s.eye);
    }
  view[15] = 1.0f;
  projection[0] = (float) (1.0 / (half * aspect));
  projection[5] = (float) (1.0 / half);
  projection[8] = (float) (camera->lens_shift_x / aspect);
  projection[9] = (float) camera->lens_shift_y;
  projection[10] = (float) (-(far_m + near_m) / (far_m - near_m));
  projection[11] = -1.0f;
  projection[14] = (float) (-2.0 * far_m * near_m / (far_m - near_m));
}

PlumbVec3
plumb_camera_ray (const PlumbCamera *camera, double aspect, double x, double y)
{
  Stand s = stand (camera);
  double half = half_height (camera);
  double across = ((2.0 * x - 1.0) * sane_aspect (aspect) + camera->lens_shift_x) * half;
  double up = (1.0 - 2.0 * y + camera->lens_shift_y) * half;
  PlumbVec3 ray = plumb_vec3_scale (s.back, -1.0);

  return plumb_vec3_along (plumb_vec3_along (ray, s.right, across), s.up, up);
}
