/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "building-private.h"

#include <stdlib.h>

void
plumb_fault_sink_init (PlumbFaultSink *sink)
{
  *sink = (PlumbFaultSink){ 0 };
}

bool
plumb_fault_sink_add (PlumbFaultSink *sink, PlumbFault fault)
{
  if (sink->n_faults == sink->capacity)
    {
      uint32_t capacity = sink->capacity == 0 ? 8 : 2 * sink->capacity;
      PlumbFault *grown = realloc (sink->faults, capacity * sizeof *grown);
      if (grown == NULL)
        return false;
      sink->faults = grown;
      sink->capacity = capacity;
    }
  sink->faults[sink->n_faults++] = fault;
  return true;
}

void
plumb_fault_sink_clear (PlumbFaultSink *sink)
{
  free (sink->faults);
  plumb_fault_sink_init (sink);
}
