// SPDX-License-Identifier: GPL-3.0-or-later
// soak COUNT [SEED [FOLDER]]: compares the engine with the minute-by-minute oracle over COUNT
// random histories, most of them short, one in fifty of up to forty days, eight lots and eight
// waters; and in one of twenty a book that follows entry by entry with one made anew. What differs
// is shrunk and written into FOLDER (the histories that the test `replay` goes through each time),
// and the search goes on. Exit status 1 if something did. Progress goes to standard error.
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_station.h"
#include "replay_compare.h"

enum { LONG = 50, WITH_BOOK = 20, MOST_KEPT = 20 };

static lzt_history history;

static lzt_wish
long_wish(lzt_prng *prng)
{
  return (lzt_wish){
      .days = (int)lzt_prng_range(prng, 6, 40),
      .lots = (int)lzt_prng_range(prng, 2, LZT_MOST_LOTS - 2), // splits make more
      .waters = (int)lzt_prng_range(prng, 1, LZT_MOST_SYSTEMS),
      .records = (int)lzt_prng_range(prng, 80, LZT_MOST_RECORDS / 2),
      .corrections = lzt_prng_chance(prng, 0.7),
  };
}

static bool
number(const char *text, uint64_t *out)
{
  char *end;
  *out = strtoull(text, &end, 10);
  return *text && !*end;
}

// Whether the history of this seed tells nothing apart; else it is shrunk and kept.
static bool
agrees(uint64_t seed, lzt_agrees question, const char *folder)
{
  char why[300], note[400], path[1024] = "nowhere";
  if (question(&history, why, sizeof why))
    return true;
  lzt_replay_shrink(&history, question);
  question(&history, why, sizeof why);
  snprintf(note, sizeof note, "seed %" PRIu64 ": %s", seed, why);
  lzt_replay_keep(&history, folder, note, path, sizeof path);
  printf("%s; kept as %s\n", note, path);
  fflush(stdout);
  return false;
}

int
main(int argc, char **argv)
{
  uint64_t count, seed = 1, differ = 0, longs = 0, books = 0;
  if (argc < 2 || argc > 4 || !number(argv[1], &count) || (argc > 2 && !number(argv[2], &seed))) {
    fprintf(stderr, "usage: %s COUNT [SEED [FOLDER]]\n", argv[0]);
    return 2;
  }
  const char *folder = argc > 3 ? argv[3] : LZT_HISTORIES;
  uint64_t i = 0;
  for (; i < count && differ < MOST_KEPT; i++) {
    lzt_prng prng;
    lzt_prng_seed(&prng, seed + i);
    const bool is_long = i % LONG == LONG - 1;
    const lzt_wish wish = is_long ? long_wish(&prng) : lzt_wish_ordinary(&prng);
    lzt_random_station(seed + i, &wish, &history);
    longs += is_long;
    differ += !agrees(seed + i, lzt_replay_agrees, folder);
    if (i % WITH_BOOK == 0) {
      books++;
      differ += !agrees(seed + i, lzt_book_agrees, folder);
    }
    if (i % 10000 == 9999)
      fprintf(stderr, "%" PRIu64 " of %" PRIu64 ", %" PRIu64 " differ\n", i + 1, count, differ);
  }
  printf("%" PRIu64 " histories from seed %" PRIu64 " (%" PRIu64 " long, %" PRIu64
         " with a book), %" PRIu64 " differ\n",
         i, seed, longs, books, differ);
  return differ > 0;
}
