/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/projector-private.h"

#include <string.h>

/* Nearer to the lens than this nothing casts a shadow: it is the machine. */
#define NEAR_M 0.05
/* Texels of the shadow map that are left round the panel, for the filter. */
#define MARGIN_TEXELS 3.0

static void
copy (float to[3], PlumbVec3 v, double factor)
{
  to[0] = (float) (v.x * factor);
  to[1] = (float) (v.y * factor);
  to[2] = (float) (v.z * factor);
}

/* Panel to picture, ±1/2 at its edges. Without a picture the content fills the panel. */
static void
set_look_up (PlumbProjector *projector, const PlumbEvaluation *e)
{
  double m[9] = { 1, 0, 0, 0, 1, 0, 0, 0, 1 };

  projector->picture_aspect = (float) e->beam.panel_aspect;
  if (e->has_picture && e->picture.width_m > 0.0 && e->picture.height_m > 0.0)
    {
      const double *h = e->to_screen.m;
      for (int c = 0; c < 3; c++)
        {
          m[c] = (h[c] - e->picture.centre_m.x * h[6 + c]) / e->picture.width_m;
          m[3 + c] = (h[3 + c] - e->picture.centre_m.y * h[6 + c]) / e->picture.height_m;
          m[6 + c] = h[6 + c];
        }
      projector->picture_aspect = (float) (e->picture.width_m / e->picture.height_m);
    }
  /* Any scale says the same; keep it near 1 for single precision. */
  double scale = fabs (m[8]) > 1e-9 ? 1.0 / fabs (m[8]) : 1.0;
  for (int r = 0; r < 3; r++)
    for (int c = 0; c < 3; c++)
      projector->look_up[3 * c + r] = (float) (m[3 * r + c] * scale);
}

/* Irradiance is proportional to cosine × distance / z³ (room.frag). */
static void
set_reference (PlumbProjector *projector, const PlumbEvaluation *e)
{
  const PlumbBeam *beam = &e->beam;
  double z = 3.0, shape = 1.0 / 9.0;

  if (e->target.valid)
    {
      PlumbVec3 d = plumb_vec3_sub (e->target.frame.origin_m, beam->lens_m);
      double along = plumb_vec3_dot (d, beam->axes.f), square = fabs (plumb_vec3_dot (d, e->target.frame.n));
      if (along > 0.01 && square > 1e-3 * along)
        {
          z = along;
          shape = square / (z * z * z);
        }
    }
  projector->throw_m = z;
  projector->reference = (float) (1.0 / shape);
}

static bool
is_sound (const PlumbEvaluation *e)
{
  const PlumbBeam *b = &e->beam;
  return e->solved && plumb_vec3_is_finite (b->lens_m) && plumb_vec3_is_finite (b->axes.f)
         && plumb_vec3_is_finite (b->axes.r) && plumb_vec3_is_finite (b->axes.w) && isfinite (b->throw_ratio)
         && b->throw_ratio > 0.0 && isfinite (b->panel_aspect) && b->panel_aspect > 0.0 && isfinite (b->shift_h_share)
         && isfinite (b->shift_v_share);
}

void
plumb_projector_set (PlumbProjector *projector, PlumbModel *model, int map_px)
{
  const PlumbEvaluation *e = &model->evaluation;
  const PlumbBeam *beam = &e->beam;

  memset (projector, 0, sizeof *projector);
  if (model->scene == NULL || !is_sound (e))
    return;
  double t = beam->throw_ratio, at = beam->panel_aspect * t;
  projector->on = true;
  projector->rear = e->target.valid && e->target.rear;
  copy (projector->lens, beam->lens_m, 1.0);
  copy (projector->right, beam->axes.r, t);
  copy (projector->up, beam->axes.w, at);
  copy (projector->forward, beam->axes.f, 1.0);
  projector->shift[0] = (float) beam->shift_h_share;
  projector->shift[1] = (float) beam->shift_v_share;
  projector->scale[0] = (float) t;
  projector->scale[1] = (float) at;
  projector->reach_m = plumb_model_reach_m (model);
  double far = fmax (projector->reach_m, NEAR_M * 2.0), span = far - NEAR_M;
  projector->clip[0] = (float) ((far + NEAR_M) / span);
  projector->clip[1] = (float) (-2.0 * far * NEAR_M / span);
  projector->map[0] = (float) (1.0 - 2.0 * MARGIN_TEXELS / map_px);
  /* Window depth = (1 + clip z / distance) / 2. */
  projector->map[1] = 0.5f + 0.5f * projector->clip[0];
  projector->map[2] = 0.5f * projector->clip[1];
  set_look_up (projector, e);
  set_reference (projector, e);
}

void
plumb_projector_uniforms (const PlumbProjector *projector, GLuint program)
{
  plumb_gl_set_floats (program, "u_lens", 3, projector->lens);
  plumb_gl_set_floats (program, "u_right", 3, projector->right);
  plumb_gl_set_floats (program, "u_up", 3, projector->up);
  plumb_gl_set_floats (program, "u_forward", 3, projector->forward);
  plumb_gl_set_floats (program, "u_shift", 2, projector->shift);
  plumb_gl_set_floats (program, "u_map", 3, projector->map);
}

unsigned
plumb_projector_outside (const PlumbProjector *projector, const float position_m[3])
{
  /* A little wider than the panel: an edge is shared by pixels on both sides. */
  const float half = 0.51f;
  float x = 0.0f, y = 0.0f, z = 0.0f;

  for (int k = 0; k < 3; k++)
    {
      float d = position_m[k] - projector->lens[k];
      x += d * projector->right[k];
      y += d * projector->up[k];
      z += d * projector->forward[k];
    }
  x -= projector->shift[0] * z;
  y -= projector->shift[1] * z;
  return (x > half * z ? 1u : 0u) | (x < -half * z ? 2u : 0u) | (y > half * z ? 4u : 0u) | (y < -half * z ? 8u : 0u)
         | (z < 0.0f ? 16u : 0u);
}
