/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The 3D pane in a real window with OpenGL. What the pointer does is held
 * against the camera's own matrices, turned round here by elimination, and
 * against the net loft's file; colours come from a picture made here. Needs a
 * display; PLUMB_TEST_GL says which OpenGL the display was made to have.
 */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <math.h>

#include "app/drawing-area.h"
#include "app/view3d-pane.h"
#include "document-testing.h"
#include "loop-testing.h"

typedef struct {
  PlumbDocument *document;
  GtkWidget *window, *pane;
  PlumbView3dArea *area;
  guint rendered;
} Shown;

static void
count_cb (Shown *shown)
{
  shown->rendered++;
}

static gboolean
rendered_cb (GtkGLArea *area, GdkGLContext *context, Shown *shown)
{
  (void) area, (void) context;
  count_cb (shown);
  return FALSE;
}

/* Until the last full frame is there. */
static void
rest (Shown *shown)
{
  guint before;
  do
    {
      before = shown->rendered;
      turn_loop (400);
    }
  while (before != shown->rendered || (shown->area != NULL && plumb_view3d_area_is_busy (shown->area)));
}

static void
animate (gboolean on)
{
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", on, NULL);
}

static void
show_document (Shown *shown, PlumbDocument *document)
{
  *shown = (Shown){ .document = document, .window = gtk_window_new () };
  shown->pane = plumb_view3d_pane_new (document);
  gtk_window_set_default_size (GTK_WINDOW (shown->window), 560, 520);
  gtk_window_set_child (GTK_WINDOW (shown->window), shown->pane);
  g_assert_null (plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown->pane)));
  gtk_window_present (GTK_WINDOW (shown->window));
}

static void
show (Shown *shown)
{
  animate (FALSE);
  show_document (shown, test_demo ("net-loft"));
  WAIT (plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown->pane)) != NULL);
  shown->area = plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown->pane));
  g_signal_connect (shown->area, "render", G_CALLBACK (rendered_cb), shown);
  WAIT (shown->rendered > 0);
  rest (shown);
}

static void
leave (Shown *shown)
{
  gpointer watched_pane = shown->pane, watched_area = shown->area;
  g_object_add_weak_pointer (G_OBJECT (shown->pane), &watched_pane);
  if (shown->area != NULL)
    g_object_add_weak_pointer (G_OBJECT (shown->area), &watched_area);
  gtk_window_destroy (GTK_WINDOW (shown->window));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_null (watched_pane);
  g_assert_null (watched_area);
  g_assert_finalize_object (shown->document);
}

/* ---- pictures ------------------------------------------------------------------------ */

typedef struct {
  int width, height;
  guchar *bgra;
} Picture;

static Picture
picture_of (Shown *shown)
{
  GtkWidget *widget = GTK_WIDGET (shown->area);
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  int width = gdk_paintable_get_intrinsic_width (paintable), height = gdk_paintable_get_intrinsic_height (paintable);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  gdk_paintable_snapshot (paintable, snapshot, width, height);
  GskRenderNode *node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height);
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (widget));
  g_autoptr (GdkTexture) texture = gsk_renderer_render_texture (renderer, node, &bounds);
  gsk_render_node_unref (node);
  Picture picture = { width, height, g_malloc ((gsize) width * (gsize) height * 4) };
  gdk_texture_download (texture, picture.bgra, (gsize) width * 4);
  return picture;
}

/* Share of the pixels that differ by more than a twentieth. */
static double
difference (const Picture *a, const Picture *b)
{
  gsize n = (gsize) a->width * (gsize) a->height, differing = 0;
  g_assert_cmpint (a->width, ==, b->width);
  g_assert_cmpint (a->height, ==, b->height);
  for (gsize i = 0; i < n; i++)
    for (int c = 0; c < 3; c++)
      if (abs (a->bgra[i * 4 + (gsize) c] - b->bgra[i * 4 + (gsize) c]) > 12)
        {
          differing++;
          break;
        }
  return (double) differing / (double) n;
}

static double
difference_now (Shown *shown, const Picture *before)
{
  Picture now = picture_of (shown);
  double share = difference (before, &now);
  g_free (now.bgra);
  return share;
}

/* ---- the camera, turned round ------------------------------------------------------------- */

static double
width_of (Shown *shown)
{
  return gtk_widget_get_width (GTK_WIDGET (shown->area));
}

static double
height_of (Shown *shown)
{
  return gtk_widget_get_height (GTK_WIDGET (shown->area));
}

/* projection × view, by row. */
static void
matrix_of (Shown *shown, double m[4][4])
{
  float view[16], projection[16];
  plumb_camera_matrices (plumb_view3d_area_get_camera (shown->area), width_of (shown) / height_of (shown), 0.1, 100.0,
                         view, projection);
  for (int row = 0; row < 4; row++)
    for (int column = 0; column < 4; column++)
      {
        m[row][column] = 0.0;
        for (int k = 0; k < 4; k++)
          m[row][column] += (double) projection[k * 4 + row] * (double) view[column * 4 + k];
      }
}

static PlumbVec2
device_of (Shown *shown, PlumbVec3 p)
{
  double m[4][4], clip[4];
  matrix_of (shown, m);
  for (int row = 0; row < 4; row++)
    clip[row] = m[row][0] * p.x + m[row][1] * p.y + m[row][2] * p.z + m[row][3];
  g_assert_cmpfloat (clip[3], >, 0.0);
  return plumb_vec2 ((0.5 + 0.5 * clip[0] / clip[3]) * width_of (shown),
                     (0.5 - 0.5 * clip[1] / clip[3]) * height_of (shown));
}

/* The point of the level plane z that is seen there: two equations in x and y
 * from the matrix's rows. */
static PlumbVec2
on_level (Shown *shown, PlumbVec2 device, double z)
{
  double m[4][4], a[2][3];
  matrix_of (shown, m);
  double want[2] = { 2.0 * device.x / width_of (shown) - 1.0, 1.0 - 2.0 * device.y / height_of (shown) };
  for (int i = 0; i < 2; i++)
    {
      a[i][0] = m[i][0] - want[i] * m[3][0];
      a[i][1] = m[i][1] - want[i] * m[3][1];
      a[i][2] = want[i] * (m[3][2] * z + m[3][3]) - (m[i][2] * z + m[i][3]);
    }
  double det = a[0][0] * a[1][1] - a[0][1] * a[1][0];
  g_assert_cmpfloat (fabs (det), >, 1e-12);
  return plumb_vec2 ((a[0][2] * a[1][1] - a[0][1] * a[1][2]) / det, (a[0][0] * a[1][2] - a[0][2] * a[1][0]) / det);
}

static PlumbVec2
machine_device (Shown *shown)
{
  const PlumbEvaluation *evaluation = plumb_document_evaluation (shown->document);
  PlumbVec3 middle = plumb_vec3 (0.0, 0.0, 0.0);
  for (int i = 0; i < 8; i++)
    middle = plumb_vec3_along (middle, evaluation->body_corner_m[i], 0.125);
  return device_of (shown, middle);
}

static void
drag (Shown *shown, PlumbVec2 from, PlumbVec2 by, gboolean pans)
{
  plumb_view3d_area_press (shown->area, from, pans);
  for (int i = 1; i <= 10; i++)
    plumb_view3d_area_move (shown->area, plumb_vec2_along (from, by, i / 10.0), FALSE);
}

static double
apart (PlumbVec3 a, PlumbVec3 b)
{
  return plumb_vec3_length (plumb_vec3_sub (a, b));
}

/* ---- with OpenGL --------------------------------------------------------------------------- */

static void
test_first_frame (void)
{
  Shown shown;
  show (&shown);
  gtk_test_accessible_assert_role (shown.area, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (shown.area, GTK_ACCESSIBLE_PROPERTY_LABEL, "3D view of the room, cut open.");
  /* More than one flat colour: the room is in it. */
  Picture picture = picture_of (&shown);
  Picture flat = { picture.width, picture.height, g_malloc0 ((gsize) picture.width * (gsize) picture.height * 4) };
  for (gsize i = 0; i < (gsize) picture.width * (gsize) picture.height; i++)
    memcpy (flat.bgra + i * 4, picture.bgra, 4);
  double share = difference (&picture, &flat);
  g_assert_cmpfloat (share, >, 0.2);
  g_assert_cmpfloat (share, <, 1.0);
  g_free (flat.bgra);
  g_free (picture.bgra);
  leave (&shown);
}

/* Nothing redraws while nothing changes. */
static void
test_rest (void)
{
  Shown shown;
  show (&shown);
  guint before = shown.rendered;
  turn_loop (700);
  g_assert_cmpuint (shown.rendered, ==, before);
  /* One step of the eye: a light frame and a full one. */
  g_assert_true (plumb_view3d_area_key (shown.area, GDK_KEY_Left, 0));
  rest (&shown);
  g_assert_cmpuint (shown.rendered, ==, before + 2);
  leave (&shown);
}

static void
test_orbit (void)
{
  Shown shown;
  show (&shown);
  PlumbCamera before = *plumb_view3d_area_get_camera (shown.area);
  Picture seen = picture_of (&shown);
  drag (&shown, plumb_vec2 (4.0, 4.0), plumb_vec2 (90.0, 0.0), FALSE);
  plumb_view3d_area_release (shown.area);
  rest (&shown);
  const PlumbCamera *now = plumb_view3d_area_get_camera (shown.area);
  /* Once across the pane is half round; to the right, the eye goes left. */
  g_assert_cmpfloat_with_epsilon (remainder (before.azimuth_rad - now->azimuth_rad, 2.0 * G_PI),
                                  G_PI * 90.0 / width_of (&shown), 1e-9);
  g_assert_cmpfloat_with_epsilon (apart (before.target_m, now->target_m), 0.0, 1e-12);
  g_assert_cmpfloat (difference_now (&shown, &seen), >, 0.05);
  g_assert_null (plumb_document_undo_name (shown.document));
  /* Home is where it was. */
  g_assert_true (plumb_view3d_area_key (shown.area, GDK_KEY_Home, 0));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &seen), ==, 0.0);
  g_free (seen.bgra);
  leave (&shown);
}

/* What was under the pointer at the target's depth stays under it. */
static void
test_pan_and_zoom (void)
{
  Shown shown;
  show (&shown);
  PlumbVec3 target = plumb_view3d_area_get_camera (shown.area)->target_m;
  PlumbVec2 at = device_of (&shown, target);
  drag (&shown, plumb_vec2 (4.0, 4.0), plumb_vec2 (50.0, 30.0), TRUE);
  plumb_view3d_area_release (shown.area);
  PlumbVec2 moved = plumb_vec2_sub (device_of (&shown, target), at);
  g_assert_cmpfloat_with_epsilon (moved.x, 50.0, 0.5);
  g_assert_cmpfloat_with_epsilon (moved.y, 30.0, 0.5);
  double distance = plumb_view3d_area_get_camera (shown.area)->distance_m;
  g_assert_true (plumb_view3d_area_key (shown.area, GDK_KEY_plus, 0));
  g_assert_cmpfloat_with_epsilon (plumb_view3d_area_get_camera (shown.area)->distance_m, distance / 1.2, 1e-9);
  g_assert_true (plumb_view3d_area_key (shown.area, GDK_KEY_minus, 0));
  g_assert_cmpfloat_with_epsilon (plumb_view3d_area_get_camera (shown.area)->distance_m, distance, 1e-9);
  g_assert_false (plumb_view3d_area_key (shown.area, GDK_KEY_a, 0));
  leave (&shown);
}

static void
test_click (void)
{
  Shown shown;
  show (&shown);
  plumb_view3d_area_press (shown.area, machine_device (&shown), FALSE);
  plumb_view3d_area_release (shown.area);
  PlumbSubject chosen = plumb_document_selection (shown.document);
  g_assert_cmpint (chosen.kind, ==, PLUMB_RECORD_PLACE);
  g_assert_cmpuint (chosen.index, ==, test_find (shown.document, PLUMB_RECORD_PLACE, "a"));
  gtk_test_accessible_assert_property (shown.area, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "3D view of the room, cut open. Chosen: Tie beam T2.");
  plumb_view3d_area_press (shown.area, plumb_vec2 (2.0, 2.0), FALSE);
  plumb_view3d_area_release (shown.area);
  g_assert_cmpint (plumb_document_selection (shown.document).kind, ==, PLUMB_RECORD_NONE);
  g_assert_null (plumb_document_undo_name (shown.document));
  leave (&shown);
}

/* The plate goes as far as the two rays are apart on the plane through the
 * point where the machine was taken hold of. T2 is level. */
static void
test_drag (void)
{
  Shown shown;
  show (&shown);
  g_autofree char *before = test_text (shown.document);
  guint place = test_find (shown.document, PLUMB_RECORD_PLACE, "a");
  PlumbVec3 plate = plumb_document_evaluation (shown.document)->plate_m;
  PlumbVec2 from = machine_device (&shown), by = plumb_vec2 (36.0, 14.0);
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_PLACE, place, PLUMB_NO_INDEX }, -1);
  drag (&shown, from, by, FALSE);
  plumb_view3d_area_release (shown.area);
  PlumbVec3 now = plumb_document_evaluation (shown.document)->plate_m;
  /* The hold's height is somewhere on the body: the least and the greatest
   * height of its box bound the way. */
  const PlumbVec3 *corner = plumb_document_evaluation (shown.document)->body_corner_m;
  double low = corner[0].z, high = corner[0].z;
  for (int i = 1; i < 8; i++)
    {
      low = MIN (low, corner[i].z);
      high = MAX (high, corner[i].z);
    }
  PlumbVec2 way = plumb_vec2 (now.x - plate.x, now.y - plate.y);
  double least = G_MAXDOUBLE, most = 0.0;
  for (int i = 0; i <= 10; i++)
    {
      double z = low + (high - low) * i / 10.0;
      PlumbVec2 wanted = plumb_vec2_sub (on_level (&shown, plumb_vec2_add (from, by), z), on_level (&shown, from, z));
      double off = plumb_vec2_length (plumb_vec2_sub (wanted, way));
      least = MIN (least, off);
      most = MAX (most, plumb_vec2_length (wanted));
    }
  g_assert_cmpfloat (most, >, 0.3);
  /* Rounded to whole millimetres each way, between tenths of the height. */
  g_assert_cmpfloat (least, <, 0.006);
  /* One step, and it is all back. */
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_null (plumb_document_undo_name (shown.document));
  g_autofree char *after = test_text (shown.document);
  g_assert_cmpstr (before, ==, after);
  leave (&shown);
}

static void
test_escape (void)
{
  Shown shown;
  show (&shown);
  g_autofree char *before = test_text (shown.document);
  guint place = test_find (shown.document, PLUMB_RECORD_PLACE, "a");
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_PLACE, place, PLUMB_NO_INDEX }, -1);
  drag (&shown, machine_device (&shown), plumb_vec2 (30.0, 10.0), FALSE);
  g_autofree char *between = test_text (shown.document);
  g_assert_cmpstr (before, !=, between);
  g_assert_true (plumb_view3d_area_key (shown.area, GDK_KEY_Escape, 0));
  g_autofree char *after = test_text (shown.document);
  g_assert_cmpstr (before, ==, after);
  g_assert_null (plumb_document_undo_name (shown.document));
  g_assert_false (plumb_view3d_area_key (shown.area, GDK_KEY_Escape, 0));
  leave (&shown);
}

/* A machine that is not chosen is not moved: the view turns. */
static void
test_not_chosen (void)
{
  Shown shown;
  show (&shown);
  double azimuth = plumb_view3d_area_get_camera (shown.area)->azimuth_rad;
  drag (&shown, machine_device (&shown), plumb_vec2 (30.0, 10.0), FALSE);
  plumb_view3d_area_release (shown.area);
  g_assert_null (plumb_document_undo_name (shown.document));
  g_assert_cmpfloat (plumb_view3d_area_get_camera (shown.area)->azimuth_rad, !=, azimuth);
  leave (&shown);
}

static GtkWidget *
find_word (GtkWidget *widget, const char *word)
{
  if (GTK_IS_TOGGLE_BUTTON (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), word) == 0)
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

static void
press_word (Shown *shown, const char *word)
{
  GtkWidget *button = find_word (shown->pane, word);
  g_assert_nonnull (button);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  rest (shown);
}

/* The words of the head lead to the eyes that the job has. */
static void
test_places (void)
{
  Shown shown;
  show (&shown);
  const PlumbResolved *resolved = plumb_scene_resolved (plumb_document_scene (shown.document));
  const PlumbEvaluation *evaluation = plumb_document_evaluation (shown.document);
  Picture room = picture_of (&shown);
  press_word (&shown, "From the lens");
  g_assert_cmpfloat (apart (plumb_camera_eye (plumb_view3d_area_get_camera (shown.area)), evaluation->beam.lens_m), <,
                     1e-6);
  g_assert_cmpfloat (difference_now (&shown, &room), >, 0.2);
  /* The lens cannot be turned by hand. */
  PlumbCamera lens = *plumb_view3d_area_get_camera (shown.area);
  plumb_view3d_area_key (shown.area, GDK_KEY_Left, 0);
  g_assert_cmpfloat (plumb_view3d_area_get_camera (shown.area)->azimuth_rad, ==, lens.azimuth_rad);
  press_word (&shown, "From a seat");
  guint row = resolved->seats[1].row;
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_ROW, row, 1 }, -1);
  PlumbVec3 eye = plumb_camera_eye (plumb_view3d_area_get_camera (shown.area));
  g_assert_cmpfloat (apart (eye, resolved->seats[1].eye_m), <, 1e-6);
  /* The head turns, the eye stays. */
  plumb_view3d_area_key (shown.area, GDK_KEY_Left, 0);
  g_assert_cmpfloat (apart (eye, plumb_camera_eye (plumb_view3d_area_get_camera (shown.area))), <, 1e-9);
  press_word (&shown, "At the screen");
  /* Straight: the middle of the screen is in the middle of the pane. */
  PlumbVec2 middle = device_of (&shown, evaluation->target.frame.origin_m);
  g_assert_cmpfloat_with_epsilon (middle.x, width_of (&shown) / 2.0, 1.0);
  press_word (&shown, "Room");
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX }, -1);
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &room), ==, 0.0);
  g_free (room.bgra);
  leave (&shown);
}

/* 200 ms from place to place, or at once where motion is not wanted. */
static void
test_motion (void)
{
  Shown shown;
  show (&shown);
  animate (TRUE);
  PlumbVec3 from = plumb_camera_eye (plumb_view3d_area_get_camera (shown.area));
  PlumbVec3 lens = plumb_document_evaluation (shown.document)->beam.lens_m;
  gint64 begun_us = g_get_monotonic_time ();
  plumb_view3d_area_set_kind (shown.area, PLUMB_CAMERA_LENS);
  g_assert_cmpfloat (apart (plumb_camera_eye (plumb_view3d_area_get_camera (shown.area)), from), <, 1e-6);
  WAIT (apart (plumb_camera_eye (plumb_view3d_area_get_camera (shown.area)), lens) < 1e-6);
  g_assert_cmpint (g_get_monotonic_time () - begun_us, >=, 190 * 1000);
  rest (&shown);
  animate (FALSE);
  plumb_view3d_area_set_kind (shown.area, PLUMB_CAMERA_ROOM);
  g_assert_cmpfloat (apart (plumb_camera_eye (plumb_view3d_area_get_camera (shown.area)), from), <, 1e-6);
  leave (&shown);
}

static char *
red_image (const char *folder)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 160, 100);
  char *path = g_build_filename (folder, "red.png", NULL);
  gdk_pixbuf_fill (pixbuf, 0xff0000ff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, "png", NULL, NULL));
  return path;
}

/* A red image makes the picture red, as it is seen from the lens. */
static void
test_image (void)
{
  Shown shown;
  show (&shown);
  g_autofree char *folder = g_dir_make_tmp ("plumbeam-XXXXXX", NULL);
  g_autofree char *path = red_image (folder), *missing = g_build_filename (folder, "none.png", NULL);
  PlumbView3dMenu *menu = plumb_view3d_pane_get_menu (PLUMB_VIEW3D_PANE (shown.pane));
  press_word (&shown, "From the lens");
  g_assert_true (plumb_view3d_menu_throw_image (menu, path));
  rest (&shown);
  Picture seen = picture_of (&shown);
  const guchar *middle = seen.bgra + 4 * ((gsize) seen.height / 2 * (gsize) seen.width + (gsize) seen.width / 2);
  g_assert_cmpint (middle[2], >, middle[1] + 60);
  g_assert_cmpint (middle[2], >, middle[0] + 60);
  /* One that cannot be read changes nothing. */
  g_assert_false (plumb_view3d_menu_throw_image (menu, missing));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &seen), ==, 0.0);
  g_free (seen.bgra);
  g_remove (path);
  g_rmdir (folder);
  leave (&shown);
}

/* What is shown beside the room can be switched by the pane's actions. */
static void
test_shown (void)
{
  static const char *const flags[] = { "view3d.beam", "view3d.frustum", "view3d.axis" };
  Shown shown;
  show (&shown);
  for (gsize i = 0; i < G_N_ELEMENTS (flags); i++)
    {
      Picture before = picture_of (&shown);
      g_assert_true (gtk_widget_activate_action (shown.pane, flags[i], NULL));
      rest (&shown);
      g_assert_cmpfloat (difference_now (&shown, &before), >, 0.0);
      g_free (before.bgra);
    }
  Picture before = picture_of (&shown);
  g_assert_true (gtk_widget_activate_action (shown.pane, "view3d.sightlines", "s", "all"));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), >, 0.0);
  g_assert_true (gtk_widget_activate_action (shown.pane, "view3d.sightlines", "s", "none"));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), ==, 0.0);
  g_assert_true (gtk_widget_activate_action (shown.pane, "view3d.content", "s", "grid"));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), >, 0.0);
  g_free (before.bgra);
  leave (&shown);
}

/* The saved picture is read by the image library: as wide as promised, and not
 * of one colour. The pane goes on after another context came in between. */
static void
test_save (void)
{
  Shown shown;
  show (&shown);
  g_autofree char *folder = g_dir_make_tmp ("plumbeam-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "room.png", NULL);
  g_autofree char *nowhere = g_build_filename (folder, "none", "room.png", NULL);
  PlumbView3dMenu *menu = plumb_view3d_pane_get_menu (PLUMB_VIEW3D_PANE (shown.pane));
  Picture before = picture_of (&shown);
  g_assert_true (plumb_view3d_menu_save (menu, path));
  g_autoptr (GdkPixbuf) saved = gdk_pixbuf_new_from_file (path, NULL);
  g_assert_nonnull (saved);
  g_assert_cmpint (MAX (gdk_pixbuf_get_width (saved), gdk_pixbuf_get_height (saved)), ==, 1920);
  g_assert_cmpfloat_with_epsilon ((double) gdk_pixbuf_get_width (saved) / gdk_pixbuf_get_height (saved),
                                  width_of (&shown) / height_of (&shown), 0.002);
  const guchar *pixels = gdk_pixbuf_read_pixels (saved);
  gsize size = gdk_pixbuf_get_byte_length (saved), other = 0;
  for (gsize i = 0; i < size; i++)
    other += pixels[i] != pixels[i % 3];
  g_assert_cmpuint (other, >, size / 10);
  g_assert_false (plumb_view3d_menu_save (menu, nowhere));
  plumb_view3d_area_key (shown.area, GDK_KEY_Left, 0);
  plumb_view3d_area_key (shown.area, GDK_KEY_Home, 0);
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), ==, 0.0);
  g_free (before.bgra);
  g_remove (path);
  g_rmdir (folder);
  leave (&shown);
}

/* Taken out of its window and put into another: the same picture again. */
static void
test_realize_again (void)
{
  Shown shown;
  show (&shown);
  Picture before = picture_of (&shown);
  for (int i = 0; i < 3; i++)
    {
      GtkWidget *other = gtk_window_new ();
      int width, height;
      gtk_window_get_default_size (GTK_WINDOW (shown.window), &width, &height);
      g_object_ref (shown.pane);
      gtk_window_set_child (GTK_WINDOW (shown.window), NULL);
      gtk_window_set_default_size (GTK_WINDOW (other), width, height);
      gtk_window_set_child (GTK_WINDOW (other), shown.pane);
      g_object_unref (shown.pane);
      gtk_window_present (GTK_WINDOW (other));
      gtk_window_destroy (GTK_WINDOW (shown.window));
      shown.window = other;
      guint rendered = shown.rendered;
      WAIT (shown.rendered > rendered);
      rest (&shown);
    }
  g_assert_cmpfloat (difference_now (&shown, &before), ==, 0.0);
  gtk_widget_set_visible (shown.pane, FALSE);
  turn_loop (100);
  gtk_widget_set_visible (shown.pane, TRUE);
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), ==, 0.0);
  g_free (before.bgra);
  leave (&shown);
}

/* An edit shows; a job with nothing in it leaves nowhere to stand. */
static void
test_jobs (void)
{
  Shown shown;
  show (&shown);
  Picture before = picture_of (&shown);
  guint place = test_find (shown.document, PLUMB_RECORD_PLACE, "a");
  g_assert_true (
      plumb_document_set_number (shown.document, PLUMB_RECORD_PLACE, place, PLUMB_FIELD_place_off_m, 5.6, NULL));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), >, 0.001);
  g_assert_true (plumb_document_undo (shown.document));
  rest (&shown);
  g_assert_cmpfloat (difference_now (&shown, &before), ==, 0.0);
  g_free (before.bgra);
  press_word (&shown, "From the lens");
  plumb_document_clear (shown.document);
  rest (&shown);
  gtk_test_accessible_assert_property (shown.area, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "3D view of the room, cut open. Nothing is measured yet.");
  g_assert_false (gtk_widget_get_sensitive (find_word (shown.pane, "From the lens")));
  g_assert_false (gtk_widget_get_sensitive (find_word (shown.pane, "From a seat")));
  plumb_view3d_area_press (shown.area, plumb_vec2 (50.0, 50.0), FALSE);
  plumb_view3d_area_move (shown.area, plumb_vec2 (90.0, 50.0), TRUE);
  plumb_view3d_area_release (shown.area);
  rest (&shown);
  leave (&shown);
}

/* ---- without OpenGL --------------------------------------------------------------------------- */

static GtkWidget *
find_type (GtkWidget *widget, GType type)
{
  if (g_type_is_a (G_OBJECT_TYPE (widget), type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_type (child, type);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
says_why (GtkWidget *widget)
{
  if (GTK_IS_LABEL (widget) && g_str_has_prefix (gtk_label_get_label (GTK_LABEL (widget)), "No 3D here: ")
      && g_str_has_suffix (gtk_label_get_label (GTK_LABEL (widget)), ". The rest works."))
    return gtk_widget_get_mapped (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (says_why (child))
      return TRUE;
  return FALSE;
}

static void
test_trouble (void)
{
  static const char *const words[] = { "Room", "From the lens", "At the screen", "From a seat" };
  Shown shown;
  show_document (&shown, test_demo ("net-loft"));
  WAIT (says_why (shown.pane));
  g_assert_null (plumb_view3d_pane_get_area (PLUMB_VIEW3D_PANE (shown.pane)));
  GtkWidget *drawing = find_type (shown.pane, PLUMB_TYPE_DRAWING_AREA);
  g_assert_nonnull (drawing);
  g_assert_cmpint (plumb_drawing_area_get_kind (PLUMB_DRAWING_AREA (drawing)), ==, PLUMB_DRAW_PICTURE);
  gtk_test_widget_wait_for_draw (drawing);
  g_assert_true (gtk_widget_get_mapped (drawing));
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    g_assert_false (gtk_widget_get_sensitive (find_word (shown.pane, words[i])));
  g_assert_false (gtk_widget_get_sensitive (find_type (shown.pane, GTK_TYPE_MENU_BUTTON)));
  g_assert_false (gtk_widget_activate_action (shown.pane, "view3d.home", NULL));
  /* The rest works. */
  guint place = test_find (shown.document, PLUMB_RECORD_PLACE, "a");
  g_assert_true (
      plumb_document_set_number (shown.document, PLUMB_RECORD_PLACE, place, PLUMB_FIELD_place_off_m, 5.6, NULL));
  gtk_test_widget_wait_for_draw (drawing);
  leave (&shown);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  if (g_strcmp0 (g_getenv ("PLUMB_TEST_GL"), "none") == 0)
    {
      g_test_add_func ("/view3d-pane/trouble", test_trouble);
      return g_test_run ();
    }
  g_test_add_func ("/view3d-pane/first-frame", test_first_frame);
  g_test_add_func ("/view3d-pane/rest", test_rest);
  g_test_add_func ("/view3d-pane/orbit", test_orbit);
  g_test_add_func ("/view3d-pane/pan-and-zoom", test_pan_and_zoom);
  g_test_add_func ("/view3d-pane/click", test_click);
  g_test_add_func ("/view3d-pane/drag", test_drag);
  g_test_add_func ("/view3d-pane/escape", test_escape);
  g_test_add_func ("/view3d-pane/not-chosen", test_not_chosen);
  g_test_add_func ("/view3d-pane/places", test_places);
  g_test_add_func ("/view3d-pane/motion", test_motion);
  g_test_add_func ("/view3d-pane/image", test_image);
  g_test_add_func ("/view3d-pane/shown", test_shown);
  g_test_add_func ("/view3d-pane/save", test_save);
  g_test_add_func ("/view3d-pane/realize-again", test_realize_again);
  g_test_add_func ("/view3d-pane/jobs", test_jobs);
  return g_test_run ();
}
