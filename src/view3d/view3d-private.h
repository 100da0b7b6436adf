/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The renderer inside: what the caller set, and what belongs to the context. */
#pragma once

#include "view3d/projector-private.h"
#include "view3d/view3d.h"

/* Triangles by the program that draws them. */
typedef enum {
  PLUMB_CLASS_PLAIN,
  PLUMB_CLASS_BOARDS,
  PLUMB_CLASS_THROWN,
  PLUMB_CLASS_BOARDS_THROWN,
  PLUMB_CLASS_CUT,
  PLUMB_N_CLASSES
} PlumbClass;

typedef enum {
  PLUMB_PROGRAM_PLAIN, /* the first five: one for each class */
  PLUMB_PROGRAM_BOARDS,
  PLUMB_PROGRAM_THROWN,
  PLUMB_PROGRAM_BOARDS_THROWN,
  PLUMB_PROGRAM_CUT,
  PLUMB_PROGRAM_SHADOW,
  PLUMB_PROGRAM_VOLUME,
  PLUMB_PROGRAM_LINE_BEAM, /* the last one that every lit picture needs */
  PLUMB_PROGRAM_LINE,
  PLUMB_PROGRAM_MASK,
  PLUMB_PROGRAM_DEPTH,
  PLUMB_PROGRAM_LEVEL,
  PLUMB_PROGRAM_BLUR,
  PLUMB_PROGRAM_STILL,
  PLUMB_PROGRAM_OUTLINE,
  PLUMB_N_PROGRAMS
} PlumbProgram;

typedef struct {
  float from[3], to[3], corner[2], colour[4], style[3];
} PlumbLineVertex;

/* Triangles on the graphics side. */
typedef struct {
  GLuint array, vertices, indices;
  guint serial; /* of the mesh that is there */
  PlumbSubject hidden;
  guint ghosts; /* which of them are left out, by plumb_ghosts_key() */
  GLsizei first[PLUMB_N_CLASSES], n[PLUMB_N_CLASSES];
} PlumbGlMesh;

typedef struct {
  GLuint program[PLUMB_N_PROGRAMS];
  int max_samples;
  PlumbGlMesh room, caster, shade, chosen;
  GLuint nothing; /* vertex array without any */
  GLuint volume_array, volume_vertices;
  GLuint line_array, line_vertices;
  GLuint content;
  guint content_serial;
  float content_mean[3]; /* linear */
  PlumbGlTarget shadow, scene, still, level, blur, mask;
  PlumbGlTarget kept; /* a window's last picture */
  guint shadow_serial;
  bool sketched; /* a window's first picture is done */
} PlumbGl;

/* One thing that the light of an eye or lens is drawn along. */
typedef struct {
  PlumbVec3 from, to, stop; /* stop: where it is blocked; `to` when it is not */
} PlumbSightline;

struct PlumbView3d {
  PlumbModel model;
  PlumbCamera camera;
  PlumbView3dOptions options;
  PlumbView3dColours colours;
  uint8_t *content; /* NULL: the pattern */
  int content_width_px, content_height_px;
  PlumbPattern pattern;
  guint content_serial;
  double pattern_aspect;   /* the one that was drawn */
  GArray *sightlines;      /* PlumbSightline */
  guint sightlines_serial; /* of the scene they were found in */
  bool sightlines_all;
  uint32_t sightlines_seat;
  GArray *ghosts;          /* uint32_t: solids of the building, see plumb_ghosts_find() */
  PlumbProjector projector;
  PlumbGl *gl; /* NULL: not realized */
  guint owner; /* which offscreen context realized it; 0: the caller's */
};

/* A part of the whole picture; y from the bottom. */
typedef struct {
  int full_width_px, full_height_px, x_px, y_px, width_px, height_px;
} PlumbTile;

typedef struct {
  PlumbView3d *view;
  PlumbGl *gl;
  const PlumbMesh *mesh;
  guint mesh_serial;
  PlumbTile tile;
  float to_clip[16];
  float range[2]; /* near, far */
  float pixel;    /* device pixels of one pixel of the design */
  bool sketch; /* the bare room */
} PlumbFrame;

/* With what a window's first picture needs; the other programs are made when
 * one is needed, so that it does not wait for them. */
bool plumb_gl_new (PlumbGl **gl, GError **error);
bool plumb_gl_make_programs (PlumbGl *gl, PlumbProgram first, PlumbProgram last, GError **error);
void plumb_gl_free (PlumbGl *gl);

/* ---- passes ------------------------------------------------------------------- */

bool plumb_pass_frame (PlumbView3d *view, const PlumbTile *tile, PlumbFrame *frame, GError **error);
bool plumb_pass_shadow (PlumbFrame *frame, GError **error);
void plumb_pass_content (PlumbFrame *frame);
void plumb_pass_room (PlumbFrame *frame);
void plumb_pass_volume (PlumbFrame *frame);
void plumb_pass_lines (PlumbFrame *frame);
bool plumb_pass_still (PlumbFrame *frame, GLuint destination, GError **error);
bool plumb_pass_outline (PlumbFrame *frame, GLuint destination, GError **error);

/* Copies the picture to where it is kept, and back. */
bool plumb_pass_keep (PlumbGl *gl, const PlumbTile *tile, GLuint from, GError **error);
bool plumb_pass_repeat (PlumbGl *gl, const PlumbTile *tile, GLuint destination);

/* One tile into `destination`. */
bool plumb_view3d_draw (PlumbView3d *view, const PlumbTile *tile, GLuint destination, GError **error);
/* Depth alone, packed into `destination` as depth.frag says; *far_m is what full white would be. */
bool plumb_view3d_draw_depth (PlumbView3d *view, const PlumbTile *tile, GLuint destination, float *far_m,
                              GError **error);

/* ---- content ------------------------------------------------------------------- */

/* Made smaller by whole steps until OpenGL takes it, laid over black; g_malloc'ed. */
uint8_t *plumb_content_fitted (const uint8_t *rgba, int *width_px, int *height_px, int most_px);
/* Into gl->content, with its mean. */
void plumb_content_upload (PlumbGl *gl, const uint8_t *rgba, int width_px, int height_px);

/* ---- parts ---------------------------------------------------------------------- */

/* What an eye does not see since it looks out of it: the machine from its
 * lens, the sitter from a seat. */
PlumbSubject plumb_hidden_from (const PlumbCamera *camera, const PlumbModel *model);
void plumb_gl_mesh_upload (PlumbGlMesh *gl, const PlumbMesh *mesh, const PlumbView3d *view,
                           const PlumbSubject *hidden);
/* Those that stop the projector's light. */
void plumb_gl_mesh_upload_casters (PlumbGlMesh *gl, const PlumbMesh *mesh);
/* `room` lends its corners. Returns where the hovered ones begin. */
GLsizei plumb_gl_mesh_upload_chosen (PlumbGlMesh *gl, const PlumbGlMesh *room, const PlumbMesh *mesh,
                                     const PlumbView3d *view, GLsizei *n);
void plumb_gl_mesh_clear (PlumbGlMesh *gl);
/* Finds them anew when scene or seat changed. */
void plumb_sightlines_find (PlumbView3d *view);
/* Which solids of the building stand between the camera and the picture: they
 * are left out of the room and drawn as dashed outlines. None from inside,
 * where what hides the picture must be seen to. */
void plumb_ghosts_find (PlumbView3d *view);
guint plumb_ghosts_key (const PlumbView3d *view);
bool plumb_ghosts_have (const PlumbView3d *view, const PlumbSubject *part);
PlumbSubject plumb_ghost_subject (const PlumbSolid *solid);
/* Calls edge for each edge of a solid's outline as it is seen from a point. */
typedef void (*PlumbEdgeFunc) (PlumbVec3 a, PlumbVec3 b, void *data);
void plumb_ghost_outline (const PlumbBuilding *building, const PlumbSolid *solid, PlumbVec3 from, PlumbEdgeFunc edge,
                          void *data);
/* Whether a part of the mesh is what a subject means. */
bool plumb_subject_is (const PlumbEvaluation *evaluation, const PlumbSubject *subject, const PlumbSubject *part);
