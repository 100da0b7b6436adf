/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A survey's drawing: the space from above, thin, with rings where figures
 * are wanted. */
#include "draw/survey-private.h"

#define RING_MM 5.0
#define RING_APART_MM 5.4
/* Round the outline: rings stand inside, walls outside. */
#define MARGIN_MM 5.0
#define TRIES 60
/* More cannot be read; their lines still stand in the table. */
#define MOST_RINGS 400
/* Of the page's area, at most for the drawing. */
#define HIGHEST_SHARE 0.55

/* ---- scale -------------------------------------------------------------------------- */

static PlumbVec2
on_plan (const PlumbDrawPlane *plane, PlumbVec2 p)
{
  return plumb_draw_plane_from_room (plane, plumb_vec3 (p.x, p.y, 0.0));
}

double
plumb_survey_view (const PlumbSurvey *survey, uint32_t space, PlumbDrawView *view)
{
  const PlumbBuilding *building = plumb_scene_resolved (survey->scene)->building;
  const PlumbSpaceShape *shape = &building->spaces[space];
  PlumbDrawPlane plane = plumb_draw_plane (survey->scene, survey->evaluation, PLUMB_DRAW_PLAN);
  PlumbVec2 least = { INFINITY, INFINITY }, greatest = { -INFINITY, -INFINITY };
  for (uint32_t k = shape->first_wall; k < shape->first_wall + shape->n_walls; k++)
    {
      const PlumbWallShape *wall = &building->walls[k];
      const PlumbVec2 corners[4] = { wall->start_m, wall->end_m, wall->outer_start_m, wall->outer_end_m };
      for (int i = 0; i < 4; i++)
        {
          PlumbVec2 p = on_plan (&plane, corners[i]);
          least = plumb_vec2 (fmin (least.x, p.x), fmin (least.y, p.y));
          greatest = plumb_vec2 (fmax (greatest.x, p.x), fmax (greatest.y, p.y));
        }
    }
  double room_x = 1e-3 * (survey->layout.area_w_mm - 2.0 * MARGIN_MM);
  double room_y = 1e-3 * (HIGHEST_SHARE * survey->layout.area_h_mm - 2.0 * MARGIN_MM);
  double ratio = fmax (fmax ((greatest.x - least.x) / room_x, (greatest.y - least.y) / room_y), 1.0);
  ratio = plumb_draw_scale_at_least (ratio, plumb_scene_job (survey->scene, 0)->units);
  *view = plumb_draw_view_default (PLUMB_DRAW_PLAN);
  view->theme = plumb_draw_theme (PLUMB_THEME_PRINT);
  view->medium = PLUMB_MEDIUM_PAPER;
  view->title = false;
  view->scale_per_m = PLUMB_PT_PER_M / ratio;
  view->width = survey->layout.area_w_mm * PLUMB_PT_PER_MM;
  view->height = ((greatest.y - least.y) / ratio * 1e3 + 2.0 * MARGIN_MM) * PLUMB_PT_PER_MM;
  view->centre_m = plumb_vec2_scale (plumb_vec2_add (least, greatest), 0.5);
  return ratio;
}

/* ---- rings ----------------------------------------------------------------------------- */

typedef struct {
  PlumbSheet *sheet;
  double x_mm, y_mm, wide_mm, high_mm; /* of the drawing on the page */
  GArray *taken;                       /* of PlumbVec2: middles of rings, mm on the page */
} Rings;

static bool
is_free (const Rings *rings, PlumbVec2 p)
{
  const double half = RING_MM / 2.0;
  if (p.x < rings->x_mm + half || p.x > rings->x_mm + rings->wide_mm - half || p.y < rings->y_mm + half
      || p.y > rings->y_mm + rings->high_mm - half)
    return false;
  for (guint i = 0; i < rings->taken->len; i++)
    if (plumb_vec2_length (plumb_vec2_sub (p, g_array_index (rings->taken, PlumbVec2, i))) < RING_APART_MM)
      return false;
  return true;
}

/* The free place nearest to where the ring should stand, going round it. */
static PlumbVec2
find_free (const Rings *rings, PlumbVec2 wanted)
{
  if (is_free (rings, wanted))
    return wanted;
  for (int step = 1; step <= TRIES; step++)
    for (int turn = 0; turn < 16; turn++)
      {
        double angle = 2.0 * PLUMB_PI * turn / 16.0, off = 1.5 * step;
        PlumbVec2 p = { wanted.x + off * cos (angle), wanted.y + off * sin (angle) };
        if (is_free (rings, p))
          return p;
      }
  return wanted;
}

/* Millimetres on the page. */
static PlumbVec2
on_page (const Rings *rings, PlumbVec2 room)
{
  PlumbPen *pen = rings->sheet->pen;
  PlumbVec2 device = plumb_pen_project (pen, plumb_vec3 (room.x, room.y, 0.0));
  device = plumb_pen_device (pen, device);
  return plumb_vec2 (rings->x_mm + device.x / PLUMB_PT_PER_MM, rings->y_mm + device.y / PLUMB_PT_PER_MM);
}

static void
place_ring (Rings *rings, const PlumbSurveyItem *item)
{
  const double mm = PLUMB_PT_PER_MM;
  PlumbSheet *sheet = rings->sheet;
  PlumbVec2 at = on_page (rings, item->at_m);
  PlumbVec2 away = plumb_vec2_sub (on_page (rings, plumb_vec2_add (item->at_m, item->away)), at);
  double length = plumb_vec2_length (away);
  PlumbVec2 wanted = length > 0.0 ? plumb_vec2_along (at, away, item->away_mm / length) : at;
  PlumbVec2 p = find_free (rings, wanted);
  g_array_append_val (rings->taken, p);
  if (plumb_vec2_length (plumb_vec2_sub (p, at)) > RING_MM / 2.0)
    {
      plumb_sheet_line (sheet, 0.18, PLUMB_COLOUR_INK2, at.x, at.y, p.x, p.y);
      cairo_arc (sheet->cr, at.x * mm, at.y * mm, 0.5 * mm, 0.0, 2.0 * PLUMB_PI);
      cairo_fill (sheet->cr);
    }
}

static void
draw_ring (PlumbSheet *sheet, const PlumbSurveyItem *item, PlumbVec2 p)
{
  const double mm = PLUMB_PT_PER_MM;
  cairo_arc (sheet->cr, p.x * mm, p.y * mm, RING_MM / 2.0 * mm, 0.0, 2.0 * PLUMB_PI);
  plumb_pen_colour (sheet->pen, PLUMB_COLOUR_PAPER, 1.0);
  cairo_fill_preserve (sheet->cr);
  plumb_pen_colour (sheet->pen, PLUMB_COLOUR_INK, 1.0);
  cairo_set_line_width (sheet->cr, 0.25 * mm);
  cairo_stroke (sheet->cr);
  plumb_sheet_text (sheet, item->letter, PLUMB_FACE_DRAWING, PLUMB_COLOUR_INK, 2.7, PLUMB_ALIGN_CENTRE, p.x,
                    p.y + 0.95, RING_MM - 0.6);
}

static void
draw_rings (PlumbSheet *sheet, const PlumbSurvey *survey, uint32_t space, double x_mm, double y_mm)
{
  Rings rings = { sheet,
                  x_mm,
                  y_mm,
                  survey->layout.area_w_mm,
                  sheet->pen->view->height / PLUMB_PT_PER_MM,
                  g_array_new (FALSE, FALSE, sizeof (PlumbVec2)) };
  const PlumbSurveyItem *ringed[MOST_RINGS];
  size_t n = 0;
  for (guint i = 0; i < survey->items->len && n < MOST_RINGS; i++)
    {
      const PlumbSurveyItem *item = &g_array_index (survey->items, PlumbSurveyItem, i);
      if (item->ringed && item->space == space)
        ringed[n++] = item;
    }
  /* All leaders first, so that none crosses a letter. */
  for (size_t i = 0; i < n; i++)
    place_ring (&rings, ringed[i]);
  for (size_t i = 0; i < n; i++)
    draw_ring (sheet, ringed[i], g_array_index (rings.taken, PlumbVec2, i));
  g_array_unref (rings.taken);
}

/* ---- what is known ------------------------------------------------------------------------ */

static void
draw_diagonals (PlumbPen *pen, const PlumbSurvey *survey, uint32_t space)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_CENTRE);
  for (guint i = 0; i < survey->diagonals->len; i++)
    {
      const PlumbSurveyDiagonal *d = &g_array_index (survey->diagonals, PlumbSurveyDiagonal, i);
      if (d->space == space)
        plumb_pen_stroke_line (pen, plumb_pen_project (pen, plumb_vec3 (d->from_m.x, d->from_m.y, 0.0)),
                               plumb_pen_project (pen, plumb_vec3 (d->to_m.x, d->to_m.y, 0.0)));
    }
}

/* Where ceiling planes meet, and structure, all above the cut. */
static void
draw_above (PlumbPen *pen, uint32_t space)
{
  for (uint32_t i = 0; i < pen->building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &pen->building->cells[i];
      if (cell->space != space)
        continue;
      PlumbVec2 points[PLUMB_FACE_MAX_POINTS];
      for (int k = 0; k < cell->n_points; k++)
        points[k] = plumb_pen_project (pen, cell->point[k]);
      plumb_pen_polygon (pen, points, cell->n_points, PLUMB_N_COLOURS, 0.0, PLUMB_LINE_THIN, PLUMB_COLOUR_EDGE);
    }
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      PlumbVec2 middle = { solid->centre_m.x, solid->centre_m.y };
      if (solid->surface.kind != PLUMB_SURFACE_OF_STRUCTURE
          || (solid->member > 0 && !plumb_building_in_outline (pen->building, space, middle)))
        continue;
      GArray *outline = plumb_solid_outline (pen, solid);
      plumb_pen_polygon (pen, (const PlumbVec2 *) (void *) outline->data, outline->len, PLUMB_N_COLOURS, 0.0,
                         PLUMB_LINE_ABOVE, PLUMB_COLOUR_RULE);
      g_array_unref (outline);
    }
}

void
plumb_survey_draw_plan (PlumbSheet *sheet, const PlumbSurvey *survey, uint32_t space, double x_mm, double y_mm)
{
  PlumbPen *pen = sheet->pen;
  cairo_save (sheet->cr);
  cairo_translate (sheet->cr, x_mm * PLUMB_PT_PER_MM, y_mm * PLUMB_PT_PER_MM);
  cairo_rectangle (sheet->cr, 0.0, 0.0, pen->view->width, pen->view->height);
  cairo_clip (sheet->cr);
  draw_above (pen, space);
  plumb_draw_walls_thin (pen, space);
  draw_diagonals (pen, survey, space);
  cairo_restore (sheet->cr);
  draw_rings (sheet, survey, space, x_mm, y_mm);
}
