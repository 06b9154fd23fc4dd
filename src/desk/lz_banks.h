// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the estimators of every water, kept while the station is open. A bank is fed in
// place as entries come; it is made anew when the past changes (a correction, an entry that
// happened before the last one fed, a check of an instrument, another volume or band).
#ifndef LZ_BANKS_H
#define LZ_BANKS_H

#include <lzq_water.h>

#include "lz_carry.h"

typedef struct _LzBanks LzBanks;

LzBanks *lz_banks_new(void);
void lz_banks_free(LzBanks *banks);

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
                          lzq_form *form);

// The form of copper that the last course in that water asks for: what a dose on record has not yet
// said. LZQ_FORM_NONE = any.
lzq_form lz_banks_form(const LzModel *model, uint32_t system);

// Whether a step leaves it so that nobody knows what is in the water until it is read: carbon or
// resin takes out what decays here. New water of unknown salinity only widens the interval.
gboolean lz_banks_lost(lzq_analyte analyte, const LzCarryStep *step, gboolean before);

// --- which readings an instrument's checks let stand
typedef struct _LzTrust LzTrust;
LzTrust *lz_trust_new(LzModel *model);
void lz_trust_free(LzTrust *trust);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzTrust, lz_trust_free)
// FALSE for a reading between the instrument's last good check and a failed one, and for an
// instrument never checked where the station does not trust that.
gboolean lz_trust_reading(const LzTrust *trust, uint32_t instrument, lzq_minute at);
// The last good check at or before `at`; LZQ_LONG_AGO = none.
lzq_minute lz_trust_checked_at(const LzTrust *trust, uint32_t instrument, lzq_minute at);

// Feeds one step of lz_carry with the error that its instrument has by then, unless it is a reading
// that the checks take away.
void lz_banks_feed(lzq_water_bank *bank, LzModel *model, const LzTrust *trust, uint32_t record);

#endif
