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

/* people.* of seats: one finding a check, about the worst seat. number[0] distance eye to picture centre, [1]
 * picture heights, [2] horizontal angle, [3] see below, [4] seats that fail, [5] seats looked at */
/* people.look_up: number[3] angle to the picture's centre */
/* people.off_axis */
enum {
  PLUMB_V_OFF_AXIS_FAR_EDGE, /* figure at the far edge, in plan */
  PLUMB_V_OFF_AXIS_CENTRE,   /* figure at the centre, in plan, against a usual limit */
  PLUMB_V_OFF_AXIS_GAIN,     /* figure at the centre, against the surface's half-gain angle */
};
/* people.pixels_per_degree */
enum { PLUMB_V_PIXELS_MERGE, PLUMB_V_PIXELS_RESOLVED };
/* people.text_height: figure as a share of the picture's height; number[3] its height (m) */
/* people.hidden: number[0] share by whom it is most, [1] that one (PlumbWho), [2] state of a mover + 1, 0 at rest,
 * [4], [5] as above */
/* people.c_value: number[0] distance front eye to rear eye, [1] the front seat (PlumbWho), [2] rise between the two
 * that the formula wants, [3] stagger that would do (m), 0 none, [4], [5] as above */
enum { PLUMB_V_C_VALUE, PLUMB_V_C_NOBODY_IN_FRONT };
/* people.seat: number[0] another seat in the same place (PlumbWho), [4], [5] as above */
enum {
  PLUMB_V_SEAT_ROOM,
  PLUMB_V_SEAT_SAME_PLACE,
  PLUMB_V_SEAT_BEHIND_SCREEN, /* the head is in the screen or behind it */
  PLUMB_V_SEAT_BELOW_FLOOR,
  PLUMB_V_SEAT_IN_WALL, /* or outside every space */
  PLUMB_V_SEAT_IN_SOLID, /* number[0] the solid (PlumbWho) */
};
/* people.shadow: number[0] 1 if it only dims, [1] distance from the lens, [2] share that the whole path shadows,
 * [3], [4] x and y of the worst place; of seats [4] seats that cast one, [5] seats; of a mover [5] state + 1 */
enum { PLUMB_V_SHADOW, PLUMB_V_SHADOW_WALKING, PLUMB_V_SHADOW_SEATS, PLUMB_V_SHADOW_MOVER, PLUMB_V_SHADOW_NOBODY };

/* light.luminance: number[0] foot-lamberts, [1] illuminance at the centre (lx), [2] gain towards the seat,
 * [3] from where on a dark room has enough (cd/m²) */
enum { PLUMB_V_LUMINANCE_LOW, PLUMB_V_LUMINANCE_HIGH };
/* light.noise: number[0] distance (m) */
enum { PLUMB_V_NOISE_FREE, PLUMB_V_NOISE_ROOM };
/* light.contrast: number[0] room light on the screen (lx), [1] white on the screen (lx), [2] printed flux that
 * would do (lm, 0 none or not needed), [3] room light allowed (lx), [4] width of the picture that would do (m),
 * [5] what the room throws back of the picture (lx); [1], [2], [4], [5] in the state's own light mode */
enum {
  PLUMB_V_CONTRAST_BELOW,
  PLUMB_V_CONTRAST_PASSIVE,
  PLUMB_V_CONTRAST_BASIC,
  PLUMB_V_CONTRAST_ANALYTICAL,
  PLUMB_V_CONTRAST_MOTION,
};
/* light.hazard_height: number[0] hazard distance (m) */
/* light.gain: number[0] half-gain angle (rad) */

/* people.speaker_seen: one finding a loudspeaker, about the worst seat. number[0] share hidden by whom it is most,
 * [1] that one (PlumbWho), [3] the loudspeaker (PlumbWho), [4] seats that fail, [5] seats looked at */
/* screen.path: figure from what stands nearest to the sheet on its way; number[0] state of a mover + 1, 0 at rest */
enum {
  PLUMB_V_PATH_CLEAR,   /* near it, or clear of it */
  PLUMB_V_PATH_MET,     /* in it */
  PLUMB_V_PATH_NOTHING, /* nothing stands in the room */
};
/* screen.sound: figure the share of the loudspeaker, seen square on, that the face stands before; number[0] as above,
 * [1] how far behind the face its front is (m) */
enum { PLUMB_V_SOUND_STOPPED, PLUMB_V_SOUND_PASSES };
/* screen.heat: number[0] as above */
enum { PLUMB_V_HEAT_UNDER, PLUMB_V_HEAT_BEHIND };
