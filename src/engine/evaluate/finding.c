/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "plumbeam/assert.h"
#include "work-private.h"

/* A figure that stands on its limit to within rounding keeps it. */
#define JUDGE_TOLERANCE 1e-9

static PlumbFinding
blank (PlumbCheck check)
{
  return (PlumbFinding){ .check = check,
                         .verdict = PLUMB_HOLDS,
                         .sense = PLUMB_LIMIT_NONE,
                         .unit = "",
                         .basis = PLUMB_BASIS_GEOMETRY,
                         .limit = PLUMB_NO_INDEX,
                         .missing_kind = PLUMB_RECORD_NONE,
                         .missing_index = PLUMB_NO_INDEX,
                         .missing_field = -1 };
}

PlumbFinding *
plumb_work_add (PlumbWork *work, PlumbCheck check, PlumbRecordKind kind, uint32_t index)
{
  PlumbEvaluation *e = work->e;

  if (e->n_findings + 1 >= work->findings_capacity)
    {
      uint32_t capacity = work->findings_capacity < 32 ? 64 : 2 * work->findings_capacity;
      PlumbFinding *grown = realloc (e->findings, capacity * sizeof *grown);
      if (grown == NULL)
        {
          /* The caller gets the last slot over and over; the evaluation as a
           * whole then reports that memory ran out. */
          work->out_of_memory = true;
          e->n_findings = e->n_findings > 0 ? e->n_findings - 1 : 0;
        }
      else
        {
          e->findings = grown;
          work->findings_capacity = capacity;
        }
    }
  PLUMB_ASSERT (e->findings != NULL);
  PlumbFinding *finding = &e->findings[e->n_findings++];
  *finding = blank (check);
  finding->subject = (PlumbSubject){ kind, index, PLUMB_NO_INDEX };
  return finding;
}

void
plumb_finding_judge (PlumbFinding *f, double figure, double spread, PlumbLimitSense sense, double least, double most,
                     const char *unit)
{
  double margin = HUGE_VAL;

  f->has_figure = isfinite (figure);
  f->figure = f->has_figure ? figure : 0.0;
  f->spread = isfinite (spread) ? spread : 0.0;
  f->sense = sense;
  f->limit_least = least;
  f->limit_most = most;
  f->unit = unit;
  if (sense == PLUMB_LIMIT_AT_LEAST || sense == PLUMB_LIMIT_BETWEEN)
    margin = fmin (margin, figure - least);
  if (sense == PLUMB_LIMIT_AT_MOST || sense == PLUMB_LIMIT_BETWEEN)
    margin = fmin (margin, most - figure);
  if (margin < -JUDGE_TOLERANCE)
    {
      f->verdict = PLUMB_FAILS;
      f->spread_reaches_back = -margin <= f->spread;
    }
  else
    f->verdict = margin + JUDGE_TOLERANCE < f->spread ? PLUMB_TIGHT : PLUMB_HOLDS;
}

void
plumb_finding_missing (PlumbFinding *finding, PlumbRecordKind kind, uint32_t index, int field)
{
  finding->verdict = PLUMB_UNKNOWN;
  finding->missing_kind = kind;
  finding->missing_index = index;
  finding->missing_field = field;
  finding->cure = PLUMB_CURE_MEASURE;
}

double
plumb_work_limit (const PlumbWork *work, const char *id, PlumbFinding *finding)
{
  uint32_t row = plumb_limit_find (id);
  uint32_t override = plumb_scene_find (work->scene, PLUMB_RECORD_LIMIT, id);

  PLUMB_ASSERT (row != PLUMB_NO_INDEX);
  finding->limit = row;
  finding->basis = plumb_limit_at (row)->basis;
  if (override == PLUMB_NO_INDEX)
    return plumb_limit_at (row)->value;
  const PlumbLimitOverride *own = plumb_scene_limit (work->scene, override);
  /* Without a reason an override does not count; job.limit says so. */
  if (own->reason[0] == '\0')
    return plumb_limit_at (row)->value;
  finding->basis = PLUMB_BASIS_JOB;
  return own->value;
}
