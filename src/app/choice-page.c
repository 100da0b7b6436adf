/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choice-page.h"

#include "style.h"
#include "trial-item.h"
#include "trial-work.h"
#include "width-bin.h"

/* Changes that come closer together than this are tried as one, ms. */
#define SETTLE_MS 150
#define LOOK_MS 50
/* Work that is done sooner needs no line that says how far it is, looks. */
#define QUICK_LOOKS 4
/* Below this width one column says all in words, px. */
#define NARROW_PX 720

#define PLUMB_TYPE_CHOICE_PAGE (plumb_choice_page_get_type ())
G_DECLARE_FINAL_TYPE (PlumbChoicePage, plumb_choice_page, PLUMB, CHOICE_PAGE, GtkBox)

struct _PlumbChoicePage {
  GtkBox parent_instance;

  GtkLabel *about, *how_far, *reason;
  GtkWidget *busy, *stop, *take;
  GtkProgressBar *progress;
  GtkStack *body;
  GtkDropDown *order;
  GtkColumnView *table;
  GtkColumnViewColumn *column[PLUMB_N_TRIAL_COLUMNS];
  GtkColumnViewColumn *what; /* machine, lens, place and reason in one, where there is no room */

  PlumbDocument *document;
  GListStore *store; /* of PlumbTrialItem */
  GtkSortListModel *sorted;
  GtkSingleSelection *selection;
  PlumbScene *tried; /* that the lines belong to */
  guint tried_arrangement;
  PlumbTrialWork *work; /* NULL: none under way */
  PlumbScene *trying;
  guint trying_arrangement;
  guint later, looking, looks;
};

G_DEFINE_FINAL_TYPE (PlumbChoicePage, plumb_choice_page, GTK_TYPE_BOX)

/* Least width at which a column is shown, px: those that matter least go
 * first. Names are cut at their end, figures never. */
static const struct {
  const char *title;
  int from_px;
  gboolean number;
} columns[PLUMB_N_TRIAL_COLUMNS] = {
  [PLUMB_TRIAL_VERDICT] = { "verdict", 0, FALSE },   [PLUMB_TRIAL_MACHINE] = { "machine", NARROW_PX, FALSE },
  [PLUMB_TRIAL_LENS] = { "lens", NARROW_PX, FALSE }, [PLUMB_TRIAL_PLACE] = { "place", NARROW_PX, FALSE },
  [PLUMB_TRIAL_PICTURE] = { "picture", 1710, TRUE }, [PLUMB_TRIAL_ZOOM] = { "zoom", 860, TRUE },
  [PLUMB_TRIAL_SHIFT] = { "shift", 1540, TRUE },     [PLUMB_TRIAL_LEFT] = { "left", 1130, TRUE },
  [PLUMB_TRIAL_TILT] = { "tilt", 1050, TRUE },       [PLUMB_TRIAL_KEYSTONE] = { "keystone", 1370, TRUE },
  [PLUMB_TRIAL_PIXELS] = { "pixels", 940, TRUE },    [PLUMB_TRIAL_AIR] = { "air", 1280, TRUE },
  [PLUMB_TRIAL_CABLE] = { "cable", 1280, TRUE },     [PLUMB_TRIAL_REASON] = { "why", NARROW_PX, FALSE },
};

/* ---- the chosen line ---------------------------------------------------------------- */

static gboolean
is_current (PlumbChoicePage *self)
{
  return self->tried == plumb_document_scene (self->document)
         && self->tried_arrangement == plumb_document_arrangement (self->document);
}

static void
show_choice (PlumbChoicePage *self)
{
  PlumbTrialItem *item = gtk_single_selection_get_selected_item (self->selection);

  /* The lines hold indices: after an edit they may be those of other records. */
  gtk_widget_set_sensitive (self->take, item != NULL && is_current (self));
  if (item == NULL)
    {
      gtk_label_set_text (self->reason, "Choose a line to make an arrangement of it.");
      return;
    }
  g_autofree char *text = g_strdup_printf ("%s, %s, %s: %s", plumb_trial_item_text (item, PLUMB_TRIAL_MACHINE),
                                           plumb_trial_item_text (item, PLUMB_TRIAL_LENS),
                                           plumb_trial_item_text (item, PLUMB_TRIAL_PLACE),
                                           plumb_trial_item_text (item, PLUMB_TRIAL_REASON));
  gtk_label_set_text (self->reason, text);
}

static void
take (PlumbChoicePage *self)
{
  PlumbTrialItem *item = gtk_single_selection_get_selected_item (self->selection);
  g_autoptr (GError) error = NULL;

  if (item == NULL || !is_current (self))
    return;
  if (!plumb_document_take_trial (self->document, plumb_trial_item_line (item), &error))
    gtk_label_set_text (self->reason, error->message);
}

static void
activated (PlumbChoicePage *self, guint position)
{
  gtk_single_selection_set_selected (self->selection, position);
  take (self);
}

/* ---- the work ------------------------------------------------------------------------- */

static void
show_about (PlumbChoicePage *self, gboolean complete)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  const guint arrangement = plumb_document_arrangement (self->document);
  const guint n = g_list_model_get_n_items (G_LIST_MODEL (self->store));
  g_autofree char *as = plumb_record_name (scene, PLUMB_RECORD_ARRANGEMENT, arrangement);
  g_autofree char *text = NULL;

  if (complete && n == plumb_lens_trial_count (scene))
    text = g_strdup_printf ("Every machine and lens at every place, for the screen of %s.", as);
  else
    text = g_strdup_printf ("%u of %u lines, for the screen of %s. %s", n, plumb_lens_trial_count (scene), as,
                            complete ? "More than this table takes." : "Stopped.");
  gtk_label_set_text (self->about, text);
}

static gboolean
same_line (const PlumbTrialLine *a, const PlumbTrialLine *b)
{
  return a->machine == b->machine && a->lens == b->lens && a->place == b->place;
}

static void
choose_again (PlumbChoicePage *self, const PlumbTrialLine *chosen)
{
  GListModel *model = G_LIST_MODEL (self->sorted);

  for (guint i = 0; i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (PlumbTrialItem) item = g_list_model_get_item (model, i);
      if (same_line (plumb_trial_item_line (item), chosen))
        {
          gtk_single_selection_set_selected (self->selection, i);
          return;
        }
    }
}

static void
show_lines (PlumbChoicePage *self, const PlumbTrialLine *lines, guint n)
{
  const PlumbWords words = { plumb_scene_job (self->tried, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  PlumbTrialItem *item = gtk_single_selection_get_selected_item (self->selection);
  const gboolean has_chosen = item != NULL;
  const PlumbTrialLine chosen = has_chosen ? *plumb_trial_item_line (item) : (PlumbTrialLine){ 0 };
  g_autoptr (GPtrArray) items = g_ptr_array_new_full (n, g_object_unref);

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (items, plumb_trial_item_new (self->tried, &lines[i], words));
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata,
                       items->len);
  if (has_chosen)
    choose_again (self, &chosen);
  gtk_stack_set_visible_child_name (self->body, n > 0 ? "table" : "none");
}

static void
end_work (PlumbChoicePage *self)
{
  self->work = NULL;
  g_clear_pointer (&self->trying, plumb_scene_unref);
  g_clear_handle_id (&self->looking, g_source_remove);
  gtk_widget_set_visible (self->busy, FALSE);
}

static void
work_done (GArray *lines, gboolean complete, gpointer data)
{
  PlumbChoicePage *self = data;

  plumb_scene_unref (self->tried);
  self->tried = plumb_scene_ref (self->trying);
  self->tried_arrangement = self->trying_arrangement;
  end_work (self);
  show_lines (self, (const PlumbTrialLine *) (void *) lines->data, lines->len);
  show_about (self, complete);
  show_choice (self);
}

static gboolean
look (gpointer data)
{
  PlumbChoicePage *self = data;
  const double share = plumb_trial_work_share (self->work);
  g_autofree char *text = g_strdup_printf ("lens trial, %.0f %%", 100.0 * share);

  gtk_progress_bar_set_fraction (self->progress, share);
  gtk_label_set_text (self->how_far, text);
  if (++self->looks == QUICK_LOOKS)
    gtk_widget_set_visible (self->busy, TRUE);
  return G_SOURCE_CONTINUE;
}

/* The newest request wins: an older one is dropped. */
static void
start (PlumbChoicePage *self)
{
  if (self->work != NULL)
    plumb_trial_work_drop (self->work);
  plumb_scene_unref (self->trying);
  self->trying = plumb_scene_ref (plumb_document_scene (self->document));
  self->trying_arrangement = plumb_document_arrangement (self->document);
  self->work = plumb_trial_work_start (self->trying, self->trying_arrangement, work_done, self);
  self->looks = 0;
  if (self->looking == 0)
    self->looking = g_timeout_add (LOOK_MS, look, self);
}

static gboolean
start_later (gpointer data)
{
  PlumbChoicePage *self = data;

  self->later = 0;
  if (!is_current (self))
    start (self);
  return G_SOURCE_REMOVE;
}

static void
ask (PlumbChoicePage *self, guint wait_ms)
{
  show_choice (self);
  g_clear_handle_id (&self->later, g_source_remove);
  /* Nobody looks: it is done when the page is shown. */
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->later = g_timeout_add (wait_ms, start_later, self);
}

static void
document_changed (PlumbChoicePage *self)
{
  ask (self, SETTLE_MS);
}

static void
plumb_choice_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (plumb_choice_page_parent_class)->map (widget);
  ask (PLUMB_CHOICE_PAGE (widget), 0);
}

static void
stop_clicked (PlumbChoicePage *self)
{
  if (self->work != NULL)
    plumb_trial_work_stop (self->work);
}

/* ---- cells ------------------------------------------------------------------------------ */

static void
dim (GtkWidget *widget, const PlumbTrialLine *line)
{
  if (line->fits)
    gtk_widget_remove_css_class (widget, "ink3");
  else
    gtk_widget_add_css_class (widget, "ink3");
}

static void
set_up_text (GtkListItem *list_item, float xalign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_list_item_set_child (list_item, label);
}

static void
set_up_cell (gpointer column, GtkListItem *list_item)
{
  const PlumbTrialColumn id = (PlumbTrialColumn) GPOINTER_TO_INT (column);

  set_up_text (list_item, columns[id].number ? 1.0f : 0.0f);
  GtkLabel *label = GTK_LABEL (gtk_list_item_get_child (list_item));
  if (id == PLUMB_TRIAL_REASON)
    {
      gtk_label_set_wrap (label, TRUE);
      gtk_label_set_width_chars (label, 24);
    }
  else if (id != PLUMB_TRIAL_VERDICT && !columns[id].number)
    {
      gtk_label_set_ellipsize (label, PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (label, 14);
    }
}

static void
bind_cell (gpointer column, GtkListItem *list_item)
{
  const PlumbTrialColumn id = (PlumbTrialColumn) GPOINTER_TO_INT (column);
  PlumbTrialItem *item = gtk_list_item_get_item (list_item);
  const PlumbTrialLine *line = plumb_trial_item_line (item);
  GtkWidget *label = gtk_list_item_get_child (list_item);

  gtk_label_set_text (GTK_LABEL (label), plumb_trial_item_text (item, id));
  dim (label, line);
  if (id == PLUMB_TRIAL_VERDICT)
    plumb_style_set_verdict_class (label, line->fits ? (int) line->worst : -1);
}

static void
set_up_what (gpointer unused, GtkListItem *list_item)
{
  (void) unused;
  set_up_text (list_item, 0.0f);
  gtk_label_set_wrap (GTK_LABEL (gtk_list_item_get_child (list_item)), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (gtk_list_item_get_child (list_item)), 18);
}

static void
bind_what (gpointer unused, GtkListItem *list_item)
{
  PlumbTrialItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *label = gtk_list_item_get_child (list_item);
  g_autofree char *markup = g_markup_printf_escaped (
      "<b>%s</b>, %s, %s\n%s", plumb_trial_item_text (item, PLUMB_TRIAL_LENS),
      plumb_trial_item_text (item, PLUMB_TRIAL_PLACE), plumb_trial_item_text (item, PLUMB_TRIAL_MACHINE),
      plumb_trial_item_text (item, PLUMB_TRIAL_REASON));

  (void) unused;
  gtk_label_set_markup (GTK_LABEL (label), markup);
  dim (label, plumb_trial_item_line (item));
}

/* ---- columns and their order ----------------------------------------------------------------- */

static int
compare_column (gconstpointer a, gconstpointer b, gpointer column)
{
  return plumb_trial_item_compare (PLUMB_TRIAL_ITEM ((gpointer) a), PLUMB_TRIAL_ITEM ((gpointer) b),
                                   (PlumbTrialColumn) GPOINTER_TO_INT (column));
}

static int
compare_fits (gconstpointer a, gconstpointer b, gpointer unused)
{
  (void) unused;
  return plumb_trial_item_compare_fits (PLUMB_TRIAL_ITEM ((gpointer) a), PLUMB_TRIAL_ITEM ((gpointer) b));
}

/* Best verdict first, then most of the panel. */
static int
compare_usual (gconstpointer a, gconstpointer b, gpointer unused)
{
  const int by_verdict = compare_column (a, b, GINT_TO_POINTER (PLUMB_TRIAL_VERDICT));

  (void) unused;
  return by_verdict != 0 ? by_verdict : compare_column (b, a, GINT_TO_POINTER (PLUMB_TRIAL_PIXELS));
}

static GtkColumnViewColumn *
add_column (PlumbChoicePage *self, const char *title, PlumbTrialColumn id, GCallback set_up, GCallback bind)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkColumnViewColumn *made = gtk_column_view_column_new (title, factory);
  GtkSorter *sorter = GTK_SORTER (gtk_custom_sorter_new (compare_column, GINT_TO_POINTER (id), NULL));

  g_signal_connect_swapped (factory, "setup", set_up, GINT_TO_POINTER (id));
  g_signal_connect_swapped (factory, "bind", bind, GINT_TO_POINTER (id));
  gtk_column_view_column_set_sorter (made, sorter);
  gtk_column_view_append_column (self->table, made);
  g_object_unref (sorter);
  g_object_unref (made);
  return made;
}

static void
add_columns (PlumbChoicePage *self)
{
  for (int i = 0; i < PLUMB_N_TRIAL_COLUMNS; i++)
    {
      self->column[i] = add_column (self, columns[i].title, (PlumbTrialColumn) i, G_CALLBACK (set_up_cell),
                                    G_CALLBACK (bind_cell));
      if (i == PLUMB_TRIAL_VERDICT)
        self->what
            = add_column (self, "what and why", PLUMB_TRIAL_PLACE, G_CALLBACK (set_up_what), G_CALLBACK (bind_what));
    }
  gtk_column_view_column_set_expand (self->column[PLUMB_TRIAL_REASON], TRUE);
  gtk_column_view_column_set_expand (self->what, TRUE);
}

/* The fitting ones first whatever is asked for, then as asked for, then as usual. */
static void
add_model (PlumbChoicePage *self)
{
  GtkMultiSorter *sorter = gtk_multi_sorter_new ();

  gtk_multi_sorter_append (sorter, GTK_SORTER (gtk_custom_sorter_new (compare_fits, NULL, NULL)));
  gtk_multi_sorter_append (sorter, g_object_ref (gtk_column_view_get_sorter (self->table)));
  gtk_multi_sorter_append (sorter, GTK_SORTER (gtk_custom_sorter_new (compare_usual, NULL, NULL)));
  self->store = g_list_store_new (PLUMB_TYPE_TRIAL_ITEM);
  self->sorted = gtk_sort_list_model_new (g_object_ref (G_LIST_MODEL (self->store)), GTK_SORTER (sorter));
  self->selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->sorted)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_column_view_set_model (self->table, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (show_choice), self);
}

/* The heads of the columns cannot be reached by keyboard: this can. */
static void
order_chosen (PlumbChoicePage *self)
{
  const guint chosen = gtk_drop_down_get_selected (self->order); /* 0: as usual */

  gtk_column_view_sort_by_column (self->table,
                                  chosen == 0 || chosen > PLUMB_N_TRIAL_COLUMNS ? NULL : self->column[chosen - 1],
                                  GTK_SORT_ASCENDING);
}

static void
add_orders (PlumbChoicePage *self)
{
  g_autoptr (GtkStringList) orders = gtk_string_list_new (NULL);

  gtk_string_list_append (orders, "best first");
  for (int i = 0; i < PLUMB_N_TRIAL_COLUMNS; i++)
    {
      g_autofree char *by = g_strdup_printf ("by %s", columns[i].title);
      gtk_string_list_append (orders, by);
    }
  gtk_drop_down_set_model (self->order, G_LIST_MODEL (orders));
  g_signal_connect_swapped (self->order, "notify::selected", G_CALLBACK (order_chosen), self);
}

static void
width_changed (PlumbChoicePage *self, int width)
{
  for (int i = 0; i < PLUMB_N_TRIAL_COLUMNS; i++)
    gtk_column_view_column_set_visible (self->column[i], width >= columns[i].from_px);
  gtk_column_view_column_set_visible (self->what, width < NARROW_PX);
}

/* ---- the object --------------------------------------------------------------------------------- */

static void
plumb_choice_page_dispose (GObject *object)
{
  PlumbChoicePage *self = PLUMB_CHOICE_PAGE (object);

  if (self->work != NULL)
    plumb_trial_work_drop (g_steal_pointer (&self->work));
  g_clear_handle_id (&self->later, g_source_remove);
  g_clear_handle_id (&self->looking, g_source_remove);
  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  gtk_widget_dispose_template (GTK_WIDGET (object), PLUMB_TYPE_CHOICE_PAGE);
  g_clear_object (&self->selection);
  g_clear_object (&self->sorted);
  g_clear_object (&self->store);
  g_clear_object (&self->document);
  g_clear_pointer (&self->tried, plumb_scene_unref);
  g_clear_pointer (&self->trying, plumb_scene_unref);
  G_OBJECT_CLASS (plumb_choice_page_parent_class)->dispose (object);
}

static void
plumb_choice_page_class_init (PlumbChoicePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_choice_page_dispose;
  widget_class->map = plumb_choice_page_map;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/choice-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, about);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, how_far);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, reason);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, busy);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, stop);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, take);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, progress);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, body);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, order);
  gtk_widget_class_bind_template_child (widget_class, PlumbChoicePage, table);
}

static void
plumb_choice_page_init (PlumbChoicePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_visible (self->busy, FALSE);
  add_columns (self);
  add_model (self);
  add_orders (self);
  g_signal_connect_swapped (self->stop, "clicked", G_CALLBACK (stop_clicked), self);
  g_signal_connect_swapped (self->take, "clicked", G_CALLBACK (take), self);
  g_signal_connect_swapped (self->table, "activate", G_CALLBACK (activated), self);
}

GtkWidget *
plumb_choice_page_new (PlumbDocument *document)
{
  PlumbChoicePage *self = g_object_new (PLUMB_TYPE_CHOICE_PAGE, NULL);
  GtkWidget *frame = plumb_width_bin_new (GTK_WIDGET (self));

  self->document = g_object_ref (document);
  g_signal_connect_object (frame, "width", G_CALLBACK (width_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "changed", G_CALLBACK (document_changed), self, G_CONNECT_SWAPPED);
  show_choice (self);
  return frame;
}
