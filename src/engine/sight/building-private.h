/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a scene's building is made and freed; only the scene's commit calls it. */
#pragma once

#include "plumbeam/scene.h"

/* A growable list of faults. */
typedef struct {
  PlumbFault *faults;
  uint32_t n_faults, capacity;
} PlumbFaultSink;

void plumb_fault_sink_init (PlumbFaultSink *sink);
/* False only when out of memory. */
bool plumb_fault_sink_add (PlumbFaultSink *sink, PlumbFault fault);
void plumb_fault_sink_clear (PlumbFaultSink *sink);

/* Builds faces, solids, cells and holes from the records (the scene is not
 * committed yet). False only when out of memory. */
bool plumb_building_build (const PlumbScene *scene, PlumbBuilding **out, PlumbFaultSink *sink);
void plumb_building_free (PlumbBuilding *building);
