/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The room as triangles: everything of a scene that stands there, in the room
 * frame, metres, counter-clockwise seen from outside the matter.
 *
 * Made on the processor, without OpenGL, from the resolved scene and one
 * evaluation; made again when either changes. Depends on nothing else: the
 * camera chooses how the building is cut (see PlumbSection).
 */
#pragma once

#include "camera.h"
#include "plumbeam/evaluate.h"

typedef enum {
  PLUMB_MATERIAL_WALL,
  PLUMB_MATERIAL_FLOOR,     /* boards along texture x */
  PLUMB_MATERIAL_CEILING,
  PLUMB_MATERIAL_TIMBER,    /* grain along texture x */
  PLUMB_MATERIAL_RISER,
  PLUMB_MATERIAL_SEAT,
  PLUMB_MATERIAL_SEAT_LEG,
  PLUMB_MATERIAL_PERSON,
  PLUMB_MATERIAL_IRON,
  PLUMB_MATERIAL_SHEET_METAL,
  PLUMB_MATERIAL_MACHINE,
  PLUMB_MATERIAL_LENS,
  PLUMB_MATERIAL_SCREEN,
  PLUMB_MATERIAL_BORDER,
  PLUMB_MATERIAL_OTHER,
  PLUMB_MATERIAL_CUT,       /* the filled section: flat, unlit */
  PLUMB_N_MATERIALS
} PlumbMaterial;

typedef struct {
  float position_m[3];
  float normal[3];
  float texture_m[2]; /* along and across the material's grain */
  float occlusion;    /* 1 open, 0 closed in: baked hemisphere share up to 4.5 m */
  float material;     /* PlumbMaterial */
} PlumbMeshVertex;

/* A run of triangles that belongs to one thing. */
typedef struct {
  PlumbSubject subject;     /* for picking; kind PLUMB_RECORD_NONE when nothing can be chosen */
  uint32_t first, n;        /* in the index array */
  bool shadows;             /* stops the projector's light */
  bool catches;             /* the projector's light may land on it (not the machine that throws it) */
} PlumbMeshPart;

typedef struct {
  uint32_t n_vertices, n_indices, n_parts;
  PlumbMeshVertex *vertices;
  uint32_t *indices;
  PlumbMeshPart *parts;
} PlumbMesh;

/* How the building is cut for a camera: the near walls lowered, the roof cut
 * short of the ridge, the back cut behind the last row (corner); one plane
 * behind the last row (gable); nothing (inside: seat, lens). */
typedef enum { PLUMB_SECTION_INSIDE, PLUMB_SECTION_CORNER, PLUMB_SECTION_GABLE } PlumbSectionKind;
typedef struct {
  PlumbSectionKind kind;
  int quarter; /* corner: which way the camera looks, 0…3; a mesh is made again only when kind or quarter changes */
} PlumbSection;

PlumbSection plumb_section_for (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbCamera *camera);
bool plumb_section_equal (const PlumbSection *a, const PlumbSection *b);

/* What the person looks at: the cut model. False only when out of memory;
 * zero-initialise the mesh, clear with plumb_mesh_clear(). */
bool plumb_mesh_build (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbSection *section,
                       PlumbMesh *mesh);
/* What the projector's light meets: the same building uncut, so that lifting a
 * roof off for the viewer changes no light. Only positions matter. */
bool plumb_mesh_build_whole (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMesh *mesh);
/* Heads and trunks of all people, which cast their shadows. */
bool plumb_mesh_build_figures (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbMesh *mesh);
/* Bakes the occlusion into mesh->vertices, against `whole`. */
bool plumb_mesh_bake (PlumbMesh *mesh, const PlumbMesh *whole);
void plumb_mesh_clear (PlumbMesh *mesh);

/* Nearest part hit by a ray (not unit); false if none. */
bool plumb_mesh_pick (const PlumbMesh *mesh, PlumbVec3 from, PlumbVec3 direction, uint32_t *part, PlumbVec3 *hit);
