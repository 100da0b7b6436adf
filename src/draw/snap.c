/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/snap.h"

#include <string.h>

#include "text/length.h"

/* Two lines must cross at more than this, as a sine, to fix a point. */
#define LEAST_CROSSING 0.3
/* A line of repeated structure pulls at most over this share of the gap. */
#define REPEAT_SHARE (1.0 / 6.0)
/* Round distances stand at least this many tolerances apart. */
#define ROUND_APART 4.0

/* normal·p = offset; normal is a unit vector. */
typedef struct {
  PlumbVec2 normal;
  double offset;
} Constraint;

/* A line to rest on, and where its guide begins. */
typedef struct {
  PlumbVec2 at, along;
  double tolerance_m;
} Line;

typedef struct {
  const PlumbDrawDrag *drag;
  const PlumbBuilding *building;
  double tolerance_m;
  PlumbVec2 pointer;
  PlumbVec2 point; /* as far as it is fixed */
  int n;
  Constraint fixed[2];
  int n_lines;
  PlumbVec2 line_at[2]; /* where the lines that it rests on begin */
  PlumbSnap *out;
} Snapper;

static PlumbVec2
project (const Snapper *s, PlumbVec3 p)
{
  return plumb_draw_plane_from_room (&s->drag->plane, p);
}

/* ---- constraints ------------------------------------------------------------------ */

static bool
crosses_fixed (const Snapper *s, PlumbVec2 normal)
{
  return s->n == 0 || (s->n == 1 && fabs (plumb_vec2_cross (s->fixed[0].normal, normal)) > LEAST_CROSSING);
}

/* The point nearest the pointer that keeps all constraints. */
static PlumbVec2
solve (const Snapper *s)
{
  const Constraint *a = &s->fixed[0], *b = &s->fixed[1];
  if (s->n == 0)
    return s->pointer;
  if (s->n == 1)
    return plumb_vec2_along (s->pointer, a->normal, a->offset - plumb_vec2_dot (a->normal, s->pointer));
  double determinant = plumb_vec2_cross (a->normal, b->normal);
  return plumb_vec2 ((a->offset * b->normal.y - b->offset * a->normal.y) / determinant,
                     (b->offset * a->normal.x - a->offset * b->normal.x) / determinant);
}

static void
fix (Snapper *s, PlumbVec2 normal, double offset)
{
  s->fixed[s->n++] = (Constraint){ normal, offset };
  s->point = solve (s);
}

/* ---- lines of the building ------------------------------------------------------------ */

static void
add_line (GArray *lines, PlumbVec2 at, PlumbVec2 along, double tolerance_m)
{
  double length = plumb_vec2_length (along);
  Line line = { at, plumb_vec2_scale (along, length > 0.0 ? 1.0 / length : 0.0), tolerance_m };
  if (length > 1e-6 && isfinite (at.x) && isfinite (at.y))
    g_array_append_val (lines, line);
}

/* Seats look for no joists, and a screen for no beam above it. */
static bool
wants_structure (const Snapper *s, const PlumbStructure *member)
{
  switch (s->drag->subject.kind)
    {
    case PLUMB_RECORD_PLACE:
      /* What hangs wants what carries it; an arm wants a stud. */
      return (member->member == PLUMB_MEMBER_STUD)
             == (plumb_scene_place (s->drag->scene, s->drag->subject.index)->carried == PLUMB_CARRIED_WALL_ARM);
    case PLUMB_RECORD_BLOCKER:
      return member->member != PLUMB_MEMBER_STUD;
    default:
      return false;
    }
}

static void
add_structure (const Snapper *s, GArray *lines)
{
  for (uint32_t i = 0; i < s->building->n_solids; i++)
    {
      const PlumbSolid *solid = &s->building->solids[i];
      if (solid->surface.kind != PLUMB_SURFACE_OF_STRUCTURE)
        continue;
      const PlumbStructure *record = plumb_scene_structure (s->drag->scene, solid->surface.record);
      if (!wants_structure (s, record))
        continue;
      double tolerance = s->tolerance_m;
      if (record->count > 1)
        tolerance = fmin (tolerance, record->spacing_m * REPEAT_SHARE);
      PlumbVec3 axis = solid->axis[0];
      PlumbVec2 centre = project (s, solid->centre_m), seen = project (s, axis);
      if (plumb_vec2_length (seen) > 0.3)
        add_line (lines, centre, seen, tolerance);
      else
        /* Seen end-on: the upright line through its middle. */
        add_line (lines, centre, plumb_vec2 (0.0, 1.0), tolerance);
    }
}

static void
add_picture (const Snapper *s, GArray *lines)
{
  const PlumbEvaluation *e = s->drag->evaluation;
  if (e == NULL || !e->target.valid || s->drag->subject.kind == PLUMB_RECORD_SCREEN)
    return;
  PlumbVec2 middle = project (s, e->target.frame.origin_m);
  if (s->drag->kind != PLUMB_DRAW_SIDE)
    add_line (lines, middle, plumb_vec2 (0.0, 1.0), s->tolerance_m);
}

/* Lines across and up the page through the other places. */
static void
add_places (const Snapper *s, GArray *lines)
{
  const PlumbResolved *resolved = plumb_scene_resolved (s->drag->scene);
  if (s->drag->subject.kind != PLUMB_RECORD_PLACE)
    return;
  for (uint32_t i = 0; i < resolved->n_places; i++)
    if (i != s->drag->subject.index && resolved->places[i].valid)
      {
        PlumbVec2 at = project (s, resolved->places[i].plate_m);
        add_line (lines, at, plumb_vec2 (0.0, 1.0), s->tolerance_m);
        add_line (lines, at, plumb_vec2 (1.0, 0.0), s->tolerance_m);
      }
}

/* The middle of the wall that a screen or a hole is in. */
static void
add_wall_middle (const Snapper *s, GArray *lines)
{
  uint32_t i = s->drag->subject.index;
  const char *id = "";
  if (s->drag->subject.kind == PLUMB_RECORD_SCREEN && s->drag->part == PLUMB_PART_WHOLE)
    id = plumb_scene_screen (s->drag->scene, i)->wall;
  else if (s->drag->subject.kind == PLUMB_RECORD_PORT)
    id = plumb_scene_port (s->drag->scene, i)->wall;
  else if (s->drag->subject.kind == PLUMB_RECORD_OPENING)
    id = plumb_scene_opening (s->drag->scene, i)->wall;
  uint32_t wall = plumb_scene_find (s->drag->scene, PLUMB_RECORD_WALL, id);
  for (uint32_t k = 0; wall != PLUMB_NO_INDEX && k < s->building->n_walls; k++)
    {
      const PlumbWallShape *shape = &s->building->walls[k];
      if (shape->wall != wall)
        continue;
      PlumbVec2 middle = plumb_vec2_along (shape->start_m, shape->along, shape->length_m / 2.0);
      PlumbVec2 at = project (s, plumb_vec3 (middle.x, middle.y, 0.0));
      PlumbVec2 in = project (s, plumb_vec3 (shape->inward.x, shape->inward.y, 0.0));
      bool level = s->drag->kind == PLUMB_DRAW_PLAN || s->drag->kind == PLUMB_DRAW_CEILING;
      if (level || s->drag->kind == PLUMB_DRAW_PICTURE)
        add_line (lines, at, level ? in : plumb_vec2 (0.0, 1.0), s->tolerance_m);
    }
}

/* Square with the other corners of its outline, along the room's axes. */
static void
add_corners (const Snapper *s, GArray *lines)
{
  const PlumbWall *moved
      = s->drag->subject.kind == PLUMB_RECORD_WALL ? plumb_scene_wall (s->drag->scene, s->drag->subject.index) : NULL;
  for (uint32_t i = 0; moved != NULL && i < s->building->n_walls; i++)
    {
      const PlumbWallShape *wall = &s->building->walls[i];
      const PlumbWall *record = plumb_scene_wall (s->drag->scene, wall->wall);
      if (wall->wall == s->drag->subject.index || strcmp (record->space, moved->space) != 0)
        continue;
      PlumbVec2 at = project (s, plumb_vec3 (record->x_m, record->y_m, 0.0));
      add_line (lines, at, project (s, plumb_vec3 (1.0, 0.0, 0.0)), s->tolerance_m);
      add_line (lines, at, project (s, plumb_vec3 (0.0, 1.0, 0.0)), s->tolerance_m);
    }
}

static double
off_line (const Line *line, PlumbVec2 p)
{
  return fabs (plumb_vec2_cross (line->along, plumb_vec2_sub (p, line->at)));
}

/* Rests on the nearest line that leaves the point a place to be. */
static bool
take_line (Snapper *s, const GArray *lines)
{
  const Line *best = NULL;
  for (guint i = 0; s->n < 2 && i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      PlumbVec2 normal = { -line->along.y, line->along.x };
      if (off_line (line, s->pointer) <= line->tolerance_m && crosses_fixed (s, normal)
          && (best == NULL || off_line (line, s->pointer) < off_line (best, s->pointer)))
        best = line;
    }
  if (best == NULL)
    return false;
  PlumbVec2 normal = { -best->along.y, best->along.x };
  fix (s, normal, plumb_vec2_dot (normal, best->at));
  s->line_at[s->n_lines++] = best->at;
  return true;
}

/* ---- measures ---------------------------------------------------------------------------- */

/* The smallest round distance that stands far enough apart on the page. */
static double
round_step (const Snapper *s, bool imperial)
{
  static const double metric[] = { 0.05, 0.1, 0.25, 0.5, 1.0 };
  static const double feet[] = { 0.25, 0.5, 1.0, 2.0, 4.0 };
  for (size_t i = 0; i < G_N_ELEMENTS (metric); i++)
    {
      double step = imperial ? feet[i] * PLUMB_M_PER_FT : metric[i];
      if (step >= ROUND_APART * s->tolerance_m)
        return step;
    }
  return 0.0;
}

static void
round_measures (Snapper *s, double step, double within_m)
{
  PlumbDrawMeasure measure[PLUMB_DRAG_MAX_MEASURES];
  size_t n = plumb_draw_drag_measures (s->drag, s->pointer, measure);
  for (size_t i = 0; i < n && s->n < 2; i++)
    {
      if (!crosses_fixed (s, measure[i].direction))
        continue;
      double wanted = round (plumb_draw_measure_m (&measure[i], s->point) / step) * step;
      if (fabs (wanted - plumb_draw_measure_m (&measure[i], s->point)) <= within_m)
        fix (s, measure[i].direction, plumb_vec2_dot (measure[i].direction, measure[i].from_m) + wanted);
    }
}

void
plumb_draw_snap_measure (const PlumbDrawDrag *drag, PlumbSnap *snap)
{
  PlumbDrawMeasure measure[PLUMB_DRAG_MAX_MEASURES];
  int units = plumb_scene_job (drag->scene, 0)->units;
  size_t n = plumb_draw_drag_measures (drag, snap->point_m, measure);
  for (size_t i = 0; i < n && snap->n_guides < PLUMB_SNAP_MAX_GUIDES; i++)
    {
      PlumbSnapGuide *guide = &snap->guide[snap->n_guides++];
      double length_m = plumb_draw_measure_m (&measure[i], snap->point_m);
      bool metres = units == PLUMB_UNITS_METRIC && fabs (length_m) >= 0.1;
      unsigned show = metres ? PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT : PLUMB_SHOW_TYPOGRAPHIC;
      g_autofree char *text = plumb_length_format (length_m, units, show);
      *guide = (PlumbSnapGuide){ .a_m = plumb_vec2_along (snap->point_m, measure[i].direction, -length_m),
                                 .b_m = snap->point_m,
                                 .dimension = true,
                                 .field = measure[i].field,
                                 .length_m = length_m };
      g_strlcpy (guide->text, text, sizeof guide->text);
    }
}

void
plumb_draw_snap (const PlumbDrawDrag *drag, const PlumbDrawView *view, PlumbVec2 point_m, double tolerance_px,
                 bool snapping, PlumbSnap *snap)
{
  Snapper s = { .drag = drag,
                .building = plumb_scene_resolved (drag->scene)->building,
                .tolerance_m = tolerance_px / view->scale_per_m,
                .pointer = point_m,
                .point = point_m,
                .out = snap };
  *snap = (PlumbSnap){ .point_m = point_m };
  if (!isfinite (point_m.x) || !isfinite (point_m.y))
    return;
  if (drag->slides)
    {
      PlumbVec2 normal = { -drag->slide.y, drag->slide.x };
      fix (&s, normal, plumb_vec2_dot (normal, plumb_draw_drag_handle (drag)));
    }
  if (snapping)
    {
      g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (Line));
      bool imperial = plumb_scene_job (drag->scene, 0)->units == PLUMB_UNITS_IMPERIAL;
      add_structure (&s, lines);
      add_picture (&s, lines);
      add_places (&s, lines);
      add_wall_middle (&s, lines);
      add_corners (&s, lines);
      while (take_line (&s, lines))
        ;
      double step = round_step (&s, imperial);
      if (step > 0.0)
        round_measures (&s, step, s.tolerance_m);
      round_measures (&s, imperial ? PLUMB_SNAP_GRID_IN * PLUMB_M_PER_IN : PLUMB_SNAP_GRID_M, INFINITY);
    }
  snap->point_m = s.point;
  snap->exact = s.n_lines > 0;
  for (int i = 0; i < s.n_lines; i++)
    snap->guide[snap->n_guides++] = (PlumbSnapGuide){ .a_m = s.line_at[i], .b_m = s.point, .field = -1 };
  plumb_draw_snap_measure (drag, snap);
}
