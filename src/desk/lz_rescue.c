// SPDX-License-Identifier: GPL-3.0-or-later
// Salvage, restore and sealing: see lz_rescue.h.
#include "lz_rescue.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <unistd.h>
#include <lzs_file.h>
#include <lzs_seal.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_format.h"

static gboolean
done(const char *path, lzs_status status, const lzs_error *failure, GError **error)
{
  if (status != LZS_OK)
    lz_file_store_error(path, failure, error);
  return status == LZS_OK;
}

typedef struct {
  LzProgress progress;
  gpointer data;
} Hearer;

static bool
tell(void *ctx, double share)
{
  const Hearer *to = ctx;
  return to->progress(to->data, share);
}

// --- salvage

static const char *
fate_words(lzs_fate fate)
{
  switch (fate) {
  case LZS_KEPT_SOUND: return _("kept");
  case LZS_KEPT_UNPROVEN: return _("kept, not proven: the entry before it is lost");
  case LZS_KEPT_DOUBTFUL: return _("kept as it lies, because others rest on it; check it");
  case LZS_LOST_CHANGED: return _("left out: it was changed");
  case LZS_LOST_RESTS: return _("left out: it rests on an entry that is lost");
  case LZS_LOST_UNREADABLE: return _("lost: it cannot be read");
  }
  return "";
}

static char *
value_words(const lzs_field *field, const lzs_value *value)
{
  switch (field->type) {
  case LZS_T_TEXT:
  case LZS_T_WORD: return g_utf8_make_valid(value->text, -1);
  case LZS_T_REAL: return lz_format_machine(value->r);
  case LZS_T_REF: return g_strdup_printf("#%" G_GINT64_FORMAT, value->i);
  case LZS_T_INT:
  case LZS_T_BOOL: return g_strdup_printf("%" G_GINT64_FORMAT, value->i);
  }
  return NULL;
}

static char *
entry_words(const lzs_entry *entry)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  g_autofree char *at = lz_format_iso(entry->happened_min);
  GString *words = g_string_new(NULL);
  g_string_append_printf(words, "%s %s", spec->name, at);
  for (gsize i = 0; i < spec->n_fields; i++) {
    if (entry->v[i].null)
      continue;
    g_autofree char *text = value_words(&spec->fields[i], &entry->v[i]);
    g_string_append_printf(words, " %s=%s", spec->fields[i].name, text);
  }
  return g_string_free(words, FALSE);
}

static bool
say_fate(void *ctx, int64_t id, lzs_fate fate, const lzs_entry *entry)
{
  const LzSalvageOptions *to = ctx;
  g_autofree char *what = entry ? entry_words(entry) : g_strdup("");
  to->each(to->each_data, id, fate_words(fate), what);
  return true;
}

gboolean
lz_rescue_salvage(const char *path, const char *to_path, const LzSalvageOptions *options,
                  LzSalvage *out, GError **error)
{
  lzs_error failure = {0};
  LzSalvageOptions to = options ? *options : (LzSalvageOptions){0};
  Hearer hearer = {to.progress, to.hearer};
  lzs_options how = {
      .pc_folder = to.pc_folder, .progress = to.progress ? tell : NULL, .progress_ctx = &hearer};
  lzs_salvage_result result = {0};
  lzs_status status =
      lzs_salvage(path, to_path, &how, to.each ? say_fate : NULL, &to, &result, &failure);
  *out = (LzSalvage){.kept = result.kept,
                     .unproven = result.unproven,
                     .doubtful = result.doubtful,
                     .lost = result.lost};
  return done(status == LZS_EXISTS ? to_path : path, status, &failure, error);
}

// --- restore

typedef struct {
  uint8_t hash[32];
  int64_t recorded_ms;
  int64_t n, earliest;
} Seen;

static bool
take(void *ctx, const lzs_entry *entry)
{
  Seen *seen = ctx;
  memcpy(seen->hash, entry->hash, sizeof seen->hash);
  seen->recorded_ms = entry->recorded_ms;
  if (seen->n++ == 0 || entry->happened_min < seen->earliest)
    seen->earliest = entry->happened_min;
  return true;
}

// Whether both files hold the same entry of that number: then all before it are the same, too, as
// far as that PC wrote them.
static gboolean
alike(lzs_store *a, lzs_store *b, int64_t id)
{
  Seen sa = {0}, sb = {0};
  return lzs_read_one(a, id, take, &sa, NULL) == LZS_OK &&
         lzs_read_one(b, id, take, &sb, NULL) == LZS_OK && memcmp(sa.hash, sb.hash, 32) == 0;
}

// The last number up to which both are the same.
static int64_t
last_alike(lzs_store *a, lzs_store *b, int64_t most)
{
  int64_t low = 0, high = most;
  while (low < high) {
    int64_t middle = low + (high - low + 1) / 2;
    if (alike(a, b, middle))
      low = middle;
    else
      high = middle - 1;
  }
  return low;
}

static lzs_status
open_reading(const char *path, lzs_store **out, lzs_error *failure)
{
  const lzs_options options = {.read_only = true};
  return lzs_open(path, &options, out, failure);
}

// What of the station is not in the back-up; -1 where it cannot be read.
static void
compare(lzs_store *backup, const char *path, int64_t last, LzRestore *out)
{
  lzs_store *station = NULL;
  int64_t mine = 0;
  Seen lost = {0};
  out->would_lose = -1;
  if (!g_file_test(path, G_FILE_TEST_EXISTS)) {
    out->would_lose = 0;
  } else if (open_reading(path, &station, NULL) == LZS_OK &&
             lzs_last_id(station, &mine, NULL) == LZS_OK &&
             lzs_read(station, last_alike(backup, station, MIN(last, mine)), take, &lost, NULL) ==
                 LZS_OK) {
    out->would_lose = lost.n;
    out->other_station = mine > 0 && !alike(backup, station, 1);
    out->first_lost_min = lost.n ? lost.earliest : 0;
  }
  lzs_close(station);
}

gboolean
lz_rescue_preview(const char *backup, const char *path, LzProgress progress, gpointer hearer,
                  LzRestore *out, GError **error)
{
  Hearer to = {progress, hearer};
  lzs_error failure = {0};
  lzs_store *store = NULL;
  lzs_verify_result result = {0};
  int64_t last = 0;
  Seen end = {0};
  *out = (LzRestore){0};
  lzs_status status = open_reading(backup, &store, &failure);
  if (status == LZS_OK) {
    lzs_set_progress(store, progress ? tell : NULL, &to);
    status = lzs_verify(store, &result, &failure);
  }
  if (status == LZS_OK)
    status = lzs_last_id(store, &last, &failure);
  if (status == LZS_OK && last > 0)
    status = lzs_read_one(store, last, take, &end, &failure);
  if (status == LZS_OK) {
    out->entries = result.entries;
    out->last_minute = end.recorded_ms / 60000;
    compare(store, path, last, out);
  }
  lzs_close(store);
  return done(backup, status, &failure, error);
}

// A name beside path that is free.
static char *
free_name(const char *path, const char *suffix)
{
  g_autofree char *stem = g_str_has_suffix(path, ".lazaret")
                              ? g_strndup(path, strlen(path) - strlen(".lazaret"))
                              : g_strdup(path);
  char *name = g_strdup_printf("%s.%s.lazaret", stem, suffix);
  for (int i = 2; g_file_test(name, G_FILE_TEST_EXISTS); i++) {
    g_free(name);
    name = g_strdup_printf("%s.%s-%d.lazaret", stem, suffix, i);
  }
  return name;
}

static gboolean
cannot_name(const char *from, const char *to, GError **error)
{
  int code = errno;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO, _("%s cannot be given the name %s: %s"), from,
              to, g_strerror(code));
  return FALSE;
}

// The present file gets a second name, with the log of one that is damaged, so that nothing in it
// is lost and there is a station under the first name at every instant. Where a file system has no
// second names it is moved. A log that stayed would be played into the next file.
static gboolean
put_aside(const char *path, const char *aside, GError **error)
{
  static const char *const suffixes[] = {"-wal", "-journal", ""};
  gboolean linked = link(path, aside) == 0;
  for (gsize i = 0; i < G_N_ELEMENTS(suffixes); i++) {
    g_autofree char *from = g_strconcat(path, suffixes[i], NULL);
    g_autofree char *to = g_strconcat(aside, suffixes[i], NULL);
    gboolean last = *suffixes[i] == '\0';
    if (!(last && linked) && g_rename(from, to) != 0 && (errno != ENOENT || last))
      return cannot_name(from, to, error);
  }
  g_autofree char *index = g_strconcat(path, "-shm", NULL);
  g_unlink(index);
  return TRUE;
}

// Nobody may have the station open while its file is exchanged. A damaged one cannot tell.
static gboolean
nobody_has_it(const char *path, GError **error)
{
  g_autofree char *index = g_strconcat(path, "-shm", NULL);
  lzs_store *store = NULL;
  lzs_error failure = {0};
  const lzs_options options = {.busy_ms = -1};
  // A log left by a program that died is folded in and goes. On a network drive there is no index:
  // there a file that is open does not open again.
  if (g_file_test(path, G_FILE_TEST_EXISTS) && lzs_open(path, &options, &store, &failure) == LZS_OK)
    lzs_close(store);
  if (failure.status != LZS_BUSY &&
      (!g_file_test(index, G_FILE_TEST_EXISTS) || failure.status == LZS_CORRUPT ||
       failure.status == LZS_NOT_STATION))
    return TRUE;
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_BUSY,
              _("%s is open in another window or on another PC; close it there first"), path);
  return FALSE;
}

static lzs_status
renew(const char *path, const char *pc_folder, lzs_error *failure)
{
  const lzs_options options = {.pc_folder = pc_folder};
  lzs_store *store = NULL;
  lzs_status status = lzs_open(path, &options, &store, failure);
  if (status == LZS_OK)
    status = lzs_pc_renew(store, failure);
  lzs_close(store);
  return status;
}

gboolean
lz_rescue_restore(const char *backup, const char *path, const char *pc_folder, char **aside,
                  GError **error)
{
  lzs_error failure = {0};
  lzs_store *store = NULL;
  g_autofree char *fresh = free_name(path, "restored");
  *aside = NULL;
  if (!nobody_has_it(path, error))
    return FALSE;
  lzs_status status = open_reading(backup, &store, &failure);
  if (status == LZS_OK)
    status = lzs_backup(store, fresh, &failure);
  lzs_close(store);
  if (status == LZS_OK)
    status = renew(fresh, pc_folder, &failure);
  if (!done(backup, status, &failure, error))
    return FALSE;
  if (g_file_test(path, G_FILE_TEST_EXISTS)) {
    *aside = free_name(path, "before-restore");
    if (!put_aside(path, *aside, error))
      return FALSE;
  }
  return done(path, lzs_file_publish(fresh, path, TRUE, &failure), &failure, error);
}

// --- sealing

gboolean
lz_rescue_seal(const char *path, const char *to_path, const char *passphrase, GError **error)
{
  lzs_error failure = {0};
  lzs_store *store = NULL;
  g_autofree char *copy = free_name(to_path, "copy");
  lzs_status status = open_reading(path, &store, &failure);
  if (status == LZS_OK)
    status = lzs_backup(store, copy, &failure);
  lzs_close(store);
  if (!done(path, status, &failure, error))
    return FALSE;
  status = lzs_seal(copy, to_path, passphrase, &failure);
  g_unlink(copy);
  return done(to_path, status, &failure, error);
}

gboolean
lz_rescue_unseal(const char *sealed, const char *to_path, const char *passphrase, GError **error)
{
  lzs_error failure = {0};
  lzs_status status = lzs_unseal(sealed, to_path, passphrase, &failure);
  if (status == LZS_REFUSED || status == LZS_NOT_STATION) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED,
                status == LZS_REFUSED
                    ? _("%s does not open: the passphrase is another one, or bytes were changed")
                    : _("%s is not a sealed file"),
                sealed);
    return FALSE;
  }
  return done(status == LZS_EXISTS ? to_path : sealed, status, &failure, error);
}
