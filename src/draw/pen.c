/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/pen-private.h"

#include "plumbeam/assert.h"
#include "text/length.h"

/* Cairo keeps coordinates in 24.8 fixed point. */
#define DEVICE_LIMIT 4e6
/* One px of the look stands for a quarter of a millimetre on paper. */
#define PAPER_UNIT (0.25 * PLUMB_PT_PER_MM)
#define FINE_RATIO 150.0

static const struct {
  double paper_mm, screen_px;
  double dash_px[4];
  int n_dashes;
} lines[PLUMB_N_LINES] = {
  [PLUMB_LINE_CUT] = { 0.50, 2.2, { 0 }, 0 },        [PLUMB_LINE_SOLID] = { 0.35, 1.4, { 0 }, 0 },
  [PLUMB_LINE_CHOSEN] = { 0.45, 1.8, { 0 }, 0 },     [PLUMB_LINE_BEAM] = { 0.25, 1.1, { 0 }, 0 },
  [PLUMB_LINE_PORT] = { 0.25, 1.1, { 5, 3 }, 2 },    [PLUMB_LINE_RAW] = { 0.25, 1.4, { 12, 3, 2, 3 }, 4 },
  [PLUMB_LINE_ABOVE] = { 0.25, 0.9, { 7, 3 }, 2 },   [PLUMB_LINE_CENTRE] = { 0.18, 0.7, { 14, 3, 2, 3 }, 4 },
  [PLUMB_LINE_THIN] = { 0.18, 0.7, { 0 }, 0 },       [PLUMB_LINE_TICK] = { 0.35, 1.6, { 0 }, 0 },
  [PLUMB_LINE_SIGHT] = { 0.18, 0.9, { 1.5, 3 }, 2 }, [PLUMB_LINE_LIMIT] = { 0.25, 1.1, { 10, 3, 2, 3 }, 4 },
  [PLUMB_LINE_LIGHT] = { 0.13, 0.8, { 2, 3.5 }, 2 },
};

static bool
on_paper (const PlumbPen *pen)
{
  return pen->view->medium == PLUMB_MEDIUM_PAPER;
}

static void
set_frame (PlumbPen *pen)
{
  PlumbDrawBounds bounds = plumb_draw_bounds (pen->scene, pen->evaluation, pen->view->kind);
  PlumbVec2 low = plumb_pen_device (pen, bounds.least_m);
  PlumbVec2 high = plumb_pen_device (pen, bounds.greatest_m);
  pen->frame = (PlumbBox){ low.x, high.y, high.x, low.y, false };
}

void
plumb_pen_init (PlumbPen *pen, cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                const PlumbDrawView *view)
{
  PLUMB_ASSERT (isfinite (view->scale_per_m) && view->scale_per_m > 0.0);
  *pen = (PlumbPen){ .cr = cr, .scene = scene, .evaluation = evaluation, .view = view, .space = PLUMB_NO_INDEX };
  pen->resolved = plumb_scene_resolved (scene);
  pen->building = pen->resolved != NULL ? pen->resolved->building : NULL;
  pen->plane = plumb_draw_plane (scene, evaluation, view->kind);
  pen->unit = on_paper (pen) ? PAPER_UNIT : 1.0;
  pen->units = plumb_scene_job (scene, 0)->units;
  if (evaluation != NULL && evaluation->target.valid && evaluation->target.space != PLUMB_NO_INDEX)
    pen->space = evaluation->target.space;
  else if (pen->building != NULL && pen->building->n_spaces > 0)
    pen->space = 0;
  set_frame (pen);
  pen->layout = pango_cairo_create_layout (cr);
  /* Unhinted measures, so that paper and screen break and fit alike. */
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (pango_layout_get_context (pen->layout), options);
  cairo_font_options_destroy (options);
  /* Whole points would be coarse steps between letters of 7 pt. */
  pango_context_set_round_glyph_positions (pango_layout_get_context (pen->layout), FALSE);
  pango_layout_context_changed (pen->layout);
  pen->boxes = g_array_new (FALSE, FALSE, sizeof (PlumbBox));
}

/* ---- colour and line --------------------------------------------------------- */

void
plumb_pen_colour (PlumbPen *pen, PlumbDrawColour role, double alpha)
{
  PlumbRgb c = plumb_draw_theme_colour (pen->view->theme, role);
  cairo_set_source_rgba (pen->cr, c.r, c.g, c.b, alpha);
}

void
plumb_pen_tint (PlumbPen *pen, PlumbDrawColour role, double share)
{
  PlumbRgb c = plumb_draw_theme_colour (pen->view->theme, role);
  PlumbRgb ground = plumb_draw_theme_colour (pen->view->theme, PLUMB_COLOUR_SHEET);
  cairo_set_source_rgb (pen->cr, ground.r + share * (c.r - ground.r), ground.g + share * (c.g - ground.g),
                        ground.b + share * (c.b - ground.b));
}

void
plumb_pen_line (PlumbPen *pen, PlumbLine line)
{
  double width = on_paper (pen) ? lines[line].paper_mm * PLUMB_PT_PER_MM : lines[line].screen_px;
  double dash[4];
  for (int i = 0; i < lines[line].n_dashes; i++)
    dash[i] = lines[line].dash_px[i] * pen->unit;
  cairo_set_line_width (pen->cr, width);
  cairo_set_dash (pen->cr, dash, lines[line].n_dashes, 0.0);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_MITER);
  cairo_set_line_cap (pen->cr, line == PLUMB_LINE_SIGHT ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
}

bool
plumb_pen_selected (const PlumbPen *pen, PlumbRecordKind kind, uint32_t index)
{
  const PlumbSubject *selected = &pen->view->selected;
  return selected->kind != PLUMB_RECORD_NONE && selected->kind == kind && selected->index == index;
}

bool
plumb_pen_fine (const PlumbPen *pen)
{
  return plumb_draw_view_ratio (pen->view) <= FINE_RATIO * 1.001;
}

PlumbVec2
plumb_pen_device (const PlumbPen *pen, PlumbVec2 point_m)
{
  PlumbVec2 device = plumb_draw_view_to_device (pen->view, point_m);
  if (!isfinite (device.x) || !isfinite (device.y))
    return plumb_vec2 (pen->view->width / 2.0, pen->view->height / 2.0);
  return plumb_vec2 (plumb_clamp (device.x, -DEVICE_LIMIT, DEVICE_LIMIT),
                     plumb_clamp (device.y, -DEVICE_LIMIT, DEVICE_LIMIT));
}

PlumbVec2
plumb_pen_project (const PlumbPen *pen, PlumbVec3 room_m)
{
  return plumb_draw_plane_from_room (&pen->plane, room_m);
}

void
plumb_pen_path (PlumbPen *pen, const PlumbVec2 *points, size_t n, bool close)
{
  cairo_new_sub_path (pen->cr);
  for (size_t i = 0; i < n; i++)
    {
      PlumbVec2 device = plumb_pen_device (pen, points[i]);
      cairo_line_to (pen->cr, device.x, device.y);
    }
  if (close && n > 0)
    cairo_close_path (pen->cr);
}

void
plumb_pen_stroke_line (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b)
{
  PlumbVec2 ends[2] = { a, b };
  plumb_pen_path (pen, ends, 2, false);
  cairo_stroke (pen->cr);
}

void
plumb_pen_polygon (PlumbPen *pen, const PlumbVec2 *points, size_t n, PlumbDrawColour fill, double alpha,
                   PlumbLine line, PlumbDrawColour stroke)
{
  if (n < 2)
    return;
  plumb_pen_path (pen, points, n, true);
  if (fill < PLUMB_N_COLOURS)
    {
      plumb_pen_colour (pen, fill, alpha);
      cairo_fill_preserve (pen->cr);
    }
  if (line < PLUMB_N_LINES)
    {
      plumb_pen_colour (pen, stroke, 1.0);
      plumb_pen_line (pen, line);
      cairo_stroke_preserve (pen->cr);
    }
  cairo_new_path (pen->cr);
}

/* ---- hatching ------------------------------------------------------------------ */

/* Lines of x + slope·y = k·step over the clip; the phase is the drawing's, so
 * that pieces of one wall meet without a jump. */
static void
hatch_lines (PlumbPen *pen, double step, double offset, double run)
{
  double x0, y0, x1, y1;
  cairo_clip_extents (pen->cr, &x0, &y0, &x1, &y1);
  if (x1 <= x0 || y1 <= y0)
    return;
  double first = floor ((x0 + fmin (y0 * run, y1 * run) - offset) / step);
  double last = ceil ((x1 + fmax (y0 * run, y1 * run) - offset) / step);
  double stride = fmax (1.0, ceil ((last - first) / 4000.0));
  for (double k = first; k <= last; k += stride)
    {
      double c = k * step + offset;
      cairo_move_to (pen->cr, c - y0 * run, y0);
      cairo_line_to (pen->cr, c - y1 * run, y1);
    }
  cairo_stroke (pen->cr);
}

/* Dots strewn by a fixed rule, so that a drawing is the same every time. */
static void
hatch_dots (PlumbPen *pen, double step)
{
  double x0, y0, x1, y1;
  cairo_clip_extents (pen->cr, &x0, &y0, &x1, &y1);
  double columns = ceil ((x1 - x0) / step), rows = ceil ((y1 - y0) / step);
  if (columns * rows > 40000.0 || columns <= 0.0 || rows <= 0.0)
    return;
  double size = 0.7 * pen->unit;
  for (double row = floor (y0 / step); row <= floor (y1 / step); row++)
    for (double column = floor (x0 / step); column <= floor (x1 / step); column++)
      {
        double turn = fabs (sin (column * 12.9898 + row * 78.233));
        double x = (column + turn) * step, y = (row + fmod (turn * 7.0, 1.0)) * step;
        cairo_rectangle (pen->cr, x, y, size, size);
      }
  cairo_fill (pen->cr);
}

void
plumb_pen_hatch_clip (PlumbPen *pen, PlumbHatch hatch, PlumbDrawColour role)
{
  if (!plumb_pen_fine (pen))
    return;
  double step = 7.0 * pen->unit * (pen->view->theme->high_contrast ? 2.0 : 1.0) * G_SQRT2;
  plumb_pen_colour (pen, role, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  switch (hatch)
    {
    case PLUMB_HATCH_45:
      hatch_lines (pen, step, 0.0, 1.0);
      break;
    case PLUMB_HATCH_PAIRS:
      hatch_lines (pen, step * 1.5, 0.0, 1.0);
      hatch_lines (pen, step * 1.5, 2.6 * pen->unit, 1.0);
      break;
    case PLUMB_HATCH_DOTS:
      hatch_lines (pen, step * 1.6, 0.0, 1.0);
      hatch_dots (pen, step * 0.8);
      break;
    case PLUMB_HATCH_ROOF:
      hatch_lines (pen, step * 1.8, 0.0, 0.45);
      break;
    case PLUMB_HATCH_20:
      /* x + y cot 20° = c: the step along the page across is that much longer. */
      hatch_lines (pen, step * 1.8, 0.0, 1.0 / tan (20.0 * PLUMB_PI / 180.0));
      break;
    case PLUMB_HATCH_DOWN:
      hatch_lines (pen, step, 0.0, -1.0);
      break;
    }
}

void
plumb_pen_hatch (PlumbPen *pen, const PlumbVec2 *points, size_t n, PlumbHatch hatch, PlumbDrawColour role)
{
  if (!plumb_pen_fine (pen) || n < 3)
    return;
  cairo_save (pen->cr);
  plumb_pen_path (pen, points, n, true);
  cairo_clip (pen->cr);
  plumb_pen_hatch_clip (pen, hatch, role);
  cairo_restore (pen->cr);
}

void
plumb_pen_cross (PlumbPen *pen, const PlumbVec2 *points, size_t n)
{
  if (n < 3)
    return;
  if (n == 4)
    {
      plumb_pen_stroke_line (pen, points[0], points[2]);
      plumb_pen_stroke_line (pen, points[1], points[3]);
      return;
    }
  PlumbVec2 low = points[0], high = points[0];
  for (size_t i = 1; i < n; i++)
    {
      low = plumb_vec2 (fmin (low.x, points[i].x), fmin (low.y, points[i].y));
      high = plumb_vec2 (fmax (high.x, points[i].x), fmax (high.y, points[i].y));
    }
  cairo_save (pen->cr);
  plumb_pen_path (pen, points, n, true);
  cairo_clip (pen->cr);
  plumb_pen_stroke_line (pen, low, high);
  plumb_pen_stroke_line (pen, plumb_vec2 (low.x, high.y), plumb_vec2 (high.x, low.y));
  cairo_restore (pen->cr);
}

/* ---- shapes -------------------------------------------------------------------- */

static int
compare_points (const void *a, const void *b)
{
  const PlumbVec2 *p = a, *q = b;
  if (p->x != q->x)
    return p->x < q->x ? -1 : 1;
  return (p->y > q->y) - (p->y < q->y);
}

/* Andrew's monotone chain. */
size_t
plumb_hull (PlumbVec2 *points, size_t n)
{
  if (n < 3)
    return n;
  qsort (points, n, sizeof *points, compare_points);
  PlumbVec2 *hull = g_new (PlumbVec2, 2 * n);
  size_t k = 0;
  for (size_t pass = 0; pass < 2; pass++)
    {
      size_t base = k;
      for (size_t i = 0; i < n; i++)
        {
          PlumbVec2 p = pass == 0 ? points[i] : points[n - 1 - i];
          while (k >= base + 2
                 && plumb_vec2_cross (plumb_vec2_sub (hull[k - 1], hull[k - 2]), plumb_vec2_sub (p, hull[k - 2]))
                        <= 0.0)
            k--;
          hull[k++] = p;
        }
      k--; /* the last point begins the other chain */
    }
  k = MIN (k, n);
  for (size_t i = 0; i < k; i++)
    points[i] = hull[i];
  g_free (hull);
  return k;
}

char *
plumb_pen_length (const PlumbPen *pen, double metres)
{
  if (pen->units == PLUMB_UNITS_METRIC && fabs (metres) >= 0.1)
    return plumb_length_format (metres, pen->units, PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT);
  return plumb_length_format (metres, pen->units, PLUMB_SHOW_TYPOGRAPHIC);
}
