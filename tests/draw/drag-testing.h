/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A crooked room to drag things in, and edits put into it. */
#pragma once

#include "../engine/sample-job.h"
#include "draw/drag.h"

/* Five walls of which three are slanted, two slopes and a level strip of
 * ceiling, joists at an odd angle, a screen, a port, seats and blockers. */
void crooked_init (Sample *sample);
/* Puts edits into the sample's records. */
void sample_apply (Sample *sample, const GArray *edits);
/* The handle of a thing in a fresh scene of the sample. */
PlumbVec2 sample_handle (const Sample *sample, PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part);
PlumbSubject subject_of (PlumbRecordKind kind, uint32_t index);
/* Drags by `by` in a drawing, checks that the handle comes to rest within
 * 1e-9 m of where the drag led (a thing that slides: of the foot on its line)
 * and leaves the sample as it was. */
void check_round_trip (const Sample *sample, PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part,
                       PlumbVec2 by);
