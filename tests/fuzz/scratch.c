// SPDX-License-Identifier: GPL-3.0-or-later
// See scratch.h.
#include "scratch.h"

#include <glib/gstdio.h>
#include <lz_protocol_file.h>
#include <lz_rows.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define NOW 30067500 // 2027-03-02 13:00 UTC

static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=1440\n";

// kind, minutes before now, fields.
static const struct {
  const char *kind;
  int before;
  const char *fields;
} story[] = {
    {"station", 4000, "name=Lab zone=Europe/Berlin trust_unchecked=yes"},
    {"person", 4000, "role=lead name=Mara initials=MK active=yes"},
    {"system", 4000, "name=Blue-1 volume_l=2400 role=treatment"},
    {"tank", 4000, "system=Blue-1 number=1"},
    {"bottle", 4000, "name=C-07 analyte=copper form=ionic strength=1.00 strength_as=metal"},
    {"instrument", 4000, "name=P1 method=photometer sees=all error_abs=0.01"},
    {NULL, 4000, NULL}, // the protocol
    {"lot", 3000, "code=0412 tank=Blue-1/1 heads=30"},
    {"course", 3000, "lot=0412 protocol=House"},
    {"dose", 2900, "system=Blue-1 bottle=C-07 amount_ml=456"},
    {"reading", 2800, "system=Blue-1 analyte=copper value=0.19 instrument=P1"},
    {"change", 2000, "system=Blue-1 litres=200"},
    {"reading", 1400, "system=Blue-1 analyte=copper value=0.185 instrument=P1"},
    {"death", 1000, "lot=0412 heads=1"},
    {"note", 900, "words=quiet"},
};

static char *folder;

static void
drop_folder(void)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir)) != NULL;) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_remove(path);
  }
  g_rmdir(folder);
}

char *
scratch_path(const char *name)
{
  if (!folder) {
    if (access("/dev/shm", W_OK) == 0)
      g_setenv("TMPDIR", "/dev/shm", TRUE);
    folder = g_dir_make_tmp("lazaret-fuzz-XXXXXX", NULL);
    if (!folder)
      abort();
    atexit(drop_folder);
  }
  return g_build_filename(folder, name, NULL);
}

LzDesk *
scratch_empty(const char *name)
{
  g_autofree char *path = scratch_path(name);
  g_autoptr(LzClock) clock = lz_clock_new_fixed(NOW);
  LzDeskOptions options = {.clock = clock, .pc_folder = folder};
  LzDesk *desk = lz_desk_create(path, &options, NULL);
  if (!desk)
    abort();
  return desk;
}

static LzCommand *
command_of(guint i)
{
  LzCommand *command = lz_command_new(story[i].kind);
  g_auto(GStrv) pairs = g_strsplit(story[i].fields, " ", -1);
  for (char **pair = pairs; *pair; pair++) {
    char *value = strchr(*pair, '=');
    *value++ = '\0';
    lz_command_set(command, *pair, value);
  }
  lz_command_set_at(command, NOW - story[i].before);
  lz_command_set_actor(command, i < 2 ? NULL : "MK");
  return command;
}

LzDesk *
scratch_desk(void)
{
  static LzDesk *desk;
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  g_autoptr(GError) error = NULL;
  if (desk)
    return desk;
  desk = scratch_empty("station.lazaret");
  for (guint i = 0; i < G_N_ELEMENTS(story); i++) {
    if (story[i].kind) {
      g_ptr_array_add(all, command_of(i));
      continue;
    }
    g_autoptr(GPtrArray) parts = lz_protocol_parse(protocol, strlen(protocol), "House", &error);
    for (guint p = 0; parts && p < parts->len; p++) {
      LzCommand *part = lz_command_copy(parts->pdata[p]);
      lz_command_set_at(part, NOW - story[i].before);
      lz_command_set_actor(part, "MK");
      g_ptr_array_add(all, part);
    }
  }
  if (error || !lz_desk_submit(desk, (LzCommand *const *)all->pdata, all->len, &error)) {
    fprintf(stderr, "the station: %s\n", error ? error->message : "?");
    abort();
  }
  lz_desk_set_actor(desk, lz_desk_find(desk, "person", "MK"));
  return desk;
}

GBytes *
scratch_station(void)
{
  g_autofree char *path = g_strdup(lz_desk_path(scratch_desk()));
  char *bytes = NULL;
  gsize n = 0;
  lz_desk_close(scratch_desk());
  if (!g_file_get_contents(path, &bytes, &n, NULL))
    abort();
  return g_bytes_new_take(bytes, n);
}

void
scratch_said(gboolean done, GError **error)
{
  const char *words = *error ? (*error)->message : NULL;
  if (done != (words == NULL) || (words && (!*words || !g_utf8_validate(words, -1, NULL)))) {
    fprintf(stderr, "%s, said: %s\n", done ? "done" : "refused", words ? words : "nothing");
    abort();
  }
  g_clear_error(error);
}

static void
read_rows(GListModel *rows)
{
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzRow) row = g_list_model_get_item(rows, i);
    const char *title = lz_row_title(row), *detail = lz_row_detail(row);
    if ((title && !g_utf8_validate(title, -1, NULL)) ||
        (detail && !g_utf8_validate(detail, -1, NULL)))
      abort();
  }
}

gboolean
scratch_look(const char *path)
{
  GError *error = NULL;
  g_autoptr(LzClock) clock = lz_clock_new_fixed(NOW);
  LzDeskOptions options = {.read_only = TRUE, .clock = clock};
  g_autoptr(LzDesk) desk = lz_desk_open(path, &options, &error);
  scratch_said(desk != NULL, &error);
  if (!desk)
    return FALSE;
  if (!lz_desk_plan(desk) && !lz_desk_plan_error(desk))
    abort();
  GListModel *(*const models[])(LzDesk *) = {
      lz_desk_systems, lz_desk_tanks,     lz_desk_lots,    lz_desk_tasks,
      lz_desk_done,    lz_desk_ledger,    lz_desk_people,  lz_desk_instruments,
      lz_desk_bottles, lz_desk_protocols, lz_desk_matters, lz_desk_contacts};
  for (guint i = 0; i < G_N_ELEMENTS(models); i++)
    read_rows(models[i](desk));
  return TRUE;
}
