/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Beam, frustum, axis and lines of sight as lines and translucent planes. */
#include "view3d-private.h"

#define BEAM_REACH_M 80.0
#define MOST_SIGHT_SEATS 400

typedef struct {
  GArray *lines, *planes;
} Maker;

static void
add (GArray *to, PlumbVec3 at, const float rgb[3], double alpha, double along_m, double kind)
{
  PlumbLineVertex v = { .position_m = { (float) at.x, (float) at.y, (float) at.z },
                        .tint = { rgb[0], rgb[1], rgb[2], (float) alpha },
                        .along_m = (float) along_m,
                        .kind = (float) kind };

  g_array_append_val (to, v);
}

static void
add_line (Maker *m, PlumbVec3 a, PlumbVec3 b, const float rgb[3], double alpha, int kind)
{
  add (m->lines, a, rgb, alpha, 0.0, kind);
  add (m->lines, b, rgb, alpha, plumb_vec3_length (plumb_vec3_sub (b, a)), kind);
}

static PlumbVec3
on_ray (const PlumbBeam *beam, double a, double b, double ahead_m)
{
  return plumb_vec3_along (beam->lens_m, plumb_beam_ray (beam, plumb_vec2 (a, b)), ahead_m);
}

/* Four planes from the lens, in steps so that the light can fade on its way. */
static void
add_beam (const PlumbView3d *view, Maker *m)
{
  const PlumbBeam *beam = &view->evaluation->beam;
  const double corner[5][2] = { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 }, { -0.5, -0.5 } };
  double throw_m = fabs (plumb_vec3_dot (view->evaluation->target.frame.n,
                                         plumb_vec3_sub (beam->lens_m, view->evaluation->target.frame.origin_m)));
  double strong = view->colours.room_light < 0.5 ? 0.26 : 0.40;
  const double at[4] = { 0.02, fmax (throw_m * 0.5, 0.1), fmax (throw_m * 1.02, 0.2), BEAM_REACH_M };
  const double alpha[4] = { strong, strong * 0.45, 0.02, 0.02 };

  for (int k = 0; k < 4; k++)
    {
      for (int s = 0; s < 3; s++)
        {
          PlumbVec3 p[4] = { on_ray (beam, corner[k][0], corner[k][1], at[s]),
                             on_ray (beam, corner[k + 1][0], corner[k + 1][1], at[s]),
                             on_ray (beam, corner[k + 1][0], corner[k + 1][1], at[s + 1]),
                             on_ray (beam, corner[k][0], corner[k][1], at[s + 1]) };
          const int order[6] = { 0, 1, 2, 0, 2, 3 };
          for (int i = 0; i < 6; i++)
            add (m->planes, p[order[i]], view->colours.beam, alpha[s + (order[i] >= 2)], 0.0, 2);
        }
      add_line (m, on_ray (beam, corner[k][0], corner[k][1], 0.02),
                on_ray (beam, corner[k][0], corner[k][1], BEAM_REACH_M), view->colours.picture, 0.75, 2);
    }
}

static void
add_frustum (const PlumbView3d *view, Maker *m)
{
  const PlumbBeam *beam = &view->evaluation->beam;
  const double corner[5][2] = { { -0.5, -0.5 }, { 0.5, -0.5 }, { 0.5, 0.5 }, { -0.5, 0.5 }, { -0.5, -0.5 } };

  for (int k = 0; k < 4; k++)
    {
      add_line (m, beam->lens_m, on_ray (beam, corner[k][0], corner[k][1], 1.0), view->colours.picture, 1.0, 0);
      add_line (m, on_ray (beam, corner[k][0], corner[k][1], 1.0), on_ray (beam, corner[k + 1][0], corner[k + 1][1], 1.0),
                view->colours.picture, 1.0, 0);
    }
}

static void
add_axis (const PlumbView3d *view, Maker *m)
{
  const PlumbBeam *beam = &view->evaluation->beam;

  /* The lens's own axis, and the way to the middle of the shifted picture. */
  add_line (m, beam->lens_m, plumb_vec3_along (beam->lens_m, beam->axes.f, BEAM_REACH_M), view->colours.ink2, 1.0, 1);
  add_line (m, beam->lens_m, on_ray (beam, 0.0, 0.0, BEAM_REACH_M), view->colours.picture, 1.0, 2);
}

/* From an eye to a corner; behind the first thing in between it is marked. */
static void
add_sight (const PlumbView3d *view, Maker *m, PlumbVec3 eye, PlumbVec3 corner)
{
  PlumbVec3 way = plumb_vec3_sub (corner, eye), hit;
  double length = plumb_vec3_length (way);
  uint32_t part;

  if (!(length > 0.3))
    return;
  /* Beyond the sitter's own head. */
  PlumbVec3 from = plumb_vec3_along (eye, way, 0.2 / length);
  bool met = plumb_mesh_pick (&view->whole, from, way, &part, &hit);
  double free_m = met ? plumb_vec3_length (plumb_vec3_sub (hit, eye)) : length;
  if (free_m > length - 0.05)
    {
      add_line (m, from, corner, view->colours.sight, 1.0, 1);
      return;
    }
  add_line (m, from, hit, view->colours.sight, 1.0, 1);
  add_line (m, hit, corner, view->colours.fails, 1.0, 1);
}

static void
add_sightlines (const PlumbView3d *view, Maker *m)
{
  const PlumbEvaluation *e = view->evaluation;
  const PlumbResolved *resolved = plumb_scene_resolved (view->scene);
  PlumbQuad corners = plumb_rect_corners (e->has_picture ? &e->picture : &e->wanted);

  for (uint32_t i = 0; i < resolved->n_seats && i < MOST_SIGHT_SEATS; i++)
    if (view->options.all_seats || i == view->options.seat)
      for (int k = 0; k < 4; k++)
        add_sight (view, m, resolved->seats[i].eye_m,
                   plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, corners.corner[k].x),
                                     e->target.frame.v, corners.corner[k].y));
}

PlumbLineVertex *
plumb_view3d_lines (const PlumbView3d *view, uint32_t *n_lines, uint32_t *n_planes)
{
  Maker m = { g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex)), g_array_new (FALSE, FALSE, sizeof (PlumbLineVertex)) };

  if (plumb_view3d_has_beam (view))
    {
      if (view->options.beam && view->camera.kind != PLUMB_CAMERA_LENS)
        add_beam (view, &m);
      if (view->options.frustum)
        add_frustum (view, &m);
      if (view->options.axis)
        add_axis (view, &m);
    }
  if (view->options.sightlines && view->evaluation->target.valid)
    add_sightlines (view, &m);
  *n_lines = m.lines->len;
  *n_planes = m.planes->len;
  g_array_append_vals (m.lines, m.planes->data, m.planes->len);
  g_array_free (m.planes, TRUE);
  return (PlumbLineVertex *) (gpointer) g_array_free (m.lines, FALSE);
}
