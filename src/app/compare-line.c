/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare-line.h"

#include <string.h>

#include "text/findings.h"

typedef enum { LINE_VERDICT, LINE_COUNTS, LINE_RECORD, LINE_CHECK, LINE_FIGURE } LineKind;

struct _PlumbCompareLine {
  GObject parent_instance;
  LineKind kind;
  int id; /* record kind, check or figure */
  char *name;
};

G_DEFINE_FINAL_TYPE (PlumbCompareLine, plumb_compare_line, G_TYPE_OBJECT)

/* How the sums went, not what came out. */
static const PlumbFigure inner_figures[]
    = { PLUMB_FIGURE_pose_rounds, PLUMB_FIGURE_pose_residual_m, PLUMB_FIGURE_homography };
/* Corners in two directions are for drawings. */
#define MOST_VALUES 3

static const PlumbRecordKind parts[]
    = { PLUMB_RECORD_SCREEN, PLUMB_RECORD_MACHINE, PLUMB_RECORD_LENS, PLUMB_RECORD_PLACE, PLUMB_RECORD_MOUNT };

static void
plumb_compare_line_finalize (GObject *object)
{
  g_free (PLUMB_COMPARE_LINE (object)->name);
  G_OBJECT_CLASS (plumb_compare_line_parent_class)->finalize (object);
}

static void
plumb_compare_line_class_init (PlumbCompareLineClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_compare_line_finalize;
}

static void
plumb_compare_line_init (PlumbCompareLine *self)
{
  (void) self;
}

/* ---- what there is to compare ---------------------------------------------------------- */

/* The name of a figure without its unit: "throw_distance_m" is "Throw distance". */
static char *
figure_name (const PlumbFigureInfo *info)
{
  g_autofree char *ending = g_strconcat ("_", info->unit, NULL);
  char *name
      = g_strndup (info->name, strlen (info->name) - (g_str_has_suffix (info->name, ending) ? strlen (ending) : 0));

  g_strdelimit (name, "_", ' ');
  name[0] = g_ascii_toupper (name[0]);
  return name;
}

static gboolean
is_inner (PlumbFigure figure)
{
  for (gsize i = 0; i < G_N_ELEMENTS (inner_figures); i++)
    if (inner_figures[i] == figure)
      return TRUE;
  return plumb_figure_info (figure)->count > MOST_VALUES;
}

/* Takes the name. */
static void
add (GPtrArray *lines, LineKind kind, int id, char *name)
{
  PlumbCompareLine *line = g_object_new (PLUMB_TYPE_COMPARE_LINE, NULL);

  line->kind = kind;
  line->id = id;
  line->name = name;
  g_ptr_array_add (lines, line);
}

static const PlumbFinding *
worst_of_check (const PlumbEvaluation *e, PlumbCheck check)
{
  for (uint32_t i = 0; i < e->n_findings; i++)
    if (e->findings[i].check == check)
      return &e->findings[i];
  return NULL;
}

GPtrArray *
plumb_compare_lines (PlumbDocument *document, guint n_arrangements)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_object_unref);
  gboolean has_check[PLUMB_N_CHECKS] = { FALSE }, has_figure[PLUMB_N_FIGURES] = { FALSE };

  for (guint a = 0; a < n_arrangements; a++)
    {
      const PlumbEvaluation *e = plumb_document_evaluation_of (document, a);
      for (uint32_t i = 0; i < e->n_findings; i++)
        has_check[e->findings[i].check] = TRUE;
      for (int g = 0; g < PLUMB_N_FIGURES; g++)
        has_figure[g] = has_figure[g] || e->figures[g].valid;
    }
  add (lines, LINE_VERDICT, 0, g_strdup ("Worst finding"));
  add (lines, LINE_COUNTS, 0, g_strdup ("Findings"));
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    add (lines, LINE_RECORD, (int) parts[i], g_strdup (plumb_record_info (parts[i])->label));
  for (int k = 0; k < PLUMB_N_CHECKS; k++)
    if (has_check[k])
      add (lines, LINE_CHECK, k, g_strdup (plumb_check_info ((PlumbCheck) k)->label));
  for (int g = 0; g < PLUMB_N_FIGURES; g++)
    if (has_figure[g] && !is_inner ((PlumbFigure) g))
      add (lines, LINE_FIGURE, g, figure_name (plumb_figure_info ((PlumbFigure) g)));
  return lines;
}

/* ---- words -------------------------------------------------------------------------------- */

const char *
plumb_compare_line_name (PlumbCompareLine *self)
{
  return self->name;
}

const char *
plumb_compare_line_meaning (PlumbCompareLine *self)
{
  return self->kind == LINE_FIGURE ? plumb_figure_info ((PlumbFigure) self->id)->meaning : "";
}

static uint32_t
part_of (const PlumbEvaluation *e, PlumbRecordKind kind)
{
  return kind == PLUMB_RECORD_SCREEN    ? e->screen
         : kind == PLUMB_RECORD_MACHINE ? e->machine
         : kind == PLUMB_RECORD_LENS    ? e->lens
         : kind == PLUMB_RECORD_PLACE   ? e->place
                                        : e->mount;
}

static char *
record_words (const PlumbScene *scene, const PlumbEvaluation *e, PlumbRecordKind kind)
{
  const uint32_t index = part_of (e, kind);

  return index != PLUMB_NO_INDEX ? plumb_record_name (scene, kind, index) : NULL;
}

static char *
check_words (const PlumbEvaluation *e, PlumbCheck check, PlumbWords words, int *verdict)
{
  const PlumbFinding *finding = worst_of_check (e, check);

  if (finding == NULL)
    return NULL;
  *verdict = (int) finding->verdict;
  if (!finding->has_figure)
    return g_strdup (plumb_verdict_word (finding->verdict));
  g_autofree char *figure = plumb_figure_format (finding->figure, finding->unit, words.units, words.show);
  return g_strdup_printf ("%s, %s", plumb_verdict_word (finding->verdict), figure);
}

static char *
figure_words (const PlumbEvaluation *e, PlumbFigure figure, PlumbWords words)
{
  const PlumbFigureInfo *info = plumb_figure_info (figure);
  const PlumbFigureValue *value = &e->figures[figure];
  GString *text;

  if (!value->valid)
    return NULL;
  text = g_string_new (NULL);
  for (int i = 0; i < info->count; i++)
    {
      g_autofree char *one = plumb_figure_format (value->value[i], info->unit, words.units, words.show);
      g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", one);
    }
  return g_string_free (text, FALSE);
}

char *
plumb_compare_line_value (PlumbCompareLine *self, PlumbDocument *document, guint arrangement, int *verdict)
{
  const PlumbScene *scene = plumb_document_scene (document);
  const PlumbEvaluation *e = plumb_document_evaluation_of (document, arrangement);
  const PlumbWords words = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  char *text = NULL;

  *verdict = -1;
  if (e == NULL)
    return g_strdup ("–");
  switch (self->kind)
    {
    case LINE_VERDICT:
      *verdict = (int) e->worst;
      text = g_strdup (plumb_verdict_word (e->worst));
      break;
    case LINE_COUNTS:
      text = plumb_evaluation_summary (e);
      break;
    case LINE_RECORD:
      text = record_words (scene, e, (PlumbRecordKind) self->id);
      break;
    case LINE_CHECK:
      text = check_words (e, (PlumbCheck) self->id, words, verdict);
      break;
    case LINE_FIGURE:
    default:
      text = figure_words (e, (PlumbFigure) self->id, words);
    }
  return text != NULL ? text : g_strdup ("–");
}
