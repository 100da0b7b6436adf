/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * How closed in each corner of the mesh is: rays in fixed directions against
 * the whole building, near hits counting more than far ones.
 */
#include <glib.h>
#include <string.h>

#include "view3d/mesh.h"

#define REACH_M 4.5f
/* Rays start this far off their face, or they would meet it. */
#define OFF_M 0.004f
#define LEAF_TRIANGLES 8
#define STACK 64
/* Corners of people and chairs this near to each other share their rays. */
#define PATCH_M 0.18f
#define SMOOTH_ROUNDS 4
/* Directions over the whole sphere; half of them serve a corner. A mesh that
 * is large takes fewer, so that a hall of 2,000 seats is ready in time. */
#define MOST_DIRECTIONS 32
#define LEAST_DIRECTIONS 12
#define RAYS 60000.0

typedef struct {
  float least[3], most[3];
  uint32_t first, n; /* leaf: triangles; else n = 0 and the second child at `first` */
} Node;

typedef struct {
  float a[3], e[3], f[3];
} Corner;

/* The library's own least and greatest are calls, and care for what is not a
 * number. */
static inline float
less (float a, float b)
{
  return a < b ? a : b;
}

static inline float
more (float a, float b)
{
  return a > b ? a : b;
}

typedef struct {
  GArray *nodes;
  Corner *triangles;
  uint32_t *order;
  float (*centre)[3];
} Tree;

static void
bound (const Tree *tree, uint32_t first, uint32_t n, Node *node, float span[3])
{
  float low[3] = { INFINITY, INFINITY, INFINITY }, high[3] = { -INFINITY, -INFINITY, -INFINITY };

  for (int k = 0; k < 3; k++)
    {
      node->least[k] = INFINITY;
      node->most[k] = -INFINITY;
    }
  for (uint32_t i = first; i < first + n; i++)
    for (int k = 0; k < 3; k++)
      {
        const Corner *t = &tree->triangles[tree->order[i]];
        float b = t->a[k] + t->e[k], c = t->a[k] + t->f[k];
        node->least[k] = less (node->least[k], less (t->a[k], less (b, c)));
        node->most[k] = more (node->most[k], more (t->a[k], more (b, c)));
        low[k] = less (low[k], tree->centre[tree->order[i]][k]);
        high[k] = more (high[k], tree->centre[tree->order[i]][k]);
      }
  for (int k = 0; k < 3; k++)
    span[k] = high[k] - low[k];
}

/* Puts the middle one in its place along an axis, smaller ones before it. */
static void
select_middle (Tree *tree, uint32_t first, uint32_t n, int axis)
{
  uint32_t low = first, high = first + n - 1, wanted = first + n / 2;

  while (low < high)
    {
      float pivot = tree->centre[tree->order[low + (high - low) / 2]][axis];
      uint32_t i = low, j = high;
      for (;;)
        {
          while (tree->centre[tree->order[i]][axis] < pivot)
            i++;
          while (tree->centre[tree->order[j]][axis] > pivot)
            j--;
          if (i >= j)
            break;
          uint32_t swap = tree->order[i];
          tree->order[i++] = tree->order[j];
          tree->order[j--] = swap;
        }
      if (wanted <= j)
        high = j;
      else
        low = j + 1;
    }
}

static void
build_node (Tree *tree, uint32_t first, uint32_t n)
{
  Node node = { .first = first, .n = n };
  float span[3];
  guint at = tree->nodes->len;

  bound (tree, first, n, &node, span);
  int axis = span[0] > span[1] ? (span[0] > span[2] ? 0 : 2) : (span[1] > span[2] ? 1 : 2);
  g_array_append_val (tree->nodes, node);
  if (n <= LEAF_TRIANGLES || !(span[axis] > 0.0f))
    return;
  select_middle (tree, first, n, axis);
  build_node (tree, first, n / 2);
  g_array_index (tree->nodes, Node, at).n = 0;
  g_array_index (tree->nodes, Node, at).first = tree->nodes->len;
  build_node (tree, first + n / 2, n - n / 2);
}

static void
tree_init (Tree *tree, const PlumbMesh *mesh)
{
  uint32_t n = mesh->n_indices / 3;

  tree->nodes = g_array_new (FALSE, FALSE, sizeof (Node));
  tree->triangles = g_new (Corner, n);
  tree->order = g_new (uint32_t, n);
  tree->centre = g_malloc_n (n, sizeof *tree->centre);
  for (uint32_t i = 0; i < n; i++)
    {
      const float *a = mesh->vertices[mesh->indices[3 * i]].position_m;
      const float *b = mesh->vertices[mesh->indices[3 * i + 1]].position_m;
      const float *c = mesh->vertices[mesh->indices[3 * i + 2]].position_m;
      tree->order[i] = i;
      for (int k = 0; k < 3; k++)
        {
          tree->triangles[i].a[k] = a[k];
          tree->triangles[i].e[k] = b[k] - a[k];
          tree->triangles[i].f[k] = c[k] - a[k];
          tree->centre[i][k] = (a[k] + b[k] + c[k]) / 3.0f;
        }
    }
  build_node (tree, 0, n);
  /* In the order of the leaves they lie together in memory. */
  Corner *sorted = g_new (Corner, n);
  for (uint32_t i = 0; i < n; i++)
    sorted[i] = tree->triangles[tree->order[i]];
  g_free (tree->triangles);
  tree->triangles = sorted;
}

static void
tree_clear (Tree *tree)
{
  g_array_unref (tree->nodes);
  g_free (tree->triangles);
  g_free (tree->order);
  g_free (tree->centre);
}

typedef struct {
  float from[3], way[3], over[3]; /* over: one over the way */
} Ray;

/* Where the ray enters the box; beyond the reach if it does not. */
static inline float
meet_box (const Ray *ray, const Node *node, float reach)
{
  float in = 0.0f, out = reach;

  for (int k = 0; k < 3; k++)
    {
      float s = (node->least[k] - ray->from[k]) * ray->over[k], t = (node->most[k] - ray->from[k]) * ray->over[k];
      in = more (less (s, t), in);
      out = less (more (s, t), out);
    }
  return in <= out ? in : INFINITY;
}

/* Möller and Trumbore 1997. */
static float
meet_triangle (const Ray *ray, const Corner *t, float reach)
{
  const float *d = ray->way, *e = t->e, *f = t->f;
  float p[3] = { d[1] * f[2] - d[2] * f[1], d[2] * f[0] - d[0] * f[2], d[0] * f[1] - d[1] * f[0] };
  float det = e[0] * p[0] + e[1] * p[1] + e[2] * p[2];

  if (det > -1e-12f && det < 1e-12f)
    return reach;
  float one = 1.0f / det, s[3] = { ray->from[0] - t->a[0], ray->from[1] - t->a[1], ray->from[2] - t->a[2] };
  float u = (s[0] * p[0] + s[1] * p[1] + s[2] * p[2]) * one;
  if (u < 0.0f || u > 1.0f)
    return reach;
  float q[3] = { s[1] * e[2] - s[2] * e[1], s[2] * e[0] - s[0] * e[2], s[0] * e[1] - s[1] * e[0] };
  float v = (d[0] * q[0] + d[1] * q[1] + d[2] * q[2]) * one;
  float away = (f[0] * q[0] + f[1] * q[1] + f[2] * q[2]) * one;
  return v >= 0.0f && u + v <= 1.0f && away > 0.0f && away < reach ? away : reach;
}

static float
nearest (const Tree *tree, const Ray *ray)
{
  const Node *nodes = &g_array_index (tree->nodes, Node, 0);
  uint32_t stack[STACK], at = 0;
  float entry[STACK], reach = REACH_M;
  int n = 0;

  for (;;)
    {
      const Node *node = &nodes[at];
      if (node->n == 0)
        {
          float a = meet_box (ray, node + 1, reach), b = meet_box (ray, &nodes[node->first], reach);
          uint32_t close = a <= b ? at + 1 : node->first, away = a <= b ? node->first : at + 1;
          float first = a <= b ? a : b, second = a <= b ? b : a;
          if (second < reach)
            {
              entry[n] = second;
              stack[n++] = away;
            }
          at = close;
          if (first < reach)
            continue;
        }
      else
        for (uint32_t i = 0; i < node->n; i++)
          reach = meet_triangle (ray, &tree->triangles[node->first + i], reach);
      while (n > 0 && entry[n - 1] >= reach)
        n--;
      if (n == 0)
        return reach;
      at = stack[--n];
    }
}

/* Even over the sphere: a spiral with the golden angle. */
static void
spread (float (*way)[3], int n)
{
  for (int i = 0; i < n; i++)
    {
      double z = 1.0 - (2.0 * i + 1.0) / n, around = i * PLUMB_PI * (3.0 - sqrt (5.0)), r = sqrt (1.0 - z * z);
      way[i][0] = (float) (r * cos (around));
      way[i][1] = (float) (r * sin (around));
      way[i][2] = (float) z;
    }
}

/* What one set of rays is sent for: a corner of the building, or a patch of a
 * person or chair whose corners lie closer together than shading changes. */
typedef struct {
  float from[3], normal[3], open;
} Probe;

static float
openness (const Tree *tree, const Probe *probe, const float (*way)[3], int n)
{
  float sum = 0.0f, open = 0.0f;
  Ray ray;

  for (int k = 0; k < 3; k++)
    ray.from[k] = probe->from[k] + OFF_M * probe->normal[k];
  for (int i = 0; i < n; i++)
    {
      float weight = way[i][0] * probe->normal[0] + way[i][1] * probe->normal[1] + way[i][2] * probe->normal[2];
      if (!(weight > 0.0f))
        continue;
      for (int k = 0; k < 3; k++)
        {
          ray.way[k] = way[i][k];
          ray.over[k] = fabsf (way[i][k]) > 1e-12f ? 1.0f / way[i][k] : 1e12f;
        }
      /* What is near takes most of the light; at the reach it takes none. */
      float share = 1.0f - nearest (tree, &ray) / REACH_M;
      sum += weight;
      open += weight * (1.0f - share * share);
    }
  return sum > 0.0f ? open / sum : 1.0f;
}

typedef struct {
  PlumbMesh *mesh;
  const Tree *tree;
  const float (*way)[3];
  int n_ways;
  const gint *stop; /* NULL, or not 0 as soon as nobody wants it any more */
  GArray *probes;
  uint32_t *probe_of; /* by corner; PLUMB_NO_INDEX: none */
} Work;

/* Corners of a patch: same place to PATCH_M, same side of six. */
static guint64
patch_key (const PlumbMeshVertex *v)
{
  int side = 0;
  guint64 key = 0;

  for (int k = 1; k < 3; k++)
    if (fabsf (v->normal[k]) > fabsf (v->normal[side]))
      side = k;
  for (int k = 0; k < 3; k++)
    key = key << 19 | ((guint64) (gint64) floorf (v->position_m[k] / PATCH_M) & 0x7ffff);
  return key << 3 | (guint64) (side * 2 + (v->normal[side] < 0.0f));
}

static uint32_t
new_probe (Work *work, const PlumbMeshVertex *v)
{
  Probe probe;
  memcpy (probe.from, v->position_m, sizeof probe.from);
  memcpy (probe.normal, v->normal, sizeof probe.normal);
  probe.open = 1.0f;
  g_array_append_val (work->probes, probe);
  return work->probes->len - 1;
}

static void
choose_probes (Work *work)
{
  g_autoptr (GHashTable) patches = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (uint32_t i = 0; i < work->mesh->n_vertices; i++)
    {
      const PlumbMeshVertex *v = &work->mesh->vertices[i];
      work->probe_of[i] = PLUMB_NO_INDEX;
      if (v->material >= (float) PLUMB_MATERIAL_CUT)
        continue;
      if (v->material < (float) PLUMB_MATERIAL_SEAT || v->material > (float) PLUMB_MATERIAL_PERSON)
        {
          work->probe_of[i] = new_probe (work, v);
          continue;
        }
      guint64 key = patch_key (v);
      gpointer found = g_hash_table_lookup (patches, &key);
      if (found == NULL)
        {
          found = GUINT_TO_POINTER (new_probe (work, v) + 1);
          g_hash_table_insert (patches, g_memdup2 (&key, sizeof key), found);
        }
      work->probe_of[i] = GPOINTER_TO_UINT (found) - 1;
    }
}

typedef struct {
  Work *work;
  uint32_t first, end;
} Share;

static gpointer
send_rays (gpointer data)
{
  const Share *share = data;
  const Work *work = share->work;

  for (uint32_t i = share->first; i < share->end; i++)
    {
      if (work->stop != NULL && g_atomic_int_get (work->stop) != 0)
        break;
      Probe *probe = &g_array_index (work->probes, Probe, i);
      probe->open = openness (work->tree, probe, work->way, work->n_ways);
    }
  return NULL;
}

/* Half of the probes on a second thread, if there is one; beside a window that
 * draws, all of them here. */
static void
send_all_rays (Work *work)
{
  uint32_t n = work->probes->len;

  if (work->stop != NULL)
    {
      Share all = { work, 0, n };
      send_rays (&all);
      return;
    }
  Share mine = { work, 0, n / 2 }, other = { work, n / 2, n };
  GThread *thread = g_get_num_processors () > 1 ? g_thread_try_new ("occlusion", send_rays, &other, NULL) : NULL;

  send_rays (&mine);
  if (thread != NULL)
    g_thread_join (thread);
  else
    send_rays (&other);
}

/* Evens the patches of people out along their surface. */
static void
smooth (const PlumbMesh *mesh)
{
  g_autofree float *sum = g_new0 (float, mesh->n_vertices);
  g_autofree float *n = g_new0 (float, mesh->n_vertices);

  for (uint32_t i = 0; i + 2 < mesh->n_indices; i += 3)
    {
      const uint32_t *c = &mesh->indices[i];
      if (mesh->vertices[c[0]].material != (float) PLUMB_MATERIAL_PERSON)
        continue;
      for (int k = 0; k < 3; k++)
        {
          sum[c[k]] += mesh->vertices[c[(k + 1) % 3]].occlusion + mesh->vertices[c[(k + 2) % 3]].occlusion;
          n[c[k]] += 2.0f;
        }
    }
  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    if (n[i] > 0.0f)
      mesh->vertices[i].occlusion = 0.5f * mesh->vertices[i].occlusion + 0.5f * sum[i] / n[i];
}

void
plumb_mesh_bake (PlumbMesh *mesh, const PlumbMesh *whole, const gint *stop)
{
  float way[MOST_DIRECTIONS][3];
  Tree tree;

  if (whole->n_indices < 3 || mesh->n_vertices == 0)
    return;
  tree_init (&tree, whole);
  Work work = { .mesh = mesh, .tree = &tree, .way = (const float (*)[3]) way, .stop = stop };
  work.probes = g_array_new (FALSE, FALSE, sizeof (Probe));
  work.probe_of = g_new (uint32_t, mesh->n_vertices);
  choose_probes (&work);
  work.n_ways = (int) plumb_clamp (2.0 * RAYS / (work.probes->len + 1.0), LEAST_DIRECTIONS, MOST_DIRECTIONS);
  spread (way, work.n_ways);
  send_all_rays (&work);
  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    if (work.probe_of[i] != PLUMB_NO_INDEX)
      mesh->vertices[i].occlusion = g_array_index (work.probes, Probe, work.probe_of[i]).open;
  for (int round = 0; round < SMOOTH_ROUNDS; round++)
    smooth (mesh);
  g_array_unref (work.probes);
  g_free (work.probe_of);
  tree_clear (&tree);
}
