// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's credit equals the minute-by-minute oracle, over random histories and over every
// history that once told them apart (tests/data/histories). LZ_HISTORIES=n compares n histories
// instead of the ordinary number; LZ_SEED=s begins at another seed. A new difference is shrunk and
// kept as a file, unless LZ_SHRINK=0.
#include <check.h>
#include <dirent.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_station.h"
#include "replay_compare.h"

#define FIRST_SEED 20240314u
#ifdef __SANITIZE_ADDRESS__
#define ORDINARY 5000
#else
#define ORDINARY 100000 // about 20 s
#endif

static lzt_history history;

static uint64_t
from_environment(const char *name, uint64_t otherwise)
{
  const char *text = getenv(name);
  return text && *text ? strtoull(text, NULL, 10) : otherwise;
}

START_TEST(kept_histories)
{
  char path[1024], why[300];
  int n = 0;
  DIR *folder = opendir(LZT_HISTORIES);
  ck_assert_ptr_nonnull(folder);
  for (struct dirent *entry; (entry = readdir(folder));) {
    if (!strstr(entry->d_name, ".history"))
      continue;
    snprintf(path, sizeof path, "%s/%s", LZT_HISTORIES, entry->d_name);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file && lzt_history_read(&history, file), "%s cannot be read", path);
    fclose(file);
    ck_assert_msg(lzt_replay_agrees(&history, why, sizeof why), "%s: %s", path, why);
    ck_assert_msg(lzt_book_agrees(&history, why, sizeof why), "%s: %s", path, why);
    n++;
  }
  closedir(folder);
  printf("kept histories: %d\n", n);
  ck_assert_int_gt(n, 0);
}
END_TEST

START_TEST(random_histories)
{
  uint64_t seed = from_environment("LZ_SEED", FIRST_SEED);
  uint64_t count = from_environment("LZ_HISTORIES", ORDINARY);
  char why[300], note[400], path[1024];
  for (uint64_t i = 0; i < count; i++) {
    lzt_prng prng;
    lzt_prng_seed(&prng, seed + i);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed + i, &wish, &history);
    if (lzt_replay_agrees(&history, why, sizeof why))
      continue;
    bool shrink = from_environment("LZ_SHRINK", 1);
    if (shrink)
      lzt_replay_shrink(&history, lzt_replay_agrees);
    lzt_replay_agrees(&history, why, sizeof why);
    snprintf(note, sizeof note, "seed %" PRIu64 ": %s", seed + i, why);
    if (!shrink)
      ck_abort_msg("%s", note);
    lzt_replay_keep(&history, LZT_HISTORIES, note, path, sizeof path);
    ck_abort_msg("%s; kept as %s", note, path);
  }
  printf("random histories: %" PRIu64 " from seed %" PRIu64 "\n", count, seed);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("replay");
  TCase *tcase = tcase_create("oracle");
  tcase_set_timeout(tcase, 0);
  tcase_add_test(tcase, kept_histories);
  tcase_add_test(tcase, random_histories);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
