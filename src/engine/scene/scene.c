/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scene-private.h"

#include <stdlib.h>
#include <string.h>

#include "plumbeam/assert.h"

static bool
has_ids (PlumbRecordKind kind)
{
  return strcmp (plumb_record_info (kind)->fields[0].key, "id") == 0;
}

/* FNV-1a, 32 bit. */
static uint32_t
hash_id (const char *id)
{
  uint32_t hash = UINT32_C (2166136261);

  for (; *id != '\0'; id++)
    hash = (hash ^ (uint8_t) *id) * UINT32_C (16777619);
  return hash;
}

static const unsigned char *
record_at (const PlumbArray *array, PlumbRecordKind kind, uint32_t i)
{
  return array->data + (size_t) i * plumb_record_info (kind)->size;
}

static void
array_unref (PlumbArray *array)
{
  if (array != NULL && atomic_fetch_sub (&array->references, 1) == 1)
    {
      free (array->slots);
      free (array);
    }
}

static bool
array_index_ids (PlumbArray *array, PlumbRecordKind kind)
{
  array->n_slots = 4;
  while (array->n_slots < 2 * array->count)
    array->n_slots *= 2;
  array->slots = calloc (array->n_slots, sizeof *array->slots);
  if (array->slots == NULL)
    return false;
  for (uint32_t i = 0; i < array->count; i++)
    {
      uint32_t slot = hash_id (plumb_record_id (kind, record_at (array, kind, i))) & (array->n_slots - 1);
      while (array->slots[slot] != 0)
        slot = (slot + 1) & (array->n_slots - 1);
      array->slots[slot] = i + 1;
    }
  return true;
}

static PlumbArray *
array_new (PlumbRecordKind kind, const void *records, uint32_t count)
{
  size_t bytes = (size_t) count * plumb_record_info (kind)->size;
  PlumbArray *array = calloc (1, sizeof *array + bytes);

  PLUMB_ASSERT (count <= PLUMB_MAX_RECORDS);
  if (array == NULL)
    return NULL;
  atomic_init (&array->references, 1);
  array->count = count;
  if (bytes > 0)
    memcpy (array->data, records, bytes);
  if (has_ids (kind) && !array_index_ids (array, kind))
    {
      array_unref (array);
      return NULL;
    }
  return array;
}

PlumbScene *
plumb_scene_new (void)
{
  PlumbScene *scene = calloc (1, sizeof *scene);
  PlumbJob job;

  if (scene == NULL)
    return NULL;
  atomic_init (&scene->references, 1);
  plumb_record_default (PLUMB_RECORD_JOB, &job);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      scene->arrays[kind] = array_new ((PlumbRecordKind) kind, &job, kind == PLUMB_RECORD_JOB ? 1 : 0);
      if (scene->arrays[kind] == NULL)
        {
          plumb_scene_unref (scene);
          return NULL;
        }
    }
  return scene;
}

PlumbScene *
plumb_scene_ref (const PlumbScene *scene)
{
  PlumbScene *counted = (PlumbScene *) scene; /* only the count changes */

  atomic_fetch_add (&counted->references, 1);
  return counted;
}

void
plumb_scene_unref (const PlumbScene *scene)
{
  PlumbScene *counted = (PlumbScene *) scene;

  if (counted == NULL || atomic_fetch_sub (&counted->references, 1) != 1)
    return;
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    array_unref (counted->arrays[kind]);
  plumb_resolved_free (counted->resolved);
  free (counted);
}

bool
plumb_scene_fill (PlumbScene *scene, PlumbRecordKind kind, const void *records, uint32_t count)
{
  PLUMB_ASSERT (scene->resolved == NULL);
  PLUMB_ASSERT (kind != PLUMB_RECORD_JOB || count == 1);
  PlumbArray *array = array_new (kind, records, count);
  if (array == NULL)
    return false;
  array_unref (scene->arrays[kind]);
  scene->arrays[kind] = array;
  return true;
}

PlumbScene *
plumb_scene_root (const PlumbScene *scene)
{
  PlumbScene *root = calloc (1, sizeof *root);

  if (root == NULL)
    return NULL;
  atomic_init (&root->references, 1);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    {
      root->arrays[kind] = scene->arrays[kind];
      atomic_fetch_add (&root->arrays[kind]->references, 1);
    }
  return root;
}

PlumbScene *
plumb_scene_with (const PlumbScene *scene, PlumbRecordKind kind, const void *records, uint32_t count)
{
  PlumbScene *edited = plumb_scene_root (scene);

  if (edited != NULL && !plumb_scene_fill (edited, kind, records, count))
    {
      plumb_scene_unref (edited);
      return NULL;
    }
  return edited;
}

size_t
plumb_scene_array_bytes (const PlumbScene *scene, PlumbRecordKind kind)
{
  const PlumbArray *array = scene->arrays[kind];

  return sizeof *array + array->count * plumb_record_info (kind)->size + array->n_slots * sizeof *array->slots;
}

bool
plumb_scene_commit (PlumbScene *scene)
{
  return scene->resolved != NULL || plumb_scene_resolve (scene);
}

const PlumbResolved *
plumb_scene_resolved (const PlumbScene *scene)
{
  return scene->resolved;
}

const void *
plumb_scene_records (const PlumbScene *scene, PlumbRecordKind kind, uint32_t *count)
{
  *count = scene->arrays[kind]->count;
  return scene->arrays[kind]->data;
}

const void *
plumb_scene_record (const PlumbScene *scene, PlumbRecordKind kind, uint32_t i)
{
  PLUMB_ASSERT (i < scene->arrays[kind]->count);
  return record_at (scene->arrays[kind], kind, i);
}

uint32_t
plumb_scene_find (const PlumbScene *scene, PlumbRecordKind kind, const char *id)
{
  const PlumbArray *array = scene->arrays[kind];

  if (id[0] == '\0' || array->slots == NULL)
    return PLUMB_NO_INDEX;
  for (uint32_t slot = hash_id (id) & (array->n_slots - 1); array->slots[slot] != 0;
       slot = (slot + 1) & (array->n_slots - 1))
    {
      uint32_t i = array->slots[slot] - 1;
      if (strcmp (plumb_record_id (kind, record_at (array, kind, i)), id) == 0)
        return i;
    }
  return PLUMB_NO_INDEX;
}

const void *
plumb_scene_nested (const PlumbScene *scene, PlumbRecordKind kind, uint32_t owner, uint32_t *count)
{
  const PlumbArray *array = scene->arrays[kind];
  uint32_t low = 0, high = array->count;

  /* First record whose owner is not below the wanted one. */
  while (low < high)
    {
      uint32_t middle = low + (high - low) / 2;
      const PlumbRecordHead *head = (const PlumbRecordHead *) record_at (array, kind, middle);
      if (head->owner < owner)
        low = middle + 1;
      else
        high = middle;
    }
  uint32_t end = low;
  while (end < array->count && ((const PlumbRecordHead *) record_at (array, kind, end))->owner == owner)
    end++;
  *count = end - low;
  return record_at (array, kind, low);
}

bool
plumb_scene_shares (const PlumbScene *a, const PlumbScene *b, PlumbRecordKind kind)
{
  return a->arrays[kind] == b->arrays[kind];
}

uint32_t
plumb_scene_current_arrangement (const PlumbScene *scene)
{
  uint32_t count;
  uint32_t named = plumb_scene_find (scene, PLUMB_RECORD_ARRANGEMENT, plumb_scene_job (scene, 0)->arrangement);

  plumb_scene_arrangement_records (scene, &count);
  return named != PLUMB_NO_INDEX ? named : count > 0 ? 0 : PLUMB_NO_INDEX;
}

/* Common practice, no source: a steel tape read by one person. */
#define USUAL_TAPE_ERROR_M 0.003

double
plumb_scene_tape_u_m (const PlumbScene *scene, const char *tape, double length_m)
{
  uint32_t i = plumb_scene_find (scene, PLUMB_RECORD_TAPE, tape);

  if (i == PLUMB_NO_INDEX)
    i = plumb_scene_find (scene, PLUMB_RECORD_TAPE, plumb_scene_job (scene, 0)->tape);
  if (i == PLUMB_NO_INDEX)
    return USUAL_TAPE_ERROR_M / sqrt (3.0);
  const PlumbTape *record = plumb_scene_tape (scene, i);
  double error_m = record->error_m + record->error_per_m_share * fabs (length_m);
  return record->bound == PLUMB_BOUND_TWO_SIGMA ? error_m / 2.0 : error_m / sqrt (3.0);
}

/* Next wall of the same space in the order of the file, round to the first. */
static uint32_t
next_wall (const PlumbScene *scene, uint32_t wall)
{
  uint32_t count;
  const PlumbWall *walls = plumb_scene_wall_records (scene, &count);

  for (uint32_t step = 1; step < count; step++)
    {
      uint32_t i = (wall + step) % count;
      if (strcmp (walls[i].space, walls[wall].space) == 0)
        return i;
    }
  return wall;
}

bool
plumb_scene_wall_line (const PlumbScene *scene, uint32_t wall, PlumbWallLine *line)
{
  const PlumbWall *from = plumb_scene_wall (scene, wall);
  const PlumbWall *to = plumb_scene_wall (scene, next_wall (scene, wall));

  line->start_m = plumb_vec2 (from->x_m, from->y_m);
  line->end_m = plumb_vec2 (to->x_m, to->y_m);
  PlumbVec2 run = plumb_vec2_sub (line->end_m, line->start_m);
  line->length_m = plumb_vec2_length (run);
  if (line->length_m < PLUMB_POINT_TOLERANCE_M)
    return false;
  line->along = plumb_vec2_scale (run, 1.0 / line->length_m);
  /* Outlines run counter-clockwise: the space lies to the left. */
  line->inward = plumb_vec2 (-line->along.y, line->along.x);
  return true;
}
