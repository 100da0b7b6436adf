/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/sheet-private.h"

#define TABLE_FONT "Cantarell, DejaVu Sans"
#define SHEET_DRAWING_FONT "Routed Gothic, DejaVu Sans Condensed, DejaVu Sans"
#define LEAST_SHRINK 0.75

static void
set_font (PlumbSheet *sheet, PlumbFaceOfType face, double size_mm)
{
  PangoFontDescription *font
      = pango_font_description_from_string (face == PLUMB_FACE_DRAWING ? SHEET_DRAWING_FONT : TABLE_FONT);
  pango_font_description_set_absolute_size (font, size_mm * PLUMB_PT_PER_MM * PANGO_SCALE);
  if (face == PLUMB_FACE_BOLD)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  if (face == PLUMB_FACE_ITALIC)
    pango_font_description_set_style (font, PANGO_STYLE_ITALIC);
  pango_layout_set_font_description (sheet->layout, font);
  pango_font_description_free (font);
}

static void
set_words (PlumbSheet *sheet, const char *text)
{
  PangoAttrList *attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (sheet->layout, attributes);
  pango_attr_list_unref (attributes);
  char *wide = plumb_wide_spaces (text);
  pango_layout_set_text (sheet->layout, wide, -1);
  g_free (wide);
}

static double
text_width_mm (PlumbSheet *sheet)
{
  int width;
  pango_layout_get_size (sheet->layout, &width, NULL);
  return (double) width / PANGO_SCALE / PLUMB_PT_PER_MM;
}

double
plumb_sheet_text (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role, double size_mm,
                  PlumbAlign align, double x_mm, double y_mm, double most_mm)
{
  pango_layout_set_width (sheet->layout, -1);
  pango_layout_set_ellipsize (sheet->layout, PANGO_ELLIPSIZE_NONE);
  set_font (sheet, face, size_mm);
  set_words (sheet, text);
  double width = text_width_mm (sheet);
  if (most_mm > 0.0 && width > most_mm)
    {
      set_font (sheet, face, size_mm * fmax (LEAST_SHRINK, most_mm / width * 0.99));
      width = text_width_mm (sheet);
      if (width > most_mm)
        {
          pango_layout_set_ellipsize (sheet->layout, PANGO_ELLIPSIZE_END);
          pango_layout_set_width (sheet->layout, (int) (most_mm * PLUMB_PT_PER_MM * PANGO_SCALE));
          width = text_width_mm (sheet);
        }
    }
  double baseline = (double) pango_layout_get_baseline (sheet->layout) / PANGO_SCALE;
  double left = x_mm - width * (align == PLUMB_ALIGN_RIGHT ? 1.0 : align == PLUMB_ALIGN_CENTRE ? 0.5 : 0.0);
  plumb_pen_colour (sheet->pen, role, 1.0);
  cairo_move_to (sheet->cr, left * PLUMB_PT_PER_MM, y_mm * PLUMB_PT_PER_MM - baseline);
  pango_cairo_show_layout (sheet->cr, sheet->layout);
  cairo_new_path (sheet->cr);
  return width;
}

double
plumb_sheet_text_width (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, double size_mm)
{
  pango_layout_set_width (sheet->layout, -1);
  pango_layout_set_ellipsize (sheet->layout, PANGO_ELLIPSIZE_NONE);
  set_font (sheet, face, size_mm);
  set_words (sheet, text);
  return text_width_mm (sheet);
}

/* Puts a paragraph into the layout; returns its height in Pango's units. */
static int
set_paragraph (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, double size_mm, double wide_mm)
{
  pango_layout_set_ellipsize (sheet->layout, PANGO_ELLIPSIZE_NONE);
  pango_layout_set_wrap (sheet->layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_width (sheet->layout, (int) (wide_mm * PLUMB_PT_PER_MM * PANGO_SCALE));
  set_font (sheet, face, size_mm);
  set_words (sheet, text);
  int height;
  pango_layout_get_size (sheet->layout, NULL, &height);
  return height;
}

static void
show_paragraph (PlumbSheet *sheet, PlumbDrawColour role, double x_mm, double top_mm)
{
  plumb_pen_colour (sheet->pen, role, 1.0);
  cairo_move_to (sheet->cr, x_mm * PLUMB_PT_PER_MM, top_mm * PLUMB_PT_PER_MM);
  pango_cairo_show_layout (sheet->cr, sheet->layout);
  cairo_new_path (sheet->cr);
}

double
plumb_sheet_paragraph (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                       double size_mm, double x_mm, double y_mm, double wide_mm)
{
  int height = set_paragraph (sheet, text, face, size_mm, wide_mm);
  show_paragraph (sheet, role, x_mm, y_mm);
  return (double) height / PANGO_SCALE / PLUMB_PT_PER_MM;
}

void
plumb_sheet_paragraph_on (PlumbSheet *sheet, const char *text, PlumbFaceOfType face, PlumbDrawColour role,
                          double size_mm, double x_mm, double y_mm, double wide_mm)
{
  int height = set_paragraph (sheet, text, face, size_mm, wide_mm);
  /* Long words and names are set smaller, so that two lines take them. */
  for (double size = size_mm * 0.95; pango_layout_get_line_count (sheet->layout) > 2 && size > size_mm * LEAST_SHRINK;
       size *= 0.95)
    height = set_paragraph (sheet, text, face, size, wide_mm);
  if (pango_layout_get_line_count (sheet->layout) > 2)
    {
      pango_layout_set_height (sheet->layout, -2);
      pango_layout_set_ellipsize (sheet->layout, PANGO_ELLIPSIZE_END);
      pango_layout_get_size (sheet->layout, NULL, &height);
    }
  int lines = pango_layout_get_line_count (sheet->layout);
  double last = (double) height * (lines - 1) / lines + pango_layout_get_baseline (sheet->layout);
  show_paragraph (sheet, role, x_mm, y_mm - last / PANGO_SCALE / PLUMB_PT_PER_MM);
  pango_layout_set_height (sheet->layout, -1);
}

void
plumb_sheet_line (PlumbSheet *sheet, double width_mm, PlumbDrawColour role, double x0_mm, double y0_mm, double x1_mm,
                  double y1_mm)
{
  plumb_pen_colour (sheet->pen, role, 1.0);
  cairo_set_dash (sheet->cr, NULL, 0, 0.0);
  cairo_set_line_cap (sheet->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_width (sheet->cr, width_mm * PLUMB_PT_PER_MM);
  cairo_move_to (sheet->cr, x0_mm * PLUMB_PT_PER_MM, y0_mm * PLUMB_PT_PER_MM);
  cairo_line_to (sheet->cr, x1_mm * PLUMB_PT_PER_MM, y1_mm * PLUMB_PT_PER_MM);
  cairo_stroke (sheet->cr);
}

void
plumb_sheet_tick_box (PlumbSheet *sheet, double x_mm, double y_mm)
{
  const double mm = PLUMB_PT_PER_MM;
  plumb_pen_colour (sheet->pen, PLUMB_COLOUR_INK, 1.0);
  cairo_set_line_width (sheet->cr, 0.25 * mm);
  cairo_rectangle (sheet->cr, x_mm * mm, y_mm * mm, 2.6 * mm, 2.6 * mm);
  cairo_stroke (sheet->cr);
}
