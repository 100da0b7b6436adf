/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a drawing pane shows beside the things themselves, by the menu of its
 * head: the question that every seat answers, and what lies over the picture.
 * The actions are the group `drawing` of the pane: `question` with the
 * question's word, and the flags `light`, `shadows`, `hidden`, `off-axis`.
 */
#pragma once

#include "app/drawing-area.h"

/* Gives the pane its actions and the button its menu; both are in the pane. */
void plumb_drawing_menu_add (GtkWidget *pane, GtkMenuButton *button, PlumbDrawingArea *area);
