/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/show-window.h"

#include "app/document-later.h"
#include "app/form-drop-down.h"
#include "app/show-side.h"
#include "text/half.h"

#define N_CAMERAS PLUMB_N_CAMERA_KINDS
/* Where the window system does not take it for full-screen. */
#define USUAL_WIDTH_PX 1280
#define USUAL_HEIGHT_PX 800
/* Even, as displays are wide: both pictures are of one size. */
#define RULE_PX 2

/* Entries of the list before the other arrangements. */
enum { ENTRY_CURRENT, ENTRY_UNCORRECTED, N_FIXED_ENTRIES };

struct _PlumbShowWindow {
  GtkWindow parent_instance;

  PlumbDocument *document;
  PlumbShowSide sides[PLUMB_N_SHOWN];
  GtkWidget *pictures, *rule, *trouble, *below, *bar, *cameras[N_CAMERAS], *both, *name, *choice;
  GtkStringList *names; /* of the list */
  GArray *others;       /* guint: its arrangements, after the fixed entries */
  gboolean filling, has_light;
};

G_DEFINE_FINAL_TYPE (PlumbShowWindow, plumb_show_window, GTK_TYPE_WINDOW)

static PlumbView3dArea *
leader (PlumbShowWindow *self)
{
  return PLUMB_VIEW3D_AREA (self->sides[PLUMB_SHOW_AFTER].area);
}

/* ---- light --------------------------------------------------------------------------- */

static void
lit_cb (PlumbShowWindow *self)
{
  for (int i = 0; i < PLUMB_N_SHOWN; i++)
    plumb_show_side_lit (&self->sides[i]);
}

/* What differs is the light, until another half is chosen: the dark room, or
 * the first state beside the dark. */
static void
choose_first_light (PlumbShowWindow *self)
{
  guint after = plumb_view3d_light_get (PLUMB_VIEW3D_LIGHT (self->sides[PLUMB_SHOW_AFTER].light));

  if (self->has_light)
    return;
  self->has_light = TRUE;
  plumb_view3d_light_choose (PLUMB_VIEW3D_LIGHT (self->sides[PLUMB_SHOW_BEFORE].light),
                             after == PLUMB_NO_INDEX ? 0 : PLUMB_NO_INDEX);
}

/* ---- words ---------------------------------------------------------------------------- */

static void
show_figures (PlumbShowWindow *self)
{
  for (int i = 0; i < PLUMB_N_SHOWN; i++)
    plumb_show_side_tell (&self->sides[i]);
}

static guint
entry_now (PlumbShowWindow *self)
{
  PlumbHalfKind kind = plumb_view3d_half_kind (self->sides[PLUMB_SHOW_BEFORE].half);
  guint arrangement = plumb_view3d_half_arrangement (self->sides[PLUMB_SHOW_BEFORE].half);

  for (guint i = 0; kind == PLUMB_HALF_ARRANGEMENT && i < self->others->len; i++)
    if (g_array_index (self->others, guint, i) == arrangement)
      return N_FIXED_ENTRIES + i;
  return kind == PLUMB_HALF_UNCORRECTED ? ENTRY_UNCORRECTED : ENTRY_CURRENT;
}

static void
fill_choice (PlumbShowWindow *self)
{
  const PlumbScene *scene = plumb_document_scene (self->document);
  guint current = plumb_document_arrangement (self->document);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  uint32_t n;

  plumb_scene_arrangement_records (scene, &n);
  g_array_set_size (self->others, 0);
  g_ptr_array_add (names, plumb_half_name (scene, current, true));
  g_ptr_array_add (names, plumb_half_name (scene, current, false));
  for (guint i = 0; i < n; i++)
    if (i != current)
      {
        g_ptr_array_add (names, plumb_half_name (scene, i, true));
        g_array_append_val (self->others, i);
      }
  g_ptr_array_add (names, NULL);
  self->filling = TRUE;
  plumb_form_drop_down_fill (self->names, (const char *const *) names->pdata);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), entry_now (self));
  self->filling = FALSE;
  gtk_label_set_label (GTK_LABEL (self->name), names->pdata[ENTRY_CURRENT]);
}

static void
choice_cb (PlumbShowWindow *self)
{
  guint entry = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  PlumbView3dHalf *half = self->sides[PLUMB_SHOW_BEFORE].half;

  if (self->filling || entry == GTK_INVALID_LIST_POSITION)
    return;
  if (entry >= N_FIXED_ENTRIES)
    plumb_view3d_half_choose (half, PLUMB_HALF_ARRANGEMENT,
                              g_array_index (self->others, guint, entry - N_FIXED_ENTRIES));
  else
    plumb_view3d_half_choose (half, entry == ENTRY_UNCORRECTED ? PLUMB_HALF_UNCORRECTED : PLUMB_HALF_CURRENT, 0);
  /* Two arrangements are compared in one light. */
  if (entry != ENTRY_CURRENT)
    plumb_view3d_light_choose (PLUMB_VIEW3D_LIGHT (self->sides[PLUMB_SHOW_BEFORE].light),
                               plumb_view3d_light_get (PLUMB_VIEW3D_LIGHT (self->sides[PLUMB_SHOW_AFTER].light)));
  show_figures (self);
}

static void
changed_cb (gpointer listener)
{
  PlumbShowWindow *self = listener;
  g_autofree char *title
      = g_strdup_printf ("%s – Show", plumb_scene_job (plumb_document_scene (self->document), 0)->title);

  gtk_window_set_title (GTK_WINDOW (self), title);
  fill_choice (self);
  show_figures (self);
}

/* ---- the eye --------------------------------------------------------------------------- */

static void
viewed_cb (PlumbShowWindow *self)
{
  for (int i = 0; i < N_CAMERAS; i++)
    gtk_widget_set_sensitive (self->cameras[i], plumb_view3d_area_can (leader (self), (PlumbCameraKind) i));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->cameras[plumb_view3d_area_get_kind (leader (self))]), TRUE);
}

static void
camera_cb (PlumbShowWindow *self, GtkToggleButton *word)
{
  if (!gtk_toggle_button_get_active (word) || leader (self) == NULL)
    return;
  for (int i = 0; i < N_CAMERAS; i++)
    if (self->cameras[i] == GTK_WIDGET (word))
      plumb_view3d_area_set_kind (leader (self), (PlumbCameraKind) i);
}

static void
troubled_cb (PlumbShowWindow *self, const char *why)
{
  g_autofree char *words = g_strdup_printf ("No 3D here: %s.", why);

  gtk_label_set_label (GTK_LABEL (self->trouble), words);
  gtk_widget_set_visible (self->trouble, TRUE);
  gtk_widget_set_visible (self->pictures, FALSE);
  gtk_widget_set_sensitive (self->both, FALSE);
  for (int i = 0; i < N_CAMERAS; i++)
    gtk_widget_set_sensitive (self->cameras[i], FALSE);
}

static void
make_area (PlumbShowWindow *self, PlumbShowWhich which)
{
  GtkWidget *area = plumb_view3d_area_new_to_look (self->sides[which].half);

  self->sides[which].area = area;
  g_signal_connect_object (area, "troubled", G_CALLBACK (troubled_cb), self, G_CONNECT_SWAPPED);
  if (which == PLUMB_SHOW_AFTER)
    gtk_box_append (GTK_BOX (self->pictures), area);
  else
    gtk_box_prepend (GTK_BOX (self->pictures), area);
}

/* ---- both ------------------------------------------------------------------------------- */

static void
both_cb (PlumbShowWindow *self)
{
  gboolean both = plumb_show_window_get_both (self);
  PlumbShowSide *before = &self->sides[PLUMB_SHOW_BEFORE];

  if (both && before->area == NULL)
    {
      make_area (self, PLUMB_SHOW_BEFORE);
      plumb_view3d_area_take_after (PLUMB_VIEW3D_AREA (before->area), leader (self));
      plumb_view3d_area_follow (PLUMB_VIEW3D_AREA (before->area), leader (self));
      choose_first_light (self);
      lit_cb (self);
    }
  if (before->area != NULL)
    gtk_widget_set_visible (before->area, both);
  gtk_widget_set_visible (before->foot, both);
  gtk_widget_set_visible (self->rule, both);
  gtk_widget_set_visible (self->sides[PLUMB_SHOW_AFTER].head, both);
  gtk_widget_set_visible (self->sides[PLUMB_SHOW_AFTER].figures, both);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->below),
                                  both ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
}

void
plumb_show_window_set_both (PlumbShowWindow *self, gboolean both)
{
  g_return_if_fail (PLUMB_IS_SHOW_WINDOW (self));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->both), both);
}

gboolean
plumb_show_window_get_both (PlumbShowWindow *self)
{
  g_return_val_if_fail (PLUMB_IS_SHOW_WINDOW (self), FALSE);
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->both));
}

/* ---- making --------------------------------------------------------------------------------- */

static gboolean
key_cb (PlumbShowWindow *self, guint keyval)
{
  if (keyval != GDK_KEY_Escape && keyval != GDK_KEY_F11)
    return FALSE;
  gtk_window_close (GTK_WINDOW (self));
  return TRUE;
}

/* The mark of the focus comes when the keyboard is used. */
static gboolean
any_key_cb (PlumbShowWindow *self, guint keyval)
{
  if (keyval != GDK_KEY_Escape && keyval != GDK_KEY_F11)
    gtk_widget_remove_css_class (GTK_WIDGET (self), "calm");
  return FALSE;
}

static void
make_heads (PlumbShowWindow *self)
{
  self->name = plumb_show_label_new ("", "show-name");
  self->names = gtk_string_list_new (NULL);
  self->choice = plumb_form_drop_down_new (self->names);
  gtk_widget_set_hexpand (self->choice, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, "What before shows",
                                  -1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_RELATION_LABELLED_BY,
                                  self->sides[PLUMB_SHOW_BEFORE].title, NULL, -1);
  g_signal_connect_object (self->choice, "notify::selected", G_CALLBACK (choice_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->sides[PLUMB_SHOW_BEFORE].head), self->choice);
  gtk_box_append (GTK_BOX (self->sides[PLUMB_SHOW_AFTER].head), self->name);
}

static GtkWidget *
word_button (GtkWidget *button)
{
  GtkWidget *child = gtk_button_get_child (GTK_BUTTON (button));

  gtk_label_set_ellipsize (GTK_LABEL (child), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (button, "view3d-word");
  return button;
}

static void
make_bar (PlumbShowWindow *self)
{
  static const struct {
    PlumbCameraKind kind;
    const char *word;
  } words[] = { { PLUMB_CAMERA_ROOM, "Room" },
                { PLUMB_CAMERA_LENS, "From the lens" },
                { PLUMB_CAMERA_FRONT, "At the screen" },
                { PLUMB_CAMERA_SEAT, "From a seat" } };
  GtkWidget *leave = word_button (gtk_button_new_with_label ("Leave"));

  self->bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (self->bar, "show-bar");
  gtk_widget_set_valign (self->bar, GTK_ALIGN_START);
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      GtkWidget *word = word_button (gtk_toggle_button_new_with_label (words[i].word));
      self->cameras[words[i].kind] = word;
      if (i > 0)
        gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (word), GTK_TOGGLE_BUTTON (self->cameras[PLUMB_CAMERA_ROOM]));
      g_signal_connect_object (word, "toggled", G_CALLBACK (camera_cb), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->bar), word);
    }
  self->both = word_button (gtk_toggle_button_new_with_label ("Before and after"));
  gtk_widget_set_hexpand (self->both, TRUE);
  gtk_widget_set_halign (self->both, GTK_ALIGN_END);
  g_signal_connect_object (self->both, "toggled", G_CALLBACK (both_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_set_tooltip_text (leave, "Escape");
  g_signal_connect_object (leave, "clicked", G_CALLBACK (gtk_window_close), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->bar), self->both);
  gtk_box_append (GTK_BOX (self->bar), leave);
}

static void
fill (PlumbShowWindow *self)
{
  static const char *const titles[] = { [PLUMB_SHOW_BEFORE] = "before", [PLUMB_SHOW_AFTER] = "after" };
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *feet = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->pictures = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->rule = gtk_separator_new (GTK_ORIENTATION_VERTICAL);
  self->trouble = plumb_show_label_new ("", "view3d-reason");
  self->below = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_vexpand (self->trouble, TRUE);
  gtk_widget_set_visible (self->trouble, FALSE);
  gtk_label_set_wrap (GTK_LABEL (self->trouble), TRUE);
  gtk_widget_set_size_request (self->rule, RULE_PX, -1);
  gtk_widget_add_css_class (self->rule, "show-rule");
  gtk_widget_add_css_class (self->below, "show-below");
  gtk_box_set_homogeneous (GTK_BOX (feet), TRUE);
  gtk_widget_set_hexpand (feet, TRUE);
  make_bar (self);
  for (int i = 0; i < PLUMB_N_SHOWN; i++)
    {
      plumb_show_side_init (&self->sides[i], self->document, titles[i]);
      g_signal_connect_object (self->sides[i].light, "lit", G_CALLBACK (lit_cb), self, G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (feet), self->sides[i].foot);
    }
  make_heads (self);
  gtk_box_append (GTK_BOX (self->pictures), self->rule);
  gtk_box_append (GTK_BOX (self->below), feet);
  gtk_box_append (GTK_BOX (self->below), self->bar);
  gtk_box_append (GTK_BOX (all), self->pictures);
  gtk_box_append (GTK_BOX (all), self->trouble);
  gtk_box_append (GTK_BOX (all), self->below);
  gtk_window_set_child (GTK_WINDOW (self), all);
}

static void
plumb_show_window_finalize (GObject *object)
{
  PlumbShowWindow *self = PLUMB_SHOW_WINDOW (object);

  for (int i = 0; i < PLUMB_N_SHOWN; i++)
    plumb_show_side_clear (&self->sides[i]);
  g_array_unref (self->others);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_show_window_parent_class)->finalize (object);
}

static void
plumb_show_window_class_init (PlumbShowWindowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_show_window_finalize;
}

static void
plumb_show_window_init (PlumbShowWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *any = gtk_event_controller_key_new ();

  self->others = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_window_set_default_size (GTK_WINDOW (self), USUAL_WIDTH_PX, USUAL_HEIGHT_PX);
  gtk_window_set_decorated (GTK_WINDOW (self), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (self), "plumb-window");
  gtk_widget_add_css_class (GTK_WIDGET (self), "show");
  gtk_widget_add_css_class (GTK_WIDGET (self), "calm");
  gtk_event_controller_set_propagation_phase (any, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (any, "key-pressed", G_CALLBACK (any_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), any);
  /* After the list, which Escape closes. */
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

PlumbShowWindow *
plumb_show_window_new (PlumbDocument *document, PlumbView3dArea *like, guint light)
{
  PlumbShowWindow *self = g_object_new (PLUMB_TYPE_SHOW_WINDOW, "accessible-role", GTK_ACCESSIBLE_ROLE_DIALOG, NULL);

  self->document = g_object_ref (document);
  fill (self);
  make_area (self, PLUMB_SHOW_AFTER);
  if (like != NULL)
    plumb_view3d_area_take_after (leader (self), like);
  plumb_view3d_light_choose (PLUMB_VIEW3D_LIGHT (self->sides[PLUMB_SHOW_AFTER].light), light);
  g_signal_connect_object (leader (self), "viewed", G_CALLBACK (viewed_cb), self, G_CONNECT_SWAPPED);
  viewed_cb (self);
  lit_cb (self);
  both_cb (self);
  changed_cb (self);
  plumb_document_listen_later (document, self, changed_cb);
  gtk_widget_grab_focus (GTK_WIDGET (leader (self)));
  gtk_window_fullscreen (GTK_WINDOW (self));
  return self;
}

/* ---- for the window and for tests -------------------------------------------------------------- */

PlumbView3dArea *
plumb_show_window_area (PlumbShowWindow *self, PlumbShowWhich which)
{
  g_return_val_if_fail (PLUMB_IS_SHOW_WINDOW (self) && which < PLUMB_N_SHOWN, NULL);
  return PLUMB_VIEW3D_AREA (self->sides[which].area);
}

PlumbView3dLight *
plumb_show_window_light (PlumbShowWindow *self, PlumbShowWhich which)
{
  g_return_val_if_fail (PLUMB_IS_SHOW_WINDOW (self) && which < PLUMB_N_SHOWN, NULL);
  return PLUMB_VIEW3D_LIGHT (self->sides[which].light);
}

GtkDropDown *
plumb_show_window_choice (PlumbShowWindow *self)
{
  g_return_val_if_fail (PLUMB_IS_SHOW_WINDOW (self), NULL);
  return GTK_DROP_DOWN (self->choice);
}

const char *
plumb_show_window_figures (PlumbShowWindow *self, PlumbShowWhich which)
{
  g_return_val_if_fail (PLUMB_IS_SHOW_WINDOW (self) && which < PLUMB_N_SHOWN, NULL);
  return gtk_label_get_label (GTK_LABEL (self->sides[which].figures));
}
