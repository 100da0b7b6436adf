/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a wanted picture back to zoom, shift and place. */
#include "cover-set-private.h"

#include "plumbeam/assert.h"

/* A corner nearer than this share of its distance to the lens plane is not in
 * front of the lens. */
#define IN_FRONT_SHARE 1e-12
/* Golden section: the bracket shrinks to 0.618 each round, 60 make 3e-13. */
#define MAX_ROUNDS 60

bool
plumb_cover_solve (PlumbVec3 lens_m, const PlumbBeamAxes *axes, double panel_aspect, const PlumbVec3 target_m[4],
                   PlumbCover *out)
{
  PlumbCover cover = { .x_min = INFINITY, .x_max = -INFINITY, .y_min = INFINITY, .y_max = -INFINITY };

  for (int k = 0; k < 4; k++)
    {
      PlumbVec3 ray = plumb_vec3_sub (target_m[k], lens_m);
      double ahead = plumb_vec3_dot (ray, axes->f);

      if (!(ahead > IN_FRONT_SHARE * plumb_vec3_length (ray)))
        return false;
      double x = plumb_vec3_dot (ray, axes->r) / ahead, y = plumb_vec3_dot (ray, axes->w) / ahead;
      cover.x_min = fmin (cover.x_min, x);
      cover.x_max = fmax (cover.x_max, x);
      cover.y_min = fmin (cover.y_min, y);
      cover.y_max = fmax (cover.y_max, y);
    }

  double span = fmax (cover.x_max - cover.x_min, panel_aspect * (cover.y_max - cover.y_min));
  cover.throw_ratio = 1.0 / span;
  if (!(span > 0.0) || !isfinite (cover.throw_ratio))
    return false;

  PlumbVec2 shift = plumb_cover_shift_at (&cover, panel_aspect, cover.throw_ratio);
  cover.shift_h_share = shift.x;
  cover.shift_v_share = shift.y;
  *out = cover;
  return true;
}

PlumbVec2
plumb_cover_shift_at (const PlumbCover *cover, double panel_aspect, double throw_ratio)
{
  return plumb_vec2 (throw_ratio * (cover->x_min + cover->x_max) / 2.0,
                     panel_aspect * throw_ratio * (cover->y_min + cover->y_max) / 2.0);
}

/* ----------------------------------------------------------------- margin */

typedef struct {
  const PlumbCover *cover;
  double panel_aspect, t_wide, t_tele;
  PlumbCoverEnds ends;
} Margin;

typedef struct {
  double throw_ratio, margin;
  PlumbVec2 shift;
  bool centred; /* the shift reaches the middle of the box */
} Tried;

/* With k = 1 / t, the raw picture reaches k/2 and k/(2A) to both sides of its
 * centre. Its margin is that less half the box less how far the two centres
 * are apart, on the worse axis. */
static Tried
margin_at (const Margin *self, double throw_ratio)
{
  const PlumbCover *box = self->cover;
  double range = self->t_tele - self->t_wide;
  double share = range > 0.0 ? plumb_clamp ((throw_ratio - self->t_wide) / range, 0.0, 1.0) : 0.0;
  PlumbVec2 scale = plumb_vec2 (1.0 / throw_ratio, 1.0 / (self->panel_aspect * throw_ratio));
  PlumbVec2 slack
      = plumb_vec2 ((scale.x - (box->x_max - box->x_min)) / 2.0, (scale.y - (box->y_max - box->y_min)) / 2.0);
  PlumbVec2 wanted = plumb_cover_shift_at (box, self->panel_aspect, throw_ratio);
  Tried tried = { .throw_ratio = throw_ratio };
  PlumbCoverSet set;

  plumb_cover_set_between (&self->ends, share, &set);
  tried.margin = -plumb_cover_set_least_miss (&set, wanted, scale, slack, &tried.shift);
  tried.centred = tried.shift.x == wanted.x && tried.shift.y == wanted.y;
  return tried;
}

static Tried
better (Tried a, Tried b)
{
  return b.margin > a.margin ? b : a;
}

/* In k the reachable (k, centre) form a convex set, for k (1 - share) and
 * k share are linear in k when share is linear in t; the margin is concave in
 * (k, centre), so the best over the centre is concave in k: no second
 * summit. */
static Tried
golden_section (const Margin *self)
{
  const double golden = (sqrt (5.0) - 1.0) / 2.0;
  double low = 1.0 / self->t_tele, high = 1.0 / self->t_wide;
  double k1 = high - golden * (high - low), k2 = low + golden * (high - low);
  Tried at_1 = margin_at (self, 1.0 / k1), at_2 = margin_at (self, 1.0 / k2);
  Tried best = better (at_1, at_2);

  for (int round = 0; round < MAX_ROUNDS; round++)
    {
      if (at_1.margin > at_2.margin)
        {
          high = k2;
          k2 = k1;
          at_2 = at_1;
          k1 = high - golden * (high - low);
          at_1 = margin_at (self, 1.0 / k1);
          best = better (best, at_1);
        }
      else
        {
          low = k1;
          k1 = k2;
          at_1 = at_2;
          k2 = low + golden * (high - low);
          at_2 = margin_at (self, 1.0 / k2);
          best = better (best, at_2);
        }
    }
  return best;
}

/* Greatest value that a concave margin can have between low and high, from
 * its values at four points in order: beyond each chord it stays below the
 * chord drawn on. */
static double
margin_bound (const double k[4], const double m[4])
{
  double chord = (m[2] - m[1]) / (k[2] - k[1]), gap = k[2] - k[1];
  double left = fmax (m[1], m[1] - chord * (k[1] - k[0]));
  double right = fmax (m[2], m[2] + chord * (k[3] - k[2]));
  double rise = fmax ((m[1] - m[0]) / (k[1] - k[0]), 0.0), fall = fmax ((m[2] - m[3]) / (k[3] - k[2]), 0.0);

  return fmax (fmax (left, right), fmin (m[1] + rise * gap, m[2] + fall * gap));
}

bool
plumb_cover_reaches (const PlumbCover *cover, double panel_aspect, double t_wide, double t_tele,
                     const PlumbShiftSet *set_wide, const PlumbShiftSet *set_tele, double tolerance)
{
  PLUMB_ASSERT (t_wide > 0.0 && t_tele >= t_wide && panel_aspect > 0.0);
  const double golden = (sqrt (5.0) - 1.0) / 2.0;
  Margin self = { .cover = cover, .panel_aspect = panel_aspect, .t_wide = t_wide, .t_tele = t_tele };
  plumb_cover_ends_init (&self.ends, set_wide, set_tele);
  Tried wide = margin_at (&self, t_wide);

  if (wide.margin >= -tolerance || wide.centred || t_tele <= t_wide)
    return wide.margin >= -tolerance;
  double k[4] = { 1.0 / t_tele, 0.0, 0.0, 1.0 / t_wide };
  double m[4] = { margin_at (&self, t_tele).margin, 0.0, 0.0, wide.margin };
  for (int round = 0; round < MAX_ROUNDS; round++)
    {
      k[1] = k[3] - golden * (k[3] - k[0]);
      k[2] = k[0] + golden * (k[3] - k[0]);
      m[1] = margin_at (&self, 1.0 / k[1]).margin;
      m[2] = margin_at (&self, 1.0 / k[2]).margin;
      if (fmax (fmax (m[0], m[1]), fmax (m[2], m[3])) >= -tolerance)
        return true;
      if (!(k[0] < k[1] && k[1] < k[2] && k[2] < k[3]) || margin_bound (k, m) < -tolerance)
        return false;
      int drop = m[1] > m[2] ? 3 : 0, keep = m[1] > m[2] ? 2 : 1;
      k[drop] = k[keep];
      m[drop] = m[keep];
    }
  return false;
}

double
plumb_cover_margin (const PlumbCover *cover, double panel_aspect, double t_wide, double t_tele,
                    const PlumbShiftSet *set_wide, const PlumbShiftSet *set_tele, double *best_t,
                    PlumbVec2 *best_shift)
{
  PLUMB_ASSERT (t_wide > 0.0 && t_tele >= t_wide && panel_aspect > 0.0);
  Margin self = { .cover = cover, .panel_aspect = panel_aspect, .t_wide = t_wide, .t_tele = t_tele };
  plumb_cover_ends_init (&self.ends, set_wide, set_tele);

  /* The widest picture, centred, beats everything: no search. */
  Tried best = margin_at (&self, t_wide);
  if (!best.centred && t_tele > t_wide)
    best = better (better (best, margin_at (&self, t_tele)), golden_section (&self));
  *best_t = best.throw_ratio;
  *best_shift = best.shift;
  return best.margin;
}

void
plumb_distance_slab (double raw_width_m, double t_wide, double t_tele, double *least_m, double *greatest_m)
{
  *least_m = t_wide * raw_width_m;
  *greatest_m = t_tele * raw_width_m;
}
