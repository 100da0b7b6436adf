/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Hidden shares of whole evaluations in the plain room of sample-job.h: what is
 * left out by tree, ball and pyramid against every body projected, and one
 * figure taken away against plain rays, which share nothing with the outlines.
 */
#include <math.h>

#include "plumbeam/sight.h"
#include "plumbeam/variants.h"
#include "sample-job.h"

#define CENTRE_X 3.1
#define WALL_Y 9.4

static PlumbFigure3d
figure_of (const PlumbSeatResolved *seat)
{
  return plumb_figure_sitting (seat->eye_m, seat->facing_rad, seat->head_above_eye_m, seat->floor_z_m);
}

/* ---- everything projected ------------------------------------------------------------- */

typedef struct {
  const PlumbEvaluation *e;
  PlumbVec3 eye;
  uint32_t n;
  PlumbSilhouette silhouettes[160];
} All;

static void
add (All *all, const PlumbOccluder *body)
{
  g_assert_cmpuint (all->n, <, G_N_ELEMENTS (all->silhouettes));
  all->n += plumb_silhouette (all->eye, &all->e->target.frame, &all->e->picture, body, &all->silhouettes[all->n]);
}

static void
add_figure (All *all, const PlumbFigure3d *figure)
{
  PlumbOccluder head = { .shape = PLUMB_OCCLUDER_ELLIPSOID,
                         .centre_m = figure->head_centre_m,
                         .axis = { figure->head_axis[0], figure->head_axis[1], figure->head_axis[2] },
                         .half_m = figure->head_half_m };

  add (all, &head);
  add (all, &(PlumbOccluder){ .points = figure->trunk_m, .n_points = 8 });
}

static void
add_solids (All *all, const PlumbBuilding *building)
{
  for (uint32_t i = 0; i < building->n_solids; i++)
    {
      const PlumbSolid *solid = &building->solids[i];
      PlumbOccluder body = { .points = &building->corners[solid->first_corner], .n_points = solid->n_corners };
      if (solid->shape != PLUMB_SOLID_POLYHEDRON)
        body = (PlumbOccluder){ .shape = solid->shape == PLUMB_SOLID_CYLINDER ? PLUMB_OCCLUDER_CYLINDER
                                                                              : PLUMB_OCCLUDER_ELLIPSOID,
                                .centre_m = solid->centre_m,
                                .axis = { solid->axis[0], solid->axis[1], solid->axis[2] },
                                .half_m = solid->half_m };
      if (solid->exposed)
        add (all, &body);
    }
}

static double
share_of_everything (const Sample *s, const PlumbResolved *room, const PlumbEvaluation *e, uint32_t own)
{
  g_autofree All *all = g_new0 (All, 1);

  all->e = e;
  all->eye = room->seats[own].eye_m;
  for (uint32_t i = 0; i < room->n_seats; i++)
    if (i != own)
      {
        PlumbFigure3d figure = figure_of (&room->seats[i]);
        add_figure (all, &figure);
      }
  for (guint i = 0; i < s->n_person; i++)
    {
      const PlumbPerson *p = &s->person[i];
      PlumbFigure3d figure
          = plumb_figure_standing (plumb_vec3 (p->x_m, p->y_m, p->floor_z_m), p->facing_rad, p->stature_m);
      add_figure (all, &figure);
    }
  add_solids (all, room->building);
  add (all, &(PlumbOccluder){ .points = e->body_corner_m, .n_points = 8 });
  return plumb_silhouettes_area_m2 (all->silhouettes, all->n) / (e->picture.width_m * e->picture.height_m);
}

static void
add_random_solid (Sample *s, GRand *rand)
{
  static const int shapes[] = { PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID };
  PlumbBlocker *b
      = sample_add_box (s, "b", g_rand_double_range (rand, 0.2, 6.0), g_rand_double_range (rand, 0.5, 9.5),
                        g_rand_double_range (rand, 0.0, 2.5), 0.1, 0.1, 0.1);

  g_snprintf (b->id, sizeof b->id, "b%u", s->n_blocker);
  b->shape = shapes[g_rand_int_range (rand, 0, G_N_ELEMENTS (shapes))];
  b->length_m = b->diameter_m = g_rand_double_range (rand, 0.05, 0.6);
  b->width_m = g_rand_double_range (rand, 0.05, 0.6);
  b->height_m = g_rand_double_range (rand, 0.05, 0.6);
  b->yaw_rad = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
}

static void
random_room (GRand *rand, Sample *s)
{
  sample_init (s);
  s->lens[0].shift_up_share = 1.2;
  s->screen[0].bottom_m = g_rand_double_range (rand, 0.5, 1.1);
  PlumbRow *row = &s->row[0];
  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "r");
  row->count = g_rand_int_range (rand, 2, 8);
  row->rows = g_rand_int_range (rand, 1, 7);
  row->x_m = CENTRE_X - row->pitch_m * (row->count - 1) / 2.0;
  row->y_m = WALL_Y - g_rand_double_range (rand, 1.5, 3.0);
  row->facing_rad = PLUMB_PI / 2.0 + g_rand_double_range (rand, -0.3, 0.3);
  row->row_spacing_m = 0.85;
  row->riser_m = g_rand_double_range (rand, 0.0, 0.2);
  s->n_row = 1;
  plumb_record_default (PLUMB_RECORD_PERSON, &s->person[0]);
  SET_ID (s->person[0].id, "p");
  s->person[0].posture = PLUMB_POSTURE_STANDING;
  s->person[0].x_m = g_rand_double_range (rand, 0.5, 5.7);
  s->person[0].y_m = g_rand_double_range (rand, 1.0, 9.0);
  s->n_person = 1;
  for (int k = g_rand_int_range (rand, 0, 16); k > 0; k--)
    add_random_solid (s, rand);
}

/* Nobody is left out who hides anything. */
static void
test_culled (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (47);
  g_autofree Sample *s = g_new0 (Sample, 1);
  guint compared = 0, hidden = 0;

  for (int k = 0; k < 60; k++)
    {
      PlumbEvaluation *e = NULL;
      random_room (rand, s);
      PlumbScene *scene = sample_scene (s);
      const PlumbResolved *room = plumb_scene_resolved (scene);
      g_assert_true (plumb_evaluate (scene, 0, &e));
      /* A seat without room neither sees nor hides: those rooms do not compare. */
      bool usable = e->has_picture && sample_finding (e, PLUMB_CHECK_PEOPLE_SEAT)->variant == PLUMB_V_SEAT_ROOM;
      for (uint32_t i = 0; usable && i < room->n_seats; i++)
        {
          if (!e->seats[i].before_picture)
            continue;
          double share = share_of_everything (s, room, e, i);
          g_assert_cmpfloat_with_epsilon (e->seats[i].hidden_share, share, 1e-12);
          compared++;
          hidden += share > 0.0;
        }
      plumb_evaluation_free (e);
      plumb_scene_unref (scene);
    }
  g_test_message ("%u seats, %u see less than all", compared, hidden);
  g_assert_cmpuint (compared, >, 300);
  g_assert_cmpuint (hidden, >, 200);
}

/* ---- one taken away ---------------------------------------------------------------------- */

#define ACROSS 96
#define DOWN 54

/* Whether the stretch from eye to point passes through a ball of radius 1 about
 * the origin, or a box of half size 1: the same in stretched terms. */
static bool
through (PlumbVec3 eye, PlumbVec3 point, PlumbVec3 centre, const PlumbVec3 *axis, PlumbVec3 half, bool box)
{
  const double size[3] = { half.x, half.y, half.z };
  double o[3], w[3], low = 0.0, high = 1.0, a = 0.0, b = 0.0, c = -1.0;

  for (int k = 0; k < 3; k++)
    {
      o[k] = plumb_vec3_dot (plumb_vec3_sub (eye, centre), axis[k]) / size[k];
      w[k] = plumb_vec3_dot (plumb_vec3_sub (point, eye), axis[k]) / size[k];
      a += w[k] * w[k];
      b += w[k] * o[k];
      c += o[k] * o[k];
      if (box && w[k] != 0.0)
        {
          low = fmax (low, fmin ((-1.0 - o[k]) / w[k], (1.0 - o[k]) / w[k]));
          high = fmin (high, fmax ((-1.0 - o[k]) / w[k], (1.0 - o[k]) / w[k]));
        }
      else if (box && fabs (o[k]) > 1.0)
        return false;
    }
  if (box)
    return low < high;
  return b * b > a * c && b < 0.0 && -b - sqrt (b * b - a * c) < a;
}

static bool
through_figure (PlumbVec3 eye, PlumbVec3 point, const PlumbFigure3d *f)
{
  PlumbVec3 centre = plumb_vec3_scale (plumb_vec3_add (f->trunk_m[0], f->trunk_m[7]), 0.5);
  PlumbVec3 across = plumb_vec3_sub (f->trunk_m[7], centre);
  PlumbVec3 half = { fabs (plumb_vec3_dot (across, f->head_axis[0])), fabs (plumb_vec3_dot (across, f->head_axis[1])),
                     fabs (plumb_vec3_dot (across, f->head_axis[2])) };

  return through (eye, point, f->head_centre_m, f->head_axis, f->head_half_m, false)
         || through (eye, point, centre, f->head_axis, half, true);
}

/* Share of the picture's points that the figure alone stands before. */
static double
alone_before (const PlumbResolved *room, const PlumbEvaluation *e, uint32_t own, uint32_t gone)
{
  PlumbVec3 eye = room->seats[own].eye_m;
  guint alone = 0;

  for (int i = 0; i < ACROSS * DOWN; i++)
    {
      double x = (i % ACROSS + 0.5) / ACROSS - 0.5, y = (i / ACROSS + 0.5) / DOWN - 0.5;
      PlumbVec3 p = plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u,
                                      e->picture.centre_m.x + x * e->picture.width_m);
      p = plumb_vec3_along (p, e->target.frame.v, e->picture.centre_m.y + y * e->picture.height_m);
      PlumbFigure3d figure = figure_of (&room->seats[gone]);
      bool by_it = through_figure (eye, p, &figure), by_others = false;
      for (uint32_t k = 0; by_it && !by_others && k < room->n_seats; k++)
        if (k != own && k != gone)
          {
            figure = figure_of (&room->seats[k]);
            by_others = through_figure (eye, p, &figure);
          }
      alone += by_it && !by_others;
    }
  return alone / (double) (ACROSS * DOWN);
}

/* Four rows of four, staggered and a little raked. Without one of them exactly
 * those see more before whose picture it stood alone, by as much as it hid. */
static void
test_one_taken_away (void)
{
  g_autofree Sample *s = g_new0 (Sample, 1), *without = g_new0 (Sample, 1);
  PlumbEvaluation *all = NULL;
  guint changed = 0, unchanged = 0;

  sample_init (s);
  s->lens[0].shift_up_share = 1.2;
  s->screen[0].bottom_m = 0.7;
  for (int k = 0; k < 16; k++)
    {
      PlumbSeat *seat = &s->seat[s->n_seat];
      plumb_record_default (PLUMB_RECORD_SEAT, seat);
      g_snprintf (seat->id, sizeof seat->id, "s%u", ++s->n_seat);
      seat->x_m = CENTRE_X + 0.62 * (k % 4 - 1.5) + 0.2 * (k / 4 % 2);
      seat->y_m = WALL_Y - 2.6 - 0.9 * (k / 4);
      seat->facing_rad = PLUMB_PI / 2.0;
      seat->floor_z_m = 0.04 * (k / 4);
      seat->eye_height_m = 1.2;
    }
  PlumbScene *scene = sample_scene (s);
  const PlumbResolved *room = plumb_scene_resolved (scene);
  g_assert_true (plumb_evaluate (scene, 0, &all));
  for (uint32_t gone = 0; gone < 16; gone++)
    {
      *without = *s;
      for (uint32_t i = gone; i < 15; i++)
        without->seat[i] = s->seat[i + 1];
      without->n_seat = 15;
      PlumbEvaluation *e = sample_evaluate (without);
      for (uint32_t i = 0; i < 16; i++)
        {
          if (i == gone)
            continue;
          double more = all->seats[i].hidden_share - e->seats[i < gone ? i : i - 1].hidden_share;
          double alone = alone_before (room, all, i, gone);
          if (alone > 0.0)
            g_assert_cmpfloat (more, >, 1e-9);
          else
            /* Less than the rays are apart, or nothing at all. */
            g_assert_cmpfloat (fabs (more), <, more> 1e-12 ? 3.0 / (ACROSS * DOWN) : 1e-12);
          g_assert_cmpfloat_with_epsilon (more, alone, 40.0 / (ACROSS * DOWN));
          *(alone > 0.0 ? &changed : &unchanged) += 1;
        }
      plumb_evaluation_free (e);
    }
  g_assert_cmpuint (changed, >, 20);
  g_assert_cmpuint (unchanged, >, 120);
  plumb_evaluation_free (all);
  plumb_scene_unref (scene);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/people-hidden/culled", test_culled);
  g_test_add_func ("/people-hidden/one-taken-away", test_one_taken_away);
  return g_test_run ();
}
