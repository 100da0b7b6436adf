/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What records, subjects and surfaces are called; declared in findings.h. */
#include "text/findings.h"

#include <string.h>

#include "plumbeam/variants.h"

static bool
in_range (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  uint32_t count = 0;
  if ((int) kind < 0 || kind >= PLUMB_N_RECORDS)
    return false;
  plumb_scene_records (scene, kind, &count);
  return index < count;
}

static const char *
record_id (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  return in_range (scene, kind, index) ? plumb_record_id (kind, plumb_scene_record (scene, kind, index)) : "";
}

static const char *
record_label (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  int field = plumb_field_find (info, "label");
  if (field < 0 || !in_range (scene, kind, index))
    return "";
  return plumb_field_text (&info->fields[field], plumb_scene_record (scene, kind, index));
}

/* The record that a nested one belongs to. */
static uint32_t
owner_of (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  PlumbRecordHead head;
  memcpy (&head, plumb_scene_record (scene, kind, index), sizeof head);
  return head.owner;
}

static char *
nested_name (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  const PlumbRecordInfo *info = plumb_record_info (kind);
  g_autofree char *what = g_utf8_strdown (info->label, -1);
  if (!in_range (scene, kind, index))
    return g_steal_pointer (&what);

  uint32_t count, owner = owner_of (scene, kind, index);
  const char *first = plumb_scene_nested (scene, kind, owner, &count);
  const char *record = plumb_scene_record (scene, kind, index);
  g_autofree char *of = plumb_record_name (scene, info->parent, owner);
  return g_strdup_printf ("%s, %s %u", of, what, 1 + (unsigned) ((gsize) (record - first) / info->size));
}

char *
plumb_record_name (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  if (kind == PLUMB_RECORD_JOB)
    return g_strdup ("the job");
  if ((int) kind < 0 || kind >= PLUMB_N_RECORDS)
    return g_strdup ("the arrangement");

  const PlumbRecordInfo *info = plumb_record_info (kind);
  if (info->parent != PLUMB_RECORD_NONE)
    return nested_name (scene, kind, index);
  const char *label = record_label (scene, kind, index), *id = record_id (scene, kind, index);
  if (label[0] != '\0')
    return g_strdup (label);
  if (id[0] != '\0')
    return g_strdup (id);
  g_autofree char *what = g_utf8_strdown (info->label, -1);
  if (!in_range (scene, kind, index))
    return g_strdup_printf ("the %s", what);
  return g_strdup_printf ("%s %u", what, index + 1);
}

char *
plumb_record_key (const PlumbScene *scene, PlumbRecordKind kind, uint32_t index)
{
  if ((int) kind < 0 || kind >= PLUMB_N_RECORDS)
    return g_strdup ("");
  const PlumbRecordInfo *info = plumb_record_info (kind);
  if (kind == PLUMB_RECORD_JOB)
    return g_strdup (info->key);
  if (info->parent != PLUMB_RECORD_NONE && in_range (scene, kind, index))
    {
      uint32_t count, owner = owner_of (scene, kind, index);
      const char *first = plumb_scene_nested (scene, kind, owner, &count);
      const char *record = plumb_scene_record (scene, kind, index);
      g_autofree char *of = plumb_record_key (scene, info->parent, owner);
      return g_strdup_printf ("%s.%s.%u", of, info->key, 1 + (unsigned) ((gsize) (record - first) / info->size));
    }
  const char *id = record_id (scene, kind, index);
  return id[0] != '\0' ? g_strdup_printf ("%s.%s", info->key, id) : g_strdup_printf ("%s[%u]", info->key, index);
}

/* ---- subjects --------------------------------------------------------------------- */

static const PlumbSeatResolved *
resolved_seat (const PlumbScene *scene, const PlumbSubject *subject)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  bool people = subject->kind == PLUMB_RECORD_SEAT || subject->kind == PLUMB_RECORD_ROW;
  if (resolved == NULL || !people || subject->sub >= resolved->n_seats)
    return NULL;
  return &resolved->seats[subject->sub];
}

/* The state of a mover by its name, NULL when it has none. */
static const char *
state_name (const PlumbScene *scene, const PlumbSubject *subject)
{
  uint32_t count = 0;
  if (subject->kind != PLUMB_RECORD_BLOCKER || !in_range (scene, subject->kind, subject->index))
    return NULL;
  const PlumbBlockerState *states = plumb_scene_nested (scene, PLUMB_RECORD_BLOCKER_STATE, subject->index, &count);
  return subject->sub < count && states[subject->sub].name[0] != '\0' ? states[subject->sub].name : NULL;
}

static uint32_t
repeats_of (const PlumbScene *scene, const PlumbSubject *subject)
{
  if (subject->kind != PLUMB_RECORD_STRUCTURE || !in_range (scene, subject->kind, subject->index))
    return 0;
  return (uint32_t) MAX (plumb_scene_structure (scene, subject->index)->count, 1);
}

char *
plumb_subject_name (const PlumbScene *scene, const PlumbSubject *subject)
{
  g_autofree char *name = plumb_record_name (scene, subject->kind, subject->index);
  const PlumbSeatResolved *seat = resolved_seat (scene, subject);
  if (seat != NULL && subject->kind == PLUMB_RECORD_SEAT)
    return g_steal_pointer (&name);
  if (seat != NULL)
    return g_strdup (seat->id);
  const char *state = state_name (scene, subject);
  if (state != NULL)
    return g_strdup_printf ("%s (%s)", name, state);
  if (subject->sub < repeats_of (scene, subject) && repeats_of (scene, subject) > 1)
    return g_strdup_printf ("%s, member %u", name, subject->sub + 1);
  return g_steal_pointer (&name);
}

char *
plumb_subject_key (const PlumbScene *scene, const PlumbSubject *subject)
{
  const PlumbSeatResolved *seat = resolved_seat (scene, subject);
  if (seat != NULL && subject->kind == PLUMB_RECORD_ROW)
    return g_strdup_printf ("%s.%s", plumb_record_info (subject->kind)->key, seat->id);
  g_autofree char *key = plumb_record_key (scene, subject->kind, subject->index);
  const char *state = state_name (scene, subject);
  if (state != NULL)
    return g_strdup_printf ("%s:%s", key, state);
  if (subject->sub < repeats_of (scene, subject) && repeats_of (scene, subject) > 1)
    return g_strdup_printf ("%s:%u", key, subject->sub + 1);
  return g_steal_pointer (&key);
}

/* A blocker's sub is a state only where the check tried states; at rest it may
 * be a piece of the solid, which has no name. */
static PlumbSubject
finding_subject (const PlumbFinding *finding)
{
  PlumbSubject subject = finding->subject;
  bool in_state = (finding->check == PLUMB_CHECK_BEAM_CLEAR_BLOCKER && finding->number[2] >= 0.0)
                  || (finding->check == PLUMB_CHECK_PEOPLE_SHADOW && finding->variant == PLUMB_V_SHADOW_MOVER)
                  || (plumb_check_info (finding->check)->family == PLUMB_FAMILY_SCREEN && finding->number[0] > 0.0);
  if (subject.kind == PLUMB_RECORD_BLOCKER && !in_state)
    subject.sub = PLUMB_NO_INDEX;
  return subject;
}

char *
plumb_finding_subject_name (const PlumbScene *scene, const PlumbFinding *finding)
{
  PlumbSubject subject = finding_subject (finding);
  return plumb_subject_name (scene, &subject);
}

char *
plumb_finding_subject_key (const PlumbScene *scene, const PlumbFinding *finding)
{
  PlumbSubject subject = finding_subject (finding);
  return plumb_subject_key (scene, &subject);
}

/* ---- who stands in the way ------------------------------------------------------- */

static PlumbSubject
subject_of_who (const PlumbScene *scene, PlumbWho who)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  static const PlumbRecordKind kinds[PLUMB_N_WHO] = {
    [PLUMB_WHO_NOBODY] = PLUMB_RECORD_NONE,         [PLUMB_WHO_SEAT] = PLUMB_RECORD_NONE,
    [PLUMB_WHO_PERSON] = PLUMB_RECORD_PERSON,       [PLUMB_WHO_BLOCKER] = PLUMB_RECORD_BLOCKER,
    [PLUMB_WHO_STRUCTURE] = PLUMB_RECORD_STRUCTURE, [PLUMB_WHO_MACHINE] = PLUMB_RECORD_MACHINE,
  };
  if (who.kind != PLUMB_WHO_SEAT)
    return (PlumbSubject){ kinds[who.kind], who.index, PLUMB_NO_INDEX };
  if (resolved == NULL || who.index >= resolved->n_seats)
    return (PlumbSubject){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX };
  const PlumbSeatResolved *seat = &resolved->seats[who.index];
  if (seat->row == PLUMB_NO_INDEX)
    return (PlumbSubject){ PLUMB_RECORD_SEAT, seat->seat, who.index };
  return (PlumbSubject){ PLUMB_RECORD_ROW, seat->row, who.index };
}

char *
plumb_who_name (const PlumbScene *scene, PlumbWho who)
{
  PlumbSubject subject = subject_of_who (scene, who);
  return subject.kind == PLUMB_RECORD_NONE ? g_strdup ("nobody") : plumb_subject_name (scene, &subject);
}

char *
plumb_who_key (const PlumbScene *scene, PlumbWho who)
{
  PlumbSubject subject = subject_of_who (scene, who);
  return subject.kind == PLUMB_RECORD_NONE ? NULL : plumb_subject_key (scene, &subject);
}

/* ---- surfaces --------------------------------------------------------------------- */

typedef struct {
  const char *word;
  PlumbRecordKind kind;
  const char *before; /* put before the record's name */
} SurfaceWord;

static const SurfaceWord surface_words[PLUMB_N_SURFACES] = {
  [PLUMB_SURFACE_OF_NOTHING] = { "leaves_building", PLUMB_RECORD_NONE, "" },
  [PLUMB_SURFACE_OF_SCREEN] = { "screen", PLUMB_RECORD_SCREEN, "" },
  [PLUMB_SURFACE_OF_WALL] = { "wall", PLUMB_RECORD_WALL, "" },
  [PLUMB_SURFACE_OF_FLOOR] = { "floor", PLUMB_RECORD_SPACE, "the floor of " },
  [PLUMB_SURFACE_OF_CEILING] = { "ceiling", PLUMB_RECORD_CEILING, "" },
  [PLUMB_SURFACE_OF_STEP] = { "step", PLUMB_RECORD_SPACE, "a ceiling step in " },
  [PLUMB_SURFACE_OF_BLOCKER] = { "blocker", PLUMB_RECORD_BLOCKER, "" },
  [PLUMB_SURFACE_OF_STRUCTURE] = { "structure", PLUMB_RECORD_STRUCTURE, "" },
  [PLUMB_SURFACE_OF_PORT] = { "port", PLUMB_RECORD_PORT, "the edge of " },
  [PLUMB_SURFACE_OF_OPENING] = { "opening", PLUMB_RECORD_OPENING, "" },
};

const char *
plumb_surface_word (PlumbSurfaceKind surface)
{
  return (unsigned) surface < PLUMB_N_SURFACES ? surface_words[surface].word : "unknown";
}

char *
plumb_surface_name (const PlumbScene *scene, const PlumbSurfaceId *surface)
{
  if ((unsigned) surface->kind >= PLUMB_N_SURFACES || surface->kind == PLUMB_SURFACE_OF_NOTHING)
    return g_strdup ("nothing in the building");
  const SurfaceWord *word = &surface_words[surface->kind];
  g_autofree char *name = plumb_record_name (scene, word->kind, surface->record);
  return g_strconcat (word->before, name, NULL);
}
