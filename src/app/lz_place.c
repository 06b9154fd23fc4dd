// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_place.h"

#include "lz_fresh.h"

G_DEFINE_INTERFACE(LzPlace, lz_place, GTK_TYPE_WIDGET)

static guint hints_changed;

static void
lz_place_default_init(LzPlaceInterface *iface)
{
  hints_changed = g_signal_new("hints-changed", LZ_TYPE_PLACE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                               NULL, G_TYPE_NONE, 0);
}

static void
hint_free(gpointer data)
{
  LzHint *hint = data;
  g_free(hint->keys);
  g_free(hint->label);
  g_free(hint->action);
  g_free(hint);
}

GPtrArray *
lz_hints_new(void)
{
  return g_ptr_array_new_with_free_func(hint_free);
}

void
lz_hints_add(GPtrArray *hints, const char *keys, const char *label, const char *action)
{
  LzHint *hint = g_new0(LzHint, 1);
  hint->keys = g_strdup(keys);
  hint->label = g_strdup(label);
  hint->action = g_strdup(action);
  g_ptr_array_add(hints, hint);
}

GPtrArray *
lz_place_hints(LzPlace *self)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), NULL);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  return iface->hints ? iface->hints(self) : lz_hints_new();
}

bool
lz_place_key(LzPlace *self, LzPadKey key)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), false);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  return iface->key && iface->key(self, key);
}

bool
lz_place_back(LzPlace *self)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), false);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  return iface->back && iface->back(self);
}

bool
lz_place_as_table(LzPlace *self)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), false);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  if (!iface->as_table)
    return false;
  iface->as_table(self);
  return true;
}

void
lz_place_show(LzPlace *self, const char *name)
{
  g_return_if_fail(LZ_IS_PLACE(self));
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  if (iface->show)
    iface->show(self, name);
}

void
lz_place_enter(LzPlace *self)
{
  g_return_if_fail(LZ_IS_PLACE(self));
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  if (iface->enter)
    iface->enter(self);
  else
    gtk_widget_child_focus(GTK_WIDGET(self), GTK_DIR_TAB_FORWARD);
}

const char *
lz_place_subject(LzPlace *self, const char *kind)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), NULL);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  return iface->subject ? iface->subject(self, kind) : NULL;
}

gint64
lz_place_entry(LzPlace *self)
{
  g_return_val_if_fail(LZ_IS_PLACE(self), 0);
  lz_fresh_now(self);
  LzPlaceInterface *iface = LZ_PLACE_GET_IFACE(self);
  return iface->entry ? iface->entry(self) : 0;
}

void
lz_place_hints_changed(LzPlace *self)
{
  g_signal_emit(self, hints_changed, 0);
}
