// SPDX-License-Identifier: GPL-3.0-or-later
// A person's act before it is checked: a kind ("reading"), fields as they were typed, when it
// happened, who did it, who watched, and why. Window, command line and CSV rows all build these and
// hand them to lz_desk_submit; there is no other way into the ledger.
//
// Names in REF fields: system "Blue-1"; tank "Blue-1/3"; lot "0412"; protocol "Name" (its newest
// version) or "Name/2"; phase "Name/2/3"; person by initials; any of them also as "#17" (its id). A
// name may be one that an earlier command of the same submission makes. Numbers: comma and point
// are both a decimal sign; two of them, and grouping, are refused.
//
// Beside the kind's own fields these are understood:
//   person:  name, initials, contact, pin (kept outside the chain); erase = yes takes all four away
//   for good reading: value with `unit` (and `read_temperature`): copper mg/L, ug/L; salinity: ""
//   or PSU, ppt, SG (mark of
//            the instrument's scale, or SG 25/25 ...), mS/cm; temperature C, F. `typed` is filled
//            in by the desk.
//   volume, change, topup, tank: litres also as "95 gal" (US gallons)
//   sighting, scrape: photo names a JPEG or PNG file, which is kept in the station's file
//   dose:    amount_ml, or amount_mg; salt_kg for salinity
#ifndef LZ_COMMAND_H
#define LZ_COMMAND_H

#include <glib.h>
#include <stdint.h>

typedef struct _LzCommand LzCommand;

LzCommand *lz_command_new(const char *kind);
// kind, then pairs of field and text, NULL at the end; a NULL text is left out.
LzCommand *lz_command_build(const char *kind, ...) G_GNUC_NULL_TERMINATED;
LzCommand *lz_command_copy(const LzCommand *command);
void lz_command_free(LzCommand *command);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzCommand, lz_command_free)

const char *lz_command_kind(const LzCommand *command);
void lz_command_set(LzCommand *command, const char *field, const char *text); // NULL or "" removes
void lz_command_set_number(LzCommand *command, const char *field,
                           double value);                                // shortest exact text
const char *lz_command_get(const LzCommand *command, const char *field); // NULL = not set

void lz_command_set_at_text(LzCommand *command, const char *local); // see lz_zone_parse; NULL = now
void lz_command_set_at(LzCommand *command, int64_t minute);         // UTC
void lz_command_set_actor(LzCommand *command,
                          const char *person); // initials or "#id"; NULL = the desk's
void lz_command_set_witness(LzCommand *command, const char *person);
void lz_command_set_reason(LzCommand *command, const char *reason);
// The risky amount typed a second time, as text.
void lz_command_set_readback(LzCommand *command, const char *typed_again);
// Replaces the entry whole, or takes it away; both need a reason.
void lz_command_set_corrects(LzCommand *command, int64_t id, gboolean voided);
// Describes an entity anew from `at` on: its name or "#id". Fields not set stay as they are.
void lz_command_set_entity(LzCommand *command, const char *name);

// A time ahead of the clock is refused, since it is a slip of a date, unless the file is a practice
// file. With `ahead` it is taken, and marks the file as practice for good (planning a case by hand,
// training).
void lz_command_set_ahead(LzCommand *command, gboolean ahead);

// History brought in as it was written: its readings are not held against a prediction, since
// nobody can repeat them.
void lz_command_set_as_written(LzCommand *command, gboolean as_written);

// Where it was written, for refusals among several ("line 12"); NULL = kind and running number.
void lz_command_set_place(LzCommand *command, const char *place);

// After a submission.
int64_t lz_command_id(const LzCommand *command); // id of its entry, 0 = not submitted
const char *const *
lz_command_notes(const LzCommand *command); // "kept, not used: ..." sentences, NULL-terminated

#endif
