// SPDX-License-Identifier: GPL-3.0-or-later
// The ledger of one station: append-only entries in one file. No SQLite type is named here: another
// storage engine can stand behind this header.
//
// Not thread-safe; one lzs_store per thread. Strings are UTF-8.
#ifndef LZS_STORE_H
#define LZS_STORE_H

#include "lzs_kind.h"
#include "lzs_status.h"

typedef struct lzs_store lzs_store;

typedef struct {
  bool null;
  int64_t i;        // INT, BOOL, REF
  double r;         // REAL
  const char *text; // TEXT, WORD
} lzs_value;

// One entry. On append `id`, `recorded_ms`, `pc`, `pc_seq` and `hash` are filled in by the store.
typedef struct {
  int64_t id;
  lzs_kind kind;
  int64_t happened_min; // UTC minute
  int32_t offset_min;   // what the wall clock showed: UTC offset in minutes
  int64_t recorded_ms;  // UTC, never before the entry before it
  int64_t who, witness; // person ids, 0 = none
  const char *reason;   // NULL = none
  uint8_t pc[16];
  int64_t pc_seq;   // running number on that PC, 1, 2, 3 ...
  int64_t corrects; // id of the FIRST entry, 0 = none
  bool voided;      // with corrects: takes it away
  int64_t entity;   // set-up kinds: the entity described; 0 = a new one
  uint8_t hash[32];
  lzs_value v[LZS_MAX_FIELDS]; // in the order of the kind's fields
} lzs_entry;

// Hears how far what takes long has come (a verification, a back-up, an append or restore of many
// entries, a salvage), 0 to 1 and never falling; it returns false to stop it (LZS_STOPPED: nothing
// was written, an older copy is still there).
typedef bool (*lzs_progress)(void *ctx, double share);

// Where the file lies decides its journal: AUTO asks the file system, a network drive gets a
// rollback journal and an exclusive lock instead of a write-ahead log.
typedef enum { LZS_PLACE_AUTO = 0, LZS_PLACE_LOCAL, LZS_PLACE_NETWORK } lzs_place;

// How to open. recorded_at comes from clock_ms (NULL = the system's real clock). pc_folder = the
// user data folder in which this PC keeps its id.
typedef struct {
  bool read_only;
  int busy_ms; // 0 = the default of 5000, negative = do not wait
  const char *pc_folder;
  int64_t (*clock_ms)(void *ctx);
  void *clock_ctx;
  lzs_place place;
  lzs_progress progress; // hears how far a salvage has come; see lzs_set_progress
  void *progress_ctx;
} lzs_options;

// Makes a new station file at the newest schema. LZS_EXISTS if there is a file.
lzs_status lzs_create(const char *path, const lzs_options *options, lzs_store **out,
                      lzs_error *error);
// Opens; migrates an older file after copying it beside itself; refuses a newer one. A file or
// folder that cannot be written is opened read-only (lzs_is_read_only).
lzs_status lzs_open(const char *path, const lzs_options *options, lzs_store **out,
                    lzs_error *error);
// Folds the write-ahead log in if this was the last connection. NULL is harmless.
void lzs_close(lzs_store *store);

bool lzs_is_read_only(const lzs_store *store);
// By how many milliseconds the clock stood behind the entry before at this store's last append; 0
// if it did not. The entry then carries that entry's recorded_ms.
int64_t lzs_clock_lag_ms(const lzs_store *store);
// A number that changes when anybody (this or another process) commits to the file. O(1), cheap
// enough to poll.
int64_t lzs_data_version(lzs_store *store);

// Appends all n entries in one transaction, or none. A value of -1, -2 ... in `entity`, `corrects`
// or a REF field stands for entry [0], [1] ... of the same call, which must come earlier; in who
// and witness it may be any entry of the call, so that the first person can sign the whole set-up.
// On return the entries carry id, hash and the rest, with references resolved, and are durable. On
// failure nothing is written, error->entry is the placeholder of the entry concerned, and what the
// store fills in is zero. The texts stay the caller's.
lzs_status lzs_append(lzs_store *store, lzs_entry *entries, size_t n, lzs_error *error);
// The same of entries that do not lie in memory beside each other: `give` fills in the one at
// place i, whose texts live until `took` has heard what the store filled in. What was heard counts
// once the call has succeeded.
typedef void (*lzs_give)(void *ctx, size_t i, lzs_entry *entry);
typedef void (*lzs_took)(void *ctx, size_t i, const lzs_entry *entry);
lzs_status lzs_append_each(lzs_store *store, size_t n, lzs_give give, lzs_took took, void *ctx,
                           lzs_error *error);

// Reads entries in the order of entry with id > after (all kinds, or one). The callback's strings
// live until it returns; it returns false to stop.
typedef bool (*lzs_each)(void *ctx, const lzs_entry *entry);
lzs_status lzs_read(lzs_store *store, int64_t after, lzs_each each, void *ctx, lzs_error *error);
lzs_status lzs_read_kind(lzs_store *store, lzs_kind kind, int64_t after, lzs_each each, void *ctx,
                         lzs_error *error);
lzs_status lzs_read_one(lzs_store *store, int64_t id, lzs_each each, void *ctx, lzs_error *error);
lzs_status lzs_last_id(lzs_store *store, int64_t *out, lzs_error *error);

// Restores entries with their ids, times, PC and hashes into an EMPTY file and verifies the chain;
// all or nothing. LZS_REFUSED if the file is not empty, LZS_CORRUPT if a hash does not fit. This PC
// then gets a new id (lzs_pc_renew).
lzs_status lzs_restore(lzs_store *store, const lzs_entry *entries, size_t n, lzs_error *error);

// Gives this PC a new id, and so a new chain for what it writes from now on. Call it after a file
// was put back from a copy: entries written since the copy would share their running numbers with
// the next ones otherwise.
lzs_status lzs_pc_renew(lzs_store *store, lzs_error *error);

// Who a person is. Names, how to reach them and PINs live outside the chain, so that they can go.
typedef struct {
  const char *name;               // needed
  const char *initials, *contact; // NULL = none
} lzs_identity;
// identity NULL erases it.
lzs_status lzs_name_set(lzs_store *store, int64_t person, const lzs_identity *identity,
                        lzs_error *error);
typedef bool (*lzs_each_name)(void *ctx, int64_t person, const lzs_identity *identity);
lzs_status lzs_names(lzs_store *store, lzs_each_name each, void *ctx, lzs_error *error);

// Argon2id (libsodium), which takes about a tenth of a second on purpose. pin NULL = no PIN for
// that person. lzs_pin_check: *out is true if pin fits, and where no PIN is set only for pin NULL.
lzs_status lzs_pin_set(lzs_store *store, int64_t person, const char *pin, lzs_error *error);
lzs_status lzs_pin_check(lzs_store *store, int64_t person, const char *pin, bool *out,
                         lzs_error *error);

// NULL = nobody hears.
void lzs_set_progress(lzs_store *store, lzs_progress progress, void *ctx);

// Verifies every hash of every PC's chain, SQLite's own integrity and foreign keys. LZS_CORRUPT
// with the first bad entry in error->entry.
typedef struct {
  int64_t entries, chains, bad;
  int64_t salvaged; // places where entries were lost or doubtful when the file was salvaged
  int64_t pictures; // kept; every one of them is hashed again
  int64_t missing;  // pictures that an entry names and the file does not hold (tables carry none)
  uint8_t head[32]; // hash over the heads of all chains, in order of PC id
} lzs_verify_result;
lzs_status lzs_verify(lzs_store *store, lzs_verify_result *out, lzs_error *error);

// SHA-256 of an entry given the hash before it in its PC's chain: docs/store/chain.md gives the
// byte layout.
void lzs_hash(const lzs_entry *entry, const uint8_t before[32], uint8_t out[32]);

// A consistent copy while in use: one file, opened and verified before it gets its name, replacing
// an older copy of the same station; LZS_EXISTS where anything else has that name. After any
// failure the older copy is still there.
lzs_status lzs_backup(lzs_store *store, const char *to_path, lzs_error *error);

// What became of an entry of a damaged file.
typedef enum {
  LZS_KEPT_SOUND = 0,
  LZS_KEPT_UNPROVEN, // kept; the entry before it is lost, so its hash cannot be taken again
  LZS_KEPT_DOUBTFUL, // kept as it lies although its hash does not fit, because others rest on it
  LZS_LOST_CHANGED,  // its hash does not fit
  LZS_LOST_RESTS,    // it names an entry that is lost
  LZS_LOST_UNREADABLE,
} lzs_fate;
// entry NULL: nothing of it could be read. Returns false to stop (LZS_REFUSED).
typedef bool (*lzs_each_fate)(void *ctx, int64_t id, lzs_fate fate, const lzs_entry *entry);
typedef struct {
  int64_t kept, unproven, doubtful, lost; // unproven and doubtful are among kept
  int64_t names, drafts;                  // rows outside the chain that were kept
} lzs_salvage_result;

// Makes a new station file at to_path of every entry that can still be read and shown to be as it
// was written, in a file that may be damaged anywhere; the damaged file is only read. `each` hears
// of every entry that is not sound, in order of id; NULL to not hear. LZS_EXISTS if there is a file
// at to_path, LZS_CORRUPT if no entry could be kept. The new file verifies, and its marks say where
// its chains have gaps (docs/store/salvage.md). This PC gets a new id if options name its folder.
lzs_status lzs_salvage(const char *path, const char *to_path, const lzs_options *options,
                       lzs_each_fate each, void *ctx, lzs_salvage_result *out, lzs_error *error);

// Half-typed input that must survive a power cut; outside the ledger, replaced at will. NULL value
// removes.
lzs_status lzs_draft_set(lzs_store *store, const char *key, const char *value, int64_t at_ms,
                         lzs_error *error);
typedef bool (*lzs_each_draft)(void *ctx, const char *key, const char *value, int64_t at_ms);
lzs_status lzs_drafts(lzs_store *store, lzs_each_draft each, void *ctx, lzs_error *error);

// What can be worked out again from the entries up to `entry`, kept to save time: opaque bytes
// under a key, replaced at will. size 0 removes. They carry a seal made with a key that this PC
// keeps in its folder: lzs_cache_get gives back only what this PC kept, as it kept it, and is
// LZS_NOT_FOUND for everything else. The bytes live until the callback returns.
lzs_status lzs_cache_set(lzs_store *store, const char *key, int64_t entry, const void *bytes,
                         size_t size, lzs_error *error);
typedef void (*lzs_cached)(void *ctx, int64_t entry, const void *bytes, size_t size);
lzs_status lzs_cache_get(lzs_store *store, const char *key, lzs_cached found, void *ctx,
                         lzs_error *error);

// A photograph that an entry's field `photo` names: kept once, whoever names it, and never changed.
// name gets its BLAKE2b-256 as 64 hexadecimal digits; add writes the picture first and the entry
// then, so an entry never names one that is not there. What is in the bytes is the desk's to judge.
#define LZS_PICTURE_NAME 65
#define LZS_PICTURE_MOST (8 * 1024 * 1024) // bytes
void lzs_picture_name(const void *bytes, size_t size, char name[LZS_PICTURE_NAME]);
lzs_status lzs_picture_add(lzs_store *store, const void *bytes, size_t size, lzs_error *error);
// LZS_NOT_FOUND if there is none of that name, LZS_CORRUPT if its bytes are not what was kept. The
// bytes live until the callback returns.
typedef void (*lzs_pictured)(void *ctx, const void *bytes, size_t size);
lzs_status lzs_picture_get(lzs_store *store, const char *name, lzs_pictured found, void *ctx,
                           lzs_error *error);

#endif
