// SPDX-License-Identifier: GPL-3.0-or-later
// The PC's clock and zone change under an open station; the calls that tell time and file system
// are wrapped by the linker.
#include "catalogue.h"
#include "faults.h"

#include <linux/magic.h>
#include <stdlib.h>
#include <sys/vfs.h>
#include <time.h>

static gint64 clock_moved; // microseconds
gboolean fault_on_network;

gint64 __real_g_get_real_time(void);
gint64 __wrap_g_get_real_time(void);
int __real_clock_gettime(clockid_t id, struct timespec *out);
int __wrap_clock_gettime(clockid_t id, struct timespec *out);
int __real_statfs64(const char *path, struct statfs *out);
int __wrap_statfs64(const char *path, struct statfs *out);

gint64
__wrap_g_get_real_time(void)
{
  return __real_g_get_real_time() + clock_moved;
}

int
__wrap_clock_gettime(clockid_t id, struct timespec *out)
{
  int code = __real_clock_gettime(id, out);
  if (id == CLOCK_REALTIME)
    out->tv_sec += (time_t)(clock_moved / G_USEC_PER_SEC);
  return code;
}

int
__wrap_statfs64(const char *path, struct statfs *out)
{
  int code = __real_statfs64(path, out);
  if (fault_on_network)
    out->f_type = NFS_SUPER_MAGIC;
  return code;
}

static LzDesk *
real_desk(LzClock *clock)
{
  LzDeskOptions options = {.clock = clock, .pc_folder = fault_lab.folder};
  g_autofree char *path = g_build_filename(fault_lab.folder, "real.lazaret", NULL);
  LzDesk *desk = lz_desk_create(path, &options, NULL);
  ck_assert_ptr_nonnull(desk);
  fault_lab.desk = (g_object_unref(fault_lab.desk), desk); // closed with the lab
  g_autoptr(LzClock) before = fault_lab.clock;
  fault_lab.clock = lz_clock_ref(clock);
  lab_station(&fault_lab);
  return desk;
}

void
fault_clock_set_back(void)
{
  g_autoptr(LzClock) clock = lz_clock_new_real();
  LzDesk *desk = real_desk(clock);
  LzVerify sound;
  g_autoptr(LzCommand) before = fault_note(), after = fault_note(), later = fault_note();
  ck_assert(lz_desk_submit_one(desk, before, NULL));
  ck_assert_ptr_null(lz_command_notes(before)[0]);
  clock_moved = -G_TIME_SPAN_HOUR * 3;
  ck_assert(lz_desk_submit_one(desk, after, NULL));
  ck_catalogue("the clock was set back", lz_command_notes(after)[0]);
  g_autoptr(LzEntry) first = lz_desk_entry(desk, lz_command_id(before), NULL);
  g_autoptr(LzEntry) second = lz_desk_entry(desk, lz_command_id(after), NULL);
  ck_assert_int_ge(lz_entry_recorded_ms(second), lz_entry_recorded_ms(first));
  clock_moved = G_TIME_SPAN_MINUTE; // set right
  ck_assert(lz_desk_submit_one(desk, later, NULL));
  ck_assert_ptr_null(lz_command_notes(later)[0]);
  ck_assert(lz_desk_verify(desk, &sound, NULL));
  clock_moved = 0;
}

// The PC travels, or somebody corrects its zone, while the program is open: what was entered stays
// when it was, and what is typed stays local to the station.
void
fault_zone_changed(void)
{
  g_autofree char *set = g_strdup(g_getenv("TZ"));
  static const char *const places[] = {"Asia/Tokyo", "America/New_York", "Pacific/Kiritimati"};
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    g_setenv("TZ", places[i], TRUE);
    tzset();
    g_autoptr(LzCommand) note = fault_note();
    lz_command_set_at_text(note, "2027-03-14 07:30");
    ck_assert(lz_desk_submit_one(fault_lab.desk, note, NULL));
    g_autoptr(LzEntry) entry = lz_desk_entry(fault_lab.desk, lz_command_id(note), NULL);
    ck_assert_int_eq(lz_entry_at(entry), INT64_C(30083430)); // 06:30 UTC
    g_autofree char *shown = lz_format_time(lz_desk_zone(fault_lab.desk), lz_entry_at(entry));
    ck_assert_str_eq(shown, "Sun 14 Mar 07:30");
    lz_desk_replan(fault_lab.desk);
    const LzDeskOptions again = {.clock = fault_lab.clock, .read_only = TRUE};
    g_autoptr(LzDesk) other = lz_desk_open(fault_lab.path, &again, NULL);
    ck_assert_str_eq(lz_zone_name(lz_desk_zone(other)), "Europe/Berlin");
  }
  if (set)
    g_setenv("TZ", set, TRUE);
  else
    g_unsetenv("TZ");
  tzset();
}

void
fault_ahead_of_the_clock(void)
{
  g_autoptr(LzClock) clock = lz_clock_new_real();
  LzDesk *desk = real_desk(clock);
  g_autoptr(LzCommand) note = fault_note();
  lz_command_set_at(note, lz_clock_now(clock) + 1440);
  lz_command_set_ahead(note, TRUE);
  ck_assert(lz_desk_submit_one(desk, note, NULL));
  ck_catalogue("lies ahead of the clock", lz_command_notes(note)[0]);
  ck_assert(lz_desk_is_practice(desk));
}
