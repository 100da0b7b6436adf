/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plan says of every seat: its answer to the chosen question, the
 * key to it, and the limits beside the picture's axis. */
#include "draw/seats-private.h"

#include <string.h>

#include "plumbeam/variants.h"
#include "text/length.h"
#include "text/questions.h"

/* Baselines of the two lines of the key over the foot of the page. */
#define KEY_FIRST_PX 50.0
#define KEY_SECOND_PX 35.0
#define KEY_GAP_PX 16.0
#define KEY_LEFT_PX 4.0

static PlumbWords
words_of (const PlumbPen *pen)
{
  return (PlumbWords){ pen->units, PLUMB_SHOW_TYPOGRAPHIC };
}

/* ---- figures -------------------------------------------------------------------------- */

typedef struct {
  PlumbAnswer answer;
  double badness;
  uint32_t seat;
} Told;

static int
worst_first (const void *a, const void *b)
{
  const Told *p = a, *q = b;
  if (p->badness > q->badness || p->badness < q->badness)
    return p->badness > q->badness ? -1 : 1;
  return p->seat < q->seat ? -1 : p->seat > q->seat;
}

static Told *
ask_all (const PlumbPen *pen, const PlumbAsked *asked, uint32_t n)
{
  Told *told = g_new0 (Told, n);
  for (uint32_t i = 0; i < n; i++)
    {
      told[i].answer = plumb_answer (pen->scene, pen->evaluation, asked, i);
      told[i].badness = plumb_answer_badness (pen->evaluation, asked, &told[i].answer);
      told[i].seat = i;
    }
  return told;
}

/* The figure stands behind the seat, or before it where that is taken, and
 * nowhere else: beside another seat it would be read as that one's. A turned
 * seat has it over, under or beside the box that it fills on the page. False
 * when there is no room. */
static bool
write_seat (PlumbPen *pen, const PlumbSeatPose *pose, const char *text)
{
  /* A blank's width between neighbours, or two figures read as one. */
  const double air = 2.0 * pen->unit;
  double size = plumb_pen_letter_size (pen, PLUMB_LETTER_NOTE);
  double width = plumb_pen_text_width (pen, text, PLUMB_LETTER_NOTE);
  PlumbVec2 seat = plumb_pen_device (pen, plumb_seat_point (pose, PLUMB_SEAT_MIDDLE_M, 0.0));
  double half = PLUMB_SEAT_HALF_M * (fabs (pose->front.x) + fabs (pose->front.y)) * pen->view->scale_per_m;
  bool upright = fabs (pose->front.y) >= fabs (pose->front.x);
  double front = (upright ? -pose->front.y : pose->front.x) < 0.0 ? -1.0 : 1.0; /* on the page, y down */
  double off = half + air + 0.05 * pen->unit + (upright ? 0.53 * size : width / 2.0);
  for (int k = 0; k < 2; k++)
    {
      double way = k == 0 ? -front : front;
      double x = seat.x + (upright ? 0.0 : way * off) - width / 2.0;
      double y = seat.y + (upright ? way * off : 0.0) + 0.27 * size;
      PlumbBox box = plumb_pen_text_box (pen, text, PLUMB_LETTER_NOTE, x, y, false);
      PlumbBox wide = { box.x0 - air, box.y0 - air, box.x1 + air, box.y1 + air, false };
      if (!plumb_pen_box_free (pen, wide, true) || !plumb_pen_box_inside (pen, box))
        continue;
      plumb_pen_text (pen, text, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y, false, true);
      plumb_pen_take (pen, wide);
      return true;
    }
  return false;
}

/* Worst first: where room is short, they have it. `written` has a flag per
 * seat. */
static void
write_figures (PlumbPen *pen, const Told *told, uint32_t n, bool *written)
{
  Told *sorted = g_memdup2 (told, n * sizeof *told);
  qsort (sorted, n, sizeof *sorted, worst_first);
  for (uint32_t i = 0; i < n; i++)
    {
      uint32_t seat = sorted[i].seat;
      written[seat] = !sorted[i].answer.has_figure;
      if (written[seat])
        continue;
      g_autofree char *text
          = plumb_question_figure (pen->view->shown.question, sorted[i].answer.figure, words_of (pen));
      PlumbSeatPose pose = plumb_seat_pose (pen, &pen->resolved->seats[seat]);
      written[seat] = write_seat (pen, &pose, text);
    }
  g_free (sorted);
}

/* The record that two seats share, and the row in it. */
static bool
same_row (const PlumbPen *pen, const PlumbSeatResolved *a, const PlumbSeatResolved *b)
{
  if (a->row == PLUMB_NO_INDEX || a->row != b->row)
    return false;
  uint32_t n;
  const PlumbRow *rows = plumb_scene_row_records (pen->scene, &n);
  uint32_t count = a->row < n && rows[a->row].count > 0 ? (uint32_t) rows[a->row].count : 1;
  return (a->number - 1) / count == (b->number - 1) / count;
}

/* "  0.0 % – 12.4 %", where some of the row are not written. */
static void
append_range (const PlumbPen *pen, GString *words, const Told *told, const bool *written, uint32_t first,
              uint32_t last)
{
  double least = INFINITY, greatest = -INFINITY;
  bool all = true;
  for (uint32_t i = first; i <= last; i++)
    {
      all = all && written[i];
      if (!told[i].answer.has_figure)
        continue;
      least = fmin (least, told[i].answer.figure);
      greatest = fmax (greatest, told[i].answer.figure);
    }
  if (all || !(least <= greatest))
    return;
  g_autofree char *low = plumb_question_figure (pen->view->shown.question, least, words_of (pen));
  g_autofree char *high = plumb_question_figure (pen->view->shown.question, greatest, words_of (pen));
  g_string_append_printf (words, strcmp (low, high) == 0 ? "  %s" : "  %s – %s", low, high);
}

/* The row's name at its end on the page's right; where not all its figures
 * found room, also its least and greatest. */
static void
label_row (PlumbPen *pen, uint32_t first, uint32_t last, const Told *told, const bool *written)
{
  const PlumbSeatResolved *seats = pen->resolved->seats;
  const PlumbRow *row = plumb_scene_row (pen->scene, seats[first].row);
  uint32_t count = row->count > 0 ? (uint32_t) row->count : 1;
  GString *words = g_string_new (plumb_label_or_id (row->label, row->id));
  if (row->rows > 1)
    g_string_append_printf (words, " %u", (seats[first].number - 1) / count + 1);
  append_range (pen, words, told, written, first, last);
  PlumbSeatPose a = plumb_seat_pose (pen, &seats[first]), b = plumb_seat_pose (pen, &seats[last]);
  const PlumbSeatPose *end = a.eye.x > b.eye.x ? &a : &b;
  PlumbVec2 at = plumb_pen_device (pen, plumb_seat_point (end, PLUMB_SEAT_MIDDLE_M, 0.0));
  plumb_pen_label (pen, words->str, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, at,
                   PLUMB_SEAT_HALF_M * pen->view->scale_per_m + 5.0 * pen->unit, PLUMB_BESIDE_RIGHT, false);
  g_string_free (words, TRUE);
}

/* ---- key ---------------------------------------------------------------------------------- */

static const char *const verdict_words[4] = { N_ ("holds"), N_ ("tight"), N_ ("fails"), N_ ("unknown") };
static const PlumbVerdict verdicts[4] = { PLUMB_HOLDS, PLUMB_TIGHT, PLUMB_FAILS, PLUMB_UNKNOWN };

/* The first of some wordings, longest first, that fits; else the last. */
static const char *
that_fits (PlumbPen *pen, const char *const *wordings, int n, double room)
{
  int k = 0;
  while (k < n - 1 && plumb_pen_text_width (pen, wordings[k], PLUMB_LETTER_NOTE) > room)
    k++;
  return wordings[k];
}

/* Seats of a fixed size: the key is not to scale. */
static void
draw_shapes (PlumbPen *pen, double x, double y)
{
  PlumbDrawView fixed = *pen->view;
  fixed.scale_per_m = 13.0 * pen->unit / (2.0 * PLUMB_SEAT_HALF_M);
  fixed.centre_m = plumb_vec2 (0.0, 0.0);
  const PlumbDrawView *own = pen->view;
  for (int i = 0; i < 4; i++)
    {
      pen->view = &fixed;
      PlumbVec2 middle = plumb_draw_view_from_device (&fixed, plumb_vec2 (x + 7.0 * pen->unit, y - 4.0 * pen->unit));
      PlumbSeatPose pose = { plumb_vec2 (middle.x, middle.y - PLUMB_SEAT_MIDDLE_M), { 0.0, 1.0 }, { 1.0, 0.0 } };
      plumb_draw_seat_shape (pen, &pose, verdicts[i]);
      pen->view = own;
      x += 19.0 * pen->unit;
      plumb_pen_text (pen, verdict_words[i], PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y, false, false);
      x += plumb_pen_text_width (pen, verdict_words[i], PLUMB_LETTER_NOTE) + 12.0 * pen->unit;
    }
}

/* First line: the figure, then the shapes; second line: the limits. In a
 * narrow pane the second line tells both. */
static void
draw_key (PlumbPen *pen, const PlumbAsked *asked, bool all_written)
{
  g_autofree char *figure = plumb_asked_meaning (pen->scene, asked);
  g_autofree char *some = g_strconcat (figure, all_written ? "" : N_ ("; worst first where room is short"), NULL);
  g_autofree char *limits = plumb_asked_limits (pen->scene, pen->evaluation, asked, false, words_of (pen));
  g_autofree char *brief = plumb_asked_limits (pen->scene, pen->evaluation, asked, true, words_of (pen));
  g_autofree char *both = g_strconcat (figure, "; ", brief, NULL);
  const char *const first[2] = { some, figure }, *const second[2] = { limits, brief },
                    *const narrow[2] = { both, figure };
  double left = KEY_LEFT_PX * pen->unit, gap = KEY_GAP_PX * pen->unit, shapes = 0.0;
  double room = pen->view->width - 2.0 * left;
  for (int i = 0; i < 4; i++)
    shapes += plumb_pen_text_width (pen, verdict_words[i], PLUMB_LETTER_NOTE) + 31.0 * pen->unit;
  const char *upper = that_fits (pen, first, 2, room - shapes - gap);
  double before = plumb_pen_text_width (pen, upper, PLUMB_LETTER_NOTE) + gap;
  if (before + shapes > room)
    before = 0.0;
  const char *lower = that_fits (pen, before > 0.0 ? second : narrow, 2, room);
  double wide = fmax (before + shapes, plumb_pen_text_width (pen, lower, PLUMB_LETTER_NOTE));
  double x = fmax (fmin (pen->frame.x0, left + room - wide), left);
  double y = pen->view->height - KEY_FIRST_PX * pen->unit;
  if (before > 0.0)
    plumb_pen_text (pen, upper, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, y, false, false);
  draw_shapes (pen, x + before, y);
  plumb_pen_text (pen, lower, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x, pen->view->height - KEY_SECOND_PX * pen->unit,
                  false, false);
}

void
plumb_draw_seat_figures (PlumbPen *pen)
{
  if (pen->resolved == NULL || pen->evaluation == NULL || pen->resolved->n_seats == 0 || !pen->view->text)
    return;
  uint32_t n = pen->resolved->n_seats;
  PlumbAsked asked = plumb_asked (pen->scene, pen->evaluation, pen->view->shown.question);
  Told *told = ask_all (pen, &asked, n);
  bool *written = g_new0 (bool, n);
  bool all = true;
  if (n <= PLUMB_MAX_SEAT_FIGURES)
    write_figures (pen, told, n, written);
  for (uint32_t i = 0, first = 0; i < n; i++)
    {
      const PlumbSeatResolved *seat = &pen->resolved->seats[i];
      all = all && written[i];
      if (i + 1 < n && same_row (pen, seat, &pen->resolved->seats[i + 1]))
        continue;
      if (seat->row != PLUMB_NO_INDEX)
        label_row (pen, first, i, told, written);
      first = i + 1;
    }
  draw_key (pen, &asked, all);
  g_free (written);
  g_free (told);
}

/* ---- limits beside the axis ----------------------------------------------------------------- */

/* The longest way before the picture that a limit is drawn. */
#define LIMIT_FAR_M 100.0

typedef struct {
  PlumbVec2 a, b;
} Limit;

/* From a point of the picture's edge at an angle off its normal, to the wall.
 * side: −1 to the viewer's left, 1 to the right. */
static Limit
limit_line (const PlumbPen *pen, PlumbVec3 from, double angle_rad, double side)
{
  PlumbVec3 back = plumb_vec3_scale (pen->plane.up, -1.0);
  PlumbVec3 way = plumb_vec3_scale (back, cos (angle_rad));
  way = plumb_vec3_along (way, pen->plane.right, side * sin (angle_rad));
  PlumbVec3 start = plumb_vec3_along (from, back, 0.01);
  double length;
  uint32_t wall;
  if (!plumb_cast_to_wall (pen, start, way, &length, &wall))
    length = LIMIT_FAR_M;
  return (Limit){ plumb_pen_project (pen, start), plumb_pen_project (pen, plumb_vec3_along (start, way, length)) };
}

static double
limit_length (const Limit *limit)
{
  return plumb_vec2_length (plumb_vec2_sub (limit->b, limit->a));
}

/* Both sides; the longer line has the words. */
static void
draw_limit_pair (PlumbPen *pen, const Limit pair[2], const char *words)
{
  plumb_pen_colour (pen, PLUMB_COLOUR_SIGHT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_LIMIT);
  for (int i = 0; i < 2; i++)
    {
      plumb_pen_stroke_line (pen, pair[i].a, pair[i].b);
      plumb_pen_take_line (pen, plumb_pen_device (pen, pair[i].a), plumb_pen_device (pen, pair[i].b),
                           2.0 * pen->unit);
    }
  const Limit *longer = &pair[limit_length (&pair[1]) > limit_length (&pair[0])];
  PlumbVec2 at = plumb_vec2_along (longer->a, plumb_vec2_sub (longer->b, longer->a), 0.7);
  plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_SIGHT, plumb_pen_device (pen, at), 4.0 * pen->unit,
                   PLUMB_BESIDE_BELOW, true);
}

static void
draw_limits_of (PlumbPen *pen, const PlumbFinding *finding)
{
  PlumbVec3 corner[4];
  bool lit;
  if (!plumb_picture_corners (pen, corner, &lit) || finding->sense != PLUMB_LIMIT_AT_MOST
      || finding->limit_most >= PLUMB_PI / 2.0)
    return;
  PlumbVec3 left = corner[0], right = corner[1], middle = plumb_vec3_scale (plumb_vec3_add (left, right), 0.5);
  bool far_edge = finding->variant == PLUMB_V_OFF_AXIS_FAR_EDGE;
  g_autofree char *angle = plumb_angle_format (finding->limit_most, 0, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *basis = plumb_finding_basis_short (pen->scene, finding);
  /* Where the key speaks of the limits it names their sources. */
  bool told = pen->view->shown.question == PLUMB_QUESTION_OFF_AXIS;
  g_autofree char *words = g_strconcat (angle, far_edge ? N_ (" at the far edge") : N_ (" off axis"),
                                        told ? "" : ": ", told ? "" : basis, NULL);
  /* Who sits far to the right looks most askance at the left edge. */
  const Limit pair[2] = { limit_line (pen, far_edge ? right : middle, finding->limit_most, -1.0),
                          limit_line (pen, far_edge ? left : middle, finding->limit_most, 1.0) };
  draw_limit_pair (pen, pair, words);
}

void
plumb_draw_off_axis_limits (PlumbPen *pen)
{
  const PlumbDrawShown *shown = &pen->view->shown;
  if (pen->evaluation == NULL || !plumb_has_target (pen)
      || ((shown->layers & PLUMB_LAYER_OFF_AXIS) == 0 && shown->question != PLUMB_QUESTION_OFF_AXIS))
    return;
  PlumbAsked asked = plumb_asked (pen->scene, pen->evaluation, PLUMB_QUESTION_OFF_AXIS);
  for (uint32_t k = 0; k < asked.n_findings; k++)
    draw_limits_of (pen, &pen->evaluation->findings[asked.finding[k]]);
}
