/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages into a file by way of memory, so that a full disc leaves the old file
 * as it was. */
#pragma once

#include "draw/draw.h"

typedef struct PlumbExport PlumbExport;

PlumbExport *plumb_export_begin_pdf (const char *title);
PlumbExport *plumb_export_begin_svg (double width_mm, double height_mm);
/* Ends the page before, if there is one. The context is the export's. */
cairo_t *plumb_export_next_page (PlumbExport *out, double width_mm, double height_mm);
/* Writes the file and frees the export. */
bool plumb_export_end (PlumbExport *out, const char *path, GError **error);
