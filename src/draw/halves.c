/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/halves.h"

#include "draw/pen-private.h"
#include "text/findings.h"
#include <math.h>

#define FONT "Cantarell, DejaVu Sans"
#define TEXT_PX 13.5
#define LINE_PX 20.0
#define PAD_X_PX 18.0
#define PAD_Y_PX 8.0
#define N_LINES 3
#define GAP_PX 10.0
/* The picture's width for which the design gives its sizes. */
#define USUAL_WIDTH_PX 1280.0
#define LEAST_UNIT 0.5

PlumbHalvesLayout
plumb_draw_halves_layout (int width_px, int height_px)
{
  PlumbHalvesLayout layout = { .width_px = width_px, .height_px = height_px };

  layout.unit = fmax (width_px / USUAL_WIDTH_PX, LEAST_UNIT);
  layout.rule_px = (int) fmax (1.0, round (2.0 * layout.unit));
  /* An odd pixel goes to the rule: the pictures are to be equal. */
  layout.rule_px += (width_px - layout.rule_px) & 1;
  layout.foot_px = (int) ceil ((N_LINES * LINE_PX + 2.0 * PAD_Y_PX) * layout.unit);
  layout.half_width_px = (width_px - layout.rule_px) / 2;
  layout.half_height_px = height_px - layout.foot_px;
  return layout;
}

/* ---- pixels --------------------------------------------------------------------- */

/* Both are opaque, so nothing is multiplied. */
static void
put_picture (cairo_surface_t *surface, const uint8_t *rgba, int x0, int width_px, int height_px)
{
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  uint8_t *data = cairo_image_surface_get_data (surface);

  cairo_surface_flush (surface);
  for (int y = 0; y < height_px; y++)
    {
      uint32_t *row = (uint32_t *) (void *) (data + (gsize) y * stride) + x0;
      const uint8_t *from = rgba + (gsize) y * (gsize) width_px * 4;
      for (int x = 0; x < width_px; x++, from += 4)
        row[x] = 0xff000000u | (uint32_t) from[0] << 16 | (uint32_t) from[1] << 8 | from[2];
    }
  cairo_surface_mark_dirty (surface);
}

static uint8_t *
take_picture (cairo_surface_t *surface, int width_px, int height_px)
{
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  uint8_t *rgba = g_malloc ((gsize) width_px * (gsize) height_px * 4), *to = rgba;

  cairo_surface_flush (surface);
  const uint8_t *data = cairo_image_surface_get_data (surface);
  for (int y = 0; y < height_px; y++)
    {
      const uint32_t *row = (const uint32_t *) (const void *) (data + (gsize) y * stride);
      for (int x = 0; x < width_px; x++, to += 4)
        {
          to[0] = (uint8_t) (row[x] >> 16);
          to[1] = (uint8_t) (row[x] >> 8);
          to[2] = (uint8_t) row[x];
          to[3] = 255;
        }
    }
  return rgba;
}

/* ---- words ------------------------------------------------------------------------- */

typedef struct {
  cairo_t *cr;
  PangoLayout *layout;
  const PlumbDrawTheme *theme;
  double unit, x, end; /* where the next word begins, where the foot ends; px */
} Foot;

static void
set_role (cairo_t *cr, const PlumbDrawTheme *theme, PlumbDrawColour role)
{
  PlumbRgb rgb = plumb_draw_theme_colour (theme, role);
  cairo_set_source_rgb (cr, rgb.r, rgb.g, rgb.b);
}

/* Shortened at its end where there is no room. */
static void
put_words (Foot *foot, const char *words, bool bold, PlumbDrawColour role, double y)
{
  PangoFontDescription *font = pango_font_description_from_string (FONT);
  int width_px;

  if (words == NULL || *words == '\0' || foot->end - foot->x < foot->unit)
    return;
  pango_font_description_set_absolute_size (font, TEXT_PX * foot->unit * PANGO_SCALE);
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (foot->layout, font);
  pango_font_description_free (font);
  pango_layout_set_width (foot->layout, (int) ((foot->end - foot->x) * PANGO_SCALE));
  pango_layout_set_ellipsize (foot->layout, PANGO_ELLIPSIZE_END);
  g_autofree char *wide = plumb_wide_spaces (words);
  pango_layout_set_text (foot->layout, wide, -1);
  set_role (foot->cr, foot->theme, role);
  cairo_move_to (foot->cr, foot->x, y);
  pango_cairo_show_layout (foot->cr, foot->layout);
  pango_layout_get_pixel_size (foot->layout, &width_px, NULL);
  foot->x += width_px + GAP_PX * foot->unit;
}

static PlumbDrawColour
role_of (PlumbVerdict verdict)
{
  static const PlumbDrawColour roles[] = { [PLUMB_HOLDS] = PLUMB_COLOUR_HOLDS,
                                           [PLUMB_TIGHT] = PLUMB_COLOUR_TIGHT,
                                           [PLUMB_UNKNOWN] = PLUMB_COLOUR_UNKNOWN,
                                           [PLUMB_FAILS] = PLUMB_COLOUR_FAILS };
  return roles[verdict];
}

static void
put_foot (Foot *foot, const PlumbDrawHalf *half, double x, double y, double width)
{
  double line = LINE_PX * foot->unit, left = x + PAD_X_PX * foot->unit;

  foot->end = x + width - PAD_X_PX * foot->unit / 2.0;
  foot->x = left;
  y += PAD_Y_PX * foot->unit;
  put_words (foot, half->title, true, PLUMB_COLOUR_INK, y);
  put_words (foot, half->name, false, PLUMB_COLOUR_INK, y);
  foot->x = left;
  put_words (foot, half->light, false, PLUMB_COLOUR_INK2, y + line);
  if (half->finding != NULL)
    put_words (foot, plumb_verdict_word (half->finding->verdict), true, role_of (half->finding->verdict), y + line);
  foot->x = left;
  put_words (foot, half->figures, false, PLUMB_COLOUR_INK2, y + 2.0 * line);
}

static void
fill_box (cairo_t *cr, const PlumbDrawTheme *theme, PlumbDrawColour role, double x, double y, double w, double h)
{
  set_role (cr, theme, role);
  cairo_rectangle (cr, x, y, w, h);
  cairo_fill (cr);
}

static void
draw (cairo_t *cr, const PlumbHalvesLayout *layout, const PlumbDrawHalf halves[2], const PlumbDrawTheme *theme)
{
  double top = layout->half_height_px, width = layout->width_px;
  PangoLayout *words = pango_cairo_create_layout (cr);
  Foot foot = { .cr = cr, .layout = words, .theme = theme, .unit = layout->unit };
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (words, attributes);
  pango_attr_list_unref (attributes);
  fill_box (cr, theme, PLUMB_COLOUR_PAPER, 0.0, top, width, layout->foot_px);
  fill_box (cr, theme, PLUMB_COLOUR_EDGE, 0.0, top, width, fmax (1.0, round (layout->unit)));
  for (int i = 0; i < 2; i++)
    put_foot (&foot, &halves[i], i * (layout->half_width_px + layout->rule_px), top, layout->half_width_px);
  fill_box (cr, theme, PLUMB_COLOUR_ACCENT, layout->half_width_px, 0.0, layout->rule_px, layout->height_px);
  g_object_unref (words);
}

uint8_t *
plumb_draw_halves (const PlumbHalvesLayout *layout, const PlumbDrawHalf halves[2], const PlumbDrawTheme *theme)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, layout->width_px, layout->height_px);
  uint8_t *rgba = NULL;

  if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
    {
      cairo_t *cr = cairo_create (surface);
      for (int i = 0; i < 2; i++)
        put_picture (surface, halves[i].rgba, i * (layout->half_width_px + layout->rule_px), layout->half_width_px,
                     layout->half_height_px);
      draw (cr, layout, halves, theme);
      if (cairo_status (cr) == CAIRO_STATUS_SUCCESS)
        rgba = take_picture (surface, layout->width_px, layout->height_px);
      cairo_destroy (cr);
    }
  cairo_surface_destroy (surface);
  return rgba;
}
