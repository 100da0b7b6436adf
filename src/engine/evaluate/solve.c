/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Solving an arrangement, in the order of the design (section 3): typed
 * values first; chain; zoom; shift; only then, and if allowed, attitude; last
 * the correction.
 *
 * The lens point is an explicit function of the attitude (see chain.c), so
 * the search for an attitude carries the pivot with it and needs no loop of
 * its own; what is reported as rounds and residual is the bracket's.
 */
#include "work-private.h"

/* Further than this no machine is tilted on purpose. */
#define GREATEST_TILT_RAD (60.0 * PLUMB_PI / 180.0)
#define TILT_STEP_RAD (1.0 * PLUMB_PI / 180.0)
#define GREATEST_YAW_RAD (45.0 * PLUMB_PI / 180.0)
#define YAW_STEP_RAD (3.0 * PLUMB_PI / 180.0)
#define ANGLE_RESIDUAL_RAD 1e-9
/* A picture that is short by less than this share of itself is covered: the
 * rounding of a closed form. */
#define COVER_TOLERANCE 1e-9

static PlumbBeamAxes
axes_at (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad)
{
  return plumb_beam_axes (&work->e->target.frame, work->e->target.rear, yaw_rad, pitch_rad, roll_rad);
}

double
plumb_work_margin (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad, double *best_t,
                   PlumbVec2 *best_shift, PlumbCover *cover)
{
  PlumbBeamAxes axes = axes_at (work, yaw_rad, pitch_rad, roll_rad);
  PlumbVec3 lens_m = plumb_chain_lens (&work->chain, &axes);
  PlumbCover local;

  if (cover == NULL)
    cover = &local;
  if (!plumb_cover_solve (lens_m, &axes, work->optics.panel_aspect, work->wanted_m, cover))
    return -HUGE_VAL;
  return plumb_cover_margin (cover, work->optics.panel_aspect, work->ranges.t_least, work->ranges.t_most,
                             &work->ranges.set_least, &work->ranges.set_most, best_t, best_shift);
}

/* Whether some zoom and shift cover the picture at an attitude. */
static bool
reaches_at (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad)
{
  PlumbBeamAxes axes = axes_at (work, yaw_rad, pitch_rad, roll_rad);
  PlumbCover cover;

  return plumb_cover_solve (plumb_chain_lens (&work->chain, &axes), &axes, work->optics.panel_aspect, work->wanted_m,
                            &cover)
         && plumb_cover_reaches (&cover, work->optics.panel_aspect, work->ranges.t_least, work->ranges.t_most,
                                 &work->ranges.set_least, &work->ranges.set_most, 0.0);
}

/* Edge of the covering pitches between one that does not cover and one that
 * does. */
static double
bisect_pitch (const PlumbWork *work, double yaw_rad, double roll_rad, double out_rad, double in_rad, int *rounds)
{
  while (fabs (in_rad - out_rad) > ANGLE_RESIDUAL_RAD)
    {
      double middle = (in_rad + out_rad) / 2.0;
      (*rounds)++;
      if (reaches_at (work, yaw_rad, middle, roll_rad))
        in_rad = middle;
      else
        out_rad = middle;
    }
  return in_rad;
}

bool
plumb_work_least_tilt (const PlumbWork *work, double yaw_rad, double roll_rad, double *pitch_rad, int *rounds)
{
  *rounds = 1;
  *pitch_rad = 0.0;
  if (reaches_at (work, yaw_rad, 0.0, roll_rad))
    return true;
  for (double step = TILT_STEP_RAD; step <= GREATEST_TILT_RAD; step += TILT_STEP_RAD)
    for (int sign = 1; sign >= -1; sign -= 2)
      {
        (*rounds)++;
        if (!reaches_at (work, yaw_rad, sign * step, roll_rad))
          continue;
        *pitch_rad = bisect_pitch (work, yaw_rad, roll_rad, sign * (step - TILT_STEP_RAD), sign * step, rounds);
        return true;
      }
  return false;
}

bool
plumb_work_picture (const PlumbWork *work, const PlumbHomography *map, PlumbRect *out)
{
  const PlumbArrangement *a = work->arrangement;
  double half_w = work->e->target.width_m / 2.0, half_h = work->e->target.height_m / 2.0;
  double in[8] = { 0 };
  PlumbVec2 polygon[2][16];
  size_t n = 4;

  if (a->correction == PLUMB_SOLVE_TYPED)
    {
      const double typed[8]
          = { a->corner_bl_h_share, a->corner_bl_v_share, a->corner_br_h_share, a->corner_br_v_share,
              a->corner_tr_h_share, a->corner_tr_v_share, a->corner_tl_h_share, a->corner_tl_v_share };
      for (int i = 0; i < 8; i++)
        in[i] = typed[i];
    }
  const PlumbVec2 panel[4] = { { -0.5 + in[0], -0.5 + in[1] },
                               { 0.5 - in[2], -0.5 + in[3] },
                               { 0.5 - in[4], 0.5 - in[5] },
                               { -0.5 + in[6], 0.5 - in[7] } };
  for (int i = 0; i < 4; i++)
    if (!plumb_homography_apply (map, panel[i], &polygon[0][i]))
      return false;
  /* The picture is cut to the screen: four half planes, alternating buffers. */
  const PlumbVec2 normal[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  const double offset[4] = { half_w, half_w, half_h, half_h };
  for (int i = 0; i < 4; i++)
    n = plumb_polygon_clip (polygon[i % 2], n, normal[i], offset[i], polygon[(i + 1) % 2]);
  double aspect = work->wanted.width_m / work->wanted.height_m;
  return n >= 3 && plumb_greatest_rectangle (polygon[0], n, aspect, plumb_vec2 (0.0, 0.0), out);
}

/* Zoom and shift at an attitude, clamped; the best pair of the ranges where
 * centring the smallest picture leaves an edge dark. */
static void
zoom_and_shift (const PlumbWork *work, const PlumbCover *cover, PlumbBeam *beam)
{
  double raw_w, raw_h;
  const PlumbArrangement *a = work->arrangement;

  beam->throw_ratio = plumb_clamp (cover->throw_ratio, work->ranges.t_least, work->ranges.t_most);
  PlumbVec2 wanted = plumb_cover_shift_at (cover, beam->panel_aspect, beam->throw_ratio);
  PlumbShiftSet set = plumb_lens_model_set (&work->optics, beam->throw_ratio);
  raw_w = work->wanted.width_m * cover->throw_ratio / beam->throw_ratio;
  raw_h = raw_w / beam->panel_aspect;
  PlumbVec2 shift = a->shift == PLUMB_SOLVE_TYPED ? plumb_vec2 (a->shift_h_share, a->shift_v_share)
                                                  : plumb_shift_set_nearest (&set, wanted, raw_w, raw_h);
  beam->shift_h_share = shift.x;
  beam->shift_v_share = shift.y;
}

bool
plumb_work_try (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad, PlumbBeam *beam,
                PlumbHomography *map, PlumbQuad *raw, PlumbRect *picture, double *share)
{
  PlumbCover cover;

  *beam = (PlumbBeam){ .panel_aspect = work->optics.panel_aspect };
  beam->axes = axes_at (work, yaw_rad, pitch_rad, roll_rad);
  beam->lens_m = plumb_chain_lens (&work->chain, &beam->axes);
  if (!plumb_cover_solve (beam->lens_m, &beam->axes, beam->panel_aspect, work->wanted_m, &cover))
    return false;
  zoom_and_shift (work, &cover, beam);
  if (!plumb_homography_to_plane (beam, &work->e->target.frame, work->e->target.rear, map)
      || !plumb_raw_picture (map, raw, NULL) || !plumb_work_picture (work, map, picture))
    return false;
  *share = plumb_panel_share (map, picture);
  return true;
}

static double
share_at (const PlumbWork *work, double pitch_rad)
{
  PlumbBeam beam;
  PlumbHomography map;
  PlumbQuad raw;
  PlumbRect picture;
  double share;

  if (!plumb_work_try (work, 0.0, pitch_rad, work->arrangement->roll_rad, &beam, &map, &raw, &picture, &share))
    return 0.0;
  /* A smaller picture than the wanted one is no gain, however many pixels. */
  return share * plumb_clamp (picture.width_m / work->wanted.width_m, 0.0, 1.0);
}

void
plumb_work_best_tilt (PlumbWork *work, double near_rad, double *pitch_rad, double *share)
{
  const double golden = 0.6180339887498949;
  double low = near_rad - 8.0 * TILT_STEP_RAD, high = near_rad + 8.0 * TILT_STEP_RAD;
  double a = high - golden * (high - low), b = low + golden * (high - low);
  double at_a = share_at (work, a), at_b = share_at (work, b);

  while (high - low > 1e-4)
    {
      if (at_a >= at_b)
        {
          high = b;
          b = a;
          at_b = at_a;
          a = high - golden * (high - low);
          at_a = share_at (work, a);
        }
      else
        {
          low = a;
          a = b;
          at_a = at_b;
          b = low + golden * (high - low);
          at_b = share_at (work, b);
        }
    }
  *pitch_rad = (low + high) / 2.0;
  *share = share_at (work, *pitch_rad);
  /* Golden section wants one hill; never report less than its start. */
  double at_near = share_at (work, near_rad);
  if (at_near > *share)
    {
      *pitch_rad = near_rad;
      *share = at_near;
    }
}

/* Least |pitch|; where none will do, least |yaw| with its own least pitch. */
static bool
solve_attitude (PlumbWork *work, double *yaw_rad, double *pitch_rad, int *rounds)
{
  double roll = work->arrangement->roll_rad;
  int more;

  *yaw_rad = 0.0;
  if (plumb_work_least_tilt (work, 0.0, roll, pitch_rad, rounds))
    return true;
  for (double step = YAW_STEP_RAD; step <= GREATEST_YAW_RAD; step += YAW_STEP_RAD)
    for (int sign = 1; sign >= -1; sign -= 2)
      {
        double out = sign * (step - YAW_STEP_RAD), in = sign * step, pitch;
        bool covers = plumb_work_least_tilt (work, in, roll, &pitch, &more);
        *rounds += more;
        if (!covers)
          continue;
        *pitch_rad = pitch;
        while (fabs (in - out) > 1e-6)
          {
            double middle = (in + out) / 2.0;
            bool middle_covers = plumb_work_least_tilt (work, middle, roll, &pitch, &more);
            *rounds += more;
            if (middle_covers)
              {
                in = middle;
                *pitch_rad = pitch;
              }
            else
              out = middle;
          }
        *yaw_rad = in;
        return true;
      }
  return false;
}

static void
set_ranges (PlumbWork *work)
{
  const PlumbArrangement *a = work->arrangement;
  PlumbRanges *r = &work->ranges;

  r->t_least = a->zoom == PLUMB_SOLVE_TYPED ? a->throw_ratio : work->optics.t_wide;
  r->t_most = a->zoom == PLUMB_SOLVE_TYPED ? a->throw_ratio : work->optics.t_tele;
  r->set_least = plumb_lens_model_set (&work->optics, r->t_least);
  r->set_most = plumb_lens_model_set (&work->optics, r->t_most);
  if (a->shift == PLUMB_SOLVE_TYPED)
    {
      PlumbShiftSet point = plumb_shift_set_none ();
      point = plumb_shift_set_place (&point, 1.0, plumb_vec2 (a->shift_h_share, a->shift_v_share), false, false);
      r->set_least = r->set_most = point;
    }
}

static void
set_wanted (PlumbWork *work)
{
  const PlumbScreenResolved *target = &work->e->target;
  double typed = work->arrangement->picture_aspect_ratio;
  /* Below a tenth it is no picture; 0 means the panel's own. */
  double aspect = typed >= 0.1 ? typed : work->optics.panel_aspect;

  work->wanted = (PlumbRect){ .width_m = fmin (target->width_m, target->height_m * aspect) };
  work->wanted.height_m = work->wanted.width_m / aspect;
  work->e->wanted = work->wanted;
  PlumbQuad corners = plumb_rect_corners (&work->wanted);
  for (int i = 0; i < 4; i++)
    work->wanted_m[i]
        = plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, corners.corner[i].x),
                            target->frame.v, corners.corner[i].y);
}

/* Beam with typed or clamped zoom and shift at a given attitude. */
static bool
beam_at (PlumbWork *work, double yaw_rad, double pitch_rad)
{
  PlumbBeam *beam = &work->e->beam;
  const PlumbArrangement *a = work->arrangement;

  beam->axes = axes_at (work, yaw_rad, pitch_rad, a->roll_rad);
  beam->lens_m = plumb_chain_lens (&work->chain, &beam->axes);
  beam->panel_aspect = work->optics.panel_aspect;
  work->has_cover = plumb_cover_solve (beam->lens_m, &beam->axes, beam->panel_aspect, work->wanted_m, &work->cover);
  if (!work->has_cover)
    {
      /* Not before the screen at all: any zoom will do to say so. */
      beam->throw_ratio = work->ranges.t_least;
      beam->shift_h_share = a->shift == PLUMB_SOLVE_TYPED ? a->shift_h_share : 0.0;
      beam->shift_v_share = a->shift == PLUMB_SOLVE_TYPED ? a->shift_v_share : 0.0;
      return false;
    }
  zoom_and_shift (work, &work->cover, beam);
  return true;
}

/* Shift alone falls short, yet some wider zoom covers: the longest throw ratio
 * that still does, so that least light spills. Bracketed to 1e-12. */
static void
widen (PlumbWork *work, double yaw_rad, double pitch_rad)
{
  PlumbBeam *beam = &work->e->beam;
  PlumbRanges full = work->ranges;
  double low, high = beam->throw_ratio, t;
  PlumbVec2 shift;

  if (plumb_work_margin (work, yaw_rad, pitch_rad, work->arrangement->roll_rad, &low, &shift, NULL) < 0.0)
    return;
  beam->throw_ratio = low;
  beam->shift_h_share = shift.x;
  beam->shift_v_share = shift.y;
  while (high - low > 1e-12 * high)
    {
      double middle = (low + high) / 2.0;
      if (middle <= low || middle >= high)
        break;
      work->ranges.t_least = work->ranges.t_most = middle;
      work->ranges.set_least = work->arrangement->shift == PLUMB_SOLVE_TYPED
                                   ? full.set_least
                                   : plumb_lens_model_set (&work->optics, middle);
      work->ranges.set_most = work->ranges.set_least;
      if (plumb_work_margin (work, yaw_rad, pitch_rad, work->arrangement->roll_rad, &t, &shift, NULL) < 0.0)
        {
          high = middle;
          continue;
        }
      low = middle;
      beam->throw_ratio = middle;
      beam->shift_h_share = shift.x;
      beam->shift_v_share = shift.y;
    }
  work->ranges = full;
}

/* Whether zoom and shift as they stand light the whole of the wanted picture. */
static bool
covers_now (const PlumbWork *work)
{
  const PlumbBeam *b = &work->e->beam;
  const PlumbCover *c = &work->cover;
  double tolerance = COVER_TOLERANCE / b->throw_ratio;

  return (b->shift_h_share - 0.5) / b->throw_ratio <= c->x_min + tolerance
         && (b->shift_h_share + 0.5) / b->throw_ratio >= c->x_max - tolerance
         && (b->shift_v_share - 0.5) / (b->throw_ratio * b->panel_aspect) <= c->y_min + tolerance
         && (b->shift_v_share + 0.5) / (b->throw_ratio * b->panel_aspect) >= c->y_max - tolerance;
}

static int
solve_beam (PlumbWork *work)
{
  const PlumbArrangement *a = work->arrangement;
  bool free_attitude = a->attitude == PLUMB_SOLVE_SOLVED;
  double yaw = free_attitude ? 0.0 : a->yaw_rad, pitch = free_attitude ? 0.0 : a->pitch_rad;
  int rounds = 1;

  if (!beam_at (work, yaw, pitch) || !free_attitude || covers_now (work))
    return rounds;
  if (!reaches_at (work, 0.0, 0.0, a->roll_rad) && !solve_attitude (work, &yaw, &pitch, &rounds))
    return rounds;
  if (beam_at (work, yaw, pitch) && !covers_now (work))
    widen (work, yaw, pitch);
  return rounds;
}

void
plumb_work_solve (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;

  set_wanted (work);
  set_ranges (work);
  int rounds = solve_beam (work);
  work->covers = work->has_cover && covers_now (work);
  e->solved = true;
  e->body = plumb_chain_body (&work->chain, &e->beam.axes);
  e->plate_m = work->chain.plate_m;
  e->pivot_m = work->chain.pivot_m;
  e->holes_m = plumb_chain_point (&e->body, e->pivot_m, work->chain.head_to_holes);
  work->set = plumb_lens_model_set (&work->optics, e->beam.throw_ratio);
  if (work->has_cover)
    work->wanted_shift = plumb_cover_shift_at (&work->cover, e->beam.panel_aspect, e->beam.throw_ratio);
  e->has_raw = plumb_homography_to_plane (&e->beam, &e->target.frame, e->target.rear, &e->to_screen)
               && plumb_raw_picture (&e->to_screen, &e->raw, NULL);
  e->has_picture = e->has_raw && plumb_work_picture (work, &e->to_screen, &e->picture);
  plumb_work_figure (work, PLUMB_FIGURE_pose_rounds, 0, rounds, 0.0);
  plumb_work_figure (
      work, PLUMB_FIGURE_pose_residual_m, 0,
      rounds > 1 ? ANGLE_RESIDUAL_RAD
                       * plumb_vec3_length (plumb_vec3_add (work->chain.head_to_holes, work->chain.holes_to_lens))
                 : 0.0,
      0.0);
}
