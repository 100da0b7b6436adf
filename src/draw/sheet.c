/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/sheet-private.h"

#include "plumbeam/assert.h"
#include "text/length.h"

#define BINDER_MM 20.0
#define EDGE_MM 10.0
#define PAD_MM 6.0

static const struct {
  const char *name;
  double width_mm, height_mm;
} papers[PLUMB_N_PAPERS] = {
  [PLUMB_PAPER_A4] = { "A4", 210.0, 297.0 },
  [PLUMB_PAPER_A3] = { "A3", 297.0, 420.0 },
  [PLUMB_PAPER_LETTER] = { "Letter", 215.9, 279.4 },
};

static const char *const how_to_read[PLUMB_N_DRAW_KINDS] = {
  [PLUMB_DRAW_PLAN] = N_ ("Picture at the top: left and right are the viewer’s. Walls are cut %s above the floor; "
                          "what is dashed hangs above the cut."),
  [PLUMB_DRAW_SIDE] = N_ ("Seen from the viewer’s left, the picture’s wall at the left. Dash-dot rays go to the raw "
                          "picture’s edges, dotted ones from the eyes to the picture’s lower edge."),
  [PLUMB_DRAW_PICTURE]
  = N_ ("What is dashed stands in front of the wall by the distance written. The dash-dot line is "
        "the raw picture, before any correction."),
  [PLUMB_DRAW_CEILING] = N_ ("Looking up, picture at the top: the viewer’s left is at the right here, so this sheet "
                             "mirrors the plan."),
};

const char *
plumb_paper_name (PlumbPaper paper)
{
  PLUMB_ASSERT (paper < PLUMB_N_PAPERS);
  return papers[paper].name;
}

bool
plumb_paper_from_word (const char *word, PlumbPaper *paper)
{
  for (int i = 0; i < PLUMB_N_PAPERS; i++)
    if (g_ascii_strcasecmp (papers[i].name, word) == 0)
      {
        *paper = (PlumbPaper) i;
        return true;
      }
  return false;
}

/* ---- layout ------------------------------------------------------------------------ */

static PlumbDrawView
sheet_view (PlumbDrawKind kind, const PlumbSheetLayout *layout)
{
  PlumbDrawView view = plumb_draw_view_default (kind);
  view.theme = plumb_draw_theme (PLUMB_THEME_PRINT);
  view.medium = PLUMB_MEDIUM_PAPER;
  view.width = layout->area_w_mm * PLUMB_PT_PER_MM;
  view.height = layout->area_h_mm * PLUMB_PT_PER_MM;
  view.title = false;
  if (layout->ratio > 0.0)
    view.scale_per_m = PLUMB_PT_PER_M / layout->ratio;
  return view;
}

PlumbSheetLayout
plumb_sheet_blank_layout (double width_mm, double height_mm)
{
  PlumbSheetLayout layout = { .width_mm = width_mm, .height_mm = height_mm, .page = 1, .pages = 1 };
  layout.frame_x_mm = BINDER_MM;
  layout.frame_y_mm = EDGE_MM;
  layout.frame_w_mm = width_mm - BINDER_MM - EDGE_MM;
  layout.frame_h_mm = height_mm - 2.0 * EDGE_MM;
  layout.area_x_mm = layout.frame_x_mm + PAD_MM;
  layout.area_y_mm = layout.frame_y_mm + PLUMB_SHEET_HEAD_MM;
  layout.area_w_mm = layout.frame_w_mm - 2.0 * PAD_MM;
  layout.area_h_mm = layout.frame_h_mm - PLUMB_SHEET_HEAD_MM - PLUMB_BLOCK_MM;
  return layout;
}

void
plumb_sheet_paper_size (PlumbPaper paper, double *narrow_mm, double *wide_mm)
{
  PLUMB_ASSERT (paper < PLUMB_N_PAPERS);
  *narrow_mm = papers[paper].width_mm;
  *wide_mm = papers[paper].height_mm;
}

static PlumbSheetLayout
lay_out (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind, double width_mm,
         double height_mm, double *fill)
{
  PlumbSheetLayout layout = plumb_sheet_blank_layout (width_mm, height_mm);
  layout.area_h_mm -= plumb_sheet_tables_height (layout.area_w_mm) + 2.0;

  PlumbDrawView view = sheet_view (kind, &layout);
  PlumbDrawBounds bounds = plumb_draw_bounds (scene, evaluation, kind);
  PlumbDrawMargins margins = plumb_draw_margins (scene, &view);
  double room_x_m = (view.width - margins.left - margins.right) / PLUMB_PT_PER_M;
  double room_y_m = (view.height - margins.top - margins.bottom) / PLUMB_PT_PER_M;
  double ratio = fmax ((bounds.greatest_m.x - bounds.least_m.x) / room_x_m,
                       (bounds.greatest_m.y - bounds.least_m.y) / room_y_m);
  layout.ratio = plumb_draw_scale_at_least (ratio, plumb_scene_job (scene, 0)->units);
  /* How much of its area the drawing fills in its lesser direction. */
  double fill_x = (bounds.greatest_m.x - bounds.least_m.x) / layout.ratio / room_x_m;
  double fill_y = (bounds.greatest_m.y - bounds.least_m.y) / layout.ratio / room_y_m;
  *fill = fmin (fill_x, fill_y);
  return layout;
}

PlumbSheetLayout
plumb_draw_sheet_layout (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                         PlumbPaper paper)
{
  PLUMB_ASSERT (paper < PLUMB_N_PAPERS);
  double narrow = papers[paper].width_mm, wide = papers[paper].height_mm;
  double upright, lying;
  PlumbSheetLayout portrait = lay_out (scene, evaluation, kind, narrow, wide, &upright);
  PlumbSheetLayout landscape = lay_out (scene, evaluation, kind, wide, narrow, &lying);
  if (landscape.ratio != portrait.ratio)
    return landscape.ratio < portrait.ratio ? landscape : portrait;
  return lying > upright ? landscape : portrait;
}

/* ---- drawing ----------------------------------------------------------------------- */

void
plumb_sheet_head (PlumbSheet *sheet, const char *title, const char *right_words, const char *read)
{
  const PlumbSheetLayout *place = sheet->place;
  double left = place->area_x_mm, right = left + place->area_w_mm, top = place->frame_y_mm;
  double width = plumb_sheet_text (sheet, right_words, PLUMB_FACE_DRAWING, PLUMB_COLOUR_INK, 6.4, PLUMB_ALIGN_RIGHT,
                                   right, top + 10.5, 0.0);
  plumb_sheet_text (sheet, title, PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, 6.2, PLUMB_ALIGN_LEFT, left, top + 10.5,
                    place->area_w_mm - width - 6.0);
  plumb_sheet_paragraph (sheet, read, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK2, 3.0, left, top + 12.6, place->area_w_mm);
}

void
plumb_sheet_frame (PlumbSheet *sheet)
{
  const PlumbSheetLayout *place = sheet->place;
  const double mm = PLUMB_PT_PER_MM;
  plumb_pen_colour (sheet->pen, PLUMB_COLOUR_INK, 1.0);
  cairo_set_line_width (sheet->cr, 0.5 * mm);
  cairo_rectangle (sheet->cr, place->frame_x_mm * mm, place->frame_y_mm * mm, place->frame_w_mm * mm,
                   place->frame_h_mm * mm);
  cairo_stroke (sheet->cr);
}

static void
draw_head (PlumbSheet *sheet, PlumbDrawKind kind)
{
  char *scale = plumb_draw_scale_words (sheet->place->ratio, sheet->units);
  char *cut = plumb_length_format (PLUMB_PLAN_CUT_M, sheet->units, PLUMB_SHOW_TYPOGRAPHIC);
  GString *read = g_string_new (how_to_read[kind]);
  g_string_replace (read, "%s", cut, 1);
  plumb_sheet_head (sheet, plumb_draw_kind_title (kind), scale, read->str);
  g_string_free (read, TRUE);
  g_free (cut);
  g_free (scale);
}

void
plumb_draw_sheet (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                  const PlumbDrawShown *shown, PlumbPaper paper, const PlumbSheetLayout *layout)
{
  const double mm = PLUMB_PT_PER_MM;
  PlumbDrawView view = sheet_view (kind, layout);
  view.shown = *shown;
  plumb_draw_view_centre (&view, scene, evaluation);

  cairo_save (cr);
  cairo_translate (cr, layout->area_x_mm * mm, layout->area_y_mm * mm);
  plumb_draw_view (cr, scene, evaluation, &view);
  cairo_restore (cr);

  PlumbPen pen;
  plumb_pen_init (&pen, cr, scene, evaluation, &view);
  PlumbSheet sheet
      = { cr, pen.layout, &pen, scene, evaluation, plumb_draw_kind_word (kind), paper, layout, pen.units };
  cairo_save (cr);
  plumb_sheet_frame (&sheet);
  draw_head (&sheet, kind);
  plumb_sheet_tables (&sheet, layout->area_x_mm, layout->area_y_mm + layout->area_h_mm + 1.0, layout->area_w_mm);
  plumb_sheet_block (&sheet);
  cairo_restore (cr);
  plumb_pen_clear (&pen);
}
