/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/bench.h"

#define FOLD_MS 120

struct _PlumbBench {
  GtkWidget parent_instance;

  GtkWidget *tape, *fold, *rest; /* fold: the form in a revealer */
  gboolean over;
  int width, height;
  guint resized_idle;
};

G_DEFINE_FINAL_TYPE (PlumbBench, plumb_bench, GTK_TYPE_WIDGET)

enum { RESIZED, N_SIGNALS };
static guint signals[N_SIGNALS];

static int
form_width (int width)
{
  return width >= 1900 ? 372 : width >= PLUMB_BENCH_WIDE_PX ? 328 : 300;
}

static int
least_width (GtkWidget *widget)
{
  int least;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

/* A form that is folding in or away has any width up to its own. */
static int
fold_width (PlumbBench *self, int width)
{
  int wanted = MAX (form_width (width), least_width (gtk_revealer_get_child (GTK_REVEALER (self->fold))));
  int natural;

  gtk_widget_set_size_request (gtk_revealer_get_child (GTK_REVEALER (self->fold)), form_width (width), -1);
  gtk_widget_measure (self->fold, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return MIN (natural, wanted);
}

static void
plumb_bench_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                     int *minimum_baseline, int *natural_baseline)
{
  PlumbBench *self = PLUMB_BENCH (widget);
  GtkWidget *parts[] = { self->tape, self->fold, self->rest };

  (void) for_size, (void) minimum_baseline, (void) natural_baseline;
  *minimum = *natural = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      int least, usual;
      gtk_widget_measure (parts[i], orientation, -1, &least, &usual, NULL, NULL);
      if (orientation == GTK_ORIENTATION_VERTICAL)
        {
          *minimum = MAX (*minimum, least);
          *natural = MAX (*natural, usual);
        }
      else if (!(self->over && parts[i] == self->fold))
        {
          *minimum += least;
          *natural += usual;
        }
    }
}

static gboolean
resized_cb (gpointer data)
{
  PlumbBench *self = data;

  self->resized_idle = 0;
  g_signal_emit (self, signals[RESIZED], 0);
  return G_SOURCE_REMOVE;
}

static void
plumb_bench_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbBench *self = PLUMB_BENCH (widget);
  int tape = least_width (self->tape), form = fold_width (self, width);
  int left = self->over ? tape : tape + form;
  int rest = MAX (width - left, least_width (self->rest));

  gtk_widget_size_allocate (self->tape, &(GtkAllocation){ 0, 0, tape, height }, baseline);
  gtk_widget_size_allocate (self->rest, &(GtkAllocation){ left, 0, rest, height }, baseline);
  gtk_widget_size_allocate (self->fold, &(GtkAllocation){ tape, 0, form, height }, baseline);
  if ((width != self->width || height != self->height) && self->resized_idle == 0)
    self->resized_idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, resized_cb, self, NULL);
  self->width = width;
  self->height = height;
}

static void
plumb_bench_dispose (GObject *object)
{
  PlumbBench *self = PLUMB_BENCH (object);

  g_clear_handle_id (&self->resized_idle, g_source_remove);
  g_clear_pointer (&self->tape, gtk_widget_unparent);
  g_clear_pointer (&self->rest, gtk_widget_unparent);
  g_clear_pointer (&self->fold, gtk_widget_unparent);
  G_OBJECT_CLASS (plumb_bench_parent_class)->dispose (object);
}

static void
plumb_bench_class_init (PlumbBenchClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_bench_dispose;
  widget_class->measure = plumb_bench_measure;
  widget_class->size_allocate = plumb_bench_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "bench");
  signals[RESIZED]
      = g_signal_new ("resized", PLUMB_TYPE_BENCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

/* ---- from part to part by keys ---------------------------------------------------- */

/* Tape and form, then from the top what the rest is made of. */
#define MOST_PARTS 8

static guint
list_parts (PlumbBench *self, GtkWidget *parts[MOST_PARTS])
{
  guint n = 0;

  parts[n++] = self->tape;
  parts[n++] = self->fold;
  for (GtkWidget *child = gtk_widget_get_first_child (self->rest); child != NULL && n + 2 <= MOST_PARTS;
       child = gtk_widget_get_next_sibling (child))
    {
      parts[n++] = GTK_IS_PANED (child) ? gtk_paned_get_start_child (GTK_PANED (child)) : child;
      if (GTK_IS_PANED (child))
        parts[n++] = gtk_paned_get_end_child (GTK_PANED (child));
    }
  return n;
}

/* A part that has nothing for the keys is passed by. */
static gboolean
go_round (PlumbBench *self, guint by)
{
  GtkWidget *parts[MOST_PARTS], *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  const guint n = list_parts (self, parts);
  guint at = n - by;

  for (guint i = 0; i < n; i++)
    if (focus != NULL && parts[i] != NULL && (focus == parts[i] || gtk_widget_is_ancestor (focus, parts[i])))
      at = i;
  for (guint i = 1; i < n; i++)
    {
      GtkWidget *part = parts[(at + i * by) % n];
      const gboolean away = part == self->fold && !plumb_bench_form_is_shown (self);
      if (part != NULL && !away && gtk_widget_get_mapped (part) && gtk_widget_child_focus (part, GTK_DIR_TAB_FORWARD))
        return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

/* F6, and Shift and F6 the other way round. */
static gboolean
key_cb (PlumbBench *self, guint key, guint code, GdkModifierType state)
{
  GtkWidget *parts[MOST_PARTS];
  const GdkModifierType held = state & gtk_accelerator_get_default_mod_mask ();

  (void) code;
  if (key != GDK_KEY_F6 || (held != 0 && held != GDK_SHIFT_MASK))
    return GDK_EVENT_PROPAGATE;
  return go_round (self, held == 0 ? 1 : list_parts (self, parts) - 1);
}

static void
plumb_bench_init (PlumbBench *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
plumb_bench_new (GtkWidget *tape, GtkWidget *form, GtkWidget *rest)
{
  PlumbBench *self = g_object_new (PLUMB_TYPE_BENCH, NULL);

  self->tape = tape;
  self->rest = rest;
  self->fold = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (self->fold), GTK_REVEALER_TRANSITION_TYPE_SLIDE_RIGHT);
  gtk_revealer_set_transition_duration (GTK_REVEALER (self->fold), FOLD_MS);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->fold), TRUE);
  gtk_revealer_set_child (GTK_REVEALER (self->fold), form);
  gtk_widget_add_css_class (form, "form-side");
  gtk_widget_set_parent (tape, GTK_WIDGET (self));
  gtk_widget_set_parent (rest, GTK_WIDGET (self));
  /* Last, so that it is drawn over the rest. */
  gtk_widget_set_parent (self->fold, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}

void
plumb_bench_show_form (PlumbBench *self, gboolean shown)
{
  g_return_if_fail (PLUMB_IS_BENCH (self));
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->fold), shown);
}

gboolean
plumb_bench_form_is_shown (PlumbBench *self)
{
  return gtk_revealer_get_reveal_child (GTK_REVEALER (self->fold));
}

void
plumb_bench_set_form_over (PlumbBench *self, gboolean over)
{
  g_return_if_fail (PLUMB_IS_BENCH (self));
  if (self->over == over)
    return;
  self->over = over;
  if (over)
    gtk_widget_add_css_class (GTK_WIDGET (self), "form-over");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "form-over");
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
