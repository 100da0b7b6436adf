/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A scene: the immutable, counted, in-memory form of a job.
 *
 * A root holds one counted array per record kind. An edit makes a new root
 * that shares every array it did not change; plumb_scene_commit() then gives
 * it a resolved block (where everything is, in room coordinates). After that
 * nothing in it changes, so any thread may read it without a lock. Counting
 * is atomic.
 *
 * A scene holds whatever the file may hold. A plan that cannot work (a
 * reference to nothing, an outline that crosses itself, a place outside every
 * space) still commits; its faults become findings, so nothing typed is lost.
 */
#pragma once

#include "plumbeam/building.h"
#include "plumbeam/records.h"

typedef struct PlumbScene PlumbScene;

/* Greatest number of records of one kind; the file reader refuses more. */
#define PLUMB_MAX_RECORDS 20000
/* Greatest number of seats after rows are expanded; the rest is a fault. */
#define PLUMB_MAX_SEATS 20000

/* Greatest numbers of solids (repeats and pieces counted) and of faces that a
 * scene is worked out with; the rest is a fault. They keep a hostile file
 * within some 100 MB. */
#define PLUMB_MAX_SOLIDS 50000
#define PLUMB_MAX_FACES 300000

/* An empty job with default job record, one reference. NULL: no memory. */
PlumbScene *plumb_scene_new (void);
PlumbScene *plumb_scene_ref (const PlumbScene *scene);
/* Drops a reference; NULL is fine. */
void plumb_scene_unref (const PlumbScene *scene);

/* A new, uncommitted root that shares all arrays of `scene` but this one,
 * which gets a copy of `count` records (laid out as the kind's struct). Job
 * has exactly one. Nested kinds must be sorted by owner. NULL: no memory. */
PlumbScene *plumb_scene_with (const PlumbScene *scene, PlumbRecordKind kind, const void *records, uint32_t count);

/* A new, uncommitted root that shares all arrays. It is what undo keeps: the
 * resolved block takes more memory than the records and can be made again.
 * NULL: no memory. */
PlumbScene *plumb_scene_root (const PlumbScene *scene);
/* Memory of the array of this kind, whoever shares it. */
size_t plumb_scene_array_bytes (const PlumbScene *scene, PlumbRecordKind kind);

/* Puts an array into a root that nobody else has seen yet and that is not
 * committed: the reader's way of filling a new scene. */
bool plumb_scene_fill (PlumbScene *scene, PlumbRecordKind kind, const void *records, uint32_t count);

/* Resolves; false only when out of memory. Committing twice does nothing. */
bool plumb_scene_commit (PlumbScene *scene);

const void *plumb_scene_records (const PlumbScene *scene, PlumbRecordKind kind, uint32_t *count);
/* Record i of a kind; i must be in range. */
const void *plumb_scene_record (const PlumbScene *scene, PlumbRecordKind kind, uint32_t i);
/* Index of the record with this id, PLUMB_NO_INDEX if there is none or the id
 * is empty. */
uint32_t plumb_scene_find (const PlumbScene *scene, PlumbRecordKind kind, const char *id);
/* First nested record of an owner and their number. */
const void *plumb_scene_nested (const PlumbScene *scene, PlumbRecordKind kind, uint32_t owner, uint32_t *count);
/* The arrangement that the job names as current, else the first, else
 * PLUMB_NO_INDEX. */
uint32_t plumb_scene_current_arrangement (const PlumbScene *scene);
/* Whether two roots share the array of this kind (undo, tests). */
bool plumb_scene_shares (const PlumbScene *a, const PlumbScene *b, PlumbRecordKind kind);

/* Typed access: plumb_scene_walls (scene, &n) and so on. */
#define PLUMB_R(name, NAME, key, parent, label)                                                                   \
  static inline const plumb_struct_##name *plumb_scene_##name##_records (const PlumbScene *scene, uint32_t *count) \
  {                                                                                                               \
    return (const plumb_struct_##name *) plumb_scene_records (scene, PLUMB_RECORD_##NAME, count);                  \
  }                                                                                                               \
  static inline const plumb_struct_##name *plumb_scene_##name (const PlumbScene *scene, uint32_t i)                \
  {                                                                                                               \
    return (const plumb_struct_##name *) plumb_scene_record (scene, PLUMB_RECORD_##NAME, i);                       \
  }
PLUMB_RECORDS (PLUMB_R)
#undef PLUMB_R

/* ---- the resolved block -------------------------------------------------------- */

typedef enum {
  PLUMB_FAULT_REFERENCE,       /* a REF names no record; text = the field */
  PLUMB_FAULT_OUTLINE_FEW,     /* a space has fewer than three walls */
  PLUMB_FAULT_OUTLINE_CROSSES, /* its outline crosses or touches itself; other = the second wall */
  PLUMB_FAULT_OUTLINE_TURNS,   /* its corners run clockwise: taken the other way round is not guessed */
  PLUMB_FAULT_NO_CEILING,      /* a space has no ceiling plane without limits */
  PLUMB_FAULT_LIMIT,           /* a ceiling's limit polygon has too few corners, no area, or crosses itself */
  PLUMB_FAULT_BLOCKER_OUTLINE, /* an extruded outline likewise */
  PLUMB_FAULT_PLACE_PARALLEL,  /* along and off are measured from parallel walls */
  PLUMB_FAULT_PLACE_REFERENCE, /* a reference of the place is missing: it has no point */
  PLUMB_FAULT_PLACE_OUTSIDE,   /* the place lies in no space */
  PLUMB_FAULT_HOLE_OUTSIDE,    /* a port or opening reaches over its wall's edge */
  PLUMB_FAULT_SCREEN_WALL,     /* the screen's wall is missing */
  PLUMB_FAULT_TOO_MANY_SEATS,  /* rows hold more seats than PLUMB_MAX_SEATS */
  PLUMB_FAULT_TOO_MANY_SOLIDS, /* more solids or faces than PLUMB_MAX_SOLIDS, PLUMB_MAX_FACES */
} PlumbFaultCode;

typedef struct {
  PlumbFaultCode code;
  PlumbRecordKind kind;
  uint32_t index;
  int field;      /* index in the field table, -1 if none */
  uint32_t other; /* index of a second record of the same kind, PLUMB_NO_INDEX if none */
} PlumbFault;

/* Where a place is: the plate (hung), the arm's foot on the wall, or the spot
 * that the feet stand on. u_* are standard uncertainties from the tape. */
typedef struct {
  bool valid;
  PlumbVec3 plate_m;
  PlumbVec3 normal;        /* out of what carries it: straight down under a level ceiling, off the wall for an arm */
  double along_u_m, off_u_m, height_u_m; /* standard uncertainty of each coordinate as measured */
  PlumbVec3 along_axis, off_axis;        /* room directions in which an error of each measure moves the plate */
  uint32_t space;          /* that holds it, PLUMB_NO_INDEX */
  double ceiling_z_m, floor_z_m; /* above and below it; valid when space is */
} PlumbPlaceResolved;

typedef struct {
  bool valid;
  PlumbPlaneFrame frame; /* origin: centre of the face */
  double width_m, height_m;
  bool rear;
  uint32_t wall; /* PLUMB_NO_INDEX when free */
  uint32_t space;
  double u_m; /* standard uncertainty of its edges as measured */
} PlumbScreenResolved;

typedef struct {
  char id[PLUMB_ID_SIZE + 24]; /* row2:3 */
  PlumbVec3 eye_m;
  double facing_rad, head_above_eye_m, floor_z_m;
  uint32_t seat, row; /* the record it comes from, PLUMB_NO_INDEX */
  uint32_t number;    /* seat in the row, from 1; row number × count for several rows */
} PlumbSeatResolved;

typedef struct {
  const PlumbBuilding *building; /* faces and solids at rest */
  uint32_t n_faults;
  const PlumbFault *faults;
  uint32_t n_places;
  const PlumbPlaceResolved *places;
  uint32_t n_screens;
  const PlumbScreenResolved *screens;
  uint32_t n_seats;
  const PlumbSeatResolved *seats;
} PlumbResolved;

/* NULL before the commit. */
const PlumbResolved *plumb_scene_resolved (const PlumbScene *scene);

/* Standard uncertainty of a length measured with the record's tape (its id in
 * `tape`, else the job's usual tape, else 3 mm, common practice). Rectangular
 * bounds give b/√3, two-sigma figures b/2. */
double plumb_scene_tape_u_m (const PlumbScene *scene, const char *tape, double length_m);
