/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/mesh-private.h"

/* Halvings of one edge at most: keeps a room of kilometres within bounds. */
#define MOST_HALVINGS 7

typedef struct {
  PlumbVec3 p[3];
  int depth;
} Triangle;

typedef struct {
  PlumbVec3 normal, along, across;
  PlumbMaterial material;
} Surface;

void
plumb_maker_part (PlumbMaker *maker, PlumbSubject subject, bool shadows, bool catches)
{
  PlumbMeshPart part
      = { .subject = subject, .first = maker->indices->len, .shadows = shadows, .catches = catches };
  g_array_append_val (maker->parts, part);
}

void
plumb_maker_end_part (PlumbMaker *maker)
{
  PlumbMeshPart *part = &g_array_index (maker->parts, PlumbMeshPart, maker->parts->len - 1);
  part->n = maker->indices->len - part->first;
  if (part->n == 0)
    g_array_set_size (maker->parts, maker->parts->len - 1);
}

uint32_t
plumb_maker_vertex (PlumbMaker *maker, PlumbVec3 position, PlumbVec3 normal, PlumbVec2 texture_m,
                    PlumbMaterial material)
{
  PlumbMeshVertex vertex = {
    .position_m = { (float) position.x, (float) position.y, (float) position.z },
    .normal = { (float) normal.x, (float) normal.y, (float) normal.z },
    .texture_m = { (float) texture_m.x, (float) texture_m.y },
    .occlusion = 1.0f,
    .material = (float) material,
  };
  g_array_append_val (maker->vertices, vertex);
  return maker->vertices->len - 1;
}

void
plumb_maker_triangle (PlumbMaker *maker, uint32_t a, uint32_t b, uint32_t c)
{
  uint32_t corner[3] = { a, b, c };
  g_array_append_vals (maker->indices, corner, 3);
}

static guint
hash_point (gconstpointer key)
{
  const guint64 *bits = key;
  guint64 mixed = bits[0] * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  mixed = (mixed ^ (mixed >> 29) ^ bits[1]) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  mixed = (mixed ^ (mixed >> 32) ^ bits[2]) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return (guint) (mixed >> 32);
}

static gboolean
same_point (gconstpointer a, gconstpointer b)
{
  const guint64 *p = a, *q = b;
  return p[0] == q[0] && p[1] == q[1] && p[2] == q[2];
}

GHashTable *
plumb_maker_corners_new (void)
{
  return g_hash_table_new_full (hash_point, same_point, g_free, NULL);
}

GArray *
plumb_maker_triangles_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (Triangle));
}

/* Corners of one face that fall together are one vertex. Two ways to the same
 * point give the same bits, since a middle is always worked out from the same
 * two ends. */
static uint32_t
face_corner (PlumbMaker *maker, PlumbVec3 p, const Surface *surface)
{
  gpointer found = g_hash_table_lookup (maker->corner, &p);
  if (found != NULL)
    return GPOINTER_TO_UINT (found) - 1;
  PlumbVec2 texture = { plumb_vec3_dot (p, surface->along), plumb_vec3_dot (p, surface->across) };
  uint32_t vertex = plumb_maker_vertex (maker, p, surface->normal, texture, surface->material);
  g_hash_table_insert (maker->corner, g_memdup2 (&p, sizeof p), GUINT_TO_POINTER (vertex + 1));
  return vertex;
}

static PlumbVec3
middle (PlumbVec3 a, PlumbVec3 b)
{
  return plumb_vec3 ((a.x + b.x) * 0.5, (a.y + b.y) * 0.5, (a.z + b.z) * 0.5);
}

/* Halves the longest edge if it is too long. Whether an edge is divided
 * depends on nothing but its length, so neighbours agree. */
static bool
divide (PlumbMaker *maker, const Triangle *t)
{
  double length[3];
  int longest = 0;

  for (int i = 0; i < 3; i++)
    {
      length[i] = plumb_vec3_length (plumb_vec3_sub (t->p[(i + 1) % 3], t->p[i]));
      if (length[i] > length[longest])
        longest = i;
    }
  if (length[longest] <= PLUMB_MESH_EDGE_M || t->depth >= 2 * MOST_HALVINGS)
    return false;
  PlumbVec3 a = t->p[longest], b = t->p[(longest + 1) % 3], c = t->p[(longest + 2) % 3];
  PlumbVec3 m = middle (a, b);
  Triangle half[2] = { { { a, m, c }, t->depth + 1 }, { { m, b, c }, t->depth + 1 } };
  g_array_append_vals (maker->triangles, half, 2);
  return true;
}

static void
put_triangle (PlumbMaker *maker, const Triangle *t, const Surface *surface)
{
  uint32_t a = face_corner (maker, t->p[0], surface), b = face_corner (maker, t->p[1], surface);
  plumb_maker_triangle (maker, a, b, face_corner (maker, t->p[2], surface));
}

void
plumb_maker_face (PlumbMaker *maker, const PlumbVec3 *points, uint32_t n, PlumbVec3 normal, PlumbVec3 grain,
                  PlumbMaterial material, bool divided)
{
  Surface surface = { .normal = normal, .material = material };
  PlumbVec3 along = plumb_vec3_along (grain, normal, -plumb_vec3_dot (grain, normal));

  if (plumb_vec3_length (along) < 1e-6)
    along = plumb_vec3_cross (normal, fabs (normal.z) < 0.9 ? plumb_vec3 (0.0, 0.0, 1.0) : plumb_vec3 (1.0, 0.0, 0.0));
  surface.along = plumb_vec3_unit (along);
  surface.across = plumb_vec3_cross (normal, surface.along);
  g_hash_table_remove_all (maker->corner);
  g_array_set_size (maker->triangles, 0);
  for (uint32_t i = 1; i + 1 < n; i++)
    {
      Triangle t = { { points[0], points[i], points[i + 1] }, 0 };
      g_array_append_val (maker->triangles, t);
    }
  while (maker->triangles->len > 0)
    {
      Triangle t = g_array_index (maker->triangles, Triangle, maker->triangles->len - 1);
      g_array_set_size (maker->triangles, maker->triangles->len - 1);
      if (!divided || !divide (maker, &t))
        put_triangle (maker, &t, &surface);
    }
}
