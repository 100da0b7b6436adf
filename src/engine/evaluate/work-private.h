/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the files of this folder share: one arrangement being worked out.
 */
#pragma once

#include "plumbeam/evaluate.h"

/* A lens in a machine at a place, as the sums need it: printed data turned
 * into throw ratios from the exit pupil, centre displacement and shift set,
 * with inversion and rear projection in the signs. */
typedef enum {
  PLUMB_LENS_OK,
  PLUMB_LENS_BAD_PAIRS,  /* the lines do not tell throw ratio and pupil */
  PLUMB_LENS_BAD_RANGE,  /* wide end longer than tele end */
  PLUMB_LENS_BAD_OFFSET, /* parts above and below do not sum to a height */
  PLUMB_LENS_BAD_SHIFT,  /* the shift corners make no convex set */
} PlumbLensTrouble;

typedef struct {
  PlumbLensTrouble trouble;
  double t_wide, t_tele;
  double pupil_behind_m, pupil_u_m; /* from the datum; standard uncertainty */
  double pupil_forward_m;           /* from the hole pattern, along the body's forward axis */
  double throw_u_share;             /* standard uncertainty of printed throw data */
  double panel_aspect;
  bool inverted, rear;
  PlumbShiftSet base; /* body upright, offset not in it */
  PlumbVec2 offset;   /* body upright */
  double tele_scale;
  double worst_width_residual_m, worst_gap_residual_m;
} PlumbLensModel;

void plumb_lens_model_make (const PlumbScene *scene, uint32_t lens, const PlumbMachine *machine, bool inverted,
                            bool rear, PlumbLensModel *out);
/* The allowed shift at a zoom position, in the viewer's signs. */
PlumbShiftSet plumb_lens_model_set (const PlumbLensModel *model, double throw_ratio);

/* The parts between the plate and the lens, in body terms (right, up, forward). */
typedef struct {
  PlumbVec3 plate_m, pivot_m;
  PlumbVec3 head_to_holes; /* body frame */
  PlumbVec3 holes_to_lens; /* body frame */
  bool inverted, rear;
} PlumbChain;

void plumb_chain_make (const PlumbPlace *place, const PlumbPlaceResolved *spot, const PlumbMachine *machine,
                       const PlumbMount *mount, const PlumbLensModel *lens, bool rear, PlumbChain *out);
/* Body axes as r = body-right, w = body-up, f = forward. */
PlumbBeamAxes plumb_chain_body (const PlumbChain *chain, const PlumbBeamAxes *beam);
PlumbVec3 plumb_chain_point (const PlumbBeamAxes *body, PlumbVec3 from_m, PlumbVec3 body_vector);
PlumbVec3 plumb_chain_lens (const PlumbChain *chain, const PlumbBeamAxes *beam);
/* The plate for a wanted lens point at this attitude: the chain is a sum, so
 * this is exact. */
PlumbVec3 plumb_chain_plate_for_lens (const PlumbChain *chain, const PlumbBeamAxes *beam, PlumbVec3 lens_m);

/* Ranges of an arrangement: data-sheet ranges, or a point where typed. */
typedef struct {
  double t_least, t_most;
  PlumbShiftSet set_least, set_most; /* at those throw ratios */
} PlumbRanges;

typedef struct {
  const PlumbScene *scene;
  const PlumbResolved *resolved;
  const PlumbArrangement *arrangement;
  const PlumbMachine *machine;
  const PlumbLens *lens;
  const PlumbPlace *place;
  const PlumbMount *mount; /* NULL: none */
  const PlumbPlaceResolved *spot;
  PlumbLensModel optics;
  PlumbChain chain;
  PlumbRanges ranges;
  PlumbRect wanted;
  PlumbVec3 wanted_m[4];
  PlumbCover cover; /* at the solved attitude */
  bool has_cover;
  bool covers;            /* zoom and shift in use light the whole wanted picture */
  PlumbVec2 wanted_shift; /* that would centre the picture at the zoom in use */
  PlumbShiftSet set;      /* at the zoom in use */
  PlumbEvaluation *e;
  bool with_people;
  uint32_t findings_capacity;
  bool out_of_memory;
} PlumbWork;

/* Pose, zoom, shift, attitude, correction of work->e. */
void plumb_work_solve (PlumbWork *work);
/* Margin (tangent, >= 0 covers) of some zoom and shift at an attitude. */
double plumb_work_margin (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad, double *best_t,
                          PlumbVec2 *best_shift, PlumbCover *cover);
/* Smallest |pitch| at this yaw and roll that covers; false if none within
 * 60°. Residual 1e-9 rad. */
bool plumb_work_least_tilt (const PlumbWork *work, double yaw_rad, double roll_rad, double *pitch_rad, int *rounds);
/* Pitch that keeps most pixels near the least tilt, and that share. */
void plumb_work_best_tilt (PlumbWork *work, double near_rad, double *pitch_rad, double *share);
/* Beam at an attitude with its best zoom and shift, and what it gives. */
bool plumb_work_try (const PlumbWork *work, double yaw_rad, double pitch_rad, double roll_rad, PlumbBeam *beam,
                     PlumbHomography *map, PlumbQuad *raw, PlumbRect *picture, double *share);
bool plumb_work_picture (const PlumbWork *work, const PlumbHomography *map, PlumbRect *out);

/* Standard uncertainty of the lens point along a direction, m. */
double plumb_work_lens_u_m (const PlumbWork *work, PlumbVec3 direction);

/* ---- findings ---------------------------------------------------------------- */

/* Adds a finding and gives it for filling; never NULL (a spare is given when
 * memory ran out, and work->out_of_memory set). */
PlumbFinding *plumb_work_add (PlumbWork *work, PlumbCheck check, PlumbRecordKind kind, uint32_t index);
/* Figure against its limit; sets the verdict. */
void plumb_finding_judge (PlumbFinding *finding, double figure, double spread, PlumbLimitSense sense, double least,
                          double most, const char *unit);
void plumb_finding_missing (PlumbFinding *finding, PlumbRecordKind kind, uint32_t index, int field);
/* The job's own value of a limit, else the table's; basis and row go into the
 * finding. */
double plumb_work_limit (const PlumbWork *work, const char *id, PlumbFinding *finding);

/* Each seat keeps what it fails; the finding tells the worst of them. */
static inline void
plumb_seat_fail (PlumbSeatFigures *seat, PlumbCheck check)
{
  seat->fails = true;
  seat->failing |= UINT64_C (1) << check;
}

void plumb_work_figure (PlumbWork *work, PlumbFigure figure, int i, double value, double spread);
void plumb_work_fill_figures (PlumbWork *work);

void plumb_check_job (PlumbWork *work);
void plumb_check_beam (PlumbWork *work);
void plumb_check_clearance (PlumbWork *work);
void plumb_check_ports (PlumbWork *work);
void plumb_check_body (PlumbWork *work);
void plumb_check_near_picture (PlumbWork *work);
/* False when out of memory. */
bool plumb_check_people (PlumbWork *work);
/* After the people: needs their seats. False when out of memory. */
bool plumb_check_light (PlumbWork *work);

/* Free way out of one side of a box: the nearest matter straight before its
 * rectangle. corner: centre of the side; p, q: half extents (vectors) of the
 * side; out: unit direction. INFINITY where nothing stands. */
double plumb_free_way_m (const PlumbBuilding *building, PlumbVec3 centre, PlumbVec3 half_p, PlumbVec3 half_q,
                         PlumbVec3 out);

/* Fills the work from record indices; false when something is missing (the
 * findings then say what). */
bool plumb_work_begin (PlumbWork *work, const PlumbScene *scene, PlumbEvaluation *e);

/* plumb_evaluate() for an arrangement that need not be in the scene (`index`
 * is then PLUMB_NO_INDEX or that of the one it varies); NULL: none. */
bool plumb_evaluate_record (const PlumbScene *scene, const PlumbArrangement *arrangement, uint32_t index,
                            bool with_people, PlumbEvaluation **out);
