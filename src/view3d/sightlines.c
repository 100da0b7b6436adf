/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From an eye to the screen's corners, and what stands in the way. */
#include <string.h>

#include "view3d/view3d-private.h"

typedef struct {
  float least[3], most[3];
} Box;

static Box *
boxes_of (const PlumbMesh *mesh)
{
  Box *boxes = g_new (Box, mesh->n_parts + 1);

  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (int k = 0; k < 3; k++)
      {
        boxes[p].least[k] = INFINITY;
        boxes[p].most[k] = -INFINITY;
        for (uint32_t i = mesh->parts[p].first; i < mesh->parts[p].first + mesh->parts[p].n; i++)
          {
            float x = mesh->vertices[mesh->indices[i]].position_m[k];
            boxes[p].least[k] = fminf (boxes[p].least[k], x);
            boxes[p].most[k] = fmaxf (boxes[p].most[k], x);
          }
      }
  return boxes;
}

/* Slab test (Kay and Kajiya 1986) along from + t (to - from), 0 < t < 1. */
static bool
crosses (const Box *box, const double from[3], const double way[3])
{
  double enter = 0.0, leave = 1.0;

  for (int k = 0; k < 3; k++)
    {
      double a = ((double) box->least[k] - from[k]) / way[k], b = ((double) box->most[k] - from[k]) / way[k];
      if (way[k] == 0.0)
        {
          if (from[k] < (double) box->least[k] || from[k] > (double) box->most[k])
            return false;
          continue;
        }
      enter = fmax (enter, fmin (a, b));
      leave = fmin (leave, fmax (a, b));
    }
  return enter <= leave;
}

static bool
is_own (const PlumbSubject *part, const PlumbSeatResolved *seat, uint32_t number)
{
  if (part->kind == PLUMB_RECORD_SEAT)
    return part->index == seat->seat && (part->sub == number || part->sub == PLUMB_NO_INDEX);
  return part->kind == PLUMB_RECORD_ROW && part->index == seat->row && part->sub == number;
}

/* Share of the way to the first thing met, 1 when there is none. The sitter
 * and the screen are left out. */
static double
free_share (const PlumbMesh *whole, const Box *boxes, const PlumbSeatResolved *seat, uint32_t number,
            const PlumbVec3 *to)
{
  PlumbVec3 way = plumb_vec3_sub (*to, seat->eye_m), hit;
  const double from[3] = { seat->eye_m.x, seat->eye_m.y, seat->eye_m.z }, along[3] = { way.x, way.y, way.z };
  double least = 1.0, square = plumb_vec3_dot (way, way);

  for (uint32_t p = 0; p < whole->n_parts; p++)
    {
      const PlumbMeshPart *part = &whole->parts[p];
      if (part->subject.kind == PLUMB_RECORD_SCREEN || is_own (&part->subject, seat, number)
          || !crosses (&boxes[p], from, along))
        continue;
      PlumbMesh one = *whole;
      PlumbMeshPart alone = *part;
      uint32_t unused;
      one.parts = &alone;
      one.n_parts = 1;
      if (plumb_mesh_pick (&one, seat->eye_m, way, &unused, &hit) && square > 0.0)
        least = fmin (least, plumb_vec3_dot (plumb_vec3_sub (hit, seat->eye_m), way) / square);
    }
  /* The wall behind the screen is no obstacle. */
  return least > 0.995 ? 1.0 : least;
}

static void
find_from (PlumbView3d *view, const PlumbMesh *whole, const Box *boxes, uint32_t number)
{
  const PlumbSeatResolved *seat = &plumb_scene_resolved (view->model.scene)->seats[number];
  const PlumbScreenResolved *target = &view->model.evaluation.target;

  for (int i = 0; i < 4; i++)
    {
      double u = (i & 1 ? 0.5 : -0.5) * target->width_m, v = (i & 2 ? 0.5 : -0.5) * target->height_m;
      PlumbSightline line = { .from = seat->eye_m };
      line.to = plumb_vec3_along (plumb_vec3_along (target->frame.origin_m, target->frame.u, u), target->frame.v, v);
      double share = free_share (whole, boxes, seat, number, &line.to);
      line.stop = plumb_vec3_along (line.from, plumb_vec3_sub (line.to, line.from), share);
      g_array_append_val (view->sightlines, line);
    }
}

void
plumb_sightlines_find (PlumbView3d *view)
{
  const PlumbView3dOptions *options = &view->options;

  if (view->model.scene != NULL && view->sightlines_serial == view->model.serial
      && view->sightlines_all == options->all_seats && view->sightlines_seat == options->seat)
    return;
  g_array_set_size (view->sightlines, 0);
  view->sightlines_serial = view->model.serial;
  view->sightlines_all = options->all_seats;
  view->sightlines_seat = options->seat;
  if (view->model.scene == NULL || !view->model.evaluation.target.valid)
    return;
  const PlumbMesh *whole = plumb_model_whole (&view->model);
  uint32_t n = plumb_scene_resolved (view->model.scene)->n_seats;
  g_autofree Box *boxes = boxes_of (whole);
  for (uint32_t i = 0; i < n; i++)
    if (options->all_seats || i == options->seat)
      find_from (view, whole, boxes, i);
}
