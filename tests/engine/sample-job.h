/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A plain room for tests of the scene and the evaluation: 6.2 m × 9.4 m, 3 m
 * high, screen 3.2 m × 1.8 m on the wall y = 9.4 (its lower edge at 0.9 m),
 * one hung and one standing place, one zoom lens with shift. Every test
 * changes what it needs in the arrays before it makes the scene.
 */
#pragma once

#include <glib.h>

#include "plumbeam/evaluate.h"

#define SAMPLE_MAX 8

typedef struct {
  PlumbJob job;
  PlumbTape tape[SAMPLE_MAX];
  PlumbSpace space[SAMPLE_MAX];
  PlumbWall wall[16];
  PlumbCeiling ceiling[SAMPLE_MAX];
  PlumbStructure structure[SAMPLE_MAX];
  PlumbScreen screen[SAMPLE_MAX];
  PlumbMachine machine[SAMPLE_MAX];
  PlumbLens lens[SAMPLE_MAX];
  PlumbLensPairLine pair[SAMPLE_MAX];
  PlumbLensShiftPoint shift_point[SAMPLE_MAX];
  PlumbMount mount[SAMPLE_MAX];
  PlumbPlace place[SAMPLE_MAX];
  PlumbArrangement arrangement[SAMPLE_MAX];
  PlumbSeat seat[16];
  PlumbRow row[SAMPLE_MAX];
  PlumbPerson person[SAMPLE_MAX];
  PlumbBlocker blocker[24];
  PlumbBlockerPoint blocker_point[SAMPLE_MAX];
  PlumbBlockerState blocker_state[SAMPLE_MAX];
  PlumbPort port[SAMPLE_MAX];
  PlumbLamp lamp[SAMPLE_MAX];
  PlumbLampHour lamp_hour[SAMPLE_MAX];
  PlumbLightState light_state[SAMPLE_MAX];
  PlumbLightLevel light_level[SAMPLE_MAX];
  PlumbLimitOverride limit[SAMPLE_MAX];
  guint n_tape, n_space, n_wall, n_ceiling, n_structure, n_screen, n_machine, n_lens, n_pair, n_shift_point, n_mount,
      n_place, n_arrangement, n_seat, n_row, n_person, n_blocker, n_blocker_point, n_blocker_state, n_port, n_lamp, n_lamp_hour, n_light_state,
      n_light_level, n_limit;
} Sample;

/* Marks a field as typed. */
#define TYPE(record, pointer, member) ((pointer)->head.typed |= UINT64_C (1) << PLUMB_FIELD_##record##_##member)
#define SET_ID(buffer, text) g_strlcpy (buffer, text, sizeof (buffer))

void sample_init (Sample *sample);
/* Next free record of a kind, with defaults; the id may be NULL. */
PlumbBlocker *sample_add_box (Sample *sample, const char *id, double x, double y, double z, double length, double width,
                              double height);
/* A committed scene; the caller drops it with plumb_scene_unref(). */
PlumbScene *sample_scene (const Sample *sample);
/* The first arrangement worked out. */
PlumbEvaluation *sample_evaluate (const Sample *sample);
/* First finding of a check, NULL if it did not run. */
const PlumbFinding *sample_finding (const PlumbEvaluation *evaluation, PlumbCheck check);
double sample_figure (const PlumbEvaluation *evaluation, PlumbFigure figure);
