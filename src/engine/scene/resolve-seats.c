/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>

#include "plumbeam/people.h"
#include "scene-private.h"

/* Typed, or by the survey; recline counts only where the seat leans. */
#define EYE_HEIGHT_M(s)                                                                                              \
  ((s)->eye_from == PLUMB_EYE_FROM_TYPED                                                                             \
       ? (s)->eye_height_m                                                                                           \
       : plumb_seat_eye_height_m ((s)->kind, (s)->eye_from, (s)->seat_height_m, (s)->recline_rad))
#define HEAD_ABOVE_EYE_M(s)                                                                                          \
  ((s)->eye_from == PLUMB_EYE_FROM_TYPED ? (s)->head_above_eye_m : plumb_body_measures ((s)->eye_from).eye_to_crown_m)

static PlumbSeatResolved
single_seat (const PlumbSeat *seat, uint32_t index)
{
  PlumbSeatResolved out = { .seat = index, .row = PLUMB_NO_INDEX, .number = 1 };

  snprintf (out.id, sizeof out.id, "%s", seat->id);
  out.eye_m = plumb_vec3 (seat->x_m, seat->y_m, seat->floor_z_m + EYE_HEIGHT_M (seat));
  out.facing_rad = seat->facing_rad;
  out.head_above_eye_m = HEAD_ABOVE_EYE_M (seat);
  out.floor_z_m = seat->floor_z_m;
  return out;
}

/* How far seat j sits to the right of the first one. */
static double
step_right_m (const PlumbRow *row, int32_t j)
{
  int aisles = (row->aisle_after > 0 && j >= row->aisle_after) + (row->aisle_2_after > 0 && j >= row->aisle_2_after);

  return j * row->pitch_m + aisles * row->aisle_m;
}

/* Seat j of row i. A curved row keeps its seats on an arc about a point in
 * front of its middle; the next row has the same point and a longer radius. */
PlumbSeatResolved
plumb_row_seat (const PlumbRow *row, uint32_t index, int32_t i, int32_t j)
{
  PlumbSeatResolved out = { .seat = PLUMB_NO_INDEX, .row = index };
  PlumbVec2 forward = plumb_vec2 (cos (row->facing_rad), sin (row->facing_rad));
  PlumbVec2 right = plumb_vec2 (forward.y, -forward.x);
  PlumbVec2 at = plumb_vec2 (row->x_m, row->y_m);
  double step_m = step_right_m (row, j) + (i % 2 == 1 ? row->stagger_m : 0.0);
  double turn_rad = 0.0;

  if (row->curve_radius_m > 0.0)
    {
      double half_m = step_right_m (row, row->count - 1) / 2.0;
      double radius_m = row->curve_radius_m + i * row->row_spacing_m;
      PlumbVec2 focus = plumb_vec2_along (plumb_vec2_along (at, right, half_m), forward, row->curve_radius_m);
      turn_rad = (step_m - half_m) / radius_m;
      at = plumb_vec2_along (plumb_vec2_along (focus, forward, -radius_m * cos (turn_rad)), right,
                             radius_m * sin (turn_rad));
    }
  else
    at = plumb_vec2_along (plumb_vec2_along (at, right, step_m), forward, -i * row->row_spacing_m);
  out.number = (uint32_t) (i * (int64_t) row->count + j + 1);
  snprintf (out.id, sizeof out.id, "%s:%u", row->id, out.number);
  out.floor_z_m = row->floor_z_m + i * row->riser_m;
  out.eye_m = plumb_vec3 (at.x, at.y, out.floor_z_m + EYE_HEIGHT_M (row));
  out.facing_rad = row->facing_rad + turn_rad;
  out.head_above_eye_m = HEAD_ABOVE_EYE_M (row);
  return out;
}

/* Seats of a row that still find room. */
static uint32_t
seats_of (const PlumbRow *row, uint32_t so_far)
{
  int64_t wanted = (int64_t) row->count * row->rows;
  int64_t room = PLUMB_MAX_SEATS - (int64_t) so_far;

  return (uint32_t) (wanted < room ? wanted : room);
}

bool
plumb_resolve_seats (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults)
{
  uint32_t n_seats, n_rows, total, at = 0;
  const PlumbSeat *seats = plumb_scene_seat_records (scene, &n_seats);
  const PlumbRow *rows = plumb_scene_row_records (scene, &n_rows);

  total = n_seats;
  for (uint32_t i = 0; i < n_rows; i++)
    total += seats_of (&rows[i], total);
  PlumbSeatResolved *out = calloc (total + 1, sizeof *out);
  resolved->seats = out;
  if (out == NULL)
    return false;
  for (; at < n_seats; at++)
    out[at] = single_seat (&seats[at], at);
  for (uint32_t i = 0; i < n_rows; i++)
    {
      uint32_t wanted = seats_of (&rows[i], at);
      for (uint32_t k = 0; k < wanted; k++)
        out[at++] = plumb_row_seat (&rows[i], i, (int32_t) (k / (uint32_t) rows[i].count),
                                    (int32_t) (k % (uint32_t) rows[i].count));
      if (wanted < (int64_t) rows[i].count * rows[i].rows
          && !plumb_fault_sink_add (faults, (PlumbFault){ PLUMB_FAULT_TOO_MANY_SEATS, PLUMB_RECORD_ROW, i,
                                                          PLUMB_FIELD_row_count, PLUMB_NO_INDEX }))
        return false;
    }
  resolved->n_seats = at;
  return true;
}
