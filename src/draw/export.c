/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets as files. */
#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "draw/export-private.h"

struct PlumbExport {
  GByteArray *bytes;
  cairo_surface_t *surface;
  cairo_t *cr; /* NULL before the first page */
  bool pdf;
};

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

PlumbExport *
plumb_export_begin_pdf (const char *title)
{
  PlumbExport *out = g_new0 (PlumbExport, 1);
  out->pdf = true;
  out->bytes = g_byte_array_new ();
  out->surface = cairo_pdf_surface_create_for_stream (append_cb, out->bytes, 1.0, 1.0);
  cairo_pdf_surface_set_metadata (out->surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (out->surface, CAIRO_PDF_METADATA_CREATOR, "Plumbeam");
  set_date (out->surface);
  return out;
}

PlumbExport *
plumb_export_begin_svg (double width_mm, double height_mm)
{
  PlumbExport *out = g_new0 (PlumbExport, 1);
  out->bytes = g_byte_array_new ();
  out->surface = cairo_svg_surface_create_for_stream (append_cb, out->bytes, width_mm * PLUMB_PT_PER_MM,
                                                      height_mm * PLUMB_PT_PER_MM);
  cairo_svg_surface_set_document_unit (out->surface, CAIRO_SVG_UNIT_PT);
  return out;
}

cairo_t *
plumb_export_next_page (PlumbExport *out, double width_mm, double height_mm)
{
  if (out->cr != NULL)
    {
      cairo_show_page (out->cr);
      cairo_destroy (out->cr);
    }
  /* The size counts from the next page drawn on. */
  if (out->pdf)
    cairo_pdf_surface_set_size (out->surface, width_mm * PLUMB_PT_PER_MM, height_mm * PLUMB_PT_PER_MM);
  out->cr = cairo_create (out->surface);
  return out->cr;
}

bool
plumb_export_end (PlumbExport *out, const char *path, GError **error)
{
  cairo_show_page (out->cr);
  cairo_status_t status = cairo_status (out->cr);
  cairo_destroy (out->cr);
  cairo_surface_finish (out->surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (out->surface);
  cairo_surface_destroy (out->surface);
  g_autoptr (GByteArray) bytes = out->bytes;
  g_free (out);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_file_set_contents (path, (const char *) bytes->data, (gssize) bytes->len, error);
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, "%s: the sheet could not be drawn: %s", path,
               cairo_status_to_string (status));
  return false;
}

bool
plumb_draw_sheet_export (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                         const PlumbDrawShown *shown, const char *path, PlumbSheetFormat format, PlumbPaper paper,
                         GError **error)
{
  PlumbSheetLayout layout = plumb_draw_sheet_layout (scene, evaluation, kind, paper);
  const PlumbJob *job = plumb_scene_job (scene, 0);
  g_autofree char *title = job->title[0] != '\0'
                               ? g_strdup_printf ("%s: %s", job->title, plumb_draw_kind_title (kind))
                               : g_strdup (plumb_draw_kind_title (kind));
  PlumbExport *out = format == PLUMB_SHEET_SVG ? plumb_export_begin_svg (layout.width_mm, layout.height_mm)
                                               : plumb_export_begin_pdf (title);
  plumb_draw_sheet (plumb_export_next_page (out, layout.width_mm, layout.height_mm), scene, evaluation, kind, shown,
                    paper, &layout);
  return plumb_export_end (out, path, error);
}
