// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_amount_lots.h"

#include <glib/gi18n.h>
#include <lz_rows.h>

typedef struct {
  GCallback changed;
  gpointer data;
} Call;

GtkWidget *
lz_amount_lots_new(GCallback changed, gpointer data)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  Call *call = g_new(Call, 1);
  *call = (Call){changed, data};
  g_object_set_data_full(G_OBJECT(box), "call", call, g_free);
  return box;
}

static uint32_t
lot_of(GtkWidget *check)
{
  return GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(check), "lot"));
}

static void
add(GtkWidget *box, const LzLotInfo *info, gboolean active)
{
  const Call *call = g_object_get_data(G_OBJECT(box), "call");
  g_autofree char *words =
      *info->species
          ? g_strdup_printf(
                ngettext("%1$s, %2$d fish, %3$s", "%1$s, %2$d fish, %3$s", (gulong)info->heads),
                info->code, info->heads, info->species)
          : g_strdup_printf(ngettext("%1$s, %2$d fish", "%1$s, %2$d fish", (gulong)info->heads),
                            info->code, info->heads);
  GtkWidget *check = gtk_check_button_new_with_label(words);
  g_object_set_data(G_OBJECT(check), "lot", GUINT_TO_POINTER(info->index));
  gtk_check_button_set_active(GTK_CHECK_BUTTON(check), active);
  g_signal_connect_swapped(check, "toggled", call->changed, call->data);
  g_object_set_data(G_OBJECT(check), "heads", GINT_TO_POINTER(info->heads));
  gtk_box_append(GTK_BOX(box), check);
}

// Only a station that changed makes new ones: the focus stays where it is.
static gboolean
is_shown(GtkWidget *box, GPtrArray *rows)
{
  GtkWidget *check = gtk_widget_get_first_child(box);
  for (guint i = 0; i < rows->len; i++) {
    const LzLotInfo *info = lz_lot_row_info(rows->pdata[i]);
    if (!check || lot_of(check) != info->index ||
        GPOINTER_TO_INT(g_object_get_data(G_OBJECT(check), "heads")) != info->heads)
      return FALSE;
    check = gtk_widget_get_next_sibling(check);
  }
  return check == NULL;
}

void
lz_amount_lots_show(GtkWidget *box, LzDesk *desk, uint32_t system)
{
  GListModel *lots = lz_desk_lots(desk);
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func(g_object_unref);
  g_autoptr(GHashTable) left_out = g_hash_table_new(NULL, NULL);
  GtkWidget *check;
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *info = lz_lot_row_info(row);
    if (system != LZQ_NONE && info->living && info->system == system)
      g_ptr_array_add(rows, g_object_ref(row));
  }
  if (is_shown(box, rows))
    return;
  while ((check = gtk_widget_get_first_child(box))) {
    if (!gtk_check_button_get_active(GTK_CHECK_BUTTON(check)))
      g_hash_table_add(left_out, g_object_get_data(G_OBJECT(check), "lot"));
    gtk_box_remove(GTK_BOX(box), check);
  }
  for (guint i = 0; i < rows->len; i++) {
    const LzLotInfo *info = lz_lot_row_info(rows->pdata[i]);
    add(box, info, !g_hash_table_contains(left_out, GUINT_TO_POINTER(info->index)));
  }
}

GArray *
lz_amount_lots_chosen(GtkWidget *box)
{
  GtkWidget *check = gtk_widget_get_first_child(box);
  if (!check)
    return NULL;
  GArray *chosen = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (; check; check = gtk_widget_get_next_sibling(check)) {
    uint32_t lot = lot_of(check);
    if (gtk_check_button_get_active(GTK_CHECK_BUTTON(check)))
      g_array_append_val(chosen, lot);
  }
  return chosen;
}
