/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What data sheets print, turned into throw ratio, pupil and offset. */
#include "plumbeam/optics.h"

/* Rounds of the fit; it settles in five or six. */
#define MAX_ROUNDS 60
/* The pupil stands still: a share of the distances, far below a tape. */
#define SETTLED_SHARE 1e-15

bool
plumb_offset_centre (PlumbOffsetForm form, double printed, double lower, double *centre_heights)
{
  switch (form)
    {
    case PLUMB_OFFSET_FAR_EDGE:
      *centre_heights = printed - 0.5;
      return true;
    case PLUMB_OFFSET_HALF_HEIGHT:
      *centre_heights = printed / 2.0;
      return true;
    case PLUMB_OFFSET_FULL_HEIGHT:
      *centre_heights = printed;
      return true;
    case PLUMB_OFFSET_GAP:
      *centre_heights = printed + 0.5;
      return true;
    case PLUMB_OFFSET_RATIO:
      if (!(printed + lower > 0.0))
        return false;
      *centre_heights = printed / (printed + lower) - 0.5;
      return true;
    default:
      return false;
    }
}

double
plumb_offset_printed (PlumbOffsetForm form, double centre_heights)
{
  switch (form)
    {
    case PLUMB_OFFSET_FAR_EDGE:
      return centre_heights + 0.5;
    case PLUMB_OFFSET_HALF_HEIGHT:
      return centre_heights * 2.0;
    case PLUMB_OFFSET_GAP:
      return centre_heights - 0.5;
    case PLUMB_OFFSET_RATIO:
      return 10.0 * (centre_heights + 0.5);
    case PLUMB_OFFSET_FULL_HEIGHT:
    default:
      return centre_heights;
    }
}

/* ---------------------------------------------------------------- the fit */

/* One end of a zoom: W = k (D + e) with k = 1 / t and e common to both ends. */
typedef struct {
  size_t n_lines;
  double sum_dd, sum_dw; /* of (D + e)² and (D + e) W at the present e */
  double sum_d;
  double k;
} End;

static bool
lines_are_sound (const PlumbLensPair *pairs, size_t n_pairs)
{
  for (size_t i = 0; i < n_pairs; i++)
    if (!isfinite (pairs[i].distance_m) || !(pairs[i].width_m > 0.0) || !isfinite (pairs[i].width_m)
        || (pairs[i].has_gap && !isfinite (pairs[i].gap_m)))
      return false;
  return n_pairs > 0;
}

/* Straight line W over D through one end's points, and e from it. Returns the
 * sum of squared distances from their mean: how well the end can tell; 0 when
 * its distances are one. */
static double
line_through_end (const PlumbLensPair *pairs, size_t n_pairs, bool tele, double *pupil_m)
{
  double n = 0.0, mean_d = 0.0, mean_w = 0.0, sum_dd = 0.0, sum_dw = 0.0, reach = 0.0;

  for (size_t i = 0; i < n_pairs; i++)
    if (pairs[i].tele == tele)
      {
        n += 1.0;
        mean_d += (pairs[i].distance_m - mean_d) / n;
        mean_w += (pairs[i].width_m - mean_w) / n;
      }
  for (size_t i = 0; i < n_pairs; i++)
    if (pairs[i].tele == tele)
      {
        double d = pairs[i].distance_m - mean_d;
        sum_dd += d * d;
        sum_dw += d * (pairs[i].width_m - mean_w);
        reach = fmax (reach, fabs (d));
      }
  if (reach <= PLUMB_POINT_TOLERANCE_M || !(sum_dw > 0.0))
    return 0.0;
  *pupil_m = mean_w * sum_dd / sum_dw - mean_d;
  return sum_dd;
}

/* The best k of both ends for this e; returns the sum of squared residuals,
 * infinite where a line would get no width. */
static double
fit_ends (const PlumbLensPair *pairs, size_t n_pairs, double pupil_m, End end[2])
{
  double squares = 0.0;

  end[0] = end[1] = (End){ 0 };
  for (size_t i = 0; i < n_pairs; i++)
    {
      End *own = &end[pairs[i].tele];
      double d = pairs[i].distance_m + pupil_m;

      if (!(d > 0.0))
        return INFINITY;
      own->n_lines++;
      own->sum_d += d;
      own->sum_dd += d * d;
      own->sum_dw += d * pairs[i].width_m;
    }
  for (int g = 0; g < 2; g++)
    end[g].k = end[g].n_lines > 0 ? end[g].sum_dw / end[g].sum_dd : 0.0;
  for (size_t i = 0; i < n_pairs; i++)
    {
      double residual = pairs[i].width_m - end[pairs[i].tele].k * (pairs[i].distance_m + pupil_m);
      squares += residual * residual;
    }
  return squares;
}

/* What the lines say of e once the k follow it: the Schur complement of the
 * normal equations, sum over the ends of k² (n - (Σd)² / Σd²). */
static double
pupil_weight (const End end[2])
{
  double weight = 0.0;

  for (int g = 0; g < 2; g++)
    if (end[g].n_lines > 0)
      weight += end[g].k * end[g].k * ((double) end[g].n_lines - end[g].sum_d * end[g].sum_d / end[g].sum_dd);
  return weight;
}

/* Gauss-Newton on e alone, halving a step that makes things worse. */
static double
settle_pupil (const PlumbLensPair *pairs, size_t n_pairs, double pupil_m, End end[2])
{
  double squares = fit_ends (pairs, n_pairs, pupil_m, end);

  for (int round = 0; round < MAX_ROUNDS; round++)
    {
      double pull = 0.0, weight = pupil_weight (end);

      for (size_t i = 0; i < n_pairs; i++)
        {
          double k = end[pairs[i].tele].k;
          pull += k * (pairs[i].width_m - k * (pairs[i].distance_m + pupil_m));
        }
      double step = weight > 0.0 ? pull / weight : 0.0;
      double scale = fabs (pupil_m) + fabs (pairs[0].distance_m);
      End tried[2];

      while (fabs (step) > SETTLED_SHARE * scale && !(fit_ends (pairs, n_pairs, pupil_m + step, tried) < squares))
        step /= 2.0;
      if (!(fabs (step) > SETTLED_SHARE * scale))
        break;
      pupil_m += step;
      squares = fit_ends (pairs, n_pairs, pupil_m, end);
    }
  return pupil_m;
}

/* The gap model: near edge = (offset - 1/2) heights from the axis, with the
 * height of the fitted width. */
static void
fit_offset (const PlumbLensPair *pairs, size_t n_pairs, double aspect, const End end[2], PlumbLensFit *out)
{
  double sum_gap = 0.0, sum_height = 0.0;

  for (int pass = 0; pass < 2; pass++)
    for (size_t i = 0; i < n_pairs; i++)
      {
        if (!pairs[i].has_gap)
          continue;
        double height_m = end[pairs[i].tele].k * (pairs[i].distance_m + out->pupil_behind_m) / aspect;
        if (pass == 0)
          {
            sum_gap += pairs[i].gap_m * height_m;
            sum_height += height_m * height_m;
            out->has_offset = true;
            out->offset_heights = sum_gap / sum_height + 0.5;
          }
        else
          out->worst_gap_residual_m
              = fmax (out->worst_gap_residual_m, fabs ((out->offset_heights - 0.5) * height_m - pairs[i].gap_m));
      }
}

bool
plumb_lens_fit (const PlumbLensPair *pairs, size_t n_pairs, double aspect, PlumbLensFit *out)
{
  double pupil_m[2] = { 0.0, 0.0 };
  End end[2];

  *out = (PlumbLensFit){ 0 };
  if (!(aspect > 0.0) || !lines_are_sound (pairs, n_pairs))
    return false;

  double spread_wide = line_through_end (pairs, n_pairs, false, &pupil_m[0]);
  double spread_tele = line_through_end (pairs, n_pairs, true, &pupil_m[1]);
  if (spread_wide <= 0.0 && spread_tele <= 0.0)
    return false;

  double start = spread_tele > spread_wide ? pupil_m[1] : pupil_m[0];
  double squares = fit_ends (pairs, n_pairs, start, end);
  if (!isfinite (squares))
    return false;
  out->pupil_behind_m = settle_pupil (pairs, n_pairs, start, end);
  squares = fit_ends (pairs, n_pairs, out->pupil_behind_m, end);

  size_t n_unknowns = end[0].n_lines > 0 && end[1].n_lines > 0 ? 3 : 2;
  out->throw_ratio_wide = 1.0 / (end[0].n_lines > 0 ? end[0].k : end[1].k);
  out->throw_ratio_tele = 1.0 / (end[1].n_lines > 0 ? end[1].k : end[0].k);
  for (size_t i = 0; i < n_pairs; i++)
    out->worst_width_residual_m
        = fmax (out->worst_width_residual_m,
                fabs (end[pairs[i].tele].k * (pairs[i].distance_m + out->pupil_behind_m) - pairs[i].width_m));
  if (n_pairs > n_unknowns)
    out->pupil_uncertainty_m = sqrt (squares / (double) (n_pairs - n_unknowns) / pupil_weight (end));
  fit_offset (pairs, n_pairs, aspect, end, out);
  return true;
}
