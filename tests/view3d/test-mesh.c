/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "../engine/sample-job.h"
#include "job/job.h"
#include "view3d/mesh.h"

static const PlumbSection SECTIONS[] = {
  { PLUMB_SECTION_INSIDE, 0 }, { PLUMB_SECTION_GABLE, 0 },  { PLUMB_SECTION_CORNER, 0 },
  { PLUMB_SECTION_CORNER, 1 }, { PLUMB_SECTION_CORNER, 2 }, { PLUMB_SECTION_CORNER, 3 },
};

static const PlumbMeshVertex *
corner (const PlumbMesh *mesh, uint32_t index)
{
  return &mesh->vertices[mesh->indices[index]];
}

static PlumbVec3
position (const PlumbMesh *mesh, uint32_t index)
{
  const float *p = corner (mesh, index)->position_m;
  return plumb_vec3 (p[0], p[1], p[2]);
}

/* Every number finite, every index in range, normals of length one, parts
 * side by side, and each triangle turned the way that its normals point. */
static void
check_whole (const PlumbMesh *mesh)
{
  uint32_t next = 0;
  for (uint32_t i = 0; i < mesh->n_vertices; i++)
    {
      const PlumbMeshVertex *v = &mesh->vertices[i];
      for (int k = 0; k < 3; k++)
        g_assert_true (isfinite (v->position_m[k]) && isfinite (v->normal[k]));
      g_assert_true (isfinite (v->texture_m[0]) && isfinite (v->texture_m[1]));
      g_assert_true (v->occlusion >= 0.0f && v->occlusion <= 1.0f);
      g_assert_true (v->material >= 0.0f && v->material < (float) PLUMB_N_MATERIALS);
      g_assert_cmpfloat_with_epsilon (
          hypot (hypot ((double) v->normal[0], (double) v->normal[1]), (double) v->normal[2]), 1.0, 1e-4);
    }
  for (uint32_t i = 0; i < mesh->n_indices; i++)
    g_assert_cmpuint (mesh->indices[i], <, mesh->n_vertices);
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    {
      g_assert_cmpuint (mesh->parts[p].first, ==, next);
      g_assert_cmpuint (mesh->parts[p].n % 3, ==, 0);
      next += mesh->parts[p].n;
    }
  g_assert_cmpuint (next, ==, mesh->n_indices);
}

/* Volume of a part by the divergence theorem: a sixth of the sum of a·(b × c). */
static double
part_volume (const PlumbMesh *mesh, const PlumbMeshPart *part)
{
  PlumbVec3 o = position (mesh, part->first);
  double sum = 0.0;
  for (uint32_t i = part->first; i < part->first + part->n; i += 3)
    {
      PlumbVec3 a = plumb_vec3_sub (position (mesh, i), o), b = plumb_vec3_sub (position (mesh, i + 1), o);
      sum += plumb_vec3_dot (a, plumb_vec3_cross (b, plumb_vec3_sub (position (mesh, i + 2), o))) / 6.0;
    }
  return sum;
}

static double
volume_of (const PlumbMesh *mesh, PlumbRecordKind kind, uint32_t index)
{
  double sum = 0.0;
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    if (mesh->parts[p].subject.kind == kind && (index == PLUMB_NO_INDEX || mesh->parts[p].subject.index == index))
      sum += part_volume (mesh, &mesh->parts[p]);
  return sum;
}

/* Area of triangles of one material within a part's kind. */
static double
area_of (const PlumbMesh *mesh, PlumbRecordKind kind, PlumbMaterial material)
{
  double sum = 0.0;
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (uint32_t i = mesh->parts[p].first; i < mesh->parts[p].first + mesh->parts[p].n; i += 3)
      {
        if (mesh->parts[p].subject.kind != kind || corner (mesh, i)->material != (float) material)
          continue;
        PlumbVec3 a = position (mesh, i);
        sum += plumb_vec3_length (plumb_vec3_cross (plumb_vec3_sub (position (mesh, i + 1), a),
                                                    plumb_vec3_sub (position (mesh, i + 2), a)))
               / 2.0;
      }
  return sum;
}

static gboolean
same_bytes (gconstpointer a, gconstpointer b)
{
  return memcmp (a, b, 6 * sizeof (float)) == 0;
}

static guint
hash_bytes (gconstpointer key)
{
  const guint32 *words = key;
  guint hash = 0;
  for (int i = 0; i < 6; i++)
    hash = hash * 16777619u ^ words[i];
  return hash;
}

/* Ends of an edge by position to a hundredth of a millimetre: faces that meet
 * work their corners out in different ways. */
static void
edge_key (const PlumbMesh *mesh, uint32_t from, uint32_t to, float key[6])
{
  for (int k = 0; k < 3; k++)
    {
      key[k] = rintf (corner (mesh, from)->position_m[k] * 1e5f) + 0.0f;
      key[3 + k] = rintf (corner (mesh, to)->position_m[k] * 1e5f) + 0.0f;
    }
}

/* A closed surface has each edge as often in one direction as in the other;
 * a plain one once. */
static void
check_closed (const PlumbMesh *mesh, const PlumbMeshPart *part, guint most)
{
  g_autoptr (GHashTable) edges = g_hash_table_new_full (hash_bytes, same_bytes, g_free, NULL);
  for (uint32_t i = part->first; i < part->first + part->n; i++)
    {
      uint32_t next = (i - part->first) % 3 == 2 ? i - 2 : i + 1;
      float key[6];
      edge_key (mesh, i, next, key);
      guint n = GPOINTER_TO_UINT (g_hash_table_lookup (edges, key)) + 1;
      g_hash_table_replace (edges, g_memdup2 (key, sizeof key), GUINT_TO_POINTER (n));
    }
  GHashTableIter iter;
  gpointer key, n;
  g_hash_table_iter_init (&iter, edges);
  while (g_hash_table_iter_next (&iter, &key, &n))
    {
      const float *ends = key;
      float back[6] = { ends[3], ends[4], ends[5], ends[0], ends[1], ends[2] };
      g_assert_true (g_hash_table_lookup (edges, back) == n);
      g_assert_cmpuint (GPOINTER_TO_UINT (n), <=, most);
    }
}

static void
build (Sample *sample, const PlumbSection *section, PlumbMesh *mesh)
{
  PlumbScene *scene = sample_scene (sample);
  PlumbEvaluation *evaluation = sample_evaluate (sample);
  g_assert_true (plumb_mesh_build (scene, evaluation, section, NULL, mesh));
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

/* Volumes of blockers by their closed forms; a cylinder of n corners a turn
 * has n/2 sin (2π/n) r² h. */
static void
test_volumes (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  PlumbBlocker *box = sample_add_box (&sample, "box", 2, 3, 0, 0.8, 1.7, 0.35);
  box->yaw_rad = 0.4;
  PlumbBlocker *drum = sample_add_box (&sample, "drum", 4, 3, 0, 1, 1, 2.1);
  drum->shape = PLUMB_SHAPE_CYLINDER;
  drum->diameter_m = 0.5;
  PlumbBlocker *egg = sample_add_box (&sample, "egg", 3, 5, 1, 0.5, 0.7, 0.9);
  egg->shape = PLUMB_SHAPE_ELLIPSOID;
  guint first = sample.n_blocker - 3;
  build (&sample, &SECTIONS[0], &mesh);
  g_assert_cmpfloat_with_epsilon (volume_of (&mesh, PLUMB_RECORD_BLOCKER, first), 0.8 * 1.7 * 0.35, 1e-5);
  double turn = 16.0 * sin (PLUMB_PI / 16.0);
  g_assert_cmpfloat_with_epsilon (volume_of (&mesh, PLUMB_RECORD_BLOCKER, first + 1), turn * 0.0625 * 2.1, 1e-5);
  /* An inscribed ellipsoid is a little small: within 2 % of 4/3 π abc. */
  double ellipsoid = 4.0 / 3.0 * PLUMB_PI * 0.25 * 0.35 * 0.45;
  double egg_m3 = volume_of (&mesh, PLUMB_RECORD_BLOCKER, first + 2);
  g_assert_true (egg_m3 < ellipsoid && egg_m3 > 0.98 * ellipsoid);
  for (uint32_t p = 0; p < mesh.n_parts; p++)
    if (mesh.parts[p].subject.kind == PLUMB_RECORD_BLOCKER)
      check_closed (&mesh, &mesh.parts[p], 1);
  plumb_mesh_clear (&mesh);
}

static void
put_wall (Sample *s, const char *id, const char *space, double x, double y)
{
  PlumbWall *wall = &s->wall[s->n_wall++];

  plumb_record_default (PLUMB_RECORD_WALL, wall);
  SET_ID (wall->id, id);
  SET_ID (wall->space, space);
  wall->x_m = x;
  wall->y_m = y;
}

/* The room turns a corner to the right of the picture; a store fills it. */
static void
turn_corner (Sample *s)
{
  s->n_wall = 0;
  put_wall (s, "back", "room", 0.0, 0.0);
  put_wall (s, "right", "room", 8.0, 0.0);
  put_wall (s, "turn", "room", 8.0, 5.0);
  put_wall (s, "inner", "room", 6.2, 5.0);
  put_wall (s, "front", "room", 6.2, 9.4);
  put_wall (s, "left", "room", 0.0, 9.4);
  put_wall (s, "near", "store", 6.4, 5.2);
  put_wall (s, "outer", "store", 8.0, 5.2);
  put_wall (s, "far", "store", 8.0, 9.4);
  put_wall (s, "side", "store", 6.4, 9.4);
  plumb_record_default (PLUMB_RECORD_SPACE, &s->space[1]);
  SET_ID (s->space[1].id, "store");
  s->n_space = 2;
  s->ceiling[1] = s->ceiling[0];
  SET_ID (s->ceiling[1].id, "low");
  SET_ID (s->ceiling[1].space, "store");
  s->n_ceiling = 2;
}

static double
top_of_wall (const PlumbMesh *mesh, uint32_t wall)
{
  double top = -INFINITY;

  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (uint32_t i = mesh->parts[p].first; i < mesh->parts[p].first + mesh->parts[p].n; i++)
      if (mesh->parts[p].subject.kind == PLUMB_RECORD_WALL && mesh->parts[p].subject.index == wall)
        top = fmax (top, (double) mesh->vertices[mesh->indices[i]].position_m[2]);
  return top;
}

/* Walls between the camera and the picture fall away, in a room that turns a
 * corner and in the one beside it; those behind the picture stand. */
static void
test_round_the_corner (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  turn_corner (&sample);
  build (&sample, &SECTIONS[3], &mesh); /* from the right, behind the seats */
  g_assert_cmpfloat (top_of_wall (&mesh, 1), <, 0.81);
  g_assert_cmpfloat (top_of_wall (&mesh, 3), <, 0.81);
  for (uint32_t w = 6; w < 10; w++)
    g_assert_cmpfloat (top_of_wall (&mesh, w), <, 0.81);
  g_assert_cmpfloat (top_of_wall (&mesh, 4), >, 2.99);
  g_assert_cmpfloat (top_of_wall (&mesh, 5), >, 2.99);
  build (&sample, &SECTIONS[2], &mesh); /* from the left */
  g_assert_cmpfloat (top_of_wall (&mesh, 5), <, 0.81);
  g_assert_cmpfloat (top_of_wall (&mesh, 3), >, 2.99);
  g_assert_cmpfloat (top_of_wall (&mesh, 4), >, 2.99);
  plumb_mesh_clear (&mesh);
}

/* The cut lies behind whatever is last, the last row or the machine. */
static void
test_cut_behind_machine (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  plumb_record_default (PLUMB_RECORD_SEAT, &sample.seat[sample.n_seat]);
  SET_ID (sample.seat[sample.n_seat].id, "one");
  sample.seat[sample.n_seat].x_m = 3.0;
  sample.seat[sample.n_seat++].y_m = 8.0;
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  double lens_y = evaluation->beam.lens_m.y, last_y = INFINITY;
  plumb_evaluation_free (evaluation);
  g_assert_cmpfloat (lens_y, <, 7.0); /* else the seat would decide */
  build (&sample, &SECTIONS[3], &mesh);
  for (uint32_t i = 0; i < mesh.n_vertices; i++)
    if (mesh.vertices[i].material == (float) PLUMB_MATERIAL_FLOOR)
      last_y = fmin (last_y, (double) mesh.vertices[i].position_m[1]);
  g_assert_cmpfloat (last_y, <, lens_y - 0.5);
  g_assert_cmpfloat (last_y, >, 0.0);
  plumb_mesh_clear (&mesh);
}

/* The plain room, 6.2 m × 9.4 m × 3 m: its walls and floor slab have the
 * volume of the outer box less the inner one, whatever they are cut into. */
static void
test_room_volume (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  build (&sample, &SECTIONS[0], &mesh);
  double t = sample.wall[0].thickness_m;
  for (guint i = 0; i < sample.n_wall; i++)
    g_assert_cmpfloat (sample.wall[i].thickness_m, ==, t);
  double ring = (6.2 + 2 * t) * (9.4 + 2 * t) - 6.2 * 9.4;
  /* 0.25 m of slab under the walls belongs to them. */
  g_assert_cmpfloat_with_epsilon (volume_of (&mesh, PLUMB_RECORD_WALL, PLUMB_NO_INDEX), ring * 3.25, 1e-3);
  g_assert_cmpfloat_with_epsilon (volume_of (&mesh, PLUMB_RECORD_SPACE, PLUMB_NO_INDEX), 6.2 * 9.4 * 0.25, 1e-3);
  plumb_mesh_clear (&mesh);
}

/* A port of 0.4 m × 0.3 m takes its prism out of the wall, and its edges are
 * there: a ray along its middle meets nothing of that wall. */
static void
test_hole (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 }, plain = { 0 };
  sample_init (&sample);
  build (&sample, &SECTIONS[0], &plain);
  PlumbPort *port = &sample.port[sample.n_port++];
  plumb_record_default (PLUMB_RECORD_PORT, port);
  SET_ID (port->id, "port");
  SET_ID (port->wall, sample.wall[0].id);
  port->along_m = 3.1;
  port->sill_m = 1.5;
  port->width_m = 0.4;
  port->height_m = 0.3;
  build (&sample, &SECTIONS[0], &mesh);
  double lost = volume_of (&plain, PLUMB_RECORD_WALL, 0) - volume_of (&mesh, PLUMB_RECORD_WALL, 0);
  g_assert_cmpfloat_with_epsilon (lost, 0.4 * 0.3 * sample.wall[0].thickness_m, 1e-4);
  plumb_mesh_clear (&mesh);
  plumb_mesh_clear (&plain);
}

/* The gable's cut: walls, floor and roof of a plain box, as rectangles. The
 * plane stands 20 mm before the rear wall when there are no seats. */
static void
test_gable_cut (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  sample.n_seat = sample.n_row = 0;
  double t = sample.wall[0].thickness_m;
  build (&sample, &SECTIONS[1], &mesh);
  g_assert_cmpfloat_with_epsilon (area_of (&mesh, PLUMB_RECORD_SPACE, PLUMB_MATERIAL_CUT), 6.2 * 0.25, 1e-4);
  double roof = (6.2 + 2 * t) * sample.ceiling[0].thickness_m;
  g_assert_cmpfloat_with_epsilon (area_of (&mesh, PLUMB_RECORD_CEILING, PLUMB_MATERIAL_CUT), roof, 1e-4);
  uint32_t n = 0;
  for (uint32_t i = 0; i < mesh.n_vertices; i++)
    {
      const PlumbMeshVertex *v = &mesh.vertices[i];
      g_assert_true (v->material == (float) PLUMB_MATERIAL_PERSON || v->position_m[1] > 0.0199f);
      if (v->material == (float) PLUMB_MATERIAL_CUT && v->normal[2] < 0.5f)
        {
          g_assert_cmpfloat_with_epsilon ((double) v->position_m[1], 0.02, 1e-5);
          n++;
        }
    }
  g_assert_cmpuint (n, >, 0);
  plumb_mesh_clear (&mesh);
}

/* Corner: the walls on the camera's side end at 0.80 m, the picture wall and
 * the far one do not. */
static void
test_corner_cut (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  sample.n_seat = sample.n_row = 0;
  build (&sample, &SECTIONS[3], &mesh);
  for (uint32_t w = 0; w < sample.n_wall; w++)
    {
      double top = -INFINITY;
      for (uint32_t p = 0; p < mesh.n_parts; p++)
        for (uint32_t i = 0; i < mesh.parts[p].n; i++)
          if (mesh.parts[p].subject.kind == PLUMB_RECORD_WALL && mesh.parts[p].subject.index == w)
            top = fmax (top, position (&mesh, mesh.parts[p].first + i).z);
      const PlumbWall *a = &sample.wall[w], *b = &sample.wall[(w + 1) % sample.n_wall];
      bool near = (a->x_m > 6.0 && b->x_m > 6.0) || (a->y_m < 0.1 && b->y_m < 0.1);
      g_assert_cmpfloat_with_epsilon (top, near ? 0.8 : 3.0, 1e-5);
    }
  plumb_mesh_clear (&mesh);
}

static void
each_demo (void (*check) (const PlumbScene *, const PlumbEvaluation *))
{
  static const char *const NAMES[] = { "net-loft.plumbeam", "music-room.plumbeam" };
  for (guint i = 0; i < G_N_ELEMENTS (NAMES); i++)
    {
      g_autofree char *path = g_build_filename (g_getenv ("PLUMB_SOURCE_DIR"), "data", "demo", NAMES[i], NULL);
      g_autoptr (GError) error = NULL;
      PlumbEvaluation *evaluation;
      PlumbJobFile *file = plumb_job_load (path, &error);
      g_assert_no_error (error);
      const PlumbScene *scene = plumb_job_scene (file);
      g_assert_true (plumb_evaluate (scene, plumb_scene_current_arrangement (scene), &evaluation));
      check (scene, evaluation);
      plumb_evaluation_free (evaluation);
      plumb_job_file_free (file);
    }
}

static void
check_demo (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbMesh mesh = { 0 }, whole = { 0 };
  g_assert_true (plumb_mesh_build_whole (scene, evaluation, NULL, &whole));
  for (guint s = 0; s < G_N_ELEMENTS (SECTIONS); s++)
    {
      g_assert_true (plumb_mesh_build (scene, evaluation, &SECTIONS[s], NULL, &mesh));
      check_whole (&mesh);
      g_assert_cmpuint (mesh.n_vertices, >, 1000);
      for (uint32_t p = 0; p < mesh.n_parts; p++)
        g_assert_cmpfloat (part_volume (&mesh, &mesh.parts[p]), >, 0.0);
    }
  gint64 start = g_get_monotonic_time ();
  plumb_mesh_bake (&mesh, &whole, NULL);
  g_test_message ("baked %u corners against %u triangles in %.0f ms", mesh.n_vertices, whole.n_indices / 3,
                  (double) (g_get_monotonic_time () - start) / 1000.0);
  check_whole (&mesh);
  plumb_mesh_clear (&mesh);
  plumb_mesh_clear (&whole);
}

static void
test_demos (void)
{
  each_demo (check_demo);
}

/* The same figures as the engine: a person who sits has the crown over the
 * eye by the seat's measure and a head 156 mm wide (ANSUR II: 154). */
static void
check_people (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  const PlumbResolved *r = plumb_scene_resolved (scene);
  PlumbMesh mesh = { 0 };
  g_assert_true (plumb_mesh_build_whole (scene, evaluation, NULL, &mesh));
  for (uint32_t p = 0; p < mesh.n_parts; p++)
    {
      const PlumbMeshPart *part = &mesh.parts[p];
      if (part->subject.kind != PLUMB_RECORD_ROW
          || corner (&mesh, part->first)->material != (float) PLUMB_MATERIAL_PERSON)
        continue;
      const PlumbSeatResolved *seat = &r->seats[part->subject.sub];
      double top = -INFINITY, half = 0.0;
      PlumbVec2 left = { -sin (seat->facing_rad), cos (seat->facing_rad) };
      for (uint32_t i = part->first; i < part->first + part->n; i++)
        {
          PlumbVec3 at = plumb_vec3_sub (position (&mesh, i), seat->eye_m);
          top = fmax (top, at.z);
          if (at.z > -0.06)
            half = fmax (half, fabs (at.x * left.x + at.y * left.y));
        }
      /* Where an arm nearly touches, two sheets may share an edge. */
      check_closed (&mesh, part, 2);
      g_assert_cmpfloat_with_epsilon (top, seat->head_above_eye_m, 1e-5);
      g_assert_cmpfloat_with_epsilon (half, 0.078, 0.006);
    }
  plumb_mesh_clear (&mesh);
}

static void
test_people (void)
{
  each_demo (check_people);
}

/* Nearest hit by another way: the plane of each triangle, then the point on
 * the inner side of all three edges. */
static double
slow_hit (const PlumbMesh *mesh, PlumbVec3 from, PlumbVec3 way)
{
  double nearest = INFINITY;
  for (uint32_t i = 0; i < mesh->n_indices; i += 3)
    {
      PlumbVec3 p[3] = { position (mesh, i), position (mesh, i + 1), position (mesh, i + 2) };
      PlumbVec3 normal = plumb_vec3_cross (plumb_vec3_sub (p[1], p[0]), plumb_vec3_sub (p[2], p[0]));
      double t = plumb_vec3_dot (normal, plumb_vec3_sub (p[0], from)) / plumb_vec3_dot (normal, way);
      PlumbVec3 hit = plumb_vec3_along (from, way, t);
      bool inside = t > 1e-9 && t < nearest;
      for (int k = 0; k < 3 && inside; k++)
        {
          PlumbVec3 edge = plumb_vec3_sub (p[(k + 1) % 3], p[k]);
          inside = plumb_vec3_dot (normal, plumb_vec3_cross (edge, plumb_vec3_sub (hit, p[k]))) >= 0.0;
        }
      if (inside)
        nearest = t;
    }
  return nearest;
}

static void
check_pick (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbMesh mesh = { 0 };
  g_assert_true (plumb_mesh_build (scene, evaluation, &SECTIONS[3], NULL, &mesh));
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint hits = 0;
  for (int i = 0; i < 60; i++)
    {
      PlumbVec3 from = { g_rand_double_range (rand, -2, 8), g_rand_double_range (rand, -2, 11), 6.0 }, hit;
      PlumbVec3 way = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1), -1.0 };
      uint32_t part;
      double t = slow_hit (&mesh, from, way);
      bool found = plumb_mesh_pick (&mesh, from, way, &part, &hit);
      g_assert_cmpint (found, ==, isfinite (t));
      if (!found)
        continue;
      hits++;
      g_assert_cmpfloat_with_epsilon (plumb_vec3_length (plumb_vec3_sub (hit, plumb_vec3_along (from, way, t))), 0.0,
                                      1e-6);
      g_assert_cmpuint (part, <, mesh.n_parts);
    }
  g_assert_cmpuint (hits, >, 10);
  plumb_mesh_clear (&mesh);
}

static void
test_pick (void)
{
  each_demo (check_pick);
}

/* Odd plans: anything that a file may hold gives a mesh of finite numbers. */
static void
disturb (Sample *s, GRand *rand)
{
  double big = g_rand_boolean (rand) ? 3.0 : 40.0;
  for (guint i = 0; i < s->n_wall; i++)
    {
      s->wall[i].x_m += g_rand_double_range (rand, -big, big);
      s->wall[i].thickness_m = g_rand_double_range (rand, 0.001, 0.6);
    }
  s->ceiling[0].slope_rad = g_rand_double_range (rand, 0, 1.5);
  s->ceiling[0].rise_direction_rad = g_rand_double_range (rand, -6, 6);
  if (g_rand_int_range (rand, 0, 4) == 0)
    s->n_ceiling = 0;
  if (g_rand_int_range (rand, 0, 4) == 0)
    s->n_screen = 0;
  if (g_rand_int_range (rand, 0, 8) == 0)
    s->n_wall = (guint) g_rand_int_range (rand, 0, 4);
  for (int i = g_rand_int_range (rand, 0, 4); i > 0; i--)
    {
      PlumbBlocker *b
          = sample_add_box (s, "odd", g_rand_double_range (rand, -3, 9), g_rand_double_range (rand, -3, 12),
                            g_rand_double_range (rand, -1, 4), g_rand_double_range (rand, 0.001, 5), 0.4, 0.001);
      b->pitch_rad = g_rand_double_range (rand, -3, 3);
      b->shape = g_rand_boolean (rand) ? PLUMB_SHAPE_BOX : PLUMB_SHAPE_CYLINDER;
      b->role = g_rand_int_range (rand, 0, PLUMB_N_ROLE);
    }
  PlumbRow *row = &s->row[0];
  s->n_row = 1;
  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "row");
  row->x_m = g_rand_double_range (rand, -2, 8);
  row->y_m = g_rand_double_range (rand, -2, 8);
  row->eye_height_m = g_rand_double_range (rand, 0.3, 2.2);
  row->facing_rad = g_rand_double_range (rand, -6, 6);
}

static void
test_odd (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20);
  for (int i = 0; i < 200; i++)
    {
      Sample sample;
      PlumbMesh mesh = { 0 }, whole = { 0 };
      sample_init (&sample);
      disturb (&sample, rand);
      build (&sample, &SECTIONS[i % (int) G_N_ELEMENTS (SECTIONS)], &mesh);
      build (&sample, &SECTIONS[0], &whole);
      check_whole (&mesh);
      if (i % 20 == 0)
        plumb_mesh_bake (&mesh, &whole, NULL);
      check_whole (&mesh);
      plumb_mesh_clear (&mesh);
      plumb_mesh_clear (&whole);
    }
}

/* 2,000 seats stay under 100 MB and a second or two. */
static void
test_hall (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 };
  sample_init (&sample);
  PlumbRow *row = &sample.row[0];
  sample.n_row = 1;
  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "row");
  row->count = 50;
  row->rows = 40;
  row->riser_m = 0.2;
  build (&sample, &SECTIONS[3], &mesh);
  g_assert_cmpuint (mesh.n_parts, >=, 4000);
  g_assert_cmpuint (mesh.n_vertices * sizeof (PlumbMeshVertex), <, 100000000);
  check_whole (&mesh);
  plumb_mesh_clear (&mesh);
}

/* In the middle of a level floor 9 m from any wall nothing closes in; where
 * the floor meets a wall about half of the sky is gone. */
static void
test_bake (void)
{
  Sample sample;
  PlumbMesh mesh = { 0 }, whole = { 0 };
  sample_init (&sample);
  sample.n_ceiling = 0;
  sample.n_seat = sample.n_row = sample.n_blocker = sample.n_screen = 0;
  for (guint i = 0; i < sample.n_wall; i++)
    {
      sample.wall[i].x_m *= 4.0;
      sample.wall[i].y_m *= 4.0;
    }
  build (&sample, &SECTIONS[0], &mesh);
  build (&sample, &SECTIONS[0], &whole);
  plumb_mesh_bake (&mesh, &whole, NULL);
  float middle = 0.0f, edge = 1.0f;
  for (uint32_t i = 0; i < mesh.n_vertices; i++)
    {
      const PlumbMeshVertex *v = &mesh.vertices[i];
      if (v->material != (float) PLUMB_MATERIAL_FLOOR)
        continue;
      if (fabsf (v->position_m[0] - 12.4f) < 1.0f && fabsf (v->position_m[1] - 18.8f) < 1.0f)
        middle = fmaxf (middle, v->occlusion);
      if (v->position_m[0] < 1e-4f && v->position_m[1] > 10.0f && v->position_m[1] < 25.0f)
        edge = fminf (edge, v->occlusion);
    }
  g_assert_cmpfloat (middle, ==, 1.0f);
  g_assert_true (edge > 0.4f && edge < 0.8f);
  plumb_mesh_clear (&mesh);
  plumb_mesh_clear (&whole);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mesh/volumes", test_volumes);
  g_test_add_func ("/mesh/room-volume", test_room_volume);
  g_test_add_func ("/mesh/hole", test_hole);
  g_test_add_func ("/mesh/gable-cut", test_gable_cut);
  g_test_add_func ("/mesh/corner-cut", test_corner_cut);
  g_test_add_func ("/mesh/demos", test_demos);
  g_test_add_func ("/mesh/people", test_people);
  g_test_add_func ("/mesh/pick", test_pick);
  g_test_add_func ("/mesh/odd", test_odd);
  g_test_add_func ("/mesh/round-the-corner", test_round_the_corner);
  g_test_add_func ("/mesh/cut-behind-machine", test_cut_behind_machine);
  g_test_add_func ("/mesh/hall", test_hall);
  g_test_add_func ("/mesh/bake", test_bake);
  return g_test_run ();
}
