// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: a command checked and made an entry. Parsing and completeness first
// (lz_check.c), then what the kind itself asks (lz_check_setup.c, lz_check_lot.c), then the gates
// in front of water (lz_gate.c).
#ifndef LZ_CHECK_H
#define LZ_CHECK_H

#include "lz_command_private.h"
#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_gates.h"
#include "lz_value.h"

// An entry while it is made. Texts live in `values`.
typedef struct {
  LzDesk *desk;
  LzModel *model;
  LzCommand *command;
  const lzs_kind_spec *spec;
  lzs_entry entry;
  LzValue values[LZS_MAX_FIELDS];
  LzEntry *before; // what it corrects or describes anew, as in force; NULL
  lzq_minute clock_now;
  gboolean live; // done now, not entered afterwards
  GArray *stops; // of LzStop: the gates that it has met, not lifted; NULL = none
} LzDraft;

typedef struct {
  LzGateCode code;
  char *words; // what, without what the gate's rule adds
} LzStop;

// The entry with id `id`, owned by the caller; NULL with error set.
LzEntry *lz_check_command(LzDesk *desk, LzCommand *command, int64_t id, GError **error);

// Every gate that the command would meet now, as if whoever may lift one had done so: FALSE with
// the gate that nobody may lift. What was lifted stands in the command's notes.
gboolean lz_check_gates(LzDesk *desk, LzCommand *command, GError **error);

// --- helpers for the parts
const lzs_value *lz_draft_value(const LzDraft *draft,
                                const char *field);              // never NULL; may be .null
int64_t lz_draft_ref(const LzDraft *draft, const char *field);   // 0 = not set
double lz_draft_number(const LzDraft *draft, const char *field); // NAN = not set
gboolean lz_draft_yes(const LzDraft *draft, const char *field);  // set, and yes
uint32_t lz_draft_water(const LzDraft *draft); // system of its tank; LZQ_NONE = names no tank
const char *lz_draft_text(const LzDraft *draft, const char *field); // NULL = not set
int lz_draft_word(const LzDraft *draft, const char *field);         // of a field of words; -1
void lz_draft_set_yes(LzDraft *draft, const char *field);
void lz_draft_set_real(LzDraft *draft, const char *field, double value);
void lz_draft_set_int(LzDraft *draft, const char *field, int64_t value);
void lz_draft_set_ref(LzDraft *draft, const char *field, int64_t id);
void lz_draft_set_text(LzDraft *draft, const char *field, const char *text);
gboolean lz_refuse(GError **error, LzDeskError code, const char *format, ...) G_GNUC_PRINTF(3, 4);

// --- parts
// Whether who enters it may: see docs/roles.md.
gboolean lz_check_role(const LzDraft *draft, GError **error);
// The same for one thing that not everybody may: a lead, or with `vet_too` also a veterinarian.
gboolean lz_check_may(const LzDraft *draft, gboolean vet_too, const char *what, GError **error);
gboolean lz_check_setup(LzDraft *draft, GError **error);
gboolean lz_check_lot(LzDraft *draft, GError **error);
gboolean lz_check_instrument(LzDraft *draft, GError **error);
gboolean lz_check_reading(LzDraft *draft, GError **error);
void lz_check_odd_reading(LzDraft *draft); // flags it, or lets it confirm; never refuses
gboolean lz_check_correction(LzDraft *draft, GError **error);
// The whole protocol (an engine index): refuses what is impossible, notes the rest on the command.
gboolean lz_check_protocol(LzDesk *desk, uint32_t protocol, uint32_t traits, LzCommand *command,
                           GError **error);
// Gates collect: an act meets all of them, and what stops it is said at once (lz_gate_settle), so
// that nobody lifts one and learns of the next from the water.
// Stops here, and nothing further is judged of this side of the act. Always FALSE.
gboolean lz_gate_refuse(LzDraft *draft, LzGateCode code, const char *format, ...)
    G_GNUC_PRINTF(3, 4);
// At the end: FALSE if anything stopped it, with all of it in one error, what nobody may lift
// first. By gate: each sentence, then what to do instead, why, on whose word, and who may lift it.
// The code of the error follows from who may. `ok` is what the parts answered; the stops are given
// back.
gboolean lz_gate_settle(LzDraft *draft, gboolean ok, GError **error);
// The full text of a gate, newly allocated; for notes of what is kept and not used.
char *lz_gate_words(LzGateCode code, const char *words);
// The same where it may be lifted, or was acted on already: a note on the command if a second
// person, a reason or a second typing is there, or if it is entered only afterwards; else a stop,
// and what else stands in the way is judged as well. Takes the words.
void lz_gate_stop(LzDraft *draft, LzGateCode code, char *words);
gboolean lz_gate_dose(LzDraft *draft, GError **error);
void lz_gate_bath(LzDraft *draft);
// Whether a strength, mg/mL, can be that of formalin, which is counted as the whole solution; of a
// diluted one only where the text that was typed says in which of the two it counts.
gboolean lz_check_formalin(double strength, gboolean said, GError **error);
void lz_gate_feed(LzDraft *draft); // where a medicine is in it
void lz_gate_change(LzDraft *draft);
void lz_gate_topup(LzDraft *draft);
// lz_gate_basis.c: what every dose is computed from.
void lz_gate_volume(LzDraft *draft);
void lz_gate_system(LzDraft *draft);   // described anew
void lz_gate_strength(LzDraft *draft); // of a bottle described anew
// lz_gate_unlikely.c: a first figure that hardly any station has.
void lz_gate_unlikely_reading(LzDraft *draft);
void lz_gate_unlikely_heads(LzDraft *draft);  // of a receipt
void lz_gate_unlikely_volume(LzDraft *draft); // of a system
gboolean lz_gate_move(LzDraft *draft, const LzEntity *lot, GError **error);
void lz_gate_receipt(LzDraft *draft, uint32_t system);
void lz_gate_state(LzDraft *draft);
gboolean lz_gate_course(LzDraft *draft, GError **error);

#endif
