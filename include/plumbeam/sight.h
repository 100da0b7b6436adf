/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What hides a picture from a point, exactly: silhouettes on the picture's
 * plane and the area of their union.
 *
 * The point is an eye (sight) or the lens (shadow). Only what lies between the
 * point and the picture's plane counts: every body is clipped at both before
 * it is projected. Polyhedra project to convex polygons; ellipsoids and
 * cylinders to outlines of elliptical arcs and segments, so that areas are
 * closed forms and never samples. A curved body across the eye's own plane
 * throws a hyperbola: its area is exact, its line is written as elliptical arcs
 * and stays within 1e-6 of its own area. Only needles (1 : 100,000) and what is
 * kilometres large are taken with 32 corners, at most 1 % short. Room frame,
 * metres.
 */
#pragma once

#include "plumbeam/building.h"

/* A convex body that may stand in the way: the hull of points, an ellipsoid
 * (centre, axis, half) or a straight cylinder (axis[2], half.x = half.y). */
typedef enum { PLUMB_OCCLUDER_HULL, PLUMB_OCCLUDER_ELLIPSOID, PLUMB_OCCLUDER_CYLINDER } PlumbOccluderShape;
typedef struct {
  PlumbOccluderShape shape;
  const PlumbVec3 *points; /* hull; must outlive the call */
  uint32_t n_points;
  PlumbVec3 centre_m, axis[3], half_m;
  uint32_t tag; /* the caller's */
} PlumbOccluder;

/* One piece of an outline, counter-clockwise: a segment from p to the next
 * piece's p, or an arc of an ellipse. */
typedef struct {
  bool arc;
  PlumbVec2 p, q;                 /* ends */
  PlumbVec2 centre, major, minor; /* arc: centre + major cos t + minor sin t */
  double t0, t1;                  /* t1 > t0 */
  /* What sums ask again and again: its box, the length of its chord; of an arc
   * the rows that turn a way from the centre into (cos t, sin t), and what its
   * ellipse is at least wide, halved. */
  PlumbVec2 least, most, row[2];
  double chord_m, least_m;
} PlumbOutlinePiece;

/* Convex silhouette clipped to the picture. */
#define PLUMB_SILHOUETTE_MAX_PIECES 40
typedef struct {
  uint32_t n_pieces, tag;
  PlumbVec2 least, most; /* its box */
  double area_m2;
  PlumbOutlinePiece piece[PLUMB_SILHOUETTE_MAX_PIECES];
} PlumbSilhouette;

/* The silhouette of one body on the rectangle `picture` of the plane, seen
 * from `from`. False when nothing of the picture is hidden by it. */
bool plumb_silhouette (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture,
                       const PlumbOccluder *body, PlumbSilhouette *out);
/* Area of the union of silhouettes, counted once; exact up to rounding. No
 * allocation; n log n at best, n² pairs at worst. */
double plumb_silhouettes_area_m2 (const PlumbSilhouette *silhouettes, uint32_t n);
/* The pyramid of sight, for looking at many bodies from one point: gradients
 * that rise outward through its sides, the picture's plane and the eye's. */
typedef struct {
  PlumbVec3 gradient[6];
  double level[6], steepness[6];
} PlumbPyramid;

/* False when the point lies in the plane. */
bool plumb_pyramid_make (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, PlumbPyramid *out);
/* False when the body, or a ball, lies wholly beyond one side, so that it hides
 * nothing: a quick test. True may be wrong. */
bool plumb_pyramid_meets (const PlumbPyramid *pyramid, const PlumbOccluder *body);
bool plumb_pyramid_meets_ball (const PlumbPyramid *pyramid, PlumbVec3 centre_m, double radius_m);
/* The last of them in one. */
bool plumb_occluder_near (PlumbVec3 from, const PlumbPlaneFrame *plane, const PlumbRect *picture, PlumbVec3 centre_m,
                          double radius_m);

/* ---- people ------------------------------------------------------------------- */

/* Head and trunk of somebody at true measure, as the sums and the 3D view use
 * them. The head is an ellipsoid, the trunk the hull of eight points. */
typedef struct {
  PlumbVec3 eye_m;
  PlumbVec3 head_centre_m, head_axis[3], head_half_m; /* axis: forward, left, up */
  PlumbVec3 trunk_m[8];
  PlumbVec3 bound_centre_m;
  double bound_radius_m;
} PlumbFigure3d;

/* Sitting at an eye: the crown stands head_above_eye_m over it; facing is the
 * direction in plan, counter-clockwise from x. */
PlumbFigure3d plumb_figure_sitting (PlumbVec3 eye_m, double facing_rad, double head_above_eye_m, double floor_z_m);
/* Standing on a point of the floor; the trunk goes down to the feet. */
PlumbFigure3d plumb_figure_standing (PlumbVec3 feet_m, double facing_rad, double stature_m);
