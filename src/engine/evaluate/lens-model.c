/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work-private.h"

/* Without lines of distance and width nobody tells where the exit pupil lies:
 * at the datum, give or take 50 mm (design, section 3). */
#define UNKNOWN_PUPIL_SPREAD_M 0.050
/* A typed pupil position: read off a drawing to the nearest 5 mm. Common
 * practice, no source. */
#define TYPED_PUPIL_SPREAD_M 0.005

static bool
model_throw (const PlumbScene *scene, uint32_t index, const PlumbLens *lens, double aspect, PlumbLensModel *out)
{
  if (lens->data == PLUMB_LENS_DATA_RANGE)
    {
      out->t_wide = lens->throw_wide_ratio;
      out->t_tele = PLUMB_TYPED (lens, lens, throw_tele_ratio) ? lens->throw_tele_ratio : lens->throw_wide_ratio;
      out->pupil_behind_m = lens->pupil_behind_m;
      out->pupil_u_m
          = (PLUMB_TYPED (lens, lens, pupil_behind_m) ? TYPED_PUPIL_SPREAD_M : UNKNOWN_PUPIL_SPREAD_M) / sqrt (3.0);
      return out->t_wide <= out->t_tele;
    }
  enum { MAX_LINES = 256 };
  PlumbLensPair pairs[MAX_LINES];
  PlumbLensFit fit;
  uint32_t n;
  const PlumbLensPairLine *lines = plumb_scene_nested (scene, PLUMB_RECORD_LENS_PAIR, index, &n);

  if (n > MAX_LINES)
    n = MAX_LINES;
  for (uint32_t i = 0; i < n; i++)
    pairs[i] = (PlumbLensPair){ lines[i].distance_m, lines[i].width_m, lines[i].gap_m,
                                PLUMB_TYPED (lens_pair, &lines[i], gap_m), lines[i].end == PLUMB_PAIR_END_TELE };
  if (!plumb_lens_fit (pairs, n, aspect, &fit))
    {
      out->trouble = PLUMB_LENS_BAD_PAIRS;
      return true;
    }
  out->t_wide = fit.throw_ratio_wide;
  out->t_tele = fit.throw_ratio_tele;
  out->pupil_behind_m = fit.pupil_behind_m;
  out->pupil_u_m = fit.pupil_uncertainty_m;
  out->worst_width_residual_m = fit.worst_width_residual_m;
  out->worst_gap_residual_m = fit.worst_gap_residual_m;
  if (fit.has_offset)
    out->offset.y = fit.offset_heights;
  return out->t_wide <= out->t_tele;
}

static bool
model_offset (const PlumbLens *lens, PlumbLensModel *out)
{
  double centre;
  bool ratio = lens->offset_form == PLUMB_OFFSET_FORM_RATIO;
  /* The lines of a data sheet already hold the offset, unless one is typed. */
  bool typed = PLUMB_TYPED (lens, lens, offset_share) || PLUMB_TYPED (lens, lens, offset_above_ratio);

  if (lens->data == PLUMB_LENS_DATA_PAIRS && !typed)
    return true;
  if (!typed && !ratio)
    return true;
  if (!plumb_offset_centre ((PlumbOffsetForm) lens->offset_form,
                            ratio ? lens->offset_above_ratio : lens->offset_share, lens->offset_below_ratio, &centre))
    return false;
  out->offset = plumb_vec2 (0.0, centre);
  return true;
}

static bool
model_polygon (const PlumbScene *scene, uint32_t index, double unit, PlumbShiftSet *out)
{
  PlumbVec2 points[PLUMB_SHIFT_MAX_POINTS];
  uint32_t n;
  const PlumbLensShiftPoint *corners = plumb_scene_nested (scene, PLUMB_RECORD_LENS_SHIFT_POINT, index, &n);

  if (n > PLUMB_SHIFT_MAX_POINTS)
    return false;
  for (uint32_t i = 0; i < n; i++)
    points[i] = plumb_vec2 (corners[i].h_share * unit, corners[i].v_share * unit);
  return plumb_shift_set_polygon (points, n, out);
}

static bool
model_shift (const PlumbScene *scene, uint32_t index, const PlumbLens *lens, double aspect, PlumbShiftSet *out)
{
  double unit = lens->shift_unit == PLUMB_SHIFT_UNIT_HALF ? 0.5 : 1.0;
  double up = lens->shift_up_share * unit, right = lens->shift_right_share * unit;
  double down = PLUMB_TYPED (lens, lens, shift_down_share) ? lens->shift_down_share * unit : up;
  double left = PLUMB_TYPED (lens, lens, shift_left_share) ? lens->shift_left_share * unit : right;

  switch (lens->shift_set)
    {
    case PLUMB_SHIFT_SHAPE_RECTANGLE:
    case PLUMB_SHIFT_SHAPE_DIAMOND:
      /* A data sheet may print both ends on one side of the axis. */
      if (-down > up || -left > right)
        return false;
      *out = lens->shift_set == PLUMB_SHIFT_SHAPE_RECTANGLE ? plumb_shift_set_rectangle (left, right, down, up)
                                                            : plumb_shift_set_diamond (left, right, down, up);
      return true;
    case PLUMB_SHIFT_SHAPE_CORNER_CUT:
      *out = plumb_shift_set_corner_cut (
          fabs (right), fabs (up), lens->shift_h_at_v_max_share * unit, lens->shift_v_at_h_max_share * unit,
          plumb_vec2 (lens->shift_diagonal_h_share * unit, lens->shift_diagonal_v_share * unit));
      return true;
    case PLUMB_SHIFT_SHAPE_ELLIPSE:
      *out = plumb_shift_set_ellipse (fabs (right), fabs (up));
      return true;
    case PLUMB_SHIFT_SHAPE_CIRCLE:
      *out = plumb_shift_set_circle (fabs (up), aspect);
      return true;
    case PLUMB_SHIFT_SHAPE_POLYGON:
      return model_polygon (scene, index, unit, out);
    default:
      *out = plumb_shift_set_none ();
      return true;
    }
}

void
plumb_lens_model_make (const PlumbScene *scene, uint32_t index, const PlumbMachine *machine, bool inverted, bool rear,
                       PlumbLensModel *out)
{
  const PlumbLens *lens = plumb_scene_lens (scene, index);

  *out = (PlumbLensModel){ .inverted = inverted, .rear = rear };
  out->panel_aspect = (double) machine->panel_w_px / machine->panel_h_px;
  out->throw_u_share = lens->throw_error_share / sqrt (3.0);
  out->tele_scale = lens->shift_tele_ratio;
  out->base = plumb_shift_set_none ();
  if (!model_throw (scene, index, lens, out->panel_aspect, out))
    out->trouble = PLUMB_LENS_BAD_RANGE;
  if (out->trouble == PLUMB_LENS_OK && !model_offset (lens, out))
    out->trouble = PLUMB_LENS_BAD_OFFSET;
  if (out->trouble == PLUMB_LENS_OK && !model_shift (scene, index, lens, out->panel_aspect, &out->base))
    out->trouble = PLUMB_LENS_BAD_SHIFT;
  double datum_m = lens->datum == PLUMB_DATUM_FEET ? machine->feet_forward_m : machine->lens_forward_m;
  out->pupil_forward_m = datum_m - out->pupil_behind_m;
}

PlumbShiftSet
plumb_lens_model_set (const PlumbLensModel *model, double throw_ratio)
{
  double run = model->t_tele - model->t_wide;
  double share = run > 0.0 ? plumb_clamp ((throw_ratio - model->t_wide) / run, 0.0, 1.0) : 0.0;
  double scale = 1.0 + share * (model->tele_scale - 1.0);

  return plumb_shift_set_place (&model->base, scale, model->offset, model->inverted, model->rear);
}
