/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The records of a job: structs, field tables and defaults, all expanded from
 * record-lists.h.
 *
 * A record is a plain struct in SI. Its head tells which fields were typed
 * (bit i = field i of the table); the others hold their default and are
 * *assumed*. Nested records (corners, data-sheet lines, states) sit in flat
 * arrays of their own, sorted by owner.
 */
#pragma once

#include "plumbeam/vec.h"

#define PLUMB_ID_SIZE 48
#define PLUMB_LABEL_SIZE 96
#define PLUMB_FORMAT_VERSION 1

/* Marks text for translation; text/ looks it up. */
#define N_(text) text

#include "plumbeam/record-lists.h"

/* ---- choices -------------------------------------------------------------- */

#define PLUMB_CHOICE_LISTS(L) \
  L (UNITS) L (PURPOSE) L (BOUND) L (CONSTRUCTION) L (MEMBER) L (SUPPORT) L (LIT) L (END) L (ACROSS) L (SURFACE) \
  L (LENS_DATA) L (DATUM) L (OFFSET_FORM) L (SHIFT_SHAPE) L (SHIFT_UNIT) L (PAIR_END) L (MOUNT_KIND) L (TUBE) \
  L (CARRIED) L (HEIGHT_FROM) L (SOLVE) L (POSTURE) L (SEAT_KIND) L (EYE_FROM) L (SHAPE) L (ROLE) L (OPENING) L (LAMP_KIND)

/* The enumerators of each list, from 0 in order: PLUMB_<LIST>_<SUFFIX>. */
#define PLUMB_C_UNITS(s, w, l) PLUMB_UNITS_##s,
#define PLUMB_C_PURPOSE(s, w, l) PLUMB_PURPOSE_##s,
#define PLUMB_C_BOUND(s, w, l) PLUMB_BOUND_##s,
#define PLUMB_C_CONSTRUCTION(s, w, l) PLUMB_CONSTRUCTION_##s,
#define PLUMB_C_MEMBER(s, w, l) PLUMB_MEMBER_##s,
#define PLUMB_C_SUPPORT(s, w, l) PLUMB_SUPPORT_##s,
#define PLUMB_C_LIT(s, w, l) PLUMB_LIT_##s,
#define PLUMB_C_END(s, w, l) PLUMB_END_##s,
#define PLUMB_C_ACROSS(s, w, l) PLUMB_ACROSS_##s,
#define PLUMB_C_SURFACE(s, w, l) PLUMB_SURFACE_##s,
#define PLUMB_C_LENS_DATA(s, w, l) PLUMB_LENS_DATA_##s,
#define PLUMB_C_DATUM(s, w, l) PLUMB_DATUM_##s,
#define PLUMB_C_OFFSET_FORM(s, w, l) PLUMB_OFFSET_FORM_##s,
#define PLUMB_C_SHIFT_SHAPE(s, w, l) PLUMB_SHIFT_SHAPE_##s,
#define PLUMB_C_SHIFT_UNIT(s, w, l) PLUMB_SHIFT_UNIT_##s,
#define PLUMB_C_PAIR_END(s, w, l) PLUMB_PAIR_END_##s,
#define PLUMB_C_MOUNT_KIND(s, w, l) PLUMB_MOUNT_KIND_##s,
#define PLUMB_C_TUBE(s, w, l) PLUMB_TUBE_##s,
#define PLUMB_C_CARRIED(s, w, l) PLUMB_CARRIED_##s,
#define PLUMB_C_HEIGHT_FROM(s, w, l) PLUMB_HEIGHT_FROM_##s,
#define PLUMB_C_SOLVE(s, w, l) PLUMB_SOLVE_##s,
#define PLUMB_C_POSTURE(s, w, l) PLUMB_POSTURE_##s,
#define PLUMB_C_SEAT_KIND(s, w, l) PLUMB_SEAT_KIND_##s,
#define PLUMB_C_EYE_FROM(s, w, l) PLUMB_EYE_FROM_##s,
#define PLUMB_C_SHAPE(s, w, l) PLUMB_SHAPE_##s,
#define PLUMB_C_ROLE(s, w, l) PLUMB_ROLE_##s,
#define PLUMB_C_OPENING(s, w, l) PLUMB_OPENING_##s,
#define PLUMB_C_LAMP_KIND(s, w, l) PLUMB_LAMP_KIND_##s,
#define PLUMB_EXPAND_LIST(list) enum { PLUMB_CHOICES_##list (PLUMB_C_##list) PLUMB_N_##list };
PLUMB_CHOICE_LISTS (PLUMB_EXPAND_LIST)
#undef PLUMB_EXPAND_LIST

typedef struct {
  const char *word;  /* in the file */
  const char *label; /* for people, to be translated */
} PlumbChoice;

/* ---- record kinds ----------------------------------------------------------- */

typedef enum {
  PLUMB_RECORD_NONE = -1,
#define PLUMB_R(name, NAME, key, parent, label) PLUMB_RECORD_##NAME,
  PLUMB_RECORDS (PLUMB_R)
#undef PLUMB_R
    PLUMB_N_RECORDS
} PlumbRecordKind;

#define PLUMB_RECORD_OF(name) PLUMB_RECORD_OF_##name
enum {
#define PLUMB_R(name, NAME, key, parent, label) PLUMB_RECORD_OF_##name = PLUMB_RECORD_##NAME,
  PLUMB_RECORDS (PLUMB_R)
#undef PLUMB_R
};
#define PLUMB_REF(name) (UINT32_C (1) << PLUMB_RECORD_OF_##name)

/* ---- structs ------------------------------------------------------------------ */

typedef struct {
  uint64_t typed; /* bit i: field i was typed, not assumed */
  uint32_t owner; /* index of the record that a nested record belongs to */
} PlumbRecordHead;

#define PLUMB_MEMBER_NUM(member, arg) double member;
#define PLUMB_MEMBER_COUNT(member, arg) int32_t member;
#define PLUMB_MEMBER_FLAG(member, arg) bool member;
#define PLUMB_MEMBER_CHOICE(member, arg) int32_t member;
#define PLUMB_MEMBER_TEXT(member, arg) char member[arg];
#define PLUMB_MEMBER_REF(member, arg) char member[PLUMB_ID_SIZE];
#define PLUMB_STRUCT_F(TYPE, member, key, arg, lo, hi, def, when, label, help, since) PLUMB_MEMBER_##TYPE (member, arg)

typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_job (PLUMB_STRUCT_F)
} PlumbJob;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_tape (PLUMB_STRUCT_F)
} PlumbTape;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_space (PLUMB_STRUCT_F)
} PlumbSpace;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_wall (PLUMB_STRUCT_F)
} PlumbWall;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_ceiling (PLUMB_STRUCT_F)
} PlumbCeiling;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_ceiling_point (PLUMB_STRUCT_F)
} PlumbCeilingPoint;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_structure (PLUMB_STRUCT_F)
} PlumbStructure;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_screen (PLUMB_STRUCT_F)
} PlumbScreen;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_machine (PLUMB_STRUCT_F)
} PlumbMachine;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_lens (PLUMB_STRUCT_F)
} PlumbLens;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_lens_pair (PLUMB_STRUCT_F)
} PlumbLensPairLine;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_lens_shift_point (PLUMB_STRUCT_F)
} PlumbLensShiftPoint;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_mount (PLUMB_STRUCT_F)
} PlumbMount;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_place (PLUMB_STRUCT_F)
} PlumbPlace;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_arrangement (PLUMB_STRUCT_F)
} PlumbArrangement;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_seat (PLUMB_STRUCT_F)
} PlumbSeat;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_row (PLUMB_STRUCT_F)
} PlumbRow;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_person (PLUMB_STRUCT_F)
} PlumbPerson;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_blocker (PLUMB_STRUCT_F)
} PlumbBlocker;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_blocker_point (PLUMB_STRUCT_F)
} PlumbBlockerPoint;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_blocker_state (PLUMB_STRUCT_F)
} PlumbBlockerState;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_port (PLUMB_STRUCT_F)
} PlumbPort;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_opening (PLUMB_STRUCT_F)
} PlumbOpening;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_lamp (PLUMB_STRUCT_F)
} PlumbLamp;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_lamp_hour (PLUMB_STRUCT_F)
} PlumbLampHour;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_light_state (PLUMB_STRUCT_F)
} PlumbLightState;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_light_level (PLUMB_STRUCT_F)
} PlumbLightLevel;
typedef struct {
  PlumbRecordHead head;
  PLUMB_FIELDS_limit (PLUMB_STRUCT_F)
} PlumbLimitOverride;

/* The struct of a record by its list name, for generic macros. */
typedef PlumbJob plumb_struct_job;
typedef PlumbTape plumb_struct_tape;
typedef PlumbSpace plumb_struct_space;
typedef PlumbWall plumb_struct_wall;
typedef PlumbCeiling plumb_struct_ceiling;
typedef PlumbCeilingPoint plumb_struct_ceiling_point;
typedef PlumbStructure plumb_struct_structure;
typedef PlumbScreen plumb_struct_screen;
typedef PlumbMachine plumb_struct_machine;
typedef PlumbLens plumb_struct_lens;
typedef PlumbLensPairLine plumb_struct_lens_pair;
typedef PlumbLensShiftPoint plumb_struct_lens_shift_point;
typedef PlumbMount plumb_struct_mount;
typedef PlumbPlace plumb_struct_place;
typedef PlumbArrangement plumb_struct_arrangement;
typedef PlumbSeat plumb_struct_seat;
typedef PlumbRow plumb_struct_row;
typedef PlumbPerson plumb_struct_person;
typedef PlumbBlocker plumb_struct_blocker;
typedef PlumbBlockerPoint plumb_struct_blocker_point;
typedef PlumbBlockerState plumb_struct_blocker_state;
typedef PlumbPort plumb_struct_port;
typedef PlumbOpening plumb_struct_opening;
typedef PlumbLamp plumb_struct_lamp;
typedef PlumbLampHour plumb_struct_lamp_hour;
typedef PlumbLightState plumb_struct_light_state;
typedef PlumbLightLevel plumb_struct_light_level;
typedef PlumbLimitOverride plumb_struct_limit;

/* ---- field indices: PLUMB_FIELD_<record>_<member> ------------------------------- */

#define PLUMB_R(name, NAME, key, parent, label) PLUMB_DECLARE_FIELDS (name)
#define PLUMB_I_job(T, m, ...) PLUMB_FIELD_job_##m,
#define PLUMB_I_tape(T, m, ...) PLUMB_FIELD_tape_##m,
#define PLUMB_I_space(T, m, ...) PLUMB_FIELD_space_##m,
#define PLUMB_I_wall(T, m, ...) PLUMB_FIELD_wall_##m,
#define PLUMB_I_ceiling(T, m, ...) PLUMB_FIELD_ceiling_##m,
#define PLUMB_I_ceiling_point(T, m, ...) PLUMB_FIELD_ceiling_point_##m,
#define PLUMB_I_structure(T, m, ...) PLUMB_FIELD_structure_##m,
#define PLUMB_I_screen(T, m, ...) PLUMB_FIELD_screen_##m,
#define PLUMB_I_machine(T, m, ...) PLUMB_FIELD_machine_##m,
#define PLUMB_I_lens(T, m, ...) PLUMB_FIELD_lens_##m,
#define PLUMB_I_lens_pair(T, m, ...) PLUMB_FIELD_lens_pair_##m,
#define PLUMB_I_lens_shift_point(T, m, ...) PLUMB_FIELD_lens_shift_point_##m,
#define PLUMB_I_mount(T, m, ...) PLUMB_FIELD_mount_##m,
#define PLUMB_I_place(T, m, ...) PLUMB_FIELD_place_##m,
#define PLUMB_I_arrangement(T, m, ...) PLUMB_FIELD_arrangement_##m,
#define PLUMB_I_seat(T, m, ...) PLUMB_FIELD_seat_##m,
#define PLUMB_I_row(T, m, ...) PLUMB_FIELD_row_##m,
#define PLUMB_I_person(T, m, ...) PLUMB_FIELD_person_##m,
#define PLUMB_I_blocker(T, m, ...) PLUMB_FIELD_blocker_##m,
#define PLUMB_I_blocker_point(T, m, ...) PLUMB_FIELD_blocker_point_##m,
#define PLUMB_I_blocker_state(T, m, ...) PLUMB_FIELD_blocker_state_##m,
#define PLUMB_I_port(T, m, ...) PLUMB_FIELD_port_##m,
#define PLUMB_I_opening(T, m, ...) PLUMB_FIELD_opening_##m,
#define PLUMB_I_lamp(T, m, ...) PLUMB_FIELD_lamp_##m,
#define PLUMB_I_lamp_hour(T, m, ...) PLUMB_FIELD_lamp_hour_##m,
#define PLUMB_I_light_state(T, m, ...) PLUMB_FIELD_light_state_##m,
#define PLUMB_I_light_level(T, m, ...) PLUMB_FIELD_light_level_##m,
#define PLUMB_I_limit(T, m, ...) PLUMB_FIELD_limit_##m,
/* The bit mask of typed fields holds 64. */
#define PLUMB_DECLARE_FIELDS(record)                                                                              \
  enum { PLUMB_FIELDS_##record (PLUMB_I_##record) PLUMB_N_FIELDS_##record };                                       \
  _Static_assert (PLUMB_N_FIELDS_##record <= 64, "a record has at most 64 fields");
PLUMB_RECORDS (PLUMB_R)
#undef PLUMB_R
#undef PLUMB_DECLARE_FIELDS

/* Whether a field of a record was typed by somebody. */
#define PLUMB_TYPED(record_name, pointer, member)                                                                 \
  (((pointer)->head.typed >> PLUMB_FIELD_##record_name##_##member & 1u) != 0)

/* ---- field tables ----------------------------------------------------------------- */

typedef enum { PLUMB_TYPE_NUM, PLUMB_TYPE_COUNT, PLUMB_TYPE_FLAG, PLUMB_TYPE_CHOICE, PLUMB_TYPE_TEXT, PLUMB_TYPE_REF } PlumbFieldType;

/* Quantities: the unit of the key; the member holds key value × factor. */
typedef enum {
  PLUMB_QUANTITY_NONE,
  PLUMB_QUANTITY_M,
  PLUMB_QUANTITY_MM,
  PLUMB_QUANTITY_DEG,
  PLUMB_QUANTITY_PCT,
  PLUMB_QUANTITY_RATIO,
  PLUMB_QUANTITY_LM,
  PLUMB_QUANTITY_LX,
  PLUMB_QUANTITY_KG,
  PLUMB_QUANTITY_W,
  PLUMB_QUANTITY_DB,
  PLUMB_QUANTITY_PX,
  PLUMB_QUANTITY_S,
  PLUMB_QUANTITY_HOUR,
  PLUMB_N_QUANTITIES
} PlumbQuantity;

typedef struct {
  PlumbFieldType type;
  const char *key;
  PlumbQuantity quantity;      /* NUM, COUNT */
  size_t offset, size;         /* in the struct */
  double least, greatest;      /* in the key's unit; NUM, COUNT */
  double default_number;       /* in the key's unit; NUM, COUNT, FLAG, CHOICE */
  const char *default_text;    /* TEXT, REF */
  const PlumbChoice *choices;  /* CHOICE */
  int32_t n_choices;
  uint32_t ref_kinds;          /* REF: bit per record kind */
  int when_field;              /* index of the deciding field, -1 = always */
  uint64_t when_values;        /* bit per value of the deciding choice or flag */
  const char *label, *help;
  int since;
} PlumbField;

typedef struct {
  PlumbRecordKind kind;
  const char *name;   /* singular list name: "place" */
  const char *key;    /* key in the file: "places" */
  const char *label;
  PlumbRecordKind parent; /* PLUMB_RECORD_NONE at top level */
  size_t size;            /* of the struct */
  const PlumbField *fields;
  int n_fields;
} PlumbRecordInfo;

const PlumbRecordInfo *plumb_record_info (PlumbRecordKind kind);
/* Fills a record with its defaults, nothing typed. The struct is zeroed
 * first, so records compare and hash byte by byte. */
void plumb_record_default (PlumbRecordKind kind, void *record);
/* Whether a field applies, given the record's other values. */
bool plumb_field_applies (const PlumbRecordInfo *info, int field, const void *record);
/* Index of the field with this key, -1 if none. */
int plumb_field_find (const PlumbRecordInfo *info, const char *key);
/* Member = key value × factor. */
double plumb_quantity_factor (PlumbQuantity quantity);
/* "m", "mm", "°", "%", "lm"; "" for plain numbers. */
const char *plumb_quantity_unit (PlumbQuantity quantity);
/* A field's number in the key's unit (NUM, COUNT, FLAG, CHOICE). */
double plumb_field_number (const PlumbField *field, const void *record);
/* Sets it, unconverted value in the key's unit; does not touch `typed`.
 * The value must be in range. */
void plumb_field_set_number (const PlumbField *field, void *record, double value);
/* The text of TEXT and REF. */
const char *plumb_field_text (const PlumbField *field, const void *record);
/* Whether text fits; copies it if so. Valid UTF-8 is the caller's matter. */
bool plumb_field_set_text (const PlumbField *field, void *record, const char *text);
/* The id of a record, "" for kinds without one. */
const char *plumb_record_id (PlumbRecordKind kind, const void *record);
