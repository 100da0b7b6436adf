/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lens trial in a thread of its own, some lines at a time, so that it can
 * say how far it is and be stopped. No GTK.
 */
#pragma once

#include <gio/gio.h>

#include "plumbeam/evaluate.h"

/* Lines that a table can take; the rest is left out and said. */
#define PLUMB_TRIAL_MOST 20000

typedef struct PlumbTrialWork PlumbTrialWork;

/* Called in the caller's main context, once, unless the work was dropped. The
 * lines are those that were done when it was stopped. */
typedef void (*PlumbTrialDone) (GArray *lines, gboolean complete, gpointer data);

PlumbTrialWork *plumb_trial_work_start (const PlumbScene *scene, uint32_t arrangement, PlumbTrialDone done,
                                        gpointer data);
/* 0 to 1. */
double plumb_trial_work_share (const PlumbTrialWork *work);
/* Ends it soon; done is called with what there is. */
void plumb_trial_work_stop (PlumbTrialWork *work);
/* Ends it soon; done is not called. */
void plumb_trial_work_drop (PlumbTrialWork *work);
