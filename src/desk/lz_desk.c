// SPDX-License-Identifier: GPL-3.0-or-later
// The desk object: one open file, its model, its plan. Opening, closing, and being told that things
// changed.
#include "lz_desk_private.h"

#include <glib/gi18n-lib.h>

#include "lz_backups.h"
#include "lz_error.h"
#include "lz_estimate.h"
#include "lz_photo_private.h"
#include "lz_rows_private.h"

#define LEAVE_FROM  200000
#define KEEP_NEWEST 20000 // more than the ledger shows at once

G_DEFINE_FINAL_TYPE(LzDesk, lz_desk, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_PATH,
  PROP_STATION_NAME,
  PROP_PRACTICE,
  PROP_READ_ONLY,
  PROP_NOW,
  PROP_ACTOR,
  N_PROPS
};
static GParamSpec *props[N_PROPS];
enum { CHANGED, FOREIGN, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
lz_desk_get_property(GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  LzDesk *desk = LZ_DESK(object);
  switch (id) {
  case PROP_PATH: g_value_set_string(value, desk->path); break;
  case PROP_STATION_NAME: g_value_set_string(value, lz_desk_station_name(desk)); break;
  case PROP_PRACTICE: g_value_set_boolean(value, lz_desk_is_practice(desk)); break;
  case PROP_READ_ONLY: g_value_set_boolean(value, lz_desk_is_read_only(desk)); break;
  case PROP_NOW: g_value_set_int64(value, desk->now); break;
  case PROP_ACTOR: g_value_set_int64(value, desk->actor); break;
  default: G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, pspec);
  }
}

static void
lz_desk_set_property(GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_ACTOR)
    lz_desk_set_actor(LZ_DESK(object), g_value_get_int64(value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID(object, id, pspec);
}

static void
lz_desk_dispose(GObject *object)
{
  lz_desk_close(LZ_DESK(object));
  G_OBJECT_CLASS(lz_desk_parent_class)->dispose(object);
}

static void
lz_desk_finalize(GObject *object)
{
  LzDesk *desk = LZ_DESK(object);
  lz_rows_free(desk);
  lzq_arena_free(&desk->arena);
  lzq_book_free(desk->book);
  lz_mapped_free(desk->lent);
  lz_banks_free(desk->banks);
  lz_medicine_sums_free(desk->medicine);
  lz_model_free(desk->model);
  lz_clock_unref(desk->clock);
  g_free(desk->path);
  g_free(desk->pc_folder);
  g_free(desk->plan_error);
  g_free(desk->slots_for);
  g_free(desk->advice);
  g_free(desk->unreadable);
  lz_photo_forget(desk);
  G_OBJECT_CLASS(lz_desk_parent_class)->finalize(object);
}

static void
lz_desk_class_init(LzDeskClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS(class);
  GParamFlags read = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  object_class->get_property = lz_desk_get_property;
  object_class->set_property = lz_desk_set_property;
  object_class->dispose = lz_desk_dispose;
  object_class->finalize = lz_desk_finalize;
  props[PROP_PATH] = g_param_spec_string("path", NULL, NULL, NULL, read);
  props[PROP_STATION_NAME] = g_param_spec_string("station-name", NULL, NULL, NULL, read);
  props[PROP_PRACTICE] = g_param_spec_boolean("practice", NULL, NULL, FALSE, read);
  props[PROP_READ_ONLY] = g_param_spec_boolean("read-only", NULL, NULL, FALSE, read);
  props[PROP_NOW] = g_param_spec_int64("now", NULL, NULL, G_MININT64, G_MAXINT64, 0, read);
  props[PROP_ACTOR] =
      g_param_spec_int64("actor", NULL, NULL, 0, G_MAXINT64, 0,
                         G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties(object_class, N_PROPS, props);
  signals[CHANGED] =
      g_signal_new("changed", LZ_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FOREIGN] = g_signal_new("foreign", LZ_TYPE_DESK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
lz_desk_init(LzDesk *desk)
{
  desk->model = lz_model_new();
  desk->banks = lz_banks_new();
  desk->medicine = lz_medicine_sums_new();
  desk->book = lzq_book_new(lzq_allocator_libc());
  desk->slots_from = LZQ_LONG_AGO;
  lzq_arena_init(&desk->arena, lzq_allocator_libc(), 0);
  lz_rows_init(desk);
}

// --- opening and closing

static int64_t
store_clock(void *ctx)
{
  return lz_clock_now_ms(ctx);
}

static LzDesk *
desk_new(const char *path, const LzDeskOptions *options)
{
  static const LzDeskOptions defaults = {.watch = TRUE};
  LzDesk *desk = g_object_new(LZ_TYPE_DESK, NULL);
  options = options ? options : &defaults;
  desk->path = g_strdup(path);
  desk->clock = options->clock ? lz_clock_ref(options->clock) : lz_clock_new_real();
  desk->pc_folder = options->pc_folder ? g_strdup(options->pc_folder)
                                       : g_build_filename(g_get_user_data_dir(), "lazaret", NULL);
  desk->read_only = options->read_only;
  desk->no_plan = options->no_plan;
  desk->watch = options->watch;
  desk->opening = options->progress;
  desk->opening_data = options->hearer;
  desk->leave_from = options->leave_from ? options->leave_from : LEAVE_FROM;
  desk->keep_newest = options->keep_newest ? options->keep_newest : KEEP_NEWEST;
  if (!desk->read_only) // a fresh account has no user data folder yet; a failure shows when writing
    g_mkdir_with_parents(desk->pc_folder, 0700);
  return desk;
}

static lzs_options
store_options(LzDesk *desk)
{
  if (!desk->read_only) // a fresh account has no user data folder yet
    g_mkdir_with_parents(desk->pc_folder, 0700);
  return (lzs_options){.read_only = desk->read_only,
                       .busy_ms = 5000,
                       .pc_folder = desk->pc_folder,
                       .clock_ms = lz_clock_is_real(desk->clock) ? NULL : store_clock,
                       .clock_ctx = desk->clock};
}

// --- the estimators' checkpoints, outside the ledger
#define CHECKPOINTS "banks"

typedef struct {
  int64_t entry;
  GBytes *bytes;
} Checkpoints;

static void
take_checkpoints(void *ctx, int64_t entry, const void *bytes, size_t size)
{
  Checkpoints *found = ctx;
  found->entry = entry;
  found->bytes = g_bytes_new(bytes, size);
}

// Not while they are read: the entry that they stand for may have to be read as well.
static void
thaw_checkpoints(LzDesk *desk)
{
  Checkpoints found = {0};
  lzs_error none = {0};
  lzs_cache_get(desk->store, CHECKPOINTS, take_checkpoints, &found, &none);
  g_autoptr(GBytes) bytes = found.bytes;
  if (bytes)
    lz_banks_thaw(desk->banks, desk->model, found.entry, g_bytes_get_data(bytes, NULL),
                  g_bytes_get_size(bytes));
}

// A failure to write them is nobody's loss.
static void
keep_checkpoints(LzDesk *desk)
{
  int64_t entry;
  g_autoptr(GBytes) bytes =
      desk->store && !desk->read_only ? lz_banks_freeze(desk->banks, desk->model, &entry) : NULL;
  lzs_error ignored = {0};
  if (bytes)
    lzs_cache_set(desk->store, CHECKPOINTS, entry, g_bytes_get_data(bytes, NULL),
                  g_bytes_get_size(bytes), &ignored);
}

void
lz_desk_forget_checkpoints(LzDesk *desk)
{
  lzs_error ignored = {0};
  lz_banks_free(desk->banks);
  desk->banks = lz_banks_new();
  if (desk->store && !desk->read_only)
    lzs_cache_set(desk->store, CHECKPOINTS, 0, NULL, 0, &ignored);
}

guint
lz_desk_estimators_made(const LzDesk *desk)
{
  return lz_banks_made(desk->banks);
}

gboolean
lz_desk_goes_on(LzDesk *desk, double share)
{
  return !desk->opening || desk->opening(desk->opening_data, share);
}

static LzDesk *
begin(LzDesk *desk, gboolean file_only, lzs_status status, lzs_error *failure, GError **error)
{
  g_autoptr(LzDesk) own = desk;
  if (status != LZS_OK) {
    lz_desk_store_error(desk, failure, error);
    return NULL;
  }
  if (file_only)
    return g_steal_pointer(&own);
  desk->data_version = -1;
  if (lz_desk_pull(desk, error) < 0)
    return NULL;
  thaw_checkpoints(desk);
  if (!desk->no_plan)
    lz_desk_replan(desk);
  if (!lz_desk_goes_on(desk, 1)) {
    failure->status = LZS_STOPPED;
    lz_desk_store_error(desk, failure, error);
    return NULL;
  }
  desk->opening = NULL;
  desk->opened = TRUE;
  if (desk->watch)
    lz_desk_start_watch(desk);
  return g_steal_pointer(&own);
}

LzDesk *
lz_desk_open(const char *path, const LzDeskOptions *options, GError **error)
{
  LzDesk *desk = desk_new(path, options);
  lzs_error failure = {0};
  lzs_options how = store_options(desk);
  lzs_status status = lzs_open(path, &how, &desk->store, &failure);
  return begin(desk, options && options->file_only, status, &failure, error);
}

LzDesk *
lz_desk_create(const char *path, const LzDeskOptions *options, GError **error)
{
  LzDesk *desk = desk_new(path, options);
  lzs_error failure = {0};
  lzs_options how = store_options(desk);
  g_autofree char *folder = g_path_get_dirname(path);
  g_mkdir_with_parents(folder, 0700);
  lzs_status status = lzs_create(path, &how, &desk->store, &failure);
  return begin(desk, FALSE, status, &failure, error);
}

void
lz_desk_watch(LzDesk *desk)
{
  g_return_if_fail(LZ_IS_DESK(desk) && !desk->watch);
  desk->watch = TRUE;
  lz_desk_start_watch(desk);
}

gboolean
lz_desk_closes_slowly(LzDesk *desk)
{
  return desk->opened && lz_records_are_due(desk);
}

gboolean
lz_desk_is_heavy(LzDesk *desk)
{
  return !desk->records_of && lz_desk_closes_slowly(desk);
}

void
lz_desk_leave(LzDesk *desk)
{
  lz_desk_stop_watch(desk);
  lz_desk_stop_backups(desk);
  desk->watch = FALSE;
}

void
lz_desk_close(LzDesk *desk)
{
  lz_desk_stop_watch(desk);
  if (desk->opened) {
    keep_checkpoints(desk);
    lz_records_keep(desk);
  }
  g_clear_pointer(&desk->store, lzs_close);
}

char *
lz_desk_default_path(void)
{
  g_autofree char *name = g_strconcat(_("station"), ".lazaret", NULL);
  return g_build_filename(g_get_user_data_dir(), "lazaret", name, NULL);
}

// --- keeping up

void
lz_desk_replan(LzDesk *desk)
{
  g_autoptr(GError) cannot = NULL;
  desk->plan = NULL;
  desk->credit = NULL;
  lzq_arena_reset(&desk->arena);
  desk->now = lz_clock_now(desk->clock);
  desk->plan = lz_desk_plan_ahead(desk, desk->now, &desk->arena, &cannot);
  if (!lz_desk_readable(desk, cannot ? NULL : &cannot))
    desk->plan = NULL;
  if (!desk->plan)
    desk->credit = NULL;
  g_free(desk->plan_error);
  desk->plan_error = cannot ? g_strdup(cannot->message) : NULL;
  lz_rows_update(desk);
  if (desk->plan && !lz_desk_readable(desk, NULL)) { // the rows could not be made whole
    lz_desk_replan(desk);
    return;
  }
  g_signal_emit(desk, signals[CHANGED], 0);
}

void
lz_desk_refresh(LzDesk *desk)
{
  if (desk->no_plan)
    g_signal_emit(desk, signals[CHANGED], 0);
  else
    lz_desk_replan(desk);
}

void
lz_desk_foreign(LzDesk *desk, guint n)
{
  g_signal_emit(desk, signals[FOREIGN], 0, n);
}

void
lz_desk_set_actor(LzDesk *desk, int64_t person)
{
  if (desk->actor == person)
    return;
  desk->actor = person;
  g_object_notify_by_pspec(G_OBJECT(desk), props[PROP_ACTOR]);
}
