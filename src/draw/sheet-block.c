/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The title block along a sheet's foot. */
#include "draw/sheet-private.h"
#include "text/length.h"

#define JOB_MM 54.0
#define UPPER_MM 13.0
#define PAD_MM 3.0
#define RULER_MM 100.0
#define RULER_IN 4

/* The plumb bob, hanging from the block's upper line. */
static void
draw_mark (PlumbSheet *sheet, double x_mm, double top_mm)
{
  const double mm = PLUMB_PT_PER_MM;
  cairo_t *cr = sheet->cr;
  plumb_sheet_line (sheet, 0.5, PLUMB_COLOUR_ACCENT, x_mm, top_mm, x_mm, top_mm + 7.0);
  plumb_pen_colour (sheet->pen, PLUMB_COLOUR_ACCENT, 1.0);
  double x = x_mm * mm, y = (top_mm + 7.0) * mm;
  cairo_rectangle (cr, x - 0.8 * mm, y, 1.6 * mm, 1.3 * mm);
  cairo_fill (cr);
  cairo_move_to (cr, x - 2.0 * mm, y + 2.0 * mm);
  cairo_curve_to (cr, x - 2.0 * mm, y + 1.3 * mm, x + 2.0 * mm, y + 1.3 * mm, x + 2.0 * mm, y + 2.0 * mm);
  cairo_curve_to (cr, x + 2.0 * mm, y + 4.0 * mm, x + 0.6 * mm, y + 5.0 * mm, x, y + 7.4 * mm);
  cairo_curve_to (cr, x - 0.6 * mm, y + 5.0 * mm, x - 2.0 * mm, y + 4.0 * mm, x - 2.0 * mm, y + 2.0 * mm);
  cairo_close_path (cr);
  cairo_fill (cr);
}

/* A cell: a heading, the thing itself, a note below. */
static void
draw_cell (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm, const char *heading, const char *words,
           const char *note)
{
  double most = wide_mm - 2.0 * PAD_MM;
  plumb_sheet_text (sheet, heading, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.4, PLUMB_ALIGN_LEFT, x_mm + PAD_MM,
                    y_mm + 3.4, most);
  plumb_sheet_text (sheet, words, PLUMB_FACE_DRAWING, PLUMB_COLOUR_INK, 3.8, PLUMB_ALIGN_LEFT, x_mm + PAD_MM,
                    y_mm + 7.9, most);
  plumb_sheet_text (sheet, note, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.4, PLUMB_ALIGN_LEFT, x_mm + PAD_MM,
                    y_mm + 11.5, most);
}

static void
job_cell (PlumbSheet *sheet, double x_mm, double y_mm)
{
  const PlumbJob *job = plumb_scene_job (sheet->scene, 0);
  draw_mark (sheet, x_mm + 6.0, y_mm);
  double left = x_mm + 12.0, most = JOB_MM - 14.0;
  plumb_sheet_text (sheet, job->title[0] != '\0' ? job->title : N_ ("Untitled job"), PLUMB_FACE_BOLD,
                    PLUMB_COLOUR_INK, 4.2, PLUMB_ALIGN_LEFT, left, y_mm + 8.0, most);
  plumb_sheet_text (sheet, job->client, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK2, 3.0, PLUMB_ALIGN_LEFT, left, y_mm + 12.6,
                    most);
  plumb_sheet_text (sheet, job->address, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.4, PLUMB_ALIGN_LEFT, left,
                    y_mm + 16.2, most);
  plumb_sheet_text (sheet, job->installer, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.4, PLUMB_ALIGN_LEFT, left,
                    y_mm + 19.2, most);
}

/* "tape ± 3 mm": the job's usual tape, over one metre. */
static char *
tape_words (const PlumbSheet *sheet)
{
  uint32_t n;
  const PlumbTape *tapes = plumb_scene_tape_records (sheet->scene, &n);
  uint32_t index = plumb_scene_find (sheet->scene, PLUMB_RECORD_TAPE, plumb_scene_job (sheet->scene, 0)->tape);
  /* Without a tape record the scene reckons with 3 mm, common practice. */
  double error = index < n ? tapes[index].error_m : 0.003;
  char *length = plumb_length_format_spread (error, sheet->units, PLUMB_SHOW_TYPOGRAPHIC);
  char *words = g_strdup_printf ("tape ± %s", length);
  g_free (length);
  return words;
}

/* A line of a length that anybody can check with a ruler. */
static void
draw_ruler (PlumbSheet *sheet, double x_mm, double y_mm)
{
  bool imperial = sheet->units == PLUMB_UNITS_IMPERIAL;
  double length = imperial ? RULER_IN * 25.4 : RULER_MM;
  int parts = imperial ? RULER_IN * 2 : 10;
  plumb_sheet_line (sheet, 0.18, PLUMB_COLOUR_INK, x_mm, y_mm, x_mm + length, y_mm);
  for (int i = 0; i <= parts; i++)
    {
      double x = x_mm + length * i / parts;
      bool end = i == 0 || i == parts;
      plumb_sheet_line (sheet, end ? 0.35 : 0.18, PLUMB_COLOUR_INK, x, y_mm - (end ? 2.6 : 1.5), x, y_mm);
    }
  plumb_sheet_text (sheet, imperial ? N_ ("4 in") : N_ ("100 mm"), PLUMB_FACE_DRAWING, PLUMB_COLOUR_INK, 3.0,
                    PLUMB_ALIGN_LEFT, x_mm + length + 1.5, y_mm, 0.0);
  plumb_sheet_text (sheet, N_ ("check ruler"), PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.2, PLUMB_ALIGN_LEFT, x_mm,
                    y_mm + 2.7, 0.0);
}

void
plumb_sheet_block (PlumbSheet *sheet)
{
  const PlumbSheetLayout *place = sheet->place;
  const PlumbJob *job = plumb_scene_job (sheet->scene, 0);
  double x = place->frame_x_mm, y = place->frame_y_mm + place->frame_h_mm - PLUMB_BLOCK_MM;
  double right = x + place->frame_w_mm, left = x + JOB_MM;
  plumb_sheet_line (sheet, 0.5, PLUMB_COLOUR_INK, x, y, right, y);
  plumb_sheet_line (sheet, 0.25, PLUMB_COLOUR_INK, left, y, left, y + PLUMB_BLOCK_MM);
  plumb_sheet_line (sheet, 0.25, PLUMB_COLOUR_INK, left, y + UPPER_MM, right, y + UPPER_MM);
  job_cell (sheet, x, y);

  char *scale = place->ratio > 0.0 ? plumb_draw_scale_words (place->ratio, sheet->units) : g_strdup (N_ ("no scale"));
  char *revision = g_strdup_printf ("revision %s%s%s", job->revision, job->dated[0] != '\0' ? ", " : "", job->dated);
  char *tape = tape_words (sheet);
  char *pages = g_strdup_printf ("%u of %u", place->page, place->pages);
  char *kind = g_strdup (sheet->word);
  kind[0] = g_ascii_toupper (kind[0]);
  const char *units = sheet->units == PLUMB_UNITS_IMPERIAL ? N_ ("ft, in") : N_ ("m, mm");
  const char *const cells[4][3] = { { N_ ("sheet"), kind, revision },
                                    { N_ ("drawn to"), scale, N_ ("print at 100 %") },
                                    { N_ ("units"), units, tape },
                                    { N_ ("page"), pages, plumb_paper_name (sheet->paper) } };
  static const double shares[4] = { 0.36, 0.26, 0.22, 0.16 };
  double at = left;
  for (int i = 0; i < 4; i++)
    {
      double wide = (right - left) * shares[i];
      draw_cell (sheet, at, y, wide, cells[i][0], cells[i][1], cells[i][2]);
      at += wide;
      if (i < 3)
        plumb_sheet_line (sheet, 0.25, PLUMB_COLOUR_INK, at, y, at, y + UPPER_MM);
    }
  draw_ruler (sheet, left + PAD_MM, y + UPPER_MM + 4.4);
  g_free (kind);
  g_free (pages);
  g_free (tape);
  g_free (revision);
  g_free (scale);
}
