/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a pointer adds to a drawing: guides of a drag and marks around things. */
#pragma once

#include "draw/snap.h"

/* The guides of a snap over a drawing, in the accent colour: dimension
 * strings with ticks and figures, and the lines that the point rests on. */
void plumb_draw_guides (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                        const PlumbDrawView *view, const PlumbSnap *snap);
/* The outlines of a thing in the accent colour. */
void plumb_draw_mark (cairo_t *cr, const PlumbDrawView *view, const PlumbDrawShapes *shapes, PlumbSubject subject,
                      PlumbDrawPart part, double width_px);
