/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seats from above with their figures, sitters from the side. */
#include "draw/seats-private.h"

#define HEAD_HALF_WIDTH_M 0.078
#define HEAD_HALF_LENGTH_M 0.097
/* Eyes nearer together than this along the section are one row. */
#define ROW_M 0.30
#define MAX_ROWS 40

/* ---- from above ------------------------------------------------------------------- */

PlumbSeatPose
plumb_seat_pose (const PlumbPen *pen, const PlumbSeatResolved *seat)
{
  PlumbVec3 facing = { cos (seat->facing_rad), sin (seat->facing_rad), 0.0 };
  PlumbVec2 eye = plumb_pen_project (pen, seat->eye_m);
  PlumbVec2 front = plumb_pen_project (pen, facing);
  return (PlumbSeatPose){ eye, front, { front.y, -front.x } };
}

PlumbVec2
plumb_seat_point (const PlumbSeatPose *pose, double front_m, double right_m)
{
  return plumb_vec2_along (plumb_vec2_along (pose->eye, pose->front, front_m), pose->right, right_m);
}

static void
seat_path (PlumbPen *pen, const PlumbSeatPose *pose)
{
  const double r = 0.06;
  const double h = PLUMB_SEAT_HALF_M;
  PlumbVec2 corner[4]
      = { plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + h, -h), plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + h, h),
          plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - h, h), plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - h, -h) };
  cairo_new_path (pen->cr);
  for (int i = 0; i < 4; i++)
    {
      PlumbVec2 before = corner[(i + 3) % 4], at = corner[i], after = corner[(i + 1) % 4];
      PlumbVec2 in = plumb_pen_device (pen, plumb_vec2_along (at, plumb_vec2_sub (before, at), r / (2.0 * h)));
      PlumbVec2 out = plumb_pen_device (pen, plumb_vec2_along (at, plumb_vec2_sub (after, at), r / (2.0 * h)));
      PlumbVec2 tip = plumb_pen_device (pen, at);
      cairo_line_to (pen->cr, in.x, in.y);
      cairo_curve_to (pen->cr, tip.x, tip.y, tip.x, tip.y, out.x, out.y);
    }
  cairo_close_path (pen->cr);
}

static PlumbDrawColour
verdict_colour (PlumbVerdict verdict)
{
  switch (verdict)
    {
    case PLUMB_TIGHT:
      return PLUMB_COLOUR_TIGHT;
    case PLUMB_FAILS:
      return PLUMB_COLOUR_FAILS;
    default:
      return PLUMB_COLOUR_INK3;
    }
}

/* The shape tells the verdict: a second front edge, a cross, dashes. */
void
plumb_draw_seat_shape (PlumbPen *pen, const PlumbSeatPose *pose, PlumbVerdict verdict)
{
  seat_path (pen, pose);
  plumb_pen_colour (pen, PLUMB_COLOUR_SHEET, 1.0);
  cairo_fill_preserve (pen->cr);
  plumb_pen_colour (pen, verdict_colour (verdict), 1.0);
  plumb_pen_line (pen, verdict == PLUMB_UNKNOWN ? PLUMB_LINE_ABOVE : PLUMB_LINE_BEAM);
  cairo_stroke (pen->cr);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  double inner = PLUMB_SEAT_HALF_M * 0.75;
  if (verdict == PLUMB_TIGHT)
    plumb_pen_stroke_line (pen, plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + inner, -inner),
                           plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + inner, inner));
  if (verdict == PLUMB_FAILS)
    {
      double h = PLUMB_SEAT_HALF_M * 0.9;
      plumb_pen_stroke_line (pen, plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + h, -h),
                             plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - h, h));
      plumb_pen_stroke_line (pen, plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + h, h),
                             plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - h, -h));
    }
  if (plumb_pen_fine (pen))
    {
      plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_CUT);
      double h = PLUMB_SEAT_HALF_M * 0.9;
      plumb_pen_stroke_line (pen, plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - PLUMB_SEAT_HALF_M, -h),
                             plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - PLUMB_SEAT_HALF_M, h));
    }
}

static void
draw_head_above (PlumbPen *pen, PlumbVec2 centre, PlumbVec2 front)
{
  PlumbVec2 points[PLUMB_TURN_POINTS];
  PlumbVec2 right = { front.y, -front.x };
  for (int i = 0; i < PLUMB_TURN_POINTS; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / PLUMB_TURN_POINTS;
      points[i] = plumb_vec2_along (centre, front, HEAD_HALF_LENGTH_M * cos (angle));
      points[i] = plumb_vec2_along (points[i], right, HEAD_HALF_WIDTH_M * sin (angle));
    }
  plumb_pen_polygon (pen, points, PLUMB_TURN_POINTS, PLUMB_COLOUR_SHADOW, 0.3, PLUMB_LINE_BEAM, PLUMB_COLOUR_SHADOW);
}

static void
take_seat (PlumbPen *pen, const PlumbSeatPose *pose)
{
  const PlumbVec2 corner[4]
      = { plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + PLUMB_SEAT_HALF_M, -PLUMB_SEAT_HALF_M),
          plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M + PLUMB_SEAT_HALF_M, PLUMB_SEAT_HALF_M),
          plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - PLUMB_SEAT_HALF_M, PLUMB_SEAT_HALF_M),
          plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M - PLUMB_SEAT_HALF_M, -PLUMB_SEAT_HALF_M) };
  plumb_pen_take_polygon (pen, corner, 4);
}

static void
draw_people_above (PlumbPen *pen)
{
  uint32_t n;
  const PlumbPerson *people = plumb_scene_person_records (pen->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec2 at = plumb_pen_project (pen, plumb_vec3 (people[i].x_m, people[i].y_m, 0.0));
      PlumbVec2 front = { 0.0, 1.0 };
      if (people[i].posture == PLUMB_POSTURE_WALKING)
        {
          PlumbVec2 end = plumb_pen_project (pen, plumb_vec3 (people[i].end_x_m, people[i].end_y_m, 0.0));
          plumb_pen_colour (pen, PLUMB_COLOUR_SHADOW, 1.0);
          plumb_pen_line (pen, PLUMB_LINE_ABOVE);
          plumb_pen_stroke_line (pen, at, end);
        }
      draw_head_above (pen, at, front);
      plumb_pen_label (pen, plumb_label_or_id (people[i].label, people[i].id), PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2,
                       plumb_pen_device (pen, at), HEAD_HALF_LENGTH_M * pen->view->scale_per_m + 4.0 * pen->unit,
                       PLUMB_BESIDE_RIGHT, false);
    }
}

void
plumb_draw_seats_plan (PlumbPen *pen)
{
  if (pen->resolved == NULL)
    return;
  draw_people_above (pen);
  uint32_t n = pen->resolved->n_seats;
  PlumbAsked asked = { 0 };
  if (pen->evaluation != NULL)
    asked = plumb_asked (pen->scene, pen->evaluation, pen->view->shown.question);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbSeatPose pose = plumb_seat_pose (pen, &pen->resolved->seats[i]);
      PlumbVerdict verdict = PLUMB_UNKNOWN;
      if (pen->evaluation != NULL)
        verdict = plumb_answer (pen->scene, pen->evaluation, &asked, i).verdict;
      plumb_draw_seat_shape (pen, &pose, verdict);
      draw_head_above (pen, pose.eye, pose.front);
      if (n <= PLUMB_MAX_SEAT_FIGURES)
        take_seat (pen, &pose);
    }
}

/* ---- from the side ------------------------------------------------------------------ */

/* One sitter a row: the one nearest the section. */
static size_t
pick_rows (const PlumbPen *pen, uint32_t picked[MAX_ROWS])
{
  size_t n = 0;
  for (uint32_t i = 0; pen->resolved != NULL && i < pen->resolved->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &pen->resolved->seats[i];
      double x = plumb_pen_project (pen, seat->eye_m).x;
      double off = fabs (plumb_draw_plane_depth_m (&pen->plane, seat->eye_m) - pen->plane.cut_m);
      size_t k = 0;
      while (k < n)
        {
          const PlumbSeatResolved *other = &pen->resolved->seats[picked[k]];
          if (fabs (plumb_pen_project (pen, other->eye_m).x - x) < ROW_M
              && fabs (other->floor_z_m - seat->floor_z_m) < 0.05)
            break;
          k++;
        }
      if (k == n && n < MAX_ROWS)
        picked[n++] = i;
      else if (k < n)
        {
          const PlumbSeatResolved *other = &pen->resolved->seats[picked[k]];
          if (off < fabs (plumb_draw_plane_depth_m (&pen->plane, other->eye_m) - pen->plane.cut_m))
            picked[k] = i;
        }
    }
  return n;
}

size_t
plumb_eye_rows (const PlumbPen *pen, double *at_m, size_t capacity)
{
  uint32_t picked[MAX_ROWS];
  size_t n = MIN (pick_rows (pen, picked), capacity);
  for (size_t i = 0; i < n; i++)
    {
      double x = plumb_pen_project (pen, pen->resolved->seats[picked[i]].eye_m).x;
      size_t at = i;
      for (; at > 0 && at_m[at - 1] > x; at--)
        at_m[at] = at_m[at - 1];
      at_m[at] = x;
    }
  return n;
}

/* A limb: a thick round-ended line. way: −1 faces left. */
static void
limb (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, double thickness_m)
{
  cairo_set_line_width (pen->cr, thickness_m * pen->view->scale_per_m);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  plumb_pen_stroke_line (pen, a, b);
}

static void
draw_head_side (PlumbPen *pen, PlumbVec2 eye, double crown_m, double way)
{
  PlumbVec2 points[PLUMB_TURN_POINTS];
  PlumbVec2 centre = { eye.x - way * 0.075, eye.y + crown_m - 0.118 };
  for (int i = 0; i < PLUMB_TURN_POINTS; i++)
    {
      double angle = 2.0 * PLUMB_PI * i / PLUMB_TURN_POINTS;
      points[i] = plumb_vec2 (centre.x + HEAD_HALF_LENGTH_M * cos (angle), centre.y + 0.118 * sin (angle));
    }
  plumb_pen_path (pen, points, PLUMB_TURN_POINTS, true);
  cairo_fill (pen->cr);
}

/* A plain sitter by true measures below the eye; feet on the floor. */
static void
draw_sitter (PlumbPen *pen, PlumbVec2 eye, double floor_m, double crown_m, double way)
{
  double h = eye.y - floor_m;
  PlumbVec2 neck = { eye.x - way * 0.10, eye.y - 0.13 };
  PlumbVec2 hip = { eye.x - way * 0.14, floor_m + 0.44 * h };
  PlumbVec2 knee = { hip.x + way * 0.44, floor_m + 0.42 * h };
  PlumbVec2 heel = { knee.x + way * 0.02, floor_m + 0.06 };
  plumb_pen_tint (pen, PLUMB_COLOUR_SHADOW, 0.35);
  draw_head_side (pen, eye, crown_m, way);
  limb (pen, neck, plumb_vec2 (neck.x, neck.y - 0.02), 0.10);
  limb (pen, plumb_vec2 (neck.x, neck.y - 0.14), hip, 0.19);
  limb (pen, hip, knee, 0.14);
  limb (pen, knee, heel, 0.10);
  limb (pen, heel, plumb_vec2 (heel.x + way * 0.15, floor_m + 0.04), 0.07);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  double seat = floor_m + 0.35 * h, back = hip.x - way * 0.14;
  plumb_pen_stroke_line (pen, plumb_vec2 (back + way * 0.42, seat), plumb_vec2 (back, seat));
  plumb_pen_stroke_line (pen, plumb_vec2 (back, floor_m), plumb_vec2 (back - way * 0.03, floor_m + 0.72 * h));
  plumb_pen_stroke_line (pen, plumb_vec2 (back + way * 0.40, seat), plumb_vec2 (back + way * 0.40, floor_m));
}

static void
draw_standing_side (PlumbPen *pen)
{
  uint32_t n;
  const PlumbPerson *people = plumb_scene_person_records (pen->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      double x = plumb_pen_project (pen, plumb_vec3 (people[i].x_m, people[i].y_m, 0.0)).x;
      double h = people[i].stature_m, z = people[i].floor_z_m;
      double sit = people[i].posture == PLUMB_POSTURE_SITTING ? 0.74 : 1.0;
      PlumbVec2 eye = { x, z + sit * h - 0.12 };
      if (sit < 1.0)
        {
          draw_sitter (pen, eye, z, 0.12, -1.0);
          continue;
        }
      plumb_pen_tint (pen, PLUMB_COLOUR_SHADOW, 0.35);
      draw_head_side (pen, eye, 0.12, -1.0);
      limb (pen, plumb_vec2 (x + 0.09, z + 0.80 * h), plumb_vec2 (x + 0.09, z + 0.52 * h), 0.21);
      limb (pen, plumb_vec2 (x + 0.09, z + 0.52 * h), plumb_vec2 (x + 0.09, z + 0.05), 0.13);
    }
}

void
plumb_draw_people_side (PlumbPen *pen)
{
  uint32_t picked[MAX_ROWS];
  size_t n = pick_rows (pen, picked);
  PlumbVec3 corner[4];
  bool lit;
  bool sight = plumb_picture_corners (pen, corner, &lit);
  draw_standing_side (pen);
  for (size_t i = 0; i < n; i++)
    {
      const PlumbSeatResolved *seat = &pen->resolved->seats[picked[i]];
      PlumbVec2 eye = plumb_pen_project (pen, seat->eye_m);
      PlumbVec3 facing = { cos (seat->facing_rad), sin (seat->facing_rad), 0.0 };
      double way = plumb_pen_project (pen, facing).x > 0.0 ? 1.0 : -1.0;
      draw_sitter (pen, eye, seat->floor_z_m, seat->head_above_eye_m, way);
      if (!sight)
        continue;
      PlumbVec3 foot = plumb_vec3_scale (plumb_vec3_add (corner[0], corner[1]), 0.5);
      plumb_pen_colour (pen, PLUMB_COLOUR_SIGHT, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_SIGHT);
      plumb_pen_stroke_line (pen, eye, plumb_pen_project (pen, foot));
      PlumbVec2 dot = plumb_pen_device (pen, eye);
      cairo_arc (pen->cr, dot.x, dot.y, 1.8 * pen->unit, 0.0, 2.0 * G_PI);
      cairo_fill (pen->cr);
    }
}
