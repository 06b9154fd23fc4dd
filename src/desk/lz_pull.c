// SPDX-License-Identifier: GPL-3.0-or-later
// Entries from the file into the model: what came since, and of a large file what was left there.
#include <glib/gi18n-lib.h>

#include "lz_desk_private.h"
#include "lz_error.h"

#define PART        20000 // entries read before they are applied
#define READ_SHARE  0.9   // of an opening: the rest is its plan
#define FETCH_BLOCK 256   // of what was left, read again at a time

typedef struct {
  GPtrArray *entries;
  guint most;
} Reading;

static bool
take_entry(void *ctx, const lzs_entry *entry)
{
  const Reading *reading = ctx;
  g_ptr_array_add(reading->entries, lz_entry_new(entry));
  return reading->entries->len < reading->most;
}

// NULL with *failure set.
static GPtrArray *
read_some(LzDesk *desk, int64_t after, guint most, lzs_error *failure)
{
  g_autoptr(GPtrArray) out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  Reading reading = {out, most};
  if (lzs_read(desk->store, after, take_entry, &reading, failure) != LZS_OK)
    return NULL;
  return g_steal_pointer(&out);
}

static gboolean
say_unreadable(gpointer desk)
{
  lz_desk_refresh(desk);
  return G_SOURCE_REMOVE;
}

// What cannot be read is not shown as if it were not there: no plan is made any more.
static GPtrArray *
fetch(gpointer data, int64_t after, guint n)
{
  LzDesk *desk = data;
  lzs_error failure = {.status = LZS_IO};
  g_autoptr(GError) error = NULL;
  GPtrArray *out = desk->store ? read_some(desk, after, n, &failure) : NULL;
  if (out || desk->unreadable)
    return out;
  lz_desk_store_error(desk, &failure, &error);
  desk->unreadable = g_strdup(error->message);
  if (desk->watch)
    g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, say_unreadable, g_object_ref(desk), g_object_unref);
  return NULL;
}

gboolean
lz_desk_readable(LzDesk *desk, GError **error)
{
  if (desk->unreadable)
    g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, desk->unreadable);
  return desk->unreadable == NULL;
}

static bool
take_name(void *ctx, int64_t person, const lzs_identity *who)
{
  lz_model_name_person(ctx, person, who->name, who->initials, who->contact);
  return true;
}

static void
connect_model(LzDesk *desk)
{
  desk->model->fetch = fetch;
  desk->model->fetch_data = desk;
  desk->model->fetch_block = MIN(FETCH_BLOCK, desk->keep_newest);
}

// The first time part by part, so that a large file never lies in memory whole.
static lzs_status
pull_entries(LzDesk *desk, lzs_error *failure)
{
  LzModel *m = desk->model;
  const gboolean whole = m->entries->len == 0;
  int64_t last = 0;
  if (whole && lzs_last_id(desk->store, &last, failure) != LZS_OK)
    return failure->status;
  if (whole && !lz_records_take(desk)) { // something of it may be in there
    lz_model_free(m);
    m = desk->model = lz_model_new();
    connect_model(desk);
  }
  if (whole)
    m->fetch_block = 1; // what is corrected after it was left lies here and there
  for (guint n = PART; n == PART;) {
    g_autoptr(GPtrArray) read = read_some(desk, lz_model_last_id(m), PART, failure);
    if (!read)
      return failure->status;
    n = read->len;
    if (!lz_desk_goes_on(desk, READ_SHARE * (double)lz_model_last_id(m) / (double)MAX(last, 1)))
      return failure->status = LZS_STOPPED;
    lz_model_apply_some(m, read);
    g_ptr_array_set_size(read, 0);
    if (whole && m->entries->len >= desk->leave_from)
      lz_model_leave(m, desk->keep_newest);
  }
  connect_model(desk);
  return LZS_OK;
}

int
lz_desk_pull(LzDesk *desk, GError **error)
{
  lzs_error failure = {0};
  if (!desk->store) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, _("%s is closed"), desk->path);
    return -1;
  }
  int64_t version = lzs_data_version(desk->store);
  if (version == desk->data_version)
    return 0;
  guint before = desk->model->entries->len;
  connect_model(desk);
  if (pull_entries(desk, &failure) != LZS_OK ||
      lzs_names(desk->store, take_name, desk->model, &failure) != LZS_OK) {
    lz_desk_store_error(desk, &failure, error);
    return -1;
  }
  desk->data_version = version;
  return lz_desk_readable(desk, error) ? (int)(desk->model->entries->len - before) : -1;
}

gboolean
lz_desk_take_in(LzDesk *desk, GError **error)
{
  int others = lz_desk_pull(desk, error);
  if (others > 0) {
    g_object_ref(desk); // a handler may let go of it
    lz_desk_foreign(desk, (guint)others);
    lz_desk_refresh(desk);
    g_object_unref(desk);
  }
  return others >= 0;
}
