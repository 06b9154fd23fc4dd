// SPDX-License-Identifier: GPL-3.0-or-later
// This PC's copy of a large station's records, written at closing: see lz_records.c.
#include <glib/gstdio.h>
#include <string.h>

#include "lz_records_beside.h"
#include "lz_records_head.h"

#define GROWN_BY   1 // times as many as are kept in memory: then the file is written anew
#define ROOM_TIMES 4 // as much must be free on the disk
#define UNUSED_S   (90 * 24 * 3600) // of a station that moved or went

static void
forget_old(const LzDesk *desk)
{
  g_autoptr(GDir) folder = g_dir_open(desk->pc_folder, 0, NULL);
  for (const char *name; folder && (name = g_dir_read_name(folder));) {
    g_autofree char *path = g_build_filename(desk->pc_folder, name, NULL);
    GStatBuf is;
    if ((g_str_has_suffix(name, LZ_RECORDS_ENDING) ||
         g_str_has_suffix(name, LZ_RECORDS_ENDING LZ_KEPT_PART)) &&
        g_stat(path, &is) == 0 && is.st_mtime + UNUSED_S < g_get_real_time() / G_USEC_PER_SEC)
      g_unlink(path);
  }
}

static gboolean
has_room(const LzDesk *desk, uint64_t size)
{
  g_autoptr(GFile) folder = g_file_new_for_path(desk->pc_folder);
  g_autoptr(GFileInfo) info =
      g_file_query_filesystem_info(folder, G_FILE_ATTRIBUTE_FILESYSTEM_FREE, NULL, NULL);
  return info && g_file_info_get_attribute_uint64(info, G_FILE_ATTRIBUTE_FILESYSTEM_FREE) >
                     size * ROOM_TIMES;
}

// The first and the last day on which was fed.
static void
note_days(const LzModel *m, LzRecordsHead *head)
{
  head->first_day = G_MAXINT32;
  head->last_day = G_MININT32;
  for (guint i = 0; i < m->records->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->kind != LZQ_REC_FEED)
      continue;
    head->first_day = MIN(head->first_day, r->day);
    head->last_day = MAX(head->last_day, r->day);
  }
  if (head->first_day <= head->last_day)
    head->last_day++; // which ends the one before it
  head->days = lz_records_days(m, head->first_day, head->last_day);
}

// What the engine knows, if a plan was made of the records as they are.
static void
put_book(LzDesk *desk, LzKeptFile *file)
{
  lzq_book *book = desk->plan ? lz_desk_book(desk) : NULL;
  if (book && lzq_book_follow(book, lz_model_view(desk->model), NULL) == LZQ_OK)
    lzq_book_lend(book, lz_kept_file_put, file); // what fails is known to the file
}

static gboolean
write_file(LzDesk *desk, LzRecordsHead *head)
{
  const LzModel *m = desk->model;
  g_autofree char *path = lz_records_path(desk);
  LzKeptFile *file = lz_kept_file_new(path);
  if (!file)
    return FALSE;
  lz_kept_file_put(file, m->records->data, (gsize)m->records->len * sizeof(lzq_record));
  head->beside = lz_kept_file_part(file, &head->sum[0]);
  lz_beside_put(file, m, desk->keep_newest);
  head->book = lz_kept_file_part(file, &head->sum[1]);
  put_book(desk, file);
  gsize size;
  const gboolean ok = lz_kept_file_end(file, &size, &head->sum[2]);
  head->size = size;
  return ok;
}

// Something was said since that had all applied anew, and would have it so at each opening.
static gboolean
past_changed(const LzDesk *desk)
{
  const LzModel *m = desk->model;
  for (guint i = (guint)desk->records_of; i < m->entries->len; i++) {
    const LzEntry *e = lz_model_kept(m, i);
    if (e && lz_model_changes_past(e))
      return TRUE;
  }
  return FALSE;
}

// Where it is none, has grown, or the engine did not go on from it, as after a change of what is
// set up.
static gboolean
is_old(LzDesk *desk)
{
  const uint64_t n = desk->model->entries->len;
  if (desk->no_plan && desk->records_of) // it has no book to keep
    return FALSE;
  return !desk->records_of || n >= desk->records_of + (uint64_t)GROWN_BY * desk->keep_newest ||
         past_changed(desk) || (desk->plan && desk->book && !lzq_book_borrows(desk->book));
}

gboolean
lz_records_are_due(LzDesk *desk)
{
  const LzModel *m = desk->model;
  return desk->store && !desk->read_only && !lzs_is_read_only(desk->store) &&
         m->entries->len >= desk->leave_from && is_old(desk) && lz_desk_readable(desk, NULL) &&
         has_room(desk, (uint64_t)m->records->len * sizeof(lzq_record));
}

void
lz_records_keep(LzDesk *desk)
{
  LzModel *m = desk->model;
  const guint n = m->entries->len;
  const LzEntry *last = lz_records_are_due(desk) ? lz_model_at(m, n - 1) : NULL;
  if (!last)
    return;
  lzs_error ignored = {0};
  LzRecordsHead head = lz_records_head();
  head.records = m->records->len;
  head.entries = n;
  head.last = last->id;
  head.ahead_min = m->ahead_min;
  head.disordered = m->disordered != 0;
  head.leave_from = n - MIN(n, desk->keep_newest);
  memcpy(head.hash, last->hash, sizeof head.hash);
  note_days(m, &head);
  forget_old(desk);
  if (write_file(desk, &head))
    lzs_cache_set(desk->store, LZ_RECORDS_KEPT, last->id, &head, sizeof head, &ignored);
}
