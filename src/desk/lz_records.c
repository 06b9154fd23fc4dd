// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's records of a large station as a file of this PC's own, so that it opens without
// reading every entry. It is the model's records byte for byte, the entries that are kept in memory
// with the lists in which records are looked up, and what the engine's book knows; and beside the
// ledger a sealed row that says by which build, for which entries and with which sums: anything
// that does not fit is not believed, and the whole ledger is read. Throwing the file away changes
// nothing. What was believed is mapped: it stays on the disk until somebody looks at it.
#include <string.h>
#include <unistd.h>

#include "lz_records_beside.h"
#include "lz_records_head.h"

// Entries and records are made by these sources: what others made may be other.
#if __has_include("lz_edition.h")
#include "lz_edition.h"
#else
#define LZ_EDITION UINT64_C(0) // built without the build system
#endif

#define ROOM_SHARE 4 // a fourth of the records may come before they are copied

// What the row says, and what it stands for.
typedef struct {
  LzRecordsHead head;
  gboolean found;
} Row;

LzRecordsHead
lz_records_head(void)
{
  return (LzRecordsHead){.magic = {'l', 'z', 'r', 'e', 'c', 'o', 'r', 'd'},
                         .edition = LZ_EDITION ^ (uint64_t)sizeof(lzq_record) << 8 ^
                                    sizeof(LzRecordsHead)};
}

char *
lz_records_path(const LzDesk *desk)
{
  g_autofree char *whole = g_canonicalize_filename(desk->path, NULL);
  g_autofree char *name = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
  g_autofree char *file = g_strdup_printf("%.32s%s", name, LZ_RECORDS_ENDING);
  return g_build_filename(desk->pc_folder, file, NULL);
}

uint64_t
lz_records_days(const LzModel *m, int32_t first, int32_t last)
{
  LzSum sum = {0};
  for (int32_t day = first; day <= last; day++) {
    const int64_t begin[4] = {lz_zone_day_start(m->zone, day)};
    lz_sum_add(&sum, begin, sizeof begin);
  }
  return lz_sum_end(&sum);
}

// The parts lie in the file as they are written.
static gboolean
fits(const LzRecordsHead *h)
{
  const LzRecordsHead own = lz_records_head();
  return memcmp(h->magic, own.magic, sizeof own.magic) == 0 && h->edition == own.edition &&
         h->records < G_MAXUINT32 && h->entries < G_MAXUINT32 &&
         h->records * sizeof(lzq_record) <= h->beside && h->beside <= h->book &&
         h->book <= h->size && h->beside % LZ_MAPPED_UNIT == 0 && h->book % LZ_MAPPED_UNIT == 0;
}

static void
take_row(void *ctx, int64_t entry, const void *bytes, size_t size)
{
  Row *row = ctx;
  if (size != sizeof row->head)
    return;
  memcpy(&row->head, bytes, size);
  row->found = row->head.last == entry && fits(&row->head);
}

static bool
take_hash(void *ctx, const lzs_entry *entry)
{
  memcpy(ctx, entry->hash, sizeof entry->hash);
  return true;
}

// The last entry is the one that it was.
static gboolean
same_last(LzDesk *desk, const LzRecordsHead *head)
{
  uint8_t hash[sizeof head->hash] = {0};
  lzs_error failure = {0};
  return lzs_read_one(desk->store, head->last, take_hash, hash, &failure) == LZS_OK &&
         memcmp(hash, head->hash, sizeof hash) == 0;
}

// --- the file as it lies: the records, and what stands behind them

typedef struct {
  const LzRecordsHead *head;
  LzMapped *records, *behind;
  GThread *summing; // NULL = it is done
  gboolean sound;   // by the thread
} Parts;

static gboolean
map_file(const char *path, const LzRecordsHead *head, Parts *parts)
{
  const gsize size = head->records * sizeof(lzq_record), behind = head->size - head->beside;
  const int fd = lz_kept_file_open(path, head->size);
  *parts = (Parts){.head = head};
  if (fd < 0)
    return FALSE;
  parts->records = lz_mapped_new(fd, 0, head->beside, size / ROOM_SHARE + LZ_MAPPED_UNIT, path);
  parts->behind = lz_mapped_new(fd, head->beside, behind, 0, path);
  close(fd);
  return parts->records && parts->behind &&
         lz_sum_fits(parts->behind, 0, head->book - head->beside, head->sum[1]);
}

static gpointer
sum_rest(gpointer data)
{
  Parts *parts = data;
  const LzRecordsHead *h = parts->head;
  parts->sound = lz_sum_fits(parts->records, 0, h->beside, h->sum[0]) &&
                 lz_sum_fits(parts->behind, h->book - h->beside, h->size - h->book, h->sum[2]);
  return NULL;
}

// Records and book are summed while what is beside them, which was, is taken.
static void
begin_sum(Parts *parts)
{
  parts->summing = g_thread_try_new("sum", sum_rest, parts, NULL);
  if (!parts->summing)
    sum_rest(parts);
}

static gboolean
end_sum(Parts *parts)
{
  if (parts->summing)
    g_thread_join(parts->summing);
  return parts->sound;
}

static gboolean
take_beside(LzDesk *desk, const Parts *parts, gboolean *taken)
{
  const LzRecordsHead *head = parts->head;
  LzModel *m = desk->model;
  LzBeside beside;
  gboolean ok =
      lz_beside_read(&beside, parts->behind->bytes, head->book - head->beside, head->entries);
  if (ok) {
    *taken = TRUE;
    ok = lz_model_take(m, beside.kept, lz_record_array_of(parts->records, (guint)head->records),
                       &beside.lying) &&
         lz_records_days(m, head->first_day, head->last_day) == head->days;
    m->leave_from = head->leave_from;
    m->ahead_min = head->ahead_min;
    m->disordered = head->disordered != 0;
  }
  lz_beside_clear(&beside);
  return ok;
}

// The engine goes on from what it knew when the copy was written. Takes the part.
static void
borrow_book(LzDesk *desk, LzMapped *behind, const LzRecordsHead *head)
{
  const gsize at = head->book - head->beside;
  lz_mapped_rest(behind, 0, at);
  if (!desk->book || head->book == head->size ||
      lzq_book_borrow(desk->book, behind->bytes + at, head->size - head->book) != LZQ_OK) {
    lz_mapped_free(behind);
    return;
  }
  desk->book_others = desk->model->others;
  desk->lent = behind;
}

gboolean
lz_records_take(LzDesk *desk)
{
  Row row = {0};
  const LzRecordsHead *head = &row.head;
  Parts parts;
  lzs_error none = {0};
  gboolean taken = FALSE, ok;
  lzs_cache_get(desk->store, LZ_RECORDS_KEPT, take_row, &row, &none);
  if (!row.found || head->entries < desk->leave_from || !same_last(desk, head))
    return FALSE;
  g_autofree char *path = lz_records_path(desk);
  ok = map_file(path, head, &parts);
  if (ok) {
    begin_sum(&parts);
    ok = take_beside(desk, &parts, &taken);
    ok = end_sum(&parts) && ok;
  }
  if (!taken)
    lz_mapped_free(parts.records);
  if (!ok) {
    lz_mapped_free(parts.behind);
    return FALSE;
  }
  borrow_book(desk, parts.behind, head);
  desk->records_of = head->entries;
  return TRUE;
}
