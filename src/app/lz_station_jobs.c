// SPDX-License-Identifier: GPL-3.0-or-later
// Verification, back-up, import and export beside the window: see lz_station_jobs.h.
#include "lz_station_jobs.h"

#include <lz_ledger.h>
#include <lz_tables.h>

LzStationWish *
lz_station_wish_new_for(const char *path, const char *other)
{
  LzStationWish *wish = g_new0(LzStationWish, 1);
  wish->path = g_strdup(path);
  wish->other = g_strdup(other);
  return wish;
}

LzStationWish *
lz_station_wish_new(LzDesk *desk, const char *other)
{
  LzStationWish *wish = lz_station_wish_new_for(lz_desk_path(desk), other);
  wish->pc_folder = g_strdup(lz_desk_pc_folder(desk));
  wish->clock = lz_clock_ref(lz_desk_clock(desk));
  wish->actor = lz_desk_actor(desk);
  return wish;
}

void
lz_station_wish_free(gpointer data)
{
  LzStationWish *wish = data;
  g_clear_pointer(&wish->clock, lz_clock_unref);
  g_free(wish->path);
  g_free(wish->other);
  g_free(wish->pc_folder);
  g_free(wish);
}

// Without a plan: nothing is shown of it.
static LzDesk *
open_again(const LzStationWish *wish, gboolean read_only, LzProgress hear, gpointer hearer,
           GError **error)
{
  LzDeskOptions options = {
      .clock = wish->clock, .pc_folder = wish->pc_folder, .read_only = read_only, .no_plan = TRUE};
  LzDesk *desk = lz_desk_open(wish->path, &options, error);
  if (!desk)
    return NULL;
  lz_desk_set_actor(desk, wish->actor);
  lz_desk_set_progress(desk, hear, hearer);
  return desk;
}

// What needs no entry is done without reading them.
static LzDesk *
open_file(const LzStationWish *wish, LzProgress hear, gpointer hearer, GError **error)
{
  const LzDeskOptions options = {
      .clock = wish->clock, .pc_folder = wish->pc_folder, .read_only = TRUE, .file_only = TRUE};
  LzDesk *desk = lz_desk_open(wish->path, &options, error);
  if (desk)
    lz_desk_set_progress(desk, hear, hearer);
  return desk;
}

gpointer
lz_job_verify(gpointer wish, LzProgress hear, gpointer hearer, GError **error)
{
  g_autofree LzVerify *found = g_new0(LzVerify, 1);
  g_autoptr(LzDesk) desk = open_file(wish, hear, hearer, error);
  return desk && lz_desk_verify(desk, found, error) ? g_steal_pointer(&found) : NULL;
}

gpointer
lz_job_copy(gpointer data, LzProgress hear, gpointer hearer, GError **error)
{
  const LzStationWish *wish = data;
  g_autoptr(LzDesk) desk = open_file(wish, hear, hearer, error);
  return desk && lz_desk_backup(desk, wish->other, error) ? g_new0(LzVerify, 1) : NULL;
}

gpointer
lz_job_import(gpointer data, LzProgress hear, gpointer hearer, GError **error)
{
  const LzStationWish *wish = data;
  g_autofree LzImport *made = g_new0(LzImport, 1);
  g_autoptr(GFile) file = g_file_new_for_path(wish->other);
  g_autoptr(GFileInputStream) in = g_file_read(file, NULL, error);
  g_autoptr(LzDesk) desk = in ? open_again(wish, FALSE, hear, hearer, error) : NULL;
  return desk && lz_table_import(desk, wish->table, G_INPUT_STREAM(in), FALSE, made, error)
             ? g_steal_pointer(&made)
             : NULL;
}

gpointer
lz_job_export(gpointer data, LzProgress hear, gpointer hearer, GError **error)
{
  const LzStationWish *wish = data;
  g_autofree char *manifest = g_strconcat(wish->other, ".manifest.txt", NULL);
  g_autoptr(LzDesk) desk = open_again(wish, TRUE, hear, hearer, error);
  return desk && lz_ledger_export(desk, wish->other, manifest, error) ? g_steal_pointer(&manifest)
                                                                      : NULL;
}
