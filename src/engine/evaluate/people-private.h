/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the checks of people share: the picture as seats see it, and the bodies
 * that may stand before it.
 */
#pragma once

#include "plumbeam/sight.h"
#include "work-private.h"

/* ---- the picture as seats see it ---------------------------------------------- */

typedef struct {
  PlumbPlaneFrame frame;
  PlumbRect picture;
  PlumbVec3 centre_m, corner_m[4]; /* corners as everywhere: bottom left first */
  double pixels_per_m;             /* 0: not known */
} PlumbSeen;

PlumbSeen plumb_seen_of (const PlumbEvaluation *evaluation);
/* Eye off the picture's middle to the viewer's right, and before its plane;
 * level distances, whatever the lean. */
double plumb_seen_aside_m (const PlumbSeen *seen, PlumbVec3 eye);
double plumb_seen_back_m (const PlumbSeen *seen, PlumbVec3 eye);
/* Level, straight away from the picture. */
PlumbVec3 plumb_seen_away (const PlumbSeen *seen);

/* A finding about a resolved seat, with its first three numbers. */
PlumbFinding *plumb_people_add (PlumbWork *work, PlumbCheck check, uint32_t seat);

/* ---- bodies -------------------------------------------------------------------- */

/* One that may stand in the way: occluders first to first + n. */
typedef struct {
  PlumbWho who;
  uint32_t state; /* of a mover, PLUMB_NO_INDEX at rest */
  uint32_t first, n;
  PlumbVec3 centre_m;
  double radius_m;
} PlumbBody;

typedef struct {
  /* In this order: people in place, solids at rest, movers in their states,
   * people along their paths. The numbers are where each kind ends. */
  uint32_t n_people, n_rest, n_moved, n_bodies;
  PlumbBody *bodies;
  uint32_t n_occluders;
  PlumbOccluder *occluders;
  PlumbFigure3d *figures; /* of the resolved seats */
  bool *no_room;          /* seats in which nobody can sit: they neither see nor hide */
  PlumbFigure3d *persons; /* of the person records, where they start */
  PlumbVec3 *points;      /* corners of movers in their states and of swept people */
  uint32_t n_points;
  PlumbBodyTree tree; /* of those at rest */
  uint32_t *found;    /* room for n_rest bodies and all occluders */
  PlumbSilhouette *silhouettes;
  uint32_t n_silhouettes, silhouettes_capacity;
} PlumbBodies;

/* False when out of memory. */
bool plumb_bodies_make (const PlumbWork *work, PlumbBodies *out);
void plumb_bodies_clear (PlumbBodies *bodies);
/* Room for this many silhouettes; false when out of memory. */
bool plumb_bodies_reserve (PlumbBodies *bodies, uint32_t n);
/* Appends the silhouettes of a body; tag = the body. False when out of memory. */
bool plumb_bodies_project (PlumbBodies *bodies, const PlumbSeen *seen, PlumbVec3 from, uint32_t body);
/* Silhouettes of all at rest but one (PLUMB_WHO_NOBODY: all), in place of what
 * was there. Of more than PLUMB_MOST_SILHOUETTES the largest are kept, so that
 * no crowd takes for ever; a share is then at least what it says. */
#define PLUMB_MOST_SILHOUETTES 256
bool plumb_bodies_project_rest (PlumbBodies *bodies, const PlumbSeen *seen, PlumbVec3 from, PlumbWho without);

/* ---- checks --------------------------------------------------------------------- */

void plumb_check_seat_places (PlumbWork *work, PlumbBodies *bodies);
void plumb_check_angles (PlumbWork *work, const PlumbSeen *seen);
void plumb_check_c_values (PlumbWork *work, const PlumbSeen *seen, const bool *no_room);
bool plumb_check_hidden (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies);
bool plumb_check_shadows (PlumbWork *work, const PlumbSeen *seen, PlumbBodies *bodies);
/* Whether the lens is so wide that the shadow of bodies first to last only dims. */
bool plumb_shadow_only_dims (const PlumbWork *work, const PlumbSeen *seen, const PlumbBodies *bodies, uint32_t first,
                             uint32_t last);
/* Head and trunk of somebody on the way, at a place of the path; how many of them meet the picture. */
uint32_t plumb_walker_silhouettes (PlumbVec3 lens, const PlumbSeen *seen, const PlumbPerson *person, PlumbVec3 feet,
                                   PlumbSilhouette out[2]);
/* The states of a solid that moves; NULL and 0 for others. */
const PlumbBlockerState *plumb_work_states_of (const PlumbWork *work, uint32_t solid, uint32_t *n);
/* A solid in one of its mover's states: turned about the hinge, then moved.
 * Corners beyond the room given are left out. */
#define PLUMB_MOVED_MAX_CORNERS 64
PlumbConvex plumb_work_moved_solid (const PlumbBuilding *building, uint32_t i, const PlumbBlockerState *state,
                                    PlumbSolid *solid, PlumbVec3 corners[PLUMB_MOVED_MAX_CORNERS]);
