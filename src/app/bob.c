/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/bob.h"

void
plumb_bob_draw (cairo_t *cr, double x, double top, double tip)
{
  double head = tip - PLUMB_BOB_PX;

  if (head > top)
    {
      cairo_set_line_width (cr, 2.0);
      cairo_move_to (cr, x, top);
      cairo_line_to (cr, x, head + 8.0);
      cairo_stroke (cr);
    }
  cairo_rectangle (cr, x - 2.0, head + 6.5, 4.0, 3.0);
  cairo_fill (cr);
  cairo_move_to (cr, x - 5.2, head + 12.0);
  cairo_curve_to (cr, x - 5.2, head + 8.6, x + 5.2, head + 8.6, x + 5.2, head + 12.0);
  cairo_curve_to (cr, x + 5.0, head + 17.0, x + 1.8, head + 19.5, x, tip);
  cairo_curve_to (cr, x - 1.8, head + 19.5, x - 5.0, head + 17.0, x - 5.2, head + 12.0);
  cairo_fill (cr);
}
