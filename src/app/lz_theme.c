// SPDX-License-Identifier: GPL-3.0-or-later
// Two CSS providers: shapes once, colours by palette. The colours are written from the drawing
// layer's own palette, so that what is drawn and what GTK paints cannot differ. GTK 4.8 does not
// follow the desktop's colour scheme by itself, so the settings portal is asked, and GTK's own
// preference for dark and the name of its theme as well.
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

// Of the theme "Default-hc-dark", "HighContrastInverse", "Adwaita:dark" (GTK_THEME).
static bool
names_dark(const char *name)
{
  return strstr(name, "dark") || strstr(name, "Inverse");
}

static bool
names_contrast(const char *name)
{
  return strstr(name, "HighContrast") || strstr(name, "-hc") || strstr(name, ":hc");
}

LzTheme
lz_theme_choose(LzTheme setting, const LzDesktopLook *desktop)
{
  const char *name = desktop->gtk_theme ? desktop->gtk_theme : "";
  if (setting != LZ_THEME_SYSTEM)
    return setting;
  bool dark = desktop->dark || names_dark(name);
  if (desktop->contrast || names_contrast(name))
    return dark ? LZ_THEME_CONTRAST_DARK : LZ_THEME_CONTRAST;
  return dark ? LZ_THEME_DARK : LZ_THEME_LIGHT;
}

static LzTheme
decide(void)
{
  gboolean prefer_dark = FALSE;
  g_autofree char *name = NULL;
  g_object_get(gtk_settings_get_default(), "gtk-application-prefer-dark-theme", &prefer_dark,
               "gtk-theme-name", &name, NULL);
  const char *forced = g_getenv("GTK_THEME"); // GTK obeys it and leaves the property as it was
  LzDesktopLook desktop = {
      .gtk_theme = forced && *forced ? forced : name,
      .dark = prefer_dark || theme.portal_dark,
      .contrast = theme.portal_contrast,
  };
  return lz_theme_choose((LzTheme)g_settings_get_enum(lz_settings(), "theme"), &desktop);
}

const lzd_palette *
lz_theme_palette(void)
{
  static const lzd_theme palettes[] = {
      [LZ_THEME_LIGHT] = LZD_LIGHT,
      [LZ_THEME_DARK] = LZD_DARK,
      [LZ_THEME_CONTRAST] = LZD_LIGHT_CONTRAST,
      [LZ_THEME_CONTRAST_DARK] = LZD_DARK_CONTRAST,
  };
  return lzd_palette_get(palettes[theme.now]);
}

// The named colours that lazaret.css uses.
static char *
colours_of(const lzd_palette *palette)
{
  GString *css = g_string_new(NULL);
  for (lzd_role role = 0; role < LZD_ROLES; role++)
    g_string_append_printf(css, "@define-color %s #%06X;\n", lzd_role_name(role),
                           palette->rgb[role]);
  g_string_append_printf(css, "@define-color on_accent #%06X;\n", palette->rgb[LZD_BACKGROUND]);
  return g_string_free(css, FALSE);
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
  if (theme.busy)
    return;
  theme.busy = true; // setting gtk-xft-dpi below calls back
  theme.now = decide();
  g_autofree char *css = colours_of(lz_theme_palette());
  gtk_css_provider_load_from_data(theme.colours, css, -1);
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

double
lz_theme_text_scale(void)
{
  int dpi = -1;
  g_object_get(gtk_settings_get_default(), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / (96.0 * 1024.0) : 1.0;
}
