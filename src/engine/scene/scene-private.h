/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of this folder share about the root of a scene. */
#pragma once

#include <stdatomic.h>

#include "plumbeam/scene.h"

#include "../sight/building-private.h"

/* One counted array of records with a hash of their ids. */
typedef struct {
  atomic_uint references;
  uint32_t count;
  uint32_t n_slots; /* power of two; 0 without ids */
  uint32_t *slots;  /* record index + 1; 0 = empty */
  _Alignas(max_align_t) unsigned char data[];
} PlumbArray;

struct PlumbScene {
  atomic_uint references;
  PlumbArray *arrays[PLUMB_N_RECORDS];
  PlumbResolved *resolved; /* NULL until committed */
};

/* The inner face of a wall: start and end corner, unit vectors along it and
 * into its space. False when the space has no second corner there. */
typedef struct {
  PlumbVec2 start_m, end_m, along, inward;
  double length_m;
} PlumbWallLine;
bool plumb_scene_wall_line (const PlumbScene *scene, uint32_t wall, PlumbWallLine *line);

/* Fills the resolved block of the scene; false only when out of memory. */
bool plumb_scene_resolve (PlumbScene *scene);
void plumb_resolved_free (PlumbResolved *resolved);

bool plumb_resolve_places (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults);
bool plumb_resolve_screens (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults);
bool plumb_resolve_seats (const PlumbScene *scene, PlumbResolved *resolved, PlumbFaultSink *faults);
bool plumb_resolve_references (const PlumbScene *scene, PlumbFaultSink *faults);
