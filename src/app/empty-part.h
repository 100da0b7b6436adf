/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What hangs where the drawings would be while nothing is measured: the plumb
 * line alone, what to measure first, and one button that begins.
 *
 * Signal `begun`: the first wall was added.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

#define PLUMB_TYPE_EMPTY_PART (plumb_empty_part_get_type ())
G_DECLARE_FINAL_TYPE (PlumbEmptyPart, plumb_empty_part, PLUMB, EMPTY_PART, GtkWidget)

/* Visible only while the job has no wall. */
GtkWidget *plumb_empty_part_new (PlumbDocument *document);
