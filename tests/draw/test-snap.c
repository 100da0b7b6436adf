/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where a dragged point comes to rest. Wanted values are worked out by hand
 * from the sample's and the net loft's literals; each says how.
 */
#include "draw/snap.h"

#include "drag-testing.h"
#include "draw-testing.h"

#define TOLERANCE_PX 6.0

typedef struct {
  PlumbScene *scene;
  PlumbEvaluation *evaluation;
  PlumbDrawDrag drag;
  PlumbDrawView view;
} Held;

static void
take (Held *held, const Sample *sample, PlumbDrawKind kind, PlumbSubject subject, PlumbDrawPart part)
{
  held->scene = sample_scene (sample);
  g_assert_true (plumb_evaluate (held->scene, 0, &held->evaluation));
  g_assert_true (plumb_draw_drag_init (&held->drag, held->scene, held->evaluation, kind, subject, part));
  held->view = plumb_draw_view_default (kind); /* 50 px per metre */
}

static void
let_go (Held *held)
{
  plumb_evaluation_free (held->evaluation);
  plumb_scene_unref (held->scene);
}

static PlumbVec2
view_point (const Held *held, double x, double y, double z)
{
  return plumb_draw_plane_from_room (&held->drag.plane, plumb_vec3 (x, y, z));
}

/* Corner 1 of the sample's rectangle, (6.2, 0): the corners next to it are
 * (0, 0) and (6.2, 9.4). */
static void
test_corner (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_WALL, 1), PLUMB_PART_CORNER);
  held.view.scale_per_m = 300.0;
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 6.2072, -0.0131, 0.0), TOLERANCE_PX, true, &snap);
  g_assert_true (snap.exact);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 6.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 0.0, 1e-9);
  /* Off both lines: whole centimetres from the corners next to it, 6.45 m and
   * 9.65 m, which both stand on the guides. */
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 6.4538, -0.2472, 0.0), TOLERANCE_PX, true, &snap);
  g_assert_false (snap.exact);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 6.45, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, -0.25, 1e-9);
  g_assert_cmpuint (snap.n_guides, ==, 2);
  g_assert_cmpint (snap.guide[0].field, ==, PLUMB_FIELD_wall_x_m);
  g_assert_cmpstr (snap.guide[0].text, ==, "6.450");
  g_assert_cmpint (snap.guide[1].field, ==, PLUMB_FIELD_wall_y_m);
  g_assert_cmpstr (snap.guide[1].text, ==, "9.650");
  let_go (&held);
}

/* In the sample's plan view x is the viewer's right: the front wall y = 9.4
 * looks towards -y, so view x = room x, and view y = room y. */
static void
test_grid (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  /* 300 px per metre: round distances of 0.1 m are 30 px apart. */
  held.view.scale_per_m = 300.0;
  /* Along is measured from x = 0, off from y = 9.4: the next centimetres. */
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 1.2638, 6.1472, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 1.26, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 6.15, 1e-9);
  g_assert_false (snap.exact);
  /* 5 mm are 1.5 px from the round 1.3 m. */
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 1.295, 6.1472, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 1.3, 1e-9);
  let_go (&held);
}

/* Half an inch is 12.7 mm: 1.2638 m are 99.5 half inches, 100 are 1.27 m. */
static void
test_grid_imperial (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  s.job.units = PLUMB_UNITS_IMPERIAL;
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  held.view.scale_per_m = 400.0;
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 1.266, 6.1472, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 1.27, 1e-9);
  let_go (&held);
}

static void
test_off (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  PlumbVec2 wild = view_point (&held, 1.2638, 6.1472, 3.0);
  plumb_draw_snap (&held.drag, &held.view, wild, TOLERANCE_PX, false, &snap);
  g_assert_cmpfloat (snap.point_m.x, ==, wild.x);
  g_assert_cmpfloat (snap.point_m.y, ==, wild.y);
  let_go (&held);
}

/* The dimension strings of a place: along from the corner, off from the wall,
 * with figures. */
static void
test_guides (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  PlumbVec2 at = view_point (&held, 1.25, 6.15, 3.0);
  plumb_draw_snap (&held.drag, &held.view, at, TOLERANCE_PX, false, &snap);
  g_assert_cmpuint (snap.n_guides, ==, 2);
  g_assert_cmpint (snap.guide[0].field, ==, PLUMB_FIELD_place_along_m);
  g_assert_cmpstr (snap.guide[0].text, ==, "1.250");
  g_assert_cmpfloat_with_epsilon (snap.guide[0].a_m.x, 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.guide[0].a_m.y, at.y, 1e-9);
  g_assert_cmpint (snap.guide[1].field, ==, PLUMB_FIELD_place_off_m);
  /* 9.4 − 6.15. */
  g_assert_cmpstr (snap.guide[1].text, ==, "3.250");
  g_assert_cmpfloat_with_epsilon (snap.guide[1].a_m.y, 9.4, 1e-9);
  for (unsigned i = 0; i < snap.n_guides; i++)
    g_assert_true (snap.guide[i].dimension);
  let_go (&held);
}

/* The picture's centre line is x = 3.1: 0.08 m are 4 px of 6. The other
 * freedom goes to the round distance 3.5 m off the wall (y = 5.9). */
static void
test_picture_line (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  s.n_place = 1; /* the other place hangs on the same line */
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 3.18, 5.93, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 3.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 5.9, 1e-9);
  g_assert_true (snap.exact);
  g_assert_false (snap.guide[0].dimension);
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 3.26, 5.93, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_false (snap.exact);
  let_go (&held);
}

/* A slanted beam from (1, 4) to (5, 6): its line is y = 4 + (x − 1)/2. Where
 * it crosses the picture's centre line, x = 3.1, it is at 5.05. */
static void
test_structure (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  s.n_place = 1;
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &s.structure[0]);
  s.structure[0].start_x_m = 1.0;
  s.structure[0].start_y_m = 4.0;
  s.structure[0].end_x_m = 5.0;
  s.structure[0].end_y_m = 6.0;
  s.n_structure = 1;
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 3.05, 5.1, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 3.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 5.05, 1e-9);
  /* Away from the centre line it lies on the beam, and along is round. */
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 2.02, 4.55, 3.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 4.0 + (snap.point_m.x - 1.0) / 2.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 2.0, 1e-9);
  let_go (&held);
}

/* A seat heeds no beam; its measures are those to the nearest walls, left
 * 1.0 m and back 2.0 m. */
static void
test_seat (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_SEAT, &s.seat[0]);
  s.seat[0].x_m = 1.0;
  s.seat[0].y_m = 2.0;
  s.n_seat = 1;
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_SEAT, 0), PLUMB_PART_WHOLE);
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 1.02, 2.01, 1.2), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 1.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 2.0, 1e-9);
  g_assert_cmpuint (snap.n_guides, ==, 2);
  g_assert_cmpstr (snap.guide[0].text, ==, "1.000");
  g_assert_cmpint (snap.guide[0].field, ==, PLUMB_FIELD_seat_x_m);
  g_assert_cmpstr (snap.guide[1].text, ==, "2.000");
  let_go (&held);
}

/* A screen on its wall slides along it and rests on the wall's middle, 3.1. */
static void
test_screen (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  s.screen[0].across_m = 2.4;
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_SCREEN, 0), PLUMB_PART_WHOLE);
  plumb_draw_snap (&held.drag, &held.view, view_point (&held, 3.04, 8.0, 1.0), TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.x, 3.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 9.4, 1e-9);
  let_go (&held);
}

/* In the side view a hung machine's drop: plate at 3 m, pivot led to 2.52. */
static void
test_drop (void)
{
  Sample s;
  Held held;
  PlumbSnap snap;
  sample_init (&s);
  s.n_place = 1;
  take (&held, &s, PLUMB_DRAW_SIDE, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  PlumbVec2 at = { plumb_draw_drag_handle (&held.drag).x, 2.52 };
  plumb_draw_snap (&held.drag, &held.view, at, TOLERANCE_PX, true, &snap);
  g_assert_cmpfloat_with_epsilon (snap.point_m.y, 2.5, 1e-9);
  const PlumbSnapGuide *last = &snap.guide[snap.n_guides - 1];
  g_assert_cmpint (last->field, ==, PLUMB_FIELD_place_drop_m);
  g_assert_cmpstr (last->text, ==, "0.500");
  let_go (&held);
}

/* Snapped points stay within reach of the pointer: a tolerance for lines and
 * round distances, half a grid step for the rest, times √2 at a slant. */
static void
test_near (void)
{
  Sample s;
  Held held;
  crooked_init (&s);
  take (&held, &s, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
  GRand *random = g_rand_new_with_seed (7);
  for (int i = 0; i < 2000; i++)
    {
      PlumbSnap snap;
      double x = g_rand_double_range (random, 0.5, 6.0), y = g_rand_double_range (random, 0.5, 8.5);
      PlumbVec2 at = view_point (&held, x, y, 3.0);
      plumb_draw_snap (&held.drag, &held.view, at, TOLERANCE_PX, true, &snap);
      double away = plumb_vec2_length (plumb_vec2_sub (snap.point_m, at));
      /* Two lines crossing at a sine of 0.3 (LEAST_CROSSING). */
      g_assert_cmpfloat (away, <, 2.0 * 0.12 / 0.3);
    }
  g_rand_free (random);
  let_go (&held);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/snap/corner", test_corner);
  g_test_add_func ("/snap/grid", test_grid);
  g_test_add_func ("/snap/grid-imperial", test_grid_imperial);
  g_test_add_func ("/snap/off", test_off);
  g_test_add_func ("/snap/guides", test_guides);
  g_test_add_func ("/snap/picture-line", test_picture_line);
  g_test_add_func ("/snap/structure", test_structure);
  g_test_add_func ("/snap/seat", test_seat);
  g_test_add_func ("/snap/screen", test_screen);
  g_test_add_func ("/snap/drop", test_drop);
  g_test_add_func ("/snap/near", test_near);
  return g_test_run ();
}
