/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Seats with somebody on each, and people who stand.
 */
#include "plumbeam/people.h"
#include "view3d/mesh-person-private.h"
#include "view3d/mesh-private.h"

/* Heights that are shaped anew; further ones stretch the nearest of these. */
#define MOST_FIGURES 48
#define PAD_HALF_WIDTH_M 0.215
#define LEG_HALF_M 0.014

typedef struct {
  PlumbMaker *maker;
  GPtrArray *figures;
  double grain_m;
} People;

/* Turned by `facing`, standing on a point of the floor. */
typedef struct {
  PlumbVec3 foot;
  double c, s;
} Spot;

/* The more people, the coarser: memory stays within bounds. */
static double
grain_for (uint32_t n)
{
  return n <= 24 ? 0.052 : n <= 300 ? 0.065 : n <= 4000 ? 0.10 : 0.20;
}

static PlumbVec3
turned (const Spot *spot, PlumbVec3 p)
{
  return plumb_vec3 (spot->c * p.x - spot->s * p.y, spot->s * p.x + spot->c * p.y, p.z);
}

static PlumbVec3
placed (const Spot *spot, PlumbVec3 p)
{
  return plumb_vec3_add (spot->foot, turned (spot, p));
}

static const PlumbPersonShape *
figure_for (People *people, PlumbPersonMeasure measure)
{
  const PlumbPersonShape *nearest = NULL;
  double least = INFINITY;

  measure.height_m = plumb_clamp (measure.height_m, 0.5, 3.0);
  measure.head_above_eye_m = plumb_clamp (measure.head_above_eye_m, 0.0, 0.5);
  measure.grain_m = people->grain_m;
  for (guint i = 0; i < people->figures->len; i++)
    {
      const PlumbPersonShape *figure = g_ptr_array_index (people->figures, i);
      double off = fabs (figure->measure.height_m - measure.height_m)
                   + fabs (figure->measure.head_above_eye_m - measure.head_above_eye_m);
      if (figure->measure.sitting == measure.sitting && off < least)
        {
          least = off;
          nearest = figure;
        }
    }
  if (least < 1e-4 || (nearest != NULL && people->figures->len >= MOST_FIGURES))
    return nearest;
  PlumbPersonShape *made = plumb_person_shape_new (&measure);
  g_ptr_array_add (people->figures, made);
  return made;
}

static void
put_figure (People *people, const PlumbPersonShape *figure, const Spot *spot, double height_m)
{
  PlumbMaker *maker = people->maker;
  double stretch = plumb_clamp (height_m, 0.5, 3.0) / figure->measure.height_m;
  uint32_t first = maker->vertices->len;

  for (guint i = 0; i < figure->points->len; i++)
    {
      PlumbVec3 p = g_array_index (figure->points, PlumbVec3, i);
      p.z *= stretch;
      plumb_maker_vertex (maker, placed (spot, p), turned (spot, g_array_index (figure->normals, PlumbVec3, i)),
                          plumb_vec2 (p.y, p.z), PLUMB_MATERIAL_PERSON);
    }
  for (guint i = 0; i < figure->indices->len; i += 3)
    {
      const uint32_t *corner = &g_array_index (figure->indices, uint32_t, i);
      plumb_maker_triangle (maker, first + corner[0], first + corner[1], first + corner[2]);
    }
}

static void
put_box (PlumbMaker *maker, const Spot *spot, PlumbVec3 centre, PlumbVec3 half, PlumbMaterial material)
{
  PlumbVec3 axis[3] = { { spot->c, spot->s, 0.0 }, { -spot->s, spot->c, 0.0 }, { 0.0, 0.0, 1.0 } };
  PlumbBody body = { .n_faces = 0 };

  plumb_body_box (&body, placed (spot, centre), axis, half, material);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_NONE, body.grain);
}

static void
put_chair (PlumbMaker *maker, const Spot *spot, double seat_m)
{
  double w = PAD_HALF_WIDTH_M, top = seat_m + 0.45;

  put_box (maker, spot, plumb_vec3 (-0.035, 0.0, seat_m - 0.015), plumb_vec3 (0.215, w, 0.02), PLUMB_MATERIAL_SEAT);
  put_box (maker, spot, plumb_vec3 (-0.265, 0.0, seat_m + 0.285), plumb_vec3 (0.012, w, 0.165), PLUMB_MATERIAL_SEAT);
  for (int side = -1; side <= 1; side += 2)
    {
      double y = side * (w - LEG_HALF_M);
      double front = (seat_m - 0.035) / 2.0, rear = (top - 0.15) / 2.0;
      put_box (maker, spot, plumb_vec3 (0.16, y, front), plumb_vec3 (LEG_HALF_M, LEG_HALF_M, front),
               PLUMB_MATERIAL_SEAT_LEG);
      put_box (maker, spot, plumb_vec3 (-0.291, y, rear), plumb_vec3 (LEG_HALF_M, LEG_HALF_M, rear),
               PLUMB_MATERIAL_SEAT_LEG);
    }
}

static void
put_sitter (People *people, const Spot *spot, PlumbPersonMeasure measure, PlumbSubject subject)
{
  plumb_maker_part (people->maker, subject, true, true);
  put_chair (people->maker, spot, plumb_person_seat_m (&measure));
  plumb_maker_end_part (people->maker);
  plumb_maker_part (people->maker, subject, false, true);
  put_figure (people, figure_for (people, measure), spot, measure.height_m);
  plumb_maker_end_part (people->maker);
}

static void
put_seats (People *people)
{
  const PlumbResolved *r = people->maker->resolved;

  for (uint32_t i = 0; i < r->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &r->seats[i];
      bool row = seat->row != PLUMB_NO_INDEX;
      PlumbSubject subject = { row ? PLUMB_RECORD_ROW : PLUMB_RECORD_SEAT, row ? seat->row : seat->seat, i };
      Spot spot
          = { { seat->eye_m.x, seat->eye_m.y, seat->floor_z_m }, cos (seat->facing_rad), sin (seat->facing_rad) };
      PlumbPersonMeasure measure = { .sitting = true,
                                     .height_m = plumb_clamp (seat->eye_m.z - seat->floor_z_m, 0.5, 3.0),
                                     .head_above_eye_m = seat->head_above_eye_m };
      if (plumb_vec3_is_finite (seat->eye_m) && isfinite (seat->floor_z_m) && isfinite (seat->facing_rad))
        put_sitter (people, &spot, measure, subject);
    }
}

/* As the sums have it: a walker looks along the path. */
static Spot
spot_of (const PlumbPerson *person)
{
  double facing = person->posture == PLUMB_POSTURE_WALKING
                      ? atan2 (person->end_y_m - person->y_m, person->end_x_m - person->x_m)
                      : person->facing_rad;

  return (Spot){ { person->x_m, person->y_m, person->floor_z_m }, cos (facing), sin (facing) };
}

static void
put_persons (People *people)
{
  uint32_t n;
  const PlumbPerson *persons = plumb_scene_person_records (people->maker->scene, &n);

  for (uint32_t i = 0; i < n; i++)
    {
      PlumbSubject subject = { PLUMB_RECORD_PERSON, i, PLUMB_NO_INDEX };
      Spot spot = spot_of (&persons[i]);
      PlumbPersonMeasure measure = { .sitting = false, .height_m = persons[i].stature_m };
      if (plumb_maker_is_cut_away (people->maker, spot.foot))
        continue;
      if (persons[i].posture == PLUMB_POSTURE_SITTING)
        {
          PlumbFigure3d figure = plumb_figure_of_person (&persons[i]);
          double crown_z = figure.head_centre_m.z + figure.head_half_m.z;
          measure = (PlumbPersonMeasure){ .sitting = true,
                                          .height_m = figure.eye_m.z - persons[i].floor_z_m,
                                          .head_above_eye_m = crown_z - figure.eye_m.z };
          put_sitter (people, &spot, measure, subject);
          continue;
        }
      plumb_maker_part (people->maker, subject, false, true);
      put_figure (people, figure_for (people, measure), &spot, measure.height_m);
      plumb_maker_end_part (people->maker);
    }
}

void
plumb_maker_people (PlumbMaker *maker)
{
  uint32_t n_persons;
  People people = { .maker = maker, .figures = g_ptr_array_new_with_free_func (plumb_person_shape_free) };

  plumb_scene_person_records (maker->scene, &n_persons);
  people.grain_m = grain_for (maker->resolved->n_seats + n_persons);
  put_seats (&people);
  put_persons (&people);
  g_ptr_array_unref (people.figures);
}
