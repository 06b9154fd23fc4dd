// SPDX-License-Identifier: GPL-3.0-or-later
// See records_station.h.
#include "records_station.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "../engine/plan_print.h"

#define FIRST 400

Lab lab;
char *copy;
gboolean borrowed;
unsigned seed;

LzDesk *
open_by(const char *path, const char *folder, gboolean by_copy, gboolean read_only)
{
  g_autoptr(GError) error = NULL;
  const LzDeskOptions how = {.clock = lab.clock,
                             .pc_folder = folder,
                             .read_only = read_only,
                             .leave_from = by_copy ? 1 : G_MAXUINT,
                             .keep_newest = NEWEST};
  LzDesk *desk = lz_desk_open(path, &how, &error);
  ck_assert_msg(desk != NULL, "%s", error ? error->message : "?");
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  lz_desk_set_actor(desk, g_array_index(people, int64_t, 0));
  return desk;
}

gboolean
opens_right(const char *path, const char *folder)
{
  g_autoptr(LzDesk) desk = open_by(path, folder, TRUE, TRUE);
  g_autoptr(LzDesk) whole = open_by(path, folder, FALSE, TRUE);
  const lzq_snapshot *a = lz_desk_snapshot(desk), *b = lz_desk_snapshot(whole);
  ck_assert_uint_eq(a->n_records, b->n_records);
  ck_assert(memcmp(a->records, b->records, a->n_records * sizeof *a->records) == 0);
  ck_assert_uint_eq(desk->model->entries->len, whole->model->entries->len);
  char *p = lzt_print_plan(lz_desk_plan(desk), a->n_systems);
  char *q = lzt_print_plan(lz_desk_plan(whole), b->n_systems);
  const char *difference = lzt_print_difference(p, q);
  ck_assert_msg(!difference, "%s", difference);
  free(p);
  free(q);
  borrowed = lzq_book_borrows(desk->book);
  return desk->records_of != 0;
}

gboolean
believed(void)
{
  return opens_right(lab.path, lab.folder);
}

// Readings, changes and top-ups, a correction of an old one among them.
void
say(LzDesk *desk, int n)
{
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_autoptr(GError) error = NULL;
  for (int i = 0; i < n; i++) {
    static const char *const salts[] = {"34.8", "35.0", "34.6"};
    LzCommand *c = i % 9 == 0 ? lz_command_build("topup", "system", "Blue-1", "litres", "12", NULL)
                              : lz_command_build("reading", "system", "Blue-1", "analyte",
                                                 "salinity", "value", salts[i % 3], NULL);
    lz_command_set_as_written(c, TRUE);
    g_ptr_array_add(all, c);
  }
  ck_assert_msg(lz_desk_submit(desk, (LzCommand *const *)all->pdata, all->len, &error), "%s",
                error ? error->message : "");
  for (guint i = 0; i < all->len; i += 100) {
    if (g_str_equal(lz_command_kind(all->pdata[i]), "reading") == FALSE)
      continue;
    g_autoptr(LzCommand) c = lz_command_build("reading", "value", "34.9", NULL);
    lz_command_set_corrects(c, lz_command_id(all->pdata[i]), FALSE);
    lz_command_set_reason(c, "misread");
    ck_assert_msg(lz_desk_submit_one(desk, c, &error), "%s", error ? error->message : "");
  }
}

char *
find_copy(const char *folder, const char *ending)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name(dir)) != NULL;)
    if (g_str_has_suffix(name, ending))
      return g_build_filename(folder, name, NULL);
  return NULL;
}

void
put(const char *path, const char *bytes, gsize size)
{
  ck_assert(g_file_set_contents(path, bytes, (gssize)size, NULL));
}

void
records_setup(void)
{
  const char *given = getenv("LAZARET_SEED");
  seed = given ? (unsigned)strtoul(given, NULL, 10) : (unsigned)time(NULL);
  printf("LAZARET_SEED=%u\n", seed);
  house_open(&lab);
  house_course(&lab, "2027-03-01 08:00");
  say(lab.desk, FIRST);
  lab_go(&lab, "2027-03-02 09:00");
  g_clear_object(&lab.desk);
  g_object_unref(open_by(lab.path, lab.folder, TRUE, FALSE)); // closed with a copy
  copy = find_copy(lab.folder, ".records");
  ck_assert_ptr_nonnull(copy);
  ck_assert(believed());
}

void
records_teardown(void)
{
  g_clear_pointer(&copy, g_free);
  lab_close(&lab);
}

void
no_part_left(void)
{
  g_autofree char *part = find_copy(lab.folder, ".part");
  ck_assert_msg(part == NULL, "%s", part ? part : "");
}

void
say_more(void)
{
  LzDesk *desk = open_by(lab.path, lab.folder, TRUE, FALSE);
  say(desk, MORE);
  g_object_unref(desk);
}
