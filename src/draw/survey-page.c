/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a survey's lines stand, and their drawing. */
#include "draw/survey-private.h"

#define GAP_MM 6.0
#define FOOT_MM 3.0
#define LETTER_MM 8.5
#define WORDS_MM 28.0
#define RULE_MM 0.18
#define FIELD_MM 60.0
#define SQUARE_MM 5.0
#define TEXT_MM 2.7
/* Room for a heading's words above its lines. */
#define HEADING_MM 10.0
#define CAUTION_MM 8.0
#define BOX_OFF_MM 1.5
#define BOX_MM 10.0

/* ---- laying out ------------------------------------------------------------------- */

double
plumb_survey_item_height (const PlumbSurveyItem *item)
{
  switch (item->kind)
    {
    case PLUMB_ITEM_HEADING:
      return HEADING_MM;
    case PLUMB_ITEM_CAUTION:
      return CAUTION_MM;
    case PLUMB_ITEM_FIELD:
      return FIELD_MM + HEADING_MM;
    case PLUMB_ITEM_REMARKS:
      return 3.0 * PLUMB_SURVEY_PITCH_MM + HEADING_MM;
    case PLUMB_ITEM_BLANK:
    case PLUMB_ITEM_CIRCLE:
    case PLUMB_ITEM_WRITE:
      break;
    }
  return PLUMB_SURVEY_PITCH_MM;
}

typedef struct {
  double top_mm, high_mm;
  unsigned page, column;
  double used_mm;
} Flow;

static const PlumbSurveyItem *
item_at (const PlumbSurvey *survey, guint i)
{
  return &g_array_index (survey->items, PlumbSurveyItem, i);
}

/* A heading and its cautions keep with the first line below them, the sketch
 * with the remarks. */
static bool
leads (const PlumbSurveyItem *item, bool first)
{
  return item->kind == PLUMB_ITEM_HEADING || item->kind == PLUMB_ITEM_FIELD
         || (item->kind == PLUMB_ITEM_CAUTION && !first);
}

static double
height_together (const PlumbSurvey *survey, guint i)
{
  double high = plumb_survey_item_height (item_at (survey, i));
  for (guint k = i; leads (item_at (survey, k), k == i) && k + 1 < survey->items->len; k++)
    high += plumb_survey_item_height (item_at (survey, k + 1));
  return high;
}

/* Puts items from `first` on while they belong to the space and the page has
 * room; returns the first that has none. */
static guint
fill_page (PlumbSurvey *survey, guint first, uint32_t space, double top_mm, double high_mm)
{
  unsigned column = 0;
  double used = 0.0;
  guint i = first;
  for (; i < survey->items->len && item_at (survey, i)->space == space; i++)
    {
      PlumbSurveyItem *item = &g_array_index (survey->items, PlumbSurveyItem, i);
      if (used > 0.0 && used + height_together (survey, i) > high_mm)
        {
          column++;
          used = 0.0;
        }
      if (column == survey->n_columns)
        break;
      item->page = survey->pages->len - 1;
      item->x_mm = survey->layout.area_x_mm + survey->column_mm * column;
      item->y_mm = top_mm + used;
      used += plumb_survey_item_height (item);
    }
  return i;
}

/* The least height of columns that still takes all that is left of a space:
 * a last page's columns end level. */
static double
level_height (PlumbSurvey *survey, guint first, uint32_t space, double top_mm, double high_mm)
{
  guint end = fill_page (survey, first, space, top_mm, high_mm);
  if (end < survey->items->len && item_at (survey, end)->space == space)
    return high_mm;
  double least = high_mm;
  for (double high = high_mm; high > 0.0 && fill_page (survey, first, space, top_mm, high) == end; high -= 1.0)
    least = high;
  return least;
}

void
plumb_survey_lay_out (PlumbSurvey *survey)
{
  double narrow, wide;
  plumb_sheet_paper_size (survey->paper, &narrow, &wide);
  survey->layout = plumb_sheet_blank_layout (narrow, wide);
  const PlumbSheetLayout *place = &survey->layout;
  survey->n_columns
      = (unsigned) fmax (1.0, floor ((place->area_w_mm + GAP_MM + 0.01) / (PLUMB_SURVEY_COLUMN_MM + GAP_MM)));
  survey->column_mm = survey->n_columns > 1 ? (place->area_w_mm - PLUMB_SURVEY_COLUMN_MM) / (survey->n_columns - 1)
                                            : place->area_w_mm;
  for (guint i = 0; i < survey->items->len;)
    {
      uint32_t space = item_at (survey, i)->space;
      bool opens = i == 0 || item_at (survey, i - 1)->space != space;
      PlumbSurveyPage page = { space, opens };
      g_array_append_val (survey->pages, page);
      PlumbDrawView view;
      plumb_survey_view (survey, space, &view);
      double top = place->area_y_mm + (survey->pages->len == 1 ? PLUMB_SURVEY_BOXES_MM : 0.0)
                   + (opens ? view.height / PLUMB_PT_PER_MM : 0.0);
      double high = place->area_y_mm + place->area_h_mm - FOOT_MM - top;
      i = fill_page (survey, i, space, top, level_height (survey, i, space, top, high));
    }
}

/* ---- drawing ------------------------------------------------------------------------ */

static void
draw_heading (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double base = item->y_mm + HEADING_MM - 3.0;
  plumb_sheet_text (sheet, item->letter, PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, 3.4, PLUMB_ALIGN_LEFT, item->x_mm, base,
                    LETTER_MM);
  plumb_sheet_text (sheet, item->words, PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, 3.2, PLUMB_ALIGN_LEFT,
                    item->x_mm + LETTER_MM, base, PLUMB_SURVEY_COLUMN_MM - LETTER_MM);
  plumb_sheet_line (sheet, 0.35, PLUMB_COLOUR_INK, item->x_mm, base + 1.4, item->x_mm + PLUMB_SURVEY_COLUMN_MM,
                    base + 1.4);
}

static double
rule_y (const PlumbSurveyItem *item)
{
  return item->y_mm + PLUMB_SURVEY_PITCH_MM - 1.4;
}

static void
draw_letter (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  plumb_sheet_text (sheet, item->letter, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, 3.0, PLUMB_ALIGN_LEFT, item->x_mm,
                    rule_y (item), LETTER_MM - 0.5);
}

static void
draw_blank (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double y = rule_y (item), x = item->x_mm + LETTER_MM;
  draw_letter (sheet, item);
  plumb_sheet_paragraph_on (sheet, item->words, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, TEXT_MM, x, y, WORDS_MM);
  x += WORDS_MM + 1.0;
  plumb_sheet_line (sheet, RULE_MM, PLUMB_COLOUR_INK, x, y, x + PLUMB_SURVEY_BLANK_MM, y);
  x += PLUMB_SURVEY_BLANK_MM + 1.0;
  double wide
      = plumb_sheet_text (sheet, item->unit, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK2, 2.6, PLUMB_ALIGN_LEFT, x, y, 0.0);
  if (item->known != NULL)
    plumb_sheet_text (sheet, item->known, PLUMB_FACE_ITALIC, PLUMB_COLOUR_INK2, 2.4, PLUMB_ALIGN_RIGHT,
                      item->x_mm + PLUMB_SURVEY_COLUMN_MM, y, item->x_mm + PLUMB_SURVEY_COLUMN_MM - x - wide - 0.8);
}

static void
draw_write (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double y = rule_y (item), x = item->x_mm + LETTER_MM;
  draw_letter (sheet, item);
  double wide = plumb_sheet_text (sheet, item->words, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_LEFT,
                                  x, y, WORDS_MM);
  plumb_sheet_line (sheet, RULE_MM, PLUMB_COLOUR_INK, x + wide + 1.5, y, item->x_mm + PLUMB_SURVEY_COLUMN_MM, y);
}

static void
draw_circle_words (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double x = item->x_mm + LETTER_MM, y = rule_y (item);
  draw_letter (sheet, item);
  g_auto (GStrv) words = g_strsplit (item->words, "  ", -1);
  guint n = g_strv_length (words);
  plumb_sheet_text (sheet, N_ ("circle one"), PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.2, PLUMB_ALIGN_LEFT, x, y - 3.6,
                    0.0);
  /* Spread evenly, so that a ring fits round each. */
  double wide[16], all = 0.0, most = PLUMB_SURVEY_COLUMN_MM - LETTER_MM;
  n = MIN (n, G_N_ELEMENTS (wide));
  for (guint i = 0; i < n; i++)
    all += wide[i] = plumb_sheet_text_width (sheet, words[i], PLUMB_FACE_PLAIN, TEXT_MM);
  double gap = n > 1 ? fmin (6.0, (most - all) / (n - 1)) : 0.0;
  for (guint i = 0; i < n; i++)
    {
      plumb_sheet_text (sheet, words[i], PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, TEXT_MM, PLUMB_ALIGN_LEFT, x, y, 0.0);
      x += wide[i] + gap;
    }
}

static void
draw_caution (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double x = item->x_mm + LETTER_MM;
  plumb_sheet_tick_box (sheet, x, item->y_mm + 0.7);
  plumb_sheet_paragraph (sheet, item->words, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK, 2.5, x + 4.2, item->y_mm + 0.2,
                         PLUMB_SURVEY_COLUMN_MM - LETTER_MM - 4.2);
}

static void
draw_field (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double x = item->x_mm, y = item->y_mm + HEADING_MM - 1.6;
  plumb_sheet_text (sheet, N_ ("Sketch"), PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, 3.2, PLUMB_ALIGN_LEFT, x, y - 2.2, 0.0);
  for (double at = 0.0; at <= FIELD_MM; at += SQUARE_MM)
    {
      bool edge = at <= 0.0 || at >= FIELD_MM;
      double width = edge ? 0.25 : 0.1;
      PlumbDrawColour role = edge ? PLUMB_COLOUR_INK : PLUMB_COLOUR_EDGE;
      plumb_sheet_line (sheet, width, role, x + at, y, x + at, y + FIELD_MM);
      plumb_sheet_line (sheet, width, role, x, y + at, x + FIELD_MM, y + at);
    }
}

static void
draw_remarks (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  double y = item->y_mm + HEADING_MM - 3.0;
  plumb_sheet_text (sheet, N_ ("Remarks"), PLUMB_FACE_BOLD, PLUMB_COLOUR_INK, 3.2, PLUMB_ALIGN_LEFT, item->x_mm, y,
                    0.0);
  for (int i = 1; i <= 3; i++)
    plumb_sheet_line (sheet, RULE_MM, PLUMB_COLOUR_INK, item->x_mm, y + PLUMB_SURVEY_PITCH_MM * i,
                      item->x_mm + PLUMB_SURVEY_COLUMN_MM, y + PLUMB_SURVEY_PITCH_MM * i);
}

void
plumb_survey_draw_item (PlumbSheet *sheet, const PlumbSurveyItem *item)
{
  static void (*const draw[]) (PlumbSheet *, const PlumbSurveyItem *) = {
    [PLUMB_ITEM_HEADING] = draw_heading, [PLUMB_ITEM_BLANK] = draw_blank,     [PLUMB_ITEM_CIRCLE] = draw_circle_words,
    [PLUMB_ITEM_WRITE] = draw_write,     [PLUMB_ITEM_CAUTION] = draw_caution, [PLUMB_ITEM_FIELD] = draw_field,
    [PLUMB_ITEM_REMARKS] = draw_remarks
  };
  draw[item->kind](sheet, item);
}

void
plumb_survey_draw_boxes (PlumbSheet *sheet, double x_mm, double y_mm, double wide_mm)
{
  static const struct {
    const char *words;
    double share;
  } boxes[] = { { N_ ("measured with (tape, laser)"), 0.40 }, { N_ ("date"), 0.22 }, { N_ ("name"), 0.38 } };
  const double mm = PLUMB_PT_PER_MM;
  double x = x_mm;
  for (size_t i = 0; i < G_N_ELEMENTS (boxes); i++)
    {
      double wide = wide_mm * boxes[i].share;
      plumb_pen_colour (sheet->pen, PLUMB_COLOUR_INK, 1.0);
      cairo_set_line_width (sheet->cr, 0.25 * mm);
      cairo_rectangle (sheet->cr, x * mm, (y_mm + BOX_OFF_MM) * mm, wide * mm, BOX_MM * mm);
      cairo_stroke (sheet->cr);
      plumb_sheet_text (sheet, boxes[i].words, PLUMB_FACE_PLAIN, PLUMB_COLOUR_INK3, 2.4, PLUMB_ALIGN_LEFT, x + 1.5,
                        y_mm + BOX_OFF_MM + 3.0, wide - 3.0);
      x += wide;
    }
}
