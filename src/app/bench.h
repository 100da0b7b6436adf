/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How the parts of the window share its width: tape, form, and the rest.
 * Where the window is narrow the form can slide over the rest instead. F6 leads
 * from part to part, Shift and F6 back.
 *
 * Signal `resized`, sent when it may have come into another class of sizes;
 * never in the middle of an allocation.
 */
#pragma once

#include <gtk/gtk.h>

#define PLUMB_TYPE_BENCH (plumb_bench_get_type ())
G_DECLARE_FINAL_TYPE (PlumbBench, plumb_bench, PLUMB, BENCH, GtkWidget)

/* Width under which three parts beside each other have no room. */
#define PLUMB_BENCH_NARROW_PX 1100
/* Width from which the tape is the wide one. */
#define PLUMB_BENCH_WIDE_PX 1440

/* Takes the three widgets. */
GtkWidget *plumb_bench_new (GtkWidget *tape, GtkWidget *form, GtkWidget *rest);
/* Folds the form in or away, sliding. */
void plumb_bench_show_form (PlumbBench *self, gboolean shown);
gboolean plumb_bench_form_is_shown (PlumbBench *self);
/* Whether the form lies over the rest and not beside it. */
void plumb_bench_set_form_over (PlumbBench *self, gboolean over);
