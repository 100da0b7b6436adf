/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The figures, with first-order spreads (JCGM 100). Everything that moves the
 * lens point is independent: two measures on plan, one in height, and the
 * exit pupil along the axis. A zoom and a shift are set on site, so their
 * data-sheet error moves the ends of the range and not the picture.
 */
#include "plumbeam/assert.h"
#include "work-private.h"

void
plumb_work_figure (PlumbWork *work, PlumbFigure figure, int i, double value, double spread)
{
  PlumbFigureValue *out = &work->e->figures[figure];

  PLUMB_ASSERT (i < plumb_figure_info (figure)->count);
  /* What is not a number is not a figure: the check that needs it says why. */
  if (!isfinite (value))
    return;
  out->valid = true;
  out->value[i] = value;
  out->spread[i] = isfinite (spread) ? spread : 0.0;
}

double
plumb_work_lens_u_m (const PlumbWork *work, PlumbVec3 d)
{
  const PlumbPlaceResolved *spot = work->spot;
  double along = spot->along_u_m * plumb_vec3_dot (d, spot->along_axis);
  double off = spot->off_u_m * plumb_vec3_dot (d, spot->off_axis);
  double height = spot->height_u_m * d.z;
  double pupil = work->optics.pupil_u_m * plumb_vec3_dot (d, work->e->beam.axes.f);
  /* Out of level: the lens swings about the pivot by a rectangular angle. */
  PlumbVec3 lever = plumb_vec3_sub (work->e->beam.lens_m, work->chain.pivot_m);
  double swing = plumb_vec3_length (plumb_vec3_cross (lever, d)) * work->place->out_of_level_rad / sqrt (3.0);

  return sqrt (along * along + off * off + height * height + pupil * pupil + swing * swing);
}

static void
fill_point (PlumbWork *work, PlumbFigure figure, PlumbVec3 point, bool with_spread)
{
  const PlumbVec3 axis[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  const double value[3] = { point.x, point.y, point.z };

  for (int i = 0; i < 3; i++)
    plumb_work_figure (work, figure, i, value[i], with_spread ? 2.0 * plumb_work_lens_u_m (work, axis[i]) : 0.0);
}

static void
fill_attitude (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  double yaw, pitch, roll;

  plumb_beam_attitude (&e->target.frame, e->target.rear, &e->beam.axes, &yaw, &pitch, &roll);
  plumb_work_figure (work, PLUMB_FIGURE_yaw_rad, 0, yaw, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_pitch_rad, 0, pitch, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_roll_rad, 0, roll, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_pitch_level_rad, 0, asin (plumb_clamp (e->beam.axes.f.z, -1.0, 1.0)), 0.0);
}

static void
fill_lens (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  const PlumbLensModel *lens = &work->optics;
  PlumbVec3 n = e->target.frame.n;
  double distance = fabs (plumb_vec3_dot (n, plumb_vec3_sub (e->beam.lens_m, e->target.frame.origin_m)));
  double distance_u = hypot (plumb_work_lens_u_m (work, n), e->target.u_m);

  plumb_work_figure (work, PLUMB_FIGURE_throw_distance_m, 0, distance, 2.0 * distance_u);
  plumb_work_figure (work, PLUMB_FIGURE_throw_ratio, 0, e->beam.throw_ratio, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_throw_ratio_wide, 0, lens->t_wide, 2.0 * lens->throw_u_share * lens->t_wide);
  plumb_work_figure (work, PLUMB_FIGURE_throw_ratio_tele, 0, lens->t_tele, 2.0 * lens->throw_u_share * lens->t_tele);
  plumb_work_figure (work, PLUMB_FIGURE_pupil_behind_m, 0, lens->pupil_behind_m, 2.0 * lens->pupil_u_m);
  double relative = distance > 0.0 ? hypot (distance_u / distance, lens->throw_u_share) : 0.0;
  plumb_work_figure (work, PLUMB_FIGURE_picture_least_width_m, 0, distance / lens->t_tele,
                     2.0 * relative * distance / lens->t_tele);
  plumb_work_figure (work, PLUMB_FIGURE_picture_greatest_width_m, 0, distance / lens->t_wide,
                     2.0 * relative * distance / lens->t_wide);
  double least, greatest, raw_width = fmax (work->wanted.width_m, work->wanted.height_m * lens->panel_aspect);
  plumb_distance_slab (raw_width, lens->t_wide, lens->t_tele, &least, &greatest);
  plumb_work_figure (work, PLUMB_FIGURE_distance_slab_m, 0, least, 2.0 * lens->throw_u_share * least);
  plumb_work_figure (work, PLUMB_FIGURE_distance_slab_m, 1, greatest, 2.0 * lens->throw_u_share * greatest);
  if (!work->has_cover)
    return;
  double needed_u = work->cover.throw_ratio
                    * hypot (distance > 0.0 ? distance_u / distance : 0.0, e->target.u_m / work->wanted.width_m);
  plumb_work_figure (work, PLUMB_FIGURE_throw_ratio_needed, 0, work->cover.throw_ratio, 2.0 * needed_u);
}

static void
fill_shift (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  const PlumbBeam *beam = &e->beam;

  plumb_work_figure (work, PLUMB_FIGURE_shift_h_share, 0, beam->shift_h_share, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_shift_v_share, 0, beam->shift_v_share, 0.0);
  if (!work->has_cover)
    return;
  double raw_w = work->wanted.width_m * work->cover.throw_ratio / beam->throw_ratio;
  double raw_h = raw_w / beam->panel_aspect;
  /* The picture's own size is measured too: it scales the shift, and half of
   * its height lifts the centre. */
  double size_u = e->target.u_m * raw_h / raw_w;
  double h_u
      = hypot (hypot (plumb_work_lens_u_m (work, beam->axes.r), e->target.u_m), work->wanted_shift.x * e->target.u_m);
  double v_u = hypot (hypot (plumb_work_lens_u_m (work, beam->axes.w), e->target.u_m),
                      (0.5 - work->wanted_shift.y) * size_u);
  plumb_work_figure (work, PLUMB_FIGURE_shift_wanted_h_share, 0, work->wanted_shift.x, 2.0 * h_u / raw_w);
  plumb_work_figure (work, PLUMB_FIGURE_shift_wanted_v_share, 0, work->wanted_shift.y, 2.0 * v_u / raw_h);
  plumb_work_figure (work, PLUMB_FIGURE_shift_room_m, 0,
                     plumb_shift_set_room_m (&work->set, work->wanted_shift, raw_w, raw_h), 2.0 * hypot (h_u, v_u));
}

static double
side_m (const PlumbQuad *quad, int a, int b)
{
  return plumb_vec2_length (plumb_vec2_sub (quad->corner[a], quad->corner[b]));
}

/* What the distance and the throw data leave open in a picture's width: where
 * the zoom can make up for it, nothing but the screen's own edges. */
static double
picture_spread_m (const PlumbWork *work, double width_m)
{
  const PlumbLensModel *lens = &work->optics;
  double t = work->e->beam.throw_ratio;
  bool set_on_site = work->arrangement->zoom == PLUMB_SOLVE_SOLVED && lens->t_wide < t && t < lens->t_tele;
  PlumbFigureValue d = work->e->figures[PLUMB_FIGURE_throw_distance_m];

  if (set_on_site)
    return 2.0 * work->e->target.u_m;
  double distance_share = d.value[0] > 0.0 ? d.spread[0] / 2.0 / d.value[0] : 0.0;
  return 2.0 * width_m * hypot (distance_share, lens->throw_u_share);
}

static void
fill_picture (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  double norm = e->to_screen.m[8];

  for (int i = 0; i < 9; i++)
    plumb_work_figure (work, PLUMB_FIGURE_homography, i,
                       fabs (norm) > 1e-12 ? e->to_screen.m[i] / norm : e->to_screen.m[i], 0.0);
  double raw_w = (side_m (&e->raw, 0, 1) + side_m (&e->raw, 3, 2)) / 2.0;
  double raw_h = (side_m (&e->raw, 0, 3) + side_m (&e->raw, 1, 2)) / 2.0;
  double spread = picture_spread_m (work, raw_w);
  plumb_work_figure (work, PLUMB_FIGURE_raw_width_m, 0, raw_w, spread);
  plumb_work_figure (work, PLUMB_FIGURE_raw_height_m, 0, raw_h, raw_w > 0.0 ? spread * raw_h / raw_w : 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_keystone_width_ratio, 0, side_m (&e->raw, 3, 2) / side_m (&e->raw, 0, 1),
                     0.0);
  plumb_work_figure (work, PLUMB_FIGURE_keystone_height_ratio, 0, side_m (&e->raw, 0, 3) / side_m (&e->raw, 1, 2),
                     0.0);
  for (int i = 0; i < 4; i++)
    {
      plumb_work_figure (work, PLUMB_FIGURE_raw_corners_m, 2 * i, e->raw.corner[i].x, 0.0);
      plumb_work_figure (work, PLUMB_FIGURE_raw_corners_m, 2 * i + 1, e->raw.corner[i].y, 0.0);
    }
  if (!e->has_picture)
    return;
  PlumbQuad corners = plumb_rect_corners (&e->picture);
  for (int i = 0; i < 4; i++)
    {
      plumb_work_figure (work, PLUMB_FIGURE_picture_corners_m, 2 * i, corners.corner[i].x, 0.0);
      plumb_work_figure (work, PLUMB_FIGURE_picture_corners_m, 2 * i + 1, corners.corner[i].y, 0.0);
    }
  double width_spread = picture_spread_m (work, e->picture.width_m);
  double aspect = e->picture.width_m / e->picture.height_m, panel = e->beam.panel_aspect;
  plumb_work_figure (work, PLUMB_FIGURE_picture_width_m, 0, e->picture.width_m, width_spread);
  plumb_work_figure (work, PLUMB_FIGURE_picture_height_m, 0, e->picture.height_m, width_spread / aspect);
  plumb_work_figure (work, PLUMB_FIGURE_panel_share_used, 0, plumb_panel_share (&e->to_screen, &e->picture), 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_content_share, 0, fmin (aspect, panel) / fmax (aspect, panel), 0.0);
  double least, greatest;
  if (plumb_pixel_density (&e->to_screen, &e->picture, work->machine->panel_w_px, work->machine->panel_h_px, &least,
                           &greatest))
    {
      plumb_work_figure (work, PLUMB_FIGURE_pixels_least_per_mm, 0, least, 0.0);
      plumb_work_figure (work, PLUMB_FIGURE_pixels_greatest_per_mm, 0, greatest, 0.0);
    }
}

static void
fill_shares (PlumbWork *work)
{
  const PlumbBeamCut *cut = &work->e->cut;
  double all[PLUMB_N_SURFACES];

  for (int kind = 0; kind < PLUMB_N_SURFACES; kind++)
    all[kind] = plumb_beam_cut_share (cut, (PlumbSurfaceKind) kind, PLUMB_NO_INDEX);
  plumb_work_figure (work, PLUMB_FIGURE_share_screen, 0, all[PLUMB_SURFACE_OF_SCREEN], 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_walls, 0, all[PLUMB_SURFACE_OF_WALL], 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_floor, 0, all[PLUMB_SURFACE_OF_FLOOR], 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_ceiling, 0, all[PLUMB_SURFACE_OF_CEILING] + all[PLUMB_SURFACE_OF_STEP],
                     0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_blockers, 0, all[PLUMB_SURFACE_OF_BLOCKER], 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_structure, 0, all[PLUMB_SURFACE_OF_STRUCTURE], 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_ports, 0, all[PLUMB_SURFACE_OF_PORT] + all[PLUMB_SURFACE_OF_OPENING],
                     0.0);
  plumb_work_figure (work, PLUMB_FIGURE_share_leaves, 0, all[PLUMB_SURFACE_OF_NOTHING], 0.0);
}

/* Least tilt only where zoom and shift alone fall short: else it is 0. */
static void
fill_tilt (PlumbWork *work)
{
  double pitch, best, share;
  int rounds;

  if (!work->has_cover || !plumb_work_least_tilt (work, 0.0, work->arrangement->roll_rad, &pitch, &rounds))
    return;
  plumb_work_figure (work, PLUMB_FIGURE_least_tilt_rad, 0, pitch, 0.0);
  if (fabs (pitch) < 1e-12)
    return;
  plumb_work_best_tilt (work, pitch, &best, &share);
  plumb_work_figure (work, PLUMB_FIGURE_best_tilt_rad, 0, best, 0.0);
  plumb_work_figure (work, PLUMB_FIGURE_best_tilt_panel_share, 0, share, 0.0);
}

/* Where the plate would have to be for the lens to stand on the picture's
 * centre line, all else unchanged: moved along u only. */
static void
fill_centre_plate (PlumbWork *work)
{
  const PlumbEvaluation *e = work->e;
  PlumbVec3 u = e->target.frame.u;
  double aside = plumb_vec3_dot (u, plumb_vec3_sub (e->beam.lens_m, e->target.frame.origin_m));
  PlumbVec3 lens = plumb_vec3_along (e->beam.lens_m, u, -aside);

  fill_point (work, PLUMB_FIGURE_plate_for_centre_m, plumb_chain_plate_for_lens (&work->chain, &e->beam.axes, lens),
              false);
}

void
plumb_work_fill_figures (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;

  fill_point (work, PLUMB_FIGURE_lens_point_m, e->beam.lens_m, true);
  fill_point (work, PLUMB_FIGURE_plate_point_m, e->plate_m, false);
  fill_point (work, PLUMB_FIGURE_pivot_point_m, e->pivot_m, false);
  fill_point (work, PLUMB_FIGURE_hole_pattern_point_m, e->holes_m, false);
  plumb_work_figure (work, PLUMB_FIGURE_wanted_width_m, 0, work->wanted.width_m, 2.0 * e->target.u_m);
  plumb_work_figure (work, PLUMB_FIGURE_wanted_height_m, 0, work->wanted.height_m, 2.0 * e->target.u_m);
  fill_attitude (work);
  fill_lens (work);
  fill_shift (work);
  fill_centre_plate (work);
  if (e->has_raw)
    fill_picture (work);
  fill_shares (work);
  fill_tilt (work);
}
