/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The building cut by an upright plane: clear rooms, walls, ceilings and
 * floors as polygons in view metres.
 */
#pragma once

#include "draw/pen-private.h"

/* One polygon, `n` points from `first` in the section's points. */
typedef struct {
  uint32_t space, record; /* record: wall or ceiling; PLUMB_NO_INDEX for rooms and floors */
  guint first, n;
} PlumbSectionPart;

typedef struct {
  GArray *points;                            /* PlumbVec2 */
  GArray *rooms, *walls, *ceilings, *floors; /* PlumbSectionPart */
} PlumbSection;

void plumb_section_init (PlumbSection *section, const PlumbBuilding *building, const PlumbScene *scene,
                         const PlumbDrawPlane *plane);
void plumb_section_clear (PlumbSection *section);
const PlumbVec2 *plumb_section_points (const PlumbSection *section, const PlumbSectionPart *part);
