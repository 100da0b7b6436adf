/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the steps of building share: the lists that become a PlumbBuilding.
 *
 * Every step adds to the lists and never fails by itself; a list that ran out
 * of memory remembers it, and plumb_building_build() looks at the end.
 */
#pragma once

#include "building-private.h"
#include "parts-private.h"

/* Walls and outlines end here above the floor when a space has no ceiling at
 * all: the height that a ceiling record assumes. */
#define PLUMB_OPEN_WALL_M 2.4

/* z = c + x · slope_x + y · slope_y */
typedef struct {
  double c, slope_x, slope_y;
} PlumbHeightPlane;

static inline double
plumb_height_at (PlumbHeightPlane plane, PlumbVec2 p)
{
  return plane.c + plane.slope_x * p.x + plane.slope_y * p.y;
}

/* A convex piece of a space's plan under one plane. */
typedef enum {
  PLUMB_ROOF_CEILING,
  PLUMB_ROOF_OPEN,  /* no plane covers it; the plane is where the walls end */
  PLUMB_ROOF_FLOOR, /* the ceiling has come down to the floor: no room here */
} PlumbRoofKind;
typedef struct {
  PlumbRoofKind kind;
  uint32_t space, ceiling;
  PlumbHeightPlane plane;
  PlumbPart part;
} PlumbRoofPart;

/* The face of a wall as parts in (along from its start, z), before they
 * become faces. */
typedef struct {
  uint32_t wall; /* in the wall shapes */
  bool outer;
  double off_m;    /* outwards from the inner face */
  PlumbList parts; /* tag: index of a hole whose closed leaf it is, else PLUMB_NO_INDEX */
} PlumbSheet;

typedef struct {
  const PlumbScene *scene;
  PlumbFaultSink *sink;
  bool failed;
  PlumbList faces, solids, corners, cells, spaces, walls, holes; /* public types */
  PlumbList outline_parts;                                       /* PlumbPart, tag: space */
  PlumbList covers;                                              /* PlumbRoofPart, grouped by space */
  PlumbList sheets;                                              /* PlumbSheet: all inner ones, then all outer ones */
  uint32_t *space_of_wall, *shape_of_wall;                       /* per wall record; PLUMB_NO_INDEX */
} PlumbBuilder;

void plumb_builder_fault (PlumbBuilder *builder, PlumbFaultCode code, PlumbRecordKind kind, uint32_t index,
                          uint32_t other);
/* Adds a flat convex polygon as one or more faces; drops it when it has no
 * area. The normal is taken from `towards`, a direction into the air. */
void plumb_builder_face (PlumbBuilder *builder, PlumbSurfaceId surface, bool outer, const PlumbVec3 *points, size_t n,
                         PlumbVec3 towards);

/* The steps, in this order. */
void plumb_builder_spaces (PlumbBuilder *builder);
void plumb_builder_covers (PlumbBuilder *builder);
void plumb_builder_holes (PlumbBuilder *builder);
void plumb_builder_floors_and_ceilings (PlumbBuilder *builder);
void plumb_builder_walls (PlumbBuilder *builder);
void plumb_builder_solids (PlumbBuilder *builder);

/* Parts of wall-shapes.c and sheets.c. */
static inline PlumbVec3
plumb_wall_point (const PlumbWallShape *wall, double along_m, double outwards_m, double z_m)
{
  PlumbVec2 p = plumb_vec2_along (plumb_vec2_along (wall->start_m, wall->along, along_m), wall->inward, -outwards_m);

  return plumb_vec3 (p.x, p.y, z_m);
}
/* Makes both sheets of every wall of a valid space. */
void plumb_builder_sheets (PlumbBuilder *builder);
/* Cuts ports and openings out of the sheets and adds their edges as faces. */
void plumb_builder_cut_holes (PlumbBuilder *builder);
