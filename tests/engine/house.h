/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Building records for tests: by hand, or a random house of one or two rooms. */
#pragma once

#include <glib.h>

#include "plumbeam/scene.h"

typedef struct {
  GArray *records[PLUMB_N_RECORDS];
} House;

House *house_new (void);
void house_free (House *house);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (House, house_free)

/* A new record with defaults; the pointer holds until the next one. */
void *house_add (House *house, PlumbRecordKind kind);
uint32_t house_count (const House *house, PlumbRecordKind kind);
/* Ids are the space's, wall's… name with its index: s0, w3. */
PlumbSpace *house_space (House *house, double floor_z_m);
/* The walls of an outline for the space added last; returns the first. */
PlumbWall *house_outline (House *house, const PlumbVec2 *corners, size_t n, double thickness_m);
PlumbCeiling *house_ceiling (House *house, PlumbVec2 at, double height_m, double slope_deg, double rise_deg);
void house_limit (House *house, const PlumbVec2 *corners, size_t n); /* of the ceiling added last */
PlumbBlocker *house_box (House *house, PlumbVec3 under, PlumbVec3 size, double yaw_deg, double pitch_deg);
PlumbPort *house_port (House *house, uint32_t wall, double along_m, double sill_m, double width_m, double height_m);
/* A committed scene. */
PlumbScene *house_scene (const House *house);

typedef enum {
  HOUSE_FLAT_SOLIDS = 1, /* boxes and prisms only: no facets */
  HOUSE_ONE_ROOM = 2,
} HouseFlags;
/* Turned and moved at random; the lens point lies in the first room. */
House *house_random (GRand *rand, HouseFlags flags, PlumbVec3 *lens_m);
/* A beam from the point in any direction. */
PlumbBeam house_beam (GRand *rand, PlumbVec3 lens_m);

/* The same questions as the building answers, worked out again from the
 * records alone and in another way. */
bool house_polygon_holds (const PlumbVec2 *p, size_t n, PlumbVec2 at);         /* sum of angles */
size_t house_corners (const House *house, uint32_t space, PlumbVec2 *corners); /* at most 16 */
/* The ceiling's record by the rule of the design, and its height in the room. */
uint32_t house_rule_ceiling (const House *house, uint32_t space, PlumbVec2 at, double *z_m);
double house_ceiling_height (const House *house, uint32_t ceiling, PlumbVec2 at); /* z of one plane */
/* Everything with x turned round; wall w becomes wall (n - 2 - w) mod n of its space. */
House *house_mirrored (const House *house);
