/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The formulas of seats and sightlines against printed tables. */
#include <glib.h>

#include "plumbeam/people.h"

#define DEG (PLUMB_PI / 180.0)
#define NEAR(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)

/* Angles and d/W as printed for SMPTE EG 18-1994 (30°), cinema seats (60°) and
 * the schemes between them; whole picture heights of 16:9 and 2.39:1. */
static void
test_viewing_angle (void)
{
  static const double table[][2] = { { 26, 2.1657 }, { 30, 1.8660 }, { 36, 1.5388 }, { 40, 1.3737 },
                                     { 43.4, 1.2564 }, { 45, 1.2071 }, { 55, 0.9605 }, { 60, 0.8660 } };
  static const double heights[][3] = { { 2, 47.925, 61.717 }, { 3, 33.009, 43.438 }, { 4, 25.058, 33.267 } };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    NEAR (plumb_viewing_angle_rad (1.0, table[i][1]) / DEG, table[i][0], 0.002);
  for (guint i = 0; i < G_N_ELEMENTS (heights); i++)
    {
      NEAR (plumb_viewing_angle_rad (16.0 / 9.0, heights[i][0]) / DEG, heights[i][1], 5e-4);
      NEAR (plumb_viewing_angle_rad (2.39, heights[i][0]) / DEG, heights[i][2], 5e-4);
    }
}

/* 120-inch picture, 2.65679 m wide, at 4 m; ITU-R BT.500's design distance, two
 * pixels one minute of arc apart: 3437.75 / N picture heights. */
static void
test_pixels (void)
{
  static const double rows[][2] = { { 720, 4.7746 }, { 1080, 3.1831 }, { 1200, 2.8648 }, { 2160, 1.5915 } };

  NEAR (plumb_pixels_per_degree (1920.0 / 2.65679, 4.0), 50.457, 0.003);
  NEAR (plumb_pixels_per_degree (3840.0 / 2.65679, 4.0), 100.914, 0.006);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    NEAR (plumb_pixels_per_degree (rows[i][0], rows[i][1]), 60.0, 0.01);
}

/* Signs at 10.5 m for ISO 9241's 16, 20 and 22 minutes; AVIXA V202.01:2016,
 * basic decision making: 1500 mm at 10 500 mm takes signs of 3.5 % (printed). */
static void
test_signs (void)
{
  NEAR (plumb_sign_height_m (10.5, 16.0), 0.04887, 1e-5);
  NEAR (plumb_sign_height_m (10.5, 20.0), 0.06109, 1e-5);
  NEAR (plumb_sign_height_m (10.5, 22.0), 0.06720, 1e-5);
  NEAR (plumb_text_height_m (10.5) / 1.5, 0.035, 1e-12);
  NEAR (plumb_text_height_m (9.0) / 0.03, 1.5, 1e-12);
  NEAR (plumb_text_height_m (10.5), plumb_sign_height_m (10.5, 17.19), 1e-5);
}

/* AVIXA V202.01:2016, the far upright edge: 3.0 m aside, 3.0 m back. */
static void
test_far_edge (void)
{
  NEAR (plumb_far_edge_angle_rad (3.0, 3.0, 8.0 / 3.0) / DEG, 55.305, 5e-4);
  NEAR (plumb_far_edge_angle_rad (-3.0, 3.0, 8.0 / 3.0) / DEG, 55.305, 5e-4);
  /* The closest row inside 60°: 7533 mm wide at 2944 mm for 16:9, 1500 mm (printed). */
  NEAR (plumb_far_edge_angle_rad (7.533 / 2.0, 2.944, 8.0 / 3.0) / DEG, 60.0, 0.01);
}

/* Printed C-value exercises: N = (R + C)(D + T)/D − R and back. */
static void
test_c_value (void)
{
  NEAR (plumb_c_rise_m (30.0, 10.0, 1.0, 0.15), 0.488333, 5e-7);
  NEAR (plumb_c_value_m (4.0, 0.32, 1.1, 0.20), 0.087843, 5e-7);
  NEAR (plumb_c_rise_m (4.0, 0.32, 1.1, 0.12), 0.241000, 5e-7);
  NEAR (plumb_c_value_m (3.0, -0.40, 0.9, 0.0), 0.092308, 5e-7);
  NEAR (plumb_c_value_m (3.0, -0.52, 0.9, 0.0), 0.12, 5e-7);
  /* Every other row: T and N doubled. */
  NEAR (plumb_c_rise_m (3.5, 0.3, 2.0, 0.12), 0.36, 5e-7);
}

/* The worked room, every row: eye 1.2 m over its floor, edge 0.9 m, first eye
 * at 3.5 m, rows of 1.0 m, C = 0.12 m. */
static void
test_worked_room (void)
{
  static const double over[6] = { 0.300000, 0.540000, 0.806667, 1.095152, 1.402098, 1.725044 };
  static const double rise[6] = { 0.240000, 0.266667, 0.288485, 0.306946, 0.322946, 0.337064 };
  double r = 0.3;

  for (int i = 0; i < 6; i++)
    {
      NEAR (r, over[i], 1e-6);
      double n = plumb_c_rise_m (3.5 + i, r, 1.0, 0.12);
      NEAR (n, rise[i], 1e-6);
      NEAR (plumb_c_value_m (3.5 + i, r, 1.0, n), 0.12, 1e-12);
      r += n;
    }
}

/* ANSUR II on a seat of 450 mm, upright: 1148, 1225 and 1310 mm. */
static void
test_survey (void)
{
  NEAR (plumb_seat_eye_height_m (PLUMB_SEAT_KIND_CHAIR, PLUMB_EYE_FROM_WOMEN_5, 0.0, 0.0), 1.148, 1e-9);
  NEAR (plumb_seat_eye_height_m (PLUMB_SEAT_KIND_CHAIR, PLUMB_EYE_FROM_MIXED_50, 0.45, 0.0), 1.225, 1e-9);
  NEAR (plumb_seat_eye_height_m (PLUMB_SEAT_KIND_CHAIR, PLUMB_EYE_FROM_MEN_95, 0.0, 0.0), 1.310, 1e-9);
  /* Men's sitting eye height 750, 804, 860 mm; eye to crown 100, 114, 129 mm. */
  static const double men[3][2] = { { 0.750, 0.100 }, { 0.804, 0.114 }, { 0.860, 0.129 } };
  for (int i = 0; i < 3; i++)
    {
      PlumbBodyMeasures body = plumb_body_measures (PLUMB_EYE_FROM_MEN_5 + i);
      NEAR (body.eye_over_seat_m, men[i][0], 1e-9);
      NEAR (body.eye_to_crown_m, men[i][1], 1e-9);
    }
  /* A back laid down by 60° halves the eye's height over the seat: geometry. */
  NEAR (plumb_seat_eye_height_m (PLUMB_SEAT_KIND_LOUNGER, PLUMB_EYE_FROM_MEN_50, 0.4, 60.0 * DEG), 0.4 + 0.402, 1e-9);
  /* Pheasant: up to 40 mm are lost by slumping. */
  NEAR (plumb_seat_eye_height_m (PLUMB_SEAT_KIND_SOFA, PLUMB_EYE_FROM_MIXED_50, 0.45, 0.0), 1.185, 1e-9);
  g_assert_cmpfloat (plumb_body_measures (-3).stature_m, ==, plumb_body_measures (PLUMB_EYE_FROM_MIXED_50).stature_m);
}

static gboolean
sphere_in_pyramid (PlumbVec3 from, const PlumbVec3 corners[4], PlumbVec3 centre)
{
  /* The picture is upright and faces −y: the point's ray meets it between its
   * corners, and before it. */
  double part = (corners[0].y - from.y) / (centre.y - from.y);
  double x = from.x + (centre.x - from.x) * part, z = from.z + (centre.z - from.z) * part;
  return centre.y > from.y && centre.y < corners[0].y && x > corners[0].x && x < corners[1].x && z > corners[0].z
         && z < corners[3].z;
}

/* Nothing between eye and picture is missed, each is found once, and most of
 * the others are not looked at: against a look at every one. */
static void
test_tree (void)
{
  enum { N = 3000 };
  g_autofree PlumbVec3 *centres = g_new (PlumbVec3, N);
  g_autofree double *radii = g_new (double, N);
  g_autofree uint32_t *found = g_new (uint32_t, N);
  g_autofree gboolean *is_found = g_new (gboolean, N);
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  const PlumbVec3 corners[4] = { { -2, 30, 3 }, { 2, 30, 3 }, { 2, 30, 5 }, { -2, 30, 5 } };
  PlumbBodyTree tree;
  guint64 looked_at = 0;

  for (int i = 0; i < N; i++)
    {
      centres[i] = plumb_vec3 (g_rand_double_range (rand, -15, 15), g_rand_double_range (rand, -10, 40),
                               g_rand_double_range (rand, 0, 6));
      radii[i] = g_rand_double_range (rand, 0.05, 0.4);
    }
  g_assert_true (plumb_body_tree_make (centres, radii, N, &tree));
  for (int eye = 0; eye < 200; eye++)
    {
      PlumbVec3 from = plumb_vec3 (g_rand_double_range (rand, -10, 10), g_rand_double_range (rand, -10, 25),
                                   g_rand_double_range (rand, 0, 4));
      uint32_t n = plumb_body_tree_between (&tree, from, corners, found);
      memset (is_found, 0, N * sizeof *is_found);
      for (uint32_t i = 0; i < n; i++)
        {
          g_assert_false (is_found[found[i]]);
          is_found[found[i]] = TRUE;
        }
      for (int i = 0; i < N; i++)
        g_assert_true (is_found[i] || !sphere_in_pyramid (from, corners, centres[i]));
      looked_at += n;
    }
  g_assert_cmpuint (looked_at / 200, <, N / 5);
  plumb_body_tree_clear (&tree);
  g_assert_true (plumb_body_tree_make (centres, radii, 0, &tree));
  g_assert_cmpuint (plumb_body_tree_between (&tree, centres[0], corners, found), ==, 0);
  plumb_body_tree_clear (&tree);
}

static void
test_who (void)
{
  for (int kind = PLUMB_WHO_SEAT; kind < PLUMB_N_WHO; kind++)
    {
      PlumbWho who = { (PlumbWhoKind) kind, 19999 + (uint32_t) kind };
      PlumbWho back = plumb_who_of_number (plumb_who_number (who));
      g_assert_cmpint (back.kind, ==, who.kind);
      g_assert_cmpuint (back.index, ==, who.index);
    }
  g_assert_cmpint (plumb_who_of_number (0.0).kind, ==, PLUMB_WHO_NOBODY);
  g_assert_cmpint (plumb_who_of_number (NAN).kind, ==, PLUMB_WHO_NOBODY);
  g_assert_cmpint (plumb_who_of_number (1e300).kind, ==, PLUMB_WHO_NOBODY);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/people/viewing-angle", test_viewing_angle);
  g_test_add_func ("/people/pixels", test_pixels);
  g_test_add_func ("/people/signs", test_signs);
  g_test_add_func ("/people/far-edge", test_far_edge);
  g_test_add_func ("/people/c-value", test_c_value);
  g_test_add_func ("/people/worked-room", test_worked_room);
  g_test_add_func ("/people/survey", test_survey);
  g_test_add_func ("/people/tree", test_tree);
  g_test_add_func ("/people/who", test_who);
  return g_test_run ();
}
