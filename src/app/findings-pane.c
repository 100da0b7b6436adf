/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "findings-pane.h"

#include "document-later.h"
#include "finding-cure.h"
#include "finding-item.h"
#include "finding-row.h"
#include "findings-compare.h"
#include "round-level.h"
#include "seats-view.h"
#include "sign.h"
#include "text/finding-groups.h"
#include "width-bin.h"

#define N_VERDICTS (PLUMB_FAILS + 1)
/* Row of one line, and rows that are seen in the smallest window. */
#define ROW_PX 29
#define ROWS 4
/* Widths from which what is to spare has a column, from which the basis has
 * one, and from which all is longer, px. */
#define NARROW_PX 720
#define WIDE_PX 940
#define WIDEST_PX 1280
/* Seats that are named one by one. */
#define MOST_NAMED 24

#define PLUMB_TYPE_FINDINGS_PANE (plumb_findings_pane_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFindingsPane, plumb_findings_pane, PLUMB, FINDINGS_PANE, GtkBox)

struct _PlumbFindingsPane {
  GtkBox parent_instance;

  GtkBox *head, *counts, *columns;
  GtkWidget *fold, *words, *middle;
  GtkToggleButton *findings_word, *seats_word;
  GtkLabel *title, *none, *basis;
  GtkDropDown *family;
  GtkStack *body;
  GtkScrolledWindow *scroller;
  GtkListView *list;
  GtkWidget *compare, *seats; /* NULL until they are first wanted */
  GtkToggleButton *toggle[N_VERDICTS];
  GtkLabel *count[N_VERDICTS];

  PlumbDocument *document;
  GListStore *store; /* of PlumbFindingItem */
  GtkSingleSelection *selection;
  GPtrArray *rows; /* PlumbFindingRow that the list has made */
  guint *row_of;   /* row of each group, G_MAXUINT where it is left out */
  uint32_t *group_of;
  uint32_t n_groups;
  PlumbFinding chosen; /* what was chosen here */
  PlumbFindingRoom room;
  gboolean has_chosen, comparing, folded, quiet;
};

G_DEFINE_FINAL_TYPE (PlumbFindingsPane, plumb_findings_pane, GTK_TYPE_BOX)

static gboolean
same_subject (PlumbSubject a, PlumbSubject b)
{
  return a.kind == b.kind && a.index == b.index && a.sub == b.sub;
}

/* ---- what a finding points to ------------------------------------------------------- */

/* What is missing if that is known, else the subject; the arrangement itself
 * where the finding is about the whole. */
static PlumbSubject
target_of (PlumbFindingsPane *self, const PlumbFinding *finding, int *field)
{
  PlumbSubject target = finding->subject;

  *field = finding->missing_field;
  if (finding->missing_field >= 0 && finding->missing_kind >= 0)
    target = (PlumbSubject){ finding->missing_kind, finding->missing_index, PLUMB_NO_INDEX };
  else if (target.kind == PLUMB_RECORD_NONE)
    target = (PlumbSubject){ PLUMB_RECORD_ARRANGEMENT, plumb_document_arrangement (self->document), PLUMB_NO_INDEX };
  return target;
}

/* The other seats of a line: "row1:2, row1:3 and 12 more". */
static char *
others_words (PlumbFindingsPane *self, const PlumbFinding *chosen)
{
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  const PlumbScene *scene = plumb_document_scene (self->document);
  GString *text = g_string_new (NULL);
  guint named = 0, more = 0;

  for (uint32_t i = 0; i < e->n_findings; i++)
    {
      if (!plumb_finding_same_group (chosen, &e->findings[i])
          || same_subject (chosen->subject, e->findings[i].subject))
        continue;
      if (++named > MOST_NAMED)
        {
          more++;
          continue;
        }
      g_autofree char *name = plumb_finding_subject_name (scene, &e->findings[i]);
      g_string_append_printf (text, "%s%s", named > 1 ? ", " : "", name);
    }
  if (more > 0)
    g_string_append_printf (text, " and %u more", more);
  return g_string_free (text, named == 0);
}

/* ---- the lines ------------------------------------------------------------------------ */

static gboolean
is_wanted (PlumbFindingsPane *self, const PlumbFinding *finding)
{
  const guint family = gtk_drop_down_get_selected (self->family); /* 0: all */
  gboolean any = FALSE;

  if (family != 0 && family != GTK_INVALID_LIST_POSITION
      && plumb_check_info (finding->check)->family != (PlumbFamily) (family - 1))
    return FALSE;
  for (int v = 0; v < N_VERDICTS; v++)
    any = any || gtk_toggle_button_get_active (self->toggle[v]);
  return !any || gtk_toggle_button_get_active (self->toggle[finding->verdict]);
}

static void
put_row (PlumbFindingsPane *self, guint row, const PlumbFinding *finding, guint count, PlumbWords words)
{
  g_autoptr (PlumbFindingItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), row);
  const gboolean is_new = item == NULL;

  if (is_new)
    item = plumb_finding_item_new ();
  plumb_finding_item_set (item, plumb_document_scene (self->document), finding, count, words);
  if (is_new)
    g_list_store_append (self->store, item);
}

static void
put_rows (PlumbFindingsPane *self)
{
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  const PlumbWords words
      = { plumb_scene_job (plumb_document_scene (self->document), 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  uint32_t *group_of = NULL, n_groups;
  g_autofree PlumbFindingGroup *groups = plumb_finding_groups (e, &n_groups, &group_of);
  guint n = 0;

  g_free (self->group_of);
  self->group_of = group_of;
  self->n_groups = n_groups;
  self->row_of = g_renew (guint, self->row_of, n_groups + 1);
  for (uint32_t i = 0; i < n_groups; i++)
    {
      const PlumbFinding *finding = &e->findings[groups[i].finding];
      self->row_of[i] = is_wanted (self, finding) ? n++ : G_MAXUINT;
      if (self->row_of[i] != G_MAXUINT)
        put_row (self, self->row_of[i], finding, groups[i].count, words);
    }
  const guint had = g_list_model_get_n_items (G_LIST_MODEL (self->store));
  if (had > n)
    g_list_store_splice (self->store, n, had - n, NULL, 0);
}

static void
put_counts (PlumbFindingsPane *self)
{
  static const char *const many[N_VERDICTS] = { "hold", "tight", "unknown", "fail" };
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  guint counts[N_VERDICTS] = { 0 };

  for (uint32_t i = 0; i < e->n_findings; i++)
    counts[e->findings[i].verdict]++;
  for (int v = 0; v < N_VERDICTS; v++)
    {
      g_autofree char *text
          = g_strdup_printf ("%u %s", counts[v], counts[v] == 1 ? plumb_verdict_word ((PlumbVerdict) v) : many[v]);
      gtk_label_set_text (self->count[v], text);
    }
}

/* ---- the chosen row --------------------------------------------------------------------- */

/* The finding that was chosen here if what is selected is still its subject,
 * else the worst about what is selected; n_findings when there is none. */
static uint32_t
find_chosen (PlumbFindingsPane *self)
{
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  const PlumbSubject selected = plumb_document_selection (self->document);
  uint32_t by_subject = e->n_findings;
  int field;

  for (uint32_t i = 0; i < e->n_findings; i++)
    {
      const PlumbFinding *f = &e->findings[i];
      const PlumbSubject target = target_of (self, f, &field);
      const gboolean is_selected = target.kind == selected.kind && target.index == selected.index
                                   && (target.sub == selected.sub || selected.sub == PLUMB_NO_INDEX);
      if (!is_selected)
        continue;
      if (self->has_chosen && f->check == self->chosen.check && same_subject (f->subject, self->chosen.subject))
        return i;
      if (by_subject == e->n_findings)
        by_subject = i;
    }
  return by_subject;
}

static void
choose_row (PlumbFindingsPane *self, guint row)
{
  self->quiet = TRUE;
  gtk_single_selection_set_selected (self->selection, row == G_MAXUINT ? GTK_INVALID_LIST_POSITION : row);
  self->quiet = FALSE;
  g_autoptr (PlumbFindingItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), row);
  if (item == NULL)
    return;
  plumb_finding_item_set_curable (item, plumb_cure_applies (self->document, plumb_finding_item_finding (item)));
  g_autofree char *others = others_words (self, plumb_finding_item_finding (item));
  plumb_finding_item_set_others (item, others);
}

static gboolean
row_is_seen (PlumbFindingsPane *self, guint row)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      GtkListItem *list_item = g_ptr_array_index (self->rows, i);
      graphene_rect_t box;
      if (gtk_list_item_get_position (list_item) != row || gtk_list_item_get_child (list_item) == NULL
          || !gtk_widget_get_mapped (gtk_list_item_get_child (list_item))
          || !gtk_widget_compute_bounds (gtk_list_item_get_child (list_item), GTK_WIDGET (self->scroller), &box))
        continue;
      return box.origin.y >= 0.0f
             && box.origin.y + ROW_PX / 2.0f < (float) gtk_widget_get_height (GTK_WIDGET (self->scroller));
    }
  return FALSE;
}

/* The selection of the document, which another pane may have made. */
static void
follow_selection (PlumbFindingsPane *self)
{
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  const uint32_t finding = find_chosen (self);
  const guint row = finding < e->n_findings ? self->row_of[self->group_of[finding]] : G_MAXUINT;

  choose_row (self, row);
  if (row != G_MAXUINT && !row_is_seen (self, row))
    gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", row);
}

static void
selection_changed (PlumbFindingsPane *self)
{
  PlumbFindingItem *item = gtk_single_selection_get_selected_item (self->selection);
  int field;

  if (self->quiet || item == NULL)
    return;
  self->chosen = *plumb_finding_item_finding (item);
  self->has_chosen = TRUE;
  const PlumbSubject target = target_of (self, &self->chosen, &field);
  plumb_document_select (self->document, target, field);
  /* The same subject may already have been selected: then nobody was told. */
  follow_selection (self);
}

/* ---- following the document --------------------------------------------------------------- */

static void
show_body (PlumbFindingsPane *self)
{
  const gboolean any = g_list_model_get_n_items (G_LIST_MODEL (self->store)) > 0;
  const gboolean checked = plumb_document_evaluation (self->document)->n_findings > 0;
  const gboolean seats = !self->comparing && gtk_toggle_button_get_active (self->seats_word);

  gtk_label_set_text (self->none, checked ? "No finding is of this kind." : "Nothing has been checked yet.");
  gtk_stack_set_visible_child_name (self->body,
                                    self->comparing ? "compare" : seats ? "seats" : any ? "list" : "none");
  gtk_widget_set_visible (GTK_WIDGET (self->title), self->comparing);
  gtk_widget_set_visible (self->words, !self->comparing);
  if (self->seats != NULL)
    gtk_widget_set_visible (plumb_seats_view_controls (PLUMB_SEATS_VIEW (self->seats)), seats && !self->folded);
  gtk_widget_set_visible (GTK_WIDGET (self->counts), !seats || self->folded);
  gtk_widget_set_visible (GTK_WIDGET (self->body), !self->folded);
  /* In a tight head the counts need the place; the figures have their units. */
  gtk_widget_set_visible (GTK_WIDGET (self->columns),
                          !self->folded && !self->comparing && !seats && self->room >= PLUMB_FINDING_NARROW);
  gtk_widget_set_visible (GTK_WIDGET (self->family), !self->folded && !self->comparing && !seats);
}

static void
word_chosen (PlumbFindingsPane *self)
{
  if (self->seats == NULL && gtk_toggle_button_get_active (self->seats_word))
    {
      self->seats = plumb_seats_view_new (self->document);
      gtk_stack_add_named (self->body, self->seats, "seats");
      gtk_box_insert_child_after (self->head, plumb_seats_view_controls (PLUMB_SEATS_VIEW (self->seats)),
                                  self->middle);
    }
  show_body (self);
}

static void
rebuild (PlumbFindingsPane *self)
{
  self->quiet = TRUE;
  put_counts (self);
  put_rows (self);
  self->quiet = FALSE;
  show_body (self);
}

static void
filter_changed (PlumbFindingsPane *self)
{
  rebuild (self);
  follow_selection (self);
}

/* A change must not scroll the list away from under the reader. */
static void
document_changed (gpointer listener)
{
  PlumbFindingsPane *self = listener;

  rebuild (self);
  const PlumbEvaluation *e = plumb_document_evaluation (self->document);
  const uint32_t finding = find_chosen (self);
  choose_row (self, finding < e->n_findings ? self->row_of[self->group_of[finding]] : G_MAXUINT);
}

/* ---- rows of the list ----------------------------------------------------------------------- */

static void
row_chosen (GtkListItem *list_item)
{
  PlumbFindingRow *row = PLUMB_FINDING_ROW (gtk_list_item_get_child (list_item));

  if (row != NULL)
    plumb_finding_row_set_chosen (row, gtk_list_item_get_selected (list_item));
}

/* The edit comes back as `changed`, which words all rows anew. */
static void
row_cured (PlumbFindingsPane *self)
{
  PlumbFindingItem *item = gtk_single_selection_get_selected_item (self->selection);
  g_autoptr (GError) error = NULL;

  if (item == NULL)
    return;
  const PlumbFinding finding = *plumb_finding_item_finding (item);
  if (!plumb_cure_apply (self->document, &finding, &error))
    g_message ("the cure was not taken: %s", error->message);
}

static void
set_up_row (PlumbFindingsPane *self, GtkListItem *list_item)
{
  GtkWidget *row = plumb_finding_row_new ();

  plumb_finding_row_set_room (PLUMB_FINDING_ROW (row), self->room);
  gtk_list_item_set_child (list_item, row);
  g_signal_connect (list_item, "notify::selected", G_CALLBACK (row_chosen), NULL);
  g_signal_connect_object (row, "cured", G_CALLBACK (row_cured), self, G_CONNECT_SWAPPED);
  g_ptr_array_add (self->rows, list_item);
}

static void
tear_down_row (PlumbFindingsPane *self, GtkListItem *list_item)
{
  g_ptr_array_remove_fast (self->rows, list_item);
}

static void
bind_row (PlumbFindingsPane *self, GtkListItem *list_item)
{
  (void) self;
  plumb_finding_row_show (PLUMB_FINDING_ROW (gtk_list_item_get_child (list_item)),
                          gtk_list_item_get_item (list_item));
  row_chosen (list_item);
}

static void
unbind_row (PlumbFindingsPane *self, GtkListItem *list_item)
{
  (void) self;
  plumb_finding_row_show (PLUMB_FINDING_ROW (gtk_list_item_get_child (list_item)), NULL);
}

static void
width_changed (PlumbFindingsPane *self, int width)
{
  const PlumbFindingRoom room = width >= WIDEST_PX   ? PLUMB_FINDING_WIDEST
                                : width >= WIDE_PX   ? PLUMB_FINDING_WIDE
                                : width >= NARROW_PX ? PLUMB_FINDING_NARROW
                                                     : PLUMB_FINDING_TIGHT;

  if (room == self->room)
    return;
  self->room = room;
  for (guint i = 0; i < self->rows->len; i++)
    {
      GtkListItem *list_item = g_ptr_array_index (self->rows, i);
      plumb_finding_row_set_room (PLUMB_FINDING_ROW (gtk_list_item_get_child (list_item)), room);
    }
  show_body (self);
  gtk_widget_set_visible (GTK_WIDGET (self->basis), room >= PLUMB_FINDING_WIDE);
  gtk_label_set_width_chars (self->basis, plumb_finding_basis_chars (room));
}

/* ---- the object ------------------------------------------------------------------------------ */

static void
fold_clicked (PlumbFindingsPane *self)
{
  const char *name = self->folded ? "Fold the findings" : "Unfold the findings";

  self->folded = !self->folded;
  show_body (self);
  plumb_sign_set_kind (PLUMB_SIGN (gtk_button_get_child (GTK_BUTTON (self->fold))),
                       self->folded ? PLUMB_SIGN_UNFOLD : PLUMB_SIGN_FOLD);
  gtk_widget_set_tooltip_text (self->fold, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->fold), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
add_counts (PlumbFindingsPane *self)
{
  static const PlumbVerdict order[] = { PLUMB_FAILS, PLUMB_TIGHT, PLUMB_UNKNOWN, PLUMB_HOLDS };

  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    {
      const PlumbVerdict v = order[i];
      GtkWidget *button = gtk_toggle_button_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      GtkWidget *label = gtk_label_new (NULL), *level = plumb_round_level_new (v);
      gtk_widget_set_valign (level, GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (box), level);
      gtk_box_append (GTK_BOX (box), label);
      gtk_button_set_child (GTK_BUTTON (button), box);
      gtk_widget_add_css_class (button, "count");
      gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
      gtk_widget_set_tooltip_text (button, "Show only these");
      gtk_box_append (self->counts, button);
      g_signal_connect_swapped (button, "toggled", G_CALLBACK (filter_changed), self);
      self->toggle[v] = GTK_TOGGLE_BUTTON (button);
      self->count[v] = GTK_LABEL (label);
    }
}

static void
add_families (PlumbFindingsPane *self)
{
  g_autoptr (GtkStringList) families = gtk_string_list_new (NULL);

  gtk_string_list_append (families, "all");
  for (int f = 0; f < PLUMB_N_FAMILIES; f++)
    gtk_string_list_append (families, plumb_family_word ((PlumbFamily) f));
  gtk_drop_down_set_model (self->family, G_LIST_MODEL (families));
  g_signal_connect_swapped (self->family, "notify::selected", G_CALLBACK (filter_changed), self);
}

static void
add_list (PlumbFindingsPane *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect_swapped (factory, "setup", G_CALLBACK (set_up_row), self);
  g_signal_connect_swapped (factory, "teardown", G_CALLBACK (tear_down_row), self);
  g_signal_connect_swapped (factory, "bind", G_CALLBACK (bind_row), self);
  g_signal_connect_swapped (factory, "unbind", G_CALLBACK (unbind_row), self);
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_single_selection_set_model (self->selection, G_LIST_MODEL (self->store));
  g_signal_connect_swapped (self->selection, "notify::selected", G_CALLBACK (selection_changed), self);
  gtk_list_view_set_factory (self->list, factory);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  g_object_unref (factory);
}

static void
plumb_findings_pane_dispose (GObject *object)
{
  PlumbFindingsPane *self = PLUMB_FINDINGS_PANE (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  gtk_widget_dispose_template (GTK_WIDGET (object), PLUMB_TYPE_FINDINGS_PANE);
  g_clear_object (&self->selection);
  g_clear_object (&self->store);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_findings_pane_parent_class)->dispose (object);
}

static void
plumb_findings_pane_finalize (GObject *object)
{
  PlumbFindingsPane *self = PLUMB_FINDINGS_PANE (object);

  g_ptr_array_unref (self->rows);
  g_free (self->row_of);
  g_free (self->group_of);
  G_OBJECT_CLASS (plumb_findings_pane_parent_class)->finalize (object);
}

static void
plumb_findings_pane_class_init (PlumbFindingsPaneClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_findings_pane_dispose;
  G_OBJECT_CLASS (klass)->finalize = plumb_findings_pane_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/findings-pane.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, head);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, counts);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, columns);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, basis);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, seats_word);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, findings_word);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, middle);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, words);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, title);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, none);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, family);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, body);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, scroller);
  gtk_widget_class_bind_template_child (widget_class, PlumbFindingsPane, list);
}

static void
plumb_findings_pane_init (PlumbFindingsPane *self)
{
  self->room = PLUMB_FINDING_NARROW;
  self->rows = g_ptr_array_new ();
  self->store = g_list_store_new (PLUMB_TYPE_FINDING_ITEM);
  self->selection = gtk_single_selection_new (NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->fold = plumb_sign_button_new (PLUMB_SIGN_FOLD, "Fold the findings");
  g_signal_connect_swapped (self->fold, "clicked", G_CALLBACK (fold_clicked), self);
  gtk_box_append (self->head, self->fold);
  gtk_scrolled_window_set_min_content_height (self->scroller, ROWS * ROW_PX);
  add_counts (self);
  g_signal_connect_swapped (self->seats_word, "toggled", G_CALLBACK (word_chosen), self);
}

/* The pane stands in a frame that tells its width: functions of the header take that frame. */
static PlumbFindingsPane *
pane_in (GtkWidget *frame)
{
  return PLUMB_FINDINGS_PANE (gtk_widget_get_first_child (frame));
}

GtkWidget *
plumb_findings_pane_new (PlumbDocument *document)
{
  PlumbFindingsPane *self = g_object_new (PLUMB_TYPE_FINDINGS_PANE, NULL);
  GtkWidget *frame = plumb_width_bin_new (GTK_WIDGET (self));

  self->document = g_object_ref (document);
  add_families (self);
  add_list (self);
  g_signal_connect_object (frame, "width", G_CALLBACK (width_changed), self, G_CONNECT_SWAPPED);
  plumb_document_listen_later (document, self, document_changed);
  g_signal_connect_object (document, "selected", G_CALLBACK (follow_selection), self, G_CONNECT_SWAPPED);
  filter_changed (self);
  return frame;
}

void
plumb_findings_pane_set_compare (GtkWidget *pane, gboolean compare)
{
  PlumbFindingsPane *self = pane_in (pane);

  self->comparing = compare;
  if (compare && self->compare == NULL)
    {
      self->compare = plumb_findings_compare_new (self->document);
      gtk_stack_add_named (self->body, self->compare, "compare");
    }
  show_body (self);
}

gboolean
plumb_findings_pane_get_compare (GtkWidget *pane)
{
  return pane_in (pane)->comparing;
}

void
plumb_findings_pane_set_folded (GtkWidget *pane, gboolean folded)
{
  if (pane_in (pane)->folded != folded)
    fold_clicked (pane_in (pane));
}

gboolean
plumb_findings_pane_get_folded (GtkWidget *pane)
{
  return pane_in (pane)->folded;
}

void
plumb_findings_pane_set_rows (GtkWidget *pane, guint rows)
{
  gtk_scrolled_window_set_min_content_height (pane_in (pane)->scroller, (int) rows * ROW_PX);
}
