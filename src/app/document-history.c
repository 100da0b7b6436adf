/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps: which roots they lead between, and what they keep in memory. */
#include <string.h>

#include "document-private.h"

PlumbScene *
plumb_history_root (const PlumbScene *scene)
{
  PlumbScene *root = plumb_scene_root (scene);

  if (root == NULL)
    g_error ("not enough memory for a scene");
  return root;
}

gboolean
plumb_scenes_differ (const PlumbScene *a, const PlumbScene *b)
{
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      uint32_t n_a, n_b;
      const void *records_a = plumb_scene_records (a, kind, &n_a), *records_b = plumb_scene_records (b, kind, &n_b);
      if (!plumb_scene_shares (a, b, kind)
          && (n_a != n_b || memcmp (records_a, records_b, n_a * plumb_record_info (kind)->size) != 0))
        return TRUE;
    }
  return FALSE;
}

/* ---- steps -------------------------------------------------------------------------- */

static void
step_free (PlumbHistoryStep *step)
{
  plumb_scene_unref (step->before);
  plumb_scene_unref (step->after);
  g_free (step->name);
  g_array_unref (step->shifts);
  g_free (step);
}

/* What going back over this step needs beyond what the next scene holds. */
static gsize
step_bytes (const PlumbHistoryStep *step)
{
  gsize bytes = sizeof *step + strlen (step->name);

  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    if (!plumb_scene_shares (step->before, step->after, (PlumbRecordKind) k))
      bytes += plumb_scene_array_bytes (step->before, (PlumbRecordKind) k);
  return bytes;
}

static PlumbHistoryStep *
last_done (const PlumbHistory *history)
{
  return history->done > 0 ? g_ptr_array_index (history->steps, history->done - 1) : NULL;
}

static void
count_bytes (PlumbHistory *history, PlumbHistoryStep *step)
{
  history->bytes -= step->bytes;
  step->bytes = step_bytes (step);
  history->bytes += step->bytes;
}

static void
remove_step (PlumbHistory *history, guint i)
{
  history->bytes -= ((const PlumbHistoryStep *) g_ptr_array_index (history->steps, i))->bytes;
  g_ptr_array_remove_index (history->steps, i);
  if (i < history->done)
    history->done--;
}

static void
forget_undone (PlumbHistory *history)
{
  while (history->steps->len > history->done)
    remove_step (history, history->steps->len - 1);
}

/* The oldest first; the last step done always stays. */
static void
keep_under_cap (PlumbHistory *history)
{
  if (history->grouping)
    return;
  while (history->bytes > history->cap && history->done > 1)
    remove_step (history, 0);
}

/* ---- the history -------------------------------------------------------------------- */

void
plumb_history_init (PlumbHistory *history, gsize cap)
{
  *history = (PlumbHistory){ .cap = cap };
  history->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);
}

void
plumb_history_clear (PlumbHistory *history)
{
  g_clear_pointer (&history->steps, g_ptr_array_unref);
}

void
plumb_history_set_cap (PlumbHistory *history, gsize cap)
{
  history->cap = cap;
  keep_under_cap (history);
}

static void
join_last (PlumbHistoryStep *step, const PlumbScene *after, char *name)
{
  plumb_scene_unref (step->after);
  step->after = plumb_history_root (after);
  g_free (step->name);
  step->name = name;
}

void
plumb_history_push (PlumbHistory *history, const PlumbScene *before, const PlumbScene *after, char *name,
                    PlumbShift shift)
{
  PlumbHistoryStep *last = last_done (history);
  const gboolean same_places = shift.kind == PLUMB_RECORD_NONE;

  forget_undone (history);
  if (history->joins && last != NULL && same_places)
    join_last (last, after, name);
  else
    {
      PlumbHistoryStep *step = g_new0 (PlumbHistoryStep, 1);
      step->before = last != NULL ? plumb_scene_ref (last->after) : plumb_history_root (before);
      step->after = plumb_history_root (after);
      step->name = name;
      step->shifts = g_array_new (FALSE, FALSE, sizeof (PlumbShift));
      if (!same_places)
        g_array_append_val (step->shifts, shift);
      g_ptr_array_add (history->steps, step);
      history->done++;
      history->grouped += history->grouping ? 1 : 0;
      /* A record that came or went is a step of its own, even in a drag. */
      history->joins = history->dragging && same_places;
      last = step;
    }
  count_bytes (history, last);
  keep_under_cap (history);
}

void
plumb_history_begin_drag (PlumbHistory *history)
{
  if (history->dragging)
    return;
  history->dragging = TRUE;
  history->joins = FALSE;
}

void
plumb_history_end_drag (PlumbHistory *history)
{
  const PlumbHistoryStep *last = last_done (history);

  if (history->joins && last != NULL && !plumb_scenes_differ (last->before, last->after))
    remove_step (history, history->done - 1);
  history->dragging = history->joins = FALSE;
}

PlumbScene *
plumb_history_cancel_drag (PlumbHistory *history)
{
  const PlumbHistoryStep *last = last_done (history);
  PlumbScene *before = NULL;

  if (history->joins && last != NULL)
    {
      before = plumb_scenes_differ (last->before, last->after) ? plumb_scene_ref (last->before) : NULL;
      remove_step (history, history->done - 1);
    }
  history->dragging = history->joins = FALSE;
  return before;
}

void
plumb_history_begin_group (PlumbHistory *history)
{
  plumb_history_end_group (history, NULL);
  plumb_history_end_drag (history);
  history->grouping = TRUE;
}

void
plumb_history_end_group (PlumbHistory *history, const char *name)
{
  const guint n = history->grouped;

  history->grouping = FALSE;
  history->grouped = 0;
  if (n > 0)
    {
      PlumbHistoryStep *first = g_ptr_array_index (history->steps, history->done - n);
      for (guint i = 1; i < n; i++)
        {
          const PlumbHistoryStep *next = g_ptr_array_index (history->steps, history->done - n + i);
          plumb_scene_unref (first->after);
          first->after = plumb_scene_ref (next->after);
          g_array_append_vals (first->shifts, next->shifts->data, next->shifts->len);
        }
      for (guint i = 1; i < n; i++)
        remove_step (history, history->done - 1);
      if (name != NULL)
        {
          g_free (first->name);
          first->name = g_strdup (name);
        }
      count_bytes (history, first);
      if (!plumb_scenes_differ (first->before, first->after))
        remove_step (history, history->done - 1);
    }
  keep_under_cap (history);
}

const PlumbHistoryStep *
plumb_history_undo (PlumbHistory *history)
{
  plumb_history_end_drag (history);
  plumb_history_end_group (history, NULL);
  const PlumbHistoryStep *step = last_done (history);
  if (step != NULL)
    history->done--;
  return step;
}

const PlumbHistoryStep *
plumb_history_redo (PlumbHistory *history)
{
  plumb_history_end_drag (history);
  plumb_history_end_group (history, NULL);
  if (history->done == history->steps->len)
    return NULL;
  return g_ptr_array_index (history->steps, history->done++);
}
