// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's records of a large station as a file of this PC's own, so that it opens without
// reading every entry. It is the model's records byte for byte and what the engine's book knows of
// them, and beside the ledger a sealed row that says for which entries and with which sum: anything
// that does not fit is not believed, and the whole ledger is read. Throwing the file away changes
// nothing. What was believed is mapped: it stays on the disk until somebody looks at it.
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "lz_desk_private.h"
#include "lz_records_beside.h"

#define KEPT       "records"
#define ENDING     ".records"
#define EDITION    5 // raise it with every change of what a record says of an entry
#define GROWN_BY   5 // times as many as are kept in memory: then the file is written anew
#define ROOM_TIMES 4 // as much must be free on the disk
#define ROOM_SHARE 4 // a fourth of the records may come before they are copied

typedef struct {
  char magic[8];
  uint32_t edition, record; // size of one
  uint64_t records, entries;
  gsize size; // of the file
  uint64_t sum;
  gsize beside, book; // where they begin
  int64_t last;       // entry
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

// --- opening

// The parts lie in the file as they are written.
static gboolean
fits(const Head *h)
{
  return h->records < G_MAXUINT32 && h->entries < G_MAXUINT32 &&
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
  row->found = memcmp(row->head.magic, "lzrecord", 8) == 0 && row->head.edition == EDITION &&
               row->head.record == sizeof(lzq_record) && row->head.last == entry &&
               fits(&row->head);
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
read_kept(LzDesk *desk, const Head *head, const LzBeside *beside)
{
  g_autoptr(GPtrArray) out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  lzs_error failure = {0};
  Until until = {out, head->last};
  for (int k = 0; k < LZS_N_KINDS; k++)
    if (desk->model->of_kind[k] &&
        lzs_read_kind(desk->store, (lzs_kind)k, 0, take_until, &until, &failure) != LZS_OK)
      return NULL;
  for (gsize i = 0; i < beside->n_named; i++)
    if (lzs_read_one(desk->store, beside->named[i], take_entry, out, &failure) != LZS_OK)
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

// The file as it lies: the records, and what stands behind them.
typedef struct {
  LzMapped *records, *behind;
} Parts;

static void
unmap(Parts *parts)
{
  g_clear_pointer(&parts->records, lz_mapped_free);
  g_clear_pointer(&parts->behind, lz_mapped_free);
}

// FALSE = it is not what the row says. All of it is read once before anything is believed.
static gboolean
map_file(const char *path, const Head *head, Parts *parts)
{
  const gsize size = head->records * sizeof(lzq_record), behind = head->size - head->beside;
  const int fd = lz_kept_file_open(path, head->size);
  LzSum sum = {0};
  if (fd < 0)
    return FALSE;
  parts->records = lz_mapped_new(fd, 0, head->beside, size / ROOM_SHARE + LZ_MAPPED_UNIT, path);
  parts->behind = lz_mapped_new(fd, head->beside, behind, 0, path);
  close(fd);
  return parts->records && parts->behind && lz_sum_mapped(&sum, parts->records, head->beside) &&
         lz_sum_mapped(&sum, parts->behind, behind) && lz_sum_end(&sum) == head->sum;
}

// The engine goes on from what it knew when the copy was written. Takes the part.
static void
borrow_book(LzDesk *desk, Parts *parts, const Head *head)
{
  char *book = parts->behind->bytes + (head->book - head->beside);
  if (!desk->book || head->book == head->size ||
      lzq_book_borrow(desk->book, book, head->size - head->book) != LZQ_OK) {
    unmap(parts);
    return;
  }
  desk->book_others = desk->model->others;
  desk->lent = g_steal_pointer(&parts->behind);
}

// Takes the records. FALSE = they do not fit the ledger.
static gboolean
take_records(LzDesk *desk, const Head *head, Parts *parts)
{
  LzBeside beside;
  const gsize size = head->book - head->beside;
  gboolean ok = lz_beside_read(&beside, parts->behind->bytes, size, head->entries);
  g_autoptr(GPtrArray) kept = ok ? read_kept(desk, head, &beside) : NULL;
  if (kept) {
    LzMapped *mapped = g_steal_pointer(&parts->records);
    ok = lz_model_take(desk->model, kept, lz_record_array_of(mapped, (guint)head->records),
                       &beside.lying);
    if (ok)
      lz_mapped_rest(mapped, 0, head->records * sizeof(lzq_record));
  }
  lz_beside_clear(&beside);
  lz_mapped_rest(parts->behind, 0, size);
  return ok && kept;
}

gboolean
lz_records_take(LzDesk *desk)
{
  Row row = {0};
  const Head *head = &row.head;
  Parts parts = {0};
  lzs_error none = {0};
  lzs_cache_get(desk->store, KEPT, take_row, &row, &none);
  if (!row.found || head->entries < desk->leave_from || !same_last(desk, head))
    return FALSE;
  g_autofree char *path = path_of(desk);
  if (!map_file(path, head, &parts) || !take_records(desk, head, &parts)) {
    unmap(&parts);
    return FALSE;
  }
  borrow_book(desk, &parts, head);
  desk->model->ahead_min = head->ahead_min;
  desk->model->disordered = head->disordered != 0;
  desk->records_of = head->entries;
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
    if ((g_str_has_suffix(name, ENDING) || g_str_has_suffix(name, ENDING LZ_KEPT_PART)) &&
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

// What the engine knows, if a plan was made of the records as they are.
static void
put_book(LzDesk *desk, LzKeptFile *file)
{
  lzq_book *book = desk->plan ? lz_desk_book(desk) : NULL;
  if (book && lzq_book_follow(book, lz_model_view(desk->model), NULL) == LZQ_OK)
    lzq_book_lend(book, lz_kept_file_put, file); // what fails is known to the file
}

// Records, and from the next unit on what stands beside them, and from the next the engine's book.
static gboolean
write_file(LzDesk *desk, Head *head)
{
  const LzModel *m = desk->model;
  g_autoptr(GArray) named = named_of(m);
  g_autofree char *path = path_of(desk);
  LzKeptFile *file = lz_kept_file_new(path);
  if (!file)
    return FALSE;
  lz_kept_file_put(file, m->records->data, (gsize)m->records->len * sizeof(lzq_record));
  head->beside = lz_kept_file_align(file);
  lz_beside_put(file, m, named);
  head->book = lz_kept_file_align(file);
  put_book(desk, file);
  return lz_kept_file_end(file, &head->size, &head->sum);
}

// Where it is none, has grown, or the engine did not go on from it, as after a change of what is
// set up.
static gboolean
is_old(LzDesk *desk)
{
  const uint64_t n = desk->model->entries->len;
  return !desk->records_of || n >= desk->records_of + (uint64_t)GROWN_BY * desk->keep_newest ||
         (desk->plan && desk->book && !lzq_book_borrows(desk->book));
}

void
lz_records_keep(LzDesk *desk)
{
  LzModel *m = desk->model;
  const guint n = m->entries->len;
  if (!desk->store || desk->read_only || lzs_is_read_only(desk->store) || n < desk->leave_from ||
      !is_old(desk) || !lz_desk_readable(desk, NULL) ||
      !has_room(desk, (uint64_t)m->records->len * sizeof(lzq_record)))
    return;
  const LzEntry *last = lz_model_at(m, n - 1);
  if (!last)
    return;
  lzs_error ignored = {0};
  Head head = {.magic = {'l', 'z', 'r', 'e', 'c', 'o', 'r', 'd'},
               .edition = EDITION,
               .record = sizeof(lzq_record),
               .records = m->records->len,
               .entries = n,
               .last = last->id,
               .ahead_min = m->ahead_min,
               .disordered = m->disordered != 0};
  memcpy(head.hash, last->hash, sizeof head.hash);
  forget_old(desk);
  if (write_file(desk, &head))
    lzs_cache_set(desk->store, KEPT, last->id, &head, sizeof head, &ignored);
}
