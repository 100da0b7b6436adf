/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How blockers, platforms and structure are drawn on each side of a cut. */
#include "draw/parts-private.h"
#include "text/length.h"

static const PlumbVec2 *
points_of (const GArray *array)
{
  return (const PlumbVec2 *) (const void *) array->data;
}

static const PlumbBlocker *
blocker_of (const PlumbPen *pen, const PlumbSolid *solid)
{
  uint32_t n;
  const PlumbBlocker *blockers = plumb_scene_blocker_records (pen->scene, &n);
  return solid->surface.kind == PLUMB_SURFACE_OF_BLOCKER && solid->surface.record < n
             ? &blockers[solid->surface.record]
             : NULL;
}

static const PlumbStructure *
structure_of (const PlumbPen *pen, const PlumbSolid *solid)
{
  uint32_t n;
  const PlumbStructure *members = plumb_scene_structure_records (pen->scene, &n);
  return solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE && solid->surface.record < n
             ? &members[solid->surface.record]
             : NULL;
}

static bool
from_above_or_below (const PlumbPen *pen)
{
  return pen->view->kind == PLUMB_DRAW_PLAN || pen->view->kind == PLUMB_DRAW_CEILING;
}

/* The outline of a blocker; an extruded one in plan by its own corners, since
 * it may have been split into convex pieces. Empty for the other pieces. */
static GArray *
blocker_outline (const PlumbPen *pen, const PlumbSolid *solid, const PlumbBlocker *blocker)
{
  if (blocker->shape != PLUMB_SHAPE_PRISM || !from_above_or_below (pen))
    return plumb_solid_outline (pen, solid);
  GArray *outline = g_array_new (FALSE, FALSE, sizeof (PlumbVec2));
  if (solid->member != 0)
    return outline;
  uint32_t n;
  const PlumbBlockerPoint *corners
      = plumb_scene_nested (pen->scene, PLUMB_RECORD_BLOCKER_POINT, solid->surface.record, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec2 p = plumb_pen_project (pen, plumb_vec3 (corners[i].x_m, corners[i].y_m, blocker->z_m));
      g_array_append_val (outline, p);
    }
  return outline;
}

static PlumbVec2
middle_of (const GArray *outline)
{
  PlumbVec2 sum = { 0 };
  for (guint i = 0; i < outline->len; i++)
    sum = plumb_vec2_add (sum, points_of (outline)[i]);
  return plumb_vec2_scale (sum, 1.0 / MAX (outline->len, 1));
}

/* Half the outline's size on the page, so that a label stands clear of it;
 * the label of a large thing stands in it. */
static PlumbVec2
half_size (const PlumbPen *pen, const GArray *outline, PlumbVec2 middle)
{
  PlumbVec2 most = { 0 };
  for (guint i = 0; i < outline->len; i++)
    {
      most.x = fmax (most.x, fabs (points_of (outline)[i].x - middle.x));
      most.y = fmax (most.y, fabs (points_of (outline)[i].y - middle.y));
    }
  double gap = 5.0 * pen->unit, limit = 60.0 * pen->unit;
  return plumb_vec2 (fmin (most.x * pen->view->scale_per_m, limit) + gap,
                     fmin (most.y * pen->view->scale_per_m, limit) + gap);
}

static void
label_outline (PlumbPen *pen, const GArray *outline, const char *text, bool must)
{
  PlumbVec2 middle = middle_of (outline);
  plumb_pen_label_off (pen, text, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, plumb_pen_device (pen, middle),
                       half_size (pen, outline, middle), PLUMB_BESIDE_RIGHT, must);
}

/* Words keep off small things; a large one may carry them. */
static bool
take_small (PlumbPen *pen, const GArray *outline)
{
  PlumbVec2 middle = middle_of (outline);
  double most = 0.0;
  for (guint i = 0; i < outline->len; i++)
    most = fmax (most, plumb_vec2_length (plumb_vec2_sub (points_of (outline)[i], middle)));
  bool small = most * pen->view->scale_per_m < 45.0 * pen->unit;
  if (small)
    plumb_pen_take_polygon (pen, points_of (outline), outline->len);
  return small;
}

/* ---- platforms ------------------------------------------------------------------- */

static void
draw_platform (PlumbPen *pen, const PlumbSolid *solid, const PlumbBlocker *blocker)
{
  bool cut = pen->view->kind == PLUMB_DRAW_SIDE && plumb_solid_side (pen, solid) == PLUMB_ON_CUT;
  GArray *outline = cut ? plumb_solid_section (pen, solid) : blocker_outline (pen, solid, blocker);
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_BLOCKER, solid->surface.record);
  PlumbLine line = chosen ? PLUMB_LINE_CHOSEN : cut ? PLUMB_LINE_SOLID : PLUMB_LINE_BEAM;
  plumb_pen_polygon (pen, points_of (outline), outline->len, PLUMB_COLOUR_BLOCKER_SOFT, 0.55, line,
                     chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_BLOCKER);
  if (outline->len > 0 && solid->member == 0)
    {
      double level = blocker->z_m + blocker->height_m;
      if (pen->space < pen->building->n_spaces)
        level -= pen->building->spaces[pen->space].floor_z_m;
      char *length = plumb_pen_length (pen, level);
      char *text = g_strdup_printf (level < 0.0 ? "%s" : "+%s", length);
      PlumbVec2 corner = points_of (outline)[0];
      for (guint i = 1; i < outline->len; i++)
        {
          PlumbVec2 p = points_of (outline)[i];
          corner = plumb_vec2 (fmin (corner.x, p.x), cut ? fmax (corner.y, p.y) : fmin (corner.y, p.y));
        }
      PlumbVec2 at = plumb_pen_device (pen, corner);
      at.x += 4.0 * pen->unit;
      at.y += (cut ? 8.0 : -7.0) * pen->unit;
      plumb_pen_label (pen, text, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, at, 0.0, PLUMB_BESIDE_RIGHT, false);
      g_free (text);
      g_free (length);
    }
  g_array_unref (outline);
}

void
plumb_draw_platforms (PlumbPen *pen)
{
  if (pen->building == NULL)
    return;
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      const PlumbBlocker *blocker = blocker_of (pen, solid);
      if (blocker != NULL && blocker->role == PLUMB_ROLE_PLATFORM)
        draw_platform (pen, solid, blocker);
    }
}

/* ---- blockers ---------------------------------------------------------------------- */

/* What the label says: its name, and where it is against the cut. */
static char *
blocker_words (const PlumbPen *pen, const PlumbSolid *solid, const PlumbBlocker *blocker, PlumbSolidSide side)
{
  const char *name = plumb_label_or_id (blocker->label, blocker->id);
  if (pen->view->kind == PLUMB_DRAW_PLAN && side == PLUMB_BEFORE_CUT)
    return g_strdup_printf ("%s, above", name);
  if (pen->view->kind != PLUMB_DRAW_PICTURE || side != PLUMB_BEFORE_CUT)
    return g_strdup (name);
  double least, greatest;
  plumb_solid_depths (pen, solid, &least, &greatest);
  char *length = plumb_length_format (least - pen->plane.cut_m, pen->units, PLUMB_SHOW_TYPOGRAPHIC);
  char *words = g_strdup_printf ("%s, %s in front", name, length);
  g_free (length);
  return words;
}

static void
draw_blocker (PlumbPen *pen, const PlumbSolid *solid, const PlumbBlocker *blocker, PlumbSolidSide side)
{
  bool by_corners = blocker->shape == PLUMB_SHAPE_PRISM && from_above_or_below (pen);
  GArray *outline = side == PLUMB_ON_CUT && !by_corners ? plumb_solid_section (pen, solid)
                                                        : blocker_outline (pen, solid, blocker);
  const PlumbVec2 *points = points_of (outline);
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_BLOCKER, solid->surface.record);
  PlumbDrawColour stroke = chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_BLOCKER;
  if (side == PLUMB_ON_CUT)
    {
      /* What sticks out beyond the section is seen behind it. */
      GArray *seen = blocker_outline (pen, solid, blocker);
      plumb_pen_polygon (pen, points_of (seen), seen->len, PLUMB_COLOUR_BLOCKER_SOFT, 0.4, PLUMB_LINE_THIN, stroke);
      g_array_unref (seen);
      plumb_pen_polygon (pen, points, outline->len, PLUMB_COLOUR_BLOCKER_SOFT, 1.0,
                         chosen ? PLUMB_LINE_CHOSEN : PLUMB_LINE_SOLID, stroke);
    }
  else if (side == PLUMB_BEYOND_CUT)
    plumb_pen_polygon (pen, points, outline->len, PLUMB_COLOUR_BLOCKER_SOFT, 0.5,
                       chosen ? PLUMB_LINE_CHOSEN : PLUMB_LINE_BEAM, stroke);
  else
    {
      bool pale = pen->view->kind == PLUMB_DRAW_PICTURE;
      plumb_pen_polygon (pen, points, outline->len, pale ? PLUMB_COLOUR_BLOCKER_SOFT : PLUMB_N_COLOURS, 0.35,
                         PLUMB_LINE_ABOVE, chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2);
      if (pen->view->kind == PLUMB_DRAW_PLAN)
        {
          plumb_pen_colour (pen, PLUMB_COLOUR_INK3, 1.0);
          plumb_pen_line (pen, PLUMB_LINE_THIN);
          plumb_pen_cross (pen, points, outline->len);
        }
    }
  if (outline->len > 0 && solid->member == 0)
    {
      if (take_small (pen, outline) && blocker->role == PLUMB_ROLE_LAMP && pen->view->kind == PLUMB_DRAW_PLAN)
        {
          /* Lamps are named on the ceiling drawing. */
          g_array_unref (outline);
          return;
        }
      char *words = blocker_words (pen, solid, blocker, side);
      label_outline (pen, outline, words, false);
      g_free (words);
    }
  g_array_unref (outline);
}

/* Stands before the picture, or within this of its wall. */
#define NEAR_WALL_M 1.6

static bool
near_picture (const PlumbPen *pen, const PlumbSolid *solid)
{
  double least, greatest;
  plumb_solid_depths (pen, solid, &least, &greatest);
  if (least - pen->plane.cut_m < NEAR_WALL_M)
    return true;
  PlumbVec3 corner[4];
  bool lit;
  if (!plumb_picture_corners (pen, corner, &lit))
    return false;
  PlumbVec2 low = plumb_pen_project (pen, corner[0]), high = plumb_pen_project (pen, corner[2]);
  GArray *outline = plumb_solid_outline (pen, solid);
  PlumbVec2 a = { INFINITY, INFINITY }, b = { -INFINITY, -INFINITY };
  for (guint i = 0; i < outline->len; i++)
    {
      PlumbVec2 p = points_of (outline)[i];
      a = plumb_vec2 (fmin (a.x, p.x), fmin (a.y, p.y));
      b = plumb_vec2 (fmax (b.x, p.x), fmax (b.y, p.y));
    }
  g_array_unref (outline);
  return a.x < high.x && low.x < b.x && a.y < high.y && low.y < b.y;
}

/* The ceiling drawing shows what hangs there; the Picture view leaves out
 * what stands behind the wall. */
static bool
blocker_shown (const PlumbPen *pen, const PlumbSolid *solid, const PlumbBlocker *blocker, PlumbSolidSide side)
{
  if (blocker->role == PLUMB_ROLE_PLATFORM)
    return false;
  bool fixed = blocker->role == PLUMB_ROLE_BEAM || blocker->role == PLUMB_ROLE_DUCT
               || blocker->role == PLUMB_ROLE_COLUMN || blocker->role == PLUMB_ROLE_STOVE;
  if (pen->view->kind == PLUMB_DRAW_CEILING)
    return plumb_in_picture_space (pen, solid->centre_m)
           && (side == PLUMB_BEYOND_CUT || (side == PLUMB_ON_CUT && fixed));
  if (pen->view->kind == PLUMB_DRAW_PICTURE)
    return side == PLUMB_ON_CUT
           || (side == PLUMB_BEFORE_CUT && plumb_in_picture_space (pen, solid->centre_m)
               && near_picture (pen, solid));
  return true;
}

void
plumb_draw_blockers (PlumbPen *pen, PlumbSolidSide side)
{
  if (pen->building == NULL)
    return;
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      const PlumbBlocker *blocker = blocker_of (pen, solid);
      if (blocker != NULL && plumb_solid_side (pen, solid) == side && blocker_shown (pen, solid, blocker, side))
        draw_blocker (pen, solid, blocker, side);
    }
}

/* ---- structure ------------------------------------------------------------------------ */

static void
draw_stud (PlumbPen *pen, const PlumbSolid *solid, const PlumbStructure *record)
{
  GArray *section = plumb_solid_section (pen, solid);
  const PlumbVec2 *points = points_of (section);
  plumb_pen_polygon (pen, points, section->len, record->found ? PLUMB_COLOUR_TIMBER : PLUMB_N_COLOURS, 1.0,
                     PLUMB_LINE_THIN, PLUMB_COLOUR_INK2);
  if (section->len == 4)
    {
      plumb_pen_line (pen, PLUMB_LINE_THIN);
      plumb_pen_colour (pen, PLUMB_COLOUR_INK2, 1.0);
      plumb_pen_cross (pen, points, section->len);
    }
  g_array_unref (section);
}

static PlumbDrawColour
member_colour (const PlumbStructure *record)
{
  bool timber = record->member != PLUMB_MEMBER_STEEL && record->member != PLUMB_MEMBER_SLAB;
  return timber ? PLUMB_COLOUR_TIMBER : PLUMB_COLOUR_BLOCKER_SOFT;
}

static void
draw_member (PlumbPen *pen, const PlumbSolid *solid, const PlumbStructure *record, PlumbSolidSide side)
{
  bool chosen = plumb_pen_selected (pen, PLUMB_RECORD_STRUCTURE, solid->surface.record);
  PlumbDrawColour stroke = chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_WALL;
  bool ceiling = pen->view->kind == PLUMB_DRAW_CEILING;
  GArray *outline
      = side == PLUMB_ON_CUT && !ceiling ? plumb_solid_section (pen, solid) : plumb_solid_outline (pen, solid);
  const PlumbVec2 *points = points_of (outline);
  PlumbDrawColour fill = member_colour (record);
  if (side == PLUMB_ON_CUT && !ceiling)
    {
      take_small (pen, outline);
      plumb_pen_polygon (pen, points, outline->len, fill, 1.0, chosen ? PLUMB_LINE_CHOSEN : PLUMB_LINE_SOLID, stroke);
      plumb_pen_line (pen, PLUMB_LINE_THIN);
      if (fill == PLUMB_COLOUR_TIMBER && plumb_pen_fine (pen))
        plumb_pen_cross (pen, points, outline->len);
    }
  else if (ceiling && solid->exposed)
    plumb_pen_polygon (pen, points, outline->len, fill, 1.0, PLUMB_LINE_SOLID, stroke);
  else if (!solid->exposed)
    plumb_pen_polygon (pen, points, outline->len, fill, 0.3, chosen ? PLUMB_LINE_CHOSEN : PLUMB_N_LINES, stroke);
  else
    plumb_pen_polygon (pen, points, outline->len, fill, 0.3,
                       side == PLUMB_BEFORE_CUT ? PLUMB_LINE_ABOVE : PLUMB_LINE_BEAM,
                       chosen ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2);
  g_array_unref (outline);
}

/* Whether another member hides this one from the viewer's side: the nearer to
 * the wall of two at the same place is the one that is named. */
static bool
named_by_other (const PlumbPen *pen, const PlumbSolid *solid)
{
  PlumbVec2 own = plumb_pen_project (pen, solid->centre_m);
  double depth = plumb_draw_plane_depth_m (&pen->plane, solid->centre_m);
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *other = &pen->building->solids[i];
      double theirs = plumb_draw_plane_depth_m (&pen->plane, other->centre_m);
      if (other->surface.kind == PLUMB_SURFACE_OF_STRUCTURE && other->exposed && theirs < depth - 0.01
          && theirs > pen->plane.cut_m
          && plumb_vec2_length (plumb_vec2_sub (plumb_pen_project (pen, other->centre_m), own)) < 0.05)
        return true;
    }
  return false;
}

/* T1, T2 … beside each exposed member; hidden ones once, with their spacing. */
static void
label_member (PlumbPen *pen, const PlumbSolid *solid, const PlumbStructure *record, PlumbSolidSide side)
{
  if (!solid->exposed && solid->member != 0)
    return;
  if (pen->view->kind == PLUMB_DRAW_PICTURE && named_by_other (pen, solid))
    return;
  const char *name = plumb_label_or_id (record->label, record->id);
  GString *words = g_string_new (name);
  if (record->count > 1 && solid->exposed)
    g_string_append_printf (words, " %u", solid->member + 1);
  if (record->count > 1 && !solid->exposed)
    {
      char *spacing = plumb_length_format (record->spacing_m, pen->units, PLUMB_SHOW_TYPOGRAPHIC);
      g_string_append_printf (words, ", %s centres", spacing);
      g_free (spacing);
    }
  if (pen->view->kind == PLUMB_DRAW_PICTURE && side == PLUMB_BEFORE_CUT)
    {
      double least, greatest;
      plumb_solid_depths (pen, solid, &least, &greatest);
      char *length = plumb_length_format (fmax (least - pen->plane.cut_m, 0.0), pen->units, PLUMB_SHOW_TYPOGRAPHIC);
      g_string_append_printf (words, ", %s in front", length);
      g_free (length);
    }
  GArray *outline = plumb_solid_outline (pen, solid);
  PlumbVec2 middle = middle_of (outline);
  double half = 0.0;
  for (guint i = 0; i < outline->len; i++)
    half = fmax (half, fabs (points_of (outline)[i].x - middle.x));
  PlumbVec2 left = plumb_pen_device (pen, plumb_vec2 (middle.x - half, middle.y));
  bool elevation = !from_above_or_below (pen) || !solid->exposed;
  if (solid->exposed && from_above_or_below (pen))
    {
      double thick = fmin (record->width_m * pen->view->scale_per_m / 2.0, 10.0 * pen->unit);
      PlumbVec3 run = { record->end_x_m - record->start_x_m, record->end_y_m - record->start_y_m, 0.0 };
      PlumbVec2 way = plumb_vec2_scale (plumb_pen_project (pen, run), 0.5);
      plumb_pen_take_line (pen, plumb_pen_device (pen, plumb_vec2_sub (middle, way)),
                           plumb_pen_device (pen, plumb_vec2_add (middle, way)), thick);
    }
  PlumbVec2 at = elevation ? plumb_pen_device (pen, middle) : left;
  if (outline->len > 0)
    plumb_pen_label (pen, words->str, PLUMB_LETTER_NOTE, PLUMB_COLOUR_INK2, at, (elevation ? 10.0 : 6.0) * pen->unit,
                     elevation ? PLUMB_BESIDE_ABOVE : PLUMB_BESIDE_LEFT, solid->exposed);
  g_array_unref (outline);
  g_string_free (words, TRUE);
}

static void
draw_one (PlumbPen *pen, const PlumbSolid *solid, const PlumbStructure *record, PlumbSolidSide side)
{
  if (record->member == PLUMB_MEMBER_STUD && !solid->exposed)
    {
      if (side == PLUMB_ON_CUT && plumb_pen_fine (pen))
        draw_stud (pen, solid, record);
      return;
    }
  /* Before an upright cut the structure is gone; behind the picture's wall it
   * is not seen. */
  if (pen->view->kind == PLUMB_DRAW_SIDE
      && (side == PLUMB_BEFORE_CUT || (side == PLUMB_BEYOND_CUT && !solid->exposed)))
    return;
  if (pen->view->kind == PLUMB_DRAW_PICTURE && (side == PLUMB_BEYOND_CUT || !solid->exposed))
    return;
  if (pen->view->kind == PLUMB_DRAW_CEILING && side == PLUMB_BEFORE_CUT)
    return;
  draw_member (pen, solid, record, side);
  label_member (pen, solid, record, side);
}

void
plumb_draw_structure (PlumbPen *pen, PlumbSolidSide side)
{
  if (pen->building == NULL)
    return;
  for (uint32_t i = 0; i < pen->building->n_solids; i++)
    {
      const PlumbSolid *solid = &pen->building->solids[i];
      const PlumbStructure *record = structure_of (pen, solid);
      if (record != NULL && plumb_solid_side (pen, solid) == side)
        draw_one (pen, solid, record, side);
    }
}
