/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A person as one smooth surface: round parts that flow into each other,
 * turned into triangles once for each height.
 *
 * Own frame: x forward, y left, z up from the floor. Sitting: the eye stands
 * over the origin. Standing: the feet do.
 */
#pragma once

#include <glib.h>

#include "plumbeam/vec.h"

typedef struct {
  bool sitting;
  double height_m;         /* sitting: eye over the floor; standing: stature */
  double head_above_eye_m; /* sitting */
  double grain_m;          /* size of its triangles */
} PlumbPersonMeasure;

typedef struct {
  PlumbPersonMeasure measure;
  GArray *points, *normals; /* PlumbVec3 */
  GArray *indices;          /* uint32_t */
  guint used;               /* the last mesh that it stands in */
} PlumbPersonShape;

PlumbPersonShape *plumb_person_shape_new (const PlumbPersonMeasure *measure);
void plumb_person_shape_free (gpointer figure);
/* The seat's height under somebody who sits. */
double plumb_person_seat_m (const PlumbPersonMeasure *measure);
