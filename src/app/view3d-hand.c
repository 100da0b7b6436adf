/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pointer and keys over the 3D area. */
#include <math.h>

#include "app/view3d-area-private.h"

#define DRAG_PX 3.0 /* a press that moves less is a click */
#define TURN_KEY_PX 40.0
#define ZOOM_KEY 1.2
#define ZOOM_WHEEL 1.15
#define WHEEL_PX 40.0 /* of a touchpad's movement to one notch of a wheel */

static const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

static gboolean
same_subject (PlumbSubject a, PlumbSubject b)
{
  return a.kind == b.kind && a.index == b.index && a.sub == b.sub;
}

static PlumbSubject
pick (PlumbView3dArea *self, PlumbVec2 at, PlumbVec3 *hit_m)
{
  PlumbView3dPlace place = plumb_view3d_area_place (self);

  if (!self->ready || !self->eye.valid || place.width_px < 1 || place.height_px < 1)
    return nothing;
  plumb_view3d_set_camera (self->view, plumb_view3d_area_get_camera (self));
  return plumb_view3d_pick (self->view, plumb_view3d_place_aspect (&place), at.x / place.width_px,
                            at.y / place.height_px, hit_m);
}

void
plumb_view3d_area_hover (PlumbView3dArea *self, PlumbVec2 at)
{
  PlumbVec3 hit_m;
  PlumbSubject hovered;

  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  if (self->looks_only)
    return;
  hovered = pick (self, at, &hit_m);
  if (same_subject (hovered, self->options.hovered))
    return;
  self->options.hovered = hovered;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), hovered.kind != PLUMB_RECORD_NONE ? "pointer" : NULL);
  plumb_view3d_area_redraw (self);
}

/* ---- the hand ---------------------------------------------------------------------------- */

void
plumb_view3d_area_press (PlumbView3dArea *self, PlumbVec2 at, gboolean pans)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  plumb_view3d_area_let_go (self);
  self->hand = HAND_PRESSED;
  self->pans = pans;
  self->pressed = self->last = at;
  self->hit = self->looks_only ? nothing : pick (self, at, &self->hit_m);
}

/* What is chosen is moved, unless it cannot be; everything else turns the view. */
static PlumbView3dHand
begin (PlumbView3dArea *self)
{
  PlumbSubject chosen = plumb_document_selection (self->document);

  self->options.hovered = nothing;
  if (self->pans)
    return HAND_PANS;
  if (self->hit.kind != PLUMB_RECORD_NONE && self->hit.kind == chosen.kind && self->hit.index == chosen.index
      && plumb_view3d_drag_begin (&self->drag, self->document, self->hit, self->hit_m))
    return HAND_DRAGS;
  return HAND_TURNS;
}

void
plumb_view3d_area_move (PlumbView3dArea *self, PlumbVec2 at, gboolean snapping)
{
  PlumbView3dPlace place;
  PlumbVec2 by;

  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  if (self->hand == HAND_FREE
      || (self->hand == HAND_PRESSED && plumb_vec2_length (plumb_vec2_sub (at, self->pressed)) < DRAG_PX))
    return;
  if (self->hand == HAND_PRESSED)
    self->hand = begin (self);
  place = plumb_view3d_area_place (self);
  by = plumb_vec2_sub (at, self->last);
  self->last = at;
  if (self->hand == HAND_DRAGS)
    plumb_view3d_drag_move (&self->drag, &self->eye.now, place.width_px, place.height_px, at.x / place.width_px,
                            at.y / place.height_px, snapping);
  else if (self->hand == HAND_PANS ? plumb_view3d_eye_pan (&self->eye, &place, by.x, by.y)
                                   : plumb_view3d_eye_turn (&self->eye, &place, by.x, by.y))
    plumb_view3d_area_stir (self);
}

/* What waited while the hand was busy. */
static void
rest_hand (PlumbView3dArea *self)
{
  self->hand = HAND_FREE;
  plumb_view3d_area_settle (self);
  plumb_view3d_area_tell_reader (self);
  if (self->options.light_pass)
    plumb_view3d_area_stir (self);
}

void
plumb_view3d_area_let_go (PlumbView3dArea *self)
{
  if (self->hand == HAND_FREE)
    return;
  if (plumb_view3d_drag_is_held (&self->drag))
    plumb_view3d_drag_end (&self->drag);
  rest_hand (self);
}

void
plumb_view3d_area_release (PlumbView3dArea *self)
{
  gboolean clicked;

  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  clicked = self->hand == HAND_PRESSED && !self->pans && !self->looks_only;
  plumb_view3d_area_let_go (self);
  if (clicked)
    plumb_document_select (self->document, self->hit, -1);
}

static gboolean
give_up (PlumbView3dArea *self)
{
  if (!plumb_view3d_drag_is_held (&self->drag))
    return FALSE;
  plumb_view3d_drag_cancel (&self->drag);
  rest_hand (self);
  return TRUE;
}

/* ---- keys ---------------------------------------------------------------------------------- */

static gboolean
arrow_key (PlumbView3dArea *self, double right, double down, GdkModifierType state)
{
  PlumbView3dPlace place = plumb_view3d_area_place (self);
  gboolean moved;

  if (self->hand != HAND_FREE)
    return TRUE;
  /* The eye goes where the arrow points, so what is seen goes the other way. */
  if ((state & (GDK_SHIFT_MASK | GDK_CONTROL_MASK)) != 0)
    moved = plumb_view3d_eye_pan (&self->eye, &place, -right * TURN_KEY_PX, -down * TURN_KEY_PX);
  else
    moved = plumb_view3d_eye_turn (&self->eye, &place, -right * TURN_KEY_PX, -down * TURN_KEY_PX);
  if (moved)
    plumb_view3d_area_stir (self);
  return TRUE;
}

static gboolean
zoom (PlumbView3dArea *self, double factor)
{
  if (self->hand == HAND_FREE && plumb_view3d_eye_zoom (&self->eye, factor))
    plumb_view3d_area_stir (self);
  return TRUE;
}

gboolean
plumb_view3d_area_key (PlumbView3dArea *self, guint keyval, GdkModifierType state)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), FALSE);
  switch (keyval)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return arrow_key (self, -1.0, 0.0, state);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return arrow_key (self, 1.0, 0.0, state);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return arrow_key (self, 0.0, -1.0, state);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return arrow_key (self, 0.0, 1.0, state);
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      return zoom (self, ZOOM_KEY);
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      return zoom (self, 1.0 / ZOOM_KEY);
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
      if (self->hand == HAND_FREE)
        plumb_view3d_area_go_home (self);
      return TRUE;
    case GDK_KEY_Escape:
      return give_up (self);
    default:
      return FALSE;
    }
}

/* ---- controllers ------------------------------------------------------------------------------ */

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                PlumbView3dArea *self)
{
  (void) controller, (void) code;
  return plumb_view3d_area_key (self, keyval, state);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, PlumbView3dArea *self)
{
  (void) controller;
  if (self->hand == HAND_FREE && !self->eye.travels)
    plumb_view3d_area_hover (self, plumb_vec2 (x, y));
}

static void
left_cb (GtkEventControllerMotion *controller, PlumbView3dArea *self)
{
  (void) controller;
  if (self->options.hovered.kind == PLUMB_RECORD_NONE)
    return;
  self->options.hovered = nothing;
  plumb_view3d_area_redraw (self);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, PlumbView3dArea *self)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (button != GDK_BUTTON_PRIMARY && button != GDK_BUTTON_MIDDLE)
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_widget_grab_focus (GTK_WIDGET (self));
  plumb_view3d_area_press (self, plumb_vec2 (x, y), button == GDK_BUTTON_MIDDLE || (state & GDK_SHIFT_MASK) != 0);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, PlumbView3dArea *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  plumb_view3d_area_move (self, plumb_vec2_add (self->pressed, plumb_vec2 (dx, dy)), (state & GDK_ALT_MASK) == 0);
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, PlumbView3dArea *self)
{
  (void) gesture, (void) dx, (void) dy;
  plumb_view3d_area_release (self);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, PlumbView3dArea *self)
{
  (void) gesture, (void) sequence;
  if (!give_up (self))
    plumb_view3d_area_let_go (self);
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, PlumbView3dArea *self)
{
  gboolean pixels = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_SURFACE;

  (void) dx;
  return zoom (self, pow (ZOOM_WHEEL, -dy / (pixels ? WHEEL_PX : 1.0)));
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, PlumbView3dArea *self)
{
  (void) gesture, (void) sequence;
  plumb_view3d_area_let_go (self);
  self->pinch_scale = 1.0;
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, PlumbView3dArea *self)
{
  (void) gesture;
  if (!(scale > 0.0))
    return;
  zoom (self, scale / self->pinch_scale);
  self->pinch_scale = scale;
}

void
plumb_view3d_area_add_hand (PlumbView3dArea *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new (), *key = gtk_event_controller_key_new ();
  GtkGesture *drag = gtk_gesture_drag_new (), *pinch = gtk_gesture_zoom_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);

  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (left_cb), self);
  gtk_widget_add_controller (widget, motion);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancel_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_widget_add_controller (widget, scroll);
  g_signal_connect (key, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (widget, key);
}
