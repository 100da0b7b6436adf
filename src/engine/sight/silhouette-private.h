/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the files of silhouettes share: the eye before a plane, outlines of
 * segments and elliptical arcs of at most a quarter turn, counter-clockwise.
 */
#pragma once

#include "plumbeam/sight.h"

/* Lesser and greater of two numbers; fmin() and fmax() are calls, for the sake
 * of what is no number. */
static inline double
plumb_lesser (double a, double b)
{
  return a < b ? a : b;
}

static inline double
plumb_greater (double a, double b)
{
  return a > b ? a : b;
}

/* The eye and the plane, with n turned so that the eye is on its positive side. */
typedef struct {
  PlumbVec3 origin, u, v, n;
  double eye_u, eye_v, height; /* of the eye over the plane, > 0 */
} PlumbSightFrame;

/* False when the eye lies in the plane. */
bool plumb_sight_frame (PlumbVec3 from, const PlumbPlaneFrame *plane, PlumbSightFrame *out);
/* (u, v, n) of a point of the room. */
PlumbVec3 plumb_sight_local (const PlumbSightFrame *frame, PlumbVec3 point);
PlumbVec3 plumb_sight_local_direction (const PlumbSightFrame *frame, PlumbVec3 direction);
/* Where the ray through a local point before the eye meets the plane. */
PlumbVec2 plumb_sight_project (const PlumbSightFrame *frame, PlumbVec3 local);
/* Greatest n that is still taken to be before the eye. */
double plumb_sight_near (const PlumbSightFrame *frame);

/* Points of a body between the plane and the eye's own plane, projected. The
 * edges (pairs of indices) are cut at both planes; NULL: every pair of points,
 * which gives the same hull. Returns the number of points. */
size_t plumb_sight_cut_points (const PlumbSightFrame *frame, const PlumbVec3 *local, size_t n, uint16_t (*edges)[2],
                               size_t n_edges, PlumbVec2 *out, size_t capacity);
/* Convex hull in place, counter-clockwise; returns its size. */
size_t plumb_sight_hull (PlumbVec2 *points, size_t n);

/* Outline from a polygon; with too many corners those go first that it misses least. */
void plumb_outline_from_polygon (PlumbVec2 *points, size_t n, PlumbSilhouette *out);
void plumb_outline_add_piece (PlumbSilhouette *outline, const PlumbOutlinePiece *piece);
void plumb_outline_add_segment (PlumbSilhouette *outline, PlumbVec2 p, PlumbVec2 q);
/* Arc from angle t0 to t1 > t0, split into pieces of at most a quarter turn. */
void plumb_outline_add_arc (PlumbSilhouette *outline, PlumbVec2 centre, PlumbVec2 major, PlumbVec2 minor, double t0,
                            double t1);
/* Fills box and area of what lies in the rectangle but for rounding; false when it has none. */
bool plumb_outline_measure (PlumbSilhouette *outline, const PlumbRect *rect);
/* Keeps what lies in the rectangle; false when nothing does. Fills box and area. */
bool plumb_outline_clip (PlumbSilhouette *outline, const PlumbRect *rect);

PlumbVec2 plumb_piece_at (const PlumbOutlinePiece *piece, double t);
/* A point between two of a piece: half-way, or where an arc's tangent is that of
 * the chord. Of a piece that is measured. */
PlumbVec2 plumb_piece_between (const PlumbOutlinePiece *piece, PlumbVec2 p, PlumbVec2 q);
/* ½ ∮ x dy − y dx over a part of the piece from p to q, of an arc over `turn`. */
double plumb_piece_area (const PlumbOutlinePiece *piece, PlumbVec2 p, PlumbVec2 q, double turn);
