// SPDX-License-Identifier: GPL-3.0-or-later
// Golden pages: where each word of a sheet stands, as poppler finds it, against what was looked at
// and kept in tests/data/golden. Words must be the same, places within TOLERANCE, so that another
// version of a font does not fail. LAZARET_WRITE_GOLDEN=1 writes them anew, to be looked at.
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "full_station.h"
#include "paper.h"

#define TOLERANCE 3.0 // pt

static const struct {
  const char *name, *words;
} sheets[] = {{"handover", "handover --number 173"},
              {"round-sheet", "round-sheet"},
              {"tank-card", "tank-card --system Blue-1"},
              {"month-sheet", "month-sheet --system Blue-2"},
              {"take-home", "take-home --volume 120 --strength 5"},
              {"handover-two-languages", "handover --also de"},
              {"lot-record", "lot-record --lot 0401"},
              {"register", "register"},
              {"medicines", "medicines"},
              {"claim", "claim --shipment S-1"}};

static Ctl *station, *bare; // the claim needs a shipment, the others a hold

static void
setup(void)
{
  station = full_station(3, 6);
  bare = bare_station("Blue-1", "0412", "Zebrasoma flavescens");
}

static void
teardown(void)
{
  ctl_free(station);
  ctl_free(bare);
}

typedef struct {
  double x, y;
  char *text;
} Word;

static void
word_clear(gpointer data)
{
  g_free(((Word *)data)->text);
}

// Line by line, and in it from the left: poppler's own order hangs on the length of every word.
static int
by_place(gconstpointer a, gconstpointer b)
{
  const Word *wa = a, *wb = b;
  double ya = round(wa->y), yb = round(wb->y);
  if (ya != yb)
    return ya < yb ? -1 : 1;
  return wa->x < wb->x ? -1 : wa->x > wb->x;
}

static GArray *
words_of(const char *page)
{
  GArray *words = g_array_new(FALSE, FALSE, sizeof(Word));
  g_array_set_clear_func(words, word_clear);
  for (const char *at = page; (at = strstr(at, "<word xMin=\"")); at++) {
    const char *text = strchr(at, '>') + 1;
    Word word = {.x = g_ascii_strtod(at + strlen("<word xMin=\""), NULL),
                 .y = g_ascii_strtod(strstr(at, "yMin=\"") + strlen("yMin=\""), NULL),
                 .text = g_strndup(text, (gsize)(strstr(text, "</word>") - text))};
    g_array_append_val(words, word);
  }
  g_array_sort(words, by_place);
  return words;
}

// The sentence on the ledger ends in a hash, another in every file and another length: the height
// at which it begins; it has at most two lines.
static double
ledger_line(const GArray *words)
{
  for (guint i = 1; i < words->len; i++)
    if (strcmp(g_array_index(words, Word, i - 1).text, "Ledger") == 0 &&
        strcmp(g_array_index(words, Word, i).text, "checked:") == 0)
      return g_array_index(words, Word, i).y;
  return INFINITY;
}

// "12 34 word" a line: x and y of the word's corner in points, page after page.
static char *
boxes_of(const char *pdf)
{
  g_autofree char *line = g_strdup_printf("pdftotext -bbox '%s' -", pdf);
  g_autofree char *html = NULL;
  GString *out = g_string_new(NULL);
  ck_assert(g_spawn_command_line_sync(line, &html, NULL, NULL, NULL));
  g_auto(GStrv) pages = g_strsplit(html, "<page ", -1);
  for (guint page = 1; pages[page]; page++) {
    g_autoptr(GArray) words = words_of(pages[page]);
    double ledger = ledger_line(words);
    for (guint i = 0; i < words->len; i++) {
      const Word *word = &g_array_index(words, Word, i);
      if (word->y < ledger - 1 || word->y > ledger + 20)
        g_string_append_printf(out, "%.0f %.0f %s\n", word->x, word->y, word->text);
    }
  }
  return g_string_free(out, FALSE);
}

static void
compare(const char *name, const char *kept, const char *found)
{
  g_auto(GStrv) a = g_strsplit(kept, "\n", -1), b = g_strsplit(found, "\n", -1);
  ck_assert_msg(g_strv_length(a) == g_strv_length(b), "%s: %u words, kept are %u", name,
                g_strv_length(b), g_strv_length(a));
  for (guint i = 0; a[i] && *a[i]; i++) {
    g_auto(GStrv) want = g_strsplit(a[i], " ", 3), have = g_strsplit(b[i], " ", 3);
    ck_assert_msg(strcmp(want[2], have[2]) == 0, "%s: “%s”, kept is “%s”", name, b[i], a[i]);
    for (int k = 0; k < 2; k++)
      ck_assert_msg(fabs(atof(want[k]) - atof(have[k])) <= TOLERANCE, "%s: “%s”, kept is “%s”",
                    name, b[i], a[i]);
  }
}

START_TEST(each_word_stands_where_it_was_looked_at)
{
  Ctl *c = g_str_has_prefix(sheets[_i].words, "claim") ? bare : station;
  g_autoptr(Paper) paper = paper_print(c, "%s --at '2027-03-09 17:32'", sheets[_i].words);
  g_autofree char *file = g_strdup_printf("%s.txt", sheets[_i].name);
  g_autofree char *path = g_build_filename(g_getenv("GOLDEN"), file, NULL);
  g_autofree char *found = boxes_of(paper->path), *kept = NULL;
  if (g_getenv("LAZARET_WRITE_GOLDEN"))
    ck_assert(g_file_set_contents(path, found, -1, NULL));
  ck_assert_msg(g_file_get_contents(path, &kept, NULL, NULL), "no %s", path);
  ck_assert_uint_gt(strlen(found), 100);
  compare(sheets[_i].name, kept, found);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("report");
  TCase *t = tcase_create("golden");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, setup, teardown);
  tcase_add_loop_test(t, each_word_stands_where_it_was_looked_at, 0, G_N_ELEMENTS(sheets));
  suite_add_tcase(s, t);
  SRunner *runner = srunner_create(s);
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
