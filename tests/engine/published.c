// SPDX-License-Identifier: GPL-3.0-or-later
// Reads tests/data/published, whose place the build passes in.
#include "published.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void
split(char *line, published_row *row)
{
  line[strcspn(line, "\r\n")] = 0;
  for (char *field = line; field && row->fields < PUBLISHED_FIELDS;) {
    char *comma = strchr(field, ',');
    if (comma)
      *comma = 0;
    char *end;
    row->n[row->fields] = strtod(field, &end);
    if (end == field)
      row->n[row->fields] = NAN;
    snprintf(row->text[row->fields], sizeof row->text[0], "%.31s", field);
    row->fields++;
    field = comma ? comma + 1 : NULL;
  }
}

published_row *
published_read(const char *name, size_t *n)
{
  char path[1024], line[1024];
  snprintf(path, sizeof path, "%s/%s", LZ_PUBLISHED, name);
  FILE *file = fopen(path, "r");
  if (!file)
    ck_abort_msg("no %s", path);
  published_row *rows = NULL;
  size_t count = 0, room = 0;
  bool header = true;
  while (fgets(line, sizeof line, file)) {
    if (line[0] == '#')
      continue;
    if (header) {
      header = false;
      continue;
    }
    if (count == room) {
      room = room ? 2 * room : 64;
      published_row *grown = realloc(rows, room * sizeof *rows);
      ck_assert_ptr_nonnull(grown);
      rows = grown;
    }
    rows[count] = (published_row){0};
    split(line, &rows[count++]);
  }
  fclose(file);
  ck_assert_msg(count > 0, "%s holds no rows", name);
  *n = count;
  return rows;
}

int
published_run(Suite *suite)
{
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

published_random
published_seed(const char *what, uint64_t seed)
{
  printf("%s: seed %llu\n", what, (unsigned long long)seed);
  return (published_random){seed};
}

// splitmix64 (Steele, Lea & Flood 2014)
static uint64_t
next(published_random *random)
{
  uint64_t z = random->state += 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

double
published_uniform(published_random *random, double low, double high)
{
  return low + (high - low) * ((double)(next(random) >> 11) * 0x1p-53);
}

double
published_normal(published_random *random)
{
  double radius = sqrt(-2.0 * log(1.0 - published_uniform(random, 0.0, 1.0)));
  return radius * cos(6.283185307179586 * published_uniform(random, 0.0, 1.0));
}
