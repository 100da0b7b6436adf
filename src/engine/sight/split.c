/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "split-private.h"

#include "plumbeam/assert.h"

bool
plumb_line2_through (PlumbVec2 from, PlumbVec2 to, PlumbLine2 *line)
{
  PlumbVec2 run = plumb_vec2_sub (to, from);
  double length = plumb_vec2_length (run);

  if (!(length > 0.0))
    return false;
  line->a = run.y / length;
  line->b = -run.x / length;
  line->c = -(line->a * from.x + line->b * from.y);
  return true;
}

static void
add (PlumbRing *ring, PlumbVec2 point)
{
  PLUMB_ASSERT (ring->n < PLUMB_SPLIT_MAX_POINTS);
  ring->p[ring->n++] = point;
}

bool
plumb_ring_reaches (const PlumbRing *ring, PlumbLine2 line, double snap)
{
  for (size_t i = 0; i < ring->n; i++)
    if (plumb_line2_at (line, ring->p[i]) > snap)
      return true;
  return false;
}

/* Both sides get the very same crossing points, so their areas sum to that of
 * the whole. */
void
plumb_ring_split (const PlumbRing *ring, PlumbLine2 line, double snap, PlumbRing *inner, PlumbRing *outer)
{
  double at[PLUMB_SPLIT_MAX_POINTS];
  bool has_inner = false, has_outer = false;

  inner->n = outer->n = 0;
  for (size_t i = 0; i < ring->n; i++)
    {
      at[i] = plumb_line2_at (line, ring->p[i]);
      has_inner = has_inner || at[i] < -snap;
      has_outer = has_outer || at[i] > snap;
    }
  if (!has_inner || !has_outer)
    {
      PlumbRing *whole = has_outer ? outer : inner;
      whole->n = ring->n;
      for (size_t i = 0; i < ring->n; i++)
        whole->p[i] = ring->p[i];
      return;
    }
  for (size_t i = 0; i < ring->n; i++)
    {
      size_t next = i + 1 < ring->n ? i + 1 : 0;
      if (at[i] <= snap)
        add (inner, ring->p[i]);
      if (at[i] >= -snap)
        add (outer, ring->p[i]);
      if ((at[i] < -snap && at[next] > snap) || (at[i] > snap && at[next] < -snap))
        {
          double share = at[i] / (at[i] - at[next]);
          PlumbVec2 crossing = plumb_vec2_along (ring->p[i], plumb_vec2_sub (ring->p[next], ring->p[i]), share);
          add (inner, crossing);
          add (outer, crossing);
        }
    }
}
