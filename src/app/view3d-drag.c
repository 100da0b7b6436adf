/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-drag.h"

#include <math.h>

/* How far out on the plane the pointer counts, in distances of the thing. */
#define FAR_TIMES 4.0
#define FAR_LEAST_M 1.0

static PlumbVec2
on_plan (PlumbDocument *document, PlumbVec3 room_m)
{
  PlumbDrawPlane plane
      = plumb_draw_plane (plumb_document_scene (document), plumb_document_evaluation (document), PLUMB_DRAW_PLAN);
  return plumb_draw_plane_from_room (&plane, room_m);
}

/* A sloped ceiling carries what hangs from it up and down: the plane follows. */
static double
handle_z_m (const PlumbView3dDrag *drag)
{
  const PlumbEvaluation *evaluation = plumb_document_evaluation (drag->plan.document);
  gboolean carried = drag->plan.subject.kind == PLUMB_RECORD_PLACE && evaluation->solved
                     && evaluation->place == drag->plan.subject.index;
  return carried ? evaluation->plate_m.z : 0.0;
}

gboolean
plumb_view3d_drag_begin (PlumbView3dDrag *drag, PlumbDocument *document, PlumbSubject subject, PlumbVec3 hit_m)
{
  if (!plumb_drag_session_begin (&drag->plan, document, PLUMB_DRAW_PLAN, subject, PLUMB_PART_WHOLE,
                                 on_plan (document, hit_m)))
    return FALSE;
  drag->hit_m = hit_m;
  drag->handle_z_m = handle_z_m (drag);
  return TRUE;
}

gboolean
plumb_view3d_drag_is_held (const PlumbView3dDrag *drag)
{
  return plumb_drag_session_is_held (&drag->plan);
}

void
plumb_view3d_drag_move (PlumbView3dDrag *drag, const PlumbCamera *camera, int width_px, int height_px, double x,
                        double y, gboolean snapping)
{
  PlumbVec3 eye = plumb_camera_eye (camera);
  PlumbVec3 ray = plumb_camera_ray (camera, (double) width_px / MAX (height_px, 1), x, y);
  double away_m = plumb_vec3_length (plumb_vec3_sub (drag->hit_m, eye));
  double z_m = drag->hit_m.z + handle_z_m (drag) - drag->handle_z_m;
  double t = (z_m - eye.z) / ray.z;
  PlumbDrawView view = plumb_draw_view_default (PLUMB_DRAW_PLAN);

  g_return_if_fail (plumb_view3d_drag_is_held (drag));
  if (!isfinite (t) || t <= 0.0 || t * plumb_vec3_length (ray) > FAR_TIMES * MAX (away_m, FAR_LEAST_M))
    return;
  /* Snapping reaches as many pixels as in a drawing. */
  view.scale_per_m = height_px / (2.0 * MAX (away_m, 0.1) * tan (camera->fov_y_rad / 2.0));
  plumb_drag_session_move (&drag->plan, &view, on_plan (drag->plan.document, plumb_vec3_along (eye, ray, t)),
                           snapping);
}

void
plumb_view3d_drag_end (PlumbView3dDrag *drag)
{
  plumb_drag_session_end (&drag->plan);
}

void
plumb_view3d_drag_cancel (PlumbView3dDrag *drag)
{
  plumb_drag_session_cancel (&drag->plan);
}
