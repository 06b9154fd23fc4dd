// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_water_head.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>

#include "lz_lookup.h"
#include "lz_task_form.h"

const LzSystemInfo *
lz_water_shown(LzDesk *desk, const char *name)
{
  GListModel *rows = lz_desk_systems(desk);
  const LzSystemInfo *first = NULL, *treated = NULL;
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(rows, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    first = first ? first : info;
    treated = treated || !info->has_band[0] ? treated : info;
    if (g_strcmp0(info->name, name) == 0)
      return info;
  }
  return treated ? treated : first;
}

char *
lz_water_courses(LzDesk *desk, const LzSystemInfo *system)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new();
  GListModel *lots = lz_desk_lots(desk);
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *lot = lz_lot_row_info(row);
    if (lot->living && lot->system == system->index && *lot->protocol &&
        !g_ptr_array_find_with_equal_func(names, lot->protocol, g_str_equal, NULL))
      g_ptr_array_add(names, (gpointer)lot->protocol);
  }
  g_ptr_array_add(names, NULL);
  g_autofree char *joined = g_strjoinv(", ", (char **)names->pdata);
  return *joined ? lz_protocol_shown(joined) : lz_capital(lz_words_role(system->role));
}

void
lz_water_cells(LzSign *sign, LzDesk *desk, const LzSystemInfo *system)
{
  GListModel *rows = lz_desk_tanks(desk);
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func(g_free);
  lzd_cell_text cells[12];
  size_t n = 0;
  for (guint i = 0; i < g_list_model_get_n_items(rows) && n < G_N_ELEMENTS(cells); i++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(rows, i);
    const LzTankInfo *tank = lz_tank_row_info(row);
    if (tank->system != system->index)
      continue;
    char *above = g_strdup_printf("%d", tank->number);
    char *inside = tank->heads ? g_strdup_printf("%d", tank->heads) : g_strdup("–");
    g_ptr_array_add(texts, above);
    g_ptr_array_add(texts, inside);
    cells[n++] = (lzd_cell_text){above, inside, false};
  }
  g_autofree char *word = g_strdup_printf(ngettext("%zu tank", "%zu tanks", n), n);
  lz_sign_set_cells(sign, cells, n, lz_water_bits(system), word);
  gtk_widget_set_visible(GTK_WIDGET(sign), n > 0);
}

char *
lz_water_burden(const LzSystemInfo *system)
{
  g_autofree char *litres = lz_format_amount(system->volume_l, LZQ_UNIT_L);
  g_autofree char *heads =
      g_strdup_printf(ngettext("%d fish", "%d fish", (gulong)system->heads), system->heads);
  g_autofree char *lots =
      g_strdup_printf(ngettext("%d lot", "%d lots", (gulong)system->lots), system->lots);
  return g_strdup_printf(_("%s net, %s, %s"), litres, heads, lots);
}

static void
show_basin(GtkWidget *button, LzSystemRow *row)
{
  const LzSystemInfo *info = lz_system_row_info(row);
  GtkWidget *basin = gtk_button_get_child(GTK_BUTTON(button));
  lz_sign_set_basin(LZ_SIGN(basin), info->name, lz_water_bits(info), LZD_SIZE_BODY);
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, info->name,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, lz_row_detail(LZ_ROW(row)),
                                 -1);
  g_object_set_data_full(G_OBJECT(button), "system", g_strdup(info->name), g_free);
}

static GtkWidget *
basin_new(GtkBox *box, GCallback on_toggled, gpointer data)
{
  GtkWidget *button = gtk_toggle_button_new(), *first = gtk_widget_get_first_child(GTK_WIDGET(box));
  gtk_button_set_child(GTK_BUTTON(button), lz_sign_new());
  gtk_widget_add_css_class(button, "basin");
  if (first)
    gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(button), GTK_TOGGLE_BUTTON(first));
  g_signal_connect(button, "toggled", on_toggled, data);
  gtk_box_append(box, button);
  return button;
}

// Buttons stay, so that one that has the focus keeps it through an entry.
void
lz_water_fill_systems(GtkBox *box, LzDesk *desk, const LzSystemInfo *now, GCallback on_toggled,
                      gpointer data)
{
  GListModel *rows = lz_desk_systems(desk);
  GtkWidget *button = gtk_widget_get_first_child(GTK_WIDGET(box)), *next;
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(rows, i);
    if (!button)
      button = basin_new(box, on_toggled, data);
    show_basin(button, row);
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(button), lz_system_row_info(row) == now);
    button = gtk_widget_get_next_sibling(button);
  }
  for (; button; button = next) {
    next = gtk_widget_get_next_sibling(button);
    gtk_box_remove(box, button);
  }
}
