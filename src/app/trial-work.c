/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trial-work.h"

#include <stdlib.h>

/* Lines between two looks at whether to stop; each takes about 0.1 ms. */
#define CHUNK 16

/* Belongs to the task, which lives until `finished` has been called. */
struct PlumbTrialWork {
  PlumbScene *scene;
  uint32_t arrangement, wanted;
  GCancellable *cancellable;
  gint n_done; /* atomic */
  PlumbTrialDone done;
  gpointer data;
};

static void
work_free (gpointer data)
{
  PlumbTrialWork *work = data;

  plumb_scene_unref (work->scene);
  g_object_unref (work->cancellable);
  g_free (work);
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  PlumbTrialWork *work = data;
  GArray *lines = g_array_sized_new (FALSE, TRUE, sizeof (PlumbTrialLine), work->wanted);

  (void) source;
  while (lines->len < work->wanted && !g_cancellable_is_cancelled (cancellable))
    {
      PlumbTrialLine *some;
      uint32_t n;
      if (!plumb_lens_trial (work->scene, work->arrangement, lines->len, MIN (CHUNK, work->wanted - lines->len),
                             &some, &n))
        g_error ("not enough memory for a lens trial");
      g_array_append_vals (lines, some, n);
      free (some);
      g_atomic_int_set (&work->n_done, (gint) lines->len);
    }
  g_task_return_pointer (task, lines, (GDestroyNotify) g_array_unref);
}

static void
finished (GObject *source, GAsyncResult *result, gpointer data)
{
  PlumbTrialWork *work = g_task_get_task_data (G_TASK (result));
  g_autoptr (GArray) lines = g_task_propagate_pointer (G_TASK (result), NULL);

  (void) source;
  (void) data;
  if (work->done != NULL)
    work->done (lines, lines->len >= work->wanted, work->data);
}

PlumbTrialWork *
plumb_trial_work_start (const PlumbScene *scene, uint32_t arrangement, PlumbTrialDone done, gpointer data)
{
  PlumbTrialWork *work = g_new0 (PlumbTrialWork, 1);

  work->scene = plumb_scene_ref (scene);
  work->arrangement = arrangement;
  work->wanted = MIN (plumb_lens_trial_count (scene), PLUMB_TRIAL_MOST);
  work->cancellable = g_cancellable_new ();
  work->done = done;
  work->data = data;
  g_autoptr (GTask) task = g_task_new (NULL, work->cancellable, finished, NULL);
  /* What was done before the stop is wanted too. */
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, run);
  return work;
}

double
plumb_trial_work_share (const PlumbTrialWork *work)
{
  return work->wanted > 0 ? (double) g_atomic_int_get (&work->n_done) / (double) work->wanted : 1.0;
}

void
plumb_trial_work_stop (PlumbTrialWork *work)
{
  g_cancellable_cancel (work->cancellable);
}

void
plumb_trial_work_drop (PlumbTrialWork *work)
{
  work->done = NULL;
  g_cancellable_cancel (work->cancellable);
}
