/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The colours and the style sheet of the window.
 *
 * The theme follows the desktop: the settings portal's color-scheme and
 * contrast, else the name of the GTK theme; PLUMB_THEME=light, dark, contrast
 * or contrast_dark overrides both. Roles are those of draw/theme.h: in CSS
 * each is a colour @plumb_<role> and a class .<role> that colours text. When
 * the theme changes, everything is drawn anew.
 */
#pragma once

#include <gtk/gtk.h>

#include "draw/theme.h"

/* Once, after GTK has been started. */
void plumb_style_install (GdkDisplay *display);
/* The theme in force; light before plumb_style_install(). */
const PlumbDrawTheme *plumb_style_theme (void);
GdkRGBA plumb_style_colour (PlumbDrawColour role);
/* Sets a tooltip where it differs: the toolkit asks the display where the
 * pointer is each time, also when nothing is new. */
void plumb_style_set_tooltip (GtkWidget *widget, const char *text);
void plumb_style_set_source (cairo_t *cr, PlumbDrawColour role);
/* The colour of a verdict's mark and word, and of its soft fill. */
PlumbDrawColour plumb_style_verdict_role (int verdict);
PlumbDrawColour plumb_style_verdict_soft_role (int verdict);
/* CSS class of a verdict's word: "holds", "tight", "unknown", "fails". */
const char *plumb_style_verdict_class (int verdict);
/* Sets the one verdict class on a widget, none for a verdict below 0. */
void plumb_style_set_verdict_class (GtkWidget *widget, int verdict);
