/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/picture-over-private.h"

#include "plumbeam/light-map.h"
#include "text/findings.h"
#include "text/length.h"

#define MOST_ISOLINES 7
/* Less is even: a hundredth is nowhere seen. */
#define EVEN_SHARE 0.01
#define KEY_PX 42.0
#define SWATCH_PX 14.0

PlumbVec2
plumb_picture_point (const PlumbPen *pen, PlumbVec2 point_m)
{
  const PlumbPlaneFrame *frame = &pen->evaluation->target.frame;
  PlumbVec3 room = plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, point_m.x), frame->v, point_m.y);
  return plumb_pen_project (pen, room);
}

/* ---- whose view ----------------------------------------------------------------------- */

/* Of a row that is chosen as a whole the first, as in the 3D view. */
static uint32_t
chosen_seat (const PlumbPen *pen)
{
  const PlumbSubject *chosen = &pen->view->selected;
  bool single = chosen->kind == PLUMB_RECORD_SEAT;
  if (!single && chosen->kind != PLUMB_RECORD_ROW)
    return PLUMB_NO_INDEX;
  if (chosen->sub < pen->resolved->n_seats)
    return chosen->sub;
  for (uint32_t i = 0; i < pen->resolved->n_seats; i++)
    if ((single ? pen->resolved->seats[i].seat : pen->resolved->seats[i].row) == chosen->index)
      return i;
  return PLUMB_NO_INDEX;
}

static uint32_t
seat_asked_for (const PlumbPen *pen)
{
  const PlumbDrawShown *shown = &pen->view->shown;
  if (shown->seat < pen->resolved->n_seats)
    return shown->seat;
  uint32_t seat = chosen_seat (pen);
  if (seat != PLUMB_NO_INDEX
      || (shown->question != PLUMB_QUESTION_HIDDEN && shown->question != PLUMB_QUESTION_LUMINANCE))
    return seat;
  PlumbAsked asked = plumb_asked (pen->scene, pen->evaluation, shown->question);
  return plumb_asked_worst_seat (pen->scene, pen->evaluation, &asked);
}

/* ---- gathering --------------------------------------------------------------------------- */

static int
largest_first (const void *a, const void *b)
{
  const PlumbShade *p = a, *q = b;
  if (p->share > q->share || p->share < q->share)
    return p->share > q->share ? -1 : 1;
  return p->first < q->first ? -1 : p->first > q->first;
}

static void
sort_shades (PlumbShades *shades)
{
  if (shades->n_shades > 1)
    qsort (shades->shades, shades->n_shades, sizeof *shades->shades, largest_first);
}

static void
gather_shades (PlumbPictureOver *over, const PlumbPen *pen)
{
  unsigned layers = pen->view->shown.layers;
  bool fine = true;
  if ((layers & PLUMB_LAYER_SHADOWS) != 0)
    fine = plumb_shades_of_lens (pen->scene, pen->evaluation, &over->shadows);
  if (fine && (layers & PLUMB_LAYER_HIDDEN) != 0 && over->seat != PLUMB_NO_INDEX)
    fine = plumb_shades_of_seat (pen->scene, pen->evaluation, over->seat, &over->hidden);
  if (!fine)
    g_error ("there is not enough memory");
  sort_shades (&over->shadows);
  sort_shades (&over->hidden);
}

typedef struct {
  const PlumbPen *pen;
  PlumbVec3 eye;
} Towards;

static bool
lux_cb (const void *data, PlumbVec2 point, double *value)
{
  return plumb_picture_illuminance_lx (((const Towards *) data)->pen->evaluation, point, value);
}

static bool
luminance_cb (const void *data, PlumbVec2 point, double *value)
{
  const Towards *towards = data;
  return plumb_picture_luminance_cd_m2 (towards->pen->scene, towards->pen->evaluation, point, towards->eye, value);
}

static void
gather_light (PlumbPictureOver *over, const PlumbPen *pen)
{
  const PlumbDrawShown *shown = &pen->view->shown;
  Towards towards = { .pen = pen };
  if ((shown->layers & PLUMB_LAYER_LIGHT) == 0 || !pen->evaluation->has_picture)
    return;
  over->to_seat = shown->question == PLUMB_QUESTION_LUMINANCE && over->seat != PLUMB_NO_INDEX;
  if (over->to_seat)
    towards.eye = pen->resolved->seats[over->seat].eye_m;
  over->light = plumb_isolines_make (over->to_seat ? luminance_cb : lux_cb, &towards, &pen->evaluation->picture,
                                     MOST_ISOLINES, EVEN_SHARE);
  over->has_light = over->light.known;
}

void
plumb_picture_over_init (PlumbPictureOver *over, const PlumbPen *pen)
{
  *over = (PlumbPictureOver){ .seat = PLUMB_NO_INDEX };
  if (pen->resolved == NULL || !plumb_has_target (pen))
    return;
  over->seat = seat_asked_for (pen);
  gather_shades (over, pen);
  gather_light (over, pen);
}

void
plumb_picture_over_clear (PlumbPictureOver *over)
{
  plumb_shades_clear (&over->shadows);
  plumb_shades_clear (&over->hidden);
  plumb_isolines_clear (&over->light);
}

char *
plumb_picture_light_words (const PlumbPictureOver *over, double value)
{
  double step = over->light.step;
  int decimals = step > 0.0 ? (int) plumb_clamp (ceil (-log10 (step) - 1e-9), 0.0, 3.0) : value < 10.0 ? 1 : 0;
  g_autofree char *number = plumb_number_format (value, decimals, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strconcat (number, over->to_seat ? "\u202fcd/m²" : "\u202flx", NULL);
}

/* ---- key ------------------------------------------------------------------------------------ */

/* A sample of a tone with its words behind; returns where the next begins. */
static double
draw_tone (PlumbPen *pen, double x, double y, PlumbDrawColour role, double alpha, PlumbHatch hatch, bool dims,
           const char *words)
{
  double w = SWATCH_PX * pen->unit, h = 9.0 * pen->unit;
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, x, y - 8.0 * pen->unit, w, h);
  plumb_pen_colour (pen, role, alpha);
  cairo_fill_preserve (pen->cr);
  plumb_pen_colour (pen, role, 1.0);
  plumb_pen_line (pen, dims ? PLUMB_LINE_PORT : PLUMB_LINE_BEAM);
  cairo_stroke_preserve (pen->cr);
  cairo_clip (pen->cr);
  if (!dims)
    plumb_pen_hatch_clip (pen, hatch, role);
  cairo_restore (pen->cr);
  x += w + 5.0 * pen->unit;
  plumb_pen_text (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y, false, false);
  return x + plumb_pen_text_width (pen, words, PLUMB_LETTER_NOTE) + 12.0 * pen->unit;
}

static char *
light_key (const PlumbPen *pen, const PlumbPictureOver *over)
{
  g_autofree char *most = plumb_picture_light_words (over, over->light.greatest);
  g_autofree char *to = NULL;
  if (over->to_seat)
    to = g_strdup_printf (N_ ("white in the dark to %s"), pen->resolved->seats[over->seat].id);
  const char *what = over->to_seat ? to : N_ ("machine’s light");
  return over->light.step > 0.0 ? g_strdup_printf (N_ ("dotted: %s"), what)
                                : g_strdup_printf (N_ ("%s: %s all over"), what, most);
}

static bool
any_dims (const PlumbShades *shades, bool dims)
{
  for (uint32_t i = 0; i < shades->n_shades; i++)
    if (shades->shades[i].dims == dims)
      return true;
  return false;
}

void
plumb_picture_over_draw_key (PlumbPen *pen, const PlumbPictureOver *over)
{
  if (!pen->view->text)
    return;
  double x = fmax (pen->frame.x0, 4.0 * pen->unit), y = pen->view->height - KEY_PX * pen->unit;
  if (any_dims (&over->shadows, false))
    x = draw_tone (pen, x, y, PLUMB_COLOUR_SHADOW, 0.3, PLUMB_HATCH_20, false, N_ ("shadow"));
  if (any_dims (&over->shadows, true))
    x = draw_tone (pen, x, y, PLUMB_COLOUR_SHADOW, 0.15, PLUMB_HATCH_20, true, N_ ("only dims"));
  if (over->hidden.n_shades > 0)
    {
      g_autofree char *share
          = plumb_share_format (pen->evaluation->seats[over->seat].hidden_share, 1, PLUMB_SHOW_TYPOGRAPHIC);
      g_autofree char *words
          = g_strdup_printf (N_ ("hidden from %s, %s"), pen->resolved->seats[over->seat].id, share);
      x = draw_tone (pen, x, y, PLUMB_COLOUR_SIGHT, 0.2, PLUMB_HATCH_DOWN, false, words);
    }
  if (!over->has_light)
    return;
  g_autofree char *light = light_key (pen, over);
  plumb_pen_text (pen, light, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y, false, false);
}
