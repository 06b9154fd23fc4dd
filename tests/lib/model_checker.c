// SPDX-License-Identifier: GPL-3.0-or-later
// See model_checker.h.
#include "model_checker.h"

struct _LztModelChecker {
  GListModel *model;
  GPtrArray *copy;
  gulong handler;
  guint signals;
  char *fault;
};

static void G_GNUC_PRINTF(2, 3) say(LztModelChecker *c, const char *format, ...)
{
  va_list rest;
  va_start(rest, format);
  if (!c->fault)
    c->fault = g_strdup_vprintf(format, rest);
  va_end(rest);
}

static void
take(LztModelChecker *c, guint position, guint n)
{
  for (guint i = 0; i < n; i++) {
    gpointer item = g_list_model_get_item(c->model, position + i);
    if (!item)
      say(c, "no item at %u", position + i);
    else
      g_ptr_array_insert(c->copy, (gint)(position + i), item);
  }
}

static void
compare(LztModelChecker *c)
{
  guint n = g_list_model_get_n_items(c->model);
  if (n != c->copy->len) {
    say(c, "%u items, but the signals say %u", n, c->copy->len);
    return;
  }
  for (guint i = 0; i < n; i++) {
    g_autoptr(GObject) item = g_list_model_get_item(c->model, i);
    if (item != c->copy->pdata[i])
      say(c, "item %u changed without a signal", i);
    if (!g_type_is_a(G_OBJECT_TYPE(item), g_list_model_get_item_type(c->model)))
      say(c, "item %u is a %s", i, G_OBJECT_TYPE_NAME(item));
  }
  g_autoptr(GObject) beyond = g_list_model_get_item(c->model, n);
  if (beyond)
    say(c, "an item beyond the end");
}

static void
items_changed(GListModel *model, guint position, guint removed, guint added, gpointer data)
{
  LztModelChecker *c = data;
  c->signals++;
  if (removed == 0 && added == 0)
    say(c, "a signal that nothing changed");
  if (position > c->copy->len || removed > c->copy->len - position) {
    say(c, "stretch %u+%u of a list of %u", position, removed, c->copy->len);
    return;
  }
  gpointer first = removed ? c->copy->pdata[position] : NULL;
  gpointer last = removed ? c->copy->pdata[position + removed - 1] : NULL;
  if (removed)
    g_ptr_array_remove_range(c->copy, position, removed);
  take(c, position, added);
  // only addresses are compared: what was removed may be gone
  if (removed && added && !c->fault &&
      (c->copy->pdata[position] == first || c->copy->pdata[position + added - 1] == last))
    say(c, "stretch %u-%u+%u is longer than what changed", position, removed, added);
  compare(c);
}

LztModelChecker *
lzt_model_checker_new(GListModel *model)
{
  LztModelChecker *c = g_new0(LztModelChecker, 1);
  c->model = g_object_ref(model);
  c->copy = g_ptr_array_new_with_free_func(g_object_unref);
  take(c, 0, g_list_model_get_n_items(model));
  c->handler = g_signal_connect(model, "items-changed", G_CALLBACK(items_changed), c);
  return c;
}

void
lzt_model_checker_free(LztModelChecker *c)
{
  g_signal_handler_disconnect(c->model, c->handler);
  g_ptr_array_unref(c->copy);
  g_object_unref(c->model);
  g_free(c->fault);
  g_free(c);
}

const char *
lzt_model_checker_fault(LztModelChecker *c)
{
  compare(c);
  return c->fault;
}

guint
lzt_model_checker_signals(LztModelChecker *c)
{
  return c->signals;
}
