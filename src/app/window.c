/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/window.h"

#include "app/arrangement-strip.h"
#include "app/bench.h"
#include "app/bob.h"
#include "app/choice-page.h"
#include "app/document-later.h"
#include "app/drawing-pane.h"
#include "app/empty-part.h"
#include "app/findings-pane.h"
#include "app/form.h"
#include "app/header-words.h"
#include "app/sign.h"
#include "app/state.h"
#include "app/steps.h"
#include "app/style.h"
#include "app/tape.h"
#include "app/view3d-pane.h"

#define STATE "window"
#define USUAL_WIDTH_PX 1280
#define USUAL_HEIGHT_PX 800
#define COMPACT_UNDER_PX 850
/* Of the drawing in the width of both panes: 400 of 400 + 470. */
#define DRAWING_SHARE_PCT 46
#define MAX_RECENT_IN_MENU 8

struct _PlumbWindow {
  GtkApplicationWindow parent_instance;

  /* from the template */
  GtkWidget *bob, *title, *about, *undo, *redo, *menu, *body;
  GMenu *recent_menu;

  PlumbDocument *document;
  GKeyFile *state;
  gboolean demo;
  GtkWidget *trouble, *tape, *form, *strip, *bench, *views, *drawings, *panes, *first, *second;
  GtkWidget *choice; /* NULL until it is first shown */
  GtkWidget *split, *findings_frame;
  GtkWidget *findings; /* NULL until the window has been painted once */
  int findings_height; /* when not folded; 0: that of the look */
  gboolean folded;     /* how the findings were last seen */
  guint fold_idle, findings_idle;
  gulong painted;
  gboolean settled; /* the panes have had their first sizes */
};

G_DEFINE_FINAL_TYPE (PlumbWindow, plumb_window, GTK_TYPE_APPLICATION_WINDOW)

/* ---- header ----------------------------------------------------------------------- */

static void
draw_bob_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer unused)
{
  (void) area, (void) unused;
  plumb_style_set_source (cr, PLUMB_COLOUR_ACCENT);
  plumb_bob_draw (cr, width / 2.0, height / 2.0 - 15.0, height / 2.0 + 12.0);
}

static void
update_header (PlumbWindow *self)
{
  g_autofree char *title = plumb_header_title (self->document);
  g_autofree char *about = plumb_header_about (self->document, self->demo);
  g_autofree char *undo = plumb_header_tooltip ("Undo", plumb_document_undo_name (self->document));
  g_autofree char *redo = plumb_header_tooltip ("Redo", plumb_document_redo_name (self->document));

  gtk_label_set_text (GTK_LABEL (self->title), title);
  gtk_label_set_text (GTK_LABEL (self->about), about);
  plumb_style_set_tooltip (self->about, plumb_document_path (self->document));
  plumb_style_set_tooltip (self->undo, undo);
  plumb_style_set_tooltip (self->redo, redo);
  g_autofree char *whole = g_strdup_printf ("%s – Plumbeam", title);
  gtk_window_set_title (GTK_WINDOW (self), whole);
}

void
plumb_window_set_demo (PlumbWindow *self, gboolean demo)
{
  g_return_if_fail (PLUMB_IS_WINDOW (self));
  self->demo = demo;
  update_header (self);
}

void
plumb_window_show_recent (PlumbWindow *self, const char *const *paths)
{
  g_return_if_fail (PLUMB_IS_WINDOW (self));
  g_menu_remove_all (self->recent_menu);
  for (int i = 0; paths != NULL && paths[i] != NULL && i < MAX_RECENT_IN_MENU; i++)
    {
      g_autofree char *name = g_filename_display_basename (paths[i]);
      /* An underscore would be taken for a mnemonic. */
      g_auto (GStrv) parts = g_strsplit (name, "_", -1);
      g_autofree char *label = g_strjoinv ("__", parts);
      g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);
      g_menu_item_set_action_and_target_value (item, "app.open-path", g_variant_new_bytestring (paths[i]));
      g_menu_append_item (self->recent_menu, item);
    }
}

/* ---- steps -------------------------------------------------------------------------- */

static gboolean
flag (PlumbWindow *self, const char *action)
{
  g_autoptr (GVariant) value = g_action_group_get_action_state (G_ACTION_GROUP (self), action);

  return value != NULL && g_variant_get_boolean (value);
}

static gboolean
is_narrow (PlumbWindow *self)
{
  int width = gtk_widget_get_width (self->bench);

  return width > 0 && width < PLUMB_BENCH_NARROW_PX;
}

/* Which parts are there, by step, width and wish. */
static void
arrange (PlumbWindow *self)
{
  gboolean choice = plumb_step_tape_step (PLUMB_STEP_TAPE (self->tape)) == PLUMB_STEP_CHOICE;
  gboolean narrow = is_narrow (self), over = narrow && flag (self, "form-over");

  if (choice && self->choice == NULL)
    {
      self->choice = plumb_choice_page_new (self->document);
      gtk_stack_add_child (GTK_STACK (self->views), self->choice);
    }
  gtk_stack_set_visible_child (GTK_STACK (self->views), choice ? self->choice : self->drawings);
  plumb_bench_set_form_over (PLUMB_BENCH (self->bench), over);
  plumb_bench_show_form (PLUMB_BENCH (self->bench), flag (self, "form") && !choice);
  gtk_widget_set_visible (self->second, flag (self, "second") && (!narrow || over));
  if (self->findings != NULL && flag (self, "compare") != plumb_findings_pane_get_compare (self->findings))
    plumb_findings_pane_set_compare (self->findings, flag (self, "compare"));
}

static void
show_step (PlumbWindow *self, PlumbStep step)
{
  plumb_step_tape_show_step (PLUMB_STEP_TAPE (self->tape), step);
  if (step != PLUMB_STEP_CHOICE)
    plumb_form_show_step (self->form, step);
  arrange (self);
}

static void
chosen_cb (PlumbWindow *self, int step)
{
  /* Choosing a step asks for its page, also where it was folded away. */
  g_action_group_change_action_state (G_ACTION_GROUP (self), "form", g_variant_new_boolean (TRUE));
  show_step (self, (PlumbStep) step);
}

static void
begun_cb (PlumbWindow *self)
{
  chosen_cb (self, (int) PLUMB_STEP_ROOM);
}

static void
selected_cb (PlumbWindow *self)
{
  PlumbSubject subject = plumb_document_selection (self->document);

  if (subject.kind == PLUMB_RECORD_NONE || plumb_step_tape_step (PLUMB_STEP_TAPE (self->tape)) == PLUMB_STEP_CHOICE)
    return;
  show_step (self, plumb_step_of_record (subject.kind));
}

/* ---- sizes ---------------------------------------------------------------------------- */

static void
set_class (GtkWidget *widget, const char *css_class, gboolean on)
{
  if (on)
    gtk_widget_add_css_class (widget, css_class);
  else
    gtk_widget_remove_css_class (widget, css_class);
}

/* Heights of the look: four, five and seven rows. */
static int
usual_findings_height (int height)
{
  return height >= 1000 ? 250 : height >= COMPACT_UNDER_PX ? 192 : 163;
}

static void
take_size_class (PlumbWindow *self, int width, int height)
{
  set_class (GTK_WIDGET (self), "compact", height < COMPACT_UNDER_PX);
  set_class (GTK_WIDGET (self), "narrow", width < PLUMB_BENCH_NARROW_PX);
  plumb_step_tape_set_wide (PLUMB_STEP_TAPE (self->tape), width >= PLUMB_BENCH_WIDE_PX);
}

/* The position that gives the findings their height, or their one line. */
static void
place_findings (PlumbWindow *self)
{
  int wanted = self->findings_height > 0 ? self->findings_height
                                         : usual_findings_height (gtk_widget_get_height (GTK_WIDGET (self)));
  int most;

  if (self->folded)
    g_object_get (self->split, "max-position", &most, NULL);
  else
    most = gtk_widget_get_height (self->split) - wanted - 1;
  gtk_paned_set_position (GTK_PANED (self->split), most);
}

static gboolean
fold_cb (gpointer data)
{
  PlumbWindow *self = data;

  self->fold_idle = 0;
  place_findings (self);
  return G_SOURCE_REMOVE;
}

/* The pane folds by itself, which changes what it needs; the handle then goes
 * where it belongs, after this allocation. */
static void
max_position_cb (PlumbWindow *self)
{
  gboolean folded = self->findings != NULL ? plumb_findings_pane_get_folded (self->findings) : self->folded;

  if (!self->settled || folded == self->folded)
    return;
  if (folded)
    self->findings_height
        = gtk_widget_get_height (self->split) - gtk_paned_get_position (GTK_PANED (self->split)) - 1;
  self->folded = folded;
  if (self->fold_idle == 0)
    self->fold_idle = g_idle_add (fold_cb, self);
}

/* Shares out what the user did not. */
static void
settle (PlumbWindow *self)
{
  int width = gtk_widget_get_width (self->panes);
  int share = plumb_state_int (self->state, STATE, "drawing_share_pct", DRAWING_SHARE_PCT);

  if (self->settled || gtk_widget_get_height (self->split) <= 0)
    return;
  self->settled = TRUE;
  place_findings (self);
  gtk_paned_set_position (GTK_PANED (self->panes), width * CLAMP (share, 10, 90) / 100);
}

static void
resized_cb (PlumbWindow *self)
{
  take_size_class (self, gtk_widget_get_width (self->bench), gtk_widget_get_height (GTK_WIDGET (self)));
  arrange (self);
  settle (self);
}

void
plumb_window_remember (PlumbWindow *self)
{
  int width, height;

  g_return_if_fail (PLUMB_IS_WINDOW (self));
  gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  g_key_file_set_integer (self->state, STATE, "width", width);
  g_key_file_set_integer (self->state, STATE, "height", height);
  g_key_file_set_boolean (self->state, STATE, "maximised", gtk_window_is_maximized (GTK_WINDOW (self)));
  g_key_file_set_integer (self->state, STATE, "step", (int) plumb_step_tape_step (PLUMB_STEP_TAPE (self->tape)));
  g_key_file_set_boolean (self->state, STATE, "form", flag (self, "form"));
  g_key_file_set_boolean (self->state, STATE, "form_over", flag (self, "form-over"));
  g_key_file_set_boolean (self->state, STATE, "second_drawing", flag (self, "second"));
  g_key_file_set_boolean (self->state, STATE, "findings_folded", self->folded);
  g_key_file_set_string (self->state, STATE, "view",
                         plumb_draw_kind_word (plumb_drawing_pane_get_kind (self->first)));
  if (!self->settled)
    return;
  int split = gtk_widget_get_height (self->split);
  int findings = self->folded ? self->findings_height : split - gtk_paned_get_position (GTK_PANED (self->split)) - 1;
  g_key_file_set_integer (self->state, STATE, "findings_height", findings);
  int panes = gtk_widget_get_width (self->panes);
  if (panes > 0 && gtk_widget_get_visible (self->second))
    g_key_file_set_integer (self->state, STATE, "drawing_share_pct",
                            gtk_paned_get_position (GTK_PANED (self->panes)) * 100 / panes);
}

/* ---- actions ---------------------------------------------------------------------------- */

static void
flag_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  g_simple_action_set_state (action, value);
  arrange (PLUMB_WINDOW (data));
}

static void
add_flag (PlumbWindow *self, const char *name, gboolean on)
{
  g_autoptr (GSimpleAction) action = g_simple_action_new_stateful (name, NULL, g_variant_new_boolean (on));

  g_signal_connect (action, "change-state", G_CALLBACK (flag_changed_cb), self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
}

static void
show_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void) value;
  plumb_view3d_pane_show (PLUMB_VIEW3D_PANE (PLUMB_WINDOW (data)->second),
                          g_str_equal (g_action_get_name (G_ACTION (action)), "show-both"));
}

/* Two arrangements at least can be compared. */
static void
changed_cb (gpointer listener)
{
  PlumbWindow *self = listener;
  uint32_t n;
  GAction *compare = g_action_map_lookup_action (G_ACTION_MAP (self), "compare");

  plumb_scene_records (plumb_document_scene (self->document), PLUMB_RECORD_ARRANGEMENT, &n);
  if (n < 2 && flag (self, "compare"))
    g_action_change_state (compare, g_variant_new_boolean (FALSE));
  g_simple_action_set_enabled (G_SIMPLE_ACTION (compare), n > 1);
  update_header (self);
}

static gboolean
drop_cb (PlumbWindow *self, const GValue *value)
{
  GFile *file = g_value_get_object (value);
  const char *path = file != NULL ? g_file_peek_path (file) : NULL;

  if (path == NULL)
    return FALSE;
  g_action_group_activate_action (G_ACTION_GROUP (gtk_window_get_application (GTK_WINDOW (self))), "open-path",
                                  g_variant_new_bytestring (path));
  return TRUE;
}

static void
take_drops (PlumbWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_FILE, GDK_ACTION_COPY);

  g_signal_connect_swapped (target, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

/* ---- the object --------------------------------------------------------------------------- */

static void
plumb_window_dispose (GObject *object)
{
  PlumbWindow *self = PLUMB_WINDOW (object);

  g_clear_handle_id (&self->fold_idle, g_source_remove);
  g_clear_handle_id (&self->findings_idle, g_source_remove);
  g_clear_object (&self->document);
  g_clear_pointer (&self->state, g_key_file_unref);
  G_OBJECT_CLASS (plumb_window_parent_class)->dispose (object);
}

static void
plumb_window_class_init (PlumbWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = plumb_window_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/plumbeam/Plumbeam/window.ui");
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, bob);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, title);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, about);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, menu);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, body);
  gtk_widget_class_bind_template_child (widget_class, PlumbWindow, recent_menu);
}

static void
plumb_window_init (PlumbWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_button_set_child (GTK_BUTTON (self->undo), plumb_sign_new (PLUMB_SIGN_UNDO));
  gtk_button_set_child (GTK_BUTTON (self->redo), plumb_sign_new (PLUMB_SIGN_REDO));
  gtk_menu_button_set_child (GTK_MENU_BUTTON (self->menu), plumb_sign_new (PLUMB_SIGN_MENU));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->bob), draw_bob_cb, NULL, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "plumb-window");
  take_drops (self);
}

static GtkWidget *
scrolled_tape (PlumbWindow *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->tape = plumb_step_tape_new (self->document);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_EXTERNAL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->tape);
  return scroller;
}

/* Their columns may need more than a narrow window has. */
static GtkWidget *
scrolled_findings (PlumbWindow *self)
{
  self->findings_frame = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->findings_frame), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  return self->findings_frame;
}

/* A hundred rows take as long as all the rest of the window, so they come in
 * the frame after the first. */
static gboolean
fill_findings_cb (gpointer data)
{
  PlumbWindow *self = data;

  self->findings_idle = 0;
  self->findings = plumb_findings_pane_new (self->document);
  plumb_findings_pane_set_folded (self->findings, self->folded);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->findings_frame), self->findings);
  arrange (self);
  place_findings (self);
  return G_SOURCE_REMOVE;
}

static void
painted_cb (PlumbWindow *self)
{
  g_clear_signal_handler (&self->painted, gtk_widget_get_frame_clock (GTK_WIDGET (self)));
  self->findings_idle = g_idle_add (fill_findings_cb, self);
}

static void
realized_cb (PlumbWindow *self)
{
  if (self->findings == NULL && self->findings_idle == 0 && self->painted == 0)
    self->painted = g_signal_connect_object (gtk_widget_get_frame_clock (GTK_WIDGET (self)), "after-paint",
                                             G_CALLBACK (painted_cb), self, G_CONNECT_SWAPPED);
}

static PlumbDrawKind
kept_kind (PlumbWindow *self, const char *key, PlumbDrawKind otherwise)
{
  g_autofree char *word = g_key_file_get_string (self->state, STATE, key, NULL);
  PlumbDrawKind kind;

  return word != NULL && plumb_draw_kind_from_word (word, &kind) ? kind : otherwise;
}

static GtkWidget *
empty_part (PlumbWindow *self)
{
  GtkWidget *empty = plumb_empty_part_new (self->document);

  g_signal_connect_object (empty, "begun", G_CALLBACK (begun_cb), self, G_CONNECT_SWAPPED);
  return empty;
}

/* What stands at the right of the drawing. */
static GtkWidget *
second_pane (PlumbWindow *self)
{
  return plumb_view3d_pane_new (self->document);
}

/* Strip, drawings or choice, findings. */
static GtkWidget *
make_rest (PlumbWindow *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->strip = plumb_arrangement_strip_new (self->document);
  self->first = plumb_drawing_pane_new (self->document, kept_kind (self, "view", PLUMB_DRAW_PLAN));
  self->second = second_pane (self);
  self->panes = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  gtk_paned_set_start_child (GTK_PANED (self->panes), self->first);
  gtk_paned_set_end_child (GTK_PANED (self->panes), self->second);
  gtk_paned_set_shrink_start_child (GTK_PANED (self->panes), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (self->panes), FALSE);
  self->drawings = gtk_overlay_new ();
  gtk_overlay_set_child (GTK_OVERLAY (self->drawings), self->panes);
  gtk_overlay_add_overlay (GTK_OVERLAY (self->drawings), empty_part (self));
  self->views = gtk_stack_new ();
  gtk_stack_add_child (GTK_STACK (self->views), self->drawings);
  self->split = gtk_paned_new (GTK_ORIENTATION_VERTICAL);
  gtk_paned_set_start_child (GTK_PANED (self->split), self->views);
  gtk_paned_set_end_child (GTK_PANED (self->split), scrolled_findings (self));
  gtk_paned_set_resize_end_child (GTK_PANED (self->split), FALSE);
  gtk_paned_set_shrink_start_child (GTK_PANED (self->split), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (self->split), FALSE);
  gtk_widget_set_vexpand (self->split, TRUE);
  gtk_widget_add_css_class (column, "rest");
  gtk_box_append (GTK_BOX (column), self->strip);
  gtk_box_append (GTK_BOX (column), self->split);
  return column;
}

static void
fill (PlumbWindow *self)
{
  static const GActionEntry shows[] = { { .name = "show", .activate = show_cb },
                                        { .name = "show-both", .activate = show_cb } };

  self->trouble = plumb_trouble_new ();
  GtkWidget *tape = scrolled_tape (self);
  self->form = plumb_form_new (self->document);
  self->bench = plumb_bench_new (tape, self->form, make_rest (self));
  gtk_box_append (GTK_BOX (self->body), self->trouble);
  gtk_box_append (GTK_BOX (self->body), self->bench);
  g_signal_connect (self, "realize", G_CALLBACK (realized_cb), NULL);
  add_flag (self, "form", plumb_state_flag (self->state, STATE, "form", TRUE));
  add_flag (self, "form-over", plumb_state_flag (self->state, STATE, "form_over", FALSE));
  add_flag (self, "second", plumb_state_flag (self->state, STATE, "second_drawing", TRUE));
  add_flag (self, "compare", FALSE);
  g_action_map_add_action_entries (G_ACTION_MAP (self), shows, G_N_ELEMENTS (shows), self);
  self->findings_height = plumb_state_int (self->state, STATE, "findings_height", 0);
  self->folded = plumb_state_flag (self->state, STATE, "findings_folded", FALSE);
  g_signal_connect_object (self->split, "notify::max-position", G_CALLBACK (max_position_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->tape, "chosen", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->bench, "resized", G_CALLBACK (resized_cb), self, G_CONNECT_SWAPPED);
}

PlumbWindow *
plumb_window_new (GtkApplication *application, PlumbDocument *document, GKeyFile *state)
{
  PlumbWindow *self = g_object_new (PLUMB_TYPE_WINDOW, "application", application, NULL);
  int width = plumb_state_int (state, STATE, "width", USUAL_WIDTH_PX);
  int height = plumb_state_int (state, STATE, "height", USUAL_HEIGHT_PX);
  int step = plumb_state_int (state, STATE, "step", (int) PLUMB_STEP_MACHINE);

  self->document = g_object_ref (document);
  self->state = g_key_file_ref (state);
  fill (self);
  gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (plumb_state_flag (state, STATE, "maximised", FALSE))
    gtk_window_maximize (GTK_WINDOW (self));
  take_size_class (self, width, height);
  show_step (self, (PlumbStep) CLAMP (step, 0, PLUMB_N_STEPS - 1));
  plumb_document_listen_later (document, self, changed_cb);
  g_signal_connect_object (document, "filed", G_CALLBACK (update_header), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "selected", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
  return self;
}

PlumbTrouble *
plumb_window_trouble (PlumbWindow *self)
{
  g_return_val_if_fail (PLUMB_IS_WINDOW (self), NULL);
  return PLUMB_TROUBLE (self->trouble);
}
