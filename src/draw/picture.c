/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture's wall as the viewer sees it. */
#include "draw/picture-over-private.h"
#include "draw/section-private.h"
#include "draw/upright-private.h"
#include "text/length.h"

/* ---- holes and studs of the wall -------------------------------------------------- */

static void
draw_holes (PlumbPen *pen)
{
  if (pen->building == NULL || !plumb_has_target (pen))
    return;
  for (uint32_t i = 0; i < pen->building->n_holes; i++)
    {
      const PlumbHole *hole = &pen->building->holes[i];
      if (hole->wall != pen->evaluation->target.wall)
        continue;
      GArray *outline = plumb_points_outline (pen, hole->inner_m, 4);
      plumb_pen_polygon (pen, (const PlumbVec2 *) (const void *) outline->data, outline->len, PLUMB_COLOUR_PAPER, 1.0,
                         PLUMB_LINE_SOLID, PLUMB_COLOUR_INK2);
      g_array_unref (outline);
    }
}

/* A stud behind the face: a pair of ticks where its edges are, at its head
 * and its foot. */
static void
draw_stud_ticks (PlumbPen *pen)
{
  if (pen->building == NULL || !plumb_has_target (pen) || !plumb_pen_fine (pen))
    return;
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      if (solid->surface.kind != PLUMB_SURFACE_OF_STRUCTURE || solid->exposed
          || plumb_scene_structure (pen->scene, solid->surface.record)->member != PLUMB_MEMBER_STUD)
        continue;
      double least, greatest;
      plumb_solid_depths (pen, solid, &least, &greatest);
      /* Within half a metre behind the face: in this wall. */
      if (greatest > pen->plane.cut_m || greatest < pen->plane.cut_m - 0.5)
        continue;
      GArray *outline = plumb_solid_outline (pen, solid);
      PlumbVec2 low = { INFINITY, INFINITY }, high = { -INFINITY, -INFINITY };
      for (guint k = 0; k < outline->len; k++)
        {
          PlumbVec2 p = g_array_index (outline, PlumbVec2, k);
          low = plumb_vec2 (fmin (low.x, p.x), fmin (low.y, p.y));
          high = plumb_vec2 (fmax (high.x, p.x), fmax (high.y, p.y));
        }
      g_array_unref (outline);
      double tick = 7.0 * pen->unit / pen->view->scale_per_m;
      plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_BEAM);
      for (int side = 0; side < 2; side++)
        {
          double x = side == 0 ? low.x : high.x;
          plumb_pen_stroke_line (pen, plumb_vec2 (x, low.y), plumb_vec2 (x, low.y + tick));
          plumb_pen_stroke_line (pen, plumb_vec2 (x, high.y), plumb_vec2 (x, high.y - tick));
        }
    }
}

/* ---- screen and picture ------------------------------------------------------------- */

static void
room_path (PlumbPen *pen, const PlumbVec3 corner[4])
{
  PlumbVec2 points[4];
  for (int i = 0; i < 4; i++)
    points[i] = plumb_pen_project (pen, corner[i]);
  plumb_pen_path (pen, points, 4, true);
}

static void
draw_screen (PlumbPen *pen)
{
  const PlumbEvaluation *e = pen->evaluation;
  uint32_t n;
  const PlumbScreen *screens = plumb_scene_screen_records (pen->scene, &n);
  double border = e->screen < n ? screens[e->screen].border_m : 0.0;
  PlumbVec3 face[4], outer[4];
  plumb_target_rectangle (pen, e->target.width_m / 2.0, e->target.height_m / 2.0, face);
  plumb_target_rectangle (pen, e->target.width_m / 2.0 + border, e->target.height_m / 2.0 + border, outer);
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_SCREEN, e->screen);
  PlumbDrawColour role = chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL;
  cairo_set_fill_rule (pen->cr, CAIRO_FILL_RULE_EVEN_ODD);
  room_path (pen, outer);
  room_path (pen, face);
  plumb_pen_colour (pen, role, 1.0);
  cairo_fill (pen->cr);
  cairo_set_fill_rule (pen->cr, CAIRO_FILL_RULE_WINDING);
  room_path (pen, face);
  plumb_pen_colour (pen, PLUMB_COLOUR_SHEET, 1.0);
  cairo_fill_preserve (pen->cr);
  plumb_pen_colour (pen, role, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_SOLID);
  cairo_stroke (pen->cr);
  /* No words across the border. */
  double half = (border * pen->view->scale_per_m + 2.0 * pen->unit) / 2.0;
  for (int i = 0; i < 4; i++)
    {
      PlumbVec2 a = plumb_vec2_scale (
          plumb_vec2_add (plumb_pen_project (pen, face[i]), plumb_pen_project (pen, outer[i])), 0.5);
      int k = (i + 1) % 4;
      PlumbVec2 b = plumb_vec2_scale (
          plumb_vec2_add (plumb_pen_project (pen, face[k]), plumb_pen_project (pen, outer[k])), 0.5);
      plumb_pen_take_line (pen, plumb_pen_device (pen, a), plumb_pen_device (pen, b), half);
    }
}

static void
fill_picture (PlumbPen *pen)
{
  PlumbVec3 corner[4];
  bool lit;
  if (!plumb_picture_corners (pen, corner, &lit) || !lit)
    return;
  room_path (pen, corner);
  plumb_pen_colour (pen, PLUMB_COLOUR_BEAM, pen->view->theme->dark ? 0.4 : 0.9);
  cairo_fill (pen->cr);
  room_path (pen, corner);
  plumb_pen_colour (pen, PLUMB_COLOUR_PICTURE, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_SOLID);
  cairo_stroke (pen->cr);
}

/* Light that lands beside the screen, where it lands. */
static void
draw_spill (PlumbPen *pen)
{
  const PlumbBeamCut *cut = &pen->evaluation->cut;
  for (uint32_t i = 0; i < cut->n_pieces; i++)
    {
      const PlumbBeamPiece *piece = &cut->pieces[i];
      if (piece->surface.kind == PLUMB_SURFACE_OF_SCREEN || piece->surface.kind == PLUMB_SURFACE_OF_NOTHING)
        continue;
      PlumbVec2 points[PLUMB_PIECE_MAX_POINTS];
      for (int k = 0; k < piece->n_points; k++)
        points[k] = plumb_pen_project (pen, piece->point[k]);
      plumb_pen_hatch (pen, points, piece->n_points, PLUMB_HATCH_45, PLUMB_COLOUR_PICTURE);
    }
}

static void
draw_raw (PlumbPen *pen)
{
  const PlumbEvaluation *e = pen->evaluation;
  if (!e->has_raw)
    return;
  PlumbVec2 points[4];
  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 p = plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, e->raw.corner[i].x);
      points[i] = plumb_pen_project (pen, plumb_vec3_along (p, e->target.frame.v, e->raw.corner[i].y));
      if (!isfinite (points[i].x) || !isfinite (points[i].y))
        return;
    }
  plumb_pen_polygon (pen, points, 4, PLUMB_N_COLOURS, 1.0, PLUMB_LINE_RAW, PLUMB_COLOUR_PICTURE);
  PlumbVec2 at = plumb_pen_device (pen, points[0]);
  at.x += 4.0 * pen->unit;
  plumb_pen_label (pen, N_ ("raw picture"), PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, at, 6.0 * pen->unit,
                   PLUMB_BESIDE_BELOW, false);
}

static void
draw_centre_line (PlumbPen *pen)
{
  PlumbVec2 middle = plumb_pen_project (pen, pen->evaluation->target.frame.origin_m);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_CENTRE);
  PlumbVec2 low = plumb_draw_view_from_device (pen->view, plumb_vec2 (0.0, pen->frame.y1));
  PlumbVec2 high = plumb_draw_view_from_device (pen->view, plumb_vec2 (0.0, pen->frame.y0));
  plumb_pen_stroke_line (pen, plumb_vec2 (middle.x, low.y), plumb_vec2 (middle.x, high.y));
}

static void
draw_lens_cross (PlumbPen *pen)
{
  if (!plumb_has_machine (pen))
    return;
  PlumbVec3 lens = pen->evaluation->beam.lens_m;
  PlumbVec2 at = plumb_pen_device (pen, plumb_pen_project (pen, lens));
  double r = 5.0 * pen->unit, arm = 9.0 * pen->unit;
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_SOLID);
  cairo_arc (pen->cr, at.x, at.y, r, 0.0, 2.0 * G_PI);
  cairo_move_to (pen->cr, at.x - arm, at.y);
  cairo_line_to (pen->cr, at.x + arm, at.y);
  cairo_move_to (pen->cr, at.x, at.y - arm);
  cairo_line_to (pen->cr, at.x, at.y + arm);
  cairo_stroke (pen->cr);
  plumb_pen_take (pen, (PlumbBox){ at.x - arm, at.y - arm, at.x + arm, at.y + arm, false });
  char *length = plumb_pen_length (pen, lens.z - plumb_upright_floor (pen));
  char *words = g_strdup_printf ("lens, %s", length);
  plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_ACCENT, at, 12.0 * pen->unit, PLUMB_BESIDE_RIGHT,
                   true);
  g_free (words);
  g_free (length);
}

/* ---- strings --------------------------------------------------------------------------- */

/* Ends of the clear face at the picture's plane, by the section's room. */
static bool
face_extent (const PlumbPen *pen, const PlumbSection *section, PlumbVec2 *least, PlumbVec2 *greatest)
{
  double middle = plumb_has_target (pen) ? plumb_pen_project (pen, pen->evaluation->target.frame.origin_m).x : NAN;
  bool found = false;
  for (guint i = 0; i < section->rooms->len; i++)
    {
      const PlumbSectionPart *part = &g_array_index (section->rooms, PlumbSectionPart, i);
      if (part->space != pen->space)
        continue;
      PlumbVec2 low = { INFINITY, INFINITY }, high = { -INFINITY, -INFINITY };
      for (guint k = 0; k < part->n; k++)
        {
          PlumbVec2 p = plumb_section_points (section, part)[k];
          low = plumb_vec2 (fmin (low.x, p.x), fmin (low.y, p.y));
          high = plumb_vec2 (fmax (high.x, p.x), fmax (high.y, p.y));
        }
      /* Of several, the one that holds the picture. */
      if (found && !(low.x <= middle && middle <= high.x))
        continue;
      found = true;
      *least = low;
      *greatest = high;
    }
  return found;
}

/* Height of the clear room's upper edge at its left end. */
static double
left_height (const PlumbPen *pen, const PlumbSection *section, double left)
{
  double top = -INFINITY;
  for (guint i = 0; i < section->rooms->len; i++)
    {
      const PlumbSectionPart *part = &g_array_index (section->rooms, PlumbSectionPart, i);
      for (guint k = 0; part->space == pen->space && k < part->n; k++)
        {
          PlumbVec2 p = plumb_section_points (section, part)[k];
          if (fabs (p.x - left) < 1e-6)
            top = fmax (top, p.y);
        }
    }
  return top;
}

static void
draw_strings (PlumbPen *pen, const PlumbSection *section)
{
  PlumbVec2 least = { 0.0, 0.0 }, greatest = { 0.0, 0.0 };
  bool face = face_extent (pen, section, &least, &greatest);
  PlumbVec3 corner[4];
  bool lit;
  bool picture = plumb_picture_corners (pen, corner, &lit);
  double floor_z = plumb_upright_floor (pen);
  /* Outer strings first: inner figures then keep off their lines. */
  if (face)
    plumb_pen_dimensions (pen, PLUMB_EDGE_BOTTOM, 2, (const double[2]){ least.x, greatest.x }, NULL, 2);
  if (plumb_has_machine (pen))
    plumb_pen_dimensions (pen, PLUMB_EDGE_RIGHT, 2, (const double[2]){ floor_z, pen->evaluation->beam.lens_m.z },
                          (const char *const[1]){ N_ ("lens") }, 2);
  if (face)
    {
      double left = left_height (pen, section, least.x);
      if (greatest.y - left > 0.001)
        plumb_pen_dimensions (pen, PLUMB_EDGE_LEFT, 2, (const double[2]){ floor_z, greatest.y },
                              (const char *const[1]){ N_ ("highest") }, 2);
      plumb_pen_dimensions (pen, PLUMB_EDGE_LEFT, 1, (const double[2]){ floor_z, left }, NULL, 2);
    }
  if (!picture)
    return;
  double a = plumb_pen_project (pen, corner[0]).x, b = plumb_pen_project (pen, corner[1]).x;
  bool inside = face && least.x <= a && b <= greatest.x;
  const double at[4] = { face ? least.x : NAN, a, b, face ? greatest.x : NAN };
  const char *const words[3] = { NULL, lit ? N_ ("picture") : N_ ("screen"), NULL };
  plumb_pen_dimensions (pen, PLUMB_EDGE_BOTTOM, 1, inside ? at : at + 1, inside ? words : words + 1, inside ? 4 : 2);
  PlumbVec3 top = plumb_vec3_scale (plumb_vec3_add (corner[2], corner[3]), 0.5);
  PlumbVec3 before = plumb_vec3_along (top, pen->plane.towards, 0.002);
  double over;
  if (pen->building == NULL || pen->space >= pen->building->n_spaces
      || plumb_building_ceiling_at (pen->building, pen->space, plumb_vec2 (before.x, before.y), &over)
             == PLUMB_NO_INDEX)
    over = NAN;
  plumb_pen_dimensions (pen, PLUMB_EDGE_RIGHT, 1, (const double[4]){ floor_z, corner[0].z, top.z, over }, words, 4);
}

void
plumb_draw_picture (PlumbPen *pen)
{
  PlumbSection section;
  PlumbPictureOver over;
  plumb_section_init (&section, pen->building, pen->scene, &pen->plane);
  plumb_picture_over_init (&over, pen);
  plumb_upright_rooms (pen, &section);
  draw_holes (pen);
  draw_stud_ticks (pen);
  if (plumb_has_target (pen))
    {
      draw_screen (pen);
      fill_picture (pen);
      draw_spill (pen);
      draw_raw (pen);
      draw_centre_line (pen);
      plumb_picture_over_draw_shades (pen, &over);
    }
  plumb_draw_blockers (pen, PLUMB_ON_CUT);
  plumb_draw_blockers (pen, PLUMB_BEFORE_CUT);
  plumb_upright_cut (pen, &section);
  plumb_draw_structure (pen, PLUMB_ON_CUT);
  plumb_draw_structure (pen, PLUMB_BEFORE_CUT);
  draw_lens_cross (pen);
  plumb_picture_over_draw_light (pen, &over);
  draw_strings (pen, &section);
  plumb_picture_over_draw_key (pen, &over);
  plumb_picture_over_clear (&over);
  plumb_section_clear (&section);
}
