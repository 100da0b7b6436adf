/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of a survey about walls, diagonals and ceilings. */
#include <stdlib.h>
#include <string.h>

#include "draw/survey-private.h"
#include "text/findings.h"
#include "text/length.h"

/* More corners than this have no diagonals: every pair is tried. */
#define MOST_CORNERS 24
#define MOST_DIAGONALS 6
/* On paper, from the thing measured to its ring's middle. */
#define RING_OFF_MM 4.5
/* Off a corner, where a ceiling's height is looked up. */
#define CORNER_M 0.01

/* ---- order ------------------------------------------------------------------------ */

static const PlumbWallShape *
wall_shape (const PlumbSurveyMaker *maker, uint32_t k)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  return &maker->building->walls[space->first_wall + k % space->n_walls];
}

/* The picture's wall of the space, else the one that faces where it would be. */
static uint32_t
picture_wall (const PlumbSurveyMaker *maker)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  const PlumbEvaluation *e = maker->survey->evaluation;
  uint32_t best = 0;
  double most = -INFINITY;
  for (uint32_t k = 0; k < space->n_walls; k++)
    {
      const PlumbWallShape *wall = wall_shape (maker, k);
      if (e != NULL && e->target.valid && e->target.wall == wall->wall)
        return k;
      double facing
          = -(wall->inward.x * maker->plane.up.x + wall->inward.y * maker->plane.up.y) + wall->length_m * 1e-6;
      if (facing > most)
        {
          most = facing;
          best = k;
        }
    }
  return best;
}

uint32_t
plumb_survey_wall (const PlumbSurveyMaker *maker, uint32_t j)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  /* Corners run counter-clockwise. */
  return space->first_wall + (picture_wall (maker) + space->n_walls - j % space->n_walls) % space->n_walls;
}

/* ---- walls ------------------------------------------------------------------------- */

/* Height of the ceiling near one end of a wall; NAN without a ceiling. */
static double
height_at (const PlumbSurveyMaker *maker, const PlumbWallShape *wall, bool start)
{
  PlumbVec2 p = plumb_vec2_along (start ? wall->start_m : wall->end_m, wall->inward, CORNER_M);
  p = plumb_vec2_along (p, wall->along, start ? CORNER_M : -CORNER_M);
  double z;
  if (plumb_building_ceiling_at (maker->building, maker->space, p, &z) == PLUMB_NO_INDEX)
    return NAN;
  return z - maker->building->spaces[maker->space].floor_z_m;
}

/* Seen from inside, a wall starts at its right end. */
static void
wall_heights (PlumbSurveyMaker *maker, const PlumbWallShape *wall)
{
  double end_m = fmin (0.12 * wall->length_m, 0.5);
  PlumbSurveyItem *left
      = plumb_survey_length (maker, g_strdup (N_ ("height at its left end")), height_at (maker, wall, false), false);
  plumb_survey_ring (left, plumb_vec2_along (wall->end_m, wall->along, -end_m), wall->inward, RING_OFF_MM);
  PlumbSurveyItem *right
      = plumb_survey_length (maker, g_strdup (N_ ("height at its right end")), height_at (maker, wall, true), false);
  plumb_survey_ring (right, plumb_vec2_along (wall->start_m, wall->along, end_m), wall->inward, RING_OFF_MM);
}

static void
wall_lines (PlumbSurveyMaker *maker, const PlumbWallShape *wall, char letter[8])
{
  const PlumbWall *record = plumb_scene_wall (maker->scene, wall->wall);
  g_autofree char *name = plumb_record_name (maker->scene, PLUMB_RECORD_WALL, wall->wall);
  plumb_survey_heading (maker, name);
  memcpy (letter, maker->letter, sizeof maker->letter);

  PlumbVec2 middle = plumb_vec2_scale (plumb_vec2_add (wall->start_m, wall->end_m), 0.5);
  PlumbSurveyItem *along
      = plumb_survey_length (maker, g_strdup (N_ ("along it at the floor, corner to corner")), wall->length_m, false);
  plumb_survey_ring (along, middle, wall->inward, RING_OFF_MM);
  plumb_survey_length (maker, g_strdup (N_ ("along it at the top, corner to corner")), NAN, false);
  wall_heights (maker, wall);
  if (record->construction == PLUMB_CONSTRUCTION_NONE)
    return;
  plumb_survey_length (maker, g_strdup (N_ ("thickness, at a door or window")), record->thickness_m, true);
  plumb_survey_words (maker, PLUMB_ITEM_CIRCLE, N_ ("stud wall  brick  block  stone  concrete  board lining"));
  plumb_survey_length (maker, g_strdup (N_ ("greatest bump under a straight edge")), record->flatness_m, true);
  plumb_survey_length (maker, g_strdup (N_ ("out of plumb, floor to top; + leans in")), NAN, true);
  plumb_survey_words (maker, PLUMB_ITEM_WRITE, N_ ("behind it"));
}

void
plumb_survey_walls (PlumbSurveyMaker *maker)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  uint32_t first = plumb_survey_wall (maker, 0) - space->first_wall;
  for (uint32_t j = 0; j < space->n_walls; j++)
    {
      uint32_t k = space->first_wall + (first + space->n_walls - j) % space->n_walls;
      wall_lines (maker, &maker->building->walls[k], maker->wall_letters[k]);
    }
}

/* ---- diagonals ----------------------------------------------------------------------- */

typedef struct {
  uint32_t from, to;
  double length_m;
} Pair;

static bool
stays_inside (const PlumbSurveyMaker *maker, PlumbVec2 a, PlumbVec2 b)
{
  for (int i = 1; i < 32; i++)
    if (!plumb_building_in_outline (maker->building, maker->space,
                                    plumb_vec2_along (a, plumb_vec2_sub (b, a), i / 32.0)))
      return false;
  return true;
}

static int
longer_first (const void *a, const void *b)
{
  const Pair *p = a, *q = b;
  if (p->length_m != q->length_m)
    return p->length_m < q->length_m ? 1 : -1;
  return p->from != q->from ? p->from < q->from ? -1 : 1 : p->to < q->to ? -1 : p->to > q->to;
}

/* "A·D": the corner between two walls. */
static char *
corner_name (const PlumbSurveyMaker *maker, uint32_t k)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  uint32_t before = space->first_wall + (k + space->n_walls - 1) % space->n_walls;
  return g_strdup_printf ("%s·%s", maker->wall_letters[space->first_wall + k], maker->wall_letters[before]);
}

static void
add_diagonal (PlumbSurveyMaker *maker, const Pair *pair)
{
  PlumbVec2 a = wall_shape (maker, pair->from)->start_m, b = wall_shape (maker, pair->to)->start_m;
  g_autofree char *from = corner_name (maker, pair->from);
  g_autofree char *to = corner_name (maker, pair->to);
  PlumbSurveyItem *item = plumb_survey_length (
      maker, g_strdup_printf (N_ ("corner %s to corner %s, at the floor"), from, to), pair->length_m, false);
  plumb_survey_ring (item, plumb_vec2_along (a, plumb_vec2_sub (b, a), 0.34), plumb_vec2 (0.0, 0.0), 0.0);
  PlumbSurveyDiagonal line = { maker->space, a, b };
  g_array_append_val (maker->survey->diagonals, line);
}

/* n − 2 of them fix an outline of n corners and check it once. */
void
plumb_survey_diagonals (PlumbSurveyMaker *maker)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  uint32_t n = space->n_walls, n_pairs = 0;
  if (!space->valid || n < 4 || n > MOST_CORNERS)
    return;
  Pair pairs[MOST_CORNERS * MOST_CORNERS];
  for (uint32_t i = 0; i < n; i++)
    for (uint32_t k = i + 2; k < n; k++)
      {
        PlumbVec2 a = wall_shape (maker, i)->start_m, b = wall_shape (maker, k)->start_m;
        if ((k + 1) % n != i && stays_inside (maker, a, b))
          pairs[n_pairs++] = (Pair){ i, k, plumb_vec2_length (plumb_vec2_sub (b, a)) };
      }
  if (n_pairs == 0)
    return;
  qsort (pairs, n_pairs, sizeof pairs[0], longer_first);
  plumb_survey_heading (maker, N_ ("Diagonals"));
  for (uint32_t i = 0; i < n_pairs && i < n - 2 && i < MOST_DIAGONALS; i++)
    add_diagonal (maker, &pairs[i]);
}

/* ---- ceilings --------------------------------------------------------------------------- */

#define MOST_POINTS 256

/* Corners of a plane's parts, drawn in so that all lie under it. */
static size_t
points_under (const PlumbSurveyMaker *maker, uint32_t ceiling, PlumbVec2 points[MOST_POINTS])
{
  size_t n = 0;
  for (uint32_t i = 0; i < maker->building->n_cells; i++)
    {
      const PlumbCeilingCell *cell = &maker->building->cells[i];
      if (cell->space != maker->space || cell->ceiling != ceiling || cell->n_points == 0)
        continue;
      PlumbVec2 mean = { 0.0, 0.0 };
      for (int k = 0; k < cell->n_points; k++)
        mean = plumb_vec2_add (mean, plumb_vec2 (cell->point[k].x, cell->point[k].y));
      mean = plumb_vec2_scale (mean, 1.0 / cell->n_points);
      for (int k = 0; k < cell->n_points && n < MOST_POINTS; k++)
        points[n++]
            = plumb_vec2_along (mean, plumb_vec2_sub (plumb_vec2 (cell->point[k].x, cell->point[k].y), mean), 0.62);
    }
  return n;
}

/* The farthest two and the one farthest off their line. */
static void
three_of (const PlumbVec2 *points, size_t n, PlumbVec2 chosen[3])
{
  double most = -1.0;
  for (size_t i = 0; i < n; i++)
    for (size_t k = i; k < n; k++)
      {
        double length = plumb_vec2_length (plumb_vec2_sub (points[k], points[i]));
        if (length > most * (1.0 + 1e-9))
          {
            most = length;
            chosen[0] = points[i];
            chosen[1] = points[k];
          }
      }
  PlumbVec2 line = plumb_vec2_sub (chosen[1], chosen[0]);
  most = -1.0;
  for (size_t i = 0; i < n; i++)
    {
      double off = fabs (plumb_vec2_cross (line, plumb_vec2_sub (points[i], chosen[0])));
      if (off > most * (1.0 + 1e-9))
        {
          most = off;
          chosen[2] = points[i];
        }
    }
}

/* The nearest wall whose line the point lies inside of, square to `across`
 * (NULL: any). */
static const PlumbWallShape *
nearest_wall (const PlumbSurveyMaker *maker, PlumbVec2 point, const PlumbWallShape *across, double *off_m)
{
  const PlumbSpaceShape *space = &maker->building->spaces[maker->space];
  const PlumbWallShape *best = NULL;
  *off_m = INFINITY;
  for (uint32_t k = 0; k < space->n_walls; k++)
    {
      const PlumbWallShape *wall = wall_shape (maker, k);
      double distance = plumb_vec2_dot (plumb_vec2_sub (point, wall->start_m), wall->inward);
      bool turned = across == NULL || fabs (plumb_vec2_cross (wall->along, across->along)) > 0.7;
      if (turned && distance >= 0.0 && distance < *off_m)
        {
          *off_m = distance;
          best = wall;
        }
    }
  return best;
}

/* "0.92 off A, 1.10 off B". */
static char *
place_words (const PlumbSurveyMaker *maker, PlumbVec2 point)
{
  double off[2];
  const PlumbWallShape *near = nearest_wall (maker, point, NULL, &off[0]);
  const PlumbWallShape *across = near != NULL ? nearest_wall (maker, point, near, &off[1]) : NULL;
  if (across == NULL || maker->survey->blank)
    return g_strdup (N_ ("floor to ceiling, at the ring"));
  const unsigned show = PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT;
  g_autofree char *first = plumb_length_format (off[0], maker->units, show);
  g_autofree char *second = plumb_length_format (off[1], maker->units, show);
  return g_strdup_printf (N_ ("floor to ceiling, %s off %s, %s off %s"), first,
                          maker->wall_letters[near - maker->building->walls], second,
                          maker->wall_letters[across - maker->building->walls]);
}

static void
ceiling_lines (PlumbSurveyMaker *maker, uint32_t ceiling, const PlumbVec2 chosen[3])
{
  for (int i = 0; i < 3; i++)
    {
      double z;
      uint32_t at = plumb_building_ceiling_at (maker->building, maker->space, chosen[i], &z);
      double known = at == ceiling ? z - maker->building->spaces[maker->space].floor_z_m : NAN;
      PlumbSurveyItem *item = plumb_survey_length (maker, place_words (maker, chosen[i]), known, false);
      plumb_survey_ring (item, chosen[i], plumb_vec2 (0.0, 0.0), 0.0);
    }
}

static void
cautions (PlumbSurveyMaker *maker)
{
  plumb_survey_item (maker, PLUMB_ITEM_CAUTION, N_ ("Ladder: level ground, footed, nobody alone on it."));
  plumb_survey_item (maker, PLUMB_ITEM_CAUTION,
                     N_ ("Old ceilings and linings may hold asbestos: do not scrape, cut or drill; have them "
                         "tested."));
}

/* Three points of every plane: they fix its height and its slope. */
void
plumb_survey_ceilings (PlumbSurveyMaker *maker)
{
  uint32_t n;
  plumb_scene_ceiling_records (maker->scene, &n);
  bool any = false;
  for (uint32_t i = 0; i < n; i++)
    {
      PlumbVec2 points[MOST_POINTS], chosen[3] = { { 0.0, 0.0 }, { 0.0, 0.0 }, { 0.0, 0.0 } };
      size_t n_points = maker->ceiling_space[i] == maker->space ? points_under (maker, i, points) : 0;
      if (n_points == 0)
        continue;
      three_of (points, n_points, chosen);
      g_autofree char *name = plumb_record_name (maker->scene, PLUMB_RECORD_CEILING, i);
      plumb_survey_heading (maker, name);
      if (!any)
        cautions (maker);
      ceiling_lines (maker, i, chosen);
      any = true;
    }
  if (any)
    return;
  plumb_survey_heading (maker, N_ ("Ceiling"));
  cautions (maker);
  static const char *const where[3] = { N_ ("floor to ceiling, near wall %s"), N_ ("floor to ceiling, in the middle"),
                                        N_ ("floor to ceiling, far from wall %s") };
  for (int i = 0; i < 3; i++)
    {
      GString *words = g_string_new (where[i]);
      g_string_replace (words, "%s", maker->wall_letters[plumb_survey_wall (maker, 0)], 1);
      plumb_survey_length (maker, g_string_free (words, FALSE), NAN, false);
    }
}
