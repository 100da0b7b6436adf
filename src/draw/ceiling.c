/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ceiling as seen from below: mirrored against the plan. */
#include "draw/parts-private.h"
#include "draw/strings-private.h"
#include "text/length.h"

/* A level change of the ceiling smaller than this is not drawn. */
#define STEP_M 0.005

/* ---- finished ceilings ------------------------------------------------------------ */

static double
floor_of (const PlumbPen *pen, uint32_t space)
{
  return space < pen->building->n_spaces ? pen->building->spaces[space].floor_z_m : 0.0;
}

static void
cell_levels (const PlumbCeilingCell *cell, double *least, double *greatest)
{
  *least = INFINITY;
  *greatest = -INFINITY;
  for (int i = 0; i < cell->n_points; i++)
    {
      *least = fmin (*least, cell->point[i].z);
      *greatest = fmax (*greatest, cell->point[i].z);
    }
}

/* "2.600" or "slope, 2.300 to 4.100". */
static char *
cell_words (const PlumbPen *pen, const PlumbCeilingCell *cell)
{
  double least, greatest, floor_z = floor_of (pen, cell->space);
  cell_levels (cell, &least, &greatest);
  char *low = plumb_pen_length (pen, least - floor_z), *high = plumb_pen_length (pen, greatest - floor_z);
  char *words = greatest - least < STEP_M ? g_strdup_printf ("ceiling, %s", low)
                                          : g_strdup_printf ("slope, %s to %s", low, high);
  g_free (low);
  g_free (high);
  return words;
}

/* Whether the record's cell is its largest: only that one is labelled. */
static double
cell_area (const PlumbCeilingCell *cell)
{
  PlumbVec2 points[PLUMB_FACE_MAX_POINTS];
  for (int i = 0; i < cell->n_points; i++)
    points[i] = plumb_vec2 (cell->point[i].x, cell->point[i].y);
  return fabs (plumb_polygon_area (points, cell->n_points));
}

static bool
is_largest (const PlumbPen *pen, uint32_t index)
{
  const PlumbCeilingCell *cell = &pen->building->cells[index];
  double area = cell_area (cell);
  for (uint32_t i = 0; i < pen->building->n_cells; i++)
    {
      const PlumbCeilingCell *other = &pen->building->cells[i];
      if (i == index || other->space != cell->space || other->ceiling != cell->ceiling)
        continue;
      double theirs = cell_area (other);
      if (theirs > area || (theirs == area && i < index))
        return false;
    }
  return true;
}

static void
draw_cell (PlumbPen *pen, uint32_t index)
{
  const PlumbCeilingCell *cell = &pen->building->cells[index];
  GArray *outline = plumb_points_outline (pen, cell->point, cell->n_points);
  const PlumbVec2 *points = (const PlumbVec2 *) (const void *) outline->data;
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_CEILING, cell->ceiling);
  plumb_pen_polygon (pen, points, outline->len, PLUMB_N_COLOURS, 1.0, chosen ? PLUMB_LINE_CHOSEN : PLUMB_LINE_THIN,
                     chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_RULE);
  if (outline->len >= 3 && is_largest (pen, index))
    {
      PlumbVec2 middle = { 0 };
      for (guint i = 0; i < outline->len; i++)
        middle = plumb_vec2_along (middle, points[i], 1.0 / outline->len);
      /* Off the middle, where lamps and machines hang. */
      middle = plumb_vec2_along (middle, plumb_vec2_sub (points[0], middle), 0.3);
      char *words = cell_words (pen, cell);
      plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, plumb_pen_device (pen, middle),
                       3.0 * pen->unit, PLUMB_BESIDE_BELOW, true);
      g_free (words);
    }
  g_array_unref (outline);
}

/* Upright faces between ceiling planes: a strong line. */
static void
draw_steps (PlumbPen *pen)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_INK, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_SOLID);
  for (uint32_t i = 0; i < pen->building->room_faces; i++)
    {
      const PlumbFace *face = &pen->building->faces[i];
      if (face->surface.kind != PLUMB_SURFACE_OF_STEP)
        continue;
      GArray *outline = plumb_points_outline (pen, face->point, face->n_points);
      plumb_pen_path (pen, (const PlumbVec2 *) (const void *) outline->data, outline->len, true);
      cairo_stroke (pen->cr);
      g_array_unref (outline);
    }
}

/* ---- lamps, plate, lens -------------------------------------------------------------- */

/* Whether a blocker is the lamp's body and carries its name. */
static bool
has_body (const PlumbPen *pen, PlumbVec3 lamp)
{
  uint32_t n;
  const PlumbBlocker *blockers = plumb_scene_blocker_records (pen->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    if (blockers[i].role == PLUMB_ROLE_LAMP && hypot (blockers[i].x_m - lamp.x, blockers[i].y_m - lamp.y) < 0.15)
      return true;
  return false;
}

static void
draw_lamps (PlumbPen *pen)
{
  uint32_t n;
  const PlumbLamp *lamps = plumb_scene_lamp_records (pen->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      if (lamps[i].kind == PLUMB_LAMP_KIND_WINDOW || -lamps[i].z_m > pen->plane.cut_m)
        continue;
      PlumbVec3 room = { lamps[i].x_m, lamps[i].y_m, lamps[i].z_m };
      PlumbVec2 at = plumb_pen_device (pen, plumb_pen_project (pen, room));
      double r = 7.0 * pen->unit, d = r * G_SQRT2 / 2.0;
      plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_BEAM);
      cairo_arc (pen->cr, at.x, at.y, r, 0.0, 2.0 * G_PI);
      cairo_move_to (pen->cr, at.x - d, at.y - d);
      cairo_line_to (pen->cr, at.x + d, at.y + d);
      cairo_move_to (pen->cr, at.x - d, at.y + d);
      cairo_line_to (pen->cr, at.x + d, at.y - d);
      cairo_stroke (pen->cr);
      plumb_pen_take (pen, (PlumbBox){ at.x - r, at.y - r, at.x + r, at.y + r, false });
      if (!has_body (pen, room))
        plumb_pen_label (pen, plumb_label_or_id (lamps[i].label, lamps[i].id), PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2,
                         at, r + 3.0 * pen->unit, PLUMB_BESIDE_RIGHT, false);
    }
}

/* The plate to scale, turned as the machine is. */
static void
draw_plate (PlumbPen *pen)
{
  if (!plumb_has_machine (pen))
    return;
  const PlumbEvaluation *e = pen->evaluation;
  uint32_t n;
  const PlumbMount *mounts = plumb_scene_mount_records (pen->scene, &n);
  if (e->mount < n)
    {
      PlumbVec3 right = plumb_vec3_scale (e->body.r, mounts[e->mount].plate_w_m / 2.0);
      PlumbVec3 ahead = plumb_vec3_scale (e->body.f, mounts[e->mount].plate_d_m / 2.0);
      PlumbVec3 corner[4];
      for (int i = 0; i < 4; i++)
        {
          corner[i] = plumb_vec3_along (e->plate_m, right, i == 0 || i == 3 ? -1.0 : 1.0);
          corner[i] = plumb_vec3_along (corner[i], ahead, i < 2 ? -1.0 : 1.0);
        }
      GArray *outline = plumb_points_outline (pen, corner, 4);
      const PlumbVec2 *points = (const PlumbVec2 *) (const void *) outline->data;
      plumb_pen_polygon (pen, points, outline->len, PLUMB_COLOUR_SHEET, 1.0, PLUMB_LINE_SOLID, PLUMB_COLOUR_INK);
      g_array_unref (outline);
    }
}

static void
draw_centre_line (PlumbPen *pen)
{
  if (!plumb_has_target (pen))
    return;
  PlumbVec3 foot = pen->evaluation->target.frame.origin_m;
  double behind = 1.0;
  uint32_t wall;
  PlumbVec3 back = plumb_vec3_scale (pen->plane.up, -1.0);
  if (!plumb_cast_to_wall (pen, plumb_vec3_along (foot, back, 0.01), back, &behind, &wall))
    return;
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_CENTRE);
  plumb_pen_stroke_line (pen, plumb_pen_project (pen, foot),
                         plumb_pen_project (pen, plumb_vec3_along (foot, back, behind)));
}

/* Which edge of the sheet is whose: the sheet mirrors the plan. */
static void
write_sides (PlumbPen *pen)
{
  const char *left = N_ ("viewer’s right"), *right = N_ ("viewer’s left");
  double y = (pen->frame.y0 + pen->frame.y1) / 2.0;
  double away = plumb_pen_level (pen->view, 2) + 22.0 * pen->unit;
  double half = plumb_pen_text_width (pen, left, PLUMB_LETTER_NOTE) / 2.0;
  double x = fmax (pen->frame.x0 - away, 12.0 * pen->unit);
  plumb_pen_text (pen, left, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y + half, true, false);
  half = plumb_pen_text_width (pen, right, PLUMB_LETTER_NOTE) / 2.0;
  x = fmin (pen->frame.x1 + away, pen->view->width - 4.0 * pen->unit);
  plumb_pen_text (pen, right, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y + half, true, false);
}

void
plumb_draw_ceiling (PlumbPen *pen)
{
  plumb_draw_floors (pen);
  for (uint32_t i = 0; pen->building != NULL && i < pen->building->n_cells; i++)
    if (pen->building->cells[i].space == pen->space)
      draw_cell (pen, i);
  /* Behind the finished ceiling first, then what hangs under it. */
  plumb_draw_structure (pen, PLUMB_BEYOND_CUT);
  plumb_draw_structure (pen, PLUMB_ON_CUT);
  if (pen->building != NULL)
    draw_steps (pen);
  plumb_draw_walls (pen);
  plumb_draw_blockers (pen, PLUMB_BEYOND_CUT);
  plumb_draw_blockers (pen, PLUMB_ON_CUT);
  draw_lamps (pen);
  draw_centre_line (pen);
  plumb_draw_screen_above (pen);
  draw_plate (pen);
  plumb_draw_places (pen);
  plumb_draw_machine (pen);
  plumb_draw_lens_dot (pen);
  plumb_strings_room_width (pen, PLUMB_EDGE_TOP, 1);
  plumb_strings_room_depth (pen, PLUMB_EDGE_RIGHT, 2);
  plumb_strings_members (pen, PLUMB_EDGE_RIGHT, 1);
  plumb_strings_lens_and_plate (pen, PLUMB_EDGE_LEFT, 1);
  plumb_strings_across_room (pen, PLUMB_EDGE_BOTTOM, 1);
  write_sides (pen);
  plumb_draw_to_picture (pen);
}
