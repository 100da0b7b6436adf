/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/drawing-drag.h"

#include <string.h>

#include "text/length.h"

/* Steps to which lengths are rounded when nothing else gives them a value. */
#define FREE_STEP_M 0.001
#define FREE_STEP_IN (1.0 / 16.0)
/* On a line of the building, and on the grid: rounding noise alone. */
#define EXACT_STEP_M 0.0001
#define EXACT_STEP_IMPERIAL_M 1e-7

/* Pixels that snapping reaches. */
#define SNAP_PX 7.0

static gboolean
is_imperial (PlumbDocument *document)
{
  return plumb_scene_job (plumb_document_scene (document), 0)->units == PLUMB_UNITS_IMPERIAL;
}

static gboolean
hold (const PlumbDragSession *session, PlumbDrawDrag *drag)
{
  if (!plumb_draw_drag_init (drag, plumb_document_scene (session->document),
                             plumb_document_evaluation (session->document), session->kind, session->subject,
                             session->part))
    return FALSE;
  /* A corner of the picture's wall turns the drawing with it, which would turn
   * the corner again: it is led in the drawing as it was taken hold of. */
  if (session->part == PLUMB_PART_CORNER && session->has_plane)
    drag->plane = session->plane;
  return TRUE;
}

gboolean
plumb_drag_session_begin (PlumbDragSession *session, PlumbDocument *document, PlumbDrawKind kind,
                          PlumbSubject subject, PlumbDrawPart part, PlumbVec2 pointer_m)
{
  PlumbDrawDrag drag;
  *session = (PlumbDragSession){ .document = document, .kind = kind, .subject = subject, .part = part };
  if (!hold (session, &drag))
    {
      session->document = NULL;
      return FALSE;
    }
  session->plane = drag.plane;
  session->has_plane = TRUE;
  session->start_m = plumb_draw_drag_handle (&drag);
  session->grip_m = plumb_vec2_sub (session->start_m, pointer_m);
  session->snap.point_m = session->start_m;
  plumb_document_begin_drag (document);
  return TRUE;
}

gboolean
plumb_drag_session_is_held (const PlumbDragSession *session)
{
  return session->document != NULL;
}

/* The values are in range, so the document takes them; one that it refuses
 * all the same (an outline's corner gone meanwhile) stays as it was. */
static void
apply (PlumbDragSession *session, const GArray *edits, double step_m)
{
  for (guint i = 0; i < edits->len; i++)
    {
      PlumbDrawEdit edit = g_array_index (edits, PlumbDrawEdit, i);
      g_autoptr (GError) error = NULL;
      plumb_draw_edit_round (&edit, step_m);
      if (!plumb_document_set_numbers (session->document, edit.kind, edit.index, edit.n, edit.field, edit.value,
                                       &error))
        g_message ("a drag was not taken: %s", error->message);
    }
}

/* The dimensions as they are after the edit: a value may have met its limit. */
static void
measure_again (PlumbDragSession *session)
{
  PlumbDrawDrag drag;
  unsigned lines = 0;
  while (lines < session->snap.n_guides && !session->snap.guide[lines].dimension)
    lines++;
  session->snap.n_guides = lines;
  if (!hold (session, &drag))
    return;
  session->snap.point_m = plumb_draw_drag_handle (&drag);
  plumb_draw_snap_measure (&drag, &session->snap);
}

void
plumb_drag_session_move (PlumbDragSession *session, const PlumbDrawView *view, PlumbVec2 pointer_m, gboolean snapping)
{
  PlumbDrawDrag drag;
  g_return_if_fail (plumb_drag_session_is_held (session));
  if (!hold (session, &drag))
    return;
  gboolean imperial = is_imperial (session->document);
  plumb_draw_snap (&drag, view, plumb_vec2_add (pointer_m, session->grip_m), SNAP_PX, snapping, &session->snap);
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, session->snap.point_m);
  if (snapping)
    apply (session, edits, imperial ? EXACT_STEP_IMPERIAL_M : EXACT_STEP_M);
  else
    apply (session, edits, imperial ? FREE_STEP_IN * PLUMB_M_PER_IN : FREE_STEP_M);
  measure_again (session);
}

void
plumb_drag_session_nudge (PlumbDragSession *session, PlumbVec2 by_m)
{
  PlumbDrawDrag drag;
  g_return_if_fail (plumb_drag_session_is_held (session));
  if (!hold (session, &drag))
    return;
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, plumb_vec2_add (plumb_draw_drag_handle (&drag), by_m));
  apply (session, edits, is_imperial (session->document) ? EXACT_STEP_IMPERIAL_M : EXACT_STEP_M);
  measure_again (session);
}

int
plumb_drag_session_field (const PlumbDragSession *session)
{
  PlumbVec2 moved = plumb_vec2_sub (session->snap.point_m, session->start_m);
  int field = -1;
  double most = -1.0;
  for (unsigned i = 0; i < session->snap.n_guides; i++)
    {
      const PlumbSnapGuide *guide = &session->snap.guide[i];
      PlumbVec2 way = plumb_vec2_sub (guide->b_m, guide->a_m);
      double length = plumb_vec2_length (way);
      double share = length > 0.0 ? fabs (plumb_vec2_dot (moved, way)) / length : 0.0;
      if (!guide->dimension || guide->field < 0 || share <= most)
        continue;
      field = guide->field;
      most = share;
    }
  return field;
}

static void
let_go (PlumbDragSession *session)
{
  plumb_document_end_drag (session->document);
  *session = (PlumbDragSession){ 0 };
}

void
plumb_drag_session_end (PlumbDragSession *session)
{
  if (plumb_drag_session_is_held (session))
    let_go (session);
}

void
plumb_drag_session_cancel (PlumbDragSession *session)
{
  if (!plumb_drag_session_is_held (session))
    return;
  PlumbDocument *document = session->document;
  plumb_document_cancel_drag (document);
  let_go (session);
}
