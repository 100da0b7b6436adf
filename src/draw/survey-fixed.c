/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of a survey about structure, openings, outlets and light. */
#include "draw/survey-private.h"
#include "text/findings.h"
#include "text/length.h"

#define RING_OFF_MM 4.5

/* ---- structure -------------------------------------------------------------------- */

static double
distance_to_wall (const PlumbWallShape *wall, PlumbVec2 p)
{
  double along = plumb_clamp (plumb_vec2_dot (plumb_vec2_sub (p, wall->start_m), wall->along), 0.0, wall->length_m);
  return plumb_vec2_length (plumb_vec2_sub (p, plumb_vec2_along (wall->start_m, wall->along, along)));
}

static uint32_t
nearest_wall (const PlumbBuilding *building, PlumbVec2 p)
{
  uint32_t best = PLUMB_NO_INDEX;
  double least = INFINITY;
  for (uint32_t k = 0; k < building->n_walls; k++)
    {
      double distance = distance_to_wall (&building->walls[k], p);
      if (distance < least)
        {
          least = distance;
          best = k;
        }
    }
  return best;
}

static PlumbVec2
middle_of (const PlumbStructure *member)
{
  return plumb_vec2 ((member->start_x_m + member->end_x_m) / 2.0, (member->start_y_m + member->end_y_m) / 2.0);
}

/* Whose sheet the member stands on: the space that it is over, else that of
 * the wall it stands in. */
static uint32_t
space_of (const PlumbBuilding *building, const PlumbStructure *member)
{
  PlumbVec2 p = middle_of (member);
  PlumbVec3 low = { p.x, p.y, fmin (member->start_z_m, member->end_z_m) - 0.01 };
  uint32_t space = plumb_building_space_at (building, low);
  for (uint32_t i = 0; space == PLUMB_NO_INDEX && i < building->n_spaces; i++)
    if (plumb_building_in_outline (building, i, p))
      space = i;
  uint32_t wall = space == PLUMB_NO_INDEX ? nearest_wall (building, p) : PLUMB_NO_INDEX;
  return wall != PLUMB_NO_INDEX ? building->walls[wall].space : space;
}

/* A wall by its id, in the building; `by_record` has an entry per wall record. */
static uint32_t
wall_of (const PlumbSurveyMaker *maker, const uint32_t *by_record, const char *id)
{
  uint32_t record = plumb_scene_find (maker->scene, PLUMB_RECORD_WALL, id);
  return record != PLUMB_NO_INDEX ? by_record[record] : PLUMB_NO_INDEX;
}

void
plumb_survey_find_fixed (PlumbSurveyMaker *maker)
{
  uint32_t n, n_walls;
  plumb_scene_wall_records (maker->scene, &n_walls);
  uint32_t *by_record = g_new (uint32_t, n_walls + 1);
  for (uint32_t i = 0; i <= n_walls; i++)
    by_record[i] = PLUMB_NO_INDEX;
  for (uint32_t k = 0; k < maker->building->n_walls; k++)
    by_record[maker->building->walls[k].wall] = k;
  const PlumbStructure *members = plumb_scene_structure_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    maker->structure_space[i] = space_of (maker->building, &members[i]);
  const PlumbOpening *openings = plumb_scene_opening_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    maker->opening_wall[i] = wall_of (maker, by_record, openings[i].wall);
  const PlumbPort *ports = plumb_scene_port_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    maker->port_wall[i] = wall_of (maker, by_record, ports[i].wall);
  g_free (by_record);
}

/* From where an upright member is measured: its wall's left end, along it. */
static const PlumbWallShape *
wall_behind (const PlumbSurveyMaker *maker, PlumbVec2 p, double *off_m)
{
  uint32_t wall = nearest_wall (maker->building, p);
  if (wall == PLUMB_NO_INDEX)
    return NULL;
  const PlumbWallShape *shape = &maker->building->walls[wall];
  *off_m = shape->length_m - plumb_vec2_dot (plumb_vec2_sub (p, shape->start_m), shape->along);
  return shape;
}

/* From where a lying one is measured: the nearest wall that runs along it. */
static const PlumbWallShape *
wall_along (const PlumbSurveyMaker *maker, PlumbVec2 p, PlumbVec2 along, double *off_m)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  const PlumbWallShape *best = NULL;
  *off_m = INFINITY;
  for (uint32_t k = space->first_wall; k < space->first_wall + space->n_walls; k++)
    {
      const PlumbWallShape *wall = &maker->building->walls[k];
      double off = plumb_vec2_dot (plumb_vec2_sub (p, wall->start_m), wall->inward);
      if (fabs (plumb_vec2_cross (wall->along, along)) < 0.2 && off >= 0.0 && off < *off_m)
        {
          *off_m = off;
          best = wall;
        }
    }
  return best;
}

static char *
edge_words (const PlumbSurveyMaker *maker, const PlumbWallShape *wall, bool upright, const char *edge)
{
  if (wall == NULL)
    return g_strdup_printf (N_ ("from a named wall to its %s edge"), edge);
  const char *letter = maker->wall_letters[wall - maker->building->walls];
  return upright ? g_strdup_printf (N_ ("along %s, left end to its %s edge"), letter, edge)
                 : g_strdup_printf (N_ ("from wall %s to its %s edge"), letter, edge);
}

static void
edge_lines (PlumbSurveyMaker *maker, const PlumbStructure *member)
{
  PlumbVec2 a = plumb_vec2 (member->start_x_m, member->start_y_m), b = plumb_vec2 (member->end_x_m, member->end_y_m);
  PlumbVec2 along = plumb_vec2_sub (b, a);
  double length = plumb_vec2_length (along), off = NAN;
  bool upright = length < 0.5 * fabs (member->end_z_m - member->start_z_m);
  PlumbVec2 p = middle_of (member);
  const PlumbWallShape *wall
      = upright ? wall_behind (maker, p, &off) : wall_along (maker, p, plumb_vec2_scale (along, 1.0 / length), &off);
  PlumbSurveyItem *near = plumb_survey_length (maker, edge_words (maker, wall, upright, N_ ("near")),
                                               off - member->width_m / 2.0, false);
  /* Rings of the two edges stand apart along the member, or off the wall. */
  plumb_survey_ring (near, plumb_vec2_along (a, along, upright ? 0.5 : 0.18), plumb_vec2 (0.0, 0.0), 0.0);
  PlumbSurveyItem *far = plumb_survey_length (maker, edge_words (maker, wall, upright, N_ ("far")),
                                              off + member->width_m / 2.0, false);
  plumb_survey_ring (far, plumb_vec2_along (a, along, upright ? 0.5 : 0.82), plumb_vec2 (0.0, 0.0), 0.0);
}

static void
structure_lines (PlumbSurveyMaker *maker, const PlumbStructure *member)
{
  double floor_z = maker->building->spaces[maker->space].floor_z_m;
  edge_lines (maker, member);
  plumb_survey_length (maker, g_strdup (N_ ("floor to its underside, at one end")), member->start_z_m - floor_z,
                       false);
  plumb_survey_length (maker, g_strdup (N_ ("floor to its underside, at the other end")), member->end_z_m - floor_z,
                       false);
  plumb_survey_length (maker, g_strdup (N_ ("its depth")), member->depth_m, true);
  if (member->count > 1)
    plumb_survey_length (maker, g_strdup (N_ ("spacing, centre to centre")), member->spacing_m, false);
}

static void
structure_unknown (PlumbSurveyMaker *maker)
{
  static const char *const lines[]
      = { N_ ("from a named wall to its near edge"), N_ ("to its far edge"), N_ ("to the near edge of the next"),
          N_ ("to the far edge of the next"), N_ ("floor to its underside") };
  plumb_survey_heading (maker, N_ ("What carries: joists, rafters, studs"));
  plumb_survey_words (maker, PLUMB_ITEM_CIRCLE, N_ ("joist  rafter  stud  tie beam  steel beam  slab"));
  for (size_t i = 0; i < G_N_ELEMENTS (lines); i++)
    plumb_survey_length (maker, g_strdup (lines[i]), NAN, false);
  plumb_survey_length (maker, g_strdup (N_ ("its depth")), NAN, true);
  plumb_survey_words (maker, PLUMB_ITEM_WRITE, N_ ("they run towards"));
}

void
plumb_survey_structure (PlumbSurveyMaker *maker, bool asks_all)
{
  uint32_t n;
  const PlumbStructure *members = plumb_scene_structure_records (maker->scene, &n);
  bool any = false;
  for (uint32_t i = 0; i < n; i++)
    {
      uint32_t space = maker->structure_space[i];
      if (space != maker->space && !(space == PLUMB_NO_INDEX && asks_all))
        continue;
      g_autofree char *name = plumb_record_name (maker->scene, PLUMB_RECORD_STRUCTURE, i);
      plumb_survey_heading (maker, name);
      structure_lines (maker, &members[i]);
      any = true;
    }
  if (!any)
    structure_unknown (maker);
  plumb_survey_item (maker, PLUMB_ITEM_CAUTION,
                     N_ ("Look for both edges from below; no drilling to search. What carries is for a licensed "
                         "person to say."));
}

/* ---- openings ----------------------------------------------------------------------- */

/* Ports and openings have the same measures under other names. */
typedef struct {
  uint32_t wall; /* in the building, PLUMB_NO_INDEX */
  double from_left_m, width_m, sill_m, height_m;
} Hole;

static Hole
make_hole (const PlumbSurveyMaker *maker, uint32_t wall, int end, double along_m, double width_m, double sill_m,
           double height_m)
{
  /* A wall's end is at the left of who faces it. */
  double centre = end == PLUMB_END_END ? along_m : maker->building->walls[wall].length_m - along_m;
  return (Hole){ wall, centre - width_m / 2.0, width_m, sill_m, height_m };
}

static bool
is_here (const PlumbSurveyMaker *maker, uint32_t wall)
{
  return wall != PLUMB_NO_INDEX && maker->building->walls[wall].space == maker->space;
}

static void
hole_lines (PlumbSurveyMaker *maker, const Hole *hole)
{
  bool known = hole->wall != PLUMB_NO_INDEX;
  PlumbSurveyItem *left = plumb_survey_length (
      maker,
      known ? g_strdup_printf (N_ ("along %s, left end to its near edge"), maker->wall_letters[hole->wall])
            : g_strdup (N_ ("along the wall, left end to its near edge")),
      hole->from_left_m, false);
  if (known)
    {
      const PlumbWallShape *wall = &maker->building->walls[hole->wall];
      PlumbVec2 at = plumb_vec2_along (wall->end_m, wall->along, -(hole->from_left_m + hole->width_m / 2.0));
      plumb_survey_ring (left, at, wall->inward, RING_OFF_MM);
    }
  plumb_survey_length (maker, g_strdup (N_ ("floor to its lower edge")), hole->sill_m, false);
  plumb_survey_length (maker, g_strdup (N_ ("clear width")), hole->width_m, false);
  plumb_survey_length (maker, g_strdup (N_ ("clear height")), hole->height_m, false);
}

static void
known_hole (PlumbSurveyMaker *maker, PlumbRecordKind kind, uint32_t index, const Hole *hole)
{
  g_autofree char *name = plumb_record_name (maker->scene, kind, index);
  plumb_survey_heading (maker, name);
  hole_lines (maker, hole);
}

void
plumb_survey_openings (PlumbSurveyMaker *maker, bool asks_all)
{
  uint32_t n;
  bool any = false;
  const PlumbOpening *openings = plumb_scene_opening_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      const PlumbOpening *o = &openings[i];
      if (!is_here (maker, maker->opening_wall[i]))
        continue;
      Hole hole
          = make_hole (maker, maker->opening_wall[i], o->along_end, o->along_m, o->width_m, o->sill_m, o->height_m);
      known_hole (maker, PLUMB_RECORD_OPENING, i, &hole);
      any = true;
    }
  const PlumbPort *ports = plumb_scene_port_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      const PlumbPort *p = &ports[i];
      if (!is_here (maker, maker->port_wall[i]))
        continue;
      Hole hole
          = make_hole (maker, maker->port_wall[i], p->along_end, p->along_m, p->width_m, p->sill_m, p->height_m);
      known_hole (maker, PLUMB_RECORD_PORT, i, &hole);
      any = true;
    }
  if (any || !asks_all)
    return;
  plumb_survey_heading (maker, N_ ("Door or window"));
  plumb_survey_words (maker, PLUMB_ITEM_WRITE, N_ ("in wall"));
  Hole unknown = { PLUMB_NO_INDEX, NAN, NAN, NAN, NAN };
  hole_lines (maker, &unknown);
}

/* ---- outlets ------------------------------------------------------------------------- */

void
plumb_survey_outlets (PlumbSurveyMaker *maker)
{
  static const char *const outlets[]
      = { N_ ("Power outlet"), N_ ("Signal or network outlet"), N_ ("Light switch or dimmer") };
  for (size_t i = 0; i < G_N_ELEMENTS (outlets); i++)
    {
      plumb_survey_heading (maker, outlets[i]);
      if (i == 0)
        plumb_survey_item (maker, PLUMB_ITEM_CAUTION,
                           N_ ("Mains: open nothing. New circuits are for a licensed electrician, under local "
                               "code."));
      plumb_survey_words (maker, PLUMB_ITEM_WRITE, N_ ("on wall"));
      plumb_survey_length (maker, g_strdup (N_ ("along the wall, left end to its middle")), NAN, false);
      plumb_survey_length (maker, g_strdup (N_ ("floor to its middle")), NAN, false);
    }
}

/* ---- light ---------------------------------------------------------------------------- */

static void
lux_line (PlumbSurveyMaker *maker, char *words, double known_lx)
{
  PlumbSurveyItem *item = plumb_survey_length (maker, words, NAN, false);
  item->unit = N_ ("lx");
  if (known_lx > 0.0 && !maker->survey->blank)
    item->known = plumb_number_format (known_lx, known_lx < 10.0 ? 1 : 0, PLUMB_SHOW_TYPOGRAPHIC);
}

void
plumb_survey_light (PlumbSurveyMaker *maker)
{
  uint32_t n;
  plumb_survey_heading (maker, N_ ("Light where the picture will be, projector off"));
  lux_line (maker, g_strdup (N_ ("lamps on, curtains as in use")), NAN);
  lux_line (maker, g_strdup (N_ ("lamps off, curtains as in use")), NAN);
  const PlumbLamp *lamps = plumb_scene_lamp_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      g_autofree char *name = plumb_record_name (maker->scene, PLUMB_RECORD_LAMP, i);
      lux_line (maker, g_strdup_printf (N_ ("%s alone"), name), lamps[i].screen_lx);
    }
  const PlumbLightState *states = plumb_scene_light_state_records (maker->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    {
      g_autofree char *name = plumb_record_name (maker->scene, PLUMB_RECORD_LIGHT_STATE, i);
      lux_line (maker, g_strdup_printf (N_ ("as for “%s”"), name), states[i].screen_lx);
    }
}
