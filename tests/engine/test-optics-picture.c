/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"
#include "reference-table.h"

#define ASPECT_16_9 (16.0 / 9.0)

/* tests/data/optics/aspect.txt: throw ratio 1 at the printed width throws the
 * printed picture; ±1 in the last printed digit (the width is rounded too). */
static void
test_aspect_and_diagonal (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/aspect.txt", "diagonal", 7);

  for (guint i = 0; i < rows->len; i++)
    {
      const double *v = g_array_index (rows, ReferenceRow, i).value;
      PlumbBeam beam = plain_beam (v[4] / 1000, 1.0, v[0], 0.0, 0.0);
      PlumbHomography map;
      PlumbQuad q = raw_on_plain_screen (&beam, &map);
      double w = q.corner[1].x - q.corner[0].x, h = q.corner[3].y - q.corner[0].y;
      double d = plumb_vec2_length (plumb_vec2_sub (q.corner[2], q.corner[0]));

      g_assert_cmpfloat_with_epsilon (w / d, v[1], 1e-6);
      g_assert_cmpfloat_with_epsilon (h / d, v[2], 1e-6);
      g_assert_cmpfloat_with_epsilon (d / w, v[3], 1e-6);
      g_assert_cmpfloat_with_epsilon (d, 3.048, 1e-5);
      g_assert_cmpfloat_with_epsilon (h, v[5] / 1000, 1e-5);
      g_assert_cmpfloat_with_epsilon (plumb_polygon_area (q.corner, 4), v[6], 2.5e-5);
    }
}

/* tests/data/optics/throw.txt */
static void
test_throw (void)
{
  g_autoptr (GArray) distances = reference_table_load ("optics/throw.txt", "distance", 4);
  g_autoptr (GArray) angles = reference_table_load ("optics/throw.txt", "half-angle", 4);

  for (guint i = 0; i < distances->len; i++)
    {
      const double *v = g_array_index (distances, ReferenceRow, i).value;
      PlumbBeam beam = plain_beam (v[2], v[1], 1.6, 0.0, 0.0);
      PlumbHomography map;
      PlumbQuad q = raw_on_plain_screen (&beam, &map);

      g_assert_cmpfloat_with_epsilon (q.corner[1].x - q.corner[0].x, v[0], v[3] / v[1]);
    }
  const double *v = g_array_index (angles, ReferenceRow, 0).value;
  PlumbBeam beam = plain_beam (3.0, v[0], v[1], 0.0, 0.0);
  PlumbVec3 side = plumb_beam_ray (&beam, plumb_vec2 (0.5, 0.0)), top = plumb_beam_ray (&beam, plumb_vec2 (0.0, 0.5));
  g_assert_cmpfloat_with_epsilon (atan2 (side.x, side.y) / DEG, v[2], 1e-4);
  g_assert_cmpfloat_with_epsilon (atan2 (top.z, top.y) / DEG, v[3], 1e-4);
}

static PlumbRect
greatest_on_plain_screen (double pitch_deg, double yaw_deg, double *share)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, yaw_deg, pitch_deg);
  PlumbHomography map;
  PlumbQuad q = raw_on_plain_screen (&beam, &map);
  PlumbRect rect;

  g_assert_true (plumb_greatest_rectangle (q.corner, 4, ASPECT_16_9, plumb_vec2 (0.0, 0.0), &rect));
  *share = plumb_panel_share (&map, &rect);
  return rect;
}

/* tests/data/optics/rectangle.txt and the last column of keystone.txt, tilt */
static void
test_rectangles_and_shares (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/rectangle.txt", "kept", 6);
  g_autoptr (GArray) tilts = reference_table_load ("optics/keystone.txt", "tilt", 4);
  double share;

  for (guint i = 0; i < rows->len; i++)
    {
      const double *v = g_array_index (rows, ReferenceRow, i).value;
      PlumbRect rect = greatest_on_plain_screen (v[0], v[1], &share);

      g_assert_cmpfloat_with_epsilon (rect.width_m, v[2], 1e-6);
      g_assert_cmpfloat_with_epsilon (rect.height_m, v[3], 1e-6);
      g_assert_cmpfloat_with_epsilon (share, v[4], v[5]);
    }
  for (guint i = 0; i < tilts->len; i++)
    {
      const double *v = g_array_index (tilts, ReferenceRow, i).value;

      greatest_on_plain_screen (v[0], 0.0, &share);
      g_assert_cmpfloat_with_epsilon (share, v[3], 1e-5);
    }
}

static void
test_pre_image (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/rectangle.txt", "pre-image", 3);
  const double *v = g_array_index (rows, ReferenceRow, 0).value;
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 10.0);
  PlumbHomography map, back;
  PlumbQuad q = raw_on_plain_screen (&beam, &map), corners, on_panel;
  PlumbRect rect;

  g_assert_true (plumb_greatest_rectangle (q.corner, 4, ASPECT_16_9, plumb_vec2 (0, 0), &rect));
  corners = plumb_rect_corners (&rect);
  g_assert_true (plumb_homography_invert (&map, &back));
  for (int k = 0; k < 4; k++)
    g_assert_true (plumb_homography_apply (&back, corners.corner[k], &on_panel.corner[k]));
  /* Tilted up, the bottom of the panel makes the narrow edge of the wall: the
   * rectangle's lower corners use its whole width, the upper ones less. */
  double across[2] = { 1920 * (on_panel.corner[1].x - on_panel.corner[0].x),
                       1920 * (on_panel.corner[2].x - on_panel.corner[3].x) };
  g_assert_cmpfloat_with_epsilon (across[0], v[0], 0.05);
  g_assert_cmpfloat_with_epsilon (across[1], v[1], 0.05);
  g_assert_cmpfloat_with_epsilon (1080 * (on_panel.corner[3].y - on_panel.corner[0].y), v[2], 0.05);
}

/* By hand: in a 4 × 1 strip a square of 1 slides; the nearest to the wanted
 * centre is taken, at the ends the wall stops it. */
static void
test_ties_go_to_the_centre (void)
{
  PlumbVec2 strip[4] = { { 0, 0 }, { 4, 0 }, { 4, 1 }, { 0, 1 } };
  double wanted[4] = { 1.25, -3.0, 9.0, 2.0 }, taken[4] = { 1.25, 0.5, 3.5, 2.0 };
  PlumbRect rect;

  for (int k = 0; k < 4; k++)
    {
      g_assert_true (plumb_greatest_rectangle (strip, 4, 1.0, plumb_vec2 (wanted[k], 7.0), &rect));
      assert_vec2_near (rect.centre_m, taken[k], 0.5, 1e-11);
      g_assert_cmpfloat_with_epsilon (rect.height_m, 1.0, 1e-11);
      g_assert_cmpfloat_with_epsilon (rect.width_m, 1.0, 1e-11);
    }
}

/* By hand: the greatest square in the triangle (0,0) (2,0) (0,2) has side 1;
 * the same run clockwise, and with a corner given twice. */
static void
test_clockwise_and_repeated_corner (void)
{
  PlumbVec2 shapes[3][4] = { { { 0, 0 }, { 2, 0 }, { 2, 0 }, { 0, 2 } },
                             { { 0, 0 }, { 0, 2 }, { 2, 0 }, { 2, 0 } },
                             { { 0, 0 }, { 1, 0 }, { 2, 0 }, { 0, 2 } } };
  PlumbRect rect;

  for (int k = 0; k < 3; k++)
    {
      g_assert_true (plumb_greatest_rectangle (shapes[k], 4, 1.0, plumb_vec2 (5, 5), &rect));
      assert_vec2_near (rect.centre_m, 0.5, 0.5, 1e-11);
      g_assert_cmpfloat_with_epsilon (rect.height_m, 1.0, 1e-11);
    }
}

/* Every corner inside, in raw pictures of random poses cut to a screen; a
 * rectangle a millionth higher does not fit anywhere (that is the programme's
 * business, tested there and against SciPy). */
static void
test_rectangle_stays_inside (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (51);

  for (int i = 0; i < 500; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, false);
      PlumbHomography map;
      PlumbQuad q;
      PlumbVec2 cut[5];
      PlumbRect rect;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
      g_assert_true (plumb_raw_picture (&map, &q, NULL));
      size_t n = plumb_polygon_clip (q.corner, 4, plumb_vec2 (1, 0), q.corner[1].x, cut);
      if (!plumb_greatest_rectangle (cut, n, 1.6, plumb_vec2 (0, 0), &rect))
        {
          g_assert_cmpfloat (fabs (plumb_polygon_area (cut, n)), <, 1e-9);
          continue;
        }
      PlumbQuad corners = plumb_rect_corners (&rect);
      for (size_t e = 0; e < n; e++)
        {
          PlumbVec2 along = plumb_vec2_sub (cut[(e + 1) % n], cut[e]);
          for (int k = 0; k < 4; k++)
            g_assert_cmpfloat (plumb_vec2_cross (along, plumb_vec2_sub (corners.corner[k], cut[e])), >=, -1e-10);
        }
      double share = plumb_panel_share (&map, &rect);
      g_assert_cmpfloat (share, >, 0.0);
      g_assert_cmpfloat (share, <=, 1.0 + 1e-12);
    }
}

static void
test_zero_area (void)
{
  PlumbVec2 line[4] = { { 0, 0 }, { 1, 1 }, { 2, 2 }, { 1, 1 } }, point[3] = { { 1, 1 }, { 1, 1 }, { 1, 1 } };
  PlumbRect rect;

  g_assert_false (plumb_greatest_rectangle (line, 4, 1.6, plumb_vec2 (0, 0), &rect));
  g_assert_false (plumb_greatest_rectangle (point, 3, 1.6, plumb_vec2 (0, 0), &rect));
  g_assert_false (plumb_greatest_rectangle (line, 2, 1.6, plumb_vec2 (0, 0), &rect));
  g_assert_false (plumb_greatest_rectangle (NULL, 0, 1.6, plumb_vec2 (0, 0), &rect));
}

/* A rectangle on the part of the wall behind the lens plane has no pre-image. */
static void
test_no_pre_image (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 60.0);
  PlumbPlaneFrame screen = plain_screen ();
  PlumbHomography map;
  PlumbRect rect = { { 0, -3.0 }, 1.6, 1.0 };
  double least = 7.0, greatest = 7.0;

  /* The lens plane meets the wall 3 / tan 60 = 1.732 m below the axis. */
  g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
  g_assert_cmpfloat (plumb_panel_share (&map, &rect), ==, 0.0);
  g_assert_false (plumb_pixel_density (&map, &rect, 1920, 1080, &least, &greatest));
  rect.centre_m.y = -1.0;
  g_assert_true (plumb_pixel_density (&map, &rect, 1920, 1080, &least, &greatest));
}

/* Square-on: 1920 px over 2.0 m. */
static void
test_density_square_on (void)
{
  PlumbBeam beam = plain_beam (3.0, 1.5, ASPECT_16_9, 0.0, 0.0);
  PlumbHomography map;
  PlumbRect rect = { { 0.1, 0.2 }, 1.6, 0.5 };
  double least, greatest;

  raw_on_plain_screen (&beam, &map);
  g_assert_true (plumb_pixel_density (&map, &rect, 1920, 1080, &least, &greatest));
  g_assert_cmpfloat_with_epsilon (least, 0.96, 1e-12);
  g_assert_cmpfloat_with_epsilon (greatest, 0.96, 1e-12);
}

/* Pixels per millimetre by a step of the inverse map itself. */
static double
density_by_step (const PlumbHomography *back, PlumbVec2 p, PlumbVec2 step)
{
  PlumbVec2 a, b;

  g_assert_true (plumb_homography_apply (back, plumb_vec2_sub (p, step), &a));
  g_assert_true (plumb_homography_apply (back, plumb_vec2_add (p, step), &b));
  return hypot ((b.x - a.x) * 1920, (b.y - a.y) * 1080) / (plumb_vec2_length (step) * 2000.0);
}

/* The extremes against a grid of small steps over the rectangle, all rolls. */
static void
test_density_against_grid (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (52);
  const int n = 40;

  for (int i = 0; i < 100; i++)
    {
      PlumbPlaneFrame screen = random_frame (rand);
      PlumbBeam beam = random_beam (rand, &screen, false);
      PlumbHomography map, back;
      PlumbQuad q;
      PlumbRect rect;
      double least, greatest, seen_least = INFINITY, seen_greatest = 0.0;

      g_assert_true (plumb_homography_to_plane (&beam, &screen, false, &map));
      g_assert_true (plumb_raw_picture (&map, &q, NULL));
      g_assert_true (plumb_homography_invert (&map, &back));
      g_assert_true (plumb_greatest_rectangle (q.corner, 4, 1.6, plumb_vec2 (0, 0), &rect));
      g_assert_true (plumb_pixel_density (&map, &rect, 1920, 1080, &least, &greatest));
      PlumbVec2 corner = plumb_rect_corners (&rect).corner[0];
      for (int x = 0; x <= n; x++)
        for (int y = 0; y <= n; y++)
          {
            PlumbVec2 p = { corner.x + rect.width_m * x / n, corner.y + rect.height_m * y / n };
            double along_u = density_by_step (&back, p, plumb_vec2 (1e-5, 0));
            double along_v = density_by_step (&back, p, plumb_vec2 (0, 1e-5));

            seen_least = fmin (seen_least, fmin (along_u, along_v));
            seen_greatest = fmax (seen_greatest, fmax (along_u, along_v));
          }
      g_assert_cmpfloat (seen_least, >=, least * (1 - 1e-7));
      g_assert_cmpfloat (seen_greatest, <=, greatest * (1 + 1e-7));
      g_assert_cmpfloat_with_epsilon (seen_least / least, 1.0, 1e-3);
      g_assert_cmpfloat_with_epsilon (seen_greatest / greatest, 1.0, 1e-3);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/picture/aspect-and-diagonal", test_aspect_and_diagonal);
  g_test_add_func ("/optics/picture/throw", test_throw);
  g_test_add_func ("/optics/picture/rectangles-and-shares", test_rectangles_and_shares);
  g_test_add_func ("/optics/picture/pre-image", test_pre_image);
  g_test_add_func ("/optics/picture/ties-go-to-the-centre", test_ties_go_to_the_centre);
  g_test_add_func ("/optics/picture/clockwise-and-repeated-corner", test_clockwise_and_repeated_corner);
  g_test_add_func ("/optics/picture/rectangle-stays-inside", test_rectangle_stays_inside);
  g_test_add_func ("/optics/picture/zero-area", test_zero_area);
  g_test_add_func ("/optics/picture/no-pre-image", test_no_pre_image);
  g_test_add_func ("/optics/picture/density-square-on", test_density_square_on);
  g_test_add_func ("/optics/picture/density-against-grid", test_density_against_grid);
  return g_test_run ();
}
