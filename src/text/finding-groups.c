/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text/finding-groups.h"

#include <math.h>
#include <string.h>

#include "text/findings.h"

#define N_VERDICTS (PLUMB_FAILS + 1)
/* More than any grouped check has. */
#define N_VARIANTS 16

static bool
is_grouped (const PlumbFinding *finding)
{
  /* Shadows are of people and solids, not of seats; loudspeakers each have their own seats. */
  return plumb_check_info (finding->check)->family == PLUMB_FAMILY_PEOPLE
         && finding->check != PLUMB_CHECK_PEOPLE_SHADOW && finding->check != PLUMB_CHECK_PEOPLE_SPEAKER;
}

/* How many seats a finding speaks for: it tells the worst of them. */
static uint32_t
seats_of (const PlumbFinding *finding)
{
  double seats = is_grouped (finding) ? finding->number[finding->verdict == PLUMB_FAILS ? 4 : 5] : 0.0;
  return (uint32_t) CLAMP (seats, 1.0, (double) PLUMB_MAX_SEATS);
}

bool
plumb_finding_same_group (const PlumbFinding *a, const PlumbFinding *b)
{
  return is_grouped (a) && a->check == b->check && a->variant == b->variant && a->verdict == b->verdict;
}

/* Without a figure nothing is known to be worse. */
static double
spare_of (const PlumbFinding *finding)
{
  double spare;
  return plumb_finding_spare (finding, &spare) ? spare : HUGE_VAL;
}

PlumbFindingGroup *
plumb_finding_groups (const PlumbEvaluation *evaluation, uint32_t *n_groups, uint32_t **group_of)
{
  const PlumbFinding *findings = evaluation->findings;
  PlumbFindingGroup *groups = g_new (PlumbFindingGroup, evaluation->n_findings + 1);
  g_autofree uint32_t *of = g_new (uint32_t, evaluation->n_findings + 1);
  uint32_t open[PLUMB_N_CHECKS][N_VERDICTS][N_VARIANTS]; /* group + 1 of each, 0: none yet */
  uint32_t n = 0;

  memset (open, 0, sizeof open);
  for (uint32_t i = 0; i < evaluation->n_findings; i++)
    {
      uint32_t *slot = is_grouped (&findings[i]) && findings[i].variant < N_VARIANTS
                           ? &open[findings[i].check][findings[i].verdict][findings[i].variant]
                           : NULL;
      if (slot == NULL || *slot == 0)
        {
          groups[n++] = (PlumbFindingGroup){ .finding = i, .count = seats_of (&findings[i]) };
          of[i] = n - 1;
          if (slot != NULL)
            *slot = n;
          continue;
        }
      PlumbFindingGroup *group = &groups[*slot - 1];
      of[i] = *slot - 1;
      group->count += seats_of (&findings[i]);
      if (spare_of (&findings[i]) < spare_of (&findings[group->finding]))
        group->finding = i;
    }
  *n_groups = n;
  if (group_of != NULL)
    *group_of = g_steal_pointer (&of);
  return groups;
}
