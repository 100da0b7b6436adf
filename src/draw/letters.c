/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of a drawing, kept off each other. */
#include "draw/pen-private.h"

#include <string.h>

#define DRAWING_FONT "Routed Gothic, DejaVu Sans Condensed, DejaVu Sans"

/* em, in px of the look on a screen and in mm on paper. */
static const struct {
  double screen_px, paper_mm;
} sizes[PLUMB_N_LETTERS] = {
  [PLUMB_LETTER_NOTE] = { 11.0, 3.0 },
  [PLUMB_LETTER_DIMENSION] = { 12.0, 3.4 },
  [PLUMB_LETTER_PLACE] = { 14.0, 4.2 },
  [PLUMB_LETTER_TITLE] = { 13.0, 4.0 },
};

typedef struct {
  char *text;
  PlumbLetter letter;
  PlumbDrawColour role;
  PlumbVec2 device;
  PlumbVec2 gap; /* across and up the page */
  PlumbBeside beside;
  bool must;
} Label;

static void
label_clear_cb (gpointer data)
{
  g_free (((Label *) data)->text);
}

void
plumb_pen_clear (PlumbPen *pen)
{
  g_clear_object (&pen->layout);
  g_clear_pointer (&pen->set_text, g_free);
  g_clear_pointer (&pen->boxes, g_array_unref);
  g_clear_pointer (&pen->labels, g_array_unref);
}

double
plumb_pen_letter_size (const PlumbPen *pen, PlumbLetter letter)
{
  return pen->view->medium == PLUMB_MEDIUM_PAPER ? sizes[letter].paper_mm * PLUMB_PT_PER_MM : sizes[letter].screen_px;
}

/* The lettering has no narrow space, and a whole number must not run into the
 * fraction after it. */
char *
plumb_wide_spaces (const char *text)
{
  GString *wide = g_string_new (text);
  g_string_replace (wide, "\u202f", "\u00a0", 0);
  return g_string_free (wide, FALSE);
}

/* A label tries many places; its words are shaped once. */
static void
set_text (PlumbPen *pen, const char *text, PlumbLetter letter)
{
  if (pen->set_letter == letter && g_strcmp0 (pen->set_text, text) == 0)
    return;
  g_free (pen->set_text);
  pen->set_text = g_strdup (text);
  pen->set_letter = letter;
  PangoFontDescription *font = pango_font_description_from_string (DRAWING_FONT);
  pango_font_description_set_absolute_size (font, plumb_pen_letter_size (pen, letter) * PANGO_SCALE);
  pango_layout_set_font_description (pen->layout, font);
  pango_font_description_free (font);
  char *wide = plumb_wide_spaces (text);
  pango_layout_set_text (pen->layout, wide, -1);
  g_free (wide);
}

/* Widths that were measured before, by size and words: most words of a drawing
 * stay the same from frame to frame of a drag. Each thread has its own. */
#define MOST_WIDTHS 4096
static GPrivate widths = G_PRIVATE_INIT ((GDestroyNotify) g_hash_table_unref);

static GHashTable *
known_widths (void)
{
  GHashTable *known = g_private_get (&widths);
  if (known != NULL && g_hash_table_size (known) < MOST_WIDTHS)
    return known;
  known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_private_replace (&widths, known);
  return known;
}

double
plumb_pen_text_width (PlumbPen *pen, const char *text, PlumbLetter letter)
{
  g_autofree char *key = g_strdup_printf ("%a %s", plumb_pen_letter_size (pen, letter), text);
  GHashTable *known = known_widths ();
  const double *found = g_hash_table_lookup (known, key);
  if (found != NULL)
    return *found;
  int width;
  set_text (pen, text, letter);
  pango_layout_get_size (pen->layout, &width, NULL);
  double measured = (double) width / PANGO_SCALE;
  g_hash_table_insert (known, g_steal_pointer (&key), g_memdup2 (&measured, sizeof measured));
  return measured;
}

PlumbBox
plumb_pen_text_box (PlumbPen *pen, const char *text, PlumbLetter letter, double x, double y, bool turned)
{
  double size = plumb_pen_letter_size (pen, letter);
  double width = plumb_pen_text_width (pen, text, letter);
  double rise = 0.8 * size, fall = 0.25 * size;
  if (turned)
    return (PlumbBox){ x - rise, y - width, x + fall, y, false };
  return (PlumbBox){ x, y - rise, x + width, y + fall, false };
}

bool
plumb_pen_box_free (const PlumbPen *pen, PlumbBox box, bool over_soft)
{
  for (guint i = 0; i < pen->boxes->len; i++)
    {
      const PlumbBox *taken = &g_array_index (pen->boxes, PlumbBox, i);
      if (taken->soft && over_soft)
        continue;
      if (box.x0 < taken->x1 && taken->x0 < box.x1 && box.y0 < taken->y1 && taken->y0 < box.y1)
        return false;
    }
  return true;
}

bool
plumb_pen_box_inside (const PlumbPen *pen, PlumbBox box)
{
  return box.x0 >= 0.0 && box.y0 >= 0.0 && box.x1 <= pen->view->width && box.y1 <= pen->view->height;
}

void
plumb_pen_take (PlumbPen *pen, PlumbBox box)
{
  g_array_append_val (pen->boxes, box);
}

void
plumb_pen_take_line (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, double half)
{
  /* Short boxes follow a slanted line; an upright or level one needs one. */
  double dx = fabs (b.x - a.x), dy = fabs (b.y - a.y);
  double step = 12.0 * pen->unit;
  int n = (int) plumb_clamp (ceil (fmin (dx, dy) / step), 1.0, 100.0);
  for (int i = 0; i < n; i++)
    {
      PlumbVec2 p = plumb_vec2_along (a, plumb_vec2_sub (b, a), (double) i / n);
      PlumbVec2 q = plumb_vec2_along (a, plumb_vec2_sub (b, a), (double) (i + 1) / n);
      plumb_pen_take (pen, (PlumbBox){ fmin (p.x, q.x) - half, fmin (p.y, q.y) - half, fmax (p.x, q.x) + half,
                                       fmax (p.y, q.y) + half, true });
    }
}

void
plumb_pen_take_polygon (PlumbPen *pen, const PlumbVec2 *points, size_t n)
{
  if (n == 0)
    return;
  PlumbVec2 first = plumb_pen_device (pen, points[0]);
  PlumbBox box = { first.x, first.y, first.x, first.y, false };
  for (size_t i = 1; i < n; i++)
    {
      PlumbVec2 p = plumb_pen_device (pen, points[i]);
      box = (PlumbBox){ fmin (box.x0, p.x), fmin (box.y0, p.y), fmax (box.x1, p.x), fmax (box.y1, p.y), false };
    }
  plumb_pen_take (pen, box);
}

/* On a screen the letters are there as pictures: eight of them round about
 * are drawn in a tenth of the time of a stroke along their outlines. */
static void
draw_halo (PlumbPen *pen, double baseline)
{
  const double radius = 1.75 * pen->unit;
  plumb_pen_colour (pen, PLUMB_COLOUR_SHEET, 1.0);
  for (int i = 0; i < 8; i++)
    {
      cairo_move_to (pen->cr, radius * cos (i * G_PI_4), radius * sin (i * G_PI_4) - baseline);
      pango_cairo_show_layout (pen->cr, pen->layout);
    }
}

void
plumb_pen_text (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, double x, double y,
                bool turned, bool halo)
{
  if (!pen->view->text || text[0] == '\0')
    return;
  plumb_pen_take (pen, plumb_pen_text_box (pen, text, letter, x, y, turned));
  set_text (pen, text, letter);
  double baseline = (double) pango_layout_get_baseline (pen->layout) / PANGO_SCALE;
  cairo_save (pen->cr);
  cairo_translate (pen->cr, x, y);
  if (turned)
    cairo_rotate (pen->cr, -G_PI_2);
  if (halo && pen->view->medium == PLUMB_MEDIUM_SCREEN)
    draw_halo (pen, baseline);
  else if (halo)
    {
      cairo_move_to (pen->cr, 0.0, -baseline);
      pango_cairo_layout_path (pen->cr, pen->layout);
      plumb_pen_colour (pen, PLUMB_COLOUR_SHEET, 1.0);
      cairo_set_line_width (pen->cr, 3.5 * pen->unit);
      cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      cairo_stroke (pen->cr);
    }
  plumb_pen_colour (pen, role, 1.0);
  cairo_move_to (pen->cr, 0.0, -baseline);
  pango_cairo_show_layout (pen->cr, pen->layout);
  cairo_new_path (pen->cr);
  cairo_restore (pen->cr);
}

void
plumb_pen_text_turned (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, PlumbVec2 middle,
                       double angle_rad)
{
  if (!pen->view->text || text[0] == '\0')
    return;
  double width = plumb_pen_text_width (pen, text, letter), size = plumb_pen_letter_size (pen, letter);
  set_text (pen, text, letter);
  double baseline = (double) pango_layout_get_baseline (pen->layout) / PANGO_SCALE;
  cairo_save (pen->cr);
  cairo_translate (pen->cr, middle.x, middle.y);
  cairo_rotate (pen->cr, angle_rad);
  plumb_pen_colour (pen, role, 1.0);
  cairo_move_to (pen->cr, -width / 2.0, 0.27 * size - baseline);
  pango_cairo_show_layout (pen->cr, pen->layout);
  cairo_new_path (pen->cr);
  cairo_restore (pen->cr);
}

/* ---- labels -------------------------------------------------------------------- */

void
plumb_pen_label (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, PlumbVec2 device,
                 double gap, PlumbBeside beside, bool must)
{
  plumb_pen_label_off (pen, text, letter, role, device, plumb_vec2 (gap, gap), beside, must);
}

void
plumb_pen_label_off (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, PlumbVec2 device,
                     PlumbVec2 gap, PlumbBeside beside, bool must)
{
  if (!pen->view->text || text[0] == '\0')
    return;
  if (pen->labels == NULL)
    {
      pen->labels = g_array_new (FALSE, FALSE, sizeof (Label));
      g_array_set_clear_func (pen->labels, label_clear_cb);
    }
  /* A door and its leaf, two parts of one thing: one word is enough. */
  for (guint i = 0; i < pen->labels->len; i++)
    {
      const Label *other = &g_array_index (pen->labels, Label, i);
      if (strcmp (other->text, text) == 0
          && plumb_vec2_length (plumb_vec2_sub (other->device, device)) < 80.0 * pen->unit)
        return;
    }
  Label label = { g_strdup (text), letter, role, device, gap, beside, must };
  g_array_append_val (pen->labels, label);
}

/* Directions round the anchor by preference, y down: the asked one, then the
 * others by how near they are to it. At half a step across the text stands
 * over or under the anchor, moved to one side. */
#define N_AROUND 12
static const PlumbVec2 around[4][N_AROUND] = {
  [PLUMB_BESIDE_RIGHT] = { { 1, 0 },
                           { 1, -1 },
                           { 1, 1 },
                           { 0.5, -1 },
                           { 0.5, 1 },
                           { 0, -1 },
                           { 0, 1 },
                           { -0.5, -1 },
                           { -0.5, 1 },
                           { -1, -1 },
                           { -1, 1 },
                           { -1, 0 } },
  [PLUMB_BESIDE_LEFT] = { { -1, 0 },
                          { -1, -1 },
                          { -1, 1 },
                          { -0.5, -1 },
                          { -0.5, 1 },
                          { 0, -1 },
                          { 0, 1 },
                          { 0.5, -1 },
                          { 0.5, 1 },
                          { 1, -1 },
                          { 1, 1 },
                          { 1, 0 } },
  [PLUMB_BESIDE_ABOVE] = { { 0, -1 },
                           { 0.5, -1 },
                           { -0.5, -1 },
                           { 1, -1 },
                           { -1, -1 },
                           { 1, 0 },
                           { -1, 0 },
                           { 1, 1 },
                           { -1, 1 },
                           { 0.5, 1 },
                           { -0.5, 1 },
                           { 0, 1 } },
  [PLUMB_BESIDE_BELOW] = { { 0, 1 },
                           { 0.5, 1 },
                           { -0.5, 1 },
                           { 1, 1 },
                           { -1, 1 },
                           { 1, 0 },
                           { -1, 0 },
                           { 1, -1 },
                           { -1, -1 },
                           { 0.5, -1 },
                           { -0.5, -1 },
                           { 0, -1 } },
};

/* Baseline start of the label in a direction, further away than its gap. */
static PlumbVec2
label_start (const Label *label, PlumbVec2 direction, double further, double width, double size)
{
  bool beside = fabs (direction.x) == 1.0;
  double x = label->device.x + (beside ? direction.x * (label->gap.x + further) : 0.0);
  double y = label->device.y + direction.y * (label->gap.y + further);
  if (!beside)
    x -= width * (0.5 - 0.7 * direction.x);
  else if (direction.x < 0.0)
    x -= width;
  if (direction.y == 0.0)
    y += 0.3 * size;
  else if (direction.y > 0.0)
    y += 0.75 * size;
  return plumb_vec2 (x, y);
}

static void
draw_leader (PlumbPen *pen, const Label *label, PlumbBox box)
{
  double x = plumb_clamp (label->device.x, box.x0 - pen->unit, box.x1 + pen->unit);
  double y = plumb_clamp (label->device.y, box.y0, box.y1);
  plumb_pen_colour (pen, label->role, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_THIN);
  cairo_move_to (pen->cr, x, y);
  cairo_line_to (pen->cr, label->device.x, label->device.y);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, label->device.x, label->device.y, 1.5 * pen->unit, 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
}

/* How hard to look for a place: inside the drawing's own frame, or beyond it
 * across its dimension strings; over lines or not. */
typedef struct {
  bool beyond_frame, over_soft;
} Search;

static bool
box_in_frame (const PlumbPen *pen, PlumbBox box)
{
  return box.x0 >= pen->frame.x0 && box.y0 >= pen->frame.y0 && box.x1 <= pen->frame.x1 && box.y1 <= pen->frame.y1;
}

static bool
try_label (PlumbPen *pen, const Label *label, double width, int ring, Search search)
{
  double size = plumb_pen_letter_size (pen, label->letter);
  double further = ring * 1.3 * size;
  for (size_t i = 0; i < N_AROUND; i++)
    {
      PlumbVec2 start = label_start (label, around[label->beside][i], further, width, size);
      PlumbBox box = plumb_pen_text_box (pen, label->text, label->letter, start.x, start.y, false);
      if (!plumb_pen_box_inside (pen, box) || !plumb_pen_box_free (pen, box, search.over_soft)
          || (!search.beyond_frame && !box_in_frame (pen, box)))
        continue;
      double x = plumb_clamp (label->device.x, box.x0, box.x1), y = plumb_clamp (label->device.y, box.y0, box.y1);
      if (fabs (x - label->device.x) > label->gap.x + 8.0 * pen->unit
          || fabs (y - label->device.y) > label->gap.y + 8.0 * pen->unit)
        draw_leader (pen, label, box);
      plumb_pen_text (pen, label->text, label->letter, label->role, start.x, start.y, false, true);
      return true;
    }
  return false;
}

static void
place_label (PlumbPen *pen, const Label *label)
{
  PlumbVec2 at = label->device;
  /* What lies outside the pane needs no word. */
  if (at.x < 0.0 || at.y < 0.0 || at.x > pen->view->width || at.y > pen->view->height)
    return;
  double width = plumb_pen_text_width (pen, label->text, label->letter);
  bool letter = label->letter == PLUMB_LETTER_PLACE;
  const Search searches[3] = { { letter, letter }, { false, true }, { true, false } };
  const int rings[3] = { label->must ? 7 : 4, label->must ? 7 : 0, label->must ? 16 : 2 };
  for (int k = 0; k < 3; k++)
    for (int ring = 0; ring < rings[k]; ring++)
      if (try_label (pen, label, width, ring, searches[k]))
        return;
  if (!label->must)
    return;
  double size = plumb_pen_letter_size (pen, label->letter);
  double x = plumb_clamp (at.x + label->gap.x, 0.0, fmax (0.0, pen->view->width - width));
  double y = plumb_clamp (at.y, size, fmax (size, pen->view->height - size));
  plumb_pen_text (pen, label->text, label->letter, label->role, x, y, false, true);
}

void
plumb_pen_place_labels (PlumbPen *pen)
{
  if (pen->labels == NULL)
    return;
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < pen->labels->len; i++)
      {
        const Label *label = &g_array_index (pen->labels, Label, i);
        if (label->must == (pass == 0))
          place_label (pen, label);
      }
  g_array_set_size (pen->labels, 0);
}
