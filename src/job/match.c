/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which edited record was which record of the file. */
#include <string.h>

#include "source-private.h"
#include "value-private.h"

static bool
same_record (const PlumbScene *before, uint32_t i, const PlumbScene *now, uint32_t k, PlumbRecordKind kind)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  const char *a = plumb_scene_record (before, kind, i), *b = plumb_scene_record (now, kind, k);

  for (int field = 0; field < info->n_fields; field++)
    if (memcmp (a + info->fields[field].offset, b + info->fields[field].offset, info->fields[field].size) != 0)
      return false;
  return true;
}

/* A record whose id is new is a renamed one if the record that stood at its
 * place is gone and no record came or went. */
static uint32_t
match_renamed (const PlumbScene *before, const PlumbScene *now, PlumbRecordKind kind, uint32_t i)
{
  uint32_t n_before, n_now;

  plumb_scene_records (before, kind, &n_before);
  plumb_scene_records (now, kind, &n_now);
  if (n_before != n_now)
    return PLUMB_NO_INDEX;
  const char *id = plumb_record_id (kind, plumb_scene_record (before, kind, i));
  return plumb_scene_find (now, kind, id) == PLUMB_NO_INDEX ? i : PLUMB_NO_INDEX;
}

static void
match_ids (const PlumbScene *before, const PlumbScene *now, PlumbRecordKind kind, uint32_t *match, uint32_t count)
{
  for (uint32_t i = 0; i < count; i++)
    {
      match[i] = plumb_scene_find (before, kind, plumb_record_id (kind, plumb_scene_record (now, kind, i)));
      if (match[i] == PLUMB_NO_INDEX)
        match[i] = match_renamed (before, now, kind, i);
    }
}

/* The nested records of one owner: first..first + count in a scene's array. */
typedef struct {
  uint32_t first, count;
} Range;

static Range
nested_range (const PlumbScene *scene, PlumbRecordKind kind, uint32_t owner)
{
  uint32_t all;
  Range range = { 0, 0 };
  const char *records = plumb_scene_records (scene, kind, &all);
  const char *first = plumb_scene_nested (scene, kind, owner, &range.count);

  if (range.count > 0)
    range.first = (uint32_t) ((size_t) (first - records) / plumb_record_info (kind)->size);
  return range;
}

/* How many records a changed list is searched ahead for an equal one: bounds
 * the time, and more are seldom deleted at once. */
#define LOOK_AHEAD 64

/* Equal ones in order. */
static void
match_equal (const PlumbScene *before, Range old, const PlumbScene *now, Range new, PlumbRecordKind kind,
             uint32_t *match)
{
  uint32_t next = old.first, end = old.first + old.count;

  for (uint32_t i = new.first; i < new.first + new.count; i++)
    for (uint32_t k = next; k < end && k < next + LOOK_AHEAD; k++)
      if (same_record (before, k, now, i, kind))
        {
          match[i] = k;
          next = k + 1;
          break;
        }
}

/* What lies between equal ones, in order. */
static void
match_between (Range old, Range new, uint32_t *match)
{
  uint32_t next = old.first, later = new.first, end = new.first + new.count;

  for (uint32_t i = new.first; i < end; i++)
    {
      for (later = MAX (later, i); later < end && match[later] == PLUMB_NO_INDEX;)
        later++;
      if (match[i] == PLUMB_NO_INDEX && next < (later < end ? match[later] : old.first + old.count))
        match[i] = next;
      if (match[i] != PLUMB_NO_INDEX)
        next = match[i] + 1;
    }
}

/* By place where none came or went; otherwise so that a record deleted above
 * does not shift unknown keys. */
static void
match_nested (const PlumbScene *before, Range old, const PlumbScene *now, Range new, PlumbRecordKind kind,
              uint32_t *match)
{
  if (old.count == new.count)
    for (uint32_t i = 0; i < new.count; i++)
      match[new.first + i] = old.first + i;
  else
    {
      match_equal (before, old, now, new, kind, match);
      match_between (old, new, match);
    }
}

uint32_t *
plumb_job_match (const PlumbScene *before, const PlumbScene *now, PlumbRecordKind kind, const uint32_t *parents)
{
  PlumbRecordKind parent = plumb_record_info (kind)->parent;
  uint32_t count, n_owners;

  if (plumb_scene_shares (before, now, kind) || kind == PLUMB_RECORD_JOB)
    return NULL;
  plumb_scene_records (now, kind, &count);
  uint32_t *match = g_new (uint32_t, count + 1);
  for (uint32_t i = 0; i < count; i++)
    match[i] = PLUMB_NO_INDEX;
  if (parent == PLUMB_RECORD_NONE)
    {
      match_ids (before, now, kind, match, count);
      return match;
    }
  plumb_scene_records (now, parent, &n_owners);
  for (uint32_t owner = 0; owner < n_owners; owner++)
    {
      uint32_t old_owner = parents != NULL ? parents[owner] : owner;
      Range old = old_owner != PLUMB_NO_INDEX ? nested_range (before, kind, old_owner) : (Range){ 0, 0 };
      match_nested (before, old, now, nested_range (now, kind, owner), kind, match);
    }
  return match;
}
