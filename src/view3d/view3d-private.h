/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the files of the renderer share.
 */
#pragma once

#include <epoxy/gl.h>

#include "view3d.h"

#define PLUMB_VIEW3D_ERROR (plumb_view3d_error_quark ())
GQuark plumb_view3d_error_quark (void);

#define PLUMB_NEAR_M 0.05
#define PLUMB_FAR_M 200.0

typedef enum { PLUMB_PROGRAM_ROOM, PLUMB_PROGRAM_DEPTH, PLUMB_PROGRAM_LINES, PLUMB_PROGRAM_FINISH, PLUMB_N_PROGRAMS } PlumbProgram;

/* A mesh on the graphics side. */
typedef struct {
  GLuint array, vertices, indices;
  GLsizei n_indices;
} PlumbGlMesh;

/* Corner of a line or a translucent plane. */
typedef struct {
  float position_m[3];
  float tint[4];
  float along_m;
  float kind; /* 0 plain, 1 dashed, 2 ends where the projector's light ends */
} PlumbLineVertex;

typedef struct {
  GLuint framebuffer, colour, depth; /* textures, or renderbuffers when samples > 0 */
  int width_px, height_px, samples;
} PlumbTarget;

struct PlumbView3d {
  PlumbScene *scene;
  PlumbEvaluation *evaluation; /* own */
  PlumbCamera camera;
  PlumbView3dOptions options;
  PlumbView3dColours colours;
  uint8_t *content; /* RGBA, own; NULL: the pattern */
  int content_w_px, content_h_px;
  PlumbPattern pattern;

  PlumbMesh mesh, whole;
  PlumbSection section;
  bool has_mesh, has_whole, baked;
  /* What the graphics side has to be given anew. */
  bool new_mesh, new_whole, new_content;

  bool realized;
  GLuint program[PLUMB_N_PROGRAMS];
  PlumbGlMesh gl_mesh, gl_whole;
  GLuint lines_array, lines_buffer, empty_array;
  GLuint content_texture;
  float content_aspect;
  PlumbTarget many, single, mask, shadow;
  int most_samples;
  /* Tiled pictures draw a part of the pane: scale and shift of clip space. */
  float tile[4];
};

/* ---- made when needed (view3d.c) ----------------------------------------------- */

bool plumb_view3d_ready_meshes (PlumbView3d *view);
bool plumb_view3d_has_beam (const PlumbView3d *view);

/* ---- programs (gl-program.c) ------------------------------------------------------ */

bool plumb_gl_make_programs (PlumbView3d *view, GError **error);
void plumb_gl_matrix (GLuint program, const char *name, const float matrix[16]);
void plumb_gl_float (GLuint program, const char *name, double value);
void plumb_gl_vec2 (GLuint program, const char *name, double x, double y);
void plumb_gl_vec3 (GLuint program, const char *name, const float v[3]);
void plumb_gl_point (GLuint program, const char *name, PlumbVec3 v);
void plumb_gl_texture (GLuint program, const char *name, int unit, GLenum target, GLuint texture);

/* ---- targets and buffers (gl-target.c) --------------------------------------------- */

/* depth_only: a shadow map, with comparison. False with an error when the
 * machine does not take it. */
bool plumb_target_make (PlumbTarget *target, int width_px, int height_px, int samples, bool depth_only, GError **error);
void plumb_target_clear (PlumbTarget *target);
void plumb_gl_mesh_load (PlumbGlMesh *gl, const PlumbMesh *mesh);
void plumb_gl_mesh_clear (PlumbGlMesh *gl);

/* ---- the projector (projector.c) ------------------------------------------------------ */

/* Clip space of the panel: lens, r, w, f, throw ratio and shift, nothing else. */
void plumb_projector_matrix (const PlumbBeam *beam, double near_m, double far_m, float out[16]);
/* Panel to the unit square of the content: the digital correction. */
void plumb_projector_content (const PlumbEvaluation *evaluation, float out[9]);
/* Scale that makes the light on the middle of the picture 1. */
double plumb_projector_scale (const PlumbEvaluation *evaluation);

/* ---- lines (lines.c) --------------------------------------------------------------------- */

/* Lines, then triangles; the caller frees. *n_lines and *n_planes count corners. */
PlumbLineVertex *plumb_view3d_lines (const PlumbView3d *view, uint32_t *n_lines, uint32_t *n_planes);

/* RGBA of a built-in pattern, 16 : 9; the caller frees. */
uint8_t *plumb_pattern_picture (PlumbPattern pattern, int *width_px, int *height_px);

/* Drawing into the framebuffer that is bound, through a part of the pane. */
bool plumb_view3d_draw (PlumbView3d *view, double aspect, int width_px, int height_px, GError **error);
