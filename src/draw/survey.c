/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/survey-private.h"

#include <string.h>

#include "text/findings.h"
#include "text/length.h"

/* ---- a room to fill in ------------------------------------------------------------ */

#define BLANK_WIDE_M 4.0
#define BLANK_LONG_M 5.0

static bool
is_blank (const PlumbScene *scene)
{
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  if (resolved == NULL)
    return true;
  for (uint32_t i = 0; i < resolved->building->n_spaces; i++)
    if (resolved->building->spaces[i].n_walls >= 3)
      return false;
  return true;
}

/* The job with a room of four walls in place of its own. NULL: no memory. */
static const PlumbScene *
scene_with_room (const PlumbScene *scene)
{
  static const struct {
    const char *id, *label;
    double x_m, y_m;
  } sides[4] = { { "survey-back", N_ ("Wall opposite the picture"), 0.0, 0.0 },
                 { "survey-right", N_ ("Right wall"), BLANK_WIDE_M, 0.0 },
                 { "survey-picture", N_ ("Picture wall"), BLANK_WIDE_M, BLANK_LONG_M },
                 { "survey-left", N_ ("Left wall"), 0.0, BLANK_LONG_M } };
  static const char room_id[] = "survey-room";
  PlumbSpace space;
  PlumbWall walls[4];
  PlumbCeiling ceiling;
  plumb_record_default (PLUMB_RECORD_SPACE, &space);
  plumb_record_default (PLUMB_RECORD_CEILING, &ceiling);
  g_strlcpy (space.id, room_id, sizeof space.id);
  g_strlcpy (space.label, N_ ("Room"), sizeof space.label);
  g_strlcpy (ceiling.id, "survey-ceiling", sizeof ceiling.id);
  g_strlcpy (ceiling.label, N_ ("Ceiling"), sizeof ceiling.label);
  g_strlcpy (ceiling.space, room_id, sizeof ceiling.space);
  for (int i = 0; i < 4; i++)
    {
      plumb_record_default (PLUMB_RECORD_WALL, &walls[i]);
      g_strlcpy (walls[i].id, sides[i].id, sizeof walls[i].id);
      g_strlcpy (walls[i].label, sides[i].label, sizeof walls[i].label);
      g_strlcpy (walls[i].space, room_id, sizeof walls[i].space);
      walls[i].x_m = sides[i].x_m;
      walls[i].y_m = sides[i].y_m;
    }
  PlumbScene *room = plumb_scene_root (scene);
  if (room == NULL)
    return NULL;
  if (plumb_scene_fill (room, PLUMB_RECORD_SPACE, &space, 1) && plumb_scene_fill (room, PLUMB_RECORD_WALL, walls, 4)
      && plumb_scene_fill (room, PLUMB_RECORD_CEILING, &ceiling, 1)
      && plumb_scene_fill (room, PLUMB_RECORD_CEILING_POINT, NULL, 0) && plumb_scene_commit (room))
    return room;
  plumb_scene_unref (room);
  return NULL;
}

/* ---- items -------------------------------------------------------------------------- */

/* No I and no O: by hand they are 1 and 0. */
static void
write_letter (unsigned index, char letter[8])
{
  static const char alphabet[] = "ABCDEFGHJKLMNPQRSTUVWXYZ";
  const unsigned base = sizeof alphabet - 1;
  char turned[8];
  int n = 0;
  for (unsigned left = index + 1; left > 0 && n < 7; left = (left - 1) / base)
    turned[n++] = alphabet[(left - 1) % base];
  for (int i = 0; i < n; i++)
    letter[i] = turned[n - 1 - i];
  letter[n] = '\0';
}

PlumbSurveyItem *
plumb_survey_item (PlumbSurveyMaker *maker, PlumbSurveyItemKind kind, const char *words)
{
  PlumbSurveyItem item = { .kind = kind, .space = maker->space, .words = g_strdup (words) };
  g_array_append_val (maker->survey->items, item);
  return &g_array_index (maker->survey->items, PlumbSurveyItem, maker->survey->items->len - 1);
}

void
plumb_survey_heading (PlumbSurveyMaker *maker, const char *words)
{
  write_letter (maker->n_letters++, maker->letter);
  maker->n_lines = 0;
  PlumbSurveyItem *item = plumb_survey_item (maker, PLUMB_ITEM_HEADING, words);
  memcpy (item->letter, maker->letter, sizeof maker->letter);
}

static void
number_line (PlumbSurveyMaker *maker, PlumbSurveyItem *item)
{
  g_snprintf (item->letter, sizeof item->letter, "%s%u", maker->letter, ++maker->n_lines);
}

void
plumb_survey_words (PlumbSurveyMaker *maker, PlumbSurveyItemKind kind, const char *words)
{
  number_line (maker, plumb_survey_item (maker, kind, words));
}

PlumbSurveyItem *
plumb_survey_length (PlumbSurveyMaker *maker, char *words, double known_m, bool small)
{
  bool imperial = maker->units == PLUMB_UNITS_IMPERIAL;
  PlumbSurveyItem *item = plumb_survey_item (maker, PLUMB_ITEM_BLANK, words);
  number_line (maker, item);
  item->unit = small ? imperial ? N_ ("in") : N_ ("mm") : imperial ? N_ ("ft in") : N_ ("m");
  if (isfinite (known_m) && !maker->survey->blank)
    item->known = small && !imperial
                      ? plumb_number_format (known_m * 1e3, 0, PLUMB_SHOW_TYPOGRAPHIC)
                      : plumb_length_format (known_m, maker->units, PLUMB_SHOW_METRES | PLUMB_SHOW_NO_UNIT);
  g_free (words);
  return item;
}

void
plumb_survey_ring (PlumbSurveyItem *item, PlumbVec2 at_m, PlumbVec2 away, double away_mm)
{
  item->ringed = true;
  item->at_m = at_m;
  item->away = away;
  item->away_mm = away_mm;
}

static void
item_clear (gpointer data)
{
  PlumbSurveyItem *item = data;
  g_free (item->words);
  g_free (item->known);
}

/* ---- all lines ---------------------------------------------------------------------- */

static uint32_t
main_space (const PlumbSurvey *survey, const PlumbBuilding *building)
{
  if (survey->evaluation != NULL && survey->evaluation->target.valid
      && survey->evaluation->target.space < building->n_spaces
      && building->spaces[survey->evaluation->target.space].n_walls > 0)
    return survey->evaluation->target.space;
  for (uint32_t i = 0; i < building->n_spaces; i++)
    if (building->spaces[i].n_walls > 0)
      return i;
  return 0;
}

static void
make_space (PlumbSurveyMaker *maker, uint32_t space, bool asks_all)
{
  maker->space = space;
  if (maker->building->spaces[space].n_walls == 0)
    return;
  plumb_survey_walls (maker);
  plumb_survey_diagonals (maker);
  plumb_survey_ceilings (maker);
  plumb_survey_structure (maker, asks_all);
  plumb_survey_openings (maker, asks_all);
  if (!asks_all)
    return;
  plumb_survey_outlets (maker);
  plumb_survey_light (maker);
  plumb_survey_item (maker, PLUMB_ITEM_FIELD, NULL);
  plumb_survey_item (maker, PLUMB_ITEM_REMARKS, NULL);
}

/* One for each record of a kind, all PLUMB_NO_INDEX. */
static uint32_t *
new_indices (const PlumbScene *scene, PlumbRecordKind kind)
{
  uint32_t n;
  plumb_scene_records (scene, kind, &n);
  uint32_t *indices = g_new (uint32_t, n + 1);
  for (uint32_t i = 0; i <= n; i++)
    indices[i] = PLUMB_NO_INDEX;
  return indices;
}

static void
make_items (PlumbSurvey *survey)
{
  const PlumbBuilding *building = plumb_scene_resolved (survey->scene)->building;
  PlumbSurveyMaker maker = { .survey = survey, .scene = survey->scene, .building = building };
  maker.plane = plumb_draw_plane (survey->scene, survey->evaluation, PLUMB_DRAW_PLAN);
  maker.units = plumb_scene_job (survey->scene, 0)->units;
  maker.wall_letters = g_malloc0_n (building->n_walls + 1, sizeof *maker.wall_letters);
  maker.ceiling_space = new_indices (survey->scene, PLUMB_RECORD_CEILING);
  maker.structure_space = new_indices (survey->scene, PLUMB_RECORD_STRUCTURE);
  maker.opening_wall = new_indices (survey->scene, PLUMB_RECORD_OPENING);
  maker.port_wall = new_indices (survey->scene, PLUMB_RECORD_PORT);
  for (uint32_t i = 0; i < building->n_cells; i++)
    maker.ceiling_space[building->cells[i].ceiling] = building->cells[i].space;
  plumb_survey_find_fixed (&maker);
  uint32_t first = main_space (survey, building);
  make_space (&maker, first, true);
  for (uint32_t i = 0; i < building->n_spaces; i++)
    if (i != first)
      make_space (&maker, i, false);
  g_free (maker.port_wall);
  g_free (maker.opening_wall);
  g_free (maker.structure_space);
  g_free (maker.ceiling_space);
  g_free (maker.wall_letters);
}

PlumbSurvey *
plumb_survey_new (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbPaper paper)
{
  PlumbSurvey *survey = g_new0 (PlumbSurvey, 1);
  survey->blank = is_blank (scene);
  survey->scene = survey->blank ? scene_with_room (scene) : plumb_scene_ref (scene);
  if (survey->scene == NULL)
    g_error ("There is not enough memory for a survey sheet.");
  survey->evaluation = survey->blank ? NULL : evaluation;
  survey->paper = paper;
  survey->items = g_array_new (FALSE, FALSE, sizeof (PlumbSurveyItem));
  g_array_set_clear_func (survey->items, item_clear);
  survey->pages = g_array_new (FALSE, FALSE, sizeof (PlumbSurveyPage));
  survey->diagonals = g_array_new (FALSE, FALSE, sizeof (PlumbSurveyDiagonal));
  make_items (survey);
  plumb_survey_lay_out (survey);
  return survey;
}

void
plumb_survey_free (PlumbSurvey *survey)
{
  if (survey == NULL)
    return;
  g_array_unref (survey->items);
  g_array_unref (survey->pages);
  g_array_unref (survey->diagonals);
  plumb_scene_unref (survey->scene);
  g_free (survey);
}

/* ---- pages ---------------------------------------------------------------------------- */

unsigned
plumb_survey_n_pages (const PlumbSurvey *survey)
{
  return survey->pages->len;
}

void
plumb_survey_page_size (const PlumbSurvey *survey, double *width_mm, double *height_mm)
{
  *width_mm = survey->layout.width_mm;
  *height_mm = survey->layout.height_mm;
}

static void
draw_head (PlumbSheet *sheet, const PlumbSurvey *survey, const PlumbSurveyPage *page)
{
  g_autofree char *space = plumb_record_name (survey->scene, PLUMB_RECORD_SPACE, page->space);
  g_autofree char *title = g_strdup_printf ("%s: %s", N_ ("Survey"), space);
  g_autofree char *scale = sheet->place->ratio > 0.0 && !survey->blank
                               ? plumb_draw_scale_words (sheet->place->ratio, sheet->units)
                               : g_strdup ("");
  plumb_sheet_head (
      sheet, title, scale,
      survey->blank
          ? N_ (
              "Nothing is known yet: a blank for a room with four walls, not to scale. Picture wall at the top. Face "
              "each wall from inside: left and right are as you see them then.")
          : N_ ("Picture wall at the top. Face each wall from inside: left and right are as you see them then. In "
                "italics: what the job holds so far."));
}

void
plumb_survey_draw_page (cairo_t *cr, const PlumbSurvey *survey, unsigned index, unsigned page, unsigned pages)
{
  const PlumbSurveyPage *this = &g_array_index (survey->pages, PlumbSurveyPage, index);
  PlumbSheetLayout layout = survey->layout;
  layout.page = page;
  layout.pages = pages;
  PlumbDrawView view;
  double ratio = plumb_survey_view (survey, this->space, &view);
  layout.ratio = this->opens && !survey->blank ? ratio : 0.0;

  PlumbPen pen;
  plumb_pen_init (&pen, cr, survey->scene, survey->evaluation, &view);
  PlumbSheet sheet
      = { cr, pen.layout, &pen, survey->scene, survey->evaluation, N_ ("survey"), survey->paper, &layout, pen.units };
  cairo_save (cr);
  plumb_sheet_frame (&sheet);
  draw_head (&sheet, survey, this);
  double top = layout.area_y_mm;
  if (index == 0)
    {
      plumb_survey_draw_boxes (&sheet, layout.area_x_mm, top, layout.area_w_mm);
      top += PLUMB_SURVEY_BOXES_MM;
    }
  if (this->opens)
    plumb_survey_draw_plan (&sheet, survey, this->space, layout.area_x_mm, top);
  for (guint i = 0; i < survey->items->len; i++)
    {
      const PlumbSurveyItem *item = &g_array_index (survey->items, PlumbSurveyItem, i);
      if (item->page == index)
        plumb_survey_draw_item (&sheet, item);
    }
  plumb_sheet_block (&sheet);
  cairo_restore (cr);
  plumb_pen_clear (&pen);
}
