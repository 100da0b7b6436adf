/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text/trial.h"

#include <string.h>

/* The engine gives this where nothing is in the way, metres. */
#define NOTHING_NEAR_M 10.0

char *
plumb_trial_reason (const PlumbScene *scene, const PlumbTrialLine *line, PlumbWords words)
{
  if (line->worst_finding.unit == NULL)
    return g_strdup ("Nothing could be worked out.");
  if (line->worst == PLUMB_HOLDS)
    return g_strdup ("Everything that was checked holds.");
  return plumb_finding_sentence (scene, &line->worst_finding, words);
}

char *
plumb_trial_room (double metres, PlumbWords words)
{
  return metres >= NOTHING_NEAR_M ? g_strdup ("free") : plumb_length_format (metres, words.units, words.show);
}

char *
plumb_trial_picture (const PlumbTrialLine *line, PlumbWords words)
{
  g_autofree char *least = plumb_length_format (line->picture_least_m, words.units, words.show);
  g_autofree char *greatest = plumb_length_format (line->picture_greatest_m, words.units, words.show);

  return strcmp (least, greatest) == 0 ? g_strdup (least) : g_strdup_printf ("%s to %s", least, greatest);
}

char *
plumb_trial_tilt (const PlumbTrialLine *line, PlumbWords words)
{
  if (line->square_on)
    return g_strdup ("none needed");
  if (!line->tilted)
    return g_strdup ("none does it");
  return plumb_figure_format_directed (line->tilt_rad, "rad", "up", "down", words.units, words.show);
}

char *
plumb_trial_shift (const PlumbTrialLine *line, PlumbWords words)
{
  g_autofree char *across
      = plumb_figure_format_directed (line->shift_h_share, "share", "right", "left", words.units, words.show);
  g_autofree char *upright
      = plumb_figure_format_directed (line->shift_v_share, "share", "up", "down", words.units, words.show);

  return g_strdup_printf ("%s, %s", across, upright);
}
