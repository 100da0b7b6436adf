/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Section on the picture's centre line, picture wall at the left. */
#include "draw/parts-private.h"
#include "draw/section-private.h"
#include "draw/upright-private.h"
#include "text/length.h"

/* Clearances under this are dimensioned. */
#define NEAR_M 0.100
#define MAX_NEAR 6
#define MAX_ROWS 16

static PlumbVec3
between (PlumbVec3 a, PlumbVec3 b)
{
  return plumb_vec3_scale (plumb_vec3_add (a, b), 0.5);
}

/* ---- beam -------------------------------------------------------------------------- */

static void
draw_raw_rays (PlumbPen *pen, PlumbVec2 lens)
{
  const PlumbEvaluation *e = pen->evaluation;
  if (!e->has_raw || !e->has_picture)
    return;
  PlumbVec3 raw[4];
  for (int i = 0; i < 4; i++)
    {
      raw[i] = plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, e->raw.corner[i].x);
      raw[i] = plumb_vec3_along (raw[i], e->target.frame.v, e->raw.corner[i].y);
    }
  plumb_pen_colour (pen, PLUMB_COLOUR_PICTURE, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_RAW);
  double half = e->picture.height_m / 2.0;
  double low = (e->raw.corner[0].y + e->raw.corner[1].y) / 2.0,
         high = (e->raw.corner[2].y + e->raw.corner[3].y) / 2.0;
  /* Only where the raw picture reaches over the picture. */
  if (low < e->picture.centre_m.y - half - 0.001)
    plumb_pen_stroke_line (pen, lens, plumb_pen_project (pen, between (raw[0], raw[1])));
  if (high > e->picture.centre_m.y + half + 0.001)
    plumb_pen_stroke_line (pen, lens, plumb_pen_project (pen, between (raw[2], raw[3])));
}

static void
draw_beam (PlumbPen *pen)
{
  PlumbVec3 corner[4];
  bool lit;
  if (!plumb_has_machine (pen) || !plumb_picture_corners (pen, corner, &lit) || !lit)
    return;
  PlumbVec2 lens = plumb_pen_project (pen, pen->evaluation->beam.lens_m);
  PlumbVec2 ray[3] = { lens, plumb_pen_project (pen, between (corner[0], corner[1])),
                       plumb_pen_project (pen, between (corner[2], corner[3])) };
  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (ray[1], ray[2]), 0.5);
  plumb_draw_beam_fill (pen, ray, 3, lens, middle);
  plumb_draw_beam_met (pen, ray, 3);
  draw_raw_rays (pen, lens);
  plumb_pen_colour (pen, PLUMB_COLOUR_PICTURE, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  plumb_pen_stroke_line (pen, lens, ray[1]);
  plumb_pen_stroke_line (pen, lens, ray[2]);
}

static void
draw_screen (PlumbPen *pen)
{
  if (!plumb_has_target (pen))
    return;
  const PlumbEvaluation *e = pen->evaluation;
  PlumbVec3 edge[4], corner[4];
  bool lit;
  uint32_t n;
  const PlumbScreen *screens = plumb_scene_screen_records (pen->scene, &n);
  double border = e->screen < n ? screens[e->screen].border_m : 0.0;
  plumb_target_rectangle (pen, e->target.width_m / 2.0, e->target.height_m / 2.0 + border, edge);
  if (!plumb_picture_corners (pen, corner, &lit))
    return;
  PlumbVec2 a = plumb_pen_project (pen, between (corner[0], corner[1]));
  PlumbVec2 b = plumb_pen_project (pen, between (corner[2], corner[3]));
  plumb_draw_screen_edge (pen, plumb_pen_project (pen, between (edge[0], edge[1])), a, lit ? b : a,
                          plumb_pen_project (pen, between (edge[2], edge[3])), plumb_vec2 (1.0, 0.0));
}

/* ---- machine ------------------------------------------------------------------------- */

/* Plate, tube and pivot in profile. */
static void
draw_mount (PlumbPen *pen)
{
  if (!plumb_has_machine (pen))
    return;
  const PlumbEvaluation *e = pen->evaluation;
  PlumbVec2 plate = plumb_pen_project (pen, e->plate_m), pivot = plumb_pen_project (pen, e->pivot_m);
  uint32_t n;
  const PlumbMount *mounts = plumb_scene_mount_records (pen->scene, &n);
  plumb_pen_colour (pen, PLUMB_COLOUR_ACCENT, 1.0);
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  PlumbVec2 way = plumb_vec2_sub (pivot, plate);
  double length = plumb_vec2_length (way);
  PlumbVec2 side = length > 0.0 ? plumb_vec2 (-way.y / length, way.x / length) : plumb_vec2 (1.0, 0.0);
  for (int k = -1; k <= 1; k += 2)
    plumb_pen_stroke_line (pen, plumb_vec2_along (plate, side, 0.02 * k), plumb_vec2_along (pivot, side, 0.02 * k));
  double half = e->mount < n ? mounts[e->mount].plate_d_m / 2.0 : 0.06;
  plumb_pen_line (pen, PLUMB_LINE_CUT);
  plumb_pen_stroke_line (pen, plumb_vec2_along (plate, side, -half), plumb_vec2_along (plate, side, half));
  plumb_pen_line (pen, PLUMB_LINE_BEAM);
  PlumbVec2 dot = plumb_pen_device (pen, pivot);
  cairo_arc (pen->cr, dot.x, dot.y, 2.0 * pen->unit, 0.0, 2.0 * G_PI);
  cairo_stroke (pen->cr);
  double drop = plumb_vec3_length (plumb_vec3_sub (e->pivot_m, e->plate_m));
  if (drop < 0.001)
    return;
  char *text = plumb_length_format (drop, pen->units, PLUMB_SHOW_TYPOGRAPHIC);
  char *words = g_strdup_printf ("drop %s", text);
  PlumbVec2 middle = plumb_pen_device (pen, plumb_vec2_scale (plumb_vec2_add (plate, pivot), 0.5));
  plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_ACCENT, middle, 12.0 * pen->unit, PLUMB_BESIDE_RIGHT,
                   true);
  g_free (words);
  g_free (text);
}

/* ---- clearances ----------------------------------------------------------------------- */

static const char *
solid_name (const PlumbPen *pen, const PlumbSolid *solid)
{
  uint32_t n;
  if (solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE)
    {
      const PlumbStructure *members = plumb_scene_structure_records (pen->scene, &n);
      return solid->surface.record < n
                 ? plumb_label_or_id (members[solid->surface.record].label, members[solid->surface.record].id)
                 : "";
    }
  const PlumbBlocker *blockers = plumb_scene_blocker_records (pen->scene, &n);
  return solid->surface.kind == PLUMB_SURFACE_OF_BLOCKER && solid->surface.record < n
             ? plumb_label_or_id (blockers[solid->surface.record].label, blockers[solid->surface.record].id)
             : "";
}

static void
draw_clearances (PlumbPen *pen)
{
  if (pen->evaluation == NULL || pen->building == NULL)
    return;
  int shown = 0;
  for (uint32_t i = 0; i < pen->evaluation->n_clearances && shown < MAX_NEAR; i++)
    {
      const PlumbClearance *near = &pen->evaluation->clearances[i];
      if (near->clearance_m >= NEAR_M || near->solid >= pen->building->n_solids
          || !plumb_vec3_is_finite (near->on_beam_m) || !plumb_vec3_is_finite (near->on_solid_m))
        continue;
      shown++;
      char *length = plumb_length_format (near->clearance_m, pen->units, PLUMB_SHOW_TYPOGRAPHIC);
      const char *name = solid_name (pen, &pen->building->solids[near->solid]);
      bool meets = near->clearance_m <= 0.0;
      char *words = meets ? g_strdup_printf ("beam meets %s", name) : g_strdup_printf ("%s to %s", length, name);
      PlumbVec2 a = plumb_pen_project (pen, near->on_beam_m), b = plumb_pen_project (pen, near->on_solid_m);
      if (meets)
        {
          PlumbVec2 at = plumb_pen_project (pen, pen->building->solids[near->solid].centre_m);
          plumb_pen_label (pen, words, PLUMB_LETTER_NOTE, PLUMB_COLOUR_FAILS, plumb_pen_device (pen, at),
                           26.0 * pen->unit, PLUMB_BESIDE_BELOW, true);
        }
      else
        plumb_pen_gap (pen, a, b, words, PLUMB_COLOUR_TIGHT);
      g_free (words);
      g_free (length);
    }
}

/* ---- strings --------------------------------------------------------------------------- */

/* Level of the ceiling over a room point, NaN where there is none. */
static double
ceiling_over (const PlumbPen *pen, PlumbVec3 point)
{
  double z;
  if (pen->building == NULL || pen->space >= pen->building->n_spaces
      || plumb_building_ceiling_at (pen->building, pen->space, plumb_vec2 (point.x, point.y), &z) == PLUMB_NO_INDEX)
    return NAN;
  return z;
}

static void
height_strings (PlumbPen *pen)
{
  double floor_z = plumb_upright_floor (pen);
  PlumbVec3 corner[4];
  bool lit;
  if (pen->building != NULL && pen->space < pen->building->n_spaces)
    plumb_pen_dimensions (pen, PLUMB_EDGE_LEFT, 2,
                          (const double[2]){ floor_z, pen->building->spaces[pen->space].greatest_ceiling_z_m },
                          (const char *const[1]){ N_ ("ceiling") }, 2);
  if (plumb_picture_corners (pen, corner, &lit))
    {
      PlumbVec3 before = plumb_vec3_along (pen->evaluation->target.frame.origin_m, pen->plane.right, 0.002);
      double low = fmin (corner[0].z, corner[1].z), high = fmax (corner[2].z, corner[3].z);
      const char *const words[3] = { NULL, lit ? N_ ("picture") : N_ ("screen"), NULL };
      plumb_pen_dimensions (pen, PLUMB_EDGE_LEFT, 1,
                            (const double[4]){ floor_z, low, high, ceiling_over (pen, before) }, words, 4);
    }
  if (!plumb_has_machine (pen))
    return;
  double lens = pen->evaluation->beam.lens_m.z, plate = pen->evaluation->plate_m.z;
  plumb_pen_dimensions (pen, PLUMB_EDGE_RIGHT, 2,
                        (const double[3]){ floor_z, plate, ceiling_over (pen, pen->evaluation->plate_m) },
                        (const char *const[2]){ N_ ("plate"), NULL }, 3);
  plumb_pen_dimensions (pen, PLUMB_EDGE_RIGHT, 1, (const double[2]){ fmin (floor_z, lens), fmax (floor_z, lens) },
                        (const char *const[1]){ N_ ("lens") }, 2);
}

static void
distance_strings (PlumbPen *pen)
{
  PlumbVec3 corner[4];
  bool lit;
  if (!plumb_picture_corners (pen, corner, &lit))
    return;
  double picture = plumb_pen_project (pen, between (corner[0], corner[1])).x;
  double back = NAN, behind;
  uint32_t wall;
  PlumbVec3 before = plumb_vec3_along (pen->evaluation->target.frame.origin_m, pen->plane.right, 0.002);
  if (plumb_cast_to_wall (pen, before, pen->plane.right, &behind, &wall))
    back = plumb_pen_project (pen, before).x + behind;
  bool machine = plumb_has_machine (pen);
  double rows[MAX_ROWS + 1] = { picture };
  size_t n = plumb_eye_rows (pen, rows + 1, MAX_ROWS);
  const char *words[MAX_ROWS] = { N_ ("to the first eyes") };
  /* Outer strings first: inner figures then keep off their lines. */
  if (n > 0 && rows[1] > picture)
    plumb_pen_dimensions (pen, PLUMB_EDGE_BOTTOM, machine ? 3 : 1, rows, words, n + 1);
  if (!machine)
    return;
  double lens = plumb_pen_project (pen, pen->evaluation->beam.lens_m).x;
  double plate = plumb_pen_project (pen, pen->evaluation->plate_m).x;
  const char *const lens_words[2] = { N_ ("picture to lens"), NULL };
  const char *const plate_words[2] = { N_ ("picture to plate"), NULL };
  if (plate > picture)
    plumb_pen_dimensions (pen, PLUMB_EDGE_BOTTOM, 2, (const double[2]){ picture, plate }, plate_words, 2);
  plumb_pen_dimensions (pen, PLUMB_EDGE_BOTTOM, 1, (const double[3]){ picture, lens, back }, lens_words, 3);
}

void
plumb_draw_side (PlumbPen *pen)
{
  PlumbSection section;
  plumb_section_init (&section, pen->building, pen->scene, &pen->plane);
  plumb_upright_rooms (pen, &section);
  /* What is behind the section is seen only through its clear rooms. */
  cairo_save (pen->cr);
  if (plumb_upright_clip (pen, &section))
    {
      plumb_upright_roof_edges (pen);
      plumb_draw_structure (pen, PLUMB_BEYOND_CUT);
      plumb_draw_blockers (pen, PLUMB_BEYOND_CUT);
      plumb_draw_platforms (pen);
    }
  cairo_restore (pen->cr);
  draw_beam (pen);
  plumb_draw_people_side (pen);
  plumb_upright_cut (pen, &section);
  plumb_draw_structure (pen, PLUMB_ON_CUT);
  plumb_draw_blockers (pen, PLUMB_ON_CUT);
  plumb_draw_blockers (pen, PLUMB_BEFORE_CUT);
  draw_screen (pen);
  draw_mount (pen);
  plumb_draw_places (pen);
  plumb_draw_machine (pen);
  plumb_draw_lens_dot (pen);
  draw_clearances (pen);
  height_strings (pen);
  distance_strings (pen);
  plumb_section_clear (&section);
}
