// SPDX-License-Identifier: GPL-3.0-or-later
// A copy of a damaged file that opens: see lzs_graft.h. The schema is made in one go, so its tables
// begin at the same pages in every file of that version.
#include "lzs_graft.h"

#include "lzs_file.h"
#include "lzs_migrate.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PAGE 4096

static lzs_status
copy_bytes(int from, int to, const char *path, lzs_error *error)
{
  char *buffer = malloc(1 << 16);
  if (buffer == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  lzs_status status = LZS_OK;
  ssize_t n;
  // A disk that cannot read a block any more: what follows it may still be there.
  for (off_t at = 0; status == LZS_OK; at += n) {
    n = pread(from, buffer, 1 << 16, at);
    if (n == 0)
      break;
    if (n < 0 && errno == EIO) {
      n = PAGE;
      memset(buffer, 0, PAGE);
      at = at / PAGE * PAGE;
      struct stat st;
      if (fstat(from, &st) != 0 || at >= st.st_size)
        break;
    }
    if (n < 0 || pwrite(to, buffer, (size_t)n, at) != n)
      status = lzs_fail_errno(error, errno, path, "copy");
  }
  free(buffer);
  return status;
}

static lzs_status
copy_one(const char *path, const char *temp, const char *suffix, lzs_error *error)
{
  char *from = lzs_file_beside(path, suffix), *to = lzs_file_beside(temp, suffix);
  lzs_status status = LZS_OK;
  int in = from != NULL ? open(from, O_RDONLY | O_CLOEXEC) : -1;
  int out = -1;
  if (from == NULL || to == NULL)
    status = lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  else if (in < 0)
    status =
        *suffix != '\0' && errno == ENOENT ? LZS_OK : lzs_fail_errno(error, errno, path, "open");
  else if ((out = open(to, O_RDWR | O_CREAT | O_TRUNC | O_CLOEXEC, 0600)) < 0)
    status = lzs_fail_errno(error, errno, to, "make a copy");
  else
    status = copy_bytes(in, out, path, error);
  if (in >= 0)
    close(in);
  if (out >= 0)
    close(out);
  free(from);
  free(to);
  return status;
}

typedef enum { SOUND, MEND, STRANGE } judgement;

// Folds a journal in, if there is one, and looks whether the schema can be read and is ours. A file
// that reads well but is another program's, or another version's, is not damaged.
static judgement
judge(const char *temp, lzs_error *error)
{
  sqlite3 *db = NULL;
  int64_t version = -1, ours = 0;
  bool same = false;
  judgement found = MEND;
  lzs_status status = LZS_CORRUPT;
  if (sqlite3_open_v2(temp, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK &&
      lzs_db_exec(db, "PRAGMA journal_mode = DELETE", NULL) == LZS_OK &&
      lzs_migrate_schema_is_new(db, &same, NULL) == LZS_OK) {
    status = lzs_migrate_version(db, &version, error);
    if (same)
      found = status == LZS_OK && version == lzs_schema_n ? SOUND : MEND;
    else if (lzs_db_int(db, "SELECT count(*) FROM sqlite_schema WHERE name = 'entry'", &ours,
                        NULL) == LZS_OK &&
             (ours == 0 || status == LZS_TOO_NEW))
      found = STRANGE;
  }
  if (found == STRANGE && ours == 0)
    lzs_fail(error, LZS_NOT_STATION, "file", NULL, "it holds no ledger");
  sqlite3_close(db);
  return found;
}

// A new file of this version, and which of its pages are not the first page of a table or index.
static lzs_status
make_model(const char *model, uint8_t **pages, uint8_t **graft, size_t *n, lzs_error *error)
{
  lzs_store *store = NULL;
  lzs_options options = {.place = LZS_PLACE_NETWORK};
  lzs_status status = lzs_create(model, &options, &store, error);
  if (status != LZS_OK)
    return status;
  struct stat st;
  *n = stat(model, &st) == 0 ? (size_t)st.st_size / PAGE : 0;
  *pages = malloc(*n * PAGE + 1);
  *graft = calloc(*n + 1, 1);
  sqlite3_stmt *stmt = lzs_db_prepare(store, "SELECT rootpage FROM sqlite_schema", error);
  if (*pages == NULL || *graft == NULL || stmt == NULL) {
    status = lzs_fail(error, LZS_NO_MEMORY, "file", model, NULL);
  } else {
    memset(*graft, 1, *n);
    while (sqlite3_step(stmt) == SQLITE_ROW) {
      int64_t root = sqlite3_column_int64(stmt, 0);
      if (root > 0 && root <= (int64_t)*n)
        (*graft)[root - 1] = 0;
    }
  }
  sqlite3_finalize(stmt);
  lzs_close(store);
  size_t got = 0;
  if (status == LZS_OK)
    status = lzs_file_read(model, *pages, *n * PAGE, &got, error);
  return status;
}

// The number of pages goes into the header; free pages are forgotten.
static void
patch_header(uint8_t *first, size_t n_pages)
{
  for (int i = 0; i < 4; i++)
    first[28 + i] = (uint8_t)(n_pages >> (24 - 8 * i));
  memset(first + 32, 0, 8);
}

static lzs_status
put_pages(const char *temp, uint8_t *pages, const uint8_t *graft, size_t n, lzs_error *error)
{
  int fd = open(temp, O_RDWR | O_CLOEXEC);
  struct stat st;
  if (fd < 0 || fstat(fd, &st) != 0) {
    lzs_status status = lzs_fail_errno(error, errno, temp, "open the copy");
    if (fd >= 0)
      close(fd);
    return status;
  }
  size_t there = ((size_t)st.st_size + PAGE - 1) / PAGE;
  patch_header(pages, there > n ? there : n);
  lzs_status status = LZS_OK;
  for (size_t i = 0; i < n && status == LZS_OK; i++)
    if ((graft[i] || i >= there) && pwrite(fd, pages + i * PAGE, PAGE, (off_t)(i * PAGE)) != PAGE)
      status = lzs_fail_errno(error, errno, temp, "mend the copy");
  if (status == LZS_OK && there > n && ftruncate(fd, (off_t)(there * PAGE)) != 0)
    status = lzs_fail_errno(error, errno, temp, "mend the copy");
  close(fd);
  return status;
}

static lzs_status
graft(const char *temp, lzs_error *error)
{
  char *model = lzs_file_beside(temp, ".model");
  uint8_t *pages = NULL, *which = NULL;
  size_t n = 0;
  if (model == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", temp, NULL);
  lzs_file_discard(model);
  lzs_status status = make_model(model, &pages, &which, &n, error);
  if (status == LZS_OK)
    status = put_pages(temp, pages, which, n, error);
  lzs_file_discard(model);
  free(model);
  free(pages);
  free(which);
  return status;
}

lzs_status
lzs_graft_copy(const char *path, const char *temp, lzs_error *error)
{
  static const char *const suffixes[] = {"", "-wal", "-journal"};
  lzs_status status = LZS_OK;
  lzs_file_discard(temp);
  for (int i = 0; i < 3 && status == LZS_OK; i++)
    status = copy_one(path, temp, suffixes[i], error);
  if (status != LZS_OK)
    return status;
  lzs_error strange = {0};
  judgement found = judge(temp, &strange);
  if (found == STRANGE)
    return lzs_fail(error, strange.status, "file", path, strange.detail);
  return found == MEND ? graft(temp, error) : LZS_OK;
}
