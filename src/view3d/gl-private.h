/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * OpenGL 3.3 core and OpenGL ES 3.0: programs, framebuffers, uniforms. All
 * need a current context.
 */
#pragma once

#include <epoxy/gl.h>
#include <glib.h>
#include <stdbool.h>

/* Errors of this folder: OpenGL missing, too old, or a shader that it refuses. */
#define PLUMB_VIEW3D_ERROR (g_quark_from_static_string ("plumb-view3d-error"))
typedef enum { PLUMB_VIEW3D_ERROR_CONTEXT, PLUMB_VIEW3D_ERROR_SHADER, PLUMB_VIEW3D_ERROR_SIZE } PlumbView3dError;

/* Compiles and links. `defines` goes before the text, `with_projector` puts
 * projector.glsl there. 0 and an error on failure; the numbered source is in
 * the log. */
GLuint plumb_gl_program (const char *vertex, const char *fragment, const char *defines, bool with_projector,
                         GError **error);

void plumb_gl_set_int (GLuint program, const char *name, int value);
void plumb_gl_set_ints (GLuint program, const char *name, int x, int y);
void plumb_gl_set_float (GLuint program, const char *name, float value);
void plumb_gl_set_floats (GLuint program, const char *name, int n, const float *values);
void plumb_gl_set_matrix (GLuint program, const char *name, const float values[16]);

/* A framebuffer of our own, with colour and depth. Textures when it is to be
 * looked at, else renderbuffers, with `samples` of them. */
typedef struct {
  int width_px, height_px, samples;
  bool has_depth;
  GLuint frame, colour, depth;
} PlumbGlTarget;
/* Makes or remakes it at this size; nothing happens when it fits already. */
bool plumb_gl_target_fit (PlumbGlTarget *target, int width_px, int height_px, int samples, bool textures,
                          bool has_depth, GError **error);
void plumb_gl_target_clear (PlumbGlTarget *target);

/* Depth alone, compared when it is looked up. */
bool plumb_gl_shadow_fit (PlumbGlTarget *target, int size_px, GError **error);
