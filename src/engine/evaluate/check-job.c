/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "plumbeam/variants.h"
#include "work-private.h"

static void
check_fault (PlumbWork *work, const PlumbFault *fault)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_JOB_FAULT, fault->kind, fault->index);

  f->variant = (uint8_t) fault->code;
  f->number[0] = fault->other == PLUMB_NO_INDEX ? -1.0 : fault->other;
  f->verdict = PLUMB_FAILS;
  switch (fault->code)
    {
    case PLUMB_FAULT_REFERENCE:
    case PLUMB_FAULT_NO_CEILING:
    case PLUMB_FAULT_OUTLINE_FEW:
    case PLUMB_FAULT_PLACE_REFERENCE:
    case PLUMB_FAULT_SCREEN_WALL:
      plumb_finding_missing (f, fault->kind, fault->index, fault->field);
      break;
    default:
      f->cure = PLUMB_CURE_MEASURE;
      break;
    }
}

static void
check_override (PlumbWork *work, uint32_t i)
{
  const PlumbLimitOverride *own = plumb_scene_limit (work->scene, i);
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_JOB_LIMIT, PLUMB_RECORD_LIMIT, i);

  f->basis = PLUMB_BASIS_JOB;
  f->limit = plumb_limit_find (own->id);
  f->variant = PLUMB_V_LIMIT_IN_USE;
  if (f->limit == PLUMB_NO_INDEX)
    {
      f->variant = PLUMB_V_LIMIT_UNKNOWN_ID;
      f->verdict = PLUMB_FAILS;
    }
  else if (own->reason[0] == '\0')
    {
      f->variant = PLUMB_V_LIMIT_NO_REASON;
      f->verdict = PLUMB_FAILS;
    }
}

void
plumb_check_job (PlumbWork *work)
{
  uint32_t n;

  for (uint32_t i = 0; i < work->resolved->n_faults; i++)
    check_fault (work, &work->resolved->faults[i]);
  plumb_scene_limit_records (work->scene, &n);
  for (uint32_t i = 0; i < n; i++)
    check_override (work, i);
}

/* ---- what the arrangement names ----------------------------------------------- */

static uint32_t
named (PlumbWork *work, PlumbRecordKind kind, const char *id, int field)
{
  uint32_t i = plumb_scene_find (work->scene, kind, id);

  if (i == PLUMB_NO_INDEX)
    {
      PlumbFinding *f
          = plumb_work_add (work, PLUMB_CHECK_JOB_ARRANGEMENT, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement);
      plumb_finding_missing (f, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement, field);
    }
  return i;
}

static void
check_fitting (PlumbWork *work)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_JOB_LENS_FITS, PLUMB_RECORD_LENS, work->e->lens);

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->variant = PLUMB_V_LENS_FITS;
  if (work->lens->lens_fitting[0] == '\0' || work->machine->lens_fitting[0] == '\0')
    {
      f->variant = PLUMB_V_LENS_FITS_ASSUMED;
      f->assumed = true;
    }
  else if (strcmp (work->lens->lens_fitting, work->machine->lens_fitting) != 0)
    {
      f->variant = PLUMB_V_LENS_DOES_NOT_FIT;
      f->verdict = PLUMB_FAILS;
    }
}

static bool
check_lens_data (PlumbWork *work)
{
  PlumbFinding *f = plumb_work_add (work, PLUMB_CHECK_JOB_LENS_DATA, PLUMB_RECORD_LENS, work->e->lens);

  f->basis = PLUMB_BASIS_DATA_SHEET;
  f->variant = (uint8_t) work->optics.trouble;
  f->number[0] = work->optics.worst_width_residual_m;
  f->number[1] = work->optics.worst_gap_residual_m;
  f->assumed = work->lens->data == PLUMB_LENS_DATA_RANGE && !PLUMB_TYPED (lens, work->lens, throw_wide_ratio);
  if (work->optics.trouble == PLUMB_LENS_OK)
    return true;
  plumb_finding_missing (f, PLUMB_RECORD_LENS, work->e->lens,
                         work->optics.trouble == PLUMB_LENS_BAD_PAIRS    ? PLUMB_FIELD_lens_data
                         : work->optics.trouble == PLUMB_LENS_BAD_RANGE  ? PLUMB_FIELD_lens_throw_tele_ratio
                         : work->optics.trouble == PLUMB_LENS_BAD_OFFSET ? PLUMB_FIELD_lens_offset_above_ratio
                                                                         : PLUMB_FIELD_lens_shift_set);
  return false;
}

/* The plate or the screen has no place: job.fault says why, this says what
 * could not be worked out. */
static bool
stands_somewhere (PlumbWork *work)
{
  const PlumbResolved *r = work->resolved;

  if (!r->screens[work->e->screen].valid)
    {
      PlumbFinding *f
          = plumb_work_add (work, PLUMB_CHECK_JOB_ARRANGEMENT, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement);
      plumb_finding_missing (f, PLUMB_RECORD_SCREEN, work->e->screen, PLUMB_FIELD_screen_wall);
      return false;
    }
  if (!r->places[work->e->place].valid)
    {
      PlumbFinding *f
          = plumb_work_add (work, PLUMB_CHECK_JOB_ARRANGEMENT, PLUMB_RECORD_ARRANGEMENT, work->e->arrangement);
      plumb_finding_missing (f, PLUMB_RECORD_PLACE, work->e->place, PLUMB_FIELD_place_along_wall);
      return false;
    }
  return true;
}

bool
plumb_work_begin (PlumbWork *work, const PlumbScene *scene, PlumbEvaluation *e)
{
  const PlumbArrangement *a = work->arrangement;

  e->screen = named (work, PLUMB_RECORD_SCREEN, a->screen, PLUMB_FIELD_arrangement_screen);
  e->machine = named (work, PLUMB_RECORD_MACHINE, a->machine, PLUMB_FIELD_arrangement_machine);
  e->lens = named (work, PLUMB_RECORD_LENS, a->lens, PLUMB_FIELD_arrangement_lens);
  e->place = named (work, PLUMB_RECORD_PLACE, a->place, PLUMB_FIELD_arrangement_place);
  e->mount = plumb_scene_find (scene, PLUMB_RECORD_MOUNT, a->mount);
  if (e->screen != PLUMB_NO_INDEX)
    e->target = work->resolved->screens[e->screen];
  if (e->screen == PLUMB_NO_INDEX || e->machine == PLUMB_NO_INDEX || e->lens == PLUMB_NO_INDEX
      || e->place == PLUMB_NO_INDEX || !stands_somewhere (work))
    return false;
  work->machine = plumb_scene_machine (scene, e->machine);
  work->lens = plumb_scene_lens (scene, e->lens);
  work->place = plumb_scene_place (scene, e->place);
  work->mount = e->mount == PLUMB_NO_INDEX ? NULL : plumb_scene_mount (scene, e->mount);
  work->spot = &work->resolved->places[e->place];
  plumb_lens_model_make (scene, e->lens, work->machine, work->place->inverted, e->target.rear, &work->optics);
  check_fitting (work);
  if (!check_lens_data (work))
    return false;
  plumb_chain_make (work->place, work->spot, work->machine, work->mount, &work->optics, e->target.rear, &work->chain);
  return true;
}
