/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The form in a real window, through the code that its rows run on Enter.
 *
 * Sources: an inch is 25.4 mm exactly (the international inch of 1959). The
 * printed offsets and their centre displacements are the table of five forms
 * in facts/viewing-and-light.md 1.3. Limits of fields are those that
 * docs/file-format.md prints. Needs a display.
 */
#include <math.h>
#include <string.h>

#include "app/form-figure.h"
#include "app/form-private.h"
#include "app/form-row.h"
#include "document-testing.h"
#include "text/length.h"

#define PICKED(record, member) PLUMB_FIELD_##record##_##member

typedef struct {
  PlumbDocument *document;
  GtkWidget *window, *form;
} Shown;

static void
settle (void)
{
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

/* Takes the document. */
static void
show (Shown *shown, PlumbDocument *document)
{
  shown->document = document;
  shown->window = gtk_window_new ();
  shown->form = plumb_form_new (document);
  gtk_window_set_default_size (GTK_WINDOW (shown->window), 328, 800);
  gtk_window_set_child (GTK_WINDOW (shown->window), shown->form);
  plumb_form_show_step (shown->form, PLUMB_STEP_ROOM);
  gtk_window_present (GTK_WINDOW (shown->window));
  gtk_test_widget_wait_for_draw (shown->form);
}

static void
leave (Shown *shown)
{
  gpointer watched = shown->form;

  g_object_add_weak_pointer (G_OBJECT (shown->form), &watched);
  gtk_window_destroy (GTK_WINDOW (shown->window));
  settle ();
  g_assert_null (watched);
  g_assert_finalize_object (shown->document);
}

static GtkWidget *
find_widget (GtkWidget *widget, GType type)
{
  if (g_type_is_a (G_OBJECT_TYPE (widget), type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, type);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static PlumbFormCell *
cell (Shown *shown, PlumbRecordKind kind, guint index, int field)
{
  PlumbFormCell *found = plumb_form_cell_of (shown->form, kind, index, field);

  g_assert_nonnull (found);
  g_assert_cmpuint (plumb_form_cell_index (found), ==, index);
  return found;
}

static PlumbFormRow *
row_of (PlumbFormCell *of)
{
  return PLUMB_FORM_ROW (gtk_widget_get_ancestor (GTK_WIDGET (of), PLUMB_TYPE_FORM_ROW));
}

static const char *
text_of (PlumbFormCell *of)
{
  return gtk_editable_get_text (GTK_EDITABLE (find_widget (GTK_WIDGET (of), GTK_TYPE_ENTRY)));
}

static void
set_text (PlumbFormCell *of, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find_widget (GTK_WIDGET (of), GTK_TYPE_ENTRY)), text);
}

static double
number_of (Shown *shown, PlumbRecordKind kind, guint index, int field)
{
  return plumb_field_number (&plumb_record_info (kind)->fields[field], test_record (shown->document, kind, index));
}

static void
assert_no_trouble (PlumbFormCell *of)
{
  g_assert_cmpstr (plumb_form_cell_trouble (of), ==, NULL);
}

/* ---- values ------------------------------------------------------------------------------- */

static void
test_lengths (void)
{
  static const struct {
    const char *demo, *typed, *shown;
    double metres;
  } cases[] = {
    { "music-room", "9' 8 1/8\"", "9\u2032\u202f8\u202f1/8\u2033", 116.125 * 25.4 / 1000.0 },
    { "music-room", "116 1/8", "9\u2032\u202f8\u202f1/8\u2033", 116.125 * 25.4 / 1000.0 },
    { "music-room", "2.54 m", "8\u2032\u202f4\u2033", 2.54 },
    { "net-loft", "2.95", "2.950", 2.95 },
    { "net-loft", "295 cm", "2.950", 2.95 },
    { "net-loft", "3.2 m + 40 mm", "3.240", 3.24 },
    { "net-loft", "9 ft 8.125 in", "2.949575", 116.125 * 25.4 / 1000.0 },
    { "net-loft", "\u22120.25", "\u22120.250", -0.25 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Shown shown;
      show (&shown, test_demo (cases[i].demo));
      PlumbFormCell *along = cell (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, along_m));
      g_assert_true (plumb_form_cell_type (along, cases[i].typed));
      assert_no_trouble (along);
      g_assert_cmpfloat_with_epsilon (number_of (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, along_m)),
                                      cases[i].metres, 1e-12);
      g_assert_cmpstr (text_of (along), ==, cases[i].shown);
      g_assert_true (plumb_form_cell_is_typed (along));
      leave (&shown);
    }
}

static void
test_numbers (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  PlumbFormCell *level = cell (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, out_of_level_rad));
  g_assert_true (plumb_form_cell_type (level, "1.5\302\260"));
  g_assert_cmpfloat_with_epsilon (
      ((const PlumbPlace *) test_record (shown.document, PLUMB_RECORD_PLACE, 0))->out_of_level_rad,
      1.5 * G_PI / 180.0, 1e-15);
  g_assert_true (plumb_form_cell_type (level, "2 deg"));
  g_assert_cmpstr (text_of (level), ==, "2.0");
  static const char *const wrong[] = { "", "two", "1e3", "0x10", "nan", "inf", "1 2 x", "--1", "21" };
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_assert_false (plumb_form_cell_type (level, wrong[i]));
      g_assert_nonnull (plumb_form_cell_trouble (level));
      g_assert_cmpfloat_with_epsilon (number_of (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, out_of_level_rad)),
                                      2.0, 1e-12);
    }
  leave (&shown);
}

static void
test_wrong_entry (void)
{
  Shown shown;
  TestSignals signals;

  show (&shown, test_demo ("net-loft"));
  PlumbFormCell *eye = cell (&shown, PLUMB_RECORD_ROW, 0, PICKED (row, eye_height_m));
  const double before = number_of (&shown, PLUMB_RECORD_ROW, 0, PICKED (row, eye_height_m));
  test_listen (shown.document, &signals);
  g_assert_false (plumb_form_cell_type (eye, "12"));
  g_assert_cmpuint (signals.changed, ==, 0);
  g_assert_cmpfloat (number_of (&shown, PLUMB_RECORD_ROW, 0, PICKED (row, eye_height_m)), ==, before);
  g_assert_cmpstr (text_of (eye), ==, "12");
  g_assert_cmpstr (plumb_form_row_note (row_of (eye)), ==, "Eye height must be at most 2.200\u202fm; 1.200 stays.");

  /* Another edit comes by: what was typed and why it is wrong stay. */
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_ROW, 0, PICKED (row, pitch_m), 0.6, NULL));
  g_assert_cmpstr (text_of (eye), ==, "12");
  g_assert_nonnull (plumb_form_cell_trouble (eye));

  set_text (eye, "a metre");
  g_assert_false (plumb_form_cell_commit (eye));
  g_assert_cmpstr (plumb_form_row_note (row_of (eye)), ==,
                   "Not a length: character 1: a number is expected; 1.200 stays.");
  plumb_form_cell_restore (eye);
  g_assert_cmpstr (text_of (eye), ==, "1.200");
  assert_no_trouble (eye);
  leave (&shown);
}

/* A refused text stays with its record while another one is shown, even if
 * that gets another id or place meanwhile; another job knows nothing of it. */
static void
test_kept_entry (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  const int field = PICKED (place, drop_m);
  PlumbFormCell *drop = cell (&shown, PLUMB_RECORD_PLACE, 0, field);
  g_assert_false (plumb_form_cell_type (drop, "200 m"));
  g_autofree char *why = g_strdup (plumb_form_cell_trouble (drop));
  cell (&shown, PLUMB_RECORD_PLACE, 1, field);
  g_assert_cmpstr (text_of (drop), !=, "200 m");
  assert_no_trouble (drop);
  cell (&shown, PLUMB_RECORD_PLACE, 0, field);
  g_assert_cmpstr (text_of (drop), ==, "200 m");
  g_assert_cmpstr (plumb_form_cell_trouble (drop), ==, why);

  /* Renamed while it is shown, and moved while it is not. */
  g_assert_true (plumb_document_rename (shown.document, PLUMB_RECORD_PLACE, 0, "other", NULL));
  g_assert_cmpstr (text_of (drop), ==, "200 m");
  cell (&shown, PLUMB_RECORD_PLACE, 1, field);
  g_assert_true (plumb_document_rename (shown.document, PLUMB_RECORD_PLACE, 0, "another", NULL));
  g_assert_true (plumb_document_move (shown.document, PLUMB_RECORD_PLACE, 0, 1, NULL));
  cell (&shown, PLUMB_RECORD_PLACE, 0, field);
  assert_no_trouble (drop);
  cell (&shown, PLUMB_RECORD_PLACE, 1, field);
  g_assert_cmpstr (text_of (drop), ==, "200 m");
  g_assert_nonnull (plumb_form_cell_trouble (drop));
  plumb_form_cell_restore (drop);
  cell (&shown, PLUMB_RECORD_PLACE, 0, field);
  cell (&shown, PLUMB_RECORD_PLACE, 1, field);
  assert_no_trouble (drop);

  g_assert_false (plumb_form_cell_type (drop, "high"));
  cell (&shown, PLUMB_RECORD_PLACE, 0, field);
  plumb_document_clear (shown.document);
  for (int i = 0; i < 2; i++)
    plumb_document_add (shown.document, PLUMB_RECORD_PLACE, PLUMB_NO_INDEX, PLUMB_NO_INDEX, NULL);
  g_assert_true (plumb_document_rename (shown.document, PLUMB_RECORD_PLACE, 1, "another", NULL));
  assert_no_trouble (cell (&shown, PLUMB_RECORD_PLACE, 1, field));
  leave (&shown);
}

/* A new record refers to the one screen, machine, lens and place there is, in
 * the same step; where there are two, the choice is left. */
static void
test_only_one (void)
{
  Shown shown;
  static const PlumbRecordKind kinds[]
      = { PLUMB_RECORD_SPACE, PLUMB_RECORD_WALL, PLUMB_RECORD_SCREEN, PLUMB_RECORD_MACHINE,
          PLUMB_RECORD_LENS,  PLUMB_RECORD_LENS, PLUMB_RECORD_PLACE,  PLUMB_RECORD_ARRANGEMENT };

  show (&shown, plumb_document_new ());
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpuint (plumb_form_section_add (plumb_form_section_of (shown.form, kinds[i])), !=, PLUMB_NO_INDEX);
  const PlumbWall *wall = test_record (shown.document, PLUMB_RECORD_WALL, 0);
  const PlumbScreen *screen = test_record (shown.document, PLUMB_RECORD_SCREEN, 0);
  const PlumbArrangement *arrangement = test_record (shown.document, PLUMB_RECORD_ARRANGEMENT, 0);
  g_assert_cmpstr (wall->space, ==, "space-1");
  g_assert_cmpstr (screen->wall, ==, "wall-1");
  g_assert_cmpstr (arrangement->screen, ==, "screen-1");
  g_assert_cmpstr (arrangement->machine, ==, "machine-1");
  g_assert_cmpstr (arrangement->lens, ==, "");
  g_assert_cmpstr (arrangement->place, ==, "place-1");
  g_assert_cmpstr (arrangement->mount, ==, "");
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_true (plumb_document_undo (shown.document));
  g_assert_false (plumb_document_undo (shown.document));
  leave (&shown);
}

/* Shown to the nearest sixteenth, the 3 mm that are assumed of a tape read
 * 1/8"; typed, that is 3.175 mm. */
static void
test_typed_like_shown (void)
{
  Shown shown;

  show (&shown, test_demo ("music-room"));
  PlumbFormCell *error = cell (&shown, PLUMB_RECORD_TAPE, 0, PICKED (tape, error_m));
  g_assert_true (plumb_form_cell_reset (error));
  g_assert_cmpstr (text_of (error), ==, "1/8\u2033");
  g_assert_true (plumb_form_cell_confirm (error));
  g_assert_cmpfloat_with_epsilon (number_of (&shown, PLUMB_RECORD_TAPE, 0, PICKED (tape, error_m)), 3.0, 1e-12);
  g_assert_true (plumb_form_cell_reset (error));
  set_text (error, "1/8\u2033");
  g_assert_true (plumb_form_cell_commit (error));
  g_assert_true (plumb_form_cell_is_typed (error));
  g_assert_cmpfloat_with_epsilon (number_of (&shown, PLUMB_RECORD_TAPE, 0, PICKED (tape, error_m)), 25.4 / 8.0,
                                  1e-12);
  leave (&shown);
}

/* A half-typed text outlives edits, and Escape then brings the newest value. */
static void
test_half_typed (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  PlumbFormCell *drop = cell (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, drop_m));
  set_text (drop, "0.2");
  g_assert_true (
      plumb_document_set_number (shown.document, PLUMB_RECORD_PLACE, 0, PICKED (place, drop_m), 0.3, NULL));
  g_assert_cmpstr (text_of (drop), ==, "0.2");
  plumb_form_cell_restore (drop);
  g_assert_cmpstr (text_of (drop), ==, "0.300");
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_cmpstr (text_of (drop), ==, "0.110");
  leave (&shown);
}

static void
test_assumed (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  PlumbFormCell *level = cell (&shown, PLUMB_RECORD_PLACE, 0, PICKED (place, out_of_level_rad));
  g_assert_false (plumb_form_cell_is_typed (level));
  g_assert_cmpstr (plumb_form_row_note (row_of (level)), ==, "assumed until measured");
  /* Leaving without touching it does not make it measured, Enter does. */
  g_assert_true (plumb_form_cell_commit (level));
  g_assert_false (plumb_form_cell_is_typed (level));
  g_assert_true (plumb_form_cell_confirm (level));
  g_assert_true (plumb_form_cell_is_typed (level));
  g_assert_cmpstr (plumb_form_row_note (row_of (level)), ==, "");
  g_assert_true (plumb_form_cell_type (level, "3"));
  g_assert_true (plumb_form_cell_reset (level));
  g_assert_false (plumb_form_cell_is_typed (level));
  g_assert_cmpstr (text_of (level), ==, "0.5");
  leave (&shown);
}

static void
test_hidden (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  PlumbFormCell *support = cell (&shown, PLUMB_RECORD_SCREEN, 0, PICKED (screen, support));
  PlumbFormCell *across = cell (&shown, PLUMB_RECORD_SCREEN, 0, PICKED (screen, across_m));
  PlumbFormCell *facing = cell (&shown, PLUMB_RECORD_SCREEN, 0, PICKED (screen, facing_rad));
  const double before = number_of (&shown, PLUMB_RECORD_SCREEN, 0, PICKED (screen, across_m));

  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (row_of (across))));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (row_of (facing))));
  g_assert_false (plumb_form_focus_field (shown.form, PLUMB_RECORD_SCREEN, 0, PICKED (screen, facing_rad)));
  g_assert_true (plumb_form_cell_type (support, "standing free"));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (row_of (across))));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (row_of (facing))));
  g_assert_true (plumb_form_cell_type (support, "on a wall"));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (row_of (across))));
  g_assert_cmpfloat (number_of (&shown, PLUMB_RECORD_SCREEN, 0, PICKED (screen, across_m)), ==, before);
  g_assert_true (plumb_form_cell_is_typed (across));
  leave (&shown);
}

/* ---- records -------------------------------------------------------------------------------- */

/* Add, copy, up, down and remove of every kind, and all of them undone. */
static void
test_records (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  g_autofree char *before = test_text (shown.document);
  for (int k = PLUMB_RECORD_JOB + 1; k < PLUMB_N_RECORDS; k++)
    {
      const PlumbRecordKind kind = (PlumbRecordKind) k, parent = plumb_record_info (kind)->parent;
      const guint count = test_count (shown.document, kind);
      PlumbFormSection *section = plumb_form_section_of (shown.form, parent != PLUMB_RECORD_NONE ? parent : kind);
      g_assert_true (plumb_form_section_show_record (section, parent != PLUMB_RECORD_NONE ? parent : kind, 0, -1));
      section = plumb_form_section_find (section, kind);
      g_assert_nonnull (section);
      const guint added = plumb_form_section_add (section);
      g_assert_cmpuint (added, !=, PLUMB_NO_INDEX);
      g_assert_cmpuint (plumb_form_section_current (section), ==, added);
      const guint copied = plumb_form_section_copy (section);
      g_assert_cmpuint (copied, ==, added + 1);
      g_assert_cmpuint (test_count (shown.document, kind), ==, count + 2);
      g_assert_true (plumb_form_section_move (section, -1));
      g_assert_cmpuint (plumb_form_section_current (section), ==, added);
      g_assert_true (plumb_form_section_move (section, 1));
      g_assert_cmpuint (plumb_form_section_current (section), ==, copied);
      g_assert_true (plumb_form_section_remove (section));
      g_assert_cmpuint (test_count (shown.document, kind), ==, count + 1);
      test_assert_sound (shown.document);
      /* Added, copied, moved twice, removed. */
      for (int step = 0; step < 5; step++)
        g_assert_true (plumb_document_undo (shown.document));
      g_assert_cmpuint (test_count (shown.document, kind), ==, count);
    }
  g_autofree char *after = test_text (shown.document);
  g_assert_cmpstr (after, ==, before);
  leave (&shown);
}

/* Enter in the last cell of a table adds a row, in any other it does not. */
static void
test_more_rows (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  const guint count = test_count (shown.document, PLUMB_RECORD_SEAT);
  PlumbFormCell *x = cell (&shown, PLUMB_RECORD_SEAT, count - 1, PICKED (seat, x_m));
  PlumbFormCell *y = cell (&shown, PLUMB_RECORD_SEAT, count - 1, PICKED (seat, y_m));
  g_signal_emit_by_name (find_widget (GTK_WIDGET (x), GTK_TYPE_ENTRY), "activate");
  g_assert_cmpuint (test_count (shown.document, PLUMB_RECORD_SEAT), ==, count);
  set_text (y, "nowhere");
  g_signal_emit_by_name (find_widget (GTK_WIDGET (y), GTK_TYPE_ENTRY), "activate");
  g_assert_cmpuint (test_count (shown.document, PLUMB_RECORD_SEAT), ==, count);
  set_text (y, "4.4");
  g_signal_emit_by_name (find_widget (GTK_WIDGET (y), GTK_TYPE_ENTRY), "activate");
  g_assert_cmpuint (test_count (shown.document, PLUMB_RECORD_SEAT), ==, count + 1);
  leave (&shown);
}

/* A hundred seats more: a table shows a part and turns to any of them. */
static void
test_many (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  for (int i = 0; i < 100; i++)
    g_assert_cmpuint (plumb_document_add (shown.document, PLUMB_RECORD_SEAT, 0, PLUMB_NO_INDEX, NULL), !=,
                      PLUMB_NO_INDEX);
  const guint last = test_count (shown.document, PLUMB_RECORD_SEAT) - 1;
  g_assert_true (plumb_form_cell_type (cell (&shown, PLUMB_RECORD_SEAT, last, PICKED (seat, x_m)), "1.25"));
  g_assert_cmpfloat (number_of (&shown, PLUMB_RECORD_SEAT, last, PICKED (seat, x_m)), ==, 1.25);
  g_assert_true (plumb_form_cell_type (cell (&shown, PLUMB_RECORD_SEAT, 0, PICKED (seat, x_m)), "1.5"));
  g_assert_cmpfloat (number_of (&shown, PLUMB_RECORD_SEAT, 0, PICKED (seat, x_m)), ==, 1.5);
  /* As the keys up and down walk, without a selection. */
  PlumbFormCell *far_cell
      = plumb_form_section_cell (plumb_form_section_of (shown.form, PLUMB_RECORD_SEAT), last, PICKED (seat, y_m));
  g_assert_nonnull (far_cell);
  g_assert_cmpuint (plumb_form_cell_index (far_cell), ==, last);
  leave (&shown);
}

/* ---- selection ---------------------------------------------------------------------------------- */

static void
test_selected (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  const guint c = test_find (shown.document, PLUMB_RECORD_PLACE, "c");
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_PLACE, c, PLUMB_NO_INDEX }, -1);
  PlumbFormSection *places = plumb_form_section_of (shown.form, PLUMB_RECORD_PLACE);
  g_assert_cmpuint (plumb_form_section_current (places), ==, c);
  /* The same record stays shown while others come and go before it, also when
   * something else is selected. */
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_ARRANGEMENT, 0, PLUMB_NO_INDEX }, -1);
  g_assert_true (plumb_document_remove (shown.document, PLUMB_RECORD_PLACE, 1, NULL));
  g_assert_cmpuint (plumb_form_section_current (places), ==, c - 1);
  g_assert_true (plumb_document_undo (shown.document));
  g_assert_cmpuint (plumb_form_section_current (places), ==, c);

  g_assert_true (plumb_form_focus_field (shown.form, PLUMB_RECORD_WALL, 2, PICKED (wall, thickness_m)));
  g_assert_cmpint (plumb_document_selection (shown.document).kind, ==, PLUMB_RECORD_WALL);
  g_assert_cmpuint (plumb_document_selection (shown.document).index, ==, 2);
  g_assert_false (plumb_form_focus_field (shown.form, PLUMB_RECORD_WALL, 5000, 0));
  g_assert_false (plumb_form_focus_field (shown.form, PLUMB_RECORD_NONE, 0, 0));
  g_assert_false (plumb_form_focus_field (shown.form, PLUMB_RECORD_WALL, 0, 500));
  leave (&shown);
}

/* Tab and Shift+Tab walk the fields one by one, drop-downs too. */
static void
test_tab (void)
{
  static const int order[]
      = { PICKED (place, id), PICKED (place, label), PICKED (place, space), PICKED (place, carried) };
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  g_assert_true (plumb_form_focus_field (shown.form, PLUMB_RECORD_PLACE, 0, order[0]));
  for (gsize i = 1; i < G_N_ELEMENTS (order); i++)
    {
      g_assert_true (gtk_widget_child_focus (shown.window, GTK_DIR_TAB_FORWARD));
      g_assert_cmpint (plumb_document_selected_field (shown.document), ==, order[i]);
    }
  for (gsize i = G_N_ELEMENTS (order) - 1; i > 0; i--)
    {
      g_assert_true (gtk_widget_child_focus (shown.window, GTK_DIR_TAB_BACKWARD));
      g_assert_cmpint (plumb_document_selected_field (shown.document), ==, order[i - 1]);
    }
  leave (&shown);
}

/* ---- figures among the fields ---------------------------------------------------------------------- */

static PlumbFormFigure *
find_figure (GtkWidget *widget, const char *label)
{
  if (PLUMB_IS_FORM_FIGURE (widget))
    return strcmp (plumb_form_figure_label (PLUMB_FORM_FIGURE (widget)), label) == 0 ? PLUMB_FORM_FIGURE (widget)
                                                                                     : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      PlumbFormFigure *found = find_figure (child, label);
      if (found != NULL)
        return found;
    }
  return NULL;
}

/* The five printed forms, facts/viewing-and-light.md 1.3. */
static void
test_offsets (void)
{
  static const struct {
    const char *form, *printed, *below, *shown;
  } cases[] = {
    { "axis to far edge, 50 % is centred", "115", NULL, "65.0" },
    { "in half heights, 100 % is edge on axis", "100", NULL, "50.0" },
    { "in full heights, 50 % is edge on axis", "60", NULL, "60.0" },
    { "gap from axis to near edge", "15 %", NULL, "65.0" },
    { "parts above : below the axis", "9", "1", "40.0" },
    { "parts above : below the axis", "10", "\u22121", "61.1" },
  };
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const gboolean parts = cases[i].below != NULL;
      g_assert_true (
          plumb_form_cell_type (cell (&shown, PLUMB_RECORD_LENS, 0, PICKED (lens, offset_form)), cases[i].form));
      g_assert_true (
          plumb_form_cell_type (cell (&shown, PLUMB_RECORD_LENS, 0,
                                      parts ? PICKED (lens, offset_above_ratio) : PICKED (lens, offset_share)),
                                cases[i].printed));
      if (parts)
        g_assert_true (plumb_form_cell_type (cell (&shown, PLUMB_RECORD_LENS, 0, PICKED (lens, offset_below_ratio)),
                                             cases[i].below));
      PlumbFormFigure *figure = find_figure (shown.form, "Picture's centre off the axis");
      g_assert_cmpstr (plumb_form_figure_shown (figure), ==, cases[i].shown);
    }
  leave (&shown);
}

/* What was solved stands as a figure, and as a field once it is typed. */
static void
test_solved (void)
{
  Shown shown;

  show (&shown, test_demo ("net-loft"));
  const guint shown_now = plumb_document_arrangement (shown.document);
  PlumbFormCell *zoom = cell (&shown, PLUMB_RECORD_ARRANGEMENT, shown_now, PICKED (arrangement, zoom));
  PlumbFormCell *typed = cell (&shown, PLUMB_RECORD_ARRANGEMENT, shown_now, PICKED (arrangement, throw_ratio));
  PlumbFormFigure *solved = find_figure (shown.form, "Throw ratio");
  g_autofree char *wanted = g_strdup_printf (
      "%.2f", plumb_document_evaluation (shown.document)->figures[PLUMB_FIGURE_throw_ratio].value[0]);

  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (solved)));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (row_of (typed))));
  g_assert_cmpstr (plumb_form_figure_shown (solved), ==, wanted);
  g_assert_true (plumb_form_cell_type (zoom, "as typed"));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (solved)));
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (row_of (typed))));
  leave (&shown);
}

/* ---- names ------------------------------------------------------------------------------------------ */

static guint
assert_named (GtkWidget *widget)
{
  guint count = 0;

  if (gtk_widget_has_css_class (widget, "field"))
    {
      g_assert_true (gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY));
      return 1;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    count += assert_named (child);
  return count;
}

static void
test_names (void)
{
  Shown shown;
  guint fields = 0, wanted = 0;

  show (&shown, test_demo ("net-loft"));
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    if (plumb_record_info ((PlumbRecordKind) k)->parent == PLUMB_RECORD_NONE)
      {
        const PlumbRecordKind kind = (PlumbRecordKind) k;
        /* Unfolds it. */
        g_assert_true (plumb_form_section_show_record (plumb_form_section_of (shown.form, kind), kind, 0, -1));
        wanted += (guint) plumb_record_info (kind)->n_fields;
      }
  for (int step = 0; step <= PLUMB_STEP_PAPERS; step++)
    fields += assert_named (GTK_WIDGET (plumb_form_page_of (shown.form, (PlumbStep) step)));
  /* Every field of every kind, and more where tables show several records. */
  g_assert_cmpuint (fields, >, wanted);
  leave (&shown);
}

/* ---- from nothing ------------------------------------------------------------------------------------ */

/* A value as somebody types it: feet and inches where they hold it, else a
 * number with its unit. */
static char *
typed_text (const PlumbField *field, const void *record, gboolean imperial)
{
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    return g_strdup (plumb_field_text (field, record));
  const double value = test_typed_number (field, record);
  if (field->type == PLUMB_TYPE_FLAG)
    return g_strdup (value > 0.5 ? "true" : "false");
  if (field->type == PLUMB_TYPE_CHOICE)
    return g_strdup (field->choices[(int) value].label);
  g_autofree char *number = plumb_number_shortest (value);
  if (field->quantity != PLUMB_QUANTITY_M && field->quantity != PLUMB_QUANTITY_MM)
    return g_steal_pointer (&number);
  const double metres = value * plumb_quantity_factor (field->quantity);
  const double sixteenths = metres / 0.0254 * 16.0;
  if (imperial && fabs (sixteenths - nearbyint (sixteenths)) < 1e-9)
    return plumb_length_format (metres, PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_TYPOGRAPHIC);
  return g_strdup_printf ("%s %s", number, plumb_quantity_unit (field->quantity));
}

static void
type_field (Shown *shown, PlumbRecordKind kind, guint index, int field, const void *like, gboolean imperial)
{
  const PlumbField *of = &plumb_record_info (kind)->fields[field];
  const gboolean typed = (((const PlumbRecordHead *) like)->typed >> field & 1u) != 0;
  PlumbFormCell *at = cell (shown, kind, index, field);

  if (!typed)
    {
      /* A new part of the building was given its space. */
      if (plumb_form_cell_is_typed (at))
        g_assert_true (plumb_form_cell_reset (at));
      return;
    }
  g_autofree char *text = typed_text (of, like, imperial);
  if (!plumb_form_cell_type (at, text))
    g_error ("%s.%s: \"%s\": %s", plumb_record_info (kind)->key, of->key, text, plumb_form_cell_trouble (at));
}

static void
add_records (Shown *shown, const PlumbScene *like, PlumbRecordKind kind)
{
  const PlumbRecordKind parent = plumb_record_info (kind)->parent;
  const guint count = plumb_kind_count (like, kind);

  for (guint i = 0; i < count; i++)
    {
      PlumbFormSection *section = plumb_form_section_of (shown->form, parent != PLUMB_RECORD_NONE ? parent : kind);
      if (parent != PLUMB_RECORD_NONE)
        {
          g_assert_true (plumb_form_section_show_record (section, parent, plumb_record_owner (like, kind, i), -1));
          section = plumb_form_section_find (section, kind);
          /* Behind the last one of its owner. */
          if (i > 0 && plumb_record_owner (like, kind, i - 1) == plumb_record_owner (like, kind, i))
            g_assert_true (plumb_form_section_show_record (section, kind, i - 1, -1));
        }
      g_assert_cmpuint (plumb_form_section_add (section), ==, i);
      if (plumb_kind_has_id (kind))
        g_assert_true (plumb_form_cell_type (cell (shown, kind, i, 0),
                                             plumb_record_id (kind, plumb_scene_record (like, kind, i))));
    }
}

/* Everything that the file says is typed into an empty job; the file that
 * comes out is the same to the byte. */
static void
test_from_nothing (gconstpointer demo)
{
  Shown shown;
  g_autoptr (PlumbDocument) model = test_demo (demo);
  const PlumbScene *like = plumb_document_scene (model);
  const gboolean imperial = plumb_scene_job (like, 0)->units == PLUMB_UNITS_IMPERIAL;
  guint typed = 0;

  show (&shown, plumb_document_new ());
  g_assert_true (plumb_form_cell_type (cell (&shown, PLUMB_RECORD_JOB, 0, PICKED (job, units)),
                                       imperial ? "feet and inches" : "metres"));
  for (int k = PLUMB_RECORD_JOB + 1; k < PLUMB_N_RECORDS; k++)
    add_records (&shown, like, (PlumbRecordKind) k);
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    for (guint i = 0; i < plumb_kind_count (like, (PlumbRecordKind) k); i++)
      for (int field = 0; field < plumb_record_info ((PlumbRecordKind) k)->n_fields; field++)
        {
          type_field (&shown, (PlumbRecordKind) k, i, field, plumb_scene_record (like, (PlumbRecordKind) k, i),
                      imperial);
          typed++;
        }
  g_test_message ("%u fields gone through", typed);

  g_autofree char *inner = g_strdup_printf ("data/demo/%s.plumbeam", (const char *) demo);
  g_autofree char *path = test_source_path (inner);
  g_autofree char *wanted = NULL, *text = test_text (shown.document);
  g_assert_true (g_file_get_contents (path, &wanted, NULL, NULL));
  g_assert_cmpstr (text, ==, wanted);
  leave (&shown);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/form/lengths", test_lengths);
  g_test_add_func ("/form/numbers", test_numbers);
  g_test_add_func ("/form/wrong-entry", test_wrong_entry);
  g_test_add_func ("/form/kept-entry", test_kept_entry);
  g_test_add_func ("/form/only-one", test_only_one);
  g_test_add_func ("/form/typed-like-shown", test_typed_like_shown);
  g_test_add_func ("/form/half-typed", test_half_typed);
  g_test_add_func ("/form/assumed", test_assumed);
  g_test_add_func ("/form/hidden", test_hidden);
  g_test_add_func ("/form/records", test_records);
  g_test_add_func ("/form/more-rows", test_more_rows);
  g_test_add_func ("/form/many", test_many);
  g_test_add_func ("/form/selected", test_selected);
  g_test_add_func ("/form/tab", test_tab);
  g_test_add_func ("/form/offsets", test_offsets);
  g_test_add_func ("/form/solved", test_solved);
  g_test_add_func ("/form/names", test_names);
  g_test_add_data_func ("/form/from-nothing/net-loft", "net-loft", test_from_nothing);
  g_test_add_data_func ("/form/from-nothing/music-room", "music-room", test_from_nothing);
  return g_test_run ();
}
