// SPDX-License-Identifier: GPL-3.0-or-later
// Times of the store: appending, reading and verifying readings, and small appends one by one, each
// beside plain SQLite writing rows as wide in the same run.
// usage: bench-store [READINGS] (default 500000)
#include "lzs_store.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#define BATCH 50000

static lzs_error error;

static double
seconds(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void
must(lzs_status status)
{
  if (status == LZS_OK)
    return;
  fprintf(stderr, "%s: %s %s\n", lzs_status_name(status), error.field, error.detail);
  exit(1);
}

static lzs_entry
entry_of(lzs_kind kind)
{
  lzs_entry entry = {.kind = kind, .happened_min = 29557920, .offset_min = 60};
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    entry.v[i].null = true;
  return entry;
}

// The order of values is that of lzs_kind_setup.c and lzs_kind_facts.c.
static void
set_up(lzs_store *store)
{
  lzs_entry e[2] = {entry_of(LZS_PERSON), entry_of(LZS_SYSTEM)};
  e[0].v[0] = (lzs_value){.text = "lead"};
  e[1].v[0] = (lzs_value){.text = "Blue-1"};
  e[1].v[1] = (lzs_value){.r = 800};
  e[1].v[2] = (lzs_value){.text = "treatment"};
  must(lzs_append(store, e, 2, &error));
}

static lzs_entry
reading(int i)
{
  lzs_entry e = entry_of(LZS_READING);
  e.who = 1;
  e.happened_min += i;
  e.v[0] = (lzs_value){.i = 2};
  e.v[1] = (lzs_value){.text = "copper"};
  e.v[2] = (lzs_value){.r = 0.4 + 0.001 * (i % 100)};
  e.v[3] = (lzs_value){.text = "0.48"};
  e.v[4] = (lzs_value){.text = "mg/L"};
  return e;
}

static void
append(lzs_store *store, int n)
{
  lzs_entry *e = malloc(BATCH * sizeof *e);
  double spent = 0;
  for (int done = 0; done < n; done += BATCH) {
    int size = n - done < BATCH ? n - done : BATCH;
    for (int i = 0; i < size; i++)
      e[i] = reading(done + i);
    double t = seconds();
    must(lzs_append(store, e, (size_t)size, &error));
    spent += seconds() - t;
  }
  free(e);
  printf("append   %10.0f readings/s in transactions of %d\n", n / spent, BATCH);
}

static bool
count(void *ctx, const lzs_entry *entry)
{
  ++*(int64_t *)ctx;
  return true;
}

static void
read_and_verify(lzs_store *store)
{
  int64_t n = 0;
  lzs_verify_result v;
  double t = seconds();
  must(lzs_read(store, 0, count, &n, &error));
  printf("read     %10.0f entries/s\n", (double)n / (seconds() - t));
  t = seconds();
  must(lzs_verify(store, &v, &error));
  printf("verify   %10.0f entries/s\n", (double)n / (seconds() - t));
}

static void
append_singly(lzs_store *store)
{
  enum { N = 200 };
  double t = seconds();
  for (int i = 0; i < N; i++) {
    lzs_entry e = reading(i);
    must(lzs_append(store, &e, 1, &error));
  }
  printf("one by one %8.2f ms each, durable\n", 1000 * (seconds() - t) / N);
}

// Plain rows, no chain and no checks: what the disk and SQLite cost by themselves.
static void
plain(const char *path, int n)
{
  sqlite3 *db;
  sqlite3_stmt *stmt;
  sqlite3_open(path, &db);
  sqlite3_exec(db,
               "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;"
               "CREATE TABLE t (id INTEGER PRIMARY KEY, a, b, c, d, e)",
               NULL, NULL, NULL);
  sqlite3_prepare_v2(db, "INSERT INTO t VALUES (NULL, ?1, 'copper', 0.48, '0.48', zeroblob(64))",
                     -1, &stmt, NULL);
  double t = seconds();
  sqlite3_exec(db, "BEGIN", NULL, NULL, NULL);
  for (int i = 0; i < n; i++) {
    sqlite3_bind_int(stmt, 1, i);
    sqlite3_step(stmt);
    sqlite3_reset(stmt);
  }
  sqlite3_exec(db, "COMMIT", NULL, NULL, NULL);
  printf("plain    %10.0f rows/s by SQLite alone, one table, one transaction\n",
         n / (seconds() - t));
  sqlite3_finalize(stmt);
  sqlite3_close(db);
}

int
main(int argc, char **argv)
{
  int n = argc > 1 ? atoi(argv[1]) : 500000;
  char folder[] = "/tmp/lzs-bench-XXXXXX", file[64], other[64], pc[64], command[96];
  if (mkdtemp(folder) == NULL)
    return 1;
  snprintf(file, sizeof file, "%s/a.lazaret", folder);
  snprintf(other, sizeof other, "%s/plain.db", folder);
  snprintf(pc, sizeof pc, "%s/pc", folder);
  lzs_options options = {.pc_folder = pc};
  lzs_store *store;
  must(lzs_create(file, &options, &store, &error));
  set_up(store);
  append(store, n);
  read_and_verify(store);
  append_singly(store);
  lzs_close(store);
  plain(other, n);
  snprintf(command, sizeof command, "rm -r %s", folder);
  return system(command) != 0;
}
