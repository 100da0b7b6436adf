/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/optics.h"

/* Measured from the first point, so that a small polygon far from the origin
 * keeps its digits. */
double
plumb_polygon_area (const PlumbVec2 *points, size_t n_points)
{
  double twice = 0.0;

  for (size_t i = 2; i < n_points; i++)
    twice += plumb_vec2_cross (plumb_vec2_sub (points[i - 1], points[0]), plumb_vec2_sub (points[i], points[0]));
  return twice / 2.0;
}

static double
beyond (PlumbVec2 point, PlumbVec2 normal, double offset)
{
  return plumb_vec2_dot (normal, point) - offset;
}

/* Always taken from the end that comes first by (x, y), so that both halves
 * of a cut get exactly the same point. */
static PlumbVec2
crossing (PlumbVec2 a, PlumbVec2 b, PlumbVec2 normal, double offset)
{
  bool swap = b.x < a.x || (b.x == a.x && b.y < a.y);
  PlumbVec2 from = swap ? b : a, to = swap ? a : b;
  double at_from = beyond (from, normal, offset), at_to = beyond (to, normal, offset);
  double share = plumb_clamp (at_from / (at_from - at_to), 0.0, 1.0);

  return plumb_vec2_along (from, plumb_vec2_sub (to, from), share);
}

/* Walks from the point that lies farthest out to the first point that stays,
 * in both directions. Between these two everything stays: in a convex polygon
 * only rounding could say otherwise, and this way the result never grows by
 * more than one point. */
static size_t
keep_chain (const PlumbVec2 *in, size_t n_in, size_t farthest, PlumbVec2 normal, double offset, PlumbVec2 *out)
{
  size_t first = 1, last = n_in - 1;

  while (first < n_in && !(beyond (in[(farthest + first) % n_in], normal, offset) <= 0.0))
    first++;
  if (first == n_in)
    return 0;
  while (!(beyond (in[(farthest + last) % n_in], normal, offset) <= 0.0))
    last--;

  size_t n_out = 0;
  PlumbVec2 entry = in[(farthest + first) % n_in], leave = in[(farthest + last) % n_in];

  if (beyond (entry, normal, offset) < 0.0)
    out[n_out++] = crossing (in[(farthest + first - 1) % n_in], entry, normal, offset);
  for (size_t k = first; k <= last; k++)
    out[n_out++] = in[(farthest + k) % n_in];
  if (beyond (leave, normal, offset) < 0.0)
    out[n_out++] = crossing (leave, in[(farthest + last + 1) % n_in], normal, offset);
  return n_out;
}

size_t
plumb_polygon_clip (const PlumbVec2 *in, size_t n_in, PlumbVec2 normal, double offset, PlumbVec2 *out)
{
  double worst = 0.0;
  size_t farthest = n_in;

  for (size_t i = 0; i < n_in; i++)
    {
      double distance = beyond (in[i], normal, offset);
      if (!(distance <= worst))
        {
          worst = distance;
          farthest = i;
        }
    }
  if (farthest < n_in)
    return keep_chain (in, n_in, farthest, normal, offset, out);

  for (size_t i = 0; i < n_in; i++)
    out[i] = in[i];
  return n_in;
}
