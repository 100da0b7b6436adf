/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-area-private.h"

#include "app/style.h"
#include "app/view3d-label.h"

/* How long nothing moves until the full picture is made. */
#define REST_MS 160
#define LEAST_PX 96
#define NATURAL_PX 320

G_DEFINE_FINAL_TYPE (PlumbView3dArea, plumb_view3d_area, GTK_TYPE_GL_AREA)

static guint viewed_signal;

static const PlumbSubject nothing = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };

PlumbView3dPlace
plumb_view3d_area_place (PlumbView3dArea *self)
{
  return (PlumbView3dPlace){ plumb_view3d_half_scene (self->half), plumb_view3d_half_evaluation (self->half),
                             gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)) };
}

/* ---- passes ------------------------------------------------------------------------------ */

static gboolean
rest_cb (gpointer data)
{
  PlumbView3dArea *self = data;

  self->rest = 0;
  self->options.light_pass = false;
  plumb_view3d_area_redraw (self);
  plumb_view3d_area_tell_twin (self);
  return G_SOURCE_REMOVE;
}

void
plumb_view3d_area_stir (PlumbView3dArea *self)
{
  /* At the start the full picture comes at once: the driver would prepare the
   * lighter one for nothing. */
  self->options.light_pass = self->n_frames > 1;
  g_clear_handle_id (&self->rest, g_source_remove);
  if (self->hand == HAND_FREE && !self->eye.travels)
    self->rest = g_timeout_add (REST_MS, rest_cb, self);
  plumb_view3d_area_redraw (self);
  plumb_view3d_area_tell_twin (self);
}

void
plumb_view3d_area_redraw (PlumbView3dArea *self)
{
  self->changed = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
plumb_view3d_area_is_busy (PlumbView3dArea *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), FALSE);
  return self->changed || self->rest != 0 || self->late != 0 || self->eye.travels
         || plumb_view3d_improves (self->view);
}

/* ---- OpenGL -------------------------------------------------------------------------------- */

static void
plumb_view3d_area_realize (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (plumb_view3d_area_parent_class)->realize (widget);
  plumb_view3d_area_begin_gl (PLUMB_VIEW3D_AREA (widget));
}

static void
plumb_view3d_area_unrealize (GtkWidget *widget)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (widget);

  if (self->travel != 0)
    gtk_widget_remove_tick_callback (widget, self->travel);
  self->travel = 0;
  self->eye.travels = FALSE;
  plumb_view3d_area_let_go (self);
  plumb_view3d_area_end_gl (self);
  GTK_WIDGET_CLASS (plumb_view3d_area_parent_class)->unrealize (widget);
}

/* The toolkit asks for pictures that have not changed too, and for those that a
 * change of theme has. */
static void
plumb_view3d_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (widget);

  if (self->theme != plumb_style_theme ())
    self->changed = TRUE;
  GTK_WIDGET_CLASS (plumb_view3d_area_parent_class)->snapshot (widget, snapshot);
  if (self->ready && self->eye.valid && !self->looks_only
      && plumb_document_selection (self->document).kind != PLUMB_RECORD_NONE)
    {
      PlumbView3dPlace place = plumb_view3d_area_place (self);
      plumb_view3d_label_snapshot (widget, snapshot, &place, &self->eye.now,
                                   plumb_document_selection (self->document));
    }
}

/* ---- the eye ----------------------------------------------------------------------------------- */

static gboolean
travel_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer unused)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (widget);
  gboolean on_the_way = plumb_view3d_eye_travel (&self->eye, gdk_frame_clock_get_frame_time (clock));

  (void) unused;
  if (!on_the_way)
    self->travel = 0;
  plumb_view3d_area_stir (self);
  return on_the_way ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

/* When the journey begins; 0 where motion is not wanted or cannot be seen. */
static gint64
departure_us (PlumbView3dArea *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean animated = TRUE;

  g_object_get (gtk_widget_get_settings (widget), "gtk-enable-animations", &animated, NULL);
  return animated && gtk_widget_get_mapped (widget) && self->ready ? g_get_monotonic_time () : 0;
}

static void
set_out (PlumbView3dArea *self)
{
  if (self->eye.travels && self->travel == 0)
    self->travel = gtk_widget_add_tick_callback (GTK_WIDGET (self), travel_cb, NULL, NULL);
  plumb_view3d_area_tell_reader (self);
  plumb_view3d_area_stir (self);
  g_signal_emit (self, viewed_signal, 0);
}

void
plumb_view3d_area_go_home (PlumbView3dArea *self)
{
  if (self->follows && self->twin != NULL)
    {
      plumb_view3d_area_go_home (self->twin);
      return;
    }
  PlumbView3dPlace place = plumb_view3d_area_place (self);
  plumb_view3d_eye_home (&self->eye, &place, departure_us (self));
  set_out (self);
}

void
plumb_view3d_area_set_kind (PlumbView3dArea *self, PlumbCameraKind kind)
{
  PlumbView3dPlace place;

  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  if (kind == self->eye.kind)
    return;
  plumb_view3d_area_let_go (self);
  place = plumb_view3d_area_place (self);
  plumb_view3d_eye_go (&self->eye, &place, kind, departure_us (self));
  set_out (self);
}

PlumbCameraKind
plumb_view3d_area_get_kind (PlumbView3dArea *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), PLUMB_CAMERA_ROOM);
  return self->eye.kind;
}

gboolean
plumb_view3d_area_can (PlumbView3dArea *self, PlumbCameraKind kind)
{
  PlumbView3dPlace place;

  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), FALSE);
  place = plumb_view3d_area_place (self);
  return plumb_view3d_eye_can (&self->eye, &place, kind);
}

/* An empty job: the bench alone. */
static const PlumbCamera nowhere = { .kind = PLUMB_CAMERA_ROOM,
                                     .seat = PLUMB_NO_INDEX,
                                     .azimuth_rad = -1.0,
                                     .elevation_rad = 0.5,
                                     .distance_m = 8.0,
                                     .fov_y_rad = 0.7 };

const PlumbCamera *
plumb_view3d_area_get_camera (PlumbView3dArea *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), NULL);
  return self->eye.valid ? &self->eye.now : &nowhere;
}

uint32_t
plumb_view3d_area_get_seat (PlumbView3dArea *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_AREA (self), PLUMB_NO_INDEX);
  return plumb_view3d_eye_seat (&self->eye, plumb_view3d_half_scene (self->half));
}

void
plumb_view3d_area_settle (PlumbView3dArea *self)
{
  PlumbView3dPlace place = plumb_view3d_area_place (self);

  if (self->hand != HAND_FREE)
    return;
  if (!self->follows)
    plumb_view3d_eye_settle (&self->eye, &place);
  g_signal_emit (self, viewed_signal, 0);
}

/* ---- the document -------------------------------------------------------------------------------------- */

static void
show_change (PlumbView3dArea *self)
{
  PlumbScene *scene = plumb_scene_ref (plumb_view3d_half_scene (self->half));

  plumb_view3d_set_scene (self->view, scene, plumb_view3d_half_evaluation (self->half));
  plumb_scene_unref (scene);
  self->options.hovered = nothing;
  self->options.seat = plumb_view3d_area_get_seat (self);
  plumb_view3d_area_settle (self);
  plumb_view3d_area_tell_reader (self);
  plumb_view3d_area_stir (self);
}

static gboolean
late_cb (gpointer data)
{
  PlumbView3dArea *self = data;

  if (plumb_document_is_dragging (self->document))
    return G_SOURCE_CONTINUE;
  self->late = 0;
  show_change (self);
  return G_SOURCE_REMOVE;
}

/* What is dragged here follows at once. What is dragged elsewhere has the time
 * of the frame: the room is made again when it is let go. */
static void
changed_cb (PlumbView3dArea *self)
{
  g_clear_handle_id (&self->late, g_source_remove);
  if (self->hand == HAND_FREE && plumb_document_is_dragging (self->document))
    self->late = g_timeout_add (REST_MS, late_cb, self);
  else
    show_change (self);
}

static uint32_t
seat_of (PlumbView3dArea *self, PlumbSubject subject)
{
  const PlumbResolved *resolved = plumb_scene_resolved (plumb_view3d_half_scene (self->half));

  if (subject.kind != PLUMB_RECORD_SEAT && subject.kind != PLUMB_RECORD_ROW)
    return PLUMB_NO_INDEX;
  if (subject.sub < resolved->n_seats)
    return subject.sub;
  for (uint32_t i = 0; i < resolved->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &resolved->seats[i];
      if ((subject.kind == PLUMB_RECORD_SEAT ? seat->seat : seat->row) == subject.index)
        return i;
    }
  return PLUMB_NO_INDEX;
}

static void
selected_cb (PlumbView3dArea *self)
{
  PlumbSubject chosen = plumb_document_selection (self->document);
  uint32_t seat = seat_of (self, chosen);

  self->options.chosen = chosen;
  if (seat != PLUMB_NO_INDEX && seat != plumb_view3d_area_get_seat (self))
    {
      self->eye.seat = self->options.seat = seat;
      self->eye.moved[PLUMB_CAMERA_SEAT] = FALSE;
      if (self->eye.kind == PLUMB_CAMERA_SEAT && self->hand == HAND_FREE)
        plumb_view3d_area_go_home (self);
    }
  plumb_view3d_area_tell_reader (self);
  plumb_view3d_area_redraw (self);
  g_signal_emit (self, viewed_signal, 0);
}

/* Another job is seen from home. */
static void
filed_cb (PlumbView3dArea *self)
{
  const char *path = plumb_document_path (self->document);

  if (g_strcmp0 (path, self->path) == 0)
    return;
  g_free (self->path);
  self->path = g_strdup (path);
  if (!self->follows)
    plumb_view3d_eye_init (&self->eye);
  changed_cb (self);
}

static void
again_cb (gpointer data)
{
  plumb_view3d_area_redraw (data);
}

/* ---- the widget -------------------------------------------------------------------------------------------- */

static void
plumb_view3d_area_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  (void) widget, (void) orientation, (void) for_size;
  *minimum = LEAST_PX;
  *natural = NATURAL_PX;
  *minimum_baseline = *natural_baseline = -1;
}

static void
plumb_view3d_area_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (widget);
  PlumbView3dPlace place = plumb_view3d_area_place (self);

  GTK_WIDGET_CLASS (plumb_view3d_area_parent_class)->size_allocate (widget, width, height, baseline);
  if (self->hand == HAND_FREE && !self->follows)
    plumb_view3d_eye_settle (&self->eye, &place);
  plumb_view3d_area_redraw (self);
  if (!self->follows)
    plumb_view3d_area_tell_twin (self);
}

static void
plumb_view3d_area_dispose (GObject *object)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (object);

  plumb_view3d_area_let_go (self);
  g_set_weak_pointer (&self->twin, NULL);
  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_handle_id (&self->late, g_source_remove);
  g_clear_handle_id (&self->troubled_idle, g_source_remove);
  G_OBJECT_CLASS (plumb_view3d_area_parent_class)->dispose (object);
}

/* The parent's dispose has unrealized it: the renderer is free of its context. */
static void
plumb_view3d_area_finalize (GObject *object)
{
  PlumbView3dArea *self = PLUMB_VIEW3D_AREA (object);

  plumb_view3d_free (self->view);
  plumb_content_clear (&self->content);
  g_free (self->trouble);
  g_free (self->path);
  g_clear_object (&self->half);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_view3d_area_parent_class)->finalize (object);
}

static void
plumb_view3d_area_class_init (PlumbView3dAreaClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_view3d_area_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_view3d_area_finalize;
  widget_class->realize = plumb_view3d_area_realize;
  widget_class->unrealize = plumb_view3d_area_unrealize;
  widget_class->measure = plumb_view3d_area_measure;
  widget_class->size_allocate = plumb_view3d_area_size_allocate;
  widget_class->snapshot = plumb_view3d_area_snapshot;
  GTK_GL_AREA_CLASS (klass)->render = plumb_view3d_area_render;
  GTK_GL_AREA_CLASS (klass)->create_context = plumb_view3d_area_create_context;
  gtk_widget_class_set_css_name (widget_class, "view3d");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  viewed_signal
      = g_signal_new ("viewed", PLUMB_TYPE_VIEW3D_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  g_signal_new ("troubled", PLUMB_TYPE_VIEW3D_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                G_TYPE_STRING);
}

static void
plumb_view3d_area_init (PlumbView3dArea *self)
{
  self->view = plumb_view3d_new ();
  plumb_view3d_set_again (self->view, again_cb, self);
  self->options = (PlumbView3dOptions){
    .thrown = true,
    .ghosts = true,
    .seat = PLUMB_NO_INDEX,
    .chosen = nothing,
    .hovered = nothing,
    .white_share = 1.0,
  };
  plumb_view3d_eye_init (&self->eye);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (plumb_view3d_area_redraw), NULL);
  plumb_view3d_area_add_hand (self);
}

static GtkWidget *
area_of (PlumbView3dHalf *half, gboolean looks_only)
{
  PlumbView3dArea *self = g_object_new (PLUMB_TYPE_VIEW3D_AREA, NULL);
  PlumbDocument *document = plumb_view3d_half_document (half);

  self->half = g_object_ref (half);
  self->looks_only = looks_only;
  self->document = g_object_ref (document);
  self->path = g_strdup (plumb_document_path (document));
  g_signal_connect_object (half, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "filed", G_CALLBACK (filed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
  if (looks_only)
    return GTK_WIDGET (self);
  g_signal_connect_object (document, "selected", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  selected_cb (self);
  return GTK_WIDGET (self);
}

GtkWidget *
plumb_view3d_area_new (PlumbDocument *document)
{
  g_autoptr (PlumbView3dHalf) half = plumb_view3d_half_new (document);

  return area_of (half, FALSE);
}

GtkWidget *
plumb_view3d_area_new_to_look (PlumbView3dHalf *half)
{
  return area_of (half, TRUE);
}
