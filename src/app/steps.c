/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/steps.h"

PlumbStep
plumb_step_of_record (PlumbRecordKind kind)
{
  switch (kind)
    {
    case PLUMB_RECORD_SCREEN:
      return PLUMB_STEP_SCREEN;
    case PLUMB_RECORD_MACHINE:
    case PLUMB_RECORD_LENS:
    case PLUMB_RECORD_LENS_PAIR:
    case PLUMB_RECORD_LENS_SHIFT_POINT:
    case PLUMB_RECORD_PLACE:
    case PLUMB_RECORD_ARRANGEMENT:
    case PLUMB_RECORD_NONE: /* the arrangement as a whole */
      return PLUMB_STEP_MACHINE;
    case PLUMB_RECORD_MOUNT:
      return PLUMB_STEP_HANGING;
    case PLUMB_RECORD_SEAT:
    case PLUMB_RECORD_ROW:
    case PLUMB_RECORD_PERSON:
      return PLUMB_STEP_PEOPLE;
    case PLUMB_RECORD_BLOCKER:
    case PLUMB_RECORD_BLOCKER_POINT:
    case PLUMB_RECORD_BLOCKER_STATE:
    case PLUMB_RECORD_LAMP:
    case PLUMB_RECORD_LIGHT_STATE:
    case PLUMB_RECORD_LAMP_HOUR:
    case PLUMB_RECORD_LIGHT_LEVEL:
      return PLUMB_STEP_LIGHT;
    case PLUMB_RECORD_JOB:
    case PLUMB_RECORD_TAPE:
    case PLUMB_RECORD_SPACE:
    case PLUMB_RECORD_WALL:
    case PLUMB_RECORD_CEILING:
    case PLUMB_RECORD_CEILING_POINT:
    case PLUMB_RECORD_STRUCTURE:
    case PLUMB_RECORD_PORT:
    case PLUMB_RECORD_OPENING:
    case PLUMB_RECORD_LIMIT:
    case PLUMB_N_RECORDS:
    default:
      return PLUMB_STEP_ROOM;
    }
}

bool
plumb_step_verdict (const PlumbEvaluation *evaluation, PlumbStep step, PlumbVerdict *worst)
{
  bool any = false;

  for (uint32_t i = 0; i < evaluation->n_findings; i++)
    {
      const PlumbFinding *finding = &evaluation->findings[i];
      if (plumb_check_info (finding->check)->step != step)
        continue;
      if (!any || finding->verdict > *worst)
        *worst = finding->verdict;
      any = true;
    }
  return any;
}
