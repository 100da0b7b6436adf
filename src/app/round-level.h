/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A round level, 12 px at 100 % text: a verdict where there is no room for a
 * vial (tape, strip, counts of the findings).
 */
#pragma once

#include <gtk/gtk.h>

#include "plumbeam/evaluate.h"

#define PLUMB_TYPE_ROUND_LEVEL (plumb_round_level_get_type ())
G_DECLARE_FINAL_TYPE (PlumbRoundLevel, plumb_round_level, PLUMB, ROUND_LEVEL, GtkWidget)

GtkWidget *plumb_round_level_new (PlumbVerdict verdict);
void plumb_round_level_set_verdict (PlumbRoundLevel *self, PlumbVerdict verdict);
