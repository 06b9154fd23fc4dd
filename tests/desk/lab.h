// SPDX-License-Identifier: GPL-3.0-or-later
// A station in a temporary folder, filled by commands as a person's would be.
#ifndef LAB_H
#define LAB_H

#include <check.h>
#include <lz_desk.h>
#include <lz_gates.h>
#include <lz_error.h>
#include <lz_format.h>

typedef struct {
  char *folder, *path;
  LzClock *clock; // fixed
  LzDesk *desk;
} Lab;

// An empty file under a clock that stands at `local` time in Europe/Berlin.
void lab_open(Lab *lab, const char *local);
void lab_close(Lab *lab);
void lab_remove(const char *folder); // with what is in it
// Closes and opens the file again.
void lab_reopen(Lab *lab);

// UTC minute of a local time in Europe/Berlin.
lzq_minute lab_at(const char *local);
// Moves the clock.
void lab_go(Lab *lab, const char *local);

// Station "Lab" in Europe/Berlin with slots 07:30 17:00 and the persons MK (lead) and TA (keeper);
// MK acts.
void lab_station(Lab *lab);

// One command at a local time (NULL = the clock's); fields and texts, NULL at the end. Must be
// accepted; its id.
int64_t lab_say(Lab *lab, const char *kind, const char *at, ...) G_GNUC_NULL_TERMINATED;
// Must be refused with this code; the sentence, valid until the next call.
const char *lab_refused(Lab *lab, LzDeskError code, const char *kind, const char *at,
                        ...) G_GNUC_NULL_TERMINATED;
// The notes of the last accepted command, joined by newlines.
const char *lab_notes(Lab *lab);

// "Thu 18 Mar 22:59"
#define ck_local(minute, expected)                                                                 \
  do {                                                                                             \
    g_autofree char *got_ = lab_local(minute);                                                     \
    ck_assert_str_eq(got_, expected);                                                              \
  } while (0)
char *lab_local(lzq_minute at);

const lzq_lot_credit *lab_credit(Lab *lab, const char *lot);
const lzq_lot_plan *lab_lot_plan(Lab *lab, const char *lot);

// Runs a suite as every program here does: a summary at the end, and the exit status.
int lab_run(Suite *suite);

// The words of a refusal are those of a gate's row, and who may lift it.
void lab_is_gate(const char *words, LzGateCode code);

#endif
