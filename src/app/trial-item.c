/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial-item.h"

#include <math.h>

struct _PlumbTrialItem {
  GObject parent_instance;
  PlumbTrialLine line;
  char *text[PLUMB_N_TRIAL_COLUMNS];
};

G_DEFINE_FINAL_TYPE (PlumbTrialItem, plumb_trial_item, G_TYPE_OBJECT)

static void
plumb_trial_item_finalize (GObject *object)
{
  PlumbTrialItem *self = PLUMB_TRIAL_ITEM (object);

  for (int i = 0; i < PLUMB_N_TRIAL_COLUMNS; i++)
    g_free (self->text[i]);
  G_OBJECT_CLASS (plumb_trial_item_parent_class)->finalize (object);
}

static void
plumb_trial_item_class_init (PlumbTrialItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_trial_item_finalize;
}

static void
plumb_trial_item_init (PlumbTrialItem *self)
{
  (void) self;
}

static void
word_optics (PlumbTrialItem *self, PlumbWords words)
{
  const PlumbTrialLine *line = &self->line;
  char **text = self->text;

  text[PLUMB_TRIAL_PICTURE] = plumb_trial_picture (line, words);
  text[PLUMB_TRIAL_ZOOM] = plumb_number_format (line->throw_ratio, 2, words.show);
  text[PLUMB_TRIAL_SHIFT] = plumb_trial_shift (line, words);
  text[PLUMB_TRIAL_LEFT] = plumb_length_format (line->shift_room_m, words.units, words.show);
  text[PLUMB_TRIAL_TILT] = plumb_trial_tilt (line, words);
  text[PLUMB_TRIAL_KEYSTONE] = plumb_number_format (line->keystone_ratio, 2, words.show);
  text[PLUMB_TRIAL_PIXELS] = plumb_share_format (line->panel_share_used, 1, words.show);
  text[PLUMB_TRIAL_AIR] = plumb_trial_room (line->air_room_m, words);
  text[PLUMB_TRIAL_CABLE] = plumb_trial_room (line->cable_room_m, words);
}

PlumbTrialItem *
plumb_trial_item_new (const PlumbScene *scene, const PlumbTrialLine *line, PlumbWords words)
{
  PlumbTrialItem *self = g_object_new (PLUMB_TYPE_TRIAL_ITEM, NULL);
  char **text = self->text;

  self->line = *line;
  text[PLUMB_TRIAL_VERDICT] = g_strdup (line->fits ? plumb_verdict_word (line->worst) : "does not fit");
  text[PLUMB_TRIAL_MACHINE] = plumb_record_name (scene, PLUMB_RECORD_MACHINE, line->machine);
  text[PLUMB_TRIAL_LENS] = plumb_record_name (scene, PLUMB_RECORD_LENS, line->lens);
  text[PLUMB_TRIAL_PLACE] = plumb_record_name (scene, PLUMB_RECORD_PLACE, line->place);
  text[PLUMB_TRIAL_REASON] = plumb_trial_reason (scene, line, words);
  if (line->reachable)
    word_optics (self, words);
  for (int i = 0; i < PLUMB_N_TRIAL_COLUMNS; i++)
    if (text[i] == NULL)
      text[i] = g_strdup ("–");
  return self;
}

const PlumbTrialLine *
plumb_trial_item_line (PlumbTrialItem *self)
{
  return &self->line;
}

const char *
plumb_trial_item_text (PlumbTrialItem *self, PlumbTrialColumn column)
{
  return self->text[column];
}

/* The figure that a column is put in order by; not a number for words. */
static double
key (const PlumbTrialLine *line, PlumbTrialColumn column)
{
  if (column == PLUMB_TRIAL_VERDICT)
    return (double) line->worst;
  if (!line->reachable)
    return HUGE_VAL;
  switch (column)
    {
    case PLUMB_TRIAL_PICTURE:
      return line->picture_greatest_m;
    case PLUMB_TRIAL_ZOOM:
      return line->throw_ratio;
    case PLUMB_TRIAL_SHIFT:
      return hypot (line->shift_h_share, line->shift_v_share);
    case PLUMB_TRIAL_LEFT:
      return line->shift_room_m;
    case PLUMB_TRIAL_TILT:
      /* None needed, then the least, then what no tilt does. */
      return line->square_on ? 0.0 : line->tilted ? fabs (line->tilt_rad) : G_PI;
    case PLUMB_TRIAL_KEYSTONE:
      return line->keystone_ratio;
    case PLUMB_TRIAL_PIXELS:
      return line->panel_share_used;
    case PLUMB_TRIAL_AIR:
      return line->air_room_m;
    case PLUMB_TRIAL_CABLE:
      return line->cable_room_m;
    case PLUMB_TRIAL_VERDICT:
    case PLUMB_TRIAL_MACHINE:
    case PLUMB_TRIAL_LENS:
    case PLUMB_TRIAL_PLACE:
    case PLUMB_TRIAL_REASON:
    case PLUMB_N_TRIAL_COLUMNS:
    default:
      return (double) NAN;
    }
}

static int
compare_numbers (double a, double b)
{
  return (a > b) - (a < b);
}

int
plumb_trial_item_compare (PlumbTrialItem *a, PlumbTrialItem *b, PlumbTrialColumn column)
{
  const gboolean words
      = column == PLUMB_TRIAL_REASON || (column >= PLUMB_TRIAL_MACHINE && column <= PLUMB_TRIAL_PLACE);

  if (words)
    return g_utf8_collate (a->text[column], b->text[column]);
  return compare_numbers (key (&a->line, column), key (&b->line, column));
}

int
plumb_trial_item_compare_fits (PlumbTrialItem *a, PlumbTrialItem *b)
{
  return (int) !a->line.fits - (int) !b->line.fits;
}
