/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/variants.h"
#include "work-private.h"

static double
value_of (const PlumbWork *work, PlumbFigure figure)
{
  return work->e->figures[figure].value[0];
}

static double
spread_of (const PlumbWork *work, PlumbFigure figure)
{
  return work->e->figures[figure].spread[0];
}

/* False when there is no raw picture; the finding says why. */
static bool
check_reaches (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_REACHES_PLANE, PLUMB_RECORD_SCREEN, e->screen);
  PlumbVec3 to_lens = plumb_vec3_sub (e->beam.lens_m, e->target.frame.origin_m);
  double before_m = plumb_vec3_dot (e->target.frame.n, to_lens) * (e->target.rear ? -1.0 : 1.0);

  if (e->has_raw)
    return true;
  f->verdict = PLUMB_FAILS;
  f->variant = before_m <= 0.0 ? PLUMB_V_BEHIND_SCREEN : PLUMB_V_CORNER_MISSES;
  f->cure = before_m <= 0.0 ? PLUMB_CURE_FARTHER : PLUMB_CURE_LESS_TILT;
  f->cure_amount = before_m <= 0.0 ? -before_m : 0.0;
  return false;
}

static void
check_throw (PlumbWork *work)
{
  const PlumbLensModel *lens = &work->optics;
  bool typed = work->arrangement->zoom == PLUMB_SOLVE_TYPED;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_THROW_RANGE, PLUMB_RECORD_LENS, work->e->lens);
  PlumbFigure figure = typed ? PLUMB_FIGURE_throw_ratio : PLUMB_FIGURE_throw_ratio_needed;

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->variant = typed ? PLUMB_V_THROW_TYPED : PLUMB_V_THROW_SOLVED;
  if (!work->e->figures[figure].valid)
    {
      f->verdict = PLUMB_FAILS;
      return;
    }
  double t = value_of (work, figure);
  /* The ends of the range carry the data sheet's error, the figure the tape's. */
  double end_spread
      = 2.0 * lens->throw_u_share * (t < (lens->t_wide + lens->t_tele) / 2.0 ? lens->t_wide : lens->t_tele);
  plumb_finding_judge (f, t, hypot (spread_of (work, figure), end_spread), PLUMB_LIMIT_BETWEEN, lens->t_wide,
                       lens->t_tele, "ratio");
  double raw_w = fmax (work->wanted.width_m, work->wanted.height_m * lens->panel_aspect);
  if (t < lens->t_wide)
    {
      f->cure = PLUMB_CURE_FARTHER;
      f->cure_amount = (lens->t_wide - t) * raw_w;
    }
  else if (t > lens->t_tele)
    {
      f->cure = PLUMB_CURE_NEARER;
      f->cure_amount = (t - lens->t_tele) * raw_w;
    }
}

static void
check_shift (PlumbWork *work)
{
  const PlumbBeam *beam = &work->e->beam;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_SHIFT_SET, PLUMB_RECORD_LENS, work->e->lens);

  f->basis = PLUMB_BASIS_DATA_SHEET;
  if (!work->has_cover)
    {
      f->verdict = PLUMB_FAILS;
      return;
    }
  double raw_w = work->wanted.width_m * work->cover.throw_ratio / beam->throw_ratio,
         raw_h = raw_w / beam->panel_aspect;
  bool typed = work->arrangement->shift == PLUMB_SOLVE_TYPED;
  /* A picture that is covered needs no better centring. */
  PlumbVec2 wanted
      = typed || work->covers ? plumb_vec2 (beam->shift_h_share, beam->shift_v_share) : work->wanted_shift;
  PlumbVec2 allowed = plumb_shift_set_nearest (&work->set, wanted, raw_w, raw_h);
  double right_m = (wanted.x - allowed.x) * raw_w, up_m = (wanted.y - allowed.y) * raw_h;
  plumb_finding_judge (f, plumb_shift_set_room_m (&work->set, wanted, raw_w, raw_h),
                       typed ? 0.0 : spread_of (work, PLUMB_FIGURE_shift_room_m), PLUMB_LIMIT_AT_LEAST, 0.0, 0.0,
                       "m");
  f->number[0] = wanted.x;
  f->number[1] = wanted.y;
  f->number[2] = beam->shift_h_share;
  f->number[3] = beam->shift_v_share;
  if (f->verdict != PLUMB_FAILS)
    return;
  if (fabs (up_m) >= fabs (right_m))
    f->cure = up_m > 0.0 ? PLUMB_CURE_UP : PLUMB_CURE_DOWN;
  else
    f->cure = right_m > 0.0 ? PLUMB_CURE_RIGHT : PLUMB_CURE_LEFT;
  f->cure_amount = fmax (fabs (up_m), fabs (right_m));
}

static void
check_keystone (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_KEYSTONE, PLUMB_RECORD_MACHINE, e->machine);
  double along = fabs (plumb_vec3_dot (e->beam.axes.f, e->target.frame.n));
  PlumbVec3 across
      = plumb_vec3_along (e->beam.axes.f, e->target.frame.n, -plumb_vec3_dot (e->beam.axes.f, e->target.frame.n));

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->assumed = !PLUMB_TYPED (machine, work->machine, keystone_limit_rad);
  /* atan2 keeps the small angles that acos would round away. */
  plumb_finding_judge (f, atan2 (plumb_vec3_length (across), along), 0.0, PLUMB_LIMIT_AT_MOST, 0.0,
                       work->machine->keystone_limit_rad, "rad");
  f->number[0] = value_of (work, PLUMB_FIGURE_keystone_width_ratio);
  f->number[1] = value_of (work, PLUMB_FIGURE_keystone_height_ratio);
  f->number[2] = value_of (work, PLUMB_FIGURE_panel_share_used);
  f->number[3] = value_of (work, PLUMB_FIGURE_least_tilt_rad);
  f->number[4] = e->figures[PLUMB_FIGURE_least_tilt_rad].valid ? 1.0 : 0.0;
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_LESS_TILT;
      f->cure_amount = f->figure - f->limit_most;
    }
}

static void
check_pixels (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_PIXELS_KEPT, PLUMB_RECORD_SCREEN, e->screen);
  double least = plumb_work_limit (work, "beam.pixels_kept_least", f);

  if (!e->has_picture)
    {
      f->verdict = PLUMB_FAILS;
      return;
    }
  /* What the picture's aspect leaves dark is no loss of the correction. */
  double kept = value_of (work, PLUMB_FIGURE_panel_share_used) / value_of (work, PLUMB_FIGURE_content_share);
  plumb_finding_judge (f, kept, 0.0, PLUMB_LIMIT_AT_LEAST, least, 1.0, "share");
  f->number[0] = value_of (work, PLUMB_FIGURE_best_tilt_rad);
  f->number[1] = value_of (work, PLUMB_FIGURE_best_tilt_panel_share);
  f->number[2] = e->figures[PLUMB_FIGURE_best_tilt_rad].valid ? 1.0 : 0.0;
  if (f->verdict == PLUMB_FAILS)
    f->cure = value_of (work, PLUMB_FIGURE_throw_ratio_needed) > work->optics.t_tele ? PLUMB_CURE_NEARER
                                                                                     : PLUMB_CURE_LESS_TILT;
}

/* How far the raw picture reaches beyond one edge of the wanted one: the
 * lesser of the edge's two ends, square to the raw edge. */
static double
edge_room_m (const PlumbQuad *raw, const PlumbQuad *wanted, int a, int b)
{
  PlumbVec2 edge = plumb_vec2_sub (raw->corner[b], raw->corner[a]);
  double length = plumb_vec2_length (edge);
  double at_a = plumb_vec2_cross (edge, plumb_vec2_sub (wanted->corner[a], raw->corner[a])) / length;
  double at_b = plumb_vec2_cross (edge, plumb_vec2_sub (wanted->corner[b], raw->corner[a])) / length;

  return fmin (at_a, at_b);
}

static void
check_cover (PlumbWork *work)
{
  static const struct {
    PlumbCheck check;
    int a, b;       /* ends of the edge, counter-clockwise */
    PlumbCure move; /* the machine, if only this side is short */
  } edges[4] = { { PLUMB_CHECK_BEAM_COVERS_LEFT, 3, 0, PLUMB_CURE_LEFT },
                 { PLUMB_CHECK_BEAM_COVERS_RIGHT, 1, 2, PLUMB_CURE_RIGHT },
                 { PLUMB_CHECK_BEAM_COVERS_BOTTOM, 0, 1, PLUMB_CURE_DOWN },
                 { PLUMB_CHECK_BEAM_COVERS_TOP, 2, 3, PLUMB_CURE_UP } };
  PlumbEvaluation *e = work->e;
  PlumbQuad wanted = plumb_rect_corners (&work->wanted);
  double room[4];
  double t = e->beam.throw_ratio;
  /* With room left in zoom and shift the edges are set by eye, on site. */
  bool set_on_site = work->arrangement->zoom == PLUMB_SOLVE_SOLVED && work->arrangement->shift == PLUMB_SOLVE_SOLVED
                     && work->optics.t_wide < t && t < work->optics.t_tele
                     && value_of (work, PLUMB_FIGURE_shift_room_m) > 0.0;

  for (int i = 0; i < 4; i++)
    room[i] = edge_room_m (&e->raw, &wanted, edges[i].a, edges[i].b);
  for (int i = 0; i < 4; i++)
    {
      PlumbFinding *f = plumb_work_add (work, edges[i].check, PLUMB_RECORD_SCREEN, e->screen);
      PlumbVec3 across = i < 2 ? e->target.frame.u : e->target.frame.v;
      double place_u = hypot (plumb_work_lens_u_m (work, across), e->target.u_m);
      double size_u = spread_of (work, i < 2 ? PLUMB_FIGURE_raw_width_m : PLUMB_FIGURE_raw_height_m) / 4.0;
      plumb_finding_judge (f, room[i], set_on_site ? 0.0 : 2.0 * hypot (place_u, size_u), PLUMB_LIMIT_AT_LEAST, 0.0,
                           0.0, "m");
      double opposite = room[i ^ 1];
      f->number[0] = room[i] < 0.0 && opposite < 0.0 ? -room[i] - opposite : 0.0;
      if (f->verdict != PLUMB_FAILS)
        continue;
      bool both = f->number[0] > 0.0;
      f->cure = both ? PLUMB_CURE_FARTHER : edges[i].move;
      double size = i < 2 ? work->wanted.width_m : work->wanted.height_m * e->beam.panel_aspect;
      double short_w = i < 2 ? f->number[0] : f->number[0] * e->beam.panel_aspect;
      f->cure_amount = both ? fmin (short_w, size) * t : -room[i];
    }
}

static void
check_focus (PlumbWork *work)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_FOCUS_RANGE, PLUMB_RECORD_LENS, work->e->lens);
  const PlumbLens *lens = work->lens;
  bool near = PLUMB_TYPED (lens, lens, focus_near_m), far = PLUMB_TYPED (lens, lens, focus_far_m);
  double distance = value_of (work, PLUMB_FIGURE_throw_distance_m);

  f->basis = PLUMB_BASIS_DATA_SHEET;
  if (!near || !far)
    {
      plumb_finding_missing (f, PLUMB_RECORD_LENS, work->e->lens,
                             near ? PLUMB_FIELD_lens_focus_far_m : PLUMB_FIELD_lens_focus_near_m);
      return;
    }
  plumb_finding_judge (f, distance, spread_of (work, PLUMB_FIGURE_throw_distance_m), PLUMB_LIMIT_BETWEEN,
                       lens->focus_near_m, lens->focus_far_m, "m");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = distance < lens->focus_near_m ? PLUMB_CURE_FARTHER : PLUMB_CURE_NEARER;
      f->cure_amount = distance < lens->focus_near_m ? lens->focus_near_m - distance : distance - lens->focus_far_m;
    }
}

static void
check_spill (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  const PlumbScreen *screen = plumb_scene_screen (work->scene, e->screen);
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_SPILL, PLUMB_RECORD_SCREEN, e->screen);
  double most = plumb_work_limit (work, "beam.spill_most", f);
  double beside = 0.0, above = 0.0;

  for (int i = 0; i < 4; i++)
    {
      beside = fmax (beside, fabs (e->raw.corner[i].x) - e->target.width_m / 2.0);
      above = fmax (above, fabs (e->raw.corner[i].y) - e->target.height_m / 2.0);
    }
  if (screen->border_m > most)
    {
      most = screen->border_m;
      f->basis = PLUMB_BASIS_DATA_SHEET;
      f->limit = PLUMB_NO_INDEX;
    }
  plumb_finding_judge (f, fmax (beside, above), 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "m");
  f->number[0] = 1.0 - value_of (work, PLUMB_FIGURE_share_screen);
  /* Nearer helps only where the zoom is at its tele end; what spills because
   * panel and screen differ in aspect stays whatever the distance. */
  if (f->verdict != PLUMB_FAILS || value_of (work, PLUMB_FIGURE_throw_ratio_needed) <= work->optics.t_tele)
    return;
  f->cure = PLUMB_CURE_NEARER;
  /* Both sides shrink at once: twice the excess in width, times t. */
  f->cure_amount = 2.0 * e->beam.throw_ratio * fmax (beside - most, (above - most) * e->beam.panel_aspect);
}

/* The bump that counts: the screen's own, or the wall's where the picture
 * lies on the wall. */
static double
bump_m (const PlumbWork *work, bool *assumed)
{
  const PlumbScreen *screen = plumb_scene_screen (work->scene, work->e->screen);
  uint32_t wall = work->e->target.wall;

  *assumed = !PLUMB_TYPED (screen, screen, flatness_m);
  if (*assumed && screen->support == PLUMB_SUPPORT_WALL && wall != PLUMB_NO_INDEX
      && fabs (screen->stand_off_m) < 1e-3)
    {
      const PlumbWall *face = plumb_scene_wall (work->scene, wall);
      *assumed = !PLUMB_TYPED (wall, face, flatness_m);
      return face->flatness_m;
    }
  return screen->flatness_m;
}

/* A bump of height b under a ray of slope s moves the point by b·s. */
static void
check_flatness (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_FLATNESS, PLUMB_RECORD_SCREEN, e->screen);
  double share = plumb_work_limit (work, "beam.bend_most", f);
  PlumbQuad corners = plumb_rect_corners (&work->wanted);
  const PlumbPlaneFrame *frame = &e->target.frame;
  PlumbVec3 to_lens = plumb_vec3_sub (e->beam.lens_m, frame->origin_m);
  PlumbVec2 foot = plumb_vec2 (plumb_vec3_dot (frame->u, to_lens), plumb_vec3_dot (frame->v, to_lens));
  double distance = fabs (plumb_vec3_dot (frame->n, to_lens)), slope = 0.0;
  bool assumed;
  double bump = bump_m (work, &assumed);

  for (int i = 0; i < 4; i++)
    slope = fmax (slope, plumb_vec2_length (plumb_vec2_sub (corners.corner[i], foot)) / distance);
  double most = share * work->wanted.height_m;
  plumb_finding_judge (f, bump * slope, 0.0, PLUMB_LIMIT_AT_MOST, 0.0, most, "m");
  plumb_work_figure (work, PLUMB_FIGURE_flatness_bend_m, 0, bump * slope, 0.0);
  f->assumed = assumed;
  f->number[0] = bump;
  f->number[1] = slope > 0.0 ? most / slope : 0.0;
  f->number[2] = slope;
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_FLATTER;
      f->cure_amount = bump - f->number[1];
    }
}

static const PlumbWallShape *
wall_of_screen (const PlumbWork *work)
{
  const PlumbBuilding *building = work->resolved->building;

  for (uint32_t w = 0; w < building->n_walls; w++)
    if (building->walls[w].wall == work->e->target.wall)
      return &building->walls[w];
  return NULL;
}

/* Room of one corner of the screen to floor, ceiling and the wall's ends
 * (standing free: to the outline, inside or not). */
static double
corner_room_m (const PlumbWork *work, const PlumbWallShape *wall, uint32_t space, PlumbVec3 corner)
{
  const PlumbBuilding *building = work->resolved->building;
  const PlumbVec3 n = work->e->target.frame.n;
  /* A hair inside, so that a screen on the face is not outside. */
  const double hair_m = 1e-6;
  PlumbVec2 plan = plumb_vec2 (corner.x + hair_m * n.x, corner.y + hair_m * n.y);
  double room = corner.z - building->spaces[space].floor_z_m, ceiling_z_m;

  if (wall != NULL)
    {
      double along = plumb_vec2_dot (wall->along, plumb_vec2_sub (plan, wall->start_m));
      double kept = plumb_clamp (along, hair_m, wall->length_m - hair_m);
      room = fmin (room, fmin (along, wall->length_m - along));
      /* Beyond the wall's end the ceiling that counts is the one at its end. */
      plan = plumb_vec2_along (plan, wall->along, kept - along);
    }
  else if (!plumb_building_in_outline (building, space, plan))
    room = fmin (room, -hair_m);
  if (plumb_building_ceiling_at (building, space, plan, &ceiling_z_m) != PLUMB_NO_INDEX)
    room = fmin (room, ceiling_z_m - corner.z);
  return room;
}

static void
check_screen_fits (PlumbWork *work)
{
  const PlumbEvaluation *e = work->e;
  const PlumbBuilding *building = work->resolved->building;
  const PlumbWallShape *wall = wall_of_screen (work);
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_BEAM_SCREEN_FITS, PLUMB_RECORD_SCREEN, e->screen);
  PlumbRect face = { .width_m = e->target.width_m, .height_m = e->target.height_m };
  PlumbQuad corners = plumb_rect_corners (&face);
  uint32_t space = wall != NULL ? wall->space : e->target.space;
  double room = HUGE_VAL;

  if (space == PLUMB_NO_INDEX || !building->spaces[space].valid)
    {
      plumb_finding_missing (f, PLUMB_RECORD_SCREEN, e->screen, PLUMB_FIELD_screen_wall);
      return;
    }
  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 at = plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, corners.corner[i].x);
      at = plumb_vec3_along (at, e->target.frame.v, corners.corner[i].y);
      room = fmin (room, corner_room_m (work, wall, space, at));
    }
  plumb_finding_judge (f, room, 2.0 * e->target.u_m, PLUMB_LIMIT_AT_LEAST, 0.0, 0.0, "m");
  if (f->verdict == PLUMB_FAILS)
    {
      f->cure = PLUMB_CURE_SMALLER_PICTURE;
      f->cure_amount = -room;
    }
}

void
plumb_check_beam (PlumbWork *work)
{
  check_screen_fits (work);
  if (!check_reaches (work))
    return;
  check_throw (work);
  check_shift (work);
  check_keystone (work);
  check_pixels (work);
  check_cover (work);
  check_focus (work);
  check_spill (work);
  check_flatness (work);
}
