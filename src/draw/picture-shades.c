/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shadows and what is hidden, as true outlines on the picture. */
#include "draw/picture-over-private.h"
#include "text/findings.h"
#include "text/length.h"

/* Points to a full turn of an arc. */
#define ARC_POINTS 96
/* Names on one picture of each kind, and the least share that has one. */
#define MOST_NAMED 8
#define LEAST_NAMED_SHARE 0.005

/* How a kind of shade is drawn. */
typedef struct {
  PlumbDrawColour role;
  double alpha;
  bool hatched;
  PlumbHatch hatch;
  PlumbLine line;
} Tone;

static void
piece_path (PlumbPen *pen, const PlumbOutlinePiece *piece)
{
  int n = piece->arc ? (int) plumb_clamp (ceil (ARC_POINTS * (piece->t1 - piece->t0) / (2.0 * PLUMB_PI)), 1.0,
                                          (double) ARC_POINTS)
                     : 1;
  for (int i = 0; i < n; i++)
    {
      PlumbVec2 p = piece->p;
      if (piece->arc && i > 0)
        {
          double t = piece->t0 + (piece->t1 - piece->t0) * i / n;
          p = plumb_vec2_along (plumb_vec2_along (piece->centre, piece->major, cos (t)), piece->minor, sin (t));
        }
      PlumbVec2 device = plumb_pen_device (pen, plumb_picture_point (pen, p));
      cairo_line_to (pen->cr, device.x, device.y);
    }
}

static void
shade_path (PlumbPen *pen, const PlumbShades *shades, const PlumbShade *shade)
{
  for (uint32_t i = shade->first; i < shade->first + shade->n; i++)
    {
      const PlumbSilhouette *s = &shades->silhouettes[i];
      cairo_new_sub_path (pen->cr);
      for (uint32_t k = 0; k < s->n_pieces; k++)
        piece_path (pen, &s->piece[k]);
      cairo_close_path (pen->cr);
    }
}

/* All silhouettes turn the same way, so that filling by winding counts what
 * overlaps once. */
static void
draw_tone (PlumbPen *pen, const PlumbShades *shades, bool dims, const Tone *tone)
{
  cairo_new_path (pen->cr);
  for (uint32_t i = 0; i < shades->n_shades; i++)
    if (shades->shades[i].dims == dims)
      shade_path (pen, shades, &shades->shades[i]);
  cairo_save (pen->cr);
  plumb_pen_colour (pen, tone->role, tone->alpha);
  cairo_fill_preserve (pen->cr);
  plumb_pen_colour (pen, tone->role, 1.0);
  plumb_pen_line (pen, tone->line);
  cairo_stroke_preserve (pen->cr);
  cairo_clip (pen->cr);
  if (tone->hatched)
    plumb_pen_hatch_clip (pen, tone->hatch, tone->role);
  cairo_restore (pen->cr);
}

static char *
name_of (const PlumbPen *pen, const PlumbShade *shade)
{
  PlumbSubject mover = { PLUMB_RECORD_BLOCKER, shade->who.index, shade->state };
  bool moved = shade->who.kind == PLUMB_WHO_BLOCKER && shade->state != PLUMB_NO_INDEX;
  return moved ? plumb_subject_name (pen->scene, &mover) : plumb_who_name (pen->scene, shade->who);
}

/* Who it is and what it does, beside its largest silhouette. */
static void
label_shade (PlumbPen *pen, const PlumbShades *shades, const PlumbShade *shade, const char *does,
             PlumbDrawColour role)
{
  const PlumbSilhouette *largest = &shades->silhouettes[shade->first];
  for (uint32_t i = shade->first + 1; i < shade->first + shade->n; i++)
    if (shades->silhouettes[i].area_m2 > largest->area_m2)
      largest = &shades->silhouettes[i];
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (largest->least, largest->most), 0.5);
  PlumbVec2 half = plumb_vec2_scale (plumb_vec2_sub (largest->most, largest->least), 0.5 * pen->view->scale_per_m);
  PlumbVec2 gap = { half.x + 4.0 * pen->unit, half.y + 4.0 * pen->unit };
  g_autofree char *name = name_of (pen, shade);
  g_autofree char *share = plumb_share_format (shade->share, 1, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *words = g_strdup_printf ("%s%s %s %s", name, shade->walking ? N_ (", walking,") : "", does, share);
  plumb_pen_label_off (pen, words, PLUMB_LETTER_NOTE, role, plumb_pen_device (pen, plumb_picture_point (pen, middle)),
                       gap, PLUMB_BESIDE_ABOVE, false);
}

/* The largest: what is less than half a per cent is not named. */
static void
label_shades (PlumbPen *pen, const PlumbShades *shades, bool of_lens, PlumbDrawColour role)
{
  for (uint32_t i = 0; i < shades->n_shades && i < MOST_NAMED; i++)
    {
      const PlumbShade *shade = &shades->shades[i];
      if (i == 0 || shade->share >= LEAST_NAMED_SHARE)
        label_shade (pen, shades, shade, !of_lens ? N_ ("hides") : shade->dims ? N_ ("dims") : N_ ("shadows"), role);
    }
}

void
plumb_picture_over_draw_shades (PlumbPen *pen, const PlumbPictureOver *over)
{
  static const Tone hidden = { PLUMB_COLOUR_SIGHT, 0.2, true, PLUMB_HATCH_DOWN, PLUMB_LINE_SIGHT };
  static const Tone shadow = { PLUMB_COLOUR_SHADOW, 0.3, true, PLUMB_HATCH_20, PLUMB_LINE_BEAM };
  static const Tone dimmed = { PLUMB_COLOUR_SHADOW, 0.15, false, PLUMB_HATCH_20, PLUMB_LINE_PORT };
  draw_tone (pen, &over->hidden, false, &hidden);
  draw_tone (pen, &over->shadows, true, &dimmed);
  draw_tone (pen, &over->shadows, false, &shadow);
  label_shades (pen, &over->shadows, true, PLUMB_COLOUR_SHADOW);
  label_shades (pen, &over->hidden, false, PLUMB_COLOUR_SIGHT);
}
