// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences for the engine's codes, and the trade's words, through gettext (domain "lazaret").
// Functions returning char * give newly allocated text; const char * is static and translated.
#ifndef LZ_WORDS_H
#define LZ_WORDS_H

#include "lz_desk.h"

#define LZ_GETTEXT_DOMAIN "lazaret"

// Sets the locale, numbers apart, and binds the domain to the installed (or LAZARET_LOCALE_DIR)
// catalogues; once, early in main.
void lz_words_init(void);
// Codes of the languages that are installed, in order ("de", "en"), to be freed with g_strfreev.
char **lz_words_languages(void);
// The code of the language that is spoken now.
char *lz_words_language(void);
// Speaks another language from now on; NULL: what the locale says. Returns what to hand in to go
// back (NULL or newly allocated). Rows of an open desk keep the words they were made with. Only
// while no other thread reads the environment.
char *lz_words_switch(const char *language);

const char *lz_words_analyte(lzq_analyte analyte);      // "copper"
const char *lz_words_analyte_unit(lzq_analyte analyte); // "mg/L", "" for salinity and pH
const char *lz_words_form(lzq_form form);
const char *lz_words_role(lzq_role role);
const char *lz_words_state(lzq_state state);
const char *lz_words_gear(lzq_gear gear);
const char *lz_words_phase_kind(lzq_phase_kind kind);
const char *lz_words_unit(lzq_unit unit);              // "mL"
const char *lz_words_task_kind(lzq_task_kind kind);    // "Test", "Dose"
const char *lz_words_task_state(lzq_task_state state); // "due", "late", "blocked", "waits"
const char *lz_words_kind(const char *kind);           // kind of entry: "reading"
const char *lz_words_field(const char *kind, const char *field); // label of a field: "Volume (L)"

// A refusal as a person reads it: where it begins with the name of one of the kind's fields, as in
// tables and on the command line, with the label of that field instead.
char *lz_words_error(const char *kind, const char *message);

// One sentence for a reason; "" for LZQ_BECAUSE_NONE.
char *lz_words_because(LzDesk *desk, const lzq_because *because);
// "Test copper", "Dose C-07 into the new water", ...
char *lz_words_task(LzDesk *desk, const lzq_task *task);
// The same for several lots that one visit serves: "Look at lots 0412, 0413".
char *lz_words_task_lots(LzDesk *desk, const lzq_task *task, const uint32_t *lots, guint n);
// "68.4 mL"; "" if it has none.
char *lz_words_task_amount(LzDesk *desk, const lzq_task *task);
// "Blue-1" or "Blue-1/3 · 0412".
char *lz_words_task_where(LzDesk *desk, const lzq_task *task);
// Why a run of minutes earned nothing: "the last copper reading was older than 16 h".
char *lz_words_why(lzq_why why, const lzq_band *band);
// Why an act on record changed nothing.
const char *lz_words_ignored(lzq_ignored_why why);
// What the engine found wrong with its input.
char *lz_words_fault(LzDesk *desk, const lzq_fault *fault);
// What is wrong or unusual in a protocol: "Name/1, phase 2, band 1, target: ...".
// "white_spot" as "white spot", in the language of the words; newly allocated.
char *lz_words_code(const char *code);
char *lz_words_finding(const char *protocol, const lzq_finding *finding);
// What an entry says in one line: "copper 0.185 mg/L, P2".
char *lz_words_entry(LzDesk *desk, LzEntry *entry);
char *lz_words_entry_where(LzDesk *desk, LzEntry *entry);

#endif
