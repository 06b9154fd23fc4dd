// SPDX-License-Identifier: GPL-3.0-or-later
// Rows: a key, a title, a sentence, and one plain struct of facts. The kinds differ only in
// that struct.
#include <string.h>

#include "lz_row_list.h"

typedef struct {
  char *key, *title, *detail;
  gpointer info;
  gsize size;
  GPtrArray *texts; // that info points to
} LzRowPrivate;

G_DEFINE_TYPE_WITH_PRIVATE(LzRow, lz_row, G_TYPE_OBJECT)

enum { PROP_0, PROP_KEY, PROP_TITLE, PROP_DETAIL, N_PROPS };
static GParamSpec *props[N_PROPS];
static guint changed_signal;

static LzRowPrivate *
priv_of(LzRow *row)
{
  return lz_row_get_instance_private(row);
}

static void
lz_row_get_property(GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  LzRowPrivate *priv = priv_of(LZ_ROW(object));
  switch (id) {
  case PROP_KEY: g_value_set_string(value, priv->key); break;
  case PROP_TITLE: g_value_set_string(value, priv->title); break;
  case PROP_DETAIL: g_value_set_string(value, priv->detail); break;
  default: G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, pspec);
  }
}

static void
lz_row_set_property(GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_KEY)
    priv_of(LZ_ROW(object))->key = g_value_dup_string(value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, pspec);
}

static void
lz_row_finalize(GObject *object)
{
  LzRowPrivate *priv = priv_of(LZ_ROW(object));
  g_free(priv->key);
  g_free(priv->title);
  g_free(priv->detail);
  g_free(priv->info);
  g_clear_pointer(&priv->texts, g_ptr_array_unref);
  G_OBJECT_CLASS(lz_row_parent_class)->finalize(object);
}

static void
lz_row_class_init(LzRowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS(class);
  object_class->get_property = lz_row_get_property;
  object_class->set_property = lz_row_set_property;
  object_class->finalize = lz_row_finalize;
  props[PROP_KEY] = g_param_spec_string(
      "key", NULL, NULL, NULL, G_PARAM_READWRITE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  props[PROP_TITLE] =
      g_param_spec_string("title", NULL, NULL, NULL,
                          G_PARAM_READABLE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  props[PROP_DETAIL] =
      g_param_spec_string("detail", NULL, NULL, NULL,
                          G_PARAM_READABLE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties(object_class, N_PROPS, props);
  changed_signal =
      g_signal_new("changed", LZ_TYPE_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
lz_row_init(LzRow *row)
{
}

const char *
lz_row_key(LzRow *row)
{
  return priv_of(row)->key;
}

const char *
lz_row_title(LzRow *row)
{
  return priv_of(row)->title;
}

const char *
lz_row_detail(LzRow *row)
{
  return priv_of(row)->detail;
}

gconstpointer
lz_row_info(LzRow *row)
{
  return priv_of(row)->info;
}

const char *
lz_keep(GPtrArray *texts, char *text)
{
  g_ptr_array_add(texts, text);
  return text;
}

void
lz_row_set(LzRow *row, char *title, char *detail, gconstpointer info, gsize size, GPtrArray *texts)
{
  LzRowPrivate *priv = priv_of(row);
  gboolean new_title = g_strcmp0(title, priv->title) != 0;
  gboolean new_detail = g_strcmp0(detail, priv->detail) != 0;
  gboolean first = !priv->info;
  g_free(priv->title);
  g_free(priv->detail);
  priv->title = title;
  priv->detail = detail;
  g_free(priv->info);
  g_clear_pointer(&priv->texts, g_ptr_array_unref);
  priv->info = g_memdup2(info, size);
  priv->size = size;
  priv->texts = texts;
  if (first)
    return;
  if (new_title)
    g_object_notify_by_pspec(G_OBJECT(row), props[PROP_TITLE]);
  if (new_detail)
    g_object_notify_by_pspec(G_OBJECT(row), props[PROP_DETAIL]);
  g_signal_emit(row, changed_signal, 0);
}

#define DEFINE_ROW(Name, name)                                                                     \
  struct _Lz##Name##Row {                                                                          \
    LzRow parent_instance;                                                                         \
  };                                                                                               \
  G_DEFINE_FINAL_TYPE(Lz##Name##Row, lz_##name##_row, LZ_TYPE_ROW)                                 \
  static void lz_##name##_row_class_init(Lz##Name##RowClass *class)                                \
  {                                                                                                \
  }                                                                                                \
  static void lz_##name##_row_init(Lz##Name##Row *row)                                             \
  {                                                                                                \
  }                                                                                                \
  const Lz##Name##Info *lz_##name##_row_info(Lz##Name##Row *row)                                   \
  {                                                                                                \
    return lz_row_info(LZ_ROW(row));                                                               \
  }

DEFINE_ROW(System, system)
DEFINE_ROW(Tank, tank)
DEFINE_ROW(Lot, lot)
DEFINE_ROW(Task, task)
DEFINE_ROW(Done, done)
DEFINE_ROW(Entry, entry)
DEFINE_ROW(Person, person)
DEFINE_ROW(Instrument, instrument)
DEFINE_ROW(Bottle, bottle)
DEFINE_ROW(Protocol, protocol)
DEFINE_ROW(Matter, matter)
DEFINE_ROW(Contact, contact)
