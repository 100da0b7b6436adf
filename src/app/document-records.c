/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits by which records come, go and change places. */
#include <string.h>

#include "document-private.h"
#include "text/findings.h"

/* ---- orders ---------------------------------------------------------------------------- */

/* The records as they stand, as guint. */
static GArray *
order_now (const PlumbScene *scene, PlumbRecordKind kind)
{
  GArray *order = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < plumb_kind_count (scene, kind); i++)
    g_array_append_val (order, i);
  return order;
}

static gboolean
take_order (PlumbDraft *draft, PlumbRecordKind kind, const GArray *order, GError **error)
{
  return plumb_draft_order (draft, kind, (const guint *) (const void *) order->data, order->len, error);
}

/* A range of places that a record may take: all, or those of one owner. */
typedef struct {
  guint first, count;
} Range;

static Range
range_of (const PlumbScene *scene, PlumbRecordKind kind, guint owner)
{
  uint32_t all, count;
  const char *records = plumb_scene_records (scene, kind, &all);

  if (plumb_record_info (kind)->parent == PLUMB_RECORD_NONE)
    return (Range){ 0, all };
  const char *first = plumb_scene_nested (scene, kind, owner, &count);
  return (Range){ (guint) ((gsize) (first - records) / plumb_record_info (kind)->size), count };
}

static gboolean
refuse (GError **error, const char *sentence)
{
  g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, sentence);
  return FALSE;
}

static gboolean
is_list (PlumbRecordKind kind, GError **error)
{
  return kind != PLUMB_RECORD_JOB || refuse (error, "There is one job in a file.");
}

/* ---- new records ------------------------------------------------------------------------- */

static void
type_in (void *record, PlumbRecordKind kind, int field, const char *text)
{
  plumb_field_type_text (plumb_record_info (kind), field, record, text, NULL);
}

/* A place in the list for a record that is copied from `from`, or is new. */
static guint
insert (PlumbDraft *draft, PlumbRecordKind kind, guint at, guint from, GError **error)
{
  g_autoptr (GArray) order = order_now (draft->before, kind);

  g_array_insert_val (order, at, from);
  return take_order (draft, kind, order, error) ? at : PLUMB_NO_INDEX;
}

static guint
finish_new (PlumbDocument *self, const PlumbDraft *draft, PlumbRecordKind kind, guint at, const char *format)
{
  PlumbScene *after = plumb_draft_finish (draft);
  char *name = plumb_step_record (format, after, kind, at);

  plumb_document_apply (self, after, name, (PlumbShift){ kind, PLUMB_NO_INDEX, at });
  return at;
}

/* Where a new record goes; PLUMB_NO_INDEX with an error for a place that there
 * is not. */
static guint
place_for (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after, GError **error)
{
  const PlumbRecordKind parent = plumb_record_info (kind)->parent;

  if (parent != PLUMB_RECORD_NONE && !plumb_document_has (self, parent, owner, error))
    return PLUMB_NO_INDEX;
  Range range = range_of (plumb_document_scene (self), kind, owner);
  if (after == PLUMB_NO_INDEX)
    return range.first + range.count;
  if (after >= range.first && after - range.first < range.count)
    return after + 1;
  refuse (error, "There is no such record to put it behind.");
  return PLUMB_NO_INDEX;
}

/* The only record of a kind, "" if there is none or a choice. */
static const char *
only_one (const PlumbScene *scene, PlumbRecordKind kind)
{
  return plumb_kind_count (scene, kind) == 1 ? plumb_record_id (kind, plumb_scene_record (scene, kind, 0)) : "";
}

static gboolean
any_hung (const PlumbScene *scene)
{
  for (guint i = 0; i < plumb_kind_count (scene, PLUMB_RECORD_PLACE); i++)
    if (plumb_scene_place (scene, i)->carried == PLUMB_CARRIED_HUNG)
      return TRUE;
  return FALSE;
}

static void
refer_to_only (void *record, const PlumbScene *scene, PlumbRecordKind kind)
{
  static const struct {
    PlumbRecordKind kind;
    int field;
    PlumbRecordKind to;
  } sure[] = {
    { PLUMB_RECORD_SCREEN, PLUMB_FIELD_screen_wall, PLUMB_RECORD_WALL },
    { PLUMB_RECORD_PLACE, PLUMB_FIELD_place_along_wall, PLUMB_RECORD_WALL },
    { PLUMB_RECORD_PORT, PLUMB_FIELD_port_wall, PLUMB_RECORD_WALL },
    { PLUMB_RECORD_OPENING, PLUMB_FIELD_opening_wall, PLUMB_RECORD_WALL },
    { PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_screen, PLUMB_RECORD_SCREEN },
    { PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_machine, PLUMB_RECORD_MACHINE },
    { PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_lens, PLUMB_RECORD_LENS },
    { PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_place, PLUMB_RECORD_PLACE },
    { PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_mount, PLUMB_RECORD_MOUNT },
    { PLUMB_RECORD_LIGHT_LEVEL, PLUMB_FIELD_light_level_lamp, PLUMB_RECORD_LAMP },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sure); i++)
    {
      const char *id = sure[i].kind == kind ? only_one (scene, sure[i].to) : "";
      /* What stands needs no mount. */
      const gboolean unsure = sure[i].to == PLUMB_RECORD_MOUNT
                              && !(plumb_kind_count (scene, PLUMB_RECORD_PLACE) == 1 && any_hung (scene));
      if (id[0] != '\0' && !unsure)
        type_in (record, kind, sure[i].field, id);
    }
}

static void
give_space (void *record, const PlumbScene *scene, PlumbRecordKind kind, guint after)
{
  const int field = kind == PLUMB_RECORD_WALL      ? PLUMB_FIELD_wall_space
                    : kind == PLUMB_RECORD_CEILING ? PLUMB_FIELD_ceiling_space
                                                   : -1;
  const char *space = "";

  if (field < 0)
    return;
  if (after != PLUMB_NO_INDEX)
    space = plumb_field_text (&plumb_record_info (kind)->fields[field], plumb_scene_record (scene, kind, after));
  else if (plumb_kind_count (scene, PLUMB_RECORD_SPACE) > 0)
    space = plumb_scene_space (scene, 0)->id;
  if (space[0] != '\0')
    type_in (record, kind, field, space);
}

static guint
add (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after, gboolean fitting, GError **error)
{
  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };
  guint at = is_list (kind, error) ? place_for (self, kind, owner, after, error) : PLUMB_NO_INDEX;

  if (at == PLUMB_NO_INDEX || insert (&draft, kind, at, PLUMB_NO_INDEX, error) == PLUMB_NO_INDEX)
    return PLUMB_NO_INDEX;
  PlumbRecordHead *record = plumb_draft_record (&draft, kind, at);
  if (plumb_record_info (kind)->parent != PLUMB_RECORD_NONE)
    record->owner = owner;
  if (plumb_kind_has_id (kind))
    {
      g_autofree char *id = plumb_fresh_id (draft.before, kind, NULL);
      type_in (record, kind, 0, id);
    }
  if (fitting)
    {
      give_space (record, draft.before, kind, after);
      refer_to_only (record, draft.before, kind);
    }
  return finish_new (self, &draft, kind, at, "New: {}");
}

guint
plumb_document_add (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), PLUMB_NO_INDEX);
  g_return_val_if_fail (kind >= 0 && kind < PLUMB_N_RECORDS, PLUMB_NO_INDEX);
  return add (self, kind, owner, after, FALSE, error);
}

guint
plumb_document_add_fitting (PlumbDocument *self, PlumbRecordKind kind, guint owner, guint after, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), PLUMB_NO_INDEX);
  g_return_val_if_fail (kind >= 0 && kind < PLUMB_N_RECORDS, PLUMB_NO_INDEX);
  return add (self, kind, owner, after, TRUE, error);
}

guint
plumb_document_copy (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), PLUMB_NO_INDEX);
  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };

  if (!plumb_document_has (self, kind, index, error) || !is_list (kind, error)
      || insert (&draft, kind, index + 1, index, error) == PLUMB_NO_INDEX)
    return PLUMB_NO_INDEX;
  const void *original = plumb_scene_record (draft.before, kind, index);
  void *record = plumb_draft_record (&draft, kind, index + 1);
  const PlumbRecordInfo *info = plumb_record_info (kind);
  int label = plumb_field_find (info, "label");
  if (plumb_kind_has_id (kind))
    {
      g_autofree char *id = plumb_fresh_id (draft.before, kind, plumb_record_id (kind, original));
      type_in (record, kind, 0, id);
    }
  if (label >= 0 && plumb_field_text (&info->fields[label], original)[0] != '\0')
    {
      g_autofree char *text
          = plumb_fresh_label (draft.before, kind, plumb_field_text (&info->fields[label], original));
      type_in (record, kind, label, text);
    }
  return finish_new (self, &draft, kind, index + 1, "Copy: {}");
}

/* ---- going and moving ---------------------------------------------------------------------- */

/* When the arrangement shown goes, its neighbour is shown. */
static void
show_neighbour (PlumbDraft *draft, guint gone)
{
  const PlumbScene *scene = draft->before;
  const guint count = plumb_kind_count (scene, PLUMB_RECORD_ARRANGEMENT);
  PlumbJob blank;

  if (strcmp (plumb_scene_job (scene, 0)->arrangement, plumb_scene_arrangement (scene, gone)->id) != 0)
    return;
  PlumbJob *job = plumb_draft_record (draft, PLUMB_RECORD_JOB, 0);
  if (count > 1)
    {
      guint next = gone + 1 < count ? gone + 1 : gone - 1;
      type_in (job, PLUMB_RECORD_JOB, PLUMB_FIELD_job_arrangement, plumb_scene_arrangement (scene, next)->id);
      return;
    }
  plumb_record_default (PLUMB_RECORD_JOB, &blank);
  memcpy (job->arrangement, blank.arrangement, sizeof job->arrangement);
  job->head.typed &= ~(UINT64_C (1) << PLUMB_FIELD_job_arrangement);
}

gboolean
plumb_document_remove (PlumbDocument *self, PlumbRecordKind kind, guint index, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  if (!plumb_document_has (self, kind, index, error) || !is_list (kind, error))
    return FALSE;

  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };
  g_autoptr (GArray) order = order_now (draft.before, kind);
  g_array_remove_index (order, index);
  if (!take_order (&draft, kind, order, error))
    return FALSE;
  if (kind == PLUMB_RECORD_ARRANGEMENT)
    show_neighbour (&draft, index);
  char *name = plumb_step_record ("Removal of {}", draft.before, kind, index);
  plumb_document_apply (self, plumb_draft_finish (&draft), name, (PlumbShift){ kind, index, PLUMB_NO_INDEX });
  return TRUE;
}

gboolean
plumb_document_move (PlumbDocument *self, PlumbRecordKind kind, guint index, int by, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (by == -1 || by == 1, FALSE);
  if (!plumb_document_has (self, kind, index, error) || !is_list (kind, error))
    return FALSE;

  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };
  Range range = range_of (draft.before, kind, plumb_record_owner (draft.before, kind, index));
  if (by < 0 && index == range.first)
    return refuse (error, "It stands first already.");
  if (by > 0 && index + 1 == range.first + range.count)
    return refuse (error, "It stands last already.");

  g_autoptr (GArray) order = order_now (draft.before, kind);
  const guint to = by > 0 ? index + 1 : index - 1;
  g_array_index (order, guint, index) = to;
  g_array_index (order, guint, to) = index;
  if (!take_order (&draft, kind, order, error))
    return FALSE;
  char *name = plumb_step_record ("Order of {}", draft.before, kind, index);
  plumb_document_apply (self, plumb_draft_finish (&draft), name, (PlumbShift){ kind, index, to });
  return TRUE;
}

/* ---- a line of the lens trial ---------------------------------------------------------------- */

static const char *
id_or_nothing (const PlumbScene *scene, PlumbRecordKind kind, guint index)
{
  return index < plumb_kind_count (scene, kind) ? plumb_record_id (kind, plumb_scene_record (scene, kind, index))
                                                : "";
}

/* "A, Long lens, Tie beam T2", as far as there is room. */
static char *
trial_label (const PlumbScene *scene, const PlumbTrialLine *line)
{
  g_autofree char *machine = plumb_record_name (scene, PLUMB_RECORD_MACHINE, line->machine);
  g_autofree char *lens = plumb_record_name (scene, PLUMB_RECORD_LENS, line->lens);
  g_autofree char *place = plumb_record_name (scene, PLUMB_RECORD_PLACE, line->place);
  g_autofree char *whole = g_strdup_printf ("%s, %s, %s", machine, lens, place);
  const char *end;

  if (strlen (whole) >= PLUMB_LABEL_SIZE)
    whole[PLUMB_LABEL_SIZE - 1] = '\0';
  if (!g_utf8_validate (whole, -1, &end))
    whole[end - whole] = '\0';
  return g_steal_pointer (&whole);
}

/* The same attitude as in the trial: zoom, shift, turn and tilt are solved. */
static void
take_line (PlumbArrangement *record, const PlumbScene *scene, const PlumbTrialLine *line)
{
  static const int solved[] = { PLUMB_FIELD_arrangement_zoom, PLUMB_FIELD_arrangement_shift,
                                PLUMB_FIELD_arrangement_attitude, PLUMB_FIELD_arrangement_correction };
  const PlumbRecordInfo *info = plumb_record_info (PLUMB_RECORD_ARRANGEMENT);
  const struct {
    int field;
    PlumbRecordKind kind;
    guint index;
  } parts[] = {
    { PLUMB_FIELD_arrangement_screen, PLUMB_RECORD_SCREEN, line->screen },
    { PLUMB_FIELD_arrangement_machine, PLUMB_RECORD_MACHINE, line->machine },
    { PLUMB_FIELD_arrangement_lens, PLUMB_RECORD_LENS, line->lens },
    { PLUMB_FIELD_arrangement_place, PLUMB_RECORD_PLACE, line->place },
    { PLUMB_FIELD_arrangement_mount, PLUMB_RECORD_MOUNT, line->mount },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    type_in (record, PLUMB_RECORD_ARRANGEMENT, parts[i].field, id_or_nothing (scene, parts[i].kind, parts[i].index));
  for (gsize i = 0; i < G_N_ELEMENTS (solved); i++)
    plumb_field_type_number (info, solved[i], record, PLUMB_SOLVE_SOLVED, 0, NULL);
  plumb_field_type_number (info, PLUMB_FIELD_arrangement_roll_rad, record, 0.0, 0, NULL);
}

gboolean
plumb_document_take_trial (PlumbDocument *self, const PlumbTrialLine *line, GError **error)
{
  g_return_val_if_fail (PLUMB_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (line != NULL, FALSE);
  if (!plumb_document_has (self, PLUMB_RECORD_MACHINE, line->machine, error)
      || !plumb_document_has (self, PLUMB_RECORD_LENS, line->lens, error)
      || !plumb_document_has (self, PLUMB_RECORD_PLACE, line->place, error))
    return FALSE;

  g_auto (PlumbDraft) draft = { plumb_document_scene (self) };
  const guint shown = plumb_document_arrangement (self);
  const guint at = shown == PLUMB_NO_INDEX ? 0 : shown + 1;
  if (insert (&draft, PLUMB_RECORD_ARRANGEMENT, at, shown, error) == PLUMB_NO_INDEX)
    return FALSE;
  PlumbArrangement *record = plumb_draft_record (&draft, PLUMB_RECORD_ARRANGEMENT, at);
  g_autofree char *id = plumb_fresh_id (draft.before, PLUMB_RECORD_ARRANGEMENT, NULL);
  g_autofree char *label = trial_label (draft.before, line);
  take_line (record, draft.before, line);
  type_in (record, PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_id, id);
  type_in (record, PLUMB_RECORD_ARRANGEMENT, PLUMB_FIELD_arrangement_label, label);
  type_in (plumb_draft_record (&draft, PLUMB_RECORD_JOB, 0), PLUMB_RECORD_JOB, PLUMB_FIELD_job_arrangement, id);
  finish_new (self, &draft, PLUMB_RECORD_ARRANGEMENT, at, "From the lens trial: {}");
  return TRUE;
}
