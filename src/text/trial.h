/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of the lens trial as words. Strings are the caller's. */
#pragma once

#include "text/findings.h"

/* One sentence: what is worst, or that everything holds. */
char *plumb_trial_reason (const PlumbScene *scene, const PlumbTrialLine *line, PlumbWords words);
/* What is left of a room round the machine: "free" where nothing stands. */
char *plumb_trial_room (double metres, PlumbWords words);
/* "2.876 m to 3.725 m", or one width of a lens without zoom. */
char *plumb_trial_picture (const PlumbTrialLine *line, PlumbWords words);
/* "none needed", "none does it" or "4.1° up". */
char *plumb_trial_tilt (const PlumbTrialLine *line, PlumbWords words);
/* "2.0 % left, 20.4 % down". */
char *plumb_trial_shift (const PlumbTrialLine *line, PlumbWords words);
