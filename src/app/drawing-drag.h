/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One drag or one run of nudges, from taking hold to letting go: turns view
 * points into edits of the document. One undo step. No GTK.
 */
#pragma once

#include "app/document.h"
#include "draw/snap.h"

typedef struct {
  PlumbDocument *document; /* NULL: nothing is held */
  PlumbDrawKind kind;
  PlumbSubject subject;
  PlumbDrawPart part;
  PlumbVec2 grip_m;   /* from the pointer to the handle */
  PlumbVec2 start_m;  /* the handle at first */
  PlumbDrawPlane plane; /* the drawing's at first */
  gboolean has_plane;
  PlumbSnap snap;     /* where it is now, with its guides */
} PlumbDragSession;

/* False when the thing cannot be moved in this drawing; nothing is then held. */
gboolean plumb_drag_session_begin (PlumbDragSession *session, PlumbDocument *document, PlumbDrawKind kind,
                                   PlumbSubject subject, PlumbDrawPart part, PlumbVec2 pointer_m);
gboolean plumb_drag_session_is_held (const PlumbDragSession *session);
/* The pointer is now here; emits `changed` when something moves. */
void plumb_drag_session_move (PlumbDragSession *session, const PlumbDrawView *view, PlumbVec2 pointer_m,
                              gboolean snapping);
/* The handle by a vector in the drawing. */
void plumb_drag_session_nudge (PlumbDragSession *session, PlumbVec2 by_m);
/* Field of the measure that has changed most, -1 if none has one. */
int plumb_drag_session_field (const PlumbDragSession *session);
void plumb_drag_session_end (PlumbDragSession *session);
/* Puts everything back as it was before. */
void plumb_drag_session_cancel (PlumbDragSession *session);
