/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scene: counting, sharing, finding; places, screens and seats worked out
 * by hand from the frames of the design (section 2). */
#include <math.h>

#include "sample-job.h"

#define NEAR(a, b) g_assert_cmpfloat_with_epsilon (a, b, 1e-12)

static void
assert_point (PlumbVec3 p, double x, double y, double z)
{
  NEAR (p.x, x);
  NEAR (p.y, y);
  NEAR (p.z, z);
}

static void
test_sharing (void)
{
  Sample s;
  sample_init (&s);
  PlumbScene *scene = sample_scene (&s);
  PlumbPlace places[2] = { s.place[0], s.place[1] };

  places[0].drop_m = 0.5;
  PlumbScene *edited = plumb_scene_with (scene, PLUMB_RECORD_PLACE, places, 2);
  g_assert_true (plumb_scene_commit (edited));
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_assert_cmpint (plumb_scene_shares (scene, edited, (PlumbRecordKind) kind), ==, kind != PLUMB_RECORD_PLACE);
  NEAR (plumb_scene_place (scene, 0)->drop_m, 0.3);
  NEAR (plumb_scene_place (edited, 0)->drop_m, 0.5);
  /* The old root may go first. */
  plumb_scene_unref (scene);
  g_assert_cmpuint (plumb_scene_find (edited, PLUMB_RECORD_WALL, "front"), ==, 2);
  PlumbScene *again = plumb_scene_ref (edited);
  plumb_scene_unref (edited);
  g_assert_cmpuint (plumb_scene_resolved (again)->n_places, ==, 2);
  plumb_scene_unref (again);
  plumb_scene_unref (NULL);
}

static void
test_find (void)
{
  Sample s;
  sample_init (&s);
  PlumbScene *scene = sample_scene (&s);

  g_assert_cmpuint (plumb_scene_find (scene, PLUMB_RECORD_PLACE, "stand"), ==, 1);
  g_assert_cmpuint (plumb_scene_find (scene, PLUMB_RECORD_PLACE, "front"), ==, PLUMB_NO_INDEX);
  g_assert_cmpuint (plumb_scene_find (scene, PLUMB_RECORD_PLACE, ""), ==, PLUMB_NO_INDEX);
  g_assert_cmpuint (plumb_scene_current_arrangement (scene), ==, 0);
  plumb_scene_unref (scene);
  scene = plumb_scene_new ();
  g_assert_cmpuint (plumb_scene_current_arrangement (scene), ==, PLUMB_NO_INDEX);
  plumb_scene_unref (scene);
}

static void
test_nested (void)
{
  Sample s;
  guint n;
  sample_init (&s);
  s.n_lens = 2;
  s.lens[1] = s.lens[0];
  SET_ID (s.lens[1].id, "other");
  for (guint i = 0; i < 5; i++)
    {
      plumb_record_default (PLUMB_RECORD_LENS_PAIR, &s.pair[i]);
      s.pair[i].head.owner = i < 2 ? 0 : 1;
      s.pair[i].distance_m = 1.0 + i;
    }
  s.n_pair = 5;
  PlumbScene *scene = sample_scene (&s);
  const PlumbLensPairLine *lines = plumb_scene_nested (scene, PLUMB_RECORD_LENS_PAIR, 1, &n);
  g_assert_cmpuint (n, ==, 3);
  NEAR (lines[0].distance_m, 3.0);
  plumb_scene_nested (scene, PLUMB_RECORD_LENS_PAIR, 0, &n);
  g_assert_cmpuint (n, ==, 2);
  plumb_scene_nested (scene, PLUMB_RECORD_LENS_PAIR, 7, &n);
  g_assert_cmpuint (n, ==, 0);
  plumb_scene_unref (scene);
}

/* Rectangular bound b: u = b/√3; two standard deviations: u = b/2 (JCGM 100,
 * 4.3.7 and 4.3.4, from memory). */
static void
test_tape (void)
{
  Sample s;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_TAPE, &s.tape[0]);
  SET_ID (s.tape[0].id, "laser");
  s.tape[0].error_m = 0.0015;
  s.tape[0].bound = PLUMB_BOUND_TWO_SIGMA;
  plumb_record_default (PLUMB_RECORD_TAPE, &s.tape[1]);
  SET_ID (s.tape[1].id, "long");
  s.tape[1].error_m = 0.002;
  s.tape[1].error_per_m_share = 0.0003;
  s.n_tape = 2;
  SET_ID (s.job.tape, "laser");
  PlumbScene *scene = sample_scene (&s);
  NEAR (plumb_scene_tape_u_m (scene, "", 5.0), 0.00075);
  NEAR (plumb_scene_tape_u_m (scene, "long", -10.0), 0.005 / sqrt (3.0));
  plumb_scene_unref (scene);
  s.job.tape[0] = '\0';
  scene = sample_scene (&s);
  NEAR (plumb_scene_tape_u_m (scene, "", 5.0), 0.003 / sqrt (3.0));
  plumb_scene_unref (scene);
}

static void
test_places (void)
{
  Sample s;
  sample_init (&s);
  /* 3.1 m from the front wall's end (x = 0), 4.8 m off it, plate on the ceiling. */
  PlumbScene *scene = sample_scene (&s);
  const PlumbPlaceResolved *p = plumb_scene_resolved (scene)->places;
  g_assert_true (p[0].valid);
  assert_point (p[0].plate_m, 3.1, 4.6, 3.0);
  assert_point (p[0].normal, 0, 0, -1);
  assert_point (p[1].plate_m, 3.1, 4.4, 1.0);
  assert_point (p[1].normal, 0, 0, 1);
  g_assert_cmpuint (plumb_scene_resolved (scene)->n_faults, ==, 0);
  plumb_scene_unref (scene);

  /* From the other end, and off the left wall instead. */
  s.place[0].along_end = PLUMB_END_START;
  s.place[0].along_m = 2.0;
  SET_ID (s.place[0].along_wall, "left"); /* runs from (0, 9.4) to (0, 0) */
  SET_ID (s.place[0].off_wall, "back");   /* y = 0 */
  scene = sample_scene (&s);
  /* along the left wall gives y = 7.4, off the back wall gives y = 4.8: parallel lines */
  g_assert_false (plumb_scene_resolved (scene)->places[0].valid);
  g_assert_cmpint (plumb_scene_resolved (scene)->faults[0].code, ==, PLUMB_FAULT_PLACE_PARALLEL);
  plumb_scene_unref (scene);
  SET_ID (s.place[0].off_wall, "right");
  scene = sample_scene (&s);
  p = plumb_scene_resolved (scene)->places;
  assert_point (p[0].plate_m, 6.2 - 4.8, 7.4, 3.0);
  plumb_scene_unref (scene);
}

/* A room whose right wall runs at 45°: the crossing of the two tape lines. */
static void
test_slanted_place (void)
{
  Sample s;
  sample_init (&s);
  s.wall[1].x_m = 3.2; /* right wall from (3.2, 0) to (6.2, 9.4) is now slanted */
  s.wall[2].x_m = 12.6;
  s.wall[2].y_m = 9.4;
  SET_ID (s.place[0].along_wall, "front");
  s.place[0].along_end = PLUMB_END_END;
  s.place[0].along_m = 3.0;
  SET_ID (s.place[0].off_wall, "right");
  s.place[0].off_m = 2.0;
  PlumbScene *scene = sample_scene (&s);
  const PlumbPlaceResolved *p = plumb_scene_resolved (scene)->places;
  /* x = 3; right wall y = x − 3.2, inward normal (−1, 1)/√2:
   * (y − x + 3.2)/√2 = 2 → y = 2√2 + x − 3.2. */
  assert_point (p[0].plate_m, 3.0, 2.0 * sqrt (2.0) - 0.2, 3.0);
  /* An error of the second measure moves it along y by √2. */
  assert_point (p[0].off_axis, 0.0, sqrt (2.0), 0.0);
  plumb_scene_unref (scene);
}

static void
test_place_heights (void)
{
  Sample s;
  sample_init (&s);
  /* Ceiling rises 30° towards +y from 2.4 m at y = 0. */
  s.ceiling[0].height_m = 2.4;
  s.ceiling[0].slope_rad = PLUMB_PI / 6.0;
  s.ceiling[0].rise_direction_rad = PLUMB_PI / 2.0;
  s.place[0].height_m = 0.1;
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &s.structure[0]);
  SET_ID (s.structure[0].id, "t");
  s.structure[0].start_x_m = 0.0;
  s.structure[0].start_y_m = 3.0;
  s.structure[0].start_z_m = 2.2;
  s.structure[0].end_x_m = 6.2;
  s.structure[0].end_y_m = 3.0;
  s.structure[0].end_z_m = 2.82;
  s.structure[0].count = 3;
  s.structure[0].spacing_m = 1.0;
  s.structure[0].spacing_direction_rad = PLUMB_PI / 2.0;
  s.n_structure = 1;
  s.place[1].carried = PLUMB_CARRIED_HUNG;
  s.place[1].height_from = PLUMB_HEIGHT_FROM_STRUCTURE;
  SET_ID (s.place[1].height_of, "t");
  s.place[1].height_m = 0.0;
  PlumbScene *scene = sample_scene (&s);
  const PlumbPlaceResolved *p = plumb_scene_resolved (scene)->places;
  assert_point (p[0].plate_m, 3.1, 4.6, 2.4 + 4.6 * tan (PLUMB_PI / 6.0) - 0.1);
  assert_point (p[0].normal, 0.0, 0.5, -sqrt (3.0) / 2.0);
  /* Under the second member (y = 4), at 3.1 of 6.2 m: half way up. */
  NEAR (p[1].plate_m.z, 2.51);
  g_assert_cmpfloat (p[1].normal.z, <, -0.9);
  NEAR (p[1].normal.y, 0.0);
  plumb_scene_unref (scene);
}

static void
test_place_outside (void)
{
  Sample s;
  sample_init (&s);
  s.place[0].off_m = 12.0;
  s.place[0].height_from = PLUMB_HEIGHT_FROM_FLOOR;
  s.place[2] = s.place[0]; /* no ceiling there to measure from either */
  s.place[2].height_from = PLUMB_HEIGHT_FROM_CEILING;
  s.n_place = 3;
  SET_ID (s.place[1].along_wall, "nowhere");
  PlumbScene *scene = sample_scene (&s);
  const PlumbResolved *r = plumb_scene_resolved (scene);
  g_assert_true (r->places[0].valid);
  g_assert_false (r->places[1].valid);
  g_assert_false (r->places[2].valid);
  gboolean outside = FALSE, outside_too = FALSE, reference = FALSE;
  for (guint i = 0; i < r->n_faults; i++)
    {
      outside |= r->faults[i].code == PLUMB_FAULT_PLACE_OUTSIDE && r->faults[i].index == 0;
      outside_too |= r->faults[i].code == PLUMB_FAULT_PLACE_OUTSIDE && r->faults[i].index == 2;
      reference |= r->faults[i].code == PLUMB_FAULT_REFERENCE && r->faults[i].kind == PLUMB_RECORD_PLACE
                   && r->faults[i].index == 1 && r->faults[i].field == PLUMB_FIELD_place_along_wall;
    }
  g_assert_true (outside);
  g_assert_true (outside_too);
  g_assert_true (reference);
  plumb_scene_unref (scene);
}

/* n is the inward normal, u = (start − end)/length; the viewer's left end of
 * the wall is its end (design, section 2), on all four walls. */
static void
test_screens (void)
{
  static const struct {
    const char *wall;
    double u[2], n[2], centre[2];
  } cases[] = { { "front", { 1, 0 }, { 0, -1 }, { 1.0, 9.3 } },
                { "back", { -1, 0 }, { 0, 1 }, { 5.2, 0.1 } },
                { "right", { 0, -1 }, { -1, 0 }, { 6.1, 8.4 } },
                { "left", { 0, 1 }, { 1, 0 }, { 0.1, 1.0 } } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Sample s;
      sample_init (&s);
      SET_ID (s.screen[0].wall, cases[i].wall);
      s.screen[0].across_m = 1.0; /* from the end, the viewer's left */
      s.screen[0].stand_off_m = 0.1;
      PlumbScene *scene = sample_scene (&s);
      const PlumbScreenResolved *r = plumb_scene_resolved (scene)->screens;
      g_assert_true (r->valid);
      assert_point (r->frame.u, cases[i].u[0], cases[i].u[1], 0);
      assert_point (r->frame.n, cases[i].n[0], cases[i].n[1], 0);
      assert_point (r->frame.origin_m, cases[i].centre[0], cases[i].centre[1], 1.8);
      assert_point (plumb_vec3_cross (r->frame.u, r->frame.v), r->frame.n.x, r->frame.n.y, r->frame.n.z);
      plumb_scene_unref (scene);
    }
}

static void
test_screen_lean_and_free (void)
{
  Sample s;
  sample_init (&s);
  s.screen[0].lean_rad = PLUMB_PI / 6.0;
  s.screen[0].across_end = PLUMB_END_START;
  s.screen[0].across_to = PLUMB_ACROSS_NEAR_EDGE;
  s.screen[0].across_m = 1.0; /* right edge at x = 5.2, centre at 3.6 */
  s.screen[1] = s.screen[0];
  SET_ID (s.screen[1].id, "free");
  s.screen[1].support = PLUMB_SUPPORT_FREE;
  s.screen[1].lean_rad = 0.0;
  s.screen[1].x_m = 2.0;
  s.screen[1].y_m = 5.0;
  s.screen[1].facing_rad = -PLUMB_PI / 2.0;
  s.n_screen = 2;
  PlumbScene *scene = sample_scene (&s);
  const PlumbScreenResolved *r = plumb_scene_resolved (scene)->screens;
  /* Upper edge towards the viewers: 0.9 m up the slope from the lower edge. */
  assert_point (r[0].frame.origin_m, 3.6, 9.4 - 0.9 * 0.5, 0.9 + 0.9 * sqrt (3.0) / 2.0);
  assert_point (r[1].frame.u, 1, 0, 0);
  assert_point (r[1].frame.origin_m, 2.0, 5.0, 1.8);
  g_assert_cmpuint (r[1].wall, ==, PLUMB_NO_INDEX);
  plumb_scene_unref (scene);
}

static void
test_seats (void)
{
  Sample s;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_SEAT, &s.seat[0]);
  SET_ID (s.seat[0].id, "sofa");
  s.n_seat = 1;
  plumb_record_default (PLUMB_RECORD_ROW, &s.row[0]);
  SET_ID (s.row[0].id, "r");
  s.row[0].x_m = 1.0;
  s.row[0].y_m = 4.0;
  s.row[0].facing_rad = PLUMB_PI / 2.0; /* towards +y: the sitters' right is +x */
  s.row[0].count = 4;
  s.row[0].pitch_m = 0.5;
  s.row[0].rows = 2;
  s.row[0].row_spacing_m = 1.1;
  s.row[0].riser_m = 0.2;
  s.row[0].stagger_m = 0.25;
  s.row[0].aisle_after = 2;
  s.row[0].aisle_m = 1.0;
  s.n_row = 1;
  PlumbScene *scene = sample_scene (&s);
  const PlumbResolved *r = plumb_scene_resolved (scene);
  g_assert_cmpuint (r->n_seats, ==, 9);
  g_assert_cmpstr (r->seats[0].id, ==, "sofa");
  g_assert_cmpstr (r->seats[3].id, ==, "r:3");
  assert_point (r->seats[3].eye_m, 3.0, 4.0, 1.2); /* two pitches and the aisle */
  g_assert_cmpstr (r->seats[5].id, ==, "r:5");
  assert_point (r->seats[5].eye_m, 1.25, 2.9, 1.4);
  plumb_scene_unref (scene);

  /* On an arc every seat looks at one point, radius away. */
  s.row[0].curve_radius_m = 6.0;
  s.row[0].rows = 1;
  s.row[0].aisle_after = 0;
  scene = sample_scene (&s);
  r = plumb_scene_resolved (scene);
  for (guint i = 1; i <= 4; i++)
    {
      PlumbVec2 focus = plumb_vec2 (1.75, 10.0), eye = plumb_vec2 (r->seats[i].eye_m.x, r->seats[i].eye_m.y);
      PlumbVec2 look = plumb_vec2 (cos (r->seats[i].facing_rad), sin (r->seats[i].facing_rad));
      PlumbVec2 to = plumb_vec2_sub (focus, eye);
      g_assert_cmpfloat_with_epsilon (plumb_vec2_length (to), 6.0, 1e-9);
      g_assert_cmpfloat_with_epsilon (plumb_vec2_cross (look, to), 0.0, 1e-9);
    }
  plumb_scene_unref (scene);
}

static void
test_too_many_seats (void)
{
  Sample s;
  sample_init (&s);
  plumb_record_default (PLUMB_RECORD_ROW, &s.row[0]);
  SET_ID (s.row[0].id, "r");
  s.row[0].count = 10000;
  s.row[0].rows = 1000;
  s.n_row = 1;
  PlumbScene *scene = sample_scene (&s);
  const PlumbResolved *r = plumb_scene_resolved (scene);
  g_assert_cmpuint (r->n_seats, ==, PLUMB_MAX_SEATS);
  g_assert_cmpint (r->faults[r->n_faults - 1].code, ==, PLUMB_FAULT_TOO_MANY_SEATS);
  plumb_scene_unref (scene);
}

/* 20,000 members of 500 repeats would be ten million solids: they are cut off
 * with a fault and the scene stays small. */
static void
test_too_many_solids (void)
{
  enum { N = 20000 };
  PlumbStructure *members = g_new (PlumbStructure, N);
  PlumbScene *scene = plumb_scene_new ();

  for (guint i = 0; i < N; i++)
    {
      plumb_record_default (PLUMB_RECORD_STRUCTURE, &members[i]);
      g_snprintf (members[i].id, sizeof members[i].id, "m%u", i);
      members[i].count = 500;
    }
  g_assert_true (plumb_scene_fill (scene, PLUMB_RECORD_STRUCTURE, members, N));
  g_assert_true (plumb_scene_commit (scene));
  const PlumbResolved *r = plumb_scene_resolved (scene);
  g_assert_cmpuint (r->building->n_solids, ==, PLUMB_MAX_SOLIDS);
  g_assert_cmpint (r->faults[r->n_faults - 1].code, ==, PLUMB_FAULT_TOO_MANY_SOLIDS);
  g_assert_cmpuint (r->faults[r->n_faults - 1].index, ==, PLUMB_MAX_SOLIDS / 500);
  plumb_scene_unref (scene);
  g_free (members);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/scene/sharing", test_sharing);
  g_test_add_func ("/scene/find", test_find);
  g_test_add_func ("/scene/nested", test_nested);
  g_test_add_func ("/scene/tape", test_tape);
  g_test_add_func ("/scene/places", test_places);
  g_test_add_func ("/scene/slanted-place", test_slanted_place);
  g_test_add_func ("/scene/place-heights", test_place_heights);
  g_test_add_func ("/scene/place-outside", test_place_outside);
  g_test_add_func ("/scene/screens", test_screens);
  g_test_add_func ("/scene/screen-lean-and-free", test_screen_lean_and_free);
  g_test_add_func ("/scene/seats", test_seats);
  g_test_add_func ("/scene/too-many-seats", test_too_many_seats);
  g_test_add_func ("/scene/too-many-solids", test_too_many_solids);
  return g_test_run ();
}
