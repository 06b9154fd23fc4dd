// SPDX-License-Identifier: GPL-3.0-or-later
// Making and thinning out back-ups: see lz_backups.h. A back-up runs in a thread of its own with a
// connection of its own, so that a big file never stops the window.
#include "lz_backups.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <lzs_store.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_format.h"

#define DAY         1440
#define ALL_MIN     (2 * DAY)
#define DAILY_MIN   (14 * DAY)
#define MONTHLY_MIN (731 * DAY)
#define FIRST_S     20 // after opening
#define LOOK_S      60

char *
lz_backups_usual_folder(void)
{
  return g_build_filename(g_get_user_data_dir(), "lazaret", _("back-ups"), NULL);
}

// --- names and times

static char *
stem_of(const char *path)
{
  g_autofree char *base = g_path_get_basename(path);
  return g_strndup(base, strlen(base) - (g_str_has_suffix(base, ".lazaret") ? 8 : 0));
}

// The minute that a back-up's name tells; LZQ_LONG_AGO if it is none of this station's.
static lzq_minute
minute_of(const char *name, const char *stem)
{
  int year, month, day, hour, minute, end = 0;
  gsize n = strlen(stem);
  if (strncmp(name, stem, n) != 0 ||
      sscanf(name + n, "-%4d-%2d-%2dT%2d%2dZ.lazaret%n", &year, &month, &day, &hour,
             &minute, // NOLINT(cert-err34-c)
             &end) != 5 ||
      end == 0 || name[n + (gsize)end] != '\0')
    return LZQ_LONG_AGO;
  g_autoptr(GDateTime) time = g_date_time_new_utc(year, month, day, hour, minute, 0);
  return time ? g_date_time_to_unix(time) / 60 : LZQ_LONG_AGO;
}

static char *
name_at(const char *stem, lzq_minute at)
{
  g_autoptr(GDateTime) time = g_date_time_new_from_unix_utc(at * 60);
  g_autofree char *stamp = g_date_time_format(time, "%Y-%m-%dT%H%MZ");
  return g_strdup_printf("%s-%s.lazaret", stem, stamp);
}

static int
by_minute(gconstpointer a, gconstpointer b)
{
  lzq_minute x = *(const lzq_minute *)a, y = *(const lzq_minute *)b;
  return x < y ? -1 : x > y;
}

// All back-ups of a station in a folder, oldest first.
static GArray *
list(const char *path, const char *folder)
{
  GArray *made = g_array_new(FALSE, FALSE, sizeof(lzq_minute));
  g_autofree char *stem = stem_of(path);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name(dir))) {
    lzq_minute at = minute_of(name, stem);
    if (at != LZQ_LONG_AGO)
      g_array_append_val(made, at);
  }
  g_array_sort(made, by_minute);
  return made;
}

lzq_minute
lz_backups_newest(const char *path, const char *folder)
{
  g_autoptr(GArray) made = list(path, folder);
  return made->len ? g_array_index(made, lzq_minute, made->len - 1) : LZQ_LONG_AGO;
}

static int
month_of(lzq_minute at)
{
  g_autoptr(GDateTime) time = g_date_time_new_from_unix_utc(at * 60);
  return g_date_time_get_year(time) * 12 + g_date_time_get_month(time);
}

void
lz_backups_choose(const lzq_minute *made, gsize n, lzq_minute now, gboolean *keep)
{
  for (gsize i = 0; i < n; i++) {
    lzq_minute age = now - made[i];
    gboolean last = i + 1 == n; // the newest always
    keep[i] = last || age < ALL_MIN || (age < DAILY_MIN && made[i] / DAY != made[i + 1] / DAY) ||
              (age < MONTHLY_MIN && month_of(made[i]) != month_of(made[i + 1]));
  }
}

static void
thin_out(const char *path, const char *folder, lzq_minute now)
{
  g_autoptr(GArray) made = list(path, folder);
  g_autofree gboolean *keep = g_new0(gboolean, made->len + 1);
  g_autofree char *stem = stem_of(path);
  const lzq_minute *at = (const lzq_minute *)(void *)made->data;
  lz_backups_choose(at, made->len, now, keep);
  for (guint i = 0; i < made->len; i++)
    if (!keep[i]) {
      g_autofree char *name = name_at(stem, at[i]), *old = g_build_filename(folder, name, NULL);
      g_unlink(old);
    }
}

gboolean
lz_backups_make(const char *path, const char *folder, lzq_minute now, char **made, GError **error)
{
  lzs_error failure = {0};
  lzs_store *store = NULL;
  const lzs_options reading = {.read_only = true};
  g_autofree char *stem = stem_of(path), *name = name_at(stem, now);
  g_autofree char *to = g_build_filename(folder, name, NULL);
  if (g_mkdir_with_parents(folder, 0700) != 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO,
                _("the folder for back-ups %s cannot be made: %s"), folder, g_strerror(errno));
    return FALSE;
  }
  lzs_status status = lzs_open(path, &reading, &store, &failure);
  if (status == LZS_OK)
    status = lzs_backup(store, to, &failure);
  lzs_close(store);
  if (status != LZS_OK) {
    lz_file_store_error(status == LZS_CORRUPT ? path : to, &failure, error);
    return FALSE;
  }
  thin_out(path, folder, now);
  if (made)
    *made = g_steal_pointer(&to);
  return TRUE;
}

// --- while the desk is open

typedef struct {
  char **folders, **problems; // problem NULL = none
  guint first, look;
  int64_t version; // of the file at the last back-up, -1 = none yet
  lzq_minute tried;
  gboolean busy;
  char *path;
} Backups;

static void
backups_free(gpointer data)
{
  Backups *b = data;
  g_clear_handle_id(&b->first, g_source_remove);
  g_clear_handle_id(&b->look, g_source_remove);
  g_strfreev(b->folders);
  g_strfreev(b->problems);
  g_free(b->path);
  g_free(b);
}

static Backups *
backups_of(LzDesk *desk)
{
  return g_object_get_data(G_OBJECT(desk), "back-ups");
}

typedef struct {
  char *path, **folders, **problems;
  lzq_minute now;
} Round;

static void
round_free(gpointer data)
{
  Round *r = data;
  g_free(r->path);
  g_strfreev(r->folders);
  g_strfreev(r->problems);
  g_free(r);
}

static void
run_round(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Round *r = data;
  for (guint i = 0; r->folders[i]; i++) {
    g_autoptr(GError) error = NULL;
    g_free(r->problems[i]);
    r->problems[i] = g_strdup("");
    if (!lz_backups_make(r->path, r->folders[i], r->now, NULL, &error)) {
      g_free(r->problems[i]);
      r->problems[i] = g_strdup(error->message);
    }
  }
  g_task_return_boolean(task, TRUE);
}

static void
on_round(GObject *source, GAsyncResult *result, gpointer data)
{
  LzDesk *desk = LZ_DESK(source);
  Backups *b = backups_of(desk);
  Round *r = g_task_get_task_data(G_TASK(result));
  if (!b)
    return;
  b->busy = FALSE;
  g_strfreev(b->problems);
  b->problems = g_strdupv(r->problems);
  if (desk->store)
    g_signal_emit_by_name(desk, "changed");
}

static void
begin_round(LzDesk *desk, Backups *b)
{
  Round *r = g_new0(Round, 1);
  guint n = g_strv_length(b->folders);
  r->path = g_strdup(desk->path);
  r->folders = g_strdupv(b->folders);
  r->problems = g_new0(char *, n + 1);
  for (guint i = 0; i < n; i++)
    r->problems[i] = g_strdup("");
  r->now = lz_clock_now(desk->clock);
  b->tried = r->now;
  b->version = desk->data_version;
  b->busy = TRUE;
  g_autoptr(GTask) task = g_task_new(desk, NULL, on_round, NULL);
  g_task_set_task_data(task, r, round_free);
  g_task_run_in_thread(task, run_round);
}

static gboolean
look(gpointer data)
{
  LzDesk *desk = data;
  Backups *b = backups_of(desk);
  lzq_minute now = lz_clock_now(desk->clock);
  if (desk->store && !b->busy && b->version != desk->data_version &&
      (b->version == -1 || now - b->tried >= LZ_BACKUP_EVERY_MIN))
    begin_round(desk, b);
  return G_SOURCE_CONTINUE;
}

static gboolean
first_look(gpointer data)
{
  backups_of(data)->first = 0;
  look(data);
  return G_SOURCE_REMOVE;
}

void
lz_desk_start_backups(LzDesk *desk, const char *const *folders)
{
  Backups *b = g_new0(Backups, 1);
  g_autoptr(GPtrArray) some = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; folders[i]; i++)
    if (*folders[i])
      g_ptr_array_add(some, g_strdup(folders[i]));
  g_ptr_array_add(some, NULL);
  b->folders = g_strdupv((char **)some->pdata);
  b->problems = g_new0(char *, 1);
  b->version = -1;
  g_object_set_data_full(G_OBJECT(desk), "back-ups", b, backups_free);
  b->first = g_timeout_add_seconds(FIRST_S, first_look, desk);
  b->look = g_timeout_add_seconds(LOOK_S, look, desk);
}

void
lz_desk_stop_backups(LzDesk *desk)
{
  g_object_set_data(G_OBJECT(desk), "back-ups", NULL);
}

char *
lz_desk_backup_state(LzDesk *desk, gboolean *wrong)
{
  const Backups *b = backups_of(desk);
  GString *words = g_string_new(NULL);
  *wrong = FALSE;
  for (guint i = 0; b && b->folders[i]; i++) {
    lzq_minute newest = lz_backups_newest(desk->path, b->folders[i]);
    gboolean failed = i < g_strv_length(b->problems) && *b->problems[i];
    g_autofree char *when = lz_format_when(lz_desk_zone(desk), newest, desk->now);
    if (i)
      g_string_append(words, "; ");
    *wrong |= failed || newest == LZQ_LONG_AGO;
    if (failed)
      g_string_append(words, b->problems[i]);
    else if (newest == LZQ_LONG_AGO)
      g_string_append_printf(words, _("no back-up in %s yet"), b->folders[i]);
    else
      g_string_append_printf(words, _("%s, checked, in %s"), when, b->folders[i]);
  }
  if (!words->len) {
    *wrong = TRUE;
    g_string_append(words, _("no back-ups are made"));
  }
  return g_string_free(words, FALSE);
}
