// SPDX-License-Identifier: GPL-3.0-or-later
// The list of rows: see lz_row_list.h.
#include "lz_row_list.h"

struct _LzRowList {
  GObject parent_instance;
  GType row_type;
  GPtrArray *rows;    // LzRow
  GHashTable *by_key; // key (the row's) -> LzRow
  GPtrArray *next;    // while an update runs
};

static GType
get_item_type(GListModel *model)
{
  return LZ_ROW_LIST(model)->row_type;
}

static guint
get_n_items(GListModel *model)
{
  return LZ_ROW_LIST(model)->rows->len;
}

static gpointer
get_item(GListModel *model, guint position)
{
  LzRowList *list = LZ_ROW_LIST(model);
  return position < list->rows->len ? g_object_ref(list->rows->pdata[position]) : NULL;
}

static void
model_init(GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE(LzRowList, lz_row_list, G_TYPE_OBJECT,
                              G_IMPLEMENT_INTERFACE(G_TYPE_LIST_MODEL, model_init))

static void
lz_row_list_finalize(GObject *object)
{
  LzRowList *list = LZ_ROW_LIST(object);
  g_hash_table_unref(list->by_key);
  g_ptr_array_unref(list->rows);
  g_clear_pointer(&list->next, g_ptr_array_unref);
  G_OBJECT_CLASS(lz_row_list_parent_class)->finalize(object);
}

static void
lz_row_list_class_init(LzRowListClass *class)
{
  G_OBJECT_CLASS(class)->finalize = lz_row_list_finalize;
}

static void
lz_row_list_init(LzRowList *list)
{
  list->rows = g_ptr_array_new_with_free_func(g_object_unref);
  list->by_key = g_hash_table_new(g_str_hash, g_str_equal);
}

LzRowList *
lz_row_list_new(GType row_type)
{
  LzRowList *list = g_object_new(LZ_TYPE_ROW_LIST, NULL);
  list->row_type = row_type;
  return list;
}

void
lz_row_list_begin(LzRowList *list)
{
  g_assert(!list->next);
  list->next = g_ptr_array_new_with_free_func(g_object_unref);
}

gpointer
lz_row_list_row(LzRowList *list, const char *key)
{
  LzRow *row = g_hash_table_lookup(list->by_key, key);
  row = row ? g_object_ref(row) : g_object_new(list->row_type, "key", key, NULL);
  g_ptr_array_add(list->next, row);
  return row;
}

void
lz_row_list_end(LzRowList *list)
{
  g_autoptr(GPtrArray) old = list->rows;
  GPtrArray *new = g_steal_pointer(&list->next);
  guint head = 0, tail = 0, shorter = MIN(old->len, new->len);
  while (head < shorter && old->pdata[head] == new->pdata[head])
    head++;
  while (tail < shorter - head &&
         old->pdata[old->len - 1 - tail] == new->pdata[new->len - 1 - tail])
    tail++;
  list->rows = new;
  g_hash_table_remove_all(list->by_key);
  for (guint i = 0; i < new->len; i++)
    g_hash_table_replace(list->by_key, (gpointer)lz_row_key(new->pdata[i]), new->pdata[i]);
  guint removed = old->len - head - tail, added = new->len - head - tail;
  if (removed || added)
    g_list_model_items_changed(G_LIST_MODEL(list), head, removed, added);
}
