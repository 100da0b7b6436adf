/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The projector as the shaders know it: lens point, axes, throw ratio and
 * shift, nothing else. No corner that the engine worked out is in it; where a
 * digital correction or the picture's aspect matters, they enter as the
 * look-up of content.
 */
#pragma once

#include "view3d/gl-private.h"
#include "view3d/model-private.h"

typedef struct {
  bool on, rear;
  float lens[3], right[3], up[3], forward[3], shift[2]; /* right: t r, up: A t w */
  float scale[2];                                       /* t, A t */
  float clip[2];                                        /* clip z = clip[0] distance + clip[1] */
  float map[3];                                         /* see projector.glsl */
  float look_up[9];                                     /* panel to picture ±1/2, columns */
  float picture_aspect;
  float reference;         /* makes the irradiance 1 at the target's centre */
  double reach_m, throw_m; /* along the axis: farthest thing, the picture */
} PlumbProjector;

/* map_px: texels along the shadow map's edge. */
void plumb_projector_set (PlumbProjector *projector, PlumbModel *model, int map_px);
void plumb_projector_uniforms (const PlumbProjector *projector, GLuint program);
/* Half planes of the panel that a point lies outside of; a triangle whose
 * corners share one cannot be lit. */
unsigned plumb_projector_outside (const PlumbProjector *projector, const float position_m[3]);
