/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets as files. The page is made in memory first, so that a full disc
 * leaves the old file as it was. */
#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "draw/draw.h"

static cairo_status_t
append_cb (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* Builders set SOURCE_DATE_EPOCH to get the same bytes twice. */
static void
set_date (cairo_surface_t *surface)
{
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  gint64 seconds;
  if (epoch == NULL || !g_ascii_string_to_signed (epoch, 10, 0, G_MAXINT64 / 2000000, &seconds, NULL))
    return;
  g_autoptr (GDateTime) date = g_date_time_new_from_unix_utc (seconds);
  if (date == NULL)
    return;
  g_autofree char *text = g_date_time_format (date, "%Y-%m-%dT%H:%M:%SZ");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, text);
}

static cairo_surface_t *
make_surface (GByteArray *bytes, const PlumbScene *scene, PlumbDrawKind kind, PlumbSheetFormat format,
              const PlumbSheetLayout *layout)
{
  double width = layout->width_mm * PLUMB_PT_PER_MM, height = layout->height_mm * PLUMB_PT_PER_MM;
  if (format == PLUMB_SHEET_SVG)
    {
      cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append_cb, bytes, width, height);
      cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PT);
      return surface;
    }
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, width, height);
  const PlumbJob *job = plumb_scene_job (scene, 0);
  g_autofree char *title = job->title[0] != '\0'
                               ? g_strdup_printf ("%s: %s", job->title, plumb_draw_kind_title (kind))
                               : g_strdup (plumb_draw_kind_title (kind));
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Plumbeam");
  set_date (surface);
  return surface;
}

bool
plumb_draw_sheet_export (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                         const char *path, PlumbSheetFormat format, PlumbPaper paper, GError **error)
{
  PlumbSheetLayout layout = plumb_draw_sheet_layout (scene, evaluation, kind, paper);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = make_surface (bytes, scene, kind, format, &layout);
  cairo_t *cr = cairo_create (surface);
  plumb_draw_sheet (cr, scene, evaluation, kind, paper, &layout);
  cairo_show_page (cr);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, "%s: the sheet could not be drawn: %s", path,
                   cairo_status_to_string (status));
      return false;
    }
  return g_file_set_contents (path, (const char *) bytes->data, (gssize) bytes->len, error);
}
