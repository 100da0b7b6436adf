/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/parts-private.h"

/* ---- what is there ------------------------------------------------------------ */

bool
plumb_has_target (const PlumbPen *pen)
{
  return pen->evaluation != NULL && pen->evaluation->target.valid;
}

bool
plumb_has_machine (const PlumbPen *pen)
{
  return pen->evaluation != NULL && pen->evaluation->solved && plumb_vec3_is_finite (pen->evaluation->beam.lens_m);
}

uint32_t
plumb_used_place (const PlumbPen *pen)
{
  return pen->evaluation != NULL ? pen->evaluation->place : PLUMB_NO_INDEX;
}

static PlumbVec3
on_target (const PlumbPen *pen, PlumbVec2 p)
{
  const PlumbPlaneFrame *frame = &pen->evaluation->target.frame;
  return plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, p.x), frame->v, p.y);
}

static void
rect_to_room (const PlumbPen *pen, const PlumbRect *rect, PlumbVec3 corner[4])
{
  PlumbQuad quad = plumb_rect_corners (rect);
  for (int i = 0; i < 4; i++)
    corner[i] = on_target (pen, quad.corner[i]);
}

void
plumb_target_rectangle (const PlumbPen *pen, double half_width_m, double half_height_m, PlumbVec3 corner[4])
{
  const PlumbRect rect = { { 0.0, 0.0 }, 2.0 * half_width_m, 2.0 * half_height_m };
  rect_to_room (pen, &rect, corner);
}

static bool
all_finite (const PlumbVec3 corner[4])
{
  return plumb_vec3_is_finite (corner[0]) && plumb_vec3_is_finite (corner[1]) && plumb_vec3_is_finite (corner[2])
         && plumb_vec3_is_finite (corner[3]);
}

bool
plumb_picture_corners (const PlumbPen *pen, PlumbVec3 corner[4], bool *lit)
{
  *lit = false;
  if (!plumb_has_target (pen))
    return false;
  const PlumbEvaluation *e = pen->evaluation;
  *lit = e->has_picture || e->has_raw;
  if (e->has_picture)
    rect_to_room (pen, &e->picture, corner);
  else if (e->has_raw)
    for (int i = 0; i < 4; i++)
      corner[i] = on_target (pen, e->raw.corner[i]);
  else
    plumb_target_rectangle (pen, e->target.width_m / 2.0, e->target.height_m / 2.0, corner);
  return all_finite (corner);
}

const char *
plumb_label_or_id (const char *label, const char *id)
{
  return label[0] != '\0' ? label : id;
}

char *
plumb_place_letter (uint32_t place)
{
  uint32_t round = place / 26;
  char letter = (char) ('A' + place % 26);
  return round == 0 ? g_strdup_printf ("%c", letter) : g_strdup_printf ("%c%u", letter, round);
}

/* The picture's space when the point is over its floor, else the first one
 * that it is over, else the picture's all the same. */
static uint32_t
space_around (const PlumbPen *pen, PlumbVec3 point)
{
  if (pen->building == NULL || pen->space >= pen->building->n_spaces)
    return PLUMB_NO_INDEX;
  PlumbVec2 plan = { point.x, point.y };
  if (!plumb_building_in_outline (pen->building, pen->space, plan))
    for (uint32_t i = 0; i < pen->building->n_spaces; i++)
      if (pen->building->spaces[i].valid && plumb_building_in_outline (pen->building, i, plan))
        return i;
  return pen->space;
}

bool
plumb_cast_to_wall (const PlumbPen *pen, PlumbVec3 from, PlumbVec3 direction, double *distance_m, uint32_t *wall)
{
  uint32_t index = space_around (pen, from);
  if (index == PLUMB_NO_INDEX)
    return false;
  const PlumbSpaceShape *space = &pen->building->spaces[index];
  PlumbVec2 o = { from.x, from.y }, d = { direction.x, direction.y };
  double nearest = INFINITY;
  for (uint32_t i = 0; i < space->n_walls; i++)
    {
      const PlumbWallShape *shape = &pen->building->walls[space->first_wall + i];
      PlumbVec2 along = plumb_vec2_sub (shape->end_m, shape->start_m);
      double cross = plumb_vec2_cross (d, along);
      if (fabs (cross) < 1e-9)
        continue;
      PlumbVec2 to = plumb_vec2_sub (shape->start_m, o);
      double t = plumb_vec2_cross (to, along) / cross;
      double s = plumb_vec2_cross (to, d) / cross;
      /* A hair beyond the corners, so that no ray slips between two walls; a
       * hair behind, for what lies in the wall's own plane. */
      if (s < -1e-6 || s > 1.0 + 1e-6 || t < -1e-6 || t >= nearest)
        continue;
      nearest = fmax (t, 0.0);
      *wall = shape->wall;
    }
  *distance_m = nearest;
  return isfinite (nearest);
}

bool
plumb_in_picture_space (const PlumbPen *pen, PlumbVec3 point)
{
  return pen->building != NULL && pen->space < pen->building->n_spaces
         && plumb_building_in_outline (pen->building, pen->space, plumb_vec2 (point.x, point.y));
}

char *
plumb_wall_name (const PlumbPen *pen, uint32_t wall, const char *fallback)
{
  uint32_t n;
  const PlumbWall *walls = plumb_scene_wall_records (pen->scene, &n);
  if (wall >= n)
    return g_strdup (fallback);
  const char *name = plumb_label_or_id (walls[wall].label, walls[wall].id);
  return name[0] == '\0' ? g_strdup (fallback) : g_strdup (name);
}

/* ---- light and screen -------------------------------------------------------------- */

void
plumb_draw_beam_fill (PlumbPen *pen, const PlumbVec2 *outline, size_t n, PlumbVec2 lens, PlumbVec2 far_end)
{
  PlumbVec2 a = plumb_pen_device (pen, lens), b = plumb_pen_device (pen, far_end);
  PlumbRgb c = plumb_draw_theme_colour (pen->view->theme, PLUMB_COLOUR_BEAM);
  bool dark = pen->view->theme->dark;
  cairo_pattern_t *fade = cairo_pattern_create_linear (a.x, a.y, b.x, b.y);
  cairo_pattern_add_color_stop_rgba (fade, 0.0, c.r, c.g, c.b, dark ? 0.34 : 0.6);
  cairo_pattern_add_color_stop_rgba (fade, 1.0, c.r, c.g, c.b, dark ? 0.13 : 0.3);
  plumb_pen_path (pen, outline, n, true);
  cairo_set_source (pen->cr, fade);
  cairo_fill (pen->cr);
  cairo_pattern_destroy (fade);
}

void
plumb_draw_beam_met (PlumbPen *pen, const PlumbVec2 *outline, size_t n)
{
  if (pen->evaluation == NULL || pen->building == NULL)
    return;
  for (uint32_t i = 0; i < pen->evaluation->n_clearances; i++)
    {
      const PlumbClearance *clearance = &pen->evaluation->clearances[i];
      if (clearance->clearance_m > 0.0 || clearance->solid >= pen->building->n_solids)
        continue;
      GArray *solid = plumb_solid_outline (pen, &pen->building->solids[clearance->solid]);
      cairo_save (pen->cr);
      plumb_pen_path (pen, outline, n, true);
      cairo_clip (pen->cr);
      plumb_pen_hatch (pen, (const PlumbVec2 *) (const void *) solid->data, solid->len, PLUMB_HATCH_45,
                       PLUMB_COLOUR_FAILS);
      cairo_restore (pen->cr);
      g_array_unref (solid);
    }
}

/* A bar of a thickness in device units from a to b, on the side of the
 * direction `side` (view). */
static void
draw_bar (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, PlumbVec2 side, double thickness, PlumbDrawColour role)
{
  PlumbVec2 p = plumb_pen_device (pen, a), q = plumb_pen_device (pen, b);
  PlumbVec2 way = plumb_vec2_sub (q, p);
  double length = plumb_vec2_length (way);
  if (length < 1e-6)
    return;
  PlumbVec2 normal = { -way.y / length, way.x / length };
  /* Device y runs down, so the view's side is mirrored. */
  if (normal.x * side.x - normal.y * side.y < 0.0)
    normal = plumb_vec2_scale (normal, -1.0);
  PlumbVec2 off = plumb_vec2_scale (normal, thickness);
  cairo_move_to (pen->cr, p.x, p.y);
  cairo_line_to (pen->cr, q.x, q.y);
  cairo_line_to (pen->cr, q.x + off.x, q.y + off.y);
  cairo_line_to (pen->cr, p.x + off.x, p.y + off.y);
  cairo_close_path (pen->cr);
  plumb_pen_colour (pen, role, 1.0);
  cairo_fill (pen->cr);
}

/* `to` moved on by a device length beyond `from`, in view metres. */
static PlumbVec2
beyond (const PlumbPen *pen, PlumbVec2 from, PlumbVec2 to, double device)
{
  PlumbVec2 way = plumb_vec2_sub (to, from);
  double length = plumb_vec2_length (way);
  return length > 0.0 ? plumb_vec2_along (to, way, device / pen->view->scale_per_m / length) : to;
}

void
plumb_draw_screen_edge (PlumbPen *pen, PlumbVec2 a0, PlumbVec2 a, PlumbVec2 b, PlumbVec2 b0, PlumbVec2 side)
{
  double end = 4.0 * pen->unit;
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_SCREEN, pen->evaluation->screen);
  PlumbDrawColour role = chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL;
  draw_bar (pen, beyond (pen, b0, a0, end), beyond (pen, a0, b0, end), side, 2.0 * pen->unit, role);
  plumb_pen_take_line (pen, plumb_pen_device (pen, a0), plumb_pen_device (pen, b0), end);
  if (plumb_vec2_length (plumb_vec2_sub (b, a)) > 0.0)
    draw_bar (pen, a, b, side, 4.0 * pen->unit, PLUMB_COLOUR_LAMP);
}

/* ---- machine and places ---------------------------------------------------------------- */

static void
draw_cross (PlumbPen *pen, PlumbVec2 device, double half)
{
  cairo_move_to (pen->cr, device.x - half, device.y);
  cairo_line_to (pen->cr, device.x + half, device.y);
  cairo_move_to (pen->cr, device.x, device.y - half);
  cairo_line_to (pen->cr, device.x, device.y + half);
  cairo_stroke (pen->cr);
}

void
plumb_draw_machine (PlumbPen *pen)
{
  if (!plumb_has_machine (pen))
    return;
  const PlumbEvaluation *e = pen->evaluation;
  GArray *body = plumb_points_outline (pen, e->body_corner_m, 8);
  const PlumbVec2 *points = (const PlumbVec2 *) (const void *) body->data;
  bool from_below = pen->view->kind == PLUMB_DRAW_CEILING;
  plumb_pen_polygon (pen, points, body->len, from_below ? PLUMB_N_COLOURS : PLUMB_COLOUR_SHEET, 1.0,
                     from_below ? PLUMB_LINE_ABOVE : PLUMB_LINE_CHOSEN, PLUMB_COLOUR_ACCENT);
  plumb_pen_take_polygon (pen, points, body->len);
  g_array_unref (body);
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  draw_cross (pen, plumb_pen_device (pen, plumb_pen_project (pen, e->plate_m)), 6.0 * pen->unit);
}

void
plumb_draw_lens_dot (PlumbPen *pen)
{
  if (!plumb_has_machine (pen))
    return;
  PlumbVec2 lens = plumb_pen_device (pen, plumb_pen_project (pen, pen->evaluation->beam.lens_m));
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  cairo_arc (pen->cr, lens.x, lens.y, 2.4 * pen->unit, 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
}

static const char *
carried_word (int carried)
{
  static const char *const words[PLUMB_N_CARRIED] = { N_ ("hung"), N_ ("standing"), N_ ("on a wall arm") };
  return carried >= 0 && carried < PLUMB_N_CARRIED ? words[carried] : "";
}

static void
draw_other_place (PlumbPen *pen, PlumbVec2 device)
{
  double r = 5.5 * pen->unit;
  plumb_pen_line (pen, PLUMB_LINE_SOLID);
  cairo_arc (pen->cr, device.x, device.y, r, 0.0, 2.0 * G_PI);
  cairo_stroke (pen->cr);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  draw_cross (pen, device, 8.0 * pen->unit);
  plumb_pen_take (pen, (PlumbBox){ device.x - r, device.y - r, device.x + r, device.y + r, false });
}

void
plumb_draw_places (PlumbPen *pen)
{
  if (pen->resolved == NULL)
    return;
  for (uint32_t i = 0; i < pen->resolved->n_places; i++)
    {
      const PlumbPlaceResolved *place = &pen->resolved->places[i];
      const PlumbPlace *record = plumb_scene_place (pen->scene, i);
      if (!place->valid || !plumb_vec3_is_finite (place->plate_m))
        continue;
      bool used = i == plumb_used_place (pen) && plumb_has_machine (pen);
      if (pen->view->kind == PLUMB_DRAW_CEILING && !used && record->carried != PLUMB_CARRIED_HUNG)
        continue;
      bool chosen = used || plumb_pen_selected (pen, PLUMB_RECORD_PLACE, i);
      PlumbDrawColour role = chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2;
      PlumbVec2 device = plumb_pen_device (pen, plumb_pen_project (pen, place->plate_m));
      char *letter = plumb_place_letter (i);
      const char *name = plumb_label_or_id (record->label, record->id);
      /* A place with a name says itself what carries it. */
      bool named = record->label[0] != '\0';
      char *words = named ? g_strdup_printf ("%s  %s", letter, name)
                          : g_strdup_printf ("%s  %s, %s", letter, name, carried_word (record->carried));
      plumb_pen_colour (pen, role, 1.0);
      if (!used)
        draw_other_place (pen, device);
      plumb_pen_label (pen, used ? letter : words, used ? PLUMB_LETTER_PLACE : PLUMB_LETTER_NOTE, role, device,
                       used ? 12.0 * pen->unit : 10.0 * pen->unit, used ? PLUMB_BESIDE_LEFT : PLUMB_BESIDE_RIGHT,
                       true);
      g_free (words);
      g_free (letter);
    }
}

/* ---- round the drawing --------------------------------------------------------------------- */

/* The largest of 1, 2, 5 × 10ⁿ of the unit that is at most `most`. */
static double
round_length (double most, double unit_m)
{
  double units = fmax (most / unit_m, 1e-9);
  double decade = pow (10.0, floor (log10 (units)));
  double lead = units / decade;
  return (lead >= 5.0 ? 5.0 : lead >= 2.0 ? 2.0 : 1.0) * decade * unit_m;
}

/* A foot or a metre, and the bar's length in the room. */
static double
bar_length_m (const PlumbPen *pen, double *unit_m)
{
  *unit_m = pen->units == PLUMB_UNITS_IMPERIAL ? 0.3048 : 1.0;
  return round_length (190.0 * pen->unit / pen->view->scale_per_m, *unit_m);
}

static double
bar_left (const PlumbPen *pen, double length)
{
  return fmax (fmin (pen->frame.x0, pen->view->width - length - 60.0 * pen->unit), 8.0 * pen->unit);
}

void
plumb_draw_scale_bar (PlumbPen *pen)
{
  bool imperial = pen->units == PLUMB_UNITS_IMPERIAL;
  double unit_m, length_m = bar_length_m (pen, &unit_m);
  double length = length_m * pen->view->scale_per_m;
  double x = bar_left (pen, length);
  double y = pen->view->height - 12.0 * pen->unit;
  double high = 5.0 * pen->unit;
  plumb_pen_colour (pen, PLUMB_COLOUR_INK, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  cairo_rectangle (pen->cr, x, y, length, high);
  cairo_stroke (pen->cr);
  cairo_rectangle (pen->cr, x, y, length / 4.0, high);
  cairo_rectangle (pen->cr, x + length / 2.0, y, length / 4.0, high);
  cairo_fill (pen->cr);
  plumb_pen_take (pen, (PlumbBox){ x, y, x + length, y + high, false });
  const double marks[3] = { 0.0, 0.5, 1.0 };
  for (int i = 0; i < 3; i++)
    {
      double value = marks[i] * length_m / unit_m;
      if (i == 1 && fabs (value - nearbyint (value)) > 1e-6 && value > 1.0)
        continue;
      char number[G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_formatd (number, sizeof number, "%g", value);
      char *text = g_strdup_printf ("%s%s", number, i < 2 ? "" : imperial ? " ft" : " m");
      double back = i < 2 ? plumb_pen_text_width (pen, text, PLUMB_LETTER_NOTE) / 2.0 : 4.0 * pen->unit;
      plumb_pen_text (pen, text, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x + marks[i] * length - back,
                      y - 4.0 * pen->unit, false, false);
      g_free (text);
    }
}

void
plumb_draw_to_picture (PlumbPen *pen)
{
  const char *words = N_ ("to the picture");
  double width = plumb_pen_text_width (pen, words, PLUMB_LETTER_NOTE);
  double x = fmin (pen->frame.x1, pen->view->width - 4.0 * pen->unit), y = pen->view->height - 7.0 * pen->unit;
  double half = 8.0 * pen->unit, high = 17.0 * pen->unit, before = 2.0 * half + 8.0 * pen->unit;
  /* Clear of the scale bar and the figure at its end; a narrow pane keeps the
   * mark alone, in the corner. */
  double unit_m, length = bar_length_m (pen, &unit_m) * pen->view->scale_per_m;
  double clear = bar_left (pen, length) + length + 40.0 * pen->unit;
  x = fmin (fmax (x, clear + width + before), pen->view->width - 4.0 * pen->unit);
  plumb_pen_colour (pen, PLUMB_COLOUR_INK, 1.0);
  cairo_move_to (pen->cr, x, y);
  cairo_line_to (pen->cr, x - 2.0 * half, y);
  cairo_line_to (pen->cr, x - half, y - high);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
  plumb_pen_take (pen, (PlumbBox){ x - 2.0 * half, y - high, x, y, false });
  if (x - before - width >= clear)
    plumb_pen_text (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, x - before - width, y, false, false);
}

void
plumb_draw_view_title (PlumbPen *pen)
{
  if (!pen->view->title)
    return;
  char *capitals = g_utf8_strup (plumb_draw_kind_title (pen->view->kind), -1);
  char *text = g_strdup_printf ("%s,  1 : %.0f", capitals, plumb_draw_view_ratio (pen->view));
  plumb_pen_text (pen, text, PLUMB_LETTER_TITLE, PLUMB_COLOUR_INK, 8.0 * pen->unit, 20.0 * pen->unit, false, false);
  g_free (text);
  g_free (capitals);
}
