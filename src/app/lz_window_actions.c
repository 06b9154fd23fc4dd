// SPDX-License-Identifier: GPL-3.0-or-later
// What the window can be told to do, by key, menu, key bar or assistive technology alike.
#include "lz_window_private.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <string.h>

#include "lz_amount_view.h"
#include "lz_chosen.h"
#include "lz_files.h"
#include "lz_print_view.h"
#include "lz_record.h"
#include "lz_water_view.h"

static void
act_place(GSimpleAction *action, GVariant *value, gpointer data)
{
  lz_window_close_panels(data);
  lz_window_go(data, g_variant_get_string(value, NULL));
}

static void
act_notice(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_notice(data, g_variant_get_string(parameter, NULL));
}

static void
act_notice_close(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_notice(data, NULL);
}

static void
act_as_table(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzPlace *place = lz_window_place(data);
  if (place)
    lz_place_as_table(place);
}

// A press on the key bar is the key itself.
static void
act_pad(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  static const struct {
    const char *name;
    LzPadKind kind;
  } keys[] = {{"enter", LZ_PAD_ENTER}, {"plus", LZ_PAD_PLUS},  {"minus", LZ_PAD_MINUS},
              {"up", LZ_PAD_UP},       {"down", LZ_PAD_DOWN},  {"left", LZ_PAD_LEFT},
              {"right", LZ_PAD_RIGHT}, {"back", LZ_PAD_ESCAPE}};
  const char *name = g_variant_get_string(parameter, NULL);
  LzWindow *self = data;
  if (strcmp(name, "enter") == 0 && lz_window_asks_person(self)) {
    gtk_menu_button_popup(self->person);
    return;
  }
  for (size_t i = 0; i < G_N_ELEMENTS(keys); i++)
    if (strcmp(keys[i].name, name) == 0)
      lz_window_press(data, (LzPadKey){keys[i].kind, -1, true});
}

static void
act_record(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *kind;
  gint64 corrects;
  g_autoptr(GVariant) fields = NULL;
  g_variant_get(parameter, "(&sx@a{ss})", &kind, &corrects, &fields);
  lz_window_open_form(data, kind, corrects, NULL, fields);
}

static void
act_describe(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *kind, *entity;
  g_variant_get(parameter, "(&s&s)", &kind, &entity);
  lz_window_open_form(data, kind, 0, entity, NULL);
}

static void
act_receive(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_close_panels(data);
  lz_window_go(data, "receive");
}

static void
act_power(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_close_panels(data);
  lz_window_go(data, "power");
}

// How much to give: about the water that is shown, if it is one.
static void
act_how_much(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  const char *from = gtk_stack_get_visible_child_name(self->stack);
  GtkWidget *view = gtk_stack_get_child_by_name(self->stack, "amount");
  GtkWidget *water = gtk_stack_get_child_by_name(self->stack, "water");
  const char *system =
      g_strcmp0(from, "water") == 0 ? lz_water_view_system(LZ_WATER_VIEW(water)) : NULL;
  lz_window_close_panels(self);
  lz_amount_view_called_from(LZ_AMOUNT_VIEW(view), from, system);
  lz_window_go(self, "amount");
}

static void
act_hand_over(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_close_panels(data);
  lz_window_go(data, "handover");
}

static void
act_see(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_open_see(data);
}

static void
act_go_to(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  lz_window_open_go_to(data);
}

static void
act_show(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *place, *name;
  g_variant_get(parameter, "(&s&s)", &place, &name);
  lz_window_go(data, place);
  LzPlace *shown = lz_window_find_place(data, place);
  if (shown)
    lz_place_show(shown, name);
}

// F7: the ledger, at the entry that is chosen here, or being corrected.
static void
act_ledger(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  gint64 id = gtk_widget_get_visible(GTK_WIDGET(self->form)) ? lz_form_corrects(self->form) : 0;
  if (!id)
    id = lz_chosen_entry(gtk_window_get_focus(GTK_WINDOW(self)), lz_window_place(self));
  if (id)
    gtk_widget_activate_action(data, "win.ledger-at", "x", id);
  else
    gtk_widget_activate_action(data, "win.show", "(ss)", "station", "ledger");
}

static void
act_ledger_at(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autofree char *name =
      g_strdup_printf("ledger #%" G_GINT64_FORMAT, g_variant_get_int64(parameter));
  gtk_widget_activate_action(data, "win.show", "(ss)", "station", name);
}

static void
act_what_if(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_widget_activate_action(data, "win.show", "(ss)", "plan", "what-if");
}

// Ctrl Z: the last entry of the person at this PC, opened for correction.
static void
act_correct(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  g_autoptr(LzEntry) entry = lz_desk_last_entry(self->desk, lz_desk_actor(self->desk));
  if (entry)
    lz_record_correct(GTK_WIDGET(self), lz_entry_kind(entry),
                      lz_entry_corrects(entry) ? lz_entry_corrects(entry) : lz_entry_id(entry));
  else
    lz_window_notice(self, _("You have made no entry here yet."));
}

static void
act_choose_person(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  gtk_menu_button_popup(self->person);
}

// The page of printing; on it, the printer.
static void
act_print(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  const char *from = gtk_stack_get_visible_child_name(self->stack);
  GtkWidget *view = gtk_stack_get_child_by_name(self->stack, "print");
  if (g_strcmp0(from, "print") == 0) {
    gtk_widget_activate_action(view, "print.run", NULL);
    return;
  }
  lz_window_close_panels(self);
  lz_print_view_called_from(LZ_PRINT_VIEW(view), from, lz_window_place(self));
  lz_window_go(self, "print");
}

static void
act_save_pdf(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  if (g_strcmp0(gtk_stack_get_visible_child_name(self->stack), "print") != 0)
    act_print(action, parameter, data);
  gtk_widget_activate_action(gtk_stack_get_child_by_name(self->stack, "print"), "print.save", NULL);
}

static void
on_backed_up(LzWindow *self, const char *path, const GError *error, gpointer data)
{
  lz_window_notice(self, error ? error->message : _("The back-up is saved and checked."));
}

static void
on_back_up_path(GtkNativeDialog *dialog, int response, LzWindow *self)
{
  g_autofree char *path = lz_files_saved_path(dialog, response);
  if (!path)
    return;
  g_autofree char *doing = g_strdup_printf(_("A back-up is made and checked: %s"), path);
  lz_window_copy(self, lz_desk_path(self->desk), path, doing, on_backed_up, NULL);
}

static void
act_back_up_stop(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  g_cancellable_cancel(self->back_up_wish);
}

static void
act_back_up(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LzWindow *self = data;
  g_autofree char *day = lz_format_iso(lz_desk_now(self->desk));
  g_autofree char *name = g_strdup_printf("%s-%.10s.lazaret", _("back-up"), day);
  GtkNativeDialog *dialog = lz_files_ask_save(GTK_WINDOW(self), _("Save a back-up"), name);
  g_signal_connect(dialog, "response", G_CALLBACK(on_back_up_path), self);
  gtk_native_dialog_show(dialog);
}

static const GActionEntry entries[] = {
    {.name = "place", .parameter_type = "s", .state = "'start'", .change_state = act_place},
    {.name = "notice", .parameter_type = "s", .activate = act_notice},
    {.name = "notice-close", .activate = act_notice_close},
    {.name = "pad", .parameter_type = "s", .activate = act_pad},
    {.name = "as-table", .activate = act_as_table},
    {.name = "record", .parameter_type = "(sxa{ss})", .activate = act_record},
    {.name = "describe", .parameter_type = "(ss)", .activate = act_describe},
    {.name = "receive", .activate = act_receive},
    {.name = "power", .activate = act_power},
    {.name = "how-much", .activate = act_how_much},
    {.name = "hand-over", .activate = act_hand_over},
    {.name = "see", .activate = act_see},
    {.name = "go-to", .activate = act_go_to},
    {.name = "show", .parameter_type = "(ss)", .activate = act_show},
    {.name = "ledger", .activate = act_ledger},
    {.name = "ledger-at", .parameter_type = "x", .activate = act_ledger_at},
    {.name = "what-if", .activate = act_what_if},
    {.name = "correct", .activate = act_correct},
    {.name = "choose-person", .activate = act_choose_person},
    {.name = "print", .activate = act_print},
    {.name = "save-pdf", .activate = act_save_pdf},
    {.name = "back-up", .activate = act_back_up},
    {.name = "back-up-stop", .activate = act_back_up_stop},
};

// Those that act without an open station.
static const char *const always[] = {"notice", "notice-close", "pad", "back-up-stop"};

void
lz_window_actions_init(LzWindow *self)
{
  g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}

void
lz_window_actions_refresh(LzWindow *self)
{
  for (size_t i = 0; i < G_N_ELEMENTS(entries); i++) {
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self), entries[i].name);
    bool free = false;
    for (size_t a = 0; a < G_N_ELEMENTS(always); a++)
      free = free || strcmp(always[a], entries[i].name) == 0;
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), free || self->desk != NULL);
  }
  GAction *place = g_action_map_lookup_action(G_ACTION_MAP(self), "place");
  const char *name = gtk_stack_get_visible_child_name(self->stack);
  static const char *const of_round[] = {"receive", "handover", "print", "power", NULL};
  if (name && g_strv_contains(of_round, name))
    name = "round";
  if (g_strcmp0(name, "amount") == 0)
    name = "water";
  g_simple_action_set_state(G_SIMPLE_ACTION(place), g_variant_new_string(name ? name : "start"));
}
