/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/guides.h"

#include "draw/pen-private.h"

/* px of the look */
#define TICK 4.0
#define LIFT 4.0    /* of the figure over its line */
#define BEYOND 14.0 /* how far a line goes on past the point that rests on it */

/* ---- dimension strings ------------------------------------------------------------ */

static void
stroke_tick (PlumbPen *pen, PlumbVec2 at)
{
  double t = TICK * pen->unit;
  cairo_move_to (pen->cr, at.x - t, at.y + t);
  cairo_line_to (pen->cr, at.x + t, at.y - t);
  cairo_stroke (pen->cr);
}

/* Along the line, over it, read from below or from the right; in the middle
 * of what is seen of it, beyond its far end where it is too short. */
static void
write_figure (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, const char *text)
{
  PlumbVec2 way = plumb_vec2_sub (b, a);
  double length = plumb_vec2_length (way), width = plumb_pen_text_width (pen, text, PLUMB_LETTER_DIMENSION);
  if (length > 0.0)
    way = plumb_vec2_scale (way, 1.0 / length);
  else
    way = plumb_vec2 (1.0, 0.0);
  bool fits = length > width + 2.0 * TICK;
  PlumbVec2 middle = plumb_vec2_along (a, way, fits ? length / 2.0 : -width / 2.0 - 2.0 * TICK);
  /* Never upside down: text runs rightwards, upright ones upwards. */
  bool upright = fabs (way.x) < 1e-6;
  if ((upright && way.y > 0.0) || (!upright && way.x < 0.0))
    way = plumb_vec2_scale (way, -1.0);
  middle.x = plumb_clamp (middle.x, width / 2.0, fmax (width / 2.0, pen->view->width - width / 2.0));
  middle.y = plumb_clamp (middle.y, 16.0, fmax (16.0, pen->view->height - 6.0));
  cairo_save (pen->cr);
  cairo_translate (pen->cr, middle.x, middle.y);
  cairo_rotate (pen->cr, atan2 (way.y, way.x));
  plumb_pen_text (pen, text, PLUMB_LETTER_DIMENSION, PLUMB_COLOUR_ACCENT, -width / 2.0, -LIFT, false, true);
  cairo_restore (pen->cr);
}

static void
draw_dimension (PlumbPen *pen, const PlumbSnapGuide *guide)
{
  PlumbVec2 a = plumb_pen_device (pen, guide->a_m), b = plumb_pen_device (pen, guide->b_m);
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  cairo_move_to (pen->cr, a.x, a.y);
  cairo_line_to (pen->cr, b.x, b.y);
  cairo_stroke (pen->cr);
  plumb_pen_line (pen, PLUMB_LINE_TICK);
  stroke_tick (pen, a);
  stroke_tick (pen, b);
  write_figure (pen, a, b, guide->text);
}

static void
draw_line (PlumbPen *pen, const PlumbSnapGuide *guide)
{
  PlumbVec2 a = plumb_pen_device (pen, guide->a_m), b = plumb_pen_device (pen, guide->b_m);
  PlumbVec2 way = plumb_vec2_sub (b, a);
  double length = plumb_vec2_length (way);
  if (!(length > 0.0))
    return;
  b = plumb_vec2_along (b, way, BEYOND * pen->unit / length);
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_CENTRE);
  cairo_set_line_width (pen->cr, 1.1 * pen->unit);
  cairo_move_to (pen->cr, a.x, a.y);
  cairo_line_to (pen->cr, b.x, b.y);
  cairo_stroke (pen->cr);
}

void
plumb_draw_guides (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbDrawView *view,
                   const PlumbSnap *snap)
{
  PlumbPen pen;
  cairo_save (cr);
  cairo_rectangle (cr, 0.0, 0.0, view->width, view->height);
  cairo_clip (cr);
  plumb_pen_init (&pen, cr, scene, evaluation, view);
  for (unsigned i = 0; i < snap->n_guides; i++)
    if (!snap->guide[i].dimension)
      draw_line (&pen, &snap->guide[i]);
  for (unsigned i = 0; i < snap->n_guides; i++)
    if (snap->guide[i].dimension)
      draw_dimension (&pen, &snap->guide[i]);
  plumb_pen_clear (&pen);
  cairo_restore (cr);
}

/* ---- marks -------------------------------------------------------------------------- */

typedef struct {
  cairo_t *cr;
  const PlumbDrawView *view;
} Mark;

static void
trace_cb (const PlumbVec2 *points, size_t n, bool closed, double half_px, gpointer data)
{
  const Mark *mark = data;
  cairo_new_sub_path (mark->cr);
  if (n == 1)
    {
      PlumbVec2 p = plumb_draw_view_to_device (mark->view, points[0]);
      cairo_arc (mark->cr, p.x, p.y, half_px, 0.0, 2.0 * G_PI);
      cairo_close_path (mark->cr);
      return;
    }
  for (size_t i = 0; i < n; i++)
    {
      PlumbVec2 p = plumb_draw_view_to_device (mark->view, points[i]);
      cairo_line_to (mark->cr, p.x, p.y);
    }
  if (closed)
    cairo_close_path (mark->cr);
}

void
plumb_draw_mark (cairo_t *cr, const PlumbDrawView *view, const PlumbDrawShapes *shapes, PlumbSubject subject,
                 PlumbDrawPart part, double width_px)
{
  Mark mark = { cr, view };
  PlumbRgb c = plumb_draw_theme_colour (view->theme, PLUMB_COLOUR_ACCENT);
  cairo_save (cr);
  cairo_rectangle (cr, 0.0, 0.0, view->width, view->height);
  cairo_clip (cr);
  cairo_new_path (cr);
  plumb_draw_shapes_outline (shapes, subject, part, trace_cb, &mark);
  cairo_set_source_rgb (cr, c.r, c.g, c.b);
  cairo_set_line_width (cr, width_px);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_restore (cr);
}
