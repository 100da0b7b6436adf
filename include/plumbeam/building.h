/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The building as flat convex faces and convex solids, and the beam cut to
 * what it meets.
 *
 * Room frame, metres. Built once per scene, immutable afterwards; no pointer
 * into any record. Curved solids are facetted: circumscribed, so that a
 * clearance is never overstated by facets; facet_error_m says by how much
 * they may be too big.
 */
#pragma once

#include "plumbeam/optics.h"

#define PLUMB_NO_INDEX UINT32_MAX
#define PLUMB_FACE_MAX_POINTS 8

/* What a face or a solid belongs to. */
typedef enum {
  PLUMB_SURFACE_OF_NOTHING, /* leaves the building */
  PLUMB_SURFACE_OF_SCREEN,
  PLUMB_SURFACE_OF_WALL,
  PLUMB_SURFACE_OF_FLOOR,
  PLUMB_SURFACE_OF_CEILING,
  PLUMB_SURFACE_OF_STEP,      /* upright face between ceiling planes */
  PLUMB_SURFACE_OF_BLOCKER,
  PLUMB_SURFACE_OF_STRUCTURE,
  PLUMB_SURFACE_OF_PORT,      /* its edges inside the wall */
  PLUMB_SURFACE_OF_OPENING,   /* its closed leaf or its edges */
  PLUMB_N_SURFACES
} PlumbSurfaceKind;

typedef struct {
  PlumbSurfaceKind kind;
  uint32_t record; /* index in the record array: wall, ceiling, blocker…; floor and step: the space */
} PlumbSurfaceId;

/* A flat convex polygon; normal out of the solid matter, towards the air. */
typedef struct {
  PlumbSurfaceId surface;
  uint8_t n_points;
  bool outer; /* the far face of a wall */
  PlumbVec3 point[PLUMB_FACE_MAX_POINTS];
  PlumbVec3 normal;
} PlumbFace;

/* A convex solid by its corners and by its exact shape. Repeated structure
 * members give one solid each (member = 0…).
 *
 * A blocker's box or cylinder first stands on the middle of its underside;
 * yaw turns it counter-clockwise about z, then pitch tips its x axis up about
 * the middle of its body. With yaw ψ and pitch θ its axes are
 *   x (cos ψ cos θ, sin ψ cos θ, sin θ)
 *   y (−sin ψ, cos ψ, 0)
 *   z (−cos ψ sin θ, −sin ψ sin θ, cos θ).
 * A structure member runs along axis[0]; axis[2] goes square up from its
 * underside. An upright member is centred on its line, its width along the
 * direction in which it repeats. */
typedef enum { PLUMB_SOLID_POLYHEDRON, PLUMB_SOLID_CYLINDER, PLUMB_SOLID_ELLIPSOID } PlumbSolidShape;
typedef struct {
  PlumbSurfaceId surface;
  uint32_t member;       /* which repeat of a structure, which piece of a prism */
  bool exposed;          /* stands in the room: cuts beams; hidden structure is only drawn and carries */
  PlumbSolidShape shape;
  PlumbVec3 centre_m;
  PlumbVec3 axis[3];     /* orthonormal; cylinder: axis[2] is its axis */
  PlumbVec3 half_m;      /* half sizes along the axes (box, cylinder, ellipsoid) */
  double bound_radius_m; /* sphere about centre_m that holds it */
  uint32_t first_face, n_faces; /* in the building's face array; 0 for hidden structure */
  uint32_t first_corner, n_corners; /* of a polyhedron, in the corner array */
  double facet_error_m;
} PlumbSolid;

/* One straight convex part of a space's ceiling. */
typedef struct {
  uint32_t space, ceiling;
  uint8_t n_points;
  PlumbVec3 point[PLUMB_FACE_MAX_POINTS]; /* counter-clockwise from above */
} PlumbCeilingCell;

/* The outline of a space as drawn: inner corners and mitred outer corners. */
typedef struct {
  bool valid;                     /* simple, counter-clockwise, at least three corners */
  uint32_t first_wall, n_walls;   /* in PlumbBuilding.outline arrays, in order along the outline */
  double floor_z_m;
  double least_ceiling_z_m, greatest_ceiling_z_m;
} PlumbSpaceShape;

typedef struct {
  uint32_t wall; /* record index */
  uint32_t space;
  PlumbVec2 start_m, end_m;             /* inner face, counter-clockwise round the space */
  PlumbVec2 outer_start_m, outer_end_m; /* mitred with the neighbours */
  PlumbVec2 along, inward;              /* unit */
  double length_m, thickness_m;
} PlumbWallShape;

/* A port or opening through its wall, as a prism. */
typedef struct {
  PlumbSurfaceId surface;
  uint32_t wall;           /* record index */
  bool passes;             /* a port, or an opening that is not closed */
  PlumbVec3 inner_m[4];    /* on the inner face: seen from inside the space bottom left, bottom right, top right, top left */
  PlumbVec3 outer_m[4];    /* the same on the outer face */
} PlumbHole;

typedef struct {
  uint32_t n_faces, n_solids, n_corners, n_cells, n_spaces, n_walls, n_holes;
  const PlumbFace *faces; /* room faces first (room_faces of them), then those of solids */
  uint32_t room_faces;
  const PlumbSolid *solids;
  const PlumbVec3 *corners;
  const PlumbCeilingCell *cells;
  const PlumbSpaceShape *spaces; /* one per space record */
  const PlumbWallShape *walls;   /* grouped by space; see first_wall */
  const PlumbHole *holes;
} PlumbBuilding;

/* Ceiling plane over a point: index of the ceiling record and its height in
 * the room frame. PLUMB_NO_INDEX and the floor's height where there is none:
 * outside, open to the sky, or where a slope has come down to the floor. */
uint32_t plumb_building_ceiling_at (const PlumbBuilding *building, uint32_t space, PlumbVec2 point, double *z_m);
/* The space that holds a point (floor <= z <= ceiling, inside the outline);
 * the first that does; PLUMB_NO_INDEX if none. */
uint32_t plumb_building_space_at (const PlumbBuilding *building, PlumbVec3 point);
/* Whether a plan point lies in a space's outline (edge counts as inside). */
bool plumb_building_in_outline (const PlumbBuilding *building, uint32_t space, PlumbVec2 point);

/* ---- the beam cut ----------------------------------------------------------------- */

/* A convex piece of the panel and where its light lands. */
#define PLUMB_PIECE_MAX_POINTS 24
typedef struct {
  PlumbSurfaceId surface;
  uint32_t face;      /* in the building; PLUMB_NO_INDEX for the screen and for nothing */
  double panel_share; /* area, of 1 */
  uint8_t n_points;
  PlumbVec2 panel[PLUMB_PIECE_MAX_POINTS];
  PlumbVec3 point[PLUMB_PIECE_MAX_POINTS]; /* where the corners land; the ray direction for light that leaves */
} PlumbBeamPiece;

typedef struct {
  uint32_t n_pieces, capacity;
  PlumbBeamPiece *pieces;
  double leaves_building_share;
} PlumbBeamCut;

/* The screen's face for the cut: both sides stop the light, and where it lies
 * in one plane with a wall the screen wins. */
typedef struct {
  PlumbPlaneFrame frame; /* origin: centre */
  double width_m, height_m;
  uint32_t record;
} PlumbScreenFace;

/* Cuts the part `panel_region` (convex, counter-clockwise panel points; NULL
 * = the whole panel) of the beam to faces of the building and to the screen's
 * rectangle (NULL: none). The shares of all pieces sum to the region's area.
 * Grows cut->pieces as needed; false only when out of memory. Zero-initialise the cut; free with
 * plumb_beam_cut_clear(). */
bool plumb_beam_cut (const PlumbBeam *beam, const PlumbBuilding *building, const PlumbScreenFace *screen,
                     const PlumbVec2 *panel_region, size_t n_region, PlumbBeamCut *cut);
void plumb_beam_cut_clear (PlumbBeamCut *cut);
/* Sum of shares that land on a surface; record PLUMB_NO_INDEX = all of a kind. */
double plumb_beam_cut_share (const PlumbBeamCut *cut, PlumbSurfaceKind kind, uint32_t record);

/* ---- distances ---------------------------------------------------------------------- */

/* A convex body for distances: the hull of its points, or an exact solid. */
typedef struct {
  const PlumbVec3 *points;
  size_t n_points;
  const PlumbSolid *solid; /* if set, points are ignored except for a polyhedron's corners */
} PlumbConvex;

/* Distance between two convex bodies; 0 when they overlap. Nearest points are
 * written when wanted (may be NULL). Exact for polyhedra up to 1e-9 m,
 * iterated to 1e-9 m for curved ones (Gilbert, Johnson, Keerthi 1988). */
double plumb_convex_distance (const PlumbConvex *a, const PlumbConvex *b, PlumbVec3 *nearest_a, PlumbVec3 *nearest_b);
/* The solid as a convex body. */
PlumbConvex plumb_solid_convex (const PlumbBuilding *building, uint32_t solid);
