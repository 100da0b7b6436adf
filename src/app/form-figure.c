/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-figure.h"

#include <math.h>
#include <string.h>

#include "document-private.h"
#include "form-line.h"
#include "form-value.h"
#include "plumbeam/variants.h"
#include "text/findings.h"

/* A figure that is known. */
typedef struct {
  double value, spread;
  const char *unit;
} Known;

/* What is looked into: a record and the evaluation that it is part of, NULL
 * where no arrangement has it. */
typedef struct {
  const PlumbScene *scene;
  const PlumbEvaluation *evaluation;
  guint index;
} Source;

typedef struct {
  PlumbRecordKind kind;
  int after;                  /* the field that it stands behind */
  int when_field, when_value; /* 0: always */
  const char *label;
  PlumbFigure figure; /* where there is no function */
  gboolean (*known) (const Source *source, Known *known);
  int check; /* whose verdict stands beside it, -1 */
} FigurePlan;

struct _PlumbFormFigure {
  GtkBox parent_instance;
  PlumbDocument *document;
  const FigurePlan *plan;
  guint index;
  PlumbFormLine line;
  GtkWidget *value;
};

G_DEFINE_FINAL_TYPE (PlumbFormFigure, plumb_form_figure, GTK_TYPE_BOX)

/* ---- figures of our own ------------------------------------------------------------------- */

/* The evaluation's finding on the lens data. */
static const PlumbFinding *
lens_finding (const Source *source)
{
  if (source->evaluation == NULL)
    return NULL;
  for (uint32_t i = 0; i < source->evaluation->n_findings; i++)
    if (source->evaluation->findings[i].check == PLUMB_CHECK_JOB_LENS_DATA)
      return &source->evaluation->findings[i];
  return NULL;
}

static gboolean
residual (const Source *source, int number, Known *known)
{
  const PlumbFinding *finding = lens_finding (source);

  if (finding == NULL || finding->variant != PLUMB_V_LENS_DATA_FINE)
    return FALSE;
  *known = (Known){ finding->number[number], 0.0, "m" };
  return TRUE;
}

static gboolean
width_residual (const Source *source, Known *known)
{
  return residual (source, 0, known);
}

static gboolean
gap_residual (const Source *source, Known *known)
{
  return residual (source, 1, known);
}

/* From the printed offset alone, so that it is there before any arrangement.
 * Lines of data bring an offset of their own: that is in the shift's figures. */
static gboolean
centre_displacement (const Source *source, Known *known)
{
  const PlumbLens *lens = plumb_scene_lens (source->scene, source->index);
  const gboolean parts = lens->offset_form == PLUMB_OFFSET_FORM_RATIO;

  known->unit = "share";
  known->spread = 0.0;
  return plumb_offset_centre ((PlumbOffsetForm) lens->offset_form,
                              parts ? lens->offset_above_ratio : lens->offset_share,
                              parts ? lens->offset_below_ratio : 0.0, &known->value);
}
_Static_assert((int) PLUMB_OFFSET_FORM_FAR_EDGE == (int) PLUMB_OFFSET_FAR_EDGE
                   && (int) PLUMB_OFFSET_FORM_RATIO == (int) PLUMB_OFFSET_RATIO,
               "the record's offset forms are the optics'");

/* ---- which figures stand where ------------------------------------------------------------- */

#define F(record, member) PLUMB_FIELD_##record##_##member
#define SOLVED(member) F (arrangement, member), PLUMB_SOLVE_SOLVED

static const FigurePlan plans[] = {
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, zoom), SOLVED (zoom), N_ ("Throw ratio"), PLUMB_FIGURE_throw_ratio,
    NULL, PLUMB_CHECK_BEAM_THROW_RANGE },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, throw_ratio), 0, 0, N_ ("Throw distance"),
    PLUMB_FIGURE_throw_distance_m, NULL, -1 },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, throw_ratio), 0, 0, N_ ("Picture width"), PLUMB_FIGURE_picture_width_m,
    NULL, -1 },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, shift), SOLVED (shift), N_ ("Shift, up or down"),
    PLUMB_FIGURE_shift_v_share, NULL, PLUMB_CHECK_BEAM_SHIFT_SET },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, shift), SOLVED (shift), N_ ("Shift, left or right"),
    PLUMB_FIGURE_shift_h_share, NULL, -1 },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, attitude), SOLVED (attitude), N_ ("Turn"), PLUMB_FIGURE_yaw_rad, NULL,
    -1 },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, attitude), SOLVED (attitude), N_ ("Tilt"), PLUMB_FIGURE_pitch_rad, NULL,
    -1 },
  { PLUMB_RECORD_ARRANGEMENT, F (arrangement, roll_rad), 0, 0, N_ ("Tilt against level"),
    PLUMB_FIGURE_pitch_level_rad, NULL, -1 },
  { PLUMB_RECORD_LENS, F (lens, throw_error_share), 0, 0, N_ ("Made of it: wide end"), PLUMB_FIGURE_throw_ratio_wide,
    NULL, -1 },
  { PLUMB_RECORD_LENS, F (lens, throw_error_share), 0, 0, N_ ("Made of it: tele end"), PLUMB_FIGURE_throw_ratio_tele,
    NULL, -1 },
  { PLUMB_RECORD_LENS, F (lens, throw_error_share), 0, 0, N_ ("Pupil behind the datum"), PLUMB_FIGURE_pupil_behind_m,
    NULL, -1 },
  { PLUMB_RECORD_LENS, F (lens, throw_error_share), F (lens, data), PLUMB_LENS_DATA_PAIRS,
    N_ ("Widths miss the lines by"), 0, width_residual, PLUMB_CHECK_JOB_LENS_DATA },
  { PLUMB_RECORD_LENS, F (lens, throw_error_share), F (lens, data), PLUMB_LENS_DATA_PAIRS,
    N_ ("Gaps miss the lines by"), 0, gap_residual, -1 },
  { PLUMB_RECORD_LENS, F (lens, offset_below_ratio), 0, 0, N_ ("Picture's centre off the axis"), 0,
    centre_displacement, -1 },
};

/* ---- showing -------------------------------------------------------------------------------- */

static guint
part_of (const PlumbEvaluation *evaluation, PlumbRecordKind kind)
{
  return kind == PLUMB_RECORD_ARRANGEMENT ? evaluation->arrangement : evaluation->lens;
}

/* The evaluation shown where the record is part of it, else the first one of
 * which it is. */
static Source
source_of (PlumbFormFigure *self)
{
  const PlumbEvaluation *shown = plumb_document_evaluation (self->document);
  Source source = { plumb_document_scene (self->document), NULL, self->index };

  if (part_of (shown, self->plan->kind) == self->index)
    source.evaluation = shown;
  for (guint i = 0; source.evaluation == NULL && i < plumb_kind_count (source.scene, PLUMB_RECORD_ARRANGEMENT); i++)
    {
      /* Read the reference first: an evaluation costs more. */
      const char *lens = plumb_scene_arrangement (source.scene, i)->lens;
      const gboolean uses = self->plan->kind == PLUMB_RECORD_ARRANGEMENT
                                ? i == self->index
                                : plumb_scene_find (source.scene, PLUMB_RECORD_LENS, lens) == self->index;
      if (uses)
        source.evaluation = plumb_document_evaluation_of (self->document, i);
    }
  return source;
}

static gboolean
is_known (const FigurePlan *plan, const Source *source, Known *known)
{
  if (plan->known != NULL)
    return plan->known (source, known);
  if (source->evaluation == NULL || !source->evaluation->figures[plan->figure].valid)
    return FALSE;
  *known = (Known){ source->evaluation->figures[plan->figure].value[0],
                    source->evaluation->figures[plan->figure].spread[0], plumb_figure_info (plan->figure)->unit };
  return isfinite (known->value);
}

static gboolean
applies (PlumbFormFigure *self, const PlumbScene *scene)
{
  const PlumbRecordInfo *info = plumb_record_info (self->plan->kind);

  if (self->index >= plumb_kind_count (scene, info->kind))
    return FALSE;
  return self->plan->when_field == 0
         || (int) plumb_field_number (&info->fields[self->plan->when_field],
                                      plumb_scene_record (scene, info->kind, self->index))
                == self->plan->when_value;
}

static const PlumbFinding *
finding_of (PlumbFormFigure *self, const Source *source)
{
  if (self->plan->check < 0 || source->evaluation == NULL)
    return NULL;
  for (uint32_t i = 0; i < source->evaluation->n_findings; i++)
    if ((int) source->evaluation->findings[i].check == self->plan->check)
      return &source->evaluation->findings[i];
  return NULL;
}

/* The allowed range where the verdict is about this very figure, else its
 * spread. */
static char *
figure_note (const PlumbFinding *finding, const Known *known, PlumbWords words)
{
  if (finding != NULL && finding->has_figure && strcmp (finding->unit, known->unit) == 0
      && finding->sense != PLUMB_LIMIT_NONE && fabs (finding->figure - known->value) < 1e-9)
    return plumb_finding_limit (finding, words);
  if (!(known->spread > 0.0))
    return NULL;
  g_autofree char *spread = plumb_figure_format_spread (known->spread, known->unit, words.units, words.show);
  return g_strdup_printf ("\302\261 %s", spread);
}

void
plumb_form_figure_refresh (PlumbFormFigure *self)
{
  g_return_if_fail (PLUMB_IS_FORM_FIGURE (self));
  const PlumbScene *scene = plumb_document_scene (self->document);
  const gboolean shown = applies (self, scene);
  const char *unit = "";
  Known known = { 0 };

  gtk_widget_set_visible (GTK_WIDGET (self), shown);
  if (!shown)
    return;
  const PlumbWords words = { plumb_scene_job (scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  const Source source = source_of (self);
  const PlumbFinding *finding = finding_of (self, &source);
  const gboolean there = is_known (self->plan, &source, &known);
  g_autofree char *text
      = there ? plumb_form_figure_text (known.value, known.unit, words.units, &unit) : g_strdup ("\342\200\223");
  gtk_label_set_text (GTK_LABEL (self->value), text);
  plumb_form_line_show_unit (&self->line, unit);
  plumb_form_line_show_finding (&self->line, finding);
  if (there)
    plumb_form_line_show_note (&self->line, figure_note (finding, &known, words), NULL);
  else if (source.evaluation == NULL)
    plumb_form_line_show_note (&self->line, g_strdup (N_ ("no arrangement uses it yet")), NULL);
  else
    plumb_form_line_show_note (&self->line, g_strdup (N_ ("not known")), NULL);
}

/* ---- making it ------------------------------------------------------------------------------ */

static void
plumb_form_figure_dispose (GObject *object)
{
  g_clear_object (&PLUMB_FORM_FIGURE (object)->document);
  G_OBJECT_CLASS (plumb_form_figure_parent_class)->dispose (object);
}

static void
plumb_form_figure_class_init (PlumbFormFigureClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = plumb_form_figure_dispose;
}

static void
plumb_form_figure_init (PlumbFormFigure *self)
{
  self->index = PLUMB_NO_INDEX;
}

static GtkWidget *
make_figure (PlumbDocument *document, const FigurePlan *plan)
{
  PlumbFormFigure *self = g_object_new (PLUMB_TYPE_FORM_FIGURE, NULL);

  self->document = g_object_ref (document);
  self->plan = plan;
  self->value = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->value), 1.0f);
  gtk_widget_add_css_class (self->value, "form-figure");
  plumb_form_line_fill (&self->line, GTK_BOX (self), document, plan->label, self->value, PLUMB_FORM_NUMBER);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->value), GTK_ACCESSIBLE_RELATION_LABELLED_BY, self->line.label,
                                  NULL, -1);
  return GTK_WIDGET (self);
}

void
plumb_form_figures_append (GPtrArray *figures, GtkBox *box, PlumbDocument *document, PlumbRecordKind kind,
                           int after_field)
{
  for (gsize i = 0; i < G_N_ELEMENTS (plans); i++)
    if (plans[i].kind == kind && plans[i].after == after_field)
      {
        GtkWidget *figure = make_figure (document, &plans[i]);
        g_ptr_array_add (figures, figure);
        gtk_box_append (box, figure);
      }
}

void
plumb_form_figure_set_index (PlumbFormFigure *self, guint index)
{
  self->index = index;
}

const char *
plumb_form_figure_label (PlumbFormFigure *self)
{
  return self->plan->label;
}

const char *
plumb_form_figure_shown (PlumbFormFigure *self)
{
  return gtk_label_get_text (GTK_LABEL (self->value));
}
