// SPDX-License-Identifier: GPL-3.0-or-later
// Two CSS providers: shapes once, colours by palette. GTK 4.8 does not follow the desktop's colour
// scheme by itself, so the settings portal is asked, and GTK's own preference for dark as well.
#include "lz_theme.h"

#include <string.h>

#define RESOURCES "/net/lazaret/Lazaret/"

typedef struct {
  GtkCssProvider *shapes, *colours;
  GDBusProxy *portal;
  bool portal_dark, portal_contrast;
  int desktop_dpi; // gtk-xft-dpi before our percent
  bool busy;
  LzTheme now;
} Theme;

static Theme theme = {.now = LZ_THEME_LIGHT};

static bool
desktop_is_dark(GtkSettings *settings)
{
  gboolean prefer = FALSE;
  g_autofree char *name = NULL;
  g_object_get(settings, "gtk-application-prefer-dark-theme", &prefer, "gtk-theme-name", &name,
               NULL);
  return prefer || theme.portal_dark || (name && g_str_has_suffix(name, "-dark"));
}

static bool
desktop_is_contrast(GtkSettings *settings)
{
  g_autofree char *name = NULL;
  g_object_get(settings, "gtk-theme-name", &name, NULL);
  return theme.portal_contrast || (name && strstr(name, "HighContrast"));
}

static LzTheme
decide(void)
{
  LzTheme chosen = (LzTheme)g_settings_get_enum(lz_settings(), "theme");
  GtkSettings *settings = gtk_settings_get_default();
  if (chosen != LZ_THEME_SYSTEM)
    return chosen;
  if (desktop_is_contrast(settings))
    return LZ_THEME_CONTRAST;
  return desktop_is_dark(settings) ? LZ_THEME_DARK : LZ_THEME_LIGHT;
}

static void
redraw_all(void)
{
  GListModel *windows = gtk_window_get_toplevels();
  for (guint i = 0; i < g_list_model_get_n_items(windows); i++) {
    g_autoptr(GtkWidget) window = g_list_model_get_item(windows, i);
    gtk_widget_queue_resize(window);
  }
}

static void
apply(void)
{
  static const char *const files[] = {
      [LZ_THEME_LIGHT] = "lazaret-light.css",
      [LZ_THEME_DARK] = "lazaret-dark.css",
      [LZ_THEME_CONTRAST] = "lazaret-contrast.css",
  };
  if (theme.busy)
    return;
  theme.busy = true; // setting gtk-xft-dpi below calls back
  theme.now = decide();
  g_autofree char *path = g_strconcat(RESOURCES, files[theme.now], NULL);
  gtk_css_provider_load_from_resource(theme.colours, path);
  int percent = g_settings_get_int(lz_settings(), "text-percent");
  int dpi = theme.desktop_dpi > 0 ? theme.desktop_dpi : 96 * 1024;
  g_object_set(gtk_settings_get_default(), "gtk-xft-dpi", dpi * percent / 100,
               "gtk-enable-animations", FALSE, NULL);
  theme.busy = false;
  redraw_all();
}

static void on_portal_signal(GDBusProxy *proxy, const char *sender, const char *name,
                             GVariant *arguments, gpointer data);

static guint32
portal_read(const char *group, const char *key)
{
  g_autoptr(GVariant) answer =
      g_dbus_proxy_call_sync(theme.portal, "Read", g_variant_new("(ss)", group, key),
                             G_DBUS_CALL_FLAGS_NO_AUTO_START, 500, NULL, NULL);
  if (!answer)
    return 0;
  g_autoptr(GVariant) outer = g_variant_get_child_value(answer, 0);
  g_autoptr(GVariant) value = g_variant_get_variant(outer);
  while (g_variant_is_of_type(value, G_VARIANT_TYPE_VARIANT)) {
    GVariant *inner = g_variant_get_variant(value);
    g_variant_unref(value);
    value = inner;
  }
  return g_variant_is_of_type(value, G_VARIANT_TYPE_UINT32) ? g_variant_get_uint32(value) : 0;
}

static void
read_portal(void)
{
  theme.portal_dark = portal_read("org.freedesktop.appearance", "color-scheme") == 1;
  theme.portal_contrast = portal_read("org.freedesktop.appearance", "contrast") == 1;
  apply();
}

static void
on_portal_signal(GDBusProxy *proxy, const char *sender, const char *name, GVariant *arguments,
                 gpointer data)
{
  if (strcmp(name, "SettingChanged") == 0)
    read_portal();
}

static void
on_portal(GObject *source, GAsyncResult *result, gpointer data)
{
  theme.portal = g_dbus_proxy_new_for_bus_finish(result, NULL);
  if (!theme.portal)
    return;
  g_autofree char *owner = g_dbus_proxy_get_name_owner(theme.portal);
  if (!owner) // no portal runs here
    return;
  g_signal_connect(theme.portal, "g-signal", G_CALLBACK(on_portal_signal), NULL);
  read_portal();
}

void
lz_theme_start(GdkDisplay *display)
{
  if (theme.shapes)
    return;
  theme.shapes = gtk_css_provider_new();
  theme.colours = gtk_css_provider_new();
  gtk_css_provider_load_from_resource(theme.shapes, RESOURCES "lazaret.css");
  gtk_style_context_add_provider_for_display(display, GTK_STYLE_PROVIDER(theme.shapes),
                                             GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_style_context_add_provider_for_display(display, GTK_STYLE_PROVIDER(theme.colours),
                                             GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  GtkSettings *settings = gtk_settings_get_default();
  g_object_get(settings, "gtk-xft-dpi", &theme.desktop_dpi, NULL);
  apply();
  g_signal_connect(settings, "notify::gtk-application-prefer-dark-theme", apply, NULL);
  g_signal_connect(settings, "notify::gtk-theme-name", apply, NULL);
  g_signal_connect(lz_settings(), "changed::theme", apply, NULL);
  g_signal_connect(lz_settings(), "changed::text-percent", apply, NULL);
  g_dbus_proxy_new_for_bus(
      G_BUS_TYPE_SESSION,
      G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START | G_DBUS_PROXY_FLAGS_DO_NOT_LOAD_PROPERTIES, NULL,
      "org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop",
      "org.freedesktop.portal.Settings", NULL, on_portal, NULL);
}

LzTheme
lz_theme_now(void)
{
  return theme.now;
}

double
lz_theme_text_scale(void)
{
  int dpi = -1;
  g_object_get(gtk_settings_get_default(), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / (96.0 * 1024.0) : 1.0;
}
