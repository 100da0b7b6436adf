/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the checks of things near the picture share: one solid where it stands,
 * and the sheet that a screen's face is, or sweeps.
 */
#pragma once

#include "people-private.h"

/* A solid at rest or in a state of its mover. `convex` points into it: never copy. */
typedef struct {
  uint32_t solid, state; /* state PLUMB_NO_INDEX at rest */
  PlumbSolid at;
  PlumbVec3 corners[PLUMB_MOVED_MAX_CORNERS];
  PlumbConvex convex;
} PlumbStanding;

void plumb_standing_at (const PlumbWork *work, uint32_t solid, uint32_t state, PlumbStanding *out);
/* Where a point of the solid at rest has gone. */
PlumbVec3 plumb_standing_point (const PlumbWork *work, const PlumbStanding *standing, PlumbVec3 at_rest);
/* States to try of a solid, beside rest. */
uint32_t plumb_standing_states (const PlumbWork *work, uint32_t solid);
/* One past the last solid of the same record. */
uint32_t plumb_standing_end (const PlumbBuilding *building, uint32_t solid);
/* Whether an exposed solid belongs to a blocker of this role. */
bool plumb_standing_has_role (const PlumbWork *work, uint32_t solid, int32_t role);

/* The face with its border; of a drop screen up to the ceiling, since all of
 * that is swept. Bottom left, bottom right, top right, top left. */
typedef struct {
  PlumbVec3 corner[4];
  double border_m;
} PlumbSheet;
PlumbSheet plumb_sheet_of_face (const PlumbWork *work);
PlumbSheet plumb_sheet_of_way (const PlumbWork *work);
/* Distance of the sheet, moved by `move`, from a body; 0 when it is met. */
double plumb_sheet_distance_m (const PlumbSheet *sheet, PlumbVec3 move, const PlumbConvex *body);
/* A room point along the screen's u, v and n from the face's centre. */
PlumbVec3 plumb_sheet_uvn (const PlumbWork *work, PlumbVec3 point);

/* Share of a record's solids, seen square on, that the face stands before; 0
 * unless its middle is behind the face. In a state of its mover. box: least
 * and greatest of its points along u, v, n. */
double plumb_covered_share (const PlumbWork *work, uint32_t first, uint32_t end, uint32_t state, PlumbVec3 box[2]);

/* False when out of memory. */
bool plumb_check_speakers (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies);
