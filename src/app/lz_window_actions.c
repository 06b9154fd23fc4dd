// SPDX-License-Identifier: GPL-3.0-or-later
// What the window can be told to do, by key, menu, key bar or assistive technology alike.
#include "lz_window_private.h"

#include <glib/gi18n.h>

static void
act_place(GSimpleAction *action, GVariant *value, gpointer data)
{
  lz_window_go(data, g_variant_get_string(value, NULL));
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

static const GActionEntry entries[] = {
    {.name = "place", .parameter_type = "s", .state = "'start'", .change_state = act_place},
    {.name = "notice-close", .activate = act_notice_close},
    {.name = "as-table", .activate = act_as_table},
};

// Those that need an open station.
static const char *const with_station[] = {"place", "as-table"};

void
lz_window_actions_init(LzWindow *self)
{
  g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}

void
lz_window_actions_refresh(LzWindow *self)
{
  for (size_t i = 0; i < G_N_ELEMENTS(with_station); i++) {
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self), with_station[i]);
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), self->desk != NULL);
  }
  GAction *place = g_action_map_lookup_action(G_ACTION_MAP(self), "place");
  const char *name = gtk_stack_get_visible_child_name(self->stack);
  g_simple_action_set_state(G_SIMPLE_ACTION(place), g_variant_new_string(name ? name : "start"));
}
