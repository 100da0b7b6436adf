/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dimension strings: 45° ticks, figures above the line, read from below or
 * from the right. */
#include "draw/pen-private.h"

/* px of the look. */
#define FIRST_LEVEL 26.0
#define LEVEL_STEP 25.0
#define TICK 4.0
#define OVERSHOOT 4.0
#define OBJECT_GAP 5.0
/* Points nearer than this are one. */
#define SAME_POINT_M 0.0005
#define MAX_POINTS 40

typedef struct {
  PlumbEdge edge;
  double line; /* device x or y of the string */
  double from; /* device coordinate where extension lines begin */
  bool vertical;
  double at[MAX_POINTS]; /* device, along the string */
  double at_m[MAX_POINTS];
  const char *word[MAX_POINTS]; /* of the segment after the point */
  size_t n;
} String;

double
plumb_pen_level (const PlumbDrawView *view, int level)
{
  double unit = view->medium == PLUMB_MEDIUM_PAPER ? 0.25 * PLUMB_PT_PER_MM : 1.0;
  return level < 1 ? 0.0 : (FIRST_LEVEL + LEVEL_STEP * (level - 1)) * unit;
}

static PlumbVec2
string_point (const String *string, double along, double across)
{
  return string->vertical ? plumb_vec2 (across, along) : plumb_vec2 (along, across);
}

/* Sorts the points along the page (left to right, or upwards), carrying the
 * words, and drops those that fall together. */
static void
gather (PlumbPen *pen, String *string, const double *at_m, const char *const *words, size_t n)
{
  bool descending = n >= 2 && at_m[0] > at_m[n - 1];
  for (size_t i = 0; i < n && string->n < MAX_POINTS; i++)
    {
      size_t j = descending ? n - 1 - i : i;
      if (!isfinite (at_m[j]) || (string->n > 0 && at_m[j] - string->at_m[string->n - 1] < SAME_POINT_M))
        continue;
      PlumbVec2 device = plumb_pen_device (pen, plumb_vec2 (at_m[j], at_m[j]));
      string->at_m[string->n] = at_m[j];
      string->at[string->n] = string->vertical ? device.y : device.x;
      string->word[string->n] = NULL;
      if (words != NULL)
        {
          if (!descending && j + 1 < n)
            string->word[string->n] = words[j];
          else if (descending && j > 0)
            string->word[string->n] = words[j - 1];
        }
      string->n++;
    }
}

static void
draw_lines (PlumbPen *pen, const String *string)
{
  double out = string->line > string->from ? 1.0 : -1.0;
  plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  for (size_t i = 0; i < string->n; i++)
    {
      PlumbVec2 a = string_point (string, string->at[i], string->from + out * OBJECT_GAP * pen->unit);
      PlumbVec2 b = string_point (string, string->at[i], string->line + out * OVERSHOOT * pen->unit);
      cairo_move_to (pen->cr, a.x, a.y);
      cairo_line_to (pen->cr, b.x, b.y);
    }
  PlumbVec2 a = string_point (string, string->at[0], string->line);
  PlumbVec2 b = string_point (string, string->at[string->n - 1], string->line);
  cairo_move_to (pen->cr, a.x, a.y);
  cairo_line_to (pen->cr, b.x, b.y);
  cairo_stroke (pen->cr);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_TICK);
  for (size_t i = 0; i < string->n; i++)
    {
      PlumbVec2 p = string_point (string, string->at[i], string->line);
      double t = TICK * pen->unit;
      cairo_move_to (pen->cr, p.x - t, p.y + t);
      cairo_line_to (pen->cr, p.x + t, p.y - t);
    }
  cairo_stroke (pen->cr);
}

/* Later words keep off the string's lines. */
static void
take_lines (PlumbPen *pen, const String *string)
{
  double half = 0.6 * pen->unit;
  for (size_t i = 0; i < string->n; i++)
    plumb_pen_take_line (pen, string_point (string, string->at[i], string->from),
                         string_point (string, string->at[i], string->line), half);
  plumb_pen_take_line (pen, string_point (string, string->at[0], string->line),
                       string_point (string, string->at[string->n - 1], string->line), half);
}

/* Puts a text along the string: `begin` where it starts along it, `raise`
 * how many text heights above the line (negative: below). False when taken. */
static bool
try_text (PlumbPen *pen, const String *string, const char *text, double begin, double raise)
{
  double size = plumb_pen_letter_size (pen, PLUMB_LETTER_DIMENSION);
  double lift = raise >= 0.0 ? 0.28 * size + raise * size : raise * size;
  PlumbVec2 at = string_point (string, begin, string->line - lift);
  PlumbBox box = plumb_pen_text_box (pen, text, PLUMB_LETTER_DIMENSION, at.x, at.y, string->vertical);
  if (!plumb_pen_box_free (pen, box, false) || !plumb_pen_box_inside (pen, box))
    return false;
  plumb_pen_text (pen, text, PLUMB_LETTER_DIMENSION, PLUMB_COLOUR_INK, at.x, at.y, string->vertical, false);
  return true;
}

static void
write_figure (PlumbPen *pen, const String *string, size_t i)
{
  char *figure = plumb_pen_length (pen, string->at_m[i + 1] - string->at_m[i]);
  char *text = string->word[i] != NULL ? g_strdup_printf ("%s %s", figure, string->word[i]) : g_strdup (figure);
  /* Text runs rightwards, or upwards on an upright string. */
  double way = string->vertical ? -1.0 : 1.0;
  double gap = 5.0 * pen->unit;
  for (int form = 0; form < 2; form++)
    {
      const char *words = form == 0 ? text : figure;
      double width = plumb_pen_text_width (pen, words, PLUMB_LETTER_DIMENSION);
      double span = fabs (string->at[i + 1] - string->at[i]);
      double centred = (string->at[i] + string->at[i + 1]) / 2.0 - way * width / 2.0;
      double before = string->at[i] - way * (width + gap);
      double after = string->at[i + 1] + way * gap;
      double slack = fmax (0.0, (span - width - gap) / 2.0);
      bool done = false;
      for (int slide = 0; slide < 9 && !done && width + gap < span; slide++)
        {
          /* From the middle to either side in four steps. */
          double off = slack * ((slide + 1) / 2) / 4.0 * (slide % 2 == 0 ? 1.0 : -1.0);
          done = try_text (pen, string, words, centred + off, 0.0);
        }
      done = done || (i == 0 && try_text (pen, string, words, before, 0.0))
             || (i + 2 == string->n && try_text (pen, string, words, after, 0.0))
             || (width < span * 1.6 && try_text (pen, string, words, centred, -0.95));
      if (done)
        break;
      if (form == 1 && !try_text (pen, string, words, centred, -0.95) && !try_text (pen, string, words, centred, 0.0))
        try_text (pen, string, words, centred, 1.0);
    }
  g_free (text);
  g_free (figure);
}

void
plumb_pen_dimensions (PlumbPen *pen, PlumbEdge edge, int level, const double *at_m, const char *const *words,
                      size_t n)
{
  String string = { .edge = edge, .vertical = edge == PLUMB_EDGE_LEFT || edge == PLUMB_EDGE_RIGHT };
  double away = plumb_pen_level (pen->view, level);
  switch (edge)
    {
    case PLUMB_EDGE_LEFT:
      string.from = pen->frame.x0;
      string.line = string.from - away;
      break;
    case PLUMB_EDGE_RIGHT:
      string.from = pen->frame.x1;
      string.line = string.from + away;
      break;
    case PLUMB_EDGE_TOP:
      string.from = pen->frame.y0;
      string.line = string.from - away;
      break;
    case PLUMB_EDGE_BOTTOM:
      string.from = pen->frame.y1;
      string.line = string.from + away;
      break;
    }
  gather (pen, &string, at_m, words, n);
  if (string.n < 2)
    return;
  draw_lines (pen, &string);
  for (size_t i = 0; i + 1 < string.n && pen->view->text; i++)
    write_figure (pen, &string, i);
  take_lines (pen, &string);
}

void
plumb_pen_gap (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, const char *text, PlumbDrawColour role)
{
  PlumbVec2 p = plumb_pen_device (pen, a), q = plumb_pen_device (pen, b);
  plumb_pen_colour (pen, role, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_TICK);
  cairo_move_to (pen->cr, p.x, p.y);
  cairo_line_to (pen->cr, q.x, q.y);
  cairo_stroke (pen->cr);
  double t = 3.0 * pen->unit;
  cairo_move_to (pen->cr, p.x - t, p.y + t);
  cairo_line_to (pen->cr, p.x + t, p.y - t);
  cairo_move_to (pen->cr, q.x - t, q.y + t);
  cairo_line_to (pen->cr, q.x + t, q.y - t);
  cairo_stroke (pen->cr);
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (p, q), 0.5);
  plumb_pen_label (pen, text, PLUMB_LETTER_NOTE, role, middle, 26.0 * pen->unit, PLUMB_BESIDE_BELOW, true);
}
