/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Papers out of the window: into a PDF, or to a printer. */
#include "app/app-private.h"

#include "draw/sheets.h"

/* The job as it was when the papers were asked for: edits go on meanwhile. */
typedef struct {
  PlumbApp *app;
  const PlumbScene *scene;
  PlumbEvaluation *evaluation;
  PlumbPaper paper;
  PlumbSheetSet *set;
} Papers;

static void
papers_free (gpointer data)
{
  Papers *papers = data;

  plumb_sheet_set_free (papers->set);
  plumb_evaluation_free (papers->evaluation);
  plumb_scene_unref (papers->scene);
  g_free (papers);
}

static void
papers_free_cb (gpointer data, GClosure *closure)
{
  (void) closure;
  papers_free (data);
}

/* NULL, and said so, when there is no memory. */
static Papers *
papers_new (PlumbApp *app, unsigned which)
{
  Papers *papers = g_new0 (Papers, 1);

  papers->app = app;
  papers->scene = plumb_scene_ref (plumb_document_scene (app->document));
  papers->paper
      = plumb_scene_job (papers->scene, 0)->units == PLUMB_UNITS_IMPERIAL ? PLUMB_PAPER_LETTER : PLUMB_PAPER_A4;
  if (plumb_evaluate (papers->scene, plumb_document_arrangement (app->document), &papers->evaluation))
    {
      papers->set = plumb_sheet_set_new (papers->scene, papers->evaluation, which, papers->paper);
      return papers;
    }
  plumb_app_say (app, "The sheets could not be drawn.", "There is not enough memory.", "The job is as it was.");
  plumb_scene_unref (papers->scene);
  g_free (papers);
  return NULL;
}

/* ---- into a file -------------------------------------------------------------------- */

static void
answered_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  Papers *papers = data;
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
  if (file != NULL)
    path = g_file_get_path (file);
  if (path != NULL && !plumb_sheet_set_export (papers->set, path, &error))
    plumb_app_say (papers->app, "The sheets could not be written.", error->message, "The job is as it was.");
  /* The last: dropping the chooser frees the papers. */
  g_clear_object (&papers->app->chooser);
}

static void export(PlumbApp *app, unsigned which, const char *title, const char *name)
{
  if (app->chooser != NULL)
    return;
  Papers *papers = papers_new (app, which);
  if (papers == NULL)
    return;
  app->chooser
      = gtk_file_chooser_native_new (title, GTK_WINDOW (app->window), GTK_FILE_CHOOSER_ACTION_SAVE, "_Save", NULL);
  g_autoptr (GtkFileFilter) pdf = gtk_file_filter_new ();
  gtk_file_filter_set_name (pdf, "PDF");
  gtk_file_filter_add_pattern (pdf, "*.pdf");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (app->chooser), pdf);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (app->chooser), name);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (app->chooser), TRUE);
  g_signal_connect_data (app->chooser, "response", G_CALLBACK (answered_cb), papers, papers_free_cb, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (app->chooser));
}

static void
survey_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  export(data, PLUMB_PAPERS_SURVEY, "Save the survey sheet as", "survey.pdf");
}

static void
sheets_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) action, (void) value;
  export(data, PLUMB_PAPERS_ALL, "Save all sheets as", "sheets.pdf");
}

/* ---- to a printer --------------------------------------------------------------------- */

/* A page lies where the sheet does. */
static void
page_setup_cb (GtkPrintOperation *print, GtkPrintContext *context, int page, GtkPageSetup *setup, gpointer data)
{
  Papers *papers = data;
  double width, height;

  (void) print, (void) context;
  plumb_sheet_set_page_size (papers->set, (unsigned) page, &width, &height);
  gtk_page_setup_set_orientation (setup,
                                  width > height ? GTK_PAGE_ORIENTATION_LANDSCAPE : GTK_PAGE_ORIENTATION_PORTRAIT);
}

static void
draw_page_cb (GtkPrintOperation *print, GtkPrintContext *context, int page, gpointer data)
{
  (void) print;
  plumb_sheet_set_draw_page (gtk_print_context_get_cairo_context (context), ((Papers *) data)->set, (unsigned) page);
}

static void
print_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbApp *app = data;
  Papers *papers = papers_new (app, PLUMB_PAPERS_ALL);

  (void) action, (void) value;
  if (papers == NULL)
    return;
  g_autoptr (GtkPrintOperation) print = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *size
      = gtk_paper_size_new (papers->paper == PLUMB_PAPER_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  g_autoptr (GError) error = NULL;

  gtk_page_setup_set_paper_size (setup, size);
  gtk_paper_size_free (size);
  gtk_print_operation_set_default_page_setup (print, setup);
  gtk_print_operation_set_n_pages (print, (int) plumb_sheet_set_n_pages (papers->set));
  gtk_print_operation_set_use_full_page (print, TRUE);
  gtk_print_operation_set_unit (print, GTK_UNIT_POINTS);
  gtk_print_operation_set_job_name (print, plumb_scene_job (papers->scene, 0)->title);
  g_signal_connect (print, "request-page-setup", G_CALLBACK (page_setup_cb), papers);
  g_signal_connect_data (print, "draw-page", G_CALLBACK (draw_page_cb), papers, papers_free_cb, 0);
  if (gtk_print_operation_run (print, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (app->window), &error)
      == GTK_PRINT_OPERATION_RESULT_ERROR)
    plumb_app_say (app, "The sheets could not be printed.", error->message, "The job is as it was.");
}

static const GActionEntry entries[] = {
  { .name = "survey", .activate = survey_cb },
  { .name = "sheets", .activate = sheets_cb },
  { .name = "print", .activate = print_cb },
};

void
plumb_app_add_sheet_actions (PlumbApp *app)
{
  g_action_map_add_action_entries (G_ACTION_MAP (app->application), entries, G_N_ELEMENTS (entries), app);
}
