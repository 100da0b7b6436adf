/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/drawing-area.h"

#include "app/document-later.h"
#include "app/drawing-drag.h"
#include "app/style.h"
#include "draw/guides.h"
#include "text/findings.h"
#include "text/length.h"
#include "text/questions.h"

/* px */
#define REACH_PX 5.0 /* how near a thing is hit */
#define DRAG_PX 3.0  /* a press that moves less is a click */
#define PAN_PX 40.0  /* by a key */
#define NATURAL_PX 320
#define MINIMUM_PX 96
#define HOVER_PX 1.0
#define CHOSEN_PX 1.8

#define ZOOM_STEP 1.2
#define ZOOM_WHEEL 1.15

/* A nudge, and one with Shift. */
#define NUDGE_M 0.001
#define NUDGE_FAR_M 0.01
#define NUDGE_IN (1.0 / 16.0)
#define NUDGE_FAR_IN 0.5

typedef enum { HAND_FREE, HAND_PRESSED, HAND_PANS, HAND_DRAGS, HAND_NUDGES } Hand;

struct _PlumbDrawingArea {
  GtkWidget parent_instance;

  PlumbDocument *document;
  PlumbDrawKind kind;
  PlumbDrawView views[PLUMB_N_DRAW_KINDS];
  gboolean fitted[PLUMB_N_DRAW_KINDS]; /* nobody panned or zoomed */
  char *path;                          /* of the job that the views were made for */

  cairo_surface_t *painted;    /* NULL: to be painted */
  gboolean behind;             /* shows the job as it was before a drag step or two */
  GdkTexture *texture;         /* of painted, where the renderer takes one; NULL: not made */
  const PlumbDrawTheme *theme; /* in which it was painted */
  PlumbDrawShapes *shapes;     /* NULL: to be gathered */

  Hand hand;
  PlumbVec2 pressed; /* device, where the button went down */
  PlumbVec2 last;    /* device, where the pointer was last */
  gboolean has_pressed_hit, has_hover, inside;
  PlumbDrawHit pressed_hit, hover;
  PlumbDragSession drag;
  double pinch_scale;
  guint viewed_idle;
};

G_DEFINE_FINAL_TYPE (PlumbDrawingArea, plumb_drawing_area, GTK_TYPE_WIDGET)

enum { VIEWED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- what is shown ------------------------------------------------------------------ */

static PlumbDrawView *
view_of (PlumbDrawingArea *self)
{
  return &self->views[self->kind];
}

static gboolean
has_size (PlumbDrawingArea *self)
{
  return gtk_widget_get_width (GTK_WIDGET (self)) > 0 && gtk_widget_get_height (GTK_WIDGET (self)) > 0;
}

static void
forget_painted (PlumbDrawingArea *self)
{
  g_clear_object (&self->texture);
  g_clear_pointer (&self->painted, cairo_surface_destroy);
}

static void
repaint (PlumbDrawingArea *self)
{
  forget_painted (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
viewed_cb (gpointer data)
{
  PlumbDrawingArea *self = data;
  self->viewed_idle = 0;
  g_signal_emit (self, signals[VIEWED], 0);
  return G_SOURCE_REMOVE;
}

/* Not at once: a listener may write the scale into a label, which must not
 * ask for a new size while sizes are given out. */
static void
tell_viewed (PlumbDrawingArea *self)
{
  repaint (self);
  if (self->viewed_idle == 0)
    self->viewed_idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, viewed_cb, self, NULL);
}

/* The view takes the area's size, and the whole drawing if it is fitted. */
static void
settle_view (PlumbDrawingArea *self)
{
  PlumbDrawView *view = view_of (self);
  if (!has_size (self) || self->document == NULL)
    return;
  view->width = gtk_widget_get_width (GTK_WIDGET (self));
  view->height = gtk_widget_get_height (GTK_WIDGET (self));
  if (self->fitted[self->kind] && self->hand == HAND_FREE)
    plumb_draw_view_fit (view, plumb_document_scene (self->document), plumb_document_evaluation (self->document));
  tell_viewed (self);
}

static const PlumbDrawShapes *
shapes_of (PlumbDrawingArea *self)
{
  if (self->shapes == NULL)
    self->shapes = plumb_draw_shapes_new (plumb_document_scene (self->document),
                                          plumb_document_evaluation (self->document), self->kind);
  return self->shapes;
}

static gboolean
same_subject (PlumbSubject a, PlumbSubject b)
{
  return a.kind == b.kind && a.index == b.index && a.sub == b.sub;
}

/* ---- what a screen reader says ---------------------------------------------------------- */

static void
append_machine (GString *words, const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  uint32_t n;
  plumb_scene_place_records (scene, &n);
  if (!evaluation->solved || evaluation->place >= n)
    return;
  g_autofree char *place = plumb_record_name (scene, PLUMB_RECORD_PLACE, evaluation->place);
  g_string_append_printf (words, " The machine is at %s", place);
  const PlumbFigureValue *distance = &evaluation->figures[PLUMB_FIGURE_throw_distance_m];
  if (distance->valid)
    {
      g_autofree char *length
          = plumb_length_format (distance->value[0], plumb_scene_job (scene, 0)->units, PLUMB_SHOW_METRES);
      g_string_append_printf (words, ", %s from the picture", length);
    }
  g_string_append_c (words, '.');
}

/* What the seats say, by how many fail and which is worst. */
static void
append_answers (GString *words, PlumbDrawingArea *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const PlumbEvaluation *evaluation = plumb_document_evaluation (self->document);
  PlumbQuestion question = view_of (self)->shown.question;
  if (self->kind != PLUMB_DRAW_PLAN || question == PLUMB_QUESTION_ALL)
    return;
  PlumbAsked asked = plumb_asked (scene, evaluation, question);
  uint32_t fail = 0, worst = plumb_asked_worst_seat (scene, evaluation, &asked);
  if (worst == PLUMB_NO_INDEX)
    return;
  for (uint32_t i = 0; i < evaluation->n_seats; i++)
    fail += plumb_answer (scene, evaluation, &asked, i).verdict == PLUMB_FAILS;
  PlumbAnswer answer = plumb_answer (scene, evaluation, &asked, worst);
  g_autofree char *figure
      = plumb_question_figure (question, answer.figure, (PlumbWords){ plumb_scene_job (scene, 0)->units, 0 });
  g_string_append_printf (words, " %s: %u of the seats fail", plumb_question_info (question)->label, fail);
  if (answer.has_figure)
    g_string_append_printf (words, ", worst is %s with %s", plumb_scene_resolved (scene)->seats[worst].id, figure);
  g_string_append_c (words, '.');
}

static char *
describe (PlumbDrawingArea *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const PlumbEvaluation *evaluation = plumb_document_evaluation (self->document);
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  PlumbSubject chosen = plumb_document_selection (self->document);
  GString *words = g_string_new (plumb_draw_kind_title (self->kind));
  uint32_t n_walls;
  plumb_scene_wall_records (scene, &n_walls);
  g_string_append_c (words, '.');
  if (n_walls == 0)
    g_string_append (words, " Nothing is measured yet.");
  append_machine (words, scene, evaluation);
  if (resolved->n_seats > 0)
    g_string_append_printf (words, resolved->n_seats == 1 ? " One seat." : " %u seats.", resolved->n_seats);
  append_answers (words, self);
  if (chosen.kind != PLUMB_RECORD_NONE)
    {
      g_autofree char *name = plumb_record_name (scene, chosen.kind, chosen.index);
      g_string_append_printf (words, " Chosen: %s.", name);
    }
  return g_string_free (words, FALSE);
}

static void
tell_reader (PlumbDrawingArea *self)
{
  g_autofree char *words = describe (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

/* ---- painting ------------------------------------------------------------------------- */

static void
surface_free_cb (gpointer surface)
{
  cairo_surface_destroy (surface);
}

/* In device pixels, so that lines are sharp on every screen. */
static cairo_surface_t *
paint (PlumbDrawingArea *self)
{
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  cairo_surface_t *surface = cairo_image_surface_create (
      CAIRO_FORMAT_ARGB32, gtk_widget_get_width (GTK_WIDGET (self)) * scale,
      gtk_widget_get_height (GTK_WIDGET (self)) * scale);
  cairo_surface_set_device_scale (surface, scale, scale);
  cairo_t *cr = cairo_create (surface);
  plumb_draw_view (cr, plumb_document_scene (self->document), plumb_document_evaluation (self->document),
                   view_of (self));
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static GdkTexture *
texture_of (cairo_surface_t *surface)
{
  int height = cairo_image_surface_get_height (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes
      = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), stride * (gsize) height, surface_free_cb,
                                    cairo_surface_reference (surface));
  return gdk_memory_texture_new (cairo_image_surface_get_width (surface), height, GDK_MEMORY_DEFAULT, bytes, stride);
}

/* The toolkit's cairo renderer turns a texture into an image through floating
 * point, which takes longer than the drawing itself; it is handed the image.
 * Others keep a texture from frame to frame. */
static void
append_painted (PlumbDrawingArea *self, GtkSnapshot *snapshot, const graphene_rect_t *bounds)
{
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (GTK_WIDGET (self)));

  if (self->painted == NULL)
    self->painted = paint (self);
  if (renderer == NULL || GSK_IS_CAIRO_RENDERER (renderer))
    {
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, bounds);
      cairo_set_source_surface (cr, self->painted, 0.0, 0.0);
      /* It has a ground of its own: a copy, not a blend. */
      cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
      cairo_paint (cr);
      cairo_destroy (cr);
      return;
    }
  if (self->texture == NULL)
    self->texture = texture_of (self->painted);
  gtk_snapshot_append_texture (snapshot, self->texture, bounds);
}

/* Kinds that the drawing itself does not mark when they are chosen. */
static gboolean
needs_mark (PlumbRecordKind kind)
{
  return kind == PLUMB_RECORD_SEAT || kind == PLUMB_RECORD_ROW || kind == PLUMB_RECORD_PERSON
         || kind == PLUMB_RECORD_PORT || kind == PLUMB_RECORD_OPENING;
}

static void
paint_over (PlumbDrawingArea *self, cairo_t *cr)
{
  const PlumbDrawView *view = view_of (self);
  PlumbSubject chosen = plumb_document_selection (self->document);
  if (needs_mark (chosen.kind))
    plumb_draw_mark (cr, view, shapes_of (self), chosen, PLUMB_PART_WHOLE, CHOSEN_PX);
  if (self->has_hover && self->hand == HAND_FREE)
    plumb_draw_mark (cr, view, shapes_of (self), self->hover.subject, self->hover.part, HOVER_PX);
  if (plumb_drag_session_is_held (&self->drag))
    plumb_draw_guides (cr, plumb_document_scene (self->document), plumb_document_evaluation (self->document), view,
                       &self->drag.snap);
}

static void
plumb_drawing_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbDrawingArea *self = PLUMB_DRAWING_AREA (widget);
  const graphene_rect_t bounds
      = GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (widget), (float) gtk_widget_get_height (widget));
  if (self->document == NULL || !has_size (self))
    return;
  view_of (self)->selected = plumb_document_selection (self->document);
  view_of (self)->theme = plumb_style_theme ();
  if (self->theme != view_of (self)->theme)
    forget_painted (self);
  self->theme = view_of (self)->theme;
  append_painted (self, snapshot, &bounds);
  if (self->has_hover || plumb_drag_session_is_held (&self->drag)
      || needs_mark (plumb_document_selection (self->document).kind))
    {
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
      paint_over (self, cr);
      cairo_destroy (cr);
    }
}

/* ---- pan and zoom ------------------------------------------------------------------------- */

static void
pan (PlumbDrawingArea *self, double dx, double dy)
{
  PlumbDrawView *view = view_of (self);
  view->centre_m.x -= dx / view->scale_per_m;
  view->centre_m.y += dy / view->scale_per_m;
  self->fitted[self->kind] = FALSE;
  repaint (self);
}

static void
zoom (PlumbDrawingArea *self, PlumbVec2 about, double factor)
{
  plumb_draw_view_zoom (view_of (self), about, factor);
  self->fitted[self->kind] = FALSE;
  tell_viewed (self);
}

/* The pointer if it is over the drawing, else the middle. */
static PlumbVec2
zoom_point (PlumbDrawingArea *self)
{
  const PlumbDrawView *view = view_of (self);
  return self->inside ? self->last : plumb_vec2 (view->width / 2.0, view->height / 2.0);
}

void
plumb_drawing_area_fit (PlumbDrawingArea *self)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self));
  self->fitted[self->kind] = TRUE;
  settle_view (self);
}

/* ---- the hand --------------------------------------------------------------------------- */

static PlumbVec2
view_point (PlumbDrawingArea *self, PlumbVec2 device)
{
  return plumb_draw_view_from_device (view_of (self), device);
}

static gboolean
hit_at (PlumbDrawingArea *self, PlumbVec2 device, PlumbDrawHit *hit)
{
  return plumb_draw_shapes_at (shapes_of (self), view_of (self), device, REACH_PX, hit);
}

static const char *
cursor_for (const PlumbDrawHit *hit)
{
  switch (hit->part)
    {
    case PLUMB_PART_LEFT:
    case PLUMB_PART_RIGHT:
      return "ew-resize";
    case PLUMB_PART_BOTTOM:
    case PLUMB_PART_TOP:
      return "ns-resize";
    default:
      return "pointer";
    }
}

static void
hover (PlumbDrawingArea *self, PlumbVec2 device)
{
  PlumbDrawHit hit = { 0 };
  gboolean has = self->document != NULL && has_size (self) && hit_at (self, device, &hit);
  if (has == self->has_hover
      && (!has || (same_subject (hit.subject, self->hover.subject) && hit.part == self->hover.part)))
    return;
  self->has_hover = has;
  self->hover = hit;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), has ? cursor_for (&hit) : NULL);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
let_go (PlumbDrawingArea *self)
{
  plumb_drag_session_end (&self->drag);
  self->hand = HAND_FREE;
  tell_reader (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
plumb_drawing_area_press (PlumbDrawingArea *self, PlumbVec2 device)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self) && self->document != NULL);
  if (self->hand != HAND_FREE)
    let_go (self);
  self->pressed = self->last = device;
  self->hand = HAND_PRESSED;
  self->has_pressed_hit = hit_at (self, device, &self->pressed_hit);
}

/* The press has become a drag: of a thing if one was hit that can move. */
static void
take_hold (PlumbDrawingArea *self)
{
  const PlumbDrawHit *hit = &self->pressed_hit;
  self->hand = HAND_PANS;
  if (!self->has_pressed_hit)
    return;
  plumb_document_select (self->document, hit->subject, -1);
  if (plumb_drag_session_begin (&self->drag, self->document, self->kind, hit->subject, hit->part,
                                view_point (self, self->pressed)))
    self->hand = HAND_DRAGS;
}

void
plumb_drawing_area_move (PlumbDrawingArea *self, PlumbVec2 device, gboolean snapping)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self) && self->document != NULL);
  PlumbVec2 by = plumb_vec2_sub (device, self->last);
  if (self->hand == HAND_PRESSED)
    {
      if (plumb_vec2_length (plumb_vec2_sub (device, self->pressed)) < DRAG_PX)
        return;
      take_hold (self);
      by = plumb_vec2_sub (device, self->pressed);
    }
  self->last = device;
  if (self->hand == HAND_PANS)
    pan (self, by.x, by.y);
  else if (self->hand == HAND_DRAGS)
    {
      plumb_drag_session_move (&self->drag, view_of (self), view_point (self, device), snapping);
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
}

void
plumb_drawing_area_release (PlumbDrawingArea *self)
{
  static const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self) && self->document != NULL);
  if (self->hand == HAND_PRESSED)
    plumb_document_select (self->document, self->has_pressed_hit ? self->pressed_hit.subject : nothing, -1);
  if (self->hand != HAND_FREE)
    let_go (self);
}

/* ---- keys ------------------------------------------------------------------------------------ */

static PlumbVec2
arrow_of (guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return plumb_vec2 (-1.0, 0.0);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return plumb_vec2 (1.0, 0.0);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return plumb_vec2 (0.0, 1.0);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return plumb_vec2 (0.0, -1.0);
    default:
      return plumb_vec2 (0.0, 0.0);
    }
}

static double
nudge_m (PlumbDrawingArea *self, gboolean far)
{
  if (plumb_scene_job (plumb_document_scene (self->document), 0)->units == PLUMB_UNITS_IMPERIAL)
    return (far ? NUDGE_FAR_IN : NUDGE_IN) * PLUMB_M_PER_IN;
  return far ? NUDGE_FAR_M : NUDGE_M;
}

/* One step of the history from the first key press to the release. */
static gboolean
nudge (PlumbDrawingArea *self, PlumbVec2 way, gboolean far)
{
  PlumbSubject chosen = plumb_document_selection (self->document);
  if (chosen.kind == PLUMB_RECORD_NONE || (self->hand != HAND_FREE && self->hand != HAND_NUDGES))
    return FALSE;
  if (self->hand == HAND_FREE
      && !plumb_drag_session_begin (&self->drag, self->document, self->kind, chosen, PLUMB_PART_WHOLE,
                                    plumb_vec2 (0.0, 0.0)))
    return FALSE;
  self->hand = HAND_NUDGES;
  plumb_drag_session_nudge (&self->drag, plumb_vec2_scale (way, nudge_m (self, far)));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return TRUE;
}

static gboolean
arrow_key (PlumbDrawingArea *self, PlumbVec2 way, GdkModifierType state)
{
  if ((state & GDK_CONTROL_MASK) == 0 && nudge (self, way, (state & GDK_SHIFT_MASK) != 0))
    return TRUE;
  if (self->hand == HAND_DRAGS || self->hand == HAND_NUDGES)
    return TRUE;
  /* The paper goes the other way than the eye. */
  pan (self, -way.x * PAN_PX, way.y * PAN_PX);
  return TRUE;
}

static gboolean
end_in_form (PlumbDrawingArea *self)
{
  PlumbSubject subject = self->drag.subject;
  int field = plumb_drag_session_field (&self->drag);
  if (field < 0)
    return FALSE;
  let_go (self);
  plumb_document_select (self->document, subject, field);
  return TRUE;
}

static gboolean
give_up (PlumbDrawingArea *self)
{
  if (!plumb_drag_session_is_held (&self->drag))
    return FALSE;
  self->hand = HAND_FREE;
  plumb_drag_session_cancel (&self->drag);
  tell_reader (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return TRUE;
}

gboolean
plumb_drawing_area_key (PlumbDrawingArea *self, guint keyval, GdkModifierType state)
{
  g_return_val_if_fail (PLUMB_IS_DRAWING_AREA (self) && self->document != NULL, FALSE);
  PlumbVec2 way = arrow_of (keyval);
  if (way.x != 0.0 || way.y != 0.0)
    return arrow_key (self, way, state);
  if (keyval == GDK_KEY_Escape)
    return give_up (self);
  if (keyval == GDK_KEY_Tab && plumb_drag_session_is_held (&self->drag))
    return end_in_form (self);
  /* Ctrl with a letter belongs to the window; + and - zoom with it, too. */
  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      zoom (self, zoom_point (self), ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      zoom (self, zoom_point (self), 1.0 / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_f:
    case GDK_KEY_F:
      if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || self->hand != HAND_FREE)
        return FALSE;
      plumb_drawing_area_fit (self);
      return TRUE;
    default:
      return FALSE;
    }
}

/* ---- controllers -------------------------------------------------------------------------------- */

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                PlumbDrawingArea *self)
{
  (void) controller;
  (void) code;
  return self->document != NULL && plumb_drawing_area_key (self, keyval, state);
}

static void
key_released_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                 PlumbDrawingArea *self)
{
  PlumbVec2 way = arrow_of (keyval);
  (void) controller;
  (void) code;
  (void) state;
  if (self->hand == HAND_NUDGES && (way.x != 0.0 || way.y != 0.0))
    let_go (self);
}

static void
focus_left_cb (GtkEventControllerFocus *controller, PlumbDrawingArea *self)
{
  (void) controller;
  if (self->hand == HAND_NUDGES)
    let_go (self);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, PlumbDrawingArea *self)
{
  (void) controller;
  self->inside = TRUE;
  if (self->hand != HAND_FREE)
    return;
  self->last = plumb_vec2 (x, y);
  hover (self, self->last);
}

static void
left_cb (GtkEventControllerMotion *controller, PlumbDrawingArea *self)
{
  (void) controller;
  self->inside = FALSE;
  self->has_hover = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, PlumbDrawingArea *self)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  if (self->document == NULL || (button != GDK_BUTTON_PRIMARY && button != GDK_BUTTON_MIDDLE))
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_widget_grab_focus (GTK_WIDGET (self));
  plumb_drawing_area_press (self, plumb_vec2 (x, y));
  if (button == GDK_BUTTON_MIDDLE)
    self->hand = HAND_PANS;
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, PlumbDrawingArea *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  PlumbVec2 device = plumb_vec2_add (self->pressed, plumb_vec2 (dx, dy));
  /* Escape and Tab let go while the button is still down. */
  if (self->hand == HAND_FREE)
    return;
  plumb_drawing_area_move (self, device, (state & GDK_ALT_MASK) == 0);
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, PlumbDrawingArea *self)
{
  (void) gesture;
  (void) dx;
  (void) dy;
  if (self->hand != HAND_FREE)
    plumb_drawing_area_release (self);
}

static void
drag_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, PlumbDrawingArea *self)
{
  (void) gesture;
  (void) sequence;
  if (!give_up (self) && self->hand != HAND_FREE)
    let_go (self);
}

static void
pressed_cb (GtkGestureClick *gesture, int presses, double x, double y, PlumbDrawingArea *self)
{
  PlumbDrawHit hit;
  (void) gesture;
  if (presses == 2 && self->document != NULL && !hit_at (self, plumb_vec2 (x, y), &hit))
    {
      self->hand = HAND_FREE;
      plumb_drawing_area_fit (self);
    }
}

/* A wheel zooms; a touchpad's two fingers pan, and zoom with Ctrl. */
static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, PlumbDrawingArea *self)
{
  GtkEventController *base = GTK_EVENT_CONTROLLER (controller);
  GdkDevice *device = gtk_event_controller_get_current_event_device (base);
  gboolean pixels = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_SURFACE;
  gboolean pad = pixels || (device != NULL && gdk_device_get_source (device) == GDK_SOURCE_TOUCHPAD);
  GdkModifierType state = gtk_event_controller_get_current_event_state (base);
  if (self->document == NULL || self->hand != HAND_FREE)
    return TRUE;
  if (pad && (state & GDK_CONTROL_MASK) == 0)
    {
      double step = pixels ? 1.0 : PAN_PX;
      pan (self, -dx * step, -dy * step);
    }
  else
    zoom (self, self->last, pow (ZOOM_WHEEL, -dy / (pixels ? PAN_PX : 1.0)));
  return TRUE;
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, PlumbDrawingArea *self)
{
  (void) gesture;
  (void) sequence;
  self->pinch_scale = 1.0;
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, PlumbDrawingArea *self)
{
  double x, y;
  if (self->document == NULL || !(scale > 0.0)
      || !gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    return;
  zoom (self, plumb_vec2 (x, y), scale / self->pinch_scale);
  self->pinch_scale = scale;
}

static void
add_pointer (PlumbDrawingArea *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkGesture *drag = gtk_gesture_drag_new (), *click = gtk_gesture_click_new (), *pinch = gtk_gesture_zoom_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (left_cb), self);
  gtk_widget_add_controller (widget, motion);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancel_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  gtk_widget_add_controller (widget, scroll);
}

static void
add_keys (PlumbDrawingArea *self)
{
  GtkEventController *key = gtk_event_controller_key_new (), *focus = gtk_event_controller_focus_new ();

  g_signal_connect (key, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect (key, "key-released", G_CALLBACK (key_released_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

/* ---- the document ------------------------------------------------------------------------------- */

static void
show_change (PlumbDrawingArea *self)
{
  self->behind = FALSE;
  g_clear_pointer (&self->shapes, plumb_draw_shapes_free);
  self->has_hover = FALSE;
  if (self->hand == HAND_FREE)
    {
      settle_view (self);
      tell_reader (self);
    }
  repaint (self);
}

/* The drawing under the hand at once; another while something is dragged when
 * there is time (see catch_up). */
static void
changed_cb (PlumbDrawingArea *self)
{
  self->behind = self->hand == HAND_FREE && plumb_document_is_dragging (self->document);
  if (!self->behind)
    show_change (self);
}

static void
catch_up (gpointer listener)
{
  PlumbDrawingArea *self = listener;

  if (self->behind)
    show_change (self);
}

static void
selected_cb (PlumbDrawingArea *self)
{
  if (self->hand == HAND_FREE)
    tell_reader (self);
  repaint (self);
}

/* Another job is seen whole at first. */
static void
filed_cb (PlumbDrawingArea *self)
{
  const char *path = plumb_document_path (self->document);
  if (g_strcmp0 (path, self->path) == 0)
    return;
  g_free (self->path);
  self->path = g_strdup (path);
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    self->fitted[i] = TRUE;
  settle_view (self);
}

static void
scale_factor_cb (PlumbDrawingArea *self)
{
  repaint (self);
}

void
plumb_drawing_area_set_document (PlumbDrawingArea *self, PlumbDocument *document)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self) && self->document == NULL);
  self->document = g_object_ref (document);
  self->path = g_strdup (plumb_document_path (document));
  g_signal_connect_object (document, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  plumb_document_listen_later (document, self, catch_up);
  g_signal_connect_object (document, "selected", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "filed", G_CALLBACK (filed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
}

void
plumb_drawing_area_set_kind (PlumbDrawingArea *self, PlumbDrawKind kind)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self) && kind < PLUMB_N_DRAW_KINDS);
  if (kind == self->kind)
    return;
  if (self->document != NULL && self->hand != HAND_FREE)
    let_go (self);
  self->kind = kind;
  if (self->document != NULL)
    changed_cb (self);
}

void
plumb_drawing_area_show (PlumbDrawingArea *self, const PlumbDrawShown *shown)
{
  g_return_if_fail (PLUMB_IS_DRAWING_AREA (self));
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    self->views[i].shown = *shown;
  if (self->document == NULL)
    return;
  tell_reader (self);
  repaint (self);
}

PlumbDrawKind
plumb_drawing_area_get_kind (PlumbDrawingArea *self)
{
  g_return_val_if_fail (PLUMB_IS_DRAWING_AREA (self), PLUMB_DRAW_PLAN);
  return self->kind;
}

const PlumbDrawView *
plumb_drawing_area_get_view (PlumbDrawingArea *self)
{
  g_return_val_if_fail (PLUMB_IS_DRAWING_AREA (self), NULL);
  return view_of (self);
}

/* ---- the widget --------------------------------------------------------------------------------- */

static void
plumb_drawing_area_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  (void) widget;
  (void) orientation;
  (void) for_size;
  *minimum = MINIMUM_PX;
  *natural = NATURAL_PX;
  *minimum_baseline = *natural_baseline = -1;
}

static void
plumb_drawing_area_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  (void) width;
  (void) height;
  (void) baseline;
  settle_view (PLUMB_DRAWING_AREA (widget));
}

static void
plumb_drawing_area_dispose (GObject *object)
{
  PlumbDrawingArea *self = PLUMB_DRAWING_AREA (object);

  plumb_drag_session_end (&self->drag);
  g_clear_handle_id (&self->viewed_idle, g_source_remove);
  forget_painted (self);
  g_clear_pointer (&self->shapes, plumb_draw_shapes_free);
  g_clear_pointer (&self->path, g_free);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_drawing_area_parent_class)->dispose (object);
}

static void
plumb_drawing_area_class_init (PlumbDrawingAreaClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_drawing_area_dispose;
  widget_class->snapshot = plumb_drawing_area_snapshot;
  widget_class->measure = plumb_drawing_area_measure;
  widget_class->size_allocate = plumb_drawing_area_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "drawing");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  signals[VIEWED]
      = g_signal_new ("viewed", PLUMB_TYPE_DRAWING_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_drawing_area_init (PlumbDrawingArea *self)
{
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    {
      self->views[i] = plumb_draw_view_default ((PlumbDrawKind) i);
      self->views[i].title = false; /* the pane's head says it */
      self->fitted[i] = TRUE;
    }
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (scale_factor_cb), NULL);
  add_pointer (self);
  add_keys (self);
}
