/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The eye before the plane; points cut at both planes and projected. */
#include "silhouette-private.h"

/* Nearer to the eye than this share of its height a body is cut off: what is
 * lost hides less than the square of it. */
#define NEAR_SHARE 1e-6

bool
plumb_sight_frame (PlumbVec3 from, const PlumbPlaneFrame *plane, PlumbSightFrame *out)
{
  PlumbVec3 rel = plumb_vec3_sub (from, plane->origin_m);

  *out = (PlumbSightFrame){ .origin = plane->origin_m, .u = plane->u, .v = plane->v, .n = plane->n };
  out->eye_u = plumb_vec3_dot (rel, plane->u);
  out->eye_v = plumb_vec3_dot (rel, plane->v);
  out->height = plumb_vec3_dot (rel, plane->n);
  if (out->height < 0.0)
    {
      out->n = plumb_vec3_scale (out->n, -1.0);
      out->height = -out->height;
    }
  return out->height > 1e-9;
}

PlumbVec3
plumb_sight_local_direction (const PlumbSightFrame *frame, PlumbVec3 d)
{
  return plumb_vec3 (plumb_vec3_dot (d, frame->u), plumb_vec3_dot (d, frame->v), plumb_vec3_dot (d, frame->n));
}

PlumbVec3
plumb_sight_local (const PlumbSightFrame *frame, PlumbVec3 point)
{
  return plumb_sight_local_direction (frame, plumb_vec3_sub (point, frame->origin));
}

PlumbVec2
plumb_sight_project (const PlumbSightFrame *frame, PlumbVec3 p)
{
  double k = frame->height / (frame->height - p.z);

  return plumb_vec2 (frame->eye_u + (p.x - frame->eye_u) * k, frame->eye_v + (p.y - frame->eye_v) * k);
}

double
plumb_sight_near (const PlumbSightFrame *frame)
{
  return frame->height * (1.0 - NEAR_SHARE);
}

static size_t
cut_edge (const PlumbSightFrame *frame, PlumbVec3 a, PlumbVec3 b, PlumbVec2 *out)
{
  const double level[2] = { 0.0, plumb_sight_near (frame) };
  size_t n = 0;

  for (int k = 0; k < 2; k++)
    if ((a.z < level[k]) != (b.z < level[k]))
      {
        double t = (level[k] - a.z) / (b.z - a.z);
        PlumbVec3 at = plumb_vec3_along (plumb_vec3_scale (a, 1.0 - t), b, t);
        at.z = level[k];
        out[n++] = plumb_sight_project (frame, at);
      }
  return n;
}

size_t
plumb_sight_cut_points (const PlumbSightFrame *frame, const PlumbVec3 *local, size_t n, uint16_t (*edges)[2],
                        size_t n_edges, PlumbVec2 *out, size_t capacity)
{
  double near = plumb_sight_near (frame);
  size_t count = 0;
  bool all_in = true;

  for (size_t i = 0; i < n && count < capacity; i++)
    if (local[i].z >= 0.0 && local[i].z <= near)
      out[count++] = plumb_sight_project (frame, local[i]);
    else
      all_in = false;
  if (all_in)
    return count;
  for (size_t k = 0; edges != NULL && k < n_edges && count + 2 <= capacity; k++)
    count += cut_edge (frame, local[edges[k][0]], local[edges[k][1]], out + count);
  for (size_t i = 0; edges == NULL && i < n; i++)
    for (size_t j = i + 1; j < n && count + 2 <= capacity; j++)
      {
        count += cut_edge (frame, local[i], local[j], out + count);
        /* So many cuts are thinned out to their hull, which stays the same. */
        if (count + 2 > capacity)
          count = plumb_sight_hull (out, count);
      }
  return count;
}

static int
before (PlumbVec2 a, PlumbVec2 b)
{
  return a.x < b.x || (a.x == b.x && a.y < b.y);
}

/* Heap sort: no allocation, no recursion, no worst case. */
static void
sort_points (PlumbVec2 *p, size_t n)
{
  for (size_t start = n / 2, end = n; end > 1;)
    {
      if (start > 0)
        start--;
      else
        {
          PlumbVec2 top = p[0];
          p[0] = p[--end];
          p[end] = top;
        }
      size_t root = start;
      for (size_t child = 2 * root + 1; child < end; child = 2 * root + 1)
        {
          if (child + 1 < end && before (p[child], p[child + 1]))
            child++;
          if (!before (p[root], p[child]))
            break;
          PlumbVec2 swap = p[root];
          p[root] = p[child];
          p[child] = swap;
          root = child;
        }
    }
}

static double
turn (PlumbVec2 a, PlumbVec2 b, PlumbVec2 c)
{
  return plumb_vec2_cross (plumb_vec2_sub (b, a), plumb_vec2_sub (c, a));
}

/* Andrew's chain; upper and lower chain share one buffer twice as long. */
size_t
plumb_sight_hull (PlumbVec2 *points, size_t n)
{
  enum { MOST = 800 };
  PlumbVec2 chain[2 * MOST];
  size_t k = 0;

  if (n < 3)
    return n;
  if (n > MOST)
    n = MOST;
  sort_points (points, n);
  for (size_t i = 0; i < n; i++)
    {
      while (k >= 2 && turn (chain[k - 2], chain[k - 1], points[i]) <= 0.0)
        k--;
      chain[k++] = points[i];
    }
  size_t lower = k + 1;
  for (size_t i = n - 1; i-- > 0;)
    {
      while (k >= lower && turn (chain[k - 2], chain[k - 1], points[i]) <= 0.0)
        k--;
      chain[k++] = points[i];
    }
  k--; /* the first point again */
  for (size_t i = 0; i < k; i++)
    points[i] = chain[i];
  return k;
}
