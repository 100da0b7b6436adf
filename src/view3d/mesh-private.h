/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Making of the mesh: a growing list of triangles, convex bodies that planes
 * cut, and the things that the room is made of.
 */
#pragma once

#include <glib.h>

#include "view3d/mesh-axes-private.h"

/* A face that is longer than this is divided so that shading shows on it. */
#define PLUMB_MESH_EDGE_M 0.6
/* Walls on the camera's side end at this height. */
#define PLUMB_MESH_LOW_WALL_M 0.8

/* Keeps normal·p <= offset. */
typedef struct {
  PlumbVec3 normal;
  double offset_m;
} PlumbCutPlane;

typedef struct {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  const PlumbResolved *resolved;
  const PlumbBuilding *building;
  PlumbMeshAxes axes;
  PlumbSection section;
  bool has_back, has_roof; /* which planes cut */
  PlumbCutPlane back, roof, beams;
  PlumbVec2 to_camera;     /* corner: in plan, from the room to the camera */

  GArray *vertices, *indices, *parts;
  GHashTable *corner; /* of the face that is being made: PlumbVec3 -> index + 1 */
  GArray *triangles;  /* its triangles still to be divided */
} PlumbMaker;

/* ---- triangles ----------------------------------------------------------- */

GHashTable *plumb_maker_corners_new (void);
GArray *plumb_maker_triangles_new (void);

void plumb_maker_part (PlumbMaker *maker, PlumbSubject subject, bool shadows, bool catches);
/* Drops the part again if nothing was put in it. */
void plumb_maker_end_part (PlumbMaker *maker);
uint32_t plumb_maker_vertex (PlumbMaker *maker, PlumbVec3 position, PlumbVec3 normal, PlumbVec2 texture_m,
                             PlumbMaterial material);
void plumb_maker_triangle (PlumbMaker *maker, uint32_t a, uint32_t b, uint32_t c);
/* A flat convex face, counter-clockwise from outside; `grain` is the direction
 * of texture x. divide: into pieces no longer than PLUMB_MESH_EDGE_M. */
void plumb_maker_face (PlumbMaker *maker, const PlumbVec3 *points, uint32_t n, PlumbVec3 normal, PlumbVec3 grain,
                       PlumbMaterial material, bool divide);

/* ---- convex bodies --------------------------------------------------------- */

#define PLUMB_BODY_MAX_FACES 32
#define PLUMB_BODY_MAX_POINTS 32
typedef struct {
  PlumbMaterial material;
  uint32_t n;
  PlumbVec3 normal;
  PlumbVec3 point[PLUMB_BODY_MAX_POINTS];
} PlumbBodyFace;

typedef struct {
  uint32_t n_faces;
  PlumbVec3 grain;
  PlumbBodyFace face[PLUMB_BODY_MAX_FACES];
} PlumbBody;

/* A face of the body; its normal comes from its points. Faces without area,
 * or past the limits, are left out. */
void plumb_body_add (PlumbBody *body, const PlumbVec3 *points, uint32_t n, PlumbMaterial material);
/* Between two outlines with as many points each: `near` counter-clockwise from
 * outside, `far` behind it; sides between. */
void plumb_body_between (PlumbBody *body, const PlumbVec3 *near, const PlumbVec3 *far, uint32_t n,
                         const PlumbMaterial *sides, PlumbMaterial near_material, PlumbMaterial far_material);
/* centre ± half along the axes. */
void plumb_body_box (PlumbBody *body, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half,
                     PlumbMaterial material);
/* Takes away what lies beyond the plane and closes the cut with a face of
 * PLUMB_MATERIAL_CUT. */
void plumb_body_cut (PlumbBody *body, const PlumbCutPlane *plane);
/* Which faces are divided for their shading: those that look into the room. */
typedef enum { PLUMB_DIVIDE_NONE, PLUMB_DIVIDE_TOWARDS, PLUMB_DIVIDE_ALL } PlumbDivide;
/* Turns the faces outward and adds them to the mesh. */
void plumb_maker_body (PlumbMaker *maker, PlumbBody *body, PlumbDivide divide, PlumbVec3 towards);

/* ---- round bodies ------------------------------------------------------------ */

void plumb_maker_cylinder (PlumbMaker *maker, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half,
                           PlumbMaterial material, uint32_t turn);
void plumb_maker_ellipsoid (PlumbMaker *maker, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half,
                            PlumbMaterial material, uint32_t turn);
/* Cylinder between two points. */
void plumb_maker_rod (PlumbMaker *maker, PlumbVec3 from, PlumbVec3 to, double radius_m, PlumbMaterial material);
/* Three axes of which the last is `along`. */
void plumb_mesh_frame (PlumbVec3 along, PlumbVec3 axis[3]);

/* ---- what stands in the room --------------------------------------------------- */

/* Whether a thing stands where the back was cut away. */
bool plumb_maker_is_cut_away (const PlumbMaker *maker, PlumbVec3 point);
void plumb_maker_walls (PlumbMaker *maker);
void plumb_maker_floors (PlumbMaker *maker);
void plumb_maker_roofs (PlumbMaker *maker);
void plumb_maker_solids (PlumbMaker *maker);
void plumb_maker_screens (PlumbMaker *maker);
void plumb_maker_machine (PlumbMaker *maker);
void plumb_maker_lamps (PlumbMaker *maker);
void plumb_maker_people (PlumbMaker *maker);
/* Instead of them where only their shadows matter. */
void plumb_maker_figures (PlumbMaker *maker);

/* A wall's point on its outer face over a point of the inner face: mitred at
 * the wall's ends, with the ceiling's slope when it lies under the ceiling. */
PlumbVec3 plumb_maker_outer_point (const PlumbMaker *maker, const PlumbWallShape *wall, PlumbVec3 inner);
/* Whether a point of a wall's inner face lies at the ceiling. */
bool plumb_maker_at_ceiling (const PlumbMaker *maker, const PlumbWallShape *wall, PlumbVec3 inner,
                             PlumbVec2 *gradient);
/* Whether a face is the wall's inner one. */
bool plumb_mesh_wall_face (const PlumbFace *face, const PlumbWallShape *wall);
