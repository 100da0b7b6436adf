/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The machine's own light: flux after every loss, and what of it lands where
 * on the picture. Unused pixels take flux from the picture and nothing from a
 * point that stays lit, so they are no loss here.
 */
#include "light-private.h"

PlumbVec3
plumb_light_on_plane (const PlumbEvaluation *e, PlumbVec2 point)
{
  return plumb_vec3_along (plumb_vec3_along (e->target.frame.origin_m, e->target.frame.u, point.x), e->target.frame.v,
                           point.y);
}

PlumbVec3
plumb_light_source (const PlumbEvaluation *e)
{
  PlumbVec3 lens = e->beam.lens_m, normal = e->target.frame.n;

  if (!e->target.rear)
    return lens;
  return plumb_vec3_along (lens, normal,
                           -2.0 * plumb_vec3_dot (normal, plumb_vec3_sub (lens, e->target.frame.origin_m)));
}

/* Whether the way to the picture's middle goes through this face of a hole:
 * on the same side of its four edges. */
static bool
goes_through (const PlumbVec3 face[4], PlumbVec3 from, PlumbVec3 to)
{
  PlumbVec3 ray = plumb_vec3_sub (to, from);
  int left = 0, right = 0;

  for (int k = 0; k < 4; k++)
    {
      PlumbVec3 edge = plumb_vec3_cross (plumb_vec3_sub (face[k], from), plumb_vec3_sub (face[(k + 1) % 4], from));
      double side = plumb_vec3_dot (edge, ray);
      left += side > 0.0;
      right += side < 0.0;
    }
  return left == 0 || right == 0;
}

/* Panes in the ports that the beam passes. */
static double
glass_share (const PlumbWork *work, PlumbVec3 centre)
{
  const PlumbBuilding *building = work->resolved->building;
  PlumbVec3 lens = work->e->beam.lens_m;
  double share = 1.0;

  for (uint32_t i = 0; i < building->n_holes; i++)
    {
      const PlumbHole *hole = &building->holes[i];
      PlumbVec3 normal = plumb_vec3_cross (plumb_vec3_sub (hole->inner_m[1], hole->inner_m[0]),
                                           plumb_vec3_sub (hole->inner_m[3], hole->inner_m[0]));
      double before = plumb_vec3_dot (normal, plumb_vec3_sub (lens, hole->inner_m[0]));
      double behind = plumb_vec3_dot (normal, plumb_vec3_sub (centre, hole->inner_m[0]));
      if (hole->surface.kind == PLUMB_SURFACE_OF_PORT && before * behind < 0.0
          && goes_through (hole->inner_m, lens, centre))
        share *= plumb_scene_port (work->scene, hole->surface.record)->glass_share;
    }
  return share;
}

static PlumbFluxChain
flux_chain (const PlumbWork *work, PlumbVec3 centre)
{
  const PlumbMachine *machine = work->machine;

  return (PlumbFluxChain){
    .printed_lm = machine->flux_lm,
    .rated_share = machine->rated_share,
    .zoom_share = plumb_zoom_light_share (work->e->beam.throw_ratio, work->optics.t_wide, work->optics.t_tele,
                                          work->lens->light_tele_share),
    .mode_share = machine->mode_share,
    .age_share = machine->age_share,
    .dirt_share = machine->dirt_share,
    .glass_share = glass_share (work, centre),
  };
}

static double
flux_on_screen_lm (const PlumbEvaluation *e, double flux_lm)
{
  PlumbVec2 a[12], b[12];
  size_t n = 4;
  const PlumbVec2 normal[4] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };

  for (int k = 0; k < 4; k++)
    a[k] = e->raw.corner[k];
  if (plumb_polygon_area (a, 4) < 0.0) /* never for a front picture; a rear one keeps the viewer's order too */
    return 0.0;
  for (int k = 0; k < 4; k++)
    {
      n = plumb_polygon_clip (a, n, normal[k], (k < 2 ? e->target.width_m : e->target.height_m) / 2.0, b);
      for (size_t i = 0; i < n; i++)
        a[i] = b[i];
    }
  return plumb_flux_on_polygon_lm (&e->to_screen, flux_lm, a, n);
}

PlumbScreenGain
plumb_light_surface (const PlumbScreen *screen)
{
  static const PlumbGainKind kinds[] = { [PLUMB_SURFACE_MATT] = PLUMB_GAIN_MATT,
                                         [PLUMB_SURFACE_ANGULAR] = PLUMB_GAIN_ANGULAR,
                                         [PLUMB_SURFACE_RETRO] = PLUMB_GAIN_RETRO };

  return (PlumbScreenGain){ kinds[screen->surface], screen->gain_ratio, screen->half_gain_rad };
}

static void
surface_of (const PlumbWork *work, PlumbLight *light)
{
  light->surface = plumb_light_surface (plumb_scene_screen (work->scene, work->e->screen));
  double bound = plumb_gain_bound_ratio (light->surface.kind, light->surface.half_gain_rad);
  light->returned_share = fmin (light->surface.gain_ratio / bound, 1.0);
}

bool
plumb_light_begin (PlumbWork *work, PlumbLight *light)
{
  PlumbEvaluation *e = work->e;

  *light = (PlumbLight){ .picture = e->has_picture ? e->picture : work->wanted };
  PlumbQuad corners = plumb_rect_corners (&light->picture);
  PlumbFluxChain chain = flux_chain (work, plumb_light_on_plane (e, light->picture.centre_m));
  light->flux_lm = plumb_flux_lm (&chain);
  if (!plumb_nine_fields (&e->to_screen, light->flux_lm, &light->picture, &light->fields))
    return false;
  for (int k = 0; k < PLUMB_LIGHT_FIELDS; k++)
    light->field_m[k]
        = plumb_light_on_plane (
            e, plumb_vec2 (light->picture.centre_m.x + (k % 3 - 1) * light->picture.width_m / 3.0,
                           light->picture.centre_m.y + (k / 3 - 1) * light->picture.height_m / 3.0));
  for (int k = 0; k < 4; k++)
    {
      light->corner_m[k] = plumb_light_on_plane (e, corners.corner[k]);
      if (!plumb_illuminance_lx (&e->to_screen, light->flux_lm, corners.corner[k], &light->corner_lx[k]))
        return false;
    }
  light->flux_on_screen_lm = flux_on_screen_lm (e, light->flux_lm);
  surface_of (work, light);
  if (e->target.space != PLUMB_NO_INDEX)
    plumb_light_room (work, e->target.space, light);
  return true;
}
