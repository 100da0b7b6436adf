/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All arrangements side by side, one column each: what they are made of, each check's worst finding, each figure. */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"

GtkWidget *plumb_findings_compare_new (PlumbDocument *document);
