// SPDX-License-Identifier: GPL-3.0-or-later
// What every test of the store needs: a folder of its own that goes away, a clock that obeys, and
// entries that are written down in one line.
#ifndef STORE_FIXTURE_H
#define STORE_FIXTURE_H

#include "lzs_store.h"

#include <check.h>

typedef struct {
  char folder[64]; // under $TMPDIR or /tmp
  char file[96];   // folder/quay.lazaret
  char pc[96];     // folder/pc
  int64_t now_ms;  // what the clock says; it does not move by itself
  lzs_options options;
  lzs_store *store; // opened by fixture_create
  lzs_error error;
} fixture;

// The one fixture of the running test; set up and taken down by Check's checked fixture functions.
extern fixture fx;
void fixture_setup(void);    // folder only
void fixture_create(void);   // folder and an empty station file, open
void fixture_teardown(void); // closes and removes
void fixture_reopen(void);   // closes and opens again

// An entry of a kind with all values NULL, happened_min and offset filled in.
lzs_entry entry_of(lzs_kind kind);
// Set a field by name; abort on an unknown one.
void put_text(lzs_entry *entry, const char *field, const char *text);
void put_int(lzs_entry *entry, const char *field, int64_t i);
void put_real(lzs_entry *entry, const char *field, double r);

// Entries that tests use over and over.
lzs_entry a_station(void);
lzs_entry a_person(const char *role);
lzs_entry a_system(const char *name, double volume_l);
lzs_entry a_reading(int64_t system, double copper_mg_l);

// Station (id 1), person (2, who signs all), system (3), instrument (4).
void append_small_station(void);
void append_ok(lzs_entry *entries, size_t n);

#define assert_status(call, expected)                                                              \
  do {                                                                                             \
    lzs_status status_ = (call);                                                                   \
    ck_assert_msg(status_ == (expected), "%s: got %s, wanted %s (%s|%s|%s)", #call,                \
                  lzs_status_name(status_), lzs_status_name(expected), fx.error.field,             \
                  fx.error.value, fx.error.detail);                                                \
  } while (0)
#define assert_ok(call) assert_status(call, LZS_OK)

// Runs the suite and answers main's exit status.
int run_suite(Suite *suite);

#endif
