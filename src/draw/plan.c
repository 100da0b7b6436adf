/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/parts-private.h"
#include "draw/strings-private.h"

/* The beam's edges are solid in the picture's space and dashed beyond its
 * walls: from the picture back to where the first wall is met. */
static void
draw_beam_edge (PlumbPen *pen, PlumbVec3 from_picture, PlumbVec3 lens)
{
  PlumbVec3 way = plumb_vec3_sub (lens, from_picture);
  PlumbVec3 level = { way.x, way.y, 0.0 };
  double length = plumb_vec3_length (level);
  double clear = length, wall_m;
  uint32_t wall;
  /* Begin a little before the picture, which may lie in its wall's face. */
  PlumbVec3 start = plumb_vec3_along (from_picture, level, length > 0.0 ? fmin (0.01 / length, 0.5) : 0.0);
  if (length > 0.02 && plumb_cast_to_wall (pen, start, plumb_vec3_scale (level, 1.0 / length), &wall_m, &wall))
    clear = fmin (length, wall_m + 0.01);
  PlumbVec3 turn = plumb_vec3_along (from_picture, way, length > 0.0 ? clear / length : 1.0);
  plumb_pen_colour (pen, PLUMB_COLOUR_PICTURE, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  plumb_pen_stroke_line (pen, plumb_pen_project (pen, from_picture), plumb_pen_project (pen, turn));
  plumb_pen_line (pen, PLUMB_LINE_PORT);
  if (clear < length)
    plumb_pen_stroke_line (pen, plumb_pen_project (pen, turn), plumb_pen_project (pen, lens));
}

static void
draw_beam (PlumbPen *pen)
{
  PlumbVec3 corner[5];
  bool lit;
  if (!plumb_has_machine (pen) || !plumb_picture_corners (pen, corner, &lit) || !lit)
    return;
  corner[4] = pen->evaluation->beam.lens_m;
  GArray *outline = plumb_points_outline (pen, corner, 5);
  const PlumbVec2 *points = (const PlumbVec2 *) (const void *) outline->data;
  PlumbVec3 far_end = plumb_vec3_scale (plumb_vec3_add (corner[0], corner[1]), 0.5);
  PlumbVec2 lens = plumb_pen_project (pen, corner[4]);
  plumb_draw_beam_fill (pen, points, outline->len, lens, plumb_pen_project (pen, far_end));
  plumb_draw_beam_met (pen, points, outline->len);
  draw_beam_edge (pen, corner[0], corner[4]);
  draw_beam_edge (pen, corner[1], corner[4]);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_CENTRE);
  plumb_pen_stroke_line (pen, lens, plumb_pen_project (pen, far_end));
  g_array_unref (outline);
}

/* The screen from above; its face and border, the light between. */
void
plumb_draw_screen_above (PlumbPen *pen)
{
  if (!plumb_has_target (pen))
    return;
  const PlumbEvaluation *e = pen->evaluation;
  PlumbVec3 edge[4], corner[4];
  bool lit;
  uint32_t n;
  const PlumbScreen *screens = plumb_scene_screen_records (pen->scene, &n);
  double border = e->screen < n ? screens[e->screen].border_m : 0.0;
  plumb_target_rectangle (pen, e->target.width_m / 2.0 + border, e->target.height_m / 2.0, edge);
  if (!plumb_picture_corners (pen, corner, &lit))
    return;
  PlumbVec2 a = plumb_pen_project (pen, corner[0]), b = plumb_pen_project (pen, corner[1]);
  plumb_draw_screen_edge (pen, plumb_pen_project (pen, edge[0]), a, lit ? b : a, plumb_pen_project (pen, edge[1]),
                          plumb_vec2 (0.0, -1.0));
}

void
plumb_draw_plan (PlumbPen *pen)
{
  plumb_draw_floors (pen);
  plumb_draw_platforms (pen);
  plumb_draw_blockers (pen, PLUMB_BEYOND_CUT);
  plumb_draw_structure (pen, PLUMB_BEYOND_CUT);
  draw_beam (pen);
  plumb_draw_off_axis_limits (pen);
  plumb_draw_seats_plan (pen);
  plumb_draw_walls (pen);
  plumb_draw_blockers (pen, PLUMB_ON_CUT);
  plumb_draw_structure (pen, PLUMB_ON_CUT);
  plumb_draw_blockers (pen, PLUMB_BEFORE_CUT);
  plumb_draw_structure (pen, PLUMB_BEFORE_CUT);
  plumb_draw_screen_above (pen);
  plumb_draw_places (pen);
  plumb_draw_machine (pen);
  plumb_draw_lens_dot (pen);
  plumb_draw_seat_figures (pen);
  /* Outer strings first: inner figures then keep off their lines. */
  plumb_strings_room_width (pen, PLUMB_EDGE_TOP, 2);
  plumb_strings_across (pen, PLUMB_EDGE_TOP, 1);
  plumb_strings_lens_and_plate (pen, PLUMB_EDGE_LEFT, 1);
  plumb_strings_room_depth (pen, PLUMB_EDGE_RIGHT, 2);
  plumb_strings_members (pen, PLUMB_EDGE_RIGHT, 1);
  plumb_strings_across_room (pen, PLUMB_EDGE_BOTTOM, 1);
  plumb_draw_to_picture (pen);
}
