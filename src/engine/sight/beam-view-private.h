/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Faces as the lens sees them: convex polygons on the panel.
 *
 * Along a ray the depth is measured so that the point is lens + depth · ray;
 * its inverse is affine in panel coordinates over a plane.
 */
#pragma once

#include "plumbeam/building.h"
#include "split-private.h"

/* 1 / depth = c + a · panel.x + b · panel.y */
typedef PlumbLine2 PlumbInverseDepth;

/* Panel x and y times depth, and depth, are affine in the room; x, y and ahead
 * are their gradients. */
typedef struct {
  const PlumbBeam *beam;
  PlumbVec3 x, y, ahead;
  PlumbVec2 least, most; /* bounds of the panel's region */
  PlumbVec3 side[4];     /* unit normals of the four planes round the region, outwards */
} PlumbBeamView;

/* A face's corners, the plane before the lens and the four sides of the region. */
#define PLUMB_SEEN_MAX_POINTS (PLUMB_FACE_MAX_POINTS + 5)
typedef struct {
  PlumbSurfaceId surface;
  uint32_t face;
  PlumbInverseDepth inverse;
  /* What is seen of it; its edges may be of any shortness, so it serves for
   * bounds and tests only. */
  uint32_t n;
  PlumbVec2 p[PLUMB_SEEN_MAX_POINTS];
  PlumbVec2 least, most;
  /* The edges as lines on the panel, inner side negative: with the region
   * they bound what is seen. */
  uint32_t n_edges;
  PlumbLine2 edge[PLUMB_FACE_MAX_POINTS];
  /* All corners, also those out of sight, unless one is too near the lens. */
  bool has_corners;
  uint32_t n_corners;
  PlumbVec2 corner[PLUMB_FACE_MAX_POINTS];
} PlumbSeenFace;

PlumbBeamView plumb_beam_view (const PlumbBeam *beam, const PlumbVec2 *region, size_t n_region);
/* Whether any of a sphere lies in the beam. */
bool plumb_beam_view_sphere (const PlumbBeamView *view, PlumbVec3 centre, double radius);
/* The face as it is seen; false when none of it is seen or
 * it is seen edge-on. Leaves surface and face alone. */
bool plumb_beam_view_face (const PlumbBeamView *view, const PlumbVec3 *points, size_t n, PlumbVec3 normal,
                           PlumbSeenFace *seen);
void plumb_points_bounds (const PlumbVec2 *p, size_t n, PlumbVec2 *least, PlumbVec2 *most);
