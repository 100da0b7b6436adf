/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/finding-cure.h"

#include <math.h>

#include "draw/drag.h"
#include "text/findings.h"
#include "text/length.h"

/* Amounts are said in these steps, rounded so that the cure still cures. */
#define STEP_M 0.001
#define STEP_IMPERIAL_M (PLUMB_M_PER_IN / 16.0)

static PlumbWords
words_of (PlumbDocument *document)
{
  return (PlumbWords){ plumb_scene_job (plumb_document_scene (document), 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
}

static double
amount_of (PlumbDocument *document, const PlumbFinding *finding)
{
  double step_m = words_of (document).units == PLUMB_UNITS_IMPERIAL ? STEP_IMPERIAL_M : STEP_M;

  return ceil (finding->cure_amount / step_m - 1e-6) * step_m;
}

/* The drawing and the direction in it in which the machine goes. In the plan
 * the picture is at the top and the viewer's right at the right. */
static gboolean
way_of (PlumbCure cure, PlumbDrawKind *kind, PlumbVec2 *way)
{
  const struct {
    PlumbDrawKind kind;
    PlumbVec2 way;
  } ways[PLUMB_N_CURES] = {
    [PLUMB_CURE_NEARER] = { PLUMB_DRAW_PLAN, { 0.0, 1.0 } },
    [PLUMB_CURE_FARTHER] = { PLUMB_DRAW_PLAN, { 0.0, -1.0 } },
    [PLUMB_CURE_LEFT] = { PLUMB_DRAW_PLAN, { -1.0, 0.0 } },
    [PLUMB_CURE_RIGHT] = { PLUMB_DRAW_PLAN, { 1.0, 0.0 } },
    [PLUMB_CURE_UP] = { PLUMB_DRAW_PICTURE, { 0.0, 1.0 } },
    [PLUMB_CURE_DOWN] = { PLUMB_DRAW_PICTURE, { 0.0, -1.0 } },
  };
  if ((unsigned) cure >= PLUMB_N_CURES || plumb_vec2_length (ways[cure].way) < 0.5)
    return FALSE;
  *kind = ways[cure].kind;
  *way = ways[cure].way;
  return TRUE;
}

static void
put (PlumbDrawEdit *edit, const PlumbScene *scene, int field, double value_si)
{
  const PlumbField *info = &plumb_record_info (edit->kind)->fields[field];
  double value = round (value_si / plumb_quantity_factor (info->quantity) * 1e8) / 1e8;
  double now = plumb_field_number (info, plumb_scene_record (scene, edit->kind, edit->index));

  if (!(value >= info->least && value <= info->greatest) || value == now)
    return;
  edit->field[edit->n] = field;
  edit->value[edit->n++] = value;
}

/* Shortened or lengthened by the mount's tube or chain. */
static void
drop_edit (PlumbDrawEdit *edit, const PlumbScene *scene, uint32_t place, double by_m)
{
  *edit = (PlumbDrawEdit){ .kind = PLUMB_RECORD_PLACE, .index = place };
  double drop_m = plumb_scene_place (scene, place)->drop_m + by_m;
  if (drop_m >= 0.0)
    put (edit, scene, PLUMB_FIELD_place_drop_m, drop_m);
}

/* The picture keeps its shape. */
static void
picture_edit (PlumbDrawEdit *edit, const PlumbScene *scene, uint32_t screen, double by_m)
{
  const PlumbScreen *record = plumb_scene_screen (scene, screen);
  double share = (record->width_m + by_m) / record->width_m;

  *edit = (PlumbDrawEdit){ .kind = PLUMB_RECORD_SCREEN, .index = screen };
  put (edit, scene, PLUMB_FIELD_screen_width_m, record->width_m * share);
  put (edit, scene, PLUMB_FIELD_screen_height_m, round (record->height_m * share / STEP_M) * STEP_M);
  if (edit->n != 2)
    edit->n = 0;
}

/* What a drag of the machine by the amount would do. */
static void
move_edit (PlumbDrawEdit *edit, PlumbDocument *document, PlumbDrawKind kind, PlumbVec2 way, double by_m)
{
  const PlumbEvaluation *e = plumb_document_evaluation (document);
  PlumbSubject place = { PLUMB_RECORD_PLACE, e->place, PLUMB_NO_INDEX };
  PlumbDrawDrag drag;

  if (!plumb_draw_drag_init (&drag, plumb_document_scene (document), e, kind, place, PLUMB_PART_WHOLE))
    return;
  PlumbVec2 target = plumb_vec2_along (plumb_draw_drag_handle (&drag), way, by_m);
  g_autoptr (GArray) edits = plumb_draw_drag_to (&drag, target);
  if (edits->len == 1)
    *edit = g_array_index (edits, PlumbDrawEdit, 0);
}

/* edit->n 0: cannot be applied. */
static PlumbDrawEdit
edit_of (PlumbDocument *document, const PlumbFinding *finding)
{
  const PlumbScene *scene = plumb_document_scene (document);
  const PlumbEvaluation *e = plumb_document_evaluation (document);
  double by_m = amount_of (document, finding);
  PlumbDrawEdit edit = { 0 };
  PlumbDrawKind kind;
  PlumbVec2 way;
  uint32_t places, screens;

  plumb_scene_records (scene, PLUMB_RECORD_PLACE, &places);
  plumb_scene_records (scene, PLUMB_RECORD_SCREEN, &screens);
  if (finding->verdict == PLUMB_HOLDS || !isfinite (by_m) || by_m <= 0.0 || e->place >= places
      || e->screen >= screens)
    return edit;
  if (finding->cure == PLUMB_CURE_SHORTER_DROP || finding->cure == PLUMB_CURE_LONGER_DROP)
    drop_edit (&edit, scene, e->place, finding->cure == PLUMB_CURE_LONGER_DROP ? by_m : -by_m);
  else if (finding->cure == PLUMB_CURE_SMALLER_PICTURE || finding->cure == PLUMB_CURE_LARGER_PICTURE)
    picture_edit (&edit, scene, e->screen, finding->cure == PLUMB_CURE_LARGER_PICTURE ? by_m : -by_m);
  else if (way_of (finding->cure, &kind, &way))
    move_edit (&edit, document, kind, way, by_m);
  return edit;
}

gboolean
plumb_cure_applies (PlumbDocument *document, const PlumbFinding *finding)
{
  return edit_of (document, finding).n > 0;
}

gboolean
plumb_cure_apply (PlumbDocument *document, const PlumbFinding *finding, GError **error)
{
  PlumbDrawEdit edit = edit_of (document, finding);
  g_autofree char *name = plumb_finding_cure (finding, words_of (document));

  g_return_val_if_fail (edit.n > 0, FALSE);
  plumb_document_begin_group (document);
  gboolean done = plumb_document_set_numbers (document, edit.kind, edit.index, edit.n, edit.field, edit.value, error);
  plumb_document_end_group (document, name);
  return done;
}
