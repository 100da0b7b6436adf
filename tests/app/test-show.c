/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Show and before and after in real windows with OpenGL: one eye for both,
 * each its own arrangement and light, figures as the evaluation has them.
 * Needs a display.
 */
#include <math.h>
#include <string.h>

#include "app/view3d-pane.h"
#include "document-testing.h"
#include "loop-testing.h"
#include "text/half.h"

typedef struct {
  PlumbDocument *document;
  GtkWidget *window, *pane;
  PlumbShowWindow *show;
  guint rendered[PLUMB_N_SHOWN];
} Shown;

static gboolean
rendered_cb (GtkGLArea *area, GdkGLContext *context, guint *count)
{
  (void) area, (void) context;
  (*count)++;
  return FALSE;
}

static void
watch (Shown *shown, PlumbShowWhich which)
{
  g_signal_connect (plumb_show_window_area (shown->show, which), "render", G_CALLBACK (rendered_cb),
                    &shown->rendered[which]);
}

static gboolean
is_busy (Shown *shown)
{
  for (PlumbShowWhich which = 0; which < 2; which++)
    {
      PlumbView3dArea *area = plumb_show_window_area (shown->show, which);
      if (area != NULL && gtk_widget_get_mapped (GTK_WIDGET (area)) && plumb_view3d_area_is_busy (area))
        return TRUE;
    }
  return FALSE;
}

static void
rest (Shown *shown)
{
  guint before;
  do
    {
      before = shown->rendered[0] + shown->rendered[1];
      turn_loop (400);
    }
  while (before != shown->rendered[0] + shown->rendered[1] || is_busy (shown));
}

static GtkWidget *
find_word (GtkWidget *widget, const char *word)
{
  if (GTK_IS_BUTTON (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), word) == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_word (child, word);
      if (found != NULL)
        return found;
    }
  return NULL;
}

/* A small window, which is drawn sooner. */
static void
show (Shown *shown, gboolean both)
{
  *shown = (Shown){ .document = test_demo ("net-loft"), .window = gtk_window_new () };
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  shown->pane = plumb_view3d_pane_new (shown->document);
  gtk_window_set_default_size (GTK_WINDOW (shown->window), 420, 360);
  gtk_window_set_child (GTK_WINDOW (shown->window), shown->pane);
  gtk_window_present (GTK_WINDOW (shown->window));
  WAIT (plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown->pane)) != NULL);
  if (both)
    plumb_view3d_pane_show (PLUMB_VIEW3D_PANE (shown->pane), TRUE);
  else
    g_signal_emit_by_name (find_word (shown->pane, "Show"), "clicked");
  shown->show = plumb_view3d_pane_get_show (PLUMB_VIEW3D_PANE (shown->pane));
  g_assert_nonnull (shown->show);
  gtk_window_set_default_size (GTK_WINDOW (shown->show), 700, 420);
  watch (shown, PLUMB_SHOW_AFTER);
  if (both)
    watch (shown, PLUMB_SHOW_BEFORE);
  WAIT (shown->rendered[PLUMB_SHOW_AFTER] > 0 && (!both || shown->rendered[PLUMB_SHOW_BEFORE] > 0));
  rest (shown);
}

static void
leave (Shown *shown)
{
  gpointer full = shown->show;
  if (full != NULL)
    g_object_add_weak_pointer (G_OBJECT (shown->show), &full);
  gtk_window_destroy (GTK_WINDOW (shown->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_null (full);
  g_assert_finalize_object (shown->document);
}

static PlumbView3dArea *
area (Shown *shown, PlumbShowWhich which)
{
  return plumb_show_window_area (shown->show, which);
}

static guint
light (Shown *shown, PlumbShowWhich which)
{
  return plumb_view3d_light_get (plumb_show_window_light (shown->show, which));
}

static void
assert_same_eye (Shown *shown)
{
  PlumbVec3 a = plumb_camera_eye (plumb_view3d_area_get_camera (area (shown, PLUMB_SHOW_BEFORE)));
  PlumbVec3 b = plumb_camera_eye (plumb_view3d_area_get_camera (area (shown, PLUMB_SHOW_AFTER)));
  g_assert_cmpfloat (plumb_vec3_length (plumb_vec3_sub (a, b)), ==, 0.0);
  g_assert_cmpint (plumb_view3d_area_get_camera (area (shown, PLUMB_SHOW_BEFORE))->kind, ==,
                   plumb_view3d_area_get_camera (area (shown, PLUMB_SHOW_AFTER))->kind);
}

/* The light that the thing itself throws on the display, blue first. */
static guchar *
pixels (PlumbView3dArea *of, gsize *n)
{
  GtkWidget *widget = GTK_WIDGET (of);
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  int width = gdk_paintable_get_intrinsic_width (paintable), height = gdk_paintable_get_intrinsic_height (paintable);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  gdk_paintable_snapshot (paintable, snapshot, width, height);
  GskRenderNode *node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height);
  g_autoptr (GdkTexture) texture
      = gsk_renderer_render_texture (gtk_native_get_renderer (gtk_widget_get_native (widget)), node, &bounds);
  gsk_render_node_unref (node);
  guchar *data = g_malloc ((gsize) width * (gsize) height * 4);
  gdk_texture_download (texture, data, (gsize) width * 4);
  *n = (gsize) width * (gsize) height;
  return data;
}

static double
difference (Shown *shown)
{
  gsize n, m, differ = 0;
  g_autofree guchar *a = pixels (area (shown, PLUMB_SHOW_BEFORE), &n);
  g_autofree guchar *b = pixels (area (shown, PLUMB_SHOW_AFTER), &m);
  g_assert_cmpuint (n, ==, m);
  for (gsize i = 0; i < n; i++)
    differ += abs (a[4 * i] - b[4 * i]) > 12 || abs (a[4 * i + 1] - b[4 * i + 1]) > 12;
  return (double) differ / (double) n;
}

/* ---- tests ------------------------------------------------------------------------ */

/* Alone it is as the pane was; nothing can be chosen in it; Leave leaves. */
static void
test_alone (void)
{
  Shown shown;
  show (&shown, FALSE);
  PlumbView3dArea *own = plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown.pane));
  g_assert_false (plumb_show_window_get_both (shown.show));
  g_assert_null (area (&shown, PLUMB_SHOW_BEFORE));
  g_assert_cmpint (plumb_view3d_area_get_kind (area (&shown, PLUMB_SHOW_AFTER)), ==,
                   plumb_view3d_area_get_kind (own));
  double width = gtk_widget_get_width (GTK_WIDGET (area (&shown, PLUMB_SHOW_AFTER)));
  double height = gtk_widget_get_height (GTK_WIDGET (area (&shown, PLUMB_SHOW_AFTER)));
  g_assert_cmpfloat (width, ==, gtk_widget_get_width (GTK_WIDGET (shown.show)));
  for (int i = 1; i < 10; i++)
    {
      plumb_view3d_area_press (area (&shown, PLUMB_SHOW_AFTER), plumb_vec2 (width * i / 10.0, height / 2.0), FALSE);
      plumb_view3d_area_release (area (&shown, PLUMB_SHOW_AFTER));
    }
  g_assert_cmpint (plumb_document_selection (shown.document).kind, ==, PLUMB_RECORD_NONE);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_word (GTK_WIDGET (shown.show), "From a seat")), TRUE);
  g_assert_cmpint (plumb_view3d_area_get_kind (area (&shown, PLUMB_SHOW_AFTER)), ==, PLUMB_CAMERA_SEAT);
  g_assert_cmpint (plumb_view3d_area_get_kind (own), ==, PLUMB_CAMERA_ROOM);
  g_signal_emit_by_name (find_word (GTK_WIDGET (shown.show), "Leave"), "clicked");
  WAIT (plumb_view3d_pane_get_show (PLUMB_VIEW3D_PANE (shown.pane)) == NULL);
  shown.show = NULL;
  leave (&shown);
}

/* Whichever is turned turns both, by pointer, key and word. */
static void
test_one_eye (void)
{
  Shown shown;
  show (&shown, TRUE);
  assert_same_eye (&shown);
  for (int which = 0; which < PLUMB_N_SHOWN; which++)
    {
      PlumbView3dArea *turned = area (&shown, (PlumbShowWhich) which);
      PlumbVec3 eye = plumb_camera_eye (plumb_view3d_area_get_camera (turned));
      plumb_view3d_area_press (turned, plumb_vec2 (40.0, 40.0), FALSE);
      plumb_view3d_area_move (turned, plumb_vec2 (90.0, 50.0), FALSE);
      assert_same_eye (&shown);
      plumb_view3d_area_release (turned);
      g_assert_true (plumb_view3d_area_key (turned, GDK_KEY_plus, 0));
      assert_same_eye (&shown);
      PlumbVec3 now = plumb_camera_eye (plumb_view3d_area_get_camera (turned));
      g_assert_cmpfloat (plumb_vec3_length (plumb_vec3_sub (now, eye)), >, 0.5);
    }
  guint before = shown.rendered[PLUMB_SHOW_BEFORE], after = shown.rendered[PLUMB_SHOW_AFTER];
  rest (&shown);
  g_assert_cmpuint (shown.rendered[PLUMB_SHOW_BEFORE], >, before);
  g_assert_cmpuint (shown.rendered[PLUMB_SHOW_AFTER], >, after);
  g_assert_true (plumb_view3d_area_key (area (&shown, PLUMB_SHOW_BEFORE), GDK_KEY_Home, 0));
  assert_same_eye (&shown);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_word (GTK_WIDGET (shown.show), "At the screen")), TRUE);
  assert_same_eye (&shown);
  rest (&shown);
  assert_same_eye (&shown);
  leave (&shown);
}

/* Dark against the first state; in one light the two are one picture. */
static void
test_light (void)
{
  Shown shown;
  show (&shown, TRUE);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_word (GTK_WIDGET (shown.show), "At the screen")), TRUE);
  g_assert_cmpuint (light (&shown, PLUMB_SHOW_AFTER), ==, PLUMB_NO_INDEX);
  g_assert_cmpuint (light (&shown, PLUMB_SHOW_BEFORE), ==, 0);
  guint cleaning = test_find (shown.document, PLUMB_RECORD_LIGHT_STATE, "cleaning");
  plumb_view3d_light_choose (plumb_show_window_light (shown.show, PLUMB_SHOW_BEFORE), cleaning);
  rest (&shown);
  g_assert_cmpfloat (difference (&shown), >, 0.05);
  plumb_view3d_light_choose (plumb_show_window_light (shown.show, PLUMB_SHOW_BEFORE), PLUMB_NO_INDEX);
  rest (&shown);
  g_assert_cmpfloat (difference (&shown), ==, 0.0);
  leave (&shown);
}

static void
assert_figures (Shown *shown, PlumbShowWhich which, const PlumbEvaluation *evaluation)
{
  const PlumbScene *scene = plumb_document_scene (shown->document);
  const PlumbWords words = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  g_autofree char *want = plumb_half_figures (scene, evaluation, words);
  g_assert_cmpstr (plumb_show_window_figures (shown->show, which), ==, want);
}

/* The list's third entry is another arrangement: its picture, in the light of
 * after; when it goes, before is the current one again. */
static void
test_arrangement (void)
{
  Shown shown;
  show (&shown, TRUE);
  GtkDropDown *choice = plumb_show_window_choice (shown.show);
  guint n = test_count (shown.document, PLUMB_RECORD_ARRANGEMENT);
  guint narrow = test_find (shown.document, PLUMB_RECORD_ARRANGEMENT, "a-short");
  g_assert_cmpuint (plumb_document_arrangement (shown.document), ==, 0);
  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (choice)), ==, n + 1);
  gtk_drop_down_set_selected (choice, narrow + 1);
  g_assert_cmpuint (light (&shown, PLUMB_SHOW_BEFORE), ==, light (&shown, PLUMB_SHOW_AFTER));
  assert_figures (&shown, PLUMB_SHOW_BEFORE, plumb_document_evaluation_of (shown.document, narrow));
  assert_figures (&shown, PLUMB_SHOW_AFTER, plumb_document_evaluation (shown.document));
  g_assert_cmpstr (plumb_show_window_figures (shown.show, PLUMB_SHOW_BEFORE), !=,
                   plumb_show_window_figures (shown.show, PLUMB_SHOW_AFTER));
  rest (&shown);
  assert_same_eye (&shown);
  g_assert_cmpfloat (difference (&shown), >, 0.002);
  g_assert_true (plumb_document_remove (shown.document, PLUMB_RECORD_ARRANGEMENT, narrow, NULL));
  g_assert_cmpuint (gtk_drop_down_get_selected (choice), ==, 0);
  assert_figures (&shown, PLUMB_SHOW_BEFORE, plumb_document_evaluation (shown.document));
  rest (&shown);
  g_assert_cmpfloat (difference (&shown), ==, 0.0);
  leave (&shown);
}

/* Uncorrected a tilted machine throws its whole panel, askew; square-on there
 * is next to nothing to correct. */
static void
test_uncorrected (void)
{
  Shown shown;
  show (&shown, TRUE);
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_ARRANGEMENT, 0,
                                            PLUMB_FIELD_arrangement_pitch_rad, -8.0, NULL));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_word (GTK_WIDGET (shown.show), "At the screen")), TRUE);
  gtk_drop_down_set_selected (plumb_show_window_choice (shown.show), 1);
  rest (&shown);
  assert_same_eye (&shown);
  double tilted = difference (&shown);
  g_assert_cmpfloat (tilted, >, 0.02);
  g_assert_nonnull (strstr (plumb_show_window_figures (shown.show, PLUMB_SHOW_BEFORE), "raw picture"));
  g_assert_true (plumb_document_undo (shown.document));
  rest (&shown);
  /* The panel is a little higher than the screen. */
  g_assert_cmpfloat (difference (&shown), <, 0.7 * tilted);
  leave (&shown);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/show/alone", test_alone);
  g_test_add_func ("/show/one-eye", test_one_eye);
  g_test_add_func ("/show/light", test_light);
  g_test_add_func ("/show/arrangement", test_arrangement);
  g_test_add_func ("/show/uncorrected", test_uncorrected);
  return g_test_run ();
}
