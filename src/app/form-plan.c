/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-plan.h"

#include "plumbeam/variants.h"

#define F(record, member) PLUMB_FIELD_##record##_##member
#define COLUMNS_1(r, a) .n_columns = 1, .columns = { F (r, a) }
#define COLUMNS_2(r, a, b) .n_columns = 2, .columns = { F (r, a), F (r, b) }
#define COLUMNS_3(r, a, b, c) .n_columns = 3, .columns = { F (r, a), F (r, b), F (r, c) }

static const PlumbFormPlan plans[] = {
  { PLUMB_RECORD_JOB, N_ ("Job"), .folds = TRUE },
  { PLUMB_RECORD_TAPE, N_ ("Tapes"), .folds = TRUE, COLUMNS_2 (tape, error_m, error_per_m_share) },
  { PLUMB_RECORD_SPACE, N_ ("Spaces"), COLUMNS_1 (space, floor_z_m) },
  { PLUMB_RECORD_WALL, N_ ("Walls"), COLUMNS_3 (wall, x_m, y_m, construction), .numbered = TRUE },
  { PLUMB_RECORD_CEILING, N_ ("Ceiling planes"), COLUMNS_2 (ceiling, height_m, slope_rad) },
  { PLUMB_RECORD_CEILING_POINT, N_ ("Only within"), COLUMNS_2 (ceiling_point, x_m, y_m), .numbered = TRUE },
  { PLUMB_RECORD_STRUCTURE, N_ ("Structure"), COLUMNS_2 (structure, start_z_m, depth_m) },
  { PLUMB_RECORD_OPENING, N_ ("Openings") },
  { PLUMB_RECORD_PORT, N_ ("Beam ports") },
  { PLUMB_RECORD_LIMIT, N_ ("Limits"), .folds = TRUE, COLUMNS_1 (limit, value) },
  { PLUMB_RECORD_SCREEN, N_ ("Screens") },
  { PLUMB_RECORD_ARRANGEMENT, N_ ("Arrangements") },
  { PLUMB_RECORD_PLACE, N_ ("Places") },
  { PLUMB_RECORD_MACHINE, N_ ("Machines"), .folds = TRUE },
  { PLUMB_RECORD_LENS, N_ ("Lenses"), .folds = TRUE },
  { PLUMB_RECORD_LENS_PAIR, N_ ("Lines of data"), COLUMNS_3 (lens_pair, distance_m, width_m, gap_m), .numbered = TRUE,
    .owner_field = F (lens, data), .owner_value = PLUMB_LENS_DATA_PAIRS },
  { PLUMB_RECORD_LENS_SHIFT_POINT, N_ ("Shift corners"), COLUMNS_2 (lens_shift_point, h_share, v_share),
    .numbered = TRUE, .owner_field = F (lens, shift_set), .owner_value = PLUMB_SHIFT_SHAPE_POLYGON },
  { PLUMB_RECORD_MOUNT, N_ ("Mounts"), .folds = TRUE },
  { PLUMB_RECORD_ROW, N_ ("Rows of seats") },
  { PLUMB_RECORD_SEAT, N_ ("Single seats"), COLUMNS_2 (seat, x_m, y_m) },
  { PLUMB_RECORD_PERSON, N_ ("People"), COLUMNS_2 (person, x_m, y_m) },
  { PLUMB_RECORD_BLOCKER, N_ ("Blockers") },
  { PLUMB_RECORD_BLOCKER_POINT, N_ ("Outline"), COLUMNS_2 (blocker_point, x_m, y_m), .numbered = TRUE,
    .owner_field = F (blocker, shape), .owner_value = PLUMB_SHAPE_PRISM },
  { PLUMB_RECORD_BLOCKER_STATE, N_ ("States"), COLUMNS_2 (blocker_state, name, turn_rad), .numbered = TRUE,
    .owner_field = F (blocker, movable), .owner_value = 1 },
  { PLUMB_RECORD_LAMP, N_ ("Lamps"), COLUMNS_2 (lamp, flux_lm, screen_lx) },
  { PLUMB_RECORD_LAMP_HOUR, N_ ("By the hour"), COLUMNS_2 (lamp_hour, time_h, screen_lx), .numbered = TRUE,
    .owner_field = F (lamp, kind), .owner_value = PLUMB_LAMP_KIND_WINDOW },
  { PLUMB_RECORD_LIGHT_STATE, N_ ("Light states") },
  { PLUMB_RECORD_LIGHT_LEVEL, N_ ("Lamp levels"), COLUMNS_2 (light_level, lamp, level_share), .numbered = TRUE },
};
_Static_assert(sizeof plans / sizeof plans[0] == PLUMB_N_RECORDS, "every record kind stands on a page");

const PlumbFormPlan *
plumb_form_plans (guint *count)
{
  *count = G_N_ELEMENTS (plans);
  return plans;
}

const PlumbFormPlan *
plumb_form_plan_of (PlumbRecordKind kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (plans); i++)
    if (plans[i].kind == kind)
      return &plans[i];
  return NULL;
}

gboolean
plumb_form_plan_has_column (const PlumbFormPlan *plan, int field)
{
  for (int i = 0; i < plan->n_columns; i++)
    if (plan->columns[i] == field)
      return TRUE;
  return FALSE;
}

const char *
plumb_form_step_sentence (PlumbStep step)
{
  static const char *const sentences[] = {
    [PLUMB_STEP_ROOM] = N_ ("What is there, as measured."),
    [PLUMB_STEP_SCREEN] = N_ ("Where the picture is wanted, and how large."),
    [PLUMB_STEP_MACHINE] = N_ ("What throws the picture, and from where."),
    [PLUMB_STEP_PEOPLE] = N_ ("Who looks on, and from where."),
    [PLUMB_STEP_LIGHT] = N_ ("What else is bright, and what is in the way."),
    [PLUMB_STEP_HANGING] = N_ ("What holds the machine, and how much it takes."),
    [PLUMB_STEP_RUNS] = N_ ("Nothing is typed here yet."),
    [PLUMB_STEP_CHOICE] = N_ ("Every machine and lens against every place."),
    [PLUMB_STEP_SQUARING] = N_ ("Nothing is typed here yet."),
    [PLUMB_STEP_PAPERS] = N_ ("What is printed comes from the other pages."),
  };

  return (gsize) step < G_N_ELEMENTS (sentences) ? sentences[step] : "";
}

/* ---- verdicts beside fields -------------------------------------------------------- */

/* Beside which fields a check's verdict stands. A check that is not here, or
 * whose record is not, stands at the head of its record. */
static const struct {
  PlumbCheck check;
  int variant; /* -1: all */
  PlumbRecordKind kind;
  int field;
} places[] = {
#define AT(check, record, RECORD, member)                                                                            \
  {                                                                                                                  \
    PLUMB_CHECK_##check, -1, PLUMB_RECORD_##RECORD, F (record, member)                                               \
  }
#define AT_VARIANT(check, variant, record, RECORD, member)                                                           \
  {                                                                                                                  \
    PLUMB_CHECK_##check, PLUMB_V_##variant, PLUMB_RECORD_##RECORD, F (record, member)                                \
  }
  AT (JOB_LENS_FITS, lens, LENS, lens_fitting),
  AT (JOB_LENS_FITS, arrangement, ARRANGEMENT, lens),
  AT (JOB_LENS_DATA, lens, LENS, data),
  AT (JOB_LIMIT, limit, LIMIT, value),
  AT (BEAM_REACHES_PLANE, arrangement, ARRANGEMENT, screen),
  AT (BEAM_THROW_RANGE, arrangement, ARRANGEMENT, throw_ratio),
  AT (BEAM_SHIFT_SET, arrangement, ARRANGEMENT, shift_v_share),
  AT (BEAM_SHIFT_SET, lens, LENS, shift_set),
  AT (BEAM_KEYSTONE, arrangement, ARRANGEMENT, correction),
  AT (BEAM_KEYSTONE, machine, MACHINE, keystone_limit_rad),
  AT (BEAM_PIXELS_KEPT, arrangement, ARRANGEMENT, picture_aspect_ratio),
  AT (BEAM_COVERS_LEFT, screen, SCREEN, across_m),
  AT (BEAM_COVERS_RIGHT, screen, SCREEN, width_m),
  AT (BEAM_COVERS_BOTTOM, screen, SCREEN, bottom_m),
  AT (BEAM_COVERS_TOP, screen, SCREEN, height_m),
  AT (BEAM_FOCUS_RANGE, lens, LENS, focus_near_m),
  AT (BEAM_CLEAR_CEILING, place, PLACE, height_m),
  AT (BEAM_PORT, port, PORT, width_m),
  AT (BEAM_SPILL, screen, SCREEN, border_m),
  AT (BEAM_FLATNESS, screen, SCREEN, flatness_m),
  AT (BEAM_SCREEN_FITS, screen, SCREEN, wall),
  AT (BODY_INSIDE, place, PLACE, space),
  AT (BODY_CLEAR, place, PLACE, off_m),
  AT (BODY_AIR_LEFT, machine, MACHINE, air_left_m),
  AT (BODY_AIR_RIGHT, machine, MACHINE, air_right_m),
  AT (BODY_AIR_TOP, machine, MACHINE, air_top_m),
  AT (BODY_AIR_BOTTOM, machine, MACHINE, air_bottom_m),
  AT (BODY_AIR_REAR, machine, MACHINE, air_rear_m),
  AT (BODY_AIR_FRONT, machine, MACHINE, air_front_m),
  AT (BODY_CABLE_ROOM, machine, MACHINE, bend_radius_m),
  AT (BODY_HEADROOM, place, PLACE, drop_m),
  AT (BODY_REACH, place, PLACE, carried),
  AT_VARIANT (BODY_MOUNT, MOUNT_DROP, mount, MOUNT, drop_most_m),
  AT_VARIANT (BODY_MOUNT, MOUNT_YAW, mount, MOUNT, yaw_limit_rad),
  AT_VARIANT (BODY_MOUNT, MOUNT_PITCH, mount, MOUNT, pitch_limit_rad),
  AT_VARIANT (BODY_MOUNT, MOUNT_ROLL, mount, MOUNT, roll_limit_rad),
  AT_VARIANT (BODY_MOUNT, MOUNT_LOAD, mount, MOUNT, load_kg),
  AT_VARIANT (BODY_MOUNT, MOUNT_MISSING, arrangement, ARRANGEMENT, mount),
  AT_VARIANT (BODY_TILT, TILT_PITCH, machine, MACHINE, pitch_limit_rad),
  AT_VARIANT (BODY_TILT, TILT_ROLL, machine, MACHINE, roll_limit_rad),
#undef AT
#undef AT_VARIANT
};

uint32_t
plumb_form_evaluated (const PlumbEvaluation *e, PlumbRecordKind kind)
{
  switch ((int) kind)
    {
    case PLUMB_RECORD_ARRANGEMENT:
      return e->arrangement;
    case PLUMB_RECORD_SCREEN:
      return e->screen;
    case PLUMB_RECORD_MACHINE:
      return e->machine;
    case PLUMB_RECORD_LENS:
      return e->lens;
    case PLUMB_RECORD_PLACE:
      return e->place;
    case PLUMB_RECORD_MOUNT:
      return e->mount;
    default:
      return PLUMB_NO_INDEX;
    }
}

/* Whether a finding stands beside the field of the record, which is its
 * subject or part of what was evaluated. */
static gboolean
stands_at (const PlumbFinding *finding, PlumbRecordKind kind, int field)
{
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    if (places[i].check == finding->check && places[i].kind == kind
        && (places[i].variant < 0 || places[i].variant == finding->variant)
        && (field < 0 || places[i].field == field))
      return TRUE;
  return FALSE;
}

static gboolean
is_missing (const PlumbFinding *finding, PlumbRecordKind kind, guint index)
{
  return finding->verdict == PLUMB_UNKNOWN && finding->missing_kind == kind && finding->missing_index == index
         && finding->missing_field >= 0;
}

static gboolean
is_about (const PlumbEvaluation *e, const PlumbFinding *finding, PlumbRecordKind kind, guint index, int field)
{
  const gboolean subject = finding->subject.kind == kind && finding->subject.index == index;

  if (is_missing (finding, kind, index))
    return finding->missing_field == field;
  if (field < 0)
    return subject && !stands_at (finding, kind, -1);
  if (!stands_at (finding, kind, field))
    return FALSE;
  return subject || (finding->subject.kind != kind && plumb_form_evaluated (e, kind) == index);
}

const PlumbFinding *
plumb_form_finding (const PlumbEvaluation *evaluation, PlumbRecordKind kind, guint index, int field)
{
  /* Worst first. */
  for (uint32_t i = 0; i < evaluation->n_findings; i++)
    if (is_about (evaluation, &evaluation->findings[i], kind, index, field))
      return &evaluation->findings[i];
  return NULL;
}

const PlumbFinding *
plumb_form_record_finding (const PlumbEvaluation *evaluation, PlumbRecordKind kind, guint index)
{
  const gboolean part = plumb_form_evaluated (evaluation, kind) == index;

  for (uint32_t i = 0; i < evaluation->n_findings; i++)
    {
      const PlumbFinding *finding = &evaluation->findings[i];
      if ((finding->subject.kind == kind && finding->subject.index == index) || is_missing (finding, kind, index)
          || (part && stands_at (finding, kind, -1)))
        return finding;
    }
  return NULL;
}
