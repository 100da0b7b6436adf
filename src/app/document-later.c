/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/document-later.h"

typedef struct {
  PlumbDocument *document;
  gpointer listener;
  void (*changed) (gpointer listener);
  guint idle;
} Later;

static gboolean
idle_cb (gpointer data)
{
  Later *later = data;

  later->idle = 0;
  later->changed (later->listener);
  return G_SOURCE_REMOVE;
}

static void
changed_cb (Later *later)
{
  if (plumb_document_is_dragging (later->document))
    {
      /* Behind the redrawing of the window. */
      if (later->idle == 0)
        later->idle = g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, idle_cb, later, NULL);
      return;
    }
  g_clear_handle_id (&later->idle, g_source_remove);
  later->changed (later->listener);
}

static void
later_free (gpointer data, G_GNUC_UNUSED GClosure *closure)
{
  Later *later = data;

  g_clear_handle_id (&later->idle, g_source_remove);
  g_free (later);
}

void
plumb_document_listen_later (PlumbDocument *document, gpointer listener, void (*changed) (gpointer listener))
{
  Later *later = g_new0 (Later, 1);

  *later = (Later){ .document = document, .listener = listener, .changed = changed };
  GClosure *closure = g_cclosure_new_swap (G_CALLBACK (changed_cb), later, later_free);
  g_object_watch_closure (G_OBJECT (listener), closure);
  g_signal_connect_closure (document, "changed", closure, FALSE);
}
