// SPDX-License-Identifier: GPL-3.0-or-later
// See lab.h.
#include "lab.h"

#include <glib/gstdio.h>
#include <stdarg.h>
#include <stdlib.h>

static char *last_text;

static LzZone *
berlin(void)
{
  static LzZone *zone;
  if (!zone)
    zone = lz_zone_new("Europe/Berlin", NULL);
  return zone;
}

lzq_minute
lab_at(const char *local)
{
  lzq_minute at = 0;
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_zone_parse(berlin(), local, 0, &at, &error), "%s: %s", local,
                error ? error->message : "");
  return at;
}

char *
lab_local(lzq_minute at)
{
  return lz_format_time(berlin(), at);
}

static void
open_file(Lab *lab, gboolean create)
{
  g_autoptr(GError) error = NULL;
  LzDeskOptions how = {.clock = lab->clock, .pc_folder = lab->folder};
  lab->desk =
      create ? lz_desk_create(lab->path, &how, &error) : lz_desk_open(lab->path, &how, &error);
  ck_assert_msg(lab->desk != NULL, "%s", error ? error->message : "?");
}

void
lab_open(Lab *lab, const char *local)
{
  g_autoptr(GError) error = NULL;
  lab->folder = g_dir_make_tmp("lazaret-desk-XXXXXX", &error);
  ck_assert_ptr_nonnull(lab->folder);
  lab->path = g_build_filename(lab->folder, "lab.lazaret", NULL);
  lab->clock = lz_clock_new_fixed(lab_at(local));
  open_file(lab, TRUE);
}

void
lab_reopen(Lab *lab)
{
  g_clear_object(&lab->desk);
  open_file(lab, FALSE);
}

void
lab_remove(const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir)) != NULL;) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_remove(path);
  }
  g_rmdir(folder);
}

void
lab_close(Lab *lab)
{
  g_clear_object(&lab->desk);
  g_clear_pointer(&lab->clock, lz_clock_unref);
  lab_remove(lab->folder);
  g_clear_pointer(&lab->folder, g_free);
  g_clear_pointer(&lab->path, g_free);
  g_clear_pointer(&last_text, g_free);
}

void
lab_go(Lab *lab, const char *local)
{
  lz_clock_set(lab->clock, lab_at(local));
  lz_desk_replan(lab->desk);
}

static LzCommand *
command(const char *kind, const char *at, va_list pairs)
{
  LzCommand *c = lz_command_new(kind);
  if (at)
    lz_command_set_at(c, lab_at(at));
  for (const char *field; (field = va_arg(pairs, const char *)) != NULL;) {
    const char *text = va_arg(pairs, const char *);
    if (g_str_equal(field, "@who"))
      lz_command_set_actor(c, text);
    else if (g_str_equal(field, "@witness"))
      lz_command_set_witness(c, text);
    else if (g_str_equal(field, "@reason"))
      lz_command_set_reason(c, text);
    else if (g_str_equal(field, "@readback"))
      lz_command_set_readback(c, text);
    else if (g_str_equal(field, "@entity"))
      lz_command_set_entity(c, text);
    else if (g_str_equal(field, "@corrects"))
      lz_command_set_corrects(c, g_ascii_strtoll(text, NULL, 10), FALSE);
    else if (g_str_equal(field, "@voids"))
      lz_command_set_corrects(c, g_ascii_strtoll(text, NULL, 10), TRUE);
    else
      lz_command_set(c, field, text);
  }
  return c;
}

int64_t
lab_say(Lab *lab, const char *kind, const char *at, ...)
{
  va_list pairs;
  va_start(pairs, at);
  g_autoptr(LzCommand) c = command(kind, at, pairs);
  va_end(pairs);
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_desk_submit_one(lab->desk, c, &error), "%s at %s: %s", kind, at ? at : "now",
                error ? error->message : "?");
  g_free(last_text);
  last_text = g_strjoinv("\n", (char **)lz_command_notes(c));
  return lz_command_id(c);
}

const char *
lab_notes(Lab *lab)
{
  return last_text;
}

static guint
n_entries(Lab *lab)
{
  g_autoptr(GPtrArray) all = lz_desk_entries(lab->desk, NULL, 0, 0, NULL);
  return all->len;
}

const char *
lab_refused(Lab *lab, LzDeskError code, const char *kind, const char *at, ...)
{
  va_list pairs;
  va_start(pairs, at);
  g_autoptr(LzCommand) c = command(kind, at, pairs);
  va_end(pairs);
  g_autoptr(GError) error = NULL;
  guint before = n_entries(lab);
  ck_assert_msg(!lz_desk_submit_one(lab->desk, c, &error), "%s at %s was accepted", kind,
                at ? at : "now");
  ck_assert_msg(g_error_matches(error, LZ_DESK_ERROR, (int)code), "code %d: %s", error->code,
                error->message);
  ck_assert_uint_eq(n_entries(lab), before);
  g_free(last_text);
  last_text = g_strdup(error->message);
  return last_text;
}

void
lab_station(Lab *lab)
{
  lab_say(lab, "station", NULL, "name", "Lab", "zone", "Europe/Berlin", "slots", "07:30 17:00",
          NULL);
  int64_t mk = lab_say(lab, "person", NULL, "role", "lead", "name", "Mara K.", "initials", "MK",
                       "active", "yes", NULL);
  lab_say(lab, "person", NULL, "role", "keeper", "name", "Timo A.", "initials", "TA", "active",
          "yes", "@who", "MK", NULL);
  lz_desk_set_actor(lab->desk, mk);
}

static uint32_t
lot_index(Lab *lab, const char *lot)
{
  uint32_t index = lz_desk_index(lab->desk, "lot", lz_desk_find(lab->desk, "lot", lot));
  ck_assert_msg(index != LZQ_NONE, "no lot %s", lot);
  ck_assert_msg(lz_desk_plan(lab->desk) != NULL, "%s", lz_desk_plan_error(lab->desk));
  return index;
}

const lzq_lot_credit *
lab_credit(Lab *lab, const char *lot)
{
  uint32_t index = lot_index(lab, lot);
  return &lz_desk_plan(lab->desk)->credit->lots[index];
}

const lzq_lot_plan *
lab_lot_plan(Lab *lab, const char *lot)
{
  uint32_t index = lot_index(lab, lot);
  return &lz_desk_plan(lab->desk)->lots[index];
}

int
lab_run(Suite *suite)
{
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

void
lab_is_gate(const char *words, LzGateCode code)
{
  const LzGateRule *rule = lz_gate_rule(code);
  const char *const parts[] = {rule->instead, rule->why, rule->source, lz_gate_lift(rule->lift)};
  for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
    ck_assert_msg(strstr(words, parts[i]) != NULL, "%s: “%s” is not in: %s", rule->id, parts[i],
                  words);
}
