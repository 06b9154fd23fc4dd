// SPDX-License-Identifier: GPL-3.0-or-later
// The words of tables for machines: never translated, and the same that `import` accepts.
#include "lzc_machine.h"

#include <math.h>
#include <string.h>

#include <lz_fields.h>

static const char *
pick(const char *const *words, guint n, guint i)
{
  return i < n && words[i] ? words[i] : "";
}

#define PICK(words, i) pick(words, G_N_ELEMENTS(words), (guint)(i))

const char *
lzc_word_analyte(lzq_analyte analyte)
{
  static char **words;
  if (!words) // as the kind `reading` takes them: "copper|salinity|..."
    words = g_strsplit(lz_kind_field(lz_kind_find("reading"), "analyte")->words, "|", -1);
  return (guint)analyte < g_strv_length(words) ? words[analyte] : "";
}

const char *
lzc_word_unit(lzq_unit unit)
{
  static const char *const words[] = {
      [LZQ_UNIT_ML] = "mL", [LZQ_UNIT_L] = "L",         [LZQ_UNIT_G] = "g",
      [LZQ_UNIT_KG] = "kg", [LZQ_UNIT_HEADS] = "heads", [LZQ_UNIT_MIN] = "min"};
  return PICK(words, unit);
}

const char *
lzc_word_task(lzq_task_kind kind)
{
  static const char *const words[LZQ_N_TASK_KINDS] = {
      [LZQ_TASK_TEST] = "test",           [LZQ_TASK_DOSE] = "dose",
      [LZQ_TASK_CHANGE] = "change",       [LZQ_TASK_SALT] = "salt",
      [LZQ_TASK_TOPUP] = "topup",         [LZQ_TASK_MOVE] = "move",
      [LZQ_TASK_BATH] = "bath",           [LZQ_TASK_FEED] = "feed",
      [LZQ_TASK_INSPECT] = "inspect",     [LZQ_TASK_SCRAPE] = "scrape",
      [LZQ_TASK_GEAR] = "gear",           [LZQ_TASK_CALIBRATE] = "calibrate",
      [LZQ_TASK_DISINFECT] = "disinfect", [LZQ_TASK_FILL] = "fill",
      [LZQ_TASK_ACCEPT] = "accept",       [LZQ_TASK_SIGN] = "sign",
      [LZQ_TASK_RELEASE] = "release",     [LZQ_TASK_DECIDE] = "decide"};
  return PICK(words, kind);
}

const char *
lzc_word_because(lzq_because_code code)
{
  static const char *const words[] = {[LZQ_BECAUSE_CREDIT_RUNS] = "credit_runs",
                                      [LZQ_BECAUSE_CREDIT_WAITS] = "credit_waits",
                                      [LZQ_BECAUSE_ELAPSED] = "elapsed",
                                      [LZQ_BECAUSE_QUIET] = "quiet",
                                      [LZQ_BECAUSE_EATING] = "eating",
                                      [LZQ_BECAUSE_SIGN] = "sign",
                                      [LZQ_BECAUSE_PLACE] = "place",
                                      [LZQ_BECAUSE_RISE_STEP] = "rise_step",
                                      [LZQ_BECAUSE_LOWER_STEP] = "lower_step",
                                      [LZQ_BECAUSE_RAISE_STEP] = "raise_step",
                                      [LZQ_BECAUSE_REPLACE] = "replace",
                                      [LZQ_BECAUSE_TOP_UP_LEVEL] = "top_up_level",
                                      [LZQ_BECAUSE_TOO_HIGH] = "too_high",
                                      [LZQ_BECAUSE_HARM] = "harm",
                                      [LZQ_BECAUSE_TEST_RHYTHM] = "test_rhythm",
                                      [LZQ_BECAUSE_TEST_CONFIRMS] = "test_confirms",
                                      [LZQ_BECAUSE_TEST_ENDS_PHASE] = "test_ends_phase",
                                      [LZQ_BECAUSE_TEST_BEFORE_CHANGE] = "test_before_change",
                                      [LZQ_BECAUSE_TEST_REPEAT] = "test_repeat",
                                      [LZQ_BECAUSE_OPEN_DOSE] = "open_dose",
                                      [LZQ_BECAUSE_MOVE_READY] = "move_ready",
                                      [LZQ_BECAUSE_MOVE_NOT_MATCHED] = "move_not_matched",
                                      [LZQ_BECAUSE_MOVE_NO_ROOM] = "move_no_room",
                                      [LZQ_BECAUSE_MOVE_NOT_FIRM] = "move_not_firm",
                                      [LZQ_BECAUSE_MOVE_APART] = "move_apart",
                                      [LZQ_BECAUSE_GEAR] = "gear",
                                      [LZQ_BECAUSE_NO_COMMON_BAND] = "no_common_band",
                                      [LZQ_BECAUSE_SIGHTING] = "sighting",
                                      [LZQ_BECAUSE_LAPSED] = "lapsed",
                                      [LZQ_BECAUSE_SHORT] = "short",
                                      [LZQ_BECAUSE_HELD_BY] = "held_by",
                                      [LZQ_BECAUSE_HELD_NO_COURSE] = "held_no_course",
                                      [LZQ_BECAUSE_SERVED] = "served",
                                      [LZQ_BECAUSE_RELEASED] = "released",
                                      [LZQ_BECAUSE_SPECIES] = "species",
                                      [LZQ_BECAUSE_SPECIES_NO_DATA] = "species_no_data",
                                      [LZQ_BECAUSE_NO_BOTTLE] = "no_bottle",
                                      [LZQ_BECAUSE_CANNOT_HOLD] = "cannot_hold",
                                      [LZQ_BECAUSE_NO_COURSE] = "no_course",
                                      [LZQ_BECAUSE_LEVEL_UNKNOWN] = "level_unknown",
                                      [LZQ_BECAUSE_PHASE_ENDS] = "phase_ends",
                                      [LZQ_BECAUSE_TRANSFER_LATE] = "transfer_late",
                                      [LZQ_BECAUSE_WARMTH] = "warmth",
                                      [LZQ_BECAUSE_EXPECTED] = "expected",
                                      [LZQ_BECAUSE_TURN_ROUND] = "turn_round",
                                      [LZQ_BECAUSE_TURN_DONE] = "turn_done",
                                      [LZQ_BECAUSE_TEST_FIRST] = "test_first",
                                      [LZQ_BECAUSE_MEDICATE] = "medicate",
                                      [LZQ_BECAUSE_BATH] = "bath",
                                      [LZQ_BECAUSE_LOOK] = "look",
                                      [LZQ_BECAUSE_MERGED] = "merged",
                                      [LZQ_BECAUSE_NO_FISH] = "no_fish",
                                      [LZQ_BECAUSE_SLOT_GAP] = "slot_gap",
                                      [LZQ_BECAUSE_CHECK_DUE] = "check_due",
                                      [LZQ_BECAUSE_WILL_LAPSE] = "will_lapse",
                                      [LZQ_BECAUSE_NO_COURSE_IN_COPPER] = "no_course_in_copper"};
  return PICK(words, code);
}

const char *
lzc_word_contact(lzq_contact_how how)
{
  static const char *const words[] = {[LZQ_CONTACT_WATER] = "water",
                                      [LZQ_CONTACT_MOVED_OUT] = "moved_out",
                                      [LZQ_CONTACT_FORMER] = "former",
                                      [LZQ_CONTACT_NET] = "nets",
                                      [LZQ_CONTACT_NEIGHBOUR] = "near"};
  return PICK(words, how);
}

char *
lzc_number(double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  if (!isfinite(value))
    return g_strdup("");
  // ten digits say a microlitre in ten tonnes; the rest is the arithmetic's
  return g_strdup(g_ascii_formatd(text, sizeof text, "%.10g", value == 0 ? 0 : value));
}
