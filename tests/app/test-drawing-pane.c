/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The drawing pane in a real window: what the pointer and the keys do to the
 * document. Wanted values come from the net loft's file: place A is 3.192 m
 * along and 4.7 m off the picture wall. Needs a display.
 */
#include "app/drawing-area.h"
#include "app/drawing-drag.h"
#include "app/drawing-pane.h"
#include "document-testing.h"
#include "draw/drag.h"

typedef struct {
  PlumbDocument *document;
  GtkWidget *window, *pane;
  PlumbDrawingArea *area;
} Shown;

static GtkWidget *
find_widget (GtkWidget *widget, GType type)
{
  if (g_type_is_a (G_OBJECT_TYPE (widget), type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, type);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
show (Shown *shown, const char *demo, PlumbDrawKind kind)
{
  shown->document = test_demo (demo);
  shown->window = gtk_window_new ();
  shown->pane = plumb_drawing_pane_new (shown->document, kind);
  shown->area = PLUMB_DRAWING_AREA (find_widget (shown->pane, PLUMB_TYPE_DRAWING_AREA));
  gtk_window_set_default_size (GTK_WINDOW (shown->window), 700, 700);
  gtk_window_set_child (GTK_WINDOW (shown->window), shown->pane);
  gtk_window_present (GTK_WINDOW (shown->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (shown->area));
}

static void
leave (Shown *shown)
{
  gpointer watched = shown->area;
  g_object_add_weak_pointer (G_OBJECT (shown->area), &watched);
  gtk_window_destroy (GTK_WINDOW (shown->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_null (watched);
  g_assert_finalize_object (shown->document);
}

static PlumbVec2
device_of (Shown *shown, PlumbVec3 room)
{
  const PlumbDrawView *view = plumb_drawing_area_get_view (shown->area);
  PlumbDrawPlane plane = plumb_draw_plane (plumb_document_scene (shown->document),
                                           plumb_document_evaluation (shown->document), view->kind);
  return plumb_draw_view_to_device (view, plumb_draw_plane_from_room (&plane, room));
}

static PlumbVec2
plate_device (Shown *shown)
{
  return device_of (shown, plumb_document_evaluation (shown->document)->plate_m);
}

static const PlumbPlace *
place_a (Shown *shown)
{
  return test_record (shown->document, PLUMB_RECORD_PLACE, test_find (shown->document, PLUMB_RECORD_PLACE, "a"));
}

/* Takes hold, and moves by a room vector in ten steps. */
static void
drag_by (Shown *shown, PlumbVec2 from, PlumbVec2 by_px, gboolean snapping)
{
  plumb_drawing_area_press (shown->area, from);
  for (int i = 1; i <= 10; i++)
    plumb_drawing_area_move (shown->area, plumb_vec2_along (from, by_px, i / 10.0), snapping);
}

/* 0.6 m to the viewer's right and 1.1 m away from the picture, then one undo. */
static void
test_drag (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  double px = plumb_drawing_area_get_view (shown.area)->scale_per_m;
  g_autofree char *before = test_text (shown.document);
  TestSignals heard;
  test_listen (shown.document, &heard);
  drag_by (&shown, plate_device (&shown), plumb_vec2 (0.6 * px, 1.1 * px), TRUE);
  /* Everything follows while the button is down. */
  g_assert_cmpuint (heard.changed, >=, 5);
  plumb_drawing_area_release (shown.area);
  /* Within a snap's reach, and whole centimetres. */
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->along_m, 3.792, 0.15);
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->off_m, 5.8, 0.15);
  double along_cm = place_a (&shown)->along_m * 100.0;
  g_assert_cmpfloat_with_epsilon (along_cm, round (along_cm), 1e-6);
  g_assert_cmpint (plumb_document_selection (shown.document).kind, ==, PLUMB_RECORD_PLACE);
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_cmpfloat (place_a (&shown)->along_m, ==, 3.192);
  g_assert_cmpfloat (place_a (&shown)->off_m, ==, 4.7);
  g_autofree char *after = test_text (shown.document);
  g_assert_cmpstr (before, ==, after);
  g_assert_null (plumb_document_undo_name (shown.document));
  leave (&shown);
}

/* Without snapping the pointer's millimetre counts. */
static void
test_free_drag (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  double px = plumb_drawing_area_get_view (shown.area)->scale_per_m;
  drag_by (&shown, plate_device (&shown), plumb_vec2 (0.4137 * px, 0.2518 * px), FALSE);
  plumb_drawing_area_release (shown.area);
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->along_m, 3.606, 1e-9);
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->off_m, 4.952, 1e-9);
  leave (&shown);
}

static void
test_escape (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  drag_by (&shown, plate_device (&shown), plumb_vec2 (60.0, 40.0), TRUE);
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_Escape, 0));
  g_assert_cmpfloat (place_a (&shown)->along_m, ==, 3.192);
  g_assert_cmpfloat (place_a (&shown)->off_m, ==, 4.7);
  g_assert_null (plumb_document_undo_name (shown.document));
  /* Nothing is held: Escape is free for others. */
  g_assert_false (plumb_drawing_area_key (shown.area, GDK_KEY_Escape, 0));
  leave (&shown);
}

/* Tab ends the drag in the row of the measure that changed most. */
static void
test_tab (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  drag_by (&shown, plate_device (&shown), plumb_vec2 (10.0, 90.0), FALSE);
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_Tab, 0));
  g_assert_cmpint (plumb_document_selected_field (shown.document), ==, PLUMB_FIELD_place_off_m);
  double off_m = place_a (&shown)->off_m;
  plumb_drawing_area_move (shown.area, plumb_vec2 (0.0, 0.0), FALSE);
  g_assert_cmpfloat (place_a (&shown)->off_m, ==, off_m);
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_cmpfloat (place_a (&shown)->off_m, ==, 4.7);
  leave (&shown);
}

static void
test_click (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  const PlumbSeatResolved *seat = &plumb_scene_resolved (plumb_document_scene (shown.document))->seats[1];
  plumb_drawing_area_press (shown.area, device_of (&shown, seat->eye_m));
  plumb_drawing_area_release (shown.area);
  PlumbSubject chosen = plumb_document_selection (shown.document);
  g_assert_cmpint (chosen.kind, ==, PLUMB_RECORD_ROW);
  g_assert_cmpuint (chosen.sub, ==, 1);
  gtk_test_accessible_assert_role (shown.area, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (shown.area, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Plan, seen from above. The machine is at Tie beam T2, 4.544\u202fm from the "
                                       "picture. 19 seats. Chosen: Row 1.");
  /* Beside everything: nothing is chosen. */
  plumb_drawing_area_press (shown.area, plumb_vec2 (2.0, 2.0));
  plumb_drawing_area_release (shown.area);
  g_assert_cmpint (plumb_document_selection (shown.document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_null (plumb_document_undo_name (shown.document));
  leave (&shown);
}

/* A screen's right edge in the Picture view: 3.2 m wide, the left edge stays. */
static void
test_screen_edge (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PICTURE);
  const PlumbScreenResolved *target = &plumb_document_evaluation (shown.document)->target;
  PlumbVec3 left = plumb_vec3_along (target->frame.origin_m, target->frame.u, -target->width_m / 2.0);
  PlumbVec3 right = plumb_vec3_along (target->frame.origin_m, target->frame.u, target->width_m / 2.0);
  double px = plumb_drawing_area_get_view (shown.area)->scale_per_m;
  drag_by (&shown, device_of (&shown, right), plumb_vec2 (-0.4 * px, 0.3 * px), FALSE);
  plumb_drawing_area_release (shown.area);
  target = &plumb_document_evaluation (shown.document)->target;
  g_assert_cmpfloat_with_epsilon (target->width_m, 2.8, 1e-9);
  PlumbVec3 now = plumb_vec3_along (target->frame.origin_m, target->frame.u, -target->width_m / 2.0);
  g_assert_cmpfloat_with_epsilon (plumb_vec3_length (plumb_vec3_sub (now, left)), 0.0, 1e-9);
  leave (&shown);
}

/* One millimetre a key, one step in all; in feet and inches a sixteenth. */
static void
test_nudge (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  guint place = test_find (shown.document, PLUMB_RECORD_PLACE, "a");
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_PLACE, place, PLUMB_NO_INDEX }, -1);
  for (int i = 0; i < 3; i++)
    g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_Right, 0));
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_Down, GDK_SHIFT_MASK));
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->along_m, 3.195, 1e-9);
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->off_m, 4.71, 1e-9);
  plumb_drawing_area_release (shown.area);
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_cmpfloat (place_a (&shown)->along_m, ==, 3.192);
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_units,
                                            PLUMB_UNITS_IMPERIAL, NULL));
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_Left, 0));
  g_assert_cmpfloat_with_epsilon (place_a (&shown)->along_m, 3.192 - 0.0254 / 16.0, 1e-7);
  plumb_drawing_area_release (shown.area);
  leave (&shown);
}

/* Pan, zoom and fit, and that an edit does not move a view that somebody has
 * moved. */
static void
test_view (void)
{
  Shown shown;
  show (&shown, "music-room", PLUMB_DRAW_PLAN);
  const PlumbDrawView *view = plumb_drawing_area_get_view (shown.area);
  PlumbVec2 centre = view->centre_m;
  double fitted = view->scale_per_m;
  plumb_drawing_area_press (shown.area, plumb_vec2 (2.0, 2.0));
  plumb_drawing_area_move (shown.area, plumb_vec2 (52.0, 32.0), TRUE);
  plumb_drawing_area_release (shown.area);
  g_assert_cmpfloat_with_epsilon (view->centre_m.x, centre.x - 50.0 / fitted, 1e-9);
  g_assert_cmpfloat_with_epsilon (view->centre_m.y, centre.y + 30.0 / fitted, 1e-9);
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_plus, 0));
  g_assert_cmpfloat_with_epsilon (view->scale_per_m, 1.2 * fitted, 1e-9);
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_WALL, 0, PLUMB_FIELD_wall_x_m, -3.0, NULL));
  g_assert_cmpfloat_with_epsilon (view->scale_per_m, 1.2 * fitted, 1e-9);
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_true (plumb_drawing_area_key (shown.area, GDK_KEY_f, 0));
  g_assert_cmpfloat_with_epsilon (view->scale_per_m, fitted, 1e-9);
  g_assert_cmpfloat_with_epsilon (view->centre_m.x, centre.x, 1e-9);
  leave (&shown);
}

/* Each kind has its own view, and all are painted for an empty job too. */
static void
test_kinds (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_SIDE);
  for (int pass = 0; pass < 2; pass++)
    {
      for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
        {
          plumb_drawing_area_set_kind (shown.area, (PlumbDrawKind) kind);
          gtk_test_widget_wait_for_draw (GTK_WIDGET (shown.area));
          g_assert_cmpint (plumb_drawing_area_get_view (shown.area)->kind, ==, kind);
        }
      plumb_document_clear (shown.document);
    }
  leave (&shown);
}

/* The menu of the head: every question and layer reaches all four views and
 * is painted; what is no question changes nothing. */
static void
test_shown (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  for (int i = 0; i < PLUMB_N_QUESTIONS; i++)
    {
      const char *word = plumb_question_info ((PlumbQuestion) i)->word;
      g_assert_true (gtk_widget_activate_action (shown.pane, "drawing.question", "s", word));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (shown.area));
      for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
        {
          plumb_drawing_area_set_kind (shown.area, (PlumbDrawKind) kind);
          g_assert_cmpint (plumb_drawing_area_get_view (shown.area)->shown.question, ==, i);
        }
      plumb_drawing_area_set_kind (shown.area, i % 2 == 0 ? PLUMB_DRAW_PICTURE : PLUMB_DRAW_PLAN);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (shown.area));
    }
  gtk_widget_activate_action (shown.pane, "drawing.question", "s", "taste");
  g_assert_cmpint (plumb_drawing_area_get_view (shown.area)->shown.question, ==, PLUMB_N_QUESTIONS - 1);
  static const struct {
    const char *action;
    unsigned layer;
  } flags[] = { { "drawing.light", PLUMB_LAYER_LIGHT },
                { "drawing.shadows", PLUMB_LAYER_SHADOWS },
                { "drawing.hidden", PLUMB_LAYER_HIDDEN },
                { "drawing.off-axis", PLUMB_LAYER_OFF_AXIS } };
  for (gsize i = 0; i < G_N_ELEMENTS (flags); i++)
    for (int pass = 0; pass < 2; pass++)
      {
        unsigned before = plumb_drawing_area_get_view (shown.area)->shown.layers;
        g_assert_true (gtk_widget_activate_action (shown.pane, flags[i].action, NULL));
        g_assert_cmpuint (plumb_drawing_area_get_view (shown.area)->shown.layers, ==, before ^ flags[i].layer);
        gtk_test_widget_wait_for_draw (GTK_WIDGET (shown.area));
      }
  leave (&shown);
}

/* What a screen reader hears of the plan: the loft's worst seat for a
 * question, by its own check. */
static void
test_shown_in_words (void)
{
  Shown shown;
  show (&shown, "net-loft", PLUMB_DRAW_PLAN);
  const PlumbEvaluation *e = plumb_document_evaluation (shown.document);
  const PlumbScene *scene = plumb_document_scene (shown.document);
  const char *worst = NULL;
  for (uint32_t i = 0; i < e->n_findings && worst == NULL; i++)
    if (e->findings[i].check == PLUMB_CHECK_PEOPLE_C_VALUE)
      worst = plumb_scene_resolved (scene)->seats[e->findings[i].subject.sub].id;
  g_assert_nonnull (worst);
  g_autofree char *words = g_strdup_printf ("worst is %s with", worst);
  g_assert_true (gtk_widget_activate_action (shown.pane, "drawing.question", "s", "c-value"));
  g_autofree char *label = gtk_test_accessible_check_property (GTK_ACCESSIBLE (shown.area),
                                                               GTK_ACCESSIBLE_PROPERTY_LABEL, "");
  g_assert_nonnull (label);
  g_assert_nonnull (strstr (label, words));
  leave (&shown);
}

/* A corner of the loft, found under the pointer, is led 0.3 m along x and
 * 0.2 m along y through many moves; one undo brings it back. The corner is the
 * one opposite the picture, so the drawing stays square. */
static void
test_corner (void)
{
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  g_autofree char *text = test_text (document);
  const PlumbScene *scene = plumb_document_scene (document);
  const PlumbEvaluation *e = plumb_document_evaluation (document);
  const PlumbWall before = *plumb_scene_wall (scene, 0);
  PlumbDrawView view = plumb_draw_view_default (PLUMB_DRAW_PLAN);
  PlumbDrawPlane plane = plumb_draw_plane (scene, e, PLUMB_DRAW_PLAN);
  PlumbVec2 start = plumb_draw_plane_from_room (&plane, plumb_vec3 (before.x_m, before.y_m, 0.0));
  PlumbVec2 end = plumb_draw_plane_from_room (&plane, plumb_vec3 (before.x_m + 0.3, before.y_m + 0.2, 0.0));
  PlumbDragSession session;
  PlumbDrawHit hit;

  view.scale_per_m = 200.0;
  view.centre_m = start;
  g_assert_true (plumb_draw_hit (scene, e, &view, plumb_draw_view_to_device (&view, start), 5.0, &hit));
  g_assert_cmpint (hit.part, ==, PLUMB_PART_CORNER);
  g_assert_cmpint (hit.subject.kind, ==, PLUMB_RECORD_WALL);
  g_assert_cmpuint (hit.subject.index, ==, 0);
  g_assert_true (plumb_drag_session_begin (&session, document, PLUMB_DRAW_PLAN, hit.subject, hit.part, start));
  for (int i = 1; i <= 20; i++)
    plumb_drag_session_move (&session, &view, plumb_vec2_along (start, plumb_vec2_sub (end, start), i / 20.0), FALSE);
  g_assert_cmpuint (session.snap.n_guides, ==, 2);
  plumb_drag_session_end (&session);
  const PlumbWall *now = plumb_scene_wall (plumb_document_scene (document), 0);
  g_assert_cmpfloat_with_epsilon (now->x_m, before.x_m + 0.3, 0.0006);
  g_assert_cmpfloat_with_epsilon (now->y_m, before.y_m + 0.2, 0.0006);
  g_assert_true (plumb_document_undo (document));
  g_autofree char *again = test_text (document);
  g_assert_cmpstr (again, ==, text);
  g_assert_null (plumb_document_undo_name (document));
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing-pane/drag", test_drag);
  g_test_add_func ("/drawing-pane/free-drag", test_free_drag);
  g_test_add_func ("/drawing-pane/escape", test_escape);
  g_test_add_func ("/drawing-pane/tab", test_tab);
  g_test_add_func ("/drawing-pane/click", test_click);
  g_test_add_func ("/drawing-pane/screen-edge", test_screen_edge);
  g_test_add_func ("/drawing-pane/nudge", test_nudge);
  g_test_add_func ("/drawing-pane/view", test_view);
  g_test_add_func ("/drawing-pane/kinds", test_kinds);
  g_test_add_func ("/drawing-pane/shown", test_shown);
  g_test_add_func ("/drawing-pane/shown-in-words", test_shown_in_words);
  g_test_add_func ("/drawing-drag/corner", test_corner);
  return g_test_run ();
}
