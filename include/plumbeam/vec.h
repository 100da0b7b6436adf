/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Small vectors by value, double precision, and the shared tolerances.
 *
 * Everything inside the engine is SI: metres, radians, kilograms, seconds.
 * The room frame is right-handed, x and y on the floor, z up.
 */
#pragma once

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define PLUMB_PI 3.14159265358979323846

/* Below this two points of a building are one: a tenth of a micrometre, far
 * under any tape, far over the rounding of coordinates of a few hundred m. */
#define PLUMB_POINT_TOLERANCE_M 1e-7
/* The pivot loop stops when the lens moves less than this (design, 3). */
#define PLUMB_POSE_TOLERANCE_M 1e-9
/* Two faces whose 1/depth differs by less than this share of itself lie in
 * one plane for the beam; the wanted screen then wins over its wall. */
#define PLUMB_COPLANAR_SHARE 1e-9

typedef struct {
  double x, y;
} PlumbVec2;

typedef struct {
  double x, y, z;
} PlumbVec3;

static inline PlumbVec2
plumb_vec2 (double x, double y)
{
  return (PlumbVec2){ x, y };
}

static inline PlumbVec2
plumb_vec2_add (PlumbVec2 a, PlumbVec2 b)
{
  return (PlumbVec2){ a.x + b.x, a.y + b.y };
}

static inline PlumbVec2
plumb_vec2_sub (PlumbVec2 a, PlumbVec2 b)
{
  return (PlumbVec2){ a.x - b.x, a.y - b.y };
}

static inline PlumbVec2
plumb_vec2_scale (PlumbVec2 a, double k)
{
  return (PlumbVec2){ a.x * k, a.y * k };
}

/* a + k b */
static inline PlumbVec2
plumb_vec2_along (PlumbVec2 a, PlumbVec2 b, double k)
{
  return (PlumbVec2){ a.x + k * b.x, a.y + k * b.y };
}

static inline double
plumb_vec2_dot (PlumbVec2 a, PlumbVec2 b)
{
  return a.x * b.x + a.y * b.y;
}

/* z of a × b: positive when b lies counter-clockwise of a. */
static inline double
plumb_vec2_cross (PlumbVec2 a, PlumbVec2 b)
{
  return a.x * b.y - a.y * b.x;
}

static inline double
plumb_vec2_length (PlumbVec2 a)
{
  return hypot (a.x, a.y);
}

static inline PlumbVec3
plumb_vec3 (double x, double y, double z)
{
  return (PlumbVec3){ x, y, z };
}

static inline PlumbVec3
plumb_vec3_add (PlumbVec3 a, PlumbVec3 b)
{
  return (PlumbVec3){ a.x + b.x, a.y + b.y, a.z + b.z };
}

static inline PlumbVec3
plumb_vec3_sub (PlumbVec3 a, PlumbVec3 b)
{
  return (PlumbVec3){ a.x - b.x, a.y - b.y, a.z - b.z };
}

static inline PlumbVec3
plumb_vec3_scale (PlumbVec3 a, double k)
{
  return (PlumbVec3){ a.x * k, a.y * k, a.z * k };
}

/* a + k b */
static inline PlumbVec3
plumb_vec3_along (PlumbVec3 a, PlumbVec3 b, double k)
{
  return (PlumbVec3){ a.x + k * b.x, a.y + k * b.y, a.z + k * b.z };
}

static inline double
plumb_vec3_dot (PlumbVec3 a, PlumbVec3 b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline PlumbVec3
plumb_vec3_cross (PlumbVec3 a, PlumbVec3 b)
{
  return (PlumbVec3){ a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x };
}

static inline double
plumb_vec3_length (PlumbVec3 a)
{
  return sqrt (plumb_vec3_dot (a, a));
}

/* The unit vector of a; a itself when it has no length. */
static inline PlumbVec3
plumb_vec3_unit (PlumbVec3 a)
{
  double length = plumb_vec3_length (a);
  return length > 0.0 ? plumb_vec3_scale (a, 1.0 / length) : a;
}

static inline bool
plumb_vec3_is_finite (PlumbVec3 a)
{
  return isfinite (a.x) && isfinite (a.y) && isfinite (a.z);
}

static inline double
plumb_clamp (double value, double least, double greatest)
{
  return value < least ? least : value > greatest ? greatest : value;
}
