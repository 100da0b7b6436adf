/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Plane regions as lists of small convex parts: of a floor plan (x, y) or of
 * a wall's face (along, up). Metres.
 */
#pragma once

#include "plumbeam/building.h"
#include "split-private.h"

/* A growable array; out of memory sets `failed` and nothing is added. */
typedef struct {
  void *items;
  uint32_t n, capacity;
  size_t item_size;
  bool failed;
} PlumbList;

void plumb_list_init (PlumbList *list, size_t item_size);
void plumb_list_clear (PlumbList *list);
/* Room for `count` more items, zeroed; NULL when out of memory. */
void *plumb_list_add (PlumbList *list, uint32_t count);
#define PLUMB_LIST(list, Type) ((Type *) (list)->items)

/* Convex, counter-clockwise, never more points than a face may have. */
typedef struct {
  uint32_t tag; /* what the part belongs to, by the caller */
  uint32_t n;
  PlumbVec2 p[PLUMB_FACE_MAX_POINTS];
} PlumbPart;

/* Upright bounds of a part. */
typedef struct {
  PlumbVec2 least, most;
} PlumbBox2;
PlumbBox2 plumb_part_box (const PlumbPart *part);
/* Adds a convex ring, split so that each part fits; drops what is thinner
 * than the point tolerance. */
void plumb_parts_add (PlumbList *parts, const PlumbRing *ring, uint32_t tag);
PlumbRing plumb_part_ring (const PlumbPart *part);
/* Cuts a part by a convex knife: what lies inside goes to `inside` (NULL
 * drops it) under inside_tag, the rest to `outside` under its own tag.
 * Returns whether anything was inside. */
bool plumb_part_cut (const PlumbPart *part, const PlumbPart *knife, uint32_t inside_tag, PlumbList *inside,
                     PlumbList *outside);
bool plumb_part_holds (const PlumbPart *part, PlumbVec2 point, double tolerance_m);
/* An upright rectangle. */
PlumbPart plumb_part_rectangle (double x0, double x1, double y0, double y1, uint32_t tag);

/* What is wrong with a closed outline. */
typedef enum {
  PLUMB_OUTLINE_FINE,
  PLUMB_OUTLINE_FEW,
  PLUMB_OUTLINE_CROSSES,
  PLUMB_OUTLINE_NO_AREA
} PlumbOutlineState;
/* first and second: the edges that cross or touch. Orientation is not judged. */
PlumbOutlineState plumb_outline_check (const PlumbVec2 *corners, uint32_t n, uint32_t *first, uint32_t *second);
/* Splits a simple outline of either turn into few convex parts. False only
 * when out of memory. */
bool plumb_outline_parts (const PlumbVec2 *corners, uint32_t n, uint32_t tag, PlumbList *parts);
