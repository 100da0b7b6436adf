/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts-private.h"

#include <stdlib.h>
#include <string.h>

/* Much below the tolerance of points, much above rounding at 1000 m. */
#define SNAP_M 1e-11

void
plumb_list_init (PlumbList *list, size_t item_size)
{
  *list = (PlumbList){ .item_size = item_size };
}

void
plumb_list_clear (PlumbList *list)
{
  free (list->items);
  plumb_list_init (list, list->item_size);
}

void *
plumb_list_add (PlumbList *list, uint32_t count)
{
  if (list->failed)
    return NULL;
  if (list->items == NULL || list->capacity - list->n < count)
    {
      uint64_t capacity = 2 * (uint64_t) list->capacity + count + 8;
      void *grown = capacity < UINT32_MAX ? realloc (list->items, (size_t) capacity * list->item_size) : NULL;
      if (grown == NULL)
        {
          list->failed = true;
          return NULL;
        }
      list->items = grown;
      list->capacity = (uint32_t) capacity;
    }
  void *added = (char *) list->items + (size_t) list->n * list->item_size;
  memset (added, 0, count * list->item_size);
  list->n += count;
  return added;
}

/* Drops corners that repeat the one before. */
static size_t
tidy (const PlumbRing *ring, PlumbVec2 *out)
{
  size_t n = 0;

  for (size_t i = 0; i < ring->n; i++)
    {
      PlumbVec2 before = n > 0 ? out[n - 1] : ring->p[ring->n - 1];
      if (plumb_vec2_length (plumb_vec2_sub (ring->p[i], before)) > SNAP_M)
        out[n++] = ring->p[i];
    }
  return n;
}

static bool
has_body (const PlumbVec2 *p, size_t n)
{
  double girth = 0.0, area = plumb_polygon_area (p, n);

  for (size_t i = 0; i < n; i++)
    girth += plumb_vec2_length (plumb_vec2_sub (p[(i + 1) % n], p[i]));
  return area > PLUMB_POINT_TOLERANCE_M / 2.0 * girth;
}

void
plumb_parts_add (PlumbList *parts, const PlumbRing *ring, uint32_t tag)
{
  PlumbVec2 p[PLUMB_SPLIT_MAX_POINTS];
  size_t n = tidy (ring, p);

  for (size_t first = 1; first + 1 < n; first += PLUMB_FACE_MAX_POINTS - 2)
    {
      PlumbPart part = { .tag = tag };
      part.p[part.n++] = p[0];
      for (size_t i = first; i < n && part.n < PLUMB_FACE_MAX_POINTS; i++)
        part.p[part.n++] = p[i];
      if (!has_body (part.p, part.n))
        continue;
      PlumbPart *added = plumb_list_add (parts, 1);
      if (added != NULL)
        *added = part;
    }
}

PlumbRing
plumb_part_ring (const PlumbPart *part)
{
  PlumbRing ring;

  ring.n = part->n;
  memcpy (ring.p, part->p, part->n * sizeof part->p[0]);
  return ring;
}

PlumbBox2
plumb_part_box (const PlumbPart *part)
{
  PlumbBox2 box = { { INFINITY, INFINITY }, { -INFINITY, -INFINITY } };

  for (uint32_t i = 0; i < part->n; i++)
    {
      box.least = plumb_vec2 (fmin (box.least.x, part->p[i].x), fmin (box.least.y, part->p[i].y));
      box.most = plumb_vec2 (fmax (box.most.x, part->p[i].x), fmax (box.most.y, part->p[i].y));
    }
  return box;
}

static bool
boxes_apart (const PlumbPart *a, const PlumbPart *b)
{
  PlumbBox2 p = plumb_part_box (a), q = plumb_part_box (b);

  return p.least.x >= q.most.x || q.least.x >= p.most.x || p.least.y >= q.most.y || q.least.y >= p.most.y;
}

/* Whether some edge of `by` has all of `part` on its far side. */
static bool
edge_parts (const PlumbPart *part, const PlumbPart *by)
{
  for (uint32_t e = 0; e < by->n; e++)
    {
      PlumbLine2 line;
      bool apart = plumb_line2_through (by->p[e], by->p[(e + 1) % by->n], &line);
      for (uint32_t i = 0; apart && i < part->n; i++)
        apart = plumb_line2_at (line, part->p[i]) >= -PLUMB_POINT_TOLERANCE_M / 2.0;
      if (apart)
        return true;
    }
  return false;
}

static void
keep_part (PlumbList *list, const PlumbPart *part)
{
  PlumbPart *added = plumb_list_add (list, 1);

  if (added != NULL)
    *added = *part;
}

bool
plumb_part_cut (const PlumbPart *part, const PlumbPart *knife, uint32_t inside_tag, PlumbList *inside,
                PlumbList *outside)
{
  PlumbPart copy = *part; /* the lists may move what `part` points to */

  if (boxes_apart (&copy, knife) || edge_parts (&copy, knife) || edge_parts (knife, &copy))
    {
      keep_part (outside, &copy);
      return false;
    }
  PlumbRing rest = plumb_part_ring (&copy), in, out;
  for (uint32_t e = 0; e < knife->n; e++)
    {
      PlumbLine2 line;
      if (!plumb_line2_through (knife->p[e], knife->p[(e + 1) % knife->n], &line))
        continue;
      plumb_ring_split (&rest, line, SNAP_M, &in, &out);
      plumb_parts_add (outside, &out, copy.tag);
      rest = in;
    }
  if (inside != NULL)
    plumb_parts_add (inside, &rest, inside_tag);
  return rest.n > 0;
}

bool
plumb_part_holds (const PlumbPart *part, PlumbVec2 point, double tolerance_m)
{
  for (uint32_t e = 0; e < part->n; e++)
    {
      PlumbLine2 line;
      if (plumb_line2_through (part->p[e], part->p[(e + 1) % part->n], &line)
          && plumb_line2_at (line, point) > tolerance_m)
        return false;
    }
  return true;
}

PlumbPart
plumb_part_rectangle (double x0, double x1, double y0, double y1, uint32_t tag)
{
  return (PlumbPart){ .tag = tag, .n = 4, .p = { { x0, y0 }, { x1, y0 }, { x1, y1 }, { x0, y1 } } };
}
