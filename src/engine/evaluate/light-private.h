/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the light checks share: the picture's light, the surface, the room.
 */
#pragma once

#include "plumbeam/light.h"
#include "work-private.h"

#define PLUMB_LIGHT_FIELDS 9

typedef struct {
  PlumbRect picture;
  PlumbVec3 field_m[PLUMB_LIGHT_FIELDS]; /* centres of nine equal fields, in the room */
  PlumbVec3 corner_m[4];
  PlumbNineFields fields;
  double corner_lx[4];
  double flux_lm;            /* out of the lens */
  double flux_on_screen_lm;
  PlumbScreenGain surface;
  double returned_share;     /* of the light that falls on the screen */
  double room_area_m2;       /* of the screen's space; 0 when not known */
  double mean_reflectance;
  double room_volume_m3;
  double reverberation_s;    /* 0: not known */
} PlumbLight;

/* A point of the picture frame in the room. */
PlumbVec3 plumb_light_on_plane (const PlumbEvaluation *e, PlumbVec2 point);
PlumbScreenGain plumb_light_surface (const PlumbScreen *screen);
/* Where light seems to come from for somebody before the face: the lens, or
 * behind a rear screen its mirror image. */
PlumbVec3 plumb_light_source (const PlumbEvaluation *e);

/* The machine's light on the picture. False when the picture's points are not
 * reached. */
bool plumb_light_begin (PlumbWork *work, PlumbLight *light);
/* Surfaces, volume and reflectances of a space. */
void plumb_light_room (const PlumbWork *work, uint32_t space, PlumbLight *light);
/* Room light on the screen in a light state. False when it cannot be told:
 * then *missing_lamp is the lamp without a figure, or PLUMB_NO_INDEX when the
 * state itself has neither a reading nor lamps. */
bool plumb_light_ambient_lx (const PlumbWork *work, const PlumbLight *light, uint32_t state, double *lx,
                             uint32_t *missing_lamp);
