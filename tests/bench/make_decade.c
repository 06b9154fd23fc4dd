// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a station of ten years (decade.h), 7 million entries unless said otherwise; fewer entries
// are fewer years. Prints how many entries a second were appended, and what a verification and a
// back-up take. usage: make-decade OUT.lazaret [ENTRIES]
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "decade.h"

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

int
main(int argc, char **argv)
{
  lzs_options options = {.pc_folder = "/tmp/make-decade-pc", .clock_ms = decade_clock};
  lzs_store *store;
  lzs_verify_result v;
  char copy[1024];
  if (argc < 2) {
    fprintf(stderr, "usage: make-decade OUT.lazaret [ENTRIES]\n");
    return 2;
  }
  must(lzs_create(argv[1], &options, &store, &error));
  double t = seconds();
  decade_make(store, argc > 2 ? atoll(argv[2]) : 7000000);
  t = seconds() - t;
  const decade_count n = decade_counted();
  printf("%lld entries of %lld days appended in %.1f s: %.0f a second\n", (long long)n.entries,
         (long long)n.days, t, (double)n.entries / t);
  printf("%lld lots, %lld of them living; %lld corrections, %lld entered late\n", (long long)n.lots,
         (long long)n.living, (long long)n.corrections, (long long)n.late);
  t = seconds();
  must(lzs_verify(store, &v, &error));
  printf("verified in %.1f s: %.0f a second\n", seconds() - t, (double)v.entries / (seconds() - t));
  snprintf(copy, sizeof copy, "%s.copy", argv[1]);
  t = seconds();
  must(lzs_backup(store, copy, &error));
  printf("backed up and verified in %.1f s\n", seconds() - t);
  t = seconds();
  lzs_close(store);
  must(lzs_open(argv[1], &options, &store, &error));
  printf("closed and opened in %.3f s\n", seconds() - t);
  lzs_close(store);
  return 0;
}
