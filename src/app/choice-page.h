/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lens trial as a table: every machine and lens at every place, one line
 * each, of which one can be taken as an arrangement.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

GtkWidget *plumb_choice_page_new (PlumbDocument *document);
