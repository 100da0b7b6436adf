/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Isolines of light on the picture, each with its figure broken into it. */
#include "draw/picture-over-private.h"

/* The figure's line shows on both sides of it. */
#define LEAST_LENGTH 1.6

typedef struct {
  PlumbVec2 *at; /* device */
  double *along; /* from the line's start */
  guint n;
} Drawn;

static Drawn
drawn_line (const PlumbPen *pen, const PlumbIsolines *light, const PlumbIsoline *line)
{
  Drawn out = { g_new (PlumbVec2, line->n + 1), g_new0 (double, line->n + 1), line->n + (line->closed ? 1 : 0) };
  for (guint i = 0; i < out.n; i++)
    {
      PlumbVec2 p = g_array_index (light->points, PlumbVec2, line->first + i % line->n);
      out.at[i] = plumb_pen_device (pen, plumb_picture_point (pen, p));
      if (i > 0)
        out.along[i] = out.along[i - 1] + plumb_vec2_length (plumb_vec2_sub (out.at[i], out.at[i - 1]));
    }
  return out;
}

/* The point so far along. */
static PlumbVec2
point_along (const Drawn *line, double along)
{
  guint i = 1;
  while (i < line->n - 1 && line->along[i] < along)
    i++;
  double part = line->along[i] - line->along[i - 1];
  double share = part > 0.0 ? plumb_clamp ((along - line->along[i - 1]) / part, 0.0, 1.0) : 0.0;
  return plumb_vec2_along (line->at[i - 1], plumb_vec2_sub (line->at[i], line->at[i - 1]), share);
}

/* Box round a text that is turned about its middle. */
static PlumbBox
turned_box (PlumbVec2 middle, double width, double height, double angle)
{
  double x = (fabs (cos (angle)) * width + fabs (sin (angle)) * height) / 2.0;
  double y = (fabs (sin (angle)) * width + fabs (cos (angle)) * height) / 2.0;
  return (PlumbBox){ middle.x - x, middle.y - y, middle.x + x, middle.y + y, false };
}

/* A place on the line where the figure lies on no other word. */
static bool
find_place (const PlumbPen *pen, const Drawn *line, double width, double height, bool over_soft, PlumbVec2 *middle,
            double *angle)
{
  static const double places[] = { 0.5, 0.38, 0.62, 0.26, 0.74, 0.16, 0.84 };
  double length = line->along[line->n - 1];
  for (size_t k = 0; k < G_N_ELEMENTS (places) && length >= LEAST_LENGTH * width; k++)
    {
      double at = places[k] * length;
      if (at < 0.7 * width || length - at < 0.7 * width)
        continue;
      PlumbVec2 way = plumb_vec2_sub (point_along (line, at + width / 2.0), point_along (line, at - width / 2.0));
      /* Read from below, or from the right. */
      *angle = atan (way.y / way.x);
      if (fabs (way.x) < 1e-6 * fabs (way.y) || !isfinite (*angle))
        *angle = -PLUMB_PI / 2.0;
      *middle = point_along (line, at);
      PlumbBox box = turned_box (*middle, width, height, *angle);
      if (plumb_pen_box_free (pen, box, over_soft) && plumb_pen_box_inside (pen, box))
        return true;
    }
  return false;
}

/* Nothing is drawn in the turned box. */
static void
clip_gap (PlumbPen *pen, PlumbVec2 middle, double angle, double width, double height)
{
  cairo_set_fill_rule (pen->cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_rectangle (pen->cr, 0.0, 0.0, pen->view->width, pen->view->height);
  cairo_save (pen->cr);
  cairo_translate (pen->cr, middle.x, middle.y);
  cairo_rotate (pen->cr, angle);
  cairo_rectangle (pen->cr, -width / 2.0, -height / 2.0, width, height);
  cairo_restore (pen->cr);
  cairo_clip (pen->cr);
}

static void
draw_line (PlumbPen *pen, const PlumbPictureOver *over, const PlumbIsoline *line)
{
  g_autofree char *words = plumb_picture_light_words (over, line->value);
  double width = plumb_pen_text_width (pen, words, PLUMB_LETTER_NOTE) + 6.0 * pen->unit;
  double height = plumb_pen_letter_size (pen, PLUMB_LETTER_NOTE), angle;
  Drawn drawn = drawn_line (pen, &over->light, line);
  PlumbVec2 middle;
  bool told = pen->view->text
              && (find_place (pen, &drawn, width, height, false, &middle, &angle)
                  || find_place (pen, &drawn, width, height, true, &middle, &angle));
  cairo_save (pen->cr);
  cairo_new_path (pen->cr);
  if (told)
    clip_gap (pen, middle, angle, width, height);
  for (guint i = 0; i < drawn.n; i++)
    cairo_line_to (pen->cr, drawn.at[i].x, drawn.at[i].y);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_LIGHT);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
  if (told)
    {
      plumb_pen_text_turned (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, middle, angle);
      plumb_pen_take (pen, turned_box (middle, width, height, angle));
    }
  g_free (drawn.at);
  g_free (drawn.along);
}

/* The brightest point: a ring and a dot, with its figure. */
static void
draw_hot_spot (PlumbPen *pen, const PlumbPictureOver *over)
{
  PlumbVec2 at = plumb_pen_device (pen, plumb_picture_point (pen, over->light.greatest_at));
  double r = 4.0 * pen->unit;
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, at.x, at.y, r, 0.0, 2.0 * G_PI);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, at.x, at.y, 1.2 * pen->unit, 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
  plumb_pen_take (pen, (PlumbBox){ at.x - r, at.y - r, at.x + r, at.y + r, false });
  g_autofree char *figure = plumb_picture_light_words (over, over->light.greatest);
  g_autofree char *words = g_strdup_printf (N_ ("brightest, %s"), figure);
  plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, at, 6.0 * pen->unit, PLUMB_BESIDE_RIGHT, true);
}

void
plumb_picture_over_draw_light (PlumbPen *pen, const PlumbPictureOver *over)
{
  if (!over->has_light || !(over->light.step > 0.0))
    return;
  for (guint i = 0; i < over->light.lines->len; i++)
    draw_line (pen, over, &g_array_index (over->light.lines, PlumbIsoline, i));
  draw_hot_spot (pen, over);
}
