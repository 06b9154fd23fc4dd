// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's records of a large station as a file of this PC's own, so that it opens without
// reading every entry. It is the model's records byte for byte, and beside the ledger a sealed row
// that says for which entries and with which sum: anything that does not fit is not believed, and
// the whole ledger is read. Throwing the file away changes nothing.
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "lz_desk_private.h"

#define KEPT       "records"
#define ENDING     ".records"
#define PART       ".part"   // while it is written
#define EDITION    4         // raise it with every change of what a record says of an entry
#define GROWN_BY   5         // times as many as are kept in memory: then the file is written anew
#define ROOM_TIMES 4         // as much must be free on the disk
#define ROOM_SHARE 4         // a fourth of the records may come before they are copied
#define BLOCK      (1 << 18) // bytes that are read and summed at a time

typedef struct {
  char magic[8];
  uint32_t edition, size; // size of a record
  uint64_t records, entries, named;
  uint64_t sum; // of the file
  int64_t last; // entry
  int64_t ahead_min;
  uint8_t hash[32]; // of that entry
  uint32_t disordered, padding;
} Head;

// What the row says, and what it stands for.
typedef struct {
  Head head;
  gboolean found;
} Row;

static char *
path_of(const LzDesk *desk)
{
  g_autofree char *whole = g_canonicalize_filename(desk->path, NULL);
  g_autofree char *name = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
  g_autofree char *file = g_strdup_printf("%.32s%s", name, ENDING);
  return g_build_filename(desk->pc_folder, file, NULL);
}

// Against damage; who can write to this folder can read the key that seals the row as well.
static uint64_t
sum_of(const void *bytes, gsize size, uint64_t sum)
{
  const unsigned char *p = bytes;
  for (uint64_t word; size >= sizeof word; p += sizeof word, size -= sizeof word) {
    memcpy(&word, p, sizeof word);
    sum = (sum ^ word) * UINT64_C(0x9E3779B97F4A7C15);
    sum ^= sum >> 29;
  }
  return sum;
}

// --- opening

static void
take_row(void *ctx, int64_t entry, const void *bytes, size_t size)
{
  Row *row = ctx;
  if (size != sizeof row->head)
    return;
  memcpy(&row->head, bytes, size);
  row->found = memcmp(row->head.magic, "lzrecord", 8) == 0 && row->head.edition == EDITION &&
               row->head.size == sizeof(lzq_record) && row->head.last == entry;
}

static bool
take_entry(void *ctx, const lzs_entry *entry)
{
  g_ptr_array_add(ctx, lz_entry_new(entry));
  return true;
}

typedef struct {
  GPtrArray *out;
  int64_t until;
} Until;

static bool
take_until(void *ctx, const lzs_entry *entry)
{
  const Until *u = ctx;
  return entry->id <= u->until && take_entry(u->out, entry);
}

static int
by_id(gconstpointer a, gconstpointer b)
{
  const int64_t p = (*(LzEntry *const *)a)->id, q = (*(LzEntry *const *)b)->id;
  return p < q ? -1 : p > q;
}

static void
drop_twins(GPtrArray *entries)
{
  guint n = 0;
  g_ptr_array_sort(entries, by_id);
  for (guint i = 0; i < entries->len; i++) {
    LzEntry *e = entries->pdata[i];
    if (n > 0 && ((const LzEntry *)entries->pdata[n - 1])->id == e->id)
      continue;
    entries->pdata[i] = entries->pdata[n];
    entries->pdata[n++] = e;
  }
  g_ptr_array_set_size(entries, (int)n);
}

// All that is no plain entry: whole kinds, and by their numbers what of the others was named. The
// newest ones as well.
static GPtrArray *
read_kept(LzDesk *desk, const Head *head, const int64_t *named)
{
  g_autoptr(GPtrArray) out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  lzs_error failure = {0};
  Until until = {out, head->last};
  for (int k = 0; k < LZS_N_KINDS; k++)
    if (desk->model->of_kind[k] &&
        lzs_read_kind(desk->store, (lzs_kind)k, 0, take_until, &until, &failure) != LZS_OK)
      return NULL;
  for (uint64_t i = 0; i < head->named; i++)
    if (lzs_read_one(desk->store, named[i], take_entry, out, &failure) != LZS_OK)
      return NULL;
  if (lzs_read(desk->store, MAX(0, head->last - desk->keep_newest), take_until, &until, &failure) !=
      LZS_OK)
    return NULL;
  drop_twins(out);
  return g_steal_pointer(&out);
}

// The last entry is the one that it was.
static gboolean
same_last(LzDesk *desk, const Head *head)
{
  g_autoptr(GPtrArray) one = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  lzs_error failure = {0};
  return lzs_read_one(desk->store, head->last, take_entry, one, &failure) == LZS_OK &&
         one->len == 1 &&
         memcmp(((const LzEntry *)one->pdata[0])->hash, head->hash, sizeof head->hash) == 0;
}

// Each record is of a kept entry, or a plain one's only record; and all together are as many.
static gboolean
adds_up(const Head *head, const GPtrArray *kept, const lzq_record *records)
{
  uint64_t left = 0, before = 0;
  guint k = 0;
  for (uint64_t r = 0; r < head->records; r++) {
    const uint64_t id = records[r].id / LZ_RECORDS_PER_ENTRY;
    while (k < kept->len && (uint64_t)((const LzEntry *)kept->pdata[k])->id < id)
      k++;
    if (k < kept->len && (uint64_t)((const LzEntry *)kept->pdata[k])->id == id)
      continue;
    if (records[r].corrects || records[r].id % LZ_RECORDS_PER_ENTRY || id <= before)
      return FALSE;
    before = id;
    left++;
  }
  return left + kept->len == head->entries;
}

// --- the file

// Reads and sums what is there, block by block, and gives it to `out` where that is not NULL.
static gboolean
sum_file(int fd, gsize size, char *out, uint64_t *sum)
{
  g_autofree char *block = g_malloc(BLOCK);
  while (size > 0) {
    char *p = out ? out : block;
    const gsize most = MIN(size, (gsize)BLOCK);
    gsize got = 0;
    while (got < most) {
      const gssize n = read(fd, p + got, most - got);
      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      got += (gsize)n;
    }
    *sum = sum_of(p, got, *sum); // while the processor still has it at hand
    out = out ? out + got : NULL;
    size -= got;
  }
  return TRUE;
}

// The file's records where they lie, and its ids, if they are those of the row. It is read once
// before it is mapped: a bad disk is then an error, not a signal. What is no plain file is not
// waited for.
static LzMapped *
map_file(const char *path, const Head *head, GArray *named)
{
  const gsize size = head->records * sizeof(lzq_record);
  const gsize size_named = head->named * sizeof(int64_t);
  const int fd = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  LzMapped *mapped = NULL;
  struct stat is;
  uint64_t sum = 0;
  if (fd < 0)
    return NULL;
  if (fstat(fd, &is) == 0 && S_ISREG(is.st_mode) && (uint64_t)is.st_size == size + size_named) {
    g_array_set_size(named, (guint)head->named);
    if (sum_file(fd, size, NULL, &sum) && sum_file(fd, size_named, named->data, &sum) &&
        sum == head->sum)
      mapped = lz_mapped_new(fd, 0, size, size / ROOM_SHARE + LZ_MAPPED_UNIT, path);
  }
  close(fd);
  return mapped;
}

gboolean
lz_records_take(LzDesk *desk)
{
  Row row = {0};
  lzs_error none = {0};
  lzs_cache_get(desk->store, KEPT, take_row, &row, &none);
  if (!row.found || row.head.entries < desk->leave_from || !same_last(desk, &row.head))
    return FALSE;
  g_autofree char *path = path_of(desk);
  g_autoptr(GArray) named = g_array_new(FALSE, FALSE, sizeof(int64_t));
  LzMapped *mapped = map_file(path, &row.head, named);
  if (!mapped)
    return FALSE;
  g_autoptr(GPtrArray) kept = read_kept(desk, &row.head, (const int64_t *)(void *)named->data);
  if (!kept || !adds_up(&row.head, kept, (const lzq_record *)(void *)mapped->bytes)) {
    lz_mapped_free(mapped);
    return FALSE;
  }
  if (!lz_model_take(desk->model, kept, lz_record_array_of(mapped, (guint)row.head.records)))
    return FALSE;
  lz_mapped_rest(mapped, row.head.records * sizeof(lzq_record));
  desk->model->ahead_min = row.head.ahead_min;
  desk->model->disordered = row.head.disordered != 0;
  desk->records_of = row.head.entries;
  return TRUE;
}

// --- closing

#define UNUSED_S (90 * 24 * 3600) // of a station that moved or went

static void
forget_old(const LzDesk *desk)
{
  g_autoptr(GDir) folder = g_dir_open(desk->pc_folder, 0, NULL);
  for (const char *name; folder && (name = g_dir_read_name(folder));) {
    g_autofree char *path = g_build_filename(desk->pc_folder, name, NULL);
    GStatBuf is;
    if ((g_str_has_suffix(name, ENDING) || g_str_has_suffix(name, ENDING PART)) &&
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

static gboolean
write_all(int fd, const void *bytes, gsize size)
{
  const char *p = bytes;
  while (size > 0) {
    const gssize n = write(fd, p, size);
    if (n < 0 && errno == EINTR)
      continue;
    if (n <= 0)
      return FALSE;
    p += n;
    size -= (gsize)n;
  }
  return TRUE;
}

static gboolean
write_file(const char *path, const LzModel *m, const GArray *named)
{
  g_autofree char *part = g_strconcat(path, PART, NULL);
  unlink(part); // what a kill left, or anything that writing would wait for
  const int fd = open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (fd < 0)
    return FALSE;
  gboolean ok = write_all(fd, m->records->data, (gsize)m->records->len * sizeof(lzq_record)) &&
                write_all(fd, named->data, (gsize)named->len * sizeof(int64_t)) && fsync(fd) == 0;
  ok = close(fd) == 0 && ok && rename(part, path) == 0;
  if (!ok)
    unlink(part);
  return ok;
}

static GArray *
named_of(const LzModel *m)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(int64_t));
  for (guint i = 0; i < m->entries->len; i++) {
    const LzEntry *e = lz_model_kept(m, i);
    if (e && !m->of_kind[e->kind] && (e->corrected || !lz_model_is_plain(e)))
      g_array_append_val(out, e->id);
  }
  return out;
}

void
lz_records_keep(LzDesk *desk)
{
  LzModel *m = desk->model;
  const guint n = m->entries->len;
  const uint64_t size = (uint64_t)m->records->len * sizeof(lzq_record);
  if (!desk->store || desk->read_only || lzs_is_read_only(desk->store) || n < desk->leave_from ||
      (desk->records_of && n < desk->records_of + (uint64_t)GROWN_BY * desk->keep_newest) ||
      !lz_desk_readable(desk, NULL) || !has_room(desk, size))
    return;
  const LzEntry *last = lz_model_at(m, n - 1);
  if (!last)
    return;
  g_autoptr(GArray) named = named_of(m);
  g_autofree char *path = path_of(desk);
  lzs_error ignored = {0};
  Head head = {.magic = {'l', 'z', 'r', 'e', 'c', 'o', 'r', 'd'},
               .edition = EDITION,
               .size = sizeof(lzq_record),
               .records = m->records->len,
               .entries = n,
               .named = named->len,
               .last = last->id,
               .ahead_min = m->ahead_min,
               .disordered = m->disordered != 0};
  memcpy(head.hash, last->hash, sizeof head.hash);
  head.sum = sum_of(m->records->data, size, 0);
  head.sum = sum_of(named->data, (gsize)named->len * sizeof(int64_t), head.sum);
  forget_old(desk);
  if (write_file(path, m, named))
    lzs_cache_set(desk->store, KEPT, last->id, &head, sizeof head, &ignored);
}
