/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The 3D view's renderer. OpenGL 3.3 core or OpenGL ES 3.0 through libepoxy;
 * no toolkit. All calls but plumb_view3d_new(), _set_… and _free() need the
 * caller's context to be current; a renderer belongs to one context between
 * realize and unrealize, and may be realized again.
 *
 * The thrown picture comes only from the projector's matrix (lens point, r, w,
 * f, throw ratio, shift): no corner that the engine computed feeds a vertex. A
 * digital correction enters only as the look-up of content.
 */
#pragma once

#include <glib.h>

#include "camera.h"
#include "mesh.h"

typedef struct PlumbView3d PlumbView3d;

/* Linear colours etc. come from the theme that the caller hands over: sRGB 0…1. */
typedef struct {
  float paper[3], ink[3], ink2[3], wall[3], accent[3], beam[3], picture[3], sight[3], fails[3];
  float room_light; /* 1 light theme, 0.2 dark */
  bool high_contrast; /* screen, machine and beam get an outline */
} PlumbView3dColours;

typedef struct {
  bool beam, sightlines, frustum, axis; /* what is shown beside the room */
  bool thrown;                          /* the projector's light; tests switch it off */
  bool ghosts;                          /* beams before the picture are dashed outlines */
  bool all_seats;                       /* sightlines of all seats, not only of `seat` */
  uint32_t seat;                        /* PLUMB_NO_INDEX: none */
  PlumbSubject chosen, hovered;
  /* The state of the light: luminance of white and black on the screen over
   * luminance of white in the dark; 1 and 0 when nothing is known. */
  double white_share, black_share;
  bool light_pass; /* lighter: no multisampling, smaller shadow map, no softening */
} PlumbView3dOptions;

PlumbView3d *plumb_view3d_new (void);
void plumb_view3d_free (PlumbView3d *view);

/* For a window: the first picture after realizing is the room without its
 * light, what takes longer than a frame is worked out in a thread, and `again`
 * is called from the default main context when the picture can become better.
 * Without it (NULL) the full picture waits. */
void plumb_view3d_set_again (PlumbView3d *view, void (*again) (gpointer data), gpointer data);
/* Whether `again` is still to be called for what was drawn last. */
bool plumb_view3d_improves (const PlumbView3d *view);

/* Takes references or copies; marks what must be made again. */
void plumb_view3d_set_scene (PlumbView3d *view, PlumbScene *scene, const PlumbEvaluation *evaluation);
void plumb_view3d_set_camera (PlumbView3d *view, const PlumbCamera *camera);
void plumb_view3d_set_options (PlumbView3d *view, const PlumbView3dOptions *options);
void plumb_view3d_set_colours (PlumbView3d *view, const PlumbView3dColours *colours);
/* Content: RGBA, sRGB, not premultiplied, rows from the top; copied. NULL: the built-in pattern `pattern`. */
typedef enum { PLUMB_PATTERN_GRID, PLUMB_PATTERN_LANDSCAPE, PLUMB_PATTERN_TEXT, PLUMB_PATTERN_WHITE, PLUMB_PATTERN_BLACK, PLUMB_N_PATTERNS } PlumbPattern;
void plumb_view3d_set_content (PlumbView3d *view, const uint8_t *rgba, int width_px, int height_px);
void plumb_view3d_set_pattern (PlumbView3d *view, PlumbPattern pattern);

/* Compiles shaders and makes what belongs to the context. On failure the error
 * says why in one sentence, the numbered shader source goes to the log. */
bool plumb_view3d_realize (PlumbView3d *view, GError **error);
void plumb_view3d_unrealize (PlumbView3d *view);
/* Draws into the framebuffer that is bound when it is called, and leaves GL as
 * it found it as far as a toolkit cares. Sizes in device pixels. */
bool plumb_view3d_render (PlumbView3d *view, int width_px, int height_px, GError **error);

/* Draws once more what plumb_view3d_render() drew last, for a toolkit that asks
 * for the same picture again. False, with nothing drawn, where there is none of
 * this size; kept only with plumb_view3d_set_again(). */
bool plumb_view3d_repeat (PlumbView3d *view, int width_px, int height_px);

/* What lies under a point of the pane (0…1, y down); kind PLUMB_RECORD_NONE: nothing. No GL needed. */
PlumbSubject plumb_view3d_pick (PlumbView3d *view, double aspect, double x, double y, PlumbVec3 *hit);

/* ---- without a window -------------------------------------------------------- */

/* A context of its own with no display at all (surfaceless EGL). gles: ask for
 * OpenGL ES. NULL and an error when the machine cannot. */
typedef struct PlumbOffscreen PlumbOffscreen;
PlumbOffscreen *plumb_offscreen_new (bool gles, GError **error);
void plumb_offscreen_free (PlumbOffscreen *offscreen);
/* Renders at any size, in tiles past the texture limit, into RGBA rows from the
 * top (g_malloc'ed, width × height × 4); NULL on failure. */
uint8_t *plumb_offscreen_picture (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px,
                                  GError **error);
/* Distance along the view of each pixel from the eye's plane, metres, 0 where nothing is; for the tests. */
float *plumb_offscreen_depth (PlumbOffscreen *offscreen, PlumbView3d *view, int width_px, int height_px,
                              GError **error);
