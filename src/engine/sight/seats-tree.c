/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A tree of boxes round bounding spheres, split at the median of the longest
 * side, so that building costs n log n and a question log n and what it finds.
 */
#include <stdlib.h>

#include "plumbeam/people.h"

#define LEAF 4
/* Twice the depth of the largest tree there can be (2³² bodies). */
#define STACK 64

typedef struct {
  const PlumbVec3 *centres;
  const double *radii;
  PlumbBodyTree *tree;
} Maker;

static double
part (PlumbVec3 v, int axis)
{
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

static void
swap (uint32_t *a, uint32_t *b)
{
  uint32_t kept = *a;
  *a = *b;
  *b = kept;
}

/* Puts the middle one in its place, smaller ones before it (Hoare 1961). */
static void
select_middle (const Maker *m, uint32_t *order, uint32_t n, int axis)
{
  uint32_t low = 0, high = n - 1, middle = n / 2;

  while (low < high)
    {
      double pivot = part (m->centres[order[low + (high - low) / 2]], axis);
      uint32_t i = low, j = high;
      while (true)
        {
          while (part (m->centres[order[i]], axis) < pivot)
            i++;
          while (part (m->centres[order[j]], axis) > pivot)
            j--;
          if (i >= j)
            break;
          swap (&order[i++], &order[j--]);
        }
      if (middle <= j)
        high = j;
      else
        low = j + 1;
    }
}

static void
bound (const Maker *m, PlumbBodyNode *node)
{
  node->least = plumb_vec3 (HUGE_VAL, HUGE_VAL, HUGE_VAL);
  node->most = plumb_vec3 (-HUGE_VAL, -HUGE_VAL, -HUGE_VAL);
  for (uint32_t i = node->first; i < node->first + node->count; i++)
    {
      PlumbVec3 c = m->centres[m->tree->order[i]];
      double r = m->radii[m->tree->order[i]];
      node->least = plumb_vec3 (fmin (node->least.x, c.x - r), fmin (node->least.y, c.y - r),
                                fmin (node->least.z, c.z - r));
      node->most
          = plumb_vec3 (fmax (node->most.x, c.x + r), fmax (node->most.y, c.y + r), fmax (node->most.z, c.z + r));
    }
}

static void
make (const Maker *m, uint32_t first, uint32_t count)
{
  uint32_t at = m->tree->n_nodes++;
  PlumbBodyNode *node = &m->tree->nodes[at];

  *node = (PlumbBodyNode){ .first = first, .count = count };
  bound (m, node);
  if (count <= LEAF)
    return;
  PlumbVec3 size = plumb_vec3_sub (node->most, node->least);
  int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
  select_middle (m, m->tree->order + first, count, axis);
  node->count = 0;
  make (m, first, count / 2);
  m->tree->nodes[at].right = m->tree->n_nodes;
  make (m, first + count / 2, count - count / 2);
}

bool
plumb_body_tree_make (const PlumbVec3 *centres, const double *radii, uint32_t n, PlumbBodyTree *out)
{
  *out = (PlumbBodyTree){ .n = n };
  out->order = malloc (((size_t) n + 1) * sizeof *out->order);
  out->nodes = malloc ((2 * (size_t) n + 1) * sizeof *out->nodes);
  if (out->order == NULL || out->nodes == NULL)
    {
      plumb_body_tree_clear (out);
      return false;
    }
  for (uint32_t i = 0; i < n; i++)
    out->order[i] = i;
  if (n > 0)
    make (&(Maker){ centres, radii, out }, 0, n);
  return true;
}

void
plumb_body_tree_clear (PlumbBodyTree *tree)
{
  free (tree->order);
  free (tree->nodes);
  *tree = (PlumbBodyTree){ 0 };
}

/* Planes of the pyramid, pointing out: four sides, the base, and one through
 * the tip, level with the base. */
typedef struct {
  PlumbVec3 out;
  double at;
} Side;

static void
make_sides (PlumbVec3 from, const PlumbVec3 corners[4], Side sides[6])
{
  PlumbVec3 across = plumb_vec3_sub (corners[1], corners[0]), up = plumb_vec3_sub (corners[3], corners[0]);
  PlumbVec3 base = plumb_vec3_cross (across, up);
  PlumbVec3 middle = plumb_vec3_scale (plumb_vec3_add (corners[0], corners[2]), 0.5);
  double eye_side = plumb_vec3_dot (base, plumb_vec3_sub (from, corners[0]));

  if (eye_side > 0.0)
    base = plumb_vec3_scale (base, -1.0);
  sides[4] = (Side){ base, plumb_vec3_dot (base, corners[0]) };
  sides[5].out = plumb_vec3_scale (base, -1.0);
  sides[5].at = plumb_vec3_dot (sides[5].out, from);
  for (int i = 0; i < 4; i++)
    {
      PlumbVec3 out = plumb_vec3_cross (plumb_vec3_sub (corners[i], from), plumb_vec3_sub (corners[(i + 1) % 4], from));
      if (plumb_vec3_dot (out, plumb_vec3_sub (middle, from)) > 0.0)
        out = plumb_vec3_scale (out, -1.0);
      sides[i] = (Side){ out, plumb_vec3_dot (out, from) };
    }
}

static bool
is_outside (const PlumbBodyNode *node, const Side sides[6])
{
  for (int i = 0; i < 6; i++)
    {
      PlumbVec3 out = sides[i].out;
      PlumbVec3 innermost = plumb_vec3 (out.x > 0.0 ? node->least.x : node->most.x,
                                        out.y > 0.0 ? node->least.y : node->most.y,
                                        out.z > 0.0 ? node->least.z : node->most.z);
      if (plumb_vec3_dot (out, innermost) > sides[i].at)
        return true;
    }
  return false;
}

uint32_t
plumb_body_tree_between (const PlumbBodyTree *tree, PlumbVec3 from, const PlumbVec3 corners[4], uint32_t *found)
{
  uint32_t stack[STACK], depth = 0, n = 0;
  Side sides[6];

  if (tree->n == 0)
    return 0;
  make_sides (from, corners, sides);
  stack[depth++] = 0;
  while (depth > 0)
    {
      uint32_t at = stack[--depth];
      const PlumbBodyNode *node = &tree->nodes[at];
      if (is_outside (node, sides))
        continue;
      for (uint32_t i = 0; i < node->count; i++)
        found[n++] = tree->order[node->first + i];
      if (node->count == 0)
        {
          stack[depth++] = node->right;
          stack[depth++] = at + 1;
        }
    }
  return n;
}
