/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "cli-private.h"

PlumbExit
plumb_cli_trial (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  if (!plumb_cli_options_read (
          &options, arguments, PLUMB_OPTION_JSON | PLUMB_OPTION_CSV,
          "Tries every machine and lens at every place for an arrangement's screen, one line each."))
    return PLUMB_EXIT_USAGE;
  PlumbExit code = plumb_cli_job_open (&job, &options, false);
  if (code != PLUMB_EXIT_DONE)
    return code;

  PlumbTrialLine *lines;
  uint32_t n_lines;
  if (!plumb_lens_trial (job.scene, job.first, 0, 0, &lines, &n_lines))
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }
  g_autofree char *text = options.json  ? plumb_cli_trial_json (&job, lines, n_lines)
                          : options.csv ? plumb_cli_trial_csv (&job, lines, n_lines)
                                        : plumb_cli_trial_text (&job, lines, n_lines);
  free (lines);
  return plumb_cli_print (text);
}
