/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walls cut and seen from above or below. */
#include "draw/parts-private.h"

#define MAX_GAPS 64

static const PlumbWall *
wall_record (const PlumbPen *pen, uint32_t wall)
{
  uint32_t n;
  const PlumbWall *walls = plumb_scene_wall_records (pen->scene, &n);
  return wall < n ? &walls[wall] : NULL;
}

static PlumbVec2
project_plan (const PlumbPen *pen, PlumbVec2 p)
{
  return plumb_pen_project (pen, plumb_vec3 (p.x, p.y, 0.0));
}

static bool
space_drawn (const PlumbPen *pen, uint32_t space)
{
  return space < pen->building->n_spaces && pen->building->spaces[space].n_walls > 0;
}

/* ---- floors --------------------------------------------------------------------- */

void
plumb_draw_floors (PlumbPen *pen)
{
  if (pen->building == NULL)
    return;
  for (uint32_t i = 0; i < pen->building->n_spaces; i++)
    {
      const PlumbSpaceShape *space = &pen->building->spaces[i];
      if (i != pen->space || space->n_walls < 3)
        continue;
      PlumbVec2 *outline = g_new (PlumbVec2, space->n_walls);
      for (uint32_t k = 0; k < space->n_walls; k++)
        outline[k] = project_plan (pen, pen->building->walls[space->first_wall + k].start_m);
      plumb_pen_polygon (pen, outline, space->n_walls, PLUMB_COLOUR_SHEET, 1.0, PLUMB_N_LINES, PLUMB_N_COLOURS);
      g_free (outline);
    }
}

/* ---- construction ----------------------------------------------------------------- */

/* A line along the wall at a share of its thickness. quad: inner start, inner
 * end, outer end, outer start. */
static void
line_in_wall (PlumbPen *pen, const PlumbVec2 quad[4], double share)
{
  PlumbVec2 a = plumb_vec2_along (quad[0], plumb_vec2_sub (quad[3], quad[0]), share);
  PlumbVec2 b = plumb_vec2_along (quad[1], plumb_vec2_sub (quad[2], quad[1]), share);
  plumb_pen_stroke_line (pen, a, b);
}

void
plumb_draw_construction (PlumbPen *pen, int construction, const PlumbVec2 quad[4])
{
  switch (construction)
    {
    case PLUMB_CONSTRUCTION_STONE:
    case PLUMB_CONSTRUCTION_BLOCK:
      plumb_pen_hatch (pen, quad, 4, PLUMB_HATCH_45, PLUMB_COLOUR_HATCH);
      break;
    case PLUMB_CONSTRUCTION_BRICK:
      plumb_pen_hatch (pen, quad, 4, PLUMB_HATCH_PAIRS, PLUMB_COLOUR_HATCH);
      break;
    case PLUMB_CONSTRUCTION_CONCRETE:
      plumb_pen_hatch (pen, quad, 4, PLUMB_HATCH_DOTS, PLUMB_COLOUR_HATCH);
      break;
    case PLUMB_CONSTRUCTION_LINING:
      plumb_pen_colour (pen, PLUMB_COLOUR_HATCH, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_THIN);
      line_in_wall (pen, quad, 0.33);
      line_in_wall (pen, quad, 0.67);
      break;
    case PLUMB_CONSTRUCTION_UNKNOWN:
      plumb_pen_colour (pen, PLUMB_COLOUR_HATCH, 1.0);
      plumb_pen_line (pen, PLUMB_LINE_ABOVE);
      line_in_wall (pen, quad, 0.5);
      break;
    default: /* a stud wall is empty; its studs are structure */
      break;
    }
}

/* ---- walls -------------------------------------------------------------------------- */

/* Shares of the wall's length that ports and openings take, sorted. */
static size_t
wall_gaps (const PlumbPen *pen, const PlumbWallShape *wall, PlumbVec2 gap[MAX_GAPS], const PlumbHole *hole[MAX_GAPS])
{
  size_t n = 0;
  for (uint32_t i = 0; i < pen->building->n_holes && n < MAX_GAPS; i++)
    {
      const PlumbHole *candidate = &pen->building->holes[i];
      if (candidate->wall != wall->wall || !(wall->length_m > 0.0))
        continue;
      double s[2];
      for (int k = 0; k < 2; k++)
        {
          PlumbVec2 p = { candidate->inner_m[k].x, candidate->inner_m[k].y };
          s[k] = plumb_vec2_dot (plumb_vec2_sub (p, wall->start_m), wall->along) / wall->length_m;
        }
      PlumbVec2 span = { plumb_clamp (fmin (s[0], s[1]), 0.0, 1.0), plumb_clamp (fmax (s[0], s[1]), 0.0, 1.0) };
      size_t at = n;
      while (at > 0 && gap[at - 1].x > span.x)
        {
          gap[at] = gap[at - 1];
          hole[at] = hole[at - 1];
          at--;
        }
      gap[at] = span;
      hole[at] = candidate;
      n++;
    }
  return n;
}

/* The wall from share s0 to s1 of its length; its very ends are mitred. */
static void
wall_quad (const PlumbPen *pen, const PlumbWallShape *wall, double s0, double s1, PlumbVec2 quad[4])
{
  const double s[2] = { s0, s1 };
  PlumbVec2 inner[2], outer[2];
  for (int i = 0; i < 2; i++)
    {
      inner[i] = plumb_vec2_along (wall->start_m, wall->along, s[i] * wall->length_m);
      if (s[i] <= 0.0)
        outer[i] = wall->outer_start_m;
      else if (s[i] >= 1.0)
        outer[i] = wall->outer_end_m;
      else
        outer[i] = plumb_vec2_along (inner[i], wall->inward, -wall->thickness_m);
    }
  quad[0] = project_plan (pen, inner[0]);
  quad[1] = project_plan (pen, inner[1]);
  quad[2] = project_plan (pen, outer[1]);
  quad[3] = project_plan (pen, outer[0]);
}

/* Whether a wall goes on round the corner without a joint: then no line. */
static bool
joint_at (const PlumbPen *pen, const PlumbWallShape *wall, const PlumbWallShape *other)
{
  const PlumbWall *a = wall_record (pen, wall->wall), *b = wall_record (pen, other->wall);
  return a == NULL || b == NULL || a->construction != b->construction;
}

static void
draw_piece (PlumbPen *pen, const PlumbWallShape *wall, const PlumbWallShape *before, const PlumbWallShape *after,
            double s0, double s1, bool thin)
{
  const PlumbWall *record = wall_record (pen, wall->wall);
  PlumbVec2 quad[4];
  wall_quad (pen, wall, s0, s1, quad);
  plumb_pen_polygon (pen, quad, 4, PLUMB_COLOUR_PAPER, 1.0, PLUMB_N_LINES, PLUMB_N_COLOURS);
  if (!thin && record != NULL)
    plumb_draw_construction (pen, record->construction, quad);
  for (int i = 0; i < 4; i += 2)
    plumb_pen_take_line (pen, plumb_pen_device (pen, quad[i]), plumb_pen_device (pen, quad[i + 1]), 2.0 * pen->unit);
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_WALL, wall->wall);
  plumb_pen_colour (pen, chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL, 1.0);
  plumb_pen_line (pen, thin ? PLUMB_LINE_THIN : PLUMB_LINE_CUT);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_SQUARE);
  plumb_pen_stroke_line (pen, quad[0], quad[1]);
  plumb_pen_stroke_line (pen, quad[3], quad[2]);
  if (s0 > 0.0 || joint_at (pen, wall, before))
    plumb_pen_stroke_line (pen, quad[0], quad[3]);
  if (s1 < 1.0 || joint_at (pen, wall, after))
    plumb_pen_stroke_line (pen, quad[1], quad[2]);
}

static void
draw_open_side (PlumbPen *pen, const PlumbWallShape *wall)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_ABOVE);
  plumb_pen_stroke_line (pen, project_plan (pen, wall->start_m), project_plan (pen, wall->end_m));
}

/* A port has a thin line on both faces; an opening has none. */
static void
draw_hole (PlumbPen *pen, const PlumbHole *hole)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  if (hole->surface.kind == PLUMB_SURFACE_OF_PORT)
    {
      plumb_pen_stroke_line (pen, plumb_pen_project (pen, hole->inner_m[0]),
                             plumb_pen_project (pen, hole->inner_m[1]));
      plumb_pen_stroke_line (pen, plumb_pen_project (pen, hole->outer_m[0]),
                             plumb_pen_project (pen, hole->outer_m[1]));
    }
  PlumbVec2 middle = plumb_vec2_scale (
      plumb_vec2_add (plumb_pen_project (pen, hole->outer_m[0]), plumb_pen_project (pen, hole->outer_m[1])), 0.5);
  uint32_t n;
  const char *name = "";
  const PlumbPort *ports = plumb_scene_port_records (pen->scene, &n);
  if (hole->surface.kind == PLUMB_SURFACE_OF_PORT && hole->surface.record < n)
    name = plumb_label_or_id (ports[hole->surface.record].label, ports[hole->surface.record].id);
  const PlumbOpening *openings = plumb_scene_opening_records (pen->scene, &n);
  if (hole->surface.kind == PLUMB_SURFACE_OF_OPENING && hole->surface.record < n)
    name = plumb_label_or_id (openings[hole->surface.record].label, openings[hole->surface.record].id);
  plumb_pen_label (pen, name, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, plumb_pen_device (pen, middle), 8.0 * pen->unit,
                   PLUMB_BESIDE_BELOW, false);
}

static void
draw_wall (PlumbPen *pen, const PlumbSpaceShape *space, uint32_t k, bool thin)
{
  const PlumbWallShape *walls = pen->building->walls + space->first_wall;
  const PlumbWallShape *wall = &walls[k];
  const PlumbWallShape *before = &walls[(k + space->n_walls - 1) % space->n_walls];
  const PlumbWallShape *after = &walls[(k + 1) % space->n_walls];
  const PlumbWall *record = wall_record (pen, wall->wall);
  if (record != NULL && record->construction == PLUMB_CONSTRUCTION_NONE)
    {
      draw_open_side (pen, wall);
      return;
    }
  PlumbVec2 gap[MAX_GAPS];
  const PlumbHole *hole[MAX_GAPS];
  size_t n = wall_gaps (pen, wall, gap, hole);
  double from = 0.0;
  for (size_t i = 0; i < n; i++)
    {
      if (gap[i].x > from)
        draw_piece (pen, wall, before, after, from, gap[i].x, thin);
      from = fmax (from, gap[i].y);
    }
  if (from < 1.0)
    draw_piece (pen, wall, before, after, from, 1.0, thin);
  for (size_t i = 0; i < n; i++)
    draw_hole (pen, hole[i]);
}

/* The name stands inside, along the wall where that can be read. */
static void
label_wall (PlumbPen *pen, const PlumbWallShape *wall)
{
  static const double shares[] = { 0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.25, 0.75, 0.35, 0.65 };
  const PlumbWall *record = wall_record (pen, wall->wall);
  if (record == NULL || !pen->view->text)
    return;
  const char *name = plumb_label_or_id (record->label, record->id);
  PlumbVec2 a = plumb_pen_device (pen, project_plan (pen, wall->start_m));
  PlumbVec2 b = plumb_pen_device (pen, project_plan (pen, wall->end_m));
  PlumbVec2 in = plumb_pen_device (pen, project_plan (pen, plumb_vec2_add (wall->start_m, wall->inward)));
  PlumbVec2 inward = plumb_vec2_sub (in, a);
  double length = plumb_vec2_length (inward);
  double width = plumb_pen_text_width (pen, name, PLUMB_LETTER_NOTE);
  if (!(length > 0.0) || width > plumb_vec2_length (plumb_vec2_sub (b, a)))
    return;
  inward = plumb_vec2_scale (inward, 1.0 / length);
  bool turned = fabs (b.y - a.y) > fabs (b.x - a.x) * 2.0;
  double size = plumb_pen_letter_size (pen, PLUMB_LETTER_NOTE);
  for (size_t i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      PlumbVec2 p = plumb_vec2_along (a, plumb_vec2_sub (b, a), shares[i]);
      p = plumb_vec2_along (p, inward,
                            (turned                   ? 0.75
                             : fabs (b.y - a.y) > 1.0 ? 1.6
                                                      : 0.75)
                                    * size
                                + 4.0 * pen->unit);
      double x = turned ? p.x + 0.35 * size : p.x - width / 2.0;
      double y = turned ? p.y + width / 2.0 : p.y + 0.35 * size;
      PlumbBox box = plumb_pen_text_box (pen, name, PLUMB_LETTER_NOTE, x, y, turned);
      if (!plumb_pen_box_free (pen, box, false) || !plumb_pen_box_inside (pen, box))
        continue;
      plumb_pen_text (pen, name, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK3, x, y, turned, true);
      return;
    }
}

void
plumb_draw_walls (PlumbPen *pen)
{
  if (pen->building == NULL)
    return;
  /* Other spaces first and thin, so that the picture's own lies on them. */
  for (int pass = 0; pass < 2; pass++)
    for (uint32_t i = 0; i < pen->building->n_spaces; i++)
      if ((i == pen->space) == (pass == 1) && space_drawn (pen, i))
        for (uint32_t k = 0; k < pen->building->spaces[i].n_walls; k++)
          draw_wall (pen, &pen->building->spaces[i], k, pass == 0);
}

void
plumb_draw_walls_thin (PlumbPen *pen, uint32_t space)
{
  for (uint32_t k = 0; space_drawn (pen, space) && k < pen->building->spaces[space].n_walls; k++)
    draw_wall (pen, &pen->building->spaces[space], k, true);
}

void
plumb_draw_wall_names (PlumbPen *pen)
{
  if (pen->building == NULL || pen->space == PLUMB_NO_INDEX || !space_drawn (pen, pen->space))
    return;
  const PlumbSpaceShape *space = &pen->building->spaces[pen->space];
  for (uint32_t k = 0; k < space->n_walls; k++)
    label_wall (pen, &pen->building->walls[space->first_wall + k]);
}
