/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which of its sentences a finding wants (PlumbFinding.variant), and what
 * number[] then holds. Checks that are not listed have variant 0 and no
 * numbers. Lengths in metres, angles in radians, shares of 1.
 */
#pragma once

/* job.fault: variant is a PlumbFaultCode; number[0] = index of the other
 * record of the same kind (outline crossings). */

/* job.lens_data */
enum {
  PLUMB_V_LENS_DATA_FINE,       /* number[0] worst width residual, [1] worst gap residual */
  PLUMB_V_LENS_DATA_BAD_PAIRS,
  PLUMB_V_LENS_DATA_BAD_RANGE,
  PLUMB_V_LENS_DATA_BAD_OFFSET,
  PLUMB_V_LENS_DATA_BAD_SHIFT,
};

/* job.limit */
enum { PLUMB_V_LIMIT_UNKNOWN_ID, PLUMB_V_LIMIT_NO_REASON, PLUMB_V_LIMIT_IN_USE };

/* job.lens_fits */
enum { PLUMB_V_LENS_FITS, PLUMB_V_LENS_FITS_ASSUMED, PLUMB_V_LENS_DOES_NOT_FIT };

/* beam.reaches_plane */
enum {
  PLUMB_V_REACHES,
  PLUMB_V_BEHIND_SCREEN,  /* the lens is on the wrong side of the picture's plane or in it */
  PLUMB_V_CORNER_MISSES,  /* corner rays never meet it */
};

/* beam.throw_range */
enum { PLUMB_V_THROW_SOLVED, PLUMB_V_THROW_TYPED };

/* beam.shift_set: number[0] wanted h, [1] wanted v, [2] used h, [3] used v (shares) */
/* beam.keystone: number[0] upper over lower edge, [1] left over right edge, [2] panel share used,
 * [3] least tilt (rad), [4] 1 if the least tilt is known */
/* beam.pixels_kept: number[0] tilt that keeps most pixels, [1] its share, [2] 1 if known */
/* beam.covers_*: number[0] how far the two opposite edges are both short (m), 0 if not both */

/* beam.clear_blocker: number[0] panel share on it, [1] distance from the lens of the nearest point (m),
 * [2] state (index among the record's nested states) or -1 at rest, [3] facet error (m) */
enum { PLUMB_V_CLEAR, PLUMB_V_CUTS_PICTURE, PLUMB_V_CUTS_DARK_PANEL };

/* beam.clear_ceiling: number[0] picture share on walls, [1] ceilings and steps, [2] floors, [3] port and
 * opening edges, [4] leaves the building */
enum { PLUMB_V_ROOM_CLEAR, PLUMB_V_ROOM_CUTS, PLUMB_V_WALL_BETWEEN };

/* beam.port: number[0] least clear width, [1] least clear height at the tighter face */
enum { PLUMB_V_PORT_FITS, PLUMB_V_PORT_MISSED };

/* beam.spill: number[0] panel share beside the screen */
/* beam.flatness: number[0] bump (m), [1] bump that the picture tolerates (m), [2] slope of the ray */

/* body.inside: number[0] corners of the body outside */
/* body.clear: number[0] facet error */
/* body.air_*, body.cable_room */
enum { PLUMB_V_FREE_WAY, PLUMB_V_NOTHING_THERE };
/* body.cable_room: number[0] plug, [1] bend radius */

/* body.mount */
enum {
  PLUMB_V_MOUNT_DROP,
  PLUMB_V_MOUNT_YAW,
  PLUMB_V_MOUNT_PITCH,
  PLUMB_V_MOUNT_ROLL,
  PLUMB_V_MOUNT_LOAD,    /* figure and limit in kg */
  PLUMB_V_MOUNT_MISSING, /* a hung machine without a mount */
};
/* body.tilt */
enum { PLUMB_V_TILT_PITCH, PLUMB_V_TILT_ROLL };

/* people.*: number[0] distance eye to picture centre, [1] picture heights, [2] horizontal angle */

/* light.luminance: number[0] foot-lamberts, [1] illuminance at the centre (lx), [2] gain towards the seat,
 * [3] from where on a dark room has enough (cd/m²) */
enum { PLUMB_V_LUMINANCE_LOW, PLUMB_V_LUMINANCE_HIGH };
/* light.noise: number[0] distance (m) */
enum { PLUMB_V_NOISE_FREE, PLUMB_V_NOISE_ROOM };
/* light.contrast: number[0] room light on the screen (lx), [1] white on the screen (lx), [2] printed flux that
 * would do (lm, 0 none or not needed), [3] room light allowed (lx), [4] width of the picture that would do (m),
 * [5] what the room throws back of the picture (lx) */
enum {
  PLUMB_V_CONTRAST_BELOW,
  PLUMB_V_CONTRAST_PASSIVE,
  PLUMB_V_CONTRAST_BASIC,
  PLUMB_V_CONTRAST_ANALYTICAL,
  PLUMB_V_CONTRAST_MOTION,
};
/* light.hazard_height: number[0] hazard distance (m) */
/* light.gain: number[0] half-gain angle (rad) */
