/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A drag is the inverse of how the scene resolves: after it the scene, which
 * is other code, must put the handle where it was led. Literal values are
 * worked out by hand from the net loft's records; each says how.
 */
#include "drag-testing.h"
#include "draw-testing.h"

static const PlumbVec2 steps[] = { { 0.31, 0.0 }, { 0.0, -0.17 }, { -0.23, 0.12 }, { 0.05, -0.09 } };

static void
check_all (const Sample *sample, PlumbSubject subject, PlumbDrawPart part)
{
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
      check_round_trip (sample, (PlumbDrawKind) kind, subject, part, steps[i]);
}

/* ---- places ---------------------------------------------------------------------- */

/* Puts the place near (3.0, 4.2) by its references: dragging the plate there
 * in plan is itself the inverse that is under test. */
static bool
lead_to_middle (Sample *s)
{
  PlumbScene *scene = sample_scene (s);
  PlumbDrawDrag drag;
  bool there = plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0),
                                     PLUMB_PART_PLATE);
  if (there)
    {
      g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, plumb_vec2 (3.0, 4.2));
      sample_apply (s, edits);
    }
  plumb_scene_unref (scene);
  return there;
}

static void
set_height (PlumbPlace *place, int way)
{
  static const int from[4] = { PLUMB_HEIGHT_FROM_FLOOR, PLUMB_HEIGHT_FROM_CEILING, PLUMB_HEIGHT_FROM_CEILING,
                               PLUMB_HEIGHT_FROM_STRUCTURE };
  static const char *const of[4] = { "", "", "other", "joists" };
  place->height_from = from[way];
  SET_ID (place->height_of, of[way]);
  place->height_m = way == 0 ? 2.4 : 0.2;
}

static void
test_place_references (void)
{
  static const char *const walls[] = { "back", "right", "front", "splay", "left" };
  Sample s;
  guint checked = 0;
  crooked_init (&s);
  for (int along = 0; along < 5; along++)
    for (int off = -1; off < 5; off++)
      for (int end = 0; end < 2; end++)
        {
          Sample one = s;
          SET_ID (one.place[0].along_wall, walls[along]);
          SET_ID (one.place[0].off_wall, off < 0 ? "" : walls[off]);
          one.place[0].along_end = end == 0 ? PLUMB_END_START : PLUMB_END_END;
          one.place[0].drop_m = 0.5;
          /* From the floor it has a point wherever it is, even outside. */
          set_height (&one.place[0], 0);
          if (!lead_to_middle (&one))
            continue;
          set_height (&one.place[0], (along + off + 1) % 4);
          check_all (&one, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_PLATE);
          check_all (&one, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
          checked++;
        }
  /* No two of the five walls are parallel: all 5 × 6 × 2 have a point. */
  g_assert_cmpuint (checked, ==, 60);
}

static void
test_place_heights (void)
{
  static const int carried[3] = { PLUMB_CARRIED_HUNG, PLUMB_CARRIED_STANDING, PLUMB_CARRIED_WALL_ARM };
  Sample s;
  crooked_init (&s);
  g_assert_true (lead_to_middle (&s));
  for (int way = 0; way < 4; way++)
    for (int c = 0; c < 3; c++)
      for (int tube = 0; tube < PLUMB_N_TUBE; tube++)
        {
          Sample one = s;
          one.place[0].carried = carried[c];
          one.place[0].drop_m = 0.6;
          one.mount[0].tube = tube;
          set_height (&one.place[0], way);
          check_all (&one, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_PLATE);
          check_all (&one, subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE);
        }
}

/* The height that a drag does not mean stays: in plan the field is not
 * touched, so what hangs from a slope rises and falls with it. */
static void
test_place_keeps_height (void)
{
  Sample s;
  crooked_init (&s);
  set_height (&s.place[0], 1);
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  g_assert_true (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PLACE, 0),
                                       PLUMB_PART_WHOLE));
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, plumb_vec2 (3.3, 4.4));
  g_assert_cmpuint (edits->len, ==, 1);
  const PlumbDrawEdit *edit = &g_array_index (edits, PlumbDrawEdit, 0);
  for (unsigned i = 0; i < edit->n; i++)
    g_assert_true (edit->field[i] == PLUMB_FIELD_place_along_m || edit->field[i] == PLUMB_FIELD_place_off_m);
  plumb_scene_unref (scene);
}

/* A drop cannot be less than none. */
static void
test_place_stops (void)
{
  Sample s;
  crooked_init (&s);
  s.place[0].drop_m = 0.3;
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  g_assert_true (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_SIDE, subject_of (PLUMB_RECORD_PLACE, 0),
                                       PLUMB_PART_WHOLE));
  PlumbVec2 up = plumb_vec2_add (plumb_draw_drag_handle (&drag), plumb_vec2 (0.0, 5.0));
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, up);
  sample_apply (&s, edits);
  g_assert_cmpfloat (s.place[0].drop_m, ==, 0.0);
  plumb_scene_unref (scene);
}

/* ---- screens and holes ---------------------------------------------------------------- */

static void
test_screen (void)
{
  Sample s;
  crooked_init (&s);
  for (int support = 0; support < PLUMB_N_SUPPORT; support++)
    for (int end = 0; end < PLUMB_N_END; end++)
      for (int across = 0; across < PLUMB_N_ACROSS; across++)
        for (int lean = -1; lean <= 1; lean++)
          for (int part = PLUMB_PART_WHOLE; part <= PLUMB_PART_TOP; part++)
            for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
              {
                Sample one = s;
                one.screen[0].support = support;
                one.screen[0].x_m = 3.0;
                one.screen[0].y_m = 7.5;
                one.screen[0].facing_rad = -1.2;
                one.screen[0].across_end = end;
                one.screen[0].across_to = across;
                one.screen[0].across_m = across == PLUMB_ACROSS_CENTRE ? 1.9 : 0.7;
                one.screen[0].stand_off_m = support == PLUMB_SUPPORT_DROP ? 0.4 : 0.0;
                one.screen[0].lean_rad = 0.15 * lean;
                bool upper = part == PLUMB_PART_BOTTOM || part == PLUMB_PART_TOP;
                bool level = kind == PLUMB_DRAW_PLAN || kind == PLUMB_DRAW_CEILING;
                bool sideways = part == PLUMB_PART_LEFT || part == PLUMB_PART_RIGHT;
                /* Edges that are seen end-on cannot be drawn along. */
                if (part == PLUMB_PART_PLATE || (upper && level) || (sideways && kind == PLUMB_DRAW_SIDE))
                  continue;
                for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
                  check_round_trip (&one, (PlumbDrawKind) kind, subject_of (PLUMB_RECORD_SCREEN, 0),
                                    (PlumbDrawPart) part, steps[i]);
              }
}

/* The opposite edge stays. */
static void
test_screen_edge_keeps (void)
{
  static const PlumbDrawPart edge[4] = { PLUMB_PART_LEFT, PLUMB_PART_RIGHT, PLUMB_PART_BOTTOM, PLUMB_PART_TOP };
  static const PlumbDrawPart other[4] = { PLUMB_PART_RIGHT, PLUMB_PART_LEFT, PLUMB_PART_TOP, PLUMB_PART_BOTTOM };
  PlumbSubject screen = subject_of (PLUMB_RECORD_SCREEN, 0);
  for (int i = 0; i < 4; i++)
    {
      Sample s;
      crooked_init (&s);
      PlumbVec2 before = sample_handle (&s, PLUMB_DRAW_PICTURE, screen, other[i]);
      PlumbScene *scene = sample_scene (&s);
      PlumbEvaluation *evaluation = NULL;
      PlumbDrawDrag drag;
      g_assert_true (plumb_evaluate (scene, 0, &evaluation));
      g_assert_true (plumb_draw_drag_init (&drag, scene, evaluation, PLUMB_DRAW_PICTURE, screen, edge[i]));
      g_autoptr (GArray) edits
          = plumb_draw_drag_to (&drag, plumb_vec2_add (plumb_draw_drag_handle (&drag), plumb_vec2 (0.2, 0.1)));
      plumb_evaluation_free (evaluation);
      plumb_scene_unref (scene);
      sample_apply (&s, edits);
      PlumbVec2 after = sample_handle (&s, PLUMB_DRAW_PICTURE, screen, other[i]);
      if (i < 2)
        g_assert_cmpfloat_with_epsilon (before.x, after.x, 1e-9);
      else
        g_assert_cmpfloat_with_epsilon (before.y, after.y, 1e-9);
    }
}

static void
test_hole (void)
{
  static const char *const walls[] = { "back", "right", "front", "splay", "left" };
  for (int wall = 0; wall < 5; wall++)
    for (int end = 0; end < 2; end++)
      {
        Sample s;
        crooked_init (&s);
        SET_ID (s.port[0].wall, walls[wall]);
        s.port[0].along_end = end == 0 ? PLUMB_END_START : PLUMB_END_END;
        check_all (&s, subject_of (PLUMB_RECORD_PORT, 0), PLUMB_PART_WHOLE);
      }
}

/* A hole stays within its wall: the splay is 4.440 m long (2.6 and 3.6 m),
 * the port 0.3 m wide. */
static void
test_hole_stops (void)
{
  Sample s;
  crooked_init (&s);
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  g_assert_true (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_PORT, 0),
                                       PLUMB_PART_WHOLE));
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, plumb_vec2 (-40.0, -40.0));
  sample_apply (&s, edits);
  g_assert_cmpfloat_with_epsilon (s.port[0].along_m, hypot (2.6, 3.6) - 0.15, 1e-9);
  plumb_scene_unref (scene);
}

/* ---- loose things ------------------------------------------------------------------------ */

static void
test_loose (void)
{
  Sample s;
  crooked_init (&s);
  check_all (&s, subject_of (PLUMB_RECORD_SEAT, 0), PLUMB_PART_WHOLE);
  check_all (&s, subject_of (PLUMB_RECORD_ROW, 0), PLUMB_PART_WHOLE);
  /* The last seat of a curved row's second row. */
  check_all (&s, (PlumbSubject){ PLUMB_RECORD_ROW, 0, 8 }, PLUMB_PART_WHOLE);
  check_all (&s, subject_of (PLUMB_RECORD_BLOCKER, 0), PLUMB_PART_WHOLE);
  check_all (&s, subject_of (PLUMB_RECORD_BLOCKER, 1), PLUMB_PART_WHOLE);
}

/* All corners of an outline move alike. */
static void
test_outline (void)
{
  Sample s;
  crooked_init (&s);
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  g_assert_true (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_BLOCKER, 1),
                                       PLUMB_PART_WHOLE));
  PlumbVec3 room = plumb_draw_plane_to_room (
      &drag.plane, plumb_vec2_add (plumb_draw_drag_handle (&drag), plumb_vec2 (0.25, -0.5)), 0.0);
  PlumbVec2 by = { room.x - s.blocker_point[0].x_m, room.y - s.blocker_point[0].y_m };
  g_autoptr (GArray) edits
      = plumb_draw_drag_to (&drag, plumb_vec2_add (plumb_draw_drag_handle (&drag), plumb_vec2 (0.25, -0.5)));
  Sample moved = s;
  sample_apply (&moved, edits);
  g_assert_cmpuint (edits->len, ==, 4);
  for (int i = 0; i < 4; i++)
    {
      g_assert_cmpfloat_with_epsilon (moved.blocker_point[i].x_m - s.blocker_point[i].x_m, by.x, 1e-9);
      g_assert_cmpfloat_with_epsilon (moved.blocker_point[i].y_m - s.blocker_point[i].y_m, by.y, 1e-9);
    }
  g_assert_cmpfloat (hypot (by.x, by.y), >, 0.5);
  plumb_scene_unref (scene);
}

/* ---- by hand ------------------------------------------------------------------------------- */

static double
edited (const GArray *edits, int field)
{
  for (guint i = 0; i < edits->len; i++)
    {
      const PlumbDrawEdit *edit = &g_array_index (edits, PlumbDrawEdit, i);
      for (unsigned k = 0; k < edit->n; k++)
        if (edit->field[k] == field)
          return edit->value[k];
    }
  return NAN;
}

/* Place A of the net loft is 3.192 m along the picture wall from its end,
 * which is the viewer's left, and 4.700 m off it, 0.110 m under beam T2. On
 * the plan 0.1 m to the right makes it 3.292; on the ceiling drawing, which is
 * seen from below, the viewer's right is on the left. Down the page is away
 * from the picture. */
static void
test_net_loft (void)
{
  static const struct {
    PlumbDrawKind kind;
    PlumbVec2 by;
    double along, off, drop;
  } cases[] = {
    { PLUMB_DRAW_PLAN, { 0.1, 0.0 }, 3.292, NAN, NAN },       { PLUMB_DRAW_PLAN, { 0.0, -0.2 }, NAN, 4.9, NAN },
    { PLUMB_DRAW_CEILING, { 0.1, 0.0 }, 3.092, NAN, NAN },    { PLUMB_DRAW_CEILING, { -0.1, 0.2 }, 3.292, 4.5, NAN },
    { PLUMB_DRAW_SIDE, { 0.3, 0.0 }, NAN, 5.0, NAN },         { PLUMB_DRAW_SIDE, { 0.0, -0.2 }, NAN, NAN, 0.31 },
    { PLUMB_DRAW_PICTURE, { -0.1, 0.05 }, 3.092, NAN, 0.06 },
  };
  Demo demo;
  demo_open (&demo, "net-loft");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PlumbDrawDrag drag;
      g_assert_true (plumb_draw_drag_init (&drag, demo.scene, demo.evaluation, cases[i].kind,
                                           subject_of (PLUMB_RECORD_PLACE, 0), PLUMB_PART_WHOLE));
      g_autoptr (GArray) edits
          = plumb_draw_drag_to (&drag, plumb_vec2_add (plumb_draw_drag_handle (&drag), cases[i].by));
      const int field[3] = { PLUMB_FIELD_place_along_m, PLUMB_FIELD_place_off_m, PLUMB_FIELD_place_drop_m };
      const double wanted[3] = { cases[i].along, cases[i].off, cases[i].drop };
      for (int k = 0; k < 3; k++)
        if (isnan (wanted[k]))
          g_assert_true (isnan (edited (edits, field[k])));
        else
          g_assert_cmpfloat_with_epsilon (edited (edits, field[k]), wanted[k], 1e-9);
    }
  demo_close (&demo);
}

static void
test_round (void)
{
  PlumbDrawEdit edit = { PLUMB_RECORD_SCREEN,
                         0,
                         3,
                         { PLUMB_FIELD_screen_across_m, PLUMB_FIELD_screen_stand_off_m, PLUMB_FIELD_screen_lean_rad },
                         { 3.19249, 12.6, 1.2345 } };
  plumb_draw_edit_round (&edit, 0.001);
  g_assert_cmpfloat (edit.value[0], ==, 3.192);
  g_assert_cmpfloat (edit.value[1], ==, 13.0);
  g_assert_cmpfloat (edit.value[2], ==, 1.2345);
  edit.value[0] = 1.0;
  /* 630/16 in are 1.000125 m. */
  plumb_draw_edit_round (&edit, 0.0254 / 16.0);
  g_assert_cmpfloat_with_epsilon (edit.value[0], 1.000125, 1e-8);
}

/* Nothing that lies in no drawing, is missing or cannot be moved is taken
 * hold of, and wild points give no edit. */
/* Where the record is after a corner was led by a vector in a drawing. The
 * drawing turns with the picture's wall, so the point is compared in the room. */
static void
check_corner (const Sample *sample, PlumbDrawKind kind, uint32_t wall, PlumbVec2 by)
{
  Sample moved = *sample;
  PlumbScene *scene = sample_scene (sample);
  PlumbDrawDrag drag;
  g_assert_true (
      plumb_draw_drag_init (&drag, scene, NULL, kind, subject_of (PLUMB_RECORD_WALL, wall), PLUMB_PART_CORNER));
  PlumbVec2 point = plumb_vec2_add (plumb_draw_drag_handle (&drag), by);
  PlumbVec3 wanted = plumb_draw_plane_to_room (&drag.plane, point, 0.0);
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, point);
  sample_apply (&moved, edits);
  g_assert_cmpfloat_with_epsilon (moved.wall[wall].x_m, wanted.x, 1e-9);
  g_assert_cmpfloat_with_epsilon (moved.wall[wall].y_m, wanted.y, 1e-9);
  plumb_scene_unref (scene);
}

/* Each corner of the crooked outline, from above and from below; from the side
 * there is none. */
static void
test_corner (void)
{
  Sample s;
  crooked_init (&s);
  for (uint32_t i = 0; i < s.n_wall; i++)
    for (gsize k = 0; k < G_N_ELEMENTS (steps); k++)
      {
        check_corner (&s, PLUMB_DRAW_PLAN, i, steps[k]);
        check_corner (&s, PLUMB_DRAW_CEILING, i, steps[k]);
      }
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  g_assert_false (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_SIDE, subject_of (PLUMB_RECORD_WALL, 0),
                                        PLUMB_PART_CORNER));
  plumb_scene_unref (scene);
}

static void
test_refused (void)
{
  Sample s;
  crooked_init (&s);
  SET_ID (s.place[1].along_wall, "nowhere");
  SET_ID (s.port[0].wall, "nowhere");
  PlumbScene *scene = sample_scene (&s);
  PlumbDrawDrag drag;
  const PlumbSubject refused[]
      = { subject_of (PLUMB_RECORD_PLACE, 1), subject_of (PLUMB_RECORD_PORT, 0), subject_of (PLUMB_RECORD_PLACE, 7),
          subject_of (PLUMB_RECORD_WALL, 0), subject_of (PLUMB_RECORD_NONE, 0) };
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    g_assert_false (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, refused[i], PLUMB_PART_WHOLE));
  g_assert_true (plumb_draw_drag_init (&drag, scene, NULL, PLUMB_DRAW_PLAN, subject_of (PLUMB_RECORD_SEAT, 0),
                                       PLUMB_PART_WHOLE));
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, plumb_vec2 (NAN, 1.0));
  g_assert_cmpuint (edits->len, ==, 0);
  plumb_scene_unref (scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drag/place-references", test_place_references);
  g_test_add_func ("/drag/place-heights", test_place_heights);
  g_test_add_func ("/drag/place-keeps-height", test_place_keeps_height);
  g_test_add_func ("/drag/place-stops", test_place_stops);
  g_test_add_func ("/drag/screen", test_screen);
  g_test_add_func ("/drag/screen-edge-keeps", test_screen_edge_keeps);
  g_test_add_func ("/drag/hole", test_hole);
  g_test_add_func ("/drag/hole-stops", test_hole_stops);
  g_test_add_func ("/drag/loose", test_loose);
  g_test_add_func ("/drag/outline", test_outline);
  g_test_add_func ("/drag/corner", test_corner);
  g_test_add_func ("/drag/net-loft", test_net_loft);
  g_test_add_func ("/drag/round", test_round);
  g_test_add_func ("/drag/refused", test_refused);
  return g_test_run ();
}
