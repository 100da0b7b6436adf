/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A spirit level, 26 × 13 px at 100 % text: the verdict of one finding, told
 * by shape and by where the bubble stands. The left line is the lower limit,
 * the right one the upper; a one-sided limit is the right line.
 */
#pragma once

#include <gtk/gtk.h>

#include "plumbeam/evaluate.h"
#include "text/findings.h"

#define PLUMB_TYPE_VIAL (plumb_vial_get_type ())
G_DECLARE_FINAL_TYPE (PlumbVial, plumb_vial, PLUMB, VIAL, GtkWidget)

GtkWidget *plumb_vial_new (void);
/* Shows a finding; its accessible label is verdict, figure, limit. NULL: an
 * empty place of the same size. */
void plumb_vial_show_finding (PlumbVial *self, const PlumbFinding *finding, PlumbWords words);
/* Where the bubble's middle stands, 0 left end to 1 right end. */
double plumb_vial_place (const PlumbFinding *finding);
