/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The measuring tape with the ten steps of the work and the plumb line that
 * falls to the step at hand. Up, Down, Home and End walk along it.
 *
 * Signal `chosen` (int step): somebody chose another step.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

#define PLUMB_TYPE_STEP_TAPE (plumb_step_tape_get_type ())
G_DECLARE_FINAL_TYPE (PlumbStepTape, plumb_step_tape, PLUMB, STEP_TAPE, GtkWidget)

GtkWidget *plumb_step_tape_new (PlumbDocument *document);
/* Does not emit `chosen`. */
void plumb_step_tape_show_step (PlumbStepTape *self, PlumbStep step);
PlumbStep plumb_step_tape_step (PlumbStepTape *self);
/* The tape of 124 px in place of that of 104. */
void plumb_step_tape_set_wide (PlumbStepTape *self, gboolean wide);
