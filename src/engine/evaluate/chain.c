/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * lens = plate + drop + R · (head → hole pattern → lens)
 *
 * The columns of R are body-right, body-up and forward. Only the last term
 * turns, about the mount's pivot, so a tilt moves the lens.
 */
#include "work-private.h"

/* Away from what carries the machine, in body terms: up when the body lies
 * upside down under a ceiling or stands upright, down in a cradle. */
static double
away_sign (const PlumbPlace *place)
{
  if (place->carried == PLUMB_CARRIED_WALL_ARM)
    return 1.0;
  return (place->carried == PLUMB_CARRIED_HUNG) == place->inverted ? 1.0 : -1.0;
}

static PlumbVec3
drop_direction (const PlumbPlace *place, const PlumbPlaceResolved *spot, const PlumbMount *mount)
{
  if (place->carried != PLUMB_CARRIED_HUNG || (mount != NULL && mount->tube == PLUMB_TUBE_NORMAL))
    return spot->normal;
  return plumb_vec3 (0.0, 0.0, -1.0);
}

void
plumb_chain_make (const PlumbPlace *place, const PlumbPlaceResolved *spot, const PlumbMachine *machine,
                  const PlumbMount *mount, const PlumbLensModel *lens, bool rear, PlumbChain *out)
{
  *out = (PlumbChain){ .plate_m = spot->plate_m, .inverted = place->inverted, .rear = rear };
  out->pivot_m = plumb_vec3_along (spot->plate_m, drop_direction (place, spot, mount), place->drop_m);
  if (mount != NULL)
    out->head_to_holes
        = plumb_vec3 (mount->head_right_m, away_sign (place) * mount->head_to_holes_m, mount->head_forward_m);
  else if (place->carried == PLUMB_CARRIED_STANDING)
    out->head_to_holes = plumb_vec3 (0.0, away_sign (place) * machine->feet_height_m, 0.0);
  out->holes_to_lens = plumb_vec3 (machine->lens_right_m, machine->lens_up_m, lens->pupil_forward_m);
}

PlumbBeamAxes
plumb_chain_body (const PlumbChain *chain, const PlumbBeamAxes *beam)
{
  double side = (chain->rear ? -1.0 : 1.0) * (chain->inverted ? -1.0 : 1.0);

  return (PlumbBeamAxes){ .f = beam->f,
                          .r = plumb_vec3_scale (beam->r, side),
                          .w = plumb_vec3_scale (beam->w, chain->inverted ? -1.0 : 1.0) };
}

PlumbVec3
plumb_chain_point (const PlumbBeamAxes *body, PlumbVec3 from_m, PlumbVec3 vector)
{
  PlumbVec3 out = plumb_vec3_along (from_m, body->r, vector.x);

  out = plumb_vec3_along (out, body->w, vector.y);
  return plumb_vec3_along (out, body->f, vector.z);
}

PlumbVec3
plumb_chain_lens (const PlumbChain *chain, const PlumbBeamAxes *beam)
{
  PlumbBeamAxes body = plumb_chain_body (chain, beam);

  return plumb_chain_point (&body, chain->pivot_m, plumb_vec3_add (chain->head_to_holes, chain->holes_to_lens));
}

PlumbVec3
plumb_chain_plate_for_lens (const PlumbChain *chain, const PlumbBeamAxes *beam, PlumbVec3 lens_m)
{
  PlumbVec3 now = plumb_chain_lens (chain, beam);

  return plumb_vec3_add (chain->plate_m, plumb_vec3_sub (lens_m, now));
}
