// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the estimators of every water, kept while the station is open. A bank is fed in
// place as entries come; it is made anew when the past changes (a correction, an entry that
// happened before the last one fed, a check of an instrument, another volume or band).
#ifndef LZ_BANKS_H
#define LZ_BANKS_H

#include <lzq_water.h>

#include "lz_carry.h"
#include "lz_trust.h"

typedef struct _LzBanks LzBanks;

LzBanks *lz_banks_new(void);
void lz_banks_free(LzBanks *banks);

// The minute from which records are fed to what is asked about `until`: two to four months before
// it, at a fixed beginning of 60 days, so that a bank that was fed in place and one made anew begin
// alike. What a water lost in years before, with other rock, filters and fish in it, says nothing
// about now, and an estimate costs the same however old the station is.
lzq_minute lz_banks_begin(lzq_minute until);

// The bank of a water and analyte with every record up to and including `until` fed. FALSE = no
// model fits the analyte (pH, ammonia ...), or there is no such system.
gboolean lz_banks_at(LzBanks *banks, LzModel *model, uint32_t system, lzq_analyte analyte,
                     lzq_minute until, lzq_water_bank *out);
// How often a bank was made from the beginning; for tests.
guint lz_banks_made(const LzBanks *banks);

// --- checkpoints: lz_checkpoints.c
// All banks as bytes, with the hash of the last entry that they were fed; NULL = too little is new
// to be worth writing. Only the same edition of the program reads them.
GBytes *lz_banks_freeze(LzBanks *banks, LzModel *model, int64_t *entry);
// Takes banks from bytes if the record still begins with what they were fed and nothing set up
// since changes the past. FALSE = nothing was taken; the banks are then made from the record.
gboolean lz_banks_thaw(LzBanks *banks, const LzModel *model, int64_t entry, const void *bytes,
                       gsize size);

// What a bank begins with: the level that its noise is a share of (the middle of the band that the
// last course in that water asked for; for temperature the usual reading), and the form of copper
// until a dose says which.
double lz_banks_reference(const LzModel *model, uint32_t system, lzq_analyte analyte,
                          lzq_minute begin, lzq_form *form);

// The form of copper that the last course in that water asks for: what a dose on record has not yet
// said. LZQ_FORM_NONE = any.
lzq_form lz_banks_form(const LzModel *model, uint32_t system);

// Whether a step leaves it so that nobody knows what is in the water until it is read: carbon or
// resin takes out what decays here. New water of unknown salinity only widens the interval.
gboolean lz_banks_lost(lzq_analyte analyte, const LzCarryStep *step, gboolean before);

// Whether a step is fed to a bank that begins at `begin`. What lies before says only how much water
// there was and which copper was in it; after copper before that minute the bank waits for the
// first good reading, since a dose would otherwise meet water taken as free of it. `waits` is kept
// by the caller from step to step, FALSE at first.
gboolean lz_banks_feeds(lzq_water_bank *bank, const LzModel *model, const LzCarryStep *step,
                        lzq_minute begin, gboolean *waits);

// Feeds one step of lz_carry with the error that its instrument has by then, unless it is a reading
// that the checks take away.
void lz_banks_feed(lzq_water_bank *bank, LzModel *model, const LzTrust *trust,
                   const LzCarryStep *step);

#endif
