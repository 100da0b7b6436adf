/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/empty-part.h"

#include "app/bob.h"
#include "app/style.h"

/* Share of the height at which the bob hangs, and its room below the line. */
#define BOB_SHARE 0.34
#define WORDS_BELOW_PX 28

struct _PlumbEmptyPart {
  GtkWidget parent_instance;

  PlumbDocument *document;
  GtkWidget *words;
};

G_DEFINE_FINAL_TYPE (PlumbEmptyPart, plumb_empty_part, GTK_TYPE_WIDGET)

enum { BEGUN, N_SIGNALS };
static guint signals[N_SIGNALS];

static guint
count (PlumbEmptyPart *self, PlumbRecordKind kind)
{
  uint32_t n;

  plumb_scene_records (plumb_document_scene (self->document), kind, &n);
  return n;
}

static void
changed_cb (PlumbEmptyPart *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self), count (self, PLUMB_RECORD_WALL) == 0);
}

/* ---- beginning a room ------------------------------------------------------------- */

/* A room that walls can stand in. */
static gboolean
add_space (PlumbEmptyPart *self, GError **error)
{
  return count (self, PLUMB_RECORD_SPACE) > 0
         || plumb_document_add (self->document, PLUMB_RECORD_SPACE, PLUMB_NO_INDEX, PLUMB_NO_INDEX, error)
                != PLUMB_NO_INDEX;
}

/* Behind the others, in their space. */
static gboolean
add_wall (PlumbEmptyPart *self, guint *wall, GError **error)
{
  const guint n = count (self, PLUMB_RECORD_WALL);

  *wall = plumb_document_add_fitting (self->document, PLUMB_RECORD_WALL, PLUMB_NO_INDEX,
                                      n > 0 ? n - 1 : PLUMB_NO_INDEX, error);
  return *wall != PLUMB_NO_INDEX;
}

/* Round figures of nobody's room, to be typed over; the names say so. */
static gboolean
add_four_walls (PlumbEmptyPart *self, GError **error)
{
  static const char *const names[] = { N_ ("Wall 1, to be measured"), N_ ("Wall 2, to be measured"),
                                       N_ ("Wall 3, to be measured"), N_ ("Wall 4, to be measured") };
  static const int corner[] = { PLUMB_FIELD_wall_x_m, PLUMB_FIELD_wall_y_m };
  const gboolean imperial = plumb_scene_job (plumb_document_scene (self->document), 0)->units == PLUMB_UNITS_IMPERIAL;
  const double width_m = imperial ? 12.0 * 0.3048 : 4.0, length_m = imperial ? 16.0 * 0.3048 : 5.0;
  const double corners[][2] = { { 0, 0 }, { width_m, 0 }, { width_m, length_m }, { 0, length_m } };

  for (gsize i = 0; i < G_N_ELEMENTS (corners); i++)
    {
      guint wall;
      if (!add_wall (self, &wall, error)
          || !plumb_document_set_numbers (self->document, PLUMB_RECORD_WALL, wall, 2, corner, corners[i], error)
          || !plumb_document_set_text (self->document, PLUMB_RECORD_WALL, wall, PLUMB_FIELD_wall_label, names[i],
                                       error))
        return FALSE;
    }
  return TRUE;
}

/* One step of undo, whatever it took. */
static void
begin (PlumbEmptyPart *self, gboolean four_walls)
{
  g_autoptr (GError) error = NULL;
  guint wall = PLUMB_NO_INDEX;

  plumb_document_begin_group (self->document);
  const gboolean done
      = add_space (self, &error) && (four_walls ? add_four_walls (self, &error) : add_wall (self, &wall, &error));
  plumb_document_end_group (self->document, four_walls ? N_ ("A four-walled room") : N_ ("The first wall"));
  if (!done)
    {
      g_message ("%s", error->message);
      gtk_widget_error_bell (GTK_WIDGET (self));
      return;
    }
  plumb_document_select (self->document, (PlumbSubject){ PLUMB_RECORD_WALL, 0, PLUMB_NO_INDEX }, -1);
  g_signal_emit (self, signals[BEGUN], 0);
}

static void
first_wall_cb (PlumbEmptyPart *self)
{
  begin (self, FALSE);
}

static void
four_walls_cb (PlumbEmptyPart *self)
{
  begin (self, TRUE);
}

/* ---- size and drawing ----------------------------------------------------------------- */

static void
plumb_empty_part_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                          int *minimum_baseline, int *natural_baseline)
{
  (void) minimum_baseline, (void) natural_baseline;
  gtk_widget_measure (PLUMB_EMPTY_PART (widget)->words, orientation, for_size, minimum, natural, NULL, NULL);
}

static void
plumb_empty_part_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PlumbEmptyPart *self = PLUMB_EMPTY_PART (widget);
  int top = (int) (height * BOB_SHARE) + WORDS_BELOW_PX, high;

  gtk_widget_measure (self->words, GTK_ORIENTATION_VERTICAL, width, &high, NULL, NULL, NULL);
  gtk_widget_size_allocate (self->words, &(GtkAllocation){ 0, MIN (top, height - high), width, high }, baseline);
}

static void
plumb_empty_part_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));

  plumb_style_set_source (cr, PLUMB_COLOUR_ACCENT);
  plumb_bob_draw (cr, width / 2, 0, height * BOB_SHARE);
  cairo_destroy (cr);
  GTK_WIDGET_CLASS (plumb_empty_part_parent_class)->snapshot (widget, snapshot);
}

static void
plumb_empty_part_dispose (GObject *object)
{
  PlumbEmptyPart *self = PLUMB_EMPTY_PART (object);

  g_clear_pointer (&self->words, gtk_widget_unparent);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_empty_part_parent_class)->dispose (object);
}

static void
plumb_empty_part_class_init (PlumbEmptyPartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_empty_part_dispose;
  widget_class->measure = plumb_empty_part_measure;
  widget_class->size_allocate = plumb_empty_part_size_allocate;
  widget_class->snapshot = plumb_empty_part_snapshot;
  gtk_widget_class_set_css_name (widget_class, "emptypart");
  signals[BEGUN]
      = g_signal_new ("begun", PLUMB_TYPE_EMPTY_PART, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_empty_part_init (PlumbEmptyPart *self)
{
  GtkWidget *label = gtk_label_new ("No room yet. Measure one wall first, corner to corner at the floor.");
  GtkWidget *wall = gtk_button_new_with_label ("Add the first wall");
  GtkWidget *room = gtk_button_new_with_label ("Add a four-walled room");
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (room, "accent-button");
  gtk_widget_set_halign (buttons, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (buttons), room);
  gtk_box_append (GTK_BOX (buttons), wall);
  gtk_box_append (GTK_BOX (self->words), label);
  gtk_box_append (GTK_BOX (self->words), buttons);
  gtk_widget_set_parent (self->words, GTK_WIDGET (self));
  g_signal_connect_swapped (wall, "clicked", G_CALLBACK (first_wall_cb), self);
  g_signal_connect_swapped (room, "clicked", G_CALLBACK (four_walls_cb), self);
}

GtkWidget *
plumb_empty_part_new (PlumbDocument *document)
{
  PlumbEmptyPart *self = g_object_new (PLUMB_TYPE_EMPTY_PART, NULL);

  self->document = g_object_ref (document);
  g_signal_connect_object (document, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
  return GTK_WIDGET (self);
}
