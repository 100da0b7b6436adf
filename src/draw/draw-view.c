/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/parts-private.h"

static void
draw_nothing (PlumbPen *pen)
{
  const char *words = N_ ("Nothing is measured yet: begin with the corners of the room.");
  double width = plumb_pen_text_width (pen, words, PLUMB_LETTER_NOTE);
  plumb_pen_text (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, (pen->view->width - width) / 2.0,
                  pen->view->height / 2.0, false, false);
}

void
plumb_draw_view (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbDrawView *view)
{
  PlumbPen pen;
  cairo_save (cr);
  cairo_rectangle (cr, 0.0, 0.0, view->width, view->height);
  cairo_clip (cr);
  plumb_pen_init (&pen, cr, scene, evaluation, view);
  plumb_pen_colour (&pen, PLUMB_COLOUR_PAPER, 1.0);
  cairo_paint (cr);
  plumb_draw_view_title (&pen);
  plumb_draw_scale_bar (&pen);
  switch (view->kind)
    {
    case PLUMB_DRAW_PLAN:
      plumb_draw_plan (&pen);
      break;
    case PLUMB_DRAW_SIDE:
      plumb_draw_side (&pen);
      break;
    case PLUMB_DRAW_PICTURE:
      plumb_draw_picture (&pen);
      break;
    case PLUMB_DRAW_CEILING:
    case PLUMB_N_DRAW_KINDS:
      plumb_draw_ceiling (&pen);
      break;
    }
  if (pen.building == NULL || pen.building->n_walls == 0)
    draw_nothing (&pen);
  plumb_pen_place_labels (&pen);
  if (view->kind == PLUMB_DRAW_PLAN || view->kind == PLUMB_DRAW_CEILING)
    plumb_draw_wall_names (&pen);
  plumb_pen_clear (&pen);
  cairo_restore (cr);
}
