/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tape.h"

#include <math.h>

#include "app/bob.h"
#include "app/document-later.h"
#include "app/round-level.h"
#include "app/steps.h"
#include "app/style.h"
#include "draw/draw.h"
#include "text/findings.h"

/* px of the look */
#define NARROW_PX 104
#define WIDE_PX 124
#define LINE_X_PX 17.0
#define FIRST_TICK_PX 10
#define BOTH_ENDS_PX 23
#define PITCH_LEAST_PX 69
#define SLIDE_US 120000.0

typedef struct {
  GtkWidget *button, *name, *level, *word, *number;
} Step;

struct _PlumbStepTape {
  GtkWidget parent_instance;

  PlumbDocument *document;
  Step steps[PLUMB_N_STEPS];
  PlumbStep current;
  gboolean wide;
  int pitch; /* px between long ticks, set when it is allocated */

  /* The plumb line slides between steps, in units of a step. */
  double line, line_from;
  gint64 slide_start_us;
  guint slide_tick;
};

G_DEFINE_FINAL_TYPE (PlumbStepTape, plumb_step_tape, GTK_TYPE_WIDGET)

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- what stands at a step -------------------------------------------------------- */

static char *
counted (guint n, const char *one, const char *more, const char *none)
{
  return n == 0 ? g_strdup (none) : g_strdup_printf ("%u %s", n, n == 1 ? one : more);
}

static guint
count_of (PlumbStepTape *self, PlumbRecordKind kind)
{
  uint32_t n;

  plumb_scene_records (plumb_document_scene (self->document), kind, &n);
  return n;
}

/* What is there at a step that has no findings. */
static char *
content_words (PlumbStepTape *self, PlumbStep step)
{
  switch (step)
    {
    case PLUMB_STEP_ROOM:
      return counted (count_of (self, PLUMB_RECORD_WALL), "wall", "walls", "not begun");
    case PLUMB_STEP_SCREEN:
      return counted (count_of (self, PLUMB_RECORD_SCREEN), "screen", "screens", "not begun");
    case PLUMB_STEP_MACHINE:
      return counted (count_of (self, PLUMB_RECORD_PLACE), "place", "places", "not begun");
    case PLUMB_STEP_PEOPLE:
      return counted (count_of (self, PLUMB_RECORD_ROW), "row", "rows", "not begun");
    case PLUMB_STEP_LIGHT:
      return counted (count_of (self, PLUMB_RECORD_LAMP), "lamp", "lamps", "not begun");
    case PLUMB_STEP_HANGING:
      return counted (count_of (self, PLUMB_RECORD_MOUNT), "mount", "mounts", "not begun");
    case PLUMB_STEP_CHOICE:
      return counted (count_of (self, PLUMB_RECORD_ARRANGEMENT), "compared", "compared", "not begun");
    case PLUMB_STEP_PAPERS:
      return counted (PLUMB_N_DRAW_KINDS + 1, "sheet", "sheets", "not begun");
    case PLUMB_STEP_RUNS:
    case PLUMB_STEP_SQUARING:
    default:
      return g_strdup ("not begun");
    }
}

static void
update_step (PlumbStepTape *self, PlumbStep step)
{
  Step *at = &self->steps[step];
  PlumbVerdict worst = PLUMB_HOLDS;
  gboolean judged = plumb_step_verdict (plumb_document_evaluation (self->document), step, &worst);
  g_autofree char *words = judged ? g_strdup (plumb_verdict_word (worst)) : content_words (self, step);
  g_autofree char *label = g_strdup_printf ("%d %s, %s", (int) step + 1, plumb_step_word (step), words);

  gtk_widget_set_visible (at->level, judged);
  if (judged)
    plumb_round_level_set_verdict (PLUMB_ROUND_LEVEL (at->level), worst);
  plumb_style_set_verdict_class (at->word, judged ? (int) worst : -1);
  gtk_label_set_text (GTK_LABEL (at->word), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (at->button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
changed_cb (gpointer listener)
{
  PlumbStepTape *self = listener;

  for (int i = 0; i < PLUMB_N_STEPS; i++)
    update_step (self, (PlumbStep) i);
}

/* On one line, or broken once at its first space. */
static void
set_name (PlumbStepTape *self, PlumbStep step)
{
  g_autofree char *name = g_strdup (plumb_step_word (step));
  /* 'Machine and place' is too long for both tapes, the others for one. */
  glong room = self->wide ? 13 : 8;
  char *space = strchr (name, ' ');

  if (space != NULL && g_utf8_strlen (name, -1) > room)
    *space = '\n';
  gtk_label_set_text (GTK_LABEL (self->steps[step].name), name);
}

/* ---- the plumb line ----------------------------------------------------------------- */

static gboolean
slide_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer unused)
{
  PlumbStepTape *self = PLUMB_STEP_TAPE (widget);
  double done = (double) (gdk_frame_clock_get_frame_time (clock) - self->slide_start_us) / SLIDE_US;

  (void) unused;
  gtk_widget_queue_draw (widget);
  if (done >= 1.0)
    {
      self->line = (double) self->current;
      self->slide_tick = 0;
      return G_SOURCE_REMOVE;
    }
  double share = 1.0 - pow (1.0 - MAX (done, 0.0), 3.0); /* ease out */
  self->line = self->line_from + ((double) self->current - self->line_from) * share;
  return G_SOURCE_CONTINUE;
}

static void
slide (PlumbStepTape *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean animated = FALSE;

  g_object_get (gtk_widget_get_settings (widget), "gtk-enable-animations", &animated, NULL);
  if (!animated || !gtk_widget_get_mapped (widget))
    {
      self->line = (double) self->current;
      gtk_widget_queue_draw (widget);
      return;
    }
  self->line_from = self->line;
  self->slide_start_us = gdk_frame_clock_get_frame_time (gtk_widget_get_frame_clock (widget));
  if (self->slide_tick == 0)
    self->slide_tick = gtk_widget_add_tick_callback (widget, slide_cb, NULL, NULL);
}

/* ---- choosing -------------------------------------------------------------------------- */

static void
mark_current (PlumbStepTape *self)
{
  for (int i = 0; i < PLUMB_N_STEPS; i++)
    {
      gboolean current = i == (int) self->current;
      GtkWidget *button = self->steps[i].button;
      if (current)
        gtk_widget_add_css_class (button, "current");
      else
        gtk_widget_remove_css_class (button, "current");
      /* Tab comes to the step at hand, arrows walk from there. */
      gtk_widget_set_focusable (button, current);
      gtk_accessible_update_state (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_STATE_SELECTED, current, -1);
    }
}

void
plumb_step_tape_show_step (PlumbStepTape *self, PlumbStep step)
{
  g_return_if_fail (PLUMB_IS_STEP_TAPE (self));
  g_return_if_fail ((int) step >= 0 && (int) step < PLUMB_N_STEPS);
  if (step == self->current)
    return;
  gboolean focused = gtk_widget_has_focus (self->steps[self->current].button);
  self->current = step;
  mark_current (self);
  if (focused)
    gtk_widget_grab_focus (self->steps[step].button);
  slide (self);
}

PlumbStep
plumb_step_tape_step (PlumbStepTape *self)
{
  return self->current;
}

static void
choose (PlumbStepTape *self, int step)
{
  plumb_step_tape_show_step (self, (PlumbStep) CLAMP (step, 0, PLUMB_N_STEPS - 1));
  g_signal_emit (self, signals[CHOSEN], 0, (int) self->current);
}

static void
clicked_cb (PlumbStepTape *self, GtkWidget *button)
{
  for (int i = 0; i < PLUMB_N_STEPS; i++)
    if (self->steps[i].button == button)
      choose (self, i);
}

static gboolean
key_cb (PlumbStepTape *self, guint key, guint code, GdkModifierType state)
{
  int step = (int) self->current;

  (void) code;
  if ((state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (key)
    {
    case GDK_KEY_Up:
      step--;
      break;
    case GDK_KEY_Down:
      step++;
      break;
    case GDK_KEY_Home:
      step = 0;
      break;
    case GDK_KEY_End:
      step = PLUMB_N_STEPS - 1;
      break;
    default:
      return GDK_EVENT_PROPAGATE;
    }
  choose (self, step);
  return GDK_EVENT_STOP;
}

/* ---- size and drawing ---------------------------------------------------------------------- */

static int
pitch_least (PlumbStepTape *self, int width)
{
  int pitch = PITCH_LEAST_PX;

  for (int i = 0; i < PLUMB_N_STEPS; i++)
    {
      int least;
      gtk_widget_measure (self->steps[i].button, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
      pitch = MAX (pitch, least);
    }
  return pitch;
}

static void
plumb_step_tape_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  PlumbStepTape *self = PLUMB_STEP_TAPE (widget);

  (void) minimum_baseline, (void) natural_baseline;
  *minimum = self->wide ? WIDE_PX : NARROW_PX;
  for (int i = 0; i < PLUMB_N_STEPS && orientation == GTK_ORIENTATION_HORIZONTAL; i++)
    {
      int least;
      gtk_widget_measure (self->steps[i].button, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      *minimum = MAX (*minimum, least);
    }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *minimum = pitch_least (self, for_size < 0 ? *minimum : for_size) * PLUMB_N_STEPS + BOTH_ENDS_PX;
  *natural = *minimum;
}

static void
plumb_step_tape_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbStepTape *self = PLUMB_STEP_TAPE (widget);

  (void) baseline;
  self->pitch = MAX ((height - BOTH_ENDS_PX) / PLUMB_N_STEPS, PITCH_LEAST_PX);
  for (int i = 0; i < PLUMB_N_STEPS; i++)
    {
      int top = FIRST_TICK_PX + i * self->pitch, least, wide, high;
      gtk_widget_measure (self->steps[i].button, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
      gtk_widget_size_allocate (self->steps[i].button, &(GtkAllocation){ 0, top, width, MAX (self->pitch, least) },
                                -1);
      gtk_widget_measure (self->steps[i].number, GTK_ORIENTATION_HORIZONTAL, -1, &wide, NULL, NULL, NULL);
      gtk_widget_measure (self->steps[i].number, GTK_ORIENTATION_VERTICAL, wide, &high, NULL, NULL, NULL);
      gtk_widget_size_allocate (self->steps[i].number, &(GtkAllocation){ width - 10 - wide, top + 3, wide, high },
                                -1);
    }
}

static void
draw_ticks (PlumbStepTape *self, cairo_t *cr, double width)
{
  cairo_set_line_width (cr, 1.0);
  plumb_style_set_source (cr, PLUMB_COLOUR_RULE);
  for (int i = 0; i <= PLUMB_N_STEPS * 10; i++)
    {
      double y = floor (FIRST_TICK_PX + i * self->pitch / 10.0) + 0.5;
      double length = i % 10 == 0 ? 14.0 : i % 5 == 0 ? 9.0 : 5.0;
      if (i / 10 == (int) self->current && i % 10 != 0)
        continue;
      cairo_move_to (cr, width - 1 - length, y);
      cairo_line_to (cr, width - 1, y);
    }
  cairo_stroke (cr);
}

/* The step at hand is cut out of the tape, so that the form's paper shows. */
static void
draw_cut (PlumbStepTape *self, cairo_t *cr, double width, double height)
{
  double top = FIRST_TICK_PX + (double) self->current * self->pitch, foot = top + self->pitch;

  plumb_style_set_source (cr, PLUMB_COLOUR_PAPER);
  cairo_rectangle (cr, 0, top, width, self->pitch);
  cairo_fill (cr);
  plumb_style_set_source (cr, PLUMB_COLOUR_EDGE);
  cairo_set_line_width (cr, 1.0);
  cairo_move_to (cr, width - 0.5, 0);
  cairo_line_to (cr, width - 0.5, top + 0.5);
  cairo_line_to (cr, 0, top + 0.5);
  cairo_move_to (cr, 0, foot + 0.5);
  cairo_line_to (cr, width - 0.5, foot + 0.5);
  cairo_line_to (cr, width - 0.5, height);
  cairo_stroke (cr);
}

static void
plumb_step_tape_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbStepTape *self = PLUMB_STEP_TAPE (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double middle = FIRST_TICK_PX + (self->line + 0.5) * self->pitch;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));

  draw_ticks (self, cr, width);
  draw_cut (self, cr, width, height);
  plumb_style_set_source (cr, PLUMB_COLOUR_ACCENT);
  plumb_bob_draw (cr, LINE_X_PX, 0, middle + PLUMB_BOB_PX / 4);
  cairo_destroy (cr);
  GTK_WIDGET_CLASS (plumb_step_tape_parent_class)->snapshot (widget, snapshot);
}

/* ---- the object ------------------------------------------------------------------------------- */

static void
plumb_step_tape_dispose (GObject *object)
{
  PlumbStepTape *self = PLUMB_STEP_TAPE (object);

  for (int i = 0; i < PLUMB_N_STEPS; i++)
    {
      g_clear_pointer (&self->steps[i].button, gtk_widget_unparent);
      g_clear_pointer (&self->steps[i].number, gtk_widget_unparent);
    }
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_step_tape_parent_class)->dispose (object);
}

static void
plumb_step_tape_class_init (PlumbStepTapeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_step_tape_dispose;
  widget_class->measure = plumb_step_tape_measure;
  widget_class->size_allocate = plumb_step_tape_size_allocate;
  widget_class->snapshot = plumb_step_tape_snapshot;
  gtk_widget_class_set_css_name (widget_class, "tape");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_TAB_LIST);
  signals[CHOSEN] = g_signal_new ("chosen", PLUMB_TYPE_STEP_TAPE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                  1, G_TYPE_INT);
}

static GtkWidget *
label_new (const char *css_class, float xalign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
make_step (PlumbStepTape *self, int i)
{
  Step *step = &self->steps[i];
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *number = g_strdup_printf ("%d", i + 1);

  step->button = g_object_new (GTK_TYPE_BUTTON, "accessible-role", GTK_ACCESSIBLE_ROLE_TAB, NULL);
  step->name = label_new ("step-name", 0);
  step->word = label_new ("step-word", 0);
  step->number = label_new ("step-number", 1);
  step->level = plumb_round_level_new (PLUMB_UNKNOWN);
  gtk_label_set_text (GTK_LABEL (step->number), number);
  gtk_widget_set_can_target (step->number, FALSE);
  gtk_box_append (GTK_BOX (line), step->level);
  gtk_box_append (GTK_BOX (line), step->word);
  gtk_box_append (GTK_BOX (column), step->name);
  gtk_box_append (GTK_BOX (column), line);
  gtk_widget_set_valign (column, GTK_ALIGN_CENTER);
  gtk_button_set_child (GTK_BUTTON (step->button), column);
  gtk_widget_add_css_class (step->button, "step");
  gtk_widget_set_parent (step->button, GTK_WIDGET (self));
  gtk_widget_set_parent (step->number, GTK_WIDGET (self));
  g_signal_connect_swapped (step->button, "clicked", G_CALLBACK (clicked_cb), self);
  set_name (self, (PlumbStep) i);
}

static void
plumb_step_tape_init (PlumbStepTape *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  for (int i = 0; i < PLUMB_N_STEPS; i++)
    make_step (self, i);
  self->pitch = PITCH_LEAST_PX;
  mark_current (self);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, "Steps", -1);
}

GtkWidget *
plumb_step_tape_new (PlumbDocument *document)
{
  PlumbStepTape *self = g_object_new (PLUMB_TYPE_STEP_TAPE, NULL);

  self->document = g_object_ref (document);
  plumb_document_listen_later (document, self, changed_cb);
  changed_cb (self);
  return GTK_WIDGET (self);
}

void
plumb_step_tape_set_wide (PlumbStepTape *self, gboolean wide)
{
  g_return_if_fail (PLUMB_IS_STEP_TAPE (self));
  if (self->wide == wide)
    return;
  self->wide = wide;
  if (wide)
    gtk_widget_add_css_class (GTK_WIDGET (self), "wide");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "wide");
  for (int i = 0; i < PLUMB_N_STEPS; i++)
    set_name (self, (PlumbStep) i);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
