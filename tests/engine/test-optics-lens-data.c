/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "optics-testing.h"
#include "reference-table.h"

/* tests/data/optics/offset.txt, and back to the printed form. */
static void
test_offset_forms (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/offset.txt", "offset", 4);

  for (guint i = 0; i < rows->len; i++)
    {
      const double *v = g_array_index (rows, ReferenceRow, i).value;
      PlumbOffsetForm form = (PlumbOffsetForm) v[0];
      double centre;

      g_assert_true (plumb_offset_centre (form, v[1], v[2], &centre));
      g_assert_cmpfloat_with_epsilon (centre, v[3], form == PLUMB_OFFSET_RATIO ? 1e-4 : 1e-12);
      double printed = plumb_offset_printed (form, centre);
      double wanted = form == PLUMB_OFFSET_RATIO ? 10.0 * v[1] / (v[1] + v[2]) : v[1];
      g_assert_cmpfloat_with_epsilon (printed, wanted, 1e-12);
    }
}

static void
test_ratio_without_parts (void)
{
  double centre = 7.0;

  g_assert_false (plumb_offset_centre (PLUMB_OFFSET_RATIO, 0.0, 0.0, &centre));
  g_assert_false (plumb_offset_centre (PLUMB_OFFSET_RATIO, 1.0, -2.0, &centre));
  g_assert_cmpfloat (centre, ==, 7.0);
}

/* The axis of a 120-inch picture, 0.65 heights from its centre. */
static void
test_near_edge (void)
{
  g_autoptr (GArray) rows = reference_table_load ("optics/offset.txt", "near-edge", 4);
  const double *v = g_array_index (rows, ReferenceRow, 0).value;
  PlumbBeam beam = plain_beam (3.0, 3.0 / (v[0] * 16 / 9), 16.0 / 9.0, 0.0, 0.0);
  PlumbHomography map;

  beam.shift_v_share = v[1];
  PlumbQuad q = raw_on_plain_screen (&beam, &map);
  g_assert_cmpfloat_with_epsilon ((q.corner[0].y + q.corner[3].y) / 2, v[2], 1e-5);
  g_assert_cmpfloat_with_epsilon (q.corner[0].y, v[3], 1e-5);
}

/* By hand: t = 1/2, pupil 0.25 m behind: 0.25 m throws 1 m, 0.75 m 2 m; the
 * near edge a tenth of the height clear, so the centre 0.6 heights up. */
static void
test_two_lines_are_exact (void)
{
  PlumbLensPair pairs[2] = { { .distance_m = 0.25, .width_m = 1.0, .gap_m = 0.0625, .has_gap = true },
                             { .distance_m = 0.75, .width_m = 2.0, .gap_m = 0.125, .has_gap = true } };
  PlumbLensFit fit;

  g_assert_true (plumb_lens_fit (pairs, 2, 1.6, &fit));
  g_assert_cmpfloat_with_epsilon (fit.throw_ratio_wide, 0.5, 1e-14);
  g_assert_cmpfloat_with_epsilon (fit.throw_ratio_tele, 0.5, 1e-14);
  g_assert_cmpfloat_with_epsilon (fit.pupil_behind_m, 0.25, 1e-14);
  g_assert_true (fit.has_offset);
  g_assert_cmpfloat_with_epsilon (fit.offset_heights, 0.6, 1e-14);
  g_assert_cmpfloat_with_epsilon (fit.worst_width_residual_m, 0.0, 1e-14);
  g_assert_cmpfloat_with_epsilon (fit.worst_gap_residual_m, 0.0, 1e-14);
  g_assert_cmpfloat (fit.pupil_uncertainty_m, ==, 0.0);
}

/* By hand: 1, 2, 3 m throw 1.0, 2.1, 3.0 m. The line through them has slope 1
 * and misses by 1/30, 1/15, 1/30 m; so t = 1, e = 1/30 m. With d = D + e the
 * weight of e is 3 - (Σd)²/Σd² = 3 - 6.1²/14.403333 = 0.416570, the variance
 * of a width (1/900 + 4/900 + 1/900)/1, hence u(e) = 0.126506 m. */
static void
test_three_lines_leave_residuals (void)
{
  PlumbLensPair pairs[3] = { { .distance_m = 1.0, .width_m = 1.0 },
                             { .distance_m = 2.0, .width_m = 2.1 },
                             { .distance_m = 3.0, .width_m = 3.0 } };
  PlumbLensFit fit;

  g_assert_true (plumb_lens_fit (pairs, 3, 1.6, &fit));
  g_assert_cmpfloat_with_epsilon (fit.throw_ratio_wide, 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit.pupil_behind_m, 1.0 / 30.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit.worst_width_residual_m, 1.0 / 15.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit.pupil_uncertainty_m, 0.126506, 1e-6);
  g_assert_false (fit.has_offset);
}

/* By hand: gaps of 0.1 and 0.2 m on heights of 1 and 1 m: the mean is taken,
 * half the difference is left over. */
static void
test_gap_residual (void)
{
  PlumbLensPair pairs[3] = { { .distance_m = 1.0, .width_m = 1.0, .gap_m = 0.1, .has_gap = true },
                             { .distance_m = 1.0, .width_m = 1.0, .gap_m = 0.2, .has_gap = true },
                             { .distance_m = 2.0, .width_m = 2.0 } };
  PlumbLensFit fit;

  g_assert_true (plumb_lens_fit (pairs, 3, 1.0, &fit));
  g_assert_cmpfloat_with_epsilon (fit.offset_heights, 0.65, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit.worst_gap_residual_m, 0.05, 1e-12);
}

/* Synthetic zooms: what went in comes out, one line at an end enough when
 * the other end tells the pupil. */
static void
test_wide_and_tele (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (61);

  for (int i = 0; i < 300; i++)
    {
      double t[2] = { g_rand_double_range (rand, 0.2, 1.5), g_rand_double_range (rand, 1.5, 3.0) };
      double e = g_rand_double_range (rand, -0.1, 0.4), offset = g_rand_double_range (rand, 0.3, 0.9);
      PlumbLensPair pairs[5];
      size_t n = (size_t) g_rand_int_range (rand, 3, 6);

      for (size_t k = 0; k < n; k++)
        {
          bool tele = k == 0 || k == 3;
          double distance = g_rand_double_range (rand, 0.5, 0.9) + (double) k;
          double width = (distance + e) / t[tele];
          pairs[k] = (PlumbLensPair){ distance, width, (offset - 0.5) * width / 1.6, k != 2, tele };
        }
      PlumbLensFit fit;
      g_assert_true (plumb_lens_fit (pairs, n, 1.6, &fit));
      g_assert_cmpfloat_with_epsilon (fit.throw_ratio_wide, t[0], 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.throw_ratio_tele, t[1], 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.pupil_behind_m, e, 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.offset_heights, offset, 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.worst_width_residual_m, 0.0, 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.worst_gap_residual_m, 0.0, 1e-10);
      g_assert_cmpfloat_with_epsilon (fit.pupil_uncertainty_m, 0.0, 1e-9);
    }
}

static void
test_lines_that_cannot_tell (void)
{
  PlumbLensPair one[1] = { { .distance_m = 1.0, .width_m = 1.0 } };
  PlumbLensPair same[2] = { { .distance_m = 1.0, .width_m = 1.0 }, { .distance_m = 1.0, .width_m = 1.1 } };
  PlumbLensPair two_ends[2]
      = { { .distance_m = 1.0, .width_m = 1.0 }, { .distance_m = 2.0, .width_m = 1.5, .tele = true } };
  PlumbLensPair shrinking[2] = { { .distance_m = 1.0, .width_m = 2.0 }, { .distance_m = 2.0, .width_m = 1.0 } };
  PlumbLensPair constant[2] = { { .distance_m = 1.0, .width_m = 2.0 }, { .distance_m = 2.0, .width_m = 2.0 } };
  PlumbLensPair no_width[2] = { { .distance_m = 1.0, .width_m = 0.0 }, { .distance_m = 2.0, .width_m = 1.0 } };
  PlumbLensPair endless[2] = { { .distance_m = 1.0, .width_m = 1.0 }, { .distance_m = INFINITY, .width_m = 2.0 } };
  PlumbLensFit fit;

  g_assert_false (plumb_lens_fit (NULL, 0, 1.6, &fit));
  g_assert_false (plumb_lens_fit (one, 1, 1.6, &fit));
  g_assert_false (plumb_lens_fit (same, 2, 1.6, &fit));
  g_assert_false (plumb_lens_fit (two_ends, 2, 1.6, &fit));
  g_assert_false (plumb_lens_fit (shrinking, 2, 1.6, &fit));
  g_assert_false (plumb_lens_fit (constant, 2, 1.6, &fit));
  g_assert_false (plumb_lens_fit (no_width, 2, 1.6, &fit));
  g_assert_false (plumb_lens_fit (endless, 2, 1.6, &fit));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/optics/lens-data/offset-forms", test_offset_forms);
  g_test_add_func ("/optics/lens-data/ratio-without-parts", test_ratio_without_parts);
  g_test_add_func ("/optics/lens-data/near-edge", test_near_edge);
  g_test_add_func ("/optics/lens-data/two-lines-are-exact", test_two_lines_are_exact);
  g_test_add_func ("/optics/lens-data/three-lines-leave-residuals", test_three_lines_leave_residuals);
  g_test_add_func ("/optics/lens-data/gap-residual", test_gap_residual);
  g_test_add_func ("/optics/lens-data/wide-and-tele", test_wide_and_tele);
  g_test_add_func ("/optics/lens-data/lines-that-cannot-tell", test_lines_that_cannot_tell);
  return g_test_run ();
}
