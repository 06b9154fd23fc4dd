// SPDX-License-Identifier: GPL-3.0-or-later
// Command line, windows and what is the same for all of them: style sheets, keys, settings.
#include "lz_application.h"

#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <lz_setup.h>
#include <lz_zone.h>

#include "lz_files.h"
#include "lz_preferences.h"
#include "lz_settings.h"
#include "lz_theme.h"
#include "lz_window.h"

struct _LzApplication {
  GtkApplication parent;
  LzClock *clock; // handed in by --clock; NULL = the real one
};

G_DEFINE_FINAL_TYPE(LzApplication, lz_application, GTK_TYPE_APPLICATION)

static const struct {
  const char *action;
  const char *accels[3];
} keys[] = {
    {"win.place::round", {"F2"}},
    {"win.place::water", {"F3"}},
    {"win.place::lots", {"F4"}},
    {"win.place::plan", {"F5"}},
    {"win.place::station", {"F6"}},
    {"win.show-help-overlay", {"F1", "<Control>question"}},
    {"win.ledger", {"F7"}},
    {"win.as-table", {"F8"}},
    {"win.print", {"<Control>p"}},
    {"win.save-pdf", {"<Control><Shift>p"}},
    {"win.correct", {"<Control>z"}},
    {"win.record(('reading', int64 0, @a{ss} {}))", {"<Control>r"}},
    {"win.record(('dose', int64 0, @a{ss} {}))", {"<Control>d"}},
    {"win.record(('change', int64 0, @a{ss} {}))", {"<Control>e"}},
    {"win.record(('lot', int64 0, @a{ss} {}))", {"<Control>l"}},
    {"win.receive", {"<Control>b"}},
    {"win.hand-over", {"<Control>h"}},
    {"win.how-much", {"<Control>m"}},
    {"win.what-if", {"Insert", "<Control>i"}},
    {"win.go-to", {"<Control>f"}},
    {"win.choose-person", {"<Control>u"}},
    {"app.preferences", {"<Control>comma"}},
    {"app.open-file", {"<Control>o"}},
    {"app.new-station", {"<Control>n"}},
    {"app.restore", {"<Control><Shift>o"}},
    {"app.quit", {"<Control>q"}},
    {"window.close", {"<Control>w"}},
};

static GtkWindow *
active(LzApplication *self)
{
  return gtk_application_get_active_window(GTK_APPLICATION(self));
}

static void
act_about(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_show_about_dialog(active(data), "program-name", _("Lazaret"), "version", LZ_VERSION,
                        "comments",
                        _("Treatment timelines for the quarantine of marine ornamental fish. Local "
                          "rules and a veterinarian decide on medicines."),
                        "license-type", GTK_LICENSE_GPL_3_0, NULL);
}

static void
act_preferences(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GtkWindow *above = active(data);
  LzDesk *desk = LZ_IS_WINDOW(above) ? lz_window_desk(LZ_WINDOW(above)) : NULL;
  gtk_window_present(GTK_WINDOW(lz_preferences_new(above, desk)));
}

static void
act_quit(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GList *next;
  for (GList *w = gtk_application_get_windows(data); w; w = next) {
    next = w->next;
    gtk_window_close(w->data);
  }
}

static void
act_demo(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_files_open_demo(data);
}

static void
act_open_file(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_files_ask_open(data, active(data));
}

static void
act_new_station(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_files_ask_new(data, active(data));
}

static void
act_restore(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_files_ask_restore(active(data));
}

static const GActionEntry actions[] = {
    {.name = "about", .activate = act_about},
    {.name = "preferences", .activate = act_preferences},
    {.name = "quit", .activate = act_quit},
    {.name = "demo", .activate = act_demo},
    {.name = "open-file", .activate = act_open_file},
    {.name = "new-station", .activate = act_new_station},
    {.name = "restore", .activate = act_restore},
};

// Numbers and axes on every screen follow what is set, at once.
static void
on_shown(LzApplication *self)
{
  lz_format_set_decimal(lz_settings_decimal());
  for (GList *w = gtk_application_get_windows(GTK_APPLICATION(self)); w; w = w->next)
    if (LZ_IS_WINDOW(w->data) && lz_window_desk(w->data))
      lz_desk_replan(lz_window_desk(w->data));
}

// GTK asks the login's locale, which says nothing where only LANGUAGE is set; the catalogue that is
// really read knows.
static void
follow_writing(void)
{
  // Translators: "rtl" if your language is written from right to left, else "ltr".
  const char *writing = C_("direction of writing", "ltr");
  gtk_widget_set_default_direction(strcmp(writing, "rtl") == 0 ? GTK_TEXT_DIR_RTL
                                                               : GTK_TEXT_DIR_LTR);
}

static void
lz_application_startup(GApplication *application)
{
  G_APPLICATION_CLASS(lz_application_parent_class)->startup(application);
  follow_writing();
  g_action_map_add_action_entries(G_ACTION_MAP(application), actions, G_N_ELEMENTS(actions),
                                  application);
  g_autoptr(GAction) theme = g_settings_create_action(lz_settings(), "theme");
  g_autoptr(GAction) decimal = g_settings_create_action(lz_settings(), "decimal");
  g_action_map_add_action(G_ACTION_MAP(application), theme);
  g_action_map_add_action(G_ACTION_MAP(application), decimal);
  for (size_t i = 0; i < G_N_ELEMENTS(keys); i++)
    gtk_application_set_accels_for_action(GTK_APPLICATION(application), keys[i].action,
                                          keys[i].accels);
  lz_format_set_decimal(lz_settings_decimal());
  static const char *const shown[] = {"changed::decimal", "changed::first-day"};
  for (size_t i = 0; i < G_N_ELEMENTS(shown); i++)
    g_signal_connect_object(lz_settings(), shown[i], G_CALLBACK(on_shown), application,
                            G_CONNECT_SWAPPED);
  lz_theme_start(gdk_display_get_default());
  gtk_window_set_default_icon_name(LZ_APP_ID);
}

// Without a file: what was open last, else the one in the usual place, else the start page.
static void
lz_application_activate(GApplication *application)
{
  GtkWindow *window = active(LZ_APPLICATION(application));
  if (window)
    gtk_window_present(window);
  else
    lz_files_open_last(GTK_APPLICATION(application));
}

static void
lz_application_open(GApplication *application, GFile **files, int n, const char *hint)
{
  for (int i = 0; i < n; i++) {
    g_autofree char *path = g_file_get_path(files[i]);
    if (path)
      lz_files_open(GTK_APPLICATION(application), path);
  }
}

// Files opened from now on see a clock that stands at this time; what is written into them is
// practice for good.
static gboolean
hand_in_clock(LzApplication *self, const char *text, GError **error)
{
  LzClock *clock = lz_setup_clock(text, error);
  if (!clock)
    return FALSE;
  g_clear_pointer(&self->clock, lz_clock_unref);
  self->clock = clock;
  return TRUE;
}

static int
lz_application_command_line(GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *options = g_application_command_line_get_options_dict(line);
  const char **names = NULL, *clock = NULL;
  g_variant_dict_lookup(options, "clock", "&s", &clock);
  g_autoptr(GError) error = NULL;
  if (clock && !hand_in_clock(LZ_APPLICATION(application), clock, &error)) {
    g_application_command_line_printerr(line, "--clock: %s\n", error->message);
    return 2;
  }
  bool demo = g_variant_dict_contains(options, "demo");
  if (demo)
    lz_files_open_demo(GTK_APPLICATION(application));
  g_variant_dict_lookup(options, G_OPTION_REMAINING, "^a&ay", &names);
  for (int i = 0; names && names[i]; i++) {
    g_autoptr(GFile) file = g_application_command_line_create_file_for_arg(line, names[i]);
    g_autofree char *path = g_file_get_path(file);
    if (path)
      lz_files_open(GTK_APPLICATION(application), path);
  }
  if (!demo && !(names && names[0]))
    g_application_activate(application);
  g_free(names);
  return 0;
}

static int
lz_application_handle_local_options(GApplication *application, GVariantDict *options)
{
  if (!g_variant_dict_contains(options, "version"))
    return -1;
  g_print("lazaret %s\n", LZ_VERSION);
  return 0;
}

static void
lz_application_finalize(GObject *object)
{
  g_clear_pointer(&LZ_APPLICATION(object)->clock, lz_clock_unref);
  G_OBJECT_CLASS(lz_application_parent_class)->finalize(object);
}

static void
lz_application_class_init(LzApplicationClass *klass)
{
  GApplicationClass *application = G_APPLICATION_CLASS(klass);
  G_OBJECT_CLASS(klass)->finalize = lz_application_finalize;
  application->startup = lz_application_startup;
  application->activate = lz_application_activate;
  application->open = lz_application_open;
  application->command_line = lz_application_command_line;
  application->handle_local_options = lz_application_handle_local_options;
}

static void
lz_application_init(LzApplication *self)
{
  static const GOptionEntry options[] = {
      {"demo", 0, 0, G_OPTION_ARG_NONE, NULL, N_("Open the demo station"), NULL},
      {"clock", 0, 0, G_OPTION_ARG_STRING, NULL,
       N_("Practise: open files at this time, and mark them as practice"), N_("TIME")},
      {"version", 'v', 0, G_OPTION_ARG_NONE, NULL, N_("Print the version"), NULL},
      {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL, N_("[FILE…]")},
      {NULL}};
  g_application_add_main_option_entries(G_APPLICATION(self), options);
}

LzClock *
lz_application_clock(GtkApplication *application)
{
  return LZ_IS_APPLICATION(application) ? LZ_APPLICATION(application)->clock : NULL;
}

GtkApplication *
lz_application_new(void)
{
  return g_object_new(LZ_TYPE_APPLICATION, "application-id", LZ_APP_ID, "flags",
                      G_APPLICATION_HANDLES_COMMAND_LINE, NULL);
}
