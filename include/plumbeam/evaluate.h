/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One arrangement of a scene, worked out: the solved pose, the findings, the
 * figures that they rest on and the shapes that views draw.
 *
 * Pure and deterministic; safe from any thread on any committed scene. An
 * evaluation owns everything in it and keeps no pointer into the scene, only
 * indices. No words here: message ids and numbers, which text/ words.
 */
#pragma once

#include "plumbeam/people.h"

/* ---- limits ---------------------------------------------------------------------- */

/* L (NAME, "id", value, "unit", basis, clause or note): one row per limit.
 * basis says where it comes from; a job overrides one by its id with a reason. */
typedef enum {
  PLUMB_BASIS_STANDARD,   /* a published standard, named in `source` */
  PLUMB_BASIS_PRACTICE,   /* common practice, no source */
  PLUMB_BASIS_DATA_SHEET, /* the record's own data */
  PLUMB_BASIS_GEOMETRY,   /* no choice in it */
  PLUMB_BASIS_JOB,        /* overridden by the job, with its reason */
} PlumbBasis;

typedef struct {
  const char *id;     /* "beam.pixels_kept_least" */
  double value;       /* SI */
  const char *unit;   /* as figures: "m", "rad", "share", "ratio", "px_per_mm" */
  PlumbBasis basis;
  const char *source; /* standard and clause, or a sentence */
} PlumbLimit;

uint32_t plumb_limit_count (void);
const PlumbLimit *plumb_limit_at (uint32_t i);
/* Index of a limit id, PLUMB_NO_INDEX if unknown. */
uint32_t plumb_limit_find (const char *id);

/* ---- findings --------------------------------------------------------------------- */

typedef enum { PLUMB_FAMILY_JOB, PLUMB_FAMILY_BEAM, PLUMB_FAMILY_BODY, PLUMB_FAMILY_PEOPLE, PLUMB_FAMILY_LIGHT, PLUMB_FAMILY_SCREEN, PLUMB_N_FAMILIES } PlumbFamily;
typedef enum { PLUMB_HOLDS, PLUMB_TIGHT, PLUMB_UNKNOWN, PLUMB_FAILS } PlumbVerdict;
typedef enum {
  PLUMB_STEP_ROOM,
  PLUMB_STEP_SCREEN,
  PLUMB_STEP_MACHINE,
  PLUMB_STEP_PEOPLE,
  PLUMB_STEP_LIGHT,
  PLUMB_STEP_HANGING,
  PLUMB_STEP_RUNS,
  PLUMB_STEP_CHOICE,
  PLUMB_STEP_SQUARING,
  PLUMB_STEP_PAPERS
} PlumbStep;

/* Checks: K (NAME, "check.id", family, step, label). The message id of a
 * finding is its check plus `variant`. */
#define PLUMB_CHECKS(K) \
  K (JOB_FAULT, "job.fault", JOB, ROOM, N_ ("Job")) \
  K (JOB_ARRANGEMENT, "job.arrangement", JOB, MACHINE, N_ ("Arrangement")) \
  K (JOB_LENS_FITS, "job.lens_fits", JOB, MACHINE, N_ ("Lens fitting")) \
  K (JOB_LENS_DATA, "job.lens_data", JOB, MACHINE, N_ ("Lens data")) \
  K (JOB_LIMIT, "job.limit", JOB, ROOM, N_ ("Limit set by the job")) \
  K (BEAM_REACHES_PLANE, "beam.reaches_plane", BEAM, MACHINE, N_ ("Beam meets the picture's plane")) \
  K (BEAM_THROW_RANGE, "beam.throw_range", BEAM, MACHINE, N_ ("Throw in the lens's range")) \
  K (BEAM_SHIFT_SET, "beam.shift_set", BEAM, MACHINE, N_ ("Shift in its set")) \
  K (BEAM_KEYSTONE, "beam.keystone", BEAM, MACHINE, N_ ("Keystone correction")) \
  K (BEAM_PIXELS_KEPT, "beam.pixels_kept", BEAM, MACHINE, N_ ("Pixels kept")) \
  K (BEAM_COVERS_LEFT, "beam.covers_left", BEAM, SCREEN, N_ ("Picture covers the left edge")) \
  K (BEAM_COVERS_RIGHT, "beam.covers_right", BEAM, SCREEN, N_ ("Picture covers the right edge")) \
  K (BEAM_COVERS_BOTTOM, "beam.covers_bottom", BEAM, SCREEN, N_ ("Picture covers the lower edge")) \
  K (BEAM_COVERS_TOP, "beam.covers_top", BEAM, SCREEN, N_ ("Picture covers the upper edge")) \
  K (BEAM_FOCUS_RANGE, "beam.focus_range", BEAM, MACHINE, N_ ("Focus range")) \
  K (BEAM_CLEAR_BLOCKER, "beam.clear_blocker", BEAM, MACHINE, N_ ("Beam clear of a blocker")) \
  K (BEAM_CLEAR_CEILING, "beam.clear_ceiling", BEAM, MACHINE, N_ ("Beam clear of ceiling, walls and floor")) \
  K (BEAM_PORT, "beam.port", BEAM, MACHINE, N_ ("Beam through its port")) \
  K (BEAM_SPILL, "beam.spill", BEAM, SCREEN, N_ ("Spill beside the screen")) \
  K (BEAM_FLATNESS, "beam.flatness", BEAM, SCREEN, N_ ("Flatness of the face")) \
  K (BEAM_SCREEN_FITS, "beam.screen_fits", BEAM, SCREEN, N_ ("Screen fits its wall")) \
  K (BODY_INSIDE, "body.inside", BODY, MACHINE, N_ ("Machine inside a space")) \
  K (BODY_CLEAR, "body.clear", BODY, MACHINE, N_ ("Machine clear of solids")) \
  K (BODY_AIR_LEFT, "body.air_left", BODY, MACHINE, N_ ("Air, left side")) \
  K (BODY_AIR_RIGHT, "body.air_right", BODY, MACHINE, N_ ("Air, right side")) \
  K (BODY_AIR_TOP, "body.air_top", BODY, MACHINE, N_ ("Air, top")) \
  K (BODY_AIR_BOTTOM, "body.air_bottom", BODY, MACHINE, N_ ("Air, bottom")) \
  K (BODY_AIR_REAR, "body.air_rear", BODY, MACHINE, N_ ("Air, rear")) \
  K (BODY_AIR_FRONT, "body.air_front", BODY, MACHINE, N_ ("Air, front")) \
  K (BODY_CABLE_ROOM, "body.cable_room", BODY, MACHINE, N_ ("Cable room behind")) \
  K (BODY_HEADROOM, "body.headroom", BODY, MACHINE, N_ ("Headroom beneath")) \
  K (BODY_REACH, "body.reach", BODY, MACHINE, N_ ("Reach for service")) \
  K (BODY_MOUNT, "body.mount", BODY, MACHINE, N_ ("Mount's own range")) \
  K (BODY_TILT, "body.tilt", BODY, MACHINE, N_ ("Machine's tilt limit")) \
  K (PEOPLE_ANGLE_LEAST, "people.horizontal_angle_least", PEOPLE, PEOPLE, N_ ("Picture wide enough")) \
  K (PEOPLE_ANGLE_MOST, "people.horizontal_angle_most", PEOPLE, PEOPLE, N_ ("Picture not too wide")) \
  K (PEOPLE_HEIGHTS, "people.picture_heights", PEOPLE, PEOPLE, N_ ("Distance in picture heights")) \
  K (PEOPLE_SEAT, "people.seat", PEOPLE, PEOPLE, N_ ("Room for every head")) \
  K (PEOPLE_LOOK_UP, "people.look_up", PEOPLE, PEOPLE, N_ ("Looking up")) \
  K (PEOPLE_OFF_AXIS, "people.off_axis", PEOPLE, PEOPLE, N_ ("Seats beside the picture")) \
  K (PEOPLE_PIXELS, "people.pixels_per_degree", PEOPLE, PEOPLE, N_ ("Pixels per degree")) \
  K (PEOPLE_TEXT, "people.text_height", PEOPLE, PEOPLE, N_ ("Smallest readable text")) \
  K (PEOPLE_HIDDEN, "people.hidden", PEOPLE, PEOPLE, N_ ("Picture hidden")) \
  K (PEOPLE_C_VALUE, "people.c_value", PEOPLE, PEOPLE, N_ ("Line of sight over heads")) \
  K (PEOPLE_SHADOW, "people.shadow", PEOPLE, PEOPLE, N_ ("Shadow in the picture")) \
  K (PEOPLE_SPEAKER, "people.speaker_seen", PEOPLE, PEOPLE, N_ ("Loudspeaker in sight")) \
  K (LIGHT_LUMINANCE, "light.luminance", LIGHT, LIGHT, N_ ("Brightness of the picture")) \
  K (LIGHT_UNIFORMITY, "light.uniformity", LIGHT, LIGHT, N_ ("Evenness of the picture")) \
  K (LIGHT_HOT_SPOT, "light.hot_spot", LIGHT, SCREEN, N_ ("Hot spot of the surface")) \
  K (LIGHT_GAIN, "light.gain", LIGHT, SCREEN, N_ ("Gain and half-gain angle agree")) \
  K (LIGHT_CONTRAST, "light.contrast", LIGHT, LIGHT, N_ ("Contrast in the room")) \
  K (LIGHT_HAZARD, "light.hazard_height", LIGHT, LIGHT, N_ ("Height of the bright beam")) \
  K (LIGHT_NOISE, "light.noise", LIGHT, PEOPLE, N_ ("Fan noise")) \
  K (SCREEN_PATH, "screen.path", SCREEN, SCREEN, N_ ("Way of the drop screen")) \
  K (SCREEN_SOUND, "screen.sound", SCREEN, SCREEN, N_ ("Loudspeaker behind the screen")) \
  K (SCREEN_HEAT, "screen.heat", SCREEN, SCREEN, N_ ("Heat near the screen"))

typedef enum {
#define PLUMB_K(name, id, family, step, label) PLUMB_CHECK_##name,
  PLUMB_CHECKS (PLUMB_K)
#undef PLUMB_K
    PLUMB_N_CHECKS
} PlumbCheck;
_Static_assert (PLUMB_N_CHECKS <= 64, "a seat keeps a bit for each check");

typedef struct {
  const char *id;
  PlumbFamily family;
  PlumbStep step;
  const char *label;
} PlumbCheckInfo;
const PlumbCheckInfo *plumb_check_info (PlumbCheck check);

/* Which way a cure goes. */
typedef enum {
  PLUMB_CURE_NONE,
  PLUMB_CURE_NEARER,      /* machine nearer to the picture by amount, m */
  PLUMB_CURE_FARTHER,
  PLUMB_CURE_LEFT,        /* viewer's left, m */
  PLUMB_CURE_RIGHT,
  PLUMB_CURE_UP,
  PLUMB_CURE_DOWN,
  PLUMB_CURE_TILT_UP,     /* rad */
  PLUMB_CURE_TILT_DOWN,
  PLUMB_CURE_LESS_TILT,
  PLUMB_CURE_SMALLER_PICTURE, /* width by amount, m */
  PLUMB_CURE_LARGER_PICTURE,
  PLUMB_CURE_SHORTER_LENS,    /* throw ratio wanted, amount */
  PLUMB_CURE_LONGER_LENS,
  PLUMB_CURE_SHORTER_DROP, /* m */
  PLUMB_CURE_LONGER_DROP,
  PLUMB_CURE_LARGER_PORT,  /* m */
  PLUMB_CURE_MOVE_BLOCKER, /* m */
  PLUMB_CURE_MEASURE,      /* type what is missing, or measure again */
  PLUMB_CURE_FLATTER,      /* m */
  PLUMB_CURE_SEAT_NEARER,  /* m */
  PLUMB_CURE_SEAT_FARTHER,
  PLUMB_CURE_SEAT_HIGHER,  /* floor under the seat, m */
  PLUMB_CURE_RISER,        /* more rise per row, m */
  PLUMB_CURE_DARKER_ROOM,     /* less light on the screen, lx */
  PLUMB_CURE_BRIGHTER,        /* more printed flux, lm */
  PLUMB_CURE_QUIETER,         /* dB at 1 m */
  PLUMB_CURE_SCREEN_FORWARD,  /* hang the screen nearer to the viewers, m */
  PLUMB_CURE_SCREEN_BACK,     /* nearer to the wall, m */
  PLUMB_CURE_RAISE_SPEAKER,   /* m */
  PLUMB_CURE_MOVE_OFF,        /* what stands where it should not, m */
  PLUMB_N_CURES
} PlumbCure;

typedef enum { PLUMB_LIMIT_AT_MOST, PLUMB_LIMIT_AT_LEAST, PLUMB_LIMIT_BETWEEN, PLUMB_LIMIT_NONE } PlumbLimitSense;

typedef struct {
  PlumbRecordKind kind; /* PLUMB_RECORD_NONE: the arrangement as a whole */
  uint32_t index;       /* of the record */
  uint32_t sub;         /* resolved seat, repeat of a structure, state of a mover; PLUMB_NO_INDEX */
} PlumbSubject;

typedef struct {
  PlumbCheck check;
  uint8_t variant; /* which wording of the check, see text/ */
  PlumbVerdict verdict;
  bool spread_reaches_back; /* fails, but within what was measured */
  PlumbSubject subject;
  bool has_figure;
  double figure, spread; /* SI; spread k = 2 */
  PlumbLimitSense sense;
  double limit_least, limit_most; /* SI */
  const char *unit;               /* "m", "rad", "share", "ratio", "px_per_mm" */
  PlumbBasis basis;
  uint32_t limit;                 /* row of the limits table, PLUMB_NO_INDEX when the basis is a record's data */
  PlumbCure cure;
  double cure_amount;             /* SI */
  double number[6];               /* further numbers for the sentence, by check and variant */
  PlumbRecordKind missing_kind;   /* unknown: which record and field */
  uint32_t missing_index;
  int missing_field;
  bool assumed; /* rests on a field that nobody typed */
} PlumbFinding;

/* ---- figures ------------------------------------------------------------------------- */

/* G (member, "name", count, "unit", meaning): everything that findings rest
 * on. Names end in their unit and are never renamed. Corners run bottom left,
 * bottom right, top right, top left; x and y of a corner follow each other. */
#define PLUMB_FIGURES(G) \
  G (lens_point_m, "lens_point_m", 3, "m", N_ ("exit pupil in the room frame, x y z")) \
  G (plate_point_m, "plate_point_m", 3, "m", N_ ("centre of the plate, arm foot or stand, x y z")) \
  G (pivot_point_m, "pivot_point_m", 3, "m", N_ ("pivot of the mount's head, x y z")) \
  G (hole_pattern_point_m, "hole_pattern_point_m", 3, "m", N_ ("centre of the machine's hole pattern, x y z")) \
  G (yaw_rad, "yaw_rad", 1, "rad", N_ ("turn of the beam against square-on, to the viewer's right")) \
  G (pitch_rad, "pitch_rad", 1, "rad", N_ ("tilt of the beam against square-on, up")) \
  G (roll_rad, "roll_rad", 1, "rad", N_ ("roll of the beam, clockwise for the viewer")) \
  G (pitch_level_rad, "pitch_level_rad", 1, "rad", N_ ("tilt of the beam against level, up")) \
  G (pose_rounds, "pose_rounds", 1, "count", N_ ("rounds that the pivot loop took")) \
  G (pose_residual_m, "pose_residual_m", 1, "m", N_ ("how far the lens moved in the last round")) \
  G (throw_distance_m, "throw_distance_m", 1, "m", N_ ("lens point to the picture's plane, square")) \
  G (throw_ratio, "throw_ratio", 1, "ratio", N_ ("zoom position, from the exit pupil")) \
  G (throw_ratio_needed, "throw_ratio_needed", 1, "ratio", N_ ("for the smallest raw picture that covers the wanted one")) \
  G (throw_ratio_wide, "throw_ratio_wide", 1, "ratio", N_ ("wide end of the lens")) \
  G (throw_ratio_tele, "throw_ratio_tele", 1, "ratio", N_ ("tele end of the lens")) \
  G (pupil_behind_m, "pupil_behind_m", 1, "m", N_ ("exit pupil behind the data sheet's datum")) \
  G (shift_h_share, "shift_h_share", 1, "share", N_ ("shift to the viewer's right, of the full width")) \
  G (shift_v_share, "shift_v_share", 1, "share", N_ ("shift up, of the full height, built-in offset included")) \
  G (shift_wanted_h_share, "shift_wanted_h_share", 1, "share", N_ ("shift that would centre the picture")) \
  G (shift_wanted_v_share, "shift_wanted_v_share", 1, "share", N_ ("shift that would centre the picture")) \
  G (shift_room_m, "shift_room_m", 1, "m", N_ ("left of the shift set, on the screen; negative outside")) \
  G (homography, "homography_panel_to_screen", 9, "ratio", N_ ("panel to picture frame, row by row, last element 1 where that can be")) \
  G (raw_corners_m, "raw_corners_m", 8, "m", N_ ("raw picture in the picture frame")) \
  G (picture_corners_m, "picture_corners_m", 8, "m", N_ ("picture in the picture frame")) \
  G (wanted_width_m, "wanted_width_m", 1, "m", N_ ("greatest picture of the wanted aspect on the screen")) \
  G (wanted_height_m, "wanted_height_m", 1, "m", N_ ("its height")) \
  G (raw_width_m, "raw_width_m", 1, "m", N_ ("raw picture, mean of its lower and upper edge")) \
  G (raw_height_m, "raw_height_m", 1, "m", N_ ("raw picture, mean of its left and right edge")) \
  G (picture_width_m, "picture_width_m", 1, "m", N_ ("picture after correction")) \
  G (picture_height_m, "picture_height_m", 1, "m", N_ ("picture after correction")) \
  G (picture_least_width_m, "picture_least_width_m", 1, "m", N_ ("raw width at the tele end from here")) \
  G (picture_greatest_width_m, "picture_greatest_width_m", 1, "m", N_ ("raw width at the wide end from here")) \
  G (panel_share_used, "panel_share_used", 1, "share", N_ ("of the panel that lights the picture")) \
  G (content_share, "content_share", 1, "share", N_ ("of the picture's panel area that the picture aspect leaves")) \
  G (keystone_width_ratio, "keystone_width_ratio", 1, "ratio", N_ ("upper edge over lower edge of the raw picture")) \
  G (keystone_height_ratio, "keystone_height_ratio", 1, "ratio", N_ ("left edge over right edge of the raw picture")) \
  G (least_tilt_rad, "least_tilt_rad", 1, "rad", N_ ("smallest tilt with which zoom and shift reach the screen")) \
  G (best_tilt_rad, "best_tilt_rad", 1, "rad", N_ ("tilt that keeps most pixels")) \
  G (best_tilt_panel_share, "best_tilt_panel_share", 1, "share", N_ ("panel share used at that tilt")) \
  G (pixels_least_per_mm, "pixels_least_px_per_mm", 1, "px_per_mm", N_ ("least pixels per millimetre in the picture")) \
  G (pixels_greatest_per_mm, "pixels_greatest_px_per_mm", 1, "px_per_mm", N_ ("greatest pixels per millimetre in the picture")) \
  G (share_screen, "panel_share_screen", 1, "share", N_ ("panel share that lands on the screen")) \
  G (share_walls, "panel_share_walls", 1, "share", N_ ("panel share on walls")) \
  G (share_floor, "panel_share_floor", 1, "share", N_ ("panel share on floors")) \
  G (share_ceiling, "panel_share_ceiling", 1, "share", N_ ("panel share on ceilings and their steps")) \
  G (share_blockers, "panel_share_blockers", 1, "share", N_ ("panel share on blockers")) \
  G (share_structure, "panel_share_structure", 1, "share", N_ ("panel share on exposed structure")) \
  G (share_ports, "panel_share_ports", 1, "share", N_ ("panel share on edges of ports and openings")) \
  G (share_leaves, "panel_share_leaves_building", 1, "share", N_ ("panel share that meets no face")) \
  G (flatness_bend_m, "flatness_bend_m", 1, "m", N_ ("greatest sideways error that the face's bump makes")) \
  G (distance_slab_m, "distance_slab_m", 2, "m", N_ ("lens distances from which this lens fills the screen")) \
  G (least_port_m, "least_port_m", 2, "m", N_ ("least clear width and height of the port, at its tighter face")) \
  G (flux_lm, "flux_lm", 1, "lm", N_ ("light that leaves the lens, after every loss")) \
  G (flux_on_screen_share, "flux_on_screen_share", 1, "share", N_ ("of that light that falls on the screen's face, nothing standing between")) \
  G (illuminance_centre_lx, "illuminance_centre_lx", 1, "lx", N_ ("from the machine, at the picture's centre")) \
  G (illuminance_corners_lx, "illuminance_corners_lx", 4, "lx", N_ ("from the machine, at the picture's corners")) \
  G (illuminance_fields_lx, "illuminance_fields_lx", 9, "lx", N_ ("from the machine, at the centres of nine equal fields, row by row from the bottom left")) \
  G (uniformity_share, "uniformity_share", 1, "share", N_ ("least of the nine fields over the centre")) \
  G (gain_bound_ratio, "gain_bound_ratio", 1, "ratio", N_ ("greatest gain that the half-gain angle allows")) \
  G (beam_lowest_m, "beam_lowest_within_hazard_distance_m", 1, "m", N_ ("lowest level of the beam within the machine's hazard distance")) \
  G (picture_shadow_share, "picture_shadow_share", 1, "share", N_ ("of the picture that people and solids shadow, movers at rest, nobody walking")) \
  G (plate_for_centre_m, "plate_for_centre_m", 3, "m", N_ ("plate point that would put the lens square before the picture's centre line"))

typedef enum {
#define PLUMB_G(member, name, count, unit, meaning) PLUMB_FIGURE_##member,
  PLUMB_FIGURES (PLUMB_G)
#undef PLUMB_G
    PLUMB_N_FIGURES
} PlumbFigure;

typedef struct {
  const char *name;
  int count;
  const char *unit;
  const char *meaning;
} PlumbFigureInfo;
const PlumbFigureInfo *plumb_figure_info (PlumbFigure figure);

/* valid: bit per value that is known; spread: k = 2, 0 where it has none. */
typedef struct {
  bool valid;
  double value[9];
  double spread[9];
} PlumbFigureValue;

/* Per seat. */
typedef struct {
  uint32_t seat; /* in the resolved seats */
  double horizontal_angle_rad;
  double distance_m;              /* eye to the picture's centre */
  double distance_heights_ratio;  /* in picture heights */
  bool no_room;                   /* nobody can sit there: it neither sees nor hides */
  bool fails;                     /* some check about this seat; findings name the worst seat alone */
  uint64_t failing;               /* which: bit per PlumbCheck */
  bool before_picture;            /* the eye is on the viewers' side; else all sight figures are 0 */
  double look_up_centre_rad;      /* from level to the picture's centre */
  double look_up_top_rad;         /* to the nearest point of the upper edge */
  double off_axis_rad;            /* at the picture's centre, between its normal and the eye */
  double far_edge_angle_rad;      /* in plan, at the far upright edge */
  double pixels_per_degree;       /* where the pixels are coarsest; 0 without a picture */
  double text_height_m;           /* smallest readable sign: distance over 200 */
  double hidden_share;            /* of the picture, behind heads, people and solids */
  double hidden_by_share;         /* of it by the one below alone */
  PlumbWho hidden_by;             /* who hides most */
  uint32_t hidden_state;          /* state of the mover at which this was found, PLUMB_NO_INDEX at rest */
  double c_value_m;               /* over the worst head in front; valid when c_over is a seat */
  uint32_t c_over;                /* in the resolved seats, PLUMB_NO_INDEX: nobody in the line of sight */
  double luminance_cd_m2[5];      /* white in the dark: centre, then the corners; 0 when nothing is thrown */
  double gain_ratio;              /* of the surface, at the centre */
  double noise_db;                /* A-weighted; valid when the machine's own figure is */
} PlumbSeatFigures;

/* Per light state. */
typedef struct {
  bool known;          /* the light on the screen can be told */
  double ambient_lx;   /* room light on the screen */
  double own_lx;       /* what the room throws back of the picture's own light, half of it white */
  double contrast_ratio, contrast_spread;
  double mode_share;               /* light mode of the machine in this state */
  double white_lx;                 /* from the machine in that mode, mean of the nine fields */
  double luminance_cd_m2;          /* white in the dark in that mode, at the centre towards the worst seat; 0 without one */
  double returned_share;           /* gain of the surface for light from all round */
  double white_share, black_share; /* luminance over that of white in the dark in the machine's own mode, towards the worst seat */
  double flux_needed_lm;           /* printed flux that reaches the wanted contrast in that mode; 0: none does or none is wanted */
  double ambient_allowed_lx;       /* negative: not even in the dark */
  double picture_width_needed_m;   /* 0 likewise */
  uint32_t seat;                   /* the worst, PLUMB_NO_INDEX without seats */
} PlumbStateFigures;

/* Per solid that the beam passes. */
typedef struct {
  uint32_t solid;     /* in the building */
  double clearance_m; /* from the picture's beam; 0 when it cuts it */
  double spread_m;    /* k = 2 */
  double panel_share; /* of the whole panel that lands on it */
  PlumbVec3 on_beam_m, on_solid_m;
} PlumbClearance;

/* ---- the evaluation --------------------------------------------------------------------- */

typedef struct {
  uint32_t arrangement, screen, machine, lens, place, mount; /* record indices, PLUMB_NO_INDEX if missing */
  bool solved;       /* there is a beam */
  PlumbBeam beam;
  PlumbBeamAxes body; /* f forward, r body-right, w body-up */
  PlumbVec3 plate_m, pivot_m, holes_m;
  PlumbVec3 body_corner_m[8]; /* the body's box: bottom four then top four in body terms */
  PlumbScreenResolved target;
  PlumbHomography to_screen; /* valid if has_raw */
  bool has_raw, has_picture;
  PlumbQuad raw;
  PlumbRect wanted, picture;
  PlumbBeamCut cut; /* what the whole raw beam meets, mover states at rest */
  PlumbFigureValue figures[PLUMB_N_FIGURES];
  uint32_t n_findings;
  PlumbFinding *findings; /* worst first, then in the order of the checks */
  uint32_t n_seats;
  PlumbSeatFigures *seats;
  uint32_t n_states;
  PlumbStateFigures *states; /* one per light state record */
  uint32_t n_clearances;
  PlumbClearance *clearances; /* nearest first */
  PlumbVerdict worst;
} PlumbEvaluation;

/* False only when out of memory. `arrangement` may be PLUMB_NO_INDEX or out of
 * range: then the evaluation holds the job's faults and says so. The scene
 * must be committed. */
bool plumb_evaluate (const PlumbScene *scene, uint32_t arrangement, PlumbEvaluation **out);
void plumb_evaluation_free (PlumbEvaluation *evaluation);

/* Contrast towards one seat in a light state, as a state's own figure is
 * towards the worst. False when the light on the screen, or the picture, is
 * not known, or either index is out of range. */
bool plumb_seat_contrast (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t state, uint32_t seat,
                          double *ratio);

/* ---- lens trial ---------------------------------------------------------------------------- */

/* One machine with one of its lenses at one place, against a screen. */
typedef struct {
  uint32_t screen, machine, lens, place, mount;
  bool fits;                        /* the lens fits the machine */
  bool reachable;                   /* there is a square-on distance > 0 */
  double throw_distance_m;
  double picture_least_m, picture_greatest_m; /* raw widths at tele and wide */
  double throw_ratio, throw_room_wide, throw_room_tele; /* at the screen, and what is left to each end */
  double shift_h_share, shift_v_share, shift_room_m;
  bool square_on;                   /* zoom and shift alone do it */
  bool tilted;                      /* a tilt does it */
  double tilt_rad, keystone_ratio, panel_share_used;
  double pixels_least_per_mm;
  double air_room_m, cable_room_m;  /* least to spare; negative = short */
  PlumbVerdict worst;
  PlumbFinding worst_finding;
} PlumbTrialLine;

/* Every machine × lens × place for the screen, mount and picture aspect of an
 * arrangement. Lines are in record order; *lines is malloc'ed, free() it.
 * False only when out of memory. Pure; `first` and `count` let callers share
 * the work out (count 0 = all). */
bool plumb_lens_trial (const PlumbScene *scene, uint32_t arrangement, uint32_t first, uint32_t count,
                       PlumbTrialLine **lines, uint32_t *n_lines);
uint32_t plumb_lens_trial_count (const PlumbScene *scene);
