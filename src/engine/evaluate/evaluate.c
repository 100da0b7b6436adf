/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/evaluate.h"

#include <stdlib.h>

#include "plumbeam/assert.h"
#include "work-private.h"

/* Worst first: fails, then unknown, then tight, then holds; otherwise in the
 * order in which the checks ran. */
static int
rank (PlumbVerdict verdict)
{
  return verdict == PLUMB_FAILS ? 0 : verdict == PLUMB_UNKNOWN ? 1 : verdict == PLUMB_TIGHT ? 2 : 3;
}

static bool
sort_findings (PlumbEvaluation *e)
{
  PlumbFinding *sorted = malloc ((e->n_findings + 1) * sizeof *sorted);
  uint32_t at = 0;

  if (sorted == NULL)
    return false;
  for (int wanted = 0; wanted < 4; wanted++)
    for (uint32_t i = 0; i < e->n_findings; i++)
      if (rank (e->findings[i].verdict) == wanted)
        sorted[at++] = e->findings[i];
  free (e->findings);
  e->findings = sorted;
  e->worst = e->n_findings > 0 ? sorted[0].verdict : PLUMB_UNKNOWN;
  return true;
}

static bool
cut_beam (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;
  PlumbScreenFace face = {
    .frame = e->target.frame, .width_m = e->target.width_m, .height_m = e->target.height_m, .record = e->screen
  };

  return plumb_beam_cut (&e->beam, work->resolved->building, &face, NULL, 0, &e->cut);
}

static bool
evaluate_arrangement (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;

  if (!plumb_work_begin (work, work->scene, e))
    return true;
  plumb_work_solve (work);
  if (!cut_beam (work))
    return false;
  plumb_work_fill_figures (work);
  plumb_check_beam (work);
  plumb_check_clearance (work);
  plumb_check_ports (work);
  plumb_check_body (work);
  if (work->with_people)
    plumb_check_near_picture (work);
  if (e->has_raw && work->with_people && !plumb_check_people (work))
    return false;
  if (e->has_raw && work->with_people && !plumb_check_light (work))
    return false;
  return !work->out_of_memory;
}

static bool
start (PlumbWork *work)
{
  PlumbEvaluation *e = work->e;

  e->screen = e->machine = e->lens = e->place = e->mount = PLUMB_NO_INDEX;
  e->seats = calloc (work->resolved->n_seats + 1, sizeof *e->seats);
  work->findings_capacity = 64;
  e->findings = malloc (work->findings_capacity * sizeof *e->findings);
  return e->seats != NULL && e->findings != NULL;
}

bool
plumb_evaluate_record (const PlumbScene *scene, const PlumbArrangement *arrangement, uint32_t index, bool with_people,
                       PlumbEvaluation **out)
{
  PlumbEvaluation *e = calloc (1, sizeof *e);
  PlumbWork work = { .scene = scene,
                     .resolved = plumb_scene_resolved (scene),
                     .arrangement = arrangement,
                     .with_people = with_people,
                     .e = e };

  PLUMB_ASSERT (work.resolved != NULL);
  *out = NULL;
  if (e == NULL || !start (&work))
    {
      plumb_evaluation_free (e);
      return false;
    }
  e->arrangement = index;
  plumb_check_job (&work);
  bool fine = true;
  if (arrangement != NULL)
    fine = evaluate_arrangement (&work);
  else
    plumb_finding_missing (plumb_work_add (&work, PLUMB_CHECK_JOB_ARRANGEMENT, PLUMB_RECORD_NONE, PLUMB_NO_INDEX),
                           PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_arrangement);
  if (!fine || work.out_of_memory || !sort_findings (e))
    {
      plumb_evaluation_free (e);
      return false;
    }
  *out = e;
  return true;
}

bool
plumb_evaluate (const PlumbScene *scene, uint32_t arrangement, PlumbEvaluation **out)
{
  uint32_t n;
  const PlumbArrangement *records = plumb_scene_arrangement_records (scene, &n);
  bool known = arrangement < n;

  return plumb_evaluate_record (scene, known ? &records[arrangement] : NULL, known ? arrangement : PLUMB_NO_INDEX,
                                true, out);
}

void
plumb_evaluation_free (PlumbEvaluation *e)
{
  if (e == NULL)
    return;
  plumb_beam_cut_clear (&e->cut);
  free (e->findings);
  free (e->seats);
  free (e->states);
  free (e->clearances);
  free (e);
}
