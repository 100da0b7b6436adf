/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/drawing-menu.h"

static const struct {
  const char *action, *label;
  PlumbDrawLayer layer;
} layers[] = {
  { "light", N_ ("_Light on the picture"), PLUMB_LAYER_LIGHT },
  { "shadows", N_ ("_Shadows in the picture"), PLUMB_LAYER_SHADOWS },
  { "hidden", N_ ("_Hidden from the chosen seat"), PLUMB_LAYER_HIDDEN },
  { "off-axis", N_ ("Limits beside the _axis"), PLUMB_LAYER_OFF_AXIS },
};

/* ---- actions --------------------------------------------------------------------- */

static void
question_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbDrawingArea *area = data;
  PlumbDrawShown shown = plumb_drawing_area_get_view (area)->shown;

  if (!plumb_question_from_word (g_variant_get_string (value, NULL), &shown.question))
    return;
  g_simple_action_set_state (action, value);
  plumb_drawing_area_show (area, &shown);
}

static void
layer_changed_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  PlumbDrawingArea *area = data;
  PlumbDrawShown shown = plumb_drawing_area_get_view (area)->shown;

  for (gsize i = 0; i < G_N_ELEMENTS (layers); i++)
    if (g_str_equal (layers[i].action, g_action_get_name (G_ACTION (action))))
      shown.layers = g_variant_get_boolean (value) ? shown.layers | layers[i].layer
                                                   : shown.layers & ~(unsigned) layers[i].layer;
  g_simple_action_set_state (action, value);
  plumb_drawing_area_show (area, &shown);
}

static void
add_actions (GSimpleActionGroup *group, PlumbDrawingArea *area)
{
  const PlumbDrawShown *shown = &plumb_drawing_area_get_view (area)->shown;
  g_autoptr (GSimpleAction) question = g_simple_action_new_stateful (
      "question", G_VARIANT_TYPE_STRING, g_variant_new_string (plumb_question_info (shown->question)->word));

  g_signal_connect_object (question, "change-state", G_CALLBACK (question_changed_cb), area, 0);
  g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (question));
  for (gsize i = 0; i < G_N_ELEMENTS (layers); i++)
    {
      gboolean on = (shown->layers & layers[i].layer) != 0;
      g_autoptr (GSimpleAction) flag
          = g_simple_action_new_stateful (layers[i].action, NULL, g_variant_new_boolean (on));
      g_signal_connect_object (flag, "change-state", G_CALLBACK (layer_changed_cb), area, 0);
      g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (flag));
    }
}

/* ---- menu -------------------------------------------------------------------------- */

static GMenuModel *
make_menu (void)
{
  g_autoptr (GMenu) over = g_menu_new (), seats = g_menu_new ();
  GMenu *menu = g_menu_new ();

  for (int i = 0; i < PLUMB_N_QUESTIONS; i++)
    {
      const PlumbQuestionInfo *info = plumb_question_info ((PlumbQuestion) i);
      g_autoptr (GMenuItem) item = g_menu_item_new (info->label, NULL);
      g_menu_item_set_action_and_target (item, "drawing.question", "s", info->word);
      g_menu_append_item (seats, item);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (layers); i++)
    {
      g_autofree char *action = g_strconcat ("drawing.", layers[i].action, NULL);
      g_menu_append (over, layers[i].label, action);
    }
  g_menu_append_section (menu, NULL, G_MENU_MODEL (over));
  g_menu_append_section (menu, N_ ("What the seats say"), G_MENU_MODEL (seats));
  return G_MENU_MODEL (menu);
}

void
plumb_drawing_menu_add (GtkWidget *pane, GtkMenuButton *button, PlumbDrawingArea *area)
{
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_autoptr (GMenuModel) menu = make_menu ();

  add_actions (group, area);
  gtk_widget_insert_action_group (pane, "drawing", G_ACTION_GROUP (group));
  gtk_menu_button_set_menu_model (button, menu);
}
