// SPDX-License-Identifier: GPL-3.0-or-later
// What has to do with the file itself: failures as sentences, proof, copies, drafts, names and PINs
// beside the chain.
#include <glib/gi18n-lib.h>
#include <inttypes.h>

#include "lz_desk_private.h"
#include "lz_error.h"

static LzDeskError
code_of(lzs_status status)
{
  switch (status) {
  case LZS_BAD_INPUT: return LZ_DESK_ERROR_USAGE;
  case LZS_NOT_FOUND: return LZ_DESK_ERROR_NOT_FOUND;
  case LZS_EXISTS: return LZ_DESK_ERROR_EXISTS;
  case LZS_TOO_NEW: return LZ_DESK_ERROR_TOO_NEW;
  case LZS_READ_ONLY: return LZ_DESK_ERROR_READ_ONLY;
  case LZS_BUSY: return LZ_DESK_ERROR_BUSY;
  case LZS_REFUSED: return LZ_DESK_ERROR_REFUSED;
  case LZS_CORRUPT: return LZ_DESK_ERROR_DAMAGED;
  case LZS_STOPPED: return LZ_DESK_ERROR_STOPPED;
  default: return LZ_DESK_ERROR_IO;
  }
}

static char *
words_of(const char *path, const lzs_error *from)
{
  switch (from->status) {
  case LZS_BAD_INPUT:
    return g_strdup_printf(_("%s: “%s” is not accepted (%s)"), from->field, from->value,
                           from->detail);
  case LZS_NOT_FOUND: return g_strdup_printf(_("there is no file %s"), path);
  case LZS_EXISTS:
    return g_strdup_printf(_("there is a file %s already; choose another name"), path);
  case LZS_NOT_STATION: return g_strdup_printf(_("%s is not a station's file"), path);
  case LZS_TOO_NEW:
    return g_strdup_printf(
        _("%s was written by a newer version of this program; open it with that one"), path);
  case LZS_READ_ONLY:
    return g_strdup_printf(_("%s cannot be written to: its file or folder is protected"), path);
  case LZS_BUSY:
    return g_strdup_printf(_("another program is writing to %s; nothing was saved, try again"),
                           path);
  case LZS_FULL: return g_strdup(_("there is no room left on the disk; nothing was saved"));
  case LZS_CORRUPT:
    if (g_str_equal(from->field, "photo"))
      return g_strdup_printf(_("a photograph in %s is damaged: it is not what was kept. A back-up "
                               "may hold it whole"),
                             path);
    return from->entry ? g_strdup_printf(_("%s was changed from outside: entry %" PRId64
                                           " does not fit the chain. Restore a back-up, or "
                                           "salvage what is sound into a new file"),
                                         path, from->entry)
                       : g_strdup_printf(_("%s is damaged (%s). Restore a back-up, or salvage what "
                                           "is sound into a new file"),
                                         path, from->detail);
  case LZS_REFUSED: return g_strdup_printf(_("the ledger refuses this: %s"), from->detail);
  case LZS_STOPPED: return g_strdup(_("stopped as asked; nothing was written or replaced"));
  case LZS_MOVED:
    return g_strdup_printf(_("%s is no longer where it was opened: it was moved, renamed, deleted "
                             "or replaced. Nothing was saved; put it back, or open it again"),
                           path);
  case LZS_NO_MEMORY: return g_strdup(_("there is not enough memory; nothing was saved"));
  default: return g_strdup_printf(_("%s could not be read or written: %s"), path, from->detail);
  }
}

// Whatever a damaged file or a file's name puts into it, a sentence can be shown.
static char *
sentence(const char *path, const lzs_error *from)
{
  g_autofree char *words = words_of(path, from);
  return g_utf8_make_valid(words, -1);
}

void
lz_file_store_error(const char *path, const lzs_error *from, GError **error)
{
  g_autofree char *words = sentence(path, from);
  g_set_error_literal(error, LZ_DESK_ERROR, (int)code_of(from->status), words);
}

void
lz_desk_store_error(LzDesk *desk, const lzs_error *from, GError **error)
{
  lz_file_store_error(desk->path, from, error);
}

static gboolean
done(LzDesk *desk, lzs_status status, const lzs_error *failure, GError **error)
{
  if (status == LZS_OK)
    return TRUE;
  lz_desk_store_error(desk, failure, error);
  return FALSE;
}

char *
lz_desk_why_read_only(LzDesk *desk)
{
  if (desk->read_only || !desk->store || !lzs_is_read_only(desk->store))
    return NULL;
  return g_strdup_printf(
      _("%s is shown as it lies: its file or folder is protected, so nothing can "
        "be entered. Make it writable, or open a copy"),
      desk->path);
}

static bool
tell(void *ctx, double share)
{
  LzDesk *desk = ctx;
  return desk->progress(desk->progress_data,
                        desk->part_from + (desk->part_to - desk->part_from) * share);
}

void
lz_desk_set_progress(LzDesk *desk, LzProgress progress, gpointer data)
{
  desk->progress = progress;
  desk->progress_data = data;
  lz_desk_part(desk, 0, 1);
  lzs_set_progress(desk->store, progress ? tell : NULL, desk);
}

void
lz_desk_part(LzDesk *desk, double from, double to)
{
  desk->part_from = from;
  desk->part_to = to;
}

gboolean
lz_desk_tell(LzDesk *desk, guint i, guint n, GError **error)
{
  if (!desk->progress || i % (n / 100 + 1) != 0 || tell(desk, (double)i / n))
    return TRUE;
  g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_STOPPED,
                      _("stopped as asked; nothing was written or replaced"));
  return FALSE;
}

gboolean
lz_desk_verify(LzDesk *desk, LzVerify *out, GError **error)
{
  lzs_verify_result result = {0};
  lzs_error failure = {0};
  lzs_status status = lzs_verify(desk->store, &result, &failure);
  out->entries = result.entries;
  out->chains = result.chains;
  out->bad = failure.entry;
  out->salvaged = result.salvaged;
  out->photos = result.pictures;
  out->photos_missing = result.missing;
  for (gsize i = 0; i < sizeof result.head; i++)
    g_snprintf(out->head + 2 * i, 3, "%02x", result.head[i]);
  if (status == LZS_CORRUPT) {
    g_autofree char *words = sentence(desk->path, &failure);
    g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED, words);
    return FALSE;
  }
  return done(desk, status, &failure, error);
}

gboolean
lz_desk_backup(LzDesk *desk, const char *to_path, GError **error)
{
  lzs_error failure = {0};
  lzs_status status = lzs_backup(desk->store, to_path, &failure);
  if (status != LZS_OK)
    lz_file_store_error(status == LZS_CORRUPT ? desk->path : to_path, &failure, error);
  return status == LZS_OK;
}

gboolean
lz_desk_set_draft(LzDesk *desk, const char *key, const char *value, GError **error)
{
  lzs_error failure = {0};
  int64_t now = lz_clock_now_ms(desk->clock);
  if (!desk->store) {
    g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_CLOSED, _("The station is closed."));
    return FALSE;
  }
  return done(desk, lzs_draft_set(desk->store, key, value, now, &failure), &failure, error);
}

typedef struct {
  const char *key;
  char *value;
  int64_t at_ms;
} Wanted;

static bool
pick(void *ctx, const char *key, const char *value, int64_t at_ms)
{
  Wanted *wanted = ctx;
  if (!g_str_equal(key, wanted->key))
    return true;
  wanted->value = g_strdup(value);
  wanted->at_ms = at_ms;
  return false;
}

char *
lz_desk_draft(LzDesk *desk, const char *key, int64_t *at_ms)
{
  Wanted wanted = {.key = key};
  lzs_error failure = {0};
  lzs_drafts(desk->store, pick, &wanted, &failure);
  if (at_ms)
    *at_ms = wanted.at_ms;
  return wanted.value;
}

gboolean
lz_desk_set_person(LzDesk *desk, int64_t person, const char *name, const char *initials,
                   const char *contact, GError **error)
{
  lzs_error failure = {0};
  const lzs_identity identity = {name, initials, contact};
  if (!done(desk, lzs_name_set(desk->store, person, name ? &identity : NULL, &failure), &failure,
            error))
    return FALSE;
  lz_model_name_person(desk->model, person, name, name ? initials : NULL, name ? contact : NULL);
  return TRUE;
}

gboolean
lz_desk_set_pin(LzDesk *desk, int64_t person, const char *pin, GError **error)
{
  lzs_error failure = {0};
  return done(desk, lzs_pin_set(desk->store, person, pin, &failure), &failure, error);
}

gboolean
lz_desk_check_pin(LzDesk *desk, int64_t person, const char *pin, GError **error)
{
  lzs_error failure = {0};
  bool right = false;
  return done(desk, lzs_pin_check(desk->store, person, pin, &right, &failure), &failure, error) &&
         right;
}
