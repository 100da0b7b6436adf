/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/upright-private.h"

double
plumb_upright_floor (const PlumbPen *pen)
{
  if (pen->building == NULL || pen->space >= pen->building->n_spaces)
    return 0.0;
  return pen->building->spaces[pen->space].floor_z_m;
}

static const PlumbSectionPart *
part_at (const GArray *list, guint i)
{
  return &g_array_index (list, PlumbSectionPart, i);
}

void
plumb_upright_rooms (PlumbPen *pen, const PlumbSection *section)
{
  for (guint i = 0; i < section->rooms->len; i++)
    {
      const PlumbSectionPart *part = part_at (section->rooms, i);
      plumb_pen_polygon (pen, plumb_section_points (section, part), part->n, PLUMB_COLOUR_SHEET, 1.0,
                         part->space == pen->space ? PLUMB_N_LINES : PLUMB_LINE_THIN, PLUMB_COLOUR_INK3);
    }
}

bool
plumb_upright_clip (PlumbPen *pen, const PlumbSection *section)
{
  cairo_new_path (pen->cr);
  for (guint i = 0; i < section->rooms->len; i++)
    {
      const PlumbSectionPart *part = part_at (section->rooms, i);
      plumb_pen_path (pen, plumb_section_points (section, part), part->n, true);
    }
  bool any = section->rooms->len > 0;
  if (any)
    cairo_clip (pen->cr);
  return any;
}

static void
draw_wall (PlumbPen *pen, const PlumbSection *section, const PlumbSectionPart *part)
{
  const PlumbVec2 *p = plumb_section_points (section, part);
  uint32_t n;
  const PlumbWall *walls = plumb_scene_wall_records (pen->scene, &n);
  bool own = part->space == pen->space;
  plumb_pen_take_polygon (pen, p, part->n);
  plumb_pen_polygon (pen, p, part->n, PLUMB_COLOUR_PAPER, 1.0, PLUMB_N_LINES, PLUMB_N_COLOURS);
  if (own && part->record < n)
    {
      /* Faces upright: the wall runs up the page. */
      const PlumbVec2 quad[4] = { p[0], p[3], p[2], p[1] };
      plumb_draw_construction (pen, walls[part->record].construction, quad);
    }
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_WALL, part->record);
  plumb_pen_polygon (pen, p, part->n, PLUMB_N_COLOURS, 1.0, own ? PLUMB_LINE_CUT : PLUMB_LINE_THIN,
                     chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL);
}

static void
draw_ceiling (PlumbPen *pen, const PlumbSection *section, const PlumbSectionPart *part)
{
  const PlumbVec2 *p = plumb_section_points (section, part);
  bool own = part->space == pen->space;
  plumb_pen_polygon (pen, p, part->n, PLUMB_COLOUR_PAPER, 1.0, PLUMB_N_LINES, PLUMB_N_COLOURS);
  if (own)
    plumb_pen_hatch (pen, p, part->n, PLUMB_HATCH_ROOF, PLUMB_COLOUR_HATCH);
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_CEILING, part->record);
  plumb_pen_colour (pen, chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL, 1.0);
  plumb_pen_line (pen, own ? PLUMB_LINE_CUT : PLUMB_LINE_THIN);
  plumb_pen_take_line (pen, plumb_pen_device (pen, p[0]), plumb_pen_device (pen, p[1]), 2.0 * pen->unit);
  plumb_pen_take_line (pen, plumb_pen_device (pen, p[2]), plumb_pen_device (pen, p[3]), 2.0 * pen->unit);
  /* Under and upper face; the ends belong to walls and steps. */
  plumb_pen_stroke_line (pen, p[0], p[1]);
  plumb_pen_stroke_line (pen, p[2], p[3]);
}

static void
draw_floor (PlumbPen *pen, const PlumbSection *section, const PlumbSectionPart *part)
{
  const PlumbVec2 *p = plumb_section_points (section, part);
  bool own = part->space == pen->space;
  if (own)
    plumb_pen_hatch (pen, p, part->n, PLUMB_HATCH_45, PLUMB_COLOUR_HATCH);
  plumb_pen_colour (pen, PLUMB_COLOUR_WALL, 1.0);
  plumb_pen_line (pen, own ? PLUMB_LINE_CUT : PLUMB_LINE_THIN);
  plumb_pen_stroke_line (pen, p[2], p[3]);
  plumb_pen_take_line (pen, plumb_pen_device (pen, p[2]), plumb_pen_device (pen, p[3]), 2.0 * pen->unit);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  plumb_pen_stroke_line (pen, p[0], p[1]);
}

void
plumb_upright_cut (PlumbPen *pen, const PlumbSection *section)
{
  for (int own = 0; own < 2; own++)
    {
      for (guint i = 0; i < section->floors->len; i++)
        if ((part_at (section->floors, i)->space == pen->space) == own)
          draw_floor (pen, section, part_at (section->floors, i));
      for (guint i = 0; i < section->ceilings->len; i++)
        if ((part_at (section->ceilings, i)->space == pen->space) == own)
          draw_ceiling (pen, section, part_at (section->ceilings, i));
      for (guint i = 0; i < section->walls->len; i++)
        if ((part_at (section->walls, i)->space == pen->space) == own)
          draw_wall (pen, section, part_at (section->walls, i));
    }
}

void
plumb_upright_roof_edges (PlumbPen *pen)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  for (uint32_t i = 0; pen->building != NULL && i < pen->building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &pen->building->cells[i];
      if (cell->space != pen->space)
        continue;
      for (int k = 0; k < cell->n_points; k++)
        {
          PlumbVec3 a = cell->point[k], b = cell->point[(k + 1) % cell->n_points];
          if (plumb_draw_plane_depth_m (&pen->plane, a) < pen->plane.cut_m
              && plumb_draw_plane_depth_m (&pen->plane, b) < pen->plane.cut_m)
            plumb_pen_stroke_line (pen, plumb_pen_project (pen, a), plumb_pen_project (pen, b));
        }
    }
}
