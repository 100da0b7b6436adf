/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/style.h"

#include <stdlib.h>
#include <string.h>

#include "plumbeam/evaluate.h"

#define SHEETS "/org/plumbeam/Plumbeam/css/"
#define PORTAL "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"
/* A portal that runs answers in a few milliseconds; one that does not must not hold up the window. */
#define PORTAL_TIMEOUT_MS 80

static const char *const role_names[PLUMB_N_COLOURS] = {
  [PLUMB_COLOUR_BENCH] = "bench",
  [PLUMB_COLOUR_PAPER] = "paper",
  [PLUMB_COLOUR_SHEET] = "sheet",
  [PLUMB_COLOUR_EDGE] = "edge",
  [PLUMB_COLOUR_RULE] = "rule",
  [PLUMB_COLOUR_INK] = "ink",
  [PLUMB_COLOUR_INK2] = "ink2",
  [PLUMB_COLOUR_INK3] = "ink3",
  [PLUMB_COLOUR_ACCENT] = "accent",
  [PLUMB_COLOUR_ACCENT_SOFT] = "accent_soft",
  [PLUMB_COLOUR_ON_ACCENT] = "on_accent",
  [PLUMB_COLOUR_LAMP] = "lamp",
  [PLUMB_COLOUR_BEAM] = "beam",
  [PLUMB_COLOUR_PICTURE] = "picture",
  [PLUMB_COLOUR_HOLDS] = "holds",
  [PLUMB_COLOUR_TIGHT] = "tight",
  [PLUMB_COLOUR_FAILS] = "fails",
  [PLUMB_COLOUR_UNKNOWN] = "unknown",
  [PLUMB_COLOUR_HOLDS_SOFT] = "holds_soft",
  [PLUMB_COLOUR_TIGHT_SOFT] = "tight_soft",
  [PLUMB_COLOUR_FAILS_SOFT] = "fails_soft",
  [PLUMB_COLOUR_UNKNOWN_SOFT] = "unknown_soft",
  [PLUMB_COLOUR_WALL] = "wall",
  [PLUMB_COLOUR_HATCH] = "hatch",
  [PLUMB_COLOUR_BLOCKER] = "blocker",
  [PLUMB_COLOUR_BLOCKER_SOFT] = "blocker_soft",
  [PLUMB_COLOUR_TIMBER] = "timber",
  [PLUMB_COLOUR_SIGHT] = "sight",
  [PLUMB_COLOUR_SHADOW] = "shadow",
  [PLUMB_COLOUR_RUN_POWER] = "run_power",
  [PLUMB_COLOUR_RUN_SIGNAL] = "run_signal",
  [PLUMB_COLOUR_RUN_NET] = "run_net",
  [PLUMB_COLOUR_FOCUS] = "focus",
};

/* What the desktop asks for. The display's style is one for the whole
 * process, as are GtkSettings, so this is too. */
static struct {
  const PlumbDrawTheme *theme;
  GtkCssProvider *colours;
  GDBusConnection *bus;
  gboolean portal, dark, contrast;
} style;

const PlumbDrawTheme *
plumb_style_theme (void)
{
  return style.theme != NULL ? style.theme : plumb_draw_theme (PLUMB_THEME_LIGHT);
}

GdkRGBA
plumb_style_colour (PlumbDrawColour role)
{
  PlumbRgb rgb = plumb_draw_theme_colour (plumb_style_theme (), role);

  return (GdkRGBA){ (float) rgb.r, (float) rgb.g, (float) rgb.b, 1.0f };
}

void
plumb_style_set_source (cairo_t *cr, PlumbDrawColour role)
{
  PlumbRgb rgb = plumb_draw_theme_colour (plumb_style_theme (), role);

  cairo_set_source_rgb (cr, rgb.r, rgb.g, rgb.b);
}

/* ---- verdicts ------------------------------------------------------------------ */

static const struct {
  PlumbDrawColour role, soft;
  const char *css_class;
} verdicts[] = {
  [PLUMB_HOLDS] = { PLUMB_COLOUR_HOLDS, PLUMB_COLOUR_HOLDS_SOFT, "holds" },
  [PLUMB_TIGHT] = { PLUMB_COLOUR_TIGHT, PLUMB_COLOUR_TIGHT_SOFT, "tight" },
  [PLUMB_UNKNOWN] = { PLUMB_COLOUR_UNKNOWN, PLUMB_COLOUR_UNKNOWN_SOFT, "unknown" },
  [PLUMB_FAILS] = { PLUMB_COLOUR_FAILS, PLUMB_COLOUR_FAILS_SOFT, "fails" },
};

PlumbDrawColour
plumb_style_verdict_role (int verdict)
{
  return verdicts[verdict].role;
}

PlumbDrawColour
plumb_style_verdict_soft_role (int verdict)
{
  return verdicts[verdict].soft;
}

const char *
plumb_style_verdict_class (int verdict)
{
  return verdicts[verdict].css_class;
}

void
plumb_style_set_verdict_class (GtkWidget *widget, int verdict)
{
  for (int i = 0; i < (int) G_N_ELEMENTS (verdicts); i++)
    if (i == verdict)
      gtk_widget_add_css_class (widget, verdicts[i].css_class);
    else
      gtk_widget_remove_css_class (widget, verdicts[i].css_class);
}

/* ---- the style sheet ------------------------------------------------------------ */

static char *
colours_css (const PlumbDrawTheme *theme)
{
  GString *css = g_string_new (NULL);

  for (int i = 0; i < PLUMB_N_COLOURS; i++)
    {
      PlumbRgb rgb = plumb_draw_theme_colour (theme, (PlumbDrawColour) i);
      g_string_append_printf (css, "@define-color plumb_%s #%02X%02X%02X;\n", role_names[i],
                              (guint) (rgb.r * 255.0 + 0.5), (guint) (rgb.g * 255.0 + 0.5),
                              (guint) (rgb.b * 255.0 + 0.5));
    }
  for (int i = 0; i < PLUMB_N_COLOURS; i++)
    g_string_append_printf (css, ".%s { color: @plumb_%s; }\n", role_names[i], role_names[i]);
  return g_string_free (css, FALSE);
}

/* Widgets that draw with a role do not see that its colour became another. */
static void
draw_anew (GtkWidget *widget)
{
  gtk_widget_queue_draw (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    draw_anew (child);
}

static void
mark_window (GtkWidget *window)
{
  if (plumb_style_theme ()->high_contrast)
    gtk_widget_add_css_class (window, "high-contrast");
  else
    gtk_widget_remove_css_class (window, "high-contrast");
}

static void
windows_changed_cb (GListModel *windows, guint position, guint removed, guint added, gpointer unused)
{
  (void) removed;
  (void) unused;
  for (guint i = 0; i < added; i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, position + i);
      mark_window (window);
    }
}

static PlumbDrawThemeId
wanted_theme (void)
{
  const char *forced = g_getenv ("PLUMB_THEME");
  static const struct {
    const char *word;
    PlumbDrawThemeId id;
  } words[] = {
    { "light", PLUMB_THEME_LIGHT },
    { "dark", PLUMB_THEME_DARK },
    { "contrast", PLUMB_THEME_CONTRAST },
    { "contrast_dark", PLUMB_THEME_CONTRAST_DARK },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_strcmp0 (forced, words[i].word) == 0)
      return words[i].id;
  if (style.contrast)
    return style.dark ? PLUMB_THEME_CONTRAST_DARK : PLUMB_THEME_CONTRAST;
  return style.dark ? PLUMB_THEME_DARK : PLUMB_THEME_LIGHT;
}

static void
update_theme (void)
{
  const PlumbDrawTheme *theme = plumb_draw_theme (wanted_theme ());

  if (theme == style.theme)
    return;
  style.theme = theme;
  g_autofree char *css = colours_css (theme);
  gtk_css_provider_load_from_data (style.colours, css, -1);
  /* For what GTK draws by itself: menus, file chooser, window controls. */
  g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", (gboolean) theme->dark, NULL);
  GListModel *windows = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      mark_window (window);
      draw_anew (window);
    }
}

/* ---- what the desktop asks for ------------------------------------------------------ */

static void
read_theme_name (void)
{
  g_autofree char *name = NULL;

  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &name, NULL);
  if (name == NULL)
    return;
  style.contrast = g_str_has_prefix (name, "HighContrast");
  style.dark = g_str_has_suffix (name, "-dark") || g_str_equal (name, "HighContrastInverse");
}

static void
take_setting (const char *key, GVariant *value)
{
  if (!g_variant_is_of_type (value, G_VARIANT_TYPE_UINT32))
    return;
  if (g_str_equal (key, "color-scheme")) /* 1: dark is preferred */
    style.dark = g_variant_get_uint32 (value) == 1;
  else if (g_str_equal (key, "contrast")) /* 1: more */
    style.contrast = g_variant_get_uint32 (value) == 1;
}

static void
setting_changed_cb (GDBusConnection *bus, const char *sender, const char *path, const char *interface,
                    const char *signal, GVariant *arguments, gpointer unused)
{
  const char *space, *key;
  g_autoptr (GVariant) value = NULL;

  (void) bus, (void) sender, (void) path, (void) interface, (void) signal, (void) unused;
  if (!g_variant_is_of_type (arguments, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (arguments, "(&s&sv)", &space, &key, &value);
  if (!g_str_equal (space, APPEARANCE))
    return;
  style.portal = TRUE;
  take_setting (key, value);
  update_theme ();
}

/* Read() wraps the value in one variant too many. */
static GVariant *
unwrap (GVariant *value)
{
  while (g_variant_is_of_type (value, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *inner = g_variant_get_variant (value);
      g_variant_unref (value);
      value = inner;
    }
  return value;
}

static gboolean
read_portal (const char *key)
{
  g_autoptr (GVariant) answer = g_dbus_connection_call_sync (
      style.bus, PORTAL, PORTAL_PATH, PORTAL_SETTINGS, "Read", g_variant_new ("(ss)", APPEARANCE, key),
      G_VARIANT_TYPE ("(v)"), G_DBUS_CALL_FLAGS_NO_AUTO_START, PORTAL_TIMEOUT_MS, NULL, NULL);

  if (answer == NULL) /* no portal, or one that does not know the key */
    return FALSE;
  GVariant *value = unwrap (g_variant_get_child_value (answer, 0));
  take_setting (key, value);
  g_variant_unref (value);
  return TRUE;
}

static void
follow_portal (void)
{
  /* Without a session bus there is no portal: the name of the theme is left. */
  style.bus = g_bus_get_sync (G_BUS_TYPE_SESSION, NULL, NULL);
  if (style.bus == NULL)
    return;
  g_dbus_connection_signal_subscribe (style.bus, PORTAL, PORTAL_SETTINGS, "SettingChanged", PORTAL_PATH, APPEARANCE,
                                      G_DBUS_SIGNAL_FLAGS_NONE, setting_changed_cb, NULL, NULL);
  style.portal = read_portal ("color-scheme");
  if (style.portal)
    read_portal ("contrast");
}

static void
theme_name_changed_cb (GtkSettings *settings, GParamSpec *pspec, gpointer unused)
{
  (void) settings, (void) pspec, (void) unused;
  if (style.portal)
    return;
  read_theme_name ();
  update_theme ();
}

static int
by_name_cb (const void *a, const void *b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* All sheets of the resource, in the order of their names. */
static void
load_sheets (GdkDisplay *display)
{
  g_auto (GStrv) names = g_resources_enumerate_children (SHEETS, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  guint n = names != NULL ? g_strv_length (names) : 0;

  if (n > 0)
    qsort (names, n, sizeof *names, by_name_cb);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GtkCssProvider) sheet = gtk_css_provider_new ();
      g_autofree char *path = g_strconcat (SHEETS, names[i], NULL);
      gtk_css_provider_load_from_resource (sheet, path);
      gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (sheet),
                                                  GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1 + i);
    }
}

void
plumb_style_install (GdkDisplay *display)
{
  if (style.colours != NULL)
    return;
  style.colours = gtk_css_provider_new ();
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (style.colours),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  read_theme_name ();
  follow_portal ();
  update_theme ();
  load_sheets (display);
  g_signal_connect (gtk_settings_get_default (), "notify::gtk-theme-name", G_CALLBACK (theme_name_changed_cb), NULL);
  g_signal_connect (gtk_window_get_toplevels (), "items-changed", G_CALLBACK (windows_changed_cb), NULL);
}

void
plumb_style_set_tooltip (GtkWidget *widget, const char *text)
{
  if (g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) != 0)
    gtk_widget_set_tooltip_text (widget, text);
}
