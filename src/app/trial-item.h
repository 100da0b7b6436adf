/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of the lens trial as the table keeps it. No GTK. */
#pragma once

#include <gio/gio.h>

#include "text/trial.h"

#define PLUMB_TYPE_TRIAL_ITEM (plumb_trial_item_get_type ())
G_DECLARE_FINAL_TYPE (PlumbTrialItem, plumb_trial_item, PLUMB, TRIAL_ITEM, GObject)

typedef enum {
  PLUMB_TRIAL_VERDICT,
  PLUMB_TRIAL_MACHINE,
  PLUMB_TRIAL_LENS,
  PLUMB_TRIAL_PLACE,
  PLUMB_TRIAL_PICTURE,
  PLUMB_TRIAL_ZOOM,
  PLUMB_TRIAL_SHIFT,
  PLUMB_TRIAL_LEFT,
  PLUMB_TRIAL_TILT,
  PLUMB_TRIAL_KEYSTONE,
  PLUMB_TRIAL_PIXELS,
  PLUMB_TRIAL_AIR,
  PLUMB_TRIAL_CABLE,
  PLUMB_TRIAL_REASON,
  PLUMB_N_TRIAL_COLUMNS
} PlumbTrialColumn;

PlumbTrialItem *plumb_trial_item_new (const PlumbScene *scene, const PlumbTrialLine *line, PlumbWords words);
const PlumbTrialLine *plumb_trial_item_line (PlumbTrialItem *self);
const char *plumb_trial_item_text (PlumbTrialItem *self, PlumbTrialColumn column);
/* Order in a column; below 0: a stands before b. */
int plumb_trial_item_compare (PlumbTrialItem *a, PlumbTrialItem *b, PlumbTrialColumn column);
/* Lenses that do not fit stand last, whatever the order of the rest. */
int plumb_trial_item_compare_fits (PlumbTrialItem *a, PlumbTrialItem *b);
