/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/variants.h"
#include "work-private.h"

/* Box of the picture's beam on one face of a wall, in the hole's own axes
 * from its bottom left corner. False when a corner ray runs away from it. */
static bool
beam_box (const PlumbWork *work, const PlumbVec3 face[4], PlumbVec2 *least, PlumbVec2 *most, double *width,
          double *height)
{
  const PlumbEvaluation *e = work->e;
  PlumbVec3 along = plumb_vec3_sub (face[1], face[0]), up = plumb_vec3_sub (face[3], face[0]);
  PlumbVec3 normal = plumb_vec3_cross (along, up);
  PlumbQuad corners = plumb_rect_corners (e->has_picture ? &e->picture : &work->wanted);

  *width = plumb_vec3_length (along);
  *height = plumb_vec3_length (up);
  *least = plumb_vec2 (HUGE_VAL, HUGE_VAL);
  *most = plumb_vec2 (-HUGE_VAL, -HUGE_VAL);
  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 target
          = plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, corners.corner[i].x),
                              e->target.frame.v, corners.corner[i].y);
      PlumbVec3 ray = plumb_vec3_sub (target, e->beam.lens_m);
      double slope = plumb_vec3_dot (normal, ray);
      double way = plumb_vec3_dot (normal, plumb_vec3_sub (face[0], e->beam.lens_m)) / slope;
      if (!isfinite (way) || way < 0.0 || way > 1.0)
        return false;
      PlumbVec3 at = plumb_vec3_sub (plumb_vec3_along (e->beam.lens_m, ray, way), face[0]);
      PlumbVec2 p = plumb_vec2 (plumb_vec3_dot (at, along) / *width, plumb_vec3_dot (at, up) / *height);
      *least = plumb_vec2 (fmin (least->x, p.x), fmin (least->y, p.y));
      *most = plumb_vec2 (fmax (most->x, p.x), fmax (most->y, p.y));
    }
  return true;
}

/* Room round the beam on one face; negative where the wall's edge cuts it. */
static double
face_room_m (const PlumbWork *work, const PlumbVec3 face[4], PlumbVec2 *size, PlumbVec2 *aside)
{
  PlumbVec2 least, most;
  double width, height;

  if (!beam_box (work, face, &least, &most, &width, &height))
    return -HUGE_VAL;
  *size = plumb_vec2_sub (most, least);
  *aside = plumb_vec2 ((least.x + most.x - width) / 2.0, (least.y + most.y - height) / 2.0);
  return fmin (fmin (least.x, width - most.x), fmin (least.y, height - most.y));
}

static void
check_hole (PlumbWork *work, const PlumbHole *hole)
{
  PlumbVec2 size[2] = { { 0, 0 }, { 0, 0 } }, aside[2] = { { 0, 0 }, { 0, 0 } };
  double inner = face_room_m (work, hole->inner_m, &size[0], &aside[0]);
  double outer = face_room_m (work, hole->outer_m, &size[1], &aside[1]);

  /* The wall is not between lens and picture: this port is not in use. */
  if (!isfinite (inner) || !isfinite (outer))
    return;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_PORT, PLUMB_RECORD_PORT, hole->surface.record);
  double least = plumb_work_limit (work, "beam.port_clearance_least", f);
  int tighter = outer < inner ? 1 : 0;
  const char *tape = plumb_scene_port (work->scene, hole->surface.record)->tape;
  double spread
      = 2.0
        * hypot (plumb_work_lens_u_m (work, work->e->target.frame.v), plumb_scene_tape_u_m (work->scene, tape, 1.0));
  PlumbVec2 wanted = plumb_vec2 (size[tighter].x + 2.0 * (fabs (aside[tighter].x) + least),
                                 size[tighter].y + 2.0 * (fabs (aside[tighter].y) + least));

  plumb_finding_judge (f, fmin (inner, outer), spread, PLUMB_LIMIT_AT_LEAST, least, 0.0, "m");
  f->variant
      = fmin (inner, outer) < -fmax (size[tighter].x, size[tighter].y) ? PLUMB_V_PORT_MISSED : PLUMB_V_PORT_FITS;
  f->number[0] = wanted.x;
  f->number[1] = wanted.y;
  plumb_work_figure (work, PLUMB_FIGURE_least_port_m, 0, fmax (size[0].x, size[1].x) + 2.0 * least, spread);
  plumb_work_figure (work, PLUMB_FIGURE_least_port_m, 1, fmax (size[0].y, size[1].y) + 2.0 * least, spread);
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_LARGER_PORT;
      f->cure_amount = least - fmin (inner, outer);
    }
}

void
plumb_check_ports (PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;

  if (!work->e->has_raw)
    return;
  for (uint32_t i = 0; i < building->n_holes; i++)
    if (building->holes[i].surface.kind == PLUMB_SURFACE_OF_PORT)
      check_hole (work, &building->holes[i]);
}
