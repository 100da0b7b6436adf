/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The table of seats in a real window: order, choosing both ways, copying,
 * saving, ten thousand seats. What its cells hold is tested in tests/text and
 * tests/cli; here it is held against the evaluation that the document shows.
 * Needs a display.
 */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <time.h>

#include "app/findings-pane.h"
#include "app/seats-view.h"
#include "app/style.h"
#include "document-testing.h"

typedef struct {
  PlumbDocument *document;
  GtkWidget *window, *pane;
  PlumbSeatsView *view;
  GtkColumnView *columns;
} Shown;

static void
settle (void)
{
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

static GtkWidget *
find_widget (GtkWidget *widget, GType type, guint skip)
{
  static guint seen;

  seen = skip == G_MAXUINT ? seen : skip;
  if (g_type_is_a (G_OBJECT_TYPE (widget), type) && seen-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, type, G_MAXUINT);
      if (found != NULL)
        return found;
    }
  return NULL;
}

/* The pane with its word Seats pressed. */
static void
show (Shown *shown, const char *demo)
{
  shown->document = test_demo (demo);
  shown->window = gtk_window_new ();
  shown->pane = plumb_findings_pane_new (shown->document);
  gtk_window_set_default_size (GTK_WINDOW (shown->window), 1300, 400);
  gtk_window_set_child (GTK_WINDOW (shown->window), shown->pane);
  gtk_window_present (GTK_WINDOW (shown->window));
  gtk_test_widget_wait_for_draw (shown->pane);
  GtkWidget *word = NULL;
  for (guint i = 0; (word = find_widget (shown->pane, GTK_TYPE_TOGGLE_BUTTON, i)) != NULL; i++)
    if (g_strcmp0 (gtk_button_get_label (GTK_BUTTON (word)), "Seats") == 0)
      break;
  g_assert_nonnull (word);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (word), TRUE);
  shown->view = PLUMB_SEATS_VIEW (find_widget (shown->pane, PLUMB_TYPE_SEATS_VIEW, 0));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (shown->view));
  shown->columns = GTK_COLUMN_VIEW (find_widget (GTK_WIDGET (shown->view), GTK_TYPE_COLUMN_VIEW, 0));
}

static void
leave (Shown *shown)
{
  gpointer watched = shown->view;

  g_object_add_weak_pointer (G_OBJECT (shown->view), &watched);
  gtk_window_destroy (GTK_WINDOW (shown->window));
  settle ();
  g_assert_null (watched);
  g_assert_finalize_object (shown->document);
}

static GtkColumnViewColumn *
column_named (Shown *shown, const char *title)
{
  GListModel *columns = gtk_column_view_get_columns (shown->columns);

  for (guint i = 0; i < g_list_model_get_n_items (columns); i++)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, i);
      if (g_strcmp0 (gtk_column_view_column_get_title (column), title) == 0)
        return column;
    }
  g_assert_not_reached ();
}

/* The control of the head by its accessible name. */
static GtkWidget *
control_named (Shown *shown, const char *name)
{
  for (GtkWidget *part = gtk_widget_get_first_child (plumb_seats_view_controls (shown->view)); part != NULL;
       part = gtk_widget_get_next_sibling (part))
    {
      g_autofree char *wrong
          = gtk_test_accessible_check_property (GTK_ACCESSIBLE (part), GTK_ACCESSIBLE_PROPERTY_LABEL, name);
      if (wrong == NULL)
        return part;
    }
  g_assert_not_reached ();
}

static double
look_up (Shown *shown, uint32_t row)
{
  const PlumbEvaluation *e = plumb_document_evaluation (shown->document);

  return e->seats[plumb_seat_table_seat (plumb_seats_view_table (shown->view), row)].look_up_top_rad;
}

static void
assert_by_look_up (Shown *shown, int way)
{
  const uint32_t n = plumb_seat_table_n_rows (plumb_seats_view_table (shown->view));

  for (uint32_t row = 1; row < n; row++)
    g_assert_cmpfloat (way * (look_up (shown, row) - look_up (shown, row - 1)), >=, 0.0);
}

static void
assert_worst_first (Shown *shown)
{
  const PlumbSeatTable *table = plumb_seats_view_table (shown->view);

  g_assert_cmpint (plumb_seat_table_verdict (table, 0), ==, PLUMB_FAILS);
  for (uint32_t row = 1; row < plumb_seat_table_n_rows (table); row++)
    g_assert_cmpint (plumb_seat_table_verdict (table, row), <=, plumb_seat_table_verdict (table, row - 1));
}

/* By the head of a column, and by the keys' way in the head of the pane. */
static void
test_order (void)
{
  Shown shown;

  show (&shown, "net-loft");
  GtkDropDown *order = GTK_DROP_DOWN (control_named (&shown, "Order of the seats"));
  GtkWidget *turn = control_named (&shown, "Least first");
  g_assert_cmpuint (plumb_seat_table_n_rows (plumb_seats_view_table (shown.view)), ==, 19);
  assert_worst_first (&shown);
  g_assert_false (gtk_widget_get_sensitive (turn));

  gtk_column_view_sort_by_column (shown.columns, column_named (&shown, "up to\ntop °"), GTK_SORT_ASCENDING);
  assert_by_look_up (&shown, 1);
  g_assert_cmpstr (gtk_string_object_get_string (gtk_drop_down_get_selected_item (order)), ==, "by up to top");
  gtk_column_view_sort_by_column (shown.columns, column_named (&shown, "up to\ntop °"), GTK_SORT_DESCENDING);
  assert_by_look_up (&shown, -1);
  g_assert_true (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (turn)));
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (turn), GTK_ACCESSIBLE_PROPERTY_LABEL, "Greatest first");

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (turn), FALSE);
  assert_by_look_up (&shown, 1);
  gtk_drop_down_set_selected (order, 0);
  assert_worst_first (&shown);
  g_assert_false (gtk_widget_get_sensitive (turn));
  leave (&shown);
}

static guint
chosen_row (Shown *shown)
{
  return gtk_single_selection_get_selected (GTK_SINGLE_SELECTION (gtk_column_view_get_model (shown->columns)));
}

static void
choose (Shown *shown, guint row)
{
  gtk_selection_model_select_item (gtk_column_view_get_model (shown->columns), row, TRUE);
}

static void
test_selection (void)
{
  Shown shown;

  show (&shown, "net-loft");
  const PlumbSeatTable *table = plumb_seats_view_table (shown.view);
  g_assert_cmpuint (chosen_row (&shown), ==, GTK_INVALID_LIST_POSITION);
  choose (&shown, 5);
  const PlumbSubject wanted = plumb_seat_table_subject (table, 5), got = plumb_document_selection (shown.document);
  g_assert_true (got.kind == wanted.kind && got.index == wanted.index && got.sub == wanted.sub);

  /* Elsewhere: another seat, a place, a whole row of seats, a single seat. */
  plumb_document_select (shown.document, plumb_seat_table_subject (table, 17), -1);
  g_assert_cmpuint (chosen_row (&shown), ==, 17);
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_PLACE, 0, PLUMB_NO_INDEX }, -1);
  g_assert_cmpuint (chosen_row (&shown), ==, GTK_INVALID_LIST_POSITION);
  const PlumbSubject row1 = { PLUMB_RECORD_ROW, test_find (shown.document, PLUMB_RECORD_ROW, "row1"), PLUMB_NO_INDEX };
  plumb_document_select (shown.document, row1, -1);
  g_assert_cmpuint (plumb_seat_table_subject (table, chosen_row (&shown)).index, ==, row1.index);
  /* Of the whole row nothing narrower was made. */
  g_assert_cmpuint (plumb_document_selection (shown.document).sub, ==, PLUMB_NO_INDEX);
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_SEAT, 0, PLUMB_NO_INDEX }, -1);
  g_assert_cmpint (plumb_seat_table_subject (table, chosen_row (&shown)).kind, ==, PLUMB_RECORD_SEAT);

  /* The seat stays chosen in another order, and after an edit. */
  plumb_document_select (shown.document, wanted, -1);
  gtk_column_view_sort_by_column (shown.columns, column_named (&shown, "angle\n°"), GTK_SORT_ASCENDING);
  g_assert_cmpuint (plumb_seat_table_row (table, wanted.sub), ==, chosen_row (&shown));
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_ROW, 0, PLUMB_FIELD_row_y_m, 5.2, NULL));
  settle ();
  table = plumb_seats_view_table (shown.view);
  g_assert_cmpuint (plumb_seat_table_row (table, wanted.sub), ==, chosen_row (&shown));
  leave (&shown);
}

static void
text_read_cb (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  *(char **) data = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);
}

static void
test_out (void)
{
  Shown shown;
  char *copied = NULL, *saved = NULL;
  g_autoptr (GError) error = NULL;

  show (&shown, "music-room");
  const PlumbSeatTable *table = plumb_seats_view_table (shown.view);
  gtk_column_view_sort_by_column (shown.columns, column_named (&shown, "hidden\n%"), GTK_SORT_DESCENDING);
  plumb_seats_view_copy (shown.view);
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (shown.window), NULL, text_read_cb, &copied);
  while (copied == NULL)
    g_main_context_iteration (NULL, TRUE);
  /* A head and 49 seats, in the order shown, in inches as the job is. */
  g_auto (GStrv) lines = g_strsplit (copied, "\n", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, 51);
  g_assert_nonnull (strstr (lines[0], "least text (in)"));
  for (guint row = 0; row < 49; row++)
    {
      const PlumbWords words = { PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_TYPOGRAPHIC };
      g_autofree char *name = plumb_seat_table_text (table, row, PLUMB_SEAT_SEAT, words);
      g_assert_true (g_str_has_prefix (lines[row + 1], name));
    }

  g_autofree char *folder = g_dir_make_tmp ("plumbeam-seats-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "seats.csv", NULL), *csv = plumb_seat_table_csv (table);
  g_assert_true (plumb_seats_view_save (shown.view, path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &saved, NULL, NULL));
  g_assert_cmpstr (saved, ==, csv);
  g_unlink (path);
  g_rmdir (folder);
  g_assert_false (plumb_seats_view_save (shown.view, path, &error));
  g_assert_nonnull (error);
  g_free (copied);
  g_free (saved);
  leave (&shown);
}

/* The state's own contrast is that of the darkest seat. */
static void
assert_contrast_of (Shown *shown, uint32_t state)
{
  const PlumbSeatTable *table = plumb_seats_view_table (shown->view);
  double least = HUGE_VAL, value;

  for (uint32_t row = 0; row < plumb_seat_table_n_rows (table); row++)
    {
      g_assert_true (plumb_seat_table_number (table, row, PLUMB_SEAT_CONTRAST, &value));
      least = MIN (least, value);
    }
  g_assert_cmpfloat_with_epsilon (least, plumb_document_evaluation (shown->document)->states[state].contrast_ratio,
                                  1e-9);
}

static void
test_light (void)
{
  Shown shown;

  show (&shown, "net-loft");
  GtkDropDown *light = GTK_DROP_DOWN (control_named (&shown, "Light state"));
  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (light)), ==, 3);
  assert_contrast_of (&shown, gtk_drop_down_get_selected (light));
  gtk_drop_down_set_selected (light, 1);
  assert_contrast_of (&shown, 1);
  /* One that is chosen elsewhere. */
  plumb_document_select (shown.document, (PlumbSubject){ PLUMB_RECORD_LIGHT_STATE, 2, PLUMB_NO_INDEX }, -1);
  g_assert_cmpuint (gtk_drop_down_get_selected (light), ==, 2);
  assert_contrast_of (&shown, 2);
  leave (&shown);
}

static guint
count_rows (GtkWidget *list)
{
  guint n = 0;

  for (GtkWidget *row = gtk_widget_get_first_child (list); row != NULL; row = gtk_widget_get_next_sibling (row))
    n++;
  return n;
}

/* Rows are made for what is seen and some beyond, however many there are. */
static void
test_many (void)
{
  Shown shown;
  const int seats = 10000;

  show (&shown, "net-loft");
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_ROW, 0, PLUMB_FIELD_row_count, seats, NULL));
  settle ();
  const PlumbSeatTable *table = plumb_seats_view_table (shown.view);
  g_assert_cmpuint (plumb_seat_table_n_rows (table), ==, (guint) (19 - 6 + seats));
  GtkWidget *list = gtk_widget_get_last_child (GTK_WIDGET (shown.columns));
  g_assert_cmpuint (count_rows (list), <, 400);
  clock_t begun = clock ();
  gtk_column_view_sort_by_column (shown.columns, column_named (&shown, "up to\ntop °"), GTK_SORT_DESCENDING);
  settle ();
  g_test_message ("sorted and shown in %.0f ms of the processor", 1e3 * (double) (clock () - begun) / CLOCKS_PER_SEC);
  assert_by_look_up (&shown, -1);
  begun = clock ();
  choose (&shown, 9000);
  plumb_document_select (shown.document, plumb_seat_table_subject (table, 5000), -1);
  settle ();
  g_test_message ("chosen and shown in %.0f ms of the processor", 1e3 * (double) (clock () - begun) / CLOCKS_PER_SEC);
  g_assert_cmpuint (chosen_row (&shown), ==, 5000);
  g_assert_cmpuint (count_rows (list), <, 400);
  leave (&shown);
}

/* Every head says its unit; table and controls have names. */
static void
test_names (void)
{
  Shown shown;

  show (&shown, "net-loft");
  GListModel *columns = gtk_column_view_get_columns (shown.columns);
  for (guint i = 0; i < g_list_model_get_n_items (columns); i++)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, i);
      const char *title = gtk_column_view_column_get_title (column);
      g_assert_cmpstr (title, !=, "");
      for (int c = 0; c < PLUMB_N_SEAT_COLUMNS; c++)
        if (g_strcmp0 (title, plumb_seat_column_info ((PlumbSeatColumn) c)->heading) == 0)
          g_assert_cmpint (plumb_seat_column_info ((PlumbSeatColumn) c)->kind, ==, PLUMB_SEAT_KIND_WORD);
    }
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (shown.columns), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Table of seats, one row for each");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (shown.view), GTK_ACCESSIBLE_PROPERTY_LABEL, "Seats");
  g_assert_true (GTK_IS_DROP_DOWN (control_named (&shown, "Order of the seats")));
  g_assert_true (GTK_IS_DROP_DOWN (control_named (&shown, "Light state")));

  /* The head follows the job's units. */
  g_assert_true (plumb_document_set_number (shown.document, PLUMB_RECORD_JOB, 0, PLUMB_FIELD_job_units,
                                            PLUMB_UNITS_IMPERIAL, NULL));
  settle ();
  g_assert_nonnull (column_named (&shown, "C-value\nin"));
  leave (&shown);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  plumb_style_install (gdk_display_get_default ());
  g_test_add_func ("/seats-view/order", test_order);
  g_test_add_func ("/seats-view/selection", test_selection);
  g_test_add_func ("/seats-view/out", test_out);
  g_test_add_func ("/seats-view/light", test_light);
  g_test_add_func ("/seats-view/many", test_many);
  g_test_add_func ("/seats-view/names", test_names);
  return g_test_run ();
}
