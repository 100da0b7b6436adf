/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What lies under a point. Points are room points of the records (the net
 * loft's file, the sample's literals), put into the device by the view's own
 * mapping, which tests/draw/test-draw-view.c checks.
 */
#include "../engine/sample-job.h"
#include "draw-testing.h"
#include "draw/hit.h"

#define TOLERANCE_PX 6.0

typedef struct {
  PlumbVec3 room;
  PlumbRecordKind kind;
  uint32_t index;
  PlumbDrawPart part;
} Case;

static PlumbDrawView
fitted (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind)
{
  PlumbDrawView view = plumb_draw_view_default (kind);
  view.width = 900.0;
  view.height = 900.0;
  plumb_draw_view_fit (&view, scene, evaluation);
  return view;
}

static PlumbVec2
device_of (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbDrawView *view, PlumbVec3 room)
{
  PlumbDrawPlane plane = plumb_draw_plane (scene, evaluation, view->kind);
  return plumb_draw_view_to_device (view, plumb_draw_plane_from_room (&plane, room));
}

static void
check_cases (const Demo *demo, PlumbDrawKind kind, const Case *cases, gsize n)
{
  PlumbDrawView view = fitted (demo->scene, demo->evaluation, kind);
  for (gsize i = 0; i < n; i++)
    {
      PlumbDrawHit hit;
      PlumbVec2 at = device_of (demo->scene, demo->evaluation, &view, cases[i].room);
      g_test_message ("%s, case %d", plumb_draw_kind_word (kind), (int) i);
      g_assert_true (plumb_draw_hit (demo->scene, demo->evaluation, &view, at, TOLERANCE_PX, &hit));
      g_assert_cmpint (hit.subject.kind, ==, cases[i].kind);
      g_assert_cmpuint (hit.subject.index, ==, cases[i].index);
      g_assert_cmpint (hit.part, ==, cases[i].part);
    }
}

static uint32_t
find (const Demo *demo, PlumbRecordKind kind, const char *id)
{
  uint32_t index = plumb_scene_find (demo->scene, kind, id);
  g_assert_cmpuint (index, !=, PLUMB_NO_INDEX);
  return index;
}

/* The net loft: x and y as in its file, the picture wall at y = 9.4, its
 * viewer's left at x = 0. */
static void
test_plan (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  const PlumbScreenResolved *target = &demo.evaluation->target;
  PlumbVec3 left = plumb_vec3_along (target->frame.origin_m, target->frame.u, -target->width_m / 2.0);
  const Case cases[] = {
    /* The current machine, by its plate 3.192 m from the left, 4.7 m off. */
    { { 3.192, 4.7, 2.4 }, PLUMB_RECORD_PLACE, find (&demo, PLUMB_RECORD_PLACE, "a"), PLUMB_PART_WHOLE },
    /* The place in the store, 1.884 m off its back wall at y = -2.54. */
    { { 3.008, -0.656, 1.88 }, PLUMB_RECORD_PLACE, find (&demo, PLUMB_RECORD_PLACE, "c"), PLUMB_PART_PLATE },
    { left, PLUMB_RECORD_SCREEN, 0, PLUMB_PART_LEFT },
    { target->frame.origin_m, PLUMB_RECORD_SCREEN, 0, PLUMB_PART_WHOLE },
    { { -0.1, 7.0, 0.0 }, PLUMB_RECORD_WALL, find (&demo, PLUMB_RECORD_WALL, "left"), PLUMB_PART_WHOLE },
    { { 6.2, 9.4, 0.0 }, PLUMB_RECORD_WALL, find (&demo, PLUMB_RECORD_WALL, "picture"), PLUMB_PART_CORNER },
    { plumb_scene_resolved (demo.scene)->seats[0].eye_m, PLUMB_RECORD_SEAT, 0, PLUMB_PART_WHOLE },
    { plumb_scene_resolved (demo.scene)->seats[1].eye_m, PLUMB_RECORD_ROW, 0, PLUMB_PART_WHOLE },
  };
  check_cases (&demo, PLUMB_DRAW_PLAN, cases, G_N_ELEMENTS (cases));
  demo_close (&demo);
}

static void
test_side (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  const PlumbScreenResolved *target = &demo.evaluation->target;
  PlumbVec3 top = plumb_vec3_along (target->frame.origin_m, target->frame.v, target->height_m / 2.0);
  const Case cases[] = {
    { demo.evaluation->plate_m, PLUMB_RECORD_PLACE, 0, PLUMB_PART_PLATE },
    { demo.evaluation->beam.lens_m, PLUMB_RECORD_PLACE, 0, PLUMB_PART_WHOLE },
    { top, PLUMB_RECORD_SCREEN, 0, PLUMB_PART_TOP },
    { plumb_scene_resolved (demo.scene)->building->holes[0].inner_m[0], PLUMB_RECORD_PORT, 0, PLUMB_PART_WHOLE },
  };
  check_cases (&demo, PLUMB_DRAW_SIDE, cases, G_N_ELEMENTS (cases));
  demo_close (&demo);
}

static void
test_picture (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  const PlumbScreenResolved *target = &demo.evaluation->target;
  PlumbVec3 centre = target->frame.origin_m, u = target->frame.u, v = target->frame.v;
  PlumbVec3 quarter
      = plumb_vec3_along (plumb_vec3_along (centre, u, -0.3 * target->width_m), v, -0.3 * target->height_m);
  const Case cases[] = {
    { demo.evaluation->beam.lens_m, PLUMB_RECORD_PLACE, 0, PLUMB_PART_WHOLE },
    { plumb_vec3_along (centre, u, 0.5 * target->width_m), PLUMB_RECORD_SCREEN, 0, PLUMB_PART_RIGHT },
    /* The middle of the left border, 100 mm wide. */
    { plumb_vec3_along (centre, u, -0.5 * target->width_m - 0.05), PLUMB_RECORD_SCREEN, 0, PLUMB_PART_LEFT },
    { plumb_vec3_along (plumb_vec3_along (centre, u, -0.3 * target->width_m), v, -0.5 * target->height_m),
      PLUMB_RECORD_SCREEN, 0, PLUMB_PART_BOTTOM },
    { quarter, PLUMB_RECORD_SCREEN, 0, PLUMB_PART_WHOLE },
  };
  check_cases (&demo, PLUMB_DRAW_PICTURE, cases, G_N_ELEMENTS (cases));
  demo_close (&demo);
}

static void
test_ceiling (void)
{
  Demo demo;
  demo_open (&demo, "net-loft");
  const Case cases[] = {
    { { 3.192, 4.7, 2.4 }, PLUMB_RECORD_PLACE, 0, PLUMB_PART_WHOLE },
    { { 0.8, 3.6, 3.0 }, PLUMB_RECORD_CEILING, find (&demo, PLUMB_RECORD_CEILING, "slope-left"), PLUMB_PART_WHOLE },
  };
  check_cases (&demo, PLUMB_DRAW_CEILING, cases, G_N_ELEMENTS (cases));
  demo_close (&demo);
}

/* ---- order ----------------------------------------------------------------------------- */

static PlumbDrawHit
at (const Sample *sample, PlumbVec3 room, double off_px)
{
  PlumbScene *scene = sample_scene (sample);
  PlumbEvaluation *evaluation = NULL;
  g_assert_true (plumb_evaluate (scene, 0, &evaluation));
  PlumbDrawView view = fitted (scene, evaluation, PLUMB_DRAW_PLAN);
  PlumbVec2 device = device_of (scene, evaluation, &view, room);
  device.x += off_px;
  PlumbDrawHit hit = { { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX }, PLUMB_PART_WHOLE, -1.0 };
  plumb_draw_hit (scene, evaluation, &view, device, TOLERANCE_PX, &hit);
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
  return hit;
}

/* A cup on a table: the smaller wins; of two of one size the upper. */
static void
test_smaller_and_upper (void)
{
  Sample s;
  sample_init (&s);
  sample_add_box (&s, "table", 1.5, 2.0, 0.0, 1.6, 1.0, 0.7);
  sample_add_box (&s, "cup", 1.5, 2.0, 0.7, 0.2, 0.2, 0.2);
  sample_add_box (&s, "lamp", 1.5, 2.0, 2.0, 0.2, 0.2, 0.2);
  g_assert_cmpuint (at (&s, plumb_vec3 (1.5, 2.0, 0.0), 0.0).subject.index, ==, 2);
  g_assert_cmpuint (at (&s, plumb_vec3 (2.1, 2.3, 0.0), 0.0).subject.index, ==, 0);
}

/* Inside, near, and too far: the tolerance is 6 px. */
static void
test_nearest (void)
{
  Sample s;
  sample_init (&s);
  s.n_place = 0;
  sample_add_box (&s, "one", 1.0, 2.0, 0.0, 1.0, 1.0, 0.7);
  PlumbDrawHit inside = at (&s, plumb_vec3 (1.49, 2.0, 0.0), 0.0);
  g_assert_cmpint (inside.subject.kind, ==, PLUMB_RECORD_BLOCKER);
  g_assert_cmpfloat (inside.distance_px, ==, 0.0);
  /* Outlines are widened by 1 px. */
  PlumbDrawHit near = at (&s, plumb_vec3 (1.5, 2.0, 0.0), 5.0);
  g_assert_cmpint (near.subject.kind, ==, PLUMB_RECORD_BLOCKER);
  g_assert_cmpfloat_with_epsilon (near.distance_px, 4.0, 1e-6);
  g_assert_cmpint (at (&s, plumb_vec3 (1.5, 2.0, 0.0), 8.0).subject.kind, ==, PLUMB_RECORD_NONE);
}

static void
count_points (const PlumbVec2 *points, size_t n, bool closed, double half_px, gpointer data)
{
  (void) points;
  (void) closed;
  (void) half_px;
  *(gsize *) data += n;
}

/* Outlines of one seat of a row, and of the whole row. */
static void
test_outline (void)
{
  Sample s;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_ROW, &s.row[0]);
  s.row[0].x_m = 1.0;
  s.row[0].y_m = 3.0;
  s.n_row = 1;
  PlumbScene *scene = sample_scene (&s);
  g_autoptr (PlumbDrawShapes) shapes = plumb_draw_shapes_new (scene, NULL, PLUMB_DRAW_PLAN);
  gsize one = 0, all = 0;
  plumb_draw_shapes_outline (shapes, (PlumbSubject){ PLUMB_RECORD_ROW, 0, 2 }, PLUMB_PART_WHOLE, count_points, &one);
  plumb_draw_shapes_outline (shapes, (PlumbSubject){ PLUMB_RECORD_ROW, 0, PLUMB_NO_INDEX }, PLUMB_PART_WHOLE,
                             count_points, &all);
  g_assert_cmpuint (one, ==, 4);
  g_assert_cmpuint (all, ==, 16);
  plumb_scene_unref (scene);
}

/* An empty job has nothing, and a wild point hits nothing. */
static void
test_nothing (void)
{
  PlumbScene *scene = plumb_scene_new ();
  g_assert_true (plumb_scene_commit (scene));
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    {
      PlumbDrawView view = plumb_draw_view_default ((PlumbDrawKind) kind);
      PlumbDrawHit hit;
      g_assert_false (plumb_draw_hit (scene, NULL, &view, plumb_vec2 (320.0, 240.0), 10.0, &hit));
      g_assert_false (plumb_draw_hit (scene, NULL, &view, plumb_vec2 (NAN, INFINITY), 10.0, &hit));
    }
  plumb_scene_unref (scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hit/plan", test_plan);
  g_test_add_func ("/hit/side", test_side);
  g_test_add_func ("/hit/picture", test_picture);
  g_test_add_func ("/hit/ceiling", test_ceiling);
  g_test_add_func ("/hit/smaller-and-upper", test_smaller_and_upper);
  g_test_add_func ("/hit/nearest", test_nearest);
  g_test_add_func ("/hit/outline", test_outline);
  g_test_add_func ("/hit/nothing", test_nothing);
  return g_test_run ();
}
